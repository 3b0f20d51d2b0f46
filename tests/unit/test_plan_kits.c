// SPDX-License-Identifier: MIT
// What a kit has decides what can be built of it: carabiners, hitches, knots, further ropes; in whatever words it is listed.
#include "plan_case.h"

// Counted by hand, common practice, no source. A three to one with a capture device and a pulley on the block: a carabiner each for
// the capture, the pulley, the knot that ties the loaded rope off, the tether, the sling to the
// station and the hitch that takes the load over; the hitch of the block shares the block's.
static void a_rig_takes_carabiners_for_what_they_hold_too(void **state) {
  (void)state;
  static const char *const KITS[] = {
      "kit: [{item: toothed-capture}, {item: pulley}, {item: prusik}]\n",
      "kit: [{item: toothed-capture}, {item: carabiner}, {item: prusik}]\n",
      "kit: [{item: pulley}, {item: carabiner}, {item: prusik, count: 2}]\n",
      "kit: [{item: toothed-capture}, {item: axe-shaft}, {item: prusik}]\n",
  };
  static const fh_carabiners WANT[] = {{0, 3, 3}, {1, 2, 3}, {1, 3, 3}, {0, 2, 3}};
  for (size_t k = 0; k < sizeof KITS / sizeof KITS[0]; k++) {
    char text[1024];
    snprintf(text, sizeof text, "%s%s%s%s", SLOT, STRONG, ROPES, KITS[k]);
    planned x = plan_all(text, 1);
    int threes = 0;
    for (int i = 0; i < x.p->count; i++) {
      assert_int_equal(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
      if (fabs(x.p->plans[i].ideal_advantage - 3.0) > 1e-9 || x.p->plans[i].asks_below || x.rig->path_count > 1) {
        continue;
      }
      const fh_carabiners c = fh_rig_carabiners(x.t.gear, x.rig);
      assert_int_equal(c.run, WANT[k].run);
      assert_int_equal(c.hold, WANT[k].hold);
      assert_int_equal(c.own, WANT[k].own);
      assert_int_equal(x.p->plans[i].carabiners, c.run + c.hold + c.own);
      threes++;
    }
    assert_true(threes > 0);
    planned_done(&x);
  }
}

static void a_kit_that_is_all_there_is_builds_what_its_carabiners_allow(void **state) {
  (void)state;
  enum { MOST = 14 };
  int by_count[MOST + 1] = {0}, all = 0;
  planned x = plan_all(SLOT STRONG ROPES "kit: [{item: carabiner, count: 7}, {item: pulley}, {item: toothed-capture}, {item: prusik, count: 3}]\n", 3);
  for (int i = 0; i < x.p->count; i++, all++) {
    assert_int_equal(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    const fh_carabiners c = fh_rig_carabiners(x.t.gear, x.rig);
    assert_int_equal(x.p->plans[i].carabiners, c.run + c.hold + c.own);
    assert_in_range(x.p->plans[i].carabiners, 5, MOST);
    by_count[x.p->plans[i].carabiners]++;
  }
  planned_done(&x);
  x = plan_all(SLOT STRONG ROPES "kit_for: all\nkit: [{item: carabiner, count: 7}, {item: pulley}, {item: toothed-capture}, {item: prusik, count: 3}]\n", 3);
  int within = 0;
  for (int n = 0; n <= 7; n++) {
    within += by_count[n];
  }
  assert_int_equal(x.p->count, within);
  assert_true(within > 3 && within < all);
  for (int i = 0; i < x.p->count; i++) {
    assert_in_range(x.p->plans[i].carabiners, 5, 7);
  }
  planned_done(&x);
}

static void without_pulleys_and_devices_a_hitch_holds(void **state) {
  (void)state;
  planned x = plan_kept(SLOT STRONG "kit: [{item: carabiner, count: 3}, {item: prusik, count: 2}]\n", 3, FH_PREFER_PIECES);
  assert_true(x.p->count > 0);
  for (int i = 0; i < x.p->count; i++) {
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    assert_int_equal(x.rig->grips[0].body, FH_BODY_STATION);
    for (int s = 0; s < x.rig->station_count; s++) {
      const fh_item *item = fh_gear_item(x.t.gear, x.rig->stations[s].item);
      assert_true(item == NULL || strcmp(item->name, "carabiner") == 0);
    }
  }
  planned_done(&x);
}

static void knots_leave_the_rope_s_other_end_or_a_loop(void **state) {
  (void)state;
  planned x = plan_all(SLOT STRONG "ropes: [{name: main, length_m: 60, knots: 3}]\n" KIT, 3);
  int ends = 0, loops = 0;
  for (int i = 0; i < x.p->count; i++) {
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    // The knotted strand is always the slack line to the anchor.
    assert_int_equal(x.rig->stations[2].kind, FH_TIE);
    assert_true(fh_number_is_set(x.rig->stations[2].slack));
    bool end = x.rig->path_count == 2;
    ends += end && x.p->plans[i].possible;
    loops += !end && x.p->plans[i].possible;
  }
  assert_true(ends > 0 && loops > 0);
  planned_done(&x);
}

static void two_long_ropes_may_both_go_down(void **state) {
  (void)state;
  planned x = plan_all(SLOT STRONG "ropes: [{name: main, length_m: 60}, {name: spare, length_m: 60}]\n" KIT, 3);
  int alone = 0, spare = 0;
  for (int i = 0; i < x.p->count; i++) {
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    alone += x.rig->path_count == 1;
    spare += x.rig->path_count == 2 && strcmp(x.rig->paths[1].name, "spare") == 0;
  }
  assert_true(alone > 0 && spare > 0);
  planned_done(&x);
}

static void the_same_kit_in_other_words_gives_the_same_rigs(void **state) {
  (void)state;
  planned a = plan_kept(SLOT STRONG ROPES KIT, 3, FH_PREFER_PULL);
  planned b = plan_kept(SLOT STRONG "ropes: [{name: tail, length_m: 40, kind: cord}, {name: blue, length_m: 60}]\n"
                                    "kit: [{item: prusik}, {item: carabiner, count: 2}, {item: pulley}, {item: toothed-capture}, {item: prusik}, {item: pulley}]\n",
                        3, FH_PREFER_PULL);
  assert_int_equal(a.p->count, b.p->count);
  for (int i = 0; i < a.p->count; i++) {
    assert_exact(a.p->plans[i].hand_force.hi, b.p->plans[i].hand_force.hi);
    assert_exact(a.p->plans[i].worst_margin, b.p->plans[i].worst_margin);
    assert_exact(a.p->plans[i].time, b.p->plans[i].time);
    assert_string_equal(a.p->plans[i].why, b.p->plans[i].why);
  }
  planned_done(&a);
  planned_done(&b);
}

static void asking_twice_gives_the_same(void **state) {
  (void)state;
  planned a = plan_kept(SLOT STRONG ROPES KIT, 4, FH_PREFER_TIME), b = plan_kept(SLOT STRONG ROPES KIT, 4, FH_PREFER_TIME);
  assert_int_equal(a.p->count, b.p->count);
  assert_int_equal(a.p->searched, b.p->searched);
  for (int i = 0; i < a.p->count; i++) {
    assert_memory_equal(&a.p->codes[i].code, &b.p->codes[i].code, sizeof a.p->codes[i].code);
    assert_exact(a.p->plans[i].hand_force.likely, b.p->plans[i].hand_force.likely);
  }
  assert_string_equal(a.p->bounds, b.p->bounds);
  planned_done(&a);
  planned_done(&b);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_rig_takes_carabiners_for_what_they_hold_too),
      cmocka_unit_test(a_kit_that_is_all_there_is_builds_what_its_carabiners_allow),
      cmocka_unit_test(without_pulleys_and_devices_a_hitch_holds),
      cmocka_unit_test(knots_leave_the_rope_s_other_end_or_a_loop),
      cmocka_unit_test(two_long_ropes_may_both_go_down),
      cmocka_unit_test(the_same_kit_in_other_words_gives_the_same_rigs),
      cmocka_unit_test(asking_twice_gives_the_same),
  };
  return cmocka_run_group_tests_name("plan_kits", tests, NULL, NULL);
}
