// SPDX-License-Identifier: MIT
// Strokes, resets and time of a raise, for check and plan: the runs of haul, so that all tell the same figures. Model sections 7 and 8.
#include <math.h>

#include "haul.h"
#include "memory.h"
#include "words.h"

static void fill(const fhi_raise *r, const fhi_run *run, fhi_timing *t) {
  const fhi_run *l = &run[FHI_LIKELY_CASE], *h = &run[FHI_HARD];
  t->why = l->done ? NULL : l->stuck;
  t->strokes = l->strokes;
  t->time = fhi_run_time(run, r->world, false);
  t->time_rests = fhi_run_time(run, r->world, true);
  t->hard_stuck = h->done ? NULL : h->stuck;
  t->no_end = r->world[FHI_HARD].sustained <= 0.0;
}

static fh_status run_all(const fhi_raise *r, fhi_timing *t) {
  const fh_stages_opts opts = fh_stages_opts_default();
  fhi_backup backup;
  fh_status status = FH_OK;
  fhi_run *run = fhi_alloc(FHI_CASES, sizeof *run);
  if (run == NULL) {
    return FH_ERR_MEMORY;
  }
  fhi_backup_find(r, &opts, &backup);
  for (int i = 0; i < FHI_CASES && status == FH_OK; i++) {
    status = fhi_run_raise(r, &r->world[i], &backup, &run[i], NULL);
  }
  if (status == FH_OK) {
    fill(r, run, t);
  }
  fhi_free(run);
  return status;
}

fh_status fhi_timing_find(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fhi_timing *timing) {
  fhi_raise *r = NULL;
  fh_status status = fhi_raise_create(scene, gear, rig, &r);
  if (status != FH_OK) {
    return status;
  }
  *timing = (fhi_timing){.why = "the forces have no answer: some strand would have to push", .held = r->held};
  if (r->outcome == FH_OUTCOME_SOLVED) {
    status = run_all(r, timing);
  }
  fhi_raise_destroy(r);
  return status;
}

// A rig without a capture may be meant for holding by hand: its check is no NO for that. What a raise does not come to is not known.
static void refuse(const fhi_timing *t, fh_check *check) {
  const fh_band nan = {(double)NAN, (double)NAN, (double)NAN};
  check->strokes = check->resets = -1;
  check->time = check->time_rests = nan;
  fhi_note(check, t->held ? FH_NOTE_NO : FH_NOTE_WARN, "no time is told, the raise does not come to its end: %s", fhi_say(check->language, t->why));
}

fh_status fhi_haul_time(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_check *check) {
  fhi_timing t;
  if (check->outcome != FH_OUTCOME_SOLVED || check->resets < 0) {
    return FH_OK;  // nothing moves, or there is no room for a stroke: said already
  }
  fh_status status = fhi_timing_find(scene, gear, rig, &t);
  if (status != FH_OK) {
    return status;
  }
  if (t.why != NULL) {
    refuse(&t, check);
    return FH_OK;
  }
  check->strokes = t.strokes;
  check->resets = t.strokes - 1;
  check->time = t.time;
  check->time_rests = t.time_rests;
  if (t.hard_stuck != NULL) {
    fhi_note(check, FH_NOTE_WARN, "with everything at its hard end the raise does not come to its end: %s", fhi_say(check->language, t.hard_stuck));
  }
  if (t.no_end) {
    fhi_note(check, FH_NOTE_WARN, "at the worst nobody here keeps any pull up: the time has no upper end");
  }
  return FH_OK;
}
