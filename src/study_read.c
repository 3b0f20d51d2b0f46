// SPDX-License-Identifier: MIT
// What does a study ask for? Its document, key by key; the first thing wrong is told with its place. Model section 12.
#include <math.h>
#include <string.h>

#include "memory.h"
#include "study.h"
#include "text.h"

typedef struct reader {
  const fh_doc *doc;
  fh_study *s;
  fh_diag *diag;
} reader;

static bool refuse(const reader *r, int node, const char *key, const char *message, const char *accepted) {
  if (r->diag != NULL) {
    memset(r->diag, 0, sizeof *r->diag);
    if (node >= 0) {
      r->diag->line = fhi_doc_node(r->doc, node)->line;
      r->diag->column = fhi_doc_node(r->doc, node)->column;
    }
    (void)fhi_copy(r->diag->key, sizeof r->diag->key, key);
    (void)fhi_copy(r->diag->message, sizeof r->diag->message, message);
    (void)fhi_copy(r->diag->accepted, sizeof r->diag->accepted, accepted);
  }
  return false;
}

static const fhi_node *at(const reader *r, int node) {
  return fhi_doc_node(r->doc, node);
}

static bool number(const reader *r, int node, double *out) {
  const fhi_node *n = at(r, node);
  return n->kind == FHI_NODE_SCALAR && !n->quoted && fhi_parse_number(fhi_doc_text(r->doc, node), n->length, out);
}

static bool whole(const reader *r, int map, const char *key, double lo, double hi, const char *accepted, int64_t *out) {
  int node = fhi_doc_find(r->doc, map, key);
  double value = 0.0;
  if (node < 0) {
    return true;
  }
  if (!number(r, node, &value) || !(value >= lo && value <= hi) || floor(value) != value) {
    return refuse(r, node, key, "not a whole number in range", accepted);
  }
  *out = (int64_t)value;
  return true;
}

// A map may only hold these keys. @param known separated by '|'
static bool only(const reader *r, int map, const char *known, const char *accepted) {
  for (int v = at(r, map)->first; v >= 0; v = at(r, v)->next) {
    const char *key = fhi_doc_text(r->doc, at(r, v)->key);
    size_t n = strlen(key);
    bool found = false;
    for (const char *p = known; p != NULL && !found; p = strchr(p, '|') != NULL ? strchr(p, '|') + 1 : NULL) {
      found = strncmp(p, key, n) == 0 && (p[n] == '|' || p[n] == '\0');
    }
    if (!found) {
      return refuse(r, at(r, v)->key, key, "unknown key", accepted);
    }
  }
  return true;
}

static bool read_values(const reader *r, int node, fhi_axis *a) {
  const fhi_node *n = at(r, node);
  if (n->kind != FHI_NODE_LIST || n->count < 1 || n->count > FH_MAX_VALUES) {
    return refuse(r, node, a->key, "not a list of values", "a list of 1 to 1000 values");
  }
  a->count = n->count;
  a->first_node = n->first;
  return true;
}

static bool read_sets(const reader *r, int node, fhi_axis *a) {
  const fhi_node *n = at(r, node);
  if (n->kind != FHI_NODE_MAP || n->count < 1 || n->count > FH_MAX_VALUES) {
    return refuse(r, node, a->key, "not a map of sets", "named sets, each a map of top-level keys of a scene");
  }
  for (int v = n->first; v >= 0; v = at(r, v)->next) {
    if (at(r, v)->kind != FHI_NODE_MAP || at(r, v)->count < 1) {
      return refuse(r, v, fhi_doc_text(r->doc, at(r, v)->key), "not a set", "a map of top-level keys of a scene, such as {crew: [...]}");
    }
  }
  a->sets = true;
  a->count = n->count;
  a->first_node = n->first;
  return true;
}

static bool read_span(const reader *r, int map, fhi_axis *a) {
  int from = fhi_doc_find(r->doc, map, "from"), to = fhi_doc_find(r->doc, map, "to");
  int64_t steps = 0;
  if (from < 0 || to < 0 || !number(r, from, &a->from) || !number(r, to, &a->to)) {
    return refuse(r, from < 0 ? map : to < 0 ? map : from, a->key, "no span of numbers", "from and to, both plain numbers");
  }
  if (!(a->from < a->to)) {
    return refuse(r, from, a->key, "the span is upside down", "from below to");
  }
  if (!whole(r, map, "steps", 2, FH_MAX_VALUES, "2 to 1000", &steps)) {
    return false;
  }
  if (steps == 0 && r->s->sampled == 0) {
    return refuse(r, map, a->key, "steps is missing", "steps, 2 to 1000 (or sample, and then no steps)");
  }
  a->span = true;
  a->count = (int)steps;
  return true;
}

