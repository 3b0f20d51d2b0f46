// SPDX-License-Identifier: MIT
// The card as one A4 page: the figure as large as the words leave room for, the actions at the left, cautions and the person
// at the right. Letters are never below 9 pt.
#include <math.h>

#include "sheet.h"
#include "words.h"

static const double LEFT = 24.0, WIDTH = 547.0;   // [pt] of what is printed
static const double SIDE = 175.0, APART = 14.0;   // [pt] the right column, and what parts it from the left one
static const double TOP = 34.0;                   // [pt]
static const double LARGE = 1.2;                  // [1] the least letters of a figure are then 9 pt

typedef struct card {
  const fh_sheet *sheet;
  const fhi_sheet_block *block;
  fhi_svg *svg;
  double size;    // [pt] of the letters
  double figure;  // [1] scale of the surface
} card;

static double write_head(const card *c) {
  const fhi_sheet_figure *side = &c->block->side;
  double shown = side->text != NULL ? LARGE * side->width : 0.0;
  double room = WIDTH - shown - APART;
  double y = fhi_svg_paragraph(c->svg, LEFT, TOP + 16.0, room, (fhi_font){19.0, true, FHI_INK}, c->block->heading, 2);
  y += 15.0;
  fhi_draw_blank(c->svg, LEFT, y, room, 9.0);
  fhi_sheet_cell words = {LEFT, room, fmin(c->size, 10.0), 9.0};
  y += 3.0;
  for (int i = 0; i < c->block->count; i++) {
    if (c->block->words[i].voice == FHI_VOICE_PLAIN) {
      y = fhi_sheet_write_words(c->svg, &words, y, &c->block->words[i]);
    }
  }
  if (side->text != NULL) {
    fhi_svg_embed(c->svg, side->text, side->used, LEFT + WIDTH - shown, TOP + 2.0, LARGE);
    y = fmax(y, TOP + 2.0 + LARGE * side->height - 62.0);  // the figures below stand beside the depth of the hole
  }
  return y;
}

// Name above, figure below, three in a row.
static double write_facts(const card *c, double y) {
  double room = WIDTH - LARGE * c->block->side.width - APART;
  double cell = room / 3.0;
  double low = y;
  int n = 0;
  for (int i = 0; i < c->block->count; i++) {
    const fhi_sheet_words *w = &c->block->words[i];
    if (w->voice != FHI_VOICE_FACT) {
      continue;
    }
    double x = LEFT + n % 3 * cell;
    y = n % 3 == 0 ? low : y;
    fhi_svg_text(c->svg, x, y + 10.0, FHI_START, (fhi_font){9.0, false, FHI_SOFT}, w->lead);
    low = fmax(low, fhi_svg_paragraph(c->svg, x, y + 21.5, cell - 8.0, (fhi_font){10.5, true, FHI_INK}, w->text, 3) + 3.0);
    n++;
  }
  return fmax(low, TOP + 4.0 + LARGE * c->block->side.height);
}

static double write_actions(const card *c, double y, double width) {
  fhi_sheet_cell cell = {LEFT, width, c->size, 9.0};
  for (int i = 0; i < c->block->count; i++) {
    if (c->block->words[i].voice == FHI_VOICE_ACTION) {
      y = fhi_sheet_write_words(c->svg, &cell, y, &c->block->words[i]) + 1.0;
    }
  }
  return y;
}

static double write_cautions(const card *c, double y) {
  fhi_sheet_cell cell = {LEFT + WIDTH - SIDE, SIDE, fmin(c->size, 9.5), 9.0};
  for (int i = 0; i < c->block->count; i++) {
    fhi_sheet_voice voice = c->block->words[i].voice;
    if (voice == FHI_VOICE_WARN || voice == FHI_VOICE_STRONG || voice == FHI_VOICE_ITEM) {
      y = fhi_sheet_write_words(c->svg, &cell, y, &c->block->words[i]) + 2.0;
    }
  }
  return y;
}

// @return [pt] lowest ink
static double draw(const card *c) {
  const fhi_sheet_figure *f = &c->block->wide;
  double left = WIDTH - SIDE - APART;
  double y = write_facts(c, write_head(c));
  fhi_svg_line(c->svg, LEFT, y + 2.0, LEFT + WIDTH, y + 2.0, (fhi_pen){FHI_INK, 1.2, NULL, NULL});
  y += 6.0;
  double right = y;
  if (f->text != NULL) {
    bool across = c->figure * f->width > left;
    fhi_svg_embed(c->svg, f->text, f->used, across ? LEFT + (WIDTH - c->figure * f->width) / 2.0 : LEFT, y, c->figure);
    y += c->figure * f->height + 4.0;
    right = across ? y : right;
  }
  return fmax(write_actions(c, y, left), write_cautions(c, right));
}

void fhi_sheet_draw_card(const fh_sheet *sheet, const fhi_sheet_block *block, fhi_svg *svg, double bottom) {
  // From the largest on; the last one is drawn in any case.
  static const double TRIES[][2] = {{10.5, 1.83}, {10.5, 1.6}, {10.0, 1.6}, {10.5, 1.2}, {10.0, 1.2}, {9.5, 1.2}, {9.0, 1.2}};
  enum { COUNT = sizeof TRIES / sizeof TRIES[0] };
  card c = {.sheet = sheet, .block = block, .svg = svg};
  bool was_dry = svg->dry;
  for (int i = 0; i < COUNT; i++) {
    c.size = TRIES[i][0];
    c.figure = TRIES[i][1];
    svg->dry = true;
    double low = draw(&c);
    svg->dry = was_dry;
    if (low <= bottom) {
      break;
    }
  }
  (void)draw(&c);
}
