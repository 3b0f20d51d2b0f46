// SPDX-License-Identifier: MIT
// What does each piece of rope pull with, now? Implements model.md, section 11: stretch, damping, the lip and its knots.
//
// The rope over the lip is two springs in series with Coulomb's law between them: rope passes the lip only while the strain
// on one side is the ratio's bound times that on the other, and then just as much as keeps it there. Every step finds that
// state by a return to the bound, in closed form; no step size enters. A knot at the lip adds what it holds to the bound on
// the way down; once exceeded it is through, and holds no more.
//
// No branches on a fall's own numbers except at knots and cutting lips, so that falls run side by side in vector units.
#include "team_step.h"

#include "team_vec.h"

#include <math.h>

static const double SEAT = 4.0 / 3.14159265358979323846;  // [1] friction in a groove as wide as the rope over a flat one
static const double ROPE = 0.009;        // [m] depth of cut at which the groove has full effect: a rope's thickness
static const double CUT_RUN = 1.0;       // [m] rope run under load until the cut has its full depth: practice, no source
static const double SHORT = 0.05;        // [m] shortest piece of rope that stretches: the knot at the harness is longer

#define EACH(l) for (int l = 0; l < FHI_FALLS; l++)
#define EACH_WIDE(l) for (int l = 0; l < FHI_FALLS; l += FHI_WIDE)

// Rope that lies in a semicircular groove of its own width grips 4 / pi times as hard as on a flat edge: the sheave formula
// 4 (1 - sin(b / 2)) / (pi - b - sin b) of lift engineering without undercut, b = 0; from memory, as in EN 81-50.
void fhi_falls_set_ratio(fhi_falls *f, int l) {
  double cut = f->lip_cut[l] * fmin(1.0, f->run[l] / CUT_RUN);
  double mu = f->lip_friction[l] * (1.0 + (SEAT - 1.0) * fmin(1.0, cut / ROPE));
  f->ratio[l] = exp(mu * f->lip_turn[l]);
  f->back_ratio[l] = 1.0 / f->ratio[l];
}

// A piece that lies all on one side of the lip.
static void plain_piece(fhi_falls *f, int j, fhi_lane *v) {
  const fhi_vec none = FHI_ALL(0.0);
  EACH_WIDE(l) {
    fhi_vec length = FHI_LOAD(&f->length[j][l]);
    fhi_vec upper = FHI_LOAD(&f->at[j + 1][l]);
    fhi_vec strain = (upper - FHI_LOAD(&f->at[j][l])) / length - 1.0;
    fhi_vec rate = (FHI_LOAD(&v[j + 1][l]) - FHI_LOAD(&v[j][l])) / length;
    fhi_vec tension = FHI_LOAD(&f->modulus[l]) * (strain + FHI_LOAD(&f->damping[l]) * rate);
    tension = FHI_PICK(FHI_ABOVE(strain, none), tension, none);
    tension = FHI_MAX(tension, none);
    FHI_STORE(&f->hole[j][l], tension);
    FHI_STORE(&f->back[j][l], tension);
    FHI_STORE(&f->over[j][l], FHI_PICK(FHI_REACHES(none, upper), length, none));
  }
}

// Where the unstretched rope must stand on the lip for the strains to keep within the ratio.
//   sliding, taut:  a / (1 + k e) + b / (1 + e) = L, for the strain e on the surface side and k = ratio or 1 / ratio
//   sliding, slack: just so far that the taut side is no longer so
// Lanes whose piece does not pass the lip get harmless numbers. @param k [1] 0: it rests
static void slide_over(const fhi_falls *f, int j, const double *begin, double *over_out, double *k_out) {
  const fhi_vec none = FHI_ALL(0.0);
  EACH_WIDE(l) {
    fhi_vec a = -FHI_LOAD(&f->at[j][l]);
    fhi_vec b = FHI_LOAD(&f->at[j + 1][l]);
    fhi_vec length = FHI_LOAD(&f->length[j][l]);
    fhi_vec ratio = FHI_LOAD(&f->ratio[l]);
    fhi_vec over = FHI_LOAD(&begin[l]);
    fhi_vec rest = length - over;
    fhi_vec drawn = FHI_MAX(a - over, none);
    fhi_vec drawn_back = FHI_MAX(b - rest, none);
    fhi_mask down = FHI_ABOVE(drawn * rest, ratio * drawn_back * over);
    fhi_mask up = FHI_ABOVE(drawn_back * over, ratio * drawn * rest);
    fhi_vec k = FHI_PICK(down, ratio, FHI_LOAD(&f->back_ratio[l]));
    fhi_vec more = a + b - length;
    fhi_vec half = length * (1.0 + k) - a - b * k;
    fhi_vec positive = FHI_MAX(more, none);
    fhi_vec square = half * half + 4.0 * length * k * positive;
    fhi_vec strain = 2.0 * positive / (half + FHI_ROOT(square));
    fhi_vec taut = a / (1.0 + k * strain);
    fhi_vec loose = FHI_PICK(down, a, length - b);
    fhi_vec moved = FHI_PICK(FHI_ABOVE(more, none), taut, loose);
    fhi_mask slides = down | up;
    FHI_STORE(&over_out[l], FHI_PICK(slides, moved, over));
    FHI_STORE(&k_out[l], FHI_PICK(slides, k, none));
  }
}

