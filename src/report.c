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

// Written so that an unknown crew (NaN) never gives a yes.
fhi_answer fhi_over_edge_answer(const fh_over_edge *over) {
  if (!over->cut || over->crew_share.hi <= 1.0) {
    return FHI_ANSWER_YES;
  }
  return over->crew_share.likely > 1.0 ? FHI_ANSWER_NO : FHI_ANSWER_UNSURE;
}

fhi_answer fhi_check_answer(const fh_check *check) {
  if (check->outcome != FH_OUTCOME_SOLVED || check->answer_no || check->crew_share.lo > 1.0) {
    return FHI_ANSWER_NO;
  }
  // Written so that an unknown crew (NaN) never gives a yes.
  bool over = fhi_over_edge_answer(&check->over_edge) == FHI_ANSWER_YES;
  if (check->crew_share.hi <= 1.0 && !some_limit_may_break(check) && !check->rope_unsure && over) {
    return FHI_ANSWER_YES;
  }
  return FHI_ANSWER_UNSURE;
}

const char *fhi_percent_field(char *to, size_t size, double chance) {
  char digits[16];
  double hundredths = floor(chance * 100.0 + 1e-9);
  if (hundredths < 1.0) {
    (void)fhi_copy(to, size, "<1");
  } else {
    (void)fhi_format(to, size, "%s%s", hundredths >= 100.0 ? ">" : "", fhi_fixed(digits, sizeof digits, fmin(hundredths, 99.0), 0));
  }
  return to;
}

const char *fhi_answer_name(fhi_answer answer) {
  static const char *const names[] = {"no", "unsure", "yes"};
  return names[answer];
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
  static const char *const names[FH_STATE_COUNT] = {"raise", "hold", "lower"};
  return names[state];
}

const char *fhi_item_name(const fh_gear *gear, int item) {
  const fh_item *found = fh_gear_item(gear, item);
  return found != NULL ? found->name : "";
}

const char *fhi_basis_name(fh_basis basis) {
  static const char *const names[] = {"published", "standard", "practice", "memory", "own"};
  return names[basis];
}

const char *fhi_class_name(fh_item_class item_class) {
  static const char *const names[] = {"bar", "sheave", "capture", "hitch", "surface", "rope", "posture", "anchor", "other"};
  return names[item_class];
}
