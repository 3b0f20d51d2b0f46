// SPDX-License-Identifier: MIT
// A study's rows as a database: one table `study`, a column an axis and a figure. Written beside its place, then renamed.
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "study.h"

#ifdef FH_SQLITE
#include <sqlite3.h>

#include "memory.h"
#include "text.h"

static bool run(sqlite3 *db, const char *sql) {
  return sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK;
}

static bool create_table(sqlite3 *db, const fh_study *s, char *sql, size_t size) {
  size_t used = 0;
  (void)fhi_format(sql, size, "CREATE TABLE study (scene INTEGER PRIMARY KEY");
  for (int a = 0; a < fh_study_axes(s); a++) {
    used = strlen(sql);
    (void)fhi_format(sql + used, size - used, ", \"%s\"", fh_study_axis_name(s, a));
  }
  for (int i = 0; i < FH_STUDY_FIGURES; i++) {
    used = strlen(sql);
    (void)fhi_format(sql + used, size - used, ", %s REAL", fh_study_figure_name(i));
  }
  used = strlen(sql);
  return fhi_format(sql + used, size - used, ");") && run(db, sql);
}

static sqlite3_stmt *prepare_insert(sqlite3 *db, const fh_study *s, char *sql, size_t size) {
  sqlite3_stmt *insert = NULL;
  (void)fhi_format(sql, size, "INSERT INTO study VALUES (?");
  for (int i = 0; i < fh_study_axes(s) + FH_STUDY_FIGURES; i++) {
    size_t used = strlen(sql);
    (void)fhi_format(sql + used, size - used, ", ?");
  }
  size_t used = strlen(sql);
  (void)fhi_format(sql + used, size - used, ");");
  return sqlite3_prepare_v2(db, sql, -1, &insert, NULL) == SQLITE_OK ? insert : NULL;
}

static bool insert_row(sqlite3_stmt *insert, const fh_study *s, const fh_study_row *row) {
  char text[200];
  int at = 1;
  bool good = sqlite3_bind_int64(insert, at++, row->index) == SQLITE_OK;
  for (int a = 0; a < fh_study_axes(s) && good; a++, at++) {
    double number = 0.0;
    (void)fh_study_value(s, row->index, a, text, sizeof text);
    good = fhi_parse_number(text, strlen(text), &number) ? sqlite3_bind_double(insert, at, number) == SQLITE_OK
                                                         : sqlite3_bind_text(insert, at, text, -1, SQLITE_TRANSIENT) == SQLITE_OK;
  }
  for (int i = 0; i < FH_STUDY_FIGURES && good; i++, at++) {
    good = isfinite(row->figure[i]) ? sqlite3_bind_double(insert, at, row->figure[i]) == SQLITE_OK : sqlite3_bind_null(insert, at) == SQLITE_OK;
  }
  return good && sqlite3_step(insert) == SQLITE_DONE && sqlite3_reset(insert) == SQLITE_OK;
}

static bool fill(sqlite3 *db, const cli_study *s) {
  enum { SQL = 4096 };
  char *sql = fhi_alloc(SQL, 1), *line = NULL;
  cli_journal *journal = cli_journal_read(s->journal);
  bool good = sql != NULL && journal != NULL && run(db, "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF;") && create_table(db, s->study, sql, SQL) &&
              run(db, "BEGIN;");
  sqlite3_stmt *insert = good ? prepare_insert(db, s->study, sql, SQL) : NULL;
  fh_study_row row;
  good = good && insert != NULL;
  while (good && cli_journal_next(journal, &line, &row)) {
    good = insert_row(insert, s->study, &row);
  }
  (void)sqlite3_finalize(insert);
  cli_journal_close(journal);
  fhi_free(sql);
  return good && run(db, "COMMIT;");
}

int cli_study_sqlite(const cli_study *s, const char *path) {
  size_t n = strlen(path) + 8;
  char *beside = fhi_alloc(n, 1);
  sqlite3 *db = NULL;
  if (beside == NULL) {
    return cli_fail(FH_ERR_MEMORY);
  }
  (void)fhi_format(beside, n, "%s.tmp", path);
  (void)remove(beside);
  bool good = sqlite3_open(beside, &db) == SQLITE_OK && fill(db, s);
  if (!good) {
    (void)fprintf(stderr, "firnhaul: %s: cannot write: %s\n", path, sqlite3_errmsg(db));
  }
  good = sqlite3_close(db) == SQLITE_OK && good && rename(beside, path) == 0;
  if (!good) {
    (void)remove(beside);
  }
  fhi_free(beside);
  return good ? CLI_DONE : CLI_FAILED;
}

#else

int cli_study_sqlite(const cli_study *s, const char *path) {
  (void)s;
  (void)fprintf(stderr, "firnhaul: %s: this program was built without SQLite\n", path);
  return CLI_FAILED;
}
#endif
