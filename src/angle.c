// SPDX-License-Identifier: MIT
// Advantage against the pull's angle, with its range. Implements model.md, section 5, over a list of angles.
#include <math.h>

#include "memory.h"
#include "state.h"
#include "whole.h"

typedef struct bench {
  fhi_model model;
  fhi_motion motion;
  fhi_factors factors;
  fhi_plan_view view;
} bench;

static void pick(const fhi_model *m, const fhi_factors *f, int which, double *factor, double *eta, double *share) {
  for (int c = 0; c < m->contact_count; c++) {
    const fh_number *e = &m->contacts[c].eta, *b = &m->contacts[c].share;
    factor[c] = which < 0 ? f->lo[c] : which > 0 ? f->hi[c] : f->likely[c];
    eta[c] = which < 0 ? e->hi : which > 0 ? e->lo : e->likely;
    share[c] = which < 0 ? b->lo : which > 0 ? b->hi : b->likely;
  }
}

// The body that the hand pulls on, or the first that leaves the line.
static int hauling_body(const fhi_model *m) {
  int body = m->strands[m->hand_strand].end[0].body;
  return body >= FH_BODY_FIRST_GRIP ? body : FH_BODY_STATION;
}

static void fill_point(bench *b, double angle, fh_angle_point *p) {
  const fhi_model *m = &b->model;
  double factor[FHI_MAX_CONTACTS], eta[FHI_MAX_CONTACTS], share[FHI_MAX_CONTACTS];
  double advantage[3], offset[3];
  *p = (fh_angle_point){.angle = angle, .outcome = FH_OUTCOME_SOLVED};
  for (int which = -1; which <= 1; which++) {
    pick(m, &b->factors, which, factor, eta, share);
    fhi_plan_view_solve(m, &b->motion, factor, eta, share, angle, &b->view);
    p->outcome = b->view.outcome != FH_OUTCOME_SOLVED ? b->view.outcome : p->outcome;
    p->residual = fmax(p->residual, b->view.residual);
    advantage[which + 1] = 1.0 / b->view.tension[m->hand_strand];
    offset[which + 1] = b->view.offset[hauling_body(m)];
  }
  if (p->outcome != FH_OUTCOME_SOLVED) {
    p->advantage = p->offset = (fh_band){(double)NAN, (double)NAN, (double)NAN};
    return;
  }
  p->advantage = (fh_band){fmin(advantage[2], advantage[1]), advantage[1], fmax(advantage[0], advantage[1])};
  p->offset = (fh_band){fmin(offset[0], fmin(offset[1], offset[2])), offset[1], fmax(offset[0], fmax(offset[1], offset[2]))};
}

static bool angles_fit(const double *angles, int count) {
  const double most = 100.0 * 3.14159265358979323846 / 180.0 + 1e-9;  // [rad]
  bool fit = angles != NULL && count >= 0;
  for (int i = 0; fit && i < count; i++) {
    fit = angles[i] >= 0.0 && angles[i] <= most;  // false for NaN
  }
  return fit;
}

fh_status fh_angle_curve(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const double *angles, int count,
                         fh_angle_point *out) {
  if (scene == NULL || gear == NULL || rig == NULL || out == NULL || !angles_fit(angles, count) || !fhi_scene_is_whole(scene) ||
      !fhi_rig_is_whole(scene, rig)) {
    return FH_ERR_ARG;
  }
  bench *b = fhi_alloc(1, sizeof *b);
  char why[200];
  if (b == NULL) {
    return FH_ERR_MEMORY;
  }
  b->motion.outcome = FH_OUTCOME_INFEASIBLE;
  if (fhi_model_compile(scene, gear, rig, &b->model, why, sizeof why)) {
    if (fhi_motion_solve(rig, &b->model, &b->motion) != FH_OK) {
      fhi_free(b);
      return FH_ERR_MEMORY;
    }
    fhi_factors_fill(&b->model, scene, &b->factors);
  }
  for (int i = 0; i < count; i++) {
    if (b->motion.outcome == FH_OUTCOME_SOLVED && !b->motion.coupled) {
      fill_point(b, angles[i], &out[i]);
    } else {
      const fh_band nan = {(double)NAN, (double)NAN, (double)NAN};
      out[i] = (fh_angle_point){angles[i], nan, nan, FH_OUTCOME_INFEASIBLE, (double)NAN};
    }
  }
  fhi_free(b);
  return FH_OK;
}
