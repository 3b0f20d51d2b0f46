// SPDX-License-Identifier: MIT
// What does rope say? Where the rope goes, what either end has for a loop or a raise, and the widest spacing.
#include <math.h>

#include "report.h"
#include "rescue.h"
#include "words.h"

static void tell_need(cli_screen *s, const char *name, double needs, double has, double missing, fh_units units) {
  char a[CLI_NUMBER];
  char b[CLI_NUMBER];
  char c[CLI_NUMBER];
  char text[300];
  if (missing > 0.0) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "needs %s, has %s: %s missing"), cli_amount(a, needs, CLI_LENGTH, units), cli_amount(b, has, CLI_LENGTH, units),
                     cli_amount(c, missing, CLI_LENGTH, units));
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "needs %s, has %s: enough"), cli_amount(a, needs, CLI_LENGTH, units), cli_amount(b, has, CLI_LENGTH, units));
  }
  cli_put_fact(s, name, text);
}

static void tell_end(cli_screen *s, const char *heading, const fh_budget_end *end, fh_units units) {
  char a[CLI_NUMBER];
  char b[CLI_NUMBER];
  char text[300];
  cli_put(s, "\n");
  cli_put_heading(s, heading);
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s in the coils; %s with the free spans"), cli_amount(a, end->spare, CLI_LENGTH, units),
                   cli_amount(b, end->usable, CLI_LENGTH, units));
  cli_put_fact(s, fhi_say(s->language, "Rope"), text);
  tell_need(s, fhi_say(s->language, "Drop loop"), end->loop_needs, end->usable, end->loop_missing, units);
  if (end->loop_missing_anchored > end->loop_missing) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s missing when the anchor's distance from the lip counts as well"), cli_amount(a, end->loop_missing_anchored, CLI_LENGTH, units));
    cli_put_fact(s, "", text);
  }
  tell_need(s, fhi_say(s->language, "Direct raise"), end->raise_needs, end->usable, end->raise_missing, units);
}

static void tell_widest(cli_screen *s, const fh_budget_out *b, fh_units units) {
  char a[CLI_NUMBER];
  cli_put(s, "\n");
  cli_put_heading(s, fhi_say(s->language, "Widest spacing that still leaves enough"));
  cli_put_fact(s, fhi_say(s->language, "Drop loop"), cli_amount(a, b->widest_loop, CLI_LENGTH, units));
  char text[200];
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s with the anchor's distance from the lip"), cli_amount(a, b->widest_loop_anchored, CLI_LENGTH, units));
  cli_put_fact(s, "", text);
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s when only the first one can fall and all spare rope is with the last"), cli_amount(a, b->widest_loop_last, CLI_LENGTH, units));
  cli_put_fact(s, "", text);
  cli_put_fact(s, fhi_say(s->language, "Direct raise"), cli_amount(a, b->widest_raise, CLI_LENGTH, units));
}

static void tell_answer(cli_screen *s, const cli_rescue *r) {
  const fh_budget_out *b = &r->budget;
  if (isnan(r->budget_in.spacing)) {
    cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, "The scene names no team, so there is no spacing to judge; two people are taken."));
  } else if (b->free_rope < 0.0) {
    cli_put_wrapped(s, CLI_BAD, fhi_say(s->language, "NO  "), fhi_say(s->language, "The rope is too short for this spacing."));
  } else if (b->loop_enough && b->raise_enough) {
    cli_put_wrapped(s, CLI_GOOD, fhi_say(s->language, "YES  "), fhi_say(s->language, "Enough for a drop loop and for a direct raise, whoever of the two ends falls."));
  } else if (b->loop_enough || b->raise_enough) {
    cli_put_wrapped(s, CLI_WARN, fhi_say(s->language, "IN PART  "),
                    fhi_say(s->language, b->loop_enough ? "Enough for a drop loop, not for a direct raise." : "Enough for a direct raise, not for a drop loop."));
  } else {
    cli_put_wrapped(s, CLI_BAD, fhi_say(s->language, "NO  "), fhi_say(s->language, "Not enough for a drop loop or a direct raise when either end may fall."));
  }
}

fh_status cli_show_rope(void *context, cli_screen *s) {
  const cli_rescue *r = context;
  const fh_budget_in *in = &r->budget_in;
  const fh_budget_out *b = &r->budget;
  fh_units units = cli_options_units(r->o);
  char a[CLI_NUMBER];
  char c[CLI_NUMBER];
  char d[CLI_NUMBER];
  char text[300];
  if (r->scene->title[0] != '\0') {
    cli_put_heading(s, r->scene->title);
  }
  tell_answer(s, r);
  cli_put(s, "\n");
  if (isnan(in->spacing)) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s for %d people"), cli_amount(a, in->length, CLI_LENGTH, units), in->people);
    cli_put_fact(s, fhi_say(s->language, "Rope"), text);
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s for %d people, %s apart"), cli_amount(a, in->length, CLI_LENGTH, units), in->people,
                     cli_amount(c, in->spacing, CLI_LENGTH, units));
    cli_put_fact(s, fhi_say(s->language, "Rope"), text);
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s between the people, %s in knots, %s in tie-ins"), cli_amount(a, b->spans, CLI_LENGTH, units),
                     cli_amount(c, b->in_knots, CLI_LENGTH, units), cli_amount(d, b->in_ties, CLI_LENGTH, units));
    cli_put_fact(s, fhi_say(s->language, "Taken"), text);
    cli_put_fact(s, fhi_say(s->language, "Left"), cli_amount(a, b->free_rope, CLI_LENGTH, units));
    tell_end(s, fhi_say(s->language, "The first one has fallen: rope with the last one"), &b->last, units);
    tell_end(s, fhi_say(s->language, "The last one has fallen: rope with the first one"), &b->first, units);
  }
  tell_widest(s, b, units);
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, "The needs are the taught rule of twice the spacing for a loop; knots jam at the edge and are not counted as rope to haul with."));
  cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, FHI_CAUTION));
  return FH_OK;
}
