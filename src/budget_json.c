// SPDX-License-Identifier: MIT
// What does a rope budget look like to a machine? One JSON object, metric, units in the keys; unknown numbers are null.
#include "json.h"
#include "report.h"

#include <math.h>

#include "firnhaul_rescue.h"

static void write_end(fhi_json *j, const char *key, const fh_budget_end *e) {
  fhi_json_open(j, key, '{');
  fhi_json_number(j, "spare_m", e->spare);
  fhi_json_number(j, "usable_m", e->usable);
  fhi_json_number(j, "loop_needs_m", e->loop_needs);
  fhi_json_number(j, "loop_missing_m", e->loop_missing);
  fhi_json_number(j, "loop_missing_anchored_m", e->loop_missing_anchored);
  fhi_json_number(j, "raise_needs_m", e->raise_needs);
  fhi_json_number(j, "raise_missing_m", e->raise_missing);
  fhi_json_close(j, '}');
}

// What was asked, as it was understood.
static void write_given(fhi_json *j, const fh_budget_in *in) {
  fhi_json_open(j, "given", '{');
  fhi_json_number(j, "length_m", in->length);
  fhi_json_integer(j, "people", in->people);
  fhi_json_number(j, "spacing_m", in->spacing);
  fhi_json_number(j, "coils_first_m", in->coils_first);
  fhi_json_number(j, "coils_last_m", in->coils_last);
  fhi_json_integer(j, "knots_a_span", in->knots);
  fhi_json_number(j, "knot_takes_m", in->per_knot);
  fhi_json_number(j, "tie_takes_m", in->per_tie);
  fhi_json_number(j, "anchor_m", in->set_back);
  fhi_json_number(j, "stroke_m", in->stroke);
  fhi_json_close(j, '}');
}

fh_status fh_budget_write_json(const fh_budget_in *in, const fh_budget_out *budget, fh_out out) {
  fhi_writer w;
  if (in == NULL || budget == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '{');
  write_given(&j, in);
  fhi_json_number(&j, "spans_m", budget->spans);
  fhi_json_number(&j, "in_knots_m", budget->in_knots);
  fhi_json_number(&j, "in_ties_m", budget->in_ties);
  fhi_json_number(&j, "free_m", budget->free_rope);
  write_end(&j, "first", &budget->first);
  write_end(&j, "last", &budget->last);
  fhi_json_number(&j, "widest_spacing_m", budget->widest_loop);
  fhi_json_number(&j, "widest_spacing_anchored_m", budget->widest_loop_anchored);
  fhi_json_number(&j, "widest_spacing_spare_at_one_end_m", budget->widest_loop_last);
  fhi_json_number(&j, "widest_spacing_raise_m", budget->widest_raise);
  if (isnan(in->spacing)) {
    fhi_json_null(&j, "loop_enough");
    fhi_json_null(&j, "raise_enough");
  } else {
    fhi_json_flag(&j, "loop_enough", budget->loop_enough);
    fhi_json_flag(&j, "raise_enough", budget->raise_enough);
  }
  fhi_json_text(&j, "caution", FHI_CAUTION);
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}
