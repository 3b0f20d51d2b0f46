// SPDX-License-Identifier: MIT
// firnhaul: the raise in time, what lets go, and the rope that is there. Same rules as firnhaul.h: SI units inside, unset
// numbers are NaN, index -1 is none, the core never prints or exits.
//
//   scene + rig -> stages (building, hauling, resetting, the lip)     fh_stages_create
//               -> haul (strokes, stretch, set-back, time, energy)    fh_haul_create
//               -> lose (every element of every stage let go)         fh_lose_create
//   rope + team -> budget (what is free for a loop or a raise)        fh_budget
//
// Stages are data: haul, lose and the build sheet read the same list. What comes out is an estimate for training.
#ifndef FIRNHAUL_RESCUE_H
#define FIRNHAUL_RESCUE_H

#include "firnhaul.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
  FH_MAX_STAGES = 96,
  FH_MAX_FINDINGS = 48,
  FH_MAX_ELEMENTS = 2 * FH_MAX_STATIONS + FH_MAX_GRIPS + FH_MAX_STRANDS + FH_MAX_POINTS + 8,
  FH_MAX_HOLDS = 8,
  FH_MAX_KNOTS = 64,
  FH_MAX_LIP_CASES = 12,
  FH_MAX_OVER = 6,
  FH_ELEMENT = 72,  ///< bytes of an element's name
};

// ---------------------------------------------------------------------------------------------------- the catch

/// A weight that falls and is caught by rope over an edge (model.md section 6). The rope is a spring that only pulls; while
/// it runs over the edge toward the hole, the surface side carries `lip` times less.
typedef struct fh_catch_in {
  double weight;    ///< [N] above 0
  double fall;      ///< [m] free fall before the rope comes taut, 0 or more
  double modulus;   ///< [N] of the rope, dynamic, above 0
  double hole;      ///< [m] rope between the weight and the edge, 0 or more
  double surface;   ///< [m] rope between the edge and what holds it, 0 or more; hole + surface above 0
  double lip;       ///< [1] tension ratio of the edge, exp(mu turn), 1 or more
  double damping;   ///< [s] tension = modulus (strain + damping strain rate); 0 in the closed form
} fh_catch_in;

typedef struct fh_catch {
  double peak;        ///< [N] on the hole side
  double held;        ///< [N] at the same moment on what holds the rope: peak over lip
  double stretch;     ///< [m] that the weight sinks after the rope is taut, at the peak
  double time;        ///< [s] from the moment it lets go to the peak
} fh_catch;

/// The closed form, without damping: peak = W + sqrt(W^2 + 2 W K h), K = modulus / (hole + surface / lip).
/// @return FH_OK, or FH_ERR_ARG when a number is outside its range
/// Source: the standard equation of rope impact [goldstone]; checked by tests/check/catch.check, tests/refs/ref_catch_sundials.c.
fh_status fh_catch_closed(const fh_catch_in *in, fh_catch *out);

/// The same by steps in time, with damping and with sticking and slipping at the edge.
/// @param steps of the first quarter swing, 8 to 1000000; the error of the peak falls with its square
/// @return FH_OK, or FH_ERR_ARG when a number is outside its range
fh_status fh_catch_simulate(const fh_catch_in *in, int steps, fh_catch *out);

/// Largest fall that keeps the peak at or below `most`.
/// @param most [N]  @param in its fall is not read  @return [m], 0 when even no fall is too much; NaN outside
double fh_catch_fall(const fh_catch_in *in, double most);

/// Modulus of a rope in a fall. @param rope index into fh_scene.ropes, or -1: an ordinary half rope  @return [N]
fh_band fh_rope_fall_modulus(const fh_scene *scene, const fh_gear *gear, int rope);
/// Modulus of a rope under a slow pull. @param rope as above  @return [N]
fh_band fh_rope_static_modulus(const fh_scene *scene, const fh_gear *gear, int rope);

// ---------------------------------------------------------------------------------------------------- stages

