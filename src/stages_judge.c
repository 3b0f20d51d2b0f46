// SPDX-License-Identifier: MIT
// What is wrong with a rig as it would be built and used, and at which step does it show? Each NO keeps the sheet from being
// printed: no capture, one the wrong way round, too short a rope, a grip out of reach, a step that leaves the load unheld,
// knots that would jam. Model sections 7 and 9.
#include <math.h>
#include <string.h>

#include "stages.h"
#include "text.h"
#include "words.h"

typedef struct digits {
  char text[24];
} digits;

static digits fixed(double value) {
  digits d;
  (void)fhi_fixed(d.text, sizeof d.text, value, 1);
  return d;
}

static int first_of(const fhi_stage_maker *m, fh_stage_kind kind) {
  for (int i = 0; i < m->stages->count; i++) {
    if (m->stages->stages[i].kind == kind) {
      return m->stages->stages[i].step;
    }
  }
  return 0;
}

static int step_of_station(const fhi_stage_maker *m, int station) {
  for (int i = 0; i < m->stages->count; i++) {
    if (m->stages->stages[i].station == station) {
      return m->stages->stages[i].step;
    }
  }
  return first_of(m, FH_STAGE_TRANSFER);
}

static int step_of_grip(const fhi_stage_maker *m, int grip) {
  for (int i = 0; i < m->stages->count; i++) {
    if (m->stages->stages[i].grip == grip) {
      return m->stages->stages[i].step;
    }
  }
  return first_of(m, FH_STAGE_TRANSFER);
}

// The last step that lays a rope: where one finds that it does not reach.
static int step_of_path(const fhi_stage_maker *m, int path) {
  int step = 0;
  for (int i = 0; i < m->stages->count; i++) {
    const fh_stage *s = &m->stages->stages[i];
    bool lays = s->kind == FH_STAGE_BUILD || s->kind == FH_STAGE_CAPTURE || s->kind == FH_STAGE_FIRST_LINE;
    step = lays && s->path == path ? s->step : step;
  }
  return step > 0 ? step : first_of(m, FH_STAGE_TRANSFER);
}

static void judge_captures(const fhi_stage_maker *m) {
  const fhi_model *model = &m->raise->model;
  bool any = false, reversed = false;
  for (int c = 0; c < model->contact_count; c++) {
    const fhi_contact *k = &model->contacts[c];
    any = any || k->capture;
    if (k->capture && k->reversed) {
      reversed = true;
      fhi_finding(m->stages, FH_NOTE_NO, step_of_station(m, k->station),
                  "the capture on %s is the wrong way round: it holds against the raise and lets the load down",
                  fhi_end_said(m->stages->language, m->raise->rig, k->body));
    }
  }
  int reset = first_of(m, FH_STAGE_RESET);
  reset = reset > 0 ? reset : first_of(m, FH_STAGE_TRANSFER);
  if (!any) {
    fhi_finding(m->stages, FH_NOTE_NO, reset, m->raise->friction_holds && m->raise->outcome == FH_OUTCOME_SOLVED
                    ? "no capture in the rig: when the hands let go only friction holds the load"
                    : "no capture in the rig: when the hands let go the load falls");
  } else if (m->raise->outcome == FH_OUTCOME_SOLVED && !m->raise->held && !reversed) {
    fhi_finding(m->stages, FH_NOTE_NO, reset, "the captures do not hold the load: when the hands let go it falls");
  }
}

static void judge_motion(const fhi_stage_maker *m) {
  if (m->raise->outcome != FH_OUTCOME_SOLVED) {
    fhi_finding(m->stages, FH_NOTE_NO, first_of(m, FH_STAGE_TRANSFER), "the rig does not raise the load: %s", m->raise->why);
  } else if (!m->run.done && m->raise->held) {
    fhi_finding(m->stages, FH_NOTE_NO, first_of(m, FH_STAGE_HAUL), "the raise does not come to its end: %s",
                fhi_say(m->stages->language, m->run.stuck != NULL ? m->run.stuck : "it takes too long"));
  }
}

static double length_of(const fhi_stage_maker *m, int rope) {
  const fh_number *n = &m->raise->scene->ropes[rope].length;
  return fh_number_is_set(*n) ? n->lo : (double)INFINITY;
}

// A rope may lie in two paths.
static void judge_ropes(const fhi_stage_maker *m) {
  const fh_rig *rig = m->raise->rig;
  for (int r = 0; r < m->raise->scene->rope_count && m->check->outcome == FH_OUTCOME_SOLVED; r++) {
    double needed = 0.0;
    int path = -1;
    for (int p = 0; p < rig->path_count; p++) {
      needed += rig->paths[p].rope == r ? m->check->rope_needed[p] : 0.0;
      path = rig->paths[p].rope == r ? p : path;
    }
    if (path >= 0 && needed > length_of(m, r)) {
      fhi_finding(m->stages, FH_NOTE_NO, step_of_path(m, path),
                  "rope %s is shorter than the raise needs: %s m with knots and an end in the hand, %s m there",
                  fhi_given_said(m->stages->language, m->raise->scene->ropes[r].name), fixed(needed).text, fixed(length_of(m, r)).text);
    }
  }
}

