// SPDX-License-Identifier: MIT
// How much of a team's rope is free when one of them hangs, and how far apart may they walk so that it is enough?
// Model: the taught rule that each member's spare is twice the spacing [plattner-wuertl], written out with knots, tie-ins,
// coils and the anchor's distance.
//
// n people at the spacing s: (n - 1) s of rope between them, k knots of one metre in each span. Someone at an end hangs s
// below the edge, at worst. A drop loop needs the way down and back, 2 s; a rope end sent down needs s and the hauling part.
// The people between the anchor and the far end unclip: their spans, n - 2, join the far end's coils. The span to the load
// stays where it is. The rule leaves out the way from the lip to the anchor; figures named `anchored` add it.
#include <math.h>
#include <string.h>

#include "budget.h"

static bool not_negative(double x) {
  return x >= 0.0 && x < (double)INFINITY;  // false for NaN
}

static bool not_negative_or_unset(double x) {
  return isnan(x) || not_negative(x);
}

fh_budget_in fh_budget_in_default(void) {
  return (fh_budget_in){.length = (double)NAN,
                        .people = 2,
                        .spacing = (double)NAN,
                        .coils_first = (double)NAN,
                        .coils_last = (double)NAN,
                        .knots = 0,
                        .per_knot = 1.0,
                        .per_tie = 0.0,
                        .set_back = 0.0,
                        .stroke = 2.0};
}

