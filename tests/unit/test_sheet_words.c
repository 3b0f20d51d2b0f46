// SPDX-License-Identifier: MIT
// What the build sheet says: to who is alone, of the haul what the haul says, of the person hanging what was published.
#include "fh_test.h"

#include "sheet_case.h"

#define TENDED(crew, run) "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {turn_deg: 80}\nground: {station_m: 4, anchor_m: 6}\n" \
  "crew: [" crew "]\nrig:\n  ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: pulley}, " run "{hand: crew}]}]\n" \
  "  grips:\n    - {body: station, hitch: prusik, rope: main, after: 1, at_m: 3.8}\n"
#define BLOCK "    - {body: tractor, hitch: prusik, rope: main, after: 1, at_m: 1.2}\n"

static char *tended_text(const char *yaml, fh_check **check) {
  sheet_case c;
  open_yaml(&c, yaml);
  assert_false(fh_sheet_refused(c.sheet));
  assert_status(fh_check_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, check), FH_OK);
  char *text = text_of(c.sheet);
  close_sheet(&c);
  return text;
}

static int notes_about(const fh_check *check, fh_note_level level, const char *word) {
  int count = 0;
  for (int i = 0; i < check->note_count; i++) {
    count += check->notes[i].level == level && strstr(check->notes[i].text, word) != NULL ? 1 : 0;
  }
  return count;
}

// Behind a moving block one walks away from the station; at a pull toward the lip one stands beside it.
static void who_is_alone_is_told_what_one_can_do(void **state) {
  (void)state;
  static const char *const OTHERS[] = {"Pull together", "someone", "somebody is there"};
  fh_check *check = NULL;
  char *text = tended_text(TENDED("{name: a}", "{run: tractor, on: pulley}, ") BLOCK, &check);
  for (size_t i = 0; i < sizeof OTHERS / sizeof OTHERS[0]; i++) {
    assert_null(strstr(text, OTHERS[i]));
  }
  assert_non_null(strstr(text, "Nobody is there to tend it"));
  assert_int_equal(notes_about(check, FH_NOTE_WARN, "alone you cannot tend"), 1);
  free(text);
  fh_check_destroy(check);
  text = tended_text(TENDED("{name: a}", ""), &check);
  assert_non_null(strstr(text, "You tend it yourself"));
  assert_int_equal(notes_about(check, FH_NOTE_WARN, "alone"), 0);
  assert_int_equal(notes_about(check, FH_NOTE_INFO, "alone you tend"), 1);
  free(text);
  fh_check_destroy(check);
  text = tended_text(TENDED("{name: a}, {name: b}", "{run: tractor, on: pulley}, ") BLOCK, &check);
  assert_non_null(strstr(text, "someone is there to tend it"));
  assert_non_null(strstr(text, "Pull together"));
  assert_int_equal(notes_about(check, FH_NOTE_WARN, "alone") + notes_about(check, FH_NOTE_INFO, "alone"), 0);
  free(text);
  fh_check_destroy(check);
}

// One number for one thing.
static void resets_and_time_are_those_of_the_haul(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/two-person.yaml", FH_PAPER_A4, FH_METRIC);
  const fh_haul *h = c.sheet->haul;
  char resets[FHI_WORD + 40];
  char *text = text_of(c.sheet);
  (void)snprintf(resets, sizeof resets, "Resets: %d (%d to %d)", h->resets, (int)h->strokes_range.lo - 1, (int)h->strokes_range.hi - 1);
  assert_non_null(strstr(text, resets));
  char time[FHI_WORD];
  (void)snprintf(resets, sizeof resets, "likely %s of hauling", fhi_sheet_time(time, sizeof time, h->time));
  assert_non_null(strstr(text, resets));
  (void)snprintf(resets, sizeof resets, "Time, with rests: %s\n", time);
  assert_non_null(strstr(text, resets));
  assert_null(strstr(text, "next card"));  // the words are read on pages as well
  assert_int_equal(c.sheet->check->resets, h->resets);
  assert_exact(c.sheet->check->time_rests.lo, h->time.lo);
  assert_exact(c.sheet->check->time_rests.likely, h->time.likely);
  assert_exact(c.sheet->check->time_rests.hi, h->time.hi);
  assert_null(strstr(text, "firnhaul lose"));
  free(text);
  close_sheet(&c);
}

