// needs: sundials
// SPDX-License-Identifier: MIT
// Do falls of rope teams agree with another integrator? SUNDIALS' CVODE with root finding on thousands of random teams.
#include "team/team_cvode.h"

#include <stdio.h>
#include <stdlib.h>

enum { TEAMS = 4000, TEAMS_A_TEST = 400 };  // `ref_team_cvode 4000` runs them all; a test takes the first of them

static const double STEP = 2.5e-4;   // [s] of ours
// What two answers may differ by. Our error goes with the square of the step where nothing jumps; a knot that gives way, and a body that
// just slides or just stands, leave more. Peaks are read off steps: half a step's change of a rope's tension.
static const double NEAR = 1e-4, NEAR_KNOTS = 2e-3;    // [m]
static const double FORCE = 1e-2, FORCE_KNOTS = 1e-2;  // [1]
static const double PART = 0.005, PART_KNOTS = 0.01;   // [1] share of teams that may part: a body that just slides or just stands

typedef struct tally {
  int teams, unfollowed, parted, flipped;
  double place[TEAMS], force[TEAMS];
  int count;
} tally;

static int rising(const void *a, const void *b) {
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static void compare(const fh_fall_in *in, tally *t) {
  double near = in->knots > 0 ? NEAR_KNOTS : NEAR, near_force = in->knots > 0 ? FORCE_KNOTS : FORCE;
  fh_fall ours, theirs;
  t->teams++;
  if (!ref_team_cvode(in, 1e-9, &theirs)) {
    t->unfollowed++;
    return;
  }
  if (fh_fall_run(in, STEP, &ours, NULL) != FH_OK || ours.outcome != FH_OUTCOME_SOLVED) {
    t->parted++;
    return;
  }
  if (ours.arrested != theirs.arrested || ours.pulled_in != theirs.pulled_in) {
    t->flipped++;
    return;
  }
  double place = ours.arrested ? fabs(ours.fall - theirs.fall) : 0.0, force = 0.0;
  for (int i = 1; i < in->people; i++) {
    place = fmax(place, fabs(ours.slide[i] - theirs.slide[i]));
    force = fmax(force, fabs(ours.peak[i - 1] - theirs.peak[i - 1]) / fmax(theirs.peak[i - 1], 100.0));
  }
  t->place[t->count] = place;
  t->force[t->count++] = force;
  t->parted += place > near || force > near_force ? 1 : 0;
  if (getenv("REF_TEAM_SHOW") != NULL && (place > near || force > near_force)) {
    (void)printf("team %d: place %.3g force %.3g people %d knots %d arrested %d in %d fall %.6f %.6f caught %d %d\n", t->teams - 1, place, force, in->people, in->knots,
                 ours.arrested, ours.pulled_in, ours.fall, theirs.fall, ours.knots_caught, theirs.knots_caught);
  }
}

// @return true when they agree
static bool report(const char *what, tally *t, double may_part) {
  qsort(t->place, (size_t)t->count, sizeof t->place[0], rising);
  qsort(t->force, (size_t)t->count, sizeof t->force[0], rising);
  int n = t->count;
  (void)printf("%s: %d teams, %d not followed by CVODE, %d with another end, %d farther apart than allowed; places within %.2g m (half), %.2g (95 of 100), "
               "%.2g (all); forces within %.2g, %.2g, %.2g\n",
               what, t->teams, t->unfollowed, t->flipped, t->parted, t->place[n / 2], t->place[n * 95 / 100], t->place[n - 1], t->force[n / 2],
               t->force[n * 95 / 100], t->force[n - 1]);
  // A share of a few hundred is less than one team: one may part then.
  double may = may_part * t->teams > 1.0 ? may_part * t->teams : 1.0;
  return t->unfollowed <= t->teams / 50 && t->parted + t->flipped <= may;
}

int main(int argc, char **argv) {
  static tally plain, knotted, ploughed;
  unsigned long long state = 20260701, other = 11;
  long teams = argc > 1 ? strtol(argv[1], NULL, 10) : TEAMS_A_TEST;
  if (teams < 4 || teams > TEAMS) {
    (void)fprintf(stderr, "ref_team_cvode: 4 to %d teams\n", TEAMS);
    return 2;
  }
  for (int i = 0; i < teams; i++) {
    fh_fall_in in;
    ref_team_random(&state, 2 + i % 4, i % 2 == 1, &in);
    compare(&in, i % 2 == 1 ? &knotted : &plain);
    if (i % 2 == 1) {
      ref_team_plough(&other, &in);
      compare(&in, &ploughed);
    }
  }
  bool good = report("without knots", &plain, PART);
  good = report("with knots", &knotted, PART_KNOTS) && good;
  good = report("with knots that plough", &ploughed, PART_KNOTS) && good;
  return good ? 0 : 1;
}
