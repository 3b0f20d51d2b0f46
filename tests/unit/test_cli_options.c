// SPDX-License-Identifier: MIT
// The command line against its table: what is taken, and what each refusal says.
#include "fh_test.h"
#include "options.h"

static cli_options o;
static char message[CLI_MAX_MESSAGE];

static bool reads(const char *command, int count, const char *const *words) {
  const cli_command *row = cli_command_find(command);
  assert_non_null(row);
  message[0] = '\0';
  return cli_options_read(row, count, (char *const *)(uintptr_t)words, &o, message);
}

#define READ(command, ...) reads(command, (int)(sizeof((const char *const[]){__VA_ARGS__}) / sizeof(char *)), (const char *const[]){__VA_ARGS__})

static void options_may_stand_before_or_after_the_file(void **state) {
  (void)state;
  assert_true(READ("check", "--json", "a.yaml", "--width", "60"));
  assert_string_equal(o.operand, "a.yaml");
  assert_true(o.given[CLI_JSON]);
  assert_int_equal(cli_options_width(&o), 60);
  assert_true(READ("check", "-", "--units=imperial", "-oout.txt"));
  assert_string_equal(o.operand, "-");
  assert_int_equal(cli_options_units(&o), FH_IMPERIAL);
  assert_string_equal(o.text[CLI_OUTPUT], "out.txt");
}

static void two_dashes_end_the_options(void **state) {
  (void)state;
  assert_true(READ("check", "--", "--json"));
  assert_string_equal(o.operand, "--json");
  assert_false(o.given[CLI_JSON]);
}

static void gear_files_add_up(void **state) {
  (void)state;
  assert_true(READ("plan", "a.yaml", "--gear", "one", "--gear=two"));
  assert_int_equal(o.gear_count, 2);
  assert_string_equal(o.gear[1], "two");
}

static void a_refusal_names_what_would_be_taken(void **state) {
  (void)state;
  assert_false(READ("check", "a.yaml", "--jsno"));
  assert_non_null(strstr(message, "unknown option '--jsno'; accepted: --json"));
  assert_false(READ("check", "a.yaml", "--units", "roman"));
  assert_string_equal(message, "--units does not take 'roman'; accepted: metric|imperial");
  assert_false(READ("check", "a.yaml", "--width", "wide"));
  assert_string_equal(message, "--width does not take 'wide'; accepted: a whole number from 20 to 1000");
  assert_false(READ("check", "a.yaml", "--width", "60.5"));
  assert_false(READ("check", "a.yaml", "--width", "19"));
  assert_false(READ("check", "a.yaml", "--angle", "91"));
  assert_string_equal(message, "--angle does not take '91'; accepted: a number from 0 to 90");
  assert_false(READ("check", "a.yaml", "--angle", "nan"));
  assert_false(READ("check", "a.yaml", "--svg"));
  assert_string_equal(message, "a value is missing after '--svg'; accepted: FILE");
  assert_false(READ("check", "a.yaml", "--svg="));
  assert_false(READ("check", "a.yaml", "b.yaml"));
  assert_string_equal(message, "one argument too many 'b.yaml'; accepted: FILE");
  assert_false(READ("check", "--json"));
  assert_string_equal(message, "an argument is missing after 'check'; accepted: FILE");
  assert_false(READ("version", "a.yaml"));
  assert_false(READ("check", "a.yaml", "--json=yes"));
  assert_false(READ("check", "a.yaml", "--all"));  // plan's
  assert_false(READ("check", "a.yaml", "-x"));
}

static void hostile_arguments_are_cleaned_in_the_message(void **state) {
  (void)state;
  assert_false(READ("check", "--\x1B[2J"));
  assert_null(strchr(message, '\x1B'));
  static char huge[5000];
  memset(huge, 'x', sizeof huge - 1);
  huge[0] = huge[1] = '-';
  assert_false(READ("check", huge));
  assert_true(strlen(message) < CLI_MAX_MESSAGE);
}

static void too_many_gear_files_are_refused(void **state) {
  (void)state;
  const char *words[2 + 2 * (CLI_MAX_GEAR_FILES + 1)] = {"a.yaml"};
  int count = 1;
  for (int i = 0; i <= CLI_MAX_GEAR_FILES; i++) {
    words[count++] = "--gear";
    words[count++] = "g.yaml";
  }
  assert_false(reads("plan", count, words));
  assert_true(reads("plan", count - 2, words));
}

static void help_needs_no_file(void **state) {
  (void)state;
  assert_true(READ("check", "--help"));
  assert_true(READ("plan", "-h"));
}

static void every_row_is_whole(void **state) {
  (void)state;
  int count;
  const cli_command *commands = cli_command_list(&count);
  for (int i = 0; i < count; i++) {
    assert_ptr_equal(cli_command_find(commands[i].name), &commands[i]);
    assert_non_null(commands[i].run);
    assert_true(cli_command_takes(&commands[i], CLI_HELP));
    assert_true(strlen(commands[i].summary) > 0 && strlen(commands[i].about) > 0 && strlen(commands[i].examples) > 0);
  }
  for (int id = 0; id < CLI_OPTION_COUNT; id++) {
    const cli_option *row = cli_option_row((cli_option_id)id);
    assert_non_null(row->name);
    assert_true(strlen(row->help) > 0);
    assert_true((row->kind == CLI_KIND_FLAG) == (row->argument == NULL));
    assert_true((row->kind == CLI_KIND_CHOICE) == (row->choices != NULL));
    bool taken = false;
    for (int i = 0; i < count; i++) {
      taken = taken || cli_command_takes(&commands[i], (cli_option_id)id);
    }
    assert_true(taken);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(options_may_stand_before_or_after_the_file), cmocka_unit_test(two_dashes_end_the_options),
      cmocka_unit_test(gear_files_add_up),                          cmocka_unit_test(a_refusal_names_what_would_be_taken),
      cmocka_unit_test(hostile_arguments_are_cleaned_in_the_message), cmocka_unit_test(too_many_gear_files_are_refused),
      cmocka_unit_test(help_needs_no_file),                         cmocka_unit_test(every_row_is_whole),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
