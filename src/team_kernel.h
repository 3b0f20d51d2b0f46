// SPDX-License-Identifier: MIT
// How does a rope team move when one falls in? Implements model.md, section 11, for FHI_WIDE falls at once. Included by
// team_wide2.c, team_wide4.c and team_wide8.c, which say how wide; all give the same bits.
//
// Bodies on the bent haul line, s < 0 in the hole; pieces of rope between neighbours. The scheme is leapfrog: forces at a whole
// step kick speeds that stand half a step to either side, and speeds carry places from step to step. Nothing may jump within a
// step unweighted, or the error would go with the step instead of its square:
//   friction    in closed form over the kick: it stops a body, holds it, or turns against its way back
//   braking     by the share of the kick after the reaction time; the lip by the share of the kick in the hole
//   damping     by the change of strain over the kick (half a step to either side), whatever happens in between
//   the lip     rope over the lip is two springs in series with Coulomb's law between them: rope passes only while the strain
//               on one side is the bound times that on the other, and then just as much as keeps it there. Each half step
//               finds that state by a return to the bound, in closed form
//   knots       in plain C, for they are rare: team_rope.c
// What still jumps: the lip's friction on the rope of one who is dragged over it.
//
// No branches on a fall's own numbers, except around work that no lane of the group needs.
#include "team_step.h"

#include "team_vec.h"

static const double G = 9.80665;       // [m/s^2]
static const double SHORT = 0.05;      // [m] shortest piece of rope that stretches: the knot at the harness is longer
static const double LONGEST = 120.0;   // [s] as in team_step.c

#define ANY(m) (FHI_LANES(m) != 0)

// ---------------------------------------------------------------------------------------------------- rope over the lip

// Where the unstretched rope must stand on the lip for the strains to keep within the ratio.
//   sliding, taut:  a / (1 + k e) + b / (1 + e) = L, for the strain e on the surface side and k = ratio or 1 / ratio
//   sliding, slack: just so far that the taut side is no longer so
//   resting:        each part stretches for itself
// Lanes whose piece does not pass the lip get harmless numbers.
typedef struct settled {
  fhi_vec over, strain, strain_back;
} settled;

static inline settled settle(const fhi_falls *f, int l, int j, fhi_vec a, fhi_vec b, fhi_vec begin) {
  const fhi_vec none = FHI_ALL(0.0);
  fhi_vec length = FHI_LOAD(&f->length[j][l]);
  fhi_vec ratio = FHI_LOAD(&f->ratio[l]);
  fhi_vec rest = length - begin;
  fhi_vec drawn = FHI_MAX(a - begin, none);
  fhi_vec drawn_back = FHI_MAX(b - rest, none);
  fhi_mask down = FHI_ABOVE(drawn * rest, ratio * drawn_back * begin);
  fhi_mask up = FHI_ABOVE(drawn_back * begin, ratio * drawn * rest);
  fhi_vec k = FHI_PICK(down, ratio, FHI_LOAD(&f->back_ratio[l]));
  fhi_vec more = a + b - length;
  fhi_vec half = length * (1.0 + k) - a - b * k;
  fhi_vec positive = FHI_MAX(more, none);
  fhi_vec square = half * half + 4.0 * length * k * positive;
  fhi_vec strain_back = 2.0 * positive / (half + FHI_ROOT(square));
  fhi_vec strain = k * strain_back;
  fhi_vec loose = FHI_PICK(down, a, length - b);
  fhi_vec over = FHI_PICK(FHI_ABOVE(more, none), a / (1.0 + strain), loose);
  fhi_mask rests = FHI_NOT(down | up);
  if (ANY(rests)) {
    const fhi_vec shortest = FHI_ALL(SHORT);
    strain = FHI_PICK(rests, drawn / FHI_MAX(begin, shortest), strain);
    strain_back = FHI_PICK(rests, drawn_back / FHI_MAX(rest, shortest), strain_back);
    over = FHI_PICK(rests, begin, over);
  }
  return (settled){over, strain, strain_back};
}

