// SPDX-License-Identifier: MIT
// Limits of what else carries, and figures of people and feet. Model sections 8 and 9.
#include "tables.h"

// clang-format off
static const fh_figure BOOTS_ON_ICE[] = {
    {"friction", "1", FHI_RANGE(0.07, 0.23), FH_BASIS_PUBLISHED, "boots-on-ice-2015", "steepest walkable slope without crampons, 4 to 13 degrees"},
};
static const fh_figure BOOTS_ON_SNOW[] = {
    {"friction", "1", FHI_LIKELY(0.20, 0.40, 0.60), FH_BASIS_MEMORY, "mil-std-1472", "from low traction (0.2 to 0.3) to medium (about 0.6)"},
};
static const fh_figure CRAMPONS[] = {
    {"friction", "1", FHI_LIKELY(0.60, 0.90, 1.20), FH_BASIS_PRACTICE, "", "common practice, no source: crampons or kicked steps in firm snow"},
};
static const fh_figure CREW[] = {
    {"loss_2", "1", FHI_RANGE(0.064, 0.088), FH_BASIS_PUBLISHED, "cayero-2022", "two pullers lose 8.8 % of the sum of their pulls, 6.4 % in another study"},
    {"loss_8", "1", FHI_EXACT(0.197), FH_BASIS_PUBLISHED, "cayero-2022", "eight pullers lose 19.7 %"},
    {"footing_used", "1", FHI_LIKELY(0.60, 1.0, 1.0), FH_BASIS_MEMORY, "mil-std-1472", "part of the feet's friction that steps use: 110 N of pull at friction 0.2 to 0.3 is 0.6 to 0.9 of it for 60 kg; likely value: all of it"},
    {"grip_N", "N", FHI_LIKELY(408.0, 435.0, 462.0), FH_BASIS_PUBLISHED, "young-2009", "one hand on an upright cylinder, 435 +- 27 N"},
    {"grip_diameter_m", "m", FHI_EXACT(0.025), FH_BASIS_MEMORY, "young-2009", "diameter of that cylinder"},
    {"power_W", "W", FHI_LIKELY(50.0, 75.0, 150.0), FH_BASIS_PUBLISHED, "labour-power", "50 to 150 W for an hour, 75 W over a working day"},
    {"power_minutes_W", "W", FHI_LIKELY(75.0, 120.0, 200.0), FH_BASIS_MEMORY, "labour-power", "useful power for some minutes; above the hour's value from memory, likely value between"},
};
static const fh_figure PERSON[] = {
    {"mass_kg", "kg", FHI_RANGE(75.0, 110.0), FH_BASIS_PRACTICE, "", "common practice, no source: a person with kit"},
};
static const fh_figure SIT_HARNESS[] = {
    {"strength_N", "N", FHI_EXACT(15000.0), FH_BASIS_STANDARD, "en-12277", "upright, full size"},
    {"strength_down_N", "N", FHI_EXACT(10000.0), FH_BASIS_STANDARD, "en-12277", "head down, full size"},
};
static const fh_figure SLING[] = {
    {"strength_N", "N", FHI_EXACT(22000.0), FH_BASIS_STANDARD, "en-566", "sewn"},
    {"girth_share", "1", FHI_EXACT(0.5), FH_BASIS_PUBLISHED, "sling-tests", "girth-hitched, about half is left"},
};

static const fh_item ITEMS[] = {
    FHI_ITEM("boots-on-ice", FH_ITEM_OTHER, BOOTS_ON_ICE, "", "feet without crampons on ice"),
    FHI_ITEM("boots-on-snow", FH_ITEM_OTHER, BOOTS_ON_SNOW, "", "feet on snow"),
    FHI_ITEM("crampons", FH_ITEM_OTHER, CRAMPONS, "", "feet in crampons or kicked steps"),
    FHI_ITEM("crew", FH_ITEM_OTHER, CREW, "", "how pulls of several people add up, how feet and hands hold"),
    FHI_ITEM("person", FH_ITEM_OTHER, PERSON, "", "a person with kit"),
    FHI_ITEM("sit-harness", FH_ITEM_OTHER, SIT_HARNESS, "EN 12277", "sit harness"),
    FHI_ITEM("sling", FH_ITEM_OTHER, SLING, "EN 566", "sewn sling"),
};
// clang-format on

const fhi_table FHI_OTHERS = {ITEMS, FHI_COUNT(ITEMS)};
