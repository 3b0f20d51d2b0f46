// SPDX-License-Identifier: MIT
// Scratch of one linear programme while it is solved, shared by the files that solve it.
// Labels of variables: 0 .. cols-1 the caller's, then one slack a row, then one artificial a row.
#ifndef FHI_LP_WORK_H
#define FHI_LP_WORK_H

#include "lp.h"

// Entries are near 1 after scaling. Below PIVOT a number is taken for rounding and never divided by: a wrong pivot of
// 1e-9 would lift errors of 1e-16 to 1e-7. FEASIBLE is the promise of lp.h.
static const double FHI_LP_PIVOT = 1e-9;
static const double FHI_LP_FEASIBLE = 1e-9;

enum { FHI_LP_ABREAST = 4 };

typedef struct fhi_lp_work {
  const fhi_lp *lp;
  int rows, cols;
  int width;        ///< of a tableau row: cols, a slack a row, right side
  int stride;       ///< from row to row: the width and up to three zeros, so that rows are worked on four numbers at a time
  double *tableau;  ///< rows x stride
  double *basis;    ///< rows: the label of each row's basic variable (whole numbers; doubles since scratch is)
  double *spare;    ///< rows
  double *row_scale, *col_scale;
  double *gain;     ///< stride: what a unit of each variable adds to the goal of this phase
  double *b_scale;  ///< one
  double c_scale;
  int pivots, limit;
  bool least_index;   ///< throughout, not only when stuck
  fhi_lp_many *many;  ///< what the goals share, or NULL
} fhi_lp_work;

static inline double *fhi_lp_row(const fhi_lp_work *w, int row) {
  return w->tableau + (size_t)row * (size_t)w->stride;
}

/// q -= factor p, over a stride.
static inline void fhi_lp_take(double *restrict q, const double *restrict p, double factor, int stride) {
  for (int j = 0; j < stride; j += FHI_LP_ABREAST) {
    for (int k = 0; k < FHI_LP_ABREAST; k++) {
      q[j + k] -= factor * p[j + k];
    }
  }
}

static inline int fhi_lp_label(const fhi_lp_work *w, int row) {
  return (int)w->basis[row];
}

static inline bool fhi_lp_artificial(const fhi_lp_work *w, int label) {
  return label >= w->cols + w->rows;
}

static inline double fhi_lp_right_side(const fhi_lp_work *w, int row) {
  return fhi_lp_row(w, row)[w->width - 1];
}

// ---------------------------------------------------------------------------------------------------- the tableau

/// Scales of rows, columns and bounds; of the goal.
void fhi_lp_set_scales(fhi_lp_work *w);
void fhi_lp_set_goal_scale(fhi_lp_work *w);
/// The tableau of the given numbers, each row with its slack or artificial variable as its basic one.
void fhi_lp_fill(fhi_lp_work *w);
void fhi_lp_start_basis(fhi_lp_work *w);
void fhi_lp_pivot(fhi_lp_work *w, int row, int col);
/// Lays small negative right sides to 0: they are rounding. @return false when one is too large for that
bool fhi_lp_lay_to_zero(fhi_lp_work *w);
/// The tableau of the present basis, from the given numbers. @return false when its columns are too near to one another
bool fhi_lp_rebuild(fhi_lp_work *w);

// ---------------------------------------------------------------------------------------------------- climbing

/// Drives the artificial variables to zero. @return OPTIMAL when the rows can all be kept; INFEASIBLE; UNRESOLVED
fhi_lp_end fhi_lp_first_phase(fhi_lp_work *w);
/// Climbs from there. @param first how phase 1 ended: returned when it is not OPTIMAL
fhi_lp_end fhi_lp_second_phase(fhi_lp_work *w, fhi_lp_end first);

#endif
