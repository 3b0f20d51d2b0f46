// SPDX-License-Identifier: MIT
// What must be true of every rig, whatever it is? Hundreds of random rigs, each asked twice: as it is, and changed in a
// way whose effect is known without any equation. Rigs: tests/refs/common/random_rig.h.
#include "fh_test.h"

#include "../refs/common/rng.c"

#include "../refs/common/build.c"
#include "../refs/common/known.c"
#include "../refs/common/random_rig.c"

static fh_gear *gear;
static ref_items items;

static int find_gear(void **state) {
  (void)state;
  return fh_gear_create(&gear) == FH_OK && ref_items_find(gear, &items) ? 0 : -1;
}

static int drop_gear(void **state) {
  (void)state;
  fh_gear_destroy(gear);
  return 0;
}

static fh_check *work_out(const fh_scene *s, bool ranges) {
  fh_check *c = NULL;
  fh_check_opts opts = fh_check_opts_default();
  opts.lower = true;
  opts.ranges = ranges;
  assert_status(fh_check_create(s, gear, &s->rig, &opts, &c), FH_OK);
  return c;
}

static bool works(const fh_check *c) {
  return c->outcome == FH_OUTCOME_SOLVED;
}

static fh_scene *random_scene(uint64_t seed, bool lossless) {
  ref_wish wish = ref_wish_default();
  wish.spoil = 0.0;
  wish.lossless = lossless;
  fh_scene *s = ref_random_make(seed, &items, &wish);
  assert_non_null(s);
  return s;
}

// Calls `judge` for the first `wanted` random rigs that work, with the scene and its answer.
typedef void (*judge_fn)(fh_scene *s, const fh_check *c, ref_rng *rng);

static void for_rigs(uint64_t from, int wanted, bool lossless, judge_fn judge) {
  ref_rng rng = ref_rng_seed(from);
  int done = 0;
  for (uint64_t seed = from; done < wanted; seed++) {
    assert_true(seed < from + (uint64_t)wanted * 10);  // at least one in ten works
    fh_scene *s = random_scene(seed, lossless);
    fh_check *c = work_out(s, false);
    if (works(c)) {
      judge(s, c, &rng);
      done++;
    }
    fh_check_destroy(c);
    free(s);
  }
}

// Two numbers that come from the same equations in another order: rounding only, against the weight.
static void same(double a, double b, const fh_check *c) {
  if (isinf(a) && isinf(b)) {
    return;
  }
  if (isnan(a) && isnan(b)) {
    return;
  }
  assert_near(a, b, 1e-9 * fmax(c->weight_likely, fabs(b)));
}

static void same_band(fh_band a, fh_band b, double scale, const fh_check *c) {
  same(a.lo, scale * b.lo, c);
  same(a.likely, scale * b.likely, c);
  same(a.hi, scale * b.hi, c);
}

static void judge_doubled(fh_scene *s, const fh_check *c, ref_rng *rng) {
  (void)rng;
  s->load_mass = exact(2.0 * s->load_mass.likely);
  fh_check *twice = work_out(s, false);
  assert_true(works(twice));
  assert_near(twice->ideal_advantage, c->ideal_advantage, 1e-12 * c->ideal_advantage);
  same_band(twice->hand_force, c->hand_force, 2.0, c);
  for (int state = 0; state < FH_STATE_COUNT; state++) {
    for (int i = 0; i < c->strand_count; i++) {
      same_band(twice->strands[i].tension[state], c->strands[i].tension[state], 2.0, c);
    }
    for (int b = 0; b < c->body_count; b++) {
      same_band(twice->bodies[b].force[state], c->bodies[b].force[state], 2.0, c);
    }
  }
  fh_check_destroy(twice);
}

static void doubling_the_load_doubles_every_force(void **state) {
  (void)state;
  for_rigs(1000, 300, false, judge_doubled);
}

static void judge_bound(fh_scene *s, const fh_check *c, ref_rng *rng) {
  (void)s;
  (void)rng;
  // Rounding of a few dozen operations.
  assert_true(c->actual_advantage.hi <= c->ideal_advantage * (1.0 + 1e-12));
  assert_true(c->actual_advantage.lo <= c->actual_advantage.likely &&
              c->actual_advantage.likely <= c->actual_advantage.hi);
}

