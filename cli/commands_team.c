// SPDX-License-Identifier: MIT
// firnhaul team: one falls in; what the others do about it, or how they should rope up in the first place.
#include "commands.h"

#include <math.h>
#include <stdio.h>

#include "chance.h"
#include "progress.h"
#include "table.h"
#include "team_threads.h"
#include "team_words.h"
#include "units.h"
#include "yaml.h"
#include "words.h"

enum { FIGURE_PATHS, FIGURE_SECTION, FIGURE_TRADE, FIGURE_SHEET };
enum { DESIGNS = 500, FALLS = 2000, ROWS = 10 };

typedef struct roped {
  const cli_options *o;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_team_result *team;
  const fh_designs *designs;
} roped;

// ---------------------------------------------------------------------------------------------------- one team

static fh_status write_json(void *context, fh_out out) {
  const roped *r = context;
  return fh_team_write_json(r->scene, r->team, true, out);
}

static fh_status write_csv(void *context, fh_out out) {
  const roped *r = context;
  return fh_team_write_csv(r->scene, r->team, out);
}

static fh_status draw(void *context, fh_out out) {
  const roped *r = context;
  fh_units units = cli_options_units(r->o);
  switch (r->o->given[CLI_TEAM_FIGURE] ? r->o->choice[CLI_TEAM_FIGURE] : FIGURE_PATHS) {
    case FIGURE_SECTION: return fh_draw_team_section(r->scene, r->team, units, out);
    case FIGURE_SHEET: return fh_draw_trip_sheet(r->scene, r->gear, r->team, units, out);
    default: return fh_draw_team_paths(r->scene, r->team, units, out);
  }
}

static void tell_answer(const roped *r, cli_screen *s, fh_units units) {
  char text[800];
  const fh_fall *f = &r->team->likely;
  bool held = f->arrested && f->pulled_in == 0;
  bool always = !r->team->has_chance || r->team->chance.nobody_else_in == r->team->chance.samples;
  (void)fhi_team_answer(r->team, units, r->scene->language, text, sizeof text);
  cli_put_wrapped(s, !held ? CLI_BAD : always ? CLI_GOOD : CLI_WARN, !held ? fhi_say(s->language, "NO  ") : always ? fhi_say(s->language, "YES  ") : fhi_say(s->language, "PERHAPS  "), text);
  if (fhi_team_chance_words(r->team, r->scene->language, text, sizeof text)[0] != '\0') {
    cli_put_wrapped(s, CLI_PLAIN, "  ", text);
  }
  if (fhi_team_edge_words(r->scene)[0] != '\0') {
    cli_put_wrapped(s, CLI_PLAIN, "  ", fhi_team_edge_words(r->scene));
  }
  if (r->team->stopped) {
    cli_put_wrapped(s, CLI_WARN, "  ! ", fhi_say(s->language, "stopped before all samples were run"));
  }
}

static const char *value_and_band(char *to, size_t size, double likely, bool has_band, fh_band band, cli_quantity q, fh_units units, fh_language language) {
  char a[CLI_NUMBER], b[CLI_NUMBER], c[CLI_NUMBER];
  (void)cli_value(a, likely, q, units);
  if (has_band && !isnan(band.lo)) {
    (void)fhi_format(to, size, "%s (%s%s%s)", a, cli_value(b, band.lo, q, units), fhi_say(language, " to "), cli_value(c, band.hi, q, units));
  } else {
    (void)fhi_copy(to, size, a);
  }
  return to;
}

