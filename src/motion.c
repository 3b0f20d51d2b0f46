// SPDX-License-Identifier: MIT
// How fast everything moves while the load rises: each grip body, the rope through each contact, and the hand.
// Implements model.md, section 3. One equation a taut strand; full pivoting tells locked from dangling.
#include <math.h>
#include <string.h>

#include "memory.h"
#include "model.h"
#include "text.h"
#include "words.h"

// Entries are sums of a few +1 and -1: anything this small is rounding.
static const double TINY = 1e-9;

// The system rows x = b, with the row combination that each reduced row came from.
typedef struct system {
  int rows, cols;
  double *a;       // rows x cols
  double *b;       // rows
  double *combo;   // rows x rows
  int *row_strand; // strand of each row
  int *col_body;   // body of each column, or -1 - contact, or FH_END_HAND below all contacts
  int *order;      // column order after pivoting
} system;

enum { COL_HAND = -100000 };

static int column_of(const system *s, int what) {
  for (int c = 0; c < s->cols; c++) {
    if (s->col_body[c] == what) {
      return c;
    }
  }
  return -1;
}

static void add_columns(system *s, const fhi_model *m) {
  for (int b = FH_BODY_FIRST_GRIP; b < m->body_count; b++) {
    s->col_body[s->cols++] = b;
  }
  for (int c = 0; c < m->contact_count; c++) {
    if (!m->contacts[c].slack) {
      s->col_body[s->cols++] = -1 - c;
    }
  }
  s->col_body[s->cols++] = COL_HAND;
}

// d|s_i - s_j|/dt = q_i - q_j: the end `e` of a strand adds its body's speed and its contact's rate.
static void add_end(system *s, int row, const fhi_strand *st, int e) {
  const fhi_end *end = &st->end[e];
  double toward = e == 1 ? st->dir : -st->dir;  // growth of the length per speed of this end along +s
  double *a = s->a + (size_t)row * (size_t)s->cols;
  if (end->kind == FHI_END_HAND) {
    a[column_of(s, COL_HAND)] += 1.0;  // the hand's speed is counted away from the contact
  } else if (end->body == FH_BODY_LOAD) {
    s->b[row] -= toward;
  } else if (end->body >= FH_BODY_FIRST_GRIP) {
    a[column_of(s, end->body)] += toward;
  }
  if (end->kind == FHI_END_CONTACT) {
    a[column_of(s, -1 - end->contact)] += e == 1 ? 1.0 : -1.0;
  }
}

static void add_rows(system *s, const fhi_model *m) {
  for (int i = 0; i < m->strand_count; i++) {
    if (m->strands[i].slack) {
      continue;
    }
    s->row_strand[s->rows] = i;
    add_end(s, s->rows, &m->strands[i], 0);
    add_end(s, s->rows, &m->strands[i], 1);
    s->rows++;
  }
  for (int r = 0; r < s->rows; r++) {
    s->combo[(size_t)r * (size_t)s->rows + (size_t)r] = 1.0;
  }
}

static void swap_rows(system *s, int r, int t) {
  for (int c = 0; c < s->cols; c++) {
    double x = s->a[(size_t)r * (size_t)s->cols + (size_t)c];
    s->a[(size_t)r * (size_t)s->cols + (size_t)c] = s->a[(size_t)t * (size_t)s->cols + (size_t)c];
    s->a[(size_t)t * (size_t)s->cols + (size_t)c] = x;
  }
  for (int c = 0; c < s->rows; c++) {
    double x = s->combo[(size_t)r * (size_t)s->rows + (size_t)c];
    s->combo[(size_t)r * (size_t)s->rows + (size_t)c] = s->combo[(size_t)t * (size_t)s->rows + (size_t)c];
    s->combo[(size_t)t * (size_t)s->rows + (size_t)c] = x;
  }
  double x = s->b[r];
  s->b[r] = s->b[t];
  s->b[t] = x;
}

static void clear_column(system *s, int pivot, int col) {
  const double *p = s->a + (size_t)pivot * (size_t)s->cols;
  for (int r = 0; r < s->rows; r++) {
    double *a = s->a + (size_t)r * (size_t)s->cols;
    if (r == pivot || fabs(a[col]) == 0.0) {
      continue;
    }
    double f = a[col] / p[col];
    for (int c = 0; c < s->cols; c++) {
      a[c] -= f * p[c];
    }
    for (int c = 0; c < s->rows; c++) {
      s->combo[(size_t)r * (size_t)s->rows + (size_t)c] -= f * s->combo[(size_t)pivot * (size_t)s->rows + (size_t)c];
    }
    s->b[r] -= f * s->b[pivot];
    a[col] = 0.0;
  }
}

// Gauss-Jordan with full pivoting: `order[i]` becomes the column that row i solves. @return the rank
static int reduce(system *s) {
  int rank = 0;
  while (rank < s->rows && rank < s->cols) {
    int best_r = -1, best_c = -1;
    double best = TINY;
    for (int r = rank; r < s->rows; r++) {
      for (int c = 0; c < s->cols; c++) {
        double x = fabs(s->a[(size_t)r * (size_t)s->cols + (size_t)c]);
        if (x > best) {
          best = x;
          best_r = r;
          best_c = c;
        }
      }
    }
    if (best_r < 0) {
      break;
    }
    swap_rows(s, rank, best_r);
    s->order[rank] = best_c;
    clear_column(s, rank, best_c);
    rank++;
  }
  return rank;
}

