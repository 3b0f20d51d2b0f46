// SPDX-License-Identifier: MIT
// The raise in time, in three worlds: everything easy, likely, everything hard. Implements model.md, section 7.
#include "haul.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "lose.h"
#include "memory.h"
#include "shown.h"
#include "text.h"
#include "words.h"

const char *fh_phase_name(fh_phase phase) {
  switch (phase) {
  case FH_PHASE_START: return "start";
  case FH_PHASE_TAKE_UP: return "take-up";
  case FH_PHASE_HAUL: return "haul";
  case FH_PHASE_REST: return "rest";
  case FH_PHASE_RESET: return "reset";
  case FH_PHASE_KNOT: return "knot";
  }
  return "?";
}

typedef struct digits {
  char text[24];
} digits;

static digits fixed(double value, int decimals) {
  digits d;
  (void)fhi_fixed(d.text, sizeof d.text, value, decimals);
  return d;
}

static void note(fh_haul *h, fh_note_level level, const char *format, ...) {
  if (h->note_count == (int)(sizeof h->notes / sizeof *h->notes)) {
    return;
  }
  fh_note *n = &h->notes[h->note_count++];
  n->level = level;
  va_list args;
  va_start(args, format);
  (void)fhi_format_list(n->text, sizeof n->text, fhi_say(h->language, format), args);
  va_end(args);
}

// ---------------------------------------------------------------------------------------------------- results

static fh_band band_of(double easy, double likely, double hard) {
  return (fh_band){fmin(fmin(easy, likely), hard), likely, fmax(fmax(easy, likely), hard)};
}

static fh_range range_of(double easy, double likely, double hard) {
  fh_band b = band_of(easy, likely, hard);
  return (fh_range){b.lo, b.hi};
}

static void fill_ranges(const fhi_raise *r, const fhi_run *run, fh_haul *h) {
  const fhi_run *e = &run[FHI_EASY], *l = &run[FHI_LIKELY_CASE], *w = &run[FHI_HARD];
  h->strokes_range = range_of(e->strokes, l->strokes, w->strokes);
  h->rope_pulled_range = range_of(e->pulled, l->pulled, w->pulled);
  h->set_back_range = range_of(e->sunk, l->sunk, w->sunk);
  h->time = fhi_run_time(run, r->world, true);
}

static void fill_run(const fhi_raise *r, const fhi_run *run, fh_haul *h) {
  h->strokes = run->strokes;
  h->resets = run->strokes - 1;
  h->rope_pulled = run->pulled;
  h->stretch_lost = run->stretch;
  h->stretch_first = run->stretch_first;
  h->stretch_each = run->strokes > 1 ? run->stretch_last : 0.0;
  h->set_back = run->sunk;
  h->set_back_each = run->sunk_last;
  h->slip_each = run->slip_last;
  h->time_pull = run->time_pull;
  h->time_reset = run->time_reset;
  h->time_rest = run->time_rest;
  h->work = run->work;
  h->work_residual = fabs(run->work.in - run->work.lift - run->work.friction - run->work.stretch) / run->work.in;
  h->touches = run->touches != NULL ? run->touches : "";
  h->gathered = run->gathered;
  h->knot_count = run->knot_count;
  memcpy(h->knots, run->knots, sizeof h->knots);
  for (int b = 0; b < r->model.body_count; b++) {
    h->block_start[b] = r->model.at[b];
    h->block_end[b] = r->model.at[b] + run->moved_end[b];
  }
}

static void fill_force(const fhi_raise *r, fh_haul *h) {
  const fhi_world *w = r->world;
  h->hand_force = band_of(w[FHI_EASY].hand, w[FHI_LIKELY_CASE].hand, w[FHI_HARD].hand);
  h->effort = w[FHI_LIKELY_CASE].hand / w[FHI_LIKELY_CASE].sustained;
}

// ---------------------------------------------------------------------------------------------------- knots that jam