static fh_status tell_people(const roped *r, cli_screen *s, fh_units units) {
  static const cli_column METRIC[] = {{"person", false, 0}, {"stood m", true, 0}, {"slides m", true, 8}, {"rope ahead, hole side N", true, 12}, {"on the harness N", true, 12}};
  static const cli_column IMPERIAL[] = {{"person", false, 0}, {"stood ft", true, 0}, {"slides ft", true, 8}, {"rope ahead, hole side lbf", true, 12}, {"on the harness lbf", true, 12}};
  cli_table *t = cli_table_create(units == FH_IMPERIAL ? IMPERIAL : METRIC, 5);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  const fh_fall *f = &r->team->likely;
  const fh_team_chance *c = &r->team->chance;
  for (int i = 0; i < r->team->in.people; i++) {
    char name[16], stood[CLI_NUMBER], slide[2 * CLI_NUMBER], peak[2 * CLI_NUMBER], pull[CLI_NUMBER];
    bool has = r->team->has_chance;
    (void)fhi_format(name, sizeof name, "%d", i + 1);
    const char *cells[] = {name, cli_value(stood, r->team->in.at[i], CLI_LENGTH, units),
                           i == 0 ? fhi_say(s->language, "falls in") : value_and_band(slide, sizeof slide, f->slide[i], has, c->slide[i], CLI_LENGTH, units, s->language),
                           i == 0 ? "-" : value_and_band(peak, sizeof peak, f->peak[i - 1], has, c->peak[i - 1], CLI_FORCE, units, s->language),
                           i == 0 ? "-" : cli_value(pull, f->pull[i - 1], CLI_FORCE, units)};
    cli_table_add(t, CLI_PLAIN, cells);
  }
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  return status;
}

static fh_status show(void *context, cli_screen *s) {
  const roped *r = context;
  fh_units units = cli_options_units(r->o);
  const fh_fall *f = &r->team->likely;
  char text[400], a[2 * CLI_NUMBER];
  tell_answer(r, s, units);
  cli_put(s, "\n");
  (void)fhi_format(text, sizeof text, "%s %s", value_and_band(a, sizeof a, f->fall, r->team->has_chance, r->team->chance.fall, CLI_LENGTH, units, s->language),
                   cli_unit(CLI_LENGTH, units));
  cli_put_wrapped(s, CLI_PLAIN, fhi_say(s->language, "Fall of the first  "), text);
  (void)fhi_format(text, sizeof text, "%s %s", value_and_band(a, sizeof a, f->margin, r->team->has_chance, r->team->chance.margin, CLI_LENGTH, units, s->language),
                   cli_unit(CLI_LENGTH, units));
  cli_put_wrapped(s, CLI_PLAIN, fhi_say(s->language, "Left to the lip    "), text);
  if (r->team->in.knots > 0) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "%d of %d came to the lip and caught"), f->knots_caught, r->team->in.knots);
    cli_put_wrapped(s, CLI_PLAIN, fhi_say(s->language, "Knots              "), text);
  }
  cli_put(s, "\n");
  fh_status status = tell_people(r, s, units);
  cli_put(s, "\n");
  if (r->team->has_chance) {
    cli_put_wrapped(s, CLI_DIM, "", fhi_say(s->language, "First the value at the likely figures, in brackets the range that nine of ten keep to: for fall and slide only of those falls "
                                    "that are stopped. How people brake on snow has hardly been measured: the ranges are practice, without a source."));
  }
  cli_put_wrapped(s, CLI_DIM, "", fhi_say(s->language, CLI_CAUTIONS));
  return status;
}

static int write_team(const roped *r) {
  void *context = (void *)(uintptr_t)r;  // the writers take it back as const
  int status = cli_write_figures(r->o, draw, context);
  if (status == CLI_DONE && r->o->given[CLI_JSON]) {
    status = cli_write_main(r->o, write_json, context);
  } else if (status == CLI_DONE && r->o->given[CLI_CSV]) {
    status = cli_write_main(r->o, write_csv, context);
  } else if (status == CLI_DONE && cli_main_is_free(r->o)) {
    status = cli_show_main(r->o, show, context);
  }
  const fh_fall *f = &r->team->likely;
  if (status == CLI_DONE && f->outcome != FH_OUTCOME_SOLVED) {
    return CLI_FAILED;
  }
  return status == CLI_DONE && !f->arrested ? CLI_ANSWER_NO : status;
}

static int team_case(const cli_options *o, const cli_case *c) {
  fh_team_opts opts = fh_team_opts_default();
  fh_team_result *team = NULL;
  fh_diag diag = {0};
  opts.samples = o->given[CLI_FALLS] ? (int)o->number[CLI_FALLS] : opts.samples;
  opts.seed = o->given[CLI_SEED] ? (uint32_t)o->number[CLI_SEED] : opts.seed;
  opts.progress = cli_progress;
  cli_progress_start();
  fh_status status = fh_team_create(c->scene, &opts, &team, &diag);
  cli_progress_end();
  if (status != FH_OK) {
    return cli_yaml_complain(o->operand, status, &diag);
  }
  roped r = {o, c->scene, c->gear, team, NULL};
  int exit = write_team(&r);
  fh_team_destroy(team);
  return exit;
}

