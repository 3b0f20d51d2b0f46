// SPDX-License-Identifier: MIT
// The n-th allocation fails, for n = 1, 2, 3 ... until a call succeeds. Each failure is FH_ERR_MEMORY, leaves the result
// untouched and, as the leak sanitizer sees at the end, gives everything back.
#include "fail_each.h"

#include "scenes.h"

#include "memory.h"

static const char SCENE[] = HEAD GROUND "lip: {turn_deg: 80, friction: [0.1, 0.2]}\ncrew: [{name: guide, pull_N: [250, 350]}]\n"
                                        "ropes: [{name: main, length_m: 60}]\n"
                                        "kit: [{item: toothed-capture}, {item: carabiner, count: 2}, {item: prusik}]\n" SIX(0.8, 0.9, 0.5);

// What a case works on; results land here.
struct bench {
  scene_text t;
  fh_check *check;
  fh_plans *plans;
  fh_doc *doc;
  fh_gear *gear;
  fh_scene *scene;
  fh_diag diag;
  fh_rig *rig;
  fh_test_text text;
};

// ---------------------------------------------------------------------------------------------------- core objects

static bool clean_doc(bench *b) {
  bool there = b->doc != NULL;
  fh_doc_destroy(b->doc);
  b->doc = NULL;
  return there;
}

// Events by hand: libyaml has memory of its own.
static fh_status build_doc(bench *b) {
  char text[64];
  fh_doc *doc = NULL;
  fh_status status = fh_doc_create(&doc);
  status = status == FH_OK ? fh_doc_map_begin(doc, 1, 1) : status;
  for (int i = 0; i < 300 && status == FH_OK; i++) {
    (void)snprintf(text, sizeof text, "key-%d-%030d", i, i);
    status = fh_doc_scalar(doc, text, strlen(text), false, i + 1, 1);
    status = status == FH_OK ? fh_doc_list_begin(doc, i + 1, 40) : status;
    status = status == FH_OK ? fh_doc_scalar(doc, "1", 1, true, i + 1, 41) : status;
    status = status == FH_OK ? fh_doc_list_end(doc) : status;
  }
  status = status == FH_OK ? fh_doc_map_end(doc) : status;
  if (status != FH_OK) {
    fh_doc_destroy(doc);
    return status;
  }
  b->doc = doc;
  return FH_OK;
}

static bool clean_gear(bench *b) {
  bool there = b->gear != NULL;
  fh_gear_destroy(b->gear);
  b->gear = NULL;
  return there;
}

static fh_status make_gear(bench *b) {
  return fh_gear_create(&b->gear);
}

static bool clean_scene(bench *b) {
  bool there = b->scene != NULL;
  fh_scene_destroy(b->scene);
  b->scene = NULL;
  return there;
}

static fh_status make_scene(bench *b) {
  return fh_scene_create(b->t.doc, b->t.gear, &b->scene, &b->diag);
}

static bool clean_check(bench *b) {
  bool there = b->check != NULL;
  fh_check_destroy(b->check);
  b->check = NULL;
  return there;
}

static fh_status make_check(bench *b) {
  return fh_check_create(b->t.scene, b->t.gear, &b->t.scene->rig, NULL, &b->check);
}

static bool clean_plans(bench *b) {
  bool there = b->plans != NULL;
  fh_plans_destroy(b->plans);
  b->plans = NULL;
  return there;
}

static fh_status make_kept(bench *b) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.max_contacts = 1;
  return fh_plans_create(b->t.scene, b->t.gear, &opts, &b->plans);
}

static fh_status make_all(bench *b) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.max_contacts = 1;
  opts.all = true;
  opts.prefer = FH_PREFER_CHANCE;
  return fh_plans_create(b->t.scene, b->t.gear, &opts, &b->plans);
}

