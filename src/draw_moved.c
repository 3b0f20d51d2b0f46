// SPDX-License-Identifier: MIT
// Where does everything stand in the middle of a stroke? For the section's figure; forces do not hang on places.
#include "draw_section.h"

#include <math.h>

static const double LEFT_DOWN = 0.05;  // [m] under the edge: the load never stands on it

// How far a body is from where it stands at rest, with what is tied to it and grips for it: along the rope's way, [m].
static double shift_of(const fh_check *rest, int body, double risen, double now) {
  if (body == FH_BODY_LOAD) {
    return fmin(risen, -rest->bodies[body].at - LEFT_DOWN);
  }
  return body >= FH_BODY_FIRST_GRIP ? rest->bodies[body].speed * now : 0.0;
}

void fhi_move_rig(const fh_check *rest, double risen, double now, fh_rig *rig, fh_check *moved) {
  *moved = *rest;
  for (int i = 0; i < moved->body_count; i++) {
    moved->bodies[i].at += shift_of(rest, i, risen, now);
  }
  for (int i = 0; i < rig->grip_count; i++) {
    rig->grips[i].at += shift_of(rest, rig->grips[i].body, risen, now);
  }
  for (int i = 0; i < moved->strand_count; i++) {
    fh_strand *st = &moved->strands[i];
    // A hand and a loose end only have a side of what the rope comes from: they go with it.
    double from = shift_of(rest, st->from == FH_END_LOOSE ? st->to : st->from, risen, now);
    double to = shift_of(rest, st->to == FH_END_LOOSE || st->to == FH_END_HAND ? st->from : st->to, risen, now);
    st->s_from += from;
    st->s_to += to;
  }
}
