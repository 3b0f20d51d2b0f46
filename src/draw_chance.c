// SPDX-License-Identifier: MIT
// Which unknown matters most? Bars of Sobol's total indices, the part alone filled darker.
#include <math.h>

#include "draw_common.h"
#include "firnhaul_chance.h"
#include "words.h"

enum { MOST = 10 };

static const double ROW = 24.0;  // [pt]

// What is ranked: one unknown's part of a result's spread.
typedef struct ranked {
  const char *name;
  double alone, total;  // [1]
} ranked;

static int next_most(const ranked *r, int count, const bool *taken) {
  int best = -1;
  for (int i = 0; i < count; i++) {
    if (!taken[i] && (best < 0 || r[i].total > r[best].total)) {
      best = i;
    }
  }
  return best;
}

static double bar(fhi_svg *svg, const ranked *r, double y) {
  char share[16], text[32], name[200];
  double room = FHI_PAGE - 2.0 * FHI_MARGIN - 40.0;
  double total = fmin(1.0, fmax(0.0, r->total)), alone = fmin(total, fmax(0.0, r->alone));
  fhi_svg_text(svg, FHI_MARGIN, y, FHI_START, fhi_font_main(), fhi_name_said(name, sizeof name, svg->language, r->name));
  fhi_svg_rect(svg, (fhi_box){FHI_MARGIN, y + 3.0, fmax(0.5, total * room), 8.0}, 0.0, (fhi_pen){"#0060a8", 0.8, NULL, "#cfe3f2"});
  fhi_svg_rect(svg, (fhi_box){FHI_MARGIN, y + 3.0, fmax(0.5, alone * room), 8.0}, 0.0, (fhi_pen){"#0060a8", 0.8, NULL, "#0060a8"});
  (void)fhi_format(text, sizeof text, "%s %%", fhi_fixed(share, sizeof share, total * 100.0, 0));
  fhi_svg_text(svg, FHI_MARGIN + total * room + 5.0, y + 10.0, FHI_START, fhi_font_main(), text);
  return y + ROW;
}

static double bars(fhi_svg *svg, const ranked *r, int count, double y) {
  bool taken[FH_MAX_UNKNOWNS] = {false};
  if (count == 0 || isnan(r[0].total)) {
    fhi_svg_text(svg, FHI_MARGIN, y, FHI_START, fhi_font_main(), fhi_say(svg->language, "Nothing here is open."));
    return y + ROW;
  }
  for (int n = 0; n < MOST; n++) {
    int i = next_most(r, count, taken);
    if (i < 0 || (n > 0 && !(r[i].total > 0.005))) {
      break;
    }
    taken[i] = true;
    y = bar(svg, &r[i], y);
  }
  return y;
}

static fh_status finish(fhi_svg *svg, double y, const char *words, const char *about, fh_out out) {
  y = fhi_svg_paragraph(svg, FHI_MARGIN, y + 4.0, FHI_PAGE - 2.0 * FHI_MARGIN, fhi_font_main(), words, 6) + 10.0;
  y = fhi_svg_paragraph(svg, FHI_MARGIN, y, FHI_PAGE - 2.0 * FHI_MARGIN, fhi_font_small(),
                        fhi_say(svg->language, "Whole bar: with all that it does together with others. Dark: alone. Bars may add up to more than 100 %."), 3) + 8.0;
  y = fhi_draw_footer(svg, y);
  return fhi_draw_end(svg, y, fhi_say(svg->language, "What matters most"), about, out);
}

fh_status fh_draw_chance(const fh_scene *scene, const fh_chance *c, fh_out out) {
  fhi_svg *svg = NULL;
  ranked r[FH_MAX_UNKNOWNS];
  char words[900];
  if (scene == NULL || c == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &svg);
  if (status != FH_OK) {
    return status;
  }
  for (int i = 0; i < c->unknown_count; i++) {
    r[i] = (ranked){c->unknown[i].name, c->unknown[i].pull_alone, c->unknown[i].pull_total};
  }
  double y = fhi_draw_header(svg, scene->title[0] != '\0' ? scene->title : fhi_say(scene->language, "Chance"), fhi_say(scene->language, "What makes the pull over what the crew can so open: Sobol's indices")) + 12.0;
  y = bars(svg, r, c->unknown_count, y);
  return finish(svg, y, fh_chance_words(c, words, sizeof words), fhi_say(scene->language, "Bars: how much of the spread of the pull over what the crew can each unknown makes."), out);
}

fh_status fh_draw_haul_chance(const fh_scene *scene, const fh_haul_chance *c, fh_out out) {
  fhi_svg *svg = NULL;
  ranked r[FH_MAX_UNKNOWNS];
  char words[900];
  if (scene == NULL || c == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_svg_create(FHI_PAGE, scene->language, &svg);
  if (status != FH_OK) {
    return status;
  }
  double y = fhi_draw_header(svg, scene->title[0] != '\0' ? scene->title : fhi_say(scene->language, "Chance"), fhi_say(scene->language, "What makes the raise so open: Sobol's indices")) + 12.0;
  for (int time = 0; time < 2; time++) {
    for (int i = 0; i < c->unknown_count; i++) {
      const fh_unknown *u = &c->unknown[i];
      r[i] = time != 0 ? (ranked){u->name, c->time_alone[i], c->time_total[i]} : (ranked){u->name, u->pull_alone, u->pull_total};
    }
    fhi_svg_text(svg, FHI_MARGIN, y, FHI_START, fhi_font_small(), time != 0 ? fhi_say(scene->language, "The time") : fhi_say(scene->language, "The pull at the hardest moment, over what the crew can"));
    y = bars(svg, r, c->unknown_count, y + ROW * 0.75) + 6.0;
  }
  return finish(svg, y, fh_haul_chance_words(c, words, sizeof words), fhi_say(scene->language, "Bars: how much of the spread of the greatest pull and of the time each unknown makes."), out);
}
