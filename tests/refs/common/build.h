// SPDX-License-Identifier: MIT
// Scenes and rigs by hand, without a document: what every reference test starts from.
// All numbers are invented for the test unless the caller names a source.
#ifndef REF_BUILD_H
#define REF_BUILD_H

#include <math.h>

#include "firnhaul.h"

// The library's NAN and INFINITY are floats; some compilers warn where they become doubles.
#define REF_NAN      ((double)NAN)
#define REF_INFINITY ((double)INFINITY)

/// A scene with one rescuer, no kit, and an empty rig (load, station, anchor). The caller frees it with free().
/// @param mass [kg]  @param mu [1] lip friction  @param turn [rad] at the lip  @return NULL when there is no memory
fh_scene *ref_scene_make(double mass, double mu, double turn);

/// The rig is built in order: a path, its stations, the next path; grips at any time after their body.
int ref_body(fh_rig *rig, const char *name);  // @return its index
int ref_path(fh_rig *rig, const char *name);  // @return its index
void ref_tie(fh_rig *rig, int body);
void ref_tie_slack(fh_rig *rig, int body, double slack);  // [m]
void ref_edge(fh_rig *rig);
void ref_run(fh_rig *rig, int body, int item, double efficiency);  // [1] at 180 degrees
void ref_hand(fh_rig *rig, fh_toward toward);
void ref_loose(fh_rig *rig);
void ref_grip(fh_rig *rig, int item, int body, int path, int after, double at);  // [m] back from the lip

/// The items that the tests use, by class, found in the catalogue.
typedef struct ref_items {
  int bar, sheave, capture, hitch;
} ref_items;

/// @return false when the catalogue lacks one of them
bool ref_items_find(const fh_gear *gear, ref_items *out);

/// Sets every run's efficiency and every edge's friction to what a loss-free rig has.
void ref_make_lossless(fh_scene *scene);

/// The scene as a document on standard output: what a report of a disagreement shows.
void ref_print_scene(const fh_scene *scene, const fh_gear *gear);

#endif
