// SPDX-License-Identifier: MIT
// What does lose say? The steps that hang on one thing alone; for each element where it is worst; one step in full with --step.
#include <math.h>
#include <string.h>

#include "report.h"
#include "rescue.h"
#include "rescue_chance.h"
#include "table.h"
#include "words.h"

enum { STEPS_TEXT = 200 };

typedef struct teller {
  cli_screen *s;
  const cli_rescue *r;
  const fh_lose *l;
  fh_units units;
} teller;

static bool is_lost(const fh_loss *loss) {
  return loss->there && loss->bears && !loss->caught;
}

static double farthest(const fh_loss *loss) {
  return loss->drop + (loss->bite > 0.0 ? loss->bite : 0.0);
}

static bool hangs_on_one(const fh_stage *stage) {
  return stage->depth > 0.0 && stage->holds <= 1 && stage->kind != FH_STAGE_AWAY;
}

// ---------------------------------------------------------------------------------------------------- steps

// Steps of the same holds that follow each other are told together.
static void tell_steps(const teller *t) {
  const fh_stages *stages = t->l->stages;
  int thin = 0;
  for (int i = 0; i < stages->count; i++) {
    thin += hangs_on_one(&stages->stages[i]) ? 1 : 0;
  }
  char text[900];
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "At %d of %d steps the load hangs on one thing alone."), thin, stages->count);
  cli_put_wrapped(t->s, thin > 0 ? CLI_WARN : CLI_GOOD, "", text);
  cli_put_findings(t->s, stages);
  cli_put(t->s, "\n");
  cli_put_heading(t->s, fhi_say(t->s->language, "Steps, and what holds the load"));
  for (int i = 0; i < stages->count; i++) {
    const fh_stage *stage = &stages->stages[i];
    char lead[16];
    char name[200];
    char holds[FH_MAX_HOLDS * (2 * FH_ELEMENT)] = "";
    for (int k = 0; k < stage->holds && k < FH_MAX_HOLDS; k++) {
      size_t used = strlen(holds);
      (void)fhi_format(holds + used, sizeof holds - used, "%s%s", k > 0 ? "; " : "", fhi_name_said(name, sizeof name, t->s->language, stage->hold[k]));
    }
    (void)fhi_format(lead, sizeof lead, "%3d  ", stage->step);
    (void)fhi_format(text, sizeof text, "%s: %s%s", fhi_name_said(name, sizeof name, t->s->language, stage->name), hangs_on_one(stage) && stage->holds == 1 ? fhi_say(t->s->language, "ONLY ") : "",
                     holds[0] != '\0' ? holds : stage->depth > 0.0 ? fhi_say(t->s->language, "NOTHING but hands") : fhi_say(t->s->language, "on the surface"));
    cli_put_wrapped(t->s, hangs_on_one(stage) ? CLI_WARN : CLI_PLAIN, lead, text);
  }
}

// ---------------------------------------------------------------------------------------------------- elements

// "3 to 5, 9": numbers of the steps at which nothing catches.
static void lost_steps(const teller *t, int element, char *to, size_t size) {
  const fh_stages *stages = t->l->stages;
  to[0] = '\0';
  for (int s = 0; s < stages->count; s++) {
    if (!is_lost(fh_lose_at(t->l, s, element))) {
      continue;
    }
    int end = s;
    while (end + 1 < stages->count && is_lost(fh_lose_at(t->l, end + 1, element))) {
      end++;
    }
    size_t used = strlen(to);
    (void)fhi_format(to + used, size - used, end > s ? fhi_say(t->s->language, "%s%d to %d") : "%s%d", used > 0 ? ", " : "", stages->stages[s].step, stages->stages[end].step);
    s = end;
  }
}

// The caught loss with the highest peak, or with the farthest drop. @return its stage, or -1
static int worst_caught(const fh_lose *lose, int element, bool by_peak) {
  int worst = -1;
  for (int s = 0; s < lose->stages->count; s++) {
    const fh_loss *loss = fh_lose_at(lose, s, element);
    if (!loss->there || !loss->bears || !loss->caught) {
      continue;
    }
    const fh_loss *best = worst < 0 ? NULL : fh_lose_at(lose, worst, element);
    if (best == NULL || (by_peak ? loss->peak.hi > best->peak.hi : farthest(loss) > farthest(best))) {
      worst = s;
    }
  }
  return worst;
}

static void add_element(const teller *t, cli_table *table, int element) {
  char lost[STEPS_TEXT];
  char drop[CLI_NUMBER + 24] = "";
  char peak[CLI_NUMBER + 24] = "";
  char over[FH_MAX_OVER * (FH_ELEMENT + 4)] = "";
  lost_steps(t, element, lost, sizeof lost);
  int far = worst_caught(t->l, element, false);
  int hard = worst_caught(t->l, element, true);
  if (far >= 0) {
    char number[CLI_NUMBER];
    const fh_loss *loss = fh_lose_at(t->l, far, element);
    (void)fhi_format(drop, sizeof drop, fhi_say(t->s->language, "%s at %d"), cli_value(number, farthest(loss), CLI_LENGTH_FINE, t->units), t->l->stages->stages[far].step);
  }
  if (hard >= 0) {
    char number[CLI_NUMBER];
    const fh_loss *loss = fh_lose_at(t->l, hard, element);
    (void)fhi_format(peak, sizeof peak, fhi_say(t->s->language, "%s at %d"), cli_band_value(number, loss->peak, CLI_FORCE_LARGE, t->units, t->s->language), t->l->stages->stages[hard].step);
    for (int i = 0; i < loss->over_count; i++) {
      size_t used = strlen(over);
      (void)fhi_format(over + used, sizeof over - used, "%s%s", i > 0 ? "; " : "", loss->over[i]);
    }
  }
  if (lost[0] != '\0' || far >= 0) {
    cli_table_add(table, lost[0] != '\0' ? CLI_WARN : CLI_PLAIN, (const char *const[]){t->l->elements[element].name, lost, drop, peak, over});
  }
}

