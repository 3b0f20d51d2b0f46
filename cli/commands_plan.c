// SPDX-License-Identifier: MIT
// firnhaul plan: the rigs that the kit can build, in the form that was asked for; one of them in full with --pick.
#include "commands.h"

#include <stdio.h>

#include "memory.h"
#include "progress.h"
#include "show_plan.h"

static fh_status write_json(void *context, fh_out out) {
  const cli_planned *p = context;
  return fh_plans_write_json(p->scene, p->gear, p->plans, out);
}

static fh_status write_csv(void *context, fh_out out) {
  const cli_planned *p = context;
  return fh_plans_write_csv(p->scene, p->gear, p->plans, out);
}

static fh_status draw(void *context, fh_out out) {
  const cli_planned *p = context;
  return fh_draw_plans(p->scene, p->gear, p->plans, cli_options_units(p->o), out);
}

static bool some_possible(const fh_plans *plans) {
  for (int i = 0; i < plans->count; i++) {
    if (plans->plans[i].possible) {
      return true;
    }
  }
  return false;
}

static int write_list(const cli_planned *p) {
  void *context = (void *)(uintptr_t)p;  // the writers take it back as const
  int status = cli_write_figures(p->o, draw, context);
  if (status != CLI_DONE) {
    return status;
  }
  if (p->o->given[CLI_JSON]) {
    status = cli_write_main(p->o, write_json, context);
  } else if (p->o->given[CLI_CSV]) {
    status = cli_write_main(p->o, write_csv, context);
  } else if (cli_main_is_free(p->o)) {
    status = cli_show_main(p->o, cli_show_plans, context);
  }
  if (status != CLI_DONE || some_possible(p->plans)) {
    return status;
  }
  return p->plans->stopped ? CLI_FAILED : CLI_ANSWER_NO;  // a search that did not end says neither yes nor no
}

// One rig of the list: the number asked for, or the first.
static bool wants_one(const cli_options *o) {
  bool figure_of_one = cli_wants_figure(o) && o->given[CLI_FIGURE] && o->choice[CLI_FIGURE] != 3;
  return o->given[CLI_PICK] || o->given[CLI_YAML] || figure_of_one;
}

static int write_one(const cli_planned *p) {
  int number = p->o->given[CLI_PICK] ? (int)p->o->number[CLI_PICK] : 1;
  // Only who names a less likely rig by its number gets one.
  int most = p->plans->count + (p->o->given[CLI_PICK] ? p->plans->less_likely : 0);
  if (most == 0) {
    (void)fprintf(stderr, "firnhaul: no rig works, so there is none to pick; without --pick plan says what is missing\n");
    return p->plans->stopped ? CLI_FAILED : CLI_ANSWER_NO;
  }
  if (number > most) {
    (void)fprintf(stderr, "firnhaul: --pick does not take '%d'; accepted: a whole number from 1 to %d\n", number, most);
    return CLI_INPUT_WRONG;
  }
  if (number > p->plans->count) {
    (void)fprintf(stderr, "firnhaul: rig %d is one of the less likely: at the likely figures the crew lacks pull for it\n", number);
  }
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  int status = rig == NULL ? cli_fail(FH_ERR_MEMORY) : cli_fail(fh_plan_rig(p->scene, p->gear, p->plans, number - 1, rig));
  if (status == CLI_DONE) {
    status = cli_check_rig(p->o, p->scene, p->gear, rig);
  }
  fhi_free(rig);
  return status;
}

static int plan_case(const cli_options *o, const cli_case *c) {
  static const fh_prefer prefers[] = {FH_PREFER_PULL, FH_PREFER_TIME, FH_PREFER_PIECES, FH_PREFER_SAFE, FH_PREFER_CHANCE};
  fh_plan_opts opts = fh_plan_opts_default();
  opts.prefer = o->given[CLI_PREFER] ? prefers[o->choice[CLI_PREFER]] : c->scene->prefer;
  opts.all = o->given[CLI_ALL];
  if (o->given[CLI_CONTACTS]) {
    opts.max_contacts = (int)o->number[CLI_CONTACTS];
  }
  fh_plans *plans = NULL;
  opts.progress = cli_progress;
  cli_progress_start();
  int status = cli_fail(fh_plans_create(c->scene, c->gear, &opts, &plans));
  cli_progress_end();
  if (status != CLI_DONE) {
    return status;
  }
  cli_planned p = {o, c->scene, c->gear, plans};
  status = wants_one(o) ? write_one(&p) : write_list(&p);
  fh_plans_destroy(plans);
  return status;
}

int cli_run_plan(const cli_options *o) {
  int status = cli_outputs_agree(o);
  if (status == CLI_DONE && o->given[CLI_FIGURE] && o->choice[CLI_FIGURE] == 3 && (o->given[CLI_PICK] || o->given[CLI_YAML])) {
    status = cli_refuse("one rig makes no figure 'plans'; accepted: section, plan-view, angle");
  }
  if (status == CLI_DONE && !wants_one(o) && (o->given[CLI_ANGLE] || o->given[CLI_LOWER])) {
    status = cli_refuse("--angle and --lower are for one rig, the list is for a pull in line; accepted: with --pick N");
  }
  if (status != CLI_DONE) {
    return status;
  }
  cli_case c;
  status = cli_case_open(o, &c);
  if (status == CLI_DONE) {
    status = plan_case(o, &c);
    cli_case_close(&c);
  }
  return status;
}
