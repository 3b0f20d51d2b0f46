// SPDX-License-Identifier: MIT
// Under the surface: the name of each body with its distance and what it carries, row by row, each beside a line of its own.
#include "draw_section.h"

#include "report.h"
#include "words.h"

#include <math.h>

static const double ROW = 20.0;        // [pt] a row of names: two lines
static const double NAME_ROOM = 84.0;  // [pt] a name takes at most
enum { STRICT_ROWS = 3, MOST_FLAGS = FH_MAX_BODIES + 1 };  // rows in which a flag may not lie over a line either

typedef struct flag {
  double x;  // [pt]
  char first[2 * FHI_WORD], second[2 * FHI_WORD];
  bool moves;  // with the rope
  bool placed;
} flag;

// Whatever the station carries hangs on the anchor too, while raising and while the capture holds: the most of both.
static fh_band carried_in_all(const fh_check *check) {
  const fh_band raise = fhi_on_anchor(check, FH_RAISE), hold = fhi_on_anchor(check, FH_HOLD);
  // NaN where nothing holds: then what the raise asks for stands alone.
  return (fh_band){fmin(raise.lo, hold.lo), fmax(raise.likely, hold.likely), fmax(raise.hi, hold.hi)};
}

static void body_flag(const fhi_section *sec, const fhi_frame *f, int body, flag *to) {
  char a[FHI_WORD];
  char name[FHI_WORD];
  const fh_body *b = &sec->check->bodies[body];
  *to = (flag){.x = f->x + b->at * f->scale, .moves = !b->fixed};
  fhi_show_name(name, sizeof name, fhi_end_said(sec->scene->language, sec->rig, body), NAME_ROOM);
  (void)fhi_format(to->first, sizeof to->first, "%s %s", name, fhi_show_length(a, sizeof a, b->at, sec->units));
  const fh_band all = carried_in_all(sec->check);
  if (body == FH_BODY_ANCHOR && sec->solved && isfinite(all.hi) && all.hi > 0.0) {
    (void)fhi_format(to->second, sizeof to->second, fhi_say(sec->scene->language, "in all %s"), fhi_show_force(a, sizeof a, all, sec->units, sec->scene->language));
    return;
  }
  if (b->fixed) {
    if (sec->solved && isfinite(b->force[FH_RAISE].hi) && b->force[FH_RAISE].hi > 0.0) {
      (void)fhi_format(to->second, sizeof to->second, sec->alone ? "%s" : fhi_say(sec->scene->language, "carries %s"), fhi_show_force(a, sizeof a, b->force[FH_RAISE], sec->units, sec->scene->language));
    } else if (sec->step) {
      (void)fhi_copy(to->second, sizeof to->second, fhi_end_taught(sec->scene->language, sec->rig, body));
    }
    return;
  }
  for (int g = 0; g < sec->rig->grip_count; g++) {
    if (sec->rig->grips[g].body == body) {
      char item[FHI_WORD];
      fhi_show_name(item, sizeof item, fhi_item_said(sec->scene->language, sec->gear, sec->rig->grips[g].item), NAME_ROOM);
      if (sec->solved && sec->alone) {  // what grips is told on a tap: there is no room for it
        (void)fhi_copy(to->second, sizeof to->second, fhi_show_force(a, sizeof a, sec->check->grip_force[g][FH_RAISE], sec->units, sec->scene->language));
      } else if (sec->solved) {
        (void)fhi_format(to->second, sizeof to->second, "%s %s", item, fhi_show_force(a, sizeof a, sec->check->grip_force[g][FH_RAISE], sec->units, sec->scene->language));
      } else if (sec->step) {
        (void)fhi_format(to->second, sizeof to->second, "%s, %s", fhi_end_taught(sec->scene->language, sec->rig, body), item);
      } else {
        (void)fhi_format(to->second, sizeof to->second, "%s", item);
      }
    }
  }
}

