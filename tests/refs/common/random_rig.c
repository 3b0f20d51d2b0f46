// SPDX-License-Identifier: MIT
// Which rigs might someone build? A draft holds ropes without edges, so that stations can be put on in any order; it is
// laid out into a scene's rig at the end, with an edge wherever a rope passes the lip.
#include "random_rig.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { MAX_ROPES = 6, MAX_ON_ROPE = 16, MAX_HITCHES = 14 };

typedef struct draft_station {
  fh_station_kind kind;
  int body, item;
  double eta, slack;
  bool reversed;
  fh_toward toward;
} draft_station;

typedef struct draft_rope {
  draft_station at[MAX_ON_ROPE];
  int count;
} draft_rope;

typedef struct draft_hitch {
  int body, rope, after;
  double at;
} draft_hitch;

typedef struct draft {
  draft_rope ropes[MAX_ROPES];
  draft_hitch hitches[MAX_HITCHES];
  double body_at[FH_MAX_BODIES];
  int rope_count, hitch_count, body_count;
  int haul;  // the rope that the hand holds
  ref_rng rng;
  const ref_items *items;
  const ref_wish *wish;
} draft;

ref_wish ref_wish_default(void) {
  return (ref_wish){.most_steps = 4, .spoil = 0.2, .tended = 0.15, .no_loss = 0.15};
}

static draft_station *put(draft *d, int rope, fh_station_kind kind, int body) {
  draft_rope *r = &d->ropes[rope];
  if (r->count >= MAX_ON_ROPE) {
    return NULL;
  }
  draft_station *st = &r->at[r->count++];
  *st = (draft_station){.kind = kind, .body = body, .item = -1, .eta = 1.0, .slack = REF_NAN};
  return st;
}

static bool last_is(const draft *d, int rope, int body) {
  const draft_rope *r = &d->ropes[rope];
  return r->count > 0 && r->at[r->count - 1].body == body;
}

// One bend on the end of a rope, unless the rope has just come from that body.
static bool put_run(draft *d, int rope, int body, int item) {
  if (last_is(d, rope, body)) {
    return false;
  }
  draft_station *st = put(d, rope, FH_RUN, body);
  if (st != NULL) {
    st->item = item;
    st->eta = ref_rng_chance(&d->rng, d->wish->no_loss) ? 1.0 : ref_rng_between(&d->rng, 0.4, 1.0);
  }
  return st != NULL;
}

static int bend_item(draft *d) {
  int kind = ref_rng_pick(&d->rng, 5);
  return kind < 2 ? d->items->bar : kind < 4 ? d->items->sheave : d->items->capture;
}

static int fixed_body(draft *d) {
  return ref_rng_chance(&d->rng, 0.5) ? FH_BODY_STATION : FH_BODY_ANCHOR;
}

// Where on the surface a strand lies. @return false when none of it does
static bool surface_part(draft *d, int rope, int after, double *lo, double *hi) {
  const draft_rope *r = &d->ropes[rope];
  const draft_station *next = after + 1 < r->count ? &r->at[after + 1] : NULL;
  if (after + 1 > r->count || (next != NULL && next->kind == FH_HAND)) {
    return false;
  }
  double a = fmax(d->body_at[r->at[after].body], 0.0);
  double b = a;
  if (next != NULL && next->body >= 0) {
    b = fmax(d->body_at[next->body], 0.0);
  } else {
    // The tail lies wherever it is thrown; hitches already on it say where.
    b = ref_rng_chance(&d->rng, 0.5) ? a + 4.0 : fmax(a - 4.0, 0.0);
    for (int h = 0; h < d->hitch_count; h++) {
      if (d->hitches[h].rope == rope && d->hitches[h].after == after) {
        b = d->hitches[h].at > a ? a + 4.0 : fmax(a - 4.0, 0.0);
      }
    }
  }
  *lo = fmax(fmin(a, b), 0.5) + 0.02;
  *hi = fmax(a, b) - 0.02;
  return *hi > *lo + 0.1;
}

