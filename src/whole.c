// SPDX-License-Identifier: MIT
// Whether a scene and a rig that a caller filled by hand can be worked on at all: indices in range, numbers said.
// What a scene's reader lets in is always whole; this keeps everybody else from undefined behaviour (FH_ERR_ARG instead).
#include "whole.h"

#include <math.h>
#include <string.h>

static bool within(int value, int lo, int hi) {
  return value >= lo && value <= hi;
}

static bool is_said(fh_number n) {
  return fh_number_is_set(n) && n.lo <= n.likely && n.likely <= n.hi && isfinite(n.lo) && isfinite(n.hi);
}

// Unset is fine, half set is not.
static bool may_be_said(fh_number n) {
  return !fh_number_is_set(n) || is_said(n);
}

static bool ends(const char *name) {
  return memchr(name, '\0', FH_NAME) != NULL;
}

bool fhi_scene_is_whole(const fh_scene *s) {
  const fh_number needed[] = {s->load_mass, s->depth, s->lip_turn,  s->lip_friction, s->station_at, s->anchor_at,
                              s->reach,     s->room,  s->clearance, s->reset_time,   s->walk_speed};
  bool whole = within(s->crew_count, 0, FH_MAX_CREW) && within(s->rope_count, 0, FH_MAX_ROPES) &&
               within(s->kit_count, 0, FH_MAX_KIT) && within(s->anchorage.point_count, 0, FH_MAX_POINTS) &&
               may_be_said(s->slope) && may_be_said(s->anchor_holds);
  for (size_t i = 0; i < sizeof needed / sizeof needed[0]; i++) {
    whole = whole && is_said(needed[i]);
  }
  for (int i = 0; whole && i < s->crew_count; i++) {
    const fh_hauler *h = &s->crew[i];
    whole = may_be_said(h->mass) && may_be_said(h->footing) && may_be_said(h->pull);
  }
  for (int i = 0; whole && i < s->rope_count; i++) {
    const fh_rope *r = &s->ropes[i];
    whole = ends(r->name) && may_be_said(r->length) && may_be_said(r->diameter) && may_be_said(r->modulus);
  }
  for (int i = 0; whole && i < s->kit_count; i++) {
    whole = within(s->kit[i].count, 0, 1000) && may_be_said(s->kit[i].efficiency);
  }
  return whole && s->load_mass.lo > 0.0 && s->depth.lo > 0.0;
}

static bool station_is_whole(const fh_rig *rig, const fh_station *st, bool first, bool last) {
  switch (st->kind) {
  case FH_TIE: return within(st->body, 0, rig->body_count - 1) && may_be_said(st->slack);
  case FH_RUN:
    return !first && !last && within(st->body, 0, rig->body_count - 1) && may_be_said(st->efficiency) &&
           may_be_said(st->efficiency_range);
  case FH_EDGE: return !first && !last && may_be_said(st->friction);
  case FH_HAND: return !first && last && may_be_said(st->angle);
  case FH_LOOSE: return first || last;
  default: return false;
  }
}

static bool paths_are_whole(const fh_scene *scene, const fh_rig *rig) {
  int next = 0, hands = 0;
  for (int p = 0; p < rig->path_count; p++) {
    const fh_path *path = &rig->paths[p];
    if (path->first != next || !within(path->count, 2, rig->station_count - next) || !ends(path->name) || !ends(path->of) ||
        !within(path->rope, -1, scene->rope_count - 1)) {
      return false;
    }
    for (int i = 0; i < path->count; i++) {
      const fh_station *st = &rig->stations[next + i];
      if (!station_is_whole(rig, st, i == 0, i == path->count - 1)) {
        return false;
      }
      hands += st->kind == FH_HAND;
    }
    next += path->count;
  }
  return hands <= 1;
}

static bool grips_are_whole(const fh_rig *rig) {
  bool held[FH_MAX_BODIES] = {true, true, true};  // the bodies that always exist need no grip
  for (int g = 0; g < rig->grip_count; g++) {
    const fh_grip *grip = &rig->grips[g];
    if (!within(grip->body, FH_BODY_STATION, rig->body_count - 1) || !within(grip->path, 0, rig->path_count - 1) ||
        !within(grip->after, 0, rig->paths[grip->path].count - 2) || !isfinite(grip->at)) {
      return false;
    }
    held[grip->body] = true;
  }
  for (int b = 0; b < rig->body_count; b++) {
    if (!held[b] || !ends(rig->bodies[b])) {
      return false;
    }
  }
  return true;
}

bool fhi_rig_is_whole(const fh_scene *scene, const fh_rig *rig) {
  return within(rig->body_count, FH_BODY_FIRST_GRIP, FH_MAX_BODIES) && within(rig->path_count, 0, FH_MAX_PATHS) &&
         within(rig->station_count, 0, FH_MAX_STATIONS) && within(rig->grip_count, 0, FH_MAX_GRIPS) &&
         paths_are_whole(scene, rig) && grips_are_whole(rig);
}
