// SPDX-License-Identifier: MIT
// Text for a terminal: its width, its colours, and nothing in it that a terminal would obey.
#ifndef CLI_SCREEN_H
#define CLI_SCREEN_H

#include "text.h"

typedef enum cli_style { CLI_PLAIN, CLI_BOLD, CLI_DIM, CLI_GOOD, CLI_WARN, CLI_BAD } cli_style;

typedef struct cli_screen {
  fhi_writer w;
  int width;    ///< columns, 20 or more
  bool colour;
  fh_language language;  ///< of what is written; English unless set after the start
} cli_screen;

/// The width to write for. @param asked columns, or 0: the terminal's, else COLUMNS, else 80
int cli_screen_width(int asked);
/// Colour only on a terminal, never with NO_COLOR, a dumb terminal, or when it was refused. @param to_terminal the text goes to standard output
bool cli_screen_colour(bool refused, bool to_terminal);

void cli_screen_start(cli_screen *s, fh_out out, int width, bool colour);
fh_status cli_screen_end(cli_screen *s);  ///< flushes. @return what went wrong first, or FH_OK

void cli_put(cli_screen *s, const char *text);  ///< control characters and direction marks become '?'; new lines stay
void cli_put_style(cli_screen *s, cli_style style, const char *text);
void cli_put_spaces(cli_screen *s, int count);
/// Breaks text at spaces to the screen's width. The first line starts with `lead`, the others with as many spaces.
void cli_put_wrapped(cli_screen *s, cli_style style, const char *lead, const char *text);
void cli_put_heading(cli_screen *s, const char *text);  ///< a line of its own, wrapped where it must

/// One character of UTF-8. @param cells its columns: 0, 1 or 2  @return its bytes; 0 at the end; 1 for a byte that is no UTF-8
size_t cli_text_next(const char *text, int *cells);
int cli_text_width(const char *text);  ///< @return columns on a terminal
/// Copies text so that a terminal shows it and does nothing else. @return to
const char *cli_text_clean(char *to, size_t size, const char *text);
/// Text and spaces behind it, to so many columns; at least one space. @return to
const char *cli_text_pad(char *to, size_t size, const char *text, int columns);
/// How many bytes of text fit in so many columns, broken at a space where there is one. @param skip spaces to leave out after them
size_t cli_text_break(const char *text, int columns, size_t *skip);

#endif
