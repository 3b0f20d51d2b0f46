// SPDX-License-Identifier: MIT
// One stroke, and all of them: throw, resets, time, rope. Worked out by hand from the places in PLACE: reach 1 m, clearance
// 0.5 m, station 6 m, room 20 m, hole 10 m.
#include "scenes.h"

#define PACE "reset_s: 30\nwalk_mps: 0.1\n"

// Whole strokes, as they are counted when the raise is not run.
static checked counted(const char *yaml) {
  checked k = checked_read_with(yaml, (fh_check_opts){.lower = true, .ranges = true, .time = false});
  assert_int_equal(k.c->outcome, FH_OUTCOME_SOLVED);
  assert_within(k.c->residual, 0.0, 1e-9);
  return k;
}

static void throw_is(const char *yaml, double load, double hand, int strokes, const char *ends) {
  checked k = counted(yaml);
  assert_near(k.c->throw_load, load, 1e-9);
  assert_near(k.c->throw_hand, hand, 1e-9);
  assert_int_equal(k.c->strokes, strokes);
  assert_int_equal(k.c->resets, strokes - 1);
  assert_string_equal(k.c->throw_ends, ends);
  checked_done(&k);
}

static void a_stroke_ends_where_something_runs_out_of_room_first(void **state) {
  (void)state;
  // Z, block at 2 m, as fast as the load: 4 m to the station less the clearance.
  throw_is(PLACE Z(0.9, 0.5), 3.5, 10.5, 3, "a moving block reaches the next one");
  // Nine: the second block at 3 m runs three times as fast toward the station: (3 - 0.5) / 3.
  throw_is(PLACE NINE(0.9, 0.5, 0.5, 0.5), 2.5 / 3.0, 7.5, 12, "a moving block reaches the next one");
  // Cord over a flying block: that block at 3 m, twice as fast.
  throw_is(PLACE FIVE_COMPLEX(0.9, 0.5, 0.5), 1.25, 6.25, 8, "a moving block reaches the next one");
  // A loop halves the load's way.
  throw_is(PLACE SIX(0.5, 0.9, 0.5), 1.75, 10.5, 6, "a moving block reaches the next one");
  // Hand over hand toward the lip: nothing moves but the rope.
  throw_is(PLACE DIRECT(0.9), 10.0, 10.0, 1, "the load reaches the lip");
}

static void the_hauler_needs_room_behind_the_last_block(void **state) {
  (void)state;
#define NARROW HEAD SMOOTH ALONE "ground: {station_m: 6, anchor_m: 9, reach_m: 1, clearance_m: 0.5, room_m: 8}\n"
  throw_is(NARROW Z(0.9, 0.5), 2.0, 6.0, 5, "the hauler has no more room to walk back");  // (8 - 2) / 3
  throw_is(NARROW DROP_LOOP(0.5), 4.0, 8.0, 3, "the hauler has no more room to walk back");  // from the lip itself
}

static void a_block_that_comes_toward_the_lip_stops_at_the_reach(void **state) {
  (void)state;
  // The tail comes back from the station to a hitch at 3 m, which the crew pulls toward the lip.
  throw_is(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) LOOSE) ", " PATH("sling", "{tie: u}, {hand: crew, toward: lip}"), GRIP("u", "main", 2, 3)),
           2.0, 2.0, 5, "a moving block reaches the edge");
}

static void a_stroke_that_just_reaches_the_lip_needs_no_more(void **state) {
  (void)state;
  // Four strokes of 2.5 m, though 0.1 and its like are not exact.
  throw_is("firnhaul: 1\nload: {mass_kg: 100}\nslot: {depth_m: 10}\n" SMOOTH ALONE
           "ground: {station_m: 5.1, anchor_m: 9, reach_m: 1, clearance_m: 0.6, room_m: 20}\n" Z(0.9, 0.5),
           2.5, 7.5, 4, "a moving block reaches the next one");
}

