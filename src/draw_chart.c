// SPDX-License-Identifier: MIT
// Where does a value stand on an axis, and which round numbers mark it?
#include "draw_chart.h"

#include "draw_common.h"

#include <math.h>

double fhi_chart_x(const fhi_chart *c, double value) {
  return c->area.x + (value - c->x_lo) / (c->x_hi - c->x_lo) * c->area.w;
}

double fhi_chart_y(const fhi_chart *c, double value) {
  return c->area.y + c->area.h - (value - c->y_lo) / (c->y_hi - c->y_lo) * c->area.h;
}

double fhi_chart_step(double span, int most) {
  static const double ROUND[] = {1.0, 2.0, 5.0, 10.0};
  double step = 1.0;
  while (span / step > 10.0 * most) {
    step *= 10.0;
  }
  while (span / step < most && step > 1e-6) {
    step /= 10.0;
  }
  for (int i = 0; i < 4; i++) {
    if (span / (step * ROUND[i]) <= most + 1e-9) {
      return step * ROUND[i];
    }
  }
  return step * 20.0;
}

// Multiples are counted, not added up, so that a step cannot get lost in rounding.
static int steps(double lo, double hi, double step) {
  return (int)floor((hi - lo) / step + 1e-6);
}

void fhi_chart_axes(fhi_svg *svg, const fhi_chart *c) {
  char number[40];
  char text[FHI_WORD];
  fhi_font font = fhi_font_small();
  double bottom = c->area.y + c->area.h;
  double right = c->area.x + c->area.w;
  fhi_pen grid = {"#d5dde4", 0.6, NULL, NULL};
  fhi_pen axis = {FHI_INK, 1.0, NULL, NULL};
  for (int i = 0; i <= steps(c->y_lo, c->y_hi, c->y_step); i++) {
    double value = c->y_lo + i * c->y_step;
    double y = fhi_chart_y(c, value);
    fhi_svg_line(svg, c->area.x, y, right, y, grid);
    fhi_svg_text(svg, c->area.x - 4.0, y + 2.7, FHI_END, font, fhi_fixed(number, sizeof number, value, c->y_decimals));
  }
  for (int i = 0; i <= steps(c->x_lo, c->x_hi, c->x_step); i++) {
    double value = c->x_lo + i * c->x_step;
    double x = fhi_chart_x(c, value);
    fhi_svg_line(svg, x, c->area.y, x, bottom, grid);
    (void)fhi_format(text, sizeof text, "%s%s", fhi_fixed(number, sizeof number, value, c->x_decimals), c->x_unit);
    fhi_svg_text(svg, x, bottom + 10.5, FHI_MIDDLE, font, text);
  }
  fhi_svg_line(svg, c->area.x, c->area.y, c->area.x, bottom, axis);
  fhi_svg_line(svg, c->area.x, bottom, right, bottom, axis);
  fhi_svg_text(svg, FHI_MARGIN, c->area.y - 8.0, FHI_START, (fhi_font){8.5, true, FHI_INK}, c->y_title);
  fhi_svg_text(svg, right, bottom + 22.0, FHI_END, (fhi_font){8.5, true, FHI_INK}, c->x_title);
}
