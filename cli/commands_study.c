// SPDX-License-Identifier: MIT
// firnhaul study: a grid or a sample of scenes worked out, kept while it runs, and written as a table, a database and a map.
#include <stdio.h>
#include <string.h>

#include "file.h"
#include "memory.h"
#include "study.h"
#include "text.h"
#include "yaml.h"

// FNV-1a over every file that the result depends on: a journal of something else is not gone on with.
static bool mark_file(uint64_t *mark, const char *path) {
  FILE *file = fopen(path, "rb");
  if (file == NULL) {
    return false;
  }
  unsigned char bytes[4096];
  size_t n;
  while ((n = fread(bytes, 1, sizeof bytes, file)) > 0) {
    for (size_t i = 0; i < n; i++) {
      *mark = (*mark ^ bytes[i]) * 0x100000001b3ULL;
    }
  }
  *mark = (*mark ^ 0xff) * 0x100000001b3ULL;
  bool good = ferror(file) == 0;
  (void)fclose(file);
  return good;
}

static char *joined(const char *base, const char *name, const char *after) {
  const char *slash = strrchr(base, '/');
  size_t folder = name[0] == '/' || slash == NULL ? 0 : (size_t)(slash - base) + 1;
  size_t n = folder + strlen(name) + strlen(after) + 1;
  char *path = fhi_alloc(n, 1);
  if (path != NULL) {
    memcpy(path, base, folder);
    (void)fhi_format(path + folder, n - folder, "%s%s", name, after);
  }
  return path;
}

static int read_document(const char *path, fh_doc **doc) {
  fh_diag diag = {0};
  return cli_yaml_complain(path, cli_yaml_read(path, doc, &diag), &diag);
}

static int open_study(cli_study *s) {
  fh_diag diag = {0};
  int status = cli_gear_open(s->o, &s->gear);
  status = status != CLI_DONE ? status : read_document(s->o->operand, &s->doc);
  if (status == CLI_DONE) {
    status = cli_yaml_complain(s->o->operand, fh_study_create(s->doc, &s->study, &diag), &diag);
  }
  if (status != CLI_DONE) {
    return status;
  }
  char *scene = s->scene = joined(s->o->operand, fh_study_scene(s->study), "");
  s->journal = joined("", s->o->text[CLI_OUTPUT], ".part");
  if (scene == NULL || s->journal == NULL) {
    status = cli_fail(FH_ERR_MEMORY);
  }
  s->mark = 0xcbf29ce484222325ULL;
  status = status != CLI_DONE ? status : read_document(scene, &s->base);
  bool good = status == CLI_DONE && mark_file(&s->mark, s->o->operand) && mark_file(&s->mark, scene);
  for (int i = 0; i < s->o->gear_count && good; i++) {
    good = mark_file(&s->mark, s->o->gear[i]);
  }
  for (const char *p = FH_VERSION; *p != '\0'; p++) {
    s->mark = (s->mark ^ (unsigned char)*p) * 0x100000001b3ULL;
  }
  if (status == CLI_DONE && !good) {
    status = cli_refuse("a study reads its files twice; accepted: files, not standard input");
  }
  return status;
}

static void close_study(cli_study *s) {
  fh_study_destroy(s->study);
  fh_doc_destroy(s->base);
  fh_doc_destroy(s->doc);
  fh_gear_destroy(s->gear);
  fhi_free(s->journal);
  fhi_free(s->scene);
}

int cli_study_complain(const cli_study *s, fh_status status, const fh_diag *diag) {
  return cli_yaml_complain(diag->in_base ? s->scene : s->o->operand, status, diag);
}

// Every value of every axis once, the others at their first: what a scene refuses is found before anything runs.
static int try_values(const cli_study *s) {
  int64_t count = fh_study_count(s->study), stride = 1, seen = 0;
  for (int a = fh_study_axes(s->study) - 1; a >= 0; a--) {
    char first[200], text[200];
    (void)fh_study_value(s->study, 0, a, first, sizeof first);
    int64_t index = 0;
    for (int i = 0; i < FH_MAX_VALUES && index < count; i++, index += stride) {
      fh_scene *scene = NULL;
      fh_diag diag = {0};
      (void)fh_study_value(s->study, index, a, text, sizeof text);
      if (i > 0 && strcmp(text, first) == 0) {
        break;  // once round
      }
      fh_status status = fh_study_scene_create(s->study, s->base, s->gear, index, &scene, &diag);
      fh_scene_destroy(scene);
      if (status != FH_OK) {
        return cli_study_complain(s, status, &diag);
      }
      seen = i + 1;
    }
    stride = stride > INT64_MAX / (seen > 0 ? seen : 1) ? INT64_MAX : stride * (seen > 0 ? seen : 1);
    if (stride >= count) {
      break;
    }
  }
  return CLI_DONE;
}

// ---------------------------------------------------------------------------------------------------- the end

static fh_status write_csv(void *context, fh_out out) {
  const cli_study *s = context;
  cli_journal *journal = cli_journal_read(s->journal);
  fh_status status = journal == NULL ? FH_ERR_MEMORY : fh_study_header_write(s->study, out);
  char *line = NULL;
  fh_study_row row;
  while (status == FH_OK && cli_journal_next(journal, &line, &row)) {
    status = out.write(out.user, line, strlen(line)) == 0 ? FH_OK : FH_ERR_WRITE;
  }
  cli_journal_close(journal);
  return status;
}

static fh_status draw(void *context, fh_out out) {
  const cli_study *s = context;
  fh_study_map *map = NULL;
  cli_journal *journal = cli_journal_read(s->journal);
  fh_status status = journal == NULL ? FH_ERR_MEMORY : fh_study_map_create(s->study, &map);
  char *line = NULL;
  fh_study_row row;
  while (status == FH_OK && cli_journal_next(journal, &line, &row)) {
    fh_study_map_add(map, s->study, &row);
  }
  status = status != FH_OK ? status : fh_draw_study(s->study, map, out);
  fh_study_map_destroy(map);
  cli_journal_close(journal);
  return status;
}

static int write_results(cli_study *s) {
  int status = cli_write_figures(s->o, draw, s);
  if (status == CLI_DONE && s->o->given[CLI_SQLITE]) {
    status = cli_study_sqlite(s, s->o->text[CLI_SQLITE]);
  }
  if (status == CLI_DONE) {
    status = cli_write_main(s->o, write_csv, s);
  }
  if (status == CLI_DONE) {
    (void)remove(s->journal);
  }
  return status;
}

int cli_run_study(const cli_options *o) {
  if (!o->given[CLI_OUTPUT] || strcmp(o->text[CLI_OUTPUT], "-") == 0) {
    return cli_refuse("a study keeps what is done beside its table; accepted: -o FILE");
  }
  int status = cli_outputs_agree(o);
  if (status != CLI_DONE) {
    return status;
  }
  cli_study s = {.o = o, .team = cli_mpi_begin()};
  status = open_study(&s);
  status = status != CLI_DONE ? status : try_values(&s);
  status = status != CLI_DONE ? status : cli_study_run(&s);
  if (status == CLI_DONE && s.team.rank == 0) {
    status = write_results(&s);
  }
  close_study(&s);
  cli_mpi_end();
  return status;
}
