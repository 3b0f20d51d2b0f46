// SPDX-License-Identifier: MIT
// On which unknowns do the crew's share and the time of a raise hang most? Implements model.md, section 12.
#include "haul_chance.h"

#include <math.h>

#include "sobol.h"

enum { WHY_BLOCKS = 8 };  // 512 base points: a sample is a whole raise

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

fh_status fhi_haul_why(const fh_haul_chance_work *w, fh_haul_chance *c) {
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
