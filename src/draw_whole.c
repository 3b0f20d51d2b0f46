// SPDX-License-Identifier: MIT
// The whole scene to one scale: how deep is the hole, where is the lip, how far back stand station and anchor?
#include "draw_section.h"

#include "report.h"
#include "words.h"

#include <math.h>

static const double PERSON = 1.75;       // [m]
static const double BUNDLE = 15.0;       // [pt] most that the strands on the surface may take together
static const double LABELS = 74.0;       // [pt] beside the wall, for the forces in the hole
static const double STEEP = 40.0;        // [pt] that the surface may rise or fall on its way to the page's edge
static const double SLING = 0.9;         // [pt] the sling from station to anchor above the snow
static const double CREW_APART = 0.9;    // [m] between two haulers

static fhi_frame whole_frame(const fhi_section *sec) {
  const fh_scene *s = sec->scene;
  const fhi_layout *l = &sec->layout;
  fhi_frame f = {.scale = sec->scale / sec->times, .base = 1.8, .hole_base = 3.0, .hole_gap = 4.2, .bend = 3.0};
  f.gap = fmin(2.7, l->lane_count > 1 ? BUNDLE / (l->lane_count - 1) : BUNDLE);
  fhi_frame_axes(&f, s->slope.likely, s->lip_turn.likely);
  f.deep = -HUGE_VAL;
  f.end = HUGE_VAL;
  double out = fmax(0.0, f.wx < 0.0 ? -f.wx * s->depth.likely * f.scale : 0.0);
  f.x = FHI_MARGIN + out + fmax(24.0, 1.3 * f.scale) + l->hole_count * f.hole_gap;
  return f;
}

// Glacier: everything under the surface and behind the wall. The far side of the hole is not known, so it is not drawn.
static void draw_ground(fhi_section *sec, const fhi_frame *f, double right, double bottom) {
  fhi_svg *svg = sec->svg;
  double far_y = f->y + (right - f->x) / f->ux * f->uy;
  double wall_x = f->x + (bottom - f->y) / f->wy * f->wx;
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, wall_x, bottom);
  fhi_path_line(&p, f->x, f->y);
  fhi_path_line(&p, right, far_y);
  fhi_path_line(&p, right, bottom);
  fhi_path_close(&p);
  fhi_svg_path(svg, &p, (fhi_pen){NULL, 0.0, NULL, FHI_ICE});
  fhi_path_clear(&p);
  fhi_path_move(&p, wall_x, bottom);
  fhi_path_line(&p, f->x, f->y);
  fhi_path_line(&p, right, far_y);
  fhi_svg_path(svg, &p, (fhi_pen){FHI_ICE_EDGE, 1.1, NULL, NULL});
  fhi_svg_avoid(svg, wall_x, bottom, f->x, f->y, 4.0);
  for (double down = 0.0; down < 20.0; down += 4.0) {
    fhi_svg_avoid(svg, f->x, f->y + down, right, far_y + down, 4.0);  // names stand in the air, not in the ice
  }
}

// The station hangs on the anchor.
static void draw_sling(fhi_section *sec, const fhi_frame *f) {
  double x[2];
  double y[2];
  if (fhi_sling_length(sec->check) <= 0.0) {
    return;
  }
  fhi_frame_point(f, sec->check->bodies[FH_BODY_STATION].at, SLING, 0.0, &x[0], &y[0]);
  fhi_frame_point(f, sec->check->bodies[FH_BODY_ANCHOR].at, SLING, 0.0, &x[1], &y[1]);
  fhi_svg_line(sec->svg, x[0], y[0], x[1], y[1], (fhi_pen){FHI_INK, 1.0, NULL, NULL});
}

// Fixed bodies go into the snow, the station on its sling does not; grip bodies only hold their strands.
static void draw_body(fhi_section *sec, const fhi_frame *f, int body) {
  const fh_body *b = &sec->check->bodies[body];
  double x[2];
  double y[2];
  double top = f->base + (sec->layout.lane_count - 1) * f->gap + 2.0;
  bool slung = body == FH_BODY_STATION && fhi_sling_length(sec->check) > 0.0;
  fhi_frame_point(f, b->at, b->fixed && !slung ? -4.0 : 0.0, 0.0, &x[0], &y[0]);
  fhi_frame_point(f, b->at, top, 0.0, &x[1], &y[1]);
  fhi_svg_group(sec->svg, "body", body);
  fhi_svg_line(sec->svg, x[0], y[0], x[1], y[1], (fhi_pen){FHI_INK, b->fixed ? 1.8 : 1.1, NULL, NULL});
  fhi_svg_group_end(sec->svg);
  fhi_svg_avoid(sec->svg, x[0], y[0], x[1], y[1], 8.0);  // another's name across it would be read as its own
}

