// SPDX-License-Identifier: MIT
// Numbers counted in bins: a block at once against one by one, and what the counts give back.
#include "fh_test.h"

#include "tally.h"

static uint64_t next(uint64_t *state) {
  *state = *state * 6364136223846793005u + 1442695040888963407u;
  return *state >> 33;
}

// Numbers of all sizes, now and then one that is none or far outside.
static double some(uint64_t *state, int kind) {
  double unit = (double)next(state) * 0x1p-31;
  const double odd[] = {(double)NAN, -(double)NAN, (double)INFINITY, -(double)INFINITY, 0.0, -1.0, 0x1p-10, 0x1p22, 1e300, 0x1p-11, 5e-324};
  if (kind == 2 && next(state) % 16 == 0) {
    return odd[next(state) % (sizeof odd / sizeof odd[0])];
  }
  return kind == 0 ? 300.0 + 200.0 * unit : exp2(-10.0 + 32.0 * unit);
}

static void blocks_are_counted_as_one_by_one(void **state) {
  (void)state;
  static fhi_tally tally, other, both;
  static int64_t bins[FHI_TALLY_FINE_BINS];
  uint64_t random = 3;
  for (int kind = 0; kind < 3; kind++) {
    memset(bins, 0, sizeof bins);
    int64_t all = 0;
    for (int block = 0; block < 200; block++) {
      double x[64];
      for (int i = 0; i < 64; i++) {
        x[i] = some(&random, kind);
        bins[fhi_tally_bin(x[i], FHI_TALLY_FINE)]++;
      }
      fhi_tally_count(block % 3 == 0 ? &other : &tally, x);
      all += 64;
    }
    fhi_tally_add(&both, &tally);
    fhi_tally_add(&both, &other);
    for (int i = 0; i < FHI_TALLY_FINE_BINS; i++) {
      assert_int_equal(both.bins[i], bins[i]);
    }
    fh_band b = fhi_tally_three(&both, (double)all);
    assert_exact(b.lo, fhi_tally_quantile(bins, FHI_TALLY_FINE, 0.05));
    assert_exact(b.likely, fhi_tally_quantile(bins, FHI_TALLY_FINE, 0.5));
    assert_exact(b.hi, fhi_tally_quantile(bins, FHI_TALLY_FINE, 0.95));
    fhi_tally_clear(&tally);
    fhi_tally_clear(&other);
    fhi_tally_clear(&both);
    for (int i = 0; i < FHI_TALLY_FINE_BINS; i++) {
      assert_int_equal(tally.bins[i] + other.bins[i] + both.bins[i], 0);
    }
  }
}

// 1 to 640 even steps: quantiles by hand, to the width of a bin.
static void quantiles_of_even_steps(void **state) {
  (void)state;
  static fhi_tally tally;
  for (int block = 0; block < 10; block++) {
    double x[64];
    for (int i = 0; i < 64; i++) {
      x[i] = 64.0 * block + i + 1.0;
    }
    fhi_tally_count(&tally, x);
  }
  fh_band b = fhi_tally_three(&tally, 640.0);
  assert_within(b.lo, 32.0, 32.0 * (1.0 + 1.0 / 512.0));
  assert_within(b.likely, 320.0, 320.0 * (1.0 + 1.0 / 512.0));
  assert_within(b.hi, 608.0, 608.0 * (1.0 + 1.0 / 512.0));
}

static void nothing_counted_has_no_quantiles(void **state) {
  (void)state;
  static fhi_tally tally, more;
  fhi_tally_add(&more, &tally);
  assert_int_equal(more.to, 0);
  assert_nan(fhi_tally_three(&tally, 0.0).likely);
  fhi_tally_clear(&tally);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(blocks_are_counted_as_one_by_one),
      cmocka_unit_test(quantiles_of_even_steps),
      cmocka_unit_test(nothing_counted_has_no_quantiles),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
