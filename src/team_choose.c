// SPDX-License-Identifier: MIT
// How should the team rope up? Lists the ways, runs each one's falls, asks plan whether the raise works with what is left of
// the rope. Implements model.md, sections 11 and 13; the rope left is section 6 of the rescue budget (firnhaul_rescue.h).
#include "budget.h"
#include "memory.h"
#include "report.h"
#include "shown.h"
#include "team_choose.h"
#include "team_scene.h"
#include "text.h"
#include "trip.h"
#include "words.h"

#include <math.h>
#include <string.h>

static const double LEAST_SPACING = 6.0;   // [m] below the least that is taught anywhere (7 to 8 m: an alpine school's page)
static const double MOST_SPACING = 20.0;   // [m] the most that is taught (15 to 20 m for two)
static const double ARM = 1.5;             // [m] the last knot stays within reach of nobody: so far from the second one
static const double CLASS = 2.0;           // [m] raises are told apart in such steps
static const double CATCH_LO = 200.0, CATCH_HI = 1500.0;  // [N] what a knot holds: no published figure, so wide
static const double PLOUGH_LO = 0.0, PLOUGH_HI = 0.3;     // [m] how far it ploughs while it holds: common practice, no source

// Brake knots as they are taught: the first 3 to 4 m from the tie-in, then every 1 to 1.5 m (a French summary page).
typedef struct knot_plan {
  int count;
  double first, apart;
} knot_plan;

static const knot_plan KNOTS[] = {{0, 0.0, 0.0}, {3, 3.0, 1.0}, {3, 3.0, 1.5}, {3, 4.0, 1.5}, {5, 3.0, 1.0}, {5, 3.0, 1.5}, {5, 4.0, 1.0}, {7, 3.0, 1.0}};

enum { KNOT_PLANS = sizeof KNOTS / sizeof KNOTS[0] };

// The step of spacings that makes no more than the designs asked for.
static const double STEPS[] = {0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 7.0, 14.0};

// ---------------------------------------------------------------------------------------------------- the list

static bool knots_fit(const knot_plan *k, double spacing) {
  return k->count == 0 || k->first + (k->count - 1) * k->apart <= spacing - ARM;
}

static bool rope_leaves(const fh_scene *scene, fh_design *d) {
  fh_budget_in in = fh_budget_in_default();
  fh_budget_out out;
  in.length = scene->ropes[d->rope].length.lo;
  in.people = d->people;
  in.spacing = d->spacing + scene->team.slack.likely;
  in.knots = d->knots;
  in.per_tie = FHI_TIE;
  in.set_back = scene->anchor_at.likely;
  if (fhi_budget_lie(&in, &out) != FH_OK || !(out.free_rope >= 0.0)) {
    return false;
  }
  d->spare = out.last.spare;
  d->usable = fmax(0.0, out.last.usable);
  d->beyond = d->usable - out.last.loop_needs;
  return true;
}

// Designs of one step of spacing. @return their number; written when `to` is not NULL
static int list_designs(const fh_scene *scene, double step, fh_design *to) {
  int n = 0;
  for (int people = 2; people <= scene->team.people_count; people++) {
    for (int rope = 0; rope < scene->rope_count; rope++) {
      for (int s = 0; LEAST_SPACING + s * step <= MOST_SPACING + 1e-9; s++) {
        for (int k = 0; k < KNOT_PLANS; k++) {
          fh_design d = {.people = people, .rope = rope, .spacing = LEAST_SPACING + s * step, .knots = KNOTS[k].count,
                         .knot_first = KNOTS[k].first, .knot_apart = KNOTS[k].apart};
          if (!fh_number_is_set(scene->ropes[rope].length) || !knots_fit(&KNOTS[k], d.spacing) || !rope_leaves(scene, &d)) {
            continue;
          }
          if (to != NULL) {
            to[n] = d;
          }
          n++;
        }
      }
    }
  }
  return n;
}

