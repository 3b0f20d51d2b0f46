// SPDX-License-Identifier: MIT
// What a reference solver says about one rig in one state.
#ifndef REF_ANSWER_H
#define REF_ANSWER_H

#include "reading.h"

typedef enum ref_verdict {
  REF_SOUND,
  REF_LOCKED,   ///< the motion has no solution, or a capture would have to run backward
  REF_DANGLES,  ///< the motion has more than one
  REF_PUSHES,   ///< no tensions of zero or more satisfy the laws
  REF_WEDGES,   ///< friction at a resting bend can hold against any pull
  REF_BORDER,   ///< too near a border between two verdicts to say
} ref_verdict;

/// The motion of a raise, load speed 1.
typedef struct ref_motion {
  ref_verdict verdict;
  double body_speed[FH_MAX_BODIES];  ///< [1] along +s
  double hand_speed;                 ///< [1] the ideal advantage
  double rate[REF_MAX_POINTS];       ///< [1] rope passing each turn toward its last end
} ref_motion;

/// Least and greatest tension of each strand, and pull on each body.
typedef struct ref_forces {
  ref_verdict verdict;
  double lo[REF_MAX_STRANDS], hi[REF_MAX_STRANDS];        ///< [N] hi may be infinite
  double body_lo[FH_MAX_BODIES], body_hi[FH_MAX_BODIES];  ///< [N] size of the pull on it; NaN where not asked for
  double grip_lo[FH_MAX_GRIPS], grip_hi[FH_MAX_GRIPS];    ///< [N] what a hitch holds
  bool unbounded;                                         ///< friction allows a strand any tension
} ref_forces;

/// A rope's speed at a turn below this share of the load's speed is rest.
#define REF_REST 1e-9

const char *ref_verdict_name(ref_verdict v);

#endif
