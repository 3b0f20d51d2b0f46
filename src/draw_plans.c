// SPDX-License-Identifier: MIT
// What does an easier pull cost in pieces? Every kept rig as a point: hand force, with its range, against pieces in use;
// and what the crew can pull, as a band across.
#include <math.h>

#include "draw_chart.h"
#include "draw_common.h"
#include "words.h"

static const double HEIGHT = 220.0;       // [pt] of the plot
static const double POUND_FORCE = 4.4482216152605;  // [N]
enum { MOST_POINTS = 300, MOST_ROWS = 12 };

typedef struct picture {
  fhi_svg *svg;
  const fh_plans *plans;
  fh_units units;
  fhi_chart chart;
  double per;      // shown force per newton
  fh_band crew;    // [N]
  int shown;
} picture;

static bool is_known(const fh_plan *p) {
  return isfinite(p->hand_force.lo) && isfinite(p->hand_force.likely) && isfinite(p->hand_force.hi);
}

// Up to where the axis goes. A direct pull may need ten times what the crew has: such points stand at the top edge with an
// arrow, so that those that matter are not squeezed.
static double axis_top(const picture *p) {
  double most = 0.0;
  for (int i = 0; i < p->shown; i++) {
    most = is_known(&p->plans->plans[i]) ? fmax(most, p->plans->plans[i].hand_force.hi) : most;
  }
  double crew = isfinite(p->crew.hi) ? p->crew.hi : 0.0;
  if (crew > 0.0 && most > 3.0 * crew) {
    most = 2.0 * crew;
  }
  return fmax(1.0, 1.1 * fmax(most, crew)) * p->per;
}

static void make_chart(picture *p, double y) {
  int least = 1000;
  int most = 0;
  for (int i = 0; i < p->shown; i++) {
    int pieces = p->plans->plans[i].pieces;
    least = pieces < least ? pieces : least;
    most = pieces > most ? pieces : most;
  }
  double top = axis_top(p);
  double step = fhi_chart_step(top, 7);
  p->chart = (fhi_chart){.area = {FHI_MARGIN + 24.0, y + 16.0, FHI_PAGE - 2.0 * FHI_MARGIN - 26.0, HEIGHT},
                         .x_lo = least - 1.0, .x_hi = most + 1.0, .x_step = most - least > 14 ? 2.0 : 1.0, .x_unit = "",
                         .y_lo = 0.0, .y_hi = ceil(top / step) * step, .y_step = step, .y_decimals = step < 1.0 ? 1 : 0,
                         .x_title = fhi_say(p->svg->language, "pieces in use"),
      .y_title = p->units == FH_IMPERIAL ? fhi_say(p->svg->language, "pull, lbf") : fhi_say(p->svg->language, "pull, N")};
}

static void draw_crew(picture *p) {
  if (!isfinite(p->crew.lo) || !isfinite(p->crew.hi)) {
    return;
  }
  fhi_box a = p->chart.area;
  double y[2] = {fhi_chart_y(&p->chart, round(p->crew.lo * p->per)), fhi_chart_y(&p->chart, round(p->crew.hi * p->per))};
  fhi_svg_rect(p->svg, (fhi_box){a.x, y[1], a.w, fmax(0.5, y[0] - y[1])}, 0.0, (fhi_pen){NULL, 0.0, NULL, "#f3e6c8"});
  fhi_pen pen = {"#7a5a00", 0.9, "4 2", NULL};
  fhi_svg_line(p->svg, a.x, y[0], a.x + a.w, y[0], pen);
  fhi_svg_line(p->svg, a.x, y[1], a.x + a.w, y[1], pen);
  fhi_svg_avoid(p->svg, a.x, y[0], a.x + a.w, y[0], 1.0);
  fhi_svg_avoid(p->svg, a.x, y[1], a.x + a.w, y[1], 1.0);
}

