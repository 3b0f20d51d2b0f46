// SPDX-License-Identifier: MIT
// The build sheet's steps: none is missing, none is told twice, each shows what is new in it.
#include "fh_test.h"

#include "sheet_case.h"
#include "words.h"

// Reads "Step 7: ..." and "Steps 12 to 20: ..." in the order in which they stand. @return the last number
static int count_through(const char *text) {
  int last = 0;
  for (const char *at = text; at != NULL; at = strchr(at, '\n'), at = at != NULL ? at + 1 : NULL) {
    int from = 0;
    int to = 0;
    if (sscanf(at, "Steps %d to %d:", &from, &to) == 2) {
      assert_int_equal(from, last + 1);
      assert_true(to > from);
      last = to;
    } else if (sscanf(at, "Step %d:", &from) == 1) {
      assert_int_equal(from, last + 1);
      last = from;
    }
  }
  return last;
}

static void look_for_steps(const char *path) {
  sheet_case c;
  open_file(&c, path, FH_PAPER_A6, FH_METRIC);
  if (!fh_sheet_refused(c.sheet)) {
    char *text = text_of(c.sheet);
    const fh_stages *stages = fh_sheet_stages(c.sheet);
    assert_true(stages->count >= 8);
    assert_int_equal(count_through(text), stages->stages[stages->count - 1].step);
    free(text);
  }
  close_sheet(&c);
}

static void steps_are_told_in_order_and_none_is_missing(void **state) {
  (void)state;
  for_every_example(look_for_steps);
}

// Every piece that the rig is made of is named on the sheet, in a step that puts it in place.
static void look_for_pieces(const char *path) {
  sheet_case c;
  open_file(&c, path, FH_PAPER_A6, FH_METRIC);
  const fh_rig *rig = &c.t.scene->rig;
  char *text = fh_sheet_refused(c.sheet) ? NULL : text_of(c.sheet);
  for (int i = 0; text != NULL && i < rig->station_count; i++) {
    if (rig->stations[i].kind == FH_RUN) {
      assert_non_null(strstr(text, fhi_item_said(c.t.scene->language, c.t.gear, rig->stations[i].item)));
      assert_non_null(strstr(text, rig->bodies[rig->stations[i].body]));
    }
  }
  for (int g = 0; text != NULL && g < rig->grip_count; g++) {
    assert_non_null(strstr(text, fhi_item_said(c.t.scene->language, c.t.gear, rig->grips[g].item)));
  }
  free(text);
  close_sheet(&c);
}

static void every_piece_of_every_example_is_named(void **state) {
  (void)state;
  for_every_example(look_for_pieces);
}

// Whoever lost the thread finds the rope's whole way at the first pull.
static void the_way_of_the_rope_is_told_to_its_end(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  char *text = text_of(c.sheet);
  assert_non_null(strstr(text, "Now: main runs: knot on load \xE2\x80\x93 lip \xE2\x80\x93 knot on anchor \xE2\x80\x93 lip \xE2\x80\x93 pulley on load "
                               "\xE2\x80\x93 lip \xE2\x80\x93 toothed capture on station \xE2\x80\x93 pulley on tractor \xE2\x80\x93 hand "
                               "(station: pulleys at the anchor; tractor: moving pulley)"));
  assert_non_null(strstr(text, "[ ] a cord for the friction hitch that takes the load off the harness and holds it while you build"));
  free(text);
  close_sheet(&c);
}

// A step that puts something in place has a figure, and every stage's list of checks and holds is there word for word.
static void each_step_has_figures_checks_and_what_holds_the_load(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  const fh_stages *stages = fh_sheet_stages(c.sheet);
  int steps = 0;
  for (int b = 0; b < c.sheet->count; b++) {
    const fhi_sheet_block *block = &c.sheet->blocks[b];
    if (block->step == 0) {
      continue;
    }
    const fh_stage *stage = &stages->stages[block->step - 1];
    assert_int_equal(stage->step, block->step);
    steps++;
    if (stage->kind == FH_STAGE_AWAY) {
      continue;
    }
    assert_non_null(block->side.text);
    assert_non_null(block->wide.text);
    assert_true(block->side.width > 50.0 && block->wide.width > 250.0);
    bool does = false;
    bool holds = false;
    int ticks = 0;
    for (int i = 0; i < block->count; i++) {
      does = does || strcmp(block->words[i].text, stage->text) == 0;
      holds = holds || (stage->held[0] != '\0' && strstr(block->words[i].text, stage->held) != NULL);
      ticks += block->words[i].voice == FHI_VOICE_ITEM ? 1 : 0;
    }
    assert_true(does && holds && ticks >= 2);
  }
  assert_true(steps >= 11);
  close_sheet(&c);
}

static char *figure_text(const fhi_sheet_figure *figure) {
  char *text = calloc(figure->used + 1, 1);
  assert_non_null(text);
  if (figure->used > 0) {
    memcpy(text, figure->text, figure->used);
  }
  return text;
}

// In the finished rig's figure of hauling the pull stands as check has it.
static void the_figure_of_hauling_shows_the_forces(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  fh_check *check = NULL;
  fh_check_opts opts = fh_check_opts_default();
  assert_status(fh_check_create(c.t.scene, c.t.gear, &c.t.scene->rig, &opts, &check), FH_OK);
  char force[FHI_WORD];
  char pull[FHI_WORD + 8];
  (void)snprintf(pull, sizeof pull, "pull %s", fhi_show_force(force, sizeof force, check->hand_force, FH_METRIC, FH_ENGLISH));
  int shown = 0;
  int printed = 0;
  for (int b = 0; b < c.sheet->count; b++) {
    char *wide = figure_text(&c.sheet->blocks[b].wide);
    shown += strstr(wide, pull) != NULL ? 1 : 0;
    printed += strstr(wide, pull) != NULL && c.sheet->blocks[b].show_wide ? 1 : 0;
    free(wide);
  }
  assert_int_equal(shown, 2);  // on the card, and in the step of hauling
  assert_int_equal(printed, 1);
  fh_check_destroy(check);
  close_sheet(&c);
}

// What is new is ringed in its step: on the surface, or at the load.
static void the_new_piece_is_ringed(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  const fh_stages *stages = fh_sheet_stages(c.sheet);
  int ringed = 0;
  for (int b = 0; b < c.sheet->count; b++) {
    const fhi_sheet_block *block = &c.sheet->blocks[b];
    if (block->step == 0 || block->wide.text == NULL) {
      continue;
    }
    const fh_stage *stage = &stages->stages[block->step - 1];
    bool fresh = stage->station >= 0 || stage->grip >= 0;
    char *wide = figure_text(&block->wide);
    char *side = figure_text(&block->side);
    bool ring = strstr(wide, "stroke=\"" FHI_WARN "\"") != NULL || strstr(side, "stroke=\"" FHI_WARN "\"") != NULL;
    assert_int_equal(ring, fresh);
    ringed += ring ? 1 : 0;
    free(wide);
    free(side);
  }
  assert_int_equal(ringed, 4);  // carabiner or pulley on the load, capture, hitch, pulley
  close_sheet(&c);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(steps_are_told_in_order_and_none_is_missing),
      cmocka_unit_test(every_piece_of_every_example_is_named),
      cmocka_unit_test(the_way_of_the_rope_is_told_to_its_end),
      cmocka_unit_test(each_step_has_figures_checks_and_what_holds_the_load),
      cmocka_unit_test(the_figure_of_hauling_shows_the_forces),
      cmocka_unit_test(the_new_piece_is_ringed),
  };
  return cmocka_run_group_tests_name("sheet_steps", tests, NULL, NULL);
}
