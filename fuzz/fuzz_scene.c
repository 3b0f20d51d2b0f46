// SPDX-License-Identifier: MIT
// Any bytes as a scene: they are refused with a full diagnostic, or they make a scene that is written and read back the same.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "yaml.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

typedef struct text {
  char *bytes;
  size_t count, room;
} text;

static int put(void *user, const char *bytes, size_t count) {
  text *t = user;
  if (t->count + count > t->room) {
    t->room = (t->count + count) * 2;
    t->bytes = realloc(t->bytes, t->room);
    if (t->bytes == NULL) {
      abort();
    }
  }
  memcpy(t->bytes + t->count, bytes, count);
  t->count += count;
  return 0;
}

// What must be true of a scene that was let in, else the solver behind would have to doubt it.
static void demand(bool truth, const char *what) {
  if (!truth) {
    (void)fprintf(stderr, "not true: %s\n", what);
    abort();
  }
}

static void demand_number(fh_number n) {
  demand(n.spread == FH_SPREAD_UNSET || (n.lo <= n.likely && n.likely <= n.hi && n.hi - n.lo < 1e9),
         "a number in order and finite");
}

static void demand_sound(const fh_scene *s) {
  demand_number(s->load_mass);
  demand_number(s->depth);
  demand_number(s->lip_friction);
  demand(s->load_mass.lo > 0.0 && s->depth.lo > 0.0, "mass and depth above zero");
  demand(s->station_at.hi <= s->anchor_at.lo && s->reach.hi <= s->station_at.lo, "reach, station, anchor in order");
  for (int p = 0; p < s->rig.path_count; p++) {
    const fh_path *path = &s->rig.paths[p];
    demand(path->count >= 2 && path->first + path->count <= s->rig.station_count, "a path within the stations");
    for (int i = path->first; i < path->first + path->count; i++) {
      const fh_station *st = &s->rig.stations[i];
      bool on_body = st->kind == FH_TIE || st->kind == FH_RUN;
      demand(on_body == (st->body >= 0) && st->body < s->rig.body_count, "a body where there is one");
      demand((st->kind == FH_RUN) == (st->item >= 0), "an item where the rope runs");
    }
  }
  for (int g = 0; g < s->rig.grip_count; g++) {
    const fh_grip *grip = &s->rig.grips[g];
    demand(grip->path >= 0 && grip->path < s->rig.path_count && grip->after < s->rig.paths[grip->path].count - 1,
           "a grip on a strand");
  }
}

static void write_and_read_back(const fh_scene *scene, const fh_gear *gear) {
  text first = {0}, second = {0}, json = {0};
  fh_doc *doc = NULL;
  fh_scene *again = NULL;
  fh_diag diag;
  demand(fh_scene_write_yaml(scene, gear, (fh_out){put, &first}) == FH_OK, "a scene is written");
  demand(cli_yaml_parse(first.bytes, first.count, &doc, &diag) == FH_OK, "what was written is YAML");
  demand(fh_scene_create(doc, gear, &again, &diag) == FH_OK, "what was written is a scene");
  demand(fh_scene_write_yaml(again, gear, (fh_out){put, &second}) == FH_OK, "it is written again");
  demand(first.count == second.count && memcmp(first.bytes, second.bytes, first.count) == 0, "both are the same");
  if (scene->has_rig) {
    demand(fh_rig_write_json(&scene->rig, gear, (fh_out){put, &json}) == FH_OK, "its rig is written");
  }
  fh_scene_destroy(again);
  fh_doc_destroy(doc);
  free(first.bytes);
  free(second.bytes);
  free(json.bytes);
}

static void demand_diagnostic(const fh_diag *diag) {
  demand(memchr(diag->key, '\0', sizeof diag->key) != NULL &&
             memchr(diag->message, '\0', sizeof diag->message) != NULL &&
             memchr(diag->accepted, '\0', sizeof diag->accepted) != NULL,
         "texts that end");
  demand(diag->message[0] != '\0' && diag->accepted[0] != '\0' && diag->line >= 1 && diag->column >= 1,
         "a full diagnostic");
  for (const char *p = diag->message; *p != '\0'; p++) {
    demand((unsigned char)*p >= 0x20 && *p != 0x7F, "a message without control characters");
  }
  for (const char *p = diag->key; *p != '\0'; p++) {
    demand((unsigned char)*p >= 0x20 && *p != 0x7F, "a key without control characters");
  }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  static fh_gear *gear;  // never changed: made once
  fh_doc *doc = NULL;
  fh_scene *scene = NULL;
  fh_diag diag = {0};
  if (gear == NULL) {
    demand(fh_gear_create(&gear) == FH_OK, "a catalogue");
  }
  fh_status status = cli_yaml_parse((const char *)data, size, &doc, &diag);
  if (status == FH_OK) {
    status = fh_scene_create(doc, gear, &scene, &diag);
  }
  if (status == FH_OK) {
    demand_sound(scene);
    write_and_read_back(scene, gear);
  } else {
    demand(status == FH_ERR_INPUT && scene == NULL, "refused as input");
    demand_diagnostic(&diag);
  }
  fh_scene_destroy(scene);
  fh_doc_destroy(doc);
  return 0;
}
