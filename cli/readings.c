// SPDX-License-Identifier: MIT
// Reads a table of load-cell readings: comma-separated, a line of column names first. The unit stands in the name; a cell is a
// plain number. Gaps, mixed units and unknown columns are errors with file, line and column.
#include "readings.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "memory.h"
#include "text.h"
#include "yaml.h"

enum { MOST_BYTES = 1 << 20, MOST_COLUMNS = 16, MOST_SCENES = 256, CELL = 512 };

typedef enum column_what { WHAT_SCENE, WHAT_HAND, WHAT_LOAD, WHAT_TURN, WHAT_NOTE } column_what;

typedef struct column_kind {
  const char *name;
  column_what what;
  double to_si;
  double lo, hi;  // accepted, as written
} column_kind;

static const column_kind KINDS[] = {
    {"scene", WHAT_SCENE, 0.0, 0.0, 0.0},
    {"hand_N", WHAT_HAND, 1.0, 1.0, 100000.0},
    {"hand_kN", WHAT_HAND, 1000.0, 0.001, 100.0},
    {"hand_kgf", WHAT_HAND, 9.80665, 0.1, 10000.0},
    {"hand_lbf", WHAT_HAND, 4.4482216152605, 0.2, 22000.0},
    {"load_kg", WHAT_LOAD, 9.80665, 1.0, 1000.0},
    {"load_N", WHAT_LOAD, 1.0, 10.0, 10000.0},
    {"load_kN", WHAT_LOAD, 1000.0, 0.01, 10.0},
    {"turn_deg", WHAT_TURN, 3.14159265358979323846 / 180.0, 0.0, 170.0},
    {"note", WHAT_NOTE, 0.0, 0.0, 0.0},
};
enum { KIND_COUNT = sizeof KINDS / sizeof KINDS[0] };

typedef struct table {
  const char *path;
  const fh_gear *gear;
  cli_readings *out;
  const column_kind *columns[MOST_COLUMNS];
  int column_count, room;
  int line;
  const char *start;  // of the line
} table;

static int refuse(const table *t, const char *at, const char *column, const char *what, const char *accepted) {
  (void)fprintf(stderr, "%s:%d:%d: %s%s%s, accepted: %s\n", t->path, t->line, (int)(at - t->start) + 1, column, column[0] != '\0' ? ": " : "", what,
                accepted);
  return CLI_INPUT_WRONG;
}

// Cuts one cell out, without the blanks around it. @return where the next one starts, or NULL when this was the last
static const char *next_cell(const char *at, const char *end, char *cell, const char **cell_at) {
  const char *comma = memchr(at, ',', (size_t)(end - at));
  const char *stop = comma != NULL ? comma : end;
  while (at < stop && (*at == ' ' || *at == '\t')) {
    at++;
  }
  const char *last = stop;
  while (last > at && (last[-1] == ' ' || last[-1] == '\t' || last[-1] == '\r')) {
    last--;
  }
  *cell_at = at;
  if (last - at >= 2 && *at == '"' && last[-1] == '"') {
    at++;
    last--;
  }
  size_t n = (size_t)(last - at) < CELL - 1 ? (size_t)(last - at) : CELL - 1;
  memcpy(cell, at, n);
  cell[n] = '\0';
  return comma != NULL ? comma + 1 : NULL;
}

static const char *const ACCEPTED = "scene, hand_N (or hand_kN, hand_kgf, hand_lbf), load_kg (or load_N, load_kN), turn_deg, note";

static bool has(const table *t, column_what what) {
  for (int i = 0; i < t->column_count; i++) {
    if (t->columns[i]->what == what) {
      return true;
    }
  }
  return false;
}

static int read_header(table *t, const char *end) {
  char cell[CELL], shown[80];
  const char *cell_at = NULL;
  for (const char *at = t->start; at != NULL;) {
    at = next_cell(at, end, cell, &cell_at);
    const column_kind *kind = NULL;
    for (int i = 0; i < KIND_COUNT; i++) {
      kind = strcmp(KINDS[i].name, cell) == 0 ? &KINDS[i] : kind;
    }
    (void)cli_text_clean(shown, sizeof shown, cell);
    if (kind == NULL) {
      return refuse(t, cell_at, shown, "unknown column", ACCEPTED);
    }
    if (has(t, kind->what)) {
      return refuse(t, cell_at, shown, "a second column for the same thing: units cannot be mixed", "one column for each of scene, hand, load, turn, note");
    }
    if (t->column_count == MOST_COLUMNS) {
      return refuse(t, cell_at, "", "too many columns", ACCEPTED);
    }
    t->columns[t->column_count++] = kind;
  }
  if (!has(t, WHAT_SCENE) || !has(t, WHAT_HAND)) {
    return refuse(t, t->start, has(t, WHAT_SCENE) ? "hand_N" : "scene", "this column is missing", ACCEPTED);
  }
  return CLI_DONE;
}

