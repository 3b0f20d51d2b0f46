// SPDX-License-Identifier: MIT
// The figure of the raise in time: every example is clear, a long raise is drawn whole, releases are upright, no raise says why.
#define _POSIX_C_SOURCE 200809L  // glob
#include "fh_test.h"

#include <glob.h>

#include "draw_svg.h"
#include "firnhaul_rescue.h"
#include "memory.h"
#include "scene_text.h"

enum { ROWS = 3 };

// A raise by hand: each stroke takes up, hauls, and lets go. Invented data.
static fh_haul make_haul(fh_trace_row *rows, int strokes) {
  fh_haul h = {.outcome = FH_OUTCOME_SOLVED, .strokes = strokes, .resets = strokes - 1, .hand_force = {200.0, 250.0, 300.0}, .trace = rows};
  h.rope_pulled = 6.0 * strokes;
  rows[h.trace_count++] = (fh_trace_row){.slack = (double)NAN, .phase = FH_PHASE_START};
  for (int i = 0; i < strokes; i++) {
    double t = 60.0 * i;
    rows[h.trace_count++] = (fh_trace_row){t + 10.0, 1.0 * i, 240.0, 0.0, 0.0, 0.0, 1.0, i + 1, 0, FH_PHASE_TAKE_UP};
    rows[h.trace_count++] = (fh_trace_row){t + 40.0, 1.0 * i + 1.0, 250.0, 0.0, 0.0, 0.0, 1.0, i + 1, 0, FH_PHASE_HAUL};
    rows[h.trace_count++] = (fh_trace_row){t + 60.0, 1.0 * i + 1.0, 0.0, 450.0, 0.0, 0.0, 1.0, i + 1, 0, FH_PHASE_RESET};
  }
  return h;
}

static char *draw(const fh_haul *haul, fh_units units) {
  fh_scene *scene = calloc(1, sizeof *scene);
  assert_non_null(scene);
  (void)snprintf(scene->title, sizeof scene->title, "A raise");
  fh_test_text text = {0};
  assert_status(fh_draw_haul(scene, haul, units, (fh_out){fh_test_collect, &text}), FH_OK);
  free(scene);
  return text.bytes;
}

static void look(const char *name, const char *svg) {
  svg_page page;
  assert_null(svg_fault(svg));
  svg_read(svg, &page);
  assert_near(page.width, 298.0, 0.0);
  assert_true(svg_is_clear(&page, name));
  assert_int_equal(svg_count(&page, "Training aid."), 1);
  svg_free(&page);
}

static void every_example_is_clear(void **state) {
  (void)state;
  glob_t found;
  int seen = 0;
  assert_int_equal(glob("examples/*.yaml", 0, NULL, &found), 0);
  assert_int_equal(glob("examples/rigs/*.yaml", GLOB_APPEND, NULL, &found), 0);
  for (size_t k = 0; k < found.gl_pathc; k++) {
    fh_doc *doc = NULL;
    fh_diag diag = {0};
    scene_text t = {0};
    fh_haul *haul = NULL;
    assert_status(fh_gear_create(&t.gear), FH_OK);
    assert_status(cli_yaml_read(found.gl_pathv[k], &doc, &diag), FH_OK);
    assert_status(fh_scene_create(doc, t.gear, &t.scene, &diag), FH_OK);
    if (!t.scene->has_rig) {  // a team on its feet
      fh_doc_destroy(doc);
      scene_done(&t);
      continue;
    }
    assert_status(fh_haul_create(t.scene, t.gear, &t.scene->rig, NULL, &haul), FH_OK);
    for (int u = 0; u < 2; u++) {
      fh_test_text text = {0};
      assert_status(fh_draw_haul(t.scene, haul, u == 0 ? FH_METRIC : FH_IMPERIAL, (fh_out){fh_test_collect, &text}), FH_OK);
      look(found.gl_pathv[k], text.bytes);
      free(text.bytes);
      seen++;
    }
    fh_haul_destroy(haul);
    fh_doc_destroy(doc);
    scene_done(&t);
  }
  globfree(&found);
  assert_true(seen >= 36);
}

// Points of all paths of one colour: pieces share their ends, so a curve of n rows has at least n.
static int points(const char *svg, const char *colour, double *last_x) {
  int count = 0;
  for (const char *at = strstr(svg, "<path d=\""); at != NULL; at = strstr(at + 1, "<path d=\"")) {
    const char *end = strchr(at, '>');
    char stroke[40] = "";
    if (!svg_attribute(at, end, "stroke", stroke, sizeof stroke) || strcmp(stroke, colour) != 0) {
      continue;
    }
    const char *stop = strchr(at + 9, '"');
    for (const char *c = at + 9; c < stop; c++) {
      if (*c == 'M' || *c == 'L') {
        count++;
        assert_true(fhi_parse_number(c + 1, strcspn(c + 1, " "), last_x));
      }
    }
  }
  return count;
}

// A path holds 400 points; 250 strokes make 751 rows and 1001 points of the pull. The last of them ends the axis.
static void a_long_raise_is_drawn_to_its_end(void **state) {
  (void)state;
  fh_trace_row *rows = calloc(1 + ROWS * 250, sizeof *rows);
  assert_non_null(rows);
  fh_haul haul = make_haul(rows, 250);
  char *svg = draw(&haul, FH_METRIC);
  double last = 0.0;
  assert_true(points(svg, "#0060a8", &last) >= 751);
  assert_near(last, 284.0, 0.5);  // 250 minutes of 250: the right end of the axis
  assert_true(points(svg, "#c04a00", &last) >= 1001);
  assert_near(last, 284.0, 0.5);
  look("long", svg);
  free(svg);
  free(rows);
}

