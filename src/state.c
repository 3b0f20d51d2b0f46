// SPDX-License-Identifier: MIT
// Raising, lowering and holding with ranges. Implements model.md, section 4, for uncertain friction and weight.
//
// Why corners are enough: each tension over the weight is a quotient of two polynomials that are linear in every contact's
// ratio by itself, so with the others fixed it rises or falls all the way; its extremes over a box of ratios stand at the
// box's corners. Every pass over the lip counts as a contact of its own: strands need not have cut in alike.
#include "state.h"

#include <math.h>
#include <string.h>

#include "text.h"
#include "words.h"

// Corners are visited one by one up to 2^12; past that a fixed set of corners is sampled and the check says so.
enum { MAX_EXACT = 12, SAMPLED = 4096 };

static const double HALF_TURN = 3.14159265358979323846;  // [rad] most contacts: the resultant is the plain sum

// Smallest and largest of every quantity, per unit of weight.
typedef struct extremes {
  double strand[2][FH_MAX_STRANDS];
  double contact[2][FHI_MAX_CONTACTS];
  double body[2][FH_MAX_BODIES];
  double grip[2][FH_MAX_GRIPS];
  double residual;
} extremes;

void fhi_factors_fill(const fhi_model *model, const fh_scene *scene, fhi_factors *f) {
  for (int c = 0; c < model->contact_count; c++) {
    const fhi_contact *k = &model->contacts[c];
    if (k->kind == FHI_EDGE) {
      f->lo[c] = fhi_contact_factor(k, k->mu.lo, 0.0, scene->lip_turn.lo);
      f->likely[c] = fhi_contact_factor(k, k->mu.likely, 0.0, scene->lip_turn.likely);
      f->hi[c] = fhi_contact_factor(k, k->mu.hi, 0.0, scene->lip_turn.hi);
    } else {
      f->lo[c] = fhi_contact_factor(k, k->eta.hi, k->share.lo, k->wrap);
      f->likely[c] = fhi_contact_factor(k, k->eta.likely, k->share.likely, k->wrap);
      f->hi[c] = fhi_contact_factor(k, k->eta.lo, k->share.hi, k->wrap);
    }
  }
}

static void widen(double *lo, double *hi, double x) {
  *lo = x < *lo ? x : *lo;
  *hi = x > *hi ? x : *hi;
}

// What a set of tensions does to contacts, bodies and grips. Along the haul line pulls on bodies and grips keep their sign:
// between two corners of opposite sign there is one without any pull.
typedef struct effects {
  double contact[FHI_MAX_CONTACTS], body[FH_MAX_BODIES], grip[FH_MAX_GRIPS];
} effects;

static void find_effects(const fh_rig *rig, const fhi_model *m, const fhi_shape *shape, const double *wrap, const double *t,
                         effects *e) {
  double x[FH_MAX_BODIES], y[FH_MAX_BODIES], gx[FH_MAX_GRIPS], gy[FH_MAX_GRIPS];
  memset(x, 0, (size_t)m->body_count * sizeof *x);
  memset(y, 0, (size_t)m->body_count * sizeof *y);
  memset(gx, 0, (size_t)rig->grip_count * sizeof *gx);
  memset(gy, 0, (size_t)rig->grip_count * sizeof *gy);
  for (int c = 0; c < m->contact_count; c++) {
    const fhi_contact *k = &m->contacts[c];
    double a = t[k->before], b = t[k->after];
    e->contact[c] = k->slack ? 0.0 : wrap[c] >= HALF_TURN ? a + b : fh_resultant(a, b, wrap[c]);
  }
  for (int s = 0; s < m->strand_count; s++) {
    for (int i = 0; i < 2; i++) {
      const fhi_end *end = &m->strands[s].end[i];
      double px = t[s] * (i == 0 ? shape->along[s] : -shape->along[s]);
      double py = t[s] * (i == 0 ? shape->across[s] : -shape->across[s]);
      if (end->grip >= 0) {
        gx[end->grip] += px;
        gy[end->grip] += py;
      } else if (end->body >= 0) {
        x[end->body] += px;
        y[end->body] += py;
      }
    }
  }
  for (int b = 0; b < m->body_count; b++) {
    e->body[b] = y[b] == 0.0 ? x[b] : sqrt(x[b] * x[b] + y[b] * y[b]);
  }
  for (int g = 0; g < rig->grip_count; g++) {
    e->grip[g] = gy[g] == 0.0 ? gx[g] : sqrt(gx[g] * gx[g] + gy[g] * gy[g]);
  }
}

