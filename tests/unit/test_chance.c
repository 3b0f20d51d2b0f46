// SPDX-License-Identifier: MIT
// Chances against closed forms, against check's ranges, and whoever counts.
#include "fh_test.h"

#include "firnhaul_chance.h"
#include "memory.h"
#include "odds.h"
#include "scene_text.h"

#define BASE "firnhaul: 1\nslot: {depth_m: 10}\nground: {station_m: 6, anchor_m: 9}\n"
#define DIRECT "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {hand: crew}]}]}\n"
#define SIX                                                                                                                          \
  "rig: {ropes: [{name: main, path: [{tie: anchor}, {edge: lip}, {run: load, on: carabiner}, {edge: lip}, {run: station, on: toothed-capture}, " \
  "{run: t, on: pulley}, {hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 3, at_m: 1.5}]}\n"

static const double G = 9.80665;

static fh_chance *chance_of(const scene_text *t, int64_t samples, uint64_t seed, bool why) {
  fh_chance *c = NULL;
  const fh_chance_opts opts = {.samples = samples, .seed = seed, .why = why};
  assert_status(fh_chance_create(t->scene, t->gear, &t->scene->rig, &opts, &c), FH_OK);
  return c;
}

// A straight pull over the lip: W e^(mu turn) against a measured pull C. With mu even over [a, b] the chance is
// (ln(C/W) / turn - a) / (b - a).
static void one_unknown_has_a_closed_form(void **state) {
  (void)state;
  scene_text t = scene_read(BASE "load: {mass_kg: 50}\nlip: {turn_deg: 90, friction: [0.1, 0.5]}\ncrew: [{name: a, pull_N: 800}]\n" DIRECT);
  double turn = 1.57079632679489662, want = (log(800.0 / (50.0 * G)) / turn - 0.1) / 0.4;
  fh_chance *c = chance_of(&t, 65536, 1, true);
  print_message("closed form %.5f, sampled %.5f, standard error %.1e\n", want, c->crew, c->error);
  assert_near(c->crew, want, 2e-4);  // one point in each of 4,096 parts, 16 times
  assert_true(c->error < 1e-3);
  // Nine of ten samples, by the straight law of the friction.
  assert_close(c->pull.lo, 50.0 * G * exp((0.1 + 0.05 * 0.4) * turn), 0.003);
  assert_close(c->pull.likely, 50.0 * G * exp((0.1 + 0.5 * 0.4) * turn), 0.003);
  assert_close(c->pull.hi, 50.0 * G * exp((0.1 + 0.95 * 0.4) * turn), 0.003);
  // There is but one thing to know.
  assert_true(c->unknown_count >= 1);
  bool found = false;
  for (int i = 0; i < c->unknown_count; i++) {
    if (strcmp(c->unknown[i].name, "friction at the lip") == 0) {
      assert_near(c->unknown[i].pull_total, 1.0, 0.03);
      found = true;
    } else {
      assert_near(c->unknown[i].pull_total, 0.0, 1e-9);
    }
  }
  assert_true(found);
  char words[600];
  assert_non_null(strstr(fh_chance_words(c, words, sizeof words), "Know your lip first"));
  fh_chance_destroy(c);
  scene_done(&t);
}

// A normal mass against an exact limit of pull: the normal law.
static void a_normal_number_counts_as_one(void **state) {
  (void)state;
  scene_text t = scene_read(BASE "load: {mass_kg: {mean: 80, sd: 5}}\nlip: {turn_deg: 0, friction: 0}\ncrew: [{name: a, pull_N: 833.56525}]\n" DIRECT);
  fh_chance *c = chance_of(&t, 65536, 3, false);
  assert_near(c->crew, 0.841344746, 1e-3);  // one sd above the mean
  fh_chance_destroy(c);
  scene_done(&t);
}

static void everything_exact_is_sure(void **state) {
  (void)state;
  scene_text t = scene_read(BASE "load: {mass_kg: 50}\nlip: {turn_deg: 90, friction: 0.1}\ncrew: [{name: a, pull_N: 800}, {name: b, pull_N: 10}]\n" DIRECT);
  fh_chance *c = chance_of(&t, 1024, 1, true);
  assert_exact(c->crew, 1.0);
  assert_exact(c->error, 0.0);
  fh_chance_destroy(c);
  scene_done(&t);
}

