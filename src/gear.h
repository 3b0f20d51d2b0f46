// SPDX-License-Identifier: MIT
// The catalogue as it stands in memory: built-in rows by reference, own items with the memory they need.
#ifndef FHI_GEAR_H
#define FHI_GEAR_H

#include "firnhaul.h"

/// Memory of one own item: its texts and figures. Kept until the gear goes.
typedef struct fhi_gear_block {
  struct fhi_gear_block *next;
  fh_figure *figures;
  char *text;
} fhi_gear_block;

struct fh_gear {
  fh_item *items;  ///< sorted by class, then name
  int count;
  fhi_gear_block *blocks;
};

/// Takes over an item, replacing the one of the same name. @return false when there is no memory, the gear is then as before
bool fhi_gear_put(fh_gear *gear, const fh_item *item);

/// Items, all own ones included, at most. Names stay searchable and a hostile file bounded.
enum { FHI_MAX_ITEMS = 1000 };

#endif
