// SPDX-License-Identifier: MIT
// The core's way through, as a page would call it: a document event by event, then check or plan, then text.
// tests/wasm/smoke.mjs drives it. One document at a time.
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "firnhaul.h"
#include "memory.h"

#define EXPORT(name) __attribute__((export_name(#name)))

enum { MAP_BEGIN, MAP_END, LIST_BEGIN, LIST_END, PLAIN, QUOTED };
enum { CHECK, PLAN, SECTION };

static fh_doc *doc;
static char *text;
static size_t text_count;

void *smoke_alloc(uint32_t count);
void smoke_free(void *block);
int smoke_begin(void);
int smoke_event(int kind, const char *bytes, uint32_t count);
int smoke_run(int what);
const char *smoke_text(void);
uint32_t smoke_text_count(void);
double smoke_contact(int sheave, double eta, double share, double wrap);

EXPORT(smoke_alloc) void *smoke_alloc(uint32_t count) {
  return fhi_alloc(count, 1);
}

EXPORT(smoke_free) void smoke_free(void *block) {
  fhi_free(block);
}

EXPORT(smoke_begin) int smoke_begin(void) {
  fh_doc_destroy(doc);
  return (int)fh_doc_create(&doc);
}

EXPORT(smoke_event) int smoke_event(int kind, const char *bytes, uint32_t count) {
  switch (kind) {
  case MAP_BEGIN: return (int)fh_doc_map_begin(doc, 1, 1);
  case MAP_END: return (int)fh_doc_map_end(doc);
  case LIST_BEGIN: return (int)fh_doc_list_begin(doc, 1, 1);
  case LIST_END: return (int)fh_doc_list_end(doc);
  default: return (int)fh_doc_scalar(doc, bytes, count, kind == QUOTED, 1, 1);
  }
}

static int keep(void *user, const char *bytes, size_t count) {
  (void)user;
  char *grown = fhi_realloc(text, text_count + count + 1, 1);
  if (grown == NULL) {
    return 1;
  }
  memcpy(grown + text_count, bytes, count);
  text = grown;
  text_count += count;
  text[text_count] = '\0';
  return 0;
}

static fh_status write_check(const fh_scene *scene, const fh_gear *gear, bool figure) {
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = true;
  fh_check *check = NULL;
  fh_out out = {keep, NULL};
  fh_status status = fh_check_create(scene, gear, &scene->rig, &opts, &check);
  if (status == FH_OK && figure) {
    status = fh_draw_section(scene, gear, &scene->rig, check, FH_METRIC, out);
  } else if (status == FH_OK) {
    status = fh_check_write_json(scene, gear, &scene->rig, check, out);
  }
  fh_check_destroy(check);
  return status;
}

static fh_status write_plans(const fh_scene *scene, const fh_gear *gear) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.max_contacts = 3;
  fh_plans *plans = NULL;
  fh_out out = {keep, NULL};
  fh_status status = fh_plans_create(scene, gear, &opts, &plans);
  if (status == FH_OK) {
    status = fh_plans_write_json(scene, gear, plans, out);
  }
  fh_plans_destroy(plans);
  return status;
}

// @return a status; smoke_text then has the answer, or what is wrong with the document
EXPORT(smoke_run) int smoke_run(int what) {
  fh_gear *gear = NULL;
  fh_scene *scene = NULL;
  fh_diag diag = {0};
  text_count = 0;
  fh_status status = fh_gear_create(&gear);
  if (status == FH_OK) {
    status = fh_scene_create(doc, gear, &scene, &diag);
  }
  if (status == FH_ERR_INPUT) {
    (void)keep(NULL, diag.key, strlen(diag.key));
    (void)keep(NULL, ": ", 2);
    (void)keep(NULL, diag.message, strlen(diag.message));
  } else if (status == FH_OK) {
    status = what == PLAN ? write_plans(scene, gear) : write_check(scene, gear, what == SECTION);
  }
  fh_scene_destroy(scene);
  fh_gear_destroy(gear);
  return (int)status;
}

EXPORT(smoke_text) const char *smoke_text(void) {
  return text;
}

EXPORT(smoke_text_count) uint32_t smoke_text_count(void) {
  return (uint32_t)text_count;
}

EXPORT(smoke_contact) double smoke_contact(int sheave, double eta, double share, double wrap) {
  double ratio = -1.0;
  return fh_contact_ratio(sheave != 0, eta, share, wrap, &ratio) == FH_OK ? ratio : -1.0;
}