// A grip on a tail can only sit where there is rope: what lies before it, and the way out to it.
static void judge_reach(const fhi_stage_maker *m) {
  const fhi_model *model = &m->raise->model;
  for (int g = 0; g < m->raise->rig->grip_count; g++) {
    const fh_grip *grip = &m->raise->rig->grips[g];
    double used = 0.0;
    for (int s = 0; s < model->strand_count; s++) {
      const fhi_strand *st = &model->strands[s];
      bool before = st->path == grip->path && (st->after < grip->after || (st->after == grip->after && st->end[1].grip != g));
      bool ends_here = st->path == grip->path && st->end[1].grip == g;
      used += before || ends_here ? st->length : 0.0;
      if (ends_here) {
        break;
      }
    }
    int rope = m->raise->rig->paths[grip->path].rope;
    if (rope >= 0 && used > length_of(m, rope)) {
      fhi_finding(m->stages, FH_NOTE_NO, step_of_grip(m, g), "the grip %s sits beyond the rope's reach: %s m of %s lead to it, %s m are there",
                  fhi_given_said(m->stages->language, m->raise->rig->bodies[grip->body]), fixed(used).text, fhi_given_said(m->stages->language, m->raise->rig->paths[grip->path].name), fixed(length_of(m, rope)).text);
    }
    if (grip->body >= FH_BODY_FIRST_GRIP && grip->at < m->raise->scene->reach.likely - 1e-9) {
      fhi_finding(m->stages, FH_NOTE_NO, step_of_grip(m, g), "the grip %s would have to be set %s m from the edge, %s m is the nearest safe place",
                  fhi_given_said(m->stages->language, m->raise->rig->bodies[grip->body]), fixed(grip->at).text, fixed(m->raise->scene->reach.likely).text);
    }
  }
}

// Brake knots lie in the strand that holds the load; where that runs over the edge or a bend under load they jam.
static void judge_knots(const fhi_stage_maker *m) {
  const fhi_raise *r = m->raise;
  for (int s = 0; s < r->model.strand_count && r->outcome == FH_OUTCOME_SOLVED; s++) {
    const fhi_strand *st = &r->model.strands[s];
    int c = st->end[1].contact;
    if (st->after == 0 && !st->slack && st->end[0].body == FH_BODY_LOAD && c >= 0 && r->motion.rate[c] != 0.0 &&
        fhi_path_knots(r->scene, r->rig, st->path) > 0) {
      fhi_finding(m->stages, FH_NOTE_NO, first_of(m, FH_STAGE_HAUL),
                  "the knots in rope %s have to pass the %s under load: they jam there; raise with another strand",
                  fhi_given_said(m->stages->language, r->rig->paths[st->path].name), fhi_end_said(m->stages->language, r->rig, st->end[1].body));
    }
  }
}

static void judge_holds(const fhi_stage_maker *m) {
  for (int i = 0; i < m->stages->count; i++) {
    const fh_stage *s = &m->stages->stages[i];
    if (s->kind == FH_STAGE_AWAY || s->kind == FH_STAGE_SLACK || s->holds > 0 || !(s->depth > 0.0)) {
      continue;
    }
    fhi_finding(m->stages, FH_NOTE_NO, s->step, "this step leaves the load unheld: %s", s->held);
  }
}

static void judge_building(const fhi_stage_maker *m) {
  const fh_rig *rig = m->raise->rig;
  for (int g = 0; g < rig->grip_count; g++) {
    bool in = false;
    for (int i = 0; i < m->stages->count; i++) {
      in = in || m->stages->stages[i].grip == g;
    }
    if (!in) {
      fhi_finding(m->stages, FH_NOTE_NO, first_of(m, FH_STAGE_TRANSFER), "the grip %s cannot be put on: what it needs first hangs on it",
                  fhi_given_said(m->stages->language, rig->bodies[rig->grips[g].body]));
    }
  }
  if (m->raise->first == FH_FIRST_OUTSIDE) {
    fhi_finding(m->stages, FH_NOTE_WARN, first_of(m, FH_STAGE_FIRST_LINE),
                "the rig does not say what holds the person while it is built: some line outside it has to, and has to stay");
  }
  if (m->raise->outcome == FH_OUTCOME_SOLVED && !(m->backup.limit > 0.0)) {
    fhi_finding(m->stages, FH_NOTE_WARN, first_of(m, FH_STAGE_RESET), "no backup knot can be sure to help: %s sets the limit", fhi_say(m->stages->language, m->backup.by));
  }
}

// What check says against the rig is told again, without a step.
static void tell_check(const fhi_stage_maker *m) {
  for (int i = 0; i < m->check->note_count; i++) {
    const fh_note *n = &m->check->notes[i];
    if (n->level == FH_NOTE_NO) {
      fhi_finding(m->stages, FH_NOTE_WARN, 0, "%s", n->text);
    }
  }
}

void fhi_stages_judge(fhi_stage_maker *m) {
  judge_captures(m);
  judge_motion(m);
  judge_ropes(m);
  judge_reach(m);
  judge_knots(m);
  judge_holds(m);
  judge_building(m);
  tell_check(m);
}