// Farther off a name would be read as that of whatever stands beside it. The surface's flags have them all.
static const double NAME_MOST = 50.0;  // [pt]

static void name_body(fhi_section *sec, const fhi_frame *f, int body, fhi_box sky) {
  char text[FHI_WORD];
  fhi_callout label = {.field = sky, .pull_y = -9.0, .font = fhi_font_small(), .text = text, .most = NAME_MOST};
  label.font.colour = FHI_INK;
  fhi_show_name(text, sizeof text, fhi_end_said(sec->scene->language, sec->rig, body), 60.0);
  double top = f->base + (sec->layout.lane_count - 1) * f->gap + 2.0;
  fhi_frame_point(f, sec->check->bodies[body].at, top, 0.0, &label.x, &label.y);
  (void)fhi_svg_callout(sec->svg, &label);
}

// The crew stands where the hand is, one behind the other.
static void draw_crew(fhi_section *sec, const fhi_frame *f) {
  const fhi_layout *l = &sec->layout;
  if (l->hand < 0) {
    return;
  }
  int people = sec->scene->crew_count > 6 ? 6 : sec->scene->crew_count;
  for (int i = 0; i < people; i++) {
    double at = l->hand_at + l->hand_dir * (0.3 + i * CREW_APART);
    double x = 0.0;
    double y = 0.0;
    fhi_frame_point(f, fmax(0.3, at), 0.6, 0.0, &x, &y);
    fhi_draw_person(sec->svg, x, y, f->scale, FHI_PULLING, l->hand_dir);
    fhi_svg_keep_out(sec->svg, (fhi_box){x - 0.3 * f->scale, y - PERSON * f->scale, 0.7 * f->scale, PERSON * f->scale});
  }
}

static void draw_load(fhi_section *sec, const fhi_frame *f) {
  double x = 0.0;
  double y = 0.0;
  double middle = f->hole_base + 0.5 * (sec->layout.hole_count > 1 ? sec->layout.hole_count - 1 : 0) * f->hole_gap;
  fhi_frame_point(f, sec->check->bodies[FH_BODY_LOAD].at, middle, 0.0, &x, &y);
  fhi_svg_group(sec->svg, "body", FH_BODY_LOAD);
  fhi_draw_person(sec->svg, x - 0.1 * f->scale, y, f->scale, FHI_HANGING, 1.0);
  fhi_svg_circle(sec->svg, x, y, 1.8, (fhi_pen){NULL, 0.0, NULL, FHI_INK});
  fhi_svg_group_end(sec->svg);
}

// Forces of the strands in the hole, and what the rope runs through on the load.
static void label_hole(fhi_section *sec, const fhi_frame *f, fhi_box field) {
  const fh_check *c = sec->check;
  int seen = 0;
  for (int i = 0; i < c->strand_count; i++) {
    const fh_strand *st = &c->strands[i];
    const fhi_run *run = &sec->layout.runs[sec->layout.run_of[i]];
    if ((st->s_from >= 0.0 && st->s_to >= 0.0) || run->hole < 0) {
      continue;
    }
    char text[FHI_WORD];
    fhi_callout label = {.field = field, .font = fhi_font_bold(), .text = text, .pull_x = 44.0};
    if (!st->carries) {
      label.font = fhi_font_small();
      (void)fhi_format(text, sizeof text, fhi_say(sec->scene->language, "slack"));
    } else if (sec->solved) {
      fhi_show_force(text, sizeof text, st->tension[FH_RAISE], sec->units, sec->scene->language);
    } else {
      continue;
    }
    // Spread down the wall, the strand nearest to it lowest, so that no two lines to the labels cross.
    double part = (sec->layout.hole_count - run->hole) / (sec->layout.hole_count + 1.0);
    double s = fmax(st->s_from, st->s_to) + part * (fmin(st->s_from, st->s_to) - fmax(st->s_from, st->s_to));
    fhi_frame_point(f, s, fhi_frame_height(f, run, true), 0.0, &label.x, &label.y);
    if (!fhi_svg_callout(sec->svg, &label)) {
      sec->missed[sec->missed_count++] = i;
    }
    seen++;
  }
  for (int i = 0; i < c->contact_count; i++) {
    if (c->contacts[i].body == FH_BODY_LOAD && seen > 0) {
      char text[FHI_WORD];
      fhi_show_name(text, sizeof text, fhi_item_said(sec->scene->language, sec->gear, c->contacts[i].item), LABELS);
      fhi_callout label = {.field = field, .font = fhi_font_small(), .text = text, .pull_x = 36.0, .pull_y = 4.0};
      double middle = (fhi_frame_height(f, &sec->layout.runs[sec->layout.run_of[c->contacts[i].before]], true) +
                       fhi_frame_height(f, &sec->layout.runs[sec->layout.run_of[c->contacts[i].after]], true)) / 2.0;
      fhi_frame_point(f, sec->check->bodies[FH_BODY_LOAD].at, middle, 0.0, &label.x, &label.y);
      (void)fhi_svg_callout(sec->svg, &label);
    }
  }
}

