// SPDX-License-Identifier: MIT
// A point's holding force as a function of what is not known, for ranges and for samples alike. Model sections 10 and 12.
#ifndef FHI_ANCHOR_H
#define FHI_ANCHOR_H

#include "firnhaul_anchor.h"

enum { FHI_HOLD_NUMBERS = 9 };

/// What a point's holding force is made of. Unset: does not apply.
typedef struct fhi_hold_in {
  fh_number given;               ///< [N] said by the scene
  fh_number tests;               ///< [N] the catalogue's
  fh_number hardware;            ///< [N]
  fh_number strength, shear;     ///< [Pa] the snow's
  fh_number length, width, depth, diameter, back;  ///< [m], [rad]
  fh_number band;                ///< [m]
  double bears;                  ///< [1]
  double most;                   ///< [Pa] no more is counted on
  bool snow;                     ///< the snow was tested, and the kind has a shape: it decides
  bool bollard;
} fhi_hold_in;

/// Values of these at one point of their ranges.
typedef struct fhi_hold_at {
  double given, tests, hardware, strength, shear, length, width, depth, diameter, back, band;
} fhi_hold_at;

typedef struct fhi_hold_out {
  double bearing, shear, hardware, holds;  ///< [N]
} fhi_hold_out;

void fhi_hold_resolve(const fh_scene *scene, const fh_gear *gear, const fh_anchorage *anchor, int point, fhi_hold_in *in);
/// Fills the chances of cases whose bands are filled, from 4,096 seeded samples. @return FH_OK, FH_ERR_MEMORY
fh_status fhi_anchor_chances(const fh_scene *scene, const fh_gear *gear, const fh_anchorage *anchorage, fh_anchor *anchor);
/// Force [N] in one leg at a pull [N] on all of them; NaN for a pull that is not known.
fh_band fhi_leg_force(const fh_anchorage *anchor, int point, fh_band pull);
fhi_hold_out fhi_hold_value(const fhi_hold_in *in, const fhi_hold_at *at);

#endif
