// SPDX-License-Identifier: MIT
// One settled raise, for its chances and for tests that run it the ordinary way. Model section 12.
#ifndef FHI_HAUL_CHANCE_H
#define FHI_HAUL_CHANCE_H

#include "haul.h"
#include "odds.h"
#include "replicates.h"
#include "tally.h"
#include "unknowns.h"

/// What bands are told of, but the ways over the edge.
enum {
  FHI_HAUL_STROKES, FHI_HAUL_PULLED, FHI_HAUL_STRETCH, FHI_HAUL_SET_BACK, FHI_HAUL_TIME, FHI_HAUL_WORK, FHI_HAUL_PULL,
  FHI_HAUL_GREATEST, FHI_HAUL_CAPACITY, FHI_HAUL_SHARE, FHI_HAUL_RESETS, FHI_HAUL_SPREADS,
};
/// What a raise may be good at.
enum { FHI_GOOD_WORKS, FHI_GOOD_CREW, FHI_GOOD_LASTS, FHI_GOOD_CREW_LIP, FHI_GOOD_LASTS_LIP, FHI_GOOD_ROPE, FHI_GOOD_LIMITS, FHI_GOOD_ALL, FHI_GOODS };

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

/// How many raises were good at each thing, by replicate, and how their figures spread.
struct fh_haul_chance_part {
  int64_t count[FHI_REPLICATES], good[FHI_GOODS][FHI_REPLICATES];
  int64_t lip_crew[FH_MAX_LIP_CASES], lip_lasts[FH_MAX_LIP_CASES];
  int64_t bins[FHI_HAUL_SPREADS][FHI_TALLY_FINE_BINS];
  int64_t lip_bins[FH_MAX_LIP_CASES][FHI_TALLY_FINE_BINS];
  double u[FH_MAX_UNKNOWNS][FHI_LANES];
  fhi_raised raised[FHI_LANES];
  fhi_odds_scratch scratch;
  fhi_odds_out out, over;
  fhi_settled *settled;
};

/// Is every rope of stated length long enough? @param raise of a settled scene
bool fhi_rope_enough(const fhi_raise *raise);

/// One sample. @param u [1] place of each unknown in its range  @return FH_OK or FH_ERR_MEMORY
fh_status fhi_raise_settled(const fh_haul_chance_work *work, fhi_settled *settled, const double *u, fhi_raised *out);

/// What the share of the crew's pull and the time hang on most. @return FH_OK or FH_ERR_MEMORY
fh_status fhi_haul_why(const fh_haul_chance_work *work, fh_haul_chance *chance);

#endif
