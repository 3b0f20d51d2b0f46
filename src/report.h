// SPDX-License-Identifier: MIT
// What every report says in the same way: the answer, the names of a strand's ends, the words for a rig.
#ifndef FHI_REPORT_H
#define FHI_REPORT_H

#include "model.h"  // fhi_end_name
#include "text.h"

/// What every report ends with.
#define FHI_CAUTION                                                                                       \
  "Training aid. It does not replace instruction, local rules, makers' instructions or qualified practice. " \
  "Figures are estimates: look at the ranges."

/// Can this crew raise the load with this rig?
typedef enum fhi_answer {
  FHI_ANSWER_NO,      ///< the rig does not work, or a limit or the crew is exceeded for sure
  FHI_ANSWER_UNSURE,  ///< it depends on what is not known
  FHI_ANSWER_YES,     ///< over the whole of the ranges given
} fhi_answer;

/// A chance in per cent for a field of a table or figure, rounded down. Samples never make sure: all of them is ">99", none "<1".
const char *fhi_percent_field(char *to, size_t size, double chance);  ///< @return to

fhi_answer fhi_check_answer(const fh_check *check);

/// Does this crew get the load over the edge as it is? Yes where the rope has not cut in: the edge is no more than the raise's own then.
/// Unsure without a crew.
fhi_answer fhi_over_edge_answer(const fh_over_edge *over);
struct fhi_json;
/// `over_edge`: null where the rope has not cut in.
void fhi_json_over_edge(struct fhi_json *j, const fh_over_edge *over);
const char *fhi_answer_name(fhi_answer answer);  ///< @return "no", "unsure" or "yes"

/// As fh_check_write_json, without strands, contacts, bodies, grips, limits, notes and words: what a reader sees at a glance.
fh_status fhi_check_write_summary(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_out out);

/// What one line says of all rigs: `crew.force_N`, each rig's `answer`, and its advantage, pull and time.
/// @return FH_OK, or why the text could not be written: it is of no use then
fh_status fhi_plans_write_brief(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, fh_out out);

/// What the anchor carries with the station that hangs on it. @return [N]
fh_band fhi_on_anchor(const fh_check *check, int state);

/// Was this state worked out? @param state FH_RAISE, FH_HOLD or FH_LOWER
bool fhi_state_known(const fh_check *check, int state);

const char *fhi_state_name(int state);                ///< @return "raise", "hold" or "lower"
const char *fhi_item_name(const fh_gear *gear, int item);  ///< @return the item's name, or "" for -1
const char *fhi_basis_name(fh_basis basis);           ///< @return "published", "standard", "practice", "memory" or "own"
const char *fhi_class_name(fh_item_class item_class); ///< @return "bar", "sheave", "capture", ...

/// Room for one line of words about a rig: 128 stations with two names each stay below it.
enum { FHI_WORDS = 16384 };

/// One rope's path in words. @param to FHI_WORDS bytes
void fhi_words_path(const fh_rig *rig, const fh_gear *gear, int path, fh_units units, fh_language language, char *to);
/// One grip in words. @param to FHI_WORDS bytes
void fhi_words_grip(const fh_rig *rig, const fh_gear *gear, int grip, fh_units units, fh_language language, char *to);
/// A whole rig in a few words, one line a rope: "main: load, lip, toothed-capture on station, ...; block grips lip to station".
/// @param to FHI_WORDS bytes
void fhi_words_short(const fh_rig *rig, const fh_gear *gear, int path, fh_language language, char *to);

/// One cell of CSV (RFC 4180), quoted where needed; text that a spreadsheet would run as a formula stays text.
void fhi_csv_text(fhi_writer *w, const char *text);
void fhi_csv_number(fhi_writer *w, double value);  ///< shortest; empty when not finite
void fhi_csv_band(fhi_writer *w, fh_band band);    ///< low,likely,high

#endif
