// SPDX-License-Identifier: MIT
// Figures: nothing lies on anything else, nothing is left out, nothing in a user's text does harm, and each byte is meant.
// Golden figures stand beside checks of what they show; UPDATE_GOLDEN=1 in the environment writes them anew.
#define _POSIX_C_SOURCE 200809L  // glob
#include "fh_test.h"

#include <glob.h>

#include "draw_angle.h"
#include "draw_common.h"
#include "draw_scenes.h"
#include "draw_section.h"
#include "draw_svg.h"
#include "memory.h"
#include "shown.h"
#include "yaml.h"

static const double RAD = 3.14159265358979323846 / 180.0;

typedef struct figure_case {
  draw_scene d;
  fh_check *check;
} figure_case;

static void open_case(figure_case *c, draw_maker make) {
  *c = (figure_case){0};
  make(&c->d);
  fh_check_opts opts = fh_check_opts_default();
  assert_status(fh_check_create(c->d.scene, c->d.gear, &c->d.scene->rig, &opts, &c->check), FH_OK);
}

static void close_case(figure_case *c) {
  fh_check_destroy(c->check);
  draw_stop(&c->d);
}

static fh_status section(const figure_case *c, fh_units units, fh_out out) {
  return fh_draw_section(c->d.scene, c->d.gear, &c->d.scene->rig, c->check, units, out);
}

static fh_status plan_view(const figure_case *c, double degrees, fh_units units, fh_out out) {
  return fh_draw_plan_view(c->d.scene, c->d.gear, &c->d.scene->rig, c->check, degrees * RAD, units, out);
}

static fh_status angle_curve(const figure_case *c, fh_out out) {
  return fh_draw_angle_curve(c->d.scene, c->d.gear, &c->d.scene->rig, FH_METRIC, out);
}

// Well formed, in the page, no text on another, with the caution, no smaller than can be read. @return the page, to be freed
static svg_page look(const char *name, const fh_test_text *text) {
  const char *fault = svg_fault(text->bytes);
  if (fault != NULL) {
    fail_msg("%s: %s", name, fault);
  }
  svg_page page;
  svg_read(text->bytes, &page);
  assert_near(page.width, 298.0, 0.0);  // A6 is 105 mm wide: 297.6 points
  assert_true(page.height > 100.0 && page.height < 3000.0);
  assert_true(svg_is_clear(&page, name));
  assert_int_equal(svg_crossed_texts(text->bytes, &page, name), 0);
  assert_true(svg_count(&page, "Training aid.") == 1);
  for (int i = 0; i < page.count; i++) {
    assert_true(page.texts[i].size >= 7.0);
  }
  return page;
}

// ------------------------------------------------------------------------------------------------ what a figure says

// Numbers that matter: 9 pt at A6 width.
static bool is_large_somewhere(const svg_page *page, const char *part) {
  for (int i = 0; i < page->count; i++) {
    if (page->texts[i].size >= 9.0 && strstr(page->texts[i].text, part) != NULL) {
      return true;
    }
  }
  return false;
}

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

