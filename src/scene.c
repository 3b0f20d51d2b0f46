// SPDX-License-Identifier: MIT
// What did the user say? From a document to a scene: every key checked against the table, defaults filled in, the whole consistent.
#include <math.h>
#include <string.h>

#include "memory.h"
#include "scene_rig.h"
#include "text.h"

// ---------------------------------------------------------------------------------------------------- the document as a whole

static bool check_document(fhi_reading *r) {
  int root = fhi_doc_root(r->doc);
  if (root < 0) {
    (void)fhi_refuse(r, -1, "a scene that starts with firnhaul: 1", "the document is empty");
    if (r->diag != NULL) {
      r->diag->line = r->diag->column = 1;
    }
    return false;
  }
  int twice = fhi_doc_duplicate(r->doc);
  if (twice >= 0) {
    char shown[48];
    (void)fhi_enter(r, fhi_shown(shown, sizeof shown, fhi_doc_text(r->doc, twice)), -1);
    return fhi_refuse(r, twice, "each key once in its map", "the key stands twice");
  }
  if (fhi_doc_node(r->doc, root)->kind != FHI_NODE_MAP || fhi_doc_find(r->doc, root, "firnhaul") < 0) {
    return fhi_refuse(r, root, "a map that starts with firnhaul: 1", "not a scene: the key firnhaul is missing");
  }
  return true;
}

// The node of a key given by up to three names, or the nearest map above it that was said.
static int said(const fhi_reading *r, const char *a, const char *b, int index, const char *c) {
  int node = fhi_doc_find(r->doc, fhi_doc_root(r->doc), a);
  if (node >= 0 && b != NULL) {
    int inner = fhi_doc_find(r->doc, node, b);
    node = inner >= 0 ? inner : node;
  }
  if (node >= 0 && index >= 0) {
    node = fhi_doc_node(r->doc, node)->first;
    for (int i = 0; i < index; i++) {
      node = fhi_doc_node(r->doc, node)->next;
    }
  }
  int last = node >= 0 && c != NULL ? fhi_doc_find(r->doc, node, c) : -1;
  return last >= 0 ? last : node;
}

static bool refuse_at(fhi_reading *r, const char *path, int node, const char *accepted, const char *message) {
  (void)fhi_copy(r->path, sizeof r->path, path);
  return fhi_refuse(r, node, accepted, "%s", message);
}

// ---------------------------------------------------------------------------------------------------- defaults in words

// All of these ask the document what was said, not the scene what stands there: done twice they give the same.
static bool has(const fhi_reading *r, const char *map, const char *key) {
  int node = fhi_doc_find(r->doc, fhi_doc_root(r->doc), map);
  return node >= 0 && fhi_doc_find(r->doc, node, key) >= 0;
}

// A friction from the surface, at its range; the user's own number goes first.
static void fill_lip(fhi_reading *r, fh_scene *s) {
  if (!has(r, "lip", "friction")) {
    s->lip_friction = fh_gear_figure(r->gear, s->lip_surface, "friction", NULL);
  } else if (!has(r, "lip", "surface")) {
    s->lip_surface = -1;
  }
}

static void fill_ground(fhi_reading *r, fh_scene *s) {
  if (!has(r, "ground", "anchor_m")) {
    s->anchor_at = fh_number_exact(s->station_at.hi + 3.0);
  }
  if (!has(r, "ground", "reach_m")) {
    s->reach = fh_number_exact(fmin(1.0, s->station_at.lo));
  }
}

static void fill_crew(fhi_reading *r, fh_scene *s) {
  if (fhi_doc_find(r->doc, fhi_doc_root(r->doc), "crew") < 0) {
    fhi_fill(r, fhi_key_row("crew[]"), &s->crew[0], true);
    s->crew_count = 1;
  }
}

