// SPDX-License-Identifier: MIT
// What does haul say? How long and how often, what the rope does, when to tie knots, and what the edge takes.
#include <math.h>
#include <string.h>

#include "report.h"
#include "rescue.h"
#include "rescue_chance.h"
#include "table.h"
#include "words.h"

typedef struct teller {
  cli_screen *s;
  const cli_rescue *r;
  const fh_haul *h;
  fh_units units;
} teller;

// The note that says why not: the answer. @return its index, or -1
static int first_no(const fh_haul *h) {
  for (int i = 0; i < h->note_count; i++) {
    if (h->notes[i].level == FH_NOTE_NO) {
      return i;
    }
  }
  return -1;
}

static void tell_answer(const teller *t) {
  char time[CLI_NUMBER];
  char pull[CLI_NUMBER];
  char text[500];
  const fh_haul *h = t->h;
  if (h->outcome != FH_OUTCOME_SOLVED) {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "No raise: %s."), h->why);
    cli_put_wrapped(t->s, CLI_BAD, fhi_say(t->s->language, "NO  "), text);
    return;
  }
  if (first_no(h) >= 0) {
    cli_put_wrapped(t->s, CLI_BAD, fhi_say(t->s->language, "NO  "), h->notes[first_no(h)].text);
  }
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%d strokes with %d resets, %s, at a pull of %s."), h->strokes, h->resets, cli_band(time, h->time, CLI_MINUTES, t->units, t->s->language),
                   cli_band(pull, h->hand_force, CLI_FORCE, t->units, t->s->language));
  cli_put_wrapped(t->s, CLI_BOLD, "", text);
}

static void tell_notes(const teller *t) {
  static const char *const leads[] = {"  - ", "  ! ", "  NO: "};
  static const cli_style styles[] = {CLI_PLAIN, CLI_WARN, CLI_BAD};
  for (int i = 0; i < t->h->note_count; i++) {
    const fh_note *note = &t->h->notes[i];
    if (i != first_no(t->h)) {
      cli_put_wrapped(t->s, styles[note->level], fhi_say(t->s->language, leads[note->level]), note->text);
    }
  }
  cli_put_findings(t->s, t->r->stages);
}

// A length with its range: "47.5 m (44.0 to 52.1)".
static const char *lengths(const teller *t, char *to, double likely, fh_range range) {
  return cli_band(to, (fh_band){fmin(range.lo, likely), likely, fmax(range.hi, likely)}, CLI_LENGTH, t->units, t->s->language);
}

static void tell_strokes(const teller *t) {
  const fh_haul *h = t->h;
  char a[CLI_NUMBER];
  char b[CLI_NUMBER];
  char c[CLI_NUMBER];
  char text[400];
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%d (%d to %d); one ends when %s"), h->strokes, (int)h->strokes_range.lo, (int)h->strokes_range.hi,
                   h->touches != NULL ? fhi_say(t->s->language, h->touches) : "?");
  cli_put_fact(t->s, fhi_say(t->s->language, "Strokes"), text);
  char rest[CLI_NUMBER];
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s: pulling %s, resets %s, rests %s"), cli_band(a, h->time, CLI_MINUTES, t->units, t->s->language),
                   cli_amount(b, h->time_pull, CLI_MINUTES, t->units), cli_amount(c, h->time_reset, CLI_MINUTES, t->units),
                   cli_amount(rest, h->time_rest, CLI_MINUTES, t->units));
  cli_put_fact(t->s, fhi_say(t->s->language, "Time"), text);
  cli_put_fact(t->s, fhi_say(t->s->language, "Rope pulled"), lengths(t, a, h->rope_pulled, h->rope_pulled_range));
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s of hand travel in all: %s in the first stroke, %s in a later one"), cli_amount(a, h->stretch_lost, CLI_LENGTH_FINE, t->units),
                   cli_amount(b, h->stretch_first, CLI_LENGTH_FINE, t->units), cli_amount(c, h->stretch_each, CLI_LENGTH_FINE, t->units));
  cli_put_fact(t->s, fhi_say(t->s->language, "Stretch"), text);
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s of load in all; at one reset %s, of %s that the capture lets back"), lengths(t, a, h->set_back, h->set_back_range),
                   cli_amount(b, h->set_back_each, CLI_LENGTH_FINE, t->units), cli_amount(c, h->slip_each, CLI_LENGTH_FINE, t->units));
  cli_put_fact(t->s, fhi_say(t->s->language, "Set-back"), text);
}

static void tell_work(const teller *t) {
  const fh_haul *h = t->h;
  char in[40];
  char lift[40];
  char friction[40];
  char stretch[40];
  char text[300];
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s kJ by hand: lift %s, friction %s, stretch %s"), fhi_fixed(in, sizeof in, h->work.in / 1000.0, 1),
                   fhi_fixed(lift, sizeof lift, h->work.lift / 1000.0, 1), fhi_fixed(friction, sizeof friction, h->work.friction / 1000.0, 1),
                   fhi_fixed(stretch, sizeof stretch, h->work.stretch / 1000.0, 1));
  cli_put_fact(t->s, fhi_say(t->s->language, "Work"), text);
  if (isfinite(h->effort)) {
    char effort[CLI_NUMBER];
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s of what the crew can keep up for minutes"), cli_value(effort, h->effort, CLI_SHARE, t->units));
    cli_put_fact(t->s, fhi_say(t->s->language, "Effort"), text);
  }
}

