// SPDX-License-Identifier: MIT
// Rigs for the tests of the figures, built by hand. Every figure of a contact is written out, so that the catalogue does
// not matter. All data is invented; the constructions are common practice, no source.
#ifndef DRAW_SCENES_H
#define DRAW_SCENES_H

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "firnhaul.h"

typedef struct draw_scene {
  const char *name;
  fh_scene *scene;
  fh_gear *gear;
} draw_scene;

static inline fh_number between(double lo, double hi) {
  fh_number n = fh_number_exact((lo + hi) / 2.0);
  n.lo = lo;
  n.hi = hi;
  n.spread = lo < hi ? FH_SPREAD_UNIFORM : FH_SPREAD_EXACT;
  return n;
}

static inline int draw_body(fh_rig *rig, const char *name) {
  for (int i = 0; i < rig->body_count; i++) {
    if (strcmp(rig->bodies[i], name) == 0) {
      return i;
    }
  }
  (void)snprintf(rig->bodies[rig->body_count], FH_NAME, "%s", name);
  return rig->body_count++;
}

static inline fh_station *draw_station(draw_scene *d, fh_station_kind kind, const char *body) {
  fh_rig *rig = &d->scene->rig;
  fh_station *st = &rig->stations[rig->station_count++];
  *st = (fh_station){.kind = kind, .body = body == NULL ? -1 : draw_body(rig, body), .item = -1};
  st->efficiency = st->efficiency_range = st->friction = st->slack = st->angle = fh_number_unset();
  rig->paths[rig->path_count - 1].count++;
  return st;
}

static inline void rope(draw_scene *d, const char *name) {
  fh_rig *rig = &d->scene->rig;
  fh_path *p = &rig->paths[rig->path_count++];
  *p = (fh_path){.rope = -1, .first = rig->station_count};
  (void)snprintf(p->name, FH_NAME, "%s", name);
}

static inline void tie(draw_scene *d, const char *body) {
  (void)draw_station(d, FH_TIE, body);
}

static inline void tie_slack(draw_scene *d, const char *body, double slack) {
  draw_station(d, FH_TIE, body)->slack = fh_number_exact(slack);
}

static inline void edge(draw_scene *d) {
  (void)draw_station(d, FH_EDGE, NULL);
}

static inline void run(draw_scene *d, const char *body, const char *item, double lo, double hi) {
  fh_station *st = draw_station(d, FH_RUN, body);
  st->item = fh_gear_find(d->gear, item);
  st->efficiency = between(lo, hi);
}

static inline void hand(draw_scene *d, fh_toward toward, double degrees) {
  fh_station *st = draw_station(d, FH_HAND, NULL);
  st->toward = toward;
  st->angle = fh_number_exact(degrees * 3.14159265358979323846 / 180.0);
}

static inline void loose(draw_scene *d) {
  (void)draw_station(d, FH_LOOSE, NULL);
}

static inline void grip(draw_scene *d, const char *body, int path, int after, double at) {
  fh_rig *rig = &d->scene->rig;
  rig->grips[rig->grip_count++] = (fh_grip){.body = draw_body(rig, body), .item = fh_gear_find(d->gear, "prusik"), .path = path, .after = after, .at = at};
}

static inline void hauler(draw_scene *d, const char *name, double pull_lo, double pull_hi) {
  fh_hauler *h = &d->scene->crew[d->scene->crew_count++];
  *h = (fh_hauler){.mass = fh_number_exact(74.0), .footing = fh_number_exact(0.5), .posture = -1, .pull = between(pull_lo, pull_hi)};
  (void)snprintf(h->name, FH_NAME, "%s", name);
}

static inline void draw_start(draw_scene *d, const char *name, const char *title) {
  d->name = name;
  d->scene = calloc(1, sizeof *d->scene);
  if (d->scene == NULL || fh_gear_create(&d->gear) != FH_OK) {
    abort();
  }
  fh_scene *s = d->scene;
  (void)snprintf(s->title, sizeof s->title, "%s", title);
  s->load_mass = fh_number_exact(92.0);
  s->depth = fh_number_exact(11.0);
  s->lip_turn = fh_number_exact(80.0 * 3.14159265358979323846 / 180.0);
  s->lip_friction = fh_number_exact(0.18);
  s->lip_surface = -1;
  s->lip_cut = fh_number_exact(0.2);
  s->station_at = fh_number_exact(4.5);
  s->anchor_at = fh_number_exact(10.0);
  s->slope = fh_number_exact(0.0);
  s->reach = fh_number_exact(1.0);
  s->clearance = fh_number_exact(0.4);
  s->room = fh_number_exact(25.0);
  s->anchor_holds = fh_number_unset();
  s->anchor_kind = -1;
  s->reset_time = fh_number_exact(20.0);
  s->walk_speed = fh_number_exact(0.5);
  s->has_rig = true;
  (void)draw_body(&s->rig, "load");
  (void)draw_body(&s->rig, "station");
  (void)draw_body(&s->rig, "anchor");
}

static inline void draw_stop(draw_scene *d) {
  fh_gear_destroy(d->gear);
  free(d->scene);
}

// The drop loop with a slack line and a three to one behind it: six to one.
static inline void scene_loop_six(draw_scene *d) {
  draw_start(d, "loop-six", "Two on a rope, one in the slot");
  hauler(d, "guide", 250.0, 420.0);
  rope(d, "main");
  tie(d, "load");
  edge(d);
  tie_slack(d, "anchor", 0.6);
  edge(d);
  run(d, "load", "carabiner", 0.5, 0.6);
  edge(d);
  run(d, "station", "toothed-capture", 0.85, 0.92);
  run(d, "tractor", "carabiner", 0.5, 0.6);
  hand(d, FH_TOWARD_BACK, 20.0);
  grip(d, "tractor", 0, 5, 1.5);
}

