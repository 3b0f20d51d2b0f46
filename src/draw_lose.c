// SPDX-License-Identifier: MIT
// What falls when one thing lets go? Stages across, elements down; each cell says how far the load drops, and is the darker
// the farther. model.md, section 9.
#include <math.h>
#include <string.h>

#include "draw_common.h"
#include "firnhaul_rescue.h"
#include "words.h"

static const double FOOT = 0.3048;   // [m] exact
static const double MOST_NAME = 170.0;  // [pt] for the elements' names
static const double CELL = 23.0;     // [pt] "lost", "9.9!" and "27!" fit
static const double ROW = 11.5;      // [pt]

// From which drop on a cell gets this ground: [m]. Ink on the darkest keeps 4.5 : 1; what is lost is white on ink.
static const struct {
  double drop;
  const char *fill;
} SHADES[] = {{0.005, "#edf1f4"}, {0.25, "#dbe2e8"}, {0.5, "#c8d2da"}, {1.0, "#b3c0cb"}, {2.0, "#9dadba"}};

typedef struct matrix {
  fhi_svg *svg;
  const fh_lose *lose;
  fh_units units;
  double width;  // [pt]
  double names;  // [pt] for the elements' names
} matrix;

static double farthest(const fh_loss *loss) {
  return loss->drop + (loss->bite > 0.0 ? loss->bite : 0.0);
}

// Does anything ever fall with it?
static bool ever_bears(const fh_lose *lose, int element) {
  for (int s = 0; s < lose->stages->count; s++) {
    const fh_loss *loss = fh_lose_at(lose, s, element);
    if (loss->there && loss->bears) {
      return true;
    }
  }
  return false;
}

static bool ever_there(const fh_lose *lose, int element) {
  for (int s = 0; s < lose->stages->count; s++) {
    if (fh_lose_at(lose, s, element)->there) {
      return true;
    }
  }
  return false;
}

static const char *shade(double drop) {
  const char *fill = FHI_PAPER;
  for (size_t i = 0; i < sizeof SHADES / sizeof SHADES[0]; i++) {
    fill = drop >= SHADES[i].drop ? SHADES[i].fill : fill;
  }
  return fill;
}

static void draw_cell(const matrix *m, double x, double y, const fh_loss *loss) {
  fhi_box box = {x, y, CELL, ROW};
  fhi_font font = {FHI_SMALL, false, FHI_INK};
  double base = y + ROW - 3.2;
  if (!loss->there) {
    return;
  }
  if (!loss->bears) {
    fhi_svg_text(m->svg, x + CELL / 2.0, base, FHI_MIDDLE, (fhi_font){FHI_SMALL, false, FHI_SOFT}, "\xC2\xB7");
    return;
  }
  if (!loss->caught) {
    fhi_svg_rect(m->svg, box, 0.0, (fhi_pen){FHI_PAPER, 0.6, NULL, FHI_INK});
    fhi_svg_text(m->svg, x + CELL / 2.0, base, FHI_MIDDLE, (fhi_font){FHI_SMALL, true, FHI_PAPER}, fhi_say(m->svg->language, "lost"));
    return;
  }
  char number[40];
  char text[48];
  double drop = farthest(loss);
  double shown = drop / (m->units == FH_IMPERIAL ? FOOT : 1.0);
  bool fine = shown < 9.95;
  shown = fine ? ceil(shown * 10.0 - 1e-6) / 10.0 : ceil(shown - 1e-6);  // never less than it is
  (void)fhi_format(text, sizeof text, "%s%s", fhi_fixed(number, sizeof number, shown, fine ? 1 : 0), loss->over_count > 0 ? "!" : "");
  font.bold = loss->over_count > 0;
  fhi_svg_rect(m->svg, box, 0.0, (fhi_pen){FHI_PAPER, 0.6, NULL, shade(drop)});
  fhi_svg_text(m->svg, x + CELL / 2.0, base, FHI_MIDDLE, font, text);
}

