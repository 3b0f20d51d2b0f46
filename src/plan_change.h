// SPDX-License-Identifier: MIT
// One change to a scene that might make a rig work: at no cost first, then people, then gear.
#ifndef FHI_PLAN_CHANGE_H
#define FHI_PLAN_CHANGE_H

#include "firnhaul.h"

typedef struct fhi_change {
  const char *name;  ///< what programs read; rows of the same name are steps of one change, the smallest first
  bool free;         ///< takes nothing that is not there
  double amount;     ///< [kg], [m] or [1], as the change has it
  bool (*apply)(const struct fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size);
} fhi_change;

/// All changes, the cheapest first. @param count how many
const fhi_change *fhi_changes(int *count);

/// Changes the scene and says in its language what was done. @return false when that would change nothing: the scene is as it was
bool fhi_change_apply(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size);

#endif
