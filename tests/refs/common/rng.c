// SPDX-License-Identifier: MIT
// Which random case comes next? SplitMix64 (Steele, Lea, Flood 2014): a counter and a mixing step; good enough to
// spread test cases, and short enough to be the same everywhere.
#include "rng.h"

ref_rng ref_rng_seed(uint64_t seed) {
  return (ref_rng){.state = seed};
}

uint64_t ref_rng_next(ref_rng *r) {
  r->state += 0x9e3779b97f4a7c15u;
  uint64_t z = r->state;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

double ref_rng_unit(ref_rng *r) {
  return (double)(ref_rng_next(r) >> 11) * 0x1p-53;
}

double ref_rng_between(ref_rng *r, double lo, double hi) {
  return lo + (hi - lo) * ref_rng_unit(r);
}

int ref_rng_pick(ref_rng *r, int count) {
  return count < 1 ? 0 : (int)(ref_rng_next(r) % (uint64_t)count);
}

bool ref_rng_chance(ref_rng *r, double p) {
  return ref_rng_unit(r) < p;
}
