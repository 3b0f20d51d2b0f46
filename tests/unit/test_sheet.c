// SPDX-License-Identifier: MIT
// The build sheet: an unsafe rig gets none, a scene's words do no harm, and no failure leaves half of it.
#include "fh_test.h"

#include "draw_svg.h"
#include "firnhaul_rescue.h"
#include "memory.h"
#include "sheet_case.h"

static void assert_no_sheet(const char *yaml, const char *word) {
  sheet_case c;
  open_yaml(&c, yaml);
  fh_test_text text = {0};
  fh_out out = {fh_test_collect, &text};
  assert_true(fh_sheet_refused(c.sheet));
  assert_int_equal(fh_sheet_page_count(c.sheet), 0);
  assert_status(fh_sheet_write_page(c.sheet, 0, out), FH_ERR_ARG);
  assert_status(fh_sheet_write_html(c.sheet, out), FH_ERR_ARG);
  assert_status(fh_sheet_write_text(c.sheet, out), FH_ERR_ARG);
  assert_null(text.bytes);
  const fh_stages *stages = fh_sheet_stages(c.sheet);
  bool said = false;
  for (int i = 0; i < stages->finding_count; i++) {
    said = said || (stages->findings[i].level == FH_NOTE_NO && stages->findings[i].step > 0 && strstr(stages->findings[i].text, word) != NULL);
  }
  if (!said) {
    fail_msg("no finding with a step says \"%s\"", word);
  }
  close_sheet(&c);
}

static void an_unsafe_rig_gets_no_sheet_and_the_step_is_named(void **state) {
  (void)state;
  sheet_case sound;
  open_yaml(&sound, THREE("{run: station, on: toothed-capture}"));
  assert_false(fh_sheet_refused(sound.sheet));
  close_sheet(&sound);
  assert_no_sheet(THREE("{run: station, on: pulley}"), "no capture");
  assert_no_sheet(THREE("{run: station, on: toothed-capture, reversed: true}"), "wrong way round");
}

static void a_grip_nearer_to_the_edge_than_safe_gets_no_sheet(void **state) {
  (void)state;
  sheet_case c;
  open_yaml(&c, THREE("{run: station, on: toothed-capture}"));
  c.t.scene->rig.grips[0].at = 0.2;
  fh_sheet *sheet = NULL;
  assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &sheet), FH_OK);
  assert_true(fh_sheet_refused(sheet));
  fh_sheet_destroy(sheet);
  close_sheet(&c);
}

static void missing_arguments_are_refused(void **state) {
  (void)state;
  sheet_case c;
  open_yaml(&c, THREE("{run: station, on: toothed-capture}"));
  fh_sheet *none = NULL;
  fh_test_text text = {0};
  fh_out out = {fh_test_collect, &text};
  assert_status(fh_sheet_create(NULL, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &none), FH_ERR_ARG);
  assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, (fh_paper)7, FH_METRIC, &none), FH_ERR_ARG);
  assert_status(fh_sheet_write_page(c.sheet, -1, out), FH_ERR_ARG);
  assert_status(fh_sheet_write_page(c.sheet, fh_sheet_page_count(c.sheet), out), FH_ERR_ARG);
  assert_status(fh_sheet_write_page(NULL, 0, out), FH_ERR_ARG);
  assert_null(none);
  assert_null(text.bytes);
  fh_sheet_destroy(NULL);
  close_sheet(&c);
}

static void hostile_words_of_a_scene_are_harmless(void **state) {
  (void)state;
  sheet_case c;
  c = (sheet_case){.t = scene_read(THREE("{run: station, on: toothed-capture}"))};
  (void)snprintf(c.t.scene->title, sizeof c.t.scene->title, "<script>alert(1)</script> \xE2\x80\xAE & ]]> \x1b[31m");
  (void)snprintf(c.t.scene->rig.bodies[3], FH_NAME, "<b>&\xE2\x80\xAE");
  assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &c.sheet), FH_OK);
  assert_false(fh_sheet_refused(c.sheet));
  char *html = html_of(c.sheet);
  assert_null(strstr(html, "<script"));
  assert_null(strstr(html, "<b>&"));
  assert_null(strstr(html, "\xE2\x80\xAE"));
  assert_null(strchr(html, 0x1b));
  free(html);
  for (int i = 0; i < fh_sheet_page_count(c.sheet); i++) {
    char *svg = page_of(c.sheet, i);
    assert_null(svg_fault(svg));
    assert_null(strstr(svg, "<script"));
    assert_null(strstr(svg, "\xE2\x80\xAE"));
    free(svg);
  }
  close_sheet(&c);
}

// ---------------------------------------------------------------------------------------------------- memory and writing

// Where no rig can be built paper has nothing else to say what it is about; a third of the crew's pull is what check has.
#define NO_RIG "firnhaul: 1\nload: {mass_kg: [70, 90], responds: silent}\nslot: {depth_m: [7, 9]}\nlip: {surface: padded, wall: overhangs}\nground: {}\n" \
  "crew: [{name: a}, {name: b}]\nropes: [{name: our-rope, length_m: 40}]\nkit: [{item: carabiner, count: 3}, {item: toothed-capture}]\n"
static bool says(const fh_sheet *sheet, const char *what) {
  bool found = false;
  for (int b = 0; b < sheet->count; b++) {
    for (int i = 0; i < sheet->blocks[b].count; i++) {
      found = found || strstr(sheet->blocks[b].words[i].text, what) != NULL || strstr(sheet->blocks[b].words[i].lead, what) != NULL;
    }
  }
  return found;
}

