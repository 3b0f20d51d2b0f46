// SPDX-License-Identifier: MIT
// States with their ranges: where the extremes stand, what is exact, what is only sampled, what friction leaves open.
#include "scenes.h"

#define WIDE(name, lo, mid, hi) \
  "{run: " name ", on: carabiner, efficiency: " #mid ", efficiency_range: [" #lo ", " #hi "]}, "

static void band_is(fh_band b, double lo, double likely, double hi) {
  const double tol = 1e-11;  // a dozen products against the equations' own rounding
  assert_close(b.lo, lo, tol);
  assert_close(b.likely, likely, tol);
  assert_close(b.hi, hi, tol);
}

static double z_of(double eb, double es) {
  return 1.0 + eb + eb * es;
}

static void the_pull_is_least_with_every_bend_at_its_best_and_most_at_its_worst(void **state) {
  (void)state;
  checked k = checked_solved("firnhaul: 1\nload: {mass_kg: [90, 110]}\nslot: {depth_m: 10}\nlip: {turn_deg: [60, 90], friction: [0.1, 0.3]}\n" GROUND ALONE
                                 RIG(PATH("main", LOAD WIDE("station", 0.8, 0.9, 0.95) WIDE("t", 0.4, 0.5, 0.6) HAND), GRIP("t", "main", 1, 2)));
  const double g = 9.80665, lo = exp(0.1 * HALF / 3.0), mid = exp(0.2 * 75.0 * HALF / 180.0), hi = exp(0.3 * HALF / 2.0);
  band_is(k.c->hand_force, 90.0 * g * lo / z_of(0.6, 0.95), 100.0 * g * mid / z_of(0.5, 0.9), 110.0 * g * hi / z_of(0.4, 0.8));
  band_is(k.c->actual_advantage, z_of(0.4, 0.8) / hi, z_of(0.5, 0.9) / mid, z_of(0.6, 0.95) / lo);
  band_is(k.c->weight, 90.0 * g, 100.0 * g, 110.0 * g);
  assert_true(k.c->interval_exact);
  checked_done(&k);
}

static void likely_values_alone_leave_no_range_but_that_of_the_weight(void **state) {
  (void)state;
  checked k = checked_read_with(PLACE RIG(PATH("main", LOAD WIDE("station", 0.8, 0.9, 0.95) HAND), ""), (fh_check_opts){.lower = false, .ranges = false});
  band_is(k.c->hand_force, k.w / 0.9, k.w / 0.9, k.w / 0.9);
  assert_nan(k.c->strands[0].tension[FH_LOWER].likely);
  assert_nan(k.c->contacts[1].force[FH_LOWER].likely);
  assert_nan(k.c->bodies[FH_BODY_STATION].force[FH_LOWER].likely);
  checked_done(&k);
}

static void bends_bear_both_strands_and_hitches_what_their_block_gets(void **state) {
  (void)state;
  checked k = checked_solved(PLACE Z(1, 1));
  const fh_check *c = k.c;
  const double third = k.w / 3.0;
  band_is(c->contacts[1].force[FH_RAISE], 2.0 * third, 2.0 * third, 2.0 * third);
  band_is(c->contacts[0].force[FH_RAISE], sqrt(2.0) * k.w, sqrt(2.0) * k.w, sqrt(2.0) * k.w);  // square round the lip
  band_is(c->bodies[FH_BODY_LOAD].force[FH_RAISE], k.w, k.w, k.w);
  band_is(c->bodies[FH_BODY_STATION].force[FH_RAISE], 2.0 * third, 2.0 * third, 2.0 * third);
  assert_exact(c->bodies[FH_BODY_ANCHOR].force[FH_RAISE].hi, 0.0);
  band_is(c->grip_force[0][FH_RAISE], 2.0 * third, 2.0 * third, 2.0 * third);
  band_is(c->bodies[FH_BODY_FIRST_GRIP].force[FH_RAISE], 2.0 * third, 2.0 * third, 2.0 * third);
  checked_done(&k);
}

static void what_lowers_is_what_raises_with_the_loss_on_the_other_side(void **state) {
  (void)state;
  checked k = checked_solved(PLACE DIRECT(0.8));
  band_is(k.c->strands[2].tension[FH_RAISE], k.w / 0.8, k.w / 0.8, k.w / 0.8);
  band_is(k.c->strands[2].tension[FH_LOWER], k.w * 0.8, k.w * 0.8, k.w * 0.8);
  band_is(k.c->bodies[FH_BODY_STATION].force[FH_LOWER], k.w * 1.8, k.w * 1.8, k.w * 1.8);
  checked_done(&k);
}

