// SPDX-License-Identifier: MIT
// Chances of the raise in time against closed forms, against haul itself in each settled scene, and whoever counts.
#include "fh_test.h"

#include "haul_chance.h"
#include "memory.h"
#include "scene_text.h"

#define BASE "firnhaul: 1\nground: {station_m: 6, anchor_m: 9, room_m: 60}\nreset_s: 30\nwalk_mps: 0.1\n"
#define DIRECT "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {hand: crew}]}]}\n"
#define STIFF "ropes: [{name: main, length_m: 40, modulus_kN: 5000}]\n"
#define THREE                                                                                                                        \
  "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], " \
  "grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n"
#define LOOP                                                                                                                         \
  "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: [0.2, 0.6]}, {edge: lip}, {run: load, on: carabiner}, " \
  "{edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 5, at_m: 1.5}]}\n"

static const double G = 9.80665;

static fh_haul_chance *chance_of(const scene_text *t, int64_t samples, uint64_t seed, bool why) {
  fh_haul_chance *c = NULL;
  const fh_chance_opts opts = {.samples = samples, .seed = seed, .why = why};
  assert_status(fh_haul_chance_create(t->scene, t->gear, &t->scene->rig, &opts, &c), FH_OK);
  return c;
}

static const fh_unknown *unknown_of(const fh_haul_chance *c, const char *name) {
  for (int i = 0; i < c->unknown_count; i++) {
    if (strcmp(c->unknown[i].name, name) == 0) {
      return &c->unknown[i];
    }
  }
  fail_msg("no unknown %s", name);
  return NULL;
}

// A straight pull over the lip: W e^(mu turn) against a measured pull C. With mu even over [a, b] the chance is
// (ln(C/W) / turn - a) / (b - a).
static void friction_alone_has_a_closed_form(void **state) {
  (void)state;
  scene_text t = scene_read(BASE STIFF "load: {mass_kg: 50}\nslot: {depth_m: 10}\nlip: {turn_deg: 90, friction: [0.1, 0.5]}\ncrew: [{name: a, pull_N: 800}]\n" DIRECT);
  double turn = 1.57079632679489662, want = (log(800.0 / (50.0 * G)) / turn - 0.1) / 0.4;
  fh_haul_chance *c = chance_of(&t, 32768, 1, true);
  print_message("closed form %.5f, sampled %.5f, standard error %.1e\n", want, c->crew, c->error);
  assert_exact(c->works, 1.0);
  assert_exact(c->rope, 1.0);
  assert_near(c->crew, want, 4e-4);  // one point in each of 2,048 parts, 16 times
  assert_exact(c->crew_to_lip, c->crew);
  assert_near(c->all, fmin(c->crew, c->limits), 1e-12);
  assert_close(c->greatest.lo, 50.0 * G * exp((0.1 + 0.05 * 0.4) * turn), 0.003);
  assert_close(c->greatest.likely, 50.0 * G * exp((0.1 + 0.5 * 0.4) * turn), 0.003);
  assert_close(c->greatest.hi, 50.0 * G * exp((0.1 + 0.95 * 0.4) * turn), 0.003);
  assert_near(unknown_of(c, "friction at the lip")->pull_total, 1.0, 0.05);
  char words[600];
  assert_non_null(strstr(fh_haul_chance_words(c, words, sizeof words), "friction at the lip 100 %"));
  fh_haul_chance_destroy(c);
  scene_done(&t);
}

// One stroke without friction, at walking speed: time = (depth + stretch) / speed, an even depth gives an even time.
static void depth_alone_has_a_closed_form(void **state) {
  (void)state;
  scene_text t = scene_read(BASE STIFF "load: {mass_kg: 50}\nslot: {depth_m: [6, 14]}\nlip: {turn_deg: 90, friction: 0}\ncrew: [{name: a, pull_N: 800}]\n" DIRECT);
  fh_haul_chance *c = chance_of(&t, 16384, 2, true);
  double stretch = 50.0 * G / 5e6;
  assert_close(c->time.lo, (6.0 + 0.05 * 8.0) * (1.0 + stretch) / 0.1, 0.003);
  assert_close(c->time.likely, 10.0 * (1.0 + stretch) / 0.1, 0.003);
  assert_close(c->time.hi, (6.0 + 0.95 * 8.0) * (1.0 + stretch) / 0.1, 0.003);
  assert_close(c->rope_pulled.likely, 10.0 * (1.0 + stretch), 0.003);
  assert_close(c->work.likely, 50.0 * G * 10.0, 0.004);
  assert_exact(c->strokes.lo, 1.0);
  assert_exact(c->strokes.hi, 1.0);
  assert_exact(c->resets.hi, 0.0);
  assert_exact(c->set_back.hi, 0.0);
  for (int i = 0; i < c->unknown_count; i++) {
    bool depth = strcmp(c->unknown[i].name, "depth of the load") == 0;
    assert_near(c->time_total[i], depth ? 1.0 : 0.0, depth ? 0.05 : 1e-9);
  }
  fh_haul_chance_destroy(c);
  scene_done(&t);
}

