// SPDX-License-Identifier: MIT
// Does the raise in time keep its books? Strokes, stretch, set-back and work by hand for rigs that can be done by hand, and
// what has to hold for random rigs (tests/refs/common/random_rig.h). Model section 7.
#include "scene_text.h"

#include "haul.h"
#include "memory.h"

#include "../refs/common/rng.c"

#include "../refs/common/build.c"
#include "../refs/common/known.c"
#include "../refs/common/random_rig.c"

static const double G = 9.80665;

static fh_haul *run(const fh_scene *s, const fh_gear *gear) {
  fh_haul *h = NULL;
  assert_status(fh_haul_create(s, gear, &s->rig, NULL, &h), FH_OK);
  return h;
}

// A scene whose numbers are plain. `more` goes on behind the fixed part.
#define PLAIN(ground, modulus, more)                                                                              \
  "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 6}\nlip: {turn_deg: 80, friction: 0}\nground: " ground "\n" \
  "crew: [{mass_kg: 75, pull_N: 2000}]\nreset_s: 30\nwalk_mps: 0.5\n"                                              \
  "ropes: [{name: main, length_m: 60, modulus_kN: " modulus "}]\n" more

#define THREE(eta)                                                                                                       \
  "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture, efficiency: " eta "}, " \
  "{run: t, on: pulley, efficiency: " eta "}, {hand: crew}]}], "                                                         \
  "grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1}]}\n"

static void a_stiff_smooth_three_to_one_is_ideal(void **state) {
  (void)state;
  // The block goes from 1 m to 0.4 m before the station at 4.4 m: 3 m a stroke, two strokes for 6 m.
  scene_text t = scene_read(PLAIN("{station_m: 4.4, anchor_m: 7}", "5000", THREE("1")));
  fh_haul *h = run(t.scene, t.gear);
  assert_int_equal(h->outcome, FH_OUTCOME_SOLVED);
  assert_int_equal(h->strokes, 2);
  assert_int_equal(h->resets, 1);
  assert_close(h->hand_force.likely, 80.0 * G / 3.0, 1e-12);
  assert_near(h->rope_pulled, 18.0, 0.1);  // set-back by the capture's 0.015 m and some millimetres of stretch
  assert_close(h->work.lift, 80.0 * G * 6.0, 1e-12);
  assert_within(h->work.in / h->work.lift, 1.0, 1.02);
  assert_string_equal(h->touches, "a moving block reaches the next one");
  fh_haul_destroy(h);
  scene_done(&t);
}

// Rope in the hand counts from its last bend. Strand from the station to the block: 3.4 m long at the start, tension W/3;
// w = 1 hand travel a metre. On a smooth edge the load side has the weight before and after.
static void stretch_is_tension_times_length_over_modulus(void **state) {
  (void)state;
  scene_text t = scene_read(PLAIN("{station_m: 4.4, anchor_m: 7}", "10", THREE("1")));
  fh_haul *h = run(t.scene, t.gear);
  double w = 80.0 * G;
  assert_close(h->stretch_first, 1.0 * (w / 3.0) * 3.4 / 10000.0, 1e-9);
  assert_true(h->stretch_lost > h->stretch_first && h->work.stretch > 0.0);
  fh_haul_destroy(h);
  scene_done(&t);
}

