// SPDX-License-Identifier: MIT
// Where can it be done? A heat map of the chance over two axes of a study: the number stands in each field, darker is better, so
// that it reads without colour too. All other axes are averaged.
#include <math.h>
#include <string.h>

#include "draw_common.h"
#include "memory.h"
#include "report.h"
#include "study.h"

enum { MOST_FIELDS = 24, SPAN_FIELDS = 8 };

struct fh_study_map {
  int columns, rows;
  double sum[MOST_FIELDS][MOST_FIELDS];
  int64_t count[MOST_FIELDS][MOST_FIELDS];
};

// Fields along an axis: its values, or parts of a sampled span; no more than can be read.
static int fields(const fh_study *s, int axis) {
  if (axis < 0) {
    return 1;
  }
  int n = s->axis[axis].count > 0 ? s->axis[axis].count : SPAN_FIELDS;
  return n < MOST_FIELDS ? n : MOST_FIELDS;
}

static int field_of(const fh_study *s, int axis, int64_t index) {
  double value = 0.0;
  if (axis < 0) {
    return 0;
  }
  int place = fhi_study_pick(s, index, axis, &value), n = fields(s, axis);
  if (s->sampled > 0 && s->axis[axis].span) {
    double t = (value - s->axis[axis].from) / (s->axis[axis].to - s->axis[axis].from);
    return (int)fmin(n - 1, floor(t * n));
  }
  return s->axis[axis].count <= n ? place : (int)((int64_t)place * n / s->axis[axis].count);
}

