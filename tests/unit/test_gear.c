// SPDX-License-Identifier: MIT
// The catalogue as an object, and own gear files. Its rows: test_tables.c.
#include "fh_test.h"

#include "memory.h"
#include "yaml.h"

static fh_gear *open_gear(void) {
  fh_gear *gear = NULL;
  assert_status(fh_gear_create(&gear), FH_OK);
  return gear;
}

static void the_names_that_scenes_rely_on_are_there(void **state) {
  (void)state;
  static const struct {
    const char *name;
    fh_item_class item_class;
  } WANT[] = {
      {"carabiner", FH_ITEM_BAR},        {"pulley", FH_ITEM_SHEAVE},  {"small-pulley", FH_ITEM_SHEAVE},
      {"roller-carabiner", FH_ITEM_SHEAVE}, {"toothed-capture", FH_ITEM_CAPTURE}, {"prusik", FH_ITEM_HITCH},
      {"autoblock", FH_ITEM_HITCH},      {"klemheist", FH_ITEM_HITCH}, {"rope-clamp", FH_ITEM_HITCH},
      {"padded", FH_ITEM_SURFACE},       {"firn", FH_ITEM_SURFACE},   {"cut", FH_ITEM_SURFACE},
      {"ice", FH_ITEM_SURFACE},          {"rock", FH_ITEM_SURFACE},   {"half", FH_ITEM_ROPE},
      {"single", FH_ITEM_ROPE},          {"twin", FH_ITEM_ROPE},      {"low-stretch", FH_ITEM_ROPE},
      {"cord", FH_ITEM_ROPE},            {"walking", FH_ITEM_POSTURE}, {"harness", FH_ITEM_POSTURE},
      {"t-slot", FH_ITEM_ANCHOR},        {"mid-clip", FH_ITEM_ANCHOR}, {"top-clip", FH_ITEM_ANCHOR},
      {"bollard", FH_ITEM_ANCHOR},       {"ice-screw", FH_ITEM_ANCHOR}, {"ice-thread", FH_ITEM_ANCHOR},
  };
  fh_gear *gear = open_gear();
  for (size_t i = 0; i < sizeof WANT / sizeof *WANT; i++) {
    int at = fh_gear_find(gear, WANT[i].name);
    assert_true(at >= 0);
    assert_int_equal(fh_gear_item(gear, at)->item_class, WANT[i].item_class);
  }
  fh_gear_destroy(gear);
}

static void what_is_not_there_is_said_so(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  const fh_figure *figure = (const fh_figure *)gear;
  assert_int_equal(fh_gear_find(gear, "sky-hook"), -1);
  assert_int_equal(fh_gear_find(gear, NULL), -1);
  assert_int_equal(fh_gear_find(NULL, "carabiner"), -1);
  assert_null(fh_gear_item(gear, -1));
  assert_null(fh_gear_item(gear, fh_gear_count(gear)));
  assert_null(fh_gear_item(NULL, 0));
  assert_int_equal(fh_gear_count(NULL), 0);
  assert_false(fh_number_is_set(fh_gear_figure(gear, fh_gear_find(gear, "carabiner"), "colour", &figure)));
  assert_null(figure);
  assert_false(fh_number_is_set(fh_gear_figure(gear, -1, "efficiency", &figure)));
  assert_null(figure);
  assert_false(fh_number_is_set(fh_gear_figure(gear, 0, NULL, NULL)));
  assert_null(fh_reference_find("nobody-1900"));
  assert_null(fh_reference_find(NULL));
  assert_status(fh_gear_create(NULL), FH_ERR_ARG);
  assert_status(fh_gear_add(NULL, NULL, NULL), FH_ERR_ARG);
  fh_gear_destroy(gear);
  fh_gear_destroy(NULL);
}

static void a_figure_comes_with_its_row(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  const fh_figure *figure = NULL;
  fh_number n = fh_gear_figure(gear, fh_gear_find(gear, "carabiner"), "strength_N", &figure);
  assert_exact(n.likely, 20000.0);
  assert_non_null(figure);
  assert_string_equal(figure->ref, "en-12275");
  assert_int_equal(figure->basis, FH_BASIS_STANDARD);
  assert_non_null(fh_reference_find(figure->ref));
  int count = 0;
  const fh_reference *list = fh_reference_list(&count);
  assert_true(count > 40);
  assert_ptr_equal(fh_reference_find(list[3].key), &list[3]);
  assert_ptr_equal(fh_reference_list(NULL), list);
  fh_gear_destroy(gear);
}

