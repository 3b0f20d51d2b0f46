// SPDX-License-Identifier: MIT
// Where output goes: standard output, or a file that is whole or untouched. What the world refuses is said on standard error.
#ifndef CLI_FILE_H
#define CLI_FILE_H

#include "text.h"

typedef struct cli_sink {
  const char *path;  ///< as asked for; "-" is standard output
  char *target;      ///< the file that is replaced in the end, links followed; NULL when written straight
  char *temporary;   ///< beside it; NULL when written straight
  int file;          ///< descriptor, -1 when closed
  int trouble;       ///< errno of the first failure, 0 when none
  size_t used;
  char buffer[16384];
} cli_sink;

/// Opens a place to write to. A regular file is written beside its place and renamed by cli_sink_close; a device or a pipe is
/// written straight. @param path kept by reference  @return false when that failed, and says so on standard error
bool cli_sink_open(cli_sink *s, const char *path);
fh_out cli_sink_out(cli_sink *s);
/// Writes what is left and puts the file in place. @return false when anything failed: then says so, and leaves no half file
bool cli_sink_close(cli_sink *s);
/// Gives up: nothing is put in place.
void cli_sink_abandon(cli_sink *s);

/// Whether writing to one would replace the other: one name, or two names of one regular file. Never for "-" or a device.
bool cli_same_file(const char *a, const char *b);

/// Text kept in memory, for what is worked on before it is written.
typedef struct cli_buffer {
  char *text;  ///< NUL-terminated once something was written; NULL before
  size_t used, room;
} cli_buffer;

enum { CLI_BUFFER_MAX = 64 << 20 };  ///< [bytes]

fh_out cli_buffer_out(cli_buffer *b);  ///< b starts as {0}
void cli_buffer_free(cli_buffer *b);

#endif
