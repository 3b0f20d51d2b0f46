// SPDX-License-Identifier: MIT
// What is not known in a scene, and what each unknown moves. Implements model.md, section 12.
// What shares a cause is one unknown: the lip's friction for every rope over it, an item's efficiency for every piece of it.
// That makes results spread wider than separate draws would, and it is how people are wrong: about the kind, not the piece.
#include "odds.h"

#include <math.h>
#include <string.h>

#include "anchor.h"
#include "crew.h"
#include "text.h"

typedef struct maker {
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  const fh_check *check;
  fhi_odds *o;
} maker;

static bool same_number(fh_number a, fh_number b) {
  return a.spread == b.spread && a.lo == b.lo && a.likely == b.likely && a.hi == b.hi && a.sd == b.sd;
}

static void note_stood(fhi_odds *o, fh_number n, const char *name) {
  if (n.hi > n.lo && o->stood_count < FH_MAX_STOOD) {
    (void)fhi_copy(o->stood[o->stood_count++], sizeof o->stood[0], name);
  }
}

fhi_source fhi_odds_source(fhi_odds *o, fh_number n, const char *key, const char *advice, const char *name) {
  fhi_source s = {-1, n.likely};
  if (n.spread == FH_SPREAD_UNSET || n.spread == FH_SPREAD_EXACT || !(n.hi > n.lo)) {
    return s;
  }
  for (int i = 0; i < o->unknowns; i++) {
    if (strcmp(o->unknown[i].name, name) == 0 && same_number(o->unknown[i].number, n)) {
      s.unknown = i;
      return s;
    }
  }
  if (o->unknowns == FH_MAX_UNKNOWNS) {
    o->shared = true;  // no room for its own: its likely value, and the result says so
    note_stood(o, n, name);
    return s;
  }
  fh_unknown *u = &o->unknown[o->unknowns];
  const double nan = (double)NAN;
  *u = (fh_unknown){.number = n, .pull_alone = nan, .pull_total = nan, .margin_alone = nan, .margin_total = nan, .works_alone = nan, .works_total = nan};
  (void)fhi_copy(u->name, sizeof u->name, name);
  (void)fhi_copy(u->advice, sizeof u->advice, advice);
  fhi_key_cuts(key, &o->cut_lo[o->unknowns], &o->cut_hi[o->unknowns]);
  s.unknown = o->unknowns++;
  return s;
}

static fhi_source source(maker *m, fh_number n, const char *key, const char *advice, const char *name) {
  return fhi_odds_source(m->o, n, key, advice, name);
}

// ---------------------------------------------------------------------------------------------------- contacts

static bool same_source(fhi_source a, fhi_source b) {
  return a.unknown == b.unknown && (a.unknown >= 0 || a.value == b.value || (isnan(a.value) && isnan(b.value)));
}

static fhi_group group_for(maker *m, const fhi_contact *k) {
  char name[64];
  fhi_group g = {.kind = k->kind, .mu_or_eta = {-1, 1.0}, .share = {-1, 0.0}, .turn = {-1, 0.0}, .wrap = k->wrap};
  const fh_item *item = fh_gear_item(m->gear, k->item);
  if (k->kind == FHI_EDGE) {
    g.mu_or_eta = source(m, k->mu, "lip.friction", "know your lip: pad it, clear it, or measure a pull over it", "friction at the lip");
    g.turn = source(m, m->scene->lip_turn, "lip.turn_deg", "look at the angle of the rope over the edge", "turn over the lip");
    g.wrap = 0.0;
  } else if (k->kind != FHI_TENDED) {
    (void)fhi_format(name, sizeof name, "%s: efficiency", item != NULL ? item->name : "a bend");
    g.mu_or_eta = source(m, k->eta, "kit[].efficiency", "measure it with this rope, or use better pieces", name);
    if (k->wrap != 3.14159265358979323846 || m->o->angled) {
      (void)fhi_format(name, sizeof name, "%s: bending share", item != NULL ? item->name : "a bend");
      g.share = source(m, k->share, NULL, "little is known about it", name);
    }
  }
  return g;
}

