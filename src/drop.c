// SPDX-License-Identifier: MIT
// The largest fall as a linear programme. Implements model.md, section 9.
//
// Unknown: y_b = top - s_b, how far each free body lies below a point above everything; D_ab >= |s_a - s_b| for every pair
// of bodies that some piece joins; u_c >= 0, rope that a capture lets run on. Rows: two a pair, one a piece. Few bodies make
// few pairs, so that a rig of ten strands is a programme of a dozen rows. The dual programme gives the tensions: the same
// matrix, turned over; that both find the same fall checks both.
#include "drop.h"

#include <math.h>
#include <string.h>

#include "lp.h"
#include "memory.h"

enum {
  MAX_PAIRS = FHI_DROP_POINTS,
  MAX_ROWS = 2 * MAX_PAIRS + FHI_DROP_PIECES,
  MAX_COLS = FHI_DROP_BODIES + MAX_PAIRS + FHI_DROP_SLIPS,
};

struct fhi_drop_work {
  double *a, *turned, *scratch;  // rows x cols, cols x rows
  double b[MAX_ROWS], c[MAX_COLS], x[MAX_COLS], y[MAX_ROWS], minus_b[MAX_ROWS];
  char sense[MAX_ROWS], other_sense[MAX_COLS];
  int col[FHI_DROP_BODIES];                 // column of a free body, or -1
  int pair_a[MAX_PAIRS], pair_b[MAX_PAIRS];
  int row_of_piece[FHI_DROP_PIECES];      // or -1: nothing in it can move
  size_t room;                            // numbers that `a` and `turned` hold each
  int points;                             // largest number of points
};

// Every pair and every piece needs a point of its own, so points bound both.
fhi_drop_work *fhi_drop_work_create(int points) {
  fhi_drop_work *w = fhi_alloc(1, sizeof *w);
  int most = points < FHI_DROP_POINTS ? points : FHI_DROP_POINTS;
  int rows = 3 * most + 1, cols = FHI_DROP_BODIES + most + FHI_DROP_SLIPS;
  if (w == NULL) {
    return NULL;
  }
  size_t one = fhi_lp_scratch(rows, cols), other = fhi_lp_scratch(cols, rows);  // one scratch serves both programmes
  w->points = most;
  w->room = (size_t)rows * (size_t)cols;
  w->a = fhi_alloc(2 * w->room, sizeof(double));
  w->scratch = fhi_alloc(one > other ? one : other, sizeof(double));
  if (w->a == NULL || w->scratch == NULL) {
    fhi_drop_work_destroy(w);
    return NULL;
  }
  return w;
}

void fhi_drop_work_destroy(fhi_drop_work *w) {
  if (w != NULL) {
    fhi_free(w->a);
    fhi_free(w->scratch);
    fhi_free(w);
  }
}

// The programme while it is built.
typedef struct builder {
  const fhi_drop *d;
  fhi_drop_work *w;
  int bodies, pairs, rows, cols;
  double top;
} builder;

static double *row(const builder *x, int r) {
  return x->w->a + (size_t)r * (size_t)x->cols;
}

static int pair_of(builder *x, int a, int b) {
  int lo = a < b ? a : b, hi = a < b ? b : a;
  for (int j = 0; j < x->pairs; j++) {
    if (x->w->pair_a[j] == lo && x->w->pair_b[j] == hi) {
      return j;
    }
  }
  x->w->pair_a[x->pairs] = lo;
  x->w->pair_b[x->pairs] = hi;
  return x->pairs++;
}

static bool moves(const fhi_drop *d, int a, int b) {
  return a != b && !(d->fixed[a] && d->fixed[b]);
}

// Which bodies and pairs there are, so that the columns are known before rows are written.
static void count(builder *x) {
  const fhi_drop *d = x->d;
  for (int b = 0; b < d->body_count; b++) {
    x->w->col[b] = -1;
    x->top = fmax(x->top, d->at[b]);
  }
  for (int p = 0; p < d->piece_count; p++) {
    const int *body = d->body + d->pieces[p].first;
    const fhi_piece *piece = &d->pieces[p];
    bool runs_on = piece->gives[0] >= 0 || piece->gives[1] >= 0 || piece->takes[0] >= 0 || piece->takes[1] >= 0;
    x->w->row_of_piece[p] = runs_on ? 0 : -1;
    x->top = fmax(x->top, d->at[body[0]] + d->pieces[p].length);
    for (int i = 0; i + 1 < d->pieces[p].count; i++) {
      if (moves(d, body[i], body[i + 1])) {
        (void)pair_of(x, body[i], body[i + 1]);
        x->w->row_of_piece[p] = 0;
      }
    }
  }
  for (int j = 0; j < x->pairs; j++) {
    int ends[2] = {x->w->pair_a[j], x->w->pair_b[j]};
    for (int e = 0; e < 2; e++) {
      if (!d->fixed[ends[e]] && x->w->col[ends[e]] < 0) {
        x->w->col[ends[e]] = x->bodies++;
      }
    }
  }
  x->cols = x->bodies + x->pairs + d->slip_count;
}

