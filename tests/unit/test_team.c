// SPDX-License-Identifier: MIT
// Falls of rope teams against closed forms of mechanics (textbook results; each stands at its claim), against identities, and
// against themselves with smaller steps. Against another integrator: tests/refs/ref_team_cvode.c.
#include "fh_test.h"
#include "firnhaul_team.h"
#include "team_step.h"

#include <stdlib.h>
#include <string.h>

static const double G = 9.80665;

// A holder so heavy and rough that the surface end of the rope is fixed.
static fh_fall_in rock(void) {
  return (fh_fall_in){.people = 2, .mass = {80.0, 9000.0}, .at = {0.0, 10.0}, .modulus = 20000.0, .stand = 5.0, .brake = 5.0, .reaction = 1.0};
}

static fh_fall_in three(void) {
  return (fh_fall_in){.people = 3, .mass = {85.0, 75.0, 80.0}, .at = {0.0, 12.0, 24.0}, .modulus = 18000.0, .damping = 0.02, .slack = 0.3, .stand = 0.25,
                      .brake = 0.6, .reaction = 0.8, .lip_friction = 0.3, .lip_turn = 1.4};
}

static fh_fall run(const fh_fall_in *in, double step) {
  fh_fall out;
  assert_status(fh_fall_run(in, step, &out, NULL), FH_OK);
  return out;
}

// Free fall h onto a spring of stiffness M / L: F = W + sqrt(W^2 + 2 W M h / L), depth h + F L / M. Conservation of energy.
static void a_free_fall_on_an_elastic_rope_peaks_as_energy_says(void **state) {
  (void)state;
  for (double slack = 0.0; slack < 4.0; slack += 0.7) {
    fh_fall_in in = rock();
    in.slack = slack;
    double length = 10.0 + slack;
    double force = fh_rope_catch(80.0 * G, in.modulus, slack, length);
    fh_fall f = run(&in, 1e-4);
    assert_true(f.arrested);
    assert_close(f.peak[0], force, 1e-4);  // the step's square, and the peak between two steps
    assert_close(f.fall, slack + force * length / in.modulus, 1e-4);
    assert_near(f.slide[1], 0.0, 1e-12);
    assert_near(f.margin, 10.0, 1e-12);
  }
}

// With a walk of v the fall starts at v: as if from v^2 / 2g higher up.
static void a_start_at_a_walk_is_a_longer_fall(void **state) {
  (void)state;
  fh_fall_in in = rock();
  in.slack = 1.0;
  in.start = 1.2;
  fh_fall f = run(&in, 1e-4);
  double walked = 1.2 * 1.2 / (2.0 * 5.0 * G);  // the holder stops on friction 5
  double slack = 1.0 + walked;                  // and so far the rope hangs looser
  assert_close(f.slide[1], walked, 1e-3);
  double w = 80.0 * G;
  double k = in.modulus / 11.0;
  double energy = w * slack + 0.5 * 80.0 * 1.2 * 1.2;
  assert_close(f.peak[0], w + sqrt(w * w + 2.0 * k * energy), 1e-3);
}

// One hangs, one slides on constant friction: a = g (m_f - C mu m_h) / (m_f + C m_h) (facts of the trade, derived by Newton's
// second law). A stiff, damped rope swings about that: the mean over a long slide has to come out.
static void a_team_of_two_slides_as_newton_says(void **state) {
  (void)state;
  for (int i = 0; i < 8; i++) {
    double mu = 0.1 + 0.05 * i;
    double slope = -0.1 + 0.03 * i;
    fh_fall_in in = {.people = 2, .mass = {80.0, 70.0}, .at = {0.0, 60.0}, .modulus = 200000.0, .damping = 0.05, .stand = mu, .brake = mu, .reaction = 0.5,
                     .slope = slope, .lip_friction = 0.05 * i, .lip_turn = 1.5};
    double c = exp(in.lip_friction * in.lip_turn);
    double a = G * (80.0 - c * 70.0 * (mu * cos(slope) - sin(slope))) / (80.0 + c * 70.0);
    assert_close(fh_fall_slide(&in, 1), a, 1e-12);
    fh_fall f = run(&in, 1e-3);
    assert_false(f.arrested);
    assert_int_equal(f.pulled_in, 1);
    assert_exact(f.margin, 0.0);
    assert_nan(f.fall);
    assert_close(f.time, sqrt(2.0 * 60.0 / a), 0.01);  // the rope's stretch takes some centimetres out of 60 m
  }
}

