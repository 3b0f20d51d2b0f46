// SPDX-License-Identifier: MIT
// `firnhaul check` of a scene as a whole process: start, read, work out, print.
#define _POSIX_C_SOURCE 200809L
#include "bench.h"

#include <fcntl.h>
#include <stdlib.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

#ifndef FH_SOURCE_DIR
#define FH_SOURCE_DIR "."
#endif

static bool start(void **state) {
  *state = NULL;
  return access(FH_SOURCE_DIR "/examples/two-person.yaml", R_OK) == 0;
}

static long check(void *state) {
  (void)state;
  pid_t child = fork();
  if (child == 0) {
    int null = open("/dev/null", O_WRONLY);
    (void)dup2(null, 1);
    (void)execl(bench_program, bench_program, "check", FH_SOURCE_DIR "/examples/two-person.yaml", (char *)NULL);
    _exit(127);
  }
  int status = 0;
  return child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) <= 1 ? 1 : 0;
}

static void end(void *state) {
  (void)state;
}

const bench_case bench_check = {"check", "`firnhaul check` of an example as a whole process", "process", start, check, NULL, end, 0.0, 0.01, 0.0};
