// SPDX-License-Identifier: MIT
// Text without locale: bounded copies, numbers in and out, and the writer that every document goes through.
#ifndef FHI_TEXT_H
#define FHI_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

#include "firnhaul.h"

/// Copies at most size - 1 bytes, never splitting a UTF-8 character, and ends with NUL. @return true when all of it fitted
bool fhi_copy(char *to, size_t size, const char *from);

/// snprintf that never fails: cuts at the end, on a character's edge. @return true when all of it fitted
bool fhi_format(char *to, size_t size, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 3, 4)))
#endif
    ;

/// The same with its arguments in a list.
bool fhi_format_list(char *to, size_t size, const char *format, va_list list)
#if defined(__GNUC__)
    __attribute__((format(printf, 3, 0)))
#endif
    ;

/// Reads a decimal number (JSON's form, and also 5., .5, +5) without locale. Correct to 1 ulp. @return false unless all of the text is a finite number
bool fhi_parse_number(const char *text, size_t count, double *out);

/// Fixed decimals, point, no "-0". @param decimals 0 to 9. NaN gives "?", infinity "inf". @return to
const char *fhi_fixed(char *to, size_t size, double value, int decimals);

/// The digits of the shortest text: value = digits / 10^tens to the last binary place, zeros at the end not yet left out. @return false where this exact way does not reach: outside 1e-11 to below 1e16, and some powers of two
bool fhi_short_digits(double value, uint64_t *digits, int *tens);

/// Shortest text among 1 to 17 significant digits that reads back as the same double; JSON's form. NaN and infinity give "null". @return to
const char *fhi_shortest(char *to, size_t size, double value);

/// A sentence of the core, which speaks of m, kg, N and kN, as it reads in these units: "6.8 m" becomes "22.3 ft". @return to
const char *fhi_said(char *to, size_t size, const char *text, fh_units units);

/// Does this blank stand between a number and its unit ("8.5 m", "300 N", "50 %")? No line breaks there. @param from where the text begins
bool fhi_is_tied(const char *from, const char *at);

/// Is this character the point of a decimal number, which German, French and Italian write as a comma? Not within names ("rope-1.5",
/// "v1.2"), dates, versions and addresses. @param from where the text begins
bool fhi_is_decimal_point(const char *from, const char *at);

/// A writer with its own state: after the first failure it stays silent and keeps the status.
typedef struct fhi_writer {
  fh_out out;
  fh_status status;
  char buffer[1024];
  size_t used;
} fhi_writer;

void fhi_writer_start(fhi_writer *w, fh_out out);
void fhi_put(fhi_writer *w, const char *text);
void fhi_put_bytes(fhi_writer *w, const char *bytes, size_t count);
void fhi_putf(fhi_writer *w, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;
void fhi_put_json_text(fhi_writer *w, const char *text);    ///< quoted and escaped
void fhi_put_json_number(fhi_writer *w, double value);      ///< shortest; null when not finite
void fhi_put_xml_text(fhi_writer *w, const char *text);     ///< escaped for SVG text and attributes; control characters dropped
fh_status fhi_writer_end(fhi_writer *w);                    ///< flushes. @return what went wrong first, or FH_OK

#endif
