// SPDX-License-Identifier: MIT
// Are the stages in an order that keeps the load held, and is everything that must not be built told with its step?
// Model sections 7 and 9; the order itself is common practice, no source.
#include "rescue_scenes.h"

#include "memory.h"

static fh_stages *make(const scene_text *t) {
  fh_stages *s = NULL;
  assert_status(fh_stages_create(t->scene, t->gear, &t->scene->rig, NULL, &s), FH_OK);
  return s;
}

static void the_load_is_held_at_every_step(void **state) {
  (void)state;
  static const char *const SCENES[] = {ONE_ROPE, Z, TWO_ROPES, LOOP_ONLY};
  for (size_t i = 0; i < sizeof SCENES / sizeof *SCENES; i++) {
    scene_text t = scene_read(SCENES[i]);
    fh_stages *s = make(&t);
    assert_false(s->refused);
    assert_int_equal(s->outcome, FH_OUTCOME_SOLVED);
    for (int k = 0; k < s->count; k++) {
      const fh_stage *stage = &s->stages[k];
      assert_int_equal(stage->step, k + 1);
      assert_true(stage->name[0] != '\0' && stage->text[0] != '\0' && stage->check[0] != '\0');
      assert_true(stage->kind == FH_STAGE_AWAY || (stage->holds > 0 && stage->held[0] != '\0'));
      for (int j = 0; j < k; j++) {
        assert_string_not_equal(s->stages[j].name, stage->name);
      }
    }
    fh_stages_destroy(s);
    scene_done(&t);
  }
}

static void building_only_adds_and_ends_with_the_whole_rig(void **state) {
  (void)state;
  scene_text t = scene_read(ONE_ROPE);
  fh_stages *s = make(&t);
  int pull = stage_index(s, FH_STAGE_TRANSFER);
  for (int k = 1; k <= pull; k++) {
    assert_true(s->stages[k].placed[0] >= s->stages[k - 1].placed[0]);
    assert_int_equal(s->stages[k].grips_on & s->stages[k - 1].grips_on, s->stages[k - 1].grips_on);
  }
  assert_int_equal(s->stages[pull].placed[0], t.scene->rig.paths[0].count);
  assert_int_equal(s->stages[pull].grips_on, 1);
  // A hitch is on before a rope runs over what it makes.
  assert_true(stage_of(s, FH_STAGE_GRIP, 1)->step < pull);
  assert_true(stage_index(s, FH_STAGE_CAPTURE) < pull);
  fh_stages_destroy(s);
  scene_done(&t);
}

// First it backs up; the slack grows past the limit: only the capture holds; a knot: it backs up again.
static void on_one_rope_the_first_line_backs_up_until_it_is_slack_and_again_with_a_knot(void **state) {
  (void)state;
  scene_text t = scene_read(ONE_ROPE);
  fh_stages *s = make(&t);
  const fh_stage *haul = stage_of(s, FH_STAGE_HAUL, 1), *slack = stage_of(s, FH_STAGE_SLACK, 1), *knot = stage_of(s, FH_STAGE_KNOT, 1);
  assert_non_null(haul);
  assert_non_null(slack);
  assert_non_null(knot);
  assert_int_equal(haul->holds, 2);
  assert_string_equal(haul->hold[0], "toothed-capture on station");
  assert_string_equal(haul->hold[1], "first line, knot of main on anchor");
  assert_true(slack->slack > s->slack_limit);
  assert_int_equal(slack->holds, 1);
  assert_string_equal(slack->hold[0], "toothed-capture on station");
  assert_non_null(strstr(slack->held, "Nothing backs it up"));
  assert_true(knot->holds >= 2);
  assert_string_equal(knot->hold[0], "toothed-capture on station");
  assert_string_equal(knot->hold[1], "first line, backup knot");
  assert_exact(knot->slack, s->slack_left);
  fh_stages_destroy(s);
  scene_done(&t);
}

