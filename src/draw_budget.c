// SPDX-License-Identifier: MIT
// Where does the rope go in a team, and is what is left enough? The rope as a bar to scale; below it, to the same scale,
// what a drop loop and a direct raise need against what either end has.
#include <math.h>
#include <string.h>

#include "draw_common.h"
#include "team_words.h"
#include "firnhaul_rescue.h"
#include "words.h"

static const double BAR = 20.0;  // [pt] height of the rope's bar
static const double LOW = 11.0;  // [pt] height of a need's bar

typedef struct bar {
  fhi_svg *svg;
  const fh_budget_in *in;
  const fh_budget_out *out;
  fh_units units;
  double scale;  // [pt/m]
} bar;

static double room(void) {
  return FHI_PAGE - 2.0 * FHI_MARGIN;
}

static const char *show(const bar *b, char *to, double length) {
  return fhi_show_length(to, FHI_WORD, round(length * 10.0) / 10.0, b->units);
}

// One piece of the rope; its words stand in it when they fit.
static double piece(const bar *b, double x, double y, double length, const char *fill, const char *what) {
  if (!(length > 0.0)) {
    return x;
  }
  char size[FHI_WORD];
  double w = length * b->scale;
  fhi_font font = {FHI_SMALL, false, FHI_INK};
  fhi_svg_rect(b->svg, (fhi_box){x, y, w, BAR}, 0.0, (fhi_pen){FHI_INK, 0.9, NULL, fill});
  (void)show(b, size, length);
  if (fhi_text_width(what, font.size, false) < w - 3.0) {
    fhi_svg_text(b->svg, x + w / 2.0, y + 8.6, FHI_MIDDLE, font, what);
  }
  if (fhi_text_width(size, font.size, true) < w - 3.0) {
    font.bold = true;
    fhi_svg_text(b->svg, x + w / 2.0, y + 17.2, FHI_MIDDLE, font, size);
  }
  return x + w;
}

static double rope_bar(const bar *b, double y) {
  double x = FHI_MARGIN;
  double span = b->in->people > 1 ? (b->out->spans + b->out->in_knots) / (b->in->people - 1) : 0.0;
  double tie = b->in->people > 0 ? b->out->in_ties / b->in->people : 0.0;
  for (int i = 0; i < b->in->people; i++) {
    x = i == 0 ? piece(b, x, y, b->out->first.spare, "#d5e2ec", fhi_say(b->svg->language, "coils, first")) : piece(b, x, y, span, FHI_PAPER, b->in->knots > 0 ? fhi_say(b->svg->language, "span, knots") : fhi_say(b->svg->language, "span"));
    fhi_svg_circle(b->svg, x, y + BAR + 5.0, 2.4, (fhi_pen){NULL, 0.0, NULL, FHI_INK});
    x = piece(b, x, y, tie, FHI_SOFT, "");
  }
  (void)piece(b, x, y, b->out->last.spare, "#d5e2ec", fhi_say(b->svg->language, "coils, last"));
  char a[FHI_WORD];
  char text[FHI_SVG_TEXT];
  (void)fhi_format(text, sizeof text, fhi_say(b->svg->language, "Dots: the %d people. The whole bar: %s."), b->in->people, show(b, a, b->in->length));
  return fhi_svg_paragraph(b->svg, FHI_MARGIN, y + BAR + 18.0, room(), fhi_font_small(), text, 2) + 6.0;
}

// What is needed against what there is: the needed length as a frame, what is there of it filled.
static double need_bar(const bar *b, double y, const char *what, double needs, double has, double missing) {
  char a[FHI_WORD];
  char c[FHI_WORD];
  char d[FHI_WORD];
  char text[FHI_SVG_TEXT];
  double full = fmin(needs * b->scale, room());
  double there = fmin(fmax(0.0, fmin(has, needs)) * b->scale, full);
  if (missing > 0.0) {
    (void)fhi_format(text, sizeof text, fhi_say(b->svg->language, "%s: needs %s, has %s: %s MISSING"), what, show(b, a, needs), show(b, c, has), show(b, d, missing));
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(b->svg->language, "%s: needs %s, has %s: enough"), what, show(b, a, needs), show(b, c, has));
  }
  fhi_font font = {8.5, missing > 0.0, FHI_INK};
  y = fhi_svg_paragraph(b->svg, FHI_MARGIN, y + 10.0, room(), font, text, 2) + 3.0;
  if (there > 0.0) {
    fhi_svg_rect(b->svg, (fhi_box){FHI_MARGIN, y, there, LOW}, 0.0, (fhi_pen){NULL, 0.0, NULL, "#8fa9bd"});
  }
  fhi_svg_rect(b->svg, (fhi_box){FHI_MARGIN, y, full, LOW}, 0.0, (fhi_pen){FHI_INK, 0.9, missing > 0.0 ? "3 2" : NULL, NULL});
  return y + LOW + 3.0;
}

