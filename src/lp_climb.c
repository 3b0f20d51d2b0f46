// SPDX-License-Identifier: MIT
// Climbing from corner to corner of a linear programme until nothing gains. Serves model.md, sections 2 and 9.
// Phase 1 drives the artificial variables to zero, phase 2 climbs; none of them ever comes back.
#include <math.h>
#include <string.h>

#include "lp_work.h"

static const double COST = 1e-10;
static const double TIE = 1e-12;  // tells equal ratios from different ones

static double cost_of(const fhi_lp_work *w, int label) {
  return label < w->cols ? w->lp->c[label] * w->col_scale[label] * w->c_scale : 0.0;
}

// What a unit of each variable adds: in phase 1 to minus the sum of the artificial ones, in phase 2 to c x.
// Computed anew each time, which costs as much as the pivot and never drifts.
static void set_gains(fhi_lp_work *w, bool first_phase) {
  memset(w->gain, 0, (size_t)w->stride * sizeof *w->gain);
  for (int j = 0; j < w->cols && !first_phase; j++) {
    w->gain[j] = cost_of(w, j);
  }
  for (int i = 0; i < w->rows; i++) {
    int label = fhi_lp_label(w, i);
    double weight = first_phase ? (fhi_lp_artificial(w, label) ? -1.0 : 0.0) : cost_of(w, label);
    if (!(fabs(weight) > 0.0)) {
      continue;
    }
    fhi_lp_take(w->gain, fhi_lp_row(w, i), weight, w->stride);
  }
  // A basic variable gains nothing; what is left there is rounding.
  for (int i = 0; i < w->rows; i++) {
    if (!fhi_lp_artificial(w, fhi_lp_label(w, i))) {
      w->gain[fhi_lp_label(w, i)] = 0.0;
    }
  }
}

// The variable to bring in: the one that gains most, or the first that gains at all. -1: none
static int choose_column(const fhi_lp_work *w, bool least_index) {
  int best = -1;
  double most = COST;
  for (int j = 0; j < w->width - 1; j++) {
    if (w->gain[j] > most) {
      best = j;
      most = least_index ? (double)INFINITY : w->gain[j];
    }
  }
  return best;
}

// How far the entering variable may grow before this row's basic one is used up. Infinite when it never is.
// In phase 2 an artificial one may not move at all, so any entry in its row stops the climb, and it leaves.
static double room_in(const fhi_lp_work *w, int row, int col, bool first_phase) {
  double entry = fhi_lp_row(w, row)[col];
  if (!first_phase && fhi_lp_artificial(w, fhi_lp_label(w, row))) {
    return fabs(entry) > FHI_LP_PIVOT ? 0.0 : (double)INFINITY;
  }
  return entry > FHI_LP_PIVOT ? fhi_lp_right_side(w, row) / entry : (double)INFINITY;
}

// Among rows that are used up at once: artificial ones first (they never return), then the least label when that rule is
// on (Bland 1977, New finite pivoting rules for the simplex method: no basis comes twice), else the largest pivot.
static bool better_row(const fhi_lp_work *w, int row, int best, int col, bool least_index) {
  bool a = fhi_lp_artificial(w, fhi_lp_label(w, row));
  bool b = fhi_lp_artificial(w, fhi_lp_label(w, best));
  if (a != b) {
    return a;
  }
  if (least_index) {
    return fhi_lp_label(w, row) < fhi_lp_label(w, best);
  }
  return fabs(fhi_lp_row(w, row)[col]) > fabs(fhi_lp_row(w, best)[col]);
}

static int choose_row(const fhi_lp_work *w, int col, bool first_phase, bool least_index, double *step) {
  int best = -1;
  *step = (double)INFINITY;
  for (int i = 0; i < w->rows; i++) {
    w->spare[i] = room_in(w, i, col, first_phase);
    *step = w->spare[i] < *step ? w->spare[i] : *step;
  }
  for (int i = 0; i < w->rows && isfinite(*step); i++) {
    bool tied = w->spare[i] <= *step + TIE;
    if (tied && (best < 0 || better_row(w, i, best, col, least_index))) {
      best = i;
    }
  }
  return best;
}

// Climbs until nothing gains. Largest gain is quick but may walk in a circle where steps have no length; after some such
// steps in a row the least-index rule takes over, until a step has length again.
static fhi_lp_end climb(fhi_lp_work *w, bool first_phase) {
  int stuck = 0;
  while (w->pivots < w->limit) {
    bool least_index = w->least_index || stuck > w->rows + 10;
    set_gains(w, first_phase);
    int col = choose_column(w, least_index);
    if (col < 0) {
      return FHI_LP_OPTIMAL;
    }
    double step = 0.0;
    int row = choose_row(w, col, first_phase, least_index, &step);
    if (row < 0) {
      return FHI_LP_UNBOUNDED;
    }
    stuck = step > TIE ? 0 : stuck + 1;
    fhi_lp_pivot(w, row, col);
    w->basis[row] = col;
    w->pivots++;
    if (!fhi_lp_lay_to_zero(w)) {
      return FHI_LP_UNRESOLVED;
    }
  }
  return FHI_LP_UNRESOLVED;
}

// What the artificial variables still hold: 0 when the rows can all be kept.
static double shortfall(const fhi_lp_work *w) {
  double sum = 0.0;
  for (int i = 0; i < w->rows; i++) {
    sum += fhi_lp_artificial(w, fhi_lp_label(w, i)) ? fabs(fhi_lp_right_side(w, i)) : 0.0;
  }
  return sum;
}

fhi_lp_end fhi_lp_first_phase(fhi_lp_work *w) {
  if (shortfall(w) > FHI_LP_FEASIBLE) {
    fhi_lp_end end = climb(w, true);
    if (end != FHI_LP_OPTIMAL) {
      return FHI_LP_UNRESOLVED;  // phase 1 is bounded by zero: "unbounded" there is rounding
    }
    if (shortfall(w) > FHI_LP_FEASIBLE) {
      return FHI_LP_INFEASIBLE;
    }
  }
  return FHI_LP_OPTIMAL;
}

fhi_lp_end fhi_lp_second_phase(fhi_lp_work *w, fhi_lp_end first) {
  return first == FHI_LP_OPTIMAL ? climb(w, false) : first;
}
