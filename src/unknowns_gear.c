// SPDX-License-Identifier: MIT
// Which of the catalogue's figures are open for a question: pieces of the rig, ropes, crew, the edge, and what may break.
// Implements model.md, section 12. Names and what shares a cause as in odds.c.
#include <math.h>
#include <string.h>

#include "crew.h"
#include "text.h"
#include "unknowns.h"

typedef struct lister {
  const fh_scene *s;
  const fh_gear *gear;
  fhi_asks asks;
  fhi_unknowns *u;
} lister;

static fh_number figure(const lister *l, int item, const char *what) {
  return fh_gear_figure(l->gear, item, what, NULL);
}

static void open_figure(const lister *l, int item, const char *what, const char *advice, const char *name) {
  fh_number n = figure(l, item, what);
  fhi_target_figure(l->u, l->gear, fhi_unknown_add(l->u, n, advice, name), item, what, n);
}

// ---------------------------------------------------------------------------------------------------- the rig's pieces

static bool kit_says(const lister *l, int item) {
  for (int i = 0; i < l->s->kit_count; i++) {
    if (l->s->kit[i].item == item && fh_number_is_set(l->s->kit[i].efficiency)) {
      return true;
    }
  }
  return false;
}

static void item_limits(const lister *l, int item, const char *item_name) {
  char name[64];
  (void)fhi_format(name, sizeof name, "limit: %s", item_name);
  open_figure(l, item, "strength_N", "test it on this rope", name);
  (void)fhi_format(name, sizeof name, "limit: rope sheath at %s", item_name);
  open_figure(l, item, "sheath_N", "test it on this rope", name);
}

static void pieces(const lister *l) {
  char name[64];
  for (int i = 0; i < l->s->rig.station_count; i++) {
    const fh_station *st = &l->s->rig.stations[i];
    const fh_item *item = st->kind == FH_RUN ? fh_gear_item(l->gear, st->item) : NULL;
    if (item == NULL) {
      continue;
    }
    if (!fh_number_is_set(st->efficiency) && !kit_says(l, st->item)) {
      (void)fhi_format(name, sizeof name, "%s: efficiency", item->name);
      open_figure(l, st->item, "efficiency", "measure it with this rope, or use better pieces", name);
    }
    (void)fhi_format(name, sizeof name, "%s: set-back", item->name);
    open_figure(l, st->item, "set_back_m", "try how far it slips before it bites", name);
  }
}

static void piece_limits(const lister *l) {
  for (int i = 0; i < l->s->rig.station_count; i++) {
    const fh_station *st = &l->s->rig.stations[i];
    const fh_item *item = st->kind == FH_RUN ? fh_gear_item(l->gear, st->item) : NULL;
    if (item != NULL) {
      item_limits(l, st->item, item->name);
    }
  }
}

static void grips(const lister *l) {
  char name[64];
  for (int g = 0; g < l->s->rig.grip_count; g++) {
    const fh_grip *grip = &l->s->rig.grips[g];
    const fh_item *item = fh_gear_item(l->gear, grip->item);
    int rope = l->s->rig.paths[grip->path].rope;
    bool wet = l->s->wet || (rope >= 0 && l->s->ropes[rope].wet);
    if (item == NULL) {
      continue;
    }
    if (grip->body < FH_BODY_FIRST_GRIP) {
      (void)fhi_format(name, sizeof name, "%s: set-back", item->name);
      open_figure(l, grip->item, "set_back_m", "try how far it slips before it bites", name);
    }
    (void)fhi_format(name, sizeof name, "limit: %s slips", item->name);
    wet = wet && fh_number_is_set(figure(l, grip->item, "slip_wet_N"));
    open_figure(l, grip->item, wet ? "slip_wet_N" : "slip_N", "test it on this rope", name);
    item_limits(l, grip->item, item->name);
  }
}

// ---------------------------------------------------------------------------------------------------- ropes

static int kind_of(const lister *l, int path) {
  int rope = l->s->rig.paths[path].rope;
  return rope >= 0 ? l->s->ropes[rope].kind : fh_gear_find(l->gear, "half");
}

