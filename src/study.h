// SPDX-License-Identifier: MIT
// A study as it was read: axes, and where each value stands in the study's own document. Model section 12.
#ifndef FHI_STUDY_H
#define FHI_STUDY_H

#include "doc.h"
#include "firnhaul_study.h"
#include "quasi.h"
#include "read.h"

/// One thing that varies: values of a key, a span of numbers, or named sets of keys.
typedef struct fhi_axis {
  char key[96];       ///< "slot.depth_m", or the name of the sets
  bool sets;
  bool span;          ///< from, to, steps
  double from, to;    ///< [as written]
  int count;          ///< values, or steps of a grid
  int first_node;     ///< values: first in the list; sets: first in the map
  int line, column;
} fhi_axis;

struct fh_study {
  const fh_doc *doc;
  char title[128], scene[512];
  fhi_axis axis[FH_MAX_AXES];
  int axes;
  int64_t sampled;    ///< scenes to sample, 0: a grid
  int64_t count;
  int64_t samples;
  uint64_t seed;
  bool plan;          ///< the best rig of the kit; else the scene's own
  int plot[2];        ///< axes of the heat map
  fhi_sampler sampler;
};

enum { FHI_MOST_SPOTS = 32 };

/// The document of the last scene that was made, and where its scalars can be put anew. All zero to begin with.
typedef struct fhi_study_doc {
  fh_doc *doc;
  size_t used;               ///< its text without what was put anew
  int place[FH_MAX_AXES];    ///< of each axis in the last scene
  struct {
    int node, axis;
  } spot[FHI_MOST_SPOTS];
  int spots;                 ///< above FHI_MOST_SPOTS: not all are known
  fhi_top tops[FHI_MOST_SPOTS];  ///< the top keys that hold them
  int top_count;             ///< -1: the scene has to be read whole
  fhi_rig_nodes nodes;
  const fh_scene *scene;     ///< the room that holds the last scene, or NULL
} fhi_study_doc;

/// A scene in room that is there already. @return as fh_study_scene_create
fh_status fhi_study_scene_fill(const fh_study *study, const fh_doc *base, const fh_gear *gear, int64_t index, fhi_study_doc *made,
                               fh_scene *scene, fh_diag *diag);
void fhi_study_doc_clear(fhi_study_doc *made);

/// Which value of an axis a scene has. @param at [as written] the number of a span @return the value's place, 0 to count - 1
int fhi_study_pick(const fh_study *study, int64_t index, int axis, double *at);
/// The node of a value or set. @return -1 for a span
int fhi_study_node(const fh_study *study, int axis, int place);

#endif
