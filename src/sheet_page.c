// SPDX-License-Identifier: MIT
// Where does each step stand, and what does a page look like? Blocks flow down columns as wide as an A6 card: one column
// on A6, two on A4. A block is never cut unless it is taller than a card; then its words go on in the next column.
#include <math.h>
#include <string.h>

#include "memory.h"
#include "report.h"
#include "sheet.h"
#include "words.h"

typedef struct paper {
  double width, height;  // [pt] of the page
  int columns;
  double scale;          // [1] of a column: printers need a margin, which a card has inside
  double left, top;      // [pt] of the first column
  double tall;           // [pt] of a column, in its own scale
} paper;

// ISO 216: A6 is 105 by 148 mm, A4 is 210 by 297 mm; a point is 1/72 inch. Whole points here; the PDF has the exact size.
static const paper PAPERS[] = {
    [FH_PAPER_A6] = {298.0, 420.0, 1, 1.0, 0.0, 20.0, 363.0},
    [FH_PAPER_A4] = {595.0, 842.0, 2, 0.95, 14.4, 34.0, 816.0},
};
static const double POINT = 72.0 / 25.4;  // [pt/mm]
static const double BETWEEN = 9.0;        // [pt] from block to block
static const double BOX = 6.0;            // [pt] to tick
static const double SIZES[] = {9.0, 8.5, 8.0};  // [pt] of the words: the largest that fits

static const paper *paper_of(const fh_sheet *sheet) {
  return &PAPERS[sheet->paper];
}

void fh_sheet_size(const fh_sheet *sheet, double *width, double *height) {
  bool small = sheet->paper == FH_PAPER_A6;
  *width = (small ? 105.0 : 210.0) * POINT;
  *height = (small ? 148.0 : 297.0) * POINT;
}

// ---------------------------------------------------------------------------------------------------- a block

typedef struct pen_at {
  fhi_svg *svg;
  double x, y, room;  // [pt] left, lowest ink so far, width
  double size;        // [pt] of the letters
} pen_at;

static fhi_font voice_font(fhi_sheet_voice voice, double size) {
  switch (voice) {
    case FHI_VOICE_STRONG:
    case FHI_VOICE_WARN: return (fhi_font){size, true, FHI_INK};
    case FHI_VOICE_SOURCE: return (fhi_font){FHI_SMALL, false, FHI_SOFT};
    case FHI_VOICE_PLAIN:
    case FHI_VOICE_ITEM: break;
  }
  return (fhi_font){size, false, FHI_INK};
}

// A paragraph, its lead word underlined.
static void write_words(pen_at *p, const fhi_sheet_words *w) {
  fhi_font font = voice_font(w->voice, p->size);
  double x = p->x;
  double room = p->room;
  double first = p->y + 1.25 * font.size;
  bool framed = w->voice == FHI_VOICE_WARN;
  if (w->voice == FHI_VOICE_ITEM) {
    fhi_svg_rect(p->svg, (fhi_box){x + 0.5, first - BOX, BOX, BOX}, 0.0, (fhi_pen){FHI_INK, 0.8, NULL, NULL});
    x += BOX + 4.0;
    room -= BOX + 4.0;
  }
  if (framed) {
    x += 4.0;
    room -= 8.0;
    first += 2.0;
  }
  char text[FHI_SHEET_TEXT + 24];
  (void)fhi_format(text, sizeof text, "%s%s%s", w->lead, w->lead[0] != '\0' ? ": " : "", w->text);
  double last = fhi_svg_paragraph(p->svg, x, first, room, font, text, 40);
  if (w->lead[0] != '\0' && !font.bold) {
    double wide = fhi_text_width(w->lead, font.size, false);
    fhi_svg_line(p->svg, x, first + 1.8, x + wide, first + 1.8, (fhi_pen){FHI_INK, 0.8, NULL, NULL});
  }
  if (framed) {
    fhi_svg_rect(p->svg, (fhi_box){p->x, first - 1.05 * font.size, p->room, last - first + 1.45 * font.size}, 2.0, (fhi_pen){FHI_INK, 1.2, NULL, NULL});
    last += 3.0;
  }
  p->y = last + 2.6;
}

