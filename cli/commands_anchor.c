// SPDX-License-Identifier: MIT
// firnhaul anchor: what the rig hangs on, point by point, in the form that was asked for.
#include "commands.h"

#include <math.h>
#include <stdio.h>

#include "firnhaul_anchor.h"
#include "memory.h"
#include "table.h"
#include "units.h"
#include "words.h"

typedef struct hung {
  const cli_options *o;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_anchor *anchor;
  fh_anchorage a;
} hung;

static fh_status write_json(void *context, fh_out out) {
  const hung *h = context;
  return fh_anchor_write_json(h->scene, h->gear, h->anchor, out);
}

static fh_status write_csv(void *context, fh_out out) {
  const hung *h = context;
  return fh_anchor_write_csv(h->scene, h->gear, h->anchor, out);
}

static fh_status draw(void *context, fh_out out) {
  const hung *h = context;
  return fh_draw_anchor(h->scene, h->gear, h->anchor, cli_options_units(h->o), out);
}

static const char *kind(const hung *h, int i) {
  int kind = h->a.points[i].kind;
  return fh_gear_item(h->gear, kind) != NULL ? fhi_item_said(h->scene->language, h->gear, kind) : fhi_say(h->scene->language, "given");
}

static void tell_answer(const hung *h, cli_screen *s) {
  char margin[CLI_NUMBER], text[300];
  double worst = h->anchor->worst_margin;
  bool likely = true;
  for (int c = 0; c < FH_ANCHOR_CASES; c++) {
    const fh_anchor_case *x = &h->anchor->cases[c];
    for (int i = 0; x->known && i < h->anchor->points; i++) {
      likely = likely && x->likely[i] >= 1.0;
    }
  }
  (void)cli_value(margin, worst, CLI_MARGIN, FH_METRIC);
  if (worst >= 1.0) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "Over the ranges given it holds in every case below; the least margin is %s."), margin);
  } else {
    char chance[16];
    (void)fhi_fixed(chance, sizeof chance, floor(h->anchor->chance * 100.0), 0);
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s At the worst ends the least margin is %s. It holds in every case in %s %% of what the ranges allow."),
                     likely ? fhi_say(s->language, "It holds at the likely figures.") : fhi_say(s->language, "Most likely some case below is too much for it."), margin, chance);
  }
  cli_put_wrapped(s, worst >= 1.0 ? CLI_GOOD : likely ? CLI_WARN : CLI_BAD, worst >= 1.0 ? fhi_say(s->language, "YES  ") : likely ? fhi_say(s->language, "PERHAPS  ") : fhi_say(s->language, "NO  "), text);
  if (!h->anchor->from_rig) {
    cli_put_wrapped(s, CLI_PLAIN, "  - ", fhi_say(s->language, "the scene holds no rig that works: the load is taken to hang on the anchor without a lip"));
  }
}

static fh_status tell_points(const hung *h, cli_screen *s, fh_units units) {
  static const cli_column columns[] = {{"point", false, 10}, {"holds kN", true, 0}, {"set by", false, 6}, {"snow kN", true, 0}, {"wedge kN", true, 0}};
  static const cli_column imperial[] = {{"point", false, 10}, {"holds lbf", true, 0}, {"set by", false, 6}, {"snow lbf", true, 0}, {"wedge lbf", true, 0}};
  cli_table *t = cli_table_create(units == FH_IMPERIAL ? imperial : columns, 5);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  cli_put_heading(s, fhi_say(s->language, "Points"));
  for (int i = 0; i < h->anchor->points; i++) {
    const fh_hold *x = &h->anchor->hold[i];
    char name[64], holds[CLI_NUMBER], snow[CLI_NUMBER], wedge[CLI_NUMBER];
    (void)fhi_format(name, sizeof name, "%d %s", i + 1, kind(h, i));
    const char *cells[] = {name, cli_band_value(holds, x->holds, CLI_FORCE_LARGE, units, s->language), x->limit,
                           isnan(x->bearing.likely) ? "-" : cli_band_value(snow, x->bearing, CLI_FORCE_LARGE, units, s->language),
                           isnan(x->shear.likely) ? "-" : cli_band_value(wedge, x->shear, CLI_FORCE_LARGE, units, s->language)};
    cli_table_add(t, CLI_PLAIN, cells);
  }
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  cli_put(s, "\n");
  return status;
}

static fh_status tell_cases(const hung *h, cli_screen *s, fh_units units) {
  static const cli_column columns[] = {{"case", false, 8}, {"point", false, 10}, {"pull kN", true, 0}, {"leg kN", true, 0}, {"margin", true, 0}};
  static const cli_column imperial[] = {{"case", false, 8}, {"point", false, 10}, {"pull lbf", true, 0}, {"leg lbf", true, 0}, {"margin", true, 0}};
  cli_table *t = cli_table_create(units == FH_IMPERIAL ? imperial : columns, 5);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  cli_put_heading(s, fhi_say(s->language, "What happens to it: the greatest leg force against the least that its point holds"));
  for (int c = 0; c < FH_ANCHOR_CASES; c++) {
    const fh_anchor_case *x = &h->anchor->cases[c];
    for (int i = 0; x->known && i < h->anchor->points; i++) {
      char name[64], what[96], pull[CLI_NUMBER], leg[CLI_NUMBER], margin[CLI_NUMBER], fall[CLI_NUMBER];
      (void)fhi_format(name, sizeof name, "%d %s", i + 1, kind(h, i));
      (void)fhi_format(what, sizeof what, "%s%s%s", fhi_say(s->language, fh_anchor_case_name(c)), x->fall > 0.0 ? fhi_say(s->language, ", falls ") : "",
                       x->fall > 0.0 ? cli_amount(fall, x->fall, CLI_LENGTH_FINE, units) : "");
      const char *cells[] = {what, name, cli_band_value(pull, x->pull, CLI_FORCE_LARGE, units, s->language),
                             cli_band_value(leg, x->leg[i], CLI_FORCE_LARGE, units, s->language), cli_value(margin, x->margin[i], CLI_MARGIN, units)};
      cli_table_add(t, x->margin[i] < 1.0 ? CLI_WARN : CLI_PLAIN, cells);
    }
  }
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  cli_put(s, "\n");
  return status;
}

