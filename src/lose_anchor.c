// SPDX-License-Identifier: MIT
// The anchor in a loss: what its points bear at the peak, and what happens when one of several lets go. Model sections 9 and 10.
#include <math.h>
#include <string.h>

#include "anchor.h"
#include "lose.h"
#include "report.h"
#include "text.h"

static void add_over(fhi_caught *c, const char *name) {
  for (int i = 0; i < c->over_count; i++) {
    if (strcmp(c->over[i], name) == 0) {
      return;
    }
  }
  if (c->over_count < FH_MAX_OVER) {
    (void)fhi_copy(c->over[c->over_count++], FH_ELEMENT, name);
  }
}

// How legs share a pull depends on how hard it is, but little: it is worked out once, for a caught fall.
static const double HARD_PULL = 3000.0;  // [N]

void fhi_raise_points(fhi_raise *r) {
  const fh_anchorage *a = &r->scene->anchorage;
  for (int i = 0; r->scene->has_anchorage && i < a->point_count; i++) {
    r->point_holds[i] = fh_point_hold(r->scene, r->gear, i).holds.lo;
  }
  for (int gone = -1; r->scene->has_anchorage && gone < a->point_count; gone++) {
    fh_legs legs;
    bool known = fh_legs_solve(a, gone, HARD_PULL, &legs) == FH_OK && legs.held;
    for (int i = 0; i < a->point_count; i++) {
      r->leg_share[gone + 1][i] = known && i != gone ? legs.force[i] / HARD_PULL : 0.0;
    }
  }
}

// Without points the anchor is one thing, and so is its limit.
double fhi_anchor_least(const fhi_raise *r, int gone) {
  const fh_scene *s = r->scene;
  double least = (double)INFINITY;
  for (int i = 0; s->has_anchorage && i < s->anchorage.point_count; i++) {
    double share = r->leg_share[gone + 1][i];
    least = share > 0.0 && r->point_holds[i] > 0.0 ? fmin(least, r->point_holds[i] / share) : least;
  }
  if (s->has_anchorage) {
    return least;
  }
  fh_number holds = s->anchor_holds;
  if (!fh_number_is_set(holds) && s->anchor_kind >= 0) {
    holds = fh_gear_figure(r->gear, s->anchor_kind, "holds_N", NULL);
  }
  return fh_number_is_set(holds) ? holds.lo : least;
}

void fhi_anchor_limits(const fhi_raise *r, int gone, double pull, fhi_caught *c) {
  const fh_anchorage *a = &r->scene->anchorage;
  if (!r->scene->has_anchorage) {
    if (pull > fhi_anchor_least(r, -1)) {
      add_over(c, "anchor, with the station");
    }
    return;
  }
  for (int i = 0; i < a->point_count; i++) {
    char name[FH_ELEMENT];
    if (pull * r->leg_share[gone + 1][i] > r->point_holds[i]) {
      (void)fhi_format(name, sizeof name, "anchor point %d, %s", i + 1, fhi_item_name(r->gear, a->points[i].kind));
      add_over(c, name);
    }
  }
}

double fhi_anchor_moves(const fhi_raise *r, int gone, double pull) {
  const fh_anchorage *a = &r->scene->anchorage;
  fh_legs before, after;
  if (!(pull > 0.0) || fh_legs_solve(a, -1, pull, &before) != FH_OK || fh_legs_solve(a, gone, pull, &after) != FH_OK ||
      !after.held) {
    return (double)INFINITY;
  }
  return fmax(0.0, before.x - after.x);
}
