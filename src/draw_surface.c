// SPDX-License-Identifier: MIT
// The surface near the lip at a round multiple of the whole's scale, turned level: strands in lanes, the force beside
// each, what the rope runs through at each turn, grips, and a ruler with the bodies' distances.
#include "draw_section.h"

#include "words.h"

#include <math.h>
#include <string.h>

static const double LANE = 14.0;      // [pt] a number of the main size fits between two strands
static const double STEP_LANE = 9.5;  // [pt] the same without numbers
static const double RING = 7.5;       // [pt] radius of the ring around what is new
static const double BASE = 8.0;       // [pt] lane 0 above the snow
static const double SLING = 3.0;      // [pt] the sling from station to anchor above the snow
static const double STUB = 30.0;      // [pt] of the strands in the hole that is shown
static const double ICE_DEPTH = 13.0; // [pt] of the band under the surface
static const double NAME_ROOM = 84.0; // [pt] a name takes at most
static const double FOOT = 0.3048;    // [m]

static double lane(const fhi_section *sec) {
  return sec->step && !sec->solved ? STEP_LANE : LANE;
}

static fhi_frame surface_frame(const fhi_section *sec) {
  fhi_frame f = {.x = sec->start, .scale = sec->scale, .base = BASE, .gap = lane(sec), .hole_base = 4.5, .hole_gap = 5.0, .bend = 8.0, .end = sec->end};
  fhi_frame_axes(&f, 0.0, sec->scene->lip_turn.likely);
  f.deep = -STUB / sec->scale;
  return f;
}

static void draw_ice(fhi_section *sec, const fhi_frame *f) {
  double right = sec->svg->width - FHI_MARGIN;
  double bottom = f->y + STUB + 4.0;
  double wall_x = f->x + (STUB + 4.0) * (f->wy > 0.2 ? f->wx / f->wy : 0.0);
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, wall_x, bottom);
  fhi_path_line(&p, f->x, f->y);
  fhi_path_line(&p, right, f->y);
  fhi_path_line(&p, right, f->y + ICE_DEPTH);
  fhi_path_line(&p, f->x + ICE_DEPTH, f->y + ICE_DEPTH);
  fhi_path_line(&p, wall_x + ICE_DEPTH, bottom);
  fhi_path_close(&p);
  fhi_svg_path(sec->svg, &p, (fhi_pen){NULL, 0.0, NULL, FHI_ICE});
  fhi_path_clear(&p);
  fhi_path_move(&p, wall_x, bottom);
  fhi_path_line(&p, f->x, f->y);
  fhi_path_line(&p, right, f->y);
  fhi_svg_path(sec->svg, &p, (fhi_pen){FHI_ICE_EDGE, 1.2, NULL, NULL});
  fhi_svg_avoid(sec->svg, f->x, f->y, right, f->y, 4.0);
}

// The edge as it was before the ropes cut in, to scale.
static void draw_cut(fhi_section *sec, const fhi_frame *f) {
  double cut = sec->scene->lip_cut.likely * f->scale;
  if (!(cut >= 1.0)) {
    return;
  }
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, f->x + 3.0 * cut, f->y);
  fhi_path_line(&p, f->x - cut * (f->wy > 0.2 ? f->wx / f->wy : 0.0), f->y - cut);
  fhi_path_line(&p, f->x, f->y);
  fhi_svg_path(sec->svg, &p, (fhi_pen){FHI_ICE_EDGE, 0.8, "2.5 1.5", FHI_ICE});
  fhi_svg_avoid(sec->svg, p.x[0], p.y[0], p.x[1], p.y[1], 1.0);
  fhi_svg_avoid(sec->svg, p.x[1], p.y[1], p.x[2], p.y[2], 1.0);
}

// The station holds by a sling to the anchor, not in the snow. Drawn close above the snow, below every rope.
static void draw_sling(fhi_section *sec, const fhi_frame *f) {
  const fh_body *station = &sec->check->bodies[FH_BODY_STATION];
  const fh_body *anchor = &sec->check->bodies[FH_BODY_ANCHOR];
  if (sec->bare || fhi_sling_length(sec->check) <= 0.0 || fmin(station->at, anchor->at) > f->end) {
    return;
  }
  double x[2];
  double y[2];
  fhi_frame_point(f, fmin(station->at, f->end), SLING, 0.0, &x[0], &y[0]);
  fhi_frame_point(f, fmin(anchor->at, f->end), SLING, 0.0, &x[1], &y[1]);
  fhi_svg_group(sec->svg, "sling", 0);
  fhi_svg_line(sec->svg, x[0], y[0], x[1], y[1], (fhi_pen){FHI_INK, 2.6, NULL, NULL});
  fhi_svg_line(sec->svg, x[0], y[0], x[1], y[1], (fhi_pen){FHI_PAPER, 1.0, NULL, NULL});
  fhi_svg_circle(sec->svg, x[0], y[0], 2.4, (fhi_pen){FHI_INK, 1.1, NULL, FHI_PAPER});
  fhi_svg_group_end(sec->svg);
  fhi_svg_avoid(sec->svg, x[0], y[0], x[1], y[1], 4.0);
}

