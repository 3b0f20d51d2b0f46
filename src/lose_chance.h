// SPDX-License-Identifier: MIT
// What lets go, in one settled scene: for its chances, and for tests that run lose the ordinary way. Model section 12.
#ifndef FHI_LOSE_CHANCE_H
#define FHI_LOSE_CHANCE_H

#include "lose.h"
#include "quasi.h"
#include "replicates.h"
#include "unknowns.h"

enum { FHI_LOSE_LANES = 16 };

struct fh_lose_chance_work {
  fh_chance_opts opts;
  fh_outcome outcome;
  fh_scene scene;                    ///< with the rig as its own
  const fh_gear *gear;               ///< the caller's
  fh_stages_opts stages_opts;
  fhi_backup backup;                 ///< settled beforehand
  fhi_unknowns unknowns;
  fh_stage_kind kind[FH_MAX_STAGES];  ///< of the stages that are told of
  int stages, elements;
  int cell[FH_MAX_STAGES * FH_MAX_ELEMENTS];  ///< place of the counts, -1: the element is not in place
  int cells;
  fhi_sampler sampler[FHI_REPLICATES];
};

#endif