// The hole takes depth and a metre for the knot and one in the hand: 12 m of rope reach down to 10.
static void a_rope_may_be_too_short(void **state) {
  (void)state;
  scene_text t = scene_read(BASE "ropes: [{name: main, length_m: 12}]\nload: {mass_kg: 50}\nslot: {depth_m: [6, 14]}\nlip: {turn_deg: 90, friction: 0}\n"
                                 "crew: [{name: a, pull_N: 800}]\n" DIRECT);
  fh_haul_chance *c = chance_of(&t, 8192, 2, false);
  assert_near(c->rope, 0.5, 1e-3);
  assert_near(c->all, 0.5, 1e-3);
  fh_haul_chance_destroy(c);
  scene_done(&t);
}

static char *open_scene(const char *rig) {
  static char yaml[3000];
  (void)snprintf(yaml, sizeof yaml,
                 "firnhaul: 1\nslot: {depth_m: [6, 9]}\nground: {station_m: [5, 7], anchor_m: 9, holds_kN: [8, 12], slope_deg: [-5, 5], clearance_m: [0.3, 0.5]}\n"
                 "load: {mass_kg: [80, 100]}\nlip: {turn_deg: [60, 90], friction: [0.1, 0.4], cut_m: [0.1, 0.4]}\nropes: [{name: main, length_m: [30, 60]}]\n"
                 "crew: [{name: a, mass_kg: [60, 90], footing: [0.2, 0.6]}, {name: b, posture: braced}]\nreset_s: {low: 20, likely: 30, high: 60}\n%s",
                 rig);
  return yaml;
}

// What the ordinary commands say of one settled scene.
typedef struct counts {
  int64_t works, crew, lasts, crew_to_lip, rope, all;
  double strokes[2], time[2], greatest[2];  // least and most
} counts;

static void widen(double *range, double x) {
  range[0] = fmin(range[0], x);
  range[1] = fmax(range[1], x);
}

static bool rope_is_enough(const fh_scene *scene, const fh_gear *gear) {
  fh_check *k = NULL;
  double needed = 0.0;
  assert_status(fh_check_create(scene, gear, &scene->rig, NULL, &k), FH_OK);
  for (int p = 0; p < scene->rig.path_count; p++) {
    needed += k->rope_needed[p];
  }
  fh_check_destroy(k);
  return needed <= scene->ropes[0].length.likely;
}

static void count_settled(const fh_haul_chance_work *w, const fhi_settled *s, counts *n) {
  fh_haul *h = NULL;
  fh_stages_opts opts = fh_stages_opts_default();
  assert_true(w->backup.limit > 0.0);
  opts.most_drop = w->backup.limit;  // when to tie a knot is settled before anyone knows how it is
  assert_status(fh_haul_create(&s->scene, &s->gear, &s->scene.rig, &opts, &h), FH_OK);
  fh_pull crew = fh_crew_pull(&s->scene, &s->gear);
  double greatest = h->hand_force.likely;
  if (h->outcome == FH_OUTCOME_SOLVED) {
    for (int i = 0; i < h->lip_count; i++) {
      if (strcmp(h->lip[i].name, "uncleared, load limp, nearer") == 0) {
        greatest = fmax(greatest, h->lip[i].hand_force.likely);
      }
    }
    bool rope = rope_is_enough(&s->scene, &s->gear);
    n->works++;
    n->crew += greatest <= crew.force.likely;
    n->lasts += greatest <= crew.sustained.likely;
    n->crew_to_lip += h->hand_force.likely <= crew.force.likely;
    n->rope += rope;
    widen(n->strokes, h->strokes);
    widen(n->time, h->time.likely);
    widen(n->greatest, greatest);
  }
  fh_haul_destroy(h);
}

