// SPDX-License-Identifier: MIT
// The section: every force stands in it and none for two strands, what has no room is said in words, nothing lies on anything else.
#include "fh_test.h"

#include "draw_case.h"

static void sections_are_clear_and_say_every_force(void **state) {
  (void)state;
  for (int i = 0; i < DRAW_SCENE_COUNT; i++) {
    for (int u = 0; u < 2; u++) {
      figure_case c;
      open_case(&c, DRAW_SCENES[i]);
      fh_test_text text = {0};
      assert_status(section(&c, u == 0 ? FH_METRIC : FH_IMPERIAL, (fh_out){fh_test_collect, &text}), FH_OK);
      svg_page page = look(c.d.name, &text);
      for (int s = 0; s < c.check->strand_count; s++) {
        if (c.check->strands[s].carries && c.check->outcome == FH_OUTCOME_SOLVED) {
          char force[FHI_WORD];
          fhi_show_force(force, sizeof force, c.check->strands[s].tension[FH_RAISE], u == 0 ? FH_METRIC : FH_IMPERIAL, FH_ENGLISH);
          *strchr(force, ' ') = '\0';  // a number on a short strand goes without its unit
          if (!is_large_somewhere(&page, force)) {
            fail_msg("%s: strand %d, %s is not in the figure", c.d.name, s, force);
          }
        }
      }
      svg_free(&page);
      free(text.bytes);
      close_case(&c);
    }
  }
}

