// SPDX-License-Identifier: MIT
// The parts of docs/ that are made from the catalogue's tables. Printed by `run_check --sources` and `--gear-keys`;
// test_tables.c compares them with the files.
#ifndef FH_GEAR_DOCS_H
#define FH_GEAR_DOCS_H

#include <stdio.h>
#include <string.h>

#include "firnhaul.h"
#include "gear_keys.h"
#include "report.h"
#include "text.h"

/// Does a figure cite this key, as its source or in square brackets in its note?
static inline bool figure_cites(const fh_figure *f, const char *key) {
  char bracketed[64];
  snprintf(bracketed, sizeof bracketed, "[%s]", key);
  return strcmp(f->ref, key) == 0 || strstr(f->note, bracketed) != NULL;
}

static inline void write_source(FILE *to, const fh_gear *gear, const fh_reference *r) {
  fprintf(to, "| `%s` | %s | %s |", r->key, r->text, r->read);
  const char *before = " ";
  for (int i = 0; i < fh_gear_count(gear); i++) {
    const fh_item *item = fh_gear_item(gear, i);
    bool named = false;
    for (int k = 0; k < item->figure_count && !named; k++) {
      named = figure_cites(&item->figures[k], r->key);
    }
    if (named) {
      fprintf(to, "%s%s", before, item->name);
      before = ", ";
    }
  }
  fprintf(to, "%s |\n", strcmp(before, " ") == 0 ? " checks only" : "");
}

/// docs/sources.md
static inline void write_sources(FILE *to, const fh_gear *gear) {
  int count = 0;
  const fh_reference *list = fh_reference_list(&count);
  fputs("# Sources\n\n"
        "Made from the tables in `src/tables/`; a test compares this page with them.\n\n"
        "Every figure of the catalogue says what it rests on: *published* (read in a public text, or computed from one),\n"
        "*standard* (a limit), *practice* (common practice, no source), *memory* (written from memory of the source), *own*\n"
        "(your gear file). `firnhaul gear ITEM` shows each figure with its source. The column \"how read\" matters: standards\n"
        "were read in summaries, not in their own text; forum posts and teaching sites give an order of magnitude, no more.\n"
        "The values that the program is checked against stand in `tests/check/`, each with its source.\n\n"
        "| key | source | how read | used for |\n"
        "|---|---|---|---|\n", to);
  for (int i = 0; i < count; i++) {
    write_source(to, gear, &list[i]);
  }
}

/// The table of keys in docs/gear.md, between its two marks.
static inline void write_gear_keys(FILE *to) {
  int count = 0;
  const fhi_gear_key *keys = fhi_gear_keys(&count);
  fputs("| key | accepted | for | what |\n|---|---|---|---|\n", to);
  for (int i = 0; i < count; i++) {
    char lo[32], hi[32];
    fprintf(to, "| `%s` | %s to %s |", keys[i].key, fhi_shortest(lo, sizeof lo, keys[i].lo), fhi_shortest(hi, sizeof hi, keys[i].hi));
    const char *before = " ";
    for (int c = FH_ITEM_BAR; c <= FH_ITEM_OTHER; c++) {
      if ((keys[i].classes >> c & 1u) != 0) {
        fprintf(to, "%s%s", before, fhi_class_name((fh_item_class)c));
        before = ", ";
      }
    }
    fprintf(to, " | %s |\n", keys[i].help);
  }
}

#endif
