// SPDX-License-Identifier: MIT
// What does the document say, and where? A tree built from events, so that any YAML or JSON reader can feed it.
// Bounded in depth, nodes and text; the order of events is checked; keys that stand twice are found in n log n.
#include "doc.h"

#include <string.h>

#include "memory.h"

struct fh_doc {
  fhi_node *nodes;
  char *text;
  int count, room;
  size_t used, size;
  int stack[FHI_DOC_DEPTH];  // open maps and lists
  int depth;
  int key;  // a key that waits for its value, or -1
  int duplicate;
  bool complete;     // the top node has ended
  fh_status broken;  // the first failure: all later events repeat it
};

fh_status fh_doc_create(fh_doc **out) {
  if (out == NULL) {
    return FH_ERR_ARG;
  }
  *out = fhi_alloc(1, sizeof(fh_doc));
  if (*out == NULL) {
    return FH_ERR_MEMORY;
  }
  (*out)->key = -1;
  (*out)->duplicate = -1;
  return FH_OK;
}

void fh_doc_destroy(fh_doc *doc) {
  if (doc != NULL) {
    fhi_free(doc->nodes);
    fhi_free(doc->text);
    fhi_free(doc);
  }
}

static fh_status broke(fh_doc *doc, fh_status status) {
  doc->broken = status;
  return status;
}

// ---------------------------------------------------------------------------------------------------- growing

static fh_status room_for_node(fh_doc *doc) {
  if (doc->count < doc->room) {
    return FH_OK;
  }
  if (doc->count >= FHI_DOC_NODES) {
    return FH_ERR_LIMIT;
  }
  int room = doc->room == 0 ? 128 : doc->room * 2;
  if (room > FHI_DOC_NODES) {
    room = FHI_DOC_NODES;
  }
  fhi_node *nodes = fhi_realloc(doc->nodes, (size_t)room, sizeof *nodes);
  if (nodes == NULL) {
    return FH_ERR_MEMORY;
  }
  doc->nodes = nodes;
  doc->room = room;
  return FH_OK;
}

static fh_status keep_text(fh_doc *doc, const char *text, size_t count, size_t *at) {
  if (count >= FHI_DOC_TEXT || doc->used + count + 1 > FHI_DOC_TEXT) {
    return FH_ERR_LIMIT;
  }
  size_t need = doc->used + count + 1;
  if (need > doc->size) {
    size_t size = doc->size == 0 ? 1024 : doc->size;
    while (size < need) {
      size *= 2;
    }
    char *grown = fhi_realloc(doc->text, size, 1);
    if (grown == NULL) {
      return FH_ERR_MEMORY;
    }
    doc->text = grown;
    doc->size = size;
  }
  if (count > 0) {
    memcpy(doc->text + doc->used, text, count);
  }
  doc->text[doc->used + count] = '\0';
  *at = doc->used;
  doc->used = need;
  return FH_OK;
}

// ---------------------------------------------------------------------------------------------------- events

// A map waits for a key, or has one and waits for its value.
static bool wants_key(const fh_doc *doc) {
  return doc->depth > 0 && doc->nodes[doc->stack[doc->depth - 1]].kind == FHI_NODE_MAP && doc->key < 0;
}

// Hangs the newest node into the open map or list.
static void hang(fh_doc *doc, int index) {
  doc->nodes[index].key = doc->key;
  doc->key = -1;
  if (doc->depth == 0) {
    return;
  }
  fhi_node *parent = &doc->nodes[doc->stack[doc->depth - 1]];
  if (parent->last < 0) {
    parent->first = index;
  } else {
    doc->nodes[parent->last].next = index;
  }
  parent->last = index;
  parent->count++;
}

static fh_status add_node(fh_doc *doc, fhi_node_kind kind, int line, int column, int *index) {
  fh_status status = room_for_node(doc);
  if (status != FH_OK) {
    return status;
  }
  *index = doc->count++;
  doc->nodes[*index] =
      (fhi_node){.kind = kind, .line = line, .column = column, .key = -1, .first = -1, .last = -1, .next = -1};
  return FH_OK;
}

