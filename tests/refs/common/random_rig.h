// SPDX-License-Identifier: MIT
// Random rigs from a seed: direct lines and drop loops with turns, blocks on hitches on any strand, cords, further ropes,
// tended captures and slack lines put on in any order; some are changed at random afterwards and so are mostly unsound.
#ifndef REF_RANDOM_RIG_H
#define REF_RANDOM_RIG_H

#include "build.h"
#include "rng.h"

typedef struct ref_wish {
  int most_steps;  ///< things put on behind the base, 0 to 6
  double spoil;    ///< [1] share of rigs changed at random
  double tended;   ///< [1] chance of a tended capture
  double no_loss;  ///< [1] chance that a bend is without friction
  bool lossless;   ///< no bend has friction, nor the lip
} ref_wish;

ref_wish ref_wish_default(void);

/// A scene with a random rig. Frees nothing: the caller does, with free(). @return NULL when there is no memory
fh_scene *ref_random_make(uint64_t seed, const ref_items *items, const ref_wish *wish);

#endif
