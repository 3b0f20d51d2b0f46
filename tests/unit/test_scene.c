// SPDX-License-Identifier: MIT
// From text to scene: each value where it belongs and in SI, each default as documented, each number with its spread and place.
#include "scene_text.h"

#include "memory.h"

static const double DEG = 3.14159265358979323846 / 180.0;

static void every_key_reaches_its_place(void **state) {
  (void)state;
  scene_text t =
      scene_read("firnhaul: 1\n"
                 "title: Übung, zu zweit\n"
                 "load: {mass_kg: 92, helps: true}\n"
                 "slot: {depth_m: 11}\n"
                 "lip: {turn_deg: 75, friction: 0.18, cut_m: 0.2}\n"
                 "ground: {station_m: 4.5, anchor_m: 10, slope_deg: -3, reach_m: 1.5, clearance_m: 0.3, room_m: 20,\n"
                 "         anchor: t-slot, holds_kN: [3, 5]}\n"
                 "crew:\n"
                 "  - {name: guide, mass_kg: 74, footing: 0.5, posture: harness, pull_N: 300}\n"
                 "  - {}\n"
                 "ropes:\n"
                 "  - {name: main, length_m: 50, kind: single, diameter_mm: 8.5, modulus_kN: 9, knots: 4, wet: true}\n"
                 "kit:\n"
                 "  - {item: carabiner, count: 6}\n"
                 "  - {item: pulley, efficiency: [0.8, 0.9]}\n"
                 "wet: true\n"
                 "prefer: pieces\n"
                 "reset_s: 25\n"
                 "walk_mps: 0.5\n");
  const fh_scene *s = t.scene;
  assert_string_equal(s->title, "Übung, zu zweit");
  assert_exact(s->load_mass.likely, 92.0);
  assert_true(s->load_helps);
  assert_exact(s->depth.likely, 11.0);
  assert_close(s->lip_turn.likely, 75.0 * DEG, 1e-15);
  assert_exact(s->lip_friction.likely, 0.18);
  assert_int_equal(s->lip_surface, -1);
  assert_exact(s->lip_cut.likely, 0.2);
  assert_exact(s->station_at.likely, 4.5);
  assert_exact(s->anchor_at.likely, 10.0);
  assert_close(s->slope.likely, -3.0 * DEG, 1e-15);
  assert_exact(s->reach.likely, 1.5);
  assert_exact(s->clearance.likely, 0.3);
  assert_exact(s->room.likely, 20.0);
  assert_string_equal(fh_gear_item(t.gear, s->anchor_kind)->name, "t-slot");
  assert_exact(s->anchor_holds.lo, 3000.0);
  assert_exact(s->anchor_holds.hi, 5000.0);
  assert_int_equal(s->crew_count, 2);
  assert_string_equal(s->crew[0].name, "guide");
  assert_exact(s->crew[0].mass.likely, 74.0);
  assert_exact(s->crew[0].footing.likely, 0.5);
  assert_string_equal(fh_gear_item(t.gear, s->crew[0].posture)->name, "harness");
  assert_exact(s->crew[0].pull.likely, 300.0);
  assert_int_equal(s->crew[0].line, 9);
  assert_int_equal(s->crew[0].column, 5);
  assert_string_equal(s->crew[1].name, "hauler");
  assert_int_equal(s->rope_count, 1);
  assert_string_equal(s->ropes[0].name, "main");
  assert_exact(s->ropes[0].length.likely, 50.0);
  assert_string_equal(fh_gear_item(t.gear, s->ropes[0].kind)->name, "single");
  assert_exact(s->ropes[0].diameter.likely, 0.0085);
  assert_exact(s->ropes[0].modulus.likely, 9000.0);
  assert_int_equal(s->ropes[0].knots, 4);
  assert_true(s->ropes[0].wet);
  assert_int_equal(s->kit_count, 2);
  assert_string_equal(fh_gear_item(t.gear, s->kit[0].item)->name, "carabiner");
  assert_int_equal(s->kit[0].count, 6);
  assert_false(fh_number_is_set(s->kit[0].efficiency));
  assert_int_equal(s->kit[1].count, 1);
  assert_exact(s->kit[1].efficiency.likely, 0.5 * (0.8 + 0.9));
  assert_true(s->wet);
  assert_int_equal(s->prefer, FH_PREFER_PIECES);
  assert_exact(s->reset_time.likely, 25.0);
  assert_exact(s->walk_speed.likely, 0.5);
  assert_false(s->has_rig);
  assert_false(s->has_team);
  scene_done(&t);
}

