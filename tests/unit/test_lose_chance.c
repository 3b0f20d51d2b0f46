// SPDX-License-Identifier: MIT
// Chances of what lets go against closed forms, against lose itself in each settled scene, and whoever counts.
#include "fh_test.h"

#include "lose_chance.h"
#include "memory.h"
#include "scene_text.h"
#include "tally.h"

#define LOOP(slack)                                                                                                                  \
  "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: " slack "}, {edge: lip}, {run: load, on: carabiner}, " \
  "{edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 5, at_m: 1.5}]}\n"
#define THREE                                                                                                                        \
  "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], " \
  "grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n"

static fh_lose_chance *chance_of(const scene_text *t, int64_t samples, uint64_t seed) {
  fh_lose_chance *c = NULL;
  const fh_chance_opts opts = {.samples = samples, .seed = seed, .why = false};
  assert_status(fh_lose_chance_create(t->scene, t->gear, &t->scene->rig, &opts, &c), FH_OK);
  return c;
}

static char *open_scene(const char *depth, const char *holds, const char *rig) {
  static char yaml[3000];
  (void)snprintf(yaml, sizeof yaml,
                 "firnhaul: 1\nslot: {depth_m: %s}\nground: {station_m: 6, anchor_m: 9, holds_kN: %s}\n"
                 "load: {mass_kg: [80, 100]}\nlip: {turn_deg: [60, 90], friction: [0.1, 0.4]}\nropes: [{name: main, length_m: 60}]\n"
                 "crew: [{name: a}]\n%s",
                 depth, holds, rig);
  return yaml;
}

// Counts of what the ordinary lose says, cell by cell.
typedef struct tally {
  int64_t there, bears, caught, held;
  double drop[2], peak[2];  // least and most
} tally;

static void widen(double *range, double x) {
  range[0] = fmin(range[0], x);
  range[1] = fmax(range[1], x);
}

static void count_settled(const fh_lose_chance_work *w, const fhi_settled *s, tally *cells) {
  fh_lose *lose = NULL;
  fh_stages_opts opts = fh_stages_opts_default();
  // When to tie a knot is settled before anyone knows how it is.
  opts.most_drop = w->backup.limit > 0.0 ? w->backup.limit : opts.most_drop;
  assert_status(fh_lose_create(&s->scene, &s->gear, &s->scene.rig, &opts, &lose), FH_OK);
  int seen[FH_STAGE_AWAY + 1] = {0};
  for (int i = 0; i < lose->stages->count; i++) {
    fh_stage_kind kind = lose->stages->stages[i].kind;
    int number = seen[kind]++, told = 0;
    for (; told < w->stages && !(w->kind[told] == kind && number-- == 0); told++) {
    }
    for (int e = 0; e < lose->element_count && told < w->stages; e++) {
      const fh_loss *x = fh_lose_at(lose, i, e);
      tally *n = &cells[told * w->elements + e];
      n->there += x->there;
      if (x->there && x->bears) {
        n->bears++;
        n->caught += x->caught;
        n->held += x->caught && x->over_count == 0;
        if (x->caught) {
          widen(n->drop, x->drop + fmax(x->bite, 0.0));
          widen(n->peak, x->peak.likely);
        }
      }
    }
  }
  fh_lose_destroy(lose);
}

// A band's ends lie where the counted values lie, to one part in 64; below 1 mm a value counts as 0.
static void band_within(fh_band b, const double *range) {
  assert_within(b.lo, range[0] * 0.985 - 0.001, range[1] * 1.016);
  assert_within(b.hi, range[0] * 0.985 - 0.001, range[1] * 1.016);
}

static void compare(const fh_lose_chance *c, const tally *cells, int64_t samples, int *opened) {
  int differ = 0, sure = 0, open = 0;
  for (int i = 0; i < c->stages * c->elements; i++) {
    const fh_loss_chance *x = &c->losses[i];
    const tally *n = &cells[i];
    if (!(x->there > 0.0)) {
      continue;
    }
    assert_exact(x->there, (double)n->there / (double)samples);
    assert_exact(x->bears, (double)n->bears / (double)n->there);
    if (n->bears > 0) {
      differ += x->caught < 1.0 || x->held < 1.0;
      sure += x->held >= 1.0;
      open += x->held > 0.0 && x->held < 1.0;
      assert_exact(x->caught, (double)n->caught / (double)n->bears);
      assert_exact(x->held, (double)n->held / (double)n->bears);
    }
    if (n->caught > 0) {
      band_within(x->drop, n->drop);
      band_within(x->peak, n->peak);
    }
  }
  print_message("%d stages, %d elements: in %d cells something is not caught or not borne, %d are sure, %d open\n", c->stages, c->elements, differ, sure, open);
  *opened += open;
}

