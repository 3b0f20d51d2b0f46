// SPDX-License-Identifier: MIT
// firnhaul: raising a person out of a crevasse, computed.
//
// The public face of the core. Data flows one way:
//   document -> scene -> check (one rig worked out) or plan (the rigs that the kit can build) -> report or figure.
// The core never prints, exits, reads a file, or touches errno or the locale. SI units inside, without suffix;
// where a number leaves the core its name carries the unit. Unset numbers are NaN. Index -1 is none.
//
// What comes out is an estimate for training. It does not replace instruction, local rules or makers' instructions.
#ifndef FIRNHAUL_H
#define FIRNHAUL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#define FH_VERSION "0.1.0"

// ---------------------------------------------------------------------------------------------------- status

#define FH_STATUS_LIST(X)                                       \
  X(FH_OK, "done")                                              \
  X(FH_ERR_ARG, "an argument is missing or outside its range")  \
  X(FH_ERR_INPUT, "the input is not valid; see the diagnostic") \
  X(FH_ERR_MEMORY, "out of memory")                             \
  X(FH_ERR_LIMIT, "a stated limit was reached")                 \
  X(FH_ERR_WRITE, "the output refused the bytes")

/// What a call says about itself. The text of each is the second column above.
typedef enum fh_status {
#define X(name, text) name,
  FH_STATUS_LIST(X)
#undef X
} fh_status;

/// The sentence of a status. @return a constant string, never NULL
const char *fh_status_text(fh_status status);

/// How a solve ended. A rig that cannot work is an answer, not an error.
typedef enum fh_outcome {
  FH_OUTCOME_SOLVED,      ///< residual below the bound
  FH_OUTCOME_INFEASIBLE,  ///< shown: no admissible state exists (locked, dangling, a strand would have to push)
  FH_OUTCOME_UNRESOLVED,  ///< gave up; the numbers are NaN
} fh_outcome;

/// Why an input was refused, for a person to act on.
typedef struct fh_diag {
  int line, column;    ///< 1-based, column in bytes; 0 when there is none
  char key[64];        ///< path of the key, such as "crew[1].mass_kg"
  char message[200];   ///< one sentence: what is wrong
  char accepted[200];  ///< what would have been accepted
  bool in_base;        ///< of a study: the place is in its base scene, not in the study itself
} fh_diag;

/// Units of what people read. Files and JSON are always metric, with the unit in the key.
typedef enum fh_units { FH_METRIC, FH_IMPERIAL } fh_units;

/// Language of what people read: sentences, labels, figures. Keys, names and values that programs match stay English, and so
/// does the text of a status or a diagnostic.
typedef enum fh_language { FH_ENGLISH, FH_GERMAN, FH_FRENCH, FH_ITALIAN } fh_language;
enum { FH_LANGUAGES = 4 };
const char *fh_language_code(fh_language language);  ///< @return "en", "de", "fr" or "it"

/// Where text goes. @return 0 to go on, anything else stops the writer with FH_ERR_WRITE
typedef int (*fh_write_fn)(void *user, const char *bytes, size_t count);

typedef struct fh_out {
  fh_write_fn write;
  void *user;
} fh_out;

// ---------------------------------------------------------------------------------------------------- numbers

typedef struct fh_range {
  double lo, hi;  ///< [unit of its holder]  lo <= hi, both finite
} fh_range;

/// A range with its likely value: what every uncertain result is.
typedef struct fh_band {
  double lo, likely, hi;  ///< [unit of its holder]  lo <= likely <= hi
} fh_band;

typedef enum fh_spread {
  FH_SPREAD_UNSET,     ///< not given: all NaN
  FH_SPREAD_EXACT,     ///< a plain number
  FH_SPREAD_UNIFORM,   ///< [low, high]: likely is the middle
  FH_SPREAD_TRIANGLE,  ///< {low, likely, high}
  FH_SPREAD_NORMAL,    ///< {mean, sd}: cut at the key's range; lo and hi are mean -/+ 2 sd within it
} fh_spread;

/// A number of a scene: a value, a range or a distribution, with the place where it was said.
typedef struct fh_number {
  fh_spread spread;
  double lo, likely, hi;  ///< [unit of its holder]
  double sd;              ///< [unit of its holder]  normal only, else 0
  int line, column;       ///< where it stands in the document; 0 for a default
} fh_number;

fh_number fh_number_exact(double value);  ///< @param value [any] @return an exact number
fh_number fh_number_unset(void);          ///< @return a number that is not set
bool fh_number_is_set(fh_number n);       ///< @return true unless unset
fh_band fh_number_band(fh_number n);      ///< @return its low, likely and high value

// ---------------------------------------------------------------------------------------------------- document

