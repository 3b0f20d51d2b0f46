// SPDX-License-Identifier: MIT
// Advance widths of the face that the figures name first.
#ifndef FHI_SVG_FONT_H
#define FHI_SVG_FONT_H

#include <stdbool.h>
#include <stddef.h>

enum { FHI_FONT_EM = 2048 };  ///< units in which widths are given

/// @return the advance width in 1/2048 of the type size, or 0 when the table does not hold the character
int fhi_font_advance(unsigned character, bool bold);

#endif
