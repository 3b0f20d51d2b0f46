// SPDX-License-Identifier: MIT
// Speeds of a code: along the rope each contact mirrors the strand's speed about its own. Implements model.md, section 3.
//
// w[i+1] = 2 v[i] - w[i] at a contact, w[i+1] = v[i] at a tie, v[i] = w[on] for an element on a grip. An element that grips
// a strand farther along the rope brings in that strand's speed as an unknown; the strand itself then closes the equation.
#include <math.h>
#include <string.h>

#include "linear.h"
#include "search.h"

// Speeds are sums of small whole numbers over a small determinant.
static const double TINY = 1e-9;

int fhi_hand_strand(const fhi_code *code) {
  return code->hand > 0 ? code->hand : code->n + 1;
}

bool fhi_is_loose(const fhi_code *code, int strand) {
  bool open = strand > code->n || (strand > 0 && code->e[strand].tie);
  return open && strand != fhi_hand_strand(code);
}

int fhi_direction(const fhi_code *code, int strand) {
  return strand == 0 ? 1 : strand == 1 ? -1 : code->e[strand - 1].side;
}

// Strands whose speed is used before it is known. @return their number
static int forward_strands(const fhi_code *code, int8_t *index) {
  int n = 0;
  memset(index, -1, FHI_STRANDS);
  for (int i = 1; i <= code->n; i++) {
    int on = code->e[i].on;
    if (on > i && index[on] < 0) {
      index[on] = (int8_t)n++;
    }
  }
  return n;
}

// With forward grips: carry each speed as a number plus multiples of the unknown speeds, then close them.
static bool solve_forward(const fhi_code *code, const int8_t *index, int unknowns, fhi_solved *s) {
  double w[FHI_STRANDS][FHI_ELEMENTS + 1];  // [0] the number, then one multiple an unknown
  double a[FHI_ELEMENTS * FHI_ELEMENTS], b[FHI_ELEMENTS];
  memset(w, 0, sizeof w);
  w[0][0] = 1.0;
  w[1][0] = -1.0;
  for (int i = 1; i <= code->n; i++) {
    const fhi_element *e = &code->e[i];
    double twice = e->tie ? 1.0 : 2.0, minus = e->tie ? 0.0 : 1.0;
    for (int u = 0; u <= unknowns; u++) {
      double v = 0.0;
      if (e->on >= 0) {
        v = index[e->on] >= 0 ? (u == index[e->on] + 1 ? 1.0 : 0.0) : w[e->on][u];
      }
      w[i + 1][u] = twice * v - minus * w[i][u];
    }
  }
  for (int j = 0; j < code->n + 2; j++) {
    int row = index[j];
    for (int u = 0; row >= 0 && u < unknowns; u++) {
      a[row * FHI_ELEMENTS + u] = (u == row ? 1.0 : 0.0) - w[j][u + 1];
    }
    if (row >= 0) {
      b[row] = w[j][0];
    }
  }
  if (!fhi_linear_solve(a, b, unknowns, FHI_ELEMENTS, TINY)) {
    return false;
  }
  for (int j = 0; j < code->n + 2; j++) {
    s->w[j] = w[j][0];
    for (int u = 0; u < unknowns; u++) {
      s->w[j] += w[j][u + 1] * b[u];
    }
  }
  return true;
}

bool fhi_code_motion(const fhi_code *code, fhi_solved *s) {
  int8_t index[FHI_STRANDS];
  int unknowns = forward_strands(code, index);
  if (unknowns > 0) {
    if (!solve_forward(code, index, unknowns, s)) {
      return false;
    }
  } else {
    s->w[0] = 1.0;
    s->w[1] = -1.0;
    for (int i = 1; i <= code->n; i++) {
      const fhi_element *e = &code->e[i];
      double v = e->on >= 0 ? s->w[e->on] : 0.0;
      s->w[i + 1] = e->tie ? v : 2.0 * v - s->w[i];
    }
  }

  // Each contact's sense: rope that does not run there makes the contact idle.
  s->v[0] = 0.0;
  s->sense[0] = 1;
  for (int i = 1; i <= code->n; i++) {
    const fhi_element *e = &code->e[i];
    s->v[i] = e->on >= 0 ? s->w[e->on] : 0.0;
    double rate = fhi_direction(code, i) * (s->w[i] - s->v[i]);
    if (!e->tie && fabs(rate) < TINY) {
      return false;
    }
    s->sense[i] = rate > 0.0 ? 1 : -1;
  }
  int hand = fhi_hand_strand(code);
  s->hand = fhi_direction(code, hand) * s->w[hand];
  return s->hand > TINY;
}
