// SPDX-License-Identifier: MIT
// Runs check files: published values against the library. How to write one: tests/check/README.md.
//
//   run_check [--scale X] FILE...   --scale multiplies every tolerance; at 0 every residual is shown
//   run_check --self-test           shows that a wrong check fails
//   run_check --sources             prints docs/sources.md
//   run_check --gear-keys           prints the table of docs/gear.md
//
// Unknown words fail, a claim that asks nothing fails, a file without a claim fails, a value that is given and not used
// fails, a claim without a known source fails.
#include "gear_docs.h"
#include "subjects.h"

#include <stdlib.h>

enum { LINE = 1024, MAX_WORDS = 96 };

typedef struct unit {
  const char *name;
  double factor;  // to SI
} unit;

static const unit UNITS[] = {
    {"1", 1.0},     {"N", 1.0},         {"kN", 1000.0},         {"lbf", 4.4482216152605}, {"kgf", 9.80665},
    {"kg", 1.0},    {"m", 1.0},         {"mm", 0.001},          {"rad", 1.0},             {"deg", 3.14159265358979323846 / 180.0},
    {"%", 0.01},    {"turn", 6.28318530717958647692}, {"g/m", 0.001}, {"W", 1.0},         {"m2", 1.0},     {"kPa", 1000.0},
};

static const unit *unit_find(const char *name) {
  for (size_t i = 0; i < sizeof UNITS / sizeof *UNITS; i++) {
    if (strcmp(UNITS[i].name, name) == 0) {
      return &UNITS[i];
    }
  }
  return NULL;
}

// The state of a run over one file.
typedef struct run {
  const char *file;
  int line;
  double scale;
  bool quiet;
  const subject *about;
  bool sourced;
  char title[LINE];
  claim claim;
  bool open;      // a claim is open
  int asked;      // expects and refusals of the open claim
  int claims, checks, failures;
} run;

static void fail(run *r, const char *text, const char *detail) {
  r->failures++;
  if (!r->quiet) {
    fprintf(stderr, "%s:%d: %s%s\n", r->file, r->line, text, detail);
  }
}

static bool read_number(const char *text, double *out) {
  char *end = NULL;
  *out = strtod(text, &end);
  return end != text && *end == '\0' && isfinite(*out);
}

// A number and, when one follows, its unit. @return words used, 0 when there is no number
static int read_quantity(char **words, int count, double *out) {
  if (count < 1 || !read_number(words[0], out)) {
    return 0;
  }
  const unit *u = count > 1 ? unit_find(words[1]) : NULL;
  if (u != NULL) {
    *out *= u->factor;
    return 2;
  }
  return 1;
}

static void close_claim(run *r) {
  if (r->open && r->asked == 0) {
    fail(r, "this claim asks nothing: ", r->title);
  }
  r->open = false;
}

static void do_claim(run *r, const char *rest) {
  close_claim(r);
  const fh_gear *gear = r->claim.gear;
  memset(&r->claim, 0, sizeof r->claim);
  r->claim.gear = gear;
  snprintf(r->title, sizeof r->title, "%s", rest);
  r->open = true;
  r->asked = 0;
  r->claims++;
  if (*rest == '\0') {
    fail(r, "a claim needs words", "");
  }
  if (!r->sourced) {
    fail(r, "no source before this claim: ", r->title);
  }
  if (r->about == NULL) {
    fail(r, "no subject before this claim: ", r->title);
  }
}

static void do_source(run *r, char **words, int count) {
  static const char *const STATES[] = {"READ", "MEMORY", "COMPUTED", "PRACTICE", "EXACT"};
  bool known = count >= 2 && (fh_reference_find(words[0]) != NULL || strcmp(words[0], "practice") == 0 ||
                              strcmp(words[0], "mathematics") == 0);
  bool state = false;
  for (size_t i = 0; count >= 2 && i < sizeof STATES / sizeof *STATES; i++) {
    state = state || strcmp(words[count - 1], STATES[i]) == 0;
  }
  r->sourced = known && state;
  if (!known) {
    fail(r, "unknown source: ", count > 0 ? words[0] : "");
  } else if (!state) {
    fail(r, "a source ends in READ, MEMORY, COMPUTED, PRACTICE or EXACT", "");
  }
}

