// SPDX-License-Identifier: MIT
// The rigs that a kit can build: found, checked, kept where no other beats them, ranked, told. Implements model.md, section 13.
#include "plan_work.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "firnhaul_chance.h"
#include "memory.h"
#include "text.h"
#include "whole.h"
#include "words.h"

// Codes within the bounds of the walk: measured with every kit large enough (see docs/benchmarks.md), about ten times more
// a contact. A person waits for a tenth of a second on a small kit, for two seconds on a large one.
int fhi_search_contacts(const fhi_stock *stock) {
  bool large = stock->grips > 5 || stock->rope_count > 2;
  return large ? 6 : 5;
}

fh_plan_opts fh_plan_opts_default(void) {
  return (fh_plan_opts){.max_contacts = -1, .all = false, .prefer = FH_PREFER_PIECES, .progress = NULL, .user = NULL};
}

// What check found in place of the quick scores, which may only have been too kind.
static void correct(const fhi_planner *p, fhi_candidate *c) {
  const fh_plan *plan = &p->done[c->plan];
  c->rope = plan->rope_needed;
  c->margin = plan->worst_margin;
  fhi_front_key(c);
}

// Takes the front, works it out, throws out what check says no to, and looks again with what check found, until the whole
// front stands. Whole strokes choose, as they are quickly counted; the raise is run for those that stay.
static fh_status keep_front(fhi_planner *p) {
  for (;;) {
    size_t front = fhi_front(p->found.list, p->found.count), open = 0, gone = 0;
    fh_status status = FH_OK;
    for (size_t i = 0; i < front && status == FH_OK; i++) {
      fhi_candidate *c = &p->found.list[i];
      open += c->plan < 0;
      status = fhi_plan_work_out(p, c);
      if (status == FH_OK && c->possible) {
        correct(p, c);
      }
    }
    p->plans->count = (int)front;
    for (size_t i = 0; i < front && status == FH_OK && open == 0; i++) {
      status = fhi_plan_tell_time(p, &p->found.list[i]);
      gone += !p->found.list[i].possible;
    }
    if (status != FH_OK || open + gone == 0) {
      return status;
    }
    size_t kept = 0;
    for (size_t i = 0; i < p->found.count; i++) {
      if (p->found.list[i].possible) {
        p->found.list[kept++] = p->found.list[i];
      }
    }
    p->found.count = kept;
  }
}

// Rigs that go slack or lock somewhere in the ranges are not sound after all.
static fh_status keep_all(fhi_planner *p) {
  size_t n = p->found.count, kept = 0;
  fh_status status = FH_OK;
  for (size_t i = 0; i < n && status == FH_OK; i++) {
    status = fhi_plan_work_out(p, &p->found.list[i]);
    if (status == FH_OK && isnan(p->done[p->found.list[i].plan].hand_force.likely)) {
      p->plans->distinct--;
      continue;
    }
    status = status == FH_OK ? fhi_plan_tell_time(p, &p->found.list[i]) : status;
    p->found.list[kept++] = p->found.list[i];
    if (p->opts->progress != NULL && (i & 255) == 0 && !p->opts->progress(p->opts->user, (double)i / (double)n)) {
      p->plans->stopped = true;
      n = i + 1;
    }
  }
  p->plans->count = (int)kept;
  return status;
}

// A plan with its code, so that both are ranked together.
typedef struct ranked {
  fh_plan plan;
  fhi_candidate candidate;
  double first[5];  // smaller is better, in the order that the user wants
} ranked;

static void fill_order(fh_prefer prefer, ranked *r) {
  double pull = r->plan.hand_force.likely, time = isnan(r->plan.time_rests) ? 1e300 : r->plan.time_rests, pieces = r->plan.pieces;
  double risk = -r->plan.worst_margin;
  const double orders[5][4] = {{pull, pieces, time, risk}, {time, pieces, pull, risk}, {pieces, pull, time, risk}, {risk, pieces, pull, time},
                               {-r->plan.chance, pieces, pull, time}};
  // A person who cannot help cannot clip a loop in either: such a rig comes after all others that work. So does, before those, one
  // whose capture nobody can tend: it says itself not to be used alone. And before those one that hangs on hitches on thin rope.
  r->first[0] = (r->plan.possible ? 0.0 : 4.0) + (r->plan.asks_below ? 2.0 : 0.0) + (r->plan.tends_far ? 1.0 : 0.0) + (r->plan.thin ? 0.5 : 0.0);
  memcpy(&r->first[1], orders[prefer], sizeof orders[0]);
}

static int compare_ranked(const void *pa, const void *pb) {
  const ranked *a = pa, *b = pb;
  for (int i = 0; i < 5; i++) {
    if (a->first[i] != b->first[i]) {
      return a->first[i] < b->first[i] ? -1 : 1;
    }
  }
  return memcmp(&a->candidate.code, &b->candidate.code, sizeof a->candidate.code);
}

