// SPDX-License-Identifier: MIT
// A code written out as a rig that stands on its own: every path, every efficiency, every place.
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "search.h"
#include "text.h"

typedef struct writer {
  const fh_scene *scene;
  const fh_gear *gear;
  const fhi_stock *stock;
  const fhi_code *code;
  const fhi_placed *placed;
  fh_rig *rig;
  int body_of[FHI_ELEMENTS];    // body of each element
  int path_of[FHI_STRANDS];     // path and station before each strand
  int after[FHI_STRANDS];
  int hitches_used[FHI_HITCHES];
} writer;

static fh_station *new_station(writer *w, fh_station_kind kind, int body) {
  fh_station *st = &w->rig->stations[w->rig->station_count++];
  memset(st, 0, sizeof *st);
  st->kind = kind;
  st->body = body;
  st->item = -1;
  st->efficiency = st->efficiency_range = st->friction = st->slack = st->angle = fh_number_unset();
  w->rig->paths[w->rig->path_count - 1].count++;
  return st;
}

static void new_path(writer *w, int rope) {
  fh_path *p = &w->rig->paths[w->rig->path_count++];
  memset(p, 0, sizeof *p);
  p->rope = rope;
  p->first = w->rig->station_count;
  if (rope >= 0) {
    fhi_copy(p->name, sizeof p->name, w->scene->ropes[rope].name);
  } else {
    fhi_format(p->name, sizeof p->name, w->rig->path_count == 1 ? "rope" : "rope-%d", w->rig->path_count);
  }
}

static void run_on(writer *w, int body, int piece) {
  fh_station *st = new_station(w, FH_RUN, body);
  fh_number eta = w->stock->eta[piece];
  st->item = w->stock->item[piece];
  st->efficiency = fh_number_exact(eta.likely);
  if (eta.hi > eta.lo) {
    st->efficiency_range = eta;
    st->efficiency_range.spread = FH_SPREAD_UNIFORM;
    st->efficiency_range.likely = 0.5 * (eta.lo + eta.hi);
    st->efficiency_range.sd = 0.0;
  }
}

static void slack_line(writer *w) {
  new_station(w, FH_TIE, FH_BODY_LOAD);
  new_station(w, FH_EDGE, -1);
  new_station(w, FH_TIE, FH_BODY_ANCHOR)->slack = fh_number_exact(0.5);
}

// Everything before the capture.
static void write_start(writer *w) {
  const fhi_stock *s = w->stock;
  int main_rope = s->rope_count > 0 ? s->ropes[0] : -1, other = s->long_ropes > 1 ? s->ropes[1] : -1;
  bool loop = w->code->start == FHI_START_LOOP || w->code->start == FHI_START_OTHER_LOOP;
  new_path(w, main_rope);
  if (w->code->start != FHI_START_DIRECT) {
    slack_line(w);
  }
  if (w->code->start == FHI_START_END) {
    new_path(w, main_rope);
    fh_path *end = &w->rig->paths[w->rig->path_count - 1];
    fhi_copy(end->of, sizeof end->of, end->name);
    fhi_copy(end->name, sizeof end->name, "free-end");
  } else if (w->code->start == FHI_START_OTHER_DIRECT || w->code->start == FHI_START_OTHER_LOOP) {
    new_path(w, other);
  }
  if (w->code->start == FHI_START_OTHER_LOOP) {
    new_station(w, FH_TIE, FH_BODY_ANCHOR);
  }
  if (loop) {
    new_station(w, FH_EDGE, -1);
    run_on(w, FH_BODY_LOAD, w->code->load_piece);
  } else {
    new_station(w, FH_TIE, FH_BODY_LOAD);
  }
  new_station(w, FH_EDGE, -1);
}

static void begin_strand(writer *w, int strand) {
  const fh_path *p = &w->rig->paths[w->rig->path_count - 1];
  w->path_of[strand] = w->rig->path_count - 1;
  w->after[strand] = p->count - 1;
}

