// SPDX-License-Identifier: MIT
// Which items does an own gear file say? Reads them all into a copy of the catalogue and only then swaps it in.
// The format: docs/gear.md. The first thing wrong is told with its place.
#include <string.h>

#include "gear.h"
#include "gear_keys.h"
#include "memory.h"
#include "read.h"
#include "report.h"
#include "text.h"

enum { TEXT_MAX = 300 };  // [byte] of about, standard, source: one or two lines

typedef struct reader {
  fhi_reading r;
  fh_gear *gear;  // the copy under way
  bool memory;    // out of memory: no diagnostic
} reader;

// One item while it is read.
typedef struct draft {
  fh_item item;
  int node;
  bool has_class;
  const fh_item *like;
  const char *about, *standard, *source;  // in the document, or NULL
} draft;

// ---------------------------------------------------------------------------------------------------- texts

static bool read_text(reader *rd, int node, const char *accepted, const char **out) {
  const fhi_node *n = fhi_doc_node(rd->r.doc, node);
  if (n->kind != FHI_NODE_SCALAR || n->length > TEXT_MAX) {
    return fhi_refuse(&rd->r, node, accepted, "%s", n->kind != FHI_NODE_SCALAR ? "not a text" : "the text is too long");
  }
  *out = fhi_doc_text(rd->r.doc, node);
  for (const char *c = *out; *c != '\0'; c++) {
    if ((unsigned char)*c < 0x20 || *c == 0x7F) {
      return fhi_refuse(&rd->r, node, accepted, "the text holds a control character");
    }
  }
  return true;
}

// Names as the catalogue has them: they are written in scenes, and stand in file names and tables.
static bool read_name(reader *rd, int node, char *to) {
  static const char ACCEPTED[] = "1 to 31 small letters, digits and hyphens, a letter first";
  const char *text = NULL;
  if (!read_text(rd, node, ACCEPTED, &text)) {
    return false;
  }
  size_t n = strlen(text);
  if (n == 0 || n >= FH_NAME || strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789-") != n ||
      strspn(text, "abcdefghijklmnopqrstuvwxyz") == 0) {
    char shown[64];
    return fhi_refuse(&rd->r, node, ACCEPTED, "not an item's name: %s", fhi_shown(shown, sizeof shown, text));
  }
  memcpy(to, text, n + 1);
  return true;
}

// ---------------------------------------------------------------------------------------------------- one item

static bool read_head(reader *rd, draft *d, const char *key, int node, bool *known) {
  char name[FH_NAME], shown[64];
  const char *text = NULL;
  *known = true;
  if (strcmp(key, "name") == 0) {
    return read_name(rd, node, d->item.name);
  }
  if (strcmp(key, "like") == 0) {
    if (!read_name(rd, node, name)) {
      return false;
    }
    d->like = fh_gear_item(rd->gear, fh_gear_find(rd->gear, name));
    return d->like != NULL || fhi_refuse(&rd->r, node, "an item of the catalogue, or one above in this file", "no such item: %s", name);
  }
  if (strcmp(key, "class") == 0) {
    d->has_class = true;
    return read_text(rd, node, FHI_GEAR_CLASSES, &text) &&
           (fhi_gear_class_find(text, &d->item.item_class) ||
            fhi_refuse(&rd->r, node, FHI_GEAR_CLASSES, "not a class: %s", fhi_shown(shown, sizeof shown, text)));
  }
  if (strcmp(key, "about") == 0) {
    return read_text(rd, node, "one line of text", &d->about);
  }
  if (strcmp(key, "standard") == 0) {
    return read_text(rd, node, "one line of text", &d->standard);
  }
  if (strcmp(key, "source") == 0) {
    return read_text(rd, node, "one line of text", &d->source);
  }
  *known = fhi_gear_key_find(key) != NULL;
  return true;
}

static const char *key_text(const reader *rd, int node) {
  return fhi_doc_text(rd->r.doc, fhi_doc_node(rd->r.doc, node)->key);
}

