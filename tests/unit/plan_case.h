// SPDX-License-Identifier: MIT
// What the tests of plan share: the rigs that a kit builds in a scene given as YAML.
#ifndef PLAN_CASE_H
#define PLAN_CASE_H

#include "plan.h"
#include "scenes.h"

typedef struct planned {
  scene_text t;
  fh_plans *p;
  fh_rig *rig;
} planned;

static inline planned plan_with(const char *yaml, fh_plan_opts opts) {
  planned x = {.t = scene_read(yaml), .rig = calloc(1, sizeof(fh_rig))};
  assert_non_null(x.rig);
  assert_status(fh_plans_create(x.t.scene, x.t.gear, &opts, &x.p), FH_OK);
  return x;
}

static inline planned plan_all(const char *yaml, int contacts) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.all = true;
  opts.max_contacts = contacts;
  return plan_with(yaml, opts);
}

static inline planned plan_kept(const char *yaml, int contacts, fh_prefer prefer) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.max_contacts = contacts;
  opts.prefer = prefer;
  return plan_with(yaml, opts);
}

static inline void planned_done(planned *x) {
  fh_plans_destroy(x->p);
  free(x->rig);
  scene_done(&x->t);
}

// A hole of 6 m, much room, a crew of two that pulls 900 N.
#define SLOT   "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\n" GROUND
#define STRONG "crew: [{pull_N: 450}, {pull_N: 450}]\n"
#define ROPES  "ropes: [{name: main, length_m: 60}, {name: cord, length_m: 40, kind: cord}]\n"
#define KIT    "kit: [{item: toothed-capture}, {item: pulley, count: 2}, {item: carabiner, count: 2}, {item: prusik, count: 2}]\n"

#endif
