// SPDX-License-Identifier: MIT
// Where is each member of the team, and how hard does each piece of rope pull, over time? Two plots on one axis of time.
#include "draw_chart.h"
#include "draw_common.h"
#include "team_words.h"
#include "words.h"

#include <math.h>

static const double PATHS = 150.0;   // [pt] height of the plot of places
static const double FORCES = 110.0;  // [pt] and of forces
static const double FOOT = 0.3048;
static const double POUND_FORCE = 4.4482216152605;

typedef struct picture {
  fhi_svg *svg;
  const fh_team_result *team;
  fh_units units;
  fhi_chart chart;
  double per;  // shown unit per SI unit
} picture;

static double last_time(const fh_fall_trace *t) {
  return fmax(0.5, t->time[t->count - 1]);
}

static fhi_chart make_chart(const picture *p, double y, double height, double lo, double hi) {
  double time = last_time(&p->team->trace);
  double step = fhi_chart_step(hi - lo, 6);
  double x_step = fhi_chart_step(time, 8);
  return (fhi_chart){.area = {FHI_MARGIN + 26.0, y, FHI_PAGE - 2.0 * FHI_MARGIN - 50.0, height},
                     .x_lo = 0.0, .x_hi = time, .x_step = x_step, .x_decimals = x_step < 1.0 ? 1 : 0, .x_unit = "",
                     .y_lo = floor(lo / step) * step, .y_hi = ceil(hi / step + 1e-9) * step, .y_step = step, .y_decimals = step < 1.0 ? 1 : 0,
                     .x_title = fhi_say(p->svg->language, "time, s")};
}

// A column of the trace as a line; the path's room is what thins it.
static void draw_column(picture *p, const double *first, int index) {
  const fh_fall_trace *t = &p->team->trace;
  fhi_path path;
  fhi_path_clear(&path);
  int every = t->count / (FHI_PATH_POINTS - 2) + 1;
  for (int n = 0; n < t->count; n += every) {
    double x = fhi_chart_x(&p->chart, t->time[n]);
    double value = fmax(p->chart.y_lo, fmin(p->chart.y_hi, first[(size_t)n * FH_MAX_PEOPLE] * p->per));
    double y = fhi_chart_y(&p->chart, value);
    if (n == 0) {
      fhi_path_move(&path, x, y);
    } else {
      fhi_path_line(&path, x, y);
    }
  }
  fhi_svg_group(p->svg, "line", index);
  fhi_draw_rope(p->svg, &path, index, true, 0.55);
  fhi_svg_group_end(p->svg);
}

// The names stand at the right end of their lines, moved apart where those meet.
static void name_lines(picture *p, const double *ends, int count, const char *const *names) {
  double y[FH_MAX_PEOPLE];
  for (int i = 0; i < count; i++) {
    double value = fmax(p->chart.y_lo, fmin(p->chart.y_hi, ends[i] * p->per));
    y[i] = fhi_chart_y(&p->chart, value) + 2.5;
  }
  // From the top down each keeps its distance from the one above.
  for (int pass = 0; pass < count; pass++) {
    for (int i = 0; i < count; i++) {
      for (int k = 0; k < count; k++) {
        if (i != k && (y[k] < y[i] || (y[k] <= y[i] && k < i)) && y[i] - y[k] < 8.5) {
          y[i] = y[k] + 8.5;
        }
      }
    }
  }
  for (int i = 0; i < count; i++) {
    fhi_svg_text(p->svg, p->chart.area.x + p->chart.area.w + 3.0, y[i], FHI_START, fhi_font_small(), names[i]);
  }
}

static const char *const PEOPLE[FH_MAX_PEOPLE] = {"1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th", "10th", "11th", "12th"};
static const char *const PIECES[FH_MAX_PEOPLE] = {"1\xE2\x80\x93" "2", "2\xE2\x80\x93" "3", "3\xE2\x80\x93" "4", "4\xE2\x80\x93" "5", "5\xE2\x80\x93" "6", "6\xE2\x80\x93" "7",
                                                  "7\xE2\x80\x93" "8", "8\xE2\x80\x93" "9", "9\xE2\x80\x93" "10", "10\xE2\x80\x93" "11", "11\xE2\x80\x93" "12", ""};

