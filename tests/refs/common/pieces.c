// SPDX-License-Identifier: MIT
// How does a rig move, and what does each strand carry? The same laws in other unknowns. The length of each piece of
// rope between two points that hold it stays the same: that alone gives the speeds, and the rate at each bend follows
// by adding up along the piece. Each piece has one unknown tension; the others are it times the ratios on the way.
// Singular values and Householder least squares by GSL.
#include "pieces.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct piece {
  int first, last;  // strands
} piece;

// Strands are numbered along their paths, so a piece is a run of neighbours.
static int find_pieces(const ref_reading *r, piece *out) {
  int count = 0;
  for (int i = 0; i < r->strand_count; i++) {
    if (r->strands[i].slack) {
      continue;
    }
    ref_what what = r->points[r->strands[i].from].what;
    bool begins = what != REF_TURN && what != REF_TENDED;
    if (begins || count == 0 || out[count - 1].last != i - 1) {
      out[count++] = (piece){i, i};
    } else {
      out[count - 1].last = i;
    }
  }
  return count;
}

// How fast a strand gets longer per unit speed of a body.
static double lengthening(const ref_reading *r, int strand, int body) {
  const ref_strand *t = &r->strands[strand];
  double rate = 0.0;
  rate += r->points[t->to].body == body ? t->dir : 0.0;
  rate -= r->points[t->from].body == body ? t->dir : 0.0;
  return rate;
}

typedef struct unknowns {
  int body[FH_MAX_BODIES], hand, count;
} unknowns;

static unknowns number_unknowns(const ref_reading *r) {
  unknowns u = {.hand = -1};
  for (int b = FH_BODY_FIRST_GRIP; b < r->body_count; b++) {
    u.body[b] = u.count++;
  }
  if (r->hand_strand >= 0) {
    u.hand = u.count++;
  }
  return u;
}

// Least squares through the singular value decomposition of a matrix with at least as many rows as columns.
// @return rank; x and the largest residual go out
static int solve(const gsl_matrix *a, const gsl_vector *b, gsl_vector *x, double *residual) {
  size_t n = a->size2;
  gsl_matrix *u = gsl_matrix_alloc(a->size1, n), *v = gsl_matrix_alloc(n, n);
  gsl_vector *sv = gsl_vector_alloc(n), *work = gsl_vector_alloc(n), *res = gsl_vector_alloc(b->size);
  gsl_matrix_memcpy(u, a);
  gsl_linalg_SV_decomp(u, v, sv, work);
  int rank = 0;
  for (size_t i = 0; i < n; i++) {
    if (gsl_vector_get(sv, i) > 1e-10 * gsl_vector_get(sv, 0)) {
      rank++;
    } else {
      gsl_vector_set(sv, i, 0.0);
    }
  }
  gsl_linalg_SV_solve(u, v, sv, b, x);
  gsl_vector_memcpy(res, b);
  gsl_blas_dgemv(CblasNoTrans, 1.0, a, x, -1.0, res);
  *residual = fmax(gsl_vector_max(res), -gsl_vector_min(res));
  gsl_matrix_free(u);
  gsl_matrix_free(v);
  gsl_vector_free(sv);
  gsl_vector_free(work);
  gsl_vector_free(res);
  return rank;
}

static void fill_lengths(const ref_reading *r, const unknowns *u, const piece *p, int pieces, gsl_matrix *a,
                         gsl_vector *b) {
  for (int i = 0; i < pieces; i++) {
    double fixed = 0.0;
    for (int k = p[i].first; k <= p[i].last; k++) {
      fixed += lengthening(r, k, FH_BODY_LOAD);
      for (int body = FH_BODY_FIRST_GRIP; body < r->body_count; body++) {
        *gsl_matrix_ptr(a, (size_t)i, (size_t)u->body[body]) += lengthening(r, k, body);
      }
      if (k == r->hand_strand) {
        *gsl_matrix_ptr(a, (size_t)i, (size_t)u->hand) += 1.0;
      }
    }
    gsl_vector_set(b, (size_t)i, -fixed);
  }
}

// Rope that a strand does not take passes on to the next: what passes a bend is what went before less what it took.
static void add_up_rates(const ref_reading *r, const piece *p, int pieces, ref_motion *out) {
  for (int i = 0; i < pieces; i++) {
    double passing = 0.0;
    for (int k = p[i].first; k < p[i].last; k++) {
      for (int body = 0; body < r->body_count; body++) {
        passing -= lengthening(r, k, body) * out->body_speed[body];
      }
      out->rate[r->strands[k].to] = passing;
    }
  }
}

static bool wrong_way_round(const ref_reading *r, const ref_motion *m) {
  for (int p = 0; p < r->point_count; p++) {
    if (r->points[p].reversed && fabs(m->rate[p]) > REF_REST) {
      return true;
    }
  }
  return false;
}

