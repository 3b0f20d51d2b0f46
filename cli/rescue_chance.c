// SPDX-License-Identifier: MIT
// Chances of the raise in time and of what lets go, on as many threads as there are cores.
#include "rescue_chance.h"

#include <stdio.h>

#include "pool.h"

// The pool knows works and parts by address only.
static fh_status haul_create(const void *work, void **part) {
  return fh_haul_chance_part_create(work, (fh_haul_chance_part **)part);
}

static fh_status haul_run(const void *work, void *part, int64_t first, int64_t count) {
  return fh_haul_chance_part_run(work, part, first, count);
}

static void haul_add(void *to, const void *from) {
  fh_haul_chance_part_add(to, from);
}

static void haul_destroy(void *part) {
  fh_haul_chance_part_destroy(part);
}

static fh_status lose_create(const void *work, void **part) {
  return fh_lose_chance_part_create(work, (fh_lose_chance_part **)part);
}

static fh_status lose_run(const void *work, void *part, int64_t first, int64_t count) {
  return fh_lose_chance_part_run(work, part, first, count);
}

static void lose_add(void *to, const void *from) {
  fh_lose_chance_part_add(to, from);
}

static void lose_destroy(void *part) {
  fh_lose_chance_part_destroy(part);
}

static int told(fh_status status, bool stopped) {
  if (status == FH_OK && stopped) {
    (void)fprintf(stderr, "firnhaul: stopped before all samples were counted\n");
    return CLI_FAILED;
  }
  return cli_fail(status);
}

static fh_chance_opts asked(const cli_options *o, fh_chance_opts opts, cli_option_id samples) {
  opts.why = o->given[CLI_WHY];
  opts.samples = o->given[samples] ? (int64_t)o->number[samples] : opts.samples;
  opts.seed = o->given[CLI_SEED] ? (uint64_t)o->number[CLI_SEED] : opts.seed;
  return opts;
}

int cli_haul_chance_create(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_haul_chance **out) {
  fh_chance_opts opts = asked(o, fh_haul_chance_opts_default(), CLI_RAISES);
  fh_haul_chance_work *work = NULL;
  void *part = NULL;
  bool stopped = false;
  fh_status status = fh_haul_chance_work_create(scene, gear, rig, &opts, &work);
  if (status == FH_OK) {
    const cli_pool pool = {work, fh_haul_chance_work_blocks(work), 4, haul_create, haul_run, haul_add, haul_destroy};
    status = cli_pool_run(&pool, cli_threads(o), &part, &stopped);
  }
  if (part != NULL) {
    status = fh_haul_chance_finish(work, part, out);
  }
  fh_haul_chance_part_destroy(part);
  fh_haul_chance_work_destroy(work);
  return told(status, stopped);
}

int cli_lose_chance_create(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_lose_chance **out) {
  fh_chance_opts opts = asked(o, fh_lose_chance_opts_default(), CLI_LOSSES);
  fh_lose_chance_work *work = NULL;
  void *part = NULL;
  bool stopped = false;
  fh_status status = fh_lose_chance_work_create(scene, gear, rig, &opts, &work);
  if (status == FH_OK) {
    const cli_pool pool = {work, fh_lose_chance_work_blocks(work), 1, lose_create, lose_run, lose_add, lose_destroy};
    status = cli_pool_run(&pool, cli_threads(o), &part, &stopped);
  }
  if (part != NULL) {
    status = fh_lose_chance_finish(work, part, out);
  }
  fh_lose_chance_part_destroy(part);
  fh_lose_chance_work_destroy(work);
  return told(status, stopped);
}
