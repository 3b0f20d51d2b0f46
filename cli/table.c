// SPDX-License-Identifier: MIT
// How does a table fit a narrow screen? First the columns that may wrap give way, the widest first. When even their least
// widths do not fit, each row becomes a short list of "head: cell" lines.
#include "table.h"

#include <string.h>

#include "memory.h"

enum { MAX_COLUMNS = 16, GAP = 2, CELL = 1024 };

struct cli_table {
  const cli_column *columns;
  int count;
  char **cells;  // rows x count
  cli_style *styles;
  int rows, room;
  bool failed;   // a row was lost for want of memory
};

cli_table *cli_table_create(const cli_column *columns, int count) {
  cli_table *t = count >= 1 && count <= MAX_COLUMNS ? fhi_alloc(1, sizeof *t) : NULL;
  if (t != NULL) {
    t->columns = columns;
    t->count = count;
  }
  return t;
}

void cli_table_destroy(cli_table *t) {
  if (t == NULL) {
    return;
  }
  for (int i = 0; i < t->rows * t->count; i++) {
    fhi_free(t->cells[i]);
  }
  fhi_free(t->cells);
  fhi_free(t->styles);
  fhi_free(t);
}

static bool grow(cli_table *t) {
  int room = t->room == 0 ? 16 : t->room * 2;
  char **cells = fhi_realloc(t->cells, (size_t)room * (size_t)t->count, sizeof *cells);
  if (cells == NULL) {
    return false;
  }
  t->cells = cells;
  cli_style *styles = fhi_realloc(t->styles, (size_t)room, sizeof *styles);
  if (styles == NULL) {
    return false;
  }
  t->styles = styles;
  t->room = room;
  return true;
}

static char *copy_clean(const char *text) {
  size_t size = strlen(text) + 1;
  size = size < CELL ? size : CELL;
  char *copy = fhi_alloc(size, 1);
  if (copy != NULL) {
    (void)cli_text_clean(copy, size, text);
  }
  return copy;
}

void cli_table_add(cli_table *t, cli_style style, const char *const *cells) {
  if (t->failed || (t->rows == t->room && !grow(t))) {
    t->failed = true;
    return;
  }
  char **row = t->cells + t->rows * t->count;
  for (int c = 0; c < t->count; c++) {
    row[c] = copy_clean(cells[c]);
    if (row[c] == NULL) {
      for (int k = 0; k < c; k++) {
        fhi_free(row[k]);
      }
      t->failed = true;
      return;
    }
  }
  t->styles[t->rows++] = style;
}

static const char *cell(const cli_table *t, int row, int column) {
  return row < 0 ? t->columns[column].head : t->cells[row * t->count + column];
}

static int total(const cli_table *t, const int *widths) {
  int sum = GAP * (t->count - 1);
  for (int c = 0; c < t->count; c++) {
    sum += widths[c];
  }
  return sum;
}

// Takes one column after the other from the widest that may give way. @return true when it fits
static bool narrow(const cli_table *t, int *widths, int width) {
  while (total(t, widths) > width) {
    int widest = -1;
    for (int c = 0; c < t->count; c++) {
      bool gives = t->columns[c].least > 0 && widths[c] > t->columns[c].least;
      if (gives && (widest < 0 || widths[c] > widths[widest])) {
        widest = c;
      }
    }
    if (widest < 0) {
      return false;
    }
    widths[widest]--;
  }
  return true;
}

static bool is_last_text(const cli_table *t, int column) {
  return column == t->count - 1 && !t->columns[column].right;
}

// One cell's part on one line. @return the text that is left
static const char *write_part(cli_screen *s, const cli_table *t, int column, int width, cli_style style, const char *text) {
  char part[CELL];
  size_t skip;
  size_t count = cli_text_break(text, width, &skip);
  memcpy(part, text, count);
  part[count] = '\0';
  int room = width - cli_text_width(part);
  if (t->columns[column].right) {
    cli_put_spaces(s, room);
  }
  cli_put_style(s, style, part);
  if (!t->columns[column].right && !is_last_text(t, column)) {
    cli_put_spaces(s, room);
  }
  return text + count + skip;
}

static void write_row(const cli_table *t, cli_screen *s, const int *widths, int row) {
  const char *left[MAX_COLUMNS];
  cli_style style = row < 0 ? CLI_BOLD : t->styles[row];
  for (int c = 0; c < t->count; c++) {
    left[c] = cell(t, row, c);
  }
  for (bool more = true; more;) {
    more = false;
    for (int c = 0; c < t->count; c++) {
      cli_put_spaces(s, c > 0 ? GAP : 0);
      left[c] = write_part(s, t, c, widths[c], style, left[c]);
      more = more || *left[c] != '\0';
    }
    cli_put(s, "\n");
  }
}

static void write_stacked(const cli_table *t, cli_screen *s, int row) {
  cli_put_wrapped(s, CLI_BOLD, cell(t, row, 0), "");
  for (int c = 1; c < t->count; c++) {
    if (cell(t, row, c)[0] == '\0') {
      continue;
    }
    char lead[CELL];
    (void)fhi_format(lead, sizeof lead, "  %s: ", t->columns[c].head);
    cli_put_wrapped(s, CLI_PLAIN, lead, cell(t, row, c));
  }
}

fh_status cli_table_write(const cli_table *t, cli_screen *s) {
  if (t->failed) {
    return FH_ERR_MEMORY;
  }
  int widths[MAX_COLUMNS];
  for (int c = 0; c < t->count; c++) {
    widths[c] = 1;
    for (int row = -1; row < t->rows; row++) {
      int w = cli_text_width(cell(t, row, c));
      widths[c] = w > widths[c] ? w : widths[c];
    }
  }
  bool fits = narrow(t, widths, s->width);
  for (int row = fits ? -1 : 0; row < t->rows; row++) {
    if (fits) {
      write_row(t, s, widths, row);
    } else {
      write_stacked(t, s, row);
    }
  }
  return FH_OK;
}
