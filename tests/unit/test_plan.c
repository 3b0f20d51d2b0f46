// SPDX-License-Identifier: MIT
// The rigs that a kit can build: the taught ones are among them, each one put back is what it was, none is missing, the kept
// ones are the front, and the order is the one asked for.
#include "scenes.h"

#include "firnhaul_chance.h"
#include "memory.h"
#include "plan.h"
#include "shown.h"

typedef struct planned {
  scene_text t;
  fh_plans *p;
  fh_rig *rig;
} planned;

static planned plan_with(const char *yaml, fh_plan_opts opts) {
  planned x = {.t = scene_read(yaml), .rig = calloc(1, sizeof(fh_rig))};
  assert_non_null(x.rig);
  assert_status(fh_plans_create(x.t.scene, x.t.gear, &opts, &x.p), FH_OK);
  return x;
}

static planned plan_all(const char *yaml, int contacts) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.all = true;
  opts.max_contacts = contacts;
  return plan_with(yaml, opts);
}

static planned plan_kept(const char *yaml, int contacts, fh_prefer prefer) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.max_contacts = contacts;
  opts.prefer = prefer;
  return plan_with(yaml, opts);
}

static void planned_done(planned *x) {
  fh_plans_destroy(x->p);
  free(x->rig);
  scene_done(&x->t);
}

// A hole of 6 m, much room, a crew of two that pulls 900 N.
#define SLOT   "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\n" GROUND
#define STRONG "crew: [{pull_N: 450}, {pull_N: 450}]\n"
#define ROPES  "ropes: [{name: main, length_m: 60}, {name: cord, length_m: 40, kind: cord}]\n"
#define KIT    "kit: [{item: toothed-capture}, {item: pulley, count: 2}, {item: carabiner, count: 2}, {item: prusik, count: 2}]\n"

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

// ---------------------------------------------------------------------------------------------------- none is missing

typedef struct tally {
  double ideal, hand, rope;
  int pieces;
} tally;

static int compare_tally(const void *pa, const void *pb) {
  const tally *a = pa, *b = pb;
  const double x[] = {a->pieces, a->ideal, a->hand, a->rope}, y[] = {b->pieces, b->ideal, b->hand, b->rope};
  for (int i = 0; i < 4; i++) {
    if (fabs(x[i] - y[i]) > 1e-7 * fabs(x[i])) {
      return x[i] < y[i] ? -1 : 1;
    }
  }
  return 0;
}

// What the loops below find of one code, with every way to hand out the kit's pieces, by check alone.
typedef struct finder {
  const fh_scene *scene;
  const fh_gear *gear;
  const fhi_stock *stock;
  fh_rig rig;
  tally *list;
  size_t count;
} finder;

static bool rests(const fh_check *c) {
  for (int i = 0; i < c->contact_count; i++) {
    // Where the standing side of a loop rests at the lip is how it should be; nowhere else.
    if (c->contacts[i].resting && c->contacts[i].body != FH_END_LIP) {
      return true;
    }
  }
  return false;
}

static bool check_one(finder *f, const fhi_code *code, tally *out) {
  fhi_solved solved;
  fhi_placed placed;
  fh_check *c = NULL;
  double per_load = code->start == FHI_START_LOOP ? 2.0 : 1.0;
  if (!fhi_code_motion(code, &solved) || !fhi_code_force(code, f->stock->factor, &solved) ||
      !fhi_code_place(f->scene, code, &solved, per_load * f->scene->depth.likely, &placed)) {
    return false;
  }
  fhi_code_rig(f->scene, f->gear, f->stock, code, &placed, &f->rig);
  assert_status(fh_check_create(f->scene, f->gear, &f->rig, NULL, &c), FH_OK);
  bool good = c->outcome == FH_OUTCOME_SOLVED && !rests(c) && c->throw_load >= 0.25;
  *out = (tally){c->ideal_advantage, c->hand_force.likely, c->rope_needed[0], c->pieces};
  fh_check_destroy(c);
  return good;
}

// Every way to put the classes into `places`, by counting; the least pull counts.
static void best_of_all(finder *f, fhi_code code, bool loop) {
  int8_t *place[FHI_ELEMENTS + 1];
  int places = 0, ways = 1;
  tally best = {.hand = (double)INFINITY}, one;
  for (int i = 1; i <= code.n; i++) {
    place[places++] = &code.e[i].piece;
  }
  if (loop) {
    place[places++] = &code.load_piece;
  }
  for (int i = 0; i < places; i++) {
    ways *= f->stock->classes;
  }
  for (int way = 0; way < ways; way++) {
    int used[FHI_CLASSES] = {0}, rest = way;
    bool enough = true;
    for (int i = 0; i < places; i++, rest /= f->stock->classes) {
      *place[i] = (int8_t)(rest % f->stock->classes);
      enough = enough && ++used[*place[i]] <= f->stock->count[*place[i]];
    }
    if (enough && check_one(f, &code, &one) && one.hand < best.hand) {
      best = one;
    }
  }
  if (isfinite(best.hand)) {
    f->list = realloc(f->list, (f->count + 1) * sizeof *f->list);
    assert_non_null(f->list);
    f->list[f->count++] = best;
  }
}

