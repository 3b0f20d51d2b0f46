// SPDX-License-Identifier: MIT
// Who counts which blocks? Whoever is free takes the next ones.
#define _POSIX_C_SOURCE 200809L
#include "pool.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stddef.h>

#include "progress.h"

enum { MOST_THREADS = 256 };

typedef struct shared {
  const cli_pool *pool;
  _Atomic int64_t next;
  _Atomic int trouble;  // fh_status of a failure
  _Atomic bool stop;
} shared;

typedef struct worker {
  shared *all;
  void *part;
  bool tells;
  pthread_t thread;
  bool started;
} worker;

static void *count(void *user) {
  worker *w = user;
  shared *all = w->all;
  const cli_pool *p = all->pool;
  for (;;) {
    int64_t first = atomic_fetch_add(&all->next, p->bite);
    if (first >= p->blocks || all->stop || all->trouble != (int)FH_OK) {
      return NULL;
    }
    fh_status status = p->run(p->work, w->part, first, p->bite);
    if (status != FH_OK) {
      all->trouble = (int)status;
    }
    if (w->tells && !cli_progress(NULL, (double)(first + p->bite) / (double)p->blocks)) {
      all->stop = true;
    }
  }
}

static void run_all(worker *workers, int n) {
  // The first worker is this thread: where no thread can be had it does all of it.
  cli_progress_start();
  for (int i = 1; i < n; i++) {
    workers[i].started = pthread_create(&workers[i].thread, NULL, count, &workers[i]) == 0;
  }
  workers[0].tells = true;
  (void)count(&workers[0]);
  for (int i = 1; i < n; i++) {
    if (workers[i].started) {
      (void)pthread_join(workers[i].thread, NULL);
      workers[0].all->pool->add(workers[0].part, workers[i].part);
    }
  }
  cli_progress_end();
}

fh_status cli_pool_run(const cli_pool *pool, int threads, void **part, bool *stopped) {
  worker workers[MOST_THREADS] = {{NULL, NULL, false, 0, false}};
  shared all = {.pool = pool, .next = 0};
  int64_t most = pool->blocks / pool->bite + 1;
  int n = threads < 1 ? 1 : threads > MOST_THREADS ? MOST_THREADS : threads;
  n = n < most ? n : (int)most;
  fh_status status = FH_OK;
  for (int i = 0; i < n && status == FH_OK; i++) {
    workers[i].all = &all;
    status = pool->create(pool->work, &workers[i].part);
  }
  if (status == FH_OK) {
    run_all(workers, n);
    status = (fh_status)all.trouble;
  }
  *stopped = all.stop;
  *part = NULL;
  if (status == FH_OK && !all.stop) {
    *part = workers[0].part;
    workers[0].part = NULL;
  }
  for (int i = 0; i < n; i++) {
    if (workers[i].part != NULL) {
      pool->destroy(workers[i].part);
    }
  }
  return status;
}
