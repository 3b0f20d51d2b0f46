// SPDX-License-Identifier: MIT
// The last half metre: what does it take to get the load over the edge? Implements model.md, section 7, "over the lip".
//
// The rope has cut into the edge by `cut`, so it meets the snow that far behind the wall. A load that hangs z below the edge
// is pulled toward the wall at the angle a with tan a = cut / z. The strand's part along the wall lifts, the part across
// presses the load against the wall, where it rubs with the friction f:
//   T cos a = W + f T sin a   ->   T = W / (cos a - f sin a)          jammed for good where tan a >= 1 / f, z = f cut.
// A load that pushes off keeps clear of the wall: f = 0. The rope then turns over the edge by so much less. Cleared, the
// edge has no cut: a = 0. Lifted by a second point, the rope runs over a carabiner instead of the edge.
#include <math.h>
#include <string.h>

#include "haul.h"

typedef struct lip_case {
  const char *name, *note;
  bool cut, helps, lifted, padded;
  double part;  // [1] of the lip's zone, for the depth
} lip_case;

static const lip_case CASES[] = {
    {"uncleared, load limp", "the rope in its cut presses the load against the wall", true, false, false, false, 1.0},
    {"uncleared, load pushes off", "feet against the wall, away from the edge", true, true, false, false, 1.0},
    {"uncleared, load limp, nearer", "the nearer to the edge, the more of the pull is lost", true, false, false, false, 0.4},
    {"uncleared, load pushes off, nearer", "the nearer to the edge, the more of the pull is lost", true, true, false, false, 0.4},
    {"cleared", "the edge cut back down to the rope", false, false, false, false, 1.0},
    {"cleared and padded", "and an axe shaft, ski or pack under the rope", false, false, false, true, 1.0},
    {"lifted by a second point", "a second pull at the edge lifts the ropes out of the snow over a carabiner", false, false, true, false, 1.0},
    {"pulled from beside the cut", "the ropes laid over fresh edge, the load swings under it", false, false, false, false, 1.0},
};

enum { NEARER_LIMP = 2, NEARER_HELPS = 3, CLEARED = 4, WAYS = sizeof CASES / sizeof *CASES };

static double pick(fh_band b, int world) {
  return world == FHI_EASY ? b.lo : world == FHI_HARD ? b.hi : b.likely;
}

static fh_band figure(const fh_gear *gear, const char *item, const char *what) {
  return fh_number_band(fh_gear_figure(gear, fh_gear_find(gear, item), what, NULL));
}

typedef struct lip_job {
  const fhi_raise *raise;
  const lip_case *c;
  fh_lip_case *out;
} lip_job;

static double clothing(const lip_job *j, int world) {
  return j->c->cut && !j->c->helps ? pick(figure(j->raise->gear, "clothing-on-snow", "friction"), world) : 0.0;
}

static double angle_of(const lip_job *j, int world) {
  return j->c->cut ? atan2(pick(fh_number_band(j->raise->scene->lip_cut), world), j->out->depth) : 0.0;
}

// Rope tension at the load over its weight; infinite where it jams.
static double share_of(const lip_job *j, int world) {
  double a = angle_of(j, world), along = cos(a) - clothing(j, world) * sin(a);
  return along > 1e-9 ? 1.0 / along : (double)INFINITY;
}

// The edge's tension ratio in this case. Padded and beside the cut it is never worse than it was.
static double edge_ratio(const lip_job *j, const fhi_contact *k, int world) {
  const fh_scene *s = j->raise->scene;
  double ratio = 1.0, turn = pick(fh_number_band(s->lip_turn), world), mu = pick(fh_number_band(k->mu), world);
  if (j->c->lifted) {
    fh_band eta = figure(j->raise->gear, "carabiner", "efficiency");
    (void)fh_contact_ratio(false, world == FHI_EASY ? eta.hi : world == FHI_HARD ? eta.lo : eta.likely, 0.0, turn, &ratio);
    return ratio;
  }
  if (j->c->padded) {
    mu = fmin(mu, pick(figure(j->raise->gear, "padded", "friction"), world));
  } else if (!j->c->cut && s->lip_surface >= 0 && s->lip_surface == fh_gear_find(j->raise->gear, "cut")) {
    mu = fmin(mu, pick(figure(j->raise->gear, "firn", "friction"), world));
  }
  (void)fh_edge_ratio(mu, fmax(0.0, turn - angle_of(j, world)), &ratio);
  return ratio;
}

// What lifts the ropes: the resultant of each moving strand over its bend, all together.
static double lift_force(const lip_job *j, const double *t, double weight, double turn) {
  double sum = 0.0;
  for (int c = 0; c < j->raise->model.contact_count && j->c->lifted; c++) {
    const fhi_contact *k = &j->raise->model.contacts[c];
    sum += k->kind == FHI_EDGE && !k->slack ? fh_resultant(t[k->before], t[k->after], turn) * weight : 0.0;
  }
  return sum;
}

