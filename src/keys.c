// SPDX-License-Identifier: MIT
// THE table of the scene: what may be said, in what unit and range, what holds when it is not said, and what it means.
// Reader, error messages, help, docs page, JSON Schema and the page's form all come from these rows; nothing else lists keys.
//
// A row: path, form, unit, low, high, default, choices, required, where it goes, classes of items, help.
// A default in round brackets is said in words and filled in by scene.c; any other stands as it would be written in a scene.
// Ranges: the accepted values, wide enough for any real scene and narrow enough to catch a wrong unit.
#include "keys.h"

#include <string.h>

#include "text.h"

#define C(name)             (1u << FH_ITEM_##name)
#define ROPE_RUNS           (C(BAR) | C(SHEAVE) | C(CAPTURE))
#define ANY_GEAR            (ROPE_RUNS | C(HITCH) | C(OTHER))
#define V(s, f)             FHI_WAY_PLAIN, offsetof(s, f), 0, 0, 0
#define STR(s, f)           FHI_WAY_PLAIN, offsetof(s, f), sizeof(((s *)0)->f), 0, 0
#define GROUP               FHI_WAY_PLAIN, 0, 0, 0, 0
#define OPTION              FHI_WAY_OPTIONAL, 0, 0, 0, 0
#define OWN                 FHI_WAY_OWN, 0, 0, 0, 0
#define ENTRIES(s, f, n, e) FHI_WAY_PLAIN, offsetof(s, f), sizeof(((s *)0)->f[0]), offsetof(s, n), offsetof(e, line)

