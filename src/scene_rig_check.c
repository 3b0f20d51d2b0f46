// SPDX-License-Identifier: MIT
// Can a rope lie as the rig says? Ends, neighbours, the lip, the places of grips, ropes that pull on themselves or are too short.
// Model section 1. What a sound-looking rig then does is for the solver to say; here only what cannot be built is refused.
#include <math.h>
#include <string.h>

#include "scene_rig.h"
#include "text.h"

double fhi_body_place(const fh_scene *scene, const fh_rig *rig, int body) {
  switch (body) {
  case FH_BODY_LOAD: return -scene->depth.likely;
  case FH_BODY_STATION: return scene->station_at.likely;
  case FH_BODY_ANCHOR: return scene->anchor_at.likely;
  default: break;
  }
  for (int g = 0; g < rig->grip_count; g++) {
    if (rig->grips[g].body == body) {
      return rig->grips[g].at;
    }
  }
  return (double)NAN;  // cannot happen: every body but the first three is made by a grip
}

static const fh_station *station_of(const fhi_rig_reading *rr, int p, int i) {
  return &rr->rig->stations[rr->rig->paths[p].first + i];
}

// Refuses at the key that makes the station.
#define REFUSE_STATION(rr, p, i, accepted, ...)                                                                       \
  fhi_refuse((rr)->r, fhi_at_station((rr), (p), (i), fhi_station_word(station_of((rr), (p), (i))->kind)), (accepted), \
             __VA_ARGS__)

// ---------------------------------------------------------------------------------------------------- ends

static bool check_ends(fhi_rig_reading *rr, int p) {
  int last = rr->rig->paths[p].count - 1;
  for (int i = 0; i <= last; i++) {
    fh_station_kind kind = station_of(rr, p, i)->kind;
    if (i == 0 && kind != FH_TIE && kind != FH_LOOSE) {
      return REFUSE_STATION(rr, p, i, "tie or loose first", "a rope cannot start with %s", fhi_station_word(kind));
    }
    if (i == last && kind != FH_TIE && kind != FH_LOOSE && kind != FH_HAND) {
      return REFUSE_STATION(rr, p, i, "tie, hand or loose last", "a rope cannot end with %s", fhi_station_word(kind));
    }
    if (i != last && (kind == FH_HAND || (kind == FH_LOOSE && i != 0))) {
      return REFUSE_STATION(rr, p, i, "hand and loose only last, or loose first", "%s in the middle of a rope",
                            fhi_station_word(kind));
    }
    if (i == 0 && fh_number_is_set(station_of(rr, p, i)->slack)) {
      return fhi_refuse(rr->r, fhi_at_station(rr, p, i, "slack_m"), "slack_m with a later tie",
                        "no strand comes before this tie");
    }
  }
  return true;
}

static bool check_hands(fhi_rig_reading *rr) {
  int hands = 0;
  for (int p = 0; p < rr->rig->path_count; p++) {
    int last = rr->rig->paths[p].count - 1;
    if (station_of(rr, p, last)->kind == FH_HAND && ++hands > 1) {
      return REFUSE_STATION(rr, p, last, "one hand in the rig", "a second rope ends in the crew's hand");
    }
  }
  if (hands == 0) {
    (void)fhi_copy(rr->r->path, sizeof rr->r->path, "rig.ropes");
    return fhi_refuse(rr->r, rr->nodes->path[0], "one rope that ends with {hand: crew}",
                      "nobody pulls: no rope ends in a hand");
  }
  return true;
}

// ---------------------------------------------------------------------------------------------------- neighbours

// Where a station lies: -1 in the hole, 0 at the lip, +1 on the surface; 2 when it may lie anywhere.
static int side_of(const fhi_rig_reading *rr, const fh_station *st) {
  double at = 0.0;
  switch (st->kind) {
  case FH_EDGE: return 0;
  case FH_HAND: return 1;
  case FH_LOOSE: return 2;
  case FH_TIE:
  case FH_RUN: at = fhi_body_place(rr->scene, rr->rig, st->body);
  }
  return at < 0.0 ? -1 : 1;
}

static bool check_loop(fhi_rig_reading *rr, int p, int i) {
  const fh_station *a = station_of(rr, p, i), *b = station_of(rr, p, i + 1);
  if (a->kind == FH_EDGE && b->kind == FH_EDGE) {
    return REFUSE_STATION(rr, p, i + 1, "one edge for each passage of the lip",
                          "a loop in the rope's path: the lip twice in a row");
  }
  if (a->body >= 0 && a->body == b->body) {
    return REFUSE_STATION(rr, p, i + 1, "neighbouring stations on two bodies",
                          "a loop in the rope's path: %s twice in a row", rr->rig->bodies[a->body]);
  }
  return true;
}

