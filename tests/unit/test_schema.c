// SPDX-License-Identifier: MIT
// The docs page and the JSON Schema are the table: what lies in docs/ is what the program writes, and nothing is left out.
#include "scene_text.h"

#include "keys.h"

static void assert_same_as_file(const char *path, const text_sink *sink) {
  FILE *file = fopen(path, "rb");
  char *bytes = malloc(sink->count + 2);
  assert_non_null(file);
  assert_non_null(bytes);
  size_t n = fread(bytes, 1, sink->count + 1, file);
  (void)fclose(file);
  if (n != sink->count || memcmp(bytes, sink->bytes, n) != 0) {
    print_error("%s is not what the program writes: make it anew with firnhaul keys --markdown or --schema\n", path);
  }
  assert_int_equal(n, sink->count);
  assert_memory_equal(bytes, sink->bytes, n);
  free(bytes);
}

static void the_docs_page_is_the_table(void **state) {
  (void)state;
  text_sink sink = {.fail_after = -1};
  assert_int_equal(fh_keys_write_markdown((fh_out){text_sink_put, &sink}), FH_OK);
  int count = 0;
  const fh_key *k = fh_key_list(&count);
  for (int i = 0; i < count; i++) {
    char cell[96];
    (void)snprintf(cell, sizeof cell, "\n| `%s` | ", k[i].path);
    assert_non_null(strstr(sink.bytes, cell));
    assert_non_null(strstr(sink.bytes, k[i].help));
  }
  assert_same_as_file("docs/scene.md", &sink);
  free(sink.bytes);
}

// As JSON the schema must parse, be without keys that stand twice, and say for each key of the table what the table says.
static void the_schema_says_what_the_table_says(void **state) {
  (void)state;
  text_sink sink = {.fail_after = -1};
  assert_int_equal(fh_schema_write((fh_out){text_sink_put, &sink}), FH_OK);
  assert_same_as_file("docs/scene.schema.json", &sink);
  int descriptions = 0, count = 0;
  (void)fh_key_list(&count);
  for (const char *p = strstr(sink.bytes, "\"description\""); p != NULL; p = strstr(p + 1, "\"description\"")) {
    descriptions++;
  }
  assert_int_equal(descriptions, count);
  fh_doc *doc = NULL;
  fh_diag diag;
  fh_status status = cli_yaml_parse(sink.bytes, sink.count, &doc, &diag);
  assert_int_equal(status, FH_OK);
  fh_doc_destroy(doc);
  free(sink.bytes);
}

static void a_refusing_output_ends_both(void **state) {
  (void)state;
  for (long n = 0; n < 8; n++) {
    text_sink sink = {.fail_after = n};
    assert_int_equal(fh_keys_write_markdown((fh_out){text_sink_put, &sink}), FH_ERR_WRITE);
    sink.fail_after = n;
    assert_int_equal(fh_schema_write((fh_out){text_sink_put, &sink}), FH_ERR_WRITE);
    free(sink.bytes);
  }
  assert_int_equal(fh_keys_write_markdown((fh_out){NULL, NULL}), FH_ERR_ARG);
  assert_int_equal(fh_schema_write((fh_out){NULL, NULL}), FH_ERR_ARG);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_docs_page_is_the_table),
      cmocka_unit_test(the_schema_says_what_the_table_says),
      cmocka_unit_test(a_refusing_output_ends_both),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
