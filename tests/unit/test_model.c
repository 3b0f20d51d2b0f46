// SPDX-License-Identifier: MIT
// From a rig as written to tables: strands, contacts, what is slack, which way the crew pulls. Expected values: read off the
// scene by hand.
#include "scenes.h"

#define F FH_BODY_FIRST_GRIP

static void strand_is(const fhi_model *m, int s, int from, int to, double length, int dir) {
  assert_int_equal(m->strands[s].end[0].body, from);
  assert_int_equal(m->strands[s].end[1].body, to);
  assert_near(m->strands[s].length, length, 1e-12);
  assert_int_equal(m->strands[s].dir, dir);
}

static void a_z_has_five_strands_and_three_bends(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE Z(0.9, 0.5));
  const fhi_model *m = &r->model;
  assert_true(r->compiled);
  assert_int_equal(m->strand_count, 5);
  strand_is(m, 0, FH_BODY_LOAD, FH_END_LIP, 10.0, 1);
  strand_is(m, 1, FH_END_LIP, F, 2.0, 1);  // the grip splits the strand that it holds
  strand_is(m, 2, F, FH_BODY_STATION, 4.0, 1);
  strand_is(m, 3, FH_BODY_STATION, F, 4.0, -1);
  strand_is(m, 4, F, FH_END_HAND, 0.0, 1);
  assert_int_equal(m->strands[1].end[1].kind, FHI_END_FIXED);
  assert_int_equal(m->strands[1].end[1].grip, 0);
  assert_int_equal(m->hand_strand, 4);
  assert_int_equal(m->contact_count, 3);
  assert_int_equal(m->contacts[0].kind, FHI_EDGE);
  assert_int_equal(m->contacts[1].kind, FHI_SHEAVE);
  assert_int_equal(m->contacts[2].kind, FHI_BAR);
  assert_true(m->contacts[1].capture && !m->contacts[2].capture);
  assert_near(m->contacts[0].wrap, 0.5 * HALF, 1e-12);
  assert_exact(m->contacts[1].wrap, HALF);
  assert_exact(m->contacts[2].wrap, HALF);
  assert_int_equal(m->contacts[2].before, 3);
  assert_int_equal(m->contacts[2].after, 4);
  assert_exact(m->at[FH_BODY_LOAD], -10.0);
  assert_exact(m->at[FH_BODY_ANCHOR], 9.0);
  assert_exact(m->at[F], 2.0);
  assert_true(m->fixed[FH_BODY_STATION] && m->fixed[FH_BODY_ANCHOR] && !m->fixed[FH_BODY_LOAD] && !m->fixed[F]);
  rigged_done(r);
}

static void a_rope_led_on_the_same_way_is_not_bent(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD TURN("station", 0.5) TURN("anchor", 0.5) HAND), ""));
  assert_exact(r->model.contacts[1].wrap, 0.0);
  assert_exact(r->model.contacts[2].wrap, HALF);
  assert_exact(r->factors.likely[1], 1.0);
  assert_exact(r->factors.likely[2], 2.0);
  rigged_done(r);
}

static void grips_on_one_strand_stand_in_their_order_along_it(void **state) {
  (void)state;
  // Listed against their order; on the strand that comes back to the lip the order turns round.
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("c", 0.5) HAND) ", " PATH("cord", "{tie: a}, {tie: b}"),
                                    GRIP("a", "main", 1, 5) ", " GRIP("b", "main", 1, 1.5) ", " GRIP("c", "main", 1, 3)));
  static const int ORDER[] = {FH_END_LIP, F + 1, F + 2, F, FH_BODY_STATION};
  for (int i = 0; i < 4; i++) {
    assert_int_equal(r->model.strands[1 + i].end[0].body, ORDER[i]);
    assert_int_equal(r->model.strands[1 + i].end[1].body, ORDER[i + 1]);
  }
  rigged_done(r);
  r = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("c", 0.5) HAND) ", " PATH("cord", "{tie: a}, {tie: b}"),
                            GRIP("a", "main", 2, 4) ", " GRIP("b", "main", 2, 5) ", " GRIP("c", "main", 1, 3)));
  assert_int_equal(r->model.strands[3].end[1].body, F + 1);
  assert_int_equal(r->model.strands[4].end[1].body, F);
  assert_int_equal(r->model.strands[5].end[1].body, F + 2);
  assert_int_equal(r->model.strands[4].dir, -1);
  rigged_done(r);
}