static void no_rig_beats_its_ideal(void **state) {
  (void)state;
  for_rigs(2000, 500, false, judge_bound);
}

static void judge_ideal(fh_scene *s, const fh_check *c, ref_rng *rng) {
  (void)s;
  (void)rng;
  assert_near(c->hand_force.likely * c->ideal_advantage, c->weight_likely, 1e-9 * c->weight_likely);
}

static void without_friction_a_rig_is_ideal(void **state) {
  (void)state;
  for_rigs(3000, 300, true, judge_ideal);
}

// With a loss of e at every bend the advantage is ideal less some multiple of e: ten times less loss, ten times nearer.
static void as_friction_goes_to_zero_a_rig_becomes_ideal(void **state) {
  (void)state;
  for (uint64_t seed = 4000; seed < 4300; seed++) {
    fh_scene *s = random_scene(seed, true);
    fh_check *ideal = work_out(s, false);
    double gap[2] = {0.0, 0.0};
    for (int i = 0; i < 2 && works(ideal); i++) {
      for (int k = 0; k < s->rig.station_count; k++) {
        if (s->rig.stations[k].kind == FH_RUN) {
          s->rig.stations[k].efficiency = exact(1.0 - (i == 0 ? 1e-5 : 1e-6));
        }
      }
      fh_check *c = work_out(s, false);
      gap[i] = works(c) ? 1.0 - c->actual_advantage.likely / ideal->ideal_advantage : 0.0;
      fh_check_destroy(c);
    }
    assert_within(gap[1], -1e-12, 0.1 * gap[0] * 1.01 + 1e-12);
    fh_check_destroy(ideal);
    free(s);
  }
}

// The same rig with other names, its bodies, ropes and hitches listed in another order.
typedef struct order {
  int body[FH_MAX_BODIES], path[FH_MAX_PATHS], grip[FH_MAX_GRIPS];
} order;

static void shuffle(int *list, int from, int count, ref_rng *rng) {
  for (int i = 0; i < count; i++) {
    list[i] = i;
  }
  for (int i = count - 1; i > from; i--) {
    int k = from + ref_rng_pick(rng, i - from + 1);
    int keep = list[i];
    list[i] = list[k];
    list[k] = keep;
  }
}

static int new_body(const order *o, int body) {
  return body < 0 ? body : o->body[body];
}

static void rewrite(const fh_rig *from, const order *o, fh_rig *to) {
  memset(to, 0, sizeof *to);
  to->body_count = from->body_count;
  to->grip_count = from->grip_count;
  for (int b = 0; b < from->body_count; b++) {
    snprintf(to->bodies[o->body[b]], FH_NAME, b < FH_BODY_FIRST_GRIP ? "%s" : "other-%s", from->bodies[b]);
  }
  for (int wanted = 0; wanted < from->path_count; wanted++) {
    for (int p = 0; p < from->path_count; p++) {
      if (o->path[p] != wanted) {
        continue;
      }
      fh_path *path = &to->paths[to->path_count++];
      *path = from->paths[p];
      snprintf(path->name, FH_NAME, "line-%d", wanted);
      path->first = to->station_count;
      for (int k = 0; k < path->count; k++) {
        fh_station *st = &to->stations[to->station_count++];
        *st = from->stations[from->paths[p].first + k];
        st->body = new_body(o, st->body);
      }
    }
  }
  for (int g = 0; g < from->grip_count; g++) {
    fh_grip *grip = &to->grips[o->grip[g]];
    *grip = from->grips[g];
    grip->body = new_body(o, grip->body);
    grip->path = o->path[grip->path];
  }
}

static int first_strand(const fh_check *c, int path) {
  for (int i = 0; i < c->strand_count; i++) {
    if (c->strands[i].path == path) {
      return i;
    }
  }
  return -1;
}

