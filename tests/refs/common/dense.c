// SPDX-License-Identifier: MIT
// How does a rig move, and what does each strand carry? model.md sections 3 and 4 as one dense least-squares system
// each: one row a strand for the motion, one row a bend and a body for the forces. Rank by singular values.
#include "dense.h"

#include <lapacke.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

// Singular values below this share of the largest count as zero. The systems hold only 0, +-1 and ratios up to 10^2;
// the smallest true singular value seen in the random rigs is about 1e-3 of the largest.
static const double RANK_SHARE = 1e-10;
static const double RESIDUAL = 1e-9;

typedef struct system {
  int rows, cols;
  double *a, *b, *x;  // a: rows x cols, row by row
} system_t;

static bool system_make(system_t *s, int rows, int cols) {
  *s = (system_t){.rows = rows, .cols = cols};
  s->a = calloc((size_t)rows * (size_t)cols + 1, sizeof *s->a);
  s->b = calloc((size_t)rows + 1, sizeof *s->b);
  s->x = calloc((size_t)(rows > cols ? rows : cols) + 1, sizeof *s->x);
  return s->a != NULL && s->b != NULL && s->x != NULL;
}

static void system_drop(system_t *s) {
  free(s->a);
  free(s->b);
  free(s->x);
}

// Least squares by the divide-and-conquer SVD. @return rank, or -1; the largest residual goes out
static int system_solve(system_t *s, double *residual) {
  size_t n = (size_t)s->rows * (size_t)s->cols;
  double *copy = malloc((n + 1) * sizeof *copy);
  double *sv = malloc(((size_t)s->rows + (size_t)s->cols + 1) * sizeof *sv);
  lapack_int rank = -1;
  *residual = REF_NAN;
  if (copy != NULL && sv != NULL) {
    memcpy(copy, s->a, n * sizeof *copy);
    memcpy(s->x, s->b, (size_t)s->rows * sizeof *s->x);
    if (LAPACKE_dgelsd(LAPACK_ROW_MAJOR, s->rows, s->cols, 1, copy, s->cols, s->x, 1, sv, RANK_SHARE, &rank) != 0) {
      rank = -1;
    }
  }
  free(copy);
  free(sv);
  *residual = 0.0;
  for (int i = 0; i < s->rows; i++) {
    double sum = -s->b[i];
    for (int j = 0; j < s->cols; j++) {
      sum += s->a[i * s->cols + j] * s->x[j];
    }
    *residual = fmax(*residual, fabs(sum));
  }
  return rank;
}

// Polishes a square system of full rank by Gaussian elimination: the plain answer, without the SVD's rounding.
static void system_polish(system_t *s) {
  if (s->rows != s->cols) {
    return;
  }
  lapack_int *pivot = malloc(((size_t)s->rows + 1) * sizeof *pivot);
  if (pivot != NULL) {
    memcpy(s->x, s->b, (size_t)s->rows * sizeof *s->x);
    LAPACKE_dgesv(LAPACK_ROW_MAJOR, s->rows, 1, s->a, s->cols, pivot, s->x, 1);
  }
  free(pivot);
}

// Which column holds which unknown: grip bodies, the hand, and rates at turns between strands that carry.
typedef struct columns {
  int body[FH_MAX_BODIES], point[REF_MAX_POINTS], hand, count;
} columns;

static bool carries(const ref_reading *r, int strand) {
  return strand >= 0 && !r->strands[strand].slack;
}

static columns number_columns(const ref_reading *r) {
  columns c = {.hand = -1};
  for (int b = 0; b < FH_MAX_BODIES; b++) {
    c.body[b] = b >= FH_BODY_FIRST_GRIP && b < r->body_count ? c.count++ : -1;
  }
  if (r->hand_strand >= 0) {
    c.hand = c.count++;
  }
  for (int p = 0; p < r->point_count; p++) {
    bool bend = r->points[p].what == REF_TURN || r->points[p].what == REF_TENDED;
    bool used = bend && carries(r, ref_strand_before(r, p)) && carries(r, ref_strand_after(r, p));
    c.point[p] = used ? c.count++ : -1;
  }
  return c;
}

// d|s_a - s_b|/dt = q_a - q_b; the hand's end moves away at the hand's speed, whichever way it is pulled.
static void motion_row(const ref_reading *r, const columns *c, const ref_strand *t, double *row, double *b) {
  const ref_point *from = &r->points[t->from], *to = &r->points[t->to];
  const ref_point *end[2] = {from, to};
  for (int i = 0; i < 2; i++) {
    double sign = i == 0 ? -t->dir : t->dir;
    if (end[i]->what == REF_HAND) {
      row[c->hand] += 1.0;
    } else if (end[i]->body == FH_BODY_LOAD) {
      *b -= sign;
    } else if (end[i]->body >= FH_BODY_FIRST_GRIP) {
      row[c->body[end[i]->body]] += sign;
    }
  }
  if (c->point[t->from] >= 0) {
    row[c->point[t->from]] -= 1.0;
  }
  if (c->point[t->to] >= 0) {
    row[c->point[t->to]] += 1.0;
  }
}

// A capture faces the raise and lets the rope run; one put in the wrong way round locks wherever rope has to pass it.
static bool capture_locks(const ref_reading *r, const ref_motion *m) {
  for (int p = 0; p < r->point_count; p++) {
    if (r->points[p].capture && r->points[p].reversed && fabs(m->rate[p]) > REF_REST) {
      return true;
    }
  }
  return false;
}

