// SPDX-License-Identifier: MIT
// The steps: each stage with its figures, what to do, what to check, and what holds the load at that moment.
#include "report.h"
#include "sheet.h"
#include "words.h"

#include <math.h>
#include <string.h>

// Backup knots come again and again in the same words, and with them what it would be without: one block tells them all.
// @return the last stage from `index` on that is told with it
static int told_with(const fh_stages *stages, int index) {
  int last = index;
  fh_stage_kind kind = stages->stages[index].kind;
  while ((kind == FH_STAGE_KNOT || kind == FH_STAGE_SLACK) && last + 1 < stages->count && stages->stages[last + 1].kind == FH_STAGE_KNOT) {
    last++;
  }
  return last;
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

static void say_holds(const fh_sheet *sheet, fhi_sheet_block *block, const fh_stage *stage) {
  char text[FHI_SHEET_TEXT];
  if (!(stage->depth > 0.0) || stage->holds > 1) {
    fhi_sheet_say(block, FHI_VOICE_STRONG, "", stage->held);
    return;
  }
  (void)fhi_format(text, sizeof text, "%s%s", stage->held, stage->holds == 1 ? fhi_say(sheet->language, " ONE thing alone.") : "");
  fhi_sheet_say(block, FHI_VOICE_WARN, "", stage->held[0] != '\0' ? text : fhi_say(sheet->language, "Nothing holds the load at this moment but hands."));
}

// The way of the rope as far as it lies: whoever has lost the thread finds it again here.
static void say_route(const fh_sheet *sheet, fhi_sheet_block *block, const fh_gear *gear, const fh_rig *rig, const fh_stage *stage) {
  bool lays = stage->kind == FH_STAGE_BUILD || stage->kind == FH_STAGE_CAPTURE || stage->kind == FH_STAGE_GRIP || stage->kind == FH_STAGE_TRANSFER;
  for (int p = 0; lays && p < rig->path_count; p++) {
    const fh_path *path = &rig->paths[p];
    if (p != stage->path && stage->kind != FH_STAGE_TRANSFER) {
      continue;
    }
    char text[FHI_SHEET_TEXT];
    (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "%s runs:"), path->name);
    for (int i = 0; i < stage->placed[p] && i < path->count; i++) {
      static const char *const ENDS[] = {[FH_EDGE] = "lip", [FH_HAND] = "hand", [FH_LOOSE] = "free end"};
      const fh_station *st = &rig->stations[path->first + i];
      size_t used = strlen(text);
      const char *sep = i > 0 ? " \xE2\x80\x93" : "";
      if (st->kind == FH_TIE) {
        (void)fhi_format(text + used, sizeof text - used, fhi_say(sheet->language, "%s knot on %s"), sep, fhi_end_said(sheet->language, rig, st->body));
      } else if (st->kind == FH_RUN) {
        (void)fhi_format(text + used, sizeof text - used, fhi_say(sheet->language, "%s %s on %s"), sep, fhi_item_said(sheet->language, gear, st->item), fhi_end_said(sheet->language, rig, st->body));
      } else {
        (void)fhi_format(text + used, sizeof text - used, "%s %s", sep, fhi_say(sheet->language, ENDS[st->kind]));
      }
    }
    fhi_sheet_say(block, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Now"), text);
  }
}

static void say_findings(const fh_sheet *sheet, fhi_sheet_block *block, const fh_stages *stages, int step) {
  for (int i = 0; i < stages->finding_count; i++) {
    if (stages->findings[i].step == step && stages->findings[i].level == FH_NOTE_WARN) {
      fhi_sheet_say(block, FHI_VOICE_STRONG, fhi_say(sheet->language, "Mind"), stages->findings[i].text);
    }
  }
}

static bool has_figure(const fh_stage *stage) {
  return stage->kind != FH_STAGE_AWAY && stage->kind != FH_STAGE_SLACK;
}

static void make_heading(const fh_sheet *sheet, const fh_stages *stages, int index, int last, char *to, size_t size) {
  const fh_stage *stage = &stages->stages[index];
  if (last > index) {
    (void)fhi_format(to, size, fhi_say(sheet->language, "Steps %d to %d: backup knots, one by one"), stage->step, stages->stages[last].step);
  } else {
    char name[FHI_SHEET_HEADING];
    (void)fhi_format(to, size, fhi_say(sheet->language, "Step %d: %s"), stage->step, fhi_name_said(name, sizeof name, sheet->language, stage->name));
  }
}

// What it would be if a knot were left out is no step to take.
static void say_left_out(fhi_sheet_block *block, const fh_stage *slack) {
  char text[FHI_SHEET_TEXT];
  (void)fhi_format(text, sizeof text, "%s %s", slack->text, slack->held);
  fhi_sheet_say(block, FHI_VOICE_WARN, "", text);
}

// The knots after the first: the same words once more would hide what is new on the other cards.
static bool add_further_knots(fh_sheet *sheet, const fh_stages *stages, int index, int last) {
  int before = 0;
  while (before < index && stages->stages[before].kind != FH_STAGE_KNOT) {
    before++;
  }
  if (stages->stages[index].kind != FH_STAGE_KNOT || before == index) {
    return false;
  }
  char heading[FHI_SHEET_HEADING];
  char text[FHI_SHEET_TEXT];
  char a[FHI_WORD];
  make_heading(sheet, stages, index, last, heading, sizeof heading);
  fhi_sheet_block *block = fhi_sheet_add(sheet, heading);
  (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "Go on in the same way: haul, hands off, knot (step %d), reset; a knot for each %s of slack, until the load is just below the edge."),
                   stages->stages[before].step, fhi_show_length(a, sizeof a, stages->knot_every, sheet->units));
  fhi_sheet_say(block, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Do"), text);
  say_checks(block, stages->stages[before].check);
  say_holds(sheet, block, &stages->stages[index]);
  return true;
}

static void add_step(fh_sheet *sheet, fhi_sheet_view *view, const fh_stages *stages, int index, int last) {
  if (add_further_knots(sheet, stages, index, last)) {
    return;
  }
  const fh_stage *slack = stages->stages[index].kind == FH_STAGE_SLACK ? &stages->stages[index] : NULL;
  int told = slack != NULL && last > index ? index + 1 : index;  // of all knots the first one
  const fh_stage *stage = &stages->stages[told];
  char heading[FHI_SHEET_HEADING];
  make_heading(sheet, stages, index, last, heading, sizeof heading);
  fhi_sheet_block *block = fhi_sheet_add(sheet, heading);
  if (block == NULL) {
    return;
  }
  block->step = stage->step;
  if (has_figure(stage)) {
    fh_status status = fhi_sheet_draw_stage(view, stages, told, stage->kind == FH_STAGE_HAUL ? sheet->check : NULL, block);
    if (status != FH_OK) {
      sheet->status = status;
      return;
    }
  }
  if (stage != slack) {
    fhi_sheet_say(block, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Do"), stage->text);
    say_route(sheet, block, view->gear, view->rig, stage);
    say_checks(block, stage->check);
    say_findings(sheet, block, stages, stage->step);
    say_holds(sheet, block, stage);
  }
  if (slack != NULL) {
    say_left_out(block, slack);
  }
}

void fhi_sheet_add_steps(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig) {
  const fh_stages *stages = fh_sheet_stages(sheet);
  fhi_sheet_view view;
  if (sheet->status != FH_OK) {
    return;
  }
  sheet->status = fhi_sheet_view_open(&view, scene, gear, rig, sheet->check, sheet->units);
  for (int i = 0; i < stages->count && sheet->status == FH_OK; i++) {
    int last = told_with(stages, i);
    add_step(sheet, &view, stages, i, last);
    i = last;
  }
  fhi_sheet_view_close(&view);
}
