// SPDX-License-Identifier: MIT
// What people can pull, for solvers that know which way and on which rope.
#ifndef FHI_CREW_H
#define FHI_CREW_H

#include "firnhaul.h"

/// Which way the pull goes from a rig's hand: as the scene says, else toward the lip behind a fixed point and back behind any other.
/// @param hand a station FH_HAND with the one before it
fh_toward fhi_pull_toward(const fh_station *hand);

/// How someone pulls: toward the lip the rope comes in hand over hand at one place, and who would walk with the rope on the harness
/// stands there and pulls with both hands. @return an item of the catalogue, or -1: as walking
int fhi_posture(const fh_gear *gear, const fh_hauler *hauler, fh_toward toward);

/// One of the crew [N]. @param toward FH_TOWARD_LIP, or anything else: back, away from the lip  @param diameter [m] of the rope in the hands
fh_pull fhi_hauler_pull(const fh_scene *scene, const fh_gear *gear, int index, fh_toward toward, double diameter);

/// What hands hold on a rope [N], 1e30 without hands on it. @param hands [1]  @param diameter [m] of the rope
fh_band fhi_hands_hold(const fh_gear *gear, double hands, fh_gloves gloves, double diameter);

/// All together [N]. NaN and "" when the scene has no crew.
fh_pull fhi_crew_pull(const fh_scene *scene, const fh_gear *gear, fh_toward toward, double diameter);

/// Diameter [m] of a rope of the scene, by its own figure or its kind's. @param rope index, or -1: an ordinary half rope
double fhi_rope_diameter(const fh_scene *scene, const fh_gear *gear, int rope);

/// Part of the sum of their pulls that `count` people lose by not pulling as one: lo, likely, hi [1].
fh_band fhi_crew_loss(const fh_gear *gear, int count);

#endif
