// SPDX-License-Identifier: MIT
// What every unit test includes: cmocka, and comparisons of doubles, which cmocka 1.1.5 casts to float.
// Each failing line prints both values, the difference and the tolerance.
#ifndef FH_TEST_H
#define FH_TEST_H

// Tests may use what POSIX has (mkdtemp, symlink, fork): this header comes first, so it may say so.
#ifndef _XOPEN_SOURCE
#define _XOPEN_SOURCE 700
#endif

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "firnhaul.h"

// cmocka 1.1.5 casts the condition itself to an unsigned type, which -Wsign-conversion takes ill of isnan() and its like.
#undef assert_true
#undef assert_false
#define assert_true(condition) _assert_true((condition) ? 1u : 0u, #condition, __FILE__, __LINE__)
#define assert_false(condition) _assert_true((condition) ? 0u : 1u, "not " #condition, __FILE__, __LINE__)

// Fails unless `ok`; a NaN on either side has to make `ok` false.
static inline void fh_test_double(bool ok, double got, double want, double tolerance, const char *how, const char *text,
                                  const char *file, int line) {
  if (!ok) {
    print_error("%s: got %.17g, want %.17g, off by %.3g, allowed %.3g %s\n", text, got, want, got - want, tolerance,
                how);
    _fail(file, line);
  }
}

/// |got - want| <= tolerance
#define assert_near(got, want, tolerance)                                                                \
  do {                                                                                                   \
    double got_ = (got), want_ = (want), tol_ = (tolerance);                                             \
    fh_test_double(fabs(got_ - want_) <= tol_, got_, want_, tol_, "absolute", #got, __FILE__, __LINE__); \
  } while (0)

/// |got - want| <= tolerance |want|
#define assert_close(got, want, tolerance)                                                                             \
  do {                                                                                                                 \
    double got_ = (got), want_ = (want), tol_ = (tolerance);                                                           \
    fh_test_double(fabs(got_ - want_) <= tol_ * fabs(want_), got_, want_, tol_, "relative", #got, __FILE__, __LINE__); \
  } while (0)

/// The same number; NaN equals nothing.
#define assert_exact(got, want)                                                                          \
  do {                                                                                                   \
    double got_ = (got), want_ = (want);                                                                 \
    fh_test_double(got_ <= want_ && got_ >= want_, got_, want_, 0.0, "exact", #got, __FILE__, __LINE__); \
  } while (0)

/// lo <= got <= hi
#define assert_within(got, lo, hi)                                                                               \
  do {                                                                                                           \
    double got_ = (got), lo_ = (lo), hi_ = (hi);                                                                 \
    fh_test_double(got_ >= lo_ && got_ <= hi_, got_, got_ < lo_ ? lo_ : hi_, 0.0, "nearest end", #got, __FILE__, \
                   __LINE__);                                                                                    \
  } while (0)

#define assert_nan(got)                                                                                  \
  do {                                                                                                   \
    double got_ = (got);                                                                                 \
    fh_test_double(isnan(got_) != 0, got_, 0.0, 0.0, "(not a number wanted)", #got, __FILE__, __LINE__); \
  } while (0)

/// A status, shown by its sentence.
#define assert_status(got, want)                                                \
  do {                                                                          \
    fh_status got_ = (got), want_ = (want);                                     \
    if (got_ != want_) {                                                        \
      print_error("%s: got status %d, want %d\n", #got, (int)got_, (int)want_); \
      _fail(__FILE__, __LINE__);                                                \
    }                                                                           \
  } while (0)

/// A writer's far end that keeps what it gets: fh_out out = {fh_test_collect, &text}; free(text.bytes) afterwards.
/// It refuses everything once `limit` bytes are reached (0: no limit).
typedef struct fh_test_text {
  char *bytes;  // ends in NUL
  size_t count, limit;
} fh_test_text;

static inline int fh_test_collect(void *user, const char *bytes, size_t count) {
  fh_test_text *text = user;
  if (text->limit != 0 && text->count + count > text->limit) {
    return 1;
  }
  char *grown = realloc(text->bytes, text->count + count + 1);
  if (grown == NULL) {
    return 1;
  }
  memcpy(grown + text->count, bytes, count);
  text->bytes = grown;
  text->count += count;
  text->bytes[text->count] = '\0';
  return 0;
}

/// A whole file; free(.bytes) afterwards.
static inline fh_test_text fh_test_read(const char *path) {
  fh_test_text text = {0};
  char part[4096];
  FILE *file = fopen(path, "rb");
  assert_non_null(file);
  for (size_t n = fread(part, 1, sizeof part, file); n > 0; n = fread(part, 1, sizeof part, file)) {
    assert_int_equal(fh_test_collect(&text, part, n), 0);
  }
  (void)fclose(file);
  return text;
}

#endif
