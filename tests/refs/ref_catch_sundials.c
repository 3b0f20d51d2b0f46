// needs: sundials
// SPDX-License-Identifier: MIT
// A weight falls, the rope comes taut, the weight turns: integrated by SUNDIALS with events, against the closed form and the
// core's own steps. Two springs and a sliding edge are written out here: nothing of the core's formula is used.
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include "firnhaul_rescue.h"

static const double G = 9.80665;  // [m/s^2]

// Tension on the hole side, from the balance of rope that slides over the edge: both sides' stretch adds up to x, the hole
// side pulls `lip` times harder. Found by halving on the split, so that no formula is shared.
static double tension(const fh_catch_in *in, double x, double v) {
  double drive = x + in->damping * v;
  if (!(drive > 0.0)) {
    return 0.0;
  }
  if (in->surface <= 0.0) {
    return in->modulus * drive / in->hole;
  }
  if (in->hole <= 0.0) {
    return in->lip * in->modulus * drive / in->surface;
  }
  double lo = 0.0, hi = drive;  // stretch of the hole side
  for (int i = 0; i < 100; i++) {
    double mid = 0.5 * (lo + hi), hole = in->modulus * mid / in->hole, surface = in->modulus * (drive - mid) / in->surface;
    *(hole < in->lip * surface ? &lo : &hi) = mid;
  }
  return in->modulus * lo / in->hole;
}

// y: place below the taut rope's end (negative: still falling free), speed.
static int slope(sunrealtype t, N_Vector y, N_Vector dy, void *user) {
  const fh_catch_in *in = user;
  double x = NV_Ith_S(y, 0), v = NV_Ith_S(y, 1), pull = x > 0.0 ? tension(in, x, v) : 0.0;
  (void)t;
  NV_Ith_S(dy, 0) = v;
  NV_Ith_S(dy, 1) = G * (1.0 - pull / in->weight);
  return 0;
}

// Events: the rope comes taut, the weight turns.
static int events(sunrealtype t, N_Vector y, sunrealtype *out, void *user) {
  (void)t;
  (void)user;
  out[0] = NV_Ith_S(y, 0);
  out[1] = NV_Ith_S(y, 1);
  return 0;
}

typedef struct found {
  double peak, time, stretch, taut;
} found;

// With damping the greatest force comes before the turn: steps are kept short and the greatest is taken from them.
static int integrate(const fh_catch_in *in, found *f) {
  SUNContext context = NULL;
  if (SUNContext_Create(NULL, &context) != 0) {
    return 1;
  }
  N_Vector y = N_VNew_Serial(2, context);
  SUNMatrix matrix = SUNDenseMatrix(2, 2, context);
  SUNLinearSolver solver = SUNLinSol_Dense(y, matrix, context);
  void *cvode = CVodeCreate(CV_BDF, context);
  sunrealtype t = 0.0;
  int bad = 0, left = 20000;
  NV_Ith_S(y, 0) = -in->fall;
  NV_Ith_S(y, 1) = 0.0;
  *f = (found){0.0, 0.0, 0.0, 0.0};
  bad = bad || CVodeInit(cvode, slope, 0.0, y) != CV_SUCCESS;
  bad = bad || CVodeSStolerances(cvode, 1e-11, 1e-12) != CV_SUCCESS;
  bad = bad || CVodeSetUserData(cvode, (void *)(size_t)in) != CV_SUCCESS;
  bad = bad || CVodeSetLinearSolver(cvode, solver, matrix) != CV_SUCCESS;
  bad = bad || CVodeRootInit(cvode, 2, events) != CV_SUCCESS;
  bad = bad || CVodeSetMaxNumSteps(cvode, 1000000) != CV_SUCCESS;
  bad = bad || CVodeSetMaxStep(cvode, 1e-3) != CV_SUCCESS;
  bool down = false;
  while (!bad && left-- > 0) {
    int status = CVode(cvode, 1000.0, y, &t, CV_ONE_STEP);
    bad = status < 0;
    double x = NV_Ith_S(y, 0), v = NV_Ith_S(y, 1), pull = x > 0.0 ? tension(in, x, v) : 0.0;
    int which[2] = {0, 0};
    if (status == CV_ROOT_RETURN) {
      (void)CVodeGetRootInfo(cvode, which);
    }
    if (which[0] > 0) {
      f->taut = t;
      (void)CVodeReInit(cvode, t, y);  // the slope has a corner here
    }
    if (pull > f->peak) {
      f->peak = pull;
      f->time = t;
      f->stretch = x;
    }
    down = down || v > 1e-6;
    if (which[1] < 0 && down) {
      break;
    }
  }
  CVodeFree(&cvode);
  SUNLinSolFree(solver);
  SUNMatDestroy(matrix);
  N_VDestroy(y);
  SUNContext_Free(&context);
  return bad || left <= 0;
}

