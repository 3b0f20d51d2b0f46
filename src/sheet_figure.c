// SPDX-License-Identifier: MIT
// What does the rig look like after a step? Two figures of the same scene, both to scale: the whole, small, with the load
// in the hole, and the surface near the lip, larger, with the new piece ringed. Every step has the finished rig's scale.
#include <math.h>
#include <string.h>

#include "memory.h"
#include "model.h"
#include "sheet.h"

static const double SIDE = 104.0;       // [pt] width of the whole
static const double SIDE_TALL = 94.0;   // [pt] and its height
static const double PERSON = 1.75;      // [m]
static const double AT_EDGE = 0.01;     // [m] a rig needs some depth; on the surface the load hangs by so much

// ---------------------------------------------------------------------------------------------------- scale

fh_status fhi_sheet_view_open(fhi_sheet_view *view, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fh_units units) {
  *view = (fhi_sheet_view){.scene = scene, .gear = gear, .rig = rig, .units = units};
  view->at = fhi_alloc(1, sizeof *view->at);
  if (view->at == NULL) {
    return FH_ERR_MEMORY;
  }
  view->whole = (fhi_section){.scene = scene, .gear = gear, .rig = rig, .check = check, .units = units};
  fhi_layout_make(check, scene->reach.likely, &view->whole.layout);
  fhi_section_scale(&view->whole);
  return FH_OK;
}

void fhi_sheet_view_close(fhi_sheet_view *view) {
  fhi_free(view->at);
  view->at = NULL;
}

// ---------------------------------------------------------------------------------------------------- the whole

// The finished rig sets the frame, so that lip and anchor stand at the same place on every card.
static fhi_frame side_frame(const fhi_sheet_view *view) {
  const fh_scene *s = view->scene;
  const fhi_layout *l = &view->whole.layout;
  fhi_frame f = {.base = 1.2, .hole_base = 2.4, .hole_gap = 2.8, .gap = 1.5, .bend = 2.0};
  f.gap = fmin(f.gap, l->lane_count > 1 ? 8.0 / (l->lane_count - 1) : f.gap);
  fhi_frame_axes(&f, s->slope.likely, s->lip_turn.likely);
  double back = fmax(l->far, view->whole.check->bodies[FH_BODY_ANCHOR].at) + 0.8;
  double out = fmax(0.0, -f.wx * s->depth.likely) + 0.7;  // of the load, from the lip; and half a person
  double up = fmax(0.0, -f.uy * back) + PERSON + 0.2;
  double down = fmax(s->depth.likely * f.wy, f.uy * back) + 1.0;
  double bundle = l->hole_count * f.hole_gap + 4.0;
  f.scale = fmin((SIDE - 4.0 - bundle) / (out + back * f.ux), (SIDE_TALL - 12.0) / (up + down));
  f.x = 2.0 + bundle + out * f.scale;
  f.y = 2.0 + up * f.scale;
  f.deep = -HUGE_VAL;
  f.end = HUGE_VAL;
  return f;
}

static void draw_ground(fhi_svg *svg, const fhi_frame *f, double bottom) {
  double right = SIDE - 1.0;
  double far_y = f->y + (right - f->x) / f->ux * f->uy;
  double wall_x = f->x + (bottom - f->y) / f->wy * f->wx;
  fhi_path p;
  fhi_path_clear(&p);
  fhi_path_move(&p, wall_x, bottom);
  fhi_path_line(&p, f->x, f->y);
  fhi_path_line(&p, right, far_y);
  fhi_path_line(&p, right, bottom);
  fhi_path_close(&p);
  fhi_svg_path(svg, &p, (fhi_pen){NULL, 0.0, NULL, FHI_ICE});
  fhi_path_clear(&p);
  fhi_path_move(&p, wall_x, bottom);
  fhi_path_line(&p, f->x, f->y);
  fhi_path_line(&p, right, far_y);
  fhi_svg_path(svg, &p, (fhi_pen){FHI_ICE_EDGE, 1.0, NULL, NULL});
}

