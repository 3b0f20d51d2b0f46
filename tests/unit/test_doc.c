// SPDX-License-Identifier: MIT
// The document tree: events in any order, limits, places, keys that stand twice, and memory that runs out.
#include "fh_test.h"

#include "doc.h"
#include "memory.h"

static fh_doc *fresh(void) {
  fh_doc *doc = NULL;
  assert_int_equal(fh_doc_create(&doc), FH_OK);
  return doc;
}

static fh_status say(fh_doc *doc, const char *text) {
  return fh_doc_scalar(doc, text, strlen(text), false, 3, 7);
}

// {a: 1, b: [x, {}], a2: "1"}
static fh_status small(fh_doc *doc) {
  fh_status s = fh_doc_map_begin(doc, 1, 1);
  s = s == FH_OK ? fh_doc_scalar(doc, "a", 1, false, 1, 2) : s;
  s = s == FH_OK ? fh_doc_scalar(doc, "1", 1, false, 1, 5) : s;
  s = s == FH_OK ? fh_doc_scalar(doc, "b", 1, false, 2, 2) : s;
  s = s == FH_OK ? fh_doc_list_begin(doc, 2, 5) : s;
  s = s == FH_OK ? fh_doc_scalar(doc, "xyz", 1, false, 2, 6) : s;
  s = s == FH_OK ? fh_doc_map_begin(doc, 2, 9) : s;
  s = s == FH_OK ? fh_doc_map_end(doc) : s;
  s = s == FH_OK ? fh_doc_list_end(doc) : s;
  s = s == FH_OK ? fh_doc_scalar(doc, "a2", 2, false, 3, 2) : s;
  s = s == FH_OK ? fh_doc_scalar(doc, "1", 1, true, 3, 6) : s;
  return s == FH_OK ? fh_doc_map_end(doc) : s;
}

static void a_tree_keeps_order_places_and_quotes(void **state) {
  (void)state;
  fh_doc *doc = fresh();
  assert_int_equal(fhi_doc_root(doc), -1);
  assert_int_equal(small(doc), FH_OK);
  int root = fhi_doc_root(doc);
  assert_int_equal(root, 0);
  assert_int_equal(fhi_doc_node(doc, root)->count, 3);
  int a = fhi_doc_find(doc, root, "a"), b = fhi_doc_find(doc, root, "b"), quoted = fhi_doc_find(doc, root, "a2");
  assert_string_equal(fhi_doc_text(doc, a), "1");
  assert_false(fhi_doc_node(doc, a)->quoted);
  assert_true(fhi_doc_node(doc, quoted)->quoted);
  assert_int_equal(fhi_doc_node(doc, a)->line, 1);
  assert_int_equal(fhi_doc_node(doc, a)->column, 5);
  assert_int_equal(fhi_doc_node(doc, fhi_doc_node(doc, b)->key)->line, 2);
  assert_int_equal(fhi_doc_node(doc, b)->kind, FHI_NODE_LIST);
  assert_string_equal(fhi_doc_text(doc, b), "");
  int x = fhi_doc_node(doc, b)->first;
  assert_string_equal(fhi_doc_text(doc, x), "x");  // count bytes, not up to a NUL
  assert_int_equal(fhi_doc_node(doc, fhi_doc_node(doc, x)->next)->kind, FHI_NODE_MAP);
  assert_int_equal(fhi_doc_find(doc, root, "c"), -1);
  assert_int_equal(fhi_doc_find(doc, b, "x"), -1);  // a list has no keys
  assert_int_equal(fhi_doc_duplicate(doc), -1);
  fh_doc_destroy(doc);
}

static void a_lone_scalar_is_a_document(void **state) {
  (void)state;
  fh_doc *doc = fresh();
  assert_int_equal(say(doc, "x"), FH_OK);
  assert_string_equal(fhi_doc_text(doc, fhi_doc_root(doc)), "x");
  assert_int_equal(say(doc, "y"), FH_ERR_ARG);
  assert_int_equal(fhi_doc_root(doc), -1);  // broken from then on
  fh_doc_destroy(doc);
}