void ref_pieces_motion(const ref_reading *r, ref_motion *out) {
  memset(out, 0, sizeof *out);
  piece p[REF_MAX_STRANDS];
  int pieces = find_pieces(r, p);
  unknowns u = number_unknowns(r);
  out->body_speed[FH_BODY_LOAD] = 1.0;
  out->hand_speed = REF_NAN;
  if (pieces == 0 || u.count == 0) {
    out->verdict = REF_DANGLES;
    return;
  }
  // GSL wants no fewer rows than columns: empty rows say nothing.
  size_t rows = (size_t)(pieces > u.count ? pieces : u.count);
  gsl_matrix *a = gsl_matrix_calloc(rows, (size_t)u.count);
  gsl_vector *b = gsl_vector_calloc(rows), *x = gsl_vector_calloc((size_t)u.count);
  fill_lengths(r, &u, p, pieces, a, b);
  double residual = 0.0;
  int rank = solve(a, b, x, &residual);
  out->verdict = residual > 1e-9 ? REF_LOCKED : rank < u.count ? REF_DANGLES : REF_SOUND;
  for (int body = FH_BODY_FIRST_GRIP; body < r->body_count; body++) {
    out->body_speed[body] = gsl_vector_get(x, (size_t)u.body[body]);
  }
  out->hand_speed = u.hand >= 0 ? gsl_vector_get(x, (size_t)u.hand) : REF_NAN;
  gsl_matrix_free(a);
  gsl_vector_free(b);
  gsl_vector_free(x);
  add_up_rates(r, p, pieces, out);
  if (out->verdict == REF_SOUND && wrong_way_round(r, out)) {
    out->verdict = REF_LOCKED;
  }
}

// Each strand's tension over that of its piece's first strand. @return false when a bend rests and can hide tension
static bool factors(const ref_reading *r, const ref_motion *m, int state, const piece *p, double *f) {
  f[p->first] = 1.0;
  for (int k = p->first; k < p->last; k++) {
    int point = r->strands[k].to;
    double rate = state == FH_LOWER ? -m->rate[point] : m->rate[point];
    double ratio = r->points[point].k;
    if (fabs(rate) <= REF_REST && ratio > 1.0) {
      return false;
    }
    f[k + 1] = f[k] * (rate > 0.0 ? ratio : 1.0 / ratio);
  }
  return true;
}

static void fill_balance(const ref_reading *r, const piece *p, int pieces, const double *f, gsl_matrix *a,
                         gsl_vector *b) {
  size_t row = 0;
  double ends[REF_MAX_STRANDS];
  for (int body = 0; body < r->body_count; body++) {
    if (!ref_body_moves(body)) {
      continue;
    }
    ref_body_row(r, body, ends);
    for (int i = 0; i < pieces; i++) {
      for (int k = p[i].first; k <= p[i].last; k++) {
        *gsl_matrix_ptr(a, row, (size_t)i) += ends[k] * f[k];
      }
    }
    gsl_vector_set(b, row++, body == FH_BODY_LOAD ? 1.0 : 0.0);
  }
}

static void spread_out(const ref_reading *r, const piece *p, int pieces, const double *f, const gsl_vector *x,
                       ref_forces *out) {
  double least = REF_INFINITY;
  for (int i = 0; i < pieces; i++) {
    for (int k = p[i].first; k <= p[i].last; k++) {
      double share = f[k] * gsl_vector_get(x, (size_t)i);
      least = fmin(least, share);
      out->lo[k] = out->hi[k] = share * r->weight;
    }
  }
  out->verdict = least < -1e-7 ? REF_PUSHES : least < -1e-12 ? REF_BORDER : REF_SOUND;
}

bool ref_pieces_forces(const ref_reading *r, const ref_motion *m, int state, ref_forces *out) {
  memset(out, 0, sizeof *out);
  piece p[REF_MAX_STRANDS];
  double f[REF_MAX_STRANDS] = {0};
  int pieces = find_pieces(r, p);
  for (int i = 0; i < pieces; i++) {
    if (!factors(r, m, state, &p[i], f)) {
      return false;
    }
  }
  size_t rows = (size_t)(pieces > r->body_count ? pieces : r->body_count);
  gsl_matrix *a = gsl_matrix_calloc(rows, (size_t)pieces);
  gsl_vector *b = gsl_vector_calloc(rows), *x = gsl_vector_calloc((size_t)pieces);
  fill_balance(r, p, pieces, f, a, b);
  double residual = 0.0;
  int rank = solve(a, b, x, &residual);
  spread_out(r, p, pieces, f, x, out);
  if (residual > 1e-9) {
    out->verdict = REF_PUSHES;
  }
  gsl_matrix_free(a);
  gsl_vector_free(b);
  gsl_vector_free(x);
  return residual > 1e-9 || rank == pieces;
}
