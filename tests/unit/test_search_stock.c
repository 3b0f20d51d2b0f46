// SPDX-License-Identifier: MIT
// What a kit offers to the search, where it puts the blocks, and how it writes a code out as a rig. By hand.
#include "scenes.h"

#include "search.h"

static fhi_stock stock_of(const scene_text *t) {
  fhi_stock s;
  fhi_stock_fill(t->scene, t->gear, &s);
  return s;
}

static const char *item_name(const scene_text *t, int item) {
  return fh_gear_item(t->gear, item)->name;
}

static void pieces_come_best_first_and_the_best_capture_goes_to_the_station(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE "kit: [{item: carabiner, count: 3, efficiency: 0.5}, {item: toothed-capture, count: 2, efficiency: 0.7}, "
                                  "{item: pulley, efficiency: 0.9}, {item: carabiner, count: 2, efficiency: 0.5}, {item: sling, count: 4}, "
                                  "{item: carabiner, efficiency: 0.6}, {item: belay-plate}]\n");
  fhi_stock s = stock_of(&t);
  static const struct {
    const char *name;
    double eta;
    int count;
  } CLASSES[] = {{"pulley", 0.9, 1}, {"toothed-capture", 0.7, 1}, {"carabiner", 0.6, 1}, {"carabiner", 0.5, 5}, {"belay-plate", 0.3, 1}};
  assert_int_equal(s.classes, 5);
  for (int c = 0; c < 5; c++) {
    assert_string_equal(item_name(&t, s.item[c]), CLASSES[c].name);
    assert_exact(s.efficiency[c], CLASSES[c].eta);
    assert_int_equal(s.count[c], CLASSES[c].count);
    assert_close(s.factor[c], 1.0 / CLASSES[c].eta, 1e-12);  // round half a turn, whatever the share
  }
  assert_int_equal(s.capture, 1);
  assert_int_equal(s.pieces, 9);
  assert_close(s.factor_hard[4], 1.0 / fh_gear_figure(t.gear, s.item[4], "efficiency", NULL).lo, 1e-12);
  assert_exact(s.strength[0], fh_gear_figure(t.gear, s.item[0], "strength_N", NULL).lo);
  assert_exact(s.capture_sheath, fh_gear_figure(t.gear, s.item[1], "sheath_N", NULL).lo);
  assert_int_equal(s.grips, 0);
  scene_done(&t);
}

static void without_a_device_a_hitch_is_the_capture(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE "kit: [{item: carabiner, count: 2}, {item: prusik, count: 3}]\n");
  fhi_stock s = stock_of(&t);
  assert_int_equal(s.capture, -1);
  assert_int_equal(s.grips, 2);
  assert_true(isinf(s.capture_sheath));
  scene_done(&t);
  t = scene_read(PLACE "kit: [{item: carabiner, count: 2}]\n");
  s = stock_of(&t);
  assert_int_equal(s.grips, -1);  // nothing that could hold
  scene_done(&t);
  t = scene_read(PLACE);
  s = stock_of(&t);
  assert_int_equal(s.classes, 0);
  assert_int_equal(s.rope_count, 0);
  scene_done(&t);
}

static void the_strongest_hitch_comes_first_dry_or_wet(void **state) {
  (void)state;
  static const char *const DAYS[] = {PLACE, PLACE "wet: true\n"};
  for (int wet = 0; wet < 2; wet++) {
    char yaml[1024];
    (void)snprintf(yaml, sizeof yaml, "%s%s", DAYS[wet], "kit: [{item: autoblock}, {item: rope-clamp}, {item: prusik, count: 2}, {item: klemheist}]\n");
    scene_text t = scene_read(yaml);
    fhi_stock s = stock_of(&t);
    assert_int_equal(s.hitch_kinds, 4);
    for (int k = 1; k < 4; k++) {
      assert_true(s.slip[k - 1] >= s.slip[k]);
    }
    for (int k = 0; k < 4; k++) {
      fh_number slip = fh_gear_figure(t.gear, s.hitches[k], wet ? "slip_wet_N" : "slip_N", NULL);
      fh_number bite = fh_gear_figure(t.gear, s.hitches[k], "sheath_N", NULL);
      assert_exact(s.slip[k], fh_number_is_set(slip) ? slip.lo : bite.lo);
    }
    assert_string_equal(item_name(&t, s.hitches[0]), "rope-clamp");
    scene_done(&t);
  }
}

