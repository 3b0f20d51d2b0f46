// SPDX-License-Identifier: MIT
// The core as the page calls it: a document event by event, then what is asked of it, as text.
//
// One scene at a time. A document that is refused leaves the scene that was there. The page's script reads the answer at
// fhp_text, fhp_text_count bytes of UTF-8, valid until the next call.
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "core.h"
#include "draw_section.h"
#include "memory.h"
#include "report.h"
#include "state.h"
#include "words.h"

static const double DEGREE = 3.14159265358979323846 / 180.0;  // [rad]

static page_state page;

// ------------------------------------------------------------------------------------------------------- memory and text

EXPORT(fhp_alloc) void *fhp_alloc(uint32_t count) {
  return fhi_alloc(count, 1);
}

EXPORT(fhp_free) void fhp_free(void *block) {
  fhi_free(block);
}

EXPORT(fhp_text) const char *fhp_text(void) {
  return page.text;
}

EXPORT(fhp_text_count) uint32_t fhp_text_count(void) {
  return (uint32_t)page.used;
}

static int keep(void *user, const char *bytes, size_t count) {
  (void)user;
  if (page.used + count > page.room) {
    size_t room = (page.used + count) * 2;
    char *grown = fhi_realloc(page.text, room, 1);
    if (grown == NULL) {
      return 1;
    }
    page.text = grown;
    page.room = room;
  }
  memcpy(page.text + page.used, bytes, count);
  page.used += count;
  return 0;
}

// A phrase or a name of the core's, or several names with "; " between them, in a language by its number; the answer is text.
// The bytes end in NUL. @param whole only a phrase that has a row of its own, nothing put together
EXPORT(fhp_say) void fhp_say(int language, const char *text, int whole) {
  char said[700];
  page.used = 0;
  if (whole != 0) {
    (void)fhi_copy(said, sizeof said, fhi_say((fh_language)language, text));
  } else {
    (void)fhi_names_said(said, sizeof said, (fh_language)language, text);
  }
  (void)keep(NULL, said, strlen(said));
}

// --------------------------------------------------------------------------------------------------------- the document

enum { MAP_BEGIN, MAP_END, LIST_BEGIN, LIST_END, PLAIN, QUOTED, SPEAK };  // SPEAK: the language of the words, in place of a line
enum { EVENT_HEAD = 16 };  // [byte] kind, line, column, count: four 32-bit numbers, little end first

static uint32_t number_at(const uint8_t *p) {
  return (uint32_t)p[0] | (uint32_t)p[1] << 8 | (uint32_t)p[2] << 16 | (uint32_t)p[3] << 24;
}

static fh_status feed(fh_doc *doc, uint32_t kind, int line, int column, const char *text, uint32_t count) {
  switch (kind) {
  case MAP_BEGIN: return fh_doc_map_begin(doc, line, column);
  case MAP_END: return fh_doc_map_end(doc);
  case LIST_BEGIN: return fh_doc_list_begin(doc, line, column);
  case LIST_END: return fh_doc_list_end(doc);
  case PLAIN:
  case QUOTED: return fh_doc_scalar(doc, text, count, kind == QUOTED, line, column);
  default: return FH_ERR_ARG;
  }
}

void page_write_diag(const fh_diag *diag, fh_out out) {
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_integer(&j, "line", diag->line);
  fhi_json_integer(&j, "column", diag->column);
  fhi_json_text(&j, "key", diag->key);
  fhi_json_text(&j, "message", diag->message);
  fhi_json_text(&j, "accepted", diag->accepted);
  fhi_json_close(&j, '}');
  (void)fhi_writer_end(&w);
}

// A document that the core takes no further: too deep, too large, or a key that is no plain text.
static void write_document_diag(fh_status status, int line, int column) {
  fh_diag diag = {.line = line, .column = column};
  bool limit = status == FH_ERR_LIMIT;
  (void)fhi_copy(diag.message, sizeof diag.message,
                 limit ? "the document is too deep or too large" : "neither a map, nor a list, nor plain text with a plain key");
  (void)fhi_copy(diag.accepted, sizeof diag.accepted,
                 limit ? "at most 32 levels and 100,000 entries" : "keys and values in UTF-8 without NUL");
  page_write_diag(&diag, (fh_out){keep, NULL});
}

