// SPDX-License-Identifier: MIT
// How does a figure become SVG text? Shapes with plain attributes; coordinates in hundredths of a point.
// Reference: W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition), chapters 8 to 11.
#include "svg.h"

#include "memory.h"

#include <math.h>
#include <string.h>

enum { MOST_TEXT = 4 << 20 };  // bytes; the largest rig that a scene can hold takes about 200 kB

static const double KAPPA = 0.5522847498;  // [1] control point of a quarter circle: 4/3 (sqrt 2 - 1)

static int append(void *user, const char *bytes, size_t count) {
  fhi_svg *svg = user;
  if (count > (size_t)MOST_TEXT - svg->used) {
    svg->status = FH_ERR_LIMIT;
    return 1;
  }
  if (svg->used + count > svg->size) {
    size_t size = (svg->used + count) * 2;
    char *text = fhi_realloc(svg->text, size, 1);
    if (text == NULL) {
      svg->status = FH_ERR_MEMORY;
      return 1;
    }
    svg->text = text;
    svg->size = size;
  }
  memcpy(svg->text + svg->used, bytes, count);
  svg->used += count;
  return 0;
}

static void put(fhi_svg *svg, const char *text) {
  if (svg->status == FH_OK && !svg->dry) {
    (void)append(svg, text, strlen(text));
  }
}

// A coordinate. Not finite cannot happen in a sound layout; it is drawn at the origin rather than spoiling the document.
static void put_number(fhi_svg *svg, double value) {
  char text[40];
  fhi_fixed(text, sizeof text, isfinite(value) && fabs(value) < 1e6 ? value : 0.0, 2);
  size_t length = strlen(text);
  while (length > 0 && text[length - 1] == '0') {
    text[--length] = '\0';
  }
  if (length > 0 && text[length - 1] == '.') {
    text[--length] = '\0';
  }
  put(svg, strcmp(text, "-0") == 0 ? "0" : text);
}

static void put_attribute(fhi_svg *svg, const char *name, double value) {
  put(svg, " ");
  put(svg, name);
  put(svg, "=\"");
  put_number(svg, value);
  put(svg, "\"");
}

static void put_word(fhi_svg *svg, const char *name, const char *value) {
  put(svg, " ");
  put(svg, name);
  put(svg, "=\"");
  put(svg, value);
  put(svg, "\"");
}

// The text from here to there: a number's digits and what stands before them.
static void put_part(fhi_writer *w, const char *from, const char *to) {
  char part[FHI_SVG_TEXT];
  while (from < to) {
    size_t count = (size_t)(to - from) < sizeof part - 1 ? (size_t)(to - from) : sizeof part - 4;
    while (count > 1 && from + count < to && ((unsigned char)from[count] & 0xC0u) == 0x80u) {
      count--;  // between characters
    }
    memcpy(part, from, count);
    part[count] = '\0';
    fhi_put_xml_text(w, part);
    from += count;
  }
}

// Numbers with the comma where the language writes one.
static void put_escaped(fhi_svg *svg, const char *text) {
  if (svg->status != FH_OK || svg->dry) {
    return;
  }
  fhi_writer w;
  fhi_writer_start(&w, (fh_out){append, svg});
  const char *rest = text;
  for (const char *at = text; svg->language != FH_ENGLISH && *at != '\0'; at++) {
    if (fhi_is_decimal_point(text, at)) {
      put_part(&w, rest, at);
      fhi_put(&w, ",");
      rest = at + 1;
    }
  }
  fhi_put_xml_text(&w, rest);
  fh_status status = fhi_writer_end(&w);
  if (svg->status == FH_OK) {
    svg->status = status;
  }
}

fh_status fhi_svg_create(double width, fh_language language, fhi_svg **out) {
  fhi_svg *svg = fhi_alloc(1, sizeof *svg);
  if (svg == NULL) {
    return FH_ERR_MEMORY;
  }
  svg->width = width;
  svg->language = language;
  *out = svg;
  return FH_OK;
}

