// SPDX-License-Identifier: MIT
// What is written beside the strands of the surface: the force of each, what the rope runs through at each turn, where strands lead
// that run on past the edge.
#include "draw_surface.h"

#include "words.h"

#include <math.h>
#include <string.h>

static const double NAME_ROOM = 84.0;  // [pt] a name takes at most

// The room above a strand belongs to that strand's number.
static void reserve_lanes(fhi_section *sec, const fhi_frame *f, int *zones) {
  for (int i = 0; i < sec->check->strand_count; i++) {
    fhi_path p;
    zones[i] = -1;
    bool surface = sec->layout.from[i] >= 0.0 && sec->layout.to[i] >= 0.0;
    if (surface && fhi_strand_path(f, &sec->layout, sec->check, i, &p) && sec->svg->segment_count < FHI_SVG_SEGMENTS) {
      zones[i] = sec->svg->segment_count;
      fhi_svg_avoid(sec->svg, p.x[0], p.y[0] - 6.0, p.x[1], p.y[1] - 6.0, 1.5);
    }
  }
}

// A number that is just too long for its strand goes without its unit, which the heading names.
static void drop_unit(char *text, double clear) {
  char bare[FHI_WORD];
  (void)fhi_copy(bare, sizeof bare, text);
  char *space = strrchr(bare, ' ');
  if (space != NULL) {
    *space = '\0';
    if (fhi_text_width(bare, FHI_MAIN, true) <= clear) {
      (void)fhi_copy(text, FHI_WORD, bare);
    }
  }
}

static void label_strand(fhi_section *sec, const fhi_frame *f, int i, fhi_box field) {
  const fh_strand *st = &sec->check->strands[i];
  fhi_path p;
  if (sec->layout.from[i] < 0.0 || sec->layout.to[i] < 0.0 || !fhi_strand_path(f, &sec->layout, sec->check, i, &p)) {
    return;
  }
  char force[FHI_WORD];
  char text[FHI_WORD + 16];
  fhi_callout label = {.field = field, .font = fhi_font_bold(), .text = text, .x = (p.x[0] + p.x[1]) / 2.0, .y = p.y[0], .pull_y = i == sec->layout.hand ? -7.0 : -5.7, .beside = true};
  if (!st->carries) {
    if (sec->step && (st->to == FH_END_LOOSE || st->from == FH_END_LOOSE)) {
      return;  // the heading says what dotted is
    }
    label.font = fhi_font_small();
    (void)fhi_format(text, sizeof text, st->to == FH_END_LOOSE || st->from == FH_END_LOOSE ? fhi_say(sec->scene->language, "loose end") : fhi_say(sec->scene->language, "slack"));
  } else if (!sec->solved) {
    if (i != sec->layout.hand) {
      return;
    }
    (void)fhi_format(text, sizeof text, fhi_say(sec->scene->language, "pull"));
  } else {
    fhi_show_force(force, sizeof force, st->tension[FH_RAISE], sec->units, sec->scene->language);
    (void)fhi_format(text, sizeof text, i == sec->layout.hand ? fhi_say(sec->scene->language, "pull %s") : "%s", force);
    double clear = fabs(p.x[1] - p.x[0]) - 9.0;  // between what stands at its ends
    if (fhi_text_width(text, FHI_MAIN, true) > clear && i != sec->layout.hand) {
      drop_unit(text, clear);
    }
  }
  // Wholly beside its own strand, or at least over the middle of it.
  label.slide = fmax(0.0, (fabs(p.x[1] - p.x[0]) - fhi_text_width(text, label.font.size, label.font.bold)) / 2.0 - 3.0);
  if (!fhi_svg_callout(sec->svg, &label)) {
    sec->missed[sec->missed_count++] = i;
  }
}

static void label_strands(fhi_section *sec, const fhi_frame *f, fhi_box field, const int *zones) {
  // Numbers first, then what only says that a strand is slack.
  for (int pass = 0; pass < 2; pass++) {
    for (int i = 0; i < sec->check->strand_count; i++) {
      if (sec->check->strands[i].carries != (pass == 0)) {
        continue;
      }
      if (zones[i] >= 0) {
        sec->svg->segments[zones[i]].weight = 0.0;
      }
      label_strand(sec, f, i, field);
      if (zones[i] >= 0) {
        sec->svg->segments[zones[i]].weight = 1.5;
      }
    }
  }
}

// A name far off its turn, or across ropes, tells less than none: the turn itself shows what it is, and the route in words has it.
static const double NAME_MOST = 70.0;  // [pt]

static void label_contacts(fhi_section *sec, const fhi_frame *f, fhi_box field) {
  for (int i = 0; i < sec->check->contact_count; i++) {
    const fh_contact *k = &sec->check->contacts[i];
    double x = 0.0;
    double y = 0.0;
    int dir = 0;
    if (k->body < 0 || !fhi_contact_spot(sec, f, k, &x, &y, &dir)) {
      continue;
    }
    char text[FHI_WORD];
    fhi_show_name(text, sizeof text, k->item >= 0 ? fhi_item_said(sec->scene->language, sec->gear, k->item) : fhi_say(sec->scene->language, "tended grip"), NAME_ROOM);
    double half = fhi_text_width(text, FHI_SMALL, false) / 2.0;
    fhi_callout label = {.field = field, .font = fhi_font_small(), .text = text, .x = x + dir * 6.5, .y = y, .pull_x = dir * (half + 3.0), .most = NAME_MOST};
    (void)fhi_svg_callout(sec->svg, &label);
  }
}

// Strands that run on past the right edge say where to.
static void draw_onward(fhi_section *sec, const fhi_frame *f, fhi_box field, const int *zones) {
  const fh_check *c = sec->check;
  double at = c->bodies[FH_BODY_ANCHOR].at;
  if (at <= f->end) {
    return;
  }
  char a[FHI_WORD];
  char text[FHI_WORD];
  (void)fhi_format(text, sizeof text, fhi_say(sec->scene->language, "anchor %s \xE2\x86\x92"), fhi_show_length(a, sizeof a, at, sec->units));
  for (int i = 0; i < c->strand_count; i++) {
    fhi_path p;
    if ((c->strands[i].to != FH_BODY_ANCHOR && c->strands[i].from != FH_BODY_ANCHOR) || !fhi_strand_path(f, &sec->layout, c, i, &p)) {
      continue;
    }
    fhi_callout label = {.field = field, .font = fhi_font_small(), .text = text, .x = fmax(p.x[0], p.x[1]), .y = p.y[0], .pull_x = -32.0, .pull_y = -6.0};
    if (zones[i] >= 0) {
      sec->svg->segments[zones[i]].weight = 0.0;
    }
    (void)fhi_svg_callout(sec->svg, &label);
    return;
  }
}

void fhi_label_surface(fhi_section *sec, const fhi_frame *f, fhi_box field) {
  int zones[FH_MAX_STRANDS];
  reserve_lanes(sec, f, zones);
  label_strands(sec, f, field, zones);
  label_contacts(sec, f, field);
  draw_onward(sec, f, field, zones);
}
