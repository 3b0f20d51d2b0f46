// SPDX-License-Identifier: MIT
// What a rig's numbers are told as: the words that make the answer no, the warnings, what to mind.
#include "report.h"
#include "scenes.h"

#define CREW(pull) HEAD GROUND SMOOTH "crew: [{pull_N: " pull "}]\n"

static void no_more_than_it_says(const fh_check *c, int notes) {
  for (int i = 0; i < c->note_count && c->note_count != notes; i++) {
    print_error("note: %s\n", c->notes[i].text);
  }
  assert_int_equal(c->note_count, notes);
}

static void a_sound_rig_with_a_strong_crew_has_nothing_to_say(void **state) {
  (void)state;
  checked k = checked_solved(CREW("600") Z(0.9, 0.9));
  no_more_than_it_says(k.c, 0);
  assert_false(k.c->answer_no);
  checked_done(&k);
}

// The Z at its best takes a third of 981 N: 327 N.
static void a_crew_that_is_too_weak_is_told_how_sure_that_is(void **state) {
  (void)state;
  static const struct {
    const char *pull, *words;
    fh_note_level level;
    bool no;
  } CREWS[] = {
      {CREW("[100, 200]") Z(1, 1), "the crew cannot pull this: 325 N needed at the very least, 200 N there at the very most", FH_NOTE_NO, true},
      {CREW("[100, 400]") Z(1, 1), "the crew most likely cannot pull this: about 325 N needed, about 250 N there", FH_NOTE_NO, true},
      {CREW("[300, 400]") Z(1, 1), "the crew may not be able to pull this: 325 to 330 N needed, 300 to 400 N there", FH_NOTE_WARN, false},
  };
  for (int i = 0; i < 3; i++) {
    checked k = checked_solved(CREWS[i].pull);
    no_more_than_it_says(k.c, 1);
    assert_true(says(k.c, CREWS[i].level, CREWS[i].words));
    assert_int_equal(k.c->answer_no, CREWS[i].no);
    checked_done(&k);
  }
}

#define BELOW(load, lip) \
  "firnhaul: 1\nload: {mass_kg: 100" load "}\nslot: {depth_m: 10}\n" GROUND "lip: {turn_deg: 90, friction: 0" lip "}\ncrew: [{pull_N: 600}]\n" Z(0.9, 0.9)

static void what_the_raise_may_do_to_the_person_comes_before_all_else(void **state) {
  (void)state;
  static const struct {
    const char *yaml, *words;  // words of the first note; NULL for none
  } CASES[] = {
      {BELOW(", responds: silent", ", wall: overhangs"), "the pull can jam head and chest under it"},
      {BELOW(", responds: silent", ""), "the person does not answer: get to them first, airway"},
      {BELOW("", ", wall: overhangs"), "the edge hangs over: the pull draws the person in under it"},
      {BELOW(", responds: answers", ", wall: upright"), NULL},
  };
  for (int i = 0; i < 4; i++) {
    checked k = checked_solved(CASES[i].yaml);
    no_more_than_it_says(k.c, CASES[i].words == NULL ? 0 : 1);
    assert_true(CASES[i].words == NULL || (k.c->notes[0].level == FH_NOTE_WARN && strstr(k.c->notes[0].text, CASES[i].words) != NULL));
    checked_done(&k);
  }
}

// Left blank, an anchor is no safer than one that is named.
static void an_anchor_that_nobody_states_is_not_known_to_hold(void **state) {
  (void)state;
  static const struct {
    const char *ground;
    bool warned;
  } GROUNDS[] = {{"", true}, {", holds_kN: 200", false}, {", anchor: t-slot-reinforced", false}};
  for (int i = 0; i < 3; i++) {
    char text[1000];
    (void)snprintf(text, sizeof text, HEAD "ground: {station_m: 6, anchor_m: 9, reach_m: 1, clearance_m: 0.5, room_m: 20%s}\n" SMOOTH "crew: [{pull_N: 600}]\n" Z(0.9, 0.9), GROUNDS[i].ground);
    checked k = checked_solved(text);
    bool warned = false;
    for (int n = 0; n < k.c->note_count; n++) {
      warned = warned || (k.c->notes[n].level == FH_NOTE_WARN && strstr(k.c->notes[n].text, "nothing is said of the anchor") != NULL);
    }
    assert_int_equal(warned, GROUNDS[i].warned);
    checked_done(&k);
  }
}

