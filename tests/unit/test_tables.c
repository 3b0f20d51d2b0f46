// SPDX-License-Identifier: MIT
// Walks every row of the catalogue: names, units, ranges, sources; recomputes what can be recomputed; compares docs/.
#include "fh_test.h"

#include "gear_docs.h"

static const double G = 9.80665;

static int open_gear(void **state) {
  return fh_gear_create((fh_gear **)state) == FH_OK ? 0 : 1;
}

static int close_gear(void **state) {
  fh_gear_destroy(*state);
  return 0;
}

// Calls `visit` for each figure. @return how many there were
static int walk(const fh_gear *gear, void (*visit)(const fh_item *, const fh_figure *)) {
  int seen = 0;
  for (int i = 0; i < fh_gear_count(gear); i++) {
    const fh_item *item = fh_gear_item(gear, i);
    for (int k = 0; k < item->figure_count; k++) {
      visit(item, &item->figures[k]);
      seen++;
    }
  }
  return seen;
}

static void say(const fh_item *item, const fh_figure *f, bool good, const char *what) {
  if (!good) {
    print_error("%s, %s: %s\n", item->name, f->what, what);
  }
  assert_true(good);
}

static void items_are_sorted_and_their_names_are_theirs_alone(void **state) {
  const fh_gear *gear = *state;
  assert_true(fh_gear_count(gear) >= 50);
  for (int i = 0; i < fh_gear_count(gear); i++) {
    const fh_item *a = fh_gear_item(gear, i);
    assert_true(strlen(a->name) > 0 && strlen(a->name) < FH_NAME);
    assert_int_equal(strspn(a->name, "abcdefghijklmnopqrstuvwxyz0123456789-"), strlen(a->name));
    assert_true(a->about[0] != '\0' && a->figure_count > 0);
    assert_int_equal(fh_gear_find(gear, a->name), i);  // the first of that name, so the only one
    if (i > 0) {
      const fh_item *b = fh_gear_item(gear, i - 1);
      assert_true(b->item_class < a->item_class || (b->item_class == a->item_class && strcmp(b->name, a->name) < 0));
    }
  }
}

static bool ends_in(const char *text, const char *end) {
  size_t n = strlen(text), m = strlen(end);
  return n > m && strcmp(text + n - m, end) == 0;
}

static void unit_fits(const fh_item *item, const fh_figure *f) {
  static const char *const ENDS[][2] = {{"_N", "N"}, {"_m", "m"}, {"_kg", "kg"}, {"_kgpm", "kg/m"}, {"_W", "W"}, {"_Pa", "Pa"}, {"_m2", "m2"}, {"_rad", "rad"}};
  const char *want = "1";
  for (size_t i = 0; i < sizeof ENDS / sizeof *ENDS; i++) {
    want = ends_in(f->what, ENDS[i][0]) ? ENDS[i][1] : want;
  }
  say(item, f, strcmp(f->unit, want) == 0, "the key's ending and the unit differ");
}

static void value_is_sound(const fh_item *item, const fh_figure *f) {
  const fh_number *v = &f->value;
  say(item, f, isfinite(v->lo) && isfinite(v->likely) && isfinite(v->hi), "not finite");
  say(item, f, v->lo <= v->likely && v->likely <= v->hi, "out of order");
  say(item, f, v->lo >= 0.0 && v->sd == 0.0 && v->line == 0, "negative, or with a spread or a place");
  bool exact = v->lo == v->hi;
  say(item, f, exact == (v->spread == FH_SPREAD_EXACT), "a range of no width, or an exact value with one");
  say(item, f, v->spread != FH_SPREAD_UNIFORM || fabs(v->likely - 0.5 * (v->lo + v->hi)) <= 1e-12 * v->hi, "not the middle");
  if (strcmp(f->what, "efficiency") == 0) {
    say(item, f, v->lo >= 0.05 && v->hi <= 1.0, "no efficiency");
  }
  if (strcmp(f->what, "share") == 0 || ends_in(f->what, "_share")) {
    say(item, f, v->hi <= 1.0, "no share");
  }
}

