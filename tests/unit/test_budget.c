// SPDX-License-Identifier: MIT
// Is the free rope counted right? Taught values: tests/check/budget.check; here what has to hold for any team.
#include "budget.h"
#include "scene_text.h"

static fh_budget_in team(double length, int people, double spacing, int knots) {
  fh_budget_in in = fh_budget_in_default();
  in.length = length;
  in.people = people;
  in.spacing = spacing;
  in.knots = knots;
  return in;
}

static fh_budget_out ask(fh_budget_in in) {
  fh_budget_out out;
  assert_status(fh_budget(&in, &out), FH_OK);
  return out;
}

static void no_rope_is_made_or_lost(void **state) {
  (void)state;
  for (int people = 2; people <= 6; people++) {
    for (int knots = 0; knots < 4; knots++) {
      fh_budget_in in = team(60.0, people, 6.0, knots);
      in.per_tie = 0.8;
      fh_budget_out out = ask(in);
      assert_near(out.spans + out.in_knots + out.in_ties + out.free_rope, 60.0, 1e-12);
      if (out.free_rope >= 0.0) {
        assert_near(out.first.spare + out.last.spare, out.free_rope, 1e-12);
      }
    }
  }
}

// Source: each member's spare is twice the spacing [plattner-wuertl]: 50 m, both ends, no knots: 10 m.
static void the_widest_spacing_is_just_enough(void **state) {
  (void)state;
  for (int people = 2; people <= 5; people++) {
    for (int knots = 0; knots < 7; knots += 3) {
      fh_budget_in in = team(60.0, people, (double)NAN, knots);
      double widest = ask(in).widest_loop;
      if (widest <= 0.0) {
        continue;
      }
      in.spacing = widest * (1.0 - 1e-9);
      assert_true(ask(in).loop_enough);
      in.spacing = widest * (1.0 + 1e-9);
      assert_false(ask(in).loop_enough);
    }
  }
  assert_near(ask(team(50.0, 2, (double)NAN, 0)).widest_loop, 10.0, 1e-11);
}

static void rope_at_one_end_is_missing_at_the_other(void **state) {
  (void)state;
  fh_budget_in in = team(40.0, 2, 12.0, 0);
  in.coils_first = 0.0;
  fh_budget_out out = ask(in);
  assert_exact(out.first.spare, 0.0);
  assert_near(out.last.spare, 28.0, 1e-12);
  assert_near(out.first.loop_missing, 24.0, 1e-12);
  assert_exact(out.last.loop_missing, 0.0);
  assert_false(out.loop_enough);
  assert_near(out.widest_loop_last, 40.0 / 3.0, 1e-11);
  in.coils_last = 5.0;
  assert_near(ask(in).last.spare, 5.0, 1e-12);
}

static void the_way_to_the_anchor_is_told_apart(void **state) {
  (void)state;
  fh_budget_in in = team(50.0, 2, 10.0, 0);
  in.set_back = 4.0;
  in.stroke = 2.0;
  fh_budget_out out = ask(in);
  assert_exact(out.last.loop_missing, 0.0);
  assert_near(out.last.loop_missing_anchored, 4.0, 1e-12);
  assert_near(out.widest_loop_anchored, 8.4, 1e-11);  // (50 - s)/2 = 2 s + 4
  assert_near(out.last.raise_needs, 20.0, 1e-12);     // 10 + 4 + 3 x 2
  assert_true(out.raise_enough);
}

static void without_a_spacing_only_the_widest_is_told(void **state) {
  (void)state;
  fh_budget_out out = ask(team(50.0, 2, (double)NAN, 0));
  assert_near(out.widest_loop, 10.0, 1e-11);
  assert_nan(out.free_rope);
  assert_nan(out.first.loop_missing);
  assert_nan(out.last.raise_missing);
  assert_false(out.loop_enough);
}

static void a_rope_too_short_for_the_spacing_says_so(void **state) {
  (void)state;
  fh_budget_out out = ask(team(20.0, 3, 12.0, 0));
  assert_near(out.free_rope, -4.0, 1e-12);
  assert_exact(out.first.spare, 0.0);
  assert_false(out.loop_enough);
}

