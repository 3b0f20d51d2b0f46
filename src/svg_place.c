// SPDX-License-Identifier: MIT
// Where does a label stand so that it covers no other? A search over a grid of places, cheapest first.
#include "svg.h"

#include <math.h>

static const double GAP_X = 2.5;      // [pt] least distance between two labels: about a space, or two names read as one
static const double GAP_Y = 1.0;      // [pt]
static const double STEP_X = 5.0;     // [pt] grid of the search: half a character's height finds every gap a label fits in
static const double STEP_Y = 2.5;     // [pt]
static const double NEAR = 7.0;       // [pt] a label this near its point needs no line
static const double SLIDE = 0.3;      // [1] cost of a step along the own line, against one away from it
static const double CROSSING = 5.0;   // [pt] so far a label goes out of its way for each line less that its own runs across
static const double ASTRAY = 80.0;    // [pt] so far a label goes out of its way to be led by a line, sooner than stand beside another's
static const double OVERLAP = 1000.0; // [1] an overlap costs more than any way around it

void fhi_svg_keep_out(fhi_svg *svg, fhi_box box) {
  if (svg->dry) {
    return;
  }
  if (svg->box_count < FHI_SVG_BOXES) {
    svg->is_text[svg->box_count] = false;
    svg->boxes[svg->box_count++] = box;
  } else if (svg->status == FH_OK) {
    svg->status = FH_ERR_LIMIT;  // not reached: 160 strands, 128 contacts and 40 bodies, each with a mark and a label
  }
}

void fhi_svg_avoid(fhi_svg *svg, double x1, double y1, double x2, double y2, double weight) {
  if (!svg->dry && svg->segment_count < FHI_SVG_SEGMENTS) {
    svg->segments[svg->segment_count++] = (fhi_segment){x1, y1, x2, y2, weight};
  }
}

static double overlap(const fhi_box *a, const fhi_box *b) {
  if (a->x + a->w <= b->x || b->x + b->w <= a->x || a->y + a->h <= b->y || b->y + b->h <= a->y) {
    return 0.0;  // as most are
  }
  double w = fmin(a->x + a->w, b->x + b->w) - fmax(a->x, b->x);
  double h = fmin(a->y + a->h, b->y + b->h) - fmax(a->y, b->y);
  return w > 0.0 && h > 0.0 ? fmin(w, h) : 0.0;
}

// Narrows [*from, *to] to where p + t d lies in [low, high]. Liang and Barsky's clipping, one axis. @return false when nothing is left
static bool clip(double p, double d, double low, double high, double *from, double *to) {
  if (fabs(d) < 1e-12) {
    return p >= low && p <= high;
  }
  double a = (low - p) / d;
  double b = (high - p) / d;
  *from = fmax(*from, fmin(a, b));
  *to = fmin(*to, fmax(a, b));
  return *from < *to;
}

// [pt] how much of a segment runs through a box.
static double inside(const fhi_segment *s, const fhi_box *box) {
  // Most lines are nowhere near: told without a division.
  double right = box->x + box->w;
  double bottom = box->y + box->h;
  if ((s->x1 < box->x && s->x2 < box->x) || (s->y1 < box->y && s->y2 < box->y) || (s->x1 > right && s->x2 > right) ||
      (s->y1 > bottom && s->y2 > bottom)) {
    return 0.0;
  }
  double from = 0.0;
  double to = 1.0;
  double dx = s->x2 - s->x1;
  double dy = s->y2 - s->y1;
  if (!clip(s->x1, dx, box->x, right, &from, &to) || !clip(s->y1, dy, box->y, bottom, &from, &to)) {
    return 0.0;
  }
  return (to - from) * sqrt(dx * dx + dy * dy);
}

static fhi_box grown(fhi_box box) {
  return (fhi_box){box.x - GAP_X, box.y - GAP_Y, box.w + 2.0 * GAP_X, box.h + 2.0 * GAP_Y};
}

bool fhi_svg_is_free(const fhi_svg *svg, fhi_box box) {
  fhi_box wide = grown(box);
  for (int i = 0; i < svg->box_count; i++) {
    if (overlap(&wide, &svg->boxes[i]) > 0.0) {
      return false;
    }
  }
  for (int i = 0; i < svg->segment_count; i++) {
    if (svg->segments[i].weight >= OVERLAP && inside(&svg->segments[i], &box) > 0.0) {
      return false;  // a line from label to point
    }
  }
  return true;
}

// What stands or runs at the height of a row of places: all that a box there can meet.
typedef struct row {
  const fhi_svg *svg;
  int boxes[FHI_SVG_BOXES], segments[FHI_SVG_SEGMENTS];
  int box_count, segment_count;
} row;

