// SPDX-License-Identifier: MIT
// The cards without a figure: before you start, the kit, the numbers; then the lip, what if, the person, the other ways
// out. Facts of medicine stand with their source; what is taught without one says so. No card counts down to anything.
#include "report.h"
#include "sheet.h"
#include "shown.h"
#include "words.h"

#include <math.h>
#include <string.h>

// ---------------------------------------------------------------------------------------------------- before

static void add_before(fh_sheet *sheet) {
  fhi_sheet_block *b = fhi_sheet_add(sheet, fhi_say(sheet->language, "Before you build anything"));
  if (sheet->jams_below) {
    fhi_sheet_say(b, FHI_VOICE_WARN, "", fhi_say(sheet->language, "This person does not answer and the edge hangs over: do not raise yet. The pull can jam head and chest under the edge. Get down to them, airway, call for rescue."));
  }
  fhi_sheet_say(b, FHI_VOICE_STRONG, "", fhi_say(sheet->language, "Call for rescue first, if there is any way to. A raise can be called off; a lost hour cannot be had back."));
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(sheet->language, "You"), fhi_say(sheet->language, "stay on the rope and on your own tether, probe before you step, and keep back from the edge until you are tied in."));
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Them"),
                sheet->silent ? fhi_say(sheet->language, "no answer. Look down: breathing? Hurt? Wedged?")
                              : fhi_say(sheet->language, "call down. Hurt? Breathing freely? Wedged? Able to help, to climb, to clip a carabiner?"));
  fhi_sheet_say(b, FHI_VOICE_STRONG, "", fhi_say(sheet->language, "One rescuer alone should not start to raise when:"));
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "you cannot leave the rope: no anchor holds the person yet;"));
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "the person does not answer and the edge hangs over: raising may drag them into it. Get down to them, give first aid, call for rescue;"));
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "the person is wedged, or may have hurt the spine;"));
  if (sheet->check != NULL) {  // there is a rig, and a card of it
    fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "the pull that this rig takes is more than you can give, or help is near."));
  }
  fhi_sheet_say(b, FHI_VOICE_SOURCE, fhi_say(sheet->language, "Source"),
                fhi_say(sheet->language, "a large overhang with a helpless person can defeat companion rescue; go to them, first aid, call for rescue: Plattner & W\xC3\xBCrtl, Spaltenrettung. The rest: common "
                "practice, no source."));
}

static void add_ways_out(fh_sheet *sheet) {
  fhi_sheet_block *b = fhi_sheet_add(sheet, fhi_say(sheet->language, "Other ways out, before a raise"));
  if (!sheet->silent) {
    fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "Climb out: on their own tools, or on friction hitches up the rope, with you holding them on a belay."));
  }
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "Be lowered to an exit: a snow ramp, a bridge, a shallow end. Look along the crevasse first. Only with rope enough to come back."));
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "More hands: another party on the glacier. Three or four who pull straight need no rig at all."));
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "Wait for rescue: person secured, off the harness as far as can be, warm and dry, never alone."));
  fhi_sheet_say(b, FHI_VOICE_SOURCE, fhi_say(sheet->language, "Source"), fhi_say(sheet->language, "three to four pullers for a direct pull: Plattner & W\xC3\xBCrtl, Spaltenrettung. The rest: common practice, no source."));
}

// ---------------------------------------------------------------------------------------------------- numbers

static void say_crew(const fh_sheet *sheet, fhi_sheet_block *b) {
  static const char *const ANSWERS[] = {"NO: this crew most likely cannot pull that", "NOT SURE: it depends on what is not known", "yes, over the ranges given"};
  char a[FHI_WORD];
  char c[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  const fh_check *k = sheet->check;
  if (isfinite(k->crew.force.lo) && isfinite(k->crew.force.hi)) {
    (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "%s for a short effort, %s for minutes. %s."), fhi_show_likely(a, sizeof a, k->crew.force, sheet->units, sheet->language),
                     fhi_show_likely(c, sizeof c, k->crew.sustained, sheet->units, sheet->language), fhi_say(sheet->language, ANSWERS[fhi_check_answer(k)]));
    fhi_sheet_say(b, FHI_VOICE_STRONG, fhi_say(sheet->language, "This crew"), text);
  } else {
    fhi_sheet_say(b, FHI_VOICE_STRONG, fhi_say(sheet->language, "Crew"), fhi_say(sheet->language, "the scene names none to compare the pull with."));
  }
}

// "8", or "8 to 11".
static const char *say_range(char *to, size_t size, double lo, double hi, fh_language language) {
  if (!isfinite(hi)) {
    (void)fhi_format(to, size, fhi_say(language, "%d or more"), (int)lo);
  } else if (lo < hi) {
    (void)fhi_format(to, size, fhi_say(language, "%d to %d"), (int)lo, (int)hi);
  } else {
    (void)fhi_format(to, size, "%d", (int)hi);
  }
  return to;
}

