// SPDX-License-Identifier: MIT
// What the rig hangs on. Model section 10.
// `holds_N` is a range over snow or ice that a guide would accept; soft snow and rotten ice go below it. Sources disagree
// on which buried anchor is strongest. The least is used for margins.
#include "tables.h"

#define DEG 0.017453292519943295  // [rad]

// clang-format off
#define STAKE_AREA {"area_m2", "m2", FHI_EXACT(0.04), FH_BASIS_PUBLISHED, "bogie-fortini-2010", "reference stake 60 cm by 7 cm, length times width less the points"}

static const fh_figure BOLLARD[] = {
    {"band_m", "m", FHI_EXACT(0.02), FH_BASIS_PRACTICE, "", "common practice, no source: height of snow that a bare rope presses on in its trench"},
    {"depth_m", "m", FHI_RANGE(0.15, 0.30), FH_BASIS_MEMORY, "", "trench 0.15 to 0.3 m deep (mountaineering handbooks)"},
    {"holds_N", "N", FHI_LIKELY(2000.0, 4000.0, 5000.0), FH_BASIS_PUBLISHED, "caving-glossary", "400 to 500 kgf in ideal snow; it can slice through a soft layer; the low end is practice"},
    {"diameter_m", "m", FHI_EXACT(1.0), FH_BASIS_MEMORY, "", "1 m in hard snow, to 3 m in soft (mountaineering handbooks); a scene that wants more of it says so"},
};
#define BURIED_SHAPE(bears, length, width, depth, note) \
    {"bears", "1", FHI_EXACT(bears), FH_BASIS_PUBLISHED, "nz-sar-2008", note}, \
    {"length_m", "m", FHI_EXACT(length), FH_BASIS_PRACTICE, "", "common practice, no source: usual size"}, \
    {"width_m", "m", FHI_EXACT(width), FH_BASIS_PRACTICE, "", "common practice, no source: usual size"}, \
    {"depth_m", "m", depth, FH_BASIS_PRACTICE, "", "common practice, no source: depth of its middle"}

