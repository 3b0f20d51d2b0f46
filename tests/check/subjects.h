// SPDX-License-Identifier: MIT
// What a check file can ask: each subject turns the given values into named results by calling the public library.
// Included by run_check.c alone.
#ifndef FH_CHECK_SUBJECTS_H
#define FH_CHECK_SUBJECTS_H

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "firnhaul.h"
#include "firnhaul_anchor.h"
#include "firnhaul_rescue.h"
#include "firnhaul_team.h"

enum { MAX_GIVEN = 16, MAX_RESULTS = 8, WORD = 64 };

typedef struct given {
  char key[WORD];
  char word[WORD];  // as written
  double value;     // [SI], NaN when it is no number
  bool used;
} given;

typedef struct answer {
  fh_status status;
  char key[MAX_RESULTS][WORD];
  double value[MAX_RESULTS];
  int count;
  char wrong[160];  // not empty: the check itself is wrong
} answer;

typedef struct claim {
  given givens[MAX_GIVEN];
  int count;
  const fh_gear *gear;
} claim;

static given *given_find(claim *c, const char *key) {
  for (int i = 0; i < c->count; i++) {
    if (strcmp(c->givens[i].key, key) == 0) {
      c->givens[i].used = true;
      return &c->givens[i];
    }
  }
  return NULL;
}

static double number_or(claim *c, const char *key, double fallback) {
  given *g = given_find(c, key);
  return g == NULL ? fallback : g->value;
}

// A number that the claim must give.
static double number(claim *c, answer *a, const char *key) {
  given *g = given_find(c, key);
  if (g == NULL || isnan(g->value)) {
    snprintf(a->wrong, sizeof a->wrong, "the number '%s' is not given", key);
    return (double)NAN;
  }
  return g->value;
}

static const char *word(claim *c, answer *a, const char *key) {
  given *g = given_find(c, key);
  if (g == NULL) {
    snprintf(a->wrong, sizeof a->wrong, "the word '%s' is not given", key);
    return "";
  }
  return g->word;
}

static void result(answer *a, const char *key, double value) {
  snprintf(a->key[a->count], WORD, "%s", key);
  a->value[a->count++] = value;
}

// A function that says "outside" by NaN.
static void result_or_nan(answer *a, const char *key, double value) {
  if (isnan(value)) {
    a->status = FH_ERR_ARG;
  }
  result(a, key, value);
}

static void ask_edge(claim *c, answer *a) {
  double ratio = (double)NAN;
  a->status = fh_edge_ratio(number(c, a, "mu"), number(c, a, "wrap"), &ratio);
  double load = number_or(c, "load", 1.0);
  result(a, "ratio", ratio);
  result(a, "tight", load * ratio);
  result(a, "slack", load / ratio);
}

// The friction that gives a ratio, found by halving on the library's own law.
static void ask_edge_mu(claim *c, answer *a) {
  double want = number(c, a, "tight") / number(c, a, "slack"), wrap = number(c, a, "wrap");
  double lo = 0.0, hi = 5.0;
  for (int i = 0; i < 200; i++) {
    double mid = 0.5 * (lo + hi), ratio = (double)NAN;
    a->status = fh_edge_ratio(mid, wrap, &ratio);
    *(ratio > want ? &hi : &lo) = mid;
  }
  result(a, "mu", 0.5 * (lo + hi));
}

static bool is_sheave(claim *c, answer *a) {
  const char *kind = word(c, a, "kind");
  if (strcmp(kind, "sheave") != 0 && strcmp(kind, "bar") != 0) {
    snprintf(a->wrong, sizeof a->wrong, "kind is sheave or bar, not '%s'", kind);
  }
  return strcmp(kind, "sheave") == 0;
}

// `times` equal bends one after the other.
static void ask_contact(claim *c, answer *a) {
  double ratio = (double)NAN;
  a->status = fh_contact_ratio(is_sheave(c, a), number(c, a, "eta"), number_or(c, "share", 0.0), number(c, a, "wrap"), &ratio);
  double times = number_or(c, "times", 1.0);
  result(a, "ratio", pow(ratio, times));
  result(a, "kept", pow(ratio, -times));
  result(a, "raise", number_or(c, "load", 1.0) * pow(ratio, times));
}

