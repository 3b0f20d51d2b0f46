// SPDX-License-Identifier: MIT
// Reports for machines and the words for a rig: the promised keys and names, nulls where nothing is known, every refusal
// of the output told. The figures themselves are judged elsewhere; here they are only compared with the check they come from.
#include "fh_test.h"
#include "json.h"
#include "report.h"
#include "yaml.h"

static const char HEAD[] =
    "firnhaul: 1\n"
    "title: \"a \\\"quoted\\\" title\"\n"
    "load: {mass_kg: 92}\nslot: {depth_m: 11}\nlip: {turn_deg: 80, friction: 0.18}\nground: {station_m: 4.5, anchor_m: 10}\n"
    "ropes:\n  - {name: main, length_m: 70}\n";

static const char SIX[] =
    "rig:\n  ropes:\n    - name: main\n      path:\n"
    "        - {tie: load}\n        - {edge: lip}\n        - {tie: anchor, slack_m: 0.6}\n        - {edge: lip}\n"
    "        - {run: load, on: carabiner}\n        - {edge: lip}\n        - {run: station, on: toothed-capture}\n"
    "        - {run: tractor, on: carabiner}\n        - {hand: crew}\n"
    "  grips:\n    - {body: tractor, hitch: prusik, rope: main, after: 5, at_m: 1.5}\n";

// A grip on the loaded strand, tied to the anchor by a cord: nothing can move.
static const char LOCKED[] =
    "rig:\n  ropes:\n    - name: main\n      path:\n"
    "        - {tie: load}\n        - {edge: lip}\n        - {run: station, on: carabiner}\n        - {hand: crew}\n"
    "    - name: cord\n      path:\n        - {tie: anchor}\n        - {tie: held}\n"
    "  grips:\n    - {body: held, hitch: prusik, rope: main, after: 1, at_m: 2}\n";

typedef struct bench {
  fh_gear *gear;
  fh_scene *scene;
  fh_check *check;
} bench;

static bench open_bench(const char *rig) {
  bench b = {0};
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  char text[4096];
  (void)snprintf(text, sizeof text, "%s%s", HEAD, rig);
  assert_status(fh_gear_create(&b.gear), FH_OK);
  assert_status(cli_yaml_parse(text, strlen(text), &doc, &diag), FH_OK);
  fh_status status = fh_scene_create(doc, b.gear, &b.scene, &diag);
  if (status != FH_OK) {
    print_error("line %d: %s\n", diag.line, diag.message);
  }
  assert_status(status, FH_OK);
  fh_doc_destroy(doc);
  assert_status(fh_check_create(b.scene, b.gear, &b.scene->rig, NULL, &b.check), FH_OK);
  return b;
}

static void close_bench(bench *b) {
  fh_check_destroy(b->check);
  fh_scene_destroy(b->scene);
  fh_gear_destroy(b->gear);
}

static char *json_of(const bench *b) {
  fh_test_text text = {0};
  assert_status(fh_check_write_json(b->scene, b->gear, &b->scene->rig, b->check, (fh_out){fh_test_collect, &text}), FH_OK);
  return text.bytes;
}

// Each line of `wanted` must come after the one before it.
static void assert_in_order(const char *text, const char *const *wanted, int count) {
  for (int i = 0; i < count; i++) {
    const char *found = strstr(text, wanted[i]);
    if (found == NULL) {
      print_error("not found, or not in order: %s\n", wanted[i]);
    }
    assert_non_null(found);
    text = found + strlen(wanted[i]);
  }
}

static void a_check_says_all_that_the_format_promises(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  char *json = json_of(&b);
  static const char *const keys[] = {"\"title\": \"a \\\"quoted\\\" title\"", "\"outcome\": \"solved\"", "\"ideal_advantage\": ", "\"actual_advantage\": ",
                                     "\"residual\": ", "\"raise\": {", "\"hand_force_N\": ", "\"hand_force_range_N\": {\"low\": ", "\"strands\": [",
                                     "\"bodies\": [", "\"grips\": [", "\"hold\": {", "\"strands\": [", "\"bodies\": [", "\"lower\": {", "\"limits\": [",
                                     "\"element\": ", "\"force_N\": ", "\"limit_N\": ", "\"margin\": ", "\"source\": ", "\"caution\": "};
  assert_in_order(json, keys, (int)(sizeof keys / sizeof keys[0]));
  free(json);
  close_bench(&b);
}