static void while_building_the_first_line_bears(void **state) {
  (void)state;
  static const struct {
    const char *scene, *first;
    fh_first_line kind;
  } CASES[] = {{ONE_ROPE, "friction hitch of main at the anchor", FH_FIRST_IN_RIG},
               {TWO_ROPES, "friction hitch of main at the anchor", FH_FIRST_IN_RIG},
               {Z, "friction hitch of main at the anchor", FH_FIRST_HAUL_ROPE},
               {LOOP_ONLY, "first line, not in the rig", FH_FIRST_OUTSIDE}};
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    scene_text t = scene_read(CASES[i].scene);
    fh_stages *s = make(&t);
    assert_int_equal(s->first, CASES[i].kind);
    for (int k = 0; k < stage_index(s, FH_STAGE_TRANSFER); k++) {
      assert_string_equal(s->stages[k].hold[0], CASES[i].first);
    }
    fh_stages_destroy(s);
    scene_done(&t);
  }
}

// Nobody leaves the rope on one knot: a hitch and the knot behind it hold, each without the other. Of a line that is not in the
// rig nobody knows a second thing.
static void before_anyone_goes_to_the_lip_two_things_hold_where_there_are_two(void **state) {
  (void)state;
  static const struct {
    const char *scene, *second;
  } CASES[] = {{ONE_ROPE, "first line, knot of main on anchor"},
               {TWO_ROPES, "first line, knot of main on anchor"},
               {Z, "tie-off of main at the anchor"},
               {LOOP_ONLY, NULL}};
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    scene_text t = scene_read(CASES[i].scene);
    fh_lose *l = NULL;
    assert_status(fh_lose_create(t.scene, t.gear, &t.scene->rig, NULL, &l), FH_OK);
    const fh_stages *s = l->stages;
    for (int k = 0; k <= stage_index(s, FH_STAGE_EDGE); k++) {
      const fh_stage *stage = &s->stages[k];
      assert_int_equal(stage->holds, CASES[i].second != NULL ? 2 : 1);
      if (CASES[i].second == NULL) {
        assert_null(strstr(stage->held, "Nothing backs it up"));
        assert_non_null(strstr(stage->held, "the scene does not say"));
        continue;
      }
      assert_string_equal(stage->hold[1], CASES[i].second);
      assert_non_null(strstr(stage->held, "after 0.20 m"));
    }
    if (CASES[i].second != NULL) {
      const fh_loss *hitch = loss_of(l, FH_STAGE_EDGE, "friction hitch of main at the anchor");
      assert_true(hitch->there && hitch->bears && hitch->caught);
      assert_near(hitch->drop, s->slack_left, 1e-9);
      const char *own = strstr(CASES[i].second, "first line, ") != NULL ? CASES[i].second + strlen("first line, ") : CASES[i].second;
      const fh_loss *knot = loss_of(l, FH_STAGE_EDGE, own);
      assert_true(knot->there && !knot->bears && knot->caught);
      assert_exact(knot->drop, 0.0);
      // It has come off by the first pull.
      assert_false(loss_of(l, FH_STAGE_TRANSFER, "friction hitch of main at the anchor")->there);
      assert_non_null(strstr(stage_of(s, FH_STAGE_TRANSFER, 1)->text, "hitch"));
    }
    fh_lose_destroy(l);
    scene_done(&t);
  }
}

// The load comes off the harness of whoever held the fall, first onto the hitch; a line outside the rig is on nobody's.
static void the_load_comes_off_the_harness_onto_a_hitch(void **state) {
  (void)state;
  static const char *const SCENES[] = {ONE_ROPE, Z, TWO_ROPES, LOOP_ONLY};
  for (size_t i = 0; i < sizeof SCENES / sizeof *SCENES; i++) {
    scene_text t = scene_read(SCENES[i]);
    fh_stages *s = make(&t);
    const char *text = stage_of(s, FH_STAGE_FIRST_LINE, 1)->text;
    bool outside = s->first == FH_FIRST_OUTSIDE;
    assert_true((strstr(text, "Off the harness: tie a friction hitch of cord on the loaded strand of main") != NULL) == !outside);
    assert_non_null(strstr(text, outside ? "backs it up before anyone leaves it" : "Do not leave the rope before both are in"));
    // It is drawn: a hitch on the anchor's strand until the first pull.
    for (int k = 0; k <= stage_index(s, FH_STAGE_TRANSFER); k++) {
      fh_scene *at = calloc(1, sizeof *at);
      assert_non_null(at);
      assert_status(fh_stage_scene(t.scene, t.gear, &t.scene->rig, s, k, at), FH_OK);
      int on_anchor = 0;
      for (int g = 0; g < at->rig.grip_count; g++) {
        on_anchor += at->rig.grips[g].body == FH_BODY_ANCHOR ? 1 : 0;
      }
      assert_int_equal(on_anchor, !outside && s->stages[k].kind != FH_STAGE_TRANSFER ? 1 : 0);
      free(at);
    }
    fh_stages_destroy(s);
    scene_done(&t);
  }
}

