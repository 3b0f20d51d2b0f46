// SPDX-License-Identifier: MIT
// Chances of the raise in time for programs and in words.
#include <math.h>
#include <string.h>

#include "firnhaul_chance.h"
#include "json.h"
#include "text.h"
#include "words.h"

static void put_chances(fhi_json *j, const fh_haul_chance *c) {
  fhi_json_number(j, "works", c->works);
  fhi_json_number(j, "crew", c->crew);
  fhi_json_number(j, "crew_for_minutes", c->lasts);
  fhi_json_number(j, "crew_to_lip", c->crew_to_lip);
  fhi_json_number(j, "crew_to_lip_for_minutes", c->lasts_to_lip);
  fhi_json_number(j, "rope", c->rope);
  fhi_json_number(j, "limits", c->limits);
  fhi_json_number(j, "all", c->all);
  fhi_json_number(j, "standard_error", c->error);
}

static void put_bands(fhi_json *j, const fh_haul_chance *c) {
  fhi_json_quantiles(j, "strokes", c->strokes);
  fhi_json_quantiles(j, "resets", c->resets);
  fhi_json_quantiles(j, "rope_pulled_m", c->rope_pulled);
  fhi_json_quantiles(j, "stretch_lost_m", c->stretch_lost);
  fhi_json_quantiles(j, "set_back_m", c->set_back);
  fhi_json_quantiles(j, "time_s", c->time);
  fhi_json_quantiles(j, "work_J", c->work);
  fhi_json_quantiles(j, "hand_force_N", c->pull);
  fhi_json_quantiles(j, "greatest_hand_force_N", c->greatest);
  fhi_json_quantiles(j, "crew_pull_N", c->capacity);
  fhi_json_quantiles(j, "crew_share", c->share);
}

static void put_lip(fhi_json *j, const fh_haul_chance *c) {
  fhi_json_text(j, "lip_as_it_is", c->lip_name);
  fhi_json_open(j, "lip", '[');
  for (int i = 0; i < c->lip_count; i++) {
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "name", c->lip[i].name);
    fhi_json_number(j, "crew", c->lip[i].crew);
    fhi_json_number(j, "crew_for_minutes", c->lip[i].lasts);
    fhi_json_quantiles(j, "hand_force_N", c->lip[i].pull);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
}

static void put_unknowns(fhi_json *j, const fh_haul_chance *c) {
  fhi_json_open(j, "unknowns", '[');
  for (int i = 0; i < c->unknown_count; i++) {
    const fh_unknown *u = &c->unknown[i];
    fhi_json_open(j, NULL, '{');
    fhi_json_text(j, "name", u->name);
    fhi_json_text(j, "advice", fhi_say(c->language, u->advice));
    fhi_json_band(j, "range", fh_number_band(u->number));
    fhi_json_number(j, "pull_alone", u->pull_alone);
    fhi_json_number(j, "pull_total", u->pull_total);
    fhi_json_number(j, "time_alone", c->time_alone[i]);
    fhi_json_number(j, "time_total", c->time_total[i]);
    fhi_json_close(j, '}');
  }
  fhi_json_close(j, ']');
  fhi_json_open(j, "stood_at_likely", '[');
  for (int i = 0; i < c->stood_count; i++) {
    fhi_json_text(j, NULL, c->stood[i]);
  }
  fhi_json_close(j, ']');
}

fh_status fh_haul_chance_write_json(const fh_haul_chance *c, fh_out out) {
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
  put_chances(&j, c);
  put_bands(&j, c);
  put_lip(&j, c);
  fhi_json_text(&j, "words", fh_haul_chance_words(c, words, sizeof words));
  put_unknowns(&j, c);
  fhi_json_close(&j, '}');
  fhi_put(&w, "\n");
  return fhi_writer_end(&w);
}

// ---------------------------------------------------------------------------------------------------- words

static double index_of(const fh_haul_chance *c, bool time, int i) {
  return time ? c->time_total[i] : c->unknown[i].pull_total;
}

static int next_most(const fh_haul_chance *c, bool time, bool *taken) {
  int best = -1;
  for (int i = 0; i < c->unknown_count; i++) {
    best = !taken[i] && (best < 0 || index_of(c, time, i) > index_of(c, time, best)) ? i : best;
  }
  if (best >= 0) {
    taken[best] = true;
  }
  return best;
}

// "The pull at the hardest moment is open by friction at the lip (62 %), then ...". Less than 5 % is not told.
static void add_ranking(const fh_haul_chance *c, bool time, char *to, size_t size) {
  bool taken[FH_MAX_UNKNOWNS] = {false};
  char share[16];
  char name[200];
  for (int n = 0; n < 3; n++) {
    int i = next_most(c, time, taken);
    if (i < 0 || !(index_of(c, time, i) >= 0.05)) {
      break;
    }
    size_t used = strlen(to);
    const char *head = fhi_say(c->language, time            ? "What is open in the time"
                                            : isnan(c->crew) ? "What is open in the greatest pull"
                                                             : "What is open in the greatest pull over what the crew can");
    (void)fhi_name_said(name, sizeof name, c->language, c->unknown[i].name);
    (void)fhi_fixed(share, sizeof share, fmin(100.0, 100.0 * index_of(c, time, i)), 0);
    if (n == 0) {
      (void)fhi_format(to + used, size - used, "%s%s: %s %s %%", used > 0 ? " " : "", head, name, share);
    } else {
      (void)fhi_format(to + used, size - used, ", %s %s %%", name, share);
    }
  }
  size_t used = strlen(to);
  if (used > 0 && to[used - 1] == '%') {
    (void)fhi_format(to + used, size - used, ".");
  }
}

const char *fh_haul_chance_words(const fh_haul_chance *c, char *to, size_t size) {
  if (size == 0) {
    return to;
  }
  to[0] = '\0';
  if (c->unknown_count > 0 && !isnan(c->unknown[0].pull_total)) {
    add_ranking(c, false, to, size);
    add_ranking(c, true, to, size);
  }
  return to;
}
