// SPDX-License-Identifier: MIT
// The curve of advantage against angle, from points that are already worked out.
#ifndef FHI_DRAW_ANGLE_H
#define FHI_DRAW_ANGLE_H

#include "firnhaul.h"

/// @param points at least two, ascending angles, the first in line  @param own [rad] the scene's own angle, or NaN
fh_status fhi_draw_angle_points(const char *title, const fh_angle_point *points, int count, double own, fh_language language, fh_out out);

#endif
