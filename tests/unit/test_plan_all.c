// SPDX-License-Identifier: MIT
// None is missing: all rigs of a small kit, counted by loops of their own and judged by check alone.
#include "plan_case.h"

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

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(no_rig_of_a_small_kit_is_missing),
  };
  return cmocka_run_group_tests_name("plan_all", tests, NULL, NULL);
}
