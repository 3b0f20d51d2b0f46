// SPDX-License-Identifier: MIT
// A number with its spread: exact, not set, and the band that a report shows.
#include <math.h>

#include "firnhaul.h"

fh_number fh_number_exact(double value) {
  return (fh_number){.spread = FH_SPREAD_EXACT, .lo = value, .likely = value, .hi = value};
}

fh_number fh_number_unset(void) {
  return (fh_number){.spread = FH_SPREAD_UNSET, .lo = (double)NAN, .likely = (double)NAN, .hi = (double)NAN};
}

bool fh_number_is_set(fh_number n) {
  return n.spread != FH_SPREAD_UNSET;
}

fh_band fh_number_band(fh_number n) {
  return fh_number_is_set(n) ? (fh_band){n.lo, n.likely, n.hi} : (fh_band){(double)NAN, (double)NAN, (double)NAN};
}
