// SPDX-License-Identifier: MIT
// How far one stroke goes, how many it takes, how long, and how much rope lies in the rig.
// Implements model.md, section 7, as a count of whole strokes (stretch and set-back are not in it).
#include <math.h>
#include <string.h>

#include "state.h"

// Rope that a knot takes up, and the end that the hand needs. Common practice, no source; a knot of about 1 m of rope is
// also taught for brake knots (a guide's teaching site).
static const double ROPE_PER_KNOT = 1.0;  // [m]
static const double ROPE_IN_HAND = 1.0;   // [m]

// Lets the rise shrink to `rise` when something runs out of room there.
static void shorten(fh_check *check, double rise, const char *why) {
  if (rise < check->throw_load) {
    check->throw_load = fmax(rise, 0.0);
    check->throw_ends = why;
  }
}

static double speed_of(const fhi_motion *motion, const fhi_end *end) {
  return end->body >= 0 && end->kind != FHI_END_HAND ? motion->body[end->body] : 0.0;
}

// Two bodies with rope between them keep their clearance, even when that rope hangs slack: a block cannot pass the station.
static void shorten_by_strand(const fh_scene *scene, const fhi_motion *motion, const fhi_strand *st, fh_check *check) {
  bool to_hand = st->end[1].kind == FHI_END_HAND || st->end[0].kind == FHI_END_LOOSE || st->end[1].kind == FHI_END_LOOSE;
  if (to_hand || st->end[0].s < 0.0 || st->end[1].s < 0.0) {
    return;
  }
  double growth = st->dir * (speed_of(motion, &st->end[1]) - speed_of(motion, &st->end[0]));
  bool lip = st->end[0].body == FH_END_LIP || st->end[1].body == FH_END_LIP;
  double gap = lip ? scene->reach.likely : scene->clearance.likely;
  if (growth < -1e-12) {
    shorten(check, (st->length - gap) / -growth,
            lip ? "a moving block reaches the edge" : "a moving block reaches the next one");
  }
}

static void fill_throw(const fh_scene *scene, const fhi_model *m, const fhi_motion *motion, fh_check *check) {
  check->throw_load = scene->depth.likely;
  check->throw_ends = "the load reaches the lip";
  for (int s = 0; s < m->strand_count; s++) {
    shorten_by_strand(scene, motion, &m->strands[s], check);
  }
  for (int b = FH_BODY_FIRST_GRIP; b < m->body_count; b++) {
    if (motion->body[b] < -1e-12) {
      shorten(check, (m->at[b] - scene->reach.likely) / -motion->body[b], "a moving block reaches the edge");
    }
  }
  // The hauler walks back from the last block; toward the lip the rope comes in hand over hand.
  if (m->hand_dir > 0) {
    double start = fmax(m->strands[m->hand_strand].end[0].s, 0.0);
    shorten(check, (scene->room.likely - start) / motion->hand, "the hauler has no more room to walk back");
  }
  check->throw_hand = check->throw_load * motion->hand;
}

static double hand_speed(double walk, double power, double force) {
  return fmin(walk, power / force);
}

double fhi_walk_beyond(const fhi_model *model, double travel) {
  if (!(model->hand_dir > 0) || model->hand_strand < 0 || !(travel > 0.0)) {
    return 0.0;
  }
  double end = fmax(model->strands[model->hand_strand].end[0].s, 0.0) + travel - model->at[FH_BODY_ANCHOR];
  return end > FHI_TETHER ? end : 0.0;
}

bool fhi_tended_alone(const fh_scene *scene, const fh_rig *rig, const fhi_model *model, int grip, double travel, double *away) {
  const fh_grip *g = &rig->grips[grip];
  *away = 0.0;
  if (g->body >= FH_BODY_FIRST_GRIP || scene->crew_count != 1 || model->hand_strand < 0) {
    return false;
  }
  // Behind a moving block the hauler walks back from it; toward the lip the rope comes in hand over hand at one place.
  double start = fmax(model->strands[model->hand_strand].end[0].s, 0.0);
  double end = model->hand_dir > 0 && travel > 0.0 ? start + travel : start;
  *away = fmax(fabs(start - g->at), fabs(end - g->at));
  return *away > FHI_TENDS_FAR;
}

// A stroke that ends at the lip within rounding is not one more.
static double strokes_for(double depth, double rise) {
  return fmin(ceil(depth / rise - 1e-9), 1e6);
}

// @param travel [m] of the hand  @param speed [m/s] of the hand  @param resets how many  @param reset [s] each
static double time_of(double travel, double speed, double resets, double reset) {
  return travel / speed + resets * reset;
}

