// SPDX-License-Identifier: MIT
// A study's document, its scenes, its rows.
#include "fh_test.h"

#include "firnhaul_chance.h"
#include "firnhaul_study.h"
#include "memory.h"
#include "scene_text.h"
#include "../../src/study.h"  // the command line has a study.h of its own

static const char BASE[] =
    "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {friction: 0.2}\nground: {}\ncrew: [{name: a, pull_N: 400}, {name: b}]\n"
    "ropes: [{name: main, length_m: 60}]\n"
    "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], "
    "grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n";

typedef struct opened {
  fh_doc *doc, *base;
  fh_gear *gear;
  fh_study *study;
  fh_status status;
  fh_diag diag;
} opened;

static opened open_study(const char *yaml) {
  opened o = {0};
  assert_status(fh_gear_create(&o.gear), FH_OK);
  assert_status(cli_yaml_parse(BASE, strlen(BASE), &o.base, &o.diag), FH_OK);
  assert_status(cli_yaml_parse(yaml, strlen(yaml), &o.doc, &o.diag), FH_OK);
  o.status = fh_study_create(o.doc, &o.study, &o.diag);
  return o;
}

static void done(opened *o) {
  fh_study_destroy(o->study);
  fh_doc_destroy(o->doc);
  fh_doc_destroy(o->base);
  fh_gear_destroy(o->gear);
}

#define TOP "firnhaul_study: 1\nscene: base.yaml\n"

static fh_scene *scene_at(opened *o, int64_t index) {
  fh_scene *s = NULL;
  fh_status status = fh_study_scene_create(o->study, o->base, o->gear, index, &s, &o->diag);
  if (status != FH_OK) {
    print_error("%s: %s\n", o->diag.key, o->diag.message);
  }
  assert_status(status, FH_OK);
  return s;
}

static void a_grid_puts_each_value_in_its_place(void **state) {
  (void)state;
  opened o = open_study(TOP "vary:\n  - {key: slot.depth_m, values: [4, [6, 9]]}\n  - {key: \"crew[].mass_kg\", from: 60, to: 80, steps: 3}\n"
                            "  - {name: kit, sets: {few: {kit: [{item: pulley}]}, many: {kit: [{item: pulley, count: 3}], reset_s: 30}}}\n");
  assert_status(o.status, FH_OK);
  assert_int_equal(fh_study_count(o.study), 12);
  assert_int_equal(fh_study_axes(o.study), 3);
  for (int64_t i = 0; i < 12; i++) {
    char text[64];
    fh_scene *s = scene_at(&o, i);
    assert_exact(s->depth.lo, i < 6 ? 4.0 : 6.0);
    assert_exact(s->depth.hi, i < 6 ? 4.0 : 9.0);
    assert_exact(s->crew[0].mass.likely, 60.0 + 10.0 * (double)(i / 2 % 3));
    assert_exact(s->crew[1].mass.likely, s->crew[0].mass.likely);
    assert_int_equal(s->kit[0].count, i % 2 == 0 ? 1 : 3);
    assert_exact(s->reset_time.lo, i % 2 == 0 ? 20.0 : 30.0);
    assert_string_equal(fh_study_value(o.study, i, 2, text, sizeof text), i % 2 == 0 ? "few" : "many");
    fh_scene_destroy(s);
  }
  done(&o);
}

static void a_sample_covers_its_spans(void **state) {
  (void)state;
  opened o = open_study(TOP "sample: 64\nvary:\n  - {key: lip.friction, from: 0.1, to: 0.5}\n  - {key: slot.depth_m, values: [4, 8]}\n");
  assert_status(o.status, FH_OK);
  int part[64] = {0}, deep = 0;
  for (int64_t i = 0; i < 64; i++) {
    fh_scene *s = scene_at(&o, i);
    part[(int)((s->lip_friction.likely - 0.1) / 0.4 * 64.0)]++;
    deep += s->depth.likely > 5.0;
    fh_scene_destroy(s);
  }
  for (int i = 0; i < 64; i++) {
    assert_int_equal(part[i], 1);
  }
  assert_int_equal(deep, 32);
  done(&o);
}

