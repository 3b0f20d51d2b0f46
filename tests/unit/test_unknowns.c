// SPDX-License-Identifier: MIT
// No open number of a scene is passed over in silence: each key of the table is sampled, named as one that stood at its likely
// value, or listed here as one that the question does not look at.
#include "fh_test.h"

#include "memory.h"
#include "odds.h"
#include "scene_text.h"
#include "unknowns.h"

static const char *const BASES[] = {
    "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {friction: 0.2, cut_m: 0.3}\nground: {station_m: 6, anchor_m: 9, anchor: t-slot}\n"
    "ropes: [{name: main, length_m: 61.92, diameter_mm: 8.5}]\nkit: [{item: pulley, count: 2}]\ncrew: [{name: a, mass_kg: 70, footing: 0.4}, {name: b, pull_N: 300}]\n"
    "reset_s: 30\nwalk_mps: 0.3\n"
    "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.4}, {edge: lip}, {run: load, on: carabiner}, {edge: lip}, "
    "{run: station, on: toothed-capture, efficiency: 0.6}, {run: t, on: pulley}, {hand: crew, angle_deg: 20}]}], "
    "grips: [{body: t, hitch: prusik, rope: main, after: 5, at_m: 1.5}]}\n",
    "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {friction: 0.2, cut_m: 0.3}\nground: {station_m: 6, anchor_m: 9}\n"
    "anchor: {snow: knife, modulus_kN: 60, sharing: sliding, stop_m: 0.3, points: [{kind: t-slot, leg_m: 1.5}, {kind: bollard, leg_m: 1.5, aside_deg: 10}, {kind: top-clip, leg_m: 1.5}]}\n"
    "ropes: [{name: main, length_m: 22.8, diameter_mm: 8.5}]\ncrew: [{name: a, mass_kg: 70, footing: 0.4}]\n"
    "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], "
    "grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 1.5}]}\n",
};

enum { HAUL, LOSE, CHECK, QUESTIONS };

// What a question does not look at, with the reason.
static const char *const IGNORED[QUESTIONS][24] = {
    [HAUL] = {NULL},
    // Nobody pulls, and no time passes, when one thing lets go.
    [LOSE] = {"lip.cut_m", "ground.slope_deg", "crew[].mass_kg", "crew[].footing", "crew[].pull_N", "ropes[].diameter_mm", "reset_s", "walk_mps",
              "rig.ropes[].path[].angle_deg", NULL},
    // The pull, the limits and the rope of a rig that stands (61.9 m of 61.92 m, 22.5 m of 22.8 m): no stretch and no time is in them.
    [CHECK] = {"lip.cut_m", "reset_s", "walk_mps", "ropes[].modulus_kN", NULL},
};

typedef struct opener {
  const char *key;
  int found;
} opener;

// Opens every number of a key: by a tenth to both sides of what it was, else by what any of them accepts.
static void open_up(void *user, fh_number *n, const char *key) {
  opener *o = user;
  if (strcmp(key, o->key) != 0) {
    return;
  }
  o->found++;
  double at = fh_number_is_set(*n) && n->likely != 0.0 ? n->likely : 0.3;
  bool range = strstr(key, "_range") != NULL;
  at = range ? 0.6 : at;
  *n = (fh_number){FH_SPREAD_UNIFORM, 0.9 * at, at, 1.1 * at, 0.0, 1, 1};
}

// All that a question says of what is open, as bytes.
typedef struct said {
  fh_number number[FH_MAX_UNKNOWNS];
  char name[FH_MAX_UNKNOWNS][64];
  char stood[FH_MAX_STOOD][64];
} said;

static void keep(said *s, const fh_unknown *list, int count, const char (*stood)[64], int stood_count) {
  memset(s, 0, sizeof *s);
  for (int i = 0; i < count; i++) {
    s->number[i].lo = list[i].number.lo;
    s->number[i].hi = list[i].number.hi;
    (void)snprintf(s->name[i], sizeof s->name[i], "%s", list[i].name);
  }
  for (int i = 0; i < stood_count; i++) {
    (void)snprintf(s->stood[i], sizeof s->stood[i], "%s", stood[i]);
  }
}