// clang-format off
#define KEY_ROWS(X) \
X("firnhaul", INTEGER, "", 1, 1, "", "", true, OWN, 0, "Version of the format: 1.") \
X("title", TEXT, "", 0, 127, "(no title)", "", false, STR(fh_scene, title), 0, "What the scene shows, for a person.") \
X("load", MAP, "", 0, 0, "", "", true, GROUP, 0, "The person in the hole.") \
X("load.mass_kg", NUMBER, "kg", 20, 400, "", "", true, V(fh_scene, load_mass), 0, "Mass with clothes, pack and kit.") \
X("load.helps", FLAG, "", 0, 0, "false", "", false, V(fh_scene, load_helps), 0, "The person can push off the wall and clip things in.") \
X("load.responds", CHOICE, "", 0, 0, "unknown", "unknown|answers|silent", false, V(fh_scene, load_responds), 0, "Whether the person answers when called. One who is silent cannot help.") \
X("slot", MAP, "", 0, 0, "", "", true, GROUP, 0, "The hole.") \
X("slot.depth_m", NUMBER, "m", 0.5, 200, "", "", true, V(fh_scene, depth), 0, "From the lip down to the tie-in point, along the wall.") \
X("lip", MAP, "", 0, 0, "", "", true, GROUP, 0, "The edge that the ropes run over.") \
X("lip.turn_deg", NUMBER, "deg", 0, 170, "80", "", false, V(fh_scene, lip_turn), 0, "Angle by which a rope turns over the edge.") \
X("lip.surface", ITEM, "", 0, 0, "firn", "", false, V(fh_scene, lip_surface), C(SURFACE), "What the ropes run on at the edge; sets the range of friction.") \
X("lip.friction", NUMBER, "1", 0, 2, "(the surface's)", "", false, V(fh_scene, lip_friction), 0, "Friction coefficient of the ropes on the edge; overrides the surface's.") \
X("lip.cut_m", NUMBER, "m", 0, 3, "0", "", false, V(fh_scene, lip_cut), 0, "How deep the loaded rope has cut into the edge.") \
X("lip.wall", CHOICE, "", 0, 0, "unknown", "unknown|upright|overhangs", false, V(fh_scene, lip_wall), 0, "How the wall stands under the edge: upright or sloping, or overhung by the edge.") \
X("ground", MAP, "", 0, 0, "", "", true, GROUP, 0, "The surface: distances back from the lip, along the line of the haul.") \
X("ground.station_m", NUMBER, "m", 0.3, 300, "4", "", false, V(fh_scene, station_at), 0, "The working master point.") \
X("ground.anchor_m", NUMBER, "m", 0.3, 300, "(3 m behind station_m)", "", false, V(fh_scene, anchor_at), 0, "The anchor, at the station or behind it.") \
X("ground.slope_deg", NUMBER, "deg", -60, 60, "0", "", false, V(fh_scene, slope), 0, "Slope of the surface; positive rises away from the lip.") \
X("ground.reach_m", NUMBER, "m", 0, 50, "(1 m, or station_m where that is less)", "", false, V(fh_scene, reach), 0, "Nearest to the lip that a hitch can be set safely.") \
X("ground.clearance_m", NUMBER, "m", 0, 5, "0.4", "", false, V(fh_scene, clearance), 0, "Least gap between two blocks before they touch.") \
X("ground.room_m", NUMBER, "m", 0.5, 500, "25", "", false, V(fh_scene, room), 0, "Farthest back from the lip that a hauler can walk.") \
X("ground.anchor", ITEM, "", 0, 0, "(not stated)", "", false, V(fh_scene, anchor_kind), C(ANCHOR), "What kind of anchor the rig hangs on. Snow or ice and size decide more than the kind, and the kinds were not measured in the same snow: test it.") \
X("ground.holds_kN", NUMBER, "kN", 0.1, 200, "(the anchor's)", "", false, V(fh_scene, anchor_holds), 0, "What the anchor holds; overrides the kind's figure.") \
X("anchor", MAP, "", 0, 0, "(one anchor: ground.anchor)", "", false, OPTION, 0, "What the rig hangs on, point by point.") \
X("anchor.points[]", LIST, "", 1, FH_MAX_POINTS, "", "", true, ENTRIES(fh_scene, anchorage.points, anchorage.point_count, fh_point), 0, "The points, each with the leg from it to where the legs meet.") \
X("anchor.points[].kind", ITEM, "", 0, 0, "", "", true, V(fh_point, kind), C(ANCHOR), "What kind of anchor it is.") \
X("anchor.points[].depth_m", NUMBER, "m", 0.02, 5, "(usual for the kind)", "", false, V(fh_point, depth), 0, "Depth of what is buried, to its middle; of a bollard's trench; length of a screw in the ice; depth of a thread's holes.") \
X("anchor.points[].length_m", NUMBER, "m", 0.05, 3, "(usual for the kind)", "", false, V(fh_point, length), 0, "Length of what is buried.") \
X("anchor.points[].width_m", NUMBER, "m", 0.01, 2, "(usual for the kind)", "", false, V(fh_point, width), 0, "Width of what is buried.") \
X("anchor.points[].diameter_m", NUMBER, "m", 0.2, 10, "(usual for the kind)", "", false, V(fh_point, diameter), 0, "Diameter of a bollard.") \
X("anchor.points[].back_deg", NUMBER, "deg", 0, 60, "(usual for the kind)", "", false, V(fh_point, back), 0, "Lean of an upright stake back from square to the pull; a screw's is drawn, not counted.") \
X("anchor.points[].holds_kN", NUMBER, "kN", 0.1, 200, "(from snow and size, or the kind's)", "", false, V(fh_point, holds), 0, "What the point holds; overrides all else.") \
X("anchor.points[].leg_m", NUMBER, "m", 0.2, 20, "1.5", "", false, V(fh_point, leg), 0, "Length of the leg.") \
X("anchor.points[].aside_deg", NUMBER, "deg", -85, 85, "0", "", false, V(fh_point, aside), 0, "Angle of the leg from the line of the pull, seen from above.") \
X("anchor.points[].above_deg", NUMBER, "deg", -80, 80, "0", "", false, V(fh_point, above), 0, "Angle of the leg above the ground.") \
X("anchor.points[].slack_m", NUMBER, "m", 0, 5, "0", "", false, V(fh_point, slack), 0, "Slack of a fixed leg while the others are taut.") \
X("anchor.snow", CHOICE, "", 0, 0, "(not tested: the kind's figures)", "fist|four-fingers|one-finger|pencil|knife", false, V(fh_scene, anchorage.snow), 0, "The hand test where the points are: the largest thing that pushes in gently.") \
X("anchor.ice", CHOICE, "", 0, 0, "(not said: the kind's figures)", "solid|porous|rotten", false, V(fh_scene, anchorage.ice), 0, "Ice of screws and threads: without air; 10 to 20 % of it air; up to half of it air.") \
X("anchor.strength_kPa", NUMBER, "kPa", 0.1, 5000, "(from the hand test)", "", false, V(fh_scene, anchorage.strength), 0, "Measured pressure that the snow bears; overrides the hand test.") \
X("anchor.sharing", CHOICE, "", 0, 0, "fixed", "fixed|sliding", false, V(fh_scene, anchorage.sharing), 0, "Legs of fixed length, or one sling that slides.") \
X("anchor.stop_m", NUMBER, "m", 0, 10, "(no stop)", "", false, V(fh_scene, anchorage.stop), 0, "Sliding: knots let the meeting place move at most so far when a leg fails.") \
X("anchor.modulus_kN", NUMBER, "kN", 1, 5000, "[30, 150]", "", false, V(fh_scene, anchorage.modulus), 0, "Tension over strain of the legs. Default: cord to sewn sling, common practice, no source.") \
X("crew[]", LIST, "", 0, FH_MAX_CREW, "(one person with the defaults below; [] says nobody)", "", false, ENTRIES(fh_scene, crew, crew_count, fh_hauler), 0, "Who pulls.") \
X("crew[].name", NAME, "", 1, FH_NAME - 1, "hauler", "", false, STR(fh_hauler, name), 0, "A name for reports.") \
X("crew[].mass_kg", NUMBER, "kg", 20, 250, "[60, 95]", "", false, V(fh_hauler, mass), 0, "Mass with kit. Default: common practice, no source.") \
X("crew[].footing", NUMBER, "1", 0.02, 3, "[0.2, 0.6]", "", false, V(fh_hauler, footing), 0, "Friction of the feet on the ground. Default: slippery to medium footing of a pull table (MIL-STD-1472, from memory).") \
X("crew[].posture", ITEM, "", 0, 0, "walking", "", false, V(fh_hauler, posture), C(POSTURE), "How the person pulls.") \
X("crew[].gloves", CHOICE, "", 0, 0, "unknown", "unknown|bare|thin|thick", false, V(fh_hauler, gloves), 0, "What the hands wear, where they hold the rope. Thin ones take 0 to 23 % of the grip, thick ones 24 to 50 %; unknown counts as bare.") \
X("crew[].pull_N", NUMBER, "N", 10, 5000, "(from mass, footing and posture)", "", false, V(fh_hauler, pull), 0, "Measured pull; overrides the estimate.") \
X("ropes[]", LIST, "", 0, FH_MAX_ROPES, "(each rope that the rig names: an ordinary half rope of unstated length)", "", false, ENTRIES(fh_scene, ropes, rope_count, fh_rope), 0, "Ropes and cords at hand on the surface.") \
X("ropes[].name", NAME, "", 1, FH_NAME - 1, "", "", true, STR(fh_rope, name), 0, "The name by which a rig calls it.") \
X("ropes[].length_m", NUMBER, "m", 1, 1000, "(not stated: not checked)", "", false, V(fh_rope, length), 0, "Usable length: from the knot of the person who hangs to the end within reach; coils that they carry do not count.") \
X("ropes[].kind", ITEM, "", 0, 0, "half", "", false, V(fh_rope, kind), C(ROPE), "Kind of rope.") \
X("ropes[].diameter_mm", NUMBER, "mm", 3, 20, "(the kind's)", "", false, V(fh_rope, diameter), 0, "Diameter.") \
X("ropes[].modulus_kN", NUMBER, "kN", 0.5, 5000, "(the kind's)", "", false, V(fh_rope, modulus), 0, "Tension over strain under a slow pull.") \
X("ropes[].knots", INTEGER, "", 0, 100, "0", "", false, V(fh_rope, knots), 0, "Brake knots in the strand that holds the load.") \
X("ropes[].wet", FLAG, "", 0, 0, "(as wet for the scene)", "", false, V(fh_rope, wet), 0, "Wet or iced.") \
X("kit[]", LIST, "", 0, FH_MAX_KIT, "(nothing)", "", false, ENTRIES(fh_scene, kit, kit_count, fh_kit_line), 0, "Gear at hand, by class.") \
X("kit[].item", ITEM, "", 0, 0, "", "", true, V(fh_kit_line, item), ANY_GEAR, "What it is.") \
X("kit[].count", INTEGER, "", 0, 1000, "1", "", false, V(fh_kit_line, count), 0, "How many.") \
X("kit[].efficiency", NUMBER, "1", 0.05, 1, "(the catalogue's)", "", false, V(fh_kit_line, efficiency), 0, "Force out over force in at a half turn; overrides the catalogue.") \
X("kit_for", CHOICE, "", 0, 0, "rig", "rig|all", false, V(fh_scene, kit_for), 0, "What the kit's carabiners are there for: the rig alone, or all of it: also what holds pulleys, captures and knots, and you.") \
X("wet", FLAG, "", 0, 0, "false", "", false, V(fh_scene, wet), 0, "Ropes and cords are wet or iced.") \
X("prefer", CHOICE, "", 0, 0, "pieces", "pull|time|pieces|safe|chance", false, V(fh_scene, prefer), 0, "What plan puts first: least pull, least time, fewest pieces, widest margin, best chance.") \
X("reset_s", NUMBER, "s", 1, 3600, "[20, 60]", "", false, V(fh_scene, reset_time), 0, "Time of one reset. Default: common practice, no source.") \
X("walk_mps", NUMBER, "m/s", 0.01, 3, "[0.2, 0.6]", "", false, V(fh_scene, walk_speed), 0, "Walking speed while pulling. Default: common practice, no source.") \
X("rig", MAP, "", 0, 0, "(plan finds rigs)", "", false, OWN, 0, "One rig: ropes, where they run, and what grips them.") \
X("rig.ropes[]", LIST, "", 1, FH_MAX_PATHS, "", "", true, OWN, 0, "The ropes of the rig.") \
X("rig.ropes[].name", NAME, "", 1, FH_NAME - 1, "", "", true, STR(fhi_said_path, name), 0, "Which rope; one that the list of ropes does not hold is a half rope of unstated length.") \
X("rig.ropes[].of", NAME, "", 1, FH_NAME - 1, "(itself)", "", false, STR(fhi_said_path, of), 0, "This path is another end of that rope of the list, under a name of its own: they share its length.") \
X("rig.ropes[].path[]", LIST, "", 2, FH_MAX_STATIONS, "", "", true, OWN, 0, "Its stations from one end to the other; each has one of tie, edge, run, hand, loose.") \
X("rig.ropes[].path[].tie", NAME, "", 1, FH_NAME - 1, "(one of five)", "", false, STR(fhi_said_station, tie), 0, "The rope is fixed to this body: load, station, anchor or a grip.") \
X("rig.ropes[].path[].edge", CHOICE, "", 0, 0, "(one of five)", "lip", false, V(fhi_said_station, edge), 0, "The rope passes the lip.") \
X("rig.ropes[].path[].run", NAME, "", 1, FH_NAME - 1, "(one of five)", "", false, STR(fhi_said_station, run), 0, "The rope runs over something on this body: load, station, anchor or a grip.") \
X("rig.ropes[].path[].hand", CHOICE, "", 0, 0, "(one of five)", "crew", false, V(fhi_said_station, hand), 0, "Last station: the crew pulls here. One in the rig.") \
X("rig.ropes[].path[].loose", FLAG, "", 0, 0, "(one of five)", "", false, V(fhi_said_station, loose), 0, "First or last station: the rope's free end; it carries nothing.") \
X("rig.ropes[].path[].slack_m", NUMBER, "m", 0, 500, "(0: taut)", "", false, V(fhi_said_station, slack), 0, "With tie: the strand before it hangs loose by so much.") \
X("rig.ropes[].path[].friction", NUMBER, "1", 0, 2, "(the lip's)", "", false, V(fhi_said_station, friction), 0, "With edge: friction of this rope here.") \
X("rig.ropes[].path[].on", ITEM, "", 0, 0, "(required with run)", "", false, V(fhi_said_station, item), ROPE_RUNS, "With run: what the rope runs over.") \
X("rig.ropes[].path[].efficiency", NUMBER, "1", 0.05, 1, "(the kit's, or the catalogue's)", "", false, V(fhi_said_station, efficiency), 0, "With run: force out over force in at a half turn.") \
X("rig.ropes[].path[].efficiency_range", RANGE, "1", 0.05, 1, "(none)", "", false, V(fhi_said_station, efficiency_range), 0, "With an exact efficiency: the range around it.") \
X("rig.ropes[].path[].reversed", FLAG, "", 0, 0, "false", "", false, V(fhi_said_station, reversed), 0, "With run on a capture: put in the wrong way round, it locks against the raise.") \
X("rig.ropes[].path[].toward", CHOICE, "", 0, 0, "(back behind a moving block or the lip, lip behind a fixed block)", "back|lip", false, V(fhi_said_station, toward), 0, "With hand: which way the crew pulls.") \
X("rig.ropes[].path[].angle_deg", NUMBER, "deg", 0, 100, "0", "", false, V(fhi_said_station, angle), 0, "With hand: angle between the pull and the haul line, seen from above.") \
X("rig.grips[]", LIST, "", 0, FH_MAX_GRIPS, "(none)", "", false, OWN, 0, "Hitches and clamps on strands.") \
X("rig.grips[].body", NAME, "", 1, FH_NAME - 1, "", "", true, STR(fhi_said_grip, body), 0, "The moving body that the grip makes, by a name of its own; or station or anchor: a tended capture.") \
X("rig.grips[].hitch", ITEM, "", 0, 0, "", "", true, V(fhi_said_grip, item), C(HITCH), "What grips.") \
X("rig.grips[].rope", NAME, "", 1, FH_NAME - 1, "", "", true, STR(fhi_said_grip, rope), 0, "The rope that it holds.") \
X("rig.grips[].after", INTEGER, "", 0, FH_MAX_STATIONS - 2, "", "", true, V(fhi_said_grip, after), 0, "It holds the strand between this station of the path, counted from 0, and the next one.") \
X("rig.grips[].at_m", PLAIN, "m", -200, 500, "", "", true, V(fhi_said_grip, at), 0, "Where it sits on the haul line, back from the lip.") \
X("team", MAP, "", 0, 0, "(no team)", "", false, OPTION, 0, "A rope team on its feet, before anyone hangs.") \
X("team.people[]", LIST, "", 2, FH_MAX_PEOPLE, "", "", true, ENTRIES(fh_scene, team.people, team.people_count, fh_member), 0, "The members in order; the first one falls.") \
X("team.people[].mass_kg", NUMBER, "kg", 20, 250, "", "", true, V(fh_member, mass), 0, "Mass with pack and kit.") \
X("team.people[].behind_m", NUMBER, "m", 0, 500, "", "", true, V(fh_member, behind), 0, "Distance along the rope behind the first one; 0 for the first.") \
X("team.rope", MAP, "", 0, 0, "(its keys' defaults)", "", false, GROUP, 0, "The rope between them: tension = modulus times (strain + damping times strain rate).") \
X("team.rope.modulus_kN", NUMBER, "kN", 1, 500, "[10, 25]", "", false, V(fh_scene, team.modulus), 0, "Tension over strain in a fall. Default: half ropes of 5 to 7.5 kN impact force at 55 kg, by the standard's drop.") \
X("team.rope.damping_s", NUMBER, "s", 0, 1, "[0, 0.03]", "", false, V(fh_scene, team.damping), 0, "Damping of the rope. Default: common practice, no source.") \
X("team.rope.slack_m", NUMBER, "m", 0, 50, "[0, 0.5]", "", false, V(fh_scene, team.slack), 0, "Slack in each piece of rope. Default: common practice, no source.") \
X("team.snow", CHOICE, "", 0, 0, "(ice if lip.surface says so, firn if anchor.snow is pencil or knife; else not known)", "soft|firn|ice", false, V(fh_scene, team.snow), 0, "What the team stands on: soft snow that feet and axes break into, hard firn, ice. Sets how feet hold and how braking does; not known: the whole range.") \
X("team.edge", ITEM, "", 0, 0, "(bare: that of lip.surface, firn where it is padded)", "", false, V(fh_scene, team.edge), C(SURFACE), "What the first one falls over. Not stated: the bare edge, since nobody falls over padding; firn where the scene's edge is padded.") \
X("team.stand", NUMBER, "1", 0, 3, "(the snow's; not known: [0.03, 0.36])", "", false, V(fh_scene, team.stand), 0, "Friction while dragged on one's feet. By snow: soft 0.19 to 0.48, firn 0.03 to 0.36, ice 0.07 to 0.23.") \
X("team.brake", NUMBER, "1", 0, 3, "(the snow's; not known: [0.03, 0.8])", "", false, V(fh_scene, team.brake), 0, "Friction while braking, after the reaction time. By snow: soft 0.19 to 0.8, firn 0.03 to 0.36, ice 0.03 to 0.23. Measured on people and cloth that slide; nobody measured one who brakes.") \
X("team.reaction_s", NUMBER, "s", 0, 30, "[0.7, 1.5]", "", false, V(fh_scene, team.reaction), 0, "From the moment the own piece of rope comes taut. Default: surprise, general human-factors literature, from memory.") \
X("team.start_mps", NUMBER, "m/s", 0, 5, "[0, 1]", "", false, V(fh_scene, team.start), 0, "Walking speed toward the hole when it happens. Default: common practice, no source.") \
X("team.knots", MAP, "", 0, 0, "(no knots)", "[]", false, OPTION, 0, "Brake knots, from the first one's tie-in; each catches once at the lip. [] says none.") \
X("team.knots.first_m", NUMBER, "m", 0, 100, "", "", true, V(fh_scene, team.knot_first), 0, "Where the first knot sits.") \
X("team.knots.apart_m", NUMBER, "m", 0.1, 50, "", "", true, V(fh_scene, team.knot_apart), 0, "From knot to knot.") \
X("team.knots.count", INTEGER, "", 1, 50, "", "", true, V(fh_scene, team.knot_count), 0, "How many.") \
X("team.knots.catch_N", NUMBER, "N", 0, 20000, "", "", true, V(fh_scene, team.knot_catch), 0, "What one knot holds at the lip.") \
X("team.knots.plough_m", NUMBER, "m", 0, 10, "0", "", false, V(fh_scene, team.knot_plough), 0, "How far one knot ploughs through the lip, holding all the while; no farther than to the next one. 0: it gives way at once.")
// clang-format on

