// SPDX-License-Identifier: MIT
// What a pull at an angle costs: the hauling body leaves the line until it is in balance, and its wrap shrinks.
// Implements model.md, section 5. For given offsets the tensions follow from the balances along the line; Newton's method
// finds the offsets at which the balances across it hold as well.
#include <math.h>
#include <string.h>

#include "linear.h"
#include "state.h"

static const double PI = 3.14159265358979323846;

// Newton from one step of the angle to the next: at most 6 iterations each in the tests; past this it has failed.
enum { MAX_NEWTON = 40 };
static const double ANGLE_STEP = 0.05;     // [rad] small enough that the last offsets are a good start for the next
static const double DIFFERENCE = 1e-6;     // [m] for the slope of the residual: error far below the bound after one more step
static const double CONVERGED = 1e-12;     // [1] of the weight

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

// Tensions for the offsets, and what is left across the line at each free body. @return largest of it, over the weight
static double across_left(const fhi_model *m, const fhi_motion *motion, const pull_case *p, double angle,
                          const free_list *list, fhi_plan_view *v, double *left) {
  double now[FHI_MAX_CONTACTS], residual, worst = 0.0;
  find_shape(m, angle, v);
  find_wraps(m, p, v, now);
  v->outcome = fhi_force_solve(m, motion, 1, now, &v->shape, 0, v->tension, &residual);
  v->residual = residual;
  for (int i = 0; i < list->count; i++) {
    left[i] = 0.0;
    for (int s = 0; s < m->strand_count; s++) {
      for (int e = 0; e < 2; e++) {
        if (m->strands[s].end[e].body == list->body[i]) {
          left[i] += v->tension[s] * (e == 0 ? v->shape.across[s] : -v->shape.across[s]);
        }
      }
    }
    worst = fabs(left[i]) > worst || isnan(left[i]) ? fabs(left[i]) : worst;
  }
  return worst;
}

// One Newton search at a fixed angle, with halved steps where a full one makes it worse. @return true when converged
static bool newton(const fhi_model *m, const fhi_motion *motion, const pull_case *p, double angle,
                   const free_list *list, fhi_plan_view *v) {
  double left[FH_MAX_GRIPS], moved[FH_MAX_GRIPS], slope[FH_MAX_GRIPS * FH_MAX_GRIPS];
  int n = list->count;
  double worst = across_left(m, motion, p, angle, list, v, left);
  for (int it = 0; it < MAX_NEWTON && worst > CONVERGED; it++) {
    v->iterations++;
    for (int j = 0; j < n; j++) {
      v->offset[list->body[j]] += DIFFERENCE;
      (void)across_left(m, motion, p, angle, list, v, moved);
      v->offset[list->body[j]] -= DIFFERENCE;
      for (int i = 0; i < n; i++) {
        slope[i * n + j] = (moved[i] - left[i]) / DIFFERENCE;
      }
    }
    double step[FH_MAX_GRIPS];
    memcpy(step, left, sizeof step);
    if (!fhi_linear_solve(slope, step, n, n, 1e-14)) {
      return false;
    }
    double before = worst, scale = 1.0;
    for (int half = 0; half < 20; half++, scale *= 0.5) {
      for (int i = 0; i < n; i++) {
        v->offset[list->body[i]] -= scale * step[i];
      }
      worst = across_left(m, motion, p, angle, list, v, left);
      if (worst < before) {
        break;
      }
      for (int i = 0; i < n; i++) {
        v->offset[list->body[i]] += scale * step[i];
      }
    }
    if (!(worst < before)) {
      worst = across_left(m, motion, p, angle, list, v, left);
      break;  // rounding: as good as it gets
    }
  }
  v->residual = fmax(v->residual, worst);
  return worst <= 1e-10;
}

void fhi_plan_view_solve(const fhi_model *model, const fhi_motion *motion, const double *factor, const double *eta,
                         const double *share, double angle, fhi_plan_view *view) {
  const pull_case p = {factor, eta, share};
  memset(view, 0, sizeof *view);
  free_list list = list_free(model);
  int steps = (int)ceil(fabs(angle) / ANGLE_STEP);
  for (int i = 0; i <= steps; i++) {
    double now = steps == 0 ? 0.0 : angle * i / steps;
    if (!newton(model, motion, &p, now, &list, view) && view->outcome == FH_OUTCOME_SOLVED) {
      view->outcome = FH_OUTCOME_UNRESOLVED;
    }
    if (view->outcome != FH_OUTCOME_SOLVED) {
      return;
    }
  }
}
