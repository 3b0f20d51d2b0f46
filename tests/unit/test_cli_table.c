// SPDX-License-Identifier: MIT
// Tables and wrapped text: by columns of the terminal, and with nothing in them that a terminal would obey.
// Widths: Unicode Standard Annex 11 (East Asian Width) for wide characters, from memory.
#include "fh_test.h"
#include "table.h"

static char *drawn;

static cli_screen open_screen(fh_test_text *text, int width, bool colour) {
  cli_screen s;
  cli_screen_start(&s, (fh_out){fh_test_collect, text}, width, colour);
  return s;
}

static const char *close_screen(cli_screen *s, fh_test_text *text) {
  assert_status(cli_screen_end(s), FH_OK);
  free(drawn);
  drawn = text->bytes;
  return drawn;
}

static const char *table_at(int width) {
  static const cli_column columns[] = {{"name", false, 4}, {"N", true, 0}, {"what it is", false, 6}};
  fh_test_text text = {0};
  cli_screen s = open_screen(&text, width, false);
  cli_table *t = cli_table_create(columns, 3);
  assert_non_null(t);
  cli_table_add(t, CLI_PLAIN, (const char *const[]){"lip", "5", "an edge of firn"});
  cli_table_add(t, CLI_PLAIN, (const char *const[]){"tractor", "1520", ""});
  assert_status(cli_table_write(t, &s), FH_OK);
  cli_table_destroy(t);
  return close_screen(&s, &text);
}

static void a_table_that_fits_stands_in_columns(void **state) {
  (void)state;
  assert_string_equal(table_at(60),
                      "name        N  what it is\n"
                      "lip         5  an edge of firn\n"
                      "tractor  1520\n");
}

static void a_narrow_table_wraps_the_widest_column_first(void **state) {
  (void)state;
  assert_string_equal(table_at(24),
                      "name        N  what it\n"
                      "               is\n"
                      "lip         5  an edge\n"
                      "               of firn\n"
                      "tractor  1520\n");
}

static void a_table_that_cannot_fit_becomes_lists(void **state) {
  (void)state;
  static const cli_column columns[] = {{"rope", false, 0}, {"to", false, 0}, {"raising N", true, 0}, {"holding N", true, 0}};
  fh_test_text text = {0};
  cli_screen s = open_screen(&text, 22, false);
  cli_table *t = cli_table_create(columns, 4);
  assert_non_null(t);
  cli_table_add(t, CLI_PLAIN, (const char *const[]){"main", "station", "1520", "0"});
  assert_status(cli_table_write(t, &s), FH_OK);
  cli_table_destroy(t);
  assert_string_equal(close_screen(&s, &text),
                      "main, station\n"
                      "  raising N: 1520;\n"
                      "  holding N: 0\n");
}

static void no_word_is_broken_to_keep_the_columns(void **state) {
  (void)state;
  static const cli_column columns[] = {{"on", false, 3}, {"raising N", true, 5}};
  fh_test_text text = {0};
  cli_screen s = open_screen(&text, 23, false);
  cli_table *t = cli_table_create(columns, 2);
  assert_non_null(t);
  cli_table_add(t, CLI_PLAIN, (const char *const[]){"toothed-capture", "315 (180 to 570)"});
  assert_status(cli_table_write(t, &s), FH_OK);
  assert_string_equal(close_screen(&s, &text),
                      "toothed-capture\n"
                      "  raising N: 315 (180\n"
                      "  to 570)\n");
  text = (fh_test_text){0};
  s = open_screen(&text, 24, false);
  assert_status(cli_table_write(t, &s), FH_OK);
  assert_string_equal(close_screen(&s, &text),
                      "on               raising\n"
                      "                       N\n"
                      "toothed-capture      315\n"
                      "                 (180 to\n"
                      "                    570)\n");
  cli_table_destroy(t);
}

static void no_line_is_wider_than_the_screen_or_ends_in_a_space(void **state) {
  (void)state;
  for (int width = 20; width <= 100; width++) {
    for (const char *line = table_at(width); *line != '\0';) {
      size_t n = strcspn(line, "\n");
      assert_true((int)n <= width);
      assert_true(n == 0 || line[n - 1] != ' ');
      line += n + 1;
    }
  }
}

static void width_counts_columns_not_bytes(void **state) {
  (void)state;
  assert_int_equal(cli_text_width("Gr\xC3\xBC\xC3\x9F"), 4);            // two-byte letters
  assert_int_equal(cli_text_width("e\xCC\x81"), 1);                    // e and a combining acute
  assert_int_equal(cli_text_width("\xE6\xB0\xB7\xE6\xB2\xB3"), 4);     // two wide characters
  assert_int_equal(cli_text_width("\xF0\x9F\x8F\x94"), 2);             // U+1F3D4
  assert_int_equal(cli_text_width(""), 0);
}

