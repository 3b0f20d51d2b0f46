// SPDX-License-Identifier: MIT
// How likely is it that the crew gets the load up and over the lip, in what time, with what pull? Implements model.md, section 12.
// The ordinary raise, run in settled scenes; when knots are tied is settled by the ranges beforehand, as the crew does it.
#include "haul_chance.h"

#include <math.h>
#include <string.h>

#include "crew.h"
#include "lose.h"
#include "memory.h"
#include "sample.h"
#include "sobol.h"
#include "tally.h"
#include "text.h"

enum {
  STROKES, PULLED, STRETCH, SET_BACK, TIME, WORK, PULL, GREATEST, CAPACITY, SHARE, RESETS,
  WORKS = 0, CREW, LASTS, CREW_LIP, LASTS_LIP, ROPE, LIMITS, ALL, COUNTS,
  WHY_BLOCKS = 8,  // 512 base points: a sample is a whole raise
};

static const int64_t STEP = FHI_REPLICATES * FHI_LANES;

struct fh_haul_chance_part {
  int64_t count[FHI_REPLICATES], good[COUNTS][FHI_REPLICATES];
  int64_t lip_crew[FH_MAX_LIP_CASES], lip_lasts[FH_MAX_LIP_CASES];
  int64_t bins[FHI_HAUL_SPREADS][FHI_TALLY_FINE_BINS];
  int64_t lip_bins[FH_MAX_LIP_CASES][FHI_TALLY_FINE_BINS];
  double u[FH_MAX_UNKNOWNS][FHI_LANES];
  fhi_raised raised[FHI_LANES];
  fhi_odds_scratch scratch;
  fhi_odds_out out, over;
  fhi_settled *settled;
};

fh_chance_opts fh_haul_chance_opts_default(void) {
  return (fh_chance_opts){.samples = 4096, .seed = 1, .why = false};
}

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
  const bool good[COUNTS] = {
      [WORKS] = works,
      [CREW] = works && x->greatest <= x->capacity,
      [LASTS] = works && x->greatest <= x->sustained,
      [CREW_LIP] = works && x->pull <= x->capacity,
      [LASTS_LIP] = works && x->pull <= x->sustained,
      [ROPE] = x->rope,
      [LIMITS] = limits,
      [ALL] = works && x->rope && limits && (!crew || x->greatest <= x->capacity),
  };
  for (int k = 0; k < COUNTS; k++) {
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
  add_counts(&to->good[0][0], &from->good[0][0], COUNTS * FHI_REPLICATES);
  add_counts(to->lip_crew, from->lip_crew, FH_MAX_LIP_CASES);
  add_counts(to->lip_lasts, from->lip_lasts, FH_MAX_LIP_CASES);
  add_counts(&to->bins[0][0], &from->bins[0][0], FHI_HAUL_SPREADS * FHI_TALLY_FINE_BINS);
  add_counts(&to->lip_bins[0][0], &from->lip_bins[0][0], FH_MAX_LIP_CASES * FHI_TALLY_FINE_BINS);
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

// ---------------------------------------------------------------------------------------------------- the whole

static int64_t sum(const int64_t *counts) {
  int64_t all = 0;
  for (int r = 0; r < FHI_REPLICATES; r++) {
    all += counts[r];
  }
  return all;
}

// From the scatter of the replicates' shares.
static double standard_error(const int64_t *good, const int64_t *count) {
  double mean = 0.0, square = 0.0;
  for (int r = 0; r < FHI_REPLICATES; r++) {
    mean += (double)good[r] / (double)count[r] / FHI_REPLICATES;
  }
  for (int r = 0; r < FHI_REPLICATES; r++) {
    double d = (double)good[r] / (double)count[r] - mean;
    square += d * d;
  }
  return sqrt(square / (FHI_REPLICATES * (FHI_REPLICATES - 1.0)));
}

static fh_band band(const fh_haul_chance_part *p, int spread, bool whole) {
  return fhi_tally_band(p->bins[spread], FHI_TALLY_FINE, whole);
}

static void fill_bands(const fh_haul_chance_part *p, bool crew, fh_haul_chance *c) {
  c->strokes = band(p, STROKES, true);
  c->resets = band(p, RESETS, true);
  c->rope_pulled = band(p, PULLED, false);
  c->stretch_lost = band(p, STRETCH, false);
  c->set_back = band(p, SET_BACK, false);
  c->time = band(p, TIME, false);
  c->work = band(p, WORK, false);
  c->pull = band(p, PULL, false);
  c->greatest = band(p, GREATEST, false);
  if (crew) {
    c->capacity = band(p, CAPACITY, false);
    c->share = band(p, SHARE, false);
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
  double all = (double)sum(p->count);
  bool crew = w->scene.crew_count > 0;
  c->works = (double)sum(p->good[WORKS]) / all;
  c->rope = (double)sum(p->good[ROPE]) / all;
  c->limits = (double)sum(p->good[LIMITS]) / all;
  c->all = (double)sum(p->good[ALL]) / all;
  c->error = standard_error(p->good[ALL], p->count);
  if (crew) {
    c->crew = (double)sum(p->good[CREW]) / all;
    c->lasts = (double)sum(p->good[LASTS]) / all;
    c->crew_to_lip = (double)sum(p->good[CREW_LIP]) / all;
    c->lasts_to_lip = (double)sum(p->good[LASTS_LIP]) / all;
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

// ---------------------------------------------------------------------------------------------------- why

typedef struct asker {
  const fh_haul_chance_work *w;
  fhi_settled *settled;
  fh_status status;
} asker;

// A raise that jams or does not come to its end has no share and no time: it is left out.
static void ask(void *user, const double *u, double *y) {
  asker *a = user;
  double one[FH_MAX_UNKNOWNS];
  fhi_raised x;
  for (int l = 0; l < FHI_LANES; l++) {
    for (int i = 0; i < a->w->unknowns.count; i++) {
      one[i] = u[i * FHI_LANES + l];
    }
    fh_status status = a->status == FH_OK ? fhi_raise_settled(a->w, a->settled, one, &x) : a->status;
    bool good = status == FH_OK && x.works;
    a->status = status;
    y[l] = good ? x.greatest / (a->w->scene.crew_count > 0 ? x.capacity : 1.0) : (double)NAN;
    y[FHI_LANES + l] = good ? x.time : (double)NAN;
  }
}

static fh_status fill_why(const fh_haul_chance_work *w, fh_haul_chance *c) {
  double alone[FH_MAX_UNKNOWNS * 2], total[FH_MAX_UNKNOWNS * 2];
  asker a = {.w = w, .status = FH_OK};
  fh_status status = fhi_settled_create(&w->scene, w->gear, &a.settled);
  if (status == FH_OK) {
    fhi_sobol_job job = {w->unknowns.count, 2, WHY_BLOCKS, w->opts.seed, ask, &a};
    status = fhi_sobol_indices(&job, alone, total);
    status = status == FH_OK ? a.status : status;
  }
  for (int i = 0; i < w->unknowns.count && status == FH_OK; i++) {
    c->unknown[i].pull_alone = alone[2 * i];
    c->unknown[i].pull_total = total[2 * i];
    c->time_alone[i] = alone[2 * i + 1];
    c->time_total[i] = total[2 * i + 1];
  }
  fhi_settled_destroy(a.settled);
  return status;
}

// ---------------------------------------------------------------------------------------------------- results

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
  fh_status status = sum(p->count) > 0 ? fill_chance(w, p, c) : FH_OK;
  if (status == FH_OK && w->opts.why && c->unknown_count > 0 && sum(p->count) > 0) {
    status = fill_why(w, c);
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