// Where the knot at the lip, or the next one to come there, holds: unstretched rope of piece j beyond the lip.
static inline fhi_mask knot_is_reached(const fhi_falls *f, int l, int j, fhi_vec over) {
  fhi_vec past = FHI_LOAD(&f->knots_past[l]);
  fhi_vec place = FHI_LOAD(&f->knot_first[l]) + past * FHI_LOAD(&f->knot_apart[l]) - FHI_LOAD(&f->offset[j][l]);
  fhi_mask is_left = FHI_ABOVE(FHI_LOAD(&f->knot_count[l]), past) & FHI_ABOVE(FHI_LOAD(&f->length[j][l]), place);
  return is_left & FHI_ABOVE(over, place + FHI_LOAD(&f->trench[l]));
}

// One half step of the piece over the lip. `lip` holds the state before and takes the one after.
static inline void half_step(fhi_falls *f, int l, int j, fhi_mask passes, fhi_lip *lip) {
  settled s = settle(f, l, j, FHI_LOAD(lip->a), FHI_LOAD(lip->b), FHI_LOAD(lip->begin));
  FHI_STORE(lip->over, s.over);
  FHI_STORE(lip->to, s.strain);
  FHI_STORE(lip->to_back, s.strain_back);
  if (!f->knots) {
    return;
  }
  const fhi_vec none = FHI_ALL(0.0);
  FHI_STORE(lip->jump, none);
  FHI_STORE(lip->jump_back, none);
  FHI_STORE(lip->early, none);
  FHI_STORE(lip->early_back, none);
  unsigned lanes = FHI_LANES(passes & knot_is_reached(f, l, j, s.over));
  if (lanes != 0) {
    fhi_lip_knots(f, l, lanes, j, lip);
  }
}

// What the springs feel over a kick: the strains in its middle and how they change from end to end.
typedef struct felt {
  fhi_vec strain, strain_back, grows, grows_back;
} felt;

// Where a knot has given way the strains jump. The strain in the middle of the kick stands for the whole: before a jump in the
// first half there was more, after one in the second half there is less. The damping does not feel the jump.
static inline void feel_jumps(const fhi_lip *first, const fhi_lip *second, felt *e) {
  fhi_vec jump = FHI_LOAD(second->jump);
  fhi_vec jump_back = FHI_LOAD(second->jump_back);
  e->strain = e->strain + 0.5 * (FHI_LOAD(first->early) + (FHI_LOAD(second->early) - jump));
  e->strain_back = e->strain_back + 0.5 * (FHI_LOAD(first->early_back) + (FHI_LOAD(second->early_back) - jump_back));
  e->grows = e->grows + (FHI_LOAD(first->jump) + jump);
  e->grows_back = e->grows_back + (FHI_LOAD(first->jump_back) + jump_back);
}

// Up to the forces.
static inline void first_half(fhi_falls *f, int l, int j, fhi_mask passes, fhi_vec a, fhi_vec b, fhi_lip *lip) {
  FHI_STORE(lip->a, a);
  FHI_STORE(lip->b, b);
  FHI_STORE(lip->begin, FHI_LOAD(&f->over_half[j][l]));
  FHI_STORE(lip->from, FHI_LOAD(&f->strain[j][l]));
  FHI_STORE(lip->from_back, FHI_LOAD(&f->strain_back[j][l]));
  half_step(f, l, j, passes, lip);
  if (f->cuts || f->audit) {
    fhi_lane before;
    fhi_vec over = FHI_LOAD(&f->over[j][l]);
    FHI_STORE(before, over);
    FHI_STORE(&f->over[j][l], FHI_PICK(passes, FHI_LOAD(lip->over), over));
    fhi_lip_cut(f, l, FHI_LANES(passes), j, before);
  }
}

