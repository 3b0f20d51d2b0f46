// SPDX-License-Identifier: MIT
// The kept rigs are the front, and their order is the one asked for.
#include "plan_case.h"

static fhi_candidate key_of(const fh_plans *plans, int index) {
  const fh_plan *p = &plans->plans[index];
  fhi_candidate c = {.pieces = (int8_t)p->pieces, .hand_force = p->hand_force.likely, .time = plans->codes[index].time, .rope = p->rope_needed, .margin = p->worst_margin, .hands = p->asks_below, .untended = p->tends_far};
  fhi_front_key(&c);
  return c;
}

static bool as_good(const fhi_candidate *a, const fhi_candidate *b) {
  for (size_t k = 0; k < sizeof a->key / sizeof a->key[0]; k++) {
    if (a->key[k] > b->key[k]) {
      return false;
    }
  }
  return true;
}

static void the_kept_are_those_of_all_that_no_other_is_as_good_as(void **state) {
  (void)state;
  static const char *const SCENES[] = {
      SLOT STRONG ROPES KIT,
      SLOT "crew: [{pull_N: [150, 400]}]\n" ROPES KIT,
      SLOT STRONG "kit: [{item: carabiner, count: 4}, {item: prusik, count: 3}]\n",
  };
  for (size_t k = 0; k < sizeof SCENES / sizeof SCENES[0]; k++) {
    planned all = plan_all(SCENES[k], 4), kept = plan_kept(SCENES[k], 4, FH_PREFER_PULL);
    int front = 0;
    for (int i = 0; i < all.p->count; i++) {
      fhi_candidate me = key_of(all.p, i);
      bool beaten = !all.p->plans[i].possible, here = false;
      for (int j = 0; j < all.p->count && !beaten; j++) {
        fhi_candidate other = key_of(all.p, j);
        beaten = all.p->plans[j].possible && as_good(&other, &me) && !as_good(&me, &other);
      }
      for (int j = 0; j < kept.p->count; j++) {
        fhi_candidate other = key_of(kept.p, j);
        here = here || (as_good(&other, &me) && as_good(&me, &other));
      }
      assert_int_equal(here && all.p->plans[i].possible, !beaten);
      front += !beaten;
    }
    assert_true(kept.p->count > 2 && kept.p->count <= front);
    for (int i = 0; i < kept.p->count; i++) {
      assert_true(kept.p->plans[i].possible);
    }
    planned_done(&all);
    planned_done(&kept);
  }
}

static void the_first_wish_comes_first(void **state) {
  (void)state;
  for (int prefer = FH_PREFER_PULL; prefer <= FH_PREFER_CHANCE; prefer++) {
    planned x = plan_kept(SLOT "crew: [{pull_N: [300, 500]}]\n" ROPES KIT, 3, (fh_prefer)prefer);
    assert_true(x.p->count > 3);
    for (int i = 1; i < x.p->count; i++) {
      const fh_plan *a = &x.p->plans[i - 1], *b = &x.p->plans[i];
      assert_true(a->asks_below <= b->asks_below);
      assert_true(a->asks_below < b->asks_below || a->tends_far <= b->tends_far);
      if (a->asks_below != b->asks_below || a->tends_far != b->tends_far) {
        continue;
      }
      switch (prefer) {
      case FH_PREFER_PULL: assert_true(a->hand_force.likely <= b->hand_force.likely); break;
      case FH_PREFER_TIME: assert_true(a->time_rests <= b->time_rests); break;
      case FH_PREFER_PIECES: assert_true(a->pieces <= b->pieces); break;
      case FH_PREFER_SAFE: assert_true(a->worst_margin >= b->worst_margin); break;
      default: assert_true(a->chance >= b->chance); break;
      }
      assert_int_equal(prefer == FH_PREFER_CHANCE, !isnan(a->chance));
    }
    planned_done(&x);
  }
}

static void what_is_not_possible_here_comes_last(void **state) {
  (void)state;
  planned x = plan_all(SLOT "crew: [{pull_N: 350}]\n" ROPES KIT, 3);
  bool no = false;
  int yes = 0;
  for (int i = 0; i < x.p->count; i++) {
    no = no || !x.p->plans[i].possible;
    yes += x.p->plans[i].possible;
    assert_int_equal(x.p->plans[i].possible, !no);
    assert_int_equal(strcmp(x.p->plans[i].why, "sound, but not here: see check") == 0, no);
  }
  assert_true(no && yes > 0);
  planned_done(&x);
}

static void every_plan_says_why_it_is_kept(void **state) {
  (void)state;
  planned x = plan_kept(SLOT STRONG ROPES KIT, 5, FH_PREFER_PULL);
  bool best[5] = {false};
  static const char *const WORDS[] = {"least pull", "fewest pieces", "fastest", "widest margin", "least rope"};
  for (int i = 0; i < x.p->count; i++) {
    assert_true(x.p->plans[i].why[0] != '\0');
    for (int k = 0; k < 5; k++) {
      best[k] = best[k] || (strstr(x.p->plans[i].why, WORDS[k]) != NULL && strstr(x.p->plans[i].why, "of all that work") != NULL);
    }
  }
  for (int k = 0; k < 5; k++) {
    assert_true(best[k]);  // somebody is the best in each
  }
  planned_done(&x);
  x = plan_kept("firnhaul: 1\nload: {mass_kg: 80, helps: true}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\n" GROUND STRONG ROPES KIT, 5, FH_PREFER_PULL);
  assert_non_null(strstr(x.p->plans[0].why, "least pull"));
  planned_done(&x);
}

