// SPDX-License-Identifier: MIT
// The pull at an angle. Oracles: the balance of the block in plan, solved here in another way (a closed form without friction,
// halving with it), and what must hold for every rig.
#include "scenes.h"

#include "../refs/common/rng.c"

#include "../refs/common/build.c"
#include "../refs/common/random_rig.c"

#define F FH_BODY_FIRST_GRIP

static double rad(double degrees) {
  return degrees * HALF / 180.0;
}

static void view(const rigged *r, double angle, fhi_plan_view *v) {
  double eta[FHI_MAX_CONTACTS], share[FHI_MAX_CONTACTS];
  for (int c = 0; c < r->model.contact_count; c++) {
    eta[c] = r->model.contacts[c].eta.likely;
    share[c] = r->model.contacts[c].share.likely;
  }
  fhi_plan_view_solve(&r->model, &r->motion, r->factors.likely, eta, share, angle, v);
}

static double advantage(const rigged *r, double angle) {
  fhi_plan_view v;
  view(r, angle, &v);
  assert_int_equal(v.outcome, FH_OUTCOME_SOLVED);
  return 1.0 / v.tension[r->model.hand_strand];
}

// The block of a Z stands at (2, y), lip at 0, station at (6, 0), the hand square to the line. Without friction:
//   along: W 2 / d1 = 2 H 4 / d2;  across: W y / d1 + 2 H y / d2 = H;  so d2 = 6 y, y^2 = 16 / 35, W / H = sqrt(156) / 6.
static void a_frictionless_z_pulled_square_has_a_closed_form(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE Z(1, 1));
  fhi_plan_view v;
  view(r, rad(90.0), &v);
  assert_int_equal(v.outcome, FH_OUTCOME_SOLVED);
  assert_near(v.offset[F], sqrt(16.0 / 35.0), 1e-9);
  assert_near(1.0 / v.tension[r->model.hand_strand], sqrt(156.0) / 6.0, 1e-9);
  // Wrap: half a turn less the angle between the strand to the station and the hand's.
  double y = sqrt(16.0 / 35.0);
  assert_near(v.wrap[2], HALF - (HALF / 2.0 + atan2(y, 4.0)), 1e-9);
  assert_exact(v.wrap[1], HALF);  // at the station the two strands go to the same block
  assert_near(v.wrap[0], HALF / 2.0, 1e-12);  // the lip's turn is its own
  rigged_done(r);
}

// A Z over bars of efficiency es (station) and eb (block), bending share 0: the same balance with friction. For an offset y the
// balance along gives the pull, then the balance across is halved to nothing.
static double z_pull(double es, double eb, double angle, double *offset) {
  double lo = 0.0, hi = 30.0, pull = 0.0;
  for (int i = 0; i < 200; i++) {
    double y = 0.5 * (lo + hi), d1 = sqrt(4.0 + y * y), d2 = sqrt(16.0 + y * y);
    double between = acos((4.0 * cos(angle) - y * sin(angle)) / d2);
    double left = pow(eb, (HALF - between) / HALF), two = left + left * es;  // over the hand's pull
    pull = 2.0 / d1 / (two * 4.0 / d2 + cos(angle));
    double across = -y / d1 - pull * two * y / d2 + pull * sin(angle);
    *(across > 0.0 ? &lo : &hi) = y;
  }
  *offset = lo;
  return pull;
}

static void with_friction_the_balance_is_the_same_as_by_halving(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD TURN("station", 0.6) TURN("t", 0.5) HAND), GRIP("t", "main", 1, 2)));
  for (int degrees = 0; degrees <= 100; degrees += 5) {
    fhi_plan_view v;
    double y = 0.0, pull = z_pull(0.6, 0.5, rad(degrees), &y);
    view(r, rad(degrees), &v);
    assert_int_equal(v.outcome, FH_OUTCOME_SOLVED);
    assert_near(v.offset[F], y, 1e-8);
    assert_near(v.tension[r->model.hand_strand], pull, 1e-9);
  }
  rigged_done(r);
}

