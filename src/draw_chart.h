// SPDX-License-Identifier: MIT
// Axes for figures that are curves and points.
#ifndef FHI_DRAW_CHART_H
#define FHI_DRAW_CHART_H

#include "svg.h"

typedef struct fhi_chart {
  fhi_box area;            ///< [pt] inside the axes
  double x_lo, x_hi;       ///< [unit of the axis]
  double y_lo, y_hi;       ///< [unit of the axis]
  double x_step, y_step;   ///< [unit of the axis] between ticks
  int x_decimals, y_decimals;
  const char *x_unit;      ///< put after each number of the x axis, such as a degree sign; may be ""
  const char *x_title, *y_title;
} fhi_chart;

double fhi_chart_x(const fhi_chart *chart, double value);  ///< @return [pt]
double fhi_chart_y(const fhi_chart *chart, double value);  ///< @return [pt]
/// Grid, ticks, numbers and titles. The y title stands above the axis, so that nothing has to be read sideways.
void fhi_chart_axes(fhi_svg *svg, const fhi_chart *chart);
/// A round step (1, 2 or 5 times a power of ten) that makes at most `most` steps. @param span [any] @return [same]
double fhi_chart_step(double span, int most);

#endif