// And half a step farther, along the speeds of now.
static inline void second_half(fhi_falls *f, int l, int j, fhi_mask passes, const fhi_lip *first, fhi_lip *lip) {
  const fhi_vec none = FHI_ALL(0.0);
  fhi_vec half = 0.5 * FHI_LOAD(&f->dt[l]);
  fhi_vec a = FHI_LOAD(first->a) - half * FHI_LOAD(&f->now[j][l]);
  fhi_vec b = FHI_LOAD(first->b) + half * FHI_LOAD(&f->now[j + 1][l]);
  // Someone passes the lip before that: the piece then lies all on one side, as long as it is.
  FHI_STORE(lip->a, FHI_MAX(a + FHI_MIN(b, none), none));
  FHI_STORE(lip->b, FHI_MAX(b + FHI_MIN(a, none), none));
  FHI_STORE(lip->begin, FHI_LOAD(first->over));
  FHI_STORE(lip->from, FHI_LOAD(first->to));
  FHI_STORE(lip->from_back, FHI_LOAD(first->to_back));
  half_step(f, l, j, passes, lip);
}

static inline void keep(double *place, fhi_mask passes, fhi_vec x) {
  FHI_STORE(place, FHI_PICK(passes, x, FHI_LOAD(place)));
}

// The piece that passes the lip, in the lanes where one does.
static inline void lip_piece(fhi_falls *f, int l, int j, fhi_mask passes, fhi_vec a, fhi_vec b) {
  const fhi_vec none = FHI_ALL(0.0);
  fhi_lip first;
  fhi_lip second;
  first_half(f, l, j, passes, a, b, &first);
  second_half(f, l, j, passes, &first, &second);
  felt e = {.strain = FHI_LOAD(first.to), .strain_back = FHI_LOAD(first.to_back)};
  fhi_vec ahead = FHI_LOAD(second.to);
  fhi_vec ahead_back = FHI_LOAD(second.to_back);
  // A piece that has just come to lie over the lip: its strains before belong to no such piece.
  fhi_mask fresh = FHI_REACHES(none, FHI_LOAD(&f->passed[j][l]));
  e.grows = FHI_PICK(fresh, 2.0 * (ahead - e.strain), ahead - FHI_LOAD(first.from));
  e.grows_back = FHI_PICK(fresh, 2.0 * (ahead_back - e.strain_back), ahead_back - FHI_LOAD(first.from_back));
  if (f->knots) {
    feel_jumps(&first, &second, &e);
  }
  fhi_vec modulus = FHI_LOAD(&f->modulus[l]);
  fhi_vec damp = FHI_LOAD(&f->damp[l]);
  keep(&f->hole[j][l], passes, FHI_MAX(modulus * (e.strain + damp * e.grows), none));
  keep(&f->back[j][l], passes, FHI_MAX(modulus * (e.strain_back + damp * e.grows_back), none));
  keep(&f->over[j][l], passes, FHI_LOAD(first.over));
  keep(&f->over_half[j][l], passes, FHI_LOAD(second.over));
  keep(&f->strain[j][l], passes, ahead);
  keep(&f->strain_back[j][l], passes, ahead_back);
  // Stretch of the surface side: while it carries, that of the whole, which crosses zero without a bend.
  fhi_vec length = FHI_LOAD(&f->length[j][l]);
  fhi_mask carries = FHI_ABOVE(FHI_LOAD(first.to_back), none);
  keep(&f->drawn[l], passes, FHI_PICK(carries, a + b - length, b - (length - FHI_LOAD(first.over))));
}

// ---------------------------------------------------------------------------------------------------- all pieces

