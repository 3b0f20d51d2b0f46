// SPDX-License-Identifier: MIT
// The space of codes against plain nested loops, and each code's speeds, forces and order against the general solvers, which
// share nothing with it: the code is written out as a rig and worked out as any other.
#include "scenes.h"

#include "search.h"

enum { MAX_N = 4 };  // elements in the loops below

// ---------------------------------------------------------------------------------------------------- every code

typedef struct list {
  fhi_code *codes;
  size_t count, room;
} list;

static void put(list *l, const fhi_code *code) {
  if (l->count == l->room) {
    l->room = l->room == 0 ? 256 : 2 * l->room;
    l->codes = realloc(l->codes, l->room * sizeof *l->codes);
    assert_non_null(l->codes);
  }
  l->codes[l->count++] = *code;
}

static int compare(const void *a, const void *b) {
  return memcmp(a, b, sizeof(fhi_code));
}

// Which way strand i runs follows from what it leaves: the capture sends it to the lip, a front block or a tie that is pulled
// back away from the lip, all others toward it.
static int runs(const fhi_code *c, int strand) {
  return strand == 0 ? 1 : strand == 1 ? -1 : c->e[strand - 1].side;
}

static bool may_be(const fhi_code *c) {
  for (int i = 1; i <= c->n; i++) {
    const fhi_element *e = &c->e[i];
    bool own_strand = e->on == i + 1 || (!e->tie && e->on == i);  // a tail may be gripped by what its own tie begins
    bool turned = e->tie || e->side == -runs(c, i);
    bool fixed_fits = e->on >= 0 || e->side < 0;
    if (own_strand || !turned || !fixed_fits) {
      return false;
    }
  }
  // A rope's end that is not in the hand is held by some grip, but for a bare tail right behind the capture.
  for (int j = 2; j <= c->n + 1; j++) {
    bool in_hand = c->hand > 0 ? j == c->hand : j == c->n + 1, ends = j > c->n || c->e[j].tie, gripped = in_hand || !ends;
    for (int k = 1; k <= c->n; k++) {
      gripped = gripped || c->e[k].on == j;
    }
    if (!gripped) {
      return false;
    }
  }
  return true;
}

// The crew may pull on the last rope's end, or with one further rope on the first one's. @return false when there is no such end
static bool give_hand(fhi_code *c, int which) {
  for (int i = 1; i <= c->n; i++) {
    c->hand = which == 1 && c->e[i].tie ? (int8_t)i : c->hand;
  }
  return which == 0 || (c->ties == 1 && c->hand > 0);
}

// All n elements in all ways, by counting in a mixed base: tie or not, either side, on anything.
static void by_loops(int n, int ties, list *out) {
  int on_count = n + 3, base = 2 * 2 * on_count;
  long all = 1;
  for (int i = 0; i < n; i++) {
    all *= base;
  }
  for (long x = 0; x < all; x++) {
    fhi_code c;
    long rest = x;
    memset(&c, 0, sizeof c);
    c.n = (int8_t)n;
    c.e[0].side = -1;
    c.e[0].on = FHI_ON_FIXED;
    for (int i = 1; i <= n; i++) {
      long one = rest % base;
      rest /= base;
      c.e[i].tie = (int8_t)(one % 2);
      c.e[i].side = (int8_t)(one / 2 % 2 == 0 ? -1 : 1);
      c.e[i].on = (int8_t)(one / 4 - 1);
      c.ties = (int8_t)(c.ties + c.e[i].tie);
    }
    for (int hand = 0; hand < 2; hand++) {
      fhi_solved s;
      if (c.ties == ties && give_hand(&c, hand) && may_be(&c) && fhi_code_motion(&c, &s) && fhi_code_orderable(&c, &s)) {
        put(out, &c);
      }
    }
  }
}

static bool collect(void *user, const fhi_code *code, const fhi_solved *solved) {
  (void)solved;
  put(user, code);
  return true;
}