static void fill_ropes(fhi_reading *r, fh_scene *s) {
  for (int i = 0; i < s->rope_count; i++) {
    int entry = said(r, "ropes", NULL, i, NULL);
    if (fhi_doc_find(r->doc, entry, "wet") < 0) {
      s->ropes[i].wet = s->wet;
    }
    if (fhi_doc_find(r->doc, entry, "diameter_mm") < 0) {
      s->ropes[i].diameter = fh_gear_figure(r->gear, s->ropes[i].kind, "diameter_m", NULL);
    }
  }
}

// The edge of ice tells of ice underfoot, and hard snow at the anchor of hard snow; neither tells of soft snow: only the cautious
// way is taken unsaid.
static fh_underfoot underfoot(fhi_reading *r, const fh_scene *s) {
  if (has(r, "team", "snow")) {
    return s->team.snow;
  }
  if (has(r, "lip", "surface") && s->lip_surface == fh_gear_find(r->gear, "ice")) {
    return FH_UNDERFOOT_ICE;
  }
  return has(r, "anchor", "snow") && s->anchorage.snow >= FH_SNOW_PENCIL ? FH_UNDERFOOT_FIRN : FH_UNDERFOOT_UNKNOWN;
}

// Nobody falls over padding: it is laid for the raise.
static void fill_edge(fhi_reading *r, fh_scene *s) {
  bool padded = s->lip_surface >= 0 && s->lip_surface == fh_gear_find(r->gear, "padded");
  if (!has(r, "team", "edge")) {
    s->team.edge = padded ? fh_gear_find(r->gear, "firn") : s->lip_surface;
  }
  bool own = s->team.edge >= 0 && (padded || has(r, "team", "edge"));
  s->team.edge_friction = own ? fh_gear_figure(r->gear, s->team.edge, "friction", NULL) : s->lip_friction;
}

static void fill_team(fhi_reading *r, fh_scene *s) {
  static const char *const ITEMS[] = {"underfoot", "underfoot-soft", "underfoot-firn", "underfoot-ice"};
  fill_edge(r, s);
  s->team.snow = underfoot(r, s);
  int item = fh_gear_find(r->gear, ITEMS[s->team.snow - FH_UNDERFOOT_UNKNOWN]);
  if (!has(r, "team", "stand")) {
    s->team.stand = fh_gear_figure(r->gear, item, "stand", NULL);
  }
  if (!has(r, "team", "brake")) {
    s->team.brake = fh_gear_figure(r->gear, item, "brake", NULL);
  }
}

// ---------------------------------------------------------------------------------------------------- the whole

static bool check_load(fhi_reading *r, const fh_scene *s) {
  return !s->load_helps || s->load_responds != FH_RESPONDS_SILENT ||
         refuse_at(r, "load.helps", said(r, "load", "helps", -1, NULL), "helps: false, or responds: answers", "a person who does not answer cannot help");
}

static bool check_ground(fhi_reading *r, const fh_scene *s) {
  if (s->anchor_at.lo < s->station_at.hi) {
    return refuse_at(r, "ground.anchor_m", said(r, "ground", "anchor_m", -1, NULL),
                     "a distance not below station_m, over both ranges", "the anchor lies in front of the station");
  }
  if (s->reach.hi > s->station_at.lo) {
    return refuse_at(r, "ground.reach_m", said(r, "ground", "reach_m", -1, NULL),
                     "a distance not above station_m, over both ranges",
                     "the nearest place for a hitch lies behind the station");
  }
  return true;
}

static bool check_ropes(fhi_reading *r, const fh_scene *s) {
  for (int i = 0; i < s->rope_count; i++) {
    for (int k = 0; k < i; k++) {
      if (strcmp(s->ropes[i].name, s->ropes[k].name) == 0) {
        char path[64];
        (void)fhi_format(path, sizeof path, "ropes[%d].name", i);
        return refuse_at(r, path, said(r, "ropes", NULL, i, "name"), "a name of its own for each rope",
                         "two ropes have this name");
      }
    }
  }
  return true;
}

