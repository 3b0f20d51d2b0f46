// SPDX-License-Identifier: MIT
// How wide is a text, where may it break, and what of a user's text may stand in a figure at all?
#include "svg.h"

#include "svg_font.h"

#include <string.h>

// [1] of the type size: the tallest and the deepest glyphs of ordinary text (b, d, brackets; g, p).
static const double ABOVE = 0.78;
static const double BELOW = 0.24;

// Length and code point of the character at `text`; length 1 and code 0 where the bytes are not UTF-8 (RFC 3629).
static size_t character(const char *text, unsigned *code) {
  static const unsigned LEAST[5] = {0, 0, 0x80, 0x800, 0x10000};
  unsigned char first = (unsigned char)text[0];
  *code = 0;
  if (first < 0x80u) {
    *code = first;
    return 1;
  }
  size_t width = first >= 0xF8u ? 0 : first >= 0xF0u ? 4 : first >= 0xE0u ? 3 : first >= 0xC2u ? 2 : 0;
  unsigned value = width == 0 ? 0 : first & (0xFFu >> (width + 1));
  for (size_t i = 1; i < width; i++) {
    unsigned char next = (unsigned char)text[i];
    if ((next & 0xC0u) != 0x80u) {
      return 1;
    }
    value = (value << 6) | (next & 0x3Fu);
  }
  bool surrogate = value >= 0xD800u && value <= 0xDFFFu;
  if (width == 0 || value < LEAST[width] || value > 0x10FFFFu || surrogate) {
    return 1;
  }
  *code = value;
  return width;
}

// Control characters, marks that turn the direction of what follows, byte order marks, line and paragraph separators,
// characters for private use, tags, and non-characters: they can hide or reorder what a reader sees.
static bool is_harmful(unsigned code) {
  return code < 0x20u || (code >= 0x7Fu && code <= 0x9Fu) || code == 0xADu || code == 0x61Cu || (code >= 0x200Bu && code <= 0x200Fu) ||
         (code >= 0x2028u && code <= 0x202Eu) || (code >= 0x2060u && code <= 0x206Fu) || (code >= 0xE000u && code <= 0xF8FFu) ||
         (code >= 0xFDD0u && code <= 0xFDEFu) || code == 0xFEFFu || (code >= 0xFFF0u && code <= 0xFFFBu) || (code & 0xFFFEu) == 0xFFFEu ||
         code >= 0xE0000u;
}

// Marks that stand on the character before them.
static bool is_combining(unsigned code) {
  return (code >= 0x300u && code <= 0x36Fu) || (code >= 0x483u && code <= 0x489u) || (code >= 0x591u && code <= 0x5BDu) ||
         (code >= 0x64Bu && code <= 0x65Fu) || (code >= 0x1AB0u && code <= 0x1AFFu) || (code >= 0x1DC0u && code <= 0x1DFFu) ||
         (code >= 0x20D0u && code <= 0x20FFu) || (code >= 0xFE00u && code <= 0xFE2Fu);
}

const char *fhi_text_clean(char *to, size_t size, const char *from) {
  size_t used = 0;
  int marks = 0;  // on the character before; a tower of them would leave its line
  while (*from != '\0') {
    unsigned code = 0;
    size_t count = character(from, &code);
    bool white = code == '\n' || code == '\t' || code == '\r';
    marks = is_combining(code) ? marks + 1 : 0;
    if (used + count + 1 > size) {
      break;
    }
    if (white) {
      to[used++] = ' ';
    } else if (!is_harmful(code) && marks <= 1) {
      memcpy(to + used, from, count);
      used += count;
    }
    from += count;
  }
  to[used] = '\0';
  return to;
}

// [1] of the type size. Outside the table the width is not known: as wide as the widest faces draw such characters.
static double advance(unsigned code, bool bold) {
  if (is_combining(code)) {
    return 0.0;
  }
  int width = fhi_font_advance(code, bold);
  if (width > 0) {
    return (double)width / FHI_FONT_EM;
  }
  return code >= 0x1F000u ? 1.4 : 1.15;
}

double fhi_text_width(const char *text, double size, bool bold) {
  double width = 0.0;
  while (*text != '\0') {
    unsigned code = 0;
    text += character(text, &code);
    width += advance(code, bold);
  }
  return width * size;
}

const char *fhi_text_fit(char *to, size_t to_size, const char *text, fhi_font font, double room) {
  if (fhi_text_width(text, font.size, font.bold) <= room) {
    (void)fhi_copy(to, to_size, text);
    return to;
  }
  static const char DOTS[] = "\xE2\x80\xA6";
  double left = room - fhi_text_width(DOTS, font.size, font.bold);
  size_t used = 0;
  while (text[used] != '\0' && to_size > sizeof DOTS) {
    unsigned code = 0;
    size_t count = character(text + used, &code);
    left -= advance(code, font.bold) * font.size;
    if (left < 0.0 || used + count > to_size - sizeof DOTS) {
      break;
    }
    used += count;
  }
  while (used > 0 && text[used - 1] == ' ') {
    used--;
  }
  (void)fhi_format(to, to_size, "%.*s%s", (int)used, text, DOTS);
  return to;
}

size_t fhi_text_line(const char *text, fhi_font font, double room, size_t *next) {
  size_t at = 0;
  size_t space = 0;  // the last blank that fitted
  size_t tied = 0;   // the same before a unit: only where there is no other
  double width = 0.0;
  while (text[at] != '\0') {
    unsigned code = 0;
    size_t count = character(text + at, &code);
    width += advance(code, font.bold) * font.size;
    if (code == ' ') {
      *(fhi_is_tied(text, text + at) ? &tied : &space) = at;
    }
    if (width > room && at > 0) {
      // A word longer than the line is broken where it must be.
      space = space > 0 ? space : tied;
      size_t end = space > 0 ? space : at;
      *next = space > 0 ? space + 1 : at;
      return end;
    }
    at += count;
  }
  *next = at;
  return at;
}

fhi_box fhi_text_box(double x, double y, fhi_align align, fhi_font font, const char *text) {
  double width = fhi_text_width(text, font.size, font.bold);
  double left = align == FHI_START ? x : align == FHI_MIDDLE ? x - width / 2.0 : x - width;
  return (fhi_box){left, y - ABOVE * font.size, width, (ABOVE + BELOW) * font.size};
}

double fhi_svg_paragraph(fhi_svg *svg, double x, double y, double room, fhi_font font, const char *text, int lines) {
  char clean[5 * FHI_SVG_TEXT];
  char line[FHI_SVG_TEXT];
  const char *rest = fhi_text_clean(clean, sizeof clean, text);
  for (int i = 0; i < lines && *rest != '\0'; i++) {
    size_t next = 0;
    size_t count = fhi_text_line(rest, font, room, &next);
    if (i == lines - 1 && rest[next] != '\0') {
      fhi_text_fit(line, sizeof line, rest, font, room);
    } else {
      (void)fhi_format(line, sizeof line, "%.*s", (int)count, rest);
    }
    y += i == 0 ? 0.0 : 1.25 * font.size;
    fhi_svg_text(svg, x, y, FHI_START, font, line);
    rest += next;
  }
  return y;
}
