// SPDX-License-Identifier: MIT
// Scores every sound code: pieces where they pull best, places, force, time, rope, margin. Implements model.md, section 13.
#include <math.h>
#include <string.h>

#include "crew.h"
#include "memory.h"
#include "plan.h"
#include "state.h"

// Bound on what one search keeps, so that memory stays below 200 MB whatever the kit.
enum { MOST_CANDIDATES = 1000000 };

static const double G = 9.80665;  // [m/s^2]
static const double LEAST_THROW = 0.25;  // [m] of load rise; a shorter stroke is no stroke (common practice, no source)

typedef struct search {
  const fh_scene *scene;
  const fh_gear *gear;
  const fhi_stock *stock;
  const fhi_search_opts *opts;
  fhi_candidates *found;
  fhi_walk walk;
  fh_status status;
  double weight, lip;             // [N], [1] tension ratio of a pass over the lip
  double weight_hard, lip_hard;   // the same at their hard ends
  double pull[2], keeps[2];       // [N] what the crew can pull, toward the lip and back; for minutes
  double power, walk_speed, reset;
  double length[FH_MAX_ROPES], length_high[FH_MAX_ROPES];  // [m] of the stock's ropes; infinite when not stated
  double holds;                   // [N] anchor, low end
} search;

// One code being scored.
typedef struct score {
  fhi_code code;
  fhi_solved solved;
  double gain;   // load's weight over the hand's pull
} score;

static bool is_loop(int start) {
  return start == FHI_START_LOOP || start == FHI_START_OTHER_LOOP;
}

// Weight held by a hand that pulls with 1. The loop's other strand carries 1/k of the first at the load.
static double gain_of(const fhi_code *code, const fhi_solved *solved, double lip, const double *factor) {
  double below = solved->start[0] / lip;
  return is_loop(code->start) ? below * (1.0 + 1.0 / factor[code->load_piece]) : below;
}

// Hands out the best pieces to the places in every different order, and keeps the order with the least pull.
typedef struct hand_out {
  search *s;
  score *best;
  fhi_code code;
  fhi_solved solved;
  int8_t *place[FHI_ELEMENTS + 1];
  int places, left[FHI_CLASSES];
  bool found;
  int64_t tried;
} hand_out;

static void try_order(hand_out *h, int at) {
  if (at == h->places) {
    h->tried++;
    if (fhi_code_force(&h->code, h->s->stock->factor, &h->solved)) {
      double gain = gain_of(&h->code, &h->solved, h->s->lip, h->s->stock->factor);
      // Equal pulls within rounding keep the first order, so that the answer does not hang on the last bit.
      if (!h->found || gain > h->best->gain * (1.0 + 1e-12)) {
        h->found = true;
        h->best->code = h->code;
        h->best->solved = h->solved;
        h->best->gain = gain;
      }
    }
    return;
  }
  for (int c = 0; c < h->s->stock->classes; c++) {
    if (h->left[c] > 0) {
      h->left[c]--;
      *h->place[at] = (int8_t)c;
      try_order(h, at + 1);
      h->left[c]++;
    }
  }
}

static bool best_order(search *s, const fhi_code *code, const fhi_solved *motion, bool loop, score *best) {
  hand_out h = {.s = s, .best = best, .code = *code, .solved = *motion};
  h.code.start = loop ? FHI_START_LOOP : FHI_START_DIRECT;
  h.code.e[0].piece = (int8_t)s->stock->capture;
  if (s->stock->capture < 0) {
    h.code.tended = 1;
    h.place[h.places++] = &h.code.e[0].piece;
  }
  for (int i = 1; i <= code->n; i++) {
    if (!code->e[i].tie) {
      h.place[h.places++] = &h.code.e[i].piece;
    }
  }
  if (loop) {
    h.place[h.places++] = &h.code.load_piece;
  }
  if (h.places > s->stock->pieces) {
    return false;
  }
  for (int c = 0, need = h.places; c < s->stock->classes; c++) {
    h.left[c] = need < s->stock->count[c] ? need : s->stock->count[c];
    need -= h.left[c];
  }
  try_order(&h, 0);
  s->found->searched += h.tried;
  return h.found;
}

