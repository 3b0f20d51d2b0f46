// SPDX-License-Identifier: MIT
// What a rig's numbers mean, in plain words: what is wrong, what to mind. A NO makes the answer no.
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "crew.h"
#include "report.h"
#include "search.h"
#include "shown.h"
#include "state.h"
#include "text.h"
#include "words.h"

void fhi_note(fh_check *check, fh_note_level level, const char *format, ...) {
  if (check->note_count == FH_MAX_NOTES) {
    return;
  }
  fh_note *note = &check->notes[check->note_count++];
  note->level = level;
  note->crew = false;
  va_list args;
  va_start(args, format);
  (void)fhi_format_list(note->text, sizeof note->text, fhi_say(check->language, format), args);
  va_end(args);
  check->answer_no = check->answer_no || level == FH_NOTE_NO;
}

// A number as text, without locale. Each note uses a few of these side by side.
typedef struct digits {
  char text[24];
} digits;

static digits fixed(double value, int decimals) {
  digits d;
  fhi_fixed(d.text, sizeof d.text, value, decimals);
  return d;
}

static digits newton(double force, fhi_side side) {
  digits d;
  fhi_show_newton(d.text, sizeof d.text, force, side);
  return d;
}

static const double ANCHOR_MARGIN = 2.0;  // [1] below this it is said. Common practice, no source

// What nobody has stated is no better than what is too weak.
static void say_anchor(fh_check *check) {
  double most = fmax(fhi_on_anchor(check, FH_RAISE).hi, fmax(0.0, fhi_on_anchor(check, FH_HOLD).hi));  // NaN where nothing holds
  for (int i = 0; i < check->limit_count; i++) {
    const char *element = check->limits[i].element;
    if (strncmp(element, "anchor,", 7) == 0 || strncmp(element, "anchor point", 12) == 0) {  // not what hangs on it: "anchor: carabiner"
      return;
    }
  }
  fhi_note(check, FH_NOTE_WARN, "nothing is said of the anchor: whether it holds is not known. Up to %s kN come on it; ask twice that of it (common practice, no source)",
           fixed(ceil(most / 10.0 - 1e-9) / 100.0, 2).text);
}

static void say_limits(fh_check *check) {
  char name[120];
  for (int i = 0; i < check->limit_count; i++) {
    const fh_limit *x = &check->limits[i];
    if (x->margin < 1.0 && strcmp(x->element, "crew") != 0) {
      fhi_note(check, FH_NOTE_NO, "%s: up to %s kN against %s kN: it may not hold", fhi_name_said(name, sizeof name, check->language, x->element), fixed(x->force / 1e3, 2).text,
               fixed(x->limit / 1e3, 2).text);
    } else if (x->margin < ANCHOR_MARGIN && strncmp(x->element, "anchor", 6) == 0) {
      fhi_note(check, FH_NOTE_WARN, "%s: holds only %s times the most that comes on it; back it up or build a stronger one (twice is little: common practice, no source)",
               fhi_name_said(name, sizeof name, check->language, x->element), fixed(floor(10.0 * x->margin + 1e-9) / 10.0, 1).text);  // never wider than it is
    }
  }
}

static void compare_crew(const fh_scene *scene, fh_check *check) {
  const fh_band *need = &check->hand_force, *there = &check->crew.force;
  digits a, b;
  if (scene->crew_count == 0) {
    fhi_note(check, FH_NOTE_INFO, "no crew in the scene: nobody to compare the pull with");
    return;
  }
  if (check->crew_share.lo > 1.0) {
    fhi_show_compared(a.text, b.text, sizeof a.text, need->lo, there->hi);
    fhi_note(check, FH_NOTE_NO, "the crew cannot pull this: %s N needed at the very least, %s N there at the very most", a.text, b.text);
  } else if (check->crew_share.likely > 1.0) {
    fhi_show_compared(a.text, b.text, sizeof a.text, need->likely, there->likely);
    fhi_note(check, FH_NOTE_NO, "the crew most likely cannot pull this: about %s N needed, about %s N there", a.text, b.text);
  } else if (check->crew_share.hi > 1.0) {
    fhi_note(check, FH_NOTE_WARN, "the crew may not be able to pull this: %s to %s N needed, %s to %s N there",
             newton(need->lo, FHI_DOWN).text, newton(need->hi, FHI_UP).text, newton(there->lo, FHI_DOWN).text, newton(there->hi, FHI_UP).text);
  }
}

static void say_crew(const fh_scene *scene, fh_check *check) {
  int first = check->note_count;
  compare_crew(scene, check);
  for (int i = first; i < check->note_count; i++) {
    check->notes[i].crew = true;
  }
}