static void without_room_there_is_no_stroke(void **state) {
  (void)state;
  checked k = counted(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("t", 0.5) HAND), GRIP("t", "main", 1, 5.7)));
  assert_exact(k.c->throw_load, 0.0);
  assert_int_equal(k.c->strokes, -1);
  assert_int_equal(k.c->resets, -1);
  assert_nan(k.c->time.likely);
  assert_true(k.c->answer_no);
  assert_true(says(k.c, FH_NOTE_NO, "there is no room for a stroke: a moving block reaches the next one"));
  checked_done(&k);
}

// 30 m of rope at a walk of 0.1 m/s, and two resets of 30 s.
static void a_light_pull_goes_at_a_walk(void **state) {
  (void)state;
  checked k = counted(PLACE PACE Z(1, 1));
  assert_near(k.c->time.lo, 360.0, 1e-9);
  assert_near(k.c->time.likely, 360.0, 1e-9);
  assert_near(k.c->time.hi, 360.0, 1e-9);
  checked_done(&k);
}

// Three strokes of 100 s, 327 N of pull against 340 N short and about two thirds of it for minutes: rests fill what two resets
// of 30 s leave open; nobody pulls with more than they can. Without a crew, or with a strong one, none are needed.
static void who_cannot_keep_it_up_rests_at_the_resets(void **state) {
  (void)state;
#define PULLERS(n) "crew: [{pull_N: " n "}]\n"
  checked k = counted(HEAD GROUND SMOOTH PULLERS("340") PACE Z(1, 1));
  double kept = k.c->crew.sustained.likely, need = k.c->hand_force.likely, rest = 100.0 * (need / kept - 1.0) - 30.0;
  assert_near(need, 100.0 * 9.80665 / 3.0, 1e-6);
  assert_true(kept < 300.0 && rest > 0.0);
  assert_near(k.c->time_rests.likely, 360.0 + 2.0 * rest, 1e-6);
  assert_near(k.c->kept_share.likely, need / kept, 1e-12);
  assert_true(k.c->crew_share.likely < 1.0 && !k.c->answer_no);
  checked_done(&k);
  k = counted(HEAD GROUND SMOOTH PULLERS("900") PACE Z(1, 1));
  assert_exact(k.c->time_rests.likely, k.c->time.likely);
  assert_true(k.c->kept_share.likely < 1.0);
  checked_done(&k);
  k = counted(PLACE PACE Z(1, 1));
  assert_exact(k.c->time_rests.hi, k.c->time.hi);
  assert_nan(k.c->kept_share.likely);
  checked_done(&k);
}

// 8 to 12 m at 3.5 m a stroke: 24 m of rope and two resets, to 36 m and three.
static void an_unsure_depth_takes_less_or_more_time(void **state) {
  (void)state;
  checked k = counted("firnhaul: 1\nload: {mass_kg: 100}\nslot: {depth_m: [8, 12]}\n" GROUND SMOOTH ALONE PACE Z(1, 1));
  assert_near(k.c->time.lo, 240.0 + 60.0, 1e-9);
  assert_near(k.c->time.likely, 300.0 + 60.0, 1e-9);
  assert_near(k.c->time.hi, 360.0 + 90.0, 1e-9);
  assert_int_equal(k.c->resets, 2);
  checked_done(&k);
}

// Work over power: 10 m of 100 kg by people of 75, 120, 200 W (the catalogue's), whatever the rig, when nothing is lost.
static void a_hard_pull_goes_as_fast_as_the_crew_s_power(void **state) {
  (void)state;
  static const struct {
    const char *yaml;
    double people, resets;
  } CREWS[] = {
      {HEAD GROUND SMOOTH "crew: []\nwalk_mps: 3\nreset_s: [10, 30]\n" Z(1, 1), 1.0, 2.0},
      {HEAD GROUND SMOOTH "crew: [{mass_kg: 80}, {mass_kg: 80}]\nwalk_mps: 3\nreset_s: [10, 30]\n" Z(1, 1), 2.0, 2.0},
      {HEAD GROUND SMOOTH "crew: []\nwalk_mps: 3\nreset_s: [10, 30]\n" SIX(1, 1, 1), 1.0, 5.0},
  };
  for (size_t i = 0; i < sizeof CREWS / sizeof CREWS[0]; i++) {
    checked k = counted(CREWS[i].yaml);
    fh_band p = fh_number_band(fh_gear_figure(k.t.gear, fh_gear_find(k.t.gear, "crew"), "power_minutes_W", NULL));
    assert_close(k.c->time.lo, 10.0 * k.w / (CREWS[i].people * p.hi) + 10.0 * CREWS[i].resets, 1e-9);
    assert_close(k.c->time.likely, 10.0 * k.w / (CREWS[i].people * p.likely) + 20.0 * CREWS[i].resets, 1e-9);
    assert_close(k.c->time.hi, 10.0 * k.w / (CREWS[i].people * p.lo) + 30.0 * CREWS[i].resets, 1e-9);
    checked_done(&k);
  }
}

