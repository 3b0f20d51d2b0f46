// SPDX-License-Identifier: MIT
// What does plan say? Whether anything works, the best rigs by each wish, the list, how each is built, and how far the
// search went. A list for people is short: --rows lengthens it, --json and --csv hold all.
#include "show_plan.h"

#include <math.h>
#include <string.h>

#include "memory.h"
#include "report.h"
#include "table.h"
#include "units.h"
#include "words.h"

enum { ROWS = 12, CELLS = 10, WISH_COUNT = 4 };

typedef struct teller {
  const cli_planned *p;
  cli_screen *s;
  fh_units units;
  int possible, sure;    // rigs that work at the likely figures, and at the worst ones
  int best[WISH_COUNT];  // by each wish, or -1
  int first_sure;        // the best ranked one that works at the worst figures too, or -1
} teller;

typedef bool (*better_fn)(const fh_plan *a, const fh_plan *b);

static bool less_pull(const fh_plan *a, const fh_plan *b) {
  return a->hand_force.likely < b->hand_force.likely;
}

static bool less_time(const fh_plan *a, const fh_plan *b) {
  return a->time_rests < b->time_rests;
}

static bool fewer_pieces(const fh_plan *a, const fh_plan *b) {
  return a->pieces < b->pieces || (a->pieces == b->pieces && less_pull(a, b));
}

static bool wider_margin(const fh_plan *a, const fh_plan *b) {
  return a->worst_margin > b->worst_margin;
}

static const struct {
  const char *name;
  better_fn better;
} WISHES[WISH_COUNT] = {{"Least pull", less_pull}, {"Least time", less_time}, {"Fewest pieces", fewer_pieces}, {"Widest margin", wider_margin}};

static bool is_sure(const fh_plan *plan) {
  return plan->possible && plan->hand_force.hi <= plan->crew.force.lo && plan->worst_margin >= 1.0 && fhi_over_edge_answer(&plan->over_edge) == FHI_ANSWER_YES;
}

// Among rigs that work even at the worst figures, those that do not must be told apart: YES is not said of them.
static bool is_doubtful(const teller *t, const fh_plan *plan) {
  return t->sure > 0 && plan->possible && !is_sure(plan);
}

static void look_through(teller *t) {
  const fh_plan *plans = t->p->plans->plans;
  t->first_sure = -1;
  for (int k = 0; k < WISH_COUNT; k++) {
    t->best[k] = -1;
  }
  for (int i = 0; i < t->p->plans->count; i++) {
    t->possible += plans[i].possible ? 1 : 0;
    t->sure += is_sure(&plans[i]) ? 1 : 0;
    t->first_sure = t->first_sure < 0 && is_sure(&plans[i]) ? i : t->first_sure;
    for (int k = 0; k < WISH_COUNT && plans[i].possible; k++) {
      t->best[k] = t->best[k] < 0 || WISHES[k].better(&plans[i], &plans[t->best[k]]) ? i : t->best[k];
    }
  }
}

// ---------------------------------------------------------------------------------------------------- the answer

// The first rig that works and is pulled that way. @return NULL when there is none
static const fh_plan *pulled(const teller *t, bool toward_lip) {
  for (int i = 0; i < t->p->plans->count; i++) {
    if (t->p->plans->plans[i].possible && t->p->plans->plans[i].toward_lip == toward_lip) {
      return &t->p->plans->plans[i];
    }
  }
  return NULL;
}

// Toward the lip a crew pulls another way than back from it: the figure is that of the rigs told.
static void crew_sentence(const teller *t, char *to, size_t size) {
  char can[CLI_NUMBER];
  char other[CLI_NUMBER];
  const fh_plan *back = pulled(t, false);
  const fh_plan *lip = pulled(t, true);
  to[0] = '\0';
  if (t->p->scene->crew_count == 0 || (back == NULL && lip == NULL)) {
    return;
  }
  (void)cli_band(can, (back != NULL ? back : lip)->crew.force, CLI_FORCE, t->units, t->s->language);
  (void)cli_band(other, (lip != NULL ? lip : back)->crew.force, CLI_FORCE, t->units, t->s->language);
  if (strcmp(can, other) == 0) {
    (void)fhi_format(to, size, fhi_say(t->s->language, " This crew can pull %s for a short effort."), can);
  } else {
    (void)fhi_format(to, size, fhi_say(t->s->language, " For a short effort this crew can pull %s back from the lip, %s toward it."), can, other);
  }
}

