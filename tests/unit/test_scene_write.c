// SPDX-License-Identifier: MIT
// What is written reads back as the same: scenes with every form of number, rigs as YAML and as JSON, and all example scenes.
#include "scene_text.h"

#include <dirent.h>

static void same_number(fh_number a, fh_number b) {
  assert_int_equal(a.spread, b.spread);
  if (a.spread != FH_SPREAD_UNSET) {
    assert_exact(a.lo, b.lo);
    assert_exact(a.likely, b.likely);
    assert_exact(a.hi, b.hi);
    assert_exact(a.sd, b.sd);
  }
}

static void same_rig(const fh_rig *a, const fh_rig *b) {
  assert_int_equal(a->body_count, b->body_count);
  assert_int_equal(a->path_count, b->path_count);
  assert_int_equal(a->station_count, b->station_count);
  assert_int_equal(a->grip_count, b->grip_count);
  for (int i = 0; i < a->body_count; i++) {
    assert_string_equal(a->bodies[i], b->bodies[i]);
  }
  for (int i = 0; i < a->path_count; i++) {
    assert_string_equal(a->paths[i].name, b->paths[i].name);
    assert_int_equal(a->paths[i].rope, b->paths[i].rope);
    assert_int_equal(a->paths[i].first, b->paths[i].first);
    assert_int_equal(a->paths[i].count, b->paths[i].count);
  }
  for (int i = 0; i < a->station_count; i++) {
    const fh_station *x = &a->stations[i], *y = &b->stations[i];
    assert_int_equal(x->kind, y->kind);
    assert_int_equal(x->body, y->body);
    assert_int_equal(x->item, y->item);
    assert_int_equal(x->reversed, y->reversed);
    assert_int_equal(x->toward, y->toward);
    same_number(x->efficiency, y->efficiency);
    same_number(x->efficiency_range, y->efficiency_range);
    same_number(x->friction, y->friction);
    same_number(x->slack, y->slack);
    same_number(x->angle, y->angle);
  }
  for (int i = 0; i < a->grip_count; i++) {
    const fh_grip *x = &a->grips[i], *y = &b->grips[i];
    assert_int_equal(x->body, y->body);
    assert_int_equal(x->item, y->item);
    assert_int_equal(x->path, y->path);
    assert_int_equal(x->after, y->after);
    assert_exact(x->at, y->at);
  }
}

static void same_team(const fh_team *a, const fh_team *b) {
  const fh_number *x[] = {&a->modulus,  &a->damping, &a->slack,      &a->stand,      &a->brake,
                          &a->reaction, &a->start,   &a->knot_first, &a->knot_apart, &a->knot_catch, &a->knot_plough};
  const fh_number *y[] = {&b->modulus,  &b->damping, &b->slack,      &b->stand,      &b->brake,
                          &b->reaction, &b->start,   &b->knot_first, &b->knot_apart, &b->knot_catch, &b->knot_plough};
  for (size_t i = 0; i < sizeof x / sizeof x[0]; i++) {
    same_number(*x[i], *y[i]);
  }
  assert_int_equal(a->people_count, b->people_count);
  assert_int_equal(a->knot_count, b->knot_count);
  for (int i = 0; i < a->people_count; i++) {
    same_number(a->people[i].mass, b->people[i].mass);
    same_number(a->people[i].behind, b->people[i].behind);
  }
}

static void same_lists(const fh_scene *a, const fh_scene *b) {
  assert_int_equal(a->crew_count, b->crew_count);
  assert_int_equal(a->rope_count, b->rope_count);
  assert_int_equal(a->kit_count, b->kit_count);
  for (int i = 0; i < a->crew_count; i++) {
    assert_string_equal(a->crew[i].name, b->crew[i].name);
    assert_int_equal(a->crew[i].posture, b->crew[i].posture);
    same_number(a->crew[i].mass, b->crew[i].mass);
    same_number(a->crew[i].footing, b->crew[i].footing);
    same_number(a->crew[i].pull, b->crew[i].pull);
  }
  for (int i = 0; i < a->rope_count; i++) {
    assert_string_equal(a->ropes[i].name, b->ropes[i].name);
    assert_int_equal(a->ropes[i].kind, b->ropes[i].kind);
    assert_int_equal(a->ropes[i].knots, b->ropes[i].knots);
    assert_int_equal(a->ropes[i].wet, b->ropes[i].wet);
    same_number(a->ropes[i].length, b->ropes[i].length);
    same_number(a->ropes[i].diameter, b->ropes[i].diameter);
    same_number(a->ropes[i].modulus, b->ropes[i].modulus);
  }
  for (int i = 0; i < a->kit_count; i++) {
    assert_int_equal(a->kit[i].item, b->kit[i].item);
    assert_int_equal(a->kit[i].count, b->kit[i].count);
    same_number(a->kit[i].efficiency, b->kit[i].efficiency);
  }
}