/// A parsed document: maps, lists and scalars with line and column. Fed by events, so that any YAML or JSON reader
/// can sit at the edge (libyaml in the terminal). Bounded: depth 32, 100,000 nodes, 1 MiB of text.
typedef struct fh_doc fh_doc;

fh_status fh_doc_create(fh_doc **out);
void fh_doc_destroy(fh_doc *doc);
/// Events in document order. In a map, scalars at even places are keys. All return FH_OK, FH_ERR_MEMORY, FH_ERR_LIMIT, or
/// FH_ERR_ARG when the order of the events makes no document. @param line,column 1-based
fh_status fh_doc_map_begin(fh_doc *doc, int line, int column);
fh_status fh_doc_map_end(fh_doc *doc);
fh_status fh_doc_list_begin(fh_doc *doc, int line, int column);
fh_status fh_doc_list_end(fh_doc *doc);
/// @param text UTF-8, count bytes, need not end in NUL  @param quoted true when the scalar was quoted (then it is text, never a number)
fh_status fh_doc_scalar(fh_doc *doc, const char *text, size_t count, bool quoted, int line, int column);

// ---------------------------------------------------------------------------------------------------- gear

typedef enum fh_basis {
  FH_BASIS_PUBLISHED,  ///< read in a public text, or computed from one
  FH_BASIS_STANDARD,   ///< a standard's limit
  FH_BASIS_PRACTICE,   ///< common practice, no source
  FH_BASIS_MEMORY,     ///< written from memory of the source
  FH_BASIS_OWN,        ///< the user's own gear file or scene
} fh_basis;

typedef enum fh_item_class {
  FH_ITEM_BAR,      ///< a rope runs over it: belt friction (carabiner)
  FH_ITEM_SHEAVE,   ///< a rope runs over it: sheave (pulley)
  FH_ITEM_CAPTURE,  ///< a sheave that lets the rope run one way and holds it the other way
  FH_ITEM_HITCH,    ///< grips a rope and makes a moving body (friction hitch of cord, rope clamp)
  FH_ITEM_SURFACE,  ///< an edge: firn, ice, a padded lip
  FH_ITEM_ROPE,     ///< a kind of rope: half, single, twin, low-stretch, cord
  FH_ITEM_POSTURE,  ///< how a person pulls
  FH_ITEM_ANCHOR,   ///< what the rig hangs on: a kind of snow or ice anchor
  FH_ITEM_OTHER,    ///< harness, sling: limits only
} fh_item_class;

/// One figure of one item: value, unit, where it comes from.
typedef struct fh_figure {
  const char *what;    ///< key: efficiency, share, friction, strength_N, slip_N, sheath_N, set_back_m, modulus_N, pull_N, sustained_N, ...
  const char *unit;    ///< "1", "N", "m", "kg/m", ...
  fh_number value;     ///< [unit]
  fh_basis basis;
  const char *ref;     ///< source key in src/tables/references.c, or ""
  const char *note;    ///< place in the source, conditions, or "common practice, no source"
} fh_figure;

typedef struct fh_item {
  char name[32];            ///< as written in a scene: carabiner, pulley, toothed-capture, prusik, ...
  fh_item_class item_class;
  const char *about;        ///< one plain line
  const char *standard;     ///< "EN 12275" or ""
  const fh_figure *figures;
  int figure_count;
} fh_item;

typedef struct fh_reference {
  const char *key, *text;  ///< authors, title, year, where
  const char *read;        ///< how we read it: whole, abstract, quoted by, memory
} fh_reference;

typedef struct fh_gear fh_gear;

/// The built-in catalogue. @return FH_OK or FH_ERR_MEMORY
fh_status fh_gear_create(fh_gear **out);
void fh_gear_destroy(fh_gear *gear);
/// Adds or overrides items from an own gear document (docs/gear.md). All or nothing.
fh_status fh_gear_add(fh_gear *gear, const fh_doc *doc, fh_diag *diag);
int fh_gear_count(const fh_gear *gear);                          ///< @return number of items
const fh_item *fh_gear_item(const fh_gear *gear, int index);     ///< @return item 0..count-1, sorted by class then name; NULL outside
int fh_gear_find(const fh_gear *gear, const char *name);         ///< @return index, or -1
/// A figure of an item by its key. @return the number, or an unset number when the item has none. @param figure may be NULL
fh_number fh_gear_figure(const fh_gear *gear, int index, const char *what, const fh_figure **figure);
const fh_reference *fh_reference_find(const char *key);          ///< @return the reference, or NULL
const fh_reference *fh_reference_list(int *count);               ///< @return all references

// ---------------------------------------------------------------------------------------------------- scene

enum {
  FH_MAX_BODIES = 40,
  FH_MAX_PATHS = 8,
  FH_MAX_STATIONS = 128,  ///< in one rig, all ropes together
  FH_MAX_GRIPS = 32,
  FH_MAX_CREW = 16,
  FH_MAX_ROPES = 16,
  FH_MAX_KIT = 64,
  FH_MAX_PEOPLE = 12,
  FH_MAX_POINTS = 6,
  FH_NAME = 32,
};

