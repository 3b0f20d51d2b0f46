// SPDX-License-Identifier: MIT
// The scene's table, row by row: nothing in it contradicts itself, and the defaults with a source follow from the source.
#include "fh_test.h"

#include "keys.h"
#include "read.h"

static const fh_key *keys(int *count) {
  const fh_key *k = fh_key_list(count);
  assert_non_null(k);
  assert_true(*count > 60);
  return k;
}

static void paths_are_unique_and_follow_their_map(void **state) {
  (void)state;
  int count = 0;
  const fh_key *k = keys(&count);
  for (int i = 0; i < count; i++) {
    for (int j = 0; j < i; j++) {
      assert_string_not_equal(k[i].path, k[j].path);
    }
    const char *dot = strrchr(k[i].path, '.');
    if (dot != NULL) {
      char parent[64];
      (void)snprintf(parent, sizeof parent, "%.*s", (int)(dot - k[i].path), k[i].path);
      int row = fhi_key_row(parent);
      assert_true(row >= 0 && row < i);
      bool holds_keys = strcmp(k[row].type, "map") == 0 || strcmp(k[row].type, "list") == 0;
      assert_true(holds_keys);
    }
    bool list = strcmp(k[i].path + strlen(k[i].path) - 2, "[]") == 0;
    assert_int_equal(list, strcmp(k[i].type, "list") == 0);
  }
  assert_int_equal(fhi_key_row("load.weight_kg"), -1);
}

static void children_are_found_by_their_written_name(void **state) {
  (void)state;
  int count = 0, seen = 0;
  const fh_key *k = keys(&count);
  for (int parent = -1; parent < count; parent++) {
    for (int row = fhi_key_next(parent, -1); row >= 0; row = fhi_key_next(parent, row)) {
      char name[FH_NAME];
      fhi_key_name(row, name, sizeof name);
      assert_int_equal(fhi_key_child(parent, name), row);
      assert_null(strchr(name, '['));
      seen++;
    }
  }
  assert_int_equal(seen, count);  // each row hangs in exactly one place
  assert_int_equal(fhi_key_child(-1, "crew[]"), -1);
  assert_int_equal(fhi_key_child(-1, "mass_kg"), -1);
  assert_string_equal(k[fhi_key_child(fhi_key_row("crew[]"), "mass_kg")].path, "crew[].mass_kg");
}

// A key with a unit ends in it, so that nobody can take one unit for another.
static void keys_end_in_their_unit(void **state) {
  (void)state;
  static const struct {
    const char *unit, *ending;
  } ENDINGS[] = {{"kg", "_kg"},   {"m", "_m"},     {"s", "_s"},   {"N", "_N"},
                 {"m/s", "_mps"}, {"deg", "_deg"}, {"mm", "_mm"}, {"kN", "_kN"}, {"kPa", "_kPa"}};
  int count = 0;
  const fh_key *k = keys(&count);
  for (int i = 0; i < count; i++) {
    bool bare = k[i].unit[0] == '\0' || strcmp(k[i].unit, "1") == 0;
    const char *ending = bare ? "" : NULL;
    for (size_t e = 0; e < sizeof ENDINGS / sizeof ENDINGS[0]; e++) {
      ending = strcmp(k[i].unit, ENDINGS[e].unit) == 0 ? ENDINGS[e].ending : ending;
    }
    assert_non_null(ending);
    assert_string_equal(k[i].path + strlen(k[i].path) - strlen(ending), ending);
    assert_false(isnan(fhi_to_si(k[i].unit, 1.0)));  // the unit table knows it
  }
}

static bool is_number(const fh_key *k) {
  static const char *const TYPES[] = {"number", "plain", "range", "integer"};
  for (size_t i = 0; i < sizeof TYPES / sizeof TYPES[0]; i++) {
    if (strcmp(k->type, TYPES[i]) == 0) {
      return true;
    }
  }
  return false;
}

static void ranges_have_a_low_and_a_high_end(void **state) {
  (void)state;
  int count = 0;
  const fh_key *k = keys(&count);
  for (int i = 0; i < count; i++) {
    assert_true(isfinite(k[i].lo) && isfinite(k[i].hi) && k[i].lo <= k[i].hi);
    if (is_number(&k[i]) && strcmp(k[i].path, "firnhaul") != 0) {
      assert_true(k[i].lo < k[i].hi);
    }
    size_t help = strlen(k[i].help);
    assert_true(help > 5 && k[i].help[help - 1] == '.');
  }
}