static int collect_flags(const fhi_section *sec, const fhi_frame *f, flag *flags) {
  int n = 0;
  char cut[FHI_WORD];
  flags[n] = (flag){.x = f->x};
  (void)fhi_format(flags[n].first, sizeof flags[n].first, "%s 0", fhi_say(sec->scene->language, "lip"));
  if (sec->scene->lip_cut.likely > 0.0) {
    (void)fhi_format(flags[n].second, sizeof flags[n].second, fhi_say(sec->scene->language, "cut %s"), fhi_show_length(cut, sizeof cut, sec->scene->lip_cut.likely, sec->units));
  }
  n++;
  for (int b = FH_BODY_STATION; b < sec->check->body_count; b++) {
    double at = sec->check->bodies[b].at;
    if (at >= 0.0 && at <= f->end && !(sec->bare && b == FH_BODY_STATION)) {
      body_flag(sec, f, b, &flags[n++]);
    }
  }
  for (int i = 1; i < n; i++) {  // by distance
    for (int j = i; j > 0 && flags[j].x < flags[j - 1].x; j--) {
      flag keep = flags[j];
      flags[j] = flags[j - 1];
      flags[j - 1] = keep;
    }
  }
  return n;
}

// Does a flag fit beside its own line, between the lines of those that still have to go further down?
// @param how strict: off other lines as well; stuck: anywhere that is free, where narrow ground leaves no such place
typedef enum fit_how { STRICT, LOOSE, STUCK } fit_how;

static bool flag_fits(const fhi_section *sec, const flag *flags, int n, int i, double y, bool left, fit_how how, fhi_box *box) {
  double wide = fmax(fhi_text_width(flags[i].first, FHI_SMALL, true), fhi_text_width(flags[i].second, FHI_SMALL, false));
  *box = (fhi_box){left ? flags[i].x - 2.5 - wide : flags[i].x + 2.5, y, wide, ROW - 2.0};
  if (how == STUCK) {
    box->x = fmax(2.0, fmin(box->x, sec->svg->width - 3.0 - wide));
    return fhi_svg_is_free(sec->svg, *box);
  }
  if (box->x < 2.0 || box->x + wide > sec->svg->width - 3.0 || !fhi_svg_is_free(sec->svg, *box) || (how == STRICT && fhi_svg_clash(sec->svg, *box) > 0.0)) {
    return false;
  }
  for (int j = 0; j < n; j++) {
    if (j != i && !flags[j].placed && flags[j].x > box->x - 2.0 && flags[j].x < box->x + wide + 2.0) {
      return false;
    }
  }
  return true;
}

static void write_flag(fhi_section *sec, const fhi_frame *f, double ground, flag *fl, fhi_box box, bool left) {
  fhi_font font = fhi_font_small();
  fhi_font name = {FHI_SMALL, true, FHI_INK};
  double x = left ? box.x + box.w : box.x;
  if (!(sec->svg->quiet && fl->moves)) {
    fhi_svg_line(sec->svg, fl->x, f->y + 1.0, fl->x, box.y + ROW - 4.0, (fhi_pen){FHI_FAINT, 0.6, NULL, NULL});
    fhi_svg_text(sec->svg, x, box.y + 7.0, left ? FHI_END : FHI_START, name, fl->first);
    if (fl->second[0] != '\0') {
      fhi_svg_text(sec->svg, x, box.y + 16.0, left ? FHI_END : FHI_START, font, fl->second);
    }
  }
  fhi_svg_keep_out(sec->svg, (fhi_box){fl->x - 0.5, ground, 1.0, box.y + ROW - 4.0 - ground});
  fl->placed = true;
}

// One row. @return how many flags it took
static int draw_flag_row(fhi_section *sec, const fhi_frame *f, double ground, flag *flags, int n, double y, fit_how how) {
  int placed = 0;
  for (int i = n - 1; i >= 0 && (how != STUCK || placed == 0); i--) {
    fhi_box box;
    for (int side = 0; side < 2 && !flags[i].placed; side++) {
      if (flag_fits(sec, flags, n, i, y, side == 1, how, &box)) {
        write_flag(sec, f, ground, &flags[i], box, side == 1);
        placed++;
      }
    }
  }
  return placed;
}

// Row by row: on a page's width every row places at least the flag nearest to the right edge, so few rows do. On a small screen
// two flags may keep each other off for ever: then one takes what is free.
double fhi_draw_flags(fhi_section *sec, const fhi_frame *f, double ground) {
  flag flags[MOST_FLAGS];
  int n = collect_flags(sec, f, flags);
  int left_over = n;
  double y = ground + 3.0;
  for (int row = 0; row < MOST_FLAGS && left_over > 0; row++) {
    int placed = draw_flag_row(sec, f, ground, flags, n, y, row < STRICT_ROWS ? STRICT : LOOSE);
    if (placed == 0 && row >= STRICT_ROWS) {
      placed = draw_flag_row(sec, f, ground, flags, n, y, STUCK);
    }
    left_over -= placed;
    y += ROW;
  }
  return y;
}
