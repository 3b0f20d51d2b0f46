// SPDX-License-Identifier: MIT
// Every part of every stage let go in turn, for the one-rope six to one: the commonest rig with the most stages.
#include "bench.h"

#include "firnhaul_rescue.h"
#include "scenes.h"

static const char SIX[] =
    "firnhaul: 1\nload: {mass_kg: [80, 95], helps: true}\nslot: {depth_m: 12}\nlip: {turn_deg: 80, friction: [0.1, 0.3]}\n"
    "ground: {station_m: 4, anchor_m: 6, anchor: t-slot-reinforced}\ncrew: [{name: a, pull_N: 400}]\nropes: [{name: main, length_m: 80}]\n"
    "rig:\n  ropes:\n    - name: main\n      path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.5}, {edge: lip}, "
    "{run: load, on: pulley}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]\n"
    "  grips: [{body: t, hitch: prusik, rope: main, after: 5, at_m: 1.2}]\n";

static long lose(void *state) {
  bench_scene *s = state;
  fh_lose *l = NULL;
  long done = fh_lose_create(s->scene, s->gear, &s->scene->rig, NULL, &l) == FH_OK && l->stages->count >= 20 && l->element_count >= 18;
  fh_lose_destroy(l);
  return done;
}

static bool start(void **state) {
  *state = bench_scene_create(SIX);
  return *state != NULL && lose(*state) == 1;
}

const bench_case bench_lose = {"lose", "every part of every stage of a six to one", "rig", start, lose, NULL, bench_scene_destroy, 0.0, 0.02, 0.0};
