// SPDX-License-Identifier: MIT
// How a rope stretches and how hard it stops a weight. Implements model.md, section 6: a linear spring, no damping, no
// rope slipping at the holder, so forces of a long or slipping fall come out high.
#include <math.h>

#include "firnhaul.h"

static const double G = 9.80665;  // [m/s^2] standard gravity

static bool positive(double x) {
  return x > 0.0 && x < (double)INFINITY;  // false for NaN
}

static bool not_negative(double x) {
  return x >= 0.0 && x < (double)INFINITY;
}

// From the energy of the standard drop, (F - mg)^2 = (mg)^2 + 2 mg f M, solved for M.
double fh_rope_modulus_from_impact(double force, double mass, double factor) {
  if (!positive(force) || !positive(mass) || !positive(factor)) {
    return (double)NAN;
  }
  double w = mass * G;
  if (!(force > 2.0 * w)) {  // even without a fall a sudden load gives 2 W
    return (double)NAN;
  }
  return force * (force - 2.0 * w) / (2.0 * w * factor);
}

double fh_rope_impact(double modulus, double mass, double factor) {
  if (!positive(modulus) || !not_negative(mass) || !not_negative(factor)) {
    return (double)NAN;
  }
  double w = mass * G;
  return w + sqrt(w * w + 2.0 * w * factor * modulus);
}

double fh_rope_modulus_from_stretch(double strain, double mass) {
  if (!positive(strain) || !positive(mass)) {
    return (double)NAN;
  }
  return mass * G / strain;
}

double fh_rope_catch(double weight, double modulus, double fall, double length) {
  if (!not_negative(weight) || !positive(modulus) || !not_negative(fall) || !positive(length)) {
    return (double)NAN;
  }
  return weight + sqrt(weight * weight + 2.0 * weight * modulus * fall / length);
}