typedef enum fh_stage_kind {
  FH_STAGE_FIRST_LINE,  ///< the load hangs on the line that stopped the fall; the anchor is built and takes that line
  FH_STAGE_STATION,     ///< the station hangs on the anchor
  FH_STAGE_EDGE,        ///< the lip is cleared and padded
  FH_STAGE_BUILD,       ///< a piece of the haul rig is put in place: a knot, a bend, a loop at the load
  FH_STAGE_CAPTURE,     ///< a capture is put in place and tested
  FH_STAGE_GRIP,        ///< a hitch or clamp is put on a strand
  FH_STAGE_TRANSFER,    ///< first pull: the load comes onto the haul line
  FH_STAGE_HAUL,        ///< hauling
  FH_STAGE_RESET,       ///< hands off: the captures hold, the grips go forward
  FH_STAGE_SLACK,       ///< what it would be if the next knot were left out: the slack has grown past the limit
  FH_STAGE_KNOT,        ///< a backup knot is tied
  FH_STAGE_LIP,         ///< hauling, the load within the last half metre
  FH_STAGE_OVER,        ///< the load is on the surface, still on the rope
  FH_STAGE_AWAY,        ///< load and crew go away from the edge: text only
} fh_stage_kind;

/// What holds the load while the rig is being built.
typedef enum fh_first_line {
  FH_FIRST_IN_RIG,     ///< a strand of the rig from the load to station or anchor
  FH_FIRST_HAUL_ROPE,  ///< the haul rope itself, tied off at the anchor until the capture holds
  FH_FIRST_OUTSIDE,    ///< a line that is not in the rig
} fh_first_line;

/// One stage. Index spaces are those of the whole rig.
typedef struct fh_stage {
  fh_stage_kind kind;
  int step;                     ///< 1-based number, as printed on a sheet
  char name[FH_NAME + 16];      ///< short, the same kind of stage has the same name with a number
  char text[720];               ///< what to do
  char check[720];              ///< what to check
  char held[400];               ///< how the load is held at this moment, in words
  int path, station, grip;      ///< what this step puts in place: path, station (index into fh_rig.stations), grip; or -1
  int placed[FH_MAX_PATHS];     ///< stations of each path in place, from its first
  uint32_t grips;               ///< set of grips in place and biting (bit g); a grip that is being moved forward is not in it
  uint32_t grips_on;            ///< set of grips on the rope, biting or not
  bool hands;                   ///< the crew pulls and so carries the load
  bool locked;                  ///< the captures carry the load
  bool first_tied;              ///< the first line is tied and taut (tied-off haul rope or outside line: in place only then)
  bool hitched;                 ///< a friction hitch at the anchor bears the first line, its knot close behind backs it up; until the first pull
  double behind;                ///< [m] rope that hangs loose between that hitch and the knot behind it
  double depth;                 ///< [m] load below the lip, 0 on the surface
  double grip_at[FH_MAX_GRIPS]; ///< [m] each grip on the haul line
  double slack;                 ///< [m] in the first line, or in the tail behind the last backup knot; NaN: there is none
  int knots;                    ///< backup knots tied so far
  int holds;                    ///< independent ways in which the load is held or would be caught in time
  char hold[FH_MAX_HOLDS][FH_ELEMENT];  ///< their names, the one that bears first
} fh_stage;

/// Something wrong or to mind, with the step where it shows. NO: the rig must not be built so.
typedef struct fh_finding {
  fh_note_level level;
  int step;         ///< number of the stage, 0: the whole rig
  char text[400];
} fh_finding;

