// SPDX-License-Identifier: MIT
// A raise from the first pull until the load is at the lip: take up stretch, haul, let go, reset, again.
// Implements model.md, section 7, and section 8 for time.
//
// What is counted, and what not. A stroke first takes up the stretch of every strand that has to carry more than it does:
// strands that were slack, and what the set-back took from the strand before the capture. All tensions are thought to rise
// in step. While the load rises ropes keep their length. What was put into stretch is lost at the next reset: what the
// strand before the capture gives back as the block takes over its load is not counted as a gain.
#include <math.h>
#include <string.h>

#include "haul.h"
#include "memory.h"

enum {
  MOST_STROKES = 5000,  // 200 m by 4 cm: nobody hauls longer
  MOST_ROWS = 6 * MOST_STROKES,
};

// A stroke that ends a hand's breadth short of the lip is pulled through. Common practice, no source.
static const double REACH = 0.05;  // [m]
static const double TINY = 1e-12;

// Tying one knot and clipping it, while the capture holds. Common practice, no source.
static const double KNOT_TIME = 20.0;  // [s]

// Power falls from what a person gives for minutes to what one gives for an hour; both ends as the catalogue has them.
static const double FRESH = 300.0, TIRED = 3600.0;  // [s]

typedef struct runner {
  const fhi_raise *raise;
  const fhi_world *world;
  const fhi_backup *backup;
  fhi_run *run;
  fhi_trace *trace;
  fh_status status;
  double tension[FH_MAX_STRANDS];  // [N] before the next take-up
  double moved[FH_MAX_BODIES];     // [m] from the place at the start of a stroke
  double height, travel, time;     // [m], [m], [s]
  double slack;                    // [m] in the first line; NaN without one
  double capture_force;            // [N]
  bool hangs;                      // the load hangs on the haul line
} runner;

// ---------------------------------------------------------------------------------------------------- rows

static void add_row(runner *x, fh_phase phase, double hand_force, double capture_force) {
  fhi_trace *t = x->trace;
  if (t == NULL || x->status != FH_OK) {
    return;
  }
  if (t->count == t->room) {
    int room = t->room == 0 ? 256 : 2 * t->room;
    fh_trace_row *rows = fhi_realloc(t->rows, (size_t)room, sizeof *rows);
    if (rows == NULL) {
      x->status = FH_ERR_MEMORY;
      return;
    }
    t->rows = rows;
    t->room = room;
  }
  int block = x->run->block;
  t->rows[t->count++] = (fh_trace_row){.time = x->time,
                                       .height = x->height,
                                       .hand_force = hand_force,
                                       .capture_force = capture_force,
                                       .hand_travel = x->travel,
                                       .slack = x->slack,
                                       .block = block >= 0 ? x->raise->model.at[block] + x->moved[block] : (double)NAN,
                                       .stroke = x->run->strokes,
                                       .knots = x->run->knot_count,
                                       .phase = phase};
}

// ---------------------------------------------------------------------------------------------------- gaps

// A gap that may close: how much is left of it, and how fast it closes per unit of `body` motion and hand travel.
typedef struct gap {
  double left, rate;
  int block;
  const char *why;
} gap;

static double part(const fhi_end *end, const double *body) {
  return end->body >= FH_BODY_FIRST_GRIP && end->kind != FHI_END_HAND ? body[end->body] : 0.0;
}

