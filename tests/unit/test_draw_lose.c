// SPDX-License-Identifier: MIT
// The matrix of what lets go: text in every cell, darker with the drop, nothing drawn over anything, steps on one thing named.
#define _POSIX_C_SOURCE 200809L  // glob
#include "fh_test.h"

#include <glob.h>

#include "draw_svg.h"
#include "firnhaul_rescue.h"
#include "memory.h"
#include "scene_text.h"

enum { STAGES = 3, ELEMENTS = 3 };

// Invented: three steps, three elements; the middle step hangs on one thing, the last is on the surface.
typedef struct small_case {
  fh_scene *scene;
  fh_stages stages;
  fh_stage stage[STAGES];
  fh_element elements[ELEMENTS];
  fh_loss losses[STAGES * ELEMENTS];
  fh_lose lose;
} small_case;

static void open_small(small_case *c) {
  memset(c, 0, sizeof *c);
  c->scene = calloc(1, sizeof *c->scene);
  assert_non_null(c->scene);
  for (int s = 0; s < STAGES; s++) {
    c->stage[s] = (fh_stage){.step = s + 1, .depth = 2.0 - s, .holds = s == 0 ? 2 : s == 1 ? 1 : 0};
    (void)snprintf(c->stage[s].name, sizeof c->stage[s].name, "step %c", 'a' + s);
    (void)snprintf(c->stage[s].hold[0], FH_ELEMENT, "the capture");
    (void)snprintf(c->stage[s].hold[1], FH_ELEMENT, "the backup");
  }
  for (int e = 0; e < ELEMENTS; e++) {
    (void)snprintf(c->elements[e].name, FH_ELEMENT, "element %c", 'p' + e);
  }
  c->losses[0] = (fh_loss){.there = true, .bears = true, .caught = true, .drop = 0.31};
  c->losses[1] = (fh_loss){.there = true, .bears = true, .caught = true, .drop = 1.0, .bite = 0.2, .over_count = 1};
  c->losses[2] = (fh_loss){.there = true};
  c->losses[3] = (fh_loss){.there = true, .bears = true, .drop = (double)INFINITY};
  c->losses[4] = (fh_loss){.there = true, .bears = true, .caught = true, .drop = 27.0};
  c->stages = (fh_stages){.stages = c->stage, .count = STAGES};
  c->lose = (fh_lose){.stages = &c->stages, .elements = c->elements, .element_count = ELEMENTS, .losses = c->losses};
}

static char *draw(const fh_scene *scene, const fh_lose *lose, fh_units units) {
  fh_test_text text = {0};
  assert_status(fh_draw_lose(scene, lose, units, (fh_out){fh_test_collect, &text}), FH_OK);
  return text.bytes;
}

static void look(const char *name, const char *svg) {
  svg_page page;
  assert_null(svg_fault(svg));
  svg_read(svg, &page);
  assert_true(page.width >= 298.0);
  assert_true(svg_is_clear(&page, name));
  assert_int_equal(svg_count(&page, "Training aid."), 1);
  svg_free(&page);
}

static void cells_say_the_drop_rounded_up_the_loss_and_the_limit(void **state) {
  (void)state;
  small_case c;
  open_small(&c);
  char *svg = draw(c.scene, &c.lose, FH_METRIC);
  assert_non_null(strstr(svg, ">0.4<"));   // 0.31 m
  assert_non_null(strstr(svg, ">1.2!<"));  // 1.0 m and 0.2 m until it bites, over a limit
  assert_non_null(strstr(svg, ">27<"));
  assert_non_null(strstr(svg, ">lost<"));
  look("small", svg);
  free(svg);
  svg = draw(c.scene, &c.lose, FH_IMPERIAL);
  assert_non_null(strstr(svg, ">1.1<"));  // 0.31 m are 1.017 ft
  assert_non_null(strstr(svg, ">89<"));   // 27 m are 88.6 ft
  free(svg);
  free(c.scene);
}

static void an_element_with_which_nothing_falls_is_named_below(void **state) {
  (void)state;
  small_case c;
  open_small(&c);
  char *svg = draw(c.scene, &c.lose, FH_METRIC);
  assert_non_null(strstr(svg, "Nothing falls at any step when one of these lets go: element r"));
  assert_non_null(strstr(svg, "data-element=\"1\""));
  assert_null(strstr(svg, "data-element=\"2\""));
  free(svg);
  free(c.scene);
}