static void sizes_beyond_counting_are_said_not_overflowed(void **state) {
  (void)state;
  opened o = open_study(TOP "vary:\n  - {key: a, from: 0, to: 1, steps: 1000}\n  - {key: b, from: 0, to: 1, steps: 1000}\n  - {key: c, from: 0, to: 1, steps: 1000}\n"
                            "  - {key: d, from: 0, to: 1, steps: 1000}\n  - {key: e, from: 0, to: 1, steps: 1000}\n  - {key: f, from: 0, to: 1, steps: 1000}\n"
                            "  - {key: g, from: 0, to: 1, steps: 1000}\n");
  assert_status(o.status, FH_OK);
  assert_true(fh_study_count(o.study) == INT64_MAX);
  done(&o);
}

static void rows_hold_what_the_scene_gives(void **state) {
  (void)state;
  opened o = open_study(TOP "samples: 1024\nvary:\n  - {key: lip.friction, values: [0.1, 0.6]}\n  - {key: title, values: [plain, \"with, comma\"]}\n");
  assert_status(o.status, FH_OK);
  fh_study_map *map = NULL;
  text_sink sink = {.fail_after = -1};
  fh_out out = {text_sink_put, &sink};
  assert_status(fh_study_map_create(o.study, &map), FH_OK);
  assert_status(fh_study_header_write(o.study, out), FH_OK);
  double easy = 0.0;
  fh_study_work *work = NULL;
  assert_status(fh_study_work_create(o.study, o.base, o.gear, &work), FH_OK);
  for (int64_t i = 0; i < 4; i++) {
    fh_study_row row;
    assert_status(fh_study_row_run(work, i, &row, &o.diag), FH_OK);
    assert_status(fh_study_row_write(o.study, &row, out), FH_OK);
    fh_study_map_add(map, o.study, &row);
    easy = i == 0 ? row.figure[0] : easy;
    assert_within(row.figure[0], 0.0, 1.0);
    assert_true(i < 2 || row.figure[0] <= easy);
  }
  fh_study_work_destroy(work);
  assert_non_null(strstr(sink.bytes, "scene,lip.friction,title,chance_both,"));
  assert_non_null(strstr(sink.bytes, "\n1,0.1,\"with, comma\","));
  assert_status(fh_draw_study(o.study, map, out), FH_OK);
  assert_null(strstr(sink.bytes, "nan"));
  assert_non_null(fh_study_figure_name(16));
  assert_null(fh_study_figure_name(17));
  free(sink.bytes);
  fh_study_map_destroy(map);
  done(&o);
}

static void no_chance_is_drawn_as_sure_or_as_none(void **state) {
  (void)state;
  opened o = open_study(TOP "samples: 1024\nvary:\n  - {key: lip.friction, values: [0.1, 0.2, 0.3, 0.4]}\n");
  const double chances[] = {1.0, 0.0, 0.995, 0.5};
  fh_study_map *map = NULL;
  text_sink sink = {.fail_after = -1};
  assert_status(fh_study_map_create(o.study, &map), FH_OK);
  for (int64_t i = 0; i < 4; i++) {
    fh_study_row row = {.index = i, .figure = {chances[i]}};
    fh_study_map_add(map, o.study, &row);
  }
  assert_status(fh_draw_study(o.study, map, (fh_out){text_sink_put, &sink}), FH_OK);
  assert_non_null(strstr(sink.bytes, ">&gt;99</text>"));
  assert_non_null(strstr(sink.bytes, ">&lt;1</text>"));
  assert_non_null(strstr(sink.bytes, ">99</text>"));
  assert_non_null(strstr(sink.bytes, ">50</text>"));
  assert_null(strstr(sink.bytes, ">100</text>"));
  free(sink.bytes);
  fh_study_map_destroy(map);
  done(&o);
}

