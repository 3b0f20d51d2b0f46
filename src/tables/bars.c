// SPDX-License-Identifier: MIT
// Things a rope slides over: round metal and shafts. Model section 2.
// `efficiency` is force out over force in when raising round 180 degrees. `share` is the part of a bend's cost that does
// not shrink with the angle; measured on tubes and pairs it is 0.1 to 0.45, plain belt friction has 0 (docs/gear.md).
#include "tables.h"

// clang-format off
#define BAR_SHARE \
  {"share", "1", FHI_LIKELY(0.0, 0.0, 0.45), FH_BASIS_PUBLISHED, "delaney-2022", \
   "likely value is plain belt friction; 0.1 to 0.38 follow from tubes at 90 and 180 degrees (p. 88), 0.44 from two carabiners against one [poysti-2020]"}

static const fh_figure AXE_SHAFT[] = {
    {"efficiency", "1", FHI_EXACT(0.50), FH_BASIS_PUBLISHED, "mouflages-table", "bare shaft, K = 2.00; one teaching table"},
    BAR_SHARE,
};
static const fh_figure AXE_SHAFT_GRIPPED[] = {
    {"efficiency", "1", FHI_EXACT(0.36), FH_BASIS_PUBLISHED, "mouflages-table", "shaft with a rubber cover, K = 2.78; one teaching table"},
    BAR_SHARE,
};
static const fh_figure CARABINER[] = {
    {"efficiency", "1", FHI_LIKELY(0.45, 0.53, 0.67), FH_BASIS_PUBLISHED, "prattley-2016", "0.53: 10 mm bar, 9 mm rope; others 0.48 [canyon-friction], 0.57 [mouflages-table], 0.50 [caving-list-2014]; ends 0.45 and 0.67 from memory [microys-1977]"},
    BAR_SHARE,
    {"strength_N", "N", FHI_EXACT(20000.0), FH_BASIS_STANDARD, "en-12275", "type B, major axis, gate closed"},
    {"strength_open_N", "N", FHI_EXACT(7000.0), FH_BASIS_STANDARD, "en-12275", "type B, major axis, gate open"},
    {"strength_cross_N", "N", FHI_EXACT(7000.0), FH_BASIS_STANDARD, "en-12275", "type B, minor axis"},
};
static const fh_figure CARABINER_PAIR[] = {
    {"efficiency", "1", FHI_LIKELY(0.32, 0.40, 0.54), FH_BASIS_PUBLISHED, "poysti-2020", "two side by side: about 13 percentage points worse than one"},
    BAR_SHARE,
    {"strength_N", "N", FHI_EXACT(20000.0), FH_BASIS_STANDARD, "en-12275", "taken as one, the load need not share evenly"},
};
static const fh_figure HMS_CARABINER[] = {
    {"efficiency", "1", FHI_LIKELY(0.45, 0.54, 0.67), FH_BASIS_PUBLISHED, "delaney-2022", "0.54: 12 mm steel bar, 75 kg raised by 140 kg (p. 88); ends as for a carabiner"},
    BAR_SHARE,
    {"strength_N", "N", FHI_EXACT(20000.0), FH_BASIS_STANDARD, "en-12275", "type H, major axis, gate closed"},
    {"strength_open_N", "N", FHI_EXACT(6000.0), FH_BASIS_STANDARD, "en-12275", "type H, major axis, gate open"},
    {"strength_cross_N", "N", FHI_EXACT(7000.0), FH_BASIS_STANDARD, "en-12275", "type H, minor axis"},
};
static const fh_figure POLE[] = {
    {"efficiency", "1", FHI_EXACT(0.55), FH_BASIS_PUBLISHED, "mouflages-table", "ski pole, K = 1.82; one teaching table"},
    BAR_SHARE,
};
static const fh_figure QUICK_LINK[] = {
    {"efficiency", "1", FHI_RANGE(0.54, 0.59), FH_BASIS_PUBLISHED, "delaney-2022", "10 and 12 mm steel bar: 75 kg raised by 127 and 140 kg (p. 88)"},
    BAR_SHARE,
    {"strength_N", "N", FHI_EXACT(25000.0), FH_BASIS_STANDARD, "en-12275", "type Q, major axis"},
    {"strength_cross_N", "N", FHI_EXACT(10000.0), FH_BASIS_STANDARD, "en-12275", "type Q, minor axis"},
};

static const fh_item ITEMS[] = {
    FHI_ITEM("axe-shaft", FH_ITEM_BAR, AXE_SHAFT, "", "bare shaft of an ice axe, rope sliding round it"),
    FHI_ITEM("axe-shaft-gripped", FH_ITEM_BAR, AXE_SHAFT_GRIPPED, "", "shaft of an ice axe with a rubber cover"),
    FHI_ITEM("carabiner", FH_ITEM_BAR, CARABINER, "EN 12275", "connector with a bar of 9 to 12 mm"),
    FHI_ITEM("carabiner-pair", FH_ITEM_BAR, CARABINER_PAIR, "EN 12275", "two carabiners side by side in one bend"),
    FHI_ITEM("hms-carabiner", FH_ITEM_BAR, HMS_CARABINER, "EN 12275", "wide pear-shaped connector, locking, about 12 mm bar"),
    FHI_ITEM("pole", FH_ITEM_BAR, POLE, "", "ski or trekking pole, rope sliding round it"),
    FHI_ITEM("quick-link", FH_ITEM_BAR, QUICK_LINK, "EN 12275", "screw link of 10 to 12 mm steel"),
};
// clang-format on

const fhi_table FHI_BARS = {ITEMS, FHI_COUNT(ITEMS)};