static void strands_come_in_path_order_a_gripped_one_in_its_two_parts(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  char *json = json_of(&b);
  static const char *const ends[] = {"\"raise\"",
                                     "\"from\": \"load\"", "\"to\": \"lip\"",     "\"from\": \"lip\"",     "\"to\": \"anchor\"",
                                     "\"from\": \"anchor\"", "\"to\": \"lip\"",   "\"from\": \"lip\"",     "\"to\": \"load\"",
                                     "\"from\": \"load\"", "\"to\": \"lip\"",     "\"from\": \"lip\"",     "\"to\": \"tractor\"",
                                     "\"from\": \"tractor\"", "\"to\": \"station\"", "\"from\": \"station\"", "\"to\": \"tractor\"",
                                     "\"from\": \"tractor\"", "\"to\": \"hand\"", "\"hold\""};
  assert_in_order(json, ends, (int)(sizeof ends / sizeof ends[0]));
  // The slack line carries nothing, and says so with a number.
  static const char *const slack[] = {"\"to\": \"anchor\"", "\"carries\": false", "\"tension_N\": {\"low\": 0, \"likely\": 0, \"high\": 0}"};
  assert_in_order(json, slack, 3);
  free(json);
  close_bench(&b);
}

static void a_rig_that_does_not_work_is_still_one_object_with_nulls(void **state) {
  (void)state;
  bench b = open_bench(LOCKED);
  assert_int_equal(b.check->outcome, FH_OUTCOME_INFEASIBLE);
  assert_true(b.check->answer_no);
  char *json = json_of(&b);
  static const char *const keys[] = {"\"outcome\": \"infeasible\"", "\"why\": \"", "\"answer\": \"no\"", "\"actual_advantage\": null", "\"residual\": null",
                                     "\"raise\": {", "\"hand_force_N\": null", "\"tension_N\": {\"low\": null, \"likely\": null, \"high\": null}",
                                     "\"worst_margin\": null", "\"strokes\": null", "\"time_s\": null"};
  assert_in_order(json, keys, (int)(sizeof keys / sizeof keys[0]));
  assert_null(strstr(json, "nan"));
  assert_null(strstr(json, "inf\""));
  free(json);
  close_bench(&b);
}

static void lowering_that_was_not_worked_out_is_null(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  fh_check_destroy(b.check);
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = false;
  assert_status(fh_check_create(b.scene, b.gear, &b.scene->rig, &opts, &b.check), FH_OK);
  char *json = json_of(&b);
  assert_non_null(strstr(json, "\"lower\": null"));
  free(json);
  close_bench(&b);
}

static void the_hand_force_in_json_is_the_check_s(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  char *json = json_of(&b);
  char wanted[80];
  char number[40];
  (void)snprintf(wanted, sizeof wanted, "\"hand_force_N\": %s,", fhi_shortest(number, sizeof number, b.check->hand_force.likely));
  assert_non_null(strstr(json, wanted));
  free(json);
  close_bench(&b);
}