// What a strand on the surface leaves between the two things at its ends. @return false when it limits nothing
static bool strand_gap(const runner *x, int strand, const double *body, gap *g) {
  const fhi_strand *st = &x->raise->model.strands[strand];
  bool open = st->end[1].kind == FHI_END_HAND || st->end[0].kind == FHI_END_LOOSE || st->end[1].kind == FHI_END_LOOSE;
  if (st->slack || open || st->end[0].s < 0.0 || st->end[1].s < 0.0) {
    return false;
  }
  bool lip = st->end[0].body == FH_END_LIP || st->end[1].body == FH_END_LIP;
  const fh_scene *s = x->raise->scene;
  g->rate = -st->dir * (part(&st->end[1], body) - part(&st->end[0], body));
  g->left = st->length + st->dir * (part(&st->end[1], x->moved) - part(&st->end[0], x->moved)) -
            (lip ? s->reach.likely : s->clearance.likely);
  g->why = lip ? "a moving block reaches the edge" : "a moving block reaches the next one";
  g->block = st->end[1].body >= FH_BODY_FIRST_GRIP ? st->end[1].body : st->end[0].body;
  g->block = g->block >= FH_BODY_FIRST_GRIP ? g->block : -1;
  return true;
}

static bool body_gap(const runner *x, int b, const double *body, gap *g) {
  g->rate = -body[b];
  g->left = x->raise->model.at[b] + x->moved[b] - x->raise->scene->reach.likely;
  g->why = "a moving block reaches the edge";
  g->block = b;
  return true;
}

// Behind a moving block the hauler walks back; toward the lip the rope comes in hand over hand.
static bool hand_gap(const runner *x, double walked, double hand, gap *g) {
  const fhi_model *m = &x->raise->model;
  g->rate = hand;
  g->left = x->raise->scene->room.likely - fmax(m->strands[m->hand_strand].end[0].s, 0.0) - walked;
  g->why = "the hauler has no more room to walk back";
  g->block = -1;
  return m->hand_dir > 0;
}

static void narrow(const gap *g, double *most, const gap **by, gap *kept) {
  if (g->rate > TINY && fmax(g->left, 0.0) / g->rate < *most) {
    *most = fmax(g->left, 0.0) / g->rate;
    *kept = *g;
    *by = kept;
  }
}

// How many units of a motion fit before something runs out of room. @param walked [m] hand travel of this stroke so far
static double room_for(const runner *x, const double *body, double hand, double walked, double wanted, gap *kept) {
  const fhi_model *m = &x->raise->model;
  const gap *by = NULL;
  gap g;
  double most = wanted;
  for (int s = 0; s < m->strand_count; s++) {
    if (strand_gap(x, s, body, &g)) {
      narrow(&g, &most, &by, kept);
    }
  }
  for (int b = FH_BODY_FIRST_GRIP; b < m->body_count; b++) {
    (void)body_gap(x, b, body, &g);
    narrow(&g, &most, &by, kept);
  }
  if (hand_gap(x, walked, hand, &g)) {
    narrow(&g, &most, &by, kept);
  }
  if (by == NULL) {
    *kept = (gap){.block = -1, .why = "the load reaches the lip"};
  }
  return most;
}

// ---------------------------------------------------------------------------------------------------- time

static double hand_speed(const runner *x) {
  const fhi_world *w = x->world;
  double people = x->raise->scene->crew_count > 0 ? x->raise->scene->crew_count : 1;
  double tired = fmin(fmax((x->time - FRESH) / (TIRED - FRESH), 0.0), 1.0);
  double power = people * (w->power_minutes + tired * (fmin(w->power_hour, w->power_minutes) - w->power_minutes));
  return fmin(w->walk, power / w->hand);
}

static void pull(runner *x, double distance) {
  double seconds = fmax(distance, 0.0) / hand_speed(x);
  x->travel += distance;
  x->time += seconds;
  x->run->time_pull += seconds;
  x->run->pulled += distance;
}

// ---------------------------------------------------------------------------------------------------- take-up

static double depth_of(const runner *x) {
  return x->world->depth - x->height;
}

// Work at the contacts while rope passes them, each strand with its own part of the full tension.
static double friction_of(const fhi_raise *r, const fhi_world *w, const double *passed) {
  double sum = 0.0;
  for (int c = 0; c < r->model.contact_count; c++) {
    const fhi_contact *k = &r->model.contacts[c];
    sum += (w->up[k->after] - w->up[k->before]) * passed[c];
  }
  return sum;
}

