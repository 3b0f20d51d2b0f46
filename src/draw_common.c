// SPDX-License-Identifier: MIT
// What all figures share: colours, rope styles, numbers as words, header and footer. Numbers are rounded here, before
// anything is laid out, so that the last bit of a result cannot move a byte of a figure.
#include "draw_common.h"

#include "report.h"
#include "shown.h"
#include "words.h"

#include <math.h>
#include <string.h>

static const double POUND_FORCE = 4.4482216152605;  // [N] exact: 0.45359237 kg x 9.80665 m/s^2
static const double POUND = 0.45359237;             // [kg] exact
static const double FOOT = 0.3048;                  // [m] exact
static const double PI = 3.14159265358979323846;

fhi_font fhi_font_main(void) {
  return (fhi_font){FHI_MAIN, false, FHI_INK};
}

fhi_font fhi_font_bold(void) {
  return (fhi_font){FHI_MAIN, true, FHI_INK};
}

fhi_font fhi_font_small(void) {
  return (fhi_font){FHI_SMALL, false, FHI_SOFT};
}

static const char *show_force(char *to, size_t size, fh_band band, fh_units units, fh_language language, bool likely) {
  double per = units == FH_IMPERIAL ? 1.0 / POUND_FORCE : 1.0;
  const char *unit = units == FH_IMPERIAL ? "lbf" : "N";
  char a[40];
  char lo[40];
  char hi[40];
  if (!(isfinite(band.lo) && isfinite(band.hi))) {
    (void)fhi_copy(to, size, fhi_say(language, "not known"));
    return to;
  }
  fhi_fixed(a, sizeof a, fhi_coarse(band.likely * per, FHI_NEAREST), 0);
  fhi_fixed(lo, sizeof lo, fhi_coarse(band.lo * per, FHI_DOWN), 0);
  fhi_fixed(hi, sizeof hi, fhi_coarse(band.hi * per, FHI_UP), 0);
  // A range below what is shown at all is none.
  if (fhi_coarse(band.lo * per, FHI_NEAREST) >= fhi_coarse(band.hi * per, FHI_NEAREST)) {
    (void)fhi_format(to, size, "%s %s", a, unit);
  } else if (likely) {
    (void)fhi_format(to, size, "%s %s (%s\xE2\x80\x93%s)", a, unit, lo, hi);
  } else {
    (void)fhi_format(to, size, "%s\xE2\x80\x93%s %s", lo, hi, unit);
  }
  return to;
}

const char *fhi_show_force(char *to, size_t size, fh_band band, fh_units units, fh_language language) {
  return show_force(to, size, band, units, language, false);
}

const char *fhi_show_likely(char *to, size_t size, fh_band band, fh_units units, fh_language language) {
  return show_force(to, size, band, units, language, true);
}

// One decimal, none when it is zero.
static const char *one_decimal(char *to, size_t size, double value) {
  double tenth = round(value * 10.0) / 10.0;
  return fhi_fixed(to, size, tenth, fabs(tenth - round(tenth)) < 1e-9 ? 0 : 1);
}

const char *fhi_show_length(char *to, size_t size, double length, fh_units units) {
  char a[40];
  one_decimal(a, sizeof a, units == FH_IMPERIAL ? length / FOOT : length);
  (void)fhi_format(to, size, "%s %s", a, units == FH_IMPERIAL ? "ft" : "m");
  return to;
}

// A scene's number in its unit, a range as such.
static const char *show_scene_number(char *to, size_t size, fh_number n, double per, const char *unit, fh_language language) {
  char a[40];
  char b[40];
  if (!fh_number_is_set(n)) {
    (void)fhi_copy(to, size, fhi_say(language, "not given"));
    return to;
  }
  one_decimal(a, sizeof a, n.lo * per);
  one_decimal(b, sizeof b, n.hi * per);
  if (n.hi - n.lo > 0.0) {
    (void)fhi_format(to, size, "%s\xE2\x80\x93%s%s", a, b, unit);
  } else {
    (void)fhi_format(to, size, "%s%s", a, unit);
  }
  return to;
}

