// SPDX-License-Identifier: MIT
// What does a person do at each stage, and what do they check? Checks stand in one line, parted by semicolons.
// All of it is common practice without a source, unless it says where it comes from.
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "report.h"
#include "stages.h"
#include "text.h"
#include "words.h"

static const double FOOT = 0.3048;  // [m] exact by definition

typedef struct words {
  char text[FH_ELEMENT];
} words;

static words length(const fhi_stage_maker *m, double metres) {
  words w;
  char number[24];
  bool feet = m->opts.units == FH_IMPERIAL;
  (void)fhi_format(w.text, sizeof w.text, "%s %s", fhi_fixed(number, sizeof number, feet ? metres / FOOT : metres, 1), feet ? "ft" : "m");
  return w;
}

static bool is_silent(const fhi_stage_maker *m) {
  return m->raise->scene->load_responds == FH_RESPONDS_SILENT;
}

static const char *rope_name(const fhi_stage_maker *m, int path) {
  return path >= 0 ? fhi_given_said(m->stages->language, m->raise->rig->paths[path].name) : fhi_say(m->stages->language, "rope");
}

static const char *item_name(const fhi_stage_maker *m, int item) {
  const char *name = fhi_item_name(m->raise->gear, item);
  return name[0] != '\0' ? name : "carabiner";
}

static words body_name(const fhi_stage_maker *m, int body) {
  words w;
  static const char *const FIXED[FH_BODY_FIRST_GRIP] = {"the load", "the station", "the anchor"};
  bool fixed = body >= 0 && body < FH_BODY_FIRST_GRIP;
  (void)fhi_copy(w.text, sizeof w.text, fixed ? fhi_say(m->stages->language, FIXED[body]) : fhi_end_said(m->stages->language, m->raise->rig, body));
  return w;
}

// "a pulley", "an ice screw"; other languages do without the article.
static words an_item(const fhi_stage_maker *m, int item) {
  words w;
  const char *name = fhi_item_said(m->stages->language, m->raise->gear, item);
  name = name[0] != '\0' ? name : fhi_say(m->stages->language, "carabiner");
  if (m->stages->language == FH_ENGLISH) {
    (void)fhi_format(w.text, sizeof w.text, "%s %s", strchr("aeiouH", name[0]) != NULL ? "an" : "a", name);
  } else {
    (void)fhi_copy(w.text, sizeof w.text, name);
  }
  return w;
}

static void say(const fhi_stage_maker *m, char *to, size_t size, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 4, 5)))
#endif
    ;

static void say(const fhi_stage_maker *m, char *to, size_t size, const char *format, ...) {
  va_list args;
  va_start(args, format);
  (void)fhi_format_list(to, size, fhi_say(m->stages->language, format), args);
  va_end(args);
}

// Adds to what is there already.
static void more(const fhi_stage_maker *m, char *to, size_t size, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 4, 5)))
#endif
    ;

static void more(const fhi_stage_maker *m, char *to, size_t size, const char *format, ...) {
  size_t used = strlen(to);
  va_list args;
  va_start(args, format);
  (void)fhi_format_list(to + used, size - used, fhi_say(m->stages->language, format), args);
  va_end(args);
}

// One rescuer: nobody else watches the edge, tends a hitch or goes down.
static bool alone(const fhi_stage_maker *m) {
  return m->raise->scene->crew_count == 1;
}

// Sentences in the language of the stages; names stay English, since other programs match them.
#define DO(...) say(m, s->text, sizeof s->text, __VA_ARGS__)
#define CHECK(...) say(m, s->check, sizeof s->check, __VA_ARGS__)
#define NAME(...) (void)fhi_format(s->name, sizeof s->name, __VA_ARGS__)

