// SPDX-License-Identifier: MIT
// Functions worked out for many samples side by side, with the same bits on every machine: no call into libm.
#ifndef FHI_LANES_H
#define FHI_LANES_H

/// e to the power of x. @param x -700 to 700  @param count a multiple of 4 runs best  @param out may be x
/// Largest error seen 1.1 units in the last place (tests/unit/test_lanes.c).
void fhi_lanes_exp(const double *x, int count, double *out);

#endif
