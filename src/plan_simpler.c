// SPDX-License-Identifier: MIT
// The rigs that everybody is taught, where the kit can build them and they do not do it here: why not. Without this a list that
// begins at fifteen to one looks like a mistake.
#include <math.h>
#include <string.h>

#include "plan.h"
#include "shown.h"
#include "text.h"
#include "words.h"

// Whole ideal advantages only: 1.5 or 4.5 to one is nobody's first thought. @return 0 for any other
static int whole_advantage(double ideal) {
  double whole = round(ideal);
  return fabs(ideal - whole) < 1e-6 && whole >= 1.0 && whole < FHI_NEAR ? (int)whole : 0;
}

void fhi_near_add(fhi_near *near, double ideal, const fhi_candidate *c) {
  int k = whole_advantage(ideal);
  fhi_near *n = &near[k];
  if (k == 0 || c->hands) {
    return;
  }
  n->works = n->works || c->possible;
  if (!n->there || c->pieces < n->pieces || (c->pieces == n->pieces && c->hand_force < n->hand_force)) {
    *n = (fhi_near){true, n->works, c->pieces, c->hand_force, c->share, c->short_rope, c->margin};
  }
}

// Everything that rules it out.
static void say_one(const fhi_near *n, int advantage, fh_language language, char *to, size_t size) {
  char figure[32];
  size_t used = 0;
  to[0] = '\0';
  if (n->share > 1.0) {
    (void)fhi_format(to, size, fhi_say(language, "%d:1 takes %s N"), advantage, fhi_show_newton(figure, sizeof figure, n->hand_force, FHI_NEAREST));
    used = strlen(to);
  }
  if (n->short_rope > 0.0) {
    fhi_fixed(figure, sizeof figure, fmax(0.1, n->short_rope), 1);
    (void)(used == 0 ? fhi_format(to, size, fhi_say(language, "%d:1 lacks %s m of rope"), advantage, figure)
                     : fhi_format(to + used, size - used, fhi_say(language, ", lacks %s m of rope"), figure));
    used = strlen(to);
  }
  if (used == 0) {
    (void)fhi_format(to, size, fhi_say(language, "%d:1 breaks a limit"), advantage);
  } else if (!(n->margin >= 1.0)) {
    (void)fhi_copy(to + used, size - used, fhi_say(language, ", breaks a limit"));
  }
}

// Whether a rig of that advantage stands among the less likely, where more is said of it.
static bool is_less_likely(const fh_plans *plans, int advantage) {
  for (int i = plans->count; i < plans->count + plans->less_likely; i++) {
    if (whole_advantage(plans->plans[i].ideal_advantage) == advantage) {
      return true;
    }
  }
  return false;
}

void fhi_say_simpler(const fhi_near *near, fh_language language, fh_plans *plans) {
  int fewest = 1000;
  size_t used = 0;
  for (int i = 0; i < plans->count; i++) {
    fewest = plans->plans[i].possible && plans->plans[i].pieces < fewest ? plans->plans[i].pieces : fewest;
  }
  for (int k = 1; k < FHI_NEAR; k++) {
    char one[160];
    if (near[k].there && !near[k].works && near[k].pieces < fewest && !is_less_likely(plans, k) && used + sizeof one + 2 < sizeof plans->simpler) {
      say_one(&near[k], k, language, one, sizeof one);
      (void)fhi_format(plans->simpler + used, sizeof plans->simpler - used, "%s%s", used > 0 ? "; " : "", one);
      used = strlen(plans->simpler);
    }
  }
}
