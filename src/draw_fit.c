// SPDX-License-Identifier: MIT
// Does what was read match what is predicted with the fitted figures? Points on the diagonal do; flagged ones are crosses.
#include <math.h>

#include "draw_chart.h"
#include "draw_common.h"
#include "firnhaul_fit.h"
#include "words.h"

static const double HEIGHT = 220.0;                  // [pt] of the plot
static const double POUND_FORCE = 4.4482216152605;   // [N]

static void point(fhi_svg *svg, const fhi_chart *c, double x, double y, bool flagged, int index) {
  double px = fhi_chart_x(c, x), py = fhi_chart_y(c, y);
  fhi_svg_group(svg, "reading", index);
  if (flagged) {
    fhi_pen pen = {FHI_WARN, 1.6, NULL, NULL};
    fhi_svg_line(svg, px - 3.5, py - 3.5, px + 3.5, py + 3.5, pen);
    fhi_svg_line(svg, px - 3.5, py + 3.5, px + 3.5, py - 3.5, pen);
  } else {
    fhi_svg_circle(svg, px, py, 2.2, (fhi_pen){"#0060a8", 1.0, NULL, "#cfe3f2"});
  }
  fhi_svg_group_end(svg);
}

fh_status fh_draw_fit(const fh_reading *readings, const fh_fit *f, fh_units units, fh_out out) {
  fhi_svg *svg = NULL;
  char text[FHI_SVG_TEXT], a[32], b[32], d[32], name[160];
  if (readings == NULL || f == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_svg_create(FHI_PAGE, f->language, &svg);
  if (status != FH_OK) {
    return status;
  }
  double per = units == FH_IMPERIAL ? 1.0 / POUND_FORCE : 1.0, most = 1.0;
  for (int i = 0; i < f->readings; i++) {
    most = fmax(most, readings[i].hand * per);
    most = isfinite(f->rows[i].predicted) ? fmax(most, f->rows[i].predicted * per) : most;
  }
  double y = fhi_draw_header(svg, fhi_say(f->language, "Prediction against reading"), fhi_say(f->language, "Every load-cell reading, with the fitted figures")) + 6.0;
  double step = fhi_chart_step(most * 1.05, 6);
  const char *unit = units == FH_IMPERIAL ? "lbf" : "N";
  char x_title[40], y_title[40];
  (void)fhi_format(x_title, sizeof x_title, fhi_say(f->language, "predicted, %s"), unit);
  (void)fhi_format(y_title, sizeof y_title, fhi_say(f->language, "read, %s"), unit);
  double top = ceil(most * 1.05 / step) * step;
  fhi_chart c = {.area = {FHI_MARGIN + 26.0, y + 16.0, FHI_PAGE - 2.0 * FHI_MARGIN - 34.0, HEIGHT}, .x_hi = top, .y_hi = top, .x_step = step,
                 .y_step = step, .x_unit = "", .x_title = x_title, .y_title = y_title};
  fhi_chart_axes(svg, &c);
  fhi_svg_line(svg, fhi_chart_x(&c, 0.0), fhi_chart_y(&c, 0.0), fhi_chart_x(&c, top), fhi_chart_y(&c, top), (fhi_pen){FHI_SOFT, 0.9, "4 2", NULL});
  for (int i = 0; i < f->readings; i++) {
    if (isfinite(f->rows[i].predicted)) {
      point(svg, &c, f->rows[i].predicted * per, readings[i].hand * per, f->rows[i].flagged, i);
    }
  }
  y = c.area.y + c.area.h + 36.0;
  for (int i = 0; i < f->count && f->outcome == FH_OUTCOME_SOLVED; i++) {
    const fh_fitted *x = &f->fitted[i];
    (void)fhi_format(text, sizeof text, "%s %s (%s%s%s)", fhi_name_said(name, sizeof name, f->language, x->name), fhi_fixed(a, sizeof a, x->value, 2),
                     fhi_fixed(b, sizeof b, floor(x->lo * 100.0) / 100.0, 2), fhi_say(f->language, " to "), fhi_fixed(d, sizeof d, ceil(x->hi * 100.0) / 100.0, 2));
    fhi_svg_text(svg, FHI_MARGIN, y, FHI_START, fhi_font_main(), text);
    y += 12.0;
  }
  if (f->flagged > 0) {
    (void)fhi_format(text, sizeof text, fhi_say(f->language, f->flagged == 1 ? "Crosses: %d reading that does not fit, left out." : "Crosses: %d readings that do not fit, left out."), f->flagged);
    fhi_svg_text(svg, FHI_MARGIN, y, FHI_START, fhi_font_main(), text);
    y += 12.0;
  }
  y = fhi_draw_footer(svg, y);
  return fhi_draw_end(svg, y, fhi_say(f->language, "Prediction against reading"), fhi_say(f->language, "Points: readings of the pull against what the fitted figures predict."), out);
}