// A loop on a separate first line: both its strands are slack before the first pull. Each carries half, and a metre more of
// loop costs three metres at the hand.
static void a_new_loop_stretches_in_the_first_stroke(void **state) {
  (void)state;
  scene_text t = scene_read(PLAIN("{station_m: 4.4, anchor_m: 7}", "10",
                                  "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.5}, {edge: lip}, "
                                  "{run: load, on: pulley, efficiency: 1}, {edge: lip}, {run: station, on: toothed-capture, efficiency: 1}, "
                                  "{run: t, on: pulley, efficiency: 1}, {hand: crew}]}], "
                                  "grips: [{body: t, hitch: prusik, rope: main, after: 5, at_m: 1}]}\n"));
  fh_haul *h = run(t.scene, t.gear);
  assert_int_equal(h->outcome, FH_OUTCOME_SOLVED);
  double half = 80.0 * G / 2.0, m = 10000.0;
  double loop = 3.0 * half * (7.0 + 6.0 + 6.0 + 1.0) / m;      // anchor, down, up, to the block
  double before = 1.0 * (half / 3.0) * 3.4 / m, behind = before;  // block to station, station to block
  assert_within(h->stretch_first, loop + before + behind - 1e-9, 1.6 * (loop + before + behind));  // knots pause the stroke
  assert_true(h->knot_count >= 5);
  fh_haul_destroy(h);
  scene_done(&t);
}

#define DIRECT(modulus, friction)                                                                                           \
  "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 20}\nlip: {turn_deg: 90, friction: " friction "}\n"                    \
  "ground: {station_m: 4, anchor_m: 6, room_m: 6}\ncrew: [{mass_kg: 75, pull_N: 4000}]\nreset_s: 30\nwalk_mps: 0.5\n"       \
  "ropes: [{name: main, length_m: 60, modulus_kN: " modulus "}]\n"                                                          \
  "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture, efficiency: 1}, "        \
  "{hand: crew, toward: back}]}]}\n"

// delta - L W (e^mu - e^-mu) / M, as the model writes it: 4 m of rope from the lip to the capture.
static void the_load_sinks_by_the_set_back_that_stretch_leaves(void **state) {
  (void)state;
  static const struct {
    const char *scene;
    double modulus, mu;
  } CASES[] = {{DIRECT("5000", "0"), 5e6, 0.0}, {DIRECT("5000", "0.2"), 5e6, 0.2}, {DIRECT("400", "0.2"), 4e5, 0.2}, {DIRECT("10", "0.2"), 1e4, 0.2}};
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    scene_text t = scene_read(CASES[i].scene);
    fh_haul *h = run(t.scene, t.gear);
    assert_int_equal(h->outcome, FH_OUTCOME_SOLVED);
    double turn = CASES[i].mu * 1.57079632679489661923, w = 80.0 * G;
    double want = fmax(0.0, h->slip_each - 4.0 * w * (exp(turn) - exp(-turn)) / CASES[i].modulus);
    assert_near(h->set_back_each, want, 1e-9);
    assert_near(h->set_back, want * h->resets, 1e-9);
    assert_exact(h->slip_each, fh_gear_figure(t.gear, fh_gear_find(t.gear, "toothed-capture"), "set_back_m", NULL).likely);
    fh_haul_destroy(h);
    scene_done(&t);
  }
}

static void the_hauler_s_room_ends_a_direct_stroke(void **state) {
  (void)state;
  scene_text t = scene_read(DIRECT("5000", "0"));
  fh_haul *h = run(t.scene, t.gear);
  assert_string_equal(h->touches, "the hauler has no more room to walk back");
  assert_int_equal(h->strokes, 11);  // 20 m by 2 m, less the set-back of each
  fh_haul_destroy(h);
  scene_done(&t);
}

static void time_is_pulls_resets_and_rests(void **state) {
  (void)state;
  scene_text t = scene_read(PLAIN("{station_m: 4.4, anchor_m: 7}", "5000", THREE("1")));
  fh_haul *h = run(t.scene, t.gear);
  assert_near(h->time.likely, h->time_pull + h->time_reset + h->time_rest, 1e-9);
  assert_near(h->time_reset, 30.0 * h->resets, 1e-9);
  // Likely power for minutes over the pull is below the walk's half a metre a second.
  fh_number power = fh_gear_figure(t.gear, fh_gear_find(t.gear, "crew"), "power_minutes_W", NULL);
  assert_true(power.likely / h->hand_force.likely < 0.5);
  assert_near(h->time_pull, h->rope_pulled * h->hand_force.likely / power.likely, 1e-6);
  assert_true(h->time.lo <= h->time.likely && h->time.likely <= h->time.hi);
  fh_haul_destroy(h);
  scene_done(&t);
}

