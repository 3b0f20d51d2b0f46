// SPDX-License-Identifier: MIT
// What does check say to a tired person? The answer and the pull first; then what to mind; then the figures.
#include "commands.h"

#include <math.h>
#include <string.h>

#include "chance.h"
#include "report.h"
#include "table.h"
#include "units.h"
#include "words.h"

typedef struct teller {
  cli_screen *s;
  const cli_checked *c;
  fh_units units;
} teller;

// ---------------------------------------------------------------------------------------------------- the answer

// The note that says why not. @return its index, or -1
static int first_no(const fh_check *check) {
  for (int i = 0; i < check->note_count; i++) {
    if (check->notes[i].level == FH_NOTE_NO) {
      return i;
    }
  }
  return -1;
}

static const char *why_not(const teller *t, char *to, size_t size) {
  int note = first_no(t->c->check);
  return fhi_said(to, size, note >= 0 ? t->c->check->notes[note].text : fhi_say(t->s->language, "a limit is broken"), t->units);
}

static bool crew_is_known(const fh_check *check) {
  return !isnan(check->crew_share.likely);  // without end where nobody can pull at all
}

// "250 N (210 to 310) to pull; this crew can pull 420 N (320 to 560)."
static void pull_sentence(const teller *t, char *to, size_t size) {
  char pull[CLI_NUMBER];
  char crew[CLI_NUMBER];
  const fh_check *check = t->c->check;
  (void)cli_band(pull, check->hand_force, CLI_FORCE, t->units, t->s->language);
  (void)cli_band(crew, check->crew.force, CLI_FORCE, t->units, t->s->language);
  if (crew_is_known(check)) {
    (void)fhi_format(to, size, fhi_say(t->s->language, "The pull is %s; this crew can pull %s for a short effort."), pull, crew);
  } else {
    (void)fhi_format(to, size, fhi_say(t->s->language, "The pull is %s. The scene names no crew to compare it with."), pull);
  }
}

static void tell_answer(const teller *t) {
  const fh_check *check = t->c->check;
  char pull[300];
  char why[300];
  char text[800];
  pull_sentence(t, pull, sizeof pull);
  fhi_answer answer = fhi_check_answer(check);
  if (check->outcome == FH_OUTCOME_UNRESOLVED) {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "This rig could not be worked out: %s. Do not use any figure of it."), check->why);
    cli_put_wrapped(t->s, CLI_BAD, fhi_say(t->s->language, "NO  "), text);
  } else if (check->outcome != FH_OUTCOME_SOLVED) {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "This rig does not raise the load: %s."), check->why);
    cli_put_wrapped(t->s, CLI_BAD, fhi_say(t->s->language, "NO  "), text);
  } else if (answer == FHI_ANSWER_NO) {
    bool crew = check->crew_share.likely > 1.0;
    (void)fhi_format(text, sizeof text, "%s%s. %s", crew ? fhi_say(t->s->language, "This crew ") : fhi_say(t->s->language, "Not with this rig: "),
                     !crew ? why_not(t, why, sizeof why) : check->crew_share.lo > 1.0 ? fhi_say(t->s->language, "cannot raise it with this rig") : fhi_say(t->s->language, "most likely cannot raise it with this rig"),
                     pull);
    cli_put_wrapped(t->s, CLI_BAD, fhi_say(t->s->language, "NO  "), text);
  } else if (answer == FHI_ANSWER_UNSURE) {
    (void)fhi_format(text, sizeof text, "%s%s", crew_is_known(check) ? fhi_say(t->s->language, "It depends on what is not known. ") : "", pull);
    cli_put_wrapped(t->s, CLI_WARN, crew_is_known(check) ? fhi_say(t->s->language, "PERHAPS  ") : "", text);
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "This crew can raise it. %s"), pull);
    cli_put_wrapped(t->s, CLI_GOOD, fhi_say(t->s->language, "YES  "), text);
  }
}

