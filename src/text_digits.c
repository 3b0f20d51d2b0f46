// SPDX-License-Identifier: MIT
// The shortest digits of a double, exact in 128 bits, for the numbers that answers are made of: 1e-11 to below 1e16.
#include <math.h>

#include "text.h"

typedef struct wide {
  uint64_t high, low;
} wide;

static wide product(uint64_t a, uint64_t b) {
  uint64_t low = (a & 0xFFFFFFFFu) * (b & 0xFFFFFFFFu);
  uint64_t one = (a >> 32) * (b & 0xFFFFFFFFu) + (low >> 32);
  uint64_t other = (a & 0xFFFFFFFFu) * (b >> 32) + (one & 0xFFFFFFFFu);
  return (wide){(a >> 32) * (b >> 32) + (one >> 32) + (other >> 32), other << 32 | (low & 0xFFFFFFFFu)};
}

// a 2^by. @param by 0 to 63
static wide shifted_up(uint64_t a, int by) {
  return (wide){by == 0 ? 0 : a >> (64 - by), a << by};
}

static wide distance(wide a, wide b) {
  bool less = a.high < b.high || (a.high == b.high && a.low < b.low);
  wide from = less ? b : a;
  wide to = less ? a : b;
  return (wide){from.high - to.high - (from.low < to.low ? 1u : 0u), from.low - to.low};
}

// value 10^tens = exact / 2^down, and its whole part, of 17 digits.
typedef struct scaled {
  wide exact;
  uint64_t whole, part;  // part / 2^down: what the whole lacks
  uint64_t half_ulp;     // half of value's last binary place, rounded down, in places of exact
  int down, tens;
  bool lowest;  // the place below is half as wide
} scaled;

static bool scale(double value, scaled *s) {
  static const uint64_t END = UINT64_C(100000000000000000);
  int exponent = 0;
  uint64_t m = (uint64_t)(frexp(value, &exponent) * 9007199254740992.0);  // value = m 2^(exponent - 53)
  s->lowest = m == UINT64_C(1) << 52;
  // value is at least 2^(exponent - 1): its power of ten is this, or one more. (30103 / 100000 serves beyond 10^300.)
  int ten = (int)floor((exponent - 1) * 0.30103);
  for (s->tens = 16 - ten;; s->tens--) {
    s->down = 53 - exponent - s->tens;
    if (s->tens < 1 || s->tens > 27 || s->down < 0 || s->down > 63) {
      return false;
    }
    uint64_t five = 1;
    for (int i = 0; i < s->tens; i++) {
      five *= 5;  // 5^27 < 2^63
    }
    s->half_ulp = five / 2;
    s->exact = product(m, five);
    s->whole = s->down == 0 ? s->exact.low : s->exact.high << (64 - s->down) | s->exact.low >> s->down;
    s->part = s->exact.low & ((UINT64_C(1) << s->down) - 1);
    if (s->whole < END) {
      return true;
    }
  }
}

// The whole with its part, rounded to a multiple of `unit`, ties to even.
static uint64_t rounded(const scaled *s, uint64_t unit) {
  uint64_t count = s->whole / unit;
  uint64_t rest = s->whole % unit;
  bool up, tie;
  if (unit > 1) {
    up = rest > unit / 2 || (rest == unit / 2 && s->part > 0);
    tie = rest == unit / 2 && s->part == 0;
  } else {
    uint64_t half = s->down == 0 ? 1 : UINT64_C(1) << (s->down - 1);
    up = s->part > half;
    tie = s->part == half;
  }
  return (count + (up || (tie && (count & 1u) != 0) ? 1u : 0u)) * unit;
}

bool fhi_short_digits(double value, uint64_t *digits, int *tens) {
  scaled s = {0};
  if (!(value >= 1e-11 && value < 1e16) || !scale(value, &s)) {
    return false;
  }
  for (uint64_t unit = 100; unit > 0; unit /= 10) {
    uint64_t near = rounded(&s, unit);
    wide off = distance(shifted_up(near, s.down), s.exact);
    bool same = off.high == 0 && off.low == 0;
    if (!same && s.lowest) {
      return false;
    }
    if (off.high == 0 && off.low <= s.half_ulp) {
      *digits = near;
      *tens = s.tens;
      return true;
    }
  }
  return false;
}
