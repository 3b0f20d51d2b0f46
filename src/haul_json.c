// SPDX-License-Identifier: MIT
// What does a raise in time look like to a machine? One JSON object, metric, units in the keys; unknown numbers are null.
#include "json.h"
#include "report.h"

#include <math.h>

#include "firnhaul_rescue.h"
#include "words.h"

static fh_band as_band(fh_range r) {
  return (fh_band){r.lo, (double)NAN, r.hi};
}

static void write_work(fhi_json *j, const fh_work *w) {
  fhi_json_open(j, "work_J", '{');
  fhi_json_number(j, "in", w->in);
  fhi_json_number(j, "lift", w->lift);
  fhi_json_number(j, "friction", w->friction);
  fhi_json_number(j, "stretch", w->stretch);
  fhi_json_close(j, '}');
}

static void write_knots(fhi_json *j, const fh_haul *h) {
  fhi_json_open(j, "knots", '[');
  for (int i = 0; i < h->knot_count; i++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_integer(j, "stroke", h->knots[i].stroke);
    fhi_json_number(j, "height_m", h->knots[i].height);
    fhi_json_number(j, "slack_m", h->knots[i].slack);
    fhi_json_number(j, "time_s", h->knots[i].time);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void write_lip(fhi_json *j, const fh_haul *h) {
  static const double DEGREES = 180.0 / 3.14159265358979323846;
  fhi_json_open(j, "lip", '[');
  for (int i = 0; i < h->lip_count; i++) {
    const fh_lip_case *c = &h->lip[i];
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "name", c->name);
    fhi_json_flag(j, "cut", c->cut);
    fhi_json_flag(j, "helps", c->helps);
    fhi_json_flag(j, "lifted", c->lifted);
    fhi_json_number(j, "depth_m", c->depth);
    fhi_json_number(j, "angle_deg", c->angle * DEGREES);
    fhi_json_number(j, "share", c->share);
    fhi_json_flag(j, "jammed", !isfinite(c->share));
    fhi_json_band(j, "load_tension_N", c->load_tension);
    fhi_json_band(j, "hand_force_N", c->hand_force);
    fhi_json_band(j, "lift_force_N", c->lift_force);
    fhi_json_number(j, "stuck_m", c->stuck);
    fhi_json_text(j, "note", fhi_say(h->language, c->note));
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void write_trace(fhi_json *j, const fh_haul *h) {
  fhi_json_open(j, "trace", '[');
  for (int i = 0; i < h->trace_count; i++) {
    const fh_trace_row *t = &h->trace[i];
    fhi_json_open(j, NULL, '{');
    fhi_json_number(j, "time_s", t->time);
    fhi_json_number(j, "height_m", t->height);
    fhi_json_number(j, "hand_force_N", t->hand_force);
    fhi_json_number(j, "capture_force_N", t->capture_force);
    fhi_json_number(j, "hand_travel_m", t->hand_travel);
    fhi_json_text(j, "phase", fh_phase_name(t->phase));
    fhi_json_number(j, "slack_m", t->slack);
    fhi_json_number(j, "block_m", t->block);
    fhi_json_integer(j, "stroke", t->stroke);
    fhi_json_integer(j, "knots", t->knots);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void write_notes(fhi_json *j, const fh_haul *h) {
  static const char *const LEVELS[] = {"info", "warn", "no"};
  fhi_json_open(j, "notes", '[');
  for (int i = 0; i < h->note_count; i++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "level", LEVELS[h->notes[i].level]);
    fhi_json_text(j, "text", h->notes[i].text);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void write_figures(fhi_json *j, const fh_haul *h) {
  bool solved = h->outcome == FH_OUTCOME_SOLVED;
  if (solved) {
    fhi_json_integer(j, "strokes", h->strokes);
    fhi_json_integer(j, "resets", h->resets);
  } else {
    fhi_json_null(j, "strokes");
    fhi_json_null(j, "resets");
  }
  fhi_json_range(j, "strokes_range", as_band(h->strokes_range));
  fhi_json_number(j, "rope_pulled_m", h->rope_pulled);
  fhi_json_range(j, "rope_pulled_range_m", as_band(h->rope_pulled_range));
  fhi_json_number(j, "stretch_lost_m", h->stretch_lost);
  fhi_json_number(j, "stretch_first_m", h->stretch_first);
  fhi_json_number(j, "stretch_each_m", h->stretch_each);
  fhi_json_number(j, "set_back_m", h->set_back);
  fhi_json_range(j, "set_back_range_m", as_band(h->set_back_range));
  fhi_json_number(j, "set_back_each_m", h->set_back_each);
  fhi_json_number(j, "slip_each_m", h->slip_each);
  fhi_json_number(j, "time_s", h->time.likely);
  fhi_json_range(j, "time_range_s", h->time);
  fhi_json_number(j, "time_with_rests_s", h->time.likely);
  fhi_json_range(j, "time_with_rests_range_s", h->time);
  fhi_json_number(j, "time_pull_s", h->time_pull);
  fhi_json_number(j, "time_reset_s", h->time_reset);
  fhi_json_number(j, "time_rest_s", h->time_rest);
  fhi_json_number(j, "hand_force_N", h->hand_force.likely);
  fhi_json_range(j, "hand_force_range_N", h->hand_force);
  fhi_json_number(j, "effort", h->effort);
  write_work(j, &h->work);
  fhi_json_number(j, "work_residual", h->work_residual);
  fhi_json_text(j, "touches_first", h->touches[0] != '\0' ? fhi_say(h->language, h->touches) : "");
  fhi_json_number(j, "gathered_m", h->gathered);
  if (h->knot_every > 0.0) {
    fhi_json_number(j, "knot_every_m", h->knot_every);
  } else {
    fhi_json_null(j, "knot_every_m");
  }
  fhi_json_number(j, "rope_in_knots_m", h->rope_in_knots);
  fhi_json_number(j, "jam_height_m", h->jam_height);
}

static bool says_no(const fh_haul *h) {
  bool no = h->outcome != FH_OUTCOME_SOLVED;
  for (int i = 0; i < h->note_count; i++) {
    no = no || h->notes[i].level == FH_NOTE_NO;
  }
  return no;
}

fh_status fh_haul_write_json(const fh_scene *scene, const fh_haul *haul, fh_out out) {
  fhi_writer w;
  if (scene == NULL || haul == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_text(&j, "title", scene->title);
  fhi_json_flag(&j, "works", haul->outcome == FH_OUTCOME_SOLVED);
  fhi_json_text(&j, "why", haul->why);
  fhi_json_flag(&j, "answer_no", says_no(haul));
  write_figures(&j, haul);
  write_knots(&j, haul);
  write_lip(&j, haul);
  write_notes(&j, haul);
  write_trace(&j, haul);
  fhi_json_text(&j, "caution", fhi_say(haul->language, FHI_CAUTION));
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

fh_status fh_haul_write_csv(const fh_haul *haul, fh_out out) {
  fhi_writer w;
  if (haul == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_put(&w, "time_s,height_m,hand_force_N,capture_force_N,hand_travel_m,phase,slack_m,block_m,stroke,knots\r\n");
  for (int i = 0; i < haul->trace_count; i++) {
    const fh_trace_row *t = &haul->trace[i];
    const double numbers[] = {t->time, t->height, t->hand_force, t->capture_force, t->hand_travel};
    for (size_t k = 0; k < sizeof numbers / sizeof *numbers; k++) {
      fhi_csv_number(&w, numbers[k]);
      fhi_put(&w, ",");
    }
    fhi_csv_text(&w, fh_phase_name(t->phase));
    fhi_put(&w, ",");
    fhi_csv_number(&w, t->slack);
    fhi_put(&w, ",");
    fhi_csv_number(&w, t->block);
    fhi_putf(&w, ",%d,%d\r\n", t->stroke, t->knots);
  }
  return fhi_writer_end(&w);
}
