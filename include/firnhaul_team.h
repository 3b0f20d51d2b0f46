// SPDX-License-Identifier: MIT
// firnhaul: the rope team, before anyone hangs. One falls in; the others stop it or don't. Model section 11, docs/team.md.
//
//   numbers of one fall  -> fall (path, slides, forces, arrested or not)          fh_fall_run
//   scene                -> team (the likely fall, its trace, chances)            fh_team_create
//   scene + design space -> designs, each with its chances and the rope it leaves fh_designs_create, fh_design_run
//
// As in firnhaul.h: pure functions on one thread; callers that have more threads share out samples or designs. SI units.
//
// What comes out is an estimate for training: friction on snow in a fall has hardly been measured by anyone.
#ifndef FIRNHAUL_TEAM_H
#define FIRNHAUL_TEAM_H

#include "firnhaul.h"

#ifdef __cplusplus
extern "C" {
#endif

// ---------------------------------------------------------------------------------------------------- one fall

/// All numbers of one fall. The first one stands at the lip and falls in; the others stand `at` behind it, and each piece of
/// rope is longer than the gap that it bridges by `slack`. Ranges: those of the scene's table.
typedef struct fh_fall_in {
  int people;                  ///< 2 to FH_MAX_PEOPLE
  int knots;                   ///< brake knots, 0: none
  double mass[FH_MAX_PEOPLE];  ///< [kg]
  double at[FH_MAX_PEOPLE];    ///< [m] behind the first one; rising, the first is 0
  double modulus;              ///< [N]
  double damping;              ///< [s] tension = modulus (strain + damping * strain rate)
  double slack;                ///< [m] in each piece of rope
  double stand, brake;         ///< [1] friction while dragged on one's feet; while braking
  double reaction;             ///< [s] from the moment the own piece comes taut
  double start;                ///< [m/s] walking toward the hole
  double knot_first;           ///< [m] along the rope from the first one's tie-in
  double knot_apart;           ///< [m]
  double knot_catch;           ///< [N]
  double knot_plough;          ///< [m] of rope that passes while one knot ploughs through the lip; 0: it gives way at once
  double slope;                ///< [rad] of the surface, positive: rising away from the lip
  double lip_friction;         ///< [1] of the rope on the uncut edge
  double lip_turn;             ///< [rad]
  double lip_cut;              ///< [m] how deep the rope cuts in during the fall; 0: not at all
} fh_fall_in;

/// How one fall went. UNRESOLVED: it did not come to rest within the bound of time; the numbers then are NaN.
typedef struct fh_fall {
  fh_outcome outcome;
  bool arrested;                ///< everyone came to rest with someone left on the surface
  int pulled_in;                ///< others who went over the lip as well
  int knots_caught;             ///< knots that held for a while, or hold in the end
  double fall;                  ///< [m] deepest point of the first one below the lip; NaN when not arrested
  double slide[FH_MAX_PEOPLE];  ///< [m] farthest that each slid toward the lip; the first one: 0
  double peak[FH_MAX_PEOPLE];   ///< [N] highest tension of each piece of rope, at its end toward the hole
  double pull[FH_MAX_PEOPLE];   ///< [N] the same at its end away from the hole: what the one behind it feels
  double margin;                ///< [m] least distance of anyone on the surface to the lip; 0 when someone went in
  double time;                  ///< [s] until it was over
  double energy_miss;           ///< [1] what the energy balance misses over the energy turned over (only with a trace; else NaN)
} fh_fall;

enum { FH_TRACE_POINTS = 600 };

/// A fall over time, for plots and playback.
typedef struct fh_fall_trace {
  int count;
  double time[FH_TRACE_POINTS];                    ///< [s]
  double at[FH_TRACE_POINTS][FH_MAX_PEOPLE];       ///< [m] on the haul line: below 0 down the hole
  double hole[FH_TRACE_POINTS][FH_MAX_PEOPLE];     ///< [N] tension of each piece at its end toward the hole
  double surface[FH_TRACE_POINTS][FH_MAX_PEOPLE];  ///< [N] at its other end
} fh_fall_trace;

/// The step of time when none is asked for. @param many true: for samples, false: for one fall  @return [s]
double fh_fall_step(bool many);

/// Works one fall out. A stiff rope makes the step smaller by itself.
/// @param step [s] 1e-6 to 0.02; NaN: fh_fall_step(false)  @param trace may be NULL
/// @return FH_OK with the outcome in the result; FH_ERR_ARG when a number is missing or outside its range; FH_ERR_MEMORY
fh_status fh_fall_run(const fh_fall_in *in, double step, fh_fall *out, fh_fall_trace *trace);

/// Works many falls out, side by side. All must have the same number of people. The answer to each does not depend on the others.
/// @param step [s] 1e-6 to 0.02; NaN: fh_fall_step(true)  @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fh_falls_run(const fh_fall_in *in, int count, double step, fh_fall *out);

/// Constant friction all along, a taut rope that does not stretch, the first `in_hole` people hanging, the others sliding:
///   a = g (sum m_in - C (sum m_out)(mu cos(slope) - sin(slope))) / (sum m_in + C sum m_out), C = exp(lip_friction * turn)
/// @return [m/s^2] positive: the team speeds up toward the hole; NaN outside. `brake` is the friction
double fh_fall_slide(const fh_fall_in *in, int in_hole);

// ---------------------------------------------------------------------------------------------------- a scene's team

/// Can this team be worked out? Refuses: no team, rope longer than the scene's, knots beyond the rope or closer than a knot,
/// a slope too steep to stand on, people past the lip. @return FH_OK, FH_ERR_ARG, FH_ERR_INPUT with `diag` filled
fh_status fh_team_check(const fh_scene *scene, fh_diag *diag);

/// The numbers of the fall at the likely values. @return FH_OK, FH_ERR_ARG
fh_status fh_fall_likely(const fh_scene *scene, fh_fall_in *out);
/// The numbers of sample `index`: a scrambled low-discrepancy point, the same on every machine. Each call sets the sequence up anew.
/// @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fh_fall_sample(const fh_scene *scene, uint32_t seed, uint32_t index, fh_fall_in *out);
/// @return true when no number of the team is uncertain
bool fh_team_is_exact(const fh_scene *scene);

typedef struct fh_team_opts {
  int samples;    ///< 0: likely values only
  uint32_t seed;
  bool trace;
  bool (*progress)(void *user, double done);  ///< [1] 0 to 1; return false to stop; may be NULL
  void *user;
} fh_team_opts;

fh_team_opts fh_team_opts_default(void);  ///< 2,000 samples, a trace

/// The third of the samples with the least, or the most, friction of those who brake.
typedef struct fh_third {
  fh_range brake;      ///< [1] friction from to
  int samples;         ///< 0: brake is no range, or there are too few samples
  int arrested, nobody_else_in;
} fh_third;

/// What the samples say. Bands: the value below which 5, 50 and 95 of 100 lie. NaN when there is nothing to count.
typedef struct fh_team_chance {
  int samples;              ///< that were run
  int arrested;             ///< of these, came to rest with someone left on the surface
  int nobody_else_in;       ///< of these, and nobody else went over the lip
  int unresolved;
  fh_range share;           ///< [1] arrested over samples, with the doubt of the count alone (Wilson's interval, 95 %)
  fh_band fall;             ///< [m] over the arrested ones
  fh_band margin;           ///< [m] over all
  fh_band slide[FH_MAX_PEOPLE];  ///< [m] over the arrested ones
  fh_band peak[FH_MAX_PEOPLE];   ///< [N] over all
  fh_third slippery, grippy;     ///< what the snow decides
} fh_team_chance;

/// A scene's team, worked out.
typedef struct fh_team_result {
  fh_fall_in in;        ///< likely
  fh_fall likely;
  bool has_chance;      ///< some number is uncertain and samples were asked for
  bool stopped;         ///< progress asked to stop: the chance holds fewer samples
  fh_team_chance chance;
  fh_fall_trace trace;  ///< of the likely fall; count 0 when not asked for
} fh_team_result;

/// @param diag why FH_ERR_INPUT; may be NULL  @return FH_OK, FH_ERR_ARG, FH_ERR_INPUT, FH_ERR_MEMORY
fh_status fh_team_create(const fh_scene *scene, const fh_team_opts *opts, fh_team_result **out, fh_diag *diag);
void fh_team_destroy(fh_team_result *team);

/// @param with_trace true: the paths and forces over time as well, for a playback
fh_status fh_team_write_json(const fh_scene *scene, const fh_team_result *team, bool with_trace, fh_out out);
fh_status fh_team_write_csv(const fh_scene *scene, const fh_team_result *team, fh_out out);  ///< the trace

/// People's paths and rope forces against time. The result must hold a trace.
fh_status fh_draw_team_paths(const fh_scene *scene, const fh_team_result *team, fh_units units, fh_out out);
/// The hole and the surface to scale: where everyone stood and where everyone came to rest.
fh_status fh_draw_team_section(const fh_scene *scene, const fh_team_result *team, fh_units units, fh_out out);
/// The same at one moment of the likely fall, without heading, to one scale at all times: for a playback. The result must hold a trace.
/// @param time [s] 0 or more; past the end: where everyone came to rest
fh_status fh_draw_team_moment(const fh_scene *scene, const fh_team_result *team, double time, fh_units units, fh_out out);

// ---------------------------------------------------------------------------------------------------- choosing a team

enum { FH_MAX_DESIGNS = 4096 };

/// One way to rope up.
typedef struct fh_design {
  int people;           ///< the scene's first so many members
  int rope;             ///< index into fh_scene.ropes; -1: the team's own rope figures
  double spacing;       ///< [m] between neighbours
  int knots;
  double knot_first;    ///< [m]
  double knot_apart;    ///< [m]
  // filled in by fh_designs_create
  double spare;         ///< [m] rope in the coils of the last one; below 0 it is no design and is left out
  double usable;        ///< [m] rope for the raise once the first one hangs: coils and the spans of those who can unclip
  double beyond;        ///< [m] of that, what is left over a drop loop's need; negative: it falls short
  int raise_class;      ///< designs of one class raise alike: index of fh_designs.classes
  // filled in by fh_design_run
  fh_team_chance chance;
  bool done;
} fh_design;

/// A raise that several designs have in common.
typedef struct fh_raise_class {
  int people;           ///< on the rope; one fewer pull
  int rope;
  double usable;        ///< [m] rounded down to 2 m
  double depth;         ///< [m] at which the first one hangs: the spacing, rounded up to 2 m
  bool knots;           ///< knots in the loaded strand
  bool known;           ///< `possible` was found
  bool possible;        ///< the kit has a rig that raises the load: fh_plans_create says so
  char why[800];        ///< that rig in words, or what is missing
} fh_raise_class;

typedef struct fh_designs {
  fh_design *designs;
  fh_raise_class *classes;
  int count, class_count;
  int samples;              ///< a design
  uint32_t seed;
  int best;                 ///< recommended design, or -1
  char why[1400];           ///< the recommendation's reasons, or why there is none
} fh_designs;

/// Lists the designs: team sizes 2 to the scene's people; spacings, knots and ropes in steps that fill about `most` designs.
/// @param most 1 to FH_MAX_DESIGNS  @param samples a design, 1 or more
fh_status fh_designs_create(const fh_scene *scene, const fh_gear *gear, int most, int samples, uint32_t seed, fh_designs **out, fh_diag *diag);
void fh_designs_destroy(fh_designs *designs);
/// Runs the falls of one design: the same samples for each, so that designs are compared like with like. Touches nothing else.
fh_status fh_design_run(const fh_scene *scene, const fh_gear *gear, fh_designs *designs, int index);
/// Finds out whether the raise of one class is possible. Touches nothing else.
fh_status fh_raise_class_run(const fh_scene *scene, const fh_gear *gear, fh_designs *designs, int index);
/// Weighs the designs once all are done, and says why.
void fh_designs_weigh(const fh_scene *scene, fh_designs *designs);

fh_status fh_designs_write_json(const fh_scene *scene, const fh_designs *designs, fh_out out);
fh_status fh_designs_write_csv(const fh_scene *scene, const fh_designs *designs, fh_out out);
/// The trade: chance of arrest against rope left for the raise.
fh_status fh_draw_designs(const fh_scene *scene, const fh_designs *designs, fh_units units, fh_out out);

/// What a team reads off before it sets out: order, lengths to measure off, knots, who carries what, and for each one who may
/// fall the rig with which the others raise. @param team worked out from the scene
fh_status fh_draw_trip_sheet(const fh_scene *scene, const fh_gear *gear, const fh_team_result *team, fh_units units, fh_out out);

#ifdef __cplusplus
}
#endif
#endif
