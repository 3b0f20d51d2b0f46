// SPDX-License-Identifier: MIT
// The steps: each stage with its figures, what to do, what to check, and what holds the load at that moment.
#include "report.h"
#include "sheet.h"
#include "shown.h"
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

void fhi_sheet_route(const fh_sheet *sheet, const fh_gear *gear, const fh_rig *rig, int path, int count, char *to, size_t size) {
  static const char *const ENDS[] = {[FH_EDGE] = "lip", [FH_HAND] = "hand", [FH_LOOSE] = "free end"};
  fh_language l = sheet->language;
  const fh_path *p = &rig->paths[path];
  for (int i = 0; i < count && i < p->count; i++) {
    const fh_station *st = &rig->stations[p->first + i];
    size_t used = strlen(to);
    const char *sep = i > 0 ? " \xE2\x80\x93" : "";
    if (st->kind == FH_TIE) {
      (void)fhi_format(to + used, size - used, fhi_say(l, "%s knot on %s"), sep, fhi_end_said(l, rig, st->body));
    } else if (st->kind == FH_RUN) {
      (void)fhi_format(to + used, size - used, fhi_say(l, "%s %s on %s"), sep, fhi_item_said(l, gear, st->item), fhi_end_said(l, rig, st->body));
    } else {
      (void)fhi_format(to + used, size - used, "%s %s", sep, fhi_say(l, ENDS[st->kind]));
    }
  }
}

// "(station: pulleys at the anchor; block-1: moving pulley)": the names of courses beside the rig's own, each once.
static void add_taught(const fh_sheet *sheet, const fh_rig *rig, int path, int count, char *to, size_t size) {
  uint64_t told = 0;  // FH_MAX_BODIES is below 64
  const fh_path *p = &rig->paths[path];
  for (int i = 0; i < count && i < p->count; i++) {
    const fh_station *st = &rig->stations[p->first + i];
    bool body = (st->kind == FH_TIE || st->kind == FH_RUN) && (told >> st->body & 1u) == 0;
    const char *taught = body ? fhi_end_taught(sheet->language, rig, st->body) : "";
    if (taught[0] != '\0') {
      size_t used = strlen(to);
      (void)fhi_format(to + used, size - used, "%s%s: %s", told == 0 ? " (" : "; ", fhi_end_said(sheet->language, rig, st->body), taught);
      told |= (uint64_t)1 << st->body;
    }
  }
  size_t used = strlen(to);
  (void)fhi_format(to + used, size - used, "%s", told != 0 ? ")" : "");
}

