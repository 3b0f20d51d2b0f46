// SPDX-License-Identifier: MIT
// Making the list of stages: what its files share.
#ifndef FHI_STAGES_H
#define FHI_STAGES_H

#include "lose.h"

typedef struct fhi_stage_maker {
  const fhi_raise *raise;
  const fh_check *check;       ///< likely values
  fh_stages_opts opts;
  fhi_backup backup;
  fhi_run run;                 ///< the likely raise; not run when the rig does not work
  bool ran;
  fhi_asker *asker;
  fh_stages *stages;
  fh_stage now;                ///< what is in place; a new stage starts as a copy of it
  fh_status status;
} fhi_stage_maker;

/// Adds a stage that is like `now`, with its words and holds. @return it, or NULL when there is no room
fh_stage *fhi_stage_add(fhi_stage_maker *maker, fh_stage_kind kind, int path, int station, int grip);

/// Building, from the first line to the last hitch.
void fhi_stages_build(fhi_stage_maker *maker);

/// Hauling, resetting, knots, the lip.
void fhi_stages_use(fhi_stage_maker *maker);

/// What is wrong or to mind, each with its step.
void fhi_stages_judge(fhi_stage_maker *maker);
void fhi_finding(fh_stages *stages, fh_note_level level, int step, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 4, 5)))
#endif
    ;

/// Fills name, text and check of a stage.
void fhi_stage_words(const fhi_stage_maker *maker, fh_stage *stage, int number);

#endif