static bool same_class(const fh_raise_class *a, const fh_raise_class *b) {
  return a->people == b->people && a->rope == b->rope && a->knots == b->knots && fabs(a->usable - b->usable) < 0.1 * CLASS &&
         fabs(a->depth - b->depth) < 0.1 * CLASS;
}

static void sort_into_classes(fh_designs *ds) {
  for (int i = 0; i < ds->count; i++) {
    fh_design *d = &ds->designs[i];
    fh_raise_class c = {.people = d->people, .rope = d->rope, .usable = floor(d->usable / CLASS + 1e-9) * CLASS,
                        .depth = ceil(d->spacing / CLASS - 1e-9) * CLASS, .knots = d->knots > 0};
    d->raise_class = ds->class_count;
    for (int k = 0; k < ds->class_count; k++) {
      if (same_class(&ds->classes[k], &c)) {
        d->raise_class = k;
        break;
      }
    }
    if (d->raise_class == ds->class_count) {
      ds->classes[ds->class_count++] = c;
    }
  }
}

static fh_status refuse(const fh_scene *scene, fh_diag *diag, const char *message, const char *accepted) {
  if (diag != NULL) {
    *diag = (fh_diag){.line = scene->team.line, .column = scene->team.column};
    (void)fhi_copy(diag->key, sizeof diag->key, "ropes");
    (void)fhi_copy(diag->message, sizeof diag->message, message);
    (void)fhi_copy(diag->accepted, sizeof diag->accepted, accepted);
  }
  return FH_ERR_INPUT;
}

static fh_status make_designs(const fh_scene *scene, double step, int count, fh_designs *ds) {
  ds->designs = fhi_alloc((size_t)count, sizeof *ds->designs);
  ds->classes = fhi_alloc((size_t)count, sizeof *ds->classes);
  if (ds->designs == NULL || ds->classes == NULL) {
    return FH_ERR_MEMORY;
  }
  ds->count = list_designs(scene, step, ds->designs);
  sort_into_classes(ds);
  return FH_OK;
}

fh_status fh_designs_create(const fh_scene *scene, const fh_gear *gear, int most, int samples, uint32_t seed, fh_designs **out, fh_diag *diag) {
  if (out == NULL) {
    return FH_ERR_ARG;
  }
  *out = NULL;
  if (scene == NULL || gear == NULL || most < 1 || most > FH_MAX_DESIGNS || samples < 1) {
    return FH_ERR_ARG;
  }
  fh_status status = fh_team_check(scene, diag);
  if (status != FH_OK) {
    return status;
  }
  int count = 0;
  double step = STEPS[0];
  for (size_t i = 0; i < sizeof STEPS / sizeof STEPS[0]; i++) {
    step = STEPS[i];
    count = list_designs(scene, step, NULL);
    if (count <= most) {
      break;
    }
  }
  if (count == 0) {
    return refuse(scene, diag, "no rope of stated length reaches from person to person even at 6 m",
                  "ropes with name and length_m, long enough for two people");
  }
  if (count > most) {
    return refuse(scene, diag, "too few designs are asked for to try every team size and rope", "more designs");
  }
  fh_designs *ds = fhi_alloc(1, sizeof *ds);
  if (ds == NULL) {
    return FH_ERR_MEMORY;
  }
  ds->samples = samples;
  ds->seed = seed;
  ds->best = -1;
  status = make_designs(scene, step, count, ds);
  if (status != FH_OK) {
    fh_designs_destroy(ds);
    return status;
  }
  *out = ds;
  return FH_OK;
}

void fh_designs_destroy(fh_designs *ds) {
  if (ds != NULL) {
    fhi_free(ds->designs);
    fhi_free(ds->classes);
    fhi_free(ds);
  }
}

// ---------------------------------------------------------------------------------------------------- one design