// Chances of all plans, when they come first. Few samples rank well: the same points for every rig. Counts of samples that
// hardly differ are one: to a hundredth, so that fewer pieces then decide.
static fh_status fill_chances(fhi_planner *p, ranked *list, size_t n) {
  const fh_chance_opts opts = {.samples = 4096, .seed = 1, .why = false};
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  fh_status status = rig == NULL ? FH_ERR_MEMORY : FH_OK;
  for (size_t i = 0; i < n && status == FH_OK; i++) {
    fhi_placed placed;
    fh_chance *chance = NULL;
    list[i].plan.chance = 0.0;
    if (!fhi_candidate_place(p->scene, &p->stock, &list[i].candidate, &placed)) {
      continue;
    }
    fhi_code_rig(p->scene, p->gear, &p->stock, &list[i].candidate.code, &placed, rig);
    status = fh_chance_create(p->scene, p->gear, rig, &opts, &chance);
    if (status == FH_OK) {
      list[i].plan.chance = fhi_in_hundredths(chance->both);
    }
    fh_chance_destroy(chance);
  }
  fhi_free(rig);
  return status;
}

static fh_status rank(fhi_planner *p) {
  size_t n = (size_t)p->plans->count, room = n + FH_MAX_LESS_LIKELY;
  ranked *list = fhi_alloc(n > 0 ? n : 1, sizeof *list);
  p->plans->codes = fhi_alloc(room, sizeof *p->plans->codes);
  p->plans->plans = fhi_alloc(room, sizeof *p->plans->plans);
  if (list == NULL || p->plans->codes == NULL || p->plans->plans == NULL) {
    fhi_free(list);
    return FH_ERR_MEMORY;
  }
  for (size_t i = 0; i < n; i++) {
    list[i].plan = fhi_plan_full(p, &p->found.list[i]);
    list[i].candidate = p->found.list[i];
  }
  fh_status status = p->opts->prefer == FH_PREFER_CHANCE ? fill_chances(p, list, n) : FH_OK;
  if (status != FH_OK) {
    fhi_free(list);
    return status;
  }
  for (size_t i = 0; i < n; i++) {
    fill_order(p->opts->prefer, &list[i]);
  }
  qsort(list, n, sizeof *list, compare_ranked);
  for (size_t i = 0; i < n; i++) {
    p->plans->plans[i] = list[i].plan;
    p->plans->codes[i] = list[i].candidate;
  }
  fhi_free(list);
  return FH_OK;
}

// Whether a plan is the best of the list in something. @param limit count only plans with at most so many pieces
static bool is_best(const fh_plans *plans, int index, int what, int limit) {
  const fh_plan *mine = &plans->plans[index];
  for (int i = 0; i < plans->count; i++) {
    const fh_plan *x = &plans->plans[i];
    if (!x->possible || x->pieces > limit) {
      continue;
    }
    bool better = what == 0   ? x->hand_force.likely < mine->hand_force.likely
                  : what == 1 ? x->pieces < mine->pieces
                  : what == 2 ? x->time_rests < mine->time_rests
                  : what == 3 ? x->worst_margin > mine->worst_margin
                              : x->rope_needed < mine->rope_needed;
    if (better) {
      return false;
    }
  }
  return true;
}

static void say_why(const fh_plans *plans, int index, fh_language language, fh_plan *plan) {
  static const char *const BEST[] = {"least pull", "fewest pieces", "fastest", "widest margin", "least rope"};
  char text[sizeof plan->why] = "";
  size_t used = 0;
  if (!plan->possible) {
    fhi_copy(plan->why, sizeof plan->why, fhi_say(language, "sound, but not here: see check"));
    return;
  }
  for (int what = 0; what < 5; what++) {
    if (is_best(plans, index, what, 1000)) {
      fhi_format(text + used, sizeof text - used, "%s%s", used > 0 ? ", " : "", fhi_say(language, BEST[what]));
      used = strlen(text);
    }
  }
  if (used > 0) {
    fhi_copy(text + used, sizeof text - used, fhi_say(language, " of all that work"));
  } else {
    for (int what = 0; what < 4 && used == 0; what++) {
      if (what != 1 && is_best(plans, index, what, plan->pieces)) {
        fhi_format(text, sizeof text, fhi_say(language, "%s of all with at most %d pieces"), fhi_say(language, BEST[what]), plan->pieces);
        used = strlen(text);
      }
    }
  }
  if (used == 0) {
    fhi_copy(text, sizeof text, fhi_say(language, "a middle way: no other is as good in everything at once"));
  }
  if (plan->asks_below) {
    used = strlen(text);
    fhi_copy(text + used, sizeof text - used, fhi_say(language, "; the person below would have to clip in"));
  }
  if (plan->thin) {
    used = strlen(text);
    fhi_copy(text + used, sizeof text - used, fhi_say(language, "; hitches and captures on a rope under 8 mm: they may slip, see check"));
  }
  fhi_copy(plan->why, sizeof plan->why, text);
}