static fh_status tell_elements(const teller *t) {
  char drop_head[40];
  char peak_head[40];
  (void)fhi_format(drop_head, sizeof drop_head, fhi_say(t->s->language, "farthest drop %s"), cli_unit(CLI_LENGTH_FINE, t->units));
  (void)fhi_format(peak_head, sizeof peak_head, fhi_say(t->s->language, "highest peak %s"), cli_unit(CLI_FORCE_LARGE, t->units));
  const cli_column columns[] = {{"lets go", false, 16}, {"lost at", false, 7}, {drop_head, true, 8}, {peak_head, true, 0}, {"may be over its limit", false, 12}};
  cli_table *table = cli_table_create(columns, 5);
  if (table == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int e = 0; e < t->l->element_count; e++) {
    add_element(t, table, e);
  }
  cli_put(t->s, "\n");
  cli_put_heading(t->s, fhi_say(t->s->language, "Each element, at the step where it is worst (at: number of the step)"));
  fh_status status = cli_table_write(table, t->s);
  cli_table_destroy(table);
  return status;
}

// ---------------------------------------------------------------------------------------------------- one step

static void add_loss(const teller *t, cli_table *table, int element, const fh_loss *loss) {
  char drop[CLI_NUMBER];
  char peak[CLI_NUMBER] = "";
  char anchor[CLI_NUMBER] = "";
  char over[FH_MAX_OVER * (FH_ELEMENT + 4)] = "";
  for (int i = 0; i < loss->over_count; i++) {
    size_t used = strlen(over);
    (void)fhi_format(over + used, sizeof over - used, "%s%s", i > 0 ? "; " : "", loss->over[i]);
  }
  (void)fhi_copy(drop, sizeof drop, fhi_say(t->s->language, "lost"));
  if (loss->caught) {
    (void)cli_value(drop, farthest(loss), CLI_LENGTH_FINE, t->units);
    (void)cli_band_value(peak, loss->peak, CLI_FORCE_LARGE, t->units, t->s->language);
    (void)cli_band_value(anchor, loss->anchor, CLI_FORCE_LARGE, t->units, t->s->language);
  }
  cli_table_add(table, loss->caught ? CLI_PLAIN : CLI_BAD,
                (const char *const[]){t->l->elements[element].name, drop, loss->caught ? loss->caught_by : "nothing", peak, anchor, over});
}

static fh_status tell_one(const teller *t, int stage) {
  char drop_head[40];
  char peak_head[40];
  char anchor_head[40];
  const fh_stage *st = &t->l->stages->stages[stage];
  (void)fhi_format(drop_head, sizeof drop_head, fhi_say(t->s->language, "drop %s"), cli_unit(CLI_LENGTH_FINE, t->units));
  (void)fhi_format(peak_head, sizeof peak_head, fhi_say(t->s->language, "peak %s"), cli_unit(CLI_FORCE_LARGE, t->units));
  (void)fhi_format(anchor_head, sizeof anchor_head, fhi_say(t->s->language, "anchor %s"), cli_unit(CLI_FORCE_LARGE, t->units));
  const cli_column columns[] = {{"lets go", false, 12}, {drop_head, true, 0}, {"caught by", false, 10}, {peak_head, true, 8}, {anchor_head, true, 8}, {"may be over its limit", false, 10}};
  cli_table *table = cli_table_create(columns, 6);
  if (table == NULL) {
    return FH_ERR_MEMORY;
  }
  char heading[240];
  char name[200];
  (void)fhi_format(heading, sizeof heading, fhi_say(t->s->language, "Step %d: %s"), st->step, fhi_name_said(name, sizeof name, t->s->language, st->name));
  cli_put_heading(t->s, heading);
  cli_put_wrapped(t->s, CLI_PLAIN, "", st->held);
  for (int e = 0; e < t->l->element_count; e++) {
    const fh_loss *loss = fh_lose_at(t->l, stage, e);
    if (loss->there && loss->bears) {
      add_loss(t, table, e, loss);
    }
  }
  fh_status status = cli_table_write(table, t->s);
  cli_table_destroy(table);
  return status;
}

static int wanted_step(const teller *t) {
  for (int s = 0; t->r->o->given[CLI_STEP] && s < t->l->stages->count; s++) {
    if (t->l->stages->stages[s].step == (int)t->r->o->number[CLI_STEP]) {
      return s;
    }
  }
  return -1;
}

fh_status cli_show_lose(void *context, cli_screen *s) {
  const cli_rescue *r = context;
  teller t = {s, r, r->lose, cli_options_units(r->o)};
  fh_status status = FH_OK;
  if (r->scene->title[0] != '\0') {
    cli_put_heading(s, r->scene->title);
  }
  int step = wanted_step(&t);
  if (step >= 0) {
    status = tell_one(&t, step);
  } else if (t.l->element_count > 0) {
    tell_steps(&t);
    status = tell_elements(&t);
  } else {
    cli_put_wrapped(s, CLI_BAD, fhi_say(s->language, "NO  "), t.l->why);
    cli_put_findings(s, t.l->stages);
  }
  if (status == FH_OK && r->lose_chance != NULL && t.l->element_count > 0) {
    status = cli_show_lose_chance(t.l, r->lose_chance, step, t.units, s);
  }
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, FHI_CAUTION));
  return status;
}
