// SPDX-License-Identifier: MIT
// What does a team read off before it sets out? Order, lengths to measure off, knots, who carries what, and for each one who
// may fall the rig with which the others raise: plan is asked with the kit that is then still at hand.
#include "draw_common.h"
#include "memory.h"
#include "report.h"
#include "team_words.h"
#include "text.h"
#include "trip.h"
#include "words.h"

#include <math.h>
#include <string.h>

// [m] of an arm span, fingertip to fingertip: people differ, so the sheet tells to measure one's own. 8 spans for 12 to 14 m is
// taught (a guide's teaching site).
static const double SPAN = 1.6;

typedef struct sheet {
  fhi_svg *svg;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_team_result *team;
  fh_units units;
  double room;  // [pt]
  fhi_trip trip;
  char about[12000];
} sheet;

enum { MOST_SAID = 2000, MOST_LINES = 20 };  // a rig of many pieces, in the longest language

static double say(sheet *s, double y, fhi_font font, double indent, const char *text) {
  char said[MOST_SAID];
  size_t used = strlen(s->about);
  (void)fhi_said(said, sizeof said, text, s->units);  // fixed phrases and reasons are made metric
  (void)fhi_format(s->about + used, sizeof s->about - used, "%s ", said);
  return fhi_svg_paragraph(s->svg, FHI_MARGIN + indent, y + 1.35 * font.size, s->room - indent, font, said, MOST_LINES);
}

static double head(sheet *s, double y, const char *text) {
  fhi_font font = {10.0, true, FHI_INK};
  y = say(s, y + 4.0, font, 0.0, text) + 3.0;
  fhi_svg_line(s->svg, FHI_MARGIN, y, FHI_PAGE - FHI_MARGIN, y, (fhi_pen){FHI_FAINT, 0.5, NULL, NULL});
  return y;
}

// "12.3 m, 7½ arm spans": to the nearest half.
static const char *measure(const sheet *s, double length, char *to, size_t size) {
  char a[FHI_WORD];
  double halves = floor(2.0 * length / SPAN + 0.5);
  int whole = (int)(halves / 2.0);
  bool half = halves - 2.0 * whole > 0.5;
  char spans[16] = "";
  if (whole > 0 || !half) {
    (void)fhi_format(spans, sizeof spans, "%d", whole);
  }
  (void)fhi_format(to, size, fhi_say(s->svg->language, "%s (%s%s arm spans)"), fhi_show_length(a, sizeof a, length, s->units), spans, half ? "\xC2\xBD" : "");
  return to;
}

static double say_order(sheet *s, double y) {
  char text[FHI_SVG_TEXT];
  char a[FHI_WORD];
  char b[FHI_WORD];
  const fh_team *t = &s->scene->team;
  y = head(s, y, fhi_say(s->svg->language, "Order and spacing"));
  for (int i = 0; i < t->people_count; i++) {
    fhi_show_mass(a, sizeof a, t->people[i].mass, s->units, s->svg->language);
    if (i == 0) {
      (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "1: %s, goes first"), a);
    } else {
      double piece = s->team->in.at[i] - s->team->in.at[i - 1] + s->team->in.slack;
      (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "%d: %s; rope from %d to %d: %s"), i + 1, a, i, i + 1, measure(s, piece, b, sizeof b));
    }
    y = say(s, y, fhi_font_main(), 0.0, text);
  }
  (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "An arm span is taken as %s: measure your own. Lengths are rope between tie-ins, with %s of slack."),
                   fhi_show_length(a, sizeof a, SPAN, s->units), fhi_show_length(b, sizeof b, s->team->in.slack, s->units));
  return say(s, y, fhi_font_small(), 0.0, text);
}

// To a tenth of the unit that is shown. [m]
static double tenth(double length, fh_units units) {
  double unit = units == FH_IMPERIAL ? 0.3048 : 1.0;
  return floor(10.0 * length / unit + 0.5) / 10.0 * unit;
}