static void start_extremes(extremes *x) {
  for (int i = 0; i < FH_MAX_STRANDS; i++) {
    x->strand[0][i] = x->contact[0][i] = (double)INFINITY;
    x->strand[1][i] = x->contact[1][i] = 0.0;
  }
  for (int i = 0; i < FH_MAX_BODIES; i++) {
    x->body[0][i] = (double)INFINITY;
    x->body[1][i] = -(double)INFINITY;
  }
  for (int i = 0; i < FH_MAX_GRIPS; i++) {
    x->grip[0][i] = (double)INFINITY;
    x->grip[1][i] = -(double)INFINITY;
  }
  x->residual = 0.0;
}

static void add_extremes(const fh_rig *rig, const fhi_model *m, const double *t, const effects *e, double residual,
                         extremes *x) {
  for (int s = 0; s < m->strand_count; s++) {
    widen(&x->strand[0][s], &x->strand[1][s], t[s]);
  }
  for (int c = 0; c < m->contact_count; c++) {
    widen(&x->contact[0][c], &x->contact[1][c], e->contact[c]);
  }
  for (int b = 0; b < m->body_count; b++) {
    widen(&x->body[0][b], &x->body[1][b], e->body[b]);
  }
  for (int g = 0; g < rig->grip_count; g++) {
    widen(&x->grip[0][g], &x->grip[1][g], e->grip[g]);
  }
  x->residual = fmax(x->residual, residual);
}

// One set of contact ratios worked out. Efficiencies and bending shares ride along for the plan view, where wraps change.
typedef struct corner {
  double factor[FHI_MAX_CONTACTS], eta[FHI_MAX_CONTACTS], share[FHI_MAX_CONTACTS];
} corner;

static void set_corner(const fhi_model *m, const fhi_factors *f, int contact, int which, corner *c) {
  const fh_number *eta = &m->contacts[contact].eta, *share = &m->contacts[contact].share;
  c->factor[contact] = which < 0 ? f->lo[contact] : which > 0 ? f->hi[contact] : f->likely[contact];
  c->eta[contact] = which < 0 ? eta->hi : which > 0 ? eta->lo : eta->likely;
  c->share[contact] = which < 0 ? share->lo : which > 0 ? share->hi : share->likely;
}

typedef struct job {
  const fh_rig *rig;
  const fhi_model *model;
  const fhi_motion *motion;
  int sense;
  fhi_rest *rest;         // when a contact rests while the load moves, else NULL
  fhi_shape shape;        // of the last solve
  double wrap[FHI_MAX_CONTACTS];
  double angle;  // [rad] of the pull
  double tension[FH_MAX_STRANDS];
  double residual;
  bool wedged;            // friction where the rope rests could hold against any pull
} job;