static fh_status read_events(fh_doc *doc, const uint8_t *events, uint32_t size, fh_language *language) {
  for (uint32_t at = 0; size - at >= EVENT_HEAD;) {
    const uint8_t *head = events + at;
    uint32_t count = number_at(head + 12);
    int line = (int)number_at(head + 4);
    int column = (int)number_at(head + 8);
    at += EVENT_HEAD;
    if (count > size - at) {
      return FH_ERR_ARG;
    }
    if (number_at(head) == SPEAK && line >= 0 && line < FH_LANGUAGES) {
      *language = (fh_language)line;
      continue;
    }
    fh_status status = feed(doc, number_at(head), line, column, (const char *)(events + at), count);
    if (status != FH_OK) {
      if (status != FH_ERR_MEMORY) {
        write_document_diag(status, line, column);
        return FH_ERR_INPUT;
      }
      return status;
    }
    at += count;
  }
  return FH_OK;
}

static fh_status read_scene(fh_doc *doc, fh_language language) {
  fh_diag diag = {0};
  fh_scene *scene = NULL;
  if (page.gear == NULL) {
    fh_status made = fh_gear_create(&page.gear);
    if (made != FH_OK) {
      return made;
    }
  }
  fh_status status = fh_scene_create(doc, page.gear, &scene, &diag);
  if (status == FH_ERR_INPUT) {
    page_write_diag(&diag, (fh_out){keep, NULL});
  }
  if (status == FH_OK) {
    page_forget(&page);
    fh_scene_destroy(page.scene);
    page.scene = scene;
    scene->language = language;
  }
  return status;
}

EXPORT(fhp_read) int fhp_read(const uint8_t *events, uint32_t size) {
  page.used = 0;
  fh_doc *doc = NULL;
  fh_language language = FH_ENGLISH;
  fh_status status = fh_doc_create(&doc);
  if (status == FH_OK) {
    status = read_events(doc, events, size, &language);
  }
  if (status == FH_OK) {
    status = read_scene(doc, language);
  }
  fh_doc_destroy(doc);
  return (int)status;
}

// ------------------------------------------------------------------------------------------------------------- the rig

void page_forget(page_state *p) {
  fh_check_destroy(p->check);
  fh_plans_destroy(p->plans);
  p->check = NULL;
  p->plans = NULL;
  page_forget_rescue(p);
  page_forget_team(p);
}

fh_status page_check(page_state *p) {
  if (p->check != NULL) {
    return FH_OK;
  }
  if (p->scene == NULL || !p->scene->has_rig) {
    return FH_ERR_ARG;
  }
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = opts.time = false;
  p->timed = false;
  return fh_check_create(p->scene, p->gear, &p->scene->rig, &opts, &p->check);
}

// The same with the raise run through for its time: a third more to work out, and no figure asks for it.
static fh_status check_in_time(page_state *p) {
  fh_status status = p->timed ? FH_OK : fhi_haul_time(p->scene, p->gear, &p->scene->rig, p->check);
  p->timed = status == FH_OK;
  return status;
}

// The same rig without any loss: what the method of tensions gives. Likely values only.
static fh_status write_ideal(fh_out out) {
  fh_scene *s = fhi_alloc(1, sizeof *s);
  if (s == NULL) {
    return FH_ERR_MEMORY;
  }
  *s = *page.scene;
  s->lip_friction = fh_number_exact(0.0);
  for (int i = 0; i < s->rig.station_count; i++) {
    fh_station *at = &s->rig.stations[i];
    at->efficiency = at->kind == FH_RUN ? fh_number_exact(1.0) : at->efficiency;
    at->efficiency_range = fh_number_unset();
    at->friction = at->kind == FH_EDGE ? fh_number_exact(0.0) : at->friction;
  }
  fh_check_opts opts = fh_check_opts_default();
  opts.ranges = false;
  fh_check *check = NULL;
  fh_status status = fh_check_create(s, page.gear, &s->rig, &opts, &check);
  if (status == FH_OK) {
    status = fh_check_write_json(s, page.gear, &s->rig, check, out);
  }
  fh_check_destroy(check);
  fhi_free(s);
  return status;
}

