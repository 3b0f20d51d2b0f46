// SPDX-License-Identifier: MIT
// The built-in catalogue: one table a class of gear. Rows and sources, nothing else.
// A row's basis: PUBLISHED read in a public text (or computed from one), STANDARD a limit, PRACTICE common practice
// without a source, MEMORY written from memory of the source. Where sources disagree the row is a range.
#ifndef FHI_TABLES_H
#define FHI_TABLES_H

#include "firnhaul.h"

typedef struct fhi_table {
  const fh_item *items;  ///< sorted by name
  int count;
} fhi_table;

extern const fhi_table FHI_BARS, FHI_SHEAVES, FHI_CAPTURES, FHI_HITCHES, FHI_SURFACES, FHI_ROPES, FHI_POSTURES,
    FHI_ANCHORS, FHI_OTHERS;

extern const fh_reference FHI_REFERENCES[];  ///< sorted by key
extern const int FHI_REFERENCE_COUNT;

/// Numbers of a row: one value; a range whose middle is as likely as anything; a range with its likely value.
#define FHI_EXACT(x) {FH_SPREAD_EXACT, (x), (x), (x), 0.0, 0, 0}
#define FHI_RANGE(a, b) {FH_SPREAD_UNIFORM, (a), 0.5 * ((a) + (b)), (b), 0.0, 0, 0}
#define FHI_LIKELY(a, x, b) {FH_SPREAD_TRIANGLE, (a), (x), (b), 0.0, 0, 0}

#define FHI_COUNT(a) ((int)(sizeof(a) / sizeof(a)[0]))

/// An item whose figures stand in the array `rows`.
#define FHI_ITEM(name, item_class, rows, standard, about) {name, item_class, about, standard, rows, FHI_COUNT(rows)}

#endif
