// SPDX-License-Identifier: MIT
// How does a report become JSON? One place keeps commas, indentation and escapes right.
#include "json.h"

#include <math.h>

static void new_line(fhi_json *j) {
  fhi_put(j->w, "\n");
  for (int i = 0; i < j->depth; i++) {
    fhi_put(j->w, "  ");
  }
}

void fhi_json_key(fhi_json *j, const char *key) {
  if (j->depth > 0) {
    if (!j->first) {
      fhi_put(j->w, ",");
    }
    new_line(j);
  }
  j->first = false;
  if (key != NULL) {
    fhi_put_json_text(j->w, key);
    fhi_put(j->w, ": ");
  }
}

void fhi_json_open(fhi_json *j, const char *key, char bracket) {
  fhi_json_key(j, key);
  fhi_put_bytes(j->w, &bracket, 1);
  j->depth++;
  j->first = true;
}

void fhi_json_close(fhi_json *j, char bracket) {
  bool empty = j->first;
  j->depth--;
  j->first = false;
  if (!empty) {
    new_line(j);
  }
  fhi_put_bytes(j->w, &bracket, 1);
  if (j->depth == 0) {
    fhi_put(j->w, "\n");
  }
}

void fhi_json_text(fhi_json *j, const char *key, const char *text) {
  fhi_json_key(j, key);
  fhi_put_json_text(j->w, text);
}

void fhi_json_number(fhi_json *j, const char *key, double value) {
  fhi_json_key(j, key);
  fhi_put_json_number(j->w, value);
}

void fhi_json_integer(fhi_json *j, const char *key, long long value) {
  fhi_json_key(j, key);
  fhi_putf(j->w, "%lld", value);
}

void fhi_json_flag(fhi_json *j, const char *key, bool value) {
  fhi_json_key(j, key);
  fhi_put(j->w, value ? "true" : "false");
}

void fhi_json_null(fhi_json *j, const char *key) {
  fhi_json_key(j, key);
  fhi_put(j->w, "null");
}

void fhi_json_band(fhi_json *j, const char *key, fh_band band) {
  fhi_json_key(j, key);
  fhi_put(j->w, "{\"low\": ");
  fhi_put_json_number(j->w, band.lo);
  fhi_put(j->w, ", \"likely\": ");
  fhi_put_json_number(j->w, band.likely);
  fhi_put(j->w, ", \"high\": ");
  fhi_put_json_number(j->w, band.hi);
  fhi_put(j->w, "}");
}

void fhi_json_quantiles(fhi_json *j, const char *key, fh_band band) {
  if (isnan(band.likely)) {
    fhi_json_null(j, key);
    return;
  }
  fhi_json_open(j, key, '{');
  fhi_json_number(j, "p5", band.lo);
  fhi_json_number(j, "p50", band.likely);
  fhi_json_number(j, "p95", band.hi);
  fhi_json_close(j, '}');
}

void fhi_json_range(fhi_json *j, const char *key, fh_band band) {
  fhi_json_key(j, key);
  fhi_put(j->w, "{\"low\": ");
  fhi_put_json_number(j->w, band.lo);
  fhi_put(j->w, ", \"high\": ");
  fhi_put_json_number(j->w, band.hi);
  fhi_put(j->w, "}");
}
