// SPDX-License-Identifier: MIT
// Readings with a known truth: found again, inside the stated intervals as often as they say, and wrong readings flagged.
#include "fh_test.h"

#include "fit.h"
#include "lm.h"
#include "memory.h"
#include "quasi.h"
#include "sample.h"
#include "scene_text.h"

#define PLACE "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {turn_deg: 80, surface: padded}\nground: {station_m: 6, anchor_m: 9}\n"
#define START "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, "
#define GRIP  "], grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n"

static const char *const RIGS[] = {
    PLACE "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {hand: crew}]}]}\n",
    PLACE START "{run: station, on: pulley}, {run: t, on: pulley}, {hand: crew}]}" GRIP,
    PLACE START "{run: station, on: carabiner}, {run: t, on: carabiner}, {hand: crew}]}" GRIP,
    PLACE START "{run: station, on: pulley}, {run: t, on: carabiner}, {run: station, on: pulley}, {run: t, on: carabiner}, {hand: crew}]}" GRIP,
};
enum { RIG_COUNT = 4, EACH = 6, COUNT = RIG_COUNT * EACH };

static const double MU = 0.21, CARABINER = 0.50, PULLEY = 0.88, SCATTER = 0.03;

static scene_text texts[RIG_COUNT];
static double true_hand[RIG_COUNT];  // per newton of load

// The truth by the method of tensions, written out by hand.
static int setup(void **state) {
  (void)state;
  for (int i = 0; i < RIG_COUNT; i++) {
    texts[i] = scene_read(RIGS[i]);
  }
  double lip = exp(MU * 80.0 * 3.14159265358979323846 / 180.0), c = CARABINER, p = PULLEY;
  true_hand[0] = lip;
  // Pull 1 on the hand: behind the block p, behind the station p^2; the load strand gets 1 + p from the block and p^2 of its own.
  true_hand[1] = lip / (1.0 + p + p * p);
  true_hand[2] = lip / (1.0 + c + c * c);
  // Five to one: 1, c, c p, c p c, c p c p: two blocks' worth of pulls on the grip.
  true_hand[3] = lip / (1.0 + c + c * p + c * p * c + c * p * c * p);
  return 0;
}

static int teardown(void **state) {
  (void)state;
  for (int i = 0; i < RIG_COUNT; i++) {
    scene_done(&texts[i]);
  }
  return 0;
}

static void make(fh_reading *r, double scatter, uint64_t *random) {
  for (int i = 0; i < COUNT; i++) {
    double load = 400.0 + 100.0 * (i % EACH), noise = scatter > 0.0 ? scatter * fhi_normal_inverse(fhi_random_unit(random)) : 0.0;
    r[i] = (fh_reading){texts[i / EACH].scene, load, (double)NAN, load * true_hand[i / EACH] * exp(noise), i + 2};
  }
}

static fh_fit *fit_of(const fh_reading *r, int count) {
  fh_fit *f = NULL;
  int bad = -1;
  char why[300];
  assert_status(fh_fit_create(texts[0].gear, r, count, cli_lm_solve, &f, &bad, why, sizeof why), FH_OK);
  return f;
}

static double truth_of(const fh_fitted *x) {
  return strcmp(x->name, "padded: friction") == 0 ? MU : strcmp(x->name, "carabiner: efficiency") == 0 ? CARABINER : PULLEY;
}

static void the_truth_is_found_from_exact_readings(void **state) {
  (void)state;
  fh_reading r[COUNT];
  make(r, 0.0, NULL);
  fh_fit *f = fit_of(r, COUNT);
  assert_int_equal(f->outcome, FH_OUTCOME_SOLVED);
  assert_int_equal(f->count, 3);
  for (int i = 0; i < f->count; i++) {
    assert_close(f->fitted[i].value, truth_of(&f->fitted[i]), 1e-7);
    assert_exact(f->correlation[i][i], 1.0);
  }
  fh_fit_destroy(f);
}

