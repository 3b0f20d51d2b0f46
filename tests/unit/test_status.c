// SPDX-License-Identifier: MIT
#include "fh_test.h"

static void every_status_has_its_own_sentence(void **state) {
  (void)state;
  static const fh_status ALL[] = {
#define X(name, text) name,
      FH_STATUS_LIST(X)
#undef X
  };
  static const char *const TEXTS[] = {
#define X(name, text) text,
      FH_STATUS_LIST(X)
#undef X
  };
  for (size_t i = 0; i < sizeof ALL / sizeof *ALL; i++) {
    assert_string_equal(fh_status_text(ALL[i]), TEXTS[i]);
    for (size_t k = 0; k < i; k++) {
      assert_string_not_equal(TEXTS[i], TEXTS[k]);
    }
  }
  assert_string_equal(fh_status_text(FH_OK), "done");
}

static void a_foreign_status_still_has_a_text(void **state) {
  (void)state;
  assert_string_equal(fh_status_text((fh_status)77), "an unknown status");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_status_has_its_own_sentence),
      cmocka_unit_test(a_foreign_status_still_has_a_text),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
