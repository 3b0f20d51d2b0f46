// SPDX-License-Identifier: MIT
// What friction can hide: the smallest and largest tension of strands at rest, by linear programmes.
// Implements model.md, sections 2 and 4: holding (hands off, captures locked), and raising past a contact where the rope rests.
#include <math.h>
#include <string.h>

#include "force.h"
#include "lp.h"
#include "memory.h"

struct fhi_rest {
  const fhi_model *model;
  const fhi_motion *motion;
  int sense;
  int cols;                          // live strands
  int col[FH_MAX_STRANDS];           // strand to column, -1 when it carries nothing
  int rows;
  double *a, *b, *c, *x, *scratch;   // the programme
  char *sense_of;                    // '<' or '=' a row
  bool begun;                        // the rows are as `many` has them
  bool kept;                         // and the last goal over them was answered
  fhi_lp_many many;
};

static bool live(const fhi_rest *r, int strand) {
  const fhi_model *m = r->model;
  if (r->sense != 0) {
    return !m->strands[strand].slack;
  }
  return !m->strands[strand].slack_hold && strand != m->hand_strand;
}

static size_t row_limit(const fhi_model *m) {
  return (size_t)(2 * m->contact_count + m->body_count + m->strand_count);
}

fhi_rest *fhi_rest_create(const fhi_model *model, const fhi_motion *motion) {
  fhi_rest *r = fhi_alloc(1, sizeof *r);
  if (r == NULL) {
    return NULL;
  }
  r->model = model;
  r->motion = motion;
  size_t rows = row_limit(model), cols = (size_t)model->strand_count;
  // Not zeroed, as it is too much for that: everything in it is written before it is read.
  r->a = fhi_realloc(NULL, rows * cols + rows + 2 * cols + fhi_lp_many_scratch((int)rows, (int)cols), sizeof(double));
  r->sense_of = fhi_alloc(rows, 1);
  if (r->a == NULL || r->sense_of == NULL) {
    fhi_rest_destroy(r);
    return NULL;
  }
  r->b = r->a + rows * cols;
  r->c = r->b + rows;
  r->x = r->c + cols;
  r->scratch = r->x + cols;
  return r;
}

void fhi_rest_destroy(fhi_rest *rest) {
  if (rest != NULL) {
    fhi_free(rest->a);
    fhi_free(rest->sense_of);
    fhi_free(rest);
  }
}

static double *new_row(fhi_rest *r, char sense, double b) {
  double *row = r->a + (size_t)r->rows * (size_t)r->cols;
  memset(row, 0, (size_t)r->cols * sizeof *row);
  r->begun = false;
  r->b[r->rows] = b;
  r->sense_of[r->rows++] = sense;
  return row;
}

static void add_term(const fhi_rest *r, double *row, int strand, double value) {
  if (r->col[strand] >= 0) {
    row[r->col[strand]] += value;
  }
}

// x <= k y
static void add_at_most(fhi_rest *r, int x, int y, double k) {
  double *row = new_row(r, '<', 0.0);
  add_term(r, row, x, 1.0);
  add_term(r, row, y, -k);
}

static void add_contact(fhi_rest *r, int c, double k) {
  const fhi_contact *ct = &r->model->contacts[c];
  double rate = r->motion->rate[c];
  if (r->col[ct->before] < 0 && r->col[ct->after] < 0) {
    return;
  }
  if (r->sense == 0) {
    if (ct->capture && ct->kind == FHI_TENDED) {
      return;  // a hitch bites both ways: the two sides know nothing of each other
    }
    if (ct->capture) {
      // The cam holds the load's side and lets the rope run on toward the hand; the wrong way round it is the other way.
      // Rope that does not run while raising: the cam lets it run toward the rope's last end.
      bool forward = (rate >= 0.0) != ct->reversed;
      add_at_most(r, forward ? ct->after : ct->before, forward ? ct->before : ct->after, k);
      return;
    }
  } else if (rate != 0.0 || ct->kind == FHI_TENDED) {
    double *row = new_row(r, '=', 0.0);
    add_term(r, row, ct->after, 1.0);
    add_term(r, row, ct->before, -(r->sense * rate >= 0.0 ? k : 1.0 / k));
    return;
  }
  add_at_most(r, ct->after, ct->before, k);
  add_at_most(r, ct->before, ct->after, k);
}