static void steps_on_one_thing_are_named_and_those_on_the_surface_are_not(void **state) {
  (void)state;
  small_case c;
  open_small(&c);
  char *svg = draw(c.scene, &c.lose, FH_METRIC);
  assert_non_null(strstr(svg, "2  step b: hangs on one thing alone, the capture"));
  assert_non_null(strstr(svg, "1  step a: the capture; the backup"));
  assert_non_null(strstr(svg, "3  step c: on the surface"));
  free(svg);
  free(c.scene);
}

// Relative luminance of a grey-blue ground falls with the drop: readable in black and white (WCAG 2.1's definition).
static double luminance(const char *svg, const char *text) {
  const char *at = strstr(svg, text);
  assert_non_null(at);
  const char *rect = at;
  while (rect > svg && strncmp(rect, "<rect", 5) != 0) {
    rect--;
  }
  const char *fill = strstr(rect, "fill=\"#");
  assert_non_null(fill);
  unsigned rgb = (unsigned)strtoul(fill + 7, NULL, 16);
  double sum = 0.0;
  const double share[] = {0.2126, 0.7152, 0.0722};
  for (int i = 0; i < 3; i++) {
    double v = (double)(rgb >> (16 - 8 * i) & 0xFFu) / 255.0;
    sum += share[i] * (v <= 0.03928 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4));
  }
  return sum;
}

static void cells_are_the_darker_the_farther_and_words_stay_readable(void **state) {
  (void)state;
  small_case c;
  open_small(&c);
  char *svg = draw(c.scene, &c.lose, FH_METRIC);
  double near = luminance(svg, ">0.4<");
  double mid = luminance(svg, ">1.2!<");
  double far = luminance(svg, ">27<");
  double lost = luminance(svg, ">lost<");
  assert_true(near > mid && mid > far && far > lost);
  double ink = 0.0127;  // #16202a
  assert_true((far + 0.05) / (ink + 0.05) > 4.5);   // ink on the darkest ground, WCAG 2.1, 1.4.3
  assert_true((1.0 + 0.05) / (lost + 0.05) > 4.5);  // white on ink
  free(svg);
  free(c.scene);
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
    fh_lose *lose = NULL;
    assert_status(fh_gear_create(&t.gear), FH_OK);
    assert_status(cli_yaml_read(found.gl_pathv[k], &doc, &diag), FH_OK);
    assert_status(fh_scene_create(doc, t.gear, &t.scene, &diag), FH_OK);
    if (!t.scene->has_rig) {  // a team on its feet
      fh_doc_destroy(doc);
      scene_done(&t);
      continue;
    }
    assert_status(fh_lose_create(t.scene, t.gear, &t.scene->rig, NULL, &lose), FH_OK);
    char *svg = draw(t.scene, lose, k % 2 == 0 ? FH_METRIC : FH_IMPERIAL);
    look(found.gl_pathv[k], svg);
    free(svg);
    seen++;
    fh_lose_destroy(lose);
    fh_doc_destroy(doc);
    scene_done(&t);
  }
  globfree(&found);
  assert_true(seen >= 18);
}

static void no_answer_says_why(void **state) {
  (void)state;
  small_case c;
  open_small(&c);
  c.lose.element_count = 0;
  (void)snprintf(c.lose.why, sizeof c.lose.why, "the rig is locked");
  char *svg = draw(c.scene, &c.lose, FH_METRIC);
  assert_non_null(strstr(svg, "No answer: the rig is locked"));
  free(svg);
  free(c.scene);
}

static void missing_arguments_refused_writes_and_no_memory_are_said(void **state) {
  (void)state;
  small_case c;
  open_small(&c);
  fh_test_text text = {.limit = 100};
  fh_out out = {fh_test_collect, &text};
  assert_status(fh_draw_lose(NULL, &c.lose, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_lose(c.scene, NULL, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_lose(c.scene, &c.lose, FH_METRIC, out), FH_ERR_WRITE);
  for (long n = 1; n <= 2; n++) {
    fhi_fault_after(n);
    assert_status(fh_draw_lose(c.scene, &c.lose, FH_METRIC, out), FH_ERR_MEMORY);
  }
  fhi_fault_after(0);
  free(text.bytes);
  free(c.scene);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(cells_say_the_drop_rounded_up_the_loss_and_the_limit),
      cmocka_unit_test(an_element_with_which_nothing_falls_is_named_below),
      cmocka_unit_test(steps_on_one_thing_are_named_and_those_on_the_surface_are_not),
      cmocka_unit_test(cells_are_the_darker_the_farther_and_words_stay_readable),
      cmocka_unit_test(every_example_is_clear),
      cmocka_unit_test(no_answer_says_why),
      cmocka_unit_test(missing_arguments_refused_writes_and_no_memory_are_said),
  };
  return cmocka_run_group_tests_name("draw_lose", tests, NULL, NULL);
}
