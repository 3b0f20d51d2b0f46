// SPDX-License-Identifier: MIT
// What does a YAML text say? libyaml's events go into a document; what a scene never needs is refused where it stands.
#define _POSIX_C_SOURCE 200809L
#include "yaml.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <yaml.h>

static void tell(fh_diag *diag, int line, int column, const char *message, const char *accepted) {
  memset(diag, 0, sizeof *diag);
  diag->line = line;
  diag->column = column;
  (void)snprintf(diag->message, sizeof diag->message, "%s", message);
  (void)snprintf(diag->accepted, sizeof diag->accepted, "%s", accepted);
}

// ---------------------------------------------------------------------------------------------------- places

// libyaml counts characters; the diagnostic counts bytes. Marks come nearly always in rising order, so walk on from the last.
typedef struct cursor {
  const unsigned char *bytes;
  size_t count;
  size_t at, index;   // [byte], [character]
  size_t line_start;  // [byte]
  int line;
} cursor;

static void restart(cursor *c) {
  c->at = c->index = c->line_start = 0;
  c->line = 1;
}

// Line breaks as libyaml sees them: CR LF counts as two characters and one line; NEL, LS and PS break lines as well.
static void step(cursor *c) {
  const unsigned char *p = c->bytes + c->at;
  size_t left = c->count - c->at;
  size_t width = p[0] < 0x80 ? 1 : p[0] < 0xE0 ? 2 : p[0] < 0xF0 ? 3 : 4;
  bool crlf = p[0] == '\r' && left > 1 && p[1] == '\n';
  bool nel = width == 2 && left > 1 && p[0] == 0xC2 && p[1] == 0x85;
  bool separator = width == 3 && left > 2 && p[0] == 0xE2 && p[1] == 0x80 && (p[2] == 0xA8 || p[2] == 0xA9);
  c->at += width < left ? width : left;
  c->index++;
  if ((p[0] == '\r' && !crlf) || p[0] == '\n' || nel || separator) {
    c->line++;
    c->line_start = c->at;
  }
}

static void find_place(cursor *c, size_t index, int *line, int *column) {
  if (index < c->index) {
    restart(c);
  }
  while (c->index < index && c->at < c->count) {
    step(c);
  }
  size_t mark = c->line == 1 && c->count >= 3 && memcmp(c->bytes, "\xEF\xBB\xBF", 3) == 0 && c->at >= 3 ? 3 : 0;
  *line = c->line;
  *column = (int)(c->at - c->line_start - mark) + 1;
}

// ---------------------------------------------------------------------------------------------------- bytes

// The first byte that is no UTF-8, or NUL. @return its offset, or count
static size_t bad_byte(const unsigned char *p, size_t count) {
  for (size_t i = 0; i < count;) {
    unsigned char c = p[i];
    size_t more = c < 0x80 ? 0 : c < 0xC2 ? 9 : c < 0xE0 ? 1 : c < 0xF0 ? 2 : c < 0xF5 ? 3 : 9;
    if (c == 0 || more == 9 || more > count - i - 1) {
      return i;
    }
    for (size_t k = 1; k <= more; k++) {
      if ((p[i + k] & 0xC0) != 0x80) {
        return i;
      }
    }
    bool overlong = (c == 0xE0 && p[i + 1] < 0xA0) || (c == 0xF0 && p[i + 1] < 0x90);
    bool outside = (c == 0xED && p[i + 1] >= 0xA0) || (c == 0xF4 && p[i + 1] >= 0x90);
    if (overlong || outside) {
      return i;
    }
    i += more + 1;
  }
  return count;
}

static bool check_bytes(const char *bytes, size_t count, fh_diag *diag) {
  if (count > CLI_YAML_MAX) {
    tell(diag, 0, 0, "the file is too large", "at most 1 MiB");
    return false;
  }
  size_t bad = bad_byte((const unsigned char *)bytes, count);
  if (bad == count) {
    return true;
  }
  int line = 1;
  size_t start = 0;
  for (size_t i = 0; i < bad; i++) {
    if (bytes[i] == '\n') {
      line++;
      start = i + 1;
    }
  }
  tell(diag, line, (int)(bad - start) + 1, bytes[bad] == '\0' ? "a NUL byte" : "a byte that is not UTF-8",
       "text in UTF-8");
  return false;
}

// ---------------------------------------------------------------------------------------------------- events

typedef struct feeding {
  yaml_parser_t *parser;
  cursor place;
  fh_doc *doc;
  fh_diag *diag;
  int documents;
} feeding;

