// SPDX-License-Identifier: MIT
// Samples of a six to one with six uncertain inputs: points drawn, values, tension ratios, forces. References: one core against
// two; and the whole study of a scene against its bare samples.
#define _POSIX_C_SOURCE 200809L
#include "bench.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

#include "firnhaul_chance.h"
#include "odds.h"
#include "scenes.h"

static const char SIX[] =
    "firnhaul: 1\nload: {mass_kg: [85, 100]}\nslot: {depth_m: 11}\nlip: {turn_deg: [70, 90], friction: [0.1, 0.3]}\n"
    "ground: {station_m: 4.5, anchor_m: 10}\ncrew: [{name: a, pull_N: 300}]\nrig:\n  ropes:\n    - name: main\n      path:\n        - {tie: anchor}\n"
    "        - {edge: lip}\n        - {run: load, on: carabiner}\n        - {edge: lip}\n"
    "        - {run: station, on: toothed-capture}\n        - {run: tractor, on: pulley}\n        - {hand: crew}\n"
    "  grips:\n    - {body: tractor, hitch: prusik, rope: main, after: 3, at_m: 1.5}\n";

enum { BLOCKS = 4096, THREADS = 2 };

typedef struct samples {
  bench_scene *scene;
  fh_check *check;
  fhi_odds odds;
  fhi_sampler sampler;
  fhi_odds_scratch *scratch[THREADS];
  double sum[THREADS];
} samples;

static void end(void *state) {
  samples *s = state;
  if (s != NULL) {
    for (int i = 0; i < THREADS; i++) {
      free(s->scratch[i]);
    }
    fh_check_destroy(s->check);
    bench_scene_destroy(s->scene);
    free(s);
  }
}

static bool start(void **state) {
  samples *s = calloc(1, sizeof *s);
  *state = s;
  if (s == NULL || (s->scene = bench_scene_create(SIX)) == NULL) {
    return false;
  }
  const fh_scene *scene = s->scene->scene;
  if (fh_check_create(scene, s->scene->gear, &scene->rig, NULL, &s->check) != FH_OK ||
      fhi_odds_build(scene, s->scene->gear, &scene->rig, s->check, &s->odds) != FH_OK) {
    return false;
  }
  for (int i = 0; i < THREADS; i++) {
    s->scratch[i] = calloc(1, sizeof *s->scratch[i]);
    if (s->scratch[i] == NULL) {
      return false;
    }
  }
  fhi_sampler_start(&s->sampler, 1, s->odds.unknowns);
  // Six unknowns move the forces: mass, friction, turn and three efficiencies. Others (what limits hold) are not in the pull.
  int moving = 0;
  for (int i = 0; i < s->odds.unknowns; i++) {
    moving += strncmp(s->odds.unknown[i].name, "limit", 5) != 0 && strncmp(s->odds.unknown[i].name, "footing", 7) != 0;
  }
  s->odds.unknowns = moving;
  return s->odds.fast && moving == 6;
}

static void run_blocks(samples *s, int thread, int first, int count) {
  double pull[FHI_LANES];
  for (int b = first; b < first + count; b++) {
    fhi_odds_draw(&s->odds, &s->sampler, 0, (uint32_t)b, s->scratch[thread]);
    fhi_odds_pull(&s->odds, s->scratch[thread], pull);
    s->sum[thread] += pull[b % FHI_LANES];
  }
}

static long one_core(void *state) {
  samples *s = state;
  run_blocks(s, 0, 0, BLOCKS);
  return s->sum[0] > 0.0 ? (long)BLOCKS * FHI_LANES : 0;
}

const bench_case bench_samples = {
    "samples", "forces of a six to one with six uncertain inputs, points and all; aim: 10 million a second a core", "sample", start, one_core, NULL, end,
    0.0, 1e-7, 0.0};

static void *second_half(void *user) {
  run_blocks(user, 1, BLOCKS * 10, BLOCKS * 10);
  return NULL;
}

static long two_cores(void *state) {
  samples *s = state;
  pthread_t other;
  if (pthread_create(&other, NULL, second_half, s) != 0) {
    return 0;
  }
  run_blocks(s, 0, 0, BLOCKS * 10);
  (void)pthread_join(other, NULL);
  return (long)BLOCKS * 20 * FHI_LANES;
}

const bench_case bench_samples_two = {
    "samples-two", "the same on two cores; reference: one core", "sample", start, two_cores, one_core, end, 1.8, 0.0, 0.0};