static void events_out_of_order_are_refused_and_stay_refused(void **state) {
  (void)state;
  fh_status (*const ends[])(fh_doc *) = {fh_doc_map_end, fh_doc_list_end};
  for (int e = 0; e < 2; e++) {  // an end without a beginning
    fh_doc *doc = fresh();
    assert_int_equal(ends[e](doc), FH_ERR_ARG);
    assert_int_equal(say(doc, "x"), FH_ERR_ARG);
    assert_int_equal(fh_doc_map_begin(doc, 1, 1), FH_ERR_ARG);
    assert_int_equal(fh_doc_map_end(doc), FH_ERR_ARG);
    fh_doc_destroy(doc);
  }
  fh_doc *doc = fresh();  // the wrong end
  assert_int_equal(fh_doc_map_begin(doc, 1, 1), FH_OK);
  assert_int_equal(fh_doc_list_end(doc), FH_ERR_ARG);
  fh_doc_destroy(doc);
  doc = fresh();  // a key without a value
  assert_int_equal(fh_doc_map_begin(doc, 1, 1), FH_OK);
  assert_int_equal(say(doc, "a"), FH_OK);
  assert_int_equal(fh_doc_map_end(doc), FH_ERR_ARG);
  fh_doc_destroy(doc);
  doc = fresh();  // a list as a key
  assert_int_equal(fh_doc_map_begin(doc, 1, 1), FH_OK);
  assert_int_equal(fh_doc_list_begin(doc, 1, 2), FH_ERR_ARG);
  fh_doc_destroy(doc);
  doc = fresh();  // a second document
  assert_int_equal(fh_doc_list_begin(doc, 1, 1), FH_OK);
  assert_int_equal(fh_doc_list_end(doc), FH_OK);
  assert_int_equal(fh_doc_map_begin(doc, 2, 1), FH_ERR_ARG);
  fh_doc_destroy(doc);
  doc = fresh();  // unfinished
  assert_int_equal(fh_doc_list_begin(doc, 1, 1), FH_OK);
  assert_int_equal(fhi_doc_root(doc), -1);
  fh_doc_destroy(doc);
}

static void missing_arguments_are_refused(void **state) {
  (void)state;
  fh_doc *doc = fresh();
  assert_int_equal(fh_doc_create(NULL), FH_ERR_ARG);
  assert_int_equal(fh_doc_map_begin(NULL, 1, 1), FH_ERR_ARG);
  assert_int_equal(fh_doc_list_end(NULL), FH_ERR_ARG);
  assert_int_equal(fh_doc_map_end(NULL), FH_ERR_ARG);
  assert_int_equal(fh_doc_scalar(NULL, "x", 1, false, 1, 1), FH_ERR_ARG);
  assert_int_equal(fh_doc_scalar(doc, NULL, 1, false, 1, 1), FH_ERR_ARG);
  assert_int_equal(fhi_doc_root(NULL), -1);
  fh_doc_destroy(doc);
  fh_doc_destroy(NULL);
}

static void depth_32_is_the_last(void **state) {
  (void)state;
  fh_doc *doc = fresh();
  for (int i = 0; i < FHI_DOC_DEPTH; i++) {
    assert_int_equal(fh_doc_list_begin(doc, 1, i + 1), FH_OK);
  }
  assert_int_equal(fh_doc_list_begin(doc, 1, 33), FH_ERR_LIMIT);
  assert_int_equal(fh_doc_list_end(doc), FH_ERR_LIMIT);
  fh_doc_destroy(doc);
}

static void a_hundred_thousand_nodes_are_the_last(void **state) {
  (void)state;
  fh_doc *doc = fresh();
  assert_int_equal(fh_doc_list_begin(doc, 1, 1), FH_OK);
  for (int i = 1; i < FHI_DOC_NODES; i++) {
    assert_int_equal(say(doc, ""), FH_OK);
  }
  assert_int_equal(say(doc, ""), FH_ERR_LIMIT);
  fh_doc_destroy(doc);
}

static void a_mebibyte_of_text_is_the_last(void **state) {
  (void)state;
  fh_doc *doc = fresh();
  char *text = malloc(FHI_DOC_TEXT);
  assert_non_null(text);
  memset(text, 'x', FHI_DOC_TEXT);
  assert_int_equal(fh_doc_list_begin(doc, 1, 1), FH_OK);
  assert_int_equal(fh_doc_scalar(doc, text, FHI_DOC_TEXT - 3, false, 1, 1), FH_OK);
  assert_int_equal(say(doc, "y"), FH_OK);  // with its NUL just to the edge
  assert_int_equal(say(doc, ""), FH_ERR_LIMIT);
  fh_doc_destroy(doc);
  doc = fresh();
  assert_int_equal(fh_doc_scalar(doc, text, FHI_DOC_TEXT, false, 1, 1), FH_ERR_LIMIT);
  fh_doc_destroy(doc);
  free(text);
}

