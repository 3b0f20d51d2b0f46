// SPDX-License-Identifier: MIT
// What does the rig look like where it stands, to scale, with the force in every strand? model.md, sections 1 and 4.
// Two true-to-scale parts: the whole (hole, wall, lip, surface, anchor), and the surface near the lip at a round multiple
// of its scale, where the strands are drawn apart.
#include "draw_section.h"

#include "report.h"
#include "words.h"

#include <math.h>
#include <string.h>

static const double TALLEST = 165.0;      // [pt] of the hole in the whole: the figure then stays near an A6 page
static const double TALLEST_ALONE = 112.0;  // [pt] and on a small screen, where the surface is to be in sight as well
static const double LEAST_SCALE = 4.0;    // [pt/m]
static const double MOST_SCALE = 60.0;    // [pt/m]

static double round_down(double value) {
  return fmax(LEAST_SCALE, fmin(MOST_SCALE, floor(value * 2.0) / 2.0));
}

// The name of what a rope runs through stands behind its turn. @return [pt/m] the largest scale at which the last name fits
static double room_for_names(const fhi_section *sec, double room) {
  double most = HUGE_VAL;
  for (int i = 0; i < sec->check->contact_count; i++) {
    const fh_contact *k = &sec->check->contacts[i];
    double s = sec->layout.to[k->before];
    if (k->body >= 0 && s > 0.0 && sec->layout.runs[sec->layout.run_of[k->before]].dir > 0) {
      double name = 14.0 + fhi_text_width(fhi_item_said(sec->scene->language, sec->gear, k->item), FHI_SMALL, false);
      most = fmin(most, fmax(room - name, 0.5 * room) / s);
    }
  }
  return most;
}

static const double SHARED = 0.05;  // [m] nearer than that station and anchor are one

double fhi_sling_length(const fh_check *check) {
  double length = check->bodies[FH_BODY_ANCHOR].at - check->bodies[FH_BODY_STATION].at;
  return length > SHARED ? length : 0.0;
}

void fhi_section_scale(fhi_section *sec) {
  static const double TIMES[] = {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 30.0, 40.0, 60.0};
  const fhi_layout *l = &sec->layout;
  double anchor = sec->check->bodies[FH_BODY_ANCHOR].at;
  sec->end = l->far + 0.5;
  if (anchor < 1.2 * sec->end + 0.5) {
    sec->end = fmax(sec->end, anchor + 0.5);
  }
  sec->start = 58.0;
  double page = sec->svg == NULL ? FHI_PAGE : sec->svg->width;  // a sheet asks for the scale before there is a page
  double room = page - FHI_MARGIN - sec->start;
  sec->scale = round_down(fmin(room / sec->end, room_for_names(sec, room)));
  sec->end = room / sec->scale;

  // The whole must fit beside its margin and stay within the page's height.
  double slope = sec->scene->slope.likely;
  double into = -cos(slope + sec->scene->lip_turn.likely);
  double deep = sec->scene->depth.likely;
  double back = fmax(anchor, l->far) + 1.0;
  double wide = back * cos(slope) + fmax(0.0, -into * deep) + 3.0;
  double tall = deep * fabs(sin(slope + sec->scene->lip_turn.likely)) + 1.5;
  sec->times = 60.0;
  for (size_t i = 0; i < sizeof TIMES / sizeof TIMES[0]; i++) {
    double scale = sec->scale / TIMES[i];
    if (tall * scale <= (sec->alone ? TALLEST_ALONE : TALLEST) && wide * scale <= page - 2.0 * FHI_MARGIN) {
      sec->times = TIMES[i];
      break;
    }
  }
}

// A line of the panel: what it is, bold, then the figure. Breaks into as many lines as it takes.
static double say(fhi_section *sec, double x, double y, double room, bool bold, const char *text) {
  fhi_font font = fhi_font_main();
  font.size = bold ? FHI_MAIN : 8.5;
  font.bold = bold;
  return fhi_svg_paragraph(sec->svg, x, y, room, font, text, 4) + 12.0;
}

static double say_load(fhi_section *sec, double x, double y, double room) {
  char a[FHI_WORD];
  char b[FHI_WORD];
  char line[2 * FHI_SVG_TEXT];
  const fh_scene *s = sec->scene;
  (void)fhi_format(line, sizeof line, fhi_say(sec->scene->language, "Load %s, %s down, %s"), fhi_show_mass(a, sizeof a, s->load_mass, sec->units, sec->scene->language),
                   fhi_show_length(b, sizeof b, -sec->check->bodies[FH_BODY_LOAD].at, sec->units), s->load_helps ? fhi_say(sec->scene->language, "helps") : fhi_say(sec->scene->language, "does not help"));
  return say(sec, x, y, room, false, line);
}