// The published closed form's worked numbers: equal masses, no lip friction, mu 0.3: a = 3.43; two holders with C 1.60 hold
// from mu = 1 / (2 C).
static void the_closed_form_gives_its_worked_numbers(void **state) {
  (void)state;
  fh_fall_in in = {.people = 2, .mass = {80.0, 80.0}, .at = {0.0, 10.0}, .modulus = 20000.0, .stand = 0.3, .brake = 0.3, .reaction = 1.0};
  assert_near(fh_fall_slide(&in, 1), 3.43, 0.005);
  fh_fall_in two = {.people = 3, .mass = {80.0, 80.0, 80.0}, .at = {0.0, 10.0, 20.0}, .modulus = 20000.0, .stand = 0.3, .reaction = 1.0,
                    .lip_friction = log(1.6), .lip_turn = 1.0};
  two.brake = 1.0 / 3.2;
  assert_near(fh_fall_slide(&two, 1), 0.0, 1e-12);
  assert_nan(fh_fall_slide(&in, 2));
  assert_nan(fh_fall_slide(&in, 0));
}

// Coulomb's stop: from v a body slides v^2 / (2 mu g cos) on the level.
static void a_walker_stops_where_coulomb_says(void **state) {
  (void)state;
  for (double mu = 0.1; mu < 1.0; mu += 0.15) {
    fh_fall_in in = rock();
    in.people = 3;
    in.mass[2] = 70.0;
    in.at[2] = 40.0;
    in.slack = 10.0;  // loose: nobody behind feels the fall
    in.stand = in.brake = mu;
    in.start = 1.5;
    in.mass[1] = 10000.0;  // hardly moved by the fall
    fh_fall f = run(&in, 5e-4);
    assert_close(f.slide[2], 1.5 * 1.5 / (2.0 * mu * G), 2e-3);
  }
}

// Friction enough: a Coulomb body pulled by less than mu m g does not move at all.
static void a_holder_with_enough_grip_does_not_move(void **state) {
  (void)state;
  fh_fall_in in = rock();
  in.mass[1] = 100.0;
  in.stand = 1.63;  // twice the weight of 80 kg is 1.6 times that of 100 kg
  in.brake = 1.63;
  assert_near(run(&in, 1e-4).slide[1], 0.0, 1e-12);
  in.stand = in.brake = 1.57;
  assert_true(run(&in, 1e-4).slide[1] > 1e-5);
}

// With friction at the lip the hole side carries the ratio times the surface side at the peak.
static void the_lip_divides_the_peak(void **state) {
  (void)state;
  fh_fall_in in = rock();
  in.lip_friction = 0.4;
  in.lip_turn = 1.3;
  in.slack = 1.0;
  fh_fall f = run(&in, 1e-4);
  assert_close(f.peak[0] / f.pull[0], exp(0.52), 1e-6);
}

// Rope run that seats the rope in its own groove raises the ratio to exp(4 / pi mu turn), no more.
static void a_cut_lip_grips_up_to_four_over_pi(void **state) {
  (void)state;
  fh_fall_in in = rock();
  in.lip_friction = 0.4;
  in.lip_turn = 1.3;
  in.slack = 2.0;
  in.modulus = 8000.0;
  in.lip_cut = 3.0;
  fh_fall f = run(&in, 1e-4);
  assert_close(f.peak[0] / f.pull[0], exp(0.52 * 4.0 / 3.14159265358979323846), 1e-6);
}

