// SPDX-License-Identifier: MIT
// Least squares by cminpack (Levenberg-Marquardt, MINPACK's lmder).
#ifndef CLI_LM_H
#define CLI_LM_H

#include "firnhaul_fit.h"

bool cli_lm_is_there(void);  ///< was this program built with cminpack?
/// A fh_fit_solver. Slopes by central differences.
bool cli_lm_solve(fh_fit_fn fn, void *user, int m, int n, double *x);

#endif
