// SPDX-License-Identifier: MIT
// What each leg of an anchor carries, with fixed legs or a sliding sling, and where they meet when one has failed.
// Implements model.md, section 10.
//
// The meeting place x minimises the legs' stretch energy less the pull's work. A leg that only pulls is a convex function of
// x, so there is one minimum; Newton with a small ridge and halved steps finds it from anywhere. Two legs in a plane, three in
// space: geometry decides; more: stiffness. Friction in a sliding sling is left out: it keeps the legs less equal than said.
#include <math.h>
#include <string.h>

#include "anchor.h"
#include "linear.h"

enum { MAX_STEPS = 400 };  // at most 60 seen, in 100,000 random anchors

static const double STRANDS = 2.0;      // a sliding sling: two strands to each point
static const double GOOD = 1e-10;       // [1] of the pull: forces out of balance that are nothing

typedef struct web {
  const fh_anchorage *a;
  int gone;
  double pull;
  double p[FH_MAX_POINTS][3];   // [m] the points
  double length[FH_MAX_POINTS]; // [m] natural
  double total;                 // [m] sliding: the sling
  double modulus;               // [N]
} web;

static void place_points(web *w) {
  for (int i = 0; i < w->a->point_count; i++) {
    const fh_point *p = &w->a->points[i];
    double leg = p->leg.likely, aside = p->aside.likely, above = p->above.likely;
    w->p[i][0] = leg * cos(above) * cos(aside);
    w->p[i][1] = leg * cos(above) * sin(aside);
    w->p[i][2] = leg * sin(above);
    w->length[i] = leg + (w->a->sharing == FH_LEGS_FIXED ? p->slack.likely : 0.0);
    w->total += STRANDS * leg;
  }
}

// Unit vector from x to a point. @return the distance
static double toward(const web *w, int i, const double *x, double *u) {
  double d = 0.0;
  for (int k = 0; k < 3; k++) {
    u[k] = w->p[i][k] - x[k];
    d += u[k] * u[k];
  }
  d = sqrt(d);
  for (int k = 0; k < 3; k++) {
    u[k] = d > 0.0 ? u[k] / d : 0.0;
  }
  return d;
}

// The pull points to -x, so its work is -pull x. Energy, its slope and its curvature at x. @return energy [J]
static double energy(const web *w, const double *x, double *slope, double *curve) {
  double e = w->pull * x[0], run = -w->total;
  double sum[3] = {0.0, 0.0, 0.0};
  bool sliding = w->a->sharing == FH_LEGS_SLIDING;
  memset(slope, 0, 3 * sizeof *slope);
  memset(curve, 0, 9 * sizeof *curve);
  slope[0] = w->pull;
  for (int i = 0; i < w->a->point_count && sliding; i++) {
    double u[3];
    run += i == w->gone ? 0.0 : STRANDS * toward(w, i, x, u);
  }
  double t = sliding ? fmax(0.0, w->modulus * run / w->total) : 0.0;
  for (int i = 0; i < w->a->point_count; i++) {
    double u[3], d = toward(w, i, x, u), stretch = d - w->length[i];
    if (i == w->gone || (!sliding && stretch <= 0.0)) {
      continue;
    }
    double stiff = sliding ? 0.0 : w->modulus / w->length[i], force = sliding ? STRANDS * t : stiff * stretch;
    e += 0.5 * stiff * (sliding ? 0.0 : stretch * stretch);
    for (int r = 0; r < 3; r++) {
      slope[r] -= force * u[r];
      sum[r] += STRANDS * u[r];
      for (int c = 0; c < 3; c++) {
        double across = (r == c ? 1.0 : 0.0) - u[r] * u[c];
        curve[r * 3 + c] += stiff * u[r] * u[c] + (d > 0.0 ? force / d * across : 0.0);
      }
    }
  }
  if (sliding && t > 0.0) {
    e += 0.5 * w->modulus / w->total * run * run;
    for (int r = 0; r < 3; r++) {
      for (int c = 0; c < 3; c++) {
        curve[r * 3 + c] += w->modulus / w->total * sum[r] * sum[c];
      }
    }
  }
  return e;
}

static double size3(const double *v) {
  return sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
}