static double write_heading(fhi_svg *svg, double y, const char *heading, bool again) {
  char text[FHI_SHEET_HEADING + 24];
  (void)fhi_format(text, sizeof text, "%s%s", heading, again ? fhi_say(svg->language, " (continued)") : "");
  fhi_svg_line(svg, FHI_MARGIN, y, FHI_PAGE - FHI_MARGIN, y, (fhi_pen){FHI_INK, 1.2, NULL, NULL});
  return fhi_svg_paragraph(svg, FHI_MARGIN, y + 11.0, FHI_PAGE - 2.0 * FHI_MARGIN, (fhi_font){10.5, true, FHI_INK}, text, 2) + 2.5;
}

// The whole on the left, the first words beside it, the surface below both.
static double write_figures(fhi_svg *svg, double y, const fhi_sheet_block *b, double size, int *told) {
  if (b->side.text != NULL) {
    pen_at beside = {svg, FHI_MARGIN + b->side.width + 6.0, y, FHI_PAGE - 2.0 * FHI_MARGIN - b->side.width - 6.0, size};
    fhi_svg_embed(svg, b->side.text, b->side.used, FHI_MARGIN, y + 2.0, 1.0);
    while (*told < b->count && (*told == 0 || beside.y < y + b->side.height - 40.0)) {
      write_words(&beside, &b->words[(*told)++]);
    }
    y = fmax(y + b->side.height + 2.0, beside.y);
  }
  if (b->wide.text != NULL) {
    fhi_svg_embed(svg, b->wide.text, b->wide.used, 0.0, y, 1.0);
    y += b->wide.height;
  }
  return y;
}

// Writes a block from its paragraph `from` on, as far as the column reaches. @return the first paragraph that is left
static int write_block(fhi_svg *svg, const fhi_sheet_block *b, double size, double *y, int from, double bottom) {
  int told = from;
  *y = write_heading(svg, *y, b->heading, from > 0);
  if (from == 0) {
    *y = write_figures(svg, *y, b, size, &told);
  }
  int begin = told;
  while (told < b->count) {
    pen_at p = {svg, FHI_MARGIN, *y, FHI_PAGE - 2.0 * FHI_MARGIN, size};
    bool was_dry = svg->dry;
    svg->dry = true;
    write_words(&p, &b->words[told]);
    svg->dry = was_dry;
    if (p.y > bottom && (told > begin || from == 0)) {
      break;
    }
    p.y = *y;
    write_words(&p, &b->words[told++]);
    *y = p.y;
  }
  return told;
}

// ---------------------------------------------------------------------------------------------------- placing

typedef struct flow {
  fh_sheet *sheet;
  const paper *paper;
  fhi_svg *svg;
  double y;
  int page, column;
  double size;  // [pt] of the letters of the block at hand
} flow;

static void next_column(flow *f) {
  f->y = 0.0;
  f->column++;
  if (f->column == f->paper->columns) {
    f->column = 0;
    f->page++;
  }
}

// The largest letters with which the block fits on one card; the smallest when none do. @return [pt] its height
static double measure(flow *f, const fhi_sheet_block *b) {
  double y = 0.0;
  for (size_t i = 0; i < sizeof SIZES / sizeof SIZES[0]; i++) {
    f->size = SIZES[i];
    y = 0.0;
    (void)write_block(f->svg, b, f->size, &y, 0, HUGE_VAL);
    if (y <= PAPERS[FH_PAPER_A6].tall) {
      break;
    }
  }
  return y;
}

static void keep(flow *f, int block, int from) {
  fh_sheet *sheet = f->sheet;
  if (sheet->piece_count == sheet->piece_room) {
    int room = sheet->piece_room == 0 ? 32 : 2 * sheet->piece_room;
    fhi_sheet_piece *grown = fhi_realloc(sheet->pieces, (size_t)room, sizeof *grown);
    if (grown == NULL) {
      sheet->status = FH_ERR_MEMORY;
      return;
    }
    sheet->pieces = grown;
    sheet->piece_room = room;
  }
  sheet->pieces[sheet->piece_count++] = (fhi_sheet_piece){block, from, f->page, f->column, f->y, f->size};
}

