// SPDX-License-Identifier: MIT
// Does the anchor hold: hauling, holding, at a reset's jolt, in a caught drop, and when one of its points lets go?
// Implements model.md, section 10, with the catches of section 6.
#include "anchor.h"

#include <math.h>
#include <string.h>

#include "firnhaul_rescue.h"
#include "memory.h"

static const double G = 9.80665;      // [m/s^2] standard gravity
static const double EXAMPLE_DROP = 1.0;  // [m] where no rig says how much slack there is: a drop to compare anchors by

static const char *const NAMES[FH_ANCHOR_CASES] = {"hauling", "holding", "a reset's jolt", "a caught drop"};

const char *fh_anchor_case_name(int which) {
  return which >= 0 && which < FH_ANCHOR_CASES ? NAMES[which] : "";
}

typedef struct job {
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_check *check;
  fh_anchorage a;
  fh_anchor *out;
} job;

static fh_band weight_of(const fh_scene *scene) {
  fh_band m = fh_number_band(scene->load_mass);
  return (fh_band){m.lo * G, m.likely * G, m.hi * G};
}

// Legs at the low, likely and high pull, and each point's margins.
static fh_status legs_of(job *j, int gone, fh_band pull, fh_band *leg) {
  double at[3] = {pull.lo, pull.likely, pull.hi};
  double force[3][FH_MAX_POINTS];
  for (int e = 0; e < 3; e++) {
    fh_legs legs;
    fh_status status = fh_legs_solve(&j->a, gone, fmax(at[e], 1.0), &legs);
    if (status != FH_OK) {
      return status;
    }
    j->out->residual = fmax(j->out->residual, legs.residual);
    memcpy(force[e], legs.force, sizeof legs.force);
  }
  for (int i = 0; i < j->a.point_count; i++) {
    leg[i].lo = fmin(force[0][i], fmin(force[1][i], force[2][i]));
    leg[i].likely = force[1][i];
    leg[i].hi = fmax(force[0][i], fmax(force[1][i], force[2][i]));
  }
  return FH_OK;
}

static double ratio(double holds, double force) {
  return force > 0.0 ? holds / force : (double)INFINITY;
}

static fh_status fill_case(job *j, int which, fh_band pull, double fall) {
  fh_anchor_case *c = &j->out->cases[which];
  c->pull = pull;
  c->fall = fall;
  c->known = true;
  fh_status status = legs_of(j, -1, pull, c->leg);
  for (int i = 0; i < j->a.point_count && status == FH_OK; i++) {
    const fh_band *holds = &j->out->hold[i].holds;
    c->margin[i] = ratio(holds->lo, c->leg[i].hi);
    c->likely[i] = ratio(holds->likely, c->leg[i].likely);
    c->weakest = c->margin[i] < c->margin[c->weakest] ? i : c->weakest;
  }
  j->out->worst_margin = fmin(j->out->worst_margin, c->margin[c->weakest]);
  return status;
}

static int load_rope(const job *j) {
  return j->check != NULL && j->scene->has_rig && j->scene->rig.path_count > 0 ? j->scene->rig.paths[0].rope
         : j->scene->rope_count > 0                                            ? 0
                                                                               : -1;
}

// The load falls so far onto rope that runs to the anchor. The lip is left out, which is on the safe side.
static fh_band caught(const job *j, double fall) {
  fh_band w = weight_of(j->scene), m = fh_rope_fall_modulus(j->scene, j->gear, load_rope(j));
  double near = j->scene->depth.lo + j->scene->station_at.lo, far = j->scene->depth.hi + j->scene->anchor_at.hi;
  double mid = j->scene->depth.likely + j->scene->anchor_at.likely;
  return (fh_band){fh_rope_catch(w.lo, m.lo, fall, far), fh_rope_catch(w.likely, m.likely, fall, mid), fh_rope_catch(w.hi, m.hi, fall, near)};
}

// Rope that a capture of the rig loses before it bites, at most.
static double set_back(const job *j) {
  double most = 0.0;
  const fh_rig *rig = &j->scene->rig;
  for (int s = 0; j->check != NULL && s < rig->station_count; s++) {
    fh_number n = fh_gear_figure(j->gear, rig->stations[s].item, "set_back_m", NULL);
    most = rig->stations[s].kind == FH_RUN && fh_number_is_set(n) ? fmax(most, n.hi) : most;
  }
  for (int g = 0; j->check != NULL && g < rig->grip_count; g++) {
    fh_number n = fh_gear_figure(j->gear, rig->grips[g].item, "set_back_m", NULL);
    most = rig->grips[g].body < FH_BODY_FIRST_GRIP && fh_number_is_set(n) ? fmax(most, n.hi) : most;
  }
  return most;
}

