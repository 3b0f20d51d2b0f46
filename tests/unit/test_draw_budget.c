// SPDX-License-Identifier: MIT
// The rope as a bar: its pieces add up to the rope, to scale; what is missing is said; nothing lies on anything else.
#include "fh_test.h"

#include "draw_svg.h"
#include "firnhaul_rescue.h"
#include "memory.h"

static fh_budget_in team(double length, int people, double spacing, int knots) {
  fh_budget_in in = fh_budget_in_default();
  in.length = length;
  in.people = people;
  in.spacing = spacing;
  in.knots = knots;
  return in;
}

static char *draw(const fh_budget_in *in, fh_units units) {
  fh_budget_out out;
  fh_scene *scene = calloc(1, sizeof *scene);
  assert_non_null(scene);
  fh_test_text text = {0};
  assert_status(fh_budget(in, &out), FH_OK);
  assert_status(fh_draw_budget(scene, in, &out, units, (fh_out){fh_test_collect, &text}), FH_OK);
  free(scene);
  svg_page page;
  assert_null(svg_fault(text.bytes));
  svg_read(text.bytes, &page);
  assert_near(page.width, 298.0, 0.0);
  assert_true(svg_is_clear(&page, "budget"));
  assert_int_equal(svg_count(&page, "Training aid."), 1);
  svg_free(&page);
  return text.bytes;
}

// Widths of the boxes of one height, added up. [pt]
static double width_of_height(const char *svg, double height, int *count) {
  double sum = 0.0;
  *count = 0;
  for (const char *at = strstr(svg, "<rect "); at != NULL; at = strstr(at + 1, "<rect ")) {
    const char *end = strchr(at, '>');
    if (fabs(svg_value(at, end, "height") - height) < 0.01) {
      sum += svg_value(at, end, "width");
      (*count)++;
    }
  }
  return sum;
}

static void the_pieces_of_the_bar_make_the_whole_rope_to_scale(void **state) {
  (void)state;
  // 50 m, three people 10 m apart, two knots of 1 m in each span: 2 * (10 + 2) = 24, so 13 m at each end.
  fh_budget_in in = team(50.0, 3, 10.0, 2);
  char *svg = draw(&in, FH_METRIC);
  int count = 0;
  assert_near(width_of_height(svg, 20.0, &count), 282.0, 0.05);
  assert_int_equal(count, 4);
  assert_non_null(strstr(svg, ">13 m<"));
  assert_non_null(strstr(svg, ">12 m<"));
  const char *first = strstr(svg, "height=\"20\"");
  assert_non_null(first);
  free(svg);
}

// The taught rule (Plattner & Wuertl, Spaltenrettung): spare is twice the spacing; 50 m, no knots, both ends: 10 m.
static void the_taught_rule_is_just_enough_and_a_metre_more_is_not(void **state) {
  (void)state;
  fh_budget_in in = team(50.0, 2, 10.0, 0);
  char *svg = draw(&in, FH_METRIC);
  assert_non_null(strstr(svg, "Drop loop: needs 20 m, has 20 m: enough"));
  free(svg);
  in.spacing = 11.0;
  svg = draw(&in, FH_METRIC);
  assert_non_null(strstr(svg, "Drop loop: needs 22 m, has 19.5 m: 2.5 m MISSING"));
  free(svg);
}

static void without_a_spacing_the_widest_one_is_drawn(void **state) {
  (void)state;
  fh_budget_in in = team(50.0, 2, (double)NAN, 0);
  char *svg = draw(&in, FH_METRIC);
  assert_non_null(strstr(svg, "10 m apart (the widest"));
  free(svg);
}

static void a_rope_shorter_than_its_spans_has_no_bar(void **state) {
  (void)state;
  fh_budget_in in = team(20.0, 3, 12.0, 0);
  char *svg = draw(&in, FH_METRIC);
  int count = 0;
  assert_non_null(strstr(svg, "4 m MISSING"));
  (void)width_of_height(svg, 20.0, &count);
  assert_int_equal(count, 0);
  free(svg);
}

static void teams_of_all_sizes_in_both_units_are_clear(void **state) {
  (void)state;
  for (int people = 2; people <= FH_MAX_PEOPLE; people++) {
    for (int u = 0; u < 2; u++) {
      fh_budget_in in = team(60.0, people, 3.0 + people % 3, people % 2 == 0 ? 2 : 0);
      in.per_tie = 0.5;
      in.set_back = 4.0;
      in.stroke = 2.0;
      free(draw(&in, u == 0 ? FH_METRIC : FH_IMPERIAL));
    }
  }
}

static void missing_arguments_refused_writes_and_no_memory_are_said(void **state) {
  (void)state;
  fh_budget_in in = team(50.0, 2, 10.0, 0);
  fh_budget_out budget;
  fh_scene *scene = calloc(1, sizeof *scene);
  assert_non_null(scene);
  assert_status(fh_budget(&in, &budget), FH_OK);
  fh_test_text text = {.limit = 100};
  fh_out out = {fh_test_collect, &text};
  assert_status(fh_draw_budget(NULL, &in, &budget, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_budget(scene, NULL, &budget, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_budget(scene, &in, NULL, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_budget(scene, &in, &budget, FH_METRIC, out), FH_ERR_WRITE);
  for (long n = 1; n <= 2; n++) {
    fhi_fault_after(n);
    assert_status(fh_draw_budget(scene, &in, &budget, FH_METRIC, out), FH_ERR_MEMORY);
  }
  fhi_fault_after(0);
  free(text.bytes);
  free(scene);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_pieces_of_the_bar_make_the_whole_rope_to_scale),
      cmocka_unit_test(the_taught_rule_is_just_enough_and_a_metre_more_is_not),
      cmocka_unit_test(without_a_spacing_the_widest_one_is_drawn),
      cmocka_unit_test(a_rope_shorter_than_its_spans_has_no_bar),
      cmocka_unit_test(teams_of_all_sizes_in_both_units_are_clear),
      cmocka_unit_test(missing_arguments_refused_writes_and_no_memory_are_said),
  };
  return cmocka_run_group_tests_name("draw_budget", tests, NULL, NULL);
}