static char *open_scene(const char *rig) {
  static char yaml[2000];
  (void)snprintf(yaml, sizeof yaml, "firnhaul: 1\nslot: {depth_m: 10}\nground: {station_m: 6, anchor_m: 9, anchor: t-slot, slope_deg: [-5, 5]}\n"
                                    "load: {mass_kg: [80, 100]}\nlip: {turn_deg: [60, 90], friction: [0.1, 0.4]}\n"
                                    "crew: [{name: a, mass_kg: [60, 90], footing: [0.2, 0.6]}, {name: b}]\n%s", rig);
  return yaml;
}

static void samples_lie_within_the_ranges_of_check(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(SIX));
  fh_check *k = NULL;
  assert_status(fh_check_create(t.scene, t.gear, &t.scene->rig, NULL, &k), FH_OK);
  fh_chance *c = chance_of(&t, 16384, 1, false);
  assert_true(c->pull.lo >= k->hand_force.lo && c->pull.hi <= k->hand_force.hi);
  assert_true(c->capacity.lo >= k->crew.force.lo && c->capacity.hi <= k->crew.force.hi * 1.003);
  assert_true(c->margin.lo >= fmin(20.0, k->worst_margin) * 0.997);
  assert_within(c->both, 0.0, fmin(c->crew, c->limits));
  assert_int_equal(c->limit_count, k->limit_count - 1);  // the crew is no limit here
  for (int i = 0; i < c->limit_count; i++) {
    assert_string_equal(c->limit[i].element, k->limits[i].element);
    if (k->limits[i].margin >= 1.0) {
      assert_exact(c->limit[i].holds, 1.0);
    }
  }
  fh_chance_destroy(c);
  fh_check_destroy(k);
  scene_done(&t);
}

// The batch and the solver of check, sample by sample, and every force of every limit.
static void the_fast_way_and_the_slow_way_agree(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(SIX));
  fh_check *k = NULL;
  fhi_odds *odds = calloc(1, sizeof *odds);
  fhi_odds_scratch *scratch = calloc(1, sizeof *scratch);
  static fhi_odds_out fast, slow;
  static fhi_sampler sampler;
  assert_non_null(odds);
  assert_non_null(scratch);
  assert_status(fh_check_create(t.scene, t.gear, &t.scene->rig, NULL, &k), FH_OK);
  assert_status(fhi_odds_build(t.scene, t.gear, &t.scene->rig, k, odds), FH_OK);
  assert_true(odds->fast);
  fhi_sampler_start(&sampler, 1, odds->unknowns);
  for (uint32_t b = 0; b < 20; b++) {
    fhi_odds_draw(odds, &sampler, 0, b, scratch);
    fhi_odds_block(odds, scratch, true, &fast);
    odds->fast = false;
    fhi_odds_block(odds, scratch, true, &slow);
    odds->fast = true;
    for (int l = 0; l < FHI_LANES; l++) {
      assert_close(fast.pull[l], slow.pull[l], 1e-12);
      assert_close(fast.margin[l], slow.margin[l], 1e-9);
      assert_exact(fast.capacity[l], slow.capacity[l]);
      assert_within(fast.pull[l], k->hand_force.lo * (1.0 - 1e-12), k->hand_force.hi * (1.0 + 1e-12));
    }
    for (int i = 0; i < odds->limits; i++) {
      assert_true(fast.broken[i] == slow.broken[i]);
    }
  }
  free(scratch);
  free(odds);
  fh_check_destroy(k);
  scene_done(&t);
}

static void any_split_of_the_work_counts_the_same(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(SIX));
  const fh_chance_opts opts = {.samples = 20000, .seed = 9, .why = true};
  fh_chance *whole = chance_of(&t, 20000, 9, true), *parts = NULL;
  fh_chance_work *work = NULL;
  fh_chance_part *a = NULL, *b = NULL;
  assert_status(fh_chance_work_create(t.scene, t.gear, &t.scene->rig, &opts, &work), FH_OK);
  assert_status(fh_chance_part_create(work, &a), FH_OK);
  assert_status(fh_chance_part_create(work, &b), FH_OK);
  int64_t blocks = fh_chance_work_blocks(work);
  assert_int_equal(blocks, 320);  // 20,480 samples
  for (int64_t i = blocks - 1; i >= 0; i--) {
    fh_chance_part_run(work, i % 3 == 0 ? a : b, i, 1);
  }
  fh_chance_part_add(a, b);
  assert_status(fh_chance_finish(work, a, &parts), FH_OK);
  text_sink one = {.fail_after = -1}, two = {.fail_after = -1};
  assert_status(fh_chance_write_json(whole, (fh_out){text_sink_put, &one}), FH_OK);
  assert_status(fh_chance_write_json(parts, (fh_out){text_sink_put, &two}), FH_OK);
  assert_string_equal(one.bytes, two.bytes);
  free(one.bytes);
  free(two.bytes);
  fh_chance_destroy(whole);
  fh_chance_destroy(parts);
  fh_chance_part_destroy(a);
  fh_chance_part_destroy(b);
  fh_chance_work_destroy(work);
  scene_done(&t);
}

