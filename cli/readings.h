// SPDX-License-Identifier: MIT
// A table of load-cell readings, with the scenes that it names.
#ifndef CLI_READINGS_H
#define CLI_READINGS_H

#include "commands.h"
#include "firnhaul_fit.h"

typedef struct cli_readings {
  fh_reading *rows;
  int count;
  fh_scene **scenes;   ///< each file once
  char **paths;
  int scene_count;
} cli_readings;

/// Reads a CSV file, or standard input for "-". Says on standard error what is wrong. @return CLI_DONE or the exit status
int cli_readings_open(const char *path, const fh_gear *gear, cli_readings *r);
void cli_readings_close(cli_readings *r);

#endif
