// SPDX-License-Identifier: MIT
// How is a rig built, said in words? One line for each rope, following it from its first end, and one for each grip.
#include "report.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double FOOT = 0.3048;  // [m] exact by definition

static void add(char *to, const char *text) {
  size_t used = strlen(to);
  fhi_copy(to + used, FHI_WORDS - used, text);
}

static void add_length(char *to, double metres, fh_units units) {
  char number[32];
  bool feet = units == FH_IMPERIAL;
  add(to, fhi_fixed(number, sizeof number, feet ? metres / FOOT : metres, 1));
  add(to, feet ? " ft" : " m");
}

static const char *article(const char *noun) {
  return noun[0] != '\0' && strchr("aeiou", noun[0]) != NULL ? "an " : "a ";
}

// The three fixed bodies are things ("the load"); a grip body goes by its own name.
static void add_body(char *to, const fh_rig *rig, int body) {
  if (body >= 0 && body < FH_BODY_FIRST_GRIP) {
    add(to, "the ");
  }
  add(to, fhi_end_name(rig, body));
}

// What a strand's end is called when a grip sits between two of them.
static void add_station_name(char *to, const fh_rig *rig, const fh_station *at) {
  switch (at->kind) {
    case FH_EDGE: add(to, "the lip"); break;
    case FH_HAND: add(to, "the hand"); break;
    case FH_LOOSE: add(to, "the loose end"); break;
    case FH_TIE:
    case FH_RUN: add_body(to, rig, at->body); break;
  }
}

static void add_tie(char *to, const fh_rig *rig, const fh_station *at, fh_units units) {
  add(to, "tied to ");
  add_body(to, rig, at->body);
  if (fh_number_is_set(at->slack)) {
    add(to, " with ");
    add_length(to, at->slack.likely, units);
    add(to, " of slack before it");
  }
}

static void add_run(char *to, const fh_rig *rig, const fh_gear *gear, const fh_station *at) {
  const char *item = fhi_item_name(gear, at->item);
  add(to, "through ");
  add(to, article(item));
  add(to, item);
  add(to, " on ");
  add_body(to, rig, at->body);
  if (at->reversed) {
    add(to, " put in the wrong way round");
  }
}

// When the scene leaves it open: behind a fixed point the crew pulls toward the lip, else back (as fhi_model_compile has it).
static bool pulls_to_lip(const fh_station *hand) {
  if (hand->toward != FH_TOWARD_AUTO) {
    return hand->toward == FH_TOWARD_LIP;
  }
  const fh_station *before = hand - 1;
  return before->kind == FH_RUN && (before->body == FH_BODY_STATION || before->body == FH_BODY_ANCHOR);
}

static void add_hand(char *to, const fh_station *at) {
  add(to, "to the crew, who pull ");
  add(to, pulls_to_lip(at) ? "toward the lip" : "back, away from the lip");
  double degrees = fh_number_is_set(at->angle) ? at->angle.likely * 180.0 / 3.14159265358979323846 : 0.0;
  if (degrees > 0.5) {
    char number[32];
    add(to, ", ");
    add(to, fhi_fixed(number, sizeof number, degrees, 0));
    add(to, " degrees off the line");
  }
}

static void add_station(char *to, const fh_rig *rig, const fh_gear *gear, const fh_station *at, fh_units units) {
  switch (at->kind) {
    case FH_TIE: add_tie(to, rig, at, units); break;
    case FH_EDGE: add(to, "over the lip"); break;
    case FH_RUN: add_run(to, rig, gear, at); break;
    case FH_HAND: add_hand(to, at); break;
    case FH_LOOSE: add(to, "its end loose"); break;
  }
}

void fhi_words_path(const fh_rig *rig, const fh_gear *gear, int path, fh_units units, char *to) {
  to[0] = '\0';
  add(to, "Rope ");
  add(to, rig->paths[path].name);
  add(to, ": ");
  const fh_path *p = &rig->paths[path];
  for (int i = 0; i < p->count; i++) {
    add(to, i == 0 ? "" : ", ");
    add_station(to, rig, gear, &rig->stations[p->first + i], units);
  }
  add(to, ".");
}

