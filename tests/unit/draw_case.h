// SPDX-License-Identifier: MIT
// What the tests of the figures share: a rig of draw_scenes.h with its check, its figures, and a look at what was drawn.
#ifndef DRAW_CASE_H
#define DRAW_CASE_H

#include "draw_angle.h"
#include "draw_common.h"
#include "draw_scenes.h"
#include "draw_section.h"
#include "draw_svg.h"
#include "shown.h"

static const double RAD = 3.14159265358979323846 / 180.0;

typedef struct figure_case {
  draw_scene d;
  fh_check *check;
} figure_case;

static inline void open_case(figure_case *c, draw_maker make) {
  *c = (figure_case){0};
  make(&c->d);
  fh_check_opts opts = fh_check_opts_default();
  assert_status(fh_check_create(c->d.scene, c->d.gear, &c->d.scene->rig, &opts, &c->check), FH_OK);
}

static inline void close_case(figure_case *c) {
  fh_check_destroy(c->check);
  draw_stop(&c->d);
}

static inline fh_status section(const figure_case *c, fh_units units, fh_out out) {
  return fh_draw_section(c->d.scene, c->d.gear, &c->d.scene->rig, c->check, units, out);
}

static inline fh_status plan_view(const figure_case *c, double degrees, fh_units units, fh_out out) {
  return fh_draw_plan_view(c->d.scene, c->d.gear, &c->d.scene->rig, c->check, degrees * RAD, units, out);
}

static inline fh_status angle_curve(const figure_case *c, fh_out out) {
  return fh_draw_angle_curve(c->d.scene, c->d.gear, &c->d.scene->rig, FH_METRIC, out);
}

// Well formed, in the page, no text on another, with the caution, no smaller than can be read. @return the page, to be freed
static inline svg_page look(const char *name, const fh_test_text *text) {
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

// Numbers that matter: 9 pt at A6 width.
static inline bool is_large_somewhere(const svg_page *page, const char *part) {
  for (int i = 0; i < page->count; i++) {
    if (page->texts[i].size >= 9.0 && strstr(page->texts[i].text, part) != NULL) {
      return true;
    }
  }
  return false;
}

enum { MADE = 340 };

static inline void make_plans(fh_plans *plans, fh_plan *list, int count) {
  memset(list, 0, (size_t)count * sizeof *list);
  for (int i = 0; i < count; i++) {
    double ideal = 1.0 + (i * 7) % 18;
    double likely = 900.0 / pow(ideal, 0.62);
    list[i] = (fh_plan){.ideal_advantage = ideal, .hand_force = {0.86 * likely, likely, 1.2 * likely}, .pieces = 2 + (i * 5) % 9, .possible = likely < 400.0};
  }
  *plans = (fh_plans){.plans = list, .count = count};
}

#endif
