// SPDX-License-Identifier: MIT
// The designs and the recommendation for a machine: one JSON object, or one row a design.
#include "firnhaul_team.h"
#include "json.h"
#include "report.h"
#include "team_scene.h"
#include "words.h"

#include <math.h>

static void write_design(fhi_json *j, const fh_scene *scene, const fh_designs *ds, int index) {
  const fh_design *d = &ds->designs[index];
  const fh_team_chance *c = &d->chance;
  double n = d->done && c->samples > 0 ? c->samples : (double)NAN;
  fhi_json_open(j, NULL, '{');
  fhi_json_integer(j, "people", d->people);
  fhi_json_text(j, "rope", scene->ropes[d->rope].name);
  fhi_json_number(j, "spacing_m", d->spacing);
  fhi_json_integer(j, "knots", d->knots);
  if (d->knots > 0) {
    fhi_json_number(j, "knot_first_m", d->knot_first);
    fhi_json_number(j, "knot_apart_m", d->knot_apart);
  }
  fhi_json_number(j, "arrested", c->arrested / n);
  fhi_json_range(j, "arrested_range", (fh_band){c->share.lo, c->share.lo, c->share.hi});
  fhi_json_number(j, "nobody_else_in", c->nobody_else_in / n);
  fh_range alone = fhi_share(c->nobody_else_in, c->samples);
  fhi_json_range(j, "nobody_else_in_range", (fh_band){alone.lo, alone.lo, alone.hi});
  fhi_write_thirds(j, c);
  fhi_json_band(j, "fall_m", c->fall);
  fhi_json_band(j, "peak_N", c->peak[0]);
  fhi_json_number(j, "spare_rope_m", d->spare);
  fhi_json_number(j, "usable_rope_m", d->usable);
  fhi_json_number(j, "beyond_loop_m", d->beyond);
  fhi_json_flag(j, "raise_possible", ds->classes[d->raise_class].possible);
  fhi_json_text(j, "raise", ds->classes[d->raise_class].why);
  fhi_json_close(j, '}');
}

fh_status fh_designs_write_json(const fh_scene *scene, const fh_designs *ds, fh_out out) {
  if (scene == NULL || ds == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_text(&j, "firnhaul", FH_VERSION);
  fhi_json_text(&j, "title", scene->title);
  fhi_json_integer(&j, "samples", ds->samples);
  fhi_json_integer(&j, "seed", (long long)ds->seed);
  fhi_json_integer(&j, "best", ds->best);
  fhi_json_text(&j, "why", ds->why);
  fhi_json_open(&j, "designs", '[');
  for (int i = 0; i < ds->count; i++) {
    write_design(&j, scene, ds, i);
  }
  fhi_json_close(&j, ']');
  fhi_json_text(&j, "caution", fhi_say(scene->language, FHI_CAUTION));
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

fh_status fh_designs_write_csv(const fh_scene *scene, const fh_designs *ds, fh_out out) {
  if (scene == NULL || ds == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "people,rope,spacing_m,knots,knot_first_m,knot_apart_m,samples,arrested,nobody_else_in,fall_m_low,fall_m,fall_m_high,spare_rope_m,"
              "usable_rope_m,raise_possible,recommended\n");
  for (int i = 0; i < ds->count; i++) {
    const fh_design *d = &ds->designs[i];
    fhi_putf(&w, "%d,", d->people);
    fhi_csv_text(&w, scene->ropes[d->rope].name);
    const double before[] = {d->spacing, d->knots, d->knots > 0 ? d->knot_first : (double)NAN, d->knots > 0 ? d->knot_apart : (double)NAN,
                             d->chance.samples, d->chance.arrested, d->chance.nobody_else_in};
    for (size_t k = 0; k < sizeof before / sizeof before[0]; k++) {
      fhi_put(&w, ",");
      fhi_csv_number(&w, before[k]);
    }
    fhi_put(&w, ",");
    fhi_csv_band(&w, d->chance.fall);
    fhi_put(&w, ",");
    fhi_csv_number(&w, d->spare);
    fhi_put(&w, ",");
    fhi_csv_number(&w, d->usable);
    fhi_putf(&w, ",%d,%d\n", ds->classes[d->raise_class].possible ? 1 : 0, i == ds->best ? 1 : 0);
  }
  return fhi_writer_end(&w);
}