static void the_least_scene_takes_the_documented_defaults(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST);
  const fh_scene *s = t.scene;
  assert_string_equal(s->title, "");
  assert_false(s->load_helps);
  assert_close(s->lip_turn.likely, 80.0 * DEG, 1e-15);
  assert_string_equal(fh_gear_item(t.gear, s->lip_surface)->name, "firn");
  fh_number firn = fh_gear_figure(t.gear, fh_gear_find(t.gear, "firn"), "friction", NULL);
  assert_exact(s->lip_friction.lo, firn.lo);
  assert_exact(s->lip_friction.likely, firn.likely);
  assert_exact(s->lip_friction.hi, firn.hi);
  assert_true(firn.lo < firn.hi);  // a default that is a physical figure is a range
  assert_exact(s->lip_cut.likely, 0.0);
  assert_exact(s->station_at.likely, 4.0);
  assert_exact(s->anchor_at.likely, 7.0);
  assert_exact(s->slope.likely, 0.0);
  assert_exact(s->reach.likely, 1.0);
  assert_exact(s->clearance.likely, 0.4);
  assert_exact(s->room.likely, 25.0);
  assert_int_equal(s->anchor_kind, -1);
  assert_false(fh_number_is_set(s->anchor_holds));
  assert_int_equal(s->crew_count, 1);
  assert_true(s->crew[0].mass.lo < s->crew[0].mass.hi && s->crew[0].footing.lo < s->crew[0].footing.hi);
  assert_string_equal(fh_gear_item(t.gear, s->crew[0].posture)->name, "walking");
  assert_false(fh_number_is_set(s->crew[0].pull));
  assert_int_equal(s->rope_count, 0);
  assert_int_equal(s->kit_count, 0);
  assert_false(s->wet);
  assert_int_equal(s->prefer, FH_PREFER_PIECES);
  assert_true(s->reset_time.lo < s->reset_time.hi && s->walk_speed.lo < s->walk_speed.hi);
  assert_int_equal(s->reset_time.line, 0);  // nobody said it
  assert_false(fh_number_is_set(s->team.modulus));
  assert_nan(s->team.knot_first.likely);
  scene_done(&t);
}

static void defaults_follow_what_was_said(void **state) {
  (void)state;
  scene_text t = scene_read("firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {surface: cut}\n"
                            "ground: {station_m: [0.5, 2], anchor: ice-screw}\ncrew: []\n"
                            "ropes: [{name: a}, {name: b, kind: cord, wet: false}]\nwet: true\n");
  const fh_scene *s = t.scene;
  fh_number cut = fh_gear_figure(t.gear, fh_gear_find(t.gear, "cut"), "friction", NULL);
  assert_exact(s->lip_friction.hi, cut.hi);
  assert_exact(s->anchor_at.likely, 5.0);  // behind the far end of the station's range
  assert_exact(s->reach.likely, 0.5);      // not behind its near end
  assert_int_equal(s->anchor_kind, fh_gear_find(t.gear, "ice-screw"));
  assert_false(fh_number_is_set(s->anchor_holds));  // the kind's figure, with its source, is looked up where it is used
  assert_int_equal(s->crew_count, 0);
  assert_string_equal(fh_gear_item(t.gear, s->ropes[0].kind)->name, "half");
  assert_true(s->ropes[0].wet);
  assert_false(s->ropes[1].wet);
  assert_false(fh_number_is_set(s->ropes[0].length));
  assert_false(fh_number_is_set(s->ropes[0].modulus));
  fh_number thin = fh_gear_figure(t.gear, fh_gear_find(t.gear, "cord"), "diameter_m", NULL);
  assert_exact(s->ropes[1].diameter.likely, thin.likely);
  scene_done(&t);
}

static void a_friction_given_beside_a_surface_goes_first(void **state) {
  (void)state;
  scene_text t = scene_read(
      "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {surface: ice, friction: 0.07}\nground: {}\n");
  assert_exact(t.scene->lip_friction.likely, 0.07);
  assert_string_equal(fh_gear_item(t.gear, t.scene->lip_surface)->name, "ice");
  scene_done(&t);
}

