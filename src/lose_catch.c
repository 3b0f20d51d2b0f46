// SPDX-License-Identifier: MIT
// The rope that catches: how stiff it is, how hard it stops the load, what that asks of each piece. Model sections 6 and 9.
//
// The programme's shares say what each taut piece carries of the load's force, t; by work the load sinks by the sum of
// t times the pieces' stretch. So the whole path is one spring: 1/K = sum over pieces of t^2 (length / modulus). Over the
// lip and at bends the rope runs toward the load as it stretches, so what lies beyond carries less by that bend's ratio.
#include <math.h>
#include <string.h>

#include "lose.h"
#include "report.h"
#include "text.h"

// Which end of the ranges: soft and light, likely, stiff and heavy, and stiff and heavy over a smooth lip, where the
// anchor gets most.
enum { LOW, LIKELY, HIGH, SMOOTH, ENDS };

static const double SHARE = 1e-9;  // [1] below this a piece carries nothing
static const double NEAR = 1e-9;   // [m] closer bodies lie in one place
static const double G = 9.80665;   // [m/s^2]

static int world_of(int end) {
  return end == LOW || end == SMOOTH ? FHI_EASY : end == HIGH ? FHI_HARD : FHI_LIKELY_CASE;
}

typedef struct path {
  const fhi_view *view;
  const fhi_pieces *pieces;
  const fhi_drop_answer *answer;
  double weight[ENDS], lip[ENDS];
  double hole[ENDS], surface[ENDS];  // [m/N] share squared times length over modulus; surface as if the lip came before
  double anchor[ENDS];               // [1] pull on the fixed bodies over the load's force
} path;

static double pick(fh_band b, int end) {
  return end == LOW ? b.lo : end == LIKELY ? b.likely : b.hi;
}

static double modulus_of(const path *p, int rope_path, int end) {
  const fhi_raise *r = p->view->raise;
  int rope = rope_path >= 0 ? r->rig->paths[rope_path].rope : -1;
  return pick(fh_rope_fall_modulus(r->scene, r->gear, rope), end);
}

// Where the load's pull enters a piece: at the load, else at its lowest point.
static int entry(const path *p, const fhi_piece *piece) {
  const fhi_drop *d = &p->pieces->drop;
  int best = 0;
  for (int i = 0; i < piece->count; i++) {
    int body = d->body[piece->first + i];
    if (body == FH_BODY_LOAD) {
      return i;
    }
    best = p->answer->at[body] < p->answer->at[d->body[piece->first + best]] ? i : best;
  }
  return best;
}

// A rig that was never worked out has no ratios: its bends count as smooth.
static double bend_ratio(const path *p, int i, int end) {
  const fhi_point *point = &p->view->points[p->pieces->point[i]];
  return point->contact >= 0 ? fmax(1.0, p->view->raise->world[world_of(end)].factor[point->contact]) : 1.0;
}

// Does the rope pull on the anchor there, or on the station that hangs on it?
static bool on_anchor(const path *p, int i) {
  int body = p->view->points[p->pieces->point[i]].body;
  return body == FH_BODY_STATION || body == FH_BODY_ANCHOR;
}

// One segment of a piece, away from the entry. @param carries [1] tension there over the piece's own  @param way the last
// segment's direction, for one without length  @return what it carries beyond
static double add_segment(path *p, int end, double share, double modulus, int from, int to, double carries, double *way) {
  const fhi_drop *d = &p->pieces->drop;
  double a = p->answer->at[d->body[from]], b = p->answer->at[d->body[to]];
  double hole = fmax(0.0, -fmin(a, b)) - fmax(0.0, -fmax(a, b)), surface = fabs(a - b) - hole;
  bool over = (a < 0.0) != (b < 0.0);
  double before = carries, after = over && a < 0.0 ? carries / p->lip[end] : carries;
  p->hole[end] += share * share * before * hole / modulus;
  p->surface[end] += share * share * after * surface / modulus;
  // Pulls on what stands still: toward the hole counts.
  *way = b > a + NEAR ? 1.0 : b < a - NEAR ? -1.0 : *way;
  p->anchor[end] += on_anchor(p, from) ? -*way * share * before : 0.0;
  p->anchor[end] += on_anchor(p, to) ? *way * share * after : 0.0;
  return after;
}

static void add_piece(path *p, int index, int end) {
  const fhi_piece *piece = &p->pieces->drop.pieces[index];
  double share = p->answer->share[index];
  int start = entry(p, piece);
  double modulus = modulus_of(p, p->view->points[p->pieces->point[piece->first]].path, end);
  for (int way = -1; way <= 1; way += 2) {
    double carries = 1.0, toward = 1.0;
    for (int i = start; i + way >= 0 && i + way < piece->count; i += way) {
      int from = piece->first + i, to = from + way;
      if (i != start) {
        carries /= bend_ratio(p, from, end);
      }
      carries = add_segment(p, end, share, modulus, from, to, carries, &toward);
    }
  }
}

