// SPDX-License-Identifier: MIT
// The n-th allocation fails, for n = 1, 2, 3 ... until a call succeeds: the raise in time, what lets go, sheets, fits, teams, chances. Each
// failure is FH_ERR_MEMORY, leaves the result untouched and, as the leak sanitizer sees at the end, gives everything back.
#include "fail_each.h"

#include "fh_test.h"

#include "firnhaul_chance.h"
#include "firnhaul_fit.h"
#include "firnhaul_team.h"
#include "memory.h"
#include "scene_text.h"

static const char LOOP[] =
    "firnhaul: 1\nload: {mass_kg: [70, 90]}\nslot: {depth_m: 6}\nlip: {turn_deg: 80, friction: [0.1, 0.2], cut_m: 0.2}\nground: {station_m: 6, anchor_m: 9, holds_kN: [8, 12]}\n"
    "crew: [{name: a}, {name: b}]\nropes: [{name: main, length_m: 60}]\n"
    "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {tie: anchor, slack_m: 0.4}, {edge: lip}, {run: load, on: carabiner}, {edge: lip}, "
    "{run: station, on: toothed-capture}, {run: t, on: pulley}, {hand: crew}]}], grips: [{body: t, hitch: prusik, rope: main, after: 5, at_m: 1.5}]}\n";

static const char RESTING[] =
    "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 6}\nlip: {friction: [0.1, 0.2]}\nground: {station_m: 6, anchor_m: 9}\n"
    "rig: {ropes: [{name: main, path: [{loose: true}, {hand: crew}]}, {name: loop, path: [{tie: t}, {edge: lip}, {run: load, on: carabiner}, {edge: lip}, {tie: t}]}], "
    "grips: [{body: t, hitch: prusik, rope: main, after: 0, at_m: 2}]}\n";

static const char TEAM[] =
    "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {}\nground: {}\nropes: [{name: main, length_m: 60}]\n"
    "team: {people: [{mass_kg: 85, behind_m: 0}, {mass_kg: [60, 90], behind_m: 12}, {mass_kg: 80, behind_m: 24}]}\n";

enum { READINGS = 12 };

// What a case works on; results land here.
struct bench {
  scene_text loop, resting, team;
  fh_reading readings[READINGS];
  fh_haul *haul;
  fh_stages *stages;
  fh_lose *lose;
  fh_sheet *sheet;
  fh_fit *fit;
  fh_team_result *falls;
  fh_haul_chance *haul_chance;
  fh_lose_chance *lose_chance;
  fh_chance *chance;
  fh_test_text text;
};

// Gives back every result. @return whether there was one
static bool clean(bench *b) {
  bool there = b->haul != NULL || b->stages != NULL || b->lose != NULL || b->sheet != NULL || b->fit != NULL || b->falls != NULL || b->haul_chance != NULL ||
                    b->lose_chance != NULL || b->chance != NULL;
  fh_haul_destroy(b->haul);
  fh_stages_destroy(b->stages);
  fh_lose_destroy(b->lose);
  fh_sheet_destroy(b->sheet);
  fh_fit_destroy(b->fit);
  fh_team_destroy(b->falls);
  fh_haul_chance_destroy(b->haul_chance);
  fh_lose_chance_destroy(b->lose_chance);
  fh_chance_destroy(b->chance);
  b->haul = NULL;
  b->stages = NULL;
  b->lose = NULL;
  b->sheet = NULL;
  b->fit = NULL;
  b->falls = NULL;
  b->haul_chance = NULL;
  b->lose_chance = NULL;
  b->chance = NULL;
  free(b->text.bytes);
  b->text = (fh_test_text){0};
  return there;
}

// ---------------------------------------------------------------------------------------------------- the acts

static fh_status make_haul(bench *b) {
  return fh_haul_create(b->loop.scene, b->loop.gear, &b->loop.scene->rig, NULL, &b->haul);
}

static fh_status make_resting_haul(bench *b) {
  return fh_haul_create(b->resting.scene, b->resting.gear, &b->resting.scene->rig, NULL, &b->haul);
}

