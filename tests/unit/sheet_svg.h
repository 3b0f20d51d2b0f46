// SPDX-License-Identifier: MIT
// Reads a page of a sheet back: its texts where they end up, groups moved and scaled. For tests.
#ifndef SHEET_SVG_H
#define SHEET_SVG_H

#include "draw_svg.h"

typedef struct sheet_place {
  double x, y, scale;
} sheet_place;

// "translate(X Y) scale(S)" or "translate(X Y)", as the builder writes it.
static inline sheet_place sheet_inner(sheet_place outer, const char *tag, const char *end) {
  char text[120];
  if (!svg_attribute(tag, end, "transform", text, sizeof text)) {
    return outer;
  }
  double v[3] = {0.0, 0.0, 1.0};
  char *at = strchr(text, '(');
  for (int i = 0; i < (strstr(text, "scale(") != NULL ? 3 : 2); i++) {
    assert_non_null(at);
    size_t n = strcspn(at + 1, " )");
    assert_true(fhi_parse_number(at + 1, n, &v[i]));
    at = i == 1 ? strchr(at + 1, '(') : at + 1 + n;
  }
  return (sheet_place){outer.x + outer.scale * v[0], outer.y + outer.scale * v[1], outer.scale * v[2]};
}

static inline void sheet_read(const char *svg, svg_page *page) {
  enum { DEEP = 16 };
  sheet_place stack[DEEP] = {{0.0, 0.0, 1.0}};
  int depth = 0;
  const char *end = strchr(svg, '>');
  *page = (svg_page){.texts = calloc(SVG_TEXTS, sizeof(svg_text))};
  assert_non_null(page->texts);
  page->width = svg_value(svg, end, "width");
  page->height = svg_value(svg, end, "height");
  for (const char *at = strchr(svg, '<'); at != NULL; at = strchr(at + 1, '<')) {
    if (strncmp(at, "<g", 2) == 0 && (at[2] == '>' || at[2] == ' ')) {
      assert_true(depth + 1 < DEEP);
      stack[depth + 1] = sheet_inner(stack[depth], at, strchr(at, '>'));
      depth++;
    } else if (strncmp(at, "</g>", 4) == 0) {
      depth--;
    } else if (strncmp(at, "<text ", 6) == 0) {
      svg_add_text(page, at);
      svg_text *t = &page->texts[page->count - 1];
      const sheet_place *p = &stack[depth];
      t->x1 = p->x + p->scale * t->x1;
      t->x2 = p->x + p->scale * t->x2;
      t->y1 = p->y + p->scale * t->y1;
      t->y2 = p->y + p->scale * t->y2;
      t->size *= p->scale;
    }
  }
  assert_int_equal(depth, 0);
}

#endif
