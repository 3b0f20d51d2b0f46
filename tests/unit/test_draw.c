// SPDX-License-Identifier: MIT
// Figures: nothing in a user's text does harm, no failure leaves half a figure, and each byte is meant. What a golden figure shows
// is checked in the other test_draw_*.c; UPDATE_GOLDEN=1 in the environment writes them anew.
#include "fh_test.h"

#include "draw_case.h"
#include "memory.h"

// ------------------------------------------------------------------------------------------------ hostile text

static const char *const HOSTILE[] = {
    "</text><script>alert(1)</script><text>",
    "\"/><image href='file:///etc/passwd'/>&amp;&lt;&#x3c;",
    "\x01\x02\x1b[31mred\x7f",
    "\xE2\x80\xAEgnp.exe \xE2\x81\xA6 hidden \xE2\x80\x8F",
    "\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D \xD7\xA2\xD7\x95\xD7\x9C\xD7\x9D \xD8\xA7\xD9\x84\xD8\xB3\xD9\x84\xD8\xA7\xD9\x85",
    "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
    "W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W",
    "\xE6\xB0\xB7\xE6\xB2\xB3\xE6\x95\x91\xE6\x8F\xB4\xE6\xB0\xB7\xE6\xB2\xB3\xE6\x95\x91\xE6\x8F\xB4\xE6\xB0\xB7\xE6\xB2\xB3\xE6\x95\x91\xE6\x8F\xB4\xE6\xB0\xB7\xE6\xB2\xB3\xE6\x95\x91\xE6\x8F\xB4",
    "Z\xCC\x80\xCC\x81\xCC\x82\xCC\x83\xCC\x84\xCC\x85\xCC\x86\xCC\x87\xCC\x88\xCC\x89\xCC\x8A\xCC\x8B tower",
    "bad \xC3 \xFF \xED\xA0\x80 \xF8\x88\x80\x80\x80 end",
    "\xF0\x9F\x8F\x94\xF0\x9F\x8F\x94\xF0\x9F\x8F\x94 \xF3\xA0\x80\x81",
    "line\nbreak\ttab\r\n",
    "   ",
    "",
};

static void set_names(figure_case *c, const char *text) {
  (void)fhi_copy(c->d.scene->title, sizeof c->d.scene->title, text);
  (void)fhi_copy(c->d.scene->rig.paths[0].name, FH_NAME, text);
  (void)fhi_copy(c->d.scene->rig.bodies[FH_BODY_FIRST_GRIP], FH_NAME, text);
}

static void assert_harmless(const char *svg) {
  assert_null(strstr(svg, "<script"));
  assert_null(strstr(svg, "<image"));
  assert_null(strstr(svg, "href"));
  assert_null(strstr(svg, "\xE2\x80\xAE"));      // right-to-left override
  assert_null(strstr(svg, "\xE2\x81\xA6"));      // isolate
  assert_null(strstr(svg, "\xE2\x80\x8F"));      // right-to-left mark
  assert_null(strstr(svg, "\xED\xA0\x80"));      // surrogate
  assert_null(strstr(svg, "\xF3\xA0\x80\x81"));  // tag
  assert_null(strchr(svg, '\xFF'));
}

static void hostile_names_are_harmless(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof HOSTILE / sizeof HOSTILE[0]; i++) {
    for (int figure = 0; figure < 3; figure++) {
      figure_case c;
      open_case(&c, scene_loop_six);
      set_names(&c, HOSTILE[i]);
      fh_test_text text = {0};
      fh_out out = {fh_test_collect, &text};
      assert_status(figure == 0 ? section(&c, FH_METRIC, out) : figure == 1 ? plan_view(&c, 35.0, FH_METRIC, out) : angle_curve(&c, out), FH_OK);
      // Attributes and text hold the bare words of a title at most.
      char *href = strstr(text.bytes, "href");
      while (href != NULL) {  // as plain text it is harmless: it must stand between tags
        const char *open = href;
        while (open > text.bytes && *open != '<' && *open != '>') {
          open--;
        }
        assert_true(*open == '>' || strncmp(open, "<svg", 4) == 0);
        memset(href, 'x', 4);
        href = strstr(text.bytes, "href");
      }
      assert_harmless(text.bytes);
      svg_page page = look(HOSTILE[i], &text);
      svg_free(&page);
      free(text.bytes);
      close_case(&c);
    }
  }
}