static fh_status make_stages(bench *b) {
  return fh_stages_create(b->loop.scene, b->loop.gear, &b->loop.scene->rig, NULL, &b->stages);
}

static fh_status make_lose(bench *b) {
  return fh_lose_create(b->loop.scene, b->loop.gear, &b->loop.scene->rig, NULL, &b->lose);
}

static fh_status make_sheet(bench *b) {
  return fh_sheet_create(b->loop.scene, b->loop.gear, &b->loop.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &b->sheet);
}

// What it finds does not matter here.
static bool gives_up(fh_fit_fn fn, void *user, int m, int n, double *x) {
  (void)fn;
  (void)user;
  (void)x;
  return m < n;
}

static fh_status make_fit(bench *b) {
  char why[200];
  int bad = -1;
  return fh_fit_create(b->loop.gear, b->readings, READINGS, gives_up, &b->fit, &bad, why, sizeof why);
}

static fh_status make_team(bench *b) {
  fh_team_opts opts = fh_team_opts_default();
  opts.samples = 16;
  return fh_team_create(b->team.scene, &opts, &b->falls, NULL);
}

static fh_status make_chance(bench *b) {
  const fh_chance_opts opts = {.samples = 1024, .seed = 1, .why = false};
  return fh_chance_create(b->resting.scene, b->resting.gear, &b->resting.scene->rig, &opts, &b->chance);
}

static fh_status make_haul_chance(bench *b) {
  const fh_chance_opts opts = {.samples = 1, .seed = 1, .why = false};
  return fh_haul_chance_create(b->loop.scene, b->loop.gear, &b->loop.scene->rig, &opts, &b->haul_chance);
}

static fh_status make_lose_chance(bench *b) {
  const fh_chance_opts opts = {.samples = 1, .seed = 1, .why = false};
  return fh_lose_chance_create(b->loop.scene, b->loop.gear, &b->loop.scene->rig, &opts, &b->lose_chance);
}

// ---------------------------------------------------------------------------------------------------- the cases

static int start(void **state) {
  bench *b = calloc(1, sizeof *b);
  if (b == NULL) {
    return -1;
  }
  b->loop = scene_read(LOOP);
  b->resting = scene_read(RESTING);
  b->team = scene_read(TEAM);
  for (int i = 0; i < READINGS; i++) {
    b->readings[i] = (fh_reading){b->loop.scene, 400.0 + 50.0 * i, (double)NAN, (400.0 + 50.0 * i) * (0.30 + 0.01 * (i % 3)), i + 2};
  }
  *state = b;
  return 0;
}

static int end(void **state) {
  bench *b = *state;
  (void)clean(b);
  scene_done(&b->loop);
  scene_done(&b->resting);
  scene_done(&b->team);
  free(b);
  return 0;
}

static void raises_and_losses_come_whole_or_not_at_all(void **state) {
  bench *b = *state;
  assert_true(fail_each(b, make_haul, clean, 8) > 4);
  assert_true(fail_each(b, make_resting_haul, clean, 8) > 2);
  assert_true(fail_each(b, make_stages, clean, 8) > 4);
  assert_true(fail_each(b, make_lose, clean, 8) > 4);
}

static void sheets_fits_and_falls_come_whole_or_not_at_all(void **state) {
  bench *b = *state;
  assert_true(fail_each(b, make_sheet, clean, 8) > 10);
  assert_true(fail_each(b, make_fit, clean, 8) > 2);
  assert_true(fail_each(b, make_team, clean, 8) > 0);
}

static void chances_come_whole_or_not_at_all(void **state) {
  bench *b = *state;
  assert_true(fail_each(b, make_chance, clean, 8) > 4);
  assert_true(fail_each(b, make_haul_chance, clean, 8) > 1000);
  assert_true(fail_each(b, make_lose_chance, clean, 8) > 1000);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test_setup_teardown(raises_and_losses_come_whole_or_not_at_all, start, end),
      cmocka_unit_test_setup_teardown(sheets_fits_and_falls_come_whole_or_not_at_all, start, end),
      cmocka_unit_test_setup_teardown(chances_come_whole_or_not_at_all, start, end),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
