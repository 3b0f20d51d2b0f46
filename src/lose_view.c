// SPDX-License-Identifier: MIT
// How do the ropes lie at one stage: what is in place, where, with how much slack? Model sections 1 and 9.
#include <math.h>
#include <string.h>

#include "lose.h"

// A first line that has just been relieved is loose by a hair: what bears is told from what waits.
static const double HAIR = 1e-6;  // [m]

typedef struct filler {
  const fhi_raise *raise;
  const fhi_parts *parts;
  const fh_stage *stage;
  fhi_view *view;
  int waiting;     // first strand that has no point before it yet
  bool first_put;  // the tie-off is in
} filler;

static double body_at(const filler *f, int body) {
  const fhi_raise *r = f->raise;
  if (body == FH_BODY_LOAD) {
    return -f->stage->depth;
  }
  for (int g = 0; g < r->rig->grip_count && body >= FH_BODY_FIRST_GRIP; g++) {
    if (r->rig->grips[g].body == body) {
      return f->stage->grip_at[g];
    }
  }
  return body >= 0 ? r->model.at[body] : 0.0;
}

static fhi_point *put(filler *f, fhi_point point) {
  fhi_view *v = f->view;
  if (v->count == FHI_VIEW_POINTS) {
    return &v->points[v->count - 1];  // cannot happen: stations, grips and a few more
  }
  v->points[v->count] = point;
  v->points[v->count].next = 0.0;
  return &v->points[v->count++];
}

static fhi_point plain(fhi_what what, int path, int body, double at, int part) {
  return (fhi_point){.what = what, .path = path, .body = body, .at = at, .part = part, .lock = -1, .contact = -1};
}

// Which way a capture lets rope run on: as it runs while the load rises, unless it is the wrong way round.
static int way_of(const fhi_raise *r, int contact) {
  const fhi_contact *k = &r->model.contacts[contact];
  double rate = r->motion.rate[contact];
  if (k->kind == FHI_TENDED) {
    return 0;
  }
  return (rate < 0.0) != k->reversed ? -1 : 1;
}

static double bite_of(const fhi_raise *r, int item) {
  fh_number n = fh_gear_figure(r->gear, item, "set_back_m", NULL);
  return fh_number_is_set(n) ? n.likely : 0.0;
}

static fhi_point contact_point(const filler *f, int path, const fhi_end *end) {
  const fhi_contact *k = &f->raise->model.contacts[end->contact];
  int body = end->body == FH_END_LIP ? FH_END_LIP : k->body;
  fhi_point p = plain(body == FH_END_LIP ? FHI_AT_EDGE : FHI_AT_RUN, path, body, body_at(f, body), -1);
  p.contact = end->contact;
  if (k->kind == FHI_TENDED) {
    p.what = FHI_AT_LOCK;
    p.at = f->stage->grip_at[k->grip];
    p.part = f->parts->grip[k->grip];
  } else if (k->station >= 0 && body != FH_END_LIP) {
    p.part = f->parts->bend[k->station];
  }
  if (k->capture && k->kind != FHI_TENDED) {
    p.what = FHI_AT_LOCK;
    p.lock = f->parts->lock[k->station];
  }
  if (k->capture) {
    p.way = way_of(f->raise, end->contact);
    p.bite = bite_of(f->raise, k->item);
  }
  return p;
}

// The point at one end of a strand. @return false when it is not in place
static bool end_point(const filler *f, int strand, int e, fhi_point *out) {
  const fhi_strand *st = &f->raise->model.strands[strand];
  const fhi_end *end = &st->end[e];
  const fh_rig *rig = f->raise->rig;
  int grip = end->kind == FHI_END_CONTACT ? f->raise->model.contacts[end->contact].grip : end->grip;
  if (grip >= 0) {
    bool tended = end->kind == FHI_END_CONTACT;
    uint32_t bit = (uint32_t)1 << grip;
    if (((tended ? f->stage->grips_on : f->stage->grips) & bit) == 0) {
      return false;
    }
    *out = tended ? contact_point(f, st->path, end)
                  : plain(FHI_AT_TIE, st->path, end->body, f->stage->grip_at[grip], f->parts->grip[grip]);
    return true;
  }
  int station = rig->paths[st->path].first + st->after + e;
  if (st->after + e >= f->stage->placed[st->path]) {
    return false;
  }
  switch (end->kind) {
  case FHI_END_FIXED: *out = plain(FHI_AT_TIE, st->path, end->body, body_at(f, end->body), f->parts->knot[station]); break;
  case FHI_END_CONTACT: *out = contact_point(f, st->path, end); break;
  case FHI_END_HAND: *out = plain(FHI_AT_HAND, st->path, FH_END_HAND, 0.0, -1); break;
  case FHI_END_LOOSE: *out = plain(FHI_AT_END, st->path, FH_END_LOOSE, 0.0, -1); break;
  }
  return true;
}

