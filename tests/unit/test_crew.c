// SPDX-License-Identifier: MIT
// Published pulls of people: tests/check/crew.check. Here: which limit sets the pull, slopes, sums, refusals.
#include "fh_test.h"

#include "crew.h"

static const double G = 9.80665;
static const double DEG = 3.14159265358979323846 / 180.0;

typedef struct bench {
  fh_gear *gear;
  fh_scene scene;
} bench;

static int set_up(void **state) {
  bench *b = calloc(1, sizeof *b);
  if (b == NULL || fh_gear_create(&b->gear) != FH_OK) {
    return 1;
  }
  b->scene.slope = fh_number_exact(0.0);
  b->scene.crew_count = 1;
  b->scene.crew[0] = (fh_hauler){.name = "guide", .mass = fh_number_exact(74.0), .footing = fh_number_exact(0.2),
                                 .posture = fh_gear_find(b->gear, "walking"), .pull = fh_number_unset()};
  *state = b;
  return 0;
}

static int tear_down(void **state) {
  bench *b = *state;
  fh_gear_destroy(b->gear);
  free(b);
  return 0;
}

static fh_pull one(bench *b) {
  return fh_hauler_pull(&b->scene, b->gear, 0);
}

static fh_number range(double lo, double likely, double hi) {
  return (fh_number){.spread = FH_SPREAD_TRIANGLE, .lo = lo, .likely = likely, .hi = hi};
}

static void on_slippery_ground_the_feet_decide(void **state) {
  bench *b = *state;
  fh_pull p = one(b);
  assert_string_equal(p.limit, "footing");
  assert_close(p.force.likely, 0.2 * 74.0 * G, 1e-14);
  assert_close(p.force.hi, 0.2 * 74.0 * G, 1e-14);
  assert_close(p.force.lo, 0.6 * 0.2 * 74.0 * G, 1e-14);  // steps need not use all of it
}

static void on_good_ground_the_body_decides(void **state) {
  bench *b = *state;
  b->scene.crew[0].footing = fh_number_exact(1.0);
  fh_pull p = one(b);
  fh_band walking = fh_number_band(fh_gear_figure(b->gear, b->scene.crew[0].posture, "pull_N", NULL));
  assert_string_equal(p.limit, "strength");
  assert_exact(p.force.lo, walking.lo);
  assert_exact(p.force.likely, walking.likely);
  assert_exact(p.force.hi, walking.hi);
  assert_true(p.sustained.likely < p.force.likely);
}

static void a_thin_rope_can_slip_through_the_hands(void **state) {
  bench *b = *state;
  b->scene.crew[0].posture = fh_gear_find(b->gear, "braced");  // no feet to slip
  fh_pull thick = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.011);
  fh_pull thin = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.003);
  assert_string_equal(thick.limit, "strength");
  assert_true(thin.force.lo < thick.force.lo);
  assert_close(thin.force.lo, 2.0 * 408.0 * 0.003 / 0.025, 1e-14);
  assert_exact(thin.force.hi, thick.force.hi);
  // In the harness the hands carry nothing.
  b->scene.crew[0].posture = fh_gear_find(b->gear, "harness");
  b->scene.crew[0].footing = fh_number_exact(1.0);
  assert_exact(fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.003).force.lo,
               fh_gear_figure(b->gear, b->scene.crew[0].posture, "pull_N", NULL).lo);
}