/// Bodies on the haul line. The first three always exist, in this order.
enum { FH_BODY_LOAD = 0, FH_BODY_STATION = 1, FH_BODY_ANCHOR = 2, FH_BODY_FIRST_GRIP = 3 };

typedef enum fh_station_kind { FH_TIE, FH_EDGE, FH_RUN, FH_HAND, FH_LOOSE } fh_station_kind;
typedef enum fh_toward { FH_TOWARD_AUTO, FH_TOWARD_BACK, FH_TOWARD_LIP } fh_toward;

/// One station of a rope's path.
typedef struct fh_station {
  fh_station_kind kind;
  int body;              ///< tie, run: index into fh_rig.bodies; else -1
  int item;              ///< run: index into the gear; else -1
  fh_number efficiency;  ///< run [1]: at 180 degrees, overrides the catalogue when set
  fh_number efficiency_range;  ///< run [1]: the range around an exact `efficiency`, when set
  fh_number friction;    ///< edge [1]: overrides the lip's friction when set
  fh_number slack;       ///< tie [m]: the strand before it hangs loose by so much, when set
  bool reversed;         ///< run on a capture: put in the wrong way round, it locks against the raise
  fh_toward toward;      ///< hand
  fh_number angle;       ///< hand [rad]: between the pull and the haul line, in plan
  int line, column;
} fh_station;

typedef struct fh_path {
  char name[FH_NAME];  ///< the path's name: the rope's, or a name of its own with `of`
  char of[FH_NAME];    ///< when this path is another end of a rope of the scene: that rope's name; else ""
  int rope;            ///< index into fh_scene.ropes, or -1: an ordinary half rope of unstated length
  int first, count;    ///< its stations
  int line, column;
} fh_path;

/// A hitch or clamp on a strand. A grip on `station` or `anchor` is a tended capture: open while raising, locked while holding.
typedef struct fh_grip {
  int body;    ///< index into fh_rig.bodies: its own grip body, or station or anchor
  int item;    ///< index into the gear, a hitch
  int path;    ///< index into fh_rig.paths
  int after;   ///< it holds the strand between station `after` of that path (from 0) and the next
  double at;   ///< [m] on the haul line, back from the lip
  int line, column;
} fh_grip;

/// A rig: ropes, where they run, and what grips them.
typedef struct fh_rig {
  char bodies[FH_MAX_BODIES][FH_NAME];
  fh_path paths[FH_MAX_PATHS];
  fh_station stations[FH_MAX_STATIONS];
  fh_grip grips[FH_MAX_GRIPS];
  int body_count, path_count, station_count, grip_count;
} fh_rig;

typedef enum fh_gloves { FH_GLOVES_UNKNOWN, FH_GLOVES_BARE, FH_GLOVES_THIN, FH_GLOVES_THICK } fh_gloves;

typedef struct fh_hauler {
  char name[FH_NAME];
  fh_number mass;      ///< [kg]
  fh_number footing;   ///< [1] friction of the feet
  int posture;         ///< index into the gear, a posture
  fh_gloves gloves;    ///< what the hands wear: takes from the grip on the rope
  fh_number pull;      ///< [N] measured pull; overrides the model when set
  int line, column;
} fh_hauler;

typedef struct fh_rope {
  char name[FH_NAME];
  int kind;            ///< index into the gear, a rope kind
  fh_number length;    ///< [m] unset: not stated, not checked
  fh_number diameter;  ///< [m]
  fh_number modulus;   ///< [N] static; unset: from the kind
  int knots;           ///< brake knots in the strand that holds the load
  bool wet;
  int line, column;
} fh_rope;

/// A line of the kit: so many of an item.
typedef struct fh_kit_line {
  int item;              ///< index into the gear
  int count;
  fh_number efficiency;  ///< [1] overrides the catalogue when set
  int line, column;
} fh_kit_line;

/// One member of a rope team. The first one falls.
typedef struct fh_member {
  fh_number mass;    ///< [kg]
  fh_number behind;  ///< [m] along the rope behind the first one
  int line, column;
} fh_member;

/// What the team stands on. Not said: FH_UNDERFOOT_UNKNOWN.
typedef enum fh_underfoot { FH_UNDERFOOT_UNKNOWN = -1, FH_UNDERFOOT_SOFT, FH_UNDERFOOT_FIRN, FH_UNDERFOOT_ICE } fh_underfoot;