static void tell_answer(const teller *t) {
  char crew[200];
  char text[700];
  char missing[sizeof t->p->plans->missing + 100];
  (void)fhi_said(missing, sizeof missing, t->p->plans->missing, t->units);
  crew_sentence(t, crew, sizeof crew);
  const char *rigs = t->possible == 1 ? fhi_say(t->s->language, "rig") : fhi_say(t->s->language, "rigs");
  if (t->possible == 0 && t->p->plans->stopped) {
    cli_put_wrapped(t->s, CLI_WARN, fhi_say(t->s->language, "STOPPED  "), fhi_say(t->s->language, "The search ended before it found a rig that works. This is no answer."));
  } else if (t->possible == 0) {
    const char *none = t->p->plans->less_likely > 0 ? "No rig of this kit raises the load at the likely figures; those below might, with luck.%s%s%s"
                                                   : "Nothing that this kit can build raises the load.%s%s%s";
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, none), missing[0] != '\0' ? fhi_say(t->s->language, " Missing: ") : "",
                     missing, missing[0] != '\0' ? "." : "");
    cli_put_wrapped(t->s, CLI_BAD, fhi_say(t->s->language, "NO  "), text);
  } else if (t->p->scene->crew_count == 0) {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%d %s can be built. The scene names no crew to compare the pull with."), t->possible, rigs);
    cli_put_wrapped(t->s, CLI_WARN, "", text);
  } else if (t->sure > 0) {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%d %s of this kit can do it, %d even at the worst figures.%s"), t->possible, rigs, t->sure, crew);
    cli_put_wrapped(t->s, CLI_GOOD, fhi_say(t->s->language, "YES  "), text);
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%d %s of this kit can do it at the likely figures, none at the worst ones.%s"), t->possible, rigs, crew);
    cli_put_wrapped(t->s, CLI_WARN, fhi_say(t->s->language, "PERHAPS  "), text);
  }
}

// The pull of a list is that of the raise below the edge.
static void tell_edge(const teller *t) {
  const fh_plans *plans = t->p->plans;
  int over = 0;
  for (int i = 0; i < plans->count; i++) {
    over += fhi_over_edge_answer(&plans->plans[i].over_edge) == FHI_ANSWER_YES ? 1 : 0;
  }
  if (plans->count > 0 && over == 0) {
    cli_put_wrapped(t->s, CLI_WARN, "  ! ", fhi_say(t->s->language, "The rope has cut in. None of these rigs gets the load over the edge as it is for sure: clear the edge before the last metre. "
                                                                    "Pull and time are those of the raise up to it."));
  }
}

static void tell_wish(const teller *t, const char *name, int index) {
  char lead[64];
  char text[300];
  char pull[CLI_NUMBER];
  char time[CLI_NUMBER];
  char margin[CLI_NUMBER];
  const fh_plan *plan = &t->p->plans->plans[index];
  (void)cli_text_pad(lead, sizeof lead, name, 15);
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "no %d: %s, %d pieces, %s, margin %s%s"), index + 1, cli_band(pull, plan->hand_force, CLI_FORCE, t->units, t->s->language),
                   plan->pieces, cli_band(time, plan->time_rests_range, CLI_MINUTES, t->units, t->s->language), cli_value(margin, plan->worst_margin, CLI_MARGIN, t->units),
                   is_doubtful(t, plan) ? fhi_say(t->s->language, "; may be too hard") : "");
  cli_put_wrapped(t->s, CLI_PLAIN, lead, text);
}

// Why the list begins where it does.
static void tell_simpler(const teller *t) {
  char said[sizeof t->p->plans->simpler + 60];
  char text[sizeof said + 100];
  (void)fhi_said(said, sizeof said, t->p->plans->simpler, t->units);
  if (said[0] != '\0') {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "Simpler rigs, and why not: %s."), said);
    cli_put(t->s, "\n");
    cli_put_wrapped(t->s, CLI_PLAIN, "", text);
  }
}

// One line for each wish: what a person in a hurry reads.
static void tell_wishes(const teller *t) {
  if (t->possible == 0) {
    return;
  }
  cli_put(t->s, "\n");
  if (t->first_sure >= 0) {
    tell_wish(t, fhi_say(t->s->language, "Even at worst"), t->first_sure);
  }
  for (int k = 0; k < WISH_COUNT; k++) {
    tell_wish(t, fhi_say(t->s->language, WISHES[k].name), t->best[k]);
  }
}

// ---------------------------------------------------------------------------------------------------- the list

// The first ones, and those that are best in something.
static bool is_listed(const teller *t, int index) {
  int rows = t->p->o->given[CLI_ROWS] ? (int)t->p->o->number[CLI_ROWS] : ROWS;
  bool listed = rows == 0 || index < rows || index == t->first_sure;
  for (int k = 0; k < WISH_COUNT; k++) {
    listed = listed || t->best[k] == index;
  }
  return listed;
}