// [pt] A figure of this width on 358 CSS pixels: its smallest letters, 7.5 pt, are 12 pixels.
static const double NARROW = 224.0;

// The rig in the middle of a stroke: the load has risen by `risen` in all, the blocks have gone as far as a rise of `now` asks.
static fh_status draw_moved(double risen, double now, double width, bool quiet, fh_units units, fh_out out) {
  fh_status status = page_check(&page);
  const fh_check *rest = page.check;
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  fh_check *c = fhi_alloc(1, sizeof *c);
  if (status == FH_OK && (rig == NULL || c == NULL)) {
    status = FH_ERR_MEMORY;
  }
  if (status == FH_OK) {
    *rig = page.scene->rig;
    fhi_move_rig(rest, risen, now, rig, c);
    status = fhi_draw_section_moved(page.scene, page.gear, rig, rest, c, width, quiet, units, out);
  }
  fhi_free(rig);
  fhi_free(c);
  return status;
}

// With lowering as well: more than the page shows, and as much as the terminal can say.
static fh_status write_lowered(fh_out out) {
  fh_check_opts opts = fh_check_opts_default();
  fh_check *check = NULL;
  opts.lower = true;
  fh_status status = fh_check_create(page.scene, page.gear, &page.scene->rig, &opts, &check);
  if (status == FH_OK) {
    status = fh_check_write_json(page.scene, page.gear, &page.scene->rig, check, out);
  }
  fh_check_destroy(check);
  return status;
}

// ------------------------------------------------------------------------------------------------------------ what plan says

// The weakest point of one plan: the limit with the least margin, the crew aside.
static fh_status write_weakest(fhi_json *j, int index, fh_rig *rig) {
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = opts.time = false;
  fh_check *check = NULL;
  fh_status status = fh_plan_rig(page.scene, page.gear, page.plans, index, rig);
  if (status == FH_OK) {
    status = fh_check_create(page.scene, page.gear, rig, &opts, &check);
  }
  if (status != FH_OK) {
    return status;
  }
  int worst = -1;
  for (int i = 0; i < check->limit_count; i++) {
    const fh_limit *limit = &check->limits[i];
    if (strcmp(limit->element, "crew") != 0 && (worst < 0 || limit->margin < check->limits[worst].margin)) {
      worst = i;
    }
  }
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "weakest", worst >= 0 ? check->limits[worst].element : "");
  fhi_json_number(j, "margin", worst >= 0 ? check->limits[worst].margin : (double)NAN);
  fhi_json_text(j, "answer", fhi_answer_name(page.plans->plans[index].possible ? fhi_check_answer(check) : FHI_ANSWER_NO));
  fhi_json_band(j, "share", check->crew_share);
  fhi_json_band(j, "time_s", page.plans->plans[index].time_range);
  fhi_json_close(j, '}');
  fh_check_destroy(check);
  return FH_OK;
}

static fh_status write_more(fhi_json *j) {
  fh_pull pull = fh_crew_pull(page.scene, page.gear);
  fhi_json_open(j, "crew", '{');
  fhi_json_band(j, "force_N", pull.force);
  fhi_json_band(j, "sustained_N", pull.sustained);
  fhi_json_text(j, "limit", pull.limit != NULL ? pull.limit : "");
  fhi_json_close(j, '}');
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  fh_status status = rig == NULL ? FH_ERR_MEMORY : FH_OK;
  fhi_json_open(j, "points", '[');
  for (int i = 0; i < page.plans->count + page.plans->less_likely && status == FH_OK; i++) {
    status = write_weakest(j, i, rig);
  }
  fhi_json_close(j, ']');
  fhi_free(rig);
  return status;
}

// {"list": what plan prints, "crew": .., "points": one a rig, those of the less likely ones last}
static fh_status write_plans(fh_out out) {
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  fh_status status = write_more(&j);
  fhi_json_key(&j, "list");
  fh_status flushed = fhi_writer_end(&w);
  status = status == FH_OK ? flushed : status;
  if (status == FH_OK) {
    status = fh_plans_write_json(page.scene, page.gear, page.plans, out);
  }
  if (status == FH_OK && keep(NULL, "}", 1) != 0) {
    status = FH_ERR_MEMORY;
  }
  return status;
}

