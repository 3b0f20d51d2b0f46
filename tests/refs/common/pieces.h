// SPDX-License-Identifier: MIT
// Motion and forces piece by piece: a piece of rope runs from one end that holds it to the next. Solved by GSL.
#ifndef REF_PIECES_H
#define REF_PIECES_H

#include "answer.h"

void ref_pieces_motion(const ref_reading *r, ref_motion *out);

/// @param state FH_RAISE or FH_LOWER  @return false when a tension stays open
bool ref_pieces_forces(const ref_reading *r, const ref_motion *m, int state, ref_forces *out);

#endif