// Toward the lip the rope comes in hand over hand at one place: common practice, no source. Nobody walks there with the rope on the
// harness; who holds it in both hands anyway pulls as back.
static void toward_the_lip_nobody_walks(void **state) {
  bench *b = *state;
  b->scene.crew[0].footing = fh_number_exact(0.5);
  fh_pull by_hand = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_LIP, 0.0085);
  fh_pull back = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.0085);
  assert_memory_equal(&by_hand.force, &back.force, sizeof back.force);
  b->scene.crew[0].posture = fh_gear_find(b->gear, "harness");
  fh_pull harness = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_LIP, 0.0085);
  assert_memory_equal(&harness.force, &by_hand.force, sizeof by_hand.force);
  assert_memory_equal(&harness.sustained, &by_hand.sustained, sizeof by_hand.sustained);
  assert_true(fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.0085).force.likely > by_hand.force.likely);
  const fh_station rope[] = {{.kind = FH_RUN, .body = FH_BODY_STATION}, {.kind = FH_HAND}};
  const fh_station block[] = {{.kind = FH_RUN, .body = FH_BODY_FIRST_GRIP}, {.kind = FH_HAND}};
  const fh_station said[] = {{.kind = FH_RUN, .body = FH_BODY_STATION}, {.kind = FH_HAND, .toward = FH_TOWARD_BACK}};
  assert_int_equal(fhi_pull_toward(&rope[1]), FH_TOWARD_LIP);
  assert_int_equal(fhi_pull_toward(&block[1]), FH_TOWARD_BACK);
  assert_int_equal(fhi_pull_toward(&said[1]), FH_TOWARD_BACK);
}

// Willms, Wells, Carnahan: 3.1 mm of rubber took 31 +- 6.8 % of the grip; NIOSH: four padded gloves over 29 %, a thin one under 10 %;
// work gloves up to 22.9 % (Appl. Sci. 2021); a space suit's without pressure left 50 to 70 %.
static void gloves_take_what_was_measured(void **state) {
  bench *b = *state;
  fh_band bare = fhi_hands_hold(b->gear, 2.0, FH_GLOVES_BARE, 0.0085), unknown = fhi_hands_hold(b->gear, 2.0, FH_GLOVES_UNKNOWN, 0.0085);
  fh_band thin = fhi_hands_hold(b->gear, 2.0, FH_GLOVES_THIN, 0.0085), thick = fhi_hands_hold(b->gear, 2.0, FH_GLOVES_THICK, 0.0085);
  assert_memory_equal(&bare, &unknown, sizeof bare);
  assert_close(thick.likely / bare.likely, 1.0 - 0.31, 1e-9);
  assert_within(thick.hi / bare.hi, 1.0 - 0.31, 1.0 - 0.31 + 0.068 + 0.005);
  assert_close(thick.lo / bare.lo, 0.5, 1e-9);
  assert_within(thin.lo / bare.lo, 1.0 - 0.229 - 0.005, 1.0 - 0.229);
  assert_close(thin.likely / bare.likely, 0.9, 1e-9);
  assert_close(thin.hi, bare.hi, 1e-12);
  // In the crew: a thin rope in the hands of one who lifts; there the hands decide the low end.
  b->scene.crew[0].mass = fh_number_exact(120.0);
  b->scene.crew[0].footing = fh_number_exact(1.0);
  b->scene.crew[0].posture = fh_gear_find(b->gear, "lifting");
  b->scene.ropes[0] = (fh_rope){.kind = -1, .diameter = fh_number_exact(0.006)};
  b->scene.rope_count = 1;
  double free_hands = one(b).force.lo;
  b->scene.crew[0].gloves = FH_GLOVES_THICK;
  assert_close(one(b).force.lo, 0.5 * free_hands, 1e-9);
}

