// SPDX-License-Identifier: MIT
// Any rig in any scene, built from bytes: worked out, or refused as no rig, or with FH_ERR_ARG when it is not whole. Never a
// crash, never numbers that contradict each other. The kit that the bytes give is planned too, within tight bounds.
//
// The first byte says how wild the case is: even, every index is kept within its bounds, so that most rigs are whole; odd,
// bytes go into the structures as they come.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "firnhaul.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand(bool truth, const char *what) {
  if (!truth) {
    (void)fprintf(stderr, "not true: %s\n", what);
    abort();
  }
}

// ---------------------------------------------------------------------------------------------------- bytes

typedef struct bytes {
  const uint8_t *data;
  size_t left;
  bool wild;
} bytes;

static int take(bytes *b) {
  if (b->left == 0) {
    return 0;
  }
  b->left--;
  return *b->data++;
}

// 0 .. count-1; wild: sometimes anything near it.
static int pick(bytes *b, int count) {
  int x = take(b);
  return b->wild && x >= 240 ? x - 248 : count > 0 ? x % count : 0;
}

static fh_number number(bytes *b, double lo, double hi) {
  double at = lo + (hi - lo) * take(b) / 255.0, width = (hi - lo) * (take(b) % 8) / 32.0;
  fh_number n = fh_number_exact(at);
  if (width > 0.0) {
    n.spread = FH_SPREAD_UNIFORM;
    n.lo = fmax(lo, at - width);
    n.hi = fmin(hi, at + width);
  }
  if (b->wild && take(b) > 250) {
    n.lo = take(b) % 2 == 0 ? (double)NAN : (double)INFINITY;
  }
  return n;
}

// ---------------------------------------------------------------------------------------------------- a scene

static const char *const ITEMS[] = {"carabiner", "pulley", "toothed-capture", "belay-plate", "prusik", "rope-clamp", "klemheist", "sling"};

static int item(bytes *b, const fh_gear *gear, int count) {
  int i = pick(b, count);
  return i >= 0 && i < (int)(sizeof ITEMS / sizeof ITEMS[0]) ? fh_gear_find(gear, ITEMS[i]) : i;
}

static void build_place(bytes *b, const fh_gear *gear, fh_scene *s) {
  memset(s, 0, sizeof *s);
  s->load_mass = number(b, 20.0, 400.0);
  s->depth = number(b, 0.5, 50.0);
  s->lip_turn = number(b, 0.0, 170.0 / 180.0 * 3.14159265358979323846);
  s->lip_friction = number(b, 0.0, 2.0);
  s->station_at = number(b, 0.3, 30.0);
  s->anchor_at = number(b, 0.3, 60.0);
  s->slope = number(b, -1.0, 1.0);
  s->reach = number(b, 0.0, 5.0);
  s->clearance = number(b, 0.0, 2.0);
  s->room = number(b, 0.5, 100.0);
  s->reset_time = number(b, 1.0, 100.0);
  s->walk_speed = number(b, 0.01, 3.0);
  s->lip_cut = fh_number_exact(0.0);
  s->anchor_holds = take(b) % 2 == 0 ? number(b, 100.0, 20000.0) : fh_number_unset();
  s->anchor_kind = take(b) % 2 == 0 ? fh_gear_find(gear, "t-slot") : pick(b, 60);
  s->lip_surface = -1;
  s->wet = take(b) % 2 == 0;
}

static void build_people_and_gear(bytes *b, const fh_gear *gear, fh_scene *s) {
  s->crew_count = pick(b, 4);
  for (int i = 0; i < 4; i++) {
    s->crew[i] = (fh_hauler){.mass = number(b, 20.0, 150.0), .footing = number(b, 0.02, 2.0), .posture = pick(b, 90), .pull = fh_number_unset()};
    s->crew[i].pull = take(b) % 3 == 0 ? number(b, 10.0, 900.0) : fh_number_unset();
  }
  s->rope_count = pick(b, 4);
  for (int i = 0; i < 4; i++) {
    (void)snprintf(s->ropes[i].name, FH_NAME, "rope-%d", i);
    s->ropes[i].kind = fh_gear_find(gear, take(b) % 2 == 0 ? "half" : "cord");
    s->ropes[i].length = take(b) % 2 == 0 ? number(b, 1.0, 100.0) : fh_number_unset();
    s->ropes[i].diameter = s->ropes[i].modulus = fh_number_unset();
    s->ropes[i].knots = take(b) % 4 == 0 ? take(b) % 5 : 0;
    s->ropes[i].wet = take(b) % 2 == 0;
  }
  s->kit_count = pick(b, 5);
  for (int i = 0; i < 5; i++) {
    s->kit[i] = (fh_kit_line){.item = item(b, gear, 8), .count = pick(b, 4), .efficiency = fh_number_unset()};
    s->kit[i].efficiency = take(b) % 2 == 0 ? number(b, 0.05, 1.0) : fh_number_unset();
  }
}

