// SPDX-License-Identifier: MIT
// What does it cost to pull at an angle to the haul line? Advantage against angle, as a band with its likely line.
// model.md, section 5.
#include "draw_angle.h"

#include <math.h>
#include <string.h>

#include "draw_chart.h"
#include "draw_common.h"
#include "words.h"

static const double PI = 3.14159265358979323846;
static const double HEIGHT = 170.0;  // [pt] of the plot
enum { POINTS = 61 };                // every 1.5 degrees: straight pieces that look smooth at A6

typedef struct curve {
  fhi_svg *svg;
  fhi_chart chart;
  const fh_angle_point *points;
  int count;
} curve;

static double degrees(double angle) {
  return angle * 180.0 / PI;
}

// To a thousandth: far below what a page shows, far above what the last bit of a solve moves.
static double rounded(double value) {
  return round(value * 1000.0) / 1000.0;
}

static bool is_known(const fh_angle_point *p) {
  return p->outcome == FH_OUTCOME_SOLVED && isfinite(p->advantage.lo) && isfinite(p->advantage.hi);
}

static double place_x(const curve *c, int i) {
  return fhi_chart_x(&c->chart, degrees(c->points[i].angle));
}

// A stretch of known points, [from, to): the band as one area, the likely value as a line on it.
static void draw_stretch(curve *c, int from, int to) {
  fhi_path p;
  fhi_path_clear(&p);
  for (int i = from; i < to; i++) {
    double y = fhi_chart_y(&c->chart, rounded(c->points[i].advantage.hi));
    if (i == from) {
      fhi_path_move(&p, place_x(c, i), y);
    } else {
      fhi_path_line(&p, place_x(c, i), y);
    }
  }
  for (int i = to - 1; i >= from; i--) {
    fhi_path_line(&p, place_x(c, i), fhi_chart_y(&c->chart, rounded(c->points[i].advantage.lo)));
  }
  fhi_path_close(&p);
  fhi_svg_path(c->svg, &p, (fhi_pen){"#5f93bd", 0.8, NULL, "#c9dcea"});
  fhi_path_clear(&p);
  for (int i = from; i < to; i++) {
    double y = fhi_chart_y(&c->chart, rounded(c->points[i].advantage.likely));
    if (i == from) {
      fhi_path_move(&p, place_x(c, i), y);
    } else {
      fhi_path_line(&p, place_x(c, i), y);
      fhi_svg_avoid(c->svg, p.x[p.count - 2], p.y[p.count - 2], place_x(c, i), y, 6.0);
    }
  }
  fhi_svg_path(c->svg, &p, (fhi_pen){"#0060a8", 2.0, NULL, NULL});
}

static void draw_curve(curve *c) {
  int from = 0;
  while (from < c->count) {
    int to = from;
    while (to < c->count && is_known(&c->points[to])) {
      to++;
    }
    if (to > from) {
      draw_stretch(c, from, to);
    }
    from = to > from ? to : from + 1;
  }
}

static void mark(curve *c, const fh_angle_point *p, const char *what, double pull_y) {
  char number[40];
  char text[FHI_WORD];
  double x = fhi_chart_x(&c->chart, degrees(p->angle));
  double y = fhi_chart_y(&c->chart, rounded(p->advantage.likely));
  fhi_svg_circle(c->svg, x, y, 3.0, (fhi_pen){FHI_INK, 1.2, NULL, FHI_PAPER});
  (void)fhi_format(text, sizeof text, "%s %s", what, fhi_fixed(number, sizeof number, p->advantage.likely, 1));
  fhi_callout label = {.x = x, .y = y, .field = c->chart.area, .pull_x = 32.0, .pull_y = pull_y, .font = fhi_font_bold(), .text = text};
  (void)fhi_svg_callout(c->svg, &label);
}

static const fh_angle_point *nearest_point(const curve *c, double angle) {
  const fh_angle_point *best = &c->points[0];
  for (int i = 1; i < c->count; i++) {
    if (fabs(c->points[i].angle - angle) < fabs(best->angle - angle)) {
      best = &c->points[i];
    }
  }
  return best;
}

// The in-line value runs across, so that the cost of an angle can be read off against it.
static void draw_marks(curve *c, double own) {
  if (!is_known(&c->points[0])) {
    return;
  }
  double y = fhi_chart_y(&c->chart, rounded(c->points[0].advantage.likely));
  fhi_svg_line(c->svg, c->chart.area.x, y, c->chart.area.x + c->chart.area.w, y, (fhi_pen){FHI_INK, 0.8, "3 2.5", NULL});
  fhi_svg_avoid(c->svg, c->chart.area.x, y, c->chart.area.x + c->chart.area.w, y, 6.0);
  mark(c, &c->points[0], fhi_say(c->svg->language, "in line"), -22.0);
  const fh_angle_point *p = isfinite(own) && own > 0.01 ? nearest_point(c, own) : NULL;
  if (p != NULL && is_known(p)) {
    char degree[FHI_WORD];
    char text[FHI_WORD + 16];
    (void)fhi_format(text, sizeof text, fhi_say(c->svg->language, "here %s:"), fhi_show_angle(degree, sizeof degree, fh_number_exact(own), c->svg->language));
    mark(c, p, text, 22.0);
  }
}

