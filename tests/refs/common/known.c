// SPDX-License-Identifier: MIT
// Which rigs have a known advantage, and what is it? Method of tensions: start with 1 at the hand, multiply by the
// efficiency at each bend on the way back, add up what pulls on the load. Only the lip is free of friction here.
//
// Ideal advantages: common practice, no source (any rescue handbook). Polynomials of the Z, of the five to one with a
// cord and the rule 'tension leaving = efficiency x tension entering': Poysti 2020, article series on pulley
// efficiency. Products: the same rule applied twice. The double seven to one: derived here by the same rule.
#include "known.h"

#include <stdlib.h>
#include <string.h>

enum { L = FH_BODY_LOAD, S = FH_BODY_STATION, A = FH_BODY_ANCHOR };

static double one(const double *e) {
  (void)e;
  return 1.0;
}
static double turn(const double *e) {
  return e[0];
}
static double loop(const double *e) {
  return 1.0 + e[0];
}
static double z(const double *e) {
  return 1.0 + e[1] + e[0] * e[1];
}
static double four(const double *e) {
  return (1.0 + e[0]) * (1.0 + e[1]);
}
static double five_simple(const double *e) {
  return 1.0 + e[3] + e[3] * e[2] + e[3] * e[2] * e[1] + e[3] * e[2] * e[1] * e[0];
}
// Printed as 1 + P2 + P3 + P1 P2 + P2 P3: here P1 is e[0], P2 is e[1] (at the hand), P3 is e[2] (on the cord).
static double five_cord(const double *e) {
  return 1.0 + e[1] + e[2] + e[0] * e[1] + e[1] * e[2];
}
static double six(const double *e) {
  return (1.0 + e[0]) * (1.0 + e[2] + e[1] * e[2]);
}
static double seven(const double *e) {
  return (1.0 + e[1]) * (1.0 + e[2]) + e[0] * (e[1] + e[2] * (1.0 + e[1]));
}
static double nine(const double *e) {
  return (1.0 + e[1] + e[0] * e[1]) * (1.0 + e[3] + e[2] * e[3]);
}
static double eighteen(const double *e) {
  return (1.0 + e[0]) * nine(e + 1);
}
static double tackle(const double *e) {
  return e[3] * (1.0 + e[2] * (1.0 + e[1] * (1.0 + e[0])));
}
static double tackle_led(const double *e) {
  return tackle(e) * e[4] * e[5];
}

static void start(fh_scene *s) {
  ref_path(&s->rig, "main");
}

