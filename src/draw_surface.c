// SPDX-License-Identifier: MIT
// The surface near the lip at a round multiple of the whole's scale, turned level: strands in lanes, the force beside
// each, what the rope runs through at each turn, grips, and a ruler with the bodies' distances.
#include "draw_surface.h"

#include "words.h"

#include <math.h>

static const double LANE = 15.5;      // [pt] a number of the main size fits between two strands
static const double STEP_LANE = 9.5;  // [pt] the same without numbers
static const double BASE = 8.0;       // [pt] lane 0 above the snow
static const double SLING = 3.0;      // [pt] the sling from station to anchor above the snow
static const double STUB = 30.0;      // [pt] of the strands in the hole that is shown
static const double ICE_DEPTH = 13.0; // [pt] of the band under the surface
static const double FOOT = 0.3048;    // [m]

static double lane(const fhi_section *sec) {
  return sec->step && !sec->solved ? STEP_LANE : LANE;
}

static fhi_frame surface_frame(const fhi_section *sec) {
  fhi_frame f = {.x = sec->start, .scale = sec->scale, .base = BASE, .gap = lane(sec), .hole_base = 4.5, .hole_gap = 5.0, .bend = 8.0, .end = sec->end};
  fhi_frame_axes(&f, 0.0, sec->scene->lip_turn.likely);
  f.deep = -STUB / sec->scale;
  return f;
}

static void draw_ice(fhi_section *sec, const fhi_frame *f) {
  double right = sec->svg->width - FHI_MARGIN;
  double bottom = f->y + STUB + 4.0;
  double wall_x = f->x + (STUB + 4.0) * (f->wy > 0.2 ? f->wx / f->wy : 0.0);
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, wall_x, bottom);
  fhi_path_line(&p, f->x, f->y);
  fhi_path_line(&p, right, f->y);
  fhi_path_line(&p, right, f->y + ICE_DEPTH);
  fhi_path_line(&p, f->x + ICE_DEPTH, f->y + ICE_DEPTH);
  fhi_path_line(&p, wall_x + ICE_DEPTH, bottom);
  fhi_path_close(&p);
  fhi_svg_path(sec->svg, &p, (fhi_pen){NULL, 0.0, NULL, FHI_ICE});
  fhi_path_clear(&p);
  fhi_path_move(&p, wall_x, bottom);
  fhi_path_line(&p, f->x, f->y);
  fhi_path_line(&p, right, f->y);
  fhi_svg_path(sec->svg, &p, (fhi_pen){FHI_ICE_EDGE, 1.2, NULL, NULL});
  fhi_svg_avoid(sec->svg, f->x, f->y, right, f->y, 4.0);
}

// The edge as it was before the ropes cut in, to scale.
static void draw_cut(fhi_section *sec, const fhi_frame *f) {
  double cut = sec->scene->lip_cut.likely * f->scale;
  if (!(cut >= 1.0)) {
    return;
  }
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, f->x + 3.0 * cut, f->y);
  fhi_path_line(&p, f->x - cut * (f->wy > 0.2 ? f->wx / f->wy : 0.0), f->y - cut);
  fhi_path_line(&p, f->x, f->y);
  fhi_svg_path(sec->svg, &p, (fhi_pen){FHI_ICE_EDGE, 0.8, "2.5 1.5", FHI_ICE});
  fhi_svg_avoid(sec->svg, p.x[0], p.y[0], p.x[1], p.y[1], 1.0);
  fhi_svg_avoid(sec->svg, p.x[1], p.y[1], p.x[2], p.y[2], 1.0);
}

// The station holds by a sling to the anchor, not in the snow. Drawn close above the snow, below every rope.
static void draw_sling(fhi_section *sec, const fhi_frame *f) {
  const fh_body *station = &sec->check->bodies[FH_BODY_STATION];
  const fh_body *anchor = &sec->check->bodies[FH_BODY_ANCHOR];
  if (sec->bare || fhi_sling_length(sec->check) <= 0.0 || fmin(station->at, anchor->at) > f->end) {
    return;
  }
  double x[2];
  double y[2];
  fhi_frame_point(f, fmin(station->at, f->end), SLING, 0.0, &x[0], &y[0]);
  fhi_frame_point(f, fmin(anchor->at, f->end), SLING, 0.0, &x[1], &y[1]);
  fhi_svg_group(sec->svg, "sling", 0);
  fhi_svg_line(sec->svg, x[0], y[0], x[1], y[1], (fhi_pen){FHI_INK, 2.6, NULL, NULL});
  fhi_svg_line(sec->svg, x[0], y[0], x[1], y[1], (fhi_pen){FHI_PAPER, 1.0, NULL, NULL});
  fhi_svg_circle(sec->svg, x[0], y[0], 2.4, (fhi_pen){FHI_INK, 1.1, NULL, FHI_PAPER});
  fhi_svg_group_end(sec->svg);
  fhi_svg_avoid(sec->svg, x[0], y[0], x[1], y[1], 4.0);
}

// From its lowest lane to its highest; fixed bodies down into the snow.
static bool body_span(const fhi_section *sec, const fhi_frame *f, int body, double *low, double *high) {
  *low = HUGE_VAL;
  *high = -HUGE_VAL;
  for (int i = 0; i < sec->check->strand_count; i++) {
    const fh_strand *st = &sec->check->strands[i];
    if (st->from == body || st->to == body) {
      double h = fhi_frame_height(f, &sec->layout.runs[sec->layout.run_of[i]], false);
      *low = fmin(*low, h);
      *high = fmax(*high, h);
    }
  }
  return *high >= *low;
}

