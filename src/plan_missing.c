// SPDX-License-Identifier: MIT
// When nothing works: the smallest changes that make it work. Implements model.md, section 13.
//
// One change at a time, the cheapest first: what costs nothing, more people, one more piece of each kind; then how much more
// pull or rope. Each is tried by searching the changed scene again, and a rig counts only if check says nothing against it.
// Where no single change is enough, pairs of them are tried, within a bound on the work.
#include <math.h>
#include <string.h>

#include "crew.h"
#include "memory.h"
#include "plan.h"
#include "plan_change.h"
#include "text.h"
#include "words.h"

// A small rig is found soon: so few contacts are looked at first.
static const int FEW_CONTACTS = 3;
// Codes looked at, all searches together, before only small rigs are tried: some seconds on a slow phone.
static const int64_t MOST_TRIED = 1500000;
// Pairs that are told: more would not be read.
enum { MOST_PAIRS = 3 };

typedef struct asker {
  const fh_scene *scene;
  const fh_gear *gear;
  fh_scene *changed;  // a copy to change
  int max_contacts;
  int64_t tried;
  fh_plans *plans;    // where the answer goes
} asker;

// Notes a change that is enough. @param one, other names for programs; other may be NULL
static void note(asker *a, const char *one, const char *other, bool free, const char *text) {
  fh_plans *p = a->plans;
  if (p->change_count == FH_MAX_CHANGES) {
    return;
  }
  fh_change *c = &p->changes[p->change_count++];
  memset(c, 0, sizeof *c);
  (void)fhi_copy(c->what[0], sizeof c->what[0], one);
  c->count = other == NULL ? 1 : 2;
  if (other != NULL) {
    (void)fhi_copy(c->what[1], sizeof c->what[1], other);
  }
  c->free = free;
  (void)fhi_copy(c->text, sizeof c->text, text);
}

// One who does not answer clips no loop in: such a rig is no help, whatever is fetched for it.
static bool out_of_hand(const fh_scene *scene, const fhi_candidate *c) {
  return c->hands && scene->load_responds == FH_RESPONDS_SILENT;
}

// Whether a search with this scene finds a rig that check says yes to. Only the front is worked out: what it beats needs
// more of everything.
static fh_status works_with(asker *a, const fh_scene *scene, const fhi_stock *stock, int contacts, bool *yes) {
  const fhi_search_opts opts = {contacts, true, false, NULL, NULL};
  fhi_candidates found;
  fh_status status = fhi_search_run(scene, a->gear, stock, &opts, &found);
  fh_rig *rig = fhi_alloc(1, sizeof *rig);
  *yes = false;
  if (rig == NULL) {
    status = FH_ERR_MEMORY;
  }
  a->tried += found.searched;
  size_t front = status == FH_OK ? fhi_front(found.list, found.count) : 0;
  for (size_t i = 0; i < front && !*yes && status == FH_OK; i++) {
    fhi_placed placed;
    fh_check *check = NULL;
    if (out_of_hand(scene, &found.list[i]) || !fhi_candidate_place(scene, stock, &found.list[i], &placed)) {
      continue;
    }
    fhi_code_rig(scene, a->gear, stock, &found.list[i].code, &placed, rig);
    status = fh_check_create(scene, a->gear, rig, NULL, &check);
    *yes = status == FH_OK && !check->answer_no;
    fh_check_destroy(check);
  }
  fhi_free(rig);
  fhi_candidates_clear(&found);
  return status;
}

// The same for the changed scene, small rigs first. Once too much was tried, small rigs only.
static fh_status works(asker *a, bool *yes) {
  fhi_stock stock;
  fhi_stock_fill(a->changed, a->gear, &stock);
  int few = a->max_contacts < FEW_CONTACTS ? a->max_contacts : FEW_CONTACTS;
  fh_status status = works_with(a, a->changed, &stock, few, yes);
  if (status == FH_OK && !*yes && few < a->max_contacts && a->tried < MOST_TRIED) {
    status = works_with(a, a->changed, &stock, a->max_contacts, yes);
  }
  return status;
}

// Two changes in one sentence.
static void join(const asker *a, char *to, size_t size, const char *one, const char *other) {
  (void)fhi_format(to, size, fhi_say(a->scene->language, "%s together with %s"), one, other);
}