static void the_answer_is_yes_only_over_the_whole_range(void **state) {
  (void)state;
  static fh_check check;
  check.outcome = FH_OUTCOME_SOLVED;
  check.crew_share = (fh_band){0.5, 0.7, 0.99};
  assert_int_equal(fhi_check_answer(&check), FHI_ANSWER_YES);
  check.crew_share.hi = 1.01;
  assert_int_equal(fhi_check_answer(&check), FHI_ANSWER_UNSURE);
  check.crew_share = (fh_band){nan(""), nan(""), nan("")};
  assert_int_equal(fhi_check_answer(&check), FHI_ANSWER_UNSURE);
  check.crew_share = (fh_band){1.01, 1.5, 2.0};
  assert_int_equal(fhi_check_answer(&check), FHI_ANSWER_NO);
  check.crew_share = (fh_band){0.1, 0.1, 0.1};
  check.limit_count = 1;
  check.limits[0].margin = 0.99;
  assert_int_equal(fhi_check_answer(&check), FHI_ANSWER_UNSURE);
  check.limits[0].margin = (double)INFINITY;
  assert_int_equal(fhi_check_answer(&check), FHI_ANSWER_YES);
  check.answer_no = true;
  assert_int_equal(fhi_check_answer(&check), FHI_ANSWER_NO);
  check.answer_no = false;
  check.outcome = FH_OUTCOME_UNRESOLVED;
  assert_int_equal(fhi_check_answer(&check), FHI_ANSWER_NO);
}

static void every_row_of_csv_has_as_many_cells_as_the_head(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  fh_test_text text = {0};
  assert_status(fh_check_write_csv(b.scene, b.gear, &b.scene->rig, b.check, (fh_out){fh_test_collect, &text}), FH_OK);
  int rows = 0;
  for (const char *line = text.bytes; *line != '\0'; rows++) {
    const char *end = strstr(line, "\r\n");
    assert_non_null(end);
    int commas = 0;
    bool quoted = false;
    for (const char *c = line; c < end; c++) {
      quoted = *c == '"' ? !quoted : quoted;
      commas += *c == ',' && !quoted ? 1 : 0;
    }
    assert_int_equal(commas, 12);
    line = end + 2;
  }
  // Head, then for three states 9 strands, 6 bends, 4 bodies and 1 grip, then the hand and the limits.
  assert_int_equal(rows, 1 + 3 * (9 + 6 + 4 + 1) + 1 + b.check->limit_count);
  free(text.bytes);
  close_bench(&b);
}

static void csv_quotes_what_needs_it_and_defuses_formulas(void **state) {
  (void)state;
  static const struct {
    const char *text, *cell;
  } cases[] = {{"plain", "plain"}, {"a,b", "\"a,b\""}, {"a\"b", "\"a\"\"b\""}, {"=1+1", "\"'=1+1\""}, {"@x", "\"'@x\""}, {"", ""}, {"a\nb", "\"a\nb\""}};
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    fh_test_text text = {0};
    fhi_writer w;
    fhi_writer_start(&w, (fh_out){fh_test_collect, &text});
    fhi_csv_text(&w, cases[i].text);
    assert_status(fhi_writer_end(&w), FH_OK);
    assert_string_equal(text.bytes != NULL ? text.bytes : "", cases[i].cell);
    free(text.bytes);
  }
}

