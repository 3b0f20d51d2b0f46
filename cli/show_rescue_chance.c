// SPDX-License-Identifier: MIT
// What do the chances of a raise and of what lets go say to people?
#include <math.h>
#include <string.h>

#include "rescue.h"
#include "rescue_chance.h"
#include "table.h"
#include "words.h"

static void samples(cli_screen *s, int64_t count, uint64_t seed, double error) {
  char text[200], off[16];
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%lld samples, seed %llu; by counting alone it may be off by %s %%"), (long long)count, (unsigned long long)seed,
                   fhi_fixed(off, sizeof off, ceil(2000.0 * error) / 10.0, 1));
  cli_put_wrapped(s, CLI_DIM, "  ", text);
}

// Chances over no ranges are no chances: that is said, not hidden behind a round figure.
static void say_what_is_open(const fh_unknown *list, int count, cli_screen *s) {
  bool said = false;
  for (int i = 0; i < count; i++) {
    said = said || list[i].number.line > 0;
  }
  if (!said) {
    cli_put_wrapped(s, CLI_WARN, "  ! ", fhi_say(s->language, count > 0 ? "no number that this scene gives is a range: only defaults and the catalogue's figures are open here"
                                                                        : "nothing is open here: what counts as sure or as impossible is one run with the numbers given"));
  }
}

// ---------------------------------------------------------------------------------------------------- haul

static void whole_raise(const fh_haul_chance *c, cli_screen *s) {
  char text[900], a[24], b[24], d[24], e[24];
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "the raise goes well in %s of the samples"), cli_percent(a, sizeof a, s->language, c->all));
  cli_put_wrapped(s, CLI_BOLD, "  ", text);
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "the load comes up to the lip in %s; the rope is long enough in %s; every limit holds in %s"), cli_percent(a, sizeof a, s->language, c->works),
                   cli_percent(b, sizeof b, s->language, c->rope), cli_percent(d, sizeof d, s->language, c->limits));
  cli_put_wrapped(s, CLI_PLAIN, "  - ", text);
  if (!isnan(c->crew)) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "the crew can do the hardest moment, over the lip as it is (%s), in %s (for minutes: %s); up to the lip in %s (for minutes: %s)"),
                     fhi_say(s->language, c->lip_name), cli_percent(a, sizeof a, s->language, c->crew), cli_percent(b, sizeof b, s->language, c->lasts), cli_percent(d, sizeof d, s->language, c->crew_to_lip),
                     cli_percent(e, sizeof e, s->language, c->lasts_to_lip));
    cli_put_wrapped(s, CLI_PLAIN, "  - ", text);
  }
}

static void counts(cli_screen *s, const char *name, fh_band b) {
  char text[200], lead[64], lo[16], mid[16], hi[16];
  (void)cli_text_pad(lead, sizeof lead, name, 11);
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s in the middle; nine of ten samples lie from %s to %s"), fhi_fixed(mid, sizeof mid, b.likely, 0), fhi_fixed(lo, sizeof lo, b.lo, 0),
                   fhi_fixed(hi, sizeof hi, b.hi, 0));
  cli_put_wrapped(s, CLI_PLAIN, lead, text);
}

// What cannot be pulled at all is no number.
static void force(cli_screen *s, const char *name, fh_band b, fh_units units) {
  char lo[CLI_NUMBER], mid[CLI_NUMBER], text[400], lead[64];
  if (isfinite(b.hi)) {
    cli_put_spread(s, name, b, CLI_FORCE, units);
    return;
  }
  (void)cli_text_pad(lead, sizeof lead, name, 11);
  if (!isfinite(b.likely)) {
    (void)fhi_copy(text, sizeof text, fhi_say(s->language, "jams in the middle of the samples"));
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s in the middle; nine of ten samples lie from %s to where it jams"), cli_amount(mid, b.likely, CLI_FORCE, units),
                     cli_amount(lo, b.lo, CLI_FORCE, units));
  }
  cli_put_wrapped(s, CLI_PLAIN, lead, text);
}

static void ways_over(const fh_haul_chance *c, cli_screen *s) {
  char text[300], a[24], b[24], lead[64];
  for (int i = 0; i < c->lip_count && !isnan(c->crew); i++) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s: the crew can in %s (for minutes: %s)"), fhi_say(s->language, c->lip[i].name), cli_percent(a, sizeof a, s->language, c->lip[i].crew),
                     cli_percent(b, sizeof b, s->language, c->lip[i].lasts));
    cli_put_wrapped(s, CLI_PLAIN, i == 0 ? cli_text_pad(lead, sizeof lead, fhi_say(s->language, "Over it"), 11) : "           ", text);
  }
}