static bool fill_groups(maker *m) {
  fhi_odds *o = m->o;
  for (int c = 0; c < o->room.model.contact_count; c++) {
    fhi_group g = group_for(m, &o->room.model.contacts[c]);
    int at = 0;
    while (at < o->groups && !(o->group[at].kind == g.kind && o->group[at].wrap == g.wrap && same_source(o->group[at].mu_or_eta, g.mu_or_eta) &&
                               same_source(o->group[at].share, g.share) && same_source(o->group[at].turn, g.turn))) {
      at++;
    }
    if (at == FHI_MAX_GROUPS) {
      return false;
    }
    if (at == o->groups) {
      o->group[o->groups++] = g;
    }
    o->group_of[c] = at;
  }
  return true;
}

// ---------------------------------------------------------------------------------------------------- crew

static fh_number figure(const maker *m, int item, const char *fallback, const char *what) {
  fh_number n = fh_gear_figure(m->gear, item, what, NULL);
  return fh_number_is_set(n) ? n : fh_gear_figure(m->gear, fh_gear_find(m->gear, fallback), what, NULL);
}

static void add_puller(maker *m, const fh_hauler *h, double diameter) {
  fhi_puller *p = &m->o->puller[m->o->pullers++];
  char name[64];
  int posture = fhi_posture(m->gear, h, m->o->direction < 0.0 ? FH_TOWARD_LIP : FH_TOWARD_BACK);
  const fh_item *item = fh_gear_item(m->gear, posture);
  const char *how = item != NULL ? item->name : "walking";
  fh_number strength = figure(m, posture, "walking", "pull_N"), sustained = figure(m, posture, "walking", "sustained_N");
  *p = (fhi_puller){.measured = fh_number_is_set(h->pull), .last = fmin(1.0, sustained.likely / strength.likely)};
  if (p->measured) {
    (void)fhi_format(name, sizeof name, "%s: pull", h->name);
    p->pull = source(m, h->pull, "crew[].pull_N", "measure the pull again", name);
    return;
  }
  (void)fhi_format(name, sizeof name, "strength, %s", how);
  p->strength = source(m, strength, NULL, "measure what each person pulls on this ground", name);
  (void)fhi_format(name, sizeof name, "strength for minutes, %s", how);
  p->sustained = source(m, sustained, NULL, "measure what each person keeps up", name);
  p->footing_share = figure(m, posture, "walking", "footing_share").likely;
  if (p->footing_share > 0.0) {
    bool own_mass = fh_number_is_set(h->mass), own_feet = fh_number_is_set(h->footing);
    (void)fhi_format(name, sizeof name, "%s: mass", h->name);
    p->mass = source(m, own_mass ? h->mass : figure(m, -1, "person", "mass_kg"), "crew[].mass_kg", "ask the pullers' masses", name);
    (void)fhi_format(name, sizeof name, "%s: footing", h->name);
    p->footing = source(m, own_feet ? h->footing : figure(m, -1, "boots-on-snow", "friction"), "crew[].footing", "look at the footing: steps, crampons",
                        name);
  }
  double hands = figure(m, posture, "walking", "hands").likely;
  p->hands = hands > 0.0;
  if (p->hands) {
    fh_band hold = fhi_hands_hold(m->gear, hands, h->gloves, diameter);
    fh_number grip = {FH_SPREAD_TRIANGLE, hold.lo, hold.likely, hold.hi, 0.0, 0, 0};
    bool gloved = h->gloves == FH_GLOVES_THIN || h->gloves == FH_GLOVES_THICK;
    p->grip = source(m, grip, NULL, "clip the rope to the harness, or wrap it", gloved ? "grip of gloved hands on the rope" : "grip of the hands on the rope");
  }
}

static bool by_hand(const maker *m) {
  for (int i = 0; i < m->o->pullers; i++) {
    if (m->o->puller[i].hands) {
      return true;
    }
  }
  return false;
}

static void fill_crew(maker *m) {
  fhi_odds *o = m->o;
  int rope = m->rig->paths[o->room.model.strands[o->room.model.hand_strand].path].rope;
  double diameter = fhi_rope_diameter(m->scene, m->gear, rope);
  fh_number level = fh_number_exact(0.0);
  o->direction = o->room.model.hand_dir < 0 ? -1.0 : 1.0;
  o->slope = source(m, fh_number_is_set(m->scene->slope) ? m->scene->slope : level, "ground.slope_deg", "measure the slope", "slope of the ground");
  o->used = source(m, figure(m, -1, "crew", "footing_used"), NULL, "little is known about it", "footing that steps use");
  for (int i = 0; i < m->scene->crew_count && i < FH_MAX_CREW; i++) {
    add_puller(m, &m->scene->crew[i], diameter);
  }
  if (rope >= 0 && by_hand(m)) {
    note_stood(o, m->scene->ropes[rope].diameter, "diameter of the rope in the hands");
  }
  if (o->pullers > 0) {
    fh_band loss = fhi_crew_loss(m->gear, o->pullers);
    fh_number n = {FH_SPREAD_TRIANGLE, loss.lo, loss.likely, loss.hi, 0.0, 0, 0};
    o->loss = source(m, n, NULL, "pull on a word of command", "loss by not pulling as one");
  }
}

