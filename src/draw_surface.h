// SPDX-License-Identifier: MIT
// The parts of the surface near the lip: what stands on its strands, and what is written beside them.
#ifndef FHI_DRAW_SURFACE_H
#define FHI_DRAW_SURFACE_H

#include "draw_section.h"

/// Where a contact is drawn. @param x,y [pt] @param dir +1 or -1: the way of the strand that comes to it  @return false: past the edge
bool fhi_contact_spot(const fhi_section *sec, const fhi_frame *f, const fh_contact *contact, double *x, double *y, int *dir);
/// Turns, grips, knots, the hand, and a ring around what is new.
void fhi_draw_marks(fhi_section *sec, const fhi_frame *f);
/// Forces and names. What finds no room is counted in sec->missed or left out. @param field [pt] where they may stand
void fhi_label_surface(fhi_section *sec, const fhi_frame *f, fhi_box field);

#endif
