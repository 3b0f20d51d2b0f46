// SPDX-License-Identifier: MIT
// How is a rig built, said in words? One line for each rope, following it from its first end, and one for each grip.
#include "crew.h"
#include "report.h"
#include "words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double FOOT = 0.3048;  // [m] exact by definition

static void add(char *to, const char *text) {
  size_t used = strlen(to);
  fhi_copy(to + used, FHI_WORDS - used, text);
}

static void say(char *to, fh_language language, const char *english) {
  add(to, fhi_say(language, english));
}

static void add_length(char *to, double metres, fh_units units) {
  char number[32];
  bool feet = units == FH_IMPERIAL;
  add(to, fhi_fixed(number, sizeof number, feet ? metres / FOOT : metres, 1));
  add(to, feet ? " ft" : " m");
}

// "a pulley", "an ice screw"; other languages do without the article.
static void add_item(char *to, const fh_gear *gear, int item, fh_language language) {
  const char *name = fhi_item_said(language, gear, item);
  if (language == FH_ENGLISH) {
    add(to, name[0] != '\0' && strchr("aeiouH", name[0]) != NULL ? "an " : "a ");
  }
  add(to, name);
}

// The three fixed bodies are things ("the load"); a grip body goes by its own name.
static void add_body(char *to, const fh_rig *rig, int body, fh_language language) {
  static const char *const FIXED[FH_BODY_FIRST_GRIP] = {"the load", "the station", "the anchor"};
  add(to, body >= 0 && body < FH_BODY_FIRST_GRIP ? fhi_say(language, FIXED[body]) : fhi_end_said(language, rig, body));
}

// What a strand's end is called when a grip sits between two of them.
static void add_station_name(char *to, const fh_rig *rig, const fh_station *at, fh_language language) {
  switch (at->kind) {
    case FH_EDGE: say(to, language, "the lip"); break;
    case FH_HAND: say(to, language, "the hand"); break;
    case FH_LOOSE: say(to, language, "the loose end"); break;
    case FH_TIE:
    case FH_RUN: add_body(to, rig, at->body, language); break;
  }
}

static void add_tie(char *to, const fh_rig *rig, const fh_station *at, fh_units units, fh_language language) {
  say(to, language, "tied to ");
  add_body(to, rig, at->body, language);
  if (fh_number_is_set(at->slack)) {
    say(to, language, " with ");
    add_length(to, at->slack.likely, units);
    say(to, language, " of slack before it");
  }
}

static void add_run(char *to, const fh_rig *rig, const fh_gear *gear, const fh_station *at, fh_language language) {
  say(to, language, "through ");
  add_item(to, gear, at->item, language);
  say(to, language, " on ");
  add_body(to, rig, at->body, language);
  if (at->reversed) {
    say(to, language, " put in the wrong way round");
  }
}

static void add_hand(char *to, const fh_station *at, fh_language language) {
  say(to, language, "to the crew, who pull ");
  say(to, language, fhi_pull_toward(at) == FH_TOWARD_LIP ? "toward the lip" : "back, away from the lip");
  double degrees = fh_number_is_set(at->angle) ? at->angle.likely * 180.0 / 3.14159265358979323846 : 0.0;
  if (degrees > 0.5) {
    char number[32];
    add(to, ", ");
    add(to, fhi_fixed(number, sizeof number, degrees, 0));
    say(to, language, " degrees off the line");
  }
}

static void add_station(char *to, const fh_rig *rig, const fh_gear *gear, const fh_station *at, fh_units units, fh_language language) {
  switch (at->kind) {
    case FH_TIE: add_tie(to, rig, at, units, language); break;
    case FH_EDGE: say(to, language, "over the lip"); break;
    case FH_RUN: add_run(to, rig, gear, at, language); break;
    case FH_HAND: add_hand(to, at, language); break;
    case FH_LOOSE: say(to, language, "its end loose"); break;
  }
}

void fhi_words_path(const fh_rig *rig, const fh_gear *gear, int path, fh_units units, fh_language language, char *to) {
  to[0] = '\0';
  const char *name = fhi_given_said(language, rig->paths[path].name);
  if (name == rig->paths[path].name) {
    say(to, language, "Rope ");  // what the program calls "main" is the word for a rope in other languages
  }
  add(to, name);
  add(to, ": ");
  const fh_path *p = &rig->paths[path];
  for (int i = 0; i < p->count; i++) {
    add(to, i == 0 ? "" : ", ");
    add_station(to, rig, gear, &rig->stations[p->first + i], units, language);
  }
  add(to, ".");
}