/// A rope team on its feet (model.md section 11). Brake knots: none when knot_count is 0, the other knot figures then are unset.
typedef struct fh_team {
  fh_member people[FH_MAX_PEOPLE];
  int people_count;
  fh_number modulus;     ///< [N] rope, dynamic
  fh_number damping;     ///< [s] rope: tension = modulus (strain + damping * strain rate)
  fh_number slack;       ///< [m] in each piece of rope
  fh_underfoot snow;     ///< what a scene says of it, or what follows from its lip or anchor
  fh_number stand;       ///< [1] friction while dragged on one's feet
  fh_number brake;       ///< [1] friction after the reaction time
  fh_number reaction;    ///< [s]
  fh_number start;       ///< [m/s] walking toward the hole
  fh_number knot_first;  ///< [m] from the first one's tie-in
  fh_number knot_apart;  ///< [m]
  fh_number knot_catch;  ///< [N]
  fh_number knot_plough; ///< [m] how far a knot ploughs through the lip while it holds
  int knot_count;
  int edge;              ///< index into the gear: what the first one falls over; or -1 when only a friction was given
  fh_number edge_friction; ///< [1] of the rope on that
  int line, column;
} fh_team;

/// The hand test of snow: what can be pushed into it. Unset: FH_SNOW_UNTESTED.
typedef enum fh_snow { FH_SNOW_UNTESTED = -1, FH_SNOW_FIST, FH_SNOW_FOUR_FINGERS, FH_SNOW_ONE_FINGER, FH_SNOW_PENCIL, FH_SNOW_KNIFE } fh_snow;
/// Air in the ice of screws and threads: none, 10 to 20 %, up to half. Not said: FH_ICE_UNTESTED.
typedef enum fh_ice { FH_ICE_UNTESTED = -1, FH_ICE_SOLID, FH_ICE_POROUS, FH_ICE_ROTTEN } fh_ice;
typedef enum fh_sharing { FH_LEGS_FIXED, FH_LEGS_SLIDING } fh_sharing;

/// One point of the anchor and the leg from it to the place where the legs meet. What is unset takes the kind's usual figures.
typedef struct fh_point {
  int kind;            ///< index into the gear, an anchor
  fh_number depth;     ///< [m] of what is buried, to its middle; trench of a bollard; length of a screw in the ice, depth of a thread's holes
  fh_number length;    ///< [m] of what is buried
  fh_number width;     ///< [m] of what is buried
  fh_number diameter;  ///< [m] bollard
  fh_number back;      ///< [rad] lean back from square to the pull
  fh_number holds;     ///< [N] measured or judged; overrides all else
  fh_number leg;       ///< [m]
  fh_number aside;     ///< [rad] of the leg from the line of the pull, seen from above; either sign
  fh_number above;     ///< [rad] of the leg above the ground
  fh_number slack;     ///< [m] of a fixed leg, while the others are taut
  int line, column;
} fh_point;

/// What the rig hangs on, point by point (model.md section 10).
typedef struct fh_anchorage {
  fh_point points[FH_MAX_POINTS];
  int point_count;
  fh_snow snow;
  fh_ice ice;
  fh_number strength;  ///< [Pa] measured pressure that the snow bears; overrides the hand test
  fh_sharing sharing;
  fh_number stop;      ///< [m] sliding: knots let the meeting place move at most so far when a leg fails
  fh_number modulus;   ///< [N] of the legs
} fh_anchorage;

/// What the kit counts: what is free for the rig, or all carabiners there are, those that hold pieces, knots and people too.
typedef enum fh_kit_for { FH_KIT_RIG, FH_KIT_ALL } fh_kit_for;

typedef enum fh_prefer { FH_PREFER_PULL, FH_PREFER_TIME, FH_PREFER_PIECES, FH_PREFER_SAFE, FH_PREFER_CHANCE } fh_prefer;

/// What the user said. Plain data; defaults are filled in. Lengths along the haul line are distances back from the lip.
/// Does the person answer when called?
typedef enum fh_responds { FH_RESPONDS_UNKNOWN, FH_RESPONDS_ANSWERS, FH_RESPONDS_SILENT } fh_responds;
/// How does the wall stand under the edge?
typedef enum fh_wall { FH_WALL_UNKNOWN, FH_WALL_UPRIGHT, FH_WALL_OVERHANGS } fh_wall;

