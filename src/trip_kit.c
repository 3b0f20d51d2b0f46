// SPDX-License-Identifier: MIT
// Who carries what? First everyone's own least: what lets one climb a rope or be taken over by the others. What is shared comes
// after it and lies with those who are likely to raise. The least and what a raise keeps back: common practice, no source.
#include "trip.h"

#include "search.h"
#include "text.h"
#include "words.h"

#include <string.h>

enum { LEAST_HITCHES = 2, LEAST_CARABINERS = 3 };

typedef struct deal {
  const fh_scene *scene;
  const fh_gear *gear;
  int people;
  int left[FH_MAX_KIT];
  int has[FH_MAX_PEOPLE][FHI_CARRIED_KINDS];
  int all[FH_MAX_PEOPLE];  // pieces of shared gear
  int (*carries)[FH_MAX_KIT];
} deal;

fhi_carried fhi_carried_kind(const fh_gear *gear, int item) {
  const fh_item *it = fh_gear_item(gear, item);
  if (it == NULL) {
    return FHI_CARRIED_SHARED;
  }
  switch (it->item_class) {
    case FH_ITEM_HITCH: return FHI_CARRIED_HITCH;
    case FH_ITEM_BAR: return fhi_is_carabiner(gear, item) ? FHI_CARRIED_CARABINER : strstr(it->name, "axe") != NULL ? FHI_CARRIED_ANCHOR : FHI_CARRIED_SHARED;
    case FH_ITEM_ANCHOR: return strcmp(it->name, "bollard") == 0 ? FHI_CARRIED_SHARED : FHI_CARRIED_ANCHOR;  // a bollard is snow
    case FH_ITEM_ROPE: return strcmp(it->name, "cord") == 0 ? FHI_CARRIED_SLING : FHI_CARRIED_SHARED;
    default: return strcmp(it->name, "sling") == 0 ? FHI_CARRIED_SLING : FHI_CARRIED_SHARED;
  }
}

static bool give(deal *d, int line, int person) {
  if (line < 0) {
    return false;
  }
  fhi_carried kind = fhi_carried_kind(d->gear, d->scene->kit[line].item);
  d->left[line]--;
  d->carries[person][line]++;
  d->has[person][kind]++;
  d->all[person] += kind == FHI_CARRIED_SHARED ? 1 : 0;
  return true;
}

// @return a line of the kit with pieces left, or -1
static int line_of(const deal *d, fhi_carried kind) {
  for (int k = 0; k < d->scene->kit_count; k++) {
    if (d->left[k] > 0 && fhi_carried_kind(d->gear, d->scene->kit[k].item) == kind) {
      return k;
    }
  }
  return -1;
}

// From the one who goes first, who falls most often; a second piece to nobody before all have one.
static void deal_least(deal *d, fhi_carried kind, int least) {
  for (int round = 1; round <= least; round++) {
    for (int i = 0; i < d->people; i++) {
      if (d->has[i][kind] < round) {
        (void)give(d, line_of(d, kind), i);
      }
    }
  }
}

// A third hitch cord is a tether for who has no sling.
static void deal_tethers(deal *d) {
  deal_least(d, FHI_CARRIED_SLING, 1);
  for (int i = 0; i < d->people; i++) {
    if (d->has[i][FHI_CARRIED_SLING] == 0 && d->has[i][FHI_CARRIED_HITCH] >= LEAST_HITCHES) {
      (void)give(d, line_of(d, FHI_CARRIED_HITCH), i);
    }
  }
}

// Who takes the next piece of what is over? Who has least of it, so that no fall takes all; the first one after all others; then
// who carries least of what is shared.
static int next_for(const deal *d, int line) {
  fhi_carried kind = fhi_carried_kind(d->gear, d->scene->kit[line].item);
  int best = -1;
  int best_has = 0;
  for (int n = 1; n <= d->people; n++) {
    int i = n % d->people;
    int has = kind == FHI_CARRIED_SHARED ? d->carries[i][line] : d->has[i][kind];
    if (best < 0 || has < best_has || (has == best_has && i != 0 && d->all[i] < d->all[best])) {
      best = i;
      best_has = has;
    }
  }
  return best;
}

void fhi_kit_deal(const fh_scene *scene, const fh_gear *gear, int people, int carries[][FH_MAX_KIT]) {
  deal d = {.scene = scene, .gear = gear, .people = people, .carries = carries};
  memset(carries, 0, (size_t)people * sizeof *carries);
  for (int k = 0; k < scene->kit_count; k++) {
    d.left[k] = scene->kit[k].count;
  }
  deal_least(&d, FHI_CARRIED_HITCH, LEAST_HITCHES);
  deal_tethers(&d);
  deal_least(&d, FHI_CARRIED_CARABINER, LEAST_CARABINERS);
  deal_least(&d, FHI_CARRIED_ANCHOR, 1);
  for (int k = 0; k < scene->kit_count; k++) {
    while (d.left[k] > 0) {
      (void)give(&d, k, next_for(&d, k));
    }
  }
}