static void more_samples_differ_by_what_the_error_says(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(SIX));
  fh_chance *best = chance_of(&t, 1 << 20, 77, false);
  int beyond = 0;
  for (uint64_t seed = 1; seed <= 40; seed++) {
    fh_chance *c = chance_of(&t, 4096, seed, false);
    beyond += fabs(c->both - best->both) > 2.0 * c->error;
    fh_chance_destroy(c);
  }
  print_message("of 40 estimates %d lie more than two standard errors off\n", beyond);
  assert_true(beyond <= 8);  // Student's law with 15 degrees of freedom: 6 % expected, 2.6 of 40
  fh_chance_destroy(best);
  scene_done(&t);
}

static void a_rig_that_rests_and_a_pull_at_an_angle_are_sampled_too(void **state) {
  (void)state;
  static const char ANGLED[] =
      "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, "
      "{hand: crew, angle_deg: 30}]}], grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n";
  scene_text t = scene_read(open_scene(ANGLED));
  fh_chance *c = chance_of(&t, 1024, 1, true);
  assert_int_equal(c->outcome, FH_OUTCOME_SOLVED);
  assert_true(c->pull.lo > 100.0 && c->pull.hi < 2000.0);
  fh_chance_destroy(c);
  scene_done(&t);
}

// An even angle of the pull: one in twenty pulls at less than a twentieth of the way, and so on. The pull grows with the angle.
static void the_angle_of_the_pull_is_sampled(void **state) {
  (void)state;
  static const char AT[] =
      "firnhaul: 1\nslot: {depth_m: 10}\nground: {station_m: 6, anchor_m: 9}\nload: {mass_kg: 80}\nlip: {friction: 0.2}\ncrew: [{name: a, pull_N: 600}]\n"
      "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture, efficiency: 0.9}, {run: t, on: pulley, efficiency: 0.9}, "
      "{hand: crew, angle_deg: %s}]}], grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n";
  static const char *const AT_SHARES[] = {"4.5", "45", "85.5"};
  char yaml[1000];
  double want[3];
  for (int i = 0; i < 3; i++) {
    (void)snprintf(yaml, sizeof yaml, AT, AT_SHARES[i]);
    scene_text t = scene_read(yaml);
    fh_check *k = NULL;
    assert_status(fh_check_create(t.scene, t.gear, &t.scene->rig, NULL, &k), FH_OK);
    want[i] = k->hand_force.likely;
    fh_check_destroy(k);
    scene_done(&t);
  }
  assert_true(want[0] < 0.9 * want[2] && want[0] < want[1] && want[1] < want[2]);
  (void)snprintf(yaml, sizeof yaml, AT, "[0, 90]");
  scene_text t = scene_read(yaml);
  fh_chance *c = chance_of(&t, 4096, 1, true);
  print_message("pull %.1f %.1f %.1f sampled, %.1f %.1f %.1f by angle\n", c->pull.lo, c->pull.likely, c->pull.hi, want[0], want[1], want[2]);
  assert_close(c->pull.lo, want[0], 0.02);  // the share of bending is open too, and moves it a little
  assert_close(c->pull.likely, want[1], 0.02);
  assert_close(c->pull.hi, want[2], 0.02);
  double most = 0.0, angle = 0.0;
  for (int i = 0; i < c->unknown_count; i++) {
    most = fmax(most, c->unknown[i].pull_total);
    angle = strcmp(c->unknown[i].name, "angle of the pull") == 0 ? c->unknown[i].pull_total : angle;
  }
  assert_exact(angle, most);
  assert_true(angle > 0.8);
  fh_chance_destroy(c);
  scene_done(&t);
}

