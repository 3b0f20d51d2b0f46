// needs: lapacke
// SPDX-License-Identifier: MIT
// The pull of a six to one for samples of friction, against LAPACK's dense solve of the same equations: one unknown a strand,
// one row a contact and a balance. The lower bound beside it: the operations counted, at the machine's measured rate.
#include "bench.h"

#include <lapacke.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "batch.h"
#include "scenes.h"
#include "state.h"

static const char SIX[] =
    "firnhaul: 1\nload: {mass_kg: 92}\nslot: {depth_m: 11}\nlip: {turn_deg: 80, friction: 0.18}\n"
    "ground: {station_m: 4.5, anchor_m: 10}\nrig:\n  ropes:\n    - name: main\n      path:\n        - {tie: anchor}\n"
    "        - {edge: lip}\n        - {run: load, on: carabiner}\n        - {edge: lip}\n"
    "        - {run: station, on: toothed-capture}\n        - {run: tractor, on: carabiner}\n        - {hand: crew}\n"
    "  grips:\n    - {body: tractor, hitch: prusik, rope: main, after: 3, at_m: 1.5}\n";

enum { SAMPLES = 8192 };

typedef struct six {
  bench_scene *scene;
  fhi_model model;
  fhi_motion motion;
  fhi_batch batch;
  double factors[FHI_MAX_CONTACTS * SAMPLES];
  double pull[SAMPLES], check[SAMPLES];
  double scratch[FHI_LANES * FHI_MAX_REGISTERS];
} six;

static void end(void *state) {
  six *s = state;
  if (s != NULL) {
    bench_scene_destroy(s->scene);
    free(s);
  }
}

// Friction anywhere in the catalogue's ranges, from a small generator of our own.
static void fill_samples(six *s) {
  unsigned long long random = 1;
  for (int c = 0; c < s->model.contact_count; c++) {
    for (int i = 0; i < SAMPLES; i++) {
      random = random * 6364136223846793005ULL + 1442695040888963407ULL;
      s->factors[c * SAMPLES + i] = 1.05 + (double)(random >> 40) / (double)(1ULL << 24);
    }
  }
}

static long ours(void *state) {
  six *s = state;
  fhi_batch_run(&s->batch, s->factors, SAMPLES, s->pull, s->scratch);
  return SAMPLES;
}

// The dense system: rows of contacts that slide, then balances of the load and the block.
static int dense_row(const six *s, int sample, double *a, double *b, int n) {
  const fhi_model *m = &s->model;
  int row = 0;
  memset(a, 0, (size_t)(n * n) * sizeof *a);
  memset(b, 0, (size_t)n * sizeof *b);
  for (int c = 0; c < m->contact_count; c++) {
    if (s->motion.rate[c] == 0.0) {  // the standing side's edge rests: no row, and its strand is left out
      continue;
    }
    double k = s->factors[c * SAMPLES + sample];
    a[row * n + m->contacts[c].after - 1] = 1.0;
    a[row * n + m->contacts[c].before - 1] = s->motion.rate[c] > 0.0 ? -k : -1.0 / k;
    row++;
  }
  for (int body = 0; body < m->body_count; body++) {
    for (int st = 1; st < m->strand_count && !m->fixed[body]; st++) {
      for (int e = 0; e < 2; e++) {
        if (m->strands[st].end[e].body == body) {
          a[row * n + st - 1] += e == 0 ? m->strands[st].dir : -m->strands[st].dir;
        }
      }
    }
    b[row] = body == FH_BODY_LOAD ? 1.0 : 0.0;
    row += !m->fixed[body];
  }
  return row;
}

static long reference(void *state) {
  six *s = state;
  int n = s->model.strand_count - 1;
  double a[16 * 16], b[16];
  lapack_int pivots[16];
  for (int i = 0; i < SAMPLES / 16; i++) {
    if (dense_row(s, i, a, b, n) != n || LAPACKE_dgesv(LAPACK_ROW_MAJOR, n, 1, a, n, pivots, b, 1) != 0) {
      return 0;
    }
    s->check[i] = b[s->model.hand_strand - 1];
  }
  return SAMPLES / 16;
}

static bool start(void **state) {
  six *s = calloc(1, sizeof *s);
  char why[200];
  fhi_factors factors;
  *state = s;
  if (s == NULL || (s->scene = bench_scene_create(SIX)) == NULL ||
      !fhi_model_compile(s->scene->scene, s->scene->gear, &s->scene->scene->rig, &s->model, why, sizeof why)) {
    return false;
  }
  fhi_motion_solve(&s->scene->scene->rig, &s->model, &s->motion);
  fhi_factors_fill(&s->model, s->scene->scene, &factors);
  if (!fhi_batch_compile(&s->model, &s->motion, factors.likely, &s->batch)) {
    return false;
  }
  // Both must say the same before their times are compared.
  fill_samples(s);
  if (ours(s) <= 0 || reference(s) <= 0) {
    return false;
  }
  for (int i = 0; i < SAMPLES / 16; i++) {
    if (!(fabs(s->pull[i] - s->check[i]) <= 1e-12 * s->check[i])) {
      return false;
    }
  }
  return true;
}

const bench_case bench_force = {
    "force", "pull of a six to one for samples of friction; reference: LAPACK dgesv of the same equations",
    "sample", start, ours, reference, end, 20.0, 0.0, 0.0};

// The machine's rate: as many multiplications and additions as the batch has operations, on registers, without any memory.
static long flops_only(void *state) {
  six *s = state;
  double x[8] = {1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7};
  long rounds = (long)SAMPLES * s->batch.flops / 16;
  for (long i = 0; i < rounds; i++) {
    for (int l = 0; l < 8; l++) {
      x[l] = x[l] * 0.999999 + 1e-6;
    }
  }
  double sum = 0.0;
  for (int l = 0; l < 8; l++) {
    sum += x[l];
  }
  s->check[0] = sum;
  return isfinite(sum) ? SAMPLES : 0;
}

const bench_case bench_flops = {
    "flops", "the same samples; reference: as many operations at the machine's floating-point rate (ratio: share of that limit)",
    "sample", start, ours, flops_only, end, 0.0, 0.0, 0.0};
