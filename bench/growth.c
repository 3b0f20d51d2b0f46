// SPDX-License-Identifier: MIT
// How the search grows with kit and bounds: a table and a plot for docs/benchmarks.md.
#define _POSIX_C_SOURCE 200809L
#include "growth.h"

#include <math.h>
#include <stdio.h>
#include <time.h>

#include "scenes.h"

typedef struct kit {
  const char *name;
  int captures, pulleys, carabiners, hitches, ropes, cords;
} kit;

static const kit KITS[] = {
    {"small: 1 capture, 1 pulley, 3 carabiners, 2 hitches, 1 rope", 1, 1, 3, 2, 1, 0},
    {"common: 1 capture, 2 pulleys, 6 carabiners, 4 hitches, 1 rope, 1 cord", 1, 2, 6, 4, 1, 1},
    {"large: 2 captures, 3 pulleys, 9 carabiners, 6 hitches, 2 ropes", 2, 3, 9, 6, 2, 0},
    {"instructor: 2 captures, 4 pulleys, 12 carabiners, 8 hitches, 2 ropes, 2 cords", 2, 4, 12, 8, 2, 2},
};
enum { KIT_COUNT = sizeof KITS / sizeof *KITS, FIRST = 1, LAST = 6, ROUNDS = 3 };

typedef struct point {
  double seconds;
  long long searched, distinct;
} point;

static double now(void) {
  struct timespec t;
  (void)clock_gettime(CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static int measure(const kit *k, int contacts, point *p) {
  char yaml[2048];
  bench_kit_yaml(yaml, sizeof yaml, k->captures, k->pulleys, k->carabiners, k->hitches, k->ropes, k->cords);
  bench_scene *s = bench_scene_create(yaml);
  fh_plan_opts opts = fh_plan_opts_default();
  int failed = s == NULL;
  opts.max_contacts = contacts;
  p->seconds = (double)INFINITY;
  for (int i = 0; i < ROUNDS && !failed; i++) {
    fh_plans *plans = NULL;
    double begin = now();
    failed = fh_plans_create(s->scene, s->gear, &opts, &plans) != FH_OK;
    p->seconds = fmin(p->seconds, now() - begin);
    if (!failed) {
      p->searched = (long long)plans->searched;
      p->distinct = (long long)plans->distinct;
    }
    fh_plans_destroy(plans);
  }
  bench_scene_destroy(s);
  return failed;
}

static void write_table(FILE *f, point points[KIT_COUNT][LAST + 1]) {
  (void)fprintf(f, "| kit | contacts behind the capture | rigs built | different rigs | time, ms |\n|---|---|---|---|---|\n");
  for (int k = 0; k < KIT_COUNT; k++) {
    for (int n = FIRST; n <= LAST; n++) {
      const point *p = &points[k][n];
      (void)fprintf(f, "| %s | %d | %lld | %lld | %.2f |\n", n == FIRST ? KITS[k].name : "", n, p->searched, p->distinct, 1e3 * p->seconds);
    }
  }
}

// Time upward on a log axis from 0.1 ms to 10 s, the bound to the right. Lines differ by dash, so they print in black.
static void write_plot(FILE *f, point points[KIT_COUNT][LAST + 1]) {
  static const char *const DASH[] = {"none", "8 4", "2 3", "12 3 2 3"};
  const double left = 70.0, right = 560.0, top = 20.0, bottom = 320.0;
  (void)fprintf(f, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"600\" height=\"470\" viewBox=\"0 0 600 470\" "
                   "font-family=\"DejaVu Sans, sans-serif\" font-size=\"12\">\n<title>Time of the search against its bound</title>\n"
                   "<rect width=\"600\" height=\"470\" fill=\"white\"/>\n");
  for (int decade = -4; decade <= 1; decade++) {
    double y = bottom - (decade + 4) / 5.0 * (bottom - top);
    (void)fprintf(f, "<path d=\"M%.1f %.1fH%.1f\" stroke=\"#bbb\"/>\n<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"end\">%s</text>\n", left, y,
                  right, left - 6.0, y + 4.0, (const char *[]){"0.1 ms", "1 ms", "10 ms", "100 ms", "1 s", "10 s"}[decade + 4]);
  }
  for (int n = FIRST; n <= LAST; n++) {
    double x = left + (double)(n - FIRST) / (LAST - FIRST) * (right - left);
    (void)fprintf(f, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">%d</text>\n", x, bottom + 18.0, n);
  }
  (void)fprintf(f, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">contacts behind the capture</text>\n", (left + right) / 2.0, bottom + 38.0);
  for (int k = 0; k < KIT_COUNT; k++) {
    (void)fprintf(f, "<path fill=\"none\" stroke=\"black\" stroke-width=\"2\" stroke-dasharray=\"%s\" d=\"", DASH[k]);
    for (int n = FIRST; n <= LAST; n++) {
      double x = left + (double)(n - FIRST) / (LAST - FIRST) * (right - left);
      double y = bottom - (log10(points[k][n].seconds) + 4.0) / 5.0 * (bottom - top);
      (void)fprintf(f, "%c%.1f %.1f", n == FIRST ? 'M' : 'L', x, fmin(fmax(y, top), bottom));
    }
    double y = bottom + 62.0 + 20.0 * k;
    (void)fprintf(f, "\"/>\n<path stroke=\"black\" stroke-width=\"2\" stroke-dasharray=\"%s\" d=\"M%.1f %.1fh40\"/>\n"
                     "<text x=\"%.1f\" y=\"%.1f\" font-size=\"11\">%s</text>\n", DASH[k], left - 40.0, y - 4.0, left + 8.0, y, KITS[k].name);
  }
  (void)fprintf(f, "</svg>\n");
}

int bench_growth(const char *markdown, const char *svg) {
  static point points[KIT_COUNT][LAST + 1];
  for (int k = 0; k < KIT_COUNT; k++) {
    for (int n = FIRST; n <= LAST; n++) {
      if (measure(&KITS[k], n, &points[k][n]) != 0) {
        return 1;
      }
    }
  }
  FILE *table = fopen(markdown, "w");
  FILE *plot = fopen(svg, "w");
  int failed = table == NULL || plot == NULL;
  if (!failed) {
    write_table(table, points);
    write_plot(plot, points);
  }
  failed = (table != NULL && fclose(table) != 0) || failed;
  failed = (plot != NULL && fclose(plot) != 0) || failed;
  return failed;
}