void ref_dense_motion(const ref_reading *r, ref_motion *out) {
  memset(out, 0, sizeof *out);
  columns c = number_columns(r);
  system_t s;
  if (!system_make(&s, r->strand_count + 1, c.count + 1)) {
    abort();
  }
  s.cols = c.count;
  s.rows = 0;
  for (int i = 0; i < r->strand_count; i++) {
    if (carries(r, i)) {
      motion_row(r, &c, &r->strands[i], s.a + (size_t)s.rows * (size_t)s.cols, &s.b[s.rows]);
      s.rows++;
    }
  }
  double residual = 0.0;
  int rank = s.cols > 0 && s.rows > 0 ? system_solve(&s, &residual) : 0;
  out->verdict = residual > RESIDUAL ? REF_LOCKED : rank < s.cols || s.cols == 0 ? REF_DANGLES : REF_SOUND;
  out->body_speed[FH_BODY_LOAD] = 1.0;
  for (int b = FH_BODY_FIRST_GRIP; b < r->body_count; b++) {
    out->body_speed[b] = s.x[c.body[b]];
  }
  out->hand_speed = c.hand >= 0 ? s.x[c.hand] : REF_NAN;
  for (int p = 0; p < r->point_count; p++) {
    out->rate[p] = c.point[p] >= 0 ? s.x[c.point[p]] : 0.0;
  }
  if (out->verdict == REF_SOUND && capture_locks(r, out)) {
    out->verdict = REF_LOCKED;
  }
  system_drop(&s);
}

// A sliding bend: the strand that the rope leaves into is tighter by k. Lowering turns the sliding round.
static bool bend_row(const ref_reading *r, const ref_motion *m, int state, int p, double *row) {
  const ref_point *pt = &r->points[p];
  int b = ref_strand_before(r, p), a = ref_strand_after(r, p);
  if (b < 0 || a < 0 || r->strands[b].slack || r->strands[a].slack) {
    return true;
  }
  if (fabs(m->rate[p]) <= REF_REST && pt->k > 1.0) {
    return false;
  }
  bool onward = (m->rate[p] > 0.0) == (state == FH_RAISE);
  row[a] = onward ? 1.0 : -pt->k;
  row[b] = onward ? -pt->k : 1.0;
  return true;
}

static bool force_rows(const ref_reading *r, const ref_motion *m, int state, system_t *s) {
  int n = s->cols;
  for (int p = 0; p < r->point_count; p++) {
    if (r->points[p].what == REF_TURN || r->points[p].what == REF_TENDED) {
      if (!bend_row(r, m, state, p, s->a + (size_t)s->rows * (size_t)n)) {
        return false;
      }
      s->rows++;
    }
  }
  for (int b = 0; b < r->body_count; b++) {
    if (ref_body_moves(b)) {
      ref_body_row(r, b, s->a + (size_t)s->rows * (size_t)n);
      s->b[s->rows++] = b == FH_BODY_LOAD ? 1.0 : 0.0;
    }
  }
  for (int i = 0; i < r->strand_count; i++) {
    if (r->strands[i].slack) {
      s->a[(size_t)s->rows++ * (size_t)n + (size_t)i] = 1.0;
    }
  }
  return true;
}

// Rows of nothing (bends between slack strands) go, so that a sound rig's system is square and dgesv can have it.
static void drop_empty_rows(system_t *s) {
  int kept = 0;
  for (int i = 0; i < s->rows; i++) {
    bool empty = s->b[i] == 0.0;
    for (int j = 0; j < s->cols && empty; j++) {
      empty = s->a[(size_t)i * (size_t)s->cols + (size_t)j] == 0.0;
    }
    if (!empty) {
      memmove(s->a + (size_t)kept * (size_t)s->cols, s->a + (size_t)i * (size_t)s->cols,
              (size_t)s->cols * sizeof *s->a);
      s->b[kept++] = s->b[i];
    }
  }
  s->rows = kept;
}

static ref_verdict sign_verdict(const system_t *s) {
  double least = REF_INFINITY;
  for (int i = 0; i < s->cols; i++) {
    least = fmin(least, s->x[i]);
  }
  return least < -1e-7 ? REF_PUSHES : least < -1e-12 ? REF_BORDER : REF_SOUND;
}

bool ref_dense_forces(const ref_reading *r, const ref_motion *m, int state, ref_forces *out) {
  memset(out, 0, sizeof *out);
  system_t s;
  int most = r->point_count + r->body_count + r->strand_count;
  if (!system_make(&s, most, r->strand_count)) {
    abort();
  }
  s.rows = 0;
  bool settled = force_rows(r, m, state, &s);
  drop_empty_rows(&s);
  double residual = 0.0;
  if (settled) {
    int rank = system_solve(&s, &residual);
    settled = rank == s.cols;
    if (residual > RESIDUAL) {
      out->verdict = REF_PUSHES;
      settled = true;
    } else if (settled) {
      system_polish(&s);
      out->verdict = sign_verdict(&s);
    }
  }
  for (int i = 0; i < r->strand_count; i++) {
    out->lo[i] = out->hi[i] = s.x[i] * r->weight;
  }
  system_drop(&s);
  return settled;
}
