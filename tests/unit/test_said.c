// SPDX-License-Identifier: MIT
// Sentences put over into feet and pounds. Factors: international yard and pound agreement, 1959; g = 9.80665 m/s^2 (exact).
#include "fh_test.h"
#include "text.h"

static void assert_said(const char *metric, const char *imperial) {
  char text[200];
  assert_string_equal(fhi_said(text, sizeof text, metric, FH_IMPERIAL), imperial);
  assert_string_equal(fhi_said(text, sizeof text, metric, FH_METRIC), metric);
}

static void amounts_are_put_over(void **state) {
  (void)state;
  assert_said("rope main is 6.8 m short: 30.8 m needed, 24.0 m there", "rope main is 22.3 ft short: 101.0 ft needed, 78.7 ft there");
  assert_said("up to 2.58 kN against 2.50 kN: it may not hold", "up to 580 lbf against 562 lbf: it may not hold");
  assert_said("186 to 396 N needed, 184 to 459 N there", "42 to 89 lbf needed, 41 to 103 lbf there");
  assert_said("a load of 100 kg", "a load of 220 lb");
  assert_said("a stroke that lifts at least 0.25 m", "a stroke that lifts at least 0.82 ft");
  assert_said("60 N more pull (8 m of rope)", "13 lbf more pull (26 ft of rope)");
}

static void what_is_no_amount_stays(void **state) {
  (void)state;
  static const char *const SAME[] = {
      "the 4 knots in rope main", "6 to 1", "block-1 m", "rope2 m", "5 minutes", "3 Nordic", "10 km", "4 to 5", "1.", "", "N m kN",
      "at most 5 contacts behind it", "3 m\xC3\xBC", "v1.5 m",
  };
  for (size_t i = 0; i < sizeof SAME / sizeof SAME[0]; i++) {
    assert_said(SAME[i], SAME[i]);
  }
}

static void a_number_is_tied_to_its_unit(void **state) {
  (void)state;
  static const char *const TIED[] = {"8.5 m", "300 N (180)", "12 min, or", "100 %", "131.2 ft", "80 kg;", "45 lbf.", "2.5 kN"};
  static const char *const LOOSE[] = {"8 mal", "3 Nordic", "rope m", "2 of 6", "5 minutes", "9 (9 to 10)", "1 m\xC3\xBC", "2 l'm", "7 "};
  for (size_t i = 0; i < sizeof TIED / sizeof TIED[0]; i++) {
    assert_true(fhi_is_tied(TIED[i], strchr(TIED[i], ' ')));
    assert_false(fhi_is_tied(TIED[i], TIED[i]));
  }
  for (size_t i = 0; i < sizeof LOOSE / sizeof LOOSE[0]; i++) {
    assert_false(fhi_is_tied(LOOSE[i], strchr(LOOSE[i], ' ')));
  }
}

static void a_short_room_cuts_and_ends(void **state) {
  (void)state;
  char text[12];
  for (size_t size = 1; size <= sizeof text; size++) {
    memset(text, 'x', sizeof text);
    (void)fhi_said(text, size, "1 m 2 m 3 m 4 m", FH_IMPERIAL);
    assert_true(strlen(text) < size);
  }
}

static void only_a_number_has_a_decimal_point(void **state) {
  (void)state;
  static const struct {
    const char *text;
    int marks;
  } CASES[] = {{"0.4", 1}, {"(2.5\xE2\x80\x93" "4.5)", 2}, {"12.0 m, 3.4 kN.", 2}, {"-1.5", 1}, {"\xC3\xA0 1.5 m", 1}, {"1.", 0}, {".5", 0}, {"no. 4", 0},
               {"rope-1.5", 0}, {"v1.2", 0}, {"28.11.2026", 0}, {"1.2.3", 0}, {"10.1016/x", 0}, {"a_1.5", 0}, {"1.5m", 0}, {"", 0}};
  for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
    int marks = 0;
    for (const char *at = CASES[i].text; *at != '\0'; at++) {
      marks += fhi_is_decimal_point(CASES[i].text, at);
    }
    if (marks != CASES[i].marks) {
      fail_msg("%s: %d points, not %d", CASES[i].text, marks, CASES[i].marks);
    }
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(amounts_are_put_over),
      cmocka_unit_test(what_is_no_amount_stays),
      cmocka_unit_test(a_number_is_tied_to_its_unit),
      cmocka_unit_test(a_short_room_cuts_and_ends),
      cmocka_unit_test(only_a_number_has_a_decimal_point),
  };
  return cmocka_run_group_tests_name("said", tests, NULL, NULL);
}