static void a_rope_that_has_cut_in_by_nothing_is_doubted(void **state) {
  (void)state;
  static const char *const LIPS[] = {HEAD GROUND "lip: {surface: cut}\ncrew: [{pull_N: 5000}]\n" Z(0.9, 0.9), HEAD GROUND "lip: {surface: cut, cut_m: 0.5}\ncrew: [{pull_N: 5000}]\n" Z(0.9, 0.9)};
  for (int i = 0; i < 2; i++) {
    checked k = checked_solved(LIPS[i]);
    bool doubted = false;
    for (int n = 0; n < k.c->note_count; n++) {
      doubted = doubted || (k.c->notes[n].level == FH_NOTE_WARN && strstr(k.c->notes[n].text, "the cut counts as 0 m") != NULL);
    }
    assert_int_equal(doubted, i == 0);
    checked_done(&k);
  }
}

static void nobody_to_pull_is_only_said(void **state) {
  (void)state;
  checked k = checked_solved(PLACE Z(0.9, 0.9));
  no_more_than_it_says(k.c, 1);
  assert_true(says(k.c, FH_NOTE_INFO, "no crew in the scene: nobody to compare the pull with"));
  assert_false(k.c->answer_no);
  assert_nan(k.c->crew_share.likely);
  checked_done(&k);
}

static void a_limit_that_is_passed_makes_the_answer_no(void **state) {
  (void)state;
  checked k = checked_solved(HEAD SMOOTH "crew: [{pull_N: 900}]\nground: {station_m: 6, anchor_m: 9, holds_kN: 0.9}\n" Z(1, 1));
  assert_true(says(k.c, FH_NOTE_NO, "anchor, with the station: up to 0.98 kN against 0.90 kN: it may not hold"));
  assert_true(k.c->answer_no);
  checked_done(&k);
}

// Z: 22 m are needed (see the test of strokes).
static void a_short_rope_is_told_by_how_much(void **state) {
  (void)state;
  checked k = checked_solved(CREW("600") "ropes: [{name: main, length_m: 20}]\n" Z(0.9, 0.9));
  no_more_than_it_says(k.c, 1);
  assert_true(says(k.c, FH_NOTE_NO, "rope main is 2.0 m short: 22.0 m needed with knots and an end in the hand, 20.0 m there"));
  checked_done(&k);
  k = checked_solved(CREW("600") "ropes: [{name: main, length_m: 22}]\n" Z(0.9, 0.9));
  no_more_than_it_says(k.c, 0);
  checked_done(&k);
  // A range of lengths: no where the likely one is too short, perhaps where only the least one is, yes where none is.
  k = checked_solved(CREW("600") "ropes: [{name: main, length_m: [18, 25]}]\n" Z(0.9, 0.9));
  assert_true(says(k.c, FH_NOTE_NO, "rope main is 0.5 m short: 22.0 m needed with knots and an end in the hand, 21.5 m there"));
  assert_int_equal(fhi_check_answer(k.c), FHI_ANSWER_NO);
  checked_done(&k);
  k = checked_solved(CREW("600") "ropes: [{name: main, length_m: [21, 25]}]\n" Z(0.9, 0.9));
  assert_true(says(k.c, FH_NOTE_WARN, "rope main may be 1.0 m short: 22.0 m needed if the load hangs 10.0 m down, 21.0 m there"));
  assert_int_equal(fhi_check_answer(k.c), FHI_ANSWER_UNSURE);
  assert_false(k.c->answer_no);
  checked_done(&k);
  k = checked_solved(CREW("600") "ropes: [{name: main, length_m: [22, 25]}]\n" Z(0.9, 0.9));
  assert_int_equal(fhi_check_answer(k.c), FHI_ANSWER_YES);
  checked_done(&k);
}

// As deep as it may be, the load takes a metre of each strand to it for each metre. From 8 to 12 m the Z needs 20 to 24 m.
static void a_rope_that_may_be_too_short_takes_the_yes_away(void **state) {
  (void)state;
#define DEPTH(range) "firnhaul: 1\nload: {mass_kg: 100}\nslot: {depth_m: " range "}\n" GROUND SMOOTH "crew: [{pull_N: 600}]\n"
  checked k = checked_solved(DEPTH("[8, 12]") "ropes: [{name: main, length_m: 24}]\n" Z(0.9, 0.9));
  no_more_than_it_says(k.c, 0);
  assert_int_equal(fhi_check_answer(k.c), FHI_ANSWER_YES);
  checked_done(&k);
  k = checked_solved(DEPTH("[8, 12]") "ropes: [{name: main, length_m: [22.5, 30]}]\n" Z(0.9, 0.9));
  no_more_than_it_says(k.c, 1);
  assert_true(says(k.c, FH_NOTE_WARN, "rope main may be 1.5 m short: 24.0 m needed if the load hangs 12.0 m down, 22.5 m there"));
  assert_int_equal(fhi_check_answer(k.c), FHI_ANSWER_UNSURE);
  assert_false(k.c->answer_no);
  checked_done(&k);
  // Three strands hang, the slack line's among them: 61.5 m at 10 m (see below), three more at 11 m.
  k = checked_solved(DEPTH("[9, 11]") "ropes: [{name: main, length_m: 62}]\n" SIX(0.9, 0.9, 0.9));
  assert_true(says(k.c, FH_NOTE_WARN, "rope main may be 2.5 m short: 64.5 m needed"));
  checked_done(&k);
}

