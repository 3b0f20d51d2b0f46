// SPDX-License-Identifier: MIT
// Random rigs and what the native core says of them, for the page's module to agree with: page_rigs FIRST COUNT
// For each seed one record on standard output: "SEED SCENE-BYTES CHECK-BYTES\n", the scene as YAML, its check as JSON; no check
// where the scene is refused (some rigs are spoiled on purpose).
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../../tests/refs/common/random_rig.h"
#include "yaml.h"

typedef struct text {
  char bytes[1 << 20];
  size_t used;
} text;

static int keep(void *user, const char *bytes, size_t count) {
  text *t = user;
  if (count > sizeof t->bytes - t->used) {
    return 1;
  }
  memcpy(t->bytes + t->used, bytes, count);
  t->used += count;
  return 0;
}

// The scene as anyone would read it: what was built by hand has no places and sources of its own.
static fh_status read_back(const text *yaml, const fh_gear *gear, fh_scene **out) {
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  fh_status status = cli_yaml_parse(yaml->bytes, yaml->used, &doc, &diag);
  if (status == FH_OK) {
    status = fh_scene_create(doc, gear, out, &diag);
  }
  fh_doc_destroy(doc);
  return status;
}

static fh_status one(const fh_gear *gear, const ref_items *items, uint64_t seed) {
  static text yaml, json;
  ref_wish wish = ref_wish_default();
  fh_scene *scene = ref_random_make(seed, items, &wish);
  fh_check *check = NULL;
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = true;
  if (scene == NULL) {
    return FH_ERR_MEMORY;
  }
  yaml.used = json.used = 0;
  scene->has_rig = true;
  fh_status status = fh_scene_write_yaml(scene, gear, (fh_out){keep, &yaml});
  fh_scene *again = NULL;
  if (status == FH_OK) {
    status = read_back(&yaml, gear, &again);
  }
  if (status == FH_OK) {
    status = fh_check_create(again, gear, &again->rig, &opts, &check);
  }
  if (status == FH_OK) {
    status = fh_check_write_json(again, gear, &again->rig, check, (fh_out){keep, &json});
  }
  if (status == FH_OK || status == FH_ERR_INPUT) {  // refused: nothing is said of it
    (void)printf("%llu %zu %zu\n", (unsigned long long)seed, yaml.used, json.used);
    (void)fwrite(yaml.bytes, 1, yaml.used, stdout);
    (void)fwrite(json.bytes, 1, json.used, stdout);
  }
  fh_check_destroy(check);
  fh_scene_destroy(again);
  free(scene);
  return status == FH_ERR_INPUT ? FH_OK : status;
}

int main(int argc, char **argv) {
  fh_gear *gear = NULL;
  ref_items items;
  if (argc != 3 || fh_gear_create(&gear) != FH_OK || !ref_items_find(gear, &items)) {
    return 2;
  }
  long first = strtol(argv[1], NULL, 10);
  long count = strtol(argv[2], NULL, 10);
  for (long i = 0; i < count; i++) {
    if (one(gear, &items, (uint64_t)(first + i)) != FH_OK) {
      (void)fprintf(stderr, "seed %ld failed\n", first + i);
      return 1;
    }
  }
  fh_gear_destroy(gear);
  return fflush(stdout) == 0 ? 0 : 1;
}