int fhi_kit_pieces(const fh_scene *scene, const fh_gear *gear, const int *counts, fhi_carried kind) {
  int n = 0;
  for (int k = 0; k < scene->kit_count; k++) {
    if (fhi_carried_kind(gear, scene->kit[k].item) == kind) {
      n += counts != NULL ? counts[k] : scene->kit[k].count;
    }
  }
  return n;
}

// ---------------------------------------------------------------------------------------------------- what is missing

static void add(char *to, size_t size, const char *text) {
  size_t used = strlen(to);
  (void)fhi_format(to + used, size - used, "%s%s", used > 0 ? "; " : "", text);
}

bool fhi_kit_lacks(const fh_scene *scene, const fh_gear *gear, const int *counts, int person, char *to, size_t size) {
  fh_language l = scene->language;
  int hitches = fhi_kit_pieces(scene, gear, counts, FHI_CARRIED_HITCH);
  int carabiners = fhi_kit_pieces(scene, gear, counts, FHI_CARRIED_CARABINER);
  char text[400] = "";
  char one[160];
  if (hitches < LEAST_HITCHES) {
    (void)fhi_format(one, sizeof one, fhi_say(l, "hitch cords %d of %d, cannot climb a rope"), hitches, (int)LEAST_HITCHES);
    add(text, sizeof text, one);
  }
  if (hitches <= LEAST_HITCHES && fhi_kit_pieces(scene, gear, counts, FHI_CARRIED_SLING) == 0) {
    add(text, sizeof text, fhi_say(l, "no sling or cord for the tether"));
  }
  if (carabiners < LEAST_CARABINERS) {
    (void)fhi_format(one, sizeof one, fhi_say(l, "carabiners %d of %d"), carabiners, (int)LEAST_CARABINERS);
    add(text, sizeof text, one);
  }
  // Where no gear for an anchor is listed at all, that is said once for all.
  if (fhi_kit_pieces(scene, gear, NULL, FHI_CARRIED_ANCHOR) > 0 && fhi_kit_pieces(scene, gear, counts, FHI_CARRIED_ANCHOR) == 0) {
    add(text, sizeof text, fhi_say(l, "nothing for an anchor"));
  }
  to[0] = '\0';
  if (text[0] != '\0') {
    (void)fhi_format(to, size, fhi_say(l, "Number %d lacks: %s."), person + 1, text);
  }
  return text[0] != '\0';
}

const char *fhi_kit_anchor_words(const fh_scene *scene, const fh_gear *gear) {
  return scene->kit_count > 0 && fhi_kit_pieces(scene, gear, NULL, FHI_CARRIED_ANCHOR) == 0
             ? fhi_say(scene->language, "No anchor gear is listed, so none is counted: the raises have no anchor yet.")
             : "";
}

// ---------------------------------------------------------------------------------------------------- what a raise keeps back

// @return how many were missing
static int take(fh_scene *raise, const fh_gear *gear, fhi_carried kind, int wanted) {
  for (int k = 0; k < raise->kit_count && wanted > 0; k++) {
    if (fhi_carried_kind(gear, raise->kit[k].item) == kind) {
      int some = raise->kit[k].count < wanted ? raise->kit[k].count : wanted;
      raise->kit[k].count -= some;
      wanted -= some;
    }
  }
  return wanted;
}

fhi_kept fhi_kit_of_raise(const fh_scene *scene, const fh_gear *gear, int people, int faller, fh_scene *raise) {
  int carries[FH_MAX_PEOPLE][FH_MAX_KIT];
  fhi_kit_deal(scene, gear, people, carries);
  for (int k = 0; k < raise->kit_count; k++) {
    raise->kit[k].count -= carries[faller][k];
  }
  // The cord that takes the load over with its carabiner, one for the anchor, one for the tether of each who raises. A kit that is
  // all there is keeps these back for one who raises by itself (fh_rig_carabiners).
  fhi_kept kept = {.hitches = 1, .carabiners = scene->kit_for == FH_KIT_ALL ? people - 2 : 2 + people - 1};
  kept.short_hitches = take(raise, gear, FHI_CARRIED_HITCH, kept.hitches);
  kept.short_carabiners = take(raise, gear, FHI_CARRIED_CARABINER, kept.carabiners);
  return kept;
}

bool fhi_kept_lacks(const fhi_kept *kept, fh_language language, char *to, size_t size) {
  if (kept->short_hitches == 0 && kept->short_carabiners == 0) {
    return false;
  }
  (void)fhi_format(to, size, fhi_say(language, "to take the load over, for the anchor and the tethers: hitch cords %d, carabiners %d"), kept->short_hitches, kept->short_carabiners);
  return true;
}
