// SPDX-License-Identifier: MIT
// What does plan say? Whether anything works, the best rig's pull, the list, how each is built, and how far the search went.
#include "show_plan.h"

#include <math.h>

#include "memory.h"
#include "report.h"
#include "table.h"
#include "units.h"

enum { LISTED_IN_WORDS = 12 };  // a list that --all makes may have thousands: their words are in --json and --csv

static int possible_count(const fh_plans *plans) {
  int n = 0;
  for (int i = 0; i < plans->count; i++) {
    n += plans->plans[i].possible ? 1 : 0;
  }
  return n;
}

static void tell_yes(const cli_planned *p, cli_screen *s, int possible) {
  const fh_plan *best = &p->plans->plans[0];
  fh_units units = cli_options_units(p->o);
  fh_pull crew = fh_crew_pull(p->scene, p->gear);
  char pull[CLI_NUMBER];
  char can[CLI_NUMBER];
  char text[400];
  bool known = isfinite(best->crew_share);
  (void)fhi_format(text, sizeof text, "%d %s of this kit can do it. The first needs a pull of %s%s%s%s.", possible, possible == 1 ? "rig" : "rigs",
                   cli_band(pull, best->hand_force, CLI_FORCE, units), known ? "; this crew can pull " : "",
                   known ? cli_band(can, crew.force, CLI_FORCE, units) : "", known ? " for a short effort" : "");
  // A yes at the likely values only, when the high pull is more than the low end of the crew.
  bool sure = known && best->hand_force.hi <= crew.force.lo && best->worst_margin >= 1.0;
  cli_put_wrapped(s, sure ? CLI_GOOD : CLI_WARN, sure ? "YES  " : "LIKELY  ", text);
}

static void tell_answer(const cli_planned *p, cli_screen *s) {
  int possible = possible_count(p->plans);
  char text[600];
  if (possible > 0) {
    tell_yes(p, s, possible);
    return;
  }
  (void)fhi_format(text, sizeof text, "Nothing that this kit can build raises the load.%s%s", p->plans->missing[0] != '\0' ? " Missing: " : "",
                   p->plans->missing);
  cli_put_wrapped(s, CLI_BAD, "NO  ", text);
}

static void add_plan(cli_table *t, const fh_plan *plan, int number, fh_units units) {
  char cells[11][CLI_NUMBER];
  (void)fhi_format(cells[0], CLI_NUMBER, "%d", number);
  (void)cli_band_value(cells[1], plan->hand_force, CLI_FORCE, units);
  (void)cli_value(cells[2], plan->crew_share, CLI_SHARE, units);
  (void)cli_value(cells[3], plan->ideal_advantage, CLI_IDEAL, units);
  (void)cli_value(cells[4], plan->actual_advantage, CLI_ADVANTAGE, units);
  (void)fhi_format(cells[5], CLI_NUMBER, "%d", plan->pieces);
  (void)cli_value(cells[6], plan->rope_needed, CLI_LENGTH, units);
  (void)fhi_format(cells[7], CLI_NUMBER, plan->resets < 0 ? "?" : "%d", plan->resets);
  (void)cli_value(cells[8], plan->time, CLI_MINUTES, units);
  (void)cli_value(cells[9], plan->worst_margin, CLI_MARGIN, units);
  (void)fhi_copy(cells[10], CLI_NUMBER, plan->possible ? "yes" : "no");
  const char *row[11];
  for (int i = 0; i < 11; i++) {
    row[i] = cells[i];
  }
  cli_table_add(t, plan->possible ? CLI_PLAIN : CLI_DIM, row);
}

static fh_status tell_table(const cli_planned *p, cli_screen *s) {
  fh_units units = cli_options_units(p->o);
  char pull[24];
  char rope[24];
  (void)fhi_format(pull, sizeof pull, "pull %s", cli_unit(CLI_FORCE, units));
  (void)fhi_format(rope, sizeof rope, "rope %s", cli_unit(CLI_LENGTH, units));
  const cli_column columns[] = {{"no", true, 0}, {pull, false, 10}, {"share", true, 0}, {"ideal", true, 0}, {"actual", true, 0}, {"pieces", true, 0},
                                {rope, true, 4}, {"resets", true, 0}, {"time min", true, 4}, {"margin", true, 0}, {"works", false, 0}};
  cli_table *t = cli_table_create(columns, 11);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < p->plans->count; i++) {
    add_plan(t, &p->plans->plans[i], i + 1, units);
  }
  cli_put(s, "\n");
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  return status;
}

static fh_status tell_words(const cli_planned *p, cli_screen *s, fh_rig *rig, int index) {
  const fh_plan *plan = &p->plans->plans[index];
  fh_status status = fh_plan_rig(p->scene, p->gear, p->plans, index, rig);
  if (status != FH_OK) {
    return status;
  }
  char lead[16];
  char line[FHI_WORDS];
  (void)fhi_format(lead, sizeof lead, "%d  ", index + 1);
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_BOLD, lead, plan->why);
  for (int i = 0; i < rig->path_count; i++) {
    fhi_words_path(rig, p->gear, i, cli_options_units(p->o), line);
    cli_put_wrapped(s, CLI_PLAIN, "   ", line);
  }
  for (int i = 0; i < rig->grip_count; i++) {
    fhi_words_grip(rig, p->gear, i, cli_options_units(p->o), line);
    cli_put_wrapped(s, CLI_PLAIN, "   ", line);
  }
  return FH_OK;
}

static void tell_search(const cli_planned *p, cli_screen *s) {
  const fh_plans *plans = p->plans;
  char text[700];
  (void)fhi_format(text, sizeof text, "%lld rigs built, %lld of them sound, %lld different, %d kept. Bounds: %s", (long long)plans->searched,
                   (long long)plans->sound, (long long)plans->distinct, plans->count, plans->bounds);
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_PLAIN, "Search: ", text);
  if (plans->stopped) {
    cli_put_wrapped(s, CLI_WARN, "! ", "The search was stopped before its end: there may be better rigs.");
  }
}

fh_status cli_show_plans(void *context, cli_screen *s) {
  const cli_planned *p = context;
  fh_status status = FH_OK;
  if (p->scene->title[0] != '\0') {
    cli_put_wrapped(s, CLI_BOLD, "", p->scene->title);
  }
  tell_answer(p, s);
  if (p->plans->count > 0) {
    status = tell_table(p, s);
  }
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  status = rig == NULL ? FH_ERR_MEMORY : status;
  for (int i = 0; i < p->plans->count && i < LISTED_IN_WORDS && status == FH_OK; i++) {
    status = tell_words(p, s, rig, i);
  }
  fhi_free(rig);
  if (p->plans->count > LISTED_IN_WORDS) {
    cli_put(s, "\n");
    cli_put_wrapped(s, CLI_PLAIN, "", "How the others are built: --pick N, --json or --csv.");
  }
  tell_search(p, s);
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_PLAIN, "", "firnhaul plan FILE --pick N works one out in full; --yaml keeps it as a scene.");
  cli_put_wrapped(s, CLI_PLAIN, "", FHI_CAUTION);
  return status;
}
