// SPDX-License-Identifier: MIT
// What does a check or a plan look like in a spreadsheet? RFC 4180: comma, CRLF, quotes doubled; metric, units in the
// column's name; a number that is not known is an empty cell.
#include "memory.h"
#include "report.h"

#include <math.h>
#include <string.h>

// A cell that starts like a formula could run as one in a spreadsheet: an apostrophe in front keeps it text.
static bool looks_like_formula(const char *text) {
  return text[0] != '\0' && strchr("=+-@\t\r", text[0]) != NULL;
}

static void put_escaped(fhi_writer *w, const char *text) {
  for (const char *c = text; *c != '\0'; c++) {
    fhi_put(w, *c == '"' ? "\"" : "");
    fhi_put_bytes(w, c, 1);
  }
}

void fhi_csv_text(fhi_writer *w, const char *text) {
  bool formula = looks_like_formula(text);
  if (!formula && strpbrk(text, ",\"\r\n") == NULL) {
    fhi_put(w, text);
    return;
  }
  fhi_put(w, formula ? "\"'" : "\"");
  put_escaped(w, text);
  fhi_put(w, "\"");
}

void fhi_csv_number(fhi_writer *w, double value) {
  char text[40];
  if (isfinite(value)) {
    fhi_put(w, fhi_shortest(text, sizeof text, value));
  }
}

void fhi_csv_band(fhi_writer *w, fh_band band) {
  fhi_csv_number(w, band.lo);
  fhi_put(w, ",");
  fhi_csv_number(w, band.likely);
  fhi_put(w, ",");
  fhi_csv_number(w, band.hi);
}

// state,kind,name,rope,from,to,item
static void put_row_head(fhi_writer *w, const char *const cells[7]) {
  for (int i = 0; i < 7; i++) {
    fhi_csv_text(w, cells[i]);
    fhi_put(w, ",");
  }
}

static void write_strands(fhi_writer *w, const fh_rig *rig, const fh_check *check, int state) {
  for (int i = 0; i < check->strand_count; i++) {
    const fh_strand *st = &check->strands[i];
    put_row_head(w, (const char *const[7]){fhi_state_name(state), "strand", "", rig->paths[st->path].name,
                                           fhi_end_name(rig, st->from), fhi_end_name(rig, st->to), ""});
    static const fh_band none = {0.0, 0.0, 0.0};
    bool idle = !st->carries && !isfinite(st->tension[state].likely);
    fhi_csv_band(w, idle ? none : st->tension[state]);
    fhi_put(w, ",,,\r\n");
  }
}

static void write_rest(fhi_writer *w, const fh_gear *gear, const fh_rig *rig, const fh_check *check, int state) {
  const char *name = fhi_state_name(state);
  for (int i = 0; i < check->contact_count; i++) {
    const fh_contact *c = &check->contacts[i];
    put_row_head(w, (const char *const[7]){name, "contact", fhi_end_name(rig, c->body), "", "", "", fhi_item_name(gear, c->item)});
    fhi_csv_band(w, c->force[state]);
    fhi_put(w, ",,,\r\n");
  }
  for (int i = 0; i < check->body_count; i++) {
    put_row_head(w, (const char *const[7]){name, "body", rig->bodies[i], "", "", "", ""});
    fhi_csv_band(w, check->bodies[i].force[state]);
    fhi_put(w, ",,,\r\n");
  }
  for (int i = 0; i < check->grip_count; i++) {
    const fh_grip *g = &rig->grips[i];
    put_row_head(w, (const char *const[7]){name, "grip", rig->bodies[g->body], rig->paths[g->path].name, "", "",
                                           fhi_item_name(gear, g->item)});
    fhi_csv_band(w, check->grip_force[i][state]);
    fhi_put(w, ",,,\r\n");
  }
}

static void write_limits(fhi_writer *w, const fh_check *check) {
  for (int i = 0; i < check->limit_count; i++) {
    const fh_limit *l = &check->limits[i];
    put_row_head(w, (const char *const[7]){fhi_state_name(l->state), "limit", l->element, "", "", "", ""});
    fhi_put(w, ",,");
    fhi_csv_number(w, l->force);
    fhi_put(w, ",");
    fhi_csv_number(w, l->limit);
    fhi_put(w, ",");
    fhi_csv_number(w, l->margin);
    fhi_put(w, ",");
    fhi_csv_text(w, l->source);
    fhi_put(w, "\r\n");
  }
}

fh_status fh_check_write_csv(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_out out) {
  if (scene == NULL || gear == NULL || rig == NULL || check == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "state,kind,name,rope,from,to,item,low_N,likely_N,high_N,limit_N,margin,source\r\n");
  for (int state = 0; state < FH_STATE_COUNT; state++) {
    if (fhi_state_known(check, state)) {
      write_strands(&w, rig, check, state);
      write_rest(&w, gear, rig, check, state);
    }
  }
  if (check->outcome == FH_OUTCOME_SOLVED) {
    put_row_head(&w, (const char *const[7]){"raise", "hand", "", "", "", "", ""});
    fhi_csv_band(&w, check->hand_force);
    fhi_put(&w, ",,,\r\n");
    write_limits(&w, check);
  }
  return fhi_writer_end(&w);
}

static void write_plan(fhi_writer *w, const fh_gear *gear, const fh_plan *plan, const fh_rig *rig, int number) {
  char line[FHI_WORDS];
  fhi_putf(w, "%d,%s,", number, plan->possible ? "yes" : "no");
  fhi_csv_number(w, plan->ideal_advantage);
  fhi_put(w, ",");
  fhi_csv_number(w, plan->actual_advantage);
  fhi_put(w, ",");
  fhi_csv_band(w, plan->hand_force);
  fhi_put(w, ",");
  fhi_csv_number(w, plan->crew_share);
  fhi_putf(w, ",%d,", plan->pieces);
  fhi_csv_number(w, plan->rope_needed);
  fhi_put(w, ",");
  fhi_csv_number(w, plan->throw_load);
  fhi_putf(w, ",%d,", plan->resets);
  fhi_csv_number(w, plan->time);
  fhi_put(w, ",");
  fhi_csv_band(w, plan->time_rests_range);
  fhi_put(w, ",");
  fhi_csv_number(w, plan->worst_margin);
  fhi_put(w, ",");
  fhi_csv_text(w, plan->why);
  for (int i = 0; i < rig->path_count; i++) {
    fhi_words_path(rig, gear, i, FH_METRIC, FH_ENGLISH, line);
    fhi_put(w, i == 0 ? ",\"" : " ");
    put_escaped(w, line);
  }
  fhi_put(w, rig->path_count > 0 ? "\"\r\n" : ",\r\n");
}

fh_status fh_plans_write_csv(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, fh_out out) {
  if (scene == NULL || gear == NULL || plans == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  if (rig == NULL) {
    return FH_ERR_MEMORY;
  }
  fh_status status = FH_OK;
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "number,possible,ideal_advantage,actual_advantage,hand_force_low_N,hand_force_N,hand_force_high_N,crew_share,"
              "pieces,rope_needed_m,throw_m,resets,time_s,time_with_rests_low_s,time_with_rests_s,time_with_rests_high_s,worst_margin,why,built\r\n");
  for (int i = 0; i < plans->count && status == FH_OK && w.status == FH_OK; i++) {
    status = fh_plan_rig(scene, gear, plans, i, rig);
    if (status == FH_OK) {
      write_plan(&w, gear, &plans->plans[i], rig, i + 1);
    }
  }
  fhi_free(rig);
  fh_status end = fhi_writer_end(&w);
  return end != FH_OK ? end : status;
}
