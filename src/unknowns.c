// SPDX-License-Identifier: MIT
// A list of what is not known, and a scene in which each unknown has taken a value. Implements model.md, section 12.
#include "unknowns.h"

#include <math.h>
#include <string.h>

#include "memory.h"
#include "odds.h"
#include "sample.h"
#include "text.h"

bool fhi_is_open(fh_number n) {
  return n.spread != FH_SPREAD_UNSET && n.spread != FH_SPREAD_EXACT && n.hi > n.lo;
}

static bool same_number(fh_number a, fh_number b) {
  return a.spread == b.spread && a.lo == b.lo && a.likely == b.likely && a.hi == b.hi && a.sd == b.sd;
}

void fhi_unknown_stood(fhi_unknowns *u, fh_number n, const char *name) {
  if (!fhi_is_open(n)) {
    return;
  }
  for (int i = 0; i < u->stood_count; i++) {
    if (strcmp(u->stood[i], name) == 0) {
      return;
    }
  }
  if (u->stood_count < FH_MAX_STOOD) {
    (void)fhi_copy(u->stood[u->stood_count++], sizeof u->stood[0], name);
  }
}

int fhi_unknown_add(fhi_unknowns *u, fh_number n, const char *advice, const char *name) {
  if (!fhi_is_open(n)) {
    return -1;
  }
  for (int i = 0; i < u->count; i++) {
    if (strcmp(u->list[i].name, name) == 0 && same_number(u->list[i].number, n)) {
      return i;
    }
  }
  if (u->count == FH_MAX_UNKNOWNS) {
    fhi_unknown_stood(u, n, name);
    return -1;
  }
  fh_unknown *x = &u->list[u->count];
  const double nan = (double)NAN;
  *x = (fh_unknown){.number = n, .pull_alone = nan, .pull_total = nan, .margin_alone = nan, .margin_total = nan,
                    .works_alone = nan, .works_total = nan};
  (void)fhi_copy(x->name, sizeof x->name, name);
  (void)fhi_copy(x->advice, sizeof x->advice, advice);
  return u->count++;
}

static void add_target(fhi_unknowns *u, fhi_target t) {
  for (int i = 0; i < u->targets; i++) {
    if (u->target[i].figure == t.figure && u->target[i].at == t.at) {
      return;  // the first cause that was found stands
    }
  }
  if (t.unknown >= 0 && u->targets < FHI_MAX_TARGETS) {
    u->target[u->targets++] = t;
  }
}

void fhi_target_scene(fhi_unknowns *u, int unknown, size_t at, fh_number n, const char *key) {
  fhi_target t = {.unknown = unknown, .figure = -1, .at = at, .number = n};
  fhi_key_cuts(key, &t.cut_lo, &t.cut_hi);
  add_target(u, t);
}

// A figure's place, counted through all items. @return -1 when the item has none
static int place_of(const fh_gear *gear, int item, const char *what) {
  int before = 0;
  for (int i = 0; i < item; i++) {
    before += gear->items[i].figure_count;
  }
  for (int f = 0; item >= 0 && item < gear->count && f < gear->items[item].figure_count; f++) {
    if (strcmp(gear->items[item].figures[f].what, what) == 0) {
      return before + f;
    }
  }
  return -1;
}

void fhi_target_figure(fhi_unknowns *u, const fh_gear *gear, int unknown, int item, const char *what, fh_number n) {
  int figure = place_of(gear, item, what);
  if (figure >= 0) {
    add_target(u, (fhi_target){.unknown = unknown, .figure = figure, .number = n, .cut_lo = -(double)INFINITY, .cut_hi = (double)INFINITY});
  }
}

// ---------------------------------------------------------------------------------------------------- settled

static void to_likely(void *user, fh_number *n, const char *key) {
  (void)user;
  (void)key;
  if (fhi_is_open(*n)) {
    *n = fh_number_exact(n->likely);
  }
}

fh_status fhi_settled_create(const fh_scene *scene, const fh_gear *gear, fhi_settled **out) {
  int figures = 0;
  for (int i = 0; i < gear->count; i++) {
    figures += gear->items[i].figure_count;
  }
  fhi_settled *s = fhi_alloc(1, sizeof *s);
  fh_item *items = fhi_alloc((size_t)gear->count, sizeof *items);
  fh_figure *own = fhi_alloc((size_t)figures, sizeof *own);
  if (s == NULL || items == NULL || own == NULL) {
    fhi_free(own);
    fhi_free(items);
    fhi_free(s);
    return FH_ERR_MEMORY;
  }
  s->scene = *scene;
  s->gear = (fh_gear){.items = items, .count = gear->count};
  s->figures = own;
  for (int i = 0, at = 0; i < gear->count; at += gear->items[i++].figure_count) {
    items[i] = gear->items[i];
    items[i].figures = own + at;
    for (int f = 0; f < gear->items[i].figure_count; f++) {
      own[at + f] = gear->items[i].figures[f];
      to_likely(NULL, &own[at + f].value, NULL);
    }
  }
  fhi_scene_numbers(&s->scene, to_likely, NULL);
  for (int i = 0; i < s->scene.rig.station_count; i++) {
    s->scene.rig.stations[i].efficiency_range = fh_number_unset();
  }
  *out = s;
  return FH_OK;
}

void fhi_settled_destroy(fhi_settled *s) {
  if (s != NULL) {
    fhi_free(s->gear.items);
    fhi_free(s->figures);
    fhi_free(s);
  }
}

void fhi_settle(fhi_settled *s, const fhi_unknowns *unknowns, const double *u) {
  for (int i = 0; i < unknowns->targets; i++) {
    const fhi_target *t = &unknowns->target[i];
    fh_number *to = t->figure >= 0 ? &s->figures[t->figure].value : (fh_number *)((char *)&s->scene + t->at);
    *to = fh_number_exact(fhi_sample_number(t->number, t->cut_lo, t->cut_hi, u[t->unknown]));
  }
}