static fh_status refuse(feeding *f, yaml_mark_t mark, const char *message, const char *accepted) {
  int line = 0, column = 0;
  find_place(&f->place, mark.index, &line, &column);
  tell(f->diag, line, column, message, accepted);
  return FH_ERR_INPUT;
}

static fh_status refuse_syntax(feeding *f) {
  const yaml_parser_t *p = f->parser;
  char message[sizeof f->diag->message];
  if (p->error == YAML_MEMORY_ERROR) {
    return FH_ERR_MEMORY;
  }
  (void)snprintf(message, sizeof message, "%s%s%s", p->context != NULL ? p->context : "",
                 p->context != NULL ? ", " : "", p->problem != NULL ? p->problem : "not YAML");
  if (p->error == YAML_READER_ERROR) {  // it counts bytes and gives no mark
    size_t keep = 0;
    restart(&f->place);
    while (f->place.at < f->place.count && f->place.at < p->problem_offset) {
      step(&f->place);
    }
    keep = f->place.index;
    return refuse(f, (yaml_mark_t){.index = keep}, message, "YAML or JSON text");
  }
  return refuse(f, p->problem_mark, message, "YAML or JSON text");
}

// What the document said about an event that it did not take.
static fh_status took(feeding *f, fh_status status, yaml_mark_t mark) {
  if (status == FH_ERR_LIMIT) {
    return refuse(f, mark, "the document is too deep or too large", "at most 32 levels and 100,000 entries");
  }
  if (status == FH_ERR_ARG) {
    return refuse(f, mark, "neither a map, nor a list, nor plain text with a plain key",
                  "keys and values in UTF-8 without NUL");
  }
  return status;
}

static fh_status feed(feeding *f, const yaml_event_t *e) {
  int line = 0, column = 0;
  find_place(&f->place, e->start_mark.index, &line, &column);
  switch (e->type) {
  case YAML_DOCUMENT_START_EVENT:
    if (++f->documents > 1) {
      return refuse(f, e->start_mark, "a second document", "one document a file");
    }
    return FH_OK;
  case YAML_ALIAS_EVENT: return refuse(f, e->start_mark, "a YAML alias", "values written out, without & and *");
  case YAML_SCALAR_EVENT:
    if (e->data.scalar.anchor != NULL) {
      return refuse(f, e->start_mark, "a YAML anchor", "values written out, without & and *");
    }
    if (e->data.scalar.tag != NULL) {
      return refuse(f, e->start_mark, "a YAML tag", "values without !");
    }
    return took(f,
                fh_doc_scalar(f->doc, (const char *)e->data.scalar.value, e->data.scalar.length,
                              e->data.scalar.style != YAML_PLAIN_SCALAR_STYLE, line, column),
                e->start_mark);
  case YAML_SEQUENCE_START_EVENT:
    if (e->data.sequence_start.anchor != NULL || e->data.sequence_start.tag != NULL) {
      return refuse(f, e->start_mark, "a YAML anchor or tag", "values written out, without &, * and !");
    }
    return took(f, fh_doc_list_begin(f->doc, line, column), e->start_mark);
  case YAML_MAPPING_START_EVENT:
    if (e->data.mapping_start.anchor != NULL || e->data.mapping_start.tag != NULL) {
      return refuse(f, e->start_mark, "a YAML anchor or tag", "values written out, without &, * and !");
    }
    return took(f, fh_doc_map_begin(f->doc, line, column), e->start_mark);
  case YAML_SEQUENCE_END_EVENT: return took(f, fh_doc_list_end(f->doc), e->start_mark);
  case YAML_MAPPING_END_EVENT: return took(f, fh_doc_map_end(f->doc), e->start_mark);
  case YAML_NO_EVENT:
  case YAML_STREAM_START_EVENT:
  case YAML_STREAM_END_EVENT:
  case YAML_DOCUMENT_END_EVENT: break;
  }
  return FH_OK;
}

static fh_status feed_all(feeding *f) {
  for (bool more = true; more;) {
    yaml_event_t event;
    if (!yaml_parser_parse(f->parser, &event)) {
      return refuse_syntax(f);
    }
    fh_status status = feed(f, &event);
    more = event.type != YAML_STREAM_END_EVENT;
    yaml_event_delete(&event);
    if (status != FH_OK) {
      return status;
    }
  }
  return FH_OK;
}

