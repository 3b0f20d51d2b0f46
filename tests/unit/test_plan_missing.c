// SPDX-License-Identifier: MIT
// When nothing works: what is told to be missing is enough when it is added. Oracle: the plan itself, asked again.
#include "scenes.h"

#include "plan.h"

// A hole of 6 m; each scene lacks one thing.
#define SLOT(lip) "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 6}\nlip: {" lip "}\n" GROUND
#define ROPE      "ropes: [{name: main, length_m: 60}]\n"
#define KIT       "kit: [{item: toothed-capture}, {item: pulley}, {item: carabiner, count: 2}, {item: prusik, count: 2}]\n"

typedef struct answer {
  bool works;
  char missing[1600];
} answer;

static answer ask(const char *yaml, int contacts) {
  scene_text t = scene_read(yaml);
  fh_plan_opts opts = fh_plan_opts_default();
  fh_plans *p = NULL;
  answer a = {.works = false};
  opts.max_contacts = contacts;
  assert_status(fh_plans_create(t.scene, t.gear, &opts, &p), FH_OK);
  a.works = p->count > 0 && p->plans[0].possible;
  (void)snprintf(a.missing, sizeof a.missing, "%s", p->missing);
  fh_plans_destroy(p);
  scene_done(&t);
  return a;
}

static bool tells(const char *missing, const char *words) {
  const char *at = strstr(missing, words);
  bool once = at != NULL && strstr(at + 1, words) == NULL;
  if (!once) {
    print_error("missing: %s\n", missing);
  }
  return once;
}

// Without what is missing the plan says no and names it once; with it, yes.
static void is_told(const char *without, const char *with, const char *words) {
  answer no = ask(without, 3), yes = ask(with, 3);
  assert_false(no.works);
  assert_true(tells(no.missing, words));
  assert_true(yes.works);
  assert_string_equal(yes.missing, "");
}

static void a_capture_or_a_hitch(void **state) {
  (void)state;
#define CREW "crew: [{pull_N: 900}]\n"
  is_told(SLOT("friction: 0.1") CREW ROPE "kit: [{item: pulley}, {item: carabiner, count: 2}]\n",
          SLOT("friction: 0.1") CREW ROPE "kit: [{item: pulley}, {item: carabiner, count: 2}, {item: toothed-capture}]\n", "a toothed capture");
  is_told(SLOT("friction: 0.1") CREW ROPE "kit: [{item: pulley}, {item: carabiner, count: 2}]\n",
          SLOT("friction: 0.1") CREW ROPE "kit: [{item: pulley}, {item: carabiner, count: 2}, {item: prusik}]\n", "a prusik");
}

static void one_more_piece(void **state) {
  (void)state;
  // One block makes a direct line a Z, but there is nothing to run over.
  is_told(SLOT("friction: 0.1") "crew: [{pull_N: 500}]\n" ROPE "kit: [{item: toothed-capture}, {item: prusik}]\n",
          SLOT("friction: 0.1") "crew: [{pull_N: 500}]\n" ROPE "kit: [{item: toothed-capture}, {item: prusik}, {item: pulley}]\n", "a pulley");
}

static void a_padded_lip(void **state) {
  (void)state;
  is_told(SLOT("friction: 1.2") "crew: [{pull_N: 500}]\n" ROPE KIT, SLOT("surface: padded") "crew: [{pull_N: 500}]\n" ROPE KIT, "a lip padded and cleared");
  // It is not told where the lip is as good already.
  answer a = ask(SLOT("surface: padded") "crew: [{pull_N: 30}]\n" ROPE KIT, 2);
  assert_false(a.works);
  assert_null(strstr(a.missing, "a lip padded and cleared"));
}

// The number in front of a word.
static double amount(const char *missing, const char *word) {
  const char *at = strstr(missing, word);
  assert_non_null(at);
  while (at > missing && at[-1] != ' ' ) {
    at--;
  }
  at--;
  while (at > missing && at[-1] != ' ') {
    at--;
  }
  return strtod(at, NULL);
}