// ---------------------------------------------------------------------------------------------------- limits

// The greatest force while holding, over the weight.
static double holding(const maker *m, const fhi_limit_ref *ref) {
  const fh_check *c = m->check;
  double hi = (double)NAN;
  if (ref->kind == FHI_LIMIT_CONTACT) {
    hi = c->contacts[ref->index].force[FH_HOLD].hi;
  } else if (ref->kind == FHI_LIMIT_BITE) {
    const fh_contact *k = &c->contacts[ref->index];
    hi = fmax(c->strands[k->before].tension[FH_HOLD].hi, c->strands[k->after].tension[FH_HOLD].hi);
  } else if (ref->kind == FHI_LIMIT_GRIP) {
    hi = c->grip_force[ref->index][FH_HOLD].hi;
  } else if (ref->kind == FHI_LIMIT_ROPE) {
    hi = 0.0;
    for (int s = 0; s < c->strand_count; s++) {
      hi = c->strands[s].path == ref->index ? fmax(hi, c->strands[s].tension[FH_HOLD].hi) : hi;
    }
  } else {
    hi = c->bodies[FH_BODY_STATION].force[FH_HOLD].hi + c->bodies[FH_BODY_ANCHOR].force[FH_HOLD].hi;
  }
  return isfinite(hi) ? hi / c->weight.hi : 0.0;
}

static double leg_share(const maker *m, int point) {
  double pull = fmax(1.0, m->check->bodies[FH_BODY_STATION].force[FH_RAISE].likely + m->check->bodies[FH_BODY_ANCHOR].force[FH_RAISE].likely);
  return fhi_leg_force(&m->scene->anchorage, point, (fh_band){pull, pull, pull}).likely / pull;
}

// Points in one snow hold in proportion to their size: one unknown for all of them. @return the scale, 0 when there is none
static double same_snow(const maker *m, fh_number n, const char *name, int *unknown) {
  for (int i = 0; i < m->o->unknowns; i++) {
    const fh_number *o = &m->o->unknown[i].number;
    double scale = n.hi / o->hi;
    bool alike = fabs(n.lo - scale * o->lo) <= 1e-9 * n.hi && fabs(n.likely - scale * o->likely) <= 1e-9 * n.hi;
    if (strcmp(m->o->unknown[i].name, name) == 0 && n.spread == o->spread && alike) {
      *unknown = i;
      return scale;
    }
  }
  return 0.0;
}

static void add_limit(maker *m, const fhi_limit_ref *ref, const char *element) {
  fhi_odd_limit *l = &m->o->limit[m->o->limits++];
  char name[64], group[48];
  // "grip tractor: prusik slips" and "grip t2: prusik slips" are one kind: what stands behind the colon names it.
  const char *colon = strchr(element, ':');
  (void)fhi_copy(group, sizeof group, colon != NULL ? colon + 2 : element);
  bool anchor = ref->kind == FHI_LIMIT_ANCHOR || ref->kind == FHI_LIMIT_POINT;
  if (anchor) {
    (void)fhi_format(name, sizeof name, "what the anchor holds%s%s", colon != NULL ? ": " : "", colon != NULL ? group : "");
  } else {
    (void)fhi_format(name, sizeof name, "limit: %s", group);
  }
  *l = (fhi_odd_limit){.kind = ref->kind, .index = ref->index, .hold = holding(m, ref), .leg = 1.0};
  l->scale = same_snow(m, ref->limit, name, &l->limit.unknown);
  if (!(l->scale > 0.0)) {
    l->scale = 1.0;
    l->limit = source(m, ref->limit, NULL, anchor ? "test the snow, or the anchor itself" : "test it on this rope", name);
  }
  if (ref->kind == FHI_LIMIT_POINT) {
    l->leg = leg_share(m, ref->index);
  }
  (void)fhi_copy(l->element, sizeof l->element, element);
}

