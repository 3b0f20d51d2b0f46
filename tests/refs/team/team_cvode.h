// SPDX-License-Identifier: MIT
// One fall of a rope team by SUNDIALS' CVODE with root finding. For the test against it, and the benchmark.
//
// The equations of model.md, section 11, written down once more as an ordinary differential equation between events, with
// variable order and step, and events located to rounding. The motion is smooth while a mode holds: which pieces are taut,
// how rope moves at the lip, who slides, who brakes, who is in the hole. Each event ends a mode.
#ifndef REF_TEAM_CVODE_H
#define REF_TEAM_CVODE_H

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include "firnhaul_team.h"

#define REF_G     9.80665
#define REF_SHORT 0.05  // [m] as in the core: shortest piece that stretches by itself

enum { REF_N = FH_MAX_PEOPLE, REF_LIP_ROOTS = 4, REF_ROOTS = (REF_N - 1) + 4 * REF_N + REF_LIP_ROOTS };

typedef enum ref_lip { REF_LOOSE, REF_REST, REF_DOWN, REF_UP, REF_PLOUGH } ref_lip;

typedef struct ref_fall {
  const fh_fall_in *in;
  double c;               // ratio at the lip
  int crossing;           // piece over the lip, -1: none
  ref_lip lip;
  double over;            // [m] unstretched rope beyond the lip, while it rests there
  bool knot_on;           // a knot stands at the lip
  double trench;          // [m] how far it has ploughed; while it ploughs, `over` is where the trench begins less that
  int knots_past, knots_held;
  bool slack_behind;      // while a knot ploughs
  bool taut[REF_N];       // pieces that lie on one side
  int slides[REF_N];      // -1 toward the hole, 0 stands, 1 away
  bool in_hole[REF_N], brakes[REF_N];
  double brakes_at[REF_N];
  int bottoms;
  bool may_turn;          // the first one has moved down since the last low point
  long evaluations;
  double deepest, nearest[REF_N], peak[REF_N];
} ref_fall;

static inline double ref_length(const fh_fall_in *in, int j) {
  return in->at[j + 1] - in->at[j] + in->slack;
}

// While rope slides: a / (1 + k e) + b / (1 + e) = L, solved by Newton from the small-strain answer (the core has a formula).
static inline double ref_strain(double a, double b, double length, double k) {
  double more = a + b - length;
  if (more <= 0.0) {
    return 0.0;
  }
  double e = more / (k * a + b);
  for (int i = 0; i < 30; i++) {
    double p = 1.0 / (1.0 + k * e), q = 1.0 / (1.0 + e);
    double f = a * p + b * q - length;
    double step = f / (a * k * p * p + b * q * q);
    e += step;
    if (fabs(step) < 1e-15 * (1.0 + e)) {
      break;
    }
  }
  return e;
}

// While a knot ploughs: hole strain = c + k e. a / (1 + c + k e) + b / (1 + e) = L by Newton; with slack behind, e = 0.
static inline double ref_plough_strain(double a, double b, double length, double k, double c) {
  double e = 0.0;
  if (a / (1.0 + c) + b <= length) {
    return 0.0;
  }
  for (int i = 0; i < 60; i++) {
    double p = 1.0 / (1.0 + c + k * e), q = 1.0 / (1.0 + e);
    double step = (a * p + b * q - length) / (a * k * p * p + b * q * q);
    e += step;
    if (fabs(step) < 1e-15 * (1.0 + e)) {
      break;
    }
  }
  return e;
}

static inline double ref_holds(const fh_fall_in *in) {
  return in->knot_catch / in->modulus;
}

static inline double ref_plough_way(const fh_fall_in *in) {
  return fmin(in->knot_plough, in->knot_apart);
}

// Rope over the lip while a knot ploughs, its rate, and the strain behind with its rate.
static inline double ref_ploughed(const ref_fall *s, const double *x, const double *v, double *over_rate, double *e, double *rate) {
  const fh_fall_in *in = s->in;
  int j = s->crossing;
  double c = ref_holds(in), a = -x[j], b = x[j + 1], length = ref_length(in, j);
  *e = ref_plough_strain(a, b, length, s->c, c);
  double p = 1.0 / (1.0 + c + s->c * *e), q = 1.0 / (1.0 + *e);
  *rate = *e > 0.0 ? (-v[j] * p + v[j + 1] * q) / (a * s->c * p * p + b * q * q) : 0.0;
  *over_rate = -v[j] * p - a * p * p * s->c * *rate;
  return a * p;
}

