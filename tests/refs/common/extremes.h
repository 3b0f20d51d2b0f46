// SPDX-License-Identifier: MIT
// Least and greatest tension that friction allows, as linear programmes solved by GLPK.
#ifndef REF_EXTREMES_H
#define REF_EXTREMES_H

#include "answer.h"

/// @param m the motion of the raise: which way ropes run, and so which way captures face
/// @param raise its forces, for FH_HOLD: rope shut in between two points that hold it can be as tight as friction allows
/// without end; it is no tighter than the raise left it (the core's own rule). NULL: such strands stay infinite.
void ref_extremes(const ref_reading *r, const ref_motion *m, int state, const ref_forces *raise,
                  ref_forces *out);

#endif
