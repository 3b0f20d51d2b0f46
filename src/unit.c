// SPDX-License-Identifier: MIT
// What is a document's number in SI, and which document's number gives that SI value back to the last bit?
#include <float.h>
#include <math.h>
#include <string.h>

#include "keys.h"

// value * up / down. Both are exact integers save for degrees, so that 8.5 mm is the double nearest to 0.0085 m.
typedef struct unit_row {
  const char *unit;
  double up, down;
} unit_row;

static const unit_row UNITS[] = {
    {"kg", 1.0, 1.0}, {"m", 1.0, 1.0}, {"s", 1.0, 1.0},     {"N", 1.0, 1.0},     {"m/s", 1.0, 1.0},
    {"1", 1.0, 1.0},  {"", 1.0, 1.0},  {"mm", 1.0, 1000.0}, {"kN", 1000.0, 1.0}, {"deg", 3.14159265358979323846, 180.0},
    {"kPa", 1000.0, 1.0},
};

static const unit_row *find(const char *unit) {
  for (size_t i = 0; i < sizeof UNITS / sizeof UNITS[0]; i++) {
    if (strcmp(UNITS[i].unit, unit) == 0) {
      return &UNITS[i];
    }
  }
  return NULL;  // a test walks the scene's table: every unit there stands here
}

double fhi_to_si(const char *unit, double value) {
  const unit_row *u = find(unit);
  return u == NULL ? (double)NAN : value * u->up / u->down;
}

double fhi_from_si(const char *unit, double si) {
  const unit_row *u = find(unit);
  if (u == NULL || !isfinite(si)) {
    return (double)NAN;
  }
  double near = si * u->down / u->up;
  // The shortest decimal that means the same: 80 rather than 80.00000000000001. Powers of ten are exact up to 1e22.
  double power = 1.0;
  for (int decimals = 0; decimals <= 12; decimals++, power *= 10.0) {
    double short_one = round(near * power) / power;
    if (fhi_to_si(unit, short_one) == si) {
      return short_one;
    }
  }
  // Two roundings on the way out and two on the way back move the last digits: look a few doubles to either side.
  double below = near, above = near;
  for (int step = 0; step < 8; step++) {
    if (fhi_to_si(unit, below) == si) {
      return below;
    }
    if (fhi_to_si(unit, above) == si) {
      return above;
    }
    below = nextafter(below, -DBL_MAX);
    above = nextafter(above, DBL_MAX);
  }
  return near;
}