static bool pairs_up(const fhi_code *c) {
  for (int i = 1; i <= c->n; i++) {
    for (int k = 1; k < i; k++) {
      if (c->e[i].on >= 0 && c->e[k].on == c->e[i].on && c->e[k].side == c->e[i].side) {
        return true;
      }
    }
  }
  return false;
}

static int grips_of(const fhi_code *c) {
  int grips = 0;
  for (int i = 1; i <= c->n; i++) {
    bool own = c->e[i].on >= 0;
    for (int k = 1; k < i; k++) {
      own = own && !(c->shared && c->e[k].on == c->e[i].on && c->e[k].side == c->e[i].side);
    }
    grips += own;
  }
  return grips;
}

static void every_variant(finder *f, fhi_code code) {
  bool fixed = false;
  for (int i = 1; i <= code.n; i++) {
    fixed = fixed || code.e[i].on < 0;
  }
  for (int variant = 0; variant < 8; variant++) {
    code.start = (variant & 1) != 0 ? FHI_START_LOOP : FHI_START_DIRECT;
    code.far_turns = (variant & 2) != 0;
    code.shared = (variant & 4) != 0;
    if ((code.far_turns && !fixed) || (code.shared && !pairs_up(&code)) || grips_of(&code) > f->stock->grips) {
      continue;
    }
    best_of_all(f, code, code.start == FHI_START_LOOP);
  }
}

// One rope: every element a contact, at a fixed point or on any strand, either side.
static void no_rig_of_a_small_kit_is_missing(void **state) {
  (void)state;
  static const char *const KITS[] = {
      "kit: [{item: toothed-capture, efficiency: 0.8}, {item: carabiner, count: 2, efficiency: 0.5}, {item: pulley, efficiency: 0.9}, {item: prusik, count: 2}]\n",
      "kit: [{item: toothed-capture, efficiency: 0.8}, {item: carabiner, count: 3, efficiency: 0.5}, {item: prusik, count: 3}]\n",
      "kit: [{item: toothed-capture, efficiency: 0.8}, {item: carabiner, count: 3, efficiency: [0.4, 0.6]}, {item: prusik}]\n",
  };
  for (size_t k = 0; k < sizeof KITS / sizeof KITS[0]; k++) {
    char yaml[1500];
    fhi_stock *stock = calloc(1, sizeof *stock);
    finder *f = calloc(1, sizeof *f);
    assert_true(stock != NULL && f != NULL);
    (void)snprintf(yaml, sizeof yaml, "%s%s", SLOT STRONG "ropes: [{name: main, length_m: 100}]\n", KITS[k]);
    planned x = plan_all(yaml, 3);
    fhi_stock_fill(x.t.scene, x.t.gear, stock);
    f->scene = x.t.scene;
    f->gear = x.t.gear;
    f->stock = stock;
    for (int n = 0; n <= 3; n++) {
      int base = 2 * (n + 3), all = n == 0 ? 1 : n == 1 ? base : n == 2 ? base * base : base * base * base;
      for (int way = 0; way < all; way++) {
        fhi_code c;
        memset(&c, 0, sizeof c);
        c.n = (int8_t)n;
        c.e[0].side = c.e[0].on = -1;
        c.e[0].piece = (int8_t)stock->capture;
        bool good = true;
        for (int i = 1, rest = way; i <= n; i++, rest /= base) {
          c.e[i] = (fhi_element){0, (int8_t)(rest % 2 == 0 ? -1 : 1), (int8_t)(rest % base / 2 - 1), 0};
          int before = i == 1 ? -1 : c.e[i - 1].side;  // the way the strand that comes to it runs
          good = good && c.e[i].side == -before && (c.e[i].on >= 0 || c.e[i].side < 0) && c.e[i].on != i && c.e[i].on != i + 1;
        }
        if (good) {
          every_variant(f, c);
        }
      }
    }
    tally *planned_list = calloc((size_t)x.p->count + 1, sizeof *planned_list);
    assert_non_null(planned_list);
    for (int i = 0; i < x.p->count; i++) {
      const fh_plan *p = &x.p->plans[i];
      planned_list[i] = (tally){p->ideal_advantage, p->hand_force.likely, p->rope_needed, p->pieces};
    }
    assert_true(f->count > 10);
    assert_int_equal(x.p->count, f->count);
    qsort(planned_list, f->count, sizeof *planned_list, compare_tally);
    qsort(f->list, f->count, sizeof *f->list, compare_tally);
    for (size_t i = 0; i < f->count; i++) {
      assert_int_equal(compare_tally(&planned_list[i], &f->list[i]), 0);
    }
    free(planned_list);
    free(f->list);
    free(f);
    free(stock);
    planned_done(&x);
  }
}