// Tensions of the two parts. While rope slides, both strain rates follow from the equation above; while it rests at the lip
// (k = 0), each part stretches for itself.
static void part_tensions(fhi_falls *f, int j, fhi_lane *v, const double *over_now, const double *k_now) {
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec tiny = FHI_ALL(1e-12);
  const fhi_vec shortest = FHI_ALL(SHORT);
  EACH_WIDE(l) {
    fhi_vec a = -FHI_LOAD(&f->at[j][l]);
    fhi_vec b = FHI_LOAD(&f->at[j + 1][l]);
    fhi_vec a_rate = -FHI_LOAD(&v[j][l]);
    fhi_vec b_rate = FHI_LOAD(&v[j + 1][l]);
    fhi_mask passes = FHI_REACHES(a, none) & FHI_ABOVE(b, none);
    fhi_vec over = FHI_LOAD(&over_now[l]);
    fhi_vec rest = FHI_LOAD(&f->length[j][l]) - over;
    fhi_vec k = FHI_LOAD(&k_now[l]);
    fhi_mask slides = FHI_ABOVE(k, none);
    fhi_vec least = FHI_PICK(slides, tiny, shortest);
    fhi_vec at_lip = FHI_MAX(over, least);
    fhi_vec at_lip_back = FHI_MAX(rest, least);
    fhi_vec strain = (a - over) / at_lip;
    fhi_vec strain_back = (b - rest) / at_lip_back;
    fhi_vec p = 1.0 / (1.0 + strain);
    fhi_vec q = 1.0 / (1.0 + strain_back);
    fhi_vec together = (a_rate * p + b_rate * q) / (a * k * p * p + b * q * q);
    fhi_vec rate = FHI_PICK(slides, k * together, a_rate / at_lip);
    fhi_vec rate_back = FHI_PICK(slides, together, b_rate / at_lip_back);
    fhi_vec modulus = FHI_LOAD(&f->modulus[l]);
    fhi_vec damping = FHI_LOAD(&f->damping[l]);
    fhi_vec tension = modulus * (strain + damping * rate);
    fhi_vec tension_back = modulus * (strain_back + damping * rate_back);
    tension = FHI_MAX(FHI_PICK(FHI_ABOVE(strain, none), tension, none), none);
    tension_back = FHI_MAX(FHI_PICK(FHI_ABOVE(strain_back, none), tension_back, none), none);
    FHI_STORE(&f->hole[j][l], FHI_PICK(passes, tension, FHI_LOAD(&f->hole[j][l])));
    FHI_STORE(&f->back[j][l], FHI_PICK(passes, tension_back, FHI_LOAD(&f->back[j][l])));
    FHI_STORE(&f->over[j][l], FHI_PICK(passes, over, FHI_LOAD(&f->over[j][l])));
  }
}

static bool passes_lip(const fhi_falls *f, int j, int l) {
  return f->at[j][l] <= 0.0 && f->at[j + 1][l] > 0.0;
}

// ---------------------------------------------------------------------------------------------------- knots and the cut

// Where the next knot of this piece stands along its unstretched rope; far beyond the piece when there is none.
static double next_knot(const fhi_falls *f, int j, int l) {
  double place = f->knot_first[l] + f->knots_past[l] * f->knot_apart[l] - f->offset[j][l];
  return f->knots_past[l] < f->knot_count[l] && place < f->length[j][l] ? fmax(place, 0.0) : HUGE_VAL;
}

