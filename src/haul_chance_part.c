// SPDX-License-Identifier: MIT
// One settled raise, and the counts of many. Implements model.md, section 12.
// The ordinary raise, run in settled scenes; when knots are tied is settled by the ranges beforehand, as the crew does it.
#include "haul_chance.h"

#include <math.h>
#include <string.h>

#include "crew.h"
#include "lose.h"
#include "memory.h"
#include "sample.h"

// ---------------------------------------------------------------------------------------------------- one sample

bool fhi_rope_enough(const fhi_raise *r) {
  double needed[FH_MAX_PATHS], all[FH_MAX_ROPES] = {0.0};
  fhi_rope_needed(r->scene, r->rig, &r->model, needed);
  for (int p = 0; p < r->rig->path_count; p++) {
    int rope = r->rig->paths[p].rope;
    if (rope >= 0) {
      all[rope] += needed[p];
    }
  }
  for (int i = 0; i < r->scene->rope_count; i++) {
    if (fh_number_is_set(r->scene->ropes[i].length) && all[i] > r->scene->ropes[i].length.likely) {
      return false;
    }
  }
  return true;
}

static void run_crew(const fhi_raise *r, fhi_raised *out) {
  int rope = r->rig->paths[r->model.strands[r->model.hand_strand].path].rope;
  fh_pull pull = fhi_crew_pull(r->scene, r->gear, r->model.hand_dir < 0 ? FH_TOWARD_LIP : FH_TOWARD_BACK, fhi_rope_diameter(r->scene, r->gear, rope));
  out->capacity = pull.force.likely;
  out->sustained = pull.sustained.likely;
}

static void run_lip(const fh_haul_chance_work *w, const fhi_raise *r, fhi_raised *out) {
  fh_lip_case c;
  for (int i = 0; i < FH_MAX_LIP_CASES; i++) {
    bool there = fhi_lip_way(r, &w->stages, i, &c, i == w->as_it_is ? out->tension : NULL);
    out->lip[i] = there ? c.hand_force.likely : (double)NAN;
  }
  out->greatest = fmax(out->pull, out->lip[w->as_it_is]);
}

static fh_status run_raise(const fhi_raise *r, const fhi_backup *backup, fhi_raised *out) {
  fhi_run run;
  const fhi_world *world = &r->world[FHI_LIKELY_CASE];
  fh_status status = fhi_run_raise(r, world, backup, &run, NULL);
  out->works = status == FH_OK && run.done;
  out->strokes = run.strokes;
  out->pulled = run.pulled;
  out->stretch = run.stretch;
  out->set_back = run.sunk;
  out->time = run.time_pull + run.time_reset + run.time_rest;
  out->work = run.work.in;
  out->pull = world->hand;
  return status;
}

fh_status fhi_raise_settled(const fh_haul_chance_work *w, fhi_settled *s, const double *u, fhi_raised *out) {
  fhi_raise *r = NULL;
  memset(out, 0, sizeof *out);
  out->pull = out->greatest = out->capacity = out->sustained = (double)NAN;
  fhi_settle(s, &w->unknowns, u);
  fh_status status = fhi_raise_create_exact(&s->scene, &s->gear, &s->scene.rig, &w->backup, &r);
  if (status == FH_OK && r->outcome == FH_OUTCOME_SOLVED) {
    status = run_raise(r, &w->backup, out);
    out->rope = fhi_rope_enough(r);
    run_crew(r, out);
    run_lip(w, r, out);
  }
  fhi_raise_destroy(r);
  return status;
}

// ---------------------------------------------------------------------------------------------------- parts

