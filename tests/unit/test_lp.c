// SPDX-License-Identifier: MIT
// The small linear programme on cases whose answer is known beforehand; tests/refs/ref_lp.c has the random ones.
#include "fh_test.h"

#include "lp.h"

enum { SCRATCH = 4096 };

typedef struct solved {
  fhi_lp_end end;
  double x[16], value, residual;
} solved;

static solved solve(int rows, int cols, const double *a, const char *sense, const double *b, const double *c) {
  static double scratch[SCRATCH];
  solved s;
  assert_true(fhi_lp_scratch(rows, cols) <= SCRATCH);
  fhi_lp lp = {rows, cols, a, sense, b, c};
  s.end = fhi_lp_solve(&lp, s.x, &s.value, &s.residual, scratch);
  if (s.end == FHI_LP_OPTIMAL) {
    assert_within(s.residual, 0.0, 1e-9);
  } else {
    assert_nan(s.value);
    assert_nan(s.residual);
    for (int j = 0; j < cols; j++) {
      assert_nan(s.x[j]);
    }
  }
  return s;
}

// By hand: the corner (2, 6) of max 3x + 5y, x <= 4, 2y <= 12, 3x + 2y <= 18.
static void a_corner_found_by_hand(void **state) {
  (void)state;
  const double a[] = {1, 0, 0, 2, 3, 2};
  const double b[] = {4, 12, 18};
  const double c[] = {3, 5};
  solved s = solve(3, 2, a, "<<<", b, c);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_near(s.x[0], 2.0, 1e-12);
  assert_near(s.x[1], 6.0, 1e-12);
  assert_near(s.value, 36.0, 1e-12);
}

// The same corner with rows turned, doubled, and one of them as an equation.
static void every_sense_and_sign_of_a_row(void **state) {
  (void)state;
  const double a[] = {-1, 0, 0, -2, 3, 2, 6, 4};
  const double b[] = {-4, -12, 18, 36};
  const double c[] = {3, 5};
  solved s = solve(4, 2, a, ">><=", b, c);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_near(s.value, 36.0, 1e-12);
}

static void a_negative_right_side_needs_a_first_phase(void **state) {
  (void)state;
  const double a[] = {1, 1, 1, -1};
  const double b[] = {3, -1};  // x + y >= 3, x - y <= -1: least y with x as large as it may be is (1, 2)
  const double c[] = {0, -1};
  solved s = solve(2, 2, a, "><", b, c);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_near(s.x[0], 1.0, 1e-12);
  assert_near(s.x[1], 2.0, 1e-12);
}

// E. M. L. Beale 1955, Cycling in the dual simplex algorithm, as quoted by textbooks: largest gain walks in a circle of six.
// Optimum 1/20 at (1/25, 0, 1, 0).
static void beales_circle_is_left(void **state) {
  (void)state;
  const double a[] = {0.25, -60, -0.04, 9, 0.5, -90, -0.02, 3, 0, 0, 1, 0};
  const double b[] = {0, 0, 1};
  const double c[] = {0.75, -150, 0.02, -6};
  solved s = solve(3, 4, a, "<<<", b, c);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_near(s.value, 0.05, 1e-14);
  assert_near(s.x[0], 0.04, 1e-14);
  assert_near(s.x[2], 1.0, 1e-14);
}

// Klee and Minty 1972, How good is the simplex algorithm?: a cube bent so that a climb may visit all of its
// 2^n corners. max sum 10^(n-j) x_j, 2 sum_{j<i} 10^(i-j) x_j + x_i <= 100^(i-1): optimum 100^(n-1), here n = 6.
static void a_bent_cube_is_climbed(void **state) {
  (void)state;
  enum { N = 6 };
  double a[N * N] = {0};
  double b[N];
  double c[N];
  for (int i = 0; i < N; i++) {
    for (int j = 0; j < i; j++) {
      a[i * N + j] = 2.0 * pow(10.0, i - j);
    }
    a[i * N + i] = 1.0;
    b[i] = pow(100.0, i);
    c[i] = pow(10.0, N - 1 - i);
  }
  solved s = solve(N, N, a, "<<<<<<", b, c);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_close(s.value, 1e10, 1e-12);
}