// ------------------------------------------------------------------------------------------------ failures

typedef fh_status (*draw_fn)(const figure_case *c, fh_out out);

static fh_status draw_section_of(const figure_case *c, fh_out out) {
  return section(c, FH_METRIC, out);
}

static fh_status draw_view_of(const figure_case *c, fh_out out) {
  return plan_view(c, 35.0, FH_METRIC, out);
}

static fh_status draw_plans_of(const figure_case *c, fh_out out) {
  static fh_plan list[14];
  fh_plans plans;
  make_plans(&plans, list, 14);
  return fh_draw_plans(c->d.scene, c->d.gear, &plans, FH_METRIC, out);
}

static const draw_fn FIGURES[] = {draw_section_of, draw_view_of, angle_curve, draw_plans_of};

static void every_allocation_may_fail(void **state) {
  (void)state;
  for (int f = 0; f < 4; f++) {
    figure_case c;
    open_case(&c, scene_loop_six);
    fh_status status = FH_ERR_MEMORY;
    long n = 1;
    for (; status != FH_OK; n++) {
      fh_test_text text = {0};
      assert_true(n < 200);
      fhi_fault_after(n);
      status = FIGURES[f](&c, (fh_out){fh_test_collect, &text});
      fhi_fault_after(0);
      assert_true(status == FH_OK || status == FH_ERR_MEMORY);
      if (status == FH_ERR_MEMORY) {
        assert_null(text.bytes);  // nothing half written
      }
      free(text.bytes);
    }
    assert_true(n > 2);
    close_case(&c);
  }
}

static void a_refused_write_is_reported(void **state) {
  (void)state;
  for (int f = 0; f < 4; f++) {
    figure_case c;
    open_case(&c, scene_loop_six);
    for (size_t limit = 1; limit < 4000; limit += 1500) {
      fh_test_text text = {.limit = limit};
      assert_status(FIGURES[f](&c, (fh_out){fh_test_collect, &text}), FH_ERR_WRITE);
      free(text.bytes);
    }
    close_case(&c);
  }
}