static void draw_body(fhi_section *sec, const fhi_frame *f, int body) {
  const fh_body *b = &sec->check->bodies[body];
  double low = 0.0;
  double high = 0.0;
  if (b->at > f->end || b->at < 0.0 || !body_span(sec, f, body, &low, &high)) {
    return;
  }
  double x = 0.0;
  double y = 0.0;
  fhi_frame_point(f, b->at, 0.0, 0.0, &x, &y);
  fhi_svg_group(sec->svg, "body", body);
  if (b->fixed && body == FH_BODY_STATION && fhi_sling_length(sec->check) > 0.0) {
    low = SLING + 2.4;  // it hangs on its sling
  } else if (b->fixed) {
    fhi_path p;
    fhi_path_clear(&p);
    fhi_path_move(&p, x - 4.0, y);
    fhi_path_line(&p, x + 4.0, y);
    fhi_path_line(&p, x, y + 9.0);
    fhi_path_close(&p);
    fhi_svg_path(sec->svg, &p, (fhi_pen){NULL, 0.0, NULL, FHI_INK});
    low = 0.0;
  }
  fhi_svg_line(sec->svg, x, y - low, x, y - high, (fhi_pen){FHI_FAINT, 3.2, NULL, NULL});
  fhi_svg_avoid(sec->svg, x, y - low, x, y - high, 12.0);
  fhi_svg_group_end(sec->svg);
}

// The peg of a fixed body hides a number under it; the flag there gives the distance.
static bool near_peg(const fhi_section *sec, const fhi_frame *f, double x) {
  for (int b = FH_BODY_STATION; b < sec->check->body_count; b++) {
    if (fabs(f->x + sec->check->bodies[b].at * f->scale - x) < 8.0) {
      return true;
    }
  }
  return false;
}

static void draw_ruler(fhi_section *sec, const fhi_frame *f) {
  double unit = sec->units == FH_IMPERIAL ? FOOT : 1.0;
  double step = unit * f->scale >= 14.0 ? 1.0 : unit * f->scale >= 5.0 ? 5.0 : 10.0;
  char text[40];
  for (int k = 0; k * step * unit <= f->end + 1e-9; k++) {
    double x = f->x + k * step * unit * f->scale;
    fhi_svg_line(sec->svg, x, f->y, x, f->y + 3.0, (fhi_pen){FHI_ICE_EDGE, 0.8, NULL, NULL});
    if (k > 0 && x < sec->svg->width - FHI_MARGIN - 3.0 && !near_peg(sec, f, x)) {
      fhi_svg_text(sec->svg, x, f->y + 10.5, FHI_MIDDLE, (fhi_font){FHI_SMALL, false, FHI_SOFT}, fhi_fixed(text, sizeof text, k * step, 0));
    }
  }
}

// What the figure is: its scale against the whole's; a step's figure has a ruler of its own.
static void make_title(const fhi_section *sec, char *text, size_t size) {
  char times[40];
  if (sec->step) {
    (void)fhi_format(text, size, fhi_say(sec->scene->language, "To scale; strands drawn apart%s.%s"), fhi_any_idle(sec->check) ? fhi_say(sec->scene->language, "; dotted: carries nothing") : "",
                     sec->solved ? (sec->units == FH_IMPERIAL ? fhi_say(sec->scene->language, " Forces in lbf.") : fhi_say(sec->scene->language, " Forces in N.")) : "");
    return;
  }
  fhi_fixed(times, sizeof times, sec->times, fabs(sec->times - round(sec->times)) > 0.1 ? 1 : 0);
  bool same = sec->times < 1.01;
  (void)fhi_format(text, size, same ? fhi_say(sec->scene->language, "Surface, just as large; strands drawn apart to be counted%s%s.")
                                   : fhi_say(sec->scene->language, "Surface, %s times as large; strands drawn apart to be counted%s."),
                   same ? "" : times, fabs(sec->scene->slope.likely) > 1e-6 ? fhi_say(sec->scene->language, "; turned level") : "");
}

double fhi_draw_surface(fhi_section *sec, double top) {
  char text[2 * FHI_WORD];
  fhi_frame f = surface_frame(sec);
  make_title(sec, text, sizeof text);
  fhi_font font = fhi_font_small();
  double y = fhi_svg_paragraph(sec->svg, FHI_MARGIN, top + 8.0, sec->svg->width - 2.0 * FHI_MARGIN, font, text, 2);
  double height = BASE + (sec->layout.lane_count - 1) * lane(sec);
  f.y = y + 18.0 + fmax(height, 10.0);
  draw_ice(sec, &f);
  draw_cut(sec, &f);
  for (int b = FH_BODY_STATION; b < sec->check->body_count; b++) {
    draw_body(sec, &f, b);
  }
  draw_sling(sec, &f);
  fhi_draw_strands(sec->svg, &f, &sec->layout, sec->check, 5.0, 1.0);
  fhi_draw_marks(sec, &f);
  draw_ruler(sec, &f);
  fhi_box field = {3.0, y + 4.0, sec->svg->width - 6.0, f.y - y - 4.0};
  fhi_label_surface(sec, &f, field);
  return fmax(fhi_draw_flags(sec, &f, f.y + ICE_DEPTH), f.y + STUB + 8.0) + 2.0;
}
