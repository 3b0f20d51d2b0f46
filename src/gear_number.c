// SPDX-License-Identifier: MIT
// Which number does an own gear file say: a value, a range or a distribution? The forms are those of a scene; model
// section 12. The accepted range stands in the file's own table.
#include <math.h>

#include "gear_keys.h"
#include "read.h"
#include "text.h"

static bool refuse_number(fhi_reading *r, int node, const fhi_gear_key *k, const char *what) {
  char lo[40], hi[40], accepted[200];
  (void)fhi_shortest(lo, sizeof lo, k->lo);
  (void)fhi_shortest(hi, sizeof hi, k->hi);
  (void)fhi_format(accepted, sizeof accepted, "%s to %s: a number, [low, high], {low, likely, high} or {mean, sd}", lo, hi);
  return fhi_refuse(r, node, accepted, "%s", what);
}

static bool plain(fhi_reading *r, int node, const fhi_gear_key *k, double lo, double hi, double *out) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  if (n->kind != FHI_NODE_SCALAR || n->quoted || !fhi_parse_number(fhi_doc_text(r->doc, node), n->length, out)) {
    return refuse_number(r, node, k, "not a number");
  }
  if (!(*out >= lo && *out <= hi)) {
    return refuse_number(r, node, k, "out of range");
  }
  return true;
}

static bool rising(fhi_reading *r, int node, const fhi_gear_key *k, const double *v) {
  return v[0] <= v[1] && v[1] <= v[2] ? true : refuse_number(r, node, k, "the range is upside down");
}

static bool read_range(fhi_reading *r, int node, const fhi_gear_key *k, double *v) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  if (n->count != 2) {
    return refuse_number(r, node, k, "a range has two numbers");
  }
  if (!plain(r, n->first, k, k->lo, k->hi, &v[0]) || !plain(r, n->last, k, k->lo, k->hi, &v[2])) {
    return false;
  }
  v[1] = 0.5 * (v[0] + v[2]);
  return rising(r, node, k, v);
}

static bool read_triangle(fhi_reading *r, int node, const fhi_gear_key *k, double *v) {
  static const char *const NAMES[] = {"low", "likely", "high"};
  for (int i = 0; i < 3; i++) {
    int at = fhi_doc_find(r->doc, node, NAMES[i]);
    if (at < 0) {
      return refuse_number(r, node, k, "not a distribution");
    }
    if (!plain(r, at, k, k->lo, k->hi, &v[i])) {
      return false;
    }
  }
  return rising(r, node, k, v);
}

static bool read_normal(fhi_reading *r, int mean_at, int sd_at, const fhi_gear_key *k, double *v, double *sd) {
  if (!plain(r, mean_at, k, k->lo, k->hi, &v[1]) || !plain(r, sd_at, k, 0.0, k->hi - k->lo, sd)) {
    return false;
  }
  if (!(*sd > 0.0)) {
    return refuse_number(r, sd_at, k, "the standard deviation must be above 0");
  }
  v[0] = fmax(v[1] - 2.0 * *sd, k->lo);
  v[2] = fmin(v[1] + 2.0 * *sd, k->hi);
  return true;
}

bool fhi_gear_number(fhi_reading *r, int node, const fhi_gear_key *k, fh_number *out) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  double v[3] = {0.0, 0.0, 0.0}, sd = 0.0;
  bool good;
  fh_spread spread;
  if (n->kind == FHI_NODE_LIST) {
    spread = FH_SPREAD_UNIFORM;
    good = read_range(r, node, k, v);
  } else if (n->kind == FHI_NODE_MAP) {
    int mean_at = fhi_doc_find(r->doc, node, "mean"), sd_at = fhi_doc_find(r->doc, node, "sd");
    bool normal = mean_at >= 0 && sd_at >= 0 && n->count == 2;
    spread = normal ? FH_SPREAD_NORMAL : FH_SPREAD_TRIANGLE;
    good = normal         ? read_normal(r, mean_at, sd_at, k, v, &sd)
           : n->count == 3 ? read_triangle(r, node, k, v)
                           : refuse_number(r, node, k, "not a distribution");
  } else {
    spread = FH_SPREAD_EXACT;
    good = plain(r, node, k, k->lo, k->hi, &v[1]);
    v[0] = v[2] = v[1];
  }
  if (good) {
    *out = (fh_number){.spread = spread, .lo = v[0] * k->up / k->down, .likely = v[1] * k->up / k->down,
                       .hi = v[2] * k->up / k->down, .sd = sd * k->up / k->down, .line = n->line, .column = n->column};
  }
  return good;
}
