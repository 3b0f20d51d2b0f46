// SPDX-License-Identifier: MIT
// The pull of one rig for very many samples of friction: eliminated once, then run over blocks of samples side by side.
// Implements model.md, sections 4 and 12. The same operations in the same order for every sample: the bits of a sample do
// not depend on its place in a block, on the number of samples, or on vector width.
#include "batch.h"

#include <math.h>
#include <string.h>

// A number that the compiler knows, or a register.
typedef struct value {
  int reg;      // -1: the number
  double number;
  double typical;  // its size for the typical ratios: chooses pivots
} value;

typedef struct builder {
  fhi_batch *b;
  bool full;
} builder;

static const value ZERO = {-1, 0.0, 0.0};

static bool is_number(value v, double x) {
  return v.reg < 0 && v.number == x;
}

static int new_register(builder *c, double constant) {
  if (c->b->registers == FHI_MAX_REGISTERS) {
    c->full = true;
    return 0;
  }
  c->b->constant[c->b->registers] = constant;
  return c->b->registers++;
}

static int as_register(builder *c, value v) {
  return v.reg >= 0 ? v.reg : new_register(c, v.number);
}

static double apply(fhi_op_kind kind, double a, double b) {
  return kind == FHI_OP_MUL ? a * b : kind == FHI_OP_DIV ? a / b : kind == FHI_OP_ADD ? a + b : a - b;
}

// a op b, folded where both are numbers or one of them changes nothing.
static value emit(builder *c, fhi_op_kind kind, value a, value b) {
  double typical = apply(kind, a.typical, b.typical);
  if (a.reg < 0 && b.reg < 0) {
    return (value){-1, typical, typical};
  }
  bool product = kind == FHI_OP_MUL || kind == FHI_OP_DIV;
  if (product && (is_number(a, 0.0) || (kind == FHI_OP_MUL && is_number(b, 0.0)))) {
    return ZERO;
  }
  if (is_number(b, product ? 1.0 : 0.0)) {
    return a;
  }
  if ((kind == FHI_OP_MUL && is_number(a, 1.0)) || (kind == FHI_OP_ADD && is_number(a, 0.0))) {
    return b;
  }
  if (c->b->op_count == FHI_MAX_OPS) {
    c->full = true;
    return a;
  }
  int ra = as_register(c, a), rb = as_register(c, b), to = new_register(c, (double)NAN);
  c->b->ops[c->b->op_count++] = (fhi_op){(int16_t)kind, (int16_t)to, (int16_t)ra, (int16_t)rb};
  c->b->flops++;
  return (value){to, 0.0, typical};
}

static bool is_free(const fhi_model *m, int body) {
  return body >= 0 && body < m->body_count && !m->fixed[body];
}

static int row_of(int body) {
  return body == FH_BODY_LOAD ? 0 : body - FH_BODY_FIRST_GRIP + 1;
}

// Balances of the free bodies over the chains' tensions, as force.c fills them with numbers.
static void fill_system(builder *c, const fhi_model *m, const fhi_motion *motion, const double *factor, value *scale,
                        value *a, int n) {
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    int k = st->end[0].contact;
    bool joined = motion->chain[s] >= 0 && k >= 0 && motion->chain[m->contacts[k].before] == motion->chain[s];
    scale[s] = (value){-1, 1.0, 1.0};
    if (joined) {
      value ratio = {k, 0.0, factor[k]};
      bool tended = m->contacts[k].kind == FHI_TENDED;
      scale[s] = tended ? scale[m->contacts[k].before]
                        : emit(c, motion->rate[k] > 0.0 ? FHI_OP_MUL : FHI_OP_DIV, scale[m->contacts[k].before], ratio);
    }
    for (int e = 0; e < 2 && motion->chain[s] >= 0; e++) {
      if (is_free(m, st->end[e].body)) {
        value *entry = &a[row_of(st->end[e].body) * n + motion->chain[s]];
        bool toward = (e == 0) == (st->dir > 0);
        *entry = emit(c, toward ? FHI_OP_ADD : FHI_OP_SUB, *entry, scale[s]);
      }
    }
  }
}

