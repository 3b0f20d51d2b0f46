// SPDX-License-Identifier: MIT
// The exponential for many numbers side by side, against the C library's.
#include "fh_test.h"

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

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(it_is_within_two_units_in_the_last_place),
      cmocka_unit_test(ends_and_zero),
      cmocka_unit_test(it_may_write_over_what_it_reads),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
