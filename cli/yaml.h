// SPDX-License-Identifier: MIT
// Reads YAML (and so JSON) into a document. Bounded: 1 MiB, depth and nodes of fh_doc; anchors, aliases, tags and a second
// document are refused. All messages carry line and column (in bytes).
#ifndef CLI_YAML_H
#define CLI_YAML_H

#include "firnhaul.h"

enum { CLI_YAML_MAX = 1024 * 1024 };  ///< [byte] of one file

/// Reads a file, or standard input when `path` is "-". Never reads more than CLI_YAML_MAX + 1 bytes.
/// @return FH_OK; FH_ERR_INPUT with `diag` filled (line 0 when the file itself is the trouble); FH_ERR_MEMORY
fh_status cli_yaml_read(const char *path, fh_doc **out, fh_diag *diag);

/// The same from memory. @return as above
fh_status cli_yaml_parse(const char *bytes, size_t count, fh_doc **out, fh_diag *diag);

/// Tells on standard error what cli_yaml_read, fh_scene_create or fh_gear_add refused, in one line:
///   FILE:LINE:COLUMN: key: what is wrong, accepted: what is accepted
/// @return the exit status: 0 when the status is FH_OK, 2 when the input was wrong, 3 otherwise
int cli_yaml_complain(const char *path, fh_status status, const fh_diag *diag);

#endif
