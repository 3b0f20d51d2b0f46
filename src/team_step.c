// SPDX-License-Identifier: MIT
// How does a rope team move when one falls in? Implements model.md, section 11, for several falls side by side.
//
// Bodies on the bent haul line, s < 0 in the hole; pieces of rope between neighbours. The scheme is leapfrog: forces at a
// whole step kick speeds that stand half a step to either side, and speeds carry places from step to step. Friction is
// projected: it takes from a speed what it may, and where that is all of it, the body stands. Kinks in time (the moment of
// braking, a body passing the lip) are weighted by their share of the kick, so that the error goes with the square of the
// step wherever forces do not jump. Speeds for the rope's damping are carried forward half a step by the last gain.
// The rope's pull: team_rope.c.
//
// No branches on a fall's own numbers in the inner loops, so that falls run side by side in vector units.
#include "team_step.h"

#include "team_vec.h"

#include <math.h>

static const double G = 9.80665;         // [m/s^2]
static const double NEXT_TO_NOTHING = 1e-4;  // [m] of sliding between two low points
static const double LONGEST = 120.0;  // [s] that a fall may take: in 40,000 random teams, damping down to 0, the longest took 59 s

#define EACH(l) for (int l = 0; l < FHI_FALLS; l++)
#define EACH_WIDE(l) for (int l = 0; l < FHI_FALLS; l += FHI_WIDE)

// ---------------------------------------------------------------------------------------------------- in and out

static void clear_lane(fhi_falls *f, int lane) {
  f->state[lane] = FHI_FALL_IDLE;
  f->dt[lane] = f->kick[lane] = 1e-3;
  for (int i = 0; i < f->people; i++) {
    f->at[i][lane] = (double)i;
    f->speed[i][lane] = f->gain[i][lane] = f->weight[i][lane] = f->nearest[i][lane] = 0.0;
    f->brakes_at[i][lane] = (double)INFINITY;
  }
  for (int j = 0; j + 1 < f->people; j++) {
    f->length[j][lane] = 2.0;
    f->offset[j][lane] = f->over[j][lane] = f->tight[j][lane] = 0.0;
    f->hole[j][lane] = f->back[j][lane] = f->peak[j][lane] = f->pull[j][lane] = 0.0;
  }
  f->ratio[lane] = f->back_ratio[lane] = 1.0;
  f->modulus[lane] = 1.0;
  f->damping[lane] = f->stand[lane] = f->brake[lane] = f->reaction[lane] = f->pull_out[lane] = f->press[lane] = 0.0;
  f->lip_friction[lane] = f->lip_turn[lane] = f->lip_cut[lane] = 0.0;
  f->knot_first[lane] = f->knot_apart[lane] = f->knot_catch[lane] = f->knot_count[lane] = 0.0;
  f->time[lane] = f->run[lane] = f->knots_past[lane] = f->knots_held[lane] = f->bottoms[lane] = f->calm[lane] = 0.0;
  f->low_sum[lane] = (double)INFINITY;
  f->bite[lane] = f->lost_slide[lane] = f->lost_lip[lane] = f->lost_rope[lane] = 0.0;
}

void fhi_falls_start(fhi_falls *f, int people, bool audit) {
  f->people = people;
  f->knots = f->cuts = false;
  f->audit = audit;
  EACH(l) {
    clear_lane(f, l);
  }
}

// Stable and accurate needs a step that is short beside the stiffest piece's swing and its damping.
static double fitting_step(const fh_fall_in *in, double step) {
  double light = in->mass[0];
  double shortest = HUGE_VAL;
  for (int i = 1; i < in->people; i++) {
    light = fmin(light, in->mass[i]);
    shortest = fmin(shortest, in->at[i] - in->at[i - 1] + in->slack);
  }
  double swing = sqrt(0.5 * light * shortest / in->modulus);
  double damp = in->damping > 0.0 ? 0.5 * light * shortest / (in->modulus * in->damping) : HUGE_VAL;
  return fmin(step, fmin(0.15 * swing, 0.5 * damp));
}

