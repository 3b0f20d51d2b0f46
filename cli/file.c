// SPDX-License-Identifier: MIT
// How does output reach its place without ever leaving half a file? It is written beside it and renamed at the end.
// The descriptors are used directly: each refusal (disk full, closed pipe, no permission) then comes with its own errno.
#define _DEFAULT_SOURCE
#define _XOPEN_SOURCE 700  // mkstemp, realpath, fchmod
#include "file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "memory.h"
#include "screen.h"

static bool complain(const char *path, int trouble) {
  char name[512];
  const char *shown = strcmp(path, "-") == 0 ? "standard output" : cli_text_clean(name, sizeof name, path);
  (void)fprintf(stderr, "firnhaul: %s: cannot write: %s\n", shown, strerror(trouble));
  return false;
}

bool cli_same_file(const char *a, const char *b) {
  struct stat at_a;
  struct stat at_b;
  bool is_a = stat(a, &at_a) == 0;
  if (strcmp(a, "-") == 0 || strcmp(b, "-") == 0 || (is_a && !S_ISREG(at_a.st_mode))) {
    return false;
  }
  return strcmp(a, b) == 0 || (is_a && stat(b, &at_b) == 0 && at_a.st_dev == at_b.st_dev && at_a.st_ino == at_b.st_ino);
}

static bool write_all(int file, const char *bytes, size_t count) {
  while (count > 0) {
    ssize_t n = write(file, bytes, count);
    if (n < 0 && errno == EINTR) {
      continue;
    }
    if (n < 0) {
      return false;
    }
    bytes += n;
    count -= (size_t)n;
  }
  return true;
}

static void flush(cli_sink *s) {
  if (s->trouble == 0 && !write_all(s->file, s->buffer, s->used)) {
    s->trouble = errno;
  }
  s->used = 0;
}

static int sink_write(void *user, const char *bytes, size_t count) {
  cli_sink *s = user;
  while (count > 0 && s->trouble == 0) {
    size_t part = sizeof s->buffer - s->used;
    part = part < count ? part : count;
    memcpy(s->buffer + s->used, bytes, part);
    s->used += part;
    bytes += part;
    count -= part;
    if (s->used == sizeof s->buffer) {
      flush(s);
    }
  }
  return s->trouble;
}

fh_out cli_sink_out(cli_sink *s) {
  return (fh_out){sink_write, s};
}

static void forget_names(cli_sink *s) {
  fhi_free(s->temporary);
  free(s->target);  // from realpath or strdup
  s->temporary = NULL;
  s->target = NULL;
}

// A device or pipe takes bytes as they come; there is nothing to rename over.
static bool open_straight(cli_sink *s) {
  s->file = open(s->path, O_WRONLY | O_CLOEXEC);
  return s->file >= 0 || complain(s->path, errno);
}

// The mode that the file has, or that a new file would get: mkstemp alone would make it private.
static mode_t wanted_mode(const struct stat *old, bool exists) {
  mode_t mask = umask(0);
  (void)umask(mask);
  return exists ? old->st_mode & 0777 : 0666 & ~mask;
}

static bool open_beside(cli_sink *s, const struct stat *old, bool exists) {
  static const char suffix[] = ".XXXXXX";
  s->target = exists ? realpath(s->path, NULL) : strdup(s->path);
  size_t size = s->target != NULL ? strlen(s->target) + sizeof suffix : 0;
  s->temporary = size > 0 ? fhi_alloc(size, 1) : NULL;
  if (s->temporary == NULL) {
    int trouble = errno != 0 ? errno : ENOMEM;
    forget_names(s);
    return complain(s->path, trouble);
  }
  (void)snprintf(s->temporary, size, "%s%s", s->target, suffix);
  s->file = mkstemp(s->temporary);
  if (s->file < 0) {
    int trouble = errno;
    forget_names(s);
    return complain(s->path, trouble);
  }
  (void)fchmod(s->file, wanted_mode(old, exists));
  return true;
}

bool cli_sink_open(cli_sink *s, const char *path) {
  struct stat old;
  memset(s, 0, sizeof *s);
  s->path = path;
  s->file = -1;
  if (strcmp(path, "-") == 0) {
    s->file = STDOUT_FILENO;
    return true;
  }
  bool exists = stat(path, &old) == 0;
  if (!exists && errno != ENOENT) {
    return complain(path, errno);
  }
  if (exists && S_ISDIR(old.st_mode)) {
    return complain(path, EISDIR);
  }
  if (exists && access(path, W_OK) != 0) {
    return complain(path, errno);  // renaming over it would work, but it was made read-only for a reason
  }
  return exists && !S_ISREG(old.st_mode) ? open_straight(s) : open_beside(s, &old, exists);
}

bool cli_sink_close(cli_sink *s) {
  flush(s);
  bool standard = strcmp(s->path, "-") == 0;
  if (!standard && close(s->file) != 0 && s->trouble == 0) {
    s->trouble = errno;
  }
  s->file = -1;
  if (s->trouble == 0 && s->temporary != NULL && rename(s->temporary, s->target) != 0) {
    s->trouble = errno;
  }
  if (s->trouble != 0 && s->temporary != NULL) {
    (void)unlink(s->temporary);
  }
  forget_names(s);
  return s->trouble == 0 || complain(s->path, s->trouble);
}

void cli_sink_abandon(cli_sink *s) {
  if (s->file >= 0 && strcmp(s->path, "-") != 0) {
    (void)close(s->file);
  }
  s->file = -1;
  if (s->temporary != NULL) {
    (void)unlink(s->temporary);
  }
  forget_names(s);
}

static int buffer_write(void *user, const char *bytes, size_t count) {
  cli_buffer *b = user;
  if (count >= (size_t)CLI_BUFFER_MAX - b->used) {
    return ENOMEM;
  }
  if (b->used + count + 1 > b->room) {
    size_t room = b->room < 4096 ? 4096 : b->room;
    while (room < b->used + count + 1) {
      room *= 2;
    }
    char *text = fhi_realloc(b->text, room, 1);
    if (text == NULL) {
      return ENOMEM;
    }
    b->text = text;
    b->room = room;
  }
  memcpy(b->text + b->used, bytes, count);
  b->used += count;
  b->text[b->used] = '\0';
  return 0;
}

fh_out cli_buffer_out(cli_buffer *b) {
  return (fh_out){buffer_write, b};
}

void cli_buffer_free(cli_buffer *b) {
  fhi_free(b->text);
  *b = (cli_buffer){0};
}