static int count_grips(const fhi_code *code) {
  int n = 0;
  for (int i = 1; i <= code->n; i++) {
    bool first = code->e[i].on >= 0;
    for (int k = 1; k < i && code->shared; k++) {
      first = first && !(code->e[k].on == code->e[i].on && code->e[k].side == code->e[i].side);
    }
    n += first;
  }
  return n;
}

// @param hangs [N] on the capture when the hands let go
static double grip_margin(const search *s, const fhi_code *code, const fhi_solved *solved, double hand, double hangs) {
  double worst = (double)INFINITY;
  int used = 0, kind = 0;
  if (s->stock->capture < 0) {
    used++;  // the capture's own hitch is taken first
    worst = s->stock->slip[0] / hangs;
  }
  for (int i = 1; i <= code->n; i++) {
    double pull = 0.0;
    bool first = code->e[i].on >= 0;
    for (int k = 1; k <= code->n && first; k++) {
      bool same = k == i || (code->shared && code->e[k].on == code->e[i].on && code->e[k].side == code->e[i].side);
      first = first && !(same && k < i);
      pull += same ? solved->pull[k] : 0.0;
    }
    if (!first) {
      continue;
    }
    while (kind + 1 < s->stock->hitch_kinds && used >= s->stock->hitch_count[kind]) {
      used = 0;
      kind++;
    }
    used++;
    worst = fmin(worst, s->stock->slip[kind] / (pull * hand));
  }
  return worst;
}

// Least limit over force with weight and friction at their hard ends: grips, pieces, capture, anchor.
static double margin_of(const search *s, const fhi_code *code, const fhi_solved *likely) {
  const fhi_stock *stock = s->stock;
  fhi_solved hard = *likely;
  if (!fhi_code_force(code, stock->factor_hard, &hard)) {
    return 0.0;  // with hard friction a strand goes slack: not a rig to rely on
  }
  bool loop = is_loop(code->start);
  double hand = s->weight_hard / gain_of(code, &hard, s->lip_hard, stock->factor_hard);
  // A loop's standing side takes its part: less than the other by the piece at the load.
  double k = loop ? stock->factor_hard[code->load_piece] : 1.0, hangs = s->weight_hard * s->lip_hard * (loop ? k / (1.0 + k) : 1.0);
  double fixed = 0.0, worst = grip_margin(s, code, &hard, hand, hangs);
  for (int i = 0; i <= code->n; i++) {
    double pull = hard.pull[i] * hand;
    fixed += code->e[i].on < 0 ? pull : 0.0;
    worst = code->e[i].tie ? worst : fmin(worst, stock->strength[code->e[i].piece] / pull);
  }
  if (loop) {
    // On the anchor, more by what the lip can hide.
    fixed += hard.start[0] / s->lip_hard / k * s->lip_hard * hand;
    worst = fmin(worst, stock->strength[code->load_piece] / (s->weight_hard * 2.0 * k / (1.0 + k)));
  }
  worst = fmin(worst, stock->capture_sheath / hangs);
  return fmin(worst, s->holds / fmax(fixed, s->weight_hard * s->lip_hard));
}

