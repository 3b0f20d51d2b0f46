// SPDX-License-Identifier: MIT
// Who works out which design? Whoever is free takes the next one; each writes to its own place only.
#include "team_threads.h"

#include <pthread.h>
#include <stdatomic.h>

#include "progress.h"

enum { MOST_THREADS = 256 };

typedef struct pool {
  const fh_scene *scene;
  const fh_gear *gear;
  fh_designs *designs;
  _Atomic int next;     // classes of raises first, then designs
  _Atomic int trouble;  // fh_status of a failure
  _Atomic bool stop;
} pool;

// So that no long one is left for the end: raises come first, for they differ in cost far more than falls do, then the designs
// from the last one on, for larger teams and wider spacings stand behind smaller ones and fall for longer.
static fh_status work_one(pool *p, int index) {
  int classes = p->designs->class_count;
  return index < classes ? fh_raise_class_run(p->scene, p->gear, p->designs, index)
                         : fh_design_run(p->scene, p->gear, p->designs, p->designs->count - 1 - (index - classes));
}

static void work(pool *p, bool tells) {
  int count = p->designs->count + p->designs->class_count;
  for (;;) {
    int index = atomic_fetch_add(&p->next, 1);
    if (index >= count || p->stop || p->trouble != (int)FH_OK) {
      return;
    }
    fh_status status = work_one(p, index);
    if (status != FH_OK) {
      p->trouble = (int)status;
    }
    if (tells && !cli_progress(NULL, (double)index / count)) {
      p->stop = true;
    }
  }
}

static void *helping_hand(void *user) {
  work(user, false);
  return NULL;
}

fh_status cli_designs_run(const fh_scene *scene, const fh_gear *gear, fh_designs *designs, int threads, bool *stopped) {
  pool p = {.scene = scene, .gear = gear, .designs = designs};
  pthread_t thread[MOST_THREADS];
  bool started[MOST_THREADS] = {false};
  threads = threads > MOST_THREADS ? MOST_THREADS : threads;
  cli_progress_start();
  for (int i = 1; i < threads; i++) {
    started[i] = pthread_create(&thread[i], NULL, helping_hand, &p) == 0;
  }
  work(&p, true);
  for (int i = 1; i < threads; i++) {
    if (started[i]) {
      (void)pthread_join(thread[i], NULL);
    }
  }
  cli_progress_end();
  *stopped = p.stop;
  return (fh_status)p.trouble;
}
