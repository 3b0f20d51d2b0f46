// SPDX-License-Identifier: MIT
// What may a scene say, for other programs? The table as a JSON Schema (draft 2020-12).
#include <string.h>

#include "json.h"
#include "keys.h"

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