// Keys in square brackets are further sources.
static void brackets_are_known(const fh_item *item, const fh_figure *f) {
  for (const char *at = strchr(f->note, '['); at != NULL; at = strchr(at + 1, '[')) {
    char key[64];
    const char *end = strchr(at, ']');
    say(item, f, end != NULL && (size_t)(end - at) < sizeof key, "a bracket that does not close");
    snprintf(key, sizeof key, "%.*s", (int)(end - at - 1), at + 1);
    say(item, f, fh_reference_find(key) != NULL, "a bracket that names no source");
  }
}

static void source_fits(const fh_item *item, const fh_figure *f) {
  brackets_are_known(item, f);
  bool practice = strncmp(f->note, "common practice, no source", 26) == 0;
  say(item, f, f->note[0] != '\0', "no note");
  say(item, f, f->ref[0] == '\0' || fh_reference_find(f->ref) != NULL, "unknown source");
  switch (f->basis) {
  case FH_BASIS_PUBLISHED:
  case FH_BASIS_STANDARD: say(item, f, f->ref[0] != '\0' && !practice, "published without a source"); break;
  case FH_BASIS_PRACTICE: say(item, f, f->ref[0] == '\0' && practice, "practice has to say so, and has no source"); break;
  case FH_BASIS_MEMORY: say(item, f, !practice, "memory or practice?"); break;
  case FH_BASIS_OWN: say(item, f, false, "the built-in catalogue holds nobody's own figures"); break;
  }
}

static void a_key_stands_once(const fh_item *item, const fh_figure *f) {
  int seen = 0;
  for (int k = 0; k < item->figure_count; k++) {
    seen += strcmp(item->figures[k].what, f->what) == 0;
  }
  say(item, f, seen == 1, "twice in one item");
}

static void every_figure_has_its_unit_range_and_source(void **state) {
  const fh_gear *gear = *state;
  assert_true(walk(gear, unit_fits) > 150);
  walk(gear, value_is_sound);
  walk(gear, source_fits);
  walk(gear, a_key_stands_once);
}

// What solvers ask for without looking back.
static void every_class_has_the_figures_that_it_needs(void **state) {
  static const char *const NEEDS[][4] = {
      [FH_ITEM_BAR] = {"efficiency", "share"},
      [FH_ITEM_SHEAVE] = {"efficiency", "share", "strength_N"},
      [FH_ITEM_CAPTURE] = {"efficiency", "share", "strength_N", "set_back_m"},
      [FH_ITEM_HITCH] = {"set_back_m", "strength_N"},
      [FH_ITEM_SURFACE] = {"friction"},
      [FH_ITEM_ROPE] = {"diameter_m", "modulus_N", "knotted_N", "mass_kgpm"},
      [FH_ITEM_POSTURE] = {"pull_N", "sustained_N", "hands", "footing_share"},
      [FH_ITEM_ANCHOR] = {"holds_N"},
      [FH_ITEM_OTHER] = {NULL},
  };
  const fh_gear *gear = *state;
  for (int i = 0; i < fh_gear_count(gear); i++) {
    const fh_item *item = fh_gear_item(gear, i);
    for (int k = 0; k < 4 && NEEDS[item->item_class][k] != NULL; k++) {
      if (!fh_number_is_set(fh_gear_figure(gear, i, NEEDS[item->item_class][k], NULL))) {
        print_error("%s has no %s\n", item->name, NEEDS[item->item_class][k]);
        fail();
      }
    }
    bool grips = item->item_class != FH_ITEM_HITCH || fh_number_is_set(fh_gear_figure(gear, i, "slip_N", NULL)) ||
                 fh_number_is_set(fh_gear_figure(gear, i, "sheath_N", NULL));
    assert_true(grips);
  }
}

// ---- recomputed

static fh_number of(const fh_gear *gear, const char *item, const char *what) {
  fh_number n = fh_gear_figure(gear, fh_gear_find(gear, item), what, NULL);
  assert_true(fh_number_is_set(n));
  return n;
}

