// SPDX-License-Identifier: MIT
// Rounding for people. A result of a hair beyond a step's multiple must not jump a whole step.
#include "shown.h"

#include <math.h>
#include <string.h>

#include "text.h"

static const double HAIR = 1e-6;  // [1] of a step
static const double LONG = 180.0;  // [min] nobody plans by the minute beyond

static double rounded(double value, double step, fhi_side side) {
  switch (side) {
  case FHI_DOWN: return floor(value / step + HAIR) * step;
  case FHI_UP: return ceil(value / step - HAIR) * step;
  case FHI_NEAREST: break;
  }
  return round(value / step) * step;
}

double fhi_coarse(double force, fhi_side side) {
  double size = fabs(force);
  return rounded(force, size < 100.0 ? 1.0 : size < 1000.0 ? 5.0 : size < 10000.0 ? 10.0 : 100.0, side);
}

double fhi_minutes(double seconds) {
  double minutes = seconds / 60.0;
  return rounded(minutes, minutes < 10.0 ? 0.5 : 1.0, FHI_UP);
}

const char *fhi_show_minutes(char *to, size_t size, double seconds) {
  double minutes = fhi_minutes(seconds);
  if (minutes > LONG) {
    (void)fhi_copy(to, size, "> 3 h");
    return to;
  }
  return fhi_fixed(to, size, minutes, minutes - floor(minutes) < 0.25 ? 0 : 1);
}

const char *fhi_show_newton(char *to, size_t size, double force, fhi_side side) {
  return fhi_fixed(to, size, fhi_coarse(force, side), 0);
}

void fhi_show_compared(char *to, char *other, size_t size, double more, double less) {
  fhi_show_newton(to, size, more, FHI_NEAREST);
  fhi_show_newton(other, size, less, FHI_NEAREST);
  if (strcmp(to, other) == 0) {
    fhi_fixed(to, size, ceil(more), 0);
    fhi_fixed(other, size, floor(less), 0);
  }
}