// Where things stand in the whole.
typedef struct whole {
  fhi_frame f;
  double right;            // [pt] end of the ground
  double rise, fall;       // [pt] of the surface from the lip to there
  double panel_x, panel_y, room;  // [pt] the words
  double bottom;           // [pt]
} whole;

// The words stand in the ice, below the lowest surface above them. Where steep ground would make the figure tall, it
// ends behind the last body and the words stand beside it.
static void place_panel(const fhi_section *sec, whole *w) {
  const fhi_layout *l = &sec->layout;
  double page = sec->svg->width - FHI_MARGIN;
  double labels = l->hole_count > 0 ? LABELS : 0.0;
  double over = fmax(0.0, w->f.wx * sec->scene->depth.likely * w->f.scale);
  w->right = page;
  w->panel_x = fmin(w->f.x + 10.0 + labels + over, page - 130.0);
  double back = fmax(l->far, sec->check->bodies[FH_BODY_ANCHOR].at) + 1.0;
  double end = fmax(w->f.x + back * w->f.scale * w->f.ux, w->f.x + labels + over);
  double steep = fabs(w->f.uy / w->f.ux);
  if (sec->alone) {
    w->panel_x = page;
  }
  bool beside = !sec->alone && steep * (page - w->f.x) > STEEP && page - end > 132.0;
  if (beside) {
    w->right = end;
    w->panel_x = end + 8.0;
  }
  double drop = (w->right - w->f.x) * w->f.uy / w->f.ux;
  w->rise = fmax(0.0, -drop);
  w->fall = fmax(0.0, drop);
  w->room = page - 4.0 - w->panel_x;
  w->panel_y = beside ? 0.0 : w->fall + 14.0;
}

static void label_whole(fhi_section *sec, const whole *w, double top) {
  const fhi_frame *f = &w->f;
  double side = w->panel_x - 4.0 - FHI_MARGIN;
  label_hole(sec, f, (fhi_box){FHI_MARGIN, f->y + 4.0, side, w->bottom - f->y - 6.0});
  fhi_box sky = {FHI_MARGIN, top, sec->svg->width - 2.0 * FHI_MARGIN, f->y + w->fall - 2.0 - top};
  name_body(sec, f, FH_BODY_STATION, sky);
  name_body(sec, f, FH_BODY_ANCHOR, sky);
  for (int b = FH_BODY_FIRST_GRIP; b < sec->check->body_count; b++) {
    name_body(sec, f, b, sky);
  }
}

double fhi_draw_whole(fhi_section *sec, double top) {
  const fh_scene *s = sec->scene;
  const fhi_layout *l = &sec->layout;
  whole w = {.f = whole_frame(sec)};
  fhi_frame *f = &w.f;
  place_panel(sec, &w);
  double bundle = f->base + (l->lane_count - 1) * f->gap;
  f->y = top + 8.0 + w.rise + fmax(bundle + 12.0, PERSON * f->scale + 4.0);
  w.panel_y += f->y;
  double deep = f->y + s->depth.likely * f->scale * f->wy + fmax(1.1 * f->scale, 10.0);
  // The words are measured first: the ice under them is drawn before them.
  sec->svg->dry = true;
  w.bottom = sec->alone ? deep : fmax(deep, fhi_draw_panel(sec, w.panel_x, w.panel_y, w.room) - 2.0);
  sec->svg->dry = false;
  draw_ground(sec, f, w.right, w.bottom);
  if (!sec->alone) {
    (void)fhi_draw_panel(sec, w.panel_x, w.panel_y, w.room);
  }
  draw_sling(sec, f);
  fhi_draw_strands(sec->svg, f, l, sec->check, 3.0, 0.62);
  for (int b = FH_BODY_STATION; b < sec->check->body_count; b++) {
    draw_body(sec, f, b);
  }
  draw_load(sec, f);
  draw_crew(sec, f);
  label_whole(sec, &w, top);
  fhi_draw_scale_bar(sec->svg, FHI_MARGIN + 2.0, w.bottom + 9.0, f->scale, 70.0, sec->units);
  return w.bottom + 18.0;
}
