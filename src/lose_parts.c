// SPDX-License-Identifier: MIT
// What of a rig can let go? Every part once, with a name that stays the same at every stage. Model section 9.
#include <string.h>

#include "lose.h"
#include "report.h"
#include "text.h"

// Names are told apart by a number where a rig has two of a kind in one place.
static int add(fhi_parts *p, fh_element_kind kind, int index, const char *name) {
  if (p->count == FH_MAX_ELEMENTS) {
    return -1;
  }
  fh_element *e = &p->list[p->count];
  e->kind = kind;
  e->index = index;
  (void)fhi_copy(e->name, sizeof e->name, name);
  for (int n = 2, again = 1; again; n++) {
    again = 0;
    for (int i = 0; i < p->count && !again; i++) {
      again = strcmp(p->list[i].name, e->name) == 0;
    }
    if (again) {
      (void)fhi_format(e->name, sizeof e->name, "%s (%d)", name, n);
    }
  }
  return p->count++;
}

static void add_station(const fhi_raise *r, int path, int index, fhi_parts *p) {
  const fh_station *st = &r->rig->stations[index];
  char name[FH_ELEMENT];
  if (st->kind == FH_TIE) {
    (void)fhi_format(name, sizeof name, "knot of %s on %s", r->rig->paths[path].name, r->rig->bodies[st->body]);
    p->knot[index] = add(p, FH_ELEMENT_KNOT, index, name);
  } else if (st->kind == FH_RUN) {
    const fh_item *item = fh_gear_item(r->gear, st->item);
    (void)fhi_format(name, sizeof name, "%s on %s", fhi_item_name(r->gear, st->item), r->rig->bodies[st->body]);
    p->bend[index] = add(p, FH_ELEMENT_BEND, index, name);
    if (item != NULL && item->item_class == FH_ITEM_CAPTURE) {
      (void)fhi_format(name, sizeof name, "%s on %s does not lock", fhi_item_name(r->gear, st->item), r->rig->bodies[st->body]);
      p->lock[index] = add(p, FH_ELEMENT_LOCK, index, name);
    }
  }
}

// A tail that ends loose carries nothing; cut, it is a shorter tail.
static void add_strands(const fhi_raise *r, int path, fhi_parts *p) {
  for (int s = 0; s < r->model.strand_count; s++) {
    const fhi_strand *st = &r->model.strands[s];
    char name[FH_ELEMENT];
    if (st->path != path || st->end[0].kind == FHI_END_LOOSE || st->end[1].kind == FHI_END_LOOSE) {
      continue;
    }
    (void)fhi_format(name, sizeof name, "%s from %s to %s", r->rig->paths[path].name, fhi_end_name(r->rig, st->end[0].body),
                     fhi_end_name(r->rig, st->end[1].body));
    p->strand[s] = add(p, FH_ELEMENT_STRAND, s, name);
  }
}

static void add_grip(const fhi_raise *r, int g, fhi_parts *p) {
  const fh_grip *grip = &r->rig->grips[g];
  char name[FH_ELEMENT];
  (void)fhi_format(name, sizeof name, "%s at %s", fhi_item_name(r->gear, grip->item), r->rig->bodies[grip->body]);
  p->grip[g] = add(p, FH_ELEMENT_GRIP, g, name);
}

// An anchor of one point is that point.
static void add_legs(const fhi_raise *r, fhi_parts *p) {
  const fh_anchorage *a = &r->scene->anchorage;
  for (int i = 0; r->scene->has_anchorage && a->point_count > 1 && i < a->point_count; i++) {
    char name[FH_ELEMENT];
    (void)fhi_format(name, sizeof name, "anchor point %d, %s", i + 1, fhi_item_name(r->gear, a->points[i].kind));
    p->leg[i] = add(p, FH_ELEMENT_LEG, i, name);
  }
}

static void clear(int *index, int count) {
  for (int i = 0; i < count; i++) {
    index[i] = -1;
  }
}

void fhi_parts_fill(const fhi_raise *r, fhi_parts *p) {
  memset(p, 0, sizeof *p);
  clear(p->knot, FH_MAX_STATIONS);
  clear(p->bend, FH_MAX_STATIONS);
  clear(p->lock, FH_MAX_STATIONS);
  clear(p->grip, FH_MAX_GRIPS);
  clear(p->strand, FH_MAX_STRANDS);
  clear(p->leg, FH_MAX_POINTS);
  p->anchor = add(p, FH_ELEMENT_ANCHOR, FH_BODY_ANCHOR, "anchor");
  add_legs(r, p);
  p->station = add(p, FH_ELEMENT_STATION, FH_BODY_STATION, "station");
  p->hands = add(p, FH_ELEMENT_HANDS, -1, "hands");
  p->first = p->hitch = -1;
  if (r->first != FH_FIRST_IN_RIG) {
    char name[FH_ELEMENT];
    (void)fhi_format(name, sizeof name, "tie-off of %s at the anchor", r->first_path >= 0 ? r->rig->paths[r->first_path].name : "");
    p->first = add(p, FH_ELEMENT_FIRST, -1, r->first == FH_FIRST_OUTSIDE ? "first line, not in the rig" : name);
  }
  if (r->first != FH_FIRST_OUTSIDE && r->first_path >= 0) {
    char name[FH_ELEMENT];
    (void)fhi_format(name, sizeof name, "friction hitch of %s at the anchor", r->rig->paths[r->first_path].name);
    p->hitch = add(p, FH_ELEMENT_FIRST, -1, name);
  }
  for (int path = 0; path < r->rig->path_count; path++) {
    const fh_path *line = &r->rig->paths[path];
    for (int i = 0; i < line->count; i++) {
      add_station(r, path, line->first + i, p);
    }
    for (int g = 0; g < r->rig->grip_count; g++) {
      if (r->rig->grips[g].path == path) {
        add_grip(r, g, p);
      }
    }
    add_strands(r, path, p);
  }
  p->backup = add(p, FH_ELEMENT_BACKUP, -1, "backup knot");
}