static bool place_taken(const draft *d, double at) {
  for (int b = 0; b < d->body_count; b++) {
    if (fabs(d->body_at[b] - at) < 0.01) {
      return true;
    }
  }
  for (int h = 0; h < d->hitch_count; h++) {
    if (fabs(d->hitches[h].at - at) < 0.01) {
      return true;
    }
  }
  return false;
}

// A hitch on a strand. @param body -1 makes a new grip body  @return the body, or -1 when there is no room
static int put_hitch(draft *d, int rope, int after, int body) {
  double lo, hi;
  if (d->hitch_count >= MAX_HITCHES || !surface_part(d, rope, after, &lo, &hi)) {
    return -1;
  }
  for (int tries = 0; tries < 20; tries++) {
    double at = ref_rng_between(&d->rng, lo, hi);
    if (place_taken(d, at)) {
      continue;
    }
    int b = body >= 0 ? body : d->body_count++;
    if (body < 0) {
      d->body_at[b] = at;
    }
    d->hitches[d->hitch_count++] = (draft_hitch){b, rope, after, at};
    return b;
  }
  return -1;
}

// A new block on any strand of any rope; tails of finished ropes too.
static int hitch_anywhere(draft *d) {
  for (int tries = 0; tries < 10; tries++) {
    int rope = ref_rng_pick(&d->rng, d->rope_count);
    int strands = d->ropes[rope].count - 1;
    if (strands < 1) {
      continue;
    }
    int body = put_hitch(d, rope, ref_rng_pick(&d->rng, strands), -1);
    if (body >= 0) {
      return body;
    }
  }
  return -1;
}

static bool moves(int body) {
  return body != FH_BODY_STATION && body != FH_BODY_ANCHOR;
}

static int some_grip(draft *d) {
  return d->body_count > FH_BODY_FIRST_GRIP
             ? FH_BODY_FIRST_GRIP + ref_rng_pick(&d->rng, d->body_count - FH_BODY_FIRST_GRIP)
             : -1;
}

static void step_turn(draft *d) {
  put_run(d, d->haul, fixed_body(d), bend_item(d));
}

// A block pulls well when the rope comes to it from behind, over a fixed point: mostly so, but not always.
static void step_block(draft *d) {
  const draft_rope *r = &d->ropes[d->haul];
  bool from_fixed = r->count > 0 && r->at[r->count - 1].body >= 0 && !moves(r->at[r->count - 1].body);
  if (!from_fixed && ref_rng_chance(&d->rng, 0.7)) {
    step_turn(d);
  }
  int body = ref_rng_chance(&d->rng, 0.8) ? hitch_anywhere(d) : some_grip(d);
  if (body >= 0) {
    put_run(d, d->haul, body, bend_item(d));
  }
}

// A cord from a fixed point or a grip, over a block, to a new block for the hauling rope.
static void step_cord(draft *d) {
  int over = ref_rng_chance(&d->rng, 0.6) ? hitch_anywhere(d) : some_grip(d);
  int from = ref_rng_chance(&d->rng, 0.6) ? fixed_body(d) : some_grip(d);
  if (over < 0 || from < 0 || over == from || d->rope_count >= MAX_ROPES) {
    return;
  }
  int cord = d->rope_count++;
  d->ropes[cord].count = 0;
  put(d, cord, FH_TIE, from);
  put_run(d, cord, over, bend_item(d));
  if (ref_rng_chance(&d->rng, 0.2)) {
    put_run(d, cord, fixed_body(d), bend_item(d));
  }
  int after = d->ropes[cord].count - 1;
  put(d, cord, FH_LOOSE, -1);
  int block = put_hitch(d, cord, after, -1);
  if (block >= 0 && ref_rng_chance(&d->rng, 0.9)) {
    put_run(d, d->haul, block, bend_item(d));
  }
}

