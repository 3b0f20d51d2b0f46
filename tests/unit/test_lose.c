// SPDX-License-Identifier: MIT
// What catches when a part lets go, and how hard? Rigs whose answer can be written down. Model section 9; the programme itself:
// test_drop.c and tests/refs/ref_drop_glpk.c.
#include "rescue_scenes.h"

#include "memory.h"

static fh_lose *make(const scene_text *t) {
  fh_lose *l = NULL;
  assert_status(fh_lose_create(t->scene, t->gear, &t->scene->rig, NULL, &l), FH_OK);
  return l;
}

static void a_lost_capture_falls_onto_the_slack_of_the_first_line(void **state) {
  (void)state;
  static const char *const SCENES[] = {ONE_ROPE, TWO_ROPES};
  for (size_t i = 0; i < 2; i++) {
    scene_text t = scene_read(SCENES[i]);
    fh_lose *l = make(&t);
    const fh_loss *x = loss_of(l, FH_STAGE_HAUL, "toothed-capture on station");
    assert_true(x->there && x->bears && x->caught);
    assert_near(x->drop, 0.5, 1e-9);
    assert_string_equal(x->caught_by, "knot of main on anchor");
    fh_lose_destroy(l);
    scene_done(&t);
  }
}

// 8 m in the hole, 6 m and the slack behind the edge; the closed form with the likely figures.
static void the_peak_is_the_closed_form_on_that_line(void **state) {
  (void)state;
  scene_text t = scene_read(TWO_ROPES);
  fh_lose *l = make(&t);
  const fh_loss *x = loss_of(l, FH_STAGE_HAUL, "toothed-capture on station");
  double lip;
  assert_status(fh_edge_ratio(0.15, 80.0 * 3.14159265358979323846 / 180.0, &lip), FH_OK);
  fh_catch_in in = {.weight = 80.0 * 9.80665, .fall = 0.5, .modulus = fh_rope_fall_modulus(t.scene, t.gear, 0).likely,
                    .hole = 8.5, .surface = 6.0, .lip = lip};
  fh_catch c;
  assert_status(fh_catch_closed(&in, &c), FH_OK);
  assert_close(x->peak.likely, c.peak, 1e-9);
  assert_close(x->anchor.likely, c.held, 1e-9);
  assert_close(x->peak_simulated, c.peak, 1e-5);
  assert_true(x->peak.lo <= x->peak.likely && x->peak.likely <= x->peak.hi);
  fh_lose_destroy(l);
  scene_done(&t);
}

static void what_carries_nothing_can_go(void **state) {
  (void)state;
  scene_text t = scene_read(TWO_ROPES);
  fh_lose *l = make(&t);
  static const char *const IDLE[] = {"knot of main on anchor", "knot of main on load", "main from load to lip"};
  for (size_t i = 0; i < sizeof IDLE / sizeof *IDLE; i++) {
    const fh_loss *x = loss_of(l, FH_STAGE_RESET, IDLE[i]);
    assert_true(x->there && !x->bears && x->caught);
    assert_exact(x->drop, 0.0);
    assert_close(x->peak.likely, 80.0 * 9.80665, 1e-12);  // it hangs on as it did
  }
  fh_lose_destroy(l);
  scene_done(&t);
}

static void the_anchor_holds_everything(void **state) {
  (void)state;
  static const char *const SCENES[] = {ONE_ROPE, Z, TWO_ROPES, LOOP_ONLY};
  for (size_t i = 0; i < sizeof SCENES / sizeof *SCENES; i++) {
    scene_text t = scene_read(SCENES[i]);
    fh_lose *l = make(&t);
    for (int k = 0; k < l->stages->count; k++) {
      const fh_loss *x = fh_lose_at(l, k, 0);
      assert_string_equal(l->elements[0].name, "anchor");
      if (l->stages->stages[k].kind != FH_STAGE_AWAY) {
        assert_true(x->there && !x->caught && isinf(x->drop));
      }
    }
    fh_lose_destroy(l);
    scene_done(&t);
  }
}

