// SPDX-License-Identifier: MIT
// What does one scene of a study give, and how is it written? Implements model.md, section 12.
#include <math.h>
#include <string.h>

#include "chance.h"
#include "memory.h"
#include "study.h"
#include "text.h"

enum {
  BOTH, CREW, MINUTES, LIMITS, ERROR, HAND_5, HAND_50, HAND_95, CREW_50, SHARE_50, MARGIN_5, IDEAL, PIECES, RESETS, TIME, WORKS, ROPE, FIGURES
};
enum { FEW = 4, FIRST = 1024, MORE = 8 };  // bends behind the capture of the rigs that are all tried; samples of the first round, growth

_Static_assert((int)FIGURES == (int)FH_STUDY_FIGURES, "one name a figure");

static const char *const NAMES[FH_STUDY_FIGURES] = {
    "chance_both", "chance_crew", "chance_crew_minutes", "chance_limits", "standard_error", "hand_p5_N", "hand_p50_N", "hand_p95_N",
    "crew_p50_N", "crew_share_p50", "margin_p5", "ideal_advantage", "pieces", "resets", "time_s", "works", "chance_rope"};

const char *fh_study_figure_name(int figure) {
  return figure >= 0 && figure < FH_STUDY_FIGURES ? NAMES[figure] : NULL;
}

struct fh_study_work {
  const fh_study *study;
  const fh_doc *base;
  const fh_gear *gear;
  fhi_chance_room *room;
  fhi_study_doc made;
  fh_scene scene;
  fh_rig rig;
};

// Rope that reaches in no sample, knots that jam, no room: whatever its forces, such a rig is none.
static bool ruled_out(const fh_chance *c) {
  return !(c->works > 0.0 && c->rope > 0.0);
}

// @param sound the rig cannot be ruled out for another reason than its forces; may be NULL
static fh_status fill_rig(fh_study_work *w, const fh_rig *rig, fh_study_row *row, bool *sound) {
  const fh_chance *c = NULL;
  const fh_check *k = NULL;
  fh_status status = fhi_chance_again(w->room, &w->scene, w->gear, rig, &c, &k);
  if (status == FH_OK) {
    const double figures[FH_STUDY_FIGURES] = {
        c->both, c->crew, c->lasts, c->limits, c->error, c->pull.lo, c->pull.likely, c->pull.hi, c->capacity.likely, c->share.likely,
        c->margin.lo, k->ideal_advantage, k->pieces, k->resets >= 0 ? k->resets : (double)NAN, k->time.likely,
        c->outcome == FH_OUTCOME_SOLVED ? c->works : 0.0, c->rope};
    memcpy(row->figure, figures, sizeof figures);
    if (sound != NULL) {
      *sound = !ruled_out(c);
    }
  }
  return status;
}

// A rig that may be the best.
typedef struct entrant {
  const fh_plans *plans;
  int index;
  double both;
} entrant;

static fh_status rig_of(fh_study_work *w, const entrant *e) {
  return fh_plan_rig(&w->scene, w->gear, e->plans, e->index, &w->rig);
}

// One round with so many samples, the same points for each; keeps those that may still be the best: within a hundredth, by which rows are
// compared, and four standard errors of plain sampling on both sides (even points do better).
static fh_status hold_round(fh_study_work *w, entrant *list, int *count, int64_t samples) {
  double best = 0.0;
  int kept = 0;
  fhi_chance_room_samples(w->room, samples);
  for (int i = 0; i < *count; i++) {
    const fh_chance *c = NULL;
    const fh_check *k = NULL;
    fh_status status = rig_of(w, &list[i]);
    status = status != FH_OK ? status : fhi_chance_again(w->room, &w->scene, w->gear, &w->rig, &c, &k);
    if (status != FH_OK) {
      return status;
    }
    list[i].both = ruled_out(c) ? -1.0 : c->both;
    best = fmax(best, list[i].both);
  }
  double doubt = 8.0 * sqrt(0.25 / (double)samples) + 0.01;
  for (int i = 0; i < *count; i++) {
    if (list[i].both >= fmax(0.0, best - doubt)) {
      list[kept++] = list[i];
    }
  }
  *count = kept;
  return FH_OK;
}

// The better chance to a hundredth, then fewer pieces, then less pull.
static bool better(const double *a, const double *b) {
  double both[2] = {floor(100.0 * a[BOTH] + 1e-9), floor(100.0 * b[BOTH] + 1e-9)};
  if (isnan(b[BOTH]) || both[0] != both[1]) {
    return !(both[0] <= both[1]);
  }
  return a[PIECES] != b[PIECES] ? a[PIECES] < b[PIECES] : a[HAND_50] < b[HAND_50];
}

static fh_status hold_contest(fh_study_work *w, entrant *list, int count, fh_study_row *row) {
  fh_status status = FH_OK;
  for (int64_t samples = FIRST; samples < w->study->samples && count > 1 && status == FH_OK; samples *= MORE) {
    status = hold_round(w, list, &count, samples);
  }
  fhi_chance_room_samples(w->room, w->study->samples);
  for (int i = 0; i < count && status == FH_OK; i++) {
    fh_study_row other = *row;
    bool sound = false;
    status = rig_of(w, &list[i]);
    status = status != FH_OK ? status : fill_rig(w, &w->rig, &other, &sound);
    if (status == FH_OK && sound && better(other.figure, row->figure)) {
      *row = other;
    }
  }
  return status;
}

