// SPDX-License-Identifier: MIT
// What is left of the ropes when one part is gone: pieces between points that still hold them. Model section 9.
#include <math.h>
#include <string.h>

#include "lose.h"

typedef struct cutter {
  const fhi_view *view;
  const fhi_question *question;
  fhi_pieces *pieces;
  int first;        // first point of the open piece
  double length;    // [m] of it so far
  bool free;        // its beginning is held by nothing
  int gives, takes; // slip at its beginning that runs out of it, or into it; or -1
} cutter;

static bool body_gone(const cutter *c, int body) {
  const fhi_parts *parts = c->view->parts;
  int gone = c->question->gone;
  return (gone == parts->anchor && (body == FH_BODY_ANCHOR || body == FH_BODY_STATION)) ||
         (gone == parts->station && body == FH_BODY_STATION);
}

typedef enum fate { SKIPPED, PASSES, HOLDS, ENDS } fate;

// What a point still does.
static fate fate_of(const cutter *c, int i) {
  const fhi_point *p = &c->view->points[i];
  bool off = c->question->off[i], gone = c->question->gone >= 0 && p->part == c->question->gone;
  switch (p->what) {
  case FHI_AT_EDGE: return SKIPPED;
  case FHI_AT_END: return ENDS;
  case FHI_AT_HAND: return c->question->hands && c->question->gone != c->view->parts->hands ? HOLDS : ENDS;
  case FHI_AT_TIE: return gone || off || body_gone(c, p->body) ? SKIPPED : HOLDS;
  case FHI_AT_RUN: return gone || off || c->question->jam[i] || body_gone(c, p->body) ? SKIPPED : PASSES;
  case FHI_AT_LOCK: break;
  }
  if (gone || body_gone(c, p->body) || c->question->jam[i]) {
    return SKIPPED;
  }
  bool open = off || c->question->open || (p->lock >= 0 && p->lock == c->question->gone);
  return open ? (p->way == 0 ? SKIPPED : PASSES) : HOLDS;
}

// What stands for a point in the programme: its body, or a fixed one of its own for the hand and for a tended hitch, which sits
// on its strand and not at the body that it is clipped to.
static int body_for(cutter *c, int i) {
  fhi_drop *d = &c->pieces->drop;
  const fhi_point *p = &c->view->points[i];
  if (p->what != FHI_AT_HAND && !(p->what == FHI_AT_LOCK && p->way == 0)) {
    return p->body;
  }
  if (d->point_count > 0 && c->pieces->point[d->point_count - 1] == i) {
    return d->body[d->point_count - 1];  // it ends one piece and begins the next
  }
  d->at[d->body_count] = p->at;
  d->fixed[d->body_count] = true;
  return d->body_count++;
}

static void add_point(cutter *c, int i) {
  fhi_drop *d = &c->pieces->drop;
  int body = body_for(c, i);
  c->pieces->point[d->point_count] = i;
  d->body[d->point_count++] = body;
}

static void open_piece(cutter *c, bool is_free, int gives, int takes) {
  c->first = c->pieces->drop.point_count;
  c->length = 0.0;
  c->free = is_free;
  c->gives = gives;
  c->takes = takes;
}

// A piece that nothing holds at one end limits nothing.
static void close_piece(cutter *c, bool held, int gives, int takes, double more) {
  fhi_drop *d = &c->pieces->drop;
  int n = d->point_count - c->first;
  if (!held || c->free || n < 2) {
    d->point_count = c->first;
    return;
  }
  d->pieces[d->piece_count++] =
      (fhi_piece){c->first, n, c->length + more, {c->gives, gives}, {c->takes, takes}};
}

// A capture ends one piece and begins the next; rope may run on from one to the other.
static void hold_at(cutter *c, int i) {
  fhi_drop *d = &c->pieces->drop;
  const fhi_point *p = &c->view->points[i];
  bool loose = c->question->bite && !c->view->loaded && p->what == FHI_AT_LOCK;
  int slip = p->what == FHI_AT_LOCK && p->way != 0 && d->slip_count < FHI_DROP_SLIPS ? d->slip_count++ : -1;
  int on = p->way > 0 ? slip : -1, back = p->way < 0 ? slip : -1;
  add_point(c, i);
  close_piece(c, true, on, back, loose && p->way >= 0 ? p->bite : 0.0);
  open_piece(c, false, back, on);
  c->length = loose && p->way <= 0 ? p->bite : 0.0;
  add_point(c, i);
}

static bool cut_after(const cutter *c, int i) {
  int gone = c->question->gone;
  return gone >= 0 && c->view->parts->list[gone].kind == FH_ELEMENT_STRAND &&
         c->view->cut[c->view->parts->list[gone].index] == i;
}

static void one_rope(cutter *c, int *i) {
  open_piece(c, true, -1, -1);
  for (;; (*i)++) {
    const fhi_point *p = &c->view->points[*i];
    switch (fate_of(c, *i)) {
    case SKIPPED: break;
    case PASSES: add_point(c, *i); break;
    case HOLDS: hold_at(c, *i); break;
    case ENDS:
      close_piece(c, false, -1, -1, 0.0);
      open_piece(c, true, -1, -1);
      break;
    }
    if (p->last) {
      break;
    }
    if (cut_after(c, *i)) {
      close_piece(c, false, -1, -1, 0.0);
      open_piece(c, true, -1, -1);
    }
    c->length += p->next;
  }
  close_piece(c, false, -1, -1, 0.0);
  (*i)++;
}

void fhi_view_pieces(const fhi_view *v, const fhi_question *question, fhi_pieces *pieces) {
  fhi_drop *d = &pieces->drop;
  cutter c = {.view = v, .question = question, .pieces = pieces};
  d->point_count = d->piece_count = d->slip_count = 0;
  d->body_count = v->raise->rig->body_count;
  for (int b = 0; b < d->body_count; b++) {
    d->at[b] = v->at[b];
    d->fixed[b] = b == FH_BODY_STATION || b == FH_BODY_ANCHOR;
  }
  for (int i = 0; i < v->count;) {
    one_rope(&c, &i);
  }
}