// Rope on the ground and in the hole, with a metre a knot and one in the hand, as stroke.c counts it.
// @return false when the strands that carry do not fit a rope by themselves: such a rig is no scene's
static bool ropes_of(const search *s, const fhi_code *code, const fhi_placed *placed, fhi_candidate *c) {
  double depth = s->scene->depth.likely, anchor = s->scene->anchor_at.likely, need[FHI_SEARCH_TIES + 3] = {0.0};
  double down = is_loop(code->start) ? anchor + 2.0 * depth : depth;
  int first = 0;
  bool fits = true;
  double line = depth + anchor + 2.5;  // two knots and the slack
  int main_rope = s->stock->rope_count > 0 ? s->stock->ropes[0] : -1;
  need[0] = main_rope >= 0 ? s->scene->ropes[main_rope].knots : 0.0;
  switch (code->start) {
  case FHI_START_LOOP: need[0] += line + down; break;
  case FHI_START_END: need[0] += line + down + 1.0; break;
  case FHI_START_OTHER_DIRECT: need[0] += line; break;
  case FHI_START_OTHER_LOOP: need[0] += line; break;
  default: need[0] += down + 1.0; break;
  }
  if (code->start == FHI_START_OTHER_DIRECT || code->start == FHI_START_OTHER_LOOP) {
    first = 1;
    need[1] = down + 1.0;
  }
  for (int r = 0; r <= code->ties; r++) {
    bool in_hand = code->hand > 0 ? r == 0 : r == code->ties;
    need[first + r] += placed->rope[r] + (r > 0 ? 1.0 : 0.0) + (in_hand ? 1.0 : 0.0);
  }
  c->rope = c->short_rope = 0.0;
  for (int r = 0; r <= first + code->ties; r++) {
    double length = r < s->stock->rope_count ? s->length[r] : (double)INFINITY;
    c->rope += need[r];
    c->short_rope = fmax(c->short_rope, fmax(need[r] - length, 0.0));
    double carries = r < first ? 0.0 : placed->rope[r - first] + (r == first ? down : 0.0);
    fits = fits && (r >= s->stock->rope_count || carries <= s->length_high[r]);
  }
  return fits;
}

static bool keep(search *s, const fhi_candidate *c) {
  fhi_candidates *f = s->found;
  if (f->count == MOST_CANDIDATES) {
    f->full = true;
    return false;
  }
  if (f->count == f->room) {
    size_t room = f->room == 0 ? 1024 : 2 * f->room;
    fhi_candidate *list = fhi_realloc(f->list, room, sizeof *list);
    if (list == NULL) {
      s->status = FH_ERR_MEMORY;
      return false;
    }
    f->list = list;
    f->room = room;
  }
  f->list[f->count++] = *c;
  return true;
}

// As fhi_tended_alone finds it in the rig: the hitch sits half a clearance in front of the station.
static bool is_untended(const search *s, const fhi_code *code, const fhi_solved *solved, const fhi_placed *placed) {
  int strand = fhi_hand_strand(code);
  if (!code->tended || s->scene->crew_count != 1) {
    return false;
  }
  bool back = fhi_direction(code, strand) > 0;
  double hitch = s->scene->station_at.likely - 0.5 * s->scene->clearance.likely, start = placed->at[strand - 1];
  for (int i = 1; i <= code->n; i++) {
    if (code->e[i].on == strand) {
      start = back ? fmax(start, placed->at[i]) : fmin(start, placed->at[i]);  // the hauler stands behind the last block on the strand
    }
  }
  start = fmax(start, 0.0);
  double end = back ? start + placed->travel * solved->hand : start;
  return fmax(fabs(start - hitch), fabs(end - hitch)) > FHI_TENDS_FAR;
}

// As check counts it: whole strokes and their rests. @param travel [m] of the hand in all  @return [s]
static double quick_time(const search *s, double travel, double rise, double hand, bool back) {
  double strokes = ceil(s->scene->depth.likely / rise - 1e-9), pulling = travel / fmin(s->walk_speed, s->power / hand);
  double rest = pulling / strokes * (hand / s->keeps[back] - 1.0) - s->reset;
  return pulling + (strokes - 1.0) * (s->reset + (rest > 0.0 ? rest : 0.0));
}

