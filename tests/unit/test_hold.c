// SPDX-License-Identifier: MIT
// Hands off. What holds, what each part may carry then, and what does not hold at all. All by hand: statics with the laws of
// bends as inequalities.
#include "scenes.h"
#include "state.h"

#define ROUGH HEAD GROUND ALONE "lip: {turn_deg: 90, friction: 0.2}\n"
#define LIP exp(0.1 * HALF)  // mu 0.2 round a quarter turn

static void hold_is(fh_band b, double lo, double hi, double w) {
  assert_near(b.lo, lo, 1e-9 * w);
  assert_near(b.hi, hi, 1e-9 * w);
  assert_true(b.lo <= b.likely && b.likely <= b.hi);
}

static bool holds(const fh_check *c) {
  return !isnan(c->strands[0].tension[FH_HOLD].likely);
}

static void a_capture_holds_the_weight_that_the_lip_leaves(void **state) {
  (void)state;
  checked k = checked_solved(ROUGH DIRECT(0.9));
  const fh_check *c = k.c;
  assert_true(holds(c));
  hold_is(c->strands[0].tension[FH_HOLD], k.w, k.w, k.w);
  // Friction at the lip may help or, just after the haul, hinder.
  hold_is(c->strands[1].tension[FH_HOLD], k.w / LIP, k.w * LIP, k.w);
  assert_near(c->strands[1].tension[FH_HOLD].likely, k.w, 1e-9 * k.w);  // likely: it does neither
  hold_is(c->strands[2].tension[FH_HOLD], 0.0, 0.0, k.w);
  hold_is(c->bodies[FH_BODY_STATION].force[FH_HOLD], k.w / LIP, k.w * LIP, k.w);
  hold_is(c->bodies[FH_BODY_LOAD].force[FH_HOLD], k.w, k.w, k.w);
  hold_is(c->contacts[1].force[FH_HOLD], k.w / LIP, k.w * LIP, k.w);
  for (int i = 0; i < c->note_count; i++) {  // of its forces nothing is to be warned of
    assert_true(c->notes[i].level == FH_NOTE_INFO || strncmp(c->notes[i].text, "the pull goes toward the edge", 29) == 0);
  }
  checked_done(&k);
}

static void a_hauled_block_lets_go_when_the_hands_do(void **state) {
  (void)state;
  checked k = checked_solved(PLACE Z(0.9, 0.5));
  hold_is(k.c->strands[0].tension[FH_HOLD], k.w, k.w, k.w);
  hold_is(k.c->grip_force[0][FH_HOLD], 0.0, 0.0, k.w);
  hold_is(k.c->bodies[FH_BODY_FIRST_GRIP].force[FH_HOLD], 0.0, 0.0, k.w);
  hold_is(k.c->contacts[2].force[FH_HOLD], 0.0, 0.0, k.w);
  checked_done(&k);
}

// The loop's standing side takes half; how much more or less is up to the piece at the load and both lips.
static void a_loop_shares_the_load_with_its_standing_side(void **state) {
  (void)state;
  checked k = checked_solved(PLACE SIX(0.8, 0.9, 0.5));
  const fh_check *c = k.c;
  hold_is(c->strands[2].tension[FH_HOLD], k.w * 0.8 / 1.8, k.w / 1.8, k.w);
  assert_near(c->strands[2].tension[FH_HOLD].likely, 0.5 * k.w, 1e-9 * k.w);
  hold_is(c->bodies[FH_BODY_ANCHOR].force[FH_HOLD], k.w * 0.8 / 1.8, k.w / 1.8, k.w);
  hold_is(c->strands[0].tension[FH_HOLD], 0.0, 0.0, k.w);  // the slack line stays slack
  checked_done(&k);
}

static void without_a_capture_the_load_falls(void **state) {
  (void)state;
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD TURN("station", 0.9) TURN("t", 0.5) HAND), GRIP("t", "main", 1, 2)));
  assert_false(holds(k.c));
  assert_nan(k.c->bodies[FH_BODY_STATION].force[FH_HOLD].hi);
  assert_nan(k.c->grip_force[0][FH_HOLD].hi);
  assert_nan(k.c->contacts[0].force[FH_HOLD].hi);
  assert_true(says(k.c, FH_NOTE_WARN, "no capture: when the hands let go the load falls"));
  checked_done(&k);
}

// A slack line with a capture is no help to a haul line without one: its cam looks the wrong way.
static void captures_that_do_not_hold_are_told_apart_from_none(void **state) {
  (void)state;
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD TURN("station", 0.9) HAND) ", "
                                       PATH("line", LOAD "{run: station, on: toothed-capture, reversed: true}, {tie: anchor, slack_m: 1}"), ""));
  assert_false(holds(k.c));
  assert_true(says(k.c, FH_NOTE_WARN, "when the hands let go the captures do not hold the load: it falls"));
  assert_true(says(k.c, FH_NOTE_WARN, "the capture on station is the wrong way round"));
  checked_done(&k);
  // The right way round it does hold, though the line hangs loose while hauling.
  k = checked_solved(PLACE RIG(PATH("main", LOAD TURN("station", 0.9) HAND) ", "
                               PATH("line", LOAD "{run: station, on: toothed-capture}, {tie: anchor, slack_m: 1}"), ""));
  assert_true(holds(k.c));
  hold_is(k.c->strands[3].tension[FH_HOLD], k.w, k.w, k.w);
  checked_done(&k);
}

// However rough the edge: behind the last bend there is nothing once the hand lets go.
static void a_rough_edge_alone_holds_nothing(void **state) {
  (void)state;
  checked k = checked_solved(HEAD GROUND ALONE "lip: {turn_deg: 170, friction: 2}\n" DROP_LOOP(0.9));
  assert_false(holds(k.c));
  checked_done(&k);
}