// The way of the rope as far as it lies: whoever has lost the thread finds it again here.
static void say_route(const fh_sheet *sheet, fhi_sheet_block *block, const fh_gear *gear, const fh_rig *rig, const fh_stage *stage) {
  bool lays = stage->kind == FH_STAGE_BUILD || stage->kind == FH_STAGE_CAPTURE || stage->kind == FH_STAGE_GRIP || stage->kind == FH_STAGE_TRANSFER;
  for (int p = 0; lays && p < rig->path_count; p++) {
    if (p != stage->path && stage->kind != FH_STAGE_TRANSFER) {
      continue;
    }
    char text[FHI_SHEET_TEXT];
    (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "%s runs:"), fhi_given_said(sheet->language, rig->paths[p].name));
    fhi_sheet_route(sheet, gear, rig, p, stage->placed[p], text, sizeof text);
    add_taught(sheet, rig, p, stage->placed[p], text, sizeof text);
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

// ---------------------------------------------------------------------------------------------------- if it lets go

// The piece that a step puts in place, among the elements of what-if.
static int element_of(const fh_lose *lose, const fh_stage *stage) {
  for (int e = 0; e < lose->element_count; e++) {
    const fh_element *x = &lose->elements[e];
    bool grip = stage->grip >= 0 && x->kind == FH_ELEMENT_GRIP && x->index == stage->grip;
    bool lock = stage->grip < 0 && stage->kind == FH_STAGE_CAPTURE && x->kind == FH_ELEMENT_LOCK && x->index == stage->station;
    if (grip || lock) {
      return e;
    }
  }
  return -1;
}

static const fh_loss *loss_at(const fh_sheet *sheet, fh_stage_kind kind, int element) {
  const fh_stages *stages = fh_sheet_stages(sheet);
  for (int i = 0; i < stages->count; i++) {
    if (stages->stages[i].kind == kind) {
      return fh_lose_at(sheet->lose, i, element);
    }
  }
  return NULL;
}

static void tell_loss(const fh_sheet *sheet, const fh_loss *loss, bool hauling, char *to, size_t size) {
  char a[FHI_WORD];
  char name[2 * FH_ELEMENT];
  fh_language l = sheet->language;
  if (loss == NULL || !loss->there || !loss->bears) {
    (void)fhi_copy(to, size, fhi_say(l, hauling ? "while hauling nothing falls" : "while resetting nothing falls"));
  } else if (!loss->caught) {
    (void)fhi_copy(to, size, fhi_say(l, hauling ? "while hauling NOTHING catches the load" : "while resetting NOTHING catches the load"));
  } else {
    (void)fhi_format(to, size, fhi_say(l, hauling ? "while hauling caught by %s, after a drop of up to %s" : "while resetting caught by %s, after a drop of up to %s"),
                     fhi_name_said(name, sizeof name, l, loss->caught_by), fhi_show_length(a, sizeof a, ceil(10.0 * (loss->drop + loss->bite) - 1e-9) / 10.0, sheet->units));
  }
}

// A hitch or capture that slips: what then, at the two moments that come again and again.
static void say_if_lost(const fh_sheet *sheet, fhi_sheet_block *block, const fh_stage *stage) {
  int element = element_of(sheet->lose, stage);
  const fh_loss *haul = element >= 0 ? loss_at(sheet, FH_STAGE_HAUL, element) : NULL;
  const fh_loss *reset = element >= 0 ? loss_at(sheet, FH_STAGE_RESET, element) : NULL;
  if (haul == NULL || reset == NULL) {
    return;
  }
  char a[FHI_SHEET_TEXT / 3];
  char b[FHI_SHEET_TEXT / 3];
  char text[FHI_SHEET_TEXT];
  tell_loss(sheet, haul, true, a, sizeof a);
  tell_loss(sheet, reset, false, b, sizeof b);
  bool lost = (haul->bears && !haul->caught) || (reset->bears && !reset->caught);
  (void)fhi_format(text, sizeof text, "%s; %s. %s", a, b,
                   fhi_say(sheet->language, lost ? "Test it hard, and look at it at every reset." : "Then stop, see that the other holds, and set this one anew before you pull on."));
  fhi_sheet_say(block, lost ? FHI_VOICE_STRONG : FHI_VOICE_PLAIN, fhi_say(sheet->language, "If it slips"), text);
}

// ---------------------------------------------------------------------------------------------------- over the lip

static bool jams(const fh_lip_case *k) {
  return k->stuck > 0.0 || !isfinite(k->hand_force.likely);
}

// Whether two ways come out alike: what differs by less than its rounding differs in nothing that anybody could measure.
static bool same_way(const fh_lip_case *a, const fh_lip_case *b) {
  return jams(a) == jams(b) && (jams(a) || (isfinite(a->hand_force.hi) == isfinite(b->hand_force.hi) &&
                                            fhi_coarse(a->hand_force.likely, FHI_NEAREST) == fhi_coarse(b->hand_force.likely, FHI_NEAREST)));
}

// The names of a way and of those that come out like it: "cleared, cleared and padded".
static void name_ways(const fh_sheet *sheet, int way, char *to, size_t size) {
  const fh_haul *h = sheet->haul;
  size_t used = 0;
  for (int i = way; i < h->lip_count; i++) {
    if (same_way(&h->lip[way], &h->lip[i])) {
      const char *more = h->lip[i].lifted ? fhi_say(sheet->language, " (takes a second rig at the edge, and hands for it)") : "";
      (void)fhi_format(to + used, size - used, "%s%s%s", used > 0 ? ", " : "", fhi_say(sheet->language, h->lip[i].name), more);
      used = strlen(to);
    }
  }
}

// One way over the edge, with those that come out like it: the likely pull, and what it is against the first way. Their ranges overlap nearly whole.
static void say_lip_way(const fh_sheet *sheet, fhi_sheet_block *block, int way) {
  const fh_lip_case *k = &sheet->haul->lip[way], *one = &sheet->haul->lip[0];
  char a[FHI_WORD], c[FHI_WORD], text[FHI_SHEET_TEXT], name[FHI_SHEET_TEXT];
  fh_language l = sheet->language;
  double pull = k->hand_force.likely, more = jams(one) ? 0.0 : pull - one->hand_force.likely;
  name_ways(sheet, way, name, sizeof name);
  if (jams(k)) {
    (void)fhi_format(text, sizeof text, fhi_say(l, "%s: the load jams under the edge and cannot be pulled over it that way"), name);
    fhi_sheet_say(block, FHI_VOICE_STRONG, "", text);
    return;
  }
  (void)fhi_show_force(a, sizeof a, (fh_band){pull, pull, pull}, sheet->units, l);
  (void)fhi_show_force(c, sizeof c, (fh_band){fabs(more), fabs(more), fabs(more)}, sheet->units, l);
  const char *how = !isfinite(k->hand_force.hi)                           ? "%s: likely %s, and it may jam"
                    : fabs(more) < 0.02 * fabs(one->hand_force.likely) ? "%s: likely %s"
                    : more > 0.0                                          ? "%s: likely %s, %s more than the first"
                                                                          : "%s: likely %s, %s less than the first";
  (void)fhi_format(text, sizeof text, fhi_say(l, how), name, a, c);
  fhi_sheet_say(block, FHI_VOICE_PLAIN, "", text);
}

static bool said_before(const fh_haul *h, int way) {
  int same = 0;
  while (!same_way(&h->lip[same], &h->lip[way])) {
    same++;
  }
  return same < way;
}

static void say_lip(const fh_sheet *sheet, fhi_sheet_block *block) {
  const fh_haul *h = sheet->haul;
  if (h->outcome != FH_OUTCOME_SOLVED || h->lip_count == 0) {
    return;
  }
  fh_band all = h->lip[0].hand_force;
  for (int i = 1; i < h->lip_count; i++) {
    all.lo = fmin(all.lo, h->lip[i].hand_force.lo);
    all.hi = fmax(all.hi, h->lip[i].hand_force.hi);
  }
  char a[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  (void)fhi_format(text, sizeof text, isfinite(all.lo) && isfinite(all.hi) ? fhi_say(sheet->language, "what it takes, one way against another; each may be anywhere in %s")
                                                                           : fhi_say(sheet->language, "what it takes, one way against another"),
                   fhi_show_force(a, sizeof a, all, sheet->units, sheet->language));
  fhi_sheet_say(block, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Pull"), text);
  for (int i = 0; i < h->lip_count; i++) {
    if (!said_before(h, i)) {
      say_lip_way(sheet, block, i);
    }
  }
  fhi_sheet_say(block, FHI_VOICE_STRONG, "", fhi_say(sheet->language, "Stop below the edge. Clear it before you pull on: more force jams the person under it."));
}

// ---------------------------------------------------------------------------------------------------- a step

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
  if (block != NULL) {
    block->follows = true;
  }
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
    if (stage->kind == FH_STAGE_LIP) {
      say_lip(sheet, block);
    }
    say_checks(block, stage->check);
    say_findings(sheet, block, stages, stage->step);
    say_if_lost(sheet, block, stage);
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
