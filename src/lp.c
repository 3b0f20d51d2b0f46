// SPDX-License-Identifier: MIT
// A small dense linear programme: how large, how small, how far, within given bounds. Serves model.md, sections 2 and 9.
//
// Two-phase simplex on a dense tableau. Every row starts with its slack or with an artificial variable as its basic one;
// phase 1 drives the artificial ones to zero, phase 2 climbs. Artificial columns are never stored: none ever comes back.
// Rows, columns, bounds and costs are scaled by powers of two, which is exact. When the climb ends the tableau is built
// anew from the given numbers for the basis it ended in, and the climb goes on from there: the answer then carries the
// rounding of one elimination, not of the whole path. An answer that does not satisfy its own rows is not given out.
#include "lp.h"

#include <math.h>
#include <string.h>

// Entries are near 1 after scaling. Below PIVOT a number is taken for rounding and never divided by: a wrong pivot of
// 1e-9 would lift errors of 1e-16 to 1e-7. FEASIBLE is the promise of the header. TIE tells equal ratios from different ones.
static const double PIVOT = 1e-9;
static const double COST = 1e-10;
static const double FEASIBLE = 1e-9;
static const double TIE = 1e-12;

// Labels of variables: 0 .. cols-1 the caller's, then one slack a row, then one artificial a row.
typedef struct work {
  const fhi_lp *lp;
  int rows, cols;
  int width;        // of a tableau row: cols, a slack a row, right side
  double *tableau;  // rows x width
  double *basis;    // rows: the label of each row's basic variable (whole numbers; doubles since scratch is)
  double *spare;    // rows
  double *row_scale, *col_scale;
  double *gain;  // width: what a unit of each variable adds to the goal of this phase
  double *b_scale;  // one
  double c_scale;
  int pivots, limit;
  bool least_index;  // throughout, not only when stuck
  fhi_lp_many *many;  // what the goals share, or NULL
} work;

static const double NOTHING = -1.0;  // no variable's label: no basis is kept here
enum { CORNERS = 8 };  // rebuilt tableaus that are kept: the extremes of a rig's strands stand in few corners

size_t fhi_lp_scratch(int rows, int cols) {
  if (rows < 0 || cols < 0) {
    return 0;
  }
  size_t m = (size_t)rows;
  size_t n = (size_t)cols;
  size_t width = n + m + 1;
  return m * width + 3 * m + n + width + 1;
}

// Doubles of a tableau with its basis.
static size_t tableau_size(int rows, int cols) {
  size_t m = (size_t)rows;
  return m * ((size_t)cols + m + 1) + m;
}

// Behind the scratch of one solve: the end of phase 1, then each kept corner with the basis that it was rebuilt from.
size_t fhi_lp_many_scratch(int rows, int cols) {
  if (rows < 0 || cols < 0) {
    return 0;
  }
  return fhi_lp_scratch(rows, cols) + tableau_size(rows, cols) + CORNERS * (tableau_size(rows, cols) + (size_t)rows);
}

static double *row_of(const work *w, int row) {
  return w->tableau + (size_t)row * (size_t)w->width;
}

static double given(const work *w, int row, int col) {
  return w->lp->a[(size_t)row * (size_t)w->cols + (size_t)col];
}

static int label_of(const work *w, int row) {
  return (int)w->basis[row];
}

static bool artificial(const work *w, int label) {
  return label >= w->cols + w->rows;
}

static double right_side(const work *w, int row) {
  return row_of(w, row)[w->width - 1];
}

// ------------------------------------------------------------------------------------------------------- setting up

// The power of two that brings `size` into 0.5 .. 1; 1 for zero.
static double scale_for(double size) {
  int exponent = 0;
  if (!(size > 0.0)) {
    return 1.0;
  }
  (void)frexp(size, &exponent);
  return ldexp(1.0, -exponent);
}