// ---- own gear files

static fh_doc *read_doc(const char *text) {
  fh_doc *doc = NULL;
  fh_diag diag;
  assert_status(cli_yaml_parse(text, strlen(text), &doc, &diag), FH_OK);
  return doc;
}

static fh_status add(fh_gear *gear, const char *text, fh_diag *diag) {
  fh_doc *doc = read_doc(text);
  fh_status status = fh_gear_add(gear, doc, diag);
  fh_doc_destroy(doc);  // the gear keeps nothing of the document
  return status;
}

static fh_number figure_of(const fh_gear *gear, const char *item, const char *what) {
  return fh_gear_figure(gear, fh_gear_find(gear, item), what, NULL);
}

static void assert_sorted(const fh_gear *gear) {
  for (int i = 1; i < fh_gear_count(gear); i++) {
    const fh_item *a = fh_gear_item(gear, i - 1), *b = fh_gear_item(gear, i);
    assert_true(a->item_class < b->item_class || (a->item_class == b->item_class && strcmp(a->name, b->name) < 0));
  }
}

static void an_own_item_takes_the_rest_from_the_one_it_is_like(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  fh_diag diag = {0};
  int before = fh_gear_count(gear);
  assert_status(add(gear, "{firnhaul_gear: 1, items: [{name: our-pulley, like: pulley, about: wheel of 38 mm, standard: none,"
                          " source: \"load cell, June\", efficiency: [0.9, 0.94], strength_kN: 22}]}", &diag), FH_OK);
  assert_int_equal(fh_gear_count(gear), before + 1);
  assert_sorted(gear);
  const fh_item *item = fh_gear_item(gear, fh_gear_find(gear, "our-pulley"));
  assert_int_equal(item->item_class, FH_ITEM_SHEAVE);
  assert_string_equal(item->about, "wheel of 38 mm");
  assert_string_equal(item->standard, "none");
  const fh_figure *figure = NULL;
  fh_number eta = fh_gear_figure(gear, fh_gear_find(gear, "our-pulley"), "efficiency", &figure);
  assert_int_equal(eta.spread, FH_SPREAD_UNIFORM);
  assert_exact(eta.lo, 0.9);
  assert_close(eta.likely, 0.92, 1e-15);
  assert_exact(eta.hi, 0.94);
  assert_int_equal(figure->basis, FH_BASIS_OWN);
  assert_string_equal(figure->note, "load cell, June");
  assert_exact(figure_of(gear, "our-pulley", "strength_N").lo, 22000.0);
  // The share is still the catalogue's, with its own basis.
  fh_number share = fh_gear_figure(gear, fh_gear_find(gear, "our-pulley"), "share", &figure);
  assert_exact(share.likely, figure_of(gear, "pulley", "share").likely);
  assert_int_equal(figure->basis, FH_BASIS_PUBLISHED);
  fh_gear_destroy(gear);
}

static void an_own_item_of_a_known_name_replaces_it(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  int before = fh_gear_count(gear);
  assert_status(add(gear, "{firnhaul_gear: 1, items: [{name: prusik, slip_kN: {mean: 4, sd: 0.5}},"
                          " {name: prusik-wet, like: prusik, slip_wet_kN: {low: 1, likely: 2, high: 3}}]}", NULL), FH_OK);
  assert_int_equal(fh_gear_count(gear), before + 1);
  assert_sorted(gear);
  fh_number slip = figure_of(gear, "prusik", "slip_N");
  assert_int_equal(slip.spread, FH_SPREAD_NORMAL);
  assert_exact(slip.lo, 3000.0);
  assert_exact(slip.likely, 4000.0);
  assert_exact(slip.hi, 5000.0);
  assert_exact(slip.sd, 500.0);
  // A later item builds on an earlier one of the same file.
  assert_exact(figure_of(gear, "prusik-wet", "slip_N").likely, 4000.0);
  assert_exact(figure_of(gear, "prusik-wet", "slip_wet_N").likely, 2000.0);
  // A second file adds to the first.
  assert_status(add(gear, "{firnhaul_gear: 1, items: [{name: prusik-icy, like: prusik-wet, slip_wet_kN: 0.9}]}", NULL), FH_OK);
  assert_exact(figure_of(gear, "prusik-icy", "slip_N").likely, 4000.0);
  assert_exact(figure_of(gear, "prusik-icy", "slip_wet_N").likely, 900.0);
  fh_gear_destroy(gear);
}

