// SPDX-License-Identifier: MIT
// The rope team for the page: the fall and its figures, what is left for the raise, and the ways to rope up, one at a time so that
// a worker can say how far it is and be stopped.
#include <math.h>

#include "core.h"
#include "firnhaul_team.h"
#include "trip.h"

void page_forget_team(page_state *p) {
  fh_team_destroy(p->team);
  fh_designs_destroy(p->designs);
  p->team = NULL;
  p->designs = NULL;
}

static fh_status refuse(fh_out out, fh_status status, const fh_diag *diag) {
  if (status == FH_ERR_INPUT) {
    page_write_diag(diag, out);
  }
  return status;
}

// The team with so many samples; worked out anew when another number is asked for.
static fh_status need_team(page_state *p, int samples, fh_out out) {
  if (p->team != NULL && p->team_samples == samples) {
    return FH_OK;
  }
  fh_team_destroy(p->team);
  p->team = NULL;
  fh_team_opts opts = fh_team_opts_default();
  fh_diag diag = {0};
  opts.samples = samples;
  p->team_samples = samples;
  return refuse(out, fh_team_create(p->scene, &opts, &p->team, &diag), &diag);
}

// ---------------------------------------------------------------------------------------------------- the raise

// What each one lacks of the least kit, a sentence each.
static void write_lacks(const page_state *p, const fhi_trip *trip, fhi_json *j) {
  char text[400];
  fhi_json_open(j, "lacks", '[');
  for (int i = 0; i < p->scene->team.people_count && p->scene->kit_count > 0; i++) {
    if (fhi_kit_lacks(p->scene, p->gear, trip->carries[i], i, text, sizeof text)) {
      fhi_json_text(j, NULL, text);
    }
  }
  if (fhi_kit_anchor_words(p->scene, p->gear)[0] != '\0') {
    fhi_json_text(j, NULL, fhi_kit_anchor_words(p->scene, p->gear));
  }
  fhi_json_close(j, ']');
}

// {"first_m": coils, "last_m": .., "lacks": [".."], "raises": [{"depth_m", "rope_m", "possible", "sure", "why"}]}: null where no rope is known
static fh_status write_raises(const page_state *p, fh_out out) {
  fhi_trip trip;
  fhi_trip_start(p->scene, p->gear, p->team, &trip);
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_number(&j, "first_m", trip.has_budget ? trip.budget.first.spare : (double)NAN);
  fhi_json_number(&j, "last_m", trip.has_budget ? trip.budget.last.spare : (double)NAN);
  write_lacks(p, &trip, &j);
  fhi_json_open(&j, "raises", '[');
  fh_status status = FH_OK;
  for (int i = 0; i < p->scene->team.people_count && status == FH_OK; i++) {
    fhi_trip_raise raise;
    status = fhi_trip_raise_find(&trip, p->scene, p->gear, p->team, i, &raise);
    fhi_json_open(&j, NULL, '{');
    fhi_json_number(&j, "depth_m", raise.depth);
    fhi_json_number(&j, "rope_m", raise.rope);
    fhi_json_flag(&j, "possible", raise.possible);
    fhi_json_flag(&j, "sure", raise.sure);
    fhi_json_text(&j, "why", raise.why);
    fhi_json_close(&j, '}');
  }
  fhi_json_close(&j, ']');
  fhi_json_close(&j, '}');
  fh_status flushed = fhi_writer_end(&w);
  return status == FH_OK ? flushed : status;
}

// ---------------------------------------------------------------------------------------------------- ways to rope up

// {"steps": how many steps PAGE_DESIGN takes}
static fh_status start_designs(page_state *p, int most, int samples, fh_out out) {
  fh_diag diag = {0};
  fh_designs_destroy(p->designs);
  p->designs = NULL;
  fh_status status = fh_designs_create(p->scene, p->gear, most, samples, 1, &p->designs, &diag);
  if (status != FH_OK) {
    return refuse(out, status, &diag);
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_integer(&j, "steps", p->designs->count + p->designs->class_count);
  fhi_json_integer(&j, "designs", p->designs->count);
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

// The falls of one way; after all ways, whether one class of raises is possible.
static fh_status step_designs(page_state *p, int index) {
  int count = p->designs->count;
  return index < count ? fh_design_run(p->scene, p->gear, p->designs, index) : fh_raise_class_run(p->scene, p->gear, p->designs, index - count);
}

static fh_status answer_designs(page_state *p, int what, double a, double b, fh_units units, fh_out out) {
  if (what == PAGE_DESIGNS_START) {
    return start_designs(p, (int)a, (int)b, out);
  }
  if (p->designs == NULL) {
    return FH_ERR_ARG;
  }
  switch (what) {
  case PAGE_DESIGNS_STEP: return step_designs(p, (int)a);
  case PAGE_DESIGNS_FIGURE: return fh_draw_designs(p->scene, p->designs, units, out);
  default: fh_designs_weigh(p->scene, p->designs); return fh_designs_write_json(p->scene, p->designs, out);
  }
}

// ---------------------------------------------------------------------------------------------------- asking

fh_status page_answer_team(page_state *p, int what, double a, double b, fh_units units, fh_out out) {
  if (!(fabs(a) < 1e6) || !(fabs(b) < 1e6)) {
    return FH_ERR_ARG;
  }
  if (what >= PAGE_DESIGNS_START) {
    return answer_designs(p, what, a, b, units, out);
  }
  // A moment is a moment of the likely fall, whatever was counted.
  fh_status status = what == PAGE_TEAM_MOMENT && p->team != NULL ? FH_OK : need_team(p, what == PAGE_TEAM_MOMENT ? 0 : (int)a, out);
  if (status != FH_OK) {
    return status;
  }
  switch (what) {
  case PAGE_TEAM: return fh_team_write_json(p->scene, p->team, b > 0.0, out);
  case PAGE_TEAM_MOMENT: return fh_draw_team_moment(p->scene, p->team, a, units, out);
  case PAGE_TEAM_SECTION: return fh_draw_team_section(p->scene, p->team, units, out);
  case PAGE_TEAM_PATHS: return fh_draw_team_paths(p->scene, p->team, units, out);
  case PAGE_TEAM_RAISES: return write_raises(p, out);
  case PAGE_TEAM_SHEET: return fh_draw_trip_sheet(p->scene, p->gear, p->team, units, out);
  default: return FH_ERR_ARG;
  }
}
