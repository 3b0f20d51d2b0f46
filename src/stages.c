// SPDX-License-Identifier: MIT
// What are the stages of building and using a rig, in an order that keeps the load held? Model sections 7 and 9.
// First the line that holds the person is secured; each piece of the haul rig is then put in while that line holds; only
// when a capture is in and tested does the load come onto the haul line.
#include "stages.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "memory.h"
#include "text.h"
#include "words.h"

fh_stages_opts fh_stages_opts_default(void) {
  // A knot for each metre gained, tied with a little slack left: common practice, no source. Rescue belays are judged by about
  // 1 m of travel (memory of published criteria).
  return (fh_stages_opts){.most_drop = 1.2, .slack_left = 0.2, .lip_zone = 0.5, .units = FH_METRIC};
}

fh_stage *fhi_stage_add(fhi_stage_maker *m, fh_stage_kind kind, int path, int station, int grip) {
  fh_stages *list = m->stages;
  if (list->count == FH_MAX_STAGES) {
    return NULL;
  }
  int number = 1;
  for (int i = 0; i < list->count; i++) {
    number += list->stages[i].kind == kind;
  }
  fh_stage *stage = &list->stages[list->count++];
  *stage = m->now;
  stage->kind = kind;
  stage->step = list->count;
  stage->path = path;
  stage->station = station;
  stage->grip = grip;
  if (m->raise->exact) {
    return stage;  // one of many samples: nobody reads it
  }
  fhi_stage_words(m, stage, number);
  if (kind != FH_STAGE_AWAY) {
    (void)fhi_stage_holds(m->asker, stage);
  }
  return stage;
}

// ---------------------------------------------------------------------------------------------------- building

static const fh_station *station_at(const fhi_stage_maker *m, int path, int i) {
  return &m->raise->rig->stations[m->raise->rig->paths[path].first + i];
}

static bool tended(const fh_grip *g) {
  return g->body < FH_BODY_FIRST_GRIP;
}

static bool grip_in(const fhi_stage_maker *m, int g) {
  return (m->now.grips_on >> g & 1u) != 0;
}

static void put_grip(fhi_stage_maker *m, int g) {
  const fh_grip *grip = &m->raise->rig->grips[g];
  m->now.grips_on |= (uint32_t)1 << g;
  m->now.grips |= (uint32_t)1 << g;
  (void)fhi_stage_add(m, tended(grip) ? FH_STAGE_CAPTURE : FH_STAGE_GRIP, grip->path, -1, g);
}

// A hitch can go on once there is rope behind the station before it.
static bool can_grip(const fhi_stage_maker *m, int g) {
  const fh_grip *grip = &m->raise->rig->grips[g];
  return m->now.placed[grip->path] > grip->after;
}

// Every grip that makes a body has to be on before a rope is tied to that body or runs over it. @return false: not yet
static bool body_ready(fhi_stage_maker *m, int body) {
  bool ready = body < FH_BODY_FIRST_GRIP;
  for (int g = 0; g < m->raise->rig->grip_count && body >= FH_BODY_FIRST_GRIP; g++) {
    if (m->raise->rig->grips[g].body != body) {
      continue;
    }
    if (!grip_in(m, g) && can_grip(m, g)) {
      put_grip(m, g);
    }
    ready = ready || grip_in(m, g);
  }
  return ready;
}

// Tended captures of a strand that now lies: both its stations are in place, or only the hand or a loose end is to come.
static void put_tended(fhi_stage_maker *m, int path) {
  const fh_path *line = &m->raise->rig->paths[path];
  int n = m->now.placed[path];
  for (int g = 0; g < m->raise->rig->grip_count; g++) {
    const fh_grip *grip = &m->raise->rig->grips[g];
    if (grip->path != path || !tended(grip) || grip_in(m, g) || grip->after >= n) {
      continue;
    }
    bool tail = grip->after + 1 >= line->count - 1;
    if (grip->after + 1 < n || tail) {
      put_grip(m, g);
    }
  }
}

static fh_stage_kind kind_of(const fhi_stage_maker *m, const fh_station *st) {
  const fh_item *item = st->kind == FH_RUN ? fh_gear_item(m->raise->gear, st->item) : NULL;
  return item != NULL && item->item_class == FH_ITEM_CAPTURE ? FH_STAGE_CAPTURE : FH_STAGE_BUILD;
}

