// SPDX-License-Identifier: MIT
// Reads a figure's SVG back, for tests: its texts with their boxes, and whether it is well formed.
#ifndef DRAW_SVG_H
#define DRAW_SVG_H

#include "fh_test.h"
#include "svg.h"

enum { SVG_TEXTS = 2000 };

typedef struct svg_text {
  double x1, y1, x2, y2;  // [pt] what the ink may cover
  double size;            // [pt]
  bool bold;
  char text[600];
} svg_text;

typedef struct svg_page {
  double width, height;  // [pt]
  svg_text *texts;
  int count;
} svg_page;

// The value of an attribute within one tag. @return false when it has none
static inline bool svg_attribute(const char *tag, const char *end, const char *name, char *to, size_t size) {
  char key[64];
  (void)snprintf(key, sizeof key, " %s=\"", name);
  const char *at = strstr(tag, key);
  if (at == NULL || at >= end) {
    return false;
  }
  at += strlen(key);
  const char *stop = strchr(at, '"');
  if (stop == NULL || (size_t)(stop - at) >= size) {
    return false;
  }
  memcpy(to, at, (size_t)(stop - at));
  to[stop - at] = '\0';
  return true;
}

static inline double svg_value(const char *tag, const char *end, const char *name) {
  char text[64];
  double value = (double)NAN;
  if (svg_attribute(tag, end, name, text, sizeof text) && !fhi_parse_number(text, strlen(text), &value)) {
    char *rest = strstr(text, "pt");  // width="298pt"
    if (rest == NULL || !fhi_parse_number(text, (size_t)(rest - text), &value)) {
      return (double)NAN;
    }
  }
  return value;
}