static void say_resets(const fh_sheet *sheet, fhi_sheet_block *b) {
  char resets[FHI_WORD];
  char lo[FHI_WORD];
  char hi[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  const fh_haul *h = sheet->haul;
  fh_range r = {h->strokes_range.lo - 1.0, h->strokes_range.hi - 1.0};
  (void)fhi_format(text, sizeof text,
                   r.hi == 1.0 ? fhi_say(sheet->language, "%s reset; a pull ends when %s. %s to %s of rope through the hands")
                               : fhi_say(sheet->language, "%s resets; a pull ends when %s. %s to %s of rope through the hands"),
                   say_range(resets, sizeof resets, r.lo, r.hi, sheet->language),
                   fhi_say(sheet->language, h->touches != NULL ? h->touches : "it must"),
                   fhi_show_length(lo, sizeof lo, h->rope_pulled_range.lo, sheet->units), fhi_show_length(hi, sizeof hi, h->rope_pulled_range.hi, sheet->units));
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Raise"), text);
}

const char *fhi_sheet_time(char *to, size_t size, fh_band time) {
  char likely[FHI_WORD];
  char lo[FHI_WORD];
  char hi[FHI_WORD];
  fhi_show_minutes(likely, sizeof likely, time.likely);
  fhi_show_minutes(lo, sizeof lo, time.lo);
  const char *unit = likely[0] == '>' ? "" : " min";
  if (likely[0] == '>' && lo[0] != '>') {
    (void)fhi_copy(lo + strlen(lo), sizeof lo - strlen(lo), " min");
  }
  if (!isfinite(time.hi)) {
    (void)fhi_format(to, size, "%s%s (\xE2\x89\xA5 %s)", likely, unit, lo);  // the raise may never end
  } else {
    fhi_show_minutes(hi, sizeof hi, time.hi);
    (void)fhi_format(to, size, strcmp(lo, hi) == 0 ? "%s%s" : "%s%s (%s\xE2\x80\x93%s)", likely, unit, lo, hi);
  }
  return to;
}

// The long end of the time may be rest: who has to pull more than can be kept up for minutes stops again and again.
static void say_time(const fh_sheet *sheet, fhi_sheet_block *b) {
  char range[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  const fh_haul *h = sheet->haul;
  const fh_check *k = sheet->check;
  // With all at its hard end: is more than half of what that takes beyond the likely time rest?
  bool rests = isfinite(k->time.hi) && k->time_rests.hi - k->time.hi > 0.5 * (k->time_rests.hi - k->time_rests.likely);
  rests = rests || (isfinite(k->time.hi) && !isfinite(k->time_rests.hi));
  (void)fhi_format(text, sizeof text,
                   rests ? fhi_say(sheet->language, "likely %s of hauling and resetting, if nothing goes wrong; the long end is mostly rest between pulls. Building takes longer")
                         : fhi_say(sheet->language, "likely %s of hauling and resetting, if nothing goes wrong; building takes longer"),
                   fhi_sheet_time(range, sizeof range, h->time));
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Time"), text);
}

static void say_knots(const fh_sheet *sheet, fhi_sheet_block *b) {
  char every[FHI_WORD];
  char most[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  const fh_haul *h = sheet->haul;
  if (h->knot_every <= 0.0) {
    (void)fhi_copy(text, sizeof text, fhi_say(sheet->language, "no line of this rig can back the load up: what holds it is all there is"));
  } else if (h->knot_count == 0) {
    (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "one behind the capture at every reset, as its step says"));
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "tie one for each %s of slack that you gain, %d in all; never let more than %s hang loose"),
                     fhi_show_length(every, sizeof every, h->knot_every, sheet->units), h->knot_count,
                     fhi_show_length(most, sizeof most, fh_sheet_stages(sheet)->slack_limit, sheet->units));
  }
  fhi_sheet_say(b, FHI_VOICE_STRONG, fhi_say(sheet->language, "Backup knots"), text);
}

// What to mind of the whole rig; what belongs to a step stands there.
static void say_findings(const fh_sheet *sheet, fhi_sheet_block *b) {
  const fh_stages *stages = fh_sheet_stages(sheet);
  for (int i = 0; i < sheet->check->note_count; i++) {
    if (sheet->check->notes[i].level == FH_NOTE_NO) {
      fhi_sheet_say(b, FHI_VOICE_WARN, fhi_say(sheet->language, "NO"), sheet->check->notes[i].text);
    }
  }
  for (int i = 0; i < stages->finding_count; i++) {
    if (stages->findings[i].step == 0 && stages->findings[i].level == FH_NOTE_WARN) {
      fhi_sheet_say(b, FHI_VOICE_STRONG, fhi_say(sheet->language, "Mind"), stages->findings[i].text);
    }
  }
}

