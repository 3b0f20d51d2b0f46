// SPDX-License-Identifier: MIT
// How is a team's fall laid on the page: scale, surface and wall?
#include "draw_team_cut.h"

#include "draw_common.h"

#include <math.h>

static const double TALLEST = 190.0;  // [pt]

void fhi_cut_frame(fhi_cut *c, double y) {
  double slope = c->team->in.slope;
  double turn = fmax(0.6, c->team->in.lip_turn);
  const fh_fall *f = &c->team->likely;
  c->back = c->team->in.at[c->team->in.people - 1] + 2.5;
  c->depth = f->arrested ? f->fall + 2.5 : 8.0;
  fhi_frame_axes(&c->frame, slope, turn);
  double wide = c->back * cos(slope) + 3.0 + fmax(0.0, -c->frame.wx) * c->depth;
  double rise = fmax(0.0, c->back * sin(slope)) + 2.6;
  double tall = rise + fmax(c->depth * fabs(c->frame.wy), -c->back * sin(slope)) + 0.5;
  c->frame.scale = fmin((FHI_PAGE - 2.0 * FHI_MARGIN) / wide, TALLEST / tall);
  c->frame.x = FHI_MARGIN + (2.0 + fmax(0.0, -c->frame.wx) * c->depth) * c->frame.scale;
  c->frame.y = y + rise * c->frame.scale;
}

double fhi_cut_ground(fhi_cut *c) {
  double x[2];
  double y[2];
  fhi_frame_point(&c->frame, -c->depth, 0.0, 0.0, &x[0], &y[0]);
  fhi_frame_point(&c->frame, c->back, 0.0, 0.0, &x[1], &y[1]);
  double bottom = fmax(y[0], y[1] + 6.0);
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, x[0], y[0]);
  fhi_path_line(&p, c->frame.x, c->frame.y);
  fhi_path_line(&p, x[1], y[1]);
  fhi_path_line(&p, x[1], bottom);
  fhi_path_line(&p, x[0], bottom);
  fhi_path_close(&p);
  fhi_svg_path(c->svg, &p, (fhi_pen){NULL, 0.0, NULL, FHI_ICE});
  fhi_path_clear(&p);
  fhi_path_move(&p, x[0], y[0]);
  fhi_path_line(&p, c->frame.x, c->frame.y);
  fhi_path_line(&p, x[1], y[1]);
  fhi_svg_path(c->svg, &p, (fhi_pen){FHI_ICE_EDGE, 1.1, NULL, NULL});
  return bottom;
}

void fhi_cut_point(const fhi_cut *c, double at, double *x, double *y) {
  fhi_frame_point(&c->frame, at, 3.0, 0.0, x, y);
}
