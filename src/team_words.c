// SPDX-License-Identifier: MIT
// How is a team's fall said in a sentence?
#include "team_words.h"

#include "draw_common.h"
#include "text.h"

#include <math.h>

const char *fhi_team_answer(const fh_team_result *team, fh_units units, char *to, size_t size) {
  char a[FHI_WORD];
  char b[FHI_WORD];
  char c[FHI_WORD];
  const fh_fall *f = &team->likely;
  if (f->outcome != FH_OUTCOME_SOLVED) {
    (void)fhi_format(to, size, "No answer: the fall had not come to rest after two minutes.");
  } else if (f->arrested && f->pulled_in == 0) {
    (void)fhi_format(to, size, "At the likely values the team holds: the first one stops %s down, the nearest of the others slides %s and stays %s from the lip.",
                     fhi_show_length(a, sizeof a, f->fall, units), fhi_show_length(b, sizeof b, f->slide[1], units),
                     fhi_show_length(c, sizeof c, f->margin, units));
  } else if (f->arrested) {
    (void)fhi_format(to, size, "At the likely values the fall stops only after %d more went over the lip; the first one is then %s down.", f->pulled_in,
                     fhi_show_length(a, sizeof a, f->fall, units));
  } else {
    (void)fhi_format(to, size, "At the likely values the team does not hold: everyone is pulled in, after %s s.", fhi_fixed(a, sizeof a, f->time, 1));
  }
  return to;
}

const char *fhi_share_words(double share, char *to, size_t size) {
  double hundred = floor(100.0 * share + 0.5);
  const char *about = "";
  if (!(share >= 0.0 && share <= 1.0)) {
    (void)fhi_format(to, size, "?");
    return to;
  }
  if (hundred > 99.5 && share < 1.0) {
    hundred = 99.0;
    about = "over ";
  } else if (hundred < 0.5 && share > 0.0) {
    hundred = 1.0;
    about = "under ";
  }
  (void)fhi_format(to, size, "%s%d of 100", about, (int)hundred);
  return to;
}

const char *fhi_team_chance_words(const fh_team_result *team, char *to, size_t size) {
  char a[FHI_WORD];
  char b[FHI_WORD];
  to[0] = '\0';
  if (team->has_chance && team->chance.samples > 0) {
    double n = team->chance.samples;
    (void)fhi_format(to, size, "Over the ranges given (%d falls) the fall is stopped in %s, and with nobody else over the lip in %s.", team->chance.samples,
                     fhi_share_words(team->chance.arrested / n, a, sizeof a), fhi_share_words(team->chance.nobody_else_in / n, b, sizeof b));
  }
  return to;
}
