// SPDX-License-Identifier: MIT
// How is a scene written so that reading it back gives the same? By the same table, all values spelled out, defaults too.
#include <string.h>

#include "keys.h"
#include "text.h"

typedef struct putting {
  fhi_writer w;
  const fh_gear *gear;
  bool json;   // keys and names in quotes
  bool first;  // nothing stands in the open map yet
} putting;

// ---------------------------------------------------------------------------------------------------- words

static bool letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

// A name that no YAML reader takes for anything but text. Words such as `no` and `null` go in quotes.
static bool plain_name(const char *name) {
  static const char *const WORDS[] = {"true", "false", "null", "yes", "no", "on", "off", "y", "n"};
  for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
    size_t n = strlen(name);
    if (n == strlen(WORDS[i])) {
      size_t same = 0;
      for (; same < n && (name[same] | 0x20) == WORDS[i][same]; same++) {
      }
      if (same == n) {
        return false;
      }
    }
  }
  for (const char *p = name; *p != '\0'; p++) {
    if (!letter(*p) && (p == name || !((*p >= '0' && *p <= '9') || *p == '-' || *p == '_'))) {
      return false;
    }
  }
  return name[0] != '\0';
}

static void put_name(putting *p, const char *name) {
  if (p->json || !plain_name(name)) {
    fhi_put_json_text(&p->w, name);
  } else {
    fhi_put(&p->w, name);
  }
}

static void put_key(putting *p, const char *key) {
  fhi_put(&p->w, p->first ? "" : ", ");
  p->first = false;
  if (p->json) {
    fhi_put_json_text(&p->w, key);
  } else {
    fhi_put(&p->w, key);  // the table's keys stand as they are, `on` too: our reader takes no word for a truth value
  }
  fhi_put(&p->w, ": ");
}

// ---------------------------------------------------------------------------------------------------- numbers

static void put_in(putting *p, const char *unit, double si) {
  fhi_put_json_number(&p->w, fhi_from_si(unit, si));
}

static void put_part(putting *p, const char *name, const char *unit, double si) {
  put_key(p, name);
  put_in(p, unit, si);
}

static void put_number(putting *p, const char *unit, fh_number n) {
  switch (n.spread) {
  case FH_SPREAD_UNSET:
  case FH_SPREAD_EXACT: put_in(p, unit, n.likely); break;
  case FH_SPREAD_UNIFORM:
    fhi_put(&p->w, "[");
    put_in(p, unit, n.lo);
    fhi_put(&p->w, ", ");
    put_in(p, unit, n.hi);
    fhi_put(&p->w, "]");
    break;
  case FH_SPREAD_TRIANGLE:
  case FH_SPREAD_NORMAL:
    fhi_put(&p->w, "{");
    p->first = true;
    if (n.spread == FH_SPREAD_NORMAL) {
      put_part(p, "mean", unit, n.likely);
      put_part(p, "sd", unit, n.sd);
    } else {
      put_part(p, "low", unit, n.lo);
      put_part(p, "likely", unit, n.likely);
      put_part(p, "high", unit, n.hi);
    }
    fhi_put(&p->w, "}");
    p->first = false;
    break;
  }
}

// ---------------------------------------------------------------------------------------------------- by the table

static void put_map(putting *p, int row, const char *object);

static const char *item_name(const putting *p, int item) {
  const fh_item *found = fh_gear_item(p->gear, item);
  return found == NULL ? NULL : found->name;
}

static void put_choice(putting *p, const char *choices, int place) {
  char word[FH_NAME] = "";
  for (; place > 0; place--) {
    choices = strchr(choices, '|') + 1;
  }
  const char *bar = strchr(choices, '|');
  size_t n = bar == NULL ? strlen(choices) : (size_t)(bar - choices);
  memcpy(word, choices, n < sizeof word ? n : sizeof word - 1);
  put_name(p, word);
}

// Is there anything to write? Unset numbers, items of no name, empty titles and absent groups are left out.
static bool has_value(const putting *p, int row, const char *object) {
  const fhi_bind *bind = fhi_key_bind(row);
  const char *at = object + bind->at;
  if (bind->form == FHI_FORM_NUMBER) {
    return fh_number_is_set(*(const fh_number *)(const void *)at);
  }
  if (bind->form == FHI_FORM_ITEM) {
    return item_name(p, *(const int *)(const void *)at) != NULL;
  }
  if (bind->form == FHI_FORM_TEXT) {
    return at[0] != '\0';
  }
  if (bind->form == FHI_FORM_CHOICE) {
    return *(const int *)(const void *)at >= 0;
  }
  if (bind->form == FHI_FORM_MAP && bind->way == FHI_WAY_OPTIONAL) {
    // A group is there when its required first number is, or its list has entries.
    int first = fhi_key_next(row, -1);
    const fhi_bind *b = fhi_key_bind(first);
    return b->form == FHI_FORM_LIST ? *(const int *)(const void *)(object + b->count_at) > 0
                                    : fh_number_is_set(*(const fh_number *)(const void *)(object + b->at));
  }
  return bind->way != FHI_WAY_OWN;
}