static void the_walk_finds_what_nested_loops_find_each_once(void **state) {
  (void)state;
  for (int ties = 0; ties <= 2; ties++) {
    for (int contacts = 0; contacts + ties <= MAX_N - (ties > 0); contacts++) {
      list loops = {0}, walked = {0};
      fhi_walk w = {.max_contacts = {-1, -1, -1}, .max_grips = FHI_ELEMENTS, .max_pieces = 100, .visit = collect, .user = &walked};
      w.max_contacts[ties] = contacts;
      assert_true(fhi_walk_all(&w));
      for (int c = 0; c <= contacts; c++) {
        by_loops(c + ties, ties, &loops);
      }
      assert_int_equal(walked.count, loops.count);
      assert_int_equal(w.sound, (int64_t)walked.count);
      assert_true(w.tried >= w.sound);
      if (loops.count > 0) {
        qsort(walked.codes, walked.count, sizeof(fhi_code), compare);
        qsort(loops.codes, loops.count, sizeof(fhi_code), compare);
        assert_memory_equal(walked.codes, loops.codes, loops.count * sizeof(fhi_code));
        for (size_t i = 1; i < walked.count; i++) {
          assert_int_not_equal(compare(&walked.codes[i - 1], &walked.codes[i]), 0);
        }
      }
      free(loops.codes);
      free(walked.codes);
    }
  }
}

static bool few(void *user, const fhi_code *code, const fhi_solved *solved) {
  (void)solved;
  int grips = 0;
  for (int i = 1; i <= code->n; i++) {
    grips += code->e[i].on >= 0;
  }
  assert_true(grips <= 1);
  return ++*(int *)user < 3;
}

static bool count_pieces(void *user, const fhi_code *code, const fhi_solved *solved) {
  (void)solved;
  int *most = user;
  int contacts = code->n - code->ties;
  *most = contacts > *most ? contacts : *most;
  return true;
}

static void grips_and_pieces_are_bounded_and_the_visitor_may_stop(void **state) {
  (void)state;
  int seen = 0, most = 0;
  fhi_walk w = {.max_grips = 1, .max_pieces = 100, .visit = few, .user = &seen};
  fhi_walk_bounds(&w, 4, 1);
  assert_false(fhi_walk_all(&w));
  assert_int_equal(seen, 3);
  // Pieces: the capture and two contacts.
  fhi_walk p = {.max_grips = FHI_ELEMENTS, .max_pieces = 3, .visit = count_pieces, .user = &most};
  fhi_walk_bounds(&p, 4, 0);
  assert_true(fhi_walk_all(&p));
  assert_int_equal(most, 2);
}

static void further_ropes_have_fewer_contacts(void **state) {
  (void)state;
  fhi_walk w = {.max_pieces = 1};
  fhi_walk_bounds(&w, 6, 2);
  assert_int_equal(w.max_contacts[0], 6);
  assert_int_equal(w.max_contacts[1], 4);
  assert_int_equal(w.max_contacts[2], 3);
  fhi_walk_bounds(&w, 2, 1);
  assert_int_equal(w.max_contacts[1], 0);
  assert_int_equal(w.max_contacts[2], -1);
  fhi_walk_bounds(&w, 1, 2);
  assert_int_equal(w.max_contacts[1], -1);
}

// ---------------------------------------------------------------------------------------------------- against the solvers

// A flat place without friction at the lip and with room for everything.
#define WIDE                                                                                                          \
  "firnhaul: 1\nload: {mass_kg: 100}\nslot: {depth_m: 10}\n" SMOOTH ALONE                                             \
  "ground: {station_m: 60, anchor_m: 60, reach_m: 1, clearance_m: 0.5, room_m: 500}\nropes: [{name: a}, {name: b}, {name: c}]\n" \
  "kit: [{item: toothed-capture, efficiency: 0.8}, {item: carabiner, count: 9, efficiency: 0.5}, {item: prusik, count: 9}]\n"

typedef struct trial {
  scene_text t;
  fhi_stock stock;
  fh_rig *rig;
  fhi_model *model;
  fhi_motion *motion;
  int sound, unsound, pushing;  // codes of each sort
} trial;

static trial trial_start(void) {
  trial t = {.t = scene_read(WIDE)};
  fhi_stock_fill(t.t.scene, t.t.gear, &t.stock);
  t.rig = calloc(1, sizeof *t.rig);
  t.model = calloc(1, sizeof *t.model);
  t.motion = calloc(1, sizeof *t.motion);
  assert_true(t.rig != NULL && t.model != NULL && t.motion != NULL);
  return t;
}

