// SPDX-License-Identifier: MIT
// What a kit offers to the search: pieces by class, hitches, ropes. Implements model.md, section 13.
#include <limits.h>
#include <math.h>
#include <string.h>

#include "search.h"

static const double PI = 3.14159265358979323846;

static double low_or(const fh_gear *gear, int item, const char *what, double otherwise) {
  fh_number n = fh_gear_figure(gear, item, what, NULL);
  return fh_number_is_set(n) ? n.lo : otherwise;
}

static int class_of(fhi_stock *s, const fh_gear *gear, int item, fh_number eta) {
  for (int c = 0; c < s->classes; c++) {
    if (s->item[c] == item && s->eta[c].lo == eta.lo && s->eta[c].likely == eta.likely && s->eta[c].hi == eta.hi) {
      return c;
    }
  }
  // Best first, so that the better pieces come first wherever they are handed out.
  int c = s->classes++;
  for (; c > 0 && eta.likely > s->eta[c - 1].likely; c--) {
    s->item[c] = s->item[c - 1];
    s->eta[c] = s->eta[c - 1];
    s->count[c] = s->count[c - 1];
    s->strength[c] = s->strength[c - 1];
  }
  s->item[c] = item;
  s->eta[c] = eta;
  s->count[c] = 0;
  s->strength[c] = low_or(gear, item, "strength_N", (double)INFINITY);
  return c;
}

static void add_hitch(fhi_stock *s, const fh_scene *scene, const fh_gear *gear, int item, int count) {
  double slip = scene->wet ? low_or(gear, item, "slip_wet_N", (double)NAN) : low_or(gear, item, "slip_N", (double)NAN);
  if (isnan(slip)) {
    slip = fmin(low_or(gear, item, "slip_N", (double)INFINITY), low_or(gear, item, "sheath_N", (double)INFINITY));
  }
  int k = s->hitch_kinds++;
  for (; k > 0 && slip > s->slip[k - 1]; k--) {
    s->hitches[k] = s->hitches[k - 1];
    s->hitch_count[k] = s->hitch_count[k - 1];
    s->slip[k] = s->slip[k - 1];
  }
  s->hitches[k] = item;
  s->hitch_count[k] = count;
  s->slip[k] = slip;
}

static void add_ropes(fhi_stock *s, const fh_scene *scene, const fh_gear *gear) {
  int cord = fh_gear_find(gear, "cord");
  for (int cords = 0; cords < 2; cords++) {
    for (int r = 0; r < scene->rope_count; r++) {
      if ((scene->ropes[r].kind == cord) == (cords == 1)) {
        s->ropes[s->rope_count++] = r;
        s->long_ropes += cords == 0;
      }
    }
  }
}

void fhi_stock_fill(const fh_scene *scene, const fh_gear *gear, fhi_stock *s) {
  memset(s, 0, sizeof *s);
  for (int i = 0; i < scene->kit_count; i++) {
    const fh_kit_line *line = &scene->kit[i];
    const fh_item *item = fh_gear_item(gear, line->item);
    if (item == NULL || line->count <= 0) {
      continue;
    }
    if (item->item_class == FH_ITEM_HITCH) {
      add_hitch(s, scene, gear, line->item, line->count);
      s->grips += line->count;
    } else if (item->item_class == FH_ITEM_BAR || item->item_class == FH_ITEM_SHEAVE || item->item_class == FH_ITEM_CAPTURE) {
      fh_number eta = fh_number_is_set(line->efficiency) ? line->efficiency : fh_gear_figure(gear, line->item, "efficiency", NULL);
      int c = class_of(s, gear, line->item, fh_number_is_set(eta) ? eta : fh_number_exact(1.0));
      s->count[c] += line->count;
      s->pieces += line->count;
    }
  }
  s->carabiners = scene->kit_for == FH_KIT_ALL ? fhi_kit_carabiners(scene, gear) : INT_MAX;
  s->capture = -1;
  s->capture_sheath = (double)INFINITY;
  for (int c = 0; c < s->classes; c++) {
    const fh_item *item = fh_gear_item(gear, s->item[c]);
    fh_number share = fh_gear_figure(gear, s->item[c], "share", NULL);
    double bending = fh_number_is_set(share) ? share.likely : 0.0;
    s->efficiency[c] = s->eta[c].likely;
    s->factor[c] = s->factor_hard[c] = 1.0;
    (void)fh_contact_ratio(item->item_class != FH_ITEM_BAR, s->eta[c].likely, bending, PI, &s->factor[c]);
    s->clips[c] = fhi_clips(gear, s->item[c]);
    (void)fh_contact_ratio(item->item_class != FH_ITEM_BAR, s->eta[c].lo, bending, PI, &s->factor_hard[c]);
    if (item->item_class == FH_ITEM_CAPTURE && s->capture < 0) {
      s->capture = c;  // the best one: classes stand in order
      s->count[c]--;
      s->pieces--;
      s->capture_sheath = low_or(gear, s->item[c], "sheath_N", (double)INFINITY);
    }
  }
  if (s->capture < 0) {
    s->grips--;  // a hitch is the capture: -1 when there is none
  }
  add_ropes(s, scene, gear);
}
