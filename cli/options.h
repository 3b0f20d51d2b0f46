// SPDX-License-Identifier: MIT
// What the user asked for on the command line, checked against the table in help.c.
#ifndef CLI_OPTIONS_H
#define CLI_OPTIONS_H

#include "help.h"

enum { CLI_MAX_GEAR_FILES = 16, CLI_MAX_MESSAGE = 1024 };

typedef struct cli_options {
  const cli_command *command;
  bool given[CLI_OPTION_COUNT];
  const char *text[CLI_OPTION_COUNT];   ///< as written; the last one counts
  double number[CLI_OPTION_COUNT];      ///< numbers and integers
  int choice[CLI_OPTION_COUNT];         ///< choices: its place in the row's list
  const char *gear[CLI_MAX_GEAR_FILES];
  int gear_count;
  const char *operand;                  ///< NULL when none was given
} cli_options;

/// Reads the arguments that follow the command's name. @param message CLI_MAX_MESSAGE bytes: what is wrong, what is accepted
/// @return false with `message` filled
bool cli_options_read(const cli_command *command, int count, char *const *arguments, cli_options *o, char *message);

fh_units cli_options_units(const cli_options *o);  ///< @return metric unless asked otherwise
fh_language cli_options_language(const cli_options *o);  ///< @return English unless asked otherwise
int cli_options_width(const cli_options *o);       ///< @return 0 when not given

#endif
