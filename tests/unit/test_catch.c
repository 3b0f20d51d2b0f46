// SPDX-License-Identifier: MIT
// Does a rope stop a falling weight as energy says, by both roads? Published values: tests/check/catch.check; another
// library: tests/refs/ref_catch_sundials.c.
#include "fh_test.h"
#include "firnhaul_rescue.h"

static const double G = 9.80665;

static fh_catch_in fall_of(double fall, double hole, double surface, double lip) {
  return (fh_catch_in){.weight = 900.0, .fall = fall, .modulus = 17000.0, .hole = hole, .surface = surface, .lip = lip};
}

static fh_catch closed(fh_catch_in in) {
  fh_catch c;
  assert_status(fh_catch_closed(&in, &c), FH_OK);
  return c;
}

static fh_catch stepped(fh_catch_in in, int steps) {
  fh_catch c;
  assert_status(fh_catch_simulate(&in, steps, &c), FH_OK);
  return c;
}

// Source: the standard equation of rope impact [goldstone], exact: impact force to modulus and back.
static void the_standard_drop_gives_back_its_impact_force(void **state) {
  (void)state;
  static const double DROPS[][3] = {{80.0, 8500.0, 1.77}, {80.0, 12000.0, 1.77}, {55.0, 8000.0, 1.77}, {80.0, 9000.0, 1.78}};
  for (size_t i = 0; i < sizeof DROPS / sizeof *DROPS; i++) {
    double mass = DROPS[i][0], force = DROPS[i][1], factor = DROPS[i][2];
    fh_catch_in in = {.weight = mass * G, .fall = factor * 2.6, .hole = 2.6, .lip = 1.0,
                      .modulus = fh_rope_modulus_from_impact(force, mass, factor)};
    assert_close(closed(in).peak, force, 1e-12);
    assert_close(stepped(in, 400).peak, force, 1e-5);  // second order: see below
  }
}

static void stepping_onto_a_taut_rope_gives_twice_the_weight(void **state) {
  (void)state;
  for (double lip = 1.0; lip < 2.0; lip += 0.3) {
    fh_catch_in in = fall_of(0.0, 8.0, 5.0, lip);
    assert_exact(closed(in).peak, 1800.0);
    assert_close(stepped(in, 400).peak, 1800.0, 1e-5);
  }
}

static void the_work_of_gravity_goes_into_rope_and_edge(void **state) {
  (void)state;
  fh_catch_in in = fall_of(1.5, 8.0, 5.2, 1.3);
  fh_catch c = closed(in);
  // Spring of the hole side, spring of the surface side, and what slides over the edge under the difference of both.
  double hole = c.peak * in.hole / in.modulus, surface = c.held * in.surface / in.modulus;
  double edge = 0.5 * (c.peak - c.held) * surface;
  assert_close(in.weight * (in.fall + c.stretch), 0.5 * c.peak * hole + 0.5 * c.held * surface + edge, 1e-12);
  assert_close(c.stretch, hole + surface, 1e-12);
}

static void steps_come_nearer_with_their_square(void **state) {
  (void)state;
  static const double FALLS[] = {0.05, 0.5, 2.0, 20.0};
  for (size_t i = 0; i < sizeof FALLS / sizeof *FALLS; i++) {
    for (double hole = 0.1; hole < 40.0; hole *= 4.0) {
      fh_catch_in in = fall_of(FALLS[i], hole, 3.0, 1.3);
      fh_catch exact = closed(in), coarse = stepped(in, 50), fine = stepped(in, 400);
      assert_close(fine.peak, exact.peak, 2e-6);
      assert_close(fine.time, exact.time, 1e-4);
      assert_close(fine.stretch, exact.stretch, 1e-4);
      assert_true(fabs(fine.peak - exact.peak) <= fabs(coarse.peak - exact.peak) / 8.0 + 1e-9 * exact.peak);
    }
  }
}

static void an_edge_makes_the_catch_harder_and_spares_the_anchor(void **state) {
  (void)state;
  double peak = 0.0, held = 1e30;
  for (double lip = 1.0; lip < 2.5; lip += 0.25) {
    fh_catch c = closed(fall_of(1.0, 6.0, 5.0, lip));
    assert_true(c.peak > peak && c.held < held);
    peak = c.peak;
    held = c.held;
  }
}

static void damping_turns_the_weight_before_the_undamped_rope_would(void **state) {
  (void)state;
  double stretch = 1e30;
  for (double tau = 0.0; tau < 0.06; tau += 0.01) {
    fh_catch_in in = fall_of(1.0, 8.0, 0.0, 1.0);
    in.damping = tau;
    fh_catch c = stepped(in, 800);
    assert_true(c.stretch < stretch && c.peak > in.weight);
    stretch = c.stretch;
  }
}

static void the_longest_fall_is_the_inverse_of_the_peak(void **state) {
  (void)state;
  for (double most = 1801.0; most < 12000.0; most *= 1.3) {
    fh_catch_in in = fall_of(0.0, 7.0, 4.0, 1.25);
    in.fall = fh_catch_fall(&in, most);
    assert_close(closed(in).peak, most, 1e-12);
  }
  fh_catch_in in = fall_of(0.0, 7.0, 4.0, 1.25);
  assert_exact(fh_catch_fall(&in, 1800.0), 0.0);
  assert_exact(fh_catch_fall(&in, 500.0), 0.0);
  assert_nan(fh_catch_fall(&in, -1.0));
  assert_nan(fh_catch_fall(NULL, 3000.0));
}

