// SPDX-License-Identifier: MIT
// Reading a document by the scene's table: forms, units, ranges, defaults; and the one way in which an input is refused.
#ifndef FHI_READ_H
#define FHI_READ_H

#include "doc.h"
#include "keys.h"

/// What reading carries along. `path` is the key path for the diagnostic, with the numbers of list entries.
typedef struct fhi_reading {
  const fh_doc *doc;
  const fh_gear *gear;
  fh_diag *diag;  ///< may be NULL
  char path[128];
} fhi_reading;

/// Where in the document each part of the rig was said.
typedef struct fhi_rig_nodes {
  int path[FH_MAX_PATHS];  ///< the map with name and path
  int station[FH_MAX_STATIONS];
  int grip[FH_MAX_GRIPS];
} fhi_rig_nodes;

/// fh_scene_create in room that is there already. @param nodes filled  @return FH_OK; FH_ERR_INPUT with `diag` filled
fh_status fhi_scene_fill(const fh_doc *doc, const fh_gear *gear, fh_scene *scene, fhi_rig_nodes *nodes, fh_diag *diag);

/// A value at the top of a scene's document, and its row in the table.
typedef struct fhi_top {
  int node, row;
} fhi_top;

/// Reads a scene again after scalars of its document were put anew, none of them in `rig` or `ropes`.
/// @param tops all that hold one  @param nodes,scene as fhi_scene_fill or this left them, with FH_OK, for the same document
/// @return as fhi_scene_fill
fh_status fhi_scene_fill_again(const fh_doc *doc, const fh_gear *gear, const fhi_top *tops, int count, fhi_rig_nodes *nodes, fh_scene *scene,
                               fh_diag *diag);

/// Refuses: fills the diagnostic with a place, the current path, and what is accepted. @return false, always
bool fhi_refuse(fhi_reading *r, int node, const char *accepted, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 4, 5)))
#endif
    ;

/// Text of the document made fit to be shown in a message: at most 40 bytes, control characters as '?'. @return to
const char *fhi_shown(char *to, size_t size, const char *text);

/// Refusals that every map and value share: another form than the row's; a key that the map does not know; one that it misses.
/// @param what what is wrong; a scalar's own text is shown behind it  @return false, always
bool fhi_refuse_form(fhi_reading *r, int node, int row, const char *what);
bool fhi_refuse_key(fhi_reading *r, int key, int row);
bool fhi_refuse_missing(fhi_reading *r, int node, int row);

/// Bytes of the control character that `text` starts with, 0 when it starts with none.
size_t fhi_control_here(const char *text);

/// Goes down to a key or (with index 0 or more) to a list entry. @return the old length of the path, for fhi_leave
size_t fhi_enter(fhi_reading *r, const char *key, int index);
void fhi_leave(fhi_reading *r, size_t length);

/// Reads a map by the rows of the table within `row`: unknown keys, missing keys, forms, ranges; fills in defaults.
/// @param object what the rows' offsets are from
bool fhi_read_map(fhi_reading *r, int node, int row, void *object);

/// Reads one value by its row. @param object what the row's offset is from
bool fhi_read_value(fhi_reading *r, int node, int row, void *object);

/// Sets every key within `row` to its default, or (with_defaults false) every number to unset.
void fhi_fill(fhi_reading *r, int row, void *object, bool with_defaults);

/// Checks that a node is a list with a number of entries that the row allows.
bool fhi_read_list(fhi_reading *r, int node, int row);

/// Reads a number, a range or a distribution. @param form FHI_FORM_NUMBER, FHI_FORM_RANGE or FHI_FORM_PLAIN
bool fhi_read_number(fhi_reading *r, int node, const fh_key *key, fhi_form form, fh_number *out);

/// A number as the table writes its default: "80" or "[0.2, 0.4]"; unset when it is in words. In SI.
fh_number fhi_default_number(const fh_key *key);

/// What a row accepts, in words.
void fhi_accepts(const fhi_reading *r, int row, char *to, size_t size);

/// Place of a word in "a|b|c". @return 0 or more, or -1
int fhi_choice(const char *choices, const char *word);

#endif