static void same_scene(const fh_scene *a, const fh_scene *b) {
  const fh_number *x[] = {&a->load_mass,  &a->depth,        &a->lip_turn,   &a->lip_friction, &a->lip_cut,
                          &a->station_at, &a->anchor_at,    &a->slope,      &a->reach,        &a->clearance,
                          &a->room,       &a->anchor_holds, &a->reset_time, &a->walk_speed};
  const fh_number *y[] = {&b->load_mass,  &b->depth,        &b->lip_turn,   &b->lip_friction, &b->lip_cut,
                          &b->station_at, &b->anchor_at,    &b->slope,      &b->reach,        &b->clearance,
                          &b->room,       &b->anchor_holds, &b->reset_time, &b->walk_speed};
  for (size_t i = 0; i < sizeof x / sizeof x[0]; i++) {
    same_number(*x[i], *y[i]);
  }
  assert_string_equal(a->title, b->title);
  assert_int_equal(a->load_helps, b->load_helps);
  assert_int_equal(a->lip_surface, b->lip_surface);
  assert_int_equal(a->anchor_kind, b->anchor_kind);
  assert_int_equal(a->wet, b->wet);
  assert_int_equal(a->prefer, b->prefer);
  assert_int_equal(a->has_rig, b->has_rig);
  assert_int_equal(a->has_team, b->has_team);
  same_lists(a, b);
  same_team(&a->team, &b->team);
  same_rig(&a->rig, &b->rig);
}

static void assert_comes_back(const fh_scene *scene, const fh_gear *gear) {
  text_sink first = {.fail_after = -1}, second = {.fail_after = -1};
  assert_int_equal(fh_scene_write_yaml(scene, gear, (fh_out){text_sink_put, &first}), FH_OK);
  scene_text again = scene_read(first.bytes);
  same_scene(scene, again.scene);
  assert_int_equal(fh_scene_write_yaml(again.scene, again.gear, (fh_out){text_sink_put, &second}), FH_OK);
  assert_string_equal(first.bytes, second.bytes);
  scene_done(&again);
  free(first.bytes);
  free(second.bytes);
}

static const char FULL[] =
    "firnhaul: 1\n"
    "title: 'He said: \"no\" # and: [went] {on} \\ 100 % — größer'\n"
    "load: {mass_kg: {mean: 92, sd: 3.3}, helps: true}\n"
    "slot: {depth_m: {low: 9, likely: 11.1, high: 14}}\n"
    "lip: {turn_deg: [60.1, 89.9], surface: cut, friction: {mean: 0.3, sd: 0.2}, cut_m: 0.123456789012345}\n"
    "ground: {station_m: 4.5, anchor_m: 10, slope_deg: -7.3, anchor: t-slot, holds_kN: [3.3, 5.7]}\n"
    "crew:\n  - {name: 'null', mass_kg: 74, posture: harness, pull_N: 300}\n  - {name: '1', footing: [0.1, 0.3]}\n  - "
    "{name: \"a b: c\"}\n"
    "ropes:\n  - {name: main, length_m: 50, kind: single, diameter_mm: 8.7, modulus_kN: 9.1, knots: 4, wet: true}\n  - "
    "{name: Seil Ä}\n"
    "kit:\n  - {item: carabiner, count: 6}\n  - {item: pulley, efficiency: [0.8, 0.91]}\n"
    "wet: true\nprefer: safe\nreset_s: 25\nwalk_mps: [0.1, 0.5]\n"
    "team: {people: [{mass_kg: 85, behind_m: 0}, {mass_kg: [70, 80], behind_m: 12}], knots: {first_m: 2.5, apart_m: "
    "1.5, count: 4, catch_N: [300, 600], plough_m: [0.1, 0.3]}}\n"
    "rig:\n  ropes:\n    - name: main\n      path:\n"
    "        - {tie: load}\n        - {edge: lip, friction: [0.1, 0.2]}\n        - {tie: anchor, slack_m: 0.6}\n       "
    " - {edge: lip}\n"
    "        - {run: load, on: carabiner}\n        - {edge: lip}\n"
    "        - {run: station, on: toothed-capture, efficiency: 0.9, efficiency_range: [0.85, 0.93], reversed: true}\n"
    "        - {run: 'on', on: pulley, efficiency: {mean: 0.9, sd: 0.01}}\n        - {hand: crew, toward: back, "
    "angle_deg: 33.3}\n"
    "    - {name: 'Seil Ä', path: [{tie: \"on\"}, {loose: true}]}\n"
    "  grips:\n    - {body: 'on', hitch: prusik, rope: main, after: 5, at_m: 1.51}\n"
    "    - {body: station, hitch: autoblock, rope: main, after: 5, at_m: 4.2}\n";

