// SPDX-License-Identifier: MIT
// The parts of the section figure.
#ifndef FHI_DRAW_SECTION_H
#define FHI_DRAW_SECTION_H

#include "draw_common.h"
#include "draw_layout.h"

/// What a part of the figure needs to know.
typedef struct fhi_section {
  fhi_svg *svg;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  const fh_check *check;
  fh_units units;
  fhi_layout layout;
  double scale;   ///< [pt/m] of the surface part
  double times;   ///< [1] the surface part's scale over the whole's
  double start;   ///< [pt] x of the lip in the surface part
  double end;     ///< [m] how far back the surface part reaches
  bool solved;    ///< forces are known, and shown
  bool step;      ///< the surface alone, lanes close together: one step of a build sheet
  bool alone;     ///< without title, words, notes and caution: for a page that says them itself, on a small screen
  bool bare;      ///< the station is not there yet: only the anchor is
  int fresh_station, fresh_grip;  ///< ringed as new: index plus 1, 0 for none
  int missed[FH_MAX_STRANDS];  ///< strands whose force found no room beside them
  int missed_count;
} fhi_section;

/// The section of a rig in the middle of a stroke, in the frame of the rig at rest, so that nothing moves but what moves.
/// @param rest  how it stands  @param check  the same with bodies and strand ends elsewhere
/// @param width  [pt] FHI_PAGE, or less for a small screen: then the drawing alone, its letters as large as ever
/// @param quiet  without the names and forces at strands: what moves too fast to be read  @return as fh_draw_section
fh_status fhi_draw_section_moved(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *rest, const fh_check *check,
                                 double width, bool quiet, fh_units units, fh_out out);
/// The rig in the middle of a stroke: its blocks' grips in `rig`, bodies and strand ends in `moved`, all else as at rest.
/// @param risen [m] the load so far, in all strokes  @param now [m] in this one  @param rig how it stands at rest; moved on return
void fhi_move_rig(const fh_check *rest, double risen, double now, fh_rig *rig, fh_check *moved);
/// Does the station hang on the anchor by a sling, or do both share one place? @return [m] length of the sling, 0: none
double fhi_sling_length(const fh_check *check);
/// Scale of both parts, from what has to be shown.
void fhi_section_scale(fhi_section *sec);
/// The whole: hole, lip, surface, load, anchor. @param top [pt] @return [pt] y below it
double fhi_draw_whole(fhi_section *sec, double top);
/// The surface near the lip, larger, strands apart, every force. @param top [pt] @return [pt] y below it
double fhi_draw_surface(fhi_section *sec, double top);
/// Names, distances and forces of what stands on the surface. @param ground [pt] y below the band of ice @return [pt] y below them
double fhi_draw_flags(fhi_section *sec, const fhi_frame *f, double ground);
/// The scene and the result in words. @param x,y [pt] top left @param room [pt] @return [pt] y below it
double fhi_draw_panel(fhi_section *sec, double x, double y, double room);
#endif