static void note_amount(asker *a, const fhi_change *also, const char *said, const char *name, const char *format, const char *amount) {
  char text[160], both[330];
  const char *hole = strstr(format, "%s");
  (void)fhi_format(text, sizeof text, "%.*s%s%s", (int)(hole - format), format, amount, hole + 2);
  if (also == NULL) {
    note(a, name, NULL, false, text);
    return;
  }
  join(a, both, sizeof both, said, text);
  note(a, also->name, name, false, both);
}

// What this scene's people lack to pull with the best posture and two more of them: more than that nobody finds.
static fh_status most_more(const asker *a, double *best) {
  int n = 0;
  const fhi_change *list = fhi_changes(&n);
  fh_scene *s = fhi_alloc(1, sizeof *s);
  double diameter = fhi_rope_diameter(a->scene, a->gear, a->scene->rope_count > 0 ? 0 : -1);
  double now = fhi_crew_pull(a->scene, a->gear, FH_TOWARD_BACK, diameter).force.likely;
  if (s == NULL) {
    return FH_ERR_MEMORY;
  }
  *best = 0.0;
  for (int posture = -1; posture < n; posture++) {
    char text[160];
    *s = *a->scene;
    if (posture >= 0 && (strncmp(list[posture].name, "posture", 7) != 0 || !fhi_change_apply(&list[posture], a->gear, s, text, sizeof text))) {
      continue;
    }
    for (int i = 0; i < n; i++) {
      if (strcmp(list[i].name, "people") == 0 && list[i].amount > 1.0) {
        (void)fhi_change_apply(&list[i], a->gear, s, text, sizeof text);
      }
    }
    *best = fmax(*best, fhi_crew_pull(s, a->gear, FH_TOWARD_BACK, diameter).force.likely - now);
  }
  fhi_free(s);
  return FH_OK;
}

// The least that pull or rope lack over all sound rigs that fail in nothing else. Rope is fetched sooner than strength: it comes first.
// @param also what was changed already, NULL for nothing  @param said the same in words
static fh_status ask_amounts(asker *a, const fhi_change *also, const char *said) {
  const fhi_search_opts opts = {a->max_contacts, false, true, NULL, NULL};
  fhi_candidates found;
  double pull = (double)INFINITY, rope = (double)INFINITY;
  char amount[32];
  fhi_stock stock;
  fhi_stock_fill(a->changed, a->gear, &stock);
  fh_status status = fhi_search_run(a->changed, a->gear, &stock, &opts, &found);
  a->tried += found.searched;
  for (size_t i = 0; i < found.count; i++) {
    const fhi_candidate *c = &found.list[i];
    if (out_of_hand(a->changed, c)) {
      continue;
    }
    bool strong = c->margin >= 1.0, reaches = c->short_rope <= 0.0, can = isnan(c->share) || c->share <= 1.0;
    if (strong && reaches && !can) {
      pull = fmin(pull, c->hand_force * (1.0 - 1.0 / c->share));
    }
    if (strong && can && !reaches) {
      rope = fmin(rope, c->short_rope);
    }
  }
  fhi_candidates_clear(&found);
  if (isfinite(rope)) {
    note_amount(a, also, said, "rope", fhi_say(a->scene->language, "%s m more rope"), fhi_fixed(amount, sizeof amount, ceil(rope * 2.0) / 2.0, 1));
  }
  double most = 0.0;
  if (status == FH_OK && isfinite(pull)) {
    status = most_more(a, &most);
  }
  if (isfinite(pull) && pull <= most) {
    note_amount(a, also, said, "pull", fhi_say(a->scene->language, "%s N more pull"),
                fhi_fixed(amount, sizeof amount, ceil(pull / 5.0) * 5.0, 0));
  }
  return status;
}

// @return whether this row is a step of the same change as the row before
static bool same_as_before(const fhi_change *list, int i) {
  return i > 0 && strcmp(list[i].name, list[i - 1].name) == 0;
}

// Every change by itself. Of the steps of one change the first that is enough is told.
static fh_status ask_singles(asker *a) {
  int n = 0;
  const fhi_change *list = fhi_changes(&n);
  fh_status status = FH_OK;
  bool enough = false;
  for (int i = 0; i < n && status == FH_OK; i++) {
    char text[160];
    bool yes = false;
    enough = enough && same_as_before(list, i);
    *a->changed = *a->scene;
    if (enough || !fhi_change_apply(&list[i], a->gear, a->changed, text, sizeof text)) {
      continue;
    }
    status = works(a, &yes);
    if (yes) {
      note(a, list[i].name, NULL, list[i].free, text);
      enough = true;
    }
  }
  return status;
}

