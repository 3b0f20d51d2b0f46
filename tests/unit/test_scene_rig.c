// SPDX-License-Identifier: MIT
// Rigs from text: the one that the format's description shows, unusual ones that must pass, and what lies on the edge of a refusal.
#include "scene_text.h"

static const char EXAMPLE[] =
    "firnhaul: 1\nload: {mass_kg: 92}\nslot: {depth_m: 11}\nlip: {friction: 0.18}\nground: {station_m: 4.5, anchor_m: "
    "10}\n"
    "ropes:\n  - {name: main, length_m: 50}\n"
    "rig:\n"
    "  ropes:\n"
    "    - name: main\n"
    "      path:\n"
    "        - {tie: load}\n"
    "        - {edge: lip}\n"
    "        - {tie: anchor, slack_m: 0.6}\n"
    "        - {edge: lip, friction: [0.1, 0.2]}\n"
    "        - {run: load, on: carabiner}\n"
    "        - {edge: lip}\n"
    "        - {run: station, on: toothed-capture, efficiency: 0.9, efficiency_range: [0.85, 0.93], reversed: true}\n"
    "        - {run: tractor, on: carabiner}\n"
    "        - {hand: crew, toward: back, angle_deg: 20}\n"
    "  grips:\n"
    "    - {body: tractor, hitch: prusik, rope: main, after: 5, at_m: 1.5}\n";

static void a_slack_line_and_drop_loop_is_read_as_written(void **state) {
  (void)state;
  scene_text t = scene_read(EXAMPLE);
  const fh_rig *rig = &t.scene->rig;
  static const fh_station_kind KINDS[] = {FH_TIE, FH_EDGE, FH_TIE, FH_EDGE, FH_RUN, FH_EDGE, FH_RUN, FH_RUN, FH_HAND};
  static const int BODIES[] = {FH_BODY_LOAD,       -1, FH_BODY_ANCHOR, -1, FH_BODY_LOAD, -1, FH_BODY_STATION,
                               FH_BODY_FIRST_GRIP, -1};
  assert_true(t.scene->has_rig);
  assert_int_equal(t.scene->rig_line, 9);
  assert_int_equal(rig->body_count, 4);
  assert_string_equal(rig->bodies[FH_BODY_LOAD], "load");
  assert_string_equal(rig->bodies[FH_BODY_STATION], "station");
  assert_string_equal(rig->bodies[FH_BODY_ANCHOR], "anchor");
  assert_string_equal(rig->bodies[FH_BODY_FIRST_GRIP], "tractor");
  assert_int_equal(rig->path_count, 1);
  assert_string_equal(rig->paths[0].name, "main");
  assert_int_equal(rig->paths[0].rope, 0);
  assert_int_equal(rig->paths[0].first, 0);
  assert_int_equal(rig->paths[0].count, 9);
  for (int i = 0; i < 9; i++) {
    assert_int_equal(rig->stations[i].kind, KINDS[i]);
    assert_int_equal(rig->stations[i].body, BODIES[i]);
    assert_int_equal(rig->stations[i].line, 12 + i);
    assert_int_equal(rig->stations[i].column, 11);
  }
  assert_exact(rig->stations[2].slack.likely, 0.6);
  assert_false(fh_number_is_set(rig->stations[0].slack));
  assert_exact(rig->stations[3].friction.hi, 0.2);
  assert_false(fh_number_is_set(rig->stations[1].friction));
  const fh_station *capture = &rig->stations[6];
  assert_string_equal(fh_gear_item(t.gear, capture->item)->name, "toothed-capture");
  assert_exact(capture->efficiency.likely, 0.9);
  assert_exact(capture->efficiency_range.lo, 0.85);
  assert_true(capture->reversed);
  assert_false(fh_number_is_set(rig->stations[7].efficiency));
  assert_false(rig->stations[7].reversed);
  assert_int_equal(rig->stations[8].toward, FH_TOWARD_BACK);
  assert_close(rig->stations[8].angle.likely, 20.0 * 3.14159265358979323846 / 180.0, 1e-15);
  assert_int_equal(rig->grip_count, 1);
  assert_int_equal(rig->grips[0].body, FH_BODY_FIRST_GRIP);
  assert_string_equal(fh_gear_item(t.gear, rig->grips[0].item)->name, "prusik");
  assert_int_equal(rig->grips[0].path, 0);
  assert_int_equal(rig->grips[0].after, 5);
  assert_exact(rig->grips[0].at, 1.5);
  assert_int_equal(rig->grips[0].line, 22);
  scene_done(&t);
}

