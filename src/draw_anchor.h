// SPDX-License-Identifier: MIT
// Parts of the anchor's figure. Model section 10.
#ifndef FHI_DRAW_ANCHOR_H
#define FHI_DRAW_ANCHOR_H

#include "draw_common.h"

/// Screws and threads from the side, at their length and angle; nothing where the anchor has none.
/// @param y [pt] upper edge  @return [pt] lower edge
double fhi_draw_in_ice(fhi_svg *svg, const fh_scene *scene, const fh_gear *gear, const fh_anchorage *anchor, double y, fh_units units);

#endif
