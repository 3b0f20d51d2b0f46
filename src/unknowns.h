// SPDX-License-Identifier: MIT
// What is not known in a scene, and a scene in which it has been settled: the ordinary raise and the ordinary loss then run in
// it as in any other. Model section 12.
#ifndef FHI_UNKNOWNS_H
#define FHI_UNKNOWNS_H

#include "firnhaul_chance.h"
#include "gear.h"

enum { FHI_MAX_TARGETS = 256 };

/// What is asked: some numbers matter for one question only.
typedef enum fhi_asks { FHI_ASKS_HAUL = 1, FHI_ASKS_LOSE = 2 } fhi_asks;

/// One number that an unknown settles. Several of one cause lie at the same place of their ranges.
typedef struct fhi_target {
  int unknown;
  int figure;             ///< of the catalogue, counted through all items; -1: a number of the scene
  size_t at;              ///< [byte] of the number in the scene
  fh_number number;
  double cut_lo, cut_hi;  ///< where a normal number is cut
} fhi_target;

typedef struct fhi_unknowns {
  fh_unknown list[FH_MAX_UNKNOWNS];
  int count;
  fhi_target target[FHI_MAX_TARGETS];
  int targets;
  char stood[FH_MAX_STOOD][64];  ///< open numbers that stand at their likely value, by name
  int stood_count;
} fhi_unknowns;

/// Lists them. @param scene with the rig that is asked about as its own
void fhi_unknowns_fill(const fh_scene *scene, const fh_gear *gear, fhi_asks asks, fhi_unknowns *unknowns);

/// An unknown for an open number. @return its index; -1: it is exact, or there is no room: then its name is kept as one that stood
int fhi_unknown_add(fhi_unknowns *unknowns, fh_number number, const char *advice, const char *name);
/// Says that an open number stands at its likely value.
void fhi_unknown_stood(fhi_unknowns *unknowns, fh_number number, const char *name);
/// What it settles. @param unknown an index; -1: nothing is done  @param key of the scene's table, for the cut; or NULL
void fhi_target_scene(fhi_unknowns *unknowns, int unknown, size_t at, fh_number number, const char *key);
void fhi_target_figure(fhi_unknowns *unknowns, const fh_gear *gear, int unknown, int item, const char *what, fh_number number);

/// @return true unless exact or unset
bool fhi_is_open(fh_number number);

/// What only the catalogue says: figures of the rig's pieces, of the crew, of what a catch may break.
void fhi_unknowns_gear(const fh_scene *scene, const fh_gear *gear, fhi_asks asks, fhi_unknowns *unknowns);

/// A scene and a catalogue of their own, every number exact.
typedef struct fhi_settled {
  fh_scene scene;
  fh_gear gear;
  fh_figure *figures;  ///< of all items, one after the other
} fhi_settled;

/// All at likely values. @return FH_OK or FH_ERR_MEMORY
fh_status fhi_settled_create(const fh_scene *scene, const fh_gear *gear, fhi_settled **out);
void fhi_settled_destroy(fhi_settled *settled);
/// @param u [1] place of each unknown in its range, above 0 and below 1
void fhi_settle(fhi_settled *settled, const fhi_unknowns *unknowns, const double *u);

/// Every number of a scene but the team's, with its key. The order never changes.
typedef void (*fhi_number_fn)(void *user, fh_number *number, const char *key);
void fhi_scene_numbers(fh_scene *scene, fhi_number_fn fn, void *user);

#endif