// The hauling rope ends here; a hitch on its tail takes a further rope, which is hauled from now on.
static void step_further_rope(draft *d) {
  int after = d->ropes[d->haul].count - 1;
  if (d->rope_count >= MAX_ROPES || last_is(d, d->haul, FH_BODY_LOAD)) {
    return;
  }
  int link = put_hitch(d, d->haul, after, -1);
  if (link < 0 || put(d, d->haul, FH_LOOSE, -1) == NULL) {
    return;
  }
  d->haul = d->rope_count++;
  if (ref_rng_chance(&d->rng, 0.5)) {
    put(d, d->haul, FH_TIE, link);
    return;
  }
  put(d, d->haul, FH_TIE, fixed_body(d));
  put_run(d, d->haul, link, bend_item(d));
}

static void step_slack_line(draft *d) {
  if (d->rope_count >= MAX_ROPES) {
    return;
  }
  int line = d->rope_count++;
  put(d, line, FH_TIE, FH_BODY_LOAD);
  if (ref_rng_chance(&d->rng, 0.5)) {
    put_run(d, line, FH_BODY_STATION, bend_item(d));
  }
  draft_station *end = put(d, line, FH_TIE, FH_BODY_ANCHOR);
  if (end != NULL) {
    end->slack = 0.5;
  }
}

static void base(draft *d) {
  d->haul = d->rope_count++;
  switch (ref_rng_pick(&d->rng, 4)) {
  case 0:
    put(d, d->haul, FH_TIE, fixed_body(d));
    put_run(d, d->haul, FH_BODY_LOAD, bend_item(d));
    break;
  case 1: {  // first the slack line, then the drop loop
    put(d, d->haul, FH_TIE, FH_BODY_LOAD);
    put(d, d->haul, FH_TIE, fixed_body(d))->slack = 0.6;
    put_run(d, d->haul, FH_BODY_LOAD, bend_item(d));
    break;
  }
  default: put(d, d->haul, FH_TIE, FH_BODY_LOAD); break;
  }
  if (ref_rng_chance(&d->rng, 0.8)) {
    put_run(d, d->haul, fixed_body(d), d->items->capture);
  }
}

static void grow(draft *d) {
  int steps = ref_rng_pick(&d->rng, d->wish->most_steps + 1);
  if (steps < d->wish->most_steps && ref_rng_chance(&d->rng, 0.5)) {
    steps++;
  }
  for (int i = 0; i < steps; i++) {
    int kind = ref_rng_pick(&d->rng, 20);
    if (kind < 5) {
      step_turn(d);
    } else if (kind < 13) {
      step_block(d);
    } else if (kind < 16) {
      step_cord(d);
    } else if (kind < 19) {
      step_further_rope(d);
    } else {
      step_slack_line(d);
    }
  }
}

// A tended capture sits on a strand that carries; where exactly does not matter to the forces.
static void tend(draft *d) {
  int rope = ref_rng_pick(&d->rng, d->rope_count);
  int strands = d->ropes[rope].count - 1;
  if (strands > 0) {
    put_hitch(d, rope, ref_rng_pick(&d->rng, strands), fixed_body(d));
  }
}

// Something done wrong: a capture put in the wrong way round, a rope led to another body, slack in a strand.
static void spoil(draft *d) {
  int rope = ref_rng_pick(&d->rng, d->rope_count);
  draft_rope *r = &d->ropes[rope];
  int k = ref_rng_pick(&d->rng, r->count);
  draft_station *st = &r->at[k];
  if (st->kind == FH_RUN && ref_rng_chance(&d->rng, 0.4)) {
    st->item = d->items->capture;
    st->reversed = true;
    return;
  }
  if (k == 0 && ref_rng_chance(&d->rng, 0.3)) {  // tied to nothing
    st->kind = FH_LOOSE;
    st->body = -1;
    return;
  }
  if (st->kind == FH_TIE && k > 0) {
    st->slack = ref_rng_chance(&d->rng, 0.5) ? 0.3 : REF_NAN;
  }
  if (st->kind == FH_HAND) {
    st->toward = ref_rng_chance(&d->rng, 0.5) ? FH_TOWARD_LIP : FH_TOWARD_BACK;
  }
}