// The load comes off the harness of whoever held the fall, onto a hitch, and a knot behind it backs that up before the rope is
// left. Common practice; guides' texts on the web say the same (rescue.md). Of a line outside the rig nobody knows how it is held.
static void say_first_line(const fhi_stage_maker *m, fh_stage *s) {
  words back = length(m, m->raise->model.at[FH_BODY_ANCHOR]);
  NAME("first line holds");
  if (m->raise->first == FH_FIRST_OUTSIDE) {
    DO("Hold the fall. Call for rescue. Build the anchor %s back from the lip. The person hangs on a line that is not in this "
       "rig: see that an anchor holds it, not a person, and that a second knot or a friction hitch backs it up before anyone leaves it.",
       back.text);
    CHECK("anchor tested with hard pulls before the load comes on; knot dressed and tight; gates closed and locked; the load "
          "hangs on the anchor and nothing moves");
    return;
  }
  if (m->raise->first == FH_FIRST_HAUL_ROPE) {
    DO("Hold the fall. Call for rescue. Build the anchor %s back from the lip. Off the harness: tie a friction hitch of cord on "
       "the loaded strand of %s, clip it to the anchor, push it toward the hole until its cord is tight, and ease the load onto "
       "it, slowly. Then tie the rope off on the anchor, close behind the hitch, with a knot that can be let out under load. Both "
       "stay on. Do not leave the rope before both are in.",
       back.text, rope_name(m, s->path));
  } else {
    DO("Hold the fall. Call for rescue. Build the anchor %s back from the lip. Off the harness: tie a friction hitch of cord on "
       "the loaded strand of %s, clip it to the anchor, push it toward the hole until its cord is tight, and ease the load onto "
       "it, slowly. Then tie the rope to the anchor, close behind the hitch. Both stay on. Do not leave the rope before both are in.",
       back.text, rope_name(m, s->path));
  }
  CHECK("anchor tested with hard pulls before the load comes on; the hitch bites, and its cord is tight; knot close behind it, "
        "dressed and tight; gates closed and locked; the load hangs on the anchor and nothing moves");
}

static void say_station(const fhi_stage_maker *m, fh_stage *s) {
  words back = length(m, m->raise->model.at[FH_BODY_STATION]);
  NAME("station");
  DO("Set up the station %s back from the lip and fasten it to the anchor without slack. Tie yourself to the anchor with your "
     "own tether before you go nearer to the edge.",
     back.text);
  CHECK("station tight to the anchor; gates closed and locked; own tether on and too short to fall over the edge");
}

static void say_edge(const fhi_stage_maker *m, fh_stage *s) {
  NAME("edge cleared and padded");
  const fh_scene *scene = m->raise->scene;
  bool cut = scene->lip_cut.hi > 0.0 || (scene->lip_surface >= 0 && scene->lip_surface == fh_gear_find(m->raise->gear, "cut"));
  if (is_silent(m)) {
    DO(cut ? "On your tether, go to the edge and look at the person. Clear loose snow away beside the place where the loaded rope has "
             "cut in, and put an axe shaft, ski or pack under where the ropes will run. Tie the padding on."
           : "On your tether, go to the edge and look at the person. Clear loose snow away beside the loaded rope, and put an axe shaft, "
             "ski or pack under where the ropes will run. Tie the padding on.");
    CHECK("own tether on; padding tied on; no snow or ice falls on the person");
    return;
  }
  DO(cut ? "On your tether, go to the edge and talk to the person. Clear loose snow away beside the place where the loaded rope has "
           "cut in, and put an axe shaft, ski or pack under where the ropes will run. Tie the padding on."
         : "On your tether, go to the edge and talk to the person. Clear loose snow away beside the loaded rope, and put an axe shaft, "
           "ski or pack under where the ropes will run. Tie the padding on.");
  CHECK("own tether on; padding tied on; no snow or ice falls on the person; the person answers");
}