// Belt friction at a karabiner: the wrap shrinks with the angle, so a small one costs almost nothing; without friction it costs more.
static void at_a_bar_a_small_angle_costs_almost_nothing(void **state) {
  (void)state;
  rigged *bar = rigged_read(PLACE Z(0.9, 0.5)), *smooth = rigged_read(PLACE Z(1, 1));
  double bar_cost = 1.0 - advantage(bar, rad(10.0)) / advantage(bar, 0.0);
  double smooth_cost = 1.0 - advantage(smooth, rad(10.0)) / advantage(smooth, 0.0);
  assert_within(bar_cost, -0.02, 0.002);
  assert_within(smooth_cost, 0.0, 0.02);
  assert_true(bar_cost < smooth_cost);
  rigged_done(bar);
  rigged_done(smooth);
}

static void a_bending_share_takes_some_of_it_back(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD TURN("station", 0.6) TURN("t", 0.5) HAND), GRIP("t", "main", 1, 2)));
  double before = advantage(r, rad(45.0)), in_line = advantage(r, 0.0);
  r->model.contacts[2].share = fh_number_exact(0.45);
  assert_true(advantage(r, rad(45.0)) < before);
  assert_near(advantage(r, 0.0), in_line, 1e-12);  // efficiency is stated at half a turn: there the share does not matter
  rigged_done(r);
}

static void at_a_fixed_turn_only_the_wrap_changes(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD TURN("station", 0.5) HAND), ""));
  for (int degrees = 0; degrees <= 100; degrees += 20) {
    assert_close(advantage(r, rad(degrees)), pow(0.5, 1.0 - degrees / 180.0), 1e-12);
  }
  rigged_done(r);
}

static void behind_the_lip_the_angle_does_not_matter(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE DROP_LOOP(0.5));
  assert_close(advantage(r, rad(60.0)), 1.5, 1e-12);
  rigged_done(r);
}

static const char *const RIGS[] = {
    PLACE Z(0.9, 0.5),          PLACE FIVE_SIMPLE(0.9, 0.5, 0.6, 0.7), PLACE FIVE_COMPLEX(0.9, 0.5, 0.6), PLACE SIX(0.5, 0.9, 0.5),
    PLACE NINE(0.9, 0.5, 0.6, 0.7), PLACE NINE_TWO_ROPES(0.9, 0.5, 0.6, 0.7), PLACE EIGHTEEN(0.8, 0.9, 0.5, 0.6, 0.7),
};
enum { RIG_COUNT = sizeof RIGS / sizeof RIGS[0] };

static void in_line_it_is_the_rig_in_line(void **state) {
  (void)state;
  for (int i = 0; i < RIG_COUNT; i++) {
    rigged *r = rigged_read(RIGS[i]);
    fhi_plan_view v;
    fhi_shape shape;
    double t[FH_MAX_STRANDS], residual;
    fhi_shape_in_line(&r->model, &shape);
    assert_int_equal(fhi_force_solve(&r->model, &r->motion, 1, r->factors.likely, &shape, 0, t, &residual), FH_OUTCOME_SOLVED);
    view(r, 0.0, &v);
    for (int s = 0; s < r->model.strand_count; s++) {
      assert_near(v.tension[s], t[s], 1e-12);
    }
    // Nothing jumps at 0: a bend of 0.5 gives back at most ln 2 / pi of its pull a radian.
    assert_close(advantage(r, 1e-6), 1.0 / t[r->model.hand_strand], 1e-6);
    rigged_done(r);
  }
}

static void left_and_right_mirror_each_other(void **state) {
  (void)state;
  for (int i = 0; i < RIG_COUNT; i++) {
    rigged *r = rigged_read(RIGS[i]);
    fhi_plan_view left, right;
    view(r, rad(35.0), &left);
    view(r, rad(-35.0), &right);
    for (int s = 0; s < r->model.strand_count; s++) {
      assert_near(left.tension[s], right.tension[s], 1e-11);
    }
    for (int b = F; b < r->model.body_count; b++) {
      assert_near(left.offset[b], -right.offset[b], 1e-9);
    }
    rigged_done(r);
  }
}

