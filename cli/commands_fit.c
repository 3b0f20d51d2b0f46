// SPDX-License-Identifier: MIT
// firnhaul fit: the user's own gear from load-cell readings, in the form that was asked for.
#include "commands.h"

#include <math.h>
#include <stdio.h>

#include "lm.h"
#include "readings.h"
#include "table.h"
#include "units.h"
#include "words.h"

typedef struct fitting {
  const cli_options *o;
  const fh_gear *gear;
  cli_readings r;
  fh_fit *fit;
} fitting;

static fh_status write_json(void *context, fh_out out) {
  const fitting *f = context;
  return fh_fit_write_json(f->gear, f->r.rows, f->fit, out);
}

static fh_status write_csv(void *context, fh_out out) {
  const fitting *f = context;
  return fh_fit_write_csv(f->r.rows, f->fit, out);
}

static fh_status write_gear(void *context, fh_out out) {
  const fitting *f = context;
  return fh_fit_write_gear(f->gear, f->fit, out);
}

static fh_status draw(void *context, fh_out out) {
  const fitting *f = context;
  return fh_draw_fit(f->r.rows, f->fit, cli_options_units(f->o), out);
}

static fh_status tell_fitted(const fitting *f, cli_screen *s) {
  static const cli_column columns[] = {{"figure", false, 12}, {"fitted", true, 0}, {"95 % interval", true, 0}, {"catalogue", true, 0}};
  cli_table *t = cli_table_create(columns, 4);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < f->fit->count; i++) {
    const fh_fitted *x = &f->fit->fitted[i];
    char value[32], lo[32], hi[32], interval[80], before[96], a[32], b[32], c[32];
    (void)fhi_fixed(value, sizeof value, x->value, 3);
    (void)fhi_format(interval, sizeof interval, "%s%s%s", fhi_fixed(lo, sizeof lo, floor(x->lo * 1000.0) / 1000.0, 3),
                     fhi_say(s->language, " to "), fhi_fixed(hi, sizeof hi, ceil(x->hi * 1000.0) / 1000.0, 3));
    (void)fhi_format(before, sizeof before, "%s (%s%s%s)", fhi_fixed(a, sizeof a, x->catalogue.likely, 2), fhi_fixed(b, sizeof b, x->catalogue.lo, 2),
                     fhi_say(s->language, " to "), fhi_fixed(c, sizeof c, x->catalogue.hi, 2));
    const char *cells[] = {x->name, value, interval, before};
    bool outside = x->lo > x->catalogue.hi || x->hi < x->catalogue.lo;
    cli_table_add(t, outside ? CLI_WARN : CLI_PLAIN, cells);
  }
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  return status;
}

static void tell_flagged(const fitting *f, cli_screen *s) {
  for (int i = 0; i < f->fit->readings; i++) {
    const fh_fit_row *row = &f->fit->rows[i];
    char text[300], read[CLI_NUMBER], predicted[CLI_NUMBER], student[32];
    if (row->flagged) {
      (void)fhi_format(text, sizeof text, fhi_say(s->language, "line %d does not fit: read %s, predicted %s (%s times the usual scatter); left out"), f->r.rows[i].line,
                       cli_amount(read, f->r.rows[i].hand, CLI_FORCE, cli_options_units(f->o)),
                       cli_amount(predicted, row->predicted, CLI_FORCE, cli_options_units(f->o)), fhi_fixed(student, sizeof student, fabs(row->student), 1));
      cli_put_wrapped(s, CLI_WARN, "  ! ", text);
    }
  }
}

static void tell_pairs(const fitting *f, cli_screen *s) {
  for (int i = 0; i < f->fit->count; i++) {
    for (int k = 0; k < i; k++) {
      if (fabs(f->fit->correlation[i][k]) > 0.9) {
        char text[500], one[160], two[160];
        (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s and %s are hard to tell apart with these readings: trust them together, not one by one"),
                         fhi_name_said(one, sizeof one, s->language, f->fit->fitted[k].name), fhi_name_said(two, sizeof two, s->language, f->fit->fitted[i].name));
        cli_put_wrapped(s, CLI_PLAIN, "  - ", text);
      }
    }
  }
}