// One Newton step, shortened until the energy falls. @return false when it cannot fall any more
static bool step_down(const web *w, double *x, double ridge, double *left) {
  double slope[3], curve[9], b[3], trial[3], s2[3], c2[9];
  double e = energy(w, x, slope, curve);
  *left = size3(slope) / w->pull;
  if (*left <= GOOD) {
    return false;
  }
  for (int k = 0; k < 3; k++) {
    b[k] = -slope[k];
    curve[k * 4] += ridge;
  }
  if (!fhi_linear_solve(curve, b, 3, 3, 0.0)) {
    return false;
  }
  // Never farther than a leg's length at a time: where all is slack the ridge alone holds the step.
  double far = size3(b), most = 0.5 * w->length[0];
  double scale = far > most ? most / far : 1.0;
  for (int half = 0; half < 40; half++, scale *= 0.5) {
    for (int k = 0; k < 3; k++) {
      trial[k] = x[k] + scale * b[k];
    }
    if (energy(w, trial, s2, c2) < e || size3(s2) < size3(slope)) {
      memcpy(x, trial, sizeof trial);
      return true;
    }
  }
  return false;
}

static void solve_web(const web *w, double *x, double *left) {
  double ridge = 1e-9 * w->modulus / w->length[0];
  memset(x, 0, 3 * sizeof *x);
  *left = 1.0;
  for (int i = 0; i < MAX_STEPS && step_down(w, x, ridge, left); i++) {
  }
}

static void fill(const web *w, const double *x, fh_legs *out) {
  double run = -w->total, balance[3] = {w->pull, 0.0, 0.0};
  bool sliding = w->a->sharing == FH_LEGS_SLIDING;
  double u[3];
  for (int i = 0; i < w->a->point_count && sliding; i++) {
    run += i == w->gone ? 0.0 : STRANDS * toward(w, i, x, u);
  }
  for (int i = 0; i < w->a->point_count; i++) {
    double d = toward(w, i, x, u);
    double fixed = fmax(0.0, w->modulus * (d - w->length[i]) / w->length[i]);
    out->force[i] = i == w->gone ? 0.0 : sliding ? STRANDS * fmax(0.0, w->modulus * run / w->total) : fixed;
    for (int k = 0; k < 3; k++) {
      balance[k] -= out->force[i] * u[k];
    }
  }
  out->x = x[0];
  out->y = x[1];
  out->z = x[2];
  out->residual = size3(balance) / w->pull;
}

// A stop knot: as much sling as lets the meeting place move so far and no farther. The move grows with the sling.
static void stop_sling(web *w, double stop, double start, double *x, double *left) {
  double lo = 0.0, hi = w->total;
  for (int i = 0; i < w->a->point_count; i++) {
    lo += i == w->gone ? 0.0 : STRANDS * w->a->points[i].leg.likely;
  }
  double shortest = lo;
  for (int i = 0; i < 60 && hi - lo > 1e-9 * shortest; i++) {
    w->total = 0.5 * (lo + hi);
    solve_web(w, x, left);
    *(start - x[0] > stop ? &hi : &lo) = w->total;
  }
  w->total = lo;
  solve_web(w, x, left);
}

fh_status fh_legs_solve(const fh_anchorage *a, int gone, double pull, fh_legs *out) {
  if (a == NULL || out == NULL || a->point_count < 1 || a->point_count > FH_MAX_POINTS || !(pull > 0.0) || !isfinite(pull) ||
      gone >= a->point_count || !(a->modulus.likely > 0.0)) {
    return FH_ERR_ARG;
  }
  web w = {.a = a, .gone = -1, .pull = pull, .modulus = a->modulus.likely};
  double x[3], left;
  memset(out, 0, sizeof *out);
  place_points(&w);
  out->held = gone < 0 || a->point_count > 1;
  if (!out->held) {
    return FH_OK;
  }
  solve_web(&w, x, &left);
  if (gone >= 0) {
    double start = x[0];
    w.gone = gone;
    solve_web(&w, x, &left);
    if (a->sharing == FH_LEGS_SLIDING && fh_number_is_set(a->stop) && start - x[0] > a->stop.likely) {
      stop_sling(&w, a->stop.likely, start, x, &left);
    }
  }
  fill(&w, x, out);
  return FH_OK;
}

fh_band fhi_leg_force(const fh_anchorage *a, int point, fh_band pull) {
  double at[3] = {pull.lo, pull.likely, pull.hi}, force[3];
  for (int e = 0; e < 3; e++) {
    fh_legs legs;
    force[e] = at[e] > 0.0 && fh_legs_solve(a, -1, at[e], &legs) == FH_OK ? legs.force[point] : at[e];
  }
  return (fh_band){fmin(force[0], fmin(force[1], force[2])), force[1], fmax(force[0], fmax(force[1], force[2]))};
}
