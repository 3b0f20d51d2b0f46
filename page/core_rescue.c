// SPDX-License-Identifier: MIT
// The raise in time, what lets go, and the build sheet, for the page. Each is worked out once a scene, when it is first asked for.
#include <math.h>
#include <string.h>

#include "core.h"
#include "sheet.h"
#include "words.h"

void page_forget_rescue(page_state *p) {
  fh_haul_destroy(p->haul);
  fh_lose_destroy(p->lose);
  fh_sheet_destroy(p->sheet);
  p->haul = NULL;
  p->lose = NULL;
  p->sheet = NULL;
}

static fh_status need_sheet(page_state *p, fh_units units) {
  if (p->sheet != NULL && p->sheet->units == units) {
    return FH_OK;
  }
  fh_sheet_destroy(p->sheet);
  p->sheet = NULL;
  return fh_sheet_create(p->scene, p->gear, &p->scene->rig, NULL, FH_PAPER_A4, units, &p->sheet);
}

// ---------------------------------------------------------------------------------------------------- the sheet's blocks

static void write_words(fhi_json *j, const fhi_sheet_words *words, fh_language language) {
  static const char *const voices[] = {"plain", "strong", "item", "warn", "source", "fact", "action"};
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "voice", voices[words->voice]);
  fhi_json_text(j, "lead", words->lead);
  fhi_json_flag(j, "does", strcmp(words->lead, fhi_say(language, "Do")) == 0);
  fhi_json_text(j, "text", words->text);
  fhi_json_close(j, '}');
}

static void write_block(fhi_json *j, const fhi_sheet_block *block, fh_language language) {
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "heading", block->heading);
  fhi_json_integer(j, "step", block->step);
  fhi_json_flag(j, "side", block->side.text != NULL);
  fhi_json_flag(j, "wide", block->wide.text != NULL);
  fhi_json_open(j, "words", '[');
  for (int i = 0; i < block->count; i++) {
    write_words(j, &block->words[i], language);
  }
  fhi_json_close(j, ']');
  fhi_json_close(j, '}');
}

static void write_findings(fhi_json *j, const fh_stages *stages) {
  static const char *const levels[] = {"info", "warn", "no"};
  fhi_json_open(j, "findings", '[');
  for (int i = 0; i < stages->finding_count; i++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "level", levels[stages->findings[i].level]);
    fhi_json_integer(j, "step", stages->findings[i].step);
    fhi_json_text(j, "text", stages->findings[i].text);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

fh_status page_write_care(const fh_scene *scene, const fh_gear *gear, fh_units units, fh_out out) {
  fh_sheet *sheet = NULL;
  fh_status status = fhi_sheet_create_care(scene, gear, units, &sheet);
  if (status != FH_OK) {
    return status;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '[');
  for (int i = 0; i < sheet->count; i++) {
    write_block(&j, &sheet->blocks[i], sheet->language);
  }
  fhi_json_close(&j, ']');
  fh_sheet_destroy(sheet);
  return fhi_writer_end(&w);
}

static fh_status write_sheet(const fh_sheet *sheet, fh_out out) {
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_flag(&j, "refused", fh_sheet_refused(sheet));
  fhi_json_integer(&j, "pages", fh_sheet_page_count(sheet));
  write_findings(&j, fh_sheet_stages(sheet));
  fhi_json_open(&j, "blocks", '[');
  for (int i = 0; i < sheet->count && !fh_sheet_refused(sheet); i++) {
    write_block(&j, &sheet->blocks[i], sheet->language);
  }
  fhi_json_close(&j, ']');
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

// A block's figure by itself. @param which 0 the whole, 1 the surface
static fh_status write_figure(const fh_sheet *sheet, double a, double which, fh_out out) {
  int index = (int)a;
  if (!(a >= 0.0) || index >= sheet->count) {
    return FH_ERR_ARG;
  }
  const fhi_sheet_figure *f = which > 0.0 ? &sheet->blocks[index].wide : &sheet->blocks[index].side;
  if (f->text == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  char width[40];
  char height[40];
  fhi_writer_start(&w, out);
  fhi_putf(&w, "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 %s %s\" font-family=\"'DejaVu Sans', sans-serif\" aria-label=\"",
           fhi_fixed(width, sizeof width, f->width, 2), fhi_fixed(height, sizeof height, f->height, 2));
  fhi_put_xml_text(&w, sheet->blocks[index].heading);
  fhi_put(&w, "\">\n");
  fhi_put_bytes(&w, f->text, f->used);
  fhi_put(&w, "</svg>\n");
  return fhi_writer_end(&w);
}

// ---------------------------------------------------------------------------------------------------- asking

static fh_status answer_haul(page_state *p, fh_out out) {
  fh_status status = p->haul != NULL ? FH_OK : fh_haul_create(p->scene, p->gear, &p->scene->rig, NULL, &p->haul);
  return status == FH_OK ? fh_haul_write_json(p->scene, p->haul, out) : status;
}

static fh_status answer_lose(page_state *p, fh_out out) {
  fh_status status = p->lose != NULL ? FH_OK : fh_lose_create(p->scene, p->gear, &p->scene->rig, NULL, &p->lose);
  return status == FH_OK ? fh_lose_write_json(p->scene, p->lose, out) : status;
}

fh_status page_answer_rescue(page_state *p, int what, double a, double b, fh_units units, fh_out out) {
  switch (what) {
  case PAGE_HAUL: return answer_haul(p, out);
  case PAGE_LOSE: return answer_lose(p, out);
  case PAGE_SHEET:
  case PAGE_SHEET_FIGURE:
  case PAGE_SHEET_PAGE: break;
  default: return FH_ERR_ARG;
  }
  fh_status status = need_sheet(p, units);
  if (status != FH_OK) {
    return status;
  }
  switch (what) {
  case PAGE_SHEET: return write_sheet(p->sheet, out);
  case PAGE_SHEET_FIGURE: return write_figure(p->sheet, a, b, out);
  default: return a >= 0.0 && a < fh_sheet_page_count(p->sheet) ? fh_sheet_write_page(p->sheet, (int)a, out) : FH_ERR_ARG;
  }
}
