// SPDX-License-Identifier: MIT
// The trip sheet: what it tells a team to measure off is the team's rope, each who may fall has a rig, and nothing lies on anything else.
#include "scene_text.h"

#include "draw_svg.h"
#include "firnhaul_team.h"
#include "memory.h"
#include "trip.h"

#include <math.h>

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
  // Both strands, each to its end: 3.5 + 1.5 + 1.5 + 5.8 = 12.3 and 3.5 + 1.5 + 1.5 + 3.8 = 10.3.
  assert_int_equal(svg_count(&page, "From the tie-in of 1 toward 2: 3.5 m (2 arm spans), 5 m"), 1);
  assert_int_equal(svg_count(&page, "From the tie-in of 3 toward 2: 3.5 m (2 arm spans), 5 m"), 1);
  assert_int_equal(svg_count(&page, "5.8"), 1);  // its line may break before the unit
  assert_int_equal(svg_count(&page, "3.8"), 1);
  // Without a title it says what it is; nothing that only the catalogue or the command line knows.
  assert_int_equal(svg_count(&page, "Rope team: trip sheet"), 1);
  assert_int_equal(svg_count(&page, "Trip sheet of a rope team."), 0);
  assert_int_equal(svg_count(&page, "Date, place, who:"), 1);
  assert_int_equal(svg_count(&page, "Raising rig"), 0);
  assert_int_equal(svg_count(&page, "toothed-capture"), 0);
  assert_true(svg_count(&page, "toothed capture") > 0);
  assert_int_equal(svg_count(&page, "with check"), 0);
  assert_int_equal(svg_count(&page, "Before you count on one"), 1);
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
        (void)snprintf(text, sizeof text, "%d falls, hangs up to ", i + 1);
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
  assert_int_equal(svg_count(&page, "the others raise: no rig"), 2);
  svg_free(&page);
  scene_done(&t);
}

#define THREE "team: {people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 11}, {mass_kg: 80, behind_m: 22}]}\n"

static int dealt(const scene_text *t, const int *counts, const char *name) {
  int n = 0;
  for (int k = 0; k < t->scene->kit_count; k++) {
    n += t->scene->kit[k].item == fh_gear_find(t->gear, name) ? counts[k] : 0;
  }
  return n;
}

// Three hitch cords for three: nobody can climb, which is said; what there is one of does not lie with the one who goes first.
static void a_kit_that_is_too_small_says_so_for_each(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST ROPE "kit: [{item: carabiner, count: 6}, {item: pulley, count: 1}, {item: toothed-capture, count: 1}, {item: prusik, count: 3}]\n" THREE);
  int carries[FH_MAX_PEOPLE][FH_MAX_KIT];
  char text[400];
  fhi_kit_deal(t.scene, t.gear, 3, carries);
  assert_int_equal(dealt(&t, carries[0], "pulley") + dealt(&t, carries[0], "toothed-capture"), 0);
  assert_int_equal(dealt(&t, carries[1], "pulley") + dealt(&t, carries[2], "pulley"), 1);
  for (int i = 0; i < 3; i++) {
    assert_int_equal(dealt(&t, carries[i], "prusik"), 1);
    assert_true(fhi_kit_lacks(t.scene, t.gear, carries[i], i, text, sizeof text));
    assert_non_null(strstr(text, "hitch cords 1 of 2, cannot climb a rope"));
    assert_non_null(strstr(text, "carabiners 2 of 3"));
  }
  svg_page page = drawn(&t, FH_METRIC, "trip with a small kit");
  assert_int_equal(svg_count(&page, "No anchor gear is listed, so none is counted"), 1);
  assert_int_equal(svg_count(&page, " lacks: "), 3);
  svg_free(&page);
  scene_done(&t);
}

// Enough for all: each has the least, nothing is lost in dealing, and of two pulleys one is left whoever falls.
static void a_kit_that_is_large_enough_gives_each_the_least(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST ROPE "kit: [{item: carabiner, count: 14}, {item: pulley, count: 2}, {item: prusik, count: 7}, {item: sling, count: 3}, {item: axe-shaft, count: 4}]\n" THREE);
  static const char *const NAMES[] = {"carabiner", "pulley", "prusik", "sling", "axe-shaft"};
  static const int ALL[] = {14, 2, 7, 3, 4};
  int carries[FH_MAX_PEOPLE][FH_MAX_KIT];
  char text[400];
  fhi_kit_deal(t.scene, t.gear, 3, carries);
  for (int i = 0; i < 3; i++) {
    assert_false(fhi_kit_lacks(t.scene, t.gear, carries[i], i, text, sizeof text));
    assert_string_equal(text, "");
    assert_true(dealt(&t, carries[i], "pulley") <= 1);
  }
  for (int k = 0; k < 5; k++) {
    assert_int_equal(dealt(&t, carries[0], NAMES[k]) + dealt(&t, carries[1], NAMES[k]) + dealt(&t, carries[2], NAMES[k]), ALL[k]);
  }
  assert_string_equal(fhi_kit_anchor_words(t.scene, t.gear), "");
  scene_done(&t);
}

