// SPDX-License-Identifier: MIT
// The phrases: every row is whole, formats keep their conversions, names are put over part by part, and nothing that the
// examples make the core say is without a row.
#define _POSIX_C_SOURCE 200809L  // glob
#include "fh_test.h"

#include <ctype.h>
#include <glob.h>

#include "firnhaul_anchor.h"
#include "firnhaul_chance.h"
#include "firnhaul_rescue.h"
#include "firnhaul_team.h"
#include "memory.h"
#include "scene_text.h"
#include "text.h"
#include "words.h"

static const fh_language OTHERS[] = {FH_GERMAN, FH_FRENCH, FH_ITALIAN};

static void every_row_is_whole_and_in_order(void **state) {
  (void)state;
  assert_true(fhi_word_count() > 500);
  for (int row = 0; row < fhi_word_count(); row++) {
    if (row > 0) {
      assert_true(strcmp(fhi_word_at(FH_ENGLISH, row - 1), fhi_word_at(FH_ENGLISH, row)) < 0);
    }
    for (int l = 0; l < FH_LANGUAGES; l++) {
      assert_true(fhi_word_at((fh_language)l, row)[0] != '\0');
    }
    for (size_t l = 0; l < 3; l++) {
      assert_string_equal(fhi_say(OTHERS[l], fhi_word_at(FH_ENGLISH, row)), fhi_word_at(OTHERS[l], row));
    }
    assert_string_equal(fhi_say(FH_ENGLISH, fhi_word_at(FH_ENGLISH, row)), fhi_word_at(FH_ENGLISH, row));
  }
  assert_string_equal(fhi_word_at(FH_GERMAN, -1), "");
  assert_string_equal(fhi_word_at(FH_GERMAN, fhi_word_count()), "");
}

