// SPDX-License-Identifier: MIT
// Which bin does a number fall in, and which number do the counts of the bins give back? Implements model.md, section 12.
#include "tally.h"

#include <math.h>
#include <string.h>

enum { LEAST = 10 };  // the first bin ends at 2^-10

// The top bits of a positive number are its exponent and the start of its mantissa: a bin without a logarithm.
int fhi_tally_bin(double x, int bits) {
  uint64_t word;
  if (!(x > 0x1p-10)) {
    return 0;
  }
  memcpy(&word, &x, sizeof word);
  int64_t bin = (int64_t)(word >> (52 - bits)) - ((int64_t)(1023 - LEAST) << bits), count = (int64_t)FHI_TALLY_OCTAVES << bits;
  return bin < count ? (int)bin : (int)count - 1;
}

double fhi_tally_start(int bin, int bits) {
  uint64_t word = ((uint64_t)bin + ((uint64_t)(1023 - LEAST) << bits)) << (52 - bits);
  double x;
  memcpy(&x, &word, sizeof x);
  return x;
}

// The bin in which a share of the counts is reached. @param part [1] how far into it  @return -1 when nothing was counted
static int find(const int64_t *bins, int bits, double share, double *part) {
  int count = FHI_TALLY_OCTAVES << bits;
  int64_t all = 0, below = 0;
  for (int i = 0; i < count; i++) {
    all += bins[i];
  }
  double want = share * (double)all;
  for (int i = 0; i < count; i++) {
    if (bins[i] > 0 && (double)(below + bins[i]) >= want) {
      *part = (want - (double)below) / (double)bins[i];
      return i;
    }
    below += bins[i];
  }
  return -1;
}

static double within(int bin, int bits, double part) {
  double start = fhi_tally_start(bin, bits);
  return start + part * (fhi_tally_start(bin + 1, bits) - start);
}

double fhi_tally_quantile(const int64_t *bins, int bits, double share) {
  double part = 0.0;
  int bin = find(bins, bits, share, &part);
  return bin < 0 ? (double)NAN : within(bin, bits, part);
}

static double open_ended(const int64_t *bins, int bits, bool whole, double share) {
  double part = 0.0;
  int bin = find(bins, bits, share, &part);
  if (bin < 0) {
    return (double)NAN;
  }
  if (bin == 0 || bin == (FHI_TALLY_OCTAVES << bits) - 1) {
    return bin == 0 ? 0.0 : (double)INFINITY;
  }
  return whole ? floor(fhi_tally_start(bin, bits) + 0.5) : within(bin, bits, part);
}

fh_band fhi_tally_band(const int64_t *bins, int bits, bool whole) {
  return (fh_band){open_ended(bins, bits, whole, 0.05), open_ended(bins, bits, whole, 0.5), open_ended(bins, bits, whole, 0.95)};
}
