// SPDX-License-Identifier: MIT
// How likely is it to work? Samples counted in whole numbers, so that any split of the work gives the same result.
// Implements model.md, section 12.
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "chance.h"
#include "lanes.h"
#include "memory.h"
#include "points.h"
#include "sample.h"
#include "sobol.h"
#include "tally.h"
#include "text.h"

enum {
  REPLICATES = 16,
  WHY_BLOCKS = 64,         // 4,096 base points
};

enum { PULL, CAPACITY, SHARE, MARGIN, SPREADS };

static const int64_t STEP = REPLICATES * FHI_LANES;

struct fh_chance_work {
  fh_chance_opts opts;
  fh_outcome outcome;
  bool stuck;  // check says that knots jam, or that there is no room for a stroke
  fhi_odds odds;
  fh_rig rig;
  fh_language language;
  fhi_sampler sampler[REPLICATES];
};

struct fh_chance_part {
  int64_t crew[REPLICATES], lasts[REPLICATES], limits[REPLICATES], rope[REPLICATES], both[REPLICATES], count[REPLICATES];
  int64_t broken[FH_MAX_LIMITS];
  fhi_tally spread[SPREADS];  // pull, capacity, share, margin
  fhi_odds_scratch scratch;
  fhi_odds_out out;
};

fh_chance_opts fh_chance_opts_default(void) {
  return (fh_chance_opts){.samples = 16384, .seed = 1, .why = false};
}

// ---------------------------------------------------------------------------------------------------- parts

static void count_block(const fh_chance_work *w, fh_chance_part *p, int replicate) {
  const fhi_odds_out *o = &p->out;
  double share[FHI_LANES];
  // What is not known counts as cannot.
  uint64_t broken = fhi_lanes_unknown(o->pull), cannot = 0, tired = 0;
  for (int i = 0; i < w->odds.limits; i++) {
    broken |= o->broken[i];
    p->broken[i] += fhi_bits(o->broken[i]);
  }
  if (w->odds.pullers > 0) {
    cannot = fhi_lanes_above(o->pull, o->capacity);
    tired = fhi_lanes_above(o->pull, o->sustained);
    for (int l = 0; l < FHI_LANES; l++) {
      share[l] = o->pull[l] / o->capacity[l];
    }
    fhi_tally_count(&p->spread[CAPACITY], o->capacity);
    fhi_tally_count(&p->spread[SHARE], share);
  }
  fhi_tally_count(&p->spread[PULL], o->pull);
  fhi_tally_count(&p->spread[MARGIN], o->margin);
  p->crew[replicate] += FHI_LANES - fhi_bits(cannot);
  p->lasts[replicate] += FHI_LANES - fhi_bits(tired);
  p->limits[replicate] += FHI_LANES - fhi_bits(broken);
  p->rope[replicate] += FHI_LANES - fhi_bits(o->too_short);
  p->both[replicate] += w->stuck ? 0 : FHI_LANES - fhi_bits(broken | cannot | o->too_short);
  p->count[replicate] += FHI_LANES;
}

static void count_one(const fh_chance_work *w, fh_chance_part *p, int64_t block) {
  fhi_odds_block(&w->odds, &p->scratch, true, &p->out);
  count_block(w, p, (int)(block % REPLICATES));
}

static bool make_rest(const fh_chance_work *work, fh_chance_part *p) {
  bool coupled = work->odds.room.motion.coupled;
  p->scratch.rest = coupled ? fhi_rest_create(&work->odds.room.model, &work->odds.room.motion) : NULL;
  return !coupled || p->scratch.rest != NULL;
}