typedef struct fh_stages {
  fh_language language;       ///< of text, check, held and findings: the scene's
  fh_outcome outcome;         ///< of the raise; INFEASIBLE: stages up to the first pull only
  char why[320];
  fh_stage *stages;
  int count;
  fh_finding findings[FH_MAX_FINDINGS];
  int finding_count;
  bool refused;               ///< some finding is a NO: no sheet is printed
  fh_first_line first;
  int first_path, first_from, first_to;  ///< IN_RIG: its path and its two ties (index into fh_rig.stations); HAUL_ROPE: the path; else -1
  int capture_path;           ///< path of the capture that the load hangs on; -1 none
  double slack_limit;         ///< [m] slack up to which the backup still helps: the least of force limits and `most_drop`
  double slack_left;          ///< [m] slack that is left when a knot is tied; so much too between the first line's hitch and its knot
  double knot_every;          ///< [m] of gained slack from knot to knot; 0: no backup can help
  double walk_beyond;         ///< [m] that a hauler who walks back gets beyond the anchor, where no tether reaches; 0: does not
  char limited_by[FH_ELEMENT];///< what sets slack_limit
} fh_stages;

typedef struct fh_stages_opts {
  double most_drop;   ///< [m] fall that a backup may let happen; default 1.2
  double slack_left;  ///< [m] slack left when a knot is tied; default 0.2
  double lip_zone;    ///< [m] where the lip begins; default 0.5
  fh_units units;     ///< in which the words tell lengths; default metric
} fh_stages_opts;

fh_stages_opts fh_stages_opts_default(void);
/// The stages of building and using a rig, in an order that keeps the load held. @param opts NULL: defaults
/// @return FH_OK with findings in the result; FH_ERR_ARG; FH_ERR_MEMORY
fh_status fh_stages_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *opts, fh_stages **out);
void fh_stages_destroy(fh_stages *stages);
/// The scene as it is at one stage: its rig holds only what is in place, its depth is the stage's. For figures and checks.
/// @return FH_OK; FH_ERR_ARG
fh_status fh_stage_scene(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages *stages, int index, fh_scene *out);

// ---------------------------------------------------------------------------------------------------- haul

typedef enum fh_phase {
  FH_PHASE_START,    ///< the first row: nothing has moved
  FH_PHASE_TAKE_UP,  ///< the hand takes up stretch, the load does not move
  FH_PHASE_HAUL,     ///< the load rises
  FH_PHASE_REST,     ///< the crew rests, the capture holds
  FH_PHASE_RESET,    ///< the capture bites and the grips go forward
  FH_PHASE_KNOT,     ///< a backup knot is tied
} fh_phase;

const char *fh_phase_name(fh_phase phase);  ///< @return "start", "take-up", "haul", "rest", "reset", "knot"

/// The state at the end of a phase. Between rows everything changes linearly, but hand force, which jumps at releases.
typedef struct fh_trace_row {
  double time;           ///< [s]
  double height;         ///< [m] of the load above where it started
  double hand_force;     ///< [N]
  double capture_force;  ///< [N] that the capture holds: rope tension on its load side while it is locked, else 0
  double hand_travel;    ///< [m] of the hand, pulling only
  double slack;          ///< [m] in the backup line; NaN: there is none
  double block;          ///< [m] place of the block that ends the stroke, on the haul line; NaN: none
  int stroke;            ///< 1-based, 0 before the first
  int knots;             ///< backup knots tied
  fh_phase phase;
} fh_trace_row;

/// A backup knot: when to tie it.
typedef struct fh_backup_knot {
  int stroke;      ///< at the reset after this stroke
  double height;   ///< [m] of the load above where it started
  double slack;    ///< [m] just before it is tied
  double time;     ///< [s]
} fh_backup_knot;

/// One way of getting the load over the edge.
typedef struct fh_lip_case {
  const char *name;     ///< "lip as it is", "lip cleared", ...
  bool cut;             ///< the rope lies in its cut
  bool helps;           ///< the load pushes off the wall
  bool lifted;          ///< a second point lifts the rope out of the edge
  double depth;         ///< [m] of the load below the edge, for which the figures hold
  double angle;         ///< [rad] between the strand at the load and the wall
  double share;         ///< [1] rope tension at the load over its weight; infinite: jammed
  fh_band load_tension; ///< [N] rope tension at the load, all its strands together
  fh_band hand_force;   ///< [N] infinite: it cannot be moved that way
  fh_band lift_force;   ///< [N] at the second point; 0 without one
  double stuck;         ///< [m] below the edge where it jams against the wall for good; 0: it does not
  const char *note;     ///< one line
} fh_lip_case;