// Takes up what is missing, as far as there is room. @return the part that was taken up, 1: all of it
static double take_up(runner *x, double *walked) {
  const fhi_raise *r = x->raise;
  const fhi_world *w = x->world;
  double stretch[FH_MAX_STRANDS] = {0.0}, weighted[FH_MAX_STRANDS] = {0.0}, depth = depth_of(x);
  fhi_take_up all, work;
  gap kept;
  for (int s = 0; s < r->model.strand_count; s++) {
    double more = r->piece[s] >= 0 ? fmax(0.0, w->up[s] - x->tension[s]) : 0.0;
    stretch[s] = more * fhi_strand_length(r, s, depth, x->moved) / w->modulus[s];
  }
  fhi_raise_take_up(r, stretch, &all);
  double did = room_for(x, all.body, all.hand, *walked, 1.0, &kept);

  // Each strand's tension goes from what it had toward the full one: it works at their middle.
  for (int s = 0; s < r->model.strand_count; s++) {
    if (stretch[s] > 0.0) {
      double end = x->tension[s] + did * (w->up[s] - x->tension[s]);
      weighted[s] = did * stretch[s] * 0.5 * (x->tension[s] + end) / w->up[s];
      x->run->work.stretch += weighted[s] * w->up[s];
    }
    if (r->piece[s] >= 0) {
      x->tension[s] += did * (w->up[s] - x->tension[s]);
    }
  }
  fhi_raise_take_up(r, weighted, &work);
  x->run->work.in += w->hand * work.hand;
  if (r->single) {
    x->run->work.friction += friction_of(r, w, work.passed);
  } else {
    double rope = 0.0;
    for (int s = 0; s < r->model.strand_count; s++) {
      rope += weighted[s] * w->up[s];
    }
    x->run->work.friction += w->hand * work.hand - rope;  // redundant ropes: by difference
  }
  for (int b = FH_BODY_FIRST_GRIP; b < r->model.body_count; b++) {
    x->moved[b] += did * all.body[b];
  }
  *walked += did * all.hand;
  pull(x, did * all.hand);
  x->run->stretch += did * all.hand;
  if (did < 1.0) {
    x->run->touches = kept.why;
    x->run->block = kept.block;
  }
  return did;
}

// ---------------------------------------------------------------------------------------------------- haul

// Slack that the first line may still gain before a knot has to take it.
static double slack_room(const runner *x) {
  bool knots = !isnan(x->slack) && x->backup->limit > 0.0 && x->raise->held && x->run->knot_count < FH_MAX_KNOTS;
  return knots ? fmax(0.0, x->backup->limit - x->slack) : (double)INFINITY;
}

// @return true when the load rises no further for the slack's sake
static bool haul(runner *x, double *walked) {
  const fhi_raise *r = x->raise;
  gap kept;
  double left = depth_of(x), slack = slack_room(x);
  double rise = room_for(x, r->motion.body, r->motion.hand, *walked, left, &kept);
  if (left - rise <= fmin(REACH, 0.1 * rise)) {
    rise = left;
  }
  bool knot = slack < rise - TINY;
  rise = knot ? slack : rise;
  for (int b = FH_BODY_FIRST_GRIP; b < r->model.body_count; b++) {
    x->moved[b] += rise * r->motion.body[b];
  }
  double passed[FHI_MAX_CONTACTS];
  for (int c = 0; c < r->model.contact_count; c++) {
    passed[c] = r->motion.rate[c] * rise;
  }
  x->run->work.in += x->world->hand * r->motion.hand * rise;
  x->run->work.lift += x->world->weight * rise;
  x->run->work.friction += friction_of(r, x->world, passed);
  x->height += rise;
  x->slack += rise;
  x->run->gathered += rise;
  if (!knot && (rise < left || x->run->touches == NULL)) {
    x->run->touches = kept.why;
    x->run->block = kept.block;
  }
  *walked += rise * r->motion.hand;
  pull(x, rise * r->motion.hand);
  return knot;
}