// Examples of RFC 3629, sections 3, 4 and 10: what is and what is not UTF-8.
static void only_utf8_without_nul_is_text(void **state) {
  (void)state;
  static const struct {
    const char *text;
    size_t count;
    bool good;
  } CASES[] = {
      {"", 0, true},
      {"\x41\xE2\x89\xA2\xCE\x91\x2E", 7, true},  // A<NOT IDENTICAL TO><ALPHA>.
      {"\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4", 9, true},
      {"\xEF\xBB\xBF\xF0\xA3\x8E\xB4", 7, true},
      {"\xF4\x8F\xBF\xBF", 4, true},   // U+10FFFF
      {"\xF4\x90\x80\x80", 4, false},  // above it
      {"\xF5\x80\x80\x80", 4, false},
      {"\xC0\x80", 2, false},  // overlong NUL
      {"\xC1\xBF", 2, false},
      {"\xE0\x9F\xBF", 3, false},  // overlong
      {"\xE0\xA0\x80", 3, true},
      {"\xF0\x8F\xBF\xBF", 4, false},  // overlong
      {"\xF0\x90\x80\x80", 4, true},
      {"\xED\xA1\x8C\xED\xBE\xB4", 6, false},  // surrogates
      {"\xED\x9F\xBF", 3, true},
      {"\x80", 1, false},
      {"\xE2\x89", 2, false},  // cut off
      {"\xE2\x41\x41", 3, false},
      {"a\0b", 3, false},
      {"\xFF", 1, false},
  };
  for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
    fh_doc *doc = fresh();
    fh_status status = fh_doc_scalar(doc, CASES[i].text, CASES[i].count, false, 1, 1);
    if ((status == FH_OK) != CASES[i].good) {
      print_error("case %zu\n", i);
    }
    assert_int_equal(status, CASES[i].good ? FH_OK : FH_ERR_ARG);
    fh_doc_destroy(doc);
  }
}

static void key(fh_doc *doc, int number, int line) {
  char text[16];
  (void)snprintf(text, sizeof text, "k%d", number);
  assert_int_equal(fh_doc_scalar(doc, text, strlen(text), false, line, 1), FH_OK);
  assert_int_equal(say(doc, "v"), FH_OK);
}

static void a_key_that_stands_twice_is_found_in_a_large_map(void **state) {
  (void)state;
  enum { MANY = 30000 };
  for (int twice = 0; twice < 2; twice++) {
    fh_doc *doc = fresh();
    assert_int_equal(fh_doc_map_begin(doc, 1, 1), FH_OK);
    for (int i = 0; i < MANY; i++) {
      key(doc, (int)((i * 7919L) % MANY), i + 1);  // all numbers once, in a scattered order
    }
    if (twice == 1) {
      key(doc, 123, MANY + 1);
      key(doc, 77, MANY + 2);
    }
    assert_int_equal(fh_doc_map_end(doc), FH_OK);
    int found = fhi_doc_duplicate(doc);
    assert_int_equal(found >= 0, twice);
    if (twice == 1) {  // the first that repeats, at its second place
      assert_string_equal(fhi_doc_text(doc, found), "k123");
      assert_int_equal(fhi_doc_node(doc, found)->line, MANY + 1);
    }
    fh_doc_destroy(doc);
  }
}

static void the_first_key_that_stands_twice_wins_over_inner_maps(void **state) {
  (void)state;
  fh_doc *doc = fresh();
  assert_int_equal(fh_doc_map_begin(doc, 1, 1), FH_OK);
  key(doc, 1, 1);
  key(doc, 1, 2);
  assert_int_equal(say(doc, "inner"), FH_OK);
  assert_int_equal(fh_doc_map_begin(doc, 3, 1), FH_OK);
  key(doc, 2, 3);
  key(doc, 2, 4);
  assert_int_equal(fh_doc_map_end(doc), FH_OK);
  assert_int_equal(fh_doc_map_end(doc), FH_OK);
  assert_int_equal(fhi_doc_node(doc, fhi_doc_duplicate(doc))->line, 2);
  fh_doc_destroy(doc);
}

static void memory_that_runs_out_ends_in_its_status(void **state) {
  (void)state;
  bool done = false;
  for (long n = 1; !done; n++) {
    assert_true(n < 50);
    fh_doc *doc = NULL;
    fhi_fault_after(n);
    fh_status status = fh_doc_create(&doc);
    if (status == FH_OK) {
      status = small(doc);
    }
    fhi_fault_after(0);
    done = status == FH_OK;
    assert_true(done || status == FH_ERR_MEMORY);
    if (!done && doc != NULL) {
      assert_int_equal(fhi_doc_root(doc), -1);
    }
    fh_doc_destroy(doc);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_tree_keeps_order_places_and_quotes),
      cmocka_unit_test(a_lone_scalar_is_a_document),
      cmocka_unit_test(events_out_of_order_are_refused_and_stay_refused),
      cmocka_unit_test(missing_arguments_are_refused),
      cmocka_unit_test(depth_32_is_the_last),
      cmocka_unit_test(a_hundred_thousand_nodes_are_the_last),
      cmocka_unit_test(a_mebibyte_of_text_is_the_last),
      cmocka_unit_test(only_utf8_without_nul_is_text),
      cmocka_unit_test(a_key_that_stands_twice_is_found_in_a_large_map),
      cmocka_unit_test(the_first_key_that_stands_twice_wins_over_inner_maps),
      cmocka_unit_test(memory_that_runs_out_ends_in_its_status),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
