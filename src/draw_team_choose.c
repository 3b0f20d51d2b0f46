// SPDX-License-Identifier: MIT
// The trade that roping up is: how often the fall is stopped, against the rope that is left for the raise.
#include "draw_chart.h"
#include "draw_common.h"
#include "team_words.h"
#include "firnhaul_team.h"
#include "words.h"

#include <math.h>

static const double HEIGHT = 200.0;  // [pt]
static const double FOOT = 0.3048;   // [m]

typedef struct picture {
  fhi_svg *svg;
  const fh_designs *ds;
  fhi_chart chart;
  double per;
} picture;

static double share(const fh_design *d) {
  return d->chance.samples > 0 ? 100.0 * d->chance.nobody_else_in / d->chance.samples : 0.0;
}

// A disc without knots, a square with them; filled where the raise works, else open. Team size by size.
static void draw_point(picture *p, const fh_design *d) {
  double x = fhi_chart_x(&p->chart, d->beyond * p->per);
  double y = fhi_chart_y(&p->chart, fmax(p->chart.y_lo, round(share(d) * 10.0) / 10.0));
  double r = 1.2 + 0.4 * (d->people - 2);
  bool raises = p->ds->classes[d->raise_class].possible;
  const char *colour = d->knots > 0 ? "#c04a00" : "#0060a8";
  fhi_pen pen = {colour, 0.8, NULL, raises ? colour : FHI_PAPER};
  if (d->knots > 0) {
    fhi_svg_rect(p->svg, (fhi_box){x - r, y - r, 2.0 * r, 2.0 * r}, 0.0, pen);
  } else {
    fhi_svg_circle(p->svg, x, y, r, pen);
  }
}

static void draw_best(picture *p, const fh_scene *scene) {
  if (p->ds->best < 0) {
    return;
  }
  const fh_design *d = &p->ds->designs[p->ds->best];
  char text[FHI_WORD];
  char a[40];
  double x = fhi_chart_x(&p->chart, d->beyond * p->per);
  double y = fhi_chart_y(&p->chart, round(share(d) * 10.0) / 10.0);
  (void)scene;
  fhi_svg_circle(p->svg, x, y, 6.0, (fhi_pen){FHI_INK, 1.4, NULL, NULL});
  if (d->knots > 0) {
    (void)fhi_format(text, sizeof text, fhi_say(scene->language, "%d people, %s m, %d knots"), d->people, fhi_fixed(a, sizeof a, d->spacing, 1), d->knots);
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(scene->language, "%d people, %s m, no knots"), d->people, fhi_fixed(a, sizeof a, d->spacing, 1));
  }
  fhi_callout label = {.x = x, .y = y, .field = p->chart.area, .pull_x = 0.0, .pull_y = 34.0, .font = fhi_font_bold(), .text = text};
  (void)fhi_svg_callout(p->svg, &label);
}

static void legend_mark(picture *p, double x, double y, bool square, bool filled, const char *text) {
  const char *colour = square ? "#c04a00" : "#0060a8";
  fhi_pen pen = {colour, 0.8, NULL, filled ? colour : FHI_PAPER};
  if (square) {
    fhi_svg_rect(p->svg, (fhi_box){x, y - 5.0, 4.0, 4.0}, 0.0, pen);
  } else {
    fhi_svg_circle(p->svg, x + 2.0, y - 3.0, 2.2, pen);
  }
  fhi_svg_text(p->svg, x + 8.0, y, FHI_START, fhi_font_small(), text);
}

static void make_chart(picture *p, double y, fh_units units) {
  double most = 1.0;
  double least = 100.0;
  double short_by = 0.0;
  p->per = units == FH_IMPERIAL ? 1.0 / FOOT : 1.0;
  for (int i = 0; i < p->ds->count; i++) {
    most = fmax(most, p->ds->designs[i].beyond * p->per);
    short_by = fmin(short_by, p->ds->designs[i].beyond * p->per);
    least = fmin(least, share(&p->ds->designs[i]));
  }
  double step = fhi_chart_step(most - short_by, 7);
  double y_step = fhi_chart_step(fmax(5.0, 100.0 - least), 6);
  p->chart = (fhi_chart){.area = {FHI_MARGIN + 22.0, y + 16.0, FHI_PAGE - 2.0 * FHI_MARGIN - 26.0, HEIGHT},
                         .x_lo = floor(short_by / step) * step, .x_hi = ceil(most / step + 0.1) * step, .x_step = step, .x_decimals = step < 1.0 ? 1 : 0, .x_unit = "",
                         .y_lo = fmax(0.0, 100.0 - ceil((100.0 - least) / y_step + 1e-9) * y_step), .y_hi = 100.0, .y_step = y_step,
                         .y_decimals = y_step < 1.0 ? 1 : 0, .x_title = units == FH_IMPERIAL ? fhi_say(p->svg->language, "rope left over a drop loop's need, ft") : fhi_say(p->svg->language, "rope left over a drop loop's need, m"),
                         .y_title = fhi_say(p->svg->language, "falls of 100 that are stopped with nobody else over the lip")};
}

fh_status fh_draw_designs(const fh_scene *scene, const fh_designs *ds, fh_units units, fh_out out) {
  if (scene == NULL || ds == NULL || out.write == NULL || ds->count < 1) {
    return FH_ERR_ARG;
  }
  picture p = {.ds = ds};
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &p.svg);
  if (status != FH_OK) {
    return status;
  }
  char text[FHI_SVG_TEXT];
  double room = FHI_PAGE - 2.0 * FHI_MARGIN;
  (void)fhi_format(text, sizeof text, fhi_say(scene->language, "How to rope up: %d ways, %d falls each. Stopping the fall against the rope left once a drop loop reaches down."), ds->count, ds->samples);
  double y = fhi_draw_header(p.svg, fhi_team_title(scene), text);
  make_chart(&p, y, units);
  fhi_chart_axes(p.svg, &p.chart);
  for (int i = 0; i < ds->count; i++) {
    draw_point(&p, &ds->designs[i]);
  }
  draw_best(&p, scene);
  y = p.chart.area.y + HEIGHT + 38.0;
  static const struct { const char *words; bool knots, raises; } MARKS[] = {
      {"no knots, the kit raises", false, true}, {"knots, the kit raises", true, true}, {"no knots, no rig raises", false, false}, {"knots, no rig raises", true, false}};
  for (int i = 0; i < 4; i++, y += 11.0) {  // one a line: in some languages two would meet
    legend_mark(&p, FHI_MARGIN, y, MARKS[i].knots, MARKS[i].raises, fhi_say(scene->language, MARKS[i].words));
  }
  y = fhi_svg_paragraph(p.svg, FHI_MARGIN, y, room, fhi_font_small(),
                        fhi_say(scene->language, "Larger marks: more people. Ring: recommended. Left of 0 the rope is too short for a drop loop."), 3);
  y = fhi_svg_paragraph(p.svg, FHI_MARGIN, y + 15.0, room, fhi_font_main(), ds->why, 12) + 12.0;
  y = fhi_svg_paragraph(p.svg, FHI_MARGIN, y, room, fhi_font_small(),
                        fhi_say(scene->language, "Only the first one falls here. What a knot holds and how people brake on snow has hardly been measured: the shares compare ways to rope up, "
                        "they are no odds."), 4);
  y = fhi_draw_footer(p.svg, y + 7.0);
  return fhi_draw_end(p.svg, y, fhi_team_title(scene), ds->why, out);
}
