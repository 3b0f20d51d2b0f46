// SPDX-License-Identifier: MIT
// A small SVG builder: shapes, paths, text whose width is known, and places for labels where nothing stands yet.
// One unit is one point at A6 width (298 units = 105 mm). y grows downward. No ids, no style sheet, no script: several
// figures can stand in one page.
#ifndef FHI_SVG_H
#define FHI_SVG_H

#include <stdbool.h>
#include <stddef.h>

#include "firnhaul.h"
#include "text.h"

enum { FHI_SVG_BOXES = 1024, FHI_SVG_SEGMENTS = 2048, FHI_PATH_POINTS = 400, FHI_SVG_TEXT = 400 };

typedef enum fhi_align { FHI_START, FHI_MIDDLE, FHI_END } fhi_align;

typedef struct fhi_box {
  double x, y, w, h;  ///< [pt] left, top, width, height
} fhi_box;

typedef struct fhi_font {
  double size;  ///< [pt]
  bool bold;
  const char *colour;
} fhi_font;

typedef struct fhi_pen {
  const char *stroke;  ///< colour, or NULL for none
  double width;        ///< [pt]
  const char *dash;    ///< dash list, or NULL for a solid line
  const char *fill;    ///< colour, or NULL for none
} fhi_pen;

/// A path: one operator a point; a curve is three points.
typedef struct fhi_path {
  char op[FHI_PATH_POINTS];  ///< M, L, C (first control point), c (second, and end), Z
  double x[FHI_PATH_POINTS], y[FHI_PATH_POINTS];  ///< [pt]
  int count;
} fhi_path;

typedef struct fhi_segment {
  double x1, y1, x2, y2;  ///< [pt]
  double weight;          ///< [1] how unwelcome a label across it is
} fhi_segment;

/// A figure being built. Text is kept in memory until fhi_svg_end, since the page's height comes last.
typedef struct fhi_svg {
  char *text;
  size_t used, size;
  fh_status status;
  fhi_box boxes[FHI_SVG_BOXES];  ///< where text stands, or may not
  fhi_segment segments[FHI_SVG_SEGMENTS];  ///< lines that labels should not cross
  bool is_text[FHI_SVG_BOXES];  ///< of a box: letters stand in it
  int box_count, segment_count;
  double width;  ///< [pt] of the page
  fh_language language;
  bool dry;      ///< measure only: nothing is written or remembered
  bool quiet;    ///< without callouts, and without the flags of what moves
} fhi_svg;

/// @param width [pt]  @param language of what is drawn: fhi_say takes it from here
fh_status fhi_svg_create(double width, fh_language language, fhi_svg **out);
void fhi_svg_destroy(fhi_svg *svg);
/// Writes the whole figure: header, title and description for screen readers, white ground, what was drawn.
/// @param height [pt]
fh_status fhi_svg_end(fhi_svg *svg, double height, const char *title, const char *about, fh_out out);

void fhi_svg_group(fhi_svg *svg, const char *kind, int index);  ///< <g data-KIND="INDEX">, so that a page can find a part; kind NULL: plain
/// A group with an origin of its own: what moves as one changes in one place. No text in it: its labels' places would be wrong. @param x,y [pt]
void fhi_svg_group_at(fhi_svg *svg, double x, double y);
void fhi_svg_group_end(fhi_svg *svg);

/// The inside of another figure within this one. Its labels' places are not remembered here.
/// @param part,count its text so far  @param x,y [pt] its top left  @param scale [1]
void fhi_svg_embed(fhi_svg *svg, const char *part, size_t count, double x, double y, double scale);

void fhi_path_clear(fhi_path *p);
void fhi_path_move(fhi_path *p, double x, double y);   ///< @param x,y [pt]
void fhi_path_line(fhi_path *p, double x, double y);   ///< @param x,y [pt]
/// A quarter of an ellipse from the last point to (x, y), its tangents meeting at the corner. @param corner_x,corner_y,x,y [pt]
void fhi_path_bend(fhi_path *p, double corner_x, double corner_y, double x, double y);
void fhi_path_close(fhi_path *p);
void fhi_svg_path(fhi_svg *svg, const fhi_path *p, fhi_pen pen);
void fhi_svg_line(fhi_svg *svg, double x1, double y1, double x2, double y2, fhi_pen pen);  ///< @param x1,y1,x2,y2 [pt]
void fhi_svg_rect(fhi_svg *svg, fhi_box box, double round, fhi_pen pen);                   ///< @param round [pt] radius of the corners
void fhi_svg_circle(fhi_svg *svg, double x, double y, double r, fhi_pen pen);              ///< @param x,y,r [pt]
/// An arrow head with its tip at (x, y). @param x,y [pt] @param angle [rad] where it points, clockwise from +x @param size [pt]
void fhi_svg_arrow(fhi_svg *svg, double x, double y, double angle, double size, const char *colour);

/// Drops what may not stand in a figure: control characters, direction overrides, bytes that are not UTF-8. @return to
const char *fhi_text_clean(char *to, size_t size, const char *from);
/// @param size [pt] @return [pt] width of one line; characters outside the table count as wide
double fhi_text_width(const char *text, double size, bool bold);
/// Cuts to a width, with an ellipsis when something was cut. @param room [pt] @return to
const char *fhi_text_fit(char *to, size_t to_size, const char *text, fhi_font font, double room);
/// Where a line break may go: takes as many words as fit. @param room [pt] @return bytes of this line; `*next` is where the next one starts
size_t fhi_text_line(const char *text, fhi_font font, double room, size_t *next);
/// @param x,y [pt] end of the baseline named by align @return [pt] box that the text takes
fhi_box fhi_text_box(double x, double y, fhi_align align, fhi_font font, const char *text);

/// Writes one line and remembers its box. @param x,y [pt]
void fhi_svg_text(fhi_svg *svg, double x, double y, fhi_align align, fhi_font font, const char *text);
/// Writes as many lines as it takes, at most `lines`. @param x,y [pt] first baseline @param room [pt] @return [pt] baseline of the last line
double fhi_svg_paragraph(fhi_svg *svg, double x, double y, double room, fhi_font font, const char *text, int lines);

void fhi_svg_keep_out(fhi_svg *svg, fhi_box box);  ///< no label may stand here
/// A line that labels should not cross. @param x1,y1,x2,y2 [pt] @param weight [1]
void fhi_svg_avoid(fhi_svg *svg, double x1, double y1, double x2, double y2, double weight);
/// @return [pt] 0 when the box is free of text; else something large, growing with the overlap. Lines crossed add their length inside times weight
double fhi_svg_clash(const fhi_svg *svg, fhi_box box);
bool fhi_svg_is_free(const fhi_svg *svg, fhi_box box);  ///< @return true when no text and no kept-out box overlaps it

/// A label for the point (x, y), set in the cheapest free place of `field`, with a thin line to the point when it is not next to it.
typedef struct fhi_callout {
  double x, y;        ///< [pt] what it belongs to
  fhi_box field;      ///< [pt] where it may stand
  double pull_x, pull_y;  ///< [pt] preferred offset of its middle from the point
  double slide;       ///< [pt] it may as well stand beside any point of a level line that reaches so far to both sides
  bool beside;        ///< without a line it may only stand where it wishes: a little higher or lower it would be another line's
  fhi_font font;
  const char *text;
  double most;        ///< [pt] a place that costs as much is none: so far off, or so much across lines; 0: any free place will do
} fhi_callout;
/// @return true when a free place was found from which no line to the point runs through letters; else nothing was drawn
bool fhi_svg_callout(fhi_svg *svg, const fhi_callout *label);

#endif