static fh_status show(void *context, cli_screen *s) {
  const fitting *f = context;
  char text[400], scatter[32];
  if (f->fit->outcome != FH_OUTCOME_SOLVED) {
    cli_put_wrapped(s, CLI_BAD, fhi_say(s->language, "NO  "), fhi_say(s->language, f->fit->why));
    tell_flagged(f, s);
    return FH_OK;
  }
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%d readings, %d of them left out; a reading scatters by %s %% around the prediction."), f->fit->readings, f->fit->flagged,
                   fhi_fixed(scatter, sizeof scatter, ceil(1000.0 * f->fit->scatter) / 10.0, 1));
  cli_put_wrapped(s, CLI_BOLD, "", text);
  cli_put(s, "\n");
  fh_status status = tell_fitted(f, s);
  tell_flagged(f, s);
  tell_pairs(f, s);
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_DIM, "", fhi_say(s->language, "These figures hold for this gear, this rope and this snow on that day. --yaml writes them as a gear file for --gear."));
  return status;
}

static int write_all(fitting *f) {
  bool solved = f->fit->outcome == FH_OUTCOME_SOLVED;
  int status = cli_write_figures(f->o, draw, f);
  if (status != CLI_DONE) {
    return status;
  }
  if (f->o->given[CLI_JSON]) {
    status = cli_write_main(f->o, write_json, f);
  } else if (f->o->given[CLI_CSV]) {
    status = cli_write_main(f->o, write_csv, f);
  } else if (f->o->given[CLI_YAML] && solved) {
    status = cli_write_main(f->o, write_gear, f);
  } else if (f->o->given[CLI_YAML]) {
    (void)fprintf(stderr, "firnhaul: %s\n", f->fit->why);
  } else if (cli_main_is_free(f->o)) {
    status = cli_show_main(f->o, show, f);
  }
  return status == CLI_DONE && !solved ? CLI_ANSWER_NO : status;
}

static int fit_case(fitting *f) {
  int bad = -1;
  char why[300] = "";
  int status = cli_readings_open(f->o->operand, f->gear, &f->r);
  if (status != CLI_DONE) {
    return status;
  }
  fh_status made = fh_fit_create(f->gear, f->r.rows, f->r.count, cli_lm_solve, &f->fit, &bad, why, sizeof why);
  if (made == FH_ERR_INPUT) {
    (void)fprintf(stderr, "%s:%d:1: scene: its rig cannot be fitted: %s, accepted: a rig that raises the load, pulled straight\n", f->o->operand,
                  f->r.rows[bad].line, why);
    status = CLI_INPUT_WRONG;
  } else if (made == FH_ERR_LIMIT) {
    (void)fprintf(stderr, "%s:%d:1: %s, accepted: every reading in the unit of its column\n", f->o->operand, f->r.rows[bad].line, why);
    status = CLI_INPUT_WRONG;
  } else {
    status = cli_fail(made);
  }
  if (status == CLI_DONE) {
    f->fit->language = cli_options_language(f->o);
    status = write_all(f);
  }
  fh_fit_destroy(f->fit);
  cli_readings_close(&f->r);
  return status;
}

int cli_run_fit(const cli_options *o) {
  int status = cli_outputs_agree(o);
  if (status == CLI_DONE && !cli_lm_is_there()) {
    (void)fprintf(stderr, "firnhaul: this program was built without cminpack, so it cannot fit\n");
    return CLI_FAILED;
  }
  if (status != CLI_DONE) {
    return status;
  }
  fh_gear *gear = NULL;
  status = cli_gear_open(o, &gear);
  if (status == CLI_DONE) {
    fitting f = {.o = o, .gear = gear};
    status = fit_case(&f);
    fh_gear_destroy(gear);
  }
  return status;
}
