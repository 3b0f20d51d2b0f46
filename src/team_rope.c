// SPDX-License-Identifier: MIT
// What happens at the lip that is too rare for vector units? Implements model.md, section 11: knots that hold, plough and give
// way; a lip that is cut in; and the account of energy, for falls that are watched. The rest is in team_kernel.h.
#include "team_step.h"

#include <math.h>

static const double SEAT = 4.0 / 3.14159265358979323846;  // [1] friction in a groove as wide as the rope over a flat one
static const double ROPE = 0.009;        // [m] depth of cut at which the groove has full effect: a rope's thickness
static const double CUT_RUN = 1.0;       // [m] rope run under load until the cut has its full depth: practice, no source
static const double SHORT = 0.05;        // [m] as in team_kernel.h

// Rope that lies in a semicircular groove of its own width grips 4 / pi times as hard as on a flat edge: the sheave formula
// 4 (1 - sin(b / 2)) / (pi - b - sin b) of lift engineering without undercut, b = 0; from memory, as in EN 81-50.
void fhi_lip_set_ratio(fhi_falls *f, int l) {
  double cut = f->lip_cut[l] * fmin(1.0, f->run[l] / CUT_RUN);
  double mu = f->lip_friction[l] * (1.0 + (SEAT - 1.0) * fmin(1.0, cut / ROPE));
  f->ratio[l] = exp(mu * f->lip_turn[l]);
  f->back_ratio[l] = 1.0 / f->ratio[l];
}

// ---------------------------------------------------------------------------------------------------- knots

// In line, for libm's are calls. What is no number is not larger, nor smaller.
static inline double larger(double a, double b) {
  return a > b ? a : b;
}

static inline double smaller(double a, double b) {
  return a < b ? a : b;
}

// One knot at the lip, in a lane.
typedef struct knot {
  double a, b;      // [m] drawn length in the hole and on the surface
  double length;    // [m] of the piece
  double ratio;     // [1] of the lip
  double holds;     // [1] strain that the knot adds to the bound
} knot;

typedef struct rope_state {
  double over;               // [m] unstretched rope beyond the lip
  double strain, strain_back;
} rope_state;

// Rope that runs down with a knot in it: a / (1 + c + k e) + b / (1 + e) = L for the strain e on the surface side; with slack
// there, the hole side holds c. Without a knot, c is 0.
static rope_state running(const knot *n, double c) {
  double d = 1.0 + c;
  double more = n->a + n->b * d - n->length * d;
  if (!(more > 0.0)) {
    return (rope_state){n->a / d, c, 0.0};
  }
  double half = n->length * (n->ratio + d) - n->a - n->b * n->ratio;
  double e = 2.0 * more / (half + sqrt(half * half + 4.0 * n->length * n->ratio * more));
  double strain = n->ratio * e + c;
  return (rope_state){n->a / (1.0 + strain), strain, e};
}

// Rope that the knot holds where it is: each part stretches for itself.
static rope_state held(const knot *n, double over) {
  double rest = n->length - over;
  return (rope_state){over, larger(0.0, n->a - over) / larger(over, SHORT), larger(0.0, n->b - rest) / larger(rest, SHORT)};
}

// Where the knot at the lip, or the next to come, holds along this piece; far beyond it when there is none. Knots that lie before
// the piece are through.
static double next_hold(fhi_falls *f, int l, int j) {
  for (; f->knots_past[l] < f->knot_count[l]; f->knots_past[l] += 1.0, f->trench[l] = 0.0) {
    double place = f->knot_first[l] + f->knots_past[l] * f->knot_apart[l] - f->offset[j][l];
    if (place >= 0.0) {
      return place < f->length[j][l] ? place + f->trench[l] : HUGE_VAL;
    }
  }
  return HUGE_VAL;
}

// A knot gave way when `share` of the half step was over: from the strains at its bound to those without it. Where the next one holds
// at once there is no jump.
static void note_jump(fhi_lip *lip, int i, double share, const rope_state *from, const rope_state *to) {
  double jump = from->strain - to->strain;
  if (jump > 0.0) {
    lip->jump[i] = jump;
    lip->jump_back[i] = from->strain_back - to->strain_back;
    lip->early[i] = share * jump;
    lip->early_back[i] = share * lip->jump_back[i];
  }
}

// The tension just before a knot that held begins to plough or gives way: no step may see it, for the rope is drawn out fast until then.
static void note_bound(fhi_falls *f, int l, int j, const knot *n, const rope_state *stays) {
  double rate = larger(0.0, -f->now[j][l]) / larger(stays->over, SHORT);
  double strain = n->ratio * stays->strain_back + n->holds + f->damp[l] * f->dt[l] * rate;
  f->peak[j][l] = larger(f->peak[j][l], f->modulus[l] * strain);
}

