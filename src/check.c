// SPDX-License-Identifier: MIT
// One rig, worked out: motion, forces with their ranges, limits, strokes, words.
// Implements model.md, sections 3 to 8, by calling one file for each in turn.
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "crew.h"
#include "haul.h"
#include "memory.h"
#include "state.h"
#include "text.h"
#include "whole.h"
#include "words.h"

// Every answer is put back in its equations; above this it is refused.
static const double RESIDUAL_BOUND = 1e-9;  // [1] of the weight

static const double G = 9.80665;  // [m/s^2] standard gravity

fh_check_opts fh_check_opts_default(void) {
  return (fh_check_opts){.lower = true, .ranges = true, .time = true};
}

static void copy_strands(const fhi_check_room *b, fh_check *check) {
  check->strand_count = b->model.strand_count;
  for (int s = 0; s < b->model.strand_count; s++) {
    const fhi_strand *from = &b->model.strands[s];
    fh_strand *to = &check->strands[s];
    *to = (fh_strand){.path = from->path,
                      .from = from->end[0].body,
                      .to = from->end[1].body,
                      .after = from->after,
                      .s_from = from->end[0].s,
                      .s_to = from->end[1].s,
                      .length = from->length,
                      .carries = !from->slack};
    // Rope at the start of the strand moves with what it is fastened to, plus what passes there.
    const fhi_end *end = from->end[0].kind == FHI_END_LOOSE ? &from->end[1] : &from->end[0];
    double rate = end->contact >= 0 ? b->motion.rate[end->contact] : 0.0;
    double body = end->body >= 0 ? b->motion.body[end->body] : 0.0;
    to->speed = from->slack ? 0.0 : body + from->dir * rate;
  }
}

static void copy_contacts(const fhi_check_room *b, fh_check *check) {
  for (int c = 0; c < b->model.contact_count; c++) {
    const fhi_contact *from = &b->model.contacts[c];
    fh_contact *to = &check->contacts[c];
    *to = (fh_contact){.station = from->station,
                       .before = from->before,
                       .after = from->after,
                       .body = from->body,
                       .item = from->item,
                       .wrap = from->wrap,
                       .rate = b->motion.rate[c],
                       .resting = !from->slack && b->motion.rate[c] == 0.0 && from->kind != FHI_TENDED,
                       .capture = from->capture};
    to->efficiency = fh_number_band(from->eta);
    if (from->kind == FHI_EDGE) {
      to->efficiency = (fh_band){1.0 / b->factors.hi[c], 1.0 / b->factors.likely[c], 1.0 / b->factors.lo[c]};
    } else if (from->kind == FHI_TENDED) {
      to->efficiency = (fh_band){1.0, 1.0, 1.0};
    }
  }
  check->contact_count = b->model.contact_count;
}

static void copy_bodies(const fh_rig *rig, const fhi_check_room *b, fh_check *check) {
  check->body_count = rig->body_count;
  check->grip_count = rig->grip_count;
  for (int i = 0; i < rig->body_count; i++) {
    check->bodies[i].at = b->model.at[i];
    check->bodies[i].speed = b->motion.body[i];
    check->bodies[i].fixed = b->model.fixed[i];
  }
}

static void fill_nan_state(fh_check *check, int state) {
  const fh_band nan = {(double)NAN, (double)NAN, (double)NAN};
  for (int s = 0; s < check->strand_count; s++) {
    check->strands[s].tension[state] = nan;
  }
  for (int c = 0; c < check->contact_count; c++) {
    check->contacts[c].force[state] = nan;
  }
  for (int i = 0; i < check->body_count; i++) {
    check->bodies[i].force[state] = nan;
  }
  for (int g = 0; g < check->grip_count; g++) {
    check->grip_force[g][state] = nan;
  }
}

// An answer that does not satisfy its equations is no answer.
static void refuse(fh_check *check, fh_outcome outcome, const char *why) {
  const fh_band nan = {(double)NAN, (double)NAN, (double)NAN};
  check->outcome = outcome;
  check->answer_no = true;
  check->hand_force = check->actual_advantage = check->crew_share = check->kept_share = check->time = check->time_rests = nan;
  check->worst_margin = check->throw_load = check->throw_hand = (double)NAN;
  check->strokes = check->resets = -1;
  check->throw_ends = "";
  check->over_edge = (fh_over_edge){.cut = false};
  for (int s = 0; s < FH_STATE_COUNT; s++) {
    fill_nan_state(check, s);
  }
  if (why != NULL) {
    fhi_copy(check->why, sizeof check->why, why);
  }
}

static fh_band share_of(fh_band force, fh_band of) {
  return (fh_band){force.lo / of.hi, force.likely / of.likely, force.hi / of.lo};
}

static void fill_hand(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fhi_check_room *b, fh_check *check) {
  check->hand_force = check->strands[b->model.hand_strand].tension[FH_RAISE];
  fh_band w = check->weight, f = check->hand_force;
  check->actual_advantage = (fh_band){w.hi / f.hi, w.likely / f.likely, w.lo / f.lo};
  int rope = rig->paths[check->strands[b->model.hand_strand].path].rope;
  check->crew = fhi_crew_pull(scene, gear, b->model.hand_dir < 0 ? FH_TOWARD_LIP : FH_TOWARD_BACK,
                              fhi_rope_diameter(scene, gear, rope));
  // Without a crew both are NaN, and so is what they are over.
  check->crew_share = share_of(f, check->crew.force);
  check->kept_share = share_of(f, check->crew.sustained);
  check->over_edge.crew_share = share_of(check->over_edge.hand_force, check->crew.force);
}

