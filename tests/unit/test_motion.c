// SPDX-License-Identifier: MIT
// Speeds and chains. Ideal advantages of the taught rigs: counting strands, as every rescue handbook does (common practice,
// no source). The other figures are worked out by hand beside their test.
#include "scenes.h"

#define F FH_BODY_FIRST_GRIP

static void the_taught_rigs_have_the_advantage_that_they_are_named_for(void **state) {
  (void)state;
  static const struct {
    const char *yaml;
    double ideal;
  } TAUGHT[] = {
      {PLACE DIRECT(0.9), 1.0},
      {PLACE DROP_LOOP(0.9), 2.0},
      {PLACE Z(0.9, 0.5), 3.0},
      {PLACE FIVE_SIMPLE(0.9, 0.5, 0.5, 0.5), 5.0},
      {PLACE FIVE_COMPLEX(0.9, 0.5, 0.5), 5.0},
      {PLACE SIX(0.5, 0.9, 0.5), 6.0},
      {PLACE NINE(0.9, 0.5, 0.5, 0.5), 9.0},
      {PLACE NINE_TWO_ROPES(0.9, 0.5, 0.5, 0.5), 9.0},
      {PLACE EIGHTEEN(0.5, 0.9, 0.5, 0.5, 0.5), 18.0},
  };
  for (size_t i = 0; i < sizeof TAUGHT / sizeof TAUGHT[0]; i++) {
    rigged *r = rigged_read(TAUGHT[i].yaml);
    assert_int_equal(r->motion.outcome, FH_OUTCOME_SOLVED);
    assert_near(r->motion.hand, TAUGHT[i].ideal, 1e-12);
    rigged_done(r);
  }
}

static void in_a_z_the_block_goes_with_the_rope_and_the_hand_three_times_as_far(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE Z(0.9, 0.5));
  assert_exact(r->motion.body[FH_BODY_LOAD], 1.0);
  assert_exact(r->motion.body[FH_BODY_STATION], 0.0);
  assert_near(r->motion.body[F], 1.0, 1e-12);
  assert_near(r->motion.rate[0], 1.0, 1e-12);  // lip: as fast as the load
  assert_near(r->motion.rate[1], 1.0, 1e-12);  // capture: what the block brings
  assert_near(r->motion.rate[2], 2.0, 1e-12);  // block: rope comes in from the station as well
  rigged_done(r);
}

// Seen from the rope, doubling the load's speed and turning the rig round are the same equations: the second block of the
// nine to one runs three times as fast as the first.
static void the_second_block_runs_three_times_as_fast(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE NINE(0.9, 0.5, 0.5, 0.5));
  assert_near(r->motion.body[F], 1.0, 1e-12);
  assert_near(r->motion.body[F + 1], 3.0, 1e-12);
  rigged_done(r);
}

static void a_loop_halves_every_speed_behind_it(void **state) {
  (void)state;
  rigged *one = rigged_read(PLACE NINE(0.9, 0.5, 0.5, 0.5)), *two = rigged_read(PLACE EIGHTEEN(0.5, 0.9, 0.5, 0.5, 0.5));
  for (int b = F; b < F + 2; b++) {
    assert_near(two->motion.body[b], 2.0 * one->motion.body[b], 1e-12);
  }
  rigged_done(one);
  rigged_done(two);
}

// ---------------------------------------------------------------------------------------------------- refusals

#define TWO(first, second, grips) RIG(first ", " second, grips)

static void a_taut_line_beside_the_haul_locks_it(void **state) {
  (void)state;
  assert_no_rig(PLACE TWO(PATH("main", LOAD CAPTURE(0.9) HAND), PATH("line", LOAD "{tie: anchor}"), ""),
                "locked: load to lip, lip to anchor fight each other");
}

static void a_strand_that_cannot_move_is_named_alone(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE TWO(PATH("main", LOAD CAPTURE(0.9) HAND), PATH("line", LOAD "{tie: anchor}"), ""));
  fh_station *lip = &r->t.scene->rig.stations[5];
  assert_int_equal(lip->kind, FH_EDGE);
  lip->kind = FH_TIE;  // tied off at once: no reader lets that pass
  lip->body = FH_BODY_STATION;
  rigged_compile(r);
  assert_int_equal(r->motion.outcome, FH_OUTCOME_INFEASIBLE);
  assert_string_equal(r->motion.why, "locked: load to station cannot move");
  rigged_done(r);
}

static void of_many_strands_that_fight_a_few_are_named(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE TWO(PATH("main", LOAD CAPTURE(0.9) HAND),
                                    PATH("line", LOAD TURN("anchor", 0.5) TURN("station", 0.5) TURN("anchor", 0.5) TURN("station", 0.5)
                                             TURN("anchor", 0.5) TURN("station", 0.5) TURN("anchor", 0.5) "{tie: station}"), ""));
  assert_int_equal(r->motion.outcome, FH_OUTCOME_INFEASIBLE);
  assert_non_null(strstr(r->motion.why, "locked: "));
  assert_non_null(strstr(r->motion.why, " fight each other"));
  assert_in_range(strlen(r->motion.why), 60, sizeof r->motion.why - 1);
  rigged_done(r);
}