// At a release the pull falls to nothing at once: two points above each other.
static void the_pull_drops_upright_at_a_release(void **state) {
  (void)state;
  fh_trace_row rows[1 + ROWS];
  fh_haul haul = make_haul(rows, 1);
  char *svg = draw(&haul, FH_METRIC);
  double last = 0.0;
  assert_int_equal(points(svg, "#c04a00", &last), 5);  // start, taken up, hauled, let go, end
  assert_int_equal(points(svg, "#0060a8", &last), 4);
  free(svg);
}

// The capture holds its force through the whole reset: the curve of one stroke is level at nothing, then level at 450 N.
static void the_capture_holds_from_release_to_the_next_pull(void **state) {
  (void)state;
  fh_trace_row rows[1 + ROWS];
  fh_haul haul = make_haul(rows, 1);
  char *svg = draw(&haul, FH_METRIC);
  const char *curve = NULL;
  for (const char *at = strstr(svg, "<path d=\""); at != NULL; at = strstr(at + 1, "<path d=\"")) {
    const char *end = strchr(at, '>');
    char stroke[40] = "";
    char wide[40] = "";
    if (svg_attribute(at, end, "stroke", stroke, sizeof stroke) && strcmp(stroke, "#16202a") == 0 &&
        svg_attribute(at, end, "stroke-width", wide, sizeof wide) && strcmp(wide, "1.3") == 0) {
      curve = at + 9;
    }
  }
  assert_non_null(curve);
  double y[8];
  int n = 0;
  for (const char *c = curve; *c != '"'; c++) {
    if (*c == 'M' || *c == 'L') {
      const char *gap = strchr(c, ' ');
      assert_true(n < 8 && fhi_parse_number(gap + 1, strcspn(gap + 1, "ML\""), &y[n]));
      n++;
    }
  }
  assert_int_equal(n, 7);  // start, then two points a phase
  for (int i = 1; i < 5; i++) {
    assert_exact(y[i], y[0]);
  }
  assert_exact(y[5], y[6]);
  assert_true(y[5] < y[0] - 50.0);  // up the page
  free(svg);
}

static void the_words_hold_the_numbers_and_the_unit(void **state) {
  (void)state;
  fh_trace_row rows[1 + ROWS * 9];
  fh_haul haul = make_haul(rows, 9);
  haul.knot_every = 2.0;
  haul.knots[0] = (fh_backup_knot){2, 2.0, 2.0, 120.0};
  haul.knot_count = 1;
  char *svg = draw(&haul, FH_METRIC);
  assert_non_null(strstr(svg, "9 strokes, 8 resets"));
  assert_non_null(strstr(svg, "N (200\xE2\x80\x93" "300)"));
  assert_non_null(strstr(svg, "1 in all"));
  free(svg);
  svg = draw(&haul, FH_IMPERIAL);
  assert_non_null(strstr(svg, "lbf"));
  assert_non_null(strstr(svg, "height gained, ft"));
  free(svg);
  haul.knot_count = 0;
  svg = draw(&haul, FH_METRIC);
  assert_non_null(strstr(svg, "No backup knots"));
  free(svg);
}

static void no_raise_says_why(void **state) {
  (void)state;
  fh_haul haul = {.outcome = FH_OUTCOME_INFEASIBLE, .why = "no capture in the rig"};
  char *svg = draw(&haul, FH_METRIC);
  assert_non_null(strstr(svg, "No raise: no capture in the rig"));
  assert_null(strstr(svg, "height gained"));
  look("none", svg);
  free(svg);
}

static void missing_arguments_refused_writes_and_no_memory_are_said(void **state) {
  (void)state;
  fh_trace_row rows[1 + ROWS];
  fh_haul haul = make_haul(rows, 1);
  fh_scene *scene = calloc(1, sizeof *scene);
  assert_non_null(scene);
  fh_test_text text = {.limit = 100};
  fh_out out = {fh_test_collect, &text};
  assert_status(fh_draw_haul(NULL, &haul, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_haul(scene, NULL, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_haul(scene, &haul, FH_METRIC, out), FH_ERR_WRITE);
  fhi_fault_after(1);
  assert_status(fh_draw_haul(scene, &haul, FH_METRIC, out), FH_ERR_MEMORY);
  fhi_fault_after(2);
  assert_status(fh_draw_haul(scene, &haul, FH_METRIC, out), FH_ERR_MEMORY);
  fhi_fault_after(0);
  free(text.bytes);
  free(scene);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_example_is_clear),
      cmocka_unit_test(a_long_raise_is_drawn_to_its_end),
      cmocka_unit_test(the_pull_drops_upright_at_a_release),
      cmocka_unit_test(the_capture_holds_from_release_to_the_next_pull),
      cmocka_unit_test(the_words_hold_the_numbers_and_the_unit),
      cmocka_unit_test(no_raise_says_why),
      cmocka_unit_test(missing_arguments_refused_writes_and_no_memory_are_said),
  };
  return cmocka_run_group_tests_name("draw_haul", tests, NULL, NULL);
}