static bool check_lip(fhi_rig_reading *rr, int p, int i) {
  const fh_station *a = station_of(rr, p, i), *b = station_of(rr, p, i + 1);
  int from = side_of(rr, a), to = side_of(rr, b);
  if (from * to == -1) {
    return REFUSE_STATION(rr, p, i + 1, "{edge: lip} between the hole and the surface",
                          "the rope passes the lip without an edge");
  }
  if (a->kind != FH_EDGE || i == 0) {
    return true;
  }
  from = side_of(rr, station_of(rr, p, i - 1));
  if (from == to && from != 2) {
    return REFUSE_STATION(rr, p, i, "an edge only between the hole and the surface",
                          "the rope does not pass the lip here: it stays %s",
                          to < 0 ? "in the hole" : "on the surface");
  }
  if (b->kind == FH_HAND && b->toward == FH_TOWARD_LIP) {
    return fhi_refuse(rr->r, fhi_at_station(rr, p, i + 1, "toward"), "back",
                      "behind the lip the crew can only pull back");
  }
  return true;
}

// ---------------------------------------------------------------------------------------------------- grips

// Which way the rope runs from the station before the hand: +1 back, -1 toward the lip.
static int hand_side(const fh_station *before, const fh_station *hand) {
  if (hand->toward != FH_TOWARD_AUTO) {
    return hand->toward == FH_TOWARD_BACK ? 1 : -1;
  }
  bool fixed = before->kind == FH_RUN && (before->body == FH_BODY_STATION || before->body == FH_BODY_ANCHOR);
  return fixed ? -1 : 1;
}

// The two ends of a strand on the haul line, low one first. The hand's end and a loose one are far away, or at the lip.
static void strand_ends(const fhi_rig_reading *rr, int p, int after, double *low, double *high) {
  const fh_station *a = station_of(rr, p, after), *b = station_of(rr, p, after + 1);
  double s[2] = {0.0, 0.0};
  const fh_station *ends[2] = {a, b};
  for (int e = 0; e < 2; e++) {
    s[e] = ends[e]->body >= 0 ? fhi_body_place(rr->scene, rr->rig, ends[e]->body) : 0.0;
  }
  *low = fmin(s[0], s[1]);
  *high = fmax(s[0], s[1]);
  if (b->kind == FH_HAND) {
    bool back = hand_side(a, b) > 0;
    *low = back ? s[0] : 0.0;
    *high = back ? (double)INFINITY : s[0];
  } else if (a->kind == FH_LOOSE || b->kind == FH_LOOSE) {
    // A tail stays on its own side of the lip, before or behind the station that it leaves; from the lip it may hang or lie.
    double known = a->kind == FH_LOOSE ? s[1] : s[0];
    *low = known > 0.0 ? 0.0 : -(double)INFINITY;
    *high = known < 0.0 ? 0.0 : (double)INFINITY;
  }
}

static bool check_grip_place(fhi_rig_reading *rr, int g) {
  const fh_grip *grip = &rr->rig->grips[g];
  const fh_station *ends[2] = {station_of(rr, grip->path, grip->after), station_of(rr, grip->path, grip->after + 1)};
  double low = 0.0, high = 0.0;
  if (grip->body >= FH_BODY_FIRST_GRIP && (ends[0]->body == grip->body || ends[1]->body == grip->body)) {
    return fhi_refuse(rr->r, fhi_at_grip(rr, g, "after"), "a strand that does not end at the grip's own body",
                      "the grip %s holds a strand that ends at itself", rr->rig->bodies[grip->body]);
  }
  strand_ends(rr, grip->path, grip->after, &low, &high);
  bool on_end = false;  // a loose strand's known end lies between the two
  for (int e = 0; e < 2; e++) {
    on_end = on_end || (ends[e]->body >= 0 && grip->at == fhi_body_place(rr->scene, rr->rig, ends[e]->body));
  }
  if (grip->at > low && grip->at < high && !on_end) {
    return true;
  }
  char accepted[200], from[32], to[32];
  (void)fhi_format(accepted, sizeof accepted, "%s%s%s%s%s%s", isfinite(low) ? "more than " : "",
                   isfinite(low) ? fhi_shortest(from, sizeof from, low) : "",
                   isfinite(low) && isfinite(high) ? ", " : "", isfinite(high) ? "less than " : "",
                   isfinite(high) ? fhi_shortest(to, sizeof to, high) : "",
                   on_end ? ", and not at the strand's end" : "");
  return fhi_refuse(rr->r, fhi_at_grip(rr, g, "at_m"), accepted, "the grip %s is not on the strand that it holds",
                    rr->rig->bodies[grip->body]);
}

static bool check_grip_pairs(fhi_rig_reading *rr, int g) {
  const fh_grip *grip = &rr->rig->grips[g];
  for (int h = 0; h < g; h++) {
    const fh_grip *other = &rr->rig->grips[h];
    if (other->path == grip->path && other->after == grip->after && other->at == grip->at) {
      return fhi_refuse(rr->r, fhi_at_grip(rr, g, "at_m"), "grips of one strand in different places",
                        "two grips sit in the same place");
    }
  }
  return true;
}