static void plan_views_are_clear_at_every_angle(void **state) {
  (void)state;
  for (int i = 0; i < DRAW_SCENE_COUNT; i++) {
    for (int degrees = 0; degrees <= 100; degrees += 20) {
      figure_case c;
      open_case(&c, DRAW_SCENES[i]);
      fh_test_text text = {0};
      assert_status(plan_view(&c, degrees, degrees == 40 ? FH_IMPERIAL : FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
      svg_page page = look(c.d.name, &text);
      svg_free(&page);
      free(text.bytes);
      close_case(&c);
    }
  }
}

static void the_plan_view_gives_the_force_at_its_own_angle(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_three);
  fh_angle_point point;
  double angle = 60.0 * RAD;
  assert_status(fh_angle_curve(c.d.scene, c.d.gear, &c.d.scene->rig, &angle, 1, &point), FH_OK);
  fh_test_text text = {0};
  assert_status(plan_view(&c, 60.0, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page = look("three", &text);
  const svg_text *pull = svg_find(&page, "pull ");
  assert_non_null(pull);
  double lo = 0.0;
  double hi = 0.0;
  assert_int_equal(sscanf(pull->text, "pull %*f N (%lf\xE2\x80\x93%lf)", &lo, &hi), 2);
  // Weight over advantage, rounded outward to 5 N. The curve's band and the check's need not agree to the last newton:
  // the curve sets every contact to the same end at once, the check goes through the corners.
  double least = c.check->weight.lo / point.advantage.hi;
  double most = c.check->weight.hi / point.advantage.lo;
  assert_within(lo, 0.99 * least - 5.0, 1.01 * least);
  assert_within(hi, 0.99 * most, 1.01 * most + 5.0);
  assert_true(svg_count(&page, "60\xC2\xB0") >= 1);
  svg_free(&page);
  free(text.bytes);
  close_case(&c);
}

static void an_angle_past_100_degrees_is_refused(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_three);
  fh_test_text text = {0};
  assert_status(plan_view(&c, 101.0, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_ERR_ARG);
  assert_status(plan_view(&c, -1.0, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_ERR_ARG);
  assert_status(plan_view(&c, (double)NAN, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_ERR_ARG);
  assert_null(text.bytes);
  close_case(&c);
}

static void angle_curves_are_clear_and_mark_the_value_in_line(void **state) {
  (void)state;
  for (int i = 0; i < DRAW_SCENE_COUNT; i++) {
    figure_case c;
    open_case(&c, DRAW_SCENES[i]);
    fh_test_text text = {0};
    assert_status(angle_curve(&c, (fh_out){fh_test_collect, &text}), FH_OK);
    svg_page page = look(c.d.name, &text);
    bool solved = c.check->outcome == FH_OUTCOME_SOLVED;
    assert_int_equal(svg_count(&page, "in line "), solved ? 1 : 0);
    assert_int_equal(svg_count(&page, "no answer"), solved ? 0 : svg_count(&page, "no answer"));
    svg_free(&page);
    free(text.bytes);
    close_case(&c);
  }
}

static void a_gap_in_the_curve_stays_a_gap(void **state) {
  (void)state;
  fh_angle_point points[5];
  for (int i = 0; i < 5; i++) {
    points[i] = (fh_angle_point){.angle = i * 22.5 * RAD, .advantage = {2.0, 2.5, 3.0}, .outcome = FH_OUTCOME_SOLVED};
  }
  points[2].outcome = FH_OUTCOME_UNRESOLVED;
  points[2].advantage = (fh_band){(double)NAN, (double)NAN, (double)NAN};
  fh_test_text text = {0};
  assert_status(fhi_draw_angle_points("gap", points, 5, (double)NAN, FH_ENGLISH, (fh_out){fh_test_collect, &text}), FH_OK);
  int bands = 0;
  for (const char *at = strstr(text.bytes, "#c9dcea"); at != NULL; at = strstr(at + 1, "#c9dcea")) {
    bands++;
  }
  assert_int_equal(bands, 2);
  assert_null(strstr(text.bytes, "nan"));
  svg_page page = look("gap", &text);
  svg_free(&page);
  free(text.bytes);
}

// ------------------------------------------------------------------------------------------------ plans

enum { MADE = 340 };

static void make_plans(fh_plans *plans, fh_plan *list, int count) {
  memset(list, 0, (size_t)count * sizeof *list);
  for (int i = 0; i < count; i++) {
    double ideal = 1.0 + (i * 7) % 18;
    double likely = 900.0 / pow(ideal, 0.62);
    list[i] = (fh_plan){.ideal_advantage = ideal, .hand_force = {0.86 * likely, likely, 1.2 * likely}, .pieces = 2 + (i * 5) % 9, .possible = likely < 400.0};
  }
  *plans = (fh_plans){.plans = list, .count = count};
}

// Texts that are this number and nothing else, in the plot's bold letters.
static int count_equal(const svg_page *page, int number) {
  char text[16];
  int n = 0;
  (void)snprintf(text, sizeof text, "%d", number);
  for (int i = 0; i < page->count; i++) {
    n += page->texts[i].bold && strcmp(page->texts[i].text, text) == 0;
  }
  return n;
}

static void plans_are_clear_however_many(void **state) {
  (void)state;
  static const int COUNTS[] = {0, 1, 14, 60, MADE};
  fh_plan *list = calloc(MADE, sizeof *list);
  assert_non_null(list);
  for (size_t i = 0; i < sizeof COUNTS / sizeof COUNTS[0]; i++) {
    figure_case c;
    fh_plans plans;
    open_case(&c, scene_three);
    make_plans(&plans, list, COUNTS[i]);
    fh_test_text text = {0};
    assert_status(fh_draw_plans(c.d.scene, c.d.gear, &plans, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
    svg_page page = look("plans", &text);
    assert_true(svg_count(&page, "crew can pull") == 1);
    assert_true(svg_count(&page, "No rig that this kit can build") == (COUNTS[i] == 0));
    assert_true(svg_count(&page, "pieces in use") == (COUNTS[i] > 0));
    // The twelve of the list have their number at their mark too; more numbers would bury the marks.
    for (int k = 1; COUNTS[i] > 12 && k <= 13; k++) {
      assert_int_equal(count_equal(&page, k), k <= 12 ? 2 : 0);
    }
    svg_free(&page);
    free(text.bytes);
    close_case(&c);
  }
  free(list);
}

static void without_a_rig_the_figure_says_what_is_missing(void **state) {
  (void)state;
  figure_case c;
  open_case(&c, scene_three);
  fh_plans plans = {.plans = NULL, .count = 0};
  (void)snprintf(plans.missing, sizeof plans.missing, "One more pulley, or 60 N more pull.");
  fh_test_text text = {0};
  assert_status(fh_draw_plans(c.d.scene, c.d.gear, &plans, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page = look("none", &text);
  assert_true(svg_count(&page, "One more pulley") == 1);
  svg_free(&page);
  free(text.bytes);
  close_case(&c);
}

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

// ------------------------------------------------------------------------------------------------ rope patterns

// In grey only dashes and hollow lines tell ropes apart.
static void no_two_ropes_look_alike_in_grey(void **state) {
  (void)state;
  enum { ROPES = 8 };
  char *looks[ROPES];
  for (int i = 0; i < ROPES; i++) {
    fhi_svg *svg = NULL;
    assert_status(fhi_svg_create(100.0, FH_ENGLISH, &svg), FH_OK);
    fhi_path p;
    fhi_path_clear(&p);
    fhi_path_move(&p, 0.0, 0.0);
    fhi_path_line(&p, 50.0, 0.0);
    fhi_draw_rope(svg, &p, i, true, 1.0);
    fh_test_text text = {0};
    assert_status(fhi_svg_end(svg, 10.0, "", "", (fh_out){fh_test_collect, &text}), FH_OK);
    for (char *at = strstr(text.bytes, "stroke=\"#"); at != NULL; at = strstr(at + 1, "stroke=\"#")) {
      memset(at + 9, strncmp(at + 9, "ffffff", 6) == 0 ? 'f' : '0', 6);  // every colour the same, paper stays paper
    }
    looks[i] = text.bytes;
    fhi_svg_destroy(svg);
  }
  for (int i = 0; i < ROPES; i++) {
    for (int j = i + 1; j < ROPES; j++) {
      assert_string_not_equal(looks[i], looks[j]);
    }
  }
  for (int i = 0; i < ROPES; i++) {
    free(looks[i]);
  }
}

// ------------------------------------------------------------------------------------------------ numbers

static const char *force(double lo, double likely, double hi, fh_units units) {
  static char text[FHI_WORD];
  return fhi_show_force(text, sizeof text, (fh_band){lo, likely, hi}, units, FH_ENGLISH);
}

static void a_range_is_rounded_outward(void **state) {
  (void)state;
  assert_string_equal(force(286.1, 300.0, 341.9, FH_METRIC), "285\xE2\x80\x93" "345 N");
  assert_string_equal(force(290.0, 300.0, 340.0, FH_METRIC), "290\xE2\x80\x93" "340 N");
  assert_string_equal(force(23.4, 30.0, 41.2, FH_METRIC), "23\xE2\x80\x93" "42 N");
  assert_string_equal(force(0.0, 100.0, 450.0, FH_METRIC), "0\xE2\x80\x93" "450 N");
  assert_string_equal(force(996.0, 1000.0, 1004.0, FH_METRIC), "995\xE2\x80\x93" "1010 N");
  // 1 lbf = 4.4482216152605 N, exact by definition of the pound and of standard gravity.
  assert_string_equal(force(444.8, 500.0, 889.7, FH_IMPERIAL), "99\xE2\x80\x93" "205 lbf");
}

static void a_likely_force_comes_before_its_range(void **state) {
  (void)state;
  char text[FHI_WORD];
  assert_string_equal(fhi_show_likely(text, sizeof text, (fh_band){104.0, 209.0, 364.0}, FH_METRIC, FH_ENGLISH), "210 N (100\xE2\x80\x93" "365)");
  assert_string_equal(fhi_show_likely(text, sizeof text, (fh_band){209.0, 209.0, 209.0}, FH_METRIC, FH_ENGLISH), "210 N");
  assert_string_equal(fhi_show_likely(text, sizeof text, (fh_band){(double)NAN, 209.0, 364.0}, FH_METRIC, FH_ENGLISH), "not known");
}

// What rounding alone would make of 298 and 301 would look the same: then to 1 N, and apart.
static void forces_that_differ_look_different(void **state) {
  (void)state;
  char more[40];
  char less[40];
  fhi_show_compared(more, less, sizeof more, 412.0, 298.0);
  assert_string_equal(more, "410");
  assert_string_equal(less, "300");
  fhi_show_compared(more, less, sizeof more, 300.6, 299.4);
  assert_string_equal(more, "301");
  assert_string_equal(less, "299");
}

static void a_time_never_looks_shorter_than_it_is(void **state) {
  (void)state;
  char text[FHI_WORD];
  assert_string_equal(fhi_show_minutes(text, sizeof text, 481.0), "8.5");
  assert_string_equal(fhi_show_minutes(text, sizeof text, 480.0), "8");
  assert_string_equal(fhi_show_minutes(text, sizeof text, 601.0), "11");
  assert_string_equal(fhi_show_minutes(text, sizeof text, 5.0), "0.5");
}

static void an_exact_force_is_as_fine_as_a_likely_one(void **state) {
  (void)state;
  assert_string_equal(force(902.21, 902.21, 902.21, FH_METRIC), "900 N");
  assert_string_equal(force(1163.4, 1163.4, 1163.4, FH_METRIC), "1160 N");
  assert_string_equal(force(0.0, 0.0, 0.0, FH_METRIC), "0 N");
  assert_string_equal(force((double)NAN, (double)NAN, (double)NAN, FH_METRIC), "not known");
}

static void lengths_masses_and_angles_read_as_words(void **state) {
  (void)state;
  char text[FHI_WORD];
  assert_string_equal(fhi_show_length(text, sizeof text, 4.5, FH_METRIC), "4.5 m");
  assert_string_equal(fhi_show_length(text, sizeof text, 11.0, FH_METRIC), "11 m");
  assert_string_equal(fhi_show_length(text, sizeof text, 3.048, FH_IMPERIAL), "10 ft");  // 0.3048 m a foot, exact
  assert_string_equal(fhi_show_length(text, sizeof text, -0.01, FH_METRIC), "0 m");
  assert_string_equal(fhi_show_mass(text, sizeof text, fh_number_exact(92.0), FH_METRIC, FH_ENGLISH), "92 kg");
  assert_string_equal(fhi_show_mass(text, sizeof text, between(80.0, 95.0), FH_METRIC, FH_ENGLISH), "80\xE2\x80\x93" "95 kg");
  assert_string_equal(fhi_show_mass(text, sizeof text, fh_number_exact(92.0), FH_IMPERIAL, FH_ENGLISH), "203 lb");  // 0.45359237 kg a pound, exact
  assert_string_equal(fhi_show_angle(text, sizeof text, fh_number_exact(80.0 * RAD), FH_ENGLISH), "80\xC2\xB0");
  assert_string_equal(fhi_show_angle(text, sizeof text, fh_number_unset(), FH_ENGLISH), "not given");
  assert_string_equal(fhi_show_number(text, sizeof text, (fh_band){0.12, 0.2, 0.3}, 2), "0.12\xE2\x80\x93" "0.30");
  assert_string_equal(fhi_show_number(text, sizeof text, (fh_band){0.18, 0.18, 0.18}, 2), "0.18");
}

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

// ------------------------------------------------------------------------------------------------ text

static void text_is_cut_at_a_character_with_dots(void **state) {
  (void)state;
  char text[100];
  fhi_font font = {10.0, false, "#000000"};
  fhi_text_fit(text, sizeof text, "short", font, 100.0);
  assert_string_equal(text, "short");
  fhi_text_fit(text, sizeof text, "caf\xC3\xA9s and more words", font, 40.0);
  assert_true(fhi_text_width(text, 10.0, false) <= 40.0);
  assert_non_null(strstr(text, "\xE2\x80\xA6"));
  assert_null(strstr(text, "\xC3\xE2"));  // not in the middle of a character
}

static void lines_break_at_words_and_words_where_they_must(void **state) {
  (void)state;
  fhi_font font = {10.0, false, "#000000"};
  size_t next = 0;
  const char *text = "one two three";
  size_t count = fhi_text_line(text, font, fhi_text_width("one two", 10.0, false) + 0.1, &next);
  assert_int_equal(count, 7);
  assert_int_equal(next, 8);
  const char *word = "abcdefghijklmnop";
  count = fhi_text_line(word, font, fhi_text_width("abcde", 10.0, false) + 0.1, &next);
  assert_int_equal(count, 5);
  assert_int_equal(next, 5);
  count = fhi_text_line(word, font, 1.0, &next);  // narrower than a character: one at a time, so that it ends
  assert_true(next >= 1);
  assert_true(count >= 1);
}

static void a_callout_without_room_is_refused(void **state) {
  (void)state;
  fhi_svg *svg = NULL;
  assert_status(fhi_svg_create(100.0, FH_ENGLISH, &svg), FH_OK);
  fhi_svg_keep_out(svg, (fhi_box){0.0, 0.0, 100.0, 100.0});
  fhi_callout label = {.x = 50.0, .y = 50.0, .field = {0.0, 0.0, 100.0, 100.0}, .font = fhi_font_main(), .text = "1200 N"};
  assert_false(fhi_svg_callout(svg, &label));
  fh_test_text text = {0};
  assert_status(fhi_svg_end(svg, 10.0, "", "", (fh_out){fh_test_collect, &text}), FH_OK);
  assert_null(strstr(text.bytes, "1200"));
  free(text.bytes);
  fhi_svg_destroy(svg);
}

static void a_callout_goes_where_it_is_free(void **state) {
  (void)state;
  fhi_svg *svg = NULL;
  assert_status(fhi_svg_create(200.0, FH_ENGLISH, &svg), FH_OK);
  fhi_svg_text(svg, 80.0, 50.0, FHI_START, fhi_font_main(), "in the way");
  fhi_callout label = {.x = 100.0, .y = 50.0, .field = {0.0, 0.0, 200.0, 100.0}, .font = fhi_font_main(), .text = "beside"};
  assert_true(fhi_svg_callout(svg, &label));
  fh_test_text text = {0};
  assert_status(fhi_svg_end(svg, 100.0, "", "", (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page;
  svg_read(text.bytes, &page);
  assert_int_equal(page.count, 2);
  assert_true(svg_is_clear(&page, "callout"));
  svg_free(&page);
  free(text.bytes);
  fhi_svg_destroy(svg);
}

// The test above all others here has to be able to fail.
static void text_on_text_and_text_off_the_page_are_seen(void **state) {
  (void)state;
  static const struct {
    double x, y;
    bool clear;
  } SECOND[] = {{10.0, 40.0, true}, {30.0, 22.0, false}, {80.0, 60.0, false}, {10.0, 99.0, false}};
  for (int i = 0; i < 4; i++) {
    char svg[400];
    svg_page page;
    (void)snprintf(svg, sizeof svg, "<svg width=\"100pt\" height=\"100pt\"><text x=\"10\" y=\"20\" font-size=\"9\">1200 N</text><text x=\"%.0f\" y=\"%.0f\" font-size=\"9\">300 N</text></svg>",
                   SECOND[i].x, SECOND[i].y);
    svg_read(svg, &page);
    assert_int_equal(page.count, 2);
    assert_true(svg_is_clear(&page, i == 0 ? "clear" : "meant to be seen") == SECOND[i].clear);
    svg_free(&page);
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
      cmocka_unit_test(sections_are_clear_and_say_every_force),
      cmocka_unit_test(narrow_sections_are_clear_and_say_every_force),
      cmocka_unit_test(each_strand_has_a_force_of_its_own),
      cmocka_unit_test(a_rig_that_does_not_work_shows_no_force),
      cmocka_unit_test(a_force_without_room_is_said_in_words),
      cmocka_unit_test(warnings_of_the_check_stand_in_the_section),
      cmocka_unit_test(plan_views_are_clear_at_every_angle),
      cmocka_unit_test(the_plan_view_gives_the_force_at_its_own_angle),
      cmocka_unit_test(an_angle_past_100_degrees_is_refused),
      cmocka_unit_test(angle_curves_are_clear_and_mark_the_value_in_line),
      cmocka_unit_test(a_gap_in_the_curve_stays_a_gap),
      cmocka_unit_test(plans_are_clear_however_many),
      cmocka_unit_test(without_a_rig_the_figure_says_what_is_missing),
      cmocka_unit_test(every_rig_that_a_search_finds_is_clear),
      cmocka_unit_test(every_example_is_clear),
      cmocka_unit_test(no_line_from_label_to_point_runs_through_letters),
      cmocka_unit_test(no_two_ropes_look_alike_in_grey),
      cmocka_unit_test(a_range_is_rounded_outward),
      cmocka_unit_test(an_exact_force_is_as_fine_as_a_likely_one),
      cmocka_unit_test(a_likely_force_comes_before_its_range),
      cmocka_unit_test(forces_that_differ_look_different),
      cmocka_unit_test(a_time_never_looks_shorter_than_it_is),
      cmocka_unit_test(lengths_masses_and_angles_read_as_words),
      cmocka_unit_test(hostile_names_are_harmless),
      cmocka_unit_test(text_is_cut_at_a_character_with_dots),
      cmocka_unit_test(lines_break_at_words_and_words_where_they_must),
      cmocka_unit_test(a_callout_without_room_is_refused),
      cmocka_unit_test(a_callout_goes_where_it_is_free),
      cmocka_unit_test(text_on_text_and_text_off_the_page_are_seen),
      cmocka_unit_test(every_allocation_may_fail),
      cmocka_unit_test(a_refused_write_is_reported),
      cmocka_unit_test(missing_arguments_are_refused),
      cmocka_unit_test(figures_are_as_kept_byte_for_byte),
      cmocka_unit_test(charts_are_as_kept_byte_for_byte),
  };
  return cmocka_run_group_tests_name("draw", tests, NULL, NULL);
}
