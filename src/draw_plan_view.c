// SPDX-License-Identifier: MIT
// What does the rig look like from above when the crew pulls at an angle to the haul line? model.md, section 5.
// Lengths and offsets are to scale; strands that lie on each other are drawn a little apart.
#include <math.h>
#include <string.h>

#include "draw_common.h"
#include "draw_layout.h"
#include "memory.h"
#include "report.h"
#include "state.h"
#include "words.h"

static const double PI = 3.14159265358979323846;
static const double HOLE = 30.0;       // [pt] of the hole that is shown
static const double ARROW = 2.5;       // [m] of the pull, off the line
static const double MOST_SCALE = 60.0; // [pt/m]
enum { ALL_FORCES = 8 };               // with more strands than this, only those at the hauling body carry their force

// Everything that changes with the angle.
typedef struct view {
  fhi_svg *svg;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  const fh_check *check;  // at this angle
  fh_units units;
  fhi_layout layout;
  double offset[FH_MAX_BODIES];  // [m] off the haul line
  fh_angle_point points[2];      // in line, and at this angle
  double angle;                  // [rad]
  bool solved;
  double x, y, scale, gap;       // [pt], [pt], [pt/m], [pt]
  double hand_x, hand_y;         // [pt] tip of the pull
} view;

// Scratch for the offsets of all grip bodies, and for the same rig at another angle.
typedef struct scratch {
  fh_rig rig;
  fhi_model model;
  fhi_motion motion;
  fhi_factors factors;
  fhi_plan_view view;
} scratch;

static fh_station *find_hand(fh_rig *rig) {
  for (int i = 0; i < rig->station_count; i++) {
    if (rig->stations[i].kind == FH_HAND) {
      return &rig->stations[i];
    }
  }
  return NULL;
}

// Where the grip bodies stand, at the likely values.
static void find_offsets(view *v, scratch *s) {
  char why[200];
  double factor[FHI_MAX_CONTACTS];
  double eta[FHI_MAX_CONTACTS];
  double share[FHI_MAX_CONTACTS];
  memset(v->offset, 0, sizeof v->offset);
  if (!v->solved || !fhi_model_compile(v->scene, v->gear, &s->rig, &s->model, why, sizeof why)) {
    return;
  }
  fhi_motion_solve(&s->rig, &s->model, &s->motion);
  if (s->motion.outcome != FH_OUTCOME_SOLVED) {
    return;
  }
  fhi_factors_fill(&s->model, v->scene, &s->factors);
  for (int c = 0; c < s->model.contact_count; c++) {
    factor[c] = s->factors.likely[c];
    eta[c] = s->model.contacts[c].eta.likely;
    share[c] = s->model.contacts[c].share.likely;
    share[c] = s->model.contacts[c].share.likely;
  }
  fhi_plan_view_solve(&s->model, &s->motion, factor, eta, share, v->angle, &s->view);
  for (int b = FH_BODY_FIRST_GRIP; b < s->model.body_count && s->view.outcome == FH_OUTCOME_SOLVED; b++) {
    v->offset[b] = round(s->view.offset[b] * 1000.0) / 1000.0;  // [m] to a millimetre, before anything is laid out
  }
}

// The rig with the pull at this angle, worked out. `check` is reused when it already is.
static fh_status work_out(view *v, const fh_check *check, scratch *s, fh_check **made) {
  s->rig = *v->rig;
  fh_station *hand = find_hand(&s->rig);
  double own = hand != NULL && fh_number_is_set(hand->angle) ? hand->angle.likely : 0.0;
  v->check = check;
  if (hand != NULL && fabs(own - v->angle) > 1e-9) {
    hand->angle = fh_number_exact(v->angle);
    fh_check_opts opts = fh_check_opts_default();
    opts.lower = false;
    fh_status status = fh_check_create(v->scene, v->gear, &s->rig, &opts, made);
    if (status != FH_OK) {
      return status;
    }
    v->check = *made;
  }
  v->solved = v->check->outcome == FH_OUTCOME_SOLVED;
  double angles[2] = {0.0, v->angle};
  fh_status status = fh_angle_curve(v->scene, v->gear, v->rig, angles, 2, v->points);
  if (status == FH_OK) {
    find_offsets(v, s);
  }
  return status;
}