void fhi_falls_load(fhi_falls *f, int lane, const fh_fall_in *in, double step, int tag) {
  clear_lane(f, lane);
  f->state[lane] = FHI_FALL_RUNS;
  f->tag[lane] = tag;
  f->dt[lane] = fitting_step(in, step);
  f->kick[lane] = 0.5 * f->dt[lane];
  f->modulus[lane] = in->modulus;
  f->damping[lane] = in->damping;
  f->stand[lane] = in->stand;
  f->brake[lane] = in->brake;
  f->reaction[lane] = in->reaction;
  f->pull_out[lane] = G * sin(in->slope);
  f->press[lane] = G * cos(in->slope);
  for (int i = 0; i < in->people; i++) {
    f->at[i][lane] = f->nearest[i][lane] = in->at[i];
    f->speed[i][lane] = -in->start;
    f->weight[i][lane] = 1.0 / in->mass[i];
  }
  double along = 0.0;
  for (int j = 0; j + 1 < in->people; j++) {
    f->length[j][lane] = in->at[j + 1] - in->at[j] + in->slack;
    f->offset[j][lane] = along;
    f->tight[j][lane] = -in->slack;
    along += f->length[j][lane];
  }
  f->lip_friction[lane] = in->lip_friction;
  f->lip_turn[lane] = in->lip_turn;
  f->lip_cut[lane] = in->lip_cut;
  f->cuts = f->cuts || in->lip_cut > 0.0;
  if (in->knots > 0) {
    f->knots = true;
    f->knot_count[lane] = in->knots;
    f->knot_first[lane] = in->knot_first;
    f->knot_apart[lane] = in->knot_apart;
    f->knot_catch[lane] = in->knot_catch;
  }
  fhi_falls_set_ratio(f, lane);
}

static void take_unresolved(const fhi_falls *f, fh_fall *out) {
  out->outcome = FH_OUTCOME_UNRESOLVED;
  out->fall = out->margin = (double)NAN;
  for (int i = 0; i < f->people; i++) {
    out->slide[i] = out->peak[i] = out->pull[i] = (double)NAN;
  }
}

void fhi_falls_take(fhi_falls *f, int lane, const fh_fall_in *in, fh_fall *out) {
  *out = (fh_fall){.outcome = FH_OUTCOME_SOLVED, .time = f->time[lane], .energy_miss = (double)NAN};
  out->arrested = f->state[lane] == FHI_FALL_RESTS;
  out->knots_caught = (int)f->knots_held[lane];
  out->margin = (double)INFINITY;
  for (int i = 1; i < f->people; i++) {
    double nearest = fmax(0.0, f->nearest[i][lane]);
    out->pulled_in += f->at[i][lane] <= 0.0 ? 1 : 0;
    out->slide[i] = in->at[i] - nearest;
    out->margin = fmin(out->margin, nearest);
    out->peak[i - 1] = f->peak[i - 1][lane];
    out->pull[i - 1] = f->pull[i - 1][lane];
  }
  out->fall = out->arrested ? -f->nearest[0][lane] : (double)NAN;
  if (f->state[lane] == FHI_FALL_ENDLESS) {
    take_unresolved(f, out);
  }
  f->state[lane] = FHI_FALL_IDLE;
}

// ---------------------------------------------------------------------------------------------------- people

