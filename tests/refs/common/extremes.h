// SPDX-License-Identifier: MIT
// Least and greatest tension that friction allows, as linear programmes solved by GLPK.
#ifndef REF_EXTREMES_H
#define REF_EXTREMES_H

#include "answer.h"

/// @param m the motion of the raise; may be NULL for FH_HOLD
void ref_extremes(const ref_reading *r, const ref_motion *m, int state, ref_forces *out);

#endif
