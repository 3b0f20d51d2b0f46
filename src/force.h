// SPDX-License-Identifier: MIT
// Tensions of a moving rig, and their extremes at rest. Implements model.md, sections 2 and 4.
#ifndef FHI_FORCE_H
#define FHI_FORCE_H

#include "model.h"

enum { FHI_MAX_FREE = FH_MAX_GRIPS + 1, FHI_MAX_CONTACTS = FH_MAX_STATIONS + FH_MAX_GRIPS };

/// Where each strand points, as unit vectors from its first to its second end: along the haul line and across it.
typedef struct fhi_shape {
  double along[FH_MAX_STRANDS], across[FH_MAX_STRANDS];  ///< [1]
} fhi_shape;

/// The shape with everything in line.
void fhi_shape_in_line(const fhi_model *model, fhi_shape *shape);

/// Tensions while the rope slides at every contact. Strands joined by contacts are one chain: one unknown each.
/// @param sense    +1 raising, -1 lowering: the sense of the contacts' rates
/// @param factor   [1] contact_count: tension ratio of each, 1 or more
/// @param tension  [1] strand_count: tension over the weight; 0 where the strand is slack; NaN unless solved
/// @param residual [1] largest residual of any law or balance, over the weight
/// @return SOLVED; INFEASIBLE when a strand would have to push; UNRESOLVED when the equations have no single answer
fh_outcome fhi_force_solve(const fhi_model *model, const fhi_motion *motion, int sense, const double *factor,
                           const fhi_shape *shape, double *tension, double *residual);

/// @return true when the rope rests at some contact while the load moves: the tensions are then intervals
bool fhi_force_rests(const fhi_model *model, const fhi_motion *motion);

/// Largest residual of the equations of a state for given tensions. @return [1] over the weight
double fhi_force_residual(const fhi_model *model, const fhi_motion *motion, int sense, const double *factor,
                          const fhi_shape *shape, const double *tension);

/// A linear quantity: sum of coefficient times strand tension.
typedef struct fhi_form {
  double of[FH_MAX_STRANDS];
} fhi_form;

/// The tensions that friction allows: all laws as inequalities where the rope rests. Scratch is allocated once.
typedef struct fhi_rest fhi_rest;

/// @param sense +1 raising or -1 lowering with resting contacts as intervals; 0 holding: hands off, captures locked
/// @return NULL when there is no memory
fhi_rest *fhi_rest_create(const fhi_model *model, const fhi_motion *motion, int sense);
void fhi_rest_destroy(fhi_rest *rest);
/// Sets the contacts' tension ratios before questions are asked.
void fhi_rest_factors(fhi_rest *rest, const double *factor);
/// Smallest and largest value of a form. @return false when no tensions fit (nothing holds the load) or none were found
bool fhi_rest_extremes(fhi_rest *rest, const fhi_form *form, double *lo, double *hi);
/// The tensions with the largest value of a form. @return as above; residual over the weight
bool fhi_rest_largest(fhi_rest *rest, const fhi_form *form, double *tension, double *residual);

#endif