static void draw_fixed(const fhi_section *sec, const fhi_frame *f, int body) {
  double x[2];
  double y[2];
  bool slung = body == FH_BODY_STATION && fhi_sling_length(sec->check) > 0.0;
  fhi_frame_point(f, sec->check->bodies[body].at, slung ? 0.0 : -3.0, 0.0, &x[0], &y[0]);
  fhi_frame_point(f, sec->check->bodies[body].at, f->base + 3.0, 0.0, &x[1], &y[1]);
  fhi_svg_line(sec->svg, x[0], y[0], x[1], y[1], (fhi_pen){FHI_INK, 1.5, NULL, NULL});
}

static void draw_sling(const fhi_section *sec, const fhi_frame *f) {
  double x[2];
  double y[2];
  fhi_frame_point(f, sec->check->bodies[FH_BODY_STATION].at, 0.6, 0.0, &x[0], &y[0]);
  fhi_frame_point(f, sec->check->bodies[FH_BODY_ANCHOR].at, 0.6, 0.0, &x[1], &y[1]);
  fhi_svg_line(sec->svg, x[0], y[0], x[1], y[1], (fhi_pen){FHI_INK, 0.9, NULL, NULL});
}

static void draw_load(const fhi_section *sec, const fhi_frame *f, double depth) {
  double x = 0.0;
  double y = 0.0;
  if (depth > 0.0) {
    fhi_frame_point(f, -depth, f->hole_base, 0.0, &x, &y);
    fhi_draw_person(sec->svg, x - 0.1 * f->scale, y, f->scale, FHI_HANGING, 1.0);
    fhi_svg_circle(sec->svg, x, y, 1.4, (fhi_pen){NULL, 0.0, NULL, FHI_INK});
  } else {
    fhi_frame_point(f, 1.2, 0.6, 0.0, &x, &y);
    fhi_svg_line(sec->svg, x, y - 1.2, x + PERSON * f->scale, y - 1.2, (fhi_pen){FHI_SOFT, fmax(1.6, 0.25 * f->scale), NULL, NULL});
  }
}

// What is new at the load cannot be seen on the surface.
static void ring_load(const fhi_section *sec, const fhi_frame *f, double depth) {
  const fh_rig *rig = sec->rig;
  int station = sec->fresh_station - 1;
  if (station < 0 || station >= rig->station_count || rig->stations[station].body != FH_BODY_LOAD ||
      (rig->stations[station].kind != FH_RUN && rig->stations[station].kind != FH_TIE)) {
    return;
  }
  double x = 0.0;
  double y = 0.0;
  fhi_frame_point(f, -depth, f->hole_base, 0.0, &x, &y);
  fhi_svg_circle(sec->svg, x, y, 6.5, (fhi_pen){FHI_WARN, 1.4, NULL, NULL});
}

static void draw_crew(const fhi_section *sec, const fhi_frame *f) {
  const fhi_layout *l = &sec->layout;
  if (l->hand < 0) {
    return;
  }
  int people = sec->scene->crew_count < 1 ? 1 : sec->scene->crew_count > 4 ? 4 : sec->scene->crew_count;
  for (int i = 0; i < people; i++) {
    double x = 0.0;
    double y = 0.0;
    fhi_frame_point(f, fmax(0.3, l->hand_at + l->hand_dir * (0.3 + 0.9 * i)), 0.6, 0.0, &x, &y);
    if (x < SIDE - 3.0) {
      fhi_draw_person(sec->svg, x, y, f->scale, FHI_PULLING, l->hand_dir);
    }
  }
}

static double draw_side(const fhi_sheet_view *view, fhi_section *sec, double depth) {
  fhi_frame f = side_frame(view);
  double bottom = f.y + fmax(fmax(view->scene->depth.likely * f.wy, 0.0) + 1.0, 1.5) * f.scale;
  draw_ground(sec->svg, &f, bottom);
  fhi_draw_strands(sec->svg, &f, &sec->layout, sec->check, 3.0, 0.5);
  if (!sec->bare) {
    draw_sling(sec, &f);
    draw_fixed(sec, &f, FH_BODY_STATION);
  }
  draw_fixed(sec, &f, FH_BODY_ANCHOR);
  draw_load(sec, &f, depth);
  ring_load(sec, &f, depth);
  draw_crew(sec, &f);
  fhi_draw_scale_bar(sec->svg, 2.0, bottom + 6.0, f.scale, 50.0, view->units);
  return bottom + 12.0;
}