static const fh_figure BURIED_AXE[] = {
    BURIED_SHAPE(0.7, 0.55, 0.035, FHI_RANGE(0.3, 0.5), "as for a buried stake: 7 kN where a leaning upright one held 10"),
    {"holds_N", "N", FHI_LIKELY(2000.0, 2500.0, 4000.0), FH_BASIS_MEMORY, "en-13089", "shaft test about 2.5 kN (type 1) and 4 kN (type 2) in bending; the snow may give way before: low end as for a buried bag"},
};
static const fh_figure BURIED_BAG[] = {
    BURIED_SHAPE(0.7, 0.4, 0.25, FHI_RANGE(0.3, 0.5), "as for a buried stake: 7 kN where a leaning upright one held 10"),
    {"holds_N", "N", FHI_LIKELY(1500.0, 2000.0, 4000.0), FH_BASIS_PUBLISHED, "guide-site-anchors", "snow-filled bag, glacier snow: over 200 kgf; the ends are a guess around it"},
    {"hardware_N", "N", FHI_LIKELY(1500.0, 2000.0, 4000.0), FH_BASIS_PRACTICE, "", "common practice, no source: no pull on a bag above 200 kgf was found, so no snow makes it promise more than holds_N"},
};
static const fh_figure ICE_SCREW[] = {
    {"depth_m", "m", FHI_EXACT(0.16), FH_BASIS_PRACTICE, "", "common practice, no source: 16 cm in the ice are the least for a stand"},
    {"holds_N", "N", FHI_LIKELY(4300.0, 8000.0, 10000.0), FH_BASIS_STANDARD, "en-568", "10 kN in the standard's ice; 7 to 8 kN short screws in good ice [beverly-screws]; up to 25 in the best [dav-fixpunkte-2019]; the low end is the lowest pull in ice with 10 to 20 % of air [dav-ice-2005]; laboratory pulls fall well below older values [blair-2004]"},
    {"solid_N", "N", FHI_LIKELY(8800.0, 10000.0, 22800.0), FH_BASIS_PUBLISHED, "dav-ice-2005", "about 22.8 kN, 16 cm in ice without air; 8.8 kN the lowest of 17 cm in a laboratory's, 12 of 22 cm [ice-screw-lab]; likely no more than the standard's 10"},
    {"porous_N", "N", FHI_LIKELY(4300.0, 9600.0, 18300.0), FH_BASIS_PUBLISHED, "dav-ice-2005", "16 cm in ice with 10 to 20 % of air: 9.6 kN in the mean, 4.3 to 18.3"},
    {"rotten_N", "N", FHI_LIKELY(1200.0, 4300.0, 13000.0), FH_BASIS_PUBLISHED, "dav-ice-2005", "ice with up to half of it air: 1.2 to 13 kN; the middle, not told, is where the better ice begins"},
    {"short_share", "1", FHI_LIKELY(0.43, 0.55, 1.0), FH_BASIS_PUBLISHED, "dav-ice-2005", "a screw of 10 cm over one of 16: about 10 over 22.8 kN, rounded down; likely so that 13 cm hold the 7 to 8 kN of good ice [beverly-screws]; hardly less than longer ones in a laboratory's solid ice [ice-screw-lab]"},
};
static const fh_figure ICE_THREAD[] = {
    {"depth_m", "m", FHI_EXACT(0.18), FH_BASIS_PRACTICE, "", "common practice, no source: as deep as a screw of 22 cm reaches at 60 degrees; what it holds does not follow it"},
    {"holds_N", "N", FHI_LIKELY(5000.0, 7000.0, 15000.0), FH_BASIS_PUBLISHED, "ice-thread-notes", "5 to 7 kN in one source, 15 to 20 kN in good dry ice in another, both second-hand; 8.7 to 11.5 with 7 mm cord, which broke before the ice [dav-ice-2005]; vertical holes 12 % stronger"},
    {"porous_N", "N", FHI_LIKELY(4300.0, 7000.0, 15000.0), FH_BASIS_PRACTICE, "", "common practice, no source: no pull of a thread in ice with air was found; no more than a screw there"},
    {"rotten_N", "N", FHI_LIKELY(1200.0, 4300.0, 13000.0), FH_BASIS_PRACTICE, "", "common practice, no source: no pull of a thread in such ice was found; no more than a screw there"},
};
static const fh_figure MID_CLIP[] = {
    BURIED_SHAPE(1.0, 0.6, 0.0667, FHI_RANGE(0.3, 0.5), "leaning 25 to 30 degrees back; more or less lean gets less"),
    {"holds_N", "N", FHI_LIKELY(4500.0, 6700.0, 10000.0), FH_BASIS_PUBLISHED, "nz-sar-2008", "10 kN at 30 degrees back, 4.5 kN over-angled at 45 degrees, strong snow; 6.7 kN in summer snow [guide-site-anchors]"},
    {"back_rad", "rad", FHI_RANGE(25.0 * DEG, 30.0 * DEG), FH_BASIS_PUBLISHED, "bogie-fortini-2010", "lean back from square to the pull: 30 degrees; 25 measured 40 % over 0 [guide-site-anchors]"},
    STAKE_AREA,
    {"bearing_Pa", "Pa", FHI_RANGE(112500.0, 250000.0), FH_BASIS_PUBLISHED, "nz-sar-2008", "computed: 4.5 to 10 kN on 0.04 m2"},
    {"hardware_N", "N", FHI_EXACT(8900.0), FH_BASIS_PUBLISHED, "fortini-2005", "about 2000 lbf: the hole of an aluminium picket tears"},
};
static const fh_figure TOP_CLIP[] = {
    BURIED_SHAPE(0.5, 0.6, 0.0667, FHI_RANGE(0.25, 0.3), "5 kN where a leaning mid-clipped one held 10"),
    {"holds_N", "N", FHI_LIKELY(2000.0, 3700.0, 5000.0), FH_BASIS_PUBLISHED, "fortini-2005", "2.94 and 4.47 kN in two pulls; 5 kN in strong snow [nz-sar-2008]; under 2 kN where a gloved finger pushes in [guide-site-anchors]"},
    STAKE_AREA,
    {"hardware_N", "N", FHI_EXACT(8900.0), FH_BASIS_PUBLISHED, "fortini-2005", "about 2000 lbf: the hole of an aluminium picket tears"},
};
static const fh_figure T_SLOT[] = {
    BURIED_SHAPE(0.7, 0.6, 0.0667, FHI_RANGE(0.3, 0.5), "7 kN where a leaning upright one held 10"),
    {"holds_N", "N", FHI_LIKELY(2000.0, 4000.0, 7000.0), FH_BASIS_PUBLISHED, "nz-sar-2008", "7 kN in strong snow, best case; about 4 kN in another break test [guide-site-anchors]; up to 12 in solid firn [dav-fixpunkte-2019]; low end as for a buried bag"},
    {"deep_m", "m", FHI_RANGE(0.3, 0.8), FH_BASIS_PUBLISHED, "snow-anchor-article", "0.3 m in hard firn to 0.8 m in soft snow"},
    STAKE_AREA,
    {"bearing_Pa", "Pa", FHI_RANGE(50000.0, 175000.0), FH_BASIS_PUBLISHED, "nz-sar-2008", "computed: 2 to 7 kN on 0.04 m2"},
};
static const fh_figure T_SLOT_REINFORCED[] = {
    BURIED_SHAPE(1.4, 0.6, 0.0667, FHI_RANGE(0.3, 0.5), "computed: twice the plain one, as in a break test [guide-site-anchors]"),
    {"holds_N", "N", FHI_LIKELY(4000.0, 8000.0, 9000.0), FH_BASIS_PUBLISHED, "guide-site-anchors", "about 8 kN, twice the plain one, in a tiny sample; low end as for the plain one"},
    {"deep_m", "m", FHI_RANGE(0.3, 0.8), FH_BASIS_PUBLISHED, "snow-anchor-article", "0.3 m in hard firn to 0.8 m in soft snow"},
};

