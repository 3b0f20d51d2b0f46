// SPDX-License-Identifier: MIT
// Which design is recommended, and why? Held falls first, as far as the sample can tell designs apart; among those that hold
// alike the raise decides: no knots in the loaded strand, then rope.
#include "firnhaul_team.h"
#include "text.h"
#include "team_words.h"
#include "words.h"

#include <math.h>
#include <string.h>

static const double ALIKE = 0.02;  // [1] shares closer than this count as the same: the doubt of 2,000 samples
static const double POOR = 0.9;    // [1] what holds less often is not recommended: below it the page says "perhaps" of a team, from it on "likely"

static double share(const fh_design *d) {
  return d->done && d->chance.samples > 0 ? (double)d->chance.nobody_else_in / d->chance.samples : -1.0;
}

static bool can_raise(const fh_designs *ds, const fh_design *d) {
  return ds->classes[d->raise_class].possible;
}

static double highest(const fh_designs *ds, bool raise_wanted) {
  double most = -1.0;
  for (int i = 0; i < ds->count; i++) {
    if (!raise_wanted || can_raise(ds, &ds->designs[i])) {
      most = fmax(most, share(&ds->designs[i]));
    }
  }
  return most;
}

// Is `a` the better of two that hold alike?
static bool is_better(const fh_design *a, const fh_design *b) {
  if (a->knots != b->knots) {
    return a->knots < b->knots;
  }
  if (fabs(a->beyond - b->beyond) > 0.5) {
    return a->beyond > b->beyond;
  }
  return share(a) > share(b);
}

// "no knots", or how many and where.
static const char *say_knots(const fh_design *d, fh_language l, char *to, size_t size) {
  char f[40];
  char p[40];
  if (d->knots == 0) {
    (void)fhi_copy(to, size, fhi_say(l, "no knots"));
  } else {
    (void)fhi_format(to, size, fhi_say(l, "%d knots, the first %s m from the tie-in, then every %s m"), d->knots, fhi_fixed(f, sizeof f, d->knot_first, 1),
                     fhi_fixed(p, sizeof p, d->knot_apart, 1));
  }
  return to;
}

// Rope for the raise, and what a drop loop leaves of it: never a length below nought.
static const char *say_rope(const fh_design *d, fh_language l, char *to, size_t size) {
  char u[40];
  char o[40];
  (void)fhi_fixed(u, sizeof u, floor(d->usable), 0);
  if (d->beyond < 0.0) {
    (void)fhi_format(to, size, fhi_say(l, "%s m for the raise, %s m too short for a drop loop"), u, fhi_fixed(o, sizeof o, ceil(-d->beyond), 0));
  } else {
    (void)fhi_format(to, size, fhi_say(l, "%s m for the raise, %s m of them over"), u, fhi_fixed(o, sizeof o, floor(d->beyond), 0));
  }
  return to;
}

// What the snow makes of it, and that others hold more often.
static void add_doubts(const fh_scene *scene, fh_designs *ds, const fh_design *d, double most, double most_any) {
  char a[96];
  fh_language l = scene->language;
  size_t used = strlen(ds->why);
  (void)fhi_thirds_words(&d->chance, l, ds->why + used, sizeof ds->why - used);
  used = strlen(ds->why);
  if (most_any > most + ALIKE) {
    (void)fhi_format(ds->why + used, sizeof ds->why - used, fhi_say(l, " Others hold more often (%s) but leave no raise that works."), fhi_share_words(most_any, l, a, sizeof a));
  }
}

static void explain(const fh_scene *scene, fh_designs *ds, double most, double most_any) {
  char a[96];
  char b[96];
  char s[40];
  char rope[200];
  char knots[200];
  fh_language l = scene->language;
  const fh_design *d = &ds->designs[ds->best];
  (void)fhi_format(ds->why, sizeof ds->why,
                   fhi_say(l, "%d on the rope %s, %s m apart, %s. It stops the fall with nobody else over the lip in %s; the best of all that can raise stops it in %s, "
                   "and of those within 2 of 100 this one has the fewest knots, then the most rope beyond a drop loop: %s. The raise: %s"),
                   d->people, fhi_given_said(l, scene->ropes[d->rope].name), fhi_fixed(s, sizeof s, d->spacing, 1), say_knots(d, l, knots, sizeof knots), fhi_share_words(share(d), l, a, sizeof a),
                   fhi_share_words(most, l, b, sizeof b), say_rope(d, l, rope, sizeof rope), ds->classes[d->raise_class].why);
  add_doubts(scene, ds, d, most, most_any);
}

// The best of those that can raise holds too seldom to be advice.
static void explain_poor(const fh_scene *scene, fh_designs *ds, const fh_design *d, double most, double most_any) {
  char a[96];
  char s[40];
  char knots[200];
  fh_language l = scene->language;
  if (most > 0.0) {
    (void)fhi_format(ds->why, sizeof ds->why,
                     fhi_say(l, "None recommended: no way that leaves a raise stops the fall with nobody else over the lip in %d of 100 or more. More people, softer snow or another way is "
                     "the better answer. The best of these is poor: %d on the rope %s, %s m apart, %s; it stops it in %s."),
                     (int)(100.0 * POOR + 0.5), d->people, fhi_given_said(l, scene->ropes[d->rope].name), fhi_fixed(s, sizeof s, d->spacing, 1), say_knots(d, l, knots, sizeof knots),
                     fhi_share_words(share(d), l, a, sizeof a));
  } else {
    (void)fhi_copy(ds->why, sizeof ds->why, fhi_say(l, "None recommended: no way that leaves a raise holds anybody. More people, softer snow or another way is the better answer."));
  }
  add_doubts(scene, ds, d, most, most_any);
}

// @return the best that can raise and holds in so many, or -1
static int find_best(const fh_designs *ds, double least) {
  int best = -1;
  for (int i = 0; i < ds->count; i++) {
    const fh_design *d = &ds->designs[i];
    if (can_raise(ds, d) && share(d) >= fmax(least, 0.0) && (best < 0 || is_better(d, &ds->designs[best]))) {
      best = i;
    }
  }
  return best;
}

void fh_designs_weigh(const fh_scene *scene, fh_designs *ds) {
  if (scene == NULL || ds == NULL) {
    return;
  }
  double most = highest(ds, true);
  double most_any = highest(ds, false);
  ds->best = find_best(ds, fmax(most - ALIKE, POOR));
  int poor = ds->best < 0 ? find_best(ds, most) : -1;
  if (ds->best >= 0) {
    explain(scene, ds, most, most_any);
    return;
  }
  if (poor >= 0) {
    explain_poor(scene, ds, &ds->designs[poor], most, most_any);
    return;
  }
  char a[96];
  (void)fhi_format(ds->why, sizeof ds->why, fhi_say(scene->language, "None recommended: with none of these does the kit raise the one who fell. The best at stopping a fall stops %s. %s%s"),
                   fhi_share_words(most_any, scene->language, a, sizeof a), ds->class_count > 0 && ds->classes[0].why[0] != '\0' ? fhi_say(scene->language, "Missing: ") : "",
                   ds->class_count > 0 ? ds->classes[0].why : "");
}
