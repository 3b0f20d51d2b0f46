// SPDX-License-Identifier: MIT
// One scene of a study: the base scene's document once more, with the values of this scene in their places. Model section 12.
// Where only scalars change from one scene to the next, they are put anew in the document that is there.
#include <math.h>
#include <string.h>

#include "memory.h"
#include "read.h"
#include "study.h"
#include "text.h"

int fhi_study_pick(const fh_study *s, int64_t index, int axis, double *value) {
  const fhi_axis *a = &s->axis[axis];
  int place = 0;
  if (s->sampled > 0) {
    double u = fhi_sampler_one(&s->sampler, axis, (uint32_t)index);
    place = a->span ? 0 : (int)fmin(a->count - 1, floor(u * a->count));
    *value = a->from + (a->to - a->from) * u;
    return place;
  }
  // The last axis runs fastest.
  int64_t rest = index;
  for (int i = s->axes - 1; i > axis; i--) {
    rest /= s->axis[i].count;
  }
  place = (int)(rest % a->count);
  *value = a->count > 1 ? a->from + (a->to - a->from) * place / (a->count - 1) : a->from;
  return place;
}

int fhi_study_node(const fh_study *s, int axis, int place) {
  int node = s->axis[axis].first_node;
  for (int i = 0; node >= 0 && i < place; i++) {
    node = fhi_doc_node(s->doc, node)->next;
  }
  return node;
}

// A span's number as it is put in the scene and shown: ten digits are plenty and read well.
static const char *span_text(char *to, size_t size, double value) {
  double rounded = value;
  if (value != 0.0) {
    double scale = pow(10.0, 9.0 - floor(log10(fabs(value))));
    rounded = floor(value * scale + 0.5) / scale;
  }
  return fhi_shortest(to, size, rounded);
}

const char *fh_study_value(const fh_study *s, int64_t index, int axis, char *to, size_t size) {
  double value = 0.0;
  int place = fhi_study_pick(s, index, axis, &value), node = fhi_study_node(s, axis, place);
  if (s->axis[axis].span) {
    return span_text(to, size, value);
  }
  const fhi_node *n = fhi_doc_node(s->doc, node);
  if (s->axis[axis].sets) {
    (void)fhi_copy(to, size, fhi_doc_text(s->doc, n->key));
  } else if (n->kind == FHI_NODE_SCALAR) {
    (void)fhi_copy(to, size, fhi_doc_text(s->doc, node));
  } else {
    (void)fhi_format(to, size, "value %d", place + 1);
  }
  return to;
}

// ---------------------------------------------------------------------------------------------------- overrides

typedef struct override {
  const char *path;
  int axis;
  int node;          // in the study's document, or -1: the text
  char text[40];
  bool used;
} override;

enum { MOST_OVERRIDES = 64, PATH = 160 };

typedef struct copying {
  const fh_study *s;
  const fh_doc *from;
  fh_doc *to;
  override list[MOST_OVERRIDES];
  int count;
  fhi_study_doc *made;
  fh_status status;
} copying;

static bool list_overrides(copying *c, int64_t index) {
  for (int a = 0; a < c->s->axes; a++) {
    double value = 0.0;
    int place = fhi_study_pick(c->s, index, a, &value), node = fhi_study_node(c->s, a, place);
    if (!c->s->axis[a].sets) {
      if (c->count == MOST_OVERRIDES) {
        return false;
      }
      override *o = &c->list[c->count++];
      *o = (override){.path = c->s->axis[a].key, .axis = a, .node = c->s->axis[a].span ? -1 : node};
      (void)span_text(o->text, sizeof o->text, value);
      continue;
    }
    for (int v = fhi_doc_node(c->s->doc, node)->first; v >= 0; v = fhi_doc_node(c->s->doc, v)->next) {
      if (c->count == MOST_OVERRIDES) {
        return false;
      }
      c->list[c->count++] = (override){.path = fhi_doc_text(c->s->doc, fhi_doc_node(c->s->doc, v)->key), .axis = a, .node = v};
    }
  }
  return true;
}

