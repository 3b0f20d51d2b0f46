// SPDX-License-Identifier: MIT
// The labels of the section, at rest and in the middle of a stroke, at three widths: each force stands beside its own strand or is led to
// it, none on a rope, a bar or the rim. What has no such place is left out beside its strand and said in words instead; names are left out.
#include "fh_test.h"

#include <glob.h>

#include "draw_case.h"
#include "draw_read.h"
#include "words.h"
#include "yaml.h"

enum { ON_ROPE, ON_BAR, ASTRAY, OFF, LEADER, RIM, THROUGH, FAULTS };
static const char *const FAULT[] = {"on a rope", "on a bar", "nearer to another strand", "not over its strand", "its line crosses", "at the rim", "a leader runs through"};

typedef struct counts {
  int figures, forces, in_words, contacts, names, faults[FAULTS];
} counts;

static void fault(counts *n, int what, const char *name, const char *text) {
  n->faults[what]++;
  if (getenv("FH_TELL") != NULL) {
    print_message("%s: \"%s\" %s\n", name, text, FAULT[what]);
  }
}

// Forces that tell of which strand they are, as long as long ones are, or short.
static double lowest(int strand, bool wide) {
  return wide ? 1000.0 + 10.0 * strand : 105.0 + 5.0 * strand;
}

static int strand_of(const svg_text *t, const fh_check *c, bool wide) {
  size_t skip = strcspn(t->text, "0123456789");
  if (!t->bold || t->size < 9.0 || t->text[skip] == '\0') {
    return -1;
  }
  double value = atof(t->text + skip);
  for (int i = 0; i < c->strand_count; i++) {
    if (fabs(lowest(i, wide) - value) < 0.1) {
      return i;
    }
  }
  return -1;
}

// The line from this label to its point: it begins beside its box.
static const read_line *leader_of(const read_page *r, const svg_text *t) {
  for (int i = 0; i < r->count; i++) {
    const read_line *l = &r->lines[i];
    if (l->kind == READ_LEADER && l->at.x1 >= t->x1 - 3.5 && l->at.x1 <= t->x2 + 3.5 && l->at.y1 >= t->y1 - 3.0 && l->at.y1 <= t->y2 + 3.0) {
      return l;
    }
  }
  return NULL;
}

static double to_strand(const read_page *r, const svg_text *t, int strand, bool surface) {
  double least = HUGE_VAL;
  for (int i = 0; i < r->count; i++) {
    const read_line *l = &r->lines[i];
    if (l->kind == READ_STRAND && l->index == strand && l->surface == surface) {
      least = fmin(least, read_distance(&l->at, t));
    }
  }
  return least;
}

static bool cross(const svg_line *a, const svg_line *b) {
  double dx = a->x2 - a->x1, dy = a->y2 - a->y1, ex = b->x2 - b->x1, ey = b->y2 - b->y1;
  double p = dx * (b->y1 - a->y1) - dy * (b->x1 - a->x1), q = dx * (b->y2 - a->y1) - dy * (b->x2 - a->x1);
  double u = ex * (a->y1 - b->y1) - ey * (a->x1 - b->x1), v = ex * (a->y2 - b->y1) - ey * (a->x2 - b->x1);
  return p * q < 0.0 && u * v < 0.0;
}

static void look_at_leader(const read_page *r, const svg_text *t, const read_line *lead, int strand, const char *name, counts *n) {
  svg_text dot = {.x1 = lead->at.x2, .x2 = lead->at.x2, .y1 = lead->at.y2, .y2 = lead->at.y2};
  if (to_strand(r, &dot, strand, lead->surface) > 1.5) {
    fault(n, ASTRAY, name, t->text);
  }
  for (int i = 0; i < r->count && lead->surface; i++) {
    const read_line *l = &r->lines[i];
    if (l->surface && ((l->kind == READ_STRAND && l->index != strand) || l->kind == READ_BAR) && cross(&l->at, &lead->at)) {
      fault(n, LEADER, name, t->text);
      return;
    }
  }
}

static void look_at_force(const read_page *r, const fh_check *c, int k, int strand, const char *name, counts *n) {
  const svg_text *t = &r->page.texts[k];
  const svg_text ink = read_ink(t);
  const read_line *lead = leader_of(r, t);
  if (lead != NULL) {
    look_at_leader(r, t, lead, strand, name, n);
    return;
  }
  double own = to_strand(r, &ink, strand, r->surface[k]);
  for (int i = 0; i < c->strand_count; i++) {
    if (i != strand && to_strand(r, &ink, i, r->surface[k]) < own) {
      fault(n, ASTRAY, name, t->text);
      break;
    }
  }
  svg_text middle = ink;
  middle.x1 = ink.x1 + 0.25 * (ink.x2 - ink.x1);
  middle.x2 = ink.x2 - 0.25 * (ink.x2 - ink.x1);
  if (to_strand(r, &middle, strand, r->surface[k]) > own + 0.5) {
    fault(n, OFF, name, t->text);
  }
}

