// SPDX-License-Identifier: MIT
// Force against limit, piece by piece: the high end of the one over the low end of the other. Forces by hand, limits from the
// catalogue or the scene.
#include "scenes.h"

static double low(const checked *k, const char *item, const char *what) {
  fh_number n = fh_gear_figure(k->t.gear, fh_gear_find(k->t.gear, item), what, NULL);
  assert_true(fh_number_is_set(n));
  return n.lo;
}

static void limit_is(const fh_check *c, const char *element, double force, double limit, int state) {
  const fh_limit *x = limit_of(c, element);
  if (x == NULL) {
    print_error("no limit of %s\n", element);
  }
  assert_non_null(x);
  assert_close(x->force, force, 1e-9);
  assert_close(x->limit, limit, 1e-12);
  assert_close(x->margin, limit / force, 1e-9);
  assert_int_equal(x->state, state);
}

static void every_piece_has_its_margin(void **state) {
  (void)state;
  checked k = checked_solved("firnhaul: 1\nload: {mass_kg: [80, 100]}\nslot: {depth_m: 10}\n" SMOOTH
                             "ground: {station_m: 6, anchor_m: 9, reach_m: 1, clearance_m: 0.5, room_m: 20, holds_kN: [5, 8]}\n"
                             "crew: [{name: guide, pull_N: [300, 400]}]\n" Z(1, 1));
  const double w = 100.0 * 9.80665;
  limit_is(k.c, "station: toothed-capture", w, low(&k, "toothed-capture", "strength_N"), FH_HOLD);  // 2/3 W raising, W holding
  limit_is(k.c, "station: rope sheath at toothed-capture", w, low(&k, "toothed-capture", "sheath_N"), FH_HOLD);
  limit_is(k.c, "t: carabiner", 2.0 * w / 3.0, low(&k, "carabiner", "strength_N"), FH_RAISE);
  limit_is(k.c, "grip t: prusik slips", 2.0 * w / 3.0, low(&k, "prusik", "slip_N"), FH_RAISE);
  limit_is(k.c, "rope main at a knot", w, low(&k, "half", "knotted_N"), FH_RAISE);
  limit_is(k.c, "anchor, with the station", w, 5000.0, FH_HOLD);
  limit_is(k.c, "crew", w / 3.0, 300.0, FH_RAISE);
  assert_string_equal(limit_of(k.c, "station: toothed-capture")->source, "en-12278");
  assert_string_equal(limit_of(k.c, "grip t: prusik slips")->source, "common practice, no source");
  assert_string_equal(limit_of(k.c, "anchor, with the station")->source, "the scene");
  assert_int_equal(limit_of(k.c, "anchor, with the station")->basis, FH_BASIS_OWN);
  checked_done(&k);
}

static void the_worst_margin_is_the_least_of_all_but_the_crew(void **state) {
  (void)state;
  checked k = checked_solved(HEAD GROUND SMOOTH "crew: [{pull_N: 20}]\n" Z(0.9, 0.5));
  double worst = (double)INFINITY;
  bool crew = false;
  for (int i = 0; i < k.c->limit_count; i++) {
    crew = crew || k.c->limits[i].margin < 1.0;
    worst = strcmp(k.c->limits[i].element, "crew") != 0 ? fmin(worst, k.c->limits[i].margin) : worst;
  }
  assert_true(crew);
  assert_exact(k.c->worst_margin, worst);
  checked_done(&k);
}

static void what_bears_nothing_has_an_endless_margin(void **state) {
  (void)state;
  checked k = checked_solved(PLACE RIG(PATH("main", LOAD CAPTURE(0.9) HAND) ", "
                                       PATH("line", LOAD "{run: station, on: pulley}, {tie: anchor, slack_m: 1}"), ""));
  const fh_limit *x = limit_of(k.c, "station: pulley");
  assert_non_null(x);
  assert_exact(x->force, 0.0);
  assert_true(isinf(x->margin));
  checked_done(&k);
}