static void a_tended_hitch_holds_what_its_rope_carries(void **state) {
  (void)state;
  checked k = checked_solved(ROUGH RIG(PATH("main", LOAD TURN("station", 0.9) HAND), GRIP("station", "main", 1, 5)));
  const fh_check *c = k.c;
  assert_true(holds(c));
  hold_is(c->grip_force[0][FH_HOLD], k.w / LIP, k.w * LIP, k.w);
  hold_is(c->strands[1].tension[FH_HOLD], k.w / LIP, k.w * LIP, k.w);
  hold_is(c->strands[2].tension[FH_HOLD], 0.0, 0.0, k.w);  // between hitch and turn: nobody pulls behind
  hold_is(c->bodies[FH_BODY_STATION].force[FH_HOLD], k.w / LIP, k.w * LIP, k.w);
  hold_is(c->grip_force[0][FH_RAISE], 0.0, 0.0, k.w);  // open while raising
  checked_done(&k);
}

// Rope between a capture and a tended hitch keeps at most what it carried while raising.
static void wedged_rope_keeps_no_more_than_the_raise_left_in_it(void **state) {
  (void)state;
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD CAPTURE(0.8) HAND), GRIP("station", "main", 1, 5)));
  hold_is(k.c->strands[2].tension[FH_HOLD], 0.0, k.w, k.w);
  hold_is(k.c->grip_force[0][FH_HOLD], 0.0, k.w, k.w);
  checked_done(&k);
}

static void at_a_small_wrap_the_least_resultant_lies_between(void **state) {
  (void)state;
  // Lip turn of 30 degrees, strands W below and [W/k, W k] above: at b = a cos(wrap) the resultant is least, a sin(wrap).
  checked k = checked_solved(HEAD GROUND ALONE "lip: {turn_deg: 30, friction: 0.5}\n" DIRECT(0.9));
  const double wrap = HALF / 6.0, lip = exp(0.5 * wrap);
  assert_true(cos(wrap) > 1.0 / lip);
  hold_is(k.c->contacts[0].force[FH_HOLD], k.w * sin(wrap), fh_resultant(k.w, k.w * lip, wrap), k.w);
  checked_done(&k);
}

// What the limits are held against, asked for alone, has the bits that it has in the whole.
static void high_ends_alone_are_the_high_ends_of_the_whole(void **state) {
  (void)state;
  static const char *const SCENES[] = {
      ROUGH DIRECT(0.9),
      PLACE Z(0.9, 0.5),
      PLACE SIX(0.8, 0.9, 0.5),
      PLACE RIG(PATH("main", LOAD TURN("station", 0.9) HAND), GRIP("station", "main", 1, 5)),
      PLACE RIG(PATH("main", LOAD CAPTURE(0.8) HAND), GRIP("station", "main", 1, 5)),
      PLACE RIG(PATH("main", LOAD TURN("station", 0.9) TURN("t", 0.5) HAND), GRIP("t", "main", 1, 2)),
  };
  for (size_t i = 0; i < sizeof SCENES / sizeof SCENES[0]; i++) {
    checked k = checked_read(SCENES[i]);
    const fh_check_opts opts = {.lower = false, .ranges = true};
    fh_check *part = calloc(1, sizeof *part), *whole = calloc(1, sizeof *whole);
    fhi_check_room *room = calloc(1, sizeof *room);
    assert_status(fhi_check_fill(k.t.scene, k.t.gear, &k.t.scene->rig, &opts, room, whole), FH_OK);
    room->highs = true;
    assert_status(fhi_check_fill(k.t.scene, k.t.gear, &k.t.scene->rig, &opts, room, part), FH_OK);
    assert_int_equal(part->limit_count, whole->limit_count);
    assert_true(whole->limit_count > 0);
    assert_memory_equal(part->limits, whole->limits, (size_t)whole->limit_count * sizeof *whole->limits);
    for (int s = 0; s < whole->strand_count; s++) {
      assert_memory_equal(&part->strands[s].tension[FH_HOLD].hi, &whole->strands[s].tension[FH_HOLD].hi, sizeof(double));
    }
    assert_memory_equal(&part->bodies[FH_BODY_STATION].force[FH_HOLD].hi, &whole->bodies[FH_BODY_STATION].force[FH_HOLD].hi, sizeof(double));
    assert_memory_equal(&part->bodies[FH_BODY_ANCHOR].force[FH_HOLD].hi, &whole->bodies[FH_BODY_ANCHOR].force[FH_HOLD].hi, sizeof(double));
    assert_int_equal(part->ruled_out, whole->ruled_out);
    free(room);
    free(whole);
    free(part);
    checked_done(&k);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_capture_holds_the_weight_that_the_lip_leaves),
      cmocka_unit_test(a_hauled_block_lets_go_when_the_hands_do),
      cmocka_unit_test(a_loop_shares_the_load_with_its_standing_side),
      cmocka_unit_test(without_a_capture_the_load_falls),
      cmocka_unit_test(captures_that_do_not_hold_are_told_apart_from_none),
      cmocka_unit_test(a_rough_edge_alone_holds_nothing),
      cmocka_unit_test(a_tended_hitch_holds_what_its_rope_carries),
      cmocka_unit_test(wedged_rope_keeps_no_more_than_the_raise_left_in_it),
      cmocka_unit_test(at_a_small_wrap_the_least_resultant_lies_between),
      cmocka_unit_test(high_ends_alone_are_the_high_ends_of_the_whole),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