fh_status cli_yaml_parse(const char *bytes, size_t count, fh_doc **out, fh_diag *diag) {
  yaml_parser_t parser;
  *out = NULL;
  if (!check_bytes(bytes, count, diag)) {
    return FH_ERR_INPUT;
  }
  // A mark that some editors put before UTF-8. Told the encoding, libyaml takes it for text; columns count from behind it.
  if (count >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
    bytes += 3;
    count -= 3;
  }
  feeding f = {.parser = &parser, .place = {.bytes = (const unsigned char *)bytes, .count = count}, .diag = diag};
  restart(&f.place);
  fh_status status = fh_doc_create(&f.doc);
  if (status != FH_OK) {
    return status;
  }
  if (!yaml_parser_initialize(&parser)) {
    fh_doc_destroy(f.doc);
    return FH_ERR_MEMORY;
  }
  yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
  yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, count);
  status = feed_all(&f);
  yaml_parser_delete(&parser);
  if (status != FH_OK) {
    fh_doc_destroy(f.doc);
    return status;
  }
  *out = f.doc;
  return FH_OK;
}

// ---------------------------------------------------------------------------------------------------- files

enum { WAIT_MS = 2000 };  // a pipe that nobody writes to must not hang the program; a person typing goes through "-"

// One read, which for pipes and devices waits a little but not for ever. @return as read(2); -2 when nothing came
static ssize_t read_some(int fd, bool patient, char *to, size_t size) {
  for (;;) {
    if (!patient) {
      struct pollfd p = {.fd = fd, .events = POLLIN};
      int ready = poll(&p, 1, WAIT_MS);
      if (ready == 0) {
        return -2;
      }
    }
    ssize_t n = read(fd, to, size);
    if (n >= 0 || (errno != EINTR && errno != EAGAIN)) {
      return n;
    }
  }
}

// Reads up to one byte more than is allowed: enough to know that it is too much.
static fh_status read_all(int fd, bool patient, char *buffer, size_t *count, fh_diag *diag) {
  *count = 0;
  while (*count <= CLI_YAML_MAX) {
    ssize_t n = read_some(fd, patient, buffer + *count, (size_t)CLI_YAML_MAX + 1 - *count);
    if (n == 0) {
      return FH_OK;
    }
    if (n < 0) {
      tell(diag, 0, 0, n == -2 ? "nothing comes out of the pipe" : strerror(errno),
           "a readable file, or - for standard input");
      return FH_ERR_INPUT;
    }
    *count += (size_t)n;
  }
  return FH_OK;
}

static fh_status read_and_parse(int fd, bool patient, fh_doc **out, fh_diag *diag) {
  char *buffer = malloc((size_t)CLI_YAML_MAX + 1);
  size_t count = 0;
  if (buffer == NULL) {
    return FH_ERR_MEMORY;
  }
  fh_status status = read_all(fd, patient, buffer, &count, diag);
  if (status == FH_OK) {
    status = cli_yaml_parse(buffer, count, out, diag);
  }
  free(buffer);
  return status;
}

fh_status cli_yaml_read(const char *path, fh_doc **out, fh_diag *diag) {
  struct stat st;
  *out = NULL;
  if (strcmp(path, "-") == 0) {
    return read_and_parse(STDIN_FILENO, true, out, diag);
  }
  int fd =
      open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);  // a named pipe without a writer must not hang here
  if (fd < 0 || fstat(fd, &st) != 0) {
    tell(diag, 0, 0, strerror(errno), "a readable file, or - for standard input");
    if (fd >= 0) {
      (void)close(fd);
    }
    return FH_ERR_INPUT;
  }
  fh_status status = FH_ERR_INPUT;
  if (S_ISDIR(st.st_mode)) {
    tell(diag, 0, 0, "it is a directory", "a file");
  } else if (S_ISREG(st.st_mode) && st.st_size > CLI_YAML_MAX) {
    tell(diag, 0, 0, "the file is too large", "at most 1 MiB");
  } else {
    status = read_and_parse(fd, S_ISREG(st.st_mode), out, diag);
  }
  (void)close(fd);
  return status;
}

// ---------------------------------------------------------------------------------------------------- messages

int cli_yaml_complain(const char *path, fh_status status, const fh_diag *diag) {
  if (status == FH_OK) {
    return 0;
  }
  if (status != FH_ERR_INPUT) {
    (void)fprintf(stderr, "%s: %s\n", path, fh_status_text(status));
    return 3;
  }
  char place[32] = "";
  if (diag->line > 0) {
    (void)snprintf(place, sizeof place, ":%d:%d", diag->line, diag->column);
  }
  (void)fprintf(stderr, "%s%s: %s%s%s%s%s\n", path, place, diag->key, diag->key[0] != '\0' ? ": " : "", diag->message,
                diag->accepted[0] != '\0' ? ", accepted: " : "", diag->accepted);
  return 2;
}