static void add_body(const builder *x, double *a, double *b, int body, double sign) {
  // sign * s_body on the left side; s = top - y, or a number
  int col = x->w->col[body];
  if (col >= 0) {
    a[col] -= sign;
    *b -= sign * x->top;
  } else {
    *b -= sign * x->d->at[body];
  }
}

// s_a - s_b <= D and s_b - s_a <= D
static void add_pair_rows(builder *x) {
  for (int j = 0; j < x->pairs; j++) {
    for (int turn = 0; turn < 2; turn++) {
      double *a = row(x, x->rows);
      double *b = &x->w->b[x->rows++];
      *b = 0.0;
      add_body(x, a, b, x->w->pair_a[j], turn == 0 ? 1.0 : -1.0);
      add_body(x, a, b, x->w->pair_b[j], turn == 0 ? -1.0 : 1.0);
      a[x->bodies + j] -= 1.0;
    }
  }
}

static void add_piece_rows(builder *x) {
  const fhi_drop *d = x->d;
  for (int p = 0; p < d->piece_count; p++) {
    const fhi_piece *piece = &d->pieces[p];
    const int *body = d->body + piece->first;
    if (x->w->row_of_piece[p] < 0) {
      continue;
    }
    double *a = row(x, x->rows);
    x->w->row_of_piece[p] = x->rows;
    x->w->b[x->rows] = piece->length;
    for (int i = 0; i + 1 < piece->count; i++) {
      if (moves(d, body[i], body[i + 1])) {
        a[x->bodies + pair_of(x, body[i], body[i + 1])] += 1.0;
      } else {
        x->w->b[x->rows] -= fabs(d->at[body[i]] - d->at[body[i + 1]]);
      }
    }
    for (int e = 0; e < 2; e++) {
      if (piece->gives[e] >= 0) {
        a[x->bodies + x->pairs + piece->gives[e]] += 1.0;
      }
      if (piece->takes[e] >= 0) {
        a[x->bodies + x->pairs + piece->takes[e]] -= 1.0;
      }
    }
    x->rows++;
  }
}

static void build(builder *x) {
  memset(x->w->a, 0, (size_t)(2 * x->pairs + x->d->piece_count) * (size_t)x->cols * sizeof(double));
  add_pair_rows(x);
  add_piece_rows(x);
  memset(x->w->sense, '<', (size_t)x->rows);
  memset(x->w->c, 0, (size_t)x->cols * sizeof(double));
  x->w->c[x->w->col[FH_BODY_LOAD]] = 1.0;
}

// min b lambda  subject to  A' lambda >= c, lambda >= 0
static bool solve_dual(const builder *x, double primal, fhi_drop_answer *answer) {
  fhi_drop_work *w = x->w;
  double *turned = w->a + w->room, value, residual;
  for (int r = 0; r < x->rows; r++) {
    for (int c = 0; c < x->cols; c++) {
      turned[(size_t)c * (size_t)x->rows + (size_t)r] = w->a[(size_t)r * (size_t)x->cols + (size_t)c];
    }
    w->minus_b[r] = -w->b[r];
  }
  for (int c = 0; c < x->cols; c++) {
    w->other_sense[c] = '>';
  }
  fhi_lp lp = {x->cols, x->rows, turned, w->other_sense, w->c, w->minus_b};
  if (fhi_lp_solve(&lp, w->y, &value, &residual, w->scratch) != FHI_LP_OPTIMAL) {
    return false;
  }
  answer->residual = fmax(answer->residual, fmax(residual, fabs(value + primal) / fmax(1.0, fabs(primal))));
  for (int p = 0; p < x->d->piece_count; p++) {
    answer->share[p] = w->row_of_piece[p] >= 0 ? w->y[w->row_of_piece[p]] : 0.0;
  }
  return true;
}

void fhi_drop_solve(const fhi_drop *d, bool tensions, fhi_drop_work *w, fhi_drop_answer *answer) {
  builder x = {.d = d, .w = w, .top = -(double)INFINITY};
  memset(answer, 0, sizeof *answer);
  if (d->point_count > w->points) {
    return;  // not solved; cannot happen: the scratch was made for the whole rig
  }
  count(&x);
  answer->solved = answer->lost = w->col[FH_BODY_LOAD] < 0;  // no piece of rope leads from the load anywhere
  if (answer->lost) {
    return;
  }
  build(&x);
  double value, residual;
  fhi_lp lp = {x.rows, x.cols, w->a, w->sense, w->b, w->c};
  fhi_lp_end end = fhi_lp_solve(&lp, w->x, &value, &residual, w->scratch);
  answer->lost = end == FHI_LP_UNBOUNDED;
  answer->solved = answer->lost || end == FHI_LP_OPTIMAL;
  if (end != FHI_LP_OPTIMAL) {
    return;
  }
  answer->residual = residual;
  answer->drop = fmax(0.0, value - (x.top - d->at[FH_BODY_LOAD]));
  for (int b = 0; b < d->body_count; b++) {
    answer->at[b] = w->col[b] >= 0 ? x.top - w->x[w->col[b]] : d->at[b];
  }
  if (tensions) {
    answer->solved = solve_dual(&x, value, answer);
  }
}
