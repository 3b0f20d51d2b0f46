// SPDX-License-Identifier: MIT
// How the rope lies at a stated spacing, for those who ask of hundreds of spacings: budget.c.
#ifndef FHI_BUDGET_H
#define FHI_BUDGET_H

#include "firnhaul_rescue.h"

/// fh_budget without the search for the widest spacings, which takes all its time; those are NaN. @return FH_OK, FH_ERR_ARG
fh_status fhi_budget_lie(const fh_budget_in *in, fh_budget_out *out);

#endif
