// SPDX-License-Identifier: MIT
// The distributions of a scene's numbers. Model section 12.
#ifndef FHI_SAMPLE_H
#define FHI_SAMPLE_H

#include "firnhaul.h"

/// The value below which the share `u` of a number's spread lies. @param n set  @param u [1] above 0 and below 1
/// @param lo,hi [n's unit] where a normal number is cut
double fhi_sample_number(fh_number n, double lo, double hi, double u);

/// The same at many shares, bit by bit. @param count 1 or more  @param out [unit of n]
void fhi_number_lanes(fh_number n, double lo, double hi, const double *u, int count, double *out);

/// The inverse of the normal distribution. @param u [1] above 0 and below 1  @return [1] standard deviations from the mean
double fhi_normal_inverse(double u);

#endif
