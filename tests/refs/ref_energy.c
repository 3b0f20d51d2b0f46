// needs: gsl
// SPDX-License-Identifier: MIT
// Does work in equal work out? No equations of motion here: bodies stand in the plane, ropes have lengths. The load is
// lifted by a finite step, and all other bodies and the hand are moved until every piece of rope has its old length again
// (Newton on finite differences). Then, with the core's tensions,
//   hand force x hand travel = weight x rise + sum over bends of (greater - lesser tension) x rope that has passed,
// and the ideal advantage is hand travel over rise. Known rigs and random ones, loss-free and with friction.
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "common/docket.h"

enum { MAX_PIECES = 64, HAND = FH_MAX_BODIES };

// The lift: so small that no body passes another (they stand 10 mm apart at least, and move at most as far as the hand).
static double rise_for(double advantage) {
  return 0.004 / fmax(1.0, advantage);  // [m]
}

// Where everything is: each body's distance along its own track, and the hand's.
typedef struct places {
  double at[FH_MAX_BODIES + 1];
} places;

typedef struct layout {
  const ref_reading *r;
  int first[MAX_PIECES], last[MAX_PIECES], pieces;
  int moving[FH_MAX_BODIES + 1], movers;  // what Newton may move
} layout;

typedef struct point2 {
  double x, z;
} point2;

// The load hangs in the slot below the lip, everything else is on the surface.
static point2 where(const ref_reading *r, int point, const places *p) {
  const ref_point *pt = &r->points[point];
  if (pt->what == REF_HAND) {
    return (point2){p->at[HAND], 0.0};
  }
  if (pt->what == REF_TENDED) {
    return (point2){pt->at, 0.0};  // open: the rope only passes by
  }
  if (pt->body < 0) {
    return (point2){0.0, 0.0};
  }
  return pt->body == FH_BODY_LOAD ? (point2){0.0, p->at[FH_BODY_LOAD]} : (point2){p->at[pt->body], 0.0};
}

// Rope from the first strand of a run of strands to the end of its last. [m]
static double length(const ref_reading *r, int first, int last, const places *p) {
  double sum = 0.0;
  for (int i = first; i <= last; i++) {
    point2 a = where(r, r->strands[i].from, p), b = where(r, r->strands[i].to, p);
    sum += hypot(a.x - b.x, a.z - b.z);
  }
  return sum;
}

static void find_layout(const ref_reading *r, layout *l) {
  *l = (layout){.r = r};
  for (int i = 0; i < r->strand_count; i++) {
    ref_what what = r->points[r->strands[i].from].what;
    bool on = (what == REF_TURN || what == REF_TENDED) && l->pieces > 0 && l->last[l->pieces - 1] == i - 1;
    if (r->strands[i].slack || l->pieces >= MAX_PIECES) {
      continue;
    }
    if (!on) {
      l->first[l->pieces++] = i;
    }
    l->last[l->pieces - 1] = i;
  }
  for (int b = FH_BODY_FIRST_GRIP; b < r->body_count; b++) {
    l->moving[l->movers++] = b;
  }
  l->moving[l->movers++] = HAND;
}

static void start(const ref_trial *t, places *p) {
  const fh_scene *s = t->scene;
  p->at[FH_BODY_LOAD] = -s->depth.likely;
  p->at[FH_BODY_STATION] = s->station_at.likely;
  p->at[FH_BODY_ANCHOR] = s->anchor_at.likely;
  for (int g = 0; g < s->rig.grip_count; g++) {
    if (ref_body_moves(s->rig.grips[g].body)) {
      p->at[s->rig.grips[g].body] = s->rig.grips[g].at;
    }
  }
  p->at[HAND] = 20.0 * t->reading->strands[t->reading->hand_strand].dir;
}