// Brake knots sit in the strand from the load up. Where the first is, the team's row says; else anywhere.
static void find_jam(const fhi_raise *r, fh_haul *h) {
  h->jam_height = (double)NAN;
  for (int s = 0; s < r->model.strand_count; s++) {
    const fhi_strand *st = &r->model.strands[s];
    int c = st->end[1].contact;
    int knots = st->after == 0 ? fhi_path_knots(r->scene, r->rig, st->path) : 0;
    if (knots == 0 || st->slack || st->end[0].body != FH_BODY_LOAD || c < 0 || r->motion.rate[c] == 0.0) {
      continue;
    }
    // The knot that is farthest from the load reaches the edge first.
    const fh_team *t = &r->scene->team;
    bool known = r->scene->has_team && t->knot_count > 0;
    double farthest = known ? t->knot_first.likely + (t->knot_count - 1) * t->knot_apart.likely : (double)INFINITY;
    h->jam_height = fmax(0.0, r->scene->depth.likely - fmin(farthest, r->scene->depth.likely));
    (void)fhi_format(h->jam, sizeof h->jam, fhi_say(h->language, "the %d knots in rope %s jam at the %s%s"), knots, fhi_given_said(h->language, r->rig->paths[st->path].name),
                     fhi_end_said(h->language, r->rig, st->end[1].body),
                     known ? "" : fhi_say(h->language, "; where they sit is not said: taken to be right there"));
  }
}

// ---------------------------------------------------------------------------------------------------- words

static void say(const fhi_raise *r, const fhi_run *run, bool jams, fh_haul *h) {
  if (!jams && h->jam[0] != '\0') {
    note(h, FH_NOTE_NO, "%s", h->jam);
  }
  const char *doubt = fhi_cut_doubt(r->scene, r->gear);
  if (doubt != NULL) {
    note(h, FH_NOTE_WARN, "%s", fhi_say(h->language, doubt));
  }
  if (h->effort > 1.0) {
    digits pull, kept;
    fhi_show_compared(pull.text, kept.text, sizeof pull.text, h->hand_force.likely, r->world[FHI_LIKELY_CASE].sustained);
    note(h, FH_NOTE_WARN,
         h->time_rest > 0.0 ? "the pull of %s N is more than the crew keeps up for minutes (%s N): rests are counted in"
                            : "the pull of %s N is more than the crew keeps up for minutes (%s N): at the likely figures the time that a reset takes is rest enough",
         pull.text, kept.text);
  }
  if (r->world[FHI_HARD].sustained <= 0.0) {  // no rest is long enough, and none is counted
    note(h, FH_NOTE_WARN, "at the worst nobody here keeps any pull up: the time has no upper end");
  }
  if (r->scene->crew_count == 0) {
    note(h, FH_NOTE_INFO, "no crew in the scene: the time is that of one person who can pull this");
  }
  if (r->model.hand_angle != 0.0) {
    note(h, FH_NOTE_INFO, "the raise is run with the pull in line; at an angle the hand force differs, see check");
  }
  if (h->set_back > 0.5 * r->scene->depth.likely) {
    note(h, FH_NOTE_WARN, "set-back at the resets takes %s m in all: shorten the strand before the capture or use a capture that "
                          "bites sooner",
         fixed(h->set_back, 1).text);
  }
  if (h->stretch_lost > 0.25 * h->rope_pulled) {
    note(h, FH_NOTE_WARN, "a quarter of the pull and more goes into stretch");
  }
  if (!run[FHI_HARD].done) {
    note(h, FH_NOTE_WARN, "with everything at its hard end the raise does not come to its end: %s", fhi_say(h->language, run[FHI_HARD].stuck));
  }
  if (!(h->knot_every > 0.0) && r->held) {
    note(h, FH_NOTE_WARN, "no backup knot can be sure to help");
  } else if (h->knot_count == FH_MAX_KNOTS) {
    note(h, FH_NOTE_WARN, "more than %d backup knots: those after that are left out", FH_MAX_KNOTS);
  }
}

static void refuse(fh_haul *h, const char *why) {
  const fh_band nan = {(double)NAN, (double)NAN, (double)NAN};
  const fh_range none = {(double)NAN, (double)NAN};
  h->outcome = FH_OUTCOME_INFEASIBLE;
  (void)fhi_copy(h->why, sizeof h->why, why);
  h->strokes = h->resets = -1;
  h->strokes_range = h->rope_pulled_range = h->set_back_range = none;
  h->rope_pulled = h->stretch_lost = h->stretch_first = h->stretch_each = (double)NAN;
  h->set_back = h->set_back_each = h->slip_each = h->gathered = (double)NAN;
  h->time = h->hand_force = nan;
  h->time_pull = h->time_reset = h->time_rest = h->effort = h->jam_height = (double)NAN;
  h->work = (fh_work){(double)NAN, (double)NAN, (double)NAN, (double)NAN};
  h->work_residual = (double)NAN;
  h->touches = "";
  h->knot_count = h->trace_count = h->lip_count = 0;
}