// Gauss without back substitution of what nobody asked for: only the hand's chain is wanted, so its column goes last.
static bool eliminate(builder *c, value *a, value *rhs, int n, int wanted, value *answer) {
  int column[FHI_MAX_FREE];
  for (int i = 0, k = 0; i < n; i++) {
    column[i == wanted ? n - 1 : k++] = i;
  }
  for (int p = 0; p < n; p++) {
    int best = p;
    for (int r = p + 1; r < n; r++) {
      best = fabs(a[r * n + column[p]].typical) > fabs(a[best * n + column[p]].typical) ? r : best;
    }
    if (!(fabs(a[best * n + column[p]].typical) > 1e-9)) {
      return false;
    }
    for (int k = 0; k < n && best != p; k++) {
      value x = a[p * n + k];
      a[p * n + k] = a[best * n + k];
      a[best * n + k] = x;
    }
    value x = rhs[p];
    rhs[p] = rhs[best];
    rhs[best] = x;
    for (int r = p + 1; r < n; r++) {
      value *row = &a[r * n];
      if (is_number(row[column[p]], 0.0)) {
        continue;
      }
      value f = emit(c, FHI_OP_DIV, row[column[p]], a[p * n + column[p]]);
      for (int k = p + 1; k < n; k++) {
        row[column[k]] = emit(c, FHI_OP_SUB, row[column[k]], emit(c, FHI_OP_MUL, f, a[p * n + column[k]]));
      }
      rhs[r] = emit(c, FHI_OP_SUB, rhs[r], emit(c, FHI_OP_MUL, f, rhs[p]));
      row[column[p]] = ZERO;
    }
  }
  *answer = emit(c, FHI_OP_DIV, rhs[n - 1], a[(n - 1) * n + column[n - 1]]);
  return true;
}

// Gauss with every unknown wanted.
static bool eliminate_all(builder *c, value *a, value *rhs, int n, value *x) {
  for (int p = 0; p < n; p++) {
    int best = p;
    for (int r = p + 1; r < n; r++) {
      best = fabs(a[r * n + p].typical) > fabs(a[best * n + p].typical) ? r : best;
    }
    if (!(fabs(a[best * n + p].typical) > 1e-9)) {
      return false;
    }
    for (int k = 0; k < n && best != p; k++) {
      value swap = a[p * n + k];
      a[p * n + k] = a[best * n + k];
      a[best * n + k] = swap;
    }
    value swap = rhs[p];
    rhs[p] = rhs[best];
    rhs[best] = swap;
    for (int r = p + 1; r < n; r++) {
      if (is_number(a[r * n + p], 0.0)) {
        continue;
      }
      value f = emit(c, FHI_OP_DIV, a[r * n + p], a[p * n + p]);
      for (int k = p + 1; k < n; k++) {
        a[r * n + k] = emit(c, FHI_OP_SUB, a[r * n + k], emit(c, FHI_OP_MUL, f, a[p * n + k]));
      }
      rhs[r] = emit(c, FHI_OP_SUB, rhs[r], emit(c, FHI_OP_MUL, f, rhs[p]));
    }
  }
  for (int p = n - 1; p >= 0; p--) {
    value sum = rhs[p];
    for (int k = p + 1; k < n; k++) {
      sum = emit(c, FHI_OP_SUB, sum, emit(c, FHI_OP_MUL, a[p * n + k], x[k]));
    }
    x[p] = emit(c, FHI_OP_DIV, sum, a[p * n + p]);
  }
  return true;
}

// Strands behind a resting contact, from their live neighbours outward.
static void fill_dead(builder *c, const fhi_model *m, const fhi_motion *motion, const double *factor, value *tension, bool *done) {
  for (bool more = true; more;) {
    more = false;
    for (int s = 0; s < m->strand_count; s++) {
      int k = motion->dead_by[s];
      int from = k < 0 ? -1 : m->contacts[k].before == s ? m->contacts[k].after : m->contacts[k].before;
      if (from < 0 || done[s] || !done[from]) {
        continue;
      }
      value ratio = {k, 0.0, factor[k]};
      tension[s] = m->contacts[k].kind == FHI_TENDED ? tension[from] : emit(c, FHI_OP_MUL, tension[from], ratio);
      done[s] = true;
      more = true;
    }
  }
}

// The equations, before anything is eliminated. @return their number, 0 when they are not of this kind
static int prepare(builder *c, const fhi_model *m, const fhi_motion *motion, const double *factor, value *scale, value *a, value *rhs) {
  int n = m->body_count - FH_BODY_FIRST_GRIP + 1;
  c->b->registers = c->b->op_count = c->b->flops = 0;
  if (motion->coupled || motion->chains != n) {
    return 0;
  }
  for (int k = 0; k < m->contact_count; k++) {
    (void)new_register(c, (double)NAN);
  }
  c->b->inputs = m->contact_count;
  for (int i = 0; i < n * n; i++) {
    a[i] = ZERO;
  }
  for (int i = 0; i < n; i++) {
    rhs[i] = (value){-1, i == 0 ? 1.0 : 0.0, i == 0 ? 1.0 : 0.0};
  }
  fill_system(c, m, motion, factor, scale, a, n);
  return n;
}

