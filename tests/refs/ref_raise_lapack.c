// needs: lapacke
// SPDX-License-Identifier: MIT
// Do motion and raising forces agree with LAPACK? The same equations, strand by strand, built a second time as dense
// least-squares systems (dgelsd for rank and residual, dgesv for the answer). Thousands of random rigs, also unsound
// ones. Rigs in which a resting bend leaves tensions open are judged by linear programmes elsewhere: here only motion.
#include "common/dense.h"
#include "common/docket.h"

static void hand_and_advantage(ref_trial *t, const ref_forces *f) {
  double pull = f->lo[t->reading->hand_strand];
  ref_judge(t, "hand force", 0, t->check->hand_force.likely, pull);
  ref_judge(t, "hand force, low", 0, t->check->hand_force.lo, pull);
  ref_judge(t, "hand force, high", 0, t->check->hand_force.hi, pull);
  ref_judge_plain(t, "actual advantage", 0, t->check->actual_advantage.likely, t->reading->weight / pull);
  ref_judge_plain(t, "residual", 0, t->check->residual, 0.0);
}

static ref_verdict judge(ref_trial *t) {
  ref_motion m;
  ref_forces raise, lower;
  ref_dense_motion(t->reading, &m);
  if (m.verdict != REF_SOUND) {
    ref_judge_verdict(t, m.verdict);
    return m.verdict;
  }
  bool settled = ref_dense_forces(t->reading, &m, FH_RAISE, &raise);
  if (!settled) {
    // Whether an open rig works is for the linear programmes to say; its motion is not.
    if (t->check->outcome == FH_OUTCOME_SOLVED) {
      ref_judge_layout(t);
      ref_judge_motion(t, &m);
    }
    return REF_SOUND;
  }
  if (ref_judge_verdict(t, raise.verdict)) {
    ref_judge_layout(t);
    ref_judge_motion(t, &m);
    ref_judge_forces(t, FH_RAISE, &raise, false);
    ref_judge_contacts(t, FH_RAISE, &raise);
    hand_and_advantage(t, &raise);
    if (ref_dense_forces(t->reading, &m, FH_LOWER, &lower) && lower.verdict == REF_SOUND) {
      ref_judge_forces(t, FH_LOWER, &lower, false);
    }
  }
  return raise.verdict;
}

int main(void) {
  ref_wish wish = ref_wish_default();
  return ref_docket("strands, LAPACK", 100000, 20000, &wish, judge);
}