typedef struct fh_work {
  double in;        ///< [J] by the hand
  double lift;      ///< [J] weight times net rise
  double friction;  ///< [J] at every bend, and what the load loses when it sinks back
  double stretch;   ///< [J] put into the rope and lost at the next reset
} fh_work;

typedef struct fh_haul {
  fh_language language;        ///< of why, jam and notes: the scene's; `touches` and the lip's names stay English
  fh_outcome outcome;          ///< SOLVED, or INFEASIBLE with `why`: the rig does not work, there is no capture, no room for a stroke
  char why[320];
  int strokes, resets;         ///< likely
  fh_range strokes_range;      ///< [1] everything easy to everything hard
  double rope_pulled;          ///< [m] of hand travel in all, likely
  fh_range rope_pulled_range;  ///< [m]
  double stretch_lost;         ///< [m] of hand travel that went into stretch, all strokes
  double stretch_first;        ///< [m] of it in the first stroke
  double stretch_each;         ///< [m] of it in every later stroke (the last full one)
  double set_back;             ///< [m] that the load sank at resets, in all
  fh_range set_back_range;     ///< [m]
  double set_back_each;        ///< [m] that the load sinks at one reset (the last)
  double slip_each;            ///< [m] of rope that the capture lets back at one reset
  fh_band time;                ///< [s]
  double time_pull, time_reset, time_rest;  ///< [s] parts of the likely time
  fh_band hand_force;          ///< [N] while the load rises
  double effort;               ///< [1] hand force over what the crew can keep up, likely; NaN without a crew
  fh_work work;                ///< [J] likely
  double work_residual;        ///< [1] |in - lift - friction - stretch| over in; at most 1e-9
  const char *touches;         ///< what runs out of room first
  double block_start[FH_MAX_BODIES];  ///< [m] place of each body at the start of a stroke
  double block_end[FH_MAX_BODIES];    ///< [m] and at its end
  double gathered;             ///< [m] of slack gained in all
  fh_backup_knot knots[FH_MAX_KNOTS];
  int knot_count;
  double knot_every;           ///< [m] of gained slack; 0: no backup can help
  double rope_in_knots;        ///< [m]
  double jam_height;           ///< [m] rise at which a brake knot of the rope reaches the edge or a piece; NaN: none does
  char jam[200];               ///< in words, or ""
  fh_lip_case lip[FH_MAX_LIP_CASES];
  int lip_count;
  fh_trace_row *trace;
  int trace_count;
  fh_note notes[16];
  int note_count;
} fh_haul;

/// The raise in time, from the first pull until the load is at the lip, then the ways over it. Model sections 7 and 8.
/// @param opts as for the stages; NULL: defaults  @return FH_OK with the outcome in the result; FH_ERR_ARG; FH_ERR_MEMORY
fh_status fh_haul_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *opts, fh_haul **out);
void fh_haul_destroy(fh_haul *haul);

// ---------------------------------------------------------------------------------------------------- lose

typedef enum fh_element_kind {
  FH_ELEMENT_ANCHOR,   ///< the anchor, and the station that hangs on it
  FH_ELEMENT_STATION,
  FH_ELEMENT_KNOT,     ///< a rope tied to a body
  FH_ELEMENT_BEND,     ///< what a rope runs over
  FH_ELEMENT_LOCK,     ///< a capture that does not lock, or a tended grip that does not bite
  FH_ELEMENT_GRIP,
  FH_ELEMENT_STRAND,   ///< the rope, cut there
  FH_ELEMENT_FIRST,    ///< the tie-off of the haul rope, or a first line outside the rig
  FH_ELEMENT_BACKUP,   ///< the backup knot
  FH_ELEMENT_HANDS,    ///< everyone lets go
  FH_ELEMENT_LEG,      ///< one of several points of the anchor, with its leg
} fh_element_kind;