static void draw_row(const matrix *m, double y, int element) {
  char name[FHI_SVG_TEXT];
  char clean[FHI_SVG_TEXT];
  char said[FHI_SVG_TEXT];
  fhi_font font = {FHI_SMALL, false, FHI_INK};
  fhi_text_clean(clean, sizeof clean, fhi_name_said(said, sizeof said, m->svg->language, m->lose->elements[element].name));
  fhi_text_fit(name, sizeof name, clean, font, m->names - 4.0);
  fhi_svg_text(m->svg, FHI_MARGIN, y + ROW - 3.2, FHI_START, font, name);
  fhi_svg_group(m->svg, "element", element);
  for (int s = 0; s < m->lose->stages->count; s++) {
    draw_cell(m, FHI_MARGIN + m->names + s * CELL, y, fh_lose_at(m->lose, s, element));
  }
  fhi_svg_group_end(m->svg);
}

// Step numbers, and below each by how many independent things the load is held.
static double draw_heads(const matrix *m, double y) {
  fhi_svg_text(m->svg, FHI_MARGIN, y + 8.0, FHI_START, (fhi_font){FHI_SMALL, true, FHI_INK}, fhi_say(m->svg->language, "step"));
  fhi_svg_text(m->svg, FHI_MARGIN, y + 8.0 + ROW, FHI_START, (fhi_font){FHI_SMALL, true, FHI_INK}, fhi_say(m->svg->language, "held by so many"));
  for (int s = 0; s < m->lose->stages->count; s++) {
    const fh_stage *stage = &m->lose->stages->stages[s];
    char text[40];
    double x = FHI_MARGIN + m->names + s * CELL;
    (void)fhi_format(text, sizeof text, "%d", stage->step);
    fhi_svg_text(m->svg, x + CELL / 2.0, y + 8.0, FHI_MIDDLE, (fhi_font){FHI_SMALL, true, FHI_INK}, text);
    (void)fhi_format(text, sizeof text, "%d", stage->holds);
    bool thin = stage->holds <= 1 && stage->depth > 0.0;
    if (thin) {
      fhi_svg_rect(m->svg, (fhi_box){x + 4.0, y + ROW, CELL - 8.0, ROW - 1.0}, 2.0, (fhi_pen){FHI_INK, 1.0, NULL, NULL});
    }
    fhi_svg_text(m->svg, x + CELL / 2.0, y + 8.0 + ROW, FHI_MIDDLE, (fhi_font){FHI_SMALL, thin, FHI_INK}, text);
  }
  y += 2.0 * ROW + 3.0;
  fhi_svg_line(m->svg, FHI_MARGIN, y, FHI_MARGIN + m->names + m->lose->stages->count * CELL, y, (fhi_pen){FHI_INK, 0.8, NULL, NULL});
  return y + 1.0;
}

static double say(const matrix *m, double y, fhi_font font, const char *text) {
  return fhi_svg_paragraph(m->svg, FHI_MARGIN, y + 1.25 * font.size, m->width - 2.0 * FHI_MARGIN, font, text, 6) + 2.0;
}

// Elements with which nothing ever falls make no row.
static double say_harmless(const matrix *m, double y) {
  char name[FHI_SVG_TEXT];
  char text[2 * FHI_SVG_TEXT];
  (void)fhi_copy(text, sizeof text, fhi_say(m->svg->language, "Nothing falls at any step when one of these lets go:"));
  int count = 0;
  for (int e = 0; e < m->lose->element_count; e++) {
    size_t used = strlen(text);
    if (ever_there(m->lose, e) && !ever_bears(m->lose, e) && used + FH_ELEMENT + 4 < sizeof text) {
      (void)fhi_format(text + used, sizeof text - used, "%s %s", count++ > 0 ? ";" : "", fhi_name_said(name, sizeof name, m->svg->language, m->lose->elements[e].name));
    }
  }
  return count > 0 ? say(m, y, fhi_font_small(), text) : y;
}