static void a_rig_in_words_follows_the_rope(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  fh_test_text text = {0};
  assert_status(fh_rig_write_words(&b.scene->rig, b.gear, FH_METRIC, FH_ENGLISH, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_string_equal(text.bytes,
                      "Rope main: tied to the load, over the lip, tied to the anchor with 0.6 m of slack before it, over the lip, through a carabiner on "
                      "the load, over the lip, through a toothed capture on the station, through a carabiner on tractor, to the crew, who pull back, away "
                      "from the lip.\n"
                      "Grip tractor: a prusik on rope main between the lip and the station, 1.5 m back from the lip.\n");
  free(text.bytes);
  close_bench(&b);
}

static void words_tell_a_tended_capture_and_a_pull_toward_the_lip(void **state) {
  (void)state;
  bench b = open_bench("rig:\n  ropes:\n    - name: main\n      path:\n        - {tie: load}\n        - {edge: lip}\n"
                       "        - {run: station, on: axe-shaft}\n        - {hand: crew, angle_deg: 20}\n"
                       "  grips:\n    - {body: station, hitch: autoblock, rope: main, after: 1, at_m: 4}\n");
  fh_test_text text = {0};
  assert_status(fh_rig_write_words(&b.scene->rig, b.gear, FH_IMPERIAL, FH_ENGLISH, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_string_equal(text.bytes,
                      "Rope main: tied to the load, over the lip, through an axe shaft on the station, to the crew, who pull toward the lip, 20 degrees off "
                      "the line.\n"
                      "Tended capture at the station: an autoblock on rope main between the lip and the station, 13.1 ft back from the lip; keep it open "
                      "while hauling, let it lock before letting go.\n");
  free(text.bytes);
  close_bench(&b);
}

// The n-th byte is refused, for every n: the writer says so and stops.
static void every_refusal_of_the_output_is_told(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  char *whole = json_of(&b);
  size_t size = strlen(whole);
  free(whole);
  for (size_t limit = 1; limit < size; limit += 97) {
    fh_test_text text = {.limit = limit};
    fh_out out = {fh_test_collect, &text};
    assert_status(fh_check_write_json(b.scene, b.gear, &b.scene->rig, b.check, out), FH_ERR_WRITE);
    free(text.bytes);
  }
  for (size_t limit = 1; limit < 900; limit += 97) {
    fh_test_text csv = {.limit = limit};
    assert_status(fh_check_write_csv(b.scene, b.gear, &b.scene->rig, b.check, (fh_out){fh_test_collect, &csv}), FH_ERR_WRITE);
    free(csv.bytes);
  }
  fh_test_text words = {.limit = 10};
  assert_status(fh_rig_write_words(&b.scene->rig, b.gear, FH_METRIC, FH_ENGLISH, (fh_out){fh_test_collect, &words}), FH_ERR_WRITE);
  free(words.bytes);
  close_bench(&b);
}

static void missing_arguments_are_refused(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  fh_test_text text = {0};
  fh_out out = {fh_test_collect, &text};
  fh_out none = {NULL, NULL};
  const fh_rig *rig = &b.scene->rig;
  assert_status(fh_check_write_json(NULL, b.gear, rig, b.check, out), FH_ERR_ARG);
  assert_status(fh_check_write_json(b.scene, b.gear, rig, b.check, none), FH_ERR_ARG);
  assert_status(fh_check_write_csv(b.scene, NULL, rig, b.check, out), FH_ERR_ARG);
  assert_status(fh_check_write_csv(b.scene, b.gear, rig, NULL, out), FH_ERR_ARG);
  assert_status(fh_plans_write_json(b.scene, b.gear, NULL, out), FH_ERR_ARG);
  assert_status(fh_plans_write_csv(NULL, b.gear, NULL, out), FH_ERR_ARG);
  assert_status(fhi_plans_write_brief(b.scene, b.gear, NULL, out), FH_ERR_ARG);
  assert_status(fh_rig_write_words(NULL, b.gear, FH_METRIC, FH_ENGLISH, out), FH_ERR_ARG);
  assert_null(text.bytes);
  close_bench(&b);
}

static const char KIT[] = "kit:\n  - {item: carabiner, count: 2}\n  - {item: toothed-capture, count: 1}\n  - {item: prusik, count: 1}\n";

// All rigs of a small kit.
static fh_plans *open_plans(bench *b) {
  char kit[2048];
  (void)snprintf(kit, sizeof kit, "%s%s", KIT, SIX);
  *b = open_bench(kit);
  fh_plan_opts opts = fh_plan_opts_default();
  opts.all = true;
  fh_plans *plans = NULL;
  assert_status(fh_plans_create(b->scene, b->gear, &opts, &plans), FH_OK);
  assert_true(plans->count > 0);
  return plans;
}

static void plans_say_all_that_the_format_promises(void **state) {
  (void)state;
  bench b;
  fh_plans *plans = open_plans(&b);
  fh_test_text text = {0};
  assert_status(fh_plans_write_json(b.scene, b.gear, plans, (fh_out){fh_test_collect, &text}), FH_OK);
  static const char *const keys[] = {"\"possible\": ", "\"missing\": ", "\"searched\": ", "\"sound\": ", "\"distinct\": ", "\"kept\": ", "\"bounds\": \"",
                                     "\"plans\": [", "\"why\": \"", "\"ideal_advantage\": ", "\"hand_force_N\": ", "\"actual_advantage\": ",
                                     "\"rope_needed_m\": ", "\"throw_m\": ", "\"resets\": ", "\"time_s\": ", "\"pieces\": ", "\"worst_margin\": ",
                                     "\"crew_share\": ", "\"built\": [", "Rope main: ", "\"rig\": ", "\"ropes\"", "\"caution\": "};
  assert_in_order(text.bytes, keys, (int)(sizeof keys / sizeof keys[0]));
  size_t size = text.count;
  free(text.bytes);
  for (size_t limit = 1; limit < size; limit += size / 23 + 1) {
    fh_test_text cut = {.limit = limit};
    assert_status(fh_plans_write_json(b.scene, b.gear, plans, (fh_out){fh_test_collect, &cut}), FH_ERR_WRITE);
    free(cut.bytes);
    fh_test_text rows = {.limit = limit / 16 + 1};
    assert_status(fh_plans_write_csv(b.scene, b.gear, plans, (fh_out){fh_test_collect, &rows}), FH_ERR_WRITE);
    free(rows.bytes);
  }
  fh_plans_destroy(plans);
  close_bench(&b);
}

static void a_kit_that_builds_nothing_gives_an_empty_list_and_what_is_missing(void **state) {
  (void)state;
  bench b = open_bench(SIX);  // no kit at all
  fh_plans *plans = NULL;
  assert_status(fh_plans_create(b.scene, b.gear, NULL, &plans), FH_OK);
  assert_int_equal(plans->count, 0);
  fh_test_text text = {0};
  assert_status(fh_plans_write_json(b.scene, b.gear, plans, (fh_out){fh_test_collect, &text}), FH_OK);
  static const char *const none[] = {"\"possible\": false", "\"missing\": \"", "\"kept\": 0", "\"plans\": []"};
  assert_in_order(text.bytes, none, 4);
  assert_null(strstr(text.bytes, "\"missing\": \"\""));
  free(text.bytes);
  fh_plans_destroy(plans);
  close_bench(&b);
}

// What one line says of all rigs is what plan and check say of each.
static void the_brief_of_plans_holds_each_rig_s_answer_pull_and_time(void **state) {
  (void)state;
  bench b;
  fh_plans *plans = open_plans(&b);
  fh_test_text text = {0};
  assert_status(fhi_plans_write_brief(b.scene, b.gear, plans, (fh_out){fh_test_collect, &text}), FH_OK);
  static fh_rig rig;
  const char *at = strstr(text.bytes, "\"points\": [");
  assert_non_null(at);
  for (int i = 0; i < plans->count; i++) {
    fh_check *check = NULL;
    char said[64];
    assert_status(fh_plan_rig(b.scene, b.gear, plans, i, &rig), FH_OK);
    assert_status(fh_check_create(b.scene, b.gear, &rig, NULL, &check), FH_OK);
    (void)snprintf(said, sizeof said, "\"answer\": \"%s\"", fhi_answer_name(fhi_check_answer(check)));
    fh_check_destroy(check);
    at = strstr(at, "\"answer\": ");
    assert_non_null(at);
    assert_memory_equal(at, said, strlen(said));
    at += strlen(said);
  }
  for (int i = 0; i < plans->count; i++) {
    at = strstr(at, "\"hand_force_N\": ");
    assert_non_null(at);
    assert_close(strtod(at + strlen("\"hand_force_N\": "), NULL), plans->plans[i].hand_force.likely, 1e-12);
    at = strstr(at, "\"time_with_rests_range_s\": {\"low\": ");
    assert_non_null(at);
    assert_close(strtod(at + strlen("\"time_with_rests_range_s\": {\"low\": "), NULL), plans->plans[i].time_rests_range.lo, 1e-12);
    at += 1;
  }
  size_t size = text.count;
  free(text.bytes);
  for (size_t limit = 1; limit < size; limit += size / 23 + 1) {
    fh_test_text cut = {.limit = limit};
    assert_status(fhi_plans_write_brief(b.scene, b.gear, plans, (fh_out){fh_test_collect, &cut}), FH_ERR_WRITE);
    free(cut.bytes);
  }
  fh_plans_destroy(plans);
  close_bench(&b);
}

static void plans_as_rows_hold_their_words_in_one_cell(void **state) {
  (void)state;
  char kit[2048];
  (void)snprintf(kit, sizeof kit, "%s%s", KIT, SIX);
  bench b = open_bench(kit);
  fh_plan_opts opts = fh_plan_opts_default();
  opts.all = true;
  fh_plans *plans = NULL;
  assert_status(fh_plans_create(b.scene, b.gear, &opts, &plans), FH_OK);
  fh_test_text text = {0};
  assert_status(fh_plans_write_csv(b.scene, b.gear, plans, (fh_out){fh_test_collect, &text}), FH_OK);
  int rows = 0;
  for (const char *line = text.bytes; *line != '\0'; rows++) {
    const char *end = strstr(line, "\r\n");
    assert_non_null(end);
    int commas = 0;
    bool quoted = false;
    for (const char *c = line; c < end; c++) {
      quoted = *c == '"' ? !quoted : quoted;
      commas += *c == ',' && !quoted ? 1 : 0;
    }
    assert_int_equal(commas, 18);
    assert_true(rows == 0 || strncmp(end - 2, ".\"", 2) == 0);
    line = end + 2;
  }
  assert_int_equal(rows, 1 + plans->count);
  free(text.bytes);
  fh_plans_destroy(plans);
  close_bench(&b);
}

static void a_rig_in_few_words_names_each_station_and_grip(void **state) {
  (void)state;
  bench b = open_bench(SIX);
  static char line[FHI_WORDS];
  fhi_words_short(&b.scene->rig, b.gear, 0, FH_ENGLISH, line);
  assert_string_equal(line, "main: load, lip, anchor (slack), lip, carabiner on load, lip, toothed capture on station, carabiner on tractor, hand back; "
                            "tractor grips between lip and station.");
  close_bench(&b);
}

static void words_tell_loose_ends_and_a_capture_put_in_backwards(void **state) {
  (void)state;
  bench b = open_bench("rig:\n  ropes:\n    - name: main\n      path:\n        - {tie: load}\n        - {edge: lip}\n"
                       "        - {run: station, on: toothed-capture, reversed: true}\n        - {loose: true}\n"
                       "    - name: haul\n      path:\n        - {tie: station}\n        - {run: block, on: pulley}\n        - {hand: crew}\n"
                       "  grips:\n    - {body: block, hitch: prusik, rope: main, after: 1, at_m: 1.5}\n"
                       "    - {body: tail, hitch: prusik, rope: main, after: 2, at_m: 3}\n");
  fh_test_text text = {0};
  static char line[FHI_WORDS];
  assert_status(fh_rig_write_words(&b.scene->rig, b.gear, FH_METRIC, FH_ENGLISH, (fh_out){fh_test_collect, &text}), FH_OK);
  assert_string_equal(text.bytes,
                      "Rope main: tied to the load, over the lip, through a toothed capture on the station put in the wrong way round, its end loose.\n"
                      "Rope haul: tied to the station, through a pulley on block, to the crew, who pull back, away from the lip.\n"
                      "Grip block: a prusik on rope main between the lip and the station, 1.5 m back from the lip.\n"
                      "Grip tail: a prusik on rope main between the station and the loose end, 3.0 m back from the lip.\n");
  fhi_words_short(&b.scene->rig, b.gear, 0, FH_ENGLISH, line);
  assert_string_equal(line, "main: load, lip, toothed capture on station, loose end; block grips between lip and station; "
                            "tail grips between station and loose end.");
  free(text.bytes);
  close_bench(&b);
}

// Names that a reader of JSON or CSV relies on: one for each value, none twice.
static void every_value_has_its_own_name(void **state) {
  (void)state;
  static const char *const classes[] = {"bar", "sheave", "capture", "hitch", "surface", "rope", "posture", "anchor", "other"};
  for (int i = FH_ITEM_BAR; i <= FH_ITEM_OTHER; i++) {
    assert_string_equal(fhi_class_name((fh_item_class)i), classes[i]);
  }
  assert_string_equal(fhi_basis_name(FH_BASIS_PUBLISHED), "published");
  assert_string_equal(fhi_basis_name(FH_BASIS_STANDARD), "standard");
  assert_string_equal(fhi_basis_name(FH_BASIS_PRACTICE), "practice");
  assert_string_equal(fhi_basis_name(FH_BASIS_MEMORY), "memory");
  assert_string_equal(fhi_basis_name(FH_BASIS_OWN), "own");
  assert_string_equal(fhi_answer_name(FHI_ANSWER_NO), "no");
  assert_string_equal(fhi_answer_name(FHI_ANSWER_UNSURE), "unsure");
  assert_string_equal(fhi_answer_name(FHI_ANSWER_YES), "yes");
  assert_string_equal(fhi_state_name(FH_RAISE), "raise");
  assert_string_equal(fhi_state_name(FH_HOLD), "hold");
  assert_string_equal(fhi_state_name(FH_LOWER), "lower");
}

#ifdef FHI_FAULT
#include "memory.h"

static void want_of_memory_is_told_by_every_writer(void **state) {
  (void)state;
  bench b;
  fh_plans *plans = open_plans(&b);
  typedef fh_status (*writer)(const fh_scene *, const fh_gear *, const fh_plans *, fh_out);
  static const writer writers[] = {fh_plans_write_json, fh_plans_write_csv, fhi_plans_write_brief};
  for (int k = 0; k < 3; k++) {
    fh_status status = FH_ERR_MEMORY;
    for (long n = 1; status != FH_OK; n++) {
      assert_true(n < 1000);
      fh_test_text text = {0};
      fhi_fault_after(n);
      status = writers[k](b.scene, b.gear, plans, (fh_out){fh_test_collect, &text});
      fhi_fault_after(0);
      assert_true(status == FH_OK || status == FH_ERR_MEMORY);
      assert_true(n > 1 || status == FH_ERR_MEMORY);
      free(text.bytes);
    }
  }
  fh_plans_destroy(plans);
  close_bench(&b);
}
#endif

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_check_says_all_that_the_format_promises),
      cmocka_unit_test(strands_come_in_path_order_a_gripped_one_in_its_two_parts),
      cmocka_unit_test(a_rig_that_does_not_work_is_still_one_object_with_nulls),
      cmocka_unit_test(lowering_that_was_not_worked_out_is_null),
      cmocka_unit_test(the_hand_force_in_json_is_the_check_s),
      cmocka_unit_test(the_answer_is_yes_only_over_the_whole_range),
      cmocka_unit_test(every_row_of_csv_has_as_many_cells_as_the_head),
      cmocka_unit_test(csv_quotes_what_needs_it_and_defuses_formulas),
      cmocka_unit_test(a_rig_in_words_follows_the_rope),
      cmocka_unit_test(words_tell_a_tended_capture_and_a_pull_toward_the_lip),
      cmocka_unit_test(every_refusal_of_the_output_is_told),
      cmocka_unit_test(missing_arguments_are_refused),
      cmocka_unit_test(plans_say_all_that_the_format_promises),
      cmocka_unit_test(a_kit_that_builds_nothing_gives_an_empty_list_and_what_is_missing),
      cmocka_unit_test(the_brief_of_plans_holds_each_rig_s_answer_pull_and_time),
      cmocka_unit_test(plans_as_rows_hold_their_words_in_one_cell),
      cmocka_unit_test(a_rig_in_few_words_names_each_station_and_grip),
      cmocka_unit_test(words_tell_loose_ends_and_a_capture_put_in_backwards),
      cmocka_unit_test(every_value_has_its_own_name),
#ifdef FHI_FAULT
      cmocka_unit_test(want_of_memory_is_told_by_every_writer),
#endif
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
