// SPDX-License-Identifier: MIT
// Small dense linear systems, in place: Gaussian elimination with partial pivoting and back substitution.
#include "linear.h"

#include <math.h>

static void swap_rows(double *a, double *b, int p, int q, int n, int stride) {
  for (int c = p; c < n; c++) {
    double x = a[p * stride + c];
    a[p * stride + c] = a[q * stride + c];
    a[q * stride + c] = x;
  }
  double y = b[p];
  b[p] = b[q];
  b[q] = y;
}

bool fhi_linear_solve(double *a, double *b, int n, int stride, double tiny) {
  for (int p = 0; p < n; p++) {
    int best = p;
    for (int r = p + 1; r < n; r++) {
      best = fabs(a[r * stride + p]) > fabs(a[best * stride + p]) ? r : best;
    }
    if (!(fabs(a[best * stride + p]) > tiny)) {
      return false;
    }
    if (best != p) {
      swap_rows(a, b, p, best, n, stride);
    }
    for (int r = p + 1; r < n; r++) {
      double f = a[r * stride + p] / a[p * stride + p];
      for (int c = p + 1; c < n && f != 0.0; c++) {
        a[r * stride + c] -= f * a[p * stride + c];
      }
      b[r] -= f * b[p];
    }
  }
  for (int p = n - 1; p >= 0; p--) {
    for (int c = p + 1; c < n; c++) {
      b[p] -= a[p * stride + c] * b[c];
    }
    b[p] /= a[p * stride + p];
  }
  return true;
}
