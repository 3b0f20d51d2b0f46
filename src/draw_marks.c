// SPDX-License-Identifier: MIT
// What stands on the strands of the surface: turns, grips, knots, the ring around what is new, the hand.
#include "draw_surface.h"

#include <math.h>

static const double RING = 7.5;  // [pt] radius of the ring around what is new

static void on_strand(const fhi_section *sec, const fhi_frame *f, int strand, double s, double *x, double *y) {
  fhi_frame_point(f, s, fhi_frame_height(f, &sec->layout.runs[sec->layout.run_of[strand]], false), 0.0, x, y);
}

// Where a contact sits: in the middle of its half turn, or on the strand when the rope runs straight on.
bool fhi_contact_spot(const fhi_section *sec, const fhi_frame *f, const fh_contact *k, double *x, double *y, int *dir) {
  const fhi_layout *l = &sec->layout;
  double s = l->to[k->before];
  const fhi_run *a = &l->runs[l->run_of[k->before]];
  const fhi_run *b = &l->runs[l->run_of[k->after]];
  if (s < 0.0 || s > f->end) {
    return false;
  }
  *dir = a->dir;
  fhi_frame_point(f, s, (fhi_frame_height(f, a, false) + fhi_frame_height(f, b, false)) / 2.0, 0.0, x, y);
  return true;
}

static bool is_sheave(const fhi_section *sec, int item) {
  const fh_item *it = fh_gear_item(sec->gear, item);
  return it != NULL && (it->item_class == FH_ITEM_SHEAVE || it->item_class == FH_ITEM_CAPTURE);
}

// A ring for what turns, a dot for what the rope slides over; the name stands beside it.
static void draw_contacts(fhi_section *sec, const fhi_frame *f) {
  for (int i = 0; i < sec->check->contact_count; i++) {
    const fh_contact *k = &sec->check->contacts[i];
    double x = 0.0;
    double y = 0.0;
    int dir = 0;
    if (k->body < 0 || !fhi_contact_spot(sec, f, k, &x, &y, &dir)) {
      continue;
    }
    fhi_svg_group(sec->svg, "contact", i);
    if (is_sheave(sec, k->item)) {
      fhi_svg_circle(sec->svg, x, y, 3.6, (fhi_pen){FHI_INK, 1.3, NULL, FHI_PAPER});
    } else {
      fhi_svg_circle(sec->svg, x, y, 2.6, (fhi_pen){NULL, 0.0, NULL, FHI_INK});
    }
    fhi_svg_group_end(sec->svg);
    fhi_svg_keep_out(sec->svg, (fhi_box){x - 3.4, y - 3.0, 6.8, 6.0});
  }
}

// The strand that a grip holds, where it is drawn. @return -1: it is not
static int gripped_strand(const fhi_section *sec, const fhi_frame *f, const fh_grip *grip) {
  for (int i = 0; i < sec->check->strand_count; i++) {
    const fh_strand *st = &sec->check->strands[i];
    if (st->path == grip->path && st->after == grip->after && st->to == grip->body && grip->at >= 0.0 && grip->at <= f->end) {
      return i;
    }
  }
  return -1;
}

// A grip is a short bar across its strand.
static void draw_grips(fhi_section *sec, const fhi_frame *f) {
  for (int g = 0; g < sec->rig->grip_count; g++) {
    const fh_grip *grip = &sec->rig->grips[g];
    int strand = gripped_strand(sec, f, grip);
    if (strand < 0) {
      continue;
    }
    double x = 0.0;
    double y = 0.0;
    on_strand(sec, f, strand, grip->at, &x, &y);
    fhi_svg_group(sec->svg, "grip", g);
    fhi_svg_rect(sec->svg, (fhi_box){x - 4.5, y - 3.2, 9.0, 6.4}, 1.2, (fhi_pen){FHI_PAPER, 0.8, NULL, FHI_INK});
    fhi_svg_group_end(sec->svg);
  }
}