// Locked: the rows whose combination says 0 = something are the strands that fight.
static void say_locked(const fh_rig *rig, const fhi_model *m, const system *s, int row, fhi_motion *motion) {
  char *text = motion->why;
  const size_t size = sizeof motion->why;
  fhi_copy(text, size, fhi_say(m->language, "locked: "));
  int said = 0;
  for (int r = 0; r < s->rows; r++) {
    if (fabs(s->combo[(size_t)row * (size_t)s->rows + (size_t)r]) < TINY) {
      continue;
    }
    const fhi_strand *st = &m->strands[s->row_strand[r]];
    size_t used = strlen(text);
    if (used + 2 * FH_NAME + 32 > size) {
      break;  // enough of them for a person to find the place
    }
    fhi_format(text + used, size - used, fhi_say(m->language, "%s%s to %s"), said == 0 ? "" : ", ", fhi_end_said(m->language, rig, st->end[0].body),
               fhi_end_said(m->language, rig, st->end[1].body));
    said++;
  }
  size_t used = strlen(text);
  fhi_copy(text + used, size - used, fhi_say(m->language, said == 1 ? " cannot move" : " fight each other"));
}

static void say_dangling(const fh_rig *rig, const system *s, const bool *solved, int rank, fh_language language, fhi_motion *motion) {
  int body = -1;
  for (int c = 0; c < s->cols && body < 0; c++) {
    if (!solved[c] && s->col_body[c] >= 0) {
      body = s->col_body[c];
    }
  }
  // A free rope rate moves with some body: name the first body that depends on it. There is one: from a tie on, bodies that
  // stay leave every rate and the hand where they are.
  for (int r = 0; r < rank && body < 0; r++) {
    for (int c = 0; c < s->cols && body < 0; c++) {
      if (!solved[c] && fabs(s->a[(size_t)r * (size_t)s->cols + (size_t)c]) > TINY && s->col_body[s->order[r]] >= 0) {
        body = s->col_body[s->order[r]];
      }
    }
  }
  fhi_format(motion->why, sizeof motion->why, fhi_say(language, "%s dangles: it can move without the load moving"), fhi_end_said(language, rig, body));
}

static void read_answer(const system *s, int rank, fhi_motion *motion) {
  motion->body[FH_BODY_LOAD] = 1.0;
  for (int r = 0; r < rank; r++) {
    int col = s->order[r];
    double x = s->b[r] / s->a[(size_t)r * (size_t)s->cols + (size_t)col];
    x = fabs(x) < TINY ? 0.0 : x;
    int what = s->col_body[col];
    if (what == COL_HAND) {
      motion->hand = x;
    } else if (what >= 0) {
      motion->body[what] = x;
    } else {
      motion->rate[-1 - what] = x;
    }
  }
}

static void solve(const fh_rig *rig, const fhi_model *m, system *s, bool *solved, fhi_motion *motion) {
  int rank = reduce(s);
  for (int r = rank; r < s->rows; r++) {
    if (fabs(s->b[r]) > TINY) {
      motion->outcome = FH_OUTCOME_INFEASIBLE;
      say_locked(rig, m, s, r, motion);
      return;
    }
  }
  for (int r = 0; r < rank; r++) {
    solved[s->order[r]] = true;
  }
  if (rank < s->cols) {
    motion->outcome = FH_OUTCOME_INFEASIBLE;
    say_dangling(rig, s, solved, rank, m->language, motion);
    return;
  }
  motion->outcome = FH_OUTCOME_SOLVED;
  read_answer(s, rank, motion);
}

// A capture that is the wrong way round locks as soon as the load rises.
static void find_reversed(const fh_rig *rig, const fhi_model *m, fhi_motion *motion) {
  for (int c = 0; c < m->contact_count; c++) {
    const fhi_contact *k = &m->contacts[c];
    if (k->capture && k->reversed && motion->rate[c] != 0.0) {
      motion->outcome = FH_OUTCOME_INFEASIBLE;
      fhi_format(motion->why, sizeof motion->why,
                 fhi_say(m->language, "locked: the capture on %s is the wrong way round, it holds the rope against the raise"),
                 fhi_end_said(m->language, rig, k->body));
      return;
    }
  }
  if (motion->hand <= 0.0) {
    motion->outcome = FH_OUTCOME_INFEASIBLE;
    fhi_copy(motion->why, sizeof motion->why,
             fhi_say(m->language, motion->hand < 0.0 ? "pulling lets the load down: the hand would have to give rope while the load rises"
                                                     : "the hand does not move while the load rises"));
  }
}

fh_status fhi_motion_solve(const fh_rig *rig, const fhi_model *model, fhi_motion *motion) {
  fh_status status = FH_ERR_MEMORY;
  memset(motion, 0, sizeof *motion);
  motion->outcome = FH_OUTCOME_UNRESOLVED;
  size_t rows = (size_t)model->strand_count, cols = (size_t)(model->body_count + model->contact_count + 1);
  double *numbers = fhi_alloc(rows * cols + rows + rows * rows, sizeof(double));
  int *ints = fhi_alloc(rows + 2 * cols, sizeof(int));
  bool *solved = fhi_alloc(cols, sizeof(bool));
  if (numbers != NULL && ints != NULL && solved != NULL) {
    system s = {.a = numbers, .b = numbers + rows * cols, .combo = numbers + rows * cols + rows,
                .row_strand = ints, .col_body = ints + rows, .order = ints + rows + cols};
    add_columns(&s, model);
    add_rows(&s, model);
    solve(rig, model, &s, solved, motion);
    if (motion->outcome == FH_OUTCOME_SOLVED) {
      find_reversed(rig, model, motion);
      fhi_chains_fill(model, motion);
    }
    status = FH_OK;
  }
  fhi_free(solved);
  fhi_free(ints);
  fhi_free(numbers);
  return status;
}
