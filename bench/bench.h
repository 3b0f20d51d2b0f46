// SPDX-License-Identifier: MIT
// What a benchmark case is. A new case: a file case_NAME.c with a `const bench_case bench_NAME`, and a line in CASES below.
#ifndef BENCH_H
#define BENCH_H

#include <stdbool.h>
#include <stddef.h>

typedef struct bench_case {
  const char *name;
  const char *about;               ///< what is measured against what, one line
  const char *unit;                ///< what one unit of work is: "sample", "search", "process"
  bool (*start)(void **state);     ///< builds the input, outside the clock. @return false when it cannot
  long (*run)(void *state);        ///< does the work once. @return units done, 0 or less when it failed
  long (*reference)(void *state);  ///< the same work by other means; may be NULL
  void (*end)(void *state);
  double at_least;        ///< [1] reference's time a unit over ours; 0: no aim
  double at_most;         ///< [s] a unit; 0: no aim
  double memory_at_most;  ///< [byte] peak of the whole case; 0: no aim
} bench_case;

/// The firnhaul program, for cases that run it as a process. Set before any case starts.
extern const char *bench_program;

#define BENCH_CASES(X) \
  X(bench_text)            \
  X(bench_lp)              \
  X(bench_force)           \
  X(bench_flops)           \
  X(bench_samples)         \
  X(bench_samples_two)     \
  X(bench_study)           \
  X(bench_check)           \
  X(bench_team)            \
  X(bench_team_knots)      \
  X(bench_team_rate)       \
  X(bench_team_two)        \
  X(bench_team_choose)     \
  X(bench_haul)            \
  X(bench_lose)            \
  X(bench_sheet)           \
  X(bench_plan_common)     \
  X(bench_plan_instructor)

#define X(name) extern const bench_case name;
BENCH_CASES(X)
#undef X

#endif
