// SPDX-License-Identifier: MIT
// What holds the load at a stage, and what happens when one part lets go there? Implements model.md, section 9.
#include <math.h>
#include <string.h>

#include "lose.h"
#include "memory.h"
#include "text.h"
#include "words.h"

// Rope lengths carry rounding of some 1e-12 m; a first line that has just been relieved is loose by 1e-6 m.
static const double STILL = 1e-7;  // [m]

static const double AT_ONCE = 0.005;  // [m] a drop that reads as 0.00

static const double TAUT = 1e-9;  // [1] share of the load below which a piece carries nothing

fhi_asker *fhi_asker_create(const fhi_raise *raise, double most_drop) {
  fhi_asker *a = fhi_alloc(1, sizeof *a);
  if (a == NULL) {
    return NULL;
  }
  a->raise = raise;
  a->most_drop = most_drop;
  fhi_parts_fill(raise, &a->parts);
  a->work = fhi_drop_work_create(2 * (raise->rig->station_count + raise->rig->grip_count + 16));
  if (a->work == NULL) {
    fhi_free(a);
    return NULL;
  }
  return a;
}

void fhi_asker_destroy(fhi_asker *a) {
  if (a != NULL) {
    fhi_drop_work_destroy(a->work);
    fhi_free(a);
  }
}

// In the programme a block that is pulled against a bend stops there. On the snow it may jam, or not: it must not count. Such
// a bend is taken out of the rope's way and the question put again, until nothing jams.
static bool find_jam(const fhi_asker *a, int piece, int *point) {
  const fhi_drop *d = &a->pieces.drop;
  const fhi_piece *p = &d->pieces[piece];
  for (int i = p->first; i + 1 < p->first + p->count; i++) {
    int from = d->body[i], to = d->body[i + 1];
    bool free = !(d->fixed[from] && d->fixed[to]) && from != to;
    if (!free || fabs(a->answer.at[from] - a->answer.at[to]) > STILL || fabs(d->at[from] - d->at[to]) <= STILL) {
      continue;
    }
    // The bend of the two goes; a rope's end stays.
    *point = a->pieces.point[i + 1 < p->first + p->count - 1 ? i + 1 : i];
    return p->count > 2;
  }
  return false;
}

static void answer(fhi_asker *a, bool tensions) {
  memset(a->question.jam, 0, sizeof a->question.jam);
  for (bool again = true; again;) {
    again = false;
    fhi_view_pieces(&a->view, &a->question, &a->pieces);
    fhi_drop_solve(&a->pieces.drop, tensions, a->work, &a->answer);
    bool told = tensions;
    for (int p = 0; p < a->pieces.drop.piece_count && a->answer.solved && !a->answer.lost && !again; p++) {
      int point;
      if (!find_jam(a, p, &point)) {
        continue;
      }
      if (!told) {
        fhi_drop_solve(&a->pieces.drop, true, a->work, &a->answer);  // is it taut?
        told = true;
      }
      again = a->answer.share[p] > TAUT && !a->question.jam[point];
      a->question.jam[point] = a->question.jam[point] || again;
    }
  }
}

// As it hangs now: by the hands through open captures, or with hands off by what bears, the rest with its bite to come.
static void look(fhi_asker *a, int gone, bool tensions) {
  a->question.gone = gone;
  a->question.hands = a->question.open = a->view.hands;
  a->question.bite = !a->view.hands;
  answer(a, tensions);
}

// Hands off.
static void ask(fhi_asker *a, int gone, bool bite, bool tensions) {
  a->question.gone = gone;
  a->question.hands = a->question.open = false;
  a->question.bite = bite;
  answer(a, tensions);
}

static bool stopped(const fhi_asker *a) {
  return a->answer.solved && !a->answer.lost;
}

// The catch when only what has not let go holds. @return the drop [m], infinite when the load is lost
static double catch_it(fhi_asker *a, int gone, double *bite, bool limits) {
  *bite = 0.0;
  ask(a, gone, true, false);
  double with_bite = stopped(a) ? a->answer.drop : 0.0;
  ask(a, gone, false, true);
  if (!stopped(a)) {
    return (double)INFINITY;
  }
  *bite = fmax(0.0, with_bite - a->answer.drop);
  double fall = a->answer.drop + *bite;
  fhi_catch_fill(&a->view, &a->pieces, &a->answer, fall, limits, &a->caught);
  return a->answer.drop;
}

static bool helps(const fhi_asker *a, double drop, double bite) {
  return drop + bite <= a->most_drop * (1.0 + 1e-9) && a->caught.over_count == 0;
}

// ---------------------------------------------------------------------------------------------------- holds

static int first_line_knot(const fhi_asker *a) {
  const fhi_raise *r = a->raise;
  if (r->first != FH_FIRST_IN_RIG) {
    return -1;
  }
  bool load_first = r->rig->stations[r->first_from].body == FH_BODY_LOAD;
  return a->parts.knot[load_first ? r->first_to : r->first_from];
}