#define RIG(...)        LEAST "rig: {ropes: [" __VA_ARGS__ "}\n"
#define ROPE(name, ...) "{name: " name ", path: [" __VA_ARGS__ "]}"
#define Z               "{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}"

static const char
    *const
        GOOD[] =
            {
                // direct, with the hand toward the lip behind a fixed turn, and back from the lip
                RIG(ROPE("a", "{tie: load}, {edge: lip}, {run: station, on: pulley}, {hand: crew}") "]"),
                RIG(ROPE("a", "{tie: load}, {edge: lip}, {hand: crew}") "]"),
                RIG(ROPE("a", "{tie: load}, {edge: lip}, {hand: crew, toward: back}") "]"),
                // two ropes, the second tied to the first one's grip
                RIG(ROPE("a", "{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {loose: true}") ", " ROPE(
                    "b", "{tie: t}, {run: anchor, on: pulley}, {hand: crew}") "], grips: [{body: t, hitch: klemheist, "
                                                                              "rope: a, after: 1, at_m: 1.5}]"),
                // three to one on three to one with one rope: two grips on one strand
                RIG(ROPE(
                    "a", Z
                    ", {run: station, on: carabiner}, {run: u, on: carabiner}, {hand: crew}") "], grips: [{body: t, "
                                                                                              "hitch: prusik, rope: a, "
                                                                                              "after: 1, at_m: 1.5}, "
                                                                                              "{body: u, hitch: "
                                                                                              "prusik, rope: a, after: "
                                                                                              "3, at_m: 2}]"),
                // a tended capture at the station, and a tail that a grip holds
                RIG(ROPE("a", "{tie: load}, {edge: lip}, {run: station, on: carabiner}, {run: t, on: pulley}, {hand: "
                              "crew}") "], grips: [{body: t, hitch: prusik, rope: a, after: 1, at_m: 1.5}, {body: "
                                       "station, hitch: autoblock, rope: a, after: 1, at_m: 3.6}]"),
                RIG(ROPE("a", "{tie: load}, {edge: lip}, {run: station, on: pulley}, {loose: true}") ", " ROPE(
                    "b",
                    "{tie: anchor}, {run: u, on: pulley}, {hand: crew}") "], grips: [{body: u, hitch: prusik, rope: a, "
                                                                         "after: 1, at_m: 1.2}, {body: anchor, hitch: "
                                                                         "autoblock, rope: a, after: 2, at_m: 6}]"),
                // a loose end first, hanging in the hole; a rope with nothing but a loose end
                RIG(ROPE("a", "{loose: true}, {edge: lip}, {tie: station}") ", " ROPE(
                    "b", "{tie: load}, {edge: lip}, {hand: crew}") "]"),
                RIG(ROPE("a", "{loose: true}, {tie: station}, {loose: true}") ", " ROPE(
                    "b", "{tie: load}, {edge: lip}, {hand: crew}") "]"),
                // a rope tied to a grip that holds another piece of it
                RIG(ROPE("a", "{tie: load}, {edge: lip}, {tie: anchor, slack_m: 1}, {run: station, on: pulley}, {tie: "
                              "t}") ", " ROPE(
                    "b", "{tie: load}, {edge: lip}, {hand: crew}") "], grips: [{body: t, hitch: prusik, rope: a, "
                                                                   "after: 1, at_m: 2}]"),
                // a grip on the hand's strand: behind a moving block farther back, behind a fixed one nearer
                RIG(ROPE("a", Z ", {hand: crew}") "], grips: [{body: t, hitch: prusik, rope: a, after: 1, at_m: 1.5}, "
                                                  "{body: u, hitch: prusik, rope: a, after: 3, at_m: 2.5}]"),
                RIG(ROPE(
                    "a",
                    "{tie: load}, {edge: lip}, {run: station, on: pulley}, {hand: crew}") "], grips: [{body: u, hitch: "
                                                                                          "prusik, rope: a, after: 2, "
                                                                                          "at_m: 2.5}]"),
};

