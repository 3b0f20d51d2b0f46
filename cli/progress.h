// SPDX-License-Identifier: MIT
// How far a long search is, on standard error when that is a terminal; and the user's Ctrl-C, which ends the search early.
#ifndef CLI_PROGRESS_H
#define CLI_PROGRESS_H

#include <stdbool.h>

/// From now on Ctrl-C (SIGINT) only asks; a second one ends the program.
void cli_progress_start(void);
/// A progress function for the core. @param done [1] 0 to 1  @return false once Ctrl-C was pressed
bool cli_progress(void *user, double done);
/// Takes the line away again, and gives Ctrl-C back.
void cli_progress_end(void);

#endif
