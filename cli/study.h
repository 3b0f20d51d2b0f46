// SPDX-License-Identifier: MIT
// A study at work: what it reads, the journal that outlives a kill, and what it writes in the end.
#ifndef CLI_STUDY_H
#define CLI_STUDY_H

#include "commands.h"
#include "firnhaul_study.h"
#include "mpi.h"

typedef struct cli_study {
  const cli_options *o;
  cli_team team;
  fh_gear *gear;
  fh_doc *doc, *base;
  fh_study *study;
  uint64_t mark;      ///< of all that the result depends on
  char *scene;        ///< path of the base scene
  char *journal;      ///< path of what is done so far: the rows, a line each
} cli_study;

/// Tells of a scene that is refused, at its place in the study or in the base scene. @return CLI_DONE for FH_OK, else an exit status
int cli_study_complain(const cli_study *s, fh_status status, const fh_diag *diag);

/// Works out every scene that the journal does not hold yet. @return CLI_DONE or the exit status; what is done stays in the journal
int cli_study_run(cli_study *s);

/// A row of the journal. @return false at its end
typedef struct cli_journal cli_journal;
cli_journal *cli_journal_read(const char *path);
bool cli_journal_next(cli_journal *j, char **line, fh_study_row *row);
void cli_journal_close(cli_journal *j);

/// The number of rows that a journal of this study holds; cuts off a last line that is not whole. @return -1 when it is of another study, -2 when it cannot be used
int64_t cli_journal_count(const cli_study *s);

/// Rows into a database. @return CLI_DONE or CLI_FAILED, said on standard error
int cli_study_sqlite(const cli_study *s, const char *path);

#endif
