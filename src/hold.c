// SPDX-License-Identifier: MIT
// Hands off: what every strand, capture and grip may carry while the load hangs on the captures.
// Implements model.md, section 4. More friction only widens what is possible, so the extremes over a range of friction
// stand at its high end; tensions are proportional to the weight.
#include <math.h>
#include <string.h>

#include "state.h"

typedef struct holding {
  const fh_rig *rig;
  const fhi_model *model;
  fhi_rest *rest;
  fh_check *check;
  bool highs;                                     // only the high ends that limits are held against
  double lo[FH_MAX_STRANDS], hi[FH_MAX_STRANDS];  // [1] of each strand over the weight
} holding;

// Coefficients of a pull along the haul line on a body or on a grip.
static void pull_form(const holding *h, int body, int grip, fhi_form *form) {
  const fhi_model *m = h->model;
  memset(form, 0, sizeof *form);
  for (int s = 0; s < m->strand_count; s++) {
    for (int e = 0; e < 2; e++) {
      const fhi_end *end = &m->strands[s].end[e];
      // A tended capture is a contact while raising; while holding it is the grip that it is.
      int end_grip = end->contact >= 0 ? m->contacts[end->contact].grip : end->grip;
      bool mine = grip >= 0 ? end_grip == grip : end->body == body && (end->grip < 0 || m->fixed[body]);
      form->of[s] += mine ? (e == 0 ? m->strands[s].dir : -m->strands[s].dir) : 0.0;
    }
  }
}

static double form_value(const fhi_form *form, const double *t, int n) {
  double sum = 0.0;
  for (int s = 0; s < n; s++) {
    sum += form->of[s] * t[s];
  }
  return sum;
}

// Which ends of a form can be the far one: tensions are not negative, so a form of one sign has its far end on that side.
typedef struct sides {
  bool lo, hi;
} sides;

static sides far_sides(const fhi_form *form, int n) {
  sides far = {false, false};
  for (int s = 0; s < n; s++) {
    far.lo = far.lo || form->of[s] < 0.0;
    far.hi = far.hi || form->of[s] > 0.0;
  }
  return far;
}

// A size between the extremes of a signed quantity.
static fh_band sized(const holding *h, double lo, double hi, double likely, sides far) {
  fh_band w = h->check->weight;
  double least = lo <= 0.0 && hi >= 0.0 ? 0.0 : fmin(fabs(lo), fabs(hi));
  double most = fmax(far.lo ? fabs(lo) : 0.0, far.hi ? fabs(hi) : 0.0);
  return (fh_band){w.lo * fmin(least, fabs(likely)), w.likely * fabs(likely), w.hi * fmax(most, fabs(likely))};
}

static bool magnitude(holding *h, const fhi_form *form, double likely, fh_band *out) {
  double lo = 0.0, hi = 0.0;
  sides far = far_sides(form, h->model->strand_count), ask = h->highs ? far : (sides){true, true};
  if ((ask.lo && !fhi_rest_least(h->rest, form, &lo)) || (ask.hi && !fhi_rest_most(h->rest, form, &hi))) {
    return false;
  }
  *out = sized(h, lo, hi, likely, far);
  return true;
}

// Less than a quarter turn: the resultant may be greatest where one side is at its low end.
static bool slight(const fhi_contact *k) {
  return cos(k->wrap) > 0.0;
}

static bool needs_low(const holding *h, int strand) {
  bool needs = !h->highs;
  for (int c = 0; c < h->model->contact_count; c++) {
    const fhi_contact *k = &h->model->contacts[c];
    needs = needs || ((k->before == strand || k->after == strand) && k->item >= 0 && slight(k));
  }
  return needs;
}

static bool find_strands(holding *h) {
  for (int s = 0; s < h->model->strand_count; s++) {
    fhi_form form = {{0.0}};
    form.of[s] = 1.0;
    h->lo[s] = 0.0;
    if ((needs_low(h, s) && !fhi_rest_least(h->rest, &form, &h->lo[s])) || !fhi_rest_most(h->rest, &form, &h->hi[s])) {
      return false;
    }
  }
  return true;
}

