// SPDX-License-Identifier: MIT
// Where are the numbers of a key cut? At the ends of the range that the scene's table accepts. Model section 12.
#include <math.h>
#include <string.h>

#include "keys.h"

void fhi_key_cuts(const char *key, double *lo, double *hi);

void fhi_key_cuts(const char *key, double *lo, double *hi) {
  int count = 0;
  const fh_key *keys = fh_key_list(&count);
  *lo = -(double)INFINITY;
  *hi = (double)INFINITY;
  for (int i = 0; key != NULL && i < count; i++) {
    if (keys[i].path[0] == key[0] && strcmp(keys[i].path, key) == 0) {
      *lo = fhi_to_si(keys[i].unit, keys[i].lo);
      *hi = fhi_to_si(keys[i].unit, keys[i].hi);
      return;
    }
  }
}