static void hands_that_let_go_are_caught_by_the_capture(void **state) {
  (void)state;
  scene_text t = scene_read(Z);
  fh_lose *l = make(&t);
  const fh_loss *x = loss_of(l, FH_STAGE_HAUL, "hands");
  assert_true(x->bears && x->caught);
  assert_string_equal(x->caught_by, "toothed-capture on station");
  assert_near(x->drop, 0.0, 1e-9);
  // The capture was not loaded: the rope runs back through it before it bites.
  assert_near(x->bite, fh_gear_figure(t.gear, fh_gear_find(t.gear, "toothed-capture"), "set_back_m", NULL).likely, 1e-9);
  assert_true(x->peak.likely > 2.0 * 80.0 * 9.80665);
  fh_lose_destroy(l);
  scene_done(&t);
}

static void at_a_reset_a_single_line_hangs_on_its_capture(void **state) {
  (void)state;
  scene_text t = scene_read(Z);
  fh_lose *l = make(&t);
  static const char *const SINGLE[] = {"anchor", "station", "toothed-capture on station", "toothed-capture on station does not lock",
                                       "knot of main on load", "main from load to lip"};
  for (size_t i = 0; i < sizeof SINGLE / sizeof *SINGLE; i++) {
    const fh_loss *x = loss_of(l, FH_STAGE_RESET, SINGLE[i]);
    assert_true(x->there && !x->caught);
    assert_string_equal(x->caught_by, "");
  }
  assert_true(loss_of(l, FH_STAGE_KNOT, "toothed-capture on station does not lock")->caught);
  assert_near(loss_of(l, FH_STAGE_KNOT, "toothed-capture on station does not lock")->drop, 0.2, 1e-9);
  fh_lose_destroy(l);
  scene_done(&t);
}

// A block that is pulled against a bend may jam there, or not: it must not be counted.
static void a_block_that_might_jam_is_no_hold(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE RIG(PATH("main", "{tie: load}, {edge: lip}, " CAPTURE ", {loose: true}") ", "
                                      PATH("other", "{tie: anchor}, {run: t, on: pulley}, {hand: crew}"),
                                      ", grips: [{body: t, hitch: prusik, rope: main, after: 2, at_m: 2}]"));
  fh_lose *l = make(&t);
  for (int k = 0; k < l->stages->count; k++) {
    for (int e = 0; e < l->element_count; e++) {
      const fh_loss *x = fh_lose_at(l, k, e);
      bool after = l->stages->stages[k].kind >= FH_STAGE_TRANSFER && l->stages->stages[k].kind != FH_STAGE_KNOT;
      if (x->there && after && l->elements[e].kind == FH_ELEMENT_LOCK && x->bears) {
        assert_false(x->caught);
      }
    }
  }
  fh_lose_destroy(l);
  scene_done(&t);
}

static void a_weak_anchor_is_told_to_be_over_its_limit(void **state) {
  (void)state;
  scene_text t = scene_read(TWO_ROPES);
  t.scene->anchor_holds = fh_number_exact(1500.0);
  fh_lose *l = make(&t);
  const fh_loss *x = loss_of(l, FH_STAGE_HAUL, "toothed-capture on station");
  bool said = false;
  for (int i = 0; i < x->over_count; i++) {
    said = said || strcmp(x->over[i], "anchor, with the station") == 0;
  }
  assert_true(said);
  // It is no backup then.
  assert_int_equal(stage_of(l->stages, FH_STAGE_HAUL, 1)->holds, 1);
  fh_lose_destroy(l);
  scene_done(&t);
}