// ---------------------------------------------------------------------------------------------------- numbers

static fh_number mass_said_as(const char *text) {
  char yaml[256];
  (void)snprintf(yaml, sizeof yaml, "firnhaul: 1\nload: {mass_kg: %s}\nslot: {depth_m: 10}\nlip: {}\nground: {}\n",
                 text);
  scene_text t = scene_read(yaml);
  fh_number n = t.scene->load_mass;
  scene_done(&t);
  assert_int_equal(n.line, 2);
  assert_int_equal(n.column, 17);
  return n;
}

static void a_number_is_exact_a_range_a_triangle_or_normal(void **state) {
  (void)state;
  fh_number n = mass_said_as("92.5");
  assert_int_equal(n.spread, FH_SPREAD_EXACT);
  assert_true(n.lo == 92.5 && n.likely == 92.5 && n.hi == 92.5);
  n = mass_said_as("[80, 100]");
  assert_int_equal(n.spread, FH_SPREAD_UNIFORM);
  assert_true(n.lo == 80.0 && n.likely == 90.0 && n.hi == 100.0);
  n = mass_said_as("[80, 80]");
  assert_true(n.lo == 80.0 && n.hi == 80.0);
  n = mass_said_as("{low: 80, likely: 85, high: 110}");
  assert_int_equal(n.spread, FH_SPREAD_TRIANGLE);
  assert_true(n.lo == 80.0 && n.likely == 85.0 && n.hi == 110.0);
  n = mass_said_as("{high: 110, low: 80, likely: 80}");  // in any order
  assert_true(n.lo == 80.0 && n.likely == 80.0 && n.hi == 110.0);
  n = mass_said_as("{mean: 90, sd: 6}");
  assert_int_equal(n.spread, FH_SPREAD_NORMAL);
  assert_true(n.lo == 78.0 && n.likely == 90.0 && n.hi == 102.0 && n.sd == 6.0);
  n = mass_said_as("{mean: 30, sd: 10}");  // two sd below would be 10: the key's range cuts it
  assert_true(n.lo == 20.0 && n.hi == 50.0);
}

static void numbers_are_written_as_in_json_and_a_little_freer(void **state) {
  (void)state;
  assert_exact(mass_said_as("9.25e1").likely, 92.5);
  assert_exact(mass_said_as("+92.5").likely, 92.5);
  assert_exact(mass_said_as("92.").likely, 92.0);
  assert_exact(mass_said_as("20").likely, 20.0);  // the ends of the range belong to it
  assert_exact(mass_said_as("400").likely, 400.0);
}

// ---------------------------------------------------------------------------------------------------- teams

#define PEOPLE "people: [{mass_kg: 85, behind_m: 0}, {mass_kg: [70, 80], behind_m: 12}, {mass_kg: 80, behind_m: 24}]"

static void a_team_is_read_in_full(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST "team:\n  " PEOPLE "\n"
                                  "  rope: {modulus_kN: 18, damping_s: 0.02, slack_m: 0.3}\n"
                                  "  stand: 0.25\n  brake: 0.6\n  reaction_s: 0.8\n  start_mps: 0\n"
                                  "  knots: {first_m: 2.5, apart_m: 1.5, count: 4, catch_N: 600}\n");
  const fh_team *m = &t.scene->team;
  assert_true(t.scene->has_team);
  assert_int_equal(m->line, 7);
  assert_int_equal(m->people_count, 3);
  assert_exact(m->people[0].mass.likely, 85.0);
  assert_exact(m->people[1].mass.likely, 75.0);
  assert_exact(m->people[2].behind.likely, 24.0);
  assert_int_equal(m->people[2].line, 7);
  assert_exact(m->modulus.likely, 18000.0);
  assert_exact(m->damping.likely, 0.02);
  assert_exact(m->slack.likely, 0.3);
  assert_exact(m->stand.likely, 0.25);
  assert_exact(m->brake.likely, 0.6);
  assert_exact(m->reaction.likely, 0.8);
  assert_exact(m->start.likely, 0.0);
  assert_exact(m->knot_first.likely, 2.5);
  assert_exact(m->knot_apart.likely, 1.5);
  assert_exact(m->knot_catch.likely, 600.0);
  assert_exact(m->knot_plough.likely, 0.0);  // the contract: a knot catches once
  assert_int_equal(m->knot_count, 4);
  scene_done(&t);
}

