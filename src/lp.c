// SPDX-License-Identifier: MIT
// A small dense linear programme: how large, how small, how far, within given bounds. Serves model.md, sections 2 and 9.
//
// Two-phase simplex on a dense tableau. Every row starts with its slack or with an artificial variable as its basic one;
// phase 1 drives the artificial ones to zero, phase 2 climbs (src/lp_climb.c). When the climb ends the tableau is built
// anew from the given numbers for the basis it ended in (src/lp_tableau.c), and the climb goes on from there: the answer then
// carries the rounding of one elimination, not of the whole path. An answer that does not satisfy its own rows is not given out.
#include <math.h>
#include <string.h>

#include "lp_work.h"

static const double NOTHING = -1.0;  // no variable's label: no basis is kept here
enum { CORNERS = 8 };  // rebuilt tableaus that are kept: the extremes of a rig's strands stand in few corners

static size_t stride_of(int rows, int cols) {
  return ((size_t)rows + (size_t)cols + 1 + FHI_LP_ABREAST - 1) / FHI_LP_ABREAST * FHI_LP_ABREAST;
}

size_t fhi_lp_scratch(int rows, int cols) {
  if (rows < 0 || cols < 0) {
    return 0;
  }
  size_t m = (size_t)rows;
  size_t stride = stride_of(rows, cols);
  return m * stride + 3 * m + (size_t)cols + stride + 1;
}

// Doubles of a tableau with its basis.
static size_t tableau_size(int rows, int cols) {
  size_t m = (size_t)rows;
  return m * stride_of(rows, cols) + m;
}

// Behind the scratch of one solve: the end of phase 1, then each kept corner with the basis that it was rebuilt from.
size_t fhi_lp_many_scratch(int rows, int cols) {
  if (rows < 0 || cols < 0) {
    return 0;
  }
  return fhi_lp_scratch(rows, cols) + tableau_size(rows, cols) + CORNERS * (tableau_size(rows, cols) + (size_t)rows);
}

// ------------------------------------------------------------------------------------------------------ kept corners

// A tableau and its basis lie one behind the other in every place that holds them.
static double *kept_corner(const fhi_lp_work *w, int corner) {
  size_t one = tableau_size(w->rows, w->cols);
  return w->many->scratch + fhi_lp_scratch(w->rows, w->cols) + one + (size_t)corner * (one + (size_t)w->rows);
}

static bool rebuild(fhi_lp_work *w) {
  fhi_lp_many *many = w->many;
  const size_t one = tableau_size(w->rows, w->cols), basis = (size_t)w->rows * sizeof *w->basis;
  if (many == NULL) {
    return fhi_lp_rebuild(w);
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
  bool fine = fhi_lp_rebuild(w);
  memcpy(to, w->tableau, one * sizeof *to);
  if (!fine) {
    to[one] = NOTHING;
  }
  return fine;
}

// --------------------------------------------------------------------------------------------------------- settling

// From the slacks to rows that are all kept. Goals that share it begin where it ended.
static fhi_lp_end start(fhi_lp_work *w) {
  fhi_lp_fill(w);
  fhi_lp_start_basis(w);
  return fhi_lp_first_phase(w);
}

static double *kept_start(const fhi_lp_work *w) {
  return w->many->scratch + fhi_lp_scratch(w->rows, w->cols);
}

static fhi_lp_end start_again(fhi_lp_work *w) {
  memcpy(w->tableau, kept_start(w), tableau_size(w->rows, w->cols) * sizeof *w->tableau);
  w->pivots = w->many->pivots;
  return w->many->first;
}

// Climbs, rebuilds, and climbs on, until a rebuilt tableau says the same at once. Seldom more than two rounds.
static fhi_lp_end settle(fhi_lp_work *w) {
  bool shared = w->many != NULL && !w->least_index;
  for (int round = 0; round < 8; round++) {
    int before = w->pivots;
    fhi_lp_end end = fhi_lp_second_phase(w, round > 0 ? fhi_lp_first_phase(w) : shared ? start_again(w) : start(w));
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

static void read_answer(const fhi_lp_work *w, double *x) {
  for (int j = 0; j < w->cols; j++) {
    x[j] = 0.0;
  }
  for (int i = 0; i < w->rows; i++) {
    int label = fhi_lp_label(w, i);
    if (label < w->cols) {
      x[label] = fhi_lp_right_side(w, i) * w->col_scale[label] / *w->b_scale;
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

static void lay_out(fhi_lp_work *w, const fhi_lp *lp, double *scratch) {
  w->lp = lp;
  w->rows = lp->rows;
  w->cols = lp->cols;
  w->width = lp->rows + lp->cols + 1;
  w->stride = (int)stride_of(lp->rows, lp->cols);
  w->tableau = scratch;
  w->basis = w->tableau + (size_t)w->rows * (size_t)w->stride;
  w->spare = w->basis + w->rows;
  w->row_scale = w->spare + w->rows;
  w->col_scale = w->row_scale + w->rows;
  w->gain = w->col_scale + w->cols;
  w->b_scale = w->gain + w->stride;
  w->many = NULL;
  // Climbs take two to three times as many steps as there are rows; the limit is far above that and yet ends.
  w->limit = 1000 + 50 * (lp->rows + lp->cols);
}

static fhi_lp_end answer(fhi_lp_work *w, bool least_index, double *x, double *residual) {
  w->least_index = least_index;
  w->pivots = 0;
  fhi_lp_end end = settle(w);
  if (end == FHI_LP_OPTIMAL) {
    read_answer(w, x);
    *residual = residual_of(w->lp, x);
    end = *residual <= FHI_LP_FEASIBLE ? end : FHI_LP_UNRESOLVED;
  }
  return end;
}

// @param sound the rows are well formed, and their scales set
static fhi_lp_end solve(fhi_lp_work *w, bool sound, double *x, double *value, double *residual) {
  const fhi_lp *lp = w->lp;
  fhi_lp_end end = FHI_LP_UNRESOLVED;
  if (sound && all_finite(lp->c, lp->cols)) {
    fhi_lp_set_goal_scale(w);
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
  fhi_lp_work w;
  bool sound = well_formed(lp);
  lay_out(&w, lp, scratch);
  if (sound) {
    fhi_lp_set_scales(&w);
  }
  return solve(&w, sound, x, value, residual);
}

void fhi_lp_many_begin(const fhi_lp *lp, fhi_lp_many *many, double *scratch) {
  fhi_lp_work w;
  *many = (fhi_lp_many){.lp = *lp, .scratch = scratch, .sound = well_formed(lp)};
  if (!many->sound) {
    return;
  }
  lay_out(&w, lp, scratch);
  fhi_lp_set_scales(&w);
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
  fhi_lp_work w;
  many->lp.c = c;
  lay_out(&w, &many->lp, many->scratch);
  w.many = many;
  return solve(&w, many->sound, x, value, residual);
}