bool fhi_batch_compile_all(const fhi_model *m, const fhi_motion *motion, const double *factor, fhi_batch *b) {
  builder c = {b, false};
  value scale[FH_MAX_STRANDS], a[FHI_MAX_FREE * FHI_MAX_FREE], rhs[FHI_MAX_FREE], x[FHI_MAX_FREE], tension[FH_MAX_STRANDS];
  bool done[FH_MAX_STRANDS];
  int n = prepare(&c, m, motion, factor, scale, a, rhs);
  if (n == 0 || !eliminate_all(&c, a, rhs, n, x)) {
    return false;
  }
  for (int s = 0; s < m->strand_count; s++) {
    done[s] = motion->chain[s] >= 0;
    tension[s] = done[s] ? emit(&c, FHI_OP_MUL, scale[s], x[motion->chain[s]]) : ZERO;
  }
  fill_dead(&c, m, motion, factor, tension, done);
  for (int s = 0; s < m->strand_count; s++) {
    b->strand[s] = done[s] ? as_register(&c, tension[s]) : -1;
  }
  b->result = b->strand[m->hand_strand];
  return !c.full && b->result >= 0;
}

bool fhi_batch_compile(const fhi_model *m, const fhi_motion *motion, const double *factor, fhi_batch *b) {
  builder c = {b, false};
  value scale[FH_MAX_STRANDS], a[FHI_MAX_FREE * FHI_MAX_FREE], rhs[FHI_MAX_FREE], x;
  int n = prepare(&c, m, motion, factor, scale, a, rhs);
  if (n == 0 || !eliminate(&c, a, rhs, n, motion->chain[m->hand_strand], &x)) {
    return false;
  }
  b->result = as_register(&c, emit(&c, FHI_OP_MUL, scale[m->hand_strand], x));
  return !c.full;
}

void fhi_batch_block(const fhi_batch *b, double *reg) {
  for (int i = 0; i < b->op_count; i++) {
    const fhi_op *op = &b->ops[i];
    double *restrict to = reg + (size_t)op->to * FHI_LANES;
    const double *restrict x = reg + (size_t)op->a * FHI_LANES;
    const double *restrict y = reg + (size_t)op->b * FHI_LANES;
    switch ((fhi_op_kind)op->kind) {
    case FHI_OP_MUL:
      for (int l = 0; l < FHI_LANES; l++) {
        to[l] = x[l] * y[l];
      }
      break;
    case FHI_OP_DIV:
      for (int l = 0; l < FHI_LANES; l++) {
        to[l] = x[l] / y[l];
      }
      break;
    case FHI_OP_ADD:
      for (int l = 0; l < FHI_LANES; l++) {
        to[l] = x[l] + y[l];
      }
      break;
    case FHI_OP_SUB:
      for (int l = 0; l < FHI_LANES; l++) {
        to[l] = x[l] - y[l];
      }
      break;
    }
  }
}

void fhi_batch_begin(const fhi_batch *b, double *reg) {
  for (int r = b->inputs; r < b->registers; r++) {
    for (int l = 0; l < FHI_LANES; l++) {
      reg[(size_t)r * FHI_LANES + (size_t)l] = b->constant[r];
    }
  }
}

void fhi_batch_run(const fhi_batch *b, const double *factors, size_t n, double *pull, double *scratch) {
  fhi_batch_begin(b, scratch);
  for (size_t at = 0; at < n; at += FHI_LANES) {
    size_t count = n - at < FHI_LANES ? n - at : FHI_LANES;
    for (int r = 0; r < b->inputs; r++) {
      double *lane = scratch + (size_t)r * FHI_LANES;
      memcpy(lane, factors + (size_t)r * n + at, count * sizeof *lane);
      for (size_t l = count; l < FHI_LANES; l++) {
        lane[l] = 1.0;
      }
    }
    fhi_batch_block(b, scratch);
    memcpy(pull + at, scratch + (size_t)b->result * FHI_LANES, count * sizeof *pull);
  }
}
