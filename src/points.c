// SPDX-License-Identifier: MIT
// Values of unknowns kept from one scene to the next. Implements model.md, section 12.
// A study's scenes share their points, and most of their ranges: what does not vary is drawn for the first two scenes and then
// only fetched. A value depends on its dimension, its number and its range alone, so that the bits are the same.
#include "points.h"

#include <string.h>

#include "memory.h"
#include "sample.h"

enum { MOST = 16384 };  // samples: four megabytes at the most, which a processor's caches hold

typedef enum how { DRAW, KEEP, FETCH } how;

// One dimension: the range that its values were last drawn from.
typedef struct dim {
  fh_number number;
  double cut_lo, cut_hi;
  int64_t kept;  // blocks
  how now;
  bool known;
} dim;

struct fhi_points {
  dim dim[FH_MAX_UNKNOWNS];
  int64_t room;  // blocks of each dimension
  double *x;     // dimension by dimension, block by block
};

fhi_points *fhi_points_create(int64_t samples) {
  fhi_points *p = fhi_alloc(1, sizeof *p);
  if (p == NULL || samples > MOST) {
    return p;
  }
  p->room = (samples + FHI_LANES - 1) / FHI_LANES;
  p->x = fhi_alloc((size_t)p->room * FHI_LANES * FH_MAX_UNKNOWNS, sizeof *p->x);
  if (p->x == NULL) {
    fhi_free(p);
    return NULL;
  }
  return p;
}

void fhi_points_destroy(fhi_points *points) {
  if (points != NULL) {
    fhi_free(points->x);
    fhi_free(points);
  }
}

static bool same(const dim *d, const fhi_odds *o, int i) {
  const fh_number *a = &d->number, *b = &o->unknown[i].number;
  return d->known && a->spread == b->spread && a->lo == b->lo && a->likely == b->likely && a->hi == b->hi && a->sd == b->sd &&
         d->cut_lo == o->cut_lo[i] && d->cut_hi == o->cut_hi[i];
}

// What varies from scene to scene is only drawn; what came twice is kept; what is kept is fetched.
void fhi_points_begin(fhi_points *p, const fhi_odds *o, int64_t blocks) {
  for (int i = 0; i < o->unknowns; i++) {
    dim *d = &p->dim[i];
    if (!same(d, o, i)) {
      *d = (dim){.number = o->unknown[i].number, .cut_lo = o->cut_lo[i], .cut_hi = o->cut_hi[i], .now = DRAW, .known = true};
    } else if (blocks > p->room) {
      d->now = DRAW;
    } else {
      d->now = blocks <= d->kept ? FETCH : KEEP;
      d->kept = blocks > d->kept ? blocks : d->kept;
    }
  }
}

void fhi_points_draw(fhi_points *p, const fhi_odds *o, const fhi_sampler *samplers, int replicates, int64_t block, fhi_odds_scratch *s) {
  for (int i = 0; i < o->unknowns; i++) {
    double *kept = p->dim[i].now == DRAW ? NULL : p->x + (size_t)((i * p->room + block) * FHI_LANES);
    if (p->dim[i].now == FETCH) {
      memcpy(s->x[i], kept, sizeof s->x[i]);
      continue;
    }
    fhi_sampler_block(&samplers[block % replicates], i, (uint32_t)(block / replicates), s->u);
    fhi_number_lanes(o->unknown[i].number, o->cut_lo[i], o->cut_hi[i], s->u, FHI_LANES, s->x[i]);
    if (kept != NULL) {
      memcpy(kept, s->x[i], sizeof s->x[i]);
    }
  }
}
