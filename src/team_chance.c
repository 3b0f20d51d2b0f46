// SPDX-License-Identifier: MIT
// How often does the team hold, and how far, how hard? Counts over a sample of the ranges. Implements model.md, section 12.
#include "team_scene.h"

#include "memory.h"

#include <math.h>
#include <string.h>

enum {
  BLOCK = 256,       // falls between two reports of progress
  LEAST_THIRD = 20,  // falls: fewer tell nothing of a share
};

fh_team_opts fh_team_opts_default(void) {
  return (fh_team_opts){.samples = 2000, .seed = 1, .trace = true};
}

// Wilson, J. Am. Stat. Assoc. 22 (1927): the shares p with |p - k/n| <= z sqrt(p (1 - p) / n).
fh_range fhi_share(int successes, int tries) {
  static const double Z = 1.959963984540054;  // 95 % of the normal distribution
  if (tries < 1) {
    return (fh_range){(double)NAN, (double)NAN};
  }
  double n = tries;
  double p = successes / n;
  double middle = (p + Z * Z / (2.0 * n)) / (1.0 + Z * Z / n);
  double half = Z / (1.0 + Z * Z / n) * sqrt(p * (1.0 - p) / n + Z * Z / (4.0 * n * n));
  // Rounding may leave an end a hair past 0 or 1.
  return (fh_range){successes == 0 ? 0.0 : fmax(0.0, middle - half), successes == tries ? 1.0 : fmin(1.0, middle + half)};
}

// Shell's sort: no recursion, no more memory, the same order everywhere.
static void sort(double *x, int n) {
  for (int gap = n / 2; gap > 0; gap = gap == 2 ? 1 : (int)(gap / 2.2)) {
    for (int i = gap; i < n; i++) {
      double value = x[i];
      int k = i;
      for (; k >= gap && x[k - gap] > value; k -= gap) {
        x[k] = x[k - gap];
      }
      x[k] = value;
    }
  }
}

// The values below which 5, 50 and 95 of 100 lie; the column is sorted on the way.
static fh_band quantiles(double *x, int n) {
  if (n == 0) {
    return (fh_band){(double)NAN, (double)NAN, (double)NAN};
  }
  sort(x, n);
  return (fh_band){x[(int)(0.05 * (n - 1))], x[(int)(0.5 * (n - 1))], x[(int)ceil(0.95 * (n - 1))]};
}

typedef enum column_of { COLUMN_FALL, COLUMN_MARGIN, COLUMN_SLIDE, COLUMN_PEAK } column_of;

static double cell(const fh_fall *f, column_of what, int index) {
  switch (what) {
    case COLUMN_FALL: return f->arrested ? f->fall : (double)NAN;
    case COLUMN_MARGIN: return f->margin;
    case COLUMN_SLIDE: return f->arrested ? f->slide[index] : (double)NAN;
    default: return f->peak[index];
  }
}

static fh_band column(const fh_fall *falls, int n, column_of what, int index, double *room) {
  int used = 0;
  for (int i = 0; i < n; i++) {
    double value = cell(&falls[i], what, index);
    if (!isnan(value)) {
      room[used++] = value;
    }
  }
  return quantiles(room, used);
}

static void count_third(const fh_fall *falls, const double *brake, int n, fh_third *t) {
  for (int i = 0; i < n; i++) {
    if (brake[i] >= t->brake.lo && brake[i] <= t->brake.hi) {
      t->samples++;
      t->arrested += falls[i].arrested ? 1 : 0;
      t->nobody_else_in += falls[i].arrested && falls[i].pulled_in == 0 ? 1 : 0;
    }
  }
}

// How much hangs on the snow: the same falls once more, those with the least friction and those with the most by themselves.
static void count_thirds(const fh_fall *falls, const double *brake, int n, double *room, fh_team_chance *out) {
  int third = n / 3;
  memcpy(room, brake, (size_t)n * sizeof *room);
  sort(room, n);
  if (third < LEAST_THIRD || !(room[third - 1] < room[n - third])) {
    return;
  }
  out->slippery.brake = (fh_range){room[0], room[third - 1]};
  out->grippy.brake = (fh_range){room[n - third], room[n - 1]};
  count_third(falls, brake, n, &out->slippery);
  count_third(falls, brake, n, &out->grippy);
}