// Without friction the forces must give back the ideal advantage that the speeds gave: work in is work out.
static double energy_residual(const fhi_check_room *b) {
  double one[FHI_MAX_CONTACTS], tension[FH_MAX_STRANDS], residual;
  fhi_shape shape;
  fhi_shape_in_line(&b->model, &shape);
  for (int c = 0; c < b->model.contact_count; c++) {
    one[c] = 1.0;
  }
  if (b->motion.coupled) {
    return 0.0;  // such tensions come from linear programmes, which carry a residual of their own
  }
  if (fhi_force_solve(&b->model, &b->motion, 1, one, &shape, 0, tension, &residual) == FH_OUTCOME_UNRESOLVED) {
    return (double)NAN;
  }
  return fabs(tension[b->model.hand_strand] * b->motion.hand - 1.0);
}

// Raising, lowering, holding, and all that follows from them.
static void work_out_states(const fh_scene *scene, const fh_gear *gear, const fhi_case *k, const fh_check_opts *opts, fhi_check_room *b,
                            fh_check *check) {
  check->ideal_advantage = b->motion.hand;
  check->interval_exact = true;
  check->outcome = fhi_state_moving(k, 1, opts->ranges, check);
  if (check->outcome != FH_OUTCOME_SOLVED) {
    refuse(check, check->outcome, NULL);
    return;
  }
  if (!opts->lower || fhi_state_moving(k, -1, opts->ranges, check) != FH_OUTCOME_SOLVED) {
    fill_nan_state(check, FH_LOWER);
  }
  bool holds = fhi_state_holding(k, b->highs, check);
  if (!holds) {
    fill_nan_state(check, FH_HOLD);
  }
  check->residual = fmax(check->residual, energy_residual(b));
  if (!(check->residual <= RESIDUAL_BOUND)) {
    refuse(check, FH_OUTCOME_UNRESOLVED, fhi_say(scene->language, "the answer does not satisfy its own equations closely enough to be used"));
    return;
  }
  fill_hand(scene, gear, k->rig, b, check);
  fhi_stroke_fill(scene, gear, k->rig, &b->model, &b->motion, check);
  fhi_limits_fill(scene, gear, k->rig, check, b->refs);
  fhi_notes_fill(scene, gear, k->rig, &b->model, &b->motion, holds, check);
}

static fh_status work_out(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check_opts *opts, fhi_check_room *b,
                          fh_check *check) {
  if (fhi_motion_solve(rig, &b->model, &b->motion) != FH_OK) {
    return FH_ERR_MEMORY;
  }
  fhi_factors_fill(&b->model, scene, &b->factors);
  copy_strands(b, check);
  copy_contacts(b, check);
  copy_bodies(rig, b, check);
  check->ideal_advantage = (double)NAN;
  if (b->motion.outcome != FH_OUTCOME_SOLVED) {
    refuse(check, b->motion.outcome, b->motion.why);
    return FH_OK;
  }
  fh_status status = fhi_over_edge_find(scene, gear, rig, &check->over_edge);
  if (status != FH_OK) {
    return status;
  }
  const fhi_case k = {rig, &b->model, &b->motion, &b->factors, fhi_rest_create(&b->model, &b->motion)};
  if (k.rest == NULL) {
    return FH_ERR_MEMORY;
  }
  work_out_states(scene, gear, &k, opts, b, check);
  fhi_rest_destroy(k.rest);
  return FH_OK;
}

// All but the four great lists, whose entries are written whole: clearing those is much of what a quick check would cost.
static void clear(fh_check *c) {
  memset(c, 0, offsetof(fh_check, strands));
  memset(&c->bodies, 0, offsetof(fh_check, limits) - offsetof(fh_check, bodies));
  memset(&c->strand_count, 0, sizeof *c - offsetof(fh_check, strand_count));
}

fh_status fhi_check_fill(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check_opts *opts, fhi_check_room *b,
                         fh_check *check) {
  clear(check);
  check->language = scene->language;
  check->weight = fh_number_band(scene->load_mass);
  check->weight = (fh_band){check->weight.lo * G, check->weight.likely * G, check->weight.hi * G};
  check->weight_likely = check->weight.likely;
  if (fhi_model_compile(scene, gear, rig, &b->model, check->why, sizeof check->why)) {
    return work_out(scene, gear, rig, opts, b, check);
  }
  check->ideal_advantage = (double)NAN;
  refuse(check, FH_OUTCOME_INFEASIBLE, NULL);
  return FH_OK;
}

fh_status fh_check_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check_opts *opts,
                          fh_check **out) {
  if (scene == NULL || gear == NULL || rig == NULL || out == NULL || !fhi_scene_is_whole(scene) ||
      !fhi_rig_is_whole(scene, rig)) {
    return FH_ERR_ARG;
  }
  fh_check_opts chosen = opts != NULL ? *opts : fh_check_opts_default();
  fh_check *check = fhi_alloc(1, sizeof *check);
  fhi_check_room *b = fhi_alloc(1, sizeof *b);
  fh_status status = check == NULL || b == NULL ? FH_ERR_MEMORY : fhi_check_fill(scene, gear, rig, &chosen, b, check);
  if (status == FH_OK && chosen.time) {
    status = fhi_haul_time(scene, gear, rig, check);
  }
  fhi_free(b);
  if (status != FH_OK) {
    fhi_free(check);
    return status;
  }
  *out = check;
  return FH_OK;
}

void fh_check_destroy(fh_check *check) {
  fhi_free(check);
}
