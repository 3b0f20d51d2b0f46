// SPDX-License-Identifier: MIT
// Which efficiencies and which lip friction do the readings speak for, and how surely? Implements model.md, section 14.
//
// Unknown is the logarithm of each loss (-ln of an efficiency, a friction): then no value is impossible, and small losses are
// not cut off at zero. Readings err in proportion: residual = ln(read) - ln(predicted). With s^2 from the residuals, the
// intervals are s^2 (J^T J)^-1 with Student's law, exact for a straight problem; this one is nearly straight.
#include "fit.h"

#include <math.h>
#include <string.h>

#include "force.h"
#include "memory.h"
#include "text.h"

static const double LOOSE = 1.5;  // [1] standard error of a loss's logarithm: beyond a factor of four and a half nothing was learned
// [1] reading over what the catalogue's figures predict: no gear is so good or so bad, but kN for N, or kgf for N, is
static const double LEAST = 0.25, MOST = 8.0;

typedef struct rig_model {
  const fh_scene *scene;
  fhi_model model;
  fhi_motion motion;
  int fitted[FHI_MAX_CONTACTS];  // index, or -1: as the scene says
} rig_model;

typedef struct job {
  const fh_gear *gear;
  const fh_reading *readings;
  int count;
  rig_model *rigs;
  int rig_count;
  int *rig_of;
  int *used;       // readings that count, in order
  int used_count;
  fh_fit *fit;
  char *why;
  size_t size;
  bool starved;    // there was no memory
} job;

// ---------------------------------------------------------------------------------------------------- what is fitted

static int fitted_index(job *j, const char *name, int item, bool friction, fh_number catalogue) {
  fh_fit *f = j->fit;
  for (int i = 0; i < f->count; i++) {
    if (strcmp(f->fitted[i].name, name) == 0) {
      return i;
    }
  }
  if (f->count == FH_MAX_FITTED) {
    return -1;
  }
  fh_fitted *x = &f->fitted[f->count];
  *x = (fh_fitted){.item = item, .friction = friction, .catalogue = fh_number_band(catalogue)};
  (void)fhi_copy(x->name, sizeof x->name, name);
  return f->count++;
}

static bool from_catalogue(const job *j, const fhi_contact *k) {
  fh_number c = fh_gear_figure(j->gear, k->item, "efficiency", NULL);
  return fh_number_is_set(c) && c.lo == k->eta.lo && c.likely == k->eta.likely && c.hi == k->eta.hi && c.hi > c.lo;
}

static void choose_fitted(job *j, rig_model *r) {
  char name[64];
  for (int c = 0; c < r->model.contact_count; c++) {
    const fhi_contact *k = &r->model.contacts[c];
    const fh_item *item = fh_gear_item(j->gear, k->kind == FHI_EDGE ? r->scene->lip_surface : k->item);
    bool moves = !k->slack && r->motion.rate[c] != 0.0;
    r->fitted[c] = -1;
    if (k->kind == FHI_EDGE && moves && k->mu.hi > k->mu.lo) {
      (void)fhi_format(name, sizeof name, "%s: friction", item != NULL ? item->name : "lip");
      r->fitted[c] = fitted_index(j, name, r->scene->lip_surface, true, k->mu);
    } else if (k->kind != FHI_EDGE && k->kind != FHI_TENDED && moves && from_catalogue(j, k)) {
      (void)fhi_format(name, sizeof name, "%s: efficiency", item->name);
      r->fitted[c] = fitted_index(j, name, k->item, false, k->eta);
    }
  }
}

static const char *compile(job *j, const fh_scene *scene, rig_model *r) {
  r->scene = scene;
  if (!scene->has_rig) {
    return "the scene has no rig";
  }
  if (!fhi_model_compile(scene, j->gear, &scene->rig, &r->model, j->why, j->size)) {
    return j->why;
  }
  if (fhi_motion_solve(&scene->rig, &r->model, &r->motion) != FH_OK) {
    j->starved = true;
    return "out of memory";
  }
  if (r->motion.outcome != FH_OUTCOME_SOLVED) {
    return r->motion.why;
  }
  if (r->motion.coupled) {
    return "where the rope rests, friction leaves the pull of this rig open: nothing can be learned from it";
  }
  return r->model.hand_angle != 0.0 ? "the pull is at an angle: read straight pulls" : NULL;
}

