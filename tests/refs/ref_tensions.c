// SPDX-License-Identifier: MIT
// Do the core's rigs give the advantages that the method of tensions gives, and the printed tackle and lead-line
// factors? This tests algebra, from the drawing of the rig to the number; it cannot show that friction is right.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "common/known.h"

static const fh_gear *gear;
static ref_items items;
static int checks, failures;

static void expect(const char *what, double got, double want, double within) {
  checks++;
  if (!(fabs(got - want) <= within)) {
    printf("%s: got %.9g, wanted %.9g within %g\n", what, got, want, within);
    failures++;
  }
}

// Works a known rig out. @return actual advantage [1]; NaN when the rig does not work
static double advantage(const ref_known *k, const double *eta, double *ideal) {
  double got = REF_NAN;
  fh_check *c = NULL;
  fh_check_opts opts = fh_check_opts_default();
  fh_scene *s = ref_known_make(k, &items, eta);
  if (s != NULL && fh_check_create(s, gear, &s->rig, &opts, &c) == FH_OK && c->outcome == FH_OUTCOME_SOLVED) {
    got = c->actual_advantage.likely;
    *ideal = c->ideal_advantage;
  }
  fh_check_destroy(c);
  free(s);
  return got;
}

static double with_equal(const char *key, double eta) {
  double e[REF_KNOWN_CONTACTS], ideal = REF_NAN;
  for (int i = 0; i < REF_KNOWN_CONTACTS; i++) {
    e[i] = eta;
  }
  return advantage(ref_known_find(key), e, &ideal);
}

// Ideal advantages: common practice, no source (any rescue handbook); the seven to one is derived in known.c.
static void ideals(void) {
  double e[REF_KNOWN_CONTACTS] = {1, 1, 1, 1, 1, 1, 1, 1}, ideal = REF_NAN;
  int count = 0;
  const ref_known *list = ref_known_list(&count);
  for (int i = 0; i < count; i++) {
    // Exact to rounding: only sums of ones.
    expect(list[i].about, advantage(&list[i], e, &ideal), list[i].ideal, 1e-12);
    expect(list[i].about, ideal, list[i].ideal, 1e-12);
  }
}

// Different efficiency at every bend: shows that each one stands where the polynomial says.
static void polynomials(void) {
  static const double E[REF_KNOWN_CONTACTS] = {0.53, 0.91, 0.62, 0.83, 0.71, 0.95, 0.5, 0.8};
  double ideal = REF_NAN;
  int count = 0;
  const ref_known *list = ref_known_list(&count);
  for (int i = 0; i < count; i++) {
    expect(list[i].about, advantage(&list[i], E, &ideal), list[i].polynomial(E), 1e-12);
  }
}

// Reference values of the method of tensions with equal efficiency, to the two decimals of the table: computed from the
// polynomials of Poysti 2020 and the product rule. Columns: 2, 3, 5 with a cord, 5 simple, 6, 7, 9 to one.
static void table(void) {
  static const char *const RIG[] = {"loop", "three", "five-cord", "five-simple", "six", "seven", "nine"};
  static const double ROWS[][8] = {
      {0.50, 1.50, 1.75, 2.50, 1.94, 2.63, 2.88, 3.06}, {0.57, 1.57, 1.89, 2.79, 2.19, 2.97, 3.30, 3.59},
      {0.67, 1.67, 2.12, 3.24, 2.62, 3.54, 3.99, 4.49}, {0.80, 1.80, 2.44, 3.88, 3.36, 4.39, 5.03, 5.95},
      {0.90, 1.90, 2.71, 4.42, 4.10, 5.15, 5.96, 7.34}, {0.91, 1.91, 2.74, 4.48, 4.18, 5.23, 6.06, 7.50},
      {0.95, 1.95, 2.85, 4.71, 4.52, 5.56, 6.46, 8.14},
  };
  for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
    for (int k = 0; k < 7; k++) {
      // Half a unit of the last printed digit, and 0.001 for 1.895 and 2.625, which the table rounds to either side.
      expect(RIG[k], with_equal(RIG[k], ROWS[i][0]), ROWS[i][k + 1], 0.006);
    }
  }
}

// Z with equal efficiency: practice. 3:1 and 5:1 at 0.57, 5:1 at 0.91: polynomials of Poysti 2020, three decimals.
static void single_values(void) {
  expect("Z at 0.9", with_equal("three", 0.9), 2.71, 1e-9);
  expect("Z at 0.6", with_equal("three", 0.6), 1.96, 1e-9);
  expect("Z at 0.5", with_equal("three", 0.5), 1.75, 1e-9);
  expect("Z at 0.57", with_equal("three", 0.57), 1.895, 1e-3);
  expect("five at 0.57", with_equal("five-cord", 0.57), 2.790, 1e-3);
  expect("five at 0.91", with_equal("five-cord", 0.91), 4.476, 1e-3);
  // Bench efficiencies of Prattley 2016 put into the five to one; two decimals.
  expect("five at 0.53", with_equal("five-cord", 0.53), 2.62, 5e-3);
  expect("five at 0.83", with_equal("five-cord", 0.83), 4.04, 5e-3);
}

static void tackles(void) {
  // Pipeline Rules of Thumb Handbook, p. 6: E 0.917, four parts; prints 3.25, the formula gives 3.236.
  expect("tackle, E 0.917", with_equal("tackle", 0.917), 3.25, 0.005 * 3.25);
  expect("tackle, E 0.917, by the formula", with_equal("tackle", 0.917), 3.236, 5e-4);
  // Roller bearings, E 0.962: the same formula E (1 - E^4) / (1 - E).
  expect("tackle, E 0.962", with_equal("tackle", 0.962), 0.962 * (1.0 - pow(0.962, 4.0)) / (1.0 - 0.962), 1e-12);
  // Wire Rope Users Manual, 4th ed., p. 88: 0.309; each further sheave x 1.09; 6000 lb takes 2202 lb.
  double e = 1.0 / 1.09;
  expect("lead line, four parts", 1.0 / with_equal("tackle", e), 0.309, 1e-3);
  expect("lead line, two more sheaves", 1.0 / with_equal("tackle-led", e), 0.367, 1e-3);
  // The manual multiplies its rounded factor: half a unit of 0.367 is 3 lb of 6000.
  expect("lead line of 6000 lb", 6000.0 / with_equal("tackle-led", e), 2202.0, 3.0);
}

int main(void) {
  fh_gear *made = NULL;
  if (fh_gear_create(&made) != FH_OK || !ref_items_find(made, &items)) {
    printf("the catalogue lacks an item that the tests use\n");
    return 1;
  }
  gear = made;
  ideals();
  polynomials();
  table();
  single_values();
  tackles();
  fh_gear_destroy(made);
  printf("%d checks, %d failed\n", checks, failures);
  return failures == 0 && checks > 0 ? 0 : 1;
}