static void grip_is_named_when_it_decides(void **state) {
  bench *b = *state;
  b->scene.crew[0].posture = fh_gear_find(b->gear, "lifting");
  b->scene.crew[0].footing = fh_number_exact(1.0);
  // Lifting: 336 N likely; two hands on next to nothing hold half of 2 x 435 N at the likely value, so never below it.
  assert_string_equal(fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 1e-6).limit, "strength");
  // With one hand they do.
  static const fh_figure ONE_HAND[] = {
      {"pull_N", "N", {FH_SPREAD_EXACT, 300.0, 300.0, 300.0, 0.0, 0, 0}, FH_BASIS_OWN, "", ""},
      {"sustained_N", "N", {FH_SPREAD_EXACT, 100.0, 100.0, 100.0, 0.0, 0, 0}, FH_BASIS_OWN, "", ""},
      {"hands", "1", {FH_SPREAD_EXACT, 1.0, 1.0, 1.0, 0.0, 0, 0}, FH_BASIS_OWN, "", ""},
      {"footing_share", "1", {FH_SPREAD_EXACT, 0.0, 0.0, 0.0, 0.0, 0, 0}, FH_BASIS_OWN, "", ""},
  };
  ((fh_item *)(uintptr_t)fh_gear_item(b->gear, b->scene.crew[0].posture))->figures = ONE_HAND;
  ((fh_item *)(uintptr_t)fh_gear_item(b->gear, b->scene.crew[0].posture))->figure_count = 4;
  fh_pull p = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.005);
  assert_string_equal(p.limit, "grip");
  assert_close(p.force.likely, 435.0 * 0.5 * (1.0 + 0.2), 1e-14);
  assert_exact(p.sustained.likely, 100.0);
}

// Ground that rises away from the lip: walking back is uphill and the weight pulls down the slope.
static void a_slope_helps_one_way_and_hinders_the_other(void **state) {
  bench *b = *state;
  b->scene.slope = fh_number_exact(10.0 * DEG);
  double w = 74.0 * G, along = w * sin(10.0 * DEG), friction = 0.2 * w * cos(10.0 * DEG);
  assert_close(fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.009).force.likely, friction - along, 1e-13);
  // Downhill the feet would hold more than the body can pull.
  b->scene.crew[0].footing = fh_number_exact(0.05);
  assert_close(fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_LIP, 0.009).force.likely, 0.05 * w * cos(10.0 * DEG) + along, 1e-13);
  // Too steep to stand: no pull, never a negative one.
  fh_pull p = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.009);
  assert_exact(p.force.likely, 0.0);
  assert_exact(p.force.hi, 0.0);
  assert_string_equal(p.limit, "footing");
}

static void a_range_of_slopes_holds_every_slope_in_it(void **state) {
  bench *b = *state;
  b->scene.crew[0].mass = range(60.0, 74.0, 90.0);
  b->scene.crew[0].footing = range(0.05, 0.1, 0.15);
  b->scene.slope = range(-80.0 * DEG, 0.0, 20.0 * DEG);
  b->scene.crew[0].posture = fh_gear_find(b->gear, "harness");
  static const fh_figure STRONG[] = {
      {"pull_N", "N", {FH_SPREAD_EXACT, 1e6, 1e6, 1e6, 0.0, 0, 0}, FH_BASIS_OWN, "", ""},
      {"hands", "1", {FH_SPREAD_EXACT, 0.0, 0.0, 0.0, 0.0, 0, 0}, FH_BASIS_OWN, "", ""},
      {"footing_share", "1", {FH_SPREAD_EXACT, 1.0, 1.0, 1.0, 0.0, 0, 0}, FH_BASIS_OWN, "", ""},
  };
  // On the harness, and in its place with both hands toward the lip: nothing but the feet decides.
  const int postures[] = {b->scene.crew[0].posture, fh_gear_find(b->gear, "walking")};
  for (int i = 0; i < 2; i++) {
    fh_item *item = (fh_item *)(uintptr_t)fh_gear_item(b->gear, postures[i]);
    item->figures = STRONG;
    item->figure_count = 3;
  }
  fh_pull all = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.009);
  double most = 0.0;
  for (double slope = -80.0; slope <= 20.0; slope += 0.25) {
    b->scene.slope = fh_number_exact(slope * DEG);
    fh_pull p = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.009);
    assert_true(p.force.lo >= all.force.lo - 1e-9 && p.force.hi <= all.force.hi + 1e-9);
    most = fmax(most, p.force.hi);
  }
  assert_close(all.force.hi, most, 1e-12);
  // The other way round the same slope is mirrored.
  b->scene.slope = range(-20.0 * DEG, 0.0, 80.0 * DEG);
  fh_pull mirrored = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_LIP, 0.009);
  assert_close(mirrored.force.hi, all.force.hi, 1e-14);
  // The top of the curve, at tan b = -1 / mu, lies inside this range.
  b->scene.slope = range(-89.0 * DEG, 0.0, 0.0);
  fh_pull steep = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.009);
  assert_close(steep.force.hi, 90.0 * G * sqrt(1.0 + 0.15 * 0.15), 1e-12);
}