// ------------------------------------------------------------------------------------------------ geometry

static double lane_off(const view *v, int run) {
  return (v->layout.runs[run].lane - 0.5 * (v->layout.lane_count - 1)) * v->gap;
}

// A strand's end: the body with its offset, and the strand's place beside the others.
static void end_point(const view *v, int strand, bool at_end, double *x, double *y) {
  const fh_strand *st = &v->check->strands[strand];
  double s = at_end ? v->layout.to[strand] : v->layout.from[strand];
  int body = at_end ? st->to : st->from;
  double off = body >= FH_BODY_FIRST_GRIP ? v->offset[body] : 0.0;
  *x = v->x + fmax(s * v->scale, -HOLE);
  *y = v->y - off * v->scale - lane_off(v, v->layout.run_of[strand]);
}

static void hand_point(const view *v, double *x, double *y) {
  int i = v->layout.hand;
  end_point(v, i, false, x, y);
  double straight = fabs(v->layout.hand_at - v->layout.from[i]);
  double c = cos(v->angle);
  double length = ARROW + (c > 0.0 ? fmax(0.0, straight - ARROW) * c * c : 0.0);
  if (v->layout.hand_dir < 0 && c > 0.0) {
    length = fmin(length, straight / c);  // nobody is drawn nearer to the edge than the reach
  }
  *x += v->layout.hand_dir * length * c * v->scale;
  *y -= length * sin(v->angle) * v->scale;
}

static bool on_surface(const view *v, int strand) {
  return v->layout.from[strand] >= 0.0 && v->layout.to[strand] >= 0.0;
}

// The scale at which everything fits across the page.
static void find_scale(view *v) {
  const fhi_layout *l = &v->layout;
  double anchor = v->check->bodies[FH_BODY_ANCHOR].at;
  double end = fmax(l->far, anchor) + 0.4;
  double from = l->hand >= 0 ? l->from[l->hand] : 0.0;
  end = fmax(end, from + ARROW * fabs(cos(v->angle)) + 0.4);
  v->scale = fmin(MOST_SCALE, floor(2.0 * (FHI_PAGE - FHI_MARGIN - v->x) / end) / 2.0);
  v->gap = fmin(4.6, 40.0 / (l->lane_count > 0 ? l->lane_count : 1));
}

// ------------------------------------------------------------------------------------------------ drawing

static void draw_ground(view *v, double top, double bottom) {
  fhi_svg *svg = v->svg;
  double right = FHI_PAGE - FHI_MARGIN;
  fhi_svg_rect(svg, (fhi_box){v->x, top, right - v->x, bottom - top}, 0.0, (fhi_pen){NULL, 0.0, NULL, FHI_ICE});
  fhi_svg_line(svg, v->x, top, v->x, bottom, (fhi_pen){FHI_ICE_EDGE, 1.4, NULL, NULL});
  fhi_svg_line(svg, v->x, v->y, right, v->y, (fhi_pen){FHI_ICE_EDGE, 0.7, "6 2 1 2", NULL});
  fhi_svg_text(svg, v->x - 5.0, top + 9.0, FHI_END, fhi_font_small(), fhi_say(v->svg->language, "hole"));
  fhi_svg_text(svg, v->x + 5.0, top + 9.0, FHI_START, fhi_font_small(), fhi_say(v->svg->language, "surface"));
}

static void draw_joint(view *v, int i) {
  const fhi_run *a = &v->layout.runs[v->layout.run_of[i]];
  fhi_path p;
  double x[2];
  double y[2];
  if (!fhi_turns_after(&v->layout, v->check, i) || !on_surface(v, i)) {
    return;
  }
  end_point(v, i, true, &x[0], &y[0]);
  end_point(v, i + 1, false, &x[1], &y[1]);
  double r = a->dir * fmin(6.0, fmax(2.5, fabs(y[1] - y[0]) / 2.0));
  fhi_path_clear(&p);
  fhi_path_move(&p, x[0], y[0]);
  fhi_path_bend(&p, x[0] + r, y[0], x[0] + r, (y[0] + y[1]) / 2.0);
  fhi_path_bend(&p, x[1] + r, y[1], x[1], y[1]);
  fhi_draw_rope(v->svg, &p, a->path, v->check->strands[i].carries && v->check->strands[i + 1].carries, 0.7);
}