static bool is_letter(unsigned char c) {
  return c >= 0x80 || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool has_word(const char *text, const char *word) {
  for (const char *at = text; (at = strstr(at, word)) != NULL; at++) {
    if ((at == text || !is_letter((unsigned char)at[-1])) && !is_letter((unsigned char)at[strlen(word)])) {
      return true;
    }
  }
  return false;
}

// English: what the catalogue joins with hyphens comes apart; what somebody calls their own gear stays as they wrote it.
static void names_of_the_catalogue_come_apart_and_those_of_ones_own_do_not(void **state) {
  (void)state;
  static const char OWN[] = "firnhaul_gear: 1\nitems:\n  - {name: our-old-pulley, like: pulley}\n";
  fh_gear *gear = NULL;
  fh_diag diag;
  int joined = 0;
  assert_status(fh_gear_create(&gear), FH_OK);
  for (int i = 0; i < fh_gear_count(gear); i++) {
    const char *name = fh_gear_item(gear, i)->name;
    const char *said = fhi_item_said(FH_ENGLISH, gear, i);
    joined += strchr(name, '-') != NULL;
    if (strchr(name, '-') == NULL) {
      assert_string_equal(said, name);
    } else if (strcmp(name, "low-stretch") != 0) {  // written so by everybody
      assert_string_not_equal(said, name);
    }
  }
  assert_true(joined > 30);
  fh_doc *doc = NULL;
  assert_status(cli_yaml_parse(OWN, strlen(OWN), &doc, &diag), FH_OK);
  assert_status(fh_gear_add(gear, doc, &diag), FH_OK);
  fh_doc_destroy(doc);
  assert_string_equal(fhi_item_said(FH_ENGLISH, gear, fh_gear_find(gear, "our-old-pulley")), "our-old-pulley");
  fh_gear_destroy(gear);
  char said[120];
  assert_string_equal(fhi_name_said(said, sizeof said, FH_ENGLISH, "toothed-capture on station"), "toothed capture on station");
  assert_string_equal(fhi_name_said(said, sizeof said, FH_ENGLISH, "anchor point 2, ice-screw"), "anchor point 2, ice screw");
  assert_string_equal(fhi_name_said(said, sizeof said, FH_ENGLISH, "our-old-pulley on block-1"), "our-old-pulley on block-1");
  assert_string_equal(fhi_name_said(said, sizeof said, FH_ENGLISH, "rope-5 from load to lip (2)"), "rope-5 from load to lip (2)");
}

// One form of address a language: German and French speak of what is done, in the infinitive; Italian says tu or the infinitive.
static void nobody_is_addressed_in_two_ways(void **state) {
  (void)state;
  static const struct {
    fh_language language;
    const char *word;
  } TELLTALE[] = {
      {FH_GERMAN, "du"},       {FH_GERMAN, "Du"},        {FH_GERMAN, "dich"},     {FH_GERMAN, "dir"},   {FH_GERMAN, "dein"},   {FH_GERMAN, "deine"},  {FH_GERMAN, "deinen"}, {FH_GERMAN, "Ihnen"},
      {FH_GERMAN, "Ihre"},     {FH_GERMAN, "Ihren"},     {FH_FRENCH, "tu"},       {FH_FRENCH, "Tu"},    {FH_FRENCH, "toi"},    {FH_FRENCH, "ta"},     {FH_FRENCH, "ton"},    {FH_FRENCH, "tes"},
      {FH_FRENCH, "vous"},     {FH_FRENCH, "votre"},     {FH_FRENCH, "vos"},      {FH_ITALIAN, "Lei"},  {FH_ITALIAN, "voi"},   {FH_ITALIAN, "vostra"}, {FH_ITALIAN, "Tirate"}, {FH_ITALIAN, "tirate"},
      {FH_ITALIAN, "Fermatevi"}, {FH_ITALIAN, "fermatevi"}, {FH_ITALIAN, "fate"}, {FH_ITALIAN, "tenete"}, {FH_ITALIAN, "lasciate"},
  };
  for (int row = 0; row < fhi_word_count(); row++) {
    for (size_t i = 0; i < sizeof TELLTALE / sizeof TELLTALE[0]; i++) {
      const char *said = fhi_word_at(TELLTALE[i].language, row);
      if (has_word(said, TELLTALE[i].word)) {
        print_error("'%s' in: %s\n", TELLTALE[i].word, said);
        fail();
      }
    }
  }
}

// The next conversion of a format; a per cent sign that starts none is passed over. @return its last letter, 0 at the end
static char conversion(const char **at) {
  while ((*at = strchr(*at, '%')) != NULL) {
    const char *end = *at + 1 + strspn(*at + 1, "0123456789.*l");
    *at = end;
    if (*end != '\0' && strchr("sdu", *end) != NULL) {
      return *end;
    }
  }
  *at = "";
  return 0;
}

static void every_row_keeps_its_conversions_and_names(void **state) {
  (void)state;
  for (int row = 0; row < fhi_word_count(); row++) {
    for (size_t l = 0; l < 3; l++) {
      const char *english = fhi_word_at(FH_ENGLISH, row);
      const char *other = fhi_word_at(OTHERS[l], row);
      int names = 0;
      for (const char *c = english; *c != '\0'; c++) {
        names += *c == '#';
      }
      for (const char *c = other; *c != '\0'; c++) {
        names -= *c == '#';
      }
      assert_int_equal(names, 0);
      for (char wanted = 1; wanted != 0;) {
        wanted = conversion(&english);
        if (conversion(&other) != wanted) {
          print_error("%s\n%s\n", fhi_word_at(FH_ENGLISH, row), fhi_word_at(OTHERS[l], row));
          fail();
        }
      }
    }
  }
}

// Boxes to tick come from semicolons: a translation must not lose or add one in what a step checks. Checks start small.
static void every_row_keeps_its_clauses(void **state) {
  (void)state;
  for (int row = 0; row < fhi_word_count(); row++) {
    for (size_t l = 0; l < 3 && islower((unsigned char)fhi_word_at(FH_ENGLISH, row)[0]) != 0; l++) {
      int clauses = 0;
      for (const char *c = fhi_word_at(FH_ENGLISH, row); *c != '\0'; c++) {
        clauses += *c == ';';
      }
      for (const char *c = fhi_word_at(OTHERS[l], row); *c != '\0'; c++) {
        clauses -= *c == ';';
      }
      if (clauses != 0) {
        print_error("%s\n%s\n", fhi_word_at(FH_ENGLISH, row), fhi_word_at(OTHERS[l], row));
      }
      assert_int_equal(clauses, 0);
    }
  }
}

static void names_are_put_over_part_by_part(void **state) {
  (void)state;
  char to[200];
  assert_string_equal(fhi_name_said(to, sizeof to, FH_GERMAN, "prusik at block-1"), "Prusik bei Block 1");
  assert_string_equal(fhi_name_said(to, sizeof to, FH_GERMAN, "knot of main on anchor"), "Knoten von Seil an: Anker");
  assert_string_equal(fhi_name_said(to, sizeof to, FH_FRENCH, "first line, knot of main on anchor"), "premi\xC3\xA8re corde, n\xC5\x93ud de corde sur : ancrage");
  assert_string_equal(fhi_name_said(to, sizeof to, FH_ITALIAN, "station: toothed-capture"), "stazione: carrucola bloccante");
  assert_string_equal(fhi_name_said(to, sizeof to, FH_ITALIAN, "own name"), "own name");
  assert_string_equal(fhi_name_said(to, sizeof to, FH_FRENCH, "grip block-12: prusik slips"), "bloqueur bloc 12: prusik glisse");
  assert_string_equal(fhi_given_said(FH_FRENCH, "main"), "corde");
  assert_string_equal(fhi_given_said(FH_ENGLISH, "main"), "main");
  assert_string_equal(fhi_given_said(FH_GERMAN, "block-16"), "Block 16");
  assert_string_equal(fhi_given_said(FH_GERMAN, "blocks"), "blocks");
  assert_string_equal(fhi_given_said(FH_GERMAN, "mainsail"), "mainsail");
  assert_string_equal(fhi_name_said(to, sizeof to, FH_ENGLISH, "prusik at block-1"), "prusik at block-1");
  assert_string_equal(fhi_name_said(to, sizeof to, FH_GERMAN, ""), "");
  char tight[8];
  assert_string_equal(fhi_name_said(tight, sizeof tight, FH_GERMAN, "knot of main on anchor"), "Knoten ");
}

// ---------------------------------------------------------------------------------------------------- nothing is missed

static int swallow(void *user, const char *bytes, size_t count) {
  (void)user;
  (void)bytes;
  (void)count;
  return 0;
}

static const fh_out NOWHERE = {swallow, NULL};

static void none_missed(const char *path, const char *what) {
  const char *last = "";
  int missed = fhi_words_missed(&last);
  if (missed > 0) {
    print_error("%s, %s: %d phrases without a row, such as \"%s\"\n", path, what, missed, last);
  }
  assert_int_equal(missed, 0);
}

static void say_rig(const scene_text *t, const char *path, fh_units units) {
  const fh_scene *s = t->scene;
  fh_check *check = NULL;
  fh_haul *haul = NULL;
  fh_lose *lose = NULL;
  fh_sheet *sheet = NULL;
  assert_status(fh_check_create(s, t->gear, &s->rig, NULL, &check), FH_OK);
  assert_status(fh_check_write_json(s, t->gear, &s->rig, check, NOWHERE), FH_OK);
  assert_status(fh_rig_write_words(&s->rig, t->gear, units, s->language, NOWHERE), FH_OK);
  assert_status(fh_draw_section(s, t->gear, &s->rig, check, units, NOWHERE), FH_OK);
  assert_status(fh_draw_plan_view(s, t->gear, &s->rig, check, 0.3, units, NOWHERE), FH_OK);
  assert_status(fh_draw_angle_curve(s, t->gear, &s->rig, units, NOWHERE), FH_OK);
  none_missed(path, "check");
  assert_status(fh_haul_create(s, t->gear, &s->rig, NULL, &haul), FH_OK);
  assert_status(fh_haul_write_json(s, haul, NOWHERE), FH_OK);
  assert_status(fh_draw_haul(s, haul, units, NOWHERE), FH_OK);
  none_missed(path, "haul");
  assert_status(fh_lose_create(s, t->gear, &s->rig, NULL, &lose), FH_OK);
  assert_status(fh_lose_write_json(s, lose, NOWHERE), FH_OK);
  assert_status(fh_draw_lose(s, lose, units, NOWHERE), FH_OK);
  none_missed(path, "lose");
  assert_status(fh_sheet_create(s, t->gear, &s->rig, NULL, FH_PAPER_A6, units, &sheet), FH_OK);
  if (!fh_sheet_refused(sheet)) {
    assert_status(fh_sheet_write_html(sheet, NOWHERE), FH_OK);
    assert_status(fh_sheet_write_page(sheet, 0, NOWHERE), FH_OK);
  }
  none_missed(path, "sheet");
  fh_sheet_destroy(sheet);
  fh_lose_destroy(lose);
  fh_haul_destroy(haul);
  fh_check_destroy(check);
}

static void say_plans(const scene_text *t, const char *path, fh_units units) {
  fh_plan_opts opts = fh_plan_opts_default();
  fh_plans *plans = NULL;
  opts.max_contacts = 3;
  assert_status(fh_plans_create(t->scene, t->gear, &opts, &plans), FH_OK);
  assert_status(fh_plans_write_json(t->scene, t->gear, plans, NOWHERE), FH_OK);
  assert_status(fh_draw_plans(t->scene, t->gear, plans, units, NOWHERE), FH_OK);
  fh_plans_destroy(plans);
  none_missed(path, "plan");
}

static void say_team(const scene_text *t, const char *path, fh_units units) {
  fh_team_opts opts = fh_team_opts_default();
  fh_team_result *team = NULL;
  fh_diag diag = {0};
  opts.samples = 8;
  assert_status(fh_team_create(t->scene, &opts, &team, &diag), FH_OK);
  assert_status(fh_draw_team_paths(t->scene, team, units, NOWHERE), FH_OK);
  assert_status(fh_draw_team_section(t->scene, team, units, NOWHERE), FH_OK);
  assert_status(fh_draw_trip_sheet(t->scene, t->gear, team, units, NOWHERE), FH_OK);
  fh_team_destroy(team);
  none_missed(path, "team");
}

static void say_anchor(const scene_text *t, const char *path, fh_units units) {
  fh_anchor *anchor = NULL;
  fh_anchorage a;
  if (!fh_anchorage_of(t->scene, t->gear, &a)) {
    return;
  }
  assert_status(fh_anchor_create(t->scene, t->gear, NULL, &anchor), FH_OK);
  assert_status(fh_draw_anchor(t->scene, t->gear, anchor, units, NOWHERE), FH_OK);
  fh_anchor_destroy(anchor);
  none_missed(path, "anchor");
}

static void say_file(const char *path, fh_language language) {
  char *yaml = fh_test_read(path).bytes;
  scene_text t = scene_read(yaml);
  fh_units units = language == FH_FRENCH ? FH_IMPERIAL : FH_METRIC;
  free(yaml);
  t.scene->language = language;
  if (t.scene->has_rig) {
    say_rig(&t, path, units);
  }
  if (t.scene->kit_count > 0 && strstr(path, "examples/rigs/") == NULL) {
    say_plans(&t, path, units);
  }
  if (t.scene->has_team) {
    say_team(&t, path, units);
  }
  say_anchor(&t, path, units);
  scene_done(&t);
}

static void nothing_that_the_examples_say_is_without_a_row(void **state) {
  (void)state;
  static const char *const FOLDERS[] = {"examples/*.yaml", "examples/rigs/*.yaml", "examples/anchors/*.yaml"};
  size_t files = 0;
  const char *last = "";
  (void)fhi_words_missed(&last);
  for (size_t f = 0; f < 3; f++) {
    glob_t found;
    assert_int_equal(glob(FOLDERS[f], 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++, files++) {
      say_file(found.gl_pathv[i], OTHERS[i % 3]);
    }
    globfree(&found);
  }
  assert_true(files > 20);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_row_is_whole_and_in_order), cmocka_unit_test(nobody_is_addressed_in_two_ways), cmocka_unit_test(every_row_keeps_its_conversions_and_names),
      cmocka_unit_test(every_row_keeps_its_clauses),     cmocka_unit_test(names_are_put_over_part_by_part),
      cmocka_unit_test(nothing_that_the_examples_say_is_without_a_row),
      cmocka_unit_test(names_of_the_catalogue_come_apart_and_those_of_ones_own_do_not),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