// A loop let down from the rope that holds the load: 61.5 m with the slack line, 19 m of that for the line.
static void a_rope_too_short_for_slack_line_and_haul_line_says_which(void **state) {
  (void)state;
  checked k = checked_solved(CREW("600") "ropes: [{name: main, length_m: 50}]\n" SIX(0.9, 0.9, 0.9));
  assert_true(says(k.c, FH_NOTE_NO,
                   "rope main is 11.5 m short for slack line and haul line together: 61.5 m needed with knots, 50.0 m there; "
                   "the slack line takes 19.0 m of it"));
  checked_done(&k);
  k = checked_solved(CREW("600") "ropes: [{name: main, length_m: 42}]\n" SIX(0.9, 0.9, 0.9));  // too short even without
  assert_true(says(k.c, FH_NOTE_NO, "rope main is 19.5 m short: 61.5 m needed"));
  checked_done(&k);
}

// Two paths of one rope share its length.
static void both_ends_of_a_rope_come_out_of_one_length(void **state) {
  (void)state;
#define BOTH(length)                                                                                                           \
  CREW("600") "ropes: [{name: main, length_m: " length "}]\n" RIG(                                                             \
      PATH("main", LOAD "{tie: anchor, slack_m: 1}") ", {name: end, of: main, path: [" LOAD CAPTURE(0.9) TURN("t", 0.9) HAND "]}", \
      GRIP("t", "end", 1, 2))
  checked k = checked_solved(BOTH("44"));  // 22 for the line, 22 for the Z
  assert_false(says(k.c, FH_NOTE_NO, "short"));
  checked_done(&k);
  k = checked_solved(BOTH("40"));
  assert_true(says(k.c, FH_NOTE_NO, "4.0 m short for slack line and haul line together"));
  checked_done(&k);
}

static void knots_in_the_hauled_strand_jam(void **state) {
  (void)state;
  checked k = checked_solved(CREW("600") "ropes: [{name: main, knots: 4}]\n" Z(0.9, 0.9));
  assert_true(says(k.c, FH_NOTE_NO, "the 4 knots in rope main have to pass the lip under load: they jam there; use another strand"));
  checked_done(&k);
  // On a slack line, or on a loop's standing side, they stay where they are.
  k = checked_solved(CREW("600") "ropes: [{name: main, knots: 4}]\n" SIX(0.9, 0.9, 0.9));
  assert_false(says(k.c, FH_NOTE_NO, "jam"));
  checked_done(&k);
  k = checked_solved(CREW("900") "ropes: [{name: main, knots: 4}]\n" DROP_LOOP(0.9));
  assert_false(says(k.c, FH_NOTE_NO, "jam"));
  checked_done(&k);
}

static void resting_rope_is_told_with_what_it_leaves_open(void **state) {
  (void)state;
  checked k = checked_solved(CREW("900") DROP_LOOP(0.9));
  assert_true(says(k.c, FH_NOTE_INFO, "the rope rests at the lip while raising: friction leaves open what the strand from anchor to lip carries"));
  assert_true(says(k.c, FH_NOTE_WARN, "the person below has to clip the loop in"));
  checked_done(&k);
  k = checked_solved("firnhaul: 1\nload: {mass_kg: 100, helps: true}\nslot: {depth_m: 10}\n" GROUND SMOOTH "crew: [{pull_N: 900}]\n" DROP_LOOP(0.9));
  assert_false(says(k.c, FH_NOTE_WARN, "clip the loop in"));
  checked_done(&k);
}

