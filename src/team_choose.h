// SPDX-License-Identifier: MIT
// The scenes that choosing a team makes: a team roped up otherwise, and the raise once one of them hangs.
#ifndef FHI_TEAM_CHOOSE_H
#define FHI_TEAM_CHOOSE_H

#include "firnhaul_team.h"

/// The scene with its team roped up as the design says.
void fhi_design_scene(const fh_scene *scene, const fh_gear *gear, const fh_design *design, fh_scene *to);

/// The raise of one of the first `people` members by the others. @param rope index or -1: ropes as they are  @param length [m]
/// of that rope for the raise, the loaded strand included  @param depth [m]  @param knots in the loaded strand
void fhi_raise_scene(const fh_scene *scene, int people, int faller, int rope, double length, double depth, int knots, fh_scene *to);

/// Asks plan. @param sure the crew can pull it at the high end of the pull, with the low end of its own; such a rig comes before one
/// of fewer pieces  @param why the first possible rig in words, or what is missing
fh_status fhi_raise_find(const fh_scene *scene, const fh_gear *gear, int most_contacts, bool *possible, bool *sure, char *why, size_t size);

#endif