static void a_key_is_required_or_has_a_default(void **state) {
  (void)state;
  int count = 0;
  const fh_key *k = keys(&count);
  for (int i = 0; i < count; i++) {
    assert_int_equal(k[i].required, k[i].fallback[0] == '\0');
  }
  static const char *const REQUIRED[] = {"firnhaul", "load", "slot", "lip", "ground", "load.mass_kg", "slot.depth_m"};
  for (size_t i = 0; i < sizeof REQUIRED / sizeof REQUIRED[0]; i++) {
    assert_true(k[fhi_key_row(REQUIRED[i])].required);
  }
}

static void written_defaults_are_accepted_values(void **state) {
  (void)state;
  fh_gear *gear = NULL;
  int count = 0;
  const fh_key *k = keys(&count);
  assert_int_equal(fh_gear_create(&gear), FH_OK);
  for (int i = 0; i < count; i++) {
    const char *text = k[i].fallback;
    if (text[0] == '(' || text[0] == '\0') {
      continue;
    }
    if (is_number(&k[i])) {
      fh_number n = fhi_default_number(&k[i]);
      assert_true(fh_number_is_set(n));
      assert_within(fhi_from_si(k[i].unit, n.lo), k[i].lo, k[i].hi);
      assert_within(fhi_from_si(k[i].unit, n.hi), k[i].lo, k[i].hi);
      assert_true(n.lo <= n.likely && n.likely <= n.hi);
    } else if (strcmp(k[i].type, "item") == 0) {
      int item = fh_gear_find(gear, text);
      assert_true(item >= 0);
      assert_true((k[i].classes >> fh_gear_item(gear, item)->item_class & 1u) != 0);
    } else if (strcmp(k[i].type, "choice") == 0) {
      assert_true(fhi_choice(k[i].choices, text) >= 0);
    } else if (strcmp(k[i].type, "flag") == 0) {
      assert_true(strcmp(text, "true") == 0 || strcmp(text, "false") == 0);
    } else {
      assert_string_equal(k[i].type, "name");
    }
  }
  fh_gear_destroy(gear);
}

static void items_name_their_classes_and_nothing_else_does(void **state) {
  (void)state;
  int count = 0;
  const fh_key *k = keys(&count);
  for (int i = 0; i < count; i++) {
    assert_int_equal(k[i].classes != 0, strcmp(k[i].type, "item") == 0);
    assert_true(k[i].classes >> (FH_ITEM_OTHER + 1) == 0);
    bool choices = strcmp(k[i].type, "choice") == 0 || strcmp(k[i].path, "team.knots") == 0;
    assert_int_equal(k[i].choices[0] != '\0', choices);
  }
}

static void choices_are_found_whole(void **state) {
  (void)state;
  assert_int_equal(fhi_choice("pull|time|pieces|safe", "pull"), 0);
  assert_int_equal(fhi_choice("pull|time|pieces|safe", "safe"), 3);
  assert_int_equal(fhi_choice("pull|time|pieces|safe", "pul"), -1);
  assert_int_equal(fhi_choice("pull|time|pieces|safe", "pull|time"), -1);
  assert_int_equal(fhi_choice("pull|time|pieces|safe", ""), -1);
  assert_int_equal(fhi_choice("", "pull"), -1);
}

// Default modulus of the team's rope: impact forces of 5 and 7.5 kN in the half rope's drop, 55 kg and fall factor 1.77
// (EN 892, from memory; the equation of rope impact, model.md section 6). The table rounds to whole kN.
static void the_teams_default_modulus_follows_from_the_standards_drop(void **state) {
  (void)state;
  fh_number n = fhi_default_number(&fh_key_list(NULL)[fhi_key_row("team.rope.modulus_kN")]);
  assert_near(n.lo, fh_rope_modulus_from_impact(5000.0, 55.0, 1.77), 500.0);
  assert_near(n.hi, fh_rope_modulus_from_impact(7500.0, 55.0, 1.77), 500.0);
}

// Default footing: low traction 0.2 to 0.3, medium about 0.6 (MIL-STD-1472's table of pulls, from memory).
static void the_default_footing_is_low_to_medium_traction(void **state) {
  (void)state;
  fh_number n = fhi_default_number(&fh_key_list(NULL)[fhi_key_row("crew[].footing")]);
  assert_exact(n.lo, 0.2);
  assert_exact(n.hi, 0.6);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(paths_are_unique_and_follow_their_map),
      cmocka_unit_test(children_are_found_by_their_written_name),
      cmocka_unit_test(keys_end_in_their_unit),
      cmocka_unit_test(ranges_have_a_low_and_a_high_end),
      cmocka_unit_test(a_key_is_required_or_has_a_default),
      cmocka_unit_test(written_defaults_are_accepted_values),
      cmocka_unit_test(items_name_their_classes_and_nothing_else_does),
      cmocka_unit_test(choices_are_found_whole),
      cmocka_unit_test(the_teams_default_modulus_follows_from_the_standards_drop),
      cmocka_unit_test(the_default_footing_is_low_to_medium_traction),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
