// SPDX-License-Identifier: MIT
// What a raise in time needs of a rig: tensions up and down, hand travel per stretch, captures, the line that held before.
// Implements model.md, sections 3, 4 and 7.
#include <math.h>
#include <string.h>

#include "crew.h"
#include "haul.h"
#include "linear.h"
#include "memory.h"
#include "text.h"
#include "words.h"

static const double G = 9.80665;  // [m/s^2] standard gravity

// Pivots of a sound rig are sums of a few +1 and -1.
static const double SINGULAR = 1e-9;

// Below this share of the weight a tension is nothing.
static const double ROUNDING = 1e-9;

// ---------------------------------------------------------------------------------------------------- first line

static bool fixed_tie(const fh_station *st) {
  return st->kind == FH_TIE && (st->body == FH_BODY_STATION || st->body == FH_BODY_ANCHOR);
}

static bool load_tie(const fh_station *st) {
  return st->kind == FH_TIE && st->body == FH_BODY_LOAD;
}

// From one tie to the next with nothing but edges between. @return the next tie's index in the path, or -1
static int plain_to(const fh_rig *rig, const fh_path *p, int from) {
  for (int i = from + 1; i < p->count; i++) {
    fh_station_kind kind = rig->stations[p->first + i].kind;
    if (kind == FH_TIE) {
      return i;
    }
    if (kind != FH_EDGE) {
      return -1;
    }
  }
  return -1;
}

// Better: marked slack over taut. A taut strand beside the haul line cannot be hauled, so it is rare.
void fhi_first_line_find(const fh_rig *rig, fh_first_line *kind, int *path, int *from, int *to) {
  *kind = FH_FIRST_OUTSIDE;
  *path = *from = *to = -1;
  bool found_slack = false;
  for (int p = 0; p < rig->path_count; p++) {
    const fh_path *line = &rig->paths[p];
    for (int i = 0; i < line->count; i++) {
      const fh_station *a = &rig->stations[line->first + i];
      int j = a->kind == FH_TIE ? plain_to(rig, line, i) : -1;
      const fh_station *b = j >= 0 ? &rig->stations[line->first + j] : NULL;
      if (b == NULL || !((load_tie(a) && fixed_tie(b)) || (fixed_tie(a) && load_tie(b)))) {
        continue;
      }
      bool slack = fh_number_is_set(b->slack) && b->slack.likely > 0.0;
      if (*kind != FH_FIRST_IN_RIG || (slack && !found_slack)) {
        *kind = FH_FIRST_IN_RIG;
        *path = p;
        *from = line->first + i;
        *to = line->first + j;
        found_slack = slack;
      }
    }
  }
  for (int p = 0; p < rig->path_count && *kind == FH_FIRST_OUTSIDE; p++) {
    if (rig->paths[p].count > 0 && load_tie(&rig->stations[rig->paths[p].first])) {
      *kind = FH_FIRST_HAUL_ROPE;
      *path = p;
    }
  }
}

// ---------------------------------------------------------------------------------------------------- pieces of rope

// A piece runs from one point that holds the rope to the next. Slack strands belong to none.
static void number_pieces(fhi_raise *r) {
  const fhi_model *m = &r->model;
  r->piece_count = 0;
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    if (st->slack) {
      r->piece[s] = -1;
      continue;
    }
    bool goes_on = st->end[0].kind == FHI_END_CONTACT && s > 0 && r->piece[s - 1] >= 0;
    r->piece[s] = goes_on ? r->piece[s - 1] : r->piece_count++;
  }
}

static int unknowns(const fhi_raise *r) {
  return r->model.body_count - FH_BODY_FIRST_GRIP + 1;  // the hand, then the grip bodies
}

static int column(int body) {
  return body - FH_BODY_FIRST_GRIP + 1;
}

// One row a piece: how much longer its strands become as bodies and hand move; it has to equal the piece's stretch.
static void fill_rows(const fhi_raise *r, double *a, int n) {
  const fhi_model *m = &r->model;
  memset(a, 0, (size_t)(n * n) * sizeof *a);
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    for (int e = 0; e < 2 && r->piece[s] >= 0; e++) {
      double *row = a + r->piece[s] * n;
      if (st->end[e].kind == FHI_END_HAND) {
        row[0] += 1.0;
      } else if (st->end[e].body >= FH_BODY_FIRST_GRIP) {
        row[column(st->end[e].body)] += e == 1 ? st->dir : -st->dir;
      }
    }
  }
}

