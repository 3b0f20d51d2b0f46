// SPDX-License-Identifier: MIT
// Least squares by cminpack: lmder with slopes by central differences.
#include "lm.h"

#ifdef FH_FIT
#include <cminpack.h>

#include "fit.h"
#include "memory.h"

typedef struct problem {
  fh_fit_fn fn;
  void *user;
  double *scratch, *slopes;
} problem;

static int evaluate(void *p, int m, int n, const double *x, double *r, double *jacobian, int stride, int what) {
  problem *q = p;
  if (what == 1) {
    return q->fn(q->user, m, n, x, r) ? 0 : -1;
  }
  if (!fhi_fit_slopes(q->fn, q->user, m, n, x, q->scratch, q->slopes)) {
    return -1;
  }
  for (int i = 0; i < m; i++) {
    for (int k = 0; k < n; k++) {
      jacobian[i + k * stride] = q->slopes[i * n + k];  // lmder wants it column by column
    }
  }
  return 0;
}

bool cli_lm_is_there(void) {
  return true;
}

bool cli_lm_solve(fh_fit_fn fn, void *user, int m, int n, double *x) {
  size_t rows = (size_t)m, columns = (size_t)n;
  // Residuals, Jacobian twice, scratch for differences, and lmder's five work arrays.
  double *block = fhi_alloc(rows + 2 * rows * columns + 2 * rows + 5 * columns + rows, sizeof *block);
  int *pivots = fhi_alloc(columns, sizeof *pivots);
  int calls = 0, slopes = 0, info = 0;
  if (block != NULL && pivots != NULL) {
    double *r = block, *jacobian = r + rows, *own = jacobian + rows * columns, *scratch = own + rows * columns, *work = scratch + 2 * rows;
    problem p = {fn, user, scratch, own};
    // Tolerances of rounding: it stops when nothing gets better, which is info 1 to 4 or 6 to 8.
    info = lmder(evaluate, &p, m, n, x, r, jacobian, m, 1e-15, 1e-15, 0.0, 4000, work, 1, 100.0, 0, &calls, &slopes, pivots, work + columns,
                 work + 2 * columns, work + 3 * columns, work + 4 * columns, work + 5 * columns);
  }
  fhi_free(block);
  fhi_free(pivots);
  return info >= 1 && info != 5;
}

#else

bool cli_lm_is_there(void) {
  return false;
}

bool cli_lm_solve(fh_fit_fn fn, void *user, int m, int n, double *x) {
  (void)fn;
  (void)user;
  (void)m;
  (void)n;
  (void)x;
  return false;
}
#endif
