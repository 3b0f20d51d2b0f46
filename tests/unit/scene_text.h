// SPDX-License-Identifier: MIT
// Scenes for tests, written as the YAML that a user would write.
#ifndef SCENE_TEXT_H
#define SCENE_TEXT_H

#include "fh_test.h"
#include "yaml.h"

/// The least scene there is; tests add to it.
#define LEAST "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 10}\nlip: {}\nground: {}\n"

typedef struct scene_text {
  fh_gear *gear;
  fh_doc *doc;
  fh_scene *scene;
  fh_diag diag;
  fh_status status;
} scene_text;

static inline scene_text scene_try(const char *yaml) {
  scene_text t = {0};
  assert_int_equal(fh_gear_create(&t.gear), FH_OK);
  t.status = cli_yaml_parse(yaml, strlen(yaml), &t.doc, &t.diag);
  if (t.status == FH_OK) {
    t.status = fh_scene_create(t.doc, t.gear, &t.scene, &t.diag);
  }
  return t;
}

static inline void scene_done(scene_text *t) {
  fh_scene_destroy(t->scene);
  fh_doc_destroy(t->doc);
  fh_gear_destroy(t->gear);
}

static inline scene_text scene_read(const char *yaml) {
  scene_text t = scene_try(yaml);
  if (t.status != FH_OK) {
    print_error("%d:%d: %s: %s, accepted: %s\n", t.diag.line, t.diag.column, t.diag.key, t.diag.message,
                t.diag.accepted);
  }
  assert_int_equal(t.status, FH_OK);
  return t;
}

/// The scene is refused at that place and key.
static inline void assert_refused(const char *yaml, int line, int column, const char *key) {
  scene_text t = scene_try(yaml);
  assert_int_equal(t.status, FH_ERR_INPUT);
  assert_null(t.scene);
  assert_int_equal(t.diag.line, line);
  assert_int_equal(t.diag.column, column);
  assert_string_equal(t.diag.key, key);
  assert_true(t.diag.message[0] != '\0' && t.diag.accepted[0] != '\0');
  scene_done(&t);
}

/// Text that a writer gave, in memory.
typedef struct text_sink {
  char *bytes;
  size_t count, room;
  long fail_after;  ///< refuse the bytes once so many calls have been taken; negative: never
} text_sink;

static inline int text_sink_put(void *user, const char *bytes, size_t count) {
  text_sink *sink = user;
  if (sink->fail_after >= 0 && sink->fail_after-- == 0) {
    return 1;
  }
  if (sink->count + count + 1 > sink->room) {
    sink->room = (sink->count + count + 1) * 2;
    sink->bytes = realloc(sink->bytes, sink->room);
    assert_non_null(sink->bytes);
  }
  memcpy(sink->bytes + sink->count, bytes, count);
  sink->count += count;
  sink->bytes[sink->count] = '\0';
  return 0;
}

#endif
