// SPDX-License-Identifier: MIT
// How fast is it? Each case runs in a process of its own: warm-up, then rounds of ours and the reference by turns, and the
// best of each counts. Noise only ever adds time, so the least is the steadiest figure; turns share the noise.
// usage: bench [--only NAME] [--rounds N] [--csv FILE] [--program FIRNHAUL] [--strict] [--growth MARKDOWN SVG]
// --strict: a missed aim fails; --growth: only how the search grows, as a table and a plot
#define _POSIX_C_SOURCE 200809L
#define _DEFAULT_SOURCE
#include "bench.h"
#include "growth.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#ifndef BENCH_BUILD
#define BENCH_BUILD "unknown compiler"
#endif

const char *bench_program = "firnhaul";

static const bench_case *const CASES[] = {
#define X(name) &name,
    BENCH_CASES(X)
#undef X
};
enum { CASE_COUNT = sizeof CASES / sizeof *CASES };

typedef struct options {
  const char *only, *csv, *growth_table, *growth_plot;
  int rounds;
  bool strict;
} options;

// What a case's process tells the parent.
typedef struct figures {
  bool ok;
  double ours, reference;  // [s] a unit; reference NaN when there is none
  double memory;           // [byte]
} figures;

static double now(void) {
  struct timespec t;
  (void)clock_gettime(CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

// Seconds a unit over calls that together last at least `least` seconds, so that the clock's grain does not show.
static double time_a_unit(long (*work)(void *), void *state, double least) {
  double begin = now();
  double spent = 0.0;
  double units = 0.0;
  do {
    long done = work(state);
    if (done <= 0) {
      return (double)NAN;
    }
    units += (double)done;
    spent = now() - begin;
  } while (spent < least);
  return spent / units;
}

static figures measure(const bench_case *c, int rounds) {
  figures f = {false, (double)INFINITY, c->reference == NULL ? (double)NAN : (double)INFINITY, 0.0};
  void *state = NULL;
  if (!c->start(&state)) {
    return f;
  }
  f.ok = true;
  for (int round = 0; round <= rounds && f.ok; round++) {
    double ours = time_a_unit(c->run, state, 0.05);
    double theirs = c->reference == NULL ? 0.0 : time_a_unit(c->reference, state, 0.05);
    f.ok = !isnan(ours) && !isnan(theirs);
    if (round > 0) {  // round 0 warms caches and branch predictors
      f.ours = fmin(f.ours, ours);
      f.reference = c->reference == NULL ? f.reference : fmin(f.reference, theirs);
    }
  }
  c->end(state);
  struct rusage self;
  struct rusage children;
  (void)getrusage(RUSAGE_SELF, &self);
  (void)getrusage(RUSAGE_CHILDREN, &children);
  f.memory = 1024.0 * (double)(self.ru_maxrss > children.ru_maxrss ? self.ru_maxrss : children.ru_maxrss);
  return f;
}

// In a child, so that the peak of memory is the case's own and a crash is only its own.
static figures measure_apart(const bench_case *c, int rounds) {
  figures f = {false, 0.0, 0.0, 0.0};
  int ends[2];
  if (pipe(ends) != 0) {
    return f;
  }
  (void)fflush(NULL);
  pid_t child = fork();
  if (child == 0) {
    figures got = measure(c, rounds);
    _exit(write(ends[1], &got, sizeof got) == (ssize_t)sizeof got ? 0 : 1);
  }
  (void)close(ends[1]);
  if (child < 0 || read(ends[0], &f, sizeof f) != (ssize_t)sizeof f) {
    f.ok = false;
  }
  (void)close(ends[0]);
  if (child > 0) {
    (void)waitpid(child, NULL, 0);
  }
  return f;
}

static void say_time(char *to, size_t size, double seconds) {
  static const char *const UNIT[] = {"s", "ms", "us", "ns"};
  int u = 0;
  while (u < 3 && seconds < 1.0) {
    seconds *= 1000.0;
    u++;
  }
  (void)snprintf(to, size, "%.3g %s", seconds, UNIT[u]);
}

static bool aim_missed(const bench_case *c, const figures *f) {
  return (c->at_least > 0.0 && !(f->reference / f->ours >= c->at_least)) ||
         (c->at_most > 0.0 && !(f->ours <= c->at_most)) ||
         (c->memory_at_most > 0.0 && !(f->memory <= c->memory_at_most));
}

static void show(const bench_case *c, const figures *f) {
  char ours[32];
  char theirs[32] = "-";
  char ratio[32] = "-";
  char aim[96] = "";
  if (!f->ok) {
    (void)printf("%-16s FAILED: %s\n", c->name, c->about);
    return;
  }
  say_time(ours, sizeof ours, f->ours);
  if (!isnan(f->reference)) {
    say_time(theirs, sizeof theirs, f->reference);
    (void)snprintf(ratio, sizeof ratio, "%.3g x", f->reference / f->ours);
  }
  int n = c->at_least > 0.0 ? snprintf(aim, sizeof aim, "aim %g x; ", c->at_least) : 0;
  n += c->at_most > 0.0 ? snprintf(aim + n, sizeof aim - (size_t)n, "aim %g s; ", c->at_most) : 0;
  n += c->memory_at_most > 0.0 ? snprintf(aim + n, sizeof aim - (size_t)n, "aim %g MB; ", c->memory_at_most / 1e6) : 0;
  (void)snprintf(aim + n, sizeof aim - (size_t)n, "%s", n == 0 ? "" : aim_missed(c, f) ? "MISSED" : "met");
  (void)printf("%-16s %10s a %-8s reference %10s  ratio %8s  peak %6.1f MB  %s\n                 %s\n", c->name, ours,
               c->unit, theirs, ratio, f->memory / 1e6, aim, c->about);
}

// The processor's name, as the system tells it.
static void processor(char *to, size_t size) {
  (void)snprintf(to, size, "unknown processor");
  FILE *file = fopen("/proc/cpuinfo", "r");
  char line[256];
  while (file != NULL && fgets(line, sizeof line, file) != NULL) {
    char *colon = strchr(line, ':');
    if (strncmp(line, "model name", 10) == 0 && colon != NULL) {
      colon[strcspn(colon, "\n")] = '\0';
      (void)snprintf(to, size, "%s", colon + 2);
      break;
    }
  }
  if (file != NULL) {
    (void)fclose(file);
  }
}

static bool read_options(int argc, char **argv, options *o) {
  *o = (options){.rounds = 7};
  for (int i = 1; i < argc; i++) {
    bool more = i + 1 < argc;
    if (strcmp(argv[i], "--strict") == 0) {
      o->strict = true;
    } else if (strcmp(argv[i], "--only") == 0 && more) {
      o->only = argv[++i];
    } else if (strcmp(argv[i], "--growth") == 0 && i + 2 < argc) {
      o->growth_table = argv[++i];
      o->growth_plot = argv[++i];
    } else if (strcmp(argv[i], "--csv") == 0 && more) {
      o->csv = argv[++i];
    } else if (strcmp(argv[i], "--program") == 0 && more) {
      bench_program = argv[++i];
    } else if (strcmp(argv[i], "--rounds") == 0 && more) {
      o->rounds = (int)strtol(argv[++i], NULL, 10);
    } else {
      (void)fprintf(stderr,
                    "bench: unknown '%s'; accepted: --only NAME, --rounds N, --csv FILE, --program FILE, --strict, --growth MARKDOWN SVG\n",
                    argv[i]);
      return false;
    }
  }
  return o->rounds >= 1;
}

int main(int argc, char **argv) {
  options o;
  if (!read_options(argc, argv, &o)) {
    return 2;
  }
  if (o.growth_table != NULL) {
    return bench_growth(o.growth_table, o.growth_plot);
  }
  char cpu[256];
  processor(cpu, sizeof cpu);
  (void)printf("%s; %s; least of %d rounds\n", BENCH_BUILD, cpu, o.rounds);
  FILE *csv = o.csv == NULL ? NULL : fopen(o.csv, "w");
  if (csv != NULL) {
    (void)fprintf(csv,
                  "# %s; %s; least of %d rounds\ncase,unit,seconds_a_unit,reference_seconds_a_unit,ratio,peak_bytes\n",
                  BENCH_BUILD, cpu, o.rounds);
  }
  bool failed = o.csv != NULL && csv == NULL;
  int ran = 0;
  for (int i = 0; i < CASE_COUNT; i++) {
    if (o.only != NULL && strcmp(o.only, CASES[i]->name) != 0) {
      continue;
    }
    figures f = measure_apart(CASES[i], o.rounds);
    show(CASES[i], &f);
    failed = failed || !f.ok || (o.strict && aim_missed(CASES[i], &f));
    ran++;
    if (csv != NULL && f.ok) {
      (void)fprintf(csv, "%s,%s,%.6g,%.6g,%.6g,%.0f\n", CASES[i]->name, CASES[i]->unit, f.ours, f.reference,
                    f.reference / f.ours, f.memory);
    }
  }
  if (csv != NULL && fclose(csv) != 0) {
    failed = true;
  }
  return failed || ran == 0 ? 1 : 0;
}
