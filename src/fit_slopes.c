// SPDX-License-Identifier: MIT
// How residuals change with what is fitted, and how sure the fit then is. Model section 14.
#include <math.h>
#include <string.h>

#include "fit.h"
#include "linear.h"
#include "memory.h"

bool fhi_fit_slopes(fh_fit_fn fn, void *user, int m, int n, const double *x, double *scratch, double *jacobian) {
  double moved[64];
  double *other = scratch + m;
  if (n > 64) {
    return false;
  }
  memcpy(moved, x, (size_t)n * sizeof *moved);
  for (int k = 0; k < n; k++) {
    // The cube root of rounding: where the errors of rounding and of curvature are alike. The step that was made is used.
    double step = 6e-6 * fmax(fabs(x[k]), 1e-6);
    volatile double up = x[k] + step, down = x[k] - step;
    moved[k] = up;
    bool good = fn(user, m, n, moved, scratch);
    moved[k] = down;
    good = good && fn(user, m, n, moved, other);
    moved[k] = x[k];
    if (!good) {
      return false;
    }
    for (int i = 0; i < m; i++) {
      jacobian[i * n + k] = (scratch[i] - other[i]) / (up - down);
    }
  }
  return true;
}

// Columns are scaled to length one first, so that a small pivot means "nearly the same column", whatever their units.
bool fhi_fit_inverse(const double *jacobian, int m, int n, double *cov) {
  double size[64];
  double *a = fhi_alloc((size_t)(n * n), sizeof *a), *b = fhi_alloc((size_t)n, sizeof *b);
  bool good = a != NULL && b != NULL && n <= 64;
  for (int k = 0; k < n && good; k++) {
    size[k] = 0.0;
    for (int i = 0; i < m; i++) {
      size[k] += jacobian[i * n + k] * jacobian[i * n + k];
    }
    size[k] = sqrt(size[k]);
    good = size[k] > 0.0 && isfinite(size[k]);
  }
  for (int column = 0; column < n && good; column++) {
    for (int r = 0; r < n; r++) {
      for (int c = 0; c < n; c++) {
        double sum = 0.0;
        for (int i = 0; i < m; i++) {
          sum += jacobian[i * n + r] * jacobian[i * n + c];
        }
        a[r * n + c] = sum / (size[r] * size[c]);
      }
      b[r] = r == column ? 1.0 : 0.0;
    }
    good = fhi_linear_solve(a, b, n, n, 1e-11);
    for (int r = 0; r < n && good; r++) {
      cov[r * n + column] = b[r] / (size[r] * size[column]);
    }
  }
  fhi_free(a);
  fhi_free(b);
  return good;
}
