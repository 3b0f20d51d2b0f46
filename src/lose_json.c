// SPDX-License-Identifier: MIT
// What do stages and lost parts look like to a machine? One JSON object, metric, units in the keys; unknown numbers are null.
#include "json.h"
#include "report.h"

#include <string.h>

#include "firnhaul_rescue.h"
#include "words.h"

static const char *const LEVELS[] = {"info", "warn", "no"};

static const char *kind_name(fh_stage_kind kind) {
  switch (kind) {
  case FH_STAGE_FIRST_LINE: return "first-line";
  case FH_STAGE_STATION: return "station";
  case FH_STAGE_EDGE: return "edge";
  case FH_STAGE_BUILD: return "build";
  case FH_STAGE_CAPTURE: return "capture";
  case FH_STAGE_GRIP: return "grip";
  case FH_STAGE_TRANSFER: return "transfer";
  case FH_STAGE_HAUL: return "haul";
  case FH_STAGE_RESET: return "reset";
  case FH_STAGE_SLACK: return "slack";
  case FH_STAGE_KNOT: return "knot";
  case FH_STAGE_LIP: return "lip";
  case FH_STAGE_OVER: return "over";
  case FH_STAGE_AWAY: return "away";
  }
  return "?";
}

static const char *element_kind_name(fh_element_kind kind) {
  switch (kind) {
  case FH_ELEMENT_ANCHOR: return "anchor";
  case FH_ELEMENT_STATION: return "station";
  case FH_ELEMENT_KNOT: return "knot";
  case FH_ELEMENT_BEND: return "bend";
  case FH_ELEMENT_LOCK: return "lock";
  case FH_ELEMENT_GRIP: return "grip";
  case FH_ELEMENT_STRAND: return "strand";
  case FH_ELEMENT_FIRST: return "first-line";
  case FH_ELEMENT_BACKUP: return "backup";
  case FH_ELEMENT_HANDS: return "hands";
  case FH_ELEMENT_LEG: return "anchor-point";
  }
  return "?";
}

static void write_texts(fhi_json *j, const char *key, const char (*texts)[FH_ELEMENT], int count) {
  fhi_json_open(j, key, '[');
  for (int i = 0; i < count; i++) {
    fhi_json_text(j, NULL, texts[i]);
  }
  fhi_json_close(j, ']');
}

static void write_stage_figures(fhi_json *j, const fh_stage *s) {
  fhi_json_text(j, "name", s->name);
  fhi_json_text(j, "kind", kind_name(s->kind));
  fhi_json_integer(j, "step", s->step);
  fhi_json_number(j, "depth_m", s->depth);
  fhi_json_number(j, "slack_m", s->slack);
  fhi_json_integer(j, "knots", s->knots);
  fhi_json_text(j, "held", s->held);
  write_texts(j, "holds", (const char (*)[FH_ELEMENT])s->hold, s->holds);
}

