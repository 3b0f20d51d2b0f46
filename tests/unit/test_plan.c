// SPDX-License-Identifier: MIT
// The rigs that a kit can build: the taught ones are among them, each one put back is what it was, and the bounds are told.
#include "plan_case.h"

// ---------------------------------------------------------------------------------------------------- the taught rigs

// A rig in short: bodies in the order of the ropes, then what each grip holds. Names are the program's own, block-1, block-2.
static void write_short(const fh_rig *rig, char *text, size_t size) {
  size_t used = 0;
  static const char KIND[] = {'t', '^', 'r', 'H', '.'};
  for (int p = 0; p < rig->path_count; p++) {
    used += (size_t)snprintf(text + used, size - used, "%s", p > 0 ? " | " : "");
    for (int i = 0; i < rig->paths[p].count; i++) {
      const fh_station *st = &rig->stations[rig->paths[p].first + i];
      const char *body = st->body >= 0 ? rig->bodies[st->body] : "";
      bool slack = fh_number_is_set(st->slack);
      used += (size_t)snprintf(text + used, size - used, "%s%c%s%s", i > 0 ? " " : "", KIND[st->kind], body, slack ? "~" : "");
    }
  }
  for (int g = 0; g < rig->grip_count; g++) {
    const fh_grip *grip = &rig->grips[g];
    used += (size_t)snprintf(text + used, size - used, "; %s on %d:%d", rig->bodies[grip->body], grip->path, grip->after);
  }
}

static const char LINE[] = "tload ^ tanchor~ ^ rload ^ ";

static void the_taught_rigs_are_among_them(void **state) {
  (void)state;
  static const struct {
    double ideal;
    bool loop;
    const char *rig;
  } TAUGHT[] = {
      {1.0, false, "tload ^ rstation H"},
      {2.0, true, "rstation H"},
      {3.0, false, "tload ^ rstation rblock-1 H; block-1 on 0:1"},
      {5.0, false, "tload ^ rstation rblock-1 rstation rblock-1 H; block-1 on 0:1"},
      {5.0, false, "tload ^ rstation rblock-1 H | tstation rblock-2 .; block-1 on 1:1; block-2 on 0:1"},
      {6.0, true, "rstation rblock-1 H; block-1 on 0:5"},
      {9.0, false, "tload ^ rstation rblock-1 rstation rblock-2 H; block-1 on 0:1; block-2 on 0:3"},
      {9.0, false, "tload ^ rstation rblock-1 . | tblock-2 rstation rblock-2 H; block-1 on 0:1; block-2 on 0:3"},
      {18.0, true, "rstation rblock-1 rstation rblock-2 H; block-1 on 0:5; block-2 on 0:7"},
  };
  planned x = plan_all(SLOT STRONG ROPES KIT, 5);
  bool found[sizeof TAUGHT / sizeof TAUGHT[0]] = {false};
  for (int i = 0; i < x.p->count; i++) {
    char text[600], want[600];
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    write_short(x.rig, text, sizeof text);
    for (size_t k = 0; k < sizeof TAUGHT / sizeof TAUGHT[0]; k++) {
      (void)snprintf(want, sizeof want, "%s%s", TAUGHT[k].loop ? LINE : "", TAUGHT[k].rig);
      if (strcmp(text, want) == 0) {
        found[k] = true;
        assert_near(x.p->plans[i].ideal_advantage, TAUGHT[k].ideal, 1e-9);
      }
    }
  }
  for (size_t k = 0; k < sizeof TAUGHT / sizeof TAUGHT[0]; k++) {
    if (!found[k]) {
      print_error("not found: %s\n", TAUGHT[k].rig);
    }
    assert_true(found[k]);
  }
  planned_done(&x);
}

// ---------------------------------------------------------------------------------------------------- put back

static void same_band(fh_band a, fh_band b) {
  assert_exact(a.lo, b.lo);
  assert_exact(a.likely, b.likely);
  assert_exact(a.hi, b.hi);
}

static void same_as_check(const fh_plan *p, const fh_check *c) {
  double rope = 0.0;
  for (int i = 0; i < FH_MAX_PATHS; i++) {
    rope += c->rope_needed[i];
  }
  assert_int_equal(c->outcome, FH_OUTCOME_SOLVED);
  assert_exact(p->ideal_advantage, c->ideal_advantage);
  assert_exact(p->hand_force.lo, c->hand_force.lo);
  assert_exact(p->hand_force.likely, c->hand_force.likely);
  assert_exact(p->hand_force.hi, c->hand_force.hi);
  assert_exact(p->actual_advantage, c->actual_advantage.likely);
  assert_exact(p->rope_needed, rope);
  assert_exact(p->throw_load, c->throw_load);
  assert_int_equal(p->resets, c->resets);
  assert_exact(p->time, c->time.likely);
  same_band(p->time_range, c->time);
  assert_exact(p->time_rests, c->time_rests.likely);
  same_band(p->time_rests_range, c->time_rests);
  assert_int_equal(p->pieces, c->pieces);
  assert_exact(p->worst_margin, c->worst_margin);
  assert_exact(p->crew_share, c->crew_share.likely);
  assert_int_equal(p->possible, !c->answer_no);
}