// ---------------------------------------------------------------------------------------------------- figures out

// The text is kept; the places of labels are not needed any more.
static fh_status keep(fhi_svg *svg, double width, double height, fhi_sheet_figure *to) {
  fh_status status = svg->status;
  if (status == FH_OK) {
    *to = (fhi_sheet_figure){svg->text, svg->used, width, height};
    svg->text = NULL;
    svg->used = svg->size = 0;
  }
  fhi_svg_destroy(svg);
  return status;
}

static fh_status draw_both(const fhi_sheet_view *view, fhi_section *sec, double depth, fhi_sheet_block *block) {
  fh_status status = fhi_svg_create(SIDE, sec->scene->language, &sec->svg);
  if (status != FH_OK) {
    return status;
  }
  double height = draw_side(view, sec, depth);
  status = keep(sec->svg, SIDE, height, &block->side);
  if (status == FH_OK) {
    status = fhi_svg_create(FHI_PAGE, sec->scene->language, &sec->svg);
  }
  if (status != FH_OK) {
    return status;
  }
  height = fhi_draw_surface(sec, 0.0);
  return keep(sec->svg, FHI_PAGE, height, &block->wide);
}

// Half a rig raises nothing and is not worked out; where its ropes lie is known all the same.
static void lay_out(const fhi_model *m, bool hands, fh_check *to) {
  to->outcome = FH_OUTCOME_INFEASIBLE;
  to->strand_count = m->strand_count;
  to->contact_count = m->contact_count;
  to->body_count = m->body_count;
  for (int s = 0; s < m->strand_count; s++) {
    const fhi_strand *from = &m->strands[s];
    to->strands[s] = (fh_strand){.path = from->path, .from = from->end[0].body, .to = from->end[1].body, .after = from->after,
                                 .s_from = from->end[0].s, .s_to = from->end[1].s, .length = from->length,
                                 .carries = hands ? !from->slack : !from->slack_hold};
  }
  for (int c = 0; c < m->contact_count; c++) {
    const fhi_contact *from = &m->contacts[c];
    to->contacts[c] = (fh_contact){.station = from->station, .before = from->before, .after = from->after, .body = from->body,
                                   .item = from->item, .wrap = from->wrap, .capture = from->capture};
  }
  for (int b = 0; b < m->body_count; b++) {
    to->bodies[b].at = m->at[b];
    to->bodies[b].fixed = m->fixed[b];
  }
}

// A rope of which only the first knot is tied has a loose end, so that it can be seen.
static void loosen(fh_rig *rig) {
  for (int p = 0; p < rig->path_count; p++) {
    fh_path *path = &rig->paths[p];
    if (path->count != 1 || rig->station_count == FH_MAX_STATIONS) {
      continue;
    }
    int at = path->first + 1;
    memmove(&rig->stations[at + 1], &rig->stations[at], (size_t)(rig->station_count - at) * sizeof rig->stations[0]);
    fh_station *end = &rig->stations[at];
    *end = (fh_station){.kind = FH_LOOSE, .body = -1, .item = -1};
    end->efficiency = end->efficiency_range = end->friction = end->slack = end->angle = fh_number_unset();
    path->count++;
    rig->station_count++;
    for (int q = p + 1; q < rig->path_count; q++) {
      rig->paths[q].first++;
    }
  }
}