static void numbers_out_of_range_are_refused(void **state) {
  (void)state;
  fh_catch c;
  for (int i = 0; i < 9; i++) {
    fh_catch_in in = fall_of(1.0, 5.0, 5.0, 1.2);
    double *const fields[] = {&in.weight, &in.fall, &in.modulus, &in.hole, &in.surface, &in.lip, &in.damping};
    if (i < 7) {
      *fields[i] = (double)NAN;
    } else if (i == 7) {
      in.hole = in.surface = 0.0;
    } else {
      in.lip = 0.5;
    }
    assert_status(fh_catch_closed(&in, &c), FH_ERR_ARG);
    assert_status(fh_catch_simulate(&in, 100, &c), FH_ERR_ARG);
  }
  fh_catch_in in = fall_of(1.0, 5.0, 5.0, 1.2);
  assert_status(fh_catch_simulate(&in, 7, &c), FH_ERR_ARG);
  assert_status(fh_catch_simulate(&in, 1000001, &c), FH_ERR_ARG);
  assert_status(fh_catch_closed(NULL, &c), FH_ERR_ARG);
  assert_status(fh_catch_closed(&in, NULL), FH_ERR_ARG);
}

static fh_band fall_modulus(const fh_gear *gear, const char *kind) {
  fh_scene *s = calloc(1, sizeof *s);
  assert_non_null(s);
  s->rope_count = 1;
  s->ropes[0].kind = fh_gear_find(gear, kind);
  s->ropes[0].modulus = s->ropes[0].length = s->ropes[0].diameter = fh_number_unset();
  fh_band b = fh_rope_fall_modulus(s, gear, 0);
  free(s);
  return b;
}

// Source of the limits: EN 892 (12 kN at 80 kg, 8 kN at 55 kg, factor 1.77) and EN 1891, summaries. Rows are rounded to 100 N.
static void the_stiff_end_of_a_dynamic_rope_is_the_standards_limit(void **state) {
  (void)state;
  fh_gear *gear = NULL;
  assert_status(fh_gear_create(&gear), FH_OK);
  assert_near(fall_modulus(gear, "half").hi, fh_rope_modulus_from_impact(8000.0, 55.0, 1.77), 100.0);
  assert_near(fall_modulus(gear, "single").hi, fh_rope_modulus_from_impact(12000.0, 80.0, 1.77), 100.0);
  assert_near(fall_modulus(gear, "twin").hi, 0.5 * fh_rope_modulus_from_impact(12000.0, 80.0, 1.77), 100.0);
  assert_near(fall_modulus(gear, "low-stretch").hi, fh_rope_modulus_from_impact(6000.0, 80.0, 0.3), 100.0);
  static const char *const KINDS[] = {"half", "single", "twin", "low-stretch", "cord"};
  for (size_t i = 0; i < sizeof KINDS / sizeof *KINDS; i++) {
    fh_band fast = fall_modulus(gear, KINDS[i]), slow = fh_number_band(fh_gear_figure(gear, fh_gear_find(gear, KINDS[i]), "modulus_N", NULL));
    assert_true(fast.lo >= slow.lo && fast.likely >= slow.likely && fast.hi >= slow.hi && fast.lo <= fast.likely && fast.likely <= fast.hi);
  }
  fh_gear_destroy(gear);
}

static void a_rope_without_a_scene_is_an_ordinary_half_rope(void **state) {
  (void)state;
  fh_gear *gear = NULL;
  fh_scene *s = calloc(1, sizeof *s);
  assert_status(fh_gear_create(&gear), FH_OK);
  assert_non_null(s);
  assert_exact(fh_rope_fall_modulus(s, gear, -1).likely, fall_modulus(gear, "half").likely);
  assert_nan(fh_rope_fall_modulus(NULL, gear, -1).likely);
  s->rope_count = 1;
  s->ropes[0].kind = fh_gear_find(gear, "half");
  s->ropes[0].modulus = fh_number_exact(50000.0);
  assert_exact(fh_rope_static_modulus(s, gear, 0).hi, 50000.0);
  assert_exact(fh_rope_fall_modulus(s, gear, 0).lo, 50000.0);  // never softer than under a slow pull
  free(s);
  fh_gear_destroy(gear);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_standard_drop_gives_back_its_impact_force),
      cmocka_unit_test(stepping_onto_a_taut_rope_gives_twice_the_weight),
      cmocka_unit_test(the_work_of_gravity_goes_into_rope_and_edge),
      cmocka_unit_test(steps_come_nearer_with_their_square),
      cmocka_unit_test(an_edge_makes_the_catch_harder_and_spares_the_anchor),
      cmocka_unit_test(damping_turns_the_weight_before_the_undamped_rope_would),
      cmocka_unit_test(the_longest_fall_is_the_inverse_of_the_peak),
      cmocka_unit_test(numbers_out_of_range_are_refused),
      cmocka_unit_test(the_stiff_end_of_a_dynamic_rope_is_the_standards_limit),
      cmocka_unit_test(a_rope_without_a_scene_is_an_ordinary_half_rope),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