fh_status fh_study_map_create(const fh_study *s, fh_study_map **out) {
  if (s == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_study_map *map = fhi_alloc(1, sizeof *map);
  if (map == NULL) {
    return FH_ERR_MEMORY;
  }
  map->columns = fields(s, s->plot[0]);
  map->rows = fields(s, s->plot[1]);
  *out = map;
  return FH_OK;
}

void fh_study_map_destroy(fh_study_map *map) {
  fhi_free(map);
}

void fh_study_map_add(fh_study_map *map, const fh_study *s, const fh_study_row *row) {
  if (isfinite(row->figure[0])) {
    int x = field_of(s, s->plot[0], row->index), y = field_of(s, s->plot[1], row->index);
    map->sum[y][x] += row->figure[0];
    map->count[y][x]++;
  }
}

// What stands beside a field: its value, or the middle of its part of a span.
static const char *field_name(const fh_study *s, int axis, int field, char *to, size_t size) {
  const fhi_axis *a = &s->axis[axis];
  int n = fields(s, axis);
  if (a->span) {
    bool parts = s->sampled > 0 || a->count > n;
    double t = parts ? (field + 0.5) / n : (double)field / (a->count - 1);
    double step = (a->to - a->from) / n;
    return fhi_fixed(to, size, a->from + (a->to - a->from) * t, step < 0.05 ? 3 : step < 0.5 ? 2 : step < 5.0 ? 1 : 0);
  }
  int node = fhi_study_node(s, axis, a->count > n ? (int)((int64_t)field * a->count / n) : field);
  const fhi_node *at = fhi_doc_node(s->doc, node);
  if (a->sets) {
    (void)fhi_text_clean(to, size, fhi_doc_text(s->doc, at->key));
  } else if (at->kind == FHI_NODE_SCALAR) {
    (void)fhi_text_clean(to, size, fhi_doc_text(s->doc, node));
  } else {
    (void)fhi_format(to, size, "value %d", field + 1);
  }
  return to;
}

// From warm white to a dark blue; every step is darker than the one before, also in grey.
static const char *shade(double chance) {
  static const char *const SHADES[] = {"#fbf3e4", "#f1ead9", "#dfe5e2", "#c4d8e2", "#a3c7dd", "#7fb1d3", "#5a97c5", "#3a7cb2", "#23639c", "#124b82", "#0a3a6b"};
  int i = (int)floor(chance * 10.0 + 1e-9);
  return SHADES[i < 0 ? 0 : i > 10 ? 10 : i];
}

typedef struct heat {
  fhi_svg *svg;
  const fh_study *s;
  const fh_study_map *map;
  double x, y, w, h;  // [pt] first field and size of each
} heat;

static void draw_fields(const heat *p) {
  char text[16];
  for (int r = 0; r < p->map->rows; r++) {
    for (int c = 0; c < p->map->columns; c++) {
      fhi_box box = {p->x + c * p->w, p->y + r * p->h, p->w, p->h};
      bool known = p->map->count[r][c] > 0;
      double chance = known ? p->map->sum[r][c] / (double)p->map->count[r][c] : 0.0;
      fhi_svg_rect(p->svg, box, 0.0, (fhi_pen){FHI_PAPER, 0.8, NULL, known ? shade(chance) : "#e5e5e5"});
      if (p->w >= 15.0) {
        fhi_font font = {p->w >= 20.0 ? FHI_MAIN : FHI_SMALL, false, known && chance >= 0.7 ? FHI_PAPER : FHI_INK};
        fhi_svg_text(p->svg, box.x + 0.5 * p->w, box.y + 0.5 * p->h + 3.0, FHI_MIDDLE, font, known ? fhi_percent_field(text, sizeof text, chance) : "?");
      }
    }
  }
}

static void draw_names(const heat *p, double left) {
  char name[FHI_WORD], fit[FHI_WORD];
  int every = p->w < 24.0 ? (int)ceil(24.0 / p->w) : 1;
  for (int c = 0; c < p->map->columns; c += every) {
    (void)fhi_text_fit(fit, sizeof fit, field_name(p->s, p->s->plot[0], c, name, sizeof name), fhi_font_small(), p->w * every - 2.0);
    fhi_svg_text(p->svg, p->x + (c + 0.5) * p->w, p->y + p->map->rows * p->h + 10.0, FHI_MIDDLE, fhi_font_small(), fit);
  }
  for (int r = 0; r < p->map->rows && p->s->plot[1] >= 0; r++) {
    (void)fhi_text_fit(fit, sizeof fit, field_name(p->s, p->s->plot[1], r, name, sizeof name), fhi_font_small(), left - 6.0);
    fhi_svg_text(p->svg, p->x - 4.0, p->y + (r + 0.5) * p->h + 2.7, FHI_END, fhi_font_small(), fit);
  }
}

fh_status fh_draw_study(const fh_study *s, const fh_study_map *map, fh_out out) {
  heat p = {.s = s, .map = map};
  char name[FHI_WORD];
  if (s == NULL || map == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fh_status status = fhi_svg_create(FHI_PAGE, FH_ENGLISH, &p.svg);
  if (status != FH_OK) {
    return status;
  }
  double y = fhi_draw_header(p.svg, s->title[0] != '\0' ? s->title : "Study", "Chance in per cent, as far as the ranges given are right") + 6.0;
  double left = 10.0;
  for (int r = 0; r < map->rows && s->plot[1] >= 0; r++) {
    left = fmax(left, fhi_text_width(field_name(s, s->plot[1], r, name, sizeof name), FHI_SMALL, false) + 8.0);
  }
  left = fmin(left, 90.0);
  p.x = FHI_MARGIN + left;
  p.y = y + 18.0;
  p.w = (FHI_PAGE - FHI_MARGIN - p.x) / map->columns;
  p.h = fmin(22.0, fmax(12.0, 220.0 / map->rows));
  if (s->plot[1] >= 0) {
    fhi_svg_text(p.svg, FHI_MARGIN, y + 8.0, FHI_START, (fhi_font){8.5, true, FHI_INK}, fh_study_axis_name(s, s->plot[1]));
  }
  draw_fields(&p);
  draw_names(&p, left);
  y = p.y + map->rows * p.h + 24.0;
  fhi_svg_text(p.svg, FHI_PAGE - FHI_MARGIN, y, FHI_END, (fhi_font){8.5, true, FHI_INK}, fh_study_axis_name(s, s->plot[0]));
  y = fhi_svg_paragraph(p.svg, FHI_MARGIN, y + 14.0, FHI_PAGE - 2.0 * FHI_MARGIN, fhi_font_small(),
                        "Chance that the crew can pull it for a short effort and that every limit holds. What else varies is averaged.", 3) + 10.0;
  y = fhi_draw_footer(p.svg, y);
  return fhi_draw_end(p.svg, y, "Heat map of the chance", "Fields: chance over two things that vary; the number is in per cent.", out);
}
