// SPDX-License-Identifier: MIT
// Least and greatest tension that friction allows, as linear programmes solved by GLPK.
#ifndef REF_EXTREMES_H
#define REF_EXTREMES_H

#include "answer.h"

/// @param m the motion of the raise: which way ropes run, and so which way captures face
/// @param most  for rope shut in between two points that hold it, which can be as tight as friction allows without end:
/// the tension that each such strand has at most [N]. NULL: such strands stay infinite.
void ref_extremes(const ref_reading *r, const ref_motion *m, int state, const double *most, ref_forces *out);

#endif
