// SPDX-License-Identifier: MIT
// A small dense linear programme: how large, how small, how far, within given bounds.
#ifndef FHI_LP_H
#define FHI_LP_H

#include <stdbool.h>
#include <stddef.h>

typedef enum fhi_lp_end {
  FHI_LP_OPTIMAL,
  FHI_LP_INFEASIBLE,
  FHI_LP_UNBOUNDED,
  FHI_LP_UNRESOLVED,  ///< the pivot limit was reached, or the answer does not satisfy its own rows
} fhi_lp_end;

/// maximise c x  subject to  A x (sense) b,  x >= 0.
typedef struct fhi_lp {
  int rows, cols;
  const double *a;      ///< rows x cols, row by row
  const char *sense;    ///< rows: '<', '=' or '>'
  const double *b;      ///< rows, any sign
  const double *c;      ///< cols
} fhi_lp;

/// Scratch that one solve needs. @return its size in doubles
size_t fhi_lp_scratch(int rows, int cols);

/// Two-phase simplex on a dense tableau, least-index rule against cycling. Deterministic.
/// @param x       cols: the answer; NaN unless optimal
/// @param value   c x; NaN unless optimal
/// @param residual largest violation of a row or bound by x, over max(1, largest |b|); NaN unless optimal; at most 1e-9 when optimal
/// @param scratch at least fhi_lp_scratch(rows, cols) doubles
fhi_lp_end fhi_lp_solve(const fhi_lp *lp, double *x, double *value, double *residual, double *scratch);

/// Many goals over the same rows: where they are first kept is found once, and so is the tableau of each corner that goals share.
/// An answer has the bits that fhi_lp_solve gives.
typedef struct fhi_lp_many {
  fhi_lp lp;            ///< its rows; c is each goal's own
  double *scratch;
  bool sound;           ///< the rows are well formed
  fhi_lp_end first;     ///< how phase 1 ended
  int pivots;           ///< of phase 1
  int oldest;           ///< of the kept corners: the one that goes next
} fhi_lp_many;

/// Scratch for many goals. @return its size in doubles
size_t fhi_lp_many_scratch(int rows, int cols);
/// @param lp its rows have to outlive the goals  @param scratch at least fhi_lp_many_scratch(rows, cols) doubles, kept too
void fhi_lp_many_begin(const fhi_lp *lp, fhi_lp_many *many, double *scratch);
/// One goal. @param c cols  @return and the rest as fhi_lp_solve
fhi_lp_end fhi_lp_many_solve(fhi_lp_many *many, const double *c, double *x, double *value, double *residual);

#endif