// Common practice, no source: a hitch as capture has to be tended, and one alone who walks back with the rope cannot.
static void a_hitch_that_one_alone_cannot_tend_comes_after(void **state) {
  (void)state;
  static const char *const CREWS[] = {"crew: [{pull_N: 900}]\n", "crew: [{pull_N: 450}, {pull_N: 450}]\n"};
  for (int two = 0; two < 2; two++) {
    char text[1024];
    snprintf(text, sizeof text, "%s%s%s", SLOT, CREWS[two], ROPES "kit: [{item: carabiner, count: 5}, {item: pulley, count: 1}, {item: prusik, count: 3}]\n");
    planned x = plan_all(text, 3);
    int asks = 0, near = 0, late = 0;
    for (int i = 0; i < x.p->count; i++) {
      const fh_plan *plan = &x.p->plans[i];
      fh_check *check = NULL;
      bool said = false;
      assert_int_equal(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
      assert_int_equal(fh_check_create(x.t.scene, x.t.gear, x.rig, NULL, &check), FH_OK);
      for (int n = 0; n < check->note_count; n++) {
        said = said || strstr(check->notes[n].text, "alone you cannot tend") != NULL;
      }
      fh_check_destroy(check);
      assert_int_equal(plan->tends_far, said);
      assert_int_equal(x.p->codes[i].untended, said);
      asks += said;
      near += !said && plan->possible;
      late += i > 0 && plan->possible && plan->asks_below == x.p->plans[i - 1].asks_below && plan->tends_far < x.p->plans[i - 1].tends_far;
    }
    assert_int_equal(asks > 3, !two);
    assert_true(near > 0);
    assert_int_equal(late, 0);
    planned_done(&x);
  }
}

// Common practice, no source: a loop dropped to a person is theirs to clip in; who cannot help gets it only from someone who goes down.
static void a_loop_for_who_cannot_help_comes_after_all_others(void **state) {
  (void)state;
  for (int helps = 0; helps < 2; helps++) {
    planned x = helps != 0 ? plan_all("firnhaul: 1\nload: {mass_kg: 80, helps: true}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\n" GROUND STRONG ROPES KIT, 3)
                           : plan_all(SLOT STRONG ROPES KIT, 3);
    int loops = 0, asks = 0, late = 0;
    for (int i = 0; i < x.p->count; i++) {
      assert_int_equal(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
      bool loop = false;
      for (int s = 0; s < x.rig->station_count; s++) {
        loop = loop || (x.rig->stations[s].kind == FH_RUN && x.rig->stations[s].body == FH_BODY_LOAD);
      }
      const fh_plan *plan = &x.p->plans[i];
      loops += loop;
      asks += plan->asks_below;
      assert_int_equal(plan->asks_below, loop && helps == 0);
      assert_int_equal(plan->asks_below && plan->possible, strstr(plan->why, "would have to clip in") != NULL);
      late += plan->possible && !plan->asks_below && i > 0 && (x.p->plans[i - 1].asks_below || !x.p->plans[i - 1].possible);
    }
    assert_true(loops > 3);
    assert_int_equal(asks, helps != 0 ? 0 : loops);
    assert_int_equal(late, 0);
    planned_done(&x);
  }
}

// What check says of hitches on thin rope, plan says too, and such a rig comes after its like.
static void a_rig_that_hangs_on_hitches_on_thin_rope_says_so_and_comes_later(void **state) {
  (void)state;
  planned x = plan_all(SLOT STRONG "ropes: [{name: main, length_m: 60}, {name: thin, length_m: 20, kind: cord, diameter_mm: 6}]\n" KIT, 4);
  int thin = 0;
  for (int i = 0; i < x.p->count; i++) {
    fh_check *c = NULL;
    const fh_plan *plan = &x.p->plans[i];
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    assert_status(fh_check_create(x.t.scene, x.t.gear, x.rig, NULL, &c), FH_OK);
    bool said = false;
    for (int k = 0; k < c->note_count; k++) {
      said = said || strstr(c->notes[k].text, "rope thin is 6.0 mm thick") != NULL;
    }
    fh_check_destroy(c);
    assert_int_equal(plan->thin, said);
    assert_int_equal(plan->thin && plan->possible, strstr(plan->why, "under 8 mm") != NULL);
    thin += plan->thin;
    const fh_plan *before = &x.p->plans[i > 0 ? i - 1 : 0];
    if (before->possible == plan->possible && before->asks_below == plan->asks_below && before->tends_far == plan->tends_far) {
      assert_true(before->thin <= plan->thin);
    }
  }
  assert_in_range(thin, 3, x.p->count - 3);
  planned_done(&x);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_kept_are_those_of_all_that_no_other_is_as_good_as),
      cmocka_unit_test(the_first_wish_comes_first),
      cmocka_unit_test(a_hitch_that_one_alone_cannot_tend_comes_after),
      cmocka_unit_test(a_loop_for_who_cannot_help_comes_after_all_others),
      cmocka_unit_test(a_rig_that_hangs_on_hitches_on_thin_rope_says_so_and_comes_later),
      cmocka_unit_test(what_is_not_possible_here_comes_last),
      cmocka_unit_test(every_plan_says_why_it_is_kept),
  };
  return cmocka_run_group_tests_name("plan_kept", tests, NULL, NULL);
}
