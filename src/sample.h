// SPDX-License-Identifier: MIT
// Samples of what is not known: seeded quasi-random points, and the value that a number takes at one. Model section 12.
// The same bits on every machine, for any number of threads and any order of asking.
#ifndef FHI_SAMPLE_H
#define FHI_SAMPLE_H

#include "firnhaul.h"

enum {
  FHI_SAMPLE_DIMS = 64,   ///< most unknowns at once
  FHI_SAMPLE_LANES = 64,  ///< samples in a block
};

/// A scrambled Sobol sequence. Constant once started; threads may share it.
typedef struct fhi_sampler {
  uint32_t step[FHI_SAMPLE_DIMS][32];                 ///< scrambled direction numbers
  uint32_t lane[FHI_SAMPLE_DIMS][FHI_SAMPLE_LANES];   ///< the first block, without the shift
  uint32_t shift[FHI_SAMPLE_DIMS];
  int dims;
} fhi_sampler;

/// @param dims 1 to FHI_SAMPLE_DIMS
void fhi_sampler_start(fhi_sampler *sampler, uint64_t seed, int dims);

/// Samples 64 * block to 64 * block + 63 of one unknown. @param u FHI_SAMPLE_LANES numbers strictly between 0 and 1
void fhi_sampler_block(const fhi_sampler *sampler, int dim, uint32_t block, double *u);

/// One sample of one unknown. @return [1] strictly between 0 and 1
double fhi_sampler_one(const fhi_sampler *sampler, int dim, uint32_t index);

/// The value that a number takes at the quantile u: straight line, triangle, or the normal law cut at its key's range.
/// @param cut_lo,cut_hi [unit of n] where a normal number is cut; infinite: not at all  @param u [1] strictly between 0 and 1
/// @return [unit of n], NaN for an unset number
double fhi_number_at(fh_number n, double cut_lo, double cut_hi, double u);

/// The same for many quantiles. @param count 1 or more  @param out [unit of n]
void fhi_number_lanes(fh_number n, double cut_lo, double cut_hi, const double *u, int count, double *out);

/// The normal law: share below x, and the x below which a share lies (about 1e-15 of the quantile).
double fhi_normal_below(double x);     ///< @param x [1] standard deviations from the mean @return [1]
double fhi_normal_quantile(double p);  ///< @param p [1] strictly between 0 and 1 @return [1] standard deviations

/// A generator for plain random numbers, to compare with and to make synthetic readings: splitmix64. @return 64 bits
uint64_t fhi_random(uint64_t *state);
double fhi_random_unit(uint64_t *state);  ///< @return [1] strictly between 0 and 1

#endif
