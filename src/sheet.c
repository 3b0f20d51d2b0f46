// SPDX-License-Identifier: MIT
// The build sheet: stages, haul and losses worked out once, told as blocks of figure and words. A rig with a finding that
// says no gets no sheet: it would be unsafe to print one.
#include "sheet.h"

#include <string.h>

#include "memory.h"

enum { MOST_BLOCKS = 4 * FH_MAX_STAGES };

fhi_sheet_block *fhi_sheet_add(fh_sheet *sheet, const char *heading) {
  if (sheet->status != FH_OK) {
    return NULL;
  }
  if (sheet->count == sheet->room) {
    int room = sheet->room == 0 ? 32 : 2 * sheet->room;
    fhi_sheet_block *grown = room <= MOST_BLOCKS ? fhi_realloc(sheet->blocks, (size_t)room, sizeof *grown) : NULL;
    if (grown == NULL) {
      sheet->status = room <= MOST_BLOCKS ? FH_ERR_MEMORY : FH_ERR_LIMIT;
      return NULL;
    }
    sheet->blocks = grown;
    sheet->room = room;
  }
  fhi_sheet_block *block = &sheet->blocks[sheet->count++];
  memset(block, 0, sizeof *block);
  (void)fhi_copy(block->heading, sizeof block->heading, heading);
  return block;
}

void fhi_sheet_say(fhi_sheet_block *block, fhi_sheet_voice voice, const char *lead, const char *text) {
  if (block == NULL || block->count == FHI_SHEET_TEXTS || text[0] == '\0') {
    return;
  }
  fhi_sheet_words *words = &block->words[block->count++];
  words->voice = voice;
  (void)fhi_copy(words->lead, sizeof words->lead, lead);
  (void)fhi_copy(words->text, sizeof words->text, text);
}

// Everything that the sheet tells is worked out once.
static fh_status work_out(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *given) {
  fh_check_opts check = fh_check_opts_default();
  fh_stages_opts chosen = given != NULL ? *given : fh_stages_opts_default();
  const fh_stages_opts *opts = &chosen;
  chosen.units = sheet->units;
  fh_status status = fh_stages_create(scene, gear, rig, opts, &sheet->stages);
  if (status == FH_OK && !sheet->stages->refused) {
    status = fh_check_create(scene, gear, rig, &check, &sheet->check);
    if (status == FH_OK) {
      status = fh_haul_create(scene, gear, rig, opts, &sheet->haul);
    }
    if (status == FH_OK) {
      status = fh_lose_create(scene, gear, rig, opts, &sheet->lose);
    }
  }
  return status;
}

// With the holds filled in, as what-if finds them.
const fh_stages *fh_sheet_stages(const fh_sheet *sheet) {
  return sheet->lose != NULL && sheet->lose->stages != NULL ? sheet->lose->stages : sheet->stages;
}

bool fh_sheet_refused(const fh_sheet *sheet) {
  return sheet->pages == 0;
}

int fh_sheet_page_count(const fh_sheet *sheet) {
  return sheet->pages;
}

// Notes, findings and fixed phrases are made metric: in other units they are put over before anything is placed.
static void put_over(fh_sheet *sheet) {
  char text[FHI_SHEET_TEXT];
  for (int b = 0; sheet->units == FH_IMPERIAL && b < sheet->count; b++) {
    for (int i = 0; i < sheet->blocks[b].count; i++) {
      fhi_sheet_words *words = &sheet->blocks[b].words[i];
      (void)fhi_copy(words->text, sizeof words->text, fhi_said(text, sizeof text, words->text, sheet->units));
    }
  }
}

static fh_status tell(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig) {
  fhi_sheet_add_card(sheet, scene, gear, rig);
  fhi_sheet_add_first(sheet, scene, gear, rig);
  fhi_sheet_add_steps(sheet, scene, gear, rig);
  fhi_sheet_add_last(sheet);
  put_over(sheet);
  fhi_sheet_choose_figures(sheet);
  int pages = sheet->status == FH_OK ? fhi_sheet_place(sheet) : 0;
  sheet->pages = sheet->status == FH_OK ? pages : 0;
  return sheet->status;
}

// The case that a lone rescuer cannot solve by pulling.
static bool jams_below(const fh_scene *scene) {
  return scene->load_responds == FH_RESPONDS_SILENT && scene->lip_wall == FH_WALL_OVERHANGS;
}

fh_status fh_sheet_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *opts, fh_paper paper, fh_units units,
                          fh_sheet **out) {
  if (scene == NULL || gear == NULL || rig == NULL || out == NULL || (paper != FH_PAPER_A6 && paper != FH_PAPER_A4)) {
    return FH_ERR_ARG;
  }
  fh_sheet *sheet = fhi_alloc(1, sizeof *sheet);
  if (sheet == NULL) {
    return FH_ERR_MEMORY;
  }
  sheet->paper = paper;
  sheet->units = units;
  sheet->language = scene->language;
  sheet->silent = scene->load_responds == FH_RESPONDS_SILENT;
  sheet->jams_below = jams_below(scene);
  (void)fhi_copy(sheet->title, sizeof sheet->title, scene->title);
  fh_status status = work_out(sheet, scene, gear, rig, opts);
  if (status == FH_OK && !sheet->stages->refused) {
    status = tell(sheet, scene, gear, rig);
  }
  if (status != FH_OK) {
    fh_sheet_destroy(sheet);
    return status;
  }
  *out = sheet;
  return FH_OK;
}

fh_status fhi_sheet_create_care(const fh_scene *scene, const fh_gear *gear, fh_units units, fh_sheet **out) {
  fh_sheet *sheet = fhi_alloc(1, sizeof *sheet);
  if (sheet == NULL) {
    return FH_ERR_MEMORY;
  }
  sheet->units = units;
  sheet->language = scene->language;
  sheet->silent = scene->load_responds == FH_RESPONDS_SILENT;
  sheet->jams_below = jams_below(scene);
  fhi_sheet_add_scene(sheet, scene, gear);
  fhi_sheet_add_care(sheet);
  fh_status status = sheet->status;
  if (status != FH_OK) {
    fh_sheet_destroy(sheet);
    return status;
  }
  *out = sheet;
  return FH_OK;
}

void fh_sheet_destroy(fh_sheet *sheet) {
  if (sheet == NULL) {
    return;
  }
  for (int i = 0; i < sheet->count; i++) {
    fhi_free(sheet->blocks[i].side.text);
    fhi_free(sheet->blocks[i].wide.text);
  }
  fhi_free(sheet->blocks);
  fhi_free(sheet->pieces);
  fh_lose_destroy(sheet->lose);
  fh_haul_destroy(sheet->haul);
  fh_check_destroy(sheet->check);
  fh_stages_destroy(sheet->stages);
  fhi_free(sheet);
}
