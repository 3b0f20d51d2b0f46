// SPDX-License-Identifier: MIT
// One block of samples of a rig: what the unknowns are, what the hand then pulls, what the crew can, and which limits break.
// Implements model.md, sections 4, 8 and 12. A sample's bits depend on its number alone.
#include <math.h>
#include <string.h>

#include "lanes.h"
#include "odds.h"
#include "sample.h"

static const double G = 9.80665;        // [m/s^2] standard gravity
static const double MOST_MARGIN = 20.0; // [1] more makes no difference to anyone
static const double PI = 3.14159265358979323846;

void fhi_odds_draw(const fhi_odds *o, const fhi_sampler *sampler, int dim0, uint32_t block, fhi_odds_scratch *s) {
  for (int i = 0; i < o->unknowns; i++) {
    fhi_sampler_block(sampler, dim0 + i, block, s->u);
    fhi_number_lanes(o->unknown[i].number, o->cut_lo[i], o->cut_hi[i], s->u, FHI_LANES, s->x[i]);
  }
}

static double value(const fhi_odds_scratch *s, fhi_source source, int lane) {
  return source.unknown >= 0 ? s->x[source.unknown][lane] : source.value;
}

// ---------------------------------------------------------------------------------------------------- contacts

static void edge_group(const fhi_group *g, const fhi_odds_scratch *s, double *out) {
  double power[FHI_LANES];
  for (int l = 0; l < FHI_LANES; l++) {
    power[l] = value(s, g->mu_or_eta, l) * value(s, g->turn, l);
  }
  fhi_lanes_exp(power, FHI_LANES, out);
}

static void bend_group(const fhi_group *g, const fhi_odds_scratch *s, double *out) {
  fhi_contact k = {.kind = g->kind};
  for (int l = 0; l < FHI_LANES; l++) {
    double eta = value(s, g->mu_or_eta, l);
    // Half a turn: the share of bending does not matter.
    out[l] = g->wrap == PI ? 1.0 / eta : fhi_contact_factor(&k, eta, value(s, g->share, l), g->wrap);
  }
}

static void fill_groups(const fhi_odds *o, fhi_odds_scratch *s) {
  for (int g = 0; g < o->groups; g++) {
    if (o->group[g].kind == FHI_EDGE) {
      edge_group(&o->group[g], s, s->group[g]);
    } else if (o->group[g].kind == FHI_TENDED) {
      for (int l = 0; l < FHI_LANES; l++) {
        s->group[g][l] = 1.0;
      }
    } else {
      bend_group(&o->group[g], s, s->group[g]);
    }
  }
}

// ---------------------------------------------------------------------------------------------------- tensions

static double *register_of(fhi_odds_scratch *s, int r) {
  return s->registers + (size_t)r * FHI_LANES;
}

static void run_batch(const fhi_odds *o, fhi_odds_scratch *s) {
  if (s->begun != &o->batch) {
    fhi_batch_begin(&o->batch, s->registers);
    s->begun = &o->batch;
  }
  for (int c = 0; c < o->room.model.contact_count; c++) {
    memcpy(register_of(s, c), s->group[o->group_of[c]], sizeof s->group[0]);
  }
  fhi_batch_block(&o->batch, s->registers);
}

