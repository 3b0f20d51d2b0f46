// SPDX-License-Identifier: MIT
// Kinds of rope. Model section 6.
// `modulus_N` is static: 80 kg over the static elongation. Its low end is the standard's limit, its high end a stiff
// rope of that kind. `fall_modulus_N` is the same in a fall, from usual impact forces by the standard drop, its high end
// from the standard's limit. `impact_N` is the standard's limit and `impact_mass_kg`, `fall_factor` the drop that it belongs to.
#include "tables.h"

#define W80 (80.0 * 9.80665)  // [N] weight of the standards' 80 kg

// clang-format off
#define KNOT_SHARE \
  {"knot_share", "1", FHI_LIKELY(0.50, 0.65, 0.75), FH_BASIS_PUBLISHED, "wikipedia-knots", \
   "strength left by a knot, 0.5 to 0.7 in general; figure-eight 0.75 [ensa-2011]; 7 mm cord 0.57 [bressan-2020]; the scatter is real"}
#define FALL_FACTOR {"fall_factor", "1", FHI_EXACT(1.77), FH_BASIS_STANDARD, "en-892", "standard drop, first fall"}
#define DYNAMIC_STRETCH {"dynamic_stretch", "1", FHI_EXACT(0.40), FH_BASIS_STANDARD, "en-892", "largest stretch in the first standard drop"}

