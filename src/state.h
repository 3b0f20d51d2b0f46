// SPDX-License-Identifier: MIT
// The states of a rig with their ranges: raising, lowering, holding; and the pull's angle in plan.
// Implements model.md, sections 4 and 5, for uncertain friction and weight.
#ifndef FHI_STATE_H
#define FHI_STATE_H

#include "force.h"

/// Low, likely and high tension ratio of every contact along the haul line.
typedef struct fhi_factors {
  double lo[FHI_MAX_CONTACTS], likely[FHI_MAX_CONTACTS], hi[FHI_MAX_CONTACTS];  ///< [1]
} fhi_factors;

void fhi_factors_fill(const fhi_model *model, const fh_scene *scene, fhi_factors *factors);

/// What a limit is of: index is a contact, grip, path or anchor point.
typedef enum fhi_limit_kind {
  FHI_LIMIT_CONTACT,
  FHI_LIMIT_BITE,    ///< the loaded strand at a capture, holding
  FHI_LIMIT_GRIP,
  FHI_LIMIT_ROPE,    ///< the strongest strand of a path
  FHI_LIMIT_ANCHOR,  ///< station and anchor together
  FHI_LIMIT_POINT,   ///< one point of the anchor
  FHI_LIMIT_CREW,
} fhi_limit_kind;
typedef struct fhi_limit_ref {
  fhi_limit_kind kind;
  int index;
  fh_number limit;  ///< [N]
} fhi_limit_ref;

/// What a check needs while it is made.
typedef struct fhi_check_room {
  fhi_model model;
  fhi_motion motion;
  fhi_factors factors;
  fhi_limit_ref refs[FH_MAX_LIMITS];  ///< of check->limits
  bool highs;  ///< the caller's wish: of holding, only what the limits need
} fhi_check_room;

/// Strokes, resets and time of a solved check by running the raise as haul does; what does not come to its end is a note. @return FH_OK, FH_ERR_MEMORY
fh_status fhi_haul_time(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_check *check);

/// fh_check_create in room that is there already. @param scene,rig whole  @return FH_OK, FH_ERR_MEMORY
fh_status fhi_check_fill(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check_opts *opts, fhi_check_room *room,
                         fh_check *check);

/// A rig whose motion is sound, and the scratch that its states share.
typedef struct fhi_case {
  const fh_rig *rig;
  const fhi_model *model;
  const fhi_motion *motion;
  const fhi_factors *factors;
  fhi_rest *rest;
} fhi_case;

/// Works out one moving state and writes its bands into the check (strands, contacts, bodies, grips; hand force when raising).
/// @param sense +1 raising (FH_RAISE), -1 lowering (FH_LOWER)
/// @return the outcome; why is filled when raising is not solved
fh_outcome fhi_state_moving(const fhi_case *rig_case, int sense, bool ranges, fh_check *check);

/// Works out holding: hands off, captures locked. @param highs only the high ends that limits are held against; low ends are then 0
/// @return false when nothing holds the load
bool fhi_state_holding(const fhi_case *rig_case, bool highs, fh_check *check);

/// Equilibrium in plan with the pull at an angle. Bodies on grips stand off the haul line until they are in balance.
typedef struct fhi_plan_view {
  double offset[FH_MAX_BODIES];        ///< [m] across the haul line
  double tension[FH_MAX_STRANDS];      ///< [1] over the weight
  double wrap[FHI_MAX_CONTACTS];       ///< [rad]
  fhi_shape shape;
  double residual;                     ///< [1] over the weight
  int iterations;                      ///< Newton steps in all
  fh_outcome outcome;
} fhi_plan_view;

/// @param factor [1] of every contact in line: edges keep theirs  @param eta [1] efficiency of every contact that is no edge
/// @param angle  [rad]
void fhi_plan_view_solve(const fhi_model *model, const fhi_motion *motion, const double *factor, const double *eta,
                         const double *share, double angle,
                         fhi_plan_view *view);

/// Brake knots in a path of the rig. @return their number; 0 in a further path of a rope
int fhi_path_knots(const fh_scene *scene, const fh_rig *rig, int path);

/// Rope that each path of a rig needs at the start: strands, slack, knots and the end in the hand. @param needed [m] by path
void fhi_rope_needed(const fh_scene *scene, const fh_rig *rig, const fhi_model *model, double *needed);

/// Is somebody alone too far away, at some moment of a stroke, to tend this hitch with a hand? @param travel [m] of the hand in a stroke
/// @param away [m] the farthest that the hands are from it  @return false for a grip that nobody has to tend
bool fhi_tended_alone(const fh_scene *scene, const fh_rig *rig, const fhi_model *model, int grip, double travel, double *away);
enum { FHI_TENDS_FAR = 1 };  ///< [m] farther than that no hand reaches. Common practice, no source

/// How far a hauler who walks back behind a moving block gets beyond the anchor in a stroke. @param travel [m] of the hand
/// @return [m], 0 where a tether to the anchor reaches or nobody walks back
double fhi_walk_beyond(const fhi_model *model, double travel);
enum { FHI_TETHER = 2 };  ///< [m] about the reach of one's own tether. Common practice, no source

/// Stroke, resets, time and rope (model.md section 7, simple count).
void fhi_stroke_fill(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fhi_model *model,
                     const fhi_motion *motion, fh_check *check);

/// What every limit is of. @param check solved, its limits filled  @param refs FH_MAX_LIMITS, in the order of check->limits
/// @return their number
int fhi_limits_of(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fhi_limit_ref *refs);

/// A rope that is said to have cut in, by no depth: what to say of it, in English. @return NULL: nothing to say
const char *fhi_cut_doubt(const fh_scene *scene, const fh_gear *gear);

/// Margins against every limit, and what is to be said in words.
/// @param refs FH_MAX_LIMITS: what each is of
void fhi_limits_fill(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_check *check, fhi_limit_ref *refs);
void fhi_notes_fill(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fhi_model *model,
                    const fhi_motion *motion, bool holds, fh_check *check);
void fhi_note(fh_check *check, fh_note_level level, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 3, 4)))
#endif
    ;

#endif
