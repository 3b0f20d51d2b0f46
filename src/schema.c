// SPDX-License-Identifier: MIT
// The scene's table for other programs and for people: as a JSON Schema (draft 2020-12), and as a docs page in Markdown.
#include <string.h>

#include "json.h"
#include "keys.h"
#include "report.h"

// ---------------------------------------------------------------------------------------------------- JSON Schema

static void put_bounds(fhi_json *j, const fh_key *key, const char *type) {
  fhi_json_text(j, "type", type);
  fhi_json_number(j, "minimum", key->lo);
  fhi_json_number(j, "maximum", key->hi);
}

static void put_bounded(fhi_json *j, const char *name, const fh_key *key) {
  fhi_json_open(j, name, '{');
  put_bounds(j, key, "number");
  fhi_json_close(j, '}');
}

static void put_names(fhi_json *j, const char *name, const char *const *names, int count) {
  fhi_json_open(j, name, '[');
  for (int i = 0; i < count; i++) {
    fhi_json_text(j, NULL, names[i]);
  }
  fhi_json_close(j, ']');
}

// [low, high]. The schema cannot say that low comes first; the reader does.
static void put_range(fhi_json *j, const fh_key *key) {
  fhi_json_text(j, "type", "array");
  fhi_json_integer(j, "minItems", 2);
  fhi_json_integer(j, "maxItems", 2);
  put_bounded(j, "items", key);
}

static void put_distribution(fhi_json *j, const fh_key *key, const char *const *names, int count) {
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "type", "object");
  fhi_json_flag(j, "additionalProperties", false);
  put_names(j, "required", names, count);
  fhi_json_open(j, "properties", '{');
  for (int i = 0; i < count; i++) {
    if (strcmp(names[i], "sd") == 0) {
      fhi_json_open(j, names[i], '{');
      fhi_json_text(j, "type", "number");
      fhi_json_number(j, "exclusiveMinimum", 0.0);
      fhi_json_number(j, "maximum", key->hi - key->lo);
      fhi_json_close(j, '}');
    } else {
      put_bounded(j, names[i], key);
    }
  }
  fhi_json_close(j, '}');
  fhi_json_close(j, '}');
}

static void put_number(fhi_json *j, const fh_key *key) {
  static const char *const TRIANGLE[] = {"low", "likely", "high"};
  static const char *const NORMAL[] = {"mean", "sd"};
  fhi_json_open(j, "anyOf", '[');
  put_bounded(j, NULL, key);
  fhi_json_open(j, NULL, '{');
  put_range(j, key);
  fhi_json_close(j, '}');
  put_distribution(j, key, TRIANGLE, 3);
  put_distribution(j, key, NORMAL, 2);
  fhi_json_close(j, ']');
}

static void put_choices(fhi_json *j, const char *choices) {
  fhi_json_open(j, "enum", '[');
  for (const char *p = choices; *p != '\0';) {
    char word[FH_NAME] = "";
    const char *bar = strchr(p, '|');
    size_t n = bar == NULL ? strlen(p) : (size_t)(bar - p);
    memcpy(word, p, n < sizeof word ? n : sizeof word - 1);
    fhi_json_text(j, NULL, word);
    p += n + (bar == NULL ? 0 : 1);
  }
  fhi_json_close(j, ']');
}

static void put_text(fhi_json *j, const fh_key *key) {
  fhi_json_text(j, "type", "string");
  fhi_json_integer(j, "minLength", key->lo > 0.0 ? 1 : 0);
  fhi_json_number(j, "maxLength", key->hi);
}

static void put_row(fhi_json *j, int row);

