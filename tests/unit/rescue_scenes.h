// SPDX-License-Identifier: MIT
// Scenes for the tests of stages and losses. All data is invented.
#ifndef RESCUE_SCENES_H
#define RESCUE_SCENES_H

#include "firnhaul_rescue.h"
#include "scene_text.h"

#define PLACE                                                                                                         \
  "firnhaul: 1\nload: {mass_kg: 80, helps: true}\nslot: {depth_m: 8}\nlip: {turn_deg: 80, friction: 0.15}\n"          \
  "ground: {station_m: 4, anchor_m: 6, holds_kN: 12}\ncrew: [{name: guide, mass_kg: 75, pull_N: 1500}]\n"             \
  "ropes: [{name: main, length_m: 60}, {name: other, length_m: 60}]\n"
#define BLOCK(rope, after) ", grips: [{body: t, hitch: prusik, rope: " rope ", after: " after ", at_m: 1.2}]"
#define PATH(rope, path)   "{name: " rope ", path: [" path "]}"
#define RIG(ropes, grips)  "rig: {ropes: [" ropes "]" grips "}\n"
#define CAPTURE            "{run: station, on: toothed-capture}"

// The one-rope loop: the line that stopped the fall is tied off and its spare end goes down as a loop.
#define ONE_ROPE                                                                                                     \
  PLACE RIG(PATH("main", "{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.5}, {edge: lip}, {run: load, on: pulley}, " \
                         "{edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}"), BLOCK("main", "5"))
#define Z_WITH(capture) \
  PLACE RIG(PATH("main", "{tie: load}, {edge: lip}, " capture ", {run: t, on: pulley}, {hand: crew}"), BLOCK("main", "1"))
#define Z Z_WITH(CAPTURE)
// The first line on a rope of its own.
#define TWO_ROPES                                                                               \
  PLACE RIG(PATH("main", "{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.5}") ", "          \
            PATH("other", "{tie: load}, {edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}"), BLOCK("other", "1"))
#define LOOP_ONLY \
  PLACE RIG(PATH("main", "{tie: anchor}, {edge: lip}, {run: load, on: pulley}, {edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}"), BLOCK("main", "3"))

static inline const fh_stage *stage_of(const fh_stages *s, fh_stage_kind kind, int number) {
  for (int i = 0; i < s->count; i++) {
    if (s->stages[i].kind == kind && --number == 0) {
      return &s->stages[i];
    }
  }
  return NULL;
}

static inline int stage_index(const fh_stages *s, fh_stage_kind kind) {
  const fh_stage *stage = stage_of(s, kind, 1);
  assert_non_null(stage);
  return (int)(stage - s->stages);
}

static inline const fh_loss *loss_of(const fh_lose *l, fh_stage_kind kind, const char *name) {
  for (int e = 0; e < l->element_count; e++) {
    if (strcmp(l->elements[e].name, name) == 0) {
      return fh_lose_at(l, stage_index(l->stages, kind), e);
    }
  }
  print_error("no element %s\n", name);
  fail();
  return NULL;
}

#endif