static void put_value(putting *p, int row, const char *object) {
  const fh_key *key = &fh_key_list(NULL)[row];
  const fhi_bind *bind = fhi_key_bind(row);
  const char *at = object + bind->at;
  int count = 0;
  switch (bind->form) {
  case FHI_FORM_NUMBER:
  case FHI_FORM_RANGE: put_number(p, key->unit, *(const fh_number *)(const void *)at); break;
  case FHI_FORM_PLAIN: put_in(p, key->unit, *(const double *)(const void *)at); break;
  case FHI_FORM_INTEGER: fhi_putf(&p->w, "%d", *(const int *)(const void *)at); break;
  case FHI_FORM_FLAG: fhi_put(&p->w, *(const bool *)(const void *)at ? "true" : "false"); break;
  case FHI_FORM_TEXT:
  case FHI_FORM_NAME: put_name(p, at); break;
  case FHI_FORM_ITEM: put_name(p, item_name(p, *(const int *)(const void *)at)); break;
  case FHI_FORM_CHOICE: put_choice(p, key->choices, *(const int *)(const void *)at); break;
  case FHI_FORM_MAP: put_map(p, row, object); break;
  case FHI_FORM_LIST:
    count = *(const int *)(const void *)(object + bind->count_at);
    fhi_put(&p->w, "[");
    for (int i = 0; i < count; i++) {
      fhi_put(&p->w, i == 0 ? "" : ", ");
      put_map(p, row, at + (size_t)i * bind->size);
    }
    fhi_put(&p->w, "]");
    break;
  }
}

static void put_map(putting *p, int row, const char *object) {
  fhi_put(&p->w, "{");
  p->first = true;
  for (int child = fhi_key_next(row, -1); child >= 0; child = fhi_key_next(row, child)) {
    if (has_value(p, child, object)) {
      char name[FH_NAME];
      fhi_key_name(child, name, sizeof name);
      put_key(p, name);
      put_value(p, child, object);
    }
  }
  fhi_put(&p->w, "}");
  p->first = false;
}

// ---------------------------------------------------------------------------------------------------- rigs

static void put_word(putting *p, const char *key, const char *word) {
  put_key(p, key);
  put_name(p, word);
}

static void put_if_set(putting *p, const char *key, const char *unit, fh_number n) {
  if (fh_number_is_set(n)) {
    put_key(p, key);
    put_number(p, unit, n);
  }
}

static void put_station(putting *p, const fh_rig *rig, const fh_station *st) {
  fhi_put(&p->w, "{");
  p->first = true;
  switch (st->kind) {
  case FH_TIE:
    put_word(p, "tie", rig->bodies[st->body]);
    put_if_set(p, "slack_m", "m", st->slack);
    break;
  case FH_EDGE:
    put_word(p, "edge", "lip");
    put_if_set(p, "friction", "1", st->friction);
    break;
  case FH_RUN:
    put_word(p, "run", rig->bodies[st->body]);
    put_word(p, "on", item_name(p, st->item));
    put_if_set(p, "efficiency", "1", st->efficiency);
    put_if_set(p, "efficiency_range", "1", st->efficiency_range);
    if (st->reversed) {
      put_key(p, "reversed");
      fhi_put(&p->w, "true");
    }
    break;
  case FH_HAND:
    put_word(p, "hand", "crew");
    if (st->toward != FH_TOWARD_AUTO) {
      put_word(p, "toward", st->toward == FH_TOWARD_BACK ? "back" : "lip");
    }
    put_if_set(p, "angle_deg", "deg", st->angle);
    break;
  case FH_LOOSE:
    put_key(p, "loose");
    fhi_put(&p->w, "true");
    break;
  }
  fhi_put(&p->w, "}");
}

static void put_grip(putting *p, const fh_rig *rig, const fh_grip *grip) {
  fhi_put(&p->w, "{");
  p->first = true;
  put_word(p, "body", rig->bodies[grip->body]);
  put_word(p, "hitch", item_name(p, grip->item));
  put_word(p, "rope", rig->paths[grip->path].name);
  put_key(p, "after");
  fhi_putf(&p->w, "%d", grip->after);
  put_part(p, "at_m", "m", grip->at);
  fhi_put(&p->w, "}");
}

