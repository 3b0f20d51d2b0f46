// SPDX-License-Identifier: MIT
// Files at the edge: missing, a directory, huge, endless, silent, deep; and places in bytes whatever the text is made of.
#include "fh_test.h"

#include <sys/stat.h>
#include <unistd.h>

#include "doc.h"
#include "memory.h"
#include "scene_text.h"
#include "yaml.h"

static char folder[64];

static int make_folder(void **state) {
  (void)state;
  (void)snprintf(folder, sizeof folder, "/tmp/fh-yaml-XXXXXX");
  return mkdtemp(folder) == NULL;
}

static int drop_folder(void **state) {
  (void)state;
  return rmdir(folder);  // each test removes its file
}

static const char *in_folder(const char *name) {
  static char path[128];
  (void)snprintf(path, sizeof path, "%s/%s", folder, name);
  return path;
}

static void assert_file_refused(const char *path, const char *word) {
  fh_doc *doc = NULL;
  fh_diag diag = {.line = 9};
  assert_int_equal(cli_yaml_read(path, &doc, &diag), FH_ERR_INPUT);
  assert_null(doc);
  assert_int_equal(diag.line, 0);  // the file itself is the trouble
  assert_non_null(strstr(diag.message, word));
  assert_true(diag.accepted[0] != '\0');
}

static void what_is_no_readable_file_is_refused(void **state) {
  (void)state;
  assert_file_refused("/nowhere/scene.yaml", "No such file");
  assert_file_refused("tests", "directory");
  assert_file_refused("", "No such file");
  const char *path = in_folder("loop");
  assert_int_equal(symlink(path, path), 0);
  assert_file_refused(path, "levels of symbolic links");
  assert_int_equal(unlink(path), 0);
}

// 100 MB, sparse on the disk, and a device that never ends: known to be too much after 1 MiB at most.
static void what_is_too_large_is_refused_without_reading_it(void **state) {
  (void)state;
  const char *path = in_folder("large");
  FILE *file = fopen(path, "w");
  assert_non_null(file);
  assert_true(fputs(LEAST, file) >= 0);
  assert_int_equal(ftruncate(fileno(file), 100L * 1000 * 1000), 0);
  (void)fclose(file);
  assert_file_refused(path, "too large");
  assert_int_equal(truncate(path, CLI_YAML_MAX + 1), 0);
  assert_file_refused(path, "too large");
  assert_int_equal(unlink(path), 0);
  assert_file_refused("/dev/zero", "too large");
}

static void a_mebibyte_is_still_read(void **state) {
  (void)state;
  const char *path = in_folder("mebibyte");
  FILE *file = fopen(path, "w");
  assert_non_null(file);
  int used = fprintf(file, "%s#", LEAST);
  for (int i = used; i < CLI_YAML_MAX; i++) {
    (void)fputc('x', file);
  }
  (void)fclose(file);
  fh_doc *doc = NULL;
  fh_diag diag;
  assert_int_equal(cli_yaml_read(path, &doc, &diag), FH_OK);
  fh_doc_destroy(doc);
  assert_int_equal(unlink(path), 0);
}

static void a_silent_pipe_does_not_hang(void **state) {
  (void)state;
  const char *path = in_folder("pipe");
  assert_int_equal(mkfifo(path, 0600), 0);
  assert_file_refused(path, "nothing comes out");
  assert_int_equal(unlink(path), 0);
}

static fh_status from_pipe(const char *text, fh_doc **doc, fh_diag *diag) {
  int ends[2];
  char path[32];
  assert_int_equal(pipe(ends), 0);
  assert_int_equal(write(ends[1], text, strlen(text)), (ssize_t)strlen(text));
  (void)close(ends[1]);
  (void)snprintf(path, sizeof path, "/dev/fd/%d", ends[0]);
  fh_status status = cli_yaml_read(path, doc, diag);
  (void)close(ends[0]);
  return status;
}

