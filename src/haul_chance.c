// SPDX-License-Identifier: MIT
// How likely is it that the crew gets the load up and over the lip, in what time, with what pull? Implements model.md, section 12.
#include "haul_chance.h"

#include <math.h>
#include <string.h>

#include "lose.h"
#include "memory.h"

static const int64_t STEP = FHI_REPLICATES * FHI_LANES;

fh_chance_opts fh_haul_chance_opts_default(void) {
  return (fh_chance_opts){.samples = 4096, .seed = 1, .why = false};
}

// ---------------------------------------------------------------------------------------------------- the work

// Ours of the same name, by number where there are several. @return -1: none
static int ours(const fhi_unknowns *u, const fh_unknown *x) {
  int named = -1;
  for (int i = 0; i < u->count; i++) {
    const fh_number *a = &u->list[i].number, *b = &x->number;
    bool same = a->spread == b->spread && a->lo == b->lo && a->likely == b->likely && a->hi == b->hi;
    if (strcmp(u->list[i].name, x->name) == 0) {
      if (same) {
        return i;
      }
      named = i;
    }
  }
  return named;
}

// The limits are those of the chance of check; what they are made of is ours. What we have no room for stands at its likely value.
static void map_odds(fh_haul_chance_work *w) {
  for (int i = 0; i < w->odds.unknowns; i++) {
    const fh_unknown *x = &w->odds.unknown[i];
    bool angle = strcmp(x->name, "angle of the pull") == 0;  // the raise is run in line
    int at = ours(&w->unknowns, x);
    w->of_odds[i] = at >= 0 || angle ? at : fhi_unknown_add(&w->unknowns, x->number, x->advice, x->name);
  }
}

static fh_status prepare(fh_haul_chance_work *w) {
  fhi_raise *r = NULL;
  fh_check *check = NULL;
  const fh_check_opts opts = {.lower = false, .ranges = true};
  fh_status status = fhi_raise_create(&w->scene, w->gear, &w->scene.rig, &r);
  status = status != FH_OK ? status : fh_check_create(&w->scene, w->gear, &w->scene.rig, &opts, &check);
  if (status == FH_OK) {
    w->outcome = r->outcome != FH_OUTCOME_SOLVED ? r->outcome : check->outcome;
    w->jams = check->jams;
    fhi_backup_find(r, &w->stages, &w->backup);
  }
  if (status == FH_OK && w->outcome == FH_OUTCOME_SOLVED) {
    status = fhi_odds_build(&w->scene, w->gear, &w->scene.rig, check, &w->odds);
    map_odds(w);
  }
  fh_check_destroy(check);
  fhi_raise_destroy(r);
  return status;
}

fh_status fh_haul_chance_work_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts,
                                     fh_haul_chance_work **out) {
  fh_chance_opts chosen = opts != NULL ? *opts : fh_haul_chance_opts_default();
  if (!fhi_rig_fits(scene, gear, rig) || out == NULL || chosen.samples < 1 || chosen.samples > 4000000000) {
    return FH_ERR_ARG;
  }
  fh_haul_chance_work *w = fhi_alloc(1, sizeof *w);
  if (w == NULL) {
    return FH_ERR_MEMORY;
  }
  w->opts = chosen;
  w->opts.samples = (chosen.samples + STEP - 1) / STEP * STEP;
  w->scene = *scene;
  w->scene.rig = *rig;
  w->scene.has_rig = true;
  w->gear = gear;
  w->stages = fh_stages_opts_default();
  w->as_it_is = fhi_lip_as_it_is(&w->scene);
  fhi_unknowns_fill(&w->scene, gear, FHI_ASKS_HAUL, &w->unknowns);
  fh_status status = prepare(w);
  if (status != FH_OK) {
    fhi_free(w);
    return status;
  }
  w->opts.samples = w->outcome == FH_OUTCOME_SOLVED ? w->opts.samples : 0;
  for (int r = 0; r < FHI_REPLICATES; r++) {
    fhi_sampler_start(&w->sampler[r], chosen.seed * FHI_REPLICATES + (uint64_t)r, w->unknowns.count > 0 ? w->unknowns.count : 1);
  }
  *out = w;
  return FH_OK;
}

void fh_haul_chance_work_destroy(fh_haul_chance_work *work) {
  fhi_free(work);
}

// ---------------------------------------------------------------------------------------------------- the answer

static fh_band band(const fh_haul_chance_part *p, int spread, bool whole) {
  return fhi_tally_band(p->bins[spread], FHI_TALLY_FINE, whole);
}

static void fill_bands(const fh_haul_chance_part *p, bool crew, fh_haul_chance *c) {
  c->strokes = band(p, FHI_HAUL_STROKES, true);
  c->resets = band(p, FHI_HAUL_RESETS, true);
  c->rope_pulled = band(p, FHI_HAUL_PULLED, false);
  c->stretch_lost = band(p, FHI_HAUL_STRETCH, false);
  c->set_back = band(p, FHI_HAUL_SET_BACK, false);
  c->time = band(p, FHI_HAUL_TIME, false);
  c->work = band(p, FHI_HAUL_WORK, false);
  c->pull = band(p, FHI_HAUL_PULL, false);
  c->greatest = band(p, FHI_HAUL_GREATEST, false);
  if (crew) {
    c->capacity = band(p, FHI_HAUL_CAPACITY, false);
    c->share = band(p, FHI_HAUL_SHARE, false);
  }
}

