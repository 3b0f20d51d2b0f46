// SPDX-License-Identifier: MIT
// Sobol's indices, first-order and total, by Jansen's formulas on quasi-random points. Implements model.md, section 12.
//
// Two independent points A and B; AB is A with input i taken from B. Then (Jansen, Comput. Phys. Commun. 117 (1999) 35-43)
//   total_i = mean (f(A) - f(AB))^2 / (2 V),   alone_i = 1 - mean (f(B) - f(AB))^2 / (2 V),   V the variance of f.
// Squares only: nothing cancels when the mean is large.
#include "sobol.h"

#include <math.h>
#include <string.h>

#include "memory.h"

enum { LANES = FHI_QUASI_LANES };

typedef struct sums {
  double first;                 // an early value: variances are taken around it
  double sum, square;           // of f(A) and f(B)
  double total[FHI_QUASI_DIMS], alone[FHI_QUASI_DIMS];
  int64_t count, pairs[FHI_QUASI_DIMS];
  bool begun;
} sums;

typedef struct bench {
  fhi_sampler sampler;
  double a[FHI_QUASI_DIMS * LANES], b[FHI_QUASI_DIMS * LANES], mixed[FHI_QUASI_DIMS * LANES];
  double fa[FHI_SOBOL_OUTPUTS * LANES], fb[FHI_SOBOL_OUTPUTS * LANES], fm[FHI_SOBOL_OUTPUTS * LANES];
  sums s[FHI_SOBOL_OUTPUTS];
} bench;

static void add_values(sums *s, const double *f) {
  for (int l = 0; l < LANES; l++) {
    if (isfinite(f[l])) {
      s->first = s->begun ? s->first : f[l];
      s->begun = true;
      double d = f[l] - s->first;
      s->sum += d;
      s->square += d * d;
      s->count++;
    }
  }
}

static void add_pairs(sums *s, int input, const double *fa, const double *fb, const double *fm) {
  for (int l = 0; l < LANES; l++) {
    if (isfinite(fa[l]) && isfinite(fb[l]) && isfinite(fm[l])) {
      s->total[input] += (fa[l] - fm[l]) * (fa[l] - fm[l]);
      s->alone[input] += (fb[l] - fm[l]) * (fb[l] - fm[l]);
      s->pairs[input]++;
    }
  }
}

static void run_block(const fhi_sobol_job *job, bench *k, uint32_t block) {
  for (int i = 0; i < job->inputs; i++) {
    fhi_sampler_block(&k->sampler, i, block, k->a + i * LANES);
    fhi_sampler_block(&k->sampler, job->inputs + i, block, k->b + i * LANES);
  }
  job->fn(job->user, k->a, k->fa);
  job->fn(job->user, k->b, k->fb);
  for (int o = 0; o < job->outputs; o++) {
    add_values(&k->s[o], k->fa + o * LANES);
    add_values(&k->s[o], k->fb + o * LANES);
  }
  memcpy(k->mixed, k->a, (size_t)(job->inputs * LANES) * sizeof *k->a);
  for (int i = 0; i < job->inputs; i++) {
    memcpy(k->mixed + i * LANES, k->b + i * LANES, LANES * sizeof *k->b);
    job->fn(job->user, k->mixed, k->fm);
    for (int o = 0; o < job->outputs; o++) {
      add_pairs(&k->s[o], i, k->fa + o * LANES, k->fb + o * LANES, k->fm + o * LANES);
    }
    memcpy(k->mixed + i * LANES, k->a + i * LANES, LANES * sizeof *k->a);
  }
}

fh_status fhi_sobol_indices(const fhi_sobol_job *job, double *alone, double *total) {
  if (job == NULL || job->inputs < 1 || job->inputs > FHI_QUASI_DIMS / 2 || job->outputs < 1 || job->outputs > FHI_SOBOL_OUTPUTS ||
      job->blocks < 1 || job->fn == NULL) {
    return FH_ERR_ARG;
  }
  bench *k = fhi_alloc(1, sizeof *k);
  if (k == NULL) {
    return FH_ERR_MEMORY;
  }
  fhi_sampler_start(&k->sampler, job->seed, 2 * job->inputs);
  for (int64_t b = 0; b < job->blocks; b++) {
    run_block(job, k, (uint32_t)b);
  }
  for (int o = 0; o < job->outputs; o++) {
    const sums *s = &k->s[o];
    double mean = s->sum / (double)s->count, variance = s->square / (double)s->count - mean * mean;
    for (int i = 0; i < job->inputs; i++) {
      bool moves = variance > 0.0 && s->pairs[i] > 0;
      double twice = 2.0 * variance * (double)s->pairs[i];
      alone[i * job->outputs + o] = moves ? 1.0 - s->alone[i] / twice : 0.0;
      total[i * job->outputs + o] = moves ? s->total[i] / twice : 0.0;
    }
  }
  fhi_free(k);
  return FH_OK;
}
