// SPDX-License-Identifier: MIT
// The front: what no other beats, against the plain definition, and the steps in which a person could tell rigs apart.
#include "scenes.h"

#include "plan.h"

static uint64_t seed = 7;

static int pick(int count) {
  seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
  return (int)((seed >> 33) % (uint64_t)count);
}

static void random_list(fhi_candidate *list, int count, int steps) {
  memset(list, 0, (size_t)count * sizeof *list);
  for (int i = 0; i < count; i++) {
    list[i].code.n = (int8_t)pick(4);
    list[i].code.start = (int8_t)pick(3);
    list[i].plan = i;  // so that each can be told apart
    for (int k = 0; k < 5; k++) {
      list[i].key[k] = pick(steps);
    }
  }
}

static bool as_good(const fhi_candidate *a, const fhi_candidate *b) {
  for (int k = 0; k < 5; k++) {
    if (a->key[k] > b->key[k]) {
      return false;
    }
  }
  return true;
}

static bool same_key(const fhi_candidate *a, const fhi_candidate *b) {
  return as_good(a, b) && as_good(b, a);
}

static void the_front_is_what_no_other_is_as_good_as(void **state) {
  (void)state;
  enum { COUNT = 200 };
  fhi_candidate list[COUNT], before[COUNT];
  for (int round = 0; round < 30; round++) {
    random_list(list, COUNT, 3 + round);
    memcpy(before, list, sizeof before);
    size_t front = fhi_front(list, COUNT);
    bool seen[COUNT] = {false};
    for (int i = 0; i < COUNT; i++) {
      assert_false(seen[list[i].plan]);  // moved about, none lost
      seen[list[i].plan] = true;
    }
    for (int i = 0; i < COUNT; i++) {
      // In the plain words: it stays when no other is at least as good in everything and better in something.
      bool beaten = false, kept = false;
      for (int k = 0; k < COUNT; k++) {
        beaten = beaten || (as_good(&before[k], &before[i]) && !same_key(&before[k], &before[i]));
      }
      for (size_t f = 0; f < front; f++) {
        kept = kept || same_key(&list[f], &before[i]);
      }
      assert_int_equal(kept, !beaten);
    }
    for (size_t a = 0; a < front; a++) {
      for (size_t b = 0; b < front; b++) {
        assert_true(a == b || !as_good(&list[a], &list[b]));  // of equals, one
      }
    }
  }
}

static void of_equal_rigs_the_one_with_fewer_elements_stays(void **state) {
  (void)state;
  fhi_candidate list[3];
  memset(list, 0, sizeof list);
  list[0].code.n = 3;
  list[1].code.n = 1;
  list[1].code.start = 2;
  list[2].code.n = 1;
  list[2].code.start = 1;
  assert_int_equal(fhi_front(list, 3), 1);
  assert_int_equal(list[0].code.n, 1);
  assert_int_equal(list[0].code.start, 1);  // and then the same one on every machine
}

static void the_order_of_the_list_does_not_matter(void **state) {
  (void)state;
  enum { COUNT = 60 };
  fhi_candidate one[COUNT], two[COUNT];
  random_list(one, COUNT, 6);
  for (int i = 0; i < COUNT; i++) {
    two[i] = one[COUNT - 1 - i];
  }
  size_t a = fhi_front(one, COUNT), b = fhi_front(two, COUNT);
  assert_int_equal(a, b);
  for (size_t i = 0; i < a; i++) {
    assert_memory_equal(one[i].key, two[i].key, sizeof one[i].key);
    assert_memory_equal(&one[i].code, &two[i].code, sizeof one[i].code);
  }
}

static void an_empty_list_has_no_front(void **state) {
  (void)state;
  assert_int_equal(fhi_front(NULL, 0), 0);
}

static void small_differences_are_none(void **state) {
  (void)state;
  fhi_candidate a = {.pieces = 4, .hand_force = 300.0, .time = 601.0, .rope = 40.2, .margin = 3.0}, b = a;
  fhi_front_key(&a);
  b.hand_force = 301.0;
  b.time = 620.0;
  b.rope = 40.9;
  fhi_front_key(&b);
  assert_true(same_key(&a, &b));
  b.hand_force = 340.0;  // 13 % more pull
  fhi_front_key(&b);
  assert_true(as_good(&a, &b) && !same_key(&a, &b));
  b = a;
  b.time = 660.0;
  fhi_front_key(&b);
  assert_true(as_good(&a, &b) && !same_key(&a, &b));
  b = a;
  b.rope = 41.3;
  fhi_front_key(&b);
  assert_true(as_good(&a, &b) && !same_key(&a, &b));
  b = a;
  b.margin = 2.0;
  fhi_front_key(&b);
  assert_true(as_good(&a, &b) && !same_key(&a, &b));
  a.margin = 4.5;  // beyond four all margins are alike
  b.margin = 40.0;
  fhi_front_key(&a);
  fhi_front_key(&b);
  assert_int_equal(a.key[4], b.key[4]);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_front_is_what_no_other_is_as_good_as),
      cmocka_unit_test(of_equal_rigs_the_one_with_fewer_elements_stays),
      cmocka_unit_test(the_order_of_the_list_does_not_matter),
      cmocka_unit_test(an_empty_list_has_no_front),
      cmocka_unit_test(small_differences_are_none),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
