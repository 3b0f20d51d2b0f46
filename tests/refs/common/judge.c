// SPDX-License-Identifier: MIT
// How is the core's answer compared? Strand by strand, in path order. The tolerance is 1e-9 of the weight: the
// bound that the core sets itself for its residuals; what is seen is about 1e-15.
#include "judge.h"

#include <math.h>
#include <stdio.h>

static const double TOLERANCE = 1e-9;

static void compare(ref_trial *t, const char *what, int index, double got, double want, double scale) {
  t->checks++;
  if ((isinf(want) && isinf(got) && got > 0.0) || (isnan(want) && isnan(got))) {
    return;
  }
  double miss = fabs(got - want) / scale;
  if (isfinite(want) && miss <= TOLERANCE * fmax(1.0, fabs(want) / scale)) {
    t->worst = fmax(t->worst, miss);
    return;
  }
  if (t->failures++ < 40) {
    printf("%s: %s %d is %.12g, the reference says %.12g\n", t->name, what, index, got, want);
  }
}

void ref_judge(ref_trial *t, const char *what, int index, double got, double want) {
  compare(t, what, index, got, want, t->reading->weight);
}

void ref_judge_plain(ref_trial *t, const char *what, int index, double got, double want) {
  compare(t, what, index, got, want, 1.0);
}

void ref_judge_layout(ref_trial *t) {
  const ref_reading *r = t->reading;
  ref_judge_plain(t, "strand count", 0, t->check->strand_count, r->strand_count);
  for (int i = 0; i < r->strand_count && i < t->check->strand_count; i++) {
    ref_judge_plain(t, "path of strand", i, t->check->strands[i].path, r->strands[i].path);
    ref_judge_plain(t, "station before strand", i, t->check->strands[i].after, r->strands[i].after);
    ref_judge_plain(t, "carries, strand", i, t->check->strands[i].carries, !r->strands[i].slack);
  }
}

// The rope's speed along +s in a strand: that of its first end, plus what passes it.
static double rope_speed(const ref_reading *r, const ref_motion *m, int strand) {
  const ref_strand *s = &r->strands[strand];
  const ref_point *from = &r->points[s->from];
  double end = from->body >= 0 ? m->body_speed[from->body] : 0.0;
  return end + s->dir * m->rate[s->from];
}

void ref_judge_motion(ref_trial *t, const ref_motion *m) {
  const ref_reading *r = t->reading;
  ref_judge_plain(t, "ideal advantage", 0, t->check->ideal_advantage, m->hand_speed);
  for (int b = 0; b < r->body_count; b++) {
    ref_judge_plain(t, "speed of body", b, t->check->bodies[b].speed, m->body_speed[b]);
  }
  for (int i = 0; i < r->strand_count; i++) {
    if (!r->strands[i].slack) {
      ref_judge_plain(t, "speed of strand", i, t->check->strands[i].speed, rope_speed(r, m, i));
    }
  }
  for (int c = 0; c < t->check->contact_count; c++) {
    const fh_contact *k = &t->check->contacts[c];
    for (int p = 0; p < r->point_count; p++) {
      if (r->points[p].station >= 0 &&
          t->scene->rig.paths[r->points[p].path].first + r->points[p].station == k->station) {
        ref_judge_plain(t, "rate at contact", c, k->rate, m->rate[p]);
      }
    }
  }
}

void ref_judge_forces(ref_trial *t, int state, const ref_forces *f, bool all) {
  static const char *const LOW[] = {"raise, low, strand", "hold, low, strand", "lower, low, strand"};
  static const char *const HIGH[] = {"raise, high, strand", "hold, high, strand", "lower, high, strand"};
  static const char *const BODY[] = {"raise, body", "hold, body", "lower, body"};
  static const char *const GRIP[] = {"raise, grip", "hold, grip", "lower, grip"};
  const ref_reading *r = t->reading;
  for (int i = 0; i < r->strand_count && i < t->check->strand_count; i++) {
    ref_judge(t, LOW[state], i, t->check->strands[i].tension[state].lo, f->lo[i]);
    ref_judge(t, HIGH[state], i, t->check->strands[i].tension[state].hi, f->hi[i]);
  }
  for (int b = 0; b < r->body_count && all; b++) {
    if (!ref_body_moves(b)) {
      ref_judge(t, BODY[state], b, t->check->bodies[b].force[state].lo, f->body_lo[b]);
      ref_judge(t, BODY[state], b, t->check->bodies[b].force[state].hi, f->body_hi[b]);
    }
  }
  for (int g = 0; g < t->scene->rig.grip_count && all; g++) {
    ref_judge(t, GRIP[state], g, t->check->grip_force[g][state].lo, f->grip_lo[g]);
    ref_judge(t, GRIP[state], g, t->check->grip_force[g][state].hi, f->grip_hi[g]);
    int body = t->scene->rig.grips[g].body;
    if (ref_body_moves(body)) {  // a moving body gets from the rope that it grips just what the hitch holds
      ref_judge(t, BODY[state], body, t->check->bodies[body].force[state].lo, f->grip_lo[g]);
      ref_judge(t, BODY[state], body, t->check->bodies[body].force[state].hi, f->grip_hi[g]);
    }
  }
}

// Section 2: the resultant of two strands that make an angle `wrap` of turning; written so that nothing cancels.
static double resultant(double a, double b, double wrap) {
  double s = sin(0.5 * wrap);
  return sqrt((a - b) * (a - b) + 4.0 * a * b * s * s);
}

void ref_judge_contacts(ref_trial *t, int state, const ref_forces *f) {
  const ref_reading *r = t->reading;
  for (int c = 0; c < t->check->contact_count; c++) {
    const fh_contact *k = &t->check->contacts[c];
    for (int p = 0; p < r->point_count; p++) {
      const ref_point *pt = &r->points[p];
      if (pt->station < 0 || t->scene->rig.paths[pt->path].first + pt->station != k->station) {
        continue;
      }
      double a = f->lo[ref_strand_before(r, p)], b = f->lo[ref_strand_after(r, p)];
      ref_judge_plain(t, "wrap at contact", c, k->wrap, pt->wrap);
      ref_judge(t, "resultant at contact", c, k->force[state].likely, resultant(a, b, pt->wrap));
    }
  }
}
