// SPDX-License-Identifier: MIT
// How does text come onto a terminal? By columns, not bytes, and with everything left out that could move the cursor,
// change colours or turn the reading direction: titles and names come from files that others wrote.
#define _DEFAULT_SOURCE  // ioctl, isatty
#include "screen.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

int cli_screen_width(int asked) {
  if (asked > 0) {
    return asked;
  }
  struct winsize size;
  if (isatty(STDOUT_FILENO) && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) {
    return size.ws_col < 20 ? 20 : size.ws_col;
  }
  const char *columns = getenv("COLUMNS");
  double value = 0.0;
  if (columns != NULL && fhi_parse_number(columns, strlen(columns), &value) && value >= 20.0 && value <= 1000.0) {
    return (int)value;
  }
  return 80;
}

bool cli_screen_colour(bool refused, bool to_terminal) {
  const char *no = getenv("NO_COLOR");
  const char *term = getenv("TERM");
  bool unwanted = refused || (no != NULL && no[0] != '\0');
  bool dumb = term == NULL || strcmp(term, "dumb") == 0;
  return to_terminal && !unwanted && !dumb && isatty(STDOUT_FILENO);
}

void cli_screen_start(cli_screen *s, fh_out out, int width, bool colour) {
  fhi_writer_start(&s->w, out);
  s->width = width < 20 ? 20 : width;
  s->language = FH_ENGLISH;
  s->colour = colour;
}

fh_status cli_screen_end(cli_screen *s) {
  return fhi_writer_end(&s->w);
}

// ---------------------------------------------------------------------------------------------------- characters

// One code point. Overlong forms, surrogates and what lies above U+10FFFF are no UTF-8. @return its bytes, 0 at the end
static size_t decode(const char *text, uint32_t *point) {
  const unsigned char *b = (const unsigned char *)text;
  static const uint32_t least[5] = {0, 0, 0x80, 0x800, 0x10000};
  size_t count = b[0] < 0x80 ? 1 : b[0] >= 0xC2 && b[0] < 0xE0 ? 2 : b[0] >= 0xE0 && b[0] < 0xF0 ? 3 : b[0] >= 0xF0 && b[0] < 0xF5 ? 4 : 0;
  *point = UINT32_MAX;
  if (b[0] == 0) {
    return 0;
  }
  if (count <= 1) {
    *point = count == 1 ? b[0] : UINT32_MAX;
    return 1;
  }
  uint32_t value = b[0] & (0xFFU >> (count + 1));
  for (size_t i = 1; i < count; i++) {
    if ((b[i] & 0xC0) != 0x80) {
      return 1;
    }
    value = value << 6 | (b[i] & 0x3FU);
  }
  if (value < least[count] || value > 0x10FFFF || (value >= 0xD800 && value < 0xE000)) {
    return 1;
  }
  *point = value;
  return count;
}

typedef struct span {
  uint32_t first, last;
} span;

static bool in_spans(uint32_t point, const span *spans, size_t count) {
  for (size_t i = 0; i < count; i++) {
    if (point >= spans[i].first && point <= spans[i].last) {
      return true;
    }
  }
  return false;
}

// What a terminal could obey, or what turns the reading direction around.
static bool is_unsafe(uint32_t point) {
  static const span spans[] = {{0x00, 0x1F}, {0x7F, 0x9F}, {0x200E, 0x200F}, {0x2028, 0x202E}, {0x2066, 0x2069}, {0xFFF9, 0xFFFB},
                               {0xE0000, 0xE007F}, {UINT32_MAX, UINT32_MAX}};
  return in_spans(point, spans, sizeof spans / sizeof spans[0]);
}

// Columns, after Unicode's East Asian Width (wide and fullwidth) and combining marks: the common blocks, not the whole table.
static int columns_of(uint32_t point) {
  static const span none[] = {{0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x064B, 0x065F}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF},
                              {0x200B, 0x200D}, {0x2060, 0x2064}, {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF}};
  static const span wide[] = {{0x1100, 0x115F}, {0x2E80, 0x303E}, {0x3041, 0xA4CF}, {0xAC00, 0xD7A3}, {0xF900, 0xFAFF}, {0xFE30, 0xFE6F},
                              {0xFF00, 0xFF60}, {0xFFE0, 0xFFE6}, {0x1F300, 0x1F64F}, {0x1F900, 0x1F9FF}, {0x20000, 0x3FFFD}};
  if (is_unsafe(point)) {
    return 1;  // shown as '?'
  }
  if (in_spans(point, none, sizeof none / sizeof none[0])) {
    return 0;
  }
  return in_spans(point, wide, sizeof wide / sizeof wide[0]) ? 2 : 1;
}