// Block and tackle: the pull passes `lead` more sheaves, then `parts` parts, each a bend further from the hand, carry the load.
static void ask_tackle(claim *c, answer *a) {
  double parts = number(c, a, "parts"), lead = number_or(c, "lead", 1.0), load = number_or(c, "load", 1.0), ratio = (double)NAN;
  double turn = 3.14159265358979323846;
  a->status = fh_contact_ratio(true, number(c, a, "eta"), number_or(c, "share", 0.5), turn, &ratio);
  double tension = 1.0, sum = 0.0;  // per hand force
  for (int i = 0; i < (int)lead; i++) {
    tension /= ratio;
  }
  for (int i = 0; i < (int)parts; i++) {
    sum += tension;
    tension /= ratio;
  }
  result(a, "advantage", sum);
  result(a, "factor", 1.0 / sum);
  result(a, "pull", load / sum);
}

static void ask_resultant(claim *c, answer *a) {
  double pi = 3.14159265358979323846;
  // `between` is the angle that rigging tables use; the wrap is what is left of a half turn.
  double wrap = given_find(c, "between") != NULL ? pi - number(c, a, "between") : number(c, a, "wrap");
  result_or_nan(a, "force", fh_resultant(number_or(c, "a", 1.0), number_or(c, "b", 1.0), fmax(0.0, wrap)));
}

static void ask_leg(claim *c, answer *a) {
  double angle = number(c, a, "angle"), load = number_or(c, "load", 1.0);
  result_or_nan(a, "each", load * fh_leg_tension(angle));
  result(a, "over_half", 2.0 * fh_leg_tension(angle));
}

static void ask_triangle(claim *c, answer *a) {
  result_or_nan(a, "each", number_or(c, "load", 1.0) * fh_leg_triangle(number(c, a, "angle")));
}

static void ask_impact(claim *c, answer *a) {
  result_or_nan(a, "force", fh_rope_impact(number(c, a, "modulus"), number(c, a, "mass"), number(c, a, "factor")));
}

// A rope rated by its standard drop, fallen on at another factor: rated force -> modulus -> force.
static void ask_rated(claim *c, answer *a) {
  double mass = number(c, a, "mass");
  double modulus = fh_rope_modulus_from_impact(number(c, a, "rated"), mass, number(c, a, "rated_factor"));
  result_or_nan(a, "modulus", modulus);
  result(a, "force", fh_rope_impact(modulus, mass, number_or(c, "factor", 0.0)));
}

static void ask_stretch(claim *c, answer *a) {
  result_or_nan(a, "modulus", fh_rope_modulus_from_stretch(number(c, a, "strain"), number(c, a, "mass")));
}

static void ask_catch(claim *c, answer *a) {
  double weight = number(c, a, "weight");
  double f = fh_rope_catch(weight, number(c, a, "modulus"), number(c, a, "fall"), number(c, a, "length"));
  result_or_nan(a, "force", f);
  result(a, "over_weight", f / weight);
}

// A figure of the catalogue.
static void ask_gear(claim *c, answer *a) {
  const char *name = word(c, a, "item"), *what = word(c, a, "figure");
  int item = fh_gear_find(c->gear, name);
  fh_number n = fh_gear_figure(c->gear, item, what, NULL);
  if (!fh_number_is_set(n)) {
    snprintf(a->wrong, sizeof a->wrong, "the catalogue has no '%s' of '%s'", what, name);
  }
  result(a, "lo", n.lo);
  result(a, "likely", n.likely);
  result(a, "hi", n.hi);
}