static void fill_path(path *p) {
  const fh_scene *s = p->view->raise->scene;
  fh_band mass = fh_number_band(s->load_mass), mu = fh_number_band(s->lip_friction), turn = fh_number_band(s->lip_turn);
  for (int end = 0; end < ENDS; end++) {
    if (p->view->raise->exact && end != LIKELY) {
      continue;  // they would be the same
    }
    p->weight[end] = G * pick(mass, end);
    p->lip[end] = 1.0;
    int lip_end = end == SMOOTH ? LOW : end;
    (void)fh_edge_ratio(pick(mu, lip_end), pick(turn, lip_end), &p->lip[end]);
    p->hole[end] = p->surface[end] = p->anchor[end] = 0.0;
    for (int i = 0; i < p->pieces->drop.piece_count; i++) {
      if (p->answer->share[i] > SHARE) {
        add_piece(p, i, end);
      }
    }
  }
}

// A rope without length would stop a fall at once: a hand's breadth of it is the least that there is.
static double compliance(const path *p, int end) {
  return fmax(p->hole[end] + p->surface[end], 0.1 / modulus_of(p, 0, end));
}

static double peak(const path *p, double fall, int end) {
  return fall < 0.0 ? p->weight[end] : fh_rope_catch(p->weight[end], 1.0 / compliance(p, end), fall, 1.0);
}

// The same by steps in time: one rope with hole and surface parts, modulus 1, lengths in m/N.
static double simulated(const path *p, double fall) {
  double lip = p->lip[LIKELY], hole = p->hole[LIKELY], surface = p->surface[LIKELY] * lip;
  fh_catch_in in = {.weight = p->weight[LIKELY], .fall = fmax(fall, 0.0), .modulus = 1.0, .hole = hole, .surface = surface, .lip = lip};
  fh_catch out;
  if (fall < 0.0) {
    return p->weight[LIKELY];
  }
  if (hole + surface / lip < compliance(p, LIKELY)) {
    in.hole = compliance(p, LIKELY);
    in.surface = 0.0;
  }
  return fh_catch_simulate(&in, 100, &out) == FH_OK ? out.peak : (double)NAN;
}

// ---------------------------------------------------------------------------------------------------- limits

typedef struct ledger {
  const path *path;
  fhi_caught *caught;
  double force;  // [N] at the load, high end
} ledger;

static void say_over(ledger *l, double force, fh_number limit, const char *what, const char *name) {
  fhi_caught *c = l->caught;
  char text[FH_ELEMENT];
  if (!fh_number_is_set(limit) || !(force > limit.lo)) {
    return;
  }
  (void)fhi_format(text, sizeof text, "%s%s", what, name);
  for (int i = 0; i < c->over_count; i++) {
    if (strcmp(c->over[i], text) == 0) {
      return;
    }
  }
  if (c->over_count < FH_MAX_OVER) {
    (void)fhi_copy(c->over[c->over_count++], FH_ELEMENT, text);
  }
}

static fh_number figure(const ledger *l, int item, const char *what) {
  return fh_gear_figure(l->path->view->raise->gear, item, what, NULL);
}

static int rope_kind(const ledger *l, int rope_path) {
  const fhi_raise *r = l->path->view->raise;
  int rope = rope_path >= 0 ? r->rig->paths[rope_path].rope : -1;
  return rope >= 0 ? r->scene->ropes[rope].kind : fh_gear_find(r->gear, "half");
}

static const char *part_name(const fhi_view *v, int part) {
  return part >= 0 ? v->parts->list[part].name : "";
}

// What holds the end of a taut piece that pulls with `force`.
static void end_limits(ledger *l, const fhi_point *p, double force) {
  const fhi_view *v = l->path->view;
  const char *name = part_name(v, p->part);
  const fhi_raise *r = v->raise;
  bool grip = p->part >= 0 && v->parts->list[p->part].kind == FH_ELEMENT_GRIP;
  if (grip) {
    int item = r->rig->grips[v->parts->list[p->part].index].item;
    bool wet = r->scene->wet || (r->rig->paths[p->path].rope >= 0 && r->scene->ropes[r->rig->paths[p->path].rope].wet);
    fh_number slip = wet ? figure(l, item, "slip_wet_N") : fh_number_unset();
    say_over(l, force, fh_number_is_set(slip) ? slip : figure(l, item, "slip_N"), "", name);
    say_over(l, force, figure(l, item, "sheath_N"), "rope sheath at ", name);
  } else if (p->what == FHI_AT_LOCK) {
    int item = r->model.contacts[p->contact].item;
    say_over(l, force, figure(l, item, "sheath_N"), "rope sheath at ", name);
    say_over(l, force, figure(l, item, "strength_N"), "", name);
  } else if (p->what == FHI_AT_TIE) {
    say_over(l, force, figure(l, rope_kind(l, p->path), "knotted_N"), "", p->part >= 0 ? name : "knot of the first line");
  }
}

