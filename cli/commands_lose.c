// SPDX-License-Identifier: MIT
// firnhaul lose: what falls when one thing lets go, in the form that was asked for.
#include "rescue.h"

#include <stdio.h>

#include "file.h"
#include "rescue_chance.h"

static fh_status write_json(void *context, fh_out out) {
  const cli_rescue *r = context;
  if (r->lose_chance == NULL) {
    return fh_lose_write_json(r->scene, r->lose, out);
  }
  cli_buffer body = {0}, own = {0};
  fh_status status = fh_lose_write_json(r->scene, r->lose, cli_buffer_out(&body));
  status = status == FH_OK ? fh_lose_chance_write_json(r->lose, r->lose_chance, cli_buffer_out(&own)) : status;
  status = status == FH_OK ? cli_write_with(body.text, body.used, own.text, own.used, out) : status;
  cli_buffer_free(&own);
  cli_buffer_free(&body);
  return status;
}

static fh_status write_csv(void *context, fh_out out) {
  const cli_rescue *r = context;
  return fh_lose_write_csv(r->lose, out);
}

static fh_status draw(void *context, fh_out out) {
  const cli_rescue *r = context;
  return fh_draw_lose(r->scene, r->lose, cli_options_units(r->o), out);
}

// --step must name a step that there is.
static int check_step(const cli_rescue *r) {
  if (!r->o->given[CLI_STEP]) {
    return CLI_DONE;
  }
  int most = 0;
  for (int s = 0; s < r->stages->count; s++) {
    if (r->stages->stages[s].step == (int)r->o->number[CLI_STEP]) {
      return CLI_DONE;
    }
    most = r->stages->stages[s].step;
  }
  (void)fprintf(stderr, "firnhaul: --step does not take '%d'; accepted: a whole number from 1 to %d\n", (int)r->o->number[CLI_STEP], most);
  return CLI_INPUT_WRONG;
}

static int work(cli_rescue *r) {
  fh_stages_opts opts = fh_stages_opts_default();
  opts.units = cli_options_units(r->o);
  static const cli_rescue_forms forms = {draw, write_json, write_csv, cli_show_lose};
  fh_lose *lose = NULL;
  fh_lose_chance *chance = NULL;
  if (r->o->given[CLI_CHANCE] && r->o->given[CLI_CSV]) {
    return cli_refuse("--csv holds the losses without their chances; accepted with --chance: --json, or neither");
  }
  int status = cli_fail(fh_lose_create(r->scene, r->gear, r->rig, &opts, &lose));
  if (status != CLI_DONE) {
    return status;
  }
  r->lose = lose;
  r->stages = lose->stages;
  status = check_step(r);
  if (status == CLI_DONE && r->o->given[CLI_CHANCE]) {
    status = cli_lose_chance_create(r->o, r->scene, r->gear, r->rig, &chance);
    r->lose_chance = chance;
  }
  if (status == CLI_DONE) {
    status = cli_rescue_write(r, &forms);
  }
  if (status == CLI_DONE && (lose->stages->refused || lose->outcome != FH_OUTCOME_SOLVED)) {
    status = CLI_ANSWER_NO;
  }
  fh_lose_chance_destroy(chance);
  fh_lose_destroy(lose);
  return status;
}

int cli_run_lose(const cli_options *o) {
  return cli_rescue_run(o, true, work);
}
