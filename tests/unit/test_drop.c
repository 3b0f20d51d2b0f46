// SPDX-License-Identifier: MIT
// How far can a load fall before the rope is taut? Systems small enough to be done by hand; thousands of random ones are set
// beside GLPK in tests/refs/ref_drop_glpk.c.
#include "fh_test.h"

#include "drop.h"

enum { LOAD = FH_BODY_LOAD, STATION = FH_BODY_STATION, ANCHOR = FH_BODY_ANCHOR, BLOCK = FH_BODY_FIRST_GRIP };

// The load 8 m down, station 4 m and anchor 6 m back, a block 1.5 m back.
static fhi_drop bare(void) {
  fhi_drop d;
  memset(&d, 0, sizeof d);
  d.body_count = 4;
  d.at[LOAD] = -8.0;
  d.at[STATION] = 4.0;
  d.at[ANCHOR] = 6.0;
  d.at[BLOCK] = 1.5;
  d.fixed[STATION] = d.fixed[ANCHOR] = true;
  return d;
}

static void piece(fhi_drop *d, double length, int count, const int *body) {
  fhi_piece *p = &d->pieces[d->piece_count++];
  *p = (fhi_piece){d->point_count, count, length, {-1, -1}, {-1, -1}};
  for (int i = 0; i < count; i++) {
    d->body[d->point_count++] = body[i];
  }
}

#define PIECE(d, length, ...) piece(d, length, (int)(sizeof((int[]){__VA_ARGS__}) / sizeof(int)), (const int[]){__VA_ARGS__})

static fhi_drop_answer ask(const fhi_drop *d) {
  fhi_drop_answer a;
  fhi_drop_work *w = fhi_drop_work_create(64);
  assert_non_null(w);
  fhi_drop_solve(d, true, w, &a);
  fhi_drop_work_destroy(w);
  assert_true(a.solved);
  assert_true(a.residual <= 1e-9);
  return a;
}

static void a_taut_line_lets_nothing_fall(void **state) {
  (void)state;
  fhi_drop d = bare();
  PIECE(&d, 14.0, LOAD, ANCHOR);
  fhi_drop_answer a = ask(&d);
  assert_false(a.lost);
  assert_near(a.drop, 0.0, 1e-12);
  assert_near(a.share[0], 1.0, 1e-12);
}

static void slack_is_the_fall(void **state) {
  (void)state;
  for (double slack = 0.0; slack < 30.0; slack += 2.5) {
    fhi_drop d = bare();
    PIECE(&d, 14.0 + slack, LOAD, ANCHOR);
    fhi_drop_answer a = ask(&d);
    assert_near(a.drop, slack, 1e-9);
    assert_near(a.at[LOAD], -8.0 - slack, 1e-9);
  }
}

static void the_shorter_of_two_lines_catches(void **state) {
  (void)state;
  fhi_drop d = bare();
  PIECE(&d, 14.7, LOAD, ANCHOR);
  PIECE(&d, 12.3, LOAD, STATION);
  fhi_drop_answer a = ask(&d);
  assert_near(a.drop, 0.3, 1e-9);
  assert_near(a.share[0], 0.0, 1e-12);
  assert_near(a.share[1], 1.0, 1e-12);
}

static void a_loop_halves_the_slack_and_the_force(void **state) {
  (void)state;
  fhi_drop d = bare();
  PIECE(&d, 14.0 + 12.0 + 1.0, ANCHOR, LOAD, STATION);
  fhi_drop_answer a = ask(&d);
  assert_near(a.drop, 0.5, 1e-9);
  assert_near(a.share[0], 0.5, 1e-12);
}

// The block grips the load's strand; three strands behind it: it may follow a third as far as the rope lets go.
static void a_three_to_one_falls_a_third_of_its_slack(void **state) {
  (void)state;
  fhi_drop d = bare();
  PIECE(&d, 9.5, LOAD, BLOCK);
  PIECE(&d, 2.5 + 2.5 + 4.5 + 0.9, BLOCK, STATION, BLOCK, ANCHOR);
  fhi_drop_answer a = ask(&d);
  assert_near(a.drop, 0.3, 1e-9);
  assert_near(a.at[BLOCK], 1.2, 1e-9);
  assert_near(a.share[0], 1.0, 1e-12);
  assert_near(a.share[1], 1.0 / 3.0, 1e-12);
}

static void a_block_that_nothing_holds_goes_with_the_load(void **state) {
  (void)state;
  fhi_drop d = bare();
  PIECE(&d, 9.5, LOAD, BLOCK);
  fhi_drop_answer a = ask(&d);
  assert_true(a.lost);
}

