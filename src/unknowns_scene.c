// SPDX-License-Identifier: MIT
// Which numbers does a scene hold, and which of them are open for a question? Implements model.md, section 12.
#include <math.h>
#include <string.h>

#include "anchor.h"
#include "text.h"
#include "unknowns.h"

// A number of the scene itself: where it is, and for which question it matters.
typedef struct row {
  size_t at;
  const char *key, *name, *advice;
  int asks;  // set of fhi_asks
} row;

enum { HAUL = FHI_ASKS_HAUL, LOSE = FHI_ASKS_LOSE, BOTH = HAUL | LOSE, NEITHER = 0 };

// The names are those of odds.c where it knows the number too.
static const row ROWS[] = {
    {offsetof(fh_scene, load_mass), "load.mass_kg", "mass of the load", "ask what the load weighs with its pack", BOTH},
    {offsetof(fh_scene, lip_friction), "lip.friction", "friction at the lip", "know your lip: pad it, clear it, or measure a pull over it", BOTH},
    {offsetof(fh_scene, lip_turn), "lip.turn_deg", "turn over the lip", "look at the angle of the rope over the edge", BOTH},
    {offsetof(fh_scene, depth), "slot.depth_m", "depth of the load", "measure the depth on the rope", BOTH},
    {offsetof(fh_scene, lip_cut), "lip.cut_m", "cut of the rope into the lip", "look how deep the rope has cut in", HAUL},
    {offsetof(fh_scene, station_at), "ground.station_m", "distance of the station", "measure it on the rope", BOTH},
    {offsetof(fh_scene, anchor_at), "ground.anchor_m", "distance of the anchor", "measure it on the rope", BOTH},
    {offsetof(fh_scene, reach), "ground.reach_m", "nearest place for a hitch", "try how near the edge is safe", BOTH},
    {offsetof(fh_scene, clearance), "ground.clearance_m", "gap between blocks", "look how near the blocks come", BOTH},
    {offsetof(fh_scene, room), "ground.room_m", "room to walk back", "pace it out", BOTH},
    {offsetof(fh_scene, slope), "ground.slope_deg", "slope of the ground", "measure the slope", HAUL},
    {offsetof(fh_scene, reset_time), "reset_s", "time of a reset", "practise resets", HAUL},
    {offsetof(fh_scene, walk_speed), "walk_mps", "walking speed", "time the crew over ten metres", HAUL},
    {offsetof(fh_scene, anchor_holds), "ground.holds_kN", NULL, NULL, NEITHER},  // as what the anchor holds, below
    {offsetof(fh_scene, anchorage.strength), "anchor.strength_kPa", NULL, NULL, NEITHER},
    {offsetof(fh_scene, anchorage.stop), "anchor.stop_m", "stop of the anchor's sling", "measure it", LOSE},
    {offsetof(fh_scene, anchorage.modulus), "anchor.modulus_kN", "stretch of the anchor's legs", "look what the legs are made of", LOSE},
};

enum { ROW_COUNT = sizeof ROWS / sizeof *ROWS };

static fh_number *number_at(fh_scene *s, size_t at) {
  return (fh_number *)((char *)s + at);
}

// ---------------------------------------------------------------------------------------------------- all of them

static void point_numbers(fh_point *p, fhi_number_fn fn, void *user) {
  fn(user, &p->depth, "anchor.points[].depth_m");
  fn(user, &p->length, "anchor.points[].length_m");
  fn(user, &p->width, "anchor.points[].width_m");
  fn(user, &p->diameter, "anchor.points[].diameter_m");
  fn(user, &p->back, "anchor.points[].back_deg");
  fn(user, &p->holds, "anchor.points[].holds_kN");
  fn(user, &p->leg, "anchor.points[].leg_m");
  fn(user, &p->aside, "anchor.points[].aside_deg");
  fn(user, &p->above, "anchor.points[].above_deg");
  fn(user, &p->slack, "anchor.points[].slack_m");
}