const char *fhi_show_mass(char *to, size_t size, fh_number mass, fh_units units, fh_language language) {
  if (units == FH_IMPERIAL) {
    mass.lo = floor(mass.lo / POUND + 0.5) * POUND;
    mass.hi = floor(mass.hi / POUND + 0.5) * POUND;
    return show_scene_number(to, size, mass, 1.0 / POUND, " lb", language);
  }
  return show_scene_number(to, size, mass, 1.0, " kg", language);
}

const char *fhi_show_angle(char *to, size_t size, fh_number angle, fh_language language) {
  return show_scene_number(to, size, angle, 180.0 / PI, "\xC2\xB0", language);
}

const char *fhi_show_number(char *to, size_t size, fh_band band, int decimals) {
  char a[40];
  char b[40];
  fhi_fixed(a, sizeof a, band.lo, decimals);
  fhi_fixed(b, sizeof b, band.hi, decimals);
  double half = 0.5 * pow(10.0, -decimals);
  (void)fhi_format(to, size, band.hi - band.lo < half ? "%s" : "%s\xE2\x80\x93%s", a, b);
  return to;
}

const char *fhi_show_lip(char *to, size_t size, const fh_scene *scene, const fh_gear *gear, fh_units units) {
  char turn[FHI_WORD];
  char friction[FHI_WORD];
  char cut[FHI_WORD];
  const char *surface = scene->lip_surface >= 0 ? fhi_item_said(scene->language, gear, scene->lip_surface) : "";
  (void)fhi_format(to, size, fhi_say(scene->language, "Lip%s%s%s: turn %s, friction %s, cut %s"), surface[0] != '\0' ? " (" : "", surface, surface[0] != '\0' ? ")" : "",
                   fhi_show_angle(turn, sizeof turn, scene->lip_turn, scene->language), fhi_show_number(friction, sizeof friction, fh_number_band(scene->lip_friction), 2),
                   fhi_show_length(cut, sizeof cut, scene->lip_cut.likely, units));
  return to;
}

const char *fhi_show_trimmed(char *to, size_t size, double value, int decimals) {
  fhi_fixed(to, size, value, decimals);
  while (strchr(to, '.') != NULL && (to[strlen(to) - 1] == '0' || to[strlen(to) - 1] == '.')) {
    to[strlen(to) - 1] = '\0';
  }
  return to;
}

const char *fhi_show_name(char *to, size_t size, const char *name, double room) {
  char clean[FHI_SVG_TEXT];
  fhi_text_clean(clean, sizeof clean, name);
  return fhi_text_fit(to, size, clean, (fhi_font){FHI_SMALL, true, FHI_INK}, room);
}

// Okabe and Ito's colours (Color Universal Design, 2008), darkened where thin lines need it; each with a pattern of its own.
typedef struct rope_style {
  const char *colour;
  const char *dash;
  bool hollow;  ///< two thin lines with paper between
} rope_style;

static const rope_style ROPES[] = {
    {"#0060a8", NULL, false}, {"#c04a00", NULL, true}, {"#00694c", "9 2.4", false}, {"#8a3a78", "7 2 1.6 2", false},
    {"#16202a", "3.4 1.8", true}, {"#7a5a00", "12 2 3 2", false}, {"#0060a8", "5 2", true}, {"#c04a00", "2.4 1.4", false},
};

static const char *rope_colour(int rope) {
  return ROPES[rope % (int)(sizeof ROPES / sizeof ROPES[0])].colour;
}

