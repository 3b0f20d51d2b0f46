// SPDX-License-Identifier: MIT
// How hard does a rope over an edge stop a falling weight? Implements model.md, section 6, twice: by energy and by steps
// in time. The rope is a spring without mass; no rope slips at what holds it, so forces of a long fall come out high.
#include <math.h>

#include "firnhaul_rescue.h"

static const double G = 9.80665;  // [m/s^2] standard gravity

static bool not_negative(double x) {
  return x >= 0.0 && x < (double)INFINITY;  // false for NaN
}

static bool valid(const fh_catch_in *in) {
  return in != NULL && in->weight > 0.0 && in->weight < (double)INFINITY && not_negative(in->fall) && in->modulus > 0.0 &&
         in->modulus < (double)INFINITY && not_negative(in->hole) && not_negative(in->surface) &&
         in->hole + in->surface > 0.0 && in->lip >= 1.0 && in->lip < (double)INFINITY && not_negative(in->damping);
}

// While the rope runs over the edge toward the hole the surface side carries `lip` times less and stretches so much less:
// seen from the weight the rope is a plain spring of this length.
static double spring_length(const fh_catch_in *in) {
  return in->hole + in->surface / in->lip;
}

// Energy from the moment of rest at the top to the lowest point: W (h + x) = K x^2 / 2, F = K x.
//   F = W + sqrt(W^2 + 2 W K h)     [goldstone]; without a fall F = 2 W.
fh_status fh_catch_closed(const fh_catch_in *in, fh_catch *out) {
  if (!valid(in) || out == NULL) {
    return FH_ERR_ARG;
  }
  double w = in->weight, k = in->modulus / spring_length(in);
  out->peak = w + sqrt(w * w + 2.0 * w * k * in->fall);
  out->held = in->surface > 0.0 ? out->peak / in->lip : out->peak;
  out->stretch = out->peak / k;
  // A swing about the rest position W/K with the speed sqrt(2 g h) at the start: a quarter of it and what lies before.
  double omega = sqrt(k * G / w), speed = sqrt(2.0 * G * in->fall);
  out->time = sqrt(2.0 * in->fall / G) + (atan2(1.0, 0.0) + atan2(w / k * omega, speed)) / omega;
  return FH_OK;
}

double fh_catch_fall(const fh_catch_in *in, double most) {
  if (in == NULL || !(most > 0.0) || isinf(most)) {
    return (double)NAN;
  }
  fh_catch_in still = *in;
  still.fall = 0.0;
  if (!valid(&still)) {
    return (double)NAN;
  }
  double w = in->weight, over = most - w;
  return over > w ? (over * over - w * w) * spring_length(in) / (2.0 * w * in->modulus) : 0.0;
}

// The state while the rope is taut: how far the weight has sunk, and how much of that the surface side has given.
typedef struct swing {
  double x, v;     // [m], [m/s]
  double surface;  // [m] stretch of the surface side
} swing;

// Tension on the hole side, and the stretch that the surface side tends to. Rope comes over the edge when the hole side
// pulls more than `lip` times harder, else it sticks; it would go back when it pulled `lip` times less, which cannot
// happen before the lowest point.
static double tension(const fh_catch_in *in, const swing *s, double *tends) {
  double m = in->modulus, drive = s->x + in->damping * s->v;  // both sides' strain and strain rate, times length
  double here = m * (drive - s->surface);                     // hole side, were the rope to stick
  *tends = s->surface;
  if (in->surface > 0.0 && (in->hole <= 0.0 || here / in->hole > in->lip * m * s->surface / in->surface)) {
    *tends = drive * (in->surface / in->lip) / spring_length(in);
    return fmax(0.0, m * drive / spring_length(in));
  }
  return fmax(0.0, here / in->hole);
}

// The surface side follows at once, or as its damping lets it: e + damping de/dt = what it tends to.
static double follow(const fh_catch_in *in, double from, double tends, double dt) {
  double share = in->damping > 0.0 ? 1.0 - exp(-dt / in->damping) : 1.0;
  return fmax(from, from + share * (tends - from));
}

static swing step(const fh_catch_in *in, const swing *from, const swing *slope, double dt) {
  double tends;
  double t = tension(in, slope, &tends);
  swing to = {from->x + dt * slope->v, from->v + dt * G * (1.0 - t / in->weight), from->surface};
  (void)tension(in, &to, &tends);
  to.surface = follow(in, from->surface, tends, dt);
  return to;
}

static swing midpoint(const fh_catch_in *in, const swing *from, double dt) {
  swing half = step(in, from, from, 0.5 * dt);
  return step(in, from, &half, dt);
}

// The top of the parabola through three values that stand one step apart.
static double top(double a, double b, double c) {
  double bend = a - 2.0 * b + c;
  return bend < 0.0 ? b - (c - a) * (c - a) / (8.0 * bend) : b;
}