// One sample by the solver that check uses. Where the rope rests, the most that the hand may have to pull.
static bool solve_one(const fhi_odds *o, fhi_odds_scratch *s, int lane, double *tension) {
  double factor[FHI_MAX_CONTACTS], eta[FHI_MAX_CONTACTS], share[FHI_MAX_CONTACTS], residual;
  fhi_form form;
  fhi_shape shape;
  for (int c = 0; c < o->room.model.contact_count; c++) {
    const fhi_group *g = &o->group[o->group_of[c]];
    factor[c] = s->group[o->group_of[c]][lane];
    eta[c] = g->kind == FHI_EDGE || g->kind == FHI_TENDED ? 1.0 : value(s, g->mu_or_eta, lane);
    share[c] = o->angled ? value(s, g->share, lane) : o->room.model.contacts[c].share.likely;
  }
  if (o->room.motion.coupled) {
    memset(&form, 0, sizeof form);
    form.of[o->room.model.hand_strand] = 1.0;
    fhi_rest_begin(s->rest, 1, factor);
    return fhi_rest_largest(s->rest, &form, tension, &residual);
  }
  if (o->angled) {
    fhi_plan_view v;
    fhi_plan_view_solve(&o->room.model, &o->room.motion, factor, eta, share, value(s, o->angle, lane), &v);
    memcpy(tension, v.tension, (size_t)o->room.model.strand_count * sizeof *tension);
    return v.outcome == FH_OUTCOME_SOLVED;
  }
  fhi_shape_in_line(&o->room.model, &shape);
  return fhi_force_solve(&o->room.model, &o->room.motion, 1, factor, &shape, 1, tension, &residual) == FH_OUTCOME_SOLVED;
}

static void solve_slowly(const fhi_odds *o, fhi_odds_scratch *s) {
  double tension[FH_MAX_STRANDS];
  for (int l = 0; l < FHI_LANES; l++) {
    bool solved = solve_one(o, s, l, tension);
    for (int t = 0; t < o->room.model.strand_count; t++) {
      s->tension[t][l] = solved ? tension[t] : (double)NAN;
    }
  }
}

static const double *strand(const fhi_odds *o, fhi_odds_scratch *s, int t) {
  static const double nothing[FHI_LANES] = {0.0};
  if (!o->fast || s->given) {
    return s->tension[t];
  }
  return o->batch.strand[t] >= 0 ? register_of(s, o->batch.strand[t]) : nothing;
}

void fhi_odds_pull(const fhi_odds *o, fhi_odds_scratch *s, double *pull) {
  fill_groups(o, s);
  if (o->fast) {
    run_batch(o, s);
  } else {
    solve_slowly(o, s);
  }
  const double *hand = strand(o, s, o->room.model.hand_strand);
  for (int l = 0; l < FHI_LANES; l++) {
    pull[l] = value(s, o->mass, l) * G * hand[l];
  }
}

// ---------------------------------------------------------------------------------------------------- crew

static double feet(const fhi_odds *o, const fhi_puller *p, const fhi_odds_scratch *s, int l, double cosine, double sine) {
  double mu = value(s, p->footing, l) * value(s, o->used, l);
  return fmax(0.0, value(s, p->mass, l) * G * (mu * cosine - sine)) / p->footing_share;
}

static void fill_crew(const fhi_odds *o, const fhi_odds_scratch *s, fhi_odds_out *out) {
  double slope = o->slope.value, cosine = cos(slope), sine = o->direction * sin(slope);
  for (int l = 0; l < FHI_LANES; l++) {
    double sum = 0.0, last = 0.0;
    if (o->slope.unknown >= 0) {
      slope = value(s, o->slope, l);
      cosine = cos(slope);
      sine = o->direction * sin(slope);
    }
    for (int i = 0; i < o->pullers; i++) {
      const fhi_puller *p = &o->puller[i];
      double pull = p->measured ? value(s, p->pull, l) : value(s, p->strength, l);
      if (!p->measured && p->footing_share > 0.0) {
        pull = fmin(pull, feet(o, p, s, l, cosine, sine));
      }
      if (!p->measured && p->hands) {
        pull = fmin(pull, value(s, p->grip, l));
      }
      sum += pull;
      last += p->measured ? pull * p->last : fmin(pull, value(s, p->sustained, l));
    }
    double kept = o->pullers > 0 ? 1.0 - value(s, o->loss, l) : (double)NAN;
    out->capacity[l] = sum * kept;
    out->sustained[l] = last * kept;
  }
}

// ---------------------------------------------------------------------------------------------------- limits