static void take_row(row *r, const fhi_svg *svg, fhi_box box) {
  double top = grown(box).y;
  double bottom = top + grown(box).h;
  r->svg = svg;
  r->box_count = r->segment_count = 0;
  for (int i = 0; i < svg->box_count; i++) {
    if (svg->boxes[i].y < bottom && svg->boxes[i].y + svg->boxes[i].h > top) {
      r->boxes[r->box_count++] = i;
    }
  }
  for (int i = 0; i < svg->segment_count; i++) {
    const fhi_segment *s = &svg->segments[i];
    if (!(s->y1 < top && s->y2 < top) && !(s->y1 > bottom && s->y2 > bottom)) {
      r->segments[r->segment_count++] = i;
    }
  }
}

// Stops as soon as the cost is past `limit`: the place is lost then anyway.
static double clash(const row *r, fhi_box box, double limit) {
  fhi_box wide = grown(box);
  double cost = 0.0;
  for (int i = 0; i < r->box_count && cost < limit; i++) {
    cost += OVERLAP * overlap(&wide, &r->svg->boxes[r->boxes[i]]);
  }
  for (int i = 0; i < r->segment_count && cost < limit; i++) {
    const fhi_segment *s = &r->svg->segments[r->segments[i]];
    cost += s->weight * inside(s, &wide);
  }
  return cost;
}

double fhi_svg_clash(const fhi_svg *svg, fhi_box box) {
  row r;
  take_row(&r, svg, box);
  return clash(&r, box, HUGE_VAL);
}

// The point of a box that is nearest to (x, y).
static void nearest(fhi_box box, double x, double y, double *nx, double *ny) {
  *nx = fmin(fmax(x, box.x), box.x + box.w);
  *ny = fmin(fmax(y, box.y), box.y + box.h);
}

// What the point itself stands in is no hindrance.
static bool holds(const fhi_box *box, double x, double y) {
  return x >= box->x && x <= box->x + box->w && y >= box->y && y <= box->y + box->h;
}

// [pt] of the thin line from label to point that runs through letters, or also through what nothing may stand on.
static double through(const fhi_svg *svg, const fhi_segment *line, bool letters) {
  double length = 0.0;
  for (int i = 0; i < svg->box_count; i++) {
    bool counts = svg->is_text[i] || !letters;
    length += !counts || holds(&svg->boxes[i], line->x2, line->y2) ? 0.0 : inside(line, &svg->boxes[i]);
  }
  return length;
}

// Which side of a line a point lies on.
static double side(const fhi_segment *line, double x, double y) {
  return (line->x2 - line->x1) * (y - line->y1) - (line->y2 - line->y1) * (x - line->x1);
}

// Lines that the thin one runs across; it may end on one.
static int crossings(const fhi_svg *svg, fhi_segment line) {
  double length = sqrt((line.x2 - line.x1) * (line.x2 - line.x1) + (line.y2 - line.y1) * (line.y2 - line.y1));
  int count = 0;
  if (length <= NEAR) {
    return 0;  // not drawn
  }
  line.x2 -= (line.x2 - line.x1) / length;  // [pt] one
  line.y2 -= (line.y2 - line.y1) / length;
  for (int i = 0; i < svg->segment_count; i++) {
    const fhi_segment *s = &svg->segments[i];
    if (side(&line, s->x1, s->y1) * side(&line, s->x2, s->y2) < 0.0 && side(s, line.x1, line.y1) * side(s, line.x2, line.y2) < 0.0) {
      count++;
    }
  }
  return count;
}

static double leader_cost(const fhi_svg *svg, fhi_box box, double x, double y, double best) {
  fhi_segment line = {0.0, 0.0, x, y, 1.0};
  nearest(box, x, y, &line.x1, &line.y1);
  double cost = 60.0 * through(svg, &line, false) + OVERLAP * through(svg, &line, true);
  return cost >= best ? cost : cost + CROSSING * crossings(svg, line);
}

// The point that a label's line leads to: the nearest one within its slide.
static double target_x(const fhi_callout *label, fhi_box box) {
  double middle = box.x + box.w / 2.0;
  return fmax(label->x - label->slide, fmin(label->x + label->slide, middle));
}

// Neither where it wishes nor so far off that a line leads from it to what it belongs to.
static bool is_astray(const fhi_callout *label, fhi_box box, double off) {
  double nx = 0.0, ny = 0.0, to = target_x(label, box);
  nearest(grown(box), to, label->y, &nx, &ny);
  return label->beside && fabs(off) > STEP_Y / 2.0 + 1e-9 && fabs(nx - to) + fabs(ny - label->y) <= NEAR;
}