static void judge_renamed(fh_scene *s, const fh_check *c, ref_rng *rng) {
  order o;
  shuffle(o.body, FH_BODY_FIRST_GRIP, s->rig.body_count, rng);
  shuffle(o.path, 0, s->rig.path_count, rng);
  shuffle(o.grip, 0, s->rig.grip_count, rng);
  fh_rig kept = s->rig;
  rewrite(&kept, &o, &s->rig);
  fh_check *other = work_out(s, false);
  assert_true(works(other));
  assert_near(other->ideal_advantage, c->ideal_advantage, 1e-9);
  same_band(other->hand_force, c->hand_force, 1.0, c);
  for (int state = 0; state < FH_STATE_COUNT; state++) {
    for (int i = 0; i < c->strand_count; i++) {
      int path = c->strands[i].path;
      int there = first_strand(other, o.path[path]) + i - first_strand(c, path);
      same(other->strands[there].tension[state].lo, c->strands[i].tension[state].lo, c);
      same(other->strands[there].tension[state].hi, c->strands[i].tension[state].hi, c);
    }
    for (int g = 0; g < c->grip_count; g++) {
      same(other->grip_force[o.grip[g]][state].hi, c->grip_force[g][state].hi, c);
    }
  }
  for (int b = 0; b < c->body_count; b++) {
    assert_near(other->bodies[o.body[b]].speed, c->bodies[b].speed, 1e-9);
  }
  fh_check_destroy(other);
}

static void names_and_order_change_nothing(void **state) {
  (void)state;
  for_rigs(5000, 400, false, judge_renamed);
}

// Leads a strand that passes the station straight through a carabiner there. @return false when no strand passes it
static bool lead_through_station(fh_rig *rig, const fh_check *c) {
  for (int i = 0; i < c->strand_count; i++) {
    const fh_strand *t = &c->strands[i];
    double at = c->bodies[FH_BODY_STATION].at;
    bool passes = (t->s_from < at - 0.01 && t->s_to > at + 0.01) || (t->s_to < at - 0.01 && t->s_from > at + 0.01);
    if (!passes || t->to == FH_END_HAND || t->to == FH_END_LOOSE || t->from == FH_END_LOOSE) {
      continue;
    }
    bool outward = t->s_to > t->s_from;
    int place = rig->paths[t->path].first + t->after + 1;
    memmove(&rig->stations[place + 1], &rig->stations[place],
            (size_t)(rig->station_count - place) * sizeof *rig->stations);
    rig->stations[place] = (fh_station){.kind = FH_RUN, .body = FH_BODY_STATION, .item = items.bar};
    rig->stations[place].efficiency = exact(0.5);
    rig->stations[place].efficiency_range = rig->stations[place].friction = rig->stations[place].slack = unset();
    rig->station_count++;
    rig->paths[t->path].count++;
    for (int p = 0; p < rig->path_count; p++) {
      rig->paths[p].first += rig->paths[p].first >= place ? 1 : 0;
    }
    for (int g = 0; g < rig->grip_count; g++) {
      fh_grip *grip = &rig->grips[g];
      bool beyond = grip->after == t->after && (grip->at > at) == outward;
      if (grip->path == t->path && (grip->after > t->after || beyond)) {
        grip->after++;
      }
    }
    return true;
  }
  return false;
}

static int led_through;

static void judge_led_through(fh_scene *s, const fh_check *c, ref_rng *rng) {
  (void)rng;
  if (s->rig.station_count >= FH_MAX_STATIONS || !lead_through_station(&s->rig, c)) {
    return;
  }
  fh_check *split = work_out(s, false);
  assert_true(works(split));
  same_band(split->hand_force, c->hand_force, 1.0, c);
  assert_near(split->ideal_advantage, c->ideal_advantage, 1e-9);
  for (int b = 0; b < c->body_count; b++) {
    assert_near(split->bodies[b].speed, c->bodies[b].speed, 1e-9);
    if (b != FH_BODY_STATION) {
      same_band(split->bodies[b].force[FH_RAISE], c->bodies[b].force[FH_RAISE], 1.0, c);
    }
  }
  fh_check_destroy(split);
  led_through++;
}

static void a_rope_led_straight_through_a_carabiner_feels_nothing(void **state) {
  (void)state;
  led_through = 0;
  for_rigs(6000, 400, false, judge_led_through);
  assert_true(led_through > 100);
}

static int tended;