static void a_pull_that_nobody_keeps_up_needs_rests(void **state) {
  (void)state;
  scene_text t = scene_read("firnhaul: 1\nload: {mass_kg: 120}\nslot: {depth_m: 12}\nlip: {friction: 0.3}\nground: {station_m: 9, anchor_m: 12, room_m: 40}\n"
                            "crew: [{mass_kg: 75, pull_N: 400}]\nreset_s: 1\nropes: [{name: main, length_m: 60}]\n" THREE("0.8"));
  fh_haul *h = run(t.scene, t.gear);
  assert_true(h->effort > 1.0 && h->time_rest > 0.0);
  fh_haul_destroy(h);
  scene_done(&t);
}

// ---------------------------------------------------------------------------------------------------- any rig

static fh_gear *gear;
static ref_items items;

static int find_gear(void **state) {
  (void)state;
  return fh_gear_create(&gear) == FH_OK && ref_items_find(gear, &items) ? 0 : -1;
}

static int drop_gear(void **state) {
  (void)state;
  fh_gear_destroy(gear);
  return 0;
}

static fh_scene *random_scene(uint64_t seed) {
  ref_wish wish = ref_wish_default();
  wish.spoil = 0.0;
  wish.tended = 0.3;
  fh_scene *s = ref_random_make(seed, &items, &wish);
  assert_non_null(s);
  return s;
}

static void work_in_is_lift_friction_and_stretch(void **state) {
  (void)state;
  int seen = 0;
  for (uint64_t seed = 1; seed <= 600; seed++) {
    fh_scene *s = random_scene(seed);
    fh_haul *h = run(s, gear);
    if (h->outcome == FH_OUTCOME_SOLVED) {
      seen++;
      double sum = h->work.lift + h->work.friction + h->work.stretch;
      assert_near(h->work.in, sum, 1e-9 * h->work.in);  // 1e-6 is asked for; sums of some hundred terms
      assert_close(h->work.lift, s->load_mass.likely * G * s->depth.likely, 1e-9);
      assert_true(h->work.friction >= -1e-9 * h->work.in && h->work.stretch >= 0.0);
      assert_true(h->resets == h->strokes - 1 && h->strokes >= 1);
    }
    assert_int_not_equal(h->outcome, FH_OUTCOME_UNRESOLVED);
    fh_haul_destroy(h);
    free(s);
  }
  assert_true(seen > 250);
}

static void the_trace_ends_at_the_lip_and_never_goes_back_in_time(void **state) {
  (void)state;
  for (uint64_t seed = 1000; seed < 1200; seed++) {
    fh_scene *s = random_scene(seed);
    fh_haul *h = run(s, gear);
    for (int i = 1; i < h->trace_count; i++) {
      const fh_trace_row *a = &h->trace[i - 1], *b = &h->trace[i];
      assert_true(b->time >= a->time && b->hand_travel >= a->hand_travel - 1e-9 && b->stroke >= a->stroke);
      assert_true(b->phase == FH_PHASE_HAUL || b->height <= a->height + 1e-12);  // only hauling lifts
      assert_true(isnan(b->slack) || b->slack >= -1e-9);
    }
    if (h->outcome == FH_OUTCOME_SOLVED) {
      const fh_trace_row *last = &h->trace[h->trace_count - 1];
      assert_near(last->height, s->depth.likely, 1e-9);
      assert_near(last->hand_travel, h->rope_pulled, 1e-9 * fmax(1.0, h->rope_pulled));
      assert_near(last->time, h->time.likely, 1e-6);
    }
    fh_haul_destroy(h);
    free(s);
  }
}

