// SPDX-License-Identifier: MIT
// firnhaul: the same question over many scenes (model.md section 12): a grid or a sample over lip, depth, crew, kit.
// Same rules as firnhaul.h. Files, threads and databases are the caller's.
#ifndef FIRNHAUL_STUDY_H
#define FIRNHAUL_STUDY_H

#include "firnhaul.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { FH_MAX_AXES = 8, FH_MAX_VALUES = 1000, FH_STUDY_FIGURES = 17 };

typedef struct fh_study fh_study;

/// Reads a study (docs/study.md). @return FH_OK; FH_ERR_INPUT with `diag` filled; FH_ERR_MEMORY
fh_status fh_study_create(const fh_doc *doc, fh_study **out, fh_diag *diag);
void fh_study_destroy(fh_study *study);

const char *fh_study_title(const fh_study *study);
const char *fh_study_scene(const fh_study *study);   ///< @return the path of its scene, as written
int64_t fh_study_count(const fh_study *study);       ///< @return number of scenes; INT64_MAX when there are more
int fh_study_axes(const fh_study *study);            ///< @return 1 to FH_MAX_AXES
const char *fh_study_axis_name(const fh_study *study, int axis);
/// The value of an axis in a scene, as text. @return to
const char *fh_study_value(const fh_study *study, int64_t index, int axis, char *to, size_t size);
int64_t fh_study_samples(const fh_study *study);     ///< @return samples a scene

/// One scene of the study, made from the document of its base scene. Does not need the study's own document any more than `doc` lives.
/// @return as fh_scene_create; `diag` then names the key, with the place in the study
fh_status fh_study_scene_create(const fh_study *study, const fh_doc *base, const fh_gear *gear, int64_t index, fh_scene **out, fh_diag *diag);

/// What is worked out for each scene. Plain data without pointers: it can be sent between machines byte by byte.
typedef struct fh_study_row {
  int64_t index;
  double figure[FH_STUDY_FIGURES];  ///< see fh_study_figure_name; NaN: not known
} fh_study_row;

const char *fh_study_figure_name(int figure);  ///< @return "chance_crew", "chance_both", "hand_p50_N", ... or NULL
/// What one thread needs to work scenes out one after the other: room, points, the last scene. About 2 MB.
typedef struct fh_study_work fh_study_work;
/// @param study,base,gear have to outlive it  @return FH_OK, FH_ERR_ARG, FH_ERR_MEMORY
fh_status fh_study_work_create(const fh_study *study, const fh_doc *base, const fh_gear *gear, fh_study_work **out);
void fh_study_work_destroy(fh_study_work *work);
/// Makes a scene and works it out. The row depends on the index alone, not on what was worked out before.
/// @return FH_OK; FH_ERR_INPUT with `diag` filled; FH_ERR_ARG: also when the scene has no rig and the study asks for it; FH_ERR_MEMORY
fh_status fh_study_row_run(fh_study_work *work, int64_t index, fh_study_row *row, fh_diag *diag);
fh_status fh_study_header_write(const fh_study *study, fh_out out);                          ///< the line of column names (CSV)
fh_status fh_study_row_write(const fh_study *study, const fh_study_row *row, fh_out out);    ///< a line

/// A heat map: mean chance over two axes, all others averaged.
typedef struct fh_study_map fh_study_map;
fh_status fh_study_map_create(const fh_study *study, fh_study_map **out);
void fh_study_map_destroy(fh_study_map *map);
void fh_study_map_add(fh_study_map *map, const fh_study *study, const fh_study_row *row);
fh_status fh_draw_study(const fh_study *study, const fh_study_map *map, fh_out out);

#ifdef __cplusplus
}
#endif
#endif