void fhi_design_scene(const fh_scene *scene, const fh_gear *gear, const fh_design *d, fh_scene *to) {
  *to = *scene;
  fh_team *t = &to->team;
  t->people_count = d->people;
  for (int i = 0; i < d->people; i++) {
    t->people[i].behind = fh_number_exact(i * d->spacing);
  }
  fh_number modulus = fh_gear_figure(gear, scene->ropes[d->rope].kind, "fall_modulus_N", NULL);
  t->modulus = fh_number_is_set(modulus) ? modulus : t->modulus;
  t->knot_count = d->knots;
  t->knot_first = d->knots > 0 ? fh_number_exact(d->knot_first) : fh_number_unset();
  t->knot_apart = d->knots > 0 ? fh_number_exact(d->knot_apart) : fh_number_unset();
  if (d->knots > 0 && !fh_number_is_set(t->knot_plough)) {
    t->knot_plough = (fh_number){.spread = FH_SPREAD_UNIFORM, .lo = PLOUGH_LO, .likely = 0.5 * (PLOUGH_LO + PLOUGH_HI), .hi = PLOUGH_HI};
  }
  if (d->knots > 0 && !fh_number_is_set(t->knot_catch)) {
    t->knot_catch = (fh_number){.spread = FH_SPREAD_UNIFORM, .lo = CATCH_LO, .likely = 0.5 * (CATCH_LO + CATCH_HI), .hi = CATCH_HI};
  }
}

fh_status fh_design_run(const fh_scene *scene, const fh_gear *gear, fh_designs *ds, int index) {
  if (scene == NULL || gear == NULL || ds == NULL || index < 0 || index >= ds->count) {
    return FH_ERR_ARG;
  }
  fh_design *d = &ds->designs[index];
  fh_scene *changed = fhi_alloc(1, sizeof *changed);
  if (changed == NULL) {
    return FH_ERR_MEMORY;
  }
  fhi_design_scene(scene, gear, d, changed);
  bool stopped = false;
  fh_team_opts opts = {.samples = ds->samples, .seed = ds->seed};
  fh_status status = fhi_chance_run(changed, &opts, &d->chance, &stopped);
  d->done = status == FH_OK;
  fhi_free(changed);
  return status;
}

// ---------------------------------------------------------------------------------------------------- the raise after it

void fhi_raise_scene(const fh_scene *scene, int people, int faller, int rope, double length, double depth, int knots, fh_scene *to) {
  *to = *scene;
  to->has_rig = to->has_team = false;
  to->load_mass = scene->team.people[faller].mass;
  to->depth = fh_number_exact(depth);
  to->crew_count = 0;
  for (int i = 0; i < people && scene->crew_count > 0; i++) {
    if (i == faller) {
      continue;
    }
    int k = to->crew_count++;
    to->crew[k] = scene->crew[k < scene->crew_count ? k : 0];
    to->crew[k].mass = scene->team.people[i].mass;
  }
  if (rope >= 0) {
    to->ropes[0] = scene->ropes[rope];
    to->ropes[0].length = fh_number_exact(length);
    to->ropes[0].knots = knots;
    to->rope_count = 1;
  }
}

// "3 to 1 before losses, pull 210 to 340 N: main: load, lip, toothed-capture on station, ...".
static fh_status say_rig(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, int index, char *to, size_t size) {
  char a[40];
  char b[40];
  char c[40];
  const fh_plan *plan = &plans->plans[index];
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  char *words = fhi_alloc(FHI_WORDS, 1);
  fh_status status = rig == NULL || words == NULL ? FH_ERR_MEMORY : fh_plan_rig(scene, gear, plans, index, rig);
  if (status == FH_OK) {
    (void)fhi_format(to, size, fhi_say(scene->language, "%s to 1 before losses, pull %s to %s N"), fhi_shortest(a, sizeof a, floor(plan->ideal_advantage * 100.0 + 0.5) / 100.0),
                     fhi_show_newton(b, sizeof b, plan->hand_force.lo, FHI_DOWN), fhi_show_newton(c, sizeof c, plan->hand_force.hi, FHI_UP));
    for (int p = 0; p < rig->path_count; p++) {
      size_t used = strlen(to);
      used -= used > 0 && to[used - 1] == '.' ? 1 : 0;  // a path's words end a sentence; the next path goes on
      fhi_words_short(rig, gear, p, scene->language, words);
      (void)fhi_format(to + used, size - used, "; %s", words);
    }
  }
  fhi_free(words);
  fhi_free(rig);
  return status;
}