static void tell_blocks(const teller *t) {
  for (int b = FH_BODY_FIRST_GRIP; b < t->r->rig->body_count; b++) {
    char from[CLI_NUMBER];
    char to[CLI_NUMBER];
    char name[80];
    char text[300];
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s from the lip when a stroke begins, %s when it ends"),
                     cli_amount(from, t->h->block_start[b], CLI_LENGTH, t->units), cli_amount(to, t->h->block_end[b], CLI_LENGTH, t->units));
    (void)fhi_format(name, sizeof name, "%s", t->r->rig->bodies[b]);
    cli_put_fact(t->s, name, text);
  }
}

// ---------------------------------------------------------------------------------------------------- knots

static fh_status tell_knots(const teller *t) {
  const fh_haul *h = t->h;
  char a[CLI_NUMBER];
  char b[CLI_NUMBER];
  char text[400];
  char name[200];
  cli_put(t->s, "\n");
  cli_put_heading(t->s, fhi_say(t->s->language, "Backup knots"));
  if (h->knot_every <= 0.0) {
    cli_put_wrapped(t->s, CLI_WARN, "  ! ", fhi_say(t->s->language, "no line of this rig can catch the load in time: no knot helps"));
    return FH_OK;
  }
  char c[CLI_NUMBER];
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "One for each %s of slack gained; %s of slack in all. Beyond %s of slack the backup no longer helps (%s)."),
                   cli_amount(a, h->knot_every, CLI_LENGTH, t->units), cli_amount(b, h->gathered, CLI_LENGTH, t->units),
                   cli_amount(c, t->r->stages->slack_limit, CLI_LENGTH, t->units), fhi_name_said(name, sizeof name, t->s->language, t->r->stages->limited_by));
  cli_put_wrapped(t->s, CLI_PLAIN, "", text);
  static const cli_column columns[] = {{"knot", true, 0}, {"after stroke", true, 0}, {"height gained", true, 0}, {"slack", true, 0}, {"time", true, 0}};
  cli_table *table = cli_table_create(columns, 5);
  if (table == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < h->knot_count; i++) {
    const fh_backup_knot *k = &h->knots[i];
    char number[24];
    char stroke[24];
    char time[CLI_NUMBER];
    (void)fhi_format(number, sizeof number, "%d", i + 1);
    (void)fhi_format(stroke, sizeof stroke, "%d", k->stroke);
    cli_table_add(table, CLI_PLAIN, (const char *const[]){number, stroke, cli_amount(a, k->height, CLI_LENGTH, t->units),
                                                          cli_amount(b, k->slack, CLI_LENGTH, t->units), cli_amount(time, k->time, CLI_MINUTES, t->units)});
  }
  fh_status status = cli_table_write(table, t->s);
  cli_table_destroy(table);
  return status;
}

// ---------------------------------------------------------------------------------------------------- lip

static const char *force_or_jam(const teller *t, char *to, fh_band force) {
  if (!isfinite(force.likely)) {
    (void)fhi_copy(to, CLI_NUMBER, fhi_say(t->s->language, "jammed"));
  } else if (!isfinite(force.hi)) {
    char likely[CLI_NUMBER];
    (void)fhi_format(to, CLI_NUMBER, fhi_say(t->s->language, "%s, may jam"), cli_value(likely, force.likely, CLI_FORCE, t->units));
  } else {
    (void)cli_band_value(to, force, CLI_FORCE, t->units, t->s->language);
  }
  return to;
}

static fh_status tell_lip(const teller *t) {
  char head[40];
  char lift_head[40];
  (void)fhi_format(head, sizeof head, fhi_say(t->s->language, "pull %s"), cli_unit(CLI_FORCE, t->units));
  (void)fhi_format(lift_head, sizeof lift_head, fhi_say(t->s->language, "lift %s"), cli_unit(CLI_FORCE, t->units));
  const cli_column columns[] = {{"over the edge", false, 12}, {head, true, 0}, {lift_head, true, 8}, {"note", false, 20}};
  cli_table *table = cli_table_create(columns, 4);
  if (table == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < t->h->lip_count; i++) {
    const fh_lip_case *k = &t->h->lip[i];
    char pull[CLI_NUMBER];
    char lift[CLI_NUMBER] = "";
    if (k->lifted) {
      (void)force_or_jam(t, lift, k->lift_force);
    }
    cli_table_add(table, isfinite(k->hand_force.likely) ? CLI_PLAIN : CLI_BAD,
                  (const char *const[]){k->name, force_or_jam(t, pull, k->hand_force), lift, k->note != NULL ? k->note : ""});
  }
  cli_put(t->s, "\n");
  cli_put_heading(t->s, fhi_say(t->s->language, "The last half metre"));
  fh_status status = cli_table_write(table, t->s);
  cli_table_destroy(table);
  return status;
}

fh_status cli_show_haul(void *context, cli_screen *s) {
  const cli_rescue *r = context;
  teller t = {s, r, r->haul, cli_options_units(r->o)};
  fh_status status = FH_OK;
  if (r->scene->title[0] != '\0') {
    cli_put_heading(s, r->scene->title);
  }
  tell_answer(&t);
  tell_notes(&t);
  if (t.h->outcome == FH_OUTCOME_SOLVED) {
    cli_put(s, "\n");
    tell_strokes(&t);
    tell_work(&t);
    tell_blocks(&t);
    if (t.h->jam[0] != '\0') {
      cli_put_fact(s, fhi_say(s->language, "Jam"), t.h->jam);
    }
    status = tell_knots(&t);
    status = status == FH_OK ? tell_lip(&t) : status;
  }
  if (r->haul_chance != NULL) {
    cli_show_haul_chance(r->haul_chance, r->stages->refused, t.units, s);
  }
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, FHI_CAUTION));
  return status;
}
