// SPDX-License-Identifier: MIT
// Scenes of a study at the default number of samples, each read, checked, sampled and counted; reference: the samples alone.
#include "bench.h"

#include <stdlib.h>
#include <string.h>

#include "firnhaul_study.h"
#include "odds.h"
#include "scenes.h"
#include "yaml.h"

static const char BASE[] =
    "firnhaul: 1\nload: {mass_kg: [85, 100], helps: true}\nslot: {depth_m: 8}\nlip: {turn_deg: 75, surface: padded, cut_m: 0.2}\n"
    "ground: {station_m: 3.5, anchor_m: 5.5, anchor: t-slot-reinforced}\ncrew: [{name: a, mass_kg: 78, footing: [0.4, 0.6], posture: harness}]\n"
    "ropes: [{name: main, length_m: 50, kind: half, diameter_mm: 8.5}]\n"
    "rig:\n  ropes:\n    - name: main\n      path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.5}, {edge: lip}, "
    "{run: load, on: carabiner}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]\n"
    "  grips: [{body: t, hitch: prusik, rope: main, after: 5, at_m: 1.2}]\n";
static const char STUDY[] =
    "firnhaul_study: 1\nscene: base.yaml\nsample: 1000\nvary:\n  - {key: lip.friction, from: 0.05, to: 0.5}\n"
    "  - {key: \"crew[].footing\", from: 0.1, to: 0.8}\n  - {key: slot.depth_m, from: 3, to: 15}\n";

enum { SCENES = 50, SAMPLES = 4096, SETS = 16 };

typedef struct studied {
  fh_doc *doc, *base;
  fh_gear *gear;
  fh_study *study;
  fh_study_work *work;
  fh_scene *scene;
  fh_check *check;
  fhi_odds odds;
  fhi_sampler sampler[SETS];
  fhi_odds_scratch scratch;
  fhi_odds_out out;
  int64_t next;
} studied;

static void end(void *state) {
  studied *s = state;
  if (s != NULL) {
    fh_check_destroy(s->check);
    fh_scene_destroy(s->scene);
    fh_study_work_destroy(s->work);
    fh_study_destroy(s->study);
    fh_gear_destroy(s->gear);
    fh_doc_destroy(s->base);
    fh_doc_destroy(s->doc);
    free(s);
  }
}

static bool start(void **state) {
  studied *s = calloc(1, sizeof *s);
  fh_diag diag;
  *state = s;
  bool good = s != NULL && cli_yaml_parse(STUDY, strlen(STUDY), &s->doc, &diag) == FH_OK && cli_yaml_parse(BASE, strlen(BASE), &s->base, &diag) == FH_OK &&
              fh_gear_create(&s->gear) == FH_OK && fh_study_create(s->doc, &s->study, &diag) == FH_OK && fh_study_samples(s->study) == SAMPLES &&
              fh_study_work_create(s->study, s->base, s->gear, &s->work) == FH_OK &&
              fh_study_scene_create(s->study, s->base, s->gear, 0, &s->scene, &diag) == FH_OK &&
              fh_check_create(s->scene, s->gear, &s->scene->rig, NULL, &s->check) == FH_OK &&
              fhi_odds_build(s->scene, s->gear, &s->scene->rig, s->check, &s->odds) == FH_OK && s->odds.fast;
  for (int i = 0; good && i < SETS; i++) {
    fhi_sampler_start(&s->sampler[i], (uint64_t)i, s->odds.unknowns);
  }
  return good;
}

static long ours(void *state) {
  studied *s = state;
  fh_study_row row;
  fh_diag diag;
  for (int i = 0; i < SCENES; i++, s->next = (s->next + 1) % 1000) {
    if (fh_study_row_run(s->work, s->next, &row, &diag) != FH_OK || !(row.figure[0] >= 0.0)) {
      return 0;
    }
  }
  return (long)SCENES * SAMPLES;
}

static long bare(void *state) {
  studied *s = state;
  for (int i = 0; i < SCENES; i++) {
    for (uint32_t b = 0; b < SAMPLES / FHI_LANES; b++) {
      fhi_odds_draw(&s->odds, &s->sampler[b % SETS], 0, b / SETS, &s->scratch);
      fhi_odds_block(&s->odds, &s->scratch, true, &s->out);
    }
  }
  return s->out.pull[0] > 0.0 ? (long)SCENES * SAMPLES : 0;
}

const bench_case bench_study = {
    "study", "scenes of a study at 4,096 samples; reference: the samples alone; aim: under 10 % more", "sample", start, ours, bare, end, 1.0 / 1.1, 0.0, 0.0};
