// SPDX-License-Identifier: MIT
// Which fall does a scene describe: at its likely values, and at each point of a sample? And can it be worked out at all?
// Implements model.md, sections 11 and 12.
#include "team_scene.h"

#include "keys.h"
#include "memory.h"
#include "sample.h"
#include "text.h"

#include <math.h>

// Coordinates of a sample: one for each number, the same for every team, so that two teams are compared like with like.
enum {
  DIM_BRAKE, DIM_REACTION, DIM_LIP, DIM_STAND, DIM_MODULUS, DIM_SLACK, DIM_START, DIM_DAMPING, DIM_SLOPE, DIM_CATCH, DIM_FIRST, DIM_APART,
  DIM_CUT, DIM_TURN, DIM_MASS, DIM_BEHIND = DIM_MASS + FH_MAX_PEOPLE, DIM_PLOUGH = DIM_BEHIND + FH_MAX_PEOPLE, DIMS,
};

_Static_assert((int)DIMS <= (int)FHI_QUASI_DIMS, "a dimension for each number");

// How a number is read: likely (no sampler), or at a point of a sample.
typedef struct reading {
  const fhi_sampler *sampler;
  uint32_t index;
} reading;

static double read_number(const reading *r, fh_number n, int dim, const char *key) {
  if (r->sampler == NULL || n.spread == FH_SPREAD_EXACT || n.spread == FH_SPREAD_UNSET) {
    return n.likely;
  }
  double lo = n.lo;
  double hi = n.hi;
  if (n.spread == FH_SPREAD_NORMAL) {  // cut where the table of the scene cuts it
    const fh_key *row = &fh_key_list(NULL)[fhi_key_row(key)];
    lo = fhi_to_si(row->unit, row->lo);
    hi = fhi_to_si(row->unit, row->hi);
  }
  return fhi_sample_number(n, lo, hi, fhi_sampler_one(r->sampler, dim, r->index));
}

static void read_people(const reading *r, const fh_team *t, fh_fall_in *in) {
  in->people = t->people_count;
  for (int i = 0; i < t->people_count; i++) {
    in->mass[i] = read_number(r, t->people[i].mass, DIM_MASS + i, "team.people[].mass_kg");
    in->at[i] = i == 0 ? 0.0 : read_number(r, t->people[i].behind, DIM_BEHIND + i, "team.people[].behind_m");
  }
}

static void read_knots(const reading *r, const fh_team *t, fh_fall_in *in) {
  in->knots = t->knot_count;
  if (t->knot_count > 0) {
    in->knot_first = read_number(r, t->knot_first, DIM_FIRST, "team.knots.first_m");
    in->knot_apart = read_number(r, t->knot_apart, DIM_APART, "team.knots.apart_m");
    in->knot_catch = read_number(r, t->knot_catch, DIM_CATCH, "team.knots.catch_N");
    in->knot_plough = read_number(r, t->knot_plough, DIM_PLOUGH, "team.knots.plough_m");
  }
}

static fh_status read_fall(const reading *r, const fh_scene *s, fh_fall_in *in) {
  if (s == NULL || in == NULL || !s->has_team) {
    return FH_ERR_ARG;
  }
  const fh_team *t = &s->team;
  *in = (fh_fall_in){0};
  read_people(r, t, in);
  read_knots(r, t, in);
  in->modulus = read_number(r, t->modulus, DIM_MODULUS, "team.rope.modulus_kN");
  in->damping = read_number(r, t->damping, DIM_DAMPING, "team.rope.damping_s");
  in->slack = read_number(r, t->slack, DIM_SLACK, "team.rope.slack_m");
  in->stand = read_number(r, t->stand, DIM_STAND, "team.stand");
  in->brake = read_number(r, t->brake, DIM_BRAKE, "team.brake");
  in->reaction = read_number(r, t->reaction, DIM_REACTION, "team.reaction_s");
  in->start = read_number(r, t->start, DIM_START, "team.start_mps");
  in->slope = read_number(r, s->slope, DIM_SLOPE, "ground.slope_deg");
  in->lip_friction = read_number(r, t->edge_friction, DIM_LIP, "lip.friction");
  in->lip_turn = read_number(r, s->lip_turn, DIM_TURN, "lip.turn_deg");
  in->lip_cut = read_number(r, s->lip_cut, DIM_CUT, "lip.cut_m");
  return FH_OK;
}