static void say_bounds(const fhi_planner *p) {
  const fhi_stock *s = &p->stock;
  int n = p->found.max_contacts, ropes = s->rope_count > 1 ? s->rope_count - 1 : 0;
  fhi_format(p->plans->bounds, sizeof p->plans->bounds,
             fhi_say(p->scene->language, "over the lip to a capture on the station, then at most %d contacts behind it%s%s; every grip on any strand; fixed turns all "
             "on the station or all on the anchor; each rig with its pieces where they pull least; a stroke that lifts at least 0.25 m"),
             n, ropes >= 1 && n >= 2 ? fhi_say(p->scene->language, ", with a further rope two fewer and the crew on either rope") : "",
             ropes >= 2 && n >= 3 ? fhi_say(p->scene->language, ", with two further ropes three fewer") : "");
}

static fh_status plan(fhi_planner *p) {
  fhi_stock_fill(p->scene, p->gear, &p->stock);
  int contacts = p->opts->max_contacts;
  if (contacts < 0) {
    contacts = fhi_search_contacts(&p->stock);
  }
  const fhi_search_opts search = {contacts, !p->opts->all, false, p->opts->progress, p->opts->user};
  fh_status status = fhi_search_run(p->scene, p->gear, &p->stock, &search, &p->found);
  p->plans->searched = p->found.searched;
  p->plans->sound = p->found.sound;
  p->plans->distinct = p->found.distinct;
  p->plans->max_contacts = contacts;
  p->plans->stopped = p->found.stopped || p->found.full;
  say_bounds(p);
  if (status == FH_OK) {
    status = p->opts->all ? keep_all(p) : keep_front(p);
  }
  if (status == FH_OK) {
    status = rank(p);
  }
  if (status != FH_OK) {
    return status;
  }
  for (int i = 0; i < p->plans->count; i++) {
    say_why(p->plans, i, p->scene->language, &p->plans->plans[i]);
  }
  status = p->opts->all ? FH_OK : fhi_plan_less_likely(p);
  if (status != FH_OK) {
    return status;
  }
  fhi_say_simpler(p->found.near, p->scene->language, p->plans);
  bool works = p->plans->count > 0 && p->plans->plans[0].possible;
  return works || p->plans->stopped
             ? FH_OK
             : fhi_missing(p->scene, p->gear, contacts, p->plans);
}

fh_status fh_plans_create(const fh_scene *scene, const fh_gear *gear, const fh_plan_opts *opts, fh_plans **out) {
  fh_plan_opts chosen = opts != NULL ? *opts : fh_plan_opts_default();
  bool known = chosen.max_contacts >= -1 && chosen.max_contacts <= FHI_SEARCH_CONTACTS && (int)chosen.prefer >= FH_PREFER_PULL &&
               (int)chosen.prefer <= FH_PREFER_CHANCE;
  if (scene == NULL || gear == NULL || out == NULL || !known || !fhi_scene_is_whole(scene)) {
    return FH_ERR_ARG;
  }
  fhi_planner *p = fhi_alloc(1, sizeof *p);
  fh_plans *plans = fhi_alloc(1, sizeof *plans);
  fh_status status = FH_ERR_MEMORY;
  if (p != NULL && plans != NULL) {
    p->scene = scene;
    p->gear = gear;
    p->opts = &chosen;
    p->plans = plans;
    status = plan(p);
    fhi_candidates_clear(&p->found);
    fhi_free(p->done);
  }
  fhi_free(p);
  if (status != FH_OK) {
    fh_plans_destroy(plans);
    return status;
  }
  *out = plans;
  return FH_OK;
}

void fh_plans_destroy(fh_plans *plans) {
  if (plans != NULL) {
    fhi_free(plans->plans);
    fhi_free(plans->codes);
    fhi_free(plans);
  }
}

fh_status fh_plan_rig(const fh_scene *scene, const fh_gear *gear, const fh_plans *plans, int index, fh_rig *rig) {
  if (scene == NULL || gear == NULL || plans == NULL || rig == NULL || index < 0 || index >= plans->count + plans->less_likely) {
    return FH_ERR_ARG;
  }
  fhi_stock *stock = fhi_alloc(1, sizeof *stock);
  fhi_placed placed;
  if (stock == NULL) {
    return FH_ERR_MEMORY;
  }
  fhi_stock_fill(scene, gear, stock);
  bool ok = fhi_candidate_place(scene, stock, &plans->codes[index], &placed);
  if (ok) {
    fhi_code_rig(scene, gear, stock, &plans->codes[index].code, &placed, rig);
  }
  fhi_free(stock);
  return ok ? FH_OK : FH_ERR_ARG;
}
