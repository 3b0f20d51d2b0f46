// SPDX-License-Identifier: MIT
// How does an English phrase of the core read in German, French, Italian? The rows stand in tables/words.def. The English
// column is an array of pointers, so that the linker keeps one copy of a phrase and of the place that composes it; the others
// are one block a language, cell behind cell, which packs well. Implements no section of the model.
#include "words.h"

#include <string.h>

#include "memory.h"
#include "report.h"
#include "text.h"

// What only the command line says stays out of the page.
#ifdef __wasm__
#define T(en, de, fr, it)
#else
#define T(en, de, fr, it) W(en, de, fr, it)
#endif
#define JOIN(a, b) a##b
#define FIELD(line) JOIN(row_, line)

#define W(en, de, fr, it) en,
static const char *const ENGLISH[] = {
#include "tables/words.def"
};
#undef W

// A block: one field a row, each as long as its text and its NUL. Fields of char have no gaps between them.
#define W(en, de, fr, it) char FIELD(__LINE__)[sizeof(de)];
typedef struct german {
#include "tables/words.def"
} german;
#undef W
#define W(en, de, fr, it) char FIELD(__LINE__)[sizeof(fr)];
typedef struct french {
#include "tables/words.def"
} french;
#undef W
#define W(en, de, fr, it) char FIELD(__LINE__)[sizeof(it)];
typedef struct italian {
#include "tables/words.def"
} italian;
#undef W

#define W(en, de, fr, it) de,
static const german GERMAN = {
#include "tables/words.def"
};
#undef W
#define W(en, de, fr, it) fr,
static const french FRENCH = {
#include "tables/words.def"
};
#undef W
#define W(en, de, fr, it) it,
static const italian ITALIAN = {
#include "tables/words.def"
};
#undef W

enum { ROWS = (int)(sizeof ENGLISH / sizeof ENGLISH[0]) };

const char *fh_language_code(fh_language language) {
  static const char CODES[FH_LANGUAGES][3] = {"en", "de", "fr", "it"};
  return (unsigned)language < FH_LANGUAGES ? CODES[language] : CODES[FH_ENGLISH];
}

int fhi_word_count(void) {
  return ROWS;
}

const char *fhi_word_at(fh_language language, int row) {
  if (row < 0 || row >= ROWS) {
    return "";
  }
  const char *at = NULL;
  switch (language) {
  case FH_GERMAN: at = (const char *)&GERMAN; break;
  case FH_FRENCH: at = (const char *)&FRENCH; break;
  case FH_ITALIAN: at = (const char *)&ITALIAN; break;
  case FH_ENGLISH: break;
  }
  if (at == NULL) {
    return ENGLISH[row];
  }
  for (; row > 0; row--) {
    at += strlen(at) + 1;
  }
  return at;
}

static int find(const char *english) {
  int lo = 0;
  int hi = ROWS;
  while (lo < hi) {
    int middle = (lo + hi) / 2;
    int order = strcmp(ENGLISH[middle], english);
    if (order == 0) {
      return middle;
    }
    if (order < 0) {
      lo = middle + 1;
    } else {
      hi = middle;
    }
  }
  return -1;
}

// Tests are told of a phrase that has no row.
static void miss(const char *english) {
#ifdef FHI_FAULT
  if (english[0] != '\0' && strcmp(english, "%s") != 0) {
    fhi_words_miss(english);
  }
#else
  (void)english;
#endif
}

const char *fhi_say(fh_language language, const char *english) {
  if (language == FH_ENGLISH) {
    return english;
  }
  int row = find(english);
  if (row < 0) {
    miss(english);
    return english;
  }
  return fhi_word_at(language, row);
}

// ---------------------------------------------------------------------------------------------------- names

typedef struct apart {
  const char *key, *words;
} apart;

static const apart APART[] = {
#define N(key, words) {key, words},
#include "tables/names.def"
#undef N
};

static const char *const GIVEN[][FH_LANGUAGES] = {
#define G(en, de, fr, it) {en, de, fr, it},
#include "tables/given.def"
#undef G
};

// A name that the program gave. @return NULL: it did not, or English keeps it
static const char *given(fh_language language, const char *name) {
  for (size_t i = 0; language != FH_ENGLISH && i < sizeof GIVEN / sizeof GIVEN[0]; i++) {
    if (strcmp(GIVEN[i][FH_ENGLISH], name) == 0) {
      return GIVEN[i][language];
    }
  }
  return NULL;
}

const char *fhi_given_said(fh_language language, const char *name) {
  const char *own = given(language, name);
  return own != NULL ? own : name;
}

const char *fhi_end_said(fh_language language, const fh_rig *rig, int body) {
  const char *name = fhi_end_name(rig, body);
  return body < FH_BODY_FIRST_GRIP ? fhi_say(language, name) : fhi_given_said(language, name);
}

// In English names of the catalogue lose their hyphens; those of the user's own keep them.
static const char *come_apart(const char *name) {
  for (size_t i = 0; strchr(name, '-') != NULL && i < sizeof APART / sizeof APART[0]; i++) {
    if (strcmp(APART[i].key, name) == 0) {
      return APART[i].words;
    }
  }
  return name;
}