fh_status fh_budget_from_scene(const fh_scene *scene, fh_budget_in *out) {
  if (scene == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_budget_in in = fh_budget_in_default();
  for (int i = scene->rope_count - 1; i >= 0; i--) {
    if (fh_number_is_set(scene->ropes[i].length)) {
      in.length = scene->ropes[i].length.lo;
      in.knots = scene->ropes[i].knots;
    }
  }
  if (isnan(in.length)) {
    return FH_ERR_ARG;
  }
  in.set_back = scene->anchor_at.likely;
  if (scene->has_team && scene->team.people_count >= 2) {
    const fh_team *t = &scene->team;
    in.people = t->people_count;
    in.spacing = (t->people[in.people - 1].behind.likely - t->people[0].behind.likely) / (in.people - 1);
    in.knots = t->knot_count > 0 ? t->knot_count : in.knots;
  }
  *out = in;
  return FH_OK;
}

static bool fits(const fh_budget_in *in) {
  return in != NULL && in->length > 0.0 && in->length < (double)INFINITY && in->people >= 2 && in->people <= FH_MAX_PEOPLE &&
         not_negative_or_unset(in->spacing) && not_negative_or_unset(in->coils_first) &&
         not_negative_or_unset(in->coils_last) && in->knots >= 0 && in->knots <= 100 && not_negative(in->per_knot) &&
         not_negative(in->per_tie) && not_negative(in->set_back) && not_negative(in->stroke);
}

// Rope that is neither between people nor in knots and tie-ins.
static double free_rope(const fh_budget_in *in, double spacing) {
  return in->length - (in->people - 1) * (spacing + in->knots * in->per_knot) - in->people * in->per_tie;
}

// How the free rope lies at the two ends: as stated, the rest to the other end; unstated, half and half.
static void share(const fh_budget_in *in, double free_all, double *first, double *last) {
  double all = fmax(free_all, 0.0);
  if (isnan(in->coils_first) && isnan(in->coils_last)) {
    *first = *last = 0.5 * all;
  } else if (isnan(in->coils_first)) {
    *last = fmin(in->coils_last, all);
    *first = all - *last;
  } else if (isnan(in->coils_last)) {
    *first = fmin(in->coils_first, all);
    *last = all - *first;
  } else {
    *first = fmin(in->coils_first, all);
    *last = fmin(in->coils_last, all - *first);
  }
}

static fh_budget_end end_of(const fh_budget_in *in, double spare, double spacing) {
  fh_budget_end e = {.spare = spare};
  // The other people's spans join in: their knots are opened.
  e.usable = spare + (in->people - 2) * (spacing + in->knots * in->per_knot);
  e.loop_needs = 2.0 * spacing;
  e.raise_needs = spacing + in->set_back + 3.0 * in->stroke;
  e.loop_missing = fmax(0.0, e.loop_needs - e.usable);
  e.loop_missing_anchored = fmax(0.0, e.loop_needs + in->set_back - e.usable);
  e.raise_missing = fmax(0.0, e.raise_needs - e.usable);
  return e;
}

// Who counts: both ends, or only the last one's rope.
typedef enum need { LOOP_BOTH, LOOP_ANCHORED, LOOP_LAST, RAISE_BOTH } need;

static double missing_at(const fh_budget_end *e, need what) {
  return what == RAISE_BOTH ? e->raise_missing : what == LOOP_ANCHORED ? e->loop_missing_anchored : e->loop_missing;
}

static bool enough(const fh_budget_in *in, double spacing, need what) {
  double first, last, all = free_rope(in, spacing);
  if (what == LOOP_LAST) {
    first = 0.0;
    last = fmax(all, 0.0);
  } else {
    share(in, all, &first, &last);
  }
  fh_budget_end a = end_of(in, first, spacing), b = end_of(in, last, spacing);
  double missing = missing_at(&b, what);
  if (what != LOOP_LAST) {
    missing = fmax(missing, missing_at(&a, what));
  }
  return all >= 0.0 && missing <= 1e-12;
}

// What is missing grows with the spacing (each span takes rope off the ends faster than it gives it back), so the border
// is found by halving: 60 halvings leave 1e-18 of the rope. Rounding of a few sums may miss by 1e-12 m.
static double widest(const fh_budget_in *in, need what) {
  double lo = 0.0, hi = in->length;
  if (!enough(in, lo, what)) {
    return 0.0;
  }
  for (int i = 0; i < 60; i++) {
    double mid = 0.5 * (lo + hi);
    *(enough(in, mid, what) ? &lo : &hi) = mid;
  }
  return lo;
}

fh_status fhi_budget_lie(const fh_budget_in *in, fh_budget_out *out) {
  if (!fits(in) || out == NULL) {
    return FH_ERR_ARG;
  }
  memset(out, 0, sizeof *out);
  out->widest_loop = out->widest_loop_anchored = out->widest_loop_last = out->widest_raise = (double)NAN;
  out->in_knots = (in->people - 1) * in->knots * in->per_knot;
  out->in_ties = in->people * in->per_tie;
  out->spans = (in->people - 1) * in->spacing;  // NaN without a spacing, and so is all that follows
  out->free_rope = free_rope(in, in->spacing);
  double first = (double)NAN, last = (double)NAN;
  if (!isnan(in->spacing)) {
    share(in, out->free_rope, &first, &last);
  }
  out->first = end_of(in, first, in->spacing);
  out->last = end_of(in, last, in->spacing);
  if (isnan(in->spacing)) {
    out->first.loop_missing = out->first.loop_missing_anchored = out->first.raise_missing = (double)NAN;
    out->last.loop_missing = out->last.loop_missing_anchored = out->last.raise_missing = (double)NAN;
    return FH_OK;
  }
  out->loop_enough = enough(in, in->spacing, LOOP_BOTH);
  out->raise_enough = enough(in, in->spacing, RAISE_BOTH);
  return FH_OK;
}

fh_status fh_budget(const fh_budget_in *in, fh_budget_out *out) {
  fh_status status = fhi_budget_lie(in, out);
  if (status == FH_OK) {
    out->widest_loop = widest(in, LOOP_BOTH);
    out->widest_loop_anchored = widest(in, LOOP_ANCHORED);
    out->widest_loop_last = widest(in, LOOP_LAST);
    out->widest_raise = widest(in, RAISE_BOTH);
  }
  return status;
}