static bool read_axis(const reader *r, int map) {
  fhi_axis *a = &r->s->axis[r->s->axes];
  static const char *const ACCEPTED = "key with values, or key with from, to and steps, or name with sets";
  if (at(r, map)->kind != FHI_NODE_MAP || !only(r, map, "key|values|from|to|steps|name|sets", "key, values, from, to, steps, name, sets")) {
    return at(r, map)->kind == FHI_NODE_MAP ? false : refuse(r, map, "vary", "not a map", ACCEPTED);
  }
  int key = fhi_doc_find(r->doc, map, "key"), name = fhi_doc_find(r->doc, map, "name");
  int values = fhi_doc_find(r->doc, map, "values"), sets = fhi_doc_find(r->doc, map, "sets");
  int named = key >= 0 ? key : name;
  *a = (fhi_axis){.first_node = -1, .line = at(r, map)->line, .column = at(r, map)->column};
  if (named < 0 || (key >= 0) == (name >= 0) || at(r, named)->kind != FHI_NODE_SCALAR || at(r, named)->length == 0 ||
      at(r, named)->length >= sizeof a->key || (key >= 0) == (sets >= 0)) {
    return refuse(r, map, "vary", "not an axis", ACCEPTED);
  }
  (void)fhi_copy(a->key, sizeof a->key, fhi_doc_text(r->doc, named));
  for (const char *p = a->key; *p != '\0'; p++) {
    if (*p == ',' || *p == '"' || (unsigned char)*p < ' ') {
      return refuse(r, named, "vary", "a comma, a quote or a control character in a name", "letters, digits, dots, brackets");
    }
  }
  for (int i = 0; i < r->s->axes; i++) {
    if (strcmp(r->s->axis[i].key, a->key) == 0) {
      return refuse(r, named, a->key, "this varies already", "each key once");
    }
  }
  r->s->axes++;
  return sets >= 0 ? read_sets(r, sets, a) : values >= 0 ? read_values(r, values, a) : read_span(r, map, a);
}

static bool read_vary(const reader *r, int root) {
  int vary = fhi_doc_find(r->doc, root, "vary");
  if (vary < 0 || at(r, vary)->kind != FHI_NODE_LIST || at(r, vary)->count < 1 || at(r, vary)->count > FH_MAX_AXES) {
    return refuse(r, vary < 0 ? root : vary, "vary", vary < 0 ? "missing" : "not a list of axes", "a list of 1 to 8 things that vary");
  }
  for (int v = at(r, vary)->first; v >= 0; v = at(r, v)->next) {
    if (!read_axis(r, v)) {
      return false;
    }
  }
  return true;
}

static bool read_text(const reader *r, int map, const char *key, bool required, char *to, size_t size) {
  int node = fhi_doc_find(r->doc, map, key);
  if (node < 0) {
    return !required || refuse(r, map, key, "missing", "a text");
  }
  if (at(r, node)->kind != FHI_NODE_SCALAR || at(r, node)->length >= size || (required && at(r, node)->length == 0)) {
    return refuse(r, node, key, "not a text, or too long", "a text on one line");
  }
  return fhi_copy(to, size, fhi_doc_text(r->doc, node));
}

