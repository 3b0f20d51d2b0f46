// needs: glpk
// SPDX-License-Identifier: MIT
// The small linear programme against GLPK 5 (test only): thousands of random programmes of nine kinds, many degenerate.
// Both must agree on how the solve ends and on the optimum. Every optimal answer is put back into its rows here as well.
#include "../unit/fh_test.h"

#include <glpk.h>

#include "lp.h"

enum { MAX_ROWS = 60, MAX_COLS = 60 };

typedef struct problem {
  int rows, cols;
  double a[MAX_ROWS * MAX_COLS], b[MAX_ROWS], c[MAX_COLS];
  char sense[MAX_ROWS];
} problem;

static uint64_t seed = 20260101;

static uint64_t bits(void) {
  seed += UINT64_C(0x9E3779B97F4A7C15);  // splitmix64
  uint64_t z = seed;
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  return z ^ (z >> 31);
}

static int below(int n) {
  return (int)(bits() % (uint64_t)n);
}

// Multiples of 1/64, so that GLPK's exact arithmetic, which turns each number into a fraction within 1e-9, gets it exactly.
static double between(double lo, double hi) {
  return floor((lo + (hi - lo) * (double)(bits() >> 11) * 0x1p-53) * 64.0) / 64.0;
}

static double *at(problem *p, int row, int col) {
  return &p->a[row * p->cols + col];
}

static void start(problem *p, int rows, int cols) {
  memset(p, 0, sizeof *p);
  p->rows = rows;
  p->cols = cols;
  memset(p->sense, '<', sizeof p->sense);
}

// ------------------------------------------------------------------------------------------------------ the nine kinds

static void any(problem *p) {
  start(p, 1 + below(15), 1 + below(15));
  for (int i = 0; i < p->rows; i++) {
    p->sense[i] = "<=>"[below(3)];
    p->b[i] = between(-5, 5);
    for (int j = 0; j < p->cols; j++) {
      *at(p, i, j) = below(3) == 0 ? 0.0 : between(-2, 2);
    }
  }
  for (int j = 0; j < p->cols; j++) {
    p->c[j] = between(-1, 1);
  }
}

// Small whole numbers and many zeros on the right: corners where many rows meet.
static void degenerate(problem *p) {
  start(p, 2 + below(20), 2 + below(20));
  for (int i = 0; i < p->rows; i++) {
    p->sense[i] = "<<<>="[below(5)];
    p->b[i] = below(2) == 0 ? 0.0 : below(4);
    for (int j = 0; j < p->cols; j++) {
      *at(p, i, j) = below(2) == 0 ? 0.0 : below(5) - 2;
    }
  }
  for (int j = 0; j < p->cols; j++) {
    p->c[j] = below(7) - 3;
  }
}

// Bounded and feasible for sure: positive rows under positive bounds.
static void packing(problem *p) {
  start(p, 5 + below(40), 5 + below(40));
  for (int i = 0; i < p->rows; i++) {
    p->b[i] = between(1, 10);
    for (int j = 0; j < p->cols; j++) {
      *at(p, i, j) = below(3) == 0 ? between(0, 1) : 0.0;
    }
  }
  for (int j = 0; j < p->cols; j++) {
    *at(p, below(p->rows), j) = 1.0;
    p->c[j] = between(0, 1);
  }
}

// Equations made from a known point, some of them sums of others: dependent rows.
static void dependent(problem *p) {
  start(p, 4 + below(20), 8 + below(30));
  double point[MAX_COLS];
  for (int j = 0; j < p->cols; j++) {
    point[j] = below(2) == 0 ? 0.0 : below(5);
    p->c[j] = -between(0, 1);  // costs: bounded
  }
  for (int i = 0; i < p->rows; i++) {
    p->sense[i] = '=';
    bool sum = i >= 2 && below(3) == 0;
    int r = sum ? below(i) : 0;
    int s = sum ? below(i) : 0;
    for (int j = 0; j < p->cols; j++) {
      *at(p, i, j) = sum ? *at(p, r, j) + *at(p, s, j) : below(3) == 0 ? below(5) - 2 : 0.0;
      p->b[i] += *at(p, i, j) * point[j];
    }
  }
}