// A thousand training days: the truth inside the stated 95 % interval 95 % of the time, within 2 %.
static void intervals_hold_the_truth_as_often_as_they_say(void **state) {
  (void)state;
  enum { TRIES = 1000 };
  fh_reading r[COUNT];
  uint64_t random = 2024;
  int inside[3] = {0, 0, 0}, flagged = 0;
  for (int k = 0; k < TRIES; k++) {
    make(r, SCATTER, &random);
    fh_fit *f = fit_of(r, COUNT);
    assert_int_equal(f->outcome, FH_OUTCOME_SOLVED);
    flagged += f->flagged > 0;
    for (int i = 0; i < 3; i++) {
      inside[i] += f->fitted[i].lo <= truth_of(&f->fitted[i]) && truth_of(&f->fitted[i]) <= f->fitted[i].hi;
    }
    fh_fit_destroy(f);
  }
  print_message("inside: %.1f %%, %.1f %%, %.1f %% of %d; a good reading flagged in %.1f %%\n", 0.1 * inside[0], 0.1 * inside[1], 0.1 * inside[2], TRIES,
                0.1 * flagged);
  for (int i = 0; i < 3; i++) {
    assert_within(inside[i], 930, 970);
  }
  assert_within(flagged, 20, 90);  // one in twenty fits, by the bound's making
}

static void a_wrong_reading_is_flagged_and_left_out(void **state) {
  (void)state;
  fh_reading r[COUNT];
  uint64_t random = 5;
  make(r, SCATTER, &random);
  r[8].hand *= 1.5;
  r[15].hand *= 0.6;
  fh_fit *f = fit_of(r, COUNT);
  assert_int_equal(f->outcome, FH_OUTCOME_SOLVED);
  assert_true(f->rows[8].flagged && f->rows[15].flagged);
  assert_int_equal(f->flagged, 2);
  assert_within(f->scatter, 0.015, 0.05);
  for (int i = 0; i < 3; i++) {
    assert_close(f->fitted[i].value, truth_of(&f->fitted[i]), 0.25);
  }
  fh_fit_destroy(f);
}

static void what_cannot_be_told_apart_is_said(void **state) {
  (void)state;
  fh_reading r[COUNT];
  uint64_t random = 6;
  make(r, SCATTER, &random);
  // The three to one on carabiners alone: its pull hangs on lip and carabiner, one equation for two.
  fh_fit *f = fit_of(r + 2 * EACH, EACH);
  assert_int_equal(f->outcome, FH_OUTCOME_INFEASIBLE);
  assert_true(f->why[0] != '\0');
  fh_fit_destroy(f);
  f = fit_of(r, 2);
  assert_int_equal(f->outcome, FH_OUTCOME_INFEASIBLE);
  assert_non_null(strstr(f->why, "too few"));
  fh_fit_destroy(f);
}

static bool no_solver(fh_fit_fn fn, void *user, int m, int n, double *x) {
  (void)fn;
  (void)user;
  (void)m;
  (void)n;
  (void)x;
  return false;
}

static void refusals(void **state) {
  (void)state;
  fh_reading r[COUNT];
  fh_fit *f = NULL;
  int bad = -1;
  char why[300];
  uint64_t random = 6;
  make(r, SCATTER, &random);
  assert_status(fh_fit_create(texts[0].gear, r, 0, cli_lm_solve, &f, &bad, why, sizeof why), FH_ERR_ARG);
  r[3].hand = -1.0;
  assert_status(fh_fit_create(texts[0].gear, r, COUNT, cli_lm_solve, &f, &bad, why, sizeof why), FH_ERR_ARG);
  r[3].hand = 0.5;
  assert_status(fh_fit_create(texts[0].gear, r, COUNT, cli_lm_solve, &f, &bad, why, sizeof why), FH_ERR_LIMIT);
  assert_int_equal(bad, 3);
  assert_non_null(strstr(why, "a pull of 0.50 N"));
  r[3].hand = 500.0;
  assert_status(fh_fit_create(texts[0].gear, r, COUNT, no_solver, &f, &bad, why, sizeof why), FH_OK);
  assert_int_equal(f->outcome, FH_OUTCOME_UNRESOLVED);
  fh_fit_destroy(f);
  scene_text locked = scene_read(PLACE START "{run: station, on: toothed-capture, reversed: true}, {run: t, on: pulley}, {hand: crew}]}" GRIP);
  r[5].scene = locked.scene;
  assert_status(fh_fit_create(texts[0].gear, r, COUNT, cli_lm_solve, &f, &bad, why, sizeof why), FH_ERR_INPUT);
  assert_int_equal(bad, 5);
  assert_non_null(strstr(why, "locked"));
  scene_done(&locked);
}