static void wet_rope_makes_hitches_slip_earlier(void **state) {
  (void)state;
#define WITH(rope) PLACE rope Z(1, 1)
  checked dry = checked_solved(WITH("ropes: [{name: main}]\n")), wet = checked_solved(WITH("ropes: [{name: main, wet: true}]\n"));
  checked day = checked_solved(WITH("wet: true\n"));
  assert_exact(limit_of(dry.c, "grip t: prusik slips")->limit, low(&dry, "prusik", "slip_N"));
  assert_exact(limit_of(wet.c, "grip t: prusik slips")->limit, low(&wet, "prusik", "slip_wet_N"));
  assert_exact(limit_of(day.c, "grip t: prusik slips")->limit, low(&day, "prusik", "slip_wet_N"));
  assert_true(low(&wet, "prusik", "slip_wet_N") < low(&wet, "prusik", "slip_N"));
  checked_done(&dry);
  checked_done(&wet);
  checked_done(&day);
}

static void a_clamp_bites_the_sheath_instead(void **state) {
  (void)state;
  checked k = checked_solved(PLACE "wet: true\n" RIG(PATH("main", LOAD CAPTURE(1) TURN("t", 1) HAND),
                                                     "{body: t, hitch: rope-clamp, rope: main, after: 1, at_m: 2}"));
  assert_null(limit_of(k.c, "grip t: rope-clamp slips"));
  limit_is(k.c, "grip t: rope sheath at rope-clamp", 2.0 * k.w / 3.0, low(&k, "rope-clamp", "sheath_N"), FH_RAISE);
  checked_done(&k);
}

static void a_cord_bears_less_at_its_knot_than_a_rope(void **state) {
  (void)state;
  checked k = checked_solved(PLACE "ropes: [{name: main}, {name: cord, kind: cord}]\n" FIVE_COMPLEX(1, 1, 1));
  limit_is(k.c, "rope main at a knot", k.w, low(&k, "half", "knotted_N"), FH_RAISE);
  limit_is(k.c, "rope cord at a knot", 2.0 * k.w / 5.0, low(&k, "cord", "knotted_N"), FH_RAISE);
  checked_done(&k);
}

static void an_anchor_of_the_catalogue_names_its_source(void **state) {
  (void)state;
  checked k = checked_solved(HEAD SMOOTH ALONE "ground: {station_m: 6, anchor_m: 9, anchor: t-slot}\n" DIRECT(1));
  limit_is(k.c, "anchor, with the station", 2.0 * k.w, low(&k, "t-slot", "holds_N"), FH_RAISE);
  assert_string_equal(limit_of(k.c, "anchor, with the station")->source, "nz-sar-2008");
  checked_done(&k);
  // The scene's own figure goes before the kind's.
  k = checked_solved(HEAD SMOOTH ALONE "ground: {station_m: 6, anchor_m: 9, anchor: t-slot, holds_kN: 3}\n" DIRECT(1));
  limit_is(k.c, "anchor, with the station", 2.0 * k.w, 3000.0, FH_RAISE);
  checked_done(&k);
}

// Station and anchor hang on the same snow: a loop's standing side and the haul line add up.
static void station_and_anchor_add_up_on_the_anchor(void **state) {
  (void)state;
  checked k = checked_solved(HEAD SMOOTH ALONE "ground: {station_m: 6, anchor_m: 9, holds_kN: 8}\n"
                             RIG(PATH("main", LOOP_AT("anchor", 1) CAPTURE(1) TURN("t", 1) HAND), GRIP("t", "main", 3, 2)));
  // Raising: anchor W/2; station 2/6 W. Holding: W/2 each.
  limit_is(k.c, "anchor, with the station", k.w, 8000.0, FH_HOLD);
  checked_done(&k);
}

