// SPDX-License-Identifier: MIT
// The anchor for programs: JSON and CSV, metric, the unit in each key.
#include <math.h>

#include "anchor.h"
#include "json.h"
#include "text.h"

static const char *kind_name(const fh_gear *gear, const fh_anchorage *a, int point) {
  const fh_item *item = fh_gear_item(gear, a->points[point].kind);
  return item != NULL ? item->name : "given";
}

static void put_band(fhi_json *j, const char *key, fh_band b) {
  if (isnan(b.likely)) {
    fhi_json_null(j, key);
  } else {
    fhi_json_band(j, key, b);
  }
}

static void put_points(fhi_json *j, const fh_gear *gear, const fh_anchorage *a, const fh_anchor *anchor) {
  fhi_json_open(j, "points", '[');
  for (int i = 0; i < anchor->points; i++) {
    const fh_hold *h = &anchor->hold[i];
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "kind", kind_name(gear, a, i));
    put_band(j, "holds_N", h->holds);
    fhi_json_text(j, "limit", h->limit);
    put_band(j, "bearing_N", h->bearing);
    put_band(j, "wedge_N", h->shear);
    put_band(j, "hardware_N", h->hardware);
    put_band(j, "tests_N", h->tests);
    fhi_json_number(j, "area_m2", h->area);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void put_legs(fhi_json *j, const fh_band *leg, const double *margin, int count) {
  fhi_json_open(j, "legs", '[');
  for (int i = 0; i < count; i++) {
    fhi_json_open(j, NULL, '{');
    put_band(j, "force_N", leg[i]);
    fhi_json_number(j, "margin", margin[i]);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void put_cases(fhi_json *j, const fh_anchor *anchor) {
  fhi_json_open(j, "cases", '[');
  for (int c = 0; c < FH_ANCHOR_CASES; c++) {
    const fh_anchor_case *x = &anchor->cases[c];
    if (x->known) {
      fhi_json_open(j, NULL, '{');
      fhi_json_text(j, "name", fh_anchor_case_name(c));
      put_band(j, "pull_N", x->pull);
      fhi_json_number(j, "fall_m", x->fall);
      fhi_json_integer(j, "weakest", x->weakest);
      fhi_json_number(j, "margin", x->margin[x->weakest]);
      fhi_json_number(j, "chance", x->chance);
      put_legs(j, x->leg, x->margin, anchor->points);
      fhi_json_close(j, '}');
    }
  }
  fhi_json_close(j, ']');
}

static void put_losses(fhi_json *j, const fh_anchor *anchor) {
  fhi_json_open(j, "losses", '[');
  for (int i = 0; i < anchor->points; i++) {
    const fh_anchor_loss *l = &anchor->loss[i];
    fhi_json_open(j, NULL, '{');
    fhi_json_integer(j, "gone", i);
    fhi_json_flag(j, "held", l->held);
    if (l->held) {
      fhi_json_number(j, "moves_m", l->moves);
      put_band(j, "peak_N", l->peak);
      fhi_json_number(j, "margin", l->worst);
      put_legs(j, l->leg, l->margin, anchor->points);
    }
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

fh_status fh_anchor_write_json(const fh_scene *scene, const fh_gear *gear, const fh_anchor *anchor, fh_out out) {
  fh_anchorage a;
  fhi_writer w;
  if (scene == NULL || gear == NULL || anchor == NULL || out.write == NULL || !fh_anchorage_of(scene, gear, &a)) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_text(&j, "firnhaul", FH_VERSION);
  fhi_json_text(&j, "title", scene->title);
  fhi_json_text(&j, "sharing", a.sharing == FH_LEGS_SLIDING ? "sliding" : "fixed");
  fhi_json_flag(&j, "from_rig", anchor->from_rig);
  fhi_json_number(&j, "worst_margin", anchor->worst_margin);
  fhi_json_number(&j, "chance", anchor->chance);
  fhi_json_number(&j, "residual", anchor->residual);
  put_points(&j, gear, &a, anchor);
  put_cases(&j, anchor);
  put_losses(&j, anchor);
  fhi_json_close(&j, '}');
  fhi_put(&w, "\n");
  return fhi_writer_end(&w);
}

static void put_cell(fhi_writer *w, double value) {
  fhi_put(w, ",");
  if (isfinite(value)) {
    fhi_put_json_number(w, value);
  }
}

fh_status fh_anchor_write_csv(const fh_scene *scene, const fh_gear *gear, const fh_anchor *anchor, fh_out out) {
  fh_anchorage a;
  fhi_writer w;
  if (scene == NULL || gear == NULL || anchor == NULL || out.write == NULL || !fh_anchorage_of(scene, gear, &a)) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_put(&w, "case,point,kind,pull_low_N,pull_likely_N,pull_high_N,leg_low_N,leg_likely_N,leg_high_N,holds_low_N,holds_likely_N,holds_high_N,margin\n");
  for (int c = 0; c < FH_ANCHOR_CASES; c++) {
    const fh_anchor_case *x = &anchor->cases[c];
    for (int i = 0; x->known && i < anchor->points; i++) {
      const fh_band *h = &anchor->hold[i].holds;
      fhi_putf(&w, "%s,%d,%s", fh_anchor_case_name(c), i, kind_name(gear, &a, i));
      const double cells[] = {x->pull.lo, x->pull.likely, x->pull.hi, x->leg[i].lo, x->leg[i].likely, x->leg[i].hi,
                              h->lo,      h->likely,      h->hi,      x->margin[i]};
      for (int k = 0; k < 10; k++) {
        put_cell(&w, cells[k]);
      }
      fhi_put(&w, "\n");
    }
  }
  return fhi_writer_end(&w);
}