static bool read_plot(const reader *r, int root) {
  static const char *const KEYS[] = {"x", "y"};
  int plot = fhi_doc_find(r->doc, root, "plot");
  r->s->plot[0] = 0;
  r->s->plot[1] = r->s->axes > 1 ? 1 : -1;
  if (plot < 0) {
    return true;
  }
  if (at(r, plot)->kind != FHI_NODE_MAP || !only(r, plot, "x|y", "x and y")) {
    return at(r, plot)->kind == FHI_NODE_MAP ? false : refuse(r, plot, "plot", "not a map", "{x: KEY, y: KEY}");
  }
  for (int k = 0; k < 2; k++) {
    int node = fhi_doc_find(r->doc, plot, KEYS[k]), found = -1;
    for (int i = 0; node >= 0 && i < r->s->axes; i++) {
      found = strcmp(r->s->axis[i].key, fhi_doc_text(r->doc, node)) == 0 ? i : found;
    }
    if (node >= 0 && found < 0) {
      return refuse(r, node, "plot", "nothing of that name varies", "the key or name of an axis");
    }
    r->s->plot[k] = node >= 0 ? found : r->s->plot[k];
  }
  return r->s->plot[0] != r->s->plot[1] || refuse(r, plot, "plot", "x and y are the same", "two different axes");
}

static bool read_rig(const reader *r, int root) {
  int node = fhi_doc_find(r->doc, root, "rig");
  const char *text = node >= 0 ? fhi_doc_text(r->doc, node) : "scene";
  r->s->plan = strcmp(text, "plan") == 0;
  return r->s->plan || strcmp(text, "scene") == 0 || refuse(r, node, "rig", "not one of the choices", "scene (its own rig) or plan (the best that the kit can build)");
}

static bool read_all(const reader *r) {
  static const char *const ACCEPTED = "firnhaul_study, title, scene, rig, samples, seed, sample, vary, plot";
  fh_study *s = r->s;
  int root = fhi_doc_root(r->doc);
  int64_t version = 0, seed = 1;
  int twice = fhi_doc_duplicate(r->doc);
  if (root < 0 || at(r, root)->kind != FHI_NODE_MAP || fhi_doc_find(r->doc, root, "firnhaul_study") < 0) {
    return refuse(r, root, "", "not a study", "a map that starts with firnhaul_study: 1");
  }
  if (twice >= 0) {
    return refuse(r, twice, fhi_doc_text(r->doc, twice), "this key stands twice", "each key once");
  }
  s->samples = 4096;
  if (!only(r, root, "firnhaul_study|title|scene|rig|samples|seed|sample|vary|plot", ACCEPTED) ||
      !whole(r, root, "firnhaul_study", 1, 1, "1", &version) || !read_text(r, root, "title", false, s->title, sizeof s->title) ||
      !read_text(r, root, "scene", true, s->scene, sizeof s->scene) || !whole(r, root, "samples", 1024, 1e9, "1024 to 1e9", &s->samples) ||
      !whole(r, root, "seed", 0, 4294967295.0, "0 to 4294967295", &seed) || !whole(r, root, "sample", 1, 4294967295.0, "1 to 4294967295", &s->sampled) ||
      !read_rig(r, root) || !read_vary(r, root) || !read_plot(r, root)) {
    return false;
  }
  s->seed = (uint64_t)seed;
  return true;
}

static void count_scenes(fh_study *s) {
  s->count = s->sampled > 0 ? s->sampled : 1;
  for (int i = 0; i < s->axes && s->sampled == 0; i++) {
    s->count = s->count > INT64_MAX / s->axis[i].count ? INT64_MAX : s->count * s->axis[i].count;
  }
}

fh_status fh_study_create(const fh_doc *doc, fh_study **out, fh_diag *diag) {
  if (doc == NULL || out == NULL) {
    return FH_ERR_ARG;
  }
  fh_study *s = fhi_alloc(1, sizeof *s);
  if (s == NULL) {
    return FH_ERR_MEMORY;
  }
  s->doc = doc;
  const reader r = {doc, s, diag};
  if (!read_all(&r)) {
    fhi_free(s);
    return FH_ERR_INPUT;
  }
  count_scenes(s);
  fhi_sampler_start(&s->sampler, s->seed, s->axes);
  *out = s;
  return FH_OK;
}

void fh_study_destroy(fh_study *study) {
  fhi_free(study);
}

const char *fh_study_title(const fh_study *study) {
  return study->title;
}

const char *fh_study_scene(const fh_study *study) {
  return study->scene;
}

int64_t fh_study_count(const fh_study *study) {
  return study->count;
}

int fh_study_axes(const fh_study *study) {
  return study->axes;
}

const char *fh_study_axis_name(const fh_study *study, int axis) {
  return axis >= 0 && axis < study->axes ? study->axis[axis].key : "";
}

int64_t fh_study_samples(const fh_study *study) {
  return study->samples;
}