// Thirteen bends with ranges: more than are tried in every combination. The least and the greatest pull still stand, since
// the sample begins with everything at its best and everything at its worst.
static void past_twelve_open_bends_a_sample_says_so(void **state) {
  (void)state;
#define PAIR WIDE("t", 0.8, 0.9, 0.95) WIDE("station", 0.8, 0.9, 0.95)
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD WIDE("station", 0.8, 0.9, 0.95) PAIR PAIR PAIR PAIR PAIR PAIR WIDE("t", 0.8, 0.9, 0.95) HAND),
                                       GRIP("t", "main", 1, 2)));
  double sum[3] = {0.0, 0.0, 0.0};
  static const double E[] = {0.8, 0.9, 0.95};
  for (int i = 0; i < 3; i++) {
    for (int n = 0; n <= 14; n++) {
      sum[i] += pow(E[i], n);
    }
  }
  assert_near(k.c->ideal_advantage, 15.0, 1e-12);
  assert_false(k.c->interval_exact);
  assert_true(says(k.c, FH_NOTE_INFO, "fixed sample"));
  band_is(k.c->hand_force, k.w / sum[2], k.w / sum[1], k.w / sum[0]);
  checked_done(&k);
}

// ---------------------------------------------------------------------------------------------------- at an angle

static void a_pull_at_an_angle_has_its_range_and_says_that_it_is_sampled(void **state) {
  (void)state;
  checked in_line = checked_solved(PLACE RIG(PATH("main", LOAD WIDE("station", 0.8, 0.9, 0.95) WIDE("t", 0.4, 0.5, 0.6) HAND), GRIP("t", "main", 1, 2)));
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD WIDE("station", 0.8, 0.9, 0.95) WIDE("t", 0.4, 0.5, 0.6) "{hand: crew, angle_deg: 60}"),
                                       GRIP("t", "main", 1, 2)));
  assert_false(k.c->interval_exact);
  assert_true(k.c->hand_force.lo < k.c->hand_force.likely && k.c->hand_force.likely < k.c->hand_force.hi);
  assert_true(k.c->hand_force.likely > in_line.c->hand_force.likely);
  // The load still hangs on its one strand; the hitch's pull now has two directions and is less than the plain sum.
  band_is(k.c->bodies[FH_BODY_LOAD].force[FH_RAISE], k.w, k.w, k.w);
  const double t3 = k.c->strands[3].tension[FH_RAISE].likely, t4 = k.c->strands[4].tension[FH_RAISE].likely;
  assert_true(k.c->contacts[2].force[FH_RAISE].likely < t3 + t4);
  assert_true(k.c->contacts[2].force[FH_RAISE].likely > fabs(t4 - t3));
  assert_close(k.c->grip_force[0][FH_RAISE].likely, k.c->contacts[2].force[FH_RAISE].likely, 1e-9);
  checked_done(&k);
  checked_done(&in_line);
}

// ---------------------------------------------------------------------------------------------------- resting rope

#define CRADLE(run)                                                                                          \
  RIG(PATH("main", LOOSE ", " HAND) ", " PATH("loop", "{tie: t}, {edge: lip}, " run "{edge: lip}, {tie: t}"), \
      GRIP("t", "main", 0, 2))

static checked pulled_at(const char *angle) {
  char yaml[2000];
  (void)snprintf(yaml, sizeof yaml,
                 PLACE "rig: {ropes: [{name: main, path: [" LOAD WIDE("station", 0.8, 0.9, 0.95) WIDE("t", 0.4, 0.5, 0.6)
                 "{hand: crew, angle_deg: %s}]}], grips: [" GRIP("t", "main", 1, 2) "]}\n", angle);
  return checked_solved(yaml);
}

