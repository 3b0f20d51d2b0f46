// SPDX-License-Identifier: MIT
// Numbers for people: rounding by what is measured, and never to the comfortable side.
// Conversions: foot, pound and pound-force as defined exactly in 1959 (0.3048 m, 0.45359237 kg, times 9.80665 m/s^2);
// the same figures stand in NIST Special Publication 811, appendix B (from memory).
#include "fh_test.h"
#include "units.h"

static const char *value(double v, cli_quantity q, fh_units units) {
  static char text[CLI_NUMBER];
  return cli_value(text, v, q, units);
}

static void a_force_is_shown_no_finer_than_friction_allows(void **state) {
  (void)state;
  assert_string_equal(value(87.6, CLI_FORCE, FH_METRIC), "88");
  assert_string_equal(value(882.6, CLI_FORCE, FH_METRIC), "885");
  assert_string_equal(value(1523.0, CLI_FORCE, FH_METRIC), "1520");
  assert_string_equal(value(12345.0, CLI_FORCE, FH_METRIC), "12300");
  assert_string_equal(value(-0.2, CLI_FORCE, FH_METRIC), "0");
}

static void a_large_force_is_in_kilonewtons(void **state) {
  (void)state;
  assert_string_equal(value(252.0, CLI_FORCE_LARGE, FH_METRIC), "0.25");
  assert_string_equal(value(20000.0, CLI_FORCE_LARGE, FH_METRIC), "20.0");
}

static void imperial_units_follow_their_definitions(void **state) {
  (void)state;
  assert_string_equal(value(4.4482216152605 * 50.0, CLI_FORCE, FH_IMPERIAL), "50");
  assert_string_equal(value(3.048, CLI_LENGTH, FH_IMPERIAL), "10");
  assert_string_equal(value(45.359237, CLI_MASS, FH_IMPERIAL), "100");
  assert_string_equal(cli_unit(CLI_FORCE, FH_IMPERIAL), "lbf");
  assert_string_equal(cli_unit(CLI_FORCE_LARGE, FH_METRIC), "kN");
}

static void a_margin_goes_down_and_a_demand_goes_up(void **state) {
  (void)state;
  assert_string_equal(value(0.999, CLI_MARGIN, FH_METRIC), "0.9");
  assert_string_equal(value(1.0, CLI_MARGIN, FH_METRIC), "1.0");
  assert_string_equal(value(0.3, CLI_MARGIN, FH_METRIC), "0.3");
  assert_string_equal(value(1.001, CLI_SHARE, FH_METRIC), "1.05");
  assert_string_equal(value(61.0, CLI_MINUTES, FH_METRIC), "1.5");
  assert_string_equal(value(601.0, CLI_MINUTES, FH_METRIC), "11");
}

static void an_ideal_advantage_that_is_whole_looks_whole(void **state) {
  (void)state;
  assert_string_equal(value(6.0000000001, CLI_IDEAL, FH_METRIC), "6");
  assert_string_equal(value(5.5, CLI_IDEAL, FH_METRIC), "5.50");
  assert_string_equal(value(3.0, CLI_ADVANTAGE, FH_METRIC), "3.0");
}

static void what_is_not_known_is_a_question_mark(void **state) {
  (void)state;
  assert_string_equal(value(nan(""), CLI_FORCE, FH_METRIC), "?");
  assert_string_equal(value((double)INFINITY, CLI_MARGIN, FH_METRIC), "-");
  assert_string_equal(value(1e300, CLI_FORCE, FH_METRIC), "-");
}

static void a_band_shows_its_range_only_when_there_is_one(void **state) {
  (void)state;
  char text[CLI_NUMBER];
  assert_string_equal(cli_band(text, (fh_band){210.0, 250.0, 310.0}, CLI_FORCE, FH_METRIC, FH_ENGLISH), "250 N (210 to 310)");
  assert_string_equal(cli_band(text, (fh_band){250.0, 250.4, 251.0}, CLI_FORCE, FH_METRIC, FH_ENGLISH), "250 N");
  assert_string_equal(cli_band_value(text, (fh_band){1.0, 2.0, 3.0}, CLI_ADVANTAGE, FH_METRIC, FH_ENGLISH), "2.0 (1.0 to 3.0)");
  assert_string_equal(cli_band(text, (fh_band){210.0, 250.0, 310.0}, CLI_FORCE, FH_METRIC, FH_GERMAN), "250 N (210 bis 310)");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_force_is_shown_no_finer_than_friction_allows),
      cmocka_unit_test(a_large_force_is_in_kilonewtons),
      cmocka_unit_test(imperial_units_follow_their_definitions),
      cmocka_unit_test(a_margin_goes_down_and_a_demand_goes_up),
      cmocka_unit_test(an_ideal_advantage_that_is_whole_looks_whole),
      cmocka_unit_test(what_is_not_known_is_a_question_mark),
      cmocka_unit_test(a_band_shows_its_range_only_when_there_is_one),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