static void contact_force(const fhi_odds *o, fhi_odds_scratch *s, int c, double *force) {
  const fhi_contact *k = &o->room.model.contacts[c];
  const double *a = strand(o, s, k->before), *b = strand(o, s, k->after);
  double cosine = cos(k->wrap);
  for (int l = 0; l < FHI_LANES; l++) {
    force[l] = k->slack ? 0.0 : k->wrap >= PI ? a[l] + b[l] : sqrt(fmax(0.0, a[l] * a[l] + b[l] * b[l] - 2.0 * a[l] * b[l] * cosine));
  }
}

// Pulls along the haul line on a body, or on a grip, as a sum of strands.
static void sum_pulls(const fhi_odds *o, fhi_odds_scratch *s, int body, int grip, double *force) {
  memset(force, 0, FHI_LANES * sizeof *force);
  for (int t = 0; t < o->room.model.strand_count; t++) {
    for (int e = 0; e < 2; e++) {
      const fhi_end *end = &o->room.model.strands[t].end[e];
      bool mine = grip >= 0 ? end->grip == grip : end->grip < 0 && end->body == body;
      if (mine) {
        const double *tension = strand(o, s, t);
        double sign = e == 0 ? o->room.model.strands[t].dir : -o->room.model.strands[t].dir;
        for (int l = 0; l < FHI_LANES; l++) {
          force[l] += sign * tension[l];
        }
      }
    }
  }
  for (int l = 0; l < FHI_LANES; l++) {
    force[l] = fabs(force[l]);
  }
}

static void raising(const fhi_odds *o, fhi_odds_scratch *s, const fhi_odd_limit *x, double *force) {
  double other[FHI_LANES];
  switch (x->kind) {
  case FHI_LIMIT_CONTACT: contact_force(o, s, x->index, force); break;
  case FHI_LIMIT_GRIP: sum_pulls(o, s, -1, x->index, force); break;
  case FHI_LIMIT_ROPE:
    memset(force, 0, FHI_LANES * sizeof *force);
    for (int t = 0; t < o->room.model.strand_count; t++) {
      const double *tension = strand(o, s, t);
      for (int l = 0; l < FHI_LANES && o->room.model.strands[t].path == x->index; l++) {
        force[l] = fmax(force[l], tension[l]);
      }
    }
    break;
  case FHI_LIMIT_ANCHOR:
  case FHI_LIMIT_POINT:
    sum_pulls(o, s, FH_BODY_STATION, -1, force);
    sum_pulls(o, s, FH_BODY_ANCHOR, -1, other);
    for (int l = 0; l < FHI_LANES; l++) {
      force[l] = (force[l] + other[l]) * x->leg;
    }
    break;
  case FHI_LIMIT_BITE:
  case FHI_LIMIT_CREW: memset(force, 0, FHI_LANES * sizeof *force); break;
  }
}

static void fill_limits(const fhi_odds *o, fhi_odds_scratch *s, fhi_odds_out *out) {
  double force[FHI_LANES];
  for (int l = 0; l < FHI_LANES; l++) {
    out->margin[l] = MOST_MARGIN;
  }
  for (int i = 0; i < o->limits; i++) {
    const fhi_odd_limit *x = &o->limit[i];
    raising(o, s, x, force);
    out->broken[i] = 0;
    for (int l = 0; l < FHI_LANES; l++) {
      double weight = value(s, o->mass, l) * G, limit = value(s, x->limit, l) * x->scale;
      double most = weight * fmax(force[l], x->hold * x->leg);
      // Written so that a force that is not known breaks the limit.
      out->broken[i] |= most <= limit ? 0 : (uint64_t)1 << l;
      out->margin[l] = fmin(out->margin[l], most > 0.0 ? limit / most : MOST_MARGIN);
    }
  }
}

void fhi_odds_limits(const fhi_odds *o, fhi_odds_scratch *s, fhi_odds_out *out) {
  s->given = true;
  fill_limits(o, s, out);
  s->given = false;
}

void fhi_odds_block(const fhi_odds *o, fhi_odds_scratch *s, bool limits, fhi_odds_out *out) {
  fhi_odds_pull(o, s, out->pull);
  fill_crew(o, s, out);
  if (limits) {
    fill_limits(o, s, out);
  }
  out->too_short = fhi_odds_too_short(o, s);
}