// ---------------------------------------------------------------------------------------------------- a rig

static void add_station(bytes *b, const fh_gear *gear, fh_rig *rig, bool first, bool last) {
  static const fh_station_kind INNER[] = {FH_TIE, FH_EDGE, FH_RUN, FH_RUN}, ENDS[] = {FH_TIE, FH_TIE, FH_LOOSE, FH_HAND};
  fh_station *st = &rig->stations[rig->station_count++];
  int kind = take(b);
  st->kind = first ? ENDS[kind % 3] : last ? ENDS[kind % 4] : INNER[kind % 4];
  if (b->wild && kind >= 250) {
    st->kind = (fh_station_kind)(kind - 250);
  }
  st->body = st->kind == FH_TIE || st->kind == FH_RUN ? pick(b, rig->body_count) : -1;
  st->item = st->kind == FH_RUN ? item(b, gear, 4) : -1;
  st->efficiency = take(b) % 2 == 0 ? number(b, 0.05, 1.0) : fh_number_unset();
  st->efficiency_range = take(b) % 4 == 0 ? number(b, 0.05, 1.0) : fh_number_unset();
  st->friction = take(b) % 4 == 0 ? number(b, 0.0, 2.0) : fh_number_unset();
  st->slack = take(b) % 4 == 0 ? number(b, 0.0, 2.0) : fh_number_unset();
  st->reversed = take(b) % 8 == 0;
  st->toward = (fh_toward)(take(b) % 3);
  st->angle = take(b) % 8 == 0 ? number(b, 0.0, 1.7) : fh_number_unset();
}

static void build_rig(bytes *b, const fh_gear *gear, fh_rig *rig) {
  int grips = take(b) % 5;
  memset(rig, 0, sizeof *rig);
  rig->body_count = FH_BODY_FIRST_GRIP + grips;
  for (int i = 0; i < rig->body_count; i++) {
    (void)snprintf(rig->bodies[i], FH_NAME, "body-%d", i);
  }
  rig->path_count = 1 + take(b) % 3;
  for (int p = 0; p < rig->path_count; p++) {
    fh_path *path = &rig->paths[p];
    (void)snprintf(path->name, FH_NAME, "path-%d", p);
    path->rope = pick(b, 3) - 1;
    path->first = rig->station_count;
    path->count = 2 + take(b) % 8;
    for (int i = 0; i < path->count; i++) {
      add_station(b, gear, rig, i == 0, i == path->count - 1);
    }
  }
  rig->grip_count = grips;
  for (int g = 0; g < grips; g++) {
    int path = pick(b, rig->path_count);
    int strands = path >= 0 && path < rig->path_count ? rig->paths[path].count - 1 : 1;
    bool tended = take(b) % 8 == 0 && g == grips - 1;
    rig->grips[g] = (fh_grip){.body = tended ? FH_BODY_STATION : FH_BODY_FIRST_GRIP + g, .item = item(b, gear, 8), .path = path};
    rig->grips[g].after = pick(b, strands);
    rig->grips[g].at = take(b) / 8.0;
  }
  rig->body_count -= grips > 0 && rig->grips[grips - 1].body == FH_BODY_STATION;
  if (b->wild && take(b) > 240) {
    rig->station_count = take(b);
    rig->paths[0].count = take(b);
  }
}

