// SPDX-License-Identifier: MIT
// What grips a rope: friction hitches of cord, toothed clamps. Model sections 1, 4 and 7.
// Slip of hitches on thin ropes, wet or iced, is the least known number here: published values run from 1.3 to 9.5 kN.
// A hitch's `strength_N` is its cord loop: two strands of EN 564 cord, times the share that a knot leaves (0.5 to 0.7).
#include "tables.h"

// clang-format off
#define LOOP_STRENGTH(cord_N) \
  {"strength_N", "N", FHI_RANGE(2.0 * 0.5 * (cord_N), 2.0 * 0.7 * (cord_N)), FH_BASIS_PUBLISHED, "en-564", \
   "two strands of cord at 0.2 d^2 kN, times 0.5 to 0.7 for the knot [wikipedia-knots]; not a tested loop"}

static const fh_figure AUTOBLOCK[] = {
    {"slip_N", "N", FHI_RANGE(1000.0, 4000.0), FH_BASIS_PRACTICE, "", "common practice, no source: no citable value found; holds less than a prusik"},
    {"slip_wet_N", "N", FHI_RANGE(500.0, 3000.0), FH_BASIS_PRACTICE, "", "common practice, no source: wet or iced, a quarter to a half less"},
    LOOP_STRENGTH(7200.0),
    {"set_back_m", "m", FHI_LIKELY(0.03, 0.08, 0.20), FH_BASIS_PRACTICE, "", "common practice, no source: rope lost before it bites"},
};
static const fh_figure KLEMHEIST[] = {
    {"slip_N", "N", FHI_RANGE(1500.0, 5000.0), FH_BASIS_PRACTICE, "", "common practice, no source: no citable value found"},
    {"slip_wet_N", "N", FHI_RANGE(1000.0, 3750.0), FH_BASIS_PRACTICE, "", "common practice, no source: wet or iced, about a quarter less"},
    LOOP_STRENGTH(7200.0),
    {"set_back_m", "m", FHI_LIKELY(0.02, 0.05, 0.15), FH_BASIS_PRACTICE, "", "common practice, no source: rope lost before it bites"},
};
static const fh_figure PRUSIK[] = {
    {"slip_N", "N", FHI_LIKELY(2500.0, 4000.0, 6000.0), FH_BASIS_MEMORY, "", "6 mm cord on 8 to 9 mm rope, dry, by wraps; thicker cord on rescue rope 7 to 9.5 kN [schwartz-prusik]"},
    {"slip_wet_N", "N", FHI_LIKELY(1300.0, 3000.0, 4500.0), FH_BASIS_PUBLISHED, "canyon-tests-1998", "three quarters of the dry value, as 420 against 560 daN on wet and dry cord there; low end: a worn cord that slipped [arborist-notes]"},
    LOOP_STRENGTH(7200.0),
    {"set_back_m", "m", FHI_LIKELY(0.02, 0.05, 0.15), FH_BASIS_PRACTICE, "", "common practice, no source: rope lost before it bites"},
};
static const fh_figure PRUSIK_5MM[] = {
    {"slip_N", "N", FHI_LIKELY(2000.0, 3500.0, 5000.0), FH_BASIS_PRACTICE, "", "common practice, no source: as a 6 mm loop, less for the thinner cord"},
    {"slip_wet_N", "N", FHI_LIKELY(1300.0, 2600.0, 3750.0), FH_BASIS_PRACTICE, "", "common practice, no source: three quarters of the dry value"},
    LOOP_STRENGTH(5000.0),
    {"set_back_m", "m", FHI_LIKELY(0.02, 0.05, 0.15), FH_BASIS_PRACTICE, "", "common practice, no source: rope lost before it bites"},
};
static const fh_figure PRUSIK_7MM[] = {
    {"slip_N", "N", FHI_LIKELY(1500.0, 3000.0, 5500.0), FH_BASIS_PRACTICE, "", "common practice, no source: on 8 to 9 mm rope 7 mm cord grips less well; 5.5 kN on 10 mm rope [canyon-tests-1998]"},
    {"slip_wet_N", "N", FHI_LIKELY(1100.0, 2200.0, 4200.0), FH_BASIS_PRACTICE, "", "common practice, no source: three quarters of the dry value"},
    LOOP_STRENGTH(9800.0),
    {"set_back_m", "m", FHI_LIKELY(0.02, 0.06, 0.20), FH_BASIS_PRACTICE, "", "common practice, no source: rope lost before it bites"},
};
static const fh_figure ROPE_CLAMP[] = {
    {"sheath_N", "N", FHI_RANGE(4000.0, 12000.0), FH_BASIS_PUBLISHED, "bergundsteigen-ascent", "teeth begin to tear the sheath; 4 kN is also the test load of EN 567 [en-567] and the lowest published damage [kletterblatt-2016]"},
    {"strength_N", "N", FHI_EXACT(4000.0), FH_BASIS_STANDARD, "en-567", "holds 4 kN on the thinnest and thickest rope; on iced rope the teeth may not bite"},
    {"set_back_m", "m", FHI_LIKELY(0.005, 0.015, 0.04), FH_BASIS_PRACTICE, "", "common practice, no source: rope lost as the teeth bite"},
};

static const fh_item ITEMS[] = {
    FHI_ITEM("autoblock", FH_ITEM_HITCH, AUTOBLOCK, "EN 564", "wrapped hitch clipped at both ends, 6 mm cord loop; releases under load"),
    FHI_ITEM("klemheist", FH_ITEM_HITCH, KLEMHEIST, "EN 564", "wrapped hitch pulled one way, 6 mm cord loop"),
    FHI_ITEM("prusik", FH_ITEM_HITCH, PRUSIK, "EN 564", "three-wrap friction hitch of a 6 mm cord loop"),
    FHI_ITEM("prusik-5mm", FH_ITEM_HITCH, PRUSIK_5MM, "EN 564", "friction hitch of a 5 mm cord loop"),
    FHI_ITEM("prusik-7mm", FH_ITEM_HITCH, PRUSIK_7MM, "EN 564", "friction hitch of a 7 mm cord loop"),
    FHI_ITEM("rope-clamp", FH_ITEM_HITCH, ROPE_CLAMP, "EN 567", "toothed clamp; never weight it with a fall"),
};
// clang-format on

const fhi_table FHI_HITCHES = {ITEMS, FHI_COUNT(ITEMS)};
