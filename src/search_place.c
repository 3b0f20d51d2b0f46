// SPDX-License-Identifier: MIT
// Where the blocks stand so that one stroke goes farthest. Implements the throw of model.md, section 7, for codes.
//
// "This lies in front of that, with so much room at the start and at the end of the stroke" is an edge from one place to
// another; its length grows with the stroke where the two close up. The places nearest to the lip are the longest paths
// from it. A path that reaches a fixed point beyond its place limits the stroke to the value at which it just fits; taking
// that value and looking again ends when nothing is beyond (each step takes up a new path; at most 6 seen in the bench).
#include <math.h>
#include <string.h>

#include "search.h"

enum { LIP = FHI_ELEMENTS, STATION, FAR_POINT, NODES, MAX_EDGES = 6 * FHI_STRANDS, MAX_STEPS = 64 };

typedef struct edge {
  int front, back;
  double gap, close;  // [m] least room, [1] how fast the two close up over the travel of strand 0
} edge;

typedef struct board {
  const fhi_code *code;
  const fhi_solved *solved;
  edge edges[MAX_EDGES];
  int count;
  double at[NODES], sum_gap[NODES], sum_close[NODES];  // longest path to each node and what it is made of
  double fixed_at[2], clearance, reach;                // STATION and FAR_POINT
  int body[FHI_ELEMENTS];                              // node of each element
} board;

static double speed(const board *b, int node) {
  return node >= LIP ? 0.0 : b->solved->v[node];
}

static void add_edge(board *b, int front, int back, double gap) {
  if (b->count < MAX_EDGES && front != back) {
    double close = speed(b, front) - speed(b, back);
    b->edges[b->count++] = (edge){front, back, gap, fmax(close, 0.0)};
  }
}

static void find_bodies(board *b) {
  for (int i = 0; i <= b->code->n; i++) {
    const fhi_element *e = &b->code->e[i];
    b->body[i] = e->on >= 0 ? i : i > 0 && b->code->far_turns ? FAR_POINT : STATION;
    for (int k = 1; k < i && b->code->shared && e->on >= 0; k++) {
      if (b->code->e[k].on == e->on && b->code->e[k].side == e->side) {
        b->body[i] = b->body[k];
        break;
      }
    }
  }
}

// The ends of strand j that lie toward the lip and away from it; -1 where it ends in a hand or loose.
static void strand_ends(const board *b, int j, int *front, int *back) {
  int from = j == 0 ? LIP : b->body[j - 1];
  int to = j > b->code->n || (j > 0 && b->code->e[j].tie) ? -1 : b->body[j];
  bool away = fhi_direction(b->code, j) > 0;
  *front = away ? from : to;
  *back = away ? to : from;
}

static void add_strands(board *b) {
  for (int j = 0; j <= b->code->n + 1; j++) {
    int front, back;
    strand_ends(b, j, &front, &back);
    if (j > 0 && front >= 0 && back >= 0) {
      add_edge(b, front, back, b->clearance);
    }
    for (int i = 1; i <= b->code->n; i++) {
      if (b->code->e[i].on != j || b->body[i] != i) {
        continue;
      }
      add_edge(b, LIP, i, b->reach);
      if (front >= 0 && front != LIP) {
        add_edge(b, front, i, b->clearance);
      }
      if (back >= 0) {
        bool hitch_between = j == 0 && b->code->tended;
        add_edge(b, i, back, hitch_between ? 1.5 * b->clearance : b->clearance);
      }
    }
  }
}

static bool is_fixed(int node) {
  return node == STATION || node == FAR_POINT;
}

// Longest paths for a given travel. @return false when the order closes on itself
static bool relax(board *b, double travel) {
  for (int k = 0; k < NODES; k++) {
    b->at[k] = b->sum_gap[k] = b->sum_close[k] = 0.0;
  }
  for (int pass = 0; pass <= NODES; pass++) {
    bool changed = false;
    for (int i = 0; i < b->count; i++) {
      const edge *e = &b->edges[i];
      // Paths start again at a fixed point: it stands where it stands.
      bool fixed = is_fixed(e->front);
      double place = fixed ? b->fixed_at[e->front - STATION] : 0.0;
      double from = fixed ? place : b->at[e->front];
      double reached = from + e->gap + e->close * travel;
      if (reached > b->at[e->back] + 1e-12) {
        b->at[e->back] = reached;
        b->sum_gap[e->back] = (fixed ? place : b->sum_gap[e->front]) + e->gap;
        b->sum_close[e->back] = (fixed ? 0.0 : b->sum_close[e->front]) + e->close;
        changed = true;
      }
    }
    if (!changed) {
      return true;
    }
  }
  return false;
}

// The longest travel up to `most` for which everything fits. @return NaN when there is none
static double fit(board *b, double most) {
  double travel = most;
  for (int step = 0; step < MAX_STEPS; step++) {
    if (!relax(b, travel)) {
      return (double)NAN;
    }
    double shorter = travel;
    for (int node = STATION; node <= FAR_POINT; node++) {
      if (b->at[node] <= b->fixed_at[node - STATION] + 1e-9) {
        continue;
      }
      if (!(b->sum_close[node] > 1e-12)) {
        return (double)NAN;  // too long even for no stroke at all
      }
      shorter = fmin(shorter, (b->fixed_at[node - STATION] - b->sum_gap[node]) / b->sum_close[node]);
    }
    if (!(shorter < travel)) {
      return travel;
    }
    travel = shorter;
    if (!(travel > 1e-3)) {
      return (double)NAN;
    }
  }
  return (double)NAN;
}

