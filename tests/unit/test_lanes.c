// SPDX-License-Identifier: MIT
// The exponential for many numbers side by side, against the C library's.
#include "fh_test.h"

#include <float.h>

#include "lanes.h"

static double units_off(double got, double want) {
  return fabs(got - want) / (nextafter(want, (double)INFINITY) - want);
}

static void it_is_within_two_units_in_the_last_place(void **state) {
  (void)state;
  double worst = 0.0;
  for (double x = -50.0; x < 50.0; x += 0.00137) {
    double y;
    fhi_lanes_exp(&x, 1, &y);
    worst = fmax(worst, units_off(y, exp(x)));
  }
  print_message("worst: %.2f units in the last place\n", worst);
  assert_true(worst <= 2.0);
}

static void ends_and_zero(void **state) {
  (void)state;
  double x[4] = {0.0, -700.0, 700.0, 1.0}, y[4];
  fhi_lanes_exp(x, 4, y);
  assert_exact(y[0], 1.0);
  assert_close(y[1], exp(-700.0), 1e-15);
  assert_close(y[2], exp(700.0), 1e-15);
  assert_close(y[3], 2.718281828459045235, 4e-16);
}

static void it_may_write_over_what_it_reads(void **state) {
  (void)state;
  double x[8] = {0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8}, y[8];
  fhi_lanes_exp(x, 8, y);
  fhi_lanes_exp(x, 8, x);
  for (int i = 0; i < 8; i++) {
    assert_exact(x[i], y[i]);
  }
}

static void bits_say_which_lanes_are_above_or_unknown(void **state) {
  (void)state;
  double x[64], most[64];
  const double values[] = {0.0, -0.0, 1.0, 2.0, (double)INFINITY, -(double)INFINITY, (double)NAN, DBL_MAX};
  for (int shift = 0; shift < 8; shift++) {
    uint64_t above = 0, unknown = 0;
    int count = 0;
    for (int l = 0; l < 64; l++) {
      x[l] = values[l % 8];
      most[l] = values[(l / 8 + shift) % 8];
      above |= !(x[l] <= most[l]) ? UINT64_C(1) << l : 0;
      unknown |= !isfinite(x[l]) ? UINT64_C(1) << l : 0;
      count += !isfinite(x[l]);
    }
    assert_true(fhi_lanes_above(x, most) == above);
    assert_true(fhi_lanes_unknown(x) == unknown);
    assert_int_equal(fhi_bits(unknown), count);
  }
  for (int l = 0; l < 64; l++) {
    assert_int_equal(fhi_bits(UINT64_C(1) << l), 1);
  }
  assert_int_equal(fhi_bits(0) + fhi_bits(~UINT64_C(0)), 64);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(it_is_within_two_units_in_the_last_place),
      cmocka_unit_test(ends_and_zero),
      cmocka_unit_test(it_may_write_over_what_it_reads),
      cmocka_unit_test(bits_say_which_lanes_are_above_or_unknown),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