// Puts in the next station of a path. @return false when it has to wait, or the path is done as far as building goes
static bool put_next(fhi_stage_maker *m, int path) {
  const fh_path *line = &m->raise->rig->paths[path];
  int i = m->now.placed[path];
  if (i >= line->count) {
    return false;
  }
  const fh_station *st = station_at(m, path, i);
  switch (st->kind) {
  case FH_HAND: return false;  // the last thing: taking the rope in hand
  case FH_EDGE:
  case FH_LOOSE: m->now.placed[path]++; break;
  case FH_TIE:
  case FH_RUN:
    if (!body_ready(m, st->body)) {
      return false;
    }
    m->now.placed[path]++;
    (void)fhi_stage_add(m, kind_of(m, st), path, line->first + i, -1);
    break;
  }
  put_tended(m, path);
  return true;
}

static void put_first_line(fhi_stage_maker *m) {
  const fhi_raise *r = m->raise;
  m->now.first_tied = true;
  m->now.behind = m->opts.slack_left;
  m->now.hitched = r->first != FH_FIRST_OUTSIDE;  // a line that is not in the rig: nobody knows how it is held
  if (r->first == FH_FIRST_IN_RIG) {
    m->now.placed[r->first_path] = r->first_to - r->rig->paths[r->first_path].first + 1;
    m->now.slack = 0.0;
  } else if (r->first == FH_FIRST_HAUL_ROPE) {
    const fh_path *line = &r->rig->paths[r->first_path];
    int n = 1;
    while (n < line->count && r->rig->stations[line->first + n].kind == FH_EDGE) {
      n++;
    }
    m->now.placed[r->first_path] = n;
  }
}

void fhi_stages_build(fhi_stage_maker *m) {
  const fh_rig *rig = m->raise->rig;
  put_first_line(m);
  (void)fhi_stage_add(m, FH_STAGE_FIRST_LINE, m->raise->first_path, -1, -1);
  (void)fhi_stage_add(m, FH_STAGE_STATION, -1, -1, -1);
  (void)fhi_stage_add(m, FH_STAGE_EDGE, -1, -1, -1);
  // Ropes in the order of the rig; a rope that hangs on a block of a later one waits for it.
  for (bool again = true; again;) {
    again = false;
    for (int p = 0; p < rig->path_count; p++) {
      while (put_next(m, p)) {
        again = true;
      }
    }
  }
  for (int g = 0; g < rig->grip_count; g++) {
    if (!grip_in(m, g) && can_grip(m, g)) {
      put_grip(m, g);
    }
  }
}

// ---------------------------------------------------------------------------------------------------- using

enum { MOST_KNOT_STAGES = 12 };  // further knots are like these; the last is always shown

static const double MORE = 0.1;  // [m] past the limit, so that one sees what it is for

static double depth_of(const fhi_stage_maker *m) {
  return m->raise->scene->depth.likely;
}

static double first_slack(const fhi_stage_maker *m) {
  if (m->raise->first != FH_FIRST_IN_RIG) {
    return (double)NAN;
  }
  const fh_number *slack = &m->raise->rig->stations[m->raise->first_to].slack;
  return fh_number_is_set(*slack) ? slack->likely : 0.0;
}

// The backup line at a height: which knots are tied by then, and what the load has gained since the last.
static void at_height(fhi_stage_maker *m, double height) {
  m->now.depth = fmax(0.0, depth_of(m) - height);
  m->now.knots = 0;
  m->now.slack = first_slack(m) + height;  // NaN where there is no first line
  for (int k = 0; k < m->run.knot_count && m->run.knots[k].height <= height + 1e-9; k++) {
    m->now.knots = k + 1;
    m->now.slack = m->backup.left + (height - m->run.knots[k].height);
  }
}

static void places(fhi_stage_maker *m, bool end_of_stroke) {
  const fh_rig *rig = m->raise->rig;
  for (int g = 0; g < rig->grip_count; g++) {
    m->now.grip_at[g] = rig->grips[g].at;
    if (end_of_stroke && !tended(&rig->grips[g]) && m->ran) {
      m->now.grip_at[g] += m->run.moved_end[rig->grips[g].body];
    }
  }
}

static uint32_t tended_set(const fhi_stage_maker *m) {
  uint32_t set = 0;
  for (int g = 0; g < m->raise->rig->grip_count; g++) {
    set |= tended(&m->raise->rig->grips[g]) ? (uint32_t)1 << g : 0;
  }
  return set & m->now.grips_on;
}

static void hauling(fhi_stage_maker *m) {
  places(m, false);
  m->now.hands = true;
  m->now.locked = false;
  m->now.grips = m->now.grips_on;
}