static void what_a_terminal_would_obey_is_not_passed_on(void **state) {
  (void)state;
  char text[64];
  assert_string_equal(cli_text_clean(text, sizeof text, "a\x1B[31mb\rc\td\x7F"), "a?[31mb?c?d?");
  assert_string_equal(cli_text_clean(text, sizeof text, "x\xC2\x9By"), "x?y");              // C1: another escape
  assert_string_equal(cli_text_clean(text, sizeof text, "x\xE2\x80\xAEy"), "x?y");          // right-to-left override
  assert_string_equal(cli_text_clean(text, sizeof text, "\xC0\xAF\xED\xA0\x80\xFF"), "??????");  // no UTF-8
  assert_string_equal(cli_text_clean(text, 4, "abcdef"), "abc");
  assert_string_equal(cli_text_clean(text, 4, "ab\xC3\xBC"), "ab");                         // never half a character
}

static void words_wrap_at_spaces_and_long_ones_break(void **state) {
  (void)state;
  fh_test_text text = {0};
  cli_screen s = open_screen(&text, 20, false);
  cli_put_wrapped(&s, CLI_BAD, "NO  ", "the rope is far too short for this");
  cli_put_wrapped(&s, CLI_PLAIN, "", "abcdefghijklmnopqrstuvwxyz");
  cli_put_wrapped(&s, CLI_PLAIN, "- ", "");
  assert_string_equal(close_screen(&s, &text),
                      "NO  the rope is far\n"
                      "    too short for\n"
                      "    this\n"
                      "abcdefghijklmnopqrst\n"
                      "uvwxyz\n"
                      "- \n");
}

static void colour_comes_only_when_it_was_asked_for(void **state) {
  (void)state;
  for (int colour = 0; colour <= 1; colour++) {
    fh_test_text text = {0};
    cli_screen s = open_screen(&text, 40, colour == 1);
    cli_put_style(&s, CLI_BAD, "NO");
    assert_string_equal(close_screen(&s, &text), colour == 1 ? "\x1B[1;31mNO\x1B[0m" : "NO");
  }
}

static void a_table_grows_with_its_rows(void **state) {
  (void)state;
  static const cli_column columns[] = {{"n", true, 0}};
  fh_test_text text = {0};
  cli_screen s = open_screen(&text, 40, false);
  cli_table *t = cli_table_create(columns, 1);
  assert_non_null(t);
  for (int i = 0; i < 1000; i++) {
    cli_table_add(t, CLI_PLAIN, (const char *const[]){"7"});
  }
  assert_status(cli_table_write(t, &s), FH_OK);
  cli_table_destroy(t);
  assert_int_equal((int)strlen(close_screen(&s, &text)), 2 * 1001);
  assert_null(cli_table_create(columns, 0));
  assert_null(cli_table_create(columns, 17));
  cli_table_destroy(NULL);
}

#ifdef FHI_FAULT
#include "memory.h"

static void a_row_lost_for_want_of_memory_is_told(void **state) {
  (void)state;
  static const cli_column columns[] = {{"a", false, 0}, {"b", false, 0}};
  for (long n = 1; n <= 5; n++) {  // the table, its rows, its styles, the two cells
    fhi_fault_after(n);
    cli_table *t = cli_table_create(columns, 2);
    fh_test_text text = {0};
    cli_screen s = open_screen(&text, 40, false);
    if (t != NULL) {
      cli_table_add(t, CLI_PLAIN, (const char *const[]){"x", "y"});
      assert_status(cli_table_write(t, &s), FH_ERR_MEMORY);
    }
    fhi_fault_after(0);
    assert_true(n == 1 ? t == NULL : t != NULL);
    cli_table_destroy(t);
    free(text.bytes);
  }
}
#endif

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_table_that_fits_stands_in_columns),
      cmocka_unit_test(a_narrow_table_wraps_the_widest_column_first),
      cmocka_unit_test(a_table_that_cannot_fit_becomes_lists),
      cmocka_unit_test(no_word_is_broken_to_keep_the_columns),
      cmocka_unit_test(no_line_is_wider_than_the_screen_or_ends_in_a_space),
      cmocka_unit_test(width_counts_columns_not_bytes),
      cmocka_unit_test(what_a_terminal_would_obey_is_not_passed_on),
      cmocka_unit_test(words_wrap_at_spaces_and_long_ones_break),
      cmocka_unit_test(colour_comes_only_when_it_was_asked_for),
      cmocka_unit_test(a_table_grows_with_its_rows),
#ifdef FHI_FAULT
      cmocka_unit_test(a_row_lost_for_want_of_memory_is_told),
#endif
  };
  int failed = cmocka_run_group_tests(tests, NULL, NULL);
  free(drawn);
  return failed;
}
