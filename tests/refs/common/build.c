// SPDX-License-Identifier: MIT
// How is a rig put together by hand? Fills the public structures directly, so that no parser stands between a test
// and what it means.
#include "build.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// Numbers are written out here, not made by the core: a test must not depend on what it checks.
static fh_number exact(double value) {
  return (fh_number){.spread = FH_SPREAD_EXACT, .lo = value, .likely = value, .hi = value};
}

static fh_number unset(void) {
  return (fh_number){.spread = FH_SPREAD_UNSET, .lo = REF_NAN, .likely = REF_NAN, .hi = REF_NAN, .sd = REF_NAN};
}

static void name_it(char *to, const char *name) {
  snprintf(to, FH_NAME, "%s", name);
}

static void fill_ground(fh_scene *s) {
  s->station_at = exact(6.0);
  s->anchor_at = exact(11.0);
  s->slope = exact(0.0);
  s->reach = exact(0.5);
  s->clearance = exact(0.3);
  s->room = exact(25.0);
  s->anchor_holds = exact(12000.0);
  s->anchor_kind = -1;
}

static void fill_crew(fh_scene *s) {
  s->crew_count = 1;
  name_it(s->crew[0].name, "guide");
  s->crew[0].mass = exact(75.0);
  s->crew[0].footing = exact(0.5);
  s->crew[0].posture = -1;
  s->crew[0].pull = exact(300.0);
}

fh_scene *ref_scene_make(double mass, double mu, double turn) {
  fh_scene *s = calloc(1, sizeof *s);
  if (s == NULL) {
    return NULL;
  }
  snprintf(s->title, sizeof s->title, "made by a test");
  s->load_mass = exact(mass);
  s->depth = exact(10.0);
  s->lip_turn = exact(turn);
  s->lip_friction = exact(mu);
  s->lip_surface = -1;
  s->lip_cut = exact(0.0);
  fill_ground(s);
  fill_crew(s);
  s->reset_time = exact(20.0);
  s->walk_speed = exact(0.3);
  s->has_rig = true;
  ref_body(&s->rig, "load");
  ref_body(&s->rig, "station");
  ref_body(&s->rig, "anchor");
  return s;
}

int ref_body(fh_rig *rig, const char *name) {
  name_it(rig->bodies[rig->body_count], name);
  return rig->body_count++;
}

int ref_path(fh_rig *rig, const char *name) {
  fh_path *p = &rig->paths[rig->path_count];
  name_it(p->name, name);
  p->rope = -1;
  p->first = rig->station_count;
  p->count = 0;
  return rig->path_count++;
}

static fh_station *add_station(fh_rig *rig, fh_station_kind kind, int body) {
  fh_station *st = &rig->stations[rig->station_count++];
  *st = (fh_station){.kind = kind, .body = body, .item = -1};
  st->efficiency = unset();
  st->efficiency_range = unset();
  st->friction = unset();
  st->slack = unset();
  st->angle = exact(0.0);
  rig->paths[rig->path_count - 1].count++;
  return st;
}

void ref_tie(fh_rig *rig, int body) {
  add_station(rig, FH_TIE, body);
}

void ref_tie_slack(fh_rig *rig, int body, double slack) {
  add_station(rig, FH_TIE, body)->slack = exact(slack);
}

void ref_edge(fh_rig *rig) {
  add_station(rig, FH_EDGE, -1);
}

void ref_run(fh_rig *rig, int body, int item, double efficiency) {
  fh_station *st = add_station(rig, FH_RUN, body);
  st->item = item;
  st->efficiency = exact(efficiency);
}

void ref_hand(fh_rig *rig, fh_toward toward) {
  add_station(rig, FH_HAND, -1)->toward = toward;
}

void ref_loose(fh_rig *rig) {
  add_station(rig, FH_LOOSE, -1);
}

void ref_grip(fh_rig *rig, int item, int body, int path, int after, double at) {
  rig->grips[rig->grip_count++] = (fh_grip){.body = body, .item = item, .path = path, .after = after, .at = at};
}

static int first_of(const fh_gear *gear, const char *name, fh_item_class wanted) {
  int index = fh_gear_find(gear, name);
  const fh_item *item = index < 0 ? NULL : fh_gear_item(gear, index);
  return item != NULL && item->item_class == wanted ? index : -1;
}

bool ref_items_find(const fh_gear *gear, ref_items *out) {
  out->bar = first_of(gear, "carabiner", FH_ITEM_BAR);
  out->sheave = first_of(gear, "pulley", FH_ITEM_SHEAVE);
  out->capture = first_of(gear, "toothed-capture", FH_ITEM_CAPTURE);
  out->hitch = first_of(gear, "prusik", FH_ITEM_HITCH);
  return out->bar >= 0 && out->sheave >= 0 && out->capture >= 0 && out->hitch >= 0;
}

void ref_make_lossless(fh_scene *scene) {
  scene->lip_friction = exact(0.0);
  for (int i = 0; i < scene->rig.station_count; i++) {
    fh_station *st = &scene->rig.stations[i];
    if (st->kind == FH_RUN) {
      st->efficiency = exact(1.0);
      st->efficiency_range = unset();
    }
    if (st->kind == FH_EDGE) {
      st->friction = unset();
    }
  }
}

static int to_stdout(void *user, const char *bytes, size_t count) {
  (void)user;
  return fwrite(bytes, 1, count, stdout) == count ? 0 : 1;
}

void ref_print_scene(const fh_scene *scene, const fh_gear *gear) {
  if (fh_scene_write_yaml(scene, gear, (fh_out){.write = to_stdout}) != FH_OK) {
    printf("(the scene could not be written)\n");
  }
  fflush(stdout);
}
