// SPDX-License-Identifier: MIT
// Which bin does a number fall in, and which number do the counts of the bins give back? Implements model.md, section 12.
#include "tally.h"

#include <math.h>
#include <string.h>

enum { LEAST = 10, BLOCK = 64 };  // the first bin ends at 2^-10; numbers counted at once

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

// ---------------------------------------------------------------------------------------------------- many in one

// The octaves grow to hold a bin: to a power of two of them, so that one bit tells what lies outside.
static void widen(fhi_tally *t, int bin) {
  int octave = bin >> FHI_TALLY_FINE;
  int from = t->from < t->to && t->from < octave ? t->from : octave, to = t->to > octave ? t->to : octave + 1, width = 1;
  while (from + width < to) {
    width *= 2;
  }
  t->from = from + width <= FHI_TALLY_OCTAVES ? from : FHI_TALLY_OCTAVES - width;
  t->to = t->from + width;
}

static void count_slowly(fhi_tally *t, const double *x) {
  for (int i = 0; i < BLOCK; i++) {
    int bin = fhi_tally_bin(x[i], FHI_TALLY_FINE);
    if (bin < t->from << FHI_TALLY_FINE || bin >= t->to << FHI_TALLY_FINE) {
      widen(t, bin);
    }
    t->bins[bin]++;
  }
}

// The places in the octaves so far, as fhi_tally_bin has them; what lies below wraps around to far above.
// @return bits that any of them has
static uint32_t places(const double *restrict x, uint32_t first, uint32_t *restrict at) {
  uint32_t any = 0;
  for (int i = 0; i < BLOCK; i++) {
    uint64_t word;
    memcpy(&word, &x[i], sizeof word);
    at[i] = (uint32_t)(word >> (52 - FHI_TALLY_FINE)) - first;
    any |= at[i];
  }
  return any;
}

void fhi_tally_count(fhi_tally *t, const double *x) {
  uint32_t at[BLOCK], *bins = t->bins + (t->from << FHI_TALLY_FINE);
  uint32_t width = (uint32_t)(t->to - t->from) << FHI_TALLY_FINE;
  if (places(x, (uint32_t)(1023 - LEAST + t->from) << FHI_TALLY_FINE, at) >= width) {
    count_slowly(t, x);
    return;
  }
  for (int i = 0; i < BLOCK; i += 4) {
    bins[at[i]]++;
    bins[at[i + 1]]++;
    bins[at[i + 2]]++;
    bins[at[i + 3]]++;
  }
}

void fhi_tally_clear(fhi_tally *t) {
  memset(t->bins + (t->from << FHI_TALLY_FINE), 0, ((size_t)(t->to - t->from) << FHI_TALLY_FINE) * sizeof *t->bins);
  t->from = t->to = 0;
}

void fhi_tally_add(fhi_tally *to, const fhi_tally *from) {
  if (from->from == from->to) {
    return;
  }
  widen(to, from->from << FHI_TALLY_FINE);
  widen(to, (from->to << FHI_TALLY_FINE) - 1);
  for (int i = from->from << FHI_TALLY_FINE; i < from->to << FHI_TALLY_FINE; i++) {
    to->bins[i] += from->bins[i];
  }
}

static int64_t sixteen(const uint32_t *bins) {
  uint32_t sum = 0;
  for (int i = 0; i < 16; i++) {
    sum += bins[i];
  }
  return sum;
}

// On from bin i to the one in which the counts reach `need`, sixteen at a time where they do not. @param below counts before bin i
static int reach(const fhi_tally *t, int i, int64_t need, int64_t *below) {
  const int end = t->to << FHI_TALLY_FINE;  // a multiple of 16
  while (i < end) {
    int step = i % 16 == 0 && *below + sixteen(t->bins + i) < need ? 16 : 1;
    int64_t some = step == 16 ? sixteen(t->bins + i) : t->bins[i];
    if (*below + some >= need) {
      return i;
    }
    *below += some;
    i += step;
  }
  return -1;
}

// Whole counts reach a share where they reach the next whole number above it.
fh_band fhi_tally_three(const fhi_tally *t, double all) {
  const double want[3] = {0.05 * all, 0.5 * all, 0.95 * all}, top = fhi_tally_start(FHI_TALLY_FINE_BINS - 1, FHI_TALLY_FINE);
  double found[3] = {(double)NAN, (double)NAN, (double)NAN};
  int64_t below = 0;
  int i = t->from << FHI_TALLY_FINE;
  for (int k = 0; k < 3 && all > 0.0 && i >= 0; k++) {
    i = reach(t, i, (int64_t)ceil(want[k]), &below);
    if (i >= 0) {
      found[k] = within(i, FHI_TALLY_FINE, (want[k] - (double)below) / (double)t->bins[i]);
      found[k] = found[k] >= top ? (double)INFINITY : found[k];
    }
  }
  return (fh_band){found[0], found[1], found[2]};
}