// A knot that holds more than the peak keeps all behind it at rest.
static void a_strong_knot_spares_the_holders(void **state) {
  (void)state;
  fh_fall_in in = three();
  in.knots = 1;
  in.knot_first = 1.5;
  in.knot_apart = 1.0;
  in.knot_catch = 50000.0;
  in.slack = 2.0;
  in.damping = 0.0;
  fh_fall f = run(&in, 1e-4);
  assert_true(f.arrested);
  assert_int_equal(f.knots_caught, 1);
  assert_near(f.slide[1], 0.0, 1e-12);
  assert_near(f.pull[0], 0.0, 1e-12);
  // The first one falls 1.5 m onto 1.5 m of rope: fall factor 1.
  assert_close(f.peak[0], fh_rope_impact(in.modulus, 85.0, 1.0), 1e-3);
}

// A knot that ploughs takes catch (1 + c) for each metre of rope, c its strain, and lets the stretch of the rope before it go: together
// catch plough (1 + c) + catch c x / 2 for a knot at x. What is left of the fall comes into the rope at its end. Conservation of energy.
static void a_knot_takes_catch_times_plough(void **state) {
  (void)state;
  for (int i = 0; i < 12; i++) {
    fh_fall_in in = rock();
    in.slack = 4.0;
    in.knots = 1;
    in.knot_first = 2.0 + 0.1 * i;
    in.knot_apart = 1.0;
    in.knot_catch = 300.0 + 100.0 * (i % 4);
    in.knot_plough = 0.25 * (i % 3);
    double c = in.knot_catch / in.modulus, w = 80.0 * G, length = 14.0;
    double taken = in.knot_catch * in.knot_plough * (1.0 + c) + 0.5 * in.knot_catch * c * in.knot_first;
    double force = w + sqrt(w * w + 2.0 * in.modulus / length * (w * in.slack - taken));
    fh_fall f = run(&in, 1e-4);
    assert_close(f.peak[0], force, 1e-5);
    assert_close(f.fall, in.slack + force * length / in.modulus, 1e-5);
    assert_int_equal(f.knots_caught, 1);
  }
}

// A trench that is longer than the fall needs: it ends p into it, where the weight's work is the stretch's and the knot's.
//   W (x + p) (1 + c) = catch c x / 2 + catch p (1 + c)
static void a_knot_may_plough_to_a_halt(void **state) {
  (void)state;
  for (double strong = 2500.0; strong < 4100.0; strong += 500.0) {
    fh_fall_in in = rock();
    in.slack = 6.0;
    in.knots = 1;
    in.knot_first = 3.0;
    in.knot_apart = 2.0;
    in.knot_catch = strong;
    in.knot_plough = 1.5;
    double c = strong / in.modulus, w = 80.0 * G, x = 3.0;
    double p = (w * x * (1.0 + c) - 0.5 * strong * c * x) / ((strong - w) * (1.0 + c));
    fh_fall f = run(&in, 1e-4);
    assert_true(f.arrested);
    assert_close(f.fall, (x + p) * (1.0 + c), 1e-5);
    assert_close(f.peak[0], strong, 1e-5);
    assert_near(f.pull[0], 0.0, 1e-12);
  }
}

// A knot that ploughs as far as to the next one holds no longer than that: one ploughs at a time.
static void knots_plough_one_at_a_time(void **state) {
  (void)state;
  fh_fall_in in = three();
  in.knots = 4;
  in.knot_first = 1.0;
  in.knot_apart = 0.4;
  in.knot_catch = 500.0;
  in.knot_plough = 0.4;
  fh_fall a = run(&in, 1e-3);
  in.knot_plough = 5.0;
  fh_fall b = run(&in, 1e-3);
  assert_exact(a.fall, b.fall);
  assert_exact(a.peak[0], b.peak[0]);
}

static fh_fall_in three_knotted(void) {
  fh_fall_in in = three();
  in.knots = 4;
  in.knot_first = 1.5;
  in.knot_apart = 0.7;
  in.knot_catch = 450.0;
  in.knot_plough = 0.25;
  return in;
}

static void knots_that_hold_nothing_change_nothing(void **state) {
  (void)state;
  fh_fall_in in = three();
  fh_fall a = run(&in, 1e-3);
  in.knots = 6;
  in.knot_first = 1.0;
  in.knot_apart = 0.5;
  in.knot_catch = 0.0;
  fh_fall b = run(&in, 1e-3);
  assert_close(b.fall, a.fall, 1e-9);
  assert_close(b.peak[0], a.peak[0], 1e-9);
  assert_true(b.knots_caught > 0);
}