// Rauch et al., Eur. J. Appl. Physiol. 2019, 119:1353: 12 of 40 tests, first at 13.4 min. NIOSH 2008, as abstracted: from
// 4 min (chest) and 5 min (back) on; 95 % lasted at least 7 and 11 min. Seddon, HSE CRR 451/2002: under 10 min.
// Giesbrecht & Brock 2022: 37 to 24.2 degrees in 4.65 h; Giesbrecht et al. 2022: 37 to 26.1 in 17.7 h (facts quoted there).
static void the_card_of_the_person_says_what_was_published(void **state) {
  (void)state;
  static const char *const SAID[] = {"12 of 40", "the first after 13 minutes", "4 to 5 minutes", "at least 7 to 11", "less than 10", "no safe time", "no countdown",
                                     "Rauch et al.", "NIOSH", "Seddon", "Giesbrecht", "ICAR", "Mortimer", "RR708", "lie flat at once", "never delay the raise"};
  assert_near((37.0 - 24.2) / 4.65, 2.8, 0.05);
  assert_near((37.0 - 26.1) / 17.7, 0.6, 0.05);
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  char *text = text_of(c.sheet);
  for (size_t i = 0; i < sizeof SAID / sizeof SAID[0]; i++) {
    if (strstr(text, SAID[i]) == NULL) {
      fail_msg("not said: %s", SAID[i]);
    }
  }
  assert_non_null(strstr(text, "0.6 and 2.8 degrees"));
  free(text);
  close_sheet(&c);
}

static void rescue_comes_first_and_other_ways_out_are_named(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  char *text = text_of(c.sheet);
  const char *call = strstr(text, "Call for rescue first");
  const char *step = strstr(text, "Step 1:");
  assert_non_null(call);
  assert_non_null(step);
  assert_true(call < step);
  static const char *const SAID[] = {"One rescuer alone should not start", "Climb out", "Be lowered to an exit", "More hands", "Wait for rescue"};
  for (size_t i = 0; i < sizeof SAID / sizeof SAID[0]; i++) {
    assert_non_null(strstr(text, SAID[i]));
  }
  free(text);
  close_sheet(&c);
}

static void the_html_stands_alone_and_says_the_same(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  char *html = html_of(c.sheet);
  assert_null(strstr(html, "<script"));
  assert_null(strstr(html, "<link"));
  assert_null(strstr(html, "url("));
  assert_null(strstr(html, " src="));
  assert_true(strncmp(html, "<!DOCTYPE html>", 15) == 0);
  for (const char *at = strstr(html, "http"); at != NULL; at = strstr(at + 4, "http")) {
    assert_int_equal(strncmp(at, "http://www.w3.org/2000/svg", 26), 0);  // a name, fetched by nobody
  }
  int sections = 0;
  for (const char *at = strstr(html, "<section>"); at != NULL; at = strstr(at + 9, "<section>")) {
    sections++;
  }
  assert_int_equal(sections, c.sheet->count);
  for (int b = 0; b < c.sheet->count; b++) {
    assert_non_null(strstr(html, c.sheet->blocks[b].heading));
  }
  free(html);
  close_sheet(&c);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(who_is_alone_is_told_what_one_can_do),
      cmocka_unit_test(resets_and_time_are_those_of_the_haul),
      cmocka_unit_test(the_card_of_the_person_says_what_was_published),
      cmocka_unit_test(rescue_comes_first_and_other_ways_out_are_named),
      cmocka_unit_test(the_html_stands_alone_and_says_the_same),
  };
  return cmocka_run_group_tests_name("sheet_words", tests, NULL, NULL);
}
