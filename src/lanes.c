// SPDX-License-Identifier: MIT
// The exponential function for many numbers side by side. Model section 2, for the edges of very many samples.
// x = n ln 2 + r with |r| <= ln 2 / 2; e^r by its series to the 13th power (what is left out is below 2e-18 of it), then the
// exponent is put together from n's bits. Only additions, products and integers: no branch, no table, the same bits everywhere.
#include "lanes.h"

#include <float.h>
#include <math.h>
#include <string.h>

static const double LOG2E = 1.44269504088896340736;
static const double LN2_HIGH = 6.93147180369123816490e-01;  // its last 21 bits are 0, so that n times it is exact
static const double LN2_LOW = 1.90821492927058770002e-10;
static const double ROUND = 6755399441055744.0;  // 1.5 * 2^52: adding and taking it away again rounds to a whole number

void fhi_lanes_exp(const double *x, int count, double *out) {
  for (int i = 0; i < count; i++) {
    double shifted = x[i] * LOG2E + ROUND;
    double n = shifted - ROUND;
    double r = (x[i] - n * LN2_HIGH) - n * LN2_LOW;
    double p = 1.0 / 6227020800.0;
    p = p * r + 1.0 / 479001600.0;
    p = p * r + 1.0 / 39916800.0;
    p = p * r + 1.0 / 3628800.0;
    p = p * r + 1.0 / 362880.0;
    p = p * r + 1.0 / 40320.0;
    p = p * r + 1.0 / 5040.0;
    p = p * r + 1.0 / 720.0;
    p = p * r + 1.0 / 120.0;
    p = p * r + 1.0 / 24.0;
    p = p * r + 1.0 / 6.0;
    p = p * r + 0.5;
    p = p * r * r + r + 1.0;
    uint64_t bits;
    memcpy(&bits, &shifted, sizeof bits);
    bits = (bits + 1023u) << 52;  // n stands in the low bits of `shifted`
    double scale;
    memcpy(&scale, &bits, sizeof scale);
    out[i] = p * scale;
  }
}

// Bit l in place l: taking bits with masks as wide as the numbers goes side by side, shifting by l does not.
#define FOUR(l) UINT64_C(1) << (l), UINT64_C(1) << ((l) + 1), UINT64_C(1) << ((l) + 2), UINT64_C(1) << ((l) + 3)
#define SIXTEEN(l) FOUR(l), FOUR((l) + 4), FOUR((l) + 8), FOUR((l) + 12)
static const uint64_t BIT[64] = {SIXTEEN(0), SIXTEEN(16), SIXTEEN(32), SIXTEEN(48)};

// Four quarters at once, so that counting the turns costs little beside them.
uint64_t fhi_lanes_above(const double *x, const double *most) {
  uint64_t a = 0, b = 0, c = 0, d = 0;
  for (int l = 0; l < 16; l++) {
    a |= x[l] <= most[l] ? 0 : BIT[l];
    b |= x[l + 16] <= most[l + 16] ? 0 : BIT[l + 16];
    c |= x[l + 32] <= most[l + 32] ? 0 : BIT[l + 32];
    d |= x[l + 48] <= most[l + 48] ? 0 : BIT[l + 48];
  }
  return a | b | c | d;
}

uint64_t fhi_lanes_unknown(const double *x) {
  uint64_t a = 0, b = 0, c = 0, d = 0;
  for (int l = 0; l < 16; l++) {
    a |= fabs(x[l]) <= DBL_MAX ? 0 : BIT[l];
    b |= fabs(x[l + 16]) <= DBL_MAX ? 0 : BIT[l + 16];
    c |= fabs(x[l + 32]) <= DBL_MAX ? 0 : BIT[l + 32];
    d |= fabs(x[l + 48]) <= DBL_MAX ? 0 : BIT[l + 48];
  }
  return a | b | c | d;
}

// Sums of neighbouring bits, pairs, fours, bytes (Warren, Hacker's Delight, 2nd ed. 2013, section 5-1).
int fhi_bits(uint64_t x) {
  x -= (x >> 1) & UINT64_C(0x5555555555555555);
  x = (x & UINT64_C(0x3333333333333333)) + ((x >> 2) & UINT64_C(0x3333333333333333));
  x = (x + (x >> 4)) & UINT64_C(0x0f0f0f0f0f0f0f0f);
  return (int)((x * UINT64_C(0x0101010101010101)) >> 56);
}
