// SPDX-License-Identifier: MIT
// The steps: each stage with its figures, what to do, what to check, and what holds the load at that moment.
#include "report.h"
#include "sheet.h"

#include <math.h>
#include <string.h>

static bool same_words(const fh_stage *a, const fh_stage *b) {
  return a->kind == b->kind && strcmp(a->text, b->text) == 0 && strcmp(a->check, b->check) == 0;
}

// Hauling, resetting and tying knots come again and again in the same words: they are told once.
static bool told_before(const fh_stages *stages, int index) {
  const fh_stage *stage = &stages->stages[index];
  if (stage->kind != FH_STAGE_HAUL && stage->kind != FH_STAGE_RESET && stage->kind != FH_STAGE_KNOT) {
    return false;
  }
  for (int i = 0; i < index; i++) {
    if (same_words(&stages->stages[i], stage) || stages->stages[i].kind == stage->kind) {
      return true;
    }
  }
  return false;
}

// "gates closed; backup tied; ..." as boxes to tick: one a clause, so that none is passed over.
static void say_checks(fhi_sheet_block *block, const char *text) {
  while (*text != '\0') {
    char one[FHI_SHEET_TEXT];
    size_t n = strcspn(text, ";");
    (void)fhi_format(one, sizeof one, "%.*s", (int)n, text);
    // The last places of a block are kept for what holds the load.
    bool last = block != NULL && block->count >= FHI_SHEET_TEXTS - 4;
    fhi_sheet_say(block, FHI_VOICE_ITEM, "", last ? text : one);
    text += last ? strlen(text) : n;
    text += strspn(text, "; ");
  }
}

static void say_holds(fhi_sheet_block *block, const fh_stage *stage) {
  char text[FHI_SHEET_TEXT];
  fhi_sheet_say(block, FHI_VOICE_PLAIN, "Holds the load", stage->held);
  if (!(stage->depth > 0.0) || stage->holds > 1) {
    return;
  }
  if (stage->holds == 1) {
    (void)fhi_format(text, sizeof text, "ONE thing holds the load at this moment: %s.", stage->hold[0]);
  } else {
    (void)fhi_copy(text, sizeof text, "Nothing holds the load at this moment but hands.");
  }
  fhi_sheet_say(block, FHI_VOICE_WARN, "", text);
}

static void say_findings(fhi_sheet_block *block, const fh_stages *stages, int step) {
  for (int i = 0; i < stages->finding_count; i++) {
    if (stages->findings[i].step == step && stages->findings[i].level == FH_NOTE_WARN) {
      fhi_sheet_say(block, FHI_VOICE_STRONG, "Mind", stages->findings[i].text);
    }
  }
}

static bool has_figure(const fh_stage *stage) {
  return stage->kind != FH_STAGE_AWAY;
}

static void add_step(fh_sheet *sheet, fhi_sheet_view *view, const fh_stages *stages, int index) {
  const fh_stage *stage = &stages->stages[index];
  char heading[FHI_SHEET_HEADING];
  (void)fhi_format(heading, sizeof heading, "Step %d: %s", stage->step, stage->name);
  fhi_sheet_block *block = fhi_sheet_add(sheet, heading);
  if (block == NULL) {
    return;
  }
  block->step = stage->step;
  if (has_figure(stage)) {
    fh_status status = fhi_sheet_draw_stage(view, stages, index, stage->kind == FH_STAGE_HAUL ? sheet->check : NULL, block);
    if (status != FH_OK) {
      sheet->status = status;
      return;
    }
  }
  fhi_sheet_say(block, FHI_VOICE_PLAIN, "Do", stage->text);
  say_checks(block, stage->check);
  say_findings(block, stages, stage->step);
  say_holds(block, stage);
}

void fhi_sheet_add_steps(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig) {
  const fh_stages *stages = fh_sheet_stages(sheet);
  fhi_sheet_view view;
  if (sheet->status != FH_OK) {
    return;
  }
  sheet->status = fhi_sheet_view_open(&view, scene, gear, rig, sheet->check, sheet->units);
  for (int i = 0; i < stages->count && sheet->status == FH_OK; i++) {
    if (stages->stages[i].kind != FH_STAGE_SLACK && !told_before(stages, i)) {
      add_step(sheet, &view, stages, i);
    }
  }
  fhi_sheet_view_close(&view);
}