// All rigs with few bends, whether they work at the likely figures or not, and of those with more the ones that plan keeps.
static fh_status fill_best(fh_study_work *w, fh_study_row *row) {
  fh_plan_opts opts = fh_plan_opts_default();
  fh_plans *plans[2] = {NULL, NULL};
  fh_status status = fh_plans_create(&w->scene, w->gear, &opts, &plans[0]);
  opts.all = true;
  opts.max_contacts = FEW;
  status = status != FH_OK ? status : fh_plans_create(&w->scene, w->gear, &opts, &plans[1]);
  int count = 0;
  entrant *list = NULL;
  if (status == FH_OK) {
    list = fhi_alloc((size_t)(plans[0]->count + plans[1]->count + 1), sizeof *list);
    status = list == NULL ? FH_ERR_MEMORY : FH_OK;
  }
  for (int p = 0; p < 2 && status == FH_OK; p++) {
    for (int i = 0; i < plans[p]->count; i++) {
      list[count++] = (entrant){plans[p], i, 0.0};
    }
  }
  status = status != FH_OK ? status : hold_contest(w, list, count, row);
  if (status == FH_OK && isnan(row->figure[BOTH])) {
    row->figure[BOTH] = row->figure[CREW] = row->figure[MINUTES] = row->figure[LIMITS] = row->figure[WORKS] = row->figure[ROPE] = 0.0;
  }
  fhi_free(list);
  fh_plans_destroy(plans[1]);
  fh_plans_destroy(plans[0]);
  return status;
}

fh_status fh_study_work_create(const fh_study *study, const fh_doc *base, const fh_gear *gear, fh_study_work **out) {
  if (study == NULL || base == NULL || gear == NULL || out == NULL || fhi_doc_root(base) < 0) {
    return FH_ERR_ARG;
  }
  fh_study_work *w = fhi_alloc(1, sizeof *w);
  if (w == NULL) {
    return FH_ERR_MEMORY;
  }
  w->study = study;
  w->base = base;
  w->gear = gear;
  fh_status status = fhi_chance_room_create(study->samples, study->seed, &w->room);
  if (status != FH_OK) {
    fhi_free(w);
    return status;
  }
  *out = w;
  return FH_OK;
}

void fh_study_work_destroy(fh_study_work *work) {
  if (work != NULL) {
    fhi_chance_room_destroy(work->room);
    fhi_study_doc_clear(&work->made);
    fhi_free(work);
  }
}

fh_status fh_study_row_run(fh_study_work *w, int64_t index, fh_study_row *row, fh_diag *diag) {
  if (w == NULL || row == NULL || diag == NULL || index < 0 || index >= w->study->count) {
    return FH_ERR_ARG;
  }
  row->index = index;
  for (int i = 0; i < FH_STUDY_FIGURES; i++) {
    row->figure[i] = (double)NAN;
  }
  fh_status status = fhi_study_scene_fill(w->study, w->base, w->gear, index, &w->made, &w->scene, diag);
  if (status != FH_OK || w->study->plan) {
    return status != FH_OK ? status : fill_best(w, row);
  }
  return w->scene.has_rig ? fill_rig(w, &w->scene.rig, row, NULL) : FH_ERR_ARG;
}

// ---------------------------------------------------------------------------------------------------- CSV

// RFC 4180: quotes where a comma, a quote or a line's end stands inside.
static void put_cell(fhi_writer *w, const char *text) {
  if (strpbrk(text, ",\"\r\n") == NULL) {
    fhi_put(w, text);
    return;
  }
  fhi_put(w, "\"");
  for (const char *p = text; *p != '\0'; p++) {
    if (*p == '"') {
      fhi_put(w, "\"");
    }
    fhi_put_bytes(w, *p == '\n' || *p == '\r' ? " " : p, 1);  // one line a row: a killed study is cut at a line's end
  }
  fhi_put(w, "\"");
}

fh_status fh_study_header_write(const fh_study *s, fh_out out) {
  fhi_writer w;
  if (s == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_put(&w, "scene");
  for (int a = 0; a < s->axes; a++) {
    fhi_put(&w, ",");
    put_cell(&w, s->axis[a].key);
  }
  for (int i = 0; i < FH_STUDY_FIGURES; i++) {
    fhi_putf(&w, ",%s", NAMES[i]);
  }
  fhi_put(&w, "\n");
  return fhi_writer_end(&w);
}

fh_status fh_study_row_write(const fh_study *s, const fh_study_row *row, fh_out out) {
  fhi_writer w;
  char text[200];
  if (s == NULL || row == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_putf(&w, "%lld", (long long)row->index);
  for (int a = 0; a < s->axes; a++) {
    fhi_put(&w, ",");
    put_cell(&w, fh_study_value(s, row->index, a, text, sizeof text));
  }
  for (int i = 0; i < FH_STUDY_FIGURES; i++) {
    fhi_put(&w, ",");
    if (isfinite(row->figure[i])) {
      fhi_put_json_number(&w, row->figure[i]);
    }
  }
  fhi_put(&w, "\n");
  return fhi_writer_end(&w);
}
