// SPDX-License-Identifier: MIT
// A rig made ready to be hauled: tensions, hand travel per stretch, gaps that close, captures. Model sections 3, 4 and 7.
#ifndef FHI_HAUL_H
#define FHI_HAUL_H

#include "firnhaul_rescue.h"
#include "state.h"

/// The three worlds in which a raise is run: everything easy, likely, everything hard.
enum { FHI_EASY, FHI_LIKELY_CASE, FHI_HARD, FHI_CASES };

/// One world: plain numbers.
typedef struct fhi_world {
  double weight;                     ///< [N]
  double depth;                      ///< [m] of the load at the start
  double factor[FHI_MAX_CONTACTS];   ///< [1] tension ratio of each contact, sliding
  double up[FH_MAX_STRANDS];         ///< [N] while the load rises; 0 where the strand is slack
  double down[FH_MAX_STRANDS];       ///< [N] with the captures locked and about to let rope back; 0 behind them
  double modulus[FH_MAX_STRANDS];    ///< [N] static
  double hand;                       ///< [N]
  double set_back;                   ///< [m] of rope at a reset, the worst of the captures that bear
  double reset_time, walk, power_minutes, power_hour;  ///< [s], [m/s], [W] one person, [W] one person
  double sustained;                  ///< [N] that the crew keeps up; NaN without a crew
} fhi_world;

/// What moves when a strand becomes longer while the load stays where it is.
typedef struct fhi_take_up {
  double hand;                   ///< [m] hand travel
  double body[FH_MAX_BODIES];    ///< [m] along +s
  double passed[FHI_MAX_CONTACTS];  ///< [m] rope through each contact toward the rope's last end
} fhi_take_up;

/// Until when the backup helps.
typedef struct fhi_backup {
  double limit;                ///< [m] slack up to which it helps
  double left;                 ///< [m] slack that is left when a knot is tied
  char by[FH_ELEMENT];         ///< what sets the limit
} fhi_backup;

typedef struct fhi_raise {
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  fhi_model model;
  fhi_motion motion;
  fh_outcome outcome;
  char why[200];
  fhi_world world[FHI_CASES];
  bool only_tensions;                ///< nothing of holding, captures and stretch is filled
  bool exact;                        ///< nothing is open: the three worlds are one
  fhi_rest *rest;                    ///< scratch of its own: states with rope at rest; NULL until the motion is sound
  const fhi_backup *backup;          ///< settled beforehand; NULL: found from the ranges
  bool held;                         ///< the captures hold the load without the help of friction
  bool friction_holds;               ///< with friction something holds it
  int capture;                       ///< contact of the capture that bears most, or -1
  double share[FH_MAX_STRANDS];      ///< [1] tension over the weight while the captures hold, without friction; 0 behind them
  bool first_slack[FH_MAX_STRANDS];  ///< carried nothing before the first pull
  int piece[FH_MAX_STRANDS];         ///< piece of rope between two points that hold it; -1: slack
  int piece_count;
  bool single;                       ///< as many pieces as unknowns: stretch has one answer
  double answer[(FH_MAX_GRIPS + 1) * (FH_MAX_GRIPS + 2)];  ///< by piece: hand travel, then each grip body's, per stretch of the piece
  fh_first_line first;
  int first_path, first_from, first_to;
  double point_holds[FH_MAX_POINTS];                    ///< [N] least that each point of the anchor holds
  double leg_share[FH_MAX_POINTS + 1][FH_MAX_POINTS];   ///< [1] of a hard pull in each leg: all points there, then each one gone
} fhi_raise;

/// Fills what the points of the anchor hold and share.
void fhi_raise_points(fhi_raise *raise);
/// Least pull that some point of the anchor may not hold [N]; infinite when nothing is known of it. @param gone a point, or -1
double fhi_anchor_least(const fhi_raise *raise, int gone);

