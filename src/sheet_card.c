// SPDX-License-Identifier: MIT
// All of the rig on one card: how much it gains, what it takes, a dozen short actions, the strongest cautions, the person.
// The long version on the pages after it says the same with every check. All of it is common practice without a source,
// unless the long version names one.
#include "report.h"
#include "sheet.h"
#include "words.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

typedef struct teller {
  fh_sheet *sheet;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  const fh_stages *stages;
  fhi_sheet_block *block;
  int number;     // of the last action
  bool lip_pull;  // the pull goes toward the lip
} teller;

enum { ACTION_LENGTH = 600 };

static const char *say(const teller *t, const char *english)
#if defined(__GNUC__)
    __attribute__((format_arg(2)))
#endif
    ;

static const char *say(const teller *t, const char *english) {
  return fhi_say(t->sheet->language, english);
}

// "[m]" as text; lengths of a rig to a tenth.
typedef struct metres {
  char text[FHI_WORD];
} metres;

static metres length(const teller *t, double value) {
  metres m;
  (void)fhi_show_length(m.text, sizeof m.text, value, t->sheet->units);
  return m;
}

static void act(teller *t, const char *text) {
  char lead[8];
  (void)fhi_format(lead, sizeof lead, "%d", ++t->number);
  fhi_sheet_say(t->block, FHI_VOICE_ACTION, lead, text);
}

static double at(const teller *t, int body) {
  return t->sheet->check->bodies[body].at;
}

// ---------------------------------------------------------------------------------------------------- head

