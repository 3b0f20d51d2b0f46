// SPDX-License-Identifier: MIT
// How deep do screws and threads sit, and at what angle? From the side, to a scale of their own; the pull goes to the left.
#include <math.h>

#include "anchor.h"
#include "draw_anchor.h"
#include "words.h"

static const double DEPTH = 64.0;      // [pt] of the deepest
static const double SIDES = 0.5773503; // [1] half a thread's width over its depth: equal sides, as it is taught

typedef struct in_ice {
  double depth, back;  // [m], [rad]
  bool thread;
} in_ice;

// @return false: no screw and no thread
static bool look(const fh_scene *scene, const fh_gear *gear, const fh_anchorage *a, int i, in_ice *out) {
  fhi_hold_in in;
  int kind = a->points[i].kind;
  if (kind < 0 || !fh_number_is_set(fh_gear_figure(gear, kind, "rotten_N", NULL))) {
    return false;
  }
  fhi_hold_resolve(scene, gear, a, i, &in);
  out->depth = in.depth.likely;
  out->back = fh_number_is_set(in.back) ? in.back.likely : 0.0;
  out->thread = !fh_number_is_set(fh_gear_figure(gear, kind, "short_share", NULL));
  return fh_number_is_set(in.depth);
}

static void draw_one(fhi_svg *svg, const in_ice *x, double at, double y, double scale) {
  double deep = x->depth * scale;
  if (x->thread) {
    fhi_pen hole = {FHI_INK, 2.0, NULL, NULL};
    fhi_svg_line(svg, at - deep * SIDES, y, at, y + deep, hole);
    fhi_svg_line(svg, at + deep * SIDES, y, at, y + deep, hole);
    return;
  }
  // The head leans back, away from the pull: the tip goes toward it.
  double tip = at - deep * sin(x->back), low = y + deep * cos(x->back);
  fhi_svg_line(svg, at, y, tip, low, (fhi_pen){FHI_INK, 4.0, NULL, NULL});
  fhi_svg_circle(svg, at + 3.0 * sin(x->back), y - 3.0 * cos(x->back), 3.5, (fhi_pen){FHI_INK, 1.2, NULL, FHI_PAPER});
}

static void name_one(fhi_svg *svg, const in_ice *x, int i, double at, double y, fh_units units) {
  char length[16], angle[16], text[80];
  bool inches = units == FH_IMPERIAL;
  (void)fhi_fixed(length, sizeof length, x->depth * (inches ? 1.0 / 0.0254 : 100.0), inches ? 1 : 0);
  if (x->back > 0.0) {
    (void)fhi_format(text, sizeof text, "%d: %s %s, %s\xc2\xb0", i + 1, length, inches ? "in" : "cm", fhi_fixed(angle, sizeof angle, x->back * 180.0 / 3.14159265358979323846, 0));
  } else {
    (void)fhi_format(text, sizeof text, "%d: %s %s", i + 1, length, inches ? "in" : "cm");
  }
  (void)fhi_svg_paragraph(svg, at - 30.0, y, 90.0, fhi_font_main(), text, 1);
}

double fhi_draw_in_ice(fhi_svg *svg, const fh_scene *scene, const fh_gear *gear, const fh_anchorage *a, double y, fh_units units) {
  in_ice x[FH_MAX_POINTS];
  bool there[FH_MAX_POINTS];
  double most = 0.0;
  int count = 0;
  for (int i = 0; i < a->point_count; i++) {
    there[i] = look(scene, gear, a, i, &x[i]);
    most = there[i] ? fmax(most, x[i].depth) : most;
    count += there[i];
  }
  if (count == 0) {
    return y;
  }
  double scale = DEPTH / most, room = FHI_PAGE - 2.0 * FHI_MARGIN, step = room / count;
  y = fhi_svg_paragraph(svg, FHI_MARGIN, y, room, fhi_font_bold(), fhi_say(scene->language, "In the ice, seen across the pull; threads along it"), 2) + 14.0;
  fhi_svg_line(svg, FHI_MARGIN, y, FHI_PAGE - FHI_MARGIN, y, (fhi_pen){"#0060a8", 1.0, NULL, NULL});
  for (int i = 0, n = 0; i < a->point_count; i++) {
    if (there[i]) {
      double at = FHI_MARGIN + (n++ + 0.5) * step;
      draw_one(svg, &x[i], at, y, scale);
      name_one(svg, &x[i], i, at, y + DEPTH + 14.0, units);
    }
  }
  fhi_draw_scale_bar(svg, FHI_MARGIN, y + DEPTH + 30.0, scale, 120.0, units);
  return y + DEPTH + 56.0;
}