static void look_at_ink(const read_page *r, int k, const char *name, counts *n) {
  const svg_text *t = &r->page.texts[k];
  const svg_text ink = read_ink(t);
  bool rope = false, bar = false;
  for (int i = 0; i < r->count; i++) {
    const read_line *l = &r->lines[i];
    bool hit = l->surface == r->surface[k] && l->kind != READ_LEADER && read_distance(&l->at, &ink) < l->half;
    rope = rope || (hit && l->kind == READ_STRAND);
    bar = bar || (hit && l->kind == READ_BAR);
  }
  if (rope) {
    fault(n, ON_ROPE, name, t->text);
  }
  if (bar) {
    fault(n, ON_BAR, name, t->text);
  }
  if (t->x1 < 2.0 || t->x2 > r->page.width - 2.0) {
    fault(n, RIM, name, t->text);
  }
}

static void look_at_names(const read_page *r, const fh_scene *scene, const fh_gear *gear, const fh_check *c, counts *n) {
  for (int i = 0; i < c->contact_count; i++) {
    if (c->contacts[i].body >= FH_BODY_STATION && c->contacts[i].item >= 0) {
      n->contacts++;
    }
  }
  for (int k = 0; k < r->page.count; k++) {
    bool named = false;
    for (int i = 0; i < c->contact_count && r->surface[k] && r->page.texts[k].size < 8.0; i++) {
      char said[FHI_WORD];
      if (c->contacts[i].body >= FH_BODY_STATION && c->contacts[i].item >= 0) {
        fhi_show_name(said, sizeof said, fhi_item_said(scene->language, gear, c->contacts[i].item), 84.0);
        named = named || strcmp(said, r->page.texts[k].text) == 0;
      }
    }
    n->names += named;
  }
}

static void look_at_figure(const char *svg, const fh_scene *scene, const fh_gear *gear, const fh_check *c, bool wide, const char *name, counts *n) {
  read_page r;
  read_section(svg, &r);
  bool seen[FH_MAX_STRANDS] = {false};
  assert_true(svg_is_clear(&r.page, name));
  n->faults[THROUGH] += svg_crossed_texts(svg, &r.page, name);
  for (int k = 0; k < r.page.count; k++) {
    const svg_text *t = &r.page.texts[k];
    int strand = strand_of(t, c, wide);
    look_at_ink(&r, k, name, n);
    bool hole = strand >= 0 && (c->strands[strand].s_from < 0.0 || c->strands[strand].s_to < 0.0);
    if (strand >= 0 && hole != r.surface[k]) {
      look_at_force(&r, c, k, strand, name, n);
      seen[strand] = true;
    }
  }
  for (int i = 0; i < c->strand_count; i++) {
    char words[FHI_WORD];
    n->forces += c->strands[i].carries;
    if (c->strands[i].carries && !seen[i]) {
      n->in_words++;
      (void)snprintf(words, sizeof words, "%d\xE2\x80\x93", (int)lowest(i, wide));
      if (svg_count(&r.page, words) == 0) {
        fail_msg("%s: strand %d, %s is not in the figure", name, i, words);
      }
    }
  }
  look_at_names(&r, scene, gear, c, n);
  n->figures++;
  read_free(&r);
}

static const double WIDTHS[] = {224.0, 260.0, 298.0};
enum { WIDTH_COUNT = 3, PLACES = 5 };

