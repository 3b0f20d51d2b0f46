// SPDX-License-Identifier: MIT
// Scenes for the benchmark, read as users write them.
#include "scenes.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../cli/yaml.h"

bench_scene *bench_scene_create(const char *yaml) {
  bench_scene *s = calloc(1, sizeof *s);
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  fh_status status = s == NULL ? FH_ERR_MEMORY : fh_gear_create(&s->gear);
  if (status == FH_OK) {
    status = cli_yaml_parse(yaml, strlen(yaml), &doc, &diag);
  }
  if (status == FH_OK) {
    status = fh_scene_create(doc, s->gear, &s->scene, &diag);
  }
  fh_doc_destroy(doc);
  if (status != FH_OK) {
    (void)cli_yaml_complain("benchmark scene", status, &diag);
    bench_scene_destroy(s);
    return NULL;
  }
  return s;
}

void bench_scene_destroy(void *scene) {
  bench_scene *s = scene;
  if (s != NULL) {
    fh_scene_destroy(s->scene);
    fh_gear_destroy(s->gear);
    free(s);
  }
}

void bench_kit_yaml(char *text, size_t size, int captures, int pulleys, int carabiners, int hitches, int ropes, int cords) {
  size_t used = (size_t)snprintf(text, size,
                                 "firnhaul: 1\nload: {mass_kg: 85}\nslot: {depth_m: 9}\nlip: {turn_deg: 80, surface: padded}\n"
                                 "ground: {station_m: 4.5, anchor_m: 8}\ncrew: [{name: guide, mass_kg: 74}]\nkit:\n"
                                 "  - {item: toothed-capture, count: %d}\n  - {item: pulley, count: %d}\n"
                                 "  - {item: carabiner, count: %d}\n  - {item: prusik, count: %d}\nropes:\n",
                                 captures, pulleys, carabiners, hitches);
  for (int i = 0; i < ropes + cords && used < size; i++) {
    used += (size_t)snprintf(text + used, size - used, "  - {name: rope-%d, length_m: %d, kind: %s}\n", i + 1, i < ropes ? 60 : 6,
                             i < ropes ? "half" : "cord");
  }
}