static void a_piece_that_turns_nothing_is_told(void **state) {
  (void)state;
  checked k = checked_solved(CREW("1500") RIG(PATH("main", LOAD TURN("station", 0.9) "{run: anchor, on: toothed-capture, efficiency: 0.9}, " HAND), ""));
  assert_true(says(k.c, FH_NOTE_INFO, "the rope runs straight through the piece on station: it changes nothing there"));
  assert_true(says(k.c, FH_NOTE_WARN, "the pull goes toward the edge, hand over hand at one place: stand close to anchor"));
  checked_done(&k);
}

static void no_note_is_written_past_the_last(void **state) {
  (void)state;
  fh_check *c = calloc(1, sizeof *c);
  assert_non_null(c);
  for (int i = 0; i < FH_MAX_NOTES + 5; i++) {
    fhi_note(c, FH_NOTE_INFO, "note %d", i);
  }
  assert_int_equal(c->note_count, FH_MAX_NOTES);
  assert_string_equal(c->notes[FH_MAX_NOTES - 1].text, "note 47");
  assert_false(c->answer_no);
  free(c);
}

// What a hitch holds is known for 6 mm cord on 8 to 9 mm rope: a rig that grips thinner rope says so, and no other.
static void a_rope_too_thin_for_what_grips_it_is_a_warning(void **state) {
  (void)state;
  static const struct {
    const char *text, *words;
  } ROPES[] = {{CREW("600") "ropes: [{name: main, length_m: 60, kind: half, diameter_mm: 8}]\n" Z(0.9, 0.9), NULL},
               {CREW("600") "ropes: [{name: main, length_m: 60, kind: twin}]\n" Z(0.9, 0.9), "rope main is 7.5 mm thick: what hitches and captures hold is known from 8 mm on"},
               {CREW("600") "ropes: [{name: main, length_m: 60, kind: cord}]\n" Z(0.9, 0.9), "rope main is 6.0 mm thick"}};
  for (int i = 0; i < 3; i++) {
    checked k = checked_solved(ROPES[i].text);
    no_more_than_it_says(k.c, ROPES[i].words != NULL ? 1 : 0);
    assert_true(ROPES[i].words == NULL || says(k.c, FH_NOTE_WARN, ROPES[i].words));
    assert_false(k.c->answer_no);
    checked_done(&k);
  }
}

// No rig is known that holds by friction alone; should one be found, it is told.
static void holding_by_friction_alone_is_a_warning(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD TURN("station", 0.9) HAND), ""));
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD TURN("station", 0.9) HAND), ""));
  k.c->note_count = 0;
  fhi_notes_fill(r->t.scene, r->t.gear, r->rig, &r->model, &r->motion, true, k.c);
  assert_true(says(k.c, FH_NOTE_WARN, "no capture: friction alone holds the load when the hands let go"));
  // And what is not solved says nothing but no.
  k.c->note_count = 0;
  k.c->answer_no = false;
  k.c->outcome = FH_OUTCOME_UNRESOLVED;
  fhi_notes_fill(r->t.scene, r->t.gear, r->rig, &r->model, &r->motion, true, k.c);
  assert_int_equal(k.c->note_count, 0);
  assert_true(k.c->answer_no);
  checked_done(&k);
  rigged_done(r);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_sound_rig_with_a_strong_crew_has_nothing_to_say),
      cmocka_unit_test(a_crew_that_is_too_weak_is_told_how_sure_that_is),
      cmocka_unit_test(a_rope_too_thin_for_what_grips_it_is_a_warning),
      cmocka_unit_test(what_the_raise_may_do_to_the_person_comes_before_all_else),
      cmocka_unit_test(an_anchor_that_nobody_states_is_not_known_to_hold),
      cmocka_unit_test(a_rope_that_has_cut_in_by_nothing_is_doubted),
      cmocka_unit_test(nobody_to_pull_is_only_said),
      cmocka_unit_test(a_limit_that_is_passed_makes_the_answer_no),
      cmocka_unit_test(a_short_rope_is_told_by_how_much),
      cmocka_unit_test(a_rope_that_may_be_too_short_takes_the_yes_away),
      cmocka_unit_test(a_rope_too_short_for_slack_line_and_haul_line_says_which),
      cmocka_unit_test(both_ends_of_a_rope_come_out_of_one_length),
      cmocka_unit_test(knots_in_the_hauled_strand_jam),
      cmocka_unit_test(resting_rope_is_told_with_what_it_leaves_open),
      cmocka_unit_test(a_piece_that_turns_nothing_is_told),
      cmocka_unit_test(no_note_is_written_past_the_last),
      cmocka_unit_test(holding_by_friction_alone_is_a_warning),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
