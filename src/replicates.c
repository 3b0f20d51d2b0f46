// SPDX-License-Identifier: MIT
// What the replicates of a sample give together, and how far apart they are. Implements model.md, section 12.
#include "replicates.h"

#include <math.h>

int64_t fhi_replicates_sum(const int64_t *counts) {
  int64_t all = 0;
  for (int r = 0; r < FHI_REPLICATES; r++) {
    all += counts[r];
  }
  return all;
}

double fhi_replicates_error(const int64_t *good, const int64_t *count) {
  double mean = 0.0, square = 0.0;
  for (int r = 0; r < FHI_REPLICATES; r++) {
    mean += (double)good[r] / (double)count[r] / FHI_REPLICATES;
  }
  for (int r = 0; r < FHI_REPLICATES; r++) {
    double d = (double)good[r] / (double)count[r] - mean;
    square += d * d;
  }
  return sqrt(square / (FHI_REPLICATES * (FHI_REPLICATES - 1.0)));
}
