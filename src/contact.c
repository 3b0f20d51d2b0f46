// SPDX-License-Identifier: MIT
// What a bend costs, and what two strands do to the body between them. Implements model.md, sections 2 and 10.
// Pure functions on plain values: no allocation, no I/O. Where the laws stop being true: docs/gear.md, "Bends".
#include <math.h>

#include "firnhaul.h"

static const double PI = 3.14159265358979323846;

// Sheave: with x = ln k and R^2 = 1 + k^2 - 2 k cos(wrap),
//   R / (1 + k) = sqrt(sin^2(wrap / 2) + sinh^2(x / 2)) / cosh(x / 2),
// which keeps its digits where the strands nearly cancel.
static double axle_share(double sin2, double x) {
  double s = sinh(0.5 * x);
  return sqrt(sin2 + s * s) / cosh(0.5 * x);
}

// Solves x = loss [share + (1 - share) axle_share(x)] for x in [loss share, loss].
// The right side grows with x, with a slope of at most loss (1 - share) / 2: below 1 for every efficiency above 0.14, so
// the root is the only one and Newton closes in on it. Below 0.14 a step that leaves the bracket is replaced by halving.
// At most 14 rounds seen over 257,600 arguments, 8 for efficiencies from 0.3; test_contact.c compares with plain halving.
static double sheave_log_ratio(double loss, double share, double wrap) {
  double sine = sin(0.5 * wrap);
  double sin2 = sine * sine;
  double lo = loss * share, hi = loss, x = loss;
  for (int round = 0; round < 80; round++) {
    double r = axle_share(sin2, x);
    double f = x - loss * (share + (1.0 - share) * r);
    *(f > 0.0 ? &hi : &lo) = x;
    double c = cosh(0.5 * x);
    double slope = 1.0 - loss * (1.0 - share) * (1.0 - sin2) * tanh(0.5 * x) / (2.0 * r * c * c);
    double next = x - f / slope;
    if (!(next > lo && next < hi)) {
      next = 0.5 * (lo + hi);
    }
    if (f == 0.0 || fabs(next - x) <= 4e-16 * x) {
      return x;
    }
    x = next;
  }
  return x;
}

fh_status fh_contact_ratio(bool sheave, double eta, double share, double wrap, double *out) {
  // Written so that a NaN fails the test rather than passing it.
  if (out == NULL || !(eta >= 0.05 && eta <= 1.0) || !(share >= 0.0 && share <= 1.0) ||
      !(wrap >= 0.0 && wrap <= (sheave ? PI : 100.0))) {
    return FH_ERR_ARG;
  }
  if (wrap == 0.0 || eta == 1.0) {  // no bend, or no loss
    *out = 1.0;
  } else if (wrap == PI) {  // the angle at which efficiency is stated; exact for both kinds
    *out = 1.0 / eta;
  } else if (sheave) {
    *out = exp(sheave_log_ratio(-log(eta), share, wrap));
  } else {
    *out = exp(-log(eta) * (share + (1.0 - share) * wrap / PI));  // at most e^96: far below overflow
  }
  return FH_OK;
}

fh_status fh_edge_ratio(double mu, double wrap, double *out) {
  if (out == NULL || !(mu >= 0.0 && mu <= 5.0) || !(wrap >= 0.0 && wrap <= 100.0)) {
    return FH_ERR_ARG;
  }
  *out = exp(mu * wrap);  // at most e^500: below overflow (e^709)
  return FH_OK;
}

double fh_resultant(double a, double b, double wrap) {
  if (!(a >= 0.0 && a < (double)INFINITY) || !(b >= 0.0 && b < (double)INFINITY) || !(wrap >= 0.0 && wrap <= PI)) {
    return (double)NAN;
  }
  // The same as a^2 + b^2 - 2 a b cos(wrap), without losing digits when the strands nearly cancel.
  double s = sin(0.5 * wrap), d = a - b;
  return sqrt(d * d + 4.0 * a * b * s * s);
}

double fh_leg_tension(double angle) {
  if (!(angle >= 0.0 && angle < PI)) {
    return (double)NAN;
  }
  return 1.0 / (2.0 * cos(0.5 * angle));
}

// Closed triangle sling: the legs carry T = fh_leg_tension each, and the strand between the two points carries T too
// (frictionless at the points). The two strands at a point stand pi/2 - angle/2 apart, so each point feels
// 2 T cos(pi/4 - angle/4).
double fh_leg_triangle(double angle) {
  return 2.0 * fh_leg_tension(angle) * cos(0.25 * PI - 0.25 * angle);
}