// EN 564: a cord of d mm holds 0.2 d^2 kN. Source: standard tables (4, 5, 6, 7, 8 mm: 3.2, 5.0, 7.2, 9.8, 12.8 kN).
static double cord_strength(double d_mm) {
  return 200.0 * d_mm * d_mm;
}

static void cords_hold_a_fifth_of_their_squared_diameter(void **state) {
  const fh_gear *gear = *state;
  assert_close(cord_strength(5.0), 5000.0, 1e-15);
  assert_close(cord_strength(8.0), 12800.0, 1e-15);
  double d = of(gear, "cord", "diameter_m").likely * 1000.0;
  assert_close(of(gear, "cord", "strength_N").likely, cord_strength(d), 1e-12);
  static const struct {
    const char *item;
    double d_mm;
  } LOOPS[] = {{"prusik", 6.0}, {"autoblock", 6.0}, {"klemheist", 6.0}, {"prusik-5mm", 5.0}, {"prusik-7mm", 7.0}};
  for (size_t i = 0; i < sizeof LOOPS / sizeof *LOOPS; i++) {
    fh_number loop = of(gear, LOOPS[i].item, "strength_N");
    assert_close(loop.lo, 2.0 * 0.5 * cord_strength(LOOPS[i].d_mm), 1e-12);
    assert_close(loop.hi, 2.0 * 0.7 * cord_strength(LOOPS[i].d_mm), 1e-12);
  }
}

static void a_rope_s_modulus_is_a_weight_over_its_stretch(void **state) {
  const fh_gear *gear = *state;
  static const struct {
    const char *rope;
    double mass;
  } ROPES[] = {{"half", 80.0}, {"single", 80.0}, {"twin", 80.0}, {"low-stretch", 100.0}};
  for (size_t i = 0; i < sizeof ROPES / sizeof *ROPES; i++) {
    fh_number m = of(gear, ROPES[i].rope, "modulus_N"), s = of(gear, ROPES[i].rope, "static_stretch");
    assert_close(m.lo, fh_rope_modulus_from_stretch(s.hi, ROPES[i].mass), 1e-12);
    assert_close(m.hi, fh_rope_modulus_from_stretch(s.lo, ROPES[i].mass), 1e-12);
    assert_close(m.lo, ROPES[i].mass * G / s.hi, 1e-12);
  }
}

static void a_knotted_rope_is_strength_times_share(void **state) {
  static const char *const ROPES[] = {"half", "single", "twin", "cord"};
  for (size_t i = 0; i < sizeof ROPES / sizeof *ROPES; i++) {
    fh_number s = of(*state, ROPES[i], "strength_N"), k = of(*state, ROPES[i], "knot_share"), both = of(*state, ROPES[i], "knotted_N");
    assert_close(both.lo, s.lo * k.lo, 1e-12);
    assert_close(both.hi, s.hi * k.hi, 1e-12);
  }
}

static void bearing_pressure_is_holding_over_area(void **state) {
  static const char *const STAKES[] = {"mid-clip", "t-slot"};
  for (size_t i = 0; i < sizeof STAKES / sizeof *STAKES; i++) {
    fh_number h = of(*state, STAKES[i], "holds_N"), a = of(*state, STAKES[i], "area_m2"), p = of(*state, STAKES[i], "bearing_Pa");
    assert_close(p.lo, h.lo / a.likely, 1e-12);
    assert_close(p.hi, h.hi / a.likely, 1e-12);
  }
}

// Strong snow: mid-clip > T-slot > top-clip > over-angled mid-clip. Source: [nz-sar-2008], the order as printed.
static void the_best_cases_of_snow_anchors_keep_the_measured_order(void **state) {
  assert_true(of(*state, "mid-clip", "holds_N").hi > of(*state, "t-slot", "holds_N").hi);
  assert_true(of(*state, "t-slot", "holds_N").hi > of(*state, "top-clip", "holds_N").hi);
  assert_true(of(*state, "top-clip", "holds_N").hi > of(*state, "mid-clip", "holds_N").lo);
}

