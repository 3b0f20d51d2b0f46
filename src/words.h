// SPDX-License-Identifier: MIT
// Words for people in the language of the scene. The English text stands where it is composed and is its own key in the
// table of phrases (tables/words.def); keys, names and values that programs match are never translated.
#ifndef FHI_WORDS_H
#define FHI_WORDS_H

#include "firnhaul.h"
#include "model.h"

/// The phrase in that language; a format keeps its conversions in their order. @return the English text itself when there is
/// no row, or for English
const char *fhi_say(fh_language language, const char *english)
#if defined(__GNUC__)
    __attribute__((format_arg(2)))
#endif
    ;

/// A name made of names, such as "prusik at block-1" or "anchor point 2, snow-anchor", as people read it: the form's phrase and
/// each part that has a row are put over, names of the user's own stay. @return to
const char *fhi_name_said(char *to, size_t size, fh_language language, const char *name);

/// Several names with "; " between them; so is each.
const char *fhi_names_said(char *to, size_t size, fh_language language, const char *names);

/// The name of a rope or a block: what the program gave (tables/given.def) in the language, what the user gave as it stands.
const char *fhi_given_said(fh_language language, const char *name);
/// What a strand ends at, as people read it: names that the user gave to grips stay. @return a constant or the rig's own text
const char *fhi_end_said(fh_language language, const fh_rig *rig, int body);
/// What courses call it: a station is the pulleys at the anchor, a block a moving pulley. @return "" for what needs no other word
const char *fhi_end_taught(fh_language language, const fh_rig *rig, int body);
/// An item of the catalogue, as people read it; gear of the user's own keeps its name.
const char *fhi_item_said(fh_language language, const fh_gear *gear, int item);

int fhi_word_count(void);                                  ///< @return rows of the table
const char *fhi_word_at(fh_language language, int row);    ///< @return a cell, rows sorted by their English; "" outside

#endif