// ---------------------------------------------------------------------------------------------------- reset

// The capture lets rope back until it bites. The strands that stay taut unload toward what holds the load with friction's
// help; what that does not give, the load sinks. Weights by work: a strand that carries the share t of the load gives t
// times its shortening.
static void set_back(runner *x) {
  const fhi_raise *r = x->raise;
  const fhi_world *w = x->world;
  const fhi_contact *k = &r->model.contacts[r->capture];
  double slip = w->set_back * fmax(r->share[k->before], r->share[k->after]), gives = 0.0, depth = depth_of(x);
  for (int s = 0; s < r->model.strand_count; s++) {
    double low = x->hangs ? w->down[s] : 0.0;
    gives += r->share[s] * (x->tension[s] - low) * fhi_strand_length(r, s, depth, x->moved) / w->modulus[s];
  }
  double sinks = x->hangs ? fmax(0.0, slip - gives) : 0.0;
  if (x->slack < sinks) {
    sinks = fmax(x->slack, 0.0);  // the first line is taut again and holds
  }
  double part_of = slip < gives ? slip / gives : 1.0;
  for (int s = 0; s < r->model.strand_count; s++) {
    double low = x->hangs ? w->down[s] : 0.0;
    x->tension[s] = r->share[s] > 0.0 ? x->tension[s] - part_of * (x->tension[s] - low) : 0.0;
  }
  x->height -= sinks;
  x->slack -= sinks;
  x->run->gathered -= sinks;
  x->run->sunk += sinks;
  x->run->sunk_last = sinks;
  x->run->slip_last = w->set_back;
  x->run->work.lift -= w->weight * sinks;
  x->run->work.friction += w->weight * sinks;
  x->capture_force = fmax(x->tension[k->before], x->tension[k->after]);
}

// The capture holds; what the first line has gained goes into a knot.
static void tie_knot(runner *x) {
  fhi_run *run = x->run;
  x->time += KNOT_TIME;
  run->time_reset += KNOT_TIME;
  run->knots[run->knot_count++] =
      (fh_backup_knot){.stroke = run->strokes, .height = x->height, .slack = x->slack, .time = x->time};
  x->slack = fmin(x->slack, x->backup->left);
  add_row(x, FH_PHASE_KNOT, 0.0, x->capture_force);
}

// What one can keep up is less than a short effort: the rest comes out of the pauses. Resets are such pauses.
static void rest(runner *x, double pulled_for) {
  const fhi_world *w = x->world;
  if (w->sustained > 0.0 && w->hand > w->sustained) {
    double need = pulled_for * (w->hand / w->sustained - 1.0) - w->reset_time;
    if (need > 0.0) {
      x->time += need;
      x->run->time_rest += need;
      add_row(x, FH_PHASE_REST, 0.0, x->capture_force);
    }
  }
}

static void reset(runner *x, double pulled_for) {
  set_back(x);
  memset(x->moved, 0, sizeof x->moved);
  x->time += x->world->reset_time;
  x->run->time_reset += x->world->reset_time;
  add_row(x, FH_PHASE_RESET, 0.0, x->capture_force);
  rest(x, pulled_for);
}

// ---------------------------------------------------------------------------------------------------- the whole

// Tension on the load's side of the captures, each strand by its share: what a take-up has gained before the load moves.
static double tightness(const runner *x) {
  double sum = 0.0;
  for (int s = 0; s < x->raise->model.strand_count; s++) {
    sum += x->raise->share[s] * x->tension[s];
  }
  return sum;
}