// What a surface or a bend of the catalogue makes of a load.
static void ask_item(claim *c, answer *a) {
  int item = fh_gear_find(c->gear, word(c, a, "item"));
  const fh_item *row = fh_gear_item(c->gear, item);
  double wrap = number(c, a, "wrap"), load = number_or(c, "load", 1.0), r[3] = {(double)NAN, (double)NAN, (double)NAN};
  if (row == NULL) {
    snprintf(a->wrong, sizeof a->wrong, "the catalogue has no such item");
    return;
  }
  bool edge = row->item_class == FH_ITEM_SURFACE;
  fh_band f = fh_number_band(fh_gear_figure(c->gear, item, edge ? "friction" : "efficiency", NULL));
  double ends[3] = {edge ? f.lo : f.hi, f.likely, edge ? f.hi : f.lo};
  double share = edge ? 0.0 : fh_gear_figure(c->gear, item, "share", NULL).likely;
  for (int i = 0; i < 3 && a->status == FH_OK; i++) {
    a->status = edge ? fh_edge_ratio(ends[i], wrap, &r[i])
                     : fh_contact_ratio(row->item_class != FH_ITEM_BAR, ends[i], share, wrap, &r[i]);
  }
  result(a, "lo", load * r[0]);
  result(a, "likely", load * r[1]);
  result(a, "hi", load * r[2]);
}

// `count` equal people; `pull` is a measured pull, else feet, posture and hands decide.
static void ask_crew(claim *c, answer *a) {
  static fh_scene scene;
  memset(&scene, 0, sizeof scene);
  int count = (int)number_or(c, "count", 1.0);
  given *posture = given_find(c, "posture"), *pull = given_find(c, "pull");
  if (count < 1 || count > FH_MAX_CREW) {
    snprintf(a->wrong, sizeof a->wrong, "count is 1 to %d", FH_MAX_CREW);
    return;
  }
  scene.slope = fh_number_exact(number_or(c, "slope", 0.0));
  for (int i = 0; i < count; i++) {
    fh_hauler *h = &scene.crew[scene.crew_count++];
    h->mass = fh_number_exact(number_or(c, "mass", 75.0));
    h->footing = given_find(c, "footing") != NULL ? fh_number_exact(number(c, a, "footing")) : fh_number_unset();
    h->posture = posture == NULL ? -1 : fh_gear_find(c->gear, posture->word);
    h->pull = pull == NULL ? fh_number_unset() : fh_number_exact(pull->value);
  }
  fh_pull p = fh_crew_pull(&scene, c->gear);
  result(a, "lo", p.force.lo);
  result(a, "likely", p.force.likely);
  result(a, "hi", p.force.hi);
  result(a, "sustained", p.sustained.likely);
}

// A fall on a rope over an edge, in closed form and by steps.
static void ask_fall(claim *c, answer *a) {
  fh_catch_in in = {.weight = number(c, a, "weight"), .modulus = number(c, a, "modulus"), .fall = number(c, a, "fall"),
                    .hole = number(c, a, "hole"), .surface = number(c, a, "surface"), .lip = number(c, a, "lip")};
  fh_catch closed = {(double)NAN, (double)NAN, (double)NAN, (double)NAN}, steps = closed;
  a->status = fh_catch_closed(&in, &closed);
  if (a->status == FH_OK) {
    a->status = fh_catch_simulate(&in, 200, &steps);
  }
  result(a, "peak", closed.peak);
  result(a, "simulated", steps.peak);
  result(a, "held", closed.held);
  if (given_find(c, "most") != NULL) {
    result(a, "longest_fall", fh_catch_fall(&in, number(c, a, "most")));
  }
}

static void ask_budget(claim *c, answer *a) {
  fh_budget_in in = fh_budget_in_default();
  fh_budget_out out;
  memset(&out, 0, sizeof out);
  in.length = number(c, a, "length");
  in.people = (int)number(c, a, "people");
  in.spacing = number_or(c, "spacing", (double)NAN);
  in.knots = (int)number_or(c, "knots", 0.0);
  a->status = fh_budget(&in, &out);
  result(a, "widest", out.widest_loop);
  result(a, "widest_one_end", out.widest_loop_last);
  result(a, "spare_first", out.first.spare);
  result(a, "spare_last", out.last.spare);
  result(a, "usable_last", out.last.usable);
  result(a, "missing_first", out.first.loop_missing);
  result(a, "missing_last", out.last.loop_missing);
}

