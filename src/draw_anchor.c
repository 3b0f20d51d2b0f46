// SPDX-License-Identifier: MIT
// How do the legs stand, and what does each carry and hold? The anchor seen from above, to scale; the lip lies to the left.
#include <math.h>

#include "anchor.h"
#include "draw_anchor.h"
#include "words.h"

static const double FIELD = 190.0;  // [pt] most height of the plan
static const double LABEL = 70.0;   // [pt] kept free to the right for names

typedef struct picture {
  fhi_svg *svg;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_anchor *anchor;
  fh_anchorage a;
  fh_units units;
  double scale, x0, y0;  // [pt/m], [pt] where the legs meet
  fhi_box field;
} picture;

static double along(const fh_point *p) {
  return p->leg.likely * cos(p->above.likely) * cos(p->aside.likely);
}

static double across(const fh_point *p) {
  return p->leg.likely * cos(p->above.likely) * sin(p->aside.likely);
}

static void choose_scale(picture *p, double y) {
  double ahead = 0.3, wide = 0.4, back = 0.5;
  for (int i = 0; i < p->anchor->points; i++) {
    ahead = fmax(ahead, along(&p->a.points[i]) + 0.3);
    wide = fmax(wide, fabs(across(&p->a.points[i])) + 0.5);
    back = fmax(back, p->anchor->loss[i].held ? p->anchor->loss[i].moves + 0.3 : 0.0);
  }
  double room = FHI_PAGE - 2.0 * FHI_MARGIN - LABEL;
  p->scale = fmin(room / (ahead + back), FIELD / (2.0 * wide));
  double height = fmax(2.0 * wide * p->scale, 90.0);
  p->field = (fhi_box){FHI_MARGIN, y, FHI_PAGE - 2.0 * FHI_MARGIN, height};
  p->x0 = FHI_MARGIN + back * p->scale;
  p->y0 = y + 0.5 * height;
}

// What is buried, at its size, square to its leg; a bollard as the circle that it is.
static void draw_thing(picture *p, int i, double x, double y) {
  fhi_hold_in in;
  fhi_hold_resolve(p->scene, p->gear, &p->a, i, &in);
  fhi_pen pen = {FHI_INK, 1.2, NULL, FHI_PAPER};
  if (in.bollard) {
    double r = 0.5 * in.diameter.likely * p->scale;
    fhi_svg_circle(p->svg, x + r, y, r, pen);
    return;
  }
  bool laid = fh_number_is_set(in.length) && !fh_number_is_set(in.back);
  double half = laid ? 0.5 * in.length.likely * p->scale : 2.5;
  double turn = p->a.points[i].aside.likely;
  if (laid) {
    fhi_svg_line(p->svg, x + half * sin(turn), y + half * cos(turn), x - half * sin(turn), y - half * cos(turn), (fhi_pen){FHI_INK, 3.0, NULL, NULL});
  } else {
    fhi_svg_rect(p->svg, (fhi_box){x - 3.0, y - 3.0, 6.0, 6.0}, 0.0, (fhi_pen){FHI_INK, 1.2, NULL, FHI_INK});
  }
}

static void label(picture *p, double x, double y, double dx, double dy, fhi_font font, const char *text) {
  fhi_callout c = {.x = x, .y = y, .field = p->field, .pull_x = dx, .pull_y = dy, .font = font, .text = text};
  (void)fhi_svg_callout(p->svg, &c);
}

static const char *kind(const picture *p, int i) {
  const fh_item *item = fh_gear_item(p->gear, p->a.points[i].kind);
  return item != NULL ? fhi_item_said(p->svg->language, p->gear, p->a.points[i].kind) : fhi_say(p->svg->language, "given");
}

static const fh_anchor_case *main_case(const picture *p) {
  return &p->anchor->cases[p->anchor->cases[FH_ANCHOR_HAUL].known ? FH_ANCHOR_HAUL : FH_ANCHOR_HOLD];
}

