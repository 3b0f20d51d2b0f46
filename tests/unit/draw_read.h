// SPDX-License-Identifier: MIT
// Reads the section back as lines and labels: which strand, bar or label each piece of ink belongs to. For tests.
#ifndef DRAW_READ_H
#define DRAW_READ_H

#include "draw_svg.h"

enum { READ_LINES = 4000, READ_CHORDS = 8 };

typedef enum read_kind { READ_STRAND, READ_BAR, READ_LEADER } read_kind;

typedef struct read_line {
  svg_line at;
  read_kind kind;
  int index;       // of the strand or the body
  bool surface;    // in the larger part, else in the whole
  double half;     // [pt] half the width of the ink
} read_line;

typedef struct read_page {
  svg_page page;
  bool *surface;   // of each text
  read_line *lines;
  int count;
  const char *grouped;  // end of the group that is being read
} read_page;

static inline void read_add(read_page *r, svg_line at, read_kind kind, int index, bool surface, double half) {
  assert_true(r->count < READ_LINES);
  r->lines[r->count++] = (read_line){at, kind, index, surface, half};
}

// A path of M, L and C as chords.
static inline void read_path(read_page *r, const char *tag, read_kind kind, int index, bool surface, double half) {
  char d[4000];
  double p[8] = {0.0};
  const char *end = strchr(tag, '>');
  assert_true(svg_attribute(tag, end, "d", d, sizeof d));
  for (char *at = d; *at != '\0';) {
    char op = *at++;
    int want = op == 'C' ? 6 : op == 'Z' ? 0 : 2;
    for (int i = 0; i < want; i++) {
      size_t n = 0;
      at += strspn(at, " ,");
      n = strspn(at, "0123456789.-");
      assert_true(fhi_parse_number(at, n, &p[2 + i]));
      at += n;
    }
    for (int k = 1; op != 'M' && want > 0 && k <= READ_CHORDS; k++) {
      double now[2], before[2];
      for (int e = 0; e < 2; e++) {
        for (int c = 0; c < 2; c++) {
          double t = (double)(k - e) / READ_CHORDS;
          double u = 1.0 - t;
          double v = op == 'L' ? u * p[c] + t * p[2 + c] : u * u * u * p[c] + 3.0 * u * u * t * p[2 + c] + 3.0 * u * t * t * p[4 + c] + t * t * t * p[6 + c];
          (e == 0 ? now : before)[c] = v;
        }
      }
      read_add(r, (svg_line){before[0], before[1], now[0], now[1]}, kind, index, surface, half);
    }
    if (want > 0) {
      p[0] = p[want];
      p[1] = p[want + 1];
    }
  }
}

static inline void read_shape(read_page *r, const char *tag, read_kind kind, int index, bool surface) {
  const char *end = strchr(tag, '>');
  double half = svg_value(tag, end, "stroke-width") / 2.0;
  half = isnan(half) ? 0.0 : half;
  if (strncmp(tag, "<line ", 6) == 0) {
    read_add(r, (svg_line){svg_value(tag, end, "x1"), svg_value(tag, end, "y1"), svg_value(tag, end, "x2"), svg_value(tag, end, "y2")}, kind, index, surface, half);
  } else if (strncmp(tag, "<path ", 6) == 0) {
    read_path(r, tag, kind, index, surface, half);
  }
}

static inline int read_index(const char *tag, const char *name) {
  char text[16];
  double value = -1.0;
  return svg_attribute(tag, strchr(tag, '>'), name, text, sizeof text) && fhi_parse_number(text, strlen(text), &value) ? (int)value : -1;
}

// The whole comes first, then the surface, where strand 0 stands again.
static inline void read_section(const char *svg, read_page *r) {
  *r = (read_page){.surface = calloc(SVG_TEXTS, sizeof(bool)), .lines = calloc(READ_LINES, sizeof(read_line))};
  assert_true(r->surface != NULL && r->lines != NULL);
  r->page = (svg_page){.width = svg_value(svg, strchr(svg, '>'), "width"), .height = svg_value(svg, strchr(svg, '>'), "height"), .texts = calloc(SVG_TEXTS, sizeof(svg_text))};
  assert_non_null(r->page.texts);
  const char *first = strstr(svg, "<g data-strand=\"0\"");
  const char *second = strstr(first + 1, "<g data-strand=\"0\"");
  assert_non_null(second);
  int strand = -1, body = -1;
  for (const char *at = strchr(svg, '<'); at != NULL; at = strchr(at + 1, '<')) {
    // The surface's own bars and its title stand before its strands.
    const char *ice = strstr(first, "stroke-width=\"1.2\"");
    bool surface = at > (ice != NULL && ice < second ? ice : second);
    if (strncmp(at, "<g ", 3) == 0) {
      strand = read_index(at, "data-strand");
      body = read_index(at, "data-body");
    } else if (strncmp(at, "</g>", 4) == 0) {
      strand = body = -1;
    } else if (strncmp(at, "<text ", 6) == 0) {
      r->surface[r->page.count] = surface;
      svg_add_text(&r->page, at);
    } else if (strand >= 0) {
      read_shape(r, at, READ_STRAND, strand, surface);
    } else if (body >= FH_BODY_STATION) {
      read_shape(r, at, READ_BAR, body, surface);
    }
  }
  svg_line line;
  for (const char *at = svg_next_leader(svg, &line); at != NULL; at = svg_next_leader(at, &line)) {
    read_add(r, line, READ_LEADER, -1, at > second, 0.25);
  }
}

static inline void read_free(read_page *r) {
  svg_free(&r->page);
  free(r->surface);
  free(r->lines);
}

// What letters really cover: no descender where none has one.
static inline svg_text read_ink(const svg_text *t) {
  svg_text ink = *t;
  double base = t->y2 - 0.236 * t->size;
  ink.y1 = base - 0.73 * t->size;  // height of capitals and figures, 1493 / 2048
  ink.y2 = strpbrk(t->text, "gjpqy,(") != NULL ? t->y2 : base;
  return ink;
}

// [pt] from a line to a box; 0 inside. Fine steps are enough for a test.
static inline double read_distance(const svg_line *l, const svg_text *t) {
  double least = HUGE_VAL;
  for (int i = 0; i <= 200; i++) {
    double x = l->x1 + (l->x2 - l->x1) * i / 200.0;
    double y = l->y1 + (l->y2 - l->y1) * i / 200.0;
    double dx = fmax(0.0, fmax(t->x1 - x, x - t->x2));
    double dy = fmax(0.0, fmax(t->y1 - y, y - t->y2));
    least = fmin(least, sqrt(dx * dx + dy * dy));
  }
  return least;
}

#endif