static void a_new_item_needs_no_forebear(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  assert_status(add(gear, "{firnhaul_gear: 1, items: [{name: plank, class: surface, friction: 0.3},"
                          " {name: clamp-x, class: hitch, sheath_kN: 5}, {name: bag, class: other},"
                          " {name: line, class: rope, modulus_kN: 12, diameter_mm: 8, mass_gpm: 45}]}", NULL), FH_OK);
  assert_exact(figure_of(gear, "plank", "friction").likely, 0.3);
  assert_exact(figure_of(gear, "clamp-x", "sheath_N").likely, 5000.0);
  assert_exact(figure_of(gear, "line", "diameter_m").likely, 0.008);
  assert_exact(figure_of(gear, "line", "mass_kgpm").likely, 0.045);
  assert_string_equal(fh_gear_item(gear, fh_gear_find(gear, "bag"))->about, "own item");
  assert_sorted(gear);
  fh_gear_destroy(gear);
}

// What is wrong, where, and the key's path.
typedef struct refusal {
  const char *text;
  int line, column;
  const char *key, *says;
} refusal;

#define ITEM(rest) "{firnhaul_gear: 1, items: [{name: x, " rest "}]}"

static const refusal REFUSALS[] = {
    {"[1, 2]", 1, 1, "", "not a gear file"},
    {"just text", 1, 1, "", "not a gear file"},
    {"{items: []}", 1, 1, "", "not a gear file of version 1"},
    {"{firnhaul_gear: 2, items: []}", 1, 17, "", "not a gear file of version 1"},
    {"{firnhaul_gear: \"1\", items: []}", 1, 17, "", "not a gear file of version 1"},
    {"{firnhaul_gear: 1}", 1, 1, "", "no items"},
    {"{firnhaul_gear: 1, items: []}", 1, 27, "items", "not a list with entries"},
    {"{firnhaul_gear: 1, items: {a: 1}}", 1, 27, "items", "not a list with entries"},
    {"{firnhaul_gear: 1, extra: 2, items: [{name: x}]}", 1, 20, "", "unknown key: extra"},
    {"{firnhaul_gear: 1,\n items: [7]}", 2, 10, "items[0]", "an item is a map"},
    {"{firnhaul_gear: 1, items: [{like: pulley}]}", 1, 28, "items[0]", "no name"},
    {"{firnhaul_gear: 1, items: [{name: x, class: bar, efficiency: 0.5}, {name: Two Words, like: pulley}]}", 1, 75, "items[1].name", "not an item's name"},
    {"{firnhaul_gear: 1, items: [{name: 123, like: pulley}]}", 1, 35, "items[0].name", "not an item's name"},
    {"{firnhaul_gear: 1, items: [{name: \"\", like: pulley}]}", 1, 35, "items[0].name", "not an item's name"},
    {"{firnhaul_gear: 1, items: [{name: a-name-that-is-far-too-long-to-be-one, like: pulley}]}", 1, 35, "items[0].name", "not an item's name"},
    {"{firnhaul_gear: 1, items: [{name: [x], like: pulley}]}", 1, 35, "items[0].name", "not a text"},
    {ITEM("like: nothing-known"), 1, 44, "items[0].like", "no such item: nothing-known"},
    {ITEM("efficiency: 0.9"), 1, 28, "items[0]", "x has no class"},
    {ITEM("class: wheel, efficiency: 0.9"), 1, 45, "items[0].class", "not a class: wheel"},
    {ITEM("class: sheave, like: carabiner"), 1, 28, "items[0]", "carabiner is a bar, not a sheave"},
    {"{firnhaul_gear: 1, items: [{name: pulley, class: bar, efficiency: 0.5}]}", 1, 28, "items[0]", "pulley is already there as a sheave"},
    {ITEM("like: pulley, colour: red"), 1, 52, "items[0].colour", "unknown key: colour"},
    {ITEM("like: pulley, slip_kN: 3"), 1, 52, "items[0].slip_kN", "a sheave has no slip_kN"},
    {ITEM("like: pulley, efficiency: 1.2"), 1, 64, "items[0].efficiency", "out of range"},
    {ITEM("like: pulley, efficiency: 0.01"), 1, 64, "items[0].efficiency", "out of range"},
    {ITEM("like: pulley, efficiency: good"), 1, 64, "items[0].efficiency", "not a number"},
    {ITEM("like: pulley, efficiency: \"0.9\""), 1, 64, "items[0].efficiency", "not a number"},
    {ITEM("like: pulley, efficiency: 90 %"), 1, 64, "items[0].efficiency", "not a number"},
    {ITEM("like: pulley, efficiency: [0.9]"), 1, 64, "items[0].efficiency", "a range has two numbers"},
    {ITEM("like: pulley, efficiency: [0.9, 0.8]"), 1, 64, "items[0].efficiency", "upside down"},
    {ITEM("like: pulley, efficiency: [0.9, 1.8]"), 1, 70, "items[0].efficiency", "out of range"},
    {ITEM("like: pulley, efficiency: [[0.9], 0.8]"), 1, 65, "items[0].efficiency", "not a number"},
    {ITEM("like: pulley, efficiency: {low: 0.8, likely: 0.7, high: 0.9}"), 1, 64, "items[0].efficiency", "upside down"},
    {ITEM("like: pulley, efficiency: {low: 0.8, likely: 0.85, top: 0.9}"), 1, 64, "items[0].efficiency", "not a distribution"},
    {ITEM("like: pulley, efficiency: {low: 0.8, high: 0.9}"), 1, 64, "items[0].efficiency", "not a distribution"},
    {ITEM("like: pulley, efficiency: {mean: 0.8, sd: 0}"), 1, 80, "items[0].efficiency", "above 0"},
    {ITEM("like: pulley, efficiency: {mean: 0.8, sd: 5}"), 1, 80, "items[0].efficiency", "out of range"},
    {ITEM("like: pulley, efficiency: {mean: 8, sd: 0.1}"), 1, 71, "items[0].efficiency", "out of range"},
    {ITEM("class: bar"), 1, 28, "items[0]", "the bar x needs a figure"},
    {ITEM("class: capture"), 1, 28, "items[0]", "the capture x needs a figure"},
    {ITEM("class: surface"), 1, 28, "items[0]", "needs a figure"},
    {ITEM("class: rope"), 1, 28, "items[0]", "needs a figure"},
    {ITEM("class: posture"), 1, 28, "items[0]", "needs a figure"},
    {ITEM("class: anchor"), 1, 28, "items[0]", "needs a figure"},
    {ITEM("class: hitch"), 1, 28, "items[0]", "needs a figure"},
    {ITEM("class: [bar]"), 1, 45, "items[0].class", "not a text"},
    {ITEM("like: pulley, about: {a: b}"), 1, 59, "items[0].about", "not a text"},
    {ITEM("like: pulley, about: \"two\\nlines\""), 1, 59, "items[0].about", "control character"},
    {ITEM("like: pulley, standard: []"), 1, 62, "items[0].standard", "not a text"},
    {ITEM("like: pulley, source: []"), 1, 60, "items[0].source", "not a text"},
    {ITEM("like: pulley, name: y"), 1, 52, "", "stands twice: name"},
};

