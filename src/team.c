// SPDX-License-Identifier: MIT
// One fall, or many, from plain numbers: what is asked, who runs where, what comes out. Implements model.md, section 11.
#include "team_step.h"

#include <math.h>

static const double G = 9.80665;      // [m/s^2]
// [s] Over 20,000 random teams of four, 10 ms moves the fall by less than 3 mm in 95 of 100; docs/team.md has the table.
static const double STEP_MANY = 0.010;
static const double STEP_ONE = 0.0005;
static const double AFTERWARDS = 1.0; // [s] that a trace goes on once all is over

double fh_fall_step(bool many) {
  return many ? STEP_MANY : STEP_ONE;
}

static bool within(double x, double lo, double hi) {
  return x >= lo && x <= hi;  // false for NaN
}

static bool people_are_sound(const fh_fall_in *in) {
  for (int i = 0; i < in->people; i++) {
    bool placed = i == 0 ? within(in->at[0], 0.0, 0.0) : in->at[i] > in->at[i - 1] && in->at[i] <= 6000.0;
    if (!placed || !within(in->mass[i], 1.0, 1e4)) {
      return false;
    }
  }
  return true;
}

static bool knots_are_sound(const fh_fall_in *in) {
  return in->knots == 0 || (within(in->knots, 1.0, 50.0) && within(in->knot_first, 0.0, 1000.0) && within(in->knot_apart, 0.01, 1000.0) &&
                            within(in->knot_catch, 0.0, 1e6) && within(in->knot_plough, 0.0, 1000.0));
}

static bool is_sound(const fh_fall_in *in) {
  return within(in->people, 2.0, FH_MAX_PEOPLE) && people_are_sound(in) && knots_are_sound(in) && within(in->modulus, 100.0, 1e7) &&
         within(in->damping, 0.0, 10.0) && within(in->slack, 0.0, 1000.0) && within(in->stand, 0.0, 10.0) && within(in->brake, 0.0, 10.0) &&
         within(in->reaction, 0.0, 100.0) && within(in->start, 0.0, 20.0) && within(in->slope, -1.5, 1.5) &&
         within(in->lip_friction, 0.0, 5.0) && within(in->lip_turn, 0.0, 6.3) && within(in->lip_cut, 0.0, 10.0);
}

static bool step_is_sound(double *step, bool many) {
  *step = isnan(*step) ? fh_fall_step(many) : *step;
  return within(*step, 1e-6, 0.02);
}

// ---------------------------------------------------------------------------------------------------- many falls

fh_status fh_falls_run(const fh_fall_in *in, int count, double step, fh_fall *out) {
  if (in == NULL || out == NULL || count < 1 || !step_is_sound(&step, true)) {
    return FH_ERR_ARG;
  }
  for (int i = 0; i < count; i++) {
    if (!is_sound(&in[i]) || in[i].people != in[0].people) {
      return FH_ERR_ARG;
    }
  }
  fhi_falls *f = fhi_falls_create(in[0].people, false);
  if (f == NULL) {
    return FH_ERR_MEMORY;
  }
  int next = 0;
  int left = count;
  for (int l = 0; l < FHI_FALLS && next < count; l++, next++) {
    fhi_falls_load(f, l, &in[next], step, next);
  }
  // A lane that has ended takes the next fall, so that no lane waits for the slowest.
  while (left > 0) {
    if (!fhi_falls_step(f)) {
      continue;
    }
    for (int l = 0; l < FHI_FALLS; l++) {
      if (f->state[l] <= FHI_FALL_RUNS) {
        continue;
      }
      fhi_falls_take(f, l, &in[f->tag[l]], &out[f->tag[l]]);
      left--;
      if (next < count) {
        fhi_falls_load(f, l, &in[next], step, next);
        next++;
      }
    }
  }
  fhi_falls_destroy(f);
  return FH_OK;
}

// ---------------------------------------------------------------------------------------------------- one fall, watched