// The gear file that a fit writes is read by fh_gear_add and gives the fitted figures back.
static void its_gear_file_is_taken_by_all_commands(void **state) {
  (void)state;
  fh_reading r[COUNT];
  uint64_t random = 8;
  make(r, SCATTER, &random);
  fh_fit *f = fit_of(r, COUNT);
  text_sink sink = {.fail_after = -1};
  fh_doc *doc = NULL;
  fh_gear *gear = NULL;
  fh_diag diag;
  assert_status(fh_fit_write_gear(texts[0].gear, f, (fh_out){text_sink_put, &sink}), FH_OK);
  assert_status(cli_yaml_parse(sink.bytes, sink.count, &doc, &diag), FH_OK);
  assert_status(fh_gear_create(&gear), FH_OK);
  assert_status(fh_gear_add(gear, doc, &diag), FH_OK);
  fh_number n = fh_gear_figure(gear, fh_gear_find(gear, "pulley"), "efficiency", NULL);
  for (int i = 0; i < f->count; i++) {
    if (strcmp(f->fitted[i].name, "pulley: efficiency") == 0) {
      assert_near(n.likely, f->fitted[i].value, 0.0006);
      assert_true(n.lo <= f->fitted[i].lo && n.hi >= f->fitted[i].hi);
    }
  }
  fh_gear_destroy(gear);
  fh_doc_destroy(doc);
  free(sink.bytes);
  for (int what = 0; what < 4; what++) {
    text_sink other = {.fail_after = -1};
    fh_out out = {text_sink_put, &other};
    fh_status status = what == 0   ? fh_fit_write_json(texts[0].gear, r, f, out)
                       : what == 1 ? fh_fit_write_csv(r, f, out)
                                   : fh_draw_fit(r, f, what == 2 ? FH_METRIC : FH_IMPERIAL, out);
    assert_status(status, FH_OK);
    assert_null(strstr(other.bytes, "nan"));
    free(other.bytes);
  }
  fh_fit_destroy(f);
}

static void every_allocation_may_fail(void **state) {
  (void)state;
  fh_reading r[COUNT];
  uint64_t random = 9;
  make(r, SCATTER, &random);
  for (long n = 1; n < 4000; n++) {
    fh_fit *f = NULL;
    int bad = -1;
    char why[300];
    fhi_fault_after(n);
    fh_status status = fh_fit_create(texts[0].gear, r, COUNT, cli_lm_solve, &f, &bad, why, sizeof why);
    fhi_fault_after(0);
    if (status == FH_OK && f->outcome == FH_OUTCOME_SOLVED) {
      assert_true(n > 8);
      fh_fit_destroy(f);
      return;
    }
    // A solver without memory found nothing, and says so.
    assert_true(status == FH_ERR_MEMORY || status == FH_ERR_INPUT || status == FH_OK);
    fh_fit_destroy(f);
  }
  fail_msg("never succeeded");
}

// Quantiles of Student's law as every table prints them (from memory): 12.706, 2.228, 1.960 for 1, 10, very many.
static void students_law(void **state) {
  (void)state;
  assert_near(fhi_student_quantile(0.975, 1.0), 12.706, 5e-4);
  assert_near(fhi_student_quantile(0.975, 10.0), 2.228, 5e-4);
  assert_near(fhi_student_quantile(0.975, 1e6), 1.960, 5e-4);
  assert_near(fhi_student_quantile(0.95, 4.0), 2.132, 5e-4);
  assert_near(fhi_student_below(1.0, 1.0), 0.75, 1e-12);  // Cauchy's law: 1/2 + atan(1) / pi
  assert_near(fhi_student_below(0.0, 7.0), 0.5, 1e-15);
  assert_near(fhi_student_below(-2.0, 3.0) + fhi_student_below(2.0, 3.0), 1.0, 1e-14);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_truth_is_found_from_exact_readings),
      cmocka_unit_test(intervals_hold_the_truth_as_often_as_they_say),
      cmocka_unit_test(a_wrong_reading_is_flagged_and_left_out),
      cmocka_unit_test(what_cannot_be_told_apart_is_said),
      cmocka_unit_test(refusals),
      cmocka_unit_test(its_gear_file_is_taken_by_all_commands),
      cmocka_unit_test(every_allocation_may_fail),
      cmocka_unit_test(students_law),
  };
  return cmocka_run_group_tests(tests, setup, teardown);
}