// Everything but the figures, whose keys depend on the class.
static bool read_heads(reader *rd, draft *d) {
  for (int at = fhi_doc_node(rd->r.doc, d->node)->first; at >= 0; at = fhi_doc_node(rd->r.doc, at)->next) {
    char shown[64];
    const char *key = key_text(rd, at);
    bool known = false;
    size_t length = fhi_enter(&rd->r, fhi_shown(shown, sizeof shown, key), -1);
    if (!read_head(rd, d, key, at, &known)) {
      return false;
    }
    if (!known) {
      return fhi_refuse(&rd->r, fhi_doc_node(rd->r.doc, at)->key,
                        "name, like, class, about, standard, source, or a figure of docs/gear.md", "unknown key: %s", shown);
    }
    fhi_leave(&rd->r, length);
  }
  return true;
}

// Class and forebear: given, or those of the item that it is like, or of the item that it replaces.
static bool settle(reader *rd, draft *d) {
  if (d->item.name[0] == '\0') {
    return fhi_refuse(&rd->r, d->node, "name: the item's name", "the item has no name");
  }
  const fh_item *old = fh_gear_item(rd->gear, fh_gear_find(rd->gear, d->item.name));
  if (d->like == NULL && !d->has_class) {
    d->like = old;
  }
  if (d->like == NULL && !d->has_class) {
    return fhi_refuse(&rd->r, d->node, "like: an item to start from, or class and figures", "the new item %s has no class", d->item.name);
  }
  if (!d->has_class) {
    d->item.item_class = d->like->item_class;
  }
  if (d->like != NULL && d->like->item_class != d->item.item_class) {
    return fhi_refuse(&rd->r, d->node, "an item of the same class", "%s is a %s, not a %s", d->like->name,
                      fhi_class_name(d->like->item_class), fhi_class_name(d->item.item_class));
  }
  if (old != NULL && old->item_class != d->item.item_class) {
    return fhi_refuse(&rd->r, d->node, "another name, or the same class", "%s is already there as a %s", d->item.name,
                      fhi_class_name(old->item_class));
  }
  return true;
}

static fh_figure *find_figure(fh_figure *figures, int count, const char *what) {
  for (int i = 0; i < count; i++) {
    if (strcmp(figures[i].what, what) == 0) {
      return &figures[i];
    }
  }
  return NULL;
}

static bool read_figures(reader *rd, draft *d, fh_figure *figures, const char *note) {
  for (int at = fhi_doc_node(rd->r.doc, d->node)->first; at >= 0; at = fhi_doc_node(rd->r.doc, at)->next) {
    const fhi_gear_key *k = fhi_gear_key_find(key_text(rd, at));
    if (k == NULL) {
      continue;
    }
    size_t length = fhi_enter(&rd->r, k->key, -1);
    if ((k->classes >> d->item.item_class & 1u) == 0) {
      return fhi_refuse(&rd->r, fhi_doc_node(rd->r.doc, at)->key, "a figure of its class, see docs/gear.md", "a %s has no %s",
                        fhi_class_name(d->item.item_class), k->key);
    }
    fh_figure *f = find_figure(figures, d->item.figure_count, k->what);
    if (f == NULL) {
      f = &figures[d->item.figure_count++];
    }
    *f = (fh_figure){.what = k->what, .unit = k->unit, .basis = FH_BASIS_OWN, .ref = "", .note = note};
    if (!fhi_gear_number(&rd->r, at, k, &f->value)) {
      return false;
    }
    fhi_leave(&rd->r, length);
  }
  return true;
}

// What every item of a class must have, so that no rig meets a bend without a cost. NULL: nothing.
static const char *needed(fh_item_class item_class) {
  switch (item_class) {
  case FH_ITEM_BAR:
  case FH_ITEM_SHEAVE:
  case FH_ITEM_CAPTURE: return "efficiency";
  case FH_ITEM_SURFACE: return "friction";
  case FH_ITEM_ROPE: return "modulus_kN";
  case FH_ITEM_POSTURE: return "pull_N";
  case FH_ITEM_ANCHOR: return "holds_kN";
  default: return NULL;
  }
}

