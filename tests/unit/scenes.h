// SPDX-License-Identifier: MIT
// The rigs that any rescue handbook teaches (common practice, no source), in a place with round figures, as YAML; and the
// core's own tables of them. All masses, lengths and efficiencies are invented for the tests.
#ifndef SCENES_H
#define SCENES_H

#include "crew.h"
#include "scene_text.h"
#include "state.h"

static const double HALF = 3.14159265358979323846;  // [rad] half a turn

// A hole of 10 m, the station 6 m and the anchor 9 m behind the lip, 100 kg, nobody to pull.
#define HEAD   "firnhaul: 1\nload: {mass_kg: 100}\nslot: {depth_m: 10}\n"
#define GROUND "ground: {station_m: 6, anchor_m: 9, reach_m: 1, clearance_m: 0.5, room_m: 20, holds_kN: 200}\n"
#define SMOOTH "lip: {turn_deg: 90, friction: 0}\n"
#define ALONE  "crew: []\n"
#define PLACE  HEAD GROUND SMOOTH ALONE

// Stations of a path; `e` is an efficiency.
#define LOAD           "{tie: load}, {edge: lip}, "
#define CAPTURE(e)     "{run: station, on: toothed-capture, efficiency: " #e "}, "
#define TURN(body, e)  "{run: " body ", on: carabiner, efficiency: " #e "}, "
#define HAND           "{hand: crew}"
#define LOOSE          "{loose: true}"
#define PATH(name, of) "{name: " name ", path: [" of "]}"
#define GRIP(body, rope, after, at) \
  "{body: " body ", hitch: prusik, rope: " rope ", after: " #after ", at_m: " #at "}"
#define RIG(paths, grips) "rig: {ropes: [" paths "], grips: [" grips "]}\n"

#define LOOP_AT(fixed, e) "{tie: " fixed "}, {edge: lip}, {run: load, on: carabiner, efficiency: " #e "}, {edge: lip}, "

#define DIRECT(e)     RIG(PATH("main", LOAD CAPTURE(e) HAND), "")
#define DROP_LOOP(e)  RIG(PATH("main", LOOP_AT("anchor", e) HAND), "")
#define Z(es, eb)     RIG(PATH("main", LOAD CAPTURE(es) TURN("t", eb) HAND), GRIP("t", "main", 1, 2))
#define FIVE_SIMPLE(es, e1, e2, e3)                                                                               \
  RIG(PATH("main", LOAD CAPTURE(es) TURN("t", e1) TURN("station", e2) TURN("t", e3) HAND), GRIP("t", "main", 1, 2))
#define FIVE_COMPLEX(es, ef, ec)                                                                                    \
  RIG(PATH("main", LOAD CAPTURE(es) TURN("f", ef) HAND) ", " PATH("cord", "{tie: station}, " TURN("t", ec) LOOSE),   \
      GRIP("t", "main", 1, 2) ", " GRIP("f", "cord", 1, 3))
