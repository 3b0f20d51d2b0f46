// SPDX-License-Identifier: MIT
// The one place where the core asks for memory.
#ifndef FHI_MEMORY_H
#define FHI_MEMORY_H

#include <stddef.h>

/// Zeroed memory for `count` things of `size` bytes. @return NULL when there is none, or when the product overflows
void *fhi_alloc(size_t count, size_t size);

/// Grows or shrinks to `count` things of `size` bytes; new bytes are not zeroed. @return NULL on failure, the old block then stays valid
void *fhi_realloc(void *block, size_t count, size_t size);

/// Gives memory back; NULL is fine.
void fhi_free(void *block);

#ifdef FHI_FAULT
/// Tests only: the n-th allocation from now on (1 = the next) fails, and all after it; 0 switches this off.
void fhi_fault_after(long n);
/// Tests only: allocations asked for since the last fhi_fault_after. @return their number
long fhi_fault_count(void);
/// Tests only: a phrase that has no row in the table of words (words.c).
void fhi_words_miss(const char *english);
/// Tests only: how many since the last call. @param last the last one
int fhi_words_missed(const char **last);
#endif

#endif