static bool complete(reader *rd, const draft *d, fh_figure *figures) {
  const char *key = needed(d->item.item_class);
  if (key != NULL && find_figure(figures, d->item.figure_count, fhi_gear_key_find(key)->what) == NULL) {
    return fhi_refuse(&rd->r, d->node, key, "the %s %s needs a figure", fhi_class_name(d->item.item_class), d->item.name);
  }
  if (d->item.item_class == FH_ITEM_HITCH && find_figure(figures, d->item.figure_count, "slip_N") == NULL &&
      find_figure(figures, d->item.figure_count, "sheath_N") == NULL) {
    return fhi_refuse(&rd->r, d->node, "slip_kN or sheath_kN", "the hitch %s needs a figure", d->item.name);
  }
  return true;
}

// One copy of the item's texts, one after the other. @return its start, or NULL; the pointers then move into it
static char *keep_texts(const char **texts, int count) {
  size_t size = 1;
  for (int i = 0; i < count; i++) {
    size += strlen(texts[i]) + 1;
  }
  char *block = fhi_alloc(size, 1), *to = block;
  for (int i = 0; block != NULL && i < count; i++) {
    size_t n = strlen(texts[i]) + 1;
    memcpy(to, texts[i], n);
    texts[i] = to;
    to += n;
  }
  return block;
}

// A block of the copy's own, with room for the forebear's figures and all own ones.
static fhi_gear_block *add_block(reader *rd, size_t figures, const char **texts, int count) {
  fhi_gear_block *block = fhi_alloc(1, sizeof *block);
  if (block == NULL) {
    return NULL;
  }
  block->next = rd->gear->blocks;
  rd->gear->blocks = block;  // from here on the copy frees it
  block->figures = fhi_alloc(figures, sizeof *block->figures);
  block->text = keep_texts(texts, count);
  return block->figures != NULL && block->text != NULL ? block : NULL;
}

static bool read_item(reader *rd, int node) {
  draft d = {.node = node};
  if (fhi_doc_node(rd->r.doc, node)->kind != FHI_NODE_MAP) {
    return fhi_refuse(&rd->r, node, "{name: ..., like: ..., ...}", "an item is a map");
  }
  if (!read_heads(rd, &d) || !settle(rd, &d)) {
    return false;
  }
  if (rd->gear->count >= FHI_MAX_ITEMS) {
    return fhi_refuse(&rd->r, node, "at most 1000 items with the catalogue's own", "too many items");
  }
  const char *texts[3] = {d.about != NULL ? d.about : d.like != NULL ? d.like->about : "own item",
                          d.standard != NULL ? d.standard : d.like != NULL ? d.like->standard : "",
                          d.source != NULL ? d.source : "own gear file"};
  int inherited = d.like != NULL ? d.like->figure_count : 0;
  fhi_gear_block *block = add_block(rd, (size_t)(inherited + fhi_doc_node(rd->r.doc, node)->count), texts, 3);
  if (block == NULL) {
    rd->memory = true;
    return false;
  }
  if (inherited > 0) {
    memcpy(block->figures, d.like->figures, (size_t)inherited * sizeof *block->figures);
  }
  d.item.figure_count = inherited;
  d.item.figures = block->figures;
  d.item.about = texts[0];
  d.item.standard = texts[1];
  if (!read_figures(rd, &d, block->figures, texts[2]) || !complete(rd, &d, block->figures)) {
    return false;
  }
  rd->memory = !fhi_gear_put(rd->gear, &d.item);
  return !rd->memory;
}

// ---------------------------------------------------------------------------------------------------- the document

