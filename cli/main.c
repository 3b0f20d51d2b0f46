// SPDX-License-Identifier: MIT
// firnhaul on the command line: finds the command, reads its options, runs it.
#define _POSIX_C_SOURCE 200809L
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "commands.h"

// firnhaul -h, --help, --version stand for the commands of that name.
static const char *command_name(const char *argument) {
  if (strcmp(argument, "-h") == 0 || strcmp(argument, "--help") == 0) {
    return "help";
  }
  return strcmp(argument, "--version") == 0 ? "version" : argument;
}

static int refuse_command(const char *name) {
  char shown[120];
  int count;
  const cli_command *commands = cli_command_list(&count);
  if (name == NULL) {
    (void)fprintf(stderr, "firnhaul: no command; accepted:");
  } else {
    (void)fprintf(stderr, "firnhaul: unknown command '%s'; accepted:", cli_text_clean(shown, sizeof shown, name));
  }
  for (int i = 0; i < count; i++) {
    (void)fprintf(stderr, "%s %s", i > 0 ? "," : "", commands[i].name);
  }
  (void)fprintf(stderr, "\n");
  return CLI_INPUT_WRONG;
}

int main(int argc, char **argv) {
  // A reader that went away, or a size limit, is then an error of write() that is reported, not a silent end.
  (void)signal(SIGPIPE, SIG_IGN);
  (void)signal(SIGXFSZ, SIG_IGN);
  const cli_command *command = argc > 1 ? cli_command_find(command_name(argv[1])) : NULL;
  if (command == NULL) {
    return refuse_command(argc > 1 ? argv[1] : NULL);
  }
  static cli_options o;
  char message[CLI_MAX_MESSAGE];
  if (!cli_options_read(command, argc - 2, argv + 2, &o, message)) {
    return cli_refuse(message);
  }
  return o.given[CLI_HELP] ? cli_run_help(&o) : command->run(&o);
}