static void fill_lip(const fh_haul_chance_work *w, const fh_haul_chance_part *p, const fhi_raise *r, double all, fh_haul_chance *c) {
  fh_lip_case k;
  for (int i = 0; i < FH_MAX_LIP_CASES; i++) {
    if (!fhi_lip_way(r, &w->stages, i, &k, NULL)) {
      continue;
    }
    fh_lip_chance *x = &c->lip[c->lip_count++];
    bool crew = w->scene.crew_count > 0;
    x->name = k.name;
    x->crew = crew ? (double)p->lip_crew[i] / all : (double)NAN;
    x->lasts = crew ? (double)p->lip_lasts[i] / all : (double)NAN;
    x->pull = fhi_tally_band(p->lip_bins[i], FHI_TALLY_FINE, false);
    c->lip_name = i == w->as_it_is ? k.name : c->lip_name;
  }
}

static fh_status fill_chance(const fh_haul_chance_work *w, const fh_haul_chance_part *p, fh_haul_chance *c) {
  double all = (double)fhi_replicates_sum(p->count);
  bool crew = w->scene.crew_count > 0;
  c->works = (double)fhi_replicates_sum(p->good[FHI_GOOD_WORKS]) / all;
  c->rope = (double)fhi_replicates_sum(p->good[FHI_GOOD_ROPE]) / all;
  c->limits = (double)fhi_replicates_sum(p->good[FHI_GOOD_LIMITS]) / all;
  c->all = (double)fhi_replicates_sum(p->good[FHI_GOOD_ALL]) / all;
  c->error = fhi_replicates_error(p->good[FHI_GOOD_ALL], p->count);
  if (crew) {
    c->crew = (double)fhi_replicates_sum(p->good[FHI_GOOD_CREW]) / all;
    c->lasts = (double)fhi_replicates_sum(p->good[FHI_GOOD_LASTS]) / all;
    c->crew_to_lip = (double)fhi_replicates_sum(p->good[FHI_GOOD_CREW_LIP]) / all;
    c->lasts_to_lip = (double)fhi_replicates_sum(p->good[FHI_GOOD_LASTS_LIP]) / all;
  }
  fill_bands(p, crew, c);
  fhi_raise *r = NULL;
  fh_status status = fhi_raise_create(&w->scene, w->gear, &w->scene.rig, &r);
  if (status == FH_OK) {
    fill_lip(w, p, r, all, c);
  }
  fhi_raise_destroy(r);
  return status;
}

static void fill_unset(const fh_haul_chance_work *w, fh_haul_chance *c) {
  const double nan = (double)NAN;
  const fh_band none = {nan, nan, nan};
  c->outcome = w->outcome;
  c->samples = w->opts.samples;
  c->seed = w->opts.seed;
  c->crew = c->lasts = c->crew_to_lip = c->lasts_to_lip = nan;
  c->strokes = c->resets = c->rope_pulled = c->stretch_lost = c->set_back = c->time = c->work = none;
  c->pull = c->greatest = c->capacity = c->share = none;
  c->lip_name = "";
  for (int i = 0; i < FH_MAX_UNKNOWNS; i++) {
    c->time_alone[i] = c->time_total[i] = nan;
  }
  c->unknown_count = w->unknowns.count;
  memcpy(c->unknown, w->unknowns.list, sizeof c->unknown);
  c->stood_count = w->unknowns.stood_count;
  memcpy(c->stood, w->unknowns.stood, sizeof c->stood);
}

fh_status fh_haul_chance_finish(const fh_haul_chance_work *w, const fh_haul_chance_part *p, fh_haul_chance **out) {
  if (w == NULL || p == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_haul_chance *c = fhi_alloc(1, sizeof *c);
  if (c == NULL) {
    return FH_ERR_MEMORY;
  }
  fill_unset(w, c);
  c->language = w->scene.language;
  fh_status status = fhi_replicates_sum(p->count) > 0 ? fill_chance(w, p, c) : FH_OK;
  if (status == FH_OK && w->opts.why && c->unknown_count > 0 && fhi_replicates_sum(p->count) > 0) {
    status = fhi_haul_why(w, c);
  }
  if (status != FH_OK) {
    fhi_free(c);
    return status;
  }
  *out = c;
  return FH_OK;
}

fh_status fh_haul_chance_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts, fh_haul_chance **out) {
  fh_haul_chance_work *work = NULL;
  fh_haul_chance_part *part = NULL;
  fh_status status = fh_haul_chance_work_create(scene, gear, rig, opts, &work);
  status = status != FH_OK ? status : fh_haul_chance_part_create(work, &part);
  status = status != FH_OK ? status : fh_haul_chance_part_run(work, part, 0, fh_haul_chance_work_blocks(work));
  status = status != FH_OK ? status : fh_haul_chance_finish(work, part, out);
  fh_haul_chance_part_destroy(part);
  fh_haul_chance_work_destroy(work);
  return status;
}

void fh_haul_chance_destroy(fh_haul_chance *chance) {
  fhi_free(chance);
}