// Rope shut in between two captures may be wedged to any tension by the equations alone: it keeps at most what it carried
// while raising. All such strands are found before the first is capped, so that their order does not matter.
static bool cap_wedged(holding *h, const double *likely) {
  bool any = false;
  if (!find_strands(h)) {
    return false;
  }
  for (int s = 0; s < h->model->strand_count; s++) {
    if (isinf(h->hi[s])) {
      fhi_rest_cap(h->rest, s, fmax(h->check->strands[s].tension[FH_RAISE].hi / h->check->weight.hi, likely[s]));
      any = true;
    }
  }
  return !any || find_strands(h);
}

static void fill_strands(holding *h, const double *likely) {
  for (int s = 0; s < h->model->strand_count; s++) {
    h->check->strands[s].tension[FH_HOLD] = sized(h, h->lo[s], h->hi[s], likely[s], (sides){false, true});
  }
}

static bool fill_bodies(holding *h, const double *likely) {
  const fhi_model *m = h->model;
  for (int g = 0; g < h->rig->grip_count; g++) {
    fhi_form form;
    pull_form(h, -1, g, &form);
    fh_band *band = &h->check->grip_force[g][FH_HOLD];
    if (!magnitude(h, &form, form_value(&form, likely, m->strand_count), band)) {
      return false;
    }
    if (h->rig->grips[g].body >= FH_BODY_FIRST_GRIP) {
      h->check->bodies[h->rig->grips[g].body].force[FH_HOLD] = *band;
    }
  }
  for (int b = h->highs ? FH_BODY_STATION : FH_BODY_LOAD; b < FH_BODY_FIRST_GRIP; b++) {
    fhi_form form;
    pull_form(h, b, -1, &form);
    fh_band *band = &h->check->bodies[b].force[FH_HOLD];
    if (!magnitude(h, &form, form_value(&form, likely, m->strand_count), band)) {
      return false;
    }
  }
  return true;
}

// The resultant rises with both tensions as far as the wrap is more than a quarter turn; for less it may dip in between,
// so the low end is that of the low tensions or, below it, of the best mixture.
static void fill_contacts(holding *h) {
  const fhi_model *m = h->model;
  for (int c = 0; c < m->contact_count; c++) {
    const fhi_contact *k = &m->contacts[c];
    fh_band a = h->check->strands[k->before].tension[FH_HOLD], b = h->check->strands[k->after].tension[FH_HOLD];
    fh_band *force = &h->check->contacts[c].force[FH_HOLD];
    if (h->highs && k->item < 0) {
      continue;  // nothing there that could break
    }
    double cosine = fmax(cos(k->wrap), 0.0);
    double near_a = fmin(fmax(a.lo, b.lo * cosine), a.hi), near_b = fmin(fmax(b.lo, a.lo * cosine), b.hi);
    force->lo = fmin(fh_resultant(near_a, b.lo, k->wrap), fh_resultant(a.lo, near_b, k->wrap));
    force->likely = fh_resultant(a.likely, b.likely, k->wrap);
    force->hi = fh_resultant(a.hi, b.hi, k->wrap);
    if (slight(k)) {
      force->hi = fmax(force->hi, fmax(fh_resultant(a.hi, b.lo, k->wrap), fh_resultant(a.lo, b.hi, k->wrap)));
    }
  }
}

// The likely state: friction helps neither way.
static bool without_friction(holding *h, double *tension, double *residual) {
  double one[FHI_MAX_CONTACTS];
  const fhi_form none = {{0.0}};
  for (int c = 0; c < h->model->contact_count; c++) {
    one[c] = 1.0;
  }
  fhi_rest_begin(h->rest, 0, one);
  return fhi_rest_largest(h->rest, &none, tension, residual);
}

bool fhi_state_holding(const fhi_case *rig_case, bool highs, fh_check *check) {
  holding h = {.rig = rig_case->rig, .model = rig_case->model, .rest = rig_case->rest, .check = check, .highs = highs};
  double likely[FH_MAX_STRANDS], residual = 0.0;
  bool ok = without_friction(&h, likely, &residual);
  fhi_rest_begin(h.rest, 0, rig_case->factors->hi);
  if (!ok) {
    // Without friction nothing holds; with it something may.
    const fhi_form none = {{0.0}};
    ok = fhi_rest_largest(h.rest, &none, likely, &residual);
  }
  ok = ok && cap_wedged(&h, likely) && fill_bodies(&h, likely);
  if (ok) {
    fill_strands(&h, likely);
    fill_contacts(&h);
    check->residual = fmax(check->residual, residual);
  }
  return ok;
}