// "crew[].mass_kg" means every entry: the same path with the entry's number left out matches as well.
static bool path_matches(const char *pattern, const char *path) {
  while (*pattern != '\0' && *path != '\0') {
    if (*pattern == '[' && pattern[1] == ']' && *path == '[') {
      const char *close = strchr(path, ']');
      if (close == NULL) {
        return false;
      }
      pattern += 2;
      path = close + 1;
    } else if (*pattern++ != *path++) {
      return false;
    }
  }
  return *pattern == '\0' && *path == '\0';
}

static void note(copying *c, fh_status status) {
  c->status = c->status == FH_OK ? status : c->status;
}

static void copy_plain(copying *c, const fh_doc *doc, int node) {
  const fhi_node *n = fhi_doc_node(doc, node);
  if (n->kind == FHI_NODE_SCALAR) {
    note(c, fh_doc_scalar(c->to, fhi_doc_text(doc, node), n->length, n->quoted, n->line, n->column));
    return;
  }
  bool map = n->kind == FHI_NODE_MAP;
  note(c, map ? fh_doc_map_begin(c->to, n->line, n->column) : fh_doc_list_begin(c->to, n->line, n->column));
  for (int v = n->first; v >= 0; v = fhi_doc_node(doc, v)->next) {
    if (map) {
      copy_plain(c, doc, fhi_doc_node(doc, v)->key);
    }
    copy_plain(c, doc, v);
  }
  note(c, map ? fh_doc_map_end(c->to) : fh_doc_list_end(c->to));
}

// Notes where a scalar is about to stand that can be put anew. Too many of them, and the document is made anew each time.
static void note_spot(copying *c, const override *o) {
  fhi_study_doc *m = c->made;
  if (c->s->axis[o->axis].sets || (o->node >= 0 && fhi_doc_node(c->s->doc, o->node)->kind != FHI_NODE_SCALAR)) {
    return;
  }
  if (m->spots < FHI_MOST_SPOTS) {
    m->spot[m->spots].node = fhi_doc_count(c->to);
    m->spot[m->spots].axis = o->axis;
  }
  m->spots++;
}

static void put_override(copying *c, override *o, int line, int column) {
  o->used = true;
  note_spot(c, o);
  if (o->node >= 0) {
    copy_plain(c, c->s->doc, o->node);
  } else {
    note(c, fh_doc_scalar(c->to, o->text, strlen(o->text), false, line, column));
  }
}

static override *override_at(copying *c, const char *path) {
  for (int i = 0; i < c->count; i++) {
    if (path_matches(c->list[i].path, path)) {
      return &c->list[i];
    }
  }
  return NULL;
}

// Overrides of keys that this map does not have: they are added at its end.
static void add_missing(copying *c, int map, const char *path) {
  const fhi_node *n = fhi_doc_node(c->from, map);
  for (int i = 0; i < c->count; i++) {
    override *o = &c->list[i];
    const char *dot = strrchr(o->path, '.');
    const char *key = dot != NULL ? dot + 1 : o->path;
    char parent[PATH];
    (void)fhi_copy(parent, sizeof parent, o->path);
    parent[dot != NULL ? dot - o->path : 0] = '\0';
    if (path_matches(parent, path) && strchr(key, '[') == NULL && fhi_doc_find(c->from, map, key) < 0) {
      note(c, fh_doc_scalar(c->to, key, strlen(key), false, n->line, n->column));
      put_override(c, o, n->line, n->column);
    }
  }
}