static void every_form_of_every_key_comes_back(void **state) {
  (void)state;
  scene_text t = scene_read(FULL);
  assert_comes_back(t.scene, t.gear);
  scene_done(&t);
  t = scene_read(LEAST);
  assert_comes_back(t.scene, t.gear);
  scene_done(&t);
  t = scene_read(LEAST
                 "crew: []\nteam: {people: [{mass_kg: 85, behind_m: 0}, {mass_kg: 75, behind_m: 12}], knots: []}\n");
  assert_comes_back(t.scene, t.gear);
  scene_done(&t);
}

static void names_that_yaml_could_take_for_something_else_are_quoted(void **state) {
  (void)state;
  scene_text t = scene_read(FULL);
  text_sink sink = {.fail_after = -1};
  assert_int_equal(fh_scene_write_yaml(t.scene, t.gear, (fh_out){text_sink_put, &sink}), FH_OK);
  static const char *const QUOTED[] = {"name: \"null\"", "name: \"1\"", "name: \"a b: c\"", "run: \"on\"",
                                       "body: \"on\""};
  for (size_t i = 0; i < sizeof QUOTED / sizeof QUOTED[0]; i++) {
    assert_non_null(strstr(sink.bytes, QUOTED[i]));
  }
  assert_non_null(strstr(sink.bytes, "name: main"));
  free(sink.bytes);
  scene_done(&t);
}

// A rig as JSON, put back into a scene as its `rig`, is the same rig: what plan prints can be checked.
static void a_rig_as_json_can_be_put_back(void **state) {
  (void)state;
  scene_text t = scene_read(FULL);
  text_sink rig = {.fail_after = -1};
  assert_int_equal(fh_rig_write_json(&t.scene->rig, t.gear, (fh_out){text_sink_put, &rig}), FH_OK);
  assert_null(strchr(rig.bytes, '\n'));
  const char *end = strstr(FULL, "rig:\n");
  size_t room = (size_t)(end - FULL) + rig.count + 16;
  char *yaml = malloc(room);
  assert_non_null(yaml);
  (void)snprintf(yaml, room, "%.*srig: %s\n", (int)(end - FULL), FULL, rig.bytes);
  scene_text again = scene_read(yaml);
  same_rig(&t.scene->rig, &again.scene->rig);
  scene_done(&again);
  scene_done(&t);
  free(yaml);
  free(rig.bytes);
}