static fh_status stage_check(const fhi_sheet_view *view, const fh_stage *stage, fh_check **out) {
  char why[200];
  fh_check *check = fhi_alloc(1, sizeof *check);
  fhi_model *model = fhi_alloc(1, sizeof *model);
  if (check != NULL && model != NULL) {
    (void)fhi_model_compile(view->at, view->gear, &view->at->rig, model, why, sizeof why);  // its places are filled in any case
    lay_out(model, stage->hands, check);
  }
  fhi_free(model);
  *out = check;
  return check != NULL && model != NULL ? FH_OK : FH_ERR_MEMORY;
}

static bool same_place(const fh_rig *a, const fh_station *x, const fh_rig *b, const fh_station *y) {
  return x->kind == y->kind && x->item == y->item && x->body >= 0 && y->body >= 0 && strcmp(a->bodies[x->body], b->bodies[y->body]) == 0;
}

// A place in the whole rig, in the rig that holds only what is in place so far: the same piece on the same body, passed as
// many times before. Indices may differ: a tie-off can lie between. @return index plus 1, or 0
static int fresh_station(const fh_rig *rig, const fh_rig *now, const fh_stage *stage) {
  if (stage->station < 0 || stage->path < 0) {
    return 0;
  }
  const fh_path *from = &rig->paths[stage->path];
  int left = 0;
  for (int i = from->first; i <= stage->station; i++) {
    left += same_place(rig, &rig->stations[i], rig, &rig->stations[stage->station]) ? 1 : 0;
  }
  for (int p = 0; p < now->path_count; p++) {
    for (int i = 0; i < now->paths[p].count && strcmp(now->paths[p].name, from->name) == 0; i++) {
      int at = now->paths[p].first + i;
      left -= same_place(rig, &rig->stations[stage->station], now, &now->stations[at]) ? 1 : 0;
      if (left == 0) {
        return at + 1;
      }
    }
  }
  return 0;
}

static int fresh_grip(const fh_rig *rig, const fh_rig *now, const fh_stage *stage) {
  if (stage->grip < 0) {
    return 0;
  }
  const fh_grip *wanted = &rig->grips[stage->grip];
  for (int g = 0; g < now->grip_count; g++) {
    if (strcmp(now->bodies[now->grips[g].body], rig->bodies[wanted->body]) == 0 && now->grips[g].item == wanted->item) {
      return g + 1;
    }
  }
  return 0;
}

fh_status fhi_sheet_draw_stage(fhi_sheet_view *view, const fh_stages *stages, int index, const fh_check *check, fhi_sheet_block *block) {
  const fh_stage *stage = &stages->stages[index];
  fh_status status = fh_stage_scene(view->scene, view->gear, view->rig, stages, index, view->at);
  fh_check *own = NULL;
  if (!(view->at->depth.lo > 0.0)) {
    view->at->depth = fh_number_exact(AT_EDGE);
  }
  loosen(&view->at->rig);
  status = status == FH_OK ? stage_check(view, stage, &own) : status;
  fhi_section *sec = status == FH_OK ? fhi_alloc(1, sizeof *sec) : NULL;
  if (sec == NULL) {
    fh_check_destroy(own);
    return status != FH_OK ? status : FH_ERR_MEMORY;
  }
  *sec = view->whole;
  sec->scene = view->at;
  sec->rig = &view->at->rig;
  sec->check = own;
  sec->step = true;
  sec->bare = stage->kind == FH_STAGE_FIRST_LINE;
  // The finished rig's forces fit only the finished rig.
  if (check != NULL && check->outcome == FH_OUTCOME_SOLVED && check->strand_count == own->strand_count) {
    sec->check = check;
    sec->rig = view->rig;
    sec->scene = view->scene;
    sec->solved = true;
  }
  sec->layout = (fhi_layout){.hand = -1};
  fhi_layout_make(sec->check, view->scene->reach.likely, &sec->layout);
  if (!stage->hands) {
    sec->layout.hand = -1;  // nobody pulls: no arrow, no crew at the rope
  }
  sec->fresh_station = fresh_station(view->rig, sec->rig, stage);
  sec->fresh_grip = fresh_grip(view->rig, sec->rig, stage);
  status = draw_both(view, sec, stage->depth, block);
  fhi_free(sec);
  fh_check_destroy(own);
  return status;
}