static void ask(int question, const fh_scene *scene, const fh_gear *gear, said *out) {
  static fhi_unknowns u;
  if (question != CHECK) {
    fhi_unknowns_fill(scene, gear, question == HAUL ? FHI_ASKS_HAUL : FHI_ASKS_LOSE, &u);
    keep(out, u.list, u.count, (const char (*)[64])u.stood, u.stood_count);
    return;
  }
  fh_check *k = NULL;
  fhi_odds *odds = calloc(1, sizeof *odds);
  assert_non_null(odds);
  assert_status(fh_check_create(scene, gear, &scene->rig, NULL, &k), FH_OK);
  assert_status(fhi_odds_build(scene, gear, &scene->rig, k, odds), FH_OK);
  keep(out, odds->unknown, odds->unknowns, (const char (*)[64])odds->stood, odds->stood_count);
  fh_check_destroy(k);
  free(odds);
}

static bool ignored(int question, const char *key) {
  for (int i = 0; IGNORED[question][i] != NULL; i++) {
    if (strcmp(IGNORED[question][i], key) == 0) {
      return true;
    }
  }
  return false;
}

// Does a range at this key change what any of the scenes says of what is open?
static bool is_heard(int question, const char *key, int *found) {
  bool heard = false;
  for (size_t b = 0; b < sizeof BASES / sizeof *BASES; b++) {
    static said before, after;
    scene_text t = scene_read(BASES[b]);
    opener o = {key, 0};
    ask(question, t.scene, t.gear, &before);
    fhi_scene_numbers(t.scene, open_up, &o);
    ask(question, t.scene, t.gear, &after);
    heard = heard || memcmp(&before, &after, sizeof before) != 0;
    *found += o.found;
    scene_done(&t);
  }
  return heard;
}

static void every_key_of_the_table_is_sampled_named_or_of_no_matter(void **state) {
  (void)state;
  int count = 0, walked = 0, wrong = 0;
  const fh_key *keys = fh_key_list(&count);
  for (int i = 0; i < count; i++) {
    bool open = strcmp(keys[i].type, "number") == 0 || strcmp(keys[i].type, "range") == 0;
    if (!open || strncmp(keys[i].path, "team.", 5) == 0) {
      continue;  // the team's own command samples those
    }
    walked++;
    for (int q = 0; q < QUESTIONS; q++) {
      int found = 0;
      bool heard = is_heard(q, keys[i].path, &found);
      if (found == 0 || heard == ignored(q, keys[i].path)) {
        wrong++;
        print_error("question %d, key %s: %d numbers opened, %s\n", q, keys[i].path, found, heard ? "heard, though listed as of no matter" : "passed over in silence");
      }
    }
  }
  assert_int_equal(wrong, 0);
  assert_true(walked > 30);
}

static void a_settled_scene_is_exact_and_has_the_likely_values(void **state) {
  (void)state;
  scene_text t = scene_read(BASES[1]);
  fhi_settled *s = NULL;
  assert_status(fhi_settled_create(t.scene, t.gear, &s), FH_OK);
  assert_int_equal(s->gear.count, fh_gear_count(t.gear));
  for (int i = 0; i < s->gear.count; i++) {
    for (int f = 0; f < s->gear.items[i].figure_count; f++) {
      fh_number was = fh_gear_item(t.gear, i)->figures[f].value, is = s->gear.items[i].figures[f].value;
      assert_exact(is.likely, was.likely);
      assert_exact(is.hi - is.lo, 0.0);
    }
  }
  static fhi_unknowns u;
  double middle[FH_MAX_UNKNOWNS], end[FH_MAX_UNKNOWNS];
  fhi_unknowns_fill(t.scene, t.gear, FHI_ASKS_LOSE, &u);
  for (int i = 0; i < u.count; i++) {
    middle[i] = 0.5;
    end[i] = 1.0 - 1e-12;
  }
  fhi_settle(s, &u, end);
  fhi_settle(s, &u, middle);
  assert_exact(s->scene.anchorage.modulus.likely, 60e3);
  for (int i = 0; i < u.targets; i++) {
    const fhi_target *g = &u.target[i];
    const fh_number *n = g->figure >= 0 ? &s->figures[g->figure].value : (const fh_number *)((const char *)&s->scene + g->at);
    assert_int_equal(n->spread, FH_SPREAD_EXACT);
    assert_within(n->likely, g->number.lo, g->number.hi);
    assert_close(n->likely, g->number.spread == FH_SPREAD_UNIFORM ? 0.5 * (g->number.lo + g->number.hi) : n->likely, 1e-12);
  }
  assert_true(u.targets > 10);
  fhi_settled_destroy(s);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_key_of_the_table_is_sampled_named_or_of_no_matter),
      cmocka_unit_test(a_settled_scene_is_exact_and_has_the_likely_values),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
