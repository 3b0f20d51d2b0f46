// SPDX-License-Identifier: MIT
// What every strand carries while the rope slides: one unknown a chain, one balance a free body.
// Implements model.md, section 4. A chain is the strands that sliding contacts join, so its tensions differ only by
// known factors; a sound rig has as many chains as free bodies, and a six to one is a system of two equations.
#include "force.h"

#include <math.h>

#include "linear.h"

// Pivots of a sound rig are sums of a few factors of order one; below this the equations have no single answer.
static const double SINGULAR = 1e-12;

void fhi_shape_in_line(const fhi_model *model, fhi_shape *shape) {
  for (int s = 0; s < model->strand_count; s++) {
    shape->along[s] = model->strands[s].dir;
    shape->across[s] = 0.0;
  }
}

bool fhi_force_rests(const fhi_model *model, const fhi_motion *motion) {
  for (int c = 0; c < model->contact_count; c++) {
    const fhi_contact *k = &model->contacts[c];
    if (!k->slack && motion->rate[c] == 0.0 && k->kind != FHI_TENDED) {
      return true;
    }
  }
  return false;
}

// Tension after over tension before, for the sense in which the rope slides.
static double ratio_after(const fhi_motion *motion, int sense, const double *factor, int contact) {
  return sense * motion->rate[contact] >= 0.0 ? factor[contact] : 1.0 / factor[contact];
}

// t = scale * (tension at the start of the strand's chain). @return number of chains
static int chain_scales(const fhi_model *m, const fhi_motion *motion, int sense, const double *factor, double *scale) {
  int chains = 0;
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    scale[s] = 0.0;
    if (st->chain < 0) {
      continue;
    }
    scale[s] = 1.0;
    if (st->end[0].kind == FHI_END_CONTACT) {
      int c = st->end[0].contact;
      scale[s] = scale[m->contacts[c].before] * ratio_after(motion, sense, factor, c);
    }
    chains = st->chain + 1 > chains ? st->chain + 1 : chains;
  }
  return chains;
}

// A free body's row: the load first, then grip bodies.
static int row_of(int body) {
  return body == FH_BODY_LOAD ? 0 : body - FH_BODY_FIRST_GRIP + 1;
}

static bool is_free(const fhi_model *m, int body) {
  return body >= 0 && body < m->body_count && !m->fixed[body];
}

// The pull of a strand's end on the body there, along the haul line: toward the other end.
static double pull_along(const fhi_shape *shape, int strand, int e) {
  return e == 0 ? shape->along[strand] : -shape->along[strand];
}

static double largest(double a, double b) {
  return b > a || isnan(b) ? b : a;
}

double fhi_force_residual(const fhi_model *m, const fhi_motion *motion, int sense, const double *factor,
                          const fhi_shape *shape, const double *tension) {
  double balance[FHI_MAX_FREE] = {0};
  double worst = 0.0;
  balance[0] = -1.0;
  for (int s = 0; s < m->strand_count; s++) {
    for (int e = 0; e < 2; e++) {
      int body = m->strands[s].end[e].body;
      if (is_free(m, body) && m->strands[s].end[e].kind != FHI_END_HAND) {
        balance[row_of(body)] += tension[s] * pull_along(shape, s, e);
      }
    }
  }
  for (int r = 0; r < m->body_count - FH_BODY_FIRST_GRIP + 1; r++) {
    worst = largest(worst, fabs(balance[r]));
  }
  for (int c = 0; c < m->contact_count; c++) {
    const fhi_contact *k = &m->contacts[c];
    double in = tension[k->before], out = tension[k->after];
    if (k->slack) {
      continue;
    }
    if (motion->rate[c] == 0.0 && k->kind != FHI_TENDED) {
      worst = largest(worst, fmax(out - factor[c] * in, in - factor[c] * out));
    } else {
      worst = largest(worst, fabs(out - in * ratio_after(motion, sense, factor, c)));
    }
  }
  return worst;
}

fh_outcome fhi_force_solve(const fhi_model *m, const fhi_motion *motion, int sense, const double *factor,
                           const fhi_shape *shape, double *tension, double *residual) {
  double scale[FH_MAX_STRANDS];
  double a[FHI_MAX_FREE * FHI_MAX_FREE] = {0}, b[FHI_MAX_FREE] = {0};
  int n = m->body_count - FH_BODY_FIRST_GRIP + 1;
  *residual = NAN;
  for (int s = 0; s < m->strand_count; s++) {
    tension[s] = NAN;
  }
  if (chain_scales(m, motion, sense, factor, scale) != n) {
    return FH_OUTCOME_UNRESOLVED;  // a sound motion has one strand more than contacts and grip bodies: cannot happen
  }

  // One balance a free body: pulls along the haul line add to the weight, or to nothing.
  b[0] = 1.0;
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    for (int e = 0; e < 2 && st->chain >= 0; e++) {
      if (is_free(m, st->end[e].body)) {
        a[row_of(st->end[e].body) * n + st->chain] += scale[s] * pull_along(shape, s, e);
      }
    }
  }
  if (!fhi_linear_solve(a, b, n, n, SINGULAR)) {
    return FH_OUTCOME_UNRESOLVED;
  }

  bool pushes = false;
  for (int s = 0; s < m->strand_count; s++) {
    tension[s] = m->strands[s].chain < 0 ? 0.0 : scale[s] * b[m->strands[s].chain];
    pushes = pushes || tension[s] < -1e-12;
  }
  *residual = fhi_force_residual(m, motion, sense, factor, shape, tension);
  return pushes ? FH_OUTCOME_INFEASIBLE : FH_OUTCOME_SOLVED;
}