static int compile_all(job *j, int *bad) {
  for (int i = 0; i < j->count; i++) {
    int at = 0;
    while (at < j->rig_count && j->rigs[at].scene != j->readings[i].scene) {
      at++;
    }
    if (at == j->rig_count) {
      const char *wrong = compile(j, j->readings[i].scene, &j->rigs[at]);
      if (wrong != NULL) {
        if (wrong != j->why) {
          (void)fhi_copy(j->why, j->size, wrong);
        }
        *bad = i;
        return false;
      }
      j->rig_count++;
      choose_fitted(j, &j->rigs[at]);
    }
    j->rig_of[i] = at;
  }
  return true;
}

// ---------------------------------------------------------------------------------------------------- prediction

static double value_of(const fh_fitted *f, double x) {
  return f->friction ? exp(x) : exp(-exp(x));
}

// The pull for one reading. @return [N], NaN when there is none at these values
static double predict(const job *j, int reading, const double *x) {
  const fh_reading *r = &j->readings[reading];
  const rig_model *m = &j->rigs[j->rig_of[reading]];
  double factor[FHI_MAX_CONTACTS], tension[FH_MAX_STRANDS], residual;
  fhi_shape shape;
  for (int c = 0; c < m->model.contact_count; c++) {
    const fhi_contact *k = &m->model.contacts[c];
    double turn = isnan(r->turn) ? r->scene->lip_turn.likely : r->turn;
    double own = k->kind == FHI_EDGE ? k->mu.likely : k->eta.likely;
    double v = m->fitted[c] >= 0 ? value_of(&j->fit->fitted[m->fitted[c]], x[m->fitted[c]]) : own;
    factor[c] = fhi_contact_factor(k, k->kind == FHI_EDGE ? v : fmin(1.0, fmax(v, 0.05)), k->share.likely, k->kind == FHI_EDGE ? turn : k->wrap);
  }
  fhi_shape_in_line(&m->model, &shape);
  if (fhi_force_solve(&m->model, &m->motion, 1, factor, &shape, 0, tension, &residual) != FH_OUTCOME_SOLVED) {
    return (double)NAN;
  }
  double load = isnan(r->load) ? r->scene->load_mass.likely * 9.80665 : r->load;
  return load * tension[m->model.hand_strand];
}

static bool residuals(void *user, int m, int n, const double *x, double *r) {
  const job *j = user;
  (void)n;
  for (int i = 0; i < m; i++) {
    double pull = predict(j, j->used[i], x);
    r[i] = log(j->readings[j->used[i]].hand / pull);
    if (!isfinite(r[i])) {
      return false;
    }
  }
  return true;
}

// ---------------------------------------------------------------------------------------------------- the fit

static void start_values(const fh_fit *f, double *x) {
  for (int i = 0; i < f->count; i++) {
    double likely = fmax(f->fitted[i].catalogue.likely, 1e-3);
    x[i] = f->fitted[i].friction ? log(likely) : log(fmax(-log(fmin(likely, 0.999)), 1e-3));
  }
}

// A reading or a load in another unit pulls the whole fit away: it is refused before, with what was expected.
static bool all_in_one_unit(job *j, int *bad) {
  double x[FH_MAX_FITTED];
  char read[48], pull[48];
  start_values(j->fit, x);
  for (int i = 0; i < j->count; i++) {
    double predicted = predict(j, i, x), hand = j->readings[i].hand;
    if (isfinite(predicted) && (hand < LEAST * predicted || hand > MOST * predicted)) {
      *bad = i;
      (void)fhi_format(j->why, j->size, "a pull of %s N, where the catalogue's figures predict about %s N: another unit of pull or load?",
                       fhi_fixed(read, sizeof read, hand, hand < 10.0 ? 2 : 0), fhi_fixed(pull, sizeof pull, predicted, 0));
      return false;
    }
  }
  return true;
}

typedef struct solution {
  double x[FH_MAX_FITTED];
  double cov[FH_MAX_FITTED * FH_MAX_FITTED];  // (J^T J)^-1
  double *r, *jacobian, *scratch;
  double square;
} solution;

