// SPDX-License-Identifier: MIT
// Parts of a fit that are of use by themselves: slopes, covariance, Student's law. Model section 14.
#ifndef FHI_FIT_H
#define FHI_FIT_H

#include "firnhaul_fit.h"

/// Slopes by central differences. @param jacobian m x n, row by row  @return false where there are no residuals
bool fhi_fit_slopes(fh_fit_fn fn, void *user, int m, int n, const double *x, double *scratch, double *jacobian);

/// Inverse of J^T J. @param cov n x n  @return false when what is fitted cannot be told apart
bool fhi_fit_inverse(const double *jacobian, int m, int n, double *cov);

double fhi_student_below(double t, double freedom);     ///< @return [1] share of Student's law below t
double fhi_student_quantile(double p, double freedom);  ///< @param p [1] 0 to 1, not the ends @return [1]

#endif
