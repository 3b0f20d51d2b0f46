// SPDX-License-Identifier: MIT
// What a pull at an angle costs: the hauling body leaves the line until it is in balance, and its wrap shrinks.
// Implements model.md, section 5. For given offsets the tensions follow from the balances along the line; Newton's method
// finds the offsets at which the balances across it hold as well.
#include <math.h>
#include <string.h>

#include "linear.h"
#include "state.h"

static const double PI = 3.14159265358979323846;

// Newton from one step of the angle to the next: at most 6 iterations each for the taught rigs; past this it has failed.
enum { MAX_NEWTON = 40, MAX_KINKS = 12 };
static const double ANGLE_STEP = 0.05;     // [rad] small enough that the last offsets are a good start for the next
static const double DIFFERENCE = 1e-6;     // [m] for the slope of the residual: error far below the bound after one more step
static const double CONVERGED = 1e-12;     // [1] of the weight
static const double CLOSE = 1e-11;         // [1] of the weight: what is left above this is no rounding

// Friction of the case at hand, by contact.
typedef struct pull_case {
  const double *factor, *eta, *share;
} pull_case;

// Bodies that are free across the line, as a list.
typedef struct free_list {
  int body[FH_MAX_GRIPS];
  int count;
} free_list;

static free_list list_free(const fhi_model *m) {
  free_list list = {.count = 0};
  for (int b = FH_BODY_FIRST_GRIP; b < m->body_count; b++) {
    bool taut = false;
    for (int s = 0; s < m->strand_count; s++) {
      taut = taut || (!m->strands[s].slack && (m->strands[s].end[0].body == b || m->strands[s].end[1].body == b));
    }
    if (taut) {
      list.body[list.count++] = b;
    }
  }
  return list;
}

static double across_of(const fhi_plan_view *v, int body) {
  return body >= FH_BODY_FIRST_GRIP ? v->offset[body] : 0.0;
}

static void find_shape(const fhi_model *m, double angle, fhi_plan_view *v) {
  fhi_shape_in_line(m, &v->shape);
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_end *e = m->strands[s].end;
    if (m->strands[s].slack || e[0].s < 0.0 || e[1].s < 0.0) {
      continue;  // in the hole the strand hangs along the line
    }
    if (e[1].kind == FHI_END_HAND) {
      v->shape.along[s] = m->hand_dir * cos(angle);
      v->shape.across[s] = sin(angle);
      continue;
    }
    double x = e[1].s - e[0].s, y = across_of(v, e[1].body) - across_of(v, e[0].body), d = sqrt(x * x + y * y);
    v->shape.along[s] = x / d;
    v->shape.across[s] = y / d;
  }
}

// Wrap: half a turn less the angle between the two strands as seen from the contact.
static void find_wraps(const fhi_model *m, const pull_case *p, fhi_plan_view *v, double *now) {
  for (int c = 0; c < m->contact_count; c++) {
    const fhi_contact *k = &m->contacts[c];
    v->wrap[c] = k->wrap;
    now[c] = p->factor[c];
    if (k->slack || k->kind == FHI_EDGE || k->kind == FHI_TENDED || k->body == FH_BODY_LOAD) {
      continue;
    }
    double ax = -v->shape.along[k->before], ay = -v->shape.across[k->before];
    double bx = v->shape.along[k->after], by = v->shape.across[k->after];
    v->wrap[c] = PI - fabs(atan2(ax * by - ay * bx, ax * bx + ay * by));
    now[c] = fhi_contact_factor(k, p->eta[c], p->share[c], v->wrap[c]);
  }
}

// One search at one angle: for these offsets, the tensions and what is left across the line at each free body.
typedef struct search {
  const fhi_model *m;
  const fhi_motion *motion;
  const pull_case *p;
  const free_list *list;
  double angle;
  fhi_plan_view *v;
} search;