// How far can the load drop: points on a line, each piece of rope at most so long (what the core asks).
static void ropes(problem *p) {
  int points = 2 + below(10);
  int pieces = 1 + below(8);
  start(p, 0, 2 * points);  // a point's place is x+ - x-
  for (int k = 0; k < pieces; k++) {
    // One piece over up to three strands: every choice of signs of its strands is a row.
    int strands = 1 + below(3);
    int from[3], to[3];
    for (int s = 0; s < strands; s++) {
      from[s] = s == 0 ? below(points) : to[s - 1];
      to[s] = below(points);
    }
    double length = below(3) == 0 ? 0.0 : between(0, 12);
    for (int signs = 0; signs < 1 << strands && p->rows < MAX_ROWS - 2; signs++) {
      for (int s = 0; s < strands; s++) {
        double sign = (signs >> s & 1) != 0 ? 1.0 : -1.0;
        *at(p, p->rows, 2 * from[s]) += sign;
        *at(p, p->rows, 2 * from[s] + 1) -= sign;
        *at(p, p->rows, 2 * to[s]) -= sign;
        *at(p, p->rows, 2 * to[s] + 1) += sign;
      }
      p->b[p->rows++] = length;
    }
  }
  *at(p, p->rows, 2) = 1.0;  // point 1 is the anchor: fixed
  *at(p, p->rows, 3) = -1.0;
  p->sense[p->rows++] = '=';
  p->c[0] = 1.0;
  p->c[1] = -1.0;
}

// Rows and columns of very different sizes: millimetres beside newtons.
static void unequal(problem *p) {
  packing(p);
  for (int i = 0; i < p->rows; i++) {
    double by = pow(10, between(-3, 3));
    p->b[i] *= by;
    for (int j = 0; j < p->cols; j++) {
      *at(p, i, j) *= by;
    }
  }
  for (int j = 0; j < p->cols; j++) {
    double by = pow(10, between(-3, 3));
    p->c[j] *= by;
    for (int i = 0; i < p->rows; i++) {
      *at(p, i, j) *= by;
    }
  }
}

// Feasible at exactly one face: two rows that meet, and often a third that just misses.
static void narrow(problem *p) {
  any(p);
  int n = p->rows < MAX_ROWS - 2 ? p->rows : MAX_ROWS - 3;
  double gap = below(2) == 0 ? 0.0 : -0.001;
  for (int j = 0; j < p->cols; j++) {
    *at(p, n, j) = 1.0;
    *at(p, n + 1, j) = 1.0;
  }
  p->b[n] = 4.0;
  p->b[n + 1] = 4.0 - gap;
  p->sense[n] = '<';
  p->sense[n + 1] = '>';
  p->rows = n + 2;
}

// Tension along a rope between the two extremes that friction allows: T / k <= T' <= k T, all from one weight.
static void frictions(problem *p) {
  int strands = 2 + below(20);
  start(p, 0, strands);
  *at(p, 0, 0) = 1.0;
  p->b[0] = 900.0;
  p->sense[p->rows++] = '=';
  for (int j = 1; j < strands; j++) {
    double k = below(4) == 0 ? 1.0 : between(1, 2.75);
    int i = below(3) == 0 ? below(j) : j - 1;
    *at(p, p->rows, j) = 1.0;
    *at(p, p->rows, i) = -k;
    p->sense[p->rows++] = '<';
    *at(p, p->rows, j) = -k;
    *at(p, p->rows, i) = 1.0;
    p->sense[p->rows++] = '<';
  }
  for (int j = 0; j < strands; j++) {
    p->c[j] = below(3) - 1;
  }
}

// Assignment: n x n, every corner highly degenerate.
static void assignment(problem *p) {
  int n = 2 + below(6);
  start(p, 2 * n, n * n);
  for (int i = 0; i < n; i++) {
    for (int j = 0; j < n; j++) {
      *at(p, i, i * n + j) = 1.0;
      *at(p, n + j, i * n + j) = 1.0;
      p->c[i * n + j] = below(10);
    }
    p->b[i] = p->b[n + i] = 1.0;
    p->sense[i] = p->sense[n + i] = '=';
  }
}

// ------------------------------------------------------------------------------------------------------------ the oracle

