// SPDX-License-Identifier: MIT
// The table that a Sobol sequence starts from. Model section 12.
#ifndef FHI_DIRECTIONS_H
#define FHI_DIRECTIONS_H

#include <stdint.h>

enum { FHI_DIRECTION_ROWS = 63, FHI_DIRECTION_DEGREE = 9 };

typedef struct fhi_direction_row {
  uint8_t degree;     ///< of the primitive polynomial
  uint16_t inner;     ///< its coefficients between the first and the last, as bits
  uint16_t first[FHI_DIRECTION_DEGREE];  ///< direction numbers m_1 to m_degree: odd, m_i below 2^i
} fhi_direction_row;

extern const fhi_direction_row FHI_DIRECTIONS[FHI_DIRECTION_ROWS];  ///< dimensions 2 to 64; the first needs no row

#endif