static void lay_station(draft *d, fh_rig *rig, const draft_station *st) {
  switch (st->kind) {
  case FH_TIE:
    if (isnan(st->slack)) {
      ref_tie(rig, st->body);
    } else {
      ref_tie_slack(rig, st->body, st->slack);
    }
    return;
  case FH_RUN:
    ref_run(rig, st->body, st->item, st->eta);
    rig->stations[rig->station_count - 1].reversed = st->reversed;
    return;
  case FH_HAND: ref_hand(rig, st->toward); return;
  default:
    (void)d;
    ref_loose(rig);
    return;
  }
}

// Lays out one rope and says, for each strand of the draft, after which station its part on the surface begins.
static void lay_rope(draft *d, fh_rig *rig, int rope, int *surface_after) {
  const draft_rope *r = &d->ropes[rope];
  char name[FH_NAME];
  snprintf(name, sizeof name, "rope-%d", rope);
  ref_path(rig, name);
  fh_path *p = &rig->paths[rig->path_count - 1];
  for (int k = 0; k < r->count; k++) {
    lay_station(d, rig, &r->at[k]);
    surface_after[k] = p->count - 1;
    bool down = r->at[k].body == FH_BODY_LOAD;
    if (k + 1 < r->count && down != (r->at[k + 1].body == FH_BODY_LOAD)) {
      ref_edge(rig);
      if (ref_rng_chance(&d->rng, 0.1)) {
        rig->stations[rig->station_count - 1].friction =
            (fh_number){.spread = FH_SPREAD_EXACT, .lo = 0.3, .likely = 0.3, .hi = 0.3};
      }
      surface_after[k] = down ? p->count - 1 : surface_after[k];
    }
  }
}

static void lay_out(draft *d, fh_scene *s) {
  int surface_after[MAX_ROPES][MAX_ON_ROPE];
  for (int b = FH_BODY_FIRST_GRIP; b < d->body_count; b++) {
    char name[FH_NAME];
    snprintf(name, sizeof name, "grip-%d", b);
    ref_body(&s->rig, name);
  }
  for (int rope = 0; rope < d->rope_count; rope++) {
    lay_rope(d, &s->rig, rope, surface_after[rope]);
  }
  for (int h = 0; h < d->hitch_count; h++) {
    const draft_hitch *g = &d->hitches[h];
    ref_grip(&s->rig, d->items->hitch, g->body, g->rope, surface_after[g->rope][g->after], g->at);
  }
}

fh_scene *ref_random_make(uint64_t seed, const ref_items *items, const ref_wish *wish) {
  draft d = {.rng = ref_rng_seed(seed), .items = items, .wish = wish, .body_count = FH_BODY_FIRST_GRIP};
  double mu = ref_rng_chance(&d.rng, 0.15) ? 0.0 : ref_rng_between(&d.rng, 0.05, 0.8);
  fh_scene *s = ref_scene_make(ref_rng_between(&d.rng, 50.0, 130.0), mu, ref_rng_between(&d.rng, 0.6, 1.7));
  if (s == NULL) {
    return NULL;
  }
  d.body_at[FH_BODY_LOAD] = -s->depth.likely;
  d.body_at[FH_BODY_STATION] = s->station_at.likely;
  d.body_at[FH_BODY_ANCHOR] = s->anchor_at.likely;
  base(&d);
  grow(&d);
  if (put(&d, d.haul, FH_HAND, -1) == NULL) {
    d.ropes[d.haul].at[MAX_ON_ROPE - 1] = (draft_station){.kind = FH_HAND, .body = -1, .item = -1, .slack = REF_NAN};
  }
  if (ref_rng_chance(&d.rng, wish->tended)) {
    tend(&d);
  }
  if (ref_rng_chance(&d.rng, wish->spoil)) {
    spoil(&d);
  }
  lay_out(&d, s);
  if (wish->lossless) {
    ref_make_lossless(s);
  }
  return s;
}