typedef struct fh_scene {
  char title[128];
  fh_number load_mass;       ///< [kg]
  bool load_helps;
  fh_responds load_responds; ///< one who is silent does not help
  fh_number depth;           ///< [m] lip to the tie-in point, along the wall
  fh_number lip_turn;        ///< [rad]
  fh_number lip_friction;    ///< [1]
  int lip_surface;           ///< index into the gear, or -1 when friction was given
  fh_number lip_cut;         ///< [m]
  fh_wall lip_wall;          ///< under the edge
  fh_number station_at;      ///< [m]
  fh_number anchor_at;       ///< [m]
  fh_number slope;           ///< [rad] of the ground, positive: rising away from the lip
  fh_number reach;           ///< [m] nearest to the lip that a grip may be set
  fh_number clearance;       ///< [m] least gap between two bodies
  fh_number room;            ///< [m] farthest back that a hauler can walk, from the lip
  fh_number anchor_holds;    ///< [N]
  int anchor_kind;           ///< index into the gear, or -1
  bool wet;                  ///< ropes and cords are wet or iced
  fh_hauler crew[FH_MAX_CREW];
  fh_rope ropes[FH_MAX_ROPES];
  fh_kit_line kit[FH_MAX_KIT];
  int crew_count, rope_count, kit_count;
  fh_kit_for kit_for;
  fh_prefer prefer;
  fh_number reset_time;      ///< [s] one reset
  fh_number walk_speed;      ///< [m/s]
  bool has_rig;
  fh_rig rig;
  int rig_line, rig_column;
  bool has_team;
  fh_team team;
  bool has_anchorage;
  fh_anchorage anchorage;
  fh_language language;      ///< of the words in all that is worked out of this scene; English unless the caller sets it
} fh_scene;

/// Reads a scene from a document. Checks every key; the first thing wrong fills `diag` and returns FH_ERR_INPUT.
fh_status fh_scene_create(const fh_doc *doc, const fh_gear *gear, fh_scene **out, fh_diag *diag);
void fh_scene_destroy(fh_scene *scene);

/// One row of the scene's table: from it come parser, errors, help, docs, schema and the page's form.
typedef struct fh_key {
  const char *path;     ///< "load.mass_kg", "crew[].name", "rig.ropes[].path[].on"
  const char *type;     ///< "number" (value, range or distribution), "plain" (a value), "range" ([low, high]), "integer", "flag",
                        ///< "text", "name", "item" (of the catalogue), "choice", "map", "list" (of maps)
  const char *unit;     ///< as written in the document: "kg", "m", "deg", "1", ""
  double lo, hi;        ///< [unit] accepted range; text and name: length in bytes; list: number of entries
  const char *fallback; ///< default in words or as written, "" when required
  const char *choices;  ///< "a|b|c", or ""
  const char *help;     ///< one plain sentence
  bool required;
  unsigned classes;     ///< item: set of accepted classes, bit 1 << fh_item_class; else 0
} fh_key;

const fh_key *fh_key_list(int *count);  ///< @return the table in document order
fh_status fh_schema_write(fh_out out);  ///< the table as a JSON Schema (draft 2020-12)
fh_status fh_keys_write_markdown(fh_out out);  ///< the table as a docs page

/// Writes a scene, or only a rig, so that reading it back gives the same.
fh_status fh_scene_write_yaml(const fh_scene *scene, const fh_gear *gear, fh_out out);
fh_status fh_rig_write_json(const fh_rig *rig, const fh_gear *gear, fh_out out);
/// How a rig is built, in words: one line for each rope, then one for each grip.
fh_status fh_rig_write_words(const fh_rig *rig, const fh_gear *gear, fh_units units, fh_language language, fh_out out);

// ---------------------------------------------------------------------------------------------------- physics

/// Tension ratio of a rope that slides over a bar, an edge, or a sheave.
///
///   bar, edge:  ln k = -ln(eta) [ share + (1 - share) wrap / pi ]           (share counts only for wrap > 0)
///   sheave:     ln k = -ln(eta) [ share + (1 - share) R / (1 + k) ],  R^2 = 1 + k^2 - 2 k cos(wrap)
///
/// @param eta    [1]    efficiency at 180 degrees, 0.05 to 1
/// @param share  [1]    bending share, 0 to 1
/// @param wrap   [rad]  contact angle, 0 to 100 (sheave: 0 to pi)
/// @param out    [1]    T_out / T_in, 1 or more; untouched on error
/// @return FH_OK, or FH_ERR_ARG when an argument is out of range or not finite
/// Model: model.md section 2. Checked by tests/check/contact.check.
fh_status fh_contact_ratio(bool sheave, double eta, double share, double wrap, double *out);

/// Tension ratio of a rope that slides over an edge: exp(mu * wrap).
/// @param mu [1] 0 to 5  @param wrap [rad] 0 to 100  @param out [1] 1 or more  @return FH_OK or FH_ERR_ARG
fh_status fh_edge_ratio(double mu, double wrap, double *out);

/// Resultant of two strands on one body: sqrt(a^2 + b^2 - 2 a b cos(wrap)).
/// @param a,b [N] 0 or more  @param wrap [rad] 0 to pi  @return [N], NaN outside
double fh_resultant(double a, double b, double wrap);

/// Tension in each of two equal legs over the load: 1 / (2 cos(angle / 2)). Closed triangle: fh_leg_triangle.
/// @param angle [rad] between the legs, 0 to below pi  @return [1], NaN outside
double fh_leg_tension(double angle);
double fh_leg_triangle(double angle);  ///< @param angle [rad] @return [1] resultant on each point of a closed triangle sling

