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

/// Tensions of a motion that is not coupled: one unknown a chain.
/// @param sense    +1 raising, -1 lowering: the sense of the contacts' rates
/// @param factor   [1] contact_count: tension ratio of each, 1 or more
/// @param dead     dead strands: -1 the least, 0 as without friction, +1 the most that their resting contact allows
/// @param tension  [1] strand_count: tension over the weight; 0 where the strand is slack; NaN unless solved
/// @param residual [1] largest residual of any law or balance, over the weight
/// @return SOLVED; INFEASIBLE when a strand would have to push; UNRESOLVED when the equations have no single answer
fh_outcome fhi_force_solve(const fhi_model *model, const fhi_motion *motion, int sense, const double *factor,
                           const fhi_shape *shape, int dead, double *tension, double *residual);

/// The same state with the dead strands otherwise: what slides carries what it did. @param tension of a SOLVED fhi_force_solve with the same
/// factors and sense; all but the dead strands stays  @param dead,residual as there
void fhi_force_dead(const fhi_model *model, const fhi_motion *motion, int sense, const double *factor, const fhi_shape *shape, int dead,
                    double *tension, double *residual);

/// Largest residual of the equations of a state for given tensions. @return [1] over the weight
double fhi_force_residual(const fhi_model *model, const fhi_motion *motion, int sense, const double *factor,
                          const fhi_shape *shape, const double *tension);

/// A linear quantity: sum of coefficient times strand tension.
typedef struct fhi_form {
  double of[FH_MAX_STRANDS];
} fhi_form;

/// The tensions that friction allows: all laws as inequalities where the rope rests. Scratch is allocated once.
typedef struct fhi_rest fhi_rest;

/// @return NULL when there is no memory
fhi_rest *fhi_rest_create(const fhi_model *model, const fhi_motion *motion);
void fhi_rest_destroy(fhi_rest *rest);
/// Chooses the state and the contacts' tension ratios before questions are asked.
/// @param sense +1 raising or -1 lowering with resting contacts as intervals; 0 holding: hands off, captures locked
void fhi_rest_begin(fhi_rest *rest, int sense, const double *factor);
/// From now on a strand carries at most so much: rope shut in between two holds keeps what it had, no more. @param most [1] over the weight
void fhi_rest_cap(fhi_rest *rest, int strand, double most);
/// Smallest and largest value of a form. @return false when no tensions fit (nothing holds the load) or none were found
bool fhi_rest_least(fhi_rest *rest, const fhi_form *form, double *lo);
bool fhi_rest_most(fhi_rest *rest, const fhi_form *form, double *hi);
bool fhi_rest_extremes(fhi_rest *rest, const fhi_form *form, double *lo, double *hi);
/// The tensions with the largest value of a form. @return as above; residual over the weight
bool fhi_rest_largest(fhi_rest *rest, const fhi_form *form, double *tension, double *residual);

#endif
