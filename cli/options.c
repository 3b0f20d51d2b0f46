// SPDX-License-Identifier: MIT
// What did the user ask for? Arguments are read against the option table; the first one that does not fit is named,
// with what would have been taken in its place.
#include "options.h"

#include <math.h>
#include <string.h>

#include "screen.h"
#include "text.h"

typedef struct reader {
  cli_options *o;
  int count, next;
  char *const *arguments;
  char *message;
} reader;

static bool refuse(reader *r, const char *what, const char *which, const char *accepted) {
  char shown[200];
  (void)fhi_format(r->message, CLI_MAX_MESSAGE, "%s '%s'; accepted: %s", what, cli_text_clean(shown, sizeof shown, which), accepted);
  return false;
}

// All that this command takes, for an error message.
static bool refuse_option(reader *r, const char *which) {
  char accepted[CLI_MAX_MESSAGE - 300] = "";
  for (int i = 0; i < r->o->command->option_count; i++) {
    const cli_option *row = cli_option_row(r->o->command->options[i]);
    size_t used = strlen(accepted);
    (void)fhi_format(accepted + used, sizeof accepted - used, "%s--%s", i > 0 ? ", " : "", row->name);
  }
  return refuse(r, "unknown option", which, accepted);
}

static bool read_choice(reader *r, cli_option_id id, const char *text) {
  const cli_option *row = cli_option_row(id);
  int place = 0;
  for (const char *at = row->choices; *at != '\0'; place++) {
    size_t n = strcspn(at, "|");
    if (strlen(text) == n && strncmp(at, text, n) == 0) {
      r->o->choice[id] = place;
      return true;
    }
    at += n + (at[n] == '|' ? 1 : 0);
  }
  char what[80];
  (void)fhi_format(what, sizeof what, "--%s does not take", row->name);
  return refuse(r, what, text, row->choices);
}

static bool read_number(reader *r, cli_option_id id, const char *text) {
  const cli_option *row = cli_option_row(id);
  double value = 0.0;
  bool whole = row->kind == CLI_KIND_INTEGER;
  if (fhi_parse_number(text, strlen(text), &value) && value >= row->lo && value <= row->hi && (!whole || floor(value) == value)) {
    r->o->number[id] = value;
    return true;
  }
  char what[80];
  char accepted[160];
  char lo[40];
  char hi[40];
  (void)fhi_format(what, sizeof what, "--%s does not take", row->name);
  (void)fhi_format(accepted, sizeof accepted, "a %snumber from %s to %s", whole ? "whole " : "", fhi_shortest(lo, sizeof lo, row->lo),
                   fhi_shortest(hi, sizeof hi, row->hi));
  return refuse(r, what, text, accepted);
}

static bool take_value(reader *r, cli_option_id id, const char *text) {
  const cli_option *row = cli_option_row(id);
  cli_options *o = r->o;
  if (row->kind == CLI_KIND_FILE && text[0] == '\0') {
    return refuse(r, "a file's name is missing after", row->name, "a name, or - for standard output");
  }
  if (id == CLI_GEAR) {
    if (o->gear_count == CLI_MAX_GEAR_FILES) {
      return refuse(r, "too many gear files, the first too many is", text, "16 at most");
    }
    o->gear[o->gear_count++] = text;
  }
  o->given[id] = true;
  o->text[id] = text;
  if (row->kind == CLI_KIND_CHOICE) {
    return read_choice(r, id, text);
  }
  return row->kind == CLI_KIND_FILE || read_number(r, id, text);
}

// One option, its value perhaps given with it: "--width=60", "-oFILE".
static bool read_option(reader *r, cli_option_id id, const char *written, const char *value) {
  const cli_option *row = cli_option_row(id);
  if (row->kind == CLI_KIND_FLAG) {
    if (value != NULL) {
      return refuse(r, "this option takes no value", written, row->name);
    }
    r->o->given[id] = true;
    return true;
  }
  if (value == NULL) {
    if (r->next == r->count) {
      return refuse(r, "a value is missing after", written, row->choices != NULL ? row->choices : row->argument);
    }
    value = r->arguments[r->next++];
  }
  return take_value(r, id, value);
}

static bool read_long(reader *r, const char *written) {
  const char *name = written + 2;
  size_t n = strcspn(name, "=");
  for (int i = 0; i < r->o->command->option_count; i++) {
    cli_option_id id = r->o->command->options[i];
    const cli_option *row = cli_option_row(id);
    if (strlen(row->name) == n && strncmp(row->name, name, n) == 0) {
      return read_option(r, id, written, name[n] == '=' ? name + n + 1 : NULL);
    }
  }
  return refuse_option(r, written);
}

static bool read_short(reader *r, const char *written) {
  for (int i = 0; i < r->o->command->option_count; i++) {
    cli_option_id id = r->o->command->options[i];
    if (cli_option_row(id)->letter == written[1]) {
      return read_option(r, id, written, written[2] != '\0' ? written + 2 : NULL);
    }
  }
  return refuse_option(r, written);
}

static bool read_operand(reader *r, const char *text) {
  const cli_command *command = r->o->command;
  if (command->operand == NULL) {
    return refuse(r, "this command takes no argument", text, "options only");
  }
  if (r->o->operand != NULL) {
    return refuse(r, "one argument too many", text, command->operand);
  }
  r->o->operand = text;
  return true;
}

static bool read_argument(reader *r, const char *text, bool options_ended) {
  if (options_ended || text[0] != '-' || text[1] == '\0') {
    return read_operand(r, text);
  }
  return text[1] == '-' ? read_long(r, text) : read_short(r, text);
}

bool cli_options_read(const cli_command *command, int count, char *const *arguments, cli_options *o, char *message) {
  memset(o, 0, sizeof *o);
  o->command = command;
  reader r = {o, count, 0, arguments, message};
  bool options_ended = false;
  while (r.next < count) {
    const char *text = arguments[r.next++];
    if (!options_ended && strcmp(text, "--") == 0) {
      options_ended = true;
    } else if (!read_argument(&r, text, options_ended)) {
      return false;
    }
  }
  if (command->operand_needed && o->operand == NULL && !o->given[CLI_HELP]) {
    return refuse(&r, "an argument is missing after", command->name, command->operand);
  }
  return true;
}

fh_units cli_options_units(const cli_options *o) {
  return o->given[CLI_UNITS] && o->choice[CLI_UNITS] == 1 ? FH_IMPERIAL : FH_METRIC;
}

fh_language cli_options_language(const cli_options *o) {
  return o->given[CLI_LANGUAGE] ? (fh_language)o->choice[CLI_LANGUAGE] : FH_ENGLISH;
}

int cli_options_width(const cli_options *o) {
  return o->given[CLI_WIDTH] ? (int)o->number[CLI_WIDTH] : 0;
}