static void copy_node(copying *c, int node, const char *path) {
  const fhi_node *n = fhi_doc_node(c->from, node);
  override *o = override_at(c, path);
  if (o != NULL) {
    put_override(c, o, n->line, n->column);
    return;
  }
  if (n->kind == FHI_NODE_SCALAR) {
    copy_plain(c, c->from, node);
    return;
  }
  bool map = n->kind == FHI_NODE_MAP;
  int index = 0;
  note(c, map ? fh_doc_map_begin(c->to, n->line, n->column) : fh_doc_list_begin(c->to, n->line, n->column));
  for (int v = n->first; v >= 0; v = fhi_doc_node(c->from, v)->next, index++) {
    char below[PATH];
    if (map) {
      int key = fhi_doc_node(c->from, v)->key;
      copy_plain(c, c->from, key);
      (void)fhi_format(below, sizeof below, "%s%s%s", path, path[0] != '\0' ? "." : "", fhi_doc_text(c->from, key));
    } else {
      (void)fhi_format(below, sizeof below, "%s[%d]", path, index);
    }
    copy_node(c, v, below);
  }
  if (map) {
    add_missing(c, node, path);
  }
  note(c, map ? fh_doc_map_end(c->to) : fh_doc_list_end(c->to));
}

// ---------------------------------------------------------------------------------------------------- the scene

static void say_unused(const copying *c, int override_index, fh_diag *diag) {
  const char *path = c->list[override_index].path;
  memset(diag, 0, sizeof *diag);
  for (int a = 0; a < c->s->axes; a++) {
    if (c->s->axis[a].key == path) {
      diag->line = c->s->axis[a].line;
      diag->column = c->s->axis[a].column;
    }
  }
  (void)fhi_copy(diag->key, sizeof diag->key, path);
  (void)fhi_copy(diag->message, sizeof diag->message, "the scene has no place for this key");
  (void)fhi_copy(diag->accepted, sizeof diag->accepted, "a key whose map or list the scene has (firnhaul keys)");
}

// A value that the scene refuses: the place in the study is where to look. A key that does not vary, and only does not go with what
// does, stands in the base scene.
static void place_in_study(const fh_study *s, fh_diag *diag) {
  diag->in_base = true;
  for (int a = 0; a < s->axes; a++) {
    if (s->axis[a].sets || path_matches(s->axis[a].key, diag->key)) {
      diag->line = s->axis[a].line;
      diag->column = s->axis[a].column;
      diag->in_base = false;
      if (!s->axis[a].sets) {
        return;
      }
    }
  }
}

// The values at the document's top that hold a spot: each begins before its spots, in the order of the document.
static void list_tops(fhi_study_doc *m) {
  m->top_count = 0;
  for (int i = 0; i < m->spots && m->top_count >= 0; i++) {
    int top = -1;
    for (int v = fhi_doc_node(m->doc, fhi_doc_root(m->doc))->first; v >= 0 && v <= m->spot[i].node; v = fhi_doc_node(m->doc, v)->next) {
      top = v;
    }
    const char *key = top >= 0 ? fhi_doc_text(m->doc, fhi_doc_node(m->doc, top)->key) : "rig";
    bool whole = strcmp(key, "rig") == 0 || strcmp(key, "ropes") == 0;  // names of ropes and bodies hang together
    bool known = m->top_count > 0 && m->tops[m->top_count - 1].node == top;
    if (!known) {
      m->tops[m->top_count++] = (fhi_top){top, fhi_key_child(-1, key)};
    }
    m->top_count = whole || m->tops[m->top_count - 1].row < 0 ? -1 : m->top_count;
  }
}

static fh_status make(const fh_study *s, const fh_doc *base, int64_t index, fhi_study_doc *m, fh_diag *diag) {
  copying c = {.s = s, .from = base, .made = m, .status = FH_OK};
  fhi_study_doc_clear(m);
  if (!list_overrides(&c, index)) {
    return FH_ERR_LIMIT;
  }
  fh_status status = fh_doc_create(&m->doc);
  if (status != FH_OK) {
    return status;
  }
  c.to = m->doc;
  copy_node(&c, fhi_doc_root(base), "");
  status = c.status;
  for (int i = 0; i < c.count && status == FH_OK; i++) {
    if (!c.list[i].used) {
      say_unused(&c, i, diag);
      status = FH_ERR_INPUT;
    }
  }
  if (status != FH_OK) {
    fhi_study_doc_clear(m);
    return status;
  }
  m->used = fhi_doc_used(m->doc);
  for (int a = 0; a < s->axes; a++) {
    double value = 0.0;
    m->place[a] = fhi_study_pick(s, index, a, &value);
  }
  m->top_count = -1;
  if (m->spots <= FHI_MOST_SPOTS) {
    list_tops(m);
  }
  return FH_OK;
}