static void rope_is_counted_strand_by_strand_with_its_knots(void **state) {
  (void)state;
  // 10 m in the hole, 6 m to the station, 4 m to the block, a knot, an end in the hand.
  checked k = counted(PLACE Z(0.9, 0.5));
  assert_near(k.c->rope_needed[0], 22.0, 1e-9);
  assert_near(k.c->rope_live[0], 20.0, 1e-9);
  assert_int_equal(k.c->pieces, 3);  // capture, carabiner, hitch
  checked_done(&k);
  // Line: 10 + 9, then 9 + 10 + 10 + 6 + 4; two knots, 0.5 m of slack, an end in the hand. The line is not live.
  k = counted(PLACE "ropes: [{name: main, length_m: 80, knots: 3}]\n" SIX(0.5, 0.9, 0.5));
  assert_near(k.c->rope_needed[0], 58.0 + 2.0 + 0.5 + 1.0 + 3.0, 1e-9);
  assert_near(k.c->rope_live[0], 39.0, 1e-9);
  assert_int_equal(k.c->pieces, 4);
  checked_done(&k);
  // Two ropes, each for itself.
  k = counted(PLACE NINE_TWO_ROPES(0.9, 0.5, 0.5, 0.5));
  assert_near(k.c->rope_needed[0], 10.0 + 6.0 + 4.0 + 1.0 + 1.0, 1e-9);  // the tail to the second block at 3 m; one knot
  assert_near(k.c->rope_needed[1], 3.0 + 3.0 + 1.0 + 1.0, 1e-9);
  checked_done(&k);
}

// The free end of the rope whose middle holds the load: its brake knots are in the first strand alone.
static void a_rope_used_at_both_ends_has_its_knots_once(void **state) {
  (void)state;
  checked k = counted(PLACE "ropes: [{name: main, length_m: 80, knots: 3}]\n"
                             RIG(PATH("main", LOAD "{tie: anchor, slack_m: 1}") ", {name: end, of: main, path: [" LOAD CAPTURE(0.9) HAND "]}", ""));
  assert_int_equal(k.rig->paths[1].rope, 0);
  assert_int_equal(fhi_path_knots(k.t.scene, k.rig, 0), 3);
  assert_int_equal(fhi_path_knots(k.t.scene, k.rig, 1), 0);
  assert_near(k.c->rope_needed[0], 10.0 + 9.0 + 2.0 + 1.0 + 3.0, 1e-9);
  assert_near(k.c->rope_needed[1], 10.0 + 6.0 + 1.0 + 1.0, 1e-9);
  assert_false(says(k.c, FH_NOTE_NO, "knots"));
  checked_done(&k);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_stroke_ends_where_something_runs_out_of_room_first),
      cmocka_unit_test(the_hauler_needs_room_behind_the_last_block),
      cmocka_unit_test(a_block_that_comes_toward_the_lip_stops_at_the_reach),
      cmocka_unit_test(a_stroke_that_just_reaches_the_lip_needs_no_more),
      cmocka_unit_test(without_room_there_is_no_stroke),
      cmocka_unit_test(a_light_pull_goes_at_a_walk),
      cmocka_unit_test(who_cannot_keep_it_up_rests_at_the_resets),
      cmocka_unit_test(an_unsure_depth_takes_less_or_more_time),
      cmocka_unit_test(a_hard_pull_goes_as_fast_as_the_crew_s_power),
      cmocka_unit_test(rope_is_counted_strand_by_strand_with_its_knots),
      cmocka_unit_test(a_rope_used_at_both_ends_has_its_knots_once),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