// ---------------------------------------------------------------------------------------------------- scenes

// A scene's path counts from the folder of the readings.
static char *join(const char *base, const char *name) {
  const char *slash = strrchr(base, '/');
  size_t folder = name[0] == '/' || slash == NULL ? 0 : (size_t)(slash - base) + 1;
  char *path = fhi_alloc(folder + strlen(name) + 1, 1);
  if (path != NULL) {
    memcpy(path, base, folder);
    memcpy(path + folder, name, strlen(name) + 1);
  }
  return path;
}

static int load_scene(table *t, const char *at, const char *path, fh_scene **scene) {
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  fh_status status = cli_yaml_read(path, &doc, &diag);
  if (status == FH_ERR_INPUT && diag.line == 0) {  // the file itself: then the place is the table's
    char what[300], shown[160];
    (void)fhi_format(what, sizeof what, "%s: %s", cli_text_clean(shown, sizeof shown, path), diag.message);
    return refuse(t, at, "scene", what, diag.accepted);
  }
  if (status == FH_OK) {
    status = fh_scene_create(doc, t->gear, scene, &diag);
  }
  fh_doc_destroy(doc);
  return cli_yaml_complain(path, status, &diag);
}

static int scene_for(table *t, const char *at, const char *name, const fh_scene **scene) {
  cli_readings *r = t->out;
  char *path = join(t->path, name);
  if (path == NULL) {
    return cli_fail(FH_ERR_MEMORY);
  }
  for (int i = 0; i < r->scene_count; i++) {
    if (strcmp(r->paths[i], path) == 0) {
      *scene = r->scenes[i];
      fhi_free(path);
      return CLI_DONE;
    }
  }
  int status = CLI_DONE;
  fh_scene *loaded = NULL;
  if (r->scene_count == MOST_SCENES) {
    status = refuse(t, at, "scene", "too many scenes", "256 at most");
  } else {
    status = load_scene(t, at, path, &loaded);
  }
  if (status == CLI_DONE && !loaded->has_rig) {
    status = refuse(t, at, "scene", "this scene has no rig", "a scene with the rig that was pulled");
  }
  if (status != CLI_DONE) {
    fh_scene_destroy(loaded);
    fhi_free(path);
    return status;
  }
  r->scenes[r->scene_count] = loaded;
  r->paths[r->scene_count++] = path;
  *scene = loaded;
  return CLI_DONE;
}

// ---------------------------------------------------------------------------------------------------- rows

static int read_number(const table *t, const char *at, const char *cell, const column_kind *kind, double *out) {
  char accepted[160], lo[32], hi[32], shown[80], what[120];
  double value = 0.0;
  (void)fhi_format(accepted, sizeof accepted, "a plain number from %s to %s (the unit stands in the column's name)", fhi_shortest(lo, sizeof lo, kind->lo),
                   fhi_shortest(hi, sizeof hi, kind->hi));
  if (cell[0] == '\0') {
    return refuse(t, at, kind->name, "empty", kind->what == WHAT_HAND ? "a number; leave a reading that was not taken out of the table" : accepted);
  }
  if (!fhi_parse_number(cell, strlen(cell), &value)) {
    (void)fhi_format(what, sizeof what, "not a number: %s", cli_text_clean(shown, sizeof shown, cell));
    return refuse(t, at, kind->name, what, accepted);
  }
  if (!(value >= kind->lo && value <= kind->hi)) {
    (void)fhi_format(what, sizeof what, "out of range: %s", cli_text_clean(shown, sizeof shown, cell));
    return refuse(t, at, kind->name, what, accepted);
  }
  *out = value * kind->to_si;
  return CLI_DONE;
}

static int read_cell(table *t, const char *at, const char *cell, const column_kind *kind, fh_reading *row) {
  switch (kind->what) {
  case WHAT_SCENE:
    return cell[0] == '\0' ? refuse(t, at, "scene", "empty", "the file of a scene with its rig") : scene_for(t, at, cell, &row->scene);
  case WHAT_HAND: return read_number(t, at, cell, kind, &row->hand);
  case WHAT_LOAD: return read_number(t, at, cell, kind, &row->load);
  case WHAT_TURN: return read_number(t, at, cell, kind, &row->turn);
  case WHAT_NOTE: break;
  }
  return CLI_DONE;
}

