// SPDX-License-Identifier: MIT
// Between the walk over all codes and the list of plans: quick scores, the front, the words. Implements model.md, section 13.
#ifndef FHI_PLAN_H
#define FHI_PLAN_H

#include "search.h"

/// A code with its scores at the likely values.
typedef struct fhi_candidate {
  fhi_code code;
  int8_t pieces;
  bool possible, timed;
  double hand_force;   ///< [N]
  double time;         ///< [s] of whole strokes, with rests
  double rope;         ///< [m] all ropes together
  double margin;       ///< [1] least limit over force, everything at its hard end
  double share;        ///< [1] of what the crew can pull
  double short_rope;   ///< [m] that the shortest rope lacks; 0 when all reach
  int32_t plan;       ///< where its full result stands once it was worked out, else -1
  bool hands;         ///< the person below has to clip a loop in, and does not help
  bool untended;      ///< one alone pulls too far off to tend the hitch that is the capture
  int32_t key[7];     ///< pieces, pull, time, rope, margin in steps that a person could tell apart, hands, untended; smaller is better
} fhi_candidate;

enum { FHI_NEAR = 10 };  ///< whole ideal advantages below this are remembered

/// The smallest rig of one ideal advantage, whether it works or not.
typedef struct fhi_near {
  bool there, works;   ///< works: some rig of that advantage does
  int8_t pieces;
  double hand_force, share, short_rope, margin;  ///< as in fhi_candidate
} fhi_near;

enum { FHI_UNLIKELY_PIECES = 12, FHI_UNLIKELY_EACH = 3 };

/// Rigs for which the quick scores say that the crew lacks pull and nothing else: of each number of pieces the best few, best first.
typedef struct fhi_unlikely {
  fhi_candidate list[FHI_UNLIKELY_PIECES][FHI_UNLIKELY_EACH];
  int8_t count[FHI_UNLIKELY_PIECES];
} fhi_unlikely;

typedef struct fhi_candidates {
  fhi_near near[FHI_NEAR];
  fhi_unlikely unlikely;
  fhi_candidate *list;
  size_t count, room;
  int64_t searched, sound, distinct;
  int8_t max_contacts;
  bool stopped, full;   ///< progress said stop; the memory bound was reached
} fhi_candidates;

typedef struct fhi_search_opts {
  int max_contacts;
  bool only_possible;   ///< keep no candidate that the quick scores rule out
  bool short_ropes;     ///< keep also rigs whose carrying strands alone are longer than a rope
  bool (*progress)(void *user, double done);
  void *user;
} fhi_search_opts;

/// Walks the space and scores every sound rig, each with the pieces where they pull best.
/// @return FH_OK, FH_ERR_MEMORY
fh_status fhi_search_run(const fh_scene *scene, const fh_gear *gear, const fhi_stock *stock, const fhi_search_opts *opts,
                         fhi_candidates *found);
void fhi_candidates_clear(fhi_candidates *found);

/// The places of a candidate's rig, worked out again from its code. @return false when memory of the code is broken
bool fhi_candidate_place(const fh_scene *scene, const fhi_stock *stock, const fhi_candidate *candidate, fhi_placed *placed);

/// How many contacts behind the capture can be searched within the time that a person waits.
int fhi_search_contacts(const fhi_stock *stock);

/// Fills the candidate's key from its scores.
void fhi_front_key(fhi_candidate *candidate);

/// Moves the candidates that no other beats to the front. @return their number
size_t fhi_front(fhi_candidate *list, size_t count);

/// The order behind the front: smaller pieces, pull and so on first, settled to the last byte. @return as strcmp
int fhi_front_compare(const void *a, const void *b);

/// Keeps the candidate, whose key is filled, if it is among the best few of its pieces.
void fhi_unlikely_add(fhi_unlikely *unlikely, const fhi_candidate *candidate);

/// @param near FHI_NEAR of them  @param ideal [1]
void fhi_near_add(fhi_near *near, double ideal, const fhi_candidate *candidate);
/// Rigs with fewer pieces than any that works, and why not: fills `simpler` of the plans. Those among the less likely are left out.
void fhi_say_simpler(const fhi_near *near, fh_language language, fh_plans *plans);

/// What would make it work, when nothing does: fills `changes` and `missing` of the plans, the cheapest first.
fh_status fhi_missing(const fh_scene *scene, const fh_gear *gear, int max_contacts, fh_plans *plans);

#endif