// Does the knot that stands at the lip give way?
static bool knot_gives(const fhi_falls *f, int j, int l, double over) {
  double strain = fmax(0.0, (-f->at[j][l] - over) / fmax(over, SHORT));
  double rest = f->length[j][l] - over;
  double strain_back = fmax(0.0, (f->at[j + 1][l] - rest) / fmax(rest, SHORT));
  return f->modulus[l] * (strain - f->ratio[l] * strain_back) > f->knot_catch[l];
}

// Stops the rope where a knot has come to the lip. @return true when a knot gave way, so that the rope runs on from it
static bool stop_at_knots(fhi_falls *f, int j, double *begin, double *over, double *k) {
  bool again = false;
  EACH(l) {
    double knot = f->knot_count[l] > 0.0 ? next_knot(f, j, l) : HUGE_VAL;
    if (!(over[l] > knot) || !passes_lip(f, j, l)) {
      continue;
    }
    double stop = fmax(begin[l], knot);
    f->knots_held[l] = fmax(f->knots_held[l], f->knots_past[l] + 1.0);
    if (knot_gives(f, j, l, stop)) {
      f->knots_past[l] += 1.0;
      begin[l] = stop;
      again = true;
    } else {
      over[l] = stop;
      k[l] = 0.0;
    }
  }
  return again;
}

static void cut_lip(fhi_falls *f, int j, const double *before) {
  EACH(l) {
    double more = f->over[j][l] - before[l];
    bool taut = f->at[j + 1][l] - f->at[j][l] > f->length[j][l];
    if (f->lip_cut[l] > 0.0 && passes_lip(f, j, l) && taut && more > 0.0 && f->run[l] < CUT_RUN) {
      f->run[l] += more;
      fhi_falls_set_ratio(f, l);
    }
  }
}

// The piece that passes the lip, in the lanes where one does. @param before [m] rope that was over the lip a step ago
static void lip_piece(fhi_falls *f, int j, fhi_lane *v, const double *before) {
  fhi_lane begin;
  fhi_lane over;
  fhi_lane k;
  EACH(l) {
    begin[l] = before[l];
  }
  do {  // once more for each knot that gives way, 50 at most
    slide_over(f, j, begin, over, k);
  } while (f->knots && stop_at_knots(f, j, begin, over, k));
  part_tensions(f, j, v, over, k);
  if (f->cuts) {
    cut_lip(f, j, before);
  }
}

static bool any_passes(const fhi_falls *f, int j) {
  const fhi_vec none = FHI_ALL(0.0);
  fhi_mask some = {0};
  EACH_WIDE(l) {
    some |= FHI_REACHES(none, FHI_LOAD(&f->at[j][l])) & FHI_ABOVE(FHI_LOAD(&f->at[j + 1][l]), none);
  }
  return FHI_ANY(some);
}

// ---------------------------------------------------------------------------------------------------- clocks and extremes

// When did each one's own piece come taut? Between two steps: where the straight line between the strains is zero.
static void start_clocks(fhi_falls *f, int j) {
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec one = FHI_ALL(1.0);
  const fhi_vec tiny = FHI_ALL(1e-300);
  EACH_WIDE(l) {
    fhi_vec lower = FHI_LOAD(&f->at[j][l]);
    fhi_vec upper = FHI_LOAD(&f->at[j + 1][l]);
    fhi_vec length = FHI_LOAD(&f->length[j][l]);
    // On the surface side alone: a knot may hold the hole side taut while nobody behind feels it.
    fhi_mask passes = FHI_REACHES(none, lower) & FHI_ABOVE(upper, none);
    fhi_vec drawn = FHI_PICK(passes, upper - (length - FHI_LOAD(&f->over[j][l])), upper - lower - length);
    fhi_vec last = FHI_LOAD(&f->tight[j][l]);
    fhi_vec gone = drawn / FHI_MAX(drawn - last, tiny);
    gone = FHI_MIN(gone, one);
    fhi_vec at = FHI_LOAD(&f->time[l]) - FHI_LOAD(&f->dt[l]) * gone + FHI_LOAD(&f->reaction[l]);
    fhi_vec clock = FHI_LOAD(&f->brakes_at[j + 1][l]);
    fhi_mask comes = FHI_ABOVE(drawn, none) & FHI_ABOVE(clock, FHI_ALL(1e100));
    FHI_STORE(&f->brakes_at[j + 1][l], FHI_PICK(comes, at, clock));
    FHI_STORE(&f->tight[j][l], drawn);
  }
}