static fh_status begin(fh_doc *doc, fhi_node_kind kind, int line, int column) {
  if (doc == NULL) {
    return FH_ERR_ARG;
  }
  if (doc->broken != FH_OK) {
    return doc->broken;
  }
  if (doc->complete || wants_key(doc)) {
    return broke(doc, FH_ERR_ARG);  // a second document, or a map or list as a key
  }
  if (doc->depth == FHI_DOC_DEPTH) {
    return broke(doc, FH_ERR_LIMIT);
  }
  int index = -1;
  fh_status status = add_node(doc, kind, line, column, &index);
  if (status != FH_OK) {
    return broke(doc, status);
  }
  hang(doc, index);
  doc->stack[doc->depth++] = index;
  return FH_OK;
}

fh_status fh_doc_map_begin(fh_doc *doc, int line, int column) {
  return begin(doc, FHI_NODE_MAP, line, column);
}

fh_status fh_doc_list_begin(fh_doc *doc, int line, int column) {
  return begin(doc, FHI_NODE_LIST, line, column);
}

static fh_status end(fh_doc *doc, fhi_node_kind kind) {
  if (doc == NULL) {
    return FH_ERR_ARG;
  }
  if (doc->broken != FH_OK) {
    return doc->broken;
  }
  if (doc->depth == 0 || doc->nodes[doc->stack[doc->depth - 1]].kind != kind || doc->key >= 0) {
    return broke(doc, FH_ERR_ARG);  // nothing open, the other kind open, or a key without its value
  }
  doc->depth--;
  doc->complete = doc->depth == 0;
  return FH_OK;
}

fh_status fh_doc_list_end(fh_doc *doc) {
  return end(doc, FHI_NODE_LIST);
}

// UTF-8 as RFC 3629 has it: no surrogates, nothing overlong, nothing above U+10FFFF; and no NUL.
static bool good_text(const char *text, size_t count) {
  const unsigned char *p = (const unsigned char *)text;
  for (size_t i = 0; i < count;) {
    unsigned char c = p[i];
    size_t more = c < 0x80 ? 0 : c < 0xC2 ? 9 : c < 0xE0 ? 1 : c < 0xF0 ? 2 : c < 0xF5 ? 3 : 9;
    if (c == 0 || more == 9 || more > count - i - 1) {
      return false;
    }
    for (size_t k = 1; k <= more; k++) {
      if ((p[i + k] & 0xC0) != 0x80) {
        return false;
      }
    }
    bool overlong = (c == 0xE0 && p[i + 1] < 0xA0) || (c == 0xF0 && p[i + 1] < 0x90);
    bool outside = (c == 0xED && p[i + 1] >= 0xA0) || (c == 0xF4 && p[i + 1] >= 0x90);
    if (overlong || outside) {
      return false;
    }
    i += more + 1;
  }
  return true;
}

fh_status fh_doc_scalar(fh_doc *doc, const char *text, size_t count, bool quoted, int line, int column) {
  if (doc == NULL || (text == NULL && count > 0)) {
    return FH_ERR_ARG;
  }
  if (doc->broken != FH_OK) {
    return doc->broken;
  }
  if (doc->complete || !good_text(text, count)) {
    return broke(doc, FH_ERR_ARG);
  }
  int index = -1;
  size_t at = 0;
  fh_status status = add_node(doc, FHI_NODE_SCALAR, line, column, &index);
  if (status == FH_OK) {
    status = keep_text(doc, text, count, &at);
  }
  if (status != FH_OK) {
    return broke(doc, status);
  }
  doc->nodes[index].text = at;
  doc->nodes[index].length = count;
  doc->nodes[index].quoted = quoted;
  if (wants_key(doc)) {
    doc->key = index;
  } else {
    hang(doc, index);
    doc->complete = doc->depth == 0;
  }
  return FH_OK;
}

// ---------------------------------------------------------------------------------------------------- keys twice