static void draw_legs(picture *p) {
  for (int i = 0; i < p->anchor->points; i++) {
    double x = p->x0 + along(&p->a.points[i]) * p->scale, y = p->y0 - across(&p->a.points[i]) * p->scale;
    fhi_svg_group(p->svg, "point", i);
    fhi_svg_line(p->svg, p->x0, p->y0, x, y, (fhi_pen){"#0060a8", 1.6, i % 2 == 1 ? "6 2" : NULL, NULL});
    fhi_svg_avoid(p->svg, p->x0, p->y0, x, y, 2.0);
    draw_thing(p, i, x, y);
    fhi_svg_group_end(p->svg);
  }
}

static void label_legs(picture *p) {
  const fh_anchor_case *c = main_case(p);
  for (int i = 0; i < p->anchor->points; i++) {
    char force[FHI_WORD], text[FHI_WORD + 48];
    double x = p->x0 + along(&p->a.points[i]) * p->scale, y = p->y0 - across(&p->a.points[i]) * p->scale;
    (void)fhi_format(text, sizeof text, "%d %s", i + 1, kind(p, i));
    label(p, x, y, 24.0, -4.0, fhi_font_bold(), text);
    (void)fhi_format(text, sizeof text, "%s", fhi_show_force(force, sizeof force, c->leg[i], p->units, p->svg->language));
    label(p, 0.5 * (x + p->x0), 0.5 * (y + p->y0), 0.0, y > p->y0 ? 12.0 : -8.0, fhi_font_main(), text);
  }
}

// Where the legs would meet if the point with the worst consequence let go.
static void draw_loss(picture *p) {
  int worst = -1;
  for (int i = 0; i < p->anchor->points; i++) {
    if (p->anchor->loss[i].held && (worst < 0 || p->anchor->loss[i].moves > p->anchor->loss[worst].moves)) {
      worst = i;
    }
  }
  if (worst < 0) {
    return;
  }
  fh_legs legs;
  double pull = fmax(main_case(p)->pull.likely, 1.0);
  if (fh_legs_solve(&p->a, worst, pull, &legs) != FH_OK) {
    return;
  }
  char length[FHI_WORD], text[FHI_WORD + 48];
  double x = p->x0 + legs.x * p->scale, y = p->y0 - legs.y * p->scale;
  fhi_svg_line(p->svg, p->x0, p->y0, x, y, (fhi_pen){FHI_WARN, 1.0, "2 2", NULL});
  fhi_svg_circle(p->svg, x, y, 3.0, (fhi_pen){FHI_WARN, 1.2, NULL, FHI_PAPER});
  (void)fhi_format(text, sizeof text, fhi_say(p->svg->language, "%s if %d lets go"), fhi_show_length(length, sizeof length, p->anchor->loss[worst].moves, p->units), worst + 1);
  label(p, x, y, 0.0, 14.0, (fhi_font){8.5, false, FHI_WARN}, text);
}

static void draw_pull(picture *p) {
  char force[FHI_WORD], text[FHI_WORD + 32];
  double end = FHI_MARGIN + 2.0;
  fhi_svg_line(p->svg, p->x0, p->y0, end + 4.0, p->y0, (fhi_pen){FHI_INK, 2.0, NULL, NULL});
  fhi_svg_arrow(p->svg, end, p->y0, 3.14159265358979323846, 7.0, FHI_INK);
  fhi_svg_avoid(p->svg, end, p->y0, p->x0, p->y0, 3.0);
  fhi_svg_circle(p->svg, p->x0, p->y0, 3.0, (fhi_pen){FHI_INK, 1.2, NULL, FHI_PAPER});
  (void)fhi_format(text, sizeof text, "%s, %s", main_case(p) == &p->anchor->cases[FH_ANCHOR_HAUL] ? fhi_say(p->svg->language, "hauling") : fhi_say(p->svg->language, "holding"),
                   fhi_show_force(force, sizeof force, main_case(p)->pull, p->units, p->svg->language));
  label(p, end + 10.0, p->y0, 20.0, -10.0, fhi_font_main(), text);
}

