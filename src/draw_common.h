// SPDX-License-Identifier: MIT
// What all figures share: colours, rope styles, numbers as words, header and footer.
#ifndef FHI_DRAW_COMMON_H
#define FHI_DRAW_COMMON_H

#include "firnhaul.h"
#include "svg.h"

// Dark enough on white and on the ice's tint to pass 4.5 : 1 (WCAG 2.1, 1.4.3).
#define FHI_INK "#16202a"
#define FHI_SOFT "#47535f"
#define FHI_FAINT "#8895a1"
#define FHI_ICE "#e9f0f5"
#define FHI_ICE_EDGE "#5d7387"
#define FHI_WARN "#9a2a00"
#define FHI_PAPER "#ffffff"

static const double FHI_PAGE = 298.0;    // [pt] width of every figure: A6, 105 mm
static const double FHI_MARGIN = 8.0;    // [pt]
static const double FHI_MAIN = 9.0;      // [pt] size of the numbers that matter
static const double FHI_SMALL = 7.5;     // [pt] least size on a figure

enum { FHI_WORD = 96 };  ///< bytes for a number in words

fhi_font fhi_font_main(void);    ///< ink, main size
fhi_font fhi_font_bold(void);    ///< ink, main size, bold
fhi_font fhi_font_small(void);   ///< soft ink, least size

/// A force as it is shown, a range as such: "105–365 N". @param band [N] @return to
const char *fhi_show_force(char *to, size_t size, fh_band band, fh_units units, fh_language language);
/// The same with its likely value first: "210 N (105–365)". @param band [N] @return to
const char *fhi_show_likely(char *to, size_t size, fh_band band, fh_units units, fh_language language);
const char *fhi_show_length(char *to, size_t size, double length, fh_units units);  ///< @param length [m] @return to: "4.5 m"
const char *fhi_show_mass(char *to, size_t size, fh_number mass, fh_units units, fh_language language);   ///< @param mass [kg] @return to
const char *fhi_show_angle(char *to, size_t size, fh_number angle, fh_language language); ///< @param angle [rad] @return to
/// "Lip (padded): turn 75°, friction 0.05–0.28, cut 0.2 m". @return to
const char *fhi_show_lip(char *to, size_t size, const fh_scene *scene, const fh_gear *gear, fh_units units);
/// A number without unit, a range as such. @return to
const char *fhi_show_number(char *to, size_t size, fh_band band, int decimals);

/// A number without the noughts that end it: 9, 2.33. @return to
const char *fhi_show_trimmed(char *to, size_t size, double value, int decimals);

/// A name from the scene or the catalogue, cleaned, and cut to fit. @param room [pt] at the least size @return to
const char *fhi_show_name(char *to, size_t size, const char *name, double room);

/// How the rope of a path is drawn: colour and pattern, so that no two look alike in grey either.
void fhi_draw_rope(fhi_svg *svg, const fhi_path *path, int rope, bool carries, double scale);

/// Title and one line under it. @return [pt] y below both
double fhi_draw_header(fhi_svg *svg, const char *title, const char *what);
/// A line to write date, place and who on. @param x,y [pt] its left end @param room [pt] @param size [pt] of the letters
void fhi_draw_blank(fhi_svg *svg, double x, double y, double room, double size);
/// The caution. @param y [pt] @return [pt] y below it
double fhi_draw_footer(fhi_svg *svg, double y);
/// Rope names with their pattern, and what a thin dashed line is. @param y [pt] @return [pt] y below it
double fhi_draw_legend(fhi_svg *svg, double y, const fh_rig *rig, bool any_idle);

/// A scale bar of a round length. @param x,y [pt] its left end @param scale [pt/m] @param room [pt]
void fhi_draw_scale_bar(fhi_svg *svg, double x, double y, double scale, double room, fh_units units);
bool fhi_any_idle(const fh_check *check);  ///< @return true when some strand carries nothing

typedef enum fhi_pose { FHI_HANGING, FHI_PULLING } fhi_pose;
/// A person of 1.75 m, to scale. @param x,y [pt] tie-in point when hanging, feet when standing @param scale [pt/m] @param side +1 leans to the right
void fhi_draw_person(fhi_svg *svg, double x, double y, double scale, fhi_pose pose, double side);

/// Draws to nothing broken: ends the figure, gives back its memory. @param height [pt]
fh_status fhi_draw_end(fhi_svg *svg, double height, const char *title, const char *about, fh_out out);

#endif