static fh_status work_out(const fhi_raise *r, const fh_stages_opts *opts, fhi_run *run, bool jams, fh_haul *h) {
  fhi_backup backup;
  fhi_trace trace = {NULL, 0, 0};
  fh_status status = FH_OK;
  fhi_backup_find(r, opts, &backup);
  for (int i = 0; i < FHI_CASES && status == FH_OK; i++) {
    status = fhi_run_raise(r, &r->world[i], &backup, &run[i], i == FHI_LIKELY_CASE ? &trace : NULL);
  }
  h->trace = trace.rows;
  h->trace_count = trace.count;
  if (status != FH_OK) {
    return status;
  }
  const fhi_run *likely = &run[FHI_LIKELY_CASE];
  if (!likely->done) {
    refuse(h, fhi_say(h->language, likely->stuck));
    return FH_OK;
  }
  h->outcome = FH_OUTCOME_SOLVED;
  h->knot_every = fmax(0.0, backup.limit - backup.left);
  fill_run(r, likely, h);
  fill_ranges(r, run, h);
  fill_force(r, h);
  for (int p = 0; p < r->rig->path_count; p++) {
    h->rope_in_knots += fhi_path_knots(r->scene, r->rig, p);  // about 1 m each: common practice, a guide's teaching site
  }
  find_jam(r, h);
  fhi_lip_fill(r, opts, h);
  say(r, run, jams, h);
  if (!(h->work_residual <= 1e-9)) {
    refuse(h, fhi_say(h->language, "the work put in does not balance: the answer is not to be used"));
    h->outcome = FH_OUTCOME_UNRESOLVED;
  }
  return FH_OK;
}

// What check says no to is no raise that anybody should start: its reasons come first. @param jams they tell of jammed knots
static fh_status take_no(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, bool *jams, fh_haul *h) {
  const fh_check_opts opts = {.lower = false, .ranges = true, .time = false};
  fh_check *check = NULL;
  fh_status status = fh_check_create(scene, gear, rig, &opts, &check);
  for (int i = 0; status == FH_OK && i < check->note_count; i++) {
    if (check->notes[i].level == FH_NOTE_NO) {
      note(h, FH_NOTE_NO, "%s", check->notes[i].text);
    }
  }
  *jams = status == FH_OK && check->jams;
  fh_check_destroy(check);
  return status;
}

fh_status fh_haul_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_stages_opts *opts,
                         fh_haul **out) {
  fh_stages_opts chosen = opts != NULL ? *opts : fh_stages_opts_default();
  fhi_raise *raise = NULL;
  bool jams = false;
  if (!fhi_rig_fits(scene, gear, rig) || out == NULL || !fhi_stages_opts_fit(&chosen)) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_raise_create(scene, gear, rig, &raise);
  if (status != FH_OK) {
    return status;
  }
  fh_haul *h = fhi_alloc(1, sizeof *h);
  fhi_run *run = fhi_alloc(FHI_CASES, sizeof *run);
  if (h != NULL) {
    h->language = scene->language;
  }
  if (h == NULL || run == NULL) {
    status = FH_ERR_MEMORY;
  } else if (raise->outcome != FH_OUTCOME_SOLVED) {
    refuse(h, raise->why);
  } else {
    status = take_no(scene, gear, rig, &jams, h);
    status = status == FH_OK ? work_out(raise, &chosen, run, jams, h) : status;
  }
  fhi_free(run);
  fhi_raise_destroy(raise);
  if (status != FH_OK) {
    fh_haul_destroy(h);
    return status;
  }
  *out = h;
  return FH_OK;
}

void fh_haul_destroy(fh_haul *haul) {
  if (haul != NULL) {
    fhi_free(haul->trace);
    fhi_free(haul);
  }
}
