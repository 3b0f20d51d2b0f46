// SPDX-License-Identifier: MIT
// Text within bounds: how much of a text fits, cut so that no UTF-8 character is ever split.
// Formats here are for whole numbers and text only: %f, %e and %g follow the locale, see fhi_fixed and fhi_shortest.
#include "text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static bool continues(char byte) {
  return ((unsigned char)byte & 0xC0u) == 0x80u;
}

// Bytes that a character with this first byte takes; 1 for a byte that starts none.
static size_t width_of(char byte) {
  unsigned char b = (unsigned char)byte;
  return b >= 0xF0u ? 4 : b >= 0xE0u ? 3 : b >= 0xC0u ? 2 : 1;
}

// The largest length up to `count` at which `text` may be cut. Looks only at the bytes before `count`.
static size_t cut_before(const char *text, size_t count) {
  size_t start = count;
  // The last character's first byte is at most four bytes back; text that is not UTF-8 is cut as it stands.
  for (int back = 0; back < 4 && start > 0; back++) {
    start--;
    if (!continues(text[start])) {
      return count - start < width_of(text[start]) ? start : count;
    }
  }
  return count;
}

bool fhi_copy(char *to, size_t size, const char *from) {
  if (size == 0) {
    return false;
  }
  size_t length = strlen(from);
  bool fits = length < size;
  size_t count = fits ? length : cut_before(from, size - 1);
  memcpy(to, from, count);
  to[count] = '\0';
  return fits;
}

bool fhi_format(char *to, size_t size, const char *format, ...) {
  va_list list;
  va_start(list, format);
  bool fits = fhi_format_list(to, size, format, list);
  va_end(list);
  return fits;
}

// Most of what the core says is names between fixed words. @return whether %s is all that a format asks for
static bool only_names(const char *format) {
  for (const char *p = strchr(format, '%'); p != NULL; p = strchr(p + 2, '%')) {
    if (p[1] != 's') {
      return false;
    }
  }
  return true;
}

// Puts as much as there is room for. @return bytes that stand there now, were there room for all
static size_t put(char *to, size_t size, size_t at, const char *bytes, size_t count) {
  if (at < size) {
    memcpy(to + at, bytes, count < size - at ? count : size - at);
  }
  return at + count;
}

static size_t put_names(char *to, size_t size, const char *format, va_list list) {
  size_t at = 0;
  const char *mark;
  while ((mark = strchr(format, '%')) != NULL) {
    const char *name = va_arg(list, const char *);
    at = put(to, size, at, format, (size_t)(mark - format));
    at = put(to, size, at, name, strlen(name));
    format = mark + 2;
  }
  at = put(to, size, at, format, strlen(format));
  to[at < size ? at : size - 1] = '\0';
  return at;
}

bool fhi_format_list(char *to, size_t size, const char *format, va_list list) {
  if (size == 0) {
    return false;
  }
  int wanted = only_names(format) ? (int)put_names(to, size, format, list) : vsnprintf(to, size, format, list);
  if (wanted < 0) {  // an encoding error: %ls only, which the core does not use
    to[0] = '\0';
    return false;
  }
  if ((size_t)wanted >= size) {
    to[cut_before(to, size - 1)] = '\0';
    return false;
  }
  return true;
}
