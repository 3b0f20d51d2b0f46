// needs: lapacke gsl glpk
// SPDX-License-Identifier: MIT
// Do the three reference solvers agree with each other and with the method of tensions? Before they judge the core,
// they have to get the known rigs right: ideal advantages and polynomials with efficiencies (sources in known.c).
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "common/dense.h"
#include "common/extremes.h"
#include "common/known.h"
#include "common/pieces.h"
#include "common/rng.h"

static int failures, checks;

static void expect(const char *rig, const char *what, double got, double want) {
  checks++;
  // A few dozen operations on numbers near 1; the measured miss is below 1e-14, GLPK's below 1e-13.
  if (!(fabs(got - want) <= 1e-11 * fmax(1.0, fabs(want)))) {
    printf("%s: %s is %.15g, wanted %.15g\n", rig, what, got, want);
    failures++;
  }
}

static void one_rig(const ref_known *k, const fh_gear *gear, const ref_items *items, const double *eta) {
  fh_scene *s = ref_known_make(k, items, eta);
  ref_reading *r = malloc(sizeof *r);
  ref_motion md, mp;
  ref_forces fd, fp, fe;
  if (s == NULL || r == NULL) {
    abort();
  }
  ref_read(s, gear, r);
  ref_dense_motion(r, &md);
  ref_pieces_motion(r, &mp);
  expect(k->key, "verdict by strands", md.verdict, REF_SOUND);
  expect(k->key, "verdict by pieces", mp.verdict, REF_SOUND);
  expect(k->key, "ideal advantage by strands", md.hand_speed, k->ideal);
  expect(k->key, "ideal advantage by pieces", mp.hand_speed, k->ideal);
  expect(k->key, "strands settled", ref_dense_forces(r, &md, FH_RAISE, &fd), 1.0);
  expect(k->key, "pieces settled", ref_pieces_forces(r, &mp, FH_RAISE, &fp), 1.0);
  ref_extremes(r, &md, FH_RAISE, NULL, &fe);
  int h = r->hand_strand;
  expect(k->key, "advantage by strands", r->weight / fd.lo[h], k->polynomial(eta));
  expect(k->key, "advantage by pieces", r->weight / fp.lo[h], k->polynomial(eta));
  expect(k->key, "least advantage by LP", r->weight / fe.hi[h], k->polynomial(eta));
  expect(k->key, "greatest advantage by LP", r->weight / fe.lo[h], k->polynomial(eta));
  free(r);
  free(s);
}

int main(void) {
  fh_gear *gear = NULL;
  ref_items items;
  if (fh_gear_create(&gear) != FH_OK || !ref_items_find(gear, &items)) {
    printf("the catalogue lacks an item that the tests use\n");
    return 1;
  }
  int count = 0;
  const ref_known *list = ref_known_list(&count);
  ref_rng rng = ref_rng_seed(1);
  for (int i = 0; i < count; i++) {
    for (int trial = 0; trial < 20; trial++) {
      double eta[REF_KNOWN_CONTACTS];
      for (int c = 0; c < REF_KNOWN_CONTACTS; c++) {
        eta[c] = trial == 0 ? 1.0 : ref_rng_between(&rng, 0.4, 1.0);
      }
      one_rig(&list[i], gear, &items, eta);
    }
  }
  fh_gear_destroy(gear);
  printf("%d rigs, %d checks, %d failed\n", count, checks, failures);
  return failures == 0 && checks > 0 ? 0 : 1;
}