// Where either end may fall, the last strand counts from the last one. What is shown adds up to the strand's rope.
static double say_strand_knots(sheet *s, double y, int front) {
  enum { IN_A_LINE = 6 };
  char text[FHI_SVG_TEXT];
  char a[FHI_WORD];
  const fh_fall_in *in = &s->team->in;
  bool last = front > 0 && front + 2 == in->people;
  int from = last ? front + 2 : front + 1;
  int to = last ? front + 1 : front + 2;
  double at = 0.0;
  (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "From the tie-in of %d toward %d: "), from, to);
  for (int k = 0; k < in->knots; k++) {
    if (k > 0 && k % IN_A_LINE == 0) {
      y = say(s, y, fhi_font_main(), 0.0, text);
      text[0] = '\0';
    }
    at = in->knot_first + k * in->knot_apart;
    size_t used = strlen(text);
    (void)fhi_format(text + used, sizeof text - used, "%s%s", measure(s, at, a, sizeof a), k + 1 < in->knots ? ", " : "");
  }
  double rest = tenth(in->at[front + 1] - in->at[front] + in->slack, s->units) - tenth(at, s->units);
  if (rest > 0.0) {
    size_t used = strlen(text);
    (void)fhi_format(text + used, sizeof text - used, fhi_say(s->svg->language, "; from the last knot to %d: %s"), to, fhi_show_length(a, sizeof a, rest, s->units));
  }
  return say(s, y, fhi_font_main(), 0.0, text);
}

static double say_knots(sheet *s, double y) {
  char text[FHI_SVG_TEXT];
  char a[FHI_WORD];
  char b[FHI_WORD];
  char c[FHI_WORD];
  const fh_fall_in *in = &s->team->in;
  y = head(s, y, fhi_say(s->svg->language, "Brake knots"));
  if (in->knots == 0) {
    return say(s, y, fhi_font_main(), 0.0, fhi_say(s->svg->language, "None."));
  }
  for (int i = 0; i + 1 < in->people; i++) {
    y = say_strand_knots(s, y, i);
  }
  y = say(s, y, fhi_font_small(), 0.0,
          fhi_say(s->svg->language, "Measured along the rope with the knots tied; each takes about 1 m of rope. Knots in the loaded strand stop a haul on it: keep a free end."));
  fh_number catches = s->scene->team.knot_catch;
  fh_number ploughs = s->scene->team.knot_plough;
  if (!(ploughs.hi > 0.0)) {
    (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "Above, a knot is taken to hold %s and then to give way at once: nobody has measured it."),
                     fhi_show_force(a, sizeof a, fh_number_band(catches), s->units, s->svg->language));
    return say(s, y, fhi_font_small(), 0.0, text);
  }
  (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "Above, a knot is taken to hold %s and to plough %s to %s through the lip while it does: nobody has measured it."),
                   fhi_show_force(a, sizeof a, fh_number_band(catches), s->units, s->svg->language), fhi_show_length(b, sizeof b, ploughs.lo, s->units),
                   fhi_show_length(c, sizeof c, ploughs.hi, s->units));
  return say(s, y, fhi_font_small(), 0.0, text);
}