static bool refuse(fh_fit *f, fh_outcome outcome, const char *why) {
  f->outcome = outcome;
  (void)fhi_copy(f->why, sizeof f->why, why);
  return false;
}

static bool solve(job *j, fh_fit_solver solver, solution *s) {
  int m = j->used_count, n = j->fit->count;
  start_values(j->fit, s->x);
  if (!solver(residuals, j, m, n, s->x) || !residuals(j, m, n, s->x, s->r) ||
      !fhi_fit_slopes(residuals, j, m, n, s->x, s->scratch, s->jacobian)) {
    return refuse(j->fit, FH_OUTCOME_UNRESOLVED, "the solver found no best values");
  }
  if (!fhi_fit_inverse(s->jacobian, m, n, s->cov)) {
    return refuse(j->fit, FH_OUTCOME_INFEASIBLE,
                  "the readings cannot tell apart what is to be fitted: read more kinds of rig, or fix an efficiency in the scenes");
  }
  s->square = 0.0;
  for (int i = 0; i < m; i++) {
    s->square += s->r[i] * s->r[i];
  }
  return true;
}

// Part of a reading that the fit follows: row of J (J^T J)^-1 J^T.
static double leverage(const solution *s, int row, int n) {
  double h = 0.0;
  for (int a = 0; a < n; a++) {
    for (int b = 0; b < n; b++) {
      h += s->jacobian[row * n + a] * s->cov[a * n + b] * s->jacobian[row * n + b];
    }
  }
  return fmin(h, 1.0);
}

// Each reading's residual against the scatter of the others. @return the worst of them, as a place in `used`
static int students(const job *j, const solution *s) {
  int m = j->used_count, n = j->fit->count, worst = -1;
  for (int i = 0; i < m; i++) {
    double left = 1.0 - leverage(s, i, n), r = s->r[i];
    fh_fit_row *row = &j->fit->rows[j->used[i]];
    double others = left > 1e-9 && m > n + 1 ? (s->square - r * r / left) / (m - n - 1) : (double)NAN;
    row->student = others > 0.0 ? r / sqrt(others * left) : r == 0.0 ? 0.0 : (double)NAN;
    bool more = worst < 0 || fabs(row->student) > fabs(j->fit->rows[j->used[worst]].student);
    worst = !isnan(row->student) && more ? i : worst;
  }
  return worst;
}

// Takes out one reading at a time, the worst, while it lies beyond what the largest of so many would show by chance once in
// twenty fits; at most a quarter of all.
static bool solve_and_flag(job *j, fh_fit_solver solver, solution *s) {
  for (;;) {
    int n = j->fit->count;
    if (j->used_count < n + 2) {
      return refuse(j->fit, FH_OUTCOME_INFEASIBLE, "too few readings: at least two more than there are figures to fit");
    }
    if (!solve(j, solver, s)) {
      return false;
    }
    int worst = students(j, s);
    double bound = fhi_student_quantile(1.0 - 0.025 / j->used_count, j->used_count - n - 1);
    if (worst < 0 || !(fabs(j->fit->rows[j->used[worst]].student) > bound) || 4 * (j->fit->flagged + 1) > j->count) {
      return true;
    }
    j->fit->rows[j->used[worst]].flagged = true;
    j->fit->flagged++;
    memmove(&j->used[worst], &j->used[worst + 1], (size_t)(j->used_count - worst - 1) * sizeof *j->used);
    j->used_count--;
  }
}

static void fill_values(job *j, const solution *s) {
  fh_fit *f = j->fit;
  int n = f->count;
  f->freedom = j->used_count - n;
  f->scatter = sqrt(s->square / f->freedom);
  double t = fhi_student_quantile(0.975, f->freedom);
  for (int i = 0; i < n; i++) {
    fh_fitted *x = &f->fitted[i];
    x->error = f->scatter * sqrt(s->cov[i * n + i]);
    double a = value_of(x, s->x[i] - t * x->error), b = value_of(x, s->x[i] + t * x->error);
    x->value = value_of(x, s->x[i]);
    x->lo = fmin(a, b);
    x->hi = fmax(a, b);
    for (int k = 0; k < n; k++) {
      f->correlation[i][k] = s->cov[i * n + k] / sqrt(s->cov[i * n + i] * s->cov[k * n + k]);
    }
  }
  for (int i = 0; i < j->count; i++) {
    f->rows[i].predicted = predict(j, i, s->x);
    f->rows[i].residual = log(j->readings[i].hand / f->rows[i].predicted);
  }
  f->outcome = FH_OUTCOME_SOLVED;
}

