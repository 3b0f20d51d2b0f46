// SPDX-License-Identifier: MIT
// Samples on several threads, and what the user asked of them.
#ifndef CLI_CHANCE_H
#define CLI_CHANCE_H

#include "firnhaul_chance.h"
#include "options.h"
#include "screen.h"
#include "units.h"

bool cli_wants_chance(const cli_options *o);  ///< --chance or --why
int cli_threads(const cli_options *o);        ///< @return --threads, or the number of cores
/// Samples a rig. The result does not depend on the number of threads.
fh_status cli_chance_create(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_chance **out);
/// The chances for people.
void cli_show_chance(const fh_chance *chance, fh_units units, cli_screen *s);
/// A chance for people: never rounded to the comfortable side. @return to
const char *cli_percent(char *to, size_t size, fh_language language, double chance);
/// Middle and nine tenths of the samples; nothing when it is not known.
void cli_put_spread(cli_screen *s, const char *name, fh_band band, cli_quantity q, fh_units units);
/// What is open and was not sampled.
void cli_put_stood(cli_screen *s, const char (*names)[64], int count);
/// A JSON object `body` with "chance" as its last member. @param body what a writer gave, ending in "}\n"
fh_status cli_write_with_chance(const char *body, size_t count, const fh_chance *chance, fh_out out);
/// The same with what another writer gives as "chance". @param own ends in "}\n"
fh_status cli_write_with(const char *body, size_t count, const char *own, size_t own_count, fh_out out);

#endif