static void add_numbers(fh_sheet *sheet, const fh_scene *scene) {
  char a[FHI_WORD];
  char c[FHI_WORD];
  char text[FHI_SHEET_TEXT];
  const fh_haul *h = sheet->haul;
  fhi_sheet_block *b = fhi_sheet_add(sheet, fhi_say(sheet->language, "The numbers: estimates, look at the worst end"));
  (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "%s, %s down; %s"), fhi_show_mass(a, sizeof a, scene->load_mass, sheet->units, sheet->language),
                   fhi_show_length(c, sizeof c, scene->depth.likely, sheet->units), scene->load_helps ? fhi_say(sheet->language, "helps") : fhi_say(sheet->language, "does not help"));
  fhi_sheet_say(b, FHI_VOICE_PLAIN, fhi_say(sheet->language, "Load"), text);
  (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "%s; advantage %s"), fhi_show_likely(a, sizeof a, sheet->check->hand_force, sheet->units, sheet->language),
                   fhi_show_number(c, sizeof c, sheet->check->actual_advantage, 1));
  fhi_sheet_say(b, FHI_VOICE_STRONG, fhi_say(sheet->language, "Pull"), text);
  say_crew(sheet, b);
  if (h->outcome != FH_OUTCOME_SOLVED) {
    say_findings(sheet, b);
    return;
  }
  say_resets(sheet, b);
  say_time(sheet, b);
  say_knots(sheet, b);
  if (h->jam[0] != '\0') {
    fhi_sheet_say(b, FHI_VOICE_STRONG, fhi_say(sheet->language, "Knots"), h->jam);
  }
  say_findings(sheet, b);
}

// ---------------------------------------------------------------------------------------------------- kit

static int count_contacts(const fh_rig *rig, int item) {
  int count = 0;
  for (int i = 0; i < rig->station_count; i++) {
    count += rig->stations[i].kind == FH_RUN && rig->stations[i].item == item ? 1 : 0;
  }
  return count;
}

static int count_grips(const fh_rig *rig, int item) {
  int count = 0;
  for (int i = 0; i < rig->grip_count; i++) {
    count += rig->grips[i].item == item ? 1 : 0;
  }
  return count;
}

static void add_kit(fh_sheet *sheet, const fh_gear *gear, const fh_rig *rig) {
  char a[FHI_WORD];
  char name[FHI_SVG_TEXT];
  char text[FHI_SHEET_TEXT];
  fhi_sheet_block *b = fhi_sheet_add(sheet, fhi_say(sheet->language, "What you need at hand"));
  for (int p = 0; p < rig->path_count; p++) {
    (void)fhi_format(text, sizeof text, fhi_say(sheet->language, "rope %s: %s of it go into the rig"), fhi_text_clean(name, sizeof name, fhi_given_said(sheet->language, rig->paths[p].name)),
                     fhi_show_length(a, sizeof a, sheet->check->rope_needed[p], sheet->units));
    fhi_sheet_say(b, FHI_VOICE_ITEM, "", text);
  }
  text[0] = '\0';
  for (int item = 0; item < fh_gear_count(gear); item++) {
    int count = count_contacts(rig, item) + count_grips(rig, item);
    size_t used = strlen(text);
    if (count > 0 && used + 48 < sizeof text) {
      (void)fhi_format(text + used, sizeof text - used, "%s%d x %s", used > 0 ? ", " : "", count, fhi_item_said(sheet->language, gear, item));
    }
  }
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", text);
  const fh_carabiners c = fh_rig_carabiners(gear, rig);
  (void)fhi_format(text, sizeof text,
                   fhi_say(sheet->language, "carabiners in all: %d: %d that ropes run over, %d that hold pieces and knots, %d for your tether, the sling and the hitch that takes the load over (common practice, no source)"),
                   c.run + c.hold + c.own, c.run, c.hold, c.own);
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", text);
  if (fh_sheet_stages(sheet)->first == FH_FIRST_IN_RIG || fh_sheet_stages(sheet)->first == FH_FIRST_HAUL_ROPE) {
    fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "a cord for the friction hitch that takes the load off the harness and holds it while you build"));
  }
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "what the anchor is built from, and a sling or cord from anchor to station"));
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "a pad for the edge that is tied in itself, and your own tether"));
}

void fhi_sheet_add_first(fh_sheet *sheet, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig) {
  add_before(sheet);
  add_ways_out(sheet);
  add_numbers(sheet, scene);
  add_kit(sheet, gear, rig);
}