static void cords_come_after_ropes(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE "ropes: [{name: sling, kind: cord}, {name: main}, {name: spare, kind: single}]\n");
  fhi_stock s = stock_of(&t);
  assert_int_equal(s.rope_count, 3);
  assert_int_equal(s.long_ropes, 2);
  assert_int_equal(s.ropes[0], 1);
  assert_int_equal(s.ropes[1], 2);
  assert_int_equal(s.ropes[2], 0);
  scene_done(&t);
}

// ---------------------------------------------------------------------------------------------------- places

#define FRONT(on) {0, 1, on, 1}
#define BACK(on)  {0, -1, on, 1}
#define FIXED     {0, -1, FHI_ON_FIXED, 1}
#define START     {0, -1, FHI_ON_FIXED, 0}

static const fhi_code Z_CODE = {.e = {START, FRONT(0)}, .n = 1, .load_piece = 1};
static const fhi_code NINE_CODE = {.e = {START, FRONT(0), FIXED, FRONT(2)}, .n = 3, .load_piece = 1};
static const fhi_code FIVE_CODE = {.e = {START, FRONT(0), FIXED, FRONT(0)}, .n = 3, .load_piece = 1};

static fhi_solved solved_of(const fhi_code *code) {
  fhi_solved s;
  double factor[FHI_CLASSES];
  for (int c = 0; c < FHI_CLASSES; c++) {
    factor[c] = 1.0;
  }
  assert_true(fhi_code_motion(code, &s));
  assert_true(fhi_code_force(code, factor, &s));
  return s;
}

static void a_z_stands_as_near_to_the_lip_as_it_may(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE);
  fhi_solved s = solved_of(&Z_CODE);
  fhi_placed p;
  assert_near(s.hand, 3.0, 1e-12);
  assert_true(fhi_code_place(t.scene, &Z_CODE, &s, 10.0, &p));
  assert_near(p.at[1], 1.0, 1e-9);   // the reach
  assert_near(p.travel, 4.5, 1e-9);  // 6 - 1 - 0.5
  assert_near(p.rope[0], 11.0, 1e-9);
  assert_true(fhi_code_place(t.scene, &Z_CODE, &s, 2.0, &p));
  assert_near(p.travel, 2.0, 1e-9);  // more is never needed
  t.scene->room = fh_number_exact(7.0);
  assert_true(fhi_code_place(t.scene, &Z_CODE, &s, 10.0, &p));
  assert_near(p.travel, 2.0, 1e-9);  // (7 - 1) / 3
  t.scene->station_at = fh_number_exact(1.4);
  assert_false(fhi_code_place(t.scene, &Z_CODE, &s, 10.0, &p));  // no room for a block and its clearance
  scene_done(&t);
}

static void the_second_block_of_a_nine_sets_the_stroke(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE);
  fhi_solved s = solved_of(&NINE_CODE);
  fhi_placed p;
  assert_near(s.hand, 9.0, 1e-12);
  assert_true(fhi_code_place(t.scene, &NINE_CODE, &s, 10.0, &p));
  assert_near(p.at[1], 1.0, 1e-9);
  assert_near(p.at[3], 1.5, 1e-9);           // a clearance behind the first
  assert_near(p.travel, 4.0 / 3.0, 1e-9);    // (6 - 1.5 - 0.5) / 3
  assert_near(p.rope[0], 6.0 + 5.0 + 5.0 + 4.5, 1e-9);
  // Turns on the anchor, 3 m farther back, leave the second block more room and take more rope.
  fhi_code far = NINE_CODE;
  far.far_turns = 1;
  assert_true(fhi_code_place(t.scene, &far, &s, 10.0, &p));
  assert_near(p.at[2], 9.0, 1e-9);
  assert_near(p.travel, (20.0 - 1.5) / 9.0, 1e-9);  // now the hauler's room is less than (9 - 1.5 - 0.5) / 3
  assert_near(p.rope[0], 6.0 + 5.0 + 8.0 + 7.5, 1e-9);
  scene_done(&t);
}

static void blocks_on_one_grip_stand_in_one_place(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE);
  fhi_solved s = solved_of(&FIVE_CODE);
  fhi_placed p;
  assert_near(s.hand, 5.0, 1e-12);
  assert_true(fhi_code_place(t.scene, &FIVE_CODE, &s, 10.0, &p));
  assert_near(fabs(p.at[1] - p.at[3]), 0.5, 1e-9);  // two hitches keep apart
  fhi_code shared = FIVE_CODE;
  shared.shared = 1;
  assert_true(fhi_code_place(t.scene, &shared, &s, 10.0, &p));
  assert_near(p.at[1], 1.0, 1e-9);
  assert_near(p.at[3], 1.0, 1e-9);
  scene_done(&t);
}

