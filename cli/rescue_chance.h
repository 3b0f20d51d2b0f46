// SPDX-License-Identifier: MIT
// Chances of the raise in time and of what lets go: sampled on several threads, and shown.
#ifndef CLI_RESCUE_CHANCE_H
#define CLI_RESCUE_CHANCE_H

#include "chance.h"
#include "commands.h"

/// Samples the raise. @return CLI_DONE with `out` filled, or the exit status
int cli_haul_chance_create(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_haul_chance **out);
/// Samples what lets go. @return CLI_DONE with `out` filled, or the exit status
int cli_lose_chance_create(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_lose_chance **out);

/// @param refused the rig must not be built so, whatever its chances
void cli_show_haul_chance(const fh_haul_chance *chance, bool refused, fh_units units, cli_screen *s);
/// @param step index of the one step to tell of, or -1: each element where it is worst
fh_status cli_show_lose_chance(const fh_lose *lose, const fh_lose_chance *chance, int step, fh_units units, cli_screen *s);

#endif