// Energy in = energy out: what is missing goes with the square of the step.
static void energy_balances_ever_better_with_smaller_steps(void **state) {
  (void)state;
  static fh_fall_trace trace;
  fh_fall_in in = three();
  fh_fall f;
  double last = 1.0;
  for (double step = 0.008; step > 2e-4; step *= 0.5) {
    assert_status(fh_fall_run(&in, step, &f, &trace), FH_OK);
    assert_true(fabs(f.energy_miss) < last * 0.3);
    last = fabs(f.energy_miss);
  }
  assert_true(last < 1e-7);
}

static void energy_balances_with_knots_that_plough(void **state) {
  (void)state;
  static fh_fall_trace trace;
  fh_fall_in in = three_knotted();
  fh_fall f;
  for (double step = 0.008; step > 2e-4; step *= 0.5) {
    assert_status(fh_fall_run(&in, step, &f, &trace), FH_OK);
    // 2.7e-4 at 8 ms. The account, not the motion, is good to the step itself where a knot is through within one.
    assert_true(fabs(f.energy_miss) < 0.04 * step);
  }
}

static void the_answer_does_not_hang_on_the_step(void **state) {
  (void)state;
  fh_fall_in in = three();
  fh_fall fine = run(&in, 2e-5);
  for (double step = 0.008; step > 1e-4; step *= 0.5) {
    fh_fall f = run(&in, step);
    assert_near(f.fall, fine.fall, 15.0 * step * step);  // 0.24 mm at 4 ms: the step's square
    assert_near(f.slide[2], fine.slide[2], 15.0 * step * step);
    assert_close(f.peak[0], fine.peak[0], 0.3 * step);
  }
  in = three_knotted();
  fine = run(&in, 2e-5);
  for (double step = 0.008; step > 1e-4; step *= 0.5) {
    fh_fall f = run(&in, step);
    assert_near(f.fall, fine.fall, 60.0 * step * step);
    assert_near(f.slide[2], fine.slide[2], 60.0 * step * step);
  }
}

// Masses, modulus scaled together: forces scale, paths stay. Newton's laws and Coulomb's are linear in them.
static void scaled_masses_scale_the_forces_alone(void **state) {
  (void)state;
  fh_fall_in in = three();
  fh_fall a = run(&in, 1e-3);
  for (int i = 0; i < 3; i++) {
    in.mass[i] *= 2.0;
  }
  in.modulus *= 2.0;
  fh_fall b = run(&in, 1e-3);
  assert_close(b.fall, a.fall, 1e-12);
  assert_close(b.slide[1], a.slide[1], 1e-12);
  assert_close(b.peak[1], 2.0 * a.peak[1], 1e-12);
}

// Side by side or alone, in whatever company and order: the same bits.
static void a_fall_does_not_depend_on_its_neighbours(void **state) {
  (void)state;
  enum { N = 37 };
  fh_fall_in in[N];
  fh_fall all[N];
  for (int i = 0; i < N; i++) {
    in[i] = three();
    in[i].brake = 0.2 + 0.02 * i;
    in[i].slack = 0.05 * i;
    in[i].knots = i % 3 == 0 ? 3 : 0;
    in[i].knot_first = 2.0;
    in[i].knot_apart = 0.7;
    in[i].knot_catch = 300.0;
    in[i].lip_cut = i % 5 == 0 ? 0.1 : 0.0;
  }
  assert_status(fh_falls_run(in, N, (double)NAN, all), FH_OK);
  for (int i = 0; i < N; i++) {
    fh_fall one;
    assert_status(fh_falls_run(&in[i], 1, (double)NAN, &one), FH_OK);
    assert_int_equal(one.arrested, all[i].arrested);
    assert_exact(one.margin, all[i].margin);
    assert_exact(one.peak[0], all[i].peak[0]);
    assert_exact(one.time, all[i].time);
  }
}

