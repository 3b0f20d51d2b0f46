// SPDX-License-Identifier: MIT
// Samples of a chance counted in whole numbers, so that any split of the work gives the same result. Implements model.md, section 12.
#include "chance_work.h"

#include <string.h>

#include "memory.h"

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
    fhi_tally_count(&p->spread[FHI_OF_CAPACITY], o->capacity);
    fhi_tally_count(&p->spread[FHI_OF_SHARE], share);
  }
  fhi_tally_count(&p->spread[FHI_OF_PULL], o->pull);
  fhi_tally_count(&p->spread[FHI_OF_MARGIN], o->margin);
  p->crew[replicate] += FHI_LANES - fhi_bits(cannot);
  p->lasts[replicate] += FHI_LANES - fhi_bits(tired);
  p->limits[replicate] += FHI_LANES - fhi_bits(broken);
  p->rope[replicate] += FHI_LANES - fhi_bits(o->too_short);
  p->both[replicate] += w->stuck ? 0 : FHI_LANES - fhi_bits(broken | cannot | o->too_short);
  p->count[replicate] += FHI_LANES;
}

void fhi_chance_part_count(const fh_chance_work *w, fh_chance_part *p, int64_t block) {
  fhi_odds_block(&w->odds, &p->scratch, true, &p->out);
  count_block(w, p, (int)(block % FHI_REPLICATES));
}

bool fhi_chance_part_rest(const fh_chance_work *work, fh_chance_part *p) {
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
  if (!fhi_chance_part_rest(work, p)) {
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
    fhi_odds_draw(&w->odds, &w->sampler[b % FHI_REPLICATES], 0, (uint32_t)(b / FHI_REPLICATES), &p->scratch);
    fhi_chance_part_count(w, p, b);
  }
}

void fh_chance_part_add(fh_chance_part *to, const fh_chance_part *from) {
  for (int r = 0; r < FHI_REPLICATES; r++) {
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
  for (int k = 0; k < FHI_CHANCE_SPREADS; k++) {
    fhi_tally_add(&to->spread[k], &from->spread[k]);
  }
}

void fhi_chance_part_clear(fh_chance_part *p) {
  for (int k = 0; k < FHI_CHANCE_SPREADS; k++) {
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