static void every_rig_put_back_gives_the_same_numbers(void **state) {
  (void)state;
  static const char *const SCENES[] = {
      SLOT STRONG ROPES KIT,
      SLOT STRONG "ropes: [{name: main, length_m: 60, knots: 3}, {name: spare, length_m: 50}]\n" KIT,
      SLOT STRONG "kit: [{item: carabiner, count: 4}, {item: prusik, count: 3}]\n",
  };
  for (size_t k = 0; k < sizeof SCENES / sizeof SCENES[0]; k++) {
    planned x = plan_all(SCENES[k], 3);
    assert_true(x.p->count > 10);
    for (int i = 0; i < x.p->count; i++) {
      fh_check *c = NULL;
      assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
      assert_status(fh_check_create(x.t.scene, x.t.gear, x.rig, NULL, &c), FH_OK);
      same_as_check(&x.p->plans[i], c);
      fh_check_destroy(c);
    }
    planned_done(&x);
  }
}

// Written into a scene file and read again: the file is all that a user has.
static void every_kept_rig_comes_back_from_a_file(void **state) {
  (void)state;
  planned x = plan_kept(SLOT STRONG "ropes: [{name: main, length_m: 60, knots: 3}, {name: spare, length_m: 50}]\n" KIT, 3, FH_PREFER_PIECES);
  assert_true(x.p->count > 3);
  for (int i = 0; i < x.p->count; i++) {
    text_sink sink = {.fail_after = -1};
    fh_check *c = NULL;
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, &x.t.scene->rig), FH_OK);
    x.t.scene->has_rig = true;
    assert_status(fh_scene_write_yaml(x.t.scene, x.t.gear, (fh_out){text_sink_put, &sink}), FH_OK);
    scene_text again = scene_read(sink.bytes);
    assert_status(fh_check_create(again.scene, again.gear, &again.scene->rig, NULL, &c), FH_OK);
    assert_int_equal(c->outcome, FH_OUTCOME_SOLVED);
    assert_close(c->hand_force.likely, x.p->plans[i].hand_force.likely, 1e-12);
    assert_close(c->hand_force.hi, x.p->plans[i].hand_force.hi, 1e-12);
    assert_close(c->worst_margin, x.p->plans[i].worst_margin, 1e-12);
    assert_close(c->time.likely, x.p->plans[i].time, 1e-12);
    fh_check_destroy(c);
    scene_done(&again);
    free(sink.bytes);
  }
  planned_done(&x);
}

// ---------------------------------------------------------------------------------------------------- bounds and stops

static void the_bounds_are_told_and_counted(void **state) {
  (void)state;
  planned x = plan_kept(SLOT STRONG ROPES KIT, 4, FH_PREFER_PULL);
  assert_int_equal(x.p->max_contacts, 4);
  assert_non_null(strstr(x.p->bounds, "at most 4 contacts behind it, with a further rope two fewer and the crew on either rope"));
  assert_true(x.p->searched >= x.p->sound && x.p->sound > 0 && x.p->distinct >= x.p->count);
  assert_false(x.p->stopped);
  assert_string_equal(x.p->missing, "");
  planned_done(&x);
  x = plan_all(SLOT STRONG KIT, 0);
  assert_int_equal(x.p->count, 2);  // the direct line and the loop
  assert_null(strstr(x.p->bounds, "further rope"));
  planned_done(&x);
  x = plan_kept(SLOT STRONG "ropes: [{name: a}, {name: b}, {name: c}]\n" KIT, 3, FH_PREFER_PULL);
  assert_non_null(strstr(x.p->bounds, "with two further ropes three fewer"));
  planned_done(&x);
  // Left open, the bound follows the kit.
  fhi_stock small = {.grips = 2, .rope_count = 1}, large = {.grips = 6, .rope_count = 1}, ropes = {.grips = 2, .rope_count = 3};
  assert_int_equal(fhi_search_contacts(&small), 5);
  assert_int_equal(fhi_search_contacts(&large), 6);
  assert_int_equal(fhi_search_contacts(&ropes), 6);
}

typedef struct patience {
  int calls, stop_at;
  double last;
} patience;