size_t cli_text_next(const char *text, int *cells) {
  uint32_t point;
  size_t count = decode(text, &point);
  *cells = count == 0 ? 0 : columns_of(point);
  return count;
}

int cli_text_width(const char *text) {
  int width = 0;
  int cells;
  for (size_t n; (n = cli_text_next(text, &cells)) > 0; text += n) {
    width += cells;
  }
  return width;
}

const char *cli_text_clean(char *to, size_t size, const char *text) {
  size_t used = 0;
  uint32_t point;
  for (size_t n; (n = decode(text, &point)) > 0 && used + n < size; text += n) {
    if (is_unsafe(point)) {
      to[used++] = '?';
    } else {
      memcpy(to + used, text, n);
      used += n;
    }
  }
  to[used] = '\0';
  return to;
}

const char *cli_text_pad(char *to, size_t size, const char *text, int columns) {
  (void)fhi_copy(to, size, text);
  int width = cli_text_width(to);
  size_t used = strlen(to);
  for (int gap = width < columns ? columns - width : 1; gap > 0 && used + 1 < size; gap--) {
    to[used++] = ' ';
    to[used] = '\0';
  }
  return to;
}

// ---------------------------------------------------------------------------------------------------- lines

void cli_put(cli_screen *s, const char *text) {
  const char *from = text;
  uint32_t point;
  for (size_t n; (n = decode(text, &point)) > 0; text += n) {
    if (s->language != FH_ENGLISH && fhi_is_decimal_point(from, text)) {
      fhi_put(&s->w, ",");
    } else if (is_unsafe(point) && point != '\n') {
      fhi_put(&s->w, "?");
    } else {
      fhi_put_bytes(&s->w, text, n);
    }
  }
}

void cli_put_style(cli_screen *s, cli_style style, const char *text) {
  static const char *const codes[] = {"", "\x1B[1m", "\x1B[2m", "\x1B[1;32m", "\x1B[1;33m", "\x1B[1;31m"};
  bool coloured = s->colour && style != CLI_PLAIN;
  if (coloured) {
    fhi_put(&s->w, codes[style]);
  }
  cli_put(s, text);
  if (coloured) {
    fhi_put(&s->w, "\x1B[0m");
  }
}

void cli_put_spaces(cli_screen *s, int count) {
  for (int i = 0; i < count; i++) {
    fhi_put(&s->w, " ");
  }
}

size_t cli_text_break(const char *text, int columns, size_t *skip) {
  size_t at = 0;
  size_t space = 0;  // the last space that fits
  size_t tied = 0;   // the same before a unit: only where there is no other
  int width = 0;
  int cells;
  for (size_t n; (n = cli_text_next(text + at, &cells)) > 0; at += n) {
    if (text[at] == ' ') {
      *(fhi_is_tied(text, text + at) ? &tied : &space) = at;
    }
    if (width + cells > columns) {
      break;
    }
    width += cells;
  }
  space = space > 0 ? space : tied;
  if (text[at] != '\0' && space > 0) {
    at = space;
  } else if (at == 0 && text[0] != '\0') {
    at = cli_text_next(text, &cells);  // a column too narrow for one character: take it all the same, so that this ends
  }
  *skip = 0;
  while (text[at + *skip] == ' ') {
    (*skip)++;
  }
  return at;
}

// At most the line's width of text, in one style. @return the text that is left
static const char *put_line(cli_screen *s, cli_style style, int columns, const char *text) {
  char line[1024];
  size_t skip;
  size_t count = cli_text_break(text, columns, &skip);
  size_t part = count < sizeof line - 1 ? count : sizeof line - 1;
  memcpy(line, text, part);
  line[part] = '\0';
  cli_put_style(s, style, line);
  cli_put(s, "\n");
  return text + (part == count ? count + skip : part);
}

void cli_put_wrapped(cli_screen *s, cli_style style, const char *lead, const char *text) {
  int indent = cli_text_width(lead);
  int columns = s->width - indent;
  if (columns < 10) {
    columns = 10;
  }
  cli_put_style(s, style, lead);
  text = put_line(s, CLI_PLAIN, columns, text);
  while (*text != '\0') {
    cli_put_spaces(s, indent);
    text = put_line(s, CLI_PLAIN, columns, text);
  }
}

void cli_put_heading(cli_screen *s, const char *text) {
  do {
    text = put_line(s, CLI_BOLD, s->width, text);
  } while (*text != '\0');
}
