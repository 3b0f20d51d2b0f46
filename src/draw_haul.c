// SPDX-License-Identifier: MIT
// How does the raise go in time? Three curves over one time axis: height of the load, pull of the hand, and what the
// capture holds. model.md, section 7.
#include <math.h>
#include <string.h>

#include "draw_chart.h"
#include "draw_common.h"
#include "firnhaul_rescue.h"
#include "words.h"

static const double FOOT = 0.3048;                  // [m] exact
static const double POUND_FORCE = 4.4482216152605;  // [N] exact
static const double TALL = 96.0;                    // [pt] of one plot
static const double APART = 40.0;                   // [pt] between two plots: numbers and a title stand there
enum { POINTS = FHI_PATH_POINTS - 8 };              // of one piece of a curve

typedef struct plot {
  fhi_svg *svg;
  const fh_haul *haul;
  fh_units units;
  fhi_chart chart;
  double minutes;  // [min] end of the time axis
} plot;

typedef double (*value_fn)(const plot *p, const fh_trace_row *row);

static double height(const plot *p, const fh_trace_row *row) {
  return row->height / (p->units == FH_IMPERIAL ? FOOT : 1.0);
}

static double hand(const plot *p, const fh_trace_row *row) {
  return row->hand_force / (p->units == FH_IMPERIAL ? POUND_FORCE : 1.0);
}

static double capture(const plot *p, const fh_trace_row *row) {
  return row->capture_force / (p->units == FH_IMPERIAL ? POUND_FORCE : 1.0);
}

// The hand lets go at once; everything else changes linearly between two rows.
static bool is_release(const fh_trace_row *row) {
  return row->phase == FH_PHASE_REST || row->phase == FH_PHASE_RESET || row->phase == FH_PHASE_KNOT;
}

// To a thousandth of the axis: far below what a page shows, far above what the last bit of a result moves.
static double settled(double value, double span) {
  return round(value / span * 2000.0) / 2000.0 * span;
}

static double place_x(const plot *p, double time) {
  return fhi_chart_x(&p->chart, settled(time / 60.0, p->minutes));
}

static double place_y(const plot *p, double value) {
  return fhi_chart_y(&p->chart, isfinite(value) ? settled(value, p->chart.y_hi) : 0.0);
}

static double greatest(const plot *p, value_fn value) {
  double most = 0.0;
  for (int i = 0; i < p->haul->trace_count; i++) {
    double v = value(p, &p->haul->trace[i]);
    most = isfinite(v) ? fmax(most, v) : most;
  }
  return most;
}

// Grey where nobody pulls: rests, resets and knots.
static void shade_stops(const plot *p) {
  double from = (double)NAN;
  for (int i = 1; i <= p->haul->trace_count; i++) {
    bool stop = i < p->haul->trace_count && is_release(&p->haul->trace[i]);
    if (stop && isnan(from)) {
      from = p->haul->trace[i - 1].time;
    }
    if (!stop && !isnan(from)) {
      double x = place_x(p, from);
      double w = place_x(p, p->haul->trace[i - 1].time) - x;
      fhi_svg_rect(p->svg, (fhi_box){x, p->chart.area.y, w, p->chart.area.h}, 0.0, (fhi_pen){NULL, 0.0, NULL, "#e9edf0"});
      from = (double)NAN;
    }
  }
}

// A path holds only so many points: a long raise is drawn in pieces that share their ends.
static void add_point(const plot *p, fhi_path *path, double x, double y, fhi_pen pen) {
  if (path->count == 0) {
    fhi_path_move(path, x, y);
    return;
  }
  fhi_path_line(path, x, y);
  if (path->count >= POINTS) {
    fhi_svg_path(p->svg, path, pen);
    fhi_path_clear(path);
    fhi_path_move(path, x, y);
  }
}

// What a capture holds it holds from the moment the hands let go until they take the load again.
static bool jumps(value_fn value, const fh_trace_row *row) {
  return value == capture || (value == hand && is_release(row));
}

static void draw_curve(const plot *p, value_fn value, fhi_pen pen) {
  fhi_path path;
  fhi_path_clear(&path);
  for (int i = 0; i < p->haul->trace_count; i++) {
    const fh_trace_row *row = &p->haul->trace[i];
    double y = place_y(p, value(p, row));
    if (i > 0 && jumps(value, row)) {
      add_point(p, &path, place_x(p, p->haul->trace[i - 1].time), y, pen);
    }
    add_point(p, &path, place_x(p, row->time), y, pen);
  }
  fhi_svg_path(p->svg, &path, pen);
}

static void draw_knots(const plot *p) {
  for (int i = 0; i < p->haul->knot_count; i++) {
    const fh_backup_knot *k = &p->haul->knots[i];
    double at = k->height / (p->units == FH_IMPERIAL ? FOOT : 1.0);
    fhi_svg_circle(p->svg, place_x(p, k->time), place_y(p, at), 2.6, (fhi_pen){FHI_INK, 1.2, NULL, FHI_PAPER});
  }
}