// The answer has compared crew and pull already.
static bool is_about_crew(const fh_note *note) {
  return note->crew;
}

static void tell_notes(const teller *t) {
  static const char *const leads[] = {"  - ", "  ! ", "  NO: "};
  static const cli_style styles[] = {CLI_PLAIN, CLI_WARN, CLI_BAD};
  const fh_check *check = t->c->check;
  char text[300];
  bool quoted = check->outcome == FH_OUTCOME_SOLVED && !(check->crew_share.likely > 1.0);  // the first NO stands in the answer
  int skip = quoted ? first_no(check) : -1;
  for (int level = FH_NOTE_NO; level >= FH_NOTE_INFO; level--) {
    for (int i = 0; i < check->note_count; i++) {
      if (i != skip && (int)check->notes[i].level == level && !is_about_crew(&check->notes[i])) {
        cli_put_wrapped(t->s, styles[level], fhi_say(t->s->language, leads[level]), fhi_said(text, sizeof text, check->notes[i].text, t->units));
      }
    }
  }
}

// A short effort is not a haul of minutes.
static void tell_rest(const teller *t) {
  const fh_check *check = t->c->check;
  char can[CLI_NUMBER];
  char text[400];
  if (check->outcome == FH_OUTCOME_SOLVED && check->kept_share.hi > 1.0 && check->crew_share.likely <= 1.0) {
    (void)fhi_format(text, sizeof text,
                     check->kept_share.likely > 1.0 ? fhi_say(t->s->language, "without rests they cannot keep this pull up (%s for minutes): short pulls, and rest at each reset")
                                                    : fhi_say(t->s->language, "without rests they may not keep this pull up (%s for minutes): rest at each reset"),
                     cli_band(can, check->crew.sustained, CLI_FORCE, t->units, t->s->language));
    if (check->resets > 0 && check->time_rests.likely <= check->time.likely) {
      size_t used = strlen(text);
      (void)fhi_format(text + used, sizeof text - used, ". %s", fhi_say(t->s->language, "At the likely figures the time that a reset takes is rest enough."));
    }
    cli_put_wrapped(t->s, CLI_WARN, "  ! ", text);
  }
}

// ---------------------------------------------------------------------------------------------------- key figures

static void fact(const teller *t, const char *name, const char *text) {
  char lead[64];
  cli_put_wrapped(t->s, CLI_PLAIN, cli_text_pad(lead, sizeof lead, name, 11), text);
}

static void tell_pull(const teller *t) {
  const fh_check *check = t->c->check;
  char a[CLI_NUMBER];
  char b[CLI_NUMBER];
  char text[400];
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "ideal %s, actual %s"), cli_value(a, check->ideal_advantage, CLI_IDEAL, t->units),
                   cli_band(b, check->actual_advantage, CLI_ADVANTAGE, t->units, t->s->language));
  fact(t, fhi_say(t->s->language, "Advantage"), text);
  fact(t, fhi_say(t->s->language, "Hand pull"), cli_band(a, check->hand_force, CLI_FORCE, t->units, t->s->language));
  if (crew_is_known(check)) {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s short, %s for minutes; set by %s"), cli_band(a, check->crew.force, CLI_FORCE, t->units, t->s->language),
                     cli_band(b, check->crew.sustained, CLI_FORCE, t->units, t->s->language), check->crew.limit != NULL ? fhi_say(t->s->language, check->crew.limit) : "?");
    fact(t, fhi_say(t->s->language, "Crew"), text);
    if (isfinite(check->crew_share.likely)) {
      (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s of what the crew can pull"), cli_band(a, check->crew_share, CLI_SHARE, t->units, t->s->language));
      fact(t, fhi_say(t->s->language, "Share"), text);
    }
  }
  fact(t, fhi_say(t->s->language, "Weight"), cli_band(a, check->weight, CLI_FORCE, t->units, t->s->language));
}

