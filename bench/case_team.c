// needs: sundials
// SPDX-License-Identifier: MIT
// Falls of a team of four, against SUNDIALS' CVODE with root finding. Its tolerance is the loosest at which it follows nearly every
// fall to its end: at 1e-4 and above it chatters between events in some, which would make the ratio look far better than it
// is. Its answers then are closer than ours: docs/team.md says how far both are off a fine answer.
#include "bench.h"

#include <stdlib.h>

#include "../tests/refs/team/team_cvode.h"

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

static void end(void *state) {
  free(state);
}

const bench_case bench_team = {"team", "falls of a team of four against CVODE with root finding", "fall", start, ours, reference, end, 50.0, 1.0 / 20000.0, 0.0};
const bench_case bench_team_knots = {"team-knots", "the same with brake knots", "fall", start_knots, ours, reference, end, 50.0, 1.0 / 20000.0, 0.0};