static void lose_itself_in_each_settled_scene_counts_the_same(void **state) {
  (void)state;
  static const char *const SCENES[][3] = {{"10", "[0.8, 8]", THREE}, {"[7, 12]", "[3, 12]", LOOP("[0.2, 0.6]")}};
  int opened = 0;
  for (size_t r = 0; r < sizeof SCENES / sizeof *SCENES; r++) {
    scene_text t = scene_read(open_scene(SCENES[r][0], SCENES[r][1], SCENES[r][2]));
    const fh_chance_opts opts = {.samples = 256, .seed = 5, .why = false};
    fh_lose_chance_work *w = NULL;
    fhi_settled *s = NULL;
    assert_status(fh_lose_chance_work_create(t.scene, t.gear, &t.scene->rig, &opts, &w), FH_OK);
    assert_status(fhi_settled_create(t.scene, t.gear, &s), FH_OK);
    tally *cells = calloc((size_t)(w->stages * w->elements), sizeof *cells);
    assert_non_null(cells);
    for (int i = 0; i < w->stages * w->elements; i++) {
      cells[i].drop[0] = cells[i].peak[0] = 1e9;
    }
    for (int b = 0; b < FHI_REPLICATES; b++) {
      for (uint32_t l = 0; l < FHI_LOSE_LANES; l++) {
        double u[FH_MAX_UNKNOWNS];
        for (int i = 0; i < w->unknowns.count; i++) {
          u[i] = fhi_sampler_one(&w->sampler[b], i, l);
        }
        fhi_settle(s, &w->unknowns, u);
        count_settled(w, s, cells);
      }
    }
    fh_lose_chance *c = chance_of(&t, 256, 5);
    compare(c, cells, 256, &opened);
    free(cells);
    fh_lose_chance_destroy(c);
    fhi_settled_destroy(s);
    fh_lose_chance_work_destroy(w);
    scene_done(&t);
  }
  assert_true(opened > 5);
}

// A scene in which only what is written in is open: stiff rope of known strength, an exact edge.
static scene_text plain_scene(const char *mass, const char *holds) {
  char yaml[1500];
  (void)snprintf(yaml, sizeof yaml,
                 "firnhaul: 1\nslot: {depth_m: 10}\nground: {station_m: 6, anchor_m: 9, holds_kN: %s}\nload: {mass_kg: %s}\n"
                 "lip: {turn_deg: 70, friction: 0.2}\nropes: [{name: main, length_m: 60, modulus_kN: 30}]\n%s",
                 holds, mass, LOOP("0.5"));
  return scene_read(yaml);
}

static void find_cell(const fh_lose *lose, int *stage, int *element) {
  for (int i = 0; i < lose->stages->count; i++) {
    *stage = lose->stages->stages[i].kind == FH_STAGE_LIP ? i : *stage;
  }
  for (int e = 0; e < lose->element_count; e++) {
    *element = lose->elements[e].kind == FH_ELEMENT_STATION ? e : *element;
  }
}

// What ordinary lose says when the station lets go while the load is at the lip.
static fh_loss at_the_lip(const char *mass, double most_drop, int *stage, int *element) {
  scene_text t = plain_scene(mass, "200");
  fh_stages_opts opts = fh_stages_opts_default();
  fh_lose *lose = NULL;
  opts.most_drop = most_drop;
  assert_status(fh_lose_create(t.scene, t.gear, &t.scene->rig, &opts, &lose), FH_OK);
  find_cell(lose, stage, element);
  fh_loss loss = *fh_lose_at(lose, *stage, *element);
  assert_true(loss.there && loss.bears && loss.caught && loss.drop > 0.1);
  fh_lose_destroy(lose);
  scene_done(&t);
  return loss;
}

// An even mass: the peak grows with it, so a twentieth of the masses gives a twentieth of the peaks.
static void an_even_mass_gives_the_peaks_of_its_quantiles(void **state) {
  (void)state;
  int stage = 0, element = 0;
  scene_text t = plain_scene("[30, 50]", "200");
  fh_lose_chance *c = chance_of(&t, 2048, 1);
  fh_lose *lose = NULL;
  assert_status(fh_lose_create(t.scene, t.gear, &t.scene->rig, NULL, &lose), FH_OK);
  double limit = lose->stages->slack_limit;  // when to tie a knot is settled by the range
  fh_lose_destroy(lose);
  fh_loss low = at_the_lip("31", limit, &stage, &element), middle = at_the_lip("40", limit, &stage, &element), high = at_the_lip("49", limit, &stage, &element);
  const fh_loss_chance *x = &c->losses[stage * c->elements + element];
  assert_exact(x->there, 1.0);
  assert_exact(x->caught, 1.0);
  print_message("peaks %.0f %.0f %.0f N, of the quantiles %.0f %.0f %.0f N\n", x->peak.lo, x->peak.likely, x->peak.hi, low.peak.likely, middle.peak.likely, high.peak.likely);
  assert_close(x->peak.lo, low.peak.likely, 0.016);
  assert_close(x->peak.likely, middle.peak.likely, 0.016);
  assert_close(x->peak.hi, high.peak.likely, 0.016);
  fh_lose_chance_destroy(c);
  scene_done(&t);
}