// ---------------------------------------------------------------------------------------------------- what is kept

static fhi_candidate key_of(const fh_plans *plans, int index) {
  const fh_plan *p = &plans->plans[index];
  fhi_candidate c = {.pieces = (int8_t)p->pieces, .hand_force = p->hand_force.likely, .time = plans->codes[index].time, .rope = p->rope_needed, .margin = p->worst_margin, .hands = p->asks_below, .untended = p->tends_far};
  fhi_front_key(&c);
  return c;
}

static bool as_good(const fhi_candidate *a, const fhi_candidate *b) {
  for (size_t k = 0; k < sizeof a->key / sizeof a->key[0]; k++) {
    if (a->key[k] > b->key[k]) {
      return false;
    }
  }
  return true;
}

static void the_kept_are_those_of_all_that_no_other_is_as_good_as(void **state) {
  (void)state;
  static const char *const SCENES[] = {
      SLOT STRONG ROPES KIT,
      SLOT "crew: [{pull_N: [150, 400]}]\n" ROPES KIT,
      SLOT STRONG "kit: [{item: carabiner, count: 4}, {item: prusik, count: 3}]\n",
  };
  for (size_t k = 0; k < sizeof SCENES / sizeof SCENES[0]; k++) {
    planned all = plan_all(SCENES[k], 4), kept = plan_kept(SCENES[k], 4, FH_PREFER_PULL);
    int front = 0;
    for (int i = 0; i < all.p->count; i++) {
      fhi_candidate me = key_of(all.p, i);
      bool beaten = !all.p->plans[i].possible, here = false;
      for (int j = 0; j < all.p->count && !beaten; j++) {
        fhi_candidate other = key_of(all.p, j);
        beaten = all.p->plans[j].possible && as_good(&other, &me) && !as_good(&me, &other);
      }
      for (int j = 0; j < kept.p->count; j++) {
        fhi_candidate other = key_of(kept.p, j);
        here = here || (as_good(&other, &me) && as_good(&me, &other));
      }
      assert_int_equal(here && all.p->plans[i].possible, !beaten);
      front += !beaten;
    }
    assert_true(kept.p->count > 2 && kept.p->count <= front);
    for (int i = 0; i < kept.p->count; i++) {
      assert_true(kept.p->plans[i].possible);
    }
    planned_done(&all);
    planned_done(&kept);
  }
}

static void the_first_wish_comes_first(void **state) {
  (void)state;
  for (int prefer = FH_PREFER_PULL; prefer <= FH_PREFER_CHANCE; prefer++) {
    planned x = plan_kept(SLOT "crew: [{pull_N: [300, 500]}]\n" ROPES KIT, 3, (fh_prefer)prefer);
    assert_true(x.p->count > 3);
    for (int i = 1; i < x.p->count; i++) {
      const fh_plan *a = &x.p->plans[i - 1], *b = &x.p->plans[i];
      assert_true(a->asks_below <= b->asks_below);
      assert_true(a->asks_below < b->asks_below || a->tends_far <= b->tends_far);
      if (a->asks_below != b->asks_below || a->tends_far != b->tends_far) {
        continue;
      }
      switch (prefer) {
      case FH_PREFER_PULL: assert_true(a->hand_force.likely <= b->hand_force.likely); break;
      case FH_PREFER_TIME: assert_true(a->time_rests <= b->time_rests); break;
      case FH_PREFER_PIECES: assert_true(a->pieces <= b->pieces); break;
      case FH_PREFER_SAFE: assert_true(a->worst_margin >= b->worst_margin); break;
      default: assert_true(a->chance >= b->chance); break;
      }
      assert_int_equal(prefer == FH_PREFER_CHANCE, !isnan(a->chance));
    }
    planned_done(&x);
  }
}