static void label_crew(picture *p) {
  if (!isfinite(p->crew.lo) || !isfinite(p->crew.hi)) {
    return;
  }
  char force[FHI_WORD];
  char text[FHI_WORD + 24];
  fhi_box a = p->chart.area;
  double y = fhi_chart_y(&p->chart, round(p->crew.hi * p->per));
  (void)fhi_format(text, sizeof text, fhi_say(p->svg->language, "crew can pull %s"), fhi_show_likely(force, sizeof force, p->crew, p->units, p->svg->language));
  fhi_callout label = {.x = a.x + a.w - 4.0, .y = y, .field = a, .pull_x = -60.0, .pull_y = 7.0, .font = {8.5, true, "#6b4f00"}, .text = text};
  (void)fhi_svg_callout(p->svg, &label);
}

// Rigs with as many pieces stand side by side within their column, in the list's order.
static double place_x(const picture *p, int index) {
  const fh_plan *plan = &p->plans->plans[index];
  int before = 0;
  int all = 0;
  for (int i = 0; i < p->shown; i++) {
    if (p->plans->plans[i].pieces == plan->pieces) {
      before += i < index ? 1 : 0;
      all++;
    }
  }
  double column = p->chart.area.w / (p->chart.x_hi - p->chart.x_lo);
  double apart = all > 1 ? fmin(14.0, 0.8 * column / (all - 1)) : 0.0;
  return fhi_chart_x(&p->chart, plan->pieces) + (before - 0.5 * (all - 1)) * apart;
}

// Possible: a filled disc. Not possible: a cross. The range is a bar with ends; an arrow where it goes on past the axis,
// and the mark itself at the edge when its likely value is beyond.
static void draw_point(picture *p, int index, double *x, double *y) {
  const fh_plan *plan = &p->plans->plans[index];
  double top = p->chart.area.y;
  double lo = fhi_chart_y(&p->chart, round(plan->hand_force.lo * p->per));
  double hi = fhi_chart_y(&p->chart, round(plan->hand_force.hi * p->per));
  bool beyond = hi < top - 0.01;
  const char *colour = plan->possible ? "#0060a8" : "#9a3800";
  fhi_pen pen = {colour, 1.1, NULL, NULL};
  *x = place_x(p, index);
  *y = fhi_chart_y(&p->chart, round(plan->hand_force.likely * p->per));
  fhi_svg_group(p->svg, "plan", index);
  *y = fmax(*y, top + 11.0);
  hi = beyond ? top + 4.0 : hi;
  if (lo > top) {
    fhi_svg_line(p->svg, *x - 2.5, lo, *x + 2.5, lo, pen);
  }
  lo = fmax(lo, top + 15.0);
  fhi_svg_line(p->svg, *x, lo, *x, hi, pen);
  fhi_svg_avoid(p->svg, *x, lo, *x, hi, 6.0);
  if (beyond) {
    fhi_svg_arrow(p->svg, *x, top, -1.57079632679489662, 6.0, colour);
  } else {
    fhi_svg_line(p->svg, *x - 2.5, hi, *x + 2.5, hi, pen);
  }
  if (plan->possible) {
    fhi_svg_circle(p->svg, *x, *y, 3.1, (fhi_pen){FHI_PAPER, 0.6, NULL, colour});
  } else {
    fhi_svg_rect(p->svg, (fhi_box){*x - 3.4, *y - 3.4, 6.8, 6.8}, 0.0, (fhi_pen){NULL, 0.0, NULL, FHI_PAPER});
    fhi_pen cross = {colour, 1.7, NULL, NULL};
    fhi_svg_line(p->svg, *x - 2.8, *y - 2.8, *x + 2.8, *y + 2.8, cross);
    fhi_svg_line(p->svg, *x - 2.8, *y + 2.8, *x + 2.8, *y - 2.8, cross);
  }
  fhi_svg_group_end(p->svg);
  fhi_svg_keep_out(p->svg, (fhi_box){*x - 3.0, *y - 3.0, 6.0, 6.0});
}

