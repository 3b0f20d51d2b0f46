// SPDX-License-Identifier: MIT
// What does a check or a plan look like to a machine? One JSON object, metric, units in the keys; numbers that are not
// known are null. Uncertain numbers stand twice: the likely value under the plain key, its range beside it.
#include "json.h"
#include "memory.h"
#include "report.h"
#include "words.h"

#include <math.h>

static const fh_band UNKNOWN = {(double)NAN, (double)NAN, (double)NAN};

// What one check's report carries along.
typedef struct report {
  fhi_json json;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  const fh_check *check;
  bool solved, summary;
} report;

static fh_band if_solved(const report *r, fh_band band) {
  return r->solved ? band : UNKNOWN;
}

static double number_if_solved(const report *r, double value) {
  return r->solved ? value : (double)NAN;
}

static void write_strand(report *r, const fh_strand *st, int state) {
  static const fh_band none = {0.0, 0.0, 0.0};
  fhi_json *j = &r->json;
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "rope", r->rig->paths[st->path].name);
  fhi_json_text(j, "from", fhi_end_name(r->rig, st->from));
  fhi_json_text(j, "to", fhi_end_name(r->rig, st->to));
  fhi_json_integer(j, "after", st->after);
  fhi_json_flag(j, "carries", st->carries);
  fhi_json_number(j, "length_m", st->length);
  if (state == FH_RAISE) {
    fhi_json_number(j, "speed", number_if_solved(r, st->speed));
  }
  // A slack strand may still carry in another state: behind a locked capture, for one.
  fh_band tension = st->tension[state];
  bool idle = !st->carries && !isfinite(tension.likely);
  fhi_json_band(j, "tension_N", if_solved(r, idle ? none : tension));
  fhi_json_close(j, '}');
}

static void write_body(report *r, int index, int state) {
  fhi_json *j = &r->json;
  const fh_body *body = &r->check->bodies[index];
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "name", r->rig->bodies[index]);
  fhi_json_number(j, "at_m", body->at);
  fhi_json_flag(j, "fixed", body->fixed);
  if (state == FH_RAISE) {
    fhi_json_number(j, "speed", number_if_solved(r, body->speed));
  }
  fhi_json_band(j, "force_N", if_solved(r, body->force[state]));
  fhi_json_close(j, '}');
}

static void write_contact(report *r, const fh_contact *contact, int state) {
  static const double DEGREES = 180.0 / 3.14159265358979323846;
  fhi_json *j = &r->json;
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "body", fhi_end_name(r->rig, contact->body));
  if (contact->item >= 0) {
    fhi_json_text(j, "on", fhi_item_name(r->gear, contact->item));
  } else {
    fhi_json_null(j, "on");
  }
  fhi_json_number(j, "wrap_deg", contact->wrap * DEGREES);
  fhi_json_band(j, "efficiency", contact->efficiency);
  fhi_json_flag(j, "capture", contact->capture);
  fhi_json_flag(j, "resting", contact->resting);
  if (state == FH_RAISE) {
    fhi_json_number(j, "rate", number_if_solved(r, contact->rate));
  }
  fhi_json_band(j, "force_N", if_solved(r, contact->force[state]));
  fhi_json_close(j, '}');
}

static void write_grip(report *r, int index, int state) {
  fhi_json *j = &r->json;
  const fh_grip *grip = &r->rig->grips[index];
  fh_band force = if_solved(r, r->check->grip_force[index][state]);
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "name", r->rig->bodies[grip->body]);
  fhi_json_text(j, "hitch", fhi_item_name(r->gear, grip->item));
  fhi_json_text(j, "rope", r->rig->paths[grip->path].name);
  fhi_json_number(j, "force_N", force.likely);
  fhi_json_range(j, "force_range_N", force);
  fhi_json_close(j, '}');
}

static void write_parts(report *r, int state) {
  fhi_json *j = &r->json;
  const fh_check *check = r->check;
  fhi_json_open(j, "strands", '[');
  for (int i = 0; i < check->strand_count; i++) {
    write_strand(r, &check->strands[i], state);
  }
  fhi_json_close(j, ']');
  fhi_json_open(j, "contacts", '[');
  for (int i = 0; i < check->contact_count; i++) {
    write_contact(r, &check->contacts[i], state);
  }
  fhi_json_close(j, ']');
  fhi_json_open(j, "bodies", '[');
  for (int i = 0; i < check->body_count; i++) {
    write_body(r, i, state);
  }
  fhi_json_close(j, ']');
  fhi_json_open(j, "grips", '[');
  for (int i = 0; i < check->grip_count; i++) {
    write_grip(r, i, state);
  }
  fhi_json_close(j, ']');
}

