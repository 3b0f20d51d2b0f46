// SPDX-License-Identifier: MIT
// Published numbers of ropes: tests/check/rope.check. Here: identities and refusals.
#include "fh_test.h"

static const double G = 9.80665;

static void modulus_and_impact_undo_each_other(void **state) {
  (void)state;
  for (double force = 2000.0; force < 14000.0; force += 371.0) {
    for (double factor = 0.1; factor < 2.0; factor += 0.23) {
      double m = fh_rope_modulus_from_impact(force, 80.0, factor);
      assert_close(fh_rope_impact(m, 80.0, factor), force, 1e-12);
    }
  }
}

static void a_load_without_a_fall_peaks_at_twice_its_weight(void **state) {
  (void)state;
  double w = 80.0 * G;
  assert_close(fh_rope_impact(21000.0, 80.0, 0.0), 2.0 * w, 1e-15);
  assert_close(fh_rope_catch(w, 21000.0, 0.0, 5.0), 2.0 * w, 1e-15);
}

static void a_catch_is_an_impact_at_fall_over_length(void **state) {
  (void)state;
  for (double h = 0.0; h < 4.0; h += 0.4) {
    assert_close(fh_rope_catch(75.0 * G, 18000.0, h, 8.0), fh_rope_impact(18000.0, 75.0, h / 8.0), 1e-14);
  }
}

// At the deepest point all that the weight has lost is in the rope: W (h + x) = M x^2 / (2 L), with x = F L / M.
static void a_catch_keeps_energy(void **state) {
  (void)state;
  for (double h = 0.0; h < 6.0; h += 0.37) {
    for (double length = 1.0; length < 40.0; length *= 2.3) {
      double w = 900.0, m = 15000.0, f = fh_rope_catch(w, m, h, length);
      double x = f * length / m;
      assert_close(0.5 * m * x * x / length, w * (h + x), 1e-12);
    }
  }
}

static void a_stretch_gives_weight_over_strain(void **state) {
  (void)state;
  assert_close(fh_rope_modulus_from_stretch(0.1, 80.0), 7845.32, 1e-12);
  // Hung on that modulus the mass stretches the rope by that much.
  assert_close(80.0 * G / fh_rope_modulus_from_stretch(0.08, 80.0), 0.08, 1e-15);
}

static void what_no_rope_does_is_not_a_number(void **state) {
  (void)state;
  double nan_ = (double)NAN, inf = (double)INFINITY;
  assert_nan(fh_rope_modulus_from_impact(2.0 * 80.0 * G, 80.0, 1.77));  // a force that any sudden load gives
  assert_nan(fh_rope_modulus_from_impact(nan_, 80.0, 1.77));
  assert_nan(fh_rope_modulus_from_impact(9000.0, 0.0, 1.77));
  assert_nan(fh_rope_modulus_from_impact(9000.0, 80.0, 0.0));
  assert_nan(fh_rope_modulus_from_impact(inf, 80.0, 1.77));
  assert_nan(fh_rope_impact(0.0, 80.0, 1.0));
  assert_nan(fh_rope_impact(20000.0, -1.0, 1.0));
  assert_nan(fh_rope_impact(20000.0, 80.0, -0.1));
  assert_nan(fh_rope_impact(20000.0, 80.0, nan_));
  assert_nan(fh_rope_modulus_from_stretch(0.0, 80.0));
  assert_nan(fh_rope_modulus_from_stretch(0.1, nan_));
  assert_nan(fh_rope_catch(-1.0, 20000.0, 1.0, 5.0));
  assert_nan(fh_rope_catch(800.0, 0.0, 1.0, 5.0));
  assert_nan(fh_rope_catch(800.0, 20000.0, -1.0, 5.0));
  assert_nan(fh_rope_catch(800.0, 20000.0, 1.0, 0.0));
  assert_nan(fh_rope_catch(nan_, 20000.0, 1.0, 5.0));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(modulus_and_impact_undo_each_other),
      cmocka_unit_test(a_load_without_a_fall_peaks_at_twice_its_weight),
      cmocka_unit_test(a_catch_is_an_impact_at_fall_over_length),
      cmocka_unit_test(a_catch_keeps_energy),
      cmocka_unit_test(a_stretch_gives_weight_over_strain),
      cmocka_unit_test(what_no_rope_does_is_not_a_number),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
