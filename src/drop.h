// SPDX-License-Identifier: MIT
// How far can the load fall before the rope that is left comes taut? Model section 9.
#ifndef FHI_DROP_H
#define FHI_DROP_H

#include "firnhaul.h"

enum {
  FHI_VIEW_POINTS = FH_MAX_STATIONS + FH_MAX_GRIPS + 16,
  FHI_DROP_POINTS = 2 * FHI_VIEW_POINTS,  // a point that holds ends one piece and begins the next
  FHI_DROP_PIECES = FHI_VIEW_POINTS,
  FHI_DROP_SLIPS = 16,
  FHI_DROP_BODIES = FH_MAX_BODIES + FH_MAX_GRIPS + 1,  // the rig's, tended hitches where they sit, the hand
};

/// A piece of rope between two points that hold it, and the bodies that it passes, the holding ones included. The lip is no
/// body: between the hole and the surface a rope is as long as the distance along the haul line, edge or not, and a block
/// that is dragged over the edge leaves it behind.
typedef struct fhi_piece {
  int first, count;      ///< its points: bodies in `body`
  double length;         ///< [m]
  int gives[2], takes[2];  ///< captures at its beginning and end that let rope run on: out of it (gives), into it (takes); -1
} fhi_piece;

typedef struct fhi_drop {
  int body_count;                    ///< FH_BODY_LOAD is body 0
  bool fixed[FHI_DROP_BODIES];
  double at[FHI_DROP_BODIES];        ///< [m] now
  int body[FHI_DROP_POINTS];
  int point_count;
  fhi_piece pieces[FHI_DROP_PIECES];
  int piece_count, slip_count;
} fhi_drop;

typedef struct fhi_drop_answer {
  bool solved;                        ///< false: the programme gave up; nothing else holds
  bool lost;                          ///< nothing stops the fall
  double drop;                        ///< [m]
  double at[FHI_DROP_BODIES];         ///< [m] when the rope is taut
  double share[FHI_DROP_PIECES];      ///< [1] tension of each piece over the load's force, without friction
  double residual;                    ///< [1] of rows, and of the two programmes' difference
} fhi_drop_answer;

/// Scratch, made once. @param points the most that a drop will have, FHI_DROP_POINTS at most  @return NULL when there is no memory
typedef struct fhi_drop_work fhi_drop_work;
fhi_drop_work *fhi_drop_work_create(int points);
void fhi_drop_work_destroy(fhi_drop_work *work);

/// maximise the fall  subject to  sum |s_i - s_{i+1}| <= length of each piece.
/// @param tensions false: drop only; true: shares as well, by the dual programme
void fhi_drop_solve(const fhi_drop *drop, bool tensions, fhi_drop_work *work, fhi_drop_answer *answer);

#endif
