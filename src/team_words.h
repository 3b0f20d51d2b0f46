// SPDX-License-Identifier: MIT
// How a team's fall is said in words, for figures and reports.
#ifndef FHI_TEAM_WORDS_H
#define FHI_TEAM_WORDS_H

#include "firnhaul_team.h"

/// "Held." or "Not held." with what happened, at the likely values. @return to
const char *fhi_team_answer(const fh_team_result *team, fh_units units, fh_language language, char *to, size_t size);
/// What the samples say, in one sentence; "" without samples. @return to
const char *fhi_team_chance_words(const fh_team_result *team, fh_language language, char *to, size_t size);
/// The same for the thirds of the falls with the least and the most friction, begun with a blank; "" without. @return to
const char *fhi_thirds_words(const fh_team_chance *chance, fh_language language, char *to, size_t size);
/// That the fall goes over the bare edge, where the scene's own is padded; else "".
const char *fhi_team_edge_words(const fh_scene *scene);
/// The team's title where the scene has none.
const char *fhi_team_title(const fh_scene *scene);
/// A share as "93 of 100": never 0 or 100 unless the count says so for all samples. @return to
const char *fhi_share_words(double share, fh_language language, char *to, size_t size);

#endif
