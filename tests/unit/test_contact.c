// SPDX-License-Identifier: MIT
// Published numbers of bends: tests/check/contact.check. Here: identities, a second method, refusals.
#include "fh_test.h"

static const double PI = 3.14159265358979323846;

static double ratio(bool sheave, double eta, double share, double wrap) {
  double k = (double)NAN;
  assert_status(fh_contact_ratio(sheave, eta, share, wrap, &k), FH_OK);
  return k;
}

static void a_half_turn_keeps_exactly_the_efficiency(void **state) {
  (void)state;
  for (double eta = 0.05; eta <= 1.0; eta += 0.05) {
    for (double share = 0.0; share <= 1.0; share += 0.25) {
      assert_exact(ratio(false, eta, share, PI), 1.0 / eta);
      assert_exact(ratio(true, eta, share, PI), 1.0 / eta);
    }
  }
}

// The shortcut at a half turn is what the laws come to.
static void a_half_turn_is_the_limit_of_the_laws(void **state) {
  (void)state;
  for (double eta = 0.1; eta < 1.0; eta += 0.1) {
    assert_close(ratio(true, eta, 0.3, PI - 1e-9), 1.0 / eta, 1e-8);
    assert_close(ratio(false, eta, 0.3, PI - 1e-9), 1.0 / eta, 1e-8);
  }
}

static void no_wrap_and_no_loss_cost_nothing(void **state) {
  (void)state;
  assert_exact(ratio(false, 0.5, 0.4, 0.0), 1.0);
  assert_exact(ratio(true, 0.5, 0.4, 0.0), 1.0);
  for (double wrap = 0.0; wrap <= PI; wrap += 0.1) {
    assert_exact(ratio(false, 1.0, 0.5, wrap), 1.0);
    assert_exact(ratio(true, 1.0, 0.5, wrap), 1.0);
  }
}

static void a_bar_without_share_is_belt_friction(void **state) {
  (void)state;
  for (double eta = 0.06; eta < 1.0; eta += 0.07) {
    for (double wrap = 0.01; wrap < 20.0; wrap *= 1.7) {
      double belt = (double)NAN;
      assert_status(fh_edge_ratio(-log(eta) / PI, wrap, &belt), FH_OK);
      assert_close(ratio(false, eta, 0.0, wrap), belt, 1e-13);
    }
  }
}

static void with_share_one_every_bend_costs_the_same(void **state) {
  (void)state;
  for (double wrap = 0.01; wrap < PI; wrap += 0.1) {
    assert_close(ratio(false, 0.6, 1.0, wrap), 1.0 / 0.6, 1e-14);
    assert_close(ratio(true, 0.6, 1.0, wrap), 1.0 / 0.6, 1e-14);
  }
}

// Put back in the equation as the model writes it: ln k = -ln(eta) [ s + (1 - s) R / (1 + k) ], R by the law of cosines.
static void a_sheave_answers_its_own_equation(void **state) {
  (void)state;
  for (double eta = 0.05; eta < 1.0; eta += 0.0237) {
    for (double share = 0.0; share <= 1.0; share += 0.1) {
      for (double wrap = 0.002; wrap < PI; wrap += 0.031) {
        double k = ratio(true, eta, share, wrap);
        double r = fh_resultant(1.0, k, wrap);
        assert_near(log(k), -log(eta) * (share + (1.0 - share) * r / (1.0 + k)), 4e-14);
      }
    }
  }
}

// The same root by 200 rounds of plain halving: slow, but it cannot go astray.
static double sheave_by_halving(double eta, double share, double wrap) {
  double loss = -log(eta), lo = 0.0, hi = loss;
  for (int i = 0; i < 200; i++) {
    double x = 0.5 * (lo + hi), k = exp(x);
    double r = sqrt(fmax(0.0, 1.0 + k * k - 2.0 * k * cos(wrap)));
    *(x > loss * (share + (1.0 - share) * r / (1.0 + k)) ? &hi : &lo) = x;
  }
  return exp(0.5 * (lo + hi));
}

static void a_sheave_agrees_with_plain_halving(void **state) {
  (void)state;
  for (double eta = 0.05; eta < 1.0; eta += 0.019) {
    for (double share = 0.0; share < 1.0; share += 0.19) {
      for (double wrap = 0.05; wrap < PI; wrap += 0.083) {
        assert_close(ratio(true, eta, share, wrap), sheave_by_halving(eta, share, wrap), 1e-11);
      }
    }
  }
}

static void more_wrap_and_more_loss_never_help(void **state) {
  (void)state;
  for (int sheave = 0; sheave <= 1; sheave++) {
    double before = 1.0;
    for (double wrap = 0.001; wrap < PI; wrap += 0.01) {
      double k = ratio(sheave == 1, 0.55, 0.4, wrap);
      assert_true(k >= before);
      assert_true(ratio(sheave == 1, 0.50, 0.4, wrap) > k);
      assert_true(k >= 1.0 && k <= 1.0 / 0.55 + 1e-15);
      before = k;
    }
  }
}