static void trial_end(trial *t) {
  free(t->rig);
  free(t->model);
  free(t->motion);
  scene_done(&t->t);
}

// The code as a rig, its blocks put in order without regard to speeds. @return false when no order exists
static bool write_out(trial *t, const fhi_code *code) {
  char why[200];
  fhi_code c = *code;
  fhi_solved still = {.hand = 1.0};
  fhi_placed placed;
  for (int i = 0; i < FHI_STRANDS; i++) {
    still.start[i] = 1.0;
  }
  c.e[0].piece = 0;
  for (int i = 1; i <= c.n; i++) {
    c.e[i].piece = 1;
  }
  if (!fhi_code_place(t->t.scene, &c, &still, 5.0, &placed)) {
    return false;
  }
  fhi_code_rig(t->t.scene, t->t.gear, &t->stock, &c, &placed, t->rig);
  assert_true(fhi_model_compile(t->t.scene, t->t.gear, t->rig, t->model, why, sizeof why));
  assert_status(fhi_motion_solve(t->rig, t->model, t->motion), FH_OK);
  return true;
}

static bool idle(const trial *t) {
  for (int c = 0; c < t->model->contact_count; c++) {
    const fhi_contact *k = &t->model->contacts[c];
    if (!k->slack && fabs(t->motion->rate[c]) < 1e-9) {
      return true;
    }
  }
  return false;
}

static void same_forces(trial *t, fhi_code code, fhi_solved *s) {
  double factor[FHI_CLASSES], tension[FH_MAX_STRANDS], ratio[FHI_MAX_CONTACTS], residual;
  fhi_shape shape;
  fhi_factors f;
  for (int i = 0; i < FHI_CLASSES; i++) {
    factor[i] = i == 0 ? 1.25 : 2.0;
  }
  code.e[0].piece = 0;
  for (int i = 1; i <= code.n; i++) {
    code.e[i].piece = 1;
  }
  fhi_shape_in_line(t->model, &shape);
  fhi_factors_fill(t->model, t->t.scene, &f);
  memcpy(ratio, f.likely, sizeof ratio);
  fh_outcome outcome = fhi_force_solve(t->model, t->motion, 1, ratio, &shape, 0, tension, &residual);
  bool good = fhi_code_force(&code, factor, s);
  if (good && outcome == FH_OUTCOME_SOLVED) {
    assert_close(s->start[0], 1.0 / tension[t->model->hand_strand], 1e-9);
    t->sound++;
  } else {
    // A strand that pushes or carries nothing is no rig; between two grips only the places tell, which are arbitrary here.
    double least = 1.0;
    for (int j = 0; j < t->model->strand_count; j++) {
      least = t->model->strands[j].slack ? least : fmin(least, tension[j]);
    }
    assert_true(outcome != FH_OUTCOME_SOLVED || least < 1e-9);
    t->pushing++;
  }
}

static void each_code_moves_and_pulls_as_the_rig_that_it_writes(void **state) {
  (void)state;
  trial t = trial_start();
  for (int ties = 0; ties <= 1; ties++) {
    for (int n = ties; n <= 3; n++) {
      int on_count = n + 3, base = 4 * on_count;
      long all = n == 0 ? 1 : n == 1 ? base : n == 2 ? (long)base * base : (long)base * base * base;
      for (long x = 0; x < all; x++) {
        fhi_code c;
        fhi_solved s;
        memset(&c, 0, sizeof c);
        c.n = (int8_t)n;
        c.e[0].side = c.e[0].on = -1;
        for (long i = 1, rest = x; i <= n; i++, rest /= base) {
          long one = rest % base;
          c.e[i] = (fhi_element){(int8_t)(one % 2), (int8_t)(one / 2 % 2 == 0 ? -1 : 1), (int8_t)(one / 4 - 1), 0};
          c.ties = (int8_t)(c.ties + c.e[i].tie);
        }
        for (int hand = 0; hand < 2; hand++) {
          if (c.ties != ties || !give_hand(&c, hand) || !may_be(&c) || !write_out(&t, &c)) {
            continue;
          }
          bool sound = fhi_code_motion(&c, &s);
          bool model_sound = t.motion->outcome == FH_OUTCOME_SOLVED && !idle(&t);
          assert_int_equal(sound, model_sound);
          if (sound) {
            assert_close(s.hand, t.motion->hand, 1e-9);
            same_forces(&t, c, &s);
          } else {
            t.unsound++;
          }
        }
      }
    }
  }
  // The counts show that nothing was skipped over: some of each sort.
  assert_true(t.sound > 40 && t.unsound > 100 && t.pushing > 20);
  trial_end(&t);
}