static void draw_strands(view *v) {
  for (int i = 0; i < v->check->strand_count; i++) {
    double x[2];
    double y[2];
    end_point(v, i, false, &x[0], &y[0]);
    end_point(v, i, true, &x[1], &y[1]);
    if (i == v->layout.hand) {
      hand_point(v, &x[1], &y[1]);
    }
    fhi_path p;
    fhi_path_clear(&p);
    fhi_path_move(&p, x[0], y[0]);
    fhi_path_line(&p, x[1], y[1]);
    fhi_svg_group(v->svg, "strand", i);
    fhi_draw_rope(v->svg, &p, v->check->strands[i].path, v->check->strands[i].carries, 0.7);
    draw_joint(v, i);
    fhi_svg_group_end(v->svg);
    fhi_svg_avoid(v->svg, x[0], y[0], x[1], y[1], 4.0);
  }
}

// From the first to the last strand at it.
static bool body_span(const view *v, int body, double *x, double *low, double *high) {
  *low = HUGE_VAL;
  *high = -HUGE_VAL;
  for (int i = 0; i < v->check->strand_count; i++) {
    for (int e = 0; e < 2; e++) {
      if ((e == 0 ? v->check->strands[i].from : v->check->strands[i].to) == body) {
        double y = 0.0;
        end_point(v, i, e == 1, x, &y);
        *low = fmin(*low, y);
        *high = fmax(*high, y);
      }
    }
  }
  return *high >= *low;
}

static void draw_body(view *v, int body, fhi_box field) {
  const fh_body *b = &v->check->bodies[body];
  double x = v->x + b->at * v->scale;
  double low = v->y;
  double high = v->y;
  char length[FHI_WORD];
  char name[FHI_WORD];
  char text[2 * FHI_WORD];
  (void)body_span(v, body, &x, &low, &high);
  fhi_svg_group(v->svg, "body", body);
  if (b->fixed) {
    fhi_svg_rect(v->svg, (fhi_box){x - 3.0, fmin(low, v->y) - 3.0, 6.0, fmax(high, v->y) - fmin(low, v->y) + 6.0}, 1.5, (fhi_pen){FHI_PAPER, 0.8, NULL, FHI_INK});
  } else {
    fhi_svg_rect(v->svg, (fhi_box){x - 2.2, low - 2.5, 4.4, high - low + 5.0}, 2.0, (fhi_pen){FHI_PAPER, 0.8, NULL, FHI_SOFT});
  }
  fhi_svg_group_end(v->svg);
  fhi_svg_keep_out(v->svg, (fhi_box){x - 3.0, low - 3.0, 6.0, high - low + 6.0});
  fhi_show_name(name, sizeof name, fhi_end_said(v->svg->language, v->rig, body), 60.0);
  (void)fhi_format(text, sizeof text, "%s %s", name, fhi_show_length(length, sizeof length, b->at, v->units));
  fhi_callout label = {.x = x, .y = fmax(high, v->y) + 3.0, .field = field, .pull_y = 11.0, .font = {FHI_SMALL, true, FHI_INK}, .text = text};
  (void)fhi_svg_callout(v->svg, &label);
}

// The angle between line and pull, as an arc with its degrees.
static void draw_angle(view *v, fhi_box field) {
  if (!(v->angle > 0.02)) {
    return;
  }
  double x = 0.0;
  double y = 0.0;
  int steps = 24;
  double r = 30.0;
  fhi_path p;
  fhi_path_clear(&p);
  end_point(v, v->layout.hand, false, &x, &y);
  double side = v->layout.hand_dir;
  for (int i = 0; i <= steps; i++) {
    double a = v->angle * i / steps;
    if (i == 0) {
      fhi_path_move(&p, x + side * r * cos(a), y - r * sin(a));
    } else {
      fhi_path_line(&p, x + side * r * cos(a), y - r * sin(a));
      fhi_svg_avoid(v->svg, p.x[i - 1], p.y[i - 1], p.x[i], p.y[i], 4.0);
    }
  }
  fhi_svg_avoid(v->svg, x, y, x + side * (r + 8.0), y, 4.0);
  fhi_svg_line(v->svg, x, y, x + side * (r + 8.0), y, (fhi_pen){FHI_SOFT, 0.7, "2 1.5", NULL});
  fhi_svg_path(v->svg, &p, (fhi_pen){FHI_SOFT, 0.9, NULL, NULL});
  char text[FHI_WORD];
  double half = v->angle / 2.0;
  fhi_callout label = {.field = field, .font = fhi_font_main(), .text = fhi_show_angle(text, sizeof text, fh_number_exact(v->angle), v->svg->language)};
  label.x = x + side * r * cos(half);
  label.y = y - r * sin(half);
  label.pull_x = side * 15.0 * cos(half);
  label.pull_y = -10.0 * sin(half);
  (void)fhi_svg_callout(v->svg, &label);
}

