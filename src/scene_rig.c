// SPDX-License-Identifier: MIT
// Which bodies, ropes, stations and grips does the scene's rig have? Model section 1. Names become indices here.
#include "scene_rig.h"

#include <stdio.h>
#include <string.h>

#include "text.h"

static const char *const KIND_WORDS[] = {"tie", "edge", "run", "hand", "loose"};  // in the order of fh_station_kind
enum { KINDS = 5 };
static const char FIVE[] = "one of tie, edge, run, hand, loose";

const char *fhi_station_word(fh_station_kind kind) {
  return KIND_WORDS[kind];
}

static int key_node(fhi_rig_reading *rr, int entry, const char *key) {
  int node = fhi_doc_find(rr->r->doc, entry, key);
  if (node >= 0) {
    (void)fhi_enter(rr->r, key, -1);
  }
  return node >= 0 ? node : entry;
}

int fhi_at_station(fhi_rig_reading *rr, int path, int station, const char *key) {
  (void)fhi_format(rr->r->path, sizeof rr->r->path, "rig.ropes[%d].path[%d]", path, station);
  return key_node(rr, rr->nodes->station[rr->rig->paths[path].first + station], key);
}

int fhi_at_grip(fhi_rig_reading *rr, int grip, const char *key) {
  (void)fhi_format(rr->r->path, sizeof rr->r->path, "rig.grips[%d]", grip);
  return key_node(rr, rr->nodes->grip[grip], key);
}

static int find_body(const fh_rig *rig, const char *name) {
  for (int i = 0; i < rig->body_count; i++) {
    if (strcmp(rig->bodies[i], name) == 0) {
      return i;
    }
  }
  return -1;
}

static bool refuse_body(fhi_rig_reading *rr, int node, const char *name) {
  char accepted[200] = "", shown[48];
  for (int i = 0; i < rr->rig->body_count; i++) {
    size_t n = strlen(accepted);
    (void)fhi_format(accepted + n, sizeof accepted - n, "%s%s", i == 0 ? "" : ", ", rr->rig->bodies[i]);
  }
  return fhi_refuse(rr->r, node, accepted, "no body has the name %s", fhi_shown(shown, sizeof shown, name));
}

// ---------------------------------------------------------------------------------------------------- stations

// The rows that belong to one kind of station only.
static const struct {
  const char *key;
  fh_station_kind kind;
} EXTRAS[] = {{"slack_m", FH_TIE},          {"friction", FH_EDGE}, {"on", FH_RUN},      {"efficiency", FH_RUN},
              {"efficiency_range", FH_RUN}, {"reversed", FH_RUN},  {"toward", FH_HAND}, {"angle_deg", FH_HAND}};

static bool find_kind(fhi_rig_reading *rr, int node, fh_station_kind *kind) {
  int found = 0;
  for (int k = 0; k < KINDS; k++) {
    if (fhi_doc_find(rr->r->doc, node, KIND_WORDS[k]) >= 0) {
      *kind = (fh_station_kind)k;
      found++;
    }
  }
  if (found != 1) {
    return fhi_refuse(rr->r, node, FIVE,
                      found == 0 ? "the station says none of the five" : "the station is two things");
  }
  for (size_t i = 0; i < sizeof EXTRAS / sizeof EXTRAS[0]; i++) {
    int extra = fhi_doc_find(rr->r->doc, node, EXTRAS[i].key);
    if (extra >= 0 && EXTRAS[i].kind != *kind) {
      size_t length = fhi_enter(rr->r, EXTRAS[i].key, -1);
      char accepted[64];
      (void)fhi_format(accepted, sizeof accepted, "it goes with %s", KIND_WORDS[EXTRAS[i].kind]);
      (void)fhi_refuse(rr->r, extra, accepted, "the key %s does not go with %s", EXTRAS[i].key, KIND_WORDS[*kind]);
      fhi_leave(rr->r, length);
      return false;
    }
  }
  return true;
}

static bool body_of(fhi_rig_reading *rr, int node, const char *key, const char *name, int *body) {
  *body = find_body(rr->rig, name);
  return *body >= 0 || refuse_body(rr, key_node(rr, node, key), name);
}

static bool finish_run(fhi_rig_reading *rr, int node, const fhi_said_station *said, fh_station *st) {
  if (!body_of(rr, node, "run", said->run, &st->body)) {
    return false;
  }
  if (said->item < 0) {
    char accepted[200];
    fhi_accepts(rr->r, fhi_key_row("rig.ropes[].path[].on"), accepted, sizeof accepted);
    (void)fhi_enter(rr->r, "on", -1);
    return fhi_refuse(rr->r, node, accepted, "the key is missing");
  }
  st->item = said->item;
  st->reversed = said->reversed;
  if (st->reversed && fh_gear_item(rr->r->gear, st->item)->item_class != FH_ITEM_CAPTURE) {
    return fhi_refuse(rr->r, key_node(rr, node, "reversed"), "reversed with a capture",
                      "only a capture can be the wrong way round");
  }
  if (!fh_number_is_set(said->efficiency_range)) {
    return true;
  }
  bool around = said->efficiency.spread == FH_SPREAD_EXACT && said->efficiency_range.lo <= said->efficiency.likely &&
                said->efficiency_range.hi >= said->efficiency.likely;
  return around ||
         fhi_refuse(rr->r, key_node(rr, node, "efficiency_range"), "[low, high] with an exact efficiency between them",
                    "the range does not go around an exact efficiency");
}