// The first scene, then in another order, back and forth: the room that stays must not show in what is worked out.
static void a_row_depends_on_its_scene_alone(void **state) {
  (void)state;
  opened o = open_study(TOP "samples: 1024\nvary:\n  - {key: slot.depth_m, values: [4, [6, 9], 7.25]}\n  - {key: \"crew[].mass_kg\", from: 60, to: 80, steps: 3}\n"
                     "  - {key: ground.anchor, values: [t-slot, t-slot-reinforced]}\n  - {name: pace, sets: {slow: {reset_s: 40}, other: {reset_s: 30, wet: true}}}\n");
  assert_status(o.status, FH_OK);
  fh_study_work *stays = NULL;
  assert_status(fh_study_work_create(o.study, o.base, o.gear, &stays), FH_OK);
  const int64_t count = fh_study_count(o.study);
  assert_int_equal(count, 36);
  for (int64_t k = 0; k < 2 * count; k++) {
    int64_t i = k < count ? k : k * 25 % count;
    fh_study_work *fresh = NULL;
    fh_study_row a, b;
    assert_status(fh_study_work_create(o.study, o.base, o.gear, &fresh), FH_OK);
    assert_status(fh_study_row_run(stays, i, &a, &o.diag), FH_OK);
    assert_status(fh_study_row_run(fresh, i, &b, &o.diag), FH_OK);
    assert_memory_equal(&a, &b, sizeof a);
    fh_study_work_destroy(fresh);
  }
  fh_study_work_destroy(stays);
  done(&o);
}

// Every way in which one scene may follow another, against a scene that nothing came before: the same bytes, all of them.
static void a_scene_read_again_is_the_scene_read_whole(void **state) {
  (void)state;
  static const char *const STUDIES[] = {
      TOP "vary:\n  - {key: lip.surface, values: [ice, firn, padded]}\n  - {key: slot.depth_m, from: 3, to: 9, steps: 3}\n  - {key: wet, values: [true, false]}\n",
      TOP "vary:\n  - {key: ground.station_m, values: [2.5, 3, 3.5]}\n  - {key: \"crew[].footing\", from: 0.2, to: 0.5, steps: 2}\n  - {key: load.mass_kg, values: [70, [80, 90], 100]}\n",
      TOP "vary:\n  - {key: lip.friction, from: 0.1, to: 0.5, steps: 4}\n  - {key: \"ropes[].length_m\", values: [55, 70]}\n  - {key: \"crew[0].pull_N\", values: [300, 500]}\n",
      TOP "vary:\n  - {key: \"rig.grips[0].at_m\", values: [1.2, 1.5]}\n  - {key: ground.slope_deg, from: 0, to: 20, steps: 3}\n  - {key: reset_s, values: [10, 20]}\n",
      TOP "vary:\n  - {key: ground.anchor_m, values: [6, 9]}\n  - {key: lip.cut_m, values: [0, 0.3]}\n  - {key: title, values: [a, b]}\n  - {name: s, sets: {x: {kit: [{item: pulley}]}, y: {reset_s: 30}}}\n",
  };
  for (size_t k = 0; k < sizeof STUDIES / sizeof STUDIES[0]; k++) {
    opened o = open_study(STUDIES[k]);
    assert_status(o.status, FH_OK);
    fhi_study_doc made = {.doc = NULL};
    fh_scene *stays = calloc(1, sizeof *stays);
    const int64_t count = fh_study_count(o.study);
    for (int64_t i = 0; i < 2 * count; i++) {
      int64_t index = i < count ? i : i * 5 % count;
      fh_scene *fresh = scene_at(&o, index);
      assert_status(fhi_study_scene_fill(o.study, o.base, o.gear, index, &made, stays, &o.diag), FH_OK);
      assert_memory_equal(stays, fresh, sizeof *fresh);
      fh_scene_destroy(fresh);
    }
    free(stays);
    fhi_study_doc_clear(&made);
    done(&o);
  }
}