// One person's kick and drift. @param moves [1] set to 1 where someone on the surface slides
static void move_person(fhi_falls *f, int i, fhi_lane *v, double *moves) {
  static const fhi_lane NONE = {0.0};
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec one = FHI_ALL(1.0);
  const double *behind = i + 1 == f->people ? NONE : f->hole[i];
  const double *before = i == 0 ? NONE : f->back[i - 1];
  const fhi_vec slider = FHI_ALL(i == 0 ? 0.0 : 1.0);
  const fhi_vec always_in = FHI_ALL(i == 0 ? 1.0 : 0.0);
  EACH_WIDE(l) {
    fhi_vec s = FHI_LOAD(&f->at[i][l]);
    fhi_vec kick = FHI_LOAD(&f->kick[l]);
    fhi_vec dt = FHI_LOAD(&f->dt[l]);
    fhi_vec pace = FHI_LOAD(&v[i][l]);
    fhi_vec speed = FHI_LOAD(&f->speed[i][l]);
    // Share of the kick that is spent in the hole.
    fhi_vec in = 0.5 - s / (FHI_MAX(pace, -pace) * dt + 1e-30);
    in = FHI_MAX(FHI_MIN(FHI_MAX(in, none), one), always_in);
    fhi_vec out = 1.0 - in;
    fhi_vec drive = FHI_LOAD(&f->weight[i][l]) * (FHI_LOAD(&behind[l]) - FHI_LOAD(&before[l])) - in * G - out * FHI_LOAD(&f->pull_out[l]);
    fhi_vec free = speed + kick * drive;
    // Share of the kick after the reaction time.
    fhi_vec awake = (FHI_LOAD(&f->time[l]) + 0.5 * dt - FHI_LOAD(&f->brakes_at[i][l])) / dt;
    awake = FHI_MIN(FHI_MAX(awake, none), one);
    fhi_vec stand = FHI_LOAD(&f->stand[l]);
    fhi_vec grip = kick * out * FHI_LOAD(&f->press[l]) * (stand + awake * (FHI_LOAD(&f->brake[l]) - stand));
    fhi_vec after = FHI_PICK(FHI_ABOVE(free, none), FHI_MAX(free - grip, none), FHI_MIN(free + grip, none));
    FHI_STORE(&f->taken[l], free - after);
    FHI_STORE(&f->gain[i][l], (after - speed) / kick);
    FHI_STORE(&f->speed[i][l], after);
    fhi_vec to = s + dt * after;
    FHI_STORE(&f->at[i][l], to);
    FHI_STORE(&f->nearest[i][l], FHI_MIN(to, FHI_LOAD(&f->nearest[i][l])));
    fhi_mask slides = FHI_ABOVE(s, none) & (FHI_ABOVE(after, none) | FHI_ABOVE(none, after));
    FHI_STORE(&moves[l], FHI_MAX(FHI_PICK(slides, slider, none), FHI_LOAD(&moves[l])));
  }
}

// Work of friction: what it took from the speed, at the mean speed of the kick.
static void audit_person(fhi_falls *f, int i, const double *before) {
  EACH(l) {
    f->lost_slide[l] += f->weight[i][l] > 0.0 ? f->taken[l] * 0.5 * (before[l] + f->speed[i][l]) / f->weight[i][l] : 0.0;
  }
}

// Nobody slides and nothing swings to speak of: a rope with much damping comes to rest without turning.
static bool is_quiet(const fhi_falls *f, int l) {
  for (int i = 0; i < f->people; i++) {
    if (fabs(f->speed[i][l]) > 1e-3 || (f->at[i][l] <= 0.0 && fabs(f->gain[i][l]) > 1e-2)) {
      return false;
    }
  }
  return true;
}

// A friction that is less than the one before may still set someone sliding.
static bool may_let_go(const fhi_falls *f, int l) {
  for (int i = 1; i < f->people && f->brake[l] < f->stand[l]; i++) {
    if (f->brakes_at[i][l] < 1e100 && f->time[l] < f->brakes_at[i][l]) {
      return true;
    }
  }
  return false;
}

// Without damping and lip friction a holder at the edge of sliding gives way by less and less at every low point, for ever.
static void count_calm(fhi_falls *f, int l) {
  double sum = 0.0;
  for (int i = 1; i < f->people; i++) {
    sum += f->at[i][l];
  }
  f->calm[l] = fabs(sum - f->low_sum[l]) < NEXT_TO_NOTHING ? f->calm[l] + 1.0 : 0.0;
  f->low_sum[l] = sum;
}

// At the first one's lowest point the rope pulls hardest. When nobody slides there, nobody will: each later swing is less, for
// nothing feeds it. With two or more in the hole they can trade their swings, so three low points are waited for.
static fhi_fall_state how_it_stands(fhi_falls *f, int l, bool turned, bool moves) {
  if (f->at[f->people - 1][l] <= 0.0) {
    return FHI_FALL_LOST;
  }
  if (turned) {
    count_calm(f, l);
  }
  if (!may_let_go(f, l)) {
    double enough = f->at[1][l] <= 0.0 ? 3.0 : 1.0;
    if ((turned && !moves && f->bottoms[l] >= enough) || (turned && f->calm[l] >= enough) || (!moves && is_quiet(f, l))) {
      return FHI_FALL_RESTS;
    }
  }
  return f->time[l] > LONGEST ? FHI_FALL_ENDLESS : FHI_FALL_RUNS;
}