static void a_measured_pull_overrides_the_model(void **state) {
  bench *b = *state;
  b->scene.crew[0].pull = range(200.0, 250.0, 300.0);
  fh_pull p = one(b);
  assert_string_equal(p.limit, "measured");
  assert_exact(p.force.lo, 200.0);
  assert_exact(p.force.likely, 250.0);
  assert_exact(p.force.hi, 300.0);
  double share = fh_gear_figure(b->gear, b->scene.crew[0].posture, "sustained_N", NULL).likely /
                 fh_gear_figure(b->gear, b->scene.crew[0].posture, "pull_N", NULL).likely;
  assert_close(p.sustained.likely, 250.0 * share, 1e-14);
}

static void what_is_not_said_comes_from_the_catalogue(void **state) {
  bench *b = *state;
  b->scene.crew[0] = (fh_hauler){.mass = fh_number_unset(), .footing = fh_number_unset(), .posture = -1, .pull = fh_number_unset()};
  b->scene.slope = fh_number_unset();
  fh_pull p = one(b);
  fh_band mu = fh_number_band(fh_gear_figure(b->gear, fh_gear_find(b->gear, "boots-on-snow"), "friction", NULL));
  assert_close(p.force.lo, fmin(147.0, 0.6 * mu.lo * 75.0 * G), 1e-14);
  assert_exact(p.force.hi, 386.0);
  assert_true(p.force.lo <= p.force.likely && p.force.likely <= p.force.hi);
}

static void a_crew_is_less_than_its_sum(void **state) {
  bench *b = *state;
  double last = 1.0;
  for (int n = 1; n <= FH_MAX_CREW; n++) {
    b->scene.crew_count = n;
    b->scene.crew[n - 1] = b->scene.crew[0];
    fh_pull all = fh_crew_pull(&b->scene, b->gear), each = one(b);
    fh_band loss = fhi_crew_loss(b->gear, n);
    assert_close(all.force.likely, n * each.force.likely * (1.0 - loss.likely), 1e-13);
    assert_close(all.force.lo, n * each.force.lo * (1.0 - loss.hi), 1e-13);
    assert_close(all.force.hi, n * each.force.hi * (1.0 - loss.lo), 1e-13);
    assert_close(all.sustained.likely, n * each.sustained.likely * (1.0 - loss.likely), 1e-13);
    assert_true(loss.lo <= loss.likely && loss.likely <= loss.hi);
    assert_true(n == 1 ? loss.hi == 0.0 : 1.0 - loss.likely < last);
    assert_string_equal(all.limit, "footing");
    last = 1.0 - loss.likely;
  }
  assert_close(fhi_crew_loss(b->gear, 8).likely, 0.197, 1e-14);
  assert_close(fhi_crew_loss(b->gear, 2).hi, 0.088, 1e-14);
}

// The strongest of the crew says what limits it.
static void the_limit_is_that_of_the_strongest(void **state) {
  bench *b = *state;
  b->scene.crew[1] = b->scene.crew[0];
  b->scene.crew[1].pull = fh_number_exact(400.0);
  b->scene.crew_count = 2;
  assert_string_equal(fh_crew_pull(&b->scene, b->gear).limit, "measured");
}