static void tell_losses(const hung *h, cli_screen *s, fh_units units) {
  cli_put_wrapped(s, CLI_DIM, "  - ", fhi_say(s->language, "a drop of 1 m stands for any drop where no rig says how much slack there is"));
  cli_put(s, "\n");
  cli_put_heading(s, fhi_say(s->language, "If one point lets go"));
  for (int i = 0; i < h->anchor->points; i++) {
    const fh_anchor_loss *l = &h->anchor->loss[i];
    char text[300], moves[CLI_NUMBER], peak[CLI_NUMBER], margin[CLI_NUMBER], lead[64];
    (void)fhi_format(lead, sizeof lead, "%d %s: ", i + 1, kind(h, i));
    if (!l->held) {
      cli_put_wrapped(s, CLI_BAD, lead, fhi_say(s->language, "nothing is left. The load is lost."));
      continue;
    }
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "the meeting place moves %s toward the hole; the peak is %s; least margin of what is left %s"),
                     cli_amount(moves, l->moves, CLI_LENGTH_FINE, units), cli_band(peak, l->peak, CLI_FORCE_LARGE, units, s->language),
                     cli_value(margin, l->worst, CLI_MARGIN, units));
    cli_put_wrapped(s, l->worst < 1.0 ? CLI_WARN : CLI_PLAIN, lead, text);
  }
}

static fh_status show(void *context, cli_screen *s) {
  const hung *h = context;
  fh_units units = cli_options_units(h->o);
  if (h->scene->title[0] != '\0') {
    cli_put_heading(s, h->scene->title);
  }
  tell_answer(h, s);
  cli_put(s, "\n");
  fh_status status = tell_points(h, s, units);
  if (status == FH_OK) {
    status = tell_cases(h, s, units);
  }
  tell_losses(h, s, units);
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_DIM, "", fhi_say(s->language, "Sources differ by ten times on what a hand test of snow means, and on which buried anchor is strongest. Look at the "
                                  "low ends. A training aid: it does not replace instruction, local rules or a test of the anchor on the spot."));
  return status;
}

static int write_all(hung *h) {
  int status = cli_write_figures(h->o, draw, h);
  if (status != CLI_DONE) {
    return status;
  }
  if (h->o->given[CLI_JSON]) {
    status = cli_write_main(h->o, write_json, h);
  } else if (h->o->given[CLI_CSV]) {
    status = cli_write_main(h->o, write_csv, h);
  } else if (cli_main_is_free(h->o)) {
    status = cli_show_main(h->o, show, h);
  }
  if (status != CLI_DONE) {
    return status;
  }
  for (int c = 0; c < FH_ANCHOR_CASES; c++) {
    const fh_anchor_case *x = &h->anchor->cases[c];
    for (int i = 0; x->known && i < h->anchor->points; i++) {
      status = x->likely[i] < 1.0 ? CLI_ANSWER_NO : status;
    }
  }
  return status;
}

static int refuse_without(const cli_options *o) {
  char shown[300];
  (void)fprintf(stderr, "%s:1:1: anchor is missing: there is nothing to work out; accepted: a scene with anchor, ground.anchor or ground.holds_kN\n",
                cli_text_clean(shown, sizeof shown, o->operand));
  return CLI_INPUT_WRONG;
}

static int anchor_case(const cli_options *o, const cli_case *c) {
  hung h = {.o = o, .scene = c->scene, .gear = c->gear};
  fh_check *check = NULL;
  fh_anchor *anchor = NULL;
  if (!fh_anchorage_of(c->scene, c->gear, &h.a)) {
    return refuse_without(o);
  }
  fh_status made = c->scene->has_rig ? fh_check_create(c->scene, c->gear, &c->scene->rig, NULL, &check) : FH_OK;
  made = made != FH_OK ? made : fh_anchor_create(c->scene, c->gear, check, &anchor);
  int status = cli_fail(made);
  if (status == CLI_DONE) {
    h.anchor = anchor;
    status = write_all(&h);
  }
  fh_anchor_destroy(anchor);
  fh_check_destroy(check);
  return status;
}

int cli_run_anchor(const cli_options *o) {
  int status = cli_outputs_agree(o);
  if (status != CLI_DONE) {
    return status;
  }
  cli_case c;
  status = cli_case_open(o, &c);
  if (status == CLI_DONE) {
    status = anchor_case(o, &c);
    cli_case_close(&c);
  }
  return status;
}
