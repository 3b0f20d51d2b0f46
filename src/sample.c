// SPDX-License-Identifier: MIT
// Samples of what is not known: a Sobol sequence, scrambled by a seed, and inverse distributions. Implements model.md, section 12.
//
// Scramble: each dimension's direction numbers are multiplied by a random lower triangular matrix of bits, then all points are
// shifted by random bits (Matousek, J. Complexity 14 (1998) 527-556). The points keep the net's evenness, each by itself is
// uniform, and a point costs one exclusive-or: blocks of 64 samples differ from the first by a constant.
#include "sample.h"

#include <math.h>

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
  s->dims = dims < FHI_SAMPLE_DIMS ? dims : FHI_SAMPLE_DIMS;
  for (int d = 0; d < s->dims; d++) {
    // A state of its own for each dimension: a further unknown does not move the samples of the others.
    uint64_t state = seed ^ ((uint64_t)(d + 1) << 40);
    (void)fhi_random(&state);
    fill_directions(d, s->step[d]);
    scramble(&state, s->step[d]);
    s->shift[d] = (uint32_t)(fhi_random(&state) >> 32);
    for (int l = 0; l < FHI_SAMPLE_LANES; l++) {
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
  for (int l = 0; l < FHI_SAMPLE_LANES; l++) {
    // Halves as signed numbers: machines convert those side by side.
    uint32_t x = lane[l] ^ base;
    u[l] = ((double)(int32_t)(x ^ 0x80000000u) + 2147483648.5) * 0x1p-32;
  }
}

double fhi_sampler_one(const fhi_sampler *s, int dim, uint32_t index) {
  return unit(s->lane[dim][index % FHI_SAMPLE_LANES] ^ block_base(s, dim, index / FHI_SAMPLE_LANES));
}

// ---------------------------------------------------------------------------------------------------- the normal law

double fhi_normal_below(double x) {
  return 0.5 * erfc(-x * 0.70710678118654752440);
}

// Acklam's rational start (relative error below 1.2e-9), then one step of Halley on erfc, which leaves rounding.
double fhi_normal_quantile(double p) {
  static const double a[] = {-3.969683028665376e+01, 2.209460984245205e+02, -2.759285104469687e+02,
                             1.383577518672690e+02,  -3.066479806614716e+01, 2.506628277459239e+00};
  static const double b[] = {-5.447609879822406e+01, 1.615858368580409e+02, -1.556989798598866e+02, 6.680131188771972e+01,
                             -1.328068155288572e+01};
  static const double c[] = {-7.784894002430293e-03, -3.223964580411365e-01, -2.400758277161838e+00,
                             -2.549732539343734e+00, 4.374664141464968e+00,  2.938163982698783e+00};
  static const double d[] = {7.784695709041462e-03, 3.224671290700398e-01, 2.445134137142996e+00, 3.754408661907416e+00};
  if (p > 0.5) {
    return -fhi_normal_quantile(1.0 - p);  // exact subtraction: the upper half is the lower one, mirrored
  }
  double x;
  if (p < 0.02425) {
    double q = sqrt(-2.0 * log(p));
    x = (((((c[0] * q + c[1]) * q + c[2]) * q + c[3]) * q + c[4]) * q + c[5]) / ((((d[0] * q + d[1]) * q + d[2]) * q + d[3]) * q + 1.0);
  } else {
    double q = p - 0.5, r = q * q;
    x = (((((a[0] * r + a[1]) * r + a[2]) * r + a[3]) * r + a[4]) * r + a[5]) * q /
        (((((b[0] * r + b[1]) * r + b[2]) * r + b[3]) * r + b[4]) * r + 1.0);
  }
  double e = (fhi_normal_below(x) - p) * 2.50662827463100050242 * exp(0.5 * x * x);
  return x - e / (1.0 + 0.5 * x * e);
}

// ---------------------------------------------------------------------------------------------------- values

static double triangle_at(fh_number n, double u) {
  double width = n.hi - n.lo, rise = n.likely - n.lo;
  if (!(width > 0.0)) {
    return n.likely;
  }
  return u * width < rise ? n.lo + sqrt(u * width * rise) : n.hi - sqrt((1.0 - u) * width * (n.hi - n.likely));
}

static double normal_at(fh_number n, double cut_lo, double cut_hi, double u) {
  if (!(n.sd > 0.0)) {
    return n.likely;
  }
  // The share that the cuts leave, then the quantile within it; above the middle from the other side, where digits are.
  double lo = fhi_normal_below((cut_lo - n.likely) / n.sd), hi = fhi_normal_below((cut_hi - n.likely) / n.sd);
  double p = lo + (hi - lo) * u;
  double x = n.likely + n.sd * (p > 0.0 && p < 1.0 ? fhi_normal_quantile(p) : p > 0.0 ? 8.0 : -8.0);
  return fmin(fmax(x, cut_lo), cut_hi);
}

double fhi_number_at(fh_number n, double cut_lo, double cut_hi, double u) {
  switch (n.spread) {
  case FH_SPREAD_EXACT: return n.likely;
  case FH_SPREAD_UNIFORM: return n.lo + (n.hi - n.lo) * u;
  case FH_SPREAD_TRIANGLE: return triangle_at(n, u);
  case FH_SPREAD_NORMAL: return normal_at(n, cut_lo, cut_hi, u);
  case FH_SPREAD_UNSET: break;
  }
  return (double)NAN;
}

// Written so that lanes run side by side; the same operations as triangle_at, both sides worked out.
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
      out[i] = fhi_number_at(n, cut_lo, cut_hi, u[i]);
    }
  }
}