// The system of section 3 with the load at rest and one piece as source, for every piece.
static void solve_pieces(fhi_raise *r) {
  double a[(FH_MAX_GRIPS + 1) * (FH_MAX_GRIPS + 1)], b[FH_MAX_GRIPS + 1];
  int n = unknowns(r);
  number_pieces(r);
  r->single = r->piece_count == n && n <= FH_MAX_GRIPS + 1;
  for (int p = 0; p < r->piece_count && r->single; p++) {
    fill_rows(r, a, n);
    memset(b, 0, sizeof b);
    b[p] = 1.0;
    r->single = fhi_linear_solve(a, b, n, n, SINGULAR);
    for (int k = 0; k < n; k++) {
      r->answer[p * n + k] = b[k];
    }
  }
}

// Where tensions hang together (redundant ropes) a stretch has no single answer: work without friction then gives the
// hand's part, w = t / F of the ideal rig, and the bodies are taken to stay.
static void take_up_by_work(const fhi_raise *r, const double *stretch, fhi_take_up *out) {
  double one[FHI_MAX_CONTACTS], t[FH_MAX_STRANDS];
  for (int c = 0; c < r->model.contact_count; c++) {
    one[c] = 1.0;
  }
  if (fhi_raise_tensions(r, one, t) && t[r->model.hand_strand] > 0.0) {
    for (int s = 0; s < r->model.strand_count; s++) {
      out->hand += stretch[s] * t[s] / t[r->model.hand_strand];
    }
  }
}

void fhi_raise_take_up(const fhi_raise *r, const double *stretch, fhi_take_up *out) {
  const fhi_model *m = &r->model;
  int n = unknowns(r);
  memset(out, 0, sizeof *out);
  if (!r->single) {
    take_up_by_work(r, stretch, out);
    return;
  }
  for (int s = 0; s < m->strand_count; s++) {
    const double *z = r->answer + (r->piece[s] >= 0 ? r->piece[s] : 0) * n;
    if (r->piece[s] < 0 || stretch[s] == 0.0) {
      continue;
    }
    out->hand += stretch[s] * z[0];
    for (int b = FH_BODY_FIRST_GRIP; b < m->body_count; b++) {
      out->body[b] += stretch[s] * z[column(b)];
    }
  }
  // Rope through each contact, from the piece's held start on: q_after = q_before - growth + stretch.
  double q = 0.0;
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *st = &m->strands[s];
    double growth = 0.0;
    q = s > 0 && r->piece[s] >= 0 && r->piece[s] == r->piece[s - 1] ? q : 0.0;
    for (int e = 0; e < 2; e++) {
      growth += st->end[e].body >= FH_BODY_FIRST_GRIP ? (e == 1 ? st->dir : -st->dir) * out->body[st->end[e].body] : 0.0;
    }
    if (r->piece[s] >= 0 && st->end[1].kind == FHI_END_CONTACT) {
      q += stretch[s] - growth;
      out->passed[st->end[1].contact] = q;
    }
  }
}

// ---------------------------------------------------------------------------------------------------- tensions

bool fhi_raise_tensions(const fhi_raise *r, const double *factor, double *tension) {
  const fhi_model *m = &r->model;
  double residual;
  if (!r->motion.coupled) {
    fhi_shape shape;
    fhi_shape_in_line(m, &shape);
    return fhi_force_solve(m, &r->motion, 1, factor, &shape, 0, tension, &residual) == FH_OUTCOME_SOLVED;
  }
  fhi_form form;
  memset(&form, 0, sizeof form);
  form.of[m->hand_strand] = 1.0;
  fhi_rest_begin(r->rest, 1, factor);
  return fhi_rest_largest(r->rest, &form, tension, &residual);
}

// With the captures locked, without friction and with it.
static void find_holding(fhi_raise *r, fhi_rest *rest) {
  const fhi_model *m = &r->model;
  double one[FHI_MAX_CONTACTS], residual, t[FH_MAX_STRANDS];
  fhi_form none;
  memset(&none, 0, sizeof none);
  for (int c = 0; c < m->contact_count; c++) {
    one[c] = 1.0;
  }
  fhi_rest_begin(rest, 0, one);
  r->held = fhi_rest_largest(rest, &none, t, &residual);
  if (!r->held) {
    fhi_rest_begin(rest, 0, r->world[FHI_HARD].factor);
    r->friction_holds = fhi_rest_largest(rest, &none, t, &residual);
    return;
  }
  r->friction_holds = true;
  double most = 0.0;
  for (int s = 0; s < m->strand_count; s++) {
    r->share[s] = t[s] > ROUNDING ? t[s] : 0.0;
  }
  for (int c = 0; c < m->contact_count; c++) {
    const fhi_contact *k = &m->contacts[c];
    double holds = k->capture ? fabs(t[k->before] - t[k->after]) : 0.0;
    if (holds > most + ROUNDING) {
      most = holds;
      r->capture = c;
    }
  }
}