void cli_show_haul_chance(const fh_haul_chance *c, bool refused, fh_units units, cli_screen *s) {
  char text[900], lead[64];
  cli_put(s, "\n");
  cli_put_heading(s, fhi_say(s->language, "Chance of the raise, as far as the ranges given are right"));
  if (c->outcome != FH_OUTCOME_SOLVED) {
    cli_put_wrapped(s, CLI_BAD, "  - ", fhi_say(s->language, "none: this rig does not raise the load"));
    return;
  }
  if (refused) {
    cli_put_wrapped(s, CLI_BAD, fhi_say(s->language, "  NO: "), fhi_say(s->language, "this rig must not be built so, see above; what follows counts the raise alone, not what lets go"));
  }
  say_what_is_open(c->unknown, c->unknown_count, s);
  whole_raise(c, s);
  samples(s, c->samples, c->seed, c->error);
  if (c->works > 0.0) {
    counts(s, fhi_say(s->language, "Strokes"), c->strokes);
    counts(s, fhi_say(s->language, "Resets"), c->resets);
    cli_put_spread(s, fhi_say(s->language, "Time"), c->time, CLI_MINUTES, units);
    cli_put_spread(s, fhi_say(s->language, "Rope"), c->rope_pulled, CLI_LENGTH, units);
    cli_put_spread(s, fhi_say(s->language, "Stretch"), c->stretch_lost, CLI_LENGTH_FINE, units);
    cli_put_spread(s, fhi_say(s->language, "Set-back"), c->set_back, CLI_LENGTH_FINE, units);
    char low[24], mid[24], high[24];
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s kJ in the middle; nine of ten samples lie from %s to %s kJ"), fhi_fixed(mid, sizeof mid, c->work.likely / 1000.0, 1),
                     fhi_fixed(low, sizeof low, c->work.lo / 1000.0, 1), fhi_fixed(high, sizeof high, c->work.hi / 1000.0, 1));
    cli_put_wrapped(s, CLI_PLAIN, cli_text_pad(lead, sizeof lead, fhi_say(s->language, "Work"), 11), text);
    cli_put_spread(s, fhi_say(s->language, "Hand pull"), c->pull, CLI_FORCE, units);
    force(s, fhi_say(s->language, "Greatest"), c->greatest, units);
    cli_put_spread(s, fhi_say(s->language, "Crew"), c->capacity, CLI_FORCE, units);
    ways_over(c, s);
  }
  if (fh_haul_chance_words(c, text, sizeof text)[0] != '\0') {
    cli_put_wrapped(s, CLI_BOLD, cli_text_pad(lead, sizeof lead, fhi_say(s->language, "Why"), 11), text);
  }
  cli_put_stood(s, (const char (*)[64])c->stood, c->stood_count);
}

// ---------------------------------------------------------------------------------------------------- lose

// Losses: an element at a step where the load hangs on it. @param only index of the one step, or -1: all of them
static void everything(const fh_lose_chance *c, int only, fh_units units, cli_screen *s) {
  char text[400];
  int all = 0, sure = 0, never = 0;
  for (int i = 0; i < c->stages * c->elements; i++) {
    const fh_loss_chance *x = &c->losses[i];
    bool counts = x->there > 0.0 && x->bears > 0.0 && (only < 0 || i / c->elements == only);
    all += counts;
    sure += counts && x->held >= 1.0;
    never += counts && x->held <= 0.0;
  }
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "of %d losses on which the load hangs%s %d are caught and borne in every sample, %d in some, %d in none"), all,
                   fhi_say(s->language, only < 0 ? " (an element at a step)" : " at this step"), sure, all - sure - never, never);
  cli_put_wrapped(s, CLI_BOLD, "  ", text);
  samples(s, c->samples, c->seed, c->error);
  if (only < 0) {
    cli_put_spread(s, fhi_say(s->language, "Farthest"), c->drop, CLI_LENGTH_FINE, units);
    cli_put_spread(s, fhi_say(s->language, "Hardest"), c->peak, CLI_FORCE_LARGE, units);
  }
}