// Does a strand belong to the first line, whose slack the stage itself tells?
static bool in_first_line(const filler *f, const fhi_strand *st) {
  int station = f->raise->rig->paths[st->path].first + st->after;
  return f->raise->first == FH_FIRST_IN_RIG && station >= f->raise->first_from && station < f->raise->first_to;
}

// Does the rope lead on to a tie that was left slack? Between two ties nobody hauls it: what the load rises it hangs looser.
static bool ends_slack(const filler *f, const fhi_strand *st) {
  const fh_path *line = &f->raise->rig->paths[st->path];
  for (int i = st->after + 1; i < line->count; i++) {
    const fh_station *station = &f->raise->rig->stations[line->first + i];
    if (station->kind == FH_TIE) {
      return fh_number_is_set(station->slack) && station->slack.likely > 0.0;
    }
  }
  return false;
}

// Rope between the last point and one that comes now.
static double rope_to(const filler *f, const fhi_point *from, const fhi_point *to, int strand) {
  if (to->what == FHI_AT_HAND) {
    return 1.0;  // anywhere behind
  }
  if (to->what == FHI_AT_END || from->what == FHI_AT_END) {
    return 0.0;
  }
  double length = fabs(to->at - from->at);
  const fhi_strand *st = &f->raise->model.strands[strand];
  if (in_first_line(f, st)) {
    return length;
  }
  if ((from->body == FH_BODY_LOAD || to->body == FH_BODY_LOAD) && ends_slack(f, st)) {
    length += fmax(0.0, f->raise->scene->depth.likely - f->stage->depth);
  }
  const fh_number *slack = &f->raise->rig->stations[f->raise->rig->paths[st->path].first + st->after + 1].slack;
  return to->what == FHI_AT_TIE && st->end[1].grip < 0 && fh_number_is_set(*slack) ? length + slack->likely : length;
}

// ---------------------------------------------------------------------------------------------------- what is not in the rig

// The friction hitch that bears the first line: on the loaded strand, clipped to the anchor; behind it the knot hangs loose by a little.
static fhi_point hitch_point(const filler *f, int path) {
  fhi_point p = plain(FHI_AT_TIE, path, FH_BODY_ANCHOR, f->raise->model.at[FH_BODY_ANCHOR], f->parts->hitch);
  p.next = f->stage->behind;
  return p;
}

// The haul rope is tied off behind the first fixed bend, or straight from the lip.
static void put_tie_off(filler *f, int path) {
  fhi_point *before = &f->view->points[f->view->count - 1];
  double anchor = f->raise->model.at[FH_BODY_ANCHOR];
  before->next = fabs(anchor - before->at);
  if (f->stage->hitched) {
    put(f, hitch_point(f, path))->next = f->stage->behind;
  }
  (void)put(f, plain(FHI_AT_TIE, path, FH_BODY_ANCHOR, anchor, f->parts->first));
  f->first_put = true;
}

static bool tie_off_due(const filler *f, int path) {
  const fhi_point *p = &f->view->points[f->view->count - 1];
  bool fixed = p->body == FH_BODY_STATION || p->body == FH_BODY_ANCHOR;
  return f->raise->first == FH_FIRST_HAUL_ROPE && path == f->raise->first_path && f->stage->first_tied && !f->first_put &&
         fixed && (p->what == FHI_AT_RUN || p->what == FHI_AT_LOCK);
}

