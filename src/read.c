// SPDX-License-Identifier: MIT
// Does the document say what the table allows? One generic reader for all maps of a scene; the first thing wrong is told.
#include "read.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "text.h"

// ---------------------------------------------------------------------------------------------------- refusing

bool fhi_refuse(fhi_reading *r, int node, const char *accepted, const char *format, ...) {
  if (r->diag == NULL) {
    return false;
  }
  memset(r->diag, 0, sizeof *r->diag);
  if (node >= 0) {
    r->diag->line = fhi_doc_node(r->doc, node)->line;
    r->diag->column = fhi_doc_node(r->doc, node)->column;
  }
  (void)fhi_copy(r->diag->key, sizeof r->diag->key, r->path);
  (void)fhi_copy(r->diag->accepted, sizeof r->diag->accepted, accepted);
  char message[sizeof r->diag->message * 2];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(message, sizeof message, format, args);
  va_end(args);
  (void)fhi_copy(r->diag->message, sizeof r->diag->message, message);
  return false;
}

// Bytes of the control character that stands here, 0 when it is none. C0, DEL, C1, the line and paragraph separators, what turns
// the writing's direction round, the byte order mark and the two non-characters: none has a place in a name, and shown on a
// terminal or a card they could make it say something else.
static size_t control_here(const char *text) {
  const unsigned char *p = (const unsigned char *)text;
  if (p[0] < 0x20 || p[0] == 0x7F) {
    return 1;
  }
  if (p[0] == 0xC2 && p[1] < 0xA0) {
    return 2;
  }
  bool separators = p[0] == 0xE2 && p[1] == 0x80 && p[2] >= 0xA8 && p[2] <= 0xAE;
  bool isolates = p[0] == 0xE2 && p[1] == 0x81 && p[2] >= 0xA6 && p[2] <= 0xA9;
  bool mark = p[0] == 0xEF && p[1] == 0xBB && p[2] == 0xBF;
  bool none = p[0] == 0xEF && p[1] == 0xBF && p[2] >= 0xBE;
  return separators || isolates || mark || none ? 3 : 0;
}

const char *fhi_shown(char *to, size_t size, const char *text) {
  if (text[0] == '\0') {
    (void)fhi_copy(to, size, "nothing");
    return to;
  }
  bool whole = fhi_copy(to, size < 41 ? size : 41, text);
  for (char *p = to; *p != '\0'; p++) {
    for (size_t n = control_here(p); n > 0; n--) {
      p[n - 1] = '?';
    }
  }
  if (!whole) {
    size_t n = strlen(to);
    (void)fhi_copy(to + n, size - n, "...");
  }
  return to;
}

size_t fhi_enter(fhi_reading *r, const char *key, int index) {
  size_t length = strlen(r->path);
  if (index >= 0) {
    (void)fhi_format(r->path + length, sizeof r->path - length, "[%d]", index);
  } else {
    (void)fhi_format(r->path + length, sizeof r->path - length, "%s%s", length == 0 ? "" : ".", key);
  }
  return length;
}

void fhi_leave(fhi_reading *r, size_t length) {
  r->path[length] = '\0';
}

// ---------------------------------------------------------------------------------------------------- what is accepted

static void append(char *to, size_t size, const char *text) {
  size_t n = strlen(to);
  (void)fhi_copy(to + n, size - n, text);
}

static void append_item_names(const fhi_reading *r, unsigned classes, char *to, size_t size) {
  append(to, size, "one of the catalogue's: ");
  bool first = true;
  for (int i = 0; i < fh_gear_count(r->gear); i++) {
    const fh_item *item = fh_gear_item(r->gear, i);
    if ((classes >> item->item_class & 1u) == 0) {
      continue;
    }
    if (strlen(to) + strlen(item->name) + 8 > size) {
      append(to, size, ", ...");
      return;
    }
    append(to, size, first ? "" : ", ");
    append(to, size, item->name);
    first = false;
  }
}

static void append_keys(int row, char *to, size_t size) {
  for (int child = fhi_key_next(row, -1); child >= 0; child = fhi_key_next(row, child)) {
    char name[FH_NAME];
    fhi_key_name(child, name, sizeof name);
    append(to, size, to[0] == '\0' ? "" : ", ");
    append(to, size, name);
  }
}

