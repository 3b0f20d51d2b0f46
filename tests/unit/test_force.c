// SPDX-License-Identifier: MIT
// Tensions while the rope runs, and what friction may hide where it rests. The polynomials are the method of tensions: from
// the hand back to the load, a bend of efficiency e leaves e of the pull, a block passes on the sum of its two strands.
#include "scenes.h"

static fh_outcome solve(const rigged *r, int sense, int dead, double *tension, double *residual) {
  fhi_shape shape;
  fhi_shape_in_line(&r->model, &shape);
  return fhi_force_solve(&r->model, &r->motion, sense, r->factors.likely, &shape, dead, tension, residual);
}

// Weight over hand force.
static double advantage(const char *yaml, int sense) {
  rigged *r = rigged_read(yaml);
  double t[FH_MAX_STRANDS], residual;
  assert_int_equal(r->motion.outcome, FH_OUTCOME_SOLVED);
  assert_int_equal(solve(r, sense, 0, t, &residual), FH_OUTCOME_SOLVED);
  assert_within(residual, 0.0, 1e-12);
  double a = 1.0 / t[r->model.hand_strand];
  rigged_done(r);
  return a;
}

#define ES 0.9
#define E1 0.5
#define E2 0.6
#define E3 0.7
#define EL 0.8

static void raising_follows_the_method_of_tensions(void **state) {
  (void)state;
  const double z = 1.0 + E1 + E1 * ES, pair = 1.0 + E3 + E2 * E3;
  const double tol = 1e-13;  // a dozen products and one division
  assert_close(advantage(PLACE DIRECT(0.9), 1), 0.9, tol);
  assert_close(advantage(PLACE DROP_LOOP(0.8), 1), 1.0 + EL, tol);
  assert_close(advantage(PLACE Z(0.9, 0.5), 1), z, tol);
  assert_close(advantage(PLACE FIVE_SIMPLE(0.9, 0.5, 0.6, 0.7), 1), pair + E1 * E2 * E3 * (1.0 + ES), tol);
  assert_close(advantage(PLACE FIVE_COMPLEX(0.9, 0.6, 0.5), 1), (1.0 + E2) * (1.0 + E1) + ES * E2, tol);
  assert_close(advantage(PLACE SIX(0.8, 0.9, 0.5), 1), (1.0 + EL) * z, tol);
  assert_close(advantage(PLACE NINE(0.9, 0.5, 0.6, 0.7), 1), z * pair, tol);
  assert_close(advantage(PLACE NINE_TWO_ROPES(0.9, 0.5, 0.6, 0.7), 1), z * pair, tol);
  assert_close(advantage(PLACE EIGHTEEN(0.8, 0.9, 0.5, 0.6, 0.7), 1), (1.0 + EL) * z * pair, tol);
}

static void lowering_turns_every_bend_round(void **state) {
  (void)state;
  assert_close(advantage(PLACE DIRECT(0.9), -1), 1.0 / ES, 1e-13);
  assert_close(advantage(PLACE Z(0.9, 0.5), -1), 1.0 + 1.0 / E1 + 1.0 / (E1 * ES), 1e-13);
  assert_close(advantage(PLACE DROP_LOOP(0.8), -1), 1.0 + 1.0 / EL, 1e-13);
}

// Belt friction: the rope comes over the lip with exp(mu turn) times less than it is pulled with (Euler's formula).
static void the_lip_takes_its_share_of_every_rig(void **state) {
  (void)state;
#define ROUGH HEAD GROUND ALONE "lip: {turn_deg: 80, friction: 0.2}\n"
  const double k = exp(0.2 * 80.0 * HALF / 180.0);
  assert_close(advantage(ROUGH Z(0.9, 0.5), 1), (1.0 + E1 + E1 * ES) / k, 1e-13);
  assert_close(advantage(ROUGH Z(0.9, 0.5), -1), (1.0 + 1.0 / E1 + 1.0 / (E1 * ES)) * k, 1e-13);
  assert_close(advantage(ROUGH SIX(0.8, 0.9, 0.5), 1), (1.0 + EL) * (1.0 + E1 + E1 * ES) / k, 1e-13);
}

static void without_friction_work_in_is_work_out(void **state) {
  (void)state;
  static const char *const RIGS[] = {PLACE Z(1, 1), PLACE FIVE_COMPLEX(1, 1, 1), PLACE SIX(1, 1, 1), PLACE EIGHTEEN(1, 1, 1, 1, 1)};
  for (size_t i = 0; i < sizeof RIGS / sizeof RIGS[0]; i++) {
    rigged *r = rigged_read(RIGS[i]);
    double ideal = r->motion.hand;
    rigged_done(r);
    assert_close(advantage(RIGS[i], 1), ideal, 1e-13);
    assert_close(advantage(RIGS[i], -1), ideal, 1e-13);
  }
}

