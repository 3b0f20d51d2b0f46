// SPDX-License-Identifier: MIT
// Does the document say what the table allows? One generic reader for all maps of a scene; the first thing wrong is told.
#include "read.h"

#include <string.h>

#include "text.h"

int fhi_choice(const char *choices, const char *word) {
  size_t n = strlen(word);
  int place = 0;
  for (const char *p = choices; n > 0; place++) {
    const char *bar = strchr(p, '|');
    size_t length = bar == NULL ? strlen(p) : (size_t)(bar - p);
    if (length == n && strncmp(p, word, n) == 0) {
      return place;
    }
    if (bar == NULL) {
      break;
    }
    p = bar + 1;
  }
  return -1;
}

// ---------------------------------------------------------------------------------------------------- defaults

static void fill_value(fhi_reading *r, int row, char *object, bool with_defaults) {
  const fh_key *key = &fh_key_list(NULL)[row];
  const fhi_bind *bind = fhi_key_bind(row);
  char *to = object + bind->at;
  bool words = !with_defaults || key->fallback[0] == '(' || key->fallback[0] == '\0';
  switch (bind->form) {
  case FHI_FORM_NUMBER:
  case FHI_FORM_RANGE: *(fh_number *)(void *)to = with_defaults ? fhi_default_number(key) : fh_number_unset(); break;
  case FHI_FORM_PLAIN: *(double *)(void *)to = fhi_default_number(key).likely; break;
  case FHI_FORM_INTEGER: *(int *)(void *)to = words ? 0 : (int)fhi_default_number(key).likely; break;
  case FHI_FORM_FLAG: *(bool *)(void *)to = !words && strcmp(key->fallback, "true") == 0; break;
  case FHI_FORM_TEXT:
  case FHI_FORM_NAME: (void)fhi_copy(to, bind->size, words ? "" : key->fallback); break;
  case FHI_FORM_ITEM: *(int *)(void *)to = words ? -1 : fh_gear_find(r->gear, key->fallback); break;
  case FHI_FORM_CHOICE: *(int *)(void *)to = words ? -1 : fhi_choice(key->choices, key->fallback); break;
  case FHI_FORM_MAP: fhi_fill(r, row, object, with_defaults && bind->way == FHI_WAY_PLAIN); break;
  case FHI_FORM_LIST: *(int *)(void *)(object + bind->count_at) = 0; break;
  }
}

void fhi_fill(fhi_reading *r, int row, void *object, bool with_defaults) {
  for (int child = fhi_key_next(row, -1); child >= 0; child = fhi_key_next(row, child)) {
    if (fhi_key_bind(child)->way != FHI_WAY_OWN) {
      fill_value(r, child, object, with_defaults);
    }
  }
}

// ---------------------------------------------------------------------------------------------------- values

static bool read_integer(fhi_reading *r, int node, int row, int *out) {
  const fh_key *key = &fh_key_list(NULL)[row];
  const fhi_node *n = fhi_doc_node(r->doc, node);
  double value = 0.0;
  if (n->kind != FHI_NODE_SCALAR || n->quoted || !fhi_parse_number(fhi_doc_text(r->doc, node), n->length, &value)) {
    return fhi_refuse_form(r, node, row, "not a number");
  }
  if (!(value >= key->lo && value <= key->hi)) {
    return fhi_refuse_form(r, node, row, "out of range");
  }
  *out = (int)value;  // the range of every row fits an int
  return (double)*out == value || fhi_refuse_form(r, node, row, "not a whole number");
}

static bool read_flag(fhi_reading *r, int node, int row, bool *out) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  const char *text = fhi_doc_text(r->doc, node);
  *out = strcmp(text, "true") == 0;
  bool good = n->kind == FHI_NODE_SCALAR && !n->quoted && (*out || strcmp(text, "false") == 0);
  return good || fhi_refuse_form(r, node, row, "neither true nor false");
}

static bool read_text(fhi_reading *r, int node, int row, char *out, size_t size) {
  const fh_key *key = &fh_key_list(NULL)[row];
  const fhi_node *n = fhi_doc_node(r->doc, node);
  const char *text = fhi_doc_text(r->doc, node);
  if (n->kind != FHI_NODE_SCALAR) {
    return fhi_refuse_form(r, node, row, "not a text");
  }
  if (n->length < (size_t)key->lo || n->length > (size_t)key->hi) {
    return fhi_refuse_form(r, node, row, n->length == 0 ? "not a text" : "too long");
  }
  for (const char *p = text; *p != '\0'; p++) {
    if (fhi_control_here(p) > 0) {
      return fhi_refuse_form(r, node, row, "a control character in it");
    }
  }
  (void)fhi_copy(out, size, text);
  return true;
}

static bool read_item(fhi_reading *r, int node, int row, int *out) {
  const fh_key *key = &fh_key_list(NULL)[row];
  *out = -1;
  if (fhi_doc_node(r->doc, node)->kind != FHI_NODE_SCALAR) {
    return fhi_refuse_form(r, node, row, "not the name of an item");
  }
  int item = fh_gear_find(r->gear, fhi_doc_text(r->doc, node));
  if (item < 0) {
    return fhi_refuse_form(r, node, row, "no such item in the catalogue");
  }
  if ((key->classes >> fh_gear_item(r->gear, item)->item_class & 1u) == 0) {
    return fhi_refuse_form(r, node, row, "an item of another class");
  }
  *out = item;
  return true;
}