// Against the same rig at each end and in the middle of the angle's range, worked out by itself.
static void an_unsure_angle_reaches_from_one_end_to_the_other(void **state) {
  (void)state;
  checked all = pulled_at("[0, 80]");
  static const char *const ANGLES[] = {"0", "40", "80"};
  double least = 1e9, most = 0.0;
  for (int i = 0; i < 3; i++) {
    checked one = pulled_at(ANGLES[i]);
    least = fmin(least, one.c->hand_force.lo);
    most = fmax(most, one.c->hand_force.hi);
    if (i == 1) {
      assert_close(all.c->hand_force.likely, one.c->hand_force.likely, 1e-12);
    }
    checked_done(&one);
  }
  assert_close(all.c->hand_force.lo, least, 1e-9);
  assert_close(all.c->hand_force.hi, most, 1e-9);
  assert_false(all.c->interval_exact);
  checked_done(&all);
}

// The block stands aside, its rope turns by less than half a turn: less by the angle between pull and station strands.
static void a_block_drawn_aside_tells_its_own_wrap(void **state) {
  (void)state;
  checked k = pulled_at("60");
  assert_close(k.c->contacts[1].wrap, acos(-1.0), 1e-12);
  assert_true(k.c->contacts[2].wrap < acos(-1.0) * 2.0 / 3.0 && k.c->contacts[2].wrap > acos(-1.0) / 3.0);
  checked_done(&k);
}

// A loop with both ends on the block rests at the load: its forces come from programmes that know only a pull in line.
static void resting_rope_at_an_angle_says_what_is_not_worked_out(void **state) {
  (void)state;
  checked k = checked_solved(PLACE RIG(PATH("main", LOOSE ", {hand: crew, angle_deg: 30}") ", "
                                       PATH("loop", "{tie: t}, {edge: lip}, {run: load, on: carabiner, efficiency: 0.5}, {edge: lip}, {tie: t}"),
                                       GRIP("t", "main", 0, 2)));
  assert_true(says(k.c, FH_NOTE_WARN, "a pull at an angle is not worked out"));
  checked_done(&k);
}

static void resting_rope_gives_intervals(void **state) {
  (void)state;
  checked k = checked_solved(PLACE CRADLE("{run: load, on: carabiner, efficiency: 0.5}, "));
  const fh_check *c = k.c;
  assert_near(c->strands[3].tension[FH_RAISE].lo, k.w / 3.0, 1e-9 * k.w);
  assert_near(c->strands[3].tension[FH_RAISE].hi, 2.0 * k.w / 3.0, 1e-9 * k.w);
  assert_near(c->hand_force.lo, k.w, 1e-9 * k.w);
  assert_near(c->hand_force.hi, k.w, 1e-9 * k.w);
  assert_near(c->bodies[FH_BODY_LOAD].force[FH_RAISE].hi, k.w, 1e-9 * k.w);
  assert_near(c->grip_force[0][FH_RAISE].lo, k.w, 1e-9 * k.w);
  assert_true(c->contacts[1].resting && !c->contacts[0].resting);
  assert_true(c->interval_exact);  // no range was given: what friction leaves open is found exactly
  assert_near(c->strands[3].tension[FH_LOWER].hi, 2.0 * k.w / 3.0, 1e-9 * k.w);
  checked_done(&k);
  // With a range on the resting bend the wider end counts, and it is no longer called exact.
  k = checked_solved(PLACE CRADLE("{run: load, on: carabiner, efficiency: 0.5, efficiency_range: [0.4, 0.6]}, "));
  assert_near(k.c->strands[3].tension[FH_RAISE].lo, k.w * 0.4 / 1.4, 1e-9 * k.w);
  assert_near(k.c->strands[3].tension[FH_RAISE].hi, k.w / 1.4, 1e-9 * k.w);
  assert_false(k.c->interval_exact);
  checked_done(&k);
}

static void resting_rope_that_friction_cannot_hold_is_no_rig(void **state) {
  (void)state;
  // A block that pulls back on the standing side of its own loop: the part to the anchor would have to push.
  assert_no_rig(PLACE RIG(PATH("main", "{tie: anchor}, {edge: lip}, {run: load, on: carabiner, efficiency: 0.5}, {edge: lip}, " CAPTURE(0.7)
                                           "{run: t, on: carabiner, efficiency: 0.5}, " TURN("station", 0.7) HAND),
                          GRIP("t", "main", 0, 2)),
                "no tensions fit: friction cannot hold the rope where it rests");
}

