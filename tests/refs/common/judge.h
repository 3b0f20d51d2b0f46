// SPDX-License-Identifier: MIT
// The core's answer on trial: does it agree with a reference, number by number?
#ifndef REF_JUDGE_H
#define REF_JUDGE_H

#include "answer.h"

typedef struct ref_trial {
  const char *name;  ///< of the case, for the report
  const fh_scene *scene;
  const fh_gear *gear;
  const ref_reading *reading;
  const fh_check *check;
  int checks, failures;  ///< counted up
  double worst;          ///< [1] largest miss over the weight so far
} ref_trial;

/// Compares `got` with `want` at 1e-9 of the weight; on failure says which. Infinite equals infinite.
void ref_judge(ref_trial *t, const char *what, int index, double got, double want);

/// The same for things that are speeds or counts: scale 1.
void ref_judge_plain(ref_trial *t, const char *what, int index, double got, double want);

/// Strands in the same order, slack in the same places.
void ref_judge_layout(ref_trial *t);

/// Speeds of bodies, hand and strands, and the rope's rate at each bend.
void ref_judge_motion(ref_trial *t, const ref_motion *m);

/// Both ends of every strand's tension; with `all`, of what fixed bodies and hitches bear too.
void ref_judge_forces(ref_trial *t, int state, const ref_forces *f, bool all);

/// What each bend bears, for tensions without intervals.
void ref_judge_contacts(ref_trial *t, int state, const ref_forces *f);

#endif