static void write_state(report *r, int state) {
  fhi_json *j = &r->json;
  const fh_check *check = r->check;
  if (r->summary && state != FH_RAISE) {
    return;
  }
  if (r->solved && !fhi_state_known(check, state)) {
    fhi_json_null(j, fhi_state_name(state));
    return;
  }
  fhi_json_open(j, fhi_state_name(state), '{');
  if (state == FH_RAISE) {
    fh_band pull = if_solved(r, check->hand_force);
    fhi_json_number(j, "hand_force_N", pull.likely);
    fhi_json_range(j, "hand_force_range_N", pull);
  }
  fhi_json_band(j, "on_anchor_N", if_solved(r, fhi_on_anchor(check, state)));
  if (!r->summary) {
    write_parts(r, state);
  }
  fhi_json_close(j, '}');
}

static void write_limits(report *r) {
  fhi_json *j = &r->json;
  fhi_json_open(j, "limits", '[');
  for (int i = 0; i < r->check->limit_count; i++) {
    const fh_limit *limit = &r->check->limits[i];
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "element", limit->element);
    fhi_json_text(j, "state", fhi_state_name(limit->state));
    fhi_json_number(j, "force_N", limit->force);
    fhi_json_number(j, "limit_N", limit->limit);
    fhi_json_number(j, "margin", limit->margin);
    fhi_json_text(j, "source", limit->source);
    fhi_json_text(j, "basis", fhi_basis_name(limit->basis));
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void write_ropes(report *r) {
  fhi_json *j = &r->json;
  fhi_json_open(j, "ropes", '[');
  for (int i = 0; i < r->rig->path_count; i++) {
    const fh_path *path = &r->rig->paths[i];
    fh_number length = path->rope >= 0 ? r->scene->ropes[path->rope].length : fh_number_unset();
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "name", path->name);
    fhi_json_number(j, "length_m", length.likely);
    fhi_json_number(j, "needed_m", number_if_solved(r, r->check->rope_needed[i]));
    fhi_json_number(j, "live_m", number_if_solved(r, r->check->rope_live[i]));
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

void fhi_json_over_edge(fhi_json *j, const fh_over_edge *over) {
  if (!over->cut) {
    fhi_json_null(j, "over_edge");
    return;
  }
  fhi_json_open(j, "over_edge", '{');
  fhi_json_flag(j, "pushes_off", over->pushes_off);
  fhi_json_band(j, "hand_force_N", over->hand_force);
  fhi_json_band(j, "cleared_N", over->cleared);
  fhi_json_text(j, "answer", fhi_answer_name(fhi_over_edge_answer(over)));
  fhi_json_close(j, '}');
}

static void write_crew(report *r) {
  fhi_json *j = &r->json;
  const fh_pull *crew = &r->check->crew;
  fh_band share = if_solved(r, r->check->crew_share);
  fhi_json_open(j, "crew", '{');
  fhi_json_band(j, "force_N", crew->force);
  fhi_json_band(j, "sustained_N", crew->sustained);
  fhi_json_text(j, "limit", crew->limit != NULL ? crew->limit : "");
  fhi_json_close(j, '}');
  fhi_json_number(j, "crew_share", share.likely);
  fhi_json_range(j, "crew_share_range", share);
  fh_band kept = if_solved(r, r->check->kept_share);
  fhi_json_number(j, "kept_share", kept.likely);
  fhi_json_range(j, "kept_share_range", kept);
  fhi_json_over_edge(j, &r->check->over_edge);
}

static void write_raise_in_time(report *r) {
  fhi_json *j = &r->json;
  const fh_check *check = r->check;
  fh_band time = if_solved(r, check->time);
  fhi_json_number(j, "throw_m", number_if_solved(r, check->throw_load));
  fhi_json_number(j, "throw_hand_m", number_if_solved(r, check->throw_hand));
  fhi_json_text(j, "throw_ends", r->solved && check->throw_ends != NULL ? fhi_say(check->language, check->throw_ends) : "");
  if (r->solved && check->resets >= 0) {
    fhi_json_integer(j, "strokes", check->strokes);
    fhi_json_integer(j, "resets", check->resets);
  } else {
    fhi_json_null(j, "strokes");
    fhi_json_null(j, "resets");
  }
  fhi_json_number(j, "time_s", time.likely);
  fhi_json_range(j, "time_range_s", time);
  time = if_solved(r, check->time_rests);
  fhi_json_number(j, "time_with_rests_s", time.likely);
  fhi_json_range(j, "time_with_rests_range_s", time);
}

static void write_notes(report *r) {
  static const char *const LEVELS[] = {"info", "warn", "no"};
  fhi_json *j = &r->json;
  fhi_json_open(j, "notes", '[');
  for (int i = 0; i < r->check->note_count; i++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "level", LEVELS[r->check->notes[i].level]);
    fhi_json_text(j, "text", r->check->notes[i].text);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void write_built(fhi_json *j, const fh_rig *rig, const fh_gear *gear, fh_language language) {
  char line[FHI_WORDS];
  fhi_json_open(j, "built", '[');
  for (int i = 0; i < rig->path_count; i++) {
    fhi_words_path(rig, gear, i, FH_METRIC, language, line);
    fhi_json_text(j, NULL, line);
  }
  for (int i = 0; i < rig->grip_count; i++) {
    fhi_words_grip(rig, gear, i, FH_METRIC, language, line);
    fhi_json_text(j, NULL, line);
  }
  fhi_json_close(j, ']');
}

static const char *outcome_name(fh_outcome outcome) {
  static const char *const names[] = {"solved", "infeasible", "unresolved"};
  return names[outcome];
}

static void write_head(report *r) {
  fhi_json *j = &r->json;
  const fh_check *check = r->check;
  fh_band advantage = if_solved(r, check->actual_advantage);
  fhi_json_text(j, "firnhaul", FH_VERSION);
  fhi_json_text(j, "title", r->scene->title);
  fhi_json_text(j, "outcome", outcome_name(check->outcome));
  fhi_json_text(j, "why", check->why);
  fhi_json_text(j, "answer", fhi_answer_name(fhi_check_answer(check)));
  fhi_json_band(j, "weight_N", check->weight);
  fhi_json_number(j, "ideal_advantage", number_if_solved(r, check->ideal_advantage));
  fhi_json_number(j, "actual_advantage", advantage.likely);
  fhi_json_range(j, "actual_advantage_range", advantage);
  fhi_json_number(j, "residual", number_if_solved(r, check->residual));
  fhi_json_flag(j, "interval_exact", check->interval_exact);
}

// What a change of one figure seldom changes, or what is looked up at leisure.
static void write_details(report *r) {
  fhi_json_integer(&r->json, "pieces", r->check->pieces);
  write_built(&r->json, r->rig, r->gear, r->check->language);
  write_notes(r);
  fhi_json_text(&r->json, "caution", fhi_say(r->check->language, FHI_CAUTION));
}

static fh_status write_check(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, bool summary, fh_out out) {
  if (scene == NULL || gear == NULL || rig == NULL || check == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  report r = {{&w, 0, true}, scene, gear, rig, check, check->outcome == FH_OUTCOME_SOLVED, summary};
  fhi_json_open(&r.json, NULL, '{');
  write_head(&r);
  for (int state = 0; state < FH_STATE_COUNT; state++) {
    write_state(&r, state);
  }
  if (!summary) {
    write_limits(&r);
  }
  fhi_json_number(&r.json, "worst_margin", number_if_solved(&r, check->worst_margin));
  write_crew(&r);
  write_raise_in_time(&r);
  write_ropes(&r);
  if (!summary) {
    write_details(&r);
  }
  fhi_json_close(&r.json, '}');
  return fhi_writer_end(&w);
}

fh_status fh_check_write_json(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_out out) {
  return write_check(scene, gear, rig, check, false, out);
}

fh_status fhi_check_write_summary(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_out out) {
  return write_check(scene, gear, rig, check, true, out);
}

// ---------------------------------------------------------------------------------------------------- plan

// Lets another writer's text pass into this one.
static int pass_on(void *user, const char *bytes, size_t count) {
  fhi_writer *w = user;
  fhi_put_bytes(w, bytes, count);
  return w->status == FH_OK ? 0 : 1;
}

static fh_status write_plan(fhi_json *j, const fh_gear *gear, const fh_plan *plan, const fh_rig *rig, bool less_likely, fh_language language) {
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "why", plan->why);
  fhi_json_flag(j, "possible", plan->possible);
  fhi_json_flag(j, "asks_below", plan->asks_below);
  fhi_json_flag(j, "tends_far", plan->tends_far);
  fhi_json_flag(j, "thin_rope", plan->thin);
  fhi_json_integer(j, "carabiners", plan->carabiners);
  fhi_json_number(j, "ideal_advantage", plan->ideal_advantage);
  fhi_json_number(j, "hand_force_N", plan->hand_force.likely);
  fhi_json_range(j, "hand_force_range_N", plan->hand_force);
  fhi_json_number(j, "actual_advantage", plan->actual_advantage);
  fhi_json_number(j, "rope_needed_m", plan->rope_needed);
  fhi_json_number(j, "throw_m", plan->throw_load);
  if (plan->resets >= 0) {
    fhi_json_integer(j, "resets", plan->resets);
  } else {
    fhi_json_null(j, "resets");
  }
  fhi_json_number(j, "time_s", plan->time);
  fhi_json_range(j, "time_range_s", plan->time_range);
  fhi_json_number(j, "time_with_rests_s", plan->time_rests);
  fhi_json_range(j, "time_with_rests_range_s", plan->time_rests_range);
  fhi_json_integer(j, "pieces", plan->pieces);
  fhi_json_number(j, "worst_margin", plan->worst_margin);
  if (!isnan(plan->chance)) {
    fhi_json_number(j, "chance", plan->chance);
  }
  fhi_json_number(j, "crew_share", plan->crew_share);
  fhi_json_band(j, "crew_force_N", plan->crew.force);
  if (less_likely) {
    fhi_json_number(j, "lacks_pull_N", plan->lacks_pull);
  }
  fhi_json_over_edge(j, &plan->over_edge);
  fhi_json_text(j, "pull_toward", plan->toward_lip ? "lip" : "back");
  write_built(j, rig, gear, language);
  fhi_json_key(j, "rig");
  fh_status status = fh_rig_write_json(rig, gear, (fh_out){pass_on, j->w});
  fhi_json_close(j, '}');
  return status;
}

static void write_changes(fhi_json *j, const fh_plans *plans) {
  fhi_json_open(j, "changes", '[');
  for (int i = 0; i < plans->change_count; i++) {
    const fh_change *c = &plans->changes[i];
    fhi_json_open(j, NULL, '{');
    fhi_json_open(j, "what", '[');
    for (int k = 0; k < c->count; k++) {
      fhi_json_text(j, NULL, c->what[k]);
    }
    fhi_json_close(j, ']');
    fhi_json_flag(j, "free", c->free);
    fhi_json_text(j, "text", c->text);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static fh_status write_list(fhi_json *j, const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, bool less_likely, fh_rig *rig) {
  int first = less_likely ? plans->count : 0, end = plans->count + (less_likely ? plans->less_likely : 0);
  fh_status status = FH_OK;
  fhi_json_open(j, less_likely ? "less_likely" : "plans", '[');
  for (int i = first; i < end && status == FH_OK && j->w->status == FH_OK; i++) {
    status = fh_plan_rig(scene, gear, plans, i, rig);
    status = status == FH_OK ? write_plan(j, gear, &plans->plans[i], rig, less_likely, scene->language) : status;
  }
  fhi_json_close(j, ']');
  return status;
}

static bool some_plan_possible(const fh_plans *plans) {
  for (int i = 0; i < plans->count; i++) {
    if (plans->plans[i].possible) {
      return true;
    }
  }
  return false;
}

fh_status fh_plans_write_json(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, fh_out out) {
  if (scene == NULL || gear == NULL || plans == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  if (rig == NULL) {
    return FH_ERR_MEMORY;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_text(&j, "firnhaul", FH_VERSION);
  fhi_json_text(&j, "title", scene->title);
  fhi_json_flag(&j, "possible", some_plan_possible(plans));
  fhi_json_text(&j, "simpler", plans->simpler);
  fhi_json_text(&j, "missing", plans->missing);
  write_changes(&j, plans);
  fhi_json_integer(&j, "searched", (long long)plans->searched);
  fhi_json_integer(&j, "sound", (long long)plans->sound);
  fhi_json_integer(&j, "distinct", (long long)plans->distinct);
  fhi_json_integer(&j, "kept", plans->count);
  fhi_json_integer(&j, "max_contacts", plans->max_contacts);
  fhi_json_flag(&j, "complete", !plans->stopped);
  fhi_json_text(&j, "bounds", plans->bounds);
  fh_status status = write_list(&j, scene, gear, plans, false, rig);
  status = status == FH_OK ? write_list(&j, scene, gear, plans, true, rig) : status;
  fhi_free(rig);
  fhi_json_text(&j, "caution", fhi_say(scene->language, FHI_CAUTION));
  fhi_json_close(&j, '}');
  fh_status end = fhi_writer_end(&w);
  return end != FH_OK ? end : status;
}