// An open hitch on a fixed point does nothing while the rig is hauled.
static void judge_tended(fh_scene *s, const fh_check *c, ref_rng *rng) {
  (void)rng;
  for (int i = 0; i < c->strand_count; i++) {
    const fh_strand *t = &c->strands[i];
    bool on_surface = t->s_from >= 0.0 && t->s_to >= 0.0 && t->to != FH_END_HAND && t->to != FH_END_LOOSE;
    if (!on_surface || !t->carries || t->from == FH_END_LOOSE || s->rig.grip_count >= FH_MAX_GRIPS) {
      continue;
    }
    ref_grip(&s->rig, items.hitch, FH_BODY_STATION, t->path, t->after, 0.5 * (t->s_from + t->s_to));
    fh_check *other = work_out(s, false);
    assert_true(works(other));
    same_band(other->hand_force, c->hand_force, 1.0, c);
    assert_near(other->ideal_advantage, c->ideal_advantage, 1e-9);
    fh_check_destroy(other);
    tended++;
    return;
  }
}

static void an_open_hitch_does_nothing_while_hauling(void **state) {
  (void)state;
  tended = 0;
  for_rigs(7000, 300, false, judge_tended);
  assert_true(tended > 100);
}

static fh_number range_around(ref_rng *rng, double value, double least, double most) {
  double lo = fmax(least, value - ref_rng_between(rng, 0.01, 0.2));
  double hi = fmin(most, value + ref_rng_between(rng, 0.01, 0.2));
  return (fh_number){.spread = FH_SPREAD_UNIFORM, .lo = lo, .likely = 0.5 * (lo + hi), .hi = hi};
}

static void sample(fh_number *n, ref_rng *rng) {
  double u = ref_rng_unit(rng);
  // Corners are where extremes are: every other sample sits on one.
  *n = exact(u < 0.25 ? n->lo : u < 0.5 ? n->hi : ref_rng_between(rng, n->lo, n->hi));
}

static void holds(fh_band wide, fh_band one, double weight) {
  double slack = 1e-9 * fmax(weight, fabs(one.hi));
  if (isnan(wide.hi)) {  // nothing holds the load at rest
    assert_nan(one.hi);
    return;
  }
  assert_within(one.lo, wide.lo - slack, REF_INFINITY);
  if (!isinf(wide.hi)) {
    assert_within(one.hi, -REF_INFINITY, wide.hi + slack);
  }
}

static void one_sample(const fh_scene *ranges, const fh_check *wide, ref_rng *rng) {
  static fh_scene s;
  s = *ranges;
  sample(&s.load_mass, rng);
  sample(&s.lip_friction, rng);
  for (int k = 0; k < s.rig.station_count; k++) {
    if (s.rig.stations[k].kind == FH_RUN) {
      sample(&s.rig.stations[k].efficiency, rng);
    }
  }
  fh_check *c = work_out(&s, false);
  if (works(c)) {
    holds(wide->hand_force, c->hand_force, c->weight_likely);
    holds(wide->actual_advantage, c->actual_advantage, 1.0);
    for (int i = 0; i < c->strand_count; i++) {
      holds(wide->strands[i].tension[FH_RAISE], c->strands[i].tension[FH_RAISE], c->weight_likely);
      holds(wide->strands[i].tension[FH_HOLD], c->strands[i].tension[FH_HOLD], c->weight_likely);
    }
    for (int g = 0; g < c->grip_count; g++) {
      holds(wide->grip_force[g][FH_RAISE], c->grip_force[g][FH_RAISE], c->weight_likely);
    }
  }
  fh_check_destroy(c);
}

// Ranges on the mass, the lip and every bend.
static fh_scene *ranged_scene(uint64_t seed, ref_rng *rng) {
  fh_scene *s = random_scene(seed, false);
  s->load_mass = (fh_number){.spread = FH_SPREAD_UNIFORM, .lo = 70.0, .likely = 85.0, .hi = 100.0};
  s->lip_friction = range_around(rng, s->lip_friction.likely, 0.0, 2.0);
  for (int k = 0; k < s->rig.station_count; k++) {
    if (s->rig.stations[k].kind == FH_RUN) {
      s->rig.stations[k].efficiency = range_around(rng, s->rig.stations[k].efficiency.likely, 0.3, 1.0);
    }
  }
  return s;
}

