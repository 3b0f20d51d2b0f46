// SPDX-License-Identifier: MIT
// Samples on several threads: the counts add up to the same, whoever counted them.
#define _POSIX_C_SOURCE 200809L
#include "chance.h"

#include <math.h>
#include <pthread.h>
#include <stdatomic.h>
#include <string.h>
#include <unistd.h>

#include "file.h"
#include "units.h"
#include "words.h"

enum { MOST_THREADS = 256, BITE = 256 };  // blocks that a thread takes at a time

bool cli_wants_chance(const cli_options *o) {
  return o->given[CLI_CHANCE] || o->given[CLI_WHY] || (o->given[CLI_FIGURE] && o->choice[CLI_FIGURE] == 4);
}

int cli_threads(const cli_options *o) {
  long cores = sysconf(_SC_NPROCESSORS_ONLN);
  long n = o->given[CLI_THREADS] ? (long)o->number[CLI_THREADS] : cores;
  return (int)(n < 1 ? 1 : n > MOST_THREADS ? MOST_THREADS : n);
}

typedef struct shared {
  const fh_chance_work *work;
  _Atomic int64_t next;
} shared;

typedef struct worker {
  shared *all;
  fh_chance_part *part;
  pthread_t thread;
  bool started;
} worker;

static void *count(void *user) {
  worker *w = user;
  int64_t blocks = fh_chance_work_blocks(w->all->work);
  for (;;) {
    int64_t first = atomic_fetch_add(&w->all->next, (int64_t)BITE);
    if (first >= blocks) {
      return NULL;
    }
    fh_chance_part_run(w->all->work, w->part, first, BITE);
  }
}

static fh_status run(const fh_chance_work *work, int threads, fh_chance **out) {
  worker workers[MOST_THREADS] = {{NULL, NULL, 0, false}};
  shared all = {work, 0};
  int64_t blocks = fh_chance_work_blocks(work);
  int64_t most = blocks / BITE + 1;
  int n = threads < most ? threads : (int)most;
  fh_status status = FH_OK;
  for (int i = 0; i < n && status == FH_OK; i++) {
    workers[i].all = &all;
    status = fh_chance_part_create(work, &workers[i].part);
  }
  if (status == FH_OK) {
    // The first worker is this thread: where no thread can be had it does all of it.
    for (int i = 1; i < n; i++) {
      workers[i].started = pthread_create(&workers[i].thread, NULL, count, &workers[i]) == 0;
    }
    (void)count(&workers[0]);
    for (int i = 1; i < n; i++) {
      if (workers[i].started) {
        (void)pthread_join(workers[i].thread, NULL);
        fh_chance_part_add(workers[0].part, workers[i].part);
      }
    }
    status = fh_chance_finish(work, workers[0].part, out);
  }
  for (int i = 0; i < n; i++) {
    fh_chance_part_destroy(workers[i].part);
  }
  return status;
}

fh_status cli_chance_create(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fh_chance **out) {
  fh_chance_opts opts = fh_chance_opts_default();
  fh_chance_work *work = NULL;
  opts.why = o->given[CLI_WHY] || (o->given[CLI_FIGURE] && o->choice[CLI_FIGURE] == 4);
  if (o->given[CLI_SAMPLES]) {
    opts.samples = (int64_t)o->number[CLI_SAMPLES];
  }
  if (o->given[CLI_SEED]) {
    opts.seed = (uint64_t)o->number[CLI_SEED];
  }
  fh_status status = fh_chance_work_create(scene, gear, rig, &opts, &work);
  if (status == FH_OK) {
    status = run(work, cli_threads(o), out);
  }
  fh_chance_work_destroy(work);
  return status;
}

// ---------------------------------------------------------------------------------------------------- for people

// Never rounded to the comfortable side, never 100 % unless every sample agrees.
const char *cli_percent(char *to, size_t size, fh_language language, double chance) {
  if (isnan(chance)) {
    return "?";
  }
  char digits[16];
  double shown = floor(chance * 100.0 + 1e-9);
  (void)fhi_format(to, size, "%s%s %%", chance > 0.0 && shown < 1.0 ? fhi_say(language, "under ") : "",
                   fhi_fixed(digits, sizeof digits, chance > 0.0 && shown < 1.0 ? 1.0 : shown, 0));
  return to;
}

void cli_put_spread(cli_screen *s, const char *name, fh_band b, cli_quantity q, fh_units units) {
  char lo[CLI_NUMBER], mid[CLI_NUMBER], hi[CLI_NUMBER], text[400], lead[64];
  if (isnan(b.likely)) {
    return;
  }
  (void)cli_text_pad(lead, sizeof lead, name, 11);
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s in the middle; nine of ten samples lie from %s to %s"), cli_amount(mid, b.likely, q, units), cli_value(lo, b.lo, q, units),
                   cli_amount(hi, b.hi, q, units));
  cli_put_wrapped(s, CLI_PLAIN, lead, text);
}

void cli_put_stood(cli_screen *s, const char (*names)[64], int count) {
  char text[FH_MAX_STOOD * 130 + 160], name[200];
  (void)fhi_copy(text, sizeof text, fhi_say(s->language, "open, but at its likely value in every sample: "));
  for (int i = 0; i < count; i++) {
    size_t used = strlen(text);
    (void)fhi_format(text + used, sizeof text - used, "%s%s", i > 0 ? "; " : "", fhi_name_said(name, sizeof name, s->language, names[i]));
  }
  if (count > 0) {
    cli_put_wrapped(s, CLI_WARN, "  ! ", text);
  }
}

