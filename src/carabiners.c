// SPDX-License-Identifier: MIT
// How many carabiners a rig takes in all. A carabiner that the rope runs over is one; a pulley or a capture hangs on one; a knot
// at the anchor, the station or the load takes one, and so does a hitch there. On a moving block the hitch and any knot share
// the block's own. The person's tie-in takes none. Common practice, no source.
#include <math.h>
#include <string.h>

#include "search.h"

// The hauler's tether, the sling from anchor to station, and the hitch that takes the load off the harness and holds it while the
// rig is built.
enum { OWN = 3 };

// Out of a kit's carabiners: of bars, those that have a rated strength (an axe's shaft has none); what opens like a carabiner
// itself hangs on nothing else.
bool fhi_is_carabiner(const fh_gear *gear, int item) {
  const fh_item *it = fh_gear_item(gear, item);
  return it != NULL && it->item_class == FH_ITEM_BAR && fh_number_is_set(fh_gear_figure(gear, item, "strength_N", NULL));
}

static bool hangs_on_one(const fh_gear *gear, int item) {
  const fh_item *it = fh_gear_item(gear, item);
  return it != NULL && (it->item_class == FH_ITEM_SHEAVE || it->item_class == FH_ITEM_CAPTURE) && strcmp(it->name, "roller-carabiner") != 0;
}

int fhi_clips(const fh_gear *gear, int item) {
  return fhi_is_carabiner(gear, item) || hangs_on_one(gear, item) ? 1 : 0;
}

int fhi_kit_carabiners(const fh_scene *scene, const fh_gear *gear) {
  int count = 0;
  for (int i = 0; i < scene->kit_count; i++) {
    count += scene->kit[i].count > 0 && fhi_is_carabiner(gear, scene->kit[i].item) ? scene->kit[i].count : 0;
  }
  return count;
}

static bool has_run(const fh_rig *rig, int body) {
  bool has = false;
  for (int i = 0; i < rig->station_count; i++) {
    has = has || (rig->stations[i].kind == FH_RUN && rig->stations[i].body == body);
  }
  return has;
}

// A knot at the load, but for the person's own tie-in at the start of the first rope, or at what stands still.
static int knots_of(const fh_rig *rig) {
  int count = 0;
  bool anchored = false;
  for (int i = 0; i < rig->station_count; i++) {
    const fh_station *s = &rig->stations[i];
    bool tie = s->kind == FH_TIE && s->body < FH_BODY_FIRST_GRIP;
    count += tie && !(s->body == FH_BODY_LOAD && i == 0) ? 1 : 0;
    anchored = anchored || (tie && s->body != FH_BODY_LOAD && i < rig->paths[0].count);
  }
  return count + (anchored ? 0 : 1);  // else the loaded rope itself was tied off while the rig was built
}

static int grips_of(const fh_rig *rig) {
  int count = 0;
  for (int g = 0; g < rig->grip_count; g++) {
    int body = rig->grips[g].body;
    count += body < FH_BODY_FIRST_GRIP || !has_run(rig, body) ? 1 : 0;
  }
  return count;
}

fh_carabiners fh_rig_carabiners(const fh_gear *gear, const fh_rig *rig) {
  fh_carabiners c = {.own = OWN};
  for (int i = 0; i < rig->station_count; i++) {
    const fh_station *s = &rig->stations[i];
    if (s->kind == FH_RUN) {
      c.run += fhi_is_carabiner(gear, s->item) ? 1 : 0;
      c.hold += hangs_on_one(gear, s->item) ? 1 : 0;
    }
  }
  c.hold += knots_of(rig) + grips_of(rig);
  return c;
}

// ---------------------------------------------------------------------------------------------------- the same of a code

static bool is_loop(const fhi_code *code) {
  return code->start == FHI_START_LOOP || code->start == FHI_START_OTHER_LOOP;
}

static bool same_body(const fhi_code *code, int i, int k) {
  return i == k || (code->shared && code->e[i].on == code->e[k].on && code->e[i].side == code->e[k].side);
}

// Whether element i brings a carabiner for a tie: one at what stands still, or the first of a moving body without a contact.
static bool tie_takes_one(const fhi_code *code, int i) {
  bool takes = true;
  for (int k = 1; k <= code->n && code->e[i].on >= 0; k++) {
    takes = takes && !(same_body(code, i, k) && (!code->e[k].tie || k < i));
  }
  return takes;
}

int fhi_code_carabiners(const fhi_code *code, const fhi_stock *stock) {
  bool knot_below = code->start == FHI_START_END || code->start == FHI_START_OTHER_DIRECT;
  int count = OWN + 1 + (knot_below || code->start == FHI_START_OTHER_LOOP) + (code->tended != 0);
  count += is_loop(code) ? stock->clips[code->load_piece] : 0;
  for (int i = 0; i <= code->n; i++) {
    count += code->e[i].tie ? tie_takes_one(code, i) : stock->clips[code->e[i].piece];
  }
  return count;
}
