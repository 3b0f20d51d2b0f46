// SPDX-License-Identifier: MIT
// The plans that no other plan beats: in hand force, time, pieces, rope, margin, what it
// asks of the person below and of one alone at once. Implements model.md, section 13.
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan.h"

enum { KEYS = sizeof ((fhi_candidate *)0)->key / sizeof(int32_t) };

// Differences that nobody could tell apart on a glacier do not keep a plan: 5 % of the pull, half a minute, a metre of rope,
// a tenth of the margin. Margins beyond four are all alike.
static double rounded_ratio(double x, double step) {
  return floor(log(fmax(x, 1e-6)) / log(1.0 + step));
}

void fhi_front_key(fhi_candidate *c) {
  c->key[0] = c->pieces;
  c->key[1] = (int32_t)rounded_ratio(c->hand_force, 0.05);
  c->key[2] = (int32_t)fmin(floor(c->time / 30.0), 1e9);  // beyond this nobody waits
  c->key[3] = (int32_t)fmin(floor(c->rope), 1e9);
  c->key[4] = -(int32_t)rounded_ratio(fmin(c->margin, 4.0), 0.1);
  c->key[5] = c->hands ? 1 : 0;
  c->key[6] = c->untended ? 1 : 0;
}

static bool beats(const fhi_candidate *a, const fhi_candidate *b) {
  for (int i = 0; i < KEYS; i++) {
    if (a->key[i] > b->key[i]) {
      return false;
    }
  }
  return true;
}

// Order in which a candidate that is beaten never comes before the one that beats it; ties keep simple rigs first and are
// settled to the last byte of the code, so that the front is the same on every machine.
int fhi_front_compare(const void *pa, const void *pb) {
  const fhi_candidate *a = pa, *b = pb;
  for (int i = 0; i < KEYS; i++) {
    if (a->key[i] != b->key[i]) {
      return a->key[i] < b->key[i] ? -1 : 1;
    }
  }
  if (a->code.n != b->code.n) {
    return a->code.n < b->code.n ? -1 : 1;
  }
  return memcmp(&a->code, &b->code, sizeof a->code);
}

size_t fhi_front(fhi_candidate *list, size_t count) {
  size_t front = 0;
  if (count > 0) {
    qsort(list, count, sizeof *list, fhi_front_compare);
  }
  for (size_t i = 0; i < count; i++) {
    bool beaten = false;
    for (size_t f = 0; f < front && !beaten; f++) {
      beaten = beats(&list[f], &list[i]);
    }
    if (!beaten) {
      fhi_candidate keep = list[i];
      list[i] = list[front];
      list[front++] = keep;
    }
  }
  return front;
}
