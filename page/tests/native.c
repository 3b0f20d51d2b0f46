// SPDX-License-Identifier: MIT
// The page's own calls of the core, natively: what the module's times are compared with. page_native EVENTS ROUNDS
// EVENTS: a scene with a rig, as the page tells it (fhp_read). Writes "name,ms" a line: the least of so many rounds.
#define _POSIX_C_SOURCE 200809L
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "../core.h"

typedef struct scene {
  uint8_t bytes[1 << 20];
  uint32_t count;
} scene;

static double now_ms(void) {
  struct timespec t;
  (void)clock_gettime(CLOCK_MONOTONIC, &t);
  return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

// One piece of work. @param fresh whether the scene is read before, so that nothing is left of the last round
static int measure(const scene *s, const char *name, int what, double a, bool fresh, long rounds) {
  double best = 1e300;
  for (long i = 0; i < rounds; i++) {
    double begin = now_ms();
    if ((fresh && fhp_read(s->bytes, s->count) != 0) || fhp_ask(what, a, 0.0, 0) != 0 || fhp_text_count() == 0) {
      return 1;
    }
    double spent = now_ms() - begin;
    best = spent < best ? spent : best;
  }
  (void)printf("%s,%.6f\n", name, best);
  return 0;
}

int main(int argc, char **argv) {
  static scene s;
  FILE *file = argc == 3 ? fopen(argv[1], "rb") : NULL;
  if (file == NULL) {
    return 2;
  }
  s.count = (uint32_t)fread(s.bytes, 1, sizeof s.bytes, file);
  (void)fclose(file);
  long rounds = strtol(argv[2], NULL, 10);
  int failed = fhp_read(s.bytes, s.count);
  failed = failed != 0 ? failed : measure(&s, "check", PAGE_CHECK, 0.0, true, rounds * 10);
  failed = failed != 0 ? failed : measure(&s, "section", PAGE_SECTION, 0.0, false, rounds * 10);
  failed = failed != 0 ? failed : measure(&s, "haul", PAGE_HAUL, 0.0, true, rounds * 10);
  failed = failed != 0 ? failed : measure(&s, "plan", PAGE_PLAN, -1.0, true, rounds);
  return failed;
}