// d(over)/dt while rope slides at ratio k.
static inline double ref_over_rate(double a, double b, double va, double vb, double length, double k, double *strain, double *strain_rate) {
  double e = ref_strain(a, b, length, k);
  double p = 1.0 / (1.0 + k * e), q = 1.0 / (1.0 + e);
  double rate = (va * p + vb * q) / (a * k * p * p + b * q * q);
  *strain = e;
  *strain_rate = rate;
  return va * p - a * p * p * k * rate;
}

static inline void ref_tensions(const ref_fall *s, const double *x, const double *v, double *hole, double *back) {
  const fh_fall_in *in = s->in;
  for (int j = 0; j + 1 < in->people; j++) {
    double length = ref_length(in, j);
    hole[j] = back[j] = 0.0;
    if (j != s->crossing) {
      double t = in->modulus * ((x[j + 1] - x[j]) / length - 1.0 + in->damping * (v[j + 1] - v[j]) / length);
      hole[j] = back[j] = s->taut[j] ? fmax(0.0, t) : 0.0;
    } else if (s->lip == REF_DOWN || s->lip == REF_UP) {
      double k = s->lip == REF_DOWN ? s->c : 1.0 / s->c;
      double e = 0.0, rate = 0.0;
      (void)ref_over_rate(-x[j], x[j + 1], -v[j], v[j + 1], length, k, &e, &rate);
      back[j] = fmax(0.0, in->modulus * (e + in->damping * rate));
      hole[j] = k * back[j];
    } else if (s->lip == REF_PLOUGH) {
      double over_rate = 0.0, e = 0.0, rate = 0.0;
      (void)ref_ploughed(s, x, v, &over_rate, &e, &rate);
      back[j] = e > 0.0 ? fmax(0.0, in->modulus * (e + in->damping * rate)) : 0.0;
      hole[j] = fmax(0.0, in->modulus * (ref_holds(in) + s->c * e + in->damping * s->c * rate));
    } else if (s->lip == REF_REST) {
      double lo = fmax(s->over, REF_SHORT), ls = fmax(length - s->over, REF_SHORT);
      double e = (-x[j] - s->over) / lo, f = (x[j + 1] - (length - s->over)) / ls;
      hole[j] = e > 0.0 ? fmax(0.0, in->modulus * (e - in->damping * v[j] / lo)) : 0.0;
      back[j] = f > 0.0 ? fmax(0.0, in->modulus * (f + in->damping * v[j + 1] / ls)) : 0.0;
    }
  }
}

static inline double ref_grip(const ref_fall *s, int i) {
  return (s->brakes[i] ? s->in->brake : s->in->stand) * REF_G * cos(s->in->slope);
}

// Acceleration without friction.
static inline double ref_drive(const ref_fall *s, int i, const double *hole, const double *back) {
  double t = (i + 1 < s->in->people ? hole[i] : 0.0) - (i > 0 ? back[i - 1] : 0.0);
  return t / s->in->mass[i] - (s->in_hole[i] ? REF_G : REF_G * sin(s->in->slope));
}

static inline int ref_derivative(sunrealtype t, N_Vector y, N_Vector out, void *user) {
  (void)t;
  ref_fall *s = user;
  int n = s->in->people;
  const double *x = N_VGetArrayPointer(y), *v = x + n;
  double *dx = N_VGetArrayPointer(out), *dv = dx + n;
  double hole[REF_N], back[REF_N];
  s->evaluations++;
  ref_tensions(s, x, v, hole, back);
  for (int i = 0; i < n; i++) {
    bool stands = !s->in_hole[i] && s->slides[i] == 0;
    dx[i] = stands ? 0.0 : v[i];
    dv[i] = stands ? 0.0 : ref_drive(s, i, hole, back) - (s->in_hole[i] ? 0.0 : s->slides[i] * ref_grip(s, i));
  }
  return 0;
}

static inline double ref_knot(const ref_fall *s) {
  double before = 0.0;
  for (int j = 0; j < s->crossing; j++) {
    before += ref_length(s->in, j);
  }
  double place = s->in->knot_first + s->knots_past * s->in->knot_apart - before;
  return s->knots_past < s->in->knots && place < ref_length(s->in, s->crossing) ? place + s->trench : 1e6;
}

