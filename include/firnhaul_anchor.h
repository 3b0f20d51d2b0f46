// SPDX-License-Identifier: MIT
// firnhaul: what the rig hangs on. Holding force of each point, what each leg carries, and the margins (model.md section 10).
// Same rules as firnhaul.h: SI units inside, unset numbers are NaN, the core never prints or exits.
//
// No formula for snow is exact: sources differ by ten times on what a hand test means. Ranges here are wide because of that.
#ifndef FIRNHAUL_ANCHOR_H
#define FIRNHAUL_ANCHOR_H

#include "firnhaul.h"

#ifdef __cplusplus
extern "C" {
#endif

/// What one point holds: the least of what the snow bears on the buried area, what a wedge of snow in front of it resists, and
/// the hardware (Fortini 2005). Bands that do not apply are NaN.
typedef struct fh_hold {
  fh_band bearing;    ///< [N] strength of the snow times buried area times the kind's share of it
  fh_band shear;      ///< [N] a wedge of snow breaks out
  fh_band hardware;   ///< [N] the stake's hole tears, the shaft bends
  fh_band tests;      ///< [N] what the catalogue gives for the kind
  fh_band holds;      ///< [N] what counts
  const char *limit;  ///< what sets the likely value: "snow", "wedge", "hardware", "tests" or "given"
  double area;        ///< [m2] likely buried area, NaN when it does not apply
} fh_hold;

/// @param point index into scene->anchorage.points  @return NaN bands outside
///
///   bearing = strength * length * width * bears * lean(back)          (plate)
///   bearing = strength * diameter * band,  shear = shear_Pa * pi diameter^2 / 4    (bollard)
///   shear   = min(shear_Pa, strength / 2) * area of a wedge that rises at 45 and spreads at 30 degrees
///
/// Sources: failure as the least of three [fortini-2005]; shares and lean from tests in strong snow [nz-sar-2008]; the wedge's
/// angles are common practice, no source. Stops being true in layered or wet snow, and near another anchor.
/// Checked by tests/check/anchor.check, tests/unit/test_anchor.c.
fh_hold fh_point_hold(const fh_scene *scene, const fh_gear *gear, int point);

/// Part of a leaning stake's best holding force. @param back [rad] from square to the pull @return [1]
double fh_lean_share(double back);

/// Where the legs meet, and what each carries. The pull is along the ground, away from the points.
typedef struct fh_legs {
  double force[FH_MAX_POINTS];  ///< [N] in each leg
  double x, y, z;               ///< [m] where they meet now, from where they met just taut: along the pull (x < 0), across, up
  double residual;              ///< [1] forces out of balance over the pull
  bool held;                    ///< false: no leg is left
} fh_legs;

/// Equilibrium of the legs: the least of stretch energy less the pull's work, which is convex, so there is one answer.
/// @param gone a point that has failed, or -1  @param pull [N] above 0
/// @return FH_OK, FH_ERR_ARG
fh_status fh_legs_solve(const fh_anchorage *anchor, int gone, double pull, fh_legs *out);

enum { FH_ANCHOR_HAUL, FH_ANCHOR_HOLD, FH_ANCHOR_JOLT, FH_ANCHOR_DROP, FH_ANCHOR_CASES };

/// One thing that happens to the anchor.
typedef struct fh_anchor_case {
  fh_band pull;                        ///< [N] on the anchor and the station together
  double fall;                         ///< [m] free fall before it, 0 when there is none
  fh_band leg[FH_MAX_POINTS];          ///< [N]
  double margin[FH_MAX_POINTS];        ///< [1] low end of what the point holds over the high end of its leg's force
  double likely[FH_MAX_POINTS];        ///< [1] the same at the likely values
  int weakest;                         ///< point with the least margin
  double chance;                       ///< [1] that every point holds
  bool known;                          ///< false: there is no rig that says
} fh_anchor_case;

/// A point lets go while the crew hauls.
typedef struct fh_anchor_loss {
  bool held;                     ///< something is left
  double moves;                  ///< [m] that the meeting place moves toward the hole
  fh_band peak;                  ///< [N] on what is left: the load falls so far onto its rope
  fh_band leg[FH_MAX_POINTS];    ///< [N] at the peak
  double margin[FH_MAX_POINTS];  ///< [1] low over high; NaN for the one that is gone
  double worst;                  ///< [1] least of them, 0 when nothing is left
} fh_anchor_loss;

typedef struct fh_anchor {
  int points;
  fh_hold hold[FH_MAX_POINTS];
  fh_anchor_case cases[FH_ANCHOR_CASES];
  fh_anchor_loss loss[FH_MAX_POINTS];
  double worst_margin;           ///< [1] least of all cases that are known
  double chance;                 ///< [1] that every point holds in every known case, one point's failure aside
  double residual;               ///< [1] worst of all equilibria
  bool from_rig;                 ///< pulls come from the scene's rig; else the load just hangs there
} fh_anchor;

/// Works out the scene's anchor. A scene without an `anchor` block has one point, its `ground.anchor` on one leg.
/// @param check of the scene's rig, or NULL: then the load hangs on the anchor without a lip, which is on the safe side
/// @return FH_OK; FH_ERR_ARG when the scene names no anchor at all; FH_ERR_MEMORY
fh_status fh_anchor_create(const fh_scene *scene, const fh_gear *gear, const fh_check *check, fh_anchor **out);
void fh_anchor_destroy(fh_anchor *anchor);

/// The anchorage that fh_anchor_create works on: the scene's own, or one point made from `ground.anchor`. @return false when there is none
bool fh_anchorage_of(const fh_scene *scene, const fh_gear *gear, fh_anchorage *out);

const char *fh_anchor_case_name(int which);  ///< @return "hauling", "holding", "a reset's jolt", "a caught drop"
fh_status fh_anchor_write_json(const fh_scene *scene, const fh_gear *gear, const fh_anchor *anchor, fh_out out);
fh_status fh_anchor_write_csv(const fh_scene *scene, const fh_gear *gear, const fh_anchor *anchor, fh_out out);
/// The legs from above, to scale, with what each carries and holds.
fh_status fh_draw_anchor(const fh_scene *scene, const fh_gear *gear, const fh_anchor *anchor, fh_units units, fh_out out);

#ifdef __cplusplus
}
#endif
#endif