static void without_rope_the_load_is_lost(void **state) {
  (void)state;
  fhi_drop d = bare();
  assert_true(ask(&d).lost);
  PIECE(&d, 5.0, STATION, ANCHOR);
  assert_true(ask(&d).lost);
  PIECE(&d, 3.0, LOAD, LOAD);  // both ends on the load: holds nothing
  assert_true(ask(&d).lost);
}

// A block dragged over the edge: the lip is no point of the rope.
static void a_block_goes_over_the_edge(void **state) {
  (void)state;
  fhi_drop d = bare();
  PIECE(&d, 9.5, LOAD, BLOCK);
  PIECE(&d, 2.5 + 5.0, BLOCK, STATION);
  fhi_drop_answer a = ask(&d);
  assert_near(a.drop, 5.0, 1e-9);
  assert_near(a.at[BLOCK], -3.5, 1e-9);
}

// Rope runs on through a capture toward the hand, never back.
static void a_capture_lets_rope_on_but_not_back(void **state) {
  (void)state;
  for (int toward_load = 0; toward_load < 2; toward_load++) {
    fhi_drop d = bare();
    PIECE(&d, 12.5, LOAD, STATION);
    PIECE(&d, 2.5 + 3.0, STATION, BLOCK);
    d.slip_count = 1;
    d.pieces[0].gives[1] = toward_load != 0 ? -1 : 0;
    d.pieces[1].takes[0] = toward_load != 0 ? -1 : 0;
    d.pieces[0].takes[1] = toward_load != 0 ? 0 : -1;
    d.pieces[1].gives[0] = toward_load != 0 ? 0 : -1;
    // Toward the load the 3 m and, since the block follows, all of the second piece may come.
    assert_near(ask(&d).drop, toward_load != 0 ? 0.5 + 5.5 : 0.5, 1e-9);
  }
}

static void more_rope_never_means_less_fall(void **state) {
  (void)state;
  double last = -1.0;
  for (double more = 0.0; more < 4.0; more += 0.25) {
    fhi_drop d = bare();
    PIECE(&d, 9.5, LOAD, BLOCK);
    PIECE(&d, 2.5 + 2.5 + 4.5 + more, BLOCK, STATION, BLOCK, ANCHOR);
    PIECE(&d, 15.0, LOAD, ANCHOR);
    double drop = ask(&d).drop;
    assert_true(drop >= last);
    assert_near(drop, fmin(more / 3.0, 1.0), 1e-9);
    last = drop;
  }
}

// The dual's shares are the fall's derivative by each length.
static void shares_are_what_a_metre_more_of_rope_gives(void **state) {
  (void)state;
  const double step = 1e-6;
  for (int k = 0; k < 2; k++) {
    fhi_drop d = bare();
    PIECE(&d, 9.5, LOAD, BLOCK);
    PIECE(&d, 10.4, BLOCK, STATION, BLOCK, ANCHOR);
    fhi_drop_answer a = ask(&d);
    d.pieces[k].length += step;
    assert_near((ask(&d).drop - a.drop) / step, a.share[k], 1e-6);
  }
}

static void more_points_than_the_scratch_was_made_for_are_not_answered(void **state) {
  (void)state;
  fhi_drop d = bare();
  fhi_drop_answer a;
  PIECE(&d, 14.0, LOAD, STATION, ANCHOR);
  fhi_drop_work *w = fhi_drop_work_create(2);
  assert_non_null(w);
  fhi_drop_solve(&d, false, w, &a);
  assert_false(a.solved);
  fhi_drop_work_destroy(w);
  fhi_drop_work_destroy(NULL);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_taut_line_lets_nothing_fall),
      cmocka_unit_test(slack_is_the_fall),
      cmocka_unit_test(the_shorter_of_two_lines_catches),
      cmocka_unit_test(a_loop_halves_the_slack_and_the_force),
      cmocka_unit_test(a_three_to_one_falls_a_third_of_its_slack),
      cmocka_unit_test(a_block_that_nothing_holds_goes_with_the_load),
      cmocka_unit_test(without_rope_the_load_is_lost),
      cmocka_unit_test(a_block_goes_over_the_edge),
      cmocka_unit_test(a_capture_lets_rope_on_but_not_back),
      cmocka_unit_test(more_rope_never_means_less_fall),
      cmocka_unit_test(shares_are_what_a_metre_more_of_rope_gives),
      cmocka_unit_test(more_points_than_the_scratch_was_made_for_are_not_answered),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
