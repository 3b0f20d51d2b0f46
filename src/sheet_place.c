// SPDX-License-Identifier: MIT
// Where does each block stand? Blocks flow down columns, one on A6, two on A4; there a step takes the whole width, its figure
// at the left. A block is never cut unless it is taller than a card; then its words go on in the next column.
#include <math.h>

#include "memory.h"
#include "sheet.h"

// ISO 216: A6 is 105 by 148 mm, A4 is 210 by 297 mm; a point is 1/72 inch. Whole points here; the PDF has the exact size.
static const fhi_sheet_paper PAPERS[] = {
    [FH_PAPER_A6] = {298.0, 420.0, 1, 8.0, 282.0, 0.0, 20.0, 383.0, 7.5, {9.0, 8.5, 8.0}},
    [FH_PAPER_A4] = {595.0, 842.0, 2, 24.0, 266.0, 15.0, 34.0, 804.0, 9.0, {9.0, 9.0, 9.0}},
};
static const double POINT = 72.0 / 25.4;  // [pt/mm]
static const double BETWEEN = 9.0;        // [pt] from block to block

const fhi_sheet_paper *fhi_sheet_paper_of(const fh_sheet *sheet) {
  return &PAPERS[sheet->paper];
}

void fh_sheet_size(const fh_sheet *sheet, double *width, double *height) {
  bool small = sheet->paper == FH_PAPER_A6;
  *width = (small ? 105.0 : 210.0) * POINT;
  *height = (small ? 148.0 : 297.0) * POINT;
}

typedef struct flow {
  fh_sheet *sheet;
  const fhi_sheet_paper *paper;
  fhi_svg *svg;
  double y;
  int page, column;
} flow;

static void next_page(flow *f) {
  f->y = f->paper->top;
  f->column = 0;
  f->page++;
}

static void next_column(flow *f) {
  f->y = f->paper->top;
  f->column++;
  if (f->column == f->paper->columns) {
    next_page(f);
  }
}

static fhi_sheet_cell column_of(const flow *f, double size) {
  const fhi_sheet_paper *p = f->paper;
  return (fhi_sheet_cell){p->left + f->column * (p->width_of + p->between), p->width_of, size, p->source};
}

// The largest letters with which the block fits in a column; the smallest when none do. @return [pt] its height
static double measure(const flow *f, const fhi_sheet_block *b, double *size) {
  double y = 0.0;
  for (size_t i = 0; i < sizeof f->paper->sizes / sizeof f->paper->sizes[0]; i++) {
    fhi_sheet_cell cell = column_of(f, f->paper->sizes[i]);
    *size = f->paper->sizes[i];
    y = 0.0;
    (void)fhi_sheet_write_block(f->svg, &cell, b, &y, 0, HUGE_VAL);
    if (y <= f->paper->bottom - f->paper->top) {
      break;
    }
  }
  return y;
}

static void keep(flow *f, int block, int from, fhi_sheet_form form, fhi_sheet_cell cell) {
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
  sheet->pieces[sheet->piece_count++] = (fhi_sheet_piece){block, from, f->page, form, cell, f->y};
}

static void place_block(flow *f, int block) {
  const fhi_sheet_block *b = &f->sheet->blocks[block];
  double size = 0.0;
  double y = measure(f, b, &size);
  if (f->y > f->paper->top && f->y + y > f->paper->bottom) {
    next_column(f);
  }
  // A column takes at least one paragraph, so this ends.
  for (int from = 0; f->sheet->status == FH_OK;) {
    fhi_sheet_cell cell = column_of(f, size);
    keep(f, block, from, FHI_FORM_COLUMN, cell);
    y = f->y;
    from = fhi_sheet_write_block(f->svg, &cell, b, &y, from, f->paper->bottom);
    f->y = y + BETWEEN;
    if (from >= b->count) {
      return;
    }
    next_column(f);
  }
}

// A step on a wide page. One that is taller than a page does not occur: its figure and words are bounded.
static void place_band(flow *f, int block) {
  const fhi_sheet_paper *p = f->paper;
  fhi_sheet_cell cell = {p->left, p->columns * p->width_of + (p->columns - 1) * p->between, p->sizes[2], p->source};
  double y = fhi_sheet_write_band(f->svg, &cell, f->y, &f->sheet->blocks[block]);
  if (f->y > p->top && y > p->bottom) {
    next_page(f);
    y = fhi_sheet_write_band(f->svg, &cell, f->y, &f->sheet->blocks[block]);
  }
  keep(f, block, 0, FHI_FORM_BAND, cell);
  f->y = y + BETWEEN;
}

static bool is_step(const fhi_sheet_block *b) {
  return b->step > 0 || b->follows;
}

// The card, then all cards of words, then the steps.
static void place_wide(flow *f) {
  fh_sheet *sheet = f->sheet;
  for (int i = 0; i < sheet->count && sheet->status == FH_OK; i++) {
    if (sheet->blocks[i].card) {
      keep(f, i, 0, FHI_FORM_CARD, (fhi_sheet_cell){0.0, 0.0, 0.0, 0.0});
      next_page(f);
    }
  }
  for (int i = 0; i < sheet->count && sheet->status == FH_OK; i++) {
    if (!sheet->blocks[i].card && !is_step(&sheet->blocks[i])) {
      place_block(f, i);
    }
  }
  if (f->y > f->paper->top || f->column > 0) {
    next_page(f);
  }
  for (int i = 0; i < sheet->count && sheet->status == FH_OK; i++) {
    if (is_step(&sheet->blocks[i])) {
      place_band(f, i);
    }
  }
}

int fhi_sheet_place(fh_sheet *sheet) {
  flow f = {.sheet = sheet, .paper = fhi_sheet_paper_of(sheet)};
  fh_status status = fhi_svg_create(f.paper->width, sheet->language, &f.svg);
  if (status != FH_OK) {
    sheet->status = status;
    return 0;
  }
  f.svg->dry = true;
  f.y = f.paper->top;
  if (f.paper->columns > 1) {
    place_wide(&f);
  } else {
    for (int i = 0; i < sheet->count && sheet->status == FH_OK; i++) {
      place_block(&f, i);
    }
  }
  fhi_svg_destroy(f.svg);
  return f.page + 1;
}