// A value that only the whole scene refuses (the anchor before the station, a grip off its strand) is refused all the same.
static void a_scene_read_again_is_checked(void **state) {
  (void)state;
  static const char *const STUDIES[] = {
      TOP "vary:\n  - {key: ground.station_m, values: [3, 1.2]}\n",
      TOP "vary:\n  - {key: ground.anchor_m, values: [9, 1]}\n",
      TOP "vary:\n  - {key: slot.depth_m, values: [9, 90]}\n",
      TOP "vary:\n  - {key: lip.friction, values: [0.2, 3]}\n",
  };
  for (size_t k = 0; k < sizeof STUDIES / sizeof STUDIES[0]; k++) {
    opened o = open_study(STUDIES[k]);
    assert_status(o.status, FH_OK);
    fhi_study_doc made = {.doc = NULL};
    fh_scene *stays = calloc(1, sizeof *stays), *fresh = NULL;
    fh_diag whole;
    memset(&whole, 0, sizeof whole);
    memset(&o.diag, 0, sizeof o.diag);
    assert_status(fhi_study_scene_fill(o.study, o.base, o.gear, 0, &made, stays, &o.diag), FH_OK);
    assert_status(fhi_study_scene_fill(o.study, o.base, o.gear, 1, &made, stays, &o.diag), FH_ERR_INPUT);
    assert_status(fh_study_scene_create(o.study, o.base, o.gear, 1, &fresh, &whole), FH_ERR_INPUT);
    assert_memory_equal(&o.diag, &whole, sizeof whole);
    assert_status(fhi_study_scene_fill(o.study, o.base, o.gear, 0, &made, stays, &o.diag), FH_OK);
    fhi_study_doc_clear(&made);
    free(stays);
    done(&o);
  }
}

// Against the calls that anyone may make for one scene: the same bits.
static void a_row_is_what_chance_and_check_give(void **state) {
  (void)state;
  opened o = open_study(TOP "samples: 2048\nseed: 9\nvary:\n  - {key: lip.friction, from: 0.1, to: 0.6, steps: 4}\n  - {key: slot.depth_m, values: [4, [6, 9]]}\n");
  fh_study_work *work = NULL;
  assert_status(fh_study_work_create(o.study, o.base, o.gear, &work), FH_OK);
  for (int64_t i = 0; i < 8; i++) {
    const fh_chance_opts opts = {.samples = 2048, .seed = 9};
    const fh_check_opts quick = {.lower = false, .ranges = false};
    fh_scene *s = scene_at(&o, i);
    fh_study_row row;
    fh_chance *c = NULL;
    fh_check *k = NULL;
    assert_status(fh_study_row_run(work, i, &row, &o.diag), FH_OK);
    assert_status(fh_chance_create(s, o.gear, &s->rig, &opts, &c), FH_OK);
    assert_status(fh_check_create(s, o.gear, &s->rig, &quick, &k), FH_OK);
    const double want[] = {c->both, c->crew, c->lasts, c->limits, c->error, c->pull.lo, c->pull.likely, c->pull.hi, c->capacity.likely, c->share.likely,
                           c->margin.lo, k->ideal_advantage, k->pieces, k->resets, k->time.likely, 1.0, c->rope};
    assert_memory_equal(row.figure, want, sizeof want);
    fh_check_destroy(k);
    fh_chance_destroy(c);
    fh_scene_destroy(s);
  }
  fh_study_work_destroy(work);
  done(&o);
}

