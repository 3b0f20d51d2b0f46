// SPDX-License-Identifier: MIT
// The space of raising rigs, as short codes that can be walked, solved and placed fast. Implements model.md, section 13.
//
// Every rig here comes over the lip to a capture on the station. Behind the capture stand elements 1..n, in the order in
// which the rope meets them: contacts (a turn at a fixed point, or a block on a grip) and ties (a further rope begins
// where the one before ends loose). Strand 0 runs from the lip to the capture, strand i from element i-1 to element i
// (element 0 is the capture), strand n+1 to the hand; or, with one further rope, the crew pulls on the first rope's end, the
// strand before the tie, and strand n+1 ends loose under a grip. A block whose two strands lie behind it is a front block, one whose
// strands lie before it a back block; front and back alternate along a rope because each contact turns it half round.
#ifndef FHI_SEARCH_H
#define FHI_SEARCH_H

#include "firnhaul.h"

enum {
  FHI_SEARCH_CONTACTS = 9,                          ///< most contacts behind the capture
  FHI_SEARCH_TIES = 2,                              ///< most further ropes
  FHI_ELEMENTS = FHI_SEARCH_CONTACTS + FHI_SEARCH_TIES + 1,
  FHI_STRANDS = FHI_ELEMENTS + 2,
  FHI_CLASSES = 64,                                 ///< kinds of pieces that a rope can run through: no more lines in a kit
  FHI_HITCHES = 64,                                 ///< kinds of hitches, likewise
  FHI_ON_FIXED = -1,
};

/// One element behind the capture.
typedef struct fhi_element {
  int8_t tie;   ///< 0 contact, 1 tie of a further rope
  int8_t side;  ///< +1 front: its strands lie behind it (a tie: it is pulled back); -1 back
  int8_t on;    ///< strand that its grip holds, or FHI_ON_FIXED
  int8_t piece; ///< contact: class of piece, set by the assignment; tie: 0
} fhi_element;

/// How the rig begins.
typedef enum fhi_start {
  FHI_START_DIRECT,       ///< on the strand that holds the load
  FHI_START_LOOP,         ///< a loop of the same rope let down to the load, the first strand left as a slack line
  FHI_START_END,          ///< the same rope's free end let down and tied to the load, the first strand a slack line
  FHI_START_OTHER_DIRECT, ///< a second rope let down and tied to the load
  FHI_START_OTHER_LOOP,   ///< a loop of a second rope let down to the load
  FHI_START_COUNT,
} fhi_start;

typedef struct fhi_code {
  fhi_element e[FHI_ELEMENTS];  ///< e[0] is the capture: only its piece counts
  int8_t n;                     ///< elements behind the capture
  int8_t ties;
  int8_t start;                 ///< fhi_start
  int8_t load_piece;            ///< loop: class of the piece at the load
  int8_t far_turns;             ///< 1: fixed turns and ties stand on the anchor, not the station
  int8_t shared;                ///< 1: blocks on the same strand and side share one grip
  int8_t tended;                ///< 1: the capture is a hitch, half a clearance in front of the station
  int8_t hand;                  ///< the strand in the hand when it is not the last one; else 0
} fhi_code;

/// What the kit offers: pieces by class, best first.
typedef struct fhi_stock {
  int item[FHI_CLASSES];           ///< gear index
  double efficiency[FHI_CLASSES];  ///< [1] likely, at 180 degrees
  fh_number eta[FHI_CLASSES];      ///< [1]
  double factor[FHI_CLASSES];      ///< [1] tension ratio at half a turn, likely
  double factor_hard[FHI_CLASSES]; ///< [1] and at its hard end
  double strength[FHI_CLASSES];    ///< [N] low end, infinite when unknown
  int count[FHI_CLASSES];          ///< without the one that is the capture on the station
  int classes;
  int capture;                     ///< class of the capture on the station, or -1: a hitch is the capture
  double capture_sheath;           ///< [N] low end, infinite when unknown
  int pieces;                      ///< all of count
  int hitches[FHI_HITCHES], hitch_count[FHI_HITCHES];  ///< gear index and number, strongest grip first
  double slip[FHI_HITCHES];        ///< [N] low end
  int hitch_kinds, grips;          ///< grips: hitches that may make blocks, one less when a hitch is the capture
  int clips[FHI_CLASSES];          ///< carabiners that a piece takes out of the kit: itself, or the one that holds it
  int carabiners;                  ///< most that a rig may take in all (fhi_code_carabiners)
  int ropes[FH_MAX_ROPES];         ///< scene ropes: [0] the main one, then ropes that may go down, then cords
  int rope_count, long_ropes;      ///< long_ropes: how many of them are no cords
} fhi_stock;

