// SPDX-License-Identifier: MIT
// What of a study is done? A journal beside the output: a first line that says of which study, then finished rows in order. A
// killed study leaves whole lines and at most one torn one, which is cut off.
#define _POSIX_C_SOURCE 200809L
#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "memory.h"
#include "study.h"
#include "text.h"

struct cli_journal {
  FILE *file;
  char *line;
  size_t room;
};

cli_journal *cli_journal_read(const char *path) {
  cli_journal *j = fhi_alloc(1, sizeof *j);
  if (j == NULL) {
    return NULL;
  }
  j->file = fopen(path, "rb");
  // The first line is the mark.
  if (j->file == NULL || getline(&j->line, &j->room, j->file) < 0) {
    cli_journal_close(j);
    return NULL;
  }
  return j;
}

void cli_journal_close(cli_journal *j) {
  if (j != NULL) {
    if (j->file != NULL) {
      (void)fclose(j->file);
    }
    free(j->line);
    fhi_free(j);
  }
}

// The figures are the last FH_STUDY_FIGURES cells, none of them quoted.
static bool parse_row(const char *line, size_t n, fh_study_row *row) {
  const char *end = line + n, *comma = memchr(line, ',', n);
  double index = 0.0;
  if (n == 0 || end[-1] != '\n' || comma == NULL || !fhi_parse_number(line, (size_t)(comma - line), &index)) {
    return false;
  }
  end--;
  row->index = (int64_t)index;
  for (int i = FH_STUDY_FIGURES - 1; i >= 0; i--) {
    const char *start = end;
    while (start > comma && start[-1] != ',') {
      start--;
    }
    row->figure[i] = (double)NAN;
    if (end > start && !fhi_parse_number(start, (size_t)(end - start), &row->figure[i])) {
      return false;
    }
    if (start <= comma && i > 0) {
      return false;
    }
    end = start - 1;
  }
  return true;
}

bool cli_journal_next(cli_journal *j, char **line, fh_study_row *row) {
  ssize_t n = getline(&j->line, &j->room, j->file);
  *line = j->line;
  return n > 0 && parse_row(j->line, (size_t)n, row);
}

int64_t cli_journal_count(const cli_study *s) {
  char want[64];
  FILE *file = fopen(s->journal, "rb");
  if (file == NULL) {
    return errno == ENOENT ? 0 : -2;
  }
  (void)snprintf(want, sizeof want, "firnhaul-study %016" PRIx64 "\n", s->mark);
  char *line = NULL;
  size_t room = 0;
  int64_t count = 0;
  ssize_t n = getline(&line, &room, file);
  bool mine = n > 0 && strcmp(line, want) == 0;
  long whole = ftell(file);
  fh_study_row row;
  while (mine && (n = getline(&line, &room, file)) > 0 && parse_row(line, (size_t)n, &row) && row.index == count) {
    count++;
    whole = ftell(file);
  }
  free(line);
  (void)fclose(file);
  if (!mine) {
    return -1;
  }
  return truncate(s->journal, whole) == 0 ? count : -2;
}