static bool ask(void *user, double done) {
  patience *p = user;
  assert_true(done >= 0.0 && done <= 1.0);
  p->last = done;
  return ++p->calls != p->stop_at;
}

static void a_search_can_be_stopped(void **state) {
  (void)state;
#define MANY "kit: [{item: toothed-capture}, {item: carabiner, count: 9}, {item: prusik, count: 2}]\n"
  fh_plan_opts opts = fh_plan_opts_default();
  patience never = {.stop_at = -1}, soon = {.stop_at = 2}, late = {.stop_at = 1};
  opts.max_contacts = 6;
  opts.progress = ask;
  opts.user = &never;
  planned x = plan_with(SLOT STRONG ROPES MANY, opts);
  assert_false(x.p->stopped);
  assert_true(never.calls >= 2);
  int64_t whole = x.p->searched;
  planned_done(&x);
  opts.user = &soon;
  x = plan_with(SLOT STRONG ROPES MANY, opts);
  assert_true(x.p->stopped);
  assert_int_equal(soon.calls, 2);
  assert_true(x.p->searched < whole);
  assert_string_equal(x.p->missing, "");  // nothing is missing for sure when not all was seen
  planned_done(&x);
  // While the rigs of --all are worked out.
  opts.all = true;
  opts.max_contacts = 2;
  opts.user = &late;
  x = plan_with(SLOT STRONG ROPES KIT, opts);
  assert_true(x.p->stopped);
  assert_int_equal(x.p->count, 1);
  planned_done(&x);
}

static void arguments_that_mean_nothing_are_refused(void **state) {
  (void)state;
  scene_text t = scene_read(SLOT STRONG ROPES KIT);
  fh_plans *p = NULL;
  fh_plan_opts opts = fh_plan_opts_default();
  fh_rig *rig = calloc(1, sizeof *rig);
  assert_non_null(rig);
  assert_status(fh_plans_create(NULL, t.gear, NULL, &p), FH_ERR_ARG);
  assert_status(fh_plans_create(t.scene, NULL, NULL, &p), FH_ERR_ARG);
  assert_status(fh_plans_create(t.scene, t.gear, NULL, NULL), FH_ERR_ARG);
  opts.max_contacts = -2;
  assert_status(fh_plans_create(t.scene, t.gear, &opts, &p), FH_ERR_ARG);
  opts.max_contacts = FHI_SEARCH_CONTACTS + 1;
  assert_status(fh_plans_create(t.scene, t.gear, &opts, &p), FH_ERR_ARG);
  opts = fh_plan_opts_default();
  opts.prefer = (fh_prefer)(FH_PREFER_CHANCE + 1);
  assert_status(fh_plans_create(t.scene, t.gear, &opts, &p), FH_ERR_ARG);
  fh_number depth = t.scene->depth;
  t.scene->depth = fh_number_unset();
  assert_status(fh_plans_create(t.scene, t.gear, NULL, &p), FH_ERR_ARG);
  t.scene->depth = depth;
  assert_null(p);
  opts = fh_plan_opts_default();
  opts.max_contacts = 1;
  assert_status(fh_plans_create(t.scene, t.gear, &opts, &p), FH_OK);
  assert_status(fh_plan_rig(NULL, t.gear, p, 0, rig), FH_ERR_ARG);
  assert_status(fh_plan_rig(t.scene, NULL, p, 0, rig), FH_ERR_ARG);
  assert_status(fh_plan_rig(t.scene, t.gear, NULL, 0, rig), FH_ERR_ARG);
  assert_status(fh_plan_rig(t.scene, t.gear, p, 0, NULL), FH_ERR_ARG);
  assert_status(fh_plan_rig(t.scene, t.gear, p, -1, rig), FH_ERR_ARG);
  assert_status(fh_plan_rig(t.scene, t.gear, p, p->count, rig), FH_ERR_ARG);
  // Plans of one scene asked of another, where they find no room.
  t.scene->station_at = fh_number_exact(1.0);
  for (int i = 0; i < p->count; i++) {
    fh_status status = fh_plan_rig(t.scene, t.gear, p, i, rig);
    assert_true(status == FH_OK || status == FH_ERR_ARG);
  }
  fh_plans_destroy(p);
  fh_plans_destroy(NULL);
  free(rig);
  scene_done(&t);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_taught_rigs_are_among_them),
      cmocka_unit_test(every_rig_put_back_gives_the_same_numbers),
      cmocka_unit_test(every_kept_rig_comes_back_from_a_file),
      cmocka_unit_test(the_bounds_are_told_and_counted),
      cmocka_unit_test(a_search_can_be_stopped),
      cmocka_unit_test(arguments_that_mean_nothing_are_refused),
  };
  return cmocka_run_group_tests_name("plan", tests, NULL, NULL);
}
