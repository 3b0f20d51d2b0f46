// needs: glpk
// SPDX-License-Identifier: MIT
// Small linear programmes, of the size that one lost element asks for, against GLPK's simplex on the same numbers.
#include "bench.h"

#include <glpk.h>
#include <stdlib.h>

#include "lp.h"

enum { ROWS = 40, COLS = 24 };

typedef struct problem {
  double a[ROWS * COLS], b[ROWS], c[COLS], x[COLS];
  char sense[ROWS];
  double *scratch;
} problem;

// Points on a line, neighbours at most so far apart; how far does the last one get from the first?
static bool start(void **state) {
  problem *p = calloc(1, sizeof *p);
  if (p == NULL) {
    return false;
  }
  *state = p;
  p->scratch = malloc(fhi_lp_scratch(ROWS, COLS) * sizeof(double));
  for (int i = 0; i < ROWS; i++) {
    p->sense[i] = '<';
    p->b[i] = 1.0 + i % 7;
    p->a[i * COLS + i % COLS] = 1.0;
    if (i % COLS > 0) {
      p->a[i * COLS + i % COLS - 1] = i < COLS ? -1.0 : 0.5;
    }
  }
  p->c[COLS - 1] = 1.0;
  p->c[COLS / 2] = 0.25;
  return p->scratch != NULL;
}

static long ours(void *state) {
  problem *p = state;
  fhi_lp lp = {ROWS, COLS, p->a, p->sense, p->b, p->c};
  double value = 0.0;
  double residual = 0.0;
  return fhi_lp_solve(&lp, p->x, &value, &residual, p->scratch) == FHI_LP_OPTIMAL ? 1 : 0;
}

static long reference(void *state) {
  const problem *p = state;
  glp_prob *g = glp_create_prob();
  glp_set_obj_dir(g, GLP_MAX);
  glp_add_rows(g, ROWS);
  glp_add_cols(g, COLS);
  int cols[COLS + 1];
  double values[COLS + 1];
  for (int j = 0; j < COLS; j++) {
    glp_set_col_bnds(g, j + 1, GLP_LO, 0.0, 0.0);
    glp_set_obj_coef(g, j + 1, p->c[j]);
    cols[j + 1] = j + 1;
  }
  for (int i = 0; i < ROWS; i++) {
    glp_set_row_bnds(g, i + 1, GLP_UP, 0.0, p->b[i]);
    for (int j = 0; j < COLS; j++) {
      values[j + 1] = p->a[i * COLS + j];
    }
    glp_set_mat_row(g, i + 1, COLS, cols, values);
  }
  glp_smcp options;
  glp_init_smcp(&options);
  options.msg_lev = GLP_MSG_OFF;
  (void)glp_simplex(g, &options);
  bool fine = glp_get_status(g) == GLP_OPT;
  glp_delete_prob(g);
  return fine ? 1 : 0;
}

static void end(void *state) {
  problem *p = state;
  free(p->scratch);
  free(p);
}

const bench_case bench_lp = {
    "lp",        "a linear programme of 40 rows and 24 columns; reference: GLPK's simplex, its set-up included",
    "programme", start,
    ours,        reference,
    end,         0.0,
    0.0,         0.0};