// Every free body in balance along and across, strand by strand, from where the bodies stand.
static void every_block_is_in_balance_both_ways(void **state) {
  (void)state;
  int solved = 0;
  for (int i = 0; i < RIG_COUNT; i++) {
    rigged *r = rigged_read(RIGS[i]);
    const fhi_model *m = &r->model;
    for (int degrees = 10; degrees <= 60; degrees += 10) {
      fhi_plan_view v;
      view(r, rad(degrees), &v);
      if (v.outcome != FH_OUTCOME_SOLVED) {
        continue;
      }
      solved++;
      assert_within(v.residual, 0.0, 1e-9);
      for (int b = F; b < m->body_count; b++) {
        double x = 0.0, y = 0.0;
        for (int s = 0; s < m->strand_count; s++) {
          for (int e = 0; e < 2; e++) {
            const fhi_end *here = &m->strands[s].end[e], *there = &m->strands[s].end[1 - e];
            if (here->body != b) {
              continue;
            }
            double dx = m->hand_dir * cos(rad(degrees)), dy = sin(rad(degrees));
            if (there->kind != FHI_END_HAND) {
              dx = there->s - here->s;
              dy = (there->body >= F ? v.offset[there->body] : 0.0) - v.offset[b];
            }
            double d = sqrt(dx * dx + dy * dy);
            x += v.tension[s] * dx / d;
            y += v.tension[s] * dy / d;
          }
        }
        assert_near(x, 0.0, 1e-9);
        assert_near(y, 0.0, 1e-9);
      }
    }
    rigged_done(r);
  }
  assert_true(solved >= 6 * RIG_COUNT - 6);  // nearly all of them do have a balance
}

// Rigs that nobody would build find their balance too: all but a few in a hundred, in whatever shape. Some have none, when a
// strand would have to push at that angle; such are told apart from those that were given up.
static void random_rigs_find_their_balance(void **state) {
  (void)state;
  fh_gear *gear = NULL;
  ref_items items;
  ref_wish wish = ref_wish_default();
  int asked = 0, solved = 0, given_up = 0;
  wish.spoil = wish.tended = 0.0;
  assert_status(fh_gear_create(&gear), FH_OK);
  assert_true(ref_items_find(gear, &items));
  for (uint64_t seed = 1; seed <= 400; seed++) {
    static const double ANGLES[] = {0.0, 0.2, 0.8};
    fh_angle_point p[3];
    fh_scene *s = ref_random_make(seed, &items, &wish);
    assert_non_null(s);
    assert_status(fh_angle_curve(s, gear, &s->rig, ANGLES, 3, p), FH_OK);
    for (int i = 1; i < 3 && p[0].outcome == FH_OUTCOME_SOLVED; i++) {
      asked++;
      solved += p[i].outcome == FH_OUTCOME_SOLVED;
      given_up += p[i].outcome == FH_OUTCOME_UNRESOLVED;
      assert_true(p[i].outcome != FH_OUTCOME_SOLVED || p[i].residual <= 1e-9);
      assert_int_equal(p[i].outcome == FH_OUTCOME_SOLVED, !isnan(p[i].advantage.likely));
    }
    free(s);
  }
  assert_true(asked > 400);
  assert_true(solved * 100 > asked * 95);
  assert_true(given_up * 100 < asked * 2);
  fh_gear_destroy(gear);
}

// ---------------------------------------------------------------------------------------------------- the curve

