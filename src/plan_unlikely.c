// SPDX-License-Identifier: MIT
// Simpler rigs that may do it all the same: the crew lacks pull at the likely figures, yet the ranges overlap and nothing else
// is against them. A guide who can count on more than the likely pull wants to see them, told as less likely. Implements model.md, section 13.
#include <math.h>
#include <string.h>

#include "chance.h"
#include "plan_work.h"
#include "shown.h"
#include "text.h"
#include "words.h"

// Below one in twenty it is no way out; the number is a choice of the house, no source.
static const double LEAST_CHANCE = 0.05;
// Standard error of a chance of a half from so many plain samples: 1.6 hundredths, and even points do better. As many as cost less than the check.
enum { SAMPLES = 1024 };

void fhi_unlikely_add(fhi_unlikely *u, const fhi_candidate *c) {
  if (c->pieces < 1 || c->pieces > FHI_UNLIKELY_PIECES) {
    return;
  }
  fhi_candidate *list = u->list[c->pieces - 1];
  int8_t *count = &u->count[c->pieces - 1];
  if (*count == FHI_UNLIKELY_EACH && fhi_front_compare(c, &list[FHI_UNLIKELY_EACH - 1]) >= 0) {
    return;
  }
  int at = *count < FHI_UNLIKELY_EACH ? (*count)++ : FHI_UNLIKELY_EACH - 1;
  for (; at > 0 && fhi_front_compare(c, &list[at - 1]) < 0; at--) {
    list[at] = list[at - 1];
  }
  list[at] = *c;
}

// Whether check says nothing against it but that the crew lacks pull at the likely figures, and the ranges overlap.
static fh_status may_do(fhi_planner *p, fhi_candidate *c, bool *yes) {
  fh_status status = fhi_plan_work_out(p, c);
  *yes = false;
  if (status != FH_OK) {
    return status;
  }
  const fh_plan *plan = &p->done[c->plan];
  *yes = plan->lacks_pull > 0.0 && plan->resets >= 0 && plan->hand_force.lo <= plan->crew.force.hi;
  return FH_OK;
}

// Of each number of pieces below those of any rig that works the best one, where it pulls less than all with fewer pieces.
// @param list room for FHI_UNLIKELY_PIECES  @param count how many, simplest first
static fh_status find_simpler(fhi_planner *p, fhi_candidate *list, int *count) {
  int fewest = FHI_UNLIKELY_PIECES + 1;
  for (int i = 0; i < p->plans->count; i++) {
    fewest = p->plans->plans[i].pieces < fewest ? p->plans->plans[i].pieces : fewest;
  }
  *count = 0;
  for (int pieces = 1; pieces < fewest; pieces++) {
    for (int k = 0; k < p->found.unlikely.count[pieces - 1]; k++) {
      fhi_candidate *c = &p->found.unlikely.list[pieces - 1][k];
      bool yes = false;
      if (*count > 0 && c->key[1] >= list[*count - 1].key[1]) {
        break;  // those behind it pull no less
      }
      fh_status status = may_do(p, c, &yes);
      if (status != FH_OK) {
        return status;
      }
      if (yes) {
        list[(*count)++] = *c;
        break;
      }
    }
  }
  return FH_OK;
}

static fh_status find_chance(fhi_planner *p, fhi_chance_room *room, const fhi_candidate *c, double *chance) {
  fhi_placed placed;
  const fh_chance *found = NULL;
  const fh_check *check = NULL;
  *chance = 0.0;
  if (!fhi_candidate_place(p->scene, &p->stock, c, &placed)) {
    return FH_OK;
  }
  fhi_code_rig(p->scene, p->gear, &p->stock, &c->code, &placed, &p->rig);
  fh_status status = fhi_chance_again(room, p->scene, p->gear, &p->rig, &found, &check);
  if (status == FH_OK) {
    *chance = fhi_in_hundredths(found->both);
  }
  return status;
}

// "at the likely figures the crew lacks 15 N; over the ranges given it works in 38 of 100 cases"
static void say_why(fh_language language, fh_plan *plan) {
  char lacks[32], percent[16];
  (void)fhi_format(plan->why, sizeof plan->why, fhi_say(language, "at the likely figures the crew lacks %s N; over the ranges given it works in %s of 100 cases"),
                   fhi_show_newton(lacks, sizeof lacks, plan->lacks_pull, FHI_UP), fhi_fixed(percent, sizeof percent, round(100.0 * plan->chance), 0));
  if (plan->thin) {
    size_t used = strlen(plan->why);
    (void)fhi_copy(plan->why + used, sizeof plan->why - used, fhi_say(language, "; hitches and captures on a rope under 8 mm: they may slip, see check"));
  }
}

// Those with the least lacking first: the simplest of them would need the most luck.
static fh_status take_likeliest(fhi_planner *p, fhi_candidate *list, int count) {
  fh_plans *plans = p->plans;
  fhi_chance_room *room = NULL;
  fh_status status = fhi_chance_room_create(SAMPLES, 1, &room);
  for (int i = count - 1; i >= 0 && plans->less_likely < FH_MAX_LESS_LIKELY && status == FH_OK; i--) {
    double chance = 0.0;
    status = find_chance(p, room, &list[i], &chance);
    if (status != FH_OK || chance < LEAST_CHANCE) {
      continue;
    }
    status = fhi_plan_tell_time(p, &list[i]);
    if (p->done[list[i].plan].resets >= 0) {
      int at = plans->count + plans->less_likely++;
      plans->plans[at] = fhi_plan_full(p, &list[i]);
      plans->plans[at].chance = chance;
      plans->codes[at] = list[i];
      say_why(p->scene->language, &plans->plans[at]);
    }
  }
  fhi_chance_room_destroy(room);
  return status;
}

fh_status fhi_plan_less_likely(fhi_planner *p) {
  fhi_candidate list[FHI_UNLIKELY_PIECES];
  int count = 0;
  fh_status status = find_simpler(p, list, &count);
  return status == FH_OK && count > 0 ? take_likeliest(p, list, count) : status;
}