// An ideal advantage as "6:1", with a decimal where it is no whole number.
static const char *show_ideal(char *to, size_t size, double ideal) {
  char number[40];
  double whole = round(ideal);
  (void)fhi_format(to, size, "%s:1", fhi_fixed(number, sizeof number, fabs(ideal - whole) < 0.005 ? whole : ideal, fabs(ideal - whole) < 0.005 ? 0 : 2));
  return to;
}

static void draw_points(picture *p) {
  double x[MOST_POINTS];
  double y[MOST_POINTS];
  for (int i = p->shown - 1; i >= 0; i--) {  // the best last, on top
    if (is_known(&p->plans->plans[i])) {
      draw_point(p, i, &x[i], &y[i]);
    }
  }
  // The rigs of the list below have their numbers; more would bury the marks. Among few there is room for the advantage.
  for (int i = 0; i < p->shown && i < MOST_ROWS; i++) {
    if (!is_known(&p->plans->plans[i])) {
      continue;
    }
    char ideal[FHI_WORD];
    char text[FHI_WORD + 16];
    (void)fhi_format(text, sizeof text, "%d", i + 1);
    if (p->shown <= MOST_ROWS) {
      (void)fhi_format(text, sizeof text, "%d (%s)", i + 1, show_ideal(ideal, sizeof ideal, p->plans->plans[i].ideal_advantage));
    }
    fhi_callout label = {.x = x[i], .y = y[i], .field = p->chart.area, .pull_x = p->shown <= MOST_ROWS ? 19.0 : 10.0, .font = {FHI_SMALL, true, FHI_INK}, .text = text};
    (void)fhi_svg_callout(p->svg, &label);
  }
}

static double draw_key(picture *p, double y) {
  fhi_svg_circle(p->svg, FHI_MARGIN + 4.0, y - 2.7, 3.1, (fhi_pen){NULL, 0.0, NULL, "#0060a8"});
  const char *possible = fhi_say(p->svg->language, "possible at the likely values");
  fhi_svg_text(p->svg, FHI_MARGIN + 12.0, y, FHI_START, fhi_font_small(), possible);
  fhi_pen cross = {"#9a3800", 1.7, NULL, NULL};
  double x = FHI_MARGIN + fmax(150.0, 24.0 + fhi_text_width(possible, FHI_SMALL, false));
  fhi_svg_line(p->svg, x - 2.8, y - 5.5, x + 2.8, y + 0.1, cross);
  fhi_svg_line(p->svg, x - 2.8, y + 0.1, x + 2.8, y - 5.5, cross);
  fhi_svg_text(p->svg, x + 8.0, y, FHI_START, fhi_font_small(), fhi_say(p->svg->language, "not possible"));
  const char *numbers = p->shown <= MOST_ROWS ? fhi_say(p->svg->language, "Number in the list, ideal advantage in brackets. Bars: lowest to highest pull. Arrow: goes on past the axis.")
                                              : fhi_say(p->svg->language, "Numbers: the list below. Bars: lowest to highest pull. Arrow: goes on past the axis.");
  return fhi_svg_paragraph(p->svg, FHI_MARGIN, y + 11.0, FHI_PAGE - 2.0 * FHI_MARGIN, fhi_font_small(), numbers, 3) + 13.0;
}

