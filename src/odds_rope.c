// SPDX-License-Identifier: MIT
// Does every rope of stated length reach, sample by sample? Implements model.md, sections 7 and 12.
// The same rope as fhi_rope_needed() in a settled scene: strands, slack, knots, the end in the hand. What does not bear on it is not drawn.
#include <math.h>

#include "odds.h"
#include "text.h"

// A number of the scene that rope depends on.
typedef struct part {
  fh_number number;
  const char *key, *advice, *name;
  double side;  // [1] -1: a depth below the lip
} part;

static part exact(double at) {
  return (part){fh_number_exact(at), NULL, NULL, NULL, 1.0};
}

static part place_of(const fh_scene *s, const fhi_end *end) {
  switch (end->body) {
  case FH_BODY_LOAD: return (part){s->depth, "slot.depth_m", "measure the depth on the rope", "depth of the load", -1.0};
  case FH_BODY_STATION: return (part){s->station_at, "ground.station_m", "measure it on the rope", "distance of the station", 1.0};
  case FH_BODY_ANCHOR: return (part){s->anchor_at, "ground.anchor_m", "measure it on the rope", "distance of the anchor", 1.0};
  default: return exact(end->s);
  }
}

static part slack_of(const fh_station *st) {
  return (part){st->slack, "rig.ropes[].path[].slack_m", "measure the slack", "slack before a tie", 1.0};
}

// What samples of a number can be: a normal one reaches out to where its key cuts it.
static fh_range reach(const part *p) {
  fh_range r = {p->number.lo, p->number.hi};
  if (p->number.spread == FH_SPREAD_NORMAL) {
    fhi_key_cuts(p->key, &r.lo, &r.hi);
  }
  return p->side < 0.0 ? (fh_range){-r.hi, -r.lo} : r;
}

// ---------------------------------------------------------------------------------------------------- which rope it is about

typedef struct asked {
  const fh_scene *scene;
  const fh_rig *rig;
  const fhi_model *model;
  int rope;
} asked;

static int candidates(const asked *a) {
  return a->model->strand_count + a->rig->station_count;
}

static bool of_rope(const asked *a, int station) {
  for (int p = 0; p < a->rig->path_count; p++) {
    const fh_path *path = &a->rig->paths[p];
    if (station >= path->first && station < path->first + path->count) {
      return path->rope == a->rope;
    }
  }
  return false;
}

// Strands first, then the slack before each tie. @return false: nothing of this rope
static bool span_at(const asked *a, int index, part *end) {
  if (index < a->model->strand_count) {
    const fhi_strand *st = &a->model->strands[index];
    bool tail = st->end[0].kind == FHI_END_LOOSE || st->end[1].kind == FHI_END_LOOSE || st->end[1].kind == FHI_END_HAND;
    end[0] = place_of(a->scene, &st->end[0]);
    end[1] = place_of(a->scene, &st->end[1]);
    return !tail && a->rig->paths[st->path].rope == a->rope;
  }
  const fh_station *st = &a->rig->stations[index - a->model->strand_count];
  end[0] = exact(0.0);
  end[1] = slack_of(st);
  return st->kind == FH_TIE && fh_number_is_set(st->slack) && of_rope(a, index - a->model->strand_count);
}

static double likely_span(const part *end) {
  return fabs(end[1].side * end[1].number.likely - end[0].side * end[0].number.likely);
}

// The least and the most that one span can take, each to the bit of likely_span() where nothing is open.
static fh_range span_range(const part *end) {
  fh_range a = reach(&end[0]), b = reach(&end[1]);
  double least = fmax(0.0, fmax(b.lo - a.hi, a.lo - b.hi));
  return (fh_range){least, fmax(b.hi - a.lo, a.hi - b.lo)};
}

// ---------------------------------------------------------------------------------------------------- made ready

static fhi_place place(fhi_odds *o, const part *p) {
  return (fhi_place){fhi_odds_source(o, p->number, p->key, p->advice, p->name), p->side};
}

static void add_rope(const asked *a, double spare, fhi_odds *o) {
  const fh_rope *rope = &a->scene->ropes[a->rope];
  char name[64];
  part end[2];
  (void)fhi_format(name, sizeof name, "rope %s: length", rope->name);
  o->rope[o->ropes++] = (fhi_odd_rope){a->rope, fhi_odds_source(o, rope->length, "ropes[].length_m", "measure the rope", name), spare};
  for (int i = 0; i < candidates(a); i++) {
    if (span_at(a, i, end)) {
      o->span[o->spans++] = (fhi_span){{place(o, &end[0]), place(o, &end[1])}, a->rope};
    }
  }
}

// @param told [m] what check says that the rope needs, at likely values
static void look_at(const asked *a, double told, fhi_odds *o) {
  const part length = {a->scene->ropes[a->rope].length, "ropes[].length_m", NULL, NULL, 1.0};
  fh_range there = reach(&length), needed = {told, told};
  double spare = told;
  part end[2];
  for (int i = 0; i < candidates(a); i++) {
    if (span_at(a, i, end)) {
      double likely = likely_span(end);
      fh_range span = span_range(end);
      needed.lo += span.lo - likely;  // exact where nothing is open
      needed.hi += span.hi - likely;
      spare -= likely;
    }
  }
  if (needed.lo > there.hi) {
    o->too_short = true;
  } else if (needed.hi > there.lo) {
    add_rope(a, spare, o);
  }
}

void fhi_odds_ropes(const fh_scene *scene, const fh_rig *rig, const fh_check *check, fhi_odds *o) {
  for (int i = 0; i < scene->rope_count; i++) {
    const asked a = {scene, rig, &o->room.model, i};
    double told = 0.0;
    for (int p = 0; p < rig->path_count; p++) {
      told += rig->paths[p].rope == i ? check->rope_needed[p] : 0.0;
    }
    if (told > 0.0 && fh_number_is_set(scene->ropes[i].length)) {
      look_at(&a, told, o);
    }
  }
}

// ---------------------------------------------------------------------------------------------------- a block of samples

static double value(const fhi_odds_scratch *s, fhi_source source, int lane) {
  return source.unknown >= 0 ? s->x[source.unknown][lane] : source.value;
}

static double at(const fhi_odds_scratch *s, const fhi_place *p, int lane) {
  return p->side * value(s, p->at, lane);
}

static double needed(const fhi_odds *o, const fhi_odds_scratch *s, const fhi_odd_rope *r, int lane) {
  double sum = r->spare;
  for (int i = 0; i < o->spans; i++) {
    const fhi_span *x = &o->span[i];
    sum += x->rope == r->rope ? fabs(at(s, &x->end[1], lane) - at(s, &x->end[0], lane)) : 0.0;
  }
  return sum;
}

uint64_t fhi_odds_too_short(const fhi_odds *o, const fhi_odds_scratch *s) {
  uint64_t bits = o->too_short ? ~(uint64_t)0 : 0;
  for (int i = 0; i < o->ropes && !o->too_short; i++) {
    for (int l = 0; l < FHI_LANES; l++) {
      // Written so that what is not known counts as too short.
      bool reaches = needed(o, s, &o->rope[i], l) <= value(s, o->rope[i].length, l);
      bits |= reaches ? 0 : (uint64_t)1 << l;
    }
  }
  return bits;
}