// Grips on one strand keep apart: in the order in which they stand, or back blocks before front blocks where that is free.
static void order_grips(board *b, bool backs_first) {
  for (int j = 0; j <= b->code->n + 1; j++) {
    int on[FHI_ELEMENTS], n = 0;
    for (int i = 1; i <= b->code->n; i++) {
      if (b->code->e[i].on != j || b->body[i] != i) {
        continue;
      }
      int k = n++;
      for (; k > 0; k--) {
        int other = on[k - 1];
        bool before = b->at[i] < b->at[other] - 1e-9;
        if (backs_first && b->code->e[i].side != b->code->e[other].side) {
          before = b->code->e[i].side < 0;
        }
        if (!before) {
          break;
        }
        on[k] = other;
      }
      on[k] = i;
    }
    for (int k = 1; k < n; k++) {
      add_edge(b, on[k - 1], on[k], b->clearance);
    }
  }
}

// No part of a strand between two grips may have to push.
static bool parts_pull(const board *b) {
  for (int j = 0; j <= b->code->n + 1; j++) {
    bool done[FHI_ELEMENTS] = {false};
    int dir = fhi_direction(b->code, j);
    double t = b->solved->start[j];
    for (;;) {
      int next = -1;
      for (int i = 1; i <= b->code->n; i++) {
        if (b->code->e[i].on == j && !done[i] &&
            (next < 0 || dir * (b->at[b->body[i]] - b->at[b->body[next]]) < 0.0)) {
          next = i;
        }
      }
      if (next < 0) {
        break;
      }
      done[next] = true;
      t -= b->code->e[next].side * dir * b->solved->pull[next];
      bool last_of_body = true;
      for (int i = 1; i <= b->code->n; i++) {
        last_of_body = last_of_body && !(!done[i] && b->code->e[i].on == j && b->body[i] == b->body[next]);
      }
      bool may_be_slack = j == 0 || fhi_is_loose(b->code, j);
      if (last_of_body && t < (may_be_slack ? -1e-9 : 1e-9)) {
        return false;
      }
    }
  }
  return true;
}

// A rope tied to a grip that holds the same piece of it, with no other grip between, only pulls on itself.
static bool closed_loop(const board *b) {
  const fhi_element *e = b->code->e;
  for (int i = 1; i <= b->code->n; i++) {
    bool same_rope = e[i].tie && e[i].on > i;
    for (int k = i + 1; same_rope && k < e[i].on; k++) {
      same_rope = !e[k].tie;  // element k ends strand k: a tie there begins another rope
    }
    bool split = false;
    for (int k = 1; k <= b->code->n; k++) {
      split = split || (b->body[k] != b->body[i] && e[k].on > i && e[k].on <= e[i].on);
    }
    if (same_rope && !split) {
      return true;
    }
  }
  return false;
}

static double lie(board *b, double most, bool backs_first) {
  b->count = 0;
  add_strands(b);
  double travel = fit(b, most);
  if (!isnan(travel)) {
    order_grips(b, backs_first);
    travel = fit(b, most);
  }
  return travel;
}

bool fhi_code_orderable(const fhi_code *code, const fhi_solved *solved) {
  board b;
  b.code = code;
  b.solved = solved;
  b.clearance = b.reach = 1.0;
  b.fixed_at[0] = b.fixed_at[1] = 1e3;
  b.count = 0;
  find_bodies(&b);
  add_strands(&b);
  return relax(&b, 0.0);
}

static void measure(const board *b, fhi_placed *placed) {
  int rope = 0;
  memset(placed->rope, 0, sizeof placed->rope);
  for (int j = 0; j <= b->code->n + 1; j++) {
    rope += j > 1 && b->code->e[j - 1].tie;
    double from = j == 0 ? 0.0 : placed->at[j - 1], to = from;
    bool tail = j > b->code->n || (j > 0 && b->code->e[j].tie);
    if (!tail) {
      to = placed->at[j];
    }
    for (int i = 1; i <= b->code->n && tail; i++) {
      if (b->code->e[i].on == j && fabs(placed->at[i] - from) > fabs(to - from)) {
        to = placed->at[i];
      }
    }
    placed->rope[rope] += fabs(to - from);
  }
}

bool fhi_code_place(const fh_scene *scene, const fhi_code *code, const fhi_solved *solved, double most, fhi_placed *placed) {
  board b = {.code = code, .solved = solved, .clearance = scene->clearance.likely, .reach = scene->reach.likely};
  b.fixed_at[0] = scene->station_at.likely;
  b.fixed_at[1] = scene->anchor_at.likely;
  find_bodies(&b);
  if (closed_loop(&b)) {
    return false;
  }
  double travel = lie(&b, most, true);
  if (isnan(travel)) {
    travel = lie(&b, most, false);
  }
  if (isnan(travel) || !parts_pull(&b)) {
    return false;
  }
  for (int i = 0; i <= code->n; i++) {
    placed->at[i] = is_fixed(b.body[i]) ? b.fixed_at[b.body[i] - STATION] : b.at[b.body[i]];
  }
  // A hauler who walks back has only so much room.
  int hand = fhi_hand_strand(code);
  if (fhi_direction(code, hand) > 0) {
    travel = fmin(travel, (scene->room.likely - placed->at[hand - 1]) / solved->hand);
  }
  placed->travel = travel;
  measure(&b, placed);
  return travel > 1e-3;
}
