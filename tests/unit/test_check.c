// SPDX-License-Identifier: MIT
// One rig, worked out: what stands in the result, what is refused before any work, what must hold however it is asked.
#include "scenes.h"

// As many bends as a rig may have stations, and as many tended grips as it may have grips: each is a contact.
static void the_largest_rig_fits_the_result(void **state) {
  (void)state;
  enum { RUNS = FH_MAX_STATIONS - 4, TENDED = FH_MAX_GRIPS - 1, ROOM = 16384 };
  char *yaml = calloc(1, ROOM);
  assert_non_null(yaml);
  size_t used = 0;
#define ADD(...) used += (size_t)snprintf(yaml + used, ROOM - used, __VA_ARGS__)
  ADD("firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\nground: {station_m: 4, anchor_m: 7}\n"
      "ropes: [{name: main, length_m: 1000}]\nrig:\n  ropes:\n    - name: main\n      path:\n        - {tie: load}\n        - {edge: lip}\n");
  for (int i = 0; i < RUNS; i++) {
    ADD("        - {run: %s, on: carabiner}\n", i % 2 == 0 ? "anchor" : "b");
  }
  ADD("        - {hand: crew}\n  grips:\n    - {body: b, hitch: prusik, rope: main, after: 1, at_m: 1}\n");
  for (int i = 0; i < TENDED; i++) {
    ADD("    - {body: station, hitch: prusik, rope: main, after: %d, at_m: 4}\n", 2 + 2 * i);
  }
#undef ADD
  assert_true(used < ROOM - 1);
  scene_text t = scene_read(yaml);
  fh_check *c = NULL;
  assert_int_equal(fh_check_create(t.scene, t.gear, &t.scene->rig, NULL, &c), FH_OK);
  assert_int_equal(c->contact_count, RUNS + 1 + TENDED);
  assert_int_equal(c->grip_count, TENDED + 1);
  for (int i = 0; i < c->contact_count; i++) {
    assert_in_range(c->contacts[i].body - FH_END_LIP, 0, FH_MAX_BODIES - FH_END_LIP);
  }
  fh_check_destroy(c);
  scene_done(&t);
  free(yaml);
}

static void the_z_stands_in_the_result_as_it_lies_on_the_snow(void **state) {
  (void)state;
  checked k = checked_solved(HEAD GROUND ALONE "lip: {turn_deg: 90, friction: [0.1, 0.2]}\n" Z(0.9, 0.5));
  const fh_check *c = k.c;
  static const double SPEED[] = {1.0, 1.0, 1.0, -1.0, 3.0};  // of the rope along +s, over the load's
  assert_int_equal(c->strand_count, 5);
  for (int s = 0; s < 5; s++) {
    assert_near(c->strands[s].speed, SPEED[s], 1e-12);
    assert_true(c->strands[s].carries);
    assert_int_equal(c->strands[s].path, 0);
  }
  const fh_strand *back = strand_between(c, FH_BODY_STATION, FH_BODY_FIRST_GRIP, 0);
  assert_non_null(back);
  assert_exact(back->s_from, 6.0);
  assert_exact(back->s_to, 2.0);
  assert_exact(back->length, 4.0);
  assert_int_equal(back->after, 2);
  assert_int_equal(c->contact_count, 3);
  assert_int_equal(c->contacts[0].body, FH_END_LIP);
  assert_int_equal(c->contacts[0].item, -1);
  assert_near(c->contacts[0].efficiency.likely, exp(-0.15 * HALF / 2.0), 1e-12);  // an edge keeps exp(-mu turn)
  assert_near(c->contacts[0].efficiency.lo, exp(-0.2 * HALF / 2.0), 1e-12);
  assert_near(c->contacts[0].efficiency.hi, exp(-0.1 * HALF / 2.0), 1e-12);
  assert_exact(c->contacts[1].efficiency.likely, 0.9);
  assert_true(c->contacts[1].capture);
  assert_near(c->contacts[2].rate, 2.0, 1e-12);
  assert_int_equal(c->body_count, 4);
  assert_near(c->bodies[FH_BODY_FIRST_GRIP].speed, 1.0, 1e-12);
  assert_true(c->bodies[FH_BODY_STATION].fixed);
  assert_false(c->bodies[FH_BODY_LOAD].fixed);
  assert_int_equal(c->grip_count, 1);
  assert_near(c->ideal_advantage, 3.0, 1e-12);
  checked_done(&k);
}