// ---------------------------------------------------------------------------------------------------- the choice

static fh_status write_designs_json(void *context, fh_out out) {
  const roped *r = context;
  return fh_designs_write_json(r->scene, r->designs, out);
}

static fh_status write_designs_csv(void *context, fh_out out) {
  const roped *r = context;
  return fh_designs_write_csv(r->scene, r->designs, out);
}

static fh_status draw_designs(void *context, fh_out out) {
  const roped *r = context;
  return fh_draw_designs(r->scene, r->designs, cli_options_units(r->o), out);
}

static bool beats(const fh_designs *ds, const fh_design *a, const fh_design *b) {
  bool ra = ds->classes[a->raise_class].possible;
  bool rb = ds->classes[b->raise_class].possible;
  return ra != rb ? ra : a->chance.nobody_else_in > b->chance.nobody_else_in;
}

// What is short is said in words, not as a length below nought.
static const char *over_a_loop(char *to, size_t size, double beyond, fh_units units, fh_language language) {
  char a[CLI_NUMBER];
  if (beyond < 0.0) {
    (void)fhi_format(to, size, fhi_say(language, "%s too short"), cli_value(a, -beyond, CLI_LENGTH, units));
  } else {
    (void)fhi_copy(to, size, cli_value(a, beyond, CLI_LENGTH, units));
  }
  return to;
}

static void add_design(const roped *r, cli_table *t, const fh_design *d, fh_units units) {
  char people[16], spacing[CLI_NUMBER], knots[16], holds[96], all[96], usable[96];
  const fh_team_chance *c = &d->chance;
  (void)fhi_format(people, sizeof people, "%d", d->people);
  (void)fhi_format(knots, sizeof knots, "%d", d->knots);
  const char *cells[] = {people, fhi_given_said(r->scene->language, r->scene->ropes[d->rope].name), cli_value(spacing, d->spacing, CLI_LENGTH, units), knots,
                         c->nobody_else_in == 0 ? fhi_say(r->scene->language, "0: holds nobody") : fhi_share_words((double)c->nobody_else_in / c->samples, r->scene->language, holds, sizeof holds),
                         fhi_share_words((double)c->arrested / c->samples, r->scene->language, all, sizeof all), over_a_loop(usable, sizeof usable, d->beyond, units, r->scene->language),
                         r->designs->classes[d->raise_class].possible ? "yes" : "no"};
  cli_table_add(t, CLI_PLAIN, cells);
}

static fh_status tell_designs(const roped *r, cli_screen *s, fh_units units) {
  static const cli_column COLUMNS[] = {{"people", true, 0}, {"rope", false, 6}, {"apart", true, 0}, {"knots", true, 0}, {"nobody else in", true, 8}, {"stopped", true, 8},
                                       {"over a loop", true, 9}, {"raise", false, 0}};
  const fh_designs *ds = r->designs;
  cli_table *t = cli_table_create(COLUMNS, 8);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  // The best design of each team size, rope and number of knots, best first.
  bool told[FH_MAX_DESIGNS] = {false};
  for (int row = 0; row < ROWS; row++) {
    int best = -1;
    for (int i = 0; i < ds->count; i++) {
      if (!told[i] && (best < 0 || beats(ds, &ds->designs[i], &ds->designs[best]))) {
        best = i;
      }
    }
    if (best < 0) {
      break;
    }
    add_design(r, t, &ds->designs[best], units);
    for (int i = 0; i < ds->count; i++) {
      const fh_design *d = &ds->designs[i];
      told[i] = told[i] || (d->people == ds->designs[best].people && d->rope == ds->designs[best].rope && d->knots == ds->designs[best].knots);
    }
  }
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  return status;
}

