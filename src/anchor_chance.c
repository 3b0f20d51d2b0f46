// SPDX-License-Identifier: MIT
// How likely is each point to hold in each case? Implements model.md, sections 10 and 12: the ends and likely values of pull and
// holding force as triangles; points in the same tested snow are as good or as bad together.
#include <math.h>

#include "anchor.h"
#include "memory.h"
#include "quasi.h"
#include "sample.h"

enum { BLOCKS = 64, PULL = 0, SNOW = 1, OWN = 2 };  // 4,096 samples

static fh_number triangle(fh_band b) {
  return (fh_number){FH_SPREAD_TRIANGLE, b.lo, b.likely, b.hi, 0.0, 0, 0};
}

// Samples of a block in which every point holds in one case, as bits.
static uint64_t holds_in(const fh_anchor *a, const bool *snow, const fh_anchor_case *c, const double u[][FHI_QUASI_LANES]) {
  uint64_t good = 0;
  for (int l = 0; l < FHI_QUASI_LANES; l++) {
    bool all = true;
    for (int i = 0; i < a->points; i++) {
      double force = fhi_sample_number(triangle(c->leg[i]), 0.0, 0.0, u[PULL][l]);
      double holds = fhi_sample_number(triangle(a->hold[i].holds), 0.0, 0.0, u[snow[i] ? SNOW : OWN + i][l]);
      all = all && force <= holds;
    }
    good |= all ? (uint64_t)1 << l : 0;
  }
  return good;
}

static int bits(uint64_t x) {
  int n = 0;
  for (; x != 0; x &= x - 1) {
    n++;
  }
  return n;
}

fh_status fhi_anchor_chances(const fh_scene *scene, const fh_gear *gear, const fh_anchorage *anchorage, fh_anchor *a) {
  fhi_sampler *sampler = fhi_alloc(1, sizeof *sampler);
  double u[OWN + FH_MAX_POINTS][FHI_QUASI_LANES];
  bool snow[FH_MAX_POINTS];
  int good[FH_ANCHOR_CASES] = {0}, every = 0;
  if (sampler == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < a->points; i++) {
    fhi_hold_in in;
    fhi_hold_resolve(scene, gear, anchorage, i, &in);
    snow[i] = in.snow && !fh_number_is_set(in.given);
  }
  fhi_sampler_start(sampler, 1, OWN + a->points);
  for (int b = 0; b < BLOCKS; b++) {
    uint64_t all = ~(uint64_t)0;
    for (int d = 0; d < OWN + a->points; d++) {
      fhi_sampler_block(sampler, d, (uint32_t)b, u[d]);
    }
    for (int c = 0; c < FH_ANCHOR_CASES; c++) {
      if (a->cases[c].known) {
        uint64_t held = holds_in(a, snow, &a->cases[c], (const double(*)[FHI_QUASI_LANES])u);
        good[c] += bits(held);
        all &= held;
      }
    }
    every += bits(all);
  }
  for (int c = 0; c < FH_ANCHOR_CASES; c++) {
    a->cases[c].chance = a->cases[c].known ? good[c] / (double)(BLOCKS * FHI_QUASI_LANES) : (double)NAN;
  }
  a->chance = every / (double)(BLOCKS * FHI_QUASI_LANES);
  fhi_free(sampler);
  return FH_OK;
}