static void a_tail_goes_with_its_grip_and_carries_nothing(void **state) {
  (void)state;
  checked k = checked_solved(PLACE NINE_TWO_ROPES(0.9, 0.5, 0.5, 0.5));
  const fh_strand *tail = strand_between(k.c, FH_BODY_FIRST_GRIP + 1, FH_END_LOOSE, 0);
  assert_non_null(tail);
  assert_false(tail->carries);
  assert_exact(tail->speed, 0.0);
  assert_exact(tail->tension[FH_RAISE].hi, 0.0);
  checked_done(&k);
  k = checked_solved(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("t", 0.5) HAND) ", " PATH("cord", LOOSE ", {tie: station}"),
                               GRIP("t", "main", 1, 2) ", " GRIP("u", "cord", 0, 4)));
  assert_int_equal(k.c->strands[5].from, FH_END_LOOSE);
  assert_false(k.c->strands[5].carries);
  checked_done(&k);
}

static void a_tended_capture_costs_nothing_while_it_is_open(void **state) {
  (void)state;
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD TURN("station", 0.9) HAND), GRIP("station", "main", 1, 5)));
  int tended = -1;
  for (int c = 0; c < k.c->contact_count; c++) {
    tended = k.c->contacts[c].station < 0 ? c : tended;
  }
  assert_true(tended >= 0);
  assert_exact(k.c->contacts[tended].efficiency.lo, 1.0);
  assert_exact(k.c->contacts[tended].efficiency.hi, 1.0);
  assert_false(k.c->contacts[tended].resting);
  checked_done(&k);
}

static void the_crew_is_compared_with_the_pull_end_to_end(void **state) {
  (void)state;
  checked k = checked_solved(HEAD GROUND SMOOTH "crew: [{pull_N: [200, 400]}]\n" RIG(
      PATH("main", LOAD "{run: station, on: carabiner, efficiency: 0.5, efficiency_range: [0.4, 0.8]}, {hand: crew, toward: back}"), ""));
  assert_close(k.c->crew_share.lo, k.w / 400.0, 1e-9);  // straight back through the station: no bend, no loss
  assert_close(k.c->crew_share.likely, k.w / 300.0, 1e-9);
  assert_close(k.c->crew_share.hi, k.w / 200.0, 1e-9);
  checked_done(&k);
}

// ---------------------------------------------------------------------------------------------------- identities

static void twice_the_load_is_twice_every_force(void **state) {
  (void)state;
  checked one = checked_solved(PLACE NINE(0.9, 0.5, 0.6, 0.7));
  one.t.scene->load_mass = fh_number_exact(200.0);
  fh_check *two = NULL;
  assert_status(fh_check_create(one.t.scene, one.t.gear, one.rig, NULL, &two), FH_OK);
  for (int s = 0; s < two->strand_count; s++) {
    for (int state_index = 0; state_index < FH_STATE_COUNT; state_index++) {
      assert_near(two->strands[s].tension[state_index].hi, 2.0 * one.c->strands[s].tension[state_index].hi, 1e-6);
    }
  }
  assert_close(two->actual_advantage.likely, one.c->actual_advantage.likely, 1e-12);
  fh_check_destroy(two);
  checked_done(&one);
}

static void asking_twice_gives_the_same_to_the_last_bit(void **state) {
  (void)state;
  checked k = checked_solved(HEAD GROUND ALONE "lip: {friction: [0.1, 0.3]}\n" EIGHTEEN(0.8, 0.9, 0.5, 0.6, 0.7));
  fh_check *again = NULL;
  assert_status(fh_check_create(k.t.scene, k.t.gear, k.rig, NULL, &again), FH_OK);
  assert_memory_equal(again->strands, k.c->strands, sizeof again->strands);
  assert_memory_equal(again->limits, k.c->limits, sizeof again->limits);
  assert_exact(again->hand_force.hi, k.c->hand_force.hi);
  fh_check_destroy(again);
  checked_done(&k);
}

// ---------------------------------------------------------------------------------------------------- refusals