static void note_peaks(fhi_falls *f, int j) {
  EACH_WIDE(l) {
    fhi_vec hole = FHI_LOAD(&f->hole[j][l]);
    fhi_vec back = FHI_LOAD(&f->back[j][l]);
    fhi_vec peak = FHI_LOAD(&f->peak[j][l]);
    fhi_vec pull = FHI_LOAD(&f->pull[j][l]);
    FHI_STORE(&f->peak[j][l], FHI_MAX(hole, peak));
    FHI_STORE(&f->pull[j][l], FHI_MAX(back, pull));
  }
}

// ---------------------------------------------------------------------------------------------------- energy

double fhi_stretch_energy(double modulus, double drawn, double rest) {
  double more = drawn - rest;
  return more > 0.0 && rest > 0.0 ? 0.5 * modulus * more * more / rest : 0.0;
}

// Energy that the lip takes as rope comes over: modulus ((1 + e)^2 - (1 + e')^2) / 2 a metre of unstretched rope, the strains
// being those of the hole and surface sides; the mean of this step and the last. Where a knot has given way the strains
// jump: there it is what the piece loses of its stretch with both ends held.
static void audit_lip(fhi_falls *f, int j, const double *before, const double *knots_before) {
  EACH(l) {
    double a = -f->at[j][l];
    double b = f->at[j + 1][l];
    if (!(a >= 0.0 && b > 0.0)) {
      continue;
    }
    double length = f->length[j][l];
    double over = f->over[j][l];
    double hole = fmax(1.0, a / fmax(over, 1e-12));
    double back = fmax(1.0, b / fmax(length - over, 1e-12));
    double bite = 0.5 * f->modulus[l] * (hole * hole - back * back);
    if (f->knots_past[l] > knots_before[l] && before[l] > 0.0) {
      f->lost_lip[l] += fhi_stretch_energy(f->modulus[l], a, before[l]) + fhi_stretch_energy(f->modulus[l], b, length - before[l]) -
                        fhi_stretch_energy(f->modulus[l], a, over) - fhi_stretch_energy(f->modulus[l], b, length - over);
    } else {
      f->lost_lip[l] += 0.5 * (bite + f->bite[l]) * (over - before[l]);
    }
    f->bite[l] = bite;
  }
}

// Damping: tension beyond the spring's, times the speed at which the part is drawn out.
static void audit_rope(fhi_falls *f, int j, fhi_lane *v) {
  EACH(l) {
    double a = -f->at[j][l];
    double b = f->at[j + 1][l];
    double m = f->modulus[l];
    double length = f->length[j][l];
    if (a >= 0.0 && b > 0.0) {
      double over = fmax(f->over[j][l], 1e-12);
      double rest = fmax(length - f->over[j][l], 1e-12);
      double spring = m * fmax(0.0, a / over - 1.0);
      double spring_back = m * fmax(0.0, b / rest - 1.0);
      f->lost_rope[l] += f->dt[l] * ((f->hole[j][l] - spring) * -v[j][l] + (f->back[j][l] - spring_back) * v[j + 1][l]);
    } else {
      double spring = m * fmax(0.0, (f->at[j + 1][l] - f->at[j][l]) / length - 1.0);
      f->lost_rope[l] += f->dt[l] * (f->hole[j][l] - spring) * (v[j + 1][l] - v[j][l]);
    }
  }
}

void fhi_falls_pull(fhi_falls *f, fhi_lane *v) {
  for (int j = 0; j + 1 < f->people; j++) {
    fhi_lane before;
    fhi_lane knots_before;
    EACH(l) {
      before[l] = f->over[j][l];
      knots_before[l] = f->knots_past[l];
    }
    plain_piece(f, j, v);
    if (any_passes(f, j)) {
      lip_piece(f, j, v, before);
    }
    start_clocks(f, j);
    note_peaks(f, j);
    if (f->audit) {
      audit_lip(f, j, before, knots_before);
      audit_rope(f, j, v);
    }
  }
}
