// SPDX-License-Identifier: MIT
// Motion and forces strand by strand as dense systems, solved by LAPACK.
#ifndef REF_DENSE_H
#define REF_DENSE_H

#include "answer.h"

void ref_dense_motion(const ref_reading *r, ref_motion *out);

/// Tensions of a moving rig without resting bends. @param state FH_RAISE or FH_LOWER  @return false when the system
/// leaves a tension open (then only intervals answer)
bool ref_dense_forces(const ref_reading *r, const ref_motion *m, int state, ref_forces *out);

#endif