static bool read_station(fhi_rig_reading *rr, int node, fh_station *st) {
  fhi_said_station said;
  fh_station_kind kind = FH_TIE;
  if (!fhi_read_map(rr->r, node, fhi_key_row("rig.ropes[].path[]"), &said) || !find_kind(rr, node, &kind)) {
    return false;
  }
  memset(st, 0, sizeof *st);
  st->kind = kind;
  st->body = st->item = -1;
  st->efficiency = said.efficiency;
  st->efficiency_range = said.efficiency_range;
  st->friction = said.friction;
  st->slack = said.slack;
  st->toward = said.toward < 0 ? FH_TOWARD_AUTO : said.toward == 0 ? FH_TOWARD_BACK : FH_TOWARD_LIP;
  st->angle = kind == FH_HAND ? said.angle : fh_number_unset();
  st->line = fhi_doc_node(rr->r->doc, node)->line;
  st->column = fhi_doc_node(rr->r->doc, node)->column;
  switch (kind) {
  case FH_TIE: return body_of(rr, node, "tie", said.tie, &st->body);
  case FH_RUN: return finish_run(rr, node, &said, st);
  case FH_LOOSE: return said.loose || fhi_refuse(rr->r, key_node(rr, node, "loose"), "true", "a loose end is loose");
  case FH_EDGE:
  case FH_HAND: break;
  }
  return true;
}

// ---------------------------------------------------------------------------------------------------- ropes

static int find_rope(const fh_scene *scene, const char *name) {
  for (int i = 0; i < scene->rope_count; i++) {
    if (strcmp(scene->ropes[i].name, name) == 0) {
      return i;
    }
  }
  return -1;
}

static int find_path(const fh_rig *rig, const char *name) {
  for (int i = 0; i < rig->path_count; i++) {
    if (strcmp(rig->paths[i].name, name) == 0) {
      return i;
    }
  }
  return -1;
}

static bool read_stations(fhi_rig_reading *rr, int list, fh_path *path) {
  fh_rig *rig = rr->rig;
  if (rig->station_count + fhi_doc_node(rr->r->doc, list)->count > FH_MAX_STATIONS) {
    return fhi_refuse(rr->r, list, "at most 128 stations in one rig", "too many stations");
  }
  for (int v = fhi_doc_node(rr->r->doc, list)->first; v >= 0; v = fhi_doc_node(rr->r->doc, v)->next) {
    size_t length = fhi_enter(rr->r, NULL, path->count);
    rr->nodes->station[rig->station_count] = v;
    if (!read_station(rr, v, &rig->stations[rig->station_count])) {
      return false;
    }
    fhi_leave(rr->r, length);
    rig->station_count++;
    path->count++;
  }
  return true;
}

static bool read_path(fhi_rig_reading *rr, int node) {
  fh_rig *rig = rr->rig;
  fh_path *path = &rig->paths[rig->path_count];
  fhi_said_path said;
  if (!fhi_read_map(rr->r, node, fhi_key_row("rig.ropes[]"), &said)) {
    return false;
  }
  if (find_path(rig, said.name) >= 0) {
    return fhi_refuse(rr->r, key_node(rr, node, "name"), "each rope once: its path goes on from tie to tie",
                      "the rope %s has a path already", said.name);
  }
  bool end = said.of[0] != '\0';
  if (end && (find_rope(rr->scene, said.of) < 0 || find_rope(rr->scene, said.name) >= 0)) {
    return fhi_refuse(rr->r, key_node(rr, node, "of"), "a rope of the list, for a path with a name of its own",
                      "%s cannot be another end of %s", said.name, said.of);
  }
  (void)fhi_copy(path->name, sizeof path->name, said.name);
  (void)fhi_copy(path->of, sizeof path->of, said.of);
  path->rope = find_rope(rr->scene, end ? said.of : said.name);
  path->first = rig->station_count;
  path->count = 0;
  path->line = fhi_doc_node(rr->r->doc, node)->line;
  path->column = fhi_doc_node(rr->r->doc, node)->column;
  rr->nodes->path[rig->path_count] = node;
  size_t length = fhi_enter(rr->r, "path", -1);
  if (!read_stations(rr, fhi_doc_find(rr->r->doc, node, "path"), path)) {
    return false;
  }
  fhi_leave(rr->r, length);
  rig->path_count++;
  return true;
}