static void do_given(run *r, char **words, int count) {
  claim *c = &r->claim;
  if (!r->open) {
    fail(r, "nothing is claimed here", "");
  }
  for (int i = 0; i < count;) {
    if (c->count == MAX_GIVEN || i + 1 >= count) {
      fail(r, i + 1 >= count ? "no value for: " : "too many values: ", words[i]);
      return;
    }
    given *g = &c->givens[c->count++];
    snprintf(g->key, sizeof g->key, "%s", words[i]);
    snprintf(g->word, sizeof g->word, "%s", words[i + 1]);
    int used = read_quantity(words + i + 1, count - i - 1, &g->value);
    if (used == 0) {
      g->value = (double)NAN;
      used = 1;
    }
    i += 1 + used;
  }
}

static bool ask(run *r, answer *a) {
  memset(a, 0, sizeof *a);
  r->asked++;
  r->checks++;
  if (!r->open || r->about == NULL) {
    fail(r, "nothing is claimed here", "");
    return false;
  }
  r->about->ask(&r->claim, a);
  for (int i = 0; i < r->claim.count && a->wrong[0] == '\0'; i++) {
    if (!r->claim.givens[i].used) {
      snprintf(a->wrong, sizeof a->wrong, "'%s' is given and not used", r->claim.givens[i].key);
    }
  }
  if (a->wrong[0] != '\0') {
    fail(r, a->wrong, "");
    return false;
  }
  return true;
}

typedef struct expectation {
  const char *key, *how;  // how: absolute, relative, at-most, at-least, exactly
  double value, tolerance;
} expectation;

// KEY VALUE [unit] within TOL absolute|relative since WHY  |  KEY at-most|at-least|exactly VALUE [unit] since WHY
static bool read_expectation(run *r, char **words, int count, expectation *e) {
  int i = 1;
  memset(e, 0, sizeof *e);
  e->key = count > 0 ? words[0] : "";
  bool bound = count > 1 && (strcmp(words[1], "at-most") == 0 || strcmp(words[1], "at-least") == 0 || strcmp(words[1], "exactly") == 0);
  if (bound) {
    e->how = words[i++];
  }
  int used = read_quantity(words + i, count - i, &e->value);
  i += used;
  if (used == 0) {
    fail(r, "expected a number after: ", e->key);
    return false;
  }
  if (!bound) {
    if (count - i < 3 || strcmp(words[i], "within") != 0 || !read_number(words[i + 1], &e->tolerance) || !(e->tolerance > 0.0)) {
      fail(r, "expected 'within TOLERANCE absolute|relative' for: ", e->key);
      return false;
    }
    e->how = words[i + 2];
    if (strcmp(e->how, "absolute") != 0 && strcmp(e->how, "relative") != 0) {
      fail(r, "a tolerance is absolute or relative, not: ", e->how);
      return false;
    }
    // An absolute tolerance is in the unit of the value beside it.
    if (e->how[0] == 'a' && used == 2) {
      e->tolerance *= unit_find(words[i - 1])->factor;
    }
    i += 3;
  }
  if (count - i < 2 || strcmp(words[i], "since") != 0) {
    fail(r, "say why the tolerance is this size: 'since ...' for: ", e->key);
    return false;
  }
  return true;
}