static void who_cannot_help_is_not_told_to_push_off(void **state) {
  (void)state;
  static const char HELPLESS[] = "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {turn_deg: 80, friction: 0.15}\n"
                                 "ground: {station_m: 4, anchor_m: 6, holds_kN: 12}\ncrew: [{name: guide, mass_kg: 75, pull_N: 1500}]\n"
                                 "ropes: [{name: main, length_m: 60}]\n"
      RIG(PATH("main", "{tie: load}, {edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}"), BLOCK("main", "1"));
  static const char *const SCENES[] = {Z, HELPLESS};
  for (int i = 0; i < 2; i++) {
    scene_text t = scene_read(SCENES[i]);
    fh_stages *s = make(&t);
    const char *text = stage_of(s, FH_STAGE_LIP, 1)->text;
    assert_true((strstr(text, "pushes off the wall") != NULL) == (i == 0));
    assert_true((strstr(text, "is not forced over the edge") != NULL) == (i == 1));
    fh_stages_destroy(s);
    scene_done(&t);
  }
}

// The hauler is in line with the rope, or cannot pull; everybody else is not.
static void nobody_else_stands_in_line(void **state) {
  (void)state;
  static const char *const SCENES[] = {ONE_ROPE, Z};
  for (size_t i = 0; i < sizeof SCENES / sizeof *SCENES; i++) {
    scene_text t = scene_read(SCENES[i]);
    fh_stages *s = make(&t);
    const char *check = stage_of(s, FH_STAGE_TRANSFER, 1)->check;
    assert_non_null(strstr(check, "nobody else in line with the loaded rope, nobody below it or inside its angle"));
    assert_non_null(strstr(stage_of(s, FH_STAGE_HAUL, 1)->text, "straight back in line"));
    fh_stages_destroy(s);
    scene_done(&t);
  }
}

// Behind a moving block the hauler walks back from where it was. By hand: the block goes from 0.5 m to 0.4 m before the station at
// 4 m, the rope of a 3:1 comes in by 3 x 3.1 m, so the hands end 0.5 + 9.3 m back, 3.8 m beyond the anchor. With room up to 7 m
// only it is 1 m: a tether reaches there.
static void a_walk_beyond_the_anchor_is_told(void **state) {
  (void)state;
  static const struct {
    const char *ground;
    double beyond;
  } CASES[] = {{"", 3.8}, {", room_m: 7", 0.0}};
  for (int i = 0; i < 2; i++) {
    char text[1400];
    (void)snprintf(text, sizeof text,
                   "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 11}\nlip: {turn_deg: 80, friction: 0.15}\n"
                   "ground: {station_m: 4, anchor_m: 6, reach_m: 0.5%s}\ncrew: [{name: guide, mass_kg: 75, pull_N: 1500}]\n"
                   "ropes: [{name: main, length_m: 60}]\n%s",
                   CASES[i].ground,
                   "rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}]}], "
                   "grips: [{body: t, hitch: prusik, rope: main, after: 1, at_m: 0.5}]}\n");
    scene_text t = scene_read(text);
    fh_stages *s = make(&t);
    const fh_stage *haul = stage_of(s, FH_STAGE_HAUL, 1);
    assert_non_null(haul);
    assert_near(s->walk_beyond, CASES[i].beyond, 1e-9);
    assert_true((strstr(haul->text, "up to 3.8 m beyond the anchor: probe that ground first and stay tied in") != NULL) == (CASES[i].beyond > 0.0));
    fh_stages_destroy(s);
    scene_done(&t);
  }
}