// Slow and fast stretch have one cause.
static void rope_kinds(const lister *l) {
  char name[64];
  for (int p = 0; p < l->s->rig.path_count; p++) {
    int rope = l->s->rig.paths[p].rope, kind = kind_of(l, p);
    const fh_item *item = fh_gear_item(l->gear, kind);
    bool own = rope >= 0 && fh_number_is_set(l->s->ropes[rope].modulus);
    if (item == NULL) {
      continue;
    }
    (void)fhi_format(name, sizeof name, "stretch of %s rope", item->name);
    fh_number slow = figure(l, kind, "modulus_N"), fast = figure(l, kind, "fall_modulus_N"), impact = figure(l, kind, "impact_N");
    int cause = own ? -1 : fhi_unknown_add(l->u, slow, "measure how it stretches under a known load", name);
    fhi_target_figure(l->u, l->gear, cause, kind, "modulus_N", slow);
    if (l->asks == FHI_ASKS_LOSE) {
      cause = cause >= 0 ? cause : fhi_unknown_add(l->u, fast, "look for the rope's impact force", name);
      fhi_target_figure(l->u, l->gear, fhi_is_open(fast) ? cause : -1, kind, "fall_modulus_N", fast);
      cause = cause >= 0 ? cause : fhi_unknown_add(l->u, impact, "look for the rope's impact force", name);
      fhi_target_figure(l->u, l->gear, fhi_is_open(impact) ? cause : -1, kind, "impact_N", impact);
    }
  }
}

static void rope_limits(const lister *l) {
  char name[64];
  for (int p = 0; p < l->s->rig.path_count; p++) {
    const fh_item *item = fh_gear_item(l->gear, kind_of(l, p));
    // The limits of a raise name the rope; ropes of one kind are good or bad together where each catch looks at the kind.
    bool kind = l->asks == FHI_ASKS_LOSE && item != NULL;
    (void)fhi_format(name, sizeof name, "limit: %s %s at a knot", kind ? item->name : "rope", kind ? "rope" : l->s->rig.paths[p].name);
    open_figure(l, kind_of(l, p), "knotted_N", "test it on this rope", name);
  }
  if (l->asks == FHI_ASKS_LOSE) {
    open_figure(l, fh_gear_find(l->gear, "sit-harness"), "strength_N", "look at the harness", "limit: harness of the load");
  }
}

// ---------------------------------------------------------------------------------------------------- crew

static double hands_of(const lister *l, int posture) {
  fh_number n = figure(l, posture, "hands");
  return (fh_number_is_set(n) ? n : figure(l, fh_gear_find(l->gear, "walking"), "hands")).likely;
}

// @param posture how they pull, or -1
static void puller(const lister *l, const fh_hauler *h, int posture) {
  char name[64];
  const fh_item *item = fh_gear_item(l->gear, posture);
  int how = item != NULL ? posture : fh_gear_find(l->gear, "walking"), crew = fh_gear_find(l->gear, "crew");
  const char *says = item != NULL ? item->name : "walking";
  size_t at = (size_t)((const char *)h - (const char *)l->s);
  if (fh_number_is_set(h->pull)) {
    (void)fhi_format(name, sizeof name, "%s: pull", h->name);
    fhi_target_scene(l->u, fhi_unknown_add(l->u, h->pull, "measure the pull again", name), at + offsetof(fh_hauler, pull), h->pull, "crew[].pull_N");
    return;
  }
  (void)fhi_format(name, sizeof name, "strength, %s", says);
  open_figure(l, how, "pull_N", "measure what each person pulls on this ground", name);
  (void)fhi_format(name, sizeof name, "strength for minutes, %s", says);
  open_figure(l, how, "sustained_N", "measure what each person keeps up", name);
  if (!(figure(l, how, "footing_share").likely > 0.0)) {
    return;
  }
  (void)fhi_format(name, sizeof name, "%s: mass", h->name);
  fhi_target_scene(l->u, fhi_unknown_add(l->u, h->mass, "ask the pullers' masses", name), at + offsetof(fh_hauler, mass), h->mass, "crew[].mass_kg");
  (void)fhi_format(name, sizeof name, "%s: footing", h->name);
  fhi_target_scene(l->u, fhi_unknown_add(l->u, h->footing, "look at the footing: steps, crampons", name), at + offsetof(fh_hauler, footing), h->footing,
                   "crew[].footing");
  open_figure(l, crew, "footing_used", "little is known about it", "footing that steps use");
}

// The hand's hold as crew.c has it: its low end falls with a thin rope. The figure that gives the same at likely values.
static void hands(const lister *l, double diameter) {
  int crew = fh_gear_find(l->gear, "crew");
  fh_number one = figure(l, crew, "grip_N"), wide = figure(l, crew, "grip_diameter_m");
  double thin = fmin(1.0, diameter / wide.likely), up = 2.0 / (1.0 + thin);
  fh_number n = {FH_SPREAD_TRIANGLE, one.lo * thin * up, one.likely, one.hi * up, 0.0, 0, 0};
  fhi_target_figure(l->u, l->gear, fhi_unknown_add(l->u, n, "clip the rope to the harness, or wrap it", "grip of the hands on the rope"), crew, "grip_N", n);
}