static void resetting(fhi_stage_maker *m) {
  places(m, true);
  m->now.hands = false;
  m->now.locked = true;
  m->now.grips = tended_set(m);
}

static double stroke_rise(const fhi_stage_maker *m) {
  double rise = m->run.rise_first;
  return fmax(0.0, fmin(rise, depth_of(m) - m->opts.lip_zone));
}

static void add_transfer(fhi_stage_maker *m) {
  for (int p = 0; p < m->raise->rig->path_count; p++) {
    m->now.placed[p] = m->raise->rig->paths[p].count;
  }
  hauling(m);
  m->now.first_tied = m->raise->first == FH_FIRST_IN_RIG;
  m->now.hitched = false;  // it has gone loose and comes off
  if (m->raise->first == FH_FIRST_HAUL_ROPE) {
    m->now.hands = false;  // the tie-off is let out onto the capture
    m->now.locked = true;
  }
  (void)fhi_stage_add(m, FH_STAGE_TRANSFER, m->raise->first_path, -1, -1);
}

// The line that backs up, with the knot left out: slack past the limit.
static void add_slack(fhi_stage_maker *m) {
  double height = m->backup.limit - first_slack(m) + MORE;
  if (!(m->backup.limit > 0.0) || !(height > 0.0) || height > depth_of(m) - m->opts.lip_zone) {
    return;
  }
  at_height(m, height);
  resetting(m);
  m->now.knots = 0;
  m->now.slack = first_slack(m) + height;
  (void)fhi_stage_add(m, FH_STAGE_SLACK, m->raise->first_path, -1, -1);
}

static void add_reset(fhi_stage_maker *m) {
  at_height(m, stroke_rise(m));
  resetting(m);
  (void)fhi_stage_add(m, FH_STAGE_RESET, -1, -1, -1);
}

// Without a first line: a knot behind the capture at every reset.
static void add_reset_knot(fhi_stage_maker *m) {
  if (m->raise->capture >= 0 && m->backup.limit > 0.0) {
    m->now.knots = 1;
    m->now.slack = m->backup.left;
    (void)fhi_stage_add(m, FH_STAGE_KNOT, -1, -1, -1);
    m->now.knots = 0;
    m->now.slack = (double)NAN;
  }
}

// Knots and the first reset, in the order in which the load meets them.
static void add_knots(fhi_stage_maker *m) {
  const fhi_run *run = &m->run;
  bool reset = false;
  for (int k = 0; k < run->knot_count; k++) {
    double height = run->knots[k].height;
    if (!reset && height > stroke_rise(m)) {
      add_reset(m);
      reset = true;
    }
    if (k < MOST_KNOT_STAGES - 1 || k == run->knot_count - 1) {
      at_height(m, height);
      resetting(m);
      (void)fhi_stage_add(m, FH_STAGE_KNOT, m->raise->first_path, -1, -1);
    }
  }
  if (!reset) {
    add_reset(m);
  }
}

void fhi_stages_use(fhi_stage_maker *m) {
  add_transfer(m);
  if (m->stages->outcome != FH_OUTCOME_SOLVED) {
    return;
  }
  at_height(m, 0.0);
  hauling(m);
  (void)fhi_stage_add(m, FH_STAGE_HAUL, -1, -1, -1);
  if (m->raise->first == FH_FIRST_IN_RIG) {
    add_slack(m);
    add_knots(m);
  } else {
    add_reset(m);
    add_reset_knot(m);
  }
  at_height(m, fmax(0.0, depth_of(m) - m->opts.lip_zone));
  hauling(m);
  (void)fhi_stage_add(m, FH_STAGE_LIP, -1, -1, -1);
  at_height(m, depth_of(m));
  resetting(m);
  (void)fhi_stage_add(m, FH_STAGE_OVER, -1, -1, -1);
  (void)fhi_stage_add(m, FH_STAGE_AWAY, -1, -1, -1);
}

// ---------------------------------------------------------------------------------------------------- the whole

void fhi_finding(fh_stages *stages, fh_note_level level, int step, const char *format, ...) {
  stages->refused = stages->refused || level == FH_NOTE_NO;
  if (stages->finding_count == FH_MAX_FINDINGS) {
    return;
  }
  fh_finding *f = &stages->findings[stages->finding_count++];
  f->level = level;
  f->step = step;
  va_list args;
  va_start(args, format);
  (void)fhi_format_list(f->text, sizeof f->text, fhi_say(stages->language, format), args);
  va_end(args);
}