static void a_block_that_hangs_on_loose_rope_dangles(void **state) {
  (void)state;
  assert_no_rig(PLACE TWO(PATH("main", LOAD CAPTURE(0.9) LOOSE),
                          PATH("haul", "{tie: station}, " TURN("u", 0.5) HAND) ", " PATH("sling", LOOSE ", " TURN("anchor", 0.5) LOOSE),
                          GRIP("u", "sling", 1, 3)),
                "u dangles: it can move without the load moving");
}

static void a_capture_the_wrong_way_round_locks(void **state) {
  (void)state;
  assert_no_rig(PLACE RIG(PATH("main", LOAD "{run: station, on: toothed-capture, efficiency: 0.9, reversed: true}, " TURN("t", 0.5) HAND),
                          GRIP("t", "main", 1, 2)),
                "locked: the capture on station is the wrong way round");
}

// The tail runs through the station to a hitch behind it: hauling the block there toward the lip lets the load down.
static void a_block_pulled_the_wrong_way_lets_the_load_down(void **state) {
  (void)state;
#define BEHIND(hand) \
  PLACE TWO(PATH("main", LOAD TURN("station", 0.9) LOOSE), PATH("haul", "{tie: station}, " TURN("u", 0.5) hand), GRIP("u", "main", 2, 8))
  assert_no_rig(BEHIND("{hand: crew, toward: lip}"), "pulling lets the load down");
  assert_no_rig(BEHIND("{hand: crew, toward: back}"), "the hand does not move while the load rises");
}

// ---------------------------------------------------------------------------------------------------- chains

static void a_z_is_two_chains_one_for_each_free_body(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE Z(0.9, 0.5));
  static const int CHAIN[] = {0, 0, 1, 1, 1};
  for (int s = 0; s < 5; s++) {
    assert_int_equal(r->motion.chain[s], CHAIN[s]);
    assert_int_equal(r->motion.dead_by[s], -1);
  }
  assert_int_equal(r->motion.chains, 2);
  assert_false(r->motion.coupled);
  rigged_done(r);
}

static void the_standing_side_of_a_loop_is_dead_and_bounded_by_its_lip(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", "{tie: anchor}, " TURN("station", 0.5) "{edge: lip}, {run: load, on: carabiner}, {edge: lip}, " HAND), ""));
  assert_int_equal(r->motion.dead_by[0], 0);  // anchor to station: the turn there
  assert_int_equal(r->motion.dead_by[1], 1);  // station to lip: the lip
  assert_int_equal(r->motion.chain[0], -1);
  assert_int_equal(r->motion.chain[1], -1);
  assert_int_equal(r->motion.chain[2], 0);
  assert_int_equal(r->motion.chain[4], 0);
  assert_int_equal(r->motion.chains, 1);
  assert_false(r->motion.coupled);
  assert_exact(r->motion.rate[1], 0.0);
  rigged_done(r);
}

#define CRADLE(e)                                                                                                           \
  RIG(PATH("main", LOOSE ", " HAND) ", "                                                                                    \
      PATH("loop", "{tie: t}, {edge: lip}, {run: load, on: carabiner, efficiency: " #e "}, {edge: lip}, {tie: t}"),         \
      GRIP("t", "main", 0, 2))

// A loop with both ends on the block: rope rests at the load, and either side may carry more.
static void rope_that_rests_between_two_live_sides_is_coupled(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE CRADLE(0.5));
  assert_int_equal(r->motion.outcome, FH_OUTCOME_SOLVED);
  assert_near(r->motion.hand, 1.0, 1e-12);
  assert_true(r->motion.coupled);
  rigged_done(r);
}

// A dead strand that two live neighbours bound from both sides.
static void dead_rope_held_from_both_sides_is_coupled(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOOSE ", " HAND) ", "
                                    PATH("loop", "{tie: t}, {edge: lip}, {run: load, on: carabiner}, {edge: lip}, {run: station, on: carabiner}, "
                                                 "{edge: lip}, {run: load, on: carabiner}, {edge: lip}, {tie: t}"),
                                    GRIP("t", "main", 0, 2)));
  assert_int_equal(r->motion.outcome, FH_OUTCOME_SOLVED);
  assert_true(r->motion.coupled);
  rigged_done(r);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_taught_rigs_have_the_advantage_that_they_are_named_for),
      cmocka_unit_test(in_a_z_the_block_goes_with_the_rope_and_the_hand_three_times_as_far),
      cmocka_unit_test(the_second_block_runs_three_times_as_fast),
      cmocka_unit_test(a_loop_halves_every_speed_behind_it),
      cmocka_unit_test(a_taut_line_beside_the_haul_locks_it),
      cmocka_unit_test(a_strand_that_cannot_move_is_named_alone),
      cmocka_unit_test(of_many_strands_that_fight_a_few_are_named),
      cmocka_unit_test(a_block_that_hangs_on_loose_rope_dangles),
      cmocka_unit_test(a_capture_the_wrong_way_round_locks),
      cmocka_unit_test(a_block_pulled_the_wrong_way_lets_the_load_down),
      cmocka_unit_test(a_z_is_two_chains_one_for_each_free_body),
      cmocka_unit_test(the_standing_side_of_a_loop_is_dead_and_bounded_by_its_lip),
      cmocka_unit_test(rope_that_rests_between_two_live_sides_is_coupled),
      cmocka_unit_test(dead_rope_held_from_both_sides_is_coupled),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