static void a_separate_first_line_is_a_way_of_its_own(void **state) {
  (void)state;
  scene_text t = scene_read(TWO_ROPES);
  fh_stages *s = make(&t);
  assert_int_equal(stage_of(s, FH_STAGE_HAUL, 1)->holds, 2);
  assert_int_equal(stage_of(s, FH_STAGE_SLACK, 1)->holds, 1);
  fh_stages_destroy(s);
  scene_done(&t);
}

static void without_a_first_line_a_knot_behind_the_capture_backs_up(void **state) {
  (void)state;
  scene_text t = scene_read(Z);
  fh_stages *s = make(&t);
  assert_int_equal(stage_of(s, FH_STAGE_RESET, 1)->holds, 1);
  assert_int_equal(stage_of(s, FH_STAGE_KNOT, 1)->holds, 2);
  assert_string_equal(stage_of(s, FH_STAGE_KNOT, 1)->hold[1], "backup knot");
  fh_stages_destroy(s);
  scene_done(&t);
}

static void a_knot_every_so_many_metres_follows_from_the_fall_that_is_accepted(void **state) {
  (void)state;
  scene_text t = scene_read(ONE_ROPE);
  fh_stages_opts o = fh_stages_opts_default();
  double last = 0.0;
  for (o.most_drop = 0.5; o.most_drop <= 1.5; o.most_drop += 0.5) {
    fh_stages *s = NULL;
    assert_status(fh_stages_create(t.scene, t.gear, &t.scene->rig, &o, &s), FH_OK);
    assert_near(s->slack_limit, o.most_drop, 1e-12);
    assert_near(s->knot_every, o.most_drop - o.slack_left, 1e-12);
    assert_true(s->knot_every > last);
    last = s->knot_every;
    fh_stages_destroy(s);
  }
  scene_done(&t);
}

// ---------------------------------------------------------------------------------------------------- refusals

static void refused_at(const char *scene, const char *words, fh_stage_kind kind) {
  scene_text t = scene_read(scene);
  fh_stages *s = make(&t);
  bool said = false;
  assert_true(s->refused);
  for (int i = 0; i < s->finding_count; i++) {
    if (!said && s->findings[i].level == FH_NOTE_NO && strstr(s->findings[i].text, words) != NULL) {
      said = true;  // the first step where it shows
      assert_in_range(s->findings[i].step, 1, s->count);
      assert_int_equal(s->stages[s->findings[i].step - 1].kind, kind);
    }
  }
  if (!said) {
    for (int i = 0; i < s->finding_count; i++) {
      print_error("step %d: %s\n", s->findings[i].step, s->findings[i].text);
    }
  }
  assert_true(said);
  fh_stages_destroy(s);
  scene_done(&t);
}

static void a_rig_without_a_capture_is_refused(void **state) {
  (void)state;
  refused_at(Z_WITH("{run: station, on: carabiner}"), "no capture in the rig", FH_STAGE_RESET);
  refused_at(Z_WITH("{run: station, on: carabiner}"), "leaves the load unheld", FH_STAGE_TRANSFER);
}

static void a_capture_the_wrong_way_round_is_refused(void **state) {
  (void)state;
  refused_at(Z_WITH("{run: station, on: toothed-capture, reversed: true}"), "wrong way round", FH_STAGE_CAPTURE);
}

#define SHORT(length, more) \
  "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {}\nground: {station_m: 4, anchor_m: 6" more "}\nropes: [{name: main, length_m: " length "}]\n"

static void a_rope_shorter_than_the_raise_is_refused(void **state) {
  (void)state;
  refused_at(SHORT("15.5", "") RIG(PATH("main", "{tie: load}, {edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}"), BLOCK("main", "1")),
             "shorter than the raise", FH_STAGE_BUILD);
}

