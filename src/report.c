// SPDX-License-Identifier: MIT
// What does a check answer, in one word, and what are its parts called? Shared by every report.
#include "report.h"

#include <math.h>

// A limit's margin sets its least limit against its greatest force: below 1 it may break, not must.
// What is broken for sure is the check's own `answer_no`.
static bool some_limit_may_break(const fh_check *check) {
  for (int i = 0; i < check->limit_count; i++) {
    if (!(check->limits[i].margin >= 1.0)) {
      return true;
    }
  }
  return false;
}

fhi_answer fhi_check_answer(const fh_check *check) {
  if (check->outcome != FH_OUTCOME_SOLVED || check->answer_no || check->crew_share.lo > 1.0) {
    return FHI_ANSWER_NO;
  }
  // Written so that an unknown crew (NaN) never gives a yes.
  if (check->crew_share.hi <= 1.0 && !some_limit_may_break(check)) {
    return FHI_ANSWER_YES;
  }
  return FHI_ANSWER_UNSURE;
}

const char *fhi_answer_name(fhi_answer answer) {
  switch (answer) {
    case FHI_ANSWER_NO: return "no";
    case FHI_ANSWER_UNSURE: return "unsure";
    case FHI_ANSWER_YES: return "yes";
  }
  return "no";
}

bool fhi_state_known(const fh_check *check, int state) {
  if (check->outcome != FH_OUTCOME_SOLVED) {
    return false;
  }
  for (int i = 0; i < check->strand_count; i++) {
    if (check->strands[i].carries && isfinite(check->strands[i].tension[state].likely)) {
      return true;
    }
  }
  return false;
}

const char *fhi_state_name(int state) {
  switch (state) {
    case FH_RAISE: return "raise";
    case FH_HOLD: return "hold";
    case FH_LOWER: return "lower";
    default: return "?";
  }
}

const char *fhi_item_name(const fh_gear *gear, int item) {
  const fh_item *found = fh_gear_item(gear, item);
  return found != NULL ? found->name : "";
}

const char *fhi_basis_name(fh_basis basis) {
  switch (basis) {
    case FH_BASIS_PUBLISHED: return "published";
    case FH_BASIS_STANDARD: return "standard";
    case FH_BASIS_PRACTICE: return "practice";
    case FH_BASIS_MEMORY: return "memory";
    case FH_BASIS_OWN: return "own";
  }
  return "?";
}

const char *fhi_class_name(fh_item_class item_class) {
  switch (item_class) {
    case FH_ITEM_BAR: return "bar";
    case FH_ITEM_SHEAVE: return "sheave";
    case FH_ITEM_CAPTURE: return "capture";
    case FH_ITEM_HITCH: return "hitch";
    case FH_ITEM_SURFACE: return "surface";
    case FH_ITEM_ROPE: return "rope";
    case FH_ITEM_POSTURE: return "posture";
    case FH_ITEM_ANCHOR: return "anchor";
    case FH_ITEM_OTHER: return "other";
  }
  return "?";
}