static void do_expect(run *r, char **words, int count) {
  expectation e;
  answer a;
  if (!read_expectation(r, words, count, &e) || !ask(r, &a)) {
    return;
  }
  int k = 0;
  while (k < a.count && strcmp(a.key[k], e.key) != 0) {
    k++;
  }
  if (k == a.count || a.status != FH_OK) {
    fail(r, k == a.count ? "this subject has no result named: " : "refused: ", k == a.count ? e.key : fh_status_text(a.status));
    return;
  }
  double got = a.value[k], off = got - e.value, allowed = 0.0;
  bool ok = false;
  if (strcmp(e.how, "at-most") == 0) {
    ok = got <= e.value * (1.0 + 1e-12);
  } else if (strcmp(e.how, "at-least") == 0) {
    ok = got >= e.value * (1.0 - 1e-12);
  } else {
    // "exactly" still leaves the rounding of the units: one part in 10^12.
    double tolerance = strcmp(e.how, "exactly") == 0 ? 1e-12 : e.tolerance * r->scale;
    allowed = strcmp(e.how, "absolute") == 0 ? tolerance : tolerance * fabs(e.value);
    ok = fabs(off) <= allowed;
  }
  if (r->scale == 0.0 && !r->quiet) {
    printf("%s:%d: %-12s got %.9g, printed %.9g, off by %.3g (%.3g of it): %s\n", r->file, r->line, e.key, got, e.value, off,
           e.value != 0.0 ? off / e.value : 0.0, r->title);
  }
  if (!ok) {
    char text[200];
    snprintf(text, sizeof text, "%s: got %.12g, %s %.12g, off by %.3g, allowed %.3g: ", e.key, got, e.how, e.value, off, allowed);
    fail(r, text, r->title);
  }
}

static void do_refuse(run *r, char **words, int count) {
  answer a;
  if (count != 1 || strcmp(words[0], "FH_ERR_ARG") != 0) {
    fail(r, "refuse what? accepted: FH_ERR_ARG", "");
    return;
  }
  if (ask(r, &a) && a.status != FH_ERR_ARG) {
    fail(r, "not refused: ", r->title);
  }
}

static void do_line(run *r, char *text) {
  char copy[LINE];
  char *words[MAX_WORDS];
  int count = 0;
  snprintf(copy, sizeof copy, "%s", text);
  for (char *at = copy; count < MAX_WORDS;) {
    at += strspn(at, " \t\r\n");
    if (*at == '\0') {
      break;
    }
    words[count++] = at;
    at += strcspn(at, " \t\r\n");
    if (*at != '\0') {
      *at++ = '\0';
    }
  }
  if (count == 0 || words[0][0] == '#') {
    return;
  }
  if (strcmp(words[0], "claim") == 0) {
    text[strcspn(text, "\r\n")] = '\0';
    do_claim(r, count > 1 ? strstr(text, "claim") + 5 + strspn(strstr(text, "claim") + 5, " \t") : "");
  } else if (strcmp(words[0], "source") == 0) {
    close_claim(r);
    do_source(r, words + 1, count - 1);
  } else if (strcmp(words[0], "about") == 0) {
    close_claim(r);
    r->about = count == 2 ? subject_find(words[1]) : NULL;
    if (r->about == NULL) {
      fail(r, "unknown subject: ", count > 1 ? words[1] : "");
    }
  } else if (strcmp(words[0], "given") == 0) {
    do_given(r, words + 1, count - 1);
  } else if (strcmp(words[0], "expect") == 0) {
    do_expect(r, words + 1, count - 1);
  } else if (strcmp(words[0], "refuse") == 0) {
    do_refuse(r, words + 1, count - 1);
  } else {
    fail(r, "unknown word: ", words[0]);
  }
}

static void finish(run *r) {
  close_claim(r);
  if (r->claims == 0) {
    fail(r, "this file checks nothing", "");
  }
}

static int run_file(const char *name, double scale, const fh_gear *gear, int *checks) {
  run r = {.file = name, .scale = scale, .claim.gear = gear};
  char text[LINE];
  FILE *f = fopen(name, "r");
  if (f == NULL) {
    fprintf(stderr, "%s: cannot be read\n", name);
    return 1;
  }
  while (fgets(text, sizeof text, f) != NULL) {
    r.line++;
    if (strlen(text) == sizeof text - 1) {
      fail(&r, "this line is too long", "");
    }
    do_line(&r, text);
  }
  fclose(f);
  finish(&r);
  *checks += r.checks;
  printf("%-28s %3d claims %4d checks %d failed\n", name, r.claims, r.checks, r.failures);
  return r.failures;
}

// ---- the runner itself: each of these has to fail, and the first has to pass

#define HEAD "about edge\nsource mathematics EXACT\nclaim x\n"