static void a_grip_beyond_the_rope_s_reach_is_refused(void **state) {
  (void)state;
  refused_at(SHORT("13", "") "" RIG(PATH("main", "{tie: load}, {edge: lip}, " CAPTURE ", {loose: true}") ", "
                                       PATH("other", "{tie: anchor}, {run: t, on: pulley}, {hand: crew}"),
                                       ", grips: [{body: t, hitch: prusik, rope: main, after: 2, at_m: 1.5}]"),
             "beyond the rope's reach", FH_STAGE_GRIP);
}

static void a_grip_nearer_to_the_edge_than_is_safe_is_refused(void **state) {
  (void)state;
  refused_at(SHORT("60", ", reach_m: 2") RIG(PATH("main", "{tie: load}, {edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}"), BLOCK("main", "1")),
             "nearest safe place", FH_STAGE_GRIP);
}

static void brake_knots_that_would_jam_are_refused(void **state) {
  (void)state;
  refused_at("firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {}\nground: {}\nropes: [{name: main, length_m: 60, knots: 4}]\n"
             RIG(PATH("main", "{tie: load}, {edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}"), BLOCK("main", "1")),
             "jam there", FH_STAGE_HAUL);
}

static void a_rig_that_is_locked_is_refused(void **state) {
  (void)state;
  // A taut line from the load to the anchor beside the one that is hauled.
  refused_at(PLACE RIG(PATH("other", "{tie: load}, {edge: lip}, {tie: anchor}") ", "
                       PATH("main", "{tie: load}, {edge: lip}, " CAPTURE ", {run: t, on: pulley}, {hand: crew}"), BLOCK("main", "1")),
             "does not raise the load", FH_STAGE_TRANSFER);
}

// ---------------------------------------------------------------------------------------------------- as scenes

static void a_stage_is_a_scene_of_its_own(void **state) {
  (void)state;
  static const char *const SCENES[] = {ONE_ROPE, Z, TWO_ROPES, LOOP_ONLY};
  for (size_t i = 0; i < sizeof SCENES / sizeof *SCENES; i++) {
    scene_text t = scene_read(SCENES[i]);
    fh_stages *s = make(&t);
    fh_scene *now = calloc(1, sizeof *now);
    assert_non_null(now);
    for (int k = 0; k < s->count; k++) {
      assert_status(fh_stage_scene(t.scene, t.gear, &t.scene->rig, s, k, now), FH_OK);
      for (int p = 0; p < now->rig.path_count; p++) {
        const fh_path *path = &now->rig.paths[p];
        fh_station_kind end = now->rig.stations[path->first + path->count - 1].kind;
        assert_true(path->count > 0 && (end == FH_TIE || end == FH_LOOSE || end == FH_HAND));
      }
      for (int g = 0; g < now->rig.grip_count; g++) {
        assert_in_range(now->rig.grips[g].body, 1, now->rig.body_count - 1);
        assert_in_range(now->rig.grips[g].after, 0, now->rig.paths[now->rig.grips[g].path].count - 2);
      }
    }
    // The whole rig is the rig.
    assert_status(fh_stage_scene(t.scene, t.gear, &t.scene->rig, s, stage_index(s, FH_STAGE_HAUL), now), FH_OK);
    fh_check *a = NULL, *b = NULL;
    assert_status(fh_check_create(t.scene, t.gear, &t.scene->rig, NULL, &a), FH_OK);
    assert_status(fh_check_create(now, t.gear, &now->rig, NULL, &b), FH_OK);
    assert_exact(b->hand_force.likely, a->hand_force.likely);
    fh_check_destroy(a);
    fh_check_destroy(b);
    assert_status(fh_stage_scene(t.scene, t.gear, &t.scene->rig, s, s->count, now), FH_ERR_ARG);
    assert_status(fh_stage_scene(t.scene, t.gear, &t.scene->rig, s, -1, now), FH_ERR_ARG);
    free(now);
    fh_stages_destroy(s);
    scene_done(&t);
  }
}