// [m] what the hole takes of a rope when it is as deep as it may be.
static double deeper(const fh_scene *scene, const fh_rig *rig, const fh_check *check, int rope) {
  int hanging = 0;
  for (int s = 0; s < check->strand_count; s++) {
    const fh_strand *st = &check->strands[s];
    hanging += rig->paths[st->path].rope == rope && (st->from == FH_BODY_LOAD || st->to == FH_BODY_LOAD);
  }
  return hanging * (scene->depth.hi - scene->depth.likely);
}

// A rope that is long enough at the likely depth and length only.
static void doubt_rope(const fh_scene *scene, int rope, double needed, fh_check *check) {
  double length = scene->ropes[rope].length.lo;
  check->rope_unsure = true;
  fhi_note(check, FH_NOTE_WARN, "rope %s may be %s m short: %s m needed if the load hangs %s m down, %s m there", fhi_given_said(check->language, scene->ropes[rope].name),
           fixed(needed - length, 1).text, fixed(needed, 1).text, fixed(scene->depth.hi, 1).text, fixed(length, 1).text);
}

// As with the crew: too short at the likely length is a no, too short at the least one a perhaps.
// A rope may lie in two paths: its two ends are used apart.
static void say_rope(const fh_scene *scene, const fh_rig *rig, fh_check *check) {
  for (int r = 0; r < scene->rope_count; r++) {
    double needed = 0.0, all = 0.0, live = 0.0, length = scene->ropes[r].length.likely, least = scene->ropes[r].length.lo;
    for (int p = 0; p < rig->path_count; p++) {
      needed += rig->paths[p].rope == r ? check->rope_needed[p] : 0.0;
      live += rig->paths[p].rope == r ? check->rope_live[p] : 0.0;
    }
    for (int s = 0; s < check->strand_count; s++) {
      all += rig->paths[check->strands[s].path].rope == r ? check->strands[s].length : 0.0;
    }
    if (!fh_number_is_set(scene->ropes[r].length) || !(needed > length)) {
      double most = needed + deeper(scene, rig, check, r);
      if (fh_number_is_set(scene->ropes[r].length) && most > least) {
        doubt_rope(scene, r, most, check);
      }
      continue;
    }
    if (all > live && needed - (all - live) <= length) {
      fhi_note(check, FH_NOTE_NO,
               "rope %s is %s m short for slack line and haul line together: %s m needed with knots, %s m there; "
               "the slack line takes %s m of it",
               fhi_given_said(check->language, scene->ropes[r].name), fixed(needed - length, 1).text, fixed(needed, 1).text, fixed(length, 1).text,
               fixed(all - live, 1).text);
    } else {
      fhi_note(check, FH_NOTE_NO, "rope %s is %s m short: %s m needed with knots and an end in the hand, %s m there",
               fhi_given_said(check->language, scene->ropes[r].name), fixed(needed - length, 1).text, fixed(needed, 1).text, fixed(length, 1).text);
    }
  }
}

// Brake knots in a strand that runs over an edge or through a piece jam there.
static void say_knots(const fh_scene *scene, const fh_rig *rig, const fhi_model *model, const fhi_motion *motion,
                      fh_check *check) {
  for (int p = 0; p < rig->path_count; p++) {
    int knots = fhi_path_knots(scene, rig, p);
    if (knots == 0) {
      continue;
    }
    const fhi_strand *first = &model->strands[0];
    for (int s = 0; s < model->strand_count; s++) {
      first = model->strands[s].path == p && model->strands[s].after == 0 ? &model->strands[s] : first;
    }
    if (first->path == p && !first->slack && first->end[1].kind == FHI_END_CONTACT &&
        motion->rate[first->end[1].contact] != 0.0) {
      fhi_note(check, FH_NOTE_NO, "the %d knots in rope %s have to pass the %s under load: they jam there; use another strand",
               knots, fhi_given_said(check->language, rig->paths[p].name), fhi_end_said(check->language, rig, first->end[1].body));
    }
  }
}

static bool rope_is_held(const fh_rig *rig, const fhi_model *model, int rope) {
  for (int g = 0; g < rig->grip_count; g++) {
    if (rig->paths[rig->grips[g].path].rope == rope) {
      return true;
    }
  }
  for (int c = 0; c < model->contact_count; c++) {
    if (model->contacts[c].capture && rig->paths[model->strands[model->contacts[c].before].path].rope == rope) {
      return true;
    }
  }
  return false;
}