static void tell_raise(const teller *t) {
  const fh_check *check = t->c->check;
  char a[CLI_NUMBER];
  char b[CLI_NUMBER];
  char text[400];
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "load %s, hand %s a stroke; it ends when %s"), cli_amount(a, check->throw_load, CLI_LENGTH_FINE, t->units),
                   cli_amount(b, check->throw_hand, CLI_LENGTH_FINE, t->units), check->throw_ends != NULL ? fhi_say(t->s->language, check->throw_ends) : "?");
  fact(t, fhi_say(t->s->language, "Throw"), text);
  if (check->strokes > 0) {
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%d, with %d %s between"), check->strokes, check->resets, check->resets == 1 ? fhi_say(t->s->language, "reset") : fhi_say(t->s->language, "resets"));
    fact(t, fhi_say(t->s->language, "Strokes"), text);
    if (check->time_rests.hi > check->time.hi) {
      (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s with resets and rests, as haul counts them (%s without rests); building the rig comes on top"),
                       cli_band(a, check->time_rests, CLI_MINUTES, t->units, t->s->language), cli_band(b, check->time, CLI_MINUTES, t->units, t->s->language));
    } else {
      bool enough = check->kept_share.hi <= 1.0 || (isfinite(check->kept_share.hi) && check->resets > 0);
      (void)fhi_format(text, sizeof text,
                       enough ? fhi_say(t->s->language, "%s with resets, which are rest enough; building the rig comes on top")
                              : fhi_say(t->s->language, "%s with resets, without rests; building the rig comes on top"),
                       cli_band(a, check->time_rests, CLI_MINUTES, t->units, t->s->language));
    }
    fact(t, fhi_say(t->s->language, "Time"), text);
  }
}

static void tell_ropes(const teller *t) {
  const cli_checked *c = t->c;
  char a[CLI_NUMBER];
  char b[CLI_NUMBER];
  char text[400];
  for (int i = 0; i < c->rig->path_count; i++) {
    const fh_path *path = &c->rig->paths[i];
    bool known = path->rope >= 0 && fh_number_is_set(c->scene->ropes[path->rope].length);
    (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s: %s needed, %s%s"), fhi_given_said(t->s->language, path->name), cli_amount(a, c->check->rope_needed[i], CLI_LENGTH, t->units),
                     known ? cli_band(b, fh_number_band(c->scene->ropes[path->rope].length), CLI_LENGTH, t->units, t->s->language) : fhi_say(t->s->language, "length not stated"), known ? fhi_say(t->s->language, " there") : "");
    fact(t, i == 0 ? fhi_say(t->s->language, "Rope") : "", text);
  }
  (void)fhi_format(text, sizeof text, "%d", c->check->pieces);
  fact(t, fhi_say(t->s->language, "Pieces"), text);
  (void)fhi_format(text, sizeof text, fhi_say(t->s->language, "%s (limit over force, the crew aside)"), cli_value(a, c->check->worst_margin, CLI_MARGIN, t->units));
  fact(t, fhi_say(t->s->language, "Margin"), text);
}

// ---------------------------------------------------------------------------------------------------- tables

enum { NAME_COLUMNS = 3, TABLE_COLUMNS = NAME_COLUMNS + FH_STATE_COUNT };

// Columns for the states that were worked out, after the names.
typedef struct state_table {
  cli_column columns[TABLE_COLUMNS];
  char heads[FH_STATE_COUNT][40];
  int states[FH_STATE_COUNT];
  int state_count;
  cli_table *table;
} state_table;

static bool state_table_open(state_table *st, const teller *t, const char *const names[NAME_COLUMNS]) {
  static const char *const words[] = {"raising", "holding", "lowering"};
  st->state_count = 0;
  for (int i = 0; i < NAME_COLUMNS; i++) {
    st->columns[i] = (cli_column){names[i], false, 5};
  }
  for (int state = 0; state < FH_STATE_COUNT; state++) {
    if (fhi_state_known(t->c->check, state)) {
      (void)fhi_format(st->heads[state], sizeof st->heads[state], "%s %s", fhi_say(t->s->language, words[state]), cli_unit(CLI_FORCE, t->units));
      st->columns[NAME_COLUMNS + st->state_count] = (cli_column){st->heads[state], true, 8};
      st->states[st->state_count++] = state;
    }
  }
  st->table = cli_table_create(st->columns, NAME_COLUMNS + st->state_count);
  return st->table != NULL;
}

