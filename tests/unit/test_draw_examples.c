// SPDX-License-Identifier: MIT
// Figures of rigs that nobody drew by hand for a test: those that a search finds, and those of the examples.
#include "fh_test.h"

#include <glob.h>

#include "draw_case.h"
#include "yaml.h"

// Every rig that a search finds can be drawn: the shapes are not known beforehand.
static void every_rig_that_a_search_finds_is_clear(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_three);
  static const struct {
    const char *item;
    int count;
  } KIT[] = {{"carabiner", 4}, {"pulley", 2}, {"toothed-capture", 1}, {"prusik", 2}};
  for (int i = 0; i < 4; i++) {
    fh_kit_line *line = &c.d.scene->kit[c.d.scene->kit_count++];
    *line = (fh_kit_line){.item = fh_gear_find(c.d.gear, KIT[i].item), .count = KIT[i].count, .efficiency = fh_number_unset()};
  }
  fh_rope *rope = &c.d.scene->ropes[c.d.scene->rope_count++];
  *rope = (fh_rope){.name = "main", .kind = fh_gear_find(c.d.gear, "half"), .length = fh_number_exact(60.0), .diameter = fh_number_exact(0.0085), .modulus = fh_number_unset()};
  fh_plan_opts opts = fh_plan_opts_default();
  opts.max_contacts = 3;
  opts.all = true;
  fh_plans *plans = NULL;
  assert_status(fh_plans_create(c.d.scene, c.d.gear, &opts, &plans), FH_OK);
  assert_true(plans->count > 20);
  fh_rig *rig = calloc(1, sizeof *rig);
  assert_non_null(rig);
  for (int i = 0; i < plans->count; i += 1 + plans->count / 120) {
    fh_check *check = NULL;
    fh_check_opts how = fh_check_opts_default();
    fh_test_text text = {0};
    assert_status(fh_plan_rig(c.d.scene, c.d.gear, plans, i, rig), FH_OK);
    assert_status(fh_check_create(c.d.scene, c.d.gear, rig, &how, &check), FH_OK);
    assert_status(fh_draw_section(c.d.scene, c.d.gear, rig, check, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
    svg_page page = look("found", &text);
    svg_free(&page);
    free(text.bytes);
    fh_check_destroy(check);
  }
  free(rig);
  fh_plans_destroy(plans);
  close_case(&c);
}

// As wide as a phone shows it, in every language: many blocks then stand close together.
static void look_narrow(const char *name, fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check) {
  fh_language before = scene->language;
  for (int l = 0; l < FH_LANGUAGES; l++) {
    scene->language = (fh_language)l;
    fh_test_text text = {0};
    assert_status(fhi_draw_section_moved(scene, gear, rig, check, check, 224.0, false, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
    svg_page page;
    svg_read(text.bytes, &page);
    assert_true(svg_is_clear(&page, name));
    assert_int_equal(svg_crossed_texts(text.bytes, &page, name), 0);
    svg_free(&page);
    free(text.bytes);
  }
  scene->language = before;
}

static void draw_example(const char *path, const fh_gear *gear) {
  fh_doc *doc = NULL;
  fh_scene *scene = NULL;
  fh_check *check = NULL;
  fh_diag diag;
  assert_status(cli_yaml_read(path, &doc, &diag), FH_OK);
  assert_status(fh_scene_create(doc, gear, &scene, &diag), FH_OK);
  fh_check_opts opts = fh_check_opts_default();
  if (scene->has_rig) {
    assert_status(fh_check_create(scene, gear, &scene->rig, &opts, &check), FH_OK);
    for (int i = 0; i < 4; i++) {
      fh_units units = i % 2 == 0 ? FH_METRIC : FH_IMPERIAL;
      fh_test_text text = {0};
      fh_out out = {fh_test_collect, &text};
      assert_status(i < 2 ? fh_draw_section(scene, gear, &scene->rig, check, units, out)
                          : fh_draw_plan_view(scene, gear, &scene->rig, check, i * 15.0 * RAD, units, out), FH_OK);
      svg_page page = look(path, &text);
      svg_free(&page);
      free(text.bytes);
    }
  }
  if (check != NULL) {
    look_narrow(path, scene, gear, &scene->rig, check);
  }
  fh_check_destroy(check);
  fh_scene_destroy(scene);
  fh_doc_destroy(doc);
}

// The rigs that plan finds have the most blocks, and stand by nobody's choice.
static void no_line_from_label_to_point_runs_through_letters(void **state) {
  (void)state;
  static const char *const WHERE[] = {"examples/heavy-load.yaml", "examples/two-person.yaml"};
  const char *root = getenv("FH_SOURCE");
  fh_gear *gear = NULL;
  fh_rig *rig = calloc(1, sizeof *rig);
  int drawn = 0;
  assert_status(fh_gear_create(&gear), FH_OK);
  for (size_t w = 0; w < 2; w++) {
    char path[1024];
    fh_doc *doc = NULL;
    fh_scene *scene = NULL;
    fh_plans *plans = NULL;
    fh_diag diag;
    fh_plan_opts opts = fh_plan_opts_default();
    fh_check_opts how = fh_check_opts_default();
    (void)snprintf(path, sizeof path, "%s/%s", root != NULL ? root : ".", WHERE[w]);
    assert_status(cli_yaml_read(path, &doc, &diag), FH_OK);
    assert_status(fh_scene_create(doc, gear, &scene, &diag), FH_OK);
    assert_status(fh_plans_create(scene, gear, &opts, &plans), FH_OK);
    for (int i = 0; i < plans->count; i++) {
      fh_check *check = NULL;
      assert_status(fh_plan_rig(scene, gear, plans, i, rig), FH_OK);
      assert_status(fh_check_create(scene, gear, rig, &how, &check), FH_OK);
      look_narrow(WHERE[w], scene, gear, rig, check);
      fh_check_destroy(check);
      drawn++;
    }
    fh_plans_destroy(plans);
    fh_scene_destroy(scene);
    fh_doc_destroy(doc);
  }
  assert_true(drawn > 30);
  free(rig);
  fh_gear_destroy(gear);
}

static void every_example_is_clear(void **state) {
  (void)state;
  static const char *const WHERE[] = {"examples/*.yaml", "examples/rigs/*.yaml"};
  const char *root = getenv("FH_SOURCE");
  fh_gear *gear = NULL;
  size_t seen = 0;
  assert_status(fh_gear_create(&gear), FH_OK);
  for (int w = 0; w < 2; w++) {
    char pattern[1024];
    glob_t found;
    (void)snprintf(pattern, sizeof pattern, "%s/%s", root != NULL ? root : ".", WHERE[w]);
    assert_int_equal(glob(pattern, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
      draw_example(found.gl_pathv[i], gear);
    }
    seen += found.gl_pathc;
    globfree(&found);
  }
  assert_true(seen >= 16);
  fh_gear_destroy(gear);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_rig_that_a_search_finds_is_clear),
      cmocka_unit_test(every_example_is_clear),
      cmocka_unit_test(no_line_from_label_to_point_runs_through_letters),
  };
  return cmocka_run_group_tests_name("draw_examples", tests, NULL, NULL);
}
