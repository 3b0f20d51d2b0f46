// SPDX-License-Identifier: MIT
// Eight falls at once, where this file is compiled for AVX-512 (cmake/core.cmake); the processor is asked before it is called.
// See team_kernel.h.
#include "team_step.h"

#ifdef __AVX512F__
#define FHI_WIDE 8
#include "team_kernel.h"

unsigned fhi_step_wide8(fhi_falls *f, int lane) {
  return step_group(f, lane);
}

bool fhi_wide8_is_built(void) {
  return true;
}
#else
// Elsewhere nobody takes this way: fhi_falls_widen asks first.
unsigned fhi_step_wide8(fhi_falls *f, int lane) {
  return fhi_step_wide2(f, lane);
}

bool fhi_wide8_is_built(void) {
  return false;
}
#endif