static bool score_variant(search *s, score *x) {
  fhi_candidate c = {.code = x->code, .plan = -1};
  fhi_placed placed;
  bool loop = is_loop(x->code.start);
  if (fhi_code_carabiners(&x->code, s->stock) > s->stock->carabiners) {
    return true;  // the kit cannot build it
  }
  double depth = s->scene->depth.likely, per_load = loop ? 2.0 : 1.0;
  if (!fhi_code_place(s->scene, &x->code, &x->solved, per_load * depth, &placed)) {
    return true;
  }
  double rise = placed.travel / per_load, hand = s->weight / x->gain;
  if (rise < LEAST_THROW) {
    return true;
  }
  int back = fhi_direction(&x->code, fhi_hand_strand(&x->code)) > 0;
  c.hand_force = hand;
  c.time = quick_time(s, per_load * x->solved.hand * depth, rise, hand, back);
  c.margin = margin_of(s, &x->code, &x->solved);
  c.share = (hand / s->pull[back]);
  c.pieces = (int8_t)(1 + x->code.n - x->code.ties + loop + count_grips(&x->code) + (s->stock->capture < 0));
  if (!ropes_of(s, &x->code, &placed, &c) && !s->opts->short_ropes) {
    return true;
  }
  c.hands = loop && !s->scene->load_helps;
  c.untended = is_untended(s, &x->code, &x->solved, &placed);
  c.possible = c.short_rope <= 0.0 && (isnan(c.share) || c.share <= 1.0) && c.margin >= 1.0;
  fhi_front_key(&c);
  fhi_near_add(s->found->near, per_load * x->solved.hand, &c);
  if (c.share > 1.0 && c.short_rope <= 0.0 && c.margin >= 1.0 && !c.hands) {
    fhi_unlikely_add(&s->found->unlikely, &c);
  }
  s->found->distinct++;
  return (s->opts->only_possible && !c.possible) || keep(s, &c);
}

// The starts that the ropes allow.
static bool start_allowed(const search *s, int start) {
  const fhi_stock *st = s->stock;
  bool knots = st->rope_count > 0 && s->scene->ropes[st->ropes[0]].knots > 0;
  switch (start) {
  case FHI_START_DIRECT: return !knots;
  case FHI_START_END: return knots;
  case FHI_START_LOOP: return true;
  default: return st->long_ropes > 1;
  }
}

static bool score_starts(search *s, const fhi_code *code, const fhi_solved *motion) {
  score best[2];
  bool ok[2];
  bool any_fixed = false, any_shared = false;
  for (int loop = 0; loop < 2; loop++) {
    ok[loop] = best_order(s, code, motion, loop == 1, &best[loop]);
  }
  for (int i = 1; i <= code->n; i++) {
    any_fixed = any_fixed || code->e[i].on < 0;
    for (int k = 1; k < i; k++) {
      any_shared = any_shared || (code->e[i].on >= 0 && code->e[k].on == code->e[i].on && code->e[k].side == code->e[i].side);
    }
  }
  any_fixed = any_fixed && s->scene->anchor_at.likely > s->scene->station_at.likely + 1e-9;
  s->found->sound += ok[0] || ok[1];
  for (int start = 0; start < FHI_START_COUNT; start++) {
    bool other = start == FHI_START_OTHER_DIRECT || start == FHI_START_OTHER_LOOP;
    // A further rope cannot be both let down and tied on.
    bool ropes = s->stock->rope_count == 0 || code->ties + 1 + other <= s->stock->rope_count;
    score x = best[is_loop(start)];
    if (!ok[is_loop(start)] || !ropes || !start_allowed(s, start)) {
      continue;
    }
    x.code.start = (int8_t)start;
    for (int far = 0; far <= any_fixed; far++) {
      for (int shared = 0; shared <= any_shared; shared++) {
        x.code.far_turns = (int8_t)far;
        x.code.shared = (int8_t)shared;
        if (count_grips(&x.code) <= s->stock->grips && !score_variant(s, &x)) {
          return s->found->full;  // full: go on counting
        }
      }
    }
  }
  return true;
}