static void a_team_without_more_than_people_has_defaults_and_no_knots(void **state) {
  (void)state;
  static const char *const FORMS[] = {LEAST "team: {" PEOPLE "}\n", LEAST "team: {" PEOPLE ", knots: []}\n",
                                      LEAST "team: {" PEOPLE ", rope: {}}\n"};
  for (size_t i = 0; i < sizeof FORMS / sizeof FORMS[0]; i++) {
    scene_text t = scene_read(FORMS[i]);
    const fh_team *m = &t.scene->team;
    assert_true(t.scene->has_team);
    assert_true(m->modulus.lo < m->modulus.hi && m->damping.lo < m->damping.hi && m->slack.lo < m->slack.hi);
    assert_true(m->stand.lo < m->stand.hi && m->brake.lo < m->brake.hi && m->reaction.lo < m->reaction.hi);
    assert_int_equal(m->knot_count, 0);
    assert_nan(m->knot_first.likely);
    assert_nan(m->knot_catch.likely);
    assert_nan(m->knot_plough.likely);
    scene_done(&t);
  }
}

// ---------------------------------------------------------------------------------------------------- refusals

static void the_first_thing_wrong_is_told_with_its_key(void **state) {
  (void)state;
  assert_refused("", 1, 1, "");
  assert_refused(LEAST "crew: [{}, {mass_kg: heavy}]\n", 6, 22, "crew[1].mass_kg");
  assert_refused(LEAST "kit:\n  - {item: carabiner}\n  - {item: carabiner, cuont: 3}\n", 8, 23, "kit[1].cuont");
  assert_refused(LEAST "ropes: [{length_m: 30}]\n", 6, 9, "ropes[0].name");
  assert_refused(LEAST "lip: {}\n", 6, 1, "lip");
  assert_refused(LEAST "crew: [{name: [a]}]\n", 6, 15, "crew[0].name");
}

static void wrong_arguments_and_no_diagnostic_are_fine(void **state) {
  (void)state;
  scene_text t = scene_try(LEAST "colour: red\n");
  fh_scene *scene = NULL;
  assert_int_equal(fh_scene_create(t.doc, t.gear, &scene, NULL), FH_ERR_INPUT);
  assert_int_equal(fh_scene_create(NULL, t.gear, &scene, NULL), FH_ERR_ARG);
  assert_int_equal(fh_scene_create(t.doc, NULL, &scene, NULL), FH_ERR_ARG);
  assert_int_equal(fh_scene_create(t.doc, t.gear, NULL, NULL), FH_ERR_ARG);
  fh_doc *empty = NULL;
  assert_int_equal(fh_doc_create(&empty), FH_OK);
  assert_int_equal(fh_scene_create(empty, t.gear, &scene, NULL), FH_ERR_INPUT);
  fh_doc_destroy(empty);
  scene_done(&t);
}

static void memory_that_runs_out_ends_in_its_status(void **state) {
  (void)state;
  scene_text t = scene_read(LEAST);
  fh_scene *scene = NULL;
  bool done = false;
  for (long n = 1; !done; n++) {
    assert_true(n < 50);
    fh_diag diag;
    fhi_fault_after(n);
    fh_status status = fh_scene_create(t.doc, t.gear, &scene, &diag);
    fhi_fault_after(0);
    done = status == FH_OK;
    assert_true(done || (status == FH_ERR_MEMORY && scene == NULL));
  }
  fh_scene_destroy(scene);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_key_reaches_its_place),
      cmocka_unit_test(the_least_scene_takes_the_documented_defaults),
      cmocka_unit_test(defaults_follow_what_was_said),
      cmocka_unit_test(a_friction_given_beside_a_surface_goes_first),
      cmocka_unit_test(a_number_is_exact_a_range_a_triangle_or_normal),
      cmocka_unit_test(numbers_are_written_as_in_json_and_a_little_freer),
      cmocka_unit_test(a_team_is_read_in_full),
      cmocka_unit_test(a_team_without_more_than_people_has_defaults_and_no_knots),
      cmocka_unit_test(the_first_thing_wrong_is_told_with_its_key),
      cmocka_unit_test(wrong_arguments_and_no_diagnostic_are_fine),
      cmocka_unit_test(memory_that_runs_out_ends_in_its_status),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