/// Makes a rig ready. @return FH_OK with the outcome inside, or FH_ERR_MEMORY
fh_status fhi_raise_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fhi_raise **out);
/// The same where every number is exact: worked out once, for all three worlds. @param backup settled before, outlives the raise; or NULL
fh_status fhi_raise_create_exact(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fhi_backup *backup, fhi_raise **out);
/// No more than the tensions of the three worlds while the load rises: for fhi_over_edge.
fh_status fhi_raise_create_tensions(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fhi_raise **out);
void fhi_raise_destroy(fhi_raise *raise);

/// Tensions while the load rises, for given factors of the contacts. @return false when there are none
bool fhi_raise_tensions(const fhi_raise *raise, const double *factor, double *tension);

/// Adds up what moves when strands become longer. @param stretch [m] strand_count
void fhi_raise_take_up(const fhi_raise *raise, const double *stretch, fhi_take_up *out);

void fhi_backup_find(const fhi_raise *raise, const fh_stages_opts *opts, fhi_backup *backup);

/// One raise, run once.
typedef struct fhi_run {
  bool done;                   ///< the load reached the lip
  const char *stuck;           ///< when it did not: why
  int strokes;
  double pulled, stretch, stretch_first, stretch_last;  ///< [m] of hand travel
  double sunk, sunk_last, slip_last;                    ///< [m]
  double time_pull, time_reset, time_rest;              ///< [s]
  double rise_first, rise_full;                         ///< [m] of the first stroke in which the load moved, of a later full one
  double gathered;                                      ///< [m]
  fh_work work;
  const char *touches;
  int block;                                            ///< body that ends a full stroke, or -1
  double moved_end[FH_MAX_BODIES];                      ///< [m] how far bodies are from their start at the end of a full stroke
  fh_backup_knot knots[FH_MAX_KNOTS];
  int knot_count;
} fhi_run;

/// Time of the three worlds' runs: without end where the hard one does not end, or where nobody there keeps any pull up. @return [s]
fh_band fhi_run_time(const fhi_run *run, const fhi_world *world, bool rests);

/// Rows of a trace, kept while a raise is run.
typedef struct fhi_trace {
  fh_trace_row *rows;
  int count, room;
} fhi_trace;

/// Runs a raise in one world. @param trace may be NULL  @return FH_OK, or FH_ERR_MEMORY
fh_status fhi_run_raise(const fhi_raise *raise, const fhi_world *world, const fhi_backup *backup, fhi_run *run, fhi_trace *trace);

/// Which line holds the load before the rig does, and where.
void fhi_first_line_find(const fh_rig *rig, fh_first_line *kind, int *path, int *from, int *to);

/// Length of a strand with the load at a depth and the bodies moved. @param moved [m] body_count along +s  @return [m]
double fhi_strand_length(const fhi_raise *raise, int strand, double depth, const double *moved);

/// The ways over the edge: fills lip and lip_count.
void fhi_lip_fill(const fhi_raise *raise, const fh_stages_opts *opts, fh_haul *haul);

/// One way over the edge at the likely values: fills load_tension.likely, hand_force.likely and what is said of the way.
/// @param way 0, 1, 2 ...  @param tension [1] of each strand over the load's weight, infinite where it jams; or NULL
/// @return false when there is no such way here
bool fhi_lip_way(const fhi_raise *raise, const fh_stages_opts *opts, int way, fh_lip_case *out, double *tension);
/// What the pull over the edge takes where the rope has cut in, as it is and cleared; the same figures as fhi_lip_fill gives.
/// @return FH_OK, or FH_ERR_MEMORY
fh_status fhi_over_edge_find(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_over_edge *out);
/// The way that the scene speaks of: the edge as it is, as near as it gets. @return its number
int fhi_lip_as_it_is(const fh_scene *scene);

/// What check and plan tell of a raise in time.
typedef struct fhi_timing {
  const char *why;               ///< when it does not come to its end: why; else NULL
  const char *hard_stuck;        ///< the same with everything at its hard end
  bool held;                     ///< the captures hold the load at a reset
  bool no_end;                   ///< at the worst nobody keeps any pull up
  int strokes;
  fh_band time, time_rests;      ///< [s] without rests, and with them
} fhi_timing;

/// Runs the raise in all three worlds. @return FH_OK, FH_ERR_MEMORY
fh_status fhi_timing_find(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fhi_timing *timing);

#endif