// Every quantity's own smallest and largest value where friction leaves them open.
static fh_outcome solve_resting(job *j, const corner *c, extremes *x) {
  const fhi_model *m = j->model;
  effects low = {{0}, {0}, {0}}, high = {{0}, {0}, {0}};
  double lo[FH_MAX_STRANDS], hi[FH_MAX_STRANDS];
  fhi_form form;
  fhi_rest_begin(j->rest, j->sense, c->factor);
  for (int s = 0; s < m->strand_count; s++) {
    memset(&form, 0, sizeof form);
    form.of[s] = 1.0;
    if (!fhi_rest_extremes(j->rest, &form, &lo[s], &hi[s])) {
      return FH_OUTCOME_INFEASIBLE;
    }
  }
  j->wedged = isinf(hi[m->hand_strand]);
  if (j->wedged) {
    return FH_OUTCOME_INFEASIBLE;
  }
  for (int k = 0; k < m->contact_count; k++) {
    const fhi_contact *ct = &m->contacts[k];
    low.contact[k] = ct->slack ? 0.0 : fh_resultant(lo[ct->before], lo[ct->after], j->wrap[k]);
    high.contact[k] = ct->slack ? 0.0 : fh_resultant(hi[ct->before], hi[ct->after], j->wrap[k]);
  }
  for (int b = 0; b < m->body_count + j->rig->grip_count; b++) {
    int grip = b - m->body_count;
    double a, z;
    memset(&form, 0, sizeof form);
    for (int s = 0; s < m->strand_count; s++) {
      for (int i = 0; i < 2; i++) {
        const fhi_end *end = &m->strands[s].end[i];
        bool mine = grip >= 0 ? end->grip == grip : end->body == b && end->grip < 0;
        form.of[s] += mine ? (i == 0 ? j->shape.along[s] : -j->shape.along[s]) : 0.0;
      }
    }
    if (!fhi_rest_extremes(j->rest, &form, &a, &z)) {
      return FH_OUTCOME_INFEASIBLE;
    }
    *(grip >= 0 ? &low.grip[grip] : &low.body[b]) = a;
    *(grip >= 0 ? &high.grip[grip] : &high.body[b]) = z;
  }
  add_extremes(j->rig, m, lo, &low, 0.0, x);
  add_extremes(j->rig, m, hi, &high, 0.0, x);
  memset(&form, 0, sizeof form);
  form.of[m->hand_strand] = 1.0;
  return fhi_rest_largest(j->rest, &form, j->tension, &j->residual) ? FH_OUTCOME_SOLVED : FH_OUTCOME_INFEASIBLE;
}

static bool has_dead(const fhi_model *m, const fhi_motion *motion) {
  for (int s = 0; s < m->strand_count; s++) {
    if (motion->dead_by[s] >= 0) {
      return true;
    }
  }
  return false;
}

// Dead strands at their least, at their most, and last as without friction there: the likely state. Without any it is all one.
static fh_outcome solve_dead(job *j, const corner *c, extremes *x) {
  static const int DEAD[] = {-1, 1, 0};
  const int first = has_dead(j->model, j->motion) ? 0 : 2;
  effects e;
  fh_outcome outcome = fhi_force_solve(j->model, j->motion, j->sense, c->factor, &j->shape, DEAD[first], j->tension, &j->residual);
  for (int i = first; i < 3 && outcome == FH_OUTCOME_SOLVED; i++) {
    if (i > first) {
      fhi_force_dead(j->model, j->motion, j->sense, c->factor, &j->shape, DEAD[i], j->tension, &j->residual);
    }
    find_effects(j->rig, j->model, &j->shape, j->wrap, j->tension, &e);
    add_extremes(j->rig, j->model, j->tension, &e, j->residual, x);
  }
  return outcome;
}

static fh_outcome solve_corner(job *j, const corner *c, extremes *x) {
  const fhi_model *m = j->model;
  effects e;
  fh_outcome outcome;
  if (j->rest != NULL) {
    return solve_resting(j, c, x);
  }
  if (m->hand_angle != 0.0 && j->sense > 0) {
    fhi_plan_view v;
    fhi_plan_view_solve(m, j->motion, c->factor, c->eta, c->share, j->angle, &v);
    outcome = v.outcome;
    memcpy(j->tension, v.tension, sizeof j->tension);
    memcpy(j->wrap, v.wrap, sizeof j->wrap);
    j->shape = v.shape;
    j->residual = v.residual;
    if (outcome == FH_OUTCOME_SOLVED) {
      find_effects(j->rig, m, &j->shape, j->wrap, j->tension, &e);
      add_extremes(j->rig, m, j->tension, &e, j->residual, x);
    }
    return outcome;
  }
  return solve_dead(j, c, x);
}

