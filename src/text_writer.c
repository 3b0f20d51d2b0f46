// SPDX-License-Identifier: MIT
// The writer that every document goes through: buffers, escapes for JSON and XML, and keeps the first failure.
#include "memory.h"
#include "text.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static const char REPLACEMENT[] = "\xEF\xBF\xBD";  // U+FFFD, in place of bytes that are not UTF-8

void fhi_writer_start(fhi_writer *w, fh_out out) {
  w->out = out;
  w->status = out.write == NULL ? FH_ERR_ARG : FH_OK;
  w->used = 0;
}

static void send(fhi_writer *w, const char *bytes, size_t count) {
  if (w->status == FH_OK && count > 0 && w->out.write(w->out.user, bytes, count) != 0) {
    w->status = FH_ERR_WRITE;
  }
}

static void flush(fhi_writer *w) {
  send(w, w->buffer, w->used);
  w->used = 0;
}

void fhi_put_bytes(fhi_writer *w, const char *bytes, size_t count) {
  if (w->status != FH_OK) {
    return;
  }
  if (count > sizeof w->buffer - w->used) {
    flush(w);
  }
  if (count > sizeof w->buffer) {
    send(w, bytes, count);
    return;
  }
  if (count > 0) {
    memcpy(w->buffer + w->used, bytes, count);
    w->used += count;
  }
}

void fhi_put(fhi_writer *w, const char *text) {
  fhi_put_bytes(w, text, strlen(text));
}

// A text longer than the buffer: rare, so it may ask for memory.
static void put_long(fhi_writer *w, size_t count, const char *format, va_list list) {
  char *text = fhi_alloc(count + 1, 1);
  if (text == NULL) {
    w->status = FH_ERR_MEMORY;
    return;
  }
  (void)vsnprintf(text, count + 1, format, list);
  fhi_put_bytes(w, text, count);
  fhi_free(text);
}

void fhi_putf(fhi_writer *w, const char *format, ...) {
  if (w->status != FH_OK) {
    return;
  }
  char text[sizeof w->buffer];
  va_list list;
  va_list again;
  va_start(list, format);
  va_copy(again, list);
  int count = vsnprintf(text, sizeof text, format, list);
  if (count < 0) {
    w->status = FH_ERR_ARG;
  } else if ((size_t)count < sizeof text) {
    fhi_put_bytes(w, text, (size_t)count);
  } else {
    put_long(w, (size_t)count, format, again);
  }
  va_end(again);
  va_end(list);
}

// Length of the character at `text`, and its code point; 0 when the bytes there are not UTF-8 (RFC 3629: shortest form,
// no surrogates, at most U+10FFFF). A NUL is never passed over.
static size_t decode(const char *text, uint32_t *code) {
  static const uint32_t LEAST[5] = {0, 0, 0x80, 0x800, 0x10000};
  unsigned char first = (unsigned char)text[0];
  if (first < 0x80u) {
    *code = first;
    return 1;
  }
  size_t width = first >= 0xF8u ? 0 : first >= 0xF0u ? 4 : first >= 0xE0u ? 3 : first >= 0xC0u ? 2 : 0;
  if (width == 0) {
    return 0;
  }
  uint32_t value = first & (0xFFu >> (width + 1));
  for (size_t i = 1; i < width; i++) {
    unsigned char next = (unsigned char)text[i];
    if ((next & 0xC0u) != 0x80u) {
      return 0;
    }
    value = (value << 6) | (next & 0x3Fu);
  }
  if (value < LEAST[width] || value > 0x10FFFFu || (value >= 0xD800u && value <= 0xDFFFu)) {
    return 0;
  }
  *code = value;
  return width;
}

// What stands in JSON for a character that may not stand for itself, or NULL. RFC 8259, section 7.
static const char *json_escape(uint32_t code, char scratch[8]) {
  switch (code) {
  case '"': return "\\\"";
  case '\\': return "\\\\";
  case '\n': return "\\n";
  case '\r': return "\\r";
  case '\t': return "\\t";
  default: break;
  }
  if (code < 0x20u) {
    (void)fhi_format(scratch, 8, "\\u%04x", (unsigned)code);
    return scratch;
  }
  return NULL;
}

// What stands in XML 1.0 for a character that may not stand for itself, or NULL. Control characters are no XML characters:
// they vanish, save that white space becomes a plain space, so that words stay apart.
static const char *xml_escape(uint32_t code, char scratch[8]) {
  (void)scratch;
  switch (code) {
  case '&': return "&amp;";
  case '<': return "&lt;";
  case '>': return "&gt;";
  case '"': return "&quot;";
  case '\'': return "&#39;";
  case '\t':
  case '\n':
  case '\r': return " ";
  default: break;
  }
  bool dropped = code < 0x20u || (code >= 0x7Fu && code < 0xA0u) || code == 0xFFFEu || code == 0xFFFFu;
  return dropped ? "" : NULL;
}

static void put_escaped(fhi_writer *w, const char *text, const char *(*escape)(uint32_t, char[8])) {
  char scratch[8];
  while (*text != '\0') {
    uint32_t code = 0;
    size_t width = decode(text, &code);
    if (width == 0) {
      fhi_put(w, REPLACEMENT);
      text++;
      continue;
    }
    const char *instead = escape(code, scratch);
    if (instead != NULL) {
      fhi_put(w, instead);
    } else {
      fhi_put_bytes(w, text, width);
    }
    text += width;
  }
}

void fhi_put_json_text(fhi_writer *w, const char *text) {
  fhi_put(w, "\"");
  put_escaped(w, text, json_escape);
  fhi_put(w, "\"");
}

void fhi_put_json_number(fhi_writer *w, double value) {
  char text[32];
  fhi_put(w, fhi_shortest(text, sizeof text, value));
}

void fhi_put_xml_text(fhi_writer *w, const char *text) {
  put_escaped(w, text, xml_escape);
}

fh_status fhi_writer_end(fhi_writer *w) {
  flush(w);
  return w->status;
}
