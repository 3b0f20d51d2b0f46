// SPDX-License-Identifier: MIT
// The catalogue: what is there, by name, and what its figures are. The rows stand in src/tables/.
#include "gear.h"

#include <string.h>

#include "memory.h"
#include "tables/tables.h"

// In the order of fh_item_class, so that the whole comes out sorted.
static const fhi_table *const TABLES[] = {&FHI_BARS,  &FHI_SHEAVES,  &FHI_CAPTURES, &FHI_HITCHES, &FHI_SURFACES,
                                          &FHI_ROPES, &FHI_POSTURES, &FHI_ANCHORS,  &FHI_OTHERS};

fh_status fh_gear_create(fh_gear **out) {
  if (out == NULL) {
    return FH_ERR_ARG;
  }
  int count = 0;
  for (int t = 0; t < FHI_COUNT(TABLES); t++) {
    count += TABLES[t]->count;
  }
  fh_gear *gear = fhi_alloc(1, sizeof *gear);
  fh_item *items = fhi_alloc((size_t)count, sizeof *items);
  if (gear == NULL || items == NULL) {
    fhi_free(items);
    fhi_free(gear);
    return FH_ERR_MEMORY;
  }
  gear->items = items;
  for (int t = 0; t < FHI_COUNT(TABLES); t++) {
    memcpy(items + gear->count, TABLES[t]->items, (size_t)TABLES[t]->count * sizeof *items);
    gear->count += TABLES[t]->count;
  }
  *out = gear;
  return FH_OK;
}

void fh_gear_destroy(fh_gear *gear) {
  if (gear == NULL) {
    return;
  }
  while (gear->blocks != NULL) {
    fhi_gear_block *block = gear->blocks;
    gear->blocks = block->next;
    fhi_free(block->figures);
    fhi_free(block->text);
    fhi_free(block);
  }
  fhi_free(gear->items);
  fhi_free(gear);
}

static int item_order(const fh_item *a, const fh_item *b) {
  if (a->item_class != b->item_class) {
    return a->item_class < b->item_class ? -1 : 1;
  }
  return strcmp(a->name, b->name);
}

bool fhi_gear_put(fh_gear *gear, const fh_item *item) {
  // The room first, so that nothing is lost when there is none.
  fh_item *grown = fhi_realloc(gear->items, (size_t)gear->count + 1, sizeof *grown);
  if (grown == NULL) {
    return false;
  }
  gear->items = grown;
  int old = fh_gear_find(gear, item->name);
  if (old >= 0) {
    gear->count--;
    memmove(grown + old, grown + old + 1, (size_t)(gear->count - old) * sizeof *grown);
  }
  int at = gear->count;
  while (at > 0 && item_order(item, &grown[at - 1]) < 0) {
    grown[at] = grown[at - 1];
    at--;
  }
  grown[at] = *item;
  gear->count++;
  return true;
}

int fh_gear_count(const fh_gear *gear) {
  return gear == NULL ? 0 : gear->count;
}

const fh_item *fh_gear_item(const fh_gear *gear, int index) {
  return gear == NULL || index < 0 || index >= gear->count ? NULL : &gear->items[index];
}

int fh_gear_find(const fh_gear *gear, const char *name) {
  for (int i = 0; name != NULL && i < fh_gear_count(gear); i++) {
    if (gear->items[i].name[0] == name[0] && strcmp(gear->items[i].name, name) == 0) {
      return i;
    }
  }
  return -1;
}

fh_number fh_gear_figure(const fh_gear *gear, int index, const char *what, const fh_figure **figure) {
  const fh_item *item = fh_gear_item(gear, index);
  if (figure != NULL) {
    *figure = NULL;
  }
  for (int f = 0; item != NULL && what != NULL && f < item->figure_count; f++) {
    if (strcmp(item->figures[f].what, what) == 0) {
      if (figure != NULL) {
        *figure = &item->figures[f];
      }
      return item->figures[f].value;
    }
  }
  return fh_number_unset();
}

const fh_reference *fh_reference_find(const char *key) {
  for (int i = 0; key != NULL && i < FHI_REFERENCE_COUNT; i++) {
    if (strcmp(FHI_REFERENCES[i].key, key) == 0) {
      return &FHI_REFERENCES[i];
    }
  }
  return NULL;
}

const fh_reference *fh_reference_list(int *count) {
  if (count != NULL) {
    *count = FHI_REFERENCE_COUNT;
  }
  return FHI_REFERENCES;
}