static void draw_pull(view *v, fhi_box field) {
  char force[FHI_WORD];
  char text[FHI_WORD + 16];
  double x = 0.0;
  double y = 0.0;
  double x0 = 0.0;
  double y0 = 0.0;
  hand_point(v, &x, &y);
  end_point(v, v->layout.hand, false, &x0, &y0);
  double along = atan2(y - y0, x - x0);
  fhi_svg_arrow(v->svg, x + 3.0 * cos(along), y + 3.0 * sin(along), along, 10.0, FHI_INK);  // over the rope's round end
  if (!v->solved) {
    (void)fhi_copy(text, sizeof text, fhi_say(v->svg->language, "pull"));
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(v->svg->language, "pull %s"), fhi_show_likely(force, sizeof force, v->check->hand_force, v->units, v->svg->language));
  }
  fhi_callout label = {.x = x, .y = y, .field = field, .pull_y = -9.0, .font = fhi_font_bold(), .text = text};
  (void)fhi_svg_callout(v->svg, &label);
}

static void label_forces(view *v, fhi_box field) {
  const fh_check *c = v->check;
  int body = v->layout.hand >= 0 ? c->strands[v->layout.hand].from : -1;
  bool all = c->strand_count <= ALL_FORCES;
  for (int i = 0; i < c->strand_count; i++) {
    const fh_strand *st = &c->strands[i];
    if (i == v->layout.hand || !v->solved || !st->carries || !on_surface(v, i) || (!all && st->from != body && st->to != body)) {
      continue;
    }
    char text[FHI_WORD];
    double x[2];
    double y[2];
    end_point(v, i, false, &x[0], &y[0]);
    end_point(v, i, true, &x[1], &y[1]);
    fhi_show_force(text, sizeof text, st->tension[FH_RAISE], v->units, v->svg->language);
    // Lower lanes are named below, upper lanes above, so that the lines to the labels do not cross the bundle.
    double up = lane_off(v, v->layout.run_of[i]) > 0.0 ? -1.0 : 1.0;
    fhi_callout label = {.x = 0.5 * (x[0] + x[1]), .y = 0.5 * (y[0] + y[1]), .field = field, .pull_y = up * 18.0, .font = fhi_font_main(), .text = text};
    (void)fhi_svg_callout(v->svg, &label);
  }
}

static double say(view *v, double y, bool bold, const char *text) {
  fhi_font font = {8.5, bold, FHI_INK};
  return fhi_svg_paragraph(v->svg, FHI_MARGIN, y, FHI_PAGE - 2.0 * FHI_MARGIN, font, text, 3) + 12.0;
}

static double say_result(view *v, double y) {
  char a[FHI_WORD];
  char b[FHI_WORD];
  char c[FHI_WORD];
  char line[2 * FHI_SVG_TEXT];
  const fh_angle_point *p = v->points;
  if (!v->solved || p[0].outcome != FH_OUTCOME_SOLVED || p[1].outcome != FH_OUTCOME_SOLVED) {
    (void)fhi_format(line, sizeof line, fhi_say(v->svg->language, "No answer for this angle. %s"), v->check->why);
    return say(v, y, true, line);
  }
  if (!(v->angle > 1e-3)) {
    (void)fhi_format(line, sizeof line, fhi_say(v->svg->language, "Advantage %s, the pull in line."), fhi_show_number(a, sizeof a, p[1].advantage, 2));
    return say(v, y, true, line);
  }
  (void)fhi_format(line, sizeof line, fhi_say(v->svg->language, "Advantage %s at %s; in line %s."), fhi_show_number(a, sizeof a, p[1].advantage, 2),
                   fhi_show_angle(c, sizeof c, fh_number_exact(v->angle), v->svg->language), fhi_show_number(b, sizeof b, p[0].advantage, 2));
  y = say(v, y, true, line);
  int body = v->check->strands[v->layout.hand].from;
  if (body >= FH_BODY_FIRST_GRIP) {
    char name[FHI_WORD];
    fh_band off = p[1].offset;
    double per = v->units == FH_IMPERIAL ? 1.0 / 0.3048 : 1.0;
    fhi_show_name(name, sizeof name, fhi_end_said(v->svg->language, v->rig, body), 90.0);
    (void)fhi_format(line, sizeof line, fhi_say(v->svg->language, "%s stands %s %s off the line."), name,
                     fhi_show_number(a, sizeof a, (fh_band){off.lo * per, off.likely * per, off.hi * per}, 2), v->units == FH_IMPERIAL ? "ft" : "m");
    y = say(v, y, false, line);
  }
  return y;
}