static const char *key_text(const fh_doc *doc, int key) {
  return doc->text + doc->nodes[key].text;
}

// By text, and equal texts by place, so that the second of two follows the first.
static bool before(const fh_doc *doc, int a, int b) {
  int order = strcmp(key_text(doc, a), key_text(doc, b));
  return order < 0 || (order == 0 && a < b);
}

static void sift(const fh_doc *doc, int *heap, int top, int count) {
  for (int child = 2 * top + 1; child < count; child = 2 * top + 1) {
    if (child + 1 < count && before(doc, heap[child], heap[child + 1])) {
      child++;
    }
    if (!before(doc, heap[top], heap[child])) {
      return;
    }
    int swap = heap[top];
    heap[top] = heap[child];
    heap[child] = swap;
    top = child;
  }
}

// Heap sort: n log n in the worst case, no recursion, nothing allocated here.
static void sort_keys(const fh_doc *doc, int *keys, int count) {
  for (int top = count / 2 - 1; top >= 0; top--) {
    sift(doc, keys, top, count);
  }
  for (int left = count - 1; left > 0; left--) {
    int swap = keys[0];
    keys[0] = keys[left];
    keys[left] = swap;
    sift(doc, keys, 0, left);
  }
}

fh_status fh_doc_map_end(fh_doc *doc) {
  int map = doc != NULL && doc->depth > 0 ? doc->stack[doc->depth - 1] : -1;
  fh_status status = end(doc, FHI_NODE_MAP);
  if (status != FH_OK || doc->nodes[map].count < 2) {
    return status;
  }
  int count = doc->nodes[map].count;
  int *keys = fhi_alloc((size_t)count, sizeof *keys);
  if (keys == NULL) {
    return broke(doc, FH_ERR_MEMORY);
  }
  int n = 0;
  for (int v = doc->nodes[map].first; v >= 0; v = doc->nodes[v].next) {
    keys[n++] = doc->nodes[v].key;
  }
  sort_keys(doc, keys, n);
  for (int i = 1; i < n; i++) {
    bool twice = strcmp(key_text(doc, keys[i - 1]), key_text(doc, keys[i])) == 0;
    if (twice && (doc->duplicate < 0 || keys[i] < doc->duplicate)) {
      doc->duplicate = keys[i];
    }
  }
  fhi_free(keys);
  return FH_OK;
}

// ---------------------------------------------------------------------------------------------------- reading

int fhi_doc_root(const fh_doc *doc) {
  return doc != NULL && doc->complete && doc->broken == FH_OK ? 0 : -1;
}

const fhi_node *fhi_doc_node(const fh_doc *doc, int index) {
  return &doc->nodes[index];
}

const char *fhi_doc_text(const fh_doc *doc, int index) {
  return doc->nodes[index].kind == FHI_NODE_SCALAR ? doc->text + doc->nodes[index].text : "";
}

int fhi_doc_find(const fh_doc *doc, int map, const char *key) {
  if (doc->nodes[map].kind != FHI_NODE_MAP) {
    return -1;
  }
  for (int v = doc->nodes[map].first; v >= 0; v = doc->nodes[v].next) {
    if (strcmp(key_text(doc, doc->nodes[v].key), key) == 0) {
      return v;
    }
  }
  return -1;
}

int fhi_doc_duplicate(const fh_doc *doc) {
  return doc->duplicate;
}

// ---------------------------------------------------------------------------------------------------- put anew

int fhi_doc_count(const fh_doc *doc) {
  return doc->count;
}

size_t fhi_doc_used(const fh_doc *doc) {
  return doc->used;
}

void fhi_doc_rewind(fh_doc *doc, size_t used) {
  doc->used = used;
}

fh_status fhi_doc_put(fh_doc *doc, int node, const char *text, bool quoted, int line, int column) {
  fhi_node *n = &doc->nodes[node];
  n->length = strlen(text);
  n->quoted = quoted;
  n->line = line;
  n->column = column;
  return keep_text(doc, text, n->length, &n->text);
}