static void slack_rope_carries_nothing(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE SIX(0.8, 0.9, 0.5));
  double t[FH_MAX_STRANDS], residual;
  assert_int_equal(solve(r, 1, 0, t, &residual), FH_OUTCOME_SOLVED);
  assert_exact(t[0], 0.0);
  assert_exact(t[1], 0.0);
  assert_true(t[2] > 0.0);
  rigged_done(r);
}

// The standing side of a loop over a rough lip: as much as at the load, or up to the lip's ratio less or more.
static void dead_rope_carries_what_its_resting_bend_can_hide(void **state) {
  (void)state;
  rigged *r = rigged_read(ROUGH DROP_LOOP(0.8));
  const double k = exp(0.2 * 80.0 * HALF / 180.0), below = EL / (1.0 + EL);  // of the weight, at the load
  static const int DEAD[] = {-1, 0, 1};
  for (int i = 0; i < 3; i++) {
    double t[FH_MAX_STRANDS], residual;
    assert_int_equal(solve(r, 1, DEAD[i], t, &residual), FH_OUTCOME_SOLVED);
    assert_close(t[1], below, 1e-13);
    assert_close(t[0], DEAD[i] < 0 ? below / k : DEAD[i] > 0 ? below * k : below, 1e-13);
    assert_within(residual, 0.0, 1e-12);
  }
  rigged_done(r);
}

static void a_wrong_tension_shows_in_the_residual(void **state) {
  (void)state;
  rigged *r = rigged_read(ROUGH Z(0.9, 0.5));
  double t[FH_MAX_STRANDS], residual;
  fhi_shape shape;
  fhi_shape_in_line(&r->model, &shape);
  assert_int_equal(solve(r, 1, 0, t, &residual), FH_OUTCOME_SOLVED);
  for (int s = 0; s < r->model.strand_count; s++) {
    double right = t[s];
    t[s] += 0.001;
    double wrong = fhi_force_residual(&r->model, &r->motion, 1, r->factors.likely, &shape, t);
    assert_within(wrong, 0.0009, 0.01);
    t[s] = (double)NAN;
    assert_nan(fhi_force_residual(&r->model, &r->motion, 1, r->factors.likely, &shape, t));
    t[s] = right;
  }
  // A resting bend allows an interval and no more.
  rigged *loop = rigged_read(ROUGH DROP_LOOP(0.8));
  fhi_shape_in_line(&loop->model, &shape);
  assert_int_equal(solve(loop, 1, 1, t, &residual), FH_OUTCOME_SOLVED);
  t[0] += 0.001;
  assert_near(fhi_force_residual(&loop->model, &loop->motion, 1, loop->factors.likely, &shape, t), 0.001, 1e-12);
  t[0] = 0.0;
  assert_true(fhi_force_residual(&loop->model, &loop->motion, 1, loop->factors.likely, &shape, t) > 0.1);
  rigged_done(loop);
  rigged_done(r);
}

// A second block that pulls back on the strand in front of the first: without friction it gives the hand's pull twice over, the
// strand to the first block needs it once, so the strand from the station would have to push with the rest.
static void a_strand_that_would_have_to_push_is_no_answer(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(1) TURN("t", 1) TURN("station", 1) TURN("u", 1) HAND),
                                    GRIP("t", "main", 1, 2) ", " GRIP("u", "main", 2, 4)));
  double t[FH_MAX_STRANDS], residual;
  assert_int_equal(r->motion.outcome, FH_OUTCOME_SOLVED);
  assert_int_equal(solve(r, 1, 0, t, &residual), FH_OUTCOME_INFEASIBLE);
  assert_within(residual, 0.0, 1e-12);  // it does satisfy the equations: that is why they alone are not enough
  assert_near(t[3], -t[r->model.hand_strand], 1e-12);
  rigged_done(r);
  assert_no_rig(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("t", 0.9) TURN("station", 0.9) TURN("u", 0.9) HAND),
                          GRIP("t", "main", 1, 2) ", " GRIP("u", "main", 2, 4)),
                "the strand from t to station would have to push: it goes slack");
}

static void coupled_tensions_are_left_to_the_programmes(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE Z(0.9, 0.5));
  double t[FH_MAX_STRANDS], residual;
  r->motion.coupled = true;
  assert_int_equal(solve(r, 1, 0, t, &residual), FH_OUTCOME_UNRESOLVED);
  assert_nan(residual);
  assert_nan(t[0]);
  rigged_done(r);
}

// ---------------------------------------------------------------------------------------------------- rest

static fhi_form strand(int s) {
  fhi_form form;
  memset(&form, 0, sizeof form);
  form.of[s] = 1.0;
  return form;
}

static void extremes_are(fhi_rest *rest, const fhi_form *form, double lo, double hi) {
  double least = -1.0, most = -1.0;
  assert_true(fhi_rest_extremes(rest, form, &least, &most));
  assert_near(least, lo, 1e-9);
  if (isinf(hi)) {
    assert_true(isinf(most) && most > 0.0);
  } else {
    assert_near(most, hi, 1e-9);
  }
}

