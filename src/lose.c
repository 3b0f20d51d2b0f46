// SPDX-License-Identifier: MIT
// Every part of every stage lets go in turn: what catches, how far the load falls, how hard it stops. Model section 9.
#include "lose.h"

#include "memory.h"
#include "text.h"

static fh_status lose_all(fhi_asker *asker, fh_lose *lose) {
  const fhi_parts *parts = &asker->parts;
  lose->element_count = parts->count;
  lose->elements = fhi_alloc((size_t)parts->count, sizeof *lose->elements);
  lose->losses = fhi_alloc((size_t)parts->count * (size_t)lose->stages->count, sizeof *lose->losses);
  if (lose->elements == NULL || lose->losses == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int e = 0; e < parts->count; e++) {
    lose->elements[e] = parts->list[e];
  }
  for (int i = 0; i < lose->stages->count; i++) {
    fh_stage *stage = &lose->stages->stages[i];
    if (stage->kind == FH_STAGE_AWAY) {
      continue;  // nothing hangs any more
    }
    (void)fhi_stage_holds(asker, stage);
    for (int e = 0; e < parts->count; e++) {
      fhi_stage_lose(asker, e, &lose->losses[i * parts->count + e]);
    }
  }
  return FH_OK;
}

static fh_status work_out(fhi_raise *raise, const fh_stages_opts *opts, fh_lose *lose) {
  fhi_asker *asker = fhi_asker_create(raise, opts->most_drop);
  fh_status status = asker != NULL ? fhi_stages_make(raise, opts, asker, &lose->stages) : FH_ERR_MEMORY;
  if (status == FH_OK) {
    lose->outcome = lose->stages->outcome;
    (void)fhi_copy(lose->why, sizeof lose->why, lose->stages->why);
    status = lose_all(asker, lose);
  }
  fhi_asker_destroy(asker);
  return status;
}

fh_status fh_lose_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *opts,
                         fh_lose **out) {
  fh_stages_opts chosen = opts != NULL ? *opts : fh_stages_opts_default();
  fhi_raise *raise = NULL;
  if (!fhi_rig_fits(scene, gear, rig) || out == NULL || !fhi_stages_opts_fit(&chosen)) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_raise_create(scene, gear, rig, &raise);
  if (status != FH_OK) {
    return status;
  }
  fh_lose *lose = fhi_alloc(1, sizeof *lose);
  status = lose != NULL ? work_out(raise, &chosen, lose) : FH_ERR_MEMORY;
  fhi_raise_destroy(raise);
  if (status != FH_OK) {
    fh_lose_destroy(lose);
    return status;
  }
  *out = lose;
  return FH_OK;
}

void fh_lose_destroy(fh_lose *lose) {
  if (lose != NULL) {
    fh_stages_destroy(lose->stages);
    fhi_free(lose->elements);
    fhi_free(lose->losses);
    fhi_free(lose);
  }
}

const fh_loss *fh_lose_at(const fh_lose *lose, int stage, int element) {
  if (lose == NULL || stage < 0 || stage >= lose->stages->count || element < 0 || element >= lose->element_count) {
    return NULL;
  }
  return &lose->losses[stage * lose->element_count + element];
}