// A rig is written only when every index in it means something: a rig made by hand may be wrong.
static bool sound_indices(const fh_rig *rig, const fh_gear *gear) {
  bool good = rig->path_count >= 1 && rig->path_count <= FH_MAX_PATHS && rig->grip_count >= 0 &&
              rig->grip_count <= FH_MAX_GRIPS && rig->station_count <= FH_MAX_STATIONS &&
              rig->body_count <= FH_MAX_BODIES;
  for (int p = 0; good && p < rig->path_count; p++) {
    const fh_path *path = &rig->paths[p];
    good = path->first >= 0 && path->count >= 0 && path->first + path->count <= rig->station_count;
    for (int i = path->first; good && i < path->first + path->count; i++) {
      const fh_station *st = &rig->stations[i];
      bool body = st->kind == FH_TIE || st->kind == FH_RUN;
      good = (!body || (st->body >= 0 && st->body < rig->body_count)) &&
             (st->kind != FH_RUN || fh_gear_item(gear, st->item) != NULL);
    }
  }
  for (int g = 0; good && g < rig->grip_count; g++) {
    const fh_grip *grip = &rig->grips[g];
    good = grip->body >= 0 && grip->body < rig->body_count && grip->path >= 0 && grip->path < rig->path_count &&
           fh_gear_item(gear, grip->item) != NULL;
  }
  return good;
}

// YAML in blocks, JSON on one line: the same parts, other marks between them.
static void put_rig(putting *p, const fh_rig *rig) {
  bool json = p->json;
  fhi_put(&p->w, json ? "{\"ropes\": [" : "  ropes:\n");
  for (int i = 0; i < rig->path_count; i++) {
    const fh_path *path = &rig->paths[i];
    fhi_put(&p->w, !json ? "    - name: " : i == 0 ? "{\"name\": " : ", {\"name\": ");
    put_name(p, path->name);
    if (path->of[0] != '\0') {
      fhi_put(&p->w, json ? ", \"of\": " : "\n      of: ");
      put_name(p, path->of);
    }
    fhi_put(&p->w, json ? ", \"path\": [" : "\n      path:\n");
    for (int k = 0; k < path->count; k++) {
      fhi_put(&p->w, !json ? "        - " : k == 0 ? "" : ", ");
      put_station(p, rig, &rig->stations[path->first + k]);
      fhi_put(&p->w, json ? "" : "\n");
    }
    fhi_put(&p->w, json ? "]}" : "");
  }
  fhi_put(&p->w, json ? "], \"grips\": [" : rig->grip_count > 0 ? "  grips:\n" : "");
  for (int g = 0; g < rig->grip_count; g++) {
    fhi_put(&p->w, !json ? "    - " : g == 0 ? "" : ", ");
    put_grip(p, rig, &rig->grips[g]);
    fhi_put(&p->w, json ? "" : "\n");
  }
  fhi_put(&p->w, json ? "]}" : "");
}

// ---------------------------------------------------------------------------------------------------- the public face

fh_status fh_rig_write_json(const fh_rig *rig, const fh_gear *gear, fh_out out) {
  if (rig == NULL || gear == NULL || out.write == NULL || !sound_indices(rig, gear)) {
    return FH_ERR_ARG;
  }
  putting p = {.gear = gear, .json = true};
  fhi_writer_start(&p.w, out);
  put_rig(&p, rig);
  return fhi_writer_end(&p.w);
}

static void put_top_list(putting *p, int row, const char *object) {
  const fhi_bind *bind = fhi_key_bind(row);
  int count = *(const int *)(const void *)(object + bind->count_at);
  fhi_put(&p->w, count == 0 ? " []\n" : "\n");
  for (int i = 0; i < count; i++) {
    fhi_put(&p->w, "  - ");
    put_map(p, row, object + bind->at + (size_t)i * bind->size);
    fhi_put(&p->w, "\n");
  }
}

fh_status fh_scene_write_yaml(const fh_scene *scene, const fh_gear *gear, fh_out out) {
  if (scene == NULL || gear == NULL || out.write == NULL || (scene->has_rig && !sound_indices(&scene->rig, gear))) {
    return FH_ERR_ARG;
  }
  putting p = {.gear = gear};
  const char *object = (const char *)scene;
  fhi_writer_start(&p.w, out);
  fhi_put(&p.w, "firnhaul: 1\n");
  for (int row = fhi_key_next(-1, -1); row >= 0; row = fhi_key_next(-1, row)) {
    char name[FH_NAME];
    if (!has_value(&p, row, object)) {
      continue;
    }
    fhi_key_name(row, name, sizeof name);
    fhi_putf(&p.w, "%s:", name);
    if (fhi_key_bind(row)->form == FHI_FORM_LIST) {
      put_top_list(&p, row, object);
      continue;
    }
    fhi_put(&p.w, " ");
    put_value(&p, row, object);
    fhi_put(&p.w, "\n");
  }
  if (scene->has_rig) {
    fhi_put(&p.w, "rig:\n");
    put_rig(&p, &scene->rig);
  }
  return fhi_writer_end(&p.w);
}