static void list_numbers(fh_scene *s, fhi_number_fn fn, void *user) {
  for (int i = 0; i < s->crew_count; i++) {
    fn(user, &s->crew[i].mass, "crew[].mass_kg");
    fn(user, &s->crew[i].footing, "crew[].footing");
    fn(user, &s->crew[i].pull, "crew[].pull_N");
  }
  for (int i = 0; i < s->rope_count; i++) {
    fn(user, &s->ropes[i].length, "ropes[].length_m");
    fn(user, &s->ropes[i].diameter, "ropes[].diameter_mm");
    fn(user, &s->ropes[i].modulus, "ropes[].modulus_kN");
  }
  for (int i = 0; i < s->kit_count; i++) {
    fn(user, &s->kit[i].efficiency, "kit[].efficiency");
  }
  for (int i = 0; i < s->rig.station_count; i++) {
    fh_station *st = &s->rig.stations[i];
    fn(user, &st->efficiency, "rig.ropes[].path[].efficiency");
    fn(user, &st->efficiency_range, "rig.ropes[].path[].efficiency_range");
    fn(user, &st->friction, "rig.ropes[].path[].friction");
    fn(user, &st->slack, "rig.ropes[].path[].slack_m");
    fn(user, &st->angle, "rig.ropes[].path[].angle_deg");
  }
}

void fhi_scene_numbers(fh_scene *s, fhi_number_fn fn, void *user) {
  for (int i = 0; i < ROW_COUNT; i++) {
    fn(user, number_at(s, ROWS[i].at), ROWS[i].key);
  }
  for (int i = 0; i < s->anchorage.point_count; i++) {
    point_numbers(&s->anchorage.points[i], fn, user);
  }
  list_numbers(s, fn, user);
}

// ---------------------------------------------------------------------------------------------------- those that matter

typedef struct lister {
  const fh_scene *s;
  const fh_gear *gear;
  fhi_asks asks;
  fhi_unknowns *u;
} lister;

static size_t place(const lister *l, const fh_number *n) {
  return (size_t)((const char *)n - (const char *)l->s);
}

static void open_number(const lister *l, const fh_number *n, const char *key, const char *advice, const char *name) {
  fhi_target_scene(l->u, fhi_unknown_add(l->u, *n, advice, name), place(l, n), *n, key);
}

static void scene_rows(const lister *l) {
  for (int i = 0; i < ROW_COUNT; i++) {
    const fh_number *n = (const fh_number *)((const char *)l->s + ROWS[i].at);
    bool legs = ROWS[i].at == offsetof(fh_scene, anchorage.modulus) || ROWS[i].at == offsetof(fh_scene, anchorage.stop);
    if (legs && l->s->anchorage.point_count < 2) {
      continue;  // one leg shares with nobody
    }
    if ((ROWS[i].asks & (int)l->asks) != 0) {
      open_number(l, n, ROWS[i].key, ROWS[i].advice, ROWS[i].name);
    } else if (legs) {
      fhi_unknown_stood(l->u, *n, ROWS[i].name);
    }
  }
}

static bool run_with(const lister *l, int item) {
  for (int i = 0; i < l->s->rig.station_count; i++) {
    const fh_station *st = &l->s->rig.stations[i];
    if (st->kind == FH_RUN && st->item == item && !fh_number_is_set(st->efficiency)) {
      return true;
    }
  }
  return false;
}

// As model.c: a rig's own figure, else the kit's, else the catalogue's.
static void efficiencies(const lister *l) {
  char name[64];
  for (int i = 0; i < l->s->rig.station_count; i++) {
    const fh_station *st = &l->s->rig.stations[i];
    fh_number n = st->efficiency;
    const fh_item *item = fh_gear_item(l->gear, st->item);
    if (st->kind != FH_RUN || !fh_number_is_set(n) || item == NULL) {
      continue;
    }
    if (fh_number_is_set(st->efficiency_range) && st->efficiency_range.lo <= n.likely && st->efficiency_range.hi >= n.likely) {
      n.spread = FH_SPREAD_TRIANGLE;
      n.lo = st->efficiency_range.lo;
      n.hi = st->efficiency_range.hi;
    }
    (void)fhi_format(name, sizeof name, "%s: efficiency", item->name);
    fhi_target_scene(l->u, fhi_unknown_add(l->u, n, "measure it with this rope, or use better pieces", name), place(l, &st->efficiency), n, "kit[].efficiency");
  }
  for (int i = 0; i < l->s->kit_count; i++) {
    const fh_kit_line *k = &l->s->kit[i];
    const fh_item *item = fh_gear_item(l->gear, k->item);
    if (item != NULL && run_with(l, k->item)) {
      (void)fhi_format(name, sizeof name, "%s: efficiency", item->name);
      open_number(l, &k->efficiency, "kit[].efficiency", "measure it with this rope, or use better pieces", name);
    }
  }
}