static void rows_that_contradict_are_infeasible(void **state) {
  (void)state;
  const double a[] = {1, 1, 1, 1};
  const double b[] = {1, 2};
  const double c[] = {1, 0};
  assert_int_equal(solve(2, 2, a, "<>", b, c).end, FHI_LP_INFEASIBLE);
  assert_int_equal(solve(2, 2, a, "==", b, c).end, FHI_LP_INFEASIBLE);
  const double below_zero[] = {-1};
  assert_int_equal(solve(1, 2, a, "<", below_zero, c).end, FHI_LP_INFEASIBLE);
}

static void an_open_side_is_unbounded(void **state) {
  (void)state;
  const double a[] = {1, -1};
  const double b[] = {1};
  const double c[] = {0, 1};
  assert_int_equal(solve(1, 2, a, "<", b, c).end, FHI_LP_UNBOUNDED);
  assert_int_equal(solve(0, 2, NULL, "", NULL, c).end, FHI_LP_UNBOUNDED);
}

static void rows_said_twice_change_nothing(void **state) {
  (void)state;
  const double a[] = {1, 1, 1, 1, 2, 2, 1, 0};
  const double b[] = {2, 2, 4, 1.5};
  const double c[] = {2, 1};
  solved s = solve(4, 2, a, "===<", b, c);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_near(s.x[0], 1.5, 1e-14);
  assert_near(s.x[1], 0.5, 1e-14);
}

static void nothing_to_do_is_done(void **state) {
  (void)state;
  const double c[] = {-1, 0};
  solved s = solve(0, 2, NULL, "", NULL, c);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_exact(s.x[0], 0.0);
  const double b[] = {1};
  s = solve(1, 0, NULL, "<", b, NULL);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_exact(s.value, 0.0);
  assert_int_equal(solve(1, 0, NULL, "=", b, NULL).end, FHI_LP_INFEASIBLE);
  const double zero_row[] = {0, 0};
  const double zero[] = {0};
  assert_int_equal(solve(1, 2, zero_row, "=", zero, c).end, FHI_LP_OPTIMAL);
  assert_int_equal(fhi_lp_scratch(-1, 2), 0);
}

static void input_that_is_no_programme_is_unresolved(void **state) {
  (void)state;
  const double a[] = {1, 1};
  const double bad[] = {1, (double)NAN};
  const double b[] = {1};
  const double huge[] = {(double)INFINITY};
  const double c[] = {1, 1};
  assert_int_equal(solve(1, 2, bad, "<", b, c).end, FHI_LP_UNRESOLVED);
  assert_int_equal(solve(1, 2, a, "<", huge, c).end, FHI_LP_UNRESOLVED);
  assert_int_equal(solve(1, 2, a, "<", b, bad).end, FHI_LP_UNRESOLVED);
  assert_int_equal(solve(1, 2, a, "?", b, c).end, FHI_LP_UNRESOLVED);
}

// Units must not matter: the first case in millimetres and kilonewtons.
static void scaling_rows_and_columns_scales_the_answer(void **state) {
  (void)state;
  const double a[] = {1e6, 0, 0, 2e-6, 3e3, 2e-3};
  const double b[] = {4e3, 12e-3, 18};
  const double c[] = {3e3, 5e-3};
  solved s = solve(3, 2, a, "<<<", b, c);
  assert_int_equal(s.end, FHI_LP_OPTIMAL);
  assert_close(s.x[0], 2e-3, 1e-12);
  assert_close(s.x[1], 6e3, 1e-12);
  assert_close(s.value, 36.0, 1e-12);
}

static void the_same_programme_gives_the_same_bits(void **state) {
  (void)state;
  const double a[] = {0.3, 0.7, 0.2, 0.9, 0.1, 0.4};
  const double b[] = {1.1, 1.3};
  const double c[] = {0.6, 0.5, 0.7};
  solved first = solve(2, 3, a, "<<", b, c);
  solved again = solve(2, 3, a, "<<", b, c);
  assert_int_equal(first.end, FHI_LP_OPTIMAL);
  assert_memory_equal(first.x, again.x, 3 * sizeof(double));
}

static double whole(uint64_t *state, int most) {
  *state = *state * 6364136223846793005u + 1442695040888963407u;
  return (double)((int)(*state >> 40) % (2 * most + 1) - most);
}

