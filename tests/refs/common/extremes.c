// SPDX-License-Identifier: MIT
// What is the least, and what the greatest tension that friction allows in each strand? One linear programme, solved
// for each strand both ways (GLPK). Rows: every bend's law (an equality where the rope slides, two inequalities where
// it rests, one where a shut capture holds), the balance of every body that can move. Tensions are zero or more.
#include "extremes.h"

#include <glpk.h>
#include <math.h>
#include <string.h>

static void add_row(glp_prob *lp, int count, const int *col, const double *val, int kind, double bound) {
  int row = glp_add_rows(lp, 1);
  glp_set_mat_row(lp, row, count, col, val);
  glp_set_row_bnds(lp, row, kind, bound, bound);
}

// T_hi <= k T_lo: the greater side is at most k times the lesser.
static void at_most(glp_prob *lp, int hi, int lo, double k, bool equal) {
  int col[3] = {0, hi + 1, lo + 1};
  double val[3] = {0.0, 1.0, -k};
  add_row(lp, 2, col, val, equal ? GLP_FX : GLP_UP, 0.0);
}

static void moving_bend(glp_prob *lp, const ref_point *pt, double rate, int b, int a) {
  if (fabs(rate) > REF_REST || pt->k <= 1.0) {
    bool onward = rate > 0.0;
    at_most(lp, onward ? a : b, onward ? b : a, pt->k, true);
    return;
  }
  at_most(lp, a, b, pt->k, false);
  at_most(lp, b, a, pt->k, false);
}

// A shut capture keeps the rope from running back the way it came, whatever pulls there; the way it ran in the raise it
// runs on, with its friction. Where the rope rests in the raise, a capture is taken to let it on to the last end, a
// reversed one to the first. A tended hitch holds both ways.
static void resting_bend(glp_prob *lp, const ref_point *pt, double rate, int b, int a) {
  if (pt->what == REF_TENDED) {
    return;
  }
  bool onward = fabs(rate) > REF_REST ? rate > 0.0 : !pt->reversed;
  if (!pt->capture || onward) {
    at_most(lp, a, b, pt->k, false);
  }
  if (!pt->capture || !onward) {
    at_most(lp, b, a, pt->k, false);
  }
}

static void add_bends(glp_prob *lp, const ref_reading *r, const ref_motion *m, int state) {
  for (int p = 0; p < r->point_count; p++) {
    const ref_point *pt = &r->points[p];
    int b = ref_strand_before(r, p), a = ref_strand_after(r, p);
    if ((pt->what != REF_TURN && pt->what != REF_TENDED) || b < 0 || a < 0) {
      continue;
    }
    if (state == FH_HOLD) {
      resting_bend(lp, pt, m->rate[p], b, a);
    } else {
      moving_bend(lp, pt, state == FH_LOWER ? -m->rate[p] : m->rate[p], b, a);
    }
  }
}

static void add_bodies(glp_prob *lp, const ref_reading *r) {
  double row[REF_MAX_STRANDS];
  int col[REF_MAX_STRANDS + 1];
  double val[REF_MAX_STRANDS + 1];
  for (int body = 0; body < r->body_count; body++) {
    if (!ref_body_moves(body)) {
      continue;
    }
    int count = 0;
    ref_body_row(r, body, row);
    for (int i = 0; i < r->strand_count; i++) {
      if (row[i] != 0.0) {
        col[++count] = i + 1;
        val[count] = row[i];
      }
    }
    add_row(lp, count, col, val, GLP_FX, body == FH_BODY_LOAD ? 1.0 : 0.0);
  }
}

static glp_prob *make(const ref_reading *r, const ref_motion *m, int state) {
  glp_prob *lp = glp_create_prob();
  glp_add_cols(lp, r->strand_count);
  for (int i = 0; i < r->strand_count; i++) {
    // At rest a shut capture can keep slack from spreading: the inequalities say how far it goes.
    bool slack = state == FH_HOLD ? r->strands[i].starts_slack || i == r->hand_strand : r->strands[i].slack;
    glp_set_col_bnds(lp, i + 1, slack ? GLP_FX : GLP_LO, 0.0, 0.0);
  }
  add_bends(lp, r, m, state);
  add_bodies(lp, r);
  return lp;
}

