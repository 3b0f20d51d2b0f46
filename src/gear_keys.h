// SPDX-License-Identifier: MIT
// The keys of an own gear file: from this one table come reader, error messages and docs/gear.md.
#ifndef FHI_GEAR_KEYS_H
#define FHI_GEAR_KEYS_H

#include "firnhaul.h"

struct fhi_reading;

/// A figure as an own gear file writes it.
typedef struct fhi_gear_key {
  const char *key;   ///< as written: ends in its unit
  const char *what;  ///< the figure that it becomes
  const char *unit;  ///< unit of that figure
  double up, down;   ///< figure = written * up / down
  double lo, hi;     ///< accepted, as written
  unsigned classes;  ///< 1 << item class
  const char *help;
} fhi_gear_key;

const fhi_gear_key *fhi_gear_keys(int *count);  ///< @return the table, in the order of the docs
const fhi_gear_key *fhi_gear_key_find(const char *key);  ///< @return the row, or NULL

/// Reads one figure's number. Refuses with its place. @return false when refused, `out` is then untouched
bool fhi_gear_number(struct fhi_reading *r, int node, const fhi_gear_key *key, fh_number *out);

/// The class of a name as written: bar, sheave, ... @return false when there is none
bool fhi_gear_class_find(const char *name, fh_item_class *out);
extern const char FHI_GEAR_CLASSES[];                       ///< all of them, for messages

#endif
