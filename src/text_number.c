// SPDX-License-Identifier: MIT
// Numbers in and out of text, the same in every locale: what double does a text mean, and what is its shortest text.
#include "text.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

// ------------------------------------------------------------------------------------------------------- reading

// 767 digits tell any double from its neighbours' midpoints; what comes after them matters only by being zero or not.
// (The longest midpoint, next to the smallest normal number, has 767 significant digits.)
enum { MAX_DIGITS = 768, LIMBS = 160 };

// digit[0] digit[1] ... times 10^exponent, no leading zero; count 0 is zero.
typedef struct decimal {
  unsigned char digit[MAX_DIGITS + 1];
  int count;
  long exponent;
  bool negative;
} decimal;

typedef struct reader {
  const char *at, *end;
} reader;

static bool take(reader *r, char a, char b) {
  if (r->at < r->end && (*r->at == a || *r->at == b)) {
    r->at++;
    return true;
  }
  return false;
}

static bool digit_ahead(const reader *r) {
  return r->at < r->end && *r->at >= '0' && *r->at <= '9';
}

// Adds a digit's worth: keeps it, or past the last place remembers that there was more.
static void keep_digit(decimal *d, unsigned char digit, bool fraction) {
  if (d->count == 0 && digit == 0) {
    d->exponent -= fraction ? 1 : 0;  // a leading zero only moves the point
    return;
  }
  if (d->count < MAX_DIGITS) {
    d->digit[d->count++] = digit;
    d->exponent -= fraction ? 1 : 0;
    return;
  }
  d->exponent += fraction ? 0 : 1;
  if (digit != 0) {
    d->digit[MAX_DIGITS - 1] |= 1u;  // no midpoint has a digit there but 0: to be off 0 is all that counts
  }
}

// Digits of one side of the point. @return how many there were
static size_t read_digits(reader *r, decimal *d, bool fraction) {
  const char *start = r->at;
  for (; digit_ahead(r); r->at++) {
    keep_digit(d, (unsigned char)(*r->at - '0'), fraction);
  }
  return (size_t)(r->at - start);
}

static bool read_exponent(reader *r, decimal *d) {
  bool negative = take(r, '-', '-');
  if (!negative) {
    (void)take(r, '+', '+');
  }
  if (!digit_ahead(r)) {
    return false;
  }
  long value = 0;
  for (; digit_ahead(r); r->at++) {
    // Text is at most some MiB long, so an exponent of 10^8 and more is far outside whatever the digits are.
    value = value < 100000000L ? value * 10 + (*r->at - '0') : value;
  }
  d->exponent += negative ? -value : value;
  return true;
}

static bool read_decimal(const char *text, size_t count, decimal *d) {
  reader r = {text, text + count};
  d->count = 0;
  d->exponent = 0;
  d->negative = take(&r, '-', '-');
  if (!d->negative) {
    (void)take(&r, '+', '+');
  }
  bool leading_zero = digit_ahead(&r) && *r.at == '0';
  size_t whole = read_digits(&r, d, false);
  if (leading_zero && whole > 1) {
    return false;  // 010: ten to one reader, eight to another
  }
  size_t fraction = take(&r, '.', '.') ? read_digits(&r, d, true) : 0;
  if (whole + fraction == 0) {
    return false;
  }
  if (take(&r, 'e', 'E') && !read_exponent(&r, d)) {
    return false;
  }
  return r.at == r.end;
}

// A natural number, 32 bits a limb, least first. The largest here has 768 digits shifted by 1,075 places, or is
// 2^54 * 10^1100: under 3,800 bits of the 5,120.
typedef struct big {
  uint32_t limb[LIMBS];
  int used;
} big;

static void big_multiply_add(big *n, uint32_t factor, uint32_t add) {
  uint64_t carry = add;
  for (int i = 0; i < n->used; i++) {
    carry += (uint64_t)n->limb[i] * factor;
    n->limb[i] = (uint32_t)carry;
    carry >>= 32;
  }
  if (carry != 0 && n->used < LIMBS) {
    n->limb[n->used++] = (uint32_t)carry;
  }
}

static void big_times_power(big *n, uint32_t base, long power) {
  for (; power > 0; power--) {
    big_multiply_add(n, base, 0);
  }
}

static void big_shift(big *n, long places) {
  for (; places >= 31; places -= 31) {
    big_multiply_add(n, 1u << 31, 0);
  }
  big_multiply_add(n, 1u << places, 0);
}

static int big_compare(const big *a, const big *b) {
  if (a->used != b->used) {
    return a->used < b->used ? -1 : 1;
  }
  for (int i = a->used - 1; i >= 0; i--) {
    if (a->limb[i] != b->limb[i]) {
      return a->limb[i] < b->limb[i] ? -1 : 1;
    }
  }
  return 0;
}