// On a small screen the drawing stands alone, narrower: its letters are as large as ever, no force is left out, nothing on anything.
static void narrow_sections_are_clear_and_say_every_force(void **state) {
  (void)state;
  for (int i = 0; i < DRAW_SCENE_COUNT; i++) {
    for (int l = 0; l < FH_LANGUAGES; l++) {
      figure_case c;
      open_case(&c, DRAW_SCENES[i]);
      c.d.scene->language = (fh_language)l;
      fh_test_text text = {0};
      assert_status(fhi_draw_section_moved(c.d.scene, c.d.gear, &c.d.scene->rig, c.check, c.check, 224.0, false, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
      assert_null(svg_fault(text.bytes));
      svg_page page;
      svg_read(text.bytes, &page);
      assert_near(page.width, 224.0, 0.0);
      assert_true(page.height < 560.0);
      for (int k = FH_BODY_STATION; k < c.check->body_count; k++) {
        // Every body on the ground that is drawn has its flag: name and distance.
        char flag[FHI_WORD];
        double at = c.check->bodies[k].at;
        fhi_show_length(flag, sizeof flag, at, FH_METRIC);
        char *point = strchr(flag, '.');
        if (point != NULL && l != FH_ENGLISH) {
          *point = ',';
        }
        if (at >= 0.0 && at < 4.0 && svg_count(&page, flag) == 0) {
          fail_msg("%s: body %d, %s has no flag", c.d.name, k, flag);
        }
      }
      assert_true(svg_is_clear(&page, c.d.name));
      assert_int_equal(svg_crossed_texts(text.bytes, &page, c.d.name), 0);
      for (int k = 0; k < page.count; k++) {
        assert_true(page.texts[k].size >= 7.0);
      }
      for (int s = 0; s < c.check->strand_count; s++) {
        char force[FHI_WORD];
        if (c.check->strands[s].carries && c.check->outcome == FH_OUTCOME_SOLVED) {
          fhi_show_force(force, sizeof force, c.check->strands[s].tension[FH_RAISE], FH_METRIC, (fh_language)l);
          *strchr(force, ' ') = '\0';
          if (!is_large_somewhere(&page, force)) {
            fail_msg("%s: strand %d, %s is not in the figure", c.d.name, s, force);
          }
        }
      }
      svg_free(&page);
      free(text.bytes);
      close_case(&c);
    }
  }
}

// As many texts with a number of newtons as there are strands that carry: no force stands for two strands.
static void each_strand_has_a_force_of_its_own(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_eighteen);
  int carrying = 0;
  for (int s = 0; s < c.check->strand_count; s++) {
    fh_strand *st = &c.check->strands[s];
    if (st->carries) {
      st->tension[FH_RAISE] = (fh_band){1001.0 + s, 1001.0 + s, 1001.0 + s};
      carrying++;
    }
  }
  assert_int_equal(carrying, 10);
  fh_test_text text = {0};
  // Exact values go to three figures; these four-figure ones would fall together, so each is set apart.
  for (int s = 0; s < c.check->strand_count; s++) {
    fh_strand *st = &c.check->strands[s];
    if (st->carries) {
      st->tension[FH_RAISE] = (fh_band){210.0 + 10.0 * s, 215.0 + 10.0 * s, 220.0 + 10.0 * s};
    }
  }
  c.check->hand_force = (fh_band){910.0, 915.0, 920.0};
  c.check->strands[c.check->strand_count - 1].tension[FH_RAISE] = c.check->hand_force;
  assert_status(section(&c, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page = look("eighteen", &text);
  for (int s = 0; s < c.check->strand_count; s++) {
    if (c.check->strands[s].carries) {
      char force[FHI_WORD];
      fhi_show_force(force, sizeof force, c.check->strands[s].tension[FH_RAISE], FH_METRIC, FH_ENGLISH);
      *strchr(force, ' ') = '\0';
      bool hand = s == c.check->strand_count - 1;
      assert_int_equal(svg_count(&page, force), hand ? 2 : 1);  // the pull stands among the results as well
    }
  }
  svg_free(&page);
  free(text.bytes);
  close_case(&c);
}

static void a_rig_that_does_not_work_shows_no_force(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_locked);
  assert_int_equal(c.check->outcome, FH_OUTCOME_INFEASIBLE);
  fh_test_text text = {0};
  assert_status(section(&c, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page = look("locked", &text);
  for (char digit = '0'; digit <= '9'; digit++) {
    const char newtons[] = {digit, ' ', 'N', '\0'};
    assert_int_equal(svg_count(&page, newtons), 0);
  }
  assert_true(svg_count(&page, "Does not work") == 1);
  svg_free(&page);
  free(text.bytes);
  close_case(&c);
}

// Sixteen strands in a shallow hole: more forces than lines beside the wall.
static void crowded(draw_scene *d) {
  draw_start(d, "crowded", "A crowded hole");
  d->scene->depth = fh_number_exact(2.0);
  rope(d, "main");
  tie(d, "load");
  edge(d);
  for (int i = 0; i < 8; i++) {
    run(d, "station", "pulley", 0.9, 0.9);
    if (i < 7) {
      edge(d);
      run(d, "load", "pulley", 0.9, 0.9);
      edge(d);
    }
  }
  hand(d, FH_TOWARD_LIP, 0.0);
}

static void a_force_without_room_is_said_in_words(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, crowded);
  assert_int_equal(c.check->outcome, FH_OUTCOME_SOLVED);
  int carrying = 0;
  for (int s = 0; s < c.check->strand_count; s++) {
    c.check->strands[s].tension[FH_RAISE] = (fh_band){210.0 + 10.0 * s, 215.0 + 10.0 * s, 220.0 + 10.0 * s};
    carrying += c.check->strands[s].carries ? 1 : 0;
  }
  assert_true(carrying > 25);
  fh_test_text text = {0};
  assert_status(section(&c, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page = look("crowded", &text);
  assert_true(svg_count(&page, "Rope main, load to lip: ") + svg_count(&page, "Rope main, lip to load: ") >= 1);
  for (int s = 0; s < c.check->strand_count; s++) {
    char force[FHI_WORD];
    fhi_show_force(force, sizeof force, c.check->strands[s].tension[FH_RAISE], FH_METRIC, FH_ENGLISH);
    *strchr(force, ' ') = '\0';
    assert_true(is_large_somewhere(&page, force));
  }
  svg_free(&page);
  free(text.bytes);
  close_case(&c);
}

static void warnings_of_the_check_stand_in_the_section(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_direct);
  fh_test_text text = {0};
  assert_status(section(&c, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page = look("direct", &text);
  assert_true(svg_count(&page, "no capture") == 1);
  assert_true(svg_count(&page, "This crew: no") == 1);
  svg_free(&page);
  free(text.bytes);
  close_case(&c);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(sections_are_clear_and_say_every_force),
      cmocka_unit_test(narrow_sections_are_clear_and_say_every_force),
      cmocka_unit_test(each_strand_has_a_force_of_its_own),
      cmocka_unit_test(a_rig_that_does_not_work_shows_no_force),
      cmocka_unit_test(a_force_without_room_is_said_in_words),
      cmocka_unit_test(warnings_of_the_check_stand_in_the_section),
  };
  return cmocka_run_group_tests_name("draw_section", tests, NULL, NULL);
}
