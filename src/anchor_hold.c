// SPDX-License-Identifier: MIT
// What one anchor in snow or ice holds: the least of bearing, wedge and hardware. Implements model.md, section 10.
#include <math.h>
#include <string.h>

#include "anchor.h"

static const double PI = 3.14159265358979323846;
static const double DEGREE = 3.14159265358979323846 / 180.0;  // [rad]
static const double SPREAD = 0.57735026918962576;             // [1] tan 30 degrees: how fast the wedge widens; practice

// Share of the best holding force by lean, straight lines between: 0 degrees from "25 measured 40 % over 0" (ENSA, a guide's
// teaching site), 30 from 10 kN, 45 from 4.5 kN (NZ SAR); beyond 45 the last line goes on, from nothing measured.
static const double LEAN[][2] = {{0.0, 1.0 / 1.4}, {25.0, 1.0}, {30.0, 1.0}, {45.0, 0.45}, {57.0, 0.01}};

double fh_lean_share(double back) {
  double deg = back / DEGREE;
  enum { LAST = sizeof LEAN / sizeof LEAN[0] - 1 };
  if (!(deg >= 0.0)) {
    return isnan(deg) ? (double)NAN : LEAN[0][1];
  }
  for (int i = 0; i < LAST; i++) {
    if (deg <= LEAN[i + 1][0]) {
      double t = (deg - LEAN[i][0]) / (LEAN[i + 1][0] - LEAN[i][0]);
      return LEAN[i][1] + t * (LEAN[i + 1][1] - LEAN[i][1]);
    }
  }
  return LEAN[LAST][1];
}

static fh_number or_else(fh_number said, fh_number usual) {
  return fh_number_is_set(said) ? said : usual;
}

static fh_number snow_strength(const fh_gear *gear, const fh_anchorage *a) {
  static const char *const ITEMS[] = {"snow-fist", "snow-four-fingers", "snow-one-finger", "snow-pencil", "snow-knife"};
  if (fh_number_is_set(a->strength) || a->snow < FH_SNOW_FIST || a->snow > FH_SNOW_KNIFE) {
    return a->strength;
  }
  return fh_gear_figure(gear, fh_gear_find(gear, ITEMS[a->snow]), "bearing_Pa", NULL);
}

// Lengths of a screw in the ice: pulls of shorter ones were not found, longer ones held no more (dav-ice-2005).
static const double SHORT = 0.10, LONG = 0.16;  // [m]

// Between a short and a long screw straight; below the shortest that was pulled straight to nothing: practice, no source.
static double length_share(double length, double of_short) {
  if (length >= LONG) {
    return 1.0;
  }
  return length >= SHORT ? of_short + (1.0 - of_short) * (length - SHORT) / (LONG - SHORT) : of_short * length / SHORT;
}

// What pulls in such ice gave. A thread's does not follow its depth, nor a screw's its lean: nothing was published that it could follow.
static fh_number ice_tests(const fh_gear *gear, const fh_anchorage *a, int kind, fh_number depth) {
  static const char *const FIGURES[] = {"solid_N", "porous_N", "rotten_N"};
  const fh_figure *said = NULL;
  fh_number n = fh_gear_figure(gear, kind, "holds_N", &said), share = fh_gear_figure(gear, kind, "short_share", NULL);
  if (said != NULL && said->basis == FH_BASIS_OWN) {
    return n;  // measured by the user: comes before what others pulled
  }
  if (a->ice >= FH_ICE_SOLID && a->ice <= FH_ICE_ROTTEN) {
    n = or_else(fh_gear_figure(gear, kind, FIGURES[a->ice], NULL), n);
  }
  if (fh_number_is_set(n) && fh_number_is_set(share) && fh_number_is_set(depth)) {
    double lo = length_share(depth.lo, share.lo), likely = length_share(depth.likely, share.likely);
    n = (fh_number){n.spread, n.lo * lo, n.likely * likely, n.hi * length_share(depth.hi, share.hi), 0.0, 0, 0};
    n.spread = n.hi > n.lo ? FH_SPREAD_TRIANGLE : FH_SPREAD_EXACT;
  }
  return n;
}

void fhi_hold_resolve(const fh_scene *scene, const fh_gear *gear, const fh_anchorage *a, int point, fhi_hold_in *in) {
  const fh_point *p = &a->points[point];
  int snow = fh_gear_find(gear, "snow");
  memset(in, 0, sizeof *in);
  in->given = p->holds;
  if (p->kind < 0 && !fh_number_is_set(in->given)) {
    in->given = scene->anchor_holds;
  }
  in->hardware = fh_gear_figure(gear, p->kind, "hardware_N", NULL);
  in->strength = snow_strength(gear, a);
  in->shear = fh_gear_figure(gear, snow, "shear_Pa", NULL);
  in->length = or_else(p->length, fh_gear_figure(gear, p->kind, "length_m", NULL));
  in->width = or_else(p->width, fh_gear_figure(gear, p->kind, "width_m", NULL));
  in->depth = or_else(p->depth, fh_gear_figure(gear, p->kind, "depth_m", NULL));
  in->tests = ice_tests(gear, a, p->kind, in->depth);
  in->diameter = or_else(p->diameter, fh_gear_figure(gear, p->kind, "diameter_m", NULL));
  in->back = or_else(p->back, fh_gear_figure(gear, p->kind, "back_rad", NULL));
  in->band = fh_gear_figure(gear, p->kind, "band_m", NULL);
  fh_number bears = fh_gear_figure(gear, p->kind, "bears", NULL);
  in->bears = bears.likely;
  // A measured strength is believed; a hand test only as far as pull tests go.
  in->most = fh_number_is_set(a->strength) ? 1e30 : fh_gear_figure(gear, snow, "bearing_most_Pa", NULL).likely;
  in->bollard = fh_number_is_set(in->band) && fh_number_is_set(in->diameter);
  bool plate = fh_number_is_set(bears) && fh_number_is_set(in->length) && fh_number_is_set(in->width);
  in->snow = fh_number_is_set(in->strength) && (in->bollard || plate);
}

