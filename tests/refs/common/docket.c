// SPDX-License-Identifier: MIT
// How many cases were judged, and how did they come out? A run that judged nothing fails.
#include "docket.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "known.h"

typedef struct tally {
  int cases, verdicts[REF_BORDER + 1], failed, shown;
  long checks;
  double worst;
} tally;

bool ref_judge_verdict(ref_trial *t, ref_verdict v) {
  if (v == REF_BORDER) {
    return false;
  }
  bool works = t->check->outcome == FH_OUTCOME_SOLVED;
  t->checks++;
  if (works != (v == REF_SOUND)) {
    t->failures++;
    printf("%s: the core says %s, the reference says %s\n", t->name, works ? "it works" : t->check->why,
           ref_verdict_name(v));
  }
  return works && v == REF_SOUND;
}

static void one_case(tally *sum, const char *name, const fh_scene *scene, const fh_gear *gear, ref_case_fn judge) {
  ref_reading *r = malloc(sizeof *r);
  fh_check *check = NULL;
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = true;
  if (r == NULL || fh_check_create(scene, gear, &scene->rig, &opts, &check) != FH_OK) {
    printf("%s: the core gave no answer\n", name);
    sum->failed++;
    free(r);
    return;
  }
  ref_read(scene, gear, r);
  ref_trial t = {.name = name, .scene = scene, .gear = gear, .reading = r, .check = check};
  sum->verdicts[judge(&t)]++;
  sum->cases++;
  sum->checks += t.checks;
  sum->worst = fmax(sum->worst, t.worst);
  if (t.failures > 0) {
    sum->failed++;
    if (sum->shown++ < 3) {
      ref_print_scene(scene, gear);
    }
  }
  fh_check_destroy(check);
  free(r);
}

static void known_cases(tally *sum, const fh_gear *gear, const ref_items *items, const ref_wish *wish,
                        ref_case_fn judge) {
  int count = 0;
  const ref_known *list = ref_known_list(&count);
  ref_rng rng = ref_rng_seed(7);
  for (int i = 0; i < count; i++) {
    double eta[REF_KNOWN_CONTACTS];
    for (int c = 0; c < REF_KNOWN_CONTACTS; c++) {
      eta[c] = wish->lossless ? 1.0 : ref_rng_between(&rng, 0.4, 1.0);
    }
    fh_scene *s = ref_known_make(&list[i], items, eta);
    if (s != NULL) {
      one_case(sum, list[i].key, s, gear, judge);
    }
    free(s);
  }
}

int ref_docket(const char *title, uint64_t from, int count, const ref_wish *wish, ref_case_fn judge) {
  fh_gear *gear = NULL;
  ref_items items;
  if (fh_gear_create(&gear) != FH_OK || !ref_items_find(gear, &items)) {
    printf("%s: the catalogue lacks an item that the tests use\n", title);
    return 1;
  }
  tally sum = {0};
  known_cases(&sum, gear, &items, wish, judge);
  for (int i = 0; i < count; i++) {
    char name[32];
    snprintf(name, sizeof name, "seed %llu", (unsigned long long)from + (unsigned long long)i);
    fh_scene *s = ref_random_make(from + (uint64_t)i, &items, wish);
    if (s != NULL) {
      one_case(&sum, name, s, gear, judge);
    }
    free(s);
  }
  fh_gear_destroy(gear);
  printf("%s: %d rigs (%d sound, %d locked, %d dangling, %d pushing, %d wedging, %d on a border), %ld numbers, worst "
         "miss %.2g, "
         "%d rigs failed\n",
         title, sum.cases, sum.verdicts[REF_SOUND], sum.verdicts[REF_LOCKED], sum.verdicts[REF_DANGLES],
         sum.verdicts[REF_PUSHES], sum.verdicts[REF_WEDGES], sum.verdicts[REF_BORDER], sum.checks, sum.worst,
         sum.failed);
  // A docket in which hardly anything works would prove little.
  bool enough = sum.checks > 0 && 4 * sum.verdicts[REF_SOUND] > sum.cases;
  return sum.failed == 0 && enough ? 0 : 1;
}