void fhi_stock_fill(const fh_scene *scene, const fh_gear *gear, fhi_stock *stock);

/// A bar with a rated strength: what clips. @return false also for an item that is not in the catalogue
bool fhi_is_carabiner(const fh_gear *gear, int item);
/// Carabiners that a piece takes out of the kit: itself, or the one that it hangs on; 0 or 1.
int fhi_clips(const fh_gear *gear, int item);
int fhi_kit_carabiners(const fh_scene *scene, const fh_gear *gear);
/// Carabiners that the code's rig takes: what fh_rig_carabiners counts, added up.
int fhi_code_carabiners(const fhi_code *code, const fhi_stock *stock);

/// Speeds and tensions of a code. Speeds are over that of strand 0, tensions over the hand's pull.
typedef struct fhi_solved {
  double w[FHI_STRANDS];      ///< [1] rope of each strand along +s
  double v[FHI_ELEMENTS];     ///< [1] each element along +s
  int8_t sense[FHI_ELEMENTS]; ///< +1 when the rope passes an element toward the hand, -1 away from it
  double hand;                ///< [1] hand travel over strand 0's
  double start[FHI_STRANDS];  ///< [1] tension where a strand begins (nearer the load along the rope)
  double end[FHI_STRANDS];    ///< [1] and where it ends
  double pull[FHI_ELEMENTS];  ///< [1] what each element pulls with on what holds it
} fhi_solved;

int fhi_hand_strand(const fhi_code *code);            ///< the strand that the crew pulls
bool fhi_is_loose(const fhi_code *code, int strand);  ///< true when the strand ends loose
int fhi_direction(const fhi_code *code, int strand);  ///< +1 when the strand runs away from the lip in path order, else -1

/// Speeds. @return false when locked, dangling, idle at a contact, or when the hand would not gain
bool fhi_code_motion(const fhi_code *code, fhi_solved *solved);
/// Tensions for given tension ratios by class. Needs the speeds. @return false when a strand would have to push
bool fhi_code_force(const fhi_code *code, const double *factor, fhi_solved *solved);

/// Places on the haul line that give the longest throw.
typedef struct fhi_placed {
  double at[FHI_ELEMENTS];  ///< [m] elements; fixed ones at their point
  double travel;            ///< [m] of strand 0 in one stroke
  double rope[FHI_SEARCH_TIES + 2];  ///< [m] strands of each rope on the surface, in path order; [0] from the lip on
} fhi_placed;

/// Whether the elements can be put in order on the haul line at all, however long it is.
bool fhi_code_orderable(const fhi_code *code, const fhi_solved *solved);

/// @param most [m] travel that is never needed beyond  @return false when the elements cannot be put in order on the line
bool fhi_code_place(const fh_scene *scene, const fhi_code *code, const fhi_solved *solved, double most, fhi_placed *placed);

/// Called by the walk for every code with a sound motion that can be put in order.
typedef bool (*fhi_walk_fn)(void *user, const fhi_code *code, const fhi_solved *solved);

typedef struct fhi_walk {
  int max_contacts[FHI_SEARCH_TIES + 1];  ///< by number of ties; -1: none with so many
  int max_grips, max_pieces;
  int64_t tried, sound;   ///< codes looked at, and those with a sound motion and order
  fhi_walk_fn visit;      ///< return false to stop
  void *user;
} fhi_walk;

/// The usual bounds: `contacts` without a further rope, two fewer with one, three fewer with two.
void fhi_walk_bounds(fhi_walk *walk, int contacts, int further_ropes);

/// Every code within the bounds, each once. @return false when visit stopped it
bool fhi_walk_all(fhi_walk *walk);

/// The rig of a code, written out: every efficiency and place.
void fhi_code_rig(const fh_scene *scene, const fh_gear *gear, const fhi_stock *stock, const fhi_code *code,
                  const fhi_placed *placed, fh_rig *rig);

#endif