// A small generator of our own: the same corners on every machine (xorshift64*, Vigna 2016).
static uint64_t next_random(uint64_t *state) {
  *state ^= *state >> 12;
  *state ^= *state << 25;
  *state ^= *state >> 27;
  return *state * 2685821657736338717ULL;
}

// All corners of the open contacts, or a fixed sample of them. @return the first outcome that is not SOLVED
static fh_outcome visit_corners(job *j, const fhi_factors *f, corner *c, extremes *x, bool *exact) {
  const fhi_model *m = j->model;
  int open[FHI_MAX_CONTACTS], n = 0;
  uint64_t random = 0x9e3779b97f4a7c15ULL;
  int limit = j->rest != NULL ? 4 : m->hand_angle != 0.0 ? 7 : MAX_EXACT;  // those cost a search a corner
  for (int k = 0; k < m->contact_count; k++) {
    const fhi_contact *contact = &m->contacts[k];
    bool bends = m->hand_angle != 0.0 && contact->share.hi > contact->share.lo;  // its share counts at an angle only
    if (!contact->slack && (f->hi[k] > f->lo[k] || bends)) {
      open[n++] = k;
    }
  }
  bool all = n <= limit;
  *exact = all && m->hand_angle == 0.0 && (j->rest == NULL || n == 0);
  int64_t corners = n == 0 ? 0 : all ? (int64_t)1 << n : limit == MAX_EXACT ? SAMPLED : (int64_t)1 << limit;
  for (int64_t i = 0; i < corners; i++) {
    for (int k = 0; k < n; k++) {
      // A sample starts with everything easy and everything hard.
      bool high = all ? ((i >> k) & 1) != 0 : i < 2 ? i == 1 : (next_random(&random) >> 63) != 0;
      set_corner(m, f, open[k], high ? 1 : -1, c);
    }
    fh_outcome outcome = solve_corner(j, c, x);
    if (outcome != FH_OUTCOME_SOLVED) {
      return outcome;
    }
  }
  return FH_OUTCOME_SOLVED;
}

static fh_band scaled(fh_band weight, double lo, double likely, double hi) {
  fh_band b = {weight.lo * lo, weight.likely * likely, weight.hi * hi};
  // Rounding only: the likely value lies between the extremes.
  b.lo = fmin(b.lo, b.likely);
  b.hi = fmax(b.hi, b.likely);
  return b;
}

// The size of a pull that has a sign.
static fh_band sized(fh_band weight, double lo, double likely, double hi) {
  double least = lo <= 0.0 && hi >= 0.0 ? 0.0 : fmin(fabs(lo), fabs(hi));
  return scaled(weight, least, fabs(likely), fmax(fabs(lo), fabs(hi)));
}

static void write_bands(const job *j, const effects *likely, const extremes *x, int state, fh_check *check) {
  const fhi_model *m = j->model;
  for (int s = 0; s < m->strand_count; s++) {
    check->strands[s].tension[state] = scaled(check->weight, x->strand[0][s], j->tension[s], x->strand[1][s]);
  }
  for (int c = 0; c < m->contact_count; c++) {
    check->contacts[c].force[state] = scaled(check->weight, x->contact[0][c], likely->contact[c], x->contact[1][c]);
  }
  for (int b = 0; b < m->body_count; b++) {
    check->bodies[b].force[state] = sized(check->weight, x->body[0][b], likely->body[b], x->body[1][b]);
  }
  for (int g = 0; g < j->rig->grip_count; g++) {
    check->grip_force[g][state] = sized(check->weight, x->grip[0][g], likely->grip[g], x->grip[1][g]);
    // What a grip body gets from the rope that it grips is what the grip holds.
    int body = j->rig->grips[g].body;
    if (body >= FH_BODY_FIRST_GRIP) {
      check->bodies[body].force[state] = check->grip_force[g][state];
    }
  }
}