static void state_table_add(state_table *st, const teller *t, const char *const names[NAME_COLUMNS], const fh_band *bands) {
  char numbers[FH_STATE_COUNT][CLI_NUMBER];
  const char *cells[TABLE_COLUMNS];
  for (int i = 0; i < NAME_COLUMNS; i++) {
    cells[i] = names[i];
  }
  for (int i = 0; i < st->state_count; i++) {
    cells[NAME_COLUMNS + i] = cli_band_value(numbers[i], bands[st->states[i]], CLI_FORCE, t->units, t->s->language);
  }
  cli_table_add(st->table, CLI_PLAIN, cells);
}

static fh_status state_table_close(state_table *st, const teller *t, const char *title) {
  cli_put(t->s, "\n");
  cli_put_heading(t->s, title);
  fh_status status = cli_table_write(st->table, t->s);
  cli_table_destroy(st->table);
  return status;
}

static fh_status tell_strands(const teller *t) {
  const cli_checked *c = t->c;
  state_table st;
  if (!state_table_open(&st, t, (const char *const[]){"rope", "from", "to"})) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < c->check->strand_count; i++) {
    const fh_strand *strand = &c->check->strands[i];
    const char *names[] = {c->rig->paths[strand->path].name, fhi_end_name(c->rig, strand->from), fhi_end_name(c->rig, strand->to)};
    state_table_add(&st, t, names, strand->tension);
  }
  return state_table_close(&st, t, fhi_say(t->s->language, "Strands, along each rope"));
}

static fh_status tell_contacts(const teller *t) {
  const cli_checked *c = t->c;
  state_table st;
  if (!state_table_open(&st, t, (const char *const[]){"bend at", "on", "efficiency"})) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < c->check->contact_count; i++) {
    const fh_contact *k = &c->check->contacts[i];
    char low[CLI_NUMBER];
    char high[CLI_NUMBER];
    char efficiency[80];
    (void)fhi_fixed(low, sizeof low, k->efficiency.lo, 2);
    (void)fhi_fixed(high, sizeof high, k->efficiency.hi, 2);
    (void)fhi_format(efficiency, sizeof efficiency, "%s%s%s", low, strcmp(low, high) == 0 ? "" : fhi_say(t->s->language, " to "), strcmp(low, high) == 0 ? "" : high);
    const char *names[] = {fhi_end_name(c->rig, k->body), k->item >= 0 ? fhi_item_name(c->gear, k->item) : "edge", efficiency};
    state_table_add(&st, t, names, k->force);
  }
  return state_table_close(&st, t, fhi_say(t->s->language, "Bends: force on each"));
}

static fh_status tell_bodies(const teller *t) {
  const cli_checked *c = t->c;
  char at[CLI_NUMBER];
  char head[40];
  state_table st;
  (void)fhi_format(head, sizeof head, fhi_say(t->s->language, "at %s"), cli_unit(CLI_LENGTH, t->units));
  if (!state_table_open(&st, t, (const char *const[]){"what", head, "grips with"})) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < FH_BODY_FIRST_GRIP && i < c->check->body_count; i++) {
    const char *names[] = {c->rig->bodies[i], cli_value(at, c->check->bodies[i].at, CLI_LENGTH, t->units), ""};
    state_table_add(&st, t, names, c->check->bodies[i].force);
  }
  for (int i = 0; i < c->rig->grip_count; i++) {
    const fh_grip *grip = &c->rig->grips[i];
    bool tended = grip->body < FH_BODY_FIRST_GRIP;
    const char *names[] = {tended ? "tended" : c->rig->bodies[grip->body], cli_value(at, grip->at, CLI_LENGTH, t->units),
                           fhi_item_name(c->gear, grip->item)};
    state_table_add(&st, t, names, c->check->grip_force[i]);
  }
  return state_table_close(&st, t, fhi_say(t->s->language, "Load, fixed points and grips: force on each"));
}