// Found by chance: two blocks and a tended hitch round rope that rests; friction there bears any pull.
static void resting_rope_that_can_wedge_is_no_rig(void **state) {
  (void)state;
  assert_no_rig(HEAD ALONE "lip: {turn_deg: 61, friction: 0}\nground: {station_m: 6, anchor_m: 11, reach_m: 0.5, clearance_m: 0.3, room_m: 25}\n"
                    RIG(PATH("main", LOAD "{run: anchor, on: toothed-capture, efficiency: 0.9928713585444846}, "
                                          "{run: station, on: toothed-capture, efficiency: 0.8381340583753285}, "
                                          "{run: grip-3, on: pulley, efficiency: 0.4005318065530916}, "
                                          "{run: station, on: carabiner, efficiency: 0.5286738698379848}, "
                                          "{run: grip-4, on: pulley, efficiency: 0.7111734940099317}, "
                                          "{run: station, on: toothed-capture, efficiency: 1}, {hand: crew}"),
                        GRIP("grip-3", "main", 1, 6.122060907844764) ", " GRIP("grip-4", "main", 2, 9.574469508136703) ", "
                            GRIP("anchor", "main", 2, 7.722260878744778)),
                "the rope can wedge where it rests");
}

// Two blocks on one strand that pull against each other: at this efficiency, the root of e^3 + e^2 = 1, no pull is left.
static void a_rig_whose_gain_is_nothing_has_no_answer(void **state) {
  (void)state;
  checked k = checked_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.75487766624669276) TURN("t", 0.75487766624669276)
                                              TURN("u", 0.75487766624669276) "{hand: crew, toward: lip}"),
                                     GRIP("t", "main", 1, 2) ", " GRIP("u", "main", 1, 4)));
  assert_int_equal(k.c->outcome, FH_OUTCOME_UNRESOLVED);
  assert_string_equal(k.c->why, "the forces have no single answer");
  assert_nan(k.c->hand_force.likely);
  assert_true(k.c->answer_no);
  checked_done(&k);
}

// With a range whose bad end makes a strand push, the whole rig is refused: it cannot be relied on. Block u pulls against the
// load; from the station to the lip the strand carries: e^5 at the capture, and e^4 + e^3 more in front of t, 1 + e less in
// front of u, e + e^2 more in front of s.
static void a_rig_that_only_works_at_its_best_is_refused(void **state) {
  (void)state;
#define AGAINST(run)                                                                                                          \
  PLACE RIG(PATH("main", LOAD CAPTURE(0.95) TURN("t", 0.95) TURN("station", 0.95) TURN("s", 0.95) run "{hand: crew, toward: lip}"), \
            GRIP("s", "main", 1, 2) ", " GRIP("u", "main", 1, 3.5) ", " GRIP("t", "main", 1, 5))
  checked good = checked_solved(AGAINST("{run: u, on: carabiner, efficiency: 0.95}, "));
  const double e = 0.95;
  assert_close(good.c->actual_advantage.likely, pow(e, 5) + pow(e, 4) + pow(e, 3) - 1.0 - e + e + e * e, 1e-11);
  checked_done(&good);
  assert_no_rig(AGAINST("{run: u, on: carabiner, efficiency: 0.95, efficiency_range: [0.5, 0.97]}, "),
                "the strand from s to u would have to push");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_pull_is_least_with_every_bend_at_its_best_and_most_at_its_worst),
      cmocka_unit_test(likely_values_alone_leave_no_range_but_that_of_the_weight),
      cmocka_unit_test(bends_bear_both_strands_and_hitches_what_their_block_gets),
      cmocka_unit_test(what_lowers_is_what_raises_with_the_loss_on_the_other_side),
      cmocka_unit_test(past_twelve_open_bends_a_sample_says_so),
      cmocka_unit_test(a_pull_at_an_angle_has_its_range_and_says_that_it_is_sampled),
      cmocka_unit_test(an_unsure_angle_reaches_from_one_end_to_the_other),
      cmocka_unit_test(a_block_drawn_aside_tells_its_own_wrap),
      cmocka_unit_test(resting_rope_at_an_angle_says_what_is_not_worked_out),
      cmocka_unit_test(resting_rope_gives_intervals),
      cmocka_unit_test(resting_rope_that_friction_cannot_hold_is_no_rig),
      cmocka_unit_test(resting_rope_that_can_wedge_is_no_rig),
      cmocka_unit_test(a_rig_whose_gain_is_nothing_has_no_answer),
      cmocka_unit_test(a_rig_that_only_works_at_its_best_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
