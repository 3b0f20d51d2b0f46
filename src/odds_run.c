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

// The same for all lanes. @param room used when it is a constant
static const double *values(const fhi_odds_scratch *s, fhi_source source, double *room) {
  if (source.unknown >= 0) {
    return s->x[source.unknown];
  }
  for (int l = 0; l < FHI_LANES; l++) {
    room[l] = source.value;
  }
  return room;
}

// ---------------------------------------------------------------------------------------------------- contacts

static void edge_group(const fhi_group *g, const fhi_odds_scratch *s, double *out) {
  double power[FHI_LANES], room[2][FHI_LANES];
  const double *mu = values(s, g->mu_or_eta, room[0]), *turn = values(s, g->turn, room[1]);
  for (int l = 0; l < FHI_LANES; l++) {
    power[l] = mu[l] * turn[l];
  }
  fhi_lanes_exp(power, FHI_LANES, out);
}

static void bend_group(const fhi_group *g, const fhi_odds_scratch *s, double *out) {
  fhi_contact k = {.kind = g->kind};
  double room[2][FHI_LANES];
  const double *eta = values(s, g->mu_or_eta, room[0]), *share = values(s, g->share, room[1]);
  if (g->wrap == PI) {  // half a turn: the share of bending does not matter
    for (int l = 0; l < FHI_LANES; l++) {
      out[l] = 1.0 / eta[l];
    }
    return;
  }
  for (int l = 0; l < FHI_LANES; l++) {
    out[l] = fhi_contact_factor(&k, eta[l], share[l], g->wrap);
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
  double room[FHI_LANES];
  const double *hand = strand(o, s, o->room.model.hand_strand), *mass = values(s, o->mass, room);
  for (int l = 0; l < FHI_LANES; l++) {
    pull[l] = mass[l] * G * hand[l];
  }
}

// ---------------------------------------------------------------------------------------------------- crew

// Cosine and sine of the ground's slope where the crew stands, the sine against the way that they pull.
static void slope_of(const fhi_odds *o, const fhi_odds_scratch *s, double *cosine, double *sine) {
  const bool open = o->slope.unknown >= 0;
  for (int l = 0; l < FHI_LANES; l++) {
    cosine[l] = l > 0 && !open ? cosine[0] : cos(value(s, o->slope, l));
    sine[l] = l > 0 && !open ? sine[0] : o->direction * sin(value(s, o->slope, l));
  }
}

static void take_least(double *pull, const double *other) {
  for (int l = 0; l < FHI_LANES; l++) {
    pull[l] = other[l] < pull[l] ? other[l] : pull[l];
  }
}

static void what_feet_hold(const fhi_odds *o, const fhi_puller *p, const fhi_odds_scratch *s, const double *cosine, const double *sine,
                           double *out) {
  double room[3][FHI_LANES];
  const double *footing = values(s, p->footing, room[0]), *used = values(s, o->used, room[1]), *mass = values(s, p->mass, room[2]);
  for (int l = 0; l < FHI_LANES; l++) {
    double held = mass[l] * G * (footing[l] * used[l] * cosine[l] - sine[l]);
    out[l] = (held > 0.0 ? held : 0.0) / p->footing_share;
  }
}

// What one person pulls for a short effort, and for minutes.
static void puller(const fhi_odds *o, const fhi_puller *p, const fhi_odds_scratch *s, const double *cosine, const double *sine, double *pull,
                   double *last) {
  double room[FHI_LANES], feet[FHI_LANES];
  memcpy(pull, values(s, p->measured ? p->pull : p->strength, room), FHI_LANES * sizeof *pull);
  if (p->measured) {
    for (int l = 0; l < FHI_LANES; l++) {
      last[l] = pull[l] * p->last;
    }
    return;
  }
  if (p->footing_share > 0.0) {
    what_feet_hold(o, p, s, cosine, sine, feet);
    take_least(pull, feet);
  }
  if (p->hands) {
    take_least(pull, values(s, p->grip, room));
  }
  memcpy(last, values(s, p->sustained, room), FHI_LANES * sizeof *last);
  take_least(last, pull);
}

static void fill_crew(const fhi_odds *o, const fhi_odds_scratch *s, fhi_odds_out *out) {
  double cosine[FHI_LANES], sine[FHI_LANES], pull[FHI_LANES], last[FHI_LANES], room[FHI_LANES];
  const fhi_source none = {-1, (double)NAN};
  const double *loss = values(s, o->pullers > 0 ? o->loss : none, room);
  slope_of(o, s, cosine, sine);
  memset(out->capacity, 0, sizeof out->capacity);
  memset(out->sustained, 0, sizeof out->sustained);
  for (int i = 0; i < o->pullers; i++) {
    puller(o, &o->puller[i], s, cosine, sine, pull, last);
    for (int l = 0; l < FHI_LANES; l++) {
      out->capacity[l] += pull[l];
      out->sustained[l] += last[l];
    }
  }
  for (int l = 0; l < FHI_LANES; l++) {
    out->capacity[l] *= 1.0 - loss[l];
    out->sustained[l] *= 1.0 - loss[l];
  }
}

// ---------------------------------------------------------------------------------------------------- limits

static void contact_force(const fhi_odds *o, fhi_odds_scratch *s, int c, double *force) {
  const fhi_contact *k = &o->room.model.contacts[c];
  const double *a = strand(o, s, k->before), *b = strand(o, s, k->after);
  if (k->slack) {
    memset(force, 0, FHI_LANES * sizeof *force);
    return;
  }
  if (k->wrap >= PI) {
    for (int l = 0; l < FHI_LANES; l++) {
      force[l] = a[l] + b[l];
    }
    return;
  }
  double cosine = cos(k->wrap);
  for (int l = 0; l < FHI_LANES; l++) {
    double square = a[l] * a[l] + b[l] * b[l] - 2.0 * a[l] * b[l] * cosine;
    force[l] = sqrt(square > 0.0 ? square : 0.0);
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
        force[l] = tension[l] > force[l] ? tension[l] : force[l];
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

// One limit against what it has to bear.
static uint64_t hold_against(const double *weight, const double *force, double floor, const double *limit, double scale, double *margin) {
  double most[FHI_LANES], held[FHI_LANES];
  for (int l = 0; l < FHI_LANES; l++) {
    most[l] = weight[l] * (force[l] >= floor ? force[l] : floor);
    held[l] = limit[l] * scale;
  }
  for (int l = 0; l < FHI_LANES; l++) {
    double ratio = held[l] / most[l], room = most[l] > 0.0 ? ratio : MOST_MARGIN;
    margin[l] = room < margin[l] ? room : margin[l];
  }
  return fhi_lanes_above(most, held);  // a force that is not known breaks the limit
}

static void fill_limits(const fhi_odds *o, fhi_odds_scratch *s, fhi_odds_out *out) {
  double force[FHI_LANES], weight[FHI_LANES], room[FHI_LANES];
  const double *mass = values(s, o->mass, room);
  for (int l = 0; l < FHI_LANES; l++) {
    out->margin[l] = MOST_MARGIN;
    weight[l] = mass[l] * G;
  }
  for (int i = 0; i < o->limits; i++) {
    const fhi_odd_limit *x = &o->limit[i];
    raising(o, s, x, force);
    out->broken[i] = hold_against(weight, force, x->hold * x->leg, values(s, x->limit, room), x->scale, out->margin);
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