// @param form 1 for every sound rig, 2 for what one line says of them
static fh_status answer_plan(int contacts, double form, fh_out out) {
  fh_plan_opts opts = fh_plan_opts_default();
  opts.max_contacts = contacts;
  opts.all = form > 0.0 && form < 1.5;
  opts.prefer = page.scene->prefer;
  fh_plans_destroy(page.plans);
  page.plans = NULL;
  fh_status status = fh_plans_create(page.scene, page.gear, &opts, &page.plans);
  if (status != FH_OK) {
    return status;
  }
  return form > 1.5 ? fhi_plans_write_brief(page.scene, page.gear, page.plans, out) : write_plans(out);
}

// ---------------------------------------------------------------------------------------------------------------- asking

// @param form 1 with lowering, 2 what a slider changes, 3 the same without the time
static fh_status answer_check(double form, fh_out out) {
  const fh_scene *s = page.scene;
  if (form > 0.0 && form < 1.5) {
    return write_lowered(out);
  }
  fh_status status = form > 2.5 ? FH_OK : check_in_time(&page);
  if (status != FH_OK) {
    return status;
  }
  return form > 0.0 ? fhi_check_write_summary(s, page.gear, &s->rig, page.check, out) : fh_check_write_json(s, page.gear, &s->rig, page.check, out);
}

static fh_status answer_scene(int what, double a, double b, double width, fh_units units, fh_out out) {
  const fh_scene *s = page.scene;
  switch (what) {
  case PAGE_PLAN: return answer_plan((int)a, b, out);
  case PAGE_YAML: return fh_scene_write_yaml(s, page.gear, out);
  case PAGE_CARE: return page_write_care(s, page.gear, units, out);
  case PAGE_PLANS_FIGURE: return page.plans == NULL ? FH_ERR_ARG : fh_draw_plans(s, page.gear, page.plans, units, out);
  default: break;
  }
  if (what >= PAGE_TEAM) {
    return page_answer_team(&page, what, a, b, units, out);
  }
  fh_status status = page_check(&page);
  if (status == FH_OK && what != PAGE_CHECK && width >= FHI_PAGE) {
    status = check_in_time(&page);  // such a figure writes out what the check warns of
  }
  if (status != FH_OK) {
    return status;
  }
  switch (what) {
  case PAGE_CHECK: return answer_check(a, out);
  case PAGE_SECTION: return fhi_draw_section_moved(s, page.gear, &s->rig, page.check, page.check, width, false, units, out);
  case PAGE_MOVED: return draw_moved(a, b, width, false, units, out);
  case PAGE_MOVING: return draw_moved(a, b, width, true, units, out);
  case PAGE_PLAN_VIEW: return fh_draw_plan_view(s, page.gear, &s->rig, page.check, a * DEGREE, units, out);
  case PAGE_ANGLE: return fh_draw_angle_curve(s, page.gear, &s->rig, units, out);
  case PAGE_IDEAL: return write_ideal(out);
  case PAGE_RIG: return fh_rig_write_json(&s->rig, page.gear, out);
  default: return page_answer_rescue(&page, what, a, b, units, out);
  }
}

/// @param what PAGE_*  @param a,b what the question takes  @param units 0 metric, 1 imperial; and 2: a small screen  @return a status
EXPORT(fhp_ask) int fhp_ask(int what, double a, double b, int units) {
  fh_out out = {keep, NULL};
  page.used = 0;
  switch (what) {
  case PAGE_KEYS: return (int)page_write_keys(out);
  case PAGE_GEAR: return (int)page_write_gear(&page, out);
  case PAGE_SOURCES: return (int)page_write_sources(out);
  default: break;
  }
  return page.scene == NULL ? (int)FH_ERR_ARG : (int)answer_scene(what, a, b, (units & 2) != 0 ? NARROW : FHI_PAGE, (units & 1) == 0 ? FH_METRIC : FH_IMPERIAL, out);
}
