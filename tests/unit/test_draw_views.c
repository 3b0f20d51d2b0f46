// SPDX-License-Identifier: MIT
// The view from above, the curve over the pull's angle and the chart of the rigs found: nothing lies on anything else, and each says
// what was worked out.
#include "fh_test.h"

#include "draw_case.h"

static void plan_views_are_clear_at_every_angle(void **state) {
  (void)state;
  for (int i = 0; i < DRAW_SCENE_COUNT; i++) {
    for (int degrees = 0; degrees <= 100; degrees += 20) {
      figure_case c;
      open_case(&c, DRAW_SCENES[i]);
      fh_test_text text = {0};
      assert_status(plan_view(&c, degrees, degrees == 40 ? FH_IMPERIAL : FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
      svg_page page = look(c.d.name, &text);
      svg_free(&page);
      free(text.bytes);
      close_case(&c);
    }
  }
}

static void the_plan_view_gives_the_force_at_its_own_angle(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_three);
  fh_angle_point point;
  double angle = 60.0 * RAD;
  assert_status(fh_angle_curve(c.d.scene, c.d.gear, &c.d.scene->rig, &angle, 1, &point), FH_OK);
  fh_test_text text = {0};
  assert_status(plan_view(&c, 60.0, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page = look("three", &text);
  const svg_text *pull = svg_find(&page, "pull ");
  assert_non_null(pull);
  double lo = 0.0;
  double hi = 0.0;
  assert_int_equal(sscanf(pull->text, "pull %*f N (%lf\xE2\x80\x93%lf)", &lo, &hi), 2);
  // Weight over advantage, rounded outward to 5 N. The curve's band and the check's need not agree to the last newton:
  // the curve sets every contact to the same end at once, the check goes through the corners.
  double least = c.check->weight.lo / point.advantage.hi;
  double most = c.check->weight.hi / point.advantage.lo;
  assert_within(lo, 0.99 * least - 5.0, 1.01 * least);
  assert_within(hi, 0.99 * most, 1.01 * most + 5.0);
  assert_true(svg_count(&page, "60\xC2\xB0") >= 1);
  svg_free(&page);
  free(text.bytes);
  close_case(&c);
}

static void an_angle_past_100_degrees_is_refused(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_three);
  fh_test_text text = {0};
  assert_status(plan_view(&c, 101.0, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_ERR_ARG);
  assert_status(plan_view(&c, -1.0, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_ERR_ARG);
  assert_status(plan_view(&c, (double)NAN, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_ERR_ARG);
  assert_null(text.bytes);
  close_case(&c);
}

static void angle_curves_are_clear_and_mark_the_value_in_line(void **state) {
  (void)state;
  for (int i = 0; i < DRAW_SCENE_COUNT; i++) {
    figure_case c;
    open_case(&c, DRAW_SCENES[i]);
    fh_test_text text = {0};
    assert_status(angle_curve(&c, (fh_out){fh_test_collect, &text}), FH_OK);
    svg_page page = look(c.d.name, &text);
    bool solved = c.check->outcome == FH_OUTCOME_SOLVED;
    assert_int_equal(svg_count(&page, "in line "), solved ? 1 : 0);
    assert_int_equal(svg_count(&page, "no answer"), solved ? 0 : svg_count(&page, "no answer"));
    svg_free(&page);
    free(text.bytes);
    close_case(&c);
  }
}

static void a_gap_in_the_curve_stays_a_gap(void **state) {
  (void)state;
  fh_angle_point points[5];
  for (int i = 0; i < 5; i++) {
    points[i] = (fh_angle_point){.angle = i * 22.5 * RAD, .advantage = {2.0, 2.5, 3.0}, .outcome = FH_OUTCOME_SOLVED};
  }
  points[2].outcome = FH_OUTCOME_UNRESOLVED;
  points[2].advantage = (fh_band){(double)NAN, (double)NAN, (double)NAN};
  fh_test_text text = {0};
  assert_status(fhi_draw_angle_points("gap", points, 5, (double)NAN, FH_ENGLISH, (fh_out){fh_test_collect, &text}), FH_OK);
  int bands = 0;
  for (const char *at = strstr(text.bytes, "#c9dcea"); at != NULL; at = strstr(at + 1, "#c9dcea")) {
    bands++;
  }
  assert_int_equal(bands, 2);
  assert_null(strstr(text.bytes, "nan"));
  svg_page page = look("gap", &text);
  svg_free(&page);
  free(text.bytes);
}

// Texts that are this number and nothing else, in the plot's bold letters.
static int count_equal(const svg_page *page, int number) {
  char text[16];
  int n = 0;
  (void)snprintf(text, sizeof text, "%d", number);
  for (int i = 0; i < page->count; i++) {
    n += page->texts[i].bold && strcmp(page->texts[i].text, text) == 0;
  }
  return n;
}

static void plans_are_clear_however_many(void **state) {
  (void)state;
  static const int COUNTS[] = {0, 1, 14, 60, MADE};
  fh_plan *list = calloc(MADE, sizeof *list);
  assert_non_null(list);
  for (size_t i = 0; i < sizeof COUNTS / sizeof COUNTS[0]; i++) {
    figure_case c;
    fh_plans plans;
    open_case(&c, scene_three);
    make_plans(&plans, list, COUNTS[i]);
    fh_test_text text = {0};
    assert_status(fh_draw_plans(c.d.scene, c.d.gear, &plans, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
    svg_page page = look("plans", &text);
    assert_true(svg_count(&page, "crew can pull") == 1);
    assert_true(svg_count(&page, "No rig that this kit can build") == (COUNTS[i] == 0));
    assert_true(svg_count(&page, "pieces in use") == (COUNTS[i] > 0));
    // The twelve of the list have their number at their mark too; more numbers would bury the marks.
    for (int k = 1; COUNTS[i] > 12 && k <= 13; k++) {
      assert_int_equal(count_equal(&page, k), k <= 12 ? 2 : 0);
    }
    svg_free(&page);
    free(text.bytes);
    close_case(&c);
  }
  free(list);
}

static void without_a_rig_the_figure_says_what_is_missing(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_three);
  fh_plans plans = {.plans = NULL, .count = 0};
  (void)snprintf(plans.missing, sizeof plans.missing, "One more pulley, or 60 N more pull.");
  fh_test_text text = {0};
  assert_status(fh_draw_plans(c.d.scene, c.d.gear, &plans, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page = look("none", &text);
  assert_true(svg_count(&page, "One more pulley") == 1);
  svg_free(&page);
  free(text.bytes);
  close_case(&c);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(plan_views_are_clear_at_every_angle),
      cmocka_unit_test(the_plan_view_gives_the_force_at_its_own_angle),
      cmocka_unit_test(an_angle_past_100_degrees_is_refused),
      cmocka_unit_test(angle_curves_are_clear_and_mark_the_value_in_line),
      cmocka_unit_test(a_gap_in_the_curve_stays_a_gap),
      cmocka_unit_test(plans_are_clear_however_many),
      cmocka_unit_test(without_a_rig_the_figure_says_what_is_missing),
  };
  return cmocka_run_group_tests_name("draw_views", tests, NULL, NULL);
}
