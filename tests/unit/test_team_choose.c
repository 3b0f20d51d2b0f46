// SPDX-License-Identifier: MIT
// Ways to rope up as rows, as JSON and as a picture: each design once, shares that are counts over falls, one recommended.
#include "scene_text.h"

#include "draw_svg.h"
#include "firnhaul_team.h"
#include "memory.h"

// A rope's name may hold what a row is parted by, and JSON's marks.
#define SCENE                                                                                                                          \
  LEAST "ropes: [{name: 'long, \"blue\"', length_m: 55, kind: half}]\n"                                                                 \
        "kit: [{item: carabiner, count: 12}, {item: pulley, count: 4}, {item: toothed-capture, count: 4}, {item: prusik, count: 8}]\n" \
        "team:\n  stand: 0.6\n  brake: 0.8\n  people: [{mass_kg: 85, behind_m: 0}, {mass_kg: 75, behind_m: 12}, {mass_kg: 80, behind_m: 24}, {mass_kg: 80, behind_m: 36}]\n"

enum { MOST = 40, FALLS = 16 };

static fh_designs *designs_of(const scene_text *t) {
  fh_designs *ds = NULL;
  fh_diag diag = {0};
  assert_status(fh_designs_create(t->scene, t->gear, MOST, FALLS, 1, &ds, &diag), FH_OK);
  for (int i = 0; i < ds->count; i++) {
    assert_status(fh_design_run(t->scene, t->gear, ds, i), FH_OK);
  }
  for (int i = 0; i < ds->class_count; i++) {
    assert_status(fh_raise_class_run(t->scene, t->gear, ds, i), FH_OK);
  }
  fh_designs_weigh(t->scene, ds);
  return ds;
}

// Fields of a row, a quoted one being one field.
static int fields(const char *row, const char *end) {
  int n = 1;
  bool quoted = false;
  for (const char *c = row; c < end; c++) {
    quoted = *c == '"' ? !quoted : quoted;
    n += *c == ',' && !quoted ? 1 : 0;
  }
  return n;
}

