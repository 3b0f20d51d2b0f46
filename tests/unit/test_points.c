// SPDX-License-Identifier: MIT
// Values kept from scene to scene are those that would have been drawn.
#include "fh_test.h"

#include "points.h"

enum { REPLICATES = 2, BLOCKS = 6 };

static fhi_sampler sampler[REPLICATES];
static fhi_odds odds;
static fhi_odds_scratch drawn, fetched;

static void an_unknown(int i, fh_spread spread, double lo, double likely, double hi) {
  odds.unknown[i].number = (fh_number){spread, lo, likely, hi, 0.1, 0, 0};
  odds.cut_lo[i] = 0.0;
  odds.cut_hi[i] = 10.0;
}

static void start(void) {
  memset(&odds, 0, sizeof odds);
  for (int r = 0; r < REPLICATES; r++) {
    fhi_sampler_start(&sampler[r], 5 + (uint64_t)r, FH_MAX_UNKNOWNS);
  }
  odds.unknowns = 3;
  an_unknown(0, FH_SPREAD_UNIFORM, 1.0, 2.0, 3.0);
  an_unknown(1, FH_SPREAD_TRIANGLE, 0.2, 0.5, 0.6);
  an_unknown(2, FH_SPREAD_NORMAL, 0.7, 1.0, 1.3);
}

// Whatever was kept before: poisoned scratch, so that a value that is not written shows.
static void same_as_drawn(fhi_points *points, int64_t blocks) {
  fhi_points_begin(points, &odds, blocks);
  for (int64_t b = 0; b < blocks; b++) {
    memset(fetched.x, 0xff, sizeof fetched.x);
    fhi_odds_draw(&odds, &sampler[b % REPLICATES], 0, (uint32_t)(b / REPLICATES), &drawn);
    fhi_points_draw(points, &odds, sampler, REPLICATES, b, &fetched);
    for (int i = 0; i < odds.unknowns; i++) {
      assert_memory_equal(fetched.x[i], drawn.x[i], sizeof drawn.x[i]);
    }
  }
}

static void fetched_drawn_or_kept_it_is_the_same(void **state) {
  (void)state;
  fhi_points *points = fhi_points_create(BLOCKS * FHI_LANES);
  assert_non_null(points);
  start();
  for (int scene = 0; scene < 4; scene++) {  // drawn, kept, fetched, fetched
    same_as_drawn(points, BLOCKS);
  }
  an_unknown(1, FH_SPREAD_TRIANGLE, 0.2, 0.4, 0.6);  // one range moves, the next time none, then back to what was kept once
  same_as_drawn(points, BLOCKS);
  same_as_drawn(points, BLOCKS);
  an_unknown(1, FH_SPREAD_TRIANGLE, 0.2, 0.5, 0.6);
  same_as_drawn(points, BLOCKS);
  odds.cut_hi[2] = 1.1;  // the same number, cut elsewhere
  same_as_drawn(points, BLOCKS);
  odds.unknowns = 2;  // a rig with fewer unknowns in between
  same_as_drawn(points, BLOCKS);
  odds.unknowns = 3;
  same_as_drawn(points, BLOCKS);
  fhi_points_destroy(points);
}

static void fewer_blocks_first_and_more_than_there_is_room_for(void **state) {
  (void)state;
  fhi_points *points = fhi_points_create(4 * FHI_LANES);
  assert_non_null(points);
  start();
  const int64_t blocks[] = {2, 2, 2, 4, 4, 2, BLOCKS, BLOCKS, 4};
  for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++) {
    same_as_drawn(points, blocks[i]);
  }
  fhi_points_destroy(points);
}

static void very_many_samples_are_drawn_each_time(void **state) {
  (void)state;
  fhi_points *points = fhi_points_create(1000000000);
  assert_non_null(points);
  start();
  same_as_drawn(points, BLOCKS);
  same_as_drawn(points, BLOCKS);
  fhi_points_destroy(points);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(fetched_drawn_or_kept_it_is_the_same),
      cmocka_unit_test(fewer_blocks_first_and_more_than_there_is_room_for),
      cmocka_unit_test(very_many_samples_are_drawn_each_time),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