// The step at which an element is worst: caught least, then borne least, then with the hardest catch. @return its index, or -1
static int worst_step(const fh_lose_chance *c, int element, int only) {
  int worst = -1;
  for (int i = only >= 0 ? only : 0; i < (only >= 0 ? only + 1 : c->stages); i++) {
    const fh_loss_chance *x = &c->losses[i * c->elements + element];
    const fh_loss_chance *w = worst < 0 ? NULL : &c->losses[worst * c->elements + element];
    if (!(x->there > 0.0) || !(x->bears > 0.0)) {
      continue;
    }
    bool worse = w == NULL || x->caught < w->caught || (x->caught <= w->caught && (x->held < w->held || (x->held <= w->held && x->peak.hi > w->peak.hi)));
    worst = worse ? i : worst;
  }
  return worst;
}

// "0.42, up to 0.55"
static const char *middle_up_to(char *to, fh_band b, cli_quantity q, fh_units units, fh_language language) {
  char mid[CLI_NUMBER], hi[CLI_NUMBER];
  to[0] = '\0';
  if (!isnan(b.likely)) {
    (void)fhi_format(to, 2 * CLI_NUMBER, fhi_say(language, "%s, up to %s"), cli_value(mid, b.likely, q, units), cli_value(hi, b.hi, q, units));
  }
  return to;
}

static void add_row(cli_table *table, const fh_lose *lose, const fh_lose_chance *c, int step, int element, fh_units units, const cli_screen *s) {
  const fh_loss_chance *x = &c->losses[step * c->elements + element];
  char at[16], caught[24], held[24], drop[2 * CLI_NUMBER], peak[2 * CLI_NUMBER];
  (void)fhi_format(at, sizeof at, "%d", lose->stages->stages[step].step);
  cli_table_add(table, x->held < 1.0 ? CLI_WARN : CLI_PLAIN,
                (const char *const[]){lose->elements[element].name, at, cli_percent(caught, sizeof caught, s->language, x->caught), cli_percent(held, sizeof held, s->language, x->held),
                                      middle_up_to(drop, x->drop, CLI_LENGTH_FINE, units, s->language), middle_up_to(peak, x->peak, CLI_FORCE_LARGE, units, s->language)});
}

fh_status cli_show_lose_chance(const fh_lose *lose, const fh_lose_chance *c, int step, fh_units units, cli_screen *s) {
  char drop_head[40], peak_head[40];
  (void)fhi_format(drop_head, sizeof drop_head, fhi_say(s->language, "drop %s"), cli_unit(CLI_LENGTH_FINE, units));
  (void)fhi_format(peak_head, sizeof peak_head, fhi_say(s->language, "peak %s"), cli_unit(CLI_FORCE_LARGE, units));
  const cli_column columns[] = {{"lets go", false, 16}, {"at", true, 0}, {"caught", true, 0}, {"borne", true, 0}, {drop_head, true, 8}, {peak_head, true, 8}};
  cli_table *table = cli_table_create(columns, 6);
  if (table == NULL) {
    return FH_ERR_MEMORY;
  }
  cli_put(s, "\n");
  cli_put_heading(s, fhi_say(s->language, "Chance that it is caught, as far as the ranges given are right"));
  say_what_is_open(c->unknown, c->unknown_count, s);
  if (c->rope < 1.0) {
    char text[200], share[24];
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "the rope reaches in %s of the samples only; what follows counts the others as if it did"),
                     cli_percent(share, sizeof share, s->language, c->rope));
    cli_put_wrapped(s, c->rope > 0.0 ? CLI_WARN : CLI_BAD, "  ! ", text);
  }
  everything(c, step, units, s);
  for (int e = 0; e < c->elements; e++) {
    int at = worst_step(c, e, step);
    if (at >= 0) {
      add_row(table, lose, c, at, e, units, s);
    }
  }
  cli_put_wrapped(s, CLI_DIM, "  ", fhi_say(s->language, step >= 0 ? "This step. Drop and peak: the middle of those caught, and what one of twenty goes beyond."
                                             : "Each element at the step where it is worst. Drop and peak: the middle of those caught, and what one of twenty goes beyond."));
  fh_status status = cli_table_write(table, s);
  cli_table_destroy(table);
  cli_put_stood(s, (const char (*)[64])c->stood, c->stood_count);
  return status;
}
