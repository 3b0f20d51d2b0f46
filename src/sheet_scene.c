// SPDX-License-Identifier: MIT
// What the scene itself says: who hangs where, the edge, the crew and its pull, ropes and kit. The sheet of a rig has it on its card;
// where no rig can be built it is all there is to work from, or to tell a rescue service.
#include "report.h"
#include "sheet.h"
#include "words.h"

#include <math.h>
#include <string.h>

static void add(char *text, const char *sep, const char *more) {
  size_t used = strlen(text);
  (void)fhi_format(text + used, FHI_SHEET_TEXT - used, "%s%s", used > 0 ? sep : "", more);
}

static const char *show_depth(char *to, size_t size, const fh_scene *scene, fh_units units) {
  char lo[FHI_WORD];
  char hi[FHI_WORD];
  fhi_show_length(lo, sizeof lo, scene->depth.lo, units);
  fhi_show_length(hi, sizeof hi, scene->depth.hi, units);
  if (strcmp(lo, hi) == 0) {
    (void)fhi_copy(to, size, lo);
  } else {
    (void)fhi_format(to, size, "%.*s\xE2\x80\x93%s", (int)strcspn(lo, " "), lo, hi);
  }
  return to;
}

static void say_load(fh_sheet *sheet, fhi_sheet_block *b, const fh_scene *scene) {
  char mass[FHI_WORD];
  char depth[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  fh_language l = sheet->language;
  (void)fhi_format(text, sizeof text, fhi_say(l, "%s, %s down; %s"), fhi_show_mass(mass, sizeof mass, scene->load_mass, sheet->units, l),
                   show_depth(depth, sizeof depth, scene, sheet->units), scene->load_helps ? fhi_say(l, "helps") : fhi_say(l, "does not help"));
  if (scene->load_responds != FH_RESPONDS_UNKNOWN) {
    add(text, "; ", scene->load_responds == FH_RESPONDS_SILENT ? fhi_say(l, "does not answer") : fhi_say(l, "answers"));
  }
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(l, "Load"), text);
}

static void say_lip(fh_sheet *sheet, fhi_sheet_block *b, const fh_scene *scene, const fh_gear *gear) {
  char text[FHI_SHEET_TEXT];
  fhi_show_lip(text, sizeof text, scene, gear, sheet->units);
  if (scene->lip_wall == FH_WALL_OVERHANGS) {
    add(text, ". ", fhi_say(sheet->language, "The edge hangs over."));
  }
  fhi_sheet_say(b, FHI_VOICE_PLAIN, "", text);
}

static void say_crew(fh_sheet *sheet, fhi_sheet_block *b, const fh_scene *scene, const fh_gear *gear) {
  char a[FHI_WORD];
  char c[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  char count[FHI_SHEET_HEADING];
  fh_language l = sheet->language;
  if (scene->crew_count == 0) {
    fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(l, "Crew"), fhi_say(l, "the scene names none to compare the pull with."));
    return;
  }
  const fh_pull pull = fh_crew_pull(scene, gear);
  (void)fhi_format(text, sizeof text, fhi_say(l, "%s for a short effort, %s for minutes"), fhi_show_likely(a, sizeof a, pull.force, sheet->units, l),
                   fhi_show_likely(c, sizeof c, pull.sustained, sheet->units, l));
  (void)fhi_format(count, sizeof count, fhi_say(l, "%d haul"), scene->crew_count);
  add(text, ". ", scene->crew_count == 1 ? fhi_say(l, "One hauls, alone") : count);
  add(text, "", ".");
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(l, "This crew"), text);
}

static void say_ropes(fh_sheet *sheet, fhi_sheet_block *b, const fh_scene *scene) {
  char text[FHI_SHEET_TEXT] = "";
  for (int r = 0; r < scene->rope_count && strlen(text) + FH_ELEMENT + FHI_WORD < sizeof text; r++) {
    char length[FHI_WORD];
    char one[FHI_SVG_TEXT];
    char name[FHI_SVG_TEXT];
    fhi_text_clean(name, sizeof name, fhi_given_said(sheet->language, scene->ropes[r].name));
    if (fh_number_is_set(scene->ropes[r].length)) {
      (void)fhi_format(one, sizeof one, "%s %s", name, fhi_show_length(length, sizeof length, scene->ropes[r].length.lo, sheet->units));
    } else {
      (void)fhi_copy(one, sizeof one, name);
    }
    add(text, ", ", one);
  }
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Ropes"), text);
}

static void say_kit(fh_sheet *sheet, fhi_sheet_block *b, const fh_scene *scene, const fh_gear *gear) {
  char text[FHI_SHEET_TEXT] = "";
  for (int k = 0; k < scene->kit_count && strlen(text) + 2 * FHI_WORD < sizeof text; k++) {
    char one[FHI_WORD];
    (void)fhi_format(one, sizeof one, "%d x %s", scene->kit[k].count, fhi_item_said(sheet->language, gear, scene->kit[k].item));
    if (scene->kit[k].count > 0) {
      add(text, ", ", one);
    }
  }
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(sheet->language, "In the bags"), text[0] != '\0' ? text : fhi_say(sheet->language, "The scene lists no kit."));
}

void fhi_sheet_add_scene(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear) {
  fhi_sheet_block *b = fhi_sheet_add(sheet, fhi_say(sheet->language, "Who hangs where, the edge, the crew, the bags"));
  say_load(sheet, b, scene);
  say_lip(sheet, b, scene, gear);
  say_crew(sheet, b, scene, gear);
  say_ropes(sheet, b, scene);
  say_kit(sheet, b, scene, gear);
}