// Teams of all kinds, by a generator of their own; without what the C library works out (angles, the lip's exponential) when `plain`.
static fh_fall_in any_team(unsigned *random, bool plain) {
  fh_fall_in in = three();
  in.people = 4;
  in.mass[3] = 70.0;
  in.at[3] = 33.0;
  double *const fields[] = {&in.mass[0], &in.mass[1], &in.modulus, &in.damping, &in.slack, &in.stand, &in.brake, &in.reaction, &in.start,
                            &in.knot_first, &in.knot_apart, &in.knot_catch, &in.knot_plough, &in.slope, &in.lip_friction, &in.lip_turn};
  static const double LO[] = {50, 50, 8000, 0, 0, 0.1, 0.2, 0.1, 0, 1, 0.3, 50, 0, -0.1, 0, 1};
  static const double HI[] = {110, 110, 40000, 0.05, 1, 0.4, 0.9, 1.5, 1.5, 3, 1.2, 1500, 0.6, 0.1, 0.5, 1.6};
  for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++) {
    *random = *random * 1664525U + 1013904223U;
    *fields[i] = LO[i] + (HI[i] - LO[i]) * (double)(*random >> 8) / 16777216.0;
  }
  in.knots = (int)(*random >> 29) % 5;
  in.lip_cut = !plain && *random % 3 == 0 ? 0.1 : 0.0;
  if (plain) {
    in.slope = in.lip_friction = 0.0;
  }
  return in;
}

static uint64_t add_bits(uint64_t hash, double x) {
  uint64_t bits = 0;
  memcpy(&bits, &x, sizeof bits);
  for (int i = 0; i < 64; i += 8) {  // FNV-1a
    hash = (hash ^ (bits >> i & 255U)) * 1099511628211ULL;
  }
  return hash;
}

static uint64_t hash_falls(int width, bool plain, bool *can) {
  enum { TEAMS = 8 * FHI_FALLS };
  unsigned random = 5;
  uint64_t hash = 14695981039346656037ULL;
  fhi_falls *f = fhi_falls_create(4, false);
  assert_non_null(f);
  *can = fhi_falls_widen(f, width);
  for (int batch = 0; *can && batch < TEAMS / FHI_FALLS; batch++) {
    fh_fall_in in[FHI_FALLS];
    fh_fall out[FHI_FALLS];
    for (int l = 0; l < FHI_FALLS; l++) {
      in[l] = any_team(&random, plain);
      fhi_falls_load(f, l, &in[l], 0.01, l);
    }
    for (int left = FHI_FALLS; left > 0;) {
      (void)fhi_falls_step(f);
      for (int l = 0; l < FHI_FALLS; l++) {
        if (f->state[l] > FHI_FALL_RUNS) {
          fhi_falls_take(f, l, &in[l], &out[l]);
          left--;
        }
      }
    }
    for (int l = 0; l < FHI_FALLS; l++) {
      hash = add_bits(add_bits(hash, out[l].margin), out[l].peak[0]);
      hash = add_bits(add_bits(hash, out[l].time), out[l].slide[2]);
    }
  }
  fhi_falls_destroy(f);
  return hash;
}

// As many at once as the processor can, or two: the same bits. Those of teams that need no function of the C library are pinned, for
// every compiler and machine.
static void every_width_gives_the_same_bits(void **state) {
  (void)state;
  bool can = false;
  uint64_t two = hash_falls(2, false, &can);
  assert_true(can);
  for (int width = 4; width <= 8; width *= 2) {
    uint64_t wide = hash_falls(width, false, &can);
    assert_true(!can || wide == two);
  }
  assert_int_equal(hash_falls(2, true, &can), 0xcd989c8759edd93cULL);
}

static void a_trace_follows_the_fall(void **state) {
  (void)state;
  static fh_fall_trace t;
  fh_fall_in in = three();
  fh_fall f;
  assert_status(fh_fall_run(&in, (double)NAN, &f, &t), FH_OK);
  assert_true(t.count > 100 && t.count <= FH_TRACE_POINTS);
  double deepest = 0.0, most = 0.0;
  assert_exact(t.time[0], 0.0);
  for (int n = 0; n < t.count; n++) {
    deepest = fmin(deepest, t.at[n][0]);
    most = fmax(most, t.hole[n][0]);
    assert_true(n == 0 || t.time[n] > t.time[n - 1]);
  }
  assert_near(-deepest, f.fall, 0.01);  // between two points of the trace
  assert_close(most, f.peak[0], 0.01);
}