// @param t [1] tensions over the load's own tension
static void run_world(const lip_job *j, int world, double *load, double *hand, double *lift, double *t) {
  const fhi_raise *r = j->raise;
  double factor[FHI_MAX_CONTACTS], share = share_of(j, world);
  for (int c = 0; c < r->model.contact_count; c++) {
    const fhi_contact *k = &r->model.contacts[c];
    factor[c] = k->kind == FHI_EDGE ? edge_ratio(j, k, world) : r->world[world].factor[c];
  }
  *load = share * r->world[world].weight;
  *hand = *lift = (double)INFINITY;
  if (isfinite(share) && fhi_raise_tensions(r, factor, t)) {
    *hand = t[r->model.hand_strand] * *load;
    *lift = lift_force(j, t, *load, pick(fh_number_band(r->scene->lip_turn), world));
  }
}

static fh_band ordered(const double *x) {
  return (fh_band){fmin(x[FHI_EASY], x[FHI_LIKELY_CASE]), x[FHI_LIKELY_CASE], fmax(x[FHI_HARD], x[FHI_LIKELY_CASE])};
}

static void fill_case(const lip_job *j) {
  double load[FHI_CASES], hand[FHI_CASES], lift[FHI_CASES], t[FH_MAX_STRANDS];
  for (int w = 0; w < FHI_CASES; w++) {
    run_world(j, w, &load[w], &hand[w], &lift[w], t);
  }
  j->out->angle = angle_of(j, FHI_LIKELY_CASE);
  j->out->share = share_of(j, FHI_LIKELY_CASE);
  j->out->load_tension = ordered(load);
  j->out->hand_force = ordered(hand);
  j->out->lift_force = ordered(lift);
  j->out->stuck = clothing(j, FHI_LIKELY_CASE) * (j->c->cut ? j->raise->scene->lip_cut.likely : 0.0);
}

// @return false when there is no such way here: without a cut there is nothing to clear
static bool start_case(const fhi_raise *raise, const fh_stages_opts *opts, int way, lip_job *j) {
  double zone = fmax(fmin(opts->lip_zone, raise->scene->depth.likely), 0.05);
  if (j->c->cut && !(raise->scene->lip_cut.hi > 0.0)) {
    return false;
  }
  memset(j->out, 0, sizeof *j->out);
  j->out->name = CASES[way].name;
  j->out->note = CASES[way].note;
  j->out->cut = CASES[way].cut;
  j->out->helps = CASES[way].helps;
  j->out->lifted = CASES[way].lifted;
  j->out->depth = zone * CASES[way].part;
  return true;
}

void fhi_lip_fill(const fhi_raise *raise, const fh_stages_opts *opts, fh_haul *haul) {
  haul->lip_count = 0;
  for (int i = 0; i < WAYS; i++) {
    lip_job j = {raise, &CASES[i], &haul->lip[haul->lip_count]};
    if (start_case(raise, opts, i, &j)) {
      fill_case(&j);
      haul->lip_count++;
    }
  }
}

static fh_band hand_force_of(const fhi_raise *raise, const fh_stages_opts *opts, int way) {
  fh_lip_case out;
  lip_job j = {raise, &CASES[way], &out};
  (void)start_case(raise, opts, way, &j);  // there is a cut: every way is one
  fill_case(&j);
  return out.hand_force;
}

fh_status fhi_over_edge_find(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_over_edge *out) {
  const fh_stages_opts opts = fh_stages_opts_default();
  fhi_raise *raise = NULL;
  memset(out, 0, sizeof *out);
  if (!(scene->lip_cut.hi > 0.0)) {
    return FH_OK;
  }
  fh_status status = fhi_raise_create_tensions(scene, gear, rig, &raise);
  if (status == FH_OK && raise->outcome == FH_OUTCOME_SOLVED) {
    out->cut = true;
    out->pushes_off = scene->load_helps;
    out->hand_force = hand_force_of(raise, &opts, fhi_lip_as_it_is(scene));
    out->cleared = hand_force_of(raise, &opts, CLEARED);
  }
  fhi_raise_destroy(raise);
  return status;
}

bool fhi_lip_way(const fhi_raise *raise, const fh_stages_opts *opts, int way, fh_lip_case *out, double *tension) {
  if (way < 0 || way >= WAYS) {
    return false;
  }
  lip_job j = {raise, &CASES[way], out};
  double t[FH_MAX_STRANDS], load, hand, lift;
  if (!start_case(raise, opts, way, &j)) {
    return false;
  }
  run_world(&j, FHI_LIKELY_CASE, &load, &hand, &lift, t);
  out->load_tension.likely = load;
  out->hand_force.likely = hand;
  out->lift_force.likely = lift;
  for (int s = 0; tension != NULL && s < raise->model.strand_count; s++) {
    tension[s] = isfinite(hand) ? t[s] * load / raise->world[FHI_LIKELY_CASE].weight : (double)INFINITY;
  }
  return true;
}

int fhi_lip_as_it_is(const fh_scene *scene) {
  return !(scene->lip_cut.hi > 0.0) ? CLEARED : scene->load_helps ? NEARER_HELPS : NEARER_LIMP;
}
