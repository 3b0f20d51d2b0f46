// SPDX-License-Identifier: MIT
// The trip sheet: what it tells a team to measure off is the team's rope, each who may fall has a rig, and nothing lies on anything else.
#include "scene_text.h"

#include "draw_svg.h"
#include "firnhaul_team.h"
#include "memory.h"

#define KIT "kit: [{item: carabiner, count: 9}, {item: pulley, count: 3}, {item: toothed-capture, count: 3}, {item: prusik, count: 6}]\n"
#define ROPE "ropes: [{name: main, length_m: 60, kind: half}]\n"

static fh_team_result *worked_out(const scene_text *t) {
  fh_team_opts o = fh_team_opts_default();
  fh_team_result *r = NULL;
  o.samples = 32;
  o.trace = false;
  assert_status(fh_team_create(t->scene, &o, &r, NULL), FH_OK);
  return r;
}

// Draws it and reads it back, whole and clear.
static svg_page drawn(const scene_text *t, fh_units units, const char *name) {
  svg_page page;
  fh_test_text text = {0};
  fh_team_result *r = worked_out(t);
  assert_status(fh_draw_trip_sheet(t->scene, t->gear, r, units, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_null(svg_fault(text.bytes));
  assert_null(strstr(text.bytes, "nan"));
  svg_read(text.bytes, &page);
  assert_true(svg_is_clear(&page, name));
  assert_int_equal(svg_count(&page, "Training aid."), 1);
  free(text.bytes);
  fh_team_destroy(r);
  return page;
}

// 12 m and 0.3 m of slack: 12.3 m, at 1.6 m an arm span 7.7, to the nearest half 7½.
static void it_tells_what_to_measure_off(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST ROPE KIT
                            "team:\n  people: [{mass_kg: 85, behind_m: 0}, {mass_kg: 75, behind_m: 12}, {mass_kg: 80, behind_m: 22}]\n  rope: {slack_m: 0.3}\n"
                            "  knots: {first_m: 3.5, apart_m: 1.5, count: 3, catch_N: 500}\n");
  svg_page page = drawn(&t, FH_METRIC, "trip");
  assert_int_equal(svg_count(&page, "1: 85 kg, goes first"), 1);
  assert_int_equal(svg_count(&page, "rope from 1 to 2: 12.3 m (7\xC2\xBD arm spans)"), 1);
  assert_int_equal(svg_count(&page, "rope from 2 to 3: 10.3 m (6\xC2\xBD arm spans)"), 1);
  assert_int_equal(svg_count(&page, "knot 1: 3.5 m"), 1);
  assert_int_equal(svg_count(&page, "knot 3: 6.5 m"), 1);
  assert_int_equal(svg_count(&page, "knot 4"), 0);
  svg_free(&page);
  page = drawn(&t, FH_IMPERIAL, "trip, imperial");
  assert_true(svg_count(&page, "ft") > 0);
  assert_int_equal(svg_count(&page, "85 kg"), 0);
  svg_free(&page);
  scene_done(&t);
}

// Two to six people, any of whom may fall; the pieces that they carry are the kit's.
static void each_who_may_fall_has_a_rig(void **state) {
  (void)state;
  for (int people = 2; people <= 6; people++) {
    char yaml[2048] = LEAST ROPE KIT "team:\n  people: [{mass_kg: 80, behind_m: 0}";
    for (int i = 1; i < people; i++) {
      size_t used = strlen(yaml);
      (void)snprintf(yaml + used, sizeof yaml - used, ", {mass_kg: %d, behind_m: %d}", 70 + i, 8 * i);
    }
    (void)strncat(yaml, "]\n", sizeof yaml - strlen(yaml) - 1);
    scene_text t = scene_read(yaml);
    for (int u = 0; u < 2; u++) {
      svg_page page = drawn(&t, u == 0 ? FH_METRIC : FH_IMPERIAL, "trip of two to six");
      for (int i = 0; i < people; i++) {
        char text[64];
        (void)snprintf(text, sizeof text, "%d falls, hangs ", i + 1);
        assert_int_equal(svg_count(&page, text), 1);
      }
      assert_int_equal(svg_count(&page, "None."), 1);  // knots
      svg_free(&page);
    }
    scene_done(&t);
  }
}

static void what_is_not_known_is_said(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST "team: {people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 12}]}\n");
  svg_page page = drawn(&t, FH_METRIC, "trip without kit and rope");
  assert_int_equal(svg_count(&page, "Not known: the scene states no rope that is long enough."), 1);
  assert_int_equal(svg_count(&page, "The scene lists no kit."), 1);
  assert_int_equal(svg_count(&page, "no rig of the kit"), 2);
  svg_free(&page);
  scene_done(&t);
}

static void it_is_written_whole_or_not_at_all(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST ROPE KIT "team: {people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 12}]}\n");
  fh_team_result *r = worked_out(&t);
  fh_test_text text = {0};
  fh_out out = {fh_test_collect, &text};
  assert_status(fh_draw_trip_sheet(t.scene, t.gear, r, FH_METRIC, out), FH_OK);
  fh_test_text full = {.limit = text.count / 2};
  assert_status(fh_draw_trip_sheet(t.scene, t.gear, r, FH_METRIC, (fh_out){fh_test_collect, &full}), FH_ERR_WRITE);
  free(full.bytes);
  free(text.bytes);
  assert_status(fh_draw_trip_sheet(NULL, t.gear, r, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_trip_sheet(t.scene, NULL, r, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_trip_sheet(t.scene, t.gear, NULL, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_trip_sheet(t.scene, t.gear, r, FH_METRIC, (fh_out){NULL, NULL}), FH_ERR_ARG);
  fh_status status = FH_ERR_MEMORY;
  int refusals = 0;
  for (long n = 1; status == FH_ERR_MEMORY; n += 1 + n / 8, refusals++) {
    fh_test_text part = {0};
    fhi_fault_after(n);
    status = fh_draw_trip_sheet(t.scene, t.gear, r, FH_METRIC, (fh_out){fh_test_collect, &part});
    fhi_fault_after(0);
    free(part.bytes);
  }
  assert_status(status, FH_OK);
  assert_true(refusals > 3);
  fh_team_destroy(r);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(it_tells_what_to_measure_off),
      cmocka_unit_test(each_who_may_fall_has_a_rig),
      cmocka_unit_test(what_is_not_known_is_said),
      cmocka_unit_test(it_is_written_whole_or_not_at_all),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