static void weak_limits(const fh_chance *c, cli_screen *s) {
  char text[300], chance[24], name[200];
  for (int i = 0; i < c->limit_count; i++) {
    if (c->limit[i].holds < 1.0) {
      (void)fhi_format(text, sizeof text, fhi_say(s->language, "%s holds in %s"), fhi_name_said(name, sizeof name, s->language, c->limit[i].element), cli_percent(chance, sizeof chance, s->language, c->limit[i].holds));
      cli_put_wrapped(s, CLI_WARN, "  ! ", text);
    }
  }
}

// What keeps a rig from raising whatever its forces.
static void rope_and_room(const fh_chance *c, cli_screen *s) {
  char text[200], a[24];
  if (c->rope < 1.0) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "the rope reaches in %s of the samples: where it does not, nothing is raised"), cli_percent(a, sizeof a, s->language, c->rope));
    cli_put_wrapped(s, c->rope > 0.0 ? CLI_WARN : CLI_BAD, "  ! ", text);
  }
  if (c->works < 1.0) {
    cli_put_wrapped(s, CLI_BAD, "  - ", fhi_say(s->language, "no chance: at likely values brake knots jam, or there is no room for a stroke, see above"));
  }
}

void cli_show_chance(const fh_chance *c, fh_units units, cli_screen *s) {
  char text[900], a[24], b[24], d[24], e[24], error[16], lead[64];
  cli_put(s, "\n");
  cli_put_heading(s, fhi_say(s->language, "Chance, as far as the ranges given are right"));
  if (c->outcome != FH_OUTCOME_SOLVED) {
    cli_put_wrapped(s, CLI_BAD, "  - ", fhi_say(s->language, "none: this rig does not raise the load"));
    return;
  }
  rope_and_room(c, s);
  if (isnan(c->crew)) {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "every limit holds in %s of the samples; all of it goes well in %s"),
                     cli_percent(a, sizeof a, s->language, c->limits), cli_percent(e, sizeof e, s->language, c->both));
  } else {
    (void)fhi_format(text, sizeof text, fhi_say(s->language, "the crew can pull it in %s of the samples (for minutes: %s); every limit holds in %s; %s in %s"),
                     cli_percent(a, sizeof a, s->language, c->crew), cli_percent(b, sizeof b, s->language, c->lasts), cli_percent(d, sizeof d, s->language, c->limits),
                     fhi_say(s->language, c->rope < 1.0 || c->works < 1.0 ? "all of it goes well" : "both"), cli_percent(e, sizeof e, s->language, c->both));
  }
  cli_put_wrapped(s, CLI_BOLD, "  ", text);
  (void)fhi_format(text, sizeof text, fhi_say(s->language, "%lld samples, seed %llu; by counting alone it may be off by %s %%"), (long long)c->samples, (unsigned long long)c->seed,
                   fhi_fixed(error, sizeof error, ceil(2000.0 * c->error) / 10.0, 1));
  cli_put_wrapped(s, CLI_DIM, "  ", text);
  weak_limits(c, s);
  cli_put_spread(s, fhi_say(s->language, "Hand pull"), c->pull, CLI_FORCE, units);
  cli_put_spread(s, fhi_say(s->language, "Crew"), c->capacity, CLI_FORCE, units);
  if (isfinite(c->share.hi)) {  // of a crew that pulls nothing any pull is without measure: its line says 0
    cli_put_spread(s, fhi_say(s->language, "Share"), c->share, CLI_SHARE, units);
  }
  cli_put_spread(s, fhi_say(s->language, "Margin"), c->margin, CLI_MARGIN, units);
  if (fh_chance_words(c, text, sizeof text)[0] != '\0') {
    cli_put_wrapped(s, CLI_BOLD, cli_text_pad(lead, sizeof lead, fhi_say(s->language, "Why"), 11), text);
  }
  if (c->shared) {
    cli_put_wrapped(s, CLI_WARN, "  ! ", fhi_say(s->language, "more than 32 unknowns: the further ones stand at their likely values"));
  }
  cli_put_stood(s, (const char (*)[64])c->stood, c->stood_count);
}

fh_status cli_write_with(const char *body, size_t count, const char *own, size_t own_count, fh_out out) {
  fhi_writer w;
  fhi_writer_start(&w, out);
  // The body ends in "\n}\n": the new member goes before that, indented as its siblings are.
  size_t end = count;
  while (end > 0 && (body[end - 1] == '\n' || body[end - 1] == ' ')) {
    end--;
  }
  if (end < 2 || body[end - 1] != '}' || own == NULL) {
    return FH_ERR_ARG;
  }
  end--;
  while (end > 0 && (body[end - 1] == '\n' || body[end - 1] == ' ')) {
    end--;
  }
  fhi_put_bytes(&w, body, end);
  fhi_put(&w, ",\n  \"chance\": ");
  for (size_t i = 0; i < own_count; i++) {
    fhi_put_bytes(&w, own + i, 1);
    if (own[i] == '\n' && i + 1 < own_count) {
      fhi_put(&w, "  ");
    }
  }
  fhi_put(&w, "}\n");
  return fhi_writer_end(&w);
}

fh_status cli_write_with_chance(const char *body, size_t count, const fh_chance *chance, fh_out out) {
  cli_buffer own = {0};
  fh_status status = fh_chance_write_json(chance, cli_buffer_out(&own));
  status = status == FH_OK ? cli_write_with(body, count, own.text, own.used, out) : status;
  cli_buffer_free(&own);
  return status;
}