// One Newton step: the least move that gives every piece its length back, to first order. @return largest miss before it
static double newton(const layout *l, const double *want, places *p) {
  size_t n = (size_t)l->movers, rows = (size_t)(l->pieces > l->movers ? l->pieces : l->movers);
  gsl_matrix *a = gsl_matrix_calloc(rows, n), *v = gsl_matrix_alloc(n, n);
  gsl_vector *b = gsl_vector_calloc(rows), *sv = gsl_vector_alloc(n), *work = gsl_vector_alloc(n),
             *x = gsl_vector_calloc(n);
  double worst = 0.0;
  for (int i = 0; i < l->pieces; i++) {
    double miss = want[i] - length(l->r, l->first[i], l->last[i], p);
    worst = fmax(worst, fabs(miss));
    gsl_vector_set(b, (size_t)i, miss);
    for (int k = 0; k < l->movers; k++) {
      places up = *p, down = *p;
      up.at[l->moving[k]] += 1e-4;
      down.at[l->moving[k]] -= 1e-4;
      double slope = length(l->r, l->first[i], l->last[i], &up) - length(l->r, l->first[i], l->last[i], &down);
      gsl_matrix_set(a, (size_t)i, (size_t)k, slope / 2e-4);
    }
  }
  gsl_linalg_SV_decomp(a, v, sv, work);
  for (size_t k = 0; k < n; k++) {
    if (gsl_vector_get(sv, k) < 1e-8 * gsl_vector_get(sv, 0)) {
      gsl_vector_set(sv, k, 0.0);
    }
  }
  gsl_linalg_SV_solve(a, v, sv, b, x);
  for (int k = 0; k < l->movers; k++) {
    p->at[l->moving[k]] += gsl_vector_get(x, (size_t)k);
  }
  gsl_matrix_free(a);
  gsl_matrix_free(v);
  gsl_vector_free(b);
  gsl_vector_free(sv);
  gsl_vector_free(work);
  gsl_vector_free(x);
  return worst;
}

// Work lost at the bends. The rope that has passed a bend is the length that went missing before it on its piece.
static double lost(ref_trial *t, const layout *l, const places *before, const places *after) {
  double sum = 0.0;
  for (int i = 0; i < l->pieces; i++) {
    for (int k = l->first[i]; k < l->last[i]; k++) {
      double passed = length(l->r, l->first[i], k, before) - length(l->r, l->first[i], k, after);
      double here = t->check->strands[k].tension[FH_RAISE].likely;
      double next = t->check->strands[k + 1].tension[FH_RAISE].likely;
      sum += fabs(passed) < 1e-9 ? 0.0 : (next - here) * passed;
      // Friction never gives work back.
      ref_judge(t, "work given back at a bend after strand", k, fmin(0.0, (next - here) * passed), 0.0);
    }
  }
  return sum;
}

// Lengths of 20 m are good to some 1e-15 of themselves; over a lift of 0.1 mm that is 1e-9 and more of the answer. So the
// bound here is a hundred times the usual one: 1e-7.
static const double LOOSELY = 0.01;

static ref_verdict judge(ref_trial *t) {
  if (t->check->outcome != FH_OUTCOME_SOLVED) {
    return REF_PUSHES;
  }
  layout l;
  places before = {{0}}, after;
  double want[MAX_PIECES], rise = rise_for(t->check->ideal_advantage);
  find_layout(t->reading, &l);
  start(t, &before);
  for (int i = 0; i < l.pieces; i++) {
    want[i] = length(t->reading, l.first[i], l.last[i], &before);
  }
  after = before;
  after.at[FH_BODY_LOAD] += rise;
  double miss = 0.0;
  for (int i = 0; i < 4; i++) {
    miss = newton(&l, want, &after);
  }
  ref_judge_plain(t, "rope length kept", 0, miss, 0.0);
  double travel = (after.at[HAND] - before.at[HAND]) * t->reading->strands[t->reading->hand_strand].dir;
  double in = t->check->hand_force.likely * travel, out = t->reading->weight * rise;
  ref_judge_plain(t, "hand travel over rise, less the advantage", 0,
                  LOOSELY * (travel / rise - t->check->ideal_advantage), 0.0);
  ref_judge(t, "work in less work out and lost", 0, LOOSELY * (in - out - lost(t, &l, &before, &after)) / rise, 0.0);
  return REF_SOUND;
}

int main(void) {
  ref_wish wish = ref_wish_default();
  wish.spoil = 0.0;
  int with_losses = ref_docket("energy, with friction", 500000, 4000, &wish, judge);
  wish.lossless = true;
  int without = ref_docket("energy, loss-free", 510000, 4000, &wish, judge);
  return with_losses != 0 || without != 0;
}
