// SPDX-License-Identifier: MIT
// Very many samples of what is not known: a Sobol sequence, scrambled by a seed, a block at a time. Implements model.md, section 12.
//
// Scramble: each dimension's direction numbers are multiplied by a random lower triangular matrix of bits, then all points are
// shifted by random bits (Matousek, J. Complexity 14 (1998) 527-556). The points keep the net's evenness, each by itself is
// uniform, and a point costs one exclusive-or: blocks of 64 samples differ from the first by a constant.
#include "quasi.h"

#include <math.h>

#include "sample.h"
#include "tables/directions.h"

uint64_t fhi_random(uint64_t *state) {
  // splitmix64 (Steele, Lea, Flood 2014).
  uint64_t z = (*state += 0x9e3779b97f4a7c15ULL);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31);
}

double fhi_random_unit(uint64_t *state) {
  return ((double)(fhi_random(state) >> 12) + 0.5) * 0x1p-52;
}

// Direction numbers as 32-bit fractions, by the polynomial's recurrence (Bratley and Fox 1988).
static void fill_directions(int dim, uint32_t v[32]) {
  if (dim == 0) {
    for (int j = 0; j < 32; j++) {
      v[j] = 1u << (31 - j);
    }
    return;
  }
  const fhi_direction_row *row = &FHI_DIRECTIONS[dim - 1];
  int s = row->degree;
  for (int j = 0; j < 32; j++) {
    if (j < s) {
      v[j] = (uint32_t)row->first[j] << (31 - j);
      continue;
    }
    v[j] = v[j - s] ^ (v[j - s] >> s);
    for (int k = 1; k < s; k++) {
      v[j] ^= ((row->inner >> (s - 1 - k)) & 1u) != 0 ? v[j - k] : 0u;
    }
  }
}

static uint32_t parity(uint32_t x) {
  x ^= x >> 16;
  x ^= x >> 8;
  x ^= x >> 4;
  x ^= x >> 2;
  x ^= x >> 1;
  return x & 1u;
}

// Digit i (from the top) of the result: digit i of v, and a random choice of the digits above it.
static void scramble(uint64_t *state, uint32_t v[32]) {
  uint32_t row[32];
  for (int i = 0; i < 32; i++) {
    uint32_t above = i == 0 ? 0u : ~0u << (32 - i);
    row[i] = ((uint32_t)(fhi_random(state) >> 32) & above) | (1u << (31 - i));
  }
  for (int j = 0; j < 32; j++) {
    uint32_t out = 0;
    for (int i = 0; i < 32; i++) {
      out |= parity(row[i] & v[j]) << (31 - i);
    }
    v[j] = out;
  }
}

void fhi_sampler_start(fhi_sampler *s, uint64_t seed, int dims) {
  s->dims = dims < FHI_QUASI_DIMS ? dims : FHI_QUASI_DIMS;
  for (int d = 0; d < s->dims; d++) {
    // A state of its own for each dimension: a further unknown does not move the samples of the others.
    uint64_t state = seed ^ ((uint64_t)(d + 1) << 40);
    (void)fhi_random(&state);
    fill_directions(d, s->step[d]);
    scramble(&state, s->step[d]);
    s->shift[d] = (uint32_t)(fhi_random(&state) >> 32);
    for (int l = 0; l < FHI_QUASI_LANES; l++) {
      uint32_t x = 0;
      for (int j = 0; j < 6; j++) {
        x ^= ((l >> j) & 1) != 0 ? s->step[d][j] : 0u;
      }
      s->lane[d][l] = x;
    }
  }
}

// What all samples of a block share: the digits of its number.
static uint32_t block_base(const fhi_sampler *s, int dim, uint32_t block) {
  uint32_t x = s->shift[dim];
  for (int j = 6; block != 0 && j < 32; j++, block >>= 1) {
    x ^= (block & 1u) != 0 ? s->step[dim][j] : 0u;
  }
  return x;
}

// The middle of the smallest cell: neither 0 nor 1 is ever given. The sum is exact (53 bits hold 33).
static double unit(uint32_t x) {
  return ((double)x + 0.5) * 0x1p-32;
}

void fhi_sampler_block(const fhi_sampler *s, int dim, uint32_t block, double *u) {
  uint32_t base = block_base(s, dim, block);
  const uint32_t *lane = s->lane[dim];
  for (int l = 0; l < FHI_QUASI_LANES; l++) {
    // Halves as signed numbers: machines convert those side by side.
    uint32_t x = lane[l] ^ base;
    u[l] = ((double)(int32_t)(x ^ 0x80000000u) + 2147483648.5) * 0x1p-32;
  }
}

double fhi_sampler_one(const fhi_sampler *s, int dim, uint32_t index) {
  return unit(s->lane[dim][index % FHI_QUASI_LANES] ^ block_base(s, dim, index / FHI_QUASI_LANES));
}

// ---------------------------------------------------------------------------------------------------- values

// Written so that lanes run side by side; the same operations as one by one, both sides worked out.
static void triangle_lanes(fh_number n, const double *u, int count, double *out) {
  double width = n.hi - n.lo, rise = n.likely - n.lo, fall = n.hi - n.likely;
  for (int i = 0; i < count; i++) {
    bool low = u[i] * width < rise;
    double part = low ? u[i] * width * rise : (1.0 - u[i]) * width * fall;
    double root = sqrt(part);
    out[i] = low ? n.lo + root : n.hi - root;
  }
}

void fhi_number_lanes(fh_number n, double cut_lo, double cut_hi, const double *u, int count, double *out) {
  if (n.spread == FH_SPREAD_UNIFORM) {
    double lo = n.lo, width = n.hi - n.lo;
    for (int i = 0; i < count; i++) {
      out[i] = lo + width * u[i];
    }
  } else if (n.spread == FH_SPREAD_TRIANGLE && n.hi > n.lo) {
    triangle_lanes(n, u, count, out);
  } else {
    for (int i = 0; i < count; i++) {
      out[i] = fhi_sample_number(n, cut_lo, cut_hi, u[i]);
    }
  }
}
