// SPDX-License-Identifier: MIT
// What the tests of the build sheet share: a scene's sheet, its pages and its words, and every example.
#ifndef SHEET_CASE_H
#define SHEET_CASE_H

#include <glob.h>

#include "scene_text.h"
#include "sheet.h"

typedef struct sheet_case {
  scene_text t;
  fh_sheet *sheet;
} sheet_case;

static inline void open_file(sheet_case *c, const char *path, fh_paper paper, fh_units units) {
  char *yaml = fh_test_read(path).bytes;
  *c = (sheet_case){.t = scene_read(yaml)};
  free(yaml);
  assert_true(c->t.scene->has_rig);
  assert_status(fh_sheet_create(c->t.scene, c->t.gear, &c->t.scene->rig, NULL, paper, units, &c->sheet), FH_OK);
}

static inline void open_yaml(sheet_case *c, const char *yaml) {
  *c = (sheet_case){.t = scene_read(yaml)};
  assert_status(fh_sheet_create(c->t.scene, c->t.gear, &c->t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &c->sheet), FH_OK);
}

static inline void close_sheet(sheet_case *c) {
  fh_sheet_destroy(c->sheet);
  scene_done(&c->t);
}

static inline char *page_of(const fh_sheet *sheet, int page) {
  fh_test_text text = {0};
  assert_status(fh_sheet_write_page(sheet, page, (fh_out){fh_test_collect, &text}), FH_OK);
  return text.bytes;
}

static inline char *text_of(const fh_sheet *sheet) {
  fh_test_text text = {0};
  assert_status(fh_sheet_write_text(sheet, (fh_out){fh_test_collect, &text}), FH_OK);
  return text.bytes;
}

static inline char *html_of(const fh_sheet *sheet) {
  fh_test_text text = {0};
  assert_status(fh_sheet_write_html(sheet, (fh_out){fh_test_collect, &text}), FH_OK);
  return text.bytes;
}

typedef void (*path_fn)(const char *path);

static inline void for_every_example(path_fn fn) {
  static const char *const WHERE[] = {"examples/*.yaml", "examples/rigs/*.yaml"};
  int seen = 0;
  for (int i = 0; i < 2; i++) {
    glob_t found;
    assert_int_equal(glob(WHERE[i], 0, NULL, &found), 0);
    for (size_t k = 0; k < found.gl_pathc; k++) {
      char *yaml = fh_test_read(found.gl_pathv[k]).bytes;
      bool has_rig = strstr(yaml, "\nrig:") != NULL;  // some show a team on its feet
      free(yaml);
      if (has_rig) {
        fn(found.gl_pathv[k]);
        seen++;
      }
    }
    globfree(&found);
  }
  assert_true(seen >= 18);
}

#define THREE_HEAD "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {turn_deg: 80}\nground: {station_m: 4, anchor_m: 6}\ncrew: []\n"
#define THREE_GRIP "  grips: [{body: tractor, hitch: prusik, rope: main, after: 1, at_m: 1.2}]\n"
#define THREE(run) THREE_HEAD "rig:\n  ropes: [{name: main, path: [{tie: load}, {edge: lip}, " run ", {run: tractor, on: pulley}, {hand: crew}]}]\n" THREE_GRIP

#endif