static fh_status show_designs(void *context, cli_screen *s) {
  const roped *r = context;
  char text[200];
  cli_put_wrapped(s, r->designs->best >= 0 ? CLI_BOLD : CLI_WARN, "", r->designs->why);
  cli_put(s, "\n");
  cli_put_heading(s, fhi_say(s->language, "The best of each team size, rope and number of knots"));
  fh_status status = tell_designs(r, s, cli_options_units(r->o));
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%d ways to rope up, %d falls each, %d different raises asked of plan. Only the first one falls."), r->designs->count, r->designs->samples,
                   r->designs->class_count);
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_DIM, "", text);
  cli_put_wrapped(s, CLI_DIM, "", fhi_say(s->language, "How people brake on snow and what a knot holds have hardly been measured: the shares compare ways to rope up, they are no odds."));
  cli_put_wrapped(s, CLI_DIM, "", fhi_say(s->language, CLI_CAUTIONS));
  return status;
}

static int write_designs(const roped *r) {
  void *context = (void *)(uintptr_t)r;  // the writers take it back as const
  int status = cli_write_figures(r->o, draw_designs, context);
  if (status == CLI_DONE && r->o->given[CLI_JSON]) {
    status = cli_write_main(r->o, write_designs_json, context);
  } else if (status == CLI_DONE && r->o->given[CLI_CSV]) {
    status = cli_write_main(r->o, write_designs_csv, context);
  } else if (status == CLI_DONE && cli_main_is_free(r->o)) {
    status = cli_show_main(r->o, show_designs, context);
  }
  return status == CLI_DONE && r->designs->best < 0 ? CLI_ANSWER_NO : status;
}

static int choose_case(const cli_options *o, const cli_case *c) {
  fh_designs *designs = NULL;
  fh_diag diag = {0};
  bool stopped = false;
  int most = o->given[CLI_DESIGNS] ? (int)o->number[CLI_DESIGNS] : DESIGNS;
  int falls = o->given[CLI_FALLS] ? (int)o->number[CLI_FALLS] : FALLS;
  uint32_t seed = o->given[CLI_SEED] ? (uint32_t)o->number[CLI_SEED] : 1;
  fh_status status = fh_designs_create(c->scene, c->gear, most, falls < 1 ? 1 : falls, seed, &designs, &diag);
  if (status != FH_OK) {
    return cli_yaml_complain(o->operand, status, &diag);
  }
  int exit = cli_fail(cli_designs_run(c->scene, c->gear, designs, cli_threads(o), &stopped));
  if (exit == CLI_DONE && stopped) {
    (void)fprintf(stderr, "firnhaul: stopped before all ways to rope up were tried; nothing is written\n");
    exit = CLI_FAILED;
  }
  if (exit == CLI_DONE) {
    fh_designs_weigh(c->scene, designs);
    roped r = {o, c->scene, c->gear, NULL, designs};
    exit = write_designs(&r);
  }
  fh_designs_destroy(designs);
  return exit;
}

static int options_agree(const cli_options *o) {
  bool trade = o->given[CLI_TEAM_FIGURE] && o->choice[CLI_TEAM_FIGURE] == FIGURE_TRADE;
  if (trade && !o->given[CLI_CHOOSE]) {
    return cli_refuse("the figure 'trade' needs designs; accepted: with --choose");
  }
  if (o->given[CLI_CHOOSE] && o->given[CLI_TEAM_FIGURE] && !trade) {
    return cli_refuse("--choose draws the figure 'trade' only; accepted: --figure trade, or none");
  }
  if (o->given[CLI_DESIGNS] && !o->given[CLI_CHOOSE]) {
    return cli_refuse("--designs says how many to try; accepted: with --choose");
  }
  if (!cli_wants_figure(o) && o->given[CLI_TEAM_FIGURE]) {
    return cli_refuse("--figure says which, not where; accepted: with --svg FILE, --png FILE or --pdf FILE");
  }
  return cli_outputs_agree(o);
}

int cli_run_team(const cli_options *o) {
  int status = options_agree(o);
  if (status != CLI_DONE) {
    return status;
  }
  cli_case c;
  status = cli_case_open(o, &c);
  if (status == CLI_DONE) {
    status = o->given[CLI_CHOOSE] ? choose_case(o, &c) : team_case(o, &c);
    cli_case_close(&c);
  }
  return status;
}
