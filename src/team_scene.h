// SPDX-License-Identifier: MIT
// What the team's parts share: counting samples, a scene changed to another way of roping up.
#ifndef FHI_TEAM_SCENE_H
#define FHI_TEAM_SCENE_H

#include "firnhaul_team.h"
#include "json.h"
#include "quasi.h"

/// The points of a team's samples. Constant once started.
void fhi_fall_sampler_start(fhi_sampler *sampler, uint32_t seed);
/// fh_fall_sample with the points at hand: what a loop over many asks. @return FH_OK, FH_ERR_ARG
fh_status fhi_fall_sample(const fh_scene *scene, const fhi_sampler *sampler, uint32_t index, fh_fall_in *out);

/// Runs the samples of a scene's team and counts. @param progress may be NULL; false from it stops: `*stopped` is set, the chance
/// then holds what was run  @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fhi_chance_run(const fh_scene *scene, const fh_team_opts *opts, fh_team_chance *out, bool *stopped);

/// The share of successes with its doubt from counting alone: Wilson's score interval at 95 %. @return [1]
fh_range fhi_share(int successes, int tries);

/// "by_brake": what the third of the falls with the least friction gives, and that with the most; null where there is no such range.
void fhi_write_thirds(fhi_json *j, const fh_team_chance *chance);

#endif
