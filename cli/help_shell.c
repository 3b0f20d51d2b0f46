// SPDX-License-Identifier: MIT
// What do bash and zsh offer while one types? Commands, options and their values, from the rows of help.c.
#include "help.h"
#include "text.h"

#include <string.h>

static void put_command_names(fhi_writer *w) {
  int count;
  const cli_command *commands = cli_command_list(&count);
  for (int i = 0; i < count; i++) {
    fhi_putf(w, "%s%s", i > 0 ? " " : "", commands[i].name);
  }
}

static void put_items(fhi_writer *w, const fh_gear *gear) {
  for (int i = 0; i < fh_gear_count(gear); i++) {
    fhi_putf(w, "%s%s", i > 0 ? " " : "", fh_gear_item(gear, i)->name);
  }
}

// "a|b|c" as "a b c".
static void put_choices(fhi_writer *w, const char *choices) {
  for (const char *c = choices; *c != '\0'; c++) {
    fhi_put_bytes(w, *c == '|' ? " " : c, 1);
  }
}

// What follows an option that takes a value.
static void put_bash_values(fhi_writer *w) {
  for (int id = 0; id < CLI_OPTION_COUNT; id++) {
    const cli_option *row = cli_option_row((cli_option_id)id);
    if (row->argument == NULL) {
      continue;
    }
    fhi_put(w, "    ");
    if (row->letter != 0) {
      fhi_putf(w, "-%c|", row->letter);
    }
    fhi_putf(w, "--%s) ", row->name);
    if (row->choices != NULL) {
      fhi_put(w, "COMPREPLY=($(compgen -W \"");
      put_choices(w, row->choices);
      fhi_put(w, "\" -- \"$cur\")); return ;;\n");
    } else {
      fhi_put(w, row->kind == CLI_KIND_FILE ? "COMPREPLY=($(compgen -f -- \"$cur\")); return ;;\n" : "return ;;\n");
    }
  }
}

static void put_bash_commands(fhi_writer *w, const fh_gear *gear) {
  int count;
  const cli_command *commands = cli_command_list(&count);
  for (int i = 0; i < count; i++) {
    fhi_putf(w, "    %s)\n      options=\"", commands[i].name);
    for (int k = 0; k < commands[i].option_count; k++) {
      fhi_putf(w, "%s--%s", k > 0 ? " " : "", cli_option_row(commands[i].options[k])->name);
    }
    fhi_put(w, "\"\n      words=\"");
    if (commands[i].run != NULL && commands[i].operand != NULL && strcmp(commands[i].operand, "ITEM") == 0) {
      put_items(w, gear);
    } else if (commands[i].operand != NULL && strcmp(commands[i].operand, "COMMAND") == 0) {
      put_command_names(w);
    }
    fhi_putf(w, "\"\n      files=%s ;;\n", commands[i].operand != NULL && strcmp(commands[i].operand, "FILE") == 0 ? "yes" : "no");
  }
}

fh_status cli_help_write_bash(const fh_gear *gear, fh_out out) {
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "# SPDX-License-Identifier: MIT\n# bash completion for firnhaul; made by `firnhaul help --bash`\n_firnhaul() {\n"
              "  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]} options= words= files=no\n"
              "  COMPREPLY=()\n  if [ \"$COMP_CWORD\" -eq 1 ]; then\n    COMPREPLY=($(compgen -W \"");
  put_command_names(&w);
  fhi_put(&w, "\" -- \"$cur\"))\n    return\n  fi\n  case $prev in\n");
  put_bash_values(&w);
  fhi_put(&w, "  esac\n  case $command in\n");
  put_bash_commands(&w, gear);
  fhi_put(&w, "    *) return ;;\n  esac\n"
              "  case $cur in\n    -*) COMPREPLY=($(compgen -W \"$options\" -- \"$cur\")) ;;\n"
              "    *)\n      COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n"
              "      if [ $files = yes ]; then COMPREPLY=($(compgen -f -- \"$cur\")); fi ;;\n  esac\n}\n"
              "complete -o filenames -F _firnhaul firnhaul\n");
  return fhi_writer_end(&w);
}

// zsh's specs stand in single quotes; a colon or bracket in the text is escaped.
static void put_zsh_text(fhi_writer *w, const char *text) {
  for (const char *c = text; *c != '\0'; c++) {
    if (*c == '\'') {
      fhi_put(w, "'\\'");
    } else if (strchr("[]:\\", *c) != NULL) {
      fhi_put(w, "\\");
    }
    fhi_put_bytes(w, c, 1);
  }
}

static void put_zsh_option(fhi_writer *w, cli_option_id id) {
  const cli_option *row = cli_option_row(id);
  fhi_put(w, "        '");
  if (row->repeats) {
    fhi_put(w, "*");
  }
  fhi_putf(w, "--%s[", row->name);
  put_zsh_text(w, row->help);
  fhi_put(w, "]");
  if (row->choices != NULL) {
    fhi_putf(w, ":%s:(", row->argument);
    put_choices(w, row->choices);
    fhi_put(w, ")");
  } else if (row->argument != NULL) {
    fhi_putf(w, ":%s:%s", row->argument, row->kind == CLI_KIND_FILE ? "_files" : " ");
  }
  fhi_put(w, "' \\\n");
}

static void put_zsh_operand(fhi_writer *w, const fh_gear *gear, const cli_command *command) {
  if (command->operand == NULL) {
    fhi_put(w, "        && return 0 ;;\n");
    return;
  }
  fhi_putf(w, "        '1:%s:", command->operand);
  if (strcmp(command->operand, "FILE") == 0) {
    fhi_put(w, "_files");
  } else {
    fhi_put(w, "(");
    if (strcmp(command->operand, "ITEM") == 0) {
      put_items(w, gear);
    } else {
      put_command_names(w);
    }
    fhi_put(w, ")");
  }
  fhi_put(w, "' && return 0 ;;\n");
}

fh_status cli_help_write_zsh(const fh_gear *gear, fh_out out) {
  int count;
  const cli_command *commands = cli_command_list(&count);
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "#compdef firnhaul\n# SPDX-License-Identifier: MIT\n# zsh completion for firnhaul; made by `firnhaul help --zsh`\n_firnhaul() {\n"
              "  local -a commands\n  commands=(\n");
  for (int i = 0; i < count; i++) {
    fhi_putf(&w, "    '%s:", commands[i].name);
    put_zsh_text(&w, commands[i].summary);
    fhi_put(&w, "'\n");
  }
  fhi_put(&w, "  )\n  if (( CURRENT == 2 )); then\n    _describe command commands\n    return\n  fi\n"
              "  local command=$words[2]\n  shift words\n  (( CURRENT-- ))\n  case $command in\n");
  for (int i = 0; i < count; i++) {
    fhi_putf(&w, "    %s)\n      _arguments \\\n", commands[i].name);
    for (int k = 0; k < commands[i].option_count; k++) {
      put_zsh_option(&w, commands[i].options[k]);
    }
    put_zsh_operand(&w, gear, &commands[i]);
  }
  fhi_put(&w, "  esac\n}\n_firnhaul \"$@\"\n");
  return fhi_writer_end(&w);
}