void fhi_draw_rope(fhi_svg *svg, const fhi_path *path, int rope, bool carries, double scale) {
  const rope_style *style = &ROPES[rope % (int)(sizeof ROPES / sizeof ROPES[0])];
  if (!carries) {
    fhi_svg_path(svg, path, (fhi_pen){rope_colour(rope), 0.9, "1.8 2.2", NULL});
    return;
  }
  if (style->hollow) {
    fhi_svg_path(svg, path, (fhi_pen){style->colour, 2.8 * scale, style->dash, NULL});
    fhi_svg_path(svg, path, (fhi_pen){FHI_PAPER, 1.1 * scale, NULL, NULL});
    return;
  }
  fhi_svg_path(svg, path, (fhi_pen){style->colour, 2.2 * scale, style->dash, NULL});
}

double fhi_draw_header(fhi_svg *svg, const char *title, const char *what) {
  fhi_font font = {11.5, true, FHI_INK};
  double room = fmin(svg->width, FHI_PAGE) - 2.0 * FHI_MARGIN;
  double y = fhi_svg_paragraph(svg, FHI_MARGIN, 16.0, room, font, title[0] != '\0' ? title : fhi_say(svg->language, "Raising rig"), 2);
  fhi_font small = fhi_font_small();
  small.size = 8.0;
  y = fhi_svg_paragraph(svg, FHI_MARGIN, y + 12.0, room, small, what, 3);
  return y + 5.0;
}

void fhi_draw_blank(fhi_svg *svg, double x, double y, double room, double size) {
  const char *blank = fhi_say(svg->language, "Date, place, who:");
  fhi_svg_text(svg, x, y, FHI_START, (fhi_font){size, false, FHI_SOFT}, blank);
  fhi_svg_line(svg, x + fhi_text_width(blank, size, false) + 4.0, y + 2.0, x + room, y + 2.0, (fhi_pen){FHI_FAINT, 0.6, NULL, NULL});
}

double fhi_draw_footer(fhi_svg *svg, double y) {
  double page = fmin(svg->width, FHI_PAGE);
  fhi_svg_line(svg, FHI_MARGIN, y, page - FHI_MARGIN, y, (fhi_pen){FHI_FAINT, 0.5, NULL, NULL});
  y = fhi_svg_paragraph(svg, FHI_MARGIN, y + 10.5, page - 2.0 * FHI_MARGIN, fhi_font_small(), fhi_say(svg->language, FHI_CAUTION), 4);
  return y + 6.0;
}

// One entry of the legend; starts a new line when it does not fit. @return x after it
static double legend_entry(fhi_svg *svg, double x, double *y, int rope, bool carries, const char *name) {
  char fitted[FHI_SVG_TEXT];
  fhi_font font = fhi_font_small();
  fhi_text_fit(fitted, sizeof fitted, name, font, 220.0);
  double width = 26.0 + fhi_text_width(fitted, font.size, font.bold);
  if (x > FHI_MARGIN && x + width > fmin(svg->width, FHI_PAGE) - FHI_MARGIN) {
    x = FHI_MARGIN;
    *y += 11.0;
  }
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, x, *y - 2.6);
  fhi_path_line(&p, x + 22.0, *y - 2.6);
  fhi_draw_rope(svg, &p, rope, carries, 1.0);
  fhi_svg_text(svg, x + 26.0, *y, FHI_START, font, fitted);
  return x + width + 12.0;
}

double fhi_draw_legend(fhi_svg *svg, double y, const fh_rig *rig, bool any_idle) {
  double x = FHI_MARGIN;
  y += 9.0;
  for (int i = 0; i < rig->path_count; i++) {
    char clean[FHI_SVG_TEXT];
    char name[FHI_SVG_TEXT];
    (void)fhi_format(name, sizeof name, fhi_say(svg->language, "rope %s"), fhi_text_clean(clean, sizeof clean, fhi_given_said(svg->language, rig->paths[i].name)));
    x = legend_entry(svg, x, &y, i, true, name);
  }
  if (any_idle) {
    (void)legend_entry(svg, x, &y, 0, false, fhi_say(svg->language, "thin, dotted: carries nothing"));
  }
  return y + 5.0;
}

