// SPDX-License-Identifier: MIT
// What a person can pull, and what a crew can. Implements model.md, section 8.
// A person's pull is the least of what the feet hold, what the body does in that posture, and what the hands hold on the
// rope. Figures and their sources: src/tables/postures.c and others.c (items "crew", "boots-on-snow", "person").
#include "crew.h"

#include <math.h>

static const double G = 9.80665;  // [m/s^2] standard gravity

static fh_band figure(const fh_gear *gear, int item, const char *fallback, const char *what) {
  fh_number n = fh_gear_figure(gear, item, what, NULL);
  if (!fh_number_is_set(n)) {
    n = fh_gear_figure(gear, fh_gear_find(gear, fallback), what, NULL);
  }
  return fh_number_band(n);
}

static fh_band band_min(fh_band a, fh_band b) {
  return (fh_band){fmin(a.lo, b.lo), fmin(a.likely, b.likely), fmin(a.hi, b.hi)};
}

static const fh_band NO_LIMIT = {1e30, 1e30, 1e30};  // finite, so that fmin and sums stay plain

// Feet on a slope of angle b: the pull along the ground is  m g (mu cos b - sin b)  uphill,  m g (mu cos b + sin b)
// downhill. `b` here is positive when the crew pulls uphill. Concave in b between -90 and 90 degrees, so the least lies
// at an end of the slope's range, and the most at an end or at tan b = -1 / mu.
static double feet(double mass, double mu, double b) {
  return fmax(0.0, mass * G * (mu * cos(b) - sin(b)));
}

static fh_band footing_limit(const fh_band *mass, const fh_band *mu, const fh_band *used, fh_band slope) {
  fh_band f;
  f.lo = fmin(feet(mass->lo, mu->lo * used->lo, slope.lo), feet(mass->lo, mu->lo * used->lo, slope.hi));
  f.likely = feet(mass->likely, mu->likely * used->likely, slope.likely);
  double best = mu->hi * used->hi;
  double top = -atan2(1.0, best);
  f.hi = fmax(feet(mass->hi, best, slope.lo), feet(mass->hi, best, slope.hi));
  if (slope.lo < top && top < slope.hi) {
    f.hi = fmax(f.hi, feet(mass->hi, best, top));
  }
  return f;
}

static fh_band uphill(const fh_scene *scene, fh_toward toward) {
  if (!fh_number_is_set(scene->slope)) {
    return (fh_band){0.0, 0.0, 0.0};
  }
  fh_band b = fh_number_band(scene->slope);
  return toward == FH_TOWARD_LIP ? (fh_band){-b.hi, -b.likely, -b.lo} : b;
}

// Hands: measured on a thick upright cylinder. A thin rope gives the hand less to hold; no measured value was found, so
// the low end falls with the diameter, the high end does not, and the likely value lies between.
// Gloves take a part of the grip's strength; that the pull along the rope falls alike is practice: nobody measured it on a rope.
fh_band fhi_hands_hold(const fh_gear *gear, double hands, fh_gloves gloves, double diameter) {
  if (!(hands > 0.0)) {
    return NO_LIMIT;
  }
  fh_band one = figure(gear, -1, "crew", "grip_N");
  fh_band wide = figure(gear, -1, "crew", "grip_diameter_m");
  fh_band left = {1.0, 1.0, 1.0};
  if (gloves == FH_GLOVES_THIN || gloves == FH_GLOVES_THICK) {
    left = figure(gear, -1, "crew", gloves == FH_GLOVES_THIN ? "grip_thin" : "grip_thick");
  }
  double thin = fmin(1.0, diameter / wide.likely);
  return (fh_band){hands * one.lo * thin * left.lo, hands * one.likely * 0.5 * (1.0 + thin) * left.likely, hands * one.hi * left.hi};
}

static fh_pull measured(const fh_hauler *h, const fh_band *strength, const fh_band *sustained) {
  fh_pull p = {.force = fh_number_band(h->pull), .limit = "measured"};
  double share = fmin(1.0, sustained->likely / strength->likely);
  p.sustained = (fh_band){p.force.lo * share, p.force.likely * share, p.force.hi * share};
  return p;
}

// Behind a moving block the crew pulls back, away from the hole; behind a fixed point toward the lip; behind the lip itself back.
fh_toward fhi_pull_toward(const fh_station *hand) {
  if (hand->toward != FH_TOWARD_AUTO) {
    return hand->toward;
  }
  const fh_station *before = hand - 1;
  return before->kind == FH_RUN && (before->body == FH_BODY_STATION || before->body == FH_BODY_ANCHOR) ? FH_TOWARD_LIP : FH_TOWARD_BACK;
}

int fhi_posture(const fh_gear *gear, const fh_hauler *hauler, fh_toward toward) {
  bool on_harness = figure(gear, hauler->posture, "walking", "hands").likely <= 0.0;
  return toward == FH_TOWARD_LIP && on_harness ? fh_gear_find(gear, "walking") : hauler->posture;
}

