// SPDX-License-Identifier: MIT
// The one place where the core asks for memory, so that tests can make any single request fail.
#include "memory.h"

#include <stdint.h>
#include <stdlib.h>

#ifdef FHI_FAULT
static long fault_at;
static long fault_seen;

void fhi_fault_after(long n) {
  fault_at = n;
  fault_seen = 0;
}

long fhi_fault_count(void) {
  return fault_seen;
}

static int words_missed;
static const char *words_missed_last = "";

void fhi_words_miss(const char *english) {
  words_missed++;
  words_missed_last = english;
}

int fhi_words_missed(const char **last) {
  int n = words_missed;
  *last = words_missed_last;
  words_missed = 0;
  return n;
}

static int refused(void) {
  fault_seen++;
  return fault_at > 0 && fault_seen >= fault_at;
}
#else
static int refused(void) {
  return 0;
}
#endif

void *fhi_alloc(size_t count, size_t size) {
  if (refused()) {
    return NULL;
  }
  return calloc(count, size);  // calloc checks the product
}

void *fhi_realloc(void *block, size_t count, size_t size) {
  if (refused() || (size != 0 && count > SIZE_MAX / size)) {
    return NULL;
  }
  return realloc(block, count * size);
}

void fhi_free(void *block) {
  free(block);
}
