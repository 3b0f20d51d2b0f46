// SPDX-License-Identifier: MIT
// Small dense linear systems, in place.
#ifndef FHI_LINEAR_H
#define FHI_LINEAR_H

#include <stdbool.h>

/// Solves a x = b by elimination with partial pivoting. a is n rows of `stride` numbers; both are overwritten, b with x.
/// @param tiny a pivot of this size or less makes the system singular
/// @return false when it is singular
bool fhi_linear_solve(double *a, double *b, int n, int stride, double tiny);

#endif
