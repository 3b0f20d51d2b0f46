// SPDX-License-Identifier: MIT
// The scene's table, as the reader and the writer see it: each key's form, and where its value goes.
#ifndef FHI_KEYS_H
#define FHI_KEYS_H

#include "firnhaul.h"

/// How a value is written, and so what type its place in memory has.
typedef enum fhi_form {
  FHI_FORM_NUMBER,   ///< fh_number: value, range or distribution
  FHI_FORM_PLAIN,    ///< double: one exact number
  FHI_FORM_RANGE,    ///< fh_number: [low, high] only
  FHI_FORM_INTEGER,  ///< int
  FHI_FORM_FLAG,     ///< bool
  FHI_FORM_TEXT,     ///< char[]: any text without control characters, may be empty
  FHI_FORM_NAME,     ///< char[FH_NAME]: the same, not empty
  FHI_FORM_ITEM,     ///< int: index into the gear, or -1
  FHI_FORM_CHOICE,   ///< enum of int size: place in `choices`
  FHI_FORM_MAP,
  FHI_FORM_LIST,  ///< of maps
} fhi_form;

/// What an absent map means, and who reads a map or list.
typedef enum fhi_way {
  FHI_WAY_PLAIN,     ///< absent: its keys take their defaults
  FHI_WAY_OPTIONAL,  ///< absent: nothing of it is there, all its numbers are unset
  FHI_WAY_OWN,       ///< the generic reader only checks that it is a map or list; its owner reads what is in it
} fhi_way;

/// Where the value of a row goes. Offsets are from the innermost list entry, or from the scene.
typedef struct fhi_bind {
  fhi_form form;
  fhi_way way;
  size_t at;        ///< [byte] list: its first entry; text, name: its first byte
  size_t size;      ///< [byte] text, name: room; list: one entry
  size_t count_at;  ///< [byte] list: where the int with the number of entries is
  size_t place_at;  ///< [byte] list: line and column (two ints) within an entry
} fhi_bind;

/// @param row an index into fh_key_list
const fhi_bind *fhi_key_bind(int row);

/// The row of a key within a map. @param parent the map's row, or -1 for the top  @param key as written, without [] @return row, or -1
int fhi_key_child(int parent, const char *key);

/// The rows directly within a map or list entry, in document order. @param after -1 to start, else the last one found @return row, or -1
int fhi_key_next(int parent, int after);

/// The row of a path such as "rig.ropes[].path[]". @return row, or -1
int fhi_key_row(const char *path);

/// The key as written in its map: "mass_kg" for "crew[].mass_kg", "crew" for "crew[]".
void fhi_key_name(int row, char *to, size_t size);

/// One station of a path as it was said, before names are looked up.
typedef struct fhi_said_station {
  char tie[FH_NAME], run[FH_NAME];
  int edge, hand, toward, item;  ///< edge, hand: 0 when said; toward: place in back|lip; all -1 when not
  bool loose, reversed;
  fh_number efficiency, efficiency_range, friction, slack, angle;
} fhi_said_station;

/// One rope's path or one grip as it was said.
typedef struct fhi_said_path {
  char name[FH_NAME], of[FH_NAME];
} fhi_said_path;

typedef struct fhi_said_grip {
  char body[FH_NAME], rope[FH_NAME];
  int item, after;
  double at;
} fhi_said_grip;

/// Document units to SI and back. @param unit a row's unit: kg, m, s, N, m/s, 1, deg, mm, kN, or "" for a count
double fhi_to_si(const char *unit, double value);
/// The document's number that reads back as exactly `si` where one exists, else as near as can be.
double fhi_from_si(const char *unit, double si);

#endif