static void so_much_more_pull_is_enough_and_five_newtons_less_is_not(void **state) {
  (void)state;
#define PULLED(n) SLOT("surface: padded") "crew: [{pull_N: " n "}]\n" ROPE KIT
  answer a = ask(PULLED("150"), 3);
  assert_false(a.works);
  assert_true(tells(a.missing, "N more pull"));
  double more = amount(a.missing, "N more pull");
  assert_true(more > 10.0);
  char yaml[2000];
  (void)snprintf(yaml, sizeof yaml, SLOT("surface: padded") "crew: [{pull_N: %.3f}]\n" ROPE KIT, 150.0 + more);
  assert_true(ask(yaml, 3).works);
  (void)snprintf(yaml, sizeof yaml, SLOT("surface: padded") "crew: [{pull_N: %.3f}]\n" ROPE KIT, 150.0 + more - 5.0);
  assert_false(ask(yaml, 3).works);
}

// A lone weak rescuer cannot order newtons: neither another posture nor two more of the kind give so much.
static void more_pull_than_people_could_give_is_not_told(void **state) {
  (void)state;
  answer a = ask(PULLED("10"), 1);
  assert_false(a.works);
  assert_null(strstr(a.missing, "N more pull"));
}

// A drop loop that one who does not answer would have to clip in helps nobody, so what makes one possible is not told.
static void no_help_needs_the_hands_of_one_who_is_silent(void **state) {
  (void)state;
#define SAYS(word) "firnhaul: 1\nload: {mass_kg: 80, responds: " word "}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\n" GROUND "crew: [{pull_N: 560}]\n" ROPE "kit: [{item: pulley}, {item: carabiner, count: 2}]\n"
  answer asked = ask(SAYS("unknown"), 2), silent = ask(SAYS("silent"), 2);
  assert_false(asked.works);
  assert_false(silent.works);
  assert_true(tells(asked.missing, "a toothed capture"));
  assert_false(tells(silent.missing, "a toothed capture"));
}

// The answer about the carabiners decides: it is told first, before any piece.
static void an_answer_that_decides_is_told_first(void **state) {
  (void)state;
#define ALL(whom) SLOT("surface: padded") "crew: [{pull_N: 700}]\n" ROPE "kit_for: " whom "\nkit: [{item: toothed-capture}, {item: pulley, count: 2}, {item: prusik, count: 3}, {item: carabiner, count: 2}]\n"
  answer a = ask(ALL("all"), 3);
  assert_false(a.works);
  assert_true(strncmp(a.missing, "another answer to", 17) == 0);
  assert_true(ask(ALL("rig"), 3).works);
}

static void so_much_more_rope_is_enough_and_half_a_metre_less_is_not(void **state) {
  (void)state;
#define STRONG "crew: [{pull_N: 900}]\n"
  answer a = ask(SLOT("surface: padded") STRONG "ropes: [{name: main, length_m: 12}]\n" KIT, 3);
  assert_false(a.works);
  assert_true(tells(a.missing, "m more rope"));
  double more = amount(a.missing, "m more rope");
  assert_true(more > 0.0);
  char yaml[2000];
  (void)snprintf(yaml, sizeof yaml, SLOT("surface: padded") STRONG "ropes: [{name: main, length_m: %.3f}]\n" KIT, 12.0 + more);
  assert_true(ask(yaml, 3).works);
  (void)snprintf(yaml, sizeof yaml, SLOT("surface: padded") STRONG "ropes: [{name: main, length_m: %.3f}]\n" KIT, 12.0 + more - 0.5);
  assert_false(ask(yaml, 3).works);
}

static void where_no_single_change_is_enough_it_says_so(void **state) {
  (void)state;
  answer a = ask(SLOT("friction: 2, turn_deg: 170") "crew: [{pull_N: 10}]\nropes: [{name: main, length_m: 3}]\n", 2);
  assert_false(a.works);
  assert_non_null(strstr(a.missing, "more than one thing; none of these alone is enough"));
}

static void a_kit_that_is_full_cannot_be_asked_for_another_kind(void **state) {
  (void)state;
  scene_text t = scene_read(SLOT("surface: padded") "crew: [{pull_N: 10}]\n" ROPE);
  fh_plans *plans = calloc(1, sizeof *plans);
  assert_non_null(plans);
  t.scene->kit_count = FH_MAX_KIT;
  for (int i = 0; i < FH_MAX_KIT; i++) {
    t.scene->kit[i] = (fh_kit_line){.item = fh_gear_find(t.gear, "sling"), .count = 1, .efficiency = fh_number_unset()};
  }
  assert_status(fhi_missing(t.scene, t.gear, 1, plans), FH_OK);
  assert_non_null(strstr(plans->missing, "more than one thing"));
  assert_int_equal(plans->change_count, 0);
  assert_int_equal(t.scene->kit_count, FH_MAX_KIT);  // the scene itself is never changed
  free(plans);
  scene_done(&t);
}

