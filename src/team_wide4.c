// SPDX-License-Identifier: MIT
// Four falls at once, where this file is compiled for AVX2 (cmake/core.cmake); the processor is asked before it is called.
// See team_kernel.h.
#include "team_step.h"

#ifdef __AVX2__
#define FHI_WIDE 4
#include "team_kernel.h"

unsigned fhi_step_wide4(fhi_falls *f, int lane) {
  return step_group(f, lane);
}

bool fhi_wide4_is_built(void) {
  return true;
}
#else
// Elsewhere nobody takes this way: fhi_falls_widen asks first.
unsigned fhi_step_wide4(fhi_falls *f, int lane) {
  return fhi_step_wide2(f, lane);
}

bool fhi_wide4_is_built(void) {
  return false;
}
#endif