static double draw_plot(plot *p, double y, value_fn value, const char *title, bool last, fhi_pen pen) {
  double most = greatest(p, value);
  double step = fhi_chart_step(most > 0.0 ? 1.1 * most : 1.0, 4);
  p->chart = (fhi_chart){.area = {FHI_MARGIN + 26.0, y + 18.0, FHI_PAGE - 2.0 * FHI_MARGIN - 32.0, TALL},
                         .x_lo = 0.0, .x_hi = p->minutes, .x_step = fhi_chart_step(p->minutes, 6), .x_unit = "",
                         .y_lo = 0.0, .y_hi = fmax(1.0, ceil(1.1 * most / step)) * step, .y_step = step, .y_decimals = step < 1.0 ? 1 : 0,
                         .x_title = last ? fhi_say(p->svg->language, "time in minutes") : "", .y_title = title};
  p->chart.x_decimals = p->chart.x_step < 1.0 ? 1 : 0;
  shade_stops(p);
  fhi_chart_axes(p->svg, &p->chart);
  draw_curve(p, value, pen);
  if (value == height) {
    draw_knots(p);
  }
  return y + TALL + APART;
}

static void figures(const plot *p, char *to, size_t size) {
  char pulled[FHI_WORD];
  char pull[FHI_WORD];
  char lost[FHI_WORD];
  char back[FHI_WORD];
  const fh_haul *h = p->haul;
  (void)fhi_format(to, size, fhi_say(p->svg->language, "%d strokes, %d resets. Pull %s. Rope pulled %s, of it lost in stretch %s; sunk back at resets %s."), h->strokes, h->resets,
                   fhi_show_likely(pull, sizeof pull, h->hand_force, p->units, p->svg->language), fhi_show_length(pulled, sizeof pulled, h->rope_pulled, p->units),
                   fhi_show_length(lost, sizeof lost, h->stretch_lost, p->units), fhi_show_length(back, sizeof back, h->set_back, p->units));
}

static void knots_in_words(const plot *p, char *to, size_t size) {
  char every[FHI_WORD];
  if (p->haul->knot_count > 0) {
    (void)fhi_format(to, size, fhi_say(p->svg->language, "Rings: a backup knot is tied, %d in all, one for each %s of gained slack."), p->haul->knot_count,
                     fhi_show_length(every, sizeof every, p->haul->knot_every, p->units));
  } else {
    (void)fhi_format(to, size, fhi_say(p->svg->language, "No backup knots: there is no slack line that one could be tied in, or it could not help."));
  }
}

static double draw_solved(plot *p, double y) {
  const fh_trace_row *end = &p->haul->trace[p->haul->trace_count - 1];
  p->minutes = fmax(0.1, end->time / 60.0);
  p->minutes = ceil(p->minutes / fhi_chart_step(p->minutes, 6) - 1e-6) * fhi_chart_step(p->minutes, 6);
  bool feet = p->units == FH_IMPERIAL;
  y = draw_plot(p, y, height, feet ? fhi_say(p->svg->language, "height gained, ft") : fhi_say(p->svg->language, "height gained, m"), false, (fhi_pen){"#0060a8", 1.6, NULL, NULL});
  y = draw_plot(p, y, hand, feet ? fhi_say(p->svg->language, "pull of the hand, lbf") : fhi_say(p->svg->language, "pull of the hand, N"), false, (fhi_pen){"#c04a00", 1.3, NULL, NULL});
  y = draw_plot(p, y, capture, feet ? fhi_say(p->svg->language, "what the capture holds, lbf") : fhi_say(p->svg->language, "what the capture holds, N"), true, (fhi_pen){FHI_INK, 1.3, NULL, NULL});
  char text[FHI_SVG_TEXT];
  double room = FHI_PAGE - 2.0 * FHI_MARGIN;
  figures(p, text, sizeof text);
  y = fhi_svg_paragraph(p->svg, FHI_MARGIN, y + 10.0, room, fhi_font_main(), text, 4) + 12.0;
  knots_in_words(p, text, sizeof text);
  y = fhi_svg_paragraph(p->svg, FHI_MARGIN, y, room, fhi_font_main(), text, 3) + 12.0;
  return fhi_svg_paragraph(p->svg, FHI_MARGIN, y, room, fhi_font_small(), fhi_say(p->svg->language, "Likely values; the ranges stand in the report. Grey: nobody pulls (reset, rest, knot)."), 2);
}

fh_status fh_draw_haul(const fh_scene *scene, const fh_haul *haul, fh_units units, fh_out out) {
  if (scene == NULL || haul == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  plot p = {.haul = haul, .units = units};
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &p.svg);
  if (status != FH_OK) {
    return status;
  }
  bool solved = haul->outcome == FH_OUTCOME_SOLVED && haul->trace_count > 1;
  double y = fhi_draw_header(p.svg, scene->title, fhi_say(scene->language, "The raise in time, from the first pull to the lip."));
  char about[3 * FHI_SVG_TEXT];
  char text[FHI_SVG_TEXT];
  if (solved) {
    y = draw_solved(&p, y);
    figures(&p, text, sizeof text);
    (void)fhi_format(about, sizeof about, fhi_say(scene->language, "Height of the load, pull of the hand and force on the capture against time. %s"), text);
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(scene->language, "No raise: %s"), haul->why);
    y = fhi_svg_paragraph(p.svg, FHI_MARGIN, y + 14.0, FHI_PAGE - 2.0 * FHI_MARGIN, fhi_font_bold(), text, 5);
    (void)fhi_copy(about, sizeof about, text);
  }
  y = fhi_draw_footer(p.svg, y + 7.0);
  return fhi_draw_end(p.svg, y, scene->title, about, out);
}