// Each station is exactly one of the five kinds: the one thing that the rows cannot say by themselves.
static void put_kinds(fhi_json *j) {
  static const char *const KINDS[] = {"tie", "edge", "run", "hand", "loose"};
  fhi_json_open(j, "oneOf", '[');
  for (size_t i = 0; i < sizeof KINDS / sizeof KINDS[0]; i++) {
    fhi_json_open(j, NULL, '{');
    put_names(j, "required", &KINDS[i], 1);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void put_object(fhi_json *j, int row) {
  fhi_json_text(j, "type", "object");
  fhi_json_flag(j, "additionalProperties", false);
  fhi_json_open(j, "required", '[');
  for (int child = fhi_key_next(row, -1); child >= 0; child = fhi_key_next(row, child)) {
    if (fh_key_list(NULL)[child].required) {
      char name[FH_NAME];
      fhi_key_name(child, name, sizeof name);
      fhi_json_text(j, NULL, name);
    }
  }
  fhi_json_close(j, ']');
  if (row >= 0 && strcmp(fh_key_list(NULL)[row].path, "rig.ropes[].path[]") == 0) {
    put_kinds(j);
  }
  fhi_json_open(j, "properties", '{');
  for (int child = fhi_key_next(row, -1); child >= 0; child = fhi_key_next(row, child)) {
    put_row(j, child);
  }
  fhi_json_close(j, '}');
}

static void put_list(fhi_json *j, int row, const fh_key *key) {
  fhi_json_text(j, "type", "array");
  fhi_json_number(j, "minItems", key->lo);
  fhi_json_number(j, "maxItems", key->hi);
  fhi_json_open(j, "items", '{');
  put_object(j, row);
  fhi_json_close(j, '}');
}

// A map that may also be written as an empty list.
static void put_group(fhi_json *j, int row, const fh_key *key) {
  bool or_none = strcmp(key->choices, "[]") == 0;
  if (!or_none) {
    put_object(j, row);
    return;
  }
  fhi_json_open(j, "anyOf", '[');
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "type", "array");
  fhi_json_integer(j, "maxItems", 0);
  fhi_json_close(j, '}');
  fhi_json_open(j, NULL, '{');
  put_object(j, row);
  fhi_json_close(j, '}');
  fhi_json_close(j, ']');
}

static void put_form(fhi_json *j, int row, const fh_key *key) {
  switch (fhi_key_bind(row)->form) {
  case FHI_FORM_NUMBER: put_number(j, key); break;
  case FHI_FORM_PLAIN: put_bounds(j, key, "number"); break;
  case FHI_FORM_RANGE: put_range(j, key); break;
  case FHI_FORM_INTEGER: put_bounds(j, key, "integer"); break;
  case FHI_FORM_FLAG: fhi_json_text(j, "type", "boolean"); break;
  case FHI_FORM_TEXT:
  case FHI_FORM_NAME: put_text(j, key); break;
  case FHI_FORM_ITEM: fhi_json_text(j, "type", "string"); break;  // own gear files add names: no closed list
  case FHI_FORM_CHOICE: put_choices(j, key->choices); break;
  case FHI_FORM_MAP: put_group(j, row, key); break;
  case FHI_FORM_LIST: put_list(j, row, key); break;
  }
}

static void put_row(fhi_json *j, int row) {
  const fh_key *key = &fh_key_list(NULL)[row];
  char name[FH_NAME];
  fhi_key_name(row, name, sizeof name);
  fhi_json_open(j, name, '{');
  fhi_json_text(j, "description", key->help);
  put_form(j, row, key);
  fhi_json_close(j, '}');
}

fh_status fh_schema_write(fh_out out) {
  fhi_writer w;
  fhi_json j = {.w = &w, .first = true};
  if (out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json_open(&j, NULL, '{');
  fhi_json_text(&j, "$schema", "https://json-schema.org/draft/2020-12/schema");
  fhi_json_text(&j, "title", "firnhaul scene, version 1");
  put_object(&j, -1);
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

// ---------------------------------------------------------------------------------------------------- Markdown

static const char INTRO[] =
    "# Scene files\n"
    "\n"
    "A scene is one YAML document; JSON is YAML, so a JSON file works the same. UTF-8, at most 1 MiB. Keys end in their unit.\n"
    "Anything that this page does not list is an error that says where it stands and what is accepted: nothing is guessed.\n"
    "\n"
    "This page is made from the program's own table (`firnhaul keys --markdown`), and `scene.schema.json` beside it too.\n"
    "\n"
    "Any *number* may be written in four ways: `92` is exact; `[85, 100]` is a range, all of it as likely;\n"
    "`{low: 80, likely: 92, high: 110}` is a triangle; `{mean: 92, sd: 6}` is a normal distribution, cut at the accepted range.\n"
    "A *plain* number is exact. An *item* is a name of the catalogue (`firnhaul gear`). A default in round brackets is in words.\n"
    "\n"
    "Distances on the ground count back from the lip along the line of the haul. Defaults are wide on purpose: measure what you can.\n";

static const char RIG_NOTES[] =
    "\n"
    "How a rig is written:\n"
    "\n"
    "* A rope's path lists its stations from its first end to its last. It starts with `tie` or `loose` and ends with `tie`, `hand` or\n"
    "  `loose`. Between the hole and the surface stands `{edge: lip}`.\n"
    "* Bodies are `load`, `station`, `anchor` and the ones that grips make.\n"
    "* A grip holds the strand between the station `after` (counted from 0) and the next one. On `station` or `anchor` it is a tended\n"
    "  capture: open while raising, locked while holding.\n"
    "* One rope of the rig ends in the hand of the crew.\n";

static void put_range_cell(fhi_writer *w, const fh_key *key, fhi_form form) {
  char lo[32], hi[32];
  switch (form) {
  case FHI_FORM_NUMBER:
  case FHI_FORM_PLAIN:
  case FHI_FORM_RANGE:
  case FHI_FORM_INTEGER:
    fhi_putf(w, "%s to %s", fhi_shortest(lo, sizeof lo, key->lo), fhi_shortest(hi, sizeof hi, key->hi));
    break;
  case FHI_FORM_TEXT:
  case FHI_FORM_NAME: fhi_putf(w, "%d to %d bytes", (int)key->lo, (int)key->hi); break;
  case FHI_FORM_LIST: fhi_putf(w, "%d to %d entries", (int)key->lo, (int)key->hi); break;
  case FHI_FORM_CHOICE:
    for (const char *p = key->choices; *p != '\0'; p++) {
      fhi_put_bytes(w, *p == '|' ? ", " : p, *p == '|' ? 2 : 1);
    }
    break;
  case FHI_FORM_FLAG: fhi_put(w, "true, false"); break;
  case FHI_FORM_ITEM:
    for (unsigned c = 0, said = 0; c <= FH_ITEM_OTHER; c++) {
      if ((key->classes >> c & 1u) != 0) {
        fhi_putf(w, "%s%s", said++ == 0 ? "" : ", ", fhi_class_name((fh_item_class)c));
      }
    }
    break;
  case FHI_FORM_MAP: break;
  }
}

static void put_line(fhi_writer *w, int row) {
  const fh_key *key = &fh_key_list(NULL)[row];
  bool bare = key->unit[0] == '\0' || strcmp(key->unit, "1") == 0;
  bool words = key->fallback[0] == '(' || key->fallback[0] == '\0';
  const char *mark = key->required ? "**" : words ? "" : "`";
  fhi_putf(w, "| `%s` | %s%s%s | ", key->path, key->type, bare ? "" : ", ", bare ? "" : key->unit);
  put_range_cell(w, key, fhi_key_bind(row)->form);
  fhi_putf(w, " | %s%s%s | %s |\n", mark, key->required ? "required" : key->fallback, mark, key->help);
}

static bool top_level(const fh_key *key) {
  return strchr(key->path, '.') == NULL;
}

static bool has_children(int row) {
  fhi_form form = fhi_key_bind(row)->form;
  return form == FHI_FORM_MAP || form == FHI_FORM_LIST;
}

static void put_heading(fhi_writer *w, const char *heading) {
  fhi_putf(w, "\n## %s\n\n| key | type, unit | accepted | default | meaning |\n|---|---|---|---|---|\n", heading);
}

fh_status fh_keys_write_markdown(fh_out out) {
  fhi_writer w;
  int count = 0;
  const fh_key *keys = fh_key_list(&count);
  if (out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_put(&w, INTRO);
  put_heading(&w, "The scene");
  for (int row = 0; row < count; row++) {
    if (top_level(&keys[row])) {
      put_line(&w, row);
    }
  }
  for (int row = 0; row < count; row++) {
    if (top_level(&keys[row]) && has_children(row)) {
      char name[FH_NAME];
      fhi_key_name(row, name, sizeof name);
      put_heading(&w, name);
    } else if (!top_level(&keys[row])) {
      put_line(&w, row);
    }
    bool last_of_rig = strncmp(keys[row].path, "rig.", 4) == 0 && (row + 1 == count || strncmp(keys[row + 1].path, "rig.", 4) != 0);
    if (last_of_rig) {
      fhi_put(&w, RIG_NOTES);
    }
  }
  return fhi_writer_end(&w);
}
