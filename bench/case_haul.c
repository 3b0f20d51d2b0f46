// SPDX-License-Identifier: MIT
// A raise of 30 m with more than 40 resets, in three worlds, with its trace and the ways over the lip.
#include "bench.h"

#include "firnhaul_rescue.h"
#include "scenes.h"

static const char LONG_HAUL[] =
    "firnhaul: 1\nload: {mass_kg: [80, 95]}\nslot: {depth_m: 30}\nlip: {turn_deg: 80, friction: [0.1, 0.3], cut_m: 0.2}\n"
    "ground: {station_m: 2.2, anchor_m: 5}\ncrew: [{name: a, pull_N: 800}]\nropes: [{name: main, length_m: 60}, {name: other, length_m: 60}]\n"
    "rig:\n  ropes:\n    - {name: main, path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.5}]}\n"
    "    - {name: other, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, "
    "{run: station, on: carabiner}, {run: t, on: pulley}, {hand: crew}]}\n"
    "  grips: [{body: t, hitch: prusik, rope: other, after: 1, at_m: 1.1}]\n";

static long haul(void *state) {
  bench_scene *s = state;
  fh_haul *h = NULL;
  long done = fh_haul_create(s->scene, s->gear, &s->scene->rig, NULL, &h) == FH_OK && h->outcome == FH_OUTCOME_SOLVED && h->resets >= 40;
  fh_haul_destroy(h);
  return done;
}

static bool start(void **state) {
  *state = bench_scene_create(LONG_HAUL);
  return *state != NULL && haul(*state) == 1;  // a raise with fewer resets would prove nothing
}

const bench_case bench_haul = {"haul", "a raise of 30 m with 40 resets and more", "raise", start, haul, NULL, bench_scene_destroy, 0.0, 0.005, 0.0};