static void say_tie(const fhi_stage_maker *m, const fh_station *st, fh_stage *s) {
  const char *rope = rope_name(m, s->path);
  words body = body_name(m, st->body);
  NAME("knot of %s on %s", m->raise->rig->paths[s->path].name, fhi_end_name(m->raise->rig, st->body));
  if (st->body == FH_BODY_LOAD) {
    DO("Let the end of %s down. The person ties or clips it to the harness.", rope);
    CHECK("the person says that it is in; gate locked; knot dressed");
  } else {
    DO("Tie %s to %s.", rope, body.text);
    CHECK("knot dressed and tight; gate closed and locked");
  }
}

static void say_capture(const fhi_stage_maker *m, const fh_station *st, fh_stage *s) {
  const char *item = item_name(m, st->item), *rope = rope_name(m, s->path);
  words body = body_name(m, st->body);
  NAME("%s on %s", item, fhi_end_name(m->raise->rig, st->body));
  DO("Clip %s to %s and put %s in, so that the rope runs away from the hole and bites toward it.", an_item(m, st->item).text,
     body.text, rope);
  CHECK("right way round: pulled toward the hole it holds, pulled back it runs; tested with a hard pull; gate closed and locked; "
        "nothing can get into the cam");
}

static void say_run(const fhi_stage_maker *m, const fh_station *st, fh_stage *s) {
  const char *item = item_name(m, st->item), *rope = rope_name(m, s->path);
  words body = body_name(m, st->body);
  NAME("%s on %s", item, fhi_end_name(m->raise->rig, st->body));
  if (st->body == FH_BODY_LOAD) {
    DO("Let a loop of %s down with %s in it. The person clips it to the harness, gate locked, the two strands not twisted "
       "round each other.%s",
       rope, an_item(m, st->item).text,
       m->raise->scene->load_helps ? ""
       : fhi_say(m->stages->language, alone(m) ? " If the person cannot, you would have to go down yourself: only tied in, and with a sure way back up."
                                               : " If the person cannot, someone has to go down."));
    CHECK("the person says that it is in and locked; strands run free; rope lies on the padding");
    return;
  }
  DO("Clip %s to %s and run %s through it.", an_item(m, st->item).text, body.text, rope);
  CHECK("gate closed and locked; rope not crossed; it runs when pulled");
}

// Nobody but the hauler is there to hold the hitch open.
static void say_tended_alone(const fhi_stage_maker *m, fh_stage *s, const char *from, const char *to) {
  const fh_grip *grip = &m->raise->rig->grips[s->grip];
  double away = 0.0;
  bool far = fhi_tended_alone(m->raise->scene, m->raise->rig, &m->raise->model, s->grip, m->check != NULL ? m->check->throw_hand : 0.0, &away);
  words at = length(m, grip->at), body = body_name(m, grip->body), off = length(m, away);
  DO("Tie %s on %s, on the strand from %s to %s, %s back from the lip, and clip it to %s.", an_item(m, grip->item).text, rope_name(m, s->path),
     from, to, at.text, body.text);
  if (far) {
    more(m, s->text, sizeof s->text,
         " Nobody is there to tend it, and you pull up to %s away: something has to keep it open while rope comes in, such as a pulley or a "
         "carabiner that it rests against, and let it bite by itself when rope runs back (common practice, no source). If it does not bite by "
         "itself, do not haul alone with this rig.",
         off.text);
    CHECK("it bites when pulled toward the hole; tested with a hard pull; gate closed and locked; it bites by itself, hands off, three times "
          "out of three");
  } else {
    more(m, s->text, sizeof s->text, " You tend it yourself: hold it open with one hand while you pull, and let it bite before you let go.");
    CHECK("it bites when pulled toward the hole; tested with a hard pull; gate closed and locked; your hand reaches it from where you pull");
  }
}

