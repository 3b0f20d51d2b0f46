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
static const fh_figure CLOTHING_ON_SNOW[] = {
    {"friction", "1", FHI_RANGE(0.19, 0.48), FH_BASIS_PUBLISHED, "nachbauer-2016", "ski fabrics sliding on snow; the force rises with pressure; slides on hard firn speak for less: 0.03 [firn-slide-bulletin], 0.09 or 0.36 [firn-slide-guides-2018]"},
};
static const fh_figure CRAMPONS[] = {
    {"friction", "1", FHI_LIKELY(0.60, 0.90, 1.20), FH_BASIS_PRACTICE, "", "common practice, no source: crampons or kicked steps in firm snow"},
};
static const fh_figure CREW[] = {
    {"loss_2", "1", FHI_RANGE(0.064, 0.088), FH_BASIS_PUBLISHED, "cayero-2022", "two pullers lose 8.8 % of the sum of their pulls, 6.4 % in another study"},
    {"loss_8", "1", FHI_EXACT(0.197), FH_BASIS_PUBLISHED, "cayero-2022", "eight pullers lose 19.7 %"},
    {"footing_used", "1", FHI_LIKELY(0.60, 1.0, 1.0), FH_BASIS_MEMORY, "mil-std-1472", "part of the feet's friction that steps use: 110 N of pull at friction 0.2 to 0.3 is 0.6 to 0.9 of it for 60 kg; likely value: all of it"},
    {"grip_N", "N", FHI_LIKELY(408.0, 435.0, 462.0), FH_BASIS_PUBLISHED, "young-2009", "one hand on an upright cylinder, 435 +- 27 N"},
    {"grip_thin", "1", FHI_LIKELY(0.77, 0.9, 1.0), FH_BASIS_PUBLISHED, "gloves-2021", "what thin gloves leave of the grip: work gloves took up to 22.9 % on average; one of seven under 10 % [niosh-gloves]"},
    {"grip_thick", "1", FHI_LIKELY(0.5, 0.69, 0.76), FH_BASIS_PUBLISHED, "willms-2009", "what thick gloves leave: 3.1 mm of rubber took 31 +- 6.8 %, four padded gloves over 29 % [niosh-gloves]; low end: a space suit's glove without pressure [appendino-2014]"},
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
// Three scales of the hand test differ by ten times and more: decades of strength (Colbeck 1990, from memory), a glacier
// education site's pressures, and ram resistance over the ram's area (ICSSG 2009, from memory). Rows span them; likely
// values and the cap come from what buried anchors held.
static const fh_figure SNOW[] = {
    {"bearing_most_Pa", "Pa", FHI_EXACT(250000.0), FH_BASIS_PUBLISHED, "nz-sar-2008", "computed: the most that a pull test implies, 10 kN on 0.04 m2; no hand test is taken to promise more"},
    {"shear_Pa", "Pa", FHI_LIKELY(5000.0, 15000.0, 60000.0), FH_BASIS_PRACTICE, "", "common practice, no source: low end shear frames at 500 kg/m3 and high end firn, both from memory; likely value follows from 10 kN held at half a metre"},
};
static const fh_figure SNOW_FIST[] = {
    {"bearing_Pa", "Pa", FHI_LIKELY(500.0, 5000.0, 40000.0), FH_BASIS_MEMORY, "icssg-2009", "ram 0 to 50 N [sulser-slides] over 1,260 mm2; decade below 1 kPa; about 1 kPa [hand-test-site]; the class is known to lie below what is measured [holler-fromm-2010]"},
};
static const fh_figure SNOW_FOUR[] = {
    {"bearing_Pa", "Pa", FHI_LIKELY(1000.0, 20000.0, 140000.0), FH_BASIS_MEMORY, "icssg-2009", "ram 50 to 175 N; decade 1 to 10 kPa; about 2.5 kPa [hand-test-site]; the class is known to lie below what is measured [holler-fromm-2010]"},
};
static const fh_figure SNOW_KNIFE[] = {
    {"bearing_Pa", "Pa", FHI_LIKELY(100000.0, 250000.0, 1000000.0), FH_BASIS_MEMORY, "icssg-2009", "ram 715 to 1,200 N; decade above 1,000 kPa; about 98 kPa [hand-test-site]"},
};
static const fh_figure SNOW_ONE[] = {
    {"bearing_Pa", "Pa", FHI_LIKELY(10000.0, 100000.0, 310000.0), FH_BASIS_MEMORY, "icssg-2009", "ram 175 to 390 N; decade 10 to 100 kPa; about 10 kPa [hand-test-site]"},
};
static const fh_figure SNOW_PENCIL[] = {
    {"bearing_Pa", "Pa", FHI_LIKELY(50000.0, 175000.0, 1000000.0), FH_BASIS_MEMORY, "icssg-2009", "ram 390 to 715 N; decade 100 to 1,000 kPa; about 49 kPa [hand-test-site]; buried anchors in strong snow: 112 to 250 kPa [nz-sar-2008]"},
};
// What a team stands on: friction of people who slide, by snow. Nobody measured a person who brakes.
static const fh_figure UNDERFOOT[] = {
    {"stand", "1", FHI_RANGE(0.03, 0.36), FH_BASIS_PUBLISHED, "firn-slide-guides-2018", "snow not known: as on hard firn, which spans boots on ice"},
    {"brake", "1", FHI_RANGE(0.03, 0.80), FH_BASIS_PRACTICE, "", "common practice, no source: snow not known, from the low end of hard firn [firn-slide-bulletin] to the high end of soft snow"},
};
static const fh_figure UNDERFOOT_FIRN[] = {
    {"stand", "1", FHI_RANGE(0.03, 0.36), FH_BASIS_PUBLISHED, "firn-slide-guides-2018", "computed from speeds: 0.36 at most; low end 98 % of free fall at 40 degrees [firn-slide-bulletin]"},
    {"brake", "1", FHI_RANGE(0.03, 0.36), FH_BASIS_PUBLISHED, "firn-slide-guides-2018", "the same: where nothing bites, braking adds nothing"},
};
static const fh_figure UNDERFOOT_ICE[] = {
    {"stand", "1", FHI_RANGE(0.07, 0.23), FH_BASIS_PUBLISHED, "boots-on-ice-2015", "steepest walkable slope without crampons, 4 to 13 degrees; none was measured with them"},
    {"brake", "1", FHI_RANGE(0.03, 0.23), FH_BASIS_PRACTICE, "", "common practice, no source: low end a slide on hard firn [firn-slide-bulletin], high end boots on ice [boots-on-ice-2015]"},
};
static const fh_figure UNDERFOOT_SOFT[] = {
    {"stand", "1", FHI_RANGE(0.19, 0.48), FH_BASIS_PUBLISHED, "nachbauer-2016", "ski fabrics on snow; feet were not measured"},
    {"brake", "1", FHI_RANGE(0.19, 0.80), FH_BASIS_PRACTICE, "", "common practice, no source: low end ski fabrics [nachbauer-2016], high end a hope that feet and axe bite"},
};

static const fh_item ITEMS[] = {
    FHI_ITEM("boots-on-ice", FH_ITEM_OTHER, BOOTS_ON_ICE, "", "feet without crampons on ice"),
    FHI_ITEM("boots-on-snow", FH_ITEM_OTHER, BOOTS_ON_SNOW, "", "feet on snow"),
    FHI_ITEM("clothing-on-snow", FH_ITEM_OTHER, CLOTHING_ON_SNOW, "", "a person dragged along a snow wall"),
    FHI_ITEM("crampons", FH_ITEM_OTHER, CRAMPONS, "", "feet in crampons or kicked steps"),
    FHI_ITEM("crew", FH_ITEM_OTHER, CREW, "", "how pulls of several people add up, how feet and hands hold"),
    FHI_ITEM("person", FH_ITEM_OTHER, PERSON, "", "a person with kit"),
    FHI_ITEM("sit-harness", FH_ITEM_OTHER, SIT_HARNESS, "EN 12277", "sit harness"),
    FHI_ITEM("sling", FH_ITEM_OTHER, SLING, "EN 566", "sewn sling"),
    FHI_ITEM("snow", FH_ITEM_OTHER, SNOW, "", "what bounds the strength of snow around an anchor"),
    FHI_ITEM("snow-fist", FH_ITEM_OTHER, SNOW_FIST, "", "snow into which a gloved fist pushes gently"),
    FHI_ITEM("snow-four-fingers", FH_ITEM_OTHER, SNOW_FOUR, "", "snow into which four gloved fingers push gently"),
    FHI_ITEM("snow-knife", FH_ITEM_OTHER, SNOW_KNIFE, "", "snow into which only a knife pushes gently"),
    FHI_ITEM("snow-one-finger", FH_ITEM_OTHER, SNOW_ONE, "", "snow into which one gloved finger pushes gently"),
    FHI_ITEM("snow-pencil", FH_ITEM_OTHER, SNOW_PENCIL, "", "snow into which a pencil pushes gently"),
    FHI_ITEM("underfoot", FH_ITEM_OTHER, UNDERFOOT, "", "a team that is dragged over snow of no known kind"),
    FHI_ITEM("underfoot-firn", FH_ITEM_OTHER, UNDERFOOT_FIRN, "", "a team that is dragged over hard firn"),
    FHI_ITEM("underfoot-ice", FH_ITEM_OTHER, UNDERFOOT_ICE, "", "a team that is dragged over ice, without crampons"),
    FHI_ITEM("underfoot-soft", FH_ITEM_OTHER, UNDERFOOT_SOFT, "", "a team that is dragged over soft snow, which feet and axes break into"),
};
// clang-format on

const fhi_table FHI_OTHERS = {ITEMS, FHI_COUNT(ITEMS)};