static void a_pipe_with_text_and_standard_input_are_read(void **state) {
  (void)state;
  fh_doc *doc = NULL;
  fh_diag diag;
  assert_int_equal(from_pipe(LEAST, &doc, &diag), FH_OK);
  assert_int_equal(fhi_doc_node(doc, fhi_doc_root(doc))->count, 5);
  fh_doc_destroy(doc);
  int ends[2], kept = dup(STDIN_FILENO);
  assert_int_equal(pipe(ends), 0);
  assert_int_equal(write(ends[1], LEAST, strlen(LEAST)), (ssize_t)strlen(LEAST));
  (void)close(ends[1]);
  assert_true(dup2(ends[0], STDIN_FILENO) >= 0);
  (void)close(ends[0]);
  fh_status status = cli_yaml_read("-", &doc, &diag);
  if (kept >= 0) {
    assert_true(dup2(kept, STDIN_FILENO) >= 0);
    (void)close(kept);
  }
  assert_int_equal(status, FH_OK);
  fh_doc_destroy(doc);
}

static void an_empty_text_is_an_empty_document(void **state) {
  (void)state;
  static const char *const EMPTY[] = {"", "\n", "# a\n", "\xEF\xBB\xBF"};
  for (size_t i = 0; i < sizeof EMPTY / sizeof EMPTY[0]; i++) {
    fh_doc *doc = NULL;
    fh_diag diag;
    assert_int_equal(cli_yaml_parse(EMPTY[i], strlen(EMPTY[i]), &doc, &diag), FH_OK);
    assert_int_equal(fhi_doc_root(doc), -1);
    fh_doc_destroy(doc);
  }
}

// ---------------------------------------------------------------------------------------------------- depth and size

static fh_status parse(const char *text, size_t count, fh_diag *diag) {
  fh_doc *doc = NULL;
  fh_status status = cli_yaml_parse(text, count, &doc, diag);
  fh_doc_destroy(doc);
  return status;
}

// 400,000 brackets of either kind, in flow and in blocks; 10,000 levels of indentation. libyaml alone takes quadratic time.
static void deep_nesting_ends_at_level_33(void **state) {
  (void)state;
  static const char *const OPENINGS[] = {"[", "{a: ", "- ", "? ", "[{", "{? "};
  enum { COUNT = 400000 };
  char *text = malloc(COUNT * 4 + 1);
  assert_non_null(text);
  for (size_t k = 0; k < sizeof OPENINGS / sizeof OPENINGS[0]; k++) {
    size_t n = 0, step = strlen(OPENINGS[k]);
    while (n + step <= 800000) {
      memcpy(text + n, OPENINGS[k], step);
      n += step;
    }
    fh_diag diag = {0};
    assert_int_equal(parse(text, n, &diag), FH_ERR_INPUT);
    assert_int_equal(diag.line, 1);
    assert_true(diag.column > 0 && diag.column < 2000);
  }
  free(text);
}

static void too_many_entries_are_refused(void **state) {
  (void)state;
  size_t room = 3 * 110000 + 16, n = 1;
  char *text = malloc(room);
  assert_non_null(text);
  text[0] = '[';
  for (int i = 0; i < 110000; i++) {
    memcpy(text + n, "1,\n", 3);
    n += 3;
  }
  text[n++] = ']';
  fh_diag diag = {0};
  assert_int_equal(parse(text, n, &diag), FH_ERR_INPUT);
  assert_int_equal(diag.line, 100000);  // node 1 is the list
  assert_non_null(strstr(diag.accepted, "100,000"));
  free(text);
}

static void a_large_map_of_equal_keys_is_quick_and_refused_at_its_second(void **state) {
  (void)state;
  size_t n = 0;
  char *text = malloc(1 << 20);
  assert_non_null(text);
  for (int i = 0; i < 49000; i++) {
    n += (size_t)sprintf(text + n, "a: 1\n");
  }
  scene_text t = {0};
  assert_int_equal(fh_gear_create(&t.gear), FH_OK);
  assert_int_equal(cli_yaml_parse(text, n, &t.doc, &t.diag), FH_OK);
  assert_int_equal(fh_scene_create(t.doc, t.gear, &t.scene, &t.diag), FH_ERR_INPUT);
  assert_int_equal(t.diag.line, 2);
  scene_done(&t);
  free(text);
}

// ---------------------------------------------------------------------------------------------------- places

static void assert_place(const char *text, size_t count, int line, int column) {
  fh_diag diag = {0};
  assert_int_equal(parse(text, count, &diag), FH_ERR_INPUT);
  assert_int_equal(diag.line, line);
  assert_int_equal(diag.column, column);
}

#define AT(text, line, column) assert_place(text, sizeof(text) - 1, line, column)

