// SPDX-License-Identifier: MIT
// The rig of a scene, between its being read and its being checked.
#ifndef FHI_SCENE_RIG_H
#define FHI_SCENE_RIG_H

#include "read.h"

typedef struct fhi_rig_reading {
  fhi_reading *r;
  fh_scene *scene;
  fh_rig *rig;
  fhi_rig_nodes *nodes;
} fhi_rig_reading;

/// Reads the map `rig` into scene->rig and checks it. The rest of the scene must have been read. @param nodes filled
bool fhi_read_rig(fhi_reading *r, int node, fh_scene *scene, fhi_rig_nodes *nodes);

/// What no single key can show: ends, neighbours, the lip, grips' places, ropes that pull on themselves, ropes too short.
bool fhi_check_rig(fhi_rig_reading *rr);

/// Sets the key path to a station's or grip's key and finds its node; the entry's own node when it does not say that key.
int fhi_at_station(fhi_rig_reading *rr, int path, int station, const char *key);
int fhi_at_grip(fhi_rig_reading *rr, int grip, const char *key);

/// The key that makes a station: tie, edge, run, hand or loose.
const char *fhi_station_word(fh_station_kind kind);

/// [m] where a body sits on the haul line, at the likely values.
double fhi_body_place(const fh_scene *scene, const fh_rig *rig, int body);

#endif
