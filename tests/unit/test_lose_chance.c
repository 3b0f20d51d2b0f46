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
    for (int b = 0; b < FHI_LOSE_REPLICATES; b++) {
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

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(lose_itself_in_each_settled_scene_counts_the_same),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
