// SPDX-License-Identifier: MIT
// What a team sets out with: rope in the coils, who carries what, and the raise if one of them falls.
#ifndef FHI_TRIP_H
#define FHI_TRIP_H

#include "firnhaul_rescue.h"
#include "firnhaul_team.h"

typedef struct fhi_trip {
  int carries[FH_MAX_PEOPLE][FH_MAX_KIT];  ///< pieces of each line of the kit
  int rope;                                ///< the longest rope of stated length, or -1
  bool has_budget;                         ///< such a rope is there, and long enough
  fh_budget_out budget;
} fhi_trip;

/// @param team worked out from the scene
void fhi_trip_start(const fh_scene *scene, const fh_team_result *team, fhi_trip *out);

/// The raise of one member by the others.
typedef struct fhi_trip_raise {
  double depth;    ///< [m] at which the one hangs
  double rope;     ///< [m] for the raise, the loaded piece included; NaN: no rope of known length
  bool possible;   ///< plan finds a rig with the kit that the others carry
  char why[300];   ///< that rig in words, or what is missing
} fhi_trip_raise;

fh_status fhi_trip_raise_find(const fhi_trip *trip, const fh_scene *scene, const fh_gear *gear, const fh_team_result *team, int faller, fhi_trip_raise *out);

#endif