void fhi_rest_begin(fhi_rest *r, int sense, const double *factor) {
  const fhi_model *m = r->model;
  r->sense = sense;
  r->rows = r->cols = 0;
  r->begun = false;
  for (int s = 0; s < m->strand_count; s++) {
    r->col[s] = live(r, s) ? r->cols++ : -1;
  }
  for (int c = 0; c < m->contact_count; c++) {
    add_contact(r, c, factor[c]);
  }
  for (int body = 0; body < m->body_count; body++) {
    if (m->fixed[body]) {
      continue;
    }
    double *row = new_row(r, '=', body == FH_BODY_LOAD ? 1.0 : 0.0);
    for (int s = 0; s < m->strand_count; s++) {
      for (int e = 0; e < 2; e++) {
        if (m->strands[s].end[e].body == body) {
          add_term(r, row, s, e == 0 ? m->strands[s].dir : -m->strands[s].dir);
        }
      }
    }
  }
}

void fhi_rest_cap(fhi_rest *r, int strand, double most) {
  if (r->col[strand] >= 0) {
    add_term(r, new_row(r, '<', most), strand, 1.0);
  }
}

static bool solve(fhi_rest *r, const fhi_form *form, double sign, double *value, double *residual) {
  for (int s = 0; s < r->model->strand_count; s++) {
    if (r->col[s] >= 0) {
      r->c[r->col[s]] = sign * form->of[s];
    }
  }
  if (!r->begun) {
    const fhi_lp rows = {.rows = r->rows, .cols = r->cols, .a = r->a, .sense = r->sense_of, .b = r->b, .c = NULL};
    fhi_lp_many_begin(&rows, &r->many, r->scratch);
    r->begun = true;
  }
  fhi_lp_end end = fhi_lp_many_solve(&r->many, r->c, r->x, value, residual);
  *value *= sign;
  if (end == FHI_LP_UNBOUNDED) {
    *value = sign * (double)INFINITY;  // two captures can wedge a strand between them to any tension
    return true;
  }
  return end == FHI_LP_OPTIMAL;
}

// Does a form ask of no strand that carries anything? Its value is 0 then, if the rows can be kept at all.
static bool asks_nothing(const fhi_rest *r, const fhi_form *form) {
  for (int s = 0; s < r->model->strand_count; s++) {
    if (r->col[s] >= 0 && form->of[s] != 0.0) {
      return false;
    }
  }
  return true;
}

// The least or the most of a form. @param sign [1] -1 or +1
static bool far_end(fhi_rest *r, const fhi_form *form, double sign, double *value) {
  double residual;
  if (r->begun && r->kept && asks_nothing(r, form)) {
    *value = 0.0;
    return true;
  }
  r->kept = solve(r, form, sign, value, &residual);
  return r->kept;
}

bool fhi_rest_least(fhi_rest *r, const fhi_form *form, double *lo) {
  return far_end(r, form, -1.0, lo);
}

bool fhi_rest_most(fhi_rest *r, const fhi_form *form, double *hi) {
  return far_end(r, form, 1.0, hi);
}

bool fhi_rest_extremes(fhi_rest *r, const fhi_form *form, double *lo, double *hi) {
  return fhi_rest_least(r, form, lo) && fhi_rest_most(r, form, hi);
}

bool fhi_rest_largest(fhi_rest *r, const fhi_form *form, double *tension, double *residual) {
  double value;
  if (!solve(r, form, 1.0, &value, residual) || isinf(value)) {
    return false;
  }
  for (int s = 0; s < r->model->strand_count; s++) {
    tension[s] = r->col[s] < 0 ? 0.0 : r->x[r->col[s]];
  }
  return true;
}