static fh_status tell_limits(const teller *t) {
  const fh_check *check = t->c->check;
  const char *unit = cli_unit(CLI_FORCE_LARGE, t->units);
  char force_head[40];
  char limit_head[40];
  (void)fhi_format(force_head, sizeof force_head, fhi_say(t->s->language, "force %s"), unit);
  (void)fhi_format(limit_head, sizeof limit_head, fhi_say(t->s->language, "limit %s"), unit);
  const cli_column columns[] = {{"limit of", false, 14}, {force_head, true, 0}, {limit_head, true, 0}, {"margin", true, 0}, {"source", false, 10}};
  cli_table *table = cli_table_create(columns, 5);
  if (table == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < check->limit_count; i++) {
    const fh_limit *limit = &check->limits[i];
    char force[CLI_NUMBER];
    char most[CLI_NUMBER];
    char margin[CLI_NUMBER];
    char source[96];
    (void)fhi_format(source, sizeof source, "%s%s", limit->source, limit->basis == FH_BASIS_MEMORY ? fhi_say(t->s->language, " (from memory)") : "");
    cli_table_add(table, limit->margin < 1.0 ? CLI_BAD : CLI_PLAIN,
                  (const char *const[]){limit->element, cli_value(force, limit->force, CLI_FORCE_LARGE, t->units),
                                        cli_value(most, limit->limit, CLI_FORCE_LARGE, t->units),
                                        cli_value(margin, limit->margin, CLI_MARGIN, t->units), source});
  }
  cli_put(t->s, "\n");
  cli_put_heading(t->s, fhi_say(t->s->language, "Margins: greatest force, least limit"));
  fh_status status = cli_table_write(table, t->s);
  cli_table_destroy(table);
  return status;
}

static void tell_build(const teller *t) {
  char line[FHI_WORDS];
  cli_put(t->s, "\n");
  cli_put_heading(t->s, fhi_say(t->s->language, "How it is built"));
  for (int i = 0; i < t->c->rig->path_count; i++) {
    fhi_words_path(t->c->rig, t->c->gear, i, t->units, t->c->scene->language, line);
    cli_put_wrapped(t->s, CLI_PLAIN, "  ", line);
  }
  for (int i = 0; i < t->c->rig->grip_count; i++) {
    fhi_words_grip(t->c->rig, t->c->gear, i, t->units, t->c->scene->language, line);
    cli_put_wrapped(t->s, CLI_PLAIN, "  ", line);
  }
}

static fh_status tell_figures(const teller *t) {
  cli_put(t->s, "\n");
  tell_pull(t);
  tell_raise(t);
  tell_ropes(t);
  fh_status (*const tables[])(const teller *) = {tell_strands, tell_contacts, tell_bodies, tell_limits};
  fh_status status = FH_OK;
  for (size_t i = 0; i < sizeof tables / sizeof tables[0] && status == FH_OK; i++) {
    status = tables[i](t);
  }
  return status;
}

fh_status cli_show_check(void *context, cli_screen *s) {
  const cli_checked *c = context;
  teller t = {s, c, cli_options_units(c->o)};
  fh_status status = FH_OK;
  if (c->scene->title[0] != '\0') {
    cli_put_heading(s, c->scene->title);
  }
  tell_answer(&t);
  tell_rest(&t);
  tell_notes(&t);
  if (c->check->outcome == FH_OUTCOME_SOLVED) {
    status = tell_figures(&t);
  }
  tell_build(&t);
  if (c->chance != NULL) {
    cli_show_chance(c->chance, t.units, s);
  }
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, FHI_CAUTION));
  return status;
}
