// SPDX-License-Identifier: MIT
// Where did everyone stand, and where does everyone come to rest? The hole and the surface cut open, to scale.
#include "draw_common.h"
#include "draw_team_cut.h"
#include "team_words.h"
#include "words.h"

#include <math.h>

static double place(const fhi_cut *c, int person) {
  const fh_fall *f = &c->team->likely;
  double at = c->team->in.at[person];
  if (f->outcome != FH_OUTCOME_SOLVED) {
    return at;
  }
  if (person == 0 || !(at - f->slide[person] > 0.0)) {
    return -1.0;
  }
  return at - f->slide[person];
}

static void draw_rope(fhi_cut *c, double deepest) {
  fhi_path p;
  double x = 0.0;
  double y = 0.0;
  fhi_path_clear(&p);
  fhi_cut_point(c, -deepest, &x, &y);
  fhi_path_move(&p, x, y);
  fhi_cut_point(c, -0.02, &x, &y);
  fhi_path_line(&p, x, y);
  for (int i = 1; i < c->team->in.people; i++) {
    if (place(c, i) > 0.0) {
      fhi_cut_point(c, place(c, i), &x, &y);
      fhi_path_line(&p, x, y);
    }
  }
  fhi_draw_rope(c->svg, &p, 0, true, 0.7);
}

// Where one stood: a ring. Where one ends: the figure of a person, and how far that is.
static void draw_people(fhi_cut *c) {
  char text[FHI_WORD];
  char a[FHI_WORD];
  for (int i = 0; i < c->team->in.people; i++) {
    double x = 0.0;
    double y = 0.0;
    fhi_cut_point(c, c->team->in.at[i], &x, &y);
    fhi_svg_circle(c->svg, x, y, 2.4, (fhi_pen){FHI_SOFT, 0.9, "1.6 1.2", FHI_PAPER});
    double at = place(c, i);
    if (at <= 0.0) {
      continue;
    }
    fhi_cut_point(c, at, &x, &y);
    fhi_draw_person(c->svg, x, y + 3.0, c->frame.scale, FHI_PULLING, 1.0);
    (void)fhi_format(text, sizeof text, fhi_say(c->svg->language, "%d: slid %s"), i + 1, fhi_show_length(a, sizeof a, c->team->likely.slide[i], c->units));
    fhi_callout label = {.x = x, .y = y - 1.7 * c->frame.scale, .field = {FHI_MARGIN, c->frame.y - 170.0, FHI_PAGE - 2.0 * FHI_MARGIN, 165.0},
                         .pull_y = -10.0, .font = fhi_font_small(), .text = text};
    (void)fhi_svg_callout(c->svg, &label);
  }
}

static void draw_first(fhi_cut *c) {
  const fh_fall *f = &c->team->likely;
  double x = 0.0;
  double y = 0.0;
  char text[2 * FHI_WORD];
  char a[FHI_WORD];
  char b[FHI_WORD];
  double deep = f->arrested ? f->fall : 7.0;
  draw_rope(c, deep);
  fhi_cut_point(c, -deep, &x, &y);
  fhi_draw_person(c->svg, x, y, c->frame.scale, FHI_HANGING, 1.0);
  if (f->arrested) {
    fh_band peak = {f->peak[0], f->peak[0], f->peak[0]};
    (void)fhi_format(text, sizeof text, fhi_say(c->svg->language, "1: %s down, rope %s"), fhi_show_length(a, sizeof a, f->fall, c->units), fhi_show_force(b, sizeof b, peak, c->units, c->svg->language));
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(c->svg->language, "1: not stopped; %d followed"), f->pulled_in);
  }
  fhi_svg_text(c->svg, fmin(x + 8.0 + 0.5 * c->frame.scale, FHI_PAGE - FHI_MARGIN - fhi_text_width(text, FHI_MAIN, true)), y, FHI_START, fhi_font_bold(), text);
}

fh_status fh_draw_team_section(const fh_scene *scene, const fh_team_result *team, fh_units units, fh_out out) {
  if (scene == NULL || team == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_cut c = {.scene = scene, .team = team, .units = units};
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &c.svg);
  if (status != FH_OK) {
    return status;
  }
  char answer[FHI_SVG_TEXT];
  char chance[2 * FHI_SVG_TEXT];
  double room = FHI_PAGE - 2.0 * FHI_MARGIN;
  double y = fhi_draw_header(c.svg, fhi_team_title(scene), fhi_say(scene->language, "Section, to scale: dashed rings where each stood, figures where each comes to rest. Likely values."));
  y = fhi_svg_paragraph(c.svg, FHI_MARGIN, y + 8.0, room, fhi_font_bold(), fhi_team_answer(team, units, scene->language, answer, sizeof answer), 3) + 4.0;
  if (fhi_team_chance_words(team, scene->language, chance, sizeof chance)[0] != '\0') {
    y = fhi_svg_paragraph(c.svg, FHI_MARGIN, y + 9.0, room, fhi_font_main(), chance, 5) + 4.0;
  }
  fhi_cut_frame(&c, y + 6.0);
  double bottom = fhi_cut_ground(&c);
  draw_people(&c);
  if (team->likely.outcome == FH_OUTCOME_SOLVED) {
    draw_first(&c);
  }
  fhi_draw_scale_bar(c.svg, FHI_MARGIN, bottom + 12.0, c.frame.scale, 90.0, units);
  y = fhi_draw_footer(c.svg, bottom + 22.0);
  return fhi_draw_end(c.svg, y, fhi_team_title(scene), answer, out);
}