static void a_sheet_without_a_rig_has_the_scene(void **state) {
  (void)state;
  scene_text t = scene_read(NO_RIG);
  for (int units = FH_METRIC; units <= FH_IMPERIAL; units++) {
    fh_sheet *sheet = NULL;
    assert_status(fhi_sheet_create_care(t.scene, t.gear, (fh_units)units, &sheet), FH_OK);
    char all[2000] = "";
    for (int i = 0; i < sheet->blocks[0].count; i++) {
      size_t used = strlen(all);
      (void)snprintf(all + used, sizeof all - used, "%s: %s\n", sheet->blocks[0].words[i].lead, sheet->blocks[0].words[i].text);
    }
    char force[FHI_WORD];
    const fh_pull pull = fh_crew_pull(t.scene, t.gear);
    assert_non_null(strstr(all, fhi_show_likely(force, sizeof force, pull.force, (fh_units)units, FH_ENGLISH)));
    assert_non_null(strstr(all, fhi_show_likely(force, sizeof force, pull.sustained, (fh_units)units, FH_ENGLISH)));
    assert_non_null(strstr(all, units == FH_METRIC ? "Load: 70\xE2\x80\x93" "90 kg, 7\xE2\x80\x93" "9 m down; does not help; does not answer\n" : "154\xE2\x80\x93" "198 lb, 23\xE2\x80\x93" "29.5 ft down"));
    assert_non_null(strstr(all, "Lip (padded): turn 80"));
    assert_non_null(strstr(all, "The edge hangs over."));
    assert_non_null(strstr(all, "2 haul."));
    assert_non_null(strstr(all, units == FH_METRIC ? "Ropes: our-rope 40 m\n" : "Ropes: our-rope 131.2 ft\n"));
    assert_non_null(strstr(all, "In the bags: 3 x carabiner, 1 x toothed capture\n"));
    assert_false(says(sheet, "Climb out"));
    assert_false(says(sheet, "Talk"));
    assert_false(says(sheet, "Legs:"));
    assert_false(says(sheet, "call down"));
    assert_true(says(sheet, "airway, call for rescue."));
    assert_true(says(sheet, "They do not answer: go to them, airway first."));
    assert_true(sheet->count > 3);  // and what was there before: when not to raise, other ways out, the person
    fh_sheet_destroy(sheet);
  }
  for (long n = 1; n < 4; n++) {
    fh_sheet *sheet = NULL;
    fhi_fault_after(n);
    fh_status status = fhi_sheet_create_care(t.scene, t.gear, FH_METRIC, &sheet);
    fhi_fault_after(0);
    assert_true(status == FH_ERR_MEMORY || (status == FH_OK && n > 2));
    fh_sheet_destroy(sheet);
  }
  scene_done(&t);
}

static void every_allocation_may_fail(void **state) {
  (void)state;
  sheet_case c;
  open_yaml(&c, THREE("{run: station, on: toothed-capture}"));
  fhi_fault_after(0);
  fh_sheet *sheet = NULL;
  assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &sheet), FH_OK);
  long all = fhi_fault_count();
  fh_sheet_destroy(sheet);
  assert_true(all > 50);
  // Every one of the first and the last hundred, and some between: the same few calls come again with every step.
  for (long n = 1; n <= all; n += n < 100 || n > all - 100 ? 1 : 7) {
    sheet = NULL;
    fhi_fault_after(n);
    fh_status status = fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &sheet);
    fhi_fault_after(0);
    assert_status(status, FH_ERR_MEMORY);
    assert_null(sheet);
  }
  for (long n = 1; n < 40; n++) {
    fh_test_text text = {0};
    fhi_fault_after(n);
    fh_status status = fh_sheet_write_page(c.sheet, 3, (fh_out){fh_test_collect, &text});
    fhi_fault_after(0);
    free(text.bytes);
    if (status == FH_OK) {
      assert_true(n > 3);
      break;
    }
    assert_status(status, FH_ERR_MEMORY);
  }
  close_sheet(&c);
}

static void a_refused_write_is_reported(void **state) {
  (void)state;
  sheet_case c;
  open_yaml(&c, THREE("{run: station, on: toothed-capture}"));
  for (size_t limit = 1; limit < 3000; limit += 700) {
    fh_test_text text = {.limit = limit};
    assert_status(fh_sheet_write_page(c.sheet, 5, (fh_out){fh_test_collect, &text}), FH_ERR_WRITE);
    free(text.bytes);
    text = (fh_test_text){.limit = limit};
    assert_status(fh_sheet_write_html(c.sheet, (fh_out){fh_test_collect, &text}), FH_ERR_WRITE);
    free(text.bytes);
  }
  close_sheet(&c);
}

static void the_same_scene_gives_the_same_bytes(void **state) {
  (void)state;
  char *pages[2];
  for (int i = 0; i < 2; i++) {
    sheet_case c;
    open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A4, FH_METRIC);
    pages[i] = page_of(c.sheet, 1);
    close_sheet(&c);
  }
  assert_string_equal(pages[0], pages[1]);
  free(pages[0]);
  free(pages[1]);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(an_unsafe_rig_gets_no_sheet_and_the_step_is_named),
      cmocka_unit_test(a_grip_nearer_to_the_edge_than_safe_gets_no_sheet),
      cmocka_unit_test(missing_arguments_are_refused),
      cmocka_unit_test(hostile_words_of_a_scene_are_harmless),
      cmocka_unit_test(a_sheet_without_a_rig_has_the_scene),
      cmocka_unit_test(every_allocation_may_fail),
      cmocka_unit_test(a_refused_write_is_reported),
      cmocka_unit_test(the_same_scene_gives_the_same_bytes),
  };
  return cmocka_run_group_tests_name("sheet", tests, NULL, NULL);
}