static void say_grip(const fhi_stage_maker *m, fh_stage *s) {
  const fh_grip *grip = &m->raise->rig->grips[s->grip];
  const char *item = item_name(m, grip->item), *rope = rope_name(m, s->path), *own = m->raise->rig->bodies[grip->body];
  const fh_station *from = &m->raise->rig->stations[m->raise->rig->paths[grip->path].first + grip->after], *to = from + 1;
  words at = length(m, grip->at), body = body_name(m, grip->body);
  const char *a = from->kind == FH_EDGE || from->body < 0 ? fhi_say(m->stages->language, from->kind == FH_EDGE ? "lip" : "loose end")
                                                         : fhi_end_said(m->stages->language, m->raise->rig, from->body);
  const char *b = to->kind == FH_EDGE || to->body < 0 ? fhi_say(m->stages->language, to->kind == FH_EDGE ? "lip" : "free end")
                                                       : fhi_end_said(m->stages->language, m->raise->rig, to->body);
  NAME("%s at %s", item, own);
  if (grip->body < FH_BODY_FIRST_GRIP && alone(m)) {
    say_tended_alone(m, s, a, b);
    return;
  }
  if (grip->body < FH_BODY_FIRST_GRIP) {
    DO("Tie %s on %s, on the strand from %s to %s, %s back from the lip, and clip it to %s. It is tended by hand: held open "
       "while hauling, let go to hold.",
       an_item(m, grip->item).text, rope, a, b, at.text, body.text);
    CHECK("it bites when pulled toward the hole; tested with a hard pull; gate closed and locked; someone is there to tend it");
    return;
  }
  DO("Put %s on %s, on the strand from %s to %s, %s back from the lip. This is the moving block \"%s\".", an_item(m, grip->item).text, rope,
     a, b, at.text, body.text);
  CHECK("it bites when pulled hard, away from the hole; turns lie side by side; gate closed and locked");
}

static void say_transfer(const fhi_stage_maker *m, fh_stage *s) {
  NAME("first pull");
  const fhi_model *model = &m->raise->model;
  const char *rope = model->hand_strand >= 0 ? rope_name(m, model->strands[model->hand_strand].path) : fhi_say(m->stages->language, "rope");
  if (m->raise->first == FH_FIRST_HAUL_ROPE) {
    DO("Take %s in hand and pull until the hitch at the anchor goes loose, or ease it back by hand; draw the slack through the "
       "capture and let it hold the load. Undo the tie-off and take the hitch off only when the capture has held.",
       rope);
    CHECK("the capture holds before tie-off and hitch are undone; station and anchor do not move; blocks and gates lie free; nobody "
          "else in line with the loaded rope, nobody below it or inside its angle");
    return;
  }
  if (m->raise->first == FH_FIRST_IN_RIG) {
    DO("Take %s in hand. Pull until the load hangs on the haul line and the first line just goes slack. Then stop, let the "
       "capture hold, and look at everything once more. Take the hitch off the first line; its knot stays tied.",
       rope);
  } else {
    DO("Take %s in hand. Pull until the load hangs on the haul line and the first line just goes slack. Then stop, let the "
       "capture hold, and look at everything once more.",
       rope);
  }
  CHECK("the capture holds with hands off; the first line is still tied; station and anchor do not move; blocks and gates lie "
        "free; nobody else in line with the loaded rope, nobody below it or inside its angle");
}