static bool check_team(fhi_reading *r, const fh_scene *s) {
  int people = s->has_team ? said(r, "team", "people", -1, NULL) : -1;
  int entry = people >= 0 ? fhi_doc_node(r->doc, people)->first : -1;
  for (int i = 0; entry >= 0; i++, entry = fhi_doc_node(r->doc, entry)->next) {
    char path[64];
    (void)fhi_format(path, sizeof path, "team.people[%d].behind_m", i);
    fh_number at = s->team.people[i].behind;
    int node = fhi_doc_find(r->doc, entry, "behind_m");
    if (i == 0 && (at.lo != 0.0 || at.hi != 0.0)) {
      return refuse_at(r, path, node, "0", "distances count from the first one, who falls");
    }
    if (i > 0 && at.lo <= s->team.people[i - 1].behind.hi) {
      return refuse_at(r, path, node, "more than the one before, over both ranges",
                       "each member stands farther back than the one before");
    }
  }
  return true;
}

// What follows from the document's maps, once they are read.
static bool finish_scene(fhi_reading *r, fh_scene *s) {
  int team = fhi_doc_find(r->doc, fhi_doc_root(r->doc), "team");
  if (team >= 0) {
    s->has_team = true;
    s->team.line = fhi_doc_node(r->doc, team)->line;
    s->team.column = fhi_doc_node(r->doc, team)->column;
  }
  s->has_anchorage = s->anchorage.point_count > 0;
  fill_lip(r, s);
  fill_ground(r, s);
  fill_crew(r, s);
  fill_ropes(r, s);
  fill_team(r, s);
  return check_load(r, s) && check_ground(r, s) && check_ropes(r, s) && check_team(r, s);
}

static bool read_scene(fhi_reading *r, fh_scene *s, fhi_rig_nodes *nodes) {
  if (!check_document(r) || !fhi_read_map(r, fhi_doc_root(r->doc), -1, s) || !finish_scene(r, s)) {
    return false;
  }
  int rig = fhi_doc_find(r->doc, fhi_doc_root(r->doc), "rig");
  return rig < 0 || fhi_read_rig(r, rig, s, nodes);
}

fh_status fhi_scene_fill(const fh_doc *doc, const fh_gear *gear, fh_scene *scene, fhi_rig_nodes *nodes, fh_diag *diag) {
  fhi_reading r = {.doc = doc, .gear = gear, .diag = diag};
  memset(scene, 0, sizeof *scene);
  return read_scene(&r, scene, nodes) ? FH_OK : FH_ERR_INPUT;
}

fh_status fhi_scene_fill_again(const fh_doc *doc, const fh_gear *gear, const fhi_top *tops, int count, fhi_rig_nodes *nodes, fh_scene *scene, fh_diag *diag) {
  fhi_reading r = {.doc = doc, .gear = gear, .diag = diag};
  for (int i = 0; i < count; i++) {
    size_t length = fhi_enter(&r, fhi_doc_text(doc, fhi_doc_node(doc, tops[i].node)->key), -1);
    if (!fhi_read_value(&r, tops[i].node, tops[i].row, scene)) {
      return FH_ERR_INPUT;
    }
    fhi_leave(&r, length);
  }
  if (!finish_scene(&r, scene)) {
    return FH_ERR_INPUT;
  }
  fhi_rig_reading rr = {.r = &r, .scene = scene, .rig = &scene->rig, .nodes = nodes};
  return !scene->has_rig || fhi_check_rig(&rr) ? FH_OK : FH_ERR_INPUT;
}

fh_status fh_scene_create(const fh_doc *doc, const fh_gear *gear, fh_scene **out, fh_diag *diag) {
  if (doc == NULL || gear == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fhi_rig_nodes nodes;
  fh_scene *scene = fhi_alloc(1, sizeof *scene);
  *out = NULL;
  if (scene == NULL) {
    return FH_ERR_MEMORY;
  }
  fh_status status = fhi_scene_fill(doc, gear, scene, &nodes, diag);
  if (status != FH_OK) {
    fh_scene_destroy(scene);
    return status;
  }
  *out = scene;
  return FH_OK;
}

void fh_scene_destroy(fh_scene *scene) {
  fhi_free(scene);
}
