// SPDX-License-Identifier: MIT
// The raise in time and what lets go, for the page. Empty until the core has them: an honest "not there".
#include "core.h"

fh_status page_answer_rescue(page_state *p, int what, double a, fh_units units, fh_out out) {
  (void)p;
  (void)what;
  (void)a;
  (void)units;
  (void)out;
  return FH_ERR_ARG;
}