static glp_smcp tight(void) {
  glp_smcp par;
  glp_init_smcp(&par);
  par.msg_lev = GLP_MSG_OFF;
  // Far below the library's 1e-7: the answers are compared to 1e-9, and the programmes are small and well scaled.
  par.tol_bnd = 1e-11;
  par.tol_dj = 1e-11;
  return par;
}

// Extreme of a sum of tensions. @return the value over the weight; infinite when unbounded, NaN when there is none
static double extreme(glp_prob *lp, const ref_reading *r, const double *cost, bool most) {
  glp_smcp par = tight();
  for (int i = 0; i < r->strand_count; i++) {
    glp_set_obj_coef(lp, i + 1, cost[i]);
  }
  glp_set_obj_dir(lp, most ? GLP_MAX : GLP_MIN);
  if (glp_simplex(lp, &par) != 0) {
    return REF_NAN;
  }
  switch (glp_get_status(lp)) {
  case GLP_OPT: return glp_get_obj_val(lp);
  case GLP_UNBND: return most ? REF_INFINITY : -REF_INFINITY;
  default: return REF_NAN;
  }
}

// The size of a pull that may have either sign: zero lies inside when the signs differ.
static void size_of(double lo, double hi, double weight, double *out_lo, double *out_hi) {
  *out_lo = lo > 0.0 ? lo * weight : hi < 0.0 ? -hi * weight : 0.0;
  *out_hi = fmax(fabs(lo), fabs(hi)) * weight;
}

static void all_bodies(glp_prob *lp, const ref_reading *r, ref_forces *out) {
  double row[REF_MAX_STRANDS];
  for (int body = 0; body < r->body_count; body++) {
    out->body_lo[body] = out->body_hi[body] = REF_NAN;
    if (!ref_body_moves(body)) {
      ref_body_row(r, body, row);
      size_of(extreme(lp, r, row, false), extreme(lp, r, row, true), r->weight, &out->body_lo[body],
              &out->body_hi[body]);
    }
  }
}

static void all_grips(glp_prob *lp, const ref_reading *r, ref_forces *out) {
  for (int p = 0; p < r->point_count; p++) {
    if (r->points[p].grip < 0) {
      continue;
    }
    double row[REF_MAX_STRANDS] = {0};
    int g = r->points[p].grip;
    row[ref_strand_before(r, p)] = 1.0;
    row[ref_strand_after(r, p)] = -1.0;
    size_of(extreme(lp, r, row, false), extreme(lp, r, row, true), r->weight, &out->grip_lo[g], &out->grip_hi[g]);
  }
}

// Caps all strands that have no greatest tension, at once. @return true when there were any
static bool shut_in(glp_prob *lp, const ref_reading *r, const double *most, const ref_forces *found) {
  for (int i = 0; i < r->strand_count && most != NULL; i++) {
    if (isinf(found->hi[i])) {
      double cap = most[i] / r->weight;
      glp_set_col_bnds(lp, i + 1, cap > 0.0 ? GLP_DB : GLP_FX, 0.0, cap);
    }
  }
  return found->unbounded && most != NULL;
}

static void all_strands(glp_prob *lp, const ref_reading *r, ref_forces *out) {
  double cost[REF_MAX_STRANDS] = {0};
  for (int i = 0; i < r->strand_count; i++) {
    cost[i] = 1.0;
    out->lo[i] = extreme(lp, r, cost, false) * r->weight;
    out->hi[i] = extreme(lp, r, cost, true) * r->weight;
    out->unbounded = out->unbounded || isinf(out->hi[i]);
    cost[i] = 0.0;
  }
}

void ref_extremes(const ref_reading *r, const ref_motion *m, int state, const double *most, ref_forces *out) {
  memset(out, 0, sizeof *out);
  glp_prob *lp = make(r, m, state);
  double cost[REF_MAX_STRANDS] = {0};
  if (isnan(extreme(lp, r, cost, false))) {
    out->verdict = REF_PUSHES;
    glp_delete_prob(lp);
    return;
  }
  all_strands(lp, r, out);
  if (shut_in(lp, r, most, out)) {
    all_strands(lp, r, out);
  }
  all_bodies(lp, r, out);
  all_grips(lp, r, out);
  glp_delete_prob(lp);
}