static int all_in(const char *folder) {
  DIR *dir = opendir(folder);
  int count = 0;
  for (struct dirent *e = dir == NULL ? NULL : readdir(dir); e != NULL; e = readdir(dir)) {
    size_t n = strlen(e->d_name);
    if (n < 6 || strcmp(e->d_name + n - 5, ".yaml") != 0) {
      continue;
    }
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", folder, e->d_name);
    fh_gear *gear = NULL;
    fh_doc *doc = NULL;
    fh_scene *scene = NULL;
    fh_diag diag = {0};
    assert_int_equal(fh_gear_create(&gear), FH_OK);
    fh_status status = cli_yaml_read(path, &doc, &diag);
    if (status == FH_OK && strstr(e->d_name, "gear") == NULL) {
      status = fh_scene_create(doc, gear, &scene, &diag);
      if (status != FH_OK) {
        print_error("%s:%d:%d: %s: %s\n", path, diag.line, diag.column, diag.key, diag.message);
      }
      assert_int_equal(status, FH_OK);
      assert_comes_back(scene, gear);
      count++;
    }
    fh_scene_destroy(scene);
    fh_doc_destroy(doc);
    fh_gear_destroy(gear);
  }
  if (dir != NULL) {
    (void)closedir(dir);
  }
  return count;
}

static void all_example_scenes_come_back(void **state) {
  (void)state;
  assert_true(all_in("examples") >= 8);
  assert_true(all_in("examples/rigs") >= 8);
}

static void a_refusing_output_is_told(void **state) {
  (void)state;
  scene_text t = scene_read(FULL);
  for (long n = 0; n < 2; n++) {
    text_sink sink = {.fail_after = n};
    assert_int_equal(fh_scene_write_yaml(t.scene, t.gear, (fh_out){text_sink_put, &sink}), FH_ERR_WRITE);
    free(sink.bytes);
  }
  text_sink sink = {.fail_after = 0};
  assert_int_equal(fh_rig_write_json(&t.scene->rig, t.gear, (fh_out){text_sink_put, &sink}), FH_ERR_WRITE);
  scene_done(&t);
}

static void a_rig_with_wrong_indices_is_not_written(void **state) {
  (void)state;
  scene_text t = scene_read(FULL);
  text_sink sink = {.fail_after = -1};
  fh_out out = {text_sink_put, &sink};
  fh_rig *rig = &t.scene->rig;
  fh_rig good = *rig;
#define WRONG(change)                                                        \
  do {                                                                       \
    *rig = good;                                                             \
    change;                                                                  \
    assert_int_equal(fh_rig_write_json(rig, t.gear, out), FH_ERR_ARG);       \
    assert_int_equal(fh_scene_write_yaml(t.scene, t.gear, out), FH_ERR_ARG); \
  } while (0)
  WRONG(rig->path_count = 0);
  WRONG(rig->path_count = FH_MAX_PATHS + 1);
  WRONG(rig->grip_count = FH_MAX_GRIPS + 1);
  WRONG(rig->station_count = FH_MAX_STATIONS + 1);
  WRONG(rig->body_count = FH_MAX_BODIES + 1);
  WRONG(rig->paths[0].count = 100);
  WRONG(rig->paths[0].first = -1);
  WRONG(rig->stations[0].body = 99);
  WRONG(rig->stations[4].body = -1);
  WRONG(rig->stations[4].item = 100000);
  WRONG(rig->grips[0].body = -1);
  WRONG(rig->grips[0].path = 2);
  WRONG(rig->grips[0].item = -1);
  assert_int_equal(sink.count, 0);
  *rig = good;
  assert_int_equal(fh_rig_write_json(NULL, t.gear, out), FH_ERR_ARG);
  assert_int_equal(fh_rig_write_json(rig, NULL, out), FH_ERR_ARG);
  assert_int_equal(fh_rig_write_json(rig, t.gear, (fh_out){NULL, NULL}), FH_ERR_ARG);
  assert_int_equal(fh_scene_write_yaml(NULL, t.gear, out), FH_ERR_ARG);
  assert_int_equal(fh_scene_write_yaml(t.scene, NULL, out), FH_ERR_ARG);
  assert_int_equal(fh_scene_write_yaml(t.scene, t.gear, (fh_out){NULL, NULL}), FH_ERR_ARG);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_form_of_every_key_comes_back),
      cmocka_unit_test(names_that_yaml_could_take_for_something_else_are_quoted),
      cmocka_unit_test(a_rig_as_json_can_be_put_back),
      cmocka_unit_test(all_example_scenes_come_back),
      cmocka_unit_test(a_refusing_output_is_told),
      cmocka_unit_test(a_rig_with_wrong_indices_is_not_written),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
