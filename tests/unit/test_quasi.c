// SPDX-License-Identifier: MIT
// Samples are even, the same everywhere, and better than plain random ones.
#include "fh_test.h"

#include "quasi.h"
#include "sample.h"

static fhi_sampler sampler;

static void a_block_is_its_samples_one_by_one(void **state) {
  (void)state;
  double u[FHI_QUASI_LANES];
  fhi_sampler_start(&sampler, 7, FHI_QUASI_DIMS);
  for (int d = 0; d < FHI_QUASI_DIMS; d++) {
    for (uint32_t b = 0; b < 67000000; b = b * 3 + 1) {
      fhi_sampler_block(&sampler, d, b, u);
      for (uint32_t l = 0; l < FHI_QUASI_LANES; l++) {
        assert_exact(u[l], fhi_sampler_one(&sampler, d, b * FHI_QUASI_LANES + l));
        assert_true(u[l] > 0.0 && u[l] < 1.0);
      }
    }
  }
}

// Of 2^k points each of 2^k equal parts of an axis holds exactly one: what makes it a net, whatever the scramble.
static void every_part_of_every_axis_holds_one_point(void **state) {
  (void)state;
  enum { N = 1024 };
  for (uint64_t seed = 1; seed < 4; seed++) {
    fhi_sampler_start(&sampler, seed, FHI_QUASI_DIMS);
    for (int d = 0; d < FHI_QUASI_DIMS; d++) {
      int count[N] = {0};
      for (uint32_t i = 0; i < N; i++) {
        count[(int)(fhi_sampler_one(&sampler, d, i) * N)]++;
      }
      for (int i = 0; i < N; i++) {
        assert_int_equal(count[i], 1);
      }
    }
  }
}

// The first two dimensions are a (0, 2)-sequence (Sobol 1967): of 256 points every box of area 1/256 holds one.
static void the_first_two_dimensions_fill_every_box(void **state) {
  (void)state;
  fhi_sampler_start(&sampler, 3, 2);
  for (int k = 0; k <= 8; k++) {
    int count[256] = {0}, columns = 1 << k, rows = 256 >> k;
    for (uint32_t i = 0; i < 256; i++) {
      int x = (int)(fhi_sampler_one(&sampler, 0, i) * columns), y = (int)(fhi_sampler_one(&sampler, 1, i) * rows);
      count[y * columns + x]++;
    }
    for (int i = 0; i < 256; i++) {
      assert_int_equal(count[i], 1);
    }
  }
}

static double root_mean_square(bool quasi, int n) {
  double square = 0.0;
  uint64_t state = 99;
  enum { DIMS = 6, SEEDS = 32 };
  for (uint64_t seed = 0; seed < SEEDS; seed++) {
    double sum = 0.0;
    fhi_sampler_start(&sampler, seed, DIMS);
    for (int i = 0; i < n; i++) {
      double f = 1.0;
      for (int d = 0; d < DIMS; d++) {
        double u = quasi ? fhi_sampler_one(&sampler, d, (uint32_t)i) : fhi_random_unit(&state);
        f *= 1.0 + (u - 0.5) / (1.0 + d);  // mean exactly 1
      }
      sum += f / n;
    }
    square += (sum - 1.0) * (sum - 1.0) / SEEDS;
  }
  return sqrt(square);
}

// Plain sampling: error falls with the root of n, so 16 times as many points make it 4 times smaller. Quasi-random: faster.
static void its_error_falls_faster_than_that_of_plain_samples(void **state) {
  (void)state;
  double quasi = root_mean_square(true, 256) / root_mean_square(true, 4096);
  double plain = root_mean_square(false, 256) / root_mean_square(false, 4096);
  print_message("error at 256 over error at 4096 points: quasi-random %.1f, plain %.1f; at 4096: %.2g against %.2g\n", quasi, plain,
                root_mean_square(true, 4096), root_mean_square(false, 4096));
  assert_within(plain, 2.5, 6.0);
  assert_true(quasi > 10.0);
  assert_true(root_mean_square(true, 4096) < 0.05 * root_mean_square(false, 4096));
}