// ---------------------------------------------------------------------------------------------------- order

// Whether some order of the bodies along the line has every strand run the way it should: all permutations.
static bool some_order(const fhi_code *c) {
  int movable[MAX_N], m = 0, place[MAX_N + 2];
  for (int i = 1; i <= c->n; i++) {
    if (c->e[i].on >= 0) {
      movable[m++] = i;
    }
  }
  long orders = 1;
  for (int i = 0; i <= m; i++) {
    orders *= m + 1;
  }
  for (long x = 0; x < orders; x++) {
    // A rank for the station and each movable element, 1 .. m + 1; equal ranks are no order.
    long rest = x;
    int station = 1 + (int)(rest % (m + 1));
    bool good = true;
    for (int i = 0; i <= c->n; i++) {
      place[i] = station;
    }
    for (int k = 0; k < m; k++) {
      rest /= m + 1;
      place[movable[k]] = 1 + (int)(rest % (m + 1));
      good = good && place[movable[k]] != station;
      for (int l = 0; l < k; l++) {
        good = good && place[movable[k]] != place[movable[l]];
      }
    }
    for (int j = 0; j <= c->n + 1 && good; j++) {
      int from = j == 0 ? 0 : place[j - 1];
      bool open = j == c->n + 1 || (j > 0 && c->e[j].tie);
      int to = open ? (runs(c, j) > 0 ? 99 : -99) : place[j];
      good = open || (runs(c, j) > 0 ? from < to : from > to);
      for (int k = 0; k < m; k++) {
        int at = place[movable[k]];
        good = good && (c->e[movable[k]].on != j || (runs(c, j) > 0 ? at > from && at < to : at < from && at > to));
      }
    }
    if (good) {
      return true;
    }
  }
  return false;
}

static void a_code_can_be_laid_out_when_some_order_fits(void **state) {
  (void)state;
  int with = 0, without = 0;
  for (int n = 0; n <= 3; n++) {
    int base = 4 * (n + 3);
    long all = n == 0 ? 1 : n == 1 ? base : n == 2 ? (long)base * base : (long)base * base * base;
    for (long x = 0; x < all; x++) {
      fhi_code c;
      fhi_solved s;
      memset(&c, 0, sizeof c);
      memset(&s, 0, sizeof s);
      c.n = (int8_t)n;
      c.e[0].side = c.e[0].on = -1;
      for (long i = 1, rest = x; i <= n; i++, rest /= base) {
        long one = rest % base;
        c.e[i] = (fhi_element){(int8_t)(one % 2), (int8_t)(one / 2 % 2 == 0 ? -1 : 1), (int8_t)(one / 4 - 1), 0};
        c.ties = (int8_t)(c.ties + c.e[i].tie);
      }
      if (c.ties > FHI_SEARCH_TIES || !may_be(&c)) {
        continue;
      }
      bool orderable = fhi_code_orderable(&c, &s);
      assert_int_equal(orderable, some_order(&c));
      with += orderable;
      without += !orderable;
    }
  }
  assert_true(with > 400 && without > 100);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_walk_finds_what_nested_loops_find_each_once),
      cmocka_unit_test(grips_and_pieces_are_bounded_and_the_visitor_may_stop),
      cmocka_unit_test(further_ropes_have_fewer_contacts),
      cmocka_unit_test(each_code_moves_and_pulls_as_the_rig_that_it_writes),
      cmocka_unit_test(a_code_can_be_laid_out_when_some_order_fits),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