typedef struct fh_element {
  fh_element_kind kind;
  int index;                ///< station, grip, strand (as in fh_check.strands of the whole rig) or point of the anchor; -1
  char name[FH_ELEMENT];    ///< the same at every stage
} fh_element;

/// One element let go at one stage.
typedef struct fh_loss {
  bool there;             ///< the element is in place at this stage
  bool bears;             ///< the load hangs on it; else nothing falls
  bool caught;
  char caught_by[2 * FH_ELEMENT];  ///< what holds or catches; "" when nothing does
  double drop;            ///< [m] farthest that the load can fall before the rope is taut; infinite: lost
  double bite;            ///< [m] more, until a capture that was not loaded bites
  fh_band peak;           ///< [N] on the rope at the load
  double peak_simulated;  ///< [N] likely value by steps in time
  fh_band anchor;         ///< [N] peak on anchor and station together
  char over[FH_MAX_OVER][FH_ELEMENT];  ///< elements of the catch that may be over their limit: high force, low limit
  int over_count;
  double residual;        ///< [1] of the linear programme; at most 1e-9
} fh_loss;

typedef struct fh_lose {
  fh_outcome outcome;
  char why[320];
  fh_stages *stages;      ///< with holds filled in
  fh_element *elements;
  int element_count;
  fh_loss *losses;        ///< stage by stage: losses[stage * element_count + element]
} fh_lose;

/// Every element of every stage let go in turn. Model section 9.
/// @param opts as for the stages; NULL: defaults  @return FH_OK with the outcome in the result; FH_ERR_ARG; FH_ERR_MEMORY
fh_status fh_lose_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *opts, fh_lose **out);
void fh_lose_destroy(fh_lose *lose);
/// @return the loss, or NULL outside
const fh_loss *fh_lose_at(const fh_lose *lose, int stage, int element);

// ---------------------------------------------------------------------------------------------------- rope budget

/// How a rope is shared in a team.
typedef struct fh_budget_in {
  double length;        ///< [m]
  int people;           ///< 2 or more, on equal spacing
  double spacing;       ///< [m] between neighbours; NaN: only the widest spacing is asked for
  double coils_first;   ///< [m] carried by the first one; NaN with coils_last NaN: both ends carry the same
  double coils_last;    ///< [m] carried by the last one; NaN: what is left
  int knots;            ///< brake knots in each span
  double per_knot;      ///< [m] of rope that one brake knot takes
  double per_tie;       ///< [m] of rope that one tie-in takes
  double set_back;      ///< [m] from the lip to the anchor: a raise needs it too; a loop by the taught rule does not count it
  double stroke;        ///< [m] hand travel of one stroke of a direct raise with a block
} fh_budget_in;

/// One end of the rope and what it is good for when the person at the OTHER end hangs at full spacing.
typedef struct fh_budget_end {
  double spare;          ///< [m] free rope in the coils there
  double usable;         ///< [m] with the spans between the people on the surface, once they have unclipped
  double loop_needs;     ///< [m] for a drop loop by the taught rule: down to the load and back, twice the spacing
  double loop_missing;   ///< [m] 0: enough
  double loop_missing_anchored;  ///< [m] the same with the anchor's distance from the lip on top
  double raise_needs;    ///< [m] for a rope end sent down and hauled by a three to one
  double raise_missing;  ///< [m] 0: enough
} fh_budget_end;

typedef struct fh_budget_out {
  double spans;            ///< [m] rope between the people
  double in_knots;         ///< [m]
  double in_ties;          ///< [m]
  double free_rope;        ///< [m] in the coils together; negative: the rope is too short for the spacing
  fh_budget_end first;     ///< rope with the first one: the last one has fallen
  fh_budget_end last;      ///< rope with the last one: the first one has fallen
  double widest_loop;      ///< [m] widest spacing with enough for a drop loop whoever of the two ends falls; 0: none
  double widest_loop_anchored;  ///< [m] the same with the anchor's distance from the lip on top
  double widest_loop_last; ///< [m] the same when only the first one can fall and all spare rope is with the last
  double widest_raise;     ///< [m] widest spacing with enough for a direct raise, whoever of the two ends falls
  bool loop_enough, raise_enough;  ///< at this spacing, whoever of the two ends falls
} fh_budget_out;