#define TYPE_NUMBER  "number"
#define TYPE_PLAIN   "plain"
#define TYPE_RANGE   "range"
#define TYPE_INTEGER "integer"
#define TYPE_FLAG    "flag"
#define TYPE_TEXT    "text"
#define TYPE_NAME    "name"
#define TYPE_ITEM    "item"
#define TYPE_CHOICE  "choice"
#define TYPE_MAP     "map"
#define TYPE_LIST    "list"

#define AS_KEY(path, form, unit, lo, hi, fallback, choices, required, bind, classes, help) \
  {path, TYPE_##form, unit, lo, hi, fallback, choices, help, required, classes},
static const fh_key KEYS[] = {KEY_ROWS(AS_KEY)};

#define AS_BIND(path, form, unit, lo, hi, fallback, choices, required, bind, classes, help) {FHI_FORM_##form, bind},
static const fhi_bind BINDS[] = {KEY_ROWS(AS_BIND)};

enum { KEY_COUNT = sizeof KEYS / sizeof KEYS[0] };
_Static_assert(sizeof BINDS / sizeof BINDS[0] == KEY_COUNT, "one bind a key");

const fh_key *fh_key_list(int *count) {
  if (count != NULL) {
    *count = KEY_COUNT;
  }
  return KEYS;
}

const fhi_bind *fhi_key_bind(int row) {
  return &BINDS[row];
}

// Does `path` say `parent`.`something` with no further dot? @return where the something starts, or NULL
static const char *within(const char *path, const char *parent) {
  size_t n = strlen(parent);
  if (n > 0) {
    if (strncmp(path, parent, n) != 0 || path[n] != '.') {
      return NULL;
    }
    path += n + 1;
  }
  return strchr(path, '.') == NULL ? path : NULL;
}

int fhi_key_next(int parent, int after) {
  const char *path = parent < 0 ? "" : KEYS[parent].path;
  int start = after >= 0 ? after + 1 : parent + 1;  // a map's keys follow it
  size_t length = strlen(path);
  for (int row = start; row < KEY_COUNT; row++) {
    if (within(KEYS[row].path, path) != NULL) {
      return row;
    }
    if (strncmp(KEYS[row].path, path, length) != 0) {
      break;  // they stand together: the rest is of other maps
    }
  }
  return -1;
}

void fhi_key_name(int row, char *to, size_t size) {
  const char *dot = strrchr(KEYS[row].path, '.');
  (void)fhi_copy(to, size, dot == NULL ? KEYS[row].path : dot + 1);
  size_t n = strlen(to);
  if (n > 2 && strcmp(to + n - 2, "[]") == 0) {
    to[n - 2] = '\0';
  }
}

int fhi_key_child(int parent, const char *key) {
  for (int row = fhi_key_next(parent, -1); row >= 0; row = fhi_key_next(parent, row)) {
    char name[FH_NAME];
    fhi_key_name(row, name, sizeof name);
    if (strcmp(name, key) == 0) {
      return row;
    }
  }
  return -1;
}

int fhi_key_row(const char *path) {
  for (int row = 0; row < KEY_COUNT; row++) {
    if (strcmp(KEYS[row].path, path) == 0) {
      return row;
    }
  }
  return -1;
}
