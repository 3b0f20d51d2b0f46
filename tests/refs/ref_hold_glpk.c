// needs: glpk lapacke
// SPDX-License-Identifier: MIT
// Are the intervals true extremes? Where a bend rests, friction leaves tensions open; the least and the greatest that
// it allows are linear programmes, solved by GLPK: for raising, lowering and holding (hands off, captures shut, tended
// captures shut), for every strand, for the pull on station and anchor, and for what each hitch holds.
#include <math.h>

#include "common/dense.h"
#include "common/docket.h"
#include "common/extremes.h"

static void hand(ref_trial *t, const ref_forces *f) {
  int h = t->reading->hand_strand;
  ref_judge(t, "hand force, low", 0, t->check->hand_force.lo, f->lo[h]);
  ref_judge(t, "hand force, high", 0, t->check->hand_force.hi, f->hi[h]);
}

static void holding(ref_trial *t, const ref_motion *m, const ref_forces *raise) {
  ref_forces f;
  double most[REF_MAX_STRANDS];
  // A convention, not a law: shut-in rope is no tighter than the raise left it, or than in the core's likely state.
  for (int i = 0; i < t->reading->strand_count; i++) {
    most[i] = fmax(raise->hi[i], t->check->strands[i].tension[FH_HOLD].likely);
  }
  ref_extremes(t->reading, m, FH_HOLD, most, &f);
  if (f.verdict == REF_SOUND) {
    ref_judge_forces(t, FH_HOLD, &f, true);
    return;
  }
  for (int i = 0; i < t->reading->strand_count; i++) {
    ref_judge(t, "nothing holds, strand", i, t->check->strands[i].tension[FH_HOLD].hi, REF_NAN);
  }
}

static ref_verdict judge(ref_trial *t) {
  ref_motion m;
  ref_forces raise, lower;
  ref_dense_motion(t->reading, &m);
  if (m.verdict != REF_SOUND) {
    ref_judge_verdict(t, m.verdict);
    return m.verdict;
  }
  ref_extremes(t->reading, &m, FH_RAISE, NULL, &raise);
  if (raise.unbounded) {
    raise.verdict = REF_WEDGES;
  }
  if (!ref_judge_verdict(t, raise.verdict)) {
    return raise.verdict;
  }
  ref_judge_layout(t);
  ref_judge_forces(t, FH_RAISE, &raise, true);
  hand(t, &raise);
  holding(t, &m, &raise);
  ref_extremes(t->reading, &m, FH_LOWER, NULL, &lower);
  if (lower.verdict == REF_SOUND) {
    ref_judge_forces(t, FH_LOWER, &lower, true);
  }
  return raise.verdict;
}

int main(void) {
  ref_wish wish = ref_wish_default();
  wish.tended = 0.3;
  return ref_docket("extremes, GLPK", 300000, 20000, &wish, judge);
}
