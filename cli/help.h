// SPDX-License-Identifier: MIT
// The one source of commands and options: the parser, --help, the manual page and the shells' completion all read it.
// A new command is one row in COMMANDS (help.c) and its run function; a new option one row in OPTIONS and its name below.
#ifndef CLI_HELP_H
#define CLI_HELP_H

#include "firnhaul.h"

typedef enum cli_option_id {
  CLI_JSON,
  CLI_CSV,
  CLI_YAML,
  CLI_OUTPUT,
  CLI_SVG,
  CLI_PNG,
  CLI_PDF,
  CLI_FIGURE,
  CLI_ANGLE,
  CLI_LOWER,
  CLI_PREFER,
  CLI_CHANCE,
  CLI_WHY,
  CLI_SAMPLES,
  CLI_RAISES,
  CLI_LOSSES,
  CLI_SEED,
  CLI_THREADS,
  CLI_SQLITE,
  CLI_GO,
  CLI_ALL,
  CLI_CONTACTS,
  CLI_PICK,
  CLI_ROWS,
  CLI_STEP,
  CLI_PAPER,
  CLI_PAGE,
  CLI_HTML,
  CLI_SITE,
  CLI_CHOOSE,
  CLI_DESIGNS,
  CLI_FALLS,
  CLI_TEAM_FIGURE,
  CLI_GEAR,
  CLI_MARKDOWN,
  CLI_SCHEMA,
  CLI_MAN_SOURCE,
  CLI_BASH,
  CLI_ZSH,
  CLI_UNITS,
  CLI_LANGUAGE,
  CLI_WIDTH,
  CLI_NO_COLOR,
  CLI_HELP,
  CLI_OPTION_COUNT,
} cli_option_id;

typedef enum cli_option_kind { CLI_KIND_FLAG, CLI_KIND_FILE, CLI_KIND_CHOICE, CLI_KIND_NUMBER, CLI_KIND_INTEGER } cli_option_kind;

typedef struct cli_option {
  const char *name;      ///< after the two dashes
  char letter;           ///< after one dash, or 0
  cli_option_kind kind;
  const char *argument;  ///< "FILE", "N", ...; NULL for a flag
  const char *choices;   ///< "a|b|c"; NULL
  double lo, hi;         ///< accepted numbers
  bool repeats;
  const char *help;      ///< one plain sentence
} cli_option;

struct cli_options;

typedef struct cli_command {
  const char *name;
  const char *operand;       ///< "FILE", "ITEM", "COMMAND" or NULL
  bool operand_needed;
  const char *summary;       ///< half a line
  const char *about;         ///< paragraphs, parted by an empty line
  const char *examples;      ///< one a line
  const cli_option_id *options;
  int option_count;
  int (*run)(const struct cli_options *o);  ///< @return the exit status
} cli_command;

extern const char *const CLI_ABOUT;        ///< what the program is for
extern const char *const CLI_EXIT_STATUS;  ///< lines "0  done", parted by new lines
extern const char *const CLI_CAUTIONS;     ///< paragraphs

const cli_command *cli_command_list(int *count);
const cli_command *cli_command_find(const char *name);  ///< @return NULL when there is none
const cli_option *cli_option_row(cli_option_id id);
bool cli_command_takes(const cli_command *command, cli_option_id id);

/// How an option is written: "-o, --output FILE". @param to 128 bytes @return to
const char *cli_option_form(char *to, cli_option_id id);

/// The help of one command, or of the program when command is NULL.
fh_status cli_help_write_text(const cli_command *command, int width, bool colour, fh_out out);
/// The manual page as scdoc source.
fh_status cli_help_write_man(fh_out out);
/// Completion for bash, and for zsh. @param gear the items that `gear` takes
fh_status cli_help_write_bash(const fh_gear *gear, fh_out out);
fh_status cli_help_write_zsh(const fh_gear *gear, fh_out out);

#endif