typedef struct tally {
  int cases, failed;
  double closed, steps, time;  // worst relative misses
} tally;

static void judge(tally *t, const fh_catch_in *in) {
  fh_catch closed = {0.0, 0.0, 0.0, 0.0}, steps = closed;
  found f = {0.0, 0.0, 0.0, 0.0};
  bool bad = integrate(in, &f) != 0 || fh_catch_simulate(in, 2000, &steps) != FH_OK || fh_catch_closed(in, &closed) != FH_OK;
  t->cases++;
  double far = bad ? (double)INFINITY : fabs(steps.peak / f.peak - 1.0);
  t->steps = fmax(t->steps, far);
  if (!bad && in->damping <= 0.0) {
    // The closed form is for a rope without damping.
    double miss = fabs(closed.peak / f.peak - 1.0);
    t->closed = fmax(t->closed, miss);
    t->time = fmax(t->time, fabs(closed.time / f.time - 1.0));
    bad = miss > 1e-6 || fabs(closed.time / f.time - 1.0) > 1e-4 || fabs(closed.stretch / f.stretch - 1.0) > 1e-5;
  }
  // Damped, the greatest force is read off SUNDIALS' steps of at most 1 ms: near its top that loses little.
  bad = bad || far > (in->damping > 0.0 ? 1e-4 : 1e-6);
  if (bad) {
    t->failed++;
    printf("weight %g fall %g hole %g surface %g lip %g damping %g: closed %g, steps %g, SUNDIALS %g\n", in->weight, in->fall,
           in->hole, in->surface, in->lip, in->damping, closed.peak, steps.peak, f.peak);
  }
}

int main(void) {
  static const double FALLS[] = {0.0, 0.02, 0.2, 0.5, 1.2, 5.0, 20.0}, HOLES[] = {0.5, 3.0, 8.0, 20.0}, SURFACES[] = {0.0, 4.0, 9.0},
                      LIPS[] = {1.0, 1.25, 1.8}, DAMPINGS[] = {0.0, 0.005, 0.02};
  tally t = {0, 0, 0.0, 0.0, 0.0};
  for (size_t a = 0; a < sizeof FALLS / sizeof *FALLS; a++) {
    for (size_t b = 0; b < sizeof HOLES / sizeof *HOLES; b++) {
      for (size_t c = 0; c < sizeof SURFACES / sizeof *SURFACES; c++) {
        for (size_t d = 0; d < sizeof LIPS / sizeof *LIPS; d++) {
          for (size_t e = 0; e < sizeof DAMPINGS / sizeof *DAMPINGS; e++) {
            fh_catch_in in = {.weight = 900.0, .fall = FALLS[a], .modulus = 17000.0, .hole = HOLES[b], .surface = SURFACES[c],
                              .lip = LIPS[d], .damping = DAMPINGS[e]};
            judge(&t, &in);
          }
        }
      }
    }
  }
  printf("catch, SUNDIALS: %d falls, worst miss of the closed form %.2g (its time %.2g), of the steps %.2g, %d failed\n", t.cases,
         t.closed, t.time, t.steps, t.failed);
  return t.failed == 0 && t.cases > 500 ? 0 : 1;
}