static void missing_arguments_are_refused(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_three);
  const fh_scene *s = c.d.scene;
  fh_test_text text = {0};
  fh_out out = {fh_test_collect, &text};
  fh_out none = {NULL, NULL};
  assert_status(fh_draw_section(NULL, c.d.gear, &s->rig, c.check, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_section(s, NULL, &s->rig, c.check, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_section(s, c.d.gear, NULL, c.check, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_section(s, c.d.gear, &s->rig, NULL, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_section(s, c.d.gear, &s->rig, c.check, FH_METRIC, none), FH_ERR_ARG);
  assert_status(fh_draw_plan_view(NULL, c.d.gear, &s->rig, c.check, 0.0, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_angle_curve(NULL, c.d.gear, &s->rig, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fh_draw_plans(s, c.d.gear, NULL, FH_METRIC, out), FH_ERR_ARG);
  assert_status(fhi_draw_angle_points("t", NULL, 5, 0.0, FH_ENGLISH, out), FH_ERR_ARG);
  assert_null(text.bytes);
  close_case(&c);
}

// ------------------------------------------------------------------------------------------------ golden figures

// Round numbers in place of worked-out ones, so that a golden figure moves only when drawing does.
static void plain_numbers(fh_check *check) {
  for (int i = 0; i < check->strand_count; i++) {
    double t = check->strands[i].carries ? 100.0 * (i + 1) : 0.0;
    check->strands[i].tension[FH_RAISE] = (fh_band){t, 1.1 * t, 1.3 * t};
  }
  for (int b = 0; b < check->body_count; b++) {
    check->bodies[b].force[FH_RAISE] = (fh_band){500.0, 600.0, 800.0};
  }
  for (int g = 0; g < check->grip_count; g++) {
    check->grip_force[g][FH_RAISE] = (fh_band){400.0, 500.0, 700.0};
  }
  check->hand_force = (fh_band){300.0, 350.0, 420.0};
  check->actual_advantage = (fh_band){2.1, 2.6, 3.0};
  check->crew.force = (fh_band){250.0, 330.0, 420.0};
  check->crew_share = (fh_band){0.7, 1.0, 1.7};
  check->answer_no = false;
  check->interval_exact = true;
  check->note_count = 1;
  check->notes[0] = (fh_note){FH_NOTE_WARN, "an example of a warning", false};
}

static char *read_golden(const char *path) {
  FILE *file = fopen(path, "rb");
  if (file == NULL) {
    return NULL;
  }
  char *text = calloc(1, 1 << 20);
  assert_non_null(text);
  size_t count = fread(text, 1, (1 << 20) - 1, file);
  text[count] = '\0';
  (void)fclose(file);
  return text;
}

static void write_golden(const char *path, const fh_test_text *text) {
  FILE *file = fopen(path, "wb");
  assert_non_null(file);
  assert_int_equal(fwrite(text->bytes, 1, text->count, file), text->count);
  assert_int_equal(fclose(file), 0);
}

static void assert_golden(const char *name, fh_test_text *text) {
  const char *root = getenv("FH_SOURCE");
  char path[1024];
  (void)snprintf(path, sizeof path, "%s/tests/golden/%s.svg", root != NULL ? root : ".", name);
  svg_page page = look(name, text);
  svg_free(&page);
  if (getenv("UPDATE_GOLDEN") != NULL) {
    write_golden(path, text);
  }
  char *want = read_golden(path);
  if (want == NULL) {
    fail_msg("%s is not there; UPDATE_GOLDEN=1 writes it", path);
  }
  size_t same = 0;
  while (want[same] != '\0' && want[same] == text->bytes[same]) {
    same++;
  }
  if (strcmp(want, text->bytes) != 0) {
    print_error("%s differs from byte %zu on: want \"%.60s\", got \"%.60s\"\n", path, same, want + same, text->bytes + same);
    fail();
  }
  free(want);
  free(text->bytes);
  *text = (fh_test_text){0};
}

static void figures_are_as_kept_byte_for_byte(void **state) {
  (void)state;
  static const char *const NAMES[] = {"section-loop-six", "section-three", "section-five-complex", "section-two-ropes", "section-eighteen", "section-direct", "section-locked"};
  for (int i = 0; i < DRAW_SCENE_COUNT; i++) {
    figure_case c;
    open_case(&c, DRAW_SCENES[i]);
    if (c.check->outcome == FH_OUTCOME_SOLVED) {
      plain_numbers(c.check);
    } else {
      (void)snprintf(c.check->why, sizeof c.check->why, "an example of a reason");
      c.check->note_count = 0;
    }
    fh_test_text text = {0};
    assert_status(section(&c, i % 2 == 0 ? FH_METRIC : FH_IMPERIAL, (fh_out){fh_test_collect, &text}), FH_OK);
    assert_golden(NAMES[i], &text);
    if (i == 0) {
      assert_status(plan_view(&c, 20.0, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
      assert_golden("plan-view-loop-six", &text);
    }
    close_case(&c);
  }
}

static void charts_are_as_kept_byte_for_byte(void **state) {
  (void)state;
  fh_test_text text = {0};
  fh_angle_point points[31];
  for (int i = 0; i < 31; i++) {
    double a = i * 3.0 * RAD;
    points[i] = (fh_angle_point){.angle = a, .advantage = {2.0 * cos(a / 2.0), 2.5 * cos(a / 2.0), 3.1 * cos(a / 2.0)}, .outcome = FH_OUTCOME_SOLVED};
  }
  assert_status(fhi_draw_angle_points("An example of a curve", points, 31, 20.0 * RAD, FH_ENGLISH, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_golden("angle", &text);
  figure_case c;
  open_case(&c, scene_three);
  fh_plan list[14];
  fh_plans plans;
  make_plans(&plans, list, 14);
  for (int i = 0; i < c.d.scene->crew_count; i++) {
    c.d.scene->crew[i].pull = fh_number_exact(300.0);
  }
  c.d.scene->crew_count = 1;
  assert_status(fh_draw_plans(c.d.scene, c.d.gear, &plans, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_golden("plans", &text);
  close_case(&c);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(hostile_names_are_harmless),
      cmocka_unit_test(every_allocation_may_fail),
      cmocka_unit_test(a_refused_write_is_reported),
      cmocka_unit_test(missing_arguments_are_refused),
      cmocka_unit_test(figures_are_as_kept_byte_for_byte),
      cmocka_unit_test(charts_are_as_kept_byte_for_byte),
  };
  return cmocka_run_group_tests_name("draw", tests, NULL, NULL);
}
