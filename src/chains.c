// SPDX-License-Identifier: MIT
// Which tensions hang together while the rope runs. Implements model.md, section 4.
//
// Strands joined by contacts where the rope slides are one chain: their tensions differ by known factors. Where the rope
// rests, a chain ends. A chain that no free body and no hand pulls on is dead: it leads to fixed points only, such as the
// standing side of a drop loop. What it carries lies within what friction at its resting contact can hide, and changes
// nothing else. With as many live chains as free bodies the forces have one answer; else they are intervals that hang
// together, and linear programmes find them.
#include <string.h>

#include "model.h"

static bool slides(const fhi_model *m, const fhi_motion *motion, int contact) {
  return motion->rate[contact] != 0.0 || m->contacts[contact].kind == FHI_TENDED;
}

static bool pulled(const fhi_model *m, const fhi_strand *st) {
  for (int e = 0; e < 2; e++) {
    int body = st->end[e].body;
    if (st->end[e].kind == FHI_END_HAND || (body >= 0 && body < m->body_count && !m->fixed[body])) {
      return true;
    }
  }
  return false;
}

// Bounds dead strands from their live neighbours outward. @return number of dead strands without a bound
static int bound_dead(const fhi_model *m, fhi_motion *motion, const bool *live) {
  int open = 0;
  for (bool again = true; again;) {
    again = false;
    open = 0;
    for (int s = 0; s < m->strand_count; s++) {
      if (motion->chain[s] < 0 || live[s] || motion->dead_by[s] >= 0) {
        continue;
      }
      open++;
      for (int e = 0; e < 2; e++) {
        int c = m->strands[s].end[e].contact;
        if (c < 0) {
          continue;
        }
        int other = m->contacts[c].before == s ? m->contacts[c].after : m->contacts[c].before;
        if (live[other] || motion->dead_by[other] >= 0) {
          motion->dead_by[s] = c;
          again = true;
        }
      }
    }
  }
  return open;
}

// A dead strand between two bounded neighbours is held from both sides: then the bounds hang together.
static bool held_twice(const fhi_model *m, const fhi_motion *motion) {
  for (int c = 0; c < m->contact_count; c++) {
    const fhi_contact *k = &m->contacts[c];
    if (k->slack || slides(m, motion, c)) {
      continue;
    }
    bool bounds_one = motion->dead_by[k->before] == c || motion->dead_by[k->after] == c;
    if (!bounds_one) {
      return true;
    }
  }
  return false;
}

void fhi_chains_fill(const fhi_model *m, fhi_motion *motion) {
  bool pulled_chain[FH_MAX_STRANDS] = {false}, live[FH_MAX_STRANDS];
  int number[FH_MAX_STRANDS], chains = 0, free_bodies = 1;
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    motion->chain[s] = motion->dead_by[s] = -1;
    if (st->slack) {
      continue;
    }
    int c = st->end[0].contact;
    motion->chain[s] = c >= 0 && slides(m, motion, c) ? motion->chain[m->contacts[c].before] : chains++;
    pulled_chain[motion->chain[s]] = pulled_chain[motion->chain[s]] || pulled(m, st);
  }
  motion->chains = 0;
  for (int k = 0; k < chains; k++) {
    number[k] = pulled_chain[k] ? motion->chains++ : -1;
  }
  for (int s = 0; s < m->strand_count; s++) {
    live[s] = motion->chain[s] >= 0 && pulled_chain[motion->chain[s]];
  }
  int open = bound_dead(m, motion, live);
  for (int b = FH_BODY_FIRST_GRIP; b < m->body_count; b++) {
    free_bodies++;
  }
  motion->coupled = open > 0 || motion->chains != free_bodies || held_twice(m, motion);
  for (int s = 0; s < m->strand_count; s++) {
    motion->chain[s] = live[s] ? number[motion->chain[s]] : -1;
  }
}
