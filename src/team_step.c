// SPDX-License-Identifier: MIT
// Falls side by side: into a lane, steps by as many at once as the processor can, is it over, out of the lane. The step itself is
// in team_kernel.h; the ends and the energy account of model.md, section 11, are here, in plain C.
#include "team_step.h"

#include "memory.h"

#include <math.h>
#include <stdint.h>

enum { FHI_LINE = 64 };  // [byte] of a cache line, and of the widest register

static const double G = 9.80665;         // [m/s^2]
static const double NEXT_TO_NOTHING = 1e-4;  // [m] of sliding between two low points
static const double LONGEST = 120.0;  // [s] that a fall may take: in 40,000 random teams, damping down to 0, the longest took 59 s

#define EACH(l) for (int l = 0; l < FHI_FALLS; l++)

// ---------------------------------------------------------------------------------------------------- in and out

static void clear_lane(fhi_falls *f, int lane) {
  f->state[lane] = FHI_FALL_IDLE;
  f->dt[lane] = f->kick[lane] = 1e-3;
  f->per_dt[lane] = f->per_kick[lane] = 1e3;
  for (int i = 0; i < f->people; i++) {
    f->at[i][lane] = (double)i;
    f->speed[i][lane] = f->gain[i][lane] = f->weight[i][lane] = f->nearest[i][lane] = 0.0;
    f->brakes_at[i][lane] = (double)INFINITY;
  }
  for (int j = 0; j + 1 < f->people; j++) {
    f->length[j][lane] = 2.0;
    f->per_length[j][lane] = 0.5;
    f->offset[j][lane] = f->over[j][lane] = f->over_half[j][lane] = f->tight[j][lane] = 0.0;
    f->strain[j][lane] = f->strain_back[j][lane] = f->passed[j][lane] = 0.0;
    f->hole[j][lane] = f->back[j][lane] = f->peak[j][lane] = f->pull[j][lane] = 0.0;
  }
  f->ratio[lane] = f->back_ratio[lane] = 1.0;
  f->modulus[lane] = 1.0;
  f->damp[lane] = f->stand[lane] = f->brake[lane] = f->reaction[lane] = f->pull_out[lane] = f->press[lane] = 0.0;
  f->lip_friction[lane] = f->lip_turn[lane] = f->lip_cut[lane] = 0.0;
  f->knot_first[lane] = f->knot_apart[lane] = f->knot_catch[lane] = f->knot_plough[lane] = f->knot_count[lane] = 0.0;
  f->time[lane] = f->run[lane] = f->knots_past[lane] = f->knots_held[lane] = f->bottoms[lane] = f->calm[lane] = 0.0;
  f->trench[lane] = f->knots_then[lane] = 0.0;
  f->low_sum[lane] = (double)INFINITY;
  f->bite[lane] = f->lost_slide[lane] = f->lost_lip[lane] = f->lost_rope[lane] = 0.0;
}

fhi_falls *fhi_falls_create(int people, bool audit) {
  char *block = fhi_alloc(1, sizeof(fhi_falls) + 2 * FHI_LINE);
  if (block == NULL) {
    return NULL;
  }
  // On a cache line, the block's own address just below it.
  uintptr_t place = ((uintptr_t)block + 2 * FHI_LINE - 1) / FHI_LINE * FHI_LINE;
  ((void **)place)[-1] = block;
  fhi_falls *f = (fhi_falls *)place;
  f->people = people;
  f->audit = audit;
  EACH(l) {
    clear_lane(f, l);
  }
  for (int width = 2; fhi_falls_widen(f, width); width *= 2) {
  }
  return f;
}

void fhi_falls_destroy(fhi_falls *f) {
  if (f != NULL) {
    fhi_free(((void **)f)[-1]);
  }
}

bool fhi_falls_widen(fhi_falls *f, int width) {
  bool can = width == 2;
#if defined(__x86_64__)
  can = can || (width == 4 && fhi_wide4_is_built() && __builtin_cpu_supports("avx2")) ||
        (width == 8 && fhi_wide8_is_built() && __builtin_cpu_supports("avx512f"));
#endif
  f->width = can ? width : f->width;
  return can;
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
  f->busy |= 1U << lane;
  f->tag[lane] = tag;
  f->dt[lane] = fitting_step(in, step);
  f->per_dt[lane] = 1.0 / f->dt[lane];
  f->kick[lane] = 0.5 * f->dt[lane];
  f->per_kick[lane] = 1.0 / f->kick[lane];
  f->modulus[lane] = in->modulus;
  f->damp[lane] = in->damping * f->per_dt[lane];
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
    f->per_length[j][lane] = 1.0 / f->length[j][lane];
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
    // One knot ploughs at a time: when the next one comes to the lip, it is through.
    f->knot_plough[lane] = fmin(in->knot_plough, in->knot_apart);
  }
  fhi_lip_set_ratio(f, lane);
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
  f->busy &= ~(1U << lane);
}

// ---------------------------------------------------------------------------------------------------- is it over?

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

static unsigned step_groups(fhi_falls *f) {
  unsigned ends = 0;
  unsigned group = (1U << f->width) - 1U;
  for (int l = 0; l < FHI_FALLS; l += f->width) {
    if ((f->busy >> l & group) != 0) {
      ends |= (f->width == 8 ? fhi_step_wide8(f, l) : f->width == 4 ? fhi_step_wide4(f, l) : fhi_step_wide2(f, l)) << l;
    }
  }
  return ends & f->busy;
}

bool fhi_falls_step(fhi_falls *f) {
  unsigned may_end = step_groups(f);
  bool ended = false;
  for (int l = 0; l < FHI_FALLS && (f->audit || may_end != 0); l++) {
    if (f->audit && f->state[l] != FHI_FALL_IDLE) {
      fhi_audit_step(f, l);
    }
    if ((may_end >> l & 1U) != 0 && f->state[l] == FHI_FALL_RUNS) {
      f->state[l] = how_it_stands(f, l, f->was[l] < 0.0 && f->speed[0][l] >= 0.0, f->moves[l] > 0.0);
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
    bool passes = a >= 0.0 && b > 0.0;
    // Places have moved on since the forces; the rope over the lip has as well, and what that cost is not yet in the account.
    double over = 2.0 * f->over_half[j][l] - f->over[j][l];
    energy += passes ? f->bite[l] * (over - f->over[j][l]) : 0.0;
    energy += passes ? fhi_stretch_energy(f->modulus[l], a, over) + fhi_stretch_energy(f->modulus[l], b, length - over)
                     : fhi_stretch_energy(f->modulus[l], a + b, length);
  }
  return energy;
}
