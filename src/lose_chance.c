// SPDX-License-Identifier: MIT
// How likely is it that what lets go is caught, and that the catch bears it? Implements model.md, section 12.
// The ordinary loss of every element at every stage, in settled scenes; when knots are tied is settled by the ranges beforehand.
#include "lose_chance.h"

#include <math.h>
#include <string.h>

#include "haul_chance.h"
#include "memory.h"
#include "tally.h"
#include "text.h"

static const int64_t STEP = FHI_REPLICATES * FHI_LOSE_LANES;

// Counts of one element at one stage.
typedef struct cell {
  int64_t there, bears, caught, held;
  int64_t drop[FHI_TALLY_COARSE_BINS], peak[FHI_TALLY_COARSE_BINS];
} cell;

struct fh_lose_chance_part {
  cell *cells;
  int cell_count;
  int64_t count[FHI_REPLICATES], rope[FHI_REPLICATES], caught[FHI_REPLICATES], held[FHI_REPLICATES];
  int64_t drop[FHI_TALLY_COARSE_BINS], peak[FHI_TALLY_COARSE_BINS];
  fhi_settled *settled;
};

fh_chance_opts fh_lose_chance_opts_default(void) {
  return (fh_chance_opts){.samples = 512, .seed = 1, .why = false};
}

// ---------------------------------------------------------------------------------------------------- one sample

// The worst of one sample.
typedef struct worst {
  bool caught, held;
  double drop, peak;  // [m], [N]
} worst;

// The n-th stage of a kind is the n-th of that kind among those that are told of. @return its place, or -1: there is none
static int told_stage(const fh_lose_chance_work *w, const fh_stages *s, int index) {
  int number = 0;
  for (int i = 0; i < index; i++) {
    number += s->stages[i].kind == s->stages[index].kind;
  }
  for (int i = 0; i < w->stages; i++) {
    if (w->kind[i] == s->stages[index].kind && number-- == 0) {
      return i;
    }
  }
  return -1;
}

static void count_loss(const fh_loss *x, bool counts, cell *c, worst *all) {
  double drop = x->drop + fmax(x->bite, 0.0);
  bool held = x->caught && x->over_count == 0;
  c->there++;
  if (!x->bears) {
    return;
  }
  c->bears++;
  c->caught += x->caught;
  c->held += held;
  if (x->caught) {
    c->drop[fhi_tally_bin(drop, FHI_TALLY_COARSE)]++;
    c->peak[fhi_tally_bin(x->peak.likely, FHI_TALLY_COARSE)]++;
  }
  if (counts) {
    all->caught = all->caught && x->caught;
    all->held = all->held && (held || !x->caught);
    all->drop = x->caught ? fmax(all->drop, drop) : all->drop;
    all->peak = x->caught ? fmax(all->peak, x->peak.likely) : all->peak;
  }
}

static void lose_stage(const fh_lose_chance_work *w, fh_lose_chance_part *p, fhi_asker *a, fh_stage *stage, int told, worst *all) {
  fh_loss loss;
  (void)fhi_stage_holds(a, stage);
  for (int e = 0; e < w->elements && e < a->parts.count; e++) {
    int at = w->cell[told * w->elements + e];
    if (at < 0) {
      continue;
    }
    fhi_stage_lose(a, e, &loss);
    if (loss.there) {
      count_loss(&loss, stage->kind != FH_STAGE_SLACK && stage->kind != FH_STAGE_AWAY, &p->cells[at], all);
    }
  }
}

static fh_status lose_all(const fh_lose_chance_work *w, fh_lose_chance_part *p, const fhi_raise *r, worst *all) {
  fh_stages *stages = NULL;
  fhi_asker *a = fhi_asker_create(r, w->stages_opts.most_drop);
  fh_status status = a != NULL ? fhi_stages_make(r, &w->stages_opts, a, &stages) : FH_ERR_MEMORY;
  for (int i = 0; status == FH_OK && i < stages->count; i++) {
    int told = stages->stages[i].kind == FH_STAGE_AWAY ? -1 : told_stage(w, stages, i);
    if (told >= 0) {
      lose_stage(w, p, a, &stages->stages[i], told, all);
    }
  }
  fh_stages_destroy(stages);
  fhi_asker_destroy(a);
  return status;
}

static fh_status run_sample(const fh_lose_chance_work *w, fh_lose_chance_part *p, int replicate, uint32_t index) {
  double u[FH_MAX_UNKNOWNS];
  fhi_raise *r = NULL;
  worst all = {true, true, 0.0, 0.0};
  for (int i = 0; i < w->unknowns.count; i++) {
    u[i] = fhi_sampler_one(&w->sampler[replicate], i, index);
  }
  fhi_settle(p->settled, &w->unknowns, u);
  fh_status status = fhi_raise_create_exact(&p->settled->scene, &p->settled->gear, &p->settled->scene.rig, &w->backup, &r);
  status = status == FH_OK ? lose_all(w, p, r, &all) : status;
  bool rope = status == FH_OK && fhi_rope_enough(r);
  fhi_raise_destroy(r);
  if (status == FH_OK) {
    p->count[replicate]++;
    p->rope[replicate] += rope;
    p->caught[replicate] += all.caught;
    p->held[replicate] += all.held;
    if (all.peak > 0.0) {  // something was caught
      p->drop[fhi_tally_bin(all.drop, FHI_TALLY_COARSE)]++;
      p->peak[fhi_tally_bin(all.peak, FHI_TALLY_COARSE)]++;
    }
  }
  return status;
}

