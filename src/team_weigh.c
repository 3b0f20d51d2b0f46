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
static const double POOR = 0.9;    // [1] a recommendation that holds less often than this is called poor

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

static void explain(const fh_scene *scene, fh_designs *ds, double most, double most_any) {
  char a[96];
  char b[96];
  char s[40];
  char u[40];
  char o[40];
  char knots[200];
  fh_language l = scene->language;
  (void)fhi_copy(knots, sizeof knots, fhi_say(l, "no knots"));
  const fh_design *d = &ds->designs[ds->best];
  if (d->knots > 0) {
    char f[40];
    char p[40];
    (void)fhi_format(knots, sizeof knots, fhi_say(l, "%d knots, the first %s m from the tie-in, then every %s m"), d->knots, fhi_fixed(f, sizeof f, d->knot_first, 1),
                     fhi_fixed(p, sizeof p, d->knot_apart, 1));
  }
  (void)fhi_format(ds->why, sizeof ds->why,
                   fhi_say(l, "%d on the rope %s, %s m apart, %s. It stops the fall with nobody else over the lip in %s; the best of all that can raise stops it in %s, "
                   "and of those within 2 of 100 this one has the fewest knots, then the most rope beyond a drop loop: %s m for the raise, %s m of them over. "
                   "The raise: %s"),
                   d->people, scene->ropes[d->rope].name, fhi_fixed(s, sizeof s, d->spacing, 1), knots, fhi_share_words(share(d), l, a, sizeof a),
                   fhi_share_words(most, l, b, sizeof b), fhi_fixed(u, sizeof u, floor(d->usable), 0), fhi_fixed(o, sizeof o, floor(d->beyond), 0), ds->classes[d->raise_class].why);
  size_t used = strlen(ds->why);
  (void)fhi_thirds_words(&d->chance, l, ds->why + used, sizeof ds->why - used);
  used = strlen(ds->why);
  if (share(d) < POOR) {
    (void)fhi_copy(ds->why + used, sizeof ds->why - used, fhi_say(l, " Poor all the same: more people, or another way, is the better answer."));
  } else if (most_any > most + ALIKE) {
    (void)fhi_format(ds->why + used, sizeof ds->why - used, fhi_say(l, " Others hold more often (%s) but leave no raise that works."), fhi_share_words(most_any, l, a, sizeof a));
  }
}

void fh_designs_weigh(const fh_scene *scene, fh_designs *ds) {
  if (scene == NULL || ds == NULL) {
    return;
  }
  double most = highest(ds, true);
  double most_any = highest(ds, false);
  ds->best = -1;
  for (int i = 0; i < ds->count; i++) {
    const fh_design *d = &ds->designs[i];
    if (can_raise(ds, d) && share(d) >= 0.0 && share(d) >= most - ALIKE && (ds->best < 0 || is_better(d, &ds->designs[ds->best]))) {
      ds->best = i;
    }
  }
  if (ds->best >= 0) {
    explain(scene, ds, most, most_any);
    return;
  }
  char a[96];
  (void)fhi_format(ds->why, sizeof ds->why, fhi_say(scene->language, "None recommended: with none of these does the kit raise the one who fell. The best at stopping a fall stops %s. %s%s"),
                   fhi_share_words(most_any, scene->language, a, sizeof a), ds->class_count > 0 && ds->classes[0].why[0] != '\0' ? fhi_say(scene->language, "Missing: ") : "",
                   ds->class_count > 0 ? ds->classes[0].why : "");
}