static void a_locked_rig_has_no_chance(void **state) {
  (void)state;
  static const char LOCKED[] =
      "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture, reversed: true}, {run: t, on: pulley}, "
      "{hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n";
  scene_text t = scene_read(open_scene(LOCKED));
  fh_chance *c = chance_of(&t, 1024, 1, true);
  assert_int_equal(c->outcome, FH_OUTCOME_INFEASIBLE);
  assert_exact(c->both, 0.0);
  fh_chance_destroy(c);
  scene_done(&t);
}

static void a_figure_and_refusing_outputs(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(SIX));
  fh_chance *c = chance_of(&t, 1024, 1, true);
  for (long n = -1; n < 3; n++) {
    text_sink sink = {.fail_after = n};
    fh_status status = fh_draw_chance(t.scene, c, (fh_out){text_sink_put, &sink});
    assert_true(n < 0 ? status == FH_OK : status == FH_OK || status == FH_ERR_WRITE);
    free(sink.bytes);
  }
  text_sink sink = {.fail_after = 0};
  assert_status(fh_chance_write_json(c, (fh_out){text_sink_put, &sink}), FH_ERR_WRITE);
  free(sink.bytes);
  fh_chance_destroy(c);
  scene_done(&t);
}

static void wrong_arguments_and_no_memory(void **state) {
  (void)state;
  scene_text t = scene_read(open_scene(SIX));
  fh_chance *c = NULL;
  fh_chance_opts opts = {.samples = 0};
  assert_status(fh_chance_create(t.scene, t.gear, &t.scene->rig, &opts, &c), FH_ERR_ARG);
  opts.samples = 5000000000;
  assert_status(fh_chance_create(t.scene, t.gear, &t.scene->rig, &opts, &c), FH_ERR_ARG);
  assert_status(fh_chance_create(NULL, t.gear, &t.scene->rig, NULL, &c), FH_ERR_ARG);
  opts = (fh_chance_opts){.samples = 1024, .seed = 1, .why = true};
  for (long n = 1; n < 200; n++) {
    fhi_fault_after(n);
    fh_status status = fh_chance_create(t.scene, t.gear, &t.scene->rig, &opts, &c);
    fhi_fault_after(0);
    if (status == FH_OK) {
      assert_true(n > 3);
      fh_chance_destroy(c);
      scene_done(&t);
      return;
    }
    assert_status(status, FH_ERR_MEMORY);
  }
  fail_msg("never succeeded");
}

// Ranking by chance: the list falls, and no plan is said to be surer than its own samples.
static void plans_are_ranked_by_chance(void **state) {
  (void)state;
  scene_text t = scene_read(
      "firnhaul: 1\nload: {mass_kg: [80, 100]}\nslot: {depth_m: 6}\nlip: {surface: firn}\nground: {station_m: 4}\ncrew: [{name: a}]\n"
      "ropes: [{name: main, length_m: 60}]\nkit: [{item: carabiner, count: 4}, {item: pulley, count: 2}, {item: toothed-capture}, {item: prusik, count: 2}]\n");
  fh_plan_opts opts = fh_plan_opts_default();
  fh_plans *plans = NULL;
  opts.prefer = FH_PREFER_CHANCE;
  assert_status(fh_plans_create(t.scene, t.gear, &opts, &plans), FH_OK);
  assert_true(plans->count > 2);
  for (int i = 1; i < plans->count; i++) {
    const fh_plan *a = &plans->plans[i - 1], *b = &plans->plans[i];
    // What the person below would have to do comes before any chance.
    assert_true(!b->possible || a->asks_below < b->asks_below || b->chance <= a->chance);
    assert_true(!b->possible || a->asks_below <= b->asks_below);
  }
  fh_rig *rig = calloc(1, sizeof *rig);
  assert_non_null(rig);
  assert_status(fh_plan_rig(t.scene, t.gear, plans, 0, rig), FH_OK);
  fh_chance *c = NULL;
  const fh_chance_opts same = {.samples = 4096, .seed = 1, .why = false};
  assert_status(fh_chance_create(t.scene, t.gear, rig, &same, &c), FH_OK);
  assert_within(plans->plans[0].chance, c->both - 0.0100001, c->both + 1e-9);
  fh_chance_destroy(c);
  free(rig);
  fh_plans_destroy(plans);
  opts.prefer = FH_PREFER_PULL;
  assert_status(fh_plans_create(t.scene, t.gear, &opts, &plans), FH_OK);
  assert_nan(plans->plans[0].chance);
  fh_plans_destroy(plans);
  scene_done(&t);
}