static void place_block(flow *f, int block) {
  const fhi_sheet_block *b = &f->sheet->blocks[block];
  double y = measure(f, b);
  if (f->y > 0.0 && (b->opens || f->y + y > f->paper->tall)) {
    next_column(f);
  }
  // A column takes at least one paragraph, so this ends.
  for (int from = 0; f->sheet->status == FH_OK;) {
    keep(f, block, from);
    y = f->y;
    from = write_block(f->svg, b, f->size, &y, from, f->paper->tall);
    f->y = y + BETWEEN;
    if (from >= b->count) {
      return;
    }
    next_column(f);
  }
}

int fhi_sheet_place(fh_sheet *sheet) {
  flow f = {.sheet = sheet, .paper = paper_of(sheet)};
  fh_status status = fhi_svg_create(FHI_PAGE, sheet->language, &f.svg);
  if (status != FH_OK) {
    sheet->status = status;
    return 0;
  }
  f.svg->dry = true;
  for (int i = 0; i < sheet->count && sheet->status == FH_OK; i++) {
    place_block(&f, i);
  }
  fhi_svg_destroy(f.svg);
  return f.page + 1;
}

// ---------------------------------------------------------------------------------------------------- a page

// Title and page above; the caution below, on every card: it may be the only one that is at hand.
static void draw_frame(const fh_sheet *sheet, const paper *p, fhi_svg *svg, int page) {
  char number[64];
  char title[FHI_SVG_TEXT];
  double edge = p->left + FHI_MARGIN * p->scale;
  double room = p->width - 2.0 * edge;
  double above = p->top - 8.0;
  (void)fhi_format(number, sizeof number, fhi_say(sheet->language, "%d of %d"), page + 1, sheet->pages);
  fhi_font font = {FHI_SMALL, true, FHI_INK};
  double wide = fhi_text_width(number, font.size, true);
  char clean[FHI_SVG_TEXT];
  fhi_text_clean(clean, sizeof clean, sheet->title[0] != '\0' ? sheet->title : fhi_say(sheet->language, "Raising rig"));
  fhi_svg_text(svg, edge, above, FHI_START, font, fhi_text_fit(title, sizeof title, clean, font, room - wide - 10.0));
  fhi_svg_text(svg, p->width - edge, above, FHI_END, font, number);
  (void)fhi_svg_paragraph(svg, edge, p->top + p->tall * p->scale + 7.5, room, fhi_font_small(), fhi_say(sheet->language, FHI_CAUTION), 4);
}

static fh_status draw_column(const fh_sheet *sheet, fhi_svg *svg, int page, int column) {
  const paper *p = paper_of(sheet);
  fhi_svg *inside = NULL;
  fh_status status = fhi_svg_create(FHI_PAGE, sheet->language, &inside);
  if (status != FH_OK) {
    return status;
  }
  for (int i = 0; i < sheet->piece_count; i++) {
    const fhi_sheet_piece *piece = &sheet->pieces[i];
    if (piece->page == page && piece->column == column) {
      double y = piece->y;
      (void)write_block(inside, &sheet->blocks[piece->block], piece->size, &y, piece->from, p->tall);
    }
  }
  fhi_svg_embed(svg, inside->text, inside->used, p->left + column * FHI_PAGE * p->scale, p->top, p->scale);
  status = inside->status;
  fhi_svg_destroy(inside);
  return status;
}

fh_status fh_sheet_write_page(const fh_sheet *sheet, int page, fh_out out) {
  if (sheet == NULL || out.write == NULL || page < 0 || page >= sheet->pages) {
    return FH_ERR_ARG;
  }
  const paper *p = paper_of(sheet);
  fhi_svg *svg = NULL;
  fh_status status = fhi_svg_create(p->width, sheet->language, &svg);
  if (status != FH_OK) {
    return status;
  }
  draw_frame(sheet, p, svg, page);
  for (int c = 0; c < p->columns && status == FH_OK; c++) {
    status = draw_column(sheet, svg, page, c);
  }
  if (status == FH_OK) {
    char about[64];
    (void)fhi_format(about, sizeof about, fhi_say(sheet->language, "Build sheet, page %d of %d."), page + 1, sheet->pages);
    status = fhi_svg_end(svg, p->height, sheet->title[0] != '\0' ? sheet->title : fhi_say(sheet->language, "Raising rig"), about, out);
  }
  fhi_svg_destroy(svg);
  return status;
}
