// SPDX-License-Identifier: MIT
// firnhaul keys: the table that scenes are read with, for people, as Markdown, or as a JSON Schema.
#include "commands.h"

#include <string.h>

#include "table.h"

static fh_status write_schema(void *context, fh_out out) {
  (void)context;
  return fh_schema_write(out);
}

static fh_status write_markdown(void *context, fh_out out) {
  (void)context;
  return fh_keys_write_markdown(out);
}

// "a|b|c" as "a, b, c".
static void list_choices(char *to, size_t size, const char *choices) {
  to[0] = '\0';
  for (const char *at = choices; *at != '\0';) {
    size_t n = strcspn(at, "|");
    size_t used = strlen(to);
    (void)fhi_format(to + used, size - used, "%s%.*s", at == choices ? "" : ", ", (int)n, at);
    at += n + (at[n] == '|' ? 1 : 0);
  }
}

static bool is_number(const fh_key *key) {
  return strcmp(key->type, "number") == 0 || strcmp(key->type, "plain") == 0 || strcmp(key->type, "range") == 0 ||
         strcmp(key->type, "integer") == 0;
}

static void accepted(char *to, size_t size, const fh_key *key) {
  char lo[40];
  char hi[40];
  if (key->choices[0] != '\0') {
    list_choices(to, size, key->choices);
  } else if (is_number(key)) {
    bool has_unit = key->unit[0] != '\0' && strcmp(key->unit, "1") != 0;
    (void)fhi_format(to, size, "%s to %s%s%s", fhi_shortest(lo, sizeof lo, key->lo), fhi_shortest(hi, sizeof hi, key->hi), has_unit ? " " : "",
                     has_unit ? key->unit : "");
  } else {
    (void)fhi_copy(to, size, key->type);
  }
}

static fh_status show_keys(void *context, cli_screen *s) {
  static const cli_column columns[] = {{"key", false, 16}, {"accepted", false, 12}, {"default", false, 8}, {"meaning", false, 20}};
  (void)context;
  int count;
  const fh_key *keys = fh_key_list(&count);
  cli_table *t = cli_table_create(columns, 4);
  if (t == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < count; i++) {
    char takes[600];
    accepted(takes, sizeof takes, &keys[i]);
    cli_table_add(t, CLI_PLAIN, (const char *const[4]){keys[i].path, takes, keys[i].required ? "needed" : keys[i].fallback, keys[i].help});
  }
  fh_status status = cli_table_write(t, s);
  cli_table_destroy(t);
  return status;
}

int cli_run_keys(const cli_options *o) {
  if (o->given[CLI_MARKDOWN] && o->given[CLI_SCHEMA]) {
    return cli_refuse("two forms at once; accepted: one of --markdown, --schema");
  }
  if (o->given[CLI_SCHEMA]) {
    return cli_write_main(o, write_schema, NULL);
  }
  return o->given[CLI_MARKDOWN] ? cli_write_main(o, write_markdown, NULL) : cli_show_main(o, show_keys, NULL);
}
