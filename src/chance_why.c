// SPDX-License-Identifier: MIT
// On which unknowns do the pull, the margin and success hang most? Implements model.md, section 12.
#include "chance_work.h"

#include "memory.h"
#include "sobol.h"

enum { WHY_BLOCKS = 64 };  // 4,096 base points

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

fh_status fhi_chance_why(const fh_chance_work *w, fh_chance *c) {
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
