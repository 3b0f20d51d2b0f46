// SPDX-License-Identifier: MIT
// Pulleys that let the rope run one way and hold it the other way. Model sections 2, 4 and 7.
// Toothless pulleys with a cam, and the two-carabiner capture, are not listed: no measured figures were found in readable
// text. Give your own in an own gear file.
#include "tables.h"

// clang-format off
#define TOOTHED \
  {"sheath_N", "N", FHI_RANGE(4000.0, 12000.0), FH_BASIS_PUBLISHED, "bergundsteigen-ascent", \
   "teeth begin to tear the sheath; 4 kN is also the test load of EN 567 [en-567] and the lowest published damage [kletterblatt-2016]"}, \
  {"set_back_m", "m", FHI_LIKELY(0.005, 0.015, 0.04), FH_BASIS_PRACTICE, "", "common practice, no source: rope lost as the teeth bite at each reset"}
#define SHEAVE_SHARE \
  {"share", "1", FHI_LIKELY(0.31, 0.5, 0.67), FH_BASIS_PUBLISHED, "poysti-2020", "as for a pulley: 0.842 round 180 degrees, 0.747 round twice 90"}

static const fh_figure BELAY_PLATE[] = {
    {"efficiency", "1", FHI_LIKELY(0.20, 0.30, 0.40), FH_BASIS_PUBLISHED, "poysti-2020", "0.30 for belay devices in self-locking mode, called not even pessimistic; the ends are a guess around it"},
    {"share", "1", FHI_RANGE(0.0, 1.0), FH_BASIS_PRACTICE, "", "common practice, no source: not known how the loss depends on the angle"},
    {"strength_N", "N", FHI_EXACT(7000.0), FH_BASIS_MEMORY, "en-15151", "static test of a manual braking device"},
    {"set_back_m", "m", FHI_LIKELY(0.01, 0.03, 0.08), FH_BASIS_PRACTICE, "", "common practice, no source: rope lost before it pinches"},
};
static const fh_figure TOOTHED_CAPTURE[] = {
    {"efficiency", "1", FHI_LIKELY(0.81, 0.88, 0.93), FH_BASIS_MEMORY, "", "0.85 to 0.93 from memory; the low end from a measured ball-bearing wheel of the same size [mouflages-table]"},
    SHEAVE_SHARE,
    {"strength_N", "N", FHI_EXACT(12000.0), FH_BASIS_MEMORY, "en-12278", "as a pulley; 12 kN and 15 kN are both quoted, the lower is used"},
    TOOTHED,
};
static const fh_figure TOOTHED_CAPTURE_PLAIN[] = {
    {"efficiency", "1", FHI_LIKELY(0.65, 0.71, 0.80), FH_BASIS_PUBLISHED, "mouflages-table", "0.71 in a teaching table; the ends are a guess around it"},
    SHEAVE_SHARE,
    {"strength_N", "N", FHI_EXACT(12000.0), FH_BASIS_MEMORY, "en-12278", "as a pulley; 12 kN and 15 kN are both quoted, the lower is used"},
    TOOTHED,
};

static const fh_item ITEMS[] = {
    FHI_ITEM("belay-plate", FH_ITEM_CAPTURE, BELAY_PLATE, "EN 15151-2", "belay plate in self-locking mode: no teeth, much friction, hard to release under load"),
    FHI_ITEM("toothed-capture", FH_ITEM_CAPTURE, TOOTHED_CAPTURE, "EN 567, EN 12278", "pulley with a toothed cam, ball bearing"),
    FHI_ITEM("toothed-capture-plain", FH_ITEM_CAPTURE, TOOTHED_CAPTURE_PLAIN, "EN 567, EN 12278", "pulley with a toothed cam, older, plain bearing"),
};
// clang-format on

const fhi_table FHI_CAPTURES = {ITEMS, FHI_COUNT(ITEMS)};