static void nothing_is_worked_out_of_nothing(void **state) {
  (void)state;
  checked k = checked_solved(PLACE Z(0.9, 0.5));
  fh_check *c = (fh_check *)&k;
  assert_status(fh_check_create(NULL, k.t.gear, k.rig, NULL, &c), FH_ERR_ARG);
  assert_status(fh_check_create(k.t.scene, NULL, k.rig, NULL, &c), FH_ERR_ARG);
  assert_status(fh_check_create(k.t.scene, k.t.gear, NULL, NULL, &c), FH_ERR_ARG);
  assert_status(fh_check_create(k.t.scene, k.t.gear, k.rig, NULL, NULL), FH_ERR_ARG);
  assert_ptr_equal(c, &k);  // untouched
  fh_check_destroy(NULL);
  checked_done(&k);
}

static void a_rig_without_a_hand_is_an_answer(void **state) {
  (void)state;
  checked k = checked_read(PLACE Z(0.9, 0.5));
  k.rig->stations[4].kind = FH_LOOSE;
  fh_check *c = NULL;
  assert_status(fh_check_create(k.t.scene, k.t.gear, k.rig, NULL, &c), FH_OK);
  assert_int_equal(c->outcome, FH_OUTCOME_INFEASIBLE);
  assert_string_equal(c->why, "nobody pulls: no rope ends in a hand");
  assert_nan(c->ideal_advantage);
  assert_nan(c->hand_force.likely);
  assert_true(c->answer_no);
  fh_check_destroy(c);
  checked_done(&k);
}

// Each spoils one thing of a whole rig or scene.
typedef void (*spoil_fn)(fh_scene *s);

#define SPOIL(name, what) \
  static void name(fh_scene *s) { what; }
SPOIL(few_bodies, s->rig.body_count = 2)
SPOIL(many_bodies, s->rig.body_count = FH_MAX_BODIES + 1)
SPOIL(a_body_without_grip, s->rig.body_count = 5)
SPOIL(an_endless_body_name, memset(s->rig.bodies[3], 'x', FH_NAME))
SPOIL(many_paths, s->rig.path_count = FH_MAX_PATHS + 1)
SPOIL(negative_paths, s->rig.path_count = -1)
SPOIL(many_stations, s->rig.station_count = FH_MAX_STATIONS + 1)
SPOIL(many_grips, s->rig.grip_count = FH_MAX_GRIPS + 1)
SPOIL(a_gap_between_paths, s->rig.paths[0].first = 1)
SPOIL(a_path_of_one, s->rig.paths[0].count = 1)
SPOIL(a_path_past_the_end, s->rig.paths[0].count = 6)
SPOIL(an_endless_path_name, memset(s->rig.paths[0].name, 'x', FH_NAME))
SPOIL(an_endless_rope_of, memset(s->rig.paths[0].of, 'x', FH_NAME))
SPOIL(a_rope_that_is_not_there, s->rig.paths[0].rope = 3)
SPOIL(an_unknown_station, s->rig.stations[1].kind = (fh_station_kind)77)
SPOIL(a_tie_to_nothing, s->rig.stations[0].body = -1)
SPOIL(a_run_past_the_bodies, s->rig.stations[2].body = 4)
SPOIL(a_bend_at_the_end, s->rig.stations[4].kind = FH_RUN)
SPOIL(an_edge_at_the_end, s->rig.stations[0].kind = FH_EDGE)
SPOIL(a_hand_in_the_middle, s->rig.stations[3].kind = FH_HAND)
SPOIL(a_loose_end_in_the_middle, s->rig.stations[3].kind = FH_LOOSE)
SPOIL(half_a_friction, (s->rig.stations[1].friction = fh_number_exact(0.1), s->rig.stations[1].friction.hi = (double)NAN))
SPOIL(half_an_efficiency, (s->rig.stations[2].efficiency.lo = 2.0))
SPOIL(a_grip_on_the_load, s->rig.grips[0].body = FH_BODY_LOAD)
SPOIL(a_grip_past_the_bodies, s->rig.grips[0].body = 4)
SPOIL(a_grip_on_no_path, s->rig.grips[0].path = 1)
SPOIL(a_grip_behind_the_path, s->rig.grips[0].after = 4)
SPOIL(a_grip_nowhere, s->rig.grips[0].at = (double)INFINITY)
SPOIL(no_mass, s->load_mass = fh_number_unset())
SPOIL(no_weight, s->load_mass = fh_number_exact(0.0))
SPOIL(no_depth, s->depth = fh_number_unset())
SPOIL(no_friction, s->lip_friction = fh_number_unset())
SPOIL(an_upside_down_range, (s->station_at.lo = 7.0))
SPOIL(endless_room, s->room.hi = (double)INFINITY)
SPOIL(a_large_crew, s->crew_count = FH_MAX_CREW + 1)
SPOIL(many_ropes, s->rope_count = FH_MAX_ROPES + 1)
SPOIL(a_large_kit, s->kit_count = FH_MAX_KIT + 1)
SPOIL(a_negative_kit, (s->kit_count = 1, s->kit[0] = (fh_kit_line){.count = -1, .efficiency = fh_number_unset()}))
SPOIL(many_points, s->anchorage.point_count = FH_MAX_POINTS + 1)
SPOIL(half_a_hauler, (s->crew_count = 1, s->crew[0].mass = fh_number_exact(80.0), s->crew[0].mass.lo = (double)NAN))
SPOIL(an_endless_rope_name, (s->rope_count = 1, memset(s->ropes[0].name, 'x', FH_NAME)))