static void crew(const lister *l) {
  int item = fh_gear_find(l->gear, "crew"), rope = -1;
  fh_toward toward = FH_TOWARD_BACK;
  bool by_hand = false;
  for (int p = 0; p < l->s->rig.path_count; p++) {
    const fh_path *path = &l->s->rig.paths[p];
    for (int i = path->first; i < path->first + path->count; i++) {
      if (l->s->rig.stations[i].kind == FH_HAND) {
        rope = path->rope;
        toward = fhi_pull_toward(&l->s->rig.stations[i]);
      }
    }
  }
  for (int i = 0; i < l->s->crew_count; i++) {
    int posture = fhi_posture(l->gear, &l->s->crew[i], toward);
    puller(l, &l->s->crew[i], posture);
    by_hand = by_hand || (!fh_number_is_set(l->s->crew[i].pull) && hands_of(l, posture) > 0.0);
  }
  if (by_hand) {
    hands(l, fhi_rope_diameter(l->s, l->gear, rope));
    if (rope >= 0) {
      fhi_unknown_stood(l->u, l->s->ropes[rope].diameter, "diameter of the rope in the hands");
    }
  }
  if (l->s->crew_count > 1) {
    fh_band loss = fhi_crew_loss(l->gear, l->s->crew_count);
    fh_number n = {FH_SPREAD_TRIANGLE, loss.lo, loss.likely, loss.hi, 0.0, 0, 0};
    int cause = fhi_unknown_add(l->u, n, "pull on a word of command", "loss by not pulling as one");
    // Both ends of the line are set to it: so is all between and beyond.
    fhi_target_figure(l->u, l->gear, cause, item, "loss_2", n);
    fhi_target_figure(l->u, l->gear, cause, item, "loss_8", n);
  }
  // Who has power for minutes has it for an hour.
  fh_number minutes = figure(l, item, "power_minutes_W"), hour = figure(l, item, "power_W");
  int cause = fhi_unknown_add(l->u, minutes, "time the crew over ten metres", "power of a puller");
  fhi_target_figure(l->u, l->gear, cause, item, "power_minutes_W", minutes);
  fhi_target_figure(l->u, l->gear, cause, item, "power_W", hour);
}

// ---------------------------------------------------------------------------------------------------- the edge

static int cause_of(const lister *l, const char *name) {
  for (int i = 0; i < l->u->count; i++) {
    if (strcmp(l->u->list[i].name, name) == 0) {
      return i;
    }
  }
  return -1;
}

// A surface that the lip already is has the lip's friction.
static void surface(const lister *l, const char *item_name, const char *name) {
  int item = fh_gear_find(l->gear, item_name);
  if (item == l->s->lip_surface) {
    fhi_target_figure(l->u, l->gear, cause_of(l, "friction at the lip"), item, "friction", figure(l, item, "friction"));
  } else {
    open_figure(l, item, "friction", "pad it, clear it, or measure a pull over it", name);
  }
}

static void edge(const lister *l) {
  int carabiner = fh_gear_find(l->gear, "carabiner");
  open_figure(l, carabiner, "efficiency", "measure it with this rope, or use better pieces", "carabiner: efficiency");
  surface(l, "padded", "friction of a padded lip");
  if (l->s->lip_surface >= 0 && l->s->lip_surface == fh_gear_find(l->gear, "cut")) {
    surface(l, "firn", "friction of a fresh edge");
  }
  if (l->s->lip_cut.hi > 0.0) {
    open_figure(l, fh_gear_find(l->gear, "clothing-on-snow"), "friction", "push off the wall", "friction of clothing on the wall");
  }
}

void fhi_unknowns_gear(const fh_scene *scene, const fh_gear *gear, fhi_asks asks, fhi_unknowns *u) {
  lister l = {scene, gear, asks, u};
  pieces(&l);
  if (asks == FHI_ASKS_HAUL) {
    crew(&l);
  }
  grips(&l);
  rope_kinds(&l);
  if (asks == FHI_ASKS_HAUL) {
    edge(&l);
  }
  piece_limits(&l);
  rope_limits(&l);
}
