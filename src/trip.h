// SPDX-License-Identifier: MIT
// What a team sets out with: rope in the coils, who carries what, and the raise if one of them falls.
#ifndef FHI_TRIP_H
#define FHI_TRIP_H

#include "firnhaul_rescue.h"
#include "firnhaul_team.h"

/// [m] of rope that a tie-in knot takes: common practice, no source.
#define FHI_TIE 1.0

/// What a piece of the kit is for. Only what is named is one's own; all else is shared.
typedef enum fhi_carried { FHI_CARRIED_HITCH, FHI_CARRIED_SLING, FHI_CARRIED_CARABINER, FHI_CARRIED_ANCHOR, FHI_CARRIED_SHARED, FHI_CARRIED_KINDS } fhi_carried;

fhi_carried fhi_carried_kind(const fh_gear *gear, int item);

/// Deals the kit out to so many people: everyone's own least first, then what is shared. @param carries a row a person, a column a line of the kit
void fhi_kit_deal(const fh_scene *scene, const fh_gear *gear, int people, int carries[][FH_MAX_KIT]);

/// Pieces of a kind. @param counts of each line of the kit; NULL: all that the scene lists
int fhi_kit_pieces(const fh_scene *scene, const fh_gear *gear, const int *counts, fhi_carried kind);

/// What one person lacks of the least: a sentence. @return false: nothing, and "" is written
bool fhi_kit_lacks(const fh_scene *scene, const fh_gear *gear, const int *counts, int person, char *to, size_t size);

/// That no anchor gear is listed, or "".
const char *fhi_kit_anchor_words(const fh_scene *scene, const fh_gear *gear);

/// What those who raise keep back of the kit, and how much of that is not there.
typedef struct fhi_kept {
  int hitches, carabiners;
  int short_hitches, short_carabiners;
} fhi_kept;

/// Takes from the kit of `raise` what the faller carries and what the raise keeps back. @param raise a copy of the scene
fhi_kept fhi_kit_of_raise(const fh_scene *scene, const fh_gear *gear, int people, int faller, fh_scene *raise);

/// @return whether something that is to be kept back is not there; then it is written in words
bool fhi_kept_lacks(const fhi_kept *kept, fh_language language, char *to, size_t size);

typedef struct fhi_trip {
  int carries[FH_MAX_PEOPLE][FH_MAX_KIT];  ///< pieces of each line of the kit
  int rope;                                ///< the longest rope of stated length, or -1
  bool has_budget;                         ///< such a rope is there, and long enough
  fh_budget_out budget;
} fhi_trip;

/// @param team worked out from the scene
void fhi_trip_start(const fh_scene *scene, const fh_gear *gear, const fh_team_result *team, fhi_trip *out);

/// @return whether the likely fall is stopped with nobody else over the lip
bool fhi_trip_is_held(const fh_team_result *team);

/// The raise of one member by the others.
typedef struct fhi_trip_raise {
  double depth;    ///< [m] at which the one hangs: the whole rope to the next one, or the likely fall of the first if that is more
  double rope;     ///< [m] for the raise, the loaded piece included; NaN: no rope of known length
  bool possible;   ///< plan finds a rig with the kit that the others carry, less what they keep back
  bool sure;       ///< and the crew can pull it at the high end of the pull, with the low end of its own
  char why[1600]; ///< that rig in words, or what is missing
} fhi_trip_raise;

fh_status fhi_trip_raise_find(const fhi_trip *trip, const fh_scene *scene, const fh_gear *gear, const fh_team_result *team, int faller, fhi_trip_raise *out);

#endif