// Sign of d minus the midpoint between the double of these bits and the next larger one.
static int compare_with_midpoint(const decimal *d, uint64_t bits) {
  const uint64_t field = bits >> 52;
  const uint64_t fraction = bits & ((UINT64_C(1) << 52) - 1);
  const uint64_t mantissa = field == 0 ? fraction : fraction | (UINT64_C(1) << 52);
  const uint64_t twice = 2 * mantissa + 1;  // midpoint = twice * 2^power
  const long power = (long)(field == 0 ? 1 : field) - 1075 - 1;
  big left = {{0}, 0};
  big right = {{(uint32_t)twice, (uint32_t)(twice >> 32)}, twice >> 32 != 0 ? 2 : 1};
  for (int i = 0; i < d->count; i++) {
    big_multiply_add(&left, 10, d->digit[i]);
  }
  big_times_power(d->exponent > 0 ? &left : &right, 10, d->exponent > 0 ? d->exponent : -d->exponent);
  big_shift(power > 0 ? &right : &left, power > 0 ? power : -power);
  return big_compare(&left, &right);
}

// A double near d: the first 17 digits, scaled in steps of 10^22.
static double near(const decimal *d) {
  static const double POWER[23] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                   1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  double x = 0.0;
  int used = d->count < 17 ? d->count : 17;
  uint64_t head = 0;
  for (int i = 0; i < used; i++) {
    head = head * 10 + d->digit[i];
  }
  x = (double)head;
  long exponent = d->exponent + (d->count - used);
  for (; exponent >= 22; exponent -= 22) {
    x *= 1e22;
  }
  for (; exponent <= -22; exponent += 22) {
    x /= 1e22;
  }
  return exponent >= 0 ? x * POWER[exponent] : x / POWER[-exponent];
}

// The double nearest to d, ties to even. The start is off by half a place for each of at most 17 steps of scaling, so the
// search ends within about 20 places; it has a limit all the same.
static bool nearest(const decimal *d, double *out) {
  const uint64_t largest = UINT64_C(0x7FEFFFFFFFFFFFFF);  // DBL_MAX
  double start = near(d);
  uint64_t bits = largest;
  if (start <= DBL_MAX) {
    memcpy(&bits, &start, sizeof bits);
  }
  for (int step = 0; step < 200; step++) {
    int up = compare_with_midpoint(d, bits);
    if (up > 0 || (up == 0 && (bits & 1u) != 0)) {
      if (bits == largest) {
        return false;
      }
      bits++;
      continue;
    }
    int down = bits == 0 ? 1 : compare_with_midpoint(d, bits - 1);
    if (down > 0 || (down == 0 && (bits & 1u) == 0)) {
      memcpy(out, &bits, sizeof bits);
      return true;
    }
    bits--;
  }
  return false;
}

bool fhi_parse_number(const char *text, size_t count, double *out) {
  decimal d;
  if (!read_decimal(text, count, &d)) {
    return false;
  }
  double value = 0.0;
  long magnitude = d.count + d.exponent;  // d is below 10^magnitude, and at least a tenth of that
  if (d.count > 0 && magnitude > 310) {
    return false;
  }
  if (FLT_EVAL_METHOD == 0 && d.count > 0 && d.count <= 15 && d.exponent >= -22 && d.exponent <= 22) {
    value = near(&d);  // both numbers are exact, so one rounding gives the nearest
  } else if (d.count > 0 && magnitude > -330 && !nearest(&d, &value)) {
    return false;
  }
  *out = d.negative ? -value : value;
  return true;
}

// ------------------------------------------------------------------------------------------------------- writing

// A finite number as printf sees it, freed of the locale: only its digits and its exponent are read back.
typedef struct printed {
  char digit[32];
  int count;
  int exponent;  // of the first digit
} printed;

static printed print_digits(double value, int count) {
  char text[64];
  (void)snprintf(text, sizeof text, "%.*e", count - 1, fabs(value));
  printed p = {{0}, 0, 0};
  const char *at = text;
  for (; *at != '\0' && *at != 'e'; at++) {
    if (*at >= '0' && *at <= '9' && p.count < 31) {
      p.digit[p.count++] = *at;
    }
  }
  bool negative = at[0] == 'e' && at[1] == '-';
  for (; *at != '\0'; at++) {
    if (*at >= '0' && *at <= '9') {
      p.exponent = p.exponent * 10 + (*at - '0');
    }
  }
  p.exponent = negative ? -p.exponent : p.exponent;
  return p;
}

// The same of digits / 10^tens: what the last zeros say goes without saying.
static printed print_short(uint64_t digits, int tens) {
  char last[24];
  int first = (int)sizeof last;
  for (uint64_t rest = digits; rest > 0; rest /= 10) {
    last[--first] = (char)('0' + rest % 10);
  }
  printed p = {{0}, (int)sizeof last - first, (int)sizeof last - first - 1 - tens};
  memcpy(p.digit, last + first, (size_t)p.count);
  return p;
}

static char *repeat(char *at, char what, int count) {
  memset(at, what, count > 0 ? (size_t)count : 0);
  return at + (count > 0 ? count : 0);
}