// In words: which strand would have to push, or that the equations have no answer.
static void say_unsolved(const job *j, fh_outcome outcome, fh_check *check) {
  const fhi_model *m = j->model;
  fhi_copy(check->why, sizeof check->why, fhi_say(m->language, "the forces have no single answer"));
  for (int s = 0; s < m->strand_count && outcome == FH_OUTCOME_INFEASIBLE; s++) {
    if (j->rest != NULL) {
      fhi_copy(check->why, sizeof check->why,
               fhi_say(m->language, j->wedged ? "the rope can wedge where it rests: friction there may hold against any pull"
                                              : "no tensions fit: friction cannot hold the rope where it rests"));
    } else if (j->tension[s] < 0.0) {
      fhi_format(check->why, sizeof check->why, fhi_say(m->language, "the strand from %s to %s would have to push: it goes slack"),
                 fhi_end_said(m->language, j->rig, m->strands[s].end[0].body), fhi_end_said(m->language, j->rig, m->strands[s].end[1].body));
      return;
    }
  }
}

// The same at both ends of the pull's angle. What lies between them the likely angle stands for.
static fh_outcome visit_angles(job *j, const fhi_factors *f, corner *c, extremes *x) {
  const double ends[] = {j->model->hand_angles.lo, j->model->hand_angles.hi};
  bool exact = false;
  fh_outcome outcome = FH_OUTCOME_SOLVED;
  for (int i = 0; i < 2 && outcome == FH_OUTCOME_SOLVED && ends[1] > ends[0]; i++) {
    j->angle = ends[i];
    outcome = visit_corners(j, f, c, x, &exact);
    for (int k = 0; k < j->model->contact_count; k++) {
      set_corner(j->model, f, k, 0, c);
    }
    outcome = outcome == FH_OUTCOME_SOLVED ? solve_corner(j, c, x) : outcome;
  }
  j->angle = j->model->hand_angle;
  return outcome;
}

fh_outcome fhi_state_moving(const fhi_case *rig_case, int sense, bool ranges, fh_check *check) {
  const fhi_model *model = rig_case->model;
  const fhi_factors *factors = rig_case->factors;
  job j = {.rig = rig_case->rig, .model = model, .motion = rig_case->motion, .sense = sense, .residual = (double)NAN,
           .angle = model->hand_angle};
  j.rest = j.motion->coupled ? rig_case->rest : NULL;
  extremes x;
  corner c;
  effects likely;
  fhi_shape_in_line(model, &j.shape);
  start_extremes(&x);
  for (int k = 0; k < model->contact_count; k++) {
    j.wrap[k] = model->contacts[k].wrap;
    set_corner(model, factors, k, 0, &c);
  }

  bool exact = true;
  fh_outcome outcome = solve_corner(&j, &c, &x);
  const job settled = j;  // the likely tensions
  if (outcome == FH_OUTCOME_SOLVED && ranges) {
    outcome = visit_corners(&j, factors, &c, &x, &exact);
    outcome = outcome == FH_OUTCOME_SOLVED && sense > 0 && j.rest == NULL ? visit_angles(&j, factors, &c, &x) : outcome;
  }
  if (outcome == FH_OUTCOME_SOLVED) {
    j = settled;
    find_effects(j.rig, model, &j.shape, j.wrap, j.tension, &likely);
    write_bands(&j, &likely, &x, sense > 0 ? FH_RAISE : FH_LOWER, check);
    for (int k = 0; k < model->contact_count && sense > 0; k++) {
      check->contacts[k].wrap = j.wrap[k];  // less than in line where the pull has drawn a block aside
    }
    check->residual = fmax(check->residual, fmax(x.residual, j.residual));
    check->interval_exact = check->interval_exact && exact;
  } else if (sense > 0) {
    say_unsolved(&j, outcome, check);
  }
  return outcome;
}