static double say_lip(fhi_section *sec, double x, double y, double room) {
  char turn[FHI_WORD];
  char line[2 * FHI_SVG_TEXT];
  const fh_scene *s = sec->scene;
  y = say(sec, x, y, room, false, fhi_show_lip(line, sizeof line, s, sec->gear, sec->units));
  if (fabs(s->slope.likely) > 1e-6) {
    bool falls = s->slope.likely < 0.0;
    fh_number slope = s->slope;
    if (falls) {
      slope.lo = -s->slope.hi;
      slope.likely = -s->slope.likely;
      slope.hi = -s->slope.lo;
    }
    (void)fhi_format(line, sizeof line, fhi_say(sec->scene->language, "Ground %s %s from the lip back"), falls ? fhi_say(sec->scene->language, "falls") : fhi_say(sec->scene->language, "rises"), fhi_show_angle(turn, sizeof turn, slope, sec->scene->language));
    y = say(sec, x, y, room, false, line);
  }
  return y;
}

static double say_result(fhi_section *sec, double x, double y, double room) {
  static const char *const ANSWERS[] = {"This crew: no", "This crew: not sure", "This crew: yes, over the ranges given"};
  char a[FHI_WORD];
  char line[2 * FHI_SVG_TEXT];
  const fh_check *c = sec->check;
  (void)fhi_format(line, sizeof line, fhi_say(sec->scene->language, "Pull %s"), fhi_show_likely(a, sizeof a, c->hand_force, sec->units, sec->scene->language));
  y = say(sec, x, y, room, true, line);
  char ideal[FHI_WORD];
  fhi_show_trimmed(ideal, sizeof ideal, c->ideal_advantage, 2);
  (void)fhi_format(line, sizeof line, fhi_say(sec->scene->language, "Advantage %s (ideal %s)"), fhi_show_number(a, sizeof a, c->actual_advantage, 1), ideal);
  y = say(sec, x, y, room, false, line);
  if (isfinite(c->crew.force.lo) && isfinite(c->crew.force.hi)) {
    (void)fhi_format(line, sizeof line, fhi_say(sec->scene->language, "Crew can pull %s"), fhi_show_likely(a, sizeof a, c->crew.force, sec->units, sec->scene->language));
    y = say(sec, x, y, room, false, line);
    y = say(sec, x, y, room, true, fhi_say(sec->scene->language, ANSWERS[fhi_check_answer(c)]));
  }
  return y;
}

double fhi_draw_panel(fhi_section *sec, double x, double y, double room) {
  y = say_load(sec, x, y, room);
  y = say_lip(sec, x, y, room);
  if (sec->solved) {
    return say_result(sec, x, y, room);
  }
  char line[2 * FHI_SVG_TEXT];
  (void)fhi_format(line, sizeof line, fhi_say(sec->scene->language, "Does not work: %s"), sec->check->why);
  return say(sec, x, y, room, true, line);
}

// The figure in words, for those who do not see it: strand by strand.
static void describe(const fhi_section *sec, char *to, size_t size) {
  char a[FHI_WORD];
  const fh_check *c = sec->check;
  (void)fhi_format(to, size, fhi_say(sec->scene->language, "Section through hole, lip and surface, to scale. "));
  size_t used = strlen(to);
  for (int i = 0; i < c->strand_count && size - used > 240; i++) {
    const fh_strand *st = &c->strands[i];
    char path[FH_NAME];
    char from[FH_NAME];
    char end[FH_NAME];
    fhi_text_clean(path, sizeof path, fhi_given_said(sec->scene->language, sec->rig->paths[st->path].name));
    fhi_text_clean(from, sizeof from, fhi_end_said(sec->scene->language, sec->rig, st->from));
    fhi_text_clean(end, sizeof end, fhi_end_said(sec->scene->language, sec->rig, st->to));
    const char *force = !st->carries ? fhi_say(sec->scene->language, "carries nothing") : sec->solved ? fhi_show_force(a, sizeof a, st->tension[FH_RAISE], sec->units, sec->scene->language) : fhi_say(sec->scene->language, "force not known");
    (void)fhi_format(to + used, size - used, fhi_say(sec->scene->language, "Rope %s, %s to %s: %s. "), path, from, end, force);
    used += strlen(to + used);
  }
}

static void make_heading(const fhi_section *sec, char *to, size_t size) {
  if (!sec->solved) {
    (void)fhi_format(to, size, fhi_say(sec->scene->language, "Section, to scale. No forces: this rig does not work."));
    return;
  }
  (void)fhi_format(to, size, fhi_say(sec->scene->language, "Section, to scale. Forces in %s while raising, lowest to highest%s; in all: raising or holding, the station's too."), sec->units == FH_IMPERIAL ? "lbf" : "N",
                   sec->check->interval_exact ? "" : fhi_say(sec->scene->language, " found in a sample"));
}