// A sum of what is shown: the last one's coils take up the rounding.
static double say_rope(sheet *s, double y) {
  char text[FHI_SVG_TEXT];
  char shown[6][FHI_WORD];
  const fh_budget_out *out = &s->trip.budget;
  const fh_fall_in *in = &s->team->in;
  y = head(s, y, fhi_say(s->svg->language, "Rope in the coils"));
  if (!s->trip.has_budget) {
    return say(s, y, fhi_font_main(), 0.0, fhi_say(s->svg->language, "Not known: the scene states no rope that is long enough."));
  }
  double parts[6] = {s->scene->ropes[s->trip.rope].length.lo, out->spans, out->in_knots, out->in_ties, out->first.spare};
  for (int i = 0; i < 5; i++) {
    parts[i] = tenth(parts[i], s->units);
  }
  parts[5] = parts[0] - parts[1] - parts[2] - parts[3] - parts[4];
  for (int i = 0; i < 6; i++) {
    (void)fhi_show_length(shown[i], sizeof shown[i], fmax(0.0, parts[i]), s->units);
  }
  (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "First: %s. Last: %s. About the same at both ends, since either may fall."), shown[4], shown[5]);
  y = say(s, y, fhi_font_main(), 0.0, text);
  (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "The rope adds up: %s = %s between tie-ins + %s in %d brake knots + %s in %d tie-in knots + %s and %s in the coils. About 1 m a knot: common practice, no source."),
                   shown[0], shown[1], shown[2], (in->people - 1) * in->knots, shown[3], in->people, shown[4], shown[5]);
  return say(s, y, fhi_font_main(), 0.0, text);
}

// What each one lacks of the least, and whether there is anything for an anchor.
static double say_lacks(sheet *s, double y) {
  char text[FHI_SVG_TEXT];
  fhi_font font = fhi_font_main();
  font.colour = FHI_WARN;
  for (int i = 0; i < s->scene->team.people_count; i++) {
    if (fhi_kit_lacks(s->scene, s->gear, s->trip.carries[i], i, text, sizeof text)) {
      y = say(s, y, font, 0.0, text);
    }
  }
  const char *anchor = fhi_kit_anchor_words(s->scene, s->gear);
  y = anchor[0] != '\0' ? say(s, y, font, 0.0, anchor) : y;
  return say(s, y, fhi_font_small(), 0.0,
             fhi_say(s->svg->language, "The least a head: 2 hitch cords, a sling or cord for the tether, 3 carabiners, something for an anchor. Common practice, no source."));
}

static double say_kit(sheet *s, double y) {
  char text[FHI_SVG_TEXT];
  y = head(s, y, fhi_say(s->svg->language, "Who carries what"));
  if (s->scene->kit_count == 0) {
    return say(s, y, fhi_font_main(), 0.0, fhi_say(s->svg->language, "The scene lists no kit."));
  }
  for (int i = 0; i < s->scene->team.people_count; i++) {
    (void)fhi_format(text, sizeof text, "%d: ", i + 1);
    bool any = false;
    for (int k = 0; k < s->scene->kit_count; k++) {
      if (s->trip.carries[i][k] > 0) {
        size_t used = strlen(text);
        (void)fhi_format(text + used, sizeof text - used, "%s%d %s", any ? ", " : "", s->trip.carries[i][k], fhi_item_said(s->svg->language, s->gear, s->scene->kit[k].item));
        any = true;
      }
    }
    y = say(s, y, fhi_font_main(), 0.0, any ? text : fhi_say(s->svg->language, "nothing of the kit"));
  }
  return say_lacks(s, y);
}

// ---------------------------------------------------------------------------------------------------- the raises

static fh_status say_raise(sheet *s, int faller, double *y) {
  char text[MOST_SAID];
  char a[FHI_WORD];
  fhi_trip_raise raise;
  fh_status status = fhi_trip_raise_find(&s->trip, s->scene, s->gear, s->team, faller, &raise);
  if (status != FH_OK) {
    return status;
  }
  (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "%d falls, hangs up to %s down, the others raise: %s%s"), faller + 1, fhi_show_length(a, sizeof a, raise.depth, s->units),
                   raise.sure ? "" : raise.possible ? fhi_say(s->svg->language, "likely, since the pull may be more than they have: ") : fhi_say(s->svg->language, "no rig of the kit that is left works. Missing: "), raise.why);
  fhi_font font = fhi_font_main();
  font.colour = raise.possible ? FHI_INK : FHI_WARN;
  *y = say(s, *y, font, 0.0, text) + 2.0;
  return FH_OK;
}

