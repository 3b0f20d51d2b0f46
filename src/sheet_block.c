// SPDX-License-Identifier: MIT
// How does a block look? Paragraphs in their voices under a heading; figures above them in a narrow column, or at their left
// on a wide page.
#include <math.h>

#include "sheet.h"
#include "words.h"

static const double BOX = 6.0;       // [pt] to tick
static const double GUTTER = 17.0;   // [pt] for the number of an action
static const double LARGE = 1.2;     // [1] on a wide page: the least letters of a figure are then 9 pt
static const double NEARLY = 45.0;   // [pt] by so much may the words beside a figure be taller, when nothing is left under it then
static const double APART = 12.0;    // [pt] between two columns of one step

static fhi_font voice_font(const fhi_sheet_cell *c, fhi_sheet_voice voice) {
  switch (voice) {
  case FHI_VOICE_STRONG:
  case FHI_VOICE_WARN: return (fhi_font){c->size, true, FHI_INK};
  case FHI_VOICE_SOURCE: return (fhi_font){c->source, false, FHI_SOFT};
  case FHI_VOICE_PLAIN:
  case FHI_VOICE_FACT:
  case FHI_VOICE_ACTION:
  case FHI_VOICE_ITEM: break;
  }
  return (fhi_font){c->size, false, FHI_INK};
}

// A box to tick, or a number, before the words. @return [pt] what it takes of their room
static double write_mark(fhi_svg *svg, const fhi_sheet_cell *c, const fhi_sheet_words *w, double first) {
  if (w->voice == FHI_VOICE_ITEM) {
    fhi_svg_rect(svg, (fhi_box){c->x + 0.5, first - BOX, BOX, BOX}, 0.0, (fhi_pen){FHI_INK, 0.8, NULL, NULL});
    return BOX + 4.0;
  }
  if (w->voice == FHI_VOICE_ACTION) {
    fhi_svg_text(svg, c->x + GUTTER - 4.0, first, FHI_END, (fhi_font){c->size, true, FHI_INK}, w->lead);
    return GUTTER;
  }
  return 0.0;
}

double fhi_sheet_write_words(fhi_svg *svg, const fhi_sheet_cell *c, double y, const fhi_sheet_words *w) {
  fhi_font font = voice_font(c, w->voice);
  double first = y + 1.25 * font.size;
  bool framed = w->voice == FHI_VOICE_WARN;
  double in = framed ? 4.0 : write_mark(svg, c, w, first);
  first += framed ? 2.0 : 0.0;
  bool lead = w->lead[0] != '\0' && w->voice != FHI_VOICE_ACTION;
  char text[FHI_SHEET_TEXT + 40];
  (void)fhi_format(text, sizeof text, "%s%s%s", lead ? w->lead : "", lead ? ": " : "", w->text);
  double last = fhi_svg_paragraph(svg, c->x + in, first, c->width - in - (framed ? 4.0 : 0.0), font, text, 40);
  if (lead && !font.bold) {
    double wide = fhi_text_width(w->lead, font.size, false);
    fhi_svg_line(svg, c->x + in, first + 1.8, c->x + in + wide, first + 1.8, (fhi_pen){FHI_INK, 0.8, NULL, NULL});
  }
  if (framed) {
    fhi_svg_rect(svg, (fhi_box){c->x, first - 1.05 * font.size, c->width, last - first + 1.45 * font.size}, 2.0, (fhi_pen){FHI_INK, 1.2, NULL, NULL});
    last += 3.0;
  }
  return last + 2.6;
}

static double write_heading(fhi_svg *svg, const fhi_sheet_cell *c, double y, const char *heading, bool again) {
  char text[FHI_SHEET_HEADING + 24];
  (void)fhi_format(text, sizeof text, "%s%s", heading, again ? fhi_say(svg->language, " (continued)") : "");
  fhi_svg_line(svg, c->x, y, c->x + c->width, y, (fhi_pen){FHI_INK, 1.2, NULL, NULL});
  return fhi_svg_paragraph(svg, c->x, y + 11.0, c->width, (fhi_font){10.5, true, FHI_INK}, text, 2) + 2.5;
}

// ---------------------------------------------------------------------------------------------------- one column

// The whole on the left, the first words beside it, the surface below both.
static double write_figures(fhi_svg *svg, const fhi_sheet_cell *c, double y, const fhi_sheet_block *b, int *told) {
  if (b->side.text != NULL && b->show_side) {
    fhi_sheet_cell beside = {c->x + b->side.width + 6.0, c->width - b->side.width - 6.0, c->size, c->source};
    double low = y;
    fhi_svg_embed(svg, b->side.text, b->side.used, c->x, y + 2.0, 1.0);
    while (*told < b->count && (*told == 0 || low < y + b->side.height - 40.0)) {
      low = fhi_sheet_write_words(svg, &beside, low, &b->words[(*told)++]);
    }
    y = fmax(y + b->side.height + 2.0, low);
  }
  if (b->wide.text != NULL && b->show_wide) {
    fhi_svg_embed(svg, b->wide.text, b->wide.used, 0.0, y, 1.0);
    y += b->wide.height;
  }
  return y;
}