// Roots at the lip: 0 it begins to run down (or a knot gives), 1 up, 2 a knot comes or is through, 3 it loosens or the surface side
// tightens. While a knot ploughs: 0 it comes to rest, 2 it is through, 3 the surface side tightens or loosens.
static inline void ref_lip_roots(const ref_fall *s, const double *x, const double *v, double *g) {
  g[0] = g[1] = g[2] = g[3] = 1.0;
  if (s->crossing < 0) {
    return;
  }
  int j = s->crossing;
  double length = ref_length(s->in, j), a = -x[j], b = x[j + 1];
  double k = s->lip == REF_DOWN ? s->c : 1.0 / s->c, e = 0.0, rate = 0.0;
  switch (s->lip) {
    case REF_LOOSE:
      g[2] = ref_knot(s) - a;
      g[3] = length - a - b;
      break;
    case REF_REST: {
      double ls = fmax(length - s->over, REF_SHORT);
      double f = (b - (length - s->over)) / ls;
      e = (a - s->over) / fmax(s->over, REF_SHORT);
      g[0] = s->c * fmax(f, 0.0) + (s->knot_on ? s->in->knot_catch / s->in->modulus : 0.0) - e;
      g[1] = s->c * fmax(e, 0.0) - f;
      g[2] = s->knot_on && !(s->brakes_at[j + 1] < 1e100) ? -f : 1.0;  // only to start the clock
      g[3] = fmax(e, f);
      break;
    }
    case REF_PLOUGH: {
      double over_rate = 0.0;
      double over = ref_ploughed(s, x, v, &over_rate, &e, &rate);
      g[0] = over_rate;
      g[2] = ref_knot(s) - s->trench + ref_plough_way(s->in) - over;
      g[3] = s->slack_behind ? length - a / (1.0 + ref_holds(s->in)) - b : e - 1e-13;
      break;
    }
    default:
      g[s->lip == REF_DOWN ? 0 : 1] = (s->lip == REF_DOWN ? 1.0 : -1.0) * ref_over_rate(a, b, -v[j], v[j + 1], length, k, &e, &rate);
      g[2] = s->lip == REF_DOWN ? ref_knot(s) - a / (1.0 + k * e) : 1.0;
      g[3] = a + b - length;
  }
}

static inline int ref_roots(sunrealtype t, N_Vector y, sunrealtype *g, void *user) {
  const ref_fall *s = user;
  const fh_fall_in *in = s->in;
  int n = in->people, r = 0;
  const double *x = N_VGetArrayPointer(y), *v = x + n;
  double hole[REF_N], back[REF_N];
  ref_tensions(s, x, v, hole, back);
  for (int j = 0; j + 1 < n; j++) {
    g[r++] = j == s->crossing ? 1.0 : x[j + 1] - x[j] - ref_length(in, j);
  }
  for (int i = 0; i < n; i++) {
    bool free = s->in_hole[i];
    g[r++] = i == 0 ? v[0] : free || s->slides[i] == 0 ? 1.0 : v[i];
    g[r++] = free || s->slides[i] != 0 ? 1.0 : ref_grip(s, i) - fabs(ref_drive(s, i, hole, back));
    g[r++] = free || s->brakes[i] || !(s->brakes_at[i] < 1e100) ? 1.0 : s->brakes_at[i] - t;
    g[r++] = i == 0 ? 1.0 : x[i];
  }
  ref_lip_roots(s, x, v, g + r);
  return 0;
}

// ---------------------------------------------------------------------------------------------------- events

static inline void ref_clock(ref_fall *s, int person, double t) {
  if (!(s->brakes_at[person] < 1e100)) {
    s->brakes_at[person] = t + s->in->reaction;
  }
}

static inline void ref_plough_on(ref_fall *s, const double *x) {
  int j = s->crossing;
  s->knot_on = true;
  s->lip = REF_PLOUGH;
  s->slack_behind = -x[j] / (1.0 + ref_holds(s->in)) + x[j + 1] <= ref_length(s->in, j);
}

// Rope that has been let go at the lip settles at once: on the bound, or at the next knot.
static inline void ref_let_go(ref_fall *s, const double *x) {
  int j = s->crossing;
  double length = ref_length(s->in, j), a = -x[j], b = x[j + 1];
  for (;;) {
    double e = ref_strain(a, b, length, s->c);
    double over = a + b > length ? a / (1.0 + s->c * e) : a;
    double knot = ref_knot(s);
    if (over <= knot) {
      s->knot_on = false;
      s->over = over;
      s->lip = a + b > length ? REF_DOWN : REF_LOOSE;
      return;
    }
    s->over = fmax(knot, s->over);
    s->knots_held = s->knots_past + 1;
    double hole = (a - s->over) / fmax(s->over, REF_SHORT), rest = length - s->over;
    double back = fmax(0.0, (b - rest) / fmax(rest, REF_SHORT));
    if (s->in->modulus * (hole - s->c * back) <= s->in->knot_catch) {
      s->knot_on = true;
      s->lip = REF_REST;
      return;
    }
    if (ref_plough_way(s->in) > 0.0) {
      ref_plough_on(s, x);
      return;
    }
    s->knots_past++;
  }
}

