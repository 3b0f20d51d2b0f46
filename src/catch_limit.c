// SPDX-License-Identifier: MIT
// How loose may the backup hang and still help? Implements model.md, sections 6 and 9: the fall through the slack, caught by
// the backup line at its shortest, where the rope is stiffest, must not ask more of any part than its least limit; and it
// must not be longer than what one accepts.
#include <math.h>

#include "haul.h"
#include "text.h"

static const double G = 9.80665;  // [m/s^2] standard gravity

// Knots closer than this are no help to anyone: then it is said that no knot can be sure to hold. Practice, no source.
static const double LEAST = 0.2;  // [m]


static void narrow(fhi_backup *b, double fall, const char *by) {
  if (fall < b->limit) {
    b->limit = fall;
    (void)fhi_copy(b->by, sizeof b->by, by);
  }
}

// The line that backs up: its rope, and how far back from the lip it is held.
static void find_line(const fhi_raise *r, int *rope, double *held) {
  int path = r->first == FH_FIRST_IN_RIG ? r->first_path : -1;
  *held = r->model.at[FH_BODY_ANCHOR];
  if (path >= 0) {
    const fh_station *from = &r->rig->stations[r->first_from], *to = &r->rig->stations[r->first_to];
    *held = r->model.at[from->body == FH_BODY_LOAD ? to->body : from->body];
  } else if (r->capture >= 0) {
    const fhi_contact *k = &r->model.contacts[r->capture];
    path = r->model.strands[k->before].path;
    *held = k->body >= 0 ? r->model.at[k->body] : *held;
  }
  *rope = path >= 0 ? r->rig->paths[path].rope : -1;
}

void fhi_backup_find(const fhi_raise *r, const fh_stages_opts *opts, fhi_backup *b) {
  const fh_scene *s = r->scene;
  int rope;
  double held, smooth = 1.0, rough = 1.0;
  if (r->backup != NULL) {
    *b = *r->backup;
    return;
  }
  find_line(r, &rope, &held);
  b->limit = opts->most_drop;
  (void)fhi_copy(b->by, sizeof b->by, "the longest fall that is accepted");
  (void)fh_edge_ratio(s->lip_friction.lo, s->lip_turn.lo, &smooth);
  (void)fh_edge_ratio(s->lip_friction.hi, s->lip_turn.hi, &rough);
  fh_catch_in in = {.weight = G * s->load_mass.hi,
                    .modulus = fh_rope_fall_modulus(s, r->gear, rope).hi,
                    .hole = fmin(opts->lip_zone, s->depth.likely),
                    .surface = held};
  int kind = rope >= 0 ? s->ropes[rope].kind : fh_gear_find(r->gear, "half");
  fh_number knot = fh_gear_figure(r->gear, kind, "knotted_N", NULL);
  double anchor = fhi_anchor_least(r, -1);
  if (fh_number_is_set(knot)) {
    in.lip = rough;
    narrow(b, fh_catch_fall(&in, knot.lo), "the rope's strength at a knot");
  }
  if (isfinite(anchor)) {
    in.lip = smooth;
    narrow(b, fh_catch_fall(&in, anchor * smooth), "what the anchor holds");
  }
  b->left = fmin(opts->slack_left, opts->most_drop);
  b->limit = b->limit < b->left + LEAST ? 0.0 : b->limit;
}