static void stations(const lister *l) {
  for (int i = 0; i < l->s->rig.station_count; i++) {
    const fh_station *st = &l->s->rig.stations[i];
    if (st->kind == FH_EDGE) {
      open_number(l, &st->friction, "lip.friction", "know your lip: pad it, clear it, or measure a pull over it", "friction at the lip");
    } else if (st->kind == FH_TIE) {
      open_number(l, &st->slack, "rig.ropes[].path[].slack_m", "measure the slack", "slack before a tie");
    } else if (st->kind == FH_HAND && l->asks == FHI_ASKS_HAUL) {
      fhi_unknown_stood(l->u, st->angle, "angle of the pull: the raise is run in line");
    }
  }
}

static void ropes(const lister *l) {
  char name[64];
  for (int i = 0; i < l->s->rope_count; i++) {
    const fh_rope *r = &l->s->ropes[i];
    bool used = false;
    for (int p = 0; p < l->s->rig.path_count; p++) {
      used = used || l->s->rig.paths[p].rope == i;
    }
    if (!used) {
      continue;
    }
    (void)fhi_format(name, sizeof name, "rope %s: stretch", r->name);
    open_number(l, &r->modulus, "ropes[].modulus_kN", "measure how it stretches under a known load", name);
    (void)fhi_format(name, sizeof name, "rope %s: length", r->name);
    open_number(l, &r->length, "ropes[].length_m", "measure the rope", name);
  }
}

// What the points hold is one figure a point, from snow and size or from tests; points of one kind in one snow are good or bad together.
static void anchors(const lister *l) {
  char name[64];
  const char *advice = "test the snow, or the anchor itself";
  if (!l->s->has_anchorage) {
    fh_number n = l->s->anchor_holds;
    n = fh_number_is_set(n) || l->s->anchor_kind < 0 ? n : fh_gear_figure(l->gear, l->s->anchor_kind, "holds_N", NULL);
    fhi_target_scene(l->u, fhi_unknown_add(l->u, n, advice, "what the anchor holds"), offsetof(fh_scene, anchor_holds), n, "ground.holds_kN");
    return;
  }
  for (int i = 0; i < l->s->anchorage.point_count; i++) {
    const fh_point *p = &l->s->anchorage.points[i];
    const fh_item *item = fh_gear_item(l->gear, p->kind);
    fh_band holds = fh_point_hold(l->s, l->gear, i).holds;
    fh_number n = {FH_SPREAD_TRIANGLE, holds.lo, holds.likely, holds.hi, 0.0, 0, 0};
    int same = -1;
    (void)fhi_format(name, sizeof name, "what the anchor holds: %s", item != NULL ? item->name : "given");
    for (int k = 0; k < l->u->count && same < 0; k++) {
      same = strcmp(l->u->list[k].name, name) == 0 && fhi_is_open(n) ? k : -1;
    }
    fhi_target_scene(l->u, same >= 0 ? same : fhi_unknown_add(l->u, n, advice, name), place(l, &p->holds), n, "anchor.points[].holds_kN");
  }
}

// How the legs lie says how they share a pull. A raise's limits keep to the likely share.
static void legs(const lister *l) {
  char name[64];
  for (int i = 0; l->s->has_anchorage && l->s->anchorage.point_count > 1 && i < l->s->anchorage.point_count; i++) {
    const fh_point *p = &l->s->anchorage.points[i];
    const fh_number *n[] = {&p->leg, &p->aside, &p->above, &p->slack};
    static const char *const KEYS[] = {"anchor.points[].leg_m", "anchor.points[].aside_deg", "anchor.points[].above_deg", "anchor.points[].slack_m"};
    static const char *const NAMES[] = {"length", "angle aside", "angle above the ground", "slack"};
    for (int k = 0; k < 4; k++) {
      (void)fhi_format(name, sizeof name, "leg of anchor point %d: %s", i + 1, NAMES[k]);
      if (l->asks == FHI_ASKS_LOSE) {
        open_number(l, n[k], KEYS[k], "measure the legs", name);
      } else {
        fhi_unknown_stood(l->u, *n[k], name);
      }
    }
  }
}

void fhi_unknowns_fill(const fh_scene *scene, const fh_gear *gear, fhi_asks asks, fhi_unknowns *u) {
  lister l = {scene, gear, asks, u};
  memset(u, 0, sizeof *u);
  scene_rows(&l);
  stations(&l);
  efficiencies(&l);
  anchors(&l);
  ropes(&l);
  fhi_unknowns_gear(scene, gear, asks, u);
  legs(&l);
}