static bool read_items(reader *rd, int node) {
  const fhi_node *list = fhi_doc_node(rd->r.doc, node);
  size_t length = fhi_enter(&rd->r, "items", -1);
  if (list->kind != FHI_NODE_LIST || list->count == 0) {
    return fhi_refuse(&rd->r, node, "a list of items, at least one", "items is not a list with entries");
  }
  int index = 0;
  for (int at = list->first; at >= 0; at = fhi_doc_node(rd->r.doc, at)->next) {
    size_t inner = fhi_enter(&rd->r, "", index++);
    if (!read_item(rd, at)) {
      return false;
    }
    fhi_leave(&rd->r, inner);
  }
  fhi_leave(&rd->r, length);
  return true;
}

static bool read_document(reader *rd) {
  int root = fhi_doc_root(rd->r.doc), twice = root < 0 ? -1 : fhi_doc_duplicate(rd->r.doc);
  if (root < 0 || fhi_doc_node(rd->r.doc, root)->kind != FHI_NODE_MAP) {
    return fhi_refuse(&rd->r, root, "firnhaul_gear: 1 and items", "not a gear file");
  }
  if (twice >= 0) {
    char shown[64];
    return fhi_refuse(&rd->r, twice, "each key once", "the key stands twice: %s", fhi_shown(shown, sizeof shown, fhi_doc_text(rd->r.doc, twice)));
  }
  int version = fhi_doc_find(rd->r.doc, root, "firnhaul_gear"), items = fhi_doc_find(rd->r.doc, root, "items");
  if (version < 0 || fhi_doc_node(rd->r.doc, version)->quoted || strcmp(fhi_doc_text(rd->r.doc, version), "1") != 0) {
    return fhi_refuse(&rd->r, version < 0 ? root : version, "firnhaul_gear: 1", "not a gear file of version 1");
  }
  for (int at = fhi_doc_node(rd->r.doc, root)->first; at >= 0; at = fhi_doc_node(rd->r.doc, at)->next) {
    char shown[64];
    if (at != version && at != items) {
      return fhi_refuse(&rd->r, fhi_doc_node(rd->r.doc, at)->key, "firnhaul_gear and items", "unknown key: %s",
                        fhi_shown(shown, sizeof shown, key_text(rd, at)));
    }
  }
  return items >= 0 ? read_items(rd, items) : fhi_refuse(&rd->r, root, "items: a list of items", "the file has no items");
}

static fh_gear *copy_items(const fh_gear *gear) {
  fh_gear *copy = fhi_alloc(1, sizeof *copy);
  fh_item *items = fhi_alloc((size_t)gear->count, sizeof *items);
  if (copy == NULL || items == NULL) {
    fhi_free(copy);
    fhi_free(items);
    return NULL;
  }
  memcpy(items, gear->items, (size_t)gear->count * sizeof *items);
  *copy = (fh_gear){.items = items, .count = gear->count, .blocks = NULL};
  return copy;
}

// The copy's items, and its blocks in front of the old ones: older own items may still be used.
static void swap_in(fh_gear *gear, fh_gear *copy) {
  fhi_gear_block **end = &copy->blocks;
  while (*end != NULL) {
    end = &(*end)->next;
  }
  *end = gear->blocks;
  fhi_free(gear->items);
  *gear = *copy;
  fhi_free(copy);
}

fh_status fh_gear_add(fh_gear *gear, const fh_doc *doc, fh_diag *diag) {
  if (gear == NULL || doc == NULL) {
    return FH_ERR_ARG;
  }
  reader rd = {.r = {.doc = doc, .gear = gear, .diag = diag}, .gear = copy_items(gear)};
  if (rd.gear == NULL) {
    return FH_ERR_MEMORY;
  }
  if (!read_document(&rd)) {
    fh_gear_destroy(rd.gear);
    return rd.memory ? FH_ERR_MEMORY : FH_ERR_INPUT;
  }
  swap_in(gear, rd.gear);
  return FH_OK;
}