static double place_cost(const row *r, const fhi_callout *label, fhi_box box, double best) {
  double dx = fabs(box.x + box.w / 2.0 - (label->x + label->pull_x));
  double dy = box.y + box.h / 2.0 - (label->y + label->pull_y);
  // Along its own line a step costs little: the label still stands beside it.
  dx = dx <= label->slide ? SLIDE * dx : SLIDE * label->slide + dx - label->slide;
  double cost = sqrt(dx * dx + dy * dy) + (is_astray(label, box, dy) ? ASTRAY : 0.0);
  if (cost >= best) {
    return cost;
  }
  cost += clash(r, box, best - cost);
  return cost >= best ? cost : cost + leader_cost(r->svg, box, target_x(label, box), label->y, best - cost);
}

// middle, middle + 1, middle - 1, middle + 2, ...
static int outward(int middle, int i) {
  return middle + (i % 2 == 1 ? (i + 1) / 2 : -(i / 2));
}

static int steps(double room, double step) {
  return room < 0.0 ? -1 : (int)floor(room / step + 1e-9);
}

static fhi_box search(const fhi_svg *svg, const fhi_callout *label, double w, double h, double *best) {
  fhi_box field = label->field;
  fhi_box found = {field.x, field.y, w, h};
  *best = label->most > 0.0 ? label->most : HUGE_VAL;
  // First the wish itself, so that an unhindered label stands exactly there.
  fhi_box box = {label->x + label->pull_x - w / 2.0, label->y + label->pull_y - h / 2.0, w, h};
  box.x = fmax(field.x, fmin(box.x, field.x + field.w - w));
  box.y = fmax(field.y, fmin(box.y, field.y + field.h - h));
  found = box;
  row here;
  take_row(&here, svg, box);
  *best = fmin(*best, place_cost(&here, label, box, *best));
  // Then outward from it, row by row and place by place; a row or place further off than the best cost cannot win.
  int rows = steps(field.h - h, STEP_Y);
  int places = steps(field.w - w, STEP_X);
  double wish_x = box.x;
  double wish_y = box.y;
  int line = (int)round((wish_y - field.y) / STEP_Y);
  int place = (int)round((wish_x - field.x) / STEP_X);
  for (int i = 0; i <= 2 * rows + 1; i++) {
    int r = outward(line, i);
    box.y = field.y + r * STEP_Y;
    if (r < 0 || r > rows || fabs(box.y - wish_y) >= *best) {
      continue;
    }
    take_row(&here, svg, box);
    for (int j = 0; j <= 2 * places + 1; j++) {
      int k = outward(place, j);
      box.x = field.x + k * STEP_X;
      double cost = k < 0 || k > places || SLIDE * fabs(box.x - wish_x) >= *best ? HUGE_VAL : place_cost(&here, label, box, *best);
      if (cost < *best - 1e-6) {
        *best = cost;
        found = box;
      }
    }
  }
  return found;
}

bool fhi_svg_callout(fhi_svg *svg, const fhi_callout *label) {
  if (svg->quiet) {
    return true;
  }
  char clean[FHI_SVG_TEXT];
  fhi_text_clean(clean, sizeof clean, label->text);
  fhi_box size = fhi_text_box(0.0, 0.0, FHI_START, label->font, clean);
  double best = 0.0;
  fhi_box box = search(svg, label, size.w, size.h, &best);
  if (!fhi_svg_is_free(svg, box) || (label->most > 0.0 && best >= label->most)) {
    return false;
  }
  double nx = 0.0;
  double ny = 0.0;
  double to = target_x(label, box);
  nearest(grown(box), to, label->y, &nx, &ny);
  double far = sqrt((nx - to) * (nx - to) + (ny - label->y) * (ny - label->y));
  if (far > NEAR && through(svg, &(fhi_segment){nx, ny, to, label->y, 1.0}, true) > 0.0) {
    return false;
  }
  if (far > NEAR) {
    fhi_svg_line(svg, nx, ny, to, label->y, (fhi_pen){label->font.colour, 0.5, NULL, NULL});
    fhi_svg_circle(svg, to, label->y, 1.1, (fhi_pen){NULL, 0.0, NULL, label->font.colour});
    fhi_svg_avoid(svg, nx, ny, to, label->y, OVERLAP);
  }
  fhi_svg_text(svg, box.x, box.y - size.y, FHI_START, label->font, clean);
  return true;
}