static void accepts_number(const fh_key *key, fhi_form form, char *to, size_t size) {
  char lo[32], hi[32];
  bool bare = strcmp(key->unit, "1") == 0 || key->unit[0] == '\0';
  if (!(key->lo < key->hi)) {
    (void)fhi_shortest(to, size, key->lo);  // the format's version
    return;
  }
  (void)fhi_format(to, size, "%s%s%s from %s to %s%s",
                   form == FHI_FORM_INTEGER ? "a whole number"
                   : form == FHI_FORM_RANGE ? "[low, high]"
                                            : "a number",
                   bare ? "" : " in ", bare ? "" : key->unit, fhi_shortest(lo, sizeof lo, key->lo),
                   fhi_shortest(hi, sizeof hi, key->hi),
                   form == FHI_FORM_NUMBER ? ", or [low, high], {low, likely, high}, {mean, sd}" : "");
}

static void accepts_choice(const char *choices, char *to, size_t size) {
  to[0] = '\0';
  for (const char *p = choices; *p != '\0'; p++) {
    char letter[2] = {*p, '\0'};
    append(to, size, *p == '|' ? " or " : letter);
  }
}

void fhi_accepts(const fhi_reading *r, int row, char *to, size_t size) {
  const fh_key *key = &fh_key_list(NULL)[row];
  fhi_form form = fhi_key_bind(row)->form;
  to[0] = '\0';
  switch (form) {
  case FHI_FORM_NUMBER:
  case FHI_FORM_PLAIN:
  case FHI_FORM_RANGE:
  case FHI_FORM_INTEGER: accepts_number(key, form, to, size); break;
  case FHI_FORM_FLAG: append(to, size, "true or false"); break;
  case FHI_FORM_TEXT:
  case FHI_FORM_NAME:
    (void)fhi_format(to, size, "text of %d to %d bytes without control characters", (int)key->lo, (int)key->hi);
    break;
  case FHI_FORM_ITEM: append_item_names(r, key->classes, to, size); break;
  case FHI_FORM_CHOICE: accepts_choice(key->choices, to, size); break;
  case FHI_FORM_MAP:
    append(to, size, "a map with the keys ");
    append_keys(row, to + strlen(to), size - strlen(to));
    break;
  case FHI_FORM_LIST:
    (void)fhi_format(to, size, "a list of %d to %d maps with the keys ", (int)key->lo, (int)key->hi);
    append_keys(row, to + strlen(to), size - strlen(to));
    break;
  }
}

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

static bool refuse_form(fhi_reading *r, int node, int row, const char *what) {
  char accepted[200], shown[48];
  fhi_accepts(r, row, accepted, sizeof accepted);
  if (fhi_doc_node(r->doc, node)->kind != FHI_NODE_SCALAR) {
    return fhi_refuse(r, node, accepted, "%s", what);
  }
  return fhi_refuse(r, node, accepted, "%s: %s", what, fhi_shown(shown, sizeof shown, fhi_doc_text(r->doc, node)));
}

static bool read_integer(fhi_reading *r, int node, int row, int *out) {
  const fh_key *key = &fh_key_list(NULL)[row];
  const fhi_node *n = fhi_doc_node(r->doc, node);
  double value = 0.0;
  if (n->kind != FHI_NODE_SCALAR || n->quoted || !fhi_parse_number(fhi_doc_text(r->doc, node), n->length, &value)) {
    return refuse_form(r, node, row, "not a number");
  }
  if (!(value >= key->lo && value <= key->hi)) {
    return refuse_form(r, node, row, "out of range");
  }
  *out = (int)value;  // the range of every row fits an int
  return (double)*out == value || refuse_form(r, node, row, "not a whole number");
}

static bool read_flag(fhi_reading *r, int node, int row, bool *out) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  const char *text = fhi_doc_text(r->doc, node);
  *out = strcmp(text, "true") == 0;
  bool good = n->kind == FHI_NODE_SCALAR && !n->quoted && (*out || strcmp(text, "false") == 0);
  return good || refuse_form(r, node, row, "neither true nor false");
}

static bool read_text(fhi_reading *r, int node, int row, char *out, size_t size) {
  const fh_key *key = &fh_key_list(NULL)[row];
  const fhi_node *n = fhi_doc_node(r->doc, node);
  const char *text = fhi_doc_text(r->doc, node);
  if (n->kind != FHI_NODE_SCALAR) {
    return refuse_form(r, node, row, "not a text");
  }
  if (n->length < (size_t)key->lo || n->length > (size_t)key->hi) {
    return refuse_form(r, node, row, n->length == 0 ? "not a text" : "too long");
  }
  for (const char *p = text; *p != '\0'; p++) {
    if (control_here(p) > 0) {
      return refuse_form(r, node, row, "a control character in it");
    }
  }
  (void)fhi_copy(out, size, text);
  return true;
}

