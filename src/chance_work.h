// SPDX-License-Identifier: MIT
// What a chance is counted from: a settled job, and the counts of a part of it. Model section 12.
#ifndef FHI_CHANCE_WORK_H
#define FHI_CHANCE_WORK_H

#include "chance.h"
#include "lanes.h"
#include "odds.h"
#include "replicates.h"
#include "sample.h"
#include "tally.h"

/// What three figures are told of. FHI_OF_SHARE: of the crew's capacity.
enum { FHI_OF_PULL, FHI_OF_CAPACITY, FHI_OF_SHARE, FHI_OF_MARGIN, FHI_CHANCE_SPREADS };

struct fh_chance_work {
  fh_chance_opts opts;
  fh_outcome outcome;
  bool stuck;  ///< check says that knots jam, or that there is no room for a stroke
  fhi_odds odds;
  fh_rig rig;
  fh_language language;
  fhi_sampler sampler[FHI_REPLICATES];
};

/// How many samples were good at each thing, by replicate.
struct fh_chance_part {
  int64_t crew[FHI_REPLICATES], lasts[FHI_REPLICATES], limits[FHI_REPLICATES];
  int64_t rope[FHI_REPLICATES], both[FHI_REPLICATES], count[FHI_REPLICATES];
  int64_t broken[FH_MAX_LIMITS];
  fhi_tally spread[FHI_CHANCE_SPREADS];
  fhi_odds_scratch scratch;
  fhi_odds_out out;
};

/// Samples in whole steps: as many in every replicate. @param samples [1]
int64_t fhi_chance_steps(int64_t samples);
/// Starts every replicate. @param dims [1] of its numbers; a further one does not move the others
void fhi_chance_samplers(fh_chance_work *work, int dims);
/// Does check say that knots jam, or that there is no room for a stroke?
bool fhi_chance_stuck(const fh_check *check);

/// Room for where coupled bodies come to rest, when the rig has such. @return false: out of memory
bool fhi_chance_part_rest(const fh_chance_work *work, fh_chance_part *part);
/// Works out and counts the samples drawn into the scratch. @param block [1] which of the work's
void fhi_chance_part_count(const fh_chance_work *work, fh_chance_part *part, int64_t block);
/// Zeros where something was counted; the rest is zero already.
void fhi_chance_part_clear(fh_chance_part *part);

/// The answer from the counts. @return FH_OK or FH_ERR_MEMORY
fh_status fhi_chance_fill(const fh_chance_work *work, const fh_chance_part *part, fh_chance *chance);
/// What the pull, the margin and success hang on most. @return FH_OK or FH_ERR_MEMORY
fh_status fhi_chance_why(const fh_chance_work *work, fh_chance *chance);

#endif