// JSON's form of some digits: plain from 1e-5 to below 1e17, with an exponent outside. @param to for 40 bytes
static void spell(char *to, bool negative, const printed *p) {
  int e = p->exponent;
  char *at = repeat(to, '-', negative ? 1 : 0);
  bool plain = e >= -5 && e < 17;
  if (plain && e < 0) {
    *at++ = '0';
    *at++ = '.';
    at = repeat(at, '0', -e - 1);
  }
  int whole = !plain ? 1 : e < 0 ? p->count : e + 1;  // digits before the point
  for (int i = 0; i < p->count; i++) {
    if (i == whole) {
      *at++ = '.';
    }
    *at++ = p->digit[i];
  }
  at = repeat(at, '0', whole - p->count);
  *at = '\0';
  if (!plain) {
    (void)fhi_format(at, 8, "e%d", e);
  }
}

static void strip_zeros(printed *p) {
  while (p->count > 1 && p->digit[p->count - 1] == '0') {
    p->digit[--p->count] = '\0';
  }
}

// A text cut short would be another number, so one that does not fit gives way to `instead`.
static const char *give_up(char *to, size_t size, const char *instead) {
  if (size > 0) {
    (void)fhi_copy(to, size, strlen(instead) < size ? instead : "");
  }
  return to;
}

// Any decimal of up to 15 digits survives the way through a normal double (DBL_DIG), so when 15 digits read back, they are,
// less their zeros, the shortest; 17 always read back. Below the smallest normal number fewer may do: there all are tried.
const char *fhi_shortest(char *to, size_t size, double value) {
  if (!isfinite(value)) {
    return give_up(to, size, "null");
  }
  if (!(fabs(value) > 0.0)) {
    return give_up(to, size, "0");
  }
  char text[40];
  uint64_t digits = 0;
  int tens = 0;
  if (fhi_short_digits(fabs(value), &digits, &tens)) {
    printed p = print_short(digits, tens);
    strip_zeros(&p);
    spell(text, value < 0.0, &p);
    return give_up(to, size, text);
  }
  for (int count = fabs(value) < DBL_MIN ? 1 : 15; count <= 17; count++) {
    printed p = print_digits(value, count);
    strip_zeros(&p);
    double back = 0.0;
    spell(text, value < 0.0, &p);
    if (fhi_parse_number(text, strlen(text), &back) && !(back < value) && !(back > value)) {
      break;
    }
  }
  return give_up(to, size, text);
}

// value 10^places, rounded to a whole number, ties to even, as printf rounds: exact, for value = m 2^-down with m < 2^53, and
// m 1000 < 2^63. @return false where it does not fit
static bool scale_exactly(double value, int places, uint64_t *out) {
  static const uint64_t POWER[] = {1, 10, 100, 1000};
  if (!(value < 9007199254740992.0) || places > 3) {
    return false;
  }
  int exponent = 0;
  uint64_t m = (uint64_t)(frexp(value, &exponent) * 9007199254740992.0) * POWER[places];
  int down = 53 - exponent;
  if (down <= 0 || down > 63) {
    *out = down <= 0 ? m : 0;  // 0: less than 2^63 / 2^64
    return true;
  }
  uint64_t rest = m & ((UINT64_C(1) << down) - 1);
  uint64_t half = UINT64_C(1) << (down - 1);
  *out = m >> down;
  *out += rest > half || (rest == half && (*out & 1u) != 0) ? 1 : 0;
  return true;
}

// The digits of `scaled`, with a point before the last `places`.
static const char *spell_scaled(char *to, size_t size, bool negative, uint64_t scaled, int places) {
  char text[40];
  size_t at = sizeof text;
  text[--at] = '\0';
  bool minus = negative && scaled != 0;
  for (int i = 0; i <= places || scaled != 0; i++) {
    if (i == places && places > 0) {
      text[--at] = '.';
    }
    text[--at] = (char)('0' + scaled % 10);
    scaled /= 10;
  }
  if (minus) {
    text[--at] = '-';
  }
  return give_up(to, size, strlen(text + at) < size ? text + at : "?");
}

const char *fhi_fixed(char *to, size_t size, double value, int decimals) {
  if (isnan(value)) {
    return give_up(to, size, "?");
  }
  if (isinf(value)) {
    return give_up(to, size, value < 0.0 ? "-inf" : "inf");
  }
  int places = decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
  uint64_t scaled = 0;
  if (scale_exactly(fabs(value), places, &scaled)) {
    return spell_scaled(to, size, value < 0.0, scaled, places);
  }
  // The largest double has 309 digits before the point.
  char text[400];
  char clean[sizeof text];
  (void)snprintf(text, sizeof text, "%.*f", places, fabs(value));
  // Whatever stands between the digits is this locale's point, perhaps of several bytes.
  size_t n = 0;
  bool zero = true;
  bool point = false;
  for (const char *at = text; *at != '\0'; at++) {
    bool digit = *at >= '0' && *at <= '9';
    zero = zero && (!digit || *at == '0');
    if (digit || !point) {
      clean[n++] = digit ? *at : '.';
      point = point || !digit;
    }
  }
  clean[n] = '\0';
  char signed_text[sizeof clean + 1];
  (void)fhi_format(signed_text, sizeof signed_text, "%s%s", value < 0.0 && !zero ? "-" : "", clean);
  return give_up(to, size, strlen(signed_text) < size ? signed_text : "?");
}