static void add_plan(cli_table *table, const teller *t, int index) {
  const fh_plan *plan = &t->p->plans->plans[index];
  char cells[CELLS][CLI_NUMBER];
  const char *row[CELLS];
  (void)fhi_format(cells[0], CLI_NUMBER, "%d%s", index + 1, !plan->possible ? "x" : is_doubtful(t, plan) ? "?" : "");
  (void)cli_band_value(cells[1], plan->hand_force, CLI_FORCE, t->units, t->s->language);
  if (isnan(plan->chance)) {
    (void)cli_value(cells[2], plan->crew_share, CLI_SHARE, t->units);
  } else {
    (void)fhi_percent_field(cells[2], CLI_NUMBER, plan->chance);
  }
  (void)cli_value(cells[3], plan->ideal_advantage, CLI_IDEAL, t->units);
  (void)cli_value(cells[4], plan->actual_advantage, CLI_ADVANTAGE, t->units);
  (void)fhi_format(cells[5], CLI_NUMBER, "%d", plan->pieces);
  (void)cli_value(cells[6], plan->rope_needed, CLI_LENGTH, t->units);
  (void)fhi_format(cells[7], CLI_NUMBER, plan->resets < 0 ? "?" : "%d", plan->resets);
  (void)cli_value(cells[8], plan->time_rests, CLI_MINUTES, t->units);
  (void)cli_value(cells[9], plan->worst_margin, CLI_MARGIN, t->units);
  for (int i = 0; i < CELLS; i++) {
    row[i] = cells[i];
  }
  cli_table_add(table, plan->possible ? CLI_PLAIN : CLI_DIM, row);
}

static bool ranked_by_chance(const fh_plans *plans) {
  return plans->count > 0 && !isnan(plans->plans[0].chance);
}

static void tell_legend(const teller *t, int listed) {
  const fh_plans *plans = t->p->plans;
  char text[400];
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s margin: least limit over greatest force. rope: all ropes, with knots. min: resets and rests counted in, as haul and sheet do; its range stands below. Building comes on top."),
                   ranked_by_chance(plans) ? fhi_say(t->s->language, "chance: share of the ranges given in which the crew can pull it for a short effort, every limit holds and the rope reaches.")
                                           : fhi_say(t->s->language, "share: pull over what the crew can pull, at the likely figures."));
  cli_put_wrapped(t->s, CLI_PLAIN, "", text);
  if (t->sure > 0 && t->sure < t->possible) {
    cli_put_wrapped(t->s, CLI_PLAIN, "", fhi_say(t->s->language, "?: at the worst figures this crew cannot pull it."));
  }
  if (t->possible < plans->count) {
    cli_put_wrapped(t->s, CLI_PLAIN, "", fhi_say(t->s->language, "x: does not work here (rope, crew or a limit)."));
  }
  if (listed < plans->count) {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%d more were kept: --rows 0 lists all, --csv and --json hold all."), plans->count - listed);
    cli_put_wrapped(t->s, CLI_PLAIN, "", text);
  }
}

static fh_status tell_table(const teller *t) {
  char pull[40];
  char rope[40];
  (void)fhi_format(pull, sizeof pull, fhi_say(t->s->language, "pull %s"), cli_unit(CLI_FORCE, t->units));
  (void)fhi_format(rope, sizeof rope, fhi_say(t->s->language, "rope %s"), cli_unit(CLI_LENGTH, t->units));
  bool chance = ranked_by_chance(t->p->plans);
  const cli_column columns[CELLS] = {{"#", true, 0},      {pull, false, 10}, {chance ? "chance %" : "share", true, 0},  {"ideal", true, 0}, {"actual", true, 0},
                                     {"pieces", true, 0}, {rope, true, 4},   {"resets", true, 0}, {"min", true, 0},   {"margin", true, 0}};
  cli_table *table = cli_table_create(columns, CELLS);
  int listed = 0;
  if (table == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < t->p->plans->count; i++) {
    if (is_listed(t, i)) {
      add_plan(table, t, i);
      listed++;
    }
  }
  cli_put(t->s, "\n");
  fh_status status = cli_table_write(table, t->s);
  cli_table_destroy(table);
  tell_legend(t, listed);
  return status;
}

// Why it was kept, and how it is built, in a few words.
static fh_status tell_words(const teller *t, fh_rig *rig, int index) {
  fh_status status = fh_plan_rig(t->p->scene, t->p->gear, t->p->plans, index, rig);
  if (status != FH_OK) {
    return status;
  }
  char lead[16];
  char line[FHI_WORDS];
  char time[CLI_NUMBER];
  const fh_plan *plan = &t->p->plans->plans[index];
  (void)fhi_format(lead, sizeof lead, "%d  ", index + 1);
  (void)fhi_format(line, sizeof line, "%s; %s", plan->why, cli_band(time, plan->time_rests_range, CLI_MINUTES, t->units, t->s->language));
  cli_put_wrapped(t->s, CLI_BOLD, lead, line);
  for (int i = 0; i < rig->path_count; i++) {
    fhi_words_short(rig, t->p->gear, i, t->p->scene->language, line);
    cli_put_wrapped(t->s, CLI_PLAIN, "   ", line);
  }
  return FH_OK;
}

