// SPDX-License-Identifier: MIT
// From a candidate to a full plan: what check and haul say of its rig. Implements model.md, section 13.
#ifndef FHI_PLAN_WORK_H
#define FHI_PLAN_WORK_H

#include "plan.h"

/// What is needed to turn candidates into plans.
typedef struct fhi_planner {
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_plan_opts *opts;
  fhi_stock stock;
  fhi_candidates found;
  fh_rig rig;
  fh_plan *done;        ///< full results, in the order in which they were worked out
  size_t done_count, done_room;
  fh_plans *plans;
} fhi_planner;

/// Works the candidate's rig out in full, once: what check would say is what the plan says. @return FH_OK, FH_ERR_MEMORY
fh_status fhi_plan_work_out(fhi_planner *p, fhi_candidate *c);
/// How long and how often, as haul has it, of one that was worked out. What that says no to goes after all. @return FH_OK, FH_ERR_MEMORY
fh_status fhi_plan_tell_time(fhi_planner *p, fhi_candidate *c);
/// What check and haul found, and what the code says besides. @param c one that was worked out
fh_plan fhi_plan_full(const fhi_planner *p, const fhi_candidate *c);

/// A chance as it is shown: never surer than it is. @param chance [1]  @return [1]
double fhi_in_hundredths(double chance);

/// Simpler rigs for which the crew lacks pull at the likely figures only: appended to the plans that stand already.
/// @return FH_OK, FH_ERR_MEMORY
fh_status fhi_plan_less_likely(fhi_planner *p);

#endif