// The same samples, one by one through the public haul, check and crew.
static void haul_itself_in_each_settled_scene_counts_the_same(void **state) {
  (void)state;
  static const char *const RIGS[] = {THREE, LOOP};
  for (size_t r = 0; r < sizeof RIGS / sizeof *RIGS; r++) {
    scene_text t = scene_read(open_scene(RIGS[r]));
    const fh_chance_opts opts = {.samples = 1024, .seed = 5, .why = false};
    fh_haul_chance_work *w = NULL;
    fhi_settled *s = NULL;
    counts n = {.strokes = {1e9, 0.0}, .time = {1e9, 0.0}, .greatest = {1e9, 0.0}};
    assert_status(fh_haul_chance_work_create(t.scene, t.gear, &t.scene->rig, &opts, &w), FH_OK);
    assert_status(fhi_settled_create(t.scene, t.gear, &s), FH_OK);
    assert_true(w->unknowns.count > 15);
    for (int64_t b = 0; b < fh_haul_chance_work_blocks(w); b++) {
      for (uint32_t l = 0; l < FHI_LANES; l++) {
        double u[FH_MAX_UNKNOWNS];
        for (int i = 0; i < w->unknowns.count; i++) {
          u[i] = fhi_sampler_one(&w->sampler[b % FHI_REPLICATES], i, (uint32_t)(b / FHI_REPLICATES) * FHI_LANES + l);
        }
        fhi_settle(s, &w->unknowns, u);
        count_settled(w, s, &n);
      }
    }
    fh_haul_chance *c = chance_of(&t, 1024, 5, false);
    print_message("works %lld, crew %lld, lasts %lld, to the lip %lld, rope %lld of 1024; strokes %g to %g, time %.0f to %.0f s\n", (long long)n.works,
                  (long long)n.crew, (long long)n.lasts, (long long)n.crew_to_lip, (long long)n.rope, n.strokes[0], n.strokes[1], n.time[0], n.time[1]);
    assert_exact(c->works, (double)n.works / 1024.0);
    assert_exact(c->crew, (double)n.crew / 1024.0);
    assert_exact(c->lasts, (double)n.lasts / 1024.0);
    assert_exact(c->crew_to_lip, (double)n.crew_to_lip / 1024.0);
    assert_exact(c->rope, (double)n.rope / 1024.0);
    assert_true(n.works > 900 && n.crew_to_lip > 0 && n.crew < 1024);
    assert_within(c->strokes.lo, n.strokes[0], n.strokes[1]);
    assert_within(c->strokes.hi, n.strokes[0], n.strokes[1]);
    assert_within(c->time.lo, n.time[0], n.time[1]);
    assert_within(c->time.hi, n.time[0], n.time[1]);
    assert_true(c->greatest.hi <= n.greatest[1] * 1.002 && c->greatest.lo >= n.greatest[0] * 0.998);
    fh_haul_chance_destroy(c);
    fhi_settled_destroy(s);
    fh_haul_chance_work_destroy(w);
    scene_done(&t);
  }
}

// Up to the lip it is the raise of check: the same chance, within what counting leaves open.
static void up_to_the_lip_it_is_the_chance_of_check(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(THREE));
  fh_haul_chance *c = chance_of(&t, 16384, 1, false);
  fh_chance *k = NULL;
  const fh_chance_opts opts = {.samples = 65536, .seed = 1, .why = false};
  assert_status(fh_chance_create(t.scene, t.gear, &t.scene->rig, &opts, &k), FH_OK);
  print_message("haul %.4f and %.4f for minutes, check %.4f and %.4f\n", c->crew_to_lip, c->lasts_to_lip, k->crew, k->lasts);
  assert_near(c->crew_to_lip, k->crew, 0.01);
  assert_near(c->lasts_to_lip, k->lasts, 0.01);
  assert_close(c->pull.likely, k->pull.likely, 0.01);
  assert_close(c->capacity.likely, k->capacity.likely, 0.01);
  assert_true(c->limits <= k->limits + 0.01);  // the lip asks for more
  assert_true(c->all <= fmin(c->crew, fmin(c->rope, c->limits)) + 1e-12);
  fh_chance_destroy(k);
  fh_haul_chance_destroy(c);
  scene_done(&t);
}

static void nothing_open_is_sure_and_says_so(void **state) {
  (void)state;
  scene_text t = scene_read(BASE STIFF "load: {mass_kg: 50}\nslot: {depth_m: 10}\nlip: {turn_deg: 90, friction: 0.1}\ncrew: [{name: a, pull_N: 800}]\n" DIRECT);
  fh_haul_chance *c = chance_of(&t, 1024, 1, true);
  assert_exact(c->crew, 1.0);
  assert_exact(c->error, 0.0);
  fh_haul_chance_destroy(c);
  scene_done(&t);
  t = scene_read(BASE STIFF "load: {mass_kg: 50}\nslot: {depth_m: 10}\nlip: {turn_deg: 90, friction: 0.1}\ncrew: [{name: a, pull_N: 300}]\n" DIRECT);
  c = chance_of(&t, 1024, 1, true);
  assert_exact(c->crew, 0.0);
  assert_exact(c->all, 0.0);
  fh_haul_chance_destroy(c);
  scene_done(&t);
}

