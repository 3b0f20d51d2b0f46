// SPDX-License-Identifier: MIT
// What does a team carry, how much rope is left in the coils, and can the others raise the one who fell? Plan is asked with the
// kit that is then still at hand.
#include "trip.h"

#include "memory.h"
#include "team_choose.h"

#include <math.h>

static int longest_rope(const fh_scene *scene) {
  int best = -1;
  for (int i = 0; i < scene->rope_count; i++) {
    if (fh_number_is_set(scene->ropes[i].length) && (best < 0 || scene->ropes[i].length.lo > scene->ropes[best].length.lo)) {
      best = i;
    }
  }
  return best;
}

// @return false when no rope has a stated length, or it is too short
static bool find_budget(const fh_scene *scene, const fh_team_result *team, int rope, fh_budget_out *out) {
  fh_budget_in in = fh_budget_in_default();
  const fh_fall_in *f = &team->in;
  if (rope < 0) {
    return false;
  }
  in.length = scene->ropes[rope].length.lo;
  in.people = f->people;
  in.spacing = f->at[f->people - 1] / (f->people - 1) + f->slack;
  in.knots = f->knots;
  in.per_tie = FHI_TIE;
  in.set_back = scene->anchor_at.likely;
  return fh_budget(&in, out) == FH_OK && out->free_rope >= 0.0;
}

void fhi_trip_start(const fh_scene *scene, const fh_gear *gear, const fh_team_result *team, fhi_trip *out) {
  *out = (fhi_trip){0};
  fhi_kit_deal(scene, gear, scene->team.people_count, out->carries);
  out->rope = longest_rope(scene);
  out->has_budget = find_budget(scene, team, out->rope, &out->budget);
}

// How much rope serves the raise when this one hangs, with the loaded piece. [m]
static double rope_for(const fhi_trip *trip, int people, int faller, double depth) {
  const fh_budget_out *b = &trip->budget;
  double usable = faller == 0 ? b->last.usable : faller == people - 1 ? b->first.usable : fmax(b->first.spare, b->last.spare);
  return depth + fmax(0.0, usable);
}

bool fhi_trip_is_held(const fh_team_result *team) {
  return team->likely.outcome == FH_OUTCOME_SOLVED && team->likely.arrested && team->likely.pulled_in == 0;
}

fh_status fhi_trip_raise_find(const fhi_trip *trip, const fh_scene *scene, const fh_gear *gear, const fh_team_result *team, int faller, fhi_trip_raise *out) {
  const fh_fall_in *in = &team->in;
  *out = (fhi_trip_raise){0};
  // One hangs on the piece to a neighbour: the first on the one behind, everyone else on the one in front. As deep as that piece
  // is long is the most there is while that neighbour is on top, save for stretch.
  out->depth = (faller == 0 ? in->at[1] : in->at[faller] - in->at[faller - 1]) + in->slack;
  if (faller == 0 && fhi_trip_is_held(team)) {
    out->depth = fmax(out->depth, team->likely.fall);
  }
  out->rope = trip->has_budget ? rope_for(trip, in->people, faller, out->depth) : (double)NAN;
  fh_scene *raise = fhi_alloc(1, sizeof *raise);
  if (raise == NULL) {
    return FH_ERR_MEMORY;
  }
  bool knotted = in->knots > 0 && (faller == 0 || faller == in->people - 1);
  fhi_raise_scene(scene, in->people, faller, trip->has_budget ? trip->rope : -1, out->rope, out->depth, knotted ? in->knots : 0, raise);
  fhi_kept kept = fhi_kit_of_raise(scene, gear, in->people, faller, raise);
  fh_status status = FH_OK;
  if (!fhi_kept_lacks(&kept, scene->language, out->why, sizeof out->why)) {
    status = fhi_raise_find(raise, gear, 4, &out->possible, &out->sure, out->why, sizeof out->why);
  }
  fhi_free(raise);
  return status;
}