static void every_bad_gear_file_is_refused_with_its_place(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  int before = fh_gear_count(gear);
  int wrong = 0;
  for (size_t i = 0; i < sizeof REFUSALS / sizeof *REFUSALS; i++) {
    const refusal *want = &REFUSALS[i];
    fh_diag diag = {0};
    fh_status status = add(gear, want->text, &diag);
    if (status != FH_ERR_INPUT || diag.line != want->line || diag.column != want->column || strcmp(diag.key, want->key) != 0 ||
        strstr(diag.message, want->says) == NULL || diag.accepted[0] == '\0') {
      print_error("%s\n  got %d, %d:%d %s: %s (%s)\n  want %d:%d %s: %s\n", want->text, (int)status, diag.line, diag.column, diag.key,
                  diag.message, diag.accepted, want->line, want->column, want->key, want->says);
      wrong++;
    }
    assert_int_equal(fh_gear_count(gear), before);
  }
  assert_int_equal(wrong, 0);
  // Without a diagnostic the answer is the same.
  assert_status(add(gear, REFUSALS[0].text, NULL), FH_ERR_INPUT);
  fh_gear_destroy(gear);
}

static void a_bad_item_leaves_the_good_one_before_it_out(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  double before = figure_of(gear, "carabiner", "efficiency").likely;
  assert_status(add(gear, "{firnhaul_gear: 1, items: [{name: carabiner, efficiency: 0.61}, {name: y, like: z}]}", NULL), FH_ERR_INPUT);
  assert_exact(figure_of(gear, "carabiner", "efficiency").likely, before);
  assert_int_equal(fh_gear_find(gear, "y"), -1);
  fh_gear_destroy(gear);
}

