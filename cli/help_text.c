// SPDX-License-Identifier: MIT
// What does --help print? The rows of help.c, wrapped to the screen.
#include "help.h"
#include "screen.h"
#include "table.h"

#include <string.h>

static void paragraphs(cli_screen *s, const char *lead, const char *text) {
  while (*text != '\0') {
    size_t n = strcspn(text, "\n");
    char line[1024];
    (void)fhi_format(line, sizeof line, "%.*s", (int)n, text);
    if (line[0] == '\0') {
      cli_put(s, "\n");
    } else {
      cli_put_wrapped(s, CLI_PLAIN, lead, line);
    }
    text += n + (text[n] == '\n' ? 1 : 0);
  }
}

static void heading(cli_screen *s, const char *text) {
  cli_put(s, "\n");
  cli_put_heading(s, text);
}

static void write_usage(cli_screen *s, const cli_command *command) {
  char form[80] = "";
  char line[200];
  if (command->operand != NULL) {
    (void)fhi_format(form, sizeof form, command->operand_needed ? " %s" : " [%s]", command->operand);
  }
  (void)fhi_format(line, sizeof line, "firnhaul %s%s [options]: %s", command->name, form, command->summary);
  cli_put_wrapped(s, CLI_PLAIN, "", line);
  cli_put(s, "\n");
}

static fh_status write_options(cli_screen *s, const cli_command *command) {
  static const cli_column columns[] = {{"option", false, 18}, {"what it does", false, 24}};
  cli_table *t = cli_table_create(columns, 2);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < command->option_count; i++) {
    char form[128];
    cli_option_id id = command->options[i];
    cli_table_add(t, CLI_PLAIN, (const char *const[2]){cli_option_form(form, id), cli_option_row(id)->help});
  }
  cli_put(s, "\n");
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  return status;
}

static fh_status write_command(cli_screen *s, const cli_command *command) {
  write_usage(s, command);
  paragraphs(s, "", command->about);
  fh_status status = write_options(s, command);
  heading(s, "Examples");
  paragraphs(s, "  ", command->examples);
  heading(s, "Exit status");
  paragraphs(s, "  ", CLI_EXIT_STATUS);
  return status;
}

static fh_status write_program(cli_screen *s) {
  static const cli_column columns[] = {{"command", false, 0}, {"what it does", false, 20}};
  int count;
  const cli_command *commands = cli_command_list(&count);
  cli_table *t = cli_table_create(columns, 2);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < count; i++) {
    char form[80];
    (void)fhi_format(form, sizeof form, "%s%s%s", commands[i].name, commands[i].operand_needed ? " " : "",
                     commands[i].operand_needed ? commands[i].operand : "");
    cli_table_add(t, CLI_PLAIN, (const char *const[2]){form, commands[i].summary});
  }
  paragraphs(s, "", CLI_ABOUT);
  heading(s, "firnhaul COMMAND [options]");
  cli_put(s, "\n");
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  cli_put(s, "\n");
  cli_put_wrapped(s, CLI_PLAIN, "", "firnhaul COMMAND --help tells the options of each.");
  heading(s, "Cautions");
  paragraphs(s, "", CLI_CAUTIONS);
  return status;
}

fh_status cli_help_write_text(const cli_command *command, int width, bool colour, fh_out out) {
  cli_screen s;
  cli_screen_start(&s, out, width, colour);
  fh_status status = command != NULL ? write_command(&s, command) : write_program(&s);
  fh_status end = cli_screen_end(&s);
  return end != FH_OK ? end : status;
}