// ---------------------------------------------------------------------------------------------------- rope that does not reach

// A straight pull: depth, 1 m for the knot, 1 m in the hand.
#define STRAIGHT(depth, length)                                                                                                    \
  "firnhaul: 1\nslot: {depth_m: " depth "}\nload: {mass_kg: 50}\nlip: {turn_deg: 90, friction: 0.1}\nground: {}\n"               \
  "crew: [{name: a, pull_N: 800}]\nropes: [{name: main, length_m: " length "}]\n" DIRECT

static fh_chance *rope_chance(const char *yaml, double *error) {
  scene_text t = scene_read(yaml);
  fh_chance *c = chance_of(&t, 65536, 1, false);
  *error = c->error;
  assert_exact(c->crew, 1.0);  // forces do not ask for rope
  assert_exact(c->limits, 1.0);
  assert_exact(c->works, 1.0);
  assert_exact(c->both, c->rope);
  scene_done(&t);
  return c;
}

static void a_rope_that_does_not_reach_leaves_no_chance(void **state) {
  (void)state;
  static const struct {
    const char *yaml;
    double want, off;
  } CASES[] = {
      {STRAIGHT("10", "12"), 1.0, 0.0},        // 12 m needed, 12 m there
      {STRAIGHT("10", "11.99"), 0.0, 0.0},
      {STRAIGHT("10", "[2, 11.9]"), 0.0, 0.0},
      {STRAIGHT("[8, 9.9]", "12"), 1.0, 0.0},
      {STRAIGHT("[5, 15]", "12"), 0.5, 3e-4},                    // depth even over [5, 15], at most 10
      {STRAIGHT("10", "[11, 15]"), 0.75, 3e-4},                  // length even over [11, 15], at least 12
      {STRAIGHT("[5, 15]", "[10, 14]"), 0.5, 2e-3},              // depth even over [5, 15] under length - 2, even over [8, 12]
      {STRAIGHT("{mean: 10, sd: 2}", "14"), 0.841344746, 1e-3},  // one sd above the mean
      {STRAIGHT("{low: 6, likely: 10, high: 14}", "14"), 0.875, 1e-3},  // a triangle: 1 - (14 - 12)^2 / (8 * 4)
  };
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    double error;
    fh_chance *c = rope_chance(CASES[i].yaml, &error);
    print_message("rope reaches: closed form %.5f, sampled %.5f, standard error %.1e\n", CASES[i].want, c->rope, error);
    assert_near(c->rope, CASES[i].want, CASES[i].off);
    fh_chance_destroy(c);
  }
}

// Depth and length even over equal widths with the middle at one half: f = 1 where length - 2 >= depth. With both as u, v even over
// [0, 1], P(f) = 1/2, E(f | u) = u, so that each makes Var(u) / Var(f) = (1/12) / (1/4) = 1/3 alone, and 1 - 1/3 = 2/3 together.
static void what_decides_on_the_rope_is_ranked(void **state) {
  (void)state;
  scene_text t = scene_read(STRAIGHT("[8, 12]", "[10, 14]"));
  fh_chance *c = chance_of(&t, 16384, 1, true);
  int found = 0;
  assert_near(c->both, 0.5, 2e-3);
  for (int i = 0; i < c->unknown_count; i++) {
    const fh_unknown *u = &c->unknown[i];
    bool rope = strcmp(u->name, "depth of the load") == 0 || strcmp(u->name, "rope main: length") == 0;
    found += rope ? 1 : 0;
    print_message("%s: alone %.4f, together %.4f\n", u->name, u->works_alone, u->works_total);
    assert_near(u->works_alone, rope ? 1.0 / 3.0 : 0.0, 0.03);  // 4,096 points
    assert_near(u->works_total, rope ? 2.0 / 3.0 : 0.0, 0.03);
    assert_near(u->pull_total, 0.0, rope ? 0.0 : 1.0);  // forces do not ask for rope
  }
  assert_int_equal(found, 2);
  char words[900];
  fh_chance_words(c, words, sizeof words);
  print_message("%s\n", words);
  assert_non_null(strstr(words, "the outcome (whether all of it goes well)"));
  assert_true(strstr(words, "Measure the rope first") != NULL || strstr(words, "Measure the depth on the rope first") != NULL);
  fh_chance_destroy(c);
  scene_done(&t);
}