// A rig for which the crew lacks pull: what it takes, by how much, and how it is built.
static fh_status tell_less_likely(const teller *t, fh_rig *rig, int index) {
  fh_status status = fh_plan_rig(t->p->scene, t->p->gear, t->p->plans, index, rig);
  if (status != FH_OK) {
    return status;
  }
  char lead[16];
  char text[700];
  char line[FHI_WORDS];
  char why[sizeof t->p->plans->plans->why + 60];
  char ideal[CLI_NUMBER];
  char pull[CLI_NUMBER];
  char time[CLI_NUMBER];
  char margin[CLI_NUMBER];
  const fh_plan *plan = &t->p->plans->plans[index];
  (void)fhi_said(why, sizeof why, plan->why, t->units);
  (void)fhi_format(lead, sizeof lead, "%dx  ", index + 1);  // as in the list of all rigs: does not work here
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s:1, pieces %d, %s, %s, margin %s; %s"), cli_value(ideal, plan->ideal_advantage, CLI_IDEAL, t->units), plan->pieces,
                   cli_band(pull, plan->hand_force, CLI_FORCE, t->units, t->s->language), cli_band(time, plan->time_rests_range, CLI_MINUTES, t->units, t->s->language),
                   cli_value(margin, plan->worst_margin, CLI_MARGIN, t->units), why);
  cli_put_wrapped(t->s, CLI_DIM, lead, text);
  for (int i = 0; i < rig->path_count; i++) {
    fhi_words_short(rig, t->p->gear, i, t->s->language, line);
    cli_put_wrapped(t->s, CLI_PLAIN, "   ", line);
  }
  return FH_OK;
}

static fh_status tell_all_less_likely(const teller *t) {
  const fh_plans *plans = t->p->plans;
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  fh_status status = rig == NULL ? FH_ERR_MEMORY : FH_OK;
  if (plans->less_likely > 0) {
    cli_put(t->s, "\n");
    cli_put_wrapped(t->s, CLI_WARN, "", fhi_say(t->s->language, "Simpler, but less likely: at the likely figures the crew lacks pull. check says no to these."));
  }
  for (int i = plans->count; i < plans->count + plans->less_likely && status == FH_OK; i++) {
    status = tell_less_likely(t, rig, i);
  }
  fhi_free(rig);
  return status;
}

static fh_status tell_list(const teller *t) {
  fh_status status = tell_table(t);
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  status = rig == NULL ? FH_ERR_MEMORY : status;
  cli_put(t->s, "\n");
  for (int i = 0; i < t->p->plans->count && status == FH_OK; i++) {
    if (is_listed(t, i)) {
      status = tell_words(t, rig, i);
    }
  }
  fhi_free(rig);
  return status;
}

static void tell_search(const teller *t) {
  const fh_plans *plans = t->p->plans;
  char text[700];
  char bounds[sizeof plans->bounds + 100];
  (void)fhi_said(bounds, sizeof bounds, plans->bounds, t->units);
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%lld rigs built, %lld of them sound; with pieces put in, %lld different; %d kept. Bounds: %s."),
                   (long long)plans->searched, (long long)plans->sound, (long long)plans->distinct, plans->count, bounds);
  cli_put(t->s, "\n");
  cli_put_wrapped(t->s, CLI_PLAIN, fhi_say(t->s->language, "Search: "), text);
  if (plans->stopped) {
    cli_put_wrapped(t->s, CLI_WARN, "! ", fhi_say(t->s->language, "The search was stopped before its end: there may be better rigs."));
  }
}

fh_status cli_show_plans(void *context, cli_screen *s) {
  const cli_planned *p = context;
  teller t = {.p = p, .s = s, .units = cli_options_units(p->o)};
  fh_status status = FH_OK;
  look_through(&t);
  if (p->scene->title[0] != '\0') {
    cli_put_heading(s, p->scene->title);
  }
  tell_answer(&t);
  tell_edge(&t);
  tell_simpler(&t);
  if (p->plans->count > 0) {
    tell_wishes(&t);
    status = tell_list(&t);
  }
  status = status == FH_OK ? tell_all_less_likely(&t) : status;
  tell_search(&t);
  cli_put(s, "\n");
  if (p->plans->count + p->plans->less_likely > 0) {
    cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, "firnhaul plan FILE --pick N works one out in full; --yaml with it keeps it as a scene."));
  }
  cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, FHI_CAUTION));
  return status;
}