static void put_outside_line(filler *f) {
  double anchor = f->raise->model.at[FH_BODY_ANCHOR];
  put(f, plain(FHI_AT_TIE, -1, FH_BODY_LOAD, -f->stage->depth, -1))->next = f->stage->depth;
  put(f, plain(FHI_AT_EDGE, -1, FH_END_LIP, 0.0, -1))->next = anchor;
  put(f, plain(FHI_AT_TIE, -1, FH_BODY_ANCHOR, anchor, f->parts->first))->last = true;
}

static void insert(fhi_view *v, int at, fhi_point point) {
  if (v->count == FHI_VIEW_POINTS) {
    return;
  }
  memmove(&v->points[at + 1], &v->points[at], (size_t)(v->count - at) * sizeof *v->points);
  v->points[at] = point;
  v->count++;
  for (int s = 0; s < FH_MAX_STRANDS; s++) {
    v->cut[s] += v->cut[s] >= at ? 1 : 0;
  }
}

// The point behind which the first line leads to the load's tie, or leads away from it.
static int load_point(const filler *f, bool load_first) {
  int part = f->parts->knot[load_first ? f->raise->first_from : f->raise->first_to], found = 0;
  for (int i = 0; i < f->view->count; i++) {
    found = f->view->points[i].part == part && f->view->points[i].what == FHI_AT_TIE ? i : found;
  }
  return load_first || found == 0 ? found : found - 1;
}

// Between the load and the knot, close to the knot.
static void put_hitch(const filler *f, int anchored, bool load_first) {
  fhi_view *v = f->view;
  fhi_point hitch = hitch_point(f, v->points[anchored].path);
  hitch.body = v->points[anchored].body;
  hitch.at = v->points[anchored].at;
  if (load_first) {
    insert(v, anchored, hitch);
  } else {
    hitch.next = v->points[anchored].next;
    v->points[anchored].next = f->stage->behind;
    insert(v, anchored + 1, hitch);
  }
}

// A knot in the first line takes what it has gained out of it, on the side of the anchor.
static void put_first_line(filler *f) {
  const fhi_raise *r = f->raise;
  fhi_view *v = f->view;
  const fh_station *from = &r->rig->stations[r->first_from], *to = &r->rig->stations[r->first_to];
  bool load_first = from->body == FH_BODY_LOAD;
  int anchored = -1;
  for (int i = 0; i < v->count; i++) {
    if (v->points[i].what == FHI_AT_TIE && v->points[i].part == f->parts->knot[load_first ? r->first_to : r->first_from]) {
      anchored = i;
    }
  }
  if (anchored < 0 || (load_first && anchored == 0)) {
    return;  // the first line is not in place
  }
  double slack = isnan(f->stage->slack) ? 0.0 : f->stage->slack;
  double hair = f->stage->hands || f->stage->locked ? HAIR : 0.0;
  // What the scene says hangs loose before the second tie; what the load has gained since hangs at the load.
  double said = fh_number_is_set(to->slack) ? to->slack.likely : 0.0, all = fmax(slack, hair);
  int near = load_point(f, load_first), before = load_first ? anchored - 1 : near;
  v->points[before].next += fmin(all, said);
  v->points[near].next += fmax(0.0, all - said);
  if (f->stage->hitched) {
    put_hitch(f, anchored, load_first);
  }
  if (f->stage->knots > 0) {
    double gained = fmax(0.0, r->scene->depth.likely - f->stage->depth + said - slack);
    fhi_point knot = v->points[anchored];
    knot.part = f->parts->backup;
    if (load_first) {
      knot.next = gained;
      insert(v, anchored, knot);
    } else {
      knot.next = v->points[anchored].next;
      v->points[anchored].next = gained;
      insert(v, anchored + 1, knot);
    }
  }
}