// @return largest of what is left, over the weight
static double across_left(const search *q, double *left) {
  const fhi_model *m = q->m;
  double now[FHI_MAX_CONTACTS], worst = 0.0;
  find_shape(m, q->angle, q->v);
  find_wraps(m, q->p, q->v, now);
  q->v->outcome = fhi_force_solve(m, q->motion, 1, now, &q->v->shape, 0, q->v->tension, &q->v->residual);
  for (int i = 0; i < q->list->count; i++) {
    left[i] = 0.0;
    for (int s = 0; s < m->strand_count; s++) {
      for (int e = 0; e < 2; e++) {
        if (m->strands[s].end[e].body == q->list->body[i]) {
          left[i] += q->v->tension[s] * (e == 0 ? q->v->shape.across[s] : -q->v->shape.across[s]);
        }
      }
    }
    worst = fabs(left[i]) > worst || isnan(left[i]) ? fabs(left[i]) : worst;
  }
  return worst;
}

static void move(const search *q, const double *step, double scale) {
  for (int i = 0; i < q->list->count; i++) {
    q->v->offset[q->list->body[i]] -= scale * step[i];
  }
}

// Newton's step. A body whose strands carry nothing has no place of its own and stays. @return false when there is none
static bool find_step(const search *q, const double *left, double *step) {
  double moved[FH_MAX_GRIPS], slope[FH_MAX_GRIPS * FH_MAX_GRIPS], size[FH_MAX_GRIPS] = {0.0};
  int n = q->list->count;
  for (int j = 0; j < n; j++) {
    q->v->offset[q->list->body[j]] += DIFFERENCE;
    (void)across_left(q, moved);
    q->v->offset[q->list->body[j]] -= DIFFERENCE;
    for (int i = 0; i < n; i++) {
      slope[i * n + j] = (moved[i] - left[i]) / DIFFERENCE;
      size[i] = fmax(size[i], fabs(slope[i * n + j]));
    }
  }
  for (int i = 0; i < n; i++) {
    if (size[i] < 1e-9 && fabs(left[i]) <= CONVERGED) {
      slope[i * n + i] = 1.0;
    }
  }
  memcpy(step, left, (size_t)n * sizeof *step);
  return fhi_linear_solve(slope, step, n, n, 1e-14);
}

// One Newton search at a fixed angle, with halved steps where a full one makes it worse. Where a wrap only just begins to
// shrink the slope has a kink, and no part of the step may look better: then the whole step is taken all the same, a few
// times. @return true when converged
static bool newton(const search *q) {
  double left[FH_MAX_GRIPS], step[FH_MAX_GRIPS];
  int kinks = 0;
  double worst = across_left(q, left);
  for (int it = 0; it < MAX_NEWTON && worst > CONVERGED; it++) {
    q->v->iterations++;
    if (!find_step(q, left, step)) {
      return false;
    }
    double before = worst;
    for (double scale = 1.0; scale > 1e-6; scale *= 0.5) {
      move(q, step, scale);
      worst = across_left(q, left);
      if (worst < before) {
        break;
      }
      move(q, step, -scale);
    }
    if (!(worst < before)) {
      bool settled = before <= CLOSE || kinks++ == MAX_KINKS;
      move(q, step, settled ? 0.0 : 1.0);
      worst = across_left(q, left);
      if (settled) {
        break;  // rounding: as good as it gets
      }
    }
  }
  q->v->residual = fmax(q->v->residual, worst);
  return worst <= 1e-10;
}

void fhi_plan_view_solve(const fhi_model *model, const fhi_motion *motion, const double *factor, const double *eta,
                         const double *share, double angle, fhi_plan_view *view) {
  const pull_case p = {factor, eta, share};
  memset(view, 0, sizeof *view);
  const free_list list = list_free(model);
  search q = {model, motion, &p, &list, 0.0, view};
  int steps = (int)ceil(fabs(angle) / ANGLE_STEP);
  for (int i = 0; i <= steps; i++) {
    q.angle = steps == 0 ? 0.0 : angle * i / steps;
    if (!newton(&q) && view->outcome == FH_OUTCOME_SOLVED) {
      view->outcome = FH_OUTCOME_UNRESOLVED;
    }
    if (view->outcome != FH_OUTCOME_SOLVED) {
      return;
    }
  }
}