fh_status fh_fall_likely(const fh_scene *scene, fh_fall_in *out) {
  const reading r = {NULL, 0};
  return read_fall(&r, scene, out);
}

void fhi_fall_sampler_start(fhi_sampler *sampler, uint32_t seed) {
  fhi_sampler_start(sampler, seed, DIMS);
}

fh_status fhi_fall_sample(const fh_scene *scene, const fhi_sampler *sampler, uint32_t index, fh_fall_in *out) {
  const reading r = {sampler, index};
  return read_fall(&r, scene, out);
}

fh_status fh_fall_sample(const fh_scene *scene, uint32_t seed, uint32_t index, fh_fall_in *out) {
  fhi_sampler *sampler = fhi_alloc(1, sizeof *sampler);
  if (sampler == NULL) {
    return FH_ERR_MEMORY;
  }
  fhi_fall_sampler_start(sampler, seed);
  fh_status status = fhi_fall_sample(scene, sampler, index, out);
  fhi_free(sampler);
  return status;
}

static bool is_exact(fh_number n) {
  return !fh_number_is_set(n) || !(n.hi > n.lo);
}

bool fh_team_is_exact(const fh_scene *scene) {
  if (scene == NULL || !scene->has_team) {
    return true;
  }
  const fh_team *t = &scene->team;
  const fh_number all[] = {t->modulus, t->damping, t->slack, t->stand, t->brake, t->reaction, t->start,
                           t->knot_first, t->knot_apart, t->knot_catch, t->knot_plough, scene->slope, t->edge_friction, scene->lip_turn, scene->lip_cut};
  for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
    if (!is_exact(all[i])) {
      return false;
    }
  }
  for (int i = 0; i < t->people_count; i++) {
    if (!is_exact(t->people[i].mass) || !is_exact(t->people[i].behind)) {
      return false;
    }
  }
  return true;
}

// ---------------------------------------------------------------------------------------------------- what cannot be

typedef struct complaint {
  fh_diag *diag;
  int line, column;  // where the team begins, for numbers that were not said
} complaint;

static fh_status refuse(const complaint *c, fh_number at, const char *key, const char *message, const char *accepted) {
  if (c->diag != NULL) {
    *c->diag = (fh_diag){.line = at.line > 0 ? at.line : c->line, .column = at.line > 0 ? at.column : c->column};
    (void)fhi_copy(c->diag->key, sizeof c->diag->key, key);
    (void)fhi_copy(c->diag->message, sizeof c->diag->message, message);
    (void)fhi_copy(c->diag->accepted, sizeof c->diag->accepted, accepted);
  }
  return FH_ERR_INPUT;
}

static fh_status check_people(const complaint *c, const fh_team *t) {
  char key[64];
  if (t->people_count < 2) {
    return refuse(c, fh_number_unset(), "team.people", "a team of one has nobody to stop the fall", "2 to 12 people");
  }
  for (int i = 1; i < t->people_count; i++) {
    if (!(t->people[i].behind.lo > t->people[i - 1].behind.hi)) {
      (void)fhi_format(key, sizeof key, "team.people[%d].behind_m", i);
      return refuse(c, t->people[i].behind, key, "this one stands past the lip, or not behind the one before", "more than the one before");
    }
  }
  return FH_OK;
}