// When did each one's own piece come taut? Between two steps: where the straight line between the strains is zero.
static inline void start_clocks(fhi_falls *f, int l, int j) {
  const fhi_vec none = FHI_ALL(0.0);
  fhi_vec drawn = FHI_LOAD(&f->drawn[l]);
  fhi_vec clock = FHI_LOAD(&f->brakes_at[j + 1][l]);
  fhi_mask comes = FHI_ABOVE(drawn, none) & FHI_ABOVE(clock, FHI_ALL(1e100));
  if (ANY(comes)) {
    fhi_vec gone = drawn / FHI_MAX(drawn - FHI_LOAD(&f->tight[j][l]), FHI_ALL(1e-300));
    gone = FHI_MIN(gone, FHI_ALL(1.0));
    fhi_vec at = FHI_LOAD(&f->time[l]) - FHI_LOAD(&f->dt[l]) * gone + FHI_LOAD(&f->reaction[l]);
    FHI_STORE(&f->brakes_at[j + 1][l], FHI_PICK(comes, at, clock));
  }
  FHI_STORE(&f->tight[j][l], drawn);
}

// Tensions at both ends of a piece that lies all on one side of the lip; then of one that passes it.
// @return true when the piece comes taut within this kick in some lane
static inline bool pull_piece(fhi_falls *f, int l, int j) {
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec one = FHI_ALL(1.0);
  fhi_vec length = FHI_LOAD(&f->length[j][l]);
  fhi_vec per_length = FHI_LOAD(&f->per_length[j][l]);
  fhi_vec lower = FHI_LOAD(&f->at[j][l]);
  fhi_vec upper = FHI_LOAD(&f->at[j + 1][l]);
  fhi_vec drawn = upper - lower - length;
  fhi_vec strain = drawn * per_length;
  fhi_vec half_more = 0.5 * FHI_LOAD(&f->dt[l]) * (FHI_LOAD(&f->now[j + 1][l]) - FHI_LOAD(&f->now[j][l])) * per_length;
  fhi_vec behind = strain - half_more;
  fhi_vec ahead = FHI_MAX(strain + half_more, none);
  fhi_vec grows = ahead - FHI_MAX(behind, none);
  fhi_vec tension = FHI_LOAD(&f->modulus[l]) * (FHI_MAX(strain, none) + FHI_LOAD(&f->damp[l]) * grows);
  tension = FHI_MAX(tension, none);
  fhi_mask passes = FHI_REACHES(none, lower) & FHI_ABOVE(upper, none);
  FHI_STORE(&f->drawn[l], drawn);
  FHI_STORE(&f->hole[j][l], tension);
  FHI_STORE(&f->back[j][l], tension);
  if (ANY(passes)) {
    lip_piece(f, l, j, passes, -lower, upper);
  }
  fhi_mask aside = FHI_NOT(passes);
  if (ANY(aside)) {
    fhi_vec over = FHI_PICK(FHI_REACHES(none, upper), length, none);
    keep(&f->over[j][l], aside, over);
    keep(&f->over_half[j][l], aside, over);
    keep(&f->strain[j][l], aside, ahead);
    keep(&f->strain_back[j][l], aside, ahead);
  }
  FHI_STORE(&f->passed[j][l], FHI_PICK(passes, one, none));
  start_clocks(f, l, j);
  FHI_STORE(&f->peak[j][l], FHI_MAX(FHI_LOAD(&f->hole[j][l]), FHI_LOAD(&f->peak[j][l])));
  FHI_STORE(&f->pull[j][l], FHI_MAX(FHI_LOAD(&f->back[j][l]), FHI_LOAD(&f->pull[j][l])));
  fhi_mask comes = FHI_ABOVE(ahead, none) & FHI_ABOVE(none, behind);
  FHI_STORE(&f->late[j][l], ANY(comes) ? FHI_PICK(comes, ahead / FHI_MAX(2.0 * half_more, FHI_ALL(1e-300)), one) : one);
  return ANY(comes);
}

// ---------------------------------------------------------------------------------------------------- people

