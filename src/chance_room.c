// SPDX-License-Identifier: MIT
// Chances of many rigs and scenes, one after the other, in the same room: points, counts and scratch stay. Implements model.md, section 12.
#include "chance_work.h"

#include <string.h>

#include "memory.h"
#include "points.h"

struct fhi_chance_room {
  int dims;  // of the samplers: as many as any rig asked for so far
  fhi_points *points;
  fh_chance_work work;
  fh_chance_part part;
  fh_chance chance;
  fh_check check;
};

fh_status fhi_chance_room_create(int64_t samples, uint64_t seed, fhi_chance_room **out) {
  if (out == NULL || samples < 1 || samples > 4000000000) {
    return FH_ERR_ARG;
  }
  fhi_chance_room *room = fhi_alloc(1, sizeof *room);
  if (room == NULL) {
    return FH_ERR_MEMORY;
  }
  room->work.opts = (fh_chance_opts){.samples = fhi_chance_steps(samples), .seed = seed};
  room->points = fhi_points_create(room->work.opts.samples);
  if (room->points == NULL) {
    fhi_free(room);
    return FH_ERR_MEMORY;
  }
  *out = room;
  return FH_OK;
}

void fhi_chance_room_samples(fhi_chance_room *room, int64_t samples) {
  room->work.opts.samples = fhi_chance_steps(samples);
}

void fhi_chance_room_destroy(fhi_chance_room *room) {
  if (room != NULL) {
    fhi_points_destroy(room->points);
    fhi_free(room);
  }
}

static void run_all(fhi_chance_room *room) {
  const fh_chance_work *w = &room->work;
  const int dims = w->odds.unknowns > 0 ? w->odds.unknowns : 1;
  if (dims > room->dims) {
    room->dims = dims;
    fhi_chance_samplers(&room->work, room->dims);  // a further dimension does not move the others
  }
  const int64_t blocks = fh_chance_work_blocks(w);
  fhi_points_begin(room->points, &w->odds, blocks);
  for (int64_t b = 0; b < blocks; b++) {
    fhi_points_draw(room->points, &w->odds, w->sampler, FHI_REPLICATES, b, &room->part.scratch);
    fhi_chance_part_count(w, &room->part, b);
  }
}

fh_status fhi_chance_again(fhi_chance_room *room, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance **chance,
                           const fh_check **check) {
  const fh_check_opts opts = {.lower = false, .ranges = true};
  fh_chance_work *w = &room->work;
  w->odds.room.highs = true;
  fh_status status = fhi_check_fill(scene, gear, rig, &opts, &w->odds.room, &room->check);
  if (status != FH_OK) {
    return status;
  }
  fhi_chance_part_clear(&room->part);
  w->outcome = room->check.outcome;
  w->stuck = fhi_chance_stuck(&room->check);
  w->language = scene->language;
  if (w->outcome == FH_OUTCOME_SOLVED) {
    status = fhi_odds_build_on(scene, gear, rig, &room->check, &w->odds);
    status = status == FH_OK && !fhi_chance_part_rest(w, &room->part) ? FH_ERR_MEMORY : status;
    if (status == FH_OK) {
      run_all(room);
      fhi_rest_destroy(room->part.scratch.rest);
    }
  } else {
    memset(&w->odds, 0, sizeof w->odds);
  }
  *chance = &room->chance;
  *check = &room->check;
  return status != FH_OK ? status : fhi_chance_fill(w, &room->part, &room->chance);
}