static void wet_hitches_and_open_gates_hold_no_more(void **state) {
  const fh_gear *gear = *state;
  for (int i = 0; i < fh_gear_count(gear); i++) {
    fh_number dry = fh_gear_figure(gear, i, "slip_N", NULL), wet = fh_gear_figure(gear, i, "slip_wet_N", NULL);
    if (fh_number_is_set(dry)) {
      assert_true(fh_number_is_set(wet) && wet.lo <= dry.lo && wet.likely <= dry.likely && wet.hi <= dry.hi);
    }
    fh_number shut = fh_gear_figure(gear, i, "strength_N", NULL), open = fh_gear_figure(gear, i, "strength_open_N", NULL);
    if (fh_number_is_set(open)) {
      assert_true(open.hi < shut.lo);
    }
    fh_number pull = fh_gear_figure(gear, i, "pull_N", NULL), minutes = fh_gear_figure(gear, i, "sustained_N", NULL);
    if (fh_number_is_set(pull)) {
      assert_true(minutes.lo <= pull.lo && minutes.likely <= pull.likely && minutes.hi <= pull.hi);
    }
  }
}

// ---- own gear files' keys

static void gear_keys_are_sound_and_fit_the_catalogue(void **state) {
  const fh_gear *gear = *state;
  int count = 0;
  const fhi_gear_key *keys = fhi_gear_keys(&count);
  assert_true(count > 10);
  for (int i = 0; i < count; i++) {
    assert_true(keys[i].lo <= keys[i].hi && keys[i].up > 0.0 && keys[i].down > 0.0 && keys[i].classes != 0 && keys[i].help[0] != '\0');
    assert_ptr_equal(fhi_gear_key_find(keys[i].key), &keys[i]);
  }
  assert_null(fhi_gear_key_find("colour"));
  // Every built-in figure of such a key has that unit and lies where an own file may put it.
  int met = 0;
  for (int i = 0; i < fh_gear_count(gear); i++) {
    for (int k = 0; k < count; k++) {
      const fh_figure *f = NULL;
      fh_number n = fh_gear_figure(gear, i, keys[k].what, &f);
      if (f != NULL && (keys[k].classes >> fh_gear_item(gear, i)->item_class & 1u) != 0) {
        assert_string_equal(f->unit, keys[k].unit);
        assert_true(n.lo * keys[k].down / keys[k].up >= keys[k].lo && n.hi * keys[k].down / keys[k].up <= keys[k].hi);
        met++;
      }
    }
  }
  assert_true(met > 100);
}

static void the_classes_of_the_message_are_all_classes(void **state) {
  (void)state;
  fh_item_class found;
  for (int c = FH_ITEM_BAR; c <= FH_ITEM_OTHER; c++) {
    assert_true(fhi_gear_class_find(fhi_class_name((fh_item_class)c), &found));
    assert_int_equal(found, c);
    assert_non_null(strstr(FHI_GEAR_CLASSES, fhi_class_name((fh_item_class)c)));
  }
  assert_false(fhi_gear_class_find("wheel", &found));
}

// ---- references, checks and docs

// A file of the source tree. The caller frees it.
static char *read_file(const char *name) {
  char path[1024];
  const char *root = getenv("FH_SOURCE");
  snprintf(path, sizeof path, "%s/%s", root != NULL ? root : ".", name);
  FILE *file = fopen(path, "rb");
  if (file == NULL) {
    print_error("%s cannot be read\n", path);
  }
  assert_non_null(file);
  char *text = calloc(1, 1 << 20);
  assert_non_null(text);
  size_t n = fread(text, 1, (1 << 20) - 1, file);
  assert_true(n > 0 && n < (1 << 20) - 1);
  fclose(file);
  return text;
}

static char *all_checks(void) {
  static const char *const NAMES[] = {"anchor", "budget", "catalogue", "catch", "contact", "crew", "edge", "legs", "resultant", "rope", "tackle"};
  char *all = calloc(1, 1 << 21);
  assert_non_null(all);
  for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++) {
    char name[64];
    snprintf(name, sizeof name, "tests/check/%s.check", NAMES[i]);
    char *text = read_file(name);
    strcat(all, text);
    free(text);
  }
  return all;
}

