// SPDX-License-Identifier: MIT
// How does a person see that a search goes on, and stop it? One line on the terminal, rewritten; Ctrl-C asks it to end,
// and what was found so far is then told as not complete.
#define _POSIX_C_SOURCE 200809L
#include "progress.h"

#include <signal.h>
#include <stdio.h>
#include <unistd.h>

// A signal handler reaches nothing but globals.
static volatile sig_atomic_t asked_to_stop;
static int shown = -1;  // [%] that stands on the terminal, -1: no line

static void ask(int number) {
  asked_to_stop = 1;
  (void)signal(number, SIG_DFL);
}

void cli_progress_start(void) {
  asked_to_stop = 0;
  shown = -1;
  (void)signal(SIGINT, ask);
}

bool cli_progress(void *user, double done) {
  (void)user;
  int percent = done >= 1.0 ? 100 : done > 0.0 ? (int)(done * 100.0) : 0;
  if (percent != shown && isatty(STDERR_FILENO)) {
    (void)fprintf(stderr, "\rsearching %3d %% ", percent);
    shown = percent;
  }
  return asked_to_stop == 0;
}

void cli_progress_end(void) {
  if (shown >= 0) {
    (void)fprintf(stderr, "\r                 \r");
  }
  (void)signal(SIGINT, SIG_DFL);
}