// Hand travel per stretch, from the speeds, against work without friction: F w = t.
static void hand_travel_per_stretch_is_tension_over_pull(void **state) {
  (void)state;
  int seen = 0;
  for (uint64_t seed = 2000; seed < 2300; seed++) {
    fh_scene *s = random_scene(seed);
    fhi_raise *r = NULL;
    double one[FHI_MAX_CONTACTS], t[FH_MAX_STRANDS];
    assert_status(fhi_raise_create(s, gear, &s->rig, &r), FH_OK);
    for (int c = 0; c < FHI_MAX_CONTACTS; c++) {
      one[c] = 1.0;
    }
    if (r->outcome == FH_OUTCOME_SOLVED && r->single && !r->motion.coupled && fhi_raise_tensions(r, one, t)) {
      for (int k = 0; k < r->model.strand_count; k++) {
        double stretch[FH_MAX_STRANDS] = {0.0};
        fhi_take_up up;
        stretch[k] = r->piece[k] >= 0 ? 1.0 : 0.0;
        fhi_raise_take_up(r, stretch, &up);
        assert_near(up.hand * t[r->model.hand_strand], r->piece[k] >= 0 ? t[k] : 0.0, 1e-9);
        seen++;
      }
    }
    fhi_raise_destroy(r);
    free(s);
  }
  assert_true(seen > 500);
}

static void knots_keep_the_slack_within_its_limit(void **state) {
  (void)state;
  scene_text t = scene_read("firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 20}\nlip: {friction: 0.2}\nground: {station_m: 5, anchor_m: 7}\n"
                            "crew: [{mass_kg: 75, pull_N: 1500}]\nropes: [{name: a, length_m: 60}, {name: b, length_m: 60}]\n"
                            "rig: {ropes: [{name: a, path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.5}]}, "
                            "{name: b, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], "
                            "grips: [{body: t, hitch: prusik, rope: b, after: 1, at_m: 1}]}\n");
  fh_stages_opts o = fh_stages_opts_default();
  fh_haul *h = run(t.scene, t.gear);
  assert_near(h->knot_every, o.most_drop - o.slack_left, 1e-12);
  assert_in_range(h->knot_count, 18, 22);  // twenty metres, one a metre
  for (int i = 0; i < h->trace_count; i++) {
    assert_true(h->trace[i].slack <= o.most_drop + 1e-9);
  }
  fh_haul_destroy(h);
  scene_done(&t);
}

// ---------------------------------------------------------------------------------------------------- what does not work

static void a_rig_that_does_not_work_has_no_numbers(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture, reversed: true}, "
                                  "{run: t, on: pulley}, {hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1}]}\n");
  fh_haul *h = run(t.scene, t.gear);
  assert_int_equal(h->outcome, FH_OUTCOME_INFEASIBLE);
  assert_non_null(strstr(h->why, "wrong way round"));
  assert_int_equal(h->strokes, -1);
  assert_nan(h->rope_pulled);
  assert_nan(h->work.in);
  fh_haul_destroy(h);
  scene_done(&t);
}

static void without_a_capture_the_raise_ends_at_the_first_reset(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: carabiner}, "
                                  "{run: t, on: pulley}, {hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1}]}\n");
  fh_haul *h = run(t.scene, t.gear);
  assert_int_equal(h->outcome, FH_OUTCOME_INFEASIBLE);
  assert_non_null(strstr(h->why, "capture"));
  fh_haul_destroy(h);
  scene_done(&t);
}

static void wrong_arguments_are_refused(void **state) {
  (void)state;
  fh_haul *h = NULL;
  fh_scene *s = random_scene(5);
  fh_stages_opts o = fh_stages_opts_default();
  assert_status(fh_haul_create(NULL, gear, &s->rig, NULL, &h), FH_ERR_ARG);
  assert_status(fh_haul_create(s, NULL, &s->rig, NULL, &h), FH_ERR_ARG);
  assert_status(fh_haul_create(s, gear, NULL, NULL, &h), FH_ERR_ARG);
  assert_status(fh_haul_create(s, gear, &s->rig, NULL, NULL), FH_ERR_ARG);
  o.most_drop = (double)NAN;
  assert_status(fh_haul_create(s, gear, &s->rig, &o, &h), FH_ERR_ARG);
  fh_haul_destroy(NULL);
  free(s);
}