static void references_are_sorted_whole_and_used(void **state) {
  const fh_gear *gear = *state;
  int count = 0;
  const fh_reference *list = fh_reference_list(&count);
  char *checks = all_checks();
  for (int i = 0; i < count; i++) {
    assert_true(list[i].text[0] != '\0' && list[i].read[0] != '\0');
    assert_true(i == 0 || strcmp(list[i - 1].key, list[i].key) < 0);
    char line[80];
    snprintf(line, sizeof line, "source %s ", list[i].key);
    bool used = strstr(checks, line) != NULL;
    for (int k = 0; k < fh_gear_count(gear) && !used; k++) {
      const fh_item *item = fh_gear_item(gear, k);
      for (int f = 0; f < item->figure_count; f++) {
        used = used || figure_cites(&item->figures[f], list[i].key);
      }
    }
    if (!used) {
      print_error("nothing cites %s\n", list[i].key);
    }
    assert_true(used);
  }
  free(checks);
}

// A figure said to be published or a standard's has to meet its source in a check file.
static void every_published_figure_is_checked(void **state) {
  const fh_gear *gear = *state;
  char *checks = all_checks();
  int missing = 0, seen = 0;
  for (int i = 0; i < fh_gear_count(gear); i++) {
    const fh_item *item = fh_gear_item(gear, i);
    for (int k = 0; k < item->figure_count; k++) {
      char line[128];
      snprintf(line, sizeof line, "given   item %s   figure %s\n", item->name, item->figures[k].what);
      bool published = item->figures[k].basis == FH_BASIS_PUBLISHED || item->figures[k].basis == FH_BASIS_STANDARD;
      seen += published;
      // Recomputed above: a modulus from its stretch.
      if (published && strcmp(item->figures[k].what, "modulus_N") != 0 && strstr(checks, line) == NULL) {
        print_error("no check of %s, %s\n", item->name, item->figures[k].what);
        missing++;
      }
    }
  }
  free(checks);
  assert_true(seen > 60);
  assert_int_equal(missing, 0);
}

static char *written(void (*write)(FILE *, const fh_gear *), const fh_gear *gear) {
  FILE *file = tmpfile();
  assert_non_null(file);
  write(file, gear);
  long n = ftell(file);
  assert_true(n > 0);
  rewind(file);
  char *text = calloc(1, (size_t)n + 1);
  assert_non_null(text);
  assert_int_equal(fread(text, 1, (size_t)n, file), n);
  fclose(file);
  return text;
}

static void write_keys(FILE *to, const fh_gear *gear) {
  (void)gear;
  write_gear_keys(to);
}

static void the_docs_are_what_the_tables_say(void **state) {
  char *sources = read_file("docs/sources.md"), *want = written(write_sources, *state);
  assert_string_equal(sources, want);
  free(sources);
  free(want);
  char *gear = read_file("docs/gear.md");
  want = written(write_keys, *state);
  assert_non_null(strstr(gear, want));
  free(gear);
  free(want);
}

int main(void) {
#define CASE(f) cmocka_unit_test_setup_teardown(f, open_gear, close_gear)
  const struct CMUnitTest tests[] = {
      CASE(items_are_sorted_and_their_names_are_theirs_alone),
      CASE(every_figure_has_its_unit_range_and_source),
      CASE(every_class_has_the_figures_that_it_needs),
      CASE(cords_hold_a_fifth_of_their_squared_diameter),
      CASE(a_rope_s_modulus_is_a_weight_over_its_stretch),
      CASE(a_knotted_rope_is_strength_times_share),
      CASE(bearing_pressure_is_holding_over_area),
      CASE(the_best_cases_of_snow_anchors_keep_the_measured_order),
      CASE(wet_hitches_and_open_gates_hold_no_more),
      CASE(gear_keys_are_sound_and_fit_the_catalogue),
      CASE(the_classes_of_the_message_are_all_classes),
      CASE(references_are_sorted_whole_and_used),
      CASE(every_published_figure_is_checked),
      CASE(the_docs_are_what_the_tables_say),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
