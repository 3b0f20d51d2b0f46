// SPDX-License-Identifier: MIT
// `firnhaul sheet --pdf` of a six to one as a whole process: stages, raise, losses, a figure for each step, all cards drawn.
#define _POSIX_C_SOURCE 200809L
#include "bench.h"

#include <fcntl.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

#ifndef FH_SOURCE_DIR
#define FH_SOURCE_DIR "."
#endif

#define SCENE FH_SOURCE_DIR "/examples/rigs/six.yaml"

static bool start(void **state) {
  *state = NULL;
  return access(SCENE, R_OK) == 0;
}

static long sheet(void *state) {
  (void)state;
  pid_t child = fork();
  if (child == 0) {
    int null = open("/dev/null", O_WRONLY);
    (void)dup2(null, 1);
    (void)execl(bench_program, bench_program, "sheet", SCENE, "--pdf", "/dev/null", (char *)NULL);
    _exit(127);
  }
  int status = 0;
  return child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0 ? 1 : 0;
}

static void end(void *state) {
  (void)state;
}

const bench_case bench_sheet = {"sheet", "`firnhaul sheet --pdf` of a six to one as a whole process", "process", start, sheet, NULL, end, 0.0, 1.0, 0.0};
