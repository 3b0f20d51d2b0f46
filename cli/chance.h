// SPDX-License-Identifier: MIT
// Samples on several threads, and what the user asked of them.
#ifndef CLI_CHANCE_H
#define CLI_CHANCE_H

#include "firnhaul_chance.h"
#include "options.h"
#include "screen.h"

bool cli_wants_chance(const cli_options *o);  ///< --chance or --why
int cli_threads(const cli_options *o);        ///< @return --threads, or the number of cores
/// Samples a rig. The result does not depend on the number of threads.
fh_status cli_chance_create(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_chance **out);
/// The chances for people.
void cli_show_chance(const fh_chance *chance, fh_units units, cli_screen *s);
/// A JSON object `body` with "chance" as its last member. @param body what a writer gave, ending in "}\n"
fh_status cli_write_with_chance(const char *body, size_t count, const fh_chance *chance, fh_out out);

#endif
