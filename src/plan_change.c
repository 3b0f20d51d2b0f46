// SPDX-License-Identifier: MIT
// What could one do, or fetch, where no rig works? Each row changes a copy of the scene; plan_missing.c searches it again.
// Implements model.md, section 13. That these are the things to try, and in this order, is common practice, no source.
#include "plan_change.h"

#include <string.h>

#include "crew.h"
#include "text.h"
#include "words.h"

// What the kit's carabiners are there for is an answer, no piece: where it decides, it is told before all else.
static bool free_carabiners(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  (void)change;
  (void)gear;
  if (scene->kit_for != FH_KIT_ALL) {
    return false;
  }
  scene->kit_for = FH_KIT_RIG;
  return fhi_copy(text, size, fhi_say(scene->language, "another answer to \"are these all the carabiners?\": others hold pieces, knots and tether, these are free for the rig"));
}

static bool pad_lip(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  (void)change;
  fh_number padded = fh_gear_figure(gear, fh_gear_find(gear, "padded"), "friction", NULL);
  if (!fh_number_is_set(padded) || !(padded.likely < scene->lip_friction.likely)) {
    return false;
  }
  scene->lip_friction = padded;
  return fhi_copy(text, size, fhi_say(scene->language, "a lip padded and cleared"));
}

// Whether the crew, pulling back from the lip, can pull more than in another scene.
static bool pulls_more(const fh_gear *gear, const fh_scene *scene, const fh_scene *than) {
  double diameter = fhi_rope_diameter(scene, gear, scene->rope_count > 0 ? 0 : -1);
  return fhi_crew_pull(scene, gear, FH_TOWARD_BACK, diameter).force.likely >
         1.01 * fhi_crew_pull(than, gear, FH_TOWARD_BACK, diameter).force.likely;
}

// Steps for the feet of those whose feet hold less.
static bool kick_steps(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  (void)change;
  fh_number steps = fh_gear_figure(gear, fh_gear_find(gear, "crampons"), "friction", NULL);
  fh_number now = fh_gear_figure(gear, fh_gear_find(gear, "boots-on-snow"), "friction", NULL);
  bool better = false;
  for (int i = 0; i < scene->crew_count; i++) {
    fh_number *feet = &scene->crew[i].footing;
    if (fh_number_is_set(steps) && steps.likely > (fh_number_is_set(*feet) ? feet->likely : now.likely)) {
      *feet = steps;
      better = true;
    }
  }
  return better && fhi_copy(text, size, fhi_say(scene->language, "steps for the feet of those who pull"));
}

static bool set_posture(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  (void)change;
  const char *name = change->amount > 0.0 ? "braced" : "harness";
  int item = fh_gear_find(gear, name);
  bool better = false;
  for (int i = 0; i < scene->crew_count && item >= 0; i++) {
    better = better || scene->crew[i].posture != item;
    scene->crew[i].posture = item;
  }
  return better && fhi_format(text, size, fhi_say(scene->language, "another way to pull: %s"), fhi_item_said(scene->language, gear, item));
}

static bool lighten(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  (void)gear;
  char kg[32];
  fh_number *mass = &scene->load_mass;
  if (!(mass->lo - change->amount >= 40.0)) {
    return false;  // a person is not lighter than that
  }
  mass->lo -= change->amount;
  mass->likely -= change->amount;
  mass->hi -= change->amount;
  return fhi_format(text, size, fhi_say(scene->language, "%s kg less on the rope (the pack off and raised later)"), fhi_fixed(kg, sizeof kg, change->amount, 0));
}

static void move_back(fh_number *place, double by) {
  place->lo += by;
  place->likely += by;
  place->hi += by;
}

static bool set_back(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  (void)gear;
  char m[32];
  move_back(&scene->station_at, change->amount);
  move_back(&scene->anchor_at, change->amount);
  return scene->anchor_at.hi < scene->room.lo && fhi_format(text, size, fhi_say(scene->language, "station and anchor %s m farther back"), fhi_fixed(m, sizeof m, change->amount, 0));
}

static bool add_people(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  int more = (int)change->amount;
  if (scene->crew_count == 0 || scene->crew_count + more > FH_MAX_CREW) {
    return false;
  }
  for (int i = 0; i < more; i++) {
    fh_hauler *h = &scene->crew[scene->crew_count];
    *h = scene->crew[0];
    h->mass = fh_gear_figure(gear, fh_gear_find(gear, "person"), "mass_kg", NULL);
    scene->crew_count++;
  }
  return fhi_copy(text, size, fhi_say(scene->language, more > 1 ? "two more people to pull" : "one more person to pull"));
}

// More of an item in the kit. A full kit takes no other kind.
static bool add_item(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  int item = fh_gear_find(gear, change->name);
  int line = 0;
  while (line < scene->kit_count && scene->kit[line].item != item) {
    line++;
  }
  if (item < 0 || line == FH_MAX_KIT) {
    return false;
  }
  if (line == scene->kit_count) {
    scene->kit[line] = (fh_kit_line){.item = item, .count = 0, .efficiency = fh_number_unset()};
    scene->kit_count++;
  }
  bool had = scene->kit[line].count > 0;
  int more = (int)change->amount;
  scene->kit[line].count += more;
  if (more > 1) {  // of carabiners alone
    return fhi_format(text, size, fhi_say(scene->language, "%d more carabiners"), more);
  }
  return fhi_format(text, size, fhi_say(scene->language, had ? "one more %s" : "a %s"), fhi_item_said(scene->language, gear, item));
}

static const fhi_change CHANGES[] = {
    {"kit-for-rig", true, 0.0, free_carabiners},
    {"pad-lip", true, 0.0, pad_lip},          {"steps", true, 0.0, kick_steps},      {"posture-harness", true, 0.0, set_posture},
    {"posture-braced", true, 1.0, set_posture}, {"lighter", true, 5.0, lighten},       {"lighter", true, 10.0, lighten},
    {"lighter", true, 15.0, lighten},         {"station-back", true, 2.0, set_back}, {"people", false, 1.0, add_people},
    {"people", false, 2.0, add_people},       {"carabiner", false, 1.0, add_item},
    {"carabiner", false, 3.0, add_item},      {"prusik", false, 1.0, add_item},
    {"pulley", false, 1.0, add_item},         {"toothed-capture", false, 1.0, add_item},
};

const fhi_change *fhi_changes(int *count) {
  *count = (int)(sizeof CHANGES / sizeof CHANGES[0]);
  return CHANGES;
}

bool fhi_change_apply(const fhi_change *change, const fh_gear *gear, fh_scene *scene, char *text, size_t size) {
  const fh_scene before = *scene;
  bool crew = change->apply == kick_steps || change->apply == set_posture;
  bool done = change->apply(change, gear, scene, text, size);
  if (done && crew) {
    done = pulls_more(gear, scene, &before);
  }
  if (!done) {
    *scene = before;
  }
  return done;
}
