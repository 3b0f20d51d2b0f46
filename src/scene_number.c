// SPDX-License-Identifier: MIT
// Which number does the scene say: a value, a range or a distribution? Model section 12.
// The forms: 92; [85, 100] (uniform); {low: 80, likely: 92, high: 110} (triangle); {mean: 92, sd: 6} (normal).
#include <math.h>
#include <string.h>

#include "read.h"
#include "text.h"

static bool refuse_number(fhi_reading *r, int node, const fh_key *key, const char *what) {
  char accepted[200], shown[48];
  fhi_accepts(r, fhi_key_row(key->path), accepted, sizeof accepted);
  const fhi_node *n = fhi_doc_node(r->doc, node);
  if (n->kind != FHI_NODE_SCALAR) {
    return fhi_refuse(r, node, accepted, "%s", what);
  }
  return fhi_refuse(r, node, accepted, "%s: %s%s", what, fhi_shown(shown, sizeof shown, fhi_doc_text(r->doc, node)),
                    n->quoted ? " (in quotes, so it is text)" : "");
}

// One plain number within the row's range, still in the document's unit.
static bool plain(fhi_reading *r, int node, const fh_key *key, double *out) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  if (n->kind != FHI_NODE_SCALAR || n->quoted || !fhi_parse_number(fhi_doc_text(r->doc, node), n->length, out)) {
    return refuse_number(r, node, key, "not a number");
  }
  if (!(*out >= key->lo && *out <= key->hi)) {
    return refuse_number(r, node, key, "out of range");
  }
  return true;
}

static fh_number in_si(const fh_key *key, fh_spread spread, double lo, double likely, double hi, double sd) {
  return (fh_number){.spread = spread,
                     .lo = fhi_to_si(key->unit, lo),
                     .likely = fhi_to_si(key->unit, likely),
                     .hi = fhi_to_si(key->unit, hi),
                     .sd = fhi_to_si(key->unit, sd)};
}

static fh_number uniform(const fh_key *key, double lo, double hi) {
  fh_number n = in_si(key, FH_SPREAD_UNIFORM, lo, lo, hi, 0.0);
  n.likely = 0.5 * (n.lo + n.hi);
  return n;
}

static bool range(fhi_reading *r, int node, const fh_key *key, fh_number *out) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  if (n->kind != FHI_NODE_LIST || n->count != 2) {
    return refuse_number(r, node, key, "a range has two numbers");
  }
  double lo = 0.0, hi = 0.0;
  if (!plain(r, n->first, key, &lo) || !plain(r, n->last, key, &hi)) {
    return false;
  }
  if (lo > hi) {
    return fhi_refuse(r, node, "[low, high], low first", "the range is upside down");
  }
  *out = uniform(key, lo, hi);
  return true;
}

// The map's numbers by name. @return false when a key is none of these, or one is missing
static bool named(fhi_reading *r, int node, const char *const *names, int count, int *nodes) {
  if (fhi_doc_node(r->doc, node)->count != count) {
    return false;
  }
  for (int i = 0; i < count; i++) {
    nodes[i] = fhi_doc_find(r->doc, node, names[i]);
    if (nodes[i] < 0) {
      return false;
    }
  }
  return true;
}

static bool triangle(fhi_reading *r, const fh_key *key, int node, const int *nodes, fh_number *out) {
  double v[3] = {0.0};
  for (int i = 0; i < 3; i++) {
    if (!plain(r, nodes[i], key, &v[i])) {
      return false;
    }
  }
  if (!(v[0] <= v[1] && v[1] <= v[2])) {
    return fhi_refuse(r, node, "low, likely and high in rising order", "the range is upside down");
  }
  *out = in_si(key, FH_SPREAD_TRIANGLE, v[0], v[1], v[2], 0.0);
  return true;
}

// The spread of a normal number can be small, so only its sign is checked; lo and hi are two sd out, cut at the key's range.
static bool normal(fhi_reading *r, const fh_key *key, const int *nodes, fh_number *out) {
  const fhi_node *n = fhi_doc_node(r->doc, nodes[1]);
  double mean = 0.0, sd = 0.0;
  if (!plain(r, nodes[0], key, &mean)) {
    return false;
  }
  if (n->kind != FHI_NODE_SCALAR || n->quoted || !fhi_parse_number(fhi_doc_text(r->doc, nodes[1]), n->length, &sd) ||
      !(sd > 0.0 && sd <= key->hi - key->lo)) {
    return fhi_refuse(r, nodes[1], "a number above 0, not wider than the accepted range", "not a standard deviation");
  }
  *out = in_si(key, FH_SPREAD_NORMAL, fmax(mean - 2.0 * sd, key->lo), mean, fmin(mean + 2.0 * sd, key->hi), sd);
  return true;
}

static bool distribution(fhi_reading *r, int node, const fh_key *key, fh_number *out) {
  static const char *const TRIANGLE[] = {"low", "likely", "high"};
  static const char *const NORMAL[] = {"mean", "sd"};
  int nodes[3];
  if (named(r, node, TRIANGLE, 3, nodes)) {
    return triangle(r, key, node, nodes, out);
  }
  if (named(r, node, NORMAL, 2, nodes)) {
    return normal(r, key, nodes, out);
  }
  return refuse_number(r, node, key, "not a distribution");
}

bool fhi_read_number(fhi_reading *r, int node, const fh_key *key, fhi_form form, fh_number *out) {
  const fhi_node *n = fhi_doc_node(r->doc, node);
  double value = 0.0;
  bool good = false;
  if (form == FHI_FORM_RANGE || (form == FHI_FORM_NUMBER && n->kind == FHI_NODE_LIST)) {
    good = range(r, node, key, out);
  } else if (form == FHI_FORM_NUMBER && n->kind == FHI_NODE_MAP) {
    good = distribution(r, node, key, out);
  } else if (plain(r, node, key, &value)) {
    *out = fh_number_exact(fhi_to_si(key->unit, value));
    good = true;
  }
  if (good) {
    out->line = n->line;
    out->column = n->column;
  }
  return good;
}

fh_number fhi_default_number(const fh_key *key) {
  const char *text = key->fallback;
  double lo = 0.0, hi = 0.0;
  if (text[0] == '[') {
    const char *comma = strchr(text, ',');
    const char *close = strchr(text, ']');
    if (comma != NULL && close != NULL && fhi_parse_number(text + 1, (size_t)(comma - text - 1), &lo) &&
        fhi_parse_number(comma + 2, (size_t)(close - comma - 2), &hi)) {
      return uniform(key, lo, hi);
    }
  } else if (fhi_parse_number(text, strlen(text), &lo)) {
    return fh_number_exact(fhi_to_si(key->unit, lo));
  }
  return fh_number_unset();
}
