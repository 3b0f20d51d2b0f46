// SPDX-License-Identifier: MIT
// firnhaul haul: the raise in time, in the form that was asked for.
#include "file.h"
#include "rescue.h"
#include "rescue_chance.h"

static fh_status write_json(void *context, fh_out out) {
  const cli_rescue *r = context;
  if (r->haul_chance == NULL) {
    return fh_haul_write_json(r->scene, r->haul, out);
  }
  cli_buffer body = {0}, own = {0};
  fh_status status = fh_haul_write_json(r->scene, r->haul, cli_buffer_out(&body));
  status = status == FH_OK ? fh_haul_chance_write_json(r->haul_chance, cli_buffer_out(&own)) : status;
  status = status == FH_OK ? cli_write_with(body.text, body.used, own.text, own.used, out) : status;
  cli_buffer_free(&own);
  cli_buffer_free(&body);
  return status;
}

static fh_status write_csv(void *context, fh_out out) {
  const cli_rescue *r = context;
  return fh_haul_write_csv(r->haul, out);
}

static fh_status draw(void *context, fh_out out) {
  const cli_rescue *r = context;
  if (r->o->given[CLI_WHY]) {
    return fh_draw_haul_chance(r->scene, r->haul_chance, out);
  }
  return fh_draw_haul(r->scene, r->haul, cli_options_units(r->o), out);
}

static bool some_no(const fh_haul *haul) {
  bool no = haul->outcome != FH_OUTCOME_SOLVED;
  for (int i = 0; i < haul->note_count; i++) {
    no = no || haul->notes[i].level == FH_NOTE_NO;
  }
  return no;
}

static int work(cli_rescue *r) {
  fh_stages_opts opts = fh_stages_opts_default();
  opts.units = cli_options_units(r->o);
  static const cli_rescue_forms forms = {draw, write_json, write_csv, cli_show_haul};
  fh_stages *stages = NULL;
  fh_haul *haul = NULL;
  fh_haul_chance *chance = NULL;
  bool sampled = r->o->given[CLI_CHANCE] || r->o->given[CLI_WHY];
  if (sampled && r->o->given[CLI_CSV]) {
    return cli_refuse("--csv holds the trace of the likely raise; accepted with --chance or --why: --json, or neither");
  }
  int status = cli_fail(fh_stages_create(r->scene, r->gear, r->rig, &opts, &stages));
  if (status == CLI_DONE) {
    status = cli_fail(fh_haul_create(r->scene, r->gear, r->rig, &opts, &haul));
  }
  if (status == CLI_DONE && sampled) {
    status = cli_haul_chance_create(r->o, r->scene, r->gear, r->rig, &chance);
  }
  if (status == CLI_DONE) {
    r->stages = stages;
    r->haul = haul;
    r->haul_chance = chance;
    status = cli_rescue_write(r, &forms);
  }
  if (status == CLI_DONE && (stages->refused || some_no(haul))) {
    status = CLI_ANSWER_NO;
  }
  fh_haul_chance_destroy(chance);
  fh_haul_destroy(haul);
  fh_stages_destroy(stages);
  return status;
}

int cli_run_haul(const cli_options *o) {
  return cli_rescue_run(o, true, work);
}