static double draw_all(view *v, double top) {
  v->x = FHI_MARGIN + HOLE + 8.0;
  find_scale(v);
  double up = 0.0;
  double side = 0.5 * v->layout.lane_count * v->gap;
  if (v->layout.hand >= 0) {
    double x = 0.0;
    double y = 0.0;
    hand_point(v, &x, &y);
    up = fmax(0.0, -y);
  }
  double ground = top + 4.0;
  v->y = ground + fmax(up, side) + 44.0;
  double bottom = v->y + side + 52.0;
  draw_ground(v, ground, bottom);
  draw_strands(v);
  fhi_box field = {v->x + 3.0, ground + 2.0, FHI_PAGE - FHI_MARGIN - v->x - 5.0, bottom - ground - 4.0};
  if (v->layout.hand >= 0) {
    draw_pull(v, field);
    draw_angle(v, field);
  }
  for (int b = FH_BODY_STATION; b < v->check->body_count; b++) {
    draw_body(v, b, field);
  }
  label_forces(v, field);
  fhi_draw_scale_bar(v->svg, v->x, bottom + 8.0, v->scale, 70.0, v->units);
  double y = say_result(v, bottom + 26.0);
  y = fhi_draw_legend(v->svg, y - 6.0, v->rig, fhi_any_idle(v->check));
  return fhi_draw_footer(v->svg, y);
}

static fh_status draw_view(view *v, fh_out out) {
  fh_status status = fhi_svg_create(FHI_PAGE, v->scene->language, &v->svg);
  if (status != FH_OK) {
    return status;
  }
  char about[FHI_SVG_TEXT];
  char a[FHI_WORD];
  char b[FHI_WORD];
  fhi_layout_make(v->check, v->scene->reach.likely, &v->layout);
  double y = fhi_draw_header(v->svg, v->scene->title, fhi_say(v->svg->language, "From above, to scale. Forces while raising; strands drawn apart."));
  y = draw_all(v, y);
  (void)fhi_format(about, sizeof about, fhi_say(v->svg->language, "Plan view, to scale. The pull is at %s to the haul line. Pull %s."), fhi_show_angle(a, sizeof a, fh_number_exact(v->angle), v->svg->language),
                   v->solved ? fhi_show_likely(b, sizeof b, v->check->hand_force, v->units, v->svg->language) : fhi_say(v->svg->language, "not known"));
  return fhi_draw_end(v->svg, y, v->scene->title, about, out);
}

fh_status fh_draw_plan_view(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, double angle, fh_units units, fh_out out) {
  if (scene == NULL || gear == NULL || rig == NULL || check == NULL || out.write == NULL || !(angle >= 0.0 && angle <= 100.0 / 180.0 * PI + 1e-9)) {
    return FH_ERR_ARG;
  }
  view *v = fhi_alloc(1, sizeof *v);
  scratch *s = fhi_alloc(1, sizeof *s);
  fh_check *made = NULL;
  fh_status status = FH_ERR_MEMORY;
  if (v != NULL && s != NULL) {
    *v = (view){.scene = scene, .gear = gear, .rig = rig, .units = units, .angle = angle};
    status = work_out(v, check, s, &made);
    if (status == FH_OK) {
      status = draw_view(v, out);
    }
  }
  fh_check_destroy(made);
  fhi_free(s);
  fhi_free(v);
  return status;
}