static inline void ref_lip_event(ref_fall *s, const double *x, const double *v, double t, const int *found) {
  int j = s->crossing;
  double length = ref_length(s->in, j), a = -x[j], b = x[j + 1];
  if (s->lip == REF_LOOSE) {
    if (found[2] != 0) {
      s->over = ref_knot(s);
      s->knot_on = true;
      s->knots_held = s->knots_past + 1;
      s->lip = REF_REST;
    } else if (found[3] != 0) {
      s->over = a;
      s->lip = REF_DOWN;  // the first one falls: the rope tightens from the hole
      ref_clock(s, j + 1, t);
    }
    return;
  }
  if (s->lip == REF_PLOUGH) {
    double over_rate = 0.0, e = 0.0, rate = 0.0;
    double over = ref_ploughed(s, x, v, &over_rate, &e, &rate);
    if (found[2] != 0) {
      s->over = over;
      s->knots_past++;
      s->trench = 0.0;
      ref_let_go(s, x);
    } else if (found[0] != 0) {
      s->trench += over - ref_knot(s);
      s->over = over;
      s->lip = REF_REST;
    } else if (found[3] != 0) {
      s->slack_behind = !s->slack_behind;
      if (!s->slack_behind) {
        ref_clock(s, j + 1, t);
      }
    }
    return;
  }
  if (s->lip == REF_REST) {
    if (found[0] != 0 && s->knot_on && ref_plough_way(s->in) > 0.0) {
      ref_plough_on(s, x);
    } else if (found[0] != 0) {
      s->knots_past += s->knot_on ? 1 : 0;
      ref_let_go(s, x);
      if (s->lip == REF_DOWN) {
        ref_clock(s, j + 1, t);
      }
    } else if (found[1] != 0) {
      s->lip = a + b > length ? REF_UP : REF_LOOSE;
      s->knot_on = false;
    } else if (found[2] != 0) {
      ref_clock(s, j + 1, t);
    } else if (found[3] != 0) {
      s->lip = REF_LOOSE;
      s->knot_on = false;
    }
    return;
  }
  double k = s->lip == REF_DOWN ? s->c : 1.0 / s->c;
  s->over = a / (1.0 + k * ref_strain(a, b, length, k));
  if (found[3] != 0) {
    s->lip = REF_LOOSE;
  } else if (found[2] != 0) {
    s->over = ref_knot(s);
    s->knot_on = true;
    s->knots_held = s->knots_past + 1;
    s->lip = REF_REST;
  } else {
    s->lip = REF_REST;
  }
}

static inline void ref_enter(ref_fall *s, double *x, int i, bool down) {
  s->in_hole[i] = down;
  s->slides[i] = down ? 0 : 1;
  x[i] = 0.0;
  int j = down ? i : i - 1;  // the piece that now passes the lip
  if (down && s->crossing == i - 1) {
    s->taut[i - 1] = x[i] - x[i - 1] > ref_length(s->in, i - 1);
    double before = 0.0;
    for (int k = 0; k < i; k++) {
      before += ref_length(s->in, k);
    }
    while (s->knots_past < s->in->knots && s->in->knot_first + s->knots_past * s->in->knot_apart < before) {
      s->knots_past++;
      s->trench = 0.0;
    }
  }
  s->crossing = j + 1 < s->in->people && j >= 0 ? j : -1;
  s->knot_on = false;
  if (s->crossing >= 0) {
    s->over = down ? 0.0 : ref_length(s->in, j);
    bool taut = x[j + 1] - x[j] > ref_length(s->in, j);
    s->lip = !taut ? REF_LOOSE : down ? REF_DOWN : REF_UP;
  }
}

// After every event: who stands has to be held by friction; who starts goes where he is driven.
static inline void ref_stand_or_slide(ref_fall *s, const double *x, double *v) {
  double hole[REF_N], back[REF_N];
  ref_tensions(s, x, v, hole, back);
  for (int i = 1; i < s->in->people; i++) {
    if (s->in_hole[i] || s->slides[i] != 0) {
      continue;
    }
    double d = ref_drive(s, i, hole, back);
    v[i] = 0.0;
    s->slides[i] = fabs(d) > ref_grip(s, i) * (1.0 - 1e-12) ? (d > 0.0 ? 1 : -1) : 0;
  }
}