static void stop_at_knots(fhi_falls *f, int l, int j, fhi_lip *lip, int i) {
  const knot n = {lip->a[i], lip->b[i], f->length[j][l], f->ratio[l], f->knot_catch[l] / f->modulus[l]};
  double begin = lip->begin[i];
  rope_state s = {lip->over[i], lip->to[i], lip->to_back[i]};
  rope_state bound = {0.0, 0.0, 0.0};  // just before the last one gave way
  double gave = 0.0;
  double hold;
  while (s.over > (hold = next_hold(f, l, j))) {  // once more for each knot that is through, 50 at most
    double stop = larger(begin, hold);
    f->knots_held[l] = larger(f->knots_held[l], f->knots_past[l] + 1.0);
    rope_state stays = held(&n, stop);
    double excess = stays.strain - n.ratio * stays.strain_back - n.holds;
    if (!(excess > 0.0)) {
      s = stays;
      break;
    }
    double was = lip->from[i] - n.ratio * lip->from_back[i] - n.holds;
    if (was < -1e-6 * n.holds) {
      note_bound(f, l, j, &n, &stays);
    }
    rope_state ploughs = running(&n, n.holds);
    double way = larger(0.0, ploughs.over - stop);
    double left = f->knot_plough[l] - f->trench[l];
    if (way < left) {
      f->trench[l] += way;
      s = ploughs;
      s.over = stop + way;
      break;
    }
    // Through. It held, or ploughed, for a share of the half step.
    bool ploughed = left > 0.0;
    double share = ploughed ? (stop + left - lip->begin[i]) / (ploughs.over - lip->begin[i]) : -was / (excess - was);
    begin = stop + left;
    f->knots_past[l] += 1.0;
    f->trench[l] = 0.0;
    s = running(&n, 0.0);
    s.over = larger(s.over, begin);
    share = smaller(larger(share, 0.0), 1.0);
    bound = ploughs;
    gave = share;
  }
  note_jump(lip, i, gave, &bound, &s);
  lip->over[i] = s.over;
  lip->to[i] = s.strain;
  lip->to_back[i] = s.strain_back;
}

void fhi_lip_knots(fhi_falls *f, int lane, unsigned lanes, int j, fhi_lip *lip) {
  for (int i = 0; lanes >> i != 0; i++) {
    if ((lanes >> i & 1U) != 0) {
      stop_at_knots(f, lane + i, j, lip, i);
    }
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
static void audit_lip(fhi_falls *f, int l, int j, double before) {
  double a = -f->at[j][l];
  double b = f->at[j + 1][l];
  double length = f->length[j][l];
  double over = f->over[j][l];
  double m = f->modulus[l];
  double hole = fmax(1.0, a / fmax(over, 1e-12));
  double back = fmax(1.0, b / fmax(length - over, 1e-12));
  double bite = 0.5 * m * (hole * hole - back * back);
  if (f->knots_past[l] > f->knots_then[l] && before > 0.0) {
    f->lost_lip[l] += fhi_stretch_energy(m, a, before) + fhi_stretch_energy(m, b, length - before) - fhi_stretch_energy(m, a, over) -
                      fhi_stretch_energy(m, b, length - over);
  } else {
    f->lost_lip[l] += 0.5 * (bite + f->bite[l]) * (over - before);
  }
  f->bite[l] = bite;
  f->knots_then[l] = f->knots_past[l];
}

static void cut_lip(fhi_falls *f, int l, int j, double before) {
  double more = f->over[j][l] - before;
  bool taut = f->at[j + 1][l] - f->at[j][l] > f->length[j][l];
  if (f->lip_cut[l] > 0.0 && taut && more > 0.0 && f->run[l] < CUT_RUN) {
    f->run[l] += more;
    fhi_lip_set_ratio(f, l);
  }
}

void fhi_lip_cut(fhi_falls *f, int lane, unsigned lanes, int j, const double *before) {
  for (int i = 0; lanes >> i != 0; i++) {
    if ((lanes >> i & 1U) == 0) {
      continue;
    }
    if (f->audit) {
      audit_lip(f, lane + i, j, before[i]);
    }
    cut_lip(f, lane + i, j, before[i]);
  }
}

// Damping: tension beyond the spring's, times the speed at which the part is drawn out.
static void audit_rope(fhi_falls *f, int l, int j, const double *at, const double *v) {
  double a = -at[j];
  double b = at[j + 1];
  double m = f->modulus[l];
  double length = f->length[j][l];
  if (a >= 0.0 && b > 0.0) {
    double over = fmax(f->over[j][l], 1e-12);
    double rest = fmax(length - f->over[j][l], 1e-12);
    double spring = m * fmax(0.0, a / over - 1.0);
    double spring_back = m * fmax(0.0, b / rest - 1.0);
    f->lost_rope[l] += f->dt[l] * ((f->hole[j][l] - spring) * -v[j] + (f->back[j][l] - spring_back) * v[j + 1]);
  } else {
    double spring = m * fmax(0.0, (a + b) / length - 1.0);
    f->lost_rope[l] += f->dt[l] * (f->hole[j][l] - spring) * (v[j + 1] - v[j]);
  }
}

// Places have moved on since the forces: back by the last drift.
void fhi_audit_step(fhi_falls *f, int l) {
  double at[FH_MAX_PEOPLE];
  double v[FH_MAX_PEOPLE];
  for (int i = 0; i < f->people; i++) {
    at[i] = f->at[i][l] - f->dt[l] * f->speed[i][l];
    v[i] = f->now[i][l];
    f->lost_slide[l] += f->rubbed[i][l] / f->weight[i][l];
  }
  for (int j = 0; j + 1 < f->people; j++) {
    audit_rope(f, l, j, at, v);
  }
}
