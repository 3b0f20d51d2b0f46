// SPDX-License-Identifier: MIT
// How does a table fit a narrow screen? First the columns that may wrap give way, the widest first, down to their longest
// word. When that does not fit, each row becomes a short list of "head: cell" lines.
#include "table.h"

#include <string.h>

#include "memory.h"
#include "words.h"

enum { MAX_COLUMNS = 16, GAP = 2, CELL = 1024, LONG_WORD = 16, HEAD = 80 };

struct cli_table {
  const cli_column *columns;
  char (*heads)[HEAD];  // in the screen's language, once it is written
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
    t->heads = fhi_alloc((size_t)count, sizeof *t->heads);
    t->failed = t->heads == NULL;
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
  fhi_free(t->heads);
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
  return row < 0 ? t->heads[column] : t->cells[row * t->count + column];
}

static int total(const cli_table *t, const int *widths) {
  int sum = GAP * (t->count - 1);
  for (int c = 0; c < t->count; c++) {
    sum += widths[c];
  }
  return sum;
}

// The longest word of a column: a word broken in two can no longer be read. Only a very long one may be.
static int longest_word(const cli_table *t, int column) {
  int longest = 1;
  for (int row = -1; row < t->rows; row++) {
    char part[CELL];
    for (const char *at = cell(t, row, column); *at != '\0';) {
      size_t count = strcspn(at, " ");
      memcpy(part, at, count);
      part[count] = '\0';
      int width = cli_text_width(part);
      longest = width > longest ? width : longest;
      at += count + strspn(at + count, " ");
    }
  }
  return longest < LONG_WORD ? longest : LONG_WORD;
}

// Takes one column after the other from the widest that may give way. @return true when it fits
static bool narrow(const cli_table *t, int *widths, int width) {
  int least[MAX_COLUMNS];
  for (int c = 0; c < t->count; c++) {
    int word = longest_word(t, c);
    least[c] = t->columns[c].least == 0 ? widths[c] : t->columns[c].least > word ? t->columns[c].least : word;
  }
  while (total(t, widths) > width) {
    int widest = -1;
    for (int c = 0; c < t->count; c++) {
      if (widths[c] > least[c] && (widest < 0 || widths[c] > widths[widest])) {
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

// One cell's part on one line. Spaces are owed until text follows them, so that no line ends in any. @return the text that is left
static const char *write_part(cli_screen *s, const cli_column *column, int width, cli_style style, const char *text, int *owed) {
  char part[CELL];
  size_t skip;
  size_t count = cli_text_break(text, width, &skip);
  memcpy(part, text, count);
  part[count] = '\0';
  int room = width - cli_text_width(part);
  *owed += column->right ? room : 0;
  if (count > 0) {
    cli_put_spaces(s, *owed);
    cli_put_style(s, style, part);
    *owed = 0;
  }
  *owed += column->right ? 0 : room;
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
    int owed = 0;
    for (int c = 0; c < t->count; c++) {
      owed += c > 0 ? GAP : 0;
      left[c] = write_part(s, &t->columns[c], widths[c], style, left[c], &owed);
      more = more || *left[c] != '\0';
    }
    cli_put(s, "\n");
  }
}

// The columns before the first number name the row; in a table of words only the first one does.
static int naming_columns(const cli_table *t) {
  for (int c = 0; c < t->count; c++) {
    if (t->columns[c].right) {
      return c > 0 ? c : 1;
    }
  }
  return 1;
}

// The names on one line, then as many "head: cell" on each further line as fit whole.
static void write_stacked(const cli_table *t, cli_screen *s, int row) {
  char line[4 * CELL] = "";
  char item[2 * CELL];
  int names = naming_columns(t);
  for (int c = 0; c < names; c++) {
    const char *text = cell(t, row, c);
    size_t used = strlen(line);
    (void)fhi_format(line + used, sizeof line - used, "%s%s", used > 0 && text[0] != '\0' ? ", " : "", text);
  }
  if (line[0] != '\0') {
    cli_put_heading(s, line);
  }
  line[0] = '\0';
  for (int c = names; c < t->count; c++) {
    if (cell(t, row, c)[0] == '\0') {
      continue;
    }
    (void)fhi_format(item, sizeof item, "%s: %s", t->heads[c], cell(t, row, c));
    if (line[0] != '\0' && 2 + cli_text_width(line) + 2 + cli_text_width(item) + 1 > s->width) {
      (void)fhi_format(line + strlen(line), sizeof line - strlen(line), ";");
      cli_put_wrapped(s, CLI_PLAIN, "  ", line);
      line[0] = '\0';
    }
    (void)fhi_format(line + strlen(line), sizeof line - strlen(line), "%s%s", line[0] != '\0' ? "; " : "", item);
  }
  if (line[0] != '\0') {
    cli_put_wrapped(s, CLI_PLAIN, "  ", line);
  }
}

// Heads, and what stands in columns of words, in the screen's language: names of the user's own stay. @return false without memory
static bool speak(cli_table *t, fh_language language) {
  for (int c = 0; c < t->count; c++) {
    (void)fhi_name_said(t->heads[c], HEAD, language, t->columns[c].head);
    for (int row = 0; row < t->rows && language != FH_ENGLISH && !t->columns[c].right; row++) {
      char said[CELL];
      char **at = &t->cells[row * t->count + c];
      char *copy = copy_clean(fhi_names_said(said, sizeof said, language, *at));
      if (copy == NULL) {
        return false;
      }
      fhi_free(*at);
      *at = copy;
    }
  }
  return true;
}

fh_status cli_table_write(cli_table *t, cli_screen *s) {
  if (t->failed || !speak(t, s->language)) {
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
