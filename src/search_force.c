// SPDX-License-Identifier: MIT
// Tensions of a code, from the hand back to the load. Implements model.md, section 4.
//
// The hand pulls with 1. At a contact the strand before carries 1/k (or k) of the strand after, and the two together pull
// on what holds it. A grip hands that pull on to its strand: the part on the far side of the pull carries
// more. An element that grips a strand farther along the rope has a pull that is not known yet: it is carried as an unknown.
#include <math.h>
#include <string.h>

#include "linear.h"
#include "search.h"

// A strand must carry at least this much of the hand's pull; less is slack.
static const double LEAST = 1e-9;

// Elements whose pull is used before it is known.
static int forward_elements(const fhi_code *code, int8_t *index) {
  int n = 0;
  for (int i = 1; i <= code->n; i++) {
    index[i] = (int8_t)(code->e[i].on > i ? n++ : -1);
  }
  return n;
}

static double ratio_before(const fhi_code *code, const double *factor, const fhi_solved *s, int i) {
  double k = factor[code->e[i].piece];
  return s->sense[i] > 0 ? 1.0 / k : k;
}

// What the grips on a strand add to it from its end to its start: start = end + sum of side * direction * pull.
// A tail that ends loose right behind the capture may carry nothing, when nothing grips it.
static bool bare_tail(const fhi_code *code, double start) {
  return code->n > 0 && fhi_is_loose(code, 1) && fabs(start) <= LEAST;
}

// Tension where a strand ends open: the hand's pull, or nothing.
static double open_end(const fhi_code *code, int strand) {
  return strand == fhi_hand_strand(code) ? 1.0 : 0.0;
}

static bool backward_only(const fhi_code *code, const double *factor, fhi_solved *s) {
  double given[FHI_STRANDS] = {0.0};
  double after = 1.0;  // tension where strand i+1 begins
  s->end[code->n + 1] = open_end(code, code->n + 1);
  for (int i = code->n; i >= 0; i--) {
    const fhi_element *e = &code->e[i];
    after = s->end[i + 1] + given[i + 1];
    s->start[i + 1] = after;
    if (!(after > LEAST) && !(i == 0 && bare_tail(code, after))) {
      return false;
    }
    s->end[i] = e->tie ? open_end(code, i) : after * ratio_before(code, factor, s, i);
    s->pull[i] = after + (e->tie ? 0.0 : s->end[i]);
    if (i > 0 && e->on >= 0) {
      given[e->on] += e->side * fhi_direction(code, e->on) * s->pull[i];
    }
  }
  s->start[0] = s->end[0] + given[0];
  return s->start[0] > LEAST;
}

// The same with unknown pulls: each tension is a number plus multiples of them.
typedef struct affine {
  double of[FHI_ELEMENTS];  // [0] the number, [u + 1] the multiple of unknown u
} affine;

static bool with_unknowns(const fhi_code *code, const double *factor, const int8_t *index, int unknowns, fhi_solved *s) {
  affine given[FHI_STRANDS], start[FHI_STRANDS], end[FHI_STRANDS];
  double a[FHI_ELEMENTS * FHI_ELEMENTS], b[FHI_ELEMENTS];
  int terms = unknowns + 1;
  if (code->n < 1) {
    return false;  // cannot happen: without elements there is no unknown
  }
  for (int j = 0; j < code->n + 2; j++) {
    memset(given[j].of, 0, (size_t)terms * sizeof(double));
  }
  memset(end[code->n + 1].of, 0, (size_t)terms * sizeof(double));
  end[code->n + 1].of[0] = open_end(code, code->n + 1);
  for (int i = 1; i <= code->n; i++) {
    if (index[i] >= 0) {
      given[code->e[i].on].of[index[i] + 1] += code->e[i].side * fhi_direction(code, code->e[i].on);
    }
  }
  for (int i = code->n; i >= 0; i--) {
    const fhi_element *e = &code->e[i];
    double ratio = e->tie ? 0.0 : ratio_before(code, factor, s, i), pull[FHI_ELEMENTS];
    for (int u = 0; u < terms; u++) {
      start[i + 1].of[u] = end[i + 1].of[u] + given[i + 1].of[u];
      end[i].of[u] = start[i + 1].of[u] * ratio;
      pull[u] = start[i + 1].of[u] + end[i].of[u];
    }
    end[i].of[0] += e->tie ? open_end(code, i) : 0.0;
    if (i > 0 && e->on >= 0 && index[i] < 0) {
      double sign = e->side * fhi_direction(code, e->on);
      for (int u = 0; u < terms; u++) {
        given[e->on].of[u] += sign * pull[u];
      }
    } else if (i > 0 && index[i] >= 0) {
      for (int u = 0; u < unknowns; u++) {
        a[index[i] * unknowns + u] = (u == index[i] ? 1.0 : 0.0) - pull[u + 1];
      }
      b[index[i]] = pull[0];
    }
  }
  for (int u = 0; u < terms; u++) {
    start[0].of[u] = end[0].of[u] + given[0].of[u];
  }
  if (!fhi_linear_solve(a, b, unknowns, unknowns, LEAST)) {
    return false;
  }
  for (int j = 0; j < code->n + 2; j++) {
    s->start[j] = start[j].of[0];
    s->end[j] = end[j].of[0];
    for (int u = 0; u < unknowns; u++) {
      s->start[j] += start[j].of[u + 1] * b[u];
      s->end[j] += end[j].of[u + 1] * b[u];
    }
  }
  for (int i = 0; i <= code->n; i++) {
    s->pull[i] = s->start[i + 1] + (code->e[i].tie ? 0.0 : s->end[i]);
  }
  return true;
}

bool fhi_code_force(const fhi_code *code, const double *factor, fhi_solved *s) {
  int8_t index[FHI_ELEMENTS];
  int unknowns = forward_elements(code, index);
  if (unknowns == 0) {
    return backward_only(code, factor, s);
  }
  if (!with_unknowns(code, factor, index, unknowns, s)) {
    return false;
  }
  for (int j = 0; j < code->n + 2; j++) {
    bool tail = fhi_is_loose(code, j);
    bool bare = j <= 1 && bare_tail(code, s->start[1]);
    if (!(s->start[j] > LEAST) && !(bare && j == 1)) {
      return false;
    }
    if (!tail && !(s->end[j] > LEAST) && !bare) {
      return false;
    }
  }
  return true;
}