void fhi_draw_scale_bar(fhi_svg *svg, double x, double y, double scale, double room, fh_units units) {
  static const double STEPS[] = {0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0};
  double unit = units == FH_IMPERIAL ? FOOT : 1.0;
  double step = STEPS[0];
  for (size_t i = 0; i < sizeof STEPS / sizeof STEPS[0]; i++) {
    if (STEPS[i] * unit * scale <= room) {
      step = STEPS[i];
    }
  }
  char text[FHI_WORD];
  double end = x + step * unit * scale;
  fhi_pen pen = {FHI_INK, 1.0, NULL, NULL};
  fhi_svg_line(svg, x, y, end, y, pen);
  fhi_svg_line(svg, x, y - 2.5, x, y + 2.5, pen);
  fhi_svg_line(svg, end, y - 2.5, end, y + 2.5, pen);
  fhi_svg_text(svg, end + 4.0, y + 2.7, FHI_START, fhi_font_small(), fhi_show_length(text, sizeof text, step * unit, units));
}

bool fhi_any_idle(const fh_check *check) {
  for (int i = 0; i < check->strand_count; i++) {
    if (!check->strands[i].carries) {
      return true;
    }
  }
  return false;
}

// A limb: a line of points, to scale. @param n points of x,y pairs [m], y upward
static void limb(fhi_svg *svg, double scale, double side, const double *points, int n, double thick) {
  fhi_path p;
  fhi_path_clear(&p);
  for (int i = 0; i < n; i++) {
    double px = side * points[2 * i] * scale;
    double py = -points[2 * i + 1] * scale;
    if (i == 0) {
      fhi_path_move(&p, px, py);
    } else {
      fhi_path_line(&p, px, py);
    }
  }
  fhi_svg_path(svg, &p, (fhi_pen){FHI_SOFT, fmax(0.7, thick * scale), NULL, NULL});
}

void fhi_draw_person(fhi_svg *svg, double x, double y, double scale, fhi_pose pose, double side) {
  static const double HANG_BODY[] = {0.0, 0.0, -0.08, 0.50};
  static const double HANG_LEG[] = {0.0, 0.0, -0.36, -0.16, -0.30, -0.62};
  static const double HANG_OTHER[] = {0.0, 0.0, -0.24, -0.36, -0.20, -0.86};
  static const double HANG_ARM[] = {-0.08, 0.46, -0.26, 0.30, -0.02, 0.42};
  static const double PULL_BODY[] = {0.16, 0.88, 0.34, 1.36};
  static const double PULL_LEG[] = {0.16, 0.88, 0.02, 0.46, -0.14, 0.0};
  static const double PULL_OTHER[] = {0.16, 0.88, 0.36, 0.44, 0.30, 0.0};
  static const double PULL_ARM[] = {0.33, 1.32, 0.02, 1.12, -0.30, 1.06};
  bool hangs = pose == FHI_HANGING;
  fhi_svg_group_at(svg, x, y);
  limb(svg, scale, side, hangs ? HANG_LEG : PULL_LEG, 3, 0.13);
  limb(svg, scale, side, hangs ? HANG_OTHER : PULL_OTHER, 3, 0.13);
  limb(svg, scale, side, hangs ? HANG_ARM : PULL_ARM, 3, 0.09);
  limb(svg, scale, side, hangs ? HANG_BODY : PULL_BODY, 2, 0.24);
  double hx = hangs ? -0.11 : 0.40;
  double hy = hangs ? 0.72 : 1.60;
  fhi_svg_circle(svg, side * hx * scale, -hy * scale, fmax(1.0, 0.13 * scale), (fhi_pen){NULL, 0.0, NULL, FHI_SOFT});
  fhi_svg_group_end(svg);
}

fh_status fhi_draw_end(fhi_svg *svg, double height, const char *title, const char *about, fh_out out) {
  fh_status status = fhi_svg_end(svg, height, title[0] != '\0' ? title : fhi_say(svg->language, "Raising rig"), about, out);
  fhi_svg_destroy(svg);
  return status;
}
