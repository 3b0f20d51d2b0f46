// SPDX-License-Identifier: MIT
// Rigs whose advantage is known: by the method of tensions, or measured.
#ifndef REF_KNOWN_H
#define REF_KNOWN_H

#include "build.h"

enum { REF_KNOWN_CONTACTS = 8 };

/// One known rig. `contact` names, for each efficiency that the rig takes, where that contact is.
typedef struct ref_known {
  const char *key, *about;
  double ideal;                             // [1] hand travel over load travel
  int contacts;                             // efficiencies that it takes, in `eta`
  double (*polynomial)(const double *eta);  // [1] weight over hand force, lip without friction
  void (*build)(fh_scene *s, const ref_items *it, const double *eta);
  const char *source;  // of the ideal advantage or of the polynomial
} ref_known;

const ref_known *ref_known_list(int *count);
const ref_known *ref_known_find(const char *key);

/// A known rig in a scene of its own: 80 kg, lip without friction. @return NULL when there is no memory
fh_scene *ref_known_make(const ref_known *known, const ref_items *items, const double *eta);

#endif