static void write_findings(fhi_json *j, const fh_stages *s) {
  fhi_json_open(j, "findings", '[');
  for (int i = 0; i < s->finding_count; i++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "level", LEVELS[s->findings[i].level]);
    fhi_json_integer(j, "step", s->findings[i].step);
    fhi_json_text(j, "text", s->findings[i].text);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void write_head(fhi_json *j, const fh_scene *scene, const fh_stages *s) {
  fhi_json_text(j, "title", scene->title);
  fhi_json_flag(j, "works", s->outcome == FH_OUTCOME_SOLVED);
  fhi_json_text(j, "why", s->why);
  fhi_json_flag(j, "refused", s->refused);
  fhi_json_number(j, "slack_limit_m", s->slack_limit);
  fhi_json_text(j, "slack_limited_by", s->limited_by);
  if (s->knot_every > 0.0) {
    fhi_json_number(j, "knot_every_m", s->knot_every);
  } else {
    fhi_json_null(j, "knot_every_m");
  }
}

// ---------------------------------------------------------------------------------------------------- stages

static void write_grips(fhi_json *j, const fh_rig *rig, const fh_stage *s) {
  fhi_json_open(j, "grips", '[');
  for (int g = 0; g < rig->grip_count; g++) {
    if ((s->grips_on >> g & 1u) != 0) {
      fhi_json_open(j, NULL, '{');
      fhi_json_text(j, "name", rig->bodies[rig->grips[g].body]);
      fhi_json_number(j, "at_m", s->grip_at[g]);
      fhi_json_flag(j, "bites", (s->grips >> g & 1u) != 0);
      fhi_json_close(j, '}');
    }
  }
  fhi_json_close(j, ']');
}

fh_status fh_stages_write_json(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages *stages, fh_out out) {
  fhi_writer w;
  if (scene == NULL || gear == NULL || rig == NULL || stages == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  write_head(&j, scene, stages);
  fhi_json_open(&j, "stages", '[');
  for (int i = 0; i < stages->count; i++) {
    const fh_stage *s = &stages->stages[i];
    fhi_json_open(&j, NULL, '{');
    write_stage_figures(&j, s);
    fhi_json_text(&j, "do", s->text);
    fhi_json_text(&j, "check", s->check);
    fhi_json_flag(&j, "hands", s->hands);
    fhi_json_flag(&j, "locked", s->locked);
    write_grips(&j, rig, s);
    fhi_json_close(&j, '}');
  }
  fhi_json_close(&j, ']');
  write_findings(&j, stages);
  fhi_json_text(&j, "caution", fhi_say(scene->language, FHI_CAUTION));
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

// ---------------------------------------------------------------------------------------------------- lose

static void write_loss(fhi_json *j, const fh_element *e, const fh_loss *x) {
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "element", e->name);
  fhi_json_text(j, "kind", element_kind_name(e->kind));
  fhi_json_flag(j, "bears", x->bears);
  if (x->caught) {
    fhi_json_text(j, "caught_by", x->caught_by);
  } else {
    fhi_json_null(j, "caught_by");
  }
  fhi_json_number(j, "drop_m", x->drop);
  fhi_json_number(j, "bite_m", x->bite);
  fhi_json_number(j, "peak_N", x->peak.likely);
  fhi_json_range(j, "peak_range_N", x->peak);
  fhi_json_number(j, "peak_simulated_N", x->peak_simulated);
  fhi_json_number(j, "anchor_N", x->anchor.likely);
  fhi_json_range(j, "anchor_range_N", x->anchor);
  write_texts(j, "over", (const char (*)[FH_ELEMENT])x->over, x->over_count);
  fhi_json_close(j, '}');
}

// Elements on which alone everything hangs.
static void write_single(fhi_json *j, const fh_lose *lose, int stage) {
  fhi_json_open(j, "single", '[');
  for (int e = 0; e < lose->element_count; e++) {
    const fh_loss *x = fh_lose_at(lose, stage, e);
    if (x->there && !x->caught) {
      fhi_json_text(j, NULL, lose->elements[e].name);
    }
  }
  fhi_json_close(j, ']');
}

static void write_stage(fhi_json *j, const fh_lose *lose, int stage) {
  fhi_json_open(j, NULL, '{');
  write_stage_figures(j, &lose->stages->stages[stage]);
  write_single(j, lose, stage);
  fhi_json_open(j, "elements", '[');
  for (int e = 0; e < lose->element_count; e++) {
    const fh_loss *x = fh_lose_at(lose, stage, e);
    if (x->there) {
      write_loss(j, &lose->elements[e], x);
    }
  }
  fhi_json_close(j, ']');
  fhi_json_close(j, '}');
}

fh_status fh_lose_write_json(const fh_scene *scene, const fh_lose *lose, fh_out out) {
  fhi_writer w;
  if (scene == NULL || lose == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  write_head(&j, scene, lose->stages);
  fhi_json_open(&j, "stages", '[');
  for (int i = 0; i < lose->stages->count; i++) {
    if (lose->stages->stages[i].kind != FH_STAGE_AWAY) {
      write_stage(&j, lose, i);
    }
  }
  fhi_json_close(&j, ']');
  write_findings(&j, lose->stages);
  fhi_json_text(&j, "caution", fhi_say(scene->language, FHI_CAUTION));
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

static void write_row(fhi_writer *w, const fh_stage *s, const fh_element *e, const fh_loss *x) {
  fhi_putf(w, "%d,", s->step);
  fhi_csv_text(w, s->name);
  fhi_put(w, ",");
  fhi_csv_text(w, e->name);
  fhi_put(w, x->bears ? ",yes," : ",no,");
  fhi_csv_text(w, x->caught ? x->caught_by : "");
  fhi_put(w, ",");
  fhi_csv_number(w, x->drop);
  fhi_put(w, ",");
  fhi_csv_number(w, x->bite);
  fhi_put(w, ",");
  fhi_csv_band(w, x->peak);
  fhi_put(w, ",");
  fhi_csv_band(w, x->anchor);
  fhi_put(w, ",");
  char over[FH_MAX_OVER * (FH_ELEMENT + 2)] = "";
  for (int i = 0; i < x->over_count; i++) {
    size_t used = strlen(over);
    (void)fhi_format(over + used, sizeof over - used, "%s%s", i > 0 ? "; " : "", x->over[i]);
  }
  fhi_csv_text(w, over);
  fhi_put(w, "\r\n");
}

fh_status fh_lose_write_csv(const fh_lose *lose, fh_out out) {
  fhi_writer w;
  if (lose == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_put(&w, "step,stage,element,bears,caught_by,drop_m,bite_m,peak_low_N,peak_likely_N,peak_high_N,"
              "anchor_low_N,anchor_likely_N,anchor_high_N,over\r\n");
  for (int i = 0; i < lose->stages->count; i++) {
    for (int e = 0; e < lose->element_count; e++) {
      const fh_loss *x = fh_lose_at(lose, i, e);
      if (x->there) {
        write_row(&w, &lose->stages->stages[i], &lose->elements[e], x);
      }
    }
  }
  return fhi_writer_end(&w);
}