// Most rigs of this space move: over the lip, a capture, blocks on what was there before.
static void build_likely_rig(bytes *b, const fh_gear *gear, fh_rig *rig, double station) {
  static const fh_number UNSET = {FH_SPREAD_UNSET, (double)NAN, (double)NAN, (double)NAN, (double)NAN, 0, 0};
  int blocks = take(b) % 4;
  memset(rig, 0, sizeof *rig);
  rig->path_count = 1;
  rig->paths[0] = (fh_path){.name = "main", .rope = -1};
  bool loop = take(b) % 2 == 0;
  const fh_station_kind START[] = {FH_TIE, FH_EDGE, FH_RUN, FH_EDGE};
  for (int i = loop ? 0 : 2; i < 4; i++) {
    fh_station_kind kind = !loop && i == 2 ? FH_TIE : START[i];
    rig->stations[rig->station_count++] = (fh_station){.kind = kind, .body = kind == FH_EDGE ? -1 : i == 0 ? FH_BODY_ANCHOR : FH_BODY_LOAD, .item = kind == FH_RUN ? item(b, gear, 2) : -1};
  }
  int lip = rig->station_count - 1;
  rig->stations[rig->station_count++] = (fh_station){.kind = FH_RUN, .body = FH_BODY_STATION, .item = item(b, gear, 4)};
  rig->body_count = FH_BODY_FIRST_GRIP + blocks;
  rig->grip_count = blocks;
  for (int k = 0; k < blocks; k++) {
    int at = rig->station_count;
    if (k > 0) {
      rig->stations[rig->station_count++] = (fh_station){.kind = FH_RUN, .body = take(b) % 4 == 0 ? FH_BODY_ANCHOR : FH_BODY_STATION, .item = item(b, gear, 2)};
    }
    rig->stations[rig->station_count++] = (fh_station){.kind = FH_RUN, .body = FH_BODY_FIRST_GRIP + k, .item = item(b, gear, 2)};
    rig->grips[k] = (fh_grip){.body = FH_BODY_FIRST_GRIP + k, .item = item(b, gear, 8), .path = 0, .after = k == 0 ? lip : at - 1 - take(b) % 2,
                              .at = station * (0.1 + 0.8 * take(b) / 255.0)};
  }
  rig->stations[rig->station_count++] = (fh_station){.kind = FH_HAND, .body = -1, .item = -1, .toward = (fh_toward)(take(b) % 3)};
  for (int i = 0; i < rig->station_count; i++) {
    fh_station *st = &rig->stations[i];
    st->efficiency = st->efficiency_range = st->friction = st->slack = st->angle = UNSET;
    if (st->kind == FH_RUN && take(b) % 2 == 0) {
      st->efficiency = number(b, 0.05, 1.0);
    }
    if (st->kind == FH_HAND && take(b) % 4 == 0) {
      st->angle = number(b, 0.0, 1.7);
    }
  }
  for (int i = 0; i < rig->body_count; i++) {
    (void)snprintf(rig->bodies[i], FH_NAME, "body-%d", i);
  }
  rig->paths[0].count = rig->station_count;
}

// ---------------------------------------------------------------------------------------------------- what must be true

static void demand_band(fh_band x) {
  bool known = !isnan(x.likely);
  demand(known ? x.lo <= x.likely && x.likely <= x.hi && x.lo >= 0.0 : isnan(x.lo) && isnan(x.hi), "a band in order, or nothing at all");
}

static bool pulls_in_line(const fh_rig *rig) {
  for (int i = 0; i < rig->station_count; i++) {
    const fh_station *st = &rig->stations[i];
    if (st->kind == FH_HAND && fh_number_is_set(st->angle) && st->angle.likely > 0.0) {
      return false;
    }
  }
  return true;
}