/// Rope modulus from the impact force of the standard drop: M = F (F - 2 m g) / (2 m g f).
/// @param force [N]  @param mass [kg]  @param factor [1] fall factor  @return [N], NaN outside (force <= 2 m g)
double fh_rope_modulus_from_impact(double force, double mass, double factor);
double fh_rope_impact(double modulus, double mass, double factor);  ///< @param modulus [N] @param mass [kg] @param factor [1] @return [N] m g + sqrt((m g)^2 + 2 m g f M)
double fh_rope_modulus_from_stretch(double strain, double mass);    ///< @param strain [1] static elongation @param mass [kg] @return [N]
/// Peak force of a weight caught by a rope: W + sqrt(W^2 + 2 W M h / L).
/// @param weight [N]  @param modulus [N]  @param fall [m]  @param length [m]  @return [N], NaN outside
double fh_rope_catch(double weight, double modulus, double fall, double length);

/// What one person can pull, and what the whole crew can.
typedef struct fh_pull {
  fh_band force;       ///< [N] for a short effort
  fh_band sustained;   ///< [N] for minutes
  const char *limit;   ///< "footing", "strength", "grip" or "measured": what sets the likely value
} fh_pull;

fh_pull fh_hauler_pull(const fh_scene *scene, const fh_gear *gear, int index);  ///< one of the crew [N]
fh_pull fh_crew_pull(const fh_scene *scene, const fh_gear *gear);               ///< all together, with the loss for each further person [N]

// ---------------------------------------------------------------------------------------------------- check

enum {
  FH_MAX_STRANDS = FH_MAX_STATIONS + FH_MAX_GRIPS,
  FH_MAX_LIMITS = 256,
  FH_MAX_NOTES = 48,
};

/// States in which a rig is worked out.
enum { FH_RAISE, FH_HOLD, FH_LOWER, FH_STATE_COUNT };

/// The ends of a strand, contact or grip: a body's index, or one of these.
enum { FH_END_LIP = -2, FH_END_HAND = -3, FH_END_LOOSE = -4 };

typedef struct fh_strand {
  int path;                         ///< its rope: index into fh_rig.paths
  int from, to;                     ///< body index or FH_END_*
  int after;                        ///< index in its path of the station before it
  double s_from, s_to;              ///< [m] on the haul line, s < 0 down the hole
  double length;                    ///< [m]
  double speed;                     ///< [1] of the rope along +s, over the load's speed (raising)
  bool carries;                     ///< false: slack or loose
  fh_band tension[FH_STATE_COUNT];  ///< [N]
} fh_strand;

typedef struct fh_contact {
  int station;                    ///< index into fh_rig.stations
  int before, after;              ///< strands
  int body;                       ///< body index or FH_END_LIP
  int item;                       ///< gear index or -1 (edge)
  double wrap;                    ///< [rad]
  fh_band efficiency;             ///< [1] at 180 degrees; edges: exp(-mu turn)
  double rate;                    ///< [1] rope passing toward the last end over the load's speed (raising)
  bool resting;                   ///< the rope does not run there while raising: its tensions are an interval
  bool capture;                   ///< locks while holding
  fh_band force[FH_STATE_COUNT];  ///< [N] resultant on it
} fh_contact;

typedef struct fh_body {
  double at;                      ///< [m] on the haul line
  double speed;                   ///< [1] along +s over the load's speed (raising)
  bool fixed;
  fh_band force[FH_STATE_COUNT];  ///< [N] load: its weight held; fixed bodies: pull on them; grip bodies: what the rope that it grips gives it
} fh_body;

typedef struct fh_limit {
  char element[48];     ///< "grip tractor (prusik)", "anchor", "station: toothed-capture", "crew"
  int state;            ///< FH_RAISE, FH_HOLD or FH_LOWER: where it is worst
  double force;         ///< [N] the high end
  double limit;         ///< [N] the low end
  double margin;        ///< [1] limit over force; infinite when there is no force
  char source[64];      ///< "EN 12275", reference key, or "common practice, no source"
  fh_basis basis;
} fh_limit;

typedef enum fh_note_level { FH_NOTE_INFO, FH_NOTE_WARN, FH_NOTE_NO } fh_note_level;

/// Something to say in words. NO: it makes the answer no.
typedef struct fh_note {
  fh_note_level level;
  char text[320];
  bool crew;  ///< compares the pull with the crew
} fh_note;