static void unusual_rigs_that_can_be_built_are_read(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof GOOD / sizeof GOOD[0]; i++) {
    scene_text t = scene_try(GOOD[i]);
    if (t.status != FH_OK) {
      print_error("rig %zu: %s: %s\n", i, t.diag.key, t.diag.message);
    }
    assert_int_equal(t.status, FH_OK);
    assert_true(t.scene->has_rig);
    scene_done(&t);
  }
}

static void a_rope_that_is_not_listed_has_no_length(void **state) {
  (void)state;
  scene_text t = scene_read(GOOD[0]);
  assert_int_equal(t.scene->rig.paths[0].rope, -1);
  scene_done(&t);
}

// Anchor to the load 7 + 10 m, load to the station 10 + 4 m, station to the block 2.5 m: 33.5 m carry. The slack line before
// them is 10 + 7 m more, and counts only when it is no slack line.
#define LONG_ROPE(length, slack)                                                                                    \
  "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {}\nground: {}\nropes: [{name: a, length_m: " length \
  "}]\n"                                                                                                            \
  "rig: {ropes: [{name: a, path: [{tie: load}, {edge: lip}, {tie: anchor" slack                                     \
  "}, {edge: lip}, {run: load, on: carabiner},"                                                                     \
  "  {edge: lip}, {run: station, on: pulley}, {run: t, on: pulley}, {hand: crew}]}],"                               \
  "  grips: [{body: t, hitch: prusik, rope: a, after: 5, at_m: 1.5}]}\n"

static void a_rope_needs_the_strands_that_carry_and_not_its_slack_line(void **state) {
  (void)state;
  scene_text t = scene_read(LONG_ROPE("33.5", ", slack_m: 1"));
  scene_done(&t);
  assert_refused(LONG_ROPE("33.4", ", slack_m: 1"), 6, 29, "ropes[0].length_m");
  t = scene_read(LONG_ROPE("[20, 33.5]", ", slack_m: 1"));  // it may be long enough
  scene_done(&t);
  assert_refused(LONG_ROPE("33.5", ""), 6, 29, "ropes[0].length_m");
  t = scene_read(LONG_ROPE("50.5", ""));
  scene_done(&t);
}

static void the_edges_of_a_strand_are_not_on_it(void **state) {
  (void)state;
#define GRIP_AT(at) \
  RIG(ROPE("a", Z ", {hand: crew}") "], grips: [{body: t, hitch: prusik, rope: a, after: 1, at_m: " at "}]")
  scene_text t = scene_read(GRIP_AT("0.001"));
  scene_done(&t);
  t = scene_read(GRIP_AT("3.999"));
  scene_done(&t);
  scene_text low = scene_try(GRIP_AT("0")), high = scene_try(GRIP_AT("4")), under = scene_try(GRIP_AT("-0.5"));
  assert_int_equal(low.status, FH_ERR_INPUT);
  assert_int_equal(high.status, FH_ERR_INPUT);
  assert_int_equal(under.status, FH_ERR_INPUT);
  scene_done(&low);
  scene_done(&high);
  scene_done(&under);
}

static void as_many_as_the_maxima_are_read(void **state) {
  (void)state;
  char yaml[8192];
  int n = snprintf(yaml, sizeof yaml,
                   LEAST "rig:\n  ropes:\n    - {name: a, path: [{tie: load}, {edge: lip}, {run: station, on: pulley}, "
                         "{run: g0, on: pulley}, {hand: crew}]}\n  grips:\n");
  for (int i = 0; i < FH_MAX_GRIPS; i++) {
    n += snprintf(yaml + n, sizeof yaml - (size_t)n,
                  "    - {body: g%d, hitch: prusik, rope: a, after: 1, at_m: %d.%02d}\n", i, 1 + i / 100, i);
  }
  scene_text t = scene_read(yaml);
  assert_int_equal(t.scene->rig.grip_count, FH_MAX_GRIPS);
  assert_int_equal(t.scene->rig.body_count, FH_BODY_FIRST_GRIP + FH_MAX_GRIPS);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_slack_line_and_drop_loop_is_read_as_written),
      cmocka_unit_test(unusual_rigs_that_can_be_built_are_read),
      cmocka_unit_test(a_rope_that_is_not_listed_has_no_length),
      cmocka_unit_test(a_rope_needs_the_strands_that_carry_and_not_its_slack_line),
      cmocka_unit_test(the_edges_of_a_strand_are_not_on_it),
      cmocka_unit_test(as_many_as_the_maxima_are_read),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