static void demand_check(const fh_rig *rig, const fh_check *c) {
  demand(c->why[sizeof c->why - 1] == '\0', "a reason that ends");
  demand(c->limit_count <= FH_MAX_LIMITS && c->note_count <= FH_MAX_NOTES, "lists within their bounds");
  demand_band(c->hand_force);
  for (int s = 0; s < c->strand_count; s++) {
    for (int k = 0; k < FH_STATE_COUNT; k++) {
      demand_band(c->strands[s].tension[k]);
    }
  }
  for (int i = 0; i < c->contact_count; i++) {
    for (int k = 0; k < FH_STATE_COUNT; k++) {
      demand_band(c->contacts[i].force[k]);
    }
  }
  for (int g = 0; g < c->grip_count; g++) {
    for (int k = 0; k < FH_STATE_COUNT; k++) {
      demand_band(c->grip_force[g][k]);
    }
  }
  if (c->outcome != FH_OUTCOME_SOLVED) {
    demand(c->answer_no && c->why[0] != '\0' && isnan(c->hand_force.likely), "no answer is a no with a reason");
    return;
  }
  demand(c->residual <= 1e-9, "an answer that satisfies its equations");
  demand(c->ideal_advantage > 0.0 && c->hand_force.likely > 0.0, "a hand that moves and pulls");
  // The ideal is that of a pull in line; a block pulled aside may do better than one pulled straight on.
  demand(!pulls_in_line(rig) || c->weight_likely / c->hand_force.likely <= c->ideal_advantage * (1.0 + 1e-6), "no rig beats its ideal");
  demand(c->throw_load >= 0.0 && (c->strokes == -1) == (c->resets == -1) && (c->strokes != -1 || c->answer_no), "strokes, or a no");
}

static int drop(void *user, const char *text, size_t count) {
  *(size_t *)user += count;
  (void)text;
  return 0;
}

static void use_check(const fh_scene *s, const fh_gear *gear, const fh_rig *rig, const fh_check *c) {
  size_t count = 0;
  static const double ANGLES[] = {0.0, 0.2, 0.7};
  fh_angle_point points[3];
  demand(fh_check_write_json(s, gear, rig, c, (fh_out){drop, &count}) == FH_OK && count > 100, "a report");
  demand(fh_angle_curve(s, gear, rig, ANGLES, 3, points) == FH_OK, "a curve");
  for (int i = 0; i < 3; i++) {
    demand_band(points[i].advantage);
  }
}

static void run_plan(const fh_scene *s, const fh_gear *gear, int contacts, bool all) {
  fh_plan_opts opts = fh_plan_opts_default();
  fh_plans *plans = NULL;
  opts.max_contacts = contacts;
  opts.all = all;
  fh_status status = fh_plans_create(s, gear, &opts, &plans);
  demand(status == FH_OK || (status == FH_ERR_ARG && plans == NULL), "plans, or refused");
  for (int i = 0; plans != NULL && i < plans->count + plans->less_likely; i++) {
    static fh_rig rig;
    fh_check *c = NULL;
    if (i >= 3 && i < plans->count) {
      continue;
    }
    demand(fh_plan_rig(s, gear, plans, i, &rig) == FH_OK && fh_check_create(s, gear, &rig, NULL, &c) == FH_OK, "a plan that stands on its own");
    demand(c->outcome == FH_OUTCOME_SOLVED && c->answer_no == !plans->plans[i].possible, "what the plan says, check says");
    demand(c->hand_force.likely >= plans->plans[i].hand_force.likely && c->hand_force.likely <= plans->plans[i].hand_force.likely, "the same pull");
    fh_check_destroy(c);
  }
  fh_plans_destroy(plans);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  static fh_gear *gear;  // never changed: made once
  static fh_scene scene;
  bytes b = {data, size, false};
  if (gear == NULL) {
    demand(fh_gear_create(&gear) == FH_OK, "a catalogue");
  }
  int how = take(&b);
  b.wild = how % 2 == 1;
  build_place(&b, gear, &scene);
  build_people_and_gear(&b, gear, &scene);
  if (how % 8 == 6) {
    run_plan(&scene, gear, take(&b) % 3, how % 16 == 6);
    return 0;
  }
  if (how % 8 >= 4) {
    build_likely_rig(&b, gear, &scene.rig, scene.station_at.likely);
  } else {
    build_rig(&b, gear, &scene.rig);
  }
  fh_check *c = NULL;
  fh_check_opts opts = {.lower = take(&b) % 2 == 0, .ranges = take(&b) % 8 == 0};  // ranges cost up to 4,096 solutions
  fh_status status = fh_check_create(&scene, gear, &scene.rig, &opts, &c);
  demand(status == FH_OK || (status == FH_ERR_ARG && c == NULL), "worked out, or refused");
  if (c != NULL) {
    demand_check(&scene.rig, c);
    if (take(&b) % 8 == 0) {
      use_check(&scene, gear, &scene.rig, c);
    }
  }
  fh_check_destroy(c);
  return 0;
}