// Each lane against check in the scene that the lane settles: a loop, a slack line, open distances, two ropes.
static void rope_is_counted_as_check_counts_it(void **state) {
  (void)state;
  static const char YAML[] =
      "firnhaul: 1\nslot: {depth_m: %s}\nground: {station_m: %s, anchor_m: %s}\nload: {mass_kg: 80}\nlip: {}\n"
      "ropes: [{name: main, length_m: %s, knots: 2}]\n"
      "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: %s}, {edge: lip}, {run: load, on: carabiner}, {edge: lip}, "
      "{run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 5, at_m: 1.5}]}\n";
  static const char *const NAMES[] = {"depth of the load", "distance of the station", "distance of the anchor", "rope main: length", "slack before a tie"};
  char yaml[1200], text[5][32];
  (void)snprintf(yaml, sizeof yaml, YAML, "[8, 14]", "[3, 5]", "[5, 9]", "[55, 75]", "[0.3, 1]");
  scene_text t = scene_read(yaml);
  fh_check *k = NULL;
  static fhi_odds odds;
  static fhi_odds_scratch scratch;
  static fhi_odds_out out;
  static fhi_sampler sampler;
  assert_status(fh_check_create(t.scene, t.gear, &t.scene->rig, NULL, &k), FH_OK);
  assert_status(fhi_odds_build(t.scene, t.gear, &t.scene->rig, k, &odds), FH_OK);
  fh_check_destroy(k);
  int of[5], shorts = 0;
  for (int n = 0; n < 5; n++) {
    of[n] = -1;
    for (int i = 0; i < odds.unknowns; i++) {
      of[n] = strcmp(odds.unknown[i].name, NAMES[n]) == 0 ? i : of[n];
    }
    assert_true(of[n] >= 0);
  }
  fhi_sampler_start(&sampler, 5, odds.unknowns);
  fhi_odds_draw(&odds, &sampler, 0, 0, &scratch);
  fhi_odds_block(&odds, &scratch, true, &out);
  for (int l = 0; l < FHI_LANES; l++) {
    for (int n = 0; n < 5; n++) {
      (void)snprintf(text[n], sizeof text[n], "%.15g", scratch.x[of[n]][l]);
    }
    (void)snprintf(yaml, sizeof yaml, YAML, text[0], text[1], text[2], text[3], text[4]);
    scene_text settled = scene_read(yaml);
    assert_status(fh_check_create(settled.scene, settled.gear, &settled.scene->rig, NULL, &k), FH_OK);
    bool too_short = k->rope_needed[0] > settled.scene->ropes[0].length.likely;
    assert_int_equal((out.too_short >> l) & 1, too_short);
    assert_true(!too_short || k->answer_no);
    shorts += too_short;
    fh_check_destroy(k);
    scene_done(&settled);
  }
  print_message("%d of %d settled scenes are short of rope\n", shorts, FHI_LANES);
  assert_within(shorts, 8, FHI_LANES - 8);
  scene_done(&t);
}

// What check rules out for want of room, or for knots that jam, has no chance either.
static void no_room_for_a_stroke_leaves_no_chance(void **state) {
  (void)state;
  static const char *const YAML[] = {
      "firnhaul: 1\nslot: {depth_m: 10}\nload: {mass_kg: 50}\nlip: {turn_deg: 60, friction: 0.1}\nground: {station_m: 1.7, anchor_m: 9, clearance_m: 0.5}\n"
      "crew: [{name: a, pull_N: 800}]\n"
      "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], "
      "grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n",
      "firnhaul: 1\nslot: {depth_m: 10}\nload: {mass_kg: 50}\nlip: {turn_deg: 60, friction: 0.1}\nground: {}\n"
      "crew: [{name: a, pull_N: 800}]\nropes: [{name: main, length_m: 60, knots: 3}]\n" DIRECT};
  for (int i = 0; i < 2; i++) {
    scene_text t = scene_read(YAML[i]);
    fh_check *k = NULL;
    assert_status(fh_check_create(t.scene, t.gear, &t.scene->rig, NULL, &k), FH_OK);
    assert_true(k->jams == (i == 1) && (k->resets < 0) == (i == 0) && k->ruled_out);
    fh_chance *c = chance_of(&t, 1024, 1, false);
    assert_exact(c->crew, 1.0);
    assert_exact(c->works, 0.0);
    assert_exact(c->both, 0.0);
    fh_chance_destroy(c);
    fh_check_destroy(k);
    scene_done(&t);
  }
}