void fhi_words_grip(const fh_rig *rig, const fh_gear *gear, int grip, fh_units units, fh_language language, char *to) {
  const fh_grip *g = &rig->grips[grip];
  const fh_path *p = &rig->paths[g->path];
  bool tended = g->body < FH_BODY_FIRST_GRIP;
  to[0] = '\0';
  say(to, language, tended ? "Tended capture at the " : "Grip ");
  add(to, fhi_end_said(language, rig, g->body));
  add(to, ": ");
  add_item(to, gear, g->item, language);
  say(to, language, " on rope ");
  add(to, fhi_given_said(language, p->name));
  if (p->count > g->after + 1) {
    say(to, language, " between ");
    add_station_name(to, rig, &rig->stations[p->first + g->after], language);
    say(to, language, " and ");
    add_station_name(to, rig, &rig->stations[p->first + g->after + 1], language);
  }
  add(to, ", ");
  add_length(to, g->at, units);
  say(to, language, tended ? " back from the lip; keep it open while hauling, let it lock before letting go." : " back from the lip.");
}

// "carabiner on load", "lip", "anchor (slack)", "hand back".
static void add_short_station(char *to, const fh_rig *rig, const fh_gear *gear, const fh_station *at, fh_language language) {
  switch (at->kind) {
    case FH_EDGE: say(to, language, "lip"); break;
    case FH_LOOSE: say(to, language, "loose end"); break;
    case FH_HAND: say(to, language, fhi_pull_toward(at) == FH_TOWARD_LIP ? "hand toward the lip" : "hand back"); break;
    case FH_TIE: add(to, fhi_end_said(language, rig, at->body)); break;
    case FH_RUN:
      add(to, fhi_item_said(language, gear, at->item));
      say(to, language, " on ");
      add(to, fhi_end_said(language, rig, at->body));
      break;
  }
  if (at->kind == FH_TIE && fh_number_is_set(at->slack)) {
    say(to, language, " (slack)");
  }
}

static void add_short_end(char *to, const fh_rig *rig, const fh_station *at, fh_language language) {
  static const char *const ENDS[] = {[FH_EDGE] = "lip", [FH_HAND] = "hand", [FH_LOOSE] = "loose end"};
  bool body = at->kind == FH_TIE || at->kind == FH_RUN;
  add(to, body ? fhi_end_said(language, rig, at->body) : fhi_say(language, ENDS[at->kind]));
}

void fhi_words_short(const fh_rig *rig, const fh_gear *gear, int path, fh_language language, char *to) {
  const fh_path *p = &rig->paths[path];
  to[0] = '\0';
  add(to, fhi_given_said(language, p->name));
  add(to, ": ");
  for (int i = 0; i < p->count; i++) {
    add(to, i == 0 ? "" : ", ");
    add_short_station(to, rig, gear, &rig->stations[p->first + i], language);
  }
  for (int i = 0; i < rig->grip_count; i++) {
    const fh_grip *g = &rig->grips[i];
    if (g->path == path && p->count > g->after + 1) {
      bool tended = g->body < FH_BODY_FIRST_GRIP;
      add(to, "; ");
      add(to, tended ? fhi_item_said(language, gear, g->item) : fhi_end_said(language, rig, g->body));
      say(to, language, tended ? " tended between " : " grips between ");
      add_short_end(to, rig, &rig->stations[p->first + g->after], language);
      say(to, language, " and ");
      add_short_end(to, rig, &rig->stations[p->first + g->after + 1], language);
    }
  }
  add(to, ".");
}

fh_status fh_rig_write_words(const fh_rig *rig, const fh_gear *gear, fh_units units, fh_language language, fh_out out) {
  if (rig == NULL || gear == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  char line[FHI_WORDS];
  fhi_writer w;
  fhi_writer_start(&w, out);
  for (int i = 0; i < rig->path_count; i++) {
    fhi_words_path(rig, gear, i, units, language, line);
    fhi_put(&w, line);
    fhi_put(&w, "\n");
  }
  for (int i = 0; i < rig->grip_count; i++) {
    fhi_words_grip(rig, gear, i, units, language, line);
    fhi_put(&w, line);
    fhi_put(&w, "\n");
  }
  return fhi_writer_end(&w);
}