// Where the core says that its bands are the true extremes, every sample inside the given ranges has its answer inside
// them; where it says that it only looked at some corners, nothing is promised. Such rigs must stay few.
static void bands_hold_every_sample(void **state) {
  (void)state;
  ref_rng rng = ref_rng_seed(8);
  int judged = 0, working = 0, exact_ones = 0;
  for (uint64_t seed = 8000; seed < 8200; seed++) {
    fh_scene *s = ranged_scene(seed, &rng);
    fh_check *wide = work_out(s, true);
    working += works(wide) ? 1 : 0;
    exact_ones += works(wide) && wide->interval_exact ? 1 : 0;
    for (int i = 0; i < 12 && works(wide) && wide->interval_exact; i++) {
      one_sample(s, wide, &rng);
      judged++;
    }
    fh_check_destroy(wide);
    free(s);
  }
  assert_true(judged > 500);
  assert_true(10 * exact_ones > 8 * working);
}

// The uncertain numbers of a scene. @return how many
static int uncertain(fh_scene *s, fh_number **out, int most) {
  int n = 0;
  out[n++] = &s->load_mass;
  out[n++] = &s->lip_friction;
  for (int k = 0; k < s->rig.station_count; k++) {
    if (s->rig.stations[k].kind == FH_RUN) {
      if (n == most) {
        return most + 1;
      }
      out[n++] = &s->rig.stations[k].efficiency;
    }
  }
  return n;
}

// ... and they are no wider than they have to be: each end is reached at some corner of the ranges.
static void exact_bands_are_reached_at_a_corner(void **state) {
  (void)state;
  enum { MOST = 6 };
  ref_rng rng = ref_rng_seed(11);
  int judged = 0;
  for (uint64_t seed = 11000; seed < 11150; seed++) {
    fh_scene *s = ranged_scene(seed, &rng);
    fh_number *numbers[MOST + 1], kept[MOST + 1];
    int n = uncertain(s, numbers, MOST);
    fh_check *wide = work_out(s, true);
    bool usable = n <= MOST && works(wide) && wide->interval_exact;
    double lo = REF_INFINITY, hi = 0.0;
    for (int i = 0; i < n && usable; i++) {
      kept[i] = *numbers[i];
    }
    for (int corner = 0; usable && corner < 1 << n; corner++) {
      for (int i = 0; i < n; i++) {
        *numbers[i] = exact((corner >> i) & 1 ? kept[i].hi : kept[i].lo);
      }
      fh_check *c = work_out(s, false);
      usable = works(c);
      lo = fmin(lo, c->hand_force.lo);
      hi = fmax(hi, c->hand_force.hi);
      fh_check_destroy(c);
    }
    if (usable) {
      same(wide->hand_force.lo, lo, wide);
      same(wide->hand_force.hi, hi, wide);
      judged++;
    }
    fh_check_destroy(wide);
    free(s);
  }
  assert_true(judged > 30);
}

static bool all_go_forward(const fh_check *c) {
  for (int b = FH_BODY_FIRST_GRIP; b < c->body_count; b++) {
    if (!(c->bodies[b].speed > 1e-9)) {
      return false;
    }
  }
  return true;
}

static int harder;

static void judge_harder(fh_scene *s, const fh_check *c, ref_rng *rng) {
  if (!all_go_forward(c)) {
    return;
  }
  for (int k = 0; k < s->rig.station_count; k++) {
    fh_station kept = s->rig.stations[k];
    if (kept.kind == FH_RUN) {
      s->rig.stations[k].efficiency = exact(kept.efficiency.likely * ref_rng_between(rng, 0.6, 0.99));
    } else if (kept.kind == FH_EDGE) {
      double mu = kept.friction.spread == FH_SPREAD_EXACT ? kept.friction.likely : s->lip_friction.likely;
      s->rig.stations[k].friction = exact(mu + ref_rng_between(rng, 0.01, 0.3));
    } else {
      continue;
    }
    fh_check *more = work_out(s, false);
    // A rig may also lock for good under more friction; that is no easing.
    assert_true(!works(more) || more->hand_force.hi >= c->hand_force.hi * (1.0 - 1e-9));
    fh_check_destroy(more);
    s->rig.stations[k] = kept;
    harder++;
  }
}