#define CRADLE                                                                                                      \
  RIG(PATH("main", LOOSE ", " HAND) ", "                                                                            \
      PATH("loop", "{tie: t}, {edge: lip}, {run: load, on: carabiner, efficiency: 0.5}, {edge: lip}, {tie: t}"),    \
      GRIP("t", "main", 0, 2))

// Both ends of a loop on one block: the sides share the weight as friction at the load likes, between 1 : 2 and 2 : 1; their
// sum is the hand's pull.
static void two_sides_of_a_resting_loop_share_as_friction_likes(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE CRADLE);
  fhi_rest *rest = fhi_rest_create(&r->model, &r->motion);
  assert_non_null(rest);
  fhi_rest_begin(rest, 1, r->factors.likely);
  fhi_form left = strand(2), hand = strand(r->model.hand_strand), both = strand(2);
  both.of[5] = 1.0;
  extremes_are(rest, &left, 1.0 / 3.0, 2.0 / 3.0);
  extremes_are(rest, &hand, 1.0, 1.0);
  extremes_are(rest, &both, 1.0, 1.0);
  double t[FH_MAX_STRANDS], residual;
  assert_true(fhi_rest_largest(rest, &left, t, &residual));
  assert_near(t[2], 2.0 / 3.0, 1e-9);
  assert_near(t[5], 1.0 / 3.0, 1e-9);
  assert_within(residual, 0.0, 1e-9);
  fhi_rest_cap(rest, 2, 0.6);  // from now on at most so much
  extremes_are(rest, &left, 1.0 / 3.0, 0.6);
  fhi_rest_cap(rest, 0, 0.5);  // slack: nothing to cap
  extremes_are(rest, &left, 1.0 / 3.0, 0.6);
  fhi_rest_destroy(rest);
  rigged_done(r);
}

// Hands off a Z: the capture holds the strand in front of it, and the block's own strands hang loose or keep what the bends hide.
static void a_capture_holds_what_hangs_in_front_of_it(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE Z(0.9, 0.5));
  fhi_rest *rest = fhi_rest_create(&r->model, &r->motion);
  fhi_rest_begin(rest, 0, r->factors.likely);
  fhi_form below = strand(0), behind = strand(3), hand = strand(4);
  extremes_are(rest, &below, 1.0, 1.0);
  extremes_are(rest, &hand, 0.0, 0.0);  // nobody holds it
  extremes_are(rest, &behind, 0.0, 0.0);  // at the block the rope would run: friction holds nothing against nothing
  fhi_rest_destroy(rest);
  rigged_done(r);
}

static void without_a_capture_no_tensions_fit(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD TURN("station", 0.9) TURN("t", 0.5) HAND), GRIP("t", "main", 1, 2)));
  fhi_rest *rest = fhi_rest_create(&r->model, &r->motion);
  double lo, hi, t[FH_MAX_STRANDS], residual;
  fhi_form any = strand(0);
  fhi_rest_begin(rest, 0, r->factors.likely);
  assert_false(fhi_rest_extremes(rest, &any, &lo, &hi));
  assert_false(fhi_rest_largest(rest, &any, t, &residual));
  fhi_rest_destroy(rest);
  fhi_rest_destroy(NULL);
  rigged_done(r);
}

// A capture and a tended hitch with rope between them: nothing bounds what is wedged there.
static void rope_between_two_holds_has_no_bound(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) HAND), GRIP("station", "main", 1, 5)));
  fhi_rest *rest = fhi_rest_create(&r->model, &r->motion);
  fhi_form between = strand(2);
  double t[FH_MAX_STRANDS], residual;
  fhi_rest_begin(rest, 0, r->factors.likely);
  extremes_are(rest, &between, 0.0, (double)INFINITY);
  assert_false(fhi_rest_largest(rest, &between, t, &residual));
  fhi_rest_cap(rest, 2, 1.0);
  extremes_are(rest, &between, 0.0, 1.0);
  fhi_rest_destroy(rest);
  rigged_done(r);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(raising_follows_the_method_of_tensions),
      cmocka_unit_test(lowering_turns_every_bend_round),
      cmocka_unit_test(the_lip_takes_its_share_of_every_rig),
      cmocka_unit_test(without_friction_work_in_is_work_out),
      cmocka_unit_test(slack_rope_carries_nothing),
      cmocka_unit_test(dead_rope_carries_what_its_resting_bend_can_hide),
      cmocka_unit_test(a_wrong_tension_shows_in_the_residual),
      cmocka_unit_test(a_strand_that_would_have_to_push_is_no_answer),
      cmocka_unit_test(coupled_tensions_are_left_to_the_programmes),
      cmocka_unit_test(two_sides_of_a_resting_loop_share_as_friction_likes),
      cmocka_unit_test(a_capture_holds_what_hangs_in_front_of_it),
      cmocka_unit_test(without_a_capture_no_tensions_fit),
      cmocka_unit_test(rope_between_two_holds_has_no_bound),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
