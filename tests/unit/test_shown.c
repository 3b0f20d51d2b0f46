// SPDX-License-Identifier: MIT
// Figures in words: ranges rounded outward, and never surer, shorter or finer than they are.
#include "fh_test.h"

#include "draw_scenes.h"
#include "draw_common.h"
#include "sheet.h"
#include "shown.h"

static const double RAD = 3.14159265358979323846 / 180.0;

static const char *force(double lo, double likely, double hi, fh_units units) {
  static char text[FHI_WORD];
  return fhi_show_force(text, sizeof text, (fh_band){lo, likely, hi}, units, FH_ENGLISH);
}

static void a_range_is_rounded_outward(void **state) {
  (void)state;
  assert_string_equal(force(286.1, 300.0, 341.9, FH_METRIC), "285\xE2\x80\x93" "345 N");
  assert_string_equal(force(290.0, 300.0, 340.0, FH_METRIC), "290\xE2\x80\x93" "340 N");
  assert_string_equal(force(23.4, 30.0, 41.2, FH_METRIC), "23\xE2\x80\x93" "42 N");
  assert_string_equal(force(0.0, 100.0, 450.0, FH_METRIC), "0\xE2\x80\x93" "450 N");
  assert_string_equal(force(996.0, 1000.0, 1004.0, FH_METRIC), "995\xE2\x80\x93" "1010 N");
  // 1 lbf = 4.4482216152605 N, exact by definition of the pound and of standard gravity.
  assert_string_equal(force(444.8, 500.0, 889.7, FH_IMPERIAL), "99\xE2\x80\x93" "205 lbf");
}

static void a_likely_force_comes_before_its_range(void **state) {
  (void)state;
  char text[FHI_WORD];
  assert_string_equal(fhi_show_likely(text, sizeof text, (fh_band){104.0, 209.0, 364.0}, FH_METRIC, FH_ENGLISH), "210 N (100\xE2\x80\x93" "365)");
  assert_string_equal(fhi_show_likely(text, sizeof text, (fh_band){209.0, 209.0, 209.0}, FH_METRIC, FH_ENGLISH), "210 N");
  assert_string_equal(fhi_show_likely(text, sizeof text, (fh_band){(double)NAN, 209.0, 364.0}, FH_METRIC, FH_ENGLISH), "not known");
}

// What rounding alone would make of 298 and 301 would look the same: then to 1 N, and apart.
static void forces_that_differ_look_different(void **state) {
  (void)state;
  char more[40];
  char less[40];
  fhi_show_compared(more, less, sizeof more, 412.0, 298.0);
  assert_string_equal(more, "410");
  assert_string_equal(less, "300");
  fhi_show_compared(more, less, sizeof more, 300.6, 299.4);
  assert_string_equal(more, "301");
  assert_string_equal(less, "299");
}

static void a_time_never_looks_shorter_than_it_is(void **state) {
  (void)state;
  char text[FHI_WORD];
  assert_string_equal(fhi_show_minutes(text, sizeof text, 481.0), "8.5");
  assert_string_equal(fhi_show_minutes(text, sizeof text, 480.0), "8");
  assert_string_equal(fhi_show_minutes(text, sizeof text, 601.0), "11");
  assert_string_equal(fhi_show_minutes(text, sizeof text, 5.0), "0.5");
  assert_string_equal(fhi_show_minutes(text, sizeof text, 10800.0), "180");
  assert_string_equal(fhi_show_minutes(text, sizeof text, 10801.0), "> 3 h");
  assert_string_equal(fhi_sheet_time(text, sizeof text, (fh_band){780.0, 1740.0, 36120.0}), "29 min (13\xE2\x80\x93> 3 h)");
  assert_string_equal(fhi_sheet_time(text, sizeof text, (fh_band){780.0, 36000.0, 36120.0}), "> 3 h (13 min\xE2\x80\x93> 3 h)");
  assert_string_equal(fhi_sheet_time(text, sizeof text, (fh_band){780.0, 1740.0, (double)INFINITY}), "29 min (\xE2\x89\xA5 13)");
}

static void an_exact_force_is_as_fine_as_a_likely_one(void **state) {
  (void)state;
  assert_string_equal(force(902.21, 902.21, 902.21, FH_METRIC), "900 N");
  assert_string_equal(force(1163.4, 1163.4, 1163.4, FH_METRIC), "1160 N");
  assert_string_equal(force(0.0, 0.0, 0.0, FH_METRIC), "0 N");
  assert_string_equal(force((double)NAN, (double)NAN, (double)NAN, FH_METRIC), "not known");
}

static void lengths_masses_and_angles_read_as_words(void **state) {
  (void)state;
  char text[FHI_WORD];
  assert_string_equal(fhi_show_length(text, sizeof text, 4.5, FH_METRIC), "4.5 m");
  assert_string_equal(fhi_show_length(text, sizeof text, 11.0, FH_METRIC), "11 m");
  assert_string_equal(fhi_show_length(text, sizeof text, 3.048, FH_IMPERIAL), "10 ft");  // 0.3048 m a foot, exact
  assert_string_equal(fhi_show_length(text, sizeof text, -0.01, FH_METRIC), "0 m");
  assert_string_equal(fhi_show_mass(text, sizeof text, fh_number_exact(92.0), FH_METRIC, FH_ENGLISH), "92 kg");
  assert_string_equal(fhi_show_mass(text, sizeof text, between(80.0, 95.0), FH_METRIC, FH_ENGLISH), "80\xE2\x80\x93" "95 kg");
  assert_string_equal(fhi_show_mass(text, sizeof text, fh_number_exact(92.0), FH_IMPERIAL, FH_ENGLISH), "203 lb");  // 0.45359237 kg a pound, exact
  assert_string_equal(fhi_show_angle(text, sizeof text, fh_number_exact(80.0 * RAD), FH_ENGLISH), "80\xC2\xB0");
  assert_string_equal(fhi_show_angle(text, sizeof text, fh_number_unset(), FH_ENGLISH), "not given");
  assert_string_equal(fhi_show_number(text, sizeof text, (fh_band){0.12, 0.2, 0.3}, 2), "0.12\xE2\x80\x93" "0.30");
  assert_string_equal(fhi_show_number(text, sizeof text, (fh_band){0.18, 0.18, 0.18}, 2), "0.18");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_range_is_rounded_outward),
      cmocka_unit_test(an_exact_force_is_as_fine_as_a_likely_one),
      cmocka_unit_test(a_likely_force_comes_before_its_range),
      cmocka_unit_test(forces_that_differ_look_different),
      cmocka_unit_test(a_time_never_looks_shorter_than_it_is),
      cmocka_unit_test(lengths_masses_and_angles_read_as_words),
  };
  return cmocka_run_group_tests_name("shown", tests, NULL, NULL);
}
