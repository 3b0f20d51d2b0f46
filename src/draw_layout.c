// SPDX-License-Identifier: MIT
// Where is each strand drawn? Strands that lie side by side get lanes in the order in which the rope runs, so that the
// figure reads like the rope itself: each turn back goes one lane up.
#include "draw_layout.h"

#include "draw_common.h"

#include <math.h>

// Ends in a hand or loose only have a side in the model; these say where they are drawn.
static const double HAND_ROOM = 2.0;  // [m] behind everything else, so that arrow and crew stand free
static const double TAIL = 0.9;       // [m] of a loose end that is shown
static const double LEAST_HAND = 0.5; // [m] a hand strand toward the lip is never drawn shorter
static const double HAND_NEAR = 1.0; // [m] toward the lip: who pulls there stands close to the piece, away from the edge

static bool same_path(const fh_check *check, int strand) {
  return strand + 1 < check->strand_count && check->strands[strand].path == check->strands[strand + 1].path;
}

static int direction(const fhi_layout *l, int strand) {
  return l->to[strand] >= l->from[strand] ? 1 : -1;
}

// Ends on bodies stand where they are. Ends in a hand or loose only have a side; they are drawn in find_open_ends.
static void find_ends(const fh_check *check, fhi_layout *l) {
  l->far = check->bodies[FH_BODY_STATION].at;
  for (int i = 0; i < check->strand_count; i++) {
    const fh_strand *st = &check->strands[i];
    l->from[i] = st->s_from;
    l->to[i] = st->s_to;
    int ends[2] = {st->from, st->to};
    double at[2] = {st->s_from, st->s_to};
    for (int e = 0; e < 2; e++) {
      if (ends[e] >= 0 && ends[e] != FH_BODY_ANCHOR) {
        l->far = fmax(l->far, at[e]);
      }
    }
  }
  for (int i = 0; i < check->contact_count; i++) {
    l->anchor_busy = l->anchor_busy || check->contacts[i].body == FH_BODY_ANCHOR;
  }
  if (l->anchor_busy) {
    l->far = fmax(l->far, check->bodies[FH_BODY_ANCHOR].at);
  }
}

static void find_open_ends(const fh_check *check, double reach, fhi_layout *l) {
  for (int i = 0; i < check->strand_count; i++) {
    const fh_strand *st = &check->strands[i];
    int dir = direction(l, i);
    if (st->to == FH_END_HAND) {
      l->hand = i;
      l->hand_dir = dir;
      double back = fmax(l->far, l->from[i]) + HAND_ROOM;
      double forward = l->from[i] - fmax(LEAST_HAND, fmin(HAND_NEAR, l->from[i] - reach));
      l->to[i] = dir > 0 ? back : forward;
      l->hand_at = l->to[i];
    } else if (st->to == FH_END_LOOSE) {
      l->to[i] = l->from[i] + dir * TAIL;
    } else if (st->from == FH_END_LOOSE) {
      l->from[i] = l->to[i] - dir * TAIL;
    }
  }
  for (int i = 0; i < check->strand_count; i++) {
    bool open = check->strands[i].to == FH_END_HAND || check->strands[i].to == FH_END_LOOSE || check->strands[i].from == FH_END_LOOSE;
    if (open) {
      l->far = fmax(l->far, fmax(l->to[i], l->from[i]));
    }
  }
}

static void find_runs(const fh_check *check, fhi_layout *l) {
  for (int i = 0; i < check->strand_count; i++) {
    int dir = direction(l, i);
    bool goes_on = i > 0 && same_path(check, i - 1) && direction(l, i - 1) == dir;
    if (!goes_on) {
      l->runs[l->run_count] = (fhi_run){check->strands[i].path, i, i, dir, l->run_count, -1};
      l->run_count++;
    }
    fhi_run *run = &l->runs[l->run_count - 1];
    run->last = i;
    l->run_of[i] = l->run_count - 1;
    if ((l->from[i] < 0.0 || l->to[i] < 0.0) && run->hole < 0) {
      run->hole = l->hole_count++;
    }
  }
  l->lane_count = l->run_count;
}

