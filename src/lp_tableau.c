// SPDX-License-Identifier: MIT
// The tableau of a small linear programme: from the given numbers, turned by one pivot, or built anew for a basis.
// Serves model.md, sections 2 and 9.
//
// Rows, columns, bounds and costs are scaled by powers of two, which is exact. Artificial columns are never stored.
#include <math.h>

#include "lp_work.h"

static double given(const fhi_lp_work *w, int row, int col) {
  return w->lp->a[(size_t)row * (size_t)w->cols + (size_t)col];
}

// The power of two that brings `size` into 0.5 .. 1; 1 for zero.
static double scale_for(double size) {
  int exponent = 0;
  if (!(size > 0.0)) {
    return 1.0;
  }
  (void)frexp(size, &exponent);
  return ldexp(1.0, -exponent);
}

void fhi_lp_set_scales(fhi_lp_work *w) {
  const fhi_lp *lp = w->lp;
  double largest_b = 0.0;
  for (int i = 0; i < w->rows; i++) {
    double largest = 0.0;
    for (int j = 0; j < w->cols; j++) {
      largest = fmax(largest, fabs(given(w, i, j)));
    }
    w->row_scale[i] = scale_for(largest);
    largest_b = fmax(largest_b, fabs(lp->b[i]) * w->row_scale[i]);
  }
  for (int j = 0; j < w->cols; j++) {
    double largest = 0.0;
    for (int i = 0; i < w->rows; i++) {
      largest = fmax(largest, fabs(given(w, i, j)) * w->row_scale[i]);
    }
    w->col_scale[j] = scale_for(largest);
  }
  *w->b_scale = scale_for(largest_b);
}

void fhi_lp_set_goal_scale(fhi_lp_work *w) {
  double largest = 0.0;
  for (int j = 0; j < w->cols; j++) {
    largest = fmax(largest, fabs(w->lp->c[j]) * w->col_scale[j]);
  }
  w->c_scale = scale_for(largest);
}

// Row i turned so that its right side is not negative: -1 or 1. A '>' row with 0 is turned too, since its slack then serves.
static double turn_of(const fhi_lp *lp, int row) {
  return lp->b[row] < 0.0 || (lp->sense[row] == '>' && !(lp->b[row] > 0.0)) ? -1.0 : 1.0;
}

// The slack's entry in its own turned row: 1, -1, or 0 for an equation.
static double slack_of(const fhi_lp *lp, int row) {
  return lp->sense[row] == '=' ? 0.0 : lp->sense[row] == '<' ? turn_of(lp, row) : -turn_of(lp, row);
}

void fhi_lp_fill(fhi_lp_work *w) {
  for (int i = 0; i < w->rows; i++) {
    double *row = fhi_lp_row(w, i);
    double factor = w->row_scale[i] * turn_of(w->lp, i);
    for (int j = 0; j < w->cols; j++) {
      row[j] = given(w, i, j) * factor * w->col_scale[j];
    }
    for (int j = w->cols; j < w->stride; j++) {
      row[j] = 0.0;
    }
    row[w->cols + i] = slack_of(w->lp, i);
    row[w->width - 1] = w->lp->b[i] * factor * *w->b_scale;
  }
}

void fhi_lp_start_basis(fhi_lp_work *w) {
  for (int i = 0; i < w->rows; i++) {
    w->basis[i] = slack_of(w->lp, i) > 0.0 ? w->cols + i : w->cols + w->rows + i;
  }
}

// --------------------------------------------------------------------------------------------------------- pivoting

void fhi_lp_pivot(fhi_lp_work *w, int row, int col) {
  double *p = fhi_lp_row(w, row);
  double inverse = 1.0 / p[col];
  for (int j = 0; j < w->stride && inverse != 1.0; j += FHI_LP_ABREAST) {
    for (int k = 0; k < FHI_LP_ABREAST; k++) {
      p[j + k] *= inverse;
    }
  }
  p[col] = 1.0;
  for (int i = 0; i < w->rows; i++) {
    double *q = fhi_lp_row(w, i);
    double factor = q[col];
    if (i == row || !(fabs(factor) > 0.0)) {
      continue;
    }
    fhi_lp_take(q, p, factor, w->stride);
    q[col] = 0.0;
  }
}

// Small negative right sides are rounding: they are laid to 0. @return false when one is too large for that
bool fhi_lp_lay_to_zero(fhi_lp_work *w) {
  for (int i = 0; i < w->rows; i++) {
    double *b = &fhi_lp_row(w, i)[w->width - 1];
    if (*b < -FHI_LP_FEASIBLE) {
      return false;
    }
    *b = *b < 0.0 ? 0.0 : *b;
  }
  return true;
}

// A slack whose own row is still free stands there alone, as 1 or -1: nothing to look for, and nothing to take from other rows.
static bool own_slack(fhi_lp_work *w, int label) {
  int row = label - w->cols;
  if (row < 0 || !(w->spare[row] < 0.0)) {
    return false;
  }
  double *p = fhi_lp_row(w, row);
  if (p[label] < 0.0) {
    for (int j = 0; j < w->stride; j++) {
      p[j] = -p[j];
    }
  }
  p[label] = 1.0;
  w->spare[row] = label;
  return true;
}

// The tableau of the present basis, from the given numbers: Gauss-Jordan, largest pivot of each column. An artificial's own
// row stays its own; the other rows go to whichever column finds its largest entry there.
bool fhi_lp_rebuild(fhi_lp_work *w) {
  fhi_lp_fill(w);
  for (int i = 0; i < w->rows; i++) {
    w->spare[i] = -1.0;
  }
  for (int i = 0; i < w->rows; i++) {
    int label = fhi_lp_label(w, i);
    if (fhi_lp_artificial(w, label)) {
      w->spare[label - w->cols - w->rows] = label;
    }
  }
  for (int k = 0; k < w->rows; k++) {
    int label = fhi_lp_label(w, k);
    if (fhi_lp_artificial(w, label) || own_slack(w, label)) {
      continue;
    }
    int best = -1;
    double largest = -1.0;
    for (int i = 0; i < w->rows; i++) {
      double size = fabs(fhi_lp_row(w, i)[label]);
      if (w->spare[i] < 0.0 && size > largest) {
        best = i;
        largest = size;
      }
    }
    if (best < 0 || !(largest > FHI_LP_PIVOT * 1e-2)) {
      return false;
    }
    fhi_lp_pivot(w, best, label);
    w->spare[best] = label;
  }
  for (int i = 0; i < w->rows; i++) {
    w->basis[i] = w->spare[i];
  }
  return fhi_lp_lay_to_zero(w);
}