void fhi_svg_destroy(fhi_svg *svg) {
  if (svg != NULL) {
    fhi_free(svg->text);
    fhi_free(svg);
  }
}

static void put_size(fhi_writer *w, const char *format_before, double value) {
  char text[40];
  fhi_put(w, format_before);
  fhi_put(w, fhi_fixed(text, sizeof text, value, 0));
}

fh_status fhi_svg_end(fhi_svg *svg, double height, const char *title, const char *about, fh_out out) {
  if (svg->status != FH_OK) {
    return svg->status;
  }
  char clean[FHI_SVG_TEXT];
  fhi_text_clean(clean, sizeof clean, title);
  double tall = ceil(height);
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"");
  fhi_put_xml_text(&w, clean);
  put_size(&w, "\" width=\"", svg->width);
  put_size(&w, "pt\" height=\"", tall);
  put_size(&w, "pt\" viewBox=\"0 0 ", svg->width);
  put_size(&w, " ", tall);
  fhi_put(&w, "\" font-family=\"'DejaVu Sans', sans-serif\">\n<title>");
  fhi_put_xml_text(&w, clean);
  fhi_put(&w, "</title>\n<desc>");
  fhi_put_xml_text(&w, about);
  put_size(&w, "</desc>\n<rect width=\"", svg->width);
  put_size(&w, "\" height=\"", tall);
  fhi_put(&w, "\" fill=\"#ffffff\"/>\n");
  fhi_put_bytes(&w, svg->text == NULL ? "" : svg->text, svg->used);
  fhi_put(&w, "</svg>\n");
  return fhi_writer_end(&w);
}

void fhi_svg_group(fhi_svg *svg, const char *kind, int index) {
  put(svg, "<g");
  if (kind != NULL) {
    put(svg, " data-");
    put(svg, kind);
    put(svg, "=\"");
    put_number(svg, index);
    put(svg, "\"");
  }
  put(svg, ">\n");
}

void fhi_svg_group_at(fhi_svg *svg, double x, double y) {
  put(svg, "<g transform=\"translate(");
  put_number(svg, x);
  put(svg, " ");
  put_number(svg, y);
  put(svg, ")\">\n");
}

void fhi_svg_group_end(fhi_svg *svg) {
  put(svg, "</g>\n");
}

void fhi_svg_embed(fhi_svg *svg, const char *part, size_t count, double x, double y, double scale) {
  put(svg, "<g transform=\"translate(");
  put_number(svg, x);
  put(svg, " ");
  put_number(svg, y);
  put(svg, ") scale(");
  put_number(svg, scale);
  put(svg, ")\">\n");
  if (svg->status == FH_OK && !svg->dry && count > 0) {
    (void)append(svg, part, count);
  }
  put(svg, "</g>\n");
}

static void put_pen(fhi_svg *svg, fhi_pen pen) {
  put_word(svg, "fill", pen.fill != NULL ? pen.fill : "none");
  if (pen.stroke != NULL) {
    put_word(svg, "stroke", pen.stroke);
    put_attribute(svg, "stroke-width", pen.width);
    if (pen.dash != NULL) {
      put_word(svg, "stroke-dasharray", pen.dash);
    } else {
      put_word(svg, "stroke-linecap", "round");
    }
  }
}

void fhi_path_clear(fhi_path *p) {
  p->count = 0;
}

static void add(fhi_path *p, char op, double x, double y) {
  if (p->count < FHI_PATH_POINTS) {
    p->op[p->count] = op;
    p->x[p->count] = x;
    p->y[p->count] = y;
    p->count++;
  }
}

void fhi_path_move(fhi_path *p, double x, double y) {
  add(p, 'M', x, y);
}

void fhi_path_line(fhi_path *p, double x, double y) {
  add(p, 'L', x, y);
}

void fhi_path_bend(fhi_path *p, double corner_x, double corner_y, double x, double y) {
  if (p->count == 0 || p->count > FHI_PATH_POINTS - 3) {
    return;
  }
  double x0 = p->x[p->count - 1];
  double y0 = p->y[p->count - 1];
  add(p, 'C', x0 + KAPPA * (corner_x - x0), y0 + KAPPA * (corner_y - y0));
  add(p, 'c', x + KAPPA * (corner_x - x), y + KAPPA * (corner_y - y));
  add(p, 'c', x, y);
}