static void a_rope_tied_to_a_grip_on_itself_is_left_out(void **state) {
  (void)state;
  // Behind the capture a bare tail; a further rope begins at a grip that holds that very rope's second strand.
  const fhi_code loop = {.e = {START, {1, 1, 3, 0}, BACK(0)}, .n = 2, .ties = 1};
  scene_text t = scene_read(PLACE);
  fhi_solved s = {.hand = 1.0};
  fhi_placed p;
  for (int i = 0; i < FHI_STRANDS; i++) {
    s.start[i] = 1.0;
  }
  assert_false(fhi_code_place(t.scene, &loop, &s, 10.0, &p));
  scene_done(&t);
}

// ---------------------------------------------------------------------------------------------------- written out

static void write_code(scene_text *t, const fhi_code *code, fh_rig *rig) {
  fhi_stock stock = stock_of(t);
  fhi_solved s = solved_of(code);
  fhi_placed p;
  assert_true(fhi_code_place(t->scene, code, &s, 10.0, &p));
  fhi_code_rig(t->scene, t->gear, &stock, code, &p, rig);
}

#define KIT                                                                                                                            \
  "ropes: [{name: main, knots: 2}, {name: spare}, {name: sling, kind: cord}]\nkit: [{item: toothed-capture, efficiency: [0.8, 0.9]}, " \
  "{item: carabiner, count: 9, efficiency: 0.5}, {item: prusik, count: 2}, {item: klemheist, count: 9}]\n"

static void each_start_comes_over_the_lip_in_its_own_way(void **state) {
  (void)state;
  static const struct {
    fhi_start start;
    const char *ropes[2];
    int paths, haul_stations, runs;
  } STARTS[] = {
      {FHI_START_DIRECT, {"main", ""}, 1, 5, 2},
      {FHI_START_LOOP, {"main", ""}, 1, 9, 3},
      {FHI_START_END, {"main", "free-end"}, 2, 5, 2},
      {FHI_START_OTHER_DIRECT, {"main", "spare"}, 2, 5, 2},
      {FHI_START_OTHER_LOOP, {"main", "spare"}, 2, 7, 3},
  };
  scene_text t = scene_read(PLACE KIT);
  fh_rig *rig = malloc(sizeof *rig);
  assert_non_null(rig);
  for (size_t i = 0; i < sizeof STARTS / sizeof STARTS[0]; i++) {
    fhi_code code = Z_CODE;
    code.start = (int8_t)STARTS[i].start;
    write_code(&t, &code, rig);
    assert_int_equal(rig->path_count, STARTS[i].paths);
    const fh_path *haul = &rig->paths[rig->path_count - 1];
    assert_string_equal(rig->paths[0].name, STARTS[i].ropes[0]);
    assert_string_equal(haul->name, STARTS[i].paths == 2 ? STARTS[i].ropes[1] : STARTS[i].ropes[0]);
    assert_string_equal(haul->of, STARTS[i].start == FHI_START_END ? "main" : "");
    assert_int_equal(haul->count, STARTS[i].haul_stations);
    int runs = 0;
    for (int s = 0; s < rig->station_count; s++) {
      runs += rig->stations[s].kind == FH_RUN;
    }
    assert_int_equal(runs, STARTS[i].runs);
    // Whatever the start: a rig that check takes, three times the hand, twice that with a loop.
    fh_check *c = NULL;
    assert_status(fh_check_create(t.scene, t.gear, rig, NULL, &c), FH_OK);
    assert_int_equal(c->outcome, FH_OUTCOME_SOLVED);
    assert_near(c->ideal_advantage, STARTS[i].runs == 3 ? 6.0 : 3.0, 1e-12);
    fh_check_destroy(c);
  }
  free(rig);
  scene_done(&t);
}

static void a_rig_that_is_written_stands_on_its_own(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE KIT);
  fh_rig *rig = malloc(sizeof *rig);
  assert_non_null(rig);
  write_code(&t, &NINE_CODE, rig);
  const fh_station *capture = &rig->stations[2], *block = &rig->stations[3];
  assert_string_equal(item_name(&t, capture->item), "toothed-capture");
  assert_near(capture->efficiency.likely, 0.85, 1e-12);
  assert_exact(capture->efficiency_range.lo, 0.8);
  assert_exact(capture->efficiency_range.hi, 0.9);
  assert_exact(block->efficiency.likely, 0.5);
  assert_false(fh_number_is_set(block->efficiency_range));
  assert_string_equal(rig->bodies[FH_BODY_FIRST_GRIP], "block-1");
  assert_int_equal(rig->grip_count, 2);
  for (int g = 0; g < 2; g++) {  // the stronger hitch first, as long as it lasts
    assert_string_equal(item_name(&t, rig->grips[g].item), "prusik");
  }
  assert_int_equal(rig->grips[1].path, 0);
  assert_int_equal(rig->grips[1].after, 3);
  assert_int_equal(rig->stations[6].toward, FH_TOWARD_BACK);
  // Two blocks on one grip take one hitch.
  fhi_code shared = FIVE_CODE;
  shared.shared = 1;
  write_code(&t, &shared, rig);
  assert_int_equal(rig->grip_count, 1);
  assert_int_equal(rig->stations[3].body, rig->stations[5].body);
  free(rig);
  scene_done(&t);
}