static void count_falls(const fh_fall *falls, int n, int people, double *room, fh_team_chance *out) {
  *out = (fh_team_chance){.samples = n};
  for (int i = 0; i < n; i++) {
    out->arrested += falls[i].arrested ? 1 : 0;
    out->nobody_else_in += falls[i].arrested && falls[i].pulled_in == 0 ? 1 : 0;
    out->unresolved += falls[i].outcome == FH_OUTCOME_UNRESOLVED ? 1 : 0;
  }
  out->share = fhi_share(out->arrested, n);
  out->fall = column(falls, n, COLUMN_FALL, 0, room);
  out->margin = column(falls, n, COLUMN_MARGIN, 0, room);
  for (int i = 0; i < people; i++) {
    out->slide[i] = column(falls, n, COLUMN_SLIDE, i, room);
    out->peak[i] = i + 1 < people ? column(falls, n, COLUMN_PEAK, i, room) : (fh_band){0.0, 0.0, 0.0};
  }
}

// Blocks of falls one after the other, so that a caller can see how far it is, and stop it.
static fh_status run_blocks(const fh_scene *scene, const fh_team_opts *opts, const fhi_sampler *sampler, fh_fall_in *in, fh_fall *falls, double *brake,
                            int *done) {
  fh_status status = FH_OK;
  *done = 0;
  while (status == FH_OK && *done < opts->samples) {
    int n = opts->samples - *done < BLOCK ? opts->samples - *done : BLOCK;
    for (int i = 0; i < n && status == FH_OK; i++) {
      status = fhi_fall_sample(scene, sampler, (uint32_t)(*done + i), &in[i]);
      brake[*done + i] = in[i].brake;
    }
    status = status == FH_OK ? fh_falls_run(in, n, (double)NAN, falls + *done) : status;
    *done += status == FH_OK ? n : 0;
    if (opts->progress != NULL && !opts->progress(opts->user, (double)*done / opts->samples)) {
      break;
    }
  }
  return status;
}

fh_status fhi_chance_run(const fh_scene *scene, const fh_team_opts *opts, fh_team_chance *out, bool *stopped) {
  size_t count = (size_t)opts->samples;
  int done = 0;
  fhi_sampler *sampler = fhi_alloc(1, sizeof *sampler);
  fh_fall_in *in = fhi_alloc(BLOCK, sizeof *in);
  fh_fall *falls = fhi_alloc(count, sizeof *falls);
  double *room = fhi_alloc(count, sizeof *room);
  double *brake = fhi_alloc(count, sizeof *brake);
  fh_status status = sampler == NULL || in == NULL || falls == NULL || room == NULL || brake == NULL ? FH_ERR_MEMORY : FH_OK;
  if (status == FH_OK) {
    fhi_fall_sampler_start(sampler, opts->seed);
    status = run_blocks(scene, opts, sampler, in, falls, brake, &done);
  }
  if (status == FH_OK) {
    count_falls(falls, done, scene->team.people_count, room, out);
    count_thirds(falls, brake, done, room, out);
    *stopped = done < opts->samples;
  }
  fhi_free(brake);
  fhi_free(room);
  fhi_free(falls);
  fhi_free(in);
  fhi_free(sampler);
  return status;
}

fh_status fh_team_create(const fh_scene *scene, const fh_team_opts *opts, fh_team_result **out, fh_diag *diag) {
  if (out == NULL) {
    return FH_ERR_ARG;
  }
  *out = NULL;
  fh_team_opts o = opts != NULL ? *opts : fh_team_opts_default();
  if (scene == NULL || o.samples < 0 || o.samples > 10000000) {
    return FH_ERR_ARG;
  }
  fh_status status = fh_team_check(scene, diag);
  if (status != FH_OK) {
    return status;
  }
  fh_team_result *team = fhi_alloc(1, sizeof *team);
  if (team == NULL) {
    return FH_ERR_MEMORY;
  }
  status = fh_fall_likely(scene, &team->in);
  status = status == FH_OK ? fh_fall_run(&team->in, (double)NAN, &team->likely, o.trace ? &team->trace : NULL) : status;
  team->has_chance = o.samples > 0 && !fh_team_is_exact(scene);
  if (status == FH_OK && team->has_chance) {
    status = fhi_chance_run(scene, &o, &team->chance, &team->stopped);
  }
  if (status != FH_OK) {
    fh_team_destroy(team);
    return status;
  }
  *out = team;
  return FH_OK;
}

void fh_team_destroy(fh_team_result *team) {
  fhi_free(team);
}