static bool visit(void *user, const fhi_code *code, const fhi_solved *motion) {
  search *s = user;
  if (s->opts->progress != NULL && (s->walk.sound & 1023) == 0 &&
      !s->opts->progress(s->opts->user, (double)code->n / FHI_ELEMENTS)) {
    s->found->stopped = true;
    return false;
  }
  return score_starts(s, code, motion);
}

static void prepare(search *s) {
  const fh_scene *scene = s->scene;
  double diameter = fhi_rope_diameter(scene, s->gear, s->stock->rope_count > 0 ? s->stock->ropes[0] : -1);
  fh_number power = fh_gear_figure(s->gear, fh_gear_find(s->gear, "crew"), "power_minutes_W", NULL);
  const double people = scene->crew_count > 0 ? scene->crew_count : 1;
  s->weight = scene->load_mass.likely * G;
  s->lip = 1.0;
  (void)fh_edge_ratio(scene->lip_friction.likely, scene->lip_turn.likely, &s->lip);
  s->weight_hard = scene->load_mass.hi * G;
  s->lip_hard = 1.0;
  (void)fh_edge_ratio(scene->lip_friction.hi, scene->lip_turn.hi, &s->lip_hard);
  for (int back = 0; back < 2; back++) {
    fh_pull pull = fhi_crew_pull(scene, s->gear, back != 0 ? FH_TOWARD_BACK : FH_TOWARD_LIP, diameter);
    s->pull[back] = pull.force.likely;
    s->keeps[back] = pull.sustained.likely;
  }
  s->power = power.likely * people;
  s->walk_speed = scene->walk_speed.likely;
  s->reset = scene->reset_time.likely;
  fh_number holds = scene->anchor_holds;
  if (!fh_number_is_set(holds) && scene->anchor_kind >= 0) {
    holds = fh_gear_figure(s->gear, scene->anchor_kind, "holds_N", NULL);
  }
  s->holds = fh_number_is_set(holds) ? holds.lo : (double)INFINITY;
  for (int r = 0; r < s->stock->rope_count; r++) {
    fh_number length = scene->ropes[s->stock->ropes[r]].length;
    s->length[r] = fh_number_is_set(length) ? length.lo : (double)INFINITY;
    s->length_high[r] = fh_number_is_set(length) ? length.hi : (double)INFINITY;
  }
}

fh_status fhi_search_run(const fh_scene *scene, const fh_gear *gear, const fhi_stock *stock, const fhi_search_opts *opts,
                         fhi_candidates *found) {
  search s = {.scene = scene, .gear = gear, .stock = stock, .opts = opts, .found = found, .status = FH_OK};
  memset(found, 0, sizeof *found);
  found->max_contacts = (int8_t)opts->max_contacts;
  if (stock->grips < 0) {
    return FH_OK;  // nothing that could be the capture
  }
  prepare(&s);
  fhi_walk_bounds(&s.walk, opts->max_contacts, stock->rope_count > 1 ? stock->rope_count - 1 : 0);
  s.walk.max_grips = FHI_ELEMENTS;  // shared grips: counted for each rig
  s.walk.max_pieces = stock->pieces + 1;
  s.walk.visit = visit;
  s.walk.user = &s;
  (void)fhi_walk_all(&s.walk);
  found->searched += s.walk.tried;
  return s.status;
}

bool fhi_candidate_place(const fh_scene *scene, const fhi_stock *stock, const fhi_candidate *candidate, fhi_placed *placed) {
  fhi_solved solved;
  double per_load = is_loop(candidate->code.start) ? 2.0 : 1.0;
  return fhi_code_motion(&candidate->code, &solved) && fhi_code_force(&candidate->code, stock->factor, &solved) &&
         fhi_code_place(scene, &candidate->code, &solved, per_load * scene->depth.likely, placed);
}

void fhi_candidates_clear(fhi_candidates *found) {
  fhi_free(found->list);
  memset(found, 0, sizeof *found);
}