// One point of the trace: the forces of a step belong to the places before it.
static void note_point(const fhi_falls *f, fhi_lane *at, double time, fh_fall_trace *trace) {
  int n = trace->count++;
  trace->time[n] = time;
  for (int i = 0; i < f->people; i++) {
    trace->at[n][i] = at[i][0];
    trace->hole[n][i] = i + 1 < f->people ? f->hole[i][0] : 0.0;
    trace->surface[n][i] = i + 1 < f->people ? f->back[i][0] : 0.0;
  }
}

// Every second point goes when there is no more room, and from then on every second step is noted.
static void thin_out(fh_fall_trace *trace) {
  for (int n = 0; 2 * n < trace->count; n++) {
    trace->time[n] = trace->time[2 * n];
    for (int i = 0; i < FH_MAX_PEOPLE; i++) {
      trace->at[n][i] = trace->at[2 * n][i];
      trace->hole[n][i] = trace->hole[2 * n][i];
      trace->surface[n][i] = trace->surface[2 * n][i];
    }
  }
  trace->count = (trace->count + 1) / 2;
}

typedef struct watch {
  fh_fall_trace *trace;
  long step, every;
} watch;

static bool watched_step(fhi_falls *f, watch *w) {
  fhi_lane at[FH_MAX_PEOPLE];
  double time = f->time[0];
  for (int i = 0; i < f->people; i++) {
    at[i][0] = f->at[i][0];
  }
  bool ended = fhi_falls_step(f);
  if (w->step++ % w->every == 0) {
    if (w->trace->count == FH_TRACE_POINTS) {
      thin_out(w->trace);
      w->every *= 2;
    }
    if ((w->step - 1) % w->every == 0) {
      note_point(f, at, time, w->trace);
    }
  }
  return ended;
}

// What went into motion: the yardstick of the energy balance.
static double turned_over(const fhi_falls *f, const fh_fall_in *in) {
  double sum = 0.0;
  for (int i = 0; i < in->people; i++) {
    sum += in->mass[i] * (0.5 * in->start * in->start + G * fabs(in->at[i] - f->at[i][0]));
  }
  return fmax(sum, 1.0);
}

static void run_watched(fhi_falls *f, const fh_fall_in *in, double step, fh_fall *out, fh_fall_trace *trace) {
  watch w = {trace, 0, 1};
  trace->count = 0;
  fhi_falls_load(f, 0, in, step, 0);
  double begin = fhi_falls_energy(f, 0, in);
  while (!watched_step(f, &w)) {
  }
  double lost = f->lost_slide[0] + f->lost_lip[0] + f->lost_rope[0];
  double miss = (begin - fhi_falls_energy(f, 0, in) - lost) / turned_over(f, in);
  fhi_fall_state state = f->state[0];
  fhi_falls_take(f, 0, in, out);
  out->energy_miss = miss;
  // The swing goes on for a moment, for the eye only.
  f->busy = 1U;
  for (double until = f->time[0] + AFTERWARDS; state == FHI_FALL_RESTS && f->time[0] < until;) {
    (void)watched_step(f, &w);
  }
}

fh_status fh_fall_run(const fh_fall_in *in, double step, fh_fall *out, fh_fall_trace *trace) {
  if (in == NULL || out == NULL || !is_sound(in) || !step_is_sound(&step, false)) {
    return FH_ERR_ARG;
  }
  if (trace == NULL) {
    return fh_falls_run(in, 1, step, out);
  }
  fhi_falls *f = fhi_falls_create(in->people, true);
  if (f == NULL) {
    return FH_ERR_MEMORY;
  }
  run_watched(f, in, step, out, trace);
  fhi_falls_destroy(f);
  return FH_OK;
}

// ---------------------------------------------------------------------------------------------------- closed form

double fh_fall_slide(const fh_fall_in *in, int in_hole) {
  if (in == NULL || !is_sound(in) || in_hole < 1 || in_hole >= in->people) {
    return (double)NAN;
  }
  double c = exp(in->lip_friction * in->lip_turn);
  double hang = 0.0;
  double slide = 0.0;
  for (int i = 0; i < in->people; i++) {
    hang += i < in_hole ? in->mass[i] : 0.0;
    slide += i < in_hole ? 0.0 : in->mass[i];
  }
  return G * (hang - c * slide * (in->brake * cos(in->slope) - sin(in->slope))) / (hang + c * slide);
}