// The wedge in front of a plate: it rises at 45 degrees to the surface, and widens to both sides. Base and two sides.
static double wedge_area(double width, double depth) {
  return depth * sqrt(2.0) * (width + depth * SPREAD) + depth * depth * sqrt(1.0 + SPREAD * SPREAD);
}

fhi_hold_out fhi_hold_value(const fhi_hold_in *in, const fhi_hold_at *at) {
  fhi_hold_out o = {(double)NAN, (double)NAN, at->hardware, (double)NAN};
  if (in->snow) {
    double strength = fmin(at->strength, in->most), shear = fmin(at->shear, 0.5 * at->strength);
    if (in->bollard) {
      o.bearing = strength * at->diameter * at->band;
      o.shear = shear * 0.25 * PI * at->diameter * at->diameter;
    } else {
      double lean = isnan(at->back) ? 1.0 : fh_lean_share(at->back);
      o.bearing = strength * at->length * at->width * in->bears * lean;
      // Upright plates (they have a lean) show the wedge their width, laid ones their length. It starts at the lower edge.
      bool upright = !isnan(at->back);
      double lower = at->depth + 0.5 * (upright ? at->length : at->width);
      o.shear = shear * wedge_area(upright ? at->width : at->length, lower);
    }
  }
  o.holds = !isnan(at->given) ? at->given : in->snow ? fmin(o.bearing, o.shear) : at->tests;
  if (isnan(at->given) && !isnan(at->hardware)) {
    o.holds = fmin(o.holds, at->hardware);
  }
  return o;
}

// Every quantity at its low, likely or high end. A lean's ends are not in order of strength: the best and worst are sought.
static fhi_hold_at at_end(const fhi_hold_in *in, int end) {
  const fh_number *numbers[] = {&in->given, &in->tests,    &in->hardware, &in->strength, &in->shear,
                                &in->length, &in->width, &in->depth,    &in->diameter, &in->band};
  double v[10];
  for (int i = 0; i < 10; i++) {
    v[i] = end < 0 ? numbers[i]->lo : end > 0 ? numbers[i]->hi : numbers[i]->likely;
  }
  double back = in->back.likely;
  for (int i = 0; i <= 20 && end != 0 && fh_number_is_set(in->back); i++) {
    double x = in->back.lo + (in->back.hi - in->back.lo) * i / 20.0;
    bool better = fh_lean_share(x) > fh_lean_share(back);
    back = better == (end > 0) ? x : back;
  }
  return (fhi_hold_at){v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], back, v[9]};
}

static const char *limit_name(const fhi_hold_in *in, fhi_hold_out o) {
  if (fh_number_is_set(in->given)) {
    return "given";
  }
  if (!isnan(o.hardware) && o.hardware <= o.holds) {
    return "hardware";
  }
  return !in->snow ? "tests" : o.bearing <= o.shear ? "snow" : "wedge";
}

fh_hold fh_point_hold(const fh_scene *scene, const fh_gear *gear, int point) {
  fh_anchorage a;
  fhi_hold_in in;
  const fh_band none = {(double)NAN, (double)NAN, (double)NAN};
  fh_hold h = {none, none, none, none, none, "", (double)NAN};
  if (scene == NULL || gear == NULL || !fh_anchorage_of(scene, gear, &a) || point < 0 || point >= a.point_count) {
    return h;
  }
  fhi_hold_resolve(scene, gear, &a, point, &in);
  fhi_hold_out o[3];
  for (int e = 0; e < 3; e++) {
    fhi_hold_at at = at_end(&in, e - 1);
    o[e] = fhi_hold_value(&in, &at);
  }
  h.bearing = (fh_band){o[0].bearing, o[1].bearing, o[2].bearing};
  h.shear = (fh_band){o[0].shear, o[1].shear, o[2].shear};
  h.hardware = (fh_band){o[0].hardware, o[1].hardware, o[2].hardware};
  h.tests = fh_number_band(in.tests);
  h.holds = (fh_band){o[0].holds, o[1].holds, o[2].holds};
  h.limit = limit_name(&in, o[1]);
  h.area = !in.snow ? (double)NAN : in.bollard ? in.diameter.likely * in.band.likely : in.length.likely * in.width.likely;
  return h;
}

bool fh_anchorage_of(const fh_scene *scene, const fh_gear *gear, fh_anchorage *out) {
  (void)gear;
  if (scene->has_anchorage) {
    *out = scene->anchorage;
    return true;
  }
  memset(out, 0, sizeof *out);
  if (scene->anchor_kind < 0 && !fh_number_is_set(scene->anchor_holds)) {
    return false;
  }
  const fh_number unset = fh_number_unset();
  fh_point *p = &out->points[0];
  *p = (fh_point){.kind = scene->anchor_kind, .depth = unset, .length = unset, .width = unset, .diameter = unset, .back = unset,
                  .holds = scene->anchor_holds, .leg = fh_number_exact(1.0), .aside = fh_number_exact(0.0),
                  .above = fh_number_exact(0.0), .slack = fh_number_exact(0.0)};
  out->point_count = 1;
  out->snow = FH_SNOW_UNTESTED;
  out->ice = FH_ICE_UNTESTED;
  out->strength = out->stop = unset;
  out->sharing = FH_LEGS_FIXED;
  out->modulus = (fh_number){FH_SPREAD_UNIFORM, 30e3, 90e3, 150e3, 0.0, 0, 0};  // as the key's default
  return true;
}
