// SPDX-License-Identifier: MIT
// A small seeded generator for tests: the same cases on every machine.
#ifndef REF_RNG_H
#define REF_RNG_H

#include <stdbool.h>
#include <stdint.h>

typedef struct ref_rng {
  uint64_t state;
} ref_rng;

ref_rng ref_rng_seed(uint64_t seed);
uint64_t ref_rng_next(ref_rng *r);
double ref_rng_unit(ref_rng *r);                           // [1] 0 to below 1
double ref_rng_between(ref_rng *r, double lo, double hi);  // [unit of its ends]
int ref_rng_pick(ref_rng *r, int count);                   // 0 to count - 1; 0 for an empty choice
bool ref_rng_chance(ref_rng *r, double p);                 // true with probability p [1]

#endif