// A word that may be of the table or of the user's own.
static const char *perhaps(fh_language language, const char *word) {
  const char *own = given(language, word);
  if (own != NULL) {
    return own;
  }
  int row = language == FH_ENGLISH ? -1 : find(word);
  return language == FH_ENGLISH ? come_apart(word) : row < 0 ? word : fhi_word_at(language, row);
}

// A block is a pulley that moves when some rope runs through it.
const char *fhi_end_taught(fh_language language, const fh_rig *rig, int body) {
  bool pulley = false;
  if (body != FH_BODY_STATION && (body < FH_BODY_FIRST_GRIP || body >= rig->body_count)) {
    return "";
  }
  for (int i = 0; i < rig->station_count; i++) {
    pulley = pulley || (rig->stations[i].kind == FH_RUN && rig->stations[i].body == body);
  }
  return fhi_say(language, body == FH_BODY_STATION ? "pulleys at the anchor" : pulley ? "moving pulley" : "moving hitch");
}

const char *fhi_item_said(fh_language language, const fh_gear *gear, int item) {
  return perhaps(language, fhi_item_name(gear, item));
}

// How names are made of names; the first form that fits counts. Each is a row of the table; # stands for any words.
static const char *const FORMS[] = {
    "first line, #", "knot of # on #", "tie-off of # at the anchor", "friction hitch of # at the anchor", "# on # does not lock", "# from # to #", "grip #: rope sheath at #",
    "grip #: # slips", "limit: #", "what the anchor holds: #", "leg of anchor point #: #", "strength for minutes, #", "strength, #",
    "stretch of # rope", "rope #: stretch", "rope #: length", "rope # at a knot", "# rope at a knot", "rope sheath at #",
    "#: rope sheath at #", "anchor point #: #", "anchor point #, #", "backup knot #", "# slips", "# and #", "# on #", "# at #",
    "#: efficiency", "#: bending share", "#: set-back", "#: pull", "#: mass", "#: footing", "#: friction", "#: #", "# (#)",
};

enum { PARTS = 3 };

// The words that stand for each #. @return how many, -1 when the form does not fit
static int match(const char *form, const char *name, const char *part[PARTS], size_t count[PARTS]) {
  int n = 0;
  while (*form != '\0') {
    if (*form != '#') {
      if (*form++ != *name++) {
        return -1;
      }
      continue;
    }
    size_t fixed = strcspn(++form, "#");
    part[n] = name;
    if (fixed == 0) {
      count[n++] = strlen(name);
      return count[n - 1] > 0 ? n : -1;
    }
    while (*name != '\0' && strncmp(name, form, fixed) != 0) {
      name++;
    }
    count[n] = (size_t)(name - part[n]);
    if (*name == '\0' || count[n++] == 0) {
      return -1;
    }
    form += fixed;
    name += fixed;
  }
  return *name == '\0' ? n : -1;
}

static void add(char *to, size_t size, const char *text, size_t count) {
  size_t used = strlen(to);
  (void)fhi_format(to + used, size - used, "%.*s", (int)count, text);
}

static void say_name(char *to, size_t size, fh_language language, const char *name, int depth) {
  const char *part[PARTS];
  size_t count[PARTS];
  if (find(name) >= 0 || given(language, name) != NULL || depth == 0 || (language == FH_ENGLISH && strchr(name, '-') == NULL)) {
    const char *whole = perhaps(language, name);
    add(to, size, whole, strlen(whole));
    return;
  }
  for (size_t f = 0; f < sizeof FORMS / sizeof FORMS[0]; f++) {
    int n = match(FORMS[f], name, part, count);
    if (n <= 0) {
      continue;
    }
    int next = 0;
    for (const char *at = fhi_say(language, FORMS[f]); *at != '\0';) {
      if (*at == '#' && next < n) {
        char one[256];
        (void)fhi_format(one, sizeof one, "%.*s", (int)count[next], part[next]);
        say_name(to, size, language, one, depth - 1);
        next++;
        at++;
      } else {
        size_t run = *at == '#' ? 1 : strcspn(at, "#");
        add(to, size, at, run);
        at += run;
      }
    }
    return;
  }
  add(to, size, name, strlen(name));
}

const char *fhi_name_said(char *to, size_t size, fh_language language, const char *name) {
  to[0] = '\0';
  say_name(to, size, language, name, 3);
  return to;
}

const char *fhi_names_said(char *to, size_t size, fh_language language, const char *names) {
  if (find(names) >= 0) {
    return fhi_name_said(to, size, language, names);
  }
  to[0] = '\0';
  for (const char *at = names; *at != '\0';) {
    char one[512];
    const char *end = strstr(at, "; ");
    size_t count = end == NULL ? strlen(at) : (size_t)(end - at);
    if (count >= sizeof one) {
      add(to, size, at, strlen(at));  // longer than any name
      return to;
    }
    memcpy(one, at, count);
    one[count] = '\0';
    say_name(to, size, language, one, 3);
    add(to, size, "; ", end == NULL ? 0 : 2);
    at += count + (end == NULL ? 0 : 2);
  }
  return to;
}
