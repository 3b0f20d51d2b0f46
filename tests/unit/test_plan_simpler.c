// SPDX-License-Identifier: MIT
// Simpler rigs than the kept ones: what rules them out, and those that might do it all the same.
#include "plan_case.h"

#include "firnhaul_chance.h"
#include "shown.h"

// The plan of all rigs says of each advantage whether a rig works: what is told is the smallest one that does not.
static void simpler_rigs_are_told_with_what_rules_them_out(void **state) {
  (void)state;
  planned all = plan_all(SLOT "crew: [{pull_N: 190}]\n" ROPES KIT, 5), kept = plan_kept(SLOT "crew: [{pull_N: 190}]\n" ROPES KIT, 5, FH_PREFER_PIECES);
  const fh_plan *best = &kept.p->plans[0];
  int told = 0;
  assert_true(best->possible);
  for (int k = 1; k < FHI_NEAR; k++) {
    char want[60], figure[24];
    const fh_plan *smallest = NULL;
    bool works = false;
    for (int i = 0; i < all.p->count; i++) {
      const fh_plan *p = &all.p->plans[i];
      if (fabs(p->ideal_advantage - k) > 1e-6 || p->asks_below) {
        continue;
      }
      works = works || p->possible;
      if (smallest == NULL || p->pieces < smallest->pieces || (p->pieces == smallest->pieces && p->hand_force.likely < smallest->hand_force.likely)) {
        smallest = p;
      }
    }
    bool tell = smallest != NULL && !works && smallest->pieces < best->pieces;
    snprintf(want, sizeof want, "%d:1 ", k);
    assert_int_equal(tell, strstr(kept.p->simpler, want) != NULL);
    if (tell && smallest->crew_share > 1.0) {
      (void)snprintf(want, sizeof want, "%d:1 takes %s N", k, fhi_show_newton(figure, sizeof figure, smallest->hand_force.likely, FHI_NEAREST));
      assert_non_null(strstr(kept.p->simpler, want));
    }
    told += tell;
  }
  assert_true(told >= 2);
  planned_done(&all);
  planned_done(&kept);
}

// A simpler rig by the plan of all rigs: nothing but pull lacks, the ranges overlap, and none with as few pieces pulls noticeably less.
static bool is_simpler_and_might(const fh_plans *all, int index, int fewest) {
  const fh_plan *mine = &all->plans[index];
  if (mine->possible || mine->asks_below || mine->pieces >= fewest || !(mine->lacks_pull > 0.0) || mine->hand_force.lo > mine->crew.force.hi) {
    return false;
  }
  for (int i = 0; i < all->count; i++) {
    const fh_plan *x = &all->plans[i];
    if (!x->asks_below && x->lacks_pull > 0.0 && x->pieces <= mine->pieces && x->hand_force.likely < mine->hand_force.likely / 1.05) {
      return false;
    }
  }
  return true;
}

// The chance by its own road, with many more samples, and what check says: no, for want of pull alone.
static double checked_chance(const planned *x, int index) {
  const fh_chance_opts opts = {.samples = 65536, .seed = 7, .why = false};
  const fh_plan *plan = &x->p->plans[index];
  fh_chance *chance = NULL;
  fh_check *check = NULL;
  assert_status(fh_plan_rig(x->t.scene, x->t.gear, x->p, index, x->rig), FH_OK);
  assert_status(fh_check_create(x->t.scene, x->t.gear, x->rig, NULL, &check), FH_OK);
  assert_true(check->answer_no && !check->ruled_out && check->worst_margin >= 1.0 && check->crew_share.lo <= 1.0);
  assert_near(plan->lacks_pull, check->hand_force.likely - check->crew.force.likely, 1e-9);
  assert_int_equal(check->pieces, plan->pieces);
  assert_int_equal(check->resets, plan->resets);
  assert_status(fh_chance_create(x->t.scene, x->t.gear, x->rig, &opts, &chance), FH_OK);
  double both = chance->both;
  fh_chance_destroy(chance);
  fh_check_destroy(check);
  return both;
}

