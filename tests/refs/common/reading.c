// SPDX-License-Identifier: MIT
// What does a rig say, read a second time? Follows model.md sections 1 to 4 word by word: bodies on one line, ropes as
// lists of points, strands between them, a ratio at each bend, and which strands are slack in which state.
#include "reading.h"

#include <math.h>
#include <string.h>

static const double PI = 3.14159265358979323846;

bool ref_body_moves(int body) {
  return body == FH_BODY_LOAD || body >= FH_BODY_FIRST_GRIP;
}

// Where each body stands: the load down the hole, fixed points behind the lip, grip bodies where their hitch is.
static void place_bodies(const fh_scene *s, double *at) {
  for (int b = 0; b < s->rig.body_count; b++) {
    at[b] = REF_NAN;
  }
  at[FH_BODY_LOAD] = -s->depth.likely;
  at[FH_BODY_STATION] = s->station_at.likely;
  at[FH_BODY_ANCHOR] = s->anchor_at.likely;
  for (int g = 0; g < s->rig.grip_count; g++) {
    if (s->rig.grips[g].body >= FH_BODY_FIRST_GRIP) {
      at[s->rig.grips[g].body] = s->rig.grips[g].at;
    }
  }
}

static double station_at(const fh_station *st, const double *body_at) {
  if (st->kind == FH_EDGE) {
    return 0.0;
  }
  return st->kind == FH_TIE || st->kind == FH_RUN ? body_at[st->body] : REF_NAN;
}

// The default: back behind what moves (and behind the lip), toward the lip behind a fixed point.
static double hand_direction(const fh_station *before, const fh_station *hand) {
  if (hand->toward != FH_TOWARD_AUTO) {
    return hand->toward == FH_TOWARD_BACK ? 1.0 : -1.0;
  }
  return before->kind == FH_EDGE || ref_body_moves(before->body) ? 1.0 : -1.0;
}

// Which way the rope leads from station `k` of a path to the next one.
static double direction(const fh_rig *rig, const fh_path *p, int path, int k, const double *body_at) {
  const fh_station *a = &rig->stations[p->first + k];
  const fh_station *b = a + 1;
  double sa = station_at(a, body_at), sb = station_at(b, body_at);
  if (b->kind == FH_HAND) {
    return hand_direction(a, b);
  }
  if (isfinite(sa) && isfinite(sb)) {
    return sb > sa ? 1.0 : -1.0;
  }
  // A loose end has no place; a hitch on that strand tells where the strand lies.
  for (int g = 0; g < rig->grip_count; g++) {
    if (rig->grips[g].path == path && rig->grips[g].after == k) {
      return isfinite(sa) ? (rig->grips[g].at > sa ? 1.0 : -1.0) : (sb > rig->grips[g].at ? 1.0 : -1.0);
    }
  }
  return 1.0;
}

static void add_station_point(const fh_scene *s, const fh_gear *gear, int path, int k, const double *at,
                              ref_reading *r) {
  static const ref_what WHAT[] = {
      [FH_TIE] = REF_TIE, [FH_EDGE] = REF_TURN, [FH_RUN] = REF_TURN, [FH_HAND] = REF_HAND, [FH_LOOSE] = REF_LOOSE};
  const fh_station *st = &s->rig.stations[s->rig.paths[path].first + k];
  ref_point *p = &r->points[r->point_count++];
  *p = (ref_point){.what = WHAT[st->kind], .path = path, .station = k, .grip = -1, .body = -1, .k = 1.0};
  p->at = station_at(st, at);
  if (st->kind == FH_TIE || st->kind == FH_RUN) {
    p->body = st->body;
  }
  if (st->kind == FH_RUN && fh_gear_item(gear, st->item)->item_class == FH_ITEM_CAPTURE) {
    p->capture = true;
    p->reversed = st->reversed;
  }
}

static void add_strand(ref_reading *r, int path, int after, double dir) {
  r->strands[r->strand_count++] =
      (ref_strand){.path = path, .after = after, .from = r->point_count - 1, .to = r->point_count, .dir = dir};
}

// Hitches on the strand after station `k`, in the order in which the rope meets them.
static void add_grips(const fh_rig *rig, int path, int k, double dir, ref_reading *r) {
  double reached = -REF_INFINITY;
  for (;;) {
    int next = -1;
    for (int g = 0; g < rig->grip_count; g++) {
      const fh_grip *gr = &rig->grips[g];
      if (gr->path == path && gr->after == k && dir * gr->at > reached &&
          (next < 0 || dir * gr->at < dir * rig->grips[next].at)) {
        next = g;
      }
    }
    if (next < 0) {
      return;
    }
    const fh_grip *gr = &rig->grips[next];
    add_strand(r, path, k, dir);
    r->points[r->point_count++] = (ref_point){.what = ref_body_moves(gr->body) ? REF_GRIP : REF_TENDED,
                                              .path = path,
                                              .station = -1,
                                              .grip = next,
                                              .body = gr->body,
                                              .at = gr->at,
                                              .k = 1.0};
    reached = dir * gr->at;
  }
}