static double end_bars(const bar *b, double y, const char *title, const fh_budget_end *end) {
  y = fhi_svg_paragraph(b->svg, FHI_MARGIN, y + 12.0, room(), fhi_font_bold(), title, 2) + 2.0;
  y = need_bar(b, y, fhi_say(b->svg->language, "Drop loop"), end->loop_needs, end->usable, end->loop_missing);
  return need_bar(b, y, fhi_say(b->svg->language, "Rope end sent down, three to one"), end->raise_needs, end->usable, end->raise_missing) + 3.0;
}

static double say_widest(const bar *b, double y) {
  char a[FHI_WORD];
  char c[FHI_WORD];
  char d[FHI_WORD];
  char text[FHI_SVG_TEXT];
  (void)fhi_format(text, sizeof text, fhi_say(b->svg->language, "Widest spacing with enough: drop loop whoever of the two ends falls %s; drop loop when only the first one can fall %s; rope end sent down %s."),
                   show(b, a, b->out->widest_loop), show(b, c, b->out->widest_loop_last), show(b, d, b->out->widest_raise));
  return fhi_svg_paragraph(b->svg, FHI_MARGIN, y + 12.0, room(), fhi_font_main(), text, 4) + 4.0;
}

static double draw_all(const bar *b, double y, bool stated) {
  char a[FHI_WORD];
  char text[FHI_SVG_TEXT];
  char apart[FHI_WORD];
  (void)fhi_format(text, sizeof text, fhi_say(b->svg->language, "Rope %s, %d people, %s apart%s"), show(b, a, b->in->length), b->in->people, show(b, apart, b->in->spacing),
                   stated ? "" : fhi_say(b->svg->language, " (the widest spacing that leaves enough for a drop loop)"));
  y = fhi_svg_paragraph(b->svg, FHI_MARGIN, y + 10.0, room(), fhi_font_bold(), text, 3) + 6.0;
  if (b->out->free_rope < 0.0) {
    (void)fhi_format(text, sizeof text, fhi_say(b->svg->language, "The rope is too short for this spacing: %s MISSING before any coil."), show(b, a, -b->out->free_rope));
    y = fhi_svg_paragraph(b->svg, FHI_MARGIN, y + 10.0, room(), fhi_font_bold(), text, 3) + 4.0;
  } else {
    y = rope_bar(b, y);
    y = end_bars(b, y, fhi_say(b->svg->language, "The first one has fallen: rope with the last one"), &b->out->last);
    y = end_bars(b, y, fhi_say(b->svg->language, "The last one has fallen: rope with the first one"), &b->out->first);
  }
  return say_widest(b, y);
}

fh_status fh_draw_budget(const fh_scene *scene, const fh_budget_in *in, const fh_budget_out *budget, fh_units units, fh_out out) {
  if (scene == NULL || in == NULL || budget == NULL || out.write == NULL || !(in->length > 0.0)) {
    return FH_ERR_ARG;
  }
  // Without a spacing the bar shows the widest one that leaves enough.
  fh_budget_in given = *in;
  fh_budget_out result = *budget;
  bool stated = !isnan(in->spacing);
  if (!stated) {
    given.spacing = budget->widest_loop;
    fh_status worked = given.spacing > 0.0 ? fh_budget(&given, &result) : FH_ERR_ARG;
    if (worked != FH_OK) {
      return worked;
    }
  }
  bar b = {.in = &given, .out = &result, .units = units, .scale = room() / in->length};
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &b.svg);
  if (status != FH_OK) {
    return status;
  }
  double y = fhi_draw_header(b.svg, fhi_team_title(scene), fhi_say(scene->language, "The rope, to scale: what the team takes and what is left for a raise."));
  y = draw_all(&b, y, stated);
  y = fhi_draw_footer(b.svg, y + 6.0);
  return fhi_draw_end(b.svg, y, fhi_team_title(scene), fhi_say(scene->language, "The rope of a team as a bar to scale, with what a drop loop and a raise need."), out);
}