// ---------------------------------------------------------------------------------------------------- parts

fh_status fh_lose_chance_part_create(const fh_lose_chance_work *w, fh_lose_chance_part **out) {
  if (w == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_lose_chance_part *p = fhi_alloc(1, sizeof *p);
  if (p == NULL) {
    return FH_ERR_MEMORY;
  }
  p->cells = fhi_alloc((size_t)w->cells + 1, sizeof *p->cells);
  p->cell_count = w->cells;
  fh_status status = p->cells != NULL ? fhi_settled_create(&w->scene, w->gear, &p->settled) : FH_ERR_MEMORY;
  if (status != FH_OK) {
    fh_lose_chance_part_destroy(p);
    return status;
  }
  *out = p;
  return FH_OK;
}

void fh_lose_chance_part_destroy(fh_lose_chance_part *p) {
  if (p != NULL) {
    fhi_settled_destroy(p->settled);
    fhi_free(p->cells);
    fhi_free(p);
  }
}

int64_t fh_lose_chance_work_blocks(const fh_lose_chance_work *w) {
  return w->opts.samples / FHI_LOSE_LANES;
}

fh_status fh_lose_chance_part_run(const fh_lose_chance_work *w, fh_lose_chance_part *p, int64_t first, int64_t count) {
  int64_t blocks = fh_lose_chance_work_blocks(w), end = first + count < blocks ? first + count : blocks;
  for (int64_t b = first; b < end; b++) {
    for (int l = 0; l < FHI_LOSE_LANES; l++) {
      int64_t index = b / FHI_REPLICATES * FHI_LOSE_LANES + l;
      fh_status status = run_sample(w, p, (int)(b % FHI_REPLICATES), (uint32_t)index);
      if (status != FH_OK) {
        return status;
      }
    }
  }
  return FH_OK;
}

static void add_counts(int64_t *to, const int64_t *from, int n) {
  for (int i = 0; i < n; i++) {
    to[i] += from[i];
  }
}

static void add_cell(cell *to, const cell *from) {
  to->there += from->there;
  to->bears += from->bears;
  to->caught += from->caught;
  to->held += from->held;
  add_counts(to->drop, from->drop, FHI_TALLY_COARSE_BINS);
  add_counts(to->peak, from->peak, FHI_TALLY_COARSE_BINS);
}

void fh_lose_chance_part_add(fh_lose_chance_part *to, const fh_lose_chance_part *from) {
  for (int i = 0; i < to->cell_count; i++) {
    add_cell(&to->cells[i], &from->cells[i]);
  }
  add_counts(to->count, from->count, FHI_REPLICATES);
  add_counts(to->rope, from->rope, FHI_REPLICATES);
  add_counts(to->caught, from->caught, FHI_REPLICATES);
  add_counts(to->held, from->held, FHI_REPLICATES);
  add_counts(to->drop, from->drop, FHI_TALLY_COARSE_BINS);
  add_counts(to->peak, from->peak, FHI_TALLY_COARSE_BINS);
}

// ---------------------------------------------------------------------------------------------------- the work

// Stages and elements are those of the ranges: what lose tells of.
static void fill_cells(const fh_lose *lose, fh_lose_chance_work *w) {
  w->outcome = lose->outcome;
  w->stages = lose->stages->count;
  w->elements = lose->element_count;
  for (int i = 0; i < w->stages; i++) {
    w->kind[i] = lose->stages->stages[i].kind;
    for (int e = 0; e < w->elements; e++) {
      w->cell[i * w->elements + e] = fh_lose_at(lose, i, e)->there ? w->cells++ : -1;
    }
  }
}

static fh_status prepare(fh_lose_chance_work *w) {
  fh_lose *lose = NULL;
  fhi_raise *r = NULL;
  fh_status status = fh_lose_create(&w->scene, w->gear, &w->scene.rig, &w->stages_opts, &lose);
  status = status == FH_OK ? fhi_raise_create(&w->scene, w->gear, &w->scene.rig, &r) : status;
  if (status == FH_OK) {
    fhi_backup_find(r, &w->stages_opts, &w->backup);
    fill_cells(lose, w);
  }
  fhi_raise_destroy(r);
  fh_lose_destroy(lose);
  return status;
}

fh_status fh_lose_chance_work_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts,
                                     fh_lose_chance_work **out) {
  fh_chance_opts chosen = opts != NULL ? *opts : fh_lose_chance_opts_default();
  if (!fhi_rig_fits(scene, gear, rig) || out == NULL || chosen.samples < 1 || chosen.samples > 1000000) {
    return FH_ERR_ARG;
  }
  fh_lose_chance_work *w = fhi_alloc(1, sizeof *w);
  if (w == NULL) {
    return FH_ERR_MEMORY;
  }
  w->opts = chosen;
  w->opts.samples = (chosen.samples + STEP - 1) / STEP * STEP;
  w->scene = *scene;
  w->scene.rig = *rig;
  w->scene.has_rig = true;
  w->gear = gear;
  w->stages_opts = fh_stages_opts_default();
  fhi_unknowns_fill(&w->scene, gear, FHI_ASKS_LOSE, &w->unknowns);
  fh_status status = prepare(w);
  if (status != FH_OK) {
    fhi_free(w);
    return status;
  }
  for (int r = 0; r < FHI_REPLICATES; r++) {
    fhi_sampler_start(&w->sampler[r], chosen.seed * FHI_REPLICATES + (uint64_t)r, w->unknowns.count > 0 ? w->unknowns.count : 1);
  }
  *out = w;
  return FH_OK;
}