static void check_looseness(fh_fit *f) {
  for (int i = 0; i < f->count && f->outcome == FH_OUTCOME_SOLVED; i++) {
    if (!(f->fitted[i].error <= LOOSE)) {
      f->outcome = FH_OUTCOME_INFEASIBLE;
      (void)fhi_format(f->why, sizeof f->why, "the readings say next to nothing about %s: read rigs in which it matters more, or fix it in the scenes",
                       f->fitted[i].name);
    }
  }
}

static fh_status fit(job *j, fh_fit_solver solver, int *bad) {
  solution s = {.square = 0.0};
  size_t count = (size_t)j->count;
  if (!compile_all(j, bad)) {
    return j->starved ? FH_ERR_MEMORY : FH_ERR_INPUT;
  }
  if (j->fit->count == 0) {
    (void)refuse(j->fit, FH_OUTCOME_INFEASIBLE, "nothing is open in these scenes: every efficiency and friction is given exactly");
    return FH_OK;
  }
  if (!all_in_one_unit(j, bad)) {
    return FH_ERR_LIMIT;
  }
  s.r = fhi_alloc(count, sizeof *s.r);
  s.scratch = fhi_alloc(2 * count, sizeof *s.scratch);
  s.jacobian = fhi_alloc(count * FH_MAX_FITTED, sizeof *s.jacobian);
  fh_status status = s.r != NULL && s.scratch != NULL && s.jacobian != NULL ? FH_OK : FH_ERR_MEMORY;
  if (status == FH_OK && solve_and_flag(j, solver, &s)) {
    fill_values(j, &s);
    check_looseness(j->fit);
  }
  fhi_free(s.r);
  fhi_free(s.scratch);
  fhi_free(s.jacobian);
  return status;
}

fh_status fh_fit_create(const fh_gear *gear, const fh_reading *readings, int count, fh_fit_solver solver, fh_fit **out, int *bad, char *why,
                        size_t size) {
  if (gear == NULL || readings == NULL || count < 1 || count > FH_MAX_READINGS || solver == NULL || out == NULL || bad == NULL || why == NULL || size < 2) {
    return FH_ERR_ARG;
  }
  for (int i = 0; i < count; i++) {
    if (readings[i].scene == NULL || !(readings[i].hand > 0.0) || !isfinite(readings[i].hand)) {
      return FH_ERR_ARG;
    }
  }
  fh_fit *f = fhi_alloc(1, sizeof *f);
  job j = {.gear = gear, .readings = readings, .count = count, .fit = f, .why = why, .size = size};
  size_t n = (size_t)count;
  j.rigs = fhi_alloc(n, sizeof *j.rigs);
  j.rig_of = fhi_alloc(n, sizeof *j.rig_of);
  j.used = fhi_alloc(n, sizeof *j.used);
  fh_status status = f != NULL && j.rigs != NULL && j.rig_of != NULL && j.used != NULL ? FH_OK : FH_ERR_MEMORY;
  if (status == FH_OK) {
    f->rows = fhi_alloc(n, sizeof *f->rows);
    f->readings = count;
    status = f->rows != NULL ? FH_OK : FH_ERR_MEMORY;
  }
  for (int i = 0; i < count && status == FH_OK; i++) {
    j.used[i] = i;
    f->rows[i] = (fh_fit_row){(double)NAN, (double)NAN, (double)NAN, false};
  }
  j.used_count = count;
  status = status != FH_OK ? status : fit(&j, solver, bad);
  fhi_free(j.rigs);
  fhi_free(j.rig_of);
  fhi_free(j.used);
  if (status != FH_OK) {
    fh_fit_destroy(f);
    return status;
  }
  *out = f;
  return FH_OK;
}

void fh_fit_destroy(fh_fit *f) {
  if (f != NULL) {
    fhi_free(f->rows);
    fhi_free(f);
  }
}