// Random rows with small whole numbers (many ties), each with many goals, against one programme a goal: the same end, the same bits.
static void goals_that_share_their_rows_give_the_bits_of_one_alone(void **state) {
  (void)state;
  static double many_scratch[2 * SCRATCH];
  uint64_t random = 7;
  int ends[4] = {0, 0, 0, 0};
  for (int i = 0; i < 300; i++) {
    double a[48], b[8];
    char sense[8];
    int rows = 2 + i % 7, cols = 2 + i % 5;
    for (int r = 0; r < rows; r++) {
      sense[r] = "<<=>"[(int)(whole(&random, 8) + 8.0) % 4];
      b[r] = sense[r] == '<' ? whole(&random, 3) + 3.0 : whole(&random, 1) + 1.0;
      for (int k = 0; k < cols; k++) {
        a[r * cols + k] = 0.5 * whole(&random, 4);
      }
    }
    const fhi_lp lp = {rows, cols, a, sense, b, NULL};
    fhi_lp_many many;
    assert_true(fhi_lp_many_scratch(rows, cols) <= 2 * SCRATCH);
    fhi_lp_many_begin(&lp, &many, many_scratch);
    for (int goal = 0; goal < 12; goal++) {
      double c[8], x[8], value, residual;
      for (int k = 0; k < cols; k++) {
        c[k] = goal < 2 * cols ? (goal / 2 == k ? 1.0 - 2.0 * (goal % 2) : 0.0) : whole(&random, 3);
      }
      solved alone = solve(rows, cols, a, sense, b, c);
      assert_int_equal(fhi_lp_many_solve(&many, c, x, &value, &residual), alone.end);
      ends[alone.end]++;
      if (alone.end == FHI_LP_OPTIMAL) {
        assert_memory_equal(x, alone.x, (size_t)cols * sizeof *x);
        assert_memory_equal(&value, &alone.value, sizeof value);
        assert_memory_equal(&residual, &alone.residual, sizeof residual);
      } else {
        assert_nan(value);
        assert_nan(x[0]);
      }
    }
  }
  assert_true(ends[FHI_LP_OPTIMAL] > 300 && ends[FHI_LP_INFEASIBLE] > 100 && ends[FHI_LP_UNBOUNDED] > 100);
  assert_int_equal(fhi_lp_many_scratch(-1, 2), 0);
}

static void rows_that_are_no_programme_leave_every_goal_unresolved(void **state) {
  (void)state;
  static double scratch[SCRATCH];
  const double a[] = {1, (double)NAN}, b[] = {1}, c[] = {1, 1}, bad[] = {1, (double)INFINITY}, good[] = {1, 1};
  const fhi_lp lp = {1, 2, a, "<", b, NULL}, fine = {1, 2, good, "<", b, NULL};
  double x[2], value, residual;
  fhi_lp_many many;
  fhi_lp_many_begin(&lp, &many, scratch);
  assert_int_equal(fhi_lp_many_solve(&many, c, x, &value, &residual), FHI_LP_UNRESOLVED);
  fhi_lp_many_begin(&fine, &many, scratch);
  assert_int_equal(fhi_lp_many_solve(&many, bad, x, &value, &residual), FHI_LP_UNRESOLVED);
  assert_int_equal(fhi_lp_many_solve(&many, c, x, &value, &residual), FHI_LP_OPTIMAL);
  assert_near(value, 1.0, 1e-15);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_corner_found_by_hand),
      cmocka_unit_test(every_sense_and_sign_of_a_row),
      cmocka_unit_test(a_negative_right_side_needs_a_first_phase),
      cmocka_unit_test(beales_circle_is_left),
      cmocka_unit_test(a_bent_cube_is_climbed),
      cmocka_unit_test(rows_that_contradict_are_infeasible),
      cmocka_unit_test(an_open_side_is_unbounded),
      cmocka_unit_test(rows_said_twice_change_nothing),
      cmocka_unit_test(nothing_to_do_is_done),
      cmocka_unit_test(input_that_is_no_programme_is_unresolved),
      cmocka_unit_test(scaling_rows_and_columns_scales_the_answer),
      cmocka_unit_test(the_same_programme_gives_the_same_bits),
      cmocka_unit_test(goals_that_share_their_rows_give_the_bits_of_one_alone),
      cmocka_unit_test(rows_that_are_no_programme_leave_every_goal_unresolved),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
