// needs: sundials
// SPDX-License-Identifier: MIT
// Falls of a team of four, against SUNDIALS' CVODE with root finding. Its tolerance is the loosest at which it follows every fall to its
// end: at 1e-4 and above it chatters between events in some, which would make the ratio look far better than it is. Its answers
// then are closer than ours: docs/team.md says how far both are off a fine answer, and what the ratio is where they are as close.
// And choosing: on one core against two, and the whole of 500 ways to rope up.
#include "bench.h"

#include <stdlib.h>

#include "../tests/refs/team/team_cvode.h"
#include "scenes.h"
#include "team_threads.h"

enum { TEAMS = 1024, REFERENCE = 16 };

static const double TOLERANCE = 1e-5;  // [1] of CVODE

typedef struct falls {
  fh_fall_in in[TEAMS];
  fh_fall out[TEAMS];
} falls;

static bool start_with(void **state, bool knots) {
  falls *f = calloc(1, sizeof *f);
  unsigned long long random = 7;
  *state = f;
  for (int i = 0; f != NULL && i < TEAMS; i++) {
    ref_team_random(&random, 4, knots, &f->in[i]);
  }
  return f != NULL;
}

static bool start(void **state) {
  return start_with(state, false);
}

static bool start_knots(void **state) {
  return start_with(state, true);
}

static long ours(void *state) {
  falls *f = state;
  return fh_falls_run(f->in, TEAMS, (double)NAN, f->out) == FH_OK ? TEAMS : 0;
}

static long reference(void *state) {
  falls *f = state;
  long done = 0;
  for (int i = 0; i < REFERENCE; i++) {
    done += ref_team_cvode(&f->in[i], TOLERANCE, &f->out[i]) ? 1 : 0;
  }
  return done;
}

// One after the other, each with the other lanes empty.
static long alone(void *state) {
  falls *f = state;
  for (int i = 0; i < TEAMS / 8; i++) {
    if (fh_falls_run(&f->in[i], 1, (double)NAN, &f->out[i]) != FH_OK) {
      return 0;
    }
  }
  return TEAMS / 8;
}

static void end(void *state) {
  free(state);
}

const bench_case bench_team = {"team", "falls of a team of four against CVODE with root finding", "fall", start, ours, reference, end, 50.0, 1.0 / 20000.0, 0.0};
const bench_case bench_team_knots = {"team-knots", "the same with brake knots", "fall", start_knots, ours, reference, end, 50.0, 1.0 / 20000.0, 0.0};
const bench_case bench_team_rate = {"team-rate", "the same, 20,000 falls a second asked of one core; reference: a team alone, so that lanes stay empty", "fall", start_knots, ours,
                                    alone, end, 0.0, 1.0 / 20000.0, 0.0};

// ---------------------------------------------------------------------------------------------------- choosing

// As examples/team-three.yaml.
static const char THREE[] =
    "firnhaul: 1\nload: {mass_kg: 85}\nslot: {depth_m: 10}\nlip: {turn_deg: 80, surface: firn}\nground: {station_m: 4}\n"
    "crew:\n  - {name: guide, mass_kg: 75, footing: [0.4, 0.6], posture: harness}\n  - {name: guest, mass_kg: 80, footing: [0.3, 0.5], posture: harness}\n"
    "ropes:\n  - {name: half, length_m: 60, kind: half, diameter_mm: 8.5}\n  - {name: single, length_m: 50, kind: single, diameter_mm: 9.5}\n"
    "kit:\n  - {item: carabiner, count: 9}\n  - {item: pulley, count: 3}\n  - {item: toothed-capture, count: 3}\n  - {item: prusik, count: 6}\n"
    "team:\n  people: [{mass_kg: 85, behind_m: 0}, {mass_kg: 75, behind_m: 12}, {mass_kg: 80, behind_m: 24}]\n  rope: {slack_m: [0.1, 0.6]}\n";

static bool start_three(void **state) {
  *state = bench_scene_create(THREE);
  return *state != NULL;
}

// @return designs run
static long choose(const bench_scene *s, int most, int samples, int threads) {
  fh_designs *designs = NULL;
  bool stopped = false;
  long done = 0;
  if (fh_designs_create(s->scene, s->gear, most, samples, 1, &designs, NULL) == FH_OK &&
      cli_designs_run(s->scene, s->gear, designs, threads, &stopped) == FH_OK && !stopped) {
    fh_designs_weigh(s->scene, designs);
    done = designs->count;
  }
  fh_designs_destroy(designs);
  return done;
}

static long choose_alone(void *state) {
  return choose(state, 60, 500, 1);
}

static long choose_two(void *state) {
  return choose(state, 60, 500, 2);
}

static long choose_all(void *state) {
  return choose(state, 500, 2000, 2) > 0 ? 1 : 0;
}

const bench_case bench_team_two = {"team-two", "ways to rope up, falls and raises, on two cores; reference: one core", "design", start_three, choose_two, choose_alone,
                                   bench_scene_destroy, 1.8, 0.0, 0.0};
const bench_case bench_team_choose = {"team-choose", "500 ways to rope up at most, 2,000 falls each, two cores", "choice", start_three, choose_all, NULL,
                                      bench_scene_destroy, 0.0, 60.0, 0.0};
