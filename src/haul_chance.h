// SPDX-License-Identifier: MIT
// One settled raise, for its chances and for tests that run it the ordinary way. Model section 12.
#ifndef FHI_HAUL_CHANCE_H
#define FHI_HAUL_CHANCE_H

#include "haul.h"
#include "odds.h"
#include "unknowns.h"

enum {
  FHI_REPLICATES = 16,
  FHI_HAUL_SPREADS = 11,  ///< what bands are told of, but the ways over the edge
};

struct fh_haul_chance_work {
  fh_chance_opts opts;
  fh_outcome outcome;
  bool jams;                     ///< brake knots jam, as check says
  fh_scene scene;                ///< with the rig as its own
  const fh_gear *gear;           ///< the caller's
  fh_stages_opts stages;
  fhi_backup backup;             ///< settled beforehand
  fhi_unknowns unknowns;
  fhi_odds odds;
  int of_odds[FH_MAX_UNKNOWNS];  ///< our unknown for each of the odds'
  fhi_sampler sampler[FHI_REPLICATES];
  int as_it_is;                  ///< way over the edge
};

/// What one settled raise gives.
typedef struct fhi_raised {
  bool works, rope;
  double strokes, pulled, stretch, set_back, time, work;  ///< [1], [m], [m], [m], [s], [J]
  double pull, greatest, capacity, sustained;             ///< [N]
  double lip[FH_MAX_LIP_CASES];                           ///< [N] NaN: no such way
  double tension[FH_MAX_STRANDS];                         ///< [1] over the weight, over the lip as it is
} fhi_raised;

/// Is every rope of stated length long enough? @param raise of a settled scene
bool fhi_rope_enough(const fhi_raise *raise);

/// One sample. @param u [1] place of each unknown in its range  @return FH_OK or FH_ERR_MEMORY
fh_status fhi_raise_settled(const fh_haul_chance_work *work, fhi_settled *settled, const double *u, fhi_raised *out);

#endif
