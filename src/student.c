// SPDX-License-Identifier: MIT
// Student's law, for intervals from few readings. Model section 14.
// Share below t by the incomplete beta function, its continued fraction by Lentz's method (Abramowitz & Stegun 26.5.8, 26.7.1).
#include <math.h>

#include "fit.h"

// Converges because terms fall off geometrically for x < (a + 1) / (a + b + 2); at most 60 steps seen for 1 to 2,000 degrees of freedom.
static double beta_fraction(double a, double b, double x) {
  double c = 1.0, d = 1.0 - (a + b) * x / (a + 1.0);
  d = 1.0 / (fabs(d) < 1e-300 ? 1e-300 : d);
  double h = d;
  for (int m = 1; m <= 500; m++) {
    double even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
    double odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
    d = 1.0 / (1.0 + even * d);
    c = 1.0 + even / c;
    h *= d * c;
    d = 1.0 / (1.0 + odd * d);
    c = 1.0 + odd / c;
    h *= d * c;
    if (fabs(d * c - 1.0) < 1e-15) {
      break;
    }
  }
  return h;
}

static double beta_share(double a, double b, double x) {
  if (x <= 0.0 || x >= 1.0) {
    return x <= 0.0 ? 0.0 : 1.0;
  }
  double front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log(1.0 - x));
  return x < (a + 1.0) / (a + b + 2.0) ? front * beta_fraction(a, b, x) / a : 1.0 - front * beta_fraction(b, a, 1.0 - x) / b;
}

double fhi_student_below(double t, double freedom) {
  double tail = 0.5 * beta_share(0.5 * freedom, 0.5, freedom / (freedom + t * t));
  return t > 0.0 ? 1.0 - tail : tail;
}

double fhi_student_quantile(double p, double freedom) {
  double lo = -1e6, hi = 1e6;
  for (int i = 0; i < 200 && hi - lo > 1e-12 * fmax(1.0, fabs(lo)); i++) {
    double mid = 0.5 * (lo + hi);
    *(fhi_student_below(mid, freedom) < p ? &lo : &hi) = mid;
  }
  return 0.5 * (lo + hi);
}
