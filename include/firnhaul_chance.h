// SPDX-License-Identifier: MIT
// firnhaul: how likely it is to work, given what is not known, and which unknown matters most (model.md section 12).
// Same rules as firnhaul.h: SI units inside, unset numbers are NaN, the core never prints or exits.
//
// A chance here is the share of the given ranges in which it works. It is as good as the ranges, no better.
#ifndef FIRNHAUL_CHANCE_H
#define FIRNHAUL_CHANCE_H

#include "firnhaul_rescue.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { FH_MAX_UNKNOWNS = 32, FH_MAX_STOOD = 32 };

/// One thing that is not known, and how much of the spread of a result it makes (Sobol's indices).
typedef struct fh_unknown {
  char name[64];        ///< "friction at the lip", "carabiner: efficiency", "guide: footing"
  char advice[96];      ///< what to look at: "know your lip"
  fh_number number;     ///< [SI] its range
  double pull_alone;    ///< [1] first-order index of the pull over what the crew can pull; NaN when not asked for, or without a crew
  double pull_total;    ///< [1] total index: with all that it does together with others
  double margin_alone;  ///< [1] the same of the least margin of all limits but the crew
  double margin_total;  ///< [1]
  double works_alone;   ///< [1] the same of whether all of it goes well: crew (where there is one), limits and rope, as in fh_chance.both
  double works_total;   ///< [1]
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
  double rope;            ///< [1] that every rope of stated length reaches
  double works;           ///< [1] 0: check rules the rig out for brake knots that jam or for want of room for a stroke, at likely values; else 1
  double both;            ///< [1] all of it: crew (where there is one), limits, rope, and works
  double error;           ///< [1] standard error of `both` from 16 separate scrambles of the points
  fh_band pull;           ///< [N] 5 %, 50 % and 95 % of the samples, each to one part in 500
  fh_band capacity;       ///< [N] of the crew, short effort
  fh_band share;          ///< [1] pull over capacity
  fh_band margin;         ///< [1] least of all limits but the crew; above 20 counts as 20
  fh_limit_chance limit[FH_MAX_LIMITS];
  int limit_count;
  fh_unknown unknown[FH_MAX_UNKNOWNS];
  int unknown_count;
  bool shared;            ///< there were more unknowns than FH_MAX_UNKNOWNS: the further ones stand at their likely value
  char stood[FH_MAX_STOOD][64];  ///< what is open and stood at its likely value, by name
  int stood_count;
  fh_language language;   ///< of words: the scene's
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

// ---------------------------------------------------------------------------------------------------- the raise in time

/// Chances of one way over the edge.
typedef struct fh_lip_chance {
  const char *name;       ///< as in fh_lip_case
  double crew;            ///< [1] that the crew can pull it for a short effort; NaN without a crew
  double lasts;           ///< [1] for minutes
  fh_band pull;           ///< [N] infinite: it jams
} fh_lip_chance;

/// The raise in time over the ranges given. Bands are 5 %, 50 % and 95 % of the samples in which the load reaches the lip.
typedef struct fh_haul_chance {
  fh_outcome outcome;     ///< as haul's; when not SOLVED the chances are 0 and the rest NaN
  int64_t samples;
  uint64_t seed;
  double works;           ///< [1] that the load reaches the lip at all
  double crew;            ///< [1] that the crew can do the whole raise for a short effort, over the lip as it is; NaN without a crew
  double lasts;           ///< [1] that it is no more than they keep up for minutes
  double crew_to_lip;     ///< [1] as `crew`, up to the lip only
  double lasts_to_lip;    ///< [1] as `lasts`, up to the lip only
  double rope;            ///< [1] that every rope of stated length is long enough
  double limits;          ///< [1] that every limit but the crew holds, raising, holding, and over the lip as it is
  double all;             ///< [1] works, crew (where there is one), rope and limits
  double error;           ///< [1] standard error of `all` from 16 separate scrambles of the points
  fh_band strokes;        ///< [1]
  fh_band resets;         ///< [1]
  fh_band rope_pulled;    ///< [m]
  fh_band stretch_lost;   ///< [m]
  fh_band set_back;       ///< [m] in all
  fh_band time;           ///< [s]
  fh_band work;           ///< [J] by the hand
  fh_band pull;           ///< [N] while the load rises, up to the lip
  fh_band greatest;       ///< [N] pull at the hardest moment, over the lip as it is; infinite: it jams
  fh_band capacity;       ///< [N] of the crew, short effort
  fh_band share;          ///< [1] greatest pull over capacity
  const char *lip_name;   ///< the way that counts as the lip as it is
  fh_lip_chance lip[FH_MAX_LIP_CASES];
  int lip_count;
  fh_unknown unknown[FH_MAX_UNKNOWNS];  ///< pull_alone, pull_total: of the greatest pull over what the crew can; margin_*, works_*: NaN
  double time_alone[FH_MAX_UNKNOWNS];   ///< [1] first-order index of the time; NaN when not asked for
  double time_total[FH_MAX_UNKNOWNS];   ///< [1] total index of the time
  int unknown_count;
  char stood[FH_MAX_STOOD][64];         ///< what is open and stood at its likely value, by name
  int stood_count;
  fh_language language;                 ///< of words: the scene's
} fh_haul_chance;

fh_chance_opts fh_haul_chance_opts_default(void);  ///< @return 4,096 samples, seed 1, without why

/// Runs the raise in time in very many settled scenes. When backup knots are tied is settled beforehand, by the ranges, as haul tells it.
/// Same rules as fh_chance_create. @return FH_OK with the outcome in the result; FH_ERR_ARG; FH_ERR_MEMORY
/// Checked by tests/unit/test_haul_chance.c: closed forms, and fh_haul_create in each settled scene.
fh_status fh_haul_chance_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts, fh_haul_chance **out);
void fh_haul_chance_destroy(fh_haul_chance *chance);

