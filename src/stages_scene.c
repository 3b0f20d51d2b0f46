// SPDX-License-Identifier: MIT
// The scene as it is at one stage: what is in place as a rig of its own, for figures and checks.
#include <math.h>
#include <string.h>

#include "firnhaul_rescue.h"
#include "text.h"

// A load on the edge still hangs on a strand of some length.
static const double LEAST = 0.01;  // [m]

typedef struct copier {
  const fh_rig *rig;
  const fh_stages *stages;
  const fh_stage *stage;
  fh_rig *out;
  int body[FH_MAX_BODIES];  // new index, or -1
  int path[FH_MAX_PATHS];
  double anchor, station;   // [m]
  int prusik;               // item of the hitch that bears the first line
  int tie_off[FH_MAX_PATHS];  // station behind which the tie-off was put in, or -1
} copier;

static bool has(uint32_t set, int g) {
  return (set >> g & 1u) != 0;
}

// The three fixed bodies, and those whose grip is on.
static void copy_bodies(copier *c) {
  for (int b = 0; b < c->rig->body_count; b++) {
    bool in = b < FH_BODY_FIRST_GRIP;
    for (int g = 0; g < c->rig->grip_count; g++) {
      in = in || (c->rig->grips[g].body == b && has(c->stage->grips_on, g));
    }
    c->body[b] = in ? c->out->body_count : -1;
    if (in) {
      (void)fhi_copy(c->out->bodies[c->out->body_count++], FH_NAME, c->rig->bodies[b]);
    }
  }
}

static fh_station bare(fh_station_kind kind, int body) {
  fh_station st = {.kind = kind, .body = body, .item = -1};
  st.efficiency = st.efficiency_range = st.friction = st.slack = st.angle = fh_number_unset();
  return st;
}

static void put(copier *c, fh_station st) {
  if (c->out->station_count < FH_MAX_STATIONS) {
    c->out->stations[c->out->station_count++] = st;
    c->out->paths[c->out->path_count - 1].count++;
  }
}

// The haul rope is tied off behind its first fixed bend, or straight from the lip. @return true when it is so here
static bool tied_off_here(const copier *c, int path, int index) {
  const fh_path *from = &c->rig->paths[path];
  const fh_station *st = &c->rig->stations[from->first + index];
  bool ties = c->stages->first == FH_FIRST_HAUL_ROPE && path == c->stages->first_path && c->stage->first_tied;
  for (int i = 0; i < index && ties; i++) {
    const fh_station *before = &c->rig->stations[from->first + i];
    ties = !(before->kind == FH_RUN && (before->body == FH_BODY_STATION || before->body == FH_BODY_ANCHOR));
  }
  bool bend = st->kind == FH_RUN && (st->body == FH_BODY_STATION || st->body == FH_BODY_ANCHOR);
  bool lip = st->kind == FH_EDGE && index == c->stage->placed[path] - 1;
  return ties && (bend || lip);
}

// The hitch that bears the first line sits on the strand that ends at its knot, by a cord's length before the anchor.
static const double CORD = 0.5;  // [m]

static void put_hitch(copier *c) {
  fh_path *line = &c->out->paths[c->out->path_count - 1];
  if (!c->stage->hitched || c->out->grip_count == FH_MAX_GRIPS || line->count < 2) {
    return;
  }
  // Where the station is the anchor, the hitch sits before the bend there.
  const fh_station *before = &c->out->stations[line->first + line->count - 2];
  bool close = c->anchor - c->station < CORD && before->kind == FH_RUN && line->count > 2;
  fh_grip *g = &c->out->grips[c->out->grip_count++];
  *g = (fh_grip){.body = FH_BODY_ANCHOR, .item = c->prusik, .path = c->out->path_count - 1, .after = line->count - (close ? 3 : 2), .at = c->anchor - CORD};
}

static void copy_path(copier *c, int path) {
  const fh_path *from = &c->rig->paths[path];
  int n = c->stage->placed[path];
  c->path[path] = c->tie_off[path] = -1;
  if (n <= 0) {
    return;
  }
  c->path[path] = c->out->path_count;
  fh_path *to = &c->out->paths[c->out->path_count++];
  *to = *from;
  to->first = c->out->station_count;
  to->count = 0;
  for (int i = 0; i < n; i++) {
    fh_station st = c->rig->stations[from->first + i];
    st.body = st.body >= 0 ? c->body[st.body] : st.body;
    if (st.kind == FH_TIE && from->first + i == c->stages->first_to && c->stages->first == FH_FIRST_IN_RIG) {
      st.slack = c->stage->slack > 0.0 ? fh_number_exact(c->stage->slack) : fh_number_unset();
    }
    put(c, st);
    if (st.kind == FH_TIE && from->first + i == c->stages->first_to && c->stages->first == FH_FIRST_IN_RIG) {
      put_hitch(c);
    }
    if (tied_off_here(c, path, i)) {
      put(c, bare(FH_TIE, FH_BODY_ANCHOR));
      put_hitch(c);
      c->tie_off[path] = i;
    }
  }
  fh_station_kind last = c->out->stations[c->out->station_count - 1].kind;
  if (last != FH_TIE && last != FH_HAND && last != FH_LOOSE) {
    put(c, bare(FH_LOOSE, -1));
  }
}

static void copy_grips(copier *c) {
  for (int g = 0; g < c->rig->grip_count; g++) {
    const fh_grip *from = &c->rig->grips[g];
    if (!has(c->stage->grips_on, g) || c->path[from->path] < 0) {
      continue;
    }
    fh_grip *to = &c->out->grips[c->out->grip_count++];
    *to = *from;
    to->body = c->body[from->body];
    to->path = c->path[from->path];
    to->at = c->stage->grip_at[g];
    to->after += c->tie_off[from->path] >= 0 && from->after > c->tie_off[from->path] ? 1 : 0;
  }
}

fh_status fh_stage_scene(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages *stages, int index,
                         fh_scene *out) {
  if (scene == NULL || gear == NULL || rig == NULL || stages == NULL || out == NULL || index < 0 || index >= stages->count) {
    return FH_ERR_ARG;
  }
  copier c = {.rig = rig, .stages = stages, .stage = &stages->stages[index], .out = &out->rig, .anchor = scene->anchor_at.likely, .station = scene->station_at.likely};
  c.prusik = fh_gear_find(gear, "prusik");
  *out = *scene;
  memset(&out->rig, 0, sizeof out->rig);
  out->depth = fh_number_exact(fmax(c.stage->depth, LEAST));
  out->has_rig = true;
  copy_bodies(&c);
  for (int p = 0; p < rig->path_count; p++) {
    copy_path(&c, p);
  }
  copy_grips(&c);
  return FH_OK;
}
