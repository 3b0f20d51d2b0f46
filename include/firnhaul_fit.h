// SPDX-License-Identifier: MIT
// firnhaul: what load-cell readings say about the user's own gear (model.md section 14).
// Same rules as firnhaul.h: SI units inside, unset numbers are NaN, the core never prints or exits.
//
// Fitted are the efficiencies of the items in the rigs and the friction at the lip, in logarithms of the loss, so that no
// value can be impossible; a reading's error is taken as relative. The least-squares solver comes from outside (fh_fit_solver).
#ifndef FIRNHAUL_FIT_H
#define FIRNHAUL_FIT_H

#include "firnhaul.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { FH_MAX_READINGS = 2000, FH_MAX_FITTED = 16 };

/// One reading: the crew's pull while the load rises, steadily and slowly.
typedef struct fh_reading {
  const fh_scene *scene;  ///< with a rig; several readings may share one
  double load;            ///< [N] weight raised; NaN: the scene's likely mass
  double turn;            ///< [rad] over the lip; NaN: the scene's
  double hand;            ///< [N] read, above 0
  int line;               ///< where it stands, for reports
} fh_reading;

/// Residuals of a least-squares problem. @param x n values  @param r m residuals  @return false when there are none at x
typedef bool (*fh_fit_fn)(void *user, int m, int n, const double *x, double *r);
/// A solver: changes x to where the sum of squared residuals is least. @return false when it found none
typedef bool (*fh_fit_solver)(fh_fit_fn fn, void *user, int m, int n, double *x);

typedef struct fh_fitted {
  char name[64];       ///< "carabiner: efficiency", "padded: friction"
  int item;            ///< gear index; -1: the lip's own friction, named by no surface
  bool friction;       ///< else an efficiency
  fh_band catalogue;   ///< [1] what was known before
  double value;        ///< [1]
  double lo, hi;       ///< [1] 95 % interval
  double error;        ///< [1] standard error of the logarithm of the loss
} fh_fitted;

typedef struct fh_fit_row {
  double predicted;    ///< [N]
  double residual;     ///< [1] logarithm of reading over prediction
  double student;      ///< [1] residual over what its spread would be without this reading
  bool flagged;        ///< it does not fit: left out of the fit
} fh_fit_row;

typedef struct fh_fit {
  fh_outcome outcome;  ///< INFEASIBLE: too few readings, or what cannot be told apart; UNRESOLVED: the solver found nothing
  char why[300];       ///< when not SOLVED; English
  fh_fitted fitted[FH_MAX_FITTED];
  int count;
  double correlation[FH_MAX_FITTED][FH_MAX_FITTED];  ///< [1] of the logarithms
  fh_fit_row *rows;    ///< one a reading, in order
  int readings, flagged, freedom;
  double scatter;      ///< [1] relative standard deviation of a reading
  fh_language language;///< of the figure's words; English unless set after making it
} fh_fit;

/// @param readings each with a scene that has a rig  @return FH_OK with the outcome in the result; FH_ERR_ARG; FH_ERR_MEMORY;
///   FH_ERR_INPUT with `bad` set to the reading whose rig does not raise, or leaves the pull open, and `why` filled;
///   FH_ERR_LIMIT likewise with the first reading under a quarter or over eight times of what the catalogue predicts: another unit
fh_status fh_fit_create(const fh_gear *gear, const fh_reading *readings, int count, fh_fit_solver solver, fh_fit **out, int *bad, char *why,
                        size_t size);
void fh_fit_destroy(fh_fit *fit);

fh_status fh_fit_write_json(const fh_gear *gear, const fh_reading *readings, const fh_fit *fit, fh_out out);
fh_status fh_fit_write_csv(const fh_reading *readings, const fh_fit *fit, fh_out out);
/// An own gear file (docs/gear.md): each fitted figure as low, likely, high.
fh_status fh_fit_write_gear(const fh_gear *gear, const fh_fit *fit, fh_out out);
/// Prediction against reading.
fh_status fh_draw_fit(const fh_reading *readings, const fh_fit *fit, fh_units units, fh_out out);

#ifdef __cplusplus
}
#endif
#endif
