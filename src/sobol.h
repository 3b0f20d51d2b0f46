// SPDX-License-Identifier: MIT
// How much of a result's spread each input makes: Sobol's indices. Model section 12.
#ifndef FHI_SOBOL_H
#define FHI_SOBOL_H

#include "quasi.h"

enum { FHI_SOBOL_OUTPUTS = 3 };

/// Works out a block. @param u inputs x FHI_QUASI_LANES, input by input [1]  @param y outputs x FHI_QUASI_LANES; NaN leaves the sample out
typedef void (*fhi_sobol_fn)(void *user, const double *u, double *y);

typedef struct fhi_sobol_job {
  int inputs, outputs;   ///< inputs up to FHI_QUASI_DIMS / 2
  int64_t blocks;        ///< of 64 base points; (inputs + 2) times as many are worked out
  uint64_t seed;
  fhi_sobol_fn fn;
  void *user;
} fhi_sobol_job;

/// @param alone,total inputs x outputs [1]: alone[i * outputs + k]; 0 when an output does not vary
/// @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fhi_sobol_indices(const fhi_sobol_job *job, double *alone, double *total);

#endif
