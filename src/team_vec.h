// SPDX-License-Identifier: MIT
// Two or four doubles worked on at once (as many as the processor's registers hold), by the vector types that gcc and clang
// share. Every lane gets the bits that plain C would give it: only additions, products, quotients, square roots,
// comparisons and choices. Comparisons have names, since gcc for plain SSE2 would take `a > b` apart.
#ifndef FHI_TEAM_VEC_H
#define FHI_TEAM_VEC_H

#include <math.h>
#include <stdint.h>

#if defined(__AVX__)
enum { FHI_WIDE = 4 };
#else
enum { FHI_WIDE = 2 };
#endif

typedef double fhi_vec __attribute__((vector_size(8 * FHI_WIDE)));
typedef int64_t fhi_mask __attribute__((vector_size(8 * FHI_WIDE)));
// The same in memory, where doubles stand at any multiple of eight bytes.
typedef double fhi_vec_at __attribute__((vector_size(8 * FHI_WIDE), aligned(8), may_alias));

#define FHI_LOAD(p)     ((fhi_vec) * (const fhi_vec_at *)(p))
#define FHI_STORE(p, x) (*(fhi_vec_at *)(p) = (x))

#if defined(__AVX__)
#define FHI_ALL(x)  ((fhi_vec){(x), (x), (x), (x)})
#define FHI_ROOT(x) ((fhi_vec){sqrt((x)[0]), sqrt((x)[1]), sqrt((x)[2]), sqrt((x)[3])})
#define FHI_ANY(m)  (((m)[0] | (m)[1] | (m)[2] | (m)[3]) != 0)
#else
#define FHI_ALL(x)  ((fhi_vec){(x), (x)})
#define FHI_ROOT(x) ((fhi_vec){sqrt((x)[0]), sqrt((x)[1])})
#define FHI_ANY(m)  (((m)[0] | (m)[1]) != 0)
#endif

#if defined(__SSE2__) && !defined(__AVX__)
#include <emmintrin.h>
#undef FHI_ROOT
#define FHI_ROOT(x)       ((fhi_vec)_mm_sqrt_pd(x))
#define FHI_ABOVE(a, b)   ((fhi_mask)_mm_cmpgt_pd((a), (b)))
#define FHI_REACHES(a, b) ((fhi_mask)_mm_cmpge_pd((a), (b)))
#else
#define FHI_ABOVE(a, b)   ((fhi_mask)((a) > (b)))
#define FHI_REACHES(a, b) ((fhi_mask)((a) >= (b)))
#endif
#define FHI_PICK(m, a, b) fhi_pick((m), (a), (b))
#define FHI_MAX(a, b)     fhi_max((a), (b))
#define FHI_MIN(a, b)     fhi_min((a), (b))

static inline fhi_vec fhi_pick(fhi_mask m, fhi_vec a, fhi_vec b) {
  return (fhi_vec)((m & (fhi_mask)a) | (~m & (fhi_mask)b));
}

static inline fhi_vec fhi_max(fhi_vec a, fhi_vec b) {
  return fhi_pick(FHI_ABOVE(a, b), a, b);
}

static inline fhi_vec fhi_min(fhi_vec a, fhi_vec b) {
  return fhi_pick(FHI_ABOVE(b, a), a, b);
}

#endif