static void the_rope_in_the_hands_is_the_rig_s(void **state) {
  bench *b = *state;
  int half = fh_gear_find(b->gear, "half"), cord = fh_gear_find(b->gear, "cord");
  b->scene.ropes[0] = (fh_rope){.kind = half, .diameter = fh_number_unset()};
  b->scene.ropes[1] = (fh_rope){.kind = cord, .diameter = fh_number_unset()};
  b->scene.ropes[2] = (fh_rope){.kind = half, .diameter = fh_number_exact(0.0105)};
  b->scene.rope_count = 3;
  assert_exact(fhi_rope_diameter(&b->scene, b->gear, 0), 0.0085);
  assert_exact(fhi_rope_diameter(&b->scene, b->gear, 1), 0.006);
  assert_exact(fhi_rope_diameter(&b->scene, b->gear, 2), 0.0105);
  assert_exact(fhi_rope_diameter(&b->scene, b->gear, -1), 0.0085);
  assert_exact(fhi_rope_diameter(&b->scene, b->gear, 99), 0.0085);
  // A rig whose hand holds the cord and pulls toward the lip, on a slope.
  b->scene.slope = fh_number_exact(8.0 * DEG);
  b->scene.has_rig = true;
  b->scene.rig.path_count = 2;
  b->scene.rig.paths[0] = (fh_path){.rope = 0, .first = 0, .count = 1};
  b->scene.rig.paths[1] = (fh_path){.rope = 1, .first = 1, .count = 2};
  b->scene.rig.stations[0].kind = FH_TIE;
  b->scene.rig.stations[1].kind = FH_TIE;
  b->scene.rig.stations[2].kind = FH_HAND;
  b->scene.rig.stations[2].toward = FH_TOWARD_LIP;
  fh_pull with = one(b), want = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_LIP, 0.006);
  assert_exact(with.force.likely, want.force.likely);
  assert_exact(fh_crew_pull(&b->scene, b->gear).force.likely, want.force.likely);
  b->scene.has_rig = false;
  want = fhi_hauler_pull(&b->scene, b->gear, 0, FH_TOWARD_BACK, 0.0085);
  assert_exact(one(b).force.likely, want.force.likely);
}

static void nobody_pulls_nothing_that_is_known(void **state) {
  bench *b = *state;
  assert_nan(fh_hauler_pull(&b->scene, b->gear, 1).force.likely);
  assert_nan(fh_hauler_pull(&b->scene, b->gear, -1).force.likely);
  assert_nan(fh_hauler_pull(NULL, b->gear, 0).force.likely);
  assert_nan(fh_hauler_pull(&b->scene, NULL, 0).force.likely);
  assert_nan(fh_crew_pull(NULL, b->gear).force.likely);
  assert_nan(fh_crew_pull(&b->scene, NULL).sustained.lo);
  b->scene.crew_count = 0;
  fh_pull none = fh_crew_pull(&b->scene, b->gear);
  assert_nan(none.force.likely);
  assert_string_equal(none.limit, "");
}

int main(void) {
#define CASE(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)
  const struct CMUnitTest tests[] = {
      CASE(on_slippery_ground_the_feet_decide),
      CASE(on_good_ground_the_body_decides),
      CASE(a_thin_rope_can_slip_through_the_hands),
      CASE(toward_the_lip_nobody_walks),
      CASE(gloves_take_what_was_measured),
      CASE(grip_is_named_when_it_decides),
      CASE(a_slope_helps_one_way_and_hinders_the_other),
      CASE(a_range_of_slopes_holds_every_slope_in_it),
      CASE(a_measured_pull_overrides_the_model),
      CASE(what_is_not_said_comes_from_the_catalogue),
      CASE(a_crew_is_less_than_its_sum),
      CASE(the_limit_is_that_of_the_strongest),
      CASE(the_rope_in_the_hands_is_the_rig_s),
      CASE(nobody_pulls_nothing_that_is_known),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
