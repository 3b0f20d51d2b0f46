// SPDX-License-Identifier: MIT
// Very many samples of what is not known: seeded quasi-random points, in blocks. Model section 12.
// The same bits on every machine, for any number of threads and any order of asking.
#ifndef FHI_QUASI_H
#define FHI_QUASI_H

#include "firnhaul.h"

enum {
  FHI_QUASI_DIMS = 64,   ///< most unknowns at once
  FHI_QUASI_LANES = 64,  ///< samples in a block
};

/// A scrambled Sobol sequence. Constant once started; threads may share it.
typedef struct fhi_sampler {
  uint32_t step[FHI_QUASI_DIMS][32];                 ///< scrambled direction numbers
  uint32_t lane[FHI_QUASI_DIMS][FHI_QUASI_LANES];   ///< the first block, without the shift
  uint32_t shift[FHI_QUASI_DIMS];
  int dims;
} fhi_sampler;

/// @param dims 1 to FHI_QUASI_DIMS
void fhi_sampler_start(fhi_sampler *sampler, uint64_t seed, int dims);

/// Samples 64 * block to 64 * block + 63 of one unknown. @param u FHI_QUASI_LANES numbers strictly between 0 and 1
void fhi_sampler_block(const fhi_sampler *sampler, int dim, uint32_t block, double *u);

/// One sample of one unknown. @return [1] strictly between 0 and 1
double fhi_sampler_one(const fhi_sampler *sampler, int dim, uint32_t index);

/// A generator for plain random numbers, to compare with and to make synthetic readings: splitmix64. @return 64 bits
uint64_t fhi_random(uint64_t *state);
double fhi_random_unit(uint64_t *state);  ///< @return [1] strictly between 0 and 1

#endif