static inline void ref_event(ref_fall *s, double *x, double *v, double t, const int *found) {
  int n = s->in->people, r = 0;
  for (int j = 0; j + 1 < n; j++, r++) {
    if (found[r] != 0) {
      s->taut[j] = found[r] > 0;
      if (s->taut[j]) {
        ref_clock(s, j + 1, t);
      }
    }
  }
  for (int i = 0; i < n; i++, r += 4) {
    if (i > 0 && found[r] != 0) {
      s->slides[i] = 0;
    }
    if (i == 0 && found[0 + r] > 0 && s->may_turn) {
      s->bottoms++;
      s->may_turn = false;
    }
    s->may_turn = s->may_turn || (i == 0 && found[r] < 0);
    s->brakes[i] = s->brakes[i] || found[r + 2] != 0;
  }
  if (s->crossing >= 0) {
    const int *lip = found + (n - 1) + 4 * n;
    if (lip[0] != 0 || lip[1] != 0 || lip[2] != 0 || lip[3] != 0) {
      ref_lip_event(s, x, v, t, lip);
    }
  }
  for (int i = 1; i < n; i++) {
    int f = found[(n - 1) + 4 * i + 3];
    if (f != 0) {
      ref_enter(s, x, i, f < 0);
    }
  }
  ref_stand_or_slide(s, x, v);
}

static inline bool ref_moves(const ref_fall *s) {
  for (int i = 1; i < s->in->people; i++) {
    if (!s->in_hole[i] && s->slides[i] != 0) {
      return true;
    }
  }
  return false;
}

static inline void ref_note(ref_fall *s, const double *x, const double *v) {
  double hole[REF_N], back[REF_N];
  ref_tensions(s, x, v, hole, back);
  for (int i = 0; i < s->in->people; i++) {
    s->nearest[i] = fmin(s->nearest[i], x[i]);
    if (i + 1 < s->in->people) {
      s->peak[i] = fmax(s->peak[i], hole[i]);
    }
  }
}

static inline void ref_begin(ref_fall *s, const fh_fall_in *in, double *x, double *v) {
  memset(s, 0, sizeof *s);
  s->in = in;
  s->c = exp(in->lip_friction * in->lip_turn);
  s->lip = REF_LOOSE;
  s->may_turn = true;
  for (int i = 0; i < in->people; i++) {
    x[i] = s->nearest[i] = in->at[i];
    v[i] = -in->start;
    s->slides[i] = in->start > 0.0 ? -1 : 0;
    s->brakes_at[i] = 1e300;
  }
  s->in_hole[0] = true;
  s->slides[0] = 0;
}

static inline void ref_answer(const ref_fall *s, const double *x, bool arrested, fh_fall *out) {
  memset(out, 0, sizeof *out);
  out->arrested = arrested;
  out->knots_caught = s->knots_held;
  out->fall = arrested ? -s->nearest[0] : (double)NAN;
  out->margin = HUGE_VAL;
  for (int i = 1; i < s->in->people; i++) {
    out->slide[i] = s->in->at[i] - fmax(0.0, s->nearest[i]);
    out->margin = fmin(out->margin, fmax(0.0, s->nearest[i]));
    out->pulled_in += x[i] <= 0.0 ? 1 : 0;
    out->peak[i - 1] = s->peak[i - 1];
  }
}

// Low points between which nobody slid: one, or three when others hang as well. @return true at the end
static inline bool ref_over(ref_fall *s, const double *x, bool *arrested) {
  if (s->in_hole[s->in->people - 1] || x[s->in->people - 1] <= 0.0) {
    *arrested = false;
    return true;
  }
  if (ref_moves(s)) {
    s->bottoms = 0;
    return false;
  }
  *arrested = true;
  return s->bottoms >= (s->in_hole[1] ? 3 : 1);
}