// Whether another grip holds the rope between a tie and a gripped strand of the same path.
static bool gripped_between(const fhi_rig_reading *rr, int p, int tie, int own) {
  const fh_grip *grips = rr->rig->grips;
  int first = grips[own].after < tie ? grips[own].after : tie, last = grips[own].after < tie ? tie - 1 : grips[own].after;
  for (int h = 0; h < rr->rig->grip_count; h++) {
    if (h != own && grips[h].path == p && grips[h].body != grips[own].body && grips[h].after >= first && grips[h].after <= last) {
      return true;
    }
  }
  return false;
}

// A rope tied to a grip body pulls on itself when that grip holds the same piece of the same rope: a closed loop.
static bool check_self(fhi_rig_reading *rr, int p, int i) {
  const fh_station *tie = station_of(rr, p, i);
  for (int g = 0; g < rr->rig->grip_count; g++) {
    const fh_grip *grip = &rr->rig->grips[g];
    if (tie->kind != FH_TIE || grip->body != tie->body || grip->body < FH_BODY_FIRST_GRIP || grip->path != p) {
      continue;
    }
    bool same_piece = true;  // no other tie or grip between the tie and the gripped strand
    int first = grip->after < i ? grip->after + 1 : i + 1;
    int last = grip->after < i ? i - 1 : grip->after;
    for (int k = first; k <= last; k++) {
      same_piece = same_piece && station_of(rr, p, k)->kind != FH_TIE;
    }
    if (same_piece && !gripped_between(rr, p, i, g)) {
      return REFUSE_STATION(rr, p, i, "a tie to a body that this piece of the rope does not hold itself",
                            "the rope is tied to the grip %s that holds the same piece of it",
                            rr->rig->bodies[tie->body]);
    }
  }
  return true;
}

// ---------------------------------------------------------------------------------------------------- length

// What the part that carries needs on the haul line: pieces that end in a slack tie do not count, the hand's strand counts 0.
static double carrying_length(const fhi_rig_reading *rr, int p) {
  double all = 0.0, piece = 0.0;
  for (int i = 0; i + 1 < rr->rig->paths[p].count; i++) {
    const fh_station *a = station_of(rr, p, i), *b = station_of(rr, p, i + 1);
    bool open = a->kind == FH_LOOSE || b->kind == FH_LOOSE || b->kind == FH_HAND;
    double low = 0.0, high = 0.0;
    if (!open) {
      strand_ends(rr, p, i, &low, &high);
    }
    piece += high - low;
    if (b->kind == FH_TIE || i + 2 == rr->rig->paths[p].count) {
      bool slack = b->kind == FH_TIE && fh_number_is_set(b->slack) && b->slack.likely > 0.0;
      all += slack ? 0.0 : piece;
      piece = 0.0;
    }
  }
  return all;
}

static bool check_length(fhi_rig_reading *rr, int p) {
  int rope = rr->rig->paths[p].rope;
  if (rope < 0 || !fh_number_is_set(rr->scene->ropes[rope].length)) {
    return true;
  }
  double need = carrying_length(rr, p);
  if (need <= rr->scene->ropes[rope].length.hi) {
    return true;
  }
  char accepted[64], metres[32];
  const fh_doc *doc = rr->r->doc;
  int entry = fhi_doc_node(doc, fhi_doc_find(doc, fhi_doc_root(doc), "ropes"))->first;
  for (int i = 0; i < rope; i++) {
    entry = fhi_doc_node(doc, entry)->next;
  }
  (void)fhi_format(rr->r->path, sizeof rr->r->path, "ropes[%d].length_m", rope);
  (void)fhi_format(accepted, sizeof accepted, "at least %s m for the strands that carry",
                   fhi_fixed(metres, sizeof metres, need, 1));
  return fhi_refuse(rr->r, fhi_doc_find(doc, entry, "length_m"), accepted, "the rope %s is too short for the rig",
                    rr->rig->paths[p].name);
}

bool fhi_check_rig(fhi_rig_reading *rr) {
  for (int p = 0; p < rr->rig->path_count; p++) {
    if (!check_ends(rr, p)) {
      return false;
    }
    for (int i = 0; i + 1 < rr->rig->paths[p].count; i++) {
      if (!check_loop(rr, p, i) || !check_lip(rr, p, i)) {
        return false;
      }
    }
  }
  if (!check_hands(rr)) {
    return false;
  }
  for (int g = 0; g < rr->rig->grip_count; g++) {
    if (!check_grip_place(rr, g) || !check_grip_pairs(rr, g)) {
      return false;
    }
  }
  for (int p = 0; p < rr->rig->path_count; p++) {
    for (int i = 0; i < rr->rig->paths[p].count; i++) {
      if (!check_self(rr, p, i)) {
        return false;
      }
    }
    if (!check_length(rr, p)) {
      return false;
    }
  }
  return true;
}