void fhi_layout_make(const fh_check *check, double reach, fhi_layout *l) {
  *l = (fhi_layout){.hand = -1, .hand_dir = 1};
  find_ends(check, l);
  find_open_ends(check, reach, l);
  find_runs(check, l);
}

void fhi_frame_axes(fhi_frame *f, double slope, double turn) {
  f->ux = cos(slope);
  f->uy = -sin(slope);
  // Into the hole: against the strand's direction at the lip, which is turned by `turn` upward from the surface's.
  f->wx = -cos(slope + turn);
  f->wy = sin(slope + turn);
}

void fhi_frame_point(const fhi_frame *f, double s, double off, double more, double *x, double *y) {
  double along = s * f->scale + (s >= 0.0 ? more : -more);
  if (s >= 0.0) {
    *x = f->x + along * f->ux + off * f->uy;
    *y = f->y + along * f->uy - off * f->ux;
  } else {
    // Off the wall: the normal that points away from the ice.
    *x = f->x - along * f->wx - off * f->wy;
    *y = f->y - along * f->wy + off * f->wx;
  }
}

double fhi_frame_height(const fhi_frame *f, const fhi_run *run, bool in_hole) {
  return in_hole ? f->hole_base + (run->hole < 0 ? 0 : run->hole) * f->hole_gap : f->base + run->lane * f->gap;
}

// Where the run's two straight lines meet.
static void corner(const fhi_frame *f, const fhi_run *run, double *x, double *y) {
  double a = fhi_frame_height(f, run, false);
  double b = fhi_frame_height(f, run, true);
  double ax = f->x + a * f->uy;
  double ay = f->y - a * f->ux;
  double bx = f->x - b * f->wy;
  double by = f->y + b * f->wx;
  double cross = f->ux * f->wy - f->uy * f->wx;  // sine of the turn
  double t = fabs(cross) < 0.3 ? 0.0 : ((bx - ax) * f->wy - (by - ay) * f->wx) / cross;
  double most = 3.0 * (a + b);
  t = fmax(-most, fmin(most, t));
  *x = ax + t * f->ux;
  *y = ay + t * f->uy;
}

void fhi_frame_bend(const fhi_frame *f, const fhi_run *run, bool hole_side, double *x, double *y) {
  corner(f, run, x, y);
  *x += f->bend * (hole_side ? f->wx : f->ux);
  *y += f->bend * (hole_side ? f->wy : f->uy);
}

bool fhi_strand_path(const fhi_frame *f, const fhi_layout *l, const fh_check *check, int i, fhi_path *p) {
  const fhi_run *run = &l->runs[l->run_of[i]];
  double ends[2] = {l->from[i], l->to[i]};
  int names[2] = {check->strands[i].from, check->strands[i].to};
  bool in_hole = ends[0] < 0.0 || ends[1] < 0.0;
  double off = fhi_frame_height(f, run, in_hole);
  if (in_hole ? fmin(ends[0], ends[1]) >= 0.0 : fmin(ends[0], ends[1]) >= f->end) {
    return false;
  }
  fhi_path_clear(p);
  for (int e = 0; e < 2; e++) {
    double x = 0.0;
    double y = 0.0;
    double s = fmax(f->deep, fmin(f->end, ends[e]));
    if (names[e] == FH_END_LIP && run->hole >= 0) {
      fhi_frame_bend(f, run, in_hole, &x, &y);
    } else {
      fhi_frame_point(f, s, off, 0.0, &x, &y);
    }
    if (e == 0) {
      fhi_path_move(p, x, y);
    } else {
      fhi_path_line(p, x, y);
    }
  }
  return true;
}