// One point of an anchor in snow of a measured strength; what is not given is usual for the kind.
static void ask_hold(claim *c, answer *a) {
  static fh_scene scene;
  memset(&scene, 0, sizeof scene);
  scene.has_anchorage = true;
  scene.anchorage.point_count = 1;
  scene.anchorage.snow = FH_SNOW_UNTESTED;
  scene.anchorage.strength = fh_number_exact(number(c, a, "strength"));
  fh_point *p = &scene.anchorage.points[0];
  const char *keys[] = {"depth", "length", "width", "diameter", "back"};
  fh_number *to[] = {&p->depth, &p->length, &p->width, &p->diameter, &p->back};
  p->kind = fh_gear_find(c->gear, word(c, a, "item"));
  p->holds = fh_number_unset();
  for (int i = 0; i < 5; i++) {
    *to[i] = given_find(c, keys[i]) != NULL ? fh_number_exact(number(c, a, keys[i])) : fh_number_unset();
  }
  fh_hold h = fh_point_hold(&scene, c->gear, 0);
  result(a, "bearing", h.bearing.likely);
  result(a, "wedge", h.shear.likely);
  result(a, "holds", h.holds.likely);
}

// A rope team of equal holders, a fall at a step of 0.1 ms. Without `holder` those behind weigh as much as the one who falls.
static fh_fall_in team_of(claim *c, answer *a) {
  fh_fall_in in = {.people = (int)number_or(c, "people", 2.0), .modulus = number_or(c, "modulus", 20000.0), .damping = number_or(c, "damping", 0.0),
                   .slack = number_or(c, "slack", 0.0), .reaction = number_or(c, "reaction", 1.0), .start = number_or(c, "walk", 0.0),
                   .slope = number_or(c, "slope", 0.0), .lip_friction = log(number_or(c, "lip", 1.0)), .lip_turn = 1.0,
                   .knots = (int)number_or(c, "knots", 0.0), .knot_first = number_or(c, "knot_first", 1.0), .knot_apart = number_or(c, "knot_apart", 1.0),
                   .knot_catch = number_or(c, "knot_catch", 0.0), .knot_plough = number_or(c, "knot_plough", 0.0)};
  in.mass[0] = number(c, a, "mass");
  in.brake = number(c, a, "brake");
  in.stand = number_or(c, "stand", in.brake);
  double holder = number_or(c, "holder", in.mass[0]), apart = number_or(c, "apart", 10.0);
  for (int i = 1; i < in.people && i < FH_MAX_PEOPLE; i++) {
    in.mass[i] = holder;
    in.at[i] = i * apart;
  }
  return in;
}

static void ask_team(claim *c, answer *a) {
  fh_fall_in in = team_of(c, a);
  fh_fall f;
  memset(&f, 0, sizeof f);
  a->status = fh_fall_run(&in, 1e-4, &f, NULL);
  result(a, "arrested", f.arrested ? 1.0 : 0.0);
  result(a, "pulled_in", f.pulled_in);
  result(a, "fall", f.fall);
  result(a, "peak", f.peak[0]);
  result(a, "pull", f.pull[0]);
  result(a, "slide", f.slide[1]);
  result(a, "slide_last", f.slide[in.people > 0 && in.people <= FH_MAX_PEOPLE ? in.people - 1 : 0]);
  result(a, "time", f.time);
}

static void ask_team_slide(claim *c, answer *a) {
  fh_fall_in in = team_of(c, a);
  result_or_nan(a, "gain", fh_fall_slide(&in, (int)number_or(c, "in_hole", 1.0)));
}

typedef struct subject {
  const char *name;
  void (*ask)(claim *, answer *);
} subject;

static const subject SUBJECTS[] = {
    {"edge", ask_edge},       {"edge-mu", ask_edge_mu},     {"contact", ask_contact}, {"tackle", ask_tackle},
    {"resultant", ask_resultant}, {"leg", ask_leg},         {"triangle", ask_triangle}, {"impact", ask_impact},
    {"rated", ask_rated},     {"stretch", ask_stretch},     {"catch", ask_catch},     {"gear", ask_gear},
    {"item", ask_item},       {"crew", ask_crew},             {"hold", ask_hold},
    {"fall", ask_fall},       {"budget", ask_budget},           {"team", ask_team},
    {"team-slide", ask_team_slide},
};

static const subject *subject_find(const char *name) {
  for (size_t i = 0; i < sizeof SUBJECTS / sizeof *SUBJECTS; i++) {
    if (strcmp(SUBJECTS[i].name, name) == 0) {
      return &SUBJECTS[i];
    }
  }
  return NULL;
}

#endif