fh_status fh_haul_chance_part_create(const fh_haul_chance_work *w, fh_haul_chance_part **out) {
  if (w == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_haul_chance_part *p = fhi_alloc(1, sizeof *p);
  if (p == NULL) {
    return FH_ERR_MEMORY;
  }
  fh_status status = fhi_settled_create(&w->scene, w->gear, &p->settled);
  if (status == FH_OK && w->odds.room.motion.coupled) {
    p->scratch.rest = fhi_rest_create(&w->odds.room.model, &w->odds.room.motion);
    status = p->scratch.rest != NULL ? FH_OK : FH_ERR_MEMORY;
  }
  if (status != FH_OK) {
    fh_haul_chance_part_destroy(p);
    return status;
  }
  *out = p;
  return FH_OK;
}

void fh_haul_chance_part_destroy(fh_haul_chance_part *p) {
  if (p != NULL) {
    fhi_rest_destroy(p->scratch.rest);
    fhi_settled_destroy(p->settled);
    fhi_free(p);
  }
}

int64_t fh_haul_chance_work_blocks(const fh_haul_chance_work *w) {
  return w->opts.samples / FHI_LANES;
}

// Every lane a raise, then the limits of all of them side by side: on the way up, and over the lip.
static fh_status run_block(const fh_haul_chance_work *w, fh_haul_chance_part *p) {
  double u[FH_MAX_UNKNOWNS];
  for (int l = 0; l < FHI_LANES; l++) {
    for (int i = 0; i < w->unknowns.count; i++) {
      u[i] = p->u[i][l];
    }
    fh_status status = fhi_raise_settled(w, p->settled, u, &p->raised[l]);
    if (status != FH_OK) {
      return status;
    }
  }
  for (int i = 0; i < w->odds.unknowns; i++) {
    int at = w->of_odds[i];
    for (int l = 0; l < FHI_LANES && at < 0; l++) {
      p->scratch.x[i][l] = w->odds.unknown[i].number.likely;
    }
    if (at >= 0) {
      fhi_number_lanes(w->odds.unknown[i].number, w->odds.cut_lo[i], w->odds.cut_hi[i], p->u[at], FHI_LANES, p->scratch.x[i]);
    }
  }
  fhi_odds_block(&w->odds, &p->scratch, true, &p->out);
  for (int t = 0; t < w->odds.room.model.strand_count; t++) {
    for (int l = 0; l < FHI_LANES; l++) {
      p->scratch.tension[t][l] = p->raised[l].tension[t];
    }
  }
  fhi_odds_limits(&w->odds, &p->scratch, &p->over);
  return FH_OK;
}

static bool limits_hold(const fh_haul_chance_work *w, const fh_haul_chance_part *p, int lane) {
  bool holds = isfinite(p->out.pull[lane]) && p->raised[lane].works;
  for (int i = 0; i < w->odds.limits; i++) {
    holds = holds && ((p->out.broken[i] | p->over.broken[i]) >> lane & 1u) == 0;
  }
  return holds;
}

static void tally_one(fh_haul_chance_part *p, const fhi_raised *x) {
  const double values[FHI_HAUL_SPREADS] = {x->strokes,  x->pulled,   x->stretch,  x->set_back,              x->time,         x->work, x->pull,
                                           x->greatest, x->capacity, x->greatest / x->capacity, x->strokes - 1.0};
  for (int k = 0; k < FHI_HAUL_SPREADS; k++) {
    p->bins[k][fhi_tally_bin(values[k], FHI_TALLY_FINE)]++;
  }
  for (int i = 0; i < FH_MAX_LIP_CASES; i++) {
    if (!isnan(x->lip[i])) {
      p->lip_bins[i][fhi_tally_bin(x->lip[i], FHI_TALLY_FINE)]++;
      p->lip_crew[i] += x->lip[i] <= x->capacity;
      p->lip_lasts[i] += x->lip[i] <= x->sustained;
    }
  }
}

// Written so that what is not known counts as no.
static void count_one(const fh_haul_chance_work *w, fh_haul_chance_part *p, int replicate, int lane) {
  const fhi_raised *x = &p->raised[lane];
  bool crew = w->scene.crew_count > 0, limits = limits_hold(w, p, lane), works = x->works && !w->jams;
  const bool good[FHI_GOODS] = {
      [FHI_GOOD_WORKS] = works,
      [FHI_GOOD_CREW] = works && x->greatest <= x->capacity,
      [FHI_GOOD_LASTS] = works && x->greatest <= x->sustained,
      [FHI_GOOD_CREW_LIP] = works && x->pull <= x->capacity,
      [FHI_GOOD_LASTS_LIP] = works && x->pull <= x->sustained,
      [FHI_GOOD_ROPE] = x->rope,
      [FHI_GOOD_LIMITS] = limits,
      [FHI_GOOD_ALL] = works && x->rope && limits && (!crew || x->greatest <= x->capacity),
  };
  for (int k = 0; k < FHI_GOODS; k++) {
    p->good[k][replicate] += good[k];
  }
  p->count[replicate]++;
  if (x->works) {
    tally_one(p, x);
  }
}

fh_status fh_haul_chance_part_run(const fh_haul_chance_work *w, fh_haul_chance_part *p, int64_t first, int64_t count) {
  int64_t blocks = fh_haul_chance_work_blocks(w), end = first + count < blocks ? first + count : blocks;
  for (int64_t b = first; b < end; b++) {
    int replicate = (int)(b % FHI_REPLICATES);
    for (int i = 0; i < w->unknowns.count; i++) {
      fhi_sampler_block(&w->sampler[replicate], i, (uint32_t)(b / FHI_REPLICATES), p->u[i]);
    }
    fh_status status = run_block(w, p);
    if (status != FH_OK) {
      return status;
    }
    for (int l = 0; l < FHI_LANES; l++) {
      count_one(w, p, replicate, l);
    }
  }
  return FH_OK;
}

static void add_counts(int64_t *to, const int64_t *from, int n) {
  for (int i = 0; i < n; i++) {
    to[i] += from[i];
  }
}

void fh_haul_chance_part_add(fh_haul_chance_part *to, const fh_haul_chance_part *from) {
  add_counts(to->count, from->count, FHI_REPLICATES);
  add_counts(&to->good[0][0], &from->good[0][0], FHI_GOODS * FHI_REPLICATES);
  add_counts(to->lip_crew, from->lip_crew, FH_MAX_LIP_CASES);
  add_counts(to->lip_lasts, from->lip_lasts, FH_MAX_LIP_CASES);
  add_counts(&to->bins[0][0], &from->bins[0][0], FHI_HAUL_SPREADS * FHI_TALLY_FINE_BINS);
  add_counts(&to->lip_bins[0][0], &from->lip_bins[0][0], FH_MAX_LIP_CASES * FHI_TALLY_FINE_BINS);
}
