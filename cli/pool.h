// SPDX-License-Identifier: MIT
// Samples counted on several threads: whoever is free takes the next blocks; the counts add up to the same.
#ifndef CLI_POOL_H
#define CLI_POOL_H

#include "firnhaul.h"

/// Work in blocks, and parts that count some of them.
typedef struct cli_pool {
  const void *work;
  int64_t blocks, bite;  ///< in all; that a thread takes at a time
  fh_status (*create)(const void *work, void **part);
  fh_status (*run)(const void *work, void *part, int64_t first, int64_t count);
  void (*add)(void *to, const void *from);
  void (*destroy)(void *part);
} cli_pool;

/// @param part all counts, the caller's to destroy; NULL when it failed or was stopped
/// @param stopped Ctrl-C was pressed  @return FH_OK or the first failure
fh_status cli_pool_run(const cli_pool *pool, int threads, void **part, bool *stopped);

#endif