// Forces that found no room beside their strand are said in words: none is left out.
static double draw_missed(fhi_section *sec, double y) {
  for (int k = 0; k < sec->missed_count; k++) {
    char force[FHI_WORD];
    char text[2 * FHI_SVG_TEXT];
    const fh_strand *st = &sec->check->strands[sec->missed[k]];
    if (!st->carries || !sec->solved) {
      continue;
    }
    (void)fhi_format(text, sizeof text, fhi_say(sec->scene->language, "Rope %s, %s to %s: %s"), fhi_given_said(sec->scene->language, sec->rig->paths[st->path].name), fhi_end_said(sec->scene->language, sec->rig, st->from),
                     fhi_end_said(sec->scene->language, sec->rig, st->to), fhi_show_force(force, sizeof force, st->tension[FH_RAISE], sec->units, sec->scene->language));
    y = fhi_svg_paragraph(sec->svg, FHI_MARGIN, y + 11.0, sec->svg->width - 2.0 * FHI_MARGIN, fhi_font_main(), text, 2);
  }
  return y + (sec->missed_count > 0 ? 3.0 : 0.0);
}

// What the check warns of, worst first: a figure may be all that a reader sees.
static double draw_notes(fhi_section *sec, double y) {
  enum { MOST_NOTES = 3 };
  int shown = 0;
  for (int level = FH_NOTE_NO; level >= FH_NOTE_WARN; level--) {
    for (int i = 0; i < sec->check->note_count && shown < MOST_NOTES; i++) {
      if ((int)sec->check->notes[i].level != level) {
        continue;
      }
      char said[FHI_SVG_TEXT];
      char text[FHI_SVG_TEXT];
      (void)fhi_format(text, sizeof text, "%s %s", level == FH_NOTE_NO ? fhi_say(sec->scene->language, "No:") : fhi_say(sec->scene->language, "Note:"),
                       fhi_said(said, sizeof said, sec->check->notes[i].text, sec->units));
      fhi_font font = {8.0, level == FH_NOTE_NO, FHI_WARN};
      y = fhi_svg_paragraph(sec->svg, FHI_MARGIN, y + 10.0, sec->svg->width - 2.0 * FHI_MARGIN, font, text, 3) + 1.0;
      shown++;
    }
  }
  return y + (shown > 0 ? 4.0 : 0.0);
}

// The scale of the rig at rest holds while it moves, unless what has moved would not fit.
static void fit_moved(fhi_section *sec, const fh_check *rest) {
  double reach = sec->scene->reach.likely;
  fhi_layout_make(rest, reach, &sec->layout);
  fhi_section_scale(sec);
  if (sec->check != rest) {
    fhi_section still = *sec;
    fhi_layout_make(sec->check, reach, &sec->layout);
    fhi_section_scale(sec);
    if (still.scale <= sec->scale) {
      sec->scale = still.scale;
      sec->times = still.times;
      sec->end = still.end;
    }
  }
}

fh_status fh_draw_section(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_units units, fh_out out) {
  return fhi_draw_section_moved(scene, gear, rig, check, check, FHI_PAGE, false, units, out);
}

fh_status fhi_draw_section_moved(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *rest, const fh_check *check,
                                 double width, bool quiet, fh_units units, fh_out out) {
  if (scene == NULL || gear == NULL || rig == NULL || rest == NULL || check == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_svg *svg = NULL;
  fh_status status = fhi_svg_create(width, scene->language, &svg);
  if (status != FH_OK) {
    return status;
  }
  svg->quiet = quiet;
  fhi_section sec = {.svg = svg, .scene = scene, .gear = gear, .rig = rig, .check = check, .units = units};
  sec.alone = width < FHI_PAGE;
  sec.solved = check->outcome == FH_OUTCOME_SOLVED;
  fit_moved(&sec, rest);
  char heading[FHI_SVG_TEXT];
  make_heading(&sec, heading, sizeof heading);
  double y = sec.alone ? fhi_svg_paragraph(svg, FHI_MARGIN, 10.0, width - 2.0 * FHI_MARGIN, fhi_font_small(), heading, 3) : fhi_draw_header(svg, scene->title, heading);
  y = fhi_draw_whole(&sec, y);
  y = fhi_draw_surface(&sec, y);
  y = fhi_draw_legend(svg, y, rig, fhi_any_idle(check));
  y = draw_missed(&sec, y);
  y = sec.alone ? y + 4.0 : fhi_draw_footer(svg, draw_notes(&sec, y) + 1.0);
  char about[6000];
  describe(&sec, about, sizeof about);
  return fhi_draw_end(svg, y, scene->title, about, out);
}