static void the_short_way_says_the_same_but_for_the_widest(void **state) {
  (void)state;
  for (int people = 2; people <= 5; people++) {
    for (int knots = 0; knots < 8; knots++) {
      fh_budget_in in = team(60.0, people, 4.0 + 2.0 * knots, knots);
      in.set_back = 3.0;
      fh_budget_out whole = ask(in), lie;
      assert_status(fhi_budget_lie(&in, &lie), FH_OK);
      assert_true(isnan(lie.widest_loop) && isnan(lie.widest_loop_anchored) && isnan(lie.widest_loop_last) && isnan(lie.widest_raise));
      assert_near(lie.free_rope, whole.free_rope, 0.0);
      assert_near(lie.last.spare, whole.last.spare, 0.0);
      assert_near(lie.last.usable, whole.last.usable, 0.0);
      assert_near(lie.last.loop_needs, whole.last.loop_needs, 0.0);
      assert_near(lie.first.raise_missing, whole.first.raise_missing, 0.0);
      assert_int_equal(lie.loop_enough, whole.loop_enough);
    }
  }
}

static void nonsense_is_refused(void **state) {
  (void)state;
  fh_budget_out out;
  fh_budget_in in = team((double)NAN, 2, 10.0, 0);
  assert_status(fh_budget(&in, &out), FH_ERR_ARG);
  in = team(50.0, 1, 10.0, 0);
  assert_status(fh_budget(&in, &out), FH_ERR_ARG);
  in = team(50.0, FH_MAX_PEOPLE + 1, 10.0, 0);
  assert_status(fh_budget(&in, &out), FH_ERR_ARG);
  in = team(50.0, 2, -1.0, 0);
  assert_status(fh_budget(&in, &out), FH_ERR_ARG);
  in = team(50.0, 2, 10.0, -1);
  assert_status(fh_budget(&in, &out), FH_ERR_ARG);
  in = team(50.0, 2, 10.0, 0);
  in.per_knot = (double)NAN;
  assert_status(fh_budget(&in, &out), FH_ERR_ARG);
  assert_status(fh_budget(NULL, &out), FH_ERR_ARG);
  assert_status(fh_budget_from_scene(NULL, &in), FH_ERR_ARG);
}

static void a_scene_gives_its_rope_and_team(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST "ropes:\n  - {name: main, length_m: 50}\n"
                                  "team:\n  people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 75, behind_m: 10}, {mass_kg: 75, behind_m: 20}]\n"
                                  "  rope: {}\n");
  fh_budget_in in;
  assert_status(fh_budget_from_scene(t.scene, &in), FH_OK);
  assert_int_equal(in.people, 3);
  assert_exact(in.spacing, 10.0);
  assert_exact(in.length, 50.0);
  fh_budget_out out = ask(in);
  assert_near(out.last.usable, 25.0, 1e-12);  // 15 m spare and the free span
  text_sink sink = {.fail_after = -1};
  fh_out to = {text_sink_put, &sink};
  assert_status(fh_budget_write_json(&in, &out, to), FH_OK);
  assert_non_null(strstr(sink.bytes, "\"widest_spacing_m\""));
  assert_status(fh_budget_write_json(NULL, &out, to), FH_ERR_ARG);
  free(sink.bytes);
  scene_done(&t);
  t = scene_read(LEAST);
  assert_status(fh_budget_from_scene(t.scene, &in), FH_ERR_ARG);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(no_rope_is_made_or_lost),
      cmocka_unit_test(the_widest_spacing_is_just_enough),
      cmocka_unit_test(rope_at_one_end_is_missing_at_the_other),
      cmocka_unit_test(the_way_to_the_anchor_is_told_apart),
      cmocka_unit_test(without_a_spacing_only_the_widest_is_told),
      cmocka_unit_test(a_rope_too_short_for_the_spacing_says_so),
      cmocka_unit_test(the_short_way_says_the_same_but_for_the_widest),
      cmocka_unit_test(nonsense_is_refused),
      cmocka_unit_test(a_scene_gives_its_rope_and_team),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
