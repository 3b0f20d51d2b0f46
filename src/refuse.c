// SPDX-License-Identifier: MIT
// How is an input refused? With its place, its key, what is wrong and what is accepted, all from the scene's table.
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "read.h"
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
size_t fhi_control_here(const char *text) {
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
    for (size_t n = fhi_control_here(p); n > 0; n--) {
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

// ---------------------------------------------------------------------------------------------------- what is refused often

bool fhi_refuse_form(fhi_reading *r, int node, int row, const char *what) {
  char accepted[200], shown[48];
  fhi_accepts(r, row, accepted, sizeof accepted);
  if (fhi_doc_node(r->doc, node)->kind != FHI_NODE_SCALAR) {
    return fhi_refuse(r, node, accepted, "%s", what);
  }
  return fhi_refuse(r, node, accepted, "%s: %s", what, fhi_shown(shown, sizeof shown, fhi_doc_text(r->doc, node)));
}

// "mass_lb" for "mass_kg": the same stem with another unit behind it.
static bool same_stem(const char *said, const char *known) {
  const char *a = strrchr(said, '_');
  const char *b = strrchr(known, '_');
  size_t n = b == NULL ? 0 : (size_t)(b - known);
  size_t m = a == NULL ? strlen(said) : (size_t)(a - said);
  return n > 0 && n == m && strncmp(said, known, n) == 0;
}

bool fhi_refuse_key(fhi_reading *r, int key, int row) {
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

bool fhi_refuse_missing(fhi_reading *r, int node, int row) {
  char accepted[200], name[FH_NAME];
  fhi_accepts(r, row, accepted, sizeof accepted);
  fhi_key_name(row, name, sizeof name);
  (void)fhi_enter(r, name, -1);
  return fhi_refuse(r, node, accepted, "the key is missing");
}
