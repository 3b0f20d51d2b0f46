// SPDX-License-Identifier: MIT
// Chances for programs and in words.
#include <math.h>
#include <string.h>

#include "firnhaul_chance.h"
#include "json.h"
#include "text.h"
#include "words.h"

static void put_unknown(fhi_json *j, const fh_unknown *u, fh_language language) {
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "name", u->name);
  fhi_json_text(j, "advice", fhi_say(language, u->advice));
  fhi_json_band(j, "range", fh_number_band(u->number));
  fhi_json_number(j, "pull_alone", u->pull_alone);
  fhi_json_number(j, "pull_total", u->pull_total);
  fhi_json_number(j, "margin_alone", u->margin_alone);
  fhi_json_number(j, "margin_total", u->margin_total);
  fhi_json_number(j, "works_alone", u->works_alone);
  fhi_json_number(j, "works_total", u->works_total);
  fhi_json_close(j, '}');
}

fh_status fh_chance_write_json(const fh_chance *c, fh_out out) {
  fhi_writer w;
  char words[900];
  if (c == NULL || out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_integer(&j, "samples", c->samples);
  fhi_json_integer(&j, "seed", (long long)c->seed);
  fhi_json_number(&j, "crew", c->crew);
  fhi_json_number(&j, "crew_for_minutes", c->lasts);
  fhi_json_number(&j, "limits", c->limits);
  fhi_json_number(&j, "rope", c->rope);
  fhi_json_number(&j, "works", c->works);
  fhi_json_number(&j, "both", c->both);
  fhi_json_number(&j, "standard_error", c->error);
  fhi_json_quantiles(&j, "hand_force_N", c->pull);
  fhi_json_quantiles(&j, "crew_pull_N", c->capacity);
  fhi_json_quantiles(&j, "crew_share", c->share);
  fhi_json_quantiles(&j, "margin", c->margin);
  fhi_json_text(&j, "words", fh_chance_words(c, words, sizeof words));
  fhi_json_open(&j, "limit_chances", '[');
  for (int i = 0; i < c->limit_count; i++) {
    fhi_json_open(&j, NULL, '{');
    fhi_json_text(&j, "element", c->limit[i].element);
    fhi_json_number(&j, "holds", c->limit[i].holds);
    fhi_json_close(&j, '}');
  }
  fhi_json_close(&j, ']');
  fhi_json_open(&j, "unknowns", '[');
  for (int i = 0; i < c->unknown_count; i++) {
    put_unknown(&j, &c->unknown[i], c->language);
  }
  fhi_json_close(&j, ']');
  fhi_json_flag(&j, "unknowns_left_out", c->shared);
  fhi_json_open(&j, "stood_at_likely", '[');
  for (int i = 0; i < c->stood_count; i++) {
    fhi_json_text(&j, NULL, c->stood[i]);
  }
  fhi_json_close(&j, ']');
  fhi_json_close(&j, '}');
  fhi_put(&w, "\n");
  return fhi_writer_end(&w);
}

// ---------------------------------------------------------------------------------------------------- words

typedef enum asked { ASKED_PULL, ASKED_MARGIN, ASKED_WORKS } asked;

static double total_of(const fh_unknown *u, asked what) {
  return what == ASKED_PULL ? u->pull_total : what == ASKED_MARGIN ? u->margin_total : u->works_total;
}

// The n-th most important unknown. @return its index, or -1
static int ranked(const fh_chance *c, asked what, int n) {
  bool taken[FH_MAX_UNKNOWNS] = {false};
  int best = -1;
  for (int k = 0; k <= n; k++) {
    best = -1;
    for (int i = 0; i < c->unknown_count; i++) {
      best = !taken[i] && total_of(&c->unknown[i], what) > (best < 0 ? -1.0 : total_of(&c->unknown[best], what)) ? i : best;
    }
    if (best < 0) {
      return -1;
    }
    taken[best] = true;
  }
  return best;
}

// The advice up to its colon. English opens the sentence with it.
static const char *lead_of(const fh_chance *c, int unknown, char *to, size_t size) {
  (void)fhi_copy(to, size, fhi_say(c->language, c->unknown[unknown].advice));
  if (c->language == FH_ENGLISH) {
    to[0] = (char)(to[0] >= 'a' && to[0] <= 'z' ? to[0] - 'a' + 'A' : to[0]);
  }
  size_t n = strcspn(to, ":");
  while (n > 0 && to[n - 1] == ' ') {
    n--;
  }
  to[n] = '\0';
  return to;
}

static const char *name_of(const fh_chance *c, asked what) {
  switch (what) {
  case ASKED_MARGIN: return "the least margin";
  case ASKED_WORKS: return "the outcome (whether all of it goes well)";
  default: return isnan(c->crew) ? "the pull" : "pull over what the crew can";
  }
}

static size_t add_ranking(const fh_chance *c, asked what, char *to, size_t size) {
  char share[16];
  char name[200];
  size_t used = 0;
  for (int n = 0; n < 3; n++) {
    int i = ranked(c, what, n);
    double x = i < 0 ? 0.0 : total_of(&c->unknown[i], what);
    if (x < 0.05) {
      break;
    }
    (void)fhi_fixed(share, sizeof share, fmin(100.0, x * 100.0), 0);
    (void)fhi_name_said(name, sizeof name, c->language, c->unknown[i].name);
    if (n == 0) {
      char advice[160];
      (void)fhi_format(to, size, fhi_say(c->language, "%s first: %s makes %s %% of what is open in %s"),
                       lead_of(c, i, advice, sizeof advice), name, share,
                       fhi_say(c->language, name_of(c, what)));
    } else {
      (void)fhi_format(to + used, size - used, "%s %s %s %%", n == 1 ? fhi_say(c->language, "; then") : ",", name, share);
    }
    used = strlen(to);
  }
  if (used > 0) {
    (void)fhi_format(to + used, size - used, ".");
    used = strlen(to);
  }
  return used;
}

static void add_sentence(const fh_chance *c, asked what, char *to, size_t size) {
  size_t used = strlen(to);
  if (used + 2 < size) {
    (void)fhi_format(to + used, size - used, "%s", used > 0 ? " " : "");
    size_t start = used + (used > 0 ? 1 : 0);
    to[add_ranking(c, what, to + start, size - start) > 0 ? strlen(to) : used] = '\0';
  }
}

// Does another unknown than those that move pull and margin decide whether it goes well? A rope that may be too short does.
static bool other_decides(const fh_chance *c) {
  int first = ranked(c, ASKED_WORKS, 0);
  bool said = first == ranked(c, ASKED_PULL, 0) || (c->limits < 0.995 && first == ranked(c, ASKED_MARGIN, 0));
  return c->both > 0.005 && c->both < 0.995 && first >= 0 && !said;
}

const char *fh_chance_words(const fh_chance *c, char *to, size_t size) {
  if (size == 0) {
    return to;
  }
  to[0] = '\0';
  if (c->unknown_count == 0 || isnan(c->unknown[0].pull_total)) {
    return to;
  }
  add_sentence(c, ASKED_PULL, to, size);
  if (c->limits < 0.995) {
    add_sentence(c, ASKED_MARGIN, to, size);
  }
  if (other_decides(c)) {
    add_sentence(c, ASKED_WORKS, to, size);
  }
  return to;
}