static void rows_hold_each_design_once(void **state) {
  (void)state;
  scene_text t = scene_read(SCENE);
  fh_designs *ds = designs_of(&t);
  fh_test_text text = {0};
  assert_status(fh_designs_write_csv(t.scene, ds, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_null(strstr(text.bytes, "nan"));
  int rows = 0, recommended = 0, wanted = fields(text.bytes, strchr(text.bytes, '\n'));
  for (const char *row = text.bytes; *row != '\0'; rows++) {
    const char *end = strchr(row, '\n');
    assert_non_null(end);
    assert_int_equal(fields(row, end), wanted);
    recommended += rows > 0 && end[-1] == '1' ? 1 : 0;
    assert_true(rows == 0 || (end[-1] == '1') == (rows - 1 == ds->best));
    row = end + 1;
  }
  assert_int_equal(rows, ds->count + 1);
  assert_int_equal(recommended, ds->best >= 0 ? 1 : 0);
  assert_non_null(strstr(text.bytes, "\"long, \"\"blue\"\"\""));
  free(text.bytes);
  fh_designs_destroy(ds);
  scene_done(&t);
}

static int count(const char *text, const char *part) {
  int n = 0;
  for (const char *at = strstr(text, part); at != NULL; at = strstr(at + 1, part)) {
    n++;
  }
  return n;
}

static void json_holds_each_design_once_and_reads_back(void **state) {
  (void)state;
  scene_text t = scene_read(SCENE);
  fh_designs *ds = designs_of(&t);
  fh_test_text text = {0};
  assert_status(fh_designs_write_json(t.scene, ds, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_int_equal(count(text.bytes, "\"spacing_m\""), ds->count);
  assert_int_equal(count(text.bytes, "\"raise_possible\""), ds->count);
  assert_int_equal(count(text.bytes, "\"caution\""), 1);
  assert_int_equal(count(text.bytes, "nan"), 0);
  assert_non_null(strstr(text.bytes, "long, \\\"blue\\\""));
  // JSON is YAML: the reader takes it.
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  assert_status(cli_yaml_parse(text.bytes, text.count, &doc, &diag), FH_OK);
  fh_doc_destroy(doc);
  free(text.bytes);
  fh_designs_destroy(ds);
  scene_done(&t);
}

// A design whose falls were not run has no shares: null, not a number and not 0.
static void what_was_not_run_has_no_share(void **state) {
  (void)state;
  scene_text t = scene_read(SCENE);
  fh_designs *ds = NULL;
  fh_test_text text = {0};
  assert_status(fh_designs_create(t.scene, t.gear, MOST, FALLS, 1, &ds, NULL), FH_OK);
  assert_status(fh_designs_write_json(t.scene, ds, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_int_equal(count(text.bytes, "\"arrested\": null"), ds->count);
  assert_int_equal(count(text.bytes, "\"nobody_else_in\": null"), ds->count);
  free(text.bytes);
  fh_designs_destroy(ds);
  scene_done(&t);
}

static void the_picture_marks_every_design_and_rings_the_best(void **state) {
  (void)state;
  scene_text t = scene_read(SCENE);
  fh_designs *ds = designs_of(&t);
  int plain = 0;
  for (int i = 0; i < ds->count; i++) {
    plain += ds->designs[i].knots == 0 ? 1 : 0;
  }
  assert_true(ds->best >= 0);
  for (int u = 0; u < 2; u++) {
    fh_test_text text = {0};
    svg_page page;
    assert_status(fh_draw_designs(t.scene, ds, u == 0 ? FH_METRIC : FH_IMPERIAL, (fh_out){fh_test_collect, &text}), FH_OK);
    assert_null(svg_fault(text.bytes));
    svg_read(text.bytes, &page);
    assert_true(svg_is_clear(&page, "trade"));
    // Discs: designs without knots, two in the legend, the ring and the dot of its label.
    assert_int_equal(count(text.bytes, "<circle "), plain + 4);
    svg_free(&page);
    free(text.bytes);
  }
  fh_designs_destroy(ds);
  scene_done(&t);
}

typedef fh_status (*writer)(const fh_scene *scene, const fh_designs *ds, fh_out out);

static fh_status picture(const fh_scene *scene, const fh_designs *ds, fh_out out) {
  return fh_draw_designs(scene, ds, FH_METRIC, out);
}

static void documents_are_written_or_fail_whole(void **state) {
  (void)state;
  static const writer WRITERS[] = {fh_designs_write_json, fh_designs_write_csv, picture};
  scene_text t = scene_read(SCENE);
  fh_designs *ds = designs_of(&t);
  for (int i = 0; i < 3; i++) {
    fh_test_text text = {0};
    assert_status(WRITERS[i](t.scene, ds, (fh_out){fh_test_collect, &text}), FH_OK);
    fh_test_text full = {.limit = text.count / 2};
    assert_status(WRITERS[i](t.scene, ds, (fh_out){fh_test_collect, &full}), FH_ERR_WRITE);
    free(full.bytes);
    free(text.bytes);
    assert_status(WRITERS[i](NULL, ds, (fh_out){fh_test_collect, &text}), FH_ERR_ARG);
    assert_status(WRITERS[i](t.scene, NULL, (fh_out){fh_test_collect, &text}), FH_ERR_ARG);
    assert_status(WRITERS[i](t.scene, ds, (fh_out){NULL, NULL}), FH_ERR_ARG);
  }
  fh_designs_destroy(ds);
  scene_done(&t);
}

// What a knot holds and how far it ploughs is wide where the scene is silent; what it says stands.
static void knots_of_a_design_are_as_the_scene_says(void **state) {
  (void)state;
  scene_text t = scene_read(SCENE "  knots: {first_m: 3, apart_m: 1, count: 3, catch_N: 900}\n");
  scene_text silent = scene_read(SCENE);
  fh_designs *said = designs_of(&t);
  fh_designs *wide = designs_of(&silent);
  assert_int_equal(said->count, wide->count);
  bool differ = false;
  for (int i = 0; i < said->count; i++) {
    const fh_team_chance *a = &said->designs[i].chance, *b = &wide->designs[i].chance;
    bool same = a->arrested == b->arrested && fabs(a->margin.likely - b->margin.likely) < 1e-12;
    assert_true(said->designs[i].knots > 0 || same);
    differ = differ || !same;
  }
  assert_true(differ);
  fh_designs_destroy(said);
  fh_designs_destroy(wide);
  scene_done(&t);
  scene_done(&silent);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(rows_hold_each_design_once),
      cmocka_unit_test(json_holds_each_design_once_and_reads_back),
      cmocka_unit_test(what_was_not_run_has_no_share),
      cmocka_unit_test(the_picture_marks_every_design_and_rings_the_best),
      cmocka_unit_test(documents_are_written_or_fail_whole),
      cmocka_unit_test(knots_of_a_design_are_as_the_scene_says),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
