// SPDX-License-Identifier: MIT
// What a screen says of all rigs in one line: can the crew, with how much pull, in what time? A page carries it, so that it has its
// answer before the core runs there. The keys and values are those of the whole answer (fh_plans_write_json and the page's points).
#include "json.h"
#include "memory.h"
#include "report.h"

// The answer of one plan, as check gives it.
static fh_status answer_of(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, int index, fh_rig *rig, fhi_answer *answer) {
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = opts.time = false;
  fh_check *check = NULL;
  fh_status status = fh_plan_rig(scene, gear, plans, index, rig);
  if (status == FH_OK) {
    status = fh_check_create(scene, gear, rig, &opts, &check);
  }
  if (status == FH_OK) {
    *answer = plans->plans[index].possible ? fhi_check_answer(check) : FHI_ANSWER_NO;
  }
  fh_check_destroy(check);
  return status;
}

static fh_status write_answers(fhi_json *j, const fh_scene *scene, const fh_gear *gear, const fh_plans *plans) {
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  fh_status status = rig == NULL ? FH_ERR_MEMORY : FH_OK;
  fhi_json_open(j, "points", '[');
  for (int i = 0; i < plans->count && status == FH_OK; i++) {
    fhi_answer answer = FHI_ANSWER_NO;
    status = answer_of(scene, gear, plans, i, rig, &answer);
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "answer", fhi_answer_name(answer));
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
  fhi_free(rig);
  return status;
}

static void write_plan(fhi_json *j, const fh_plan *plan) {
  fhi_json_open(j, NULL, '{');
  fhi_json_flag(j, "asks_below", plan->asks_below);
  fhi_json_number(j, "ideal_advantage", plan->ideal_advantage);
  fhi_json_number(j, "hand_force_N", plan->hand_force.likely);
  fhi_json_range(j, "hand_force_range_N", plan->hand_force);
  fhi_json_band(j, "crew_force_N", plan->crew.force);
  fhi_json_number(j, "time_s", plan->time);
  fhi_json_number(j, "time_with_rests_s", plan->time_rests);
  fhi_json_range(j, "time_with_rests_range_s", plan->time_rests_range);
  fhi_json_over_edge(j, &plan->over_edge);
  fhi_json_close(j, '}');
}

fh_status fhi_plans_write_brief(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, fh_out out) {
  if (scene == NULL || gear == NULL || plans == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_open(&j, "crew", '{');
  fhi_json_band(&j, "force_N", fh_crew_pull(scene, gear).force);
  fhi_json_close(&j, '}');
  fh_status status = write_answers(&j, scene, gear, plans);
  fhi_json_open(&j, "list", '{');
  fhi_json_open(&j, "plans", '[');
  for (int i = 0; i < plans->count; i++) {
    write_plan(&j, &plans->plans[i]);
  }
  fhi_json_close(&j, ']');
  fhi_json_open(&j, "less_likely", '[');
  for (int i = plans->count; i < plans->count + plans->less_likely; i++) {
    fhi_json_open(&j, NULL, '{');
    fhi_json_number(&j, "ideal_advantage", plans->plans[i].ideal_advantage);
    fhi_json_close(&j, '}');
  }
  fhi_json_close(&j, ']');
  fhi_json_close(&j, '}');
  fhi_json_close(&j, '}');
  fh_status end = fhi_writer_end(&w);
  return status != FH_OK ? status : end;
}
