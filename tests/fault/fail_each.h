// SPDX-License-Identifier: MIT
// The n-th allocation fails, for n = 1, 2, 3 ... until an act succeeds: each failure is FH_ERR_MEMORY and leaves no result.
#ifndef FAIL_EACH_H
#define FAIL_EACH_H

#include "fh_test.h"

#include "memory.h"

typedef struct bench bench;  ///< what a case works on; results land there

typedef fh_status (*act_fn)(bench *b);
typedef bool (*clean_fn)(bench *b);  ///< gives back every result; returns whether there was one

/// @param sparse 0: each allocation fails once; 8: beyond the 8th only some do  @return how many allocations a success takes
static inline long fail_each(bench *b, act_fn act, clean_fn clean, long sparse) {
  for (long n = 1; n < 1000000; n += sparse > 0 ? 1 + n / sparse : 1) {
    fhi_fault_after(n);
    fh_status status = act(b);
    long asked = fhi_fault_count();
    fhi_fault_after(0);
    if (status == FH_OK) {
      assert_true(asked < n);  // it did without the n-th, so nothing was refused
      assert_true(clean(b));
      return asked;
    }
    assert_status(status, FH_ERR_MEMORY);
    assert_true(asked >= n);
    assert_false(clean(b));
  }
  fail_msg("never succeeds");
  return 0;
}

#endif