// What costs nothing. Each is enough when the scene says it, by the plan's own answer.
#define FEET(feet) "crew: [{mass_kg: 80, posture: harness, footing: " feet "}]\n"

static void steps_for_the_feet(void **state) {
  (void)state;
  is_told(SLOT("friction: 0.1") FEET("0.1") ROPE KIT, SLOT("friction: 0.1") FEET("{low: 0.6, likely: 0.9, high: 1.2}") ROPE KIT, "steps for the feet of those who pull");
  answer a = ask(SLOT("friction: 2") FEET("1.0") ROPE KIT, 2);
  assert_false(a.works);
  assert_null(strstr(a.missing, "steps"));  // they have them already
}

static void another_way_to_pull(void **state) {
  (void)state;
#define HOW(posture) SLOT("friction: 0") "crew: [{mass_kg: 80, footing: 1.0, posture: " posture "}]\n" ROPE "kit: [{item: toothed-capture}, {item: pulley, efficiency: 1}, {item: prusik}]\n"
  is_told(HOW("kneeling"), HOW("harness"), "another way to pull: harness");
}

static void less_mass_on_the_rope(void **state) {
  (void)state;
#define MASS(kg) "firnhaul: 1\nload: {mass_kg: " kg "}\nslot: {depth_m: 6}\nlip: {friction: 0}\n" GROUND "crew: [{pull_N: 800}]\n" ROPE "kit: [{item: toothed-capture, efficiency: 1}]\n"
  is_told(MASS("90"), MASS("80"), "10 kg less on the rope");
  assert_false(ask(MASS("85"), 3).works);
}

static void one_more_person(void **state) {
  (void)state;
#define PEOPLE(crew) SLOT("friction: 0.1") "crew: [" crew "]\n" ROPE "kit: [{item: toothed-capture}, {item: pulley}, {item: prusik}]\n"
  is_told(PEOPLE("{pull_N: 260}"), PEOPLE("{pull_N: 260}, {pull_N: 260}"), "one more person to pull");
}

static void two_changes_where_one_is_not_enough(void **state) {
  (void)state;
  // Nothing to make a block of: a grip and what the rope runs over are two things. More people, each
  // like the first, who pulls next to nothing, would not do.
#define BARE(kit) SLOT("surface: padded") "crew: [{pull_N: 10}, {pull_N: 560}]\n" ROPE "kit: [{item: toothed-capture}" kit "]\n"
  answer a = ask(BARE(""), 3);
  assert_false(a.works);
  assert_true(tells(a.missing, "a carabiner together with a prusik"));
  assert_false(ask(BARE(", {item: prusik}"), 3).works);
  assert_false(ask(BARE(", {item: carabiner}"), 3).works);
  assert_true(ask(BARE(", {item: prusik}, {item: carabiner}"), 3).works);
}

static void everything_that_would_do_is_told_side_by_side(void **state) {
  (void)state;
  answer a = ask(SLOT("friction: 0.6") "crew: [{pull_N: 600}]\n" ROPE "kit: [{item: toothed-capture}, {item: carabiner}, {item: prusik}]\n", 3);
  assert_false(a.works);
  assert_non_null(strstr(a.missing, "; or "));
  assert_true(tells(a.missing, "a lip padded and cleared"));
  assert_true(tells(a.missing, "N more pull"));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_capture_or_a_hitch),
      cmocka_unit_test(one_more_piece),
      cmocka_unit_test(a_padded_lip),
      cmocka_unit_test(so_much_more_pull_is_enough_and_five_newtons_less_is_not),
      cmocka_unit_test(more_pull_than_people_could_give_is_not_told),
      cmocka_unit_test(no_help_needs_the_hands_of_one_who_is_silent),
      cmocka_unit_test(an_answer_that_decides_is_told_first),
      cmocka_unit_test(so_much_more_rope_is_enough_and_half_a_metre_less_is_not),
      cmocka_unit_test(where_no_single_change_is_enough_it_says_so),
      cmocka_unit_test(a_kit_that_is_full_cannot_be_asked_for_another_kind),
      cmocka_unit_test(steps_for_the_feet),
      cmocka_unit_test(another_way_to_pull),
      cmocka_unit_test(less_mass_on_the_rope),
      cmocka_unit_test(one_more_person),
      cmocka_unit_test(two_changes_where_one_is_not_enough),
      cmocka_unit_test(everything_that_would_do_is_told_side_by_side),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
