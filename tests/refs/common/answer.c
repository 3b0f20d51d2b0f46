// SPDX-License-Identifier: MIT
// Verdicts in words, for reports.
#include "answer.h"

const char *ref_verdict_name(ref_verdict v) {
  static const char *const NAME[] = {"sound", "locked", "dangles", "pushes", "wedges", "border"};
  return NAME[v];
}
