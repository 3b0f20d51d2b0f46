// SPDX-License-Identifier: MIT
// What every strand carries while the rope slides: one unknown a chain, one balance a free body.
// Implements model.md, section 4. A chain is the strands that sliding contacts join, so its tensions differ only by
// known factors; a sound rig has as many chains as free bodies, and a six to one is a system of two equations.
#include "force.h"

#include <math.h>
#include <string.h>

#include "linear.h"

// Pivots of a sound rig are sums of a few factors of order one; below this the equations have no single answer.
static const double SINGULAR = 1e-12;

// Pulls that cancel leave this much of the weight by rounding: it is nothing.
static const double ROUNDING = 1e-12;

void fhi_shape_in_line(const fhi_model *model, fhi_shape *shape) {
  for (int s = 0; s < model->strand_count; s++) {
    shape->along[s] = model->strands[s].dir;
    shape->across[s] = 0.0;
  }
}

// Tension after over tension before, for the sense in which the rope slides.
static double ratio_after(const fhi_motion *motion, int sense, const double *factor, int contact) {
  return sense * motion->rate[contact] >= 0.0 ? factor[contact] : 1.0 / factor[contact];
}

// t = scale * (tension at the start of the strand's chain).
static void chain_scales(const fhi_model *m, const fhi_motion *motion, int sense, const double *factor, double *scale) {
  for (int s = 0; s < m->strand_count; s++) {
    int c = m->strands[s].end[0].contact;
    bool joined = motion->chain[s] >= 0 && c >= 0 && motion->chain[m->contacts[c].before] == motion->chain[s];
    scale[s] = joined ? scale[m->contacts[c].before] * ratio_after(motion, sense, factor, c) : 1.0;
  }
}

// Dead strands, from their live neighbours outward: as much more or less as friction at the resting contact allows.
static void fill_dead(const fhi_model *m, const fhi_motion *motion, const double *factor, int dead, double *tension) {
  for (int left = m->strand_count; left > 0; left--) {
    bool waiting = false;
    for (int s = 0; s < m->strand_count; s++) {
      int c = motion->dead_by[s];
      if (c < 0 || !isnan(tension[s])) {
        continue;
      }
      double from = tension[m->contacts[c].before == s ? m->contacts[c].after : m->contacts[c].before];
      tension[s] = dead == 0 || m->contacts[c].kind == FHI_TENDED ? from : dead > 0 ? from * factor[c] : from / factor[c];
      waiting = waiting || isnan(tension[s]);
    }
    if (!waiting) {
      return;
    }
  }
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
                           const fhi_shape *shape, int dead, double *tension, double *residual) {
  double scale[FH_MAX_STRANDS];
  double a[FHI_MAX_FREE * FHI_MAX_FREE], b[FHI_MAX_FREE];
  int n = m->body_count - FH_BODY_FIRST_GRIP + 1;
  *residual = (double)NAN;
  for (int s = 0; s < m->strand_count; s++) {
    tension[s] = (double)NAN;
  }
  if (motion->coupled || motion->chains != n) {
    return FH_OUTCOME_UNRESOLVED;  // the caller asks the linear programmes
  }
  chain_scales(m, motion, sense, factor, scale);

  // One balance a free body: pulls along the haul line add to the weight, or to nothing.
  memset(a, 0, (size_t)(n * n) * sizeof *a);
  memset(b, 0, (size_t)n * sizeof *b);
  b[0] = 1.0;
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    for (int e = 0; e < 2 && motion->chain[s] >= 0; e++) {
      if (is_free(m, st->end[e].body)) {
        a[row_of(st->end[e].body) * n + motion->chain[s]] += scale[s] * pull_along(shape, s, e);
      }
    }
  }
  if (!fhi_linear_solve(a, b, n, n, SINGULAR)) {
    return FH_OUTCOME_UNRESOLVED;
  }

  bool pushes = false;
  for (int s = 0; s < m->strand_count; s++) {
    tension[s] = motion->chain[s] >= 0 ? scale[s] * b[motion->chain[s]] : motion->dead_by[s] >= 0 ? (double)NAN : 0.0;
    pushes = pushes || tension[s] < -ROUNDING;
    tension[s] = fabs(tension[s]) <= ROUNDING ? 0.0 : tension[s];
  }
  fill_dead(m, motion, factor, dead, tension);
  *residual = fhi_force_residual(m, motion, sense, factor, shape, tension);
  return pushes ? FH_OUTCOME_INFEASIBLE : FH_OUTCOME_SOLVED;
}

void fhi_force_dead(const fhi_model *m, const fhi_motion *motion, int sense, const double *factor, const fhi_shape *shape, int dead,
                    double *tension, double *residual) {
  for (int s = 0; s < m->strand_count; s++) {
    tension[s] = motion->chain[s] < 0 && motion->dead_by[s] >= 0 ? (double)NAN : tension[s];
  }
  fill_dead(m, motion, factor, dead, tension);
  *residual = fhi_force_residual(m, motion, sense, factor, shape, tension);
}