static bool scalar_at(const fh_study *s, int axis, int place) {
  int node = fhi_study_node(s, axis, place);
  return !s->axis[axis].sets && (node < 0 || fhi_doc_node(s->doc, node)->kind == FHI_NODE_SCALAR);
}

// Does this scene differ from the last one in scalars only, each with a known spot?
static bool differs_in_scalars(const fh_study *s, const fhi_study_doc *m, int64_t index, int *place) {
  if (m->doc == NULL || m->spots > FHI_MOST_SPOTS) {
    return false;
  }
  for (int a = 0; a < s->axes; a++) {
    double value = 0.0;
    place[a] = fhi_study_pick(s, index, a, &value);
    if (place[a] != m->place[a] && !(scalar_at(s, a, place[a]) && scalar_at(s, a, m->place[a]))) {
      return false;
    }
  }
  return true;
}

static fh_status put_anew(const fh_study *s, int64_t index, const int *place, fhi_study_doc *m) {
  fh_status status = FH_OK;
  fhi_doc_rewind(m->doc, m->used);
  for (int i = 0; i < m->spots && status == FH_OK; i++) {
    int axis = m->spot[i].axis;
    const fhi_node *old = fhi_doc_node(m->doc, m->spot[i].node);
    if (s->axis[axis].span) {
      char text[40];
      double value = 0.0;
      (void)fhi_study_pick(s, index, axis, &value);
      status = fhi_doc_put(m->doc, m->spot[i].node, span_text(text, sizeof text, value), false, old->line, old->column);
    } else {
      int node = fhi_study_node(s, axis, place[axis]);
      const fhi_node *n = fhi_doc_node(s->doc, node);
      status = fhi_doc_put(m->doc, m->spot[i].node, fhi_doc_text(s->doc, node), n->quoted, n->line, n->column);
    }
  }
  memcpy(m->place, place, sizeof m->place);
  return status;
}

fh_status fhi_study_scene_fill(const fh_study *s, const fh_doc *base, const fh_gear *gear, int64_t index, fhi_study_doc *m, fh_scene *scene,
                               fh_diag *diag) {
  int place[FH_MAX_AXES] = {0};
  bool again = differs_in_scalars(s, m, index, place);
  fh_status status = again ? put_anew(s, index, place, m) : make(s, base, index, m, diag);
  again = again && m->scene == scene && m->top_count >= 0;
  m->scene = scene;
  if (status == FH_OK) {
    status = again ? fhi_scene_fill_again(m->doc, gear, m->tops, m->top_count, &m->nodes, scene, diag)
                   : fhi_scene_fill(m->doc, gear, scene, &m->nodes, diag);
  }
  if (status == FH_ERR_INPUT) {
    place_in_study(s, diag);
  }
  if (status != FH_OK) {
    fhi_study_doc_clear(m);
  }
  return status;
}

void fhi_study_doc_clear(fhi_study_doc *m) {
  fh_doc_destroy(m->doc);
  memset(m, 0, sizeof *m);
}

fh_status fh_study_scene_create(const fh_study *s, const fh_doc *base, const fh_gear *gear, int64_t index, fh_scene **out, fh_diag *diag) {
  if (s == NULL || base == NULL || gear == NULL || out == NULL || diag == NULL || index < 0 || index >= s->count || fhi_doc_root(base) < 0) {
    return FH_ERR_ARG;
  }
  fh_scene *scene = fhi_alloc(1, sizeof *scene);
  fhi_study_doc made = {.doc = NULL};
  fh_status status = scene == NULL ? FH_ERR_MEMORY : fhi_study_scene_fill(s, base, gear, index, &made, scene, diag);
  fhi_study_doc_clear(&made);
  if (status != FH_OK) {
    fhi_free(scene);
    return status;
  }
  *out = scene;
  return FH_OK;
}