static void every_refused_request_for_memory_is_survived(void **state) {
  (void)state;
  fh_scene *s = random_scene(5);
  fh_status status = FH_ERR_MEMORY;
  for (long n = 1; status == FH_ERR_MEMORY; n++) {
    fh_haul *h = NULL;
    assert_true(n < 200);
    fhi_fault_after(n);
    status = fh_haul_create(s, gear, &s->rig, NULL, &h);
    fhi_fault_after(0);
    assert_true(status == FH_OK || h == NULL);
    fh_haul_destroy(h);
  }
  assert_status(status, FH_OK);
  free(s);
}

static void reports_hold_the_agreed_keys(void **state) {
  (void)state;
  static const char *const KEYS[] = {"strokes", "resets", "rope_pulled_m", "stretch_lost_m", "set_back_m", "time_s", "work_J", "trace"};
  scene_text t = scene_read(PLAIN("{station_m: 4.4, anchor_m: 7}", "10", THREE("0.9")));
  fh_haul *h = run(t.scene, t.gear);
  text_sink sink = {.fail_after = -1}, csv = {.fail_after = -1}, full = {.fail_after = 0};
  assert_status(fh_haul_write_json(t.scene, h, (fh_out){text_sink_put, &sink}), FH_OK);
  for (size_t i = 0; i < sizeof KEYS / sizeof *KEYS; i++) {
    char key[40];
    snprintf(key, sizeof key, "\"%s\": ", KEYS[i]);
    assert_non_null(strstr(sink.bytes, key));
  }
  assert_null(strstr(sink.bytes, "nan"));
  assert_status(fh_haul_write_csv(h, (fh_out){text_sink_put, &csv}), FH_OK);
  int lines = 0;
  for (const char *p = csv.bytes; *p != '\0'; p++) {
    lines += *p == '\n';
  }
  assert_int_equal(lines, h->trace_count + 1);
  assert_status(fh_haul_write_json(t.scene, h, (fh_out){text_sink_put, &full}), FH_ERR_WRITE);
  assert_status(fh_haul_write_json(NULL, h, (fh_out){text_sink_put, &sink}), FH_ERR_ARG);
  assert_status(fh_haul_write_csv(NULL, (fh_out){text_sink_put, &sink}), FH_ERR_ARG);
  free(sink.bytes);
  free(csv.bytes);
  free(full.bytes);
  fh_haul_destroy(h);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_stiff_smooth_three_to_one_is_ideal),
      cmocka_unit_test(stretch_is_tension_times_length_over_modulus),
      cmocka_unit_test(a_new_loop_stretches_in_the_first_stroke),
      cmocka_unit_test(the_load_sinks_by_the_set_back_that_stretch_leaves),
      cmocka_unit_test(the_hauler_s_room_ends_a_direct_stroke),
      cmocka_unit_test(time_is_pulls_resets_and_rests),
      cmocka_unit_test(a_pull_that_nobody_keeps_up_needs_rests),
      cmocka_unit_test(work_in_is_lift_friction_and_stretch),
      cmocka_unit_test(the_trace_ends_at_the_lip_and_never_goes_back_in_time),
      cmocka_unit_test(hand_travel_per_stretch_is_tension_over_pull),
      cmocka_unit_test(knots_keep_the_slack_within_its_limit),
      cmocka_unit_test(a_rig_that_does_not_work_has_no_numbers),
      cmocka_unit_test(without_a_capture_the_raise_ends_at_the_first_reset),
      cmocka_unit_test(wrong_arguments_are_refused),
      cmocka_unit_test(every_refused_request_for_memory_is_survived),
      cmocka_unit_test(reports_hold_the_agreed_keys),
  };
  return cmocka_run_group_tests(tests, find_gear, drop_gear);
}