bool fhi_tied(const fh_rig *rig, const fh_strand *st, bool at_end) {
  int end = at_end ? st->to : st->from;
  if (end < 0) {
    return false;
  }
  const fh_station *station = &rig->stations[rig->paths[st->path].first + st->after + (at_end ? 1 : 0)];
  return station->kind == FH_TIE && station->body == end;
}

bool fhi_turns_after(const fhi_layout *l, const fh_check *check, int i) {
  return same_path(check, i) && l->run_of[i + 1] != l->run_of[i];
}

// Half a turn, as wide as the lanes are apart, beyond the point where the rope turns back.
static bool turn_path(const fhi_frame *f, const fhi_layout *l, int i, fhi_path *p) {
  const fhi_run *a = &l->runs[l->run_of[i]];
  const fhi_run *b = &l->runs[l->run_of[i + 1]];
  double s = l->to[i];
  if (s > f->end || s < f->deep) {
    return false;
  }
  double ha = fhi_frame_height(f, a, s < 0.0);
  double hb = fhi_frame_height(f, b, s < 0.0);
  double r = fmin(fabs(hb - ha) / 2.0, 0.75 * f->gap) * a->dir;
  double x[5];
  double y[5];
  fhi_frame_point(f, s, ha, 0.0, &x[0], &y[0]);
  fhi_frame_point(f, s, ha, s < 0.0 ? -r : r, &x[1], &y[1]);
  fhi_frame_point(f, s, (ha + hb) / 2.0, s < 0.0 ? -r : r, &x[2], &y[2]);
  fhi_frame_point(f, s, hb, s < 0.0 ? -r : r, &x[3], &y[3]);
  fhi_frame_point(f, s, hb, 0.0, &x[4], &y[4]);
  fhi_path_clear(p);
  fhi_path_move(p, x[0], y[0]);
  fhi_path_bend(p, x[1], y[1], x[2], y[2]);
  fhi_path_bend(p, x[3], y[3], x[4], y[4]);
  return true;
}

bool fhi_joint_path(const fhi_frame *f, const fhi_layout *l, const fh_check *check, int i, fhi_path *p) {
  if (!same_path(check, i)) {
    return false;
  }
  if (fhi_turns_after(l, check, i)) {
    return turn_path(f, l, i, p);
  }
  const fhi_run *run = &l->runs[l->run_of[i]];
  if (check->strands[i].to != FH_END_LIP || run->hole < 0) {
    return false;
  }
  double x[3];
  double y[3];
  bool up = l->from[i] < 0.0;
  fhi_frame_bend(f, run, up, &x[0], &y[0]);
  corner(f, run, &x[1], &y[1]);
  fhi_frame_bend(f, run, !up, &x[2], &y[2]);
  fhi_path_clear(p);
  fhi_path_move(p, x[0], y[0]);
  fhi_path_bend(p, x[1], y[1], x[2], y[2]);
  return true;
}

// Every straight or bent piece, as chords between its points.
static void avoid_path(fhi_svg *svg, const fhi_path *p, double weight) {
  for (int i = 1; i < p->count; i++) {
    fhi_svg_avoid(svg, p->x[i - 1], p->y[i - 1], p->x[i], p->y[i], weight);
  }
}

void fhi_draw_strands(fhi_svg *svg, const fhi_frame *f, const fhi_layout *l, const fh_check *check, double weight, double scale) {
  for (int i = 0; i < check->strand_count; i++) {
    const fh_strand *st = &check->strands[i];
    fhi_path p;
    fhi_svg_group(svg, "strand", i);
    if (fhi_strand_path(f, l, check, i, &p)) {
      fhi_draw_rope(svg, &p, st->path, st->carries, scale);
      avoid_path(svg, &p, weight);
    }
    if (fhi_joint_path(f, l, check, i, &p)) {
      fhi_draw_rope(svg, &p, st->path, st->carries && check->strands[i + 1].carries, scale);
      avoid_path(svg, &p, weight);
    }
    fhi_svg_group_end(svg);
  }
}