// At rest and at four places of a stroke, as the page draws it.
static void look_at_rig(const char *name, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, counts *n) {
  fh_check *rest = NULL;
  fh_check *moved = calloc(1, sizeof *moved);
  fh_rig *there = calloc(1, sizeof *there);
  fh_check_opts opts = fh_check_opts_default();
  assert_true(moved != NULL && there != NULL);
  assert_status(fh_check_create(scene, gear, rig, &opts, &rest), FH_OK);
  for (int wide = 0; wide < 2 && rest->outcome == FH_OUTCOME_SOLVED; wide++) {
    for (int i = 0; i < rest->strand_count; i++) {
      double lo = lowest(i, wide != 0);
      rest->strands[i].tension[FH_RAISE] = (fh_band){lo, 1.5 * lo, wide != 0 ? 2000.0 + lo : 500.0 + lo};
    }
    for (int place = 0; place < PLACES; place++) {
      double now = isfinite(rest->throw_load) ? rest->throw_load * place / (PLACES - 1.0) : 0.0;
      *there = *rig;
      fhi_move_rig(rest, now, now, there, moved);
      for (int w = 0; w < WIDTH_COUNT; w++) {
        fh_test_text text = {0};
        char told[200];
        (void)snprintf(told, sizeof told, "%s, %d of %d, %.0f pt, %s", name, place, PLACES - 1, WIDTHS[w], wide != 0 ? "long" : "short");
        assert_status(fhi_draw_section_moved(scene, gear, there, rest, moved, WIDTHS[w], false, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
        look_at_figure(text.bytes, scene, gear, moved, wide != 0, told, &n[w]);
        free(text.bytes);
      }
    }
  }
  fh_check_destroy(rest);
  free(moved);
  free(there);
}

// What falls short is bounded, of a thousand forces: where strands are short or many there is not room for all beside their own.
static void assert_few(const counts *n, const int *most) {
  for (int w = 0; w < WIDTH_COUNT; w++) {
    print_message("%.0f pt: %d figures, %d forces, %d said in words instead; %d turns, %d named", WIDTHS[w], n[w].figures, n[w].forces, n[w].in_words, n[w].contacts, n[w].names);
    for (int i = 0; i < FAULTS; i++) {
      print_message("; %s %d", FAULT[i], n[w].faults[i]);
    }
    print_message("\n");
    for (int i = 0; i < FAULTS; i++) {
      assert_true(1000 * n[w].faults[i] <= most[i] * n[w].forces);
    }
    assert_true(n[w].forces > 500 && 1000 * n[w].in_words <= 15 * n[w].forces && 10 * n[w].names >= 6 * n[w].contacts);
  }
}

static void open_scene(const char *path, const fh_gear *gear, fh_scene **scene) {
  fh_doc *doc = NULL;
  fh_diag diag;
  assert_status(cli_yaml_read(path, &doc, &diag), FH_OK);
  assert_status(fh_scene_create(doc, gear, scene, &diag), FH_OK);
  fh_doc_destroy(doc);
}

static void the_examples_labels_stand_where_they_belong(void **state) {
  (void)state;
  counts n[WIDTH_COUNT] = {0};
  fh_gear *gear = NULL;
  glob_t found;
  assert_status(fh_gear_create(&gear), FH_OK);
  assert_int_equal(glob("examples/*.yaml", 0, NULL, &found), 0);
  assert_int_equal(glob("examples/rigs/*.yaml", GLOB_APPEND, NULL, &found), 0);
  for (size_t i = 0; i < found.gl_pathc; i++) {
    fh_scene *scene = NULL;
    open_scene(found.gl_pathv[i], gear, &scene);
    if (scene->has_rig) {
      look_at_rig(found.gl_pathv[i], scene, gear, &scene->rig, n);
    }
    fh_scene_destroy(scene);
  }
  globfree(&found);
  fh_gear_destroy(gear);
  assert_few(n, (const int[FAULTS]){[ON_ROPE] = 20, [ASTRAY] = 90, [OFF] = 60, [LEADER] = 300});
}

// Rigs that nobody chose: every n-th of all that two kits can build.
static void labels_of_rigs_that_a_search_finds_stand_where_they_belong(void **state) {
  (void)state;
  static const char *const WHERE[] = {"examples/heavy-load.yaml", "examples/two-person.yaml"};
  counts n[WIDTH_COUNT] = {0};
  fh_gear *gear = NULL;
  fh_rig *rig = calloc(1, sizeof *rig);
  assert_non_null(rig);
  assert_status(fh_gear_create(&gear), FH_OK);
  for (size_t w = 0; w < 2; w++) {
    fh_scene *scene = NULL;
    fh_plans *plans = NULL;
    fh_plan_opts opts = fh_plan_opts_default();
    opts.all = true;
    opts.max_contacts = 4;
    open_scene(WHERE[w], gear, &scene);
    assert_status(fh_plans_create(scene, gear, &opts, &plans), FH_OK);
    assert_true(plans->count > 20);
    for (int i = 0; i < plans->count; i += 1 + plans->count / 8) {
      char name[100];
      (void)snprintf(name, sizeof name, "%s, rig %d", WHERE[w], i + 1);
      assert_status(fh_plan_rig(scene, gear, plans, i, rig), FH_OK);
      look_at_rig(name, scene, gear, rig, n);
    }
    fh_plans_destroy(plans);
    fh_scene_destroy(scene);
  }
  free(rig);
  fh_gear_destroy(gear);
  assert_few(n, (const int[FAULTS]){[ON_ROPE] = 20, [ON_BAR] = 20, [ASTRAY] = 90, [OFF] = 100, [LEADER] = 450, [THROUGH] = 1});
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_examples_labels_stand_where_they_belong),
      cmocka_unit_test(labels_of_rigs_that_a_search_finds_stand_where_they_belong),
  };
  return cmocka_run_group_tests_name("draw_labels", tests, NULL, NULL);
}
