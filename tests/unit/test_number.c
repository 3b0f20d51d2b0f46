// SPDX-License-Identifier: MIT
#include "fh_test.h"

static void an_exact_number_is_its_own_band(void **state) {
  (void)state;
  fh_number n = fh_number_exact(-2.5);
  fh_band b = fh_number_band(n);
  assert_true(fh_number_is_set(n));
  assert_int_equal(n.spread, FH_SPREAD_EXACT);
  assert_int_equal(n.line, 0);
  assert_exact(n.sd, 0.0);
  assert_exact(b.lo, -2.5);
  assert_exact(b.likely, -2.5);
  assert_exact(b.hi, -2.5);
}

static void an_unset_number_is_not_zero(void **state) {
  (void)state;
  fh_number n = fh_number_unset();
  fh_band b = fh_number_band(n);
  assert_false(fh_number_is_set(n));
  assert_nan(n.likely);
  assert_nan(b.lo);
  assert_nan(b.likely);
  assert_nan(b.hi);
}

static void a_zeroed_number_is_not_set_and_its_band_says_so(void **state) {
  (void)state;
  fh_number n;
  memset(&n, 0, sizeof n);
  assert_false(fh_number_is_set(n));
  assert_nan(fh_number_band(n).likely);
}

static void a_distribution_gives_its_three_values(void **state) {
  (void)state;
  fh_number n = {.spread = FH_SPREAD_TRIANGLE, .lo = 1.0, .likely = 1.5, .hi = 4.0};
  fh_band b = fh_number_band(n);
  assert_true(fh_number_is_set(n));
  assert_exact(b.lo, 1.0);
  assert_exact(b.likely, 1.5);
  assert_exact(b.hi, 4.0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(an_exact_number_is_its_own_band),
      cmocka_unit_test(an_unset_number_is_not_zero),
      cmocka_unit_test(a_zeroed_number_is_not_set_and_its_band_says_so),
      cmocka_unit_test(a_distribution_gives_its_three_values),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
