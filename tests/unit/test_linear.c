// SPDX-License-Identifier: MIT
// Small dense systems: what they solve, what they refuse.
#include "fh_test.h"
#include "linear.h"

// A small generator of the test's own (Knuth's MMIX constants).
static double next(uint64_t *seed) {
  *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
  return (double)(*seed >> 11) / 9007199254740992.0 - 0.5;
}

static void a_system_of_two_by_hand(void **state) {
  (void)state;
  // 2 x + y = 5, x - 3 y = -1: x = 2, y = 1.
  double a[] = {2.0, 1.0, 1.0, -3.0}, b[] = {5.0, -1.0};
  assert_true(fhi_linear_solve(a, b, 2, 2, 1e-12));
  assert_near(b[0], 2.0, 1e-15);
  assert_near(b[1], 1.0, 1e-15);
}

static void a_zero_on_the_diagonal_is_pivoted_away(void **state) {
  (void)state;
  double a[] = {0.0, 1.0, 0.0, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0}, b[] = {7.0, 8.0, 9.0};
  assert_true(fhi_linear_solve(a, b, 3, 3, 1e-12));
  assert_exact(b[0], 9.0);
  assert_exact(b[1], 7.0);
  assert_exact(b[2], 8.0);
}

static void rows_may_be_longer_than_the_system(void **state) {
  (void)state;
  double a[] = {1.0, 2.0, 99.0, 99.0, 3.0, 4.0, 99.0, 99.0}, b[] = {5.0, 11.0};
  assert_true(fhi_linear_solve(a, b, 2, 4, 1e-12));
  assert_near(b[0], 1.0, 1e-14);
  assert_near(b[1], 2.0, 1e-14);
  assert_exact(a[2], 99.0);
  assert_exact(a[7], 99.0);
}

static void an_answer_put_back_gives_the_right_side(void **state) {
  (void)state;
  uint64_t seed = 1;
  for (int round = 0; round < 200; round++) {
    double a[64], copy[64], b[8], x[8];
    int n = 1 + round % 8;
    for (int i = 0; i < n * n; i++) {
      copy[i] = a[i] = next(&seed) + (i % (n + 1) == 0 ? 2.0 : 0.0);  // the diagonal keeps it far from singular
    }
    for (int i = 0; i < n; i++) {
      x[i] = b[i] = next(&seed);
    }
    assert_true(fhi_linear_solve(a, x, n, n, 1e-12));
    for (int i = 0; i < n; i++) {
      double sum = 0.0;
      for (int j = 0; j < n; j++) {
        sum += copy[i * n + j] * x[j];
      }
      assert_near(sum, b[i], 1e-13);  // 8 numbers of size 1 to 10, in double
    }
  }
}

static void a_singular_system_is_refused(void **state) {
  (void)state;
  double twice[] = {1.0, 2.0, 2.0, 4.0}, none[] = {0.0}, small[] = {1e-13}, nan[] = {(double)NAN};
  double b[] = {1.0, 2.0};
  assert_false(fhi_linear_solve(twice, b, 2, 2, 1e-12));
  assert_false(fhi_linear_solve(none, b, 1, 1, 1e-12));
  assert_false(fhi_linear_solve(small, b, 1, 1, 1e-12));
  assert_false(fhi_linear_solve(nan, b, 1, 1, 1e-12));
}

static void a_system_without_rows_is_solved(void **state) {
  (void)state;
  double none[1] = {0.0};
  assert_true(fhi_linear_solve(none, none, 0, 0, 1e-12));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_system_of_two_by_hand),
      cmocka_unit_test(a_zero_on_the_diagonal_is_pivoted_away),
      cmocka_unit_test(rows_may_be_longer_than_the_system),
      cmocka_unit_test(an_answer_put_back_gives_the_right_side),
      cmocka_unit_test(a_singular_system_is_refused),
      cmocka_unit_test(a_system_without_rows_is_solved),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
