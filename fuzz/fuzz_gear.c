// SPDX-License-Identifier: MIT
// Any bytes as an own gear file: read or refused with a place, never a crash; the catalogue stays sorted and sound.
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "firnhaul.h"
#include "yaml.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void insist(bool good) {
  if (!good) {
    abort();
  }
}

static void look(const fh_gear *gear) {
  for (int i = 0; i < fh_gear_count(gear); i++) {
    const fh_item *item = fh_gear_item(gear, i);
    insist(fh_gear_find(gear, item->name) == i);
    for (int k = 0; k < item->figure_count; k++) {
      const fh_figure *f = &item->figures[k];
      insist(isfinite(f->value.lo) && f->value.lo <= f->value.likely && f->value.likely <= f->value.hi && isfinite(f->value.hi));
      insist(strlen(f->note) + strlen(f->ref) + strlen(f->unit) < 1000);
    }
  }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  fh_gear *gear = NULL;
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  if (fh_gear_create(&gear) != FH_OK) {
    return 0;
  }
  int before = fh_gear_count(gear);
  if (cli_yaml_parse((const char *)data, size, &doc, &diag) == FH_OK) {
    fh_status status = fh_gear_add(gear, doc, &diag);
    insist(status == FH_OK || (diag.message[0] != '\0' && diag.accepted[0] != '\0' && fh_gear_count(gear) == before));
  }
  fh_doc_destroy(doc);
  look(gear);
  fh_gear_destroy(gear);
  return 0;
}