static const fh_item ITEMS[] = {
    FHI_ITEM("bollard", FH_ITEM_ANCHOR, BOLLARD, "", "snow bollard, rope in a trench around a plug of snow"),
    FHI_ITEM("buried-axe", FH_ITEM_ANCHOR, BURIED_AXE, "EN 13089", "ice axe buried across the pull"),
    FHI_ITEM("buried-bag", FH_ITEM_ANCHOR, BURIED_BAG, "", "bag filled with snow, or a bottle, buried"),
    FHI_ITEM("ice-screw", FH_ITEM_ANCHOR, ICE_SCREW, "EN 568", "one ice screw"),
    FHI_ITEM("ice-thread", FH_ITEM_ANCHOR, ICE_THREAD, "EN 564", "cord through two holes drilled in ice"),
    FHI_ITEM("mid-clip", FH_ITEM_ANCHOR, MID_CLIP, "", "upright snow stake, clipped at its middle, buried, leaning back"),
    FHI_ITEM("t-slot", FH_ITEM_ANCHOR, T_SLOT, "", "stake, ski or axe buried across the pull in a slot"),
    FHI_ITEM("t-slot-reinforced", FH_ITEM_ANCHOR, T_SLOT_REINFORCED, "", "buried stake with an upright one in front of it"),
    FHI_ITEM("top-clip", FH_ITEM_ANCHOR, TOP_CLIP, "", "upright snow stake, clipped at its top"),
};
// clang-format on

const fhi_table FHI_ANCHORS = {ITEMS, FHI_COUNT(ITEMS)};