static void what_is_not_possible_here_comes_last(void **state) {
  (void)state;
  planned x = plan_all(SLOT "crew: [{pull_N: 350}]\n" ROPES KIT, 3);
  bool no = false;
  int yes = 0;
  for (int i = 0; i < x.p->count; i++) {
    no = no || !x.p->plans[i].possible;
    yes += x.p->plans[i].possible;
    assert_int_equal(x.p->plans[i].possible, !no);
    assert_int_equal(strcmp(x.p->plans[i].why, "sound, but not here: see check") == 0, no);
  }
  assert_true(no && yes > 0);
  planned_done(&x);
}

static void every_plan_says_why_it_is_kept(void **state) {
  (void)state;
  planned x = plan_kept(SLOT STRONG ROPES KIT, 5, FH_PREFER_PULL);
  bool best[5] = {false};
  static const char *const WORDS[] = {"least pull", "fewest pieces", "fastest", "widest margin", "least rope"};
  for (int i = 0; i < x.p->count; i++) {
    assert_true(x.p->plans[i].why[0] != '\0');
    for (int k = 0; k < 5; k++) {
      best[k] = best[k] || (strstr(x.p->plans[i].why, WORDS[k]) != NULL && strstr(x.p->plans[i].why, "of all that work") != NULL);
    }
  }
  for (int k = 0; k < 5; k++) {
    assert_true(best[k]);  // somebody is the best in each
  }
  planned_done(&x);
  x = plan_kept("firnhaul: 1\nload: {mass_kg: 80, helps: true}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\n" GROUND STRONG ROPES KIT, 5, FH_PREFER_PULL);
  assert_non_null(strstr(x.p->plans[0].why, "least pull"));
  planned_done(&x);
}

// The plan of all rigs says of each advantage whether a rig works: what is told is the smallest one that does not.
static void simpler_rigs_are_told_with_what_rules_them_out(void **state) {
  (void)state;
  planned all = plan_all(SLOT "crew: [{pull_N: 190}]\n" ROPES KIT, 5), kept = plan_kept(SLOT "crew: [{pull_N: 190}]\n" ROPES KIT, 5, FH_PREFER_PIECES);
  const fh_plan *best = &kept.p->plans[0];
  int told = 0;
  assert_true(best->possible);
  for (int k = 1; k < FHI_NEAR; k++) {
    char want[60], figure[24];
    const fh_plan *smallest = NULL;
    bool works = false;
    for (int i = 0; i < all.p->count; i++) {
      const fh_plan *p = &all.p->plans[i];
      if (fabs(p->ideal_advantage - k) > 1e-6 || p->asks_below) {
        continue;
      }
      works = works || p->possible;
      if (smallest == NULL || p->pieces < smallest->pieces || (p->pieces == smallest->pieces && p->hand_force.likely < smallest->hand_force.likely)) {
        smallest = p;
      }
    }
    bool tell = smallest != NULL && !works && smallest->pieces < best->pieces;
    snprintf(want, sizeof want, "%d:1 ", k);
    assert_int_equal(tell, strstr(kept.p->simpler, want) != NULL);
    if (tell && smallest->crew_share > 1.0) {
      (void)snprintf(want, sizeof want, "%d:1 takes %s N", k, fhi_show_newton(figure, sizeof figure, smallest->hand_force.likely, FHI_NEAREST));
      assert_non_null(strstr(kept.p->simpler, want));
    }
    told += tell;
  }
  assert_true(told >= 2);
  planned_done(&all);
  planned_done(&kept);
}

// A simpler rig by the plan of all rigs: nothing but pull lacks, the ranges overlap, and none with as few pieces pulls noticeably less.
static bool is_simpler_and_might(const fh_plans *all, int index, int fewest) {
  const fh_plan *mine = &all->plans[index];
  if (mine->possible || mine->asks_below || mine->pieces >= fewest || !(mine->lacks_pull > 0.0) || mine->hand_force.lo > mine->crew.force.hi) {
    return false;
  }
  for (int i = 0; i < all->count; i++) {
    const fh_plan *x = &all->plans[i];
    if (!x->asks_below && x->lacks_pull > 0.0 && x->pieces <= mine->pieces && x->hand_force.likely < mine->hand_force.likely / 1.05) {
      return false;
    }
  }
  return true;
}