static void words_tell_lengths_in_the_units_asked_for(void **state) {
  (void)state;
  scene_text t = scene_read(ONE_ROPE);
  fh_stages_opts o = fh_stages_opts_default();
  for (int i = 0; i < 2; i++) {
    fh_stages *s = NULL;
    o.units = i == 0 ? FH_METRIC : FH_IMPERIAL;
    assert_status(fh_stages_create(t.scene, t.gear, &t.scene->rig, &o, &s), FH_OK);
    assert_non_null(strstr(s->stages[0].text, i == 0 ? "6.0 m" : "19.7 ft"));
    fh_stages_destroy(s);
  }
  scene_done(&t);
}

static void arguments_and_memory(void **state) {
  (void)state;
  scene_text t = scene_read(ONE_ROPE);
  fh_stages *s = NULL;
  fh_stages_opts o = fh_stages_opts_default();
  assert_status(fh_stages_create(NULL, t.gear, &t.scene->rig, NULL, &s), FH_ERR_ARG);
  assert_status(fh_stages_create(t.scene, t.gear, &t.scene->rig, NULL, NULL), FH_ERR_ARG);
  o.lip_zone = -1.0;
  assert_status(fh_stages_create(t.scene, t.gear, &t.scene->rig, &o, &s), FH_ERR_ARG);
  fh_stages_destroy(NULL);
  fh_status status = FH_ERR_MEMORY;
  for (long n = 1; status == FH_ERR_MEMORY; n++) {
    s = NULL;
    assert_true(n < 300);
    fhi_fault_after(n);
    status = fh_stages_create(t.scene, t.gear, &t.scene->rig, NULL, &s);
    fhi_fault_after(0);
    assert_true(status == FH_OK || s == NULL);
    fh_stages_destroy(s);
  }
  assert_status(status, FH_OK);
  scene_done(&t);
}

static void a_report_holds_every_step(void **state) {
  (void)state;
  scene_text t = scene_read(ONE_ROPE);
  fh_stages *s = make(&t);
  text_sink sink = {.fail_after = -1};
  assert_status(fh_stages_write_json(t.scene, t.gear, &t.scene->rig, s, (fh_out){text_sink_put, &sink}), FH_OK);
  for (int k = 0; k < s->count; k++) {
    assert_non_null(strstr(sink.bytes, s->stages[k].name));
  }
  assert_status(fh_stages_write_json(NULL, t.gear, &t.scene->rig, s, (fh_out){text_sink_put, &sink}), FH_ERR_ARG);
  free(sink.bytes);
  fh_stages_destroy(s);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_load_is_held_at_every_step),
      cmocka_unit_test(building_only_adds_and_ends_with_the_whole_rig),
      cmocka_unit_test(on_one_rope_the_first_line_backs_up_until_it_is_slack_and_again_with_a_knot),
      cmocka_unit_test(while_building_the_first_line_bears),
      cmocka_unit_test(before_anyone_goes_to_the_lip_two_things_hold_where_there_are_two),
      cmocka_unit_test(the_load_comes_off_the_harness_onto_a_hitch),
      cmocka_unit_test(who_cannot_help_is_not_told_to_push_off),
      cmocka_unit_test(nobody_else_stands_in_line),
      cmocka_unit_test(a_walk_beyond_the_anchor_is_told),
      cmocka_unit_test(a_separate_first_line_is_a_way_of_its_own),
      cmocka_unit_test(without_a_first_line_a_knot_behind_the_capture_backs_up),
      cmocka_unit_test(a_knot_every_so_many_metres_follows_from_the_fall_that_is_accepted),
      cmocka_unit_test(a_rig_without_a_capture_is_refused),
      cmocka_unit_test(a_capture_the_wrong_way_round_is_refused),
      cmocka_unit_test(a_rope_shorter_than_the_raise_is_refused),
      cmocka_unit_test(a_grip_beyond_the_rope_s_reach_is_refused),
      cmocka_unit_test(a_grip_nearer_to_the_edge_than_is_safe_is_refused),
      cmocka_unit_test(brake_knots_that_would_jam_are_refused),
      cmocka_unit_test(a_rig_that_is_locked_is_refused),
      cmocka_unit_test(a_stage_is_a_scene_of_its_own),
      cmocka_unit_test(words_tell_lengths_in_the_units_asked_for),
      cmocka_unit_test(arguments_and_memory),
      cmocka_unit_test(a_report_holds_every_step),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
