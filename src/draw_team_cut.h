// SPDX-License-Identifier: MIT
// The hole and the surface of a team's fall, cut open, to scale: what the section at rest and the section of a moment share.
#ifndef FHI_DRAW_TEAM_CUT_H
#define FHI_DRAW_TEAM_CUT_H

#include "draw_layout.h"
#include "firnhaul_team.h"

typedef struct fhi_cut {
  fhi_svg *svg;
  const fh_scene *scene;
  const fh_team_result *team;
  fh_units units;
  fhi_frame frame;
  double depth;  ///< [m] that is shown
  double back;   ///< [m]
} fhi_cut;

/// Chooses the scale, the same for every moment of the fall. @param y [pt] top
void fhi_cut_frame(fhi_cut *cut, double y);
double fhi_cut_ground(fhi_cut *cut);  ///< Draws surface and wall. @return [pt] y below both
/// Where the rope runs. @param at [m] on the haul line @param x,y [pt] result
void fhi_cut_point(const fhi_cut *cut, double at, double *x, double *y);

#endif