static void a_bad_argument_is_refused_and_leaves_the_answer_alone(void **state) {
  (void)state;
  double nan_ = (double)NAN, inf = (double)INFINITY, k = 7.0;
  static const double BAD[][3] = {{0.049, 0.5, 1.0}, {1.01, 0.5, 1.0}, {0.9, -0.1, 1.0}, {0.9, 1.1, 1.0}, {0.9, 0.5, -0.1}};
  for (size_t i = 0; i < sizeof BAD / sizeof *BAD; i++) {
    assert_status(fh_contact_ratio(false, BAD[i][0], BAD[i][1], BAD[i][2], &k), FH_ERR_ARG);
    assert_status(fh_contact_ratio(true, BAD[i][0], BAD[i][1], BAD[i][2], &k), FH_ERR_ARG);
  }
  assert_status(fh_contact_ratio(true, 0.9, 0.5, 3.2, &k), FH_ERR_ARG);  // a sheave has no second turn
  assert_status(fh_contact_ratio(false, 0.9, 0.5, 100.1, &k), FH_ERR_ARG);
  assert_status(fh_contact_ratio(false, nan_, 0.5, 1.0, &k), FH_ERR_ARG);
  assert_status(fh_contact_ratio(false, 0.9, nan_, 1.0, &k), FH_ERR_ARG);
  assert_status(fh_contact_ratio(false, 0.9, 0.5, nan_, &k), FH_ERR_ARG);
  assert_status(fh_contact_ratio(false, 0.9, 0.5, inf, &k), FH_ERR_ARG);
  assert_status(fh_contact_ratio(false, 0.9, 0.5, 1.0, NULL), FH_ERR_ARG);
  assert_status(fh_edge_ratio(-0.1, 1.0, &k), FH_ERR_ARG);
  assert_status(fh_edge_ratio(5.1, 1.0, &k), FH_ERR_ARG);
  assert_status(fh_edge_ratio(0.3, -0.1, &k), FH_ERR_ARG);
  assert_status(fh_edge_ratio(0.3, 101.0, &k), FH_ERR_ARG);
  assert_status(fh_edge_ratio(nan_, 1.0, &k), FH_ERR_ARG);
  assert_status(fh_edge_ratio(0.3, nan_, &k), FH_ERR_ARG);
  assert_status(fh_edge_ratio(0.3, 1.0, NULL), FH_ERR_ARG);
  assert_exact(k, 7.0);
}

static void the_worst_allowed_edge_is_still_a_number(void **state) {
  (void)state;
  double k = 0.0;
  assert_status(fh_edge_ratio(5.0, 100.0, &k), FH_OK);
  assert_close(k, 1.4035922178528375e217, 1e-10);  // e^500
  assert_status(fh_contact_ratio(false, 0.05, 0.0, 100.0, &k), FH_OK);
  assert_true(k < 1e42);
}

static void a_resultant_follows_the_law_of_cosines(void **state) {
  (void)state;
  for (double a = 0.0; a < 2000.0; a += 171.0) {
    for (double wrap = 0.0; wrap <= PI; wrap += 0.1) {
      double b = 640.0, law = sqrt(fmax(0.0, a * a + b * b - 2.0 * a * b * cos(wrap)));
      assert_near(fh_resultant(a, b, wrap), law, 1e-4);  // the law loses half its digits where the strands cancel
      assert_exact(fh_resultant(a, b, wrap), fh_resultant(b, a, wrap));
    }
  }
  assert_close(fh_resultant(300.0, 200.0, PI), 500.0, 1e-15);
  assert_close(fh_resultant(300.0, 200.0, 0.0), 100.0, 1e-15);
  assert_close(fh_resultant(1000.0, 1000.0, 1e-6), 1e-3, 1e-9);  // where the law of cosines itself has no digit left
}

static void no_resultant_of_what_is_no_tension(void **state) {
  (void)state;
  assert_nan(fh_resultant(-1.0, 1.0, 1.0));
  assert_nan(fh_resultant(1.0, -1.0, 1.0));
  assert_nan(fh_resultant(1.0, 1.0, -0.1));
  assert_nan(fh_resultant(1.0, 1.0, 3.2));
  assert_nan(fh_resultant((double)NAN, 1.0, 1.0));
  assert_nan(fh_resultant(1.0, (double)INFINITY, 1.0));
}

static void two_legs_balance_the_load(void **state) {
  (void)state;
  for (double angle = 0.0; angle < 3.1; angle += 0.05) {
    assert_close(2.0 * fh_leg_tension(angle) * cos(0.5 * angle), 1.0, 1e-14);
  }
  assert_nan(fh_leg_tension(PI));
  assert_nan(fh_leg_tension(-0.01));
  assert_nan(fh_leg_tension((double)NAN));
}

// At one point of the closed triangle: the leg's pull (down and inward) and the top strand's (inward), added as vectors.
static void a_closed_triangle_is_a_sum_of_two_pulls(void **state) {
  (void)state;
  for (double angle = 0.0; angle < 3.1; angle += 0.05) {
    double t = fh_leg_tension(angle);
    double in = t * sin(0.5 * angle) + t, down = t * cos(0.5 * angle);
    assert_close(fh_leg_triangle(angle), sqrt(in * in + down * down), 1e-13);
  }
  assert_nan(fh_leg_triangle(PI));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_half_turn_keeps_exactly_the_efficiency),
      cmocka_unit_test(a_half_turn_is_the_limit_of_the_laws),
      cmocka_unit_test(no_wrap_and_no_loss_cost_nothing),
      cmocka_unit_test(a_bar_without_share_is_belt_friction),
      cmocka_unit_test(with_share_one_every_bend_costs_the_same),
      cmocka_unit_test(a_sheave_answers_its_own_equation),
      cmocka_unit_test(a_sheave_agrees_with_plain_halving),
      cmocka_unit_test(more_wrap_and_more_loss_never_help),
      cmocka_unit_test(a_bad_argument_is_refused_and_leaves_the_answer_alone),
      cmocka_unit_test(the_worst_allowed_edge_is_still_a_number),
      cmocka_unit_test(a_resultant_follows_the_law_of_cosines),
      cmocka_unit_test(no_resultant_of_what_is_no_tension),
      cmocka_unit_test(two_legs_balance_the_load),
      cmocka_unit_test(a_closed_triangle_is_a_sum_of_two_pulls),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