// Coulomb's friction over a kick. @param drive [m/s^2] without it  @param grip [m/s^2] the most that it takes  @return [m/s] after
static inline fhi_vec rub(fhi_vec speed, fhi_vec drive, fhi_vec grip, fhi_vec kick) {
  const fhi_vec none = FHI_ALL(0.0);
  // Seen in the direction of motion.
  fhi_mask inward = FHI_ABOVE(none, speed);
  fhi_vec pace = FHI_PICK(inward, -speed, speed);
  fhi_vec along = FHI_PICK(inward, -drive, drive);
  fhi_vec after = pace + kick * (along - grip);
  fhi_mask stops = FHI_ABOVE(none, after);
  fhi_vec return_gain = FHI_MAX(-along - grip, none);
  fhi_mask returns = stops & FHI_ABOVE(return_gain, none);
  after = FHI_PICK(stops, none, after);
  if (ANY(returns)) {  // what is left of the kick once it stands drives it back
    fhi_vec left = kick - pace / FHI_MAX(grip - along, FHI_ALL(1e-300));
    after = FHI_PICK(returns, -(return_gain * left), after);
  }
  return FHI_PICK(inward, -after, after);
}

// Who stands while a piece comes taut does not feel the mean of its pull, but nothing and then all of it: that may move one whom the
// mean would not. @param drive [m/s^2] by the mean  @param pull,pull_before [m/s^2] of the ropes behind and before  @return [m/s] after
static inline fhi_vec jolt(const fhi_falls *f, int l, int i, fhi_vec drive, fhi_vec pull, fhi_vec pull_before, fhi_vec grip, fhi_vec after) {
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec one = FHI_ALL(1.0);
  fhi_vec speed = FHI_LOAD(&f->speed[i][l]);
  fhi_vec share = i + 1 == f->people ? one : FHI_LOAD(&f->late[i][l]);
  fhi_vec share_before = FHI_LOAD(&f->late[i - 1][l]);
  fhi_vec least = FHI_MIN(share, share_before);
  fhi_vec full = drive + (pull / share - pull) - (pull_before / share_before - pull_before);
  fhi_mask back = FHI_ABOVE(none, full);
  fhi_vec moved = least * FHI_LOAD(&f->kick[l]) * FHI_MAX(FHI_PICK(back, -full, full) - grip, none);
  fhi_mask stands = FHI_REACHES(none, FHI_MAX(speed, -speed)) & FHI_ABOVE(one, least);
  return FHI_PICK(stands, FHI_PICK(back, -moved, moved), after);
}

// Share of the kick that one on the surface spends in the hole. @return [1]
static inline fhi_vec share_in(const fhi_falls *f, int l, int i, fhi_vec s) {
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec one = FHI_ALL(1.0);
  fhi_vec now = FHI_LOAD(&f->now[i][l]);
  fhi_vec way = FHI_MAX(now, -now) * FHI_LOAD(&f->dt[l]);
  fhi_vec in = FHI_PICK(FHI_REACHES(none, s), one, none);
  fhi_mask near = FHI_ABOVE(way, FHI_MAX(s, -s));
  if (ANY(near)) {
    fhi_vec share = FHI_MIN(FHI_MAX(0.5 - s / FHI_MAX(way, FHI_ALL(1e-300)), none), one);
    in = FHI_PICK(near, share, in);
  }
  return in;
}

