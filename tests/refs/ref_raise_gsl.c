// needs: gsl
// SPDX-License-Identifier: MIT
// Do motion and raising forces agree with GSL? The same laws in other unknowns: one length and one tension for each
// piece of rope between two points that hold it, by singular value decomposition. Thousands of random rigs.
#include "common/docket.h"
#include "common/pieces.h"

static ref_verdict judge(ref_trial *t) {
  ref_motion m;
  ref_forces f;
  ref_pieces_motion(t->reading, &m);
  if (m.verdict != REF_SOUND) {
    ref_judge_verdict(t, m.verdict);
    return m.verdict;
  }
  if (!ref_pieces_forces(t->reading, &m, FH_RAISE, &f)) {
    if (t->check->outcome == FH_OUTCOME_SOLVED) {
      ref_judge_motion(t, &m);
    }
    return REF_SOUND;
  }
  if (ref_judge_verdict(t, f.verdict)) {
    ref_judge_motion(t, &m);
    ref_judge_forces(t, FH_RAISE, &f, false);
    if (ref_pieces_forces(t->reading, &m, FH_LOWER, &f) && f.verdict == REF_SOUND) {
      ref_judge_forces(t, FH_LOWER, &f, false);
    }
  }
  return f.verdict;
}

int main(void) {
  ref_wish wish = ref_wish_default();
  wish.most_steps = 6;
  return ref_docket("pieces, GSL", 200000, 20000, &wish, judge);
}