// A rope tied to a body: a small square.
static void draw_knots(fhi_section *sec, const fhi_frame *f) {
  const fh_check *c = sec->check;
  const fhi_layout *l = &sec->layout;
  for (int i = 0; i < c->strand_count; i++) {
    const fh_strand *st = &c->strands[i];
    int ends[2] = {fhi_tied(sec->rig, st, false) ? st->from : FH_END_LOOSE, fhi_tied(sec->rig, st, true) ? st->to : FH_END_LOOSE};
    double at[2] = {l->from[i], l->to[i]};
    for (int e = 0; e < 2; e++) {
      if (ends[e] < 0 || at[e] < 0.0 || at[e] > f->end) {
        continue;
      }
      double x = 0.0;
      double y = 0.0;
      on_strand(sec, f, i, at[e], &x, &y);
      fhi_svg_rect(sec->svg, (fhi_box){x - 2.6, y - 2.6, 5.2, 5.2}, 0.0, (fhi_pen){FHI_INK, 1.1, NULL, FHI_PAPER});
    }
  }
}

// Where something was put in place just now.
static void draw_ring(fhi_section *sec, double x, double y) {
  fhi_svg_circle(sec->svg, x, y, RING, (fhi_pen){FHI_PAPER, 3.0, NULL, NULL});
  fhi_svg_circle(sec->svg, x, y, RING, (fhi_pen){FHI_WARN, 1.6, NULL, NULL});
}

// Where a rope was tied just now.
static void ring_tie(fhi_section *sec, const fhi_frame *f, int station) {
  if (sec->rig->stations[station].kind != FH_TIE) {
    return;
  }
  for (int i = 0; i < sec->check->strand_count; i++) {
    const fh_strand *st = &sec->check->strands[i];
    int first = sec->rig->paths[st->path].first + st->after;
    double s = station == first ? sec->layout.from[i] : station == first + 1 ? sec->layout.to[i] : -1.0;
    if (s >= 0.0 && s <= f->end) {
      double x = 0.0;
      double y = 0.0;
      on_strand(sec, f, i, s, &x, &y);
      draw_ring(sec, x, y);
      return;
    }
  }
}

static void ring_contact(fhi_section *sec, const fhi_frame *f, int station) {
  for (int i = 0; i < sec->check->contact_count; i++) {
    const fh_contact *k = &sec->check->contacts[i];
    double x = 0.0;
    double y = 0.0;
    int dir = 0;
    if (k->body >= 0 && k->station == station && fhi_contact_spot(sec, f, k, &x, &y, &dir)) {
      draw_ring(sec, x, y);
    }
  }
}

static void draw_fresh(fhi_section *sec, const fhi_frame *f) {
  if (sec->fresh_station > 0 && sec->fresh_station <= sec->rig->station_count) {
    ring_contact(sec, f, sec->fresh_station - 1);
    ring_tie(sec, f, sec->fresh_station - 1);
  }
  if (sec->fresh_grip > 0 && sec->fresh_grip <= sec->rig->grip_count) {
    const fh_grip *g = &sec->rig->grips[sec->fresh_grip - 1];
    int strand = gripped_strand(sec, f, g);
    double x = 0.0;
    double y = 0.0;
    if (strand >= 0) {
      on_strand(sec, f, strand, g->at, &x, &y);
      draw_ring(sec, x, y);
    }
  }
}

static void draw_hand(fhi_section *sec, const fhi_frame *f) {
  const fhi_layout *l = &sec->layout;
  if (l->hand < 0) {
    return;
  }
  double x = 0.0;
  double y = 0.0;
  on_strand(sec, f, l->hand, fmin(l->hand_at, f->end), &x, &y);
  fhi_svg_arrow(sec->svg, x + l->hand_dir * 3.0, y, l->hand_dir > 0 ? 0.0 : 3.14159265358979323846, 9.0, FHI_INK);
  fhi_svg_keep_out(sec->svg, (fhi_box){x + l->hand_dir * 3.0 - (l->hand_dir > 0 ? 9.0 : 0.0), y - 2.0, 9.0, 4.0});
}

void fhi_draw_marks(fhi_section *sec, const fhi_frame *f) {
  draw_contacts(sec, f);
  draw_grips(sec, f);
  draw_knots(sec, f);
  draw_fresh(sec, f);
  draw_hand(sec, f);
}
