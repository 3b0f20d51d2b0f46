// SPDX-License-Identifier: MIT
// What each piece may carry against what it has to: the high end of the force against the low end of the limit.
// Implements model.md, sections 4, 8 and 10, for every contact, grip, rope, the anchor and the crew.
#include <math.h>
#include <string.h>

#include "anchor.h"
#include "report.h"
#include "state.h"
#include "text.h"

typedef struct ledger {
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  const fh_check *check;
  int count;
  fh_limit *limits;     // with their margins and words, or NULL
  fhi_limit_ref *refs;  // what each limit is of, or NULL
} ledger;

static const char *source_of(const fh_figure *figure) {
  if (figure == NULL) {
    return "the scene";
  }
  if (figure->ref != NULL && figure->ref[0] != '\0') {
    return figure->ref;
  }
  return figure->basis == FH_BASIS_OWN ? "own gear file" : "common practice, no source";
}

// The state in which a force is greatest.
static int worst_state(const fh_band *force) {
  int worst = FH_RAISE;
  for (int s = FH_RAISE; s <= FH_LOWER; s++) {
    if (force[s].hi > force[worst].hi) {
      worst = s;
    }
  }
  return worst;
}

static void add(ledger *l, fhi_limit_kind kind, int index, const char *element, const fh_band *force, fh_number limit,
                const fh_figure *figure) {
  if (!fh_number_is_set(limit) || l->count == FH_MAX_LIMITS) {
    return;
  }
  int at = l->count++;
  if (l->refs != NULL) {
    l->refs[at] = (fhi_limit_ref){kind, index, limit};
  }
  if (l->limits == NULL) {
    return;
  }
  fh_limit *x = &l->limits[at];
  memset(x, 0, sizeof *x);
  fhi_copy(x->element, sizeof x->element, element);
  x->state = worst_state(force);
  x->force = force[x->state].hi;
  x->limit = limit.lo;
  x->margin = x->force > 0.0 ? x->limit / x->force : (double)INFINITY;
  x->basis = figure != NULL ? figure->basis : FH_BASIS_OWN;
  fhi_copy(x->source, sizeof x->source, source_of(figure));
}

static void add_contacts(ledger *l) {
  for (int c = 0; c < l->check->contact_count; c++) {
    const fh_contact *k = &l->check->contacts[c];
    const fh_figure *figure = NULL;
    const fh_item *item = fh_gear_item(l->gear, k->item);
    char name[48];
    if (item == NULL) {
      continue;
    }
    fhi_format(name, sizeof name, "%s: %s", fhi_end_name(l->rig, k->body), item->name);
    fh_number strength = fh_gear_figure(l->gear, k->item, "strength_N", &figure);
    add(l, FHI_LIMIT_CONTACT, c, name, k->force, strength, figure);
    fh_number sheath = fh_gear_figure(l->gear, k->item, "sheath_N", &figure);
    if (k->capture && fh_number_is_set(sheath)) {
      // Teeth bite the loaded strand alone.
      fhi_format(name, sizeof name, "%s: rope sheath at %s", fhi_end_name(l->rig, k->body), item->name);
      const fh_strand *before = &l->check->strands[k->before], *after = &l->check->strands[k->after];
      fh_band bite[FH_STATE_COUNT] = {{0.0, 0.0, 0.0}};
      bite[FH_HOLD] = before->tension[FH_HOLD].hi >= after->tension[FH_HOLD].hi ? before->tension[FH_HOLD] : after->tension[FH_HOLD];
      add(l, FHI_LIMIT_BITE, c, name, bite, sheath, figure);
    }
  }
}

static bool wet_rope(const ledger *l, int path) {
  int rope = l->rig->paths[path].rope;
  return l->scene->wet || (rope >= 0 && l->scene->ropes[rope].wet);
}

static void add_grips(ledger *l) {
  for (int g = 0; g < l->rig->grip_count; g++) {
    const fh_grip *grip = &l->rig->grips[g];
    const fh_item *item = fh_gear_item(l->gear, grip->item);
    const fh_figure *figure = NULL;
    char name[48];
    if (item == NULL) {
      continue;
    }
    fh_number slip = wet_rope(l, grip->path) ? fh_gear_figure(l->gear, grip->item, "slip_wet_N", &figure) : fh_number_unset();
    if (!fh_number_is_set(slip)) {
      slip = fh_gear_figure(l->gear, grip->item, "slip_N", &figure);
    }
    fhi_format(name, sizeof name, "grip %s: %s slips", l->rig->bodies[grip->body], item->name);
    add(l, FHI_LIMIT_GRIP, g, name, l->check->grip_force[g], slip, figure);
    fh_number sheath = fh_gear_figure(l->gear, grip->item, "sheath_N", &figure);
    fhi_format(name, sizeof name, "grip %s: rope sheath at %s", l->rig->bodies[grip->body], item->name);
    add(l, FHI_LIMIT_GRIP, g, name, l->check->grip_force[g], sheath, figure);
  }
}