static int read_row(table *t, const char *end) {
  fh_reading row = {.load = (double)NAN, .turn = (double)NAN, .line = t->line};
  char cell[CELL];
  const char *cell_at = t->start;
  int count = 0;
  for (const char *at = t->start; at != NULL; count++) {
    at = next_cell(at, end, cell, &cell_at);
    if (count == t->column_count) {
      return refuse(t, cell_at, "", "more cells than columns", "one cell a column; a comma in a note has no place here");
    }
    int status = read_cell(t, cell_at, cell, t->columns[count], &row);
    if (status != CLI_DONE) {
      return status;
    }
  }
  if (count < t->column_count) {
    return refuse(t, end, "", "fewer cells than columns", "one cell a column");
  }
  if (t->out->count == FH_MAX_READINGS) {
    return refuse(t, t->start, "", "too many readings", "2000 at most");
  }
  if (t->out->count == t->room) {
    int room = t->room > 0 ? 2 * t->room : 64;
    fh_reading *grown = fhi_realloc(t->out->rows, (size_t)room, sizeof *grown);
    if (grown == NULL) {
      return cli_fail(FH_ERR_MEMORY);
    }
    t->out->rows = grown;
    t->room = room;
  }
  t->out->rows[t->out->count++] = row;
  return CLI_DONE;
}

static int read_lines(table *t, const char *text, size_t size) {
  const char *stop = text + size;
  bool marked = size >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0;  // what spreadsheets put before UTF-8
  for (const char *at = marked ? text + 3 : text; at < stop;) {
    const char *end = memchr(at, '\n', (size_t)(stop - at));
    end = end != NULL ? end : stop;
    t->line++;
    t->start = at;
    const char *first = at;
    while (first < end && (*first == ' ' || *first == '\t' || *first == '\r')) {
      first++;
    }
    int status = first == end || *first == '#' ? CLI_DONE : t->column_count == 0 ? read_header(t, end) : read_row(t, end);
    if (status != CLI_DONE) {
      return status;
    }
    at = end < stop ? end + 1 : stop;
  }
  if (t->out->count == 0) {
    t->start = text;
    t->line = t->line > 0 ? t->line : 1;
    return refuse(t, text, "", "no reading in this file", "a line of column names, then one line a reading");
  }
  return CLI_DONE;
}

static int read_all(const char *path, char **text, size_t *size) {
  FILE *file = strcmp(path, "-") == 0 ? stdin : fopen(path, "rb");
  if (file == NULL) {
    (void)fprintf(stderr, "%s: cannot be read: %s\n", path, strerror(errno));
    return CLI_INPUT_WRONG;
  }
  *text = fhi_alloc(MOST_BYTES + 1, 1);
  *size = *text != NULL ? fread(*text, 1, MOST_BYTES + 1, file) : 0;
  bool bad = ferror(file) != 0;
  int trouble = errno;
  if (file != stdin) {
    (void)fclose(file);
  }
  if (*text == NULL) {
    return cli_fail(FH_ERR_MEMORY);
  }
  if (bad || *size > MOST_BYTES || memchr(*text, '\0', *size) != NULL) {
    (void)fprintf(stderr, "%s: %s\n", path, bad ? strerror(trouble) : *size > MOST_BYTES ? "too large, accepted: 1 MiB at most" : "not a text");
    fhi_free(*text);
    return CLI_INPUT_WRONG;
  }
  return CLI_DONE;
}

int cli_readings_open(const char *path, const fh_gear *gear, cli_readings *r) {
  char *text = NULL;
  size_t size = 0;
  *r = (cli_readings){0};
  int status = read_all(path, &text, &size);
  if (status != CLI_DONE) {
    return status;
  }
  r->scenes = fhi_alloc(MOST_SCENES, sizeof *r->scenes);
  r->paths = fhi_alloc(MOST_SCENES, sizeof *r->paths);
  table t = {.path = path, .gear = gear, .out = r};
  status = r->scenes != NULL && r->paths != NULL ? read_lines(&t, text, size) : cli_fail(FH_ERR_MEMORY);
  fhi_free(text);
  if (status != CLI_DONE) {
    cli_readings_close(r);
  }
  return status;
}

void cli_readings_close(cli_readings *r) {
  for (int i = 0; i < r->scene_count; i++) {
    fh_scene_destroy(r->scenes[i]);
    fhi_free(r->paths[i]);
  }
  fhi_free(r->scenes);
  fhi_free(r->paths);
  fhi_free(r->rows);
  *r = (cli_readings){0};
}
