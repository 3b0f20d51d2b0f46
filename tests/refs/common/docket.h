// SPDX-License-Identifier: MIT
// Runs a judge over the known rigs and over many random ones, and says what it saw.
#ifndef REF_DOCKET_H
#define REF_DOCKET_H

#include "judge.h"
#include "random_rig.h"

/// Judges one case. @return the reference's verdict on the raise
typedef ref_verdict (*ref_case_fn)(ref_trial *t);

/// Every known rig with random efficiencies, then `count` random rigs from seed `from`. Prints a summary; the first rigs
/// that fail are shown as documents. @return the exit status: 0 when all agreed and there was something to agree on
int ref_docket(const char *title, uint64_t from, int count, const ref_wish *wish, ref_case_fn judge);

/// Judges whether the core calls the rig workable just when the reference does. @return true when both say sound
bool ref_judge_verdict(ref_trial *t, ref_verdict v);

#endif