static const fh_figure CORD[] = {
    {"diameter_m", "m", FHI_EXACT(0.006), FH_BASIS_PRACTICE, "", "common practice, no source: unless the scene says another"},
    {"strength_N", "N", FHI_EXACT(7200.0), FH_BASIS_STANDARD, "en-564", "0.2 d^2 kN at 6 mm, without a knot"},
    KNOT_SHARE,
    {"knotted_N", "N", FHI_RANGE(3600.0, 5400.0), FH_BASIS_PUBLISHED, "en-564", "strength_N times knot_share"},
    {"modulus_N", "N", FHI_RANGE(10000.0, 40000.0), FH_BASIS_PRACTICE, "", "common practice, no source: nylon cord of 6 mm"},
    {"fall_modulus_N", "N", FHI_RANGE(10000.0, 40000.0), FH_BASIS_PRACTICE, "", "common practice, no source: taken as under a slow pull"},
    {"mass_kgpm", "kg/m", FHI_RANGE(0.022, 0.026), FH_BASIS_MEMORY, "", "usual 6 mm nylon cord"},
};
static const fh_figure HALF[] = {
    {"diameter_m", "m", FHI_LIKELY(0.0075, 0.0085, 0.009), FH_BASIS_PRACTICE, "", "common practice, no source: usual half ropes"},
    {"static_stretch", "1", FHI_RANGE(0.05, 0.12), FH_BASIS_STANDARD, "en-892", "one strand, 80 kg, at most 12 %; the low end is a stiff rope, from memory"},
    {"modulus_N", "N", FHI_RANGE(W80 / 0.12, W80 / 0.05), FH_BASIS_STANDARD, "en-892", "80 kg over static_stretch"},
    {"fall_modulus_N", "N", FHI_LIKELY(10000.0, 17000.0, 29000.0), FH_BASIS_MEMORY, "en-892", "ropes of 5 to 8 kN at 55 kg, usual ones about 6.3 kN: F (F - 2 m g) / (2 m g f)"},
    DYNAMIC_STRETCH,
    {"impact_N", "N", FHI_EXACT(8000.0), FH_BASIS_STANDARD, "en-892", "one strand, at most"},
    {"impact_mass_kg", "kg", FHI_EXACT(55.0), FH_BASIS_STANDARD, "en-892", "mass of that drop"},
    FALL_FACTOR,
    {"strength_N", "N", FHI_RANGE(13000.0, 18000.0), FH_BASIS_PRACTICE, "", "common practice, no source: the standard asks for no static strength"},
    KNOT_SHARE,
    {"knotted_N", "N", FHI_RANGE(6500.0, 13500.0), FH_BASIS_PRACTICE, "", "common practice, no source: strength_N times knot_share"},
    {"mass_kgpm", "kg/m", FHI_RANGE(0.042, 0.055), FH_BASIS_PUBLISHED, "rope-pages", "about 50 g/m"},
};
static const fh_figure LOW_STRETCH[] = {
    {"diameter_m", "m", FHI_LIKELY(0.0085, 0.010, 0.011), FH_BASIS_PRACTICE, "", "common practice, no source: usual low-stretch ropes"},
    {"static_stretch", "1", FHI_RANGE(0.02, 0.05), FH_BASIS_STANDARD, "en-1891", "from 50 to 150 kg, at most 5 %; the low end is a stiff rope, from memory"},
    {"modulus_N", "N", FHI_RANGE(100.0 * 9.80665 / 0.05, 100.0 * 9.80665 / 0.02), FH_BASIS_STANDARD, "en-1891", "100 kg over static_stretch"},
    {"fall_modulus_N", "N", FHI_LIKELY(19600.0, 30000.0, 56500.0), FH_BASIS_MEMORY, "en-1891", "high end: 6 kN at fall factor 0.3 and 80 kg (type B); low end as under a slow pull"},
    {"strength_N", "N", FHI_RANGE(18000.0, 22000.0), FH_BASIS_STANDARD, "en-1891", "type B 18 kN, type A 22 kN, without a knot"},
    KNOT_SHARE,
    {"knotted_N", "N", FHI_RANGE(12000.0, 15000.0), FH_BASIS_STANDARD, "en-1891", "ends with a figure-eight hold 12 kN (type B), 15 kN (type A) for 3 min"},
    {"mass_kgpm", "kg/m", FHI_RANGE(0.045, 0.080), FH_BASIS_MEMORY, "", "usual 9 to 11 mm low-stretch rope"},
};
static const fh_figure SINGLE[] = {
    {"diameter_m", "m", FHI_LIKELY(0.0085, 0.0095, 0.011), FH_BASIS_PRACTICE, "", "common practice, no source: usual single ropes"},
    {"static_stretch", "1", FHI_RANGE(0.05, 0.10), FH_BASIS_STANDARD, "en-892", "one strand, 80 kg, at most 10 %; the low end is a stiff rope, from memory"},
    {"modulus_N", "N", FHI_RANGE(W80 / 0.10, W80 / 0.05), FH_BASIS_STANDARD, "en-892", "80 kg over static_stretch"},
    {"fall_modulus_N", "N", FHI_LIKELY(16000.0, 22000.0, 45100.0), FH_BASIS_MEMORY, "en-892", "ropes of 7.5 to 12 kN at 80 kg, usual ones about 8.6 kN: F (F - 2 m g) / (2 m g f)"},
    DYNAMIC_STRETCH,
    {"impact_N", "N", FHI_EXACT(12000.0), FH_BASIS_STANDARD, "en-892", "one strand, at most"},
    {"impact_mass_kg", "kg", FHI_EXACT(80.0), FH_BASIS_STANDARD, "en-892", "mass of that drop"},
    FALL_FACTOR,
    {"strength_N", "N", FHI_RANGE(16000.0, 25000.0), FH_BASIS_PRACTICE, "", "common practice, no source: the standard asks for no static strength"},
    KNOT_SHARE,
    {"knotted_N", "N", FHI_RANGE(8000.0, 18750.0), FH_BASIS_PRACTICE, "", "common practice, no source: strength_N times knot_share"},
    {"mass_kgpm", "kg/m", FHI_RANGE(0.060, 0.085), FH_BASIS_PUBLISHED, "rope-pages", "60 to 85 g/m"},
};
static const fh_figure TWIN[] = {
    {"diameter_m", "m", FHI_LIKELY(0.007, 0.0075, 0.008), FH_BASIS_PRACTICE, "", "common practice, no source: usual twin ropes"},
    {"static_stretch", "1", FHI_RANGE(0.10, 0.20), FH_BASIS_STANDARD, "en-892", "two strands, 80 kg, at most 10 %: one strand stretches twice as much; the low end is a stiff rope, from memory"},
    {"modulus_N", "N", FHI_RANGE(W80 / 0.20, W80 / 0.10), FH_BASIS_STANDARD, "en-892", "one strand: 80 kg over static_stretch"},
    {"fall_modulus_N", "N", FHI_LIKELY(8000.0, 12000.0, 22600.0), FH_BASIS_MEMORY, "en-892", "one strand: half of two strands that take 80 kg with 7.5 to 12 kN"},
    DYNAMIC_STRETCH,
    {"impact_N", "N", FHI_EXACT(12000.0), FH_BASIS_STANDARD, "en-892", "two strands together, at most"},
    {"impact_mass_kg", "kg", FHI_EXACT(80.0), FH_BASIS_STANDARD, "en-892", "mass of that drop"},
    FALL_FACTOR,
    {"strength_N", "N", FHI_RANGE(10000.0, 15000.0), FH_BASIS_PRACTICE, "", "common practice, no source: one strand; the standard asks for no static strength"},
    KNOT_SHARE,
    {"knotted_N", "N", FHI_RANGE(5000.0, 11250.0), FH_BASIS_PRACTICE, "", "common practice, no source: strength_N times knot_share"},
    {"mass_kgpm", "kg/m", FHI_RANGE(0.036, 0.045), FH_BASIS_PUBLISHED, "rope-pages", "about 45 g/m"},
};

static const fh_item ITEMS[] = {
    FHI_ITEM("cord", FH_ITEM_ROPE, CORD, "EN 564", "accessory cord, 6 mm"),
    FHI_ITEM("half", FH_ITEM_ROPE, HALF, "EN 892", "dynamic half rope, used as one strand on a glacier"),
    FHI_ITEM("low-stretch", FH_ITEM_ROPE, LOW_STRETCH, "EN 1891", "low-stretch rope, type A or B"),
    FHI_ITEM("single", FH_ITEM_ROPE, SINGLE, "EN 892", "dynamic single rope"),
    FHI_ITEM("twin", FH_ITEM_ROPE, TWIN, "EN 892", "dynamic twin rope, one strand of the pair"),
};
// clang-format on

const fhi_table FHI_ROPES = {ITEMS, FHI_COUNT(ITEMS)};
