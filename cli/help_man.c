// SPDX-License-Identifier: MIT
// What does the manual page say? The rows of help.c as scdoc source; scdoc makes roff of it.
#include "help.h"
#include "text.h"

#include <string.h>

// scdoc's marks (* _ \ and a leading #) are escaped; its lines must not start with spaces.
static void put_escaped(fhi_writer *w, const char *text) {
  for (const char *c = text; *c != '\0'; c++) {
    if (strchr("\\*_#<>[]", *c) != NULL) {
      fhi_put(w, "\\");
    }
    fhi_put_bytes(w, c, 1);
  }
}

static void put_form(fhi_writer *w, cli_option_id id) {
  const cli_option *row = cli_option_row(id);
  if (row->letter != 0) {
    fhi_putf(w, "*-%c*, ", row->letter);
  }
  fhi_putf(w, "*--%s*", row->name);
  if (row->argument != NULL) {
    fhi_put(w, " _");
    fhi_put(w, row->choices != NULL ? row->choices : row->argument);
    fhi_put(w, "_");
  }
}

static void put_command(fhi_writer *w, const cli_command *command) {
  fhi_putf(w, "## %s%s%s\n\n", command->name, command->operand != NULL ? " " : "", command->operand != NULL ? command->operand : "");
  put_escaped(w, command->about);
  fhi_put(w, "\n\n");
  for (int i = 0; i < command->option_count; i++) {
    put_form(w, command->options[i]);
    fhi_put(w, "\n\t");
    put_escaped(w, cli_option_row(command->options[i])->help);
    fhi_put(w, "\n\n");
  }
}

// Lines "0  done" become a list.
static void put_exit_status(fhi_writer *w) {
  for (const char *at = CLI_EXIT_STATUS; *at != '\0';) {
    size_t n = strcspn(at, "\n");
    fhi_putf(w, "*%.1s*\n\t%.*s\n\n", at, (int)n - 3, at + 3);
    at += n + (at[n] == '\n' ? 1 : 0);
  }
}

fh_status cli_help_write_man(fh_out out) {
  int count;
  const cli_command *commands = cli_command_list(&count);
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "firnhaul(1) \"firnhaul " FH_VERSION "\" \"User Commands\"\n\n# NAME\n\nfirnhaul - raising rigs for crevasse rescue, computed\n\n");
  fhi_put(&w, "# SYNOPSIS\n\n");
  for (int i = 0; i < count; i++) {
    bool needed = commands[i].operand_needed;
    fhi_putf(&w, "*firnhaul %s*", commands[i].name);
    if (commands[i].operand != NULL) {
      fhi_putf(&w, needed ? " _%s_" : " [_%s_]", commands[i].operand);
    }
    fhi_put(&w, i + 1 < count ? " [_options_]++\n" : " [_options_]\n\n");
  }
  fhi_put(&w, "# DESCRIPTION\n\n");
  put_escaped(&w, CLI_ABOUT);
  fhi_put(&w, "\n\n# COMMANDS\n\n");
  for (int i = 0; i < count; i++) {
    put_command(&w, &commands[i]);
  }
  fhi_put(&w, "# EXIT STATUS\n\n");
  put_exit_status(&w);
  fhi_put(&w, "# ENVIRONMENT\n\n*NO_COLOR*\n\tSet: no colour.\n\n*COLUMNS*\n\tWidth when the output is no terminal.\n\n# CAUTIONS\n\n");
  put_escaped(&w, CLI_CAUTIONS);
  fhi_put(&w, "\n\n# EXAMPLES\n\n");
  for (int i = 0; i < count; i++) {
    fhi_put(&w, "```\n");
    fhi_put(&w, commands[i].examples);
    fhi_put(&w, "\n```\n\n");
  }
  return fhi_writer_end(&w);
}