/// @param tolerance [1] relative, of the integrator  @return false when it could not be followed to its end
static inline bool ref_team_cvode(const fh_fall_in *in, double tolerance, fh_fall *out) {
  ref_fall s;
  SUNContext context = NULL;
  int n = in->people, found[REF_ROOTS];
  bool arrested = false, ended = false;
  if (SUNContext_Create(NULL, &context) != 0) {
    return false;
  }
  N_Vector y = N_VNew_Serial(2 * n, context);
  double *x = N_VGetArrayPointer(y), *v = x + n;
  ref_begin(&s, in, x, v);
  void *cv = CVodeCreate(CV_ADAMS, context);
  SUNMatrix a = SUNDenseMatrix(2 * n, 2 * n, context);
  SUNLinearSolver ls = SUNLinSol_Dense(y, a, context);
  (void)CVodeInit(cv, ref_derivative, 0.0, y);
  (void)CVodeSStolerances(cv, tolerance, tolerance);
  (void)CVodeSetUserData(cv, &s);
  (void)CVodeSetLinearSolver(cv, ls, a);
  (void)CVodeRootInit(cv, (n - 1) + 4 * n + REF_LIP_ROOTS, ref_roots);
  // A root that has just ended a mode may stand a hair past zero: only the crossing that means something counts.
  int directions[REF_ROOTS] = {0};
  for (int i = 0; i < n; i++) {
    directions[(n - 1) + 4 * i + 1] = directions[(n - 1) + 4 * i + 2] = -1;
  }
  for (int k = 0; k < REF_LIP_ROOTS; k++) {
    directions[(n - 1) + 4 * n + k] = -1;
  }
  (void)CVodeSetRootDirection(cv, directions);
  (void)CVodeSetMaxNumSteps(cv, 100000);
  (void)CVodeSetMaxStep(cv, 0.02);
  (void)CVodeSetNoInactiveRootWarn(cv);
  (void)CVodeSetErrFile(cv, NULL);
  double t = 0.0;
  ref_stand_or_slide(&s, x, v);
  for (long step = 0; step < 200000 && t < 60.0 && !ended; step++) {
    int status = CVode(cv, 60.0, y, &t, CV_ONE_STEP);
    if (status < 0) {
      break;
    }
    ref_note(&s, x, v);
    if (status == CV_ROOT_RETURN) {
      (void)CVodeGetRootInfo(cv, found);
      ref_event(&s, x, v, t, found);
      ref_note(&s, x, v);
      ended = ref_over(&s, x, &arrested);
      if (CVodeReInit(cv, t, y) != 0) {
        break;
      }
    }
  }
  ref_answer(&s, x, arrested, out);
  out->time = t;
  (void)SUNLinSolFree(ls);
  SUNMatDestroy(a);
  N_VDestroy(y);
  CVodeFree(&cv);
  (void)SUNContext_Free(&context);
  return ended;
}

// ---------------------------------------------------------------------------------------------------- random teams

static inline double ref_uniform(unsigned long long *state, double lo, double hi) {
  *state = *state * 6364136223846793005ULL + 1442695040888963407ULL;
  return lo + (hi - lo) * ((double)(*state >> 40) / (double)(1ULL << 24));
}

/// How far a random team's knots plough. @param state of a generator of its own, so that teams without it stay as they are
static inline void ref_team_plough(unsigned long long *state, fh_fall_in *in) {
  in->knot_plough = ref_uniform(state, 0.05, 0.6);
}

/// A random team. @param state of the generator
static inline void ref_team_random(unsigned long long *state, int people, bool knots, fh_fall_in *in) {
  memset(in, 0, sizeof *in);
  in->people = people;
  for (int i = 0; i < people; i++) {
    in->mass[i] = ref_uniform(state, 55.0, 105.0);
    in->at[i] = i == 0 ? 0.0 : in->at[i - 1] + ref_uniform(state, 7.0, 14.0);
  }
  in->modulus = ref_uniform(state, 8000.0, 40000.0);
  in->damping = ref_uniform(state, 0.005, 0.05);
  in->slack = ref_uniform(state, 0.05, 1.0);
  in->stand = ref_uniform(state, 0.1, 0.4);
  in->brake = ref_uniform(state, 0.2, 0.9);
  in->reaction = ref_uniform(state, 0.3, 1.5);
  in->start = ref_uniform(state, 0.0, 1.5);
  in->slope = ref_uniform(state, -0.08, 0.08);
  in->lip_friction = ref_uniform(state, 0.05, 0.5);
  in->lip_turn = ref_uniform(state, 1.0, 1.7);
  if (knots) {
    in->knots = 1 + (int)ref_uniform(state, 0.0, 4.0);
    in->knot_first = ref_uniform(state, 1.0, 3.0);
    in->knot_apart = ref_uniform(state, 0.5, 1.2);
    in->knot_catch = ref_uniform(state, 100.0, 1500.0);
  }
}

#endif