#define SIX(el, es, eb)                                                                                             \
  RIG(PATH("main", "{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.5}, {edge: lip}, {run: load, on: carabiner, " \
                   "efficiency: " #el "}, {edge: lip}, " CAPTURE(es) TURN("t", eb) HAND),                            \
      GRIP("t", "main", 5, 2))
#define NINE(es, e1, e2, e3)                                                                       \
  RIG(PATH("main", LOAD CAPTURE(es) TURN("t", e1) TURN("station", e2) TURN("u", e3) HAND),         \
      GRIP("t", "main", 1, 2) ", " GRIP("u", "main", 3, 3))
#define NINE_TWO_ROPES(es, e1, e2, e3)                                                                             \
  RIG(PATH("main", LOAD CAPTURE(es) TURN("t", e1) LOOSE) ", "                                                       \
      PATH("haul", "{tie: u}, " TURN("station", e2) TURN("u", e3) HAND),                                            \
      GRIP("t", "main", 1, 2) ", " GRIP("u", "main", 3, 3))
#define EIGHTEEN(el, es, e1, e2, e3)                                                                               \
  RIG(PATH("main", LOOP_AT("anchor", el) CAPTURE(es) TURN("t", e1) TURN("station", e2) TURN("u", e3) HAND),         \
      GRIP("t", "main", 3, 2) ", " GRIP("u", "main", 5, 3))

/// A scene's rig as tables, with its motion and its tension ratios.
typedef struct rigged {
  scene_text t;
  const fh_rig *rig;
  fhi_model model;
  fhi_motion motion;
  fhi_factors factors;
  char why[200];
  bool compiled;
} rigged;

static inline void rigged_compile(rigged *r) {
  r->rig = &r->t.scene->rig;
  r->compiled = fhi_model_compile(r->t.scene, r->t.gear, r->rig, &r->model, r->why, sizeof r->why);
  if (r->compiled) {
    assert_status(fhi_motion_solve(r->rig, &r->model, &r->motion), FH_OK);
    fhi_factors_fill(&r->model, r->t.scene, &r->factors);
  }
}

static inline rigged *rigged_read(const char *yaml) {
  rigged *r = calloc(1, sizeof *r);
  assert_non_null(r);
  r->t = scene_read(yaml);
  assert_true(r->t.scene->has_rig);
  rigged_compile(r);
  return r;
}

static inline void rigged_done(rigged *r) {
  scene_done(&r->t);
  free(r);
}

/// A rig worked out: the scene stays open, since reports point into it.
typedef struct checked {
  scene_text t;
  fh_rig *rig;
  fh_check *c;
  double w;  // [N] likely weight
} checked;

static inline checked checked_read_with(const char *yaml, fh_check_opts opts) {
  checked k = {.t = scene_read(yaml)};
  k.rig = &k.t.scene->rig;
  assert_status(fh_check_create(k.t.scene, k.t.gear, k.rig, &opts, &k.c), FH_OK);
  k.w = k.c->weight_likely;
  return k;
}

static inline checked checked_read(const char *yaml) {
  return checked_read_with(yaml, fh_check_opts_default());
}

static inline void checked_done(checked *k) {
  fh_check_destroy(k->c);
  scene_done(&k->t);
}

/// A check that must have an answer.
static inline checked checked_solved(const char *yaml) {
  checked k = checked_read(yaml);
  if (k.c->outcome != FH_OUTCOME_SOLVED) {
    print_error("not solved: %s\n", k.c->why);
  }
  assert_int_equal(k.c->outcome, FH_OUTCOME_SOLVED);
  assert_within(k.c->residual, 0.0, 1e-9);
  return k;
}

/// The rig is refused, and `words` stand in the reason.
static inline void assert_no_rig(const char *yaml, const char *words) {
  checked k = checked_read(yaml);
  if (strstr(k.c->why, words) == NULL) {
    print_error("why: %s\n", k.c->why);
  }
  assert_int_equal(k.c->outcome, FH_OUTCOME_INFEASIBLE);
  assert_true(k.c->answer_no);
  assert_non_null(strstr(k.c->why, words));
  assert_nan(k.c->hand_force.likely);
  assert_nan(k.c->worst_margin);
  assert_int_equal(k.c->resets, -1);
  checked_done(&k);
}

/// Whether some note of that level holds these words.
static inline bool says(const fh_check *c, fh_note_level level, const char *words) {
  for (int i = 0; i < c->note_count; i++) {
    if (c->notes[i].level == level && strstr(c->notes[i].text, words) != NULL) {
      return true;
    }
  }
  return false;
}

/// The limit of an element, or NULL.
static inline const fh_limit *limit_of(const fh_check *c, const char *element) {
  for (int i = 0; i < c->limit_count; i++) {
    if (strcmp(c->limits[i].element, element) == 0) {
      return &c->limits[i];
    }
  }
  return NULL;
}

/// The strand between two ends, by the nth such in path order.
static inline const fh_strand *strand_between(const fh_check *c, int from, int to, int nth) {
  for (int i = 0; i < c->strand_count; i++) {
    if (c->strands[i].from == from && c->strands[i].to == to && nth-- == 0) {
      return &c->strands[i];
    }
  }
  return NULL;
}

#endif