static void columns_count_bytes(void **state) {
  (void)state;
  AT("a: *x", 1, 4);
  AT("\xC3\xBC: *x", 1, 5);                       // two bytes, one character
  AT("\xE2\x82\xAC\xF0\x9F\x8F\x94: *x", 1, 10);  // three and four
  AT("\xEF\xBB\xBF"
     "a: *x",
     1, 4);  // the byte order mark has no column
  AT("a: 1\r\nb: *x", 2, 4);
  AT("a: 1\rb: *x", 2, 4);
  AT("a: \"\xC2\x85\"\nb: *x", 3, 4);  // next line, a break to YAML 1.1
  AT("a: \"\xE2\x80\xA8\"\nb: *x", 3, 4);
  AT("\n\n  - &a b", 3, 5);
  AT("a: !t b", 1, 4);
  AT("a: !t [b]", 1, 4);
  AT("a: 1\n---\nb: 2", 2, 1);
  AT("a: [1, 2", 1, 9);  // where the bracket is missed
  AT("a: \"\\q\"", 1, 5);
  AT("{a: 1, [b]: 2}", 1, 8);
  AT("a: 1\nb: \xFF", 2, 4);
  AT("a: 1\nb: c\0d", 2, 5);
  AT("a: \x01", 1, 4);  // libyaml's own reader refuses control characters
}

// libyaml counts the mark as a column, so that the second line of a block seems to stand further left than the first.
static void a_byte_order_mark_moves_nothing(void **state) {
  (void)state;
  char text[1024];
  (void)snprintf(text, sizeof text, "\xEF\xBB\xBF%s", LEAST);
  fh_diag diag = {0};
  assert_int_equal(parse(text, strlen(text), &diag), FH_OK);
  AT("\xEF\xBB\xBF"
     "a: 1\nb: *x",
     2, 4);
}

static void json_is_read_as_it_is(void **state) {
  (void)state;
  scene_text t = scene_read(
      "{\"firnhaul\": 1,\n\t\"load\": {\"mass_kg\": 9.2e1},\n\t\"slot\":{\"depth_m\":11},\"lip\":{},\"ground\":{},"
      "\"title\": \"a\\/b \\u00e4\"}");
  assert_string_equal(t.scene->title, "a/b \xC3\xA4");
  assert_exact(t.scene->load_mass.likely, 92.0);
  scene_done(&t);
}

static void memory_that_runs_out_ends_in_its_status(void **state) {
  (void)state;
  bool done = false;
  for (long n = 1; !done; n++) {
    assert_true(n < 100);
    fh_doc *doc = NULL;
    fh_diag diag;
    fhi_fault_after(n);
    fh_status status = cli_yaml_parse(LEAST, strlen(LEAST), &doc, &diag);
    fhi_fault_after(0);
    done = status == FH_OK;
    assert_true(done || (status == FH_ERR_MEMORY && doc == NULL));
    fh_doc_destroy(doc);
  }
}

// Exit status and line of what was refused, and of what went wrong otherwise; a good scene says nothing.
static void complaints_carry_the_exit_status(void **state) {
  (void)state;
  fh_diag diag = {.line = 3, .column = 4, .key = "load", .message = "m", .accepted = "a"};
  assert_int_equal(cli_yaml_complain("f", FH_OK, &diag), 0);
  assert_int_equal(cli_yaml_complain("f", FH_ERR_INPUT, &diag), 2);
  assert_int_equal(cli_yaml_complain("f", FH_ERR_MEMORY, &diag), 3);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(what_is_no_readable_file_is_refused),
      cmocka_unit_test(what_is_too_large_is_refused_without_reading_it),
      cmocka_unit_test(a_mebibyte_is_still_read),
      cmocka_unit_test(a_silent_pipe_does_not_hang),
      cmocka_unit_test(a_pipe_with_text_and_standard_input_are_read),
      cmocka_unit_test(an_empty_text_is_an_empty_document),
      cmocka_unit_test(deep_nesting_ends_at_level_33),
      cmocka_unit_test(too_many_entries_are_refused),
      cmocka_unit_test(a_large_map_of_equal_keys_is_quick_and_refused_at_its_second),
      cmocka_unit_test(columns_count_bytes),
      cmocka_unit_test(a_byte_order_mark_moves_nothing),
      cmocka_unit_test(json_is_read_as_it_is),
      cmocka_unit_test(memory_that_runs_out_ends_in_its_status),
      cmocka_unit_test(complaints_carry_the_exit_status),
  };
  return cmocka_run_group_tests(tests, make_folder, drop_folder);
}