static void name_hold(const fhi_asker *a, int point, char *to) {
  int part = point >= 0 ? a->view.points[point].part : -1;
  bool first = a->raise->first == FH_FIRST_IN_RIG && (part == first_line_knot(a) || part == a->parts.backup);
  (void)fhi_format(to, FH_ELEMENT, "%s%s", first ? "first line, " : "", part >= 0 ? a->parts.list[part].name : "");
}

static bool is_lock(const fhi_asker *a, int point) {
  return a->view.points[point].what == FHI_AT_LOCK;
}

// The hold that can be spared best: a capture if one can, else what is missed least. @return its point, or -1 when without any
// of them the load is not caught in time
static int spare(fhi_asker *a) {
  int holds[FHI_VIEW_POINTS], count = a->caught.hold_count, best = -1;
  double least = (double)INFINITY;
  memcpy(holds, a->caught.holds, (size_t)count * sizeof *holds);
  for (int i = 0; i < count; i++) {
    double bite;
    a->question.off[holds[i]] = true;
    double d = catch_it(a, -1, &bite, true);
    bool lock = is_lock(a, holds[i]), best_lock = best >= 0 && is_lock(a, best);
    if (helps(a, d, bite) && (best < 0 || (lock && !best_lock) || (lock == best_lock && d < least))) {
      least = d;
      best = holds[i];
    }
    a->question.off[holds[i]] = false;
  }
  return best;
}

// The hold that a way goes by: its capture, else the backup knot, else the first that there is.
static int chief(const fhi_asker *a) {
  int best = a->caught.hold_count > 0 ? a->caught.holds[0] : -1;
  for (int i = 0; i < a->caught.hold_count; i++) {
    int point = a->caught.holds[i];
    if (is_lock(a, point)) {
      return point;
    }
    best = a->view.points[point].part == a->parts.backup ? point : best;
  }
  return best;
}

// Takes away one hold after the other, each time the one that is missed least. Two ways are told apart by the hold that is
// spared; what they share (the anchor, a knot) shows as a single part that everything hangs on.
static void peel(fhi_asker *a, fh_stage *stage, double *drops, int *points) {
  double bite, drop = catch_it(a, -1, &bite, true);
  bool bears = drop <= STILL;
  while (stage->holds < FH_MAX_HOLDS && isfinite(drop) && (bears || helps(a, drop, bite))) {
    int only = chief(a), spared = spare(a);
    name_hold(a, spared >= 0 ? spared : only, stage->hold[stage->holds]);
    points[stage->holds] = spared >= 0 ? spared : only;
    drops[stage->holds++] = drop;
    if (spared < 0) {
      break;
    }
    a->question.off[spared] = true;
    drop = catch_it(a, -1, &bite, true);
    bears = false;
  }
  memset(a->question.off, 0, sizeof a->question.off);
}

static bool is_first_line(const fhi_asker *a, int point) {
  int part = point >= 0 ? a->view.points[point].part : -1;
  return part >= 0 && (part == first_line_knot(a) || part == a->parts.first || part == a->parts.hitch);
}

// While the first line bears, captures wait: it comes first.
static void bearing_first(const fhi_asker *a, fh_stage *stage, double *drops, int *points) {
  char name[FH_ELEMENT];
  int first = stage->holds;
  if (a->view.hands || a->view.loaded) {
    return;
  }
  // Its hitch bears before its knot does.
  for (int i = 0; i < stage->holds; i++) {
    bool bears = is_first_line(a, points[i]) && (first == stage->holds || a->view.points[points[i]].part == a->parts.hitch);
    first = bears ? i : first;
  }
  if (first == stage->holds) {
    return;
  }
  (void)fhi_copy(name, sizeof name, stage->hold[first]);
  memmove(stage->hold[1], stage->hold[0], (size_t)first * sizeof stage->hold[0]);
  (void)fhi_copy(stage->hold[0], sizeof stage->hold[0], name);
  int point = points[first];
  memmove(points + 1, points, (size_t)first * sizeof *points);
  points[0] = point;
  for (int i = 0; i < stage->holds; i++) {
    // The captures lie taut behind it, the knot behind the hitch a little loose.
    drops[i] = i > 0 && stage->hitched && is_first_line(a, points[i]) ? stage->behind : 0.0;
  }
}