// A strand that ends in the hand or loose.
static void end_open(writer *w, int strand) {
  if (fhi_is_loose(w->code, strand)) {
    new_station(w, FH_LOOSE, -1);
    return;
  }
  new_station(w, FH_HAND, -1)->toward = fhi_direction(w->code, strand) > 0 ? FH_TOWARD_BACK : FH_TOWARD_LIP;
}

// Ropes left for ties, after the start has taken its own.
static int further_rope(const writer *w, int nth) {
  bool other = w->code->start == FHI_START_OTHER_DIRECT || w->code->start == FHI_START_OTHER_LOOP;
  int index = nth + 1 + other;
  return index < w->stock->rope_count ? w->stock->ropes[index] : -1;
}

static void name_bodies(writer *w) {
  fh_rig *rig = w->rig;
  fhi_copy(rig->bodies[FH_BODY_LOAD], FH_NAME, "load");
  fhi_copy(rig->bodies[FH_BODY_STATION], FH_NAME, "station");
  fhi_copy(rig->bodies[FH_BODY_ANCHOR], FH_NAME, "anchor");
  rig->body_count = FH_BODY_FIRST_GRIP;
  for (int i = 0; i <= w->code->n; i++) {
    const fhi_element *e = &w->code->e[i];
    w->body_of[i] = e->on >= 0 ? -1 : i > 0 && w->code->far_turns ? FH_BODY_ANCHOR : FH_BODY_STATION;
    for (int k = 1; k < i && w->code->shared && e->on >= 0; k++) {
      if (w->code->e[k].on == e->on && w->code->e[k].side == e->side) {
        w->body_of[i] = w->body_of[k];
      }
    }
    if (w->body_of[i] < 0) {
      int body = rig->body_count++;
      w->body_of[i] = body;
      fhi_format(rig->bodies[body], FH_NAME, "block-%d", body - FH_BODY_FIRST_GRIP + 1);
    }
  }
}

// The strongest hitch that is left.
static int take_hitch(writer *w) {
  for (int k = 0; k < w->stock->hitch_kinds; k++) {
    if (w->hitches_used[k] < w->stock->hitch_count[k]) {
      w->hitches_used[k]++;
      return w->stock->hitches[k];
    }
  }
  return -1;
}

static void add_grip(writer *w, int body, int strand, double at) {
  fh_grip *g = &w->rig->grips[w->rig->grip_count++];
  *g = (fh_grip){.body = body, .item = take_hitch(w), .path = w->path_of[strand], .after = w->after[strand], .at = at};
}

static void write_grips(writer *w) {
  if (w->stock->capture < 0) {
    // The tended hitch sits just in front of the station, behind every block.
    add_grip(w, FH_BODY_STATION, 0, w->scene->station_at.likely - 0.5 * w->scene->clearance.likely);
  }
  for (int i = 1; i <= w->code->n; i++) {
    bool new_body = true;
    for (int k = 1; k < i; k++) {
      new_body = new_body && w->body_of[k] != w->body_of[i];
    }
    if (w->code->e[i].on >= 0 && new_body) {
      add_grip(w, w->body_of[i], w->code->e[i].on, w->placed->at[i]);
    }
  }
}

void fhi_code_rig(const fh_scene *scene, const fh_gear *gear, const fhi_stock *stock, const fhi_code *code,
                  const fhi_placed *placed, fh_rig *rig) {
  writer w = {.scene = scene, .gear = gear, .stock = stock, .code = code, .placed = placed, .rig = rig};
  memset(rig, 0, sizeof *rig);
  name_bodies(&w);
  write_start(&w);
  begin_strand(&w, 0);
  run_on(&w, FH_BODY_STATION, code->e[0].piece);
  for (int i = 1, ties = 0; i <= code->n; i++) {
    begin_strand(&w, i);
    if (code->e[i].tie) {
      end_open(&w, i);
      new_path(&w, further_rope(&w, ties++));
      new_station(&w, FH_TIE, w.body_of[i]);
    } else {
      run_on(&w, w.body_of[i], code->e[i].piece);
    }
  }
  begin_strand(&w, code->n + 1);
  end_open(&w, code->n + 1);
  write_grips(&w);
}