// The longest rope whose length is stated has to reach from the first to the last.
static fh_status check_rope(const complaint *c, const fh_scene *s) {
  const fh_team *t = &s->team;
  const fh_rope *longest = NULL;
  for (int i = 0; i < s->rope_count; i++) {
    if (fh_number_is_set(s->ropes[i].length) && (longest == NULL || s->ropes[i].length.hi > longest->length.hi)) {
      longest = &s->ropes[i];
    }
  }
  const fh_member *last = &t->people[t->people_count - 1];
  double needs = last->behind.lo + (t->people_count - 1) * t->slack.lo;
  if (longest == NULL || needs <= longest->length.hi) {
    return FH_OK;
  }
  char key[64];
  char message[200];
  char accepted[200];
  char a[40];
  char b[40];
  (void)fhi_format(key, sizeof key, "team.people[%d].behind_m", t->people_count - 1);
  (void)fhi_format(message, sizeof message, "the team stands farther apart than its rope is long: %s m from first to last, slack and all, on %s m",
                   fhi_fixed(a, sizeof a, needs, 1), fhi_fixed(b, sizeof b, longest->length.hi, 1));
  (void)fhi_format(accepted, sizeof accepted, "at most %s m, or a longer rope in ropes", b);
  return refuse(c, last->behind, key, message, accepted);
}

static fh_status check_knots(const complaint *c, const fh_scene *s) {
  static const double KNOT = 0.3;  // [m] a bulky knot and the rope beside it that it draws in: practice, no source
  const fh_team *t = &s->team;
  if (t->knot_count == 0) {
    return FH_OK;
  }
  if (t->knot_count > 1 && t->knot_apart.lo < KNOT) {
    return refuse(c, t->knot_apart, "team.knots.apart_m", "the knots stand closer than a knot is long", "0.3 or more");
  }
  double along = t->people[t->people_count - 1].behind.lo + (t->people_count - 1) * t->slack.lo;
  double last = t->knot_first.hi + (t->knot_count - 1) * t->knot_apart.hi;
  if (last >= along) {
    char message[200];
    char accepted[200];
    char a[40];
    char b[40];
    (void)fhi_format(message, sizeof message, "the last knot would sit %s m from the first one, beyond the last one of the team",
                     fhi_fixed(a, sizeof a, last, 1));
    (void)fhi_format(accepted, sizeof accepted, "knots within %s m of the first one's tie-in", fhi_fixed(b, sizeof b, along, 1));
    return refuse(c, t->knot_first, "team.knots", message, accepted);
  }
  return FH_OK;
}

// Friction that cannot hold one on the slope would set the team sliding before anyone falls.
static fh_status check_slope(const complaint *c, const fh_scene *s) {
  double gentlest = s->slope.lo * s->slope.hi <= 0.0 ? 0.0 : fmin(fabs(s->slope.lo), fabs(s->slope.hi));
  double needs = tan(gentlest);
  if (s->team.stand.hi >= needs) {
    return FH_OK;
  }
  char accepted[200];
  char a[40];
  char b[40];
  (void)fhi_format(accepted, sizeof accepted, "team.stand of %s or more, or a slope of at most %s deg",
                   fhi_fixed(a, sizeof a, ceil(needs * 100.0) / 100.0, 2),
                   fhi_fixed(b, sizeof b, floor(atan(s->team.stand.hi) * 1800.0 / 3.14159265358979323846) / 10.0, 1));
  return refuse(c, s->slope, "ground.slope_deg", "too steep to stand on: with this friction the team slides before anyone falls", accepted);
}

fh_status fh_team_check(const fh_scene *scene, fh_diag *diag) {
  if (scene == NULL) {
    return FH_ERR_ARG;
  }
  complaint c = {diag, 1, 1};
  if (!scene->has_team) {
    return refuse(&c, fh_number_unset(), "team", "the scene has no team", "a map with the key people, and more: firnhaul keys");
  }
  c.line = scene->team.line > 0 ? scene->team.line : 1;
  c.column = scene->team.line > 0 ? scene->team.column : 1;
  fh_status status = check_people(&c, &scene->team);
  status = status == FH_OK ? check_rope(&c, scene) : status;
  status = status == FH_OK ? check_knots(&c, scene) : status;
  return status == FH_OK ? check_slope(&c, scene) : status;
}