static void a_tail_lies_where_its_grip_sits(void **state) {
  (void)state;
  rigged *front = rigged_read(PLACE NINE_TWO_ROPES(0.9, 0.5, 0.5, 0.5));
  const fhi_model *m = &front->model;
  strand_is(m, 4, F, F + 1, 1.0, 1);  // from the block on t back to u at 3 m
  assert_int_equal(m->strands[5].end[1].body, FH_END_LOOSE);
  assert_true(m->strands[5].slack && m->strands[5].slack_hold && !m->strands[5].slack_line);
  rigged_done(front);
  // A rope that begins loose: its tail lies on the side of its grip, behind or before the station that it comes to.
  rigged *first = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("t", 0.5) HAND) ", "
                                        PATH("cord", LOOSE ", {tie: station}"),
                                        GRIP("t", "main", 1, 2) ", " GRIP("u", "cord", 0, 4)));
  m = &first->model;
  assert_int_equal(m->strands[5].end[0].body, FH_END_LOOSE);
  assert_true(m->strands[5].slack);
  strand_is(m, 6, F + 1, FH_BODY_STATION, 2.0, 1);
  rigged_done(first);
  rigged *behind = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("t", 0.5) HAND) ", "
                                         PATH("cord", LOOSE ", {tie: station}"),
                                         GRIP("t", "main", 1, 2) ", " GRIP("u", "cord", 0, 8)));
  strand_is(&behind->model, 6, F + 1, FH_BODY_STATION, 2.0, -1);
  rigged_done(behind);
}

static void a_hitch_on_a_fixed_point_is_a_tended_capture(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE RIG(PATH("main", LOAD TURN("station", 0.9) HAND), GRIP("station", "main", 1, 5.5)));
  const fhi_contact *k = &r->model.contacts[2];  // after the edge and the turn: grips of a strand come with it
  for (int c = 0; c < r->model.contact_count; c++) {
    k = r->model.contacts[c].kind == FHI_TENDED ? &r->model.contacts[c] : k;
  }
  assert_int_equal(k->kind, FHI_TENDED);
  assert_int_equal(k->grip, 0);
  assert_int_equal(k->body, FH_BODY_STATION);
  assert_int_equal(k->station, -1);
  assert_true(k->capture);
  strand_is(&r->model, k->before, FH_END_LIP, FH_BODY_STATION, 5.5, 1);
  strand_is(&r->model, k->after, FH_BODY_STATION, FH_BODY_STATION, 0.5, 1);
  assert_exact(fhi_contact_factor(k, 0.5, 0.5, HALF), 1.0);  // open while raising: it costs nothing
  rigged_done(r);
}

static void slack_runs_on_through_bends_but_not_through_a_locked_capture(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE SIX(0.5, 0.9, 0.5));
  const fhi_model *m = &r->model;
  for (int s = 0; s < 3; s++) {  // load to lip to anchor, then the loop begins
    assert_int_equal(m->strands[s].slack, s < 2);
    assert_int_equal(m->strands[s].slack_line, s < 2);
  }
  assert_true(m->contacts[0].slack && !m->contacts[1].slack);
  rigged_done(r);
  // A slack tie behind a capture: nothing runs there while raising, but the cam would hold.
  rigged *c = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) HAND) ", " PATH("line", LOAD CAPTURE(0.9) "{tie: anchor, slack_m: 1}"), ""));
  assert_true(c->model.strands[3].slack && c->model.strands[4].slack && c->model.strands[5].slack);
  assert_true(!c->model.strands[3].slack_hold && !c->model.strands[4].slack_hold && c->model.strands[5].slack_hold);
  rigged_done(c);
  // No slack written out is no slack.
  rigged *taut = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) HAND) ", " PATH("line", LOAD "{tie: anchor, slack_m: 0}"), ""));
  assert_false(taut->model.strands[3].slack);
  rigged_done(taut);
}

static void the_crew_pulls_back_behind_a_block_and_toward_the_lip_behind_a_fixed_point(void **state) {
  (void)state;
  static const struct {
    const char *yaml;
    int dir;
    double angle;
  } CASES[] = {
      {PLACE Z(0.9, 0.5), 1, 0.0},
      {PLACE DIRECT(0.9), -1, 0.0},
      {PLACE DROP_LOOP(0.9), 1, 0.0},
      {PLACE RIG(PATH("main", LOAD CAPTURE(0.9) "{hand: crew, toward: back}"), ""), 1, 0.0},
      {PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("t", 0.5) "{hand: crew, toward: lip, angle_deg: 30}"), GRIP("t", "main", 1, 2)), -1, 30.0},
  };
  for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
    rigged *r = rigged_read(CASES[i].yaml);
    assert_int_equal(r->model.hand_dir, CASES[i].dir);
    assert_near(r->model.hand_angle, CASES[i].angle * HALF / 180.0, 1e-12);
    rigged_done(r);
  }
}