/// The last half metre over an edge that the rope has cut into (model.md, section 7).
typedef struct fh_over_edge {
  bool cut;            ///< the rope has cut in; else all here is zero
  bool pushes_off;     ///< the person keeps clear of the wall with the feet
  fh_band hand_force;  ///< [N] over the edge as it is, near to it; infinite where the load jams under it
  fh_band cleared;     ///< [N] the same with the edge cut back to the rope
  fh_band crew_share;  ///< [1] the first over what the crew can pull for a short effort; NaN without a crew
} fh_over_edge;

/// One rig, worked out.
typedef struct fh_check {
  fh_outcome outcome;
  fh_language language;      ///< of its words: the scene's
  char why[320];             ///< when not solved: what is wrong, in words
  double weight_likely;      ///< [N]
  fh_band weight;            ///< [N]
  double ideal_advantage;    ///< [1] hand speed over load speed
  fh_band actual_advantage;  ///< [1] weight over hand force
  fh_band hand_force;        ///< [N]
  double residual;           ///< [1] largest residual of any equation over the weight; at most 1e-9
  bool interval_exact;       ///< the bands are the true extremes over the given ranges; else found by sampling corners
  fh_strand strands[FH_MAX_STRANDS];
  fh_contact contacts[FH_MAX_STRANDS];  ///< a tended grip is one, too
  fh_body bodies[FH_MAX_BODIES];
  fh_band grip_force[FH_MAX_GRIPS][FH_STATE_COUNT];  ///< [N] that each grip has to hold on its rope
  fh_limit limits[FH_MAX_LIMITS];
  fh_note notes[FH_MAX_NOTES];
  int strand_count, contact_count, body_count, grip_count, limit_count, note_count;
  double worst_margin;       ///< [1] least of all limits but the crew
  fh_pull crew;
  fh_band crew_share;        ///< [1] hand force over what the crew can pull for a short effort
  double throw_load;         ///< [m] load rise in one stroke
  double throw_hand;         ///< [m] hand travel in one stroke
  const char *throw_ends;    ///< what runs out of room first, in words
  int strokes, resets;
  fh_band time;              ///< [s] to bring the load to the lip, without rests
  fh_band time_rests;        ///< [s] with the rests that a pull asks for which is more than the crew keeps up
  fh_band kept_share;        ///< [1] hand force over what the crew keeps up for minutes; at most 1: no rests needed
  double rope_needed[FH_MAX_PATHS];  ///< [m] by path, all strands, knots and the end in the hand
  double rope_live[FH_MAX_PATHS];    ///< [m] by path, without a slack line
  int pieces;                ///< sheaves, carabiners, captures, hitches in use
  bool answer_no;            ///< a limit is broken for sure, or the rig does not work: exit status 1
  bool ruled_out;            ///< no for another reason than forces: rope too short, nothing that holds, no room for a stroke
  bool tends_far;            ///< one alone cannot reach the hitch that is the capture from where the pull ends
  bool jams;                 ///< of these: brake knots jam under load
  bool thin;                 ///< hitches or captures hold a rope under 8 mm, on which what they hold is not known: they may slip
  fh_over_edge over_edge;    ///< what the pull over the lip itself takes, where the rope has cut in
  bool rope_unsure;          ///< a rope is long enough at likely depth and length, but not at the greatest depth and the least length given
} fh_check;

typedef struct fh_check_opts {
  bool lower;       ///< work out lowering as well
  bool ranges;      ///< false: likely values only (fast)
  bool time;        ///< run the raise as haul does for strokes, resets and time; false: whole strokes without stretch, set-back and knots (fast)
} fh_check_opts;

fh_check_opts fh_check_opts_default(void);
/// Works out a rig in a scene. `rig` may be the scene's own or any other.
/// @return FH_OK with the outcome in the result; FH_ERR_ARG; FH_ERR_MEMORY
fh_status fh_check_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check_opts *opts, fh_check **out);
void fh_check_destroy(fh_check *check);

/// Advantage against the pull's angle: the equilibrium in plan (model.md section 5).
typedef struct fh_angle_point {
  double angle;       ///< [rad] between the pull and the haul line
  fh_band advantage;  ///< [1] weight over hand force
  fh_band offset;     ///< [m] how far the hauling body stands off the line
  fh_outcome outcome;
  double residual;    ///< [1] over the weight
} fh_angle_point;

/// @param angles [rad] 0 to 100 degrees, ascending  @param out count points  @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fh_angle_curve(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const double *angles, int count, fh_angle_point *out);

// ---------------------------------------------------------------------------------------------------- plan

typedef struct fh_plan_opts {
  int max_contacts;   ///< contacts behind the capture, 0 to 9; -1: as many as a person waits for
  bool all;           ///< keep every sound distinct rig, not only those that no other beats
  fh_prefer prefer;
  bool (*progress)(void *user, double done);  ///< [1] 0 to 1; return false to stop; may be NULL
  void *user;
} fh_plan_opts;