// The raise has what the others carry less a cord, and carabiners to take the load over, for the anchor and two tethers.
static void a_raise_keeps_back_what_load_anchor_and_tethers_take(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST ROPE "kit: [{item: carabiner, count: 9}, {item: prusik, count: 6}]\n" THREE);
  fh_scene *raise = malloc(sizeof *raise);
  assert_non_null(raise);
  *raise = *t.scene;
  char text[200];
  fhi_kept kept = fhi_kit_of_raise(t.scene, t.gear, 3, 0, raise);
  assert_false(fhi_kept_lacks(&kept, t.scene->language, text, sizeof text));
  assert_int_equal(raise->kit[0].count, 9 - 3 - 4);
  assert_int_equal(raise->kit[1].count, 6 - 2 - 1);
  t.scene->kit[0].count = 3;
  *raise = *t.scene;
  kept = fhi_kit_of_raise(t.scene, t.gear, 3, 0, raise);
  assert_true(fhi_kept_lacks(&kept, t.scene->language, text, sizeof text));
  assert_int_equal(kept.short_carabiners, 2);
  free(raise);
  scene_done(&t);
}

// A rig that ends in the middle of a word would be built wrong: in every language its words end whole, in the answer and on the sheet.
static void the_words_of_a_rig_end_whole(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST ROPE "kit: [{item: carabiner, count: 16}, {item: pulley, count: 2}, {item: toothed-capture, count: 2}, {item: prusik, count: 8}]\n"
                            "team:\n  people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 13}]\n");
  fh_team_result *r = worked_out(&t);
  size_t longest = 0;
  for (int language = FH_ENGLISH; language <= FH_ITALIAN; language++) {
    fh_test_text text = {0};
    fhi_trip trip;
    t.scene->language = (fh_language)language;
    assert_status(fh_draw_trip_sheet(t.scene, t.gear, r, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
    fhi_trip_start(t.scene, t.gear, r, &trip);
    for (int faller = 0; faller < 2; faller++) {
      fhi_trip_raise raise;
      assert_status(fhi_trip_raise_find(&trip, t.scene, t.gear, r, faller, &raise), FH_OK);
      assert_true(raise.possible);
      size_t n = strlen(raise.why);
      assert_int_equal(raise.why[n - 1], '.');
      const char *end = raise.why + n - 20;
      assert_non_null(strstr(text.bytes, end));
      longest = n > longest ? n : longest;
    }
    free(text.bytes);
  }
  assert_true(longest > 300);
  fh_team_destroy(r);
  scene_done(&t);
}

// 60 m: two pieces of 11.3 m, six brake knots and three tie-in knots of 1 m, and the rest in two coils: 28.4 m.
static void the_rope_adds_up(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST ROPE KIT
                            "team:\n  people: [{mass_kg: 80, behind_m: 0}, {mass_kg: 80, behind_m: 11}, {mass_kg: 80, behind_m: 22}]\n  rope: {slack_m: 0.3}\n"
                            "  knots: {first_m: 3, apart_m: 1.5, count: 3, catch_N: 500}\n");
  fh_team_result *r = worked_out(&t);
  fh_test_text text = {0};
  assert_status(fh_draw_trip_sheet(t.scene, t.gear, r, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_non_null(strstr(text.bytes, "60 m = 22.6 m between tie-ins + 6 m in 6 brake knots + 3 m in 3 tie-in knots + 14.2 m and 14.2 m in the coils"));
  assert_non_null(strstr(text.bytes, "From the tie-in of 3 toward 2: 3 m (2 arm spans), 4.5 m (3 arm spans), 6 m (4 arm spans); from the last knot to 2: 5.3 m"));
  bool ploughs = strstr(text.bytes, "to plough ") != NULL;  // no plough of 0 m is told
  assert_true(ploughs != (strstr(text.bytes, "and then to give way at once") != NULL));
  assert_null(strstr(text.bytes, "to plough 0 m to 0 m"));
  // The raise reckons with the whole piece of rope, and the sheet says where the likely fall stops.
  fhi_trip trip;
  fhi_trip_raise raise;
  fhi_trip_start(t.scene, t.gear, r, &trip);
  assert_status(fhi_trip_raise_find(&trip, t.scene, t.gear, r, 1, &raise), FH_OK);
  assert_true(fabs(raise.depth - 11.3) < 1e-9);
  assert_status(fhi_trip_raise_find(&trip, t.scene, t.gear, r, 0, &raise), FH_OK);
  assert_true(raise.depth >= 11.3 && (!fhi_trip_is_held(r) || raise.depth >= r->likely.fall));
  free(text.bytes);
  fh_team_destroy(r);
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
      cmocka_unit_test(a_kit_that_is_too_small_says_so_for_each),
      cmocka_unit_test(a_kit_that_is_large_enough_gives_each_the_least),
      cmocka_unit_test(a_raise_keeps_back_what_load_anchor_and_tethers_take),
      cmocka_unit_test(the_rope_adds_up),
      cmocka_unit_test(the_words_of_a_rig_end_whole),
      cmocka_unit_test(it_is_written_whole_or_not_at_all),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