static fh_status say_raises(sheet *s, double *y) {
  *y = head(s, *y, fhi_say(s->svg->language, "If one falls: the rig"));
  fh_status status = FH_OK;
  for (int i = 0; i < s->scene->team.people_count && status == FH_OK; i++) {
    status = say_raise(s, i, y);
  }
  int raisers = s->scene->team.people_count - 1;
  char text[FHI_SVG_TEXT];
  char a[FHI_WORD];
  if (fhi_trip_is_held(s->team)) {
    (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "Depth: the whole rope to the next one, the most there is while that one is still on top; at the likely values the first one stops %s down."),
                     fhi_show_length(a, sizeof a, s->team->likely.fall, s->units));
  } else {
    (void)fhi_copy(text, sizeof text, fhi_say(s->svg->language, "Depth: the whole rope to the next one, the most there is while that one is still on top."));
  }
  *y = say(s, *y, fhi_font_main(), 0.0, text);
  (void)fhi_format(text, sizeof text, fhi_say(s->svg->language, "Kept back each time to take the load over, for the anchor and the tethers: 1 hitch cord and %d carabiners, besides anchor gear and slings."), raisers + 2);
  *y = say(s, *y, fhi_font_small(), 0.0, text);
  *y = say(s, *y, fhi_font_small(), 0.0,
           fhi_say(s->svg->language, "Found with the kit that the others still carry, and the rope that is then free. Before you count on one, have it worked out in full for your own scene."));
  return status;
}

static const char *title_of(const sheet *s) {
  return s->scene->title[0] != '\0' ? s->scene->title : fhi_say(s->svg->language, "Rope team: trip sheet");
}

static fh_status draw_all(sheet *s, double *y) {
  char text[2 * FHI_SVG_TEXT];
  bool titled = s->scene->title[0] != '\0';
  *y = fhi_draw_header(s->svg, title_of(s), titled ? fhi_say(s->svg->language, "Trip sheet of a rope team.") : "") + (titled ? 12.0 : 0.0);
  fhi_draw_blank(s->svg, FHI_MARGIN, *y, s->room, fhi_font_main().size);
  *y += 5.0;
  *y = say(s, *y, fhi_font_bold(), 0.0, fhi_team_answer(s->team, s->units, s->scene->language, text, sizeof text));
  if (fhi_team_chance_words(s->team, s->scene->language, text, sizeof text)[0] != '\0') {
    *y = say(s, *y, fhi_font_main(), 0.0, text);
  }
  if (fhi_team_edge_words(s->scene)[0] != '\0') {
    *y = say(s, *y, fhi_font_small(), 0.0, fhi_team_edge_words(s->scene));
  }
  *y = say_order(s, *y);
  *y = say_knots(s, *y);
  *y = say_rope(s, *y);
  *y = say_kit(s, *y);
  return say_raises(s, y);
}

fh_status fh_draw_trip_sheet(const fh_scene *scene, const fh_gear *gear, const fh_team_result *team, fh_units units, fh_out out) {
  if (scene == NULL || gear == NULL || team == NULL || out.write == NULL || !scene->has_team || team->in.people != scene->team.people_count) {
    return FH_ERR_ARG;
  }
  sheet *s = fhi_alloc(1, sizeof *s);
  if (s == NULL) {
    return FH_ERR_MEMORY;
  }
  s->scene = scene;
  s->gear = gear;
  s->team = team;
  s->units = units;
  fhi_trip_start(scene, gear, team, &s->trip);
  s->room = FHI_PAGE - 2.0 * FHI_MARGIN;
  double y = 0.0;
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &s->svg);
  if (status == FH_OK) {
    status = draw_all(s, &y);
    if (status == FH_OK) {
      y = fhi_draw_footer(s->svg, y + 8.0);
      status = fhi_draw_end(s->svg, y, title_of(s), s->about, out);
    } else {
      fhi_svg_destroy(s->svg);
    }
  }
  fhi_free(s);
  return status;
}