// Rests: what one can keep up is less than a short effort; the rest comes out of the resets, and where they are too short, of
// pauses with them. The same sum as haul's, section 8. Nobody pulls with more than they can.
// @param pulling [s] all strokes  @param force, can, keeps [N] needed, for a short effort, for minutes; NaN without a crew
static double rests_of(double pulling, double resets, double reset, double force, double can, double keeps) {
  double each = pulling / (resets + 1.0) * (fmin(force, can) / keeps - 1.0) - reset;
  return each > 0.0 ? resets * each : 0.0;
}

static void fill_time(const fh_scene *scene, const fh_gear *gear, const fhi_motion *motion, fh_check *check) {
  double people = scene->crew_count > 0 ? scene->crew_count : 1;
  fh_number power = fh_gear_figure(gear, fh_gear_find(gear, "crew"), "power_minutes_W", NULL);
  fh_band v = {hand_speed(scene->walk_speed.lo, people * power.lo, check->hand_force.hi),
               hand_speed(scene->walk_speed.likely, people * power.likely, check->hand_force.likely),
               hand_speed(scene->walk_speed.hi, people * power.hi, check->hand_force.lo)};
  if (!(check->throw_load > 1e-6)) {
    check->strokes = check->resets = -1;
    check->time = check->time_rests = (fh_band){(double)NAN, (double)NAN, (double)NAN};
    return;
  }
  check->strokes = (int)strokes_for(scene->depth.likely, check->throw_load);
  check->resets = check->strokes - 1;
  const fh_number *d = &scene->depth, *reset = &scene->reset_time;
  double few = strokes_for(d->lo, check->throw_load) - 1.0, many = strokes_for(d->hi, check->throw_load) - 1.0;
  check->time.lo = time_of(motion->hand * d->lo, v.hi, few, reset->lo);
  check->time.likely = time_of(motion->hand * d->likely, v.likely, check->resets, reset->likely);
  check->time.hi = time_of(motion->hand * d->hi, v.lo, many, reset->hi);
  const fh_band *f = &check->hand_force, *can = &check->crew.force, *keeps = &check->crew.sustained;
  check->time_rests.lo = check->time.lo + rests_of(motion->hand * d->lo / v.hi, few, reset->lo, f->lo, can->hi, keeps->hi);
  check->time_rests.likely = check->time.likely + rests_of(motion->hand * d->likely / v.likely, check->resets, reset->likely, f->likely, can->likely, keeps->likely);
  check->time_rests.hi = check->time.hi + rests_of(motion->hand * d->hi / v.lo, many, reset->hi, f->hi, can->lo, keeps->lo);
}

// Brake knots lie in the first path of a rope: a further path of it uses the other end.
int fhi_path_knots(const fh_scene *scene, const fh_rig *rig, int path) {
  int rope = rig->paths[path].rope;
  for (int p = 0; p < path; p++) {
    if (rig->paths[p].rope == rope) {
      return 0;
    }
  }
  return rope >= 0 ? scene->ropes[rope].knots : 0;
}

void fhi_rope_needed(const fh_scene *scene, const fh_rig *rig, const fhi_model *m, double *needed) {
  for (int p = 0; p < rig->path_count; p++) {
    const fh_path *path = &rig->paths[p];
    double extra = fhi_path_knots(scene, rig, p) * ROPE_PER_KNOT;
    needed[p] = 0.0;
    for (int s = 0; s < m->strand_count; s++) {
      needed[p] += m->strands[s].path == p ? m->strands[s].length : 0.0;
    }
    for (int i = 0; i < path->count; i++) {
      const fh_station *st = &rig->stations[path->first + i];
      extra += st->kind == FH_TIE ? ROPE_PER_KNOT : st->kind == FH_HAND ? ROPE_IN_HAND : 0.0;
      extra += st->kind == FH_TIE && fh_number_is_set(st->slack) ? st->slack.likely : 0.0;
    }
    needed[p] += extra;
  }
}

static void fill_rope(const fh_scene *scene, const fh_rig *rig, const fhi_model *m, fh_check *check) {
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    check->rope_live[st->path] += st->slack_line ? 0.0 : st->length;
  }
  fhi_rope_needed(scene, rig, m, check->rope_needed);
}

// A sheave or carabiner a contact, a hitch or clamp a grip; edges and knots are no pieces.
static int count_pieces(const fh_rig *rig) {
  int n = rig->grip_count;
  for (int i = 0; i < rig->station_count; i++) {
    n += rig->stations[i].kind == FH_RUN;
  }
  return n;
}

void fhi_stroke_fill(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fhi_model *model,
                     const fhi_motion *motion, fh_check *check) {
  fill_throw(scene, model, motion, check);
  fill_time(scene, gear, motion, check);
  fill_rope(scene, rig, model, check);
  check->pieces = count_pieces(rig);
}
