// SPDX-License-Identifier: MIT
// Wheels a rope runs over. Model section 2: `share` of the cost is the rope's bending, the rest the bearing.
#include "tables.h"

// clang-format off
#define SHEAVE_SHARE \
  {"share", "1", FHI_LIKELY(0.31, 0.5, 0.67), FH_BASIS_PUBLISHED, "poysti-2020", \
   "one bend of 180 degrees keeps 0.842 +- 0.005, two of 90 degrees 0.747 +- 0.006 of the force: share 0.48, 0.31 to 0.67 at the ends of these errors"}
#define PULLEY_STRENGTH \
  {"strength_N", "N", FHI_EXACT(12000.0), FH_BASIS_MEMORY, "en-12278", \
   "least strength of the whole pulley; 12 kN and 15 kN are both quoted, the lower is used; no standard asks for an efficiency"}

static const fh_figure LARGE_PULLEY[] = {
    {"efficiency", "1", FHI_LIKELY(0.88, 0.90, 0.98), FH_BASIS_PUBLISHED, "poysti-2020", "0.90 measured by an independent series, 0.89 implied by a measured rig [forum-2007]; makers give 0.95 to 0.98 [caving-list-2014]"},
    SHEAVE_SHARE,
    PULLEY_STRENGTH,
};
static const fh_figure PULLEY[] = {
    {"efficiency", "1", FHI_LIKELY(0.81, 0.90, 0.97), FH_BASIS_PUBLISHED, "mouflages-table", "one 25 mm ball-bearing wheel measured 0.81, 0.84, 0.91 on 10.5, 8, 6 mm rope (6.75 kg); makers give 0.91 to 0.97 [caving-list-2014]"},
    SHEAVE_SHARE,
    PULLEY_STRENGTH,
};
static const fh_figure ROLLER_CARABINER[] = {
    {"efficiency", "1", FHI_RANGE(0.59, 0.82), FH_BASIS_PUBLISHED, "mouflages-table", "about 0.82 (a digit is hard to read); a maker's 21 mm plastic roller 0.59 [caving-list-2014]"},
    SHEAVE_SHARE,
    {"strength_N", "N", FHI_EXACT(20000.0), FH_BASIS_STANDARD, "en-12275", "the carabiner carries"},
};
static const fh_figure SMALL_PULLEY[] = {
    {"efficiency", "1", FHI_LIKELY(0.70, 0.80, 0.85), FH_BASIS_PUBLISHED, "poysti-2020", "about 0.80 and 0.842 on small wheels; 0.83 on 25 mm [prattley-2016], 0.71 to 0.74 [mouflages-table]"},
    SHEAVE_SHARE,
    PULLEY_STRENGTH,
};

static const fh_item ITEMS[] = {
    FHI_ITEM("large-pulley", FH_ITEM_SHEAVE, LARGE_PULLEY, "EN 12278", "ball-bearing pulley, wheel of about 40 to 50 mm"),
    FHI_ITEM("pulley", FH_ITEM_SHEAVE, PULLEY, "EN 12278", "ball-bearing pulley, wheel of about 25 mm"),
    FHI_ITEM("roller-carabiner", FH_ITEM_SHEAVE, ROLLER_CARABINER, "EN 12275", "carabiner with a roller clipped on its bar"),
    FHI_ITEM("small-pulley", FH_ITEM_SHEAVE, SMALL_PULLEY, "EN 12278", "small pulley with a plain bearing"),
};
// clang-format on

const fhi_table FHI_SHEAVES = {ITEMS, FHI_COUNT(ITEMS)};