static void set_scales(work *w) {
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

static void set_goal_scale(work *w) {
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

static void fill_tableau(work *w) {
  for (int i = 0; i < w->rows; i++) {
    double *row = row_of(w, i);
    double factor = w->row_scale[i] * turn_of(w->lp, i);
    for (int j = 0; j < w->cols; j++) {
      row[j] = given(w, i, j) * factor * w->col_scale[j];
    }
    for (int j = w->cols; j < w->cols + w->rows; j++) {
      row[j] = 0.0;
    }
    row[w->cols + i] = slack_of(w->lp, i);
    row[w->width - 1] = w->lp->b[i] * factor * *w->b_scale;
  }
}

static void start_basis(work *w) {
  for (int i = 0; i < w->rows; i++) {
    w->basis[i] = slack_of(w->lp, i) > 0.0 ? w->cols + i : w->cols + w->rows + i;
  }
}

// --------------------------------------------------------------------------------------------------------- pivoting

static void pivot(work *w, int row, int col) {
  double *p = row_of(w, row);
  double inverse = 1.0 / p[col];
  for (int j = 0; j < w->width; j++) {
    p[j] *= inverse;
  }
  p[col] = 1.0;
  for (int i = 0; i < w->rows; i++) {
    double *q = row_of(w, i);
    double factor = q[col];
    if (i == row || !(fabs(factor) > 0.0)) {
      continue;
    }
    for (int j = 0; j < w->width; j++) {
      q[j] -= factor * p[j];
    }
    q[col] = 0.0;
  }
}

// Small negative right sides are rounding: they are laid to 0. @return false when one is too large for that
static bool lay_to_zero(work *w) {
  for (int i = 0; i < w->rows; i++) {
    double *b = &row_of(w, i)[w->width - 1];
    if (*b < -FEASIBLE) {
      return false;
    }
    *b = *b < 0.0 ? 0.0 : *b;
  }
  return true;
}

// The tableau of the present basis, from the given numbers: Gauss-Jordan, largest pivot of each column. An artificial's own
// row stays its own; the other rows go to whichever column finds its largest entry there.
static bool rebuild_anew(work *w) {
  fill_tableau(w);
  for (int i = 0; i < w->rows; i++) {
    w->spare[i] = -1.0;
  }
  for (int i = 0; i < w->rows; i++) {
    int label = label_of(w, i);
    if (artificial(w, label)) {
      w->spare[label - w->cols - w->rows] = label;
    }
  }
  for (int k = 0; k < w->rows; k++) {
    int label = label_of(w, k);
    if (artificial(w, label)) {
      continue;
    }
    int best = -1;
    for (int i = 0; i < w->rows; i++) {
      if (w->spare[i] < 0.0 && (best < 0 || fabs(row_of(w, i)[label]) > fabs(row_of(w, best)[label]))) {
        best = i;
      }
    }
    if (best < 0 || !(fabs(row_of(w, best)[label]) > PIVOT * 1e-2)) {
      return false;
    }
    pivot(w, best, label);
    w->spare[best] = label;
  }
  for (int i = 0; i < w->rows; i++) {
    w->basis[i] = w->spare[i];
  }
  return lay_to_zero(w);
}

// A tableau and its basis lie one behind the other in every place that holds them.
static double *kept_corner(const work *w, int corner) {
  size_t one = tableau_size(w->rows, w->cols);
  return w->many->scratch + fhi_lp_scratch(w->rows, w->cols) + one + (size_t)corner * (one + (size_t)w->rows);
}

static bool rebuild(work *w) {
  fhi_lp_many *many = w->many;
  const size_t one = tableau_size(w->rows, w->cols), basis = (size_t)w->rows * sizeof *w->basis;
  if (many == NULL) {
    return rebuild_anew(w);
  }
  for (int k = 0; k < CORNERS; k++) {
    const double *from = kept_corner(w, k) + one;
    if (w->rows == 0 || (from[0] == w->basis[0] && memcmp(from, w->basis, basis) == 0)) {
      memcpy(w->tableau, kept_corner(w, k), one * sizeof *w->tableau);
      return true;
    }
  }
  double *to = kept_corner(w, many->oldest);
  many->oldest = (many->oldest + 1) % CORNERS;
  memcpy(to + one, w->basis, basis);
  bool fine = rebuild_anew(w);
  memcpy(to, w->tableau, one * sizeof *to);
  if (!fine) {
    to[one] = NOTHING;
  }
  return fine;
}

// --------------------------------------------------------------------------------------------------------- climbing

static double cost_of(const work *w, int label) {
  return label < w->cols ? w->lp->c[label] * w->col_scale[label] * w->c_scale : 0.0;
}

// What a unit of each variable adds: in phase 1 to minus the sum of the artificial ones, in phase 2 to c x.
// Computed anew each time, which costs as much as the pivot and never drifts.
static void set_gains(work *w, bool first_phase) {
  for (int j = 0; j < w->width - 1; j++) {
    w->gain[j] = first_phase ? 0.0 : cost_of(w, j);
  }
  for (int i = 0; i < w->rows; i++) {
    int label = label_of(w, i);
    double weight = first_phase ? (artificial(w, label) ? -1.0 : 0.0) : cost_of(w, label);
    if (!(fabs(weight) > 0.0)) {
      continue;
    }
    const double *row = row_of(w, i);
    for (int j = 0; j < w->width - 1; j++) {
      w->gain[j] -= weight * row[j];
    }
  }
  // A basic variable gains nothing; what is left there is rounding.
  for (int i = 0; i < w->rows; i++) {
    if (!artificial(w, label_of(w, i))) {
      w->gain[label_of(w, i)] = 0.0;
    }
  }
}

// The variable to bring in: the one that gains most, or the first that gains at all. -1: none
static int choose_column(const work *w, bool least_index) {
  int best = -1;
  for (int j = 0; j < w->width - 1; j++) {
    if (w->gain[j] > COST && (best < 0 || w->gain[j] > w->gain[best])) {
      best = j;
      if (least_index) {
        break;
      }
    }
  }
  return best;
}

// How far the entering variable may grow before this row's basic one is used up. Infinite when it never is.
// In phase 2 an artificial one may not move at all, so any entry in its row stops the climb, and it leaves.
static double room_in(const work *w, int row, int col, bool first_phase) {
  double entry = row_of(w, row)[col];
  if (!first_phase && artificial(w, label_of(w, row))) {
    return fabs(entry) > PIVOT ? 0.0 : (double)INFINITY;
  }
  return entry > PIVOT ? right_side(w, row) / entry : (double)INFINITY;
}

// Among rows that are used up at once: artificial ones first (they never return), then the least label when that rule is
// on (Bland 1977, New finite pivoting rules for the simplex method: no basis comes twice), else the largest pivot.
static bool better_row(const work *w, int row, int best, int col, bool least_index) {
  bool a = artificial(w, label_of(w, row));
  bool b = artificial(w, label_of(w, best));
  if (a != b) {
    return a;
  }
  if (least_index) {
    return label_of(w, row) < label_of(w, best);
  }
  return fabs(row_of(w, row)[col]) > fabs(row_of(w, best)[col]);
}

static int choose_row(const work *w, int col, bool first_phase, bool least_index, double *step) {
  int best = -1;
  *step = (double)INFINITY;
  for (int i = 0; i < w->rows; i++) {
    *step = fmin(*step, room_in(w, i, col, first_phase));
  }
  for (int i = 0; i < w->rows && isfinite(*step); i++) {
    bool tied = room_in(w, i, col, first_phase) <= *step + TIE;
    if (tied && (best < 0 || better_row(w, i, best, col, least_index))) {
      best = i;
    }
  }
  return best;
}

// Climbs until nothing gains. Largest gain is quick but may walk in a circle where steps have no length; after some such
// steps in a row the least-index rule takes over, until a step has length again.
static fhi_lp_end climb(work *w, bool first_phase) {
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
    pivot(w, row, col);
    w->basis[row] = col;
    w->pivots++;
    if (!lay_to_zero(w)) {
      return FHI_LP_UNRESOLVED;
    }
  }
  return FHI_LP_UNRESOLVED;
}

// What the artificial variables still hold: 0 when the rows can all be kept.
static double shortfall(const work *w) {
  double sum = 0.0;
  for (int i = 0; i < w->rows; i++) {
    sum += artificial(w, label_of(w, i)) ? fabs(right_side(w, i)) : 0.0;
  }
  return sum;
}

static fhi_lp_end first_phase(work *w) {
  if (shortfall(w) > FEASIBLE) {
    fhi_lp_end end = climb(w, true);
    if (end != FHI_LP_OPTIMAL) {
      return FHI_LP_UNRESOLVED;  // phase 1 is bounded by zero: "unbounded" there is rounding
    }
    if (shortfall(w) > FEASIBLE) {
      return FHI_LP_INFEASIBLE;
    }
  }
  return FHI_LP_OPTIMAL;
}

static fhi_lp_end second_phase(work *w, fhi_lp_end first) {
  return first == FHI_LP_OPTIMAL ? climb(w, false) : first;
}

// From the slacks to rows that are all kept. Goals that share it begin where it ended.
static fhi_lp_end start(work *w) {
  fill_tableau(w);
  start_basis(w);
  return first_phase(w);
}

static double *kept_start(const work *w) {
  return w->many->scratch + fhi_lp_scratch(w->rows, w->cols);
}

static fhi_lp_end start_again(work *w) {
  memcpy(w->tableau, kept_start(w), tableau_size(w->rows, w->cols) * sizeof *w->tableau);
  w->pivots = w->many->pivots;
  return w->many->first;
}

// Climbs, rebuilds, and climbs on, until a rebuilt tableau says the same at once. Seldom more than two rounds.
static fhi_lp_end settle(work *w) {
  bool shared = w->many != NULL && !w->least_index;
  for (int round = 0; round < 8; round++) {
    int before = w->pivots;
    fhi_lp_end end = second_phase(w, round > 0 ? first_phase(w) : shared ? start_again(w) : start(w));
    if (end == FHI_LP_UNRESOLVED || (round > 0 && w->pivots == before)) {
      return end;
    }
    if (!rebuild(w)) {
      return FHI_LP_UNRESOLVED;
    }
  }
  return FHI_LP_UNRESOLVED;
}

// ----------------------------------------------------------------------------------------------------------- answer

static void read_answer(const work *w, double *x) {
  for (int j = 0; j < w->cols; j++) {
    x[j] = 0.0;
  }
  for (int i = 0; i < w->rows; i++) {
    int label = label_of(w, i);
    if (label < w->cols) {
      x[label] = right_side(w, i) * w->col_scale[label] / *w->b_scale;
    }
  }
}

static double residual_of(const fhi_lp *lp, const double *x) {
  double worst = 0.0;
  double largest_b = 1.0;
  for (int i = 0; i < lp->rows; i++) {
    double sum = -lp->b[i];
    for (int j = 0; j < lp->cols; j++) {
      sum += lp->a[(size_t)i * (size_t)lp->cols + (size_t)j] * x[j];
    }
    double miss = lp->sense[i] == '<' ? sum : lp->sense[i] == '>' ? -sum : fabs(sum);
    worst = fmax(worst, miss);
    largest_b = fmax(largest_b, fabs(lp->b[i]));
  }
  for (int j = 0; j < lp->cols; j++) {
    worst = fmax(worst, -x[j]);
  }
  return worst / largest_b;
}

static bool all_finite(const double *x, int count) {
  bool fine = true;
  for (int j = 0; j < count; j++) {
    fine = fine && isfinite(x[j]);
  }
  return fine;
}

static bool well_formed(const fhi_lp *lp) {
  if (lp->rows < 0 || lp->cols < 0) {
    return false;
  }
  bool fine = all_finite(lp->b, lp->rows);
  for (int i = 0; i < lp->rows; i++) {
    fine = fine && (lp->sense[i] == '<' || lp->sense[i] == '=' || lp->sense[i] == '>');
    fine = fine && all_finite(lp->a + (size_t)i * (size_t)lp->cols, lp->cols);
  }
  return fine;
}

static void lay_out(work *w, const fhi_lp *lp, double *scratch) {
  w->lp = lp;
  w->rows = lp->rows;
  w->cols = lp->cols;
  w->width = lp->rows + lp->cols + 1;
  w->tableau = scratch;
  w->basis = w->tableau + (size_t)w->rows * (size_t)w->width;
  w->spare = w->basis + w->rows;
  w->row_scale = w->spare + w->rows;
  w->col_scale = w->row_scale + w->rows;
  w->gain = w->col_scale + w->cols;
  w->b_scale = w->gain + w->width;
  w->many = NULL;
  // Climbs take two to three times as many steps as there are rows; the limit is far above that and yet ends.
  w->limit = 1000 + 50 * (lp->rows + lp->cols);
}

static fhi_lp_end answer(work *w, bool least_index, double *x, double *residual) {
  w->least_index = least_index;
  w->pivots = 0;
  fhi_lp_end end = settle(w);
  if (end == FHI_LP_OPTIMAL) {
    read_answer(w, x);
    *residual = residual_of(w->lp, x);
    end = *residual <= FEASIBLE ? end : FHI_LP_UNRESOLVED;
  }
  return end;
}

// @param sound the rows are well formed, and their scales set
static fhi_lp_end solve(work *w, bool sound, double *x, double *value, double *residual) {
  const fhi_lp *lp = w->lp;
  fhi_lp_end end = FHI_LP_UNRESOLVED;
  if (sound && all_finite(lp->c, lp->cols)) {
    set_goal_scale(w);
    end = answer(w, false, x, residual);
    // Another path through the same corners is another chance for the rounding.
    end = end == FHI_LP_UNRESOLVED ? answer(w, true, x, residual) : end;
  }
  *value = 0.0;
  for (int j = 0; j < lp->cols; j++) {
    if (end != FHI_LP_OPTIMAL) {
      x[j] = (double)NAN;
    }
    *value += lp->c[j] * x[j];
  }
  if (end != FHI_LP_OPTIMAL) {
    *value = (double)NAN;
    *residual = (double)NAN;
  }
  return end;
}

fhi_lp_end fhi_lp_solve(const fhi_lp *lp, double *x, double *value, double *residual, double *scratch) {
  work w;
  bool sound = well_formed(lp);
  lay_out(&w, lp, scratch);
  if (sound) {
    set_scales(&w);
  }
  return solve(&w, sound, x, value, residual);
}

void fhi_lp_many_begin(const fhi_lp *lp, fhi_lp_many *many, double *scratch) {
  work w;
  *many = (fhi_lp_many){.lp = *lp, .scratch = scratch, .sound = well_formed(lp)};
  if (!many->sound) {
    return;
  }
  lay_out(&w, lp, scratch);
  set_scales(&w);
  w.least_index = false;
  w.pivots = 0;
  w.many = many;
  many->first = start(&w);
  many->pivots = w.pivots;
  memcpy(kept_start(&w), w.tableau, tableau_size(w.rows, w.cols) * sizeof *w.tableau);
  for (int k = 0; k < CORNERS && w.rows > 0; k++) {
    kept_corner(&w, k)[tableau_size(w.rows, w.cols)] = NOTHING;
  }
}

fhi_lp_end fhi_lp_many_solve(fhi_lp_many *many, const double *c, double *x, double *value, double *residual) {
  work w;
  many->lp.c = c;
  lay_out(&w, &many->lp, many->scratch);
  w.many = many;
  return solve(&w, many->sound, x, value, residual);
}
