// SPDX-License-Identifier: MIT
// When nothing works: the smallest changes that make it work. Implements model.md, section 13.
//
// One change at a time: how much more pull, how much more rope, one more piece of each kind, a padded lip. Each is tried by
// searching again; the smallest pull and rope come from the rigs that fail in nothing else.
#include <math.h>
#include <string.h>

#include "memory.h"
#include "plan.h"
#include "text.h"
#include "words.h"

typedef struct asker {
  const fh_scene *scene;
  const fh_gear *gear;
  int max_contacts;
  char *text;
  size_t size;
  int count;
} asker;

static void say(asker *a, const char *what) {
  size_t used = strlen(a->text);
  fhi_format(a->text + used, a->size - used, "%s%s", a->count > 0 ? fhi_say(a->scene->language, "; or ") : "", what);
  a->count++;
}

// Whether a search with this scene finds a rig that check says yes to. Only the front is worked out: what it beats needs
// more of everything.
static fh_status works(const asker *a, const fh_scene *scene, const fhi_stock *stock, bool *yes) {
  const fhi_search_opts opts = {a->max_contacts, true, false, NULL, NULL};
  fhi_candidates found;
  fh_status status = fhi_search_run(scene, a->gear, stock, &opts, &found);
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  *yes = false;
  if (rig == NULL) {
    status = FH_ERR_MEMORY;
  }
  size_t front = status == FH_OK ? fhi_front(found.list, found.count) : 0;
  for (size_t i = 0; i < front && !*yes && status == FH_OK; i++) {
    fhi_placed placed;
    fh_check *check = NULL;
    if (!fhi_candidate_place(scene, stock, &found.list[i], &placed)) {
      continue;
    }
    fhi_code_rig(scene, a->gear, stock, &found.list[i].code, &placed, rig);
    status = fh_check_create(scene, a->gear, rig, NULL, &check);
    *yes = status == FH_OK && !check->answer_no;
    fh_check_destroy(check);
  }
  fhi_free(rig);
  fhi_candidates_clear(&found);
  return status;
}

// The least that pull or rope lack over all sound rigs that fail in nothing else.
static fh_status ask_amounts(asker *a, const fhi_stock *stock) {
  const fhi_search_opts opts = {a->max_contacts, false, true, NULL, NULL};
  fhi_candidates found;
  double pull = (double)INFINITY, rope = (double)INFINITY;
  char text[160], amount[32];
  fh_status status = fhi_search_run(a->scene, a->gear, stock, &opts, &found);
  for (size_t i = 0; i < found.count; i++) {
    const fhi_candidate *c = &found.list[i];
    bool strong = c->margin >= 1.0, reaches = c->short_rope <= 0.0, can = isnan(c->share) || c->share <= 1.0;
    if (strong && reaches && !can) {
      pull = fmin(pull, c->hand_force * (1.0 - 1.0 / c->share));
    }
    if (strong && can && !reaches) {
      rope = fmin(rope, c->short_rope);
    }
  }
  fhi_candidates_clear(&found);
  if (isfinite(pull)) {
    fhi_format(text, sizeof text, fhi_say(a->scene->language, "%s N more pull (a stronger crew, or one more hauler)"),
               fhi_fixed(amount, sizeof amount, ceil(pull / 5.0) * 5.0, 0));
    say(a, text);
  }
  if (isfinite(rope)) {
    fhi_format(text, sizeof text, fhi_say(a->scene->language, "%s m more rope"), fhi_fixed(amount, sizeof amount, ceil(rope * 2.0) / 2.0, 1));
    say(a, text);
  }
  return status;
}

// One more of an item in the kit.
static fh_status ask_item(asker *a, fh_scene *scene, const char *name) {
  int item = fh_gear_find(a->gear, name);
  bool yes = false;
  fhi_stock stock;
  int line = 0;
  while (line < scene->kit_count && scene->kit[line].item != item) {
    line++;
  }
  if (item < 0 || line == FH_MAX_KIT) {
    return FH_OK;
  }
  int lines = scene->kit_count, had = line < lines ? scene->kit[line].count : 0;
  if (line == lines) {
    scene->kit[line] = (fh_kit_line){.item = item, .count = 0, .efficiency = fh_number_unset()};
    scene->kit_count++;
  }
  scene->kit[line].count++;
  fhi_stock_fill(scene, a->gear, &stock);
  fh_status status = works(a, scene, &stock, &yes);
  scene->kit[line].count--;
  scene->kit_count = lines;
  if (yes) {
    char text[96];
    fh_language l = scene->language;
    fhi_format(text, sizeof text, had > 0 ? fhi_say(l, "one more %s") : fhi_say(l, "a %s"), fhi_item_said(l, a->gear, item));
    say(a, text);
  }
  return status;
}

static fh_status ask_lip(asker *a, fh_scene *scene, const fhi_stock *stock) {
  fh_number padded = fh_gear_figure(a->gear, fh_gear_find(a->gear, "padded"), "friction", NULL), before = scene->lip_friction;
  bool yes = false;
  if (!fh_number_is_set(padded) || !(padded.likely < before.likely)) {
    return FH_OK;
  }
  scene->lip_friction = padded;
  fh_status status = works(a, scene, stock, &yes);
  scene->lip_friction = before;
  if (yes) {
    say(a, fhi_say(scene->language, "a lip padded and cleared"));
  }
  return status;
}

fh_status fhi_missing(const fh_scene *scene, const fh_gear *gear, const fhi_stock *stock, int max_contacts, char *text,
                      size_t size) {
  static const char *const ITEMS[] = {"toothed-capture", "pulley", "carabiner", "prusik"};
  asker a = {scene, gear, max_contacts, text, size, 0};
  fh_scene *changed = fhi_alloc(1, sizeof *changed);
  text[0] = '\0';
  if (changed == NULL) {
    return FH_ERR_MEMORY;
  }
  *changed = *scene;
  fh_status status = ask_lip(&a, changed, stock);
  for (size_t i = 0; i < sizeof ITEMS / sizeof ITEMS[0] && status == FH_OK; i++) {
    status = ask_item(&a, changed, ITEMS[i]);
  }
  if (status == FH_OK) {
    status = ask_amounts(&a, stock);
  }
  fhi_free(changed);
  if (a.count == 0) {
    fhi_copy(text, size, fhi_say(scene->language, "more than one thing; none of these alone is enough: a padded lip, one more capture, pulley, carabiner or hitch, more pull, more rope"));
  } else {
    size_t used = strlen(text);
    fhi_copy(text + used, size - used, fhi_say(scene->language, a.count > 1 ? ". Each alone is enough at the likely figures, perhaps not at the worst"
                                                                            : ". That is enough at the likely figures, perhaps not at the worst"));
  }
  return status;
}