void fhi_path_close(fhi_path *p) {
  add(p, 'Z', p->count > 0 ? p->x[p->count - 1] : 0.0, p->count > 0 ? p->y[p->count - 1] : 0.0);
}

void fhi_svg_path(fhi_svg *svg, const fhi_path *p, fhi_pen pen) {
  if (p->count == 2 && p->op[1] == 'L' && pen.fill == NULL) {
    fhi_svg_line(svg, p->x[0], p->y[0], p->x[1], p->y[1], pen);  // moves in a page at less cost
    return;
  }
  put(svg, "<path d=\"");
  for (int i = 0; i < p->count; i++) {
    char op[2] = {p->op[i], '\0'};
    if (op[0] == 'Z') {
      put(svg, "Z");
      continue;
    }
    put(svg, op[0] == 'c' ? " " : op);
    put_number(svg, p->x[i]);
    put(svg, " ");
    put_number(svg, p->y[i]);
  }
  put(svg, "\"");
  put_pen(svg, pen);
  put(svg, " stroke-linejoin=\"round\"/>\n");
}

void fhi_svg_line(fhi_svg *svg, double x1, double y1, double x2, double y2, fhi_pen pen) {
  put(svg, "<line");
  put_attribute(svg, "x1", x1);
  put_attribute(svg, "y1", y1);
  put_attribute(svg, "x2", x2);
  put_attribute(svg, "y2", y2);
  put_pen(svg, pen);
  put(svg, "/>\n");
}

void fhi_svg_rect(fhi_svg *svg, fhi_box box, double round, fhi_pen pen) {
  put(svg, "<rect");
  put_attribute(svg, "x", box.x);
  put_attribute(svg, "y", box.y);
  put_attribute(svg, "width", box.w);
  put_attribute(svg, "height", box.h);
  if (round > 0.0) {
    put_attribute(svg, "rx", round);
  }
  put_pen(svg, pen);
  put(svg, "/>\n");
}

void fhi_svg_circle(fhi_svg *svg, double x, double y, double r, fhi_pen pen) {
  put(svg, "<circle");
  put_attribute(svg, "cx", x);
  put_attribute(svg, "cy", y);
  put_attribute(svg, "r", r);
  put_pen(svg, pen);
  put(svg, "/>\n");
}

void fhi_svg_arrow(fhi_svg *svg, double x, double y, double angle, double size, const char *colour) {
  double c = cos(angle);
  double s = sin(angle);
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, x, y);
  fhi_path_line(&p, x - size * c - 0.45 * size * s, y - size * s + 0.45 * size * c);
  fhi_path_line(&p, x - size * c + 0.45 * size * s, y - size * s - 0.45 * size * c);
  fhi_path_close(&p);
  fhi_svg_path(svg, &p, (fhi_pen){NULL, 0.0, NULL, colour});
}

void fhi_svg_text(fhi_svg *svg, double x, double y, fhi_align align, fhi_font font, const char *text) {
  char clean[FHI_SVG_TEXT];
  fhi_text_clean(clean, sizeof clean, text);
  if (clean[0] == '\0') {
    return;
  }
  put(svg, "<text");
  put_attribute(svg, "x", x);
  put_attribute(svg, "y", y);
  put_attribute(svg, "font-size", font.size);
  if (font.bold) {
    put_word(svg, "font-weight", "bold");
  }
  if (align != FHI_START) {
    put_word(svg, "text-anchor", align == FHI_MIDDLE ? "middle" : "end");
  }
  put_word(svg, "fill", font.colour);
  put(svg, ">");
  put_escaped(svg, clean);
  put(svg, "</text>\n");
  int before = svg->box_count;
  fhi_svg_keep_out(svg, fhi_text_box(x, y, align, font, clean));
  if (svg->box_count > before) {
    svg->is_text[before] = true;
  }
}
