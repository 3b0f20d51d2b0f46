// SPDX-License-Identifier: MIT
// A second reading of a rig, made from the model's text alone: what every reference solver starts from.
// It shares no code with the core's own; it uses only the public structures.
#ifndef REF_READING_H
#define REF_READING_H

#include "build.h"

enum {
  REF_MAX_POINTS = FH_MAX_STATIONS + FH_MAX_GRIPS,
  REF_MAX_STRANDS = FH_MAX_STRANDS,
};

/// What a point on a rope is, as far as tension goes.
typedef enum ref_what {
  REF_TIE,     ///< the rope ends on a body
  REF_TURN,    ///< the rope passes a bend: item or edge
  REF_GRIP,    ///< a hitch that makes a moving body: the two sides differ by what it holds
  REF_TENDED,  ///< a hitch on a fixed body: open while the rope moves, shut while it rests
  REF_HAND,
  REF_LOOSE,
} ref_what;

typedef struct ref_point {
  ref_what what;
  int path, station;  ///< station -1 for grips
  int grip;           ///< -1 for stations
  int body;           ///< -1 for the lip, the hand and loose ends
  double at;          ///< [m] on the haul line; NaN for the hand and loose ends
  double k;           ///< [1] greatest tension ratio across it (turns)
  double wrap;        ///< [rad] (turns)
  bool capture, reversed;
} ref_point;

typedef struct ref_strand {
  int path, after;
  int from, to;       ///< points
  double dir;         ///< [1] +1 when the rope leads back from the lip, -1 toward it
  bool starts_slack;  ///< loose, or marked so: carries nothing in any state
  bool slack;         ///< the same, or next to such a strand across bends: carries nothing while the rig moves
} ref_strand;

typedef struct ref_reading {
  ref_point points[REF_MAX_POINTS];
  ref_strand strands[REF_MAX_STRANDS];
  int point_count, strand_count, body_count;
  int hand_strand;  ///< -1 when no rope ends in a hand
  double weight;    ///< [N]
} ref_reading;

/// Reads the rig of a scene; every contact needs its efficiency written out. Uncertain numbers: their likely value.
void ref_read(const fh_scene *scene, const fh_gear *gear, ref_reading *out);

/// True for the load and for bodies that grips make; false for station and anchor.
bool ref_body_moves(int body);

/// Strands on either side of a point, -1 when there is none.
int ref_strand_before(const ref_reading *r, int point);
int ref_strand_after(const ref_reading *r, int point);

/// The sum over a body's strand ends: coefficient of each strand's tension in the force along +s on that body.
/// @param row strand_count numbers [1], overwritten
void ref_body_row(const ref_reading *r, int body, double *row);

#endif