static const char *const SELF[] = {
    HEAD "given mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 relative since five figures\n",
    "",
    "# only a comment\n",
    HEAD,
    HEAD "given mu 0.3 wrap 180 deg\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpect ratio 2.5 within 1e-4 relative since wrong value\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 since no kind\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 relative\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 0 relative since zero\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpect nonsense 2.5663 within 1e-4 relative since no such result\n",
    HEAD "given mu 0.3 wrap 180 deg extra 1\nexpect ratio 2.5663 within 1e-4 relative since unused value\n",
    HEAD "given mu 0.3\nexpect ratio 2.5663 within 1e-4 relative since missing value\n",
    HEAD "given mu 0.3 wrap\nexpect ratio 2.5663 within 1e-4 relative since no value\n",
    HEAD "given mu -0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 relative since refused\n",
    HEAD "given mu 0.3 wrap 180 deg\nrefuse FH_ERR_ARG\n",
    HEAD "given mu -0.3 wrap 180 deg\nrefuse FH_ERR_OTHER\n",
    "about edge\nsource mathematics EXACT\ngiven mu 0.3\nclaim x\ngiven mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 relative since x\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpct ratio 2.5663 within 1e-4 relative since unknown word\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpect ratio at-most 2.5 since a bound\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpect ratio at-least 2.6 since a bound\n",
    HEAD "given mu 0.3 wrap 180 deg\nexpect ratio exactly 2.5663 since it is not\n",
    "about edge\nclaim no source\ngiven mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 relative since five figures\n",
    "about edge\nsource nobody-1900 READ\nclaim x\ngiven mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 relative since x\n",
    "about edge\nsource delaney-2022 p. 88\nclaim x\ngiven mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 relative since x\n",
    "about nothing\nsource mathematics EXACT\nclaim x\ngiven mu 0.3 wrap 180 deg\nexpect ratio 2.5663 within 1e-4 relative since x\n",
    "about gear\nsource mathematics EXACT\nclaim x\ngiven item carabiner figure colour\nexpect lo exactly 1 since x\n",
    "about contact\nsource mathematics EXACT\nclaim x\ngiven kind wheel eta 0.9 wrap 180 deg\nexpect kept exactly 0.9 since x\n",
};

static int self_test(const fh_gear *gear) {
  int wrong = 0;
  for (int i = 0; i < (int)(sizeof SELF / sizeof *SELF); i++) {
    run r = {.file = "self", .scale = 1.0, .quiet = true, .claim.gear = gear};
    for (const char *at = SELF[i]; *at != '\0';) {
      char text[LINE];
      size_t n = strcspn(at, "\n");
      snprintf(text, sizeof text, "%.*s", (int)n, at);
      at += n + (at[n] == '\n');
      r.line++;
      do_line(&r, text);
    }
    finish(&r);
    if ((r.failures == 0) != (i == 0)) {
      fprintf(stderr, "self-test %d: %s\n%s", i, i == 0 ? "a right check failed" : "a wrong check passed", SELF[i]);
      wrong++;
    }
  }
  printf("self-test: %d cases, %d wrong\n", (int)(sizeof SELF / sizeof *SELF), wrong);
  return wrong;
}

int main(int argc, char **argv) {
  double scale = 1.0;
  int failures = 0, files = 0, checks = 0;
  fh_gear *gear = NULL;
  if (fh_gear_create(&gear) != FH_OK) {
    return 3;
  }
  for (int i = 1; i < argc; i++) {
    if (strcmp(argv[i], "--sources") == 0 || strcmp(argv[i], "--gear-keys") == 0) {
      strcmp(argv[i], "--sources") == 0 ? write_sources(stdout, gear) : write_gear_keys(stdout);
      fh_gear_destroy(gear);
      return 0;
    }
    if (strcmp(argv[i], "--self-test") == 0) {
      failures += self_test(gear);
      files++;
      checks++;
    } else if (strcmp(argv[i], "--scale") == 0 && i + 1 < argc && read_number(argv[i + 1], &scale) && scale >= 0.0) {
      i++;
    } else {
      failures += run_file(argv[i], scale, gear, &checks);
      files++;
    }
  }
  fh_gear_destroy(gear);
  if (files == 0 || checks == 0) {
    fprintf(stderr, "run_check: nothing was checked\n");
    return 1;
  }
  printf("%d checks, %d failed\n", checks, failures);
  return failures == 0 ? 0 : 1;
}
