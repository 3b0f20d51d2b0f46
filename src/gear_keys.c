// SPDX-License-Identifier: MIT
// Which figures may an own gear file give, in which unit, for which class of gear? docs/gear.md shows this table.
#include "gear_keys.h"

#include <string.h>

#include "report.h"

enum {
  BAR = 1u << FH_ITEM_BAR,
  SHEAVE = 1u << FH_ITEM_SHEAVE,
  CAPTURE = 1u << FH_ITEM_CAPTURE,
  HITCH = 1u << FH_ITEM_HITCH,
  SURFACE = 1u << FH_ITEM_SURFACE,
  ROPE = 1u << FH_ITEM_ROPE,
  POSTURE = 1u << FH_ITEM_POSTURE,
  ANCHOR = 1u << FH_ITEM_ANCHOR,
  OTHER = 1u << FH_ITEM_OTHER,
  BEND = BAR | SHEAVE | CAPTURE,
};

// clang-format off
static const fhi_gear_key KEYS[] = {
    {"efficiency", "efficiency", "1", 1.0, 1.0, 0.05, 1.0, BEND, "force out over force in round 180 degrees, raising"},
    {"share", "share", "1", 1.0, 1.0, 0.0, 1.0, BEND, "part of the loss that does not shrink with the angle"},
    {"friction", "friction", "1", 1.0, 1.0, 0.0, 3.0, SURFACE | OTHER, "friction of a rope on it (surface), of feet on the ground (other)"},
    {"stand", "stand", "1", 1.0, 1.0, 0.0, 3.0, OTHER, "friction of a person who is dragged standing"},
    {"brake", "brake", "1", 1.0, 1.0, 0.0, 3.0, OTHER, "friction of a person who is dragged and brakes"},
    {"strength_kN", "strength_N", "N", 1000.0, 1.0, 0.1, 1000.0, BEND | HITCH | ROPE | OTHER, "breaking strength, the least"},
    {"sheath_kN", "sheath_N", "N", 1000.0, 1.0, 0.1, 100.0, CAPTURE | HITCH, "pull at which teeth damage the rope's sheath"},
    {"slip_kN", "slip_N", "N", 1000.0, 1.0, 0.01, 100.0, HITCH, "pull at which it slips on a dry rope"},
    {"slip_wet_kN", "slip_wet_N", "N", 1000.0, 1.0, 0.01, 100.0, HITCH, "the same, rope wet or iced"},
    {"set_back_m", "set_back_m", "m", 1.0, 1.0, 0.0, 2.0, CAPTURE | HITCH, "rope lost before it bites, at each reset"},
    {"modulus_kN", "modulus_N", "N", 1000.0, 1.0, 0.1, 10000.0, ROPE, "static modulus: tension over strain"},
    {"impact_kN", "impact_N", "N", 1000.0, 1.0, 1.0, 50.0, ROPE, "impact force of its standard drop"},
    {"knotted_kN", "knotted_N", "N", 1000.0, 1.0, 0.1, 1000.0, ROPE, "strength at a knot"},
    {"diameter_mm", "diameter_m", "m", 1.0, 1000.0, 2.0, 30.0, ROPE, "diameter"},
    {"mass_gpm", "mass_kgpm", "kg/m", 1.0, 1000.0, 1.0, 500.0, ROPE, "grams a metre"},
    {"holds_kN", "holds_N", "N", 1000.0, 1.0, 0.1, 1000.0, ANCHOR, "what it holds"},
    {"bears", "bears", "1", 1.0, 1.0, 0.05, 3.0, ANCHOR, "part of the snow's bearing pressure that its buried area gets"},
    {"bearing_kPa", "bearing_Pa", "Pa", 1000.0, 1.0, 0.1, 5000.0, ANCHOR | OTHER, "pressure that the snow bears"},
    {"shear_kPa", "shear_Pa", "Pa", 1000.0, 1.0, 0.1, 5000.0, OTHER, "shear strength of the snow around an anchor"},
    {"pull_N", "pull_N", "N", 1.0, 1.0, 1.0, 5000.0, POSTURE, "one person's pull, short"},
    {"sustained_N", "sustained_N", "N", 1.0, 1.0, 1.0, 5000.0, POSTURE, "one person's pull, for minutes"},
    {"hands", "hands", "1", 1.0, 1.0, 0.0, 2.0, POSTURE, "hands whose grip carries the pull; 0 when a harness does"},
    {"footing_share", "footing_share", "1", 1.0, 1.0, 0.0, 1.0, POSTURE, "part of the pull that the feet hold by friction"},
};
// clang-format on

const fhi_gear_key *fhi_gear_keys(int *count) {
  *count = (int)(sizeof KEYS / sizeof *KEYS);
  return KEYS;
}

const fhi_gear_key *fhi_gear_key_find(const char *key) {
  for (size_t i = 0; i < sizeof KEYS / sizeof *KEYS; i++) {
    if (strcmp(KEYS[i].key, key) == 0) {
      return &KEYS[i];
    }
  }
  return NULL;
}

const char FHI_GEAR_CLASSES[] = "bar, sheave, capture, hitch, surface, rope, posture, anchor or other";

bool fhi_gear_class_find(const char *name, fh_item_class *out) {
  for (int i = FH_ITEM_BAR; i <= FH_ITEM_OTHER; i++) {
    if (strcmp(fhi_class_name((fh_item_class)i), name) == 0) {
      *out = (fh_item_class)i;
      return true;
    }
  }
  return false;
}
