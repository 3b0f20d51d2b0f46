// SPDX-License-Identifier: MIT
// How likely is it to work? The job, and the answer from what its samples counted. Implements model.md, section 12.
#include "chance_work.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "memory.h"
#include "text.h"

static const int64_t STEP = FHI_REPLICATES * FHI_LANES;

fh_chance_opts fh_chance_opts_default(void) {
  return (fh_chance_opts){.samples = 16384, .seed = 1, .why = false};
}

// ---------------------------------------------------------------------------------------------------- the job

void fhi_chance_samplers(fh_chance_work *w, int dims) {
  for (int r = 0; r < FHI_REPLICATES; r++) {
    fhi_sampler_start(&w->sampler[r], w->opts.seed * FHI_REPLICATES + (uint64_t)r, dims);
  }
}

int64_t fhi_chance_steps(int64_t samples) {
  return (samples + STEP - 1) / STEP * STEP;
}

static fh_status prepare(const fh_scene *scene, const fh_gear *gear, const fh_check *check, fh_chance_work *w) {
  fh_status status = fhi_odds_build(scene, gear, &w->rig, check, &w->odds);
  if (status == FH_OK) {
    fhi_chance_samplers(w, w->odds.unknowns > 0 ? w->odds.unknowns : 1);
  }
  return status;
}

bool fhi_chance_stuck(const fh_check *check) {
  return check->jams || check->resets < 0;
}

fh_status fh_chance_work_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts,
                                fh_chance_work **out) {
  fh_chance_opts chosen = opts != NULL ? *opts : fh_chance_opts_default();
  if (scene == NULL || gear == NULL || rig == NULL || out == NULL || chosen.samples < 1 || chosen.samples > 4000000000) {
    return FH_ERR_ARG;
  }
  fh_check *check = NULL;
  fh_check_opts check_opts = {.lower = false, .ranges = true};
  fh_status status = fh_check_create(scene, gear, rig, &check_opts, &check);
  if (status != FH_OK) {
    return status;
  }
  fh_chance_work *w = fhi_alloc(1, sizeof *w);
  if (w == NULL) {
    fh_check_destroy(check);
    return FH_ERR_MEMORY;
  }
  w->opts = chosen;
  w->opts.samples = fhi_chance_steps(chosen.samples);
  w->outcome = check->outcome;
  w->stuck = fhi_chance_stuck(check);
  w->rig = *rig;
  w->language = scene->language;
  if (check->outcome == FH_OUTCOME_SOLVED) {
    status = prepare(scene, gear, check, w);
  } else {
    w->opts.samples = 0;
  }
  fh_check_destroy(check);
  if (status != FH_OK) {
    fhi_free(w);
    return status;
  }
  *out = w;
  return FH_OK;
}

void fh_chance_work_destroy(fh_chance_work *work) {
  fhi_free(work);
}

// ---------------------------------------------------------------------------------------------------- the answer

static void fill_chance(const fh_chance_work *w, const fh_chance_part *p, fh_chance *c) {
  double all = (double)fhi_replicates_sum(p->count);
  c->limits = (double)fhi_replicates_sum(p->limits) / all;
  c->rope = (double)fhi_replicates_sum(p->rope) / all;
  c->works = w->stuck ? 0.0 : 1.0;
  c->both = (double)fhi_replicates_sum(p->both) / all;
  c->error = fhi_replicates_error(p->both, p->count);
  c->pull = fhi_tally_three(&p->spread[FHI_OF_PULL], all);
  c->margin = fhi_tally_three(&p->spread[FHI_OF_MARGIN], all);
  if (w->odds.pullers > 0) {
    c->crew = (double)fhi_replicates_sum(p->crew) / all;
    c->lasts = (double)fhi_replicates_sum(p->lasts) / all;
    c->capacity = fhi_tally_three(&p->spread[FHI_OF_CAPACITY], all);
    c->share = fhi_tally_three(&p->spread[FHI_OF_SHARE], all);
  }
  c->limit_count = w->odds.limits;
  for (int i = 0; i < c->limit_count; i++) {
    (void)fhi_copy(c->limit[i].element, sizeof c->limit[i].element, w->odds.limit[i].element);
    c->limit[i].holds = 1.0 - (double)p->broken[i] / all;
  }
}

// All but the lists, whose entries are written whole as they are counted.
static void clear_answer(fh_chance *c) {
  memset(c, 0, offsetof(fh_chance, limit));
  c->limit_count = c->unknown_count = c->stood_count = 0;
}

fh_status fhi_chance_fill(const fh_chance_work *w, const fh_chance_part *p, fh_chance *c) {
  const fh_band none = {(double)NAN, (double)NAN, (double)NAN};
  clear_answer(c);
  c->outcome = w->outcome;
  c->samples = w->opts.samples;
  c->seed = w->opts.seed;
  c->language = w->language;
  c->pull = c->capacity = c->share = c->margin = none;
  c->crew = c->lasts = (double)NAN;
  c->error = 0.0;
  c->shared = w->odds.shared;
  c->stood_count = w->odds.stood_count;
  memcpy(c->stood, w->odds.stood, (size_t)c->stood_count * sizeof *c->stood);
  if (fhi_replicates_sum(p->count) == 0) {
    return FH_OK;
  }
  c->unknown_count = w->odds.unknowns;
  memcpy(c->unknown, w->odds.unknown, (size_t)c->unknown_count * sizeof *c->unknown);
  fill_chance(w, p, c);
  return w->opts.why && c->unknown_count > 0 ? fhi_chance_why(w, c) : FH_OK;
}

fh_status fh_chance_finish(const fh_chance_work *w, const fh_chance_part *p, fh_chance **out) {
  if (w == NULL || p == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_chance *c = fhi_alloc(1, sizeof *c);
  fh_status status = c == NULL ? FH_ERR_MEMORY : fhi_chance_fill(w, p, c);
  if (status != FH_OK) {
    fhi_free(c);
    return status;
  }
  *out = c;
  return FH_OK;
}

fh_status fh_chance_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts, fh_chance **out) {
  fh_chance_work *work = NULL;
  fh_chance_part *part = NULL;
  fh_status status = fh_chance_work_create(scene, gear, rig, opts, &work);
  status = status != FH_OK ? status : fh_chance_part_create(work, &part);
  if (status == FH_OK) {
    fh_chance_part_run(work, part, 0, fh_chance_work_blocks(work));
    status = fh_chance_finish(work, part, out);
  }
  fh_chance_part_destroy(part);
  fh_chance_work_destroy(work);
  return status;
}

void fh_chance_destroy(fh_chance *chance) {
  fhi_free(chance);
}
