// SPDX-License-Identifier: MIT
// firnhaul: how likely it is to work, given what is not known, and which unknown matters most (model.md section 12).
// Same rules as firnhaul.h: SI units inside, unset numbers are NaN, the core never prints or exits.
//
// A chance here is the share of the given ranges in which it works. It is as good as the ranges, no better.
#ifndef FIRNHAUL_CHANCE_H
#define FIRNHAUL_CHANCE_H

#include "firnhaul.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { FH_MAX_UNKNOWNS = 32 };

/// One thing that is not known, and how much of the spread of a result it makes (Sobol's indices).
typedef struct fh_unknown {
  char name[64];        ///< "friction at the lip", "carabiner: efficiency", "guide: footing"
  char advice[96];      ///< what to look at: "know your lip"
  fh_number number;     ///< [SI] its range
  double pull_alone;    ///< [1] first-order index of the pull over what the crew can pull; NaN when not asked for, or without a crew
  double pull_total;    ///< [1] total index: with all that it does together with others
  double margin_alone;  ///< [1] the same of the least margin of all limits but the crew
  double margin_total;  ///< [1]
} fh_unknown;

typedef struct fh_limit_chance {
  char element[48];     ///< as in fh_limit
  double holds;         ///< [1] chance
} fh_limit_chance;

typedef struct fh_chance_opts {
  int64_t samples;      ///< 1,024 to 4e9, rounded up to a multiple of 1,024
  uint64_t seed;
  bool why;             ///< work out which unknowns matter
} fh_chance_opts;

typedef struct fh_chance {
  fh_outcome outcome;     ///< as check's; when not SOLVED the chances are 0 and the rest NaN
  int64_t samples;
  uint64_t seed;
  double crew;            ///< [1] that the crew can pull it for a short effort; NaN without a crew
  double lasts;           ///< [1] that they can for minutes
  double limits;          ///< [1] that every limit but the crew holds, raising and holding
  double both;            ///< [1] crew (where there is one) and limits
  double error;           ///< [1] standard error of `both` from 16 separate scrambles of the points
  fh_band pull;           ///< [N] 5 %, 50 % and 95 % of the samples, each to one part in 500
  fh_band capacity;       ///< [N] of the crew, short effort
  fh_band share;          ///< [1] pull over capacity
  fh_band margin;         ///< [1] least of all limits but the crew; above 20 counts as 20
  fh_limit_chance limit[FH_MAX_LIMITS];
  int limit_count;
  fh_unknown unknown[FH_MAX_UNKNOWNS];
  int unknown_count;
  bool shared;            ///< there were more unknowns than FH_MAX_UNKNOWNS: the last ones move together
} fh_chance;

fh_chance_opts fh_chance_opts_default(void);  ///< @return 16,384 samples, seed 1, without why

/// Samples what is not known in a scene and counts. The same numbers on every machine and for any number of threads.
///
/// What shares a cause moves together: all ropes at the lip have one friction, all pieces of one item one efficiency, all
/// people in one posture one strength. A distribution counts as given; a range is equally likely all over. Forces while holding are
/// the greatest that friction leaves open.
/// @return FH_OK with the outcome in the result; FH_ERR_ARG; FH_ERR_MEMORY
/// Checked by tests/unit/test_chance.c; indices by Ishigami's function in tests/unit/test_sobol.c.
fh_status fh_chance_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts, fh_chance **out);
void fh_chance_destroy(fh_chance *chance);

/// The same in parts, so that threads or machines can share the work: counts add up in any order to the same result.
typedef struct fh_chance_work fh_chance_work;
typedef struct fh_chance_part fh_chance_part;
/// Prepares; constant afterwards. @return as fh_chance_create, FH_ERR_ARG also when the rig cannot be sampled (then fh_chance_create says why)
fh_status fh_chance_work_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts, fh_chance_work **out);
void fh_chance_work_destroy(fh_chance_work *work);
/// Counts of one thread: flat in the number of samples.
fh_status fh_chance_part_create(const fh_chance_work *work, fh_chance_part **out);
void fh_chance_part_destroy(fh_chance_part *part);
int64_t fh_chance_work_blocks(const fh_chance_work *work);  ///< @return blocks of 64 samples in all
/// Counts blocks first to first + count - 1.
void fh_chance_part_run(const fh_chance_work *work, fh_chance_part *part, int64_t first, int64_t count);
void fh_chance_part_add(fh_chance_part *to, const fh_chance_part *from);
/// Turns counts into chances. @return FH_OK or FH_ERR_MEMORY
fh_status fh_chance_finish(const fh_chance_work *work, const fh_chance_part *all, fh_chance **out);

/// Which unknowns matter, in words, most important first: "Know your lip first: it makes 62 % of what is open in the pull."
/// @param to size bytes @return to
const char *fh_chance_words(const fh_chance *chance, char *to, size_t size);

fh_status fh_chance_write_json(const fh_chance *chance, fh_out out);  ///< one object
/// How much each unknown matters, as bars.
fh_status fh_draw_chance(const fh_scene *scene, const fh_chance *chance, fh_out out);

#ifdef __cplusplus
}
#endif
#endif