// The strongest pull on each rope, against what is left of its strength at a knot.
static void add_ropes(ledger *l) {
  for (int p = 0; p < l->rig->path_count; p++) {
    int rope = l->rig->paths[p].rope;
    int kind = rope >= 0 ? l->scene->ropes[rope].kind : fh_gear_find(l->gear, "half");
    const fh_figure *figure = NULL;
    fh_band most[FH_STATE_COUNT] = {{0.0, 0.0, 0.0}};
    char name[48];
    for (int s = 0; s < l->check->strand_count; s++) {
      for (int k = 0; k < FH_STATE_COUNT; k++) {
        const fh_band *t = &l->check->strands[s].tension[k];
        if (l->check->strands[s].path == p && t->hi > most[k].hi) {
          most[k] = *t;
        }
      }
    }
    fhi_format(name, sizeof name, "rope %s at a knot", l->rig->paths[p].name);
    fh_number strength = fh_gear_figure(l->gear, kind, "knotted_N", &figure);
    add(l, FHI_LIMIT_ROPE, p, name, most, strength, figure);
  }
}

// Each point of the anchor, with its leg's part of the pull.
static void add_points(ledger *l, const fh_band *pull) {
  const fh_anchorage *a = &l->scene->anchorage;
  for (int i = 0; i < a->point_count; i++) {
    fh_hold hold = fh_point_hold(l->scene, l->gear, i);
    const fh_item *item = fh_gear_item(l->gear, a->points[i].kind);
    const fh_figure *figure = NULL;
    fh_band leg[FH_STATE_COUNT];
    fh_number holds = {FH_SPREAD_TRIANGLE, hold.holds.lo, hold.holds.likely, hold.holds.hi, 0.0, 0, 0};
    char name[48];
    for (int k = 0; k < FH_STATE_COUNT; k++) {
      leg[k] = fhi_leg_force(a, i, pull[k]);
    }
    (void)fh_gear_figure(l->gear, a->points[i].kind, "holds_N", &figure);
    fhi_format(name, sizeof name, "anchor point %d: %s", i + 1, item != NULL ? item->name : "given");
    add(l, FHI_LIMIT_POINT, i, name, leg, isnan(hold.holds.lo) ? fh_number_unset() : holds, figure);
  }
}

// Station and anchor hang on the same snow: the anchor carries both.
fh_band fhi_on_anchor(const fh_check *check, int state) {
  const fh_band *a = &check->bodies[FH_BODY_STATION].force[state], *b = &check->bodies[FH_BODY_ANCHOR].force[state];
  return (fh_band){a->lo + b->lo, a->likely + b->likely, a->hi + b->hi};
}

static void add_anchor(ledger *l) {
  fh_band sum[FH_STATE_COUNT];
  for (int k = 0; k < FH_STATE_COUNT; k++) {
    sum[k] = fhi_on_anchor(l->check, k);
  }
  if (l->scene->has_anchorage) {
    add_points(l, sum);
    return;
  }
  const fh_figure *figure = NULL;
  fh_number holds = l->scene->anchor_holds;
  if (!fh_number_is_set(holds) && l->scene->anchor_kind >= 0) {
    holds = fh_gear_figure(l->gear, l->scene->anchor_kind, "holds_N", &figure);
  }
  add(l, FHI_LIMIT_ANCHOR, -1, "anchor, with the station", sum, holds, figure);
}

static void add_crew(ledger *l) {
  const fh_figure *figure = NULL;
  if (l->scene->crew_count == 0) {
    return;
  }
  fh_band hand[FH_STATE_COUNT] = {{0.0, 0.0, 0.0}};
  hand[FH_RAISE] = l->check->hand_force;
  fh_number pull = fh_number_exact(l->check->crew.force.lo);
  (void)fh_gear_figure(l->gear, l->scene->crew[0].posture, "pull_N", &figure);
  add(l, FHI_LIMIT_CREW, -1, "crew", hand, pull, figure);
}

static void list(ledger *l) {
  add_contacts(l);
  add_grips(l);
  add_ropes(l);
  add_anchor(l);
}

int fhi_limits_of(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fhi_limit_ref *refs) {
  ledger l = {scene, gear, rig, check, 0, NULL, refs};
  list(&l);
  add_crew(&l);
  return l.count;
}

void fhi_limits_fill(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_check *check, fhi_limit_ref *refs) {
  ledger l = {scene, gear, rig, check, 0, check->limits, refs};
  list(&l);
  check->worst_margin = (double)INFINITY;
  for (int i = 0; i < l.count; i++) {
    check->worst_margin = fmin(check->worst_margin, check->limits[i].margin);
  }
  add_crew(&l);
  check->limit_count = l.count;
}