static double slack_of(const job *j) {
  double most = 0.0;
  for (int s = 0; j->check != NULL && s < j->scene->rig.station_count; s++) {
    fh_number n = j->scene->rig.stations[s].slack;
    most = fh_number_is_set(n) ? fmax(most, n.hi) : most;
  }
  return most > 0.0 ? most : EXAMPLE_DROP;
}

static fh_band on_anchor(const fh_check *check, int state) {
  const fh_band *a = &check->bodies[FH_BODY_STATION].force[state], *b = &check->bodies[FH_BODY_ANCHOR].force[state];
  return (fh_band){a->lo + b->lo, a->likely + b->likely, a->hi + b->hi};
}

static fh_status fill_cases(job *j) {
  fh_band weight = weight_of(j->scene);
  bool rig = j->check != NULL && j->check->outcome == FH_OUTCOME_SOLVED;
  fh_status status = FH_OK;
  j->out->from_rig = rig;
  j->out->worst_margin = (double)INFINITY;
  if (rig) {
    status = fill_case(j, FH_ANCHOR_HAUL, on_anchor(j->check, FH_RAISE), 0.0);
  }
  fh_band hold = rig ? on_anchor(j->check, FH_HOLD) : weight;
  if (status == FH_OK && isfinite(hold.hi)) {
    status = fill_case(j, FH_ANCHOR_HOLD, hold, 0.0);
  }
  double back = set_back(j);
  if (status == FH_OK && rig && back > 0.0) {
    status = fill_case(j, FH_ANCHOR_JOLT, caught(j, back), back);
  }
  double drop = slack_of(j);
  return status != FH_OK ? status : fill_case(j, FH_ANCHOR_DROP, caught(j, drop), drop);
}

// What pulls when a point lets go: the crew hauls, or the load hangs.
static fh_status fill_losses(job *j) {
  const fh_anchor_case *c = &j->out->cases[j->out->cases[FH_ANCHOR_HAUL].known ? FH_ANCHOR_HAUL : FH_ANCHOR_HOLD];
  fh_status status = FH_OK;
  for (int i = 0; i < j->a.point_count && status == FH_OK; i++) {
    fh_anchor_loss *l = &j->out->loss[i];
    fh_legs before, after;
    double pull = fmax(c->pull.likely, 1.0);
    status = fh_legs_solve(&j->a, -1, pull, &before);
    status = status != FH_OK ? status : fh_legs_solve(&j->a, i, pull, &after);
    if (status != FH_OK) {
      return status;
    }
    l->held = after.held;
    for (int k = 0; k < j->a.point_count; k++) {
      l->margin[k] = (double)NAN;
    }
    if (!l->held) {
      continue;
    }
    // The load goes down by as much as the meeting place, no less than nothing. A hauling pull above the peak stays.
    l->moves = fmax(0.0, before.x - after.x);
    l->peak = caught(j, l->moves);
    l->peak = (fh_band){fmax(l->peak.lo, c->pull.lo), fmax(l->peak.likely, c->pull.likely), fmax(l->peak.hi, c->pull.hi)};
    status = legs_of(j, i, l->peak, l->leg);
    l->worst = (double)INFINITY;
    for (int k = 0; k < j->a.point_count && status == FH_OK; k++) {
      if (k != i) {
        l->margin[k] = ratio(j->out->hold[k].holds.lo, l->leg[k].hi);
        l->worst = fmin(l->worst, l->margin[k]);
      }
    }
  }
  return status;
}

fh_status fh_anchor_create(const fh_scene *scene, const fh_gear *gear, const fh_check *check, fh_anchor **out) {
  if (scene == NULL || gear == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  job *j = fhi_alloc(1, sizeof *j);
  fh_anchor *made = fhi_alloc(1, sizeof *made);
  fh_status status = j == NULL || made == NULL ? FH_ERR_MEMORY : FH_OK;
  if (status == FH_OK) {
    *j = (job){.scene = scene, .gear = gear, .check = check, .out = made};
    status = fh_anchorage_of(scene, gear, &j->a) ? FH_OK : FH_ERR_ARG;
  }
  if (status == FH_OK) {
    made->points = j->a.point_count;
    for (int i = 0; i < made->points; i++) {
      made->hold[i] = fh_point_hold(scene, gear, i);
    }
    status = fill_cases(j);
  }
  status = status != FH_OK ? status : fill_losses(j);
  status = status != FH_OK ? status : fhi_anchor_chances(scene, gear, &j->a, made);
  fhi_free(j);
  if (status != FH_OK) {
    fhi_free(made);
    return status;
  }
  *out = made;
  return FH_OK;
}

void fh_anchor_destroy(fh_anchor *anchor) {
  fhi_free(anchor);
}