// The chance by its own road, with many more samples, and what check says: no, for want of pull alone.
static double checked_chance(const planned *x, int index) {
  const fh_chance_opts opts = {.samples = 65536, .seed = 7, .why = false};
  const fh_plan *plan = &x->p->plans[index];
  fh_chance *chance = NULL;
  fh_check *check = NULL;
  assert_status(fh_plan_rig(x->t.scene, x->t.gear, x->p, index, x->rig), FH_OK);
  assert_status(fh_check_create(x->t.scene, x->t.gear, x->rig, NULL, &check), FH_OK);
  assert_true(check->answer_no && !check->ruled_out && check->worst_margin >= 1.0 && check->crew_share.lo <= 1.0);
  assert_near(plan->lacks_pull, check->hand_force.likely - check->crew.force.likely, 1e-9);
  assert_int_equal(check->pieces, plan->pieces);
  assert_int_equal(check->resets, plan->resets);
  assert_status(fh_chance_create(x->t.scene, x->t.gear, x->rig, &opts, &chance), FH_OK);
  double both = chance->both;
  fh_chance_destroy(chance);
  fh_check_destroy(check);
  return both;
}

// The same scene weak and less weak; at the least pull no rig at all works at the likely figures.
static void simpler_rigs_that_might_do_it_stand_apart(void **state) {
  (void)state;
  static const char *const CREWS[] = {"crew: [{pull_N: [100, 420]}]\n", "crew: [{pull_N: [60, 300]}]\n", "crew: [{pull_N: [40, 200]}]\n", "crew: [{pull_N: [20, 170]}]\n", STRONG};
  int shown = 0, without = 0;
  for (size_t k = 0; k < sizeof CREWS / sizeof CREWS[0]; k++) {
    char yaml[1000];
    (void)snprintf(yaml, sizeof yaml, "firnhaul: 1\nload: {mass_kg: [70, 95]}\nslot: {depth_m: 6}\nlip: {friction: [0.05, 0.2]}\n" GROUND "%s" ROPES KIT, CREWS[k]);
    planned all = plan_all(yaml, 4), kept = plan_kept(yaml, 4, FH_PREFER_PULL);
    const fh_plans *p = kept.p;
    int fewest = 1000, might = 0;
    assert_int_equal(all.p->less_likely, 0);  // there they stand in the list
    for (int i = 0; i < p->count; i++) {
      assert_true(p->plans[i].possible && p->plans[i].lacks_pull <= 0.0);
      fewest = p->plans[i].pieces < fewest ? p->plans[i].pieces : fewest;
    }
    for (int i = 0; i < all.p->count; i++) {
      bool told = false;
      if (!is_simpler_and_might(all.p, i, fewest)) {
        continue;
      }
      for (int j = p->count; j < p->count + p->less_likely; j++) {
        told = told || (p->plans[j].pieces == all.p->plans[i].pieces && fabs(p->plans[j].hand_force.likely / all.p->plans[i].hand_force.likely - 1.0) < 0.06);
      }
      might++;
      // 0.03: three standard errors of the chance that plan goes by
      assert_true(told || p->less_likely == FH_MAX_LESS_LIKELY || checked_chance(&all, i) < 0.05 + 0.03);
    }
    assert_true(p->less_likely <= might);
    for (int j = p->count; j < p->count + p->less_likely; j++) {
      const fh_plan *plan = &p->plans[j];
      double chance = checked_chance(&kept, j);
      assert_true(!plan->possible && plan->pieces < fewest && plan->chance >= 0.05 && fabs(plan->chance - chance) < 0.04);
      assert_non_null(strstr(plan->why, "the crew lacks"));
      assert_true(j == p->count || plan->lacks_pull > p->plans[j - 1].lacks_pull);  // the least lacking first
      shown++;
      without += p->count == 0;
    }
    assert_true(p->count > 0 || p->missing[0] != '\0');
    planned_done(&all);
    planned_done(&kept);
  }
  assert_true(shown >= 4 && without >= 1);
}

// Where a rope or a limit lacks too, or the ranges have no part in common, there is nothing to hope for.
static void none_is_less_likely_where_more_than_pull_lacks(void **state) {
  (void)state;
  static const char *const LACKING[] = {
      SLOT "crew: [{pull_N: 190}]\n" ROPES KIT,
      SLOT "crew: [{pull_N: [60, 300]}]\nropes: [{name: main, length_m: 8}]\n" KIT,
      "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\nground: {station_m: 8, anchor_m: 10, holds_kN: 0.7}\ncrew: [{pull_N: [60, 300]}]\n" ROPES KIT,
      SLOT ROPES KIT,
  };
  for (size_t k = 0; k < sizeof LACKING / sizeof LACKING[0]; k++) {
    planned x = plan_kept(LACKING[k], 4, FH_PREFER_PIECES);
    assert_int_equal(x.p->less_likely, 0);
    planned_done(&x);
  }
}