fh_pull fhi_hauler_pull(const fh_scene *scene, const fh_gear *gear, int index, fh_toward toward, double diameter) {
  const fh_hauler *h = &scene->crew[index];
  int posture = fhi_posture(gear, h, toward);
  fh_band strength = figure(gear, posture, "walking", "pull_N");
  fh_band sustained = figure(gear, posture, "walking", "sustained_N");
  if (fh_number_is_set(h->pull)) {
    return measured(h, &strength, &sustained);
  }

  fh_band feet_hold = NO_LIMIT;
  double share = figure(gear, posture, "walking", "footing_share").likely;
  if (share > 0.0) {
    fh_band mass = fh_number_is_set(h->mass) ? fh_number_band(h->mass) : figure(gear, -1, "person", "mass_kg");
    fh_band mu = fh_number_is_set(h->footing) ? fh_number_band(h->footing) : figure(gear, -1, "boots-on-snow", "friction");
    fh_band used = figure(gear, -1, "crew", "footing_used");
    feet_hold = footing_limit(&mass, &mu, &used, uphill(scene, toward));
    feet_hold = (fh_band){feet_hold.lo / share, feet_hold.likely / share, feet_hold.hi / share};
  }
  fh_band hands = fhi_hands_hold(gear, figure(gear, posture, "walking", "hands").likely, h->gloves, diameter);

  fh_pull p = {.force = band_min(band_min(feet_hold, strength), hands)};
  p.sustained = band_min(p.force, sustained);
  p.limit = "strength";
  if (feet_hold.likely < strength.likely && feet_hold.likely <= hands.likely) {
    p.limit = "footing";
  } else if (hands.likely < strength.likely) {
    p.limit = "grip";
  }
  return p;
}

// Straight lines through one puller (no loss), two and eight; beyond eight the last line goes on.
static double loss_at(double two, double eight, int count) {
  if (count <= 1) {
    return 0.0;
  }
  return fmin(0.9, two + (eight - two) * (count - 2) / 6.0);
}

fh_band fhi_crew_loss(const fh_gear *gear, int count) {
  fh_band two = figure(gear, -1, "crew", "loss_2");
  fh_band eight = figure(gear, -1, "crew", "loss_8");
  // The line that starts lower climbs faster: beyond eight it is the higher one.
  double one = loss_at(two.lo, eight.lo, count), other = loss_at(two.hi, eight.hi, count);
  double likely = loss_at(two.likely, eight.likely, count);
  return (fh_band){fmin(one, other), likely, fmax(one, other)};
}

fh_pull fhi_crew_pull(const fh_scene *scene, const fh_gear *gear, fh_toward toward, double diameter) {
  fh_pull all = {{0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}, ""};
  if (scene->crew_count <= 0) {
    fh_band none = fh_number_band(fh_number_unset());
    return (fh_pull){none, none, ""};
  }
  double strongest = -1.0;
  for (int i = 0; i < scene->crew_count; i++) {
    fh_pull p = fhi_hauler_pull(scene, gear, i, toward, diameter);
    all.force = (fh_band){all.force.lo + p.force.lo, all.force.likely + p.force.likely, all.force.hi + p.force.hi};
    all.sustained = (fh_band){all.sustained.lo + p.sustained.lo, all.sustained.likely + p.sustained.likely,
                              all.sustained.hi + p.sustained.hi};
    if (p.force.likely > strongest) {
      strongest = p.force.likely;
      all.limit = p.limit;
    }
  }
  fh_band loss = fhi_crew_loss(gear, scene->crew_count);
  double lo = 1.0 - loss.hi, likely = 1.0 - loss.likely, hi = 1.0 - loss.lo;
  all.force = (fh_band){all.force.lo * lo, all.force.likely * likely, all.force.hi * hi};
  all.sustained = (fh_band){all.sustained.lo * lo, all.sustained.likely * likely, all.sustained.hi * hi};
  return all;
}

double fhi_rope_diameter(const fh_scene *scene, const fh_gear *gear, int rope) {
  int kind = -1;
  if (rope >= 0 && rope < scene->rope_count) {
    if (fh_number_is_set(scene->ropes[rope].diameter)) {
      return scene->ropes[rope].diameter.likely;
    }
    kind = scene->ropes[rope].kind;
  }
  return figure(gear, kind, "half", "diameter_m").likely;
}

// Without a rig at hand: the scene's own rig says which rope is pulled and, when it says so, toward where.
static double scene_diameter(const fh_scene *scene, const fh_gear *gear, fh_toward *toward) {
  for (int p = 0; scene->has_rig && p < scene->rig.path_count; p++) {
    const fh_path *path = &scene->rig.paths[p];
    for (int s = path->first; s < path->first + path->count; s++) {
      if (scene->rig.stations[s].kind == FH_HAND) {
        *toward = fhi_pull_toward(&scene->rig.stations[s]);
        return fhi_rope_diameter(scene, gear, path->rope);
      }
    }
  }
  return fhi_rope_diameter(scene, gear, scene->rope_count > 0 ? 0 : -1);
}

fh_pull fh_hauler_pull(const fh_scene *scene, const fh_gear *gear, int index) {
  fh_band none = fh_number_band(fh_number_unset());
  if (scene == NULL || gear == NULL || index < 0 || index >= scene->crew_count) {
    return (fh_pull){none, none, ""};
  }
  fh_toward toward = FH_TOWARD_BACK;
  double diameter = scene_diameter(scene, gear, &toward);
  return fhi_hauler_pull(scene, gear, index, toward, diameter);
}

fh_pull fh_crew_pull(const fh_scene *scene, const fh_gear *gear) {
  fh_band none = fh_number_band(fh_number_unset());
  if (scene == NULL || gear == NULL) {
    return (fh_pull){none, none, ""};
  }
  fh_toward toward = FH_TOWARD_BACK;
  double diameter = scene_diameter(scene, gear, &toward);
  return fhi_crew_pull(scene, gear, toward, diameter);
}