static void fill(fhi_stage_maker *m) {
  fh_stages *s = m->stages;
  const fhi_raise *r = m->raise;
  s->outcome = r->outcome;
  (void)fhi_copy(s->why, sizeof s->why, r->outcome == FH_OUTCOME_SOLVED ? "" : r->why);
  s->first = r->first;
  s->first_path = r->first_path;
  s->first_from = r->first_from;
  s->first_to = r->first_to;
  s->capture_path = r->capture >= 0 ? r->model.strands[r->model.contacts[r->capture].before].path : -1;
  s->slack_limit = m->backup.limit;
  s->walk_beyond = m->check != NULL ? fhi_walk_beyond(&r->model, m->check->throw_hand) : 0.0;
  s->slack_left = m->backup.left;
  s->knot_every = fmax(0.0, m->backup.limit - m->backup.left);
  (void)fhi_copy(s->limited_by, sizeof s->limited_by, m->backup.by);
  m->now.slack = (double)NAN;
  m->now.depth = depth_of(m);
  places(m, false);
  fhi_stages_build(m);
  fhi_stages_use(m);
  if (!m->raise->exact) {
    fhi_stages_judge(m);
  }
}

// A list of a maker that has its raise and asker. @return NULL when there is no memory
static fh_stages *make(fhi_stage_maker *m) {
  fh_check_opts quick = fh_check_opts_default();
  fh_check *check = NULL;
  quick.lower = quick.ranges = quick.time = false;
  m->stages = fhi_alloc(1, sizeof *m->stages);
  if (m->stages == NULL) {
    return NULL;
  }
  m->stages->language = m->raise->scene->language;
  m->stages->stages = fhi_alloc(FH_MAX_STAGES, sizeof *m->stages->stages);
  bool words = !m->raise->exact;
  bool ok = m->stages->stages != NULL && (!words ||
            fh_check_create(m->raise->scene, m->raise->gear, m->raise->rig, &quick, &check) == FH_OK);
  if (ok) {
    m->check = check;
    fhi_backup_find(m->raise, &m->opts, &m->backup);
    m->ran = m->raise->outcome == FH_OUTCOME_SOLVED;
    if (m->ran) {
      ok = fhi_run_raise(m->raise, &m->raise->world[FHI_LIKELY_CASE], &m->backup, &m->run, NULL) == FH_OK;
    }
  }
  if (ok) {
    fill(m);
  } else {
    fh_stages_destroy(m->stages);
    m->stages = NULL;
  }
  fh_check_destroy(check);
  return m->stages;
}

fh_status fhi_stages_make(const fhi_raise *raise, const fh_stages_opts *opts, fhi_asker *asker, fh_stages **out) {
  fhi_stage_maker *m = fhi_alloc(1, sizeof *m);
  if (m == NULL) {
    return FH_ERR_MEMORY;
  }
  m->raise = raise;
  m->asker = asker;
  m->opts = *opts;
  *out = make(m);
  fhi_free(m);
  return *out != NULL ? FH_OK : FH_ERR_MEMORY;
}

bool fhi_stages_opts_fit(const fh_stages_opts *o) {
  return o->most_drop > 0.0 && o->most_drop <= 100.0 && o->slack_left >= 0.0 && o->slack_left <= 100.0 &&
         o->lip_zone >= 0.0 && o->lip_zone <= 100.0;
}

bool fhi_rig_fits(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig) {
  return scene != NULL && gear != NULL && rig != NULL && rig->body_count >= FH_BODY_FIRST_GRIP && rig->path_count > 0;
}

fh_status fh_stages_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *opts,
                           fh_stages **out) {
  fh_stages_opts chosen = opts != NULL ? *opts : fh_stages_opts_default();
  fhi_raise *raise = NULL;
  if (!fhi_rig_fits(scene, gear, rig) || out == NULL || !fhi_stages_opts_fit(&chosen)) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_raise_create(scene, gear, rig, &raise);
  if (status != FH_OK) {
    return status;
  }
  fhi_asker *asker = fhi_asker_create(raise, chosen.most_drop);
  status = asker != NULL ? fhi_stages_make(raise, &chosen, asker, out) : FH_ERR_MEMORY;
  fhi_asker_destroy(asker);
  fhi_raise_destroy(raise);
  return status;
}

void fh_stages_destroy(fh_stages *stages) {
  if (stages != NULL) {
    fhi_free(stages->stages);
    fhi_free(stages);
  }
}