static void a_locked_rig_has_no_chance(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(
      "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture, reversed: true}, {run: t, on: pulley}, "
      "{hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n"));
  fh_haul_chance *c = chance_of(&t, 1024, 1, true);
  assert_int_equal(c->outcome, FH_OUTCOME_INFEASIBLE);
  assert_exact(c->all, 0.0);
  assert_nan(c->time.likely);
  fh_haul_chance_destroy(c);
  scene_done(&t);
}

// Three knots in the only rope have to pass the lip: nothing comes up, whatever the crew can.
static void knots_that_jam_leave_no_chance(void **state) {
  (void)state;
  scene_text t = scene_read("firnhaul: 1\nslot: {depth_m: 10}\nload: {mass_kg: 50}\nlip: {turn_deg: 60, friction: [0.1, 0.2]}\nground: {}\n"
                            "crew: [{name: a, pull_N: 900}]\nropes: [{name: main, length_m: 60, knots: 3}]\n"
                            "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {hand: crew}]}]}\n");
  fh_haul_chance *c = chance_of(&t, 1024, 1, false);
  assert_int_equal(c->outcome, FH_OUTCOME_SOLVED);
  assert_exact(c->rope, 1.0);
  assert_exact(c->works, 0.0);
  assert_exact(c->crew, 0.0);
  assert_exact(c->all, 0.0);
  fh_haul_chance_destroy(c);
  scene_done(&t);
}

static char *json_of(const fh_haul_chance *c) {
  text_sink sink = {.fail_after = -1};
  assert_status(fh_haul_chance_write_json(c, (fh_out){text_sink_put, &sink}), FH_OK);
  return sink.bytes;
}

static void any_split_of_the_work_counts_the_same(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(LOOP));
  const fh_chance_opts opts = {.samples = 1500, .seed = 9, .why = true};
  fh_haul_chance *whole = chance_of(&t, 1500, 9, true), *parts = NULL;
  fh_haul_chance_work *work = NULL;
  fh_haul_chance_part *a = NULL, *b = NULL;
  assert_status(fh_haul_chance_work_create(t.scene, t.gear, &t.scene->rig, &opts, &work), FH_OK);
  assert_status(fh_haul_chance_part_create(work, &a), FH_OK);
  assert_status(fh_haul_chance_part_create(work, &b), FH_OK);
  assert_int_equal(fh_haul_chance_work_blocks(work), 32);  // 2,048 samples
  for (int64_t i = 31; i >= 0; i--) {
    assert_status(fh_haul_chance_part_run(work, i % 3 == 0 ? a : b, i, 1), FH_OK);
  }
  fh_haul_chance_part_add(a, b);
  assert_status(fh_haul_chance_finish(work, a, &parts), FH_OK);
  char *one = json_of(whole), *two = json_of(parts);
  assert_string_equal(one, two);
  free(one);
  free(two);
  text_sink sink = {.fail_after = 0};
  assert_status(fh_haul_chance_write_json(whole, (fh_out){text_sink_put, &sink}), FH_ERR_WRITE);
  free(sink.bytes);
  fh_haul_chance_destroy(whole);
  fh_haul_chance_destroy(parts);
  fh_haul_chance_part_destroy(a);
  fh_haul_chance_part_destroy(b);
  fh_haul_chance_work_destroy(work);
  scene_done(&t);
}

static void wrong_arguments(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(THREE));
  fh_haul_chance *c = NULL;
  fh_chance_opts opts = {.samples = 0};
  assert_status(fh_haul_chance_create(t.scene, t.gear, &t.scene->rig, &opts, &c), FH_ERR_ARG);
  opts.samples = 5000000000;
  assert_status(fh_haul_chance_create(t.scene, t.gear, &t.scene->rig, &opts, &c), FH_ERR_ARG);
  assert_status(fh_haul_chance_create(NULL, t.gear, &t.scene->rig, NULL, &c), FH_ERR_ARG);
  assert_status(fh_haul_chance_create(t.scene, t.gear, &t.scene->rig, NULL, NULL), FH_ERR_ARG);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(friction_alone_has_a_closed_form),
      cmocka_unit_test(depth_alone_has_a_closed_form),
      cmocka_unit_test(a_rope_may_be_too_short),
      cmocka_unit_test(haul_itself_in_each_settled_scene_counts_the_same),
      cmocka_unit_test(up_to_the_lip_it_is_the_chance_of_check),
      cmocka_unit_test(nothing_open_is_sure_and_says_so),
      cmocka_unit_test(a_locked_rig_has_no_chance),
      cmocka_unit_test(knots_that_jam_leave_no_chance),
      cmocka_unit_test(any_split_of_the_work_counts_the_same),
      cmocka_unit_test(wrong_arguments),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
