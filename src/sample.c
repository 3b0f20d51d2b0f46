// SPDX-License-Identifier: MIT
// Which value of a number has a given share of its spread below it? Range, triangle, normal. Implements model.md, section 12.
// The shares come from src/quasi.c.
#include "sample.h"

#include <math.h>

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

// Written so that lanes run side by side; the same operations as one by one, both sides worked out.
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
      out[i] = fhi_sample_number(n, cut_lo, cut_hi, u[i]);
    }
  }
}
