// SPDX-License-Identifier: MIT
// The parts of a rig, how they lie at one stage, and what is left of it when one of them lets go. Model section 9.
#ifndef FHI_LOSE_H
#define FHI_LOSE_H

#include "drop.h"
#include "haul.h"

/// Every part of a whole rig that can let go, and where to find it by what it is.
typedef struct fhi_parts {
  fh_element list[FH_MAX_ELEMENTS];
  int count;
  int anchor, station, first, hitch, backup, hands;  ///< index into list, or -1; hitch: of the first line, at the anchor
  int knot[FH_MAX_STATIONS], bend[FH_MAX_STATIONS], lock[FH_MAX_STATIONS];
  int grip[FH_MAX_GRIPS];
  int strand[FH_MAX_STRANDS];
  int leg[FH_MAX_POINTS];
} fhi_parts;

void fhi_parts_fill(const fhi_raise *raise, fhi_parts *parts);

typedef enum fhi_what {
  FHI_AT_TIE,    ///< the rope is fixed to a body
  FHI_AT_RUN,    ///< it passes a bend
  FHI_AT_LOCK,   ///< it passes a capture: held one way, or both ways by a tended grip
  FHI_AT_EDGE,
  FHI_AT_HAND,
  FHI_AT_END,    ///< a loose end
} fhi_what;

/// One point of a rope at one stage.
typedef struct fhi_point {
  fhi_what what;
  int path;          ///< or -1: a rope outside the rig
  int body;          ///< index, FH_END_LIP, FH_END_HAND or FH_END_LOOSE
  double at;         ///< [m] on the haul line
  int part;          ///< what holds or bends the rope here: index into the parts, or -1
  int lock;          ///< LOCK: the part that says whether it locks, or -1
  int contact;       ///< index into the model's contacts, or -1
  int way;           ///< LOCK: rope may run on toward the last end (+1), the first (-1), not at all (0)
  double bite;       ///< [m] LOCK: rope lost before it bites, when it is not loaded
  double next;       ///< [m] rope to the next point
  bool last;         ///< of its rope
} fhi_point;

/// The ropes at one stage.
typedef struct fhi_view {
  const fhi_raise *raise;
  const fhi_parts *parts;
  fhi_point points[FHI_VIEW_POINTS];
  int count;
  int cut[FH_MAX_STRANDS];       ///< point before each strand of the whole rig, or -1: not in place
  double at[FH_MAX_BODIES];      ///< [m]
  bool hands, loaded;            ///< the crew holds the load; the captures do; neither: the first line
} fhi_view;

void fhi_view_fill(const fhi_raise *raise, const fhi_parts *parts, const fh_stage *stage, fhi_view *view);
bool fhi_view_has(const fhi_view *view, int part);  ///< @return true when the part is in place

/// What is asked of a view.
typedef struct fhi_question {
  int gone;                      ///< part that lets go, or -1
  bool hands;                    ///< the crew's hold counts
  bool bite;                     ///< captures that are not loaded let rope back first
  bool open;                     ///< captures hold nothing: the rope runs through them to the hand
  bool off[FHI_VIEW_POINTS];     ///< points that hold nothing
  bool jam[FHI_VIEW_POINTS];     ///< bends that a block would have to jam at: they count for nothing
} fhi_question;

/// One piece's points, as indices into the view: what the drop's pieces were made of.
typedef struct fhi_pieces {
  fhi_drop drop;
  int point[FHI_DROP_POINTS];    ///< view's point of each of the drop's points
} fhi_pieces;

/// What is left of a view.
void fhi_view_pieces(const fhi_view *view, const fhi_question *question, fhi_pieces *pieces);

/// The catch: what stops the load, how hard, what may give way.
typedef struct fhi_caught {
  fh_band peak, anchor;          ///< [N]
  double simulated;              ///< [N]
  char over[FH_MAX_OVER][FH_ELEMENT];
  int over_count;
  char by[2 * FH_ELEMENT];       ///< names of what holds the rope that catches
  int holds[FHI_VIEW_POINTS];    ///< their points in the view
  int hold_count;
} fhi_caught;

/// @param fall [m] before the rope is taut; negative: the load hangs there already, nothing falls
/// @param limits true: look for limits too
void fhi_catch_fill(const fhi_view *view, const fhi_pieces *pieces, const fhi_drop_answer *answer, double fall, bool limits,
                    fhi_caught *caught);

/// Names what may be over its limit among the points of the anchor that are left. @param gone a point, or -1  @param pull [N] on
/// all of them, high end
void fhi_anchor_limits(const fhi_raise *raise, int gone, double pull, fhi_caught *caught);

/// How far the place where the legs meet moves toward the hole when one point lets go. @param pull [N]  @return [m], infinite
/// when nothing is left
double fhi_anchor_moves(const fhi_raise *raise, int gone, double pull);

/// Everything that asking takes, made once.
typedef struct fhi_asker {
  const fhi_raise *raise;
  fhi_parts parts;
  fhi_view view;
  fhi_question question;
  fhi_pieces pieces;
  fhi_drop_answer answer;
  fhi_caught caught, bears;      ///< the last catch; what bears at this stage
  fhi_drop_work *work;
  double most_drop;              ///< [m]
} fhi_asker;

/// @return NULL when there is no memory
fhi_asker *fhi_asker_create(const fhi_raise *raise, double most_drop);
void fhi_asker_destroy(fhi_asker *asker);

/// Looks at a stage: fills its holds and the words for them. @return false when nothing but hands holds the load there
bool fhi_stage_holds(fhi_asker *asker, fh_stage *stage);
/// One part lets go at the stage that was looked at last.
void fhi_stage_lose(fhi_asker *asker, int part, fh_loss *loss);

/// The stages of a rig that is ready. @param asker its own  @return FH_OK or FH_ERR_MEMORY
fh_status fhi_stages_make(const fhi_raise *raise, const fh_stages_opts *opts, fhi_asker *asker, fh_stages **out);
bool fhi_stages_opts_fit(const fh_stages_opts *opts);  ///< @return true when every number is in its range
/// @return true when there is something to work on
bool fhi_rig_fits(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig);

#endif