static void hitches_that_run_out_make_room_for_the_next_kind(void **state) {
  (void)state;
  scene_text t = scene_read(PLACE "ropes: [{name: main}]\nkit: [{item: carabiner, count: 9}, {item: prusik, count: 2}, {item: klemheist}]\n");
  fh_rig *rig = malloc(sizeof *rig);
  assert_non_null(rig);
  write_code(&t, &NINE_CODE, rig);
  // The tended one in front of the station takes the first.
  assert_int_equal(rig->grip_count, 3);
  assert_int_equal(rig->grips[0].body, FH_BODY_STATION);
  assert_near(rig->grips[0].at, 5.75, 1e-12);
  assert_string_equal(item_name(&t, rig->grips[0].item), "prusik");
  assert_string_equal(item_name(&t, rig->grips[1].item), "prusik");
  assert_string_equal(item_name(&t, rig->grips[2].item), "klemheist");
  free(rig);
  scene_done(&t);
}

static void further_ropes_follow_in_the_stock_s_order(void **state) {
  (void)state;
  // The cord over a flying block: block on the haul line's end, tie at the station, block on the first grip.
  const fhi_code two = {.e = {START, FRONT(0), {1, -1, FHI_ON_FIXED, 0}, FRONT(2)}, .n = 3, .ties = 1};
  scene_text t = scene_read(PLACE KIT);
  fh_rig *rig = malloc(sizeof *rig);
  assert_non_null(rig);
  write_code(&t, &two, rig);
  assert_int_equal(rig->path_count, 2);
  assert_string_equal(rig->paths[1].name, "spare");
  assert_int_equal(rig->stations[rig->paths[0].first + rig->paths[0].count - 1].kind, FH_LOOSE);
  assert_int_equal(rig->stations[rig->paths[1].first].kind, FH_TIE);
  fhi_code other = two;
  other.start = FHI_START_OTHER_DIRECT;
  write_code(&t, &other, rig);
  assert_int_equal(rig->path_count, 3);
  assert_string_equal(rig->paths[1].name, "spare");
  assert_string_equal(rig->paths[2].name, "sling");
  scene_done(&t);
  // Nothing said about ropes: they are named in order.
  t = scene_read(PLACE "kit: [{item: toothed-capture}, {item: carabiner, count: 9}, {item: prusik, count: 2}]\n");
  write_code(&t, &two, rig);
  assert_string_equal(rig->paths[0].name, "rope");
  assert_string_equal(rig->paths[1].name, "rope-2");
  assert_int_equal(rig->paths[1].rope, -1);
  // Hitches that are not there leave a grip without an item.
  fhi_stock none = stock_of(&t);
  none.hitch_kinds = 0;
  fhi_solved s = solved_of(&Z_CODE);
  fhi_placed p;
  assert_true(fhi_code_place(t.scene, &Z_CODE, &s, 10.0, &p));
  fhi_code_rig(t.scene, t.gear, &none, &Z_CODE, &p, rig);
  assert_int_equal(rig->grips[0].item, -1);
  free(rig);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(pieces_come_best_first_and_the_best_capture_goes_to_the_station),
      cmocka_unit_test(without_a_device_a_hitch_is_the_capture),
      cmocka_unit_test(the_strongest_hitch_comes_first_dry_or_wet),
      cmocka_unit_test(cords_come_after_ropes),
      cmocka_unit_test(a_z_stands_as_near_to_the_lip_as_it_may),
      cmocka_unit_test(the_second_block_of_a_nine_sets_the_stroke),
      cmocka_unit_test(blocks_on_one_grip_stand_in_one_place),
      cmocka_unit_test(a_rope_tied_to_a_grip_on_itself_is_left_out),
      cmocka_unit_test(each_start_comes_over_the_lip_in_its_own_way),
      cmocka_unit_test(a_rig_that_is_written_stands_on_its_own),
      cmocka_unit_test(hitches_that_run_out_make_room_for_the_next_kind),
      cmocka_unit_test(further_ropes_follow_in_the_stock_s_order),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
