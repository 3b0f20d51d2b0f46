// SPDX-License-Identifier: MIT
// Which values should a study try? Points that fill the ranges more evenly than chance does. Implements model.md, section 12.
//
// Sobol's sequence with the direction numbers of Joe and Kuo (src/tables/directions.c), scrambled as Owen does by the hash
// of Laine and Karras (Burley, Practical hash-based Owen scrambling, J. Comput. Graph. Tech. 9, 2020). Beyond 21 dimensions they are reused with the order of the
// points shuffled in the same nested way, which keeps each block of dimensions even and the blocks independent.
#include "sample.h"

#include <math.h>

#include "tables/directions.h"

// The i-th direction number, by the recurrence of the polynomial, from those before it.
static uint32_t direction_number(const fhi_direction_row *p, const uint32_t *before, int i) {
  if (i < p->degree) {
    return (uint32_t)p->first[i] << (31 - i);
  }
  uint32_t d = before[i - p->degree];
  d ^= d >> p->degree;
  for (int k = 1; k < p->degree; k++) {
    d ^= (((uint32_t)p->inner >> (p->degree - 1 - k)) & 1u) != 0 ? before[i - k] : 0u;
  }
  return d;
}

// The Sobol integer of a point: the exclusive or of the direction numbers where the index has a bit set.
static uint32_t sobol(int dim, uint32_t index) {
  uint32_t direction[32];
  uint32_t x = 0;
  for (int i = 0; i < 32 && (index >> i) != 0; i++) {  // no more of them than the index has bits
    direction[i] = dim == 0 ? 1u << (31 - i) : direction_number(&FHI_DIRECTIONS[dim - 1], direction, i);
    x ^= ((index >> i) & 1u) != 0 ? direction[i] : 0u;
  }
  return x;
}

static uint32_t reverse(uint32_t x) {
  x = ((x >> 1) & 0x55555555u) | ((x & 0x55555555u) << 1);
  x = ((x >> 2) & 0x33333333u) | ((x & 0x33333333u) << 2);
  x = ((x >> 4) & 0x0F0F0F0Fu) | ((x & 0x0F0F0F0Fu) << 4);
  x = ((x >> 8) & 0x00FF00FFu) | ((x & 0x00FF00FFu) << 8);
  return (x >> 16) | (x << 16);
}

// Each bit is flipped or not by the bits above it alone: that is what keeps the points even.
static uint32_t scramble(uint32_t x, uint32_t seed) {
  x = reverse(x);
  x ^= x * 0x3D20ADEAu;
  x += seed;
  x *= (seed >> 16) | 1u;
  x ^= x * 0x05526C56u;
  x ^= x * 0x53A22864u;
  return reverse(x);
}

// A seed for each dimension that has nothing to do with its neighbours' (the finaliser of MurmurHash3, public domain).
static uint32_t mix(uint32_t x) {
  x ^= x >> 16;
  x *= 0x85EBCA6Bu;
  x ^= x >> 13;
  x *= 0xC2B2AE35u;
  return x ^ (x >> 16);
}

double fhi_sample_unit(uint32_t seed, int dim, uint32_t index) {
  uint32_t block = (uint32_t)(dim / FHI_SOBOL);
  uint32_t point = block == 0 ? index : scramble(index, mix(seed ^ (0x9E3779B9u * (block + 1u))));
  uint32_t x = scramble(sobol(dim % FHI_SOBOL, point), mix(seed + 0x51633E2Du * ((uint32_t)dim + 1u)));
  return ((double)x + 0.5) / 4294967296.0;
}

// Wichura, algorithm AS 241 (PPND16), Applied Statistics 37 (1988): about 1 part in 1e16. Coefficients from memory; a test
// takes the result back through erfc().
static double central(double q) {
  double r = 0.180625 - q * q;
  double num = (((((((2509.0809287301226727 * r + 33430.575583588128105) * r + 67265.770927008700853) * r + 45921.953931549871457) * r +
                   13731.693765509461125) * r + 1971.5909503065514427) * r + 133.14166789178437745) * r + 3.387132872796366608);
  double den = (((((((5226.495278852545925 * r + 28729.085735721942674) * r + 39307.89580009271061) * r + 21213.794301586595867) * r +
                   5394.1960214247511077) * r + 687.1870074920579083) * r + 42.313330701600911252) * r + 1.0);
  return q * num / den;
}

static double tail(double r) {
  if (r <= 5.0) {
    r -= 1.6;
    double num = (((((((7.7454501427834140764e-4 * r + 0.0227238449892691845833) * r + 0.24178072517745061177) * r + 1.27045825245236838258) * r +
                     3.64784832476320460504) * r + 5.7694972214606914055) * r + 4.6303378461565452959) * r + 1.42343711074968357734);
    double den = (((((((1.05075007164441684324e-9 * r + 5.475938084995344946e-4) * r + 0.0151986665636164571966) * r + 0.14810397642748007459) * r +
                     0.68976733498510000455) * r + 1.6763848301838038494) * r + 2.05319162663775882187) * r + 1.0);
    return num / den;
  }
  r -= 5.0;
  double num = (((((((2.01033439929228813265e-7 * r + 2.71155556874348757815e-5) * r + 0.0012426609473880784386) * r + 0.026532189526576123093) * r +
                   0.29656057182850489123) * r + 1.7848265399172913358) * r + 5.4637849111641143699) * r + 6.6579046435011037772);
  double den = (((((((2.04426310338993978564e-15 * r + 1.4215117583164458887e-7) * r + 1.8463183175100546818e-5) * r + 7.868691311456132591e-4) * r +
                   0.0148753612908506148525) * r + 0.13692988092273580531) * r + 0.59983220655588793769) * r + 1.0);
  return num / den;
}

double fhi_normal_inverse(double u) {
  double q = u - 0.5;
  if (fabs(q) <= 0.425) {
    return central(q);
  }
  double r = sqrt(-log(q < 0.0 ? u : 1.0 - u));
  return q < 0.0 ? -tail(r) : tail(r);
}

static double normal_share(double x) {
  return 0.5 * erfc(-x / sqrt(2.0));
}

// A triangle's share below x is (x - lo)^2 / ((hi - lo)(mode - lo)) up to its mode.
static double triangle(fh_number n, double u) {
  double span = n.hi - n.lo;
  double left = n.likely - n.lo;
  if (!(span > 0.0)) {
    return n.likely;
  }
  if (u * span < left) {
    return n.lo + sqrt(u * span * left);
  }
  return n.hi - sqrt((1.0 - u) * span * (n.hi - n.likely));
}

static double cut_normal(fh_number n, double lo, double hi, double u) {
  double below = normal_share((lo - n.likely) / n.sd);
  double above = normal_share((hi - n.likely) / n.sd);
  double share = fmin(fmax(below + u * (above - below), 1e-300), 1.0 - 1e-16);
  return fmin(fmax(n.likely + n.sd * fhi_normal_inverse(share), lo), hi);
}

double fhi_sample_number(fh_number n, double lo, double hi, double u) {
  switch (n.spread) {
    case FH_SPREAD_UNIFORM: return n.lo + u * (n.hi - n.lo);
    case FH_SPREAD_TRIANGLE: return triangle(n, u);
    case FH_SPREAD_NORMAL: return cut_normal(n, lo, hi, u);
    default: return n.likely;
  }
}
