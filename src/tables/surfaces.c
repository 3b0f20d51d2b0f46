// SPDX-License-Identifier: MIT
// What the rope bends over at the lip. Model section 2: belt friction `friction` over the turn.
// No friction coefficient of a rope on a snow lip has been published; two measured lips stand behind these ranges.
#include "tables.h"

// clang-format off
static const fh_figure CUT[] = {
    {"friction", "1", FHI_LIKELY(0.40, 0.44, 0.80), FH_BASIS_PUBLISHED, "forum-2007", "80 kg took about 160 kgf over a raw lip: 0.44 over 90 degrees; the high end is practice"},
};
static const fh_figure FIRN[] = {
    {"friction", "1", FHI_LIKELY(0.20, 0.30, 0.50), FH_BASIS_PRACTICE, "", "common practice, no source: bare snow 0.2 to 0.5, before the rope cuts in"},
};
static const fh_figure ICE[] = {
    {"friction", "1", FHI_LIKELY(0.02, 0.10, 0.30), FH_BASIS_MEMORY, "", "pure sliding on ice 0.02 to 0.1; an edge that the rope bites costs more"},
};
static const fh_figure PADDED[] = {
    {"friction", "1", FHI_LIKELY(0.05, 0.15, 0.28), FH_BASIS_PUBLISHED, "forum-2007", "80 kg took about 124 kgf over a smooth axe shaft: 0.28 over 90 degrees; the low end is an assumption"},
};
static const fh_figure ROCK[] = {
    {"friction", "1", FHI_LIKELY(0.30, 0.44, 0.60), FH_BASIS_PUBLISHED, "delaney-2022", "0.44 measured on a concrete edge (p. 88); rock 0.3 to 0.5 and more from memory [attaway-1999]"},
};

static const fh_item ITEMS[] = {
    FHI_ITEM("cut", FH_ITEM_SURFACE, CUT, "", "raw lip, the rope has cut in"),
    FHI_ITEM("firn", FH_ITEM_SURFACE, FIRN, "", "bare firn or hard snow, rounded, no cut yet"),
    FHI_ITEM("ice", FH_ITEM_SURFACE, ICE, "", "bare ice, rounded edge"),
    FHI_ITEM("padded", FH_ITEM_SURFACE, PADDED, "", "padded lip: axe shaft, ski, pack, pole under the rope"),
    FHI_ITEM("rock", FH_ITEM_SURFACE, ROCK, "", "rock edge; may cut the rope"),
};
// clang-format on

const fhi_table FHI_SURFACES = {ITEMS, FHI_COUNT(ITEMS)};
