// SPDX-License-Identifier: MIT
// The least-squares solver and its covariance against NIST's reference data for nonlinear regression (Statistical Reference
// Datasets, itl.nist.gov/div898/strd): Misra1a (lower difficulty), Thurber and MGH09 (higher), from both published starts.
// Data, starts and certified values as other programs' tests carry them; NIST's own pages were not read.
#include "fh_test.h"

#include "fit.h"
#include "lm.h"

enum { MOST = 40, PARAMETERS = 7 };

typedef struct dataset {
  const char *name;
  double (*model)(const double *b, double x);
  int m, n;
  const double *x, *y;
  double start[2][PARAMETERS], certified[PARAMETERS], deviation[PARAMETERS], squares;
} dataset;

static double misra1a(const double *b, double x) {
  return b[0] * (1.0 - exp(-b[1] * x));
}

static double mgh09(const double *b, double x) {
  return b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]);
}

static double thurber(const double *b, double x) {
  return (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1.0 + x * (b[4] + x * (b[5] + x * b[6])));
}

static const double MISRA_X[] = {77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};
static const double MISRA_Y[] = {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};
static const double MGH_X[] = {4.0, 2.0, 1.0, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625};
static const double MGH_Y[] = {0.1957, 0.1947, 0.1735, 0.1600, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246};
static const double THURBER_X[] = {-3.067, -2.981, -2.921, -2.912, -2.840, -2.797, -2.702, -2.699, -2.633, -2.481, -2.363, -2.322, -1.501,
                                   -1.460, -1.274, -1.212, -1.100, -1.046, -0.915, -0.714, -0.566, -0.545, -0.400, -0.309, -0.109, -0.103,
                                   0.010,  0.119,  0.377,  0.790,  0.963,  1.006,  1.115,  1.572,  1.841,  2.047,  2.200};
static const double THURBER_Y[] = {80.574,   84.248,   87.264,   87.195,   89.076,   89.608,   89.868,   90.101,   92.405,   95.854,
                                   100.696,  101.060,  401.672,  390.724,  567.534,  635.316,  733.054,  759.087,  894.206,  990.785,
                                   1090.109, 1080.914, 1122.643, 1178.351, 1260.531, 1273.514, 1288.339, 1327.543, 1353.863, 1414.509,
                                   1425.208, 1421.384, 1442.962, 1464.350, 1468.705, 1447.894, 1457.628};

static const dataset SETS[] = {
    {"Misra1a", misra1a, 14, 2, MISRA_X, MISRA_Y, {{500.0, 0.0001}, {250.0, 0.0005}}, {2.3894212918E+02, 5.5015643181E-04},
     {2.7070075241E+00, 7.2668688436E-06}, 1.2455138894E-01},
    {"MGH09", mgh09, 11, 4, MGH_X, MGH_Y, {{25.0, 39.0, 41.5, 39.0}, {0.25, 0.39, 0.415, 0.39}},
     {1.9280693458E-01, 1.9128232873E-01, 1.2305650693E-01, 1.3606233068E-01},
     {1.1435312227E-02, 1.9633220911E-01, 8.0842031232E-02, 9.0025542308E-02}, 3.0750560385E-04},
    {"Thurber", thurber, 37, 7, THURBER_X, THURBER_Y, {{1000.0, 1000.0, 400.0, 40.0, 0.7, 0.3, 0.03}, {1300.0, 1500.0, 500.0, 75.0, 1.0, 0.4, 0.05}},
     {1.2881396800E+03, 1.4910792535E+03, 5.8323836877E+02, 7.5416644291E+01, 9.6629502864E-01, 3.9797285797E-01, 4.9727297349E-02},
     {4.6647963344E+00, 3.9571156086E+01, 2.8698696102E+01, 5.5675370270E+00, 3.1333340687E-02, 1.4984928198E-02, 6.5842344623E-03},
     5.6427082397E+03},
};

static bool residuals(void *user, int m, int n, const double *b, double *r) {
  const dataset *d = user;
  (void)n;
  for (int i = 0; i < m; i++) {
    r[i] = d->y[i] - d->model(b, d->x[i]);
    if (!isfinite(r[i])) {
      return false;
    }
  }
  return true;
}

static void one(const dataset *d, int start) {
  double b[PARAMETERS], r[MOST], scratch[2 * MOST], jacobian[MOST * PARAMETERS], cov[PARAMETERS * PARAMETERS], squares = 0.0;
  void *user = (void *)(uintptr_t)d;
  memcpy(b, d->start[start], sizeof b);
  assert_true(cli_lm_solve(residuals, user, d->m, d->n, b));
  assert_true(residuals(user, d->m, d->n, b, r));
  for (int i = 0; i < d->m; i++) {
    squares += r[i] * r[i];
  }
  assert_true(fhi_fit_slopes(residuals, user, d->m, d->n, b, scratch, jacobian));
  assert_true(fhi_fit_inverse(jacobian, d->m, d->n, cov));
  double scatter = squares / (d->m - d->n), worst = 0.0, worst_sd = 0.0;
  for (int k = 0; k < d->n; k++) {
    worst = fmax(worst, fabs(b[k] / d->certified[k] - 1.0));
    worst_sd = fmax(worst_sd, fabs(sqrt(scatter * cov[k * d->n + k]) / d->deviation[k] - 1.0));
  }
  print_message("%-8s start %d: parameters off by %.1e, deviations by %.1e, squares by %.1e\n", d->name, start + 1, worst, worst_sd,
                fabs(squares / d->squares - 1.0));
  assert_true(worst <= 1e-6);     // eleven digits are certified; the slopes here are differences
  assert_true(worst_sd <= 1e-5);
  assert_close(squares, d->squares, 1e-9);
}

static void certified_values_from_both_starts(void **state) {
  (void)state;
  assert_true(cli_lm_is_there());
  for (size_t i = 0; i < sizeof SETS / sizeof *SETS; i++) {
    one(&SETS[i], 0);
    one(&SETS[i], 1);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(certified_values_from_both_starts)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
