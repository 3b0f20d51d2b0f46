// SPDX-License-Identifier: MIT
// JSON out, with commas and indentation kept right: what every machine-readable report is written with.
#ifndef FHI_JSON_H
#define FHI_JSON_H

#include "text.h"

/// Where a document stands. Start with depth 0 and first true.
typedef struct fhi_json {
  fhi_writer *w;
  int depth;
  bool first;  ///< nothing has been written in the open map or list
} fhi_json;

/// A key of NULL writes a list's element, or the document itself.
void fhi_json_open(fhi_json *j, const char *key, char bracket);  ///< @param bracket '{' or '['
void fhi_json_close(fhi_json *j, char bracket);                  ///< @param bracket '}' or ']'
void fhi_json_text(fhi_json *j, const char *key, const char *text);
void fhi_json_number(fhi_json *j, const char *key, double value);  ///< null when not finite
void fhi_json_integer(fhi_json *j, const char *key, long long value);
void fhi_json_flag(fhi_json *j, const char *key, bool value);
void fhi_json_null(fhi_json *j, const char *key);
/// {"low": .., "likely": .., "high": ..} on one line.
void fhi_json_band(fhi_json *j, const char *key, fh_band band);
/// {"p5": .., "p50": .., "p95": ..}, or null when the middle is not known.
void fhi_json_quantiles(fhi_json *j, const char *key, fh_band band);
/// {"low": .., "high": ..} on one line.
void fhi_json_range(fhi_json *j, const char *key, fh_band band);
/// Room for a value that another writer gives: the key and what comes before it.
void fhi_json_key(fhi_json *j, const char *key);

#endif
