// SPDX-License-Identifier: MIT
// What does a page look like? Its blocks where they were placed; title and page above; the caution below, on every one.
#include "report.h"
#include "sheet.h"
#include "words.h"

static const char *title_of(const fh_sheet *sheet) {
  return sheet->title[0] != '\0' ? sheet->title : sheet->count > 0 && sheet->blocks[0].card ? sheet->blocks[0].heading : fhi_say(sheet->language, "Raising rig");
}

// The caution stands on every card: it may be the only one that is at hand.
static void draw_frame(const fh_sheet *sheet, const fhi_sheet_paper *p, fhi_svg *svg, int page) {
  char number[64];
  char title[FHI_SVG_TEXT];
  double room = p->width - 2.0 * p->left;
  double above = p->top - 8.0;
  (void)fhi_format(number, sizeof number, fhi_say(sheet->language, "%d of %d"), page + 1, sheet->pages);
  fhi_font font = {p->source, true, FHI_INK};
  double wide = fhi_text_width(number, font.size, true);
  char clean[FHI_SVG_TEXT];
  bool twice = page == 0 && sheet->title[0] == '\0';  // the card says it large
  fhi_text_clean(clean, sizeof clean, twice ? fhi_say(sheet->language, "Raising rig") : title_of(sheet));
  fhi_svg_text(svg, p->left, above, FHI_START, font, fhi_text_fit(title, sizeof title, clean, font, room - wide - 10.0));
  fhi_svg_text(svg, p->width - p->left, above, FHI_END, font, number);
  (void)fhi_svg_paragraph(svg, p->left, p->bottom + p->source, room, (fhi_font){p->source, false, FHI_SOFT}, fhi_say(sheet->language, FHI_CAUTION), 4);
}

static void draw_piece(const fh_sheet *sheet, const fhi_sheet_piece *piece, fhi_svg *svg) {
  const fhi_sheet_paper *p = fhi_sheet_paper_of(sheet);
  const fhi_sheet_block *block = &sheet->blocks[piece->block];
  double y = piece->y;
  switch (piece->form) {
  case FHI_FORM_COLUMN: (void)fhi_sheet_write_block(svg, &piece->cell, block, &y, piece->from, p->bottom); break;
  case FHI_FORM_BAND: (void)fhi_sheet_write_band(svg, &piece->cell, y, block); break;
  case FHI_FORM_CARD: fhi_sheet_draw_card(sheet, block, svg, p->bottom); break;
  }
}

fh_status fh_sheet_write_page(const fh_sheet *sheet, int page, fh_out out) {
  if (sheet == NULL || out.write == NULL || page < 0 || page >= sheet->pages) {
    return FH_ERR_ARG;
  }
  const fhi_sheet_paper *p = fhi_sheet_paper_of(sheet);
  fhi_svg *svg = NULL;
  fh_status status = fhi_svg_create(p->width, sheet->language, &svg);
  if (status != FH_OK) {
    return status;
  }
  draw_frame(sheet, p, svg, page);
  for (int i = 0; i < sheet->piece_count; i++) {
    if (sheet->pieces[i].page == page) {
      draw_piece(sheet, &sheet->pieces[i], svg);
    }
  }
  char about[64];
  (void)fhi_format(about, sizeof about, fhi_say(sheet->language, "Build sheet, page %d of %d."), page + 1, sheet->pages);
  status = fhi_svg_end(svg, p->height, title_of(sheet), about, out);
  fhi_svg_destroy(svg);
  return status;
}