static void what_is_not_whole_is_refused(void **state) {
  (void)state;
  static const spoil_fn SPOILS[] = {
      few_bodies, many_bodies, a_body_without_grip, an_endless_body_name, many_paths, negative_paths, many_stations, many_grips,
      a_gap_between_paths, a_path_of_one, a_path_past_the_end, an_endless_path_name, an_endless_rope_of, a_rope_that_is_not_there,
      an_unknown_station, a_tie_to_nothing, a_run_past_the_bodies, a_bend_at_the_end, an_edge_at_the_end, a_hand_in_the_middle,
      a_loose_end_in_the_middle, half_a_friction, half_an_efficiency, a_grip_on_the_load, a_grip_past_the_bodies, a_grip_on_no_path,
      a_grip_behind_the_path, a_grip_nowhere, no_mass, no_weight, no_depth, no_friction, an_upside_down_range, endless_room,
      a_large_crew, many_ropes, a_large_kit, a_negative_kit, many_points, half_a_hauler, an_endless_rope_name,
  };
  checked k = checked_solved(PLACE Z(0.9, 0.5));
  fh_scene *s = malloc(sizeof *s);
  assert_non_null(s);
  for (size_t i = 0; i < sizeof SPOILS / sizeof SPOILS[0]; i++) {
    fh_check *c = NULL;
    fh_angle_point p;
    const double angle = 0.1;
    *s = *k.t.scene;
    SPOILS[i](s);
    fh_status status = fh_check_create(s, k.t.gear, &s->rig, NULL, &c);
    if (status != FH_ERR_ARG) {
      print_error("case %zu\n", i);
    }
    assert_status(status, FH_ERR_ARG);
    assert_null(c);
    assert_status(fh_angle_curve(s, k.t.gear, &s->rig, &angle, 1, &p), FH_ERR_ARG);
  }
  free(s);
  checked_done(&k);
}

static void two_hands_are_one_too_many(void **state) {
  (void)state;
  checked k = checked_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) HAND) ", " PATH("line", LOAD "{tie: anchor, slack_m: 1}"), ""));
  fh_check *c = NULL;
  k.rig->stations[6].kind = FH_HAND;
  assert_status(fh_check_create(k.t.scene, k.t.gear, k.rig, NULL, &c), FH_ERR_ARG);
  assert_null(c);
  checked_done(&k);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_largest_rig_fits_the_result),
      cmocka_unit_test(the_z_stands_in_the_result_as_it_lies_on_the_snow),
      cmocka_unit_test(a_tail_goes_with_its_grip_and_carries_nothing),
      cmocka_unit_test(a_tended_capture_costs_nothing_while_it_is_open),
      cmocka_unit_test(the_crew_is_compared_with_the_pull_end_to_end),
      cmocka_unit_test(twice_the_load_is_twice_every_force),
      cmocka_unit_test(asking_twice_gives_the_same_to_the_last_bit),
      cmocka_unit_test(nothing_is_worked_out_of_nothing),
      cmocka_unit_test(a_rig_without_a_hand_is_an_answer),
      cmocka_unit_test(what_is_not_whole_is_refused),
      cmocka_unit_test(two_hands_are_one_too_many),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