// rig: plan against trying every rig with up to four bends with all samples, one by one: nothing that was dropped on the way was better.
static void the_best_rig_is_the_best_of_all(void **state) {
  (void)state;
  opened o = open_study(TOP "rig: plan\nsamples: 4096\nvary:\n  - {name: kit, sets: {few: {kit: [{item: carabiner, count: 4}, {item: prusik, count: 2}]}, "
                            "more: {kit: [{item: carabiner, count: 4}, {item: pulley, count: 1}, {item: toothed-capture}, {item: prusik, count: 2}]}}}\n"
                            "  - {name: crew, sets: {weak: {crew: [{name: a, footing: [0.1, 0.5], gloves: thick}]}, two: {crew: [{name: a}, {name: b}]}}}\n"
                            "  - {key: lip.friction, values: [0.1, [0.3, 0.6]]}\n  - {name: rope, sets: {long: {ropes: [{name: main, length_m: 60}]}, short: {ropes: [{name: main, length_m: 22}]}}}\n");
  assert_status(o.status, FH_OK);
  fh_study_work *work = NULL;
  int short_ropes = 0;
  assert_status(fh_study_work_create(o.study, o.base, o.gear, &work), FH_OK);
  for (int64_t i = 0; i < fh_study_count(o.study); i++) {
    fh_scene *s = scene_at(&o, i);
    fh_plan_opts opts = fh_plan_opts_default();
    fh_plans *plans = NULL;
    fh_rig *rig = calloc(1, sizeof *rig);
    double best = 0.0;
    opts.all = true;
    opts.max_contacts = 4;
    assert_status(fh_plans_create(s, o.gear, &opts, &plans), FH_OK);
    for (int k = 0; k < plans->count; k++) {
      const fh_chance_opts chance = {.samples = 4096, .seed = 1};
      fh_chance *c = NULL;
      fh_check *check = NULL;
      assert_status(fh_plan_rig(s, o.gear, plans, k, rig), FH_OK);
      assert_status(fh_chance_create(s, o.gear, rig, &chance, &c), FH_OK);
      assert_status(fh_check_create(s, o.gear, rig, NULL, &check), FH_OK);
      assert_true(!check->ruled_out || c->both == 0.0);  // lengths are exact here
      best = fmax(best, c->both);
      short_ropes += check->ruled_out;
      fh_check_destroy(check);
      fh_chance_destroy(c);
    }
    fh_study_row row;
    assert_status(fh_study_row_run(work, i, &row, &o.diag), FH_OK);
    print_message("scene %d: %d rigs, best chance %.4f, study %.4f\n", (int)i, plans->count, best, row.figure[0]);
    assert_true(row.figure[0] >= floor(100.0 * best + 1e-9) / 100.0 - 1e-12);
    free(rig);
    fh_plans_destroy(plans);
    fh_scene_destroy(s);
  }
  assert_true(short_ropes > 10);  // a rig whose rope does not reach has no chance, whatever its forces
  fh_study_work_destroy(work);
  done(&o);
}

static void assert_study_refused(const char *yaml, int line, const char *key) {
  opened o = open_study(yaml);
  assert_status(o.status, FH_ERR_INPUT);
  assert_int_equal(o.diag.line, line);
  assert_string_equal(o.diag.key, key);
  assert_true(o.diag.message[0] != '\0' && o.diag.accepted[0] != '\0');
  done(&o);
}

