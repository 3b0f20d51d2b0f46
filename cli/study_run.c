// SPDX-License-Identifier: MIT
// Works a study out on all cores, and on all machines when MPI started it: blocks of scenes, each scene by whoever is free, rows
// written in order. What a row holds depends on its scene alone.
#define _POSIX_C_SOURCE 200809L
#include <errno.h>
#include <inttypes.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "chance.h"
#include "file.h"
#include "memory.h"
#include "progress.h"
#include "study.h"
#include "yaml.h"

enum { MOST_BLOCK = 8192, MOST_THREADS = 256 };

static const double BLOCK_TIME = 1.0;      // [s] that a block should take: what a kill can lose
static const double LONG = 600.0;          // [s] a longer study has to be wanted: --go
static const double MANY = 1e6;            // scenes

typedef struct block {
  cli_study *s;
  fh_study_work **work;  // one a thread
  int64_t first;
  int count;
  fh_study_row *rows;
  _Atomic int next, threads;
  _Atomic int trouble;   // fh_status of the first failure
  fh_diag diag;
  int64_t bad;
  pthread_mutex_t lock;
} block;

static double now(void) {
  struct timespec t;
  (void)clock_gettime(CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void fail(block *b, fh_status status, const fh_diag *diag, int64_t index) {
  (void)pthread_mutex_lock(&b->lock);
  if (b->trouble == (int)FH_OK || index < b->bad) {
    b->trouble = (int)status;
    b->diag = *diag;
    b->bad = index;
  }
  (void)pthread_mutex_unlock(&b->lock);
}

static void *work(void *user) {
  block *b = user;
  fh_study_work *mine = b->work[atomic_fetch_add(&b->threads, 1)];
  for (;;) {
    int at = atomic_fetch_add(&b->next, 1);
    if (at >= b->count || b->trouble != (int)FH_OK) {
      return NULL;
    }
    int64_t index = b->first + at;
    if (index % b->s->team.size != b->s->team.rank) {
      continue;  // another machine's
    }
    fh_diag diag = {0};
    fh_status status = fh_study_row_run(mine, index, &b->rows[at], &diag);
    if (status != FH_OK) {
      fail(b, status, &diag, index);
    }
  }
}

static void run_threads(block *b, int threads) {
  pthread_t thread[MOST_THREADS];
  bool started[MOST_THREADS] = {false};
  for (int i = 1; i < threads; i++) {
    started[i] = pthread_create(&thread[i], NULL, work, b) == 0;
  }
  (void)work(b);
  for (int i = 1; i < threads; i++) {
    if (started[i]) {
      (void)pthread_join(thread[i], NULL);
    }
  }
}

static int complain(const cli_study *s, const block *b) {
  if (b->trouble == (int)FH_ERR_ARG) {
    (void)fprintf(stderr, "%s: scene %" PRId64 ": it has no rig, accepted: a base scene with a rig, or rig: plan\n", s->o->operand, b->bad);
    return CLI_INPUT_WRONG;
  }
  return cli_study_complain(s, (fh_status)b->trouble, &b->diag);
}

// ---------------------------------------------------------------------------------------------------- words

static void say_time(char *to, size_t size, double seconds) {
  if (seconds < 120.0) {
    (void)snprintf(to, size, "%.0f s", seconds);
  } else if (seconds < 7200.0) {
    (void)snprintf(to, size, "%.0f min", seconds / 60.0);
  } else if (seconds < 172800.0) {
    (void)snprintf(to, size, "%.0f h", seconds / 3600.0);
  } else if (seconds < 730.0 * 86400.0) {
    (void)snprintf(to, size, "%.0f days", seconds / 86400.0);
  } else {
    (void)snprintf(to, size, "%.3g years", seconds / 31557600.0);
  }
}

static void show(const cli_study *s, int64_t done, double rate) {
  char left[40];
  if (s->team.rank == 0 && isatty(STDERR_FILENO)) {
    int64_t all = fh_study_count(s->study);
    say_time(left, sizeof left, rate > 0.0 ? (double)(all - done) / rate : 0.0);
    (void)fprintf(stderr, "\rscene %" PRId64 " of %" PRId64 ", %.0f %%, about %s left   ", done, all, 100.0 * (double)done / (double)all, left);
  }
}

// ---------------------------------------------------------------------------------------------------- the size

// Times a few scenes before anything is begun, and refuses what nobody can have meant.
static int weigh(cli_study *s, fh_study_work **works, int threads, int64_t done) {
  double all = (double)fh_study_count(s->study);
  fh_study_row rows[4];
  block b = {.s = s, .work = works, .first = done, .count = 4, .rows = rows, .lock = PTHREAD_MUTEX_INITIALIZER};
  if (all - (double)done <= 200.0) {
    return CLI_DONE;
  }
  cli_team alone = {0, 1}, team = s->team;
  s->team = alone;
  double start = now();
  (void)work(&b);
  double each = (now() - start) / b.count;
  s->team = team;
  if (b.trouble != (int)FH_OK) {
    return complain(s, &b);
  }
  double seconds = cli_mpi_first(each * (all - (double)done) / (threads * team.size));
  char time[40], size[40];
  say_time(time, sizeof time, seconds);
  if (fh_study_count(s->study) == INT64_MAX) {
    (void)snprintf(size, sizeof size, "over 9e18");
  } else {
    (void)snprintf(size, sizeof size, "%" PRId64, fh_study_count(s->study));
  }
  bool large = seconds > LONG || all > MANY;
  if (team.rank == 0 && (large || isatty(STDERR_FILENO))) {
    (void)fprintf(stderr, "firnhaul: %s scenes, %" PRId64 " samples each: about %s on %d threads\n", size, fh_study_samples(s->study), time, threads * team.size);
  }
  if (large && !s->o->given[CLI_GO]) {
    if (team.rank == 0) {
      (void)fprintf(stderr, "firnhaul: that is much; accepted: a smaller study (sample: N draws N of these scenes), or --go to start it all the same\n");
    }
    return CLI_INPUT_WRONG;
  }
  if (fh_study_count(s->study) > (int64_t)1 << 53) {
    return cli_refuse("a study of more than 9e15 scenes cannot be numbered; accepted: sample: N");
  }
  return CLI_DONE;
}

// ---------------------------------------------------------------------------------------------------- the run

static int put_file(void *user, const char *bytes, size_t count) {
  return fwrite(bytes, 1, count, user) == count ? 0 : 1;
}

// The rows of a block, or none of them: a torn end is cut off when the study goes on.
static int keep(const cli_study *s, FILE *file, const block *b) {
  fh_out out = {put_file, file};
  fh_status status = FH_OK;
  for (int i = 0; i < b->count && status == FH_OK; i++) {
    status = fh_study_row_write(s->study, &b->rows[i], out);
  }
  if (status == FH_OK && fflush(file) == 0) {
    return CLI_DONE;
  }
  (void)fprintf(stderr, "\nfirnhaul: %s: cannot write: %s. What is done is kept there; the same command goes on with it.\n", s->journal, strerror(errno));
  return CLI_FAILED;
}

static FILE *open_journal(const cli_study *s, int64_t done) {
  FILE *file = fopen(s->journal, done > 0 ? "ab" : "wb");
  if (file == NULL || (done == 0 && (fprintf(file, "firnhaul-study %016" PRIx64 "\n", s->mark) < 0 || fflush(file) != 0))) {
    (void)fprintf(stderr, "firnhaul: %s: cannot write: %s\n", s->journal, strerror(errno));
    if (file != NULL) {
      (void)fclose(file);
    }
    return NULL;
  }
  return file;
}

static int stopped(const cli_study *s, int64_t done) {
  if (s->team.rank == 0) {
    (void)fprintf(stderr, "\nfirnhaul: stopped after %" PRId64 " scenes; they are kept in %s, and the same command goes on with them\n", done, s->journal);
  }
  return CLI_FAILED;
}

static int run_blocks(cli_study *s, FILE *file, fh_study_work **works, fh_study_row *rows, int threads, int64_t done) {
  int64_t all = fh_study_count(s->study), first = done;
  double start = now();
  int size = threads * s->team.size;
  int status = CLI_DONE;
  cli_progress_start();
  while (done < all && status == CLI_DONE) {
    block b = {.s = s, .work = works, .first = done, .count = (int)(all - done < size ? all - done : size), .rows = rows, .lock = PTHREAD_MUTEX_INITIALIZER};
    double begin = now();
    memset(rows, 0, (size_t)b.count * sizeof *rows);
    run_threads(&b, threads);
    int worst = cli_mpi_worst(b.trouble);
    if (worst != (int)FH_OK) {
      status = b.trouble != (int)FH_OK ? complain(s, &b) : CLI_FAILED;
      break;
    }
    cli_mpi_merge(rows, (size_t)b.count * sizeof *rows);
    status = cli_mpi_worst(file != NULL ? keep(s, file, &b) : CLI_DONE);
    if (status != CLI_DONE) {
      break;
    }
    done += b.count;
    show(s, done, (double)(done - first) / (now() - start));
    double took = cli_mpi_first(now() - begin);
    size = took < 0.5 * BLOCK_TIME && size <= MOST_BLOCK / 2 ? 2 * size : took > 2.0 * BLOCK_TIME && size >= 2 * threads * s->team.size ? size / 2 : size;
    if (cli_mpi_worst(cli_progress(NULL, 0.0) ? 0 : 1) != 0 && done < all) {
      status = stopped(s, done);
    }
  }
  if (s->team.rank == 0 && isatty(STDERR_FILENO)) {
    (void)fprintf(stderr, "\n");
  }
  cli_progress_end();
  return status;
}

static int run_rest(cli_study *s, fh_study_work **works, int threads, int64_t done) {
  int status = weigh(s, works, threads, done);
  if (cli_mpi_worst(status) != CLI_DONE) {
    return status != CLI_DONE ? status : CLI_FAILED;
  }
  if (done > 0 && s->team.rank == 0) {
    (void)fprintf(stderr, "firnhaul: going on after %" PRId64 " scenes\n", done);
  }
  FILE *file = s->team.rank == 0 ? open_journal(s, done) : NULL;
  bool open = cli_mpi_worst(s->team.rank == 0 && file == NULL ? 1 : 0) == 0;
  fh_study_row *rows = fhi_alloc(MOST_BLOCK + MOST_THREADS * 64, sizeof *rows);
  status = !open ? CLI_FAILED : rows == NULL ? cli_fail(FH_ERR_MEMORY) : run_blocks(s, file, works, rows, threads, done);
  fhi_free(rows);
  if (file != NULL && fclose(file) != 0 && status == CLI_DONE) {
    (void)fprintf(stderr, "firnhaul: %s: cannot write: %s\n", s->journal, strerror(errno));
    status = CLI_FAILED;
  }
  return status;
}

int cli_study_run(cli_study *s) {
  int threads = cli_threads(s->o);
  int64_t done = s->team.rank == 0 ? cli_journal_count(s) : 0;
  done = (int64_t)cli_mpi_first((double)done);
  if (done < 0) {
    if (s->team.rank == 0 && done == -1) {
      (void)fprintf(stderr, "firnhaul: %s belongs to another study, or to this one before it was changed; accepted: move it away, or another -o\n", s->journal);
    } else if (s->team.rank == 0) {
      (void)fprintf(stderr, "firnhaul: %s: cannot be used: %s\n", s->journal, strerror(errno));
    }
    return done == -1 ? CLI_INPUT_WRONG : CLI_FAILED;
  }
  fh_study_work *works[MOST_THREADS] = {NULL};
  fh_status made = FH_OK;
  threads = threads < MOST_THREADS ? threads : MOST_THREADS;
  for (int i = 0; i < threads && made == FH_OK; i++) {
    made = fh_study_work_create(s->study, s->base, s->gear, &works[i]);
  }
  int status = cli_mpi_worst((int)made) == (int)FH_OK ? run_rest(s, works, threads, done) : made != FH_OK ? cli_fail(made) : CLI_FAILED;
  for (int i = 0; i < threads; i++) {
    fh_study_work_destroy(works[i]);
  }
  return status;
}