static void say_scene(const teller *t) {
  char a[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  const fh_scene *s = t->scene;
  fh_language l = t->sheet->language;
  (void)fhi_format(text, sizeof text, say(t, "Load %s, %s down, %s"), fhi_show_mass(a, sizeof a, s->load_mass, t->sheet->units, l), length(t, s->depth.likely).text,
                   s->load_helps ? say(t, "helps") : say(t, "does not help"));
  size_t used = strlen(text);
  (void)fhi_format(text + used, sizeof text - used, ". ");
  used += 2;
  (void)fhi_show_lip(text + used, sizeof text - used, s, t->gear, t->sheet->units);
  used = strlen(text);
  if (s->crew_count == 1) {
    (void)fhi_format(text + used, sizeof text - used, ". %s", say(t, "One hauls, alone"));
  } else if (s->crew_count > 1) {
    (void)fhi_format(text + used, sizeof text - used, ". ");
    (void)fhi_format(text + used + 2, sizeof text - used - 2, say(t, "%d haul"), s->crew_count);
  }
  used = strlen(text);
  (void)fhi_format(text + used, sizeof text - used, ".");
  fhi_sheet_say(t->block, FHI_VOICE_PLAIN, "", text);
}

static void fact(const teller *t, const char *name, const char *value) {
  fhi_sheet_say(t->block, FHI_VOICE_FACT, say(t, name), value);
}

static void say_crew(const teller *t) {
  static const char *const ANSWERS[] = {"cannot pull it", "perhaps, not sure", "yes"};
  char a[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  const fh_check *k = t->sheet->check;
  if (isfinite(k->crew.force.lo) && isfinite(k->crew.force.hi)) {
    (void)fhi_format(text, sizeof text, "%s: %s", fhi_show_likely(a, sizeof a, k->crew.force, t->sheet->units, t->sheet->language), say(t, ANSWERS[fhi_check_answer(k)]));
    fact(t, "Crew can", text);
  }
}

static const char *whole(char *to, size_t size, const teller *t, double lo, double likely, double hi) {
  if (!isfinite(hi)) {
    (void)fhi_format(to, size, say(t, "%d (%d or more)"), (int)likely, (int)lo);
  } else if (lo < hi) {
    (void)fhi_format(to, size, say(t, "%d (%d to %d)"), (int)likely, (int)lo, (int)hi);
  } else {
    (void)fhi_format(to, size, "%d", (int)likely);
  }
  return to;
}

static void say_raise(const teller *t) {
  const fh_haul *h = t->sheet->haul;
  char a[FHI_WORD];
  char text[FHI_SHEET_TEXT] = "";
  fact(t, "Resets", whole(a, sizeof a, t, h->strokes_range.lo - 1.0, h->resets, h->strokes_range.hi - 1.0));
  fact(t, "Time, with rests", fhi_sheet_time(a, sizeof a, h->time));
  text[0] = '\0';
  for (int p = 0; p < t->rig->path_count; p++) {
    size_t used = strlen(text);
    char name[FHI_SVG_TEXT];
    (void)fhi_format(text + used, sizeof text - used, "%s%s %s", p > 0 ? ", " : "", fhi_text_clean(name, sizeof name, fhi_given_said(t->sheet->language, t->rig->paths[p].name)),
                     length(t, t->sheet->check->rope_needed[p]).text);
  }
  fact(t, "Rope in the rig", text);
  (void)fhi_format(text, sizeof text, "%s", length(t, ceil(h->rope_pulled_range.hi)).text);
  fact(t, "Through the hands, up to", text);
}

// ---------------------------------------------------------------------------------------------------- actions

static void act_first(teller *t) {
  char text[ACTION_LENGTH];
  const char *rope = t->stages->first_path >= 0 ? fhi_given_said(t->sheet->language, t->rig->paths[t->stages->first_path].name) : "";
  (void)fhi_format(text, sizeof text, say(t, "Hold the fall. Call for rescue. Build the anchor %s back and test it hard."), length(t, at(t, FH_BODY_ANCHOR)).text);
  size_t used = strlen(text);
  text[used++] = ' ';
  switch (t->stages->first) {
  case FH_FIRST_IN_RIG:
    (void)fhi_format(text + used, sizeof text - used,
                     say(t, "Ease the load from the harness onto a friction hitch at the anchor; close behind it tie %s to the anchor. Both stay on."), rope);
    break;
  case FH_FIRST_HAUL_ROPE:
    (void)fhi_format(text + used, sizeof text - used,
                     say(t, "Ease the load from the harness onto a friction hitch at the anchor; close behind it tie %s off so that it can be let out under load. Both stay on."),
                     rope);
    break;
  case FH_FIRST_OUTSIDE:
    (void)fhi_copy(text + used, sizeof text - used, say(t, "The line that holds the person hangs on an anchor, not on a person, and something backs it up."));
    break;
  }
  act(t, text);
  double sling = fhi_sling_length(t->sheet->check);
  if (sling > 0.0) {
    (void)fhi_format(text, sizeof text, say(t, "Own tether to the anchor. Station %s back, on a tight sling of %s to the anchor."), length(t, at(t, FH_BODY_STATION)).text,
                     length(t, sling).text);
  } else {
    (void)fhi_copy(text, sizeof text, say(t, "Own tether to the anchor. The station is at the anchor."));
  }
  act(t, text);
  act(t, t->sheet->silent ? say(t, "On the tether to the edge: look at the person, clear and pad the lip beside the loaded rope.")
                          : say(t, "On the tether to the edge: talk to the person, clear and pad the lip beside the loaded rope."));
}

// One action a rope; many ropes share one.
static void act_ropes(teller *t) {
  char text[FHI_SHEET_TEXT] = "";
  for (int p = 0; p < t->rig->path_count; p++) {
    size_t used = strlen(text);
    (void)fhi_format(text + used, sizeof text - used, used > 0 ? "; %s:" : say(t, "Lay %s:"), fhi_given_said(t->sheet->language, t->rig->paths[p].name));
    fhi_sheet_route(t->sheet, t->gear, t->rig, p, t->rig->paths[p].count, text, sizeof text);
    if (t->rig->path_count <= 2) {
      act(t, text);
      text[0] = '\0';
    }
  }
  if (text[0] != '\0') {
    act(t, text);
  }
}

static bool any_capture(const teller *t) {
  for (int i = 0; i < t->rig->station_count; i++) {
    const fh_station *st = &t->rig->stations[i];
    const fh_item *item = st->kind == FH_RUN ? fh_gear_item(t->gear, st->item) : NULL;
    if (item != NULL && item->item_class == FH_ITEM_CAPTURE) {
      return true;
    }
  }
  return false;
}

static void act_hitches(teller *t) {
  char text[FHI_SHEET_TEXT];
  const char *capture = any_capture(t) ? say(t, "Test the capture: it runs away from the hole, bites toward it.") : "";
  if (t->rig->grip_count > 0) {
    (void)fhi_copy(text, sizeof text, say(t, "Hitches, so far back from the lip:"));
    for (int g = 0; g < t->rig->grip_count; g++) {
      const fh_grip *grip = &t->rig->grips[g];
      size_t used = strlen(text);
      (void)fhi_format(text + used, sizeof text - used, "%s %s \xE2\x80\x93 %s %s", g > 0 ? "," : "", fhi_item_said(t->sheet->language, t->gear, grip->item),
                       fhi_end_said(t->sheet->language, t->rig, grip->body), length(t, grip->at).text);
    }
    size_t used = strlen(text);
    (void)fhi_format(text + used, sizeof text - used, ". %s%s%s", say(t, "Test each with a hard pull."), capture[0] != '\0' ? " " : "", capture);
    act(t, text);
  } else if (capture[0] != '\0') {
    act(t, capture);
  }
}

static void act_haul(teller *t) {
  char text[ACTION_LENGTH];
  switch (t->stages->first) {
  case FH_FIRST_HAUL_ROPE: act(t, say(t, "Pull until the hitch goes loose, slack through the capture; undo tie-off and hitch only when the capture has held.")); break;
  case FH_FIRST_IN_RIG: act(t, say(t, "Pull until the load hangs on the rig. Hands off: the capture must hold. Hitch off; the first line stays tied.")); break;
  case FH_FIRST_OUTSIDE: act(t, say(t, "Pull until the load hangs on the rig. Hands off: the capture must hold. The first line stays tied.")); break;
  }
  (void)fhi_format(text, sizeof text, t->scene->crew_count == 1 ? say(t, "Pull slowly and evenly, %s; stop %s before blocks meet. Never let go suddenly.")
                                                                : say(t, "Pull together, slowly and evenly, %s; stop %s before blocks meet. Never let go suddenly."),
                   say(t, t->lip_pull ? "toward the lip, hand over hand at one place, on a tether that ends before the lip" : "straight back in line"), length(t, t->scene->clearance.likely).text);
  double beyond = t->stages->walk_beyond;
  if (beyond > 0.0) {
    size_t used = strlen(text);
    text[used++] = ' ';
    (void)fhi_format(text + used, sizeof text - used, say(t, "Probe where you walk (up to %s beyond the anchor), stay tied in, or make shorter pulls."), length(t, beyond).text);
  }
  act(t, text);
  (void)fhi_format(text, sizeof text, say(t, "Reset, about %d times: give back until the capture holds, hands off, blocks forward, slack in."), t->sheet->haul->resets);
  act(t, text);
  if (t->stages->knot_every > 0.0 && t->stages->first == FH_FIRST_IN_RIG) {
    (void)fhi_format(text, sizeof text, say(t, "Back up: for every %s gained a loop in the first line, clipped to the anchor."), length(t, t->stages->knot_every).text);
    act(t, text);
  } else if (t->stages->knot_every > 0.0) {
    act(t, say(t, "Back up at every reset: a loop behind the capture, clipped in; off again before the next pull."));
  }
}

static void act_lip(teller *t) {
  char text[ACTION_LENGTH];
  (void)fhi_format(text, sizeof text, say(t, "Stop %s below the edge, clear it down to the rope, then short pulls. If it jams never pull harder: give back, lift the ropes, or pull from beside the cut."),
                   length(t, fh_stages_opts_default().lip_zone).text);
  act(t, text);
  act(t, say(t, "Haul on until they lie well back from the edge; the capture stays in. Back to the anchor on the rope; only there take the rig apart."));
}

// ---------------------------------------------------------------------------------------------------- cautions

static void warn(const teller *t, const char *text) {
  fhi_sheet_say(t->block, FHI_VOICE_WARN, "", text);
}

static void say_one_thing(const teller *t) {
  char name[2 * FH_ELEMENT];
  char text[FHI_SHEET_TEXT];
  for (int i = 0; i < t->stages->count; i++) {
    const fh_stage *s = &t->stages->stages[i];
    if (s->kind == FH_STAGE_RESET && s->holds == 1) {
      (void)fhi_format(text, sizeof text, say(t, "At every reset ONE thing alone holds the load: %s."), fhi_name_said(name, sizeof name, t->sheet->language, s->hold[0]));
      warn(t, text);
    }
  }
}

static void say_cautions(const teller *t) {
  enum { MOST = 4 };
  const fh_check *k = t->sheet->check;
  int said = 0;
  if (t->sheet->jams_below) {
    warn(t, say(t, "This person does not answer and the edge hangs over: do not raise yet. The pull can jam head and chest under the edge. Get down to them, airway, call for rescue."));
  }
  if (t->scene->crew_count == 1) {
    warn(t, say(t, "Alone, do not start to raise when no anchor holds the person yet; when they do not answer and the edge hangs over; when they are wedged or the spine may be hurt; when help is near."));
  }
  for (int level = FH_NOTE_NO; level >= FH_NOTE_WARN; level--) {
    for (int i = 0; i < k->note_count && said < MOST; i++) {
      if ((int)k->notes[i].level == level && !(t->sheet->jams_below && i == 0)) {
        warn(t, k->notes[i].text);
        said++;
      }
    }
  }
  for (int i = 0; i < t->stages->finding_count && said < MOST; i++) {
    if (t->stages->findings[i].step > 0 && t->stages->findings[i].level == FH_NOTE_WARN) {
      warn(t, t->stages->findings[i].text);
      said++;
    }
  }
  say_one_thing(t);
}

static void say_person(const teller *t) {
  fhi_sheet_say(t->block, FHI_VOICE_STRONG, say(t, "The person"), say(t, "hanging still can kill, and nobody can say when."));
  if (t->sheet->silent) {
    fhi_sheet_say(t->block, FHI_VOICE_ITEM, "", say(t, "They do not answer: go to them, airway first."));
  } else {
    fhi_sheet_say(t->block, FHI_VOICE_ITEM, "", say(t, "Talk all the time. No answer: go to them, airway first."));
    fhi_sheet_say(t->block, FHI_VOICE_ITEM, "", say(t, "Move the legs, stand in a loop, sit on a pack."));
  }
  fhi_sheet_say(t->block, FHI_VOICE_ITEM, "", say(t, "Hat, jacket, foil down to them early. Handle gently."));
  fhi_sheet_say(t->block, FHI_VOICE_ITEM, "", say(t, "After: lie flat at once; airway, breathing, circulation."));
}

// ---------------------------------------------------------------------------------------------------- the whole

// The finished rig, with the forces of hauling.
static void draw(teller *t) {
  fhi_sheet_view view;
  if (t->block == NULL) {
    return;
  }
  t->sheet->status = fhi_sheet_view_open(&view, t->scene, t->gear, t->rig, t->sheet->check, t->sheet->units);
  for (int i = 0; i < t->stages->count && t->sheet->status == FH_OK; i++) {
    if (t->stages->stages[i].kind == FH_STAGE_HAUL) {
      t->lip_pull = view.whole.layout.hand_dir < 0;
      t->sheet->status = fhi_sheet_draw_stage(&view, t->stages, i, t->sheet->check, t->block);
      break;
    }
  }
  fhi_sheet_view_close(&view);
}

void fhi_sheet_add_card(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig) {
  char heading[FHI_SHEET_HEADING];
  char a[FHI_WORD];
  char c[FHI_WORD];
  teller t = {.sheet = sheet, .scene = scene, .gear = gear, .rig = rig, .stages = fh_sheet_stages(sheet)};
  if (sheet->haul->outcome != FH_OUTCOME_SOLVED || sheet->check->outcome != FH_OUTCOME_SOLVED) {
    return;
  }
  (void)fhi_format(heading, sizeof heading, say(&t, "%s:1, works like %s"), fhi_show_trimmed(c, sizeof c, sheet->check->ideal_advantage, 2),
                   fhi_show_number(a, sizeof a, sheet->check->actual_advantage, 1));
  t.block = fhi_sheet_add(sheet, heading);
  if (t.block == NULL) {
    return;
  }
  t.block->card = true;
  draw(&t);
  say_scene(&t);
  fact(&t, "Pull", fhi_show_likely(a, sizeof a, sheet->check->hand_force, sheet->units, sheet->language));
  say_crew(&t);
  say_raise(&t);
  act_first(&t);
  act_ropes(&t);
  act_hitches(&t);
  act_haul(&t);
  act_lip(&t);
  say_cautions(&t);
  say_person(&t);
}