// From its lowest lane to its highest; fixed bodies down into the snow.
static bool body_span(const fhi_section *sec, const fhi_frame *f, int body, double *low, double *high) {
  *low = HUGE_VAL;
  *high = -HUGE_VAL;
  for (int i = 0; i < sec->check->strand_count; i++) {
    const fh_strand *st = &sec->check->strands[i];
    if (st->from == body || st->to == body) {
      double h = fhi_frame_height(f, &sec->layout.runs[sec->layout.run_of[i]], false);
      *low = fmin(*low, h);
      *high = fmax(*high, h);
    }
  }
  return *high >= *low;
}

static void draw_body(fhi_section *sec, const fhi_frame *f, int body) {
  const fh_body *b = &sec->check->bodies[body];
  double low = 0.0;
  double high = 0.0;
  if (b->at > f->end || b->at < 0.0 || !body_span(sec, f, body, &low, &high)) {
    return;
  }
  double x = 0.0;
  double y = 0.0;
  fhi_frame_point(f, b->at, 0.0, 0.0, &x, &y);
  fhi_svg_group(sec->svg, "body", body);
  if (b->fixed && body == FH_BODY_STATION && fhi_sling_length(sec->check) > 0.0) {
    low = SLING + 2.4;  // it hangs on its sling
  } else if (b->fixed) {
    fhi_path p;
    fhi_path_clear(&p);
    fhi_path_move(&p, x - 4.0, y);
    fhi_path_line(&p, x + 4.0, y);
    fhi_path_line(&p, x, y + 9.0);
    fhi_path_close(&p);
    fhi_svg_path(sec->svg, &p, (fhi_pen){NULL, 0.0, NULL, FHI_INK});
    low = 0.0;
  }
  fhi_svg_line(sec->svg, x, y - low, x, y - high, (fhi_pen){FHI_FAINT, 3.2, NULL, NULL});
  fhi_svg_avoid(sec->svg, x, y - low, x, y - high, 4.0);
  fhi_svg_group_end(sec->svg);
}