/// One rig that the kit can build. The rig itself: fh_plan_rig.
typedef struct fh_plan {
  double ideal_advantage;   ///< [1]
  fh_band hand_force;       ///< [N]
  double actual_advantage;  ///< [1] likely
  double rope_needed;       ///< [m] all ropes together, knots and the end in the hand included
  double throw_load;        ///< [m]
  int resets;
  double time;              ///< [s] likely, without rests
  double time_rests;        ///< [s] likely, with rests
  fh_band time_range;       ///< [s] without rests
  fh_band time_rests_range; ///< [s] with rests
  int pieces;
  double worst_margin;      ///< [1]
  double crew_share;        ///< [1] likely demand over likely capacity
  fh_pull crew;             ///< [N] what the crew can pull the way this rig is pulled, on its rope
  bool toward_lip;          ///< it is pulled toward the lip, not away from it
  double chance;            ///< [1] that the crew can pull it and every limit holds; NaN unless that comes first (FH_PREFER_CHANCE) or the rig is less likely
  bool possible;            ///< check says nothing against it: rope, crew and limits allow it
  int carabiners;           ///< in all: those that the ropes run over, those that hold pieces and knots, and the hauler's own
  bool asks_below;          ///< the person below, who does not help (load.helps), would have to clip a loop in
  bool tends_far;           ///< one alone cannot reach the hitch that is the capture from where the pull ends
  bool thin;                ///< hitches or captures hold a rope under 8 mm, on which they may slip
  fh_over_edge over_edge;   ///< what the pull over the lip itself takes, where the rope has cut in
  double lacks_pull;        ///< [N] that the crew lacks at the likely figures where check says nothing else against the rig; else 0
  char why[300];            ///< one line in words
} fh_plan;

enum { FH_MAX_CHANGES = 16, FH_MAX_LESS_LIKELY = 3 };

/// A change, or two together, that makes a rig work where none does: searched again and checked.
typedef struct fh_change {
  char what[2][24];  ///< "pad-lip", "steps", "posture-harness", "posture-braced", "lighter", "station-back", "people", "pull", "rope", or an item of the catalogue
  int count;         ///< how many of them are used, 1 or 2
  bool free;         ///< takes nothing that is not there
  char text[330];    ///< in words
} fh_change;

typedef struct fh_plans {
  fh_plan *plans;           ///< best first; behind the `count` of them the less likely ones, least lacking first
  struct fhi_candidate *codes;  ///< the same rigs in short, for fh_plan_rig
  int count;                ///< rigs kept
  int less_likely;          ///< simpler rigs for which the crew lacks pull at the likely figures, though the ranges overlap; 0 with `all`
  int64_t searched;         ///< rigs built
  int64_t sound;            ///< of these, sound
  int64_t distinct;         ///< of these, different
  int max_contacts;         ///< the bound that was used
  bool stopped;             ///< progress asked to stop, or the memory bound was reached: not complete
  char bounds[640];         ///< the bounds of the search, in words
  char simpler[400];        ///< rigs with fewer pieces than any that works, and why not, in words; "" when there are none
  char missing[1600];       ///< when nothing works: the smallest changes that make it work, in words; else ""
  fh_change changes[FH_MAX_CHANGES];  ///< the same one by one, the cheapest first
  int change_count;
} fh_plans;

/// Carabiners that a rig takes. Common practice, no source.
typedef struct fh_carabiners {
  int run;   ///< that a rope runs over
  int hold;  ///< that hold pulleys, captures, hitches and knots
  int own;   ///< the hauler's tether, the sling from anchor to station, the hitch that takes the load over
} fh_carabiners;

fh_carabiners fh_rig_carabiners(const fh_gear *gear, const fh_rig *rig);

fh_plan_opts fh_plan_opts_default(void);
fh_status fh_plans_create(const fh_scene *scene, const fh_gear *gear, const fh_plan_opts *opts, fh_plans **out);
void fh_plans_destroy(fh_plans *plans);
/// Writes out the rig of one plan: every path, efficiency and place. @param index below count + less_likely  @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fh_plan_rig(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, int index, fh_rig *rig);

// ---------------------------------------------------------------------------------------------------- reports and figures

fh_status fh_check_write_json(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_out out);
fh_status fh_check_write_csv(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_out out);
fh_status fh_plans_write_json(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, fh_out out);
fh_status fh_plans_write_csv(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, fh_out out);

/// Figures as SVG, drawn from the scene, to scale. Colour-blind-safe, readable in black and white.
fh_status fh_draw_section(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_units units, fh_out out);
/// @param angle [rad] between the pull and the haul line, 0 to 100 degrees
fh_status fh_draw_plan_view(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, double angle, fh_units units, fh_out out);
fh_status fh_draw_angle_curve(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_units units, fh_out out);
fh_status fh_draw_plans(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, fh_units units, fh_out out);

#ifdef __cplusplus
}
#endif
#endif
