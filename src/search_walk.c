// SPDX-License-Identifier: MIT
// Every code within the bounds, each once. Implements model.md, section 13.
//
// Nothing is left out but what cannot be a rig: a block on a grip that holds the block's own strand (it moves with the rope
// and turns nothing), and a tie of a rope to a grip on that very rope's first strand (it pulls on itself).
#include <string.h>

#include "search.h"

typedef struct walker {
  fhi_walk *walk;
  fhi_code code;
  fhi_solved solved;
  int ties;             // to be used, all of them
  int contacts, grips;  // used so far
} walker;

// Every tail must be gripped, but for the bare one right behind the capture.
static bool tails_gripped(const fhi_code *code) {
  for (int i = 2; i <= code->n + 1; i++) {
    bool gripped = !fhi_is_loose(code, i);
    for (int k = 1; k <= code->n && !gripped; k++) {
      gripped = code->e[k].on == i;
    }
    if (!gripped) {
      return false;
    }
  }
  return true;
}

static bool leaf(walker *w) {
  if (!tails_gripped(&w->code)) {
    return true;
  }
  w->walk->tried++;
  if (!fhi_code_motion(&w->code, &w->solved) || !fhi_code_orderable(&w->code, &w->solved)) {
    return true;
  }
  w->walk->sound++;
  return w->walk->visit(w->walk->user, &w->code, &w->solved);
}

static bool step(walker *w, int i);

// Sets element i and goes on. @return false to stop
static bool place(walker *w, int i, int tie, int side, int on) {
  w->code.e[i] = (fhi_element){.tie = (int8_t)tie, .side = (int8_t)side, .on = (int8_t)on, .piece = 0};
  w->contacts += !tie;
  w->code.ties = (int8_t)(w->code.ties + tie);
  w->grips += on >= 0;
  bool go_on = step(w, i + 1);
  w->contacts -= !tie;
  w->code.ties = (int8_t)(w->code.ties - tie);
  w->grips -= on >= 0;
  return go_on;
}

// Where the strand that comes to element i runs: away from the lip it meets a back block or a fixed turn, else a front block.
static bool step_contact(walker *w, int i) {
  const fhi_walk *walk = w->walk;
  int side = -fhi_direction(&w->code, i);
  if (w->contacts + 1 == walk->max_pieces) {
    return true;
  }
  if (side < 0 && !place(w, i, 0, side, FHI_ON_FIXED)) {
    return false;
  }
  for (int on = 0; on <= w->code.n + 1 && w->grips < walk->max_grips; on++) {
    if (on != i && on != i + 1 && !place(w, i, 0, side, on)) {
      return false;
    }
  }
  return true;
}

static bool step_tie(walker *w, int i) {
  const fhi_walk *walk = w->walk;
  if (w->code.ties == w->ties) {
    return true;
  }
  if (!place(w, i, 1, -1, FHI_ON_FIXED)) {
    return false;
  }
  for (int on = 0; on <= w->code.n + 1 && w->grips < walk->max_grips; on++) {
    if (on != i + 1 && (!place(w, i, 1, -1, on) || !place(w, i, 1, 1, on))) {
      return false;
    }
  }
  return true;
}

// The crew pulls on the last rope's end; with one further rope also on the first one's, the further one then ends under a
// grip. With two further ropes that would give the same rigs twice, in another order, and is left out.
static bool both_hands(walker *w) {
  if (!leaf(w)) {
    return false;
  }
  if (w->ties != 1) {
    return true;
  }
  for (int i = 1; i <= w->code.n; i++) {
    w->code.hand = w->code.e[i].tie ? (int8_t)i : w->code.hand;
  }
  bool go_on = leaf(w);
  w->code.hand = 0;
  return go_on;
}

static bool step(walker *w, int i) {
  if (i > w->code.n) {
    return both_hands(w);
  }
  int ties_left = w->ties - w->code.ties;
  bool contact_fits = w->code.n - i + 1 > ties_left;
  return (!contact_fits || step_contact(w, i)) && step_tie(w, i);
}

void fhi_walk_bounds(fhi_walk *walk, int contacts, int further_ropes) {
  for (int t = 0; t <= FHI_SEARCH_TIES; t++) {
    int most = t == 0 ? contacts : contacts - 1 - t;
    walk->max_contacts[t] = t <= further_ropes && most >= 0 ? most : -1;
  }
}

bool fhi_walk_all(fhi_walk *walk) {
  walker w;
  for (int ties = 0; ties <= FHI_SEARCH_TIES; ties++) {
    for (int contacts = 0; contacts <= walk->max_contacts[ties]; contacts++) {
      memset(&w, 0, sizeof w);
      w.walk = walk;
      w.ties = ties;
      w.code.n = (int8_t)(contacts + ties);
      w.code.e[0].side = -1;
      w.code.e[0].on = FHI_ON_FIXED;
      if (!step(&w, 1)) {
        return false;
      }
    }
  }
  return true;
}
