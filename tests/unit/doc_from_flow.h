// SPDX-License-Identifier: MIT
// Tests only: makes a document from flow notation, {key: value, list: [1, "text"]}, with lines and columns.
#ifndef FH_TEST_DOC_FROM_FLOW_H
#define FH_TEST_DOC_FROM_FLOW_H

#include "fh_test.h"

typedef struct flow {
  const char *text, *at;
  fh_doc *doc;
  fh_status status;
} flow;

static inline void flow_place(const flow *f, const char *at, int *line, int *column) {
  *line = 1;
  *column = 1;
  for (const char *c = f->text; c < at; c++) {
    *column = *c == '\n' ? 1 : *column + 1;
    *line += *c == '\n';
  }
}

static inline void flow_keep(flow *f, fh_status status) {
  if (f->status == FH_OK) {
    f->status = status;
  }
}

static inline void flow_scalar(flow *f) {
  int line, column;
  flow_place(f, f->at, &line, &column);
  if (*f->at == '"') {
    const char *end = strchr(f->at + 1, '"');
    assert_non_null(end);
    flow_keep(f, fh_doc_scalar(f->doc, f->at + 1, (size_t)(end - f->at - 1), true, line, column));
    f->at = end + 1;
    return;
  }
  size_t n = strcspn(f->at, ",:[]{}\n");
  const char *start = f->at;
  f->at += n;
  while (n > 0 && start[n - 1] == ' ') {
    n--;
  }
  flow_keep(f, fh_doc_scalar(f->doc, start, n, false, line, column));
}

// Commas, colons and white space only part the rest.
static inline void flow_read(flow *f) {
  int line, column;
  while (*f->at != '\0' && f->status == FH_OK) {
    flow_place(f, f->at, &line, &column);
    switch (*f->at) {
    case ' ':
    case '\n':
    case ',':
    case ':': f->at++; break;
    case '{':
      flow_keep(f, fh_doc_map_begin(f->doc, line, column));
      f->at++;
      break;
    case '}':
      flow_keep(f, fh_doc_map_end(f->doc));
      f->at++;
      break;
    case '[':
      flow_keep(f, fh_doc_list_begin(f->doc, line, column));
      f->at++;
      break;
    case ']':
      flow_keep(f, fh_doc_list_end(f->doc));
      f->at++;
      break;
    default: flow_scalar(f); break;
    }
  }
}

/// @param out NULL when there was no memory  @return what the document said
static inline fh_status fh_test_doc(const char *text, fh_doc **out) {
  flow f = {.text = text, .at = text, .status = FH_OK};
  f.status = fh_doc_create(&f.doc);
  if (f.status == FH_OK) {
    flow_read(&f);
  }
  if (f.status != FH_OK) {
    fh_doc_destroy(f.doc);
    f.doc = NULL;
  }
  *out = f.doc;
  return f.status;
}

#endif