static void say_held(const fhi_asker *a, fh_stage *stage, const double *drops, bool held) {
  char number[24], more[240] = "", name[2 * FH_ELEMENT];
  fh_language l = a->raise->scene->language;
  if (stage->holds == 0) {
    (void)fhi_copy(stage->held, sizeof stage->held,
                   fhi_say(l, held            ? "Nothing stops a fall in time."
                              : a->view.hands ? "Only the crew's hands hold the load."
                                              : "Nothing holds the load."));
    return;
  }
  if (stage->holds > 1) {
    (void)fhi_name_said(name, sizeof name, l, stage->hold[1]);
    if (drops[1] < AT_ONCE) {
      (void)fhi_format(more, sizeof more, fhi_say(l, " Backed up at once by: %s."), name);
    } else {
      (void)fhi_format(more, sizeof more, fhi_say(l, " Backed up by: %s, after %s m."), name, fhi_fixed(number, sizeof number, drops[1], 2));
    }
  } else {
    bool outside = a->raise->first == FH_FIRST_OUTSIDE && a->parts.first >= 0 && strcmp(stage->hold[0], a->parts.list[a->parts.first].name) == 0;
    (void)fhi_copy(more, sizeof more, fhi_say(l, outside ? " What backs it up the scene does not say." : " Nothing backs it up."));
  }
  (void)fhi_format(stage->held, sizeof stage->held, "%s%s.%s", fhi_say(l, a->view.hands ? "The crew pulls; if they let go: " : "Holds: "),
                   fhi_name_said(name, sizeof name, l, stage->hold[0]), more);
}

// One of many samples: ways and words are told of the ranges, not here.
static bool look_only(fhi_asker *a) {
  look(a, -1, true);
  bool held = stopped(a);
  if (held) {
    fhi_catch_fill(&a->view, &a->pieces, &a->answer, -1.0, false, &a->bears);
  }
  return held;
}

bool fhi_stage_holds(fhi_asker *a, fh_stage *stage) {
  double drops[FH_MAX_HOLDS] = {0.0};
  int points[FH_MAX_HOLDS];
  fhi_view_fill(a->raise, &a->parts, stage, &a->view);
  stage->holds = 0;
  if (a->raise->exact) {
    return look_only(a);
  }
  ask(a, -1, false, false);
  bool held = stopped(a);
  if (held) {
    peel(a, stage, drops, points);
    bearing_first(a, stage, drops, points);
  }
  say_held(a, stage, drops, held);
  look(a, -1, true);
  if (stopped(a)) {
    fhi_catch_fill(&a->view, &a->pieces, &a->answer, -1.0, false, &a->bears);
  }
  return held;
}

// ---------------------------------------------------------------------------------------------------- one part

static void fill_nothing(fh_loss *loss) {
  const fh_band nan = {(double)NAN, (double)NAN, (double)NAN};
  memset(loss, 0, sizeof *loss);
  loss->drop = loss->bite = loss->peak_simulated = (double)NAN;
  loss->peak = loss->anchor = nan;
}

static void keep(const fhi_asker *a, fh_loss *loss) {
  loss->peak = a->caught.peak;
  loss->anchor = a->caught.anchor;
  loss->peak_simulated = a->caught.simulated;
  loss->over_count = a->caught.over_count;
  memcpy(loss->over, a->caught.over, sizeof loss->over);
  (void)fhi_copy(loss->caught_by, sizeof loss->caught_by, a->caught.by);
}

// One point of the anchor: the others take over, and what hangs on the anchor sinks as far as the place where they meet moves.
static void lose_leg(fhi_asker *a, int point, fh_loss *loss) {
  look(a, -1, true);
  loss->residual = a->answer.residual;
  loss->bears = true;
  loss->drop = stopped(a) ? fhi_anchor_moves(a->raise, point, a->bears.anchor.likely) : (double)INFINITY;
  loss->caught = isfinite(loss->drop);
  if (!loss->caught) {
    return;
  }
  loss->bite = 0.0;
  fhi_catch_fill(&a->view, &a->pieces, &a->answer, loss->drop, true, &a->caught);
  fhi_anchor_limits(a->raise, point, a->caught.anchor.hi, &a->caught);
  keep(a, loss);
  (void)fhi_copy(loss->caught_by, sizeof loss->caught_by, "the other points of the anchor");
}

void fhi_stage_lose(fhi_asker *a, int part, fh_loss *loss) {
  fill_nothing(loss);
  loss->there = fhi_view_has(&a->view, part);
  if (!loss->there) {
    return;
  }
  if (a->parts.list[part].kind == FH_ELEMENT_LEG) {
    lose_leg(a, a->parts.list[part].index, loss);
    return;
  }
  look(a, part, false);
  loss->residual = a->answer.residual;
  loss->bears = !(stopped(a) && a->answer.drop <= STILL);
  if (!loss->bears) {
    loss->caught = true;
    loss->drop = loss->bite = 0.0;
    loss->peak = a->bears.peak;
    loss->anchor = a->bears.anchor;
    loss->peak_simulated = a->bears.simulated;
    (void)fhi_copy(loss->caught_by, sizeof loss->caught_by, a->bears.by);
    return;
  }
  loss->drop = catch_it(a, part, &loss->bite, true);
  loss->residual = fmax(loss->residual, a->answer.residual);
  loss->caught = isfinite(loss->drop);
  if (!loss->caught) {
    loss->bite = (double)NAN;
    return;
  }
  keep(a, loss);
}
