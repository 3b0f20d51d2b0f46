// SPDX-License-Identifier: MIT
// A whole search for a kit, from scene to ranked plans.
#include "bench.h"

#include <stdlib.h>

#include "scenes.h"

static bool start_kit(void **state, int captures, int pulleys, int carabiners, int hitches, int ropes, int cords) {
  char yaml[2048];
  bench_kit_yaml(yaml, sizeof yaml, captures, pulleys, carabiners, hitches, ropes, cords);
  *state = bench_scene_create(yaml);
  return *state != NULL;
}

static long search(void *state) {
  bench_scene *s = state;
  fh_plans *plans = NULL;
  fh_status status = fh_plans_create(s->scene, s->gear, NULL, &plans);
  long done = status == FH_OK && plans->count > 0 && !plans->stopped ? 1 : 0;
  fh_plans_destroy(plans);
  return done;
}

static bool start_common(void **state) {
  return start_kit(state, 1, 2, 6, 4, 1, 1);
}

static bool start_instructor(void **state) {
  return start_kit(state, 2, 4, 12, 8, 2, 2);
}

const bench_case bench_plan_common = {"plan-common", "all rigs of 1 capture, 2 pulleys, 6 carabiners, 4 hitches, 1 rope, 1 cord",
                                      "search", start_common, search, NULL, bench_scene_destroy, 0.0, 0.1, 0.0};
const bench_case bench_plan_instructor = {"plan-instructor", "all rigs of 2 captures, 4 pulleys, 12 carabiners, 8 hitches, 2 ropes, 2 cords",
                                          "search", start_instructor, search, NULL, bench_scene_destroy, 0.0, 2.0, 200e6};