/// The same in parts, as fh_chance_work. The gear has to outlive the work.
typedef struct fh_haul_chance_work fh_haul_chance_work;
typedef struct fh_haul_chance_part fh_haul_chance_part;
fh_status fh_haul_chance_work_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts,
                                     fh_haul_chance_work **out);
void fh_haul_chance_work_destroy(fh_haul_chance_work *work);
fh_status fh_haul_chance_part_create(const fh_haul_chance_work *work, fh_haul_chance_part **out);
void fh_haul_chance_part_destroy(fh_haul_chance_part *part);
int64_t fh_haul_chance_work_blocks(const fh_haul_chance_work *work);  ///< @return blocks of 64 samples in all
/// @return FH_OK or FH_ERR_MEMORY: then the part is not to be used
fh_status fh_haul_chance_part_run(const fh_haul_chance_work *work, fh_haul_chance_part *part, int64_t first, int64_t count);
void fh_haul_chance_part_add(fh_haul_chance_part *to, const fh_haul_chance_part *from);
fh_status fh_haul_chance_finish(const fh_haul_chance_work *work, const fh_haul_chance_part *all, fh_haul_chance **out);

/// Which unknowns matter, in words, as fh_chance_words. @param to size bytes @return to
const char *fh_haul_chance_words(const fh_haul_chance *chance, char *to, size_t size);
fh_status fh_haul_chance_write_json(const fh_haul_chance *chance, fh_out out);  ///< one object
/// How much each unknown matters for the greatest pull and for the time, as bars.
fh_status fh_draw_haul_chance(const fh_scene *scene, const fh_haul_chance *chance, fh_out out);

// ---------------------------------------------------------------------------------------------------- when one thing lets go

/// One element let go at one stage, over the ranges given.
typedef struct fh_loss_chance {
  double there;   ///< [1] share of the samples in which the stage comes and the element is in place
  double bears;   ///< [1] of these: the load hangs on it
  double caught;  ///< [1] of those in which it bears: something catches
  double held;    ///< [1] of those in which it bears: it is caught, and nothing of the catch is over its limit
  fh_band drop;   ///< [m] of those caught, the bite of a capture included: 5 %, 50 %, 95 %, each to one part in 64
  fh_band peak;   ///< [N] of those caught, on the rope at the load
} fh_loss_chance;

typedef struct fh_lose_chance {
  fh_outcome outcome;      ///< of the raise at likely values; losses while building are told either way
  int64_t samples;
  uint64_t seed;
  int stages, elements;    ///< as in fh_lose
  fh_loss_chance *losses;  ///< stage by stage: losses[stage * elements + element]
  double rope;             ///< [1] that every rope of stated length reaches; where it does not, losses are told as if it did
  double caught;           ///< [1] that whatever lets go, at whatever stage, is caught; stages that show an omission do not count
  double held;             ///< [1] that every catch that there is bears it
  double error;            ///< [1] standard error of `held` from 16 separate scrambles of the points
  fh_band drop;            ///< [m] of the farthest caught drop of all: 5 %, 50 %, 95 %
  fh_band peak;            ///< [N] of the hardest catch of all
  fh_unknown unknown[FH_MAX_UNKNOWNS];  ///< what was open; the indices are NaN: lose does not work them out
  int unknown_count;
  char stood[FH_MAX_STOOD][64];         ///< what is open and stood at its likely value, by name
  int stood_count;
} fh_lose_chance;

fh_chance_opts fh_lose_chance_opts_default(void);  ///< @return 512 samples, seed 1; why is not looked at

/// Lets every element of every stage go in very many settled scenes. When backup knots are tied is settled beforehand, by the ranges, as
/// lose tells it. Stages are matched by kind and number, so a deeper hole may have stages that are not told of.
/// @param opts samples 1 to 1e6, rounded up to a multiple of 256
/// @return FH_OK with the outcome in the result; FH_ERR_ARG; FH_ERR_MEMORY
/// Checked by tests/unit/test_lose_chance.c: closed forms, and fh_lose_create in each settled scene.
fh_status fh_lose_chance_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts, fh_lose_chance **out);
void fh_lose_chance_destroy(fh_lose_chance *chance);

/// The same in parts, as fh_chance_work. The gear has to outlive the work.
typedef struct fh_lose_chance_work fh_lose_chance_work;
typedef struct fh_lose_chance_part fh_lose_chance_part;
fh_status fh_lose_chance_work_create(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_chance_opts *opts,
                                     fh_lose_chance_work **out);
void fh_lose_chance_work_destroy(fh_lose_chance_work *work);
fh_status fh_lose_chance_part_create(const fh_lose_chance_work *work, fh_lose_chance_part **out);
void fh_lose_chance_part_destroy(fh_lose_chance_part *part);
int64_t fh_lose_chance_work_blocks(const fh_lose_chance_work *work);  ///< @return blocks of 16 samples in all
/// @return FH_OK or FH_ERR_MEMORY: then the part is not to be used
fh_status fh_lose_chance_part_run(const fh_lose_chance_work *work, fh_lose_chance_part *part, int64_t first, int64_t count);
void fh_lose_chance_part_add(fh_lose_chance_part *to, const fh_lose_chance_part *from);
fh_status fh_lose_chance_finish(const fh_lose_chance_work *work, const fh_lose_chance_part *all, fh_lose_chance **out);

/// @param lose of the same rig and gear: names of stages and elements
fh_status fh_lose_chance_write_json(const fh_lose *lose, const fh_lose_chance *chance, fh_out out);  ///< one object

#ifdef __cplusplus
}
#endif
#endif
