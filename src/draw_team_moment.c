// SPDX-License-Identifier: MIT
// Where is everyone at one moment of the fall? The section of draw_team_section.c at that time, always to the same scale, without
// a heading: for a playback, whose frames must not jump.
#include "draw_common.h"
#include "draw_team_cut.h"
#include "team_words.h"
#include "words.h"

#include <math.h>

static const double LABELS = 30.0;  // [pt] above the surface's highest person, for what stands beside them

typedef struct moment {
  fhi_cut cut;
  double at[FH_MAX_PEOPLE];  // [m]
  double pull;               // [N] in the first piece of rope, hole side
  bool over;                 // nobody is left to hold: how deep it goes on is not known
} moment;

// Between two points of the trace everything goes on straight.
static void read_moment(const fh_team_result *team, double time, moment *m) {
  const fh_fall_trace *t = &team->trace;
  int i = 1;
  while (i < t->count - 1 && t->time[i] < time) {
    i++;
  }
  double width = t->time[i] - t->time[i - 1];
  double part = width > 0.0 ? fmax(0.0, fmin(1.0, (time - t->time[i - 1]) / width)) : 1.0;
  for (int k = 0; k < team->in.people; k++) {
    m->at[k] = t->at[i - 1][k] + part * (t->at[i][k] - t->at[i - 1][k]);
  }
  m->over = !team->likely.arrested && !(time < t->time[t->count - 1]);
  m->pull = t->hole[i - 1][0] + part * (t->hole[i][0] - t->hole[i - 1][0]);
}

// Nobody is drawn deeper than the page shows; the words say how deep.
static double shown(const moment *m, double at) {
  return fmax(at, 1.0 - m->cut.depth);
}

static void draw_rope(moment *m) {
  fhi_path p;
  double x = 0.0;
  double y = 0.0;
  fhi_path_clear(&p);
  fhi_cut_point(&m->cut, shown(m, m->at[0]), &x, &y);
  fhi_path_move(&p, x, y);
  for (int i = 1; i < m->cut.team->in.people; i++) {
    if (m->at[i - 1] < 0.0 && m->at[i] > 0.0) {
      fhi_cut_point(&m->cut, -0.02, &x, &y);
      fhi_path_line(&p, x, y);
    }
    fhi_cut_point(&m->cut, shown(m, m->at[i]), &x, &y);
    fhi_path_line(&p, x, y);
  }
  fhi_draw_rope(m->cut.svg, &p, 0, true, 0.7);
}

// Knots sit at their share of the piece that they are tied in.
static void draw_knots(const moment *m) {
  const fh_fall_in *in = &m->cut.team->in;
  for (int k = 0; k < in->knots; k++) {
    double along = in->knot_first + k * in->knot_apart;
    for (int i = 0; i + 1 < in->people; i++) {
      double length = in->at[i + 1] - in->at[i] + in->slack;
      if (along <= length) {
        double x = 0.0;
        double y = 0.0;
        double at = m->at[i] + along / length * (m->at[i + 1] - m->at[i]);
        fhi_cut_point(&m->cut, shown(m, at), &x, &y);
        fhi_svg_circle(m->cut.svg, x, y, 1.7, (fhi_pen){FHI_INK, 0.6, NULL, FHI_INK});
        break;
      }
      along -= length;
    }
  }
}

static void draw_standing(const moment *m, int person) {
  const fhi_cut *c = &m->cut;
  double x = 0.0;
  double y = 0.0;
  char text[FHI_WORD];
  char a[FHI_WORD];
  fhi_cut_point(c, m->at[person], &x, &y);
  fhi_draw_person(c->svg, x, y + 3.0, c->frame.scale, FHI_PULLING, 1.0);
  (void)fhi_format(text, sizeof text, fhi_say(c->svg->language, "%d: slid %s"), person + 1, fhi_show_length(a, sizeof a, fmax(0.0, c->team->in.at[person] - m->at[person]), c->units));
  fhi_callout label = {.x = x, .y = y - 1.7 * c->frame.scale, .field = {FHI_MARGIN, 2.0, FHI_PAGE - 2.0 * FHI_MARGIN, c->frame.y - 4.0},
                       .pull_y = -10.0, .font = fhi_font_small(), .text = text};
  (void)fhi_svg_callout(c->svg, &label);
}

static void draw_hanging(const moment *m, int person) {
  const fhi_cut *c = &m->cut;
  double x = 0.0;
  double y = 0.0;
  fhi_cut_point(c, shown(m, m->at[person]), &x, &y);
  fhi_draw_person(c->svg, x, y, c->frame.scale, FHI_HANGING, 1.0);
  if (person == 0) {
    char text[2 * FHI_WORD];
    char a[FHI_WORD];
    char b[FHI_WORD];
    if (m->over) {
      (void)fhi_format(text, sizeof text, fhi_say(c->svg->language, "1: not stopped; %d followed"), c->team->likely.pulled_in);
    } else {
      (void)fhi_format(text, sizeof text, fhi_say(c->svg->language, "1: %s down, rope %s"), fhi_show_length(a, sizeof a, fmax(0.0, -m->at[0]), c->units),
                       fhi_show_force(b, sizeof b, (fh_band){m->pull, m->pull, m->pull}, c->units, c->svg->language));
    }
    // Beside the person, under the surface.
    y = fmax(y, c->frame.y + 14.0);
    fhi_svg_text(c->svg, fmin(x + 8.0 + 0.5 * c->frame.scale, FHI_PAGE - FHI_MARGIN - fhi_text_width(text, FHI_MAIN, true)), y, FHI_START, fhi_font_bold(), text);
  }
}

static void draw_people(const moment *m) {
  const fhi_cut *c = &m->cut;
  for (int i = 0; i < c->team->in.people; i++) {
    double x = 0.0;
    double y = 0.0;
    fhi_cut_point(c, c->team->in.at[i], &x, &y);
    fhi_svg_circle(c->svg, x, y, 2.4, (fhi_pen){FHI_SOFT, 0.9, "1.6 1.2", FHI_PAPER});
    if (i > 0 && m->at[i] > 0.0) {
      draw_standing(m, i);
    } else {
      draw_hanging(m, i);
    }
  }
}

fh_status fh_draw_team_moment(const fh_scene *scene, const fh_team_result *team, double time, fh_units units, fh_out out) {
  if (scene == NULL || team == NULL || out.write == NULL || team->trace.count < 2 || !(time >= 0.0)) {
    return FH_ERR_ARG;
  }
  moment m = {.cut = {.scene = scene, .team = team, .units = units}};
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &m.cut.svg);
  if (status != FH_OK) {
    return status;
  }
  char text[FHI_SVG_TEXT];
  char a[40];
  read_moment(team, time, &m);
  fhi_cut_frame(&m.cut, LABELS);
  double bottom = fhi_cut_ground(&m.cut);
  draw_rope(&m);
  draw_knots(&m);
  draw_people(&m);
  fhi_draw_scale_bar(m.cut.svg, FHI_MARGIN, bottom + 12.0, m.cut.frame.scale, 90.0, units);
  (void)fhi_format(text, sizeof text, "%s s", fhi_fixed(a, sizeof a, fmin(time, team->trace.time[team->trace.count - 1]), 2));
  fhi_svg_text(m.cut.svg, FHI_PAGE - FHI_MARGIN, bottom + 13.0, FHI_END, fhi_font_bold(), text);
  return fhi_draw_end(m.cut.svg, bottom + 20.0, fhi_team_title(scene), fhi_team_answer(team, units, scene->language, text, sizeof text), out);
}