static double draw_paths(picture *p, double y) {
  const fh_fall_trace *t = &p->team->trace;
  int people = p->team->in.people;
  double lo = 0.0;
  for (int n = 0; n < t->count; n++) {
    lo = fmin(lo, t->at[n][0]);
  }
  p->per = p->units == FH_IMPERIAL ? 1.0 / FOOT : 1.0;
  // A fall that is not held would go on for ever: no deeper than half the team's length.
  lo = fmax(lo, -0.5 * p->team->in.at[people - 1] - 4.0);
  p->chart = make_chart(p, y + 16.0, PATHS, lo * p->per, p->team->in.at[people - 1] * p->per);
  p->chart.y_title = p->units == FH_IMPERIAL ? fhi_say(p->svg->language, "ft along the rope's line; below 0 in the hole")
                                             : fhi_say(p->svg->language, "m along the rope's line; below 0 in the hole");
  fhi_chart_axes(p->svg, &p->chart);
  double lip = fhi_chart_y(&p->chart, 0.0);
  fhi_box a = p->chart.area;
  fhi_svg_rect(p->svg, (fhi_box){a.x, lip, a.w, a.y + a.h - lip}, 0.0, (fhi_pen){NULL, 0.0, NULL, FHI_ICE});
  fhi_svg_line(p->svg, a.x, lip, a.x + a.w, lip, (fhi_pen){FHI_INK, 1.0, NULL, NULL});
  fhi_svg_text(p->svg, a.x + 3.0, lip + 8.5, FHI_START, fhi_font_small(), fhi_say(p->svg->language, "lip"));
  double ends[FH_MAX_PEOPLE];
  for (int i = 0; i < people; i++) {
    draw_column(p, &t->at[0][i], i);
    ends[i] = t->at[t->count - 1][i];
  }
  name_lines(p, ends, people, PEOPLE);
  return a.y + a.h + 34.0;
}

static double draw_forces(picture *p, double y) {
  const fh_fall_trace *t = &p->team->trace;
  int pieces = p->team->in.people - 1;
  double most = 1.0;
  for (int j = 0; j < pieces; j++) {
    most = fmax(most, p->team->likely.outcome == FH_OUTCOME_SOLVED ? p->team->likely.peak[j] : 1.0);
  }
  p->per = p->units == FH_IMPERIAL ? 1.0 / POUND_FORCE : 1.0;
  p->chart = make_chart(p, y + 16.0, FORCES, 0.0, 1.05 * most * p->per);
  p->chart.y_title = p->units == FH_IMPERIAL ? fhi_say(p->svg->language, "pull of each piece of rope toward the hole, lbf") : fhi_say(p->svg->language, "pull of each piece of rope toward the hole, N");
  fhi_chart_axes(p->svg, &p->chart);
  double ends[FH_MAX_PEOPLE];
  for (int j = 0; j < pieces; j++) {
    draw_column(p, &t->hole[0][j], j + 1);
    ends[j] = t->hole[t->count - 1][j];
  }
  name_lines(p, ends, pieces, PIECES);
  return p->chart.area.y + p->chart.area.h + 34.0;
}

fh_status fh_draw_team_paths(const fh_scene *scene, const fh_team_result *team, fh_units units, fh_out out) {
  if (scene == NULL || team == NULL || out.write == NULL || team->trace.count < 2) {
    return FH_ERR_ARG;
  }
  picture p = {.team = team, .units = units};
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &p.svg);
  if (status != FH_OK) {
    return status;
  }
  char text[FHI_SVG_TEXT];
  char chance[2 * FHI_SVG_TEXT];
  double room = FHI_PAGE - 2.0 * FHI_MARGIN;
  double y = fhi_draw_header(p.svg, fhi_team_title(scene), fhi_say(scene->language, "One falls in: everyone's path, and the pull of the rope, over time. Likely values."));
  y = fhi_svg_paragraph(p.svg, FHI_MARGIN, y + 8.0, room, fhi_font_bold(), fhi_team_answer(team, units, scene->language, text, sizeof text), 3) + 4.0;
  if (fhi_team_chance_words(team, scene->language, chance, sizeof chance)[0] != '\0') {
    y = fhi_svg_paragraph(p.svg, FHI_MARGIN, y + 9.0, room, fhi_font_main(), chance, 5) + 4.0;
  }
  y = draw_paths(&p, y);
  y = draw_forces(&p, y);
  y = fhi_draw_footer(p.svg, y);
  char about[2 * FHI_SVG_TEXT];
  (void)fhi_format(about, sizeof about, "%s %s", text, chance);
  return fhi_draw_end(p.svg, y, fhi_team_title(scene), about, out);
}