static void a_further_unknown_does_not_move_the_others(void **state) {
  (void)state;
  static fhi_sampler more;
  fhi_sampler_start(&sampler, 5, 3);
  fhi_sampler_start(&more, 5, 9);
  for (int d = 0; d < 3; d++) {
    for (uint32_t i = 0; i < 200; i++) {
      assert_exact(fhi_sampler_one(&sampler, d, i), fhi_sampler_one(&more, d, i));
    }
  }
}

// The same bits with every compiler and flag: FNV-1a of 2^12 points in 64 dimensions, found once with gcc -O2.
static void the_points_are_the_same_on_every_machine(void **state) {
  (void)state;
  uint64_t hash = 0xcbf29ce484222325ULL;
  fhi_sampler_start(&sampler, 1, FHI_QUASI_DIMS);
  for (int d = 0; d < FHI_QUASI_DIMS; d++) {
    for (uint32_t i = 0; i < 4096; i++) {
      double u = fhi_sampler_one(&sampler, d, i);
      uint64_t bits;
      memcpy(&bits, &u, sizeof bits);
      hash = (hash ^ bits) * 0x100000001b3ULL;
    }
  }
  assert_true(hash == 0x611e0e518f522325ULL);
}

static void lanes_give_what_numbers_give_one_by_one(void **state) {
  (void)state;
  const fh_number numbers[] = {{FH_SPREAD_UNIFORM, 2.0, 3.0, 4.0, 0.0, 0, 0}, {FH_SPREAD_TRIANGLE, 1.0, 1.5, 4.0, 0.0, 0, 0},
                               {FH_SPREAD_TRIANGLE, 1.0, 1.0, 4.0, 0.0, 0, 0}, {FH_SPREAD_TRIANGLE, 1.0, 4.0, 4.0, 0.0, 0, 0},
                               {FH_SPREAD_NORMAL, 1.0, 2.0, 3.0, 0.5, 0, 0}, fh_number_exact(2.0)};
  double u[FHI_QUASI_LANES], x[FHI_QUASI_LANES];
  fhi_sampler_start(&sampler, 2, 1);
  for (size_t k = 0; k < sizeof numbers / sizeof *numbers; k++) {
    for (uint32_t b = 0; b < 50; b++) {
      fhi_sampler_block(&sampler, 0, b, u);
      fhi_number_lanes(numbers[k], 0.5, 3.5, u, FHI_QUASI_LANES, x);
      for (int l = 0; l < FHI_QUASI_LANES; l++) {
        assert_exact(x[l], fhi_sample_number(numbers[k], 0.5, 3.5, u[l]));
      }
    }
  }
}

// Quantiles of the normal distribution (any statistics table): 0.975 at 1.959964, 0.999 at 3.090232.
static void normal_quantiles_are_the_tables(void **state) {
  (void)state;
  assert_near(fhi_normal_inverse(0.975), 1.959963984540054, 1e-13);
  assert_near(fhi_normal_inverse(0.001), -3.090232306167813, 1e-12);
  for (double u = 1e-12; u < 1.0; u = u < 0.1 ? u * 3.0 : u + 0.07) {
    assert_close(0.5 * erfc(-fhi_normal_inverse(u) / sqrt(2.0)), u, 1e-11);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_block_is_its_samples_one_by_one),
      cmocka_unit_test(every_part_of_every_axis_holds_one_point),
      cmocka_unit_test(the_first_two_dimensions_fill_every_box),
      cmocka_unit_test(its_error_falls_faster_than_that_of_plain_samples),
      cmocka_unit_test(a_further_unknown_does_not_move_the_others),
      cmocka_unit_test(the_points_are_the_same_on_every_machine),
      cmocka_unit_test(lanes_give_what_numbers_give_one_by_one),
      cmocka_unit_test(normal_quantiles_are_the_tables),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
