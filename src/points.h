// SPDX-License-Identifier: MIT
// Values of unknowns kept from one scene to the next: where a range stays as it was, so do its samples. Model section 12.
#ifndef FHI_POINTS_H
#define FHI_POINTS_H

#include "odds.h"

typedef struct fhi_points fhi_points;

/// @param samples kept of each unknown at the most; many more cost more to fetch than to draw: then none are kept
/// @return NULL when there is no memory
fhi_points *fhi_points_create(int64_t samples);
void fhi_points_destroy(fhi_points *points);
/// Compares the unknowns with those of the last scene. The caller then draws every block of 0 .. blocks - 1 once.
void fhi_points_begin(fhi_points *points, const fhi_odds *odds, int64_t blocks);
/// What fhi_odds_draw gives, bit by bit. @param samplers one a replicate, the same in every scene; block b is of replicate b % replicates
void fhi_points_draw(fhi_points *points, const fhi_odds *odds, const fhi_sampler *samplers, int replicates, int64_t block,
                     fhi_odds_scratch *scratch);

#endif