static void efficiencies_come_from_the_rig_the_kit_the_catalogue_in_that_order(void **state) {
  (void)state;
#define BARE RIG(PATH("main", LOAD "{run: station, on: pulley}, " HAND), "")
  rigged *own = rigged_read(PLACE "kit: [{item: pulley, efficiency: 0.7}]\n" RIG(
      PATH("main", LOAD "{run: station, on: pulley, efficiency: 0.6, efficiency_range: [0.5, 0.8]}, " HAND), ""));
  assert_exact(own->model.contacts[1].eta.likely, 0.6);
  assert_exact(own->model.contacts[1].eta.lo, 0.5);
  assert_exact(own->model.contacts[1].eta.hi, 0.8);
  assert_near(own->factors.lo[1], 1.25, 1e-12);
  assert_near(own->factors.hi[1], 2.0, 1e-12);
  rigged_done(own);
  rigged *kit = rigged_read(PLACE "kit: [{item: carabiner}, {item: pulley, efficiency: 0.7}]\n" BARE);
  assert_exact(kit->model.contacts[1].eta.likely, 0.7);
  rigged_done(kit);
  rigged *catalogue = rigged_read(PLACE "kit: [{item: pulley}]\n" BARE);
  fh_number listed = fh_gear_figure(catalogue->t.gear, fh_gear_find(catalogue->t.gear, "pulley"), "efficiency", NULL);
  assert_exact(catalogue->model.contacts[1].eta.likely, listed.likely);
  assert_exact(catalogue->model.contacts[1].eta.lo, listed.lo);
  rigged_done(catalogue);
}

static void a_range_that_does_not_hold_its_value_is_not_used(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE Z(0.9, 0.5));
  fh_station *st = &r->t.scene->rig.stations[2];
  st->efficiency_range = (fh_number){.spread = FH_SPREAD_UNIFORM, .lo = 0.91, .likely = 0.93, .hi = 0.95};
  rigged_compile(r);
  assert_exact(r->model.contacts[1].eta.lo, 0.9);
  assert_exact(r->model.contacts[1].eta.hi, 0.9);
  rigged_done(r);
}

static void a_rope_has_its_own_friction_at_the_lip(void **state) {
  (void)state;
  rigged *r = rigged_read(HEAD GROUND ALONE "lip: {turn_deg: [60, 90], friction: [0.1, 0.2]}\n" RIG(
      PATH("main", "{tie: load}, {edge: lip, friction: 0.3}, " CAPTURE(0.9) HAND), ""));
  assert_exact(r->model.contacts[0].mu.likely, 0.3);
  assert_near(r->factors.lo[0], exp(0.3 * HALF / 3.0), 1e-12);  // the turn keeps its range
  assert_near(r->factors.hi[0], exp(0.3 * HALF / 2.0), 1e-12);
  rigged_done(r);
}

static void ends_have_names(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE Z(0.9, 0.5));
  assert_string_equal(fhi_end_name(r->rig, FH_BODY_STATION), "station");
  assert_string_equal(fhi_end_name(r->rig, F), "t");
  assert_string_equal(fhi_end_name(r->rig, FH_END_LIP), "lip");
  assert_string_equal(fhi_end_name(r->rig, FH_END_HAND), "hand");
  assert_string_equal(fhi_end_name(r->rig, FH_END_LOOSE), "loose");
  assert_string_equal(fhi_end_name(r->rig, 7), "?");
  assert_string_equal(fhi_end_name(r->rig, -9), "?");
  rigged_done(r);
}

// Rigs that a scene's reader lets no one write, made by hand.
static void a_rig_that_makes_no_model_says_why(void **state) {
  (void)state;
  rigged *r = rigged_read(PLACE DIRECT(0.9));
  fh_rig *rig = &r->t.scene->rig;
  rig->stations[3].kind = FH_LOOSE;
  rigged_compile(r);
  assert_false(r->compiled);
  assert_string_equal(r->why, "nobody pulls: no rope ends in a hand");
  rigged_done(r);

  r = rigged_read(PLACE RIG(PATH("main", "{tie: load}, {edge: lip}, {tie: anchor, slack_m: 1}, " CAPTURE(0.9) HAND), ""));
  r->t.scene->rig.stations[2].kind = FH_LOOSE;  // a loose end in the middle: both sides hang
  rigged_compile(r);
  assert_false(r->compiled);
  assert_string_equal(r->why, "the strand in the hand is slack: it carries nothing");
  rigged_done(r);

  r = rigged_read(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) TURN("anchor", 0.9) HAND), ""));
  r->t.scene->anchor_at = r->t.scene->station_at;
  rigged_compile(r);
  assert_false(r->compiled);
  assert_string_equal(r->why, "the strand from station to anchor has no length");
  rigged_done(r);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_z_has_five_strands_and_three_bends),
      cmocka_unit_test(a_rope_led_on_the_same_way_is_not_bent),
      cmocka_unit_test(grips_on_one_strand_stand_in_their_order_along_it),
      cmocka_unit_test(a_tail_lies_where_its_grip_sits),
      cmocka_unit_test(a_hitch_on_a_fixed_point_is_a_tended_capture),
      cmocka_unit_test(slack_runs_on_through_bends_but_not_through_a_locked_capture),
      cmocka_unit_test(the_crew_pulls_back_behind_a_block_and_toward_the_lip_behind_a_fixed_point),
      cmocka_unit_test(efficiencies_come_from_the_rig_the_kit_the_catalogue_in_that_order),
      cmocka_unit_test(a_range_that_does_not_hold_its_value_is_not_used),
      cmocka_unit_test(a_rope_has_its_own_friction_at_the_lip),
      cmocka_unit_test(ends_have_names),
      cmocka_unit_test(a_rig_that_makes_no_model_says_why),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