static fhi_lp_end by_glpk(const problem *p, bool exact, double *value) {
  glp_prob *g = glp_create_prob();
  glp_set_obj_dir(g, GLP_MAX);
  glp_add_rows(g, p->rows);
  glp_add_cols(g, p->cols);
  int cols[MAX_COLS + 1];
  double values[MAX_COLS + 1];
  for (int j = 0; j < p->cols; j++) {
    glp_set_col_bnds(g, j + 1, GLP_LO, 0.0, 0.0);
    glp_set_obj_coef(g, j + 1, p->c[j]);
    cols[j + 1] = j + 1;
  }
  for (int i = 0; i < p->rows; i++) {
    int kind = p->sense[i] == '<' ? GLP_UP : p->sense[i] == '>' ? GLP_LO : GLP_FX;
    glp_set_row_bnds(g, i + 1, kind, p->b[i], p->b[i]);
    memcpy(values + 1, p->a + i * p->cols, (size_t)p->cols * sizeof(double));
    glp_set_mat_row(g, i + 1, p->cols, cols, values);
  }
  glp_smcp options;
  glp_init_smcp(&options);
  options.msg_lev = GLP_MSG_OFF;
  assert_int_equal(glp_simplex(g, &options), 0);
  // Whether degenerate rows can all be kept is a matter of the last bit: rational arithmetic decides it, from there on.
  if (exact) {
    assert_int_equal(glp_exact(g, &options), 0);
  }
  int status = glp_get_status(g);
  *value = glp_get_obj_val(g);
  glp_delete_prob(g);
  return status == GLP_OPT                              ? FHI_LP_OPTIMAL
         : status == GLP_UNBND                          ? FHI_LP_UNBOUNDED
         : status == GLP_NOFEAS || status == GLP_INFEAS ? FHI_LP_INFEASIBLE
                                                        : FHI_LP_UNRESOLVED;
}

static double worst_miss(const problem *p, const double *x) {
  double worst = 0.0;
  for (int i = 0; i < p->rows; i++) {
    double sum = 0.0;
    for (int j = 0; j < p->cols; j++) {
      sum += p->a[i * p->cols + j] * x[j];
      worst = fmax(worst, -x[j]);
    }
    double over = sum - p->b[i];
    worst = fmax(worst, p->sense[i] == '<' ? over : p->sense[i] == '>' ? -over : fabs(over));
  }
  return worst;
}

static const char *const END[] = {"optimal", "infeasible", "unbounded", "unresolved"};

static void compare(const char *kind, void (*make)(problem *), bool exact, int count) {
  static problem p;
  int ends[4] = {0};
  double worst = 0.0;
  for (int k = 0; k < count; k++) {
    make(&p);
    fhi_lp lp = {p.rows, p.cols, p.a, p.sense, p.b, p.c};
    double x[MAX_COLS];
    double value = 0.0;
    double residual = 0.0;
    double want = 0.0;
    double *scratch = malloc(fhi_lp_scratch(p.rows, p.cols) * sizeof(double));
    assert_non_null(scratch);
    fhi_lp_end end = fhi_lp_solve(&lp, x, &value, &residual, scratch);
    free(scratch);
    fhi_lp_end wanted = by_glpk(&p, exact, &want);
    if (end != wanted) {
      fail_msg("%s %d (%d x %d): ours %s, GLPK %s", kind, k, p.rows, p.cols, END[end], END[wanted]);
    }
    ends[end]++;
    if (end == FHI_LP_OPTIMAL) {
      double scale = 1.0;
      for (int i = 0; i < p.rows; i++) {
        scale = fmax(scale, fabs(p.b[i]));
      }
      assert_within(residual, 0.0, 1e-9);
      assert_near(worst_miss(&p, x) / scale, residual, 1e-13);  // the same sum in another order of operations
      // Two roundings of one optimum: relative 1e-9 to its size (the header's own bound for a row).
      double off = fabs(value - want) / fmax(1.0, fabs(want));
      worst = fmax(worst, off);
      assert_near(value, want, 1e-9 * fmax(1.0, fabs(want)));
    } else {
      assert_nan(x[0]);
      assert_nan(value);
      assert_nan(residual);
    }
  }
  print_message("%-10s %5d programmes: %d optimal, %d infeasible, %d unbounded; optimum off by at most %.1e\n", kind,
                count, ends[0], ends[1], ends[2], worst);
  // A kind that only ever ended one way would have tested less than its name says.
  assert_true(ends[0] > 0);
}

static void random_programmes_agree_with_glpk(void **state) {
  (void)state;
  compare("any", any, true, 3000);
  compare("degenerate", degenerate, true, 3000);
  compare("packing", packing, true, 400);
  compare("dependent", dependent, true, 1000);
  compare("ropes", ropes, true, 2000);
  compare("unequal", unequal, false, 400);
  compare("narrow", narrow, true, 1000);
  compare("frictions", frictions, true, 1000);
  compare("assignment", assignment, true, 500);
}

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(random_programmes_agree_with_glpk)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