static void say_haul(const fhi_stage_maker *m, fh_stage *s) {
  NAME("hauling");
  bool lip = m->raise->model.hand_dir < 0;
  words gap = length(m, m->raise->scene->clearance.likely);
  const char *where = fhi_say(m->stages->language, lip ? "toward the lip, hand over hand at one place, on a tether that ends before the lip" : "straight back in line");
  if (alone(m)) {
    DO("Pull slowly and evenly, %s. Stop before blocks are nearer than %s to each other. Never let go suddenly: let the capture take the load.",
       where, gap.text);
    CHECK(is_silent(m) ? "at every stop look at the person over the edge, on your tether; blocks run free; the capture clicks or bites at every "
                         "stop; hands and hair clear of the rope"
                       : "at every stop call to the person, and look at the edge, on your tether, when no answer comes; blocks run free; the capture "
                         "clicks or bites at every stop; hands and hair clear of the rope");
  } else {
    DO("Pull together, slowly and evenly, %s. Stop before blocks are nearer than %s to each other. Never let go suddenly: let the "
       "capture take the load.",
       where, gap.text);
    CHECK(is_silent(m) ? "someone watches the edge and the person; blocks run free; the capture clicks or bites at every stop; hands and hair "
                         "clear of the rope"
                       : "someone watches the edge and talks to the person; blocks run free; the capture clicks or bites at every stop; hands "
                         "and hair clear of the rope");
  }
  double beyond = m->stages->walk_beyond;
  if (beyond > 0.0) {
    more(m, s->text, sizeof s->text,
         " You walk back up to %s beyond the anchor: probe that ground first and stay tied in, on a rope to the anchor that is long "
         "enough; or make shorter pulls and reset more often.",
         length(m, beyond).text);
  }
  if (m->raise->first == FH_FIRST_IN_RIG && m->backup.limit > 0.0) {
    more(m, s->check, sizeof s->check, "; the first line never hangs loose by more than %s", length(m, m->backup.limit).text);
  }
}

static void say_reset(const fhi_stage_maker *m, fh_stage *s) {
  NAME("resetting");
  char places[160] = "";
  const fh_rig *rig = m->raise->rig;
  for (int g = 0; g < rig->grip_count; g++) {
    if (rig->grips[g].body >= FH_BODY_FIRST_GRIP) {
      words at = length(m, rig->grips[g].at);
      size_t used = strlen(places);
      (void)fhi_format(places + used, sizeof places - used, fhi_say(m->stages->language, "%s%s to %s"), used > 0 ? ", " : "", body_name(m, rig->grips[g].body).text, at.text);
    }
  }
  if (places[0] != '\0') {
    DO("Give back slowly until the capture holds. Hands off. Slide the blocks forward (%s from the lip). Pull in the slack.", places);
  } else {
    DO("Give back slowly until the capture holds. Hands off. Slide the blocks forward. Pull in the slack.");
  }
  CHECK("the capture holds before hands come off; hitches bite again; rope in order; nobody goes to the edge without a tether");
}

static void say_slack(const fhi_stage_maker *m, fh_stage *s) {
  words now = length(m, s->slack), most = length(m, m->backup.limit);
  NAME("no knot tied");
  DO("Not a step to take: what it would be with the knot left out. The first line hangs loose by %s. It helps only up to %s. From there "
     "on the capture holds alone.",
     now.text, most.text);
  CHECK("the slack of the first line never gets this long");
}

static void say_knot(const fhi_stage_maker *m, fh_stage *s, int number) {
  words left = length(m, m->backup.left), every = length(m, fmax(0.0, m->backup.limit - m->backup.left));
  if (m->raise->first == FH_FIRST_IN_RIG) {
    NAME("backup knot %d", number);
    DO("Stop the pull, also in the middle of a stroke, and let the capture hold. Pull the slack of the first line in, tie a loop "
       "in it and clip that to the anchor. One for every %s that the load has gained, at the latest.",
       every.text);
    CHECK("knot clipped to the anchor, gate closed and locked; no more than %s of slack left; the old knot stays until the new "
          "one is in",
          left.text);
    return;
  }
  NAME("backup knot");
  words body = body_name(m, m->raise->capture >= 0 ? m->raise->model.contacts[m->raise->capture].body : -1);
  DO("While hands are off: tie a loop in the strand behind the capture and clip it to %s. Take it off again just before the "
     "next pull. Do so at every reset.",
     body.text);
  CHECK("no more than %s of slack between capture and knot; gate closed and locked", left.text);
}