// May the pull be what a rig needs? By the words of a list of rigs: sure at the worst figures, likely where one end stays within the
// other's likely figure.
static bool is_sure(const fh_plan *plan) {
  return plan->possible && plan->hand_force.hi <= plan->crew.force.lo;
}

static bool is_likely(const fh_plan *plan) {
  return plan->possible && (plan->hand_force.hi <= plan->crew.force.likely || plan->hand_force.likely <= plan->crew.force.lo);
}

static int first_that(const fh_plans *plans, bool (*is)(const fh_plan *plan)) {
  int i = 0;
  while (i < plans->count && !is(&plans->plans[i])) {
    i++;
  }
  return i;
}

static bool is_possible(const fh_plan *plan) {
  return plan->possible;
}

// The simplest rig: a team remembers and builds a few pieces, not the most that its kit gives. Two more for one that is sure.
// The list begins with the fewest pieces.
// @return the number of plans where none is possible
static int find_rig(const fh_plans *plans, bool *sure) {
  enum { WORTH = 2 };  // [1] pieces. A choice of ours, no source
  int safe = first_that(plans, is_sure), likely = first_that(plans, is_likely);
  int pick = likely < plans->count ? likely : first_that(plans, is_possible);
  if (safe < plans->count && (likely == plans->count || plans->plans[safe].pieces <= plans->plans[likely].pieces + WORTH)) {
    pick = safe;
  }
  *sure = pick < plans->count && is_sure(&plans->plans[pick]);
  return pick;
}

fh_status fhi_raise_find(const fh_scene *scene, const fh_gear *gear, int most_contacts, bool *possible, bool *sure, char *why, size_t size) {
  fh_plan_opts opts = fh_plan_opts_default();
  fh_plans *plans = NULL;
  opts.max_contacts = most_contacts;
  opts.prefer = FH_PREFER_PIECES;
  fh_status status = fh_plans_create(scene, gear, &opts, &plans);
  if (status != FH_OK) {
    return status;
  }
  int first = find_rig(plans, sure);
  *possible = first < plans->count;
  if (*possible) {
    status = say_rig(scene, gear, plans, first, why, size);
  } else {
    (void)fhi_copy(why, size, plans->missing);
  }
  fh_plans_destroy(plans);
  return status;
}

fh_status fh_raise_class_run(const fh_scene *scene, const fh_gear *gear, fh_designs *ds, int index) {
  if (scene == NULL || gear == NULL || ds == NULL || index < 0 || index >= ds->class_count) {
    return FH_ERR_ARG;
  }
  fh_raise_class *c = &ds->classes[index];
  fh_scene *raise = fhi_alloc(1, sizeof *raise);
  if (raise == NULL) {
    return FH_ERR_MEMORY;
  }
  // The loaded strand is the piece to the second one; the rest is what the budget calls usable.
  fhi_raise_scene(scene, c->people, 0, c->rope, fmax(1.0, c->depth + c->usable), c->depth, c->knots ? 3 : 0, raise);
  fhi_kept kept = fhi_kit_of_raise(scene, gear, c->people, 0, raise);
  bool sure = false;
  fh_status status = FH_OK;
  if (!fhi_kept_lacks(&kept, scene->language, c->why, sizeof c->why)) {
    status = fhi_raise_find(raise, gear, 3, &c->possible, &sure, c->why, sizeof c->why);
  }
  c->known = status == FH_OK;
  fhi_free(raise);
  return status;
}