static void too_long_texts_and_too_many_items_are_refused(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  size_t size = 60000;
  char *text = calloc(size, 1);
  assert_non_null(text);
  strcpy(text, "{firnhaul_gear: 1, items: [{name: x, like: pulley, about: ");
  memset(text + strlen(text), 'a', 301);
  strcat(text, "}]}");
  fh_diag diag = {0};
  assert_status(add(gear, text, &diag), FH_ERR_INPUT);
  assert_non_null(strstr(diag.message, "too long"));
  strcpy(text, "{firnhaul_gear: 1, items: [");
  for (int i = 0; i < 1000; i++) {
    snprintf(text + strlen(text), 64, "{name: x%d, like: pulley},", i);
  }
  strcat(text, "]}");
  assert_status(add(gear, text, &diag), FH_ERR_INPUT);
  assert_non_null(strstr(diag.message, "too many"));
  free(text);
  fh_gear_destroy(gear);
}

static void an_unfinished_document_is_refused(void **state) {
  (void)state;
  fh_gear *gear = open_gear();
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  assert_status(fh_doc_create(&doc), FH_OK);
  assert_status(fh_gear_add(gear, doc, &diag), FH_ERR_INPUT);
  assert_non_null(strstr(diag.message, "not a gear file"));
  fh_doc_destroy(doc);
  fh_gear_destroy(gear);
}

static void the_example_of_the_docs_is_read(void **state) {
  (void)state;
  char path[1024];
  const char *root = getenv("FH_SOURCE");
  snprintf(path, sizeof path, "%s/docs/gear.md", root != NULL ? root : ".");
  FILE *file = fopen(path, "rb");
  assert_non_null(file);
  char *text = calloc(1, 65536);
  assert_non_null(text);
  assert_true(fread(text, 1, 65535, file) > 0);
  fclose(file);
  char *start = strstr(text, "```yaml\n"), *end = start == NULL ? NULL : strstr(start + 8, "```");
  assert_non_null(end);
  *end = '\0';
  fh_gear *gear = open_gear();
  fh_diag diag = {0};
  assert_status(add(gear, start + 8, &diag), FH_OK);
  assert_exact(figure_of(gear, "our-pulley", "efficiency").lo, 0.90);
  assert_exact(figure_of(gear, "prusik", "slip_wet_N").likely, 2000.0);
  assert_exact(figure_of(gear, "plank", "friction").sd, 0.05);
  fh_gear_destroy(gear);
  free(text);
}

// The n-th request for memory fails, for every n until all goes well: a clean error each time, nothing half done, no leak.
static void every_allocation_may_fail(void **state) {
  (void)state;
#ifdef FHI_FAULT
  static const char TEXT[] = "{firnhaul_gear: 1, items: [{name: our-pulley, like: pulley, efficiency: 0.9}, {name: carabiner, efficiency: 0.61}]}";
  fh_doc *doc = read_doc(TEXT);
  bool done = false;
  int failed = 0;
  for (long n = 1; !done; n++) {
    fh_gear *gear = NULL;
    fhi_fault_after(n);
    fh_status status = fh_gear_create(&gear);
    if (status == FH_OK) {
      int before = fh_gear_count(gear);
      status = fh_gear_add(gear, doc, NULL);
      assert_int_equal(fh_gear_count(gear), status == FH_OK ? before + 1 : before);
      assert_true(status == FH_OK || figure_of(gear, "carabiner", "efficiency").likely != 0.61);
    }
    assert_true(status == FH_OK || status == FH_ERR_MEMORY);
    done = status == FH_OK;
    failed += !done;
    fhi_fault_after(0);
    fh_gear_destroy(gear);
  }
  assert_true(failed >= 8);
  fh_doc_destroy(doc);
#else
  skip();
#endif
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_names_that_scenes_rely_on_are_there),
      cmocka_unit_test(what_is_not_there_is_said_so),
      cmocka_unit_test(a_figure_comes_with_its_row),
      cmocka_unit_test(an_own_item_takes_the_rest_from_the_one_it_is_like),
      cmocka_unit_test(an_own_item_of_a_known_name_replaces_it),
      cmocka_unit_test(a_new_item_needs_no_forebear),
      cmocka_unit_test(every_bad_gear_file_is_refused_with_its_place),
      cmocka_unit_test(a_bad_item_leaves_the_good_one_before_it_out),
      cmocka_unit_test(too_long_texts_and_too_many_items_are_refused),
      cmocka_unit_test(an_unfinished_document_is_refused),
      cmocka_unit_test(the_example_of_the_docs_is_read),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
