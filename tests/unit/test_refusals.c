// SPDX-License-Identifier: MIT
// Every refusal of a scene has a case: tests/regress/bad/NAME.yaml, and its line in expected.txt, word for word.
// The lines were written by the program and read by a person; what they must hold is checked here apart from them.
#include "fh_test.h"

#include <dirent.h>
#include <unistd.h>

#include "yaml.h"

#define FOLDER "tests/regress/bad/"

// What cli_yaml_complain says on standard error about one file, and its exit status.
static int complaint(const char *path, const char *shown_as, char *line, size_t size) {
  fh_gear *gear = NULL;
  fh_doc *doc = NULL;
  fh_scene *scene = NULL;
  fh_diag diag = {0};
  assert_int_equal(fh_gear_create(&gear), FH_OK);
  fh_status status = cli_yaml_read(path, &doc, &diag);
  if (status == FH_OK) {
    status = fh_scene_create(doc, gear, &scene, &diag);
  }
  FILE *catcher = tmpfile();
  assert_non_null(catcher);
  (void)fflush(stderr);
  int kept = dup(STDERR_FILENO);
  assert_true(dup2(fileno(catcher), STDERR_FILENO) >= 0);
  int exit_status = cli_yaml_complain(shown_as, status, &diag);
  (void)fflush(stderr);
  assert_true(dup2(kept, STDERR_FILENO) >= 0);
  (void)close(kept);
  rewind(catcher);
  size_t n = fread(line, 1, size - 1, catcher);
  line[n] = '\0';
  (void)fclose(catcher);
  fh_scene_destroy(scene);
  fh_doc_destroy(doc);
  fh_gear_destroy(gear);
  return exit_status;
}

// One line, with file, line and column, what is wrong and what is accepted; no byte that a terminal could take for a command.
static void assert_good_line(const char *line) {
  size_t n = strlen(line);
  int at_line = 0, at_column = 0, end = 0;
  assert_true(n > 0 && line[n - 1] == '\n');
  for (size_t i = 0; i + 1 < n; i++) {
    assert_true((unsigned char)line[i] >= 0x20 && line[i] != 0x7F);
  }
  const char *colon = strchr(line, ':');
  assert_non_null(colon);
  assert_int_equal(sscanf(colon, ":%d:%d: %n", &at_line, &at_column, &end), 2);
  assert_true(end > 0 && at_line >= 1 && at_column >= 1);
  assert_non_null(strstr(line, ", accepted: "));
}

// A line that ends in * stands for all that start like it: the catalogue's names come after it.
static bool same_line(const char *got, const char *want) {
  const char *star = strstr(want, "*\n");
  return star != NULL ? strncmp(got, want, (size_t)(star - want)) == 0 : strcmp(got, want) == 0;
}

static void each_bad_file_gets_its_line(void **state) {
  (void)state;
  FILE *list = fopen(FOLDER "expected.txt", "r");
  char want[2048], got[2048];
  int count = 0, wrong = 0;
  assert_non_null(list);
  while (fgets(want, sizeof want, list) != NULL) {
    char name[128], path[256];
    const char *colon = strchr(want, ':');
    assert_non_null(colon);
    assert_true((size_t)(colon - want) < sizeof name);
    (void)snprintf(name, sizeof name, "%.*s", (int)(colon - want), want);
    (void)snprintf(path, sizeof path, FOLDER "%s", name);
    if (access(path, R_OK) != 0) {
      print_error("no such case: %s\n", path);
      wrong++;
      continue;
    }
    int exit_status = complaint(path, name, got, sizeof got);
    if (exit_status != 2 || !same_line(got, want)) {
      print_error("exit %d\n  want %s  got  %s", exit_status, want, got);
      wrong++;
      continue;
    }
    assert_good_line(got);
    count++;
  }
  (void)fclose(list);
  assert_int_equal(wrong, 0);
  assert_true(count > 150);
}

static void each_bad_file_is_in_the_list(void **state) {
  (void)state;
  DIR *folder = opendir(FOLDER);
  char text[64 * 1024];
  FILE *list = fopen(FOLDER "expected.txt", "r");
  assert_non_null(folder);
  assert_non_null(list);
  text[0] = '\n';  // so that each line follows a line's end
  size_t n = fread(text + 1, 1, sizeof text - 2, list);
  assert_true(n < sizeof text - 2);
  text[n + 1] = '\0';
  (void)fclose(list);
  for (struct dirent *e = readdir(folder); e != NULL; e = readdir(folder)) {
    if (strstr(e->d_name, ".yaml") != NULL) {
      char start[300];
      (void)snprintf(start, sizeof start, "\n%s:", e->d_name);
      bool listed = strstr(text, start) != NULL;
      if (!listed) {
        print_error("not in expected.txt: %s\n", e->d_name);
      }
      assert_true(listed);
    }
  }
  (void)closedir(folder);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_bad_file_gets_its_line),
      cmocka_unit_test(each_bad_file_is_in_the_list),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