/// Defaults: two people, no knots, 1 m a brake knot (practice), 0 m a tie-in, anchor at the lip, both ends alike.
fh_budget_in fh_budget_in_default(void);
/// From a scene: its first rope of stated length, its team, its anchor. Without a team: two people, spacing not stated.
/// @return FH_OK; FH_ERR_ARG when no rope has a stated length
fh_status fh_budget_from_scene(const fh_scene *scene, fh_budget_in *out);
/// @return FH_OK, or FH_ERR_ARG when a number is outside its range
/// Source: each member's spare is twice the spacing [plattner-wuertl]; (L - n)/5 follows. Checked by tests/unit/test_budget.c.
fh_status fh_budget(const fh_budget_in *in, fh_budget_out *out);

// ---------------------------------------------------------------------------------------------------- figures and sheets

/// Load height, hand force and what the capture holds, against time, as SVG.
fh_status fh_draw_haul(const fh_scene *scene, const fh_haul *haul, fh_units units, fh_out out);
/// Stages across, elements down, shaded by drop, with the drop in the cell, as SVG.
fh_status fh_draw_lose(const fh_scene *scene, const fh_lose *lose, fh_units units, fh_out out);
/// The rope as a bar to scale, and what a loop or a raise would need of it, as SVG.
fh_status fh_draw_budget(const fh_scene *scene, const fh_budget_in *in, const fh_budget_out *budget, fh_units units, fh_out out);

typedef enum fh_paper { FH_PAPER_A6, FH_PAPER_A4 } fh_paper;

/// The build sheet: each step with a figure to scale, what to do, what to check, what holds the load; then haul, reset,
/// back up, lip, the patient, the other ways out. Laid out on pages once.
typedef struct fh_sheet fh_sheet;

/// @return FH_OK, also when the sheet is refused (fh_sheet_refused); FH_ERR_ARG; FH_ERR_MEMORY
fh_status fh_sheet_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *opts, fh_paper paper,
                          fh_units units, fh_sheet **out);
void fh_sheet_destroy(fh_sheet *sheet);
bool fh_sheet_refused(const fh_sheet *sheet);            ///< @return true when it would be unsafe to print: there are no pages
const fh_stages *fh_sheet_stages(const fh_sheet *sheet); ///< @return the stages, with findings, never NULL
int fh_sheet_page_count(const fh_sheet *sheet);          ///< @return 0 when it is refused
/// @param width,height [pt] of every page
void fh_sheet_size(const fh_sheet *sheet, double *width, double *height);
/// One page as SVG. @param page 0 to count - 1  @return FH_OK; FH_ERR_ARG
fh_status fh_sheet_write_page(const fh_sheet *sheet, int page, fh_out out);
/// All of it as one HTML file, without scripts. @return FH_OK; FH_ERR_ARG when it is refused
fh_status fh_sheet_write_html(const fh_sheet *sheet, fh_out out);
/// All of it as plain text, one paragraph a line. @return FH_OK; FH_ERR_ARG when it is refused
fh_status fh_sheet_write_text(const fh_sheet *sheet, fh_out out);

// ---------------------------------------------------------------------------------------------------- reports

fh_status fh_stages_write_json(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages *stages, fh_out out);
fh_status fh_haul_write_json(const fh_scene *scene, const fh_haul *haul, fh_out out);
fh_status fh_haul_write_csv(const fh_haul *haul, fh_out out);  ///< the trace
fh_status fh_lose_write_json(const fh_scene *scene, const fh_lose *lose, fh_out out);
fh_status fh_lose_write_csv(const fh_lose *lose, fh_out out);
fh_status fh_budget_write_json(const fh_budget_in *in, const fh_budget_out *budget, fh_out out);

#ifdef __cplusplus
}
#endif
#endif