// Nothing works: the search for what is missing asks for memory too.
static fh_status make_missing(bench *b) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.max_contacts = 1;
  fh_number pull = b->t.scene->crew[0].pull;
  b->t.scene->crew[0].pull = fh_number_exact(30.0);
  fh_status status = fh_plans_create(b->t.scene, b->t.gear, &opts, &b->plans);
  b->t.scene->crew[0].pull = pull;
  return status;
}

// ---------------------------------------------------------------------------------------------------- into the caller's own

static bool marks_success;

static bool flagged(bench *b) {
  bool there = marks_success;
  marks_success = false;
  free(b->text.bytes);
  b->text = (fh_test_text){0};
  return there;
}

static fh_status flag(fh_status status) {
  marks_success = status == FH_OK;
  return status;
}

static fh_out text_out(bench *b) {
  return (fh_out){fh_test_collect, &b->text};
}

static fh_status curve(bench *b) {
  static const double ANGLES[] = {0.0, 0.3, 0.9};
  fh_angle_point points[3];
  return flag(fh_angle_curve(b->t.scene, b->t.gear, &b->t.scene->rig, ANGLES, 3, points));
}

static fh_status plan_rig(bench *b) {
  return flag(fh_plan_rig(b->t.scene, b->t.gear, b->plans, 0, b->rig));
}

static fh_status check_json(bench *b) {
  return flag(fh_check_write_json(b->t.scene, b->t.gear, &b->t.scene->rig, b->check, text_out(b)));
}

static fh_status check_csv(bench *b) {
  return flag(fh_check_write_csv(b->t.scene, b->t.gear, &b->t.scene->rig, b->check, text_out(b)));
}

static fh_status plans_json(bench *b) {
  return flag(fh_plans_write_json(b->t.scene, b->t.gear, b->plans, text_out(b)));
}

static fh_status plans_csv(bench *b) {
  return flag(fh_plans_write_csv(b->t.scene, b->t.gear, b->plans, text_out(b)));
}

static fh_status scene_yaml(bench *b) {
  return flag(fh_scene_write_yaml(b->t.scene, b->t.gear, text_out(b)));
}

static fh_status rig_json(bench *b) {
  return flag(fh_rig_write_json(&b->t.scene->rig, b->t.gear, text_out(b)));
}

static fh_status rig_words(bench *b) {
  return flag(fh_rig_write_words(&b->t.scene->rig, b->t.gear, FH_METRIC, FH_ENGLISH, text_out(b)));
}

static fh_status schema(bench *b) {
  return flag(fh_schema_write(text_out(b)));
}

static fh_status markdown(bench *b) {
  return flag(fh_keys_write_markdown(text_out(b)));
}

static fh_status section(bench *b) {
  return flag(fh_draw_section(b->t.scene, b->t.gear, &b->t.scene->rig, b->check, FH_METRIC, text_out(b)));
}

static fh_status plan_view(bench *b) {
  return flag(fh_draw_plan_view(b->t.scene, b->t.gear, &b->t.scene->rig, b->check, 0.4, FH_METRIC, text_out(b)));
}

static fh_status angle_curve(bench *b) {
  return flag(fh_draw_angle_curve(b->t.scene, b->t.gear, &b->t.scene->rig, FH_METRIC, text_out(b)));
}

static fh_status plans_figure(bench *b) {
  return flag(fh_draw_plans(b->t.scene, b->t.gear, b->plans, FH_METRIC, text_out(b)));
}

// ---------------------------------------------------------------------------------------------------- the cases

static int start(void **state) {
  bench *b = calloc(1, sizeof *b);
  if (b == NULL) {
    return -1;
  }
  b->t = scene_read(SCENE);
  b->rig = calloc(1, sizeof *b->rig);
  *state = b;
  return b->rig != NULL ? 0 : -1;
}

static int end(void **state) {
  bench *b = *state;
  (void)clean_check(b);
  (void)clean_plans(b);
  scene_done(&b->t);
  free(b->rig);
  free(b);
  return 0;
}