static void answers_satisfy_their_programmes(void **state) {
  (void)state;
  static const char *const SCENES[] = {ONE_ROPE, Z, TWO_ROPES, LOOP_ONLY};
  int seen = 0;
  for (size_t i = 0; i < sizeof SCENES / sizeof *SCENES; i++) {
    scene_text t = scene_read(SCENES[i]);
    fh_lose *l = make(&t);
    for (int k = 0; k < l->stages->count; k++) {
      for (int e = 0; e < l->element_count; e++) {
        const fh_loss *x = fh_lose_at(l, k, e);
        seen += x->there;
        assert_true(!x->there || x->residual <= 1e-9);
        if (x->caught && x->bears) {
          assert_close(x->peak_simulated, x->peak.likely, 1e-4);
          assert_true(x->caught_by[0] != '\0');
        }
      }
    }
    assert_null(fh_lose_at(l, l->stages->count, 0));
    assert_null(fh_lose_at(l, 0, l->element_count));
    assert_null(fh_lose_at(NULL, 0, 0));
    fh_lose_destroy(l);
    scene_done(&t);
  }
  assert_true(seen > 500);
}

static void arguments_and_memory(void **state) {
  (void)state;
  scene_text t = scene_read(ONE_ROPE);
  fh_lose *l = NULL;
  assert_status(fh_lose_create(t.scene, NULL, &t.scene->rig, NULL, &l), FH_ERR_ARG);
  assert_status(fh_lose_create(t.scene, t.gear, &t.scene->rig, NULL, NULL), FH_ERR_ARG);
  fh_lose_destroy(NULL);
  fh_status status = FH_ERR_MEMORY;
  for (long n = 1; status == FH_ERR_MEMORY; n++) {
    l = NULL;
    assert_true(n < 300);
    fhi_fault_after(n);
    status = fh_lose_create(t.scene, t.gear, &t.scene->rig, NULL, &l);
    fhi_fault_after(0);
    assert_true(status == FH_OK || l == NULL);
    fh_lose_destroy(l);
  }
  assert_status(status, FH_OK);
  scene_done(&t);
}

static void reports_hold_the_agreed_keys(void **state) {
  (void)state;
  static const char *const KEYS[] = {"stages", "name", "holds", "elements", "element", "caught_by", "drop_m", "peak_N", "over"};
  scene_text t = scene_read(Z);
  fh_lose *l = make(&t);
  text_sink sink = {.fail_after = -1}, csv = {.fail_after = -1};
  assert_status(fh_lose_write_json(t.scene, l, (fh_out){text_sink_put, &sink}), FH_OK);
  for (size_t i = 0; i < sizeof KEYS / sizeof *KEYS; i++) {
    char key[40];
    snprintf(key, sizeof key, "\"%s\": ", KEYS[i]);
    assert_non_null(strstr(sink.bytes, key));
  }
  assert_non_null(strstr(sink.bytes, "\"caught_by\": null"));
  assert_null(strstr(sink.bytes, "nan"));
  assert_status(fh_lose_write_csv(l, (fh_out){text_sink_put, &csv}), FH_OK);
  assert_non_null(strstr(csv.bytes, "toothed-capture on station"));
  assert_status(fh_lose_write_json(NULL, l, (fh_out){text_sink_put, &sink}), FH_ERR_ARG);
  assert_status(fh_lose_write_csv(NULL, (fh_out){text_sink_put, &sink}), FH_ERR_ARG);
  free(sink.bytes);
  free(csv.bytes);
  fh_lose_destroy(l);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_lost_capture_falls_onto_the_slack_of_the_first_line),
      cmocka_unit_test(the_peak_is_the_closed_form_on_that_line),
      cmocka_unit_test(what_carries_nothing_can_go),
      cmocka_unit_test(the_anchor_holds_everything),
      cmocka_unit_test(hands_that_let_go_are_caught_by_the_capture),
      cmocka_unit_test(at_a_reset_a_single_line_hangs_on_its_capture),
      cmocka_unit_test(a_block_that_might_jam_is_no_hold),
      cmocka_unit_test(a_weak_anchor_is_told_to_be_over_its_limit),
      cmocka_unit_test(answers_satisfy_their_programmes),
      cmocka_unit_test(arguments_and_memory),
      cmocka_unit_test(reports_hold_the_agreed_keys),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