static inline void scene_three(draw_scene *d) {
  draw_start(d, "three", "Three to one, direct");
  d->scene->depth = fh_number_exact(6.0);
  d->scene->lip_friction = between(0.12, 0.3);
  hauler(d, "first", 250.0, 420.0);
  hauler(d, "second", 250.0, 420.0);
  rope(d, "main");
  tie(d, "load");
  edge(d);
  run(d, "station", "toothed-capture", 0.9, 0.9);
  run(d, "tractor", "pulley", 0.9, 0.9);
  hand(d, FH_TOWARD_BACK, 0.0);
  grip(d, "tractor", 0, 1, 1.2);
}

static inline void scene_five_complex(draw_scene *d) {
  draw_start(d, "five-complex", "Complex five to one");
  d->scene->lip_friction = between(0.12, 0.3);
  d->scene->anchor_at = fh_number_exact(6.5);
  hauler(d, "guide", 250.0, 420.0);
  rope(d, "main");
  tie(d, "load");
  edge(d);
  run(d, "station", "toothed-capture", 0.85, 0.92);
  run(d, "first", "pulley", 0.85, 0.95);
  run(d, "second", "carabiner", 0.5, 0.6);
  hand(d, FH_TOWARD_LIP, 0.0);
  grip(d, "first", 0, 1, 1.1);
  grip(d, "second", 0, 2, 3.6);
}

// Two ropes: a three to one, its tail gripped by a two to one of cord from the anchor.
static inline void scene_two_ropes(draw_scene *d) {
  draw_start(d, "two-ropes", "Six to one with a second rope");
  d->scene->depth = fh_number_exact(18.0);
  d->scene->slope = fh_number_exact(0.21);
  d->scene->lip_friction = between(0.12, 0.3);
  d->scene->anchor_at = fh_number_exact(9.0);
  hauler(d, "a", 250.0, 420.0);
  hauler(d, "b", 250.0, 420.0);
  hauler(d, "c", 250.0, 420.0);
  rope(d, "main");
  tie(d, "load");
  edge(d);
  run(d, "station", "toothed-capture", 0.85, 0.92);
  run(d, "tractor", "carabiner", 0.5, 0.6);
  loose(d);
  rope(d, "cord");
  tie(d, "anchor");
  run(d, "second", "pulley", 0.85, 0.95);
  hand(d, FH_TOWARD_BACK, 0.0);
  grip(d, "tractor", 0, 1, 1.5);
  grip(d, "second", 0, 3, 5.5);
}

// Twice a three to one on a drop loop: eighteen to one, in a deep hole behind a soft edge.
static inline void scene_eighteen(draw_scene *d) {
  draw_start(d, "eighteen", "Deep hole, heavy load, one pair of hands");
  d->scene->depth = fh_number_exact(28.0);
  d->scene->load_mass = between(110.0, 125.0);
  d->scene->lip_turn = fh_number_exact(65.0 * 3.14159265358979323846 / 180.0);
  d->scene->lip_friction = between(0.2, 0.5);
  d->scene->lip_cut = fh_number_exact(0.4);
  hauler(d, "guide", 250.0, 420.0);
  rope(d, "main");
  tie(d, "load");
  edge(d);
  tie_slack(d, "anchor", 0.6);
  edge(d);
  run(d, "load", "pulley", 0.85, 0.95);
  edge(d);
  run(d, "station", "toothed-capture", 0.85, 0.92);
  run(d, "tractor", "carabiner", 0.5, 0.6);
  run(d, "anchor", "carabiner", 0.5, 0.6);
  run(d, "second", "pulley", 0.85, 0.95);
  hand(d, FH_TOWARD_BACK, 0.0);
  grip(d, "tractor", 0, 5, 1.5);
  grip(d, "second", 0, 7, 3.0);
}

// A direct pull over a turn, short and shallow, ground falling away behind an overhanging lip.
static inline void scene_direct(draw_scene *d) {
  draw_start(d, "direct", "Direct pull with a turn");
  d->scene->depth = fh_number_exact(2.5);
  d->scene->slope = fh_number_exact(-0.26);
  d->scene->lip_turn = fh_number_exact(2.0);
  d->scene->station_at = fh_number_exact(2.0);
  d->scene->anchor_at = fh_number_exact(3.0);
  hauler(d, "guide", 250.0, 420.0);
  rope(d, "main");
  tie(d, "load");
  edge(d);
  run(d, "station", "carabiner", 0.5, 0.6);
  hand(d, FH_TOWARD_LIP, 0.0);
}

// The second grip holds a strand that runs the other way as fast: nothing can move.
static inline void scene_locked(draw_scene *d) {
  draw_start(d, "locked", "A rig that does not work");
  rope(d, "main");
  tie(d, "load");
  edge(d);
  run(d, "station", "toothed-capture", 0.9, 0.9);
  run(d, "tractor", "carabiner", 0.5, 0.6);
  hand(d, FH_TOWARD_BACK, 0.0);
  grip(d, "tractor", 0, 1, 1.5);
  grip(d, "tractor", 0, 2, 1.9);
}

typedef void (*draw_maker)(draw_scene *);
static const draw_maker DRAW_SCENES[] = {scene_loop_six, scene_three, scene_five_complex, scene_two_ropes, scene_eighteen, scene_direct, scene_locked};
enum { DRAW_SCENE_COUNT = sizeof DRAW_SCENES / sizeof DRAW_SCENES[0] };

#endif
