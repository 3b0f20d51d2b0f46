// SPDX-License-Identifier: MIT
// What does a team's fall look like to a machine? One JSON object, metric; the likely value under the plain key, the range
// of the samples beside it. CSV: the fall over time.
#include "firnhaul_team.h"
#include "json.h"
#include "report.h"
#include "team_scene.h"
#include "words.h"

#include <math.h>

static void write_list(fhi_json *j, const char *key, const double *values, int count) {
  fhi_json_open(j, key, '[');
  for (int i = 0; i < count; i++) {
    fhi_json_number(j, NULL, values[i]);
  }
  fhi_json_close(j, ']');
}

static void write_bands(fhi_json *j, const char *key, const fh_band *bands, int count) {
  fhi_json_open(j, key, '[');
  for (int i = 0; i < count; i++) {
    fhi_json_band(j, NULL, bands[i]);
  }
  fhi_json_close(j, ']');
}

static void write_fall(fhi_json *j, const fh_team_result *t) {
  int people = t->in.people;
  const fh_fall *f = &t->likely;
  fhi_json_text(j, "outcome", f->outcome == FH_OUTCOME_SOLVED ? "solved" : "unresolved");
  fhi_json_flag(j, "arrested", f->arrested);
  fhi_json_number(j, "fall_m", f->fall);
  write_list(j, "slide_m", f->slide, people);
  write_list(j, "peak_N", f->peak, people - 1);
  fhi_json_number(j, "lip_margin_m", f->margin);
  fhi_json_integer(j, "pulled_in", f->pulled_in);
  fhi_json_integer(j, "knots_caught", f->knots_caught);
  write_list(j, "surface_peak_N", f->pull, people - 1);
  fhi_json_number(j, "time_s", f->time);
  fhi_json_number(j, "energy_miss", f->energy_miss);
}

static void write_third(fhi_json *j, const char *key, const fh_third *t) {
  fh_range alone = fhi_share(t->nobody_else_in, t->samples);
  fhi_json_open(j, key, '{');
  fhi_json_range(j, "brake", (fh_band){t->brake.lo, t->brake.lo, t->brake.hi});
  fhi_json_integer(j, "samples", t->samples);
  fhi_json_number(j, "arrested", (double)t->arrested / t->samples);
  fhi_json_number(j, "nobody_else_in", (double)t->nobody_else_in / t->samples);
  fhi_json_range(j, "nobody_else_in_range", (fh_band){alone.lo, alone.lo, alone.hi});
  fhi_json_close(j, '}');
}

void fhi_write_thirds(fhi_json *j, const fh_team_chance *chance) {
  if (chance->slippery.samples < 1) {
    fhi_json_null(j, "by_brake");
    return;
  }
  fhi_json_open(j, "by_brake", '{');
  write_third(j, "least", &chance->slippery);
  write_third(j, "most", &chance->grippy);
  fhi_json_close(j, '}');
}

static void write_chance(fhi_json *j, const fh_team_result *t) {
  const fh_team_chance *c = &t->chance;
  int people = t->in.people;
  fhi_json_open(j, "chance", '{');
  fhi_json_integer(j, "samples", c->samples);
  fhi_json_flag(j, "complete", !t->stopped);
  fhi_json_number(j, "arrested", c->samples > 0 ? (double)c->arrested / c->samples : (double)NAN);
  fhi_json_range(j, "arrested_range", (fh_band){c->share.lo, c->share.lo, c->share.hi});
  fhi_json_number(j, "nobody_else_in", c->samples > 0 ? (double)c->nobody_else_in / c->samples : (double)NAN);
  fh_range alone = fhi_share(c->nobody_else_in, c->samples);
  fhi_json_range(j, "nobody_else_in_range", (fh_band){alone.lo, alone.lo, alone.hi});
  fhi_write_thirds(j, c);
  fhi_json_integer(j, "unresolved", c->unresolved);
  fhi_json_band(j, "fall_m", c->fall);
  write_bands(j, "slide_m", c->slide, people);
  write_bands(j, "peak_N", c->peak, people - 1);
  fhi_json_band(j, "lip_margin_m", c->margin);
  fhi_json_text(j, "bands", "below low lie 5 of 100 samples, below likely 50, below high 95; fall and slide over the arrested ones");
  fhi_json_close(j, '}');
}

static void write_trace(fhi_json *j, const fh_team_result *t) {
  int people = t->in.people;
  fhi_json_open(j, "trace", '[');
  for (int n = 0; n < t->trace.count; n++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_number(j, "time_s", t->trace.time[n]);
    write_list(j, "at_m", t->trace.at[n], people);
    write_list(j, "hole_N", t->trace.hole[n], people - 1);
    write_list(j, "surface_N", t->trace.surface[n], people - 1);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

fh_status fh_team_write_json(const fh_scene *scene, const fh_team_result *team, bool with_trace, fh_out out) {
  if (scene == NULL || team == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_text(&j, "firnhaul", FH_VERSION);
  fhi_json_text(&j, "title", scene->title);
  write_fall(&j, team);
  write_list(&j, "start_m", team->in.at, team->in.people);
  if (team->has_chance) {
    write_chance(&j, team);
  } else {
    fhi_json_null(&j, "chance");
  }
  if (with_trace) {
    write_trace(&j, team);
  }
  fhi_json_text(&j, "caution", fhi_say(scene->language, FHI_CAUTION));
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

fh_status fh_team_write_csv(const fh_scene *scene, const fh_team_result *team, fh_out out) {
  if (scene == NULL || team == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  int people = team->in.people;
  fhi_put(&w, "time_s");
  for (int i = 0; i < people; i++) {
    fhi_putf(&w, ",at_%d_m", i + 1);
  }
  for (int i = 0; i + 1 < people; i++) {
    fhi_putf(&w, ",hole_%d_N,surface_%d_N", i + 1, i + 1);
  }
  fhi_put(&w, "\n");
  for (int n = 0; n < team->trace.count; n++) {
    fhi_csv_number(&w, team->trace.time[n]);
    for (int i = 0; i < people; i++) {
      fhi_put(&w, ",");
      fhi_csv_number(&w, team->trace.at[n][i]);
    }
    for (int i = 0; i + 1 < people; i++) {
      fhi_put(&w, ",");
      fhi_csv_number(&w, team->trace.hole[n][i]);
      fhi_put(&w, ",");
      fhi_csv_number(&w, team->trace.surface[n][i]);
    }
    fhi_put(&w, "\n");
  }
  return fhi_writer_end(&w);
}
