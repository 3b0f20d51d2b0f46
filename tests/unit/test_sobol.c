// SPDX-License-Identifier: MIT
// Which input matters: Ishigami's function, whose indices are known in closed form (Ishigami & Homma 1990, from memory;
// the closed forms below are checked by the sum of the parts).
#include "fh_test.h"

#include "memory.h"
#include "sobol.h"

static const double PI = 3.14159265358979323846;
static const double A = 7.0, B = 0.1;

static void ishigami(void *user, const double *u, double *y) {
  (void)user;
  for (int l = 0; l < FHI_QUASI_LANES; l++) {
    double x1 = (2.0 * u[l] - 1.0) * PI, x2 = (2.0 * u[FHI_QUASI_LANES + l] - 1.0) * PI, x3 = (2.0 * u[2 * FHI_QUASI_LANES + l] - 1.0) * PI;
    y[l] = sin(x1) + A * sin(x2) * sin(x2) + B * x3 * x3 * x3 * x3 * sin(x1);
    y[FHI_QUASI_LANES + l] = 1e6 + x2;  // a second result: one input alone, far from zero
  }
}

static void ishigamis_indices(void **state) {
  (void)state;
  double alone[6], total[6];
  double v1 = 0.5 * pow(1.0 + B * pow(PI, 4) / 5.0, 2), v2 = A * A / 8.0, v13 = B * B * pow(PI, 8) * (1.0 / 18.0 - 1.0 / 50.0), v = v1 + v2 + v13;
  assert_close(v, A * A / 8.0 + B * pow(PI, 4) / 5.0 + B * B * pow(PI, 8) / 18.0 + 0.5, 1e-12);
  // Printed in many places: 0.3139, 0.4424, 0; 0.5576, 0.4424, 0.2437.
  assert_near(v1 / v, 0.3139, 5e-5);
  assert_near(v2 / v, 0.4424, 5e-5);
  assert_near(v13 / v, 0.2437, 5e-5);
  fhi_sobol_job job = {3, 2, 256, 1, ishigami, NULL};
  assert_status(fhi_sobol_indices(&job, alone, total), FH_OK);
  print_message("alone %.4f %.4f %.4f, total %.4f %.4f %.4f\n", alone[0], alone[2], alone[4], total[0], total[2], total[4]);
  // 16,384 points: a standard error near 0.003 was seen over seeds; four of them.
  assert_near(alone[0], v1 / v, 0.012);
  assert_near(alone[2], v2 / v, 0.012);
  assert_near(alone[4], 0.0, 0.012);
  assert_near(total[0], (v1 + v13) / v, 0.012);
  assert_near(total[2], v2 / v, 0.012);
  assert_near(total[4], v13 / v, 0.012);
  // The second result hangs on the second input alone, whatever its mean.
  assert_near(alone[1], 0.0, 0.01);
  assert_near(alone[3], 1.0, 1e-9);
  assert_near(total[3], 1.0, 0.01);
  assert_near(total[5], 0.0, 1e-9);
}

static void flat(void *user, const double *u, double *y) {
  (void)user;
  (void)u;
  for (int l = 0; l < FHI_QUASI_LANES; l++) {
    y[l] = 3.0;
  }
}

static void holes(void *user, const double *u, double *y) {
  (void)user;
  for (int l = 0; l < FHI_QUASI_LANES; l++) {
    y[l] = u[l] < 0.2 ? (double)NAN : u[l];
  }
}

static void what_does_not_vary_has_no_cause(void **state) {
  (void)state;
  double alone[2], total[2];
  fhi_sobol_job job = {2, 1, 4, 1, flat, NULL};
  assert_status(fhi_sobol_indices(&job, alone, total), FH_OK);
  assert_exact(alone[0], 0.0);
  assert_exact(total[1], 0.0);
}

static void samples_without_a_result_are_left_out(void **state) {
  (void)state;
  double alone[2], total[2];
  fhi_sobol_job job = {2, 1, 64, 1, holes, NULL};
  assert_status(fhi_sobol_indices(&job, alone, total), FH_OK);
  assert_near(total[0], 1.0, 0.1);
  assert_near(total[1], 0.0, 1e-12);
}

static void wrong_jobs_and_no_memory_are_refused(void **state) {
  (void)state;
  double alone[2], total[2];
  fhi_sobol_job job = {2, 1, 4, 1, flat, NULL}, bad = job;
  assert_status(fhi_sobol_indices(NULL, alone, total), FH_ERR_ARG);
  bad.inputs = 33;
  assert_status(fhi_sobol_indices(&bad, alone, total), FH_ERR_ARG);
  bad = job;
  bad.outputs = FHI_SOBOL_OUTPUTS + 1;
  assert_status(fhi_sobol_indices(&bad, alone, total), FH_ERR_ARG);
  bad = job;
  bad.blocks = 0;
  assert_status(fhi_sobol_indices(&bad, alone, total), FH_ERR_ARG);
  fhi_fault_after(1);
  fh_status status = fhi_sobol_indices(&job, alone, total);
  fhi_fault_after(0);
  assert_status(status, FH_ERR_MEMORY);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(ishigamis_indices),
      cmocka_unit_test(what_does_not_vary_has_no_cause),
      cmocka_unit_test(samples_without_a_result_are_left_out),
      cmocka_unit_test(wrong_jobs_and_no_memory_are_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