fh_status fh_chance_part_create(const fh_chance_work *work, fh_chance_part **out) {
  if (work == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_chance_part *p = fhi_alloc(1, sizeof *p);
  if (p == NULL) {
    return FH_ERR_MEMORY;
  }
  if (!make_rest(work, p)) {
    fhi_free(p);
    return FH_ERR_MEMORY;
  }
  *out = p;
  return FH_OK;
}

void fh_chance_part_destroy(fh_chance_part *part) {
  if (part != NULL) {
    fhi_rest_destroy(part->scratch.rest);
    fhi_free(part);
  }
}

int64_t fh_chance_work_blocks(const fh_chance_work *work) {
  return work->opts.samples / FHI_LANES;
}

void fh_chance_part_run(const fh_chance_work *w, fh_chance_part *p, int64_t first, int64_t count) {
  int64_t end = first + count < fh_chance_work_blocks(w) ? first + count : fh_chance_work_blocks(w);
  for (int64_t b = first; b < end; b++) {
    fhi_odds_draw(&w->odds, &w->sampler[b % REPLICATES], 0, (uint32_t)(b / REPLICATES), &p->scratch);
    count_one(w, p, b);
  }
}

void fh_chance_part_add(fh_chance_part *to, const fh_chance_part *from) {
  for (int r = 0; r < REPLICATES; r++) {
    to->crew[r] += from->crew[r];
    to->lasts[r] += from->lasts[r];
    to->limits[r] += from->limits[r];
    to->rope[r] += from->rope[r];
    to->both[r] += from->both[r];
    to->count[r] += from->count[r];
  }
  for (int i = 0; i < FH_MAX_LIMITS; i++) {
    to->broken[i] += from->broken[i];
  }
  for (int k = 0; k < SPREADS; k++) {
    fhi_tally_add(&to->spread[k], &from->spread[k]);
  }
}

// ---------------------------------------------------------------------------------------------------- the whole

static void start_samplers(fh_chance_work *w, int dims) {
  for (int r = 0; r < REPLICATES; r++) {
    fhi_sampler_start(&w->sampler[r], w->opts.seed * REPLICATES + (uint64_t)r, dims);
  }
}

static int64_t whole_steps(int64_t samples) {
  return (samples + STEP - 1) / STEP * STEP;
}

static fh_status prepare(const fh_scene *scene, const fh_gear *gear, const fh_check *check, fh_chance_work *w) {
  fh_status status = fhi_odds_build(scene, gear, &w->rig, check, &w->odds);
  if (status == FH_OK) {
    start_samplers(w, w->odds.unknowns > 0 ? w->odds.unknowns : 1);
  }
  return status;
}

static bool stuck(const fh_check *check) {
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
  w->opts.samples = whole_steps(chosen.samples);
  w->outcome = check->outcome;
  w->stuck = stuck(check);
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

typedef struct asker {
  const fh_chance_work *w;
  fhi_odds_scratch scratch;
  fhi_odds_out out;
} asker;

// Lanes in which something fails: the pull, a limit, the rope. What is not known counts as cannot.
static uint64_t failing(const fhi_odds *o, const fhi_odds_out *out) {
  uint64_t fails = fhi_lanes_unknown(out->pull) | out->too_short;
  for (int i = 0; i < o->limits; i++) {
    fails |= out->broken[i];
  }
  return o->pullers > 0 ? fails | fhi_lanes_above(out->pull, out->capacity) : fails;
}

// What is ranked.
enum { ASK_PULL, ASK_MARGIN, ASK_WORKS, ASKED };

static void ask(void *user, const double *u, double *y) {
  asker *a = user;
  const fhi_odds *o = &a->w->odds;
  for (int i = 0; i < o->unknowns; i++) {
    fhi_number_lanes(o->unknown[i].number, o->cut_lo[i], o->cut_hi[i], u + i * FHI_LANES, FHI_LANES, a->scratch.x[i]);
  }
  fhi_odds_block(o, &a->scratch, true, &a->out);
  const uint64_t fails = failing(o, &a->out);
  for (int l = 0; l < FHI_LANES; l++) {
    y[ASK_PULL * FHI_LANES + l] = a->out.pull[l] / (o->pullers > 0 ? a->out.capacity[l] : 1.0);
    y[ASK_MARGIN * FHI_LANES + l] = a->out.margin[l];
    y[ASK_WORKS * FHI_LANES + l] = (fails >> l & 1) != 0 ? 0.0 : 1.0;
  }
}

static fh_status fill_why(const fh_chance_work *w, fh_chance *c) {
  double alone[FH_MAX_UNKNOWNS * ASKED], total[FH_MAX_UNKNOWNS * ASKED];
  asker *a = fhi_alloc(1, sizeof *a);
  if (a == NULL) {
    return FH_ERR_MEMORY;
  }
  a->w = w;
  a->scratch.rest = w->odds.room.motion.coupled ? fhi_rest_create(&w->odds.room.model, &w->odds.room.motion) : NULL;
  fh_status status = w->odds.room.motion.coupled && a->scratch.rest == NULL ? FH_ERR_MEMORY : FH_OK;
  if (status == FH_OK) {
    // A slow rig is asked less: a sample of it costs a search.
    fhi_sobol_job job = {w->odds.unknowns, ASKED, w->odds.fast ? WHY_BLOCKS : WHY_BLOCKS / 16, w->opts.seed, ask, a};
    status = fhi_sobol_indices(&job, alone, total);
  }
  for (int i = 0; i < w->odds.unknowns && status == FH_OK; i++) {
    const double *one = alone + ASKED * i, *all = total + ASKED * i;
    c->unknown[i].pull_alone = one[ASK_PULL];
    c->unknown[i].pull_total = all[ASK_PULL];
    c->unknown[i].margin_alone = one[ASK_MARGIN];
    c->unknown[i].margin_total = all[ASK_MARGIN];
    c->unknown[i].works_alone = one[ASK_WORKS];
    c->unknown[i].works_total = all[ASK_WORKS];
  }
  fhi_rest_destroy(a->scratch.rest);
  fhi_free(a);
  return status;
}

static int64_t sum(const int64_t *counts) {
  int64_t all = 0;
  for (int r = 0; r < REPLICATES; r++) {
    all += counts[r];
  }
  return all;
}

// From the scatter of the replicates' shares.
static double standard_error(const fh_chance_part *p) {
  double mean = 0.0, square = 0.0;
  for (int r = 0; r < REPLICATES; r++) {
    mean += (double)p->both[r] / (double)p->count[r] / REPLICATES;
  }
  for (int r = 0; r < REPLICATES; r++) {
    double d = (double)p->both[r] / (double)p->count[r] - mean;
    square += d * d;
  }
  return sqrt(square / (REPLICATES * (REPLICATES - 1.0)));
}

static void fill_chance(const fh_chance_work *w, const fh_chance_part *p, fh_chance *c) {
  double all = (double)sum(p->count);
  c->limits = (double)sum(p->limits) / all;
  c->rope = (double)sum(p->rope) / all;
  c->works = w->stuck ? 0.0 : 1.0;
  c->both = (double)sum(p->both) / all;
  c->error = standard_error(p);
  c->pull = fhi_tally_three(&p->spread[PULL], all);
  c->margin = fhi_tally_three(&p->spread[MARGIN], all);
  if (w->odds.pullers > 0) {
    c->crew = (double)sum(p->crew) / all;
    c->lasts = (double)sum(p->lasts) / all;
    c->capacity = fhi_tally_three(&p->spread[CAPACITY], all);
    c->share = fhi_tally_three(&p->spread[SHARE], all);
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

static fh_status finish(const fh_chance_work *w, const fh_chance_part *p, fh_chance *c) {
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
  if (sum(p->count) == 0) {
    return FH_OK;
  }
  c->unknown_count = w->odds.unknowns;
  memcpy(c->unknown, w->odds.unknown, (size_t)c->unknown_count * sizeof *c->unknown);
  fill_chance(w, p, c);
  return w->opts.why && c->unknown_count > 0 ? fill_why(w, c) : FH_OK;
}

fh_status fh_chance_finish(const fh_chance_work *w, const fh_chance_part *p, fh_chance **out) {
  if (w == NULL || p == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_chance *c = fhi_alloc(1, sizeof *c);
  fh_status status = c == NULL ? FH_ERR_MEMORY : finish(w, p, c);
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

// ---------------------------------------------------------------------------------------------------- again and again

struct fhi_chance_room {
  int dims;  // of the samplers: as many as any rig asked for so far
  fhi_points *points;
  fh_chance_work work;
  fh_chance_part part;
  fh_chance chance;
  fh_check check;
};

fh_status fhi_chance_room_create(int64_t samples, uint64_t seed, fhi_chance_room **out) {
  if (out == NULL || samples < 1 || samples > 4000000000) {
    return FH_ERR_ARG;
  }
  fhi_chance_room *room = fhi_alloc(1, sizeof *room);
  if (room == NULL) {
    return FH_ERR_MEMORY;
  }
  room->work.opts = (fh_chance_opts){.samples = whole_steps(samples), .seed = seed};
  room->points = fhi_points_create(room->work.opts.samples);
  if (room->points == NULL) {
    fhi_free(room);
    return FH_ERR_MEMORY;
  }
  *out = room;
  return FH_OK;
}

void fhi_chance_room_samples(fhi_chance_room *room, int64_t samples) {
  room->work.opts.samples = whole_steps(samples);
}

void fhi_chance_room_destroy(fhi_chance_room *room) {
  if (room != NULL) {
    fhi_points_destroy(room->points);
    fhi_free(room);
  }
}

// Zeros where something was counted; the rest is zero already.
static void clear_part(fh_chance_part *p) {
  for (int k = 0; k < SPREADS; k++) {
    fhi_tally_clear(&p->spread[k]);
  }
  memset(p->crew, 0, sizeof p->crew);
  memset(p->lasts, 0, sizeof p->lasts);
  memset(p->limits, 0, sizeof p->limits);
  memset(p->rope, 0, sizeof p->rope);
  memset(p->both, 0, sizeof p->both);
  memset(p->count, 0, sizeof p->count);
  memset(p->broken, 0, sizeof p->broken);
  p->scratch.begun = NULL;  // constants of another rig's programme
}

static void run_all(fhi_chance_room *room) {
  const fh_chance_work *w = &room->work;
  const int dims = w->odds.unknowns > 0 ? w->odds.unknowns : 1;
  if (dims > room->dims) {
    room->dims = dims;
    start_samplers(&room->work, room->dims);  // a further dimension does not move the others
  }
  const int64_t blocks = fh_chance_work_blocks(w);
  fhi_points_begin(room->points, &w->odds, blocks);
  for (int64_t b = 0; b < blocks; b++) {
    fhi_points_draw(room->points, &w->odds, w->sampler, REPLICATES, b, &room->part.scratch);
    count_one(w, &room->part, b);
  }
}

fh_status fhi_chance_again(fhi_chance_room *room, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance **chance,
                           const fh_check **check) {
  const fh_check_opts opts = {.lower = false, .ranges = true};
  fh_chance_work *w = &room->work;
  w->odds.room.highs = true;
  fh_status status = fhi_check_fill(scene, gear, rig, &opts, &w->odds.room, &room->check);
  if (status != FH_OK) {
    return status;
  }
  clear_part(&room->part);
  w->outcome = room->check.outcome;
  w->stuck = stuck(&room->check);
  w->language = scene->language;
  if (w->outcome == FH_OUTCOME_SOLVED) {
    status = fhi_odds_build_on(scene, gear, rig, &room->check, &w->odds);
    status = status == FH_OK && !make_rest(w, &room->part) ? FH_ERR_MEMORY : status;
    if (status == FH_OK) {
      run_all(room);
      fhi_rest_destroy(room->part.scratch.rest);
    }
  } else {
    memset(&w->odds, 0, sizeof w->odds);
  }
  *chance = &room->chance;
  *check = &room->check;
  return status != FH_OK ? status : finish(w, &room->part, &room->chance);
}