// The same scene weak and less weak; at the least pull no rig at all works at the likely figures.
static void simpler_rigs_that_might_do_it_stand_apart(void **state) {
  (void)state;
  static const char *const CREWS[] = {"crew: [{pull_N: [100, 420]}]\n", "crew: [{pull_N: [60, 300]}]\n", "crew: [{pull_N: [40, 200]}]\n", "crew: [{pull_N: [20, 170]}]\n", STRONG};
  int shown = 0, without = 0;
  for (size_t k = 0; k < sizeof CREWS / sizeof CREWS[0]; k++) {
    char yaml[1000];
    (void)snprintf(yaml, sizeof yaml, "firnhaul: 1\nload: {mass_kg: [70, 95]}\nslot: {depth_m: 6}\nlip: {friction: [0.05, 0.2]}\n" GROUND "%s" ROPES KIT, CREWS[k]);
    planned all = plan_all(yaml, 4), kept = plan_kept(yaml, 4, FH_PREFER_PULL);
    const fh_plans *p = kept.p;
    int fewest = 1000, might = 0;
    assert_int_equal(all.p->less_likely, 0);  // there they stand in the list
    for (int i = 0; i < p->count; i++) {
      assert_true(p->plans[i].possible && p->plans[i].lacks_pull <= 0.0);
      fewest = p->plans[i].pieces < fewest ? p->plans[i].pieces : fewest;
    }
    for (int i = 0; i < all.p->count; i++) {
      bool told = false;
      if (!is_simpler_and_might(all.p, i, fewest)) {
        continue;
      }
      for (int j = p->count; j < p->count + p->less_likely; j++) {
        told = told || (p->plans[j].pieces == all.p->plans[i].pieces && fabs(p->plans[j].hand_force.likely / all.p->plans[i].hand_force.likely - 1.0) < 0.06);
      }
      might++;
      // 0.03: three standard errors of the chance that plan goes by
      assert_true(told || p->less_likely == FH_MAX_LESS_LIKELY || checked_chance(&all, i) < 0.05 + 0.03);
    }
    assert_true(p->less_likely <= might);
    for (int j = p->count; j < p->count + p->less_likely; j++) {
      const fh_plan *plan = &p->plans[j];
      double chance = checked_chance(&kept, j);
      assert_true(!plan->possible && plan->pieces < fewest && plan->chance >= 0.05 && fabs(plan->chance - chance) < 0.04);
      assert_non_null(strstr(plan->why, "the crew lacks"));
      assert_true(j == p->count || plan->lacks_pull > p->plans[j - 1].lacks_pull);  // the least lacking first
      shown++;
      without += p->count == 0;
    }
    assert_true(p->count > 0 || p->missing[0] != '\0');
    planned_done(&all);
    planned_done(&kept);
  }
  assert_true(shown >= 4 && without >= 1);
}

// Where a rope or a limit lacks too, or the ranges have no part in common, there is nothing to hope for.
static void none_is_less_likely_where_more_than_pull_lacks(void **state) {
  (void)state;
  static const char *const LACKING[] = {
      SLOT "crew: [{pull_N: 190}]\n" ROPES KIT,
      SLOT "crew: [{pull_N: [60, 300]}]\nropes: [{name: main, length_m: 8}]\n" KIT,
      "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\nground: {station_m: 8, anchor_m: 10, holds_kN: 0.7}\ncrew: [{pull_N: [60, 300]}]\n" ROPES KIT,
      SLOT ROPES KIT,
  };
  for (size_t k = 0; k < sizeof LACKING / sizeof LACKING[0]; k++) {
    planned x = plan_kept(LACKING[k], 4, FH_PREFER_PIECES);
    assert_int_equal(x.p->less_likely, 0);
    planned_done(&x);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(simpler_rigs_are_told_with_what_rules_them_out),
      cmocka_unit_test(simpler_rigs_that_might_do_it_stand_apart),
      cmocka_unit_test(none_is_less_likely_where_more_than_pull_lacks),
  };
  return cmocka_run_group_tests_name("plan_simpler", tests, NULL, NULL);
}