// How the legs lie says how they share the pull: the limits keep to the likely share.
static void stand_legs(maker *m) {
  const fh_anchorage *a = &m->scene->anchorage;
  char name[64];
  if (!m->scene->has_anchorage || a->point_count < 2) {
    return;
  }
  note_stood(m->o, a->modulus, "stretch of the anchor's legs");
  note_stood(m->o, a->stop, "stop of the anchor's sling");
  for (int i = 0; i < a->point_count; i++) {
    const fh_number n[] = {a->points[i].leg, a->points[i].aside, a->points[i].above, a->points[i].slack};
    static const char *const NAMES[] = {"length", "angle aside", "angle above the ground", "slack"};
    for (int k = 0; k < 4; k++) {
      (void)fhi_format(name, sizeof name, "leg of anchor point %d: %s", i + 1, NAMES[k]);
      note_stood(m->o, n[k], name);
    }
  }
}

// Whether there is room for a stroke is looked at once, by check.
static void stand_room(maker *m) {
  note_stood(m->o, m->scene->reach, "nearest place for a hitch");
  note_stood(m->o, m->scene->clearance, "gap between blocks");
  note_stood(m->o, m->scene->room, "room to walk back");
}

static void fill_limits(maker *m) {
  const fhi_limit_ref *refs = m->o->room.refs;
  for (int i = 0; i < m->check->limit_count; i++) {
    if (refs[i].kind != FHI_LIMIT_CREW) {
      add_limit(m, &refs[i], m->check->limits[i].element);
    }
  }
}

// ---------------------------------------------------------------------------------------------------- the whole

static void typical(const fhi_odds *o, double *factor) {
  for (int c = 0; c < o->room.model.contact_count; c++) {
    factor[c] = o->room.factors.likely[c];
  }
}

static fh_number hand_angle(const fh_rig *rig) {
  for (int i = 0; i < rig->station_count; i++) {
    if (rig->stations[i].kind == FH_HAND && fh_number_is_set(rig->stations[i].angle)) {
      return rig->stations[i].angle;
    }
  }
  return fh_number_exact(0.0);
}

// Zeros where a count or a choice stands; what is counted is written whole before it is read.
static void start(const fh_rig *rig, fhi_odds *o) {
  o->rig = rig;
  o->unknowns = o->stood_count = o->groups = o->pullers = o->limits = o->ropes = o->spans = 0;
  o->shared = o->too_short = false;
  o->angled = o->room.model.hand_angles.hi > 0.0;
  o->angle = (fhi_source){-1, o->room.model.hand_angle};
  o->loss = (fhi_source){-1, 0.0};
}

fh_status fhi_odds_build_on(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fhi_odds *o) {
  maker m = {scene, gear, rig, check, o};
  double factor[FHI_MAX_CONTACTS];
  start(rig, o);
  o->mass = source(&m, scene->load_mass, "load.mass_kg", "ask what the load weighs with its pack", "mass of the load");
  if (!fill_groups(&m)) {
    return FH_ERR_ARG;
  }
  if (o->angled) {
    o->angle = source(&m, hand_angle(rig), "rig.ropes[].path[].angle_deg", "pull in line", "angle of the pull");
  }
  fill_crew(&m);
  stand_legs(&m);
  stand_room(&m);
  fill_limits(&m);
  fhi_odds_ropes(scene, rig, check, o);  // last: what was sampled before keeps its points
  typical(o, factor);
  o->fast = !o->angled && fhi_batch_compile_all(&o->room.model, &o->room.motion, factor, &o->batch);
  o->pull_lo = check->hand_force.lo;
  o->pull_hi = check->hand_force.hi;
  o->capacity_lo = check->crew.force.lo;
  o->capacity_hi = check->crew.force.hi;
  return FH_OK;
}

fh_status fhi_odds_build(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fhi_odds *o) {
  char why[200];
  memset(o, 0, sizeof *o);
  if (!fhi_model_compile(scene, gear, rig, &o->room.model, why, sizeof why)) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_motion_solve(rig, &o->room.model, &o->room.motion);
  if (status != FH_OK || o->room.motion.outcome != FH_OUTCOME_SOLVED) {
    return status != FH_OK ? status : FH_ERR_ARG;
  }
  fhi_factors_fill(&o->room.model, scene, &o->room.factors);
  (void)fhi_limits_of(scene, gear, rig, check, o->room.refs);
  return fhi_odds_build_on(scene, gear, rig, check, o);
}