// The depth is open and the rope may not do for it: the easiest rig to pull takes the most rope, and must not win by that.
static void plan_does_not_prefer_a_rope_that_does_not_reach(void **state) {
  (void)state;
  scene_text t = scene_read(
      "firnhaul: 1\nload: {mass_kg: [80, 100]}\nslot: {depth_m: [6, 24]}\nlip: {surface: firn}\nground: {station_m: 4}\ncrew: [{name: a}]\n"
      "ropes: [{name: main, length_m: 50}]\nkit: [{item: carabiner, count: 4}, {item: pulley, count: 2}, {item: toothed-capture}, {item: prusik, count: 3}]\n");
  fh_plan_opts opts = fh_plan_opts_default();
  fh_plans *plans = NULL;
  fh_rig *rig = calloc(1, sizeof *rig);
  int unsure = 0, lures = 0;
  assert_non_null(rig);
  opts.prefer = FH_PREFER_CHANCE;
  assert_status(fh_plans_create(t.scene, t.gear, &opts, &plans), FH_OK);
  for (int i = 0; i < plans->count; i++) {
    fh_check *k = NULL;
    fh_haul_chance *h = NULL;
    const fh_chance_opts few = {.samples = 4096, .seed = 1};
    assert_status(fh_plan_rig(t.scene, t.gear, plans, i, rig), FH_OK);
    assert_status(fh_check_create(t.scene, t.gear, rig, NULL, &k), FH_OK);
    assert_true(!plans->plans[i].possible || !k->ruled_out);
    if (k->rope_unsure) {
      // The raise in time settles whole scenes and asks there whether the rope is enough.
      assert_status(fh_haul_chance_create(t.scene, t.gear, rig, &few, &h), FH_OK);
      print_message("plan %d: chance %.2f, rope reaches in %.4f by haul\n", i + 1, plans->plans[i].chance, h->rope);
      assert_true(h->rope < 1.0);
      assert_true(plans->plans[i].chance <= h->rope + 0.005);
      fh_haul_chance_destroy(h);
      // By its forces alone it would stand first: it did.
      fh_chance *c = NULL;
      assert_status(fh_chance_create(t.scene, t.gear, rig, &few, &c), FH_OK);
      lures += fmin(c->crew, c->limits) > plans->plans[0].chance + 0.02 && i > 0;
      fh_chance_destroy(c);
      unsure++;
    }
    fh_check_destroy(k);
  }
  assert_true(unsure > 0 && lures > 0);
  fh_plans_destroy(plans);
  free(rig);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(one_unknown_has_a_closed_form),
      cmocka_unit_test(a_normal_number_counts_as_one),
      cmocka_unit_test(everything_exact_is_sure),
      cmocka_unit_test(samples_lie_within_the_ranges_of_check),
      cmocka_unit_test(the_fast_way_and_the_slow_way_agree),
      cmocka_unit_test(any_split_of_the_work_counts_the_same),
      cmocka_unit_test(more_samples_differ_by_what_the_error_says),
      cmocka_unit_test(a_rig_that_rests_and_a_pull_at_an_angle_are_sampled_too),
      cmocka_unit_test(the_angle_of_the_pull_is_sampled),
      cmocka_unit_test(a_locked_rig_has_no_chance),
      cmocka_unit_test(a_figure_and_refusing_outputs),
      cmocka_unit_test(wrong_arguments_and_no_memory),
      cmocka_unit_test(plans_are_ranked_by_chance),
      cmocka_unit_test(a_rope_that_does_not_reach_leaves_no_chance),
      cmocka_unit_test(what_decides_on_the_rope_is_ranked),
      cmocka_unit_test(rope_is_counted_as_check_counts_it),
      cmocka_unit_test(no_room_for_a_stroke_leaves_no_chance),
      cmocka_unit_test(plan_does_not_prefer_a_rope_that_does_not_reach),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