// One person's kick and drift. @return the lanes where someone on the surface slides
static inline fhi_mask move_person(fhi_falls *f, int l, int i, bool jolts) {
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec one = FHI_ALL(1.0);
  fhi_vec s = FHI_LOAD(&f->at[i][l]);
  fhi_vec kick = FHI_LOAD(&f->kick[l]);
  fhi_vec dt = FHI_LOAD(&f->dt[l]);
  fhi_vec speed = FHI_LOAD(&f->speed[i][l]);
  fhi_vec behind = i + 1 == f->people ? none : FHI_LOAD(&f->hole[i][l]);
  fhi_vec before = i == 0 ? none : FHI_LOAD(&f->back[i - 1][l]);
  fhi_vec in = i == 0 ? one : share_in(f, l, i, s);
  fhi_vec out = one - in;
  fhi_vec weight = FHI_LOAD(&f->weight[i][l]);
  fhi_vec drive = weight * (behind - before) - in * G - out * FHI_LOAD(&f->pull_out[l]);
  fhi_vec after = speed + kick * drive;
  if (i > 0) {
    // Share of the kick after the reaction time.
    fhi_vec awake = (FHI_LOAD(&f->time[l]) + 0.5 * dt - FHI_LOAD(&f->brakes_at[i][l])) * FHI_LOAD(&f->per_dt[l]);
    awake = FHI_MIN(FHI_MAX(awake, none), one);
    fhi_vec stand = FHI_LOAD(&f->stand[l]);
    fhi_vec grip = out * FHI_LOAD(&f->press[l]) * (stand + awake * (FHI_LOAD(&f->brake[l]) - stand));
    fhi_vec free = after;
    after = rub(speed, drive, grip, kick);
    if (jolts) {
      after = jolt(f, l, i, drive, weight * behind, weight * before, grip, after);
    }
    if (f->audit) {
      FHI_STORE(&f->rubbed[i][l], 0.5 * (free - after) * (speed + after));
    }
  }
  FHI_STORE(&f->gain[i][l], (after - speed) * FHI_LOAD(&f->per_kick[l]));
  FHI_STORE(&f->speed[i][l], after);
  fhi_vec to = s + dt * after;
  FHI_STORE(&f->at[i][l], to);
  FHI_STORE(&f->nearest[i][l], FHI_MIN(to, FHI_LOAD(&f->nearest[i][l])));
  return FHI_ABOVE(s, none) & (FHI_ABOVE(after, none) | FHI_ABOVE(none, after));
}

// ---------------------------------------------------------------------------------------------------- a step

// Does the first one turn at the bottom, is all slow, is nobody left? Then a lane may have come to its end.
static inline unsigned count_step(fhi_falls *f, int l, fhi_mask moves) {
  const fhi_vec none = FHI_ALL(0.0);
  const fhi_vec one = FHI_ALL(1.0);
  const fhi_vec slow = FHI_ALL(1e-3);
  fhi_vec dt = FHI_LOAD(&f->dt[l]);
  fhi_vec speed = FHI_LOAD(&f->speed[0][l]);
  fhi_mask still = FHI_NOT(moves);
  fhi_mask turned = FHI_ABOVE(none, FHI_LOAD(&f->was[l])) & FHI_REACHES(speed, none);
  fhi_vec bottoms = FHI_LOAD(&f->bottoms[l]) + FHI_PICK(turned, one, none);
  fhi_vec time = FHI_LOAD(&f->time[l]) + dt;
  FHI_STORE(&f->moves[l], FHI_PICK(moves, one, none));
  FHI_STORE(&f->bottoms[l], FHI_PICK(still, bottoms, none));
  FHI_STORE(&f->time[l], time);
  FHI_STORE(&f->kick[l], dt);
  FHI_STORE(&f->per_kick[l], FHI_LOAD(&f->per_dt[l]));
  fhi_mask ends = turned | (still & FHI_ABOVE(slow, speed) & FHI_ABOVE(slow, -speed)) |
                  FHI_REACHES(none, FHI_LOAD(&f->at[f->people - 1][l])) | FHI_ABOVE(time, FHI_ALL(LONGEST));
  return FHI_LANES(ends);
}

static inline unsigned step_group(fhi_falls *f, int l) {
  fhi_vec half = 0.5 * FHI_LOAD(&f->dt[l]);
  for (int i = 0; i < f->people; i++) {
    FHI_STORE(&f->now[i][l], FHI_LOAD(&f->speed[i][l]) + half * FHI_LOAD(&f->gain[i][l]));
  }
  bool jolts = false;
  for (int j = 0; j + 1 < f->people; j++) {
    jolts = pull_piece(f, l, j) || jolts;
  }
  FHI_STORE(&f->was[l], FHI_LOAD(&f->speed[0][l]));
  fhi_mask moves = FHI_ABOVE(half, half);  // nowhere
  for (int i = 0; i < f->people; i++) {
    fhi_mask slides = move_person(f, l, i, jolts);
    moves = i == 0 ? moves : moves | slides;
  }
  return count_step(f, l, moves);
}
