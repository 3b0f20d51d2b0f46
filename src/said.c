// SPDX-License-Identifier: MIT
// How does a metric sentence of the core read in feet and pounds? Reasons and notes are made once, metric, as JSON carries
// them; where a person reads them in other units, each "12.5 m" or "186 to 396 N" in them is put over.
// Implements no section of the model.
#include "text.h"

#include <string.h>

typedef struct said_unit {
  const char *metric, *imperial;
  double factor;  // imperial units in one metric one
  int decimals;   // shown; -1: as many as the metric number had
} said_unit;

// Foot, pound and pound-force are exact by definition (international yard and pound agreement, 1959; g = 9.80665 m/s^2).
static const said_unit UNITS[] = {
    {"kN", "lbf", 1000.0 / 4.4482216152605, 0},
    {"kg", "lb", 1.0 / 0.45359237, 0},
    {"N", "lbf", 1.0 / 4.4482216152605, 0},
    {"m", "ft", 1.0 / 0.3048, -1},
};

static bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Any byte of a UTF-8 letter counts as one.
static bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || ((unsigned char)c & 0x80u) != 0;
}

// A decimal number. @return its length, 0 when there is none @param decimals digits behind the point
static size_t number(const char *text, int *decimals) {
  size_t n = 0;
  *decimals = 0;
  while (is_digit(text[n])) {
    n++;
  }
  if (n > 0 && text[n] == '.' && is_digit(text[n + 1])) {
    for (n++; is_digit(text[n]); n++) {
      (*decimals)++;
    }
  }
  return n;
}

bool fhi_is_decimal_point(const char *from, const char *at) {
  if (*at != '.' || at == from || !is_digit(at[-1]) || !is_digit(at[1])) {
    return false;
  }
  const char *first = at - 1;
  const char *next = at + 1;
  while (first > from && is_digit(first[-1])) {
    first--;
  }
  while (is_digit(*next)) {
    next++;
  }
  bool own = first == from || (((unsigned char)first[-1] & 0x80u) != 0 || !is_letter(first[-1]));
  if (own && first > from) {
    own = first[-1] != '.' && first[-1] != '_' && !(first[-1] == '-' && first - 1 > from && is_letter(first[-2]));
  }
  return own && !(next[0] == '.' && is_digit(next[1])) && *next != '/' && !(is_letter(*next) && ((unsigned char)*next & 0x80u) == 0);
}

bool fhi_is_tied(const char *from, const char *at) {
  static const char *const TIED[] = {"m", "N", "kN", "kg", "min", "mm", "ft", "lb", "lbf", "s", "kJ", "%"};
  if (*at != ' ' || at == from || !is_digit(at[-1])) {
    return false;
  }
  for (size_t i = 0; i < sizeof TIED / sizeof TIED[0]; i++) {
    size_t n = strlen(TIED[i]);
    if (strncmp(at + 1, TIED[i], n) == 0 && !is_letter(at[1 + n]) && !is_digit(at[1 + n]) && at[1 + n] != '\'') {
      return true;
    }
  }
  return false;
}

static const said_unit *unit_at(const char *text) {
  for (size_t i = 0; i < sizeof UNITS / sizeof UNITS[0]; i++) {
    size_t n = strlen(UNITS[i].metric);
    if (strncmp(text, UNITS[i].metric, n) == 0 && !is_letter(text[n]) && !is_digit(text[n])) {
      return &UNITS[i];
    }
  }
  return NULL;
}

static void put_over(char *to, size_t size, const char *text, size_t count, int decimals, const said_unit *unit) {
  double value = 0.0;
  (void)fhi_parse_number(text, count, &value);
  (void)fhi_fixed(to, size, value * unit->factor, unit->decimals < 0 ? decimals : unit->decimals);
}

// What stands between the ends of a range, in each language. @return its length, 0 when it is something else
static size_t between(const char *text) {
  static const char *const WORDS[] = {" to ", " bis ", " \xC3\xA0 ", " a "};
  for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
    size_t n = strlen(WORDS[i]);
    if (strncmp(text, WORDS[i], n) == 0) {
      return n;
    }
  }
  return 0;
}

// "NUMBER UNIT" or "NUMBER to NUMBER UNIT" at this place. @return how much of the text it takes, 0 when it is neither
static size_t quantity(const char *text, char *to, size_t size) {
  int low_decimals = 0;
  int high_decimals = 0;
  size_t low = number(text, &low_decimals);
  size_t middle = low > 0 ? between(text + low) : 0;
  size_t second = low + middle;
  size_t high = middle > 0 ? number(text + second, &high_decimals) : 0;
  size_t end = high > 0 ? second + high : low;
  const said_unit *unit = end > 0 && text[end] == ' ' ? unit_at(text + end + 1) : NULL;
  if (unit == NULL) {
    return 0;
  }
  char a[40];
  char b[40];
  put_over(a, sizeof a, text, low, low_decimals, unit);
  if (high > 0) {
    put_over(b, sizeof b, text + second, high, high_decimals, unit);
  }
  (void)fhi_format(to, size, "%s%.*s%s %s", a, high > 0 ? (int)middle : 0, text + low, high > 0 ? b : "", unit->imperial);
  return end + 1 + strlen(unit->metric);
}

const char *fhi_said(char *to, size_t size, const char *text, fh_units units) {
  if (units != FH_IMPERIAL) {
    (void)fhi_copy(to, size, text);
    return to;
  }
  size_t used = 0;
  to[0] = '\0';
  char before = ' ';
  for (const char *at = text; *at != '\0' && used + 1 < size;) {
    char shown[120];
    // Not within a name: "block-1", "rope2".
    bool starts = !is_letter(before) && !is_digit(before) && before != '-' && before != '.' && before != '_';
    size_t took = starts ? quantity(at, shown, sizeof shown) : 0;
    if (took > 0) {
      (void)fhi_copy(to + used, size - used, shown);
      used += strlen(to + used);
    } else {
      to[used++] = *at;
      to[used] = '\0';
      took = 1;
    }
    at += took;
    before = at[-1];
  }
  return to;
}