// Where a contact sits: in the middle of its half turn, or on the strand when the rope runs straight on.
static bool contact_spot(const fhi_section *sec, const fhi_frame *f, const fh_contact *k, double *x, double *y, int *dir) {
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
    if (k->body < 0 || !contact_spot(sec, f, k, &x, &y, &dir)) {
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

// A grip is a short bar across its strand.
static void draw_grips(fhi_section *sec, const fhi_frame *f) {
  const fh_check *c = sec->check;
  for (int g = 0; g < sec->rig->grip_count; g++) {
    const fh_grip *grip = &sec->rig->grips[g];
    for (int i = 0; i < c->strand_count; i++) {
      if (c->strands[i].path != grip->path || c->strands[i].after != grip->after || c->strands[i].to != grip->body || grip->at > f->end || grip->at < 0.0) {
        continue;
      }
      double x = 0.0;
      double y = 0.0;
      fhi_frame_point(f, grip->at, fhi_frame_height(f, &sec->layout.runs[sec->layout.run_of[i]], false), 0.0, &x, &y);
      fhi_svg_group(sec->svg, "grip", g);
      fhi_svg_rect(sec->svg, (fhi_box){x - 4.5, y - 3.2, 9.0, 6.4}, 1.2, (fhi_pen){FHI_PAPER, 0.8, NULL, FHI_INK});
      fhi_svg_group_end(sec->svg);
      break;
    }
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
      fhi_frame_point(f, at[e], fhi_frame_height(f, &l->runs[l->run_of[i]], false), 0.0, &x, &y);
      fhi_svg_rect(sec->svg, (fhi_box){x - 2.6, y - 2.6, 5.2, 5.2}, 0.0, (fhi_pen){FHI_INK, 1.1, NULL, FHI_PAPER});
    }
  }
}

// Where something was put in place just now.
static void draw_ring(fhi_section *sec, double x, double y) {
  fhi_svg_circle(sec->svg, x, y, RING, (fhi_pen){FHI_PAPER, 3.0, NULL, NULL});
  fhi_svg_circle(sec->svg, x, y, RING, (fhi_pen){FHI_WARN, 1.6, NULL, NULL});
}

static void ring_tie(fhi_section *sec, const fhi_frame *f, int station) {
  const fh_check *c = sec->check;
  for (int i = 0; i < c->strand_count; i++) {
    const fh_strand *st = &c->strands[i];
    int first = sec->rig->paths[st->path].first + st->after;
    double s = station == first ? sec->layout.from[i] : station == first + 1 ? sec->layout.to[i] : -1.0;
    if (s >= 0.0 && s <= f->end && sec->rig->stations[station].kind == FH_TIE) {
      double x = 0.0;
      double y = 0.0;
      fhi_frame_point(f, s, fhi_frame_height(f, &sec->layout.runs[sec->layout.run_of[i]], false), 0.0, &x, &y);
      draw_ring(sec, x, y);
      return;
    }
  }
}

static void draw_fresh(fhi_section *sec, const fhi_frame *f) {
  const fh_check *c = sec->check;
  double x = 0.0;
  double y = 0.0;
  int dir = 0;
  for (int i = 0; i < c->contact_count; i++) {
    if (c->contacts[i].body >= 0 && c->contacts[i].station >= 0 && c->contacts[i].station == sec->fresh_station - 1 && contact_spot(sec, f, &c->contacts[i], &x, &y, &dir)) {
      draw_ring(sec, x, y);
    }
  }
  if (sec->fresh_station > 0 && sec->fresh_station <= sec->rig->station_count) {
    ring_tie(sec, f, sec->fresh_station - 1);
  }
  const fh_grip *g = sec->fresh_grip > 0 && sec->fresh_grip <= sec->rig->grip_count ? &sec->rig->grips[sec->fresh_grip - 1] : NULL;
  for (int i = 0; g != NULL && i < c->strand_count; i++) {
    if (c->strands[i].path == g->path && c->strands[i].after == g->after && c->strands[i].to == g->body && g->at >= 0.0 && g->at <= f->end) {
      fhi_frame_point(f, g->at, fhi_frame_height(f, &sec->layout.runs[sec->layout.run_of[i]], false), 0.0, &x, &y);
      draw_ring(sec, x, y);
      return;
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
  fhi_frame_point(f, fmin(l->hand_at, f->end), fhi_frame_height(f, &l->runs[l->run_of[l->hand]], false), 0.0, &x, &y);
  fhi_svg_arrow(sec->svg, x + l->hand_dir * 3.0, y, l->hand_dir > 0 ? 0.0 : 3.14159265358979323846, 9.0, FHI_INK);
  fhi_svg_keep_out(sec->svg, (fhi_box){x + l->hand_dir * 3.0 - (l->hand_dir > 0 ? 9.0 : 0.0), y - 2.0, 9.0, 4.0});
}

// ------------------------------------------------------------------------------------------------ labels

// The room above a strand belongs to that strand's number.
static void reserve_lanes(fhi_section *sec, const fhi_frame *f, int *zones) {
  for (int i = 0; i < sec->check->strand_count; i++) {
    fhi_path p;
    zones[i] = -1;
    bool surface = sec->layout.from[i] >= 0.0 && sec->layout.to[i] >= 0.0;
    if (surface && fhi_strand_path(f, &sec->layout, sec->check, i, &p) && sec->svg->segment_count < FHI_SVG_SEGMENTS) {
      zones[i] = sec->svg->segment_count;
      fhi_svg_avoid(sec->svg, p.x[0], p.y[0] - 6.0, p.x[1], p.y[1] - 6.0, 1.5);
    }
  }
}

// A number that is just too long for its strand goes without its unit, which the heading names.
static void drop_unit(char *text, double clear) {
  char bare[FHI_WORD];
  (void)fhi_copy(bare, sizeof bare, text);
  char *space = strrchr(bare, ' ');
  if (space != NULL) {
    *space = '\0';
    if (fhi_text_width(bare, FHI_MAIN, true) <= clear) {
      (void)fhi_copy(text, FHI_WORD, bare);
    }
  }
}

static void label_strand(fhi_section *sec, const fhi_frame *f, int i, fhi_box field) {
  const fh_strand *st = &sec->check->strands[i];
  fhi_path p;
  if (sec->layout.from[i] < 0.0 || sec->layout.to[i] < 0.0 || !fhi_strand_path(f, &sec->layout, sec->check, i, &p)) {
    return;
  }
  char force[FHI_WORD];
  char text[FHI_WORD + 16];
  fhi_callout label = {.field = field, .font = fhi_font_bold(), .text = text, .x = (p.x[0] + p.x[1]) / 2.0, .y = p.y[0], .pull_y = -6.4};
  if (!st->carries) {
    if (sec->step && (st->to == FH_END_LOOSE || st->from == FH_END_LOOSE)) {
      return;  // the heading says what dotted is
    }
    label.font = fhi_font_small();
    (void)fhi_format(text, sizeof text, st->to == FH_END_LOOSE || st->from == FH_END_LOOSE ? fhi_say(sec->scene->language, "loose end") : fhi_say(sec->scene->language, "slack"));
  } else if (!sec->solved) {
    if (i != sec->layout.hand) {
      return;
    }
    (void)fhi_format(text, sizeof text, fhi_say(sec->scene->language, "pull"));
  } else {
    fhi_show_force(force, sizeof force, st->tension[FH_RAISE], sec->units, sec->scene->language);
    (void)fhi_format(text, sizeof text, i == sec->layout.hand ? fhi_say(sec->scene->language, "pull %s") : "%s", force);
    double clear = fabs(p.x[1] - p.x[0]) - 9.0;  // between what stands at its ends
    if (fhi_text_width(text, FHI_MAIN, true) > clear && i != sec->layout.hand) {
      drop_unit(text, clear);
    }
  }
  // Wholly beside its own strand, or at least over the middle of it.
  label.slide = fmax(0.0, (fabs(p.x[1] - p.x[0]) - fhi_text_width(text, label.font.size, label.font.bold)) / 2.0 - 3.0);
  if (!fhi_svg_callout(sec->svg, &label)) {
    sec->missed[sec->missed_count++] = i;
  }
}

static void label_strands(fhi_section *sec, const fhi_frame *f, fhi_box field, const int *zones) {
  // Numbers first, then what only says that a strand is slack.
  for (int pass = 0; pass < 2; pass++) {
    for (int i = 0; i < sec->check->strand_count; i++) {
      if (sec->check->strands[i].carries != (pass == 0)) {
        continue;
      }
      if (zones[i] >= 0) {
        sec->svg->segments[zones[i]].weight = 0.0;
      }
      label_strand(sec, f, i, field);
      if (zones[i] >= 0) {
        sec->svg->segments[zones[i]].weight = 1.5;
      }
    }
  }
}

// A name far off its turn, or across ropes, tells less than none: the turn itself shows what it is, and the route in words has it.
static const double NAME_MOST = 70.0;  // [pt]

static void label_contacts(fhi_section *sec, const fhi_frame *f, fhi_box field) {
  for (int i = 0; i < sec->check->contact_count; i++) {
    const fh_contact *k = &sec->check->contacts[i];
    double x = 0.0;
    double y = 0.0;
    int dir = 0;
    if (k->body < 0 || !contact_spot(sec, f, k, &x, &y, &dir)) {
      continue;
    }
    char text[FHI_WORD];
    fhi_show_name(text, sizeof text, k->item >= 0 ? fhi_item_said(sec->scene->language, sec->gear, k->item) : fhi_say(sec->scene->language, "tended grip"), NAME_ROOM);
    double half = fhi_text_width(text, FHI_SMALL, false) / 2.0;
    fhi_callout label = {.field = field, .font = fhi_font_small(), .text = text, .x = x + dir * 6.5, .y = y, .pull_x = dir * (half + 3.0), .most = NAME_MOST};
    (void)fhi_svg_callout(sec->svg, &label);
  }
}

// ------------------------------------------------------------------------------------------------ ruler

// The peg of a fixed body hides a number under it; the flag there gives the distance.
static bool near_peg(const fhi_section *sec, const fhi_frame *f, double x) {
  for (int b = FH_BODY_STATION; b < sec->check->body_count; b++) {
    if (fabs(f->x + sec->check->bodies[b].at * f->scale - x) < 8.0) {
      return true;
    }
  }
  return false;
}

static void draw_ruler(fhi_section *sec, const fhi_frame *f) {
  double unit = sec->units == FH_IMPERIAL ? FOOT : 1.0;
  double step = unit * f->scale >= 14.0 ? 1.0 : unit * f->scale >= 5.0 ? 5.0 : 10.0;
  char text[40];
  for (int k = 0; k * step * unit <= f->end + 1e-9; k++) {
    double x = f->x + k * step * unit * f->scale;
    fhi_svg_line(sec->svg, x, f->y, x, f->y + 3.0, (fhi_pen){FHI_ICE_EDGE, 0.8, NULL, NULL});
    if (k > 0 && x < sec->svg->width - FHI_MARGIN - 3.0 && !near_peg(sec, f, x)) {
      fhi_svg_text(sec->svg, x, f->y + 10.5, FHI_MIDDLE, (fhi_font){FHI_SMALL, false, FHI_SOFT}, fhi_fixed(text, sizeof text, k * step, 0));
    }
  }
}

// Strands that run on past the right edge say where to.
static void draw_onward(fhi_section *sec, const fhi_frame *f, fhi_box field, const int *zones) {
  const fh_check *c = sec->check;
  double at = c->bodies[FH_BODY_ANCHOR].at;
  if (at <= f->end) {
    return;
  }
  char a[FHI_WORD];
  char text[FHI_WORD];
  (void)fhi_format(text, sizeof text, fhi_say(sec->scene->language, "anchor %s \xE2\x86\x92"), fhi_show_length(a, sizeof a, at, sec->units));
  for (int i = 0; i < c->strand_count; i++) {
    fhi_path p;
    if ((c->strands[i].to != FH_BODY_ANCHOR && c->strands[i].from != FH_BODY_ANCHOR) || !fhi_strand_path(f, &sec->layout, c, i, &p)) {
      continue;
    }
    fhi_callout label = {.field = field, .font = fhi_font_small(), .text = text, .x = fmax(p.x[0], p.x[1]), .y = p.y[0], .pull_x = -32.0, .pull_y = -6.0};
    if (zones[i] >= 0) {
      sec->svg->segments[zones[i]].weight = 0.0;
    }
    (void)fhi_svg_callout(sec->svg, &label);
    return;
  }
}

// What the figure is: its scale against the whole's; a step's figure has a ruler of its own.
static void make_title(const fhi_section *sec, char *text, size_t size) {
  char times[40];
  if (sec->step) {
    (void)fhi_format(text, size, fhi_say(sec->scene->language, "To scale; strands drawn apart%s.%s"), fhi_any_idle(sec->check) ? fhi_say(sec->scene->language, "; dotted: carries nothing") : "",
                     sec->solved ? (sec->units == FH_IMPERIAL ? fhi_say(sec->scene->language, " Forces in lbf.") : fhi_say(sec->scene->language, " Forces in N.")) : "");
    return;
  }
  fhi_fixed(times, sizeof times, sec->times, fabs(sec->times - round(sec->times)) > 0.1 ? 1 : 0);
  bool same = sec->times < 1.01;
  (void)fhi_format(text, size, same ? fhi_say(sec->scene->language, "Surface, just as large; strands drawn apart to be counted%s%s.")
                                   : fhi_say(sec->scene->language, "Surface, %s times as large; strands drawn apart to be counted%s."),
                   same ? "" : times, fabs(sec->scene->slope.likely) > 1e-6 ? fhi_say(sec->scene->language, "; turned level") : "");
}

double fhi_draw_surface(fhi_section *sec, double top) {
  char text[2 * FHI_WORD];
  fhi_frame f = surface_frame(sec);
  make_title(sec, text, sizeof text);
  fhi_font font = fhi_font_small();
  double y = fhi_svg_paragraph(sec->svg, FHI_MARGIN, top + 8.0, sec->svg->width - 2.0 * FHI_MARGIN, font, text, 2);
  double height = BASE + (sec->layout.lane_count - 1) * lane(sec);
  f.y = y + 18.0 + fmax(height, 10.0);
  draw_ice(sec, &f);
  draw_cut(sec, &f);
  for (int b = FH_BODY_STATION; b < sec->check->body_count; b++) {
    draw_body(sec, &f, b);
  }
  draw_sling(sec, &f);
  fhi_draw_strands(sec->svg, &f, &sec->layout, sec->check, 5.0, 1.0);
  draw_contacts(sec, &f);
  draw_grips(sec, &f);
  draw_knots(sec, &f);
  draw_fresh(sec, &f);
  draw_hand(sec, &f);
  draw_ruler(sec, &f);
  fhi_box field = {3.0, y + 4.0, sec->svg->width - 6.0, f.y - y - 4.0};
  int zones[FH_MAX_STRANDS];
  reserve_lanes(sec, &f, zones);
  label_strands(sec, &f, field, zones);
  label_contacts(sec, &f, field);
  draw_onward(sec, &f, field, zones);
  return fmax(fhi_draw_flags(sec, &f, f.y + ICE_DEPTH), f.y + STUB + 8.0) + 2.0;
}