static inline void svg_unescape(const char *from, size_t count, char *to, size_t size) {
  static const char *const NAMES[][2] = {{"&amp;", "&"}, {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&apos;", "'"}};
  size_t used = 0;
  for (size_t i = 0; i < count && used + 1 < size;) {
    bool found = false;
    for (size_t k = 0; k < sizeof NAMES / sizeof NAMES[0] && !found; k++) {
      size_t length = strlen(NAMES[k][0]);
      if (i + length <= count && memcmp(from + i, NAMES[k][0], length) == 0) {
        to[used++] = NAMES[k][1][0];
        i += length;
        found = true;
      }
    }
    if (!found) {
      to[used++] = from[i++];
    }
  }
  to[used] = '\0';
}

static inline void svg_add_text(svg_page *page, const char *tag) {
  const char *end = strchr(tag, '>');
  const char *stop = strstr(tag, "</text>");
  assert_non_null(end);
  assert_non_null(stop);
  assert_true(page->count < SVG_TEXTS);
  svg_text *t = &page->texts[page->count++];
  char word[64] = "";
  *t = (svg_text){.size = svg_value(tag, end, "font-size")};
  t->bold = svg_attribute(tag, end, "font-weight", word, sizeof word) && strcmp(word, "bold") == 0;
  svg_unescape(end + 1, (size_t)(stop - end - 1), t->text, sizeof t->text);
  double width = fhi_text_width(t->text, t->size, t->bold);
  double x = svg_value(tag, end, "x");
  double y = svg_value(tag, end, "y");
  word[0] = '\0';
  (void)svg_attribute(tag, end, "text-anchor", word, sizeof word);
  t->x1 = strcmp(word, "middle") == 0 ? x - width / 2.0 : strcmp(word, "end") == 0 ? x - width : x;
  t->x2 = t->x1 + width;
  t->y1 = y - 0.76 * t->size;  // ascender of DejaVu Sans, 1556 / 2048
  t->y2 = y + 0.236 * t->size; // descender, 483 / 2048
}

static inline void svg_read(const char *svg, svg_page *page) {
  const char *end = strchr(svg, '>');
  assert_non_null(end);
  *page = (svg_page){.texts = calloc(SVG_TEXTS, sizeof(svg_text))};
  assert_non_null(page->texts);
  page->width = svg_value(svg, end, "width");
  page->height = svg_value(svg, end, "height");
  for (const char *at = strstr(svg, "<text "); at != NULL; at = strstr(at + 1, "<text ")) {
    svg_add_text(page, at);
  }
}

static inline void svg_free(svg_page *page) {
  free(page->texts);
}

// Tags nest and close; no bare & or <; no control characters. Enough for what the builder can write. @return what is wrong, or NULL
static inline const char *svg_fault(const char *svg) {
  int depth = 0;
  for (const char *at = svg; *at != '\0'; at++) {
    unsigned char c = (unsigned char)*at;
    if (c < 0x20 && c != '\n') {
      return "control character";
    }
    if (c == '&' && strncmp(at, "&amp;", 5) != 0 && strncmp(at, "&lt;", 4) != 0 && strncmp(at, "&gt;", 4) != 0 && strncmp(at, "&quot;", 6) != 0 &&
        strncmp(at, "&#39;", 5) != 0 && strncmp(at, "&apos;", 6) != 0) {
      return "bare ampersand";
    }
    if (c != '<') {
      continue;
    }
    const char *end = strchr(at, '>');
    if (end == NULL) {
      return "tag without end";
    }
    if (memchr(at + 1, '<', (size_t)(end - at - 1)) != NULL) {
      return "tag within a tag";
    }
    depth += at[1] == '/' ? -1 : end[-1] == '/' ? 0 : 1;
    if (depth < 0) {
      return "more ends than beginnings";
    }
    at = end;
  }
  return depth == 0 ? NULL : "element without end";
}

// The first two texts that lie on each other, or text that leaves the page. @return false and says which
static inline bool svg_is_clear(const svg_page *page, const char *name) {
  bool clear = true;
  for (int i = 0; i < page->count; i++) {
    const svg_text *a = &page->texts[i];
    if (!(a->x1 >= 0.0 && a->y1 >= 0.0 && a->x2 <= page->width && a->y2 <= page->height)) {
      print_error("%s: \"%s\" leaves the page\n", name, a->text);
      clear = false;
    }
    for (int j = i + 1; j < page->count; j++) {
      const svg_text *b = &page->texts[j];
      if (a->x1 < b->x2 && b->x1 < a->x2 && a->y1 < b->y2 && b->y1 < a->y2) {
        print_error("%s: \"%s\" lies on \"%s\"\n", name, a->text, b->text);
        clear = false;
      }
    }
  }
  return clear;
}

typedef struct svg_line {
  double x1, y1, x2, y2;  // [pt]
} svg_line;

// The line with which a label leads to its point: thin, and a dot at its end. @return where to go on, or NULL: there is no more
static inline const char *svg_next_leader(const char *at, svg_line *line) {
  while ((at = strstr(at, "<line ")) != NULL) {
    const char *end = strchr(at, '>');
    const char *next = end + 1 + strspn(end + 1, "\n");
    const char *stop = strchr(next, '>');
    *line = (svg_line){svg_value(at, end, "x1"), svg_value(at, end, "y1"), svg_value(at, end, "x2"), svg_value(at, end, "y2")};
    if (strncmp(next, "<circle ", 8) == 0 && stop != NULL && svg_value(next, stop, "r") == 1.1 && svg_value(next, stop, "cx") == line->x2 && svg_value(next, stop, "cy") == line->y2) {
      return stop;
    }
    at = end;
  }
  return NULL;
}

// Does a line run through the letters? Liang and Barsky's clipping.
static inline bool svg_runs_through(const svg_line *l, const svg_text *t) {
  double from = 0.0;
  double to = 1.0;
  const double p[4] = {l->x1 - l->x2, l->x2 - l->x1, l->y1 - l->y2, l->y2 - l->y1};
  const double q[4] = {l->x1 - t->x1, t->x2 - l->x1, l->y1 - t->y1, t->y2 - l->y1};
  for (int i = 0; i < 4; i++) {
    if (p[i] == 0.0 && q[i] < 0.0) {
      return false;
    }
    from = p[i] < 0.0 ? fmax(from, q[i] / p[i]) : from;
    to = p[i] > 0.0 ? fmin(to, q[i] / p[i]) : to;
  }
  return from < to;
}

// How many of the lines from label to point run through a text. @param name told with each
static inline int svg_crossed_texts(const char *svg, const svg_page *page, const char *name) {
  int crossed = 0;
  svg_line line;
  for (const char *at = svg_next_leader(svg, &line); at != NULL; at = svg_next_leader(at, &line)) {
    for (int i = 0; i < page->count; i++) {
      if (svg_runs_through(&line, &page->texts[i])) {
        print_error("%s: a leader runs through \"%s\"\n", name, page->texts[i].text);
        crossed++;
      }
    }
  }
  return crossed;
}

// How many texts hold this one. @return their number
static inline int svg_count(const svg_page *page, const char *part) {
  int count = 0;
  for (int i = 0; i < page->count; i++) {
    count += strstr(page->texts[i].text, part) != NULL ? 1 : 0;
  }
  return count;
}

static inline const svg_text *svg_find(const svg_page *page, const char *part) {
  for (int i = 0; i < page->count; i++) {
    if (strstr(page->texts[i].text, part) != NULL) {
      return &page->texts[i];
    }
  }
  return NULL;
}

#endif