static bool read_item(fhi_reading *r, int node, int row, int *out) {
  const fh_key *key = &fh_key_list(NULL)[row];
  *out = -1;
  if (fhi_doc_node(r->doc, node)->kind != FHI_NODE_SCALAR) {
    return refuse_form(r, node, row, "not the name of an item");
  }
  int item = fh_gear_find(r->gear, fhi_doc_text(r->doc, node));
  if (item < 0) {
    return refuse_form(r, node, row, "no such item in the catalogue");
  }
  if ((key->classes >> fh_gear_item(r->gear, item)->item_class & 1u) == 0) {
    return refuse_form(r, node, row, "an item of another class");
  }
  *out = item;
  return true;
}

static bool read_choice(fhi_reading *r, int node, int row, int *out) {
  *out = fhi_choice(fh_key_list(NULL)[row].choices, fhi_doc_text(r->doc, node));
  return *out >= 0 || refuse_form(r, node, row, "not one of the choices");
}

bool fhi_read_list(fhi_reading *r, int node, int row) {
  const fh_key *key = &fh_key_list(NULL)[row];
  const fhi_node *n = fhi_doc_node(r->doc, node);
  if (n->kind != FHI_NODE_LIST) {
    return refuse_form(r, node, row, "not a list");
  }
  if (n->count < (int)key->lo || n->count > (int)key->hi) {
    return refuse_form(r, node, row, n->count < (int)key->lo ? "too few entries" : "too many entries");
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

static bool read_value(fhi_reading *r, int node, int row, char *object) {
  const fhi_bind *bind = fhi_key_bind(row);
  int ignored = 0;
  if (bind->way == FHI_WAY_OWN) {  // whoever owns it reads it: here only its form
    bool map = fhi_doc_node(r->doc, node)->kind == FHI_NODE_MAP;
    switch (bind->form) {
    case FHI_FORM_MAP: return map || refuse_form(r, node, row, "not a map");
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

// "mass_lb" for "mass_kg": the same stem with another unit behind it.
static bool same_stem(const char *said, const char *known) {
  const char *a = strrchr(said, '_');
  const char *b = strrchr(known, '_');
  size_t n = b == NULL ? 0 : (size_t)(b - known);
  size_t m = a == NULL ? strlen(said) : (size_t)(a - said);
  return n > 0 && n == m && strncmp(said, known, n) == 0;
}

static bool refuse_key(fhi_reading *r, int key, int row) {
  char accepted[200] = "", shown[48], name[FH_NAME];
  const char *said = fhi_doc_text(r->doc, key);
  (void)fhi_enter(r, fhi_shown(shown, sizeof shown, said), -1);
  for (int child = fhi_key_next(row, -1); child >= 0; child = fhi_key_next(row, child)) {
    fhi_key_name(child, name, sizeof name);
    if (same_stem(said, name)) {
      return fhi_refuse(r, key, name, strchr(said, '_') == NULL ? "the key has no unit" : "the key has the wrong unit");
    }
  }
  append_keys(row, accepted, sizeof accepted);
  return fhi_refuse(r, key, accepted, "unknown key");
}

static bool refuse_missing(fhi_reading *r, int node, int row) {
  char accepted[200], name[FH_NAME];
  fhi_accepts(r, row, accepted, sizeof accepted);
  fhi_key_name(row, name, sizeof name);
  (void)fhi_enter(r, name, -1);
  return fhi_refuse(r, node, accepted, "the key is missing");
}

bool fhi_read_map(fhi_reading *r, int node, int row, void *object) {
  if (fhi_doc_node(r->doc, node)->kind != FHI_NODE_MAP) {
    return row < 0 ? fhi_refuse(r, node, "a map that starts with firnhaul: 1", "not a scene")
                   : refuse_form(r, node, row, "not a map");
  }
  fhi_fill(r, row, object, true);
  for (int v = fhi_doc_node(r->doc, node)->first; v >= 0; v = fhi_doc_node(r->doc, v)->next) {
    int key = fhi_doc_node(r->doc, v)->key;
    int child = fhi_key_child(row, fhi_doc_text(r->doc, key));
    if (child < 0) {
      return refuse_key(r, key, row);
    }
    size_t length = fhi_enter(r, fhi_doc_text(r->doc, key), -1);
    if (!read_value(r, v, child, object)) {
      return false;
    }
    fhi_leave(r, length);
  }
  for (int child = fhi_key_next(row, -1); child >= 0; child = fhi_key_next(row, child)) {
    char name[FH_NAME];
    fhi_key_name(child, name, sizeof name);
    if (fh_key_list(NULL)[child].required && fhi_doc_find(r->doc, node, name) < 0) {
      return refuse_missing(r, node, child);
    }
  }
  return true;
}