// Along the haul line, where every block goes forward with the load. In general it is not true: see the next test.
static void more_friction_never_eases_the_pull_where_all_blocks_go_forward(void **state) {
  (void)state;
  for_rigs(9000, 500, false, judge_harder);
  assert_true(harder > 1000);
}

// A seven to one with a block that is dragged back toward the lip: b holds the strand from the head to t, which runs that
// way, while b's own rope pulls it the other way. Friction at the turn behind b takes from that pull, and so helps.
//   tie load, edge, head 0, over t 1, turn 2, over b 3, turn 4, over f 5, hand; t on the load's strand, b on 0-1, f on 1-2
static fh_scene *dragged_block(const double *e) {
  fh_scene *s = ref_scene_make(80.0, 0.0, 1.5);
  assert_non_null(s);
  fh_rig *r = &s->rig;
  int t = ref_body(r, "t"), b = ref_body(r, "b"), f = ref_body(r, "f");
  ref_path(r, "main");
  ref_tie(r, FH_BODY_LOAD);
  ref_edge(r);
  ref_run(r, FH_BODY_ANCHOR, items.capture, e[0]);
  ref_run(r, t, items.bar, e[1]);
  ref_run(r, FH_BODY_ANCHOR, items.bar, e[2]);
  ref_run(r, b, items.bar, e[3]);
  ref_run(r, FH_BODY_ANCHOR, items.bar, e[4]);
  ref_run(r, f, items.bar, e[5]);
  ref_hand(r, FH_TOWARD_AUTO);
  ref_grip(r, items.hitch, t, 0, 1, 1.5);
  ref_grip(r, items.hitch, b, 0, 2, 3.0);
  ref_grip(r, items.hitch, f, 0, 3, 5.0);
  return s;
}

// By the method of tensions: 1 at the hand, back to the load. The minus sign is the dragged block's.
static double dragged_advantage(const double *e) {
  double front = 1.0 + e[5] + e[2] * e[3] * e[4] * e[5];
  double back = e[1] * front - e[4] * e[5] * (1.0 + e[3]);
  return e[0] * back + (1.0 + e[1]) * front;
}

static void a_dragged_block_is_the_counter_example(void **state) {
  (void)state;
  double e[6] = {0.53, 0.53, 0.53, 0.53, 0.9, 0.53}, last = 0.0;
  for (int i = 0; i < 5; i++) {
    fh_scene *s = dragged_block(e);
    fh_check *c = work_out(s, false);
    assert_true(works(c));
    assert_near(c->ideal_advantage, 7.0, 1e-12);
    assert_near(c->bodies[FH_BODY_FIRST_GRIP + 1].speed, -1.0, 1e-12);
    assert_close(c->actual_advantage.likely, dragged_advantage(e), 1e-12);
    assert_true(c->actual_advantage.likely > last);  // each step has more friction and pulls easier
    last = c->actual_advantage.likely;
    e[4] -= 0.1;
    fh_check_destroy(c);
    free(s);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(doubling_the_load_doubles_every_force),
      cmocka_unit_test(no_rig_beats_its_ideal),
      cmocka_unit_test(without_friction_a_rig_is_ideal),
      cmocka_unit_test(as_friction_goes_to_zero_a_rig_becomes_ideal),
      cmocka_unit_test(names_and_order_change_nothing),
      cmocka_unit_test(a_rope_led_straight_through_a_carabiner_feels_nothing),
      cmocka_unit_test(an_open_hitch_does_nothing_while_hauling),
      cmocka_unit_test(bands_hold_every_sample),
      cmocka_unit_test(exact_bands_are_reached_at_a_corner),
      cmocka_unit_test(more_friction_never_eases_the_pull_where_all_blocks_go_forward),
      cmocka_unit_test(a_dragged_block_is_the_counter_example),
  };
  return cmocka_run_group_tests(tests, find_gear, drop_gear);
}
