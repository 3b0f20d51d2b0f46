// SPDX-License-Identifier: MIT
// Two, four or eight doubles worked on at once: FHI_WIDE of them, by the vector types that gcc and clang share. Every lane gets
// the bits that plain C would give it: only additions, products, quotients, square roots, comparisons and choices. The
// processor's own instructions stand where compilers would take these apart; all of them choose as `a > b ? a : b` does.
#ifndef FHI_TEAM_VEC_H
#define FHI_TEAM_VEC_H

#include <math.h>
#include <stdint.h>

#if FHI_WIDE == 8 || FHI_WIDE == 4
#include <immintrin.h>
#elif defined(__SSE2__)
#include <emmintrin.h>
#elif defined(__wasm_simd128__)
#include <wasm_simd128.h>
#endif

typedef double fhi_vec __attribute__((vector_size(8 * FHI_WIDE)));
// The same in memory, where doubles stand at any multiple of eight bytes.
typedef double fhi_vec_at __attribute__((vector_size(8 * FHI_WIDE), aligned(8), may_alias));

#define FHI_LOAD(p)     ((fhi_vec) * (const fhi_vec_at *)(p))
#define FHI_STORE(p, x) (*(fhi_vec_at *)(p) = (x))

#if FHI_WIDE == 8
typedef unsigned fhi_mask;
#define FHI_ALL(x)        ((fhi_vec)_mm512_set1_pd(x))
#define FHI_ROOT(x)       ((fhi_vec)_mm512_sqrt_pd(x))
#define FHI_ABOVE(a, b)   ((fhi_mask)_mm512_cmp_pd_mask((a), (b), _CMP_GT_OQ))
#define FHI_REACHES(a, b) ((fhi_mask)_mm512_cmp_pd_mask((a), (b), _CMP_GE_OQ))
#define FHI_PICK(m, a, b) ((fhi_vec)_mm512_mask_blend_pd((__mmask8)(m), (b), (a)))
#define FHI_MAX(a, b)     ((fhi_vec)_mm512_max_pd((a), (b)))
#define FHI_MIN(a, b)     ((fhi_vec)_mm512_min_pd((a), (b)))
#define FHI_NOT(m)        (~(m) & 255U)
#define FHI_LANES(m)      (m)
#else
typedef int64_t fhi_mask __attribute__((vector_size(8 * FHI_WIDE)));
#define FHI_NOT(m) (~(m))
#endif

#if FHI_WIDE == 4
#define FHI_ALL(x)        ((fhi_vec)_mm256_set1_pd(x))
#define FHI_ROOT(x)       ((fhi_vec)_mm256_sqrt_pd(x))
#define FHI_ABOVE(a, b)   ((fhi_mask)_mm256_cmp_pd((a), (b), _CMP_GT_OQ))
#define FHI_REACHES(a, b) ((fhi_mask)_mm256_cmp_pd((a), (b), _CMP_GE_OQ))
#define FHI_PICK(m, a, b) ((fhi_vec)_mm256_blendv_pd((b), (a), (__m256d)(m)))
#define FHI_MAX(a, b)     ((fhi_vec)_mm256_max_pd((a), (b)))
#define FHI_MIN(a, b)     ((fhi_vec)_mm256_min_pd((a), (b)))
#define FHI_LANES(m)      ((unsigned)_mm256_movemask_pd((__m256d)(m)))
#endif

#if FHI_WIDE == 2
#define FHI_ALL(x)        ((fhi_vec){(x), (x)})
#define FHI_PICK(m, a, b) ((fhi_vec)(((m) & (fhi_mask)(a)) | (~(m) & (fhi_mask)(b))))
#if defined(__SSE2__)
#define FHI_ROOT(x)       ((fhi_vec)_mm_sqrt_pd(x))
#define FHI_ABOVE(a, b)   ((fhi_mask)_mm_cmpgt_pd((a), (b)))
#define FHI_REACHES(a, b) ((fhi_mask)_mm_cmpge_pd((a), (b)))
#define FHI_MAX(a, b)     ((fhi_vec)_mm_max_pd((a), (b)))
#define FHI_MIN(a, b)     ((fhi_vec)_mm_min_pd((a), (b)))
#define FHI_LANES(m)      ((unsigned)_mm_movemask_pd((__m128d)(m)))
#elif defined(__wasm_simd128__)
// pmax(b, a) is b < a ? a : b.
#define FHI_ROOT(x)       ((fhi_vec)wasm_f64x2_sqrt((v128_t)(x)))
#define FHI_ABOVE(a, b)   ((fhi_mask)((a) > (b)))
#define FHI_REACHES(a, b) ((fhi_mask)((a) >= (b)))
#define FHI_MAX(a, b)     ((fhi_vec)wasm_f64x2_pmax((v128_t)(b), (v128_t)(a)))
#define FHI_MIN(a, b)     ((fhi_vec)wasm_f64x2_pmin((v128_t)(b), (v128_t)(a)))
#define FHI_LANES(m)      ((unsigned)wasm_i64x2_bitmask((v128_t)(m)))
#else
#define FHI_ROOT(x)       ((fhi_vec){sqrt((x)[0]), sqrt((x)[1])})
#define FHI_ABOVE(a, b)   ((fhi_mask)((a) > (b)))
#define FHI_REACHES(a, b) ((fhi_mask)((a) >= (b)))
#define FHI_MAX(a, b)     fhi_max((a), (b))
#define FHI_MIN(a, b)     fhi_min((a), (b))
#define FHI_LANES(m)      ((unsigned)(((m)[0] & 1) | ((m)[1] & 2)))

static inline fhi_vec fhi_max(fhi_vec a, fhi_vec b) {
  return FHI_PICK(FHI_ABOVE(a, b), a, b);
}

static inline fhi_vec fhi_min(fhi_vec a, fhi_vec b) {
  return FHI_PICK(FHI_ABOVE(b, a), a, b);
}
#endif
#endif

#endif