// The strand on the load side of the capture that bears.
static int held_strand(const fhi_raise *r) {
  const fhi_contact *k = &r->model.contacts[r->capture];
  return r->share[k->before] >= r->share[k->after] ? k->before : k->after;
}

// Rope that rests both while the load rises and while it sinks keeps what it had as far as friction lets it.
static void keep_dead(const fhi_raise *r, fhi_world *w) {
  for (int s = 0; s < r->model.strand_count; s++) {
    int c = r->motion.dead_by[s];
    if (c >= 0 && w->down[s] > 0.0) {
      const fhi_contact *k = &r->model.contacts[c];
      double beside = w->down[k->before == s ? k->after : k->before];
      w->down[s] = fmin(fmax(w->up[s], beside / w->factor[c]), beside * w->factor[c]);
    }
  }
}

// With the captures locked and about to let rope back: friction helps as much as it can.
static void find_down(const fhi_raise *r, fhi_rest *rest, fhi_world *w) {
  fhi_form form;
  double residual;
  if (r->capture < 0) {
    return;
  }
  memset(&form, 0, sizeof form);
  form.of[held_strand(r)] = -1.0;
  fhi_rest_begin(rest, 0, w->factor);
  if (!fhi_rest_largest(rest, &form, w->down, &residual)) {
    memset(w->down, 0, sizeof w->down);
  }
  for (int s = 0; s < r->model.strand_count; s++) {
    w->down[s] *= r->share[s] > 0.0 ? w->weight : 0.0;
  }
  keep_dead(r, w);
}

// ---------------------------------------------------------------------------------------------------- worlds

static double pick(fh_band b, int world, bool high_is_hard) {
  return world == FHI_LIKELY_CASE ? b.likely : (world == FHI_HARD) == high_is_hard ? b.hi : b.lo;
}

static double worst_set_back(const fhi_raise *r, int world) {
  double worst = 0.0;
  for (int c = 0; c < r->model.contact_count; c++) {
    const fhi_contact *k = &r->model.contacts[c];
    fh_number n = k->capture ? fh_gear_figure(r->gear, k->item, "set_back_m", NULL) : fh_number_unset();
    if (k->capture && c == r->capture && fh_number_is_set(n)) {
      worst = fmax(worst, pick(fh_number_band(n), world, true));
    }
  }
  return worst;
}

static void fill_world(fhi_raise *r, const fhi_factors *f, int which, fhi_world *w) {
  const fh_scene *s = r->scene;
  int crew = fh_gear_find(r->gear, "crew");
  fh_band mass = fh_number_band(s->load_mass);
  w->weight = G * pick(mass, which, true);
  w->depth = pick(fh_number_band(s->depth), which, true);
  for (int c = 0; c < r->model.contact_count; c++) {
    w->factor[c] = which == FHI_LIKELY_CASE ? f->likely[c] : which == FHI_HARD ? f->hi[c] : f->lo[c];
  }
  for (int k = 0; k < r->model.strand_count; k++) {
    int rope = r->rig->paths[r->model.strands[k].path].rope;
    w->modulus[k] = pick(fh_rope_static_modulus(s, r->gear, rope), which, false);
  }
  w->reset_time = pick(fh_number_band(s->reset_time), which, true);
  w->walk = pick(fh_number_band(s->walk_speed), which, false);
  w->power_minutes = pick(fh_number_band(fh_gear_figure(r->gear, crew, "power_minutes_W", NULL)), which, false);
  w->power_hour = pick(fh_number_band(fh_gear_figure(r->gear, crew, "power_W", NULL)), which, false);
  int rope = r->rig->paths[r->model.strands[r->model.hand_strand].path].rope;
  fh_pull pull = fhi_crew_pull(s, r->gear, r->model.hand_dir < 0 ? FH_TOWARD_LIP : FH_TOWARD_BACK,
                               fhi_rope_diameter(s, r->gear, rope));
  w->sustained = pick(pull.sustained, which, false);
}

static bool fill_up(fhi_raise *r, fhi_world *w) {
  if (!fhi_raise_tensions(r, w->factor, w->up)) {
    return false;
  }
  for (int s = 0; s < r->model.strand_count; s++) {
    w->up[s] *= w->weight;
  }
  w->hand = w->up[r->model.hand_strand];
  return w->hand > 0.0;
}

// Before the first pull the load hangs on the first line. Tied-off haul rope: its load side is taut already.
static void find_first_slack(fhi_raise *r) {
  for (int s = 0; s < r->model.strand_count; s++) {
    bool was_taut = r->first == FH_FIRST_HAUL_ROPE && r->share[s] > 0.0;
    r->first_slack[s] = !was_taut;
  }
}

