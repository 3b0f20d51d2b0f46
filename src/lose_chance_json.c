// SPDX-License-Identifier: MIT
// Chances of what lets go, for programs: as the losses of lose, stage by stage.
#include "firnhaul_chance.h"
#include "json.h"

static void put_loss(fhi_json *j, const char *name, const fh_loss_chance *x) {
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "element", name);
  fhi_json_number(j, "there", x->there);
  fhi_json_number(j, "bears", x->bears);
  fhi_json_number(j, "caught", x->caught);
  fhi_json_number(j, "held", x->held);
  fhi_json_quantiles(j, "drop_m", x->drop);
  fhi_json_quantiles(j, "peak_N", x->peak);
  fhi_json_close(j, '}');
}

static void put_stages(fhi_json *j, const fh_lose *lose, const fh_lose_chance *c) {
  fhi_json_open(j, "stages", '[');
  for (int s = 0; s < c->stages; s++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "name", lose->stages->stages[s].name);
    fhi_json_integer(j, "step", lose->stages->stages[s].step);
    fhi_json_open(j, "elements", '[');
    for (int e = 0; e < c->elements; e++) {
      const fh_loss_chance *x = &c->losses[s * c->elements + e];
      if (x->there > 0.0 && x->bears > 0.0) {
        put_loss(j, lose->elements[e].name, x);
      }
    }
    fhi_json_close(j, ']');
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

fh_status fh_lose_chance_write_json(const fh_lose *lose, const fh_lose_chance *c, fh_out out) {
  fhi_writer w;
  if (lose == NULL || c == NULL || out.write == NULL || lose->stages->count != c->stages || lose->element_count != c->elements) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_integer(&j, "samples", c->samples);
  fhi_json_integer(&j, "seed", (long long)c->seed);
  fhi_json_number(&j, "rope", c->rope);
  fhi_json_number(&j, "caught", c->caught);
  fhi_json_number(&j, "held", c->held);
  fhi_json_number(&j, "standard_error", c->error);
  fhi_json_quantiles(&j, "farthest_drop_m", c->drop);
  fhi_json_quantiles(&j, "highest_peak_N", c->peak);
  put_stages(&j, lose, c);
  fhi_json_open(&j, "unknowns", '[');
  for (int i = 0; i < c->unknown_count; i++) {
    fhi_json_open(&j, NULL, '{');
    fhi_json_text(&j, "name", c->unknown[i].name);
    fhi_json_band(&j, "range", fh_number_band(c->unknown[i].number));
    fhi_json_close(&j, '}');
  }
  fhi_json_close(&j, ']');
  fhi_json_open(&j, "stood_at_likely", '[');
  for (int i = 0; i < c->stood_count; i++) {
    fhi_json_text(&j, NULL, c->stood[i]);
  }
  fhi_json_close(&j, ']');
  fhi_json_close(&j, '}');
  fhi_put(&w, "\n");
  return fhi_writer_end(&w);
}