static void what_is_no_fall_is_refused(void **state) {
  (void)state;
  fh_fall out;
  fh_fall_in good = three();
  assert_status(fh_fall_run(NULL, 1e-3, &out, NULL), FH_ERR_ARG);
  assert_status(fh_fall_run(&good, 1e-3, NULL, NULL), FH_ERR_ARG);
  assert_status(fh_fall_run(&good, 0.0, &out, NULL), FH_ERR_ARG);
  assert_status(fh_fall_run(&good, 1.0, &out, NULL), FH_ERR_ARG);
  assert_status(fh_falls_run(&good, 0, 1e-3, &out), FH_ERR_ARG);
  double *const fields[] = {&good.modulus, &good.damping, &good.slack, &good.stand, &good.brake, &good.reaction, &good.start, &good.slope,
                            &good.lip_friction, &good.lip_turn, &good.lip_cut, &good.mass[1], &good.at[2]};
  for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++) {
    double kept = *fields[i];
    const double bad[] = {(double)NAN, (double)INFINITY, -1e9};
    for (int k = 0; k < 3; k++) {
      *fields[i] = bad[k];
      assert_status(fh_fall_run(&good, 1e-3, &out, NULL), FH_ERR_ARG);
    }
    *fields[i] = kept;
  }
  good.people = 1;
  assert_status(fh_fall_run(&good, 1e-3, &out, NULL), FH_ERR_ARG);
  good.people = FH_MAX_PEOPLE + 1;
  assert_status(fh_fall_run(&good, 1e-3, &out, NULL), FH_ERR_ARG);
}

// The hardest numbers that are accepted end as well, and soon.
static void extreme_teams_come_to_an_end(void **state) {
  (void)state;
  for (int i = 0; i < 16; i++) {
    fh_fall_in in = three();
    in.modulus = (i & 1) != 0 ? 500000.0 : 1000.0;
    in.damping = (i & 2) != 0 ? 1.0 : 0.0;
    in.slack = (i & 4) != 0 ? 20.0 : 0.0;
    in.lip_friction = (i & 8) != 0 ? 2.0 : 0.0;
    fh_fall f = run(&in, (double)NAN);
    assert_true(f.outcome == FH_OUTCOME_UNRESOLVED || (isfinite(f.margin) && isfinite(f.peak[0])));
    assert_true(f.time < 121.0);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_free_fall_on_an_elastic_rope_peaks_as_energy_says),
      cmocka_unit_test(a_start_at_a_walk_is_a_longer_fall),
      cmocka_unit_test(a_team_of_two_slides_as_newton_says),
      cmocka_unit_test(the_closed_form_gives_its_worked_numbers),
      cmocka_unit_test(a_walker_stops_where_coulomb_says),
      cmocka_unit_test(a_holder_with_enough_grip_does_not_move),
      cmocka_unit_test(the_lip_divides_the_peak),
      cmocka_unit_test(a_cut_lip_grips_up_to_four_over_pi),
      cmocka_unit_test(a_strong_knot_spares_the_holders),
      cmocka_unit_test(a_knot_takes_catch_times_plough),
      cmocka_unit_test(a_knot_may_plough_to_a_halt),
      cmocka_unit_test(knots_plough_one_at_a_time),
      cmocka_unit_test(knots_that_hold_nothing_change_nothing),
      cmocka_unit_test(energy_balances_ever_better_with_smaller_steps),
      cmocka_unit_test(energy_balances_with_knots_that_plough),
      cmocka_unit_test(the_answer_does_not_hang_on_the_step),
      cmocka_unit_test(scaled_masses_scale_the_forces_alone),
      cmocka_unit_test(a_fall_does_not_depend_on_its_neighbours),
      cmocka_unit_test(every_width_gives_the_same_bits),
      cmocka_unit_test(a_trace_follows_the_fall),
      cmocka_unit_test(what_is_no_fall_is_refused),
      cmocka_unit_test(extreme_teams_come_to_an_end),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