static bool read_choice(fhi_reading *r, int node, int row, int *out) {
  *out = fhi_choice(fh_key_list(NULL)[row].choices, fhi_doc_text(r->doc, node));
  return *out >= 0 || fhi_refuse_form(r, node, row, "not one of the choices");
}

bool fhi_read_list(fhi_reading *r, int node, int row) {
  const fh_key *key = &fh_key_list(NULL)[row];
  const fhi_node *n = fhi_doc_node(r->doc, node);
  if (n->kind != FHI_NODE_LIST) {
    return fhi_refuse_form(r, node, row, "not a list");
  }
  if (n->count < (int)key->lo || n->count > (int)key->hi) {
    return fhi_refuse_form(r, node, row, n->count < (int)key->lo ? "too few entries" : "too many entries");
  }
  return true;
}

static bool read_entries(fhi_reading *r, int node, int row, char *object) {
  const fhi_bind *bind = fhi_key_bind(row);
  int index = 0;
  if (!fhi_read_list(r, node, row)) {
    return false;
  }
  for (int v = fhi_doc_node(r->doc, node)->first; v >= 0; v = fhi_doc_node(r->doc, v)->next, index++) {
    char *entry = object + bind->at + (size_t)index * bind->size;
    size_t length = fhi_enter(r, NULL, index);
    if (!fhi_read_map(r, v, row, entry)) {
      return false;
    }
    fhi_leave(r, length);
    int place[2] = {fhi_doc_node(r->doc, v)->line, fhi_doc_node(r->doc, v)->column};
    memcpy(entry + bind->place_at, place, sizeof place);
  }
  *(int *)(void *)(object + bind->count_at) = index;
  return true;
}

static bool read_group(fhi_reading *r, int node, int row, char *object) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  bool none = n->kind == FHI_NODE_LIST && n->count == 0 && strcmp(fh_key_list(NULL)[row].choices, "[]") == 0;
  if (none) {
    fhi_fill(r, row, object, false);
    return true;
  }
  return fhi_read_map(r, node, row, object);
}

static bool read_plain(fhi_reading *r, int node, int row, double *out) {
  fh_number number;
  bool good = fhi_read_number(r, node, &fh_key_list(NULL)[row], FHI_FORM_PLAIN, &number);
  *out = good ? number.likely : 0.0;
  return good;
}

bool fhi_read_value(fhi_reading *r, int node, int row, void *to_object) {
  char *object = to_object;
  const fhi_bind *bind = fhi_key_bind(row);
  int ignored = 0;
  if (bind->way == FHI_WAY_OWN) {  // whoever owns it reads it: here only its form
    bool map = fhi_doc_node(r->doc, node)->kind == FHI_NODE_MAP;
    switch (bind->form) {
    case FHI_FORM_MAP: return map || fhi_refuse_form(r, node, row, "not a map");
    case FHI_FORM_LIST: return fhi_read_list(r, node, row);
    default: return read_integer(r, node, row, &ignored);
    }
  }
  char *to = object + bind->at;
  switch (bind->form) {
  case FHI_FORM_NUMBER:
  case FHI_FORM_RANGE: return fhi_read_number(r, node, &fh_key_list(NULL)[row], bind->form, (fh_number *)(void *)to);
  case FHI_FORM_PLAIN: return read_plain(r, node, row, (double *)(void *)to);
  case FHI_FORM_INTEGER: return read_integer(r, node, row, (int *)(void *)to);
  case FHI_FORM_FLAG: return read_flag(r, node, row, (bool *)(void *)to);
  case FHI_FORM_TEXT:
  case FHI_FORM_NAME: return read_text(r, node, row, to, bind->size);
  case FHI_FORM_ITEM: return read_item(r, node, row, (int *)(void *)to);
  case FHI_FORM_CHOICE: return read_choice(r, node, row, (int *)(void *)to);
  case FHI_FORM_MAP: return read_group(r, node, row, object);
  case FHI_FORM_LIST: return read_entries(r, node, row, object);
  }
  return false;
}

// ---------------------------------------------------------------------------------------------------- maps

bool fhi_read_map(fhi_reading *r, int node, int row, void *object) {
  if (fhi_doc_node(r->doc, node)->kind != FHI_NODE_MAP) {
    return row < 0 ? fhi_refuse(r, node, "a map that starts with firnhaul: 1", "not a scene")
                   : fhi_refuse_form(r, node, row, "not a map");
  }
  fhi_fill(r, row, object, true);
  for (int v = fhi_doc_node(r->doc, node)->first; v >= 0; v = fhi_doc_node(r->doc, v)->next) {
    int key = fhi_doc_node(r->doc, v)->key;
    int child = fhi_key_child(row, fhi_doc_text(r->doc, key));
    if (child < 0) {
      return fhi_refuse_key(r, key, row);
    }
    size_t length = fhi_enter(r, fhi_doc_text(r->doc, key), -1);
    if (!fhi_read_value(r, v, child, object)) {
      return false;
    }
    fhi_leave(r, length);
  }
  for (int child = fhi_key_next(row, -1); child >= 0; child = fhi_key_next(row, child)) {
    char name[FH_NAME];
    fhi_key_name(child, name, sizeof name);
    if (fh_key_list(NULL)[child].required && fhi_doc_find(r->doc, node, name) < 0) {
      return fhi_refuse_missing(r, node, child);
    }
  }
  return true;
}
