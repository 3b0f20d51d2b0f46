// SPDX-License-Identifier: MIT
// The core's memory: zeroed, refused when the product overflows, and made to fail at any request that a test names.
#include "fh_test.h"

#include "memory.h"

static void new_memory_is_zeroed_and_grows(void **state) {
  (void)state;
  unsigned char *block = fhi_alloc(100, 3);
  assert_non_null(block);
  for (int i = 0; i < 300; i++) {
    assert_int_equal(block[i], 0);
  }
  block[299] = 7;
  block = fhi_realloc(block, 1000, 3);
  assert_non_null(block);
  assert_int_equal(block[299], 7);
  fhi_free(block);
  fhi_free(NULL);
}

static void a_product_that_overflows_is_refused(void **state) {
  (void)state;
  assert_null(fhi_alloc(SIZE_MAX / 2 + 1, 2));
  int *block = fhi_alloc(1, sizeof *block);
  assert_non_null(block);
  *block = 42;
  assert_null(fhi_realloc(block, SIZE_MAX / 4 + 2, 4));
  assert_int_equal(*block, 42);  // the old block stays valid
  fhi_free(block);
}

static void the_request_that_is_named_fails_and_all_after_it(void **state) {
  (void)state;
  for (long n = 1; n <= 3; n++) {
    fhi_fault_after(n);
    void *blocks[5];
    for (long i = 0; i < 5; i++) {
      blocks[i] = i % 2 == 0 ? fhi_alloc(1, 8) : fhi_realloc(NULL, 1, 8);
      assert_int_equal(blocks[i] != NULL, i + 1 < n);
    }
    assert_int_equal(fhi_fault_count(), 5);
    for (long i = 0; i < 5; i++) {
      fhi_free(blocks[i]);
    }
  }
  fhi_fault_after(0);
  void *block = fhi_alloc(1, 8);
  assert_non_null(block);
  assert_int_equal(fhi_fault_count(), 1);
  fhi_free(block);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(new_memory_is_zeroed_and_grows),
      cmocka_unit_test(a_product_that_overflows_is_refused),
      cmocka_unit_test(the_request_that_is_named_fails_and_all_after_it),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