// Holding forces are no better known than to a tenth of a kilonewton, and rounded down.
static const char *show_holds(char *to, size_t size, fh_band b, fh_units units, fh_language language) {
  if (units == FH_IMPERIAL) {
    return fhi_show_force(to, size, b, units, language);
  }
  char lo[32], hi[32];
  (void)fhi_fixed(lo, sizeof lo, floor(b.lo / 100.0) / 10.0, 1);
  (void)fhi_fixed(hi, sizeof hi, floor(b.hi / 100.0) / 10.0, 1);
  if (b.lo < b.hi) {
    (void)fhi_format(to, size, "%s\xe2\x80\x93%s kN", lo, hi);
  } else {
    (void)fhi_format(to, size, "%s kN", lo);
  }
  return to;
}

static double draw_rows(picture *p, double y) {
  char text[FHI_SVG_TEXT], force[FHI_WORD], margin[40];
  for (int i = 0; i < p->anchor->points; i++) {
    const fh_hold *h = &p->anchor->hold[i];
    (void)fhi_format(text, sizeof text, fhi_say(p->svg->language, "%d %s holds %s (%s)"), i + 1, kind(p, i), show_holds(force, sizeof force, h->holds, p->units, p->svg->language), fhi_say(p->svg->language, h->limit));
    y = fhi_svg_paragraph(p->svg, FHI_MARGIN, y, FHI_PAGE - 2.0 * FHI_MARGIN, fhi_font_main(), text, 2) + 11.0;
  }
  for (int c = 0; c < FH_ANCHOR_CASES; c++) {
    const fh_anchor_case *x = &p->anchor->cases[c];
    if (x->known) {
      double shown = floor(x->margin[x->weakest] * 10.0) / 10.0;
      (void)fhi_format(text, sizeof text, fhi_say(p->svg->language, "%s: %s, margin %s at %d"), fhi_say(p->svg->language, fh_anchor_case_name(c)), fhi_show_force(force, sizeof force, x->pull, p->units, p->svg->language),
                       fhi_fixed(margin, sizeof margin, shown, 1), x->weakest + 1);
      fhi_font font = x->margin[x->weakest] < 1.0 ? (fhi_font){FHI_MAIN, true, FHI_WARN} : fhi_font_main();
      y = fhi_svg_paragraph(p->svg, FHI_MARGIN, y, FHI_PAGE - 2.0 * FHI_MARGIN, font, text, 2) + 11.0;
    }
  }
  return y;
}

fh_status fh_draw_anchor(const fh_scene *scene, const fh_gear *gear, const fh_anchor *anchor, fh_units units, fh_out out) {
  picture p = {.scene = scene, .gear = gear, .anchor = anchor, .units = units};
  if (scene == NULL || gear == NULL || anchor == NULL || out.write == NULL || !fh_anchorage_of(scene, gear, &p.a)) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &p.svg);
  if (status != FH_OK) {
    return status;
  }
  double y = fhi_draw_header(p.svg, scene->title[0] != '\0' ? scene->title : fhi_say(scene->language, "Anchor"), fhi_say(scene->language, "The anchor from above; the lip lies to the left")) + 6.0;
  choose_scale(&p, y);
  draw_legs(&p);
  draw_pull(&p);
  draw_loss(&p);
  label_legs(&p);
  y = p.field.y + p.field.h + 16.0;
  fhi_draw_scale_bar(p.svg, FHI_MARGIN, y, p.scale, 120.0, units);
  y = fhi_draw_in_ice(p.svg, scene, gear, &p.a, y + 24.0, units);
  y = draw_rows(&p, y);
  y = fhi_draw_footer(p.svg, y + 2.0);
  return fhi_draw_end(p.svg, y, fhi_say(scene->language, "The anchor from above"), fhi_say(scene->language, "Points and legs of the anchor to scale, with what each carries and holds."), out);
}
