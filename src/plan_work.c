// SPDX-License-Identifier: MIT
// What check and haul say of a candidate's rig. Implements model.md, section 13.
#include "plan_work.h"

#include <math.h>
#include <string.h>

#include "haul.h"
#include "memory.h"

static void fill_plan(const fh_check *check, fh_plan *plan) {
  plan->ideal_advantage = check->ideal_advantage;
  plan->hand_force = check->hand_force;
  plan->actual_advantage = check->actual_advantage.likely;
  plan->rope_needed = 0.0;
  for (int p = 0; p < FH_MAX_PATHS; p++) {
    plan->rope_needed += check->rope_needed[p];
  }
  plan->throw_load = check->throw_load;
  plan->resets = check->resets;
  plan->time = check->time.likely;
  plan->time_rests = check->time_rests.likely;
  plan->time_range = check->time;
  plan->time_rests_range = check->time_rests;
  plan->pieces = check->pieces;
  plan->worst_margin = check->worst_margin;
  plan->crew_share = check->crew_share.likely;
  plan->crew = check->crew;
  plan->possible = !check->answer_no;
  plan->tends_far = check->tends_far;
  plan->thin = check->thin;
  plan->over_edge = check->over_edge;
  bool only_crew = check->outcome == FH_OUTCOME_SOLVED && !check->ruled_out && check->worst_margin >= 1.0;
  plan->lacks_pull = only_crew && check->crew_share.likely > 1.0 ? check->hand_force.likely - check->crew.force.likely : 0.0;
}

fh_status fhi_plan_tell_time(fhi_planner *p, fhi_candidate *c) {
  fhi_placed placed;
  fhi_timing t;
  fh_plan *plan = &p->done[c->plan];
  if (c->timed || plan->resets < 0 || !fhi_candidate_place(p->scene, &p->stock, c, &placed)) {
    return FH_OK;
  }
  fhi_code_rig(p->scene, p->gear, &p->stock, &c->code, &placed, &p->rig);
  fh_status status = fhi_timing_find(p->scene, p->gear, &p->rig, &t);
  if (status != FH_OK) {
    return status;
  }
  bool done = t.why == NULL;
  const fh_band nan = {(double)NAN, (double)NAN, (double)NAN};
  c->timed = true;
  plan->resets = done ? t.strokes - 1 : -1;
  plan->time_range = done ? t.time : nan;
  plan->time_rests_range = done ? t.time_rests : nan;
  plan->time = plan->time_range.likely;
  plan->time_rests = plan->time_rests_range.likely;
  plan->possible = c->possible = plan->possible && done;
  return FH_OK;
}

static fh_status make_room(fhi_planner *p) {
  size_t room = p->done_room == 0 ? 64 : 2 * p->done_room;
  if (p->done_count < p->done_room) {
    return FH_OK;
  }
  fh_plan *done = fhi_realloc(p->done, room, sizeof *done);
  if (done == NULL) {
    return FH_ERR_MEMORY;
  }
  p->done = done;
  p->done_room = room;
  return FH_OK;
}

fh_status fhi_plan_work_out(fhi_planner *p, fhi_candidate *c) {
  const fh_check_opts opts = {.lower = false, .ranges = true, .time = false};
  fhi_placed placed;
  fh_check *check = NULL;
  if (c->plan >= 0) {
    return FH_OK;
  }
  if (make_room(p) != FH_OK) {
    return FH_ERR_MEMORY;
  }
  if (!fhi_candidate_place(p->scene, &p->stock, c, &placed)) {
    return FH_ERR_ARG;  // it was placed when it was found: cannot happen
  }
  fhi_code_rig(p->scene, p->gear, &p->stock, &c->code, &placed, &p->rig);
  fh_status status = fh_check_create(p->scene, p->gear, &p->rig, &opts, &check);
  if (status == FH_OK) {
    fh_plan *plan = &p->done[p->done_count];
    memset(plan, 0, sizeof *plan);
    fill_plan(check, plan);
    c->plan = (int32_t)p->done_count++;
    c->possible = plan->possible;
    c->time = check->time_rests.likely;
    fh_check_destroy(check);
  }
  return status;
}

fh_plan fhi_plan_full(const fhi_planner *p, const fhi_candidate *c) {
  fh_plan plan = p->done[c->plan];
  plan.chance = (double)NAN;
  plan.asks_below = c->hands;
  plan.toward_lip = fhi_direction(&c->code, fhi_hand_strand(&c->code)) < 0;
  plan.carabiners = fhi_code_carabiners(&c->code, &p->stock);
  return plan;
}

double fhi_in_hundredths(double chance) {
  return floor(100.0 * chance + 1e-9) / 100.0;
}