void fhi_words_grip(const fh_rig *rig, const fh_gear *gear, int grip, fh_units units, char *to) {
  const fh_grip *g = &rig->grips[grip];
  const fh_path *p = &rig->paths[g->path];
  const char *hitch = fhi_item_name(gear, g->item);
  bool tended = g->body < FH_BODY_FIRST_GRIP;
  to[0] = '\0';
  add(to, tended ? "Tended capture at the " : "Grip ");
  add(to, fhi_end_name(rig, g->body));
  add(to, ": ");
  add(to, article(hitch));
  add(to, hitch);
  add(to, " on rope ");
  add(to, p->name);
  if (p->count > g->after + 1) {
    add(to, " between ");
    add_station_name(to, rig, &rig->stations[p->first + g->after]);
    add(to, " and ");
    add_station_name(to, rig, &rig->stations[p->first + g->after + 1]);
  }
  add(to, ", ");
  add_length(to, g->at, units);
  add(to, tended ? " back from the lip; keep it open while hauling, let it lock before letting go." : " back from the lip.");
}

// "carabiner on load", "lip", "anchor (slack)", "hand back".
static void add_short_station(char *to, const fh_rig *rig, const fh_gear *gear, const fh_station *at) {
  switch (at->kind) {
    case FH_EDGE: add(to, "lip"); break;
    case FH_LOOSE: add(to, "loose end"); break;
    case FH_HAND: add(to, pulls_to_lip(at) ? "hand toward the lip" : "hand back"); break;
    case FH_TIE: add(to, fhi_end_name(rig, at->body)); break;
    case FH_RUN:
      add(to, fhi_item_name(gear, at->item));
      add(to, " on ");
      add(to, fhi_end_name(rig, at->body));
      break;
  }
  if (at->kind == FH_TIE && fh_number_is_set(at->slack)) {
    add(to, " (slack)");
  }
}

static void add_short_end(char *to, const fh_rig *rig, const fh_station *at) {
  add(to, at->kind == FH_EDGE ? "lip" : at->kind == FH_HAND ? "hand" : at->kind == FH_LOOSE ? "loose end" : fhi_end_name(rig, at->body));
}

void fhi_words_short(const fh_rig *rig, const fh_gear *gear, int path, char *to) {
  const fh_path *p = &rig->paths[path];
  to[0] = '\0';
  add(to, p->name);
  add(to, ": ");
  for (int i = 0; i < p->count; i++) {
    add(to, i == 0 ? "" : ", ");
    add_short_station(to, rig, gear, &rig->stations[p->first + i]);
  }
  for (int i = 0; i < rig->grip_count; i++) {
    const fh_grip *g = &rig->grips[i];
    if (g->path == path && p->count > g->after + 1) {
      bool tended = g->body < FH_BODY_FIRST_GRIP;
      add(to, "; ");
      add(to, tended ? fhi_item_name(gear, g->item) : fhi_end_name(rig, g->body));
      add(to, tended ? " tended between " : " grips between ");
      add_short_end(to, rig, &rig->stations[p->first + g->after]);
      add(to, " and ");
      add_short_end(to, rig, &rig->stations[p->first + g->after + 1]);
    }
  }
  add(to, ".");
}

fh_status fh_rig_write_words(const fh_rig *rig, const fh_gear *gear, fh_units units, fh_out out) {
  if (rig == NULL || gear == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  char line[FHI_WORDS];
  fhi_writer w;
  fhi_writer_start(&w, out);
  for (int i = 0; i < rig->path_count; i++) {
    fhi_words_path(rig, gear, i, units, line);
    fhi_put(&w, line);
    fhi_put(&w, "\n");
  }
  for (int i = 0; i < rig->grip_count; i++) {
    fhi_words_grip(rig, gear, i, units, line);
    fhi_put(&w, line);
    fhi_put(&w, "\n");
  }
  return fhi_writer_end(&w);
}
