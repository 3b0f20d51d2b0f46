// SPDX-License-Identifier: MIT
// firnhaul check: the rig in a scene, worked out, in the form that was asked for.
#include "commands.h"

#include <math.h>
#include <stdio.h>

#include "chance.h"
#include "file.h"
#include "memory.h"

static const double DEGREE = 3.14159265358979323846 / 180.0;  // [rad]

static fh_status write_json(void *context, fh_out out) {
  const cli_checked *c = context;
  if (c->chance == NULL) {
    return fh_check_write_json(c->scene, c->gear, c->rig, c->check, out);
  }
  cli_buffer body = {0};
  fh_status status = fh_check_write_json(c->scene, c->gear, c->rig, c->check, cli_buffer_out(&body));
  status = status != FH_OK ? status : cli_write_with_chance(body.text, body.used, c->chance, out);
  cli_buffer_free(&body);
  return status;
}

static fh_status write_csv(void *context, fh_out out) {
  const cli_checked *c = context;
  return fh_check_write_csv(c->scene, c->gear, c->rig, c->check, out);
}

// The scene with this rig in it.
static fh_status write_yaml(void *context, fh_out out) {
  const cli_checked *c = context;
  fh_scene *scene = fhi_alloc(1, sizeof *scene);
  if (scene == NULL) {
    return FH_ERR_MEMORY;
  }
  *scene = *c->scene;
  scene->has_rig = true;
  scene->rig = *c->rig;
  fh_status status = fh_scene_write_yaml(scene, c->gear, out);
  fhi_free(scene);
  return status;
}

static double pull_angle(const fh_rig *rig) {
  for (int i = 0; i < rig->station_count; i++) {
    if (rig->stations[i].kind == FH_HAND && fh_number_is_set(rig->stations[i].angle)) {
      return rig->stations[i].angle.likely;
    }
  }
  return 0.0;
}

static fh_status draw(void *context, fh_out out) {
  const cli_checked *c = context;
  fh_units units = cli_options_units(c->o);
  switch (c->o->given[CLI_FIGURE] ? c->o->choice[CLI_FIGURE] : 0) {
    case 1: return fh_draw_plan_view(c->scene, c->gear, c->rig, c->check, pull_angle(c->rig), units, out);
    case 4: return fh_draw_chance(c->scene, c->chance, out);
    case 2: return fh_draw_angle_curve(c->scene, c->gear, c->rig, units, out);
    default: return fh_draw_section(c->scene, c->gear, c->rig, c->check, units, out);
  }
}

static int write_report(const cli_checked *c) {
  void *context = (void *)(uintptr_t)c;  // the writers take it back as const
  if (c->o->given[CLI_JSON]) {
    return cli_write_main(c->o, write_json, context);
  }
  if (c->o->given[CLI_CSV]) {
    return cli_write_main(c->o, write_csv, context);
  }
  if (c->o->given[CLI_YAML]) {
    return cli_write_main(c->o, write_yaml, context);
  }
  return cli_main_is_free(c->o) ? cli_show_main(c->o, cli_show_check, context) : CLI_DONE;
}

// The rig as asked for on the command line: the pull's angle may be another.
static void turn_pull(fh_rig *rig, double angle) {
  for (int i = 0; i < rig->station_count; i++) {
    if (rig->stations[i].kind == FH_HAND) {
      rig->stations[i].angle = fh_number_exact(angle);
    }
  }
}

static int check_and_write(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig) {
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = o->given[CLI_LOWER];
  opts.ranges = true;
  fh_check *check = NULL;
  int status = cli_fail(fh_check_create(scene, gear, rig, &opts, &check));
  if (status != CLI_DONE) {
    return status;
  }
  fh_chance *chance = NULL;
  if (cli_wants_chance(o)) {
    status = cli_fail(cli_chance_create(o, scene, gear, rig, &chance));
  }
  cli_checked c = {o, scene, gear, rig, check, chance};
  status = status != CLI_DONE ? status : cli_write_figures(o, draw, &c);
  if (status == CLI_DONE) {
    status = write_report(&c);
  }
  if (status == CLI_DONE && check->answer_no) {
    status = CLI_ANSWER_NO;
  }
  fh_chance_destroy(chance);
  fh_check_destroy(check);
  return status;
}

int cli_check_rig(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig) {
  fh_rig *turned = fhi_alloc(1, sizeof *turned);
  if (turned == NULL) {
    return cli_fail(FH_ERR_MEMORY);
  }
  *turned = *rig;
  if (o->given[CLI_ANGLE]) {
    turn_pull(turned, o->number[CLI_ANGLE] * DEGREE);
  }
  int status = check_and_write(o, scene, gear, turned);
  fhi_free(turned);
  return status;
}

static int refuse_without_rig(const cli_options *o) {
  char shown[300];
  (void)fprintf(stderr, "%s:1:1: rig is missing: there is nothing to check; accepted: a scene with a rig (firnhaul plan finds one)\n",
                cli_text_clean(shown, sizeof shown, o->operand));
  return CLI_INPUT_WRONG;
}

int cli_run_check(const cli_options *o) {
  int status = cli_outputs_agree(o);
  if (status == CLI_DONE && o->given[CLI_FIGURE] && o->choice[CLI_FIGURE] == 3) {
    status = cli_refuse("one rig makes no figure 'plans'; accepted: section, plan-view, angle");
  }
  if (status != CLI_DONE) {
    return status;
  }
  cli_case c;
  status = cli_case_open(o, &c);
  if (status == CLI_DONE) {
    status = c.scene->has_rig ? cli_check_rig(o, c.scene, c.gear, &c.scene->rig) : refuse_without_rig(o);
    cli_case_close(&c);
  }
  return status;
}