static fh_status ask_pair(asker *a, const fhi_change *one, const fhi_change *other) {
  char first[160], second[160], both[330];
  bool yes = false;
  *a->changed = *a->scene;
  if (!fhi_change_apply(one, a->gear, a->changed, first, sizeof first) || !fhi_change_apply(other, a->gear, a->changed, second, sizeof second)) {
    return FH_OK;
  }
  fh_status status = works(a, &yes);
  if (yes) {
    join(a, both, sizeof both, first, second);
    note(a, one->name, other->name, one->free && other->free, both);
  }
  return status;
}

// Whether a pair with this row is told already: one more step of it is not news.
static bool is_told(const asker *a, const fhi_change *one, const fhi_change *other) {
  for (int i = 0; i < a->plans->change_count; i++) {
    const fh_change *c = &a->plans->changes[i];
    if (c->count == 2 && strcmp(c->what[0], one->name) == 0 && strcmp(c->what[1], other->name) == 0) {
      return true;
    }
  }
  return false;
}

// Two changes at once: first those of which both cost nothing, then those of which one does not, then the rest.
static fh_status ask_pairs(asker *a) {
  int n = 0;
  const fhi_change *list = fhi_changes(&n);
  fh_status status = FH_OK;
  for (int cost = 0; cost <= 2; cost++) {
    for (int i = 0; i < n; i++) {
      for (int j = i + 1; j < n && status == FH_OK; j++) {
        const fhi_change *one = &list[i], *other = &list[j];
        bool both_free = one->apply == other->apply && one->free;  // two ways to pull, two steps of one change
        bool full = a->plans->change_count >= MOST_PAIRS || a->tried >= 2 * MOST_TRIED;
        if (!full && !both_free && !one->free + !other->free == cost && strcmp(one->name, other->name) != 0 && !is_told(a, one, other)) {
          status = ask_pair(a, one, other);
        }
      }
    }
  }
  return status;
}

// The least pull or rope that is lacking once the lip is padded.
static fh_status ask_amounts_padded(asker *a) {
  int n = 0;
  const fhi_change *list = fhi_changes(&n);
  char said[160];
  *a->changed = *a->scene;
  while (n > 0 && strcmp(list->name, "pad-lip") != 0) {
    list++;
    n--;
  }
  return n > 0 && fhi_change_apply(list, a->gear, a->changed, said, sizeof said) ? ask_amounts(a, list, said) : FH_OK;
}

// All changes in one text.
static void tell(const fh_plans *plans, fh_language language, char *text, size_t size) {
  size_t used = 0;
  text[0] = '\0';
  for (int i = 0; i < plans->change_count; i++) {
    (void)fhi_format(text + used, size - used, "%s%s", i > 0 ? fhi_say(language, "; or ") : "", plans->changes[i].text);
    used += strlen(text + used);
  }
  (void)fhi_copy(text + used, size - used,
                 fhi_say(language, plans->change_count == 0 ? "more than one thing; none of these alone is enough: a padded lip, one more capture, pulley, carabiner or hitch, more pull, more rope"
                                   : plans->change_count > 1 ? ". Each alone is enough at the likely figures, perhaps not at the worst"
                                                             : ". That is enough at the likely figures, perhaps not at the worst"));
}

fh_status fhi_missing(const fh_scene *scene, const fh_gear *gear, int max_contacts, fh_plans *plans) {
  asker a = {scene, gear, fhi_alloc(1, sizeof(fh_scene)), max_contacts, 0, plans};
  plans->change_count = 0;
  if (a.changed == NULL) {
    return FH_ERR_MEMORY;
  }
  fh_status status = ask_singles(&a);
  if (status == FH_OK && plans->change_count == 0) {
    status = ask_pairs(&a);
  }
  if (status == FH_OK) {
    *a.changed = *scene;
    status = ask_amounts(&a, NULL, NULL);
  }
  if (status == FH_OK && plans->change_count == 0) {
    status = ask_amounts_padded(&a);
  }
  fhi_free(a.changed);
  tell(plans, scene->language, plans->missing, sizeof plans->missing);
  return status;
}
