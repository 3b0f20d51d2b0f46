// SPDX-License-Identifier: MIT
// Document units: what they are in SI, by definition, and that every value read comes back as it was written.
#include "fh_test.h"

#include "keys.h"

static void units_are_what_the_international_system_defines(void **state) {
  (void)state;
  assert_exact(fhi_to_si("kg", 92.0), 92.0);
  assert_exact(fhi_to_si("m", 4.5), 4.5);
  assert_exact(fhi_to_si("s", 30.0), 30.0);
  assert_exact(fhi_to_si("N", 225.0), 225.0);
  assert_exact(fhi_to_si("m/s", 0.4), 0.4);
  assert_exact(fhi_to_si("1", 0.18), 0.18);
  assert_exact(fhi_to_si("", 6.0), 6.0);
  assert_exact(fhi_to_si("mm", 8.5), 0.0085);
  assert_exact(fhi_to_si("kN", 20.0), 20000.0);
  assert_exact(fhi_to_si("deg", 180.0), 3.14159265358979323846);
  assert_close(fhi_to_si("deg", 80.0), 1.39626340159546, 1e-14);  // 4 pi / 9
}

static void an_unknown_unit_gives_no_number(void **state) {
  (void)state;
  assert_nan(fhi_to_si("lb", 1.0));
  assert_nan(fhi_from_si("lb", 1.0));
  assert_nan(fhi_from_si("m", (double)NAN));
  assert_nan(fhi_from_si("m", (double)INFINITY));
}

// Every tenth of a degree, millimetre and kilonewton that a person might write, and odd values between.
static void what_was_written_comes_back(void **state) {
  (void)state;
  static const char *const UNITS[] = {"deg", "mm", "kN", "m"};
  for (size_t u = 0; u < sizeof UNITS / sizeof UNITS[0]; u++) {
    for (int i = -2000; i <= 20000; i++) {
      double written = i / 10.0;
      assert_exact(fhi_from_si(UNITS[u], fhi_to_si(UNITS[u], written)), written);
      double odd = i * 0.0123456789012345 + 1e-9;
      double si = fhi_to_si(UNITS[u], odd);
      assert_exact(fhi_to_si(UNITS[u], fhi_from_si(UNITS[u], si)), si);  // another number may stand for the same value
    }
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(units_are_what_the_international_system_defines),
      cmocka_unit_test(an_unknown_unit_gives_no_number),
      cmocka_unit_test(what_was_written_comes_back),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