// The same in figures, for black and white and for those who hear it read.
static void make_figures(const curve *c, char *to, size_t size) {
  size_t used = 0;
  to[0] = '\0';
  for (int d = 0; d <= 90 && size - used > FHI_WORD; d += 30) {
    char a[FHI_WORD];
    const fh_angle_point *p = nearest_point(c, d * PI / 180.0);
    const char *sep = d == 0 ? "" : ",  ";
    if (is_known(p)) {
      (void)fhi_format(to + used, size - used, "%s%d\xC2\xB0: %s", sep, d, fhi_show_number(a, sizeof a, p->advantage, 1));
    } else {
      (void)fhi_format(to + used, size - used, fhi_say(c->svg->language, "%s%d\xC2\xB0: no answer"), sep, d);
    }
    used += strlen(to + used);
  }
}

static double highest(const fh_angle_point *points, int count) {
  double most = 0.0;
  for (int i = 0; i < count; i++) {
    most = is_known(&points[i]) ? fmax(most, points[i].advantage.hi) : most;
  }
  return most;
}

static double draw_all(curve *c, double own, double y) {
  double most = highest(c->points, c->count);
  double step = fhi_chart_step(most > 0.0 ? 1.15 * most : 1.0, 6);
  c->chart = (fhi_chart){.area = {FHI_MARGIN + 20.0, y + 16.0, FHI_PAGE - 2.0 * FHI_MARGIN - 28.0, HEIGHT},
                         .x_lo = 0.0, .x_hi = 90.0, .x_step = 15.0, .x_unit = "\xC2\xB0",
                         .y_lo = 0.0, .y_hi = fmax(1.0, ceil(1.15 * most / step)) * step, .y_step = step, .y_decimals = step < 1.0 ? 1 : 0,
                         .x_title = fhi_say(c->svg->language, "angle between pull and haul line"), .y_title = fhi_say(c->svg->language, "advantage: weight over pull")};
  fhi_chart_axes(c->svg, &c->chart);
  draw_curve(c);
  draw_marks(c, own);
  y = c->chart.area.y + HEIGHT + 38.0;
  char figures[FHI_SVG_TEXT];
  make_figures(c, figures, sizeof figures);
  double room = FHI_PAGE - 2.0 * FHI_MARGIN;
  y = fhi_svg_paragraph(c->svg, FHI_MARGIN, y, room, fhi_font_bold(), figures, 3) + 12.0;
  y = fhi_svg_paragraph(c->svg, FHI_MARGIN, y, room, fhi_font_small(),
                        fhi_say(c->svg->language, "Band: contacts and lip over the whole of their ranges. Line: their likely values. The hauling body has moved to where it is in balance."), 4);
  return fhi_draw_footer(c->svg, y + 7.0);
}

fh_status fhi_draw_angle_points(const char *title, const fh_angle_point *points, int count, double own, fh_language language, fh_out out) {
  if (title == NULL || points == NULL || count < 2 || out.write == NULL) {
    return FH_ERR_ARG;
  }
  curve c = {.points = points, .count = count};
  fh_status status = fhi_svg_create(FHI_PAGE, language, &c.svg);
  if (status != FH_OK) {
    return status;
  }
  double y = fhi_draw_header(c.svg, title, fhi_say(language, "Advantage against the pull's angle, seen from above."));
  y = draw_all(&c, own, y);
  char figures[FHI_SVG_TEXT];
  char about[2 * FHI_SVG_TEXT];
  make_figures(&c, figures, sizeof figures);
  (void)fhi_format(about, sizeof about, fhi_say(language, "Advantage against the angle between pull and haul line, as a band. %s."), figures);
  return fhi_draw_end(c.svg, y, title, about, out);
}

// The hand's own angle in the scene's rig.
static double own_angle(const fh_rig *rig) {
  for (int i = 0; i < rig->station_count; i++) {
    if (rig->stations[i].kind == FH_HAND && fh_number_is_set(rig->stations[i].angle)) {
      return rig->stations[i].angle.likely;
    }
  }
  return 0.0;
}

fh_status fh_draw_angle_curve(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_units units, fh_out out) {
  (void)units;  // an advantage has none
  if (scene == NULL || gear == NULL || rig == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  double angles[POINTS];
  fh_angle_point points[POINTS];
  for (int i = 0; i < POINTS; i++) {
    angles[i] = 0.5 * PI * i / (POINTS - 1);
  }
  fh_status status = fh_angle_curve(scene, gear, rig, angles, POINTS, points);
  return status != FH_OK ? status : fhi_draw_angle_points(scene->title, points, POINTS, own_angle(rig), scene->language, out);
}
