// SPDX-License-Identifier: MIT
// Whether a scene and a rig that a caller filled by hand can be worked on at all.
#ifndef FHI_WHOLE_H
#define FHI_WHOLE_H

#include "firnhaul.h"

/// Every list within its bound, every number that has no default said, in order and finite.
bool fhi_scene_is_whole(const fh_scene *scene);

/// Every list within its bound, every index pointing at something, paths one behind the other, ends at the ends, one hand
/// at most, and every body of a grip held by one.
bool fhi_rig_is_whole(const fh_scene *scene, const fh_rig *rig);

#endif