static void a_curve_holds_its_range_and_starts_at_the_rig_in_line(void **state) {
  (void)state;
  double angles[11];
  fh_angle_point p[11];
  for (int i = 0; i < 11; i++) {
    angles[i] = rad(10.0 * i);
  }
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) "{run: t, on: carabiner, efficiency: 0.5, efficiency_range: [0.4, 0.6]}, " HAND),
                                       GRIP("t", "main", 1, 2)));
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, angles, 11, p), FH_OK);
  assert_close(p[0].advantage.likely, k.c->actual_advantage.likely, 1e-9);
  assert_close(p[0].advantage.lo, k.c->actual_advantage.lo, 1e-9);
  assert_close(p[0].advantage.hi, k.c->actual_advantage.hi, 1e-9);
  assert_exact(p[0].offset.likely, 0.0);
  for (int i = 0; i < 11; i++) {
    assert_int_equal(p[i].outcome, FH_OUTCOME_SOLVED);
    assert_exact(p[i].angle, angles[i]);
    assert_true(p[i].advantage.lo <= p[i].advantage.likely && p[i].advantage.likely <= p[i].advantage.hi);
    assert_true(p[i].offset.lo <= p[i].offset.likely && p[i].offset.likely <= p[i].offset.hi);
    assert_within(p[i].residual, 0.0, 1e-9);
  }
  assert_true(p[9].advantage.likely < p[0].advantage.likely);
  checked_done(&k);
}

static void what_has_no_advantage_in_line_has_none_at_an_angle(void **state) {
  (void)state;
  static const char *const NONE[] = {
      PLACE RIG(PATH("main", LOAD CAPTURE(0.9) HAND) ", " PATH("line", LOAD "{tie: anchor}"), ""),  // locked
      PLACE RIG(PATH("main", LOOSE ", " HAND) ", " PATH("loop", "{tie: t}, {edge: lip}, {run: load, on: carabiner}, {edge: lip}, {tie: t}"),
                GRIP("t", "main", 0, 2)),  // rope rests: intervals, not a curve
  };
  const double angles[] = {0.0, 0.5};
  for (int i = 0; i < 2; i++) {
    checked k = checked_read(NONE[i]);
    fh_angle_point p[2];
    assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, angles, 2, p), FH_OK);
    for (int a = 0; a < 2; a++) {
      assert_int_equal(p[a].outcome, FH_OUTCOME_INFEASIBLE);
      assert_exact(p[a].angle, angles[a]);
      assert_nan(p[a].advantage.likely);
      assert_nan(p[a].offset.hi);
      assert_nan(p[a].residual);
    }
    checked_done(&k);
  }
}

static void arguments_that_mean_nothing_are_refused(void **state) {
  (void)state;
  checked k = checked_solved(PLACE Z(0.9, 0.5));
  fh_angle_point p[1];
  const double good[] = {0.5}, negative[] = {-0.1}, wide[] = {1.76}, nan[] = {(double)NAN};
  assert_status(fh_angle_curve(NULL, k.t.gear, k.rig, good, 1, p), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, NULL, k.rig, good, 1, p), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, NULL, good, 1, p), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, NULL, 1, p), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, good, 1, NULL), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, good, -1, p), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, negative, 1, p), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, wide, 1, p), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, nan, 1, p), FH_ERR_ARG);
  assert_status(fh_angle_curve(k.t.scene, k.t.gear, k.rig, good, 0, p), FH_OK);
  checked_done(&k);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_frictionless_z_pulled_square_has_a_closed_form),
      cmocka_unit_test(with_friction_the_balance_is_the_same_as_by_halving),
      cmocka_unit_test(at_a_bar_a_small_angle_costs_almost_nothing),
      cmocka_unit_test(a_bending_share_takes_some_of_it_back),
      cmocka_unit_test(at_a_fixed_turn_only_the_wrap_changes),
      cmocka_unit_test(behind_the_lip_the_angle_does_not_matter),
      cmocka_unit_test(in_line_it_is_the_rig_in_line),
      cmocka_unit_test(left_and_right_mirror_each_other),
      cmocka_unit_test(every_block_is_in_balance_both_ways),
      cmocka_unit_test(random_rigs_find_their_balance),
      cmocka_unit_test(a_curve_holds_its_range_and_starts_at_the_rig_in_line),
      cmocka_unit_test(what_has_no_advantage_in_line_has_none_at_an_angle),
      cmocka_unit_test(arguments_that_mean_nothing_are_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
