// SPDX-License-Identifier: MIT
// What stands in a parsed document: a tree of maps, lists and scalars, each with its place.
#ifndef FHI_DOC_H
#define FHI_DOC_H

#include "firnhaul.h"

enum {
  FHI_DOC_DEPTH = 32,         ///< nested maps and lists: the scene's table needs 6
  FHI_DOC_NODES = 100000,     ///< keys and values together
  FHI_DOC_TEXT = 1024 * 1024  ///< [byte] of all scalars together, each with its closing NUL
};

typedef enum fhi_node_kind { FHI_NODE_MAP, FHI_NODE_LIST, FHI_NODE_SCALAR } fhi_node_kind;

/// One node. Nodes are known by their index, which also is document order; -1 is none.
typedef struct fhi_node {
  fhi_node_kind kind;
  bool quoted;       ///< scalar: it was quoted, so it is text and never a number
  int line, column;  ///< 1-based
  int key;           ///< the scalar that is its key, when it stands in a map; else -1
  int first, last;   ///< map, list: its values (a map's keys hang on the values)
  int next;          ///< the next value of the same map or list
  int count;         ///< map, list: number of values
  size_t text;       ///< scalar: where its text starts
  size_t length;     ///< [byte] scalar
} fhi_node;

/// The top node. @return -1 when nothing was said, or when the document is unfinished or broken
int fhi_doc_root(const fh_doc *doc);

/// @param index 0 or more, from another node or the root  @return the node, never NULL
const fhi_node *fhi_doc_node(const fh_doc *doc, int index);

/// A scalar's text. UTF-8, ends in NUL, holds no other NUL. Empty for maps and lists.
const char *fhi_doc_text(const fh_doc *doc, int index);

/// The value under a key of a map. @return -1 when the map has no such key, or `map` is no map
int fhi_doc_find(const fh_doc *doc, int map, const char *key);

/// How many nodes there are: the index of the next one.
int fhi_doc_count(const fh_doc *doc);
/// How much text there is: where fhi_doc_rewind goes back to.
size_t fhi_doc_used(const fh_doc *doc);
/// Forgets the text of all scalars that were put anew since: they have to be put again before anything is read.
void fhi_doc_rewind(fh_doc *doc, size_t used);
/// Puts another text in the place of a scalar that is no key. @return FH_OK, FH_ERR_MEMORY, FH_ERR_LIMIT
fh_status fhi_doc_put(fh_doc *doc, int node, const char *text, bool quoted, int line, int column);

/// The first key of the document that stands twice in its map. @return its node (the second of the two), or -1
int fhi_doc_duplicate(const fh_doc *doc);

#endif
