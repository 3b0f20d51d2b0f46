// SPDX-License-Identifier: MIT
// A table that fits its screen: columns give way, and where that is not enough each row is written as a short list.
#ifndef CLI_TABLE_H
#define CLI_TABLE_H

#include "screen.h"

typedef struct cli_column {
  const char *head;
  bool right;  ///< numbers: to the right
  int least;   ///< columns that it can be narrowed to, its text then wraps; 0: it keeps its width
} cli_column;

typedef struct cli_table cli_table;

/// @param columns kept by reference  @param count 1 to 16  @return NULL without memory
cli_table *cli_table_create(const cli_column *columns, int count);
void cli_table_destroy(cli_table *t);
/// Adds a row; the cells are copied and cleaned. Without memory the table remembers it. @param cells as many as columns
void cli_table_add(cli_table *t, cli_style style, const char *const *cells);
/// Writes it, heads and columns of words in the screen's language. Once only. @return FH_OK or FH_ERR_MEMORY; what the screen refuses is the screen's status
fh_status cli_table_write(cli_table *t, cli_screen *s);

#endif