static void bad_studies_are_refused_with_their_place(void **state) {
  (void)state;
  assert_study_refused("firnhaul: 1\n", 1, "");
  assert_study_refused("firnhaul_study: 1\nvary: []\n", 1, "scene");
  assert_study_refused(TOP, 1, "vary");
  assert_study_refused(TOP "vary: []\n", 3, "vary");
  assert_study_refused(TOP "vary:\n  - {key: a}\n", 4, "a");
  assert_study_refused(TOP "vary:\n  - {key: a, from: 2, to: 1, steps: 3}\n", 4, "a");
  assert_study_refused(TOP "vary:\n  - {key: a, from: 1, to: 2}\n", 4, "a");
  assert_study_refused(TOP "vary:\n  - {key: a, from: 1, to: 2, steps: 1}\n", 4, "steps");
  assert_study_refused(TOP "vary:\n  - {key: a, values: 3}\n", 4, "a");
  assert_study_refused(TOP "vary:\n  - {key: a, values: [1]}\n  - {key: a, values: [2]}\n", 5, "a");
  assert_study_refused(TOP "vary:\n  - {name: a, sets: {x: 3}}\n", 4, "x");
  assert_study_refused(TOP "vary:\n  - {key: a, values: [1], step: 3}\n", 4, "step");
  assert_study_refused(TOP "samples: 10\nvary:\n  - {key: a, values: [1]}\n", 3, "samples");
  assert_study_refused(TOP "rig: best\nvary:\n  - {key: a, values: [1]}\n", 3, "rig");
  assert_study_refused(TOP "plot: {x: b}\nvary:\n  - {key: a, values: [1]}\n", 3, "plot");
  assert_study_refused(TOP "colour: red\nvary:\n  - {key: a, values: [1]}\n", 3, "colour");
}

static void a_value_that_the_scene_refuses_is_placed_in_the_study(void **state) {
  (void)state;
  opened o = open_study(TOP "vary:\n  - {key: slot.depth_m, values: [4, -3]}\n  - {key: nothing.here, values: [1]}\n");
  fh_scene *s = NULL;
  assert_status(fh_study_scene_create(o.study, o.base, o.gear, 0, &s, &o.diag), FH_ERR_INPUT);
  assert_string_equal(o.diag.key, "nothing.here");
  assert_int_equal(o.diag.line, 5);
  done(&o);
  o = open_study(TOP "vary:\n  - {key: slot.depth_m, values: [4, -3]}\n");
  assert_status(fh_study_scene_create(o.study, o.base, o.gear, 1, &s, &o.diag), FH_ERR_INPUT);
  assert_string_equal(o.diag.key, "slot.depth_m");
  assert_int_equal(o.diag.line, 4);
  done(&o);
}

static void every_allocation_may_fail(void **state) {
  (void)state;
  opened o = open_study(TOP "samples: 1024\nvary:\n  - {key: lip.friction, values: [0.1, 0.6]}\n");
  for (long n = 1; n < 500; n++) {
    fh_scene *s = NULL;
    fh_study_work *work = NULL;
    fh_study_row row;
    fhi_fault_after(n);
    fh_status status = fh_study_scene_create(o.study, o.base, o.gear, 1, &s, &o.diag);
    status = status != FH_OK ? status : fh_study_work_create(o.study, o.base, o.gear, &work);
    for (int64_t i = 0; i < 3 && status == FH_OK; i++) {
      status = fh_study_row_run(work, i % 2, &row, &o.diag);
    }
    fhi_fault_after(0);
    fh_study_work_destroy(work);
    fh_scene_destroy(s);
    if (status == FH_OK) {
      assert_true(n > 3);
      done(&o);
      return;
    }
    assert_status(status, FH_ERR_MEMORY);
  }
  fail_msg("never succeeded");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_grid_puts_each_value_in_its_place),
      cmocka_unit_test(a_sample_covers_its_spans),
      cmocka_unit_test(sizes_beyond_counting_are_said_not_overflowed),
      cmocka_unit_test(rows_hold_what_the_scene_gives),
      cmocka_unit_test(no_chance_is_drawn_as_sure_or_as_none),
      cmocka_unit_test(a_row_depends_on_its_scene_alone),
      cmocka_unit_test(a_scene_read_again_is_the_scene_read_whole),
      cmocka_unit_test(a_scene_read_again_is_checked),
      cmocka_unit_test(a_row_is_what_chance_and_check_give),
      cmocka_unit_test(the_best_rig_is_the_best_of_all),
      cmocka_unit_test(bad_studies_are_refused_with_their_place),
      cmocka_unit_test(a_value_that_the_scene_refuses_is_placed_in_the_study),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
