// SPDX-License-Identifier: MIT
// Two falls at once: what every processor and WebAssembly can. See team_kernel.h.
#define FHI_WIDE 2
#include "team_kernel.h"

unsigned fhi_step_wide2(fhi_falls *f, int lane) {
  return step_group(f, lane);
}
