// SPDX-License-Identifier: MIT
// How is a team's fall said in a sentence?
#include "team_words.h"

#include "draw_common.h"
#include "text.h"
#include "words.h"

#include <math.h>
#include <string.h>

const char *fhi_team_answer(const fh_team_result *team, fh_units units, fh_language language, char *to, size_t size) {
  char a[FHI_WORD];
  char b[FHI_WORD];
  char c[FHI_WORD];
  const fh_fall *f = &team->likely;
  if (f->outcome != FH_OUTCOME_SOLVED) {
    (void)fhi_copy(to, size, fhi_say(language, "No answer: the fall had not come to rest after two minutes."));
  } else if (f->arrested && f->pulled_in == 0) {
    (void)fhi_format(to, size, fhi_say(language, "At the likely values the team holds: the first one stops %s down, the nearest of the others slides %s and stays %s from the lip."),
                     fhi_show_length(a, sizeof a, f->fall, units), fhi_show_length(b, sizeof b, f->slide[1], units),
                     fhi_show_length(c, sizeof c, f->margin, units));
  } else if (f->arrested) {
    (void)fhi_format(to, size, fhi_say(language, "At the likely values the fall stops only after %d more went over the lip; the first one is then %s down."), f->pulled_in,
                     fhi_show_length(a, sizeof a, f->fall, units));
  } else {
    (void)fhi_format(to, size, fhi_say(language, "At the likely values the team does not hold: everyone is pulled in, after %s s."), fhi_fixed(a, sizeof a, f->time, 1));
  }
  return to;
}

const char *fhi_share_words(double share, fh_language language, char *to, size_t size) {
  double hundred = floor(100.0 * share + 0.5);
  const char *format = "%d of 100";
  if (!(share >= 0.0 && share <= 1.0)) {
    (void)fhi_format(to, size, "?");
    return to;
  }
  if (hundred > 99.5 && share < 1.0) {
    hundred = 99.0;
    format = "over %d of 100";
  } else if (hundred < 0.5 && share > 0.0) {
    hundred = 1.0;
    format = "under %d of 100";
  }
  (void)fhi_format(to, size, fhi_say(language, format), (int)hundred);
  return to;
}

const char *fhi_thirds_words(const fh_team_chance *chance, fh_language language, char *to, size_t size) {
  char a[FHI_WORD];
  char b[FHI_WORD];
  char f[FHI_WORD];
  char g[FHI_WORD];
  const fh_third *s = &chance->slippery;
  const fh_third *r = &chance->grippy;
  to[0] = '\0';
  if (s->samples > 0 && r->samples > 0) {
    (void)fhi_format(to, size, fhi_say(language, " The snow decides: nobody else over the lip in %s where those who brake find least (friction up to %s), in %s where they find most (from %s)."),
                     fhi_share_words((double)s->nobody_else_in / s->samples, language, a, sizeof a), fhi_fixed(f, sizeof f, s->brake.hi, 2),
                     fhi_share_words((double)r->nobody_else_in / r->samples, language, b, sizeof b), fhi_fixed(g, sizeof g, r->brake.lo, 2));
  }
  return to;
}

const char *fhi_team_chance_words(const fh_team_result *team, fh_language language, char *to, size_t size) {
  char a[FHI_WORD];
  char b[FHI_WORD];
  to[0] = '\0';
  if (team->has_chance && team->chance.samples > 0) {
    double n = team->chance.samples;
    (void)fhi_format(to, size, fhi_say(language, "Over the ranges given (%d falls) the fall is stopped in %s, and with nobody else over the lip in %s."), team->chance.samples,
                     fhi_share_words(team->chance.arrested / n, language, a, sizeof a), fhi_share_words(team->chance.nobody_else_in / n, language, b, sizeof b));
    size_t used = strlen(to);
    (void)fhi_thirds_words(&team->chance, language, to + used, size - used);
  }
  return to;
}

const char *fhi_team_edge_words(const fh_scene *scene) {
  bool other = scene->lip_surface >= 0 && scene->team.edge != scene->lip_surface;
  return other ? fhi_say(scene->language, "The fall goes over a bare edge: what the raise runs over is laid later.") : "";
}

const char *fhi_team_title(const fh_scene *scene) {
  return scene->title[0] != '\0' ? scene->title : fhi_say(scene->language, "Rope team");
}