static void objects_come_whole_or_not_at_all(void **state) {
  bench *b = *state;
  assert_true(fail_each(b, build_doc, clean_doc, 0) > 2);
  assert_true(fail_each(b, make_gear, clean_gear, 0) > 0);
  assert_true(fail_each(b, make_scene, clean_scene, 0) > 0);
  assert_true(fail_each(b, make_check, clean_check, 0) > 4);
}

static void a_rig_that_rests_asks_for_no_more_and_fails_as_well(void **state) {
  (void)state;
  bench b = {.t = scene_read(PLACE RIG(PATH("main", LOOSE ", " HAND) ", " PATH("loop", "{tie: t}, {edge: lip}, {run: load, on: carabiner}, {edge: lip}, {tie: t}"),
                                       GRIP("t", "main", 0, 2)))};
  assert_true(fail_each(&b, make_check, clean_check, 0) > 4);
  scene_done(&b.t);
}

static void plans_come_whole_or_not_at_all(void **state) {
  bench *b = *state;
  assert_true(fail_each(b, make_kept, clean_plans, 0) > 10);
  assert_true(fail_each(b, make_all, clean_plans, 0) > 10);
  assert_true(fail_each(b, make_missing, clean_plans, 0) > 10);
}

static void an_own_gear_file_is_read_whole_or_not_at_all(void **state) {
  bench *b = *state;
  static const char OWN[] = "firnhaul_gear: 1\nitems:\n  - {name: prusik, slip_kN: 1.5}\n  - {name: mine, like: pulley, efficiency: [0.9, 0.95], about: a wheel, source: measured}\n";
  assert_status(cli_yaml_parse(OWN, strlen(OWN), &b->doc, &b->diag), FH_OK);
  assert_status(fh_gear_create(&b->gear), FH_OK);
  int before = fh_gear_count(b->gear);
  for (long n = 1;; n++) {
    fhi_fault_after(n);
    fh_status status = fh_gear_add(b->gear, b->doc, &b->diag);
    fhi_fault_after(0);
    if (status == FH_OK) {
      break;
    }
    assert_status(status, FH_ERR_MEMORY);
    assert_int_equal(fh_gear_count(b->gear), before);
    assert_exact(fh_gear_figure(b->gear, fh_gear_find(b->gear, "prusik"), "slip_N", NULL).lo, 2500.0);
    assert_true(n < 1000);
  }
  assert_int_equal(fh_gear_count(b->gear), before + 1);
  assert_exact(fh_gear_figure(b->gear, fh_gear_find(b->gear, "prusik"), "slip_N", NULL).lo, 1500.0);
  (void)clean_gear(b);
  (void)clean_doc(b);
}

static void curves_reports_and_figures_fail_as_a_whole(void **state) {
  bench *b = *state;
  static const act_fn ACTS[] = {curve,     plan_rig,  check_json, check_csv, plans_json, plans_csv,   scene_yaml,  rig_json,
                                rig_words, schema,    markdown,   section,   plan_view,  angle_curve, plans_figure};
  assert_status(make_check(b), FH_OK);
  assert_status(make_all(b), FH_OK);
  assert_true(b->plans->count > 0);
  for (size_t i = 0; i < sizeof ACTS / sizeof ACTS[0]; i++) {
    (void)fail_each(b, ACTS[i], flagged, 0);  // some of them need no memory at all
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test_setup_teardown(objects_come_whole_or_not_at_all, start, end),
      cmocka_unit_test(a_rig_that_rests_asks_for_no_more_and_fails_as_well),
      cmocka_unit_test_setup_teardown(plans_come_whole_or_not_at_all, start, end),
      cmocka_unit_test_setup_teardown(an_own_gear_file_is_read_whole_or_not_at_all, start, end),
      cmocka_unit_test_setup_teardown(curves_reports_and_figures_fail_as_a_whole, start, end),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