void fh_lose_chance_work_destroy(fh_lose_chance_work *work) {
  fhi_free(work);
}

// ---------------------------------------------------------------------------------------------------- the whole

static double share(int64_t part, int64_t of) {
  return of > 0 ? (double)part / (double)of : (double)NAN;
}

static void fill_loss(const cell *c, int64_t samples, fh_loss_chance *x) {
  x->there = share(c->there, samples);
  x->bears = share(c->bears, c->there);
  x->caught = share(c->caught, c->bears);
  x->held = share(c->held, c->bears);
  x->drop = fhi_tally_band(c->drop, FHI_TALLY_COARSE, false);
  x->peak = fhi_tally_band(c->peak, FHI_TALLY_COARSE, false);
}

static void fill_losses(const fh_lose_chance_work *w, const fh_lose_chance_part *p, fh_lose_chance *c) {
  const double nan = (double)NAN;
  const fh_band none = {nan, nan, nan};
  for (int i = 0; i < w->stages * w->elements; i++) {
    c->losses[i] = (fh_loss_chance){0.0, nan, nan, nan, none, none};
    if (w->cell[i] >= 0) {
      fill_loss(&p->cells[w->cell[i]], c->samples, &c->losses[i]);
    }
  }
}

static void fill_chance(const fh_lose_chance_work *w, const fh_lose_chance_part *p, fh_lose_chance *c) {
  c->samples = fhi_replicates_sum(p->count);
  c->rope = share(fhi_replicates_sum(p->rope), c->samples);
  c->caught = share(fhi_replicates_sum(p->caught), c->samples);
  c->held = share(fhi_replicates_sum(p->held), c->samples);
  c->error = fhi_replicates_error(p->held, p->count);
  c->drop = fhi_tally_band(p->drop, FHI_TALLY_COARSE, false);
  c->peak = fhi_tally_band(p->peak, FHI_TALLY_COARSE, false);
  c->outcome = w->outcome;
  c->seed = w->opts.seed;
  c->stages = w->stages;
  c->elements = w->elements;
  c->unknown_count = w->unknowns.count;
  memcpy(c->unknown, w->unknowns.list, sizeof c->unknown);
  c->stood_count = w->unknowns.stood_count;
  memcpy(c->stood, w->unknowns.stood, sizeof c->stood);
}

fh_status fh_lose_chance_finish(const fh_lose_chance_work *w, const fh_lose_chance_part *p, fh_lose_chance **out) {
  if (w == NULL || p == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_lose_chance *c = fhi_alloc(1, sizeof *c);
  fh_loss_chance *losses = fhi_alloc((size_t)(w->stages * w->elements) + 1, sizeof *losses);
  if (c == NULL || losses == NULL) {
    fhi_free(losses);
    fhi_free(c);
    return FH_ERR_MEMORY;
  }
  c->losses = losses;
  fill_chance(w, p, c);
  fill_losses(w, p, c);
  *out = c;
  return FH_OK;
}

fh_status fh_lose_chance_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts, fh_lose_chance **out) {
  fh_lose_chance_work *work = NULL;
  fh_lose_chance_part *part = NULL;
  fh_status status = fh_lose_chance_work_create(scene, gear, rig, opts, &work);
  status = status != FH_OK ? status : fh_lose_chance_part_create(work, &part);
  status = status != FH_OK ? status : fh_lose_chance_part_run(work, part, 0, fh_lose_chance_work_blocks(work));
  status = status != FH_OK ? status : fh_lose_chance_finish(work, part, out);
  fh_lose_chance_part_destroy(part);
  fh_lose_chance_work_destroy(work);
  return status;
}

void fh_lose_chance_destroy(fh_lose_chance *chance) {
  if (chance != NULL) {
    fhi_free(chance->losses);
    fhi_free(chance);
  }
}
