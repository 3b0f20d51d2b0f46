// SPDX-License-Identifier: MIT
// The sheet as one HTML file, and as plain text. No script, no font and no picture from elsewhere: it works offline, and
// prints. The figures are the very ones of the cards.
#include "report.h"
#include "sheet.h"
#include "words.h"

static const char STYLE[] =
    "body{font:16px/1.4 sans-serif;color:#16202a;background:#fff;max-width:46em;margin:0 auto;padding:.8em}\n"
    "section{border-top:2px solid #16202a;margin:1.2em 0;page-break-inside:avoid;break-inside:avoid}\n"
    "h1{font-size:1.4em}h2{font-size:1.1em;margin:.4em 0}p{margin:.4em 0}\n"
    "svg{max-width:100%;height:auto;display:block}.side{float:left;margin-right:.8em}.wide{clear:both}\n"
    ".strong{font-weight:bold}.warn{font-weight:bold;border:2px solid #16202a;padding:.3em}.source{font-size:.85em;color:#47535f}\n"
    ".item::before{content:\"\\2610\\00a0\"}.caution{border:2px solid #16202a;padding:.4em}\n";

static void put_number(fhi_writer *w, double value) {
  char text[40];
  fhi_put(w, fhi_fixed(text, sizeof text, value, 1));
}

static void put_figure(fhi_writer *w, const fhi_sheet_figure *f, const char *kind, const char *what, double times) {
  if (f->text == NULL) {
    return;
  }
  fhi_putf(w, "<svg class=\"%s\" xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"", kind);
  fhi_put_xml_text(w, what);
  fhi_put(w, "\" width=\"");
  put_number(w, f->width * times);
  fhi_put(w, "\" height=\"");
  put_number(w, f->height * times);
  fhi_put(w, "\" viewBox=\"0 0 ");
  put_number(w, f->width);
  fhi_put(w, " ");
  put_number(w, f->height);
  fhi_put(w, "\" font-family=\"'DejaVu Sans', sans-serif\">\n");
  fhi_put_bytes(w, f->text, f->used);
  fhi_put(w, "</svg>\n");
}

// With a no-break space between number and unit: the reader's own window breaks the lines.
static void put_tied(fhi_writer *w, const char *text) {
  char part[FHI_SHEET_TEXT];
  for (const char *at = text; *at != '\0';) {
    const char *end = at + 1;
    while (*end != '\0' && !fhi_is_tied(text, end)) {
      end++;
    }
    (void)fhi_format(part, sizeof part, "%.*s%s", (int)(end - at), at, *end != '\0' ? "\xC2\xA0" : "");
    fhi_put_xml_text(w, part);
    at = *end != '\0' ? end + 1 : end;
  }
}

static void put_words(fhi_writer *w, const fhi_sheet_words *words) {
  static const char *const CLASSES[] = {"plain", "strong", "item", "warn", "source", "fact", "action"};
  char clean[FHI_SHEET_TEXT];
  fhi_putf(w, "<p class=\"%s\">", CLASSES[words->voice]);
  if (words->lead[0] != '\0') {
    fhi_put(w, "<b>");
    fhi_put_xml_text(w, words->lead);
    fhi_put(w, ":</b> ");
  }
  put_tied(w, fhi_text_clean(clean, sizeof clean, words->text));
  fhi_put(w, "</p>\n");
}

static void put_block(fhi_writer *w, const fhi_sheet_block *b, fh_language language) {
  char clean[FHI_SHEET_TEXT];
  char what[FHI_SHEET_TEXT];
  fhi_put(w, "<section>\n<h2>");
  fhi_put_xml_text(w, fhi_text_clean(clean, sizeof clean, b->heading));
  fhi_put(w, "</h2>\n");
  (void)fhi_format(what, sizeof what, fhi_say(language, "The whole after step %d, to scale"), b->step);
  if (b->show_side) {
    put_figure(w, &b->side, "side", what, 1.8);
  }
  for (int i = 0; i < b->count; i++) {
    put_words(w, &b->words[i]);
  }
  (void)fhi_format(what, sizeof what, fhi_say(language, "The surface near the lip after step %d, to scale"), b->step);
  if (b->show_wide) {
    put_figure(w, &b->wide, "wide", what, 2.2);
  }
  fhi_put(w, "</section>\n");
}

fh_status fh_sheet_write_html(const fh_sheet *sheet, fh_out out) {
  if (sheet == NULL || out.write == NULL || fh_sheet_refused(sheet)) {
    return FH_ERR_ARG;
  }
  char clean[FHI_SVG_TEXT];
  const char *title = fhi_text_clean(clean, sizeof clean, sheet->title[0] != '\0' ? sheet->title : fhi_say(sheet->language, "Raising rig"));
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "<!DOCTYPE html>\n<html lang=\"");
  fhi_put(&w, fh_language_code(sheet->language));
  fhi_put(&w, "\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
  fhi_put_xml_text(&w, title);
  fhi_put(&w, "</title>\n<style>\n");
  fhi_put(&w, STYLE);
  fhi_put(&w, "</style>\n</head>\n<body>\n<h1>");
  fhi_put_xml_text(&w, title);
  fhi_put(&w, "</h1>\n<p class=\"caution\">");
  fhi_put(&w, fhi_say(sheet->language, FHI_CAUTION));
  fhi_put(&w, "</p>\n");
  for (int i = 0; i < sheet->count; i++) {
    put_block(&w, &sheet->blocks[i], sheet->language);
  }
  fhi_put(&w, "<p class=\"caution\">");
  fhi_put(&w, fhi_say(sheet->language, FHI_CAUTION));
  fhi_put(&w, "</p>\n</body>\n</html>\n");
  return fhi_writer_end(&w);
}

fh_status fh_sheet_write_text(const fh_sheet *sheet, fh_out out) {
  static const char *const MARKS[] = {"", "", "[ ] ", "!! ", "", "", ""};
  if (sheet == NULL || out.write == NULL || fh_sheet_refused(sheet)) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  for (int i = 0; i < sheet->count; i++) {
    const fhi_sheet_block *b = &sheet->blocks[i];
    fhi_putf(&w, "%s%s\n", i > 0 ? "\n" : "", b->heading);
    for (int k = 0; k < b->count; k++) {
      const fhi_sheet_words *words = &b->words[k];
      fhi_putf(&w, "  %s%s%s%s\n", MARKS[words->voice], words->lead, words->lead[0] != '\0' ? ": " : "", words->text);
    }
  }
  return fhi_writer_end(&w);
}