static void say_lip(const fhi_stage_maker *m, fh_stage *s) {
  words zone = length(m, s->depth);
  NAME("at the lip");
  if (m->raise->scene->load_helps) {
    DO("Stop with the load %s below the edge and let the capture hold. On a tether, clear the edge down to the rope. Then short "
       "pulls; the person pushes off the wall with the feet. If it jams do not pull harder: give back a little, lift the ropes "
       "at the edge from a second point, or pull from beside the cut.",
       zone.text);
  } else {
    DO("Stop with the load %s below the edge and let the capture hold. On a tether, clear the edge down to the rope. Then short "
       "pulls; a person who cannot help is not forced over the edge: let the capture hold, go there on your tether, free head, "
       "arms and pack by hand, pull again. If it jams do not pull harder: give back a little, lift the ropes at the edge from a "
       "second point, or pull from beside the cut.",
       zone.text);
  }
  CHECK("own tether on; the person's head, hands and knots come free of the edge; the force does not rise");
  if (s->knots > 0) {
    more(m, s->check, sizeof s->check, "; the backup is tied");
  }
}

static void say_over(const fhi_stage_maker *m, fh_stage *s) {
  NAME("over the lip");
  DO("Haul on until the person lies well back from the edge. They stay on the rope and the capture stays in. Lay the person flat "
     "and keep them warm.");
  CHECK("capture holds; nobody unties near the edge; breathing, injuries, cold");
}

static void say_away(const fhi_stage_maker *m, fh_stage *s) {
  NAME("away from the edge");
  DO("Move back to the anchor on the rope, one after the other. Only there take the rig apart, from the hand's end to the load.");
  CHECK("everyone is clear of the edge; everyone is tied in again before walking on");
}

static void say_build(const fhi_stage_maker *m, fh_stage *s) {
  if (s->grip >= 0) {
    say_grip(m, s);
    return;
  }
  const fh_station *st = &m->raise->rig->stations[s->station];
  if (st->kind == FH_TIE) {
    say_tie(m, st, s);
  } else if (s->kind == FH_STAGE_CAPTURE) {
    say_capture(m, st, s);
  } else {
    say_run(m, st, s);
  }
}

// Names are told apart by a number where the same thing is done twice.
static void tell_apart(const fhi_stage_maker *m, fh_stage *s) {
  char plain[sizeof s->name];
  (void)fhi_copy(plain, sizeof plain, s->name);
  for (int n = 2, again = 1; again; n++) {
    again = 0;
    for (int i = 0; i < m->stages->count && !again; i++) {
      again = &m->stages->stages[i] != s && strcmp(m->stages->stages[i].name, s->name) == 0;
    }
    if (again) {
      (void)fhi_format(s->name, sizeof s->name, "%.40s (%d)", plain, n);
    }
  }
}

void fhi_stage_words(const fhi_stage_maker *m, fh_stage *s, int number) {
  s->name[0] = s->text[0] = s->check[0] = s->held[0] = '\0';
  switch (s->kind) {
  case FH_STAGE_FIRST_LINE: say_first_line(m, s); break;
  case FH_STAGE_STATION: say_station(m, s); break;
  case FH_STAGE_EDGE: say_edge(m, s); break;
  case FH_STAGE_BUILD:
  case FH_STAGE_CAPTURE:
  case FH_STAGE_GRIP: say_build(m, s); break;
  case FH_STAGE_TRANSFER: say_transfer(m, s); break;
  case FH_STAGE_HAUL: say_haul(m, s); break;
  case FH_STAGE_RESET: say_reset(m, s); break;
  case FH_STAGE_SLACK: say_slack(m, s); break;
  case FH_STAGE_KNOT: say_knot(m, s, number); break;
  case FH_STAGE_LIP: say_lip(m, s); break;
  case FH_STAGE_OVER: say_over(m, s); break;
  case FH_STAGE_AWAY: say_away(m, s); break;
  }
  tell_apart(m, s);
}