int fhi_sheet_write_block(fhi_svg *svg, const fhi_sheet_cell *c, const fhi_sheet_block *b, double *y, int from, double bottom) {
  int told = from;
  *y = write_heading(svg, c, *y, b->heading, from > 0);
  if (from == 0) {
    *y = write_figures(svg, c, *y, b, &told);
  }
  int begin = told;
  while (told < b->count) {
    bool was_dry = svg->dry;
    svg->dry = true;
    double low = fhi_sheet_write_words(svg, c, *y, &b->words[told]);
    svg->dry = was_dry;
    if (low > bottom && (told > begin || from == 0)) {
      break;
    }
    *y = fhi_sheet_write_words(svg, c, *y, &b->words[told++]);
  }
  return told;
}

// ---------------------------------------------------------------------------------------------------- a wide page

static bool ticks(const fhi_sheet_words *w) {
  return w->voice == FHI_VOICE_ITEM;
}

// What is left of the words in two halves: what to tick, and the rest. @return [pt] y below both
static double write_halves(fhi_svg *svg, const fhi_sheet_cell *c, double y, const fhi_sheet_block *b, int from) {
  double half = (c->width - APART) / 2.0;
  fhi_sheet_cell column[2] = {{c->x, half, c->size, c->source}, {c->x + half + APART, half, c->size, c->source}};
  double low[2] = {y, y};
  for (int i = from; i < b->count; i++) {
    int k = ticks(&b->words[i]) ? 1 : 0;
    low[k] = fhi_sheet_write_words(svg, &column[k], low[k], &b->words[i]);
  }
  return fmax(low[0], low[1]);
}

// The first words stand beside the figure as far as it reaches.
static double write_beside(fhi_svg *svg, const fhi_sheet_cell *c, double y, const fhi_sheet_block *b, int *told) {
  bool wide = b->wide.text != NULL && b->show_wide;
  const fhi_sheet_figure *f = wide ? &b->wide : &b->side;
  double taken = LARGE * f->width + APART;
  double end = y + LARGE * f->height;
  fhi_sheet_cell beside = {c->x + taken, c->width - taken, c->size, c->source};
  double low = y;
  fhi_svg_embed(svg, f->text, f->used, c->x, y, LARGE);
  if (wide && b->side.text != NULL && b->show_side) {
    fhi_svg_embed(svg, b->side.text, b->side.used, beside.x, y + 4.0, LARGE);
    low += LARGE * b->side.height + 4.0;
  }
  bool was_dry = svg->dry;
  double all = low;
  svg->dry = true;
  for (int i = 0; i < b->count; i++) {
    all = fhi_sheet_write_words(svg, &beside, all, &b->words[i]);
  }
  svg->dry = was_dry;
  end = all <= end + NEARLY ? fmax(end, all) : end;
  while (*told < b->count) {
    svg->dry = true;
    double next = fhi_sheet_write_words(svg, &beside, low, &b->words[*told]);
    svg->dry = was_dry;
    if (next > end) {
      break;
    }
    low = fhi_sheet_write_words(svg, &beside, low, &b->words[(*told)++]);
  }
  return fmax(end, low);
}

double fhi_sheet_write_band(fhi_svg *svg, const fhi_sheet_cell *c, double y, const fhi_sheet_block *b) {
  int told = 0;
  y = write_heading(svg, c, y, b->heading, false);
  if ((b->wide.text != NULL && b->show_wide) || (b->side.text != NULL && b->show_side)) {
    y = write_beside(svg, c, y, b, &told);
  }
  return write_halves(svg, c, y, b, told);
}

// ---------------------------------------------------------------------------------------------------- which figures

static bool same(const fhi_sheet_figure *a, const fhi_sheet_figure *b) {
  if (a->text == NULL || b->text == NULL || a->used != b->used) {
    return false;
  }
  for (size_t i = 0; i < a->used; i++) {
    if (a->text[i] != b->text[i]) {
      return false;
    }
  }
  return true;
}

// Something is ringed as new.
static bool has_ring(const fhi_sheet_figure *f) {
  static const char RING[] = "stroke=\"" FHI_WARN "\"";
  size_t n = sizeof RING - 1;
  for (size_t i = 0; f->text != NULL && i + n <= f->used; i++) {
    size_t k = 0;
    while (k < n && f->text[i + k] == RING[k]) {
      k++;
    }
    if (k == n) {
      return true;
    }
  }
  return false;
}

void fhi_sheet_choose_figures(fh_sheet *sheet) {
  for (int i = 0; i < sheet->count; i++) {
    fhi_sheet_block *b = &sheet->blocks[i];
    b->show_wide = b->wide.text != NULL;
    for (int k = 0; k < i && b->show_wide; k++) {
      b->show_wide = !(sheet->blocks[k].show_wide && same(&sheet->blocks[k].wide, &b->wide));
    }
    b->show_side = b->side.text != NULL && (b->card || has_ring(&b->side));
  }
}