// Common practice, no source: a hitch as capture has to be tended, and one alone who walks back with the rope cannot.
static void a_hitch_that_one_alone_cannot_tend_comes_after(void **state) {
  (void)state;
  static const char *const CREWS[] = {"crew: [{pull_N: 900}]\n", "crew: [{pull_N: 450}, {pull_N: 450}]\n"};
  for (int two = 0; two < 2; two++) {
    char text[1024];
    snprintf(text, sizeof text, "%s%s%s", SLOT, CREWS[two], ROPES "kit: [{item: carabiner, count: 5}, {item: pulley, count: 1}, {item: prusik, count: 3}]\n");
    planned x = plan_all(text, 3);
    int asks = 0, near = 0, late = 0;
    for (int i = 0; i < x.p->count; i++) {
      const fh_plan *plan = &x.p->plans[i];
      fh_check *check = NULL;
      bool said = false;
      assert_int_equal(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
      assert_int_equal(fh_check_create(x.t.scene, x.t.gear, x.rig, NULL, &check), FH_OK);
      for (int n = 0; n < check->note_count; n++) {
        said = said || strstr(check->notes[n].text, "alone you cannot tend") != NULL;
      }
      fh_check_destroy(check);
      assert_int_equal(plan->tends_far, said);
      assert_int_equal(x.p->codes[i].untended, said);
      asks += said;
      near += !said && plan->possible;
      late += i > 0 && plan->possible && plan->asks_below == x.p->plans[i - 1].asks_below && plan->tends_far < x.p->plans[i - 1].tends_far;
    }
    assert_int_equal(asks > 3, !two);
    assert_true(near > 0);
    assert_int_equal(late, 0);
    planned_done(&x);
  }
}

// Counted by hand, common practice, no source. A three to one with a capture device and a pulley on the block: a carabiner each for
// the capture, the pulley, the knot that ties the loaded rope off, the tether, the sling to the
// station and the hitch that takes the load over; the hitch of the block shares the block's.
static void a_rig_takes_carabiners_for_what_they_hold_too(void **state) {
  (void)state;
  static const char *const KITS[] = {
      "kit: [{item: toothed-capture}, {item: pulley}, {item: prusik}]\n",
      "kit: [{item: toothed-capture}, {item: carabiner}, {item: prusik}]\n",
      "kit: [{item: pulley}, {item: carabiner}, {item: prusik, count: 2}]\n",
      "kit: [{item: toothed-capture}, {item: axe-shaft}, {item: prusik}]\n",
  };
  static const fh_carabiners WANT[] = {{0, 3, 3}, {1, 2, 3}, {1, 3, 3}, {0, 2, 3}};
  for (size_t k = 0; k < sizeof KITS / sizeof KITS[0]; k++) {
    char text[1024];
    snprintf(text, sizeof text, "%s%s%s%s", SLOT, STRONG, ROPES, KITS[k]);
    planned x = plan_all(text, 1);
    int threes = 0;
    for (int i = 0; i < x.p->count; i++) {
      assert_int_equal(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
      if (fabs(x.p->plans[i].ideal_advantage - 3.0) > 1e-9 || x.p->plans[i].asks_below || x.rig->path_count > 1) {
        continue;
      }
      const fh_carabiners c = fh_rig_carabiners(x.t.gear, x.rig);
      assert_int_equal(c.run, WANT[k].run);
      assert_int_equal(c.hold, WANT[k].hold);
      assert_int_equal(c.own, WANT[k].own);
      assert_int_equal(x.p->plans[i].carabiners, c.run + c.hold + c.own);
      threes++;
    }
    assert_true(threes > 0);
    planned_done(&x);
  }
}

static void a_kit_that_is_all_there_is_builds_what_its_carabiners_allow(void **state) {
  (void)state;
  enum { MOST = 14 };
  int by_count[MOST + 1] = {0}, all = 0;
  planned x = plan_all(SLOT STRONG ROPES "kit: [{item: carabiner, count: 7}, {item: pulley}, {item: toothed-capture}, {item: prusik, count: 3}]\n", 3);
  for (int i = 0; i < x.p->count; i++, all++) {
    assert_int_equal(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    const fh_carabiners c = fh_rig_carabiners(x.t.gear, x.rig);
    assert_int_equal(x.p->plans[i].carabiners, c.run + c.hold + c.own);
    assert_in_range(x.p->plans[i].carabiners, 5, MOST);
    by_count[x.p->plans[i].carabiners]++;
  }
  planned_done(&x);
  x = plan_all(SLOT STRONG ROPES "kit_for: all\nkit: [{item: carabiner, count: 7}, {item: pulley}, {item: toothed-capture}, {item: prusik, count: 3}]\n", 3);
  int within = 0;
  for (int n = 0; n <= 7; n++) {
    within += by_count[n];
  }
  assert_int_equal(x.p->count, within);
  assert_true(within > 3 && within < all);
  for (int i = 0; i < x.p->count; i++) {
    assert_in_range(x.p->plans[i].carabiners, 5, 7);
  }
  planned_done(&x);
}

// Common practice, no source: a loop dropped to a person is theirs to clip in; who cannot help gets it only from someone who goes down.
static void a_loop_for_who_cannot_help_comes_after_all_others(void **state) {
  (void)state;
  for (int helps = 0; helps < 2; helps++) {
    planned x = helps != 0 ? plan_all("firnhaul: 1\nload: {mass_kg: 80, helps: true}\nslot: {depth_m: 6}\nlip: {friction: 0.1}\n" GROUND STRONG ROPES KIT, 3)
                           : plan_all(SLOT STRONG ROPES KIT, 3);
    int loops = 0, asks = 0, late = 0;
    for (int i = 0; i < x.p->count; i++) {
      assert_int_equal(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
      bool loop = false;
      for (int s = 0; s < x.rig->station_count; s++) {
        loop = loop || (x.rig->stations[s].kind == FH_RUN && x.rig->stations[s].body == FH_BODY_LOAD);
      }
      const fh_plan *plan = &x.p->plans[i];
      loops += loop;
      asks += plan->asks_below;
      assert_int_equal(plan->asks_below, loop && helps == 0);
      assert_int_equal(plan->asks_below && plan->possible, strstr(plan->why, "would have to clip in") != NULL);
      late += plan->possible && !plan->asks_below && i > 0 && (x.p->plans[i - 1].asks_below || !x.p->plans[i - 1].possible);
    }
    assert_true(loops > 3);
    assert_int_equal(asks, helps != 0 ? 0 : loops);
    assert_int_equal(late, 0);
    planned_done(&x);
  }
}

// What check says of hitches on thin rope, plan says too, and such a rig comes after its like.
static void a_rig_that_hangs_on_hitches_on_thin_rope_says_so_and_comes_later(void **state) {
  (void)state;
  planned x = plan_all(SLOT STRONG "ropes: [{name: main, length_m: 60}, {name: thin, length_m: 20, kind: cord, diameter_mm: 6}]\n" KIT, 4);
  int thin = 0;
  for (int i = 0; i < x.p->count; i++) {
    fh_check *c = NULL;
    const fh_plan *plan = &x.p->plans[i];
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    assert_status(fh_check_create(x.t.scene, x.t.gear, x.rig, NULL, &c), FH_OK);
    bool said = false;
    for (int k = 0; k < c->note_count; k++) {
      said = said || strstr(c->notes[k].text, "rope thin is 6.0 mm thick") != NULL;
    }
    fh_check_destroy(c);
    assert_int_equal(plan->thin, said);
    assert_int_equal(plan->thin && plan->possible, strstr(plan->why, "under 8 mm") != NULL);
    thin += plan->thin;
    const fh_plan *before = &x.p->plans[i > 0 ? i - 1 : 0];
    if (before->possible == plan->possible && before->asks_below == plan->asks_below && before->tends_far == plan->tends_far) {
      assert_true(before->thin <= plan->thin);
    }
  }
  assert_in_range(thin, 3, x.p->count - 3);
  planned_done(&x);
}

// ---------------------------------------------------------------------------------------------------- kits

static void without_pulleys_and_devices_a_hitch_holds(void **state) {
  (void)state;
  planned x = plan_kept(SLOT STRONG "kit: [{item: carabiner, count: 3}, {item: prusik, count: 2}]\n", 3, FH_PREFER_PIECES);
  assert_true(x.p->count > 0);
  for (int i = 0; i < x.p->count; i++) {
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    assert_int_equal(x.rig->grips[0].body, FH_BODY_STATION);
    for (int s = 0; s < x.rig->station_count; s++) {
      const fh_item *item = fh_gear_item(x.t.gear, x.rig->stations[s].item);
      assert_true(item == NULL || strcmp(item->name, "carabiner") == 0);
    }
  }
  planned_done(&x);
}

static void knots_leave_the_rope_s_other_end_or_a_loop(void **state) {
  (void)state;
  planned x = plan_all(SLOT STRONG "ropes: [{name: main, length_m: 60, knots: 3}]\n" KIT, 3);
  int ends = 0, loops = 0;
  for (int i = 0; i < x.p->count; i++) {
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    // The knotted strand is always the slack line to the anchor.
    assert_int_equal(x.rig->stations[2].kind, FH_TIE);
    assert_true(fh_number_is_set(x.rig->stations[2].slack));
    bool end = x.rig->path_count == 2;
    ends += end && x.p->plans[i].possible;
    loops += !end && x.p->plans[i].possible;
  }
  assert_true(ends > 0 && loops > 0);
  planned_done(&x);
}

static void two_long_ropes_may_both_go_down(void **state) {
  (void)state;
  planned x = plan_all(SLOT STRONG "ropes: [{name: main, length_m: 60}, {name: spare, length_m: 60}]\n" KIT, 3);
  int alone = 0, spare = 0;
  for (int i = 0; i < x.p->count; i++) {
    assert_status(fh_plan_rig(x.t.scene, x.t.gear, x.p, i, x.rig), FH_OK);
    alone += x.rig->path_count == 1;
    spare += x.rig->path_count == 2 && strcmp(x.rig->paths[1].name, "spare") == 0;
  }
  assert_true(alone > 0 && spare > 0);
  planned_done(&x);
}

static void the_same_kit_in_other_words_gives_the_same_rigs(void **state) {
  (void)state;
  planned a = plan_kept(SLOT STRONG ROPES KIT, 3, FH_PREFER_PULL);
  planned b = plan_kept(SLOT STRONG "ropes: [{name: tail, length_m: 40, kind: cord}, {name: blue, length_m: 60}]\n"
                                    "kit: [{item: prusik}, {item: carabiner, count: 2}, {item: pulley}, {item: toothed-capture}, {item: prusik}, {item: pulley}]\n",
                        3, FH_PREFER_PULL);
  assert_int_equal(a.p->count, b.p->count);
  for (int i = 0; i < a.p->count; i++) {
    assert_exact(a.p->plans[i].hand_force.hi, b.p->plans[i].hand_force.hi);
    assert_exact(a.p->plans[i].worst_margin, b.p->plans[i].worst_margin);
    assert_exact(a.p->plans[i].time, b.p->plans[i].time);
    assert_string_equal(a.p->plans[i].why, b.p->plans[i].why);
  }
  planned_done(&a);
  planned_done(&b);
}

static void asking_twice_gives_the_same(void **state) {
  (void)state;
  planned a = plan_kept(SLOT STRONG ROPES KIT, 4, FH_PREFER_TIME), b = plan_kept(SLOT STRONG ROPES KIT, 4, FH_PREFER_TIME);
  assert_int_equal(a.p->count, b.p->count);
  assert_int_equal(a.p->searched, b.p->searched);
  for (int i = 0; i < a.p->count; i++) {
    assert_memory_equal(&a.p->codes[i].code, &b.p->codes[i].code, sizeof a.p->codes[i].code);
    assert_exact(a.p->plans[i].hand_force.likely, b.p->plans[i].hand_force.likely);
  }
  assert_string_equal(a.p->bounds, b.p->bounds);
  planned_done(&a);
  planned_done(&b);
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
      cmocka_unit_test(no_rig_of_a_small_kit_is_missing),
      cmocka_unit_test(the_kept_are_those_of_all_that_no_other_is_as_good_as),
      cmocka_unit_test(the_first_wish_comes_first),
      cmocka_unit_test(simpler_rigs_are_told_with_what_rules_them_out),
      cmocka_unit_test(simpler_rigs_that_might_do_it_stand_apart),
      cmocka_unit_test(none_is_less_likely_where_more_than_pull_lacks),
      cmocka_unit_test(a_hitch_that_one_alone_cannot_tend_comes_after),
      cmocka_unit_test(a_rig_takes_carabiners_for_what_they_hold_too),
      cmocka_unit_test(a_kit_that_is_all_there_is_builds_what_its_carabiners_allow),
      cmocka_unit_test(a_loop_for_who_cannot_help_comes_after_all_others),
      cmocka_unit_test(a_rig_that_hangs_on_hitches_on_thin_rope_says_so_and_comes_later),
      cmocka_unit_test(what_is_not_possible_here_comes_last),
      cmocka_unit_test(every_plan_says_why_it_is_kept),
      cmocka_unit_test(without_pulleys_and_devices_a_hitch_holds),
      cmocka_unit_test(knots_leave_the_rope_s_other_end_or_a_loop),
      cmocka_unit_test(two_long_ropes_may_both_go_down),
      cmocka_unit_test(the_same_kit_in_other_words_gives_the_same_rigs),
      cmocka_unit_test(asking_twice_gives_the_same),
      cmocka_unit_test(the_bounds_are_told_and_counted),
      cmocka_unit_test(a_search_can_be_stopped),
      cmocka_unit_test(arguments_that_mean_nothing_are_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
