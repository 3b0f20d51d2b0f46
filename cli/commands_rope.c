// SPDX-License-Identifier: MIT
// firnhaul rope: where a team's rope goes, and whether what is left is enough.
#include "rescue.h"

#include <math.h>
#include <stdio.h>

#include "report.h"

static fh_status write_json(void *context, fh_out out) {
  const cli_rescue *r = context;
  return fh_budget_write_json(&r->budget_in, &r->budget, out);
}

static fh_status draw(void *context, fh_out out) {
  const cli_rescue *r = context;
  return fh_draw_budget(r->scene, &r->budget_in, &r->budget, cli_options_units(r->o), out);
}

// One figure a row.
static fh_status write_csv(void *context, fh_out out) {
  const cli_rescue *r = context;
  const fh_budget_out *b = &r->budget;
  const struct {
    const char *what;
    double value;
  } rows[] = {{"length_m", r->budget_in.length}, {"people", r->budget_in.people}, {"spacing_m", r->budget_in.spacing},
              {"spans_m", b->spans}, {"in_knots_m", b->in_knots}, {"in_ties_m", b->in_ties}, {"free_m", b->free_rope},
              {"first_spare_m", b->first.spare}, {"first_usable_m", b->first.usable}, {"first_loop_needs_m", b->first.loop_needs},
              {"first_loop_missing_m", b->first.loop_missing}, {"first_raise_needs_m", b->first.raise_needs}, {"first_raise_missing_m", b->first.raise_missing},
              {"last_spare_m", b->last.spare}, {"last_usable_m", b->last.usable}, {"last_loop_needs_m", b->last.loop_needs},
              {"last_loop_missing_m", b->last.loop_missing}, {"last_raise_needs_m", b->last.raise_needs}, {"last_raise_missing_m", b->last.raise_missing},
              {"widest_loop_m", b->widest_loop}, {"widest_loop_last_m", b->widest_loop_last}, {"widest_raise_m", b->widest_raise}};
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "what,value\r\n");
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    fhi_csv_text(&w, rows[i].what);
    fhi_put(&w, ",");
    fhi_csv_number(&w, rows[i].value);
    fhi_put(&w, "\r\n");
  }
  return fhi_writer_end(&w);
}

static int work(cli_rescue *r) {
  static const cli_rescue_forms forms = {draw, write_json, write_csv, cli_show_rope};
  if (fh_budget_from_scene(r->scene, &r->budget_in) != FH_OK) {
    char shown[300];
    (void)fprintf(stderr, "%s:1:1: ropes: no rope of the scene states its length; accepted: a rope with length_m\n",
                  cli_text_clean(shown, sizeof shown, r->o->operand));
    return CLI_INPUT_WRONG;
  }
  int status = cli_fail(fh_budget(&r->budget_in, &r->budget));
  if (status == CLI_DONE) {
    status = cli_rescue_write(r, &forms);
  }
  bool asked = !isnan(r->budget_in.spacing);
  return status == CLI_DONE && asked && !r->budget.loop_enough && !r->budget.raise_enough ? CLI_ANSWER_NO : status;
}

int cli_run_rope(const cli_options *o) {
  return cli_rescue_run(o, false, work);
}