// Without a first line: a loop of the strand behind the capture, clipped beside it while hands are off.
static void put_backup(filler *f) {
  fhi_view *v = f->view;
  for (int i = 0; i < v->count; i++) {
    if (v->points[i].what == FHI_AT_LOCK && v->points[i].contact == f->raise->capture) {
      fhi_point knot = v->points[i];
      knot.what = FHI_AT_TIE;
      knot.part = f->parts->backup;
      knot.lock = knot.contact = -1;
      knot.last = false;
      if (v->points[i].way >= 0) {
        knot.next = v->points[i].next;
        v->points[i].next = f->stage->slack;
        insert(v, i + 1, knot);
        for (int s = 0; s < FH_MAX_STRANDS; s++) {
          v->cut[s] += v->cut[s] == i ? 1 : 0;  // the strand begins behind the knot
        }
      } else {
        knot.next = f->stage->slack;
        insert(v, i, knot);
      }
      return;
    }
  }
}

// ---------------------------------------------------------------------------------------------------- the whole

// Adds a point and says which strands lie before it.
static void link_point(filler *f, const fhi_point *point, int strand, bool first) {
  fhi_view *v = f->view;
  if (!first) {
    v->points[v->count - 1].next = rope_to(f, &v->points[v->count - 1], point, strand);
    for (int s = f->waiting; s <= strand; s++) {
      v->cut[s] = v->count - 1;
    }
  }
  f->waiting = strand + (first ? 0 : 1);
  (void)put(f, *point);
}

static void put_path(filler *f, int path) {
  fhi_view *v = f->view;
  int start = v->count;
  for (int s = 0; s < f->raise->model.strand_count; s++) {
    fhi_point point;
    if (f->raise->model.strands[s].path != path) {
      continue;
    }
    if (f->raise->model.strands[s].after == 0 && v->count == start && end_point(f, s, 0, &point)) {
      link_point(f, &point, s, true);
    }
    if (v->count > start && end_point(f, s, 1, &point)) {
      if (point.what == FHI_AT_HAND) {
        point.at = v->points[v->count - 1].at + (f->raise->model.hand_dir > 0 ? 1.0 : -1.0);
      }
      link_point(f, &point, s, false);
    }
    if (v->count > start && tie_off_due(f, path)) {
      put_tie_off(f, path);
    }
  }
  if (v->count == start) {
    return;
  }
  bool tied_off = f->raise->first == FH_FIRST_HAUL_ROPE && path == f->raise->first_path && f->stage->first_tied;
  if (tied_off && !f->first_put) {
    put_tie_off(f, path);
  }
  fhi_what end = v->points[v->count - 1].what;
  if (end == FHI_AT_RUN || end == FHI_AT_LOCK || end == FHI_AT_EDGE) {
    (void)put(f, plain(FHI_AT_END, path, FH_END_LOOSE, 0.0, -1));
  }
  v->points[v->count - 1].last = true;
}

void fhi_view_fill(const fhi_raise *raise, const fhi_parts *parts, const fh_stage *stage, fhi_view *view) {
  filler f = {raise, parts, stage, view, 0, false};
  view->raise = raise;
  view->parts = parts;
  view->count = 0;
  view->hands = stage->hands;
  view->loaded = stage->locked;
  for (int s = 0; s < FH_MAX_STRANDS; s++) {
    view->cut[s] = -1;
  }
  for (int b = 0; b < raise->rig->body_count; b++) {
    view->at[b] = body_at(&f, b);
  }
  for (int p = 0; p < raise->rig->path_count; p++) {
    put_path(&f, p);
  }
  if (raise->first == FH_FIRST_IN_RIG) {
    put_first_line(&f);
  } else if (stage->knots > 0 && raise->capture >= 0) {
    put_backup(&f);
  }
  if (raise->first == FH_FIRST_OUTSIDE && stage->first_tied) {
    put_outside_line(&f);
  }
}

bool fhi_view_has(const fhi_view *v, int part) {
  const fh_element *e = &v->parts->list[part];
  if (e->kind == FH_ELEMENT_ANCHOR || e->kind == FH_ELEMENT_LEG) {
    return true;
  }
  if (e->kind == FH_ELEMENT_HANDS) {
    return v->hands;
  }
  if (e->kind == FH_ELEMENT_STRAND) {
    return v->cut[e->index] >= 0;
  }
  for (int i = 0; i < v->count; i++) {
    bool on_station = e->kind == FH_ELEMENT_STATION && v->points[i].body == FH_BODY_STATION;
    if (v->points[i].part == part || v->points[i].lock == part || on_station) {
      return true;
    }
  }
  return false;
}
