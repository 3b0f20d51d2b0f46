// SPDX-License-Identifier: MIT
// firnhaul help, firnhaul COMMAND --help, firnhaul version.
#include "commands.h"

#include <string.h>

typedef struct asked {
  const cli_options *o;
  const cli_command *command;  // NULL: the whole program
  const fh_gear *gear;
} asked;

static fh_status show_help(void *context, cli_screen *s) {
  const asked *a = context;
  return cli_help_write_text(a->command, s->width, s->colour, s->w.out);
}

static fh_status write_man(void *context, fh_out out) {
  (void)context;
  return cli_help_write_man(out);
}

static fh_status write_bash(void *context, fh_out out) {
  return cli_help_write_bash(((const asked *)context)->gear, out);
}

static fh_status write_zsh(void *context, fh_out out) {
  return cli_help_write_zsh(((const asked *)context)->gear, out);
}

static int run_completion(const cli_options *o, cli_write_fn fn) {
  fh_gear *gear = NULL;
  int status = cli_fail(fh_gear_create(&gear));
  asked a = {o, NULL, gear};
  if (status == CLI_DONE) {
    status = cli_write_main(o, fn, &a);
  }
  fh_gear_destroy(gear);
  return status;
}

static int refuse_topic(const char *name) {
  char shown[120];
  char message[400];
  int count;
  const cli_command *commands = cli_command_list(&count);
  (void)fhi_format(message, sizeof message, "no help on '%s'; accepted:", cli_text_clean(shown, sizeof shown, name));
  for (int i = 0; i < count; i++) {
    size_t used = strlen(message);
    (void)fhi_format(message + used, sizeof message - used, "%s %s", i > 0 ? "," : "", commands[i].name);
  }
  return cli_refuse(message);
}

int cli_run_help(const cli_options *o) {
  bool is_help = strcmp(o->command->name, "help") == 0;
  asked a = {o, is_help ? NULL : o->command, NULL};
  if (is_help && o->given[CLI_HELP]) {
    a.command = o->command;
  }
  if (is_help && o->operand != NULL) {
    a.command = cli_command_find(o->operand);
    if (a.command == NULL) {
      return refuse_topic(o->operand);
    }
  }
  if (o->given[CLI_MAN_SOURCE] + o->given[CLI_BASH] + o->given[CLI_ZSH] > 1) {
    return cli_refuse("two forms at once; accepted: one of --man-source, --bash, --zsh");
  }
  if (o->given[CLI_MAN_SOURCE]) {
    return cli_write_main(o, write_man, &a);
  }
  if (o->given[CLI_BASH] || o->given[CLI_ZSH]) {
    return run_completion(o, o->given[CLI_BASH] ? write_bash : write_zsh);
  }
  return cli_show_main(o, show_help, &a);
}

static fh_status show_version(void *context, cli_screen *s) {
  (void)context;
  cli_put(s, "firnhaul " FH_VERSION "\n");
  return FH_OK;
}

int cli_run_version(const cli_options *o) {
  return cli_show_main(o, show_version, NULL);
}