// Does the first one turn at the bottom, is all slow, is nobody left? Then a lane may have come to its end.
static bool count_step(fhi_falls *f, const double *was, const double *moves) {
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec slow = FHI_ALL(1e-3);
  fhi_mask ends = {0};
  EACH_WIDE(l) {
    fhi_vec dt = FHI_LOAD(&f->dt[l]);
    fhi_vec speed = FHI_LOAD(&f->speed[0][l]);
    fhi_mask still = FHI_REACHES(none, FHI_LOAD(&moves[l]));
    fhi_mask turned = FHI_ABOVE(none, FHI_LOAD(&was[l])) & FHI_REACHES(speed, none);
    fhi_vec bottoms = FHI_LOAD(&f->bottoms[l]) + FHI_PICK(turned, FHI_ALL(1.0), none);
    fhi_vec time = FHI_LOAD(&f->time[l]) + dt;
    FHI_STORE(&f->bottoms[l], FHI_PICK(still, bottoms, none));
    FHI_STORE(&f->time[l], time);
    FHI_STORE(&f->kick[l], dt);
    ends |= turned | (still & FHI_ABOVE(slow, speed) & FHI_ABOVE(slow, -speed)) |
            FHI_REACHES(none, FHI_LOAD(&f->at[f->people - 1][l])) | FHI_ABOVE(time, FHI_ALL(LONGEST));
  }
  return FHI_ANY(ends);
}

bool fhi_falls_step(fhi_falls *f) {
  fhi_lane v[FH_MAX_PEOPLE];
  fhi_lane moves = {0.0};
  fhi_lane was;
  for (int i = 0; i < f->people; i++) {
    EACH_WIDE(l) {
      FHI_STORE(&v[i][l], FHI_LOAD(&f->speed[i][l]) + 0.5 * FHI_LOAD(&f->dt[l]) * FHI_LOAD(&f->gain[i][l]));
    }
  }
  fhi_falls_pull(f, v);
  EACH(l) {
    was[l] = f->speed[0][l];
  }
  for (int i = 0; i < f->people; i++) {
    fhi_lane before;
    EACH(l) {
      before[l] = f->speed[i][l];
    }
    move_person(f, i, v, moves);
    if (f->audit) {
      audit_person(f, i, before);
    }
  }
  if (!count_step(f, was, moves)) {
    return false;
  }
  bool ended = false;
  EACH(l) {
    if (f->state[l] == FHI_FALL_RUNS) {
      f->state[l] = how_it_stands(f, l, was[l] < 0.0 && f->speed[0][l] >= 0.0, moves[l] > 0.0);
      ended = ended || f->state[l] != FHI_FALL_RUNS;
    }
  }
  return ended;
}

// ---------------------------------------------------------------------------------------------------- energy

double fhi_falls_energy(const fhi_falls *f, int l, const fh_fall_in *in) {
  double energy = 0.0;
  for (int i = 0; i < f->people; i++) {
    double v = f->speed[i][l] + 0.5 * f->dt[l] * f->gain[i][l];
    double s = f->at[i][l];
    double height = i == 0 || s <= 0.0 ? s : s * sin(in->slope);
    energy += in->mass[i] * (0.5 * v * v + G * height);
  }
  for (int j = 0; j + 1 < f->people; j++) {
    double a = -f->at[j][l];
    double b = f->at[j + 1][l];
    double length = f->length[j][l];
    double over = f->over[j][l];
    bool passes = a >= 0.0 && b > 0.0;
    energy += passes ? fhi_stretch_energy(f->modulus[l], a, over) + fhi_stretch_energy(f->modulus[l], b, length - over)
                     : fhi_stretch_energy(f->modulus[l], a + b, length);
  }
  return energy;
}
