// SPDX-License-Identifier: MIT
// Where each strand of a rig is drawn: runs, lanes, and the way from the haul line to the page.
#ifndef FHI_DRAW_LAYOUT_H
#define FHI_DRAW_LAYOUT_H

#include "firnhaul.h"
#include "svg.h"

/// Strands of one rope that follow each other without turning back: they share a lane.
typedef struct fhi_run {
  int path;
  int first, last;  ///< strands
  int dir;          ///< +1 away from the hole, -1 toward it
  int lane;         ///< 0 lies on the snow, others above it
  int hole;         ///< place among the strands in the hole, 0 next to the wall; -1: none
} fhi_run;

typedef struct fhi_layout {
  double from[FH_MAX_STRANDS], to[FH_MAX_STRANDS];  ///< [m] on the haul line, hand and loose ends where they are drawn
  int run_of[FH_MAX_STRANDS];
  fhi_run runs[FH_MAX_STRANDS];
  int run_count, lane_count, hole_count;
  int hand;         ///< the strand that the crew pulls, or -1
  int hand_dir;     ///< +1 back, -1 toward the lip
  double hand_at;   ///< [m] where the hand is drawn
  double far;       ///< [m] the last thing on the surface but the anchor's own ties
  bool anchor_busy; ///< a rope runs or is pulled at the anchor: it belongs to the crowded part
} fhi_layout;

/// @param reach [m] nearest to the lip that anybody is drawn
void fhi_layout_make(const fh_check *check, double reach, fhi_layout *layout);

/// From the haul line to the page. Off the line, distances are in points: strands are drawn apart so that they can be counted.
typedef struct fhi_frame {
  double x, y;            ///< [pt] the lip
  double scale;           ///< [pt/m]
  double ux, uy;          ///< [1] along the surface, away from the lip, on the page
  double wx, wy;          ///< [1] along the wall, into the hole, on the page
  double base, gap;       ///< [pt] height of lane 0, distance of lanes
  double hole_base, hole_gap;  ///< [pt] the same beside the wall
  double bend;            ///< [pt] how far from the lip a strand leaves its straight line
  double deep;            ///< [m] where strands in the hole end on the page (negative)
  double end;             ///< [m] where strands on the surface end on the page
} fhi_frame;

/// Axes from the slope and the lip's turn. @param slope,turn [rad]
void fhi_frame_axes(fhi_frame *frame, double slope, double turn);
/// A point at `s`, `off` above the surface or off the wall, `more` further along. @param s [m] @param off,more [pt] @param x,y [pt] result
void fhi_frame_point(const fhi_frame *frame, double s, double off, double more, double *x, double *y);
double fhi_frame_height(const fhi_frame *frame, const fhi_run *run, bool in_hole);  ///< @return [pt] offset of a run
/// Where a run meets its bend at the lip. @param x,y [pt] result
void fhi_frame_bend(const fhi_frame *frame, const fhi_run *run, bool hole_side, double *x, double *y);

/// A strand's line, clipped to what the page shows. @return false when nothing of it shows
bool fhi_strand_path(const fhi_frame *frame, const fhi_layout *layout, const fh_check *check, int strand, fhi_path *path);
/// The turn or bend between a strand and the next one of its rope. @return false when there is none or it does not show
bool fhi_joint_path(const fhi_frame *frame, const fhi_layout *layout, const fh_check *check, int strand, fhi_path *path);
/// Draws all strands and joints of one frame, and tells labels to keep off. @param weight [1] of the lines @param scale [1] of the line widths
void fhi_draw_strands(fhi_svg *svg, const fhi_frame *frame, const fhi_layout *layout, const fh_check *check, double weight, double scale);
/// Is the rope tied to a body at this end of a strand?
bool fhi_tied(const fh_rig *rig, const fh_strand *strand, bool at_end);
/// Does the rope turn back after this strand? @return true when the next strand of the same rope lies in another run
bool fhi_turns_after(const fhi_layout *layout, const fh_check *check, int strand);

#endif