static void piece_limits(ledger *l, int index) {
  const path *p = l->path;
  const fhi_piece *piece = &p->pieces->drop.pieces[index];
  double force = l->force * p->answer->share[index];
  for (int i = 0; i < piece->count; i++) {
    const fhi_point *point = &p->view->points[p->pieces->point[piece->first + i]];
    if (i == 0 || i == piece->count - 1) {
      end_limits(l, point, force);
    } else if (point->contact >= 0) {
      say_over(l, 2.0 * force, figure(l, p->view->raise->model.contacts[point->contact].item, "strength_N"), "",
               part_name(p->view, point->part));
    }
  }
}

static void find_limits(const path *p, fhi_caught *caught) {
  const fhi_raise *r = p->view->raise;
  ledger l = {p, caught, caught->peak.hi};
  for (int i = 0; i < p->pieces->drop.piece_count; i++) {
    if (p->answer->share[i] > SHARE) {
      piece_limits(&l, i);
    }
  }
  fhi_anchor_limits(r, -1, caught->anchor.hi, caught);
  say_over(&l, caught->peak.hi, figure(&l, fh_gear_find(r->gear, "sit-harness"), "strength_N"), "", "harness of the load");
}

// ---------------------------------------------------------------------------------------------------- who catches

// Captures, then what else ends a rope on something fixed, then bends there: two moving blocks on one rope can hang on a bend.
enum { LOCKS, ENDS_OF_ROPE, BENDS, WAYS };

static bool holds_point(const fhi_view *v, const fhi_point *p, int way) {
  bool fixed = p->body == FH_BODY_STATION || p->body == FH_BODY_ANCHOR;
  switch (way) {
  case LOCKS: return fixed && p->what == FHI_AT_LOCK;
  case ENDS_OF_ROPE: return (fixed && p->what == FHI_AT_TIE) || (p->what == FHI_AT_HAND && v->hands);
  default: return fixed && (p->what == FHI_AT_RUN || p->what == FHI_AT_LOCK);
  }
}

static void add_hold(const fhi_view *v, int point, int way, fhi_caught *c) {
  if (!holds_point(v, &v->points[point], way)) {
    return;
  }
  for (int i = 0; i < c->hold_count; i++) {
    if (c->holds[i] == point) {
      return;
    }
  }
  const char *name = v->points[point].what == FHI_AT_HAND ? "hands" : part_name(v, v->points[point].part);
  size_t used = strlen(c->by);
  (void)fhi_format(c->by + used, sizeof c->by - used, "%s%s", used > 0 ? " and " : "", name);
  c->holds[c->hold_count++] = point;
}

static void find_holds(const path *p, fhi_caught *c) {
  c->by[0] = '\0';
  c->hold_count = 0;
  for (int way = 0; way < WAYS && (way < BENDS || c->hold_count == 0); way++) {
    for (int i = 0; i < p->pieces->drop.piece_count; i++) {
      const fhi_piece *piece = &p->pieces->drop.pieces[i];
      for (int k = 0; k < piece->count && p->answer->share[i] > SHARE; k++) {
        if (way == BENDS || k == 0 || k == piece->count - 1) {
          add_hold(p->view, p->pieces->point[piece->first + k], way, c);
        }
      }
    }
  }
}

static void fill_exact(const path *p, double fall, fhi_caught *caught) {
  double force = peak(p, fall, LIKELY), anchor = fabs(force * p->anchor[LIKELY]);
  caught->peak = (fh_band){force, force, force};
  caught->anchor = (fh_band){anchor, anchor, anchor};
  caught->simulated = (double)NAN;
  caught->by[0] = '\0';
  caught->hold_count = 0;
}

void fhi_catch_fill(const fhi_view *view, const fhi_pieces *pieces, const fhi_drop_answer *answer, double fall, bool limits,
                    fhi_caught *caught) {
  path p = {.view = view, .pieces = pieces, .answer = answer};
  fill_path(&p);
  caught->over_count = 0;
  if (view->raise->exact) {
    fill_exact(&p, fall, caught);
    if (limits) {
      find_limits(&p, caught);
    }
    return;  // names and steps in time are for the one answer that is shown
  }
  caught->peak = (fh_band){peak(&p, fall, LOW), peak(&p, fall, LIKELY), peak(&p, fall, HIGH)};
  // Between the two ends friction only widens it; pulls away from the hole, as odd rigs have them, count by their size.
  double likely = fabs(caught->peak.likely * p.anchor[LIKELY]);
  caught->anchor.likely = likely;
  caught->anchor.lo = fmin(likely, fmin(fabs(caught->peak.lo * p.anchor[LOW]), fabs(caught->peak.lo * p.anchor[HIGH])));
  caught->anchor.hi = fmax(likely, fmax(fabs(peak(&p, fall, SMOOTH) * p.anchor[SMOOTH]), fabs(caught->peak.hi * p.anchor[HIGH])));
  caught->simulated = simulated(&p, fall);
  if (limits) {
    find_limits(&p, caught);
  }
  find_holds(&p, caught);
}
