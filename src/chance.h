// SPDX-License-Identifier: MIT
// Chances of many rigs and scenes, one after the other, in the same room: points, counts and scratch stay. Model section 12.
#ifndef FHI_CHANCE_H
#define FHI_CHANCE_H

#include "firnhaul_chance.h"

typedef struct fhi_chance_room fhi_chance_room;

/// @param samples,seed as in fh_chance_opts  @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fhi_chance_room_create(int64_t samples, uint64_t seed, fhi_chance_room **out);
/// Another number of samples from now on. @param samples as in fh_chance_opts
void fhi_chance_room_samples(fhi_chance_room *room, int64_t samples);
void fhi_chance_room_destroy(fhi_chance_room *room);

/// What fh_chance_create gives without `why`, bit by bit, and the check that it rests on. Both stay the room's, until the next call.
/// @param scene,rig whole, as a reader or plan leaves them  @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fhi_chance_again(fhi_chance_room *room, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance **chance,
                           const fh_check **check);

#endif
