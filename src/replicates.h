// SPDX-License-Identifier: MIT
// A sample split into replicates of equal size, each drawn by itself: their scatter tells how far a share may be off. Model section 12.
#ifndef FHI_REPLICATES_H
#define FHI_REPLICATES_H

#include <stdint.h>

enum { FHI_REPLICATES = 16 };

/// @param counts [1] one a replicate  @return [1] of all together
int64_t fhi_replicates_sum(const int64_t *counts);
/// Standard error of the share of good ones. @param good,count [1] one a replicate  @return [1] NaN where a replicate has none
double fhi_replicates_error(const int64_t *good, const int64_t *count);

#endif