// The best rigs in figures.
static double draw_rows(picture *p, double y) {
  for (int i = 0; i < p->shown && i < MOST_ROWS; i++) {
    const fh_plan *plan = &p->plans->plans[i];
    char ideal[FHI_WORD];
    char force[FHI_WORD];
    char text[FHI_SVG_TEXT];
    (void)fhi_format(text, sizeof text, "%d", i + 1);
    fhi_svg_text(p->svg, FHI_MARGIN + 13.0, y, FHI_END, (fhi_font){8.5, true, FHI_INK}, text);
    (void)fhi_format(text, sizeof text, fhi_say(p->svg->language, "%s, pull %s, %d pieces%s"), show_ideal(ideal, sizeof ideal, plan->ideal_advantage),
                     fhi_show_likely(force, sizeof force, plan->hand_force, p->units, p->svg->language), plan->pieces, plan->possible ? "" : fhi_say(p->svg->language, ", not possible"));
    fhi_svg_text(p->svg, FHI_MARGIN + 20.0, y, FHI_START, (fhi_font){8.5, false, FHI_INK}, text);
    y += 11.5;
  }
  if (p->plans->count > MOST_ROWS) {
    char text[FHI_WORD];
    (void)fhi_format(text, sizeof text, p->plans->count > p->shown ? fhi_say(p->svg->language, "and %d more, of which %d are drawn") : fhi_say(p->svg->language, "and %d more"), p->plans->count - MOST_ROWS,
                     p->shown - MOST_ROWS);
    fhi_svg_text(p->svg, FHI_MARGIN, y, FHI_START, fhi_font_small(), text);
    y += 11.5;
  }
  return y;
}

// An empty plot would say nothing: the words alone.
static double draw_none(picture *p, double y) {
  char missing[sizeof p->plans->missing + 100];
  char text[sizeof missing + 16];
  (void)fhi_said(missing, sizeof missing, p->plans->missing, p->units);
  double width = FHI_PAGE - 2.0 * FHI_MARGIN;
  y = fhi_svg_paragraph(p->svg, FHI_MARGIN, y + 14.0, width, fhi_font_bold(), fhi_say(p->svg->language, "No rig that this kit can build raises the load."), 2);
  if (missing[0] != '\0') {
    (void)fhi_format(text, sizeof text, fhi_say(p->svg->language, "Missing: %s."), missing);
    y = fhi_svg_paragraph(p->svg, FHI_MARGIN, y + 12.0, width, fhi_font_bold(), text, 24);
  }
  if (isfinite(p->crew.lo) && isfinite(p->crew.hi)) {
    char force[FHI_WORD];
    (void)fhi_format(text, sizeof text, fhi_say(p->svg->language, "This crew can pull %s."), fhi_show_likely(force, sizeof force, p->crew, p->units, p->svg->language));
    y = fhi_svg_paragraph(p->svg, FHI_MARGIN, y + 12.0, width, (fhi_font){8.5, false, FHI_INK}, text, 2);
  }
  return y;
}

static double draw_all(picture *p, double y) {
  if (p->shown == 0) {
    return fhi_draw_footer(p->svg, draw_none(p, y) + 6.0);
  }
  make_chart(p, y);
  draw_crew(p);
  fhi_chart_axes(p->svg, &p->chart);
  draw_points(p);
  label_crew(p);
  y = draw_key(p, p->chart.area.y + HEIGHT + 38.0);
  y = draw_rows(p, y);
  return fhi_draw_footer(p->svg, y);
}

fh_status fh_draw_plans(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, fh_units units, fh_out out) {
  if (scene == NULL || gear == NULL || plans == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  picture p = {.plans = plans, .units = units, .per = units == FH_IMPERIAL ? 1.0 / POUND_FORCE : 1.0};
  p.crew = fh_crew_pull(scene, gear).force;
  p.shown = plans->count > MOST_POINTS ? MOST_POINTS : plans->count;
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &p.svg);
  if (status != FH_OK) {
    return status;
  }
  double y = fhi_draw_header(p.svg, scene->title, fhi_say(scene->language, "Pull against pieces, for every rig that was kept."));
  y = draw_all(&p, y);
  char about[FHI_WORD];
  (void)fhi_format(about, sizeof about, fhi_say(scene->language, "Hand force against pieces in use for %d rigs."), plans->count);
  return fhi_draw_end(p.svg, y, scene->title, about, out);
}