// Two legs 60 degrees apart: each carries the pull over 2 cos 30 (closed form of statics). Each point then stands for itself.
static void an_anchor_of_two_points_is_judged_point_by_point(void **state) {
  (void)state;
  checked k = checked_solved(PLACE "anchor: {sharing: sliding, modulus_kN: 5000, points: [{kind: t-slot, holds_kN: 4, aside_deg: 30}, {kind: ice-screw, holds_kN: [6, 9], aside_deg: -30}]}\n" DIRECT(1));
  const double leg = 2.0 * k.w / (2.0 * cos(HALF / 6.0));
  const fh_limit *one = limit_of(k.c, "anchor point 1: t-slot"), *two = limit_of(k.c, "anchor point 2: ice-screw");
  assert_true(one != NULL && two != NULL);
  assert_close(one->force, leg, 1e-4);  // stiff legs still stretch by 0.02 % and so close their angle a little
  assert_close(two->force, leg, 1e-4);
  assert_exact(one->limit, 4000.0);
  assert_exact(two->limit, 6000.0);
  assert_close(two->margin, 6000.0 / leg, 1e-4);
  assert_null(limit_of(k.c, "anchor, with the station"));
  checked_done(&k);
}

static void figures_of_an_own_gear_file_say_so(void **state) {
  (void)state;
  checked k = checked_solved(PLACE Z(1, 1));
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  static const char OWN[] = "firnhaul_gear: 1\nitems:\n  - {name: prusik, slip_kN: 1.234}\n";
  fh_status status = cli_yaml_parse(OWN, strlen(OWN), &doc, &diag);
  if (status == FH_OK) {
    status = fh_gear_add(k.t.gear, doc, &diag);
  }
  if (status != FH_OK) {
    print_error("%s %s %s\n", diag.key, diag.message, diag.accepted);
  }
  assert_status(status, FH_OK);
  fh_check *c = NULL;
  assert_status(fh_check_create(k.t.scene, k.t.gear, k.rig, NULL, &c), FH_OK);
  limit_is(c, "grip t: prusik slips", 2.0 * k.w / 3.0, 1234.0, FH_RAISE);
  assert_string_equal(limit_of(c, "grip t: prusik slips")->source, "own gear file");
  fh_check_destroy(c);
  fh_doc_destroy(doc);
  checked_done(&k);
}

// A piece that the catalogue does not know has no limit; nor has a hitch.
static void what_is_not_in_the_catalogue_has_no_limit(void **state) {
  (void)state;
  checked k = checked_solved(PLACE Z(1, 1));
  k.rig->stations[3].item = -1;
  k.rig->grips[0].item = 10000;
  fh_check *c = NULL;
  assert_status(fh_check_create(k.t.scene, k.t.gear, k.rig, NULL, &c), FH_OK);
  assert_int_equal(c->outcome, FH_OUTCOME_SOLVED);
  assert_null(limit_of(c, "t: carabiner"));
  assert_null(limit_of(c, "grip t: prusik slips"));
  assert_non_null(limit_of(c, "station: toothed-capture"));
  fh_check_destroy(c);
  checked_done(&k);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_piece_has_its_margin),
      cmocka_unit_test(the_worst_margin_is_the_least_of_all_but_the_crew),
      cmocka_unit_test(what_bears_nothing_has_an_endless_margin),
      cmocka_unit_test(wet_rope_makes_hitches_slip_earlier),
      cmocka_unit_test(a_clamp_bites_the_sheath_instead),
      cmocka_unit_test(a_cord_bears_less_at_its_knot_than_a_rope),
      cmocka_unit_test(an_anchor_of_the_catalogue_names_its_source),
      cmocka_unit_test(station_and_anchor_add_up_on_the_anchor),
      cmocka_unit_test(an_anchor_of_two_points_is_judged_point_by_point),
      cmocka_unit_test(figures_of_an_own_gear_file_say_so),
      cmocka_unit_test(what_is_not_in_the_catalogue_has_no_limit),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