// Pulls until something is out of room, with a pause for every knot.
static void pull_through(runner *x) {
  double walked = 0.0;
  for (bool knot = true; knot && x->status == FH_OK;) {
    bool up = take_up(x, &walked) >= 1.0;
    x->hangs = x->hangs || up;
    add_row(x, FH_PHASE_TAKE_UP, x->world->hand, 0.0);
    knot = up && haul(x, &walked);
    if (up) {
      add_row(x, FH_PHASE_HAUL, x->world->hand, 0.0);
    }
    if (knot) {
      set_back(x);
      tie_knot(x);
    }
  }
}

static void note_stroke(runner *x, double height, double stretch) {
  fhi_run *run = x->run;
  double rise = x->height - height, took = run->stretch - stretch;
  run->stretch_first = run->strokes == 1 ? took : run->stretch_first;
  run->stretch_last = took;
  bool last = depth_of(x) <= TINY;
  if (run->rise_first <= 0.0) {
    run->rise_first = rise;
  } else if (!last || run->rise_full <= 0.0) {
    run->rise_full = rise;
  }
  if (!last || run->strokes == 1) {
    memcpy(run->moved_end, x->moved, sizeof x->moved);
  }
}

// @return true while there is something left to do
static bool stroke(runner *x) {
  double height = x->height, stretch = x->run->stretch, started = x->run->time_pull, tight = tightness(x);
  bool hung = x->hangs;
  x->run->strokes++;
  pull_through(x);
  note_stroke(x, height, stretch);
  if (depth_of(x) <= TINY) {
    x->run->done = true;
    return false;
  }
  if (!x->raise->held) {
    x->run->stuck = "no capture holds the load while the rig is reset";
    return false;
  }
  reset(x, x->run->time_pull - started);
  bool gained = x->height > height + 1e-6 || x->hangs != hung || (!x->hangs && tightness(x) > tight + 1e-3);
  if (!gained) {
    x->run->stuck = "a stroke gains nothing: stretch and set-back eat it up";
  } else if (x->run->strokes >= MOST_STROKES) {
    x->run->stuck = "it takes more than 5000 strokes";
    gained = false;
  }
  return gained;
}

fh_band fhi_run_time(const fhi_run *run, const fhi_world *world, bool rests) {
  double t[FHI_CASES];
  for (int i = 0; i < FHI_CASES; i++) {
    t[i] = run[i].time_pull + run[i].time_reset + (rests ? run[i].time_rest : 0.0);
  }
  if (!run[FHI_HARD].done || (rests && world[FHI_HARD].sustained <= 0.0)) {
    t[FHI_HARD] = (double)INFINITY;
  }
  return (fh_band){fmin(fmin(t[FHI_EASY], t[FHI_LIKELY_CASE]), t[FHI_HARD]), t[FHI_LIKELY_CASE], fmax(fmax(t[FHI_EASY], t[FHI_LIKELY_CASE]), t[FHI_HARD])};
}

fh_status fhi_run_raise(const fhi_raise *raise, const fhi_world *world, const fhi_backup *backup, fhi_run *run,
                        fhi_trace *trace) {
  runner x = {.raise = raise, .world = world, .backup = backup, .run = run, .trace = trace, .slack = (double)NAN};
  memset(run, 0, sizeof *run);
  run->block = -1;
  for (int s = 0; s < raise->model.strand_count; s++) {
    x.tension[s] = raise->first_slack[s] ? 0.0 : world->down[s];
  }
  x.hangs = raise->first == FH_FIRST_HAUL_ROPE;
  if (raise->first == FH_FIRST_IN_RIG) {
    const fh_number *slack = &raise->rig->stations[raise->first_to].slack;
    x.slack = fh_number_is_set(*slack) ? slack->likely : 0.0;
  }
  if (x.hangs && raise->capture >= 0) {
    const fhi_contact *k = &raise->model.contacts[raise->capture];
    x.capture_force = fmax(x.tension[k->before], x.tension[k->after]);
  }
  add_row(&x, FH_PHASE_START, 0.0, x.capture_force);
  while (x.status == FH_OK && stroke(&x)) {
  }
  return x.status;
}