// ---------------------------------------------------------------------------------------------------- grips

static bool taken_word(const char *name) {
  static const char *const WORDS[] = {"lip", "hand", "loose", "crew", "load"};
  for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
    if (strcmp(WORDS[i], name) == 0) {
      return true;
    }
  }
  return false;
}

// First half of a grip: its body, which paths may name.
static bool read_grip(fhi_rig_reading *rr, int node, fhi_said_grip *said) {
  fh_rig *rig = rr->rig;
  fh_grip *grip = &rig->grips[rig->grip_count];
  if (!fhi_read_map(rr->r, node, fhi_key_row("rig.grips[]"), said)) {
    return false;
  }
  grip->body = find_body(rig, said->body);
  if (taken_word(said->body)) {
    return fhi_refuse(rr->r, key_node(rr, node, "body"), "a name of its own, or station or anchor",
                      "a grip cannot be called %s", said->body);
  }
  if (grip->body >= FH_BODY_FIRST_GRIP) {
    return fhi_refuse(rr->r, key_node(rr, node, "body"), "a name of its own for each grip",
                      "two grips make the body %s", said->body);
  }
  if (grip->body < 0) {
    grip->body = rig->body_count++;  // 3 + 32 grips fit in 40
    (void)fhi_copy(rig->bodies[grip->body], FH_NAME, said->body);
  }
  grip->item = said->item;
  grip->after = said->after;
  grip->at = said->at;
  grip->line = fhi_doc_node(rr->r->doc, node)->line;
  grip->column = fhi_doc_node(rr->r->doc, node)->column;
  rr->nodes->grip[rig->grip_count++] = node;
  return true;
}

// Second half: the rope that it holds.
static bool join_grip(fhi_rig_reading *rr, int g, const fhi_said_grip *said) {
  fh_grip *grip = &rr->rig->grips[g];
  grip->path = find_path(rr->rig, said->rope);
  if (grip->path < 0) {
    int node = fhi_at_grip(rr, g, "rope");
    return fhi_refuse(rr->r, node, "the name of a rope of this rig", "no rope of this rig has the name %s", said->rope);
  }
  int strands = rr->rig->paths[grip->path].count - 1;
  if (grip->after >= strands) {
    char accepted[64];
    int node = fhi_at_grip(rr, g, "after");
    (void)fhi_format(accepted, sizeof accepted, "0 to %d", strands - 1);
    return fhi_refuse(rr->r, node, accepted, "the rope %s has no strand after station %d", said->rope, grip->after);
  }
  return true;
}

static bool read_list(fhi_rig_reading *rr, int list, const char *key, fhi_said_grip *said) {
  int index = 0;
  for (int v = list < 0 ? -1 : fhi_doc_node(rr->r->doc, list)->first; v >= 0; v = fhi_doc_node(rr->r->doc, v)->next) {
    (void)fhi_format(rr->r->path, sizeof rr->r->path, "rig.%s[%d]", key, index);
    if (said == NULL ? !read_path(rr, v) : !read_grip(rr, v, &said[index])) {
      return false;
    }
    index++;
  }
  return true;
}

bool fhi_read_rig(fhi_reading *r, int node, fh_scene *scene, fhi_rig_nodes *nodes) {
  fhi_said_grip said[FH_MAX_GRIPS];
  fhi_rig_reading rr = {.r = r, .scene = scene, .rig = &scene->rig, .nodes = nodes};
  (void)fhi_copy(scene->rig.bodies[FH_BODY_LOAD], FH_NAME, "load");
  (void)fhi_copy(scene->rig.bodies[FH_BODY_STATION], FH_NAME, "station");
  (void)fhi_copy(scene->rig.bodies[FH_BODY_ANCHOR], FH_NAME, "anchor");
  scene->rig.body_count = FH_BODY_FIRST_GRIP;
  (void)fhi_copy(r->path, sizeof r->path, "rig");
  if (!fhi_read_map(r, node, fhi_key_row("rig"), NULL)) {
    return false;
  }
  // Grips first: they make the bodies that the paths name.
  if (!read_list(&rr, fhi_doc_find(r->doc, node, "grips"), "grips", said) ||
      !read_list(&rr, fhi_doc_find(r->doc, node, "ropes"), "ropes", NULL)) {
    return false;
  }
  for (int g = 0; g < scene->rig.grip_count; g++) {
    if (!join_grip(&rr, g, &said[g])) {
      return false;
    }
  }
  scene->has_rig = true;
  scene->rig_line = fhi_doc_node(r->doc, node)->line;
  scene->rig_column = fhi_doc_node(r->doc, node)->column;
  return fhi_check_rig(&rr);
}
