// SPDX-License-Identifier: MIT
// Functions worked out for many samples side by side, with the same bits on every machine: no call into libm.
#ifndef FHI_LANES_H
#define FHI_LANES_H

#include <stdint.h>

/// e to the power of x. @param x -700 to 700  @param count a multiple of 4 runs best  @param out may be x
/// Largest error seen 1.1 units in the last place (tests/unit/test_lanes.c).
void fhi_lanes_exp(const double *x, int count, double *out);

/// Which of 64 numbers are above those of another row, or cannot be compared with them. @return bit l for lane l
uint64_t fhi_lanes_above(const double *x, const double *most);
/// Which of 64 numbers are not finite. @return as above
uint64_t fhi_lanes_unknown(const double *x);
/// How many bits are set. @return 0 to 64
int fhi_bits(uint64_t bits);

#endif