// Where nothing is open the likely world is worked out, and the other two are it.
static bool skips(const fhi_raise *r, int world) {
  return r->exact && world != FHI_LIKELY_CASE;
}

static void share_world(fhi_raise *r) {
  if (r->exact) {
    r->world[FHI_EASY] = r->world[FHI_HARD] = r->world[FHI_LIKELY_CASE];
  }
}

static fh_status fill_worlds(fhi_raise *r) {
  fhi_factors *f = fhi_alloc(1, sizeof *f);
  if (f == NULL) {
    return FH_ERR_MEMORY;
  }
  fhi_factors_fill(&r->model, r->scene, f);
  for (int i = 0; i < FHI_CASES; i++) {
    if (!skips(r, i)) {
      fill_world(r, f, i, &r->world[i]);
    }
  }
  fhi_free(f);
  return FH_OK;
}

static fh_status prepare(fhi_raise *r) {
  // Once, so that no later answer depends on whether there is memory.
  fhi_rest *rest = r->rest = fhi_rest_create(&r->model, &r->motion);
  if (rest == NULL) {
    return FH_ERR_MEMORY;
  }
  for (int i = 0; i < FHI_CASES && r->outcome == FH_OUTCOME_SOLVED; i++) {
    if (!skips(r, i) && !fill_up(r, &r->world[i])) {
      r->outcome = FH_OUTCOME_INFEASIBLE;
      (void)fhi_copy(r->why, sizeof r->why, fhi_say(r->scene->language, "the forces have no answer: some strand would have to push"));
    }
  }
  share_world(r);
  if (r->only_tensions) {
    return FH_OK;
  }
  find_holding(r, rest);
  for (int i = 0; i < FHI_CASES; i++) {
    if (!skips(r, i)) {
      r->world[i].set_back = worst_set_back(r, i);
      find_down(r, rest, &r->world[i]);
    }
  }
  share_world(r);
  solve_pieces(r);
  find_first_slack(r);
  return FH_OK;
}

typedef enum raise_kind { RANGES, EXACT, TENSIONS } raise_kind;

static fh_status create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, raise_kind kind, const fhi_backup *backup, fhi_raise **out) {
  fhi_raise *r = fhi_alloc(1, sizeof *r);
  if (r == NULL) {
    return FH_ERR_MEMORY;
  }
  r->exact = kind == EXACT;
  r->only_tensions = kind == TENSIONS;
  r->backup = backup;
  r->scene = scene;
  r->gear = gear;
  r->rig = rig;
  r->capture = -1;
  r->outcome = FH_OUTCOME_INFEASIBLE;
  fhi_first_line_find(rig, &r->first, &r->first_path, &r->first_from, &r->first_to);
  fhi_raise_points(r);
  fh_status status = FH_OK;
  if (fhi_model_compile(scene, gear, rig, &r->model, r->why, sizeof r->why)) {
    fhi_motion_solve(rig, &r->model, &r->motion);
    r->outcome = r->motion.outcome;
    (void)fhi_copy(r->why, sizeof r->why, r->motion.why);
    status = fill_worlds(r);
    status = status == FH_OK && r->motion.outcome == FH_OUTCOME_SOLVED ? prepare(r) : status;
  }
  if (r->motion.outcome == FH_OUTCOME_UNRESOLVED) {
    status = FH_ERR_MEMORY;  // the motion gives up only for want of memory
  }
  if (status != FH_OK) {
    fhi_raise_destroy(r);
    return status;
  }
  *out = r;
  return FH_OK;
}

fh_status fhi_raise_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fhi_raise **out) {
  return create(scene, gear, rig, RANGES, NULL, out);
}

fh_status fhi_raise_create_tensions(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fhi_raise **out) {
  return create(scene, gear, rig, TENSIONS, NULL, out);
}

fh_status fhi_raise_create_exact(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fhi_backup *backup, fhi_raise **out) {
  return create(scene, gear, rig, EXACT, backup, out);
}

void fhi_raise_destroy(fhi_raise *raise) {
  if (raise != NULL) {
    fhi_rest_destroy(raise->rest);
  }
  fhi_free(raise);
}

double fhi_strand_length(const fhi_raise *r, int strand, double depth, const double *moved) {
  const fhi_strand *st = &r->model.strands[strand];
  double s[2];
  for (int e = 0; e < 2; e++) {
    int body = st->end[e].body;
    if (st->end[e].kind == FHI_END_HAND || st->end[e].kind == FHI_END_LOOSE) {
      return 0.0;  // an end in the hand or loose has no length of its own
    }
    s[e] = body == FH_BODY_LOAD ? -depth : body >= 0 ? st->end[e].s + moved[body] : 0.0;
  }
  return fabs(s[1] - s[0]);
}
