// SPDX-License-Identifier: MIT
// Seeded points that fill a range evenly, and the distributions of a scene's numbers.
#ifndef FHI_SAMPLE_H
#define FHI_SAMPLE_H

#include "firnhaul.h"

enum { FHI_SOBOL = 21 };  ///< dimensions with direction numbers of their own; the others reuse them, shuffled

/// Coordinate `dim` of point `index`: Owen-scrambled Sobol points. Integer arithmetic only, so the same bits everywhere.
/// @return [1] above 0 and below 1
double fhi_sample_unit(uint32_t seed, int dim, uint32_t index);

/// The value below which the share `u` of a number's spread lies. @param n set  @param u [1] above 0 and below 1
/// @param lo,hi [n's unit] where a normal number is cut
double fhi_sample_number(fh_number n, double lo, double hi, double u);

/// The inverse of the normal distribution. @param u [1] above 0 and below 1  @return [1] standard deviations from the mean
double fhi_normal_inverse(double u);

#endif