// ---------------------------------------------------------------------------------------------------- after

// While hauling and while resetting: what nothing would catch.
static void add_what_if(fh_sheet *sheet) {
  static const fh_stage_kind KINDS[] = {FH_STAGE_HAUL, FH_STAGE_RESET};
  static const char *const WHEN[] = {"while hauling", "while resetting"};
  const fh_stages *stages = fh_sheet_stages(sheet);
  fhi_sheet_block *b = fhi_sheet_add(sheet, fhi_say(sheet->language, "What if one thing lets go?"));
  for (int k = 0; k < 2; k++) {
    int s = 0;
    char text[FHI_SHEET_TEXT] = "";
    char name[2 * FH_ELEMENT];
    while (s < stages->count && stages->stages[s].kind != KINDS[k]) {
      s++;
    }
    for (int e = 0; s < stages->count && e < sheet->lose->element_count; e++) {
      const fh_loss *loss = fh_lose_at(sheet->lose, s, e);
      size_t used = strlen(text);
      if (loss->there && loss->bears && !loss->caught && used + 2 * FH_ELEMENT + 4 < sizeof text) {
        (void)fhi_format(text + used, sizeof text - used, "%s%s", used > 0 ? "; " : "", fhi_name_said(name, sizeof name, sheet->language, sheet->lose->elements[e].name));
      }
    }
    if (s < stages->count) {
      char lead[240];
      (void)fhi_format(lead, sizeof lead, fhi_say(sheet->language, "%s nothing catches the load if this lets go:"), fhi_say(sheet->language, WHEN[k]));
      fhi_sheet_say(b, FHI_VOICE_STRONG, "", text[0] != '\0' ? lead : fhi_say(sheet->language, WHEN[k]));
      fhi_sheet_say(b, FHI_VOICE_PLAIN, "", text[0] != '\0' ? text : fhi_say(sheet->language, "every single part is backed up by another one."));
    }
  }
  fhi_sheet_say(b, FHI_VOICE_PLAIN, "", fhi_say(sheet->language, "Look at these parts first, and at every reset. The step that ties a hitch says what happens if it slips."));
}

static void add_person(fh_sheet *sheet) {
  fhi_sheet_block *b = fhi_sheet_add(sheet, fhi_say(sheet->language, "The person on the rope"));
  fhi_sheet_say(b, FHI_VOICE_STRONG, "", fhi_say(sheet->language, "Hanging still in a harness can kill, and nobody can say when. There is no safe time, and this is no countdown."));
  fhi_sheet_say(b, FHI_VOICE_PLAIN, "",
                fhi_say(sheet->language, "Healthy people hanging still: in a sit harness 12 of 40 trials came near to fainting, the first after 13 minutes [1]; in full-body harnesses the first "
                "after 4 to 5 minutes, and 95 of 100 people lasted at least 7 to 11 [2]. Somebody unconscious may die in less than 10 [3]."));
  if (sheet->silent) {
    fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "They do not answer: go to them, airway first. Never leave them alone."));
  } else {
    fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "Never leave them alone. Talk. If they do not answer, go to them: airway first."));
    fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "Legs: move them, stand in a loop or on a ledge, sit on a pack."));
  }
  fhi_sheet_say(b, FHI_VOICE_ITEM, "",
                fhi_say(sheet->language, "Cold: in two published cases people in a crevasse cooled by about 0.6 and 2.8 degrees C an hour [4]. Hat, jacket, foil down to them early. "
                "Handle gently."));
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "Lying is better than upright for a cold person or after a long hang; never delay the raise for it [5]."));
  fhi_sheet_say(b, FHI_VOICE_ITEM, "", fhi_say(sheet->language, "After rescue: lie flat at once, then airway, breathing, circulation. The old advice to keep them sitting is wrong [6]."));
  fhi_sheet_say(b, FHI_VOICE_SOURCE, fhi_say(sheet->language, "Sources"),
                fhi_say(sheet->language, "[1] Rauch et al., Eur. J. Appl. Physiol. 2019. [2] NIOSH, suspension tolerance, 2008. [3] Seddon, HSE CRR 451, 2002, quoted by ANSI Z359. [4] Giesbrecht & "
                "Brock, and Giesbrecht et al., Wilderness Environ. Med. 2022; rates from their times. [5] practice of alpine rescue, from memory. [6] ICAR MedCom, Rauch et "
                "al. 2023; Mortimer 2011; HSE RR708, 2009."));
}

void fhi_sheet_add_care(fh_sheet *sheet) {
  add_before(sheet);
  add_ways_out(sheet);
  add_person(sheet);
}

void fhi_sheet_add_last(fh_sheet *sheet) {
  add_what_if(sheet);
  add_person(sheet);
}