fh_status fh_catch_simulate(const fh_catch_in *in, int steps, fh_catch *out) {
  if (!valid(in) || out == NULL || steps < 8 || steps > 1000000) {
    return FH_ERR_ARG;
  }
  double free_fall = sqrt(2.0 * in->fall / G);
  double dt = atan2(1.0, 0.0) * sqrt(in->weight * spring_length(in) / (G * in->modulus)) / steps;
  double tends, last[3] = {0.0, 0.0, 0.0};
  swing s = {0.0, G * free_fall, 0.0};
  last[2] = tension(in, &s, &tends);
  *out = (fh_catch){.peak = last[2], .stretch = 0.0, .time = free_fall};
  // Midpoint steps until the weight turns: at most two quarter swings, longer only when damping brakes it.
  for (int i = 1; i <= 64 * steps && (i == 1 || s.v > 0.0); i++) {
    swing from = s;
    double part = 1.0;
    s = midpoint(in, &from, dt);
    if (s.v < 0.0) {
      // It turns within this step: the rope would stick at the edge on the way back, so the step ends where it turns.
      part = from.v / (from.v - s.v);
      s = midpoint(in, &from, part * dt);
      s.v = 0.0;
    }
    last[0] = last[1];
    last[1] = last[2];
    last[2] = tension(in, &s, &tends);
    if (last[2] >= out->peak) {
      out->peak = last[2];
      out->stretch = s.x;
      out->time = free_fall + (i - 1 + part) * dt;
    } else if (i >= 2 && last[1] >= last[0] && part >= 1.0) {
      out->peak = fmax(out->peak, top(last[0], last[1], last[2]));  // damping: the greatest force comes before the turn
      break;
    }
  }
  out->held = in->surface > 0.0 ? out->peak / in->lip : out->peak;
  return FH_OK;
}

// ---------------------------------------------------------------------------------------------------- ropes

static int rope_kind(const fh_scene *scene, const fh_gear *gear, int rope) {
  return rope >= 0 && rope < scene->rope_count ? scene->ropes[rope].kind : fh_gear_find(gear, "half");
}

static bool own_modulus(const fh_scene *scene, int rope) {
  return rope >= 0 && rope < scene->rope_count && fh_number_is_set(scene->ropes[rope].modulus);
}

fh_band fh_rope_static_modulus(const fh_scene *scene, const fh_gear *gear, int rope) {
  if (scene == NULL || gear == NULL) {
    return fh_number_band(fh_number_unset());
  }
  if (own_modulus(scene, rope)) {
    return fh_number_band(scene->ropes[rope].modulus);
  }
  fh_number m = fh_gear_figure(gear, rope_kind(scene, gear, rope), "modulus_N", NULL);
  return fh_number_band(fh_number_is_set(m) ? m : fh_gear_figure(gear, fh_gear_find(gear, "half"), "modulus_N", NULL));
}

// A rope's own impact force says more than its kind. EN 892: fall factor 1.77; 80 kg unless the kind says another mass.
static fh_band from_impact(const fh_gear *gear, int kind, fh_number impact) {
  fh_number mass = fh_gear_figure(gear, kind, "impact_mass_kg", NULL), factor = fh_gear_figure(gear, kind, "fall_factor", NULL);
  double m = fh_number_is_set(mass) ? mass.likely : 80.0, f = fh_number_is_set(factor) ? factor.likely : 1.77;
  return (fh_band){fh_rope_modulus_from_impact(impact.lo, m, f), fh_rope_modulus_from_impact(impact.likely, m, f),
                   fh_rope_modulus_from_impact(impact.hi, m, f)};
}

fh_band fh_rope_fall_modulus(const fh_scene *scene, const fh_gear *gear, int rope) {
  fh_band slow = fh_rope_static_modulus(scene, gear, rope);
  if (scene == NULL || gear == NULL) {
    return slow;
  }
  int kind = rope_kind(scene, gear, rope);
  const fh_figure *figure = NULL;
  fh_number impact = fh_gear_figure(gear, kind, "impact_N", &figure);
  fh_band fast = fh_number_band(fh_gear_figure(gear, kind, "fall_modulus_N", NULL));
  if (fh_number_is_set(impact) && figure->basis == FH_BASIS_OWN) {
    fast = from_impact(gear, kind, impact);
  }
  // Nylon pulled fast is stiffer than pulled slowly, never softer; where nothing is known of falls the slow figure stands.
  return (fh_band){fmax(slow.lo, isnan(fast.lo) ? slow.lo : fast.lo), fmax(slow.likely, isnan(fast.likely) ? slow.likely : fast.likely),
                   fmax(slow.hi, isnan(fast.hi) ? slow.hi : fast.hi)};
}
