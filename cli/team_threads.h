// SPDX-License-Identifier: MIT
// Designs of a rope team on several threads.
#ifndef CLI_TEAM_THREADS_H
#define CLI_TEAM_THREADS_H

#include "firnhaul_team.h"

/// Runs all falls and raises, with progress on the terminal. The result does not depend on the number of threads.
/// @param stopped set when the user asked to stop: the designs are then not all done
fh_status cli_designs_run(const fh_scene *scene, const fh_gear *gear, fh_designs *designs, int threads, bool *stopped);

#endif