static void build_direct(fh_scene *s, const ref_items *it, const double *e) {
  (void)it;
  (void)e;
  start(s);
  ref_tie(&s->rig, L);
  ref_edge(&s->rig);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

static void build_turn(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  ref_tie(&s->rig, L);
  ref_edge(&s->rig);
  ref_run(&s->rig, S, it->capture, e[0]);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

// From an end up the surface, down through the load and up again: e[0] at the load.
static void strands_of_loop(fh_scene *s, const ref_items *it, double eta) {
  ref_tie(&s->rig, A);
  ref_edge(&s->rig);
  ref_run(&s->rig, L, it->bar, eta);
  ref_edge(&s->rig);
}

static void build_loop(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  strands_of_loop(s, it, e[0]);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

// Over the capture at the station, back to a block on the strand that comes over the lip, which starts at `after`.
static void strands_of_z(fh_scene *s, const ref_items *it, int after, const double *e) {
  int t = ref_body(&s->rig, "tractor");
  ref_run(&s->rig, S, it->capture, e[0]);
  ref_run(&s->rig, t, it->bar, e[1]);
  ref_grip(&s->rig, it->hitch, t, 0, after, 1.5);
}

static void build_z(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  ref_tie(&s->rig, L);
  ref_edge(&s->rig);
  strands_of_z(s, it, 1, e);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

static void build_four(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  strands_of_loop(s, it, e[0]);
  ref_loose(&s->rig);
  int t = ref_body(&s->rig, "tractor");
  ref_grip(&s->rig, it->hitch, t, 0, 3, 2.0);
  ref_path(&s->rig, "cord");
  ref_tie(&s->rig, A);
  ref_run(&s->rig, t, it->sheave, e[1]);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

static void build_five_simple(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  ref_tie(&s->rig, L);
  ref_edge(&s->rig);
  strands_of_z(s, it, 1, e);
  ref_run(&s->rig, S, it->sheave, e[2]);
  ref_run(&s->rig, FH_BODY_FIRST_GRIP, it->sheave, e[3]);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

// The block at the hand hangs on a cord: `cord_from` is what the cord's dead end is tied to.
static void cord_and_block(fh_scene *s, const ref_items *it, int cord_from, int tractor, int block, double eta) {
  ref_path(&s->rig, "cord");
  ref_tie(&s->rig, cord_from);
  ref_run(&s->rig, tractor, it->bar, eta);
  ref_loose(&s->rig);
  ref_grip(&s->rig, it->hitch, block, 1, 1, 3.0);
}

static void build_five_cord(fh_scene *s, const ref_items *it, const double *e) {
  int t = ref_body(&s->rig, "tractor");
  int b = ref_body(&s->rig, "block");
  start(s);
  ref_tie(&s->rig, L);
  ref_edge(&s->rig);
  ref_run(&s->rig, S, it->capture, e[0]);
  ref_run(&s->rig, b, it->sheave, e[1]);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
  ref_grip(&s->rig, it->hitch, t, 0, 1, 1.5);
  cord_and_block(s, it, S, t, b, e[2]);
}

static void build_six(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  strands_of_loop(s, it, e[0]);
  strands_of_z(s, it, 3, e + 1);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

static void build_seven(fh_scene *s, const ref_items *it, const double *e) {
  int t = ref_body(&s->rig, "tractor");
  int b = ref_body(&s->rig, "block");
  int g = ref_body(&s->rig, "rear");
  start(s);
  ref_tie(&s->rig, L);
  ref_edge(&s->rig);
  ref_run(&s->rig, A, it->capture, e[0]);
  ref_run(&s->rig, b, it->sheave, e[1]);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
  ref_grip(&s->rig, it->hitch, t, 0, 1, 1.5);
  ref_grip(&s->rig, it->hitch, g, 0, 2, 9.0);
  cord_and_block(s, it, g, t, b, e[2]);
}

// The second Z pulls the strand that the first one's hand held; it starts at `after`.
static void second_z(fh_scene *s, const ref_items *it, int after, const double *e) {
  int u = ref_body(&s->rig, "second");
  ref_run(&s->rig, A, it->sheave, e[0]);
  ref_run(&s->rig, u, it->sheave, e[1]);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
  ref_grip(&s->rig, it->hitch, u, s->rig.path_count - 1, after, 4.0);
}

static void build_nine(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  ref_tie(&s->rig, L);
  ref_edge(&s->rig);
  strands_of_z(s, it, 1, e);
  second_z(s, it, 3, e + 2);
}

static void build_nine_two(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  ref_tie(&s->rig, L);
  ref_edge(&s->rig);
  strands_of_z(s, it, 1, e);
  ref_loose(&s->rig);
  int g = ref_body(&s->rig, "link");
  ref_grip(&s->rig, it->hitch, g, 0, 3, 2.5);
  ref_path(&s->rig, "second");
  ref_tie(&s->rig, g);
  second_z(s, it, 0, e + 2);
}

static void build_eighteen(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  strands_of_loop(s, it, e[0]);
  strands_of_z(s, it, 3, e + 1);
  second_z(s, it, 5, e + 3);
}

static void tackle_strands(fh_scene *s, const ref_items *it, const double *e) {
  start(s);
  ref_tie(&s->rig, S);
  for (int i = 0; i < 4; i += 2) {
    ref_edge(&s->rig);
    ref_run(&s->rig, L, it->sheave, e[i]);
    ref_edge(&s->rig);
    ref_run(&s->rig, i == 0 ? S : A, it->sheave, e[i + 1]);
  }
}

static void build_tackle(fh_scene *s, const ref_items *it, const double *e) {
  tackle_strands(s, it, e);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

static void build_tackle_led(fh_scene *s, const ref_items *it, const double *e) {
  tackle_strands(s, it, e);
  ref_run(&s->rig, S, it->sheave, e[4]);
  ref_run(&s->rig, A, it->sheave, e[5]);
  ref_hand(&s->rig, FH_TOWARD_AUTO);
}

#define PRACTICE "method of tensions; common practice, no source"
#define POYSTI   "Poysti 2020, article series on pulley efficiency"

static const ref_known KNOWN[] = {
    {"direct", "straight over the lip", 1.0, 0, one, build_direct, PRACTICE},
    {"turn", "one turn at a fixed point", 1.0, 1, turn, build_turn, PRACTICE},
    {"loop", "drop loop", 2.0, 1, loop, build_loop, PRACTICE},
    {"three", "Z", 3.0, 2, z, build_z, POYSTI},
    {"four", "a cord's two to one on a drop loop", 4.0, 2, four, build_four, PRACTICE},
    {"five-simple", "two blocks on the grip of a Z", 5.0, 4, five_simple, build_five_simple, PRACTICE},
    {"five-cord", "complex five with a cord", 5.0, 3, five_cord, build_five_cord, POYSTI},
    {"six", "Z on a drop loop", 6.0, 3, six, build_six, PRACTICE},
    {"seven", "complex seven with a cord", 7.0, 3, seven, build_seven, "derived here by the method of tensions"},
    {"nine", "Z on Z, one rope", 9.0, 4, nine, build_nine, PRACTICE},
    {"nine-two", "Z on Z, two ropes", 9.0, 4, nine, build_nine_two, PRACTICE},
    {"eighteen", "Z on Z on a drop loop", 18.0, 5, eighteen, build_eighteen, PRACTICE},
    {"tackle", "four parts, lead line over a fourth sheave", 4.0, 4, tackle, build_tackle,
     "Pipeline Rules of Thumb Handbook, p. 6"},
    {"tackle-led", "the same with two more sheaves", 4.0, 6, tackle_led, build_tackle_led,
     "Wire Rope Users Manual, 4th ed., p. 88"},
};

const ref_known *ref_known_list(int *count) {
  *count = (int)(sizeof KNOWN / sizeof KNOWN[0]);
  return KNOWN;
}

const ref_known *ref_known_find(const char *key) {
  for (size_t i = 0; i < sizeof KNOWN / sizeof KNOWN[0]; i++) {
    if (strcmp(KNOWN[i].key, key) == 0) {
      return &KNOWN[i];
    }
  }
  return NULL;
}

fh_scene *ref_known_make(const ref_known *known, const ref_items *items, const double *eta) {
  fh_scene *s = ref_scene_make(80.0, 0.0, 1.5707963267948966);
  if (s != NULL) {
    known->build(s, items, eta);
  }
  return s;
}