// What hitches hold was tried with 6 mm cord on 8 to 9 mm rope, and EN 567 tests captures on 8 mm and more (from memory).
static void say_thin(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fhi_model *model, fh_check *check) {
  for (int r = 0; r < scene->rope_count; r++) {
    double diameter = fhi_rope_diameter(scene, gear, r);
    if (diameter < 0.008 - 1e-9 && rope_is_held(rig, model, r)) {
      check->thin = true;
      fhi_note(check, FH_NOTE_WARN, "rope %s is %s mm thick: what hitches and captures hold is known from 8 mm on; on a thinner rope they may slip",
               fhi_given_said(check->language, scene->ropes[r].name), fixed(diameter * 1e3, 1).text);
    }
  }
}

static void say_holding(const fh_rig *rig, const fhi_model *model, bool holds, fh_check *check) {
  bool capture = false;
  for (int c = 0; c < model->contact_count; c++) {
    capture = capture || model->contacts[c].capture;
  }
  if (!holds && check->outcome == FH_OUTCOME_SOLVED) {
    fhi_note(check, FH_NOTE_WARN, capture ? "when the hands let go the captures do not hold the load: it falls"
                                          : "no capture: when the hands let go the load falls");
  } else if (holds && !capture) {
    fhi_note(check, FH_NOTE_WARN, "no capture: friction alone holds the load when the hands let go");
  }
  for (int c = 0; c < model->contact_count; c++) {
    if (model->contacts[c].reversed) {
      fhi_note(check, FH_NOTE_WARN, "the capture on %s is the wrong way round", fhi_end_said(check->language, rig, model->contacts[c].body));
    }
  }
}

// A capture that only holds when somebody tends it, and nobody but the hauler is there.
static void say_tended(const fh_scene *scene, const fh_rig *rig, const fhi_model *model, fh_check *check) {
  for (int g = 0; g < rig->grip_count; g++) {
    const fh_grip *grip = &rig->grips[g];
    double away = 0.0;
    if (fhi_tended_alone(scene, rig, model, g, check->throw_hand, &away)) {
      check->tends_far = true;
      fhi_note(check, FH_NOTE_WARN,
               "alone you cannot tend the hitch on %s from where you pull (up to %s m off): it must bite by itself, or do not haul alone "
               "(common practice, no source)",
               fhi_end_said(check->language, rig, grip->body), fixed(away, 1).text);
    } else if (grip->body < FH_BODY_FIRST_GRIP && scene->crew_count == 1) {
      fhi_note(check, FH_NOTE_INFO, "alone you tend the hitch on %s yourself, with a hand that does not pull", fhi_end_said(check->language, rig, grip->body));
    }
  }
}

// The kit may be all there is: then what holds pieces, knots and people comes out of it too.
static void say_carabiners(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_check *check) {
  const fh_carabiners c = fh_rig_carabiners(gear, rig);
  int there = fhi_kit_carabiners(scene, gear);
  if (scene->kit_for == FH_KIT_ALL && c.run + c.hold + c.own > there) {
    fhi_note(check, FH_NOTE_WARN, "the rig takes %d carabiners in all: %d that ropes run over, %d that hold pieces and knots, %d for your tether, the sling and the hitch that takes the load over; the kit has %d",
             c.run + c.hold + c.own, c.run, c.hold, c.own, there);
  }
}

static void say_motion(const fh_scene *scene, const fh_rig *rig, const fhi_model *model, const fhi_motion *motion,
                       fh_check *check) {
  for (int c = 0; c < model->contact_count; c++) {
    const fhi_contact *k = &model->contacts[c];
    if (!k->slack && motion->rate[c] == 0.0 && k->kind != FHI_TENDED) {
      const fhi_strand *dead = &model->strands[motion->dead_by[k->before] == c ? k->before : k->after];
      fhi_note(check, FH_NOTE_INFO, "the rope rests at the %s while raising: friction leaves open what the strand from %s to %s carries",
               fhi_end_said(check->language, rig, k->body), fhi_end_said(check->language, rig, dead->end[0].body), fhi_end_said(check->language, rig, dead->end[1].body));
    }
    if (!k->slack && k->body == FH_BODY_LOAD && !scene->load_helps) {
      fhi_note(check, FH_NOTE_WARN, "the person below has to clip the loop in; if they cannot, someone must go down to them");
    }
    if (!k->slack && k->wrap == 0.0 && k->kind != FHI_TENDED && k->kind != FHI_EDGE) {
      fhi_note(check, FH_NOTE_INFO, "the rope runs straight through the piece on %s: it changes nothing there",
               fhi_end_said(check->language, rig, k->body));
    }
  }
  if (motion->coupled && model->hand_angles.hi > 0.0) {
    fhi_note(check, FH_NOTE_WARN, "with rope at rest between moving pieces a pull at an angle is not worked out: every number is for a pull in line");
  }
  if (model->hand_dir < 0) {
    const fhi_end *last = &model->strands[model->hand_strand].end[0];
    fhi_note(check, FH_NOTE_WARN, "the pull goes toward the edge, hand over hand at one place: stand close to %s, %s m from the edge, tied in too short to reach it",
             fhi_end_said(check->language, rig, last->body), fixed(last->s, 1).text);
  }
  if (check->resets < 0) {
    fhi_note(check, FH_NOTE_NO, "there is no room for a stroke: %s", fhi_say(check->language, check->throw_ends));
  }
}