int ref_strand_before(const ref_reading *r, int point) {
  for (int i = 0; i < r->strand_count; i++) {
    if (r->strands[i].to == point) {
      return i;
    }
  }
  return -1;
}

int ref_strand_after(const ref_reading *r, int point) {
  for (int i = 0; i < r->strand_count; i++) {
    if (r->strands[i].from == point) {
      return i;
    }
  }
  return -1;
}

// Section 2 on the haul line: a block is bent by half a turn or not at all, so its law gives 1/eta or 1 whatever its
// kind and share; the lip turns by its own angle under the law of belt friction.
static void set_ratio(const fh_scene *s, ref_reading *r, int point) {
  ref_point *p = &r->points[point];
  const fh_station *st = &s->rig.stations[s->rig.paths[p->path].first + p->station];
  if (st->kind == FH_EDGE) {
    double mu = fh_number_is_set(st->friction) ? st->friction.likely : s->lip_friction.likely;
    p->wrap = s->lip_turn.likely;
    p->k = exp(mu * p->wrap);
    return;
  }
  int before = ref_strand_before(r, point), after = ref_strand_after(r, point);
  if (before < 0 || after < 0) {
    return;
  }
  p->wrap = r->strands[before].dir != r->strands[after].dir ? PI : 0.0;
  p->k = p->wrap > 0.0 ? 1.0 / st->efficiency.likely : 1.0;
}

// A strand that carries nothing makes its neighbour across a bend carry nothing: no ratio lifts zero. It ends at a tie
// or a hitch.
static void spread_slack(ref_reading *r) {
  for (int round = 0; round < r->strand_count; round++) {
    for (int p = 0; p < r->point_count; p++) {
      int b = ref_strand_before(r, p), a = ref_strand_after(r, p);
      bool passes = r->points[p].what == REF_TURN || r->points[p].what == REF_TENDED;
      if (passes && b >= 0 && a >= 0) {
        r->strands[a].slack = r->strands[b].slack = r->strands[a].slack || r->strands[b].slack;
      }
    }
  }
}

static void mark_slack(const fh_scene *s, ref_reading *r) {
  for (int i = 0; i < r->strand_count; i++) {
    const ref_point *a = &r->points[r->strands[i].from], *b = &r->points[r->strands[i].to];
    bool marked =
        b->what == REF_TIE && fh_number_is_set(s->rig.stations[s->rig.paths[b->path].first + b->station].slack);
    r->strands[i].slack = marked || a->what == REF_LOOSE || b->what == REF_LOOSE;
    if (b->what == REF_HAND) {
      r->hand_strand = i;
    }
  }
  for (int i = 0; i < r->strand_count; i++) {
    r->strands[i].starts_slack = r->strands[i].slack;
  }
  spread_slack(r);
}

void ref_read(const fh_scene *scene, const fh_gear *gear, ref_reading *out) {
  const fh_rig *rig = &scene->rig;
  double at[FH_MAX_BODIES];
  memset(out, 0, sizeof *out);
  out->hand_strand = -1;
  out->body_count = rig->body_count;
  out->weight = scene->load_mass.likely * 9.80665;
  place_bodies(scene, at);
  for (int path = 0; path < rig->path_count; path++) {
    const fh_path *p = &rig->paths[path];
    for (int k = 0; k < p->count; k++) {
      add_station_point(scene, gear, path, k, at, out);
      if (k + 1 < p->count) {
        double dir = direction(rig, p, path, k, at);
        add_grips(rig, path, k, dir, out);
        add_strand(out, path, k, dir);
      }
    }
  }
  for (int i = 0; i < out->point_count; i++) {
    if (out->points[i].what == REF_TURN) {
      set_ratio(scene, out, i);
    }
  }
  mark_slack(scene, out);
}

void ref_body_row(const ref_reading *r, int body, double *row) {
  memset(row, 0, (size_t)r->strand_count * sizeof *row);
  for (int i = 0; i < r->strand_count; i++) {
    const ref_strand *t = &r->strands[i];
    // A strand pulls the body at its first end along its direction, the body at its last end against it.
    if (r->points[t->from].body == body) {
      row[i] += t->dir;
    }
    if (r->points[t->to].body == body) {
      row[i] -= t->dir;
    }
  }
}
