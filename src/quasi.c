// SPDX-License-Identifier: MIT
// Very many samples of what is not known: a Sobol sequence, scrambled by a seed, a block at a time. Implements model.md, section 12.
//
// Scramble: each dimension's direction numbers are multiplied by a random lower triangular matrix of bits, then all points are
// shifted by random bits (Matousek, J. Complexity 14 (1998) 527-556). The points keep the net's evenness, each by itself is
// uniform, and a point costs one exclusive-or: blocks of 64 samples differ from the first by a constant.
#include "quasi.h"

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

// Rows to columns of a 32 by 32 matrix of bits, the top bit first (Warren, Hacker's Delight, 2nd ed. 2013, section 7-3).
static void transpose(uint32_t m[32]) {
  uint32_t mask = 0x0000ffffu;
  for (int j = 16; j != 0; j >>= 1, mask ^= mask << j) {
    for (int k = 0; k < 32; k = (k + j + 1) & ~j) {
      uint32_t swap = (m[k] ^ (m[k + j] >> j)) & mask;
      m[k] ^= swap;
      m[k + j] ^= swap << j;
    }
  }
}

// Digit i (from the top) of the result: digit i of v, and a random choice of the digits above it. The matrix is drawn row by
// row and multiplied column by column: number j has no digits but its top j + 1.
static void scramble(uint64_t *state, uint32_t v[32]) {
  uint32_t column[32];
  for (int i = 0; i < 32; i++) {
    uint32_t above = i == 0 ? 0u : ~0u << (32 - i);
    column[i] = ((uint32_t)(fhi_random(state) >> 32) & above) | (1u << (31 - i));
  }
  transpose(column);
  for (int j = 0; j < 32; j++) {
    uint32_t out = 0;
    for (int k = 0; k <= j; k++) {
      out ^= ((v[j] >> (31 - k)) & 1u) != 0 ? column[k] : 0u;
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
    s->lane[d][0] = 0;
    for (int j = 0; j < 6; j++) {
      for (int l = 0; l < 1 << j; l++) {
        s->lane[d][(1 << j) + l] = s->lane[d][l] ^ s->step[d][j];
      }
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