const char *fhi_cut_doubt(const fh_scene *scene, const fh_gear *gear) {
  bool doubt = !(scene->lip_cut.hi > 0.0) && scene->lip_surface >= 0 && scene->lip_surface == fh_gear_find(gear, "cut");
  return doubt ? "the rope has cut in, but the cut counts as 0 m: the last half metre over the edge is taken too lightly; state how deep it is "
                 "(0.2 to 0.8 m where nobody can look: a guess, no source)"
               : NULL;
}

// The pull is that of the raise below the edge: what the edge itself takes, beside it.
static void say_over(const fh_check *check, const char **format) {
  const fh_over_edge *over = &check->over_edge;
  fhi_answer answer = fhi_over_edge_answer(over);
  if (isinf(over->hand_force.likely)) {
    *format = "the rope has cut in: as the edge is, the load jams under it, whatever the pull. Clear the edge before the last metre; over it then takes about %s%s N";
  } else if (answer == FHI_ANSWER_NO) {
    *format = "the rope has cut in: over the edge as it is takes about %s N, more than the crew has. Clear it before the last metre: then about %s N";
  } else if (answer == FHI_ANSWER_UNSURE && isfinite(check->crew.force.likely)) {
    *format = "the rope has cut in: over the edge as it is takes about %s N, at worst more than the crew has, or the load jams. Clear it before the last metre: then about %s N";
  } else {
    *format = "the rope has cut in: over the edge as it is takes about %s N, cleared about %s N";
  }
}

static void say_cut(const fh_scene *scene, const fh_gear *gear, fh_check *check) {
  const char *doubt = fhi_cut_doubt(scene, gear), *format;
  const fh_over_edge *over = &check->over_edge;
  if (doubt != NULL) {
    fhi_note(check, FH_NOTE_WARN, "%s", fhi_say(check->language, doubt));
  }
  if (over->cut) {
    say_over(check, &format);
    fhi_note(check, FH_NOTE_WARN, format, isinf(over->hand_force.likely) ? "" : newton(over->hand_force.likely, FHI_NEAREST).text, newton(over->cleared.likely, FHI_NEAREST).text);
  }
}

// What a raise may do to the person comes before anything about ropes. Overhang: Plattner & Wuertl, Spaltenrettung; else common practice.
static void say_below(const fh_scene *scene, fh_check *check) {
  bool silent = scene->load_responds == FH_RESPONDS_SILENT;
  if (silent && scene->lip_wall == FH_WALL_OVERHANGS) {
    fhi_note(check, FH_NOTE_WARN, "the person does not answer and the edge hangs over: the pull can jam head and chest under it, and nobody below clears them. "
                                  "Get down to them first, airway, call for rescue; one rescuer alone does not start to raise");
  } else if (silent) {
    fhi_note(check, FH_NOTE_WARN, "the person does not answer: get to them first, airway; nobody below clears head and chest at the edge. If the edge hangs over, "
                                  "one rescuer alone does not start to raise");
  } else if (scene->lip_wall == FH_WALL_OVERHANGS) {
    fhi_note(check, FH_NOTE_WARN, "the edge hangs over: the pull draws the person in under it, and feet find no wall; clear it well back before the last metre, pull slowly");
  }
}

void fhi_notes_fill(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fhi_model *model,
                    const fhi_motion *motion, bool holds, fh_check *check) {
  if (check->outcome != FH_OUTCOME_SOLVED) {
    check->answer_no = check->ruled_out = true;
    return;
  }
  say_below(scene, check);
  say_limits(check);
  say_anchor(check);
  say_crew(scene, check);
  bool forces = check->answer_no;
  check->answer_no = false;
  say_rope(scene, rig, check);
  bool too_short = check->answer_no;
  check->answer_no = false;
  say_knots(scene, rig, model, motion, check);
  check->jams = check->answer_no;
  say_thin(scene, gear, rig, model, check);
  say_holding(rig, model, holds, check);
  say_tended(scene, rig, model, check);
  say_cut(scene, gear, check);
  say_carabiners(scene, gear, rig, check);
  say_motion(scene, rig, model, motion, check);
  check->ruled_out = check->answer_no || too_short;
  check->answer_no = check->ruled_out || forces;
  if (!check->interval_exact) {
    fhi_note(check, FH_NOTE_INFO, "the ranges come from a fixed sample of combinations: single strands may reach a little further");
  }
}
