// SPDX-License-Identifier: MIT
// Very many positive numbers counted in bins of equal share, so that quantiles need no list of them. Model section 12.
// Whole counts: any split of the work adds up to the same.
#ifndef FHI_TALLY_H
#define FHI_TALLY_H

#include <stdint.h>

#include "firnhaul.h"

enum {
  FHI_TALLY_OCTAVES = 32,  ///< from 2^-10 to 2^22
  FHI_TALLY_FINE = 9,      ///< 512 bins an octave: a bin is at most 1/512 of its value
  FHI_TALLY_COARSE = 6,    ///< 64 bins an octave, for very many tallies
  FHI_TALLY_FINE_BINS = FHI_TALLY_OCTAVES << FHI_TALLY_FINE,
  FHI_TALLY_COARSE_BINS = FHI_TALLY_OCTAVES << FHI_TALLY_COARSE,
};

/// The bin of a number. The first one holds all that is not above 2^-10, NaN too; the last one all that is too large, infinity too.
/// @param x [any]  @param bits FHI_TALLY_FINE or FHI_TALLY_COARSE  @return the bin
int fhi_tally_bin(double x, int bits);
double fhi_tally_start(int bin, int bits);  ///< @return [any] where a bin begins

/// The value below which a share of what was counted lies, straight between the ends of its bin. @return NaN when nothing was counted
double fhi_tally_quantile(const int64_t *bins, int bits, double share);

/// 5 %, 50 % and 95 %. A quantile in the first bin is 0, one in the last is infinite. @param whole the numbers are whole ones
fh_band fhi_tally_band(const int64_t *bins, int bits, bool whole);

/// Fine bins of fewer than 2^32 numbers, and which of them may not be zero. All zero to begin with.
typedef struct fhi_tally {
  uint32_t bins[FHI_TALLY_FINE_BINS];
  int from, to;  ///< octaves: from the first to before the last; a power of two of them, or none
} fhi_tally;

void fhi_tally_count(fhi_tally *tally, const double *x);  ///< @param x [any] 64 numbers
void fhi_tally_clear(fhi_tally *tally);
void fhi_tally_add(fhi_tally *to, const fhi_tally *from);
/// The values below which 5 %, 50 % and 95 % lie; one in the last bin is infinite. @param all how many were counted  @return NaN where nothing was
fh_band fhi_tally_three(const fhi_tally *tally, double all);

#endif