// An even strength of the anchor over [a, b] against one force F of the catch: it bears it in (b - F) / (b - a).
static void an_even_anchor_bears_a_catch_in_its_share(void **state) {
  (void)state;
  int stage = 0, element = 0;
  scene_text t = plain_scene("40", "[0.1, 12]");
  fh_lose_chance *c = chance_of(&t, 4096, 1);
  fh_lose *lose = NULL;
  assert_status(fh_lose_create(t.scene, t.gear, &t.scene->rig, NULL, &lose), FH_OK);
  find_cell(lose, &stage, &element);
  const fh_loss *one = fh_lose_at(lose, stage, element);
  const fh_loss_chance *x = &c->losses[stage * c->elements + element];
  double force = one->anchor.likely, want = (12e3 - force) / 11.9e3;
  print_message("anchor bears %.0f N in %.4f, by its share %.4f\n", force, x->held, want);
  assert_true(one->caught && force > 1000.0 && force < 11e3);
  assert_exact(x->caught, 1.0);
  assert_near(x->held, want, 0.002);
  fh_lose_destroy(lose);
  fh_lose_chance_destroy(c);
  scene_done(&t);
}

// Depth even over [6, 16], 2 m in the knot and in the hand: 12 m reach for depths up to 10.
static void the_share_in_which_the_rope_reaches_is_told(void **state) {
  (void)state;
  scene_text t = scene_read("firnhaul: 1\nslot: {depth_m: [6, 16]}\nload: {mass_kg: 80}\nlip: {}\nground: {}\nropes: [{name: main, length_m: 12}]\n"
                            "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {hand: crew}]}]}\n");
  fh_lose_chance *c = chance_of(&t, 512, 1);
  assert_near(c->rope, 0.4, 2.0 / 512.0);
  fh_lose_chance_destroy(c);
  scene_done(&t);
}

static char *json_of(const scene_text *t, const fh_lose_chance *c) {
  text_sink sink = {.fail_after = -1};
  fh_lose *lose = NULL;
  assert_status(fh_lose_create(t->scene, t->gear, &t->scene->rig, NULL, &lose), FH_OK);
  assert_status(fh_lose_chance_write_json(lose, c, (fh_out){text_sink_put, &sink}), FH_OK);
  text_sink closed = {.fail_after = 0};
  assert_status(fh_lose_chance_write_json(lose, c, (fh_out){text_sink_put, &closed}), FH_ERR_WRITE);
  free(closed.bytes);
  fh_lose_destroy(lose);
  return sink.bytes;
}

static void any_split_of_the_work_counts_the_same(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene("[7, 12]", "[0.8, 8]", THREE));
  const fh_chance_opts opts = {.samples = 300, .seed = 9, .why = false};
  fh_lose_chance *whole = chance_of(&t, 300, 9), *parts = NULL;
  fh_lose_chance_work *work = NULL;
  fh_lose_chance_part *a = NULL, *b = NULL;
  assert_status(fh_lose_chance_work_create(t.scene, t.gear, &t.scene->rig, &opts, &work), FH_OK);
  assert_status(fh_lose_chance_part_create(work, &a), FH_OK);
  assert_status(fh_lose_chance_part_create(work, &b), FH_OK);
  assert_int_equal(fh_lose_chance_work_blocks(work), 32);  // 512 samples
  for (int64_t i = 31; i >= 0; i--) {
    assert_status(fh_lose_chance_part_run(work, i % 3 == 0 ? a : b, i, 1), FH_OK);
  }
  fh_lose_chance_part_add(a, b);
  assert_status(fh_lose_chance_finish(work, a, &parts), FH_OK);
  char *one = json_of(&t, whole), *two = json_of(&t, parts);
  assert_string_equal(one, two);
  free(one);
  free(two);
  fh_lose_chance_destroy(whole);
  fh_lose_chance_destroy(parts);
  fh_lose_chance_part_destroy(a);
  fh_lose_chance_part_destroy(b);
  fh_lose_chance_work_destroy(work);
  scene_done(&t);
}

static void wrong_arguments(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene("10", "[3, 12]", THREE));
  fh_lose_chance *c = NULL;
  fh_chance_opts opts = {.samples = 0};
  assert_status(fh_lose_chance_create(t.scene, t.gear, &t.scene->rig, &opts, &c), FH_ERR_ARG);
  opts.samples = 1000001;
  assert_status(fh_lose_chance_create(t.scene, t.gear, &t.scene->rig, &opts, &c), FH_ERR_ARG);
  assert_status(fh_lose_chance_create(NULL, t.gear, &t.scene->rig, NULL, &c), FH_ERR_ARG);
  assert_status(fh_lose_chance_create(t.scene, t.gear, &t.scene->rig, NULL, NULL), FH_ERR_ARG);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(lose_itself_in_each_settled_scene_counts_the_same),
      cmocka_unit_test(an_even_mass_gives_the_peaks_of_its_quantiles),
      cmocka_unit_test(an_even_anchor_bears_a_catch_in_its_share),
      cmocka_unit_test(the_share_in_which_the_rope_reaches_is_told),
      cmocka_unit_test(any_split_of_the_work_counts_the_same),
      cmocka_unit_test(wrong_arguments),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