static double say_stages(const matrix *m, double y) {
  char name[FHI_SVG_TEXT];
  y = say(m, y + 4.0, fhi_font_bold(), fhi_say(m->svg->language, "Steps, and what holds the load at each"));
  for (int s = 0; s < m->lose->stages->count; s++) {
    const fh_stage *stage = &m->lose->stages->stages[s];
    char text[2 * FHI_SVG_TEXT];
    bool thin = stage->holds <= 1 && stage->depth > 0.0;
    (void)fhi_format(text, sizeof text, "%d  %s: ", stage->step, fhi_name_said(name, sizeof name, m->svg->language, stage->name));
    if (stage->holds == 1 && thin) {
      (void)fhi_format(text + strlen(text), sizeof text - strlen(text), fhi_say(m->svg->language, "hangs on one thing alone, "));
    }
    for (int k = 0; k < stage->holds && k < FH_MAX_HOLDS; k++) {
      size_t used = strlen(text);
      (void)fhi_format(text + used, sizeof text - used, "%s%s", k > 0 ? "; " : "", fhi_name_said(name, sizeof name, m->svg->language, stage->hold[k]));
    }
    if (stage->holds == 0) {
      size_t used = strlen(text);
      (void)fhi_format(text + used, sizeof text - used, "%s", thin ? fhi_say(m->svg->language, "nothing holds it") : fhi_say(m->svg->language, "on the surface"));
    }
    y = say(m, y, (fhi_font){FHI_SMALL, thin, FHI_INK}, text);
  }
  return y;
}

static double draw_all(const matrix *m, double y) {
  y = draw_heads(m, y);
  for (int e = 0; e < m->lose->element_count; e++) {
    if (ever_bears(m->lose, e)) {
      draw_row(m, y, e);
      y += ROW;
    }
  }
  y = say(m, y + 3.0, fhi_font_small(),
          m->units == FH_IMPERIAL
              ? fhi_say(m->svg->language, "Number: drop in feet, rounded up. !: the catch may exceed a limit. lost: nothing catches. Dot: nothing falls. Blank: not in place.")
              : fhi_say(m->svg->language, "Number: drop in metres, rounded up. !: the catch may exceed a limit. lost: nothing catches. Dot: nothing falls. Blank: not in place."));
  y = say_harmless(m, y);
  return say_stages(m, y);
}

static int lost_cells(const fh_lose *lose) {
  int count = 0;
  for (int i = 0; i < lose->stages->count * lose->element_count; i++) {
    count += lose->losses[i].there && lose->losses[i].bears && !lose->losses[i].caught ? 1 : 0;
  }
  return count;
}

fh_status fh_draw_lose(const fh_scene *scene, const fh_lose *lose, fh_units units, fh_out out) {
  if (scene == NULL || lose == NULL || lose->stages == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  matrix m = {.lose = lose, .units = units};
  for (int e = 0; e < lose->element_count; e++) {
    char name[FHI_SVG_TEXT];
    m.names = fmax(m.names, fhi_text_width(fhi_name_said(name, sizeof name, scene->language, lose->elements[e].name), FHI_SMALL, false) + 6.0);
  }
  m.names = fmax(70.0, fmin(m.names, MOST_NAME));
  m.width = fmax(FHI_PAGE, ceil(2.0 * FHI_MARGIN + m.names + lose->stages->count * CELL));
  fh_status status = fhi_svg_create(m.width, scene->language, &m.svg);
  if (status != FH_OK) {
    return status;
  }
  char about[FHI_SVG_TEXT];
  double y = fhi_draw_header(m.svg, scene->title, fhi_say(scene->language, "What if one thing lets go? Farthest drop of the load, step by step."));
  if (lose->element_count > 0 && lose->stages->count > 0) {
    y = draw_all(&m, y);
    (void)fhi_format(about, sizeof about, fhi_say(scene->language, "Matrix of %d steps and %d elements. In %d cells nothing catches the load."), lose->stages->count, lose->element_count,
                     lost_cells(lose));
  } else {
    (void)fhi_format(about, sizeof about, fhi_say(scene->language, "No answer: %s"), lose->why);
    y = say(&m, y, fhi_font_bold(), about);
  }
  y = fhi_draw_footer(m.svg, y + 5.0);
  return fhi_draw_end(m.svg, y, scene->title, about, out);
}
