// SPDX-License-Identifier: MIT
// The build sheet, taken apart: blocks of figure and words, and where each stands on its page.
#ifndef FHI_SHEET_H
#define FHI_SHEET_H

#include "draw_section.h"
#include "firnhaul_rescue.h"

enum {
  FHI_SHEET_TEXTS = 32,   ///< paragraphs in a block
  FHI_SHEET_TEXT = 1080,  ///< bytes of a paragraph; a stage's longest text is 720
  FHI_SHEET_HEADING = 160,
};

/// A figure, drawn: the SVG inside its own frame.
typedef struct fhi_sheet_figure {
  char *text;            ///< NULL: none
  size_t used;
  double width, height;  ///< [pt]
} fhi_sheet_figure;

typedef enum fhi_sheet_voice {
  FHI_VOICE_PLAIN,
  FHI_VOICE_STRONG,  ///< bold
  FHI_VOICE_ITEM,    ///< with a box to tick in front
  FHI_VOICE_WARN,    ///< bold, framed: one thing alone holds the load
  FHI_VOICE_SOURCE,  ///< small: where it comes from
  FHI_VOICE_FACT,    ///< of the card: a figure, its name as lead
  FHI_VOICE_ACTION,  ///< of the card: its number as lead
} fhi_sheet_voice;

typedef struct fhi_sheet_words {
  fhi_sheet_voice voice;
  char lead[32];  ///< "Do", "Check", ...; ""
  char text[FHI_SHEET_TEXT];
} fhi_sheet_words;

/// What is kept together: one step, or one card of words.
typedef struct fhi_sheet_block {
  char heading[FHI_SHEET_HEADING];
  int step;                      ///< number of the stage, 0: no step
  bool follows;                  ///< no step of its own, but told among them
  fhi_sheet_figure side, wide;   ///< the whole, beside the first words; the surface, under them
  fhi_sheet_words words[FHI_SHEET_TEXTS];
  int count;
  bool card;                     ///< the card that has all of it: a page of its own on A4
  bool show_side, show_wide;     ///< on paper: the figure is not the one that was drawn last
} fhi_sheet_block;

/// Where words are written, and how large.
typedef struct fhi_sheet_cell {
  double x, width;     ///< [pt]
  double size, source; ///< [pt] of the letters, and of sources
} fhi_sheet_cell;

typedef enum fhi_sheet_form {
  FHI_FORM_COLUMN,  ///< figures above the words
  FHI_FORM_BAND,    ///< across a wide page, the figure at the left
  FHI_FORM_CARD,    ///< a whole page
} fhi_sheet_form;

/// Where a block, or what is left of it from paragraph `from` on, stands.
typedef struct fhi_sheet_piece {
  int block, from;
  int page;  ///< from 0
  fhi_sheet_form form;
  fhi_sheet_cell cell;
  double y;  ///< [pt]
} fhi_sheet_piece;

typedef struct fhi_sheet_paper {
  double width, height;            ///< [pt] of the page
  int columns;
  double left, width_of, between;  ///< [pt] margin, a column, what parts two of them
  double top, bottom;              ///< [pt] where the first line may stand, and the last
  double source;                   ///< [pt] least letters
  double sizes[3];                 ///< [pt] of the words: the largest that fits
} fhi_sheet_paper;

struct fh_sheet {
  fh_paper paper;
  fh_units units;
  fh_language language;
  bool silent;           ///< the person does not answer
  bool jams_below;       ///< the person is silent under an overhanging edge
  char title[128];
  fh_stages *stages;
  fh_lose *lose;
  fh_haul *haul;
  fh_check *check;       ///< of the whole rig, with ranges
  fhi_sheet_block *blocks;
  int count, room;
  fhi_sheet_piece *pieces;
  int piece_count, piece_room;
  int pages;
  fh_status status;      ///< what went wrong first
};

/// What a rescuer should read where no rig can be built: the scene, when not to raise, other ways out, the person on the rope. Only its
/// blocks can be asked for. @return FH_OK, FH_ERR_MEMORY
fh_status fhi_sheet_create_care(const fh_scene *scene, const fh_gear *gear, fh_units units, fh_sheet **out);
void fhi_sheet_add_scene(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear);
void fhi_sheet_add_care(fh_sheet *sheet);

/// A new block at the end. @return NULL without memory: sheet->status says so
fhi_sheet_block *fhi_sheet_add(fh_sheet *sheet, const char *heading);
/// A paragraph at the end of a block; NULL block: nothing is done.
void fhi_sheet_say(fhi_sheet_block *block, fhi_sheet_voice voice, const char *lead, const char *text);

/// What every figure of a sheet shares: the scale of the whole rig.
typedef struct fhi_sheet_view {
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  fh_units units;
  fhi_section whole;     ///< of the finished rig: its scale is that of all steps
  fh_scene *at;          ///< room for the scene at a stage
} fhi_sheet_view;

fh_status fhi_sheet_view_open(fhi_sheet_view *view, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_units units);
void fhi_sheet_view_close(fhi_sheet_view *view);
/// Both figures of one stage. @param check worked out with ranges, of the finished rig: its forces are shown; NULL: no forces
fh_status fhi_sheet_draw_stage(fhi_sheet_view *view, const fh_stages *stages, int index, const fh_check *check, fhi_sheet_block *block);

/// The blocks, in the order in which they are read.
void fhi_sheet_add_card(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig);    ///< all of it, short
void fhi_sheet_add_first(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig);   ///< numbers, kit, before you start
void fhi_sheet_add_steps(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig);   ///< every stage
void fhi_sheet_add_last(fh_sheet *sheet);  ///< what if, the patient

/// "8.5 min (5–22)". @param time [s] @return to
const char *fhi_sheet_time(char *to, size_t size, fh_band time);
/// The way of a rope, as far as it is laid, put after what is there. @param count stations  @param to,size what is there
void fhi_sheet_route(const fh_sheet *sheet, const fh_gear *gear, const fh_rig *rig, int path, int count, char *to, size_t size);
/// Which figures paper shows: those that are new. After all blocks are there.
void fhi_sheet_choose_figures(fh_sheet *sheet);

const fhi_sheet_paper *fhi_sheet_paper_of(const fh_sheet *sheet);
/// A paragraph. @param y [pt] above it  @return [pt] y below it
double fhi_sheet_write_words(fhi_svg *svg, const fhi_sheet_cell *cell, double y, const fhi_sheet_words *words);
/// Writes a block from its paragraph `from` on, as far as the column reaches. @return the first paragraph that is left
int fhi_sheet_write_block(fhi_svg *svg, const fhi_sheet_cell *cell, const fhi_sheet_block *block, double *y, int from, double bottom);
/// A step across a wide page. @param y [pt] above it  @return [pt] y below it
double fhi_sheet_write_band(fhi_svg *svg, const fhi_sheet_cell *cell, double y, const fhi_sheet_block *block);
/// The card as a whole A4 page. @param bottom [pt] of what may be printed
void fhi_sheet_draw_card(const fh_sheet *sheet, const fhi_sheet_block *card, fhi_svg *svg, double bottom);
/// Lays every block out. @return the number of pages
int fhi_sheet_place(fh_sheet *sheet);

#endif
