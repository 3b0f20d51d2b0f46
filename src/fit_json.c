// SPDX-License-Identifier: MIT
// A fit for programs: JSON, CSV, and the own gear file that all commands take.
#include <math.h>
#include <string.h>

#include "firnhaul_fit.h"
#include "json.h"
#include "text.h"

static void put_fitted(fhi_json *j, const fh_gear *gear, const fh_fitted *x) {
  const fh_item *item = fh_gear_item(gear, x->item);
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "name", x->name);
  fhi_json_text(j, "item", item != NULL ? item->name : "");
  fhi_json_text(j, "figure", x->friction ? "friction" : "efficiency");
  fhi_json_number(j, "value", x->value);
  fhi_json_number(j, "low", x->lo);
  fhi_json_number(j, "high", x->hi);
  fhi_json_number(j, "log_loss_error", x->error);
  fhi_json_band(j, "before", x->catalogue);
  fhi_json_close(j, '}');
}

static void put_correlation(fhi_json *j, const fh_fit *f) {
  fhi_json_open(j, "correlation", '[');
  for (int i = 0; i < f->count; i++) {
    fhi_json_open(j, NULL, '[');
    for (int k = 0; k < f->count; k++) {
      fhi_json_number(j, NULL, f->correlation[i][k]);
    }
    fhi_json_close(j, ']');
  }
  fhi_json_close(j, ']');
}

static void put_rows(fhi_json *j, const fh_reading *readings, const fh_fit *f) {
  fhi_json_open(j, "readings", '[');
  for (int i = 0; i < f->readings; i++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_integer(j, "line", readings[i].line);
    fhi_json_number(j, "hand_N", readings[i].hand);
    fhi_json_number(j, "predicted_N", f->rows[i].predicted);
    fhi_json_number(j, "residual", f->rows[i].residual);
    fhi_json_number(j, "student", f->rows[i].student);
    fhi_json_flag(j, "flagged", f->rows[i].flagged);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

fh_status fh_fit_write_json(const fh_gear *gear, const fh_reading *readings, const fh_fit *f, fh_out out) {
  static const char *const OUTCOMES[] = {"solved", "infeasible", "unresolved"};
  fhi_writer w;
  if (gear == NULL || readings == NULL || f == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  bool solved = f->outcome == FH_OUTCOME_SOLVED;
  fhi_json_open(&j, NULL, '{');
  fhi_json_text(&j, "firnhaul", FH_VERSION);
  fhi_json_text(&j, "outcome", OUTCOMES[f->outcome]);
  fhi_json_text(&j, "why", f->why);
  fhi_json_integer(&j, "flagged", f->flagged);
  fhi_json_integer(&j, "freedom", f->freedom);
  fhi_json_number(&j, "scatter", solved ? f->scatter : (double)NAN);
  fhi_json_open(&j, "fitted", '[');
  for (int i = 0; i < f->count && solved; i++) {
    put_fitted(&j, gear, &f->fitted[i]);
  }
  fhi_json_close(&j, ']');
  if (solved) {
    put_correlation(&j, f);
  }
  put_rows(&j, readings, f);
  fhi_json_close(&j, '}');
  fhi_put(&w, "\n");
  return fhi_writer_end(&w);
}

fh_status fh_fit_write_csv(const fh_reading *readings, const fh_fit *f, fh_out out) {
  fhi_writer w;
  if (readings == NULL || f == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_put(&w, "line,hand_N,predicted_N,residual,student,flagged\n");
  for (int i = 0; i < f->readings; i++) {
    const double cells[] = {readings[i].hand, f->rows[i].predicted, f->rows[i].residual, f->rows[i].student};
    fhi_putf(&w, "%d", readings[i].line);
    for (int k = 0; k < 4; k++) {
      fhi_put(&w, ",");
      if (isfinite(cells[k])) {
        fhi_put_json_number(&w, cells[k]);
      }
    }
    fhi_putf(&w, ",%d\n", f->rows[i].flagged ? 1 : 0);
  }
  return fhi_writer_end(&w);
}

// Rounded outward to three decimals: never surer than it is.
static void put_range(fhi_writer *w, const fh_fitted *x) {
  char lo[32], mid[32], hi[32];
  double least = x->friction ? 0.0 : 0.05, most = x->friction ? 3.0 : 1.0;
  double a = fmax(least, floor(x->lo * 1000.0) / 1000.0), b = fmin(most, ceil(x->hi * 1000.0) / 1000.0);
  double likely = fmin(fmax(floor(x->value * 1000.0 + 0.5) / 1000.0, a), b);
  fhi_putf(w, "{low: %s, likely: %s, high: %s}", fhi_fixed(lo, sizeof lo, a, 3), fhi_fixed(mid, sizeof mid, likely, 3), fhi_fixed(hi, sizeof hi, b, 3));
}

fh_status fh_fit_write_gear(const fh_gear *gear, const fh_fit *f, fh_out out) {
  fhi_writer w;
  char scatter[32];
  if (gear == NULL || f == NULL || out.write == NULL || f->outcome != FH_OUTCOME_SOLVED) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_putf(&w, "# Fitted to %d readings, %d of them left out; a reading scatters by %s %%. Ranges are 95 %% intervals.\n", f->readings, f->flagged,
           fhi_fixed(scatter, sizeof scatter, ceil(1000.0 * f->scatter) / 10.0, 1));
  fhi_put(&w, "# They hold for this gear, this rope and this snow, on that day.\nfirnhaul_gear: 1\nitems:\n");
  for (int i = 0; i < f->count; i++) {
    const fh_fitted *x = &f->fitted[i];
    const fh_item *item = fh_gear_item(gear, x->item);
    if (item != NULL) {
      fhi_putf(&w, "  - name: %s\n    source: fitted to load-cell readings\n    %s: ", item->name, x->friction ? "friction" : "efficiency");
    } else {
      fhi_put(&w, "  - name: own-lip\n    class: surface\n    source: fitted to load-cell readings\n    friction: ");
    }
    put_range(&w, x);
    fhi_put(&w, "\n");
  }
  return fhi_writer_end(&w);
}
