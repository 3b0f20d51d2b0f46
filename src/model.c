// SPDX-License-Identifier: MIT
// From a rig as written to tables that can be solved: which strand lies between what, which way it runs, what is slack.
// Implements model.md, section 1 and the geometry of section 2.
#include "model.h"

#include <math.h>
#include <string.h>

#include "crew.h"
#include "text.h"
#include "words.h"

static const double PI = 3.14159265358979323846;

const char *fhi_end_name(const fh_rig *rig, int body) {
  switch (body) {
  case FH_END_LIP: return "lip";
  case FH_END_HAND: return "hand";
  case FH_END_LOOSE: return "loose";
  default: return body >= 0 && body < rig->body_count ? rig->bodies[body] : "?";
  }
}

double fhi_contact_factor(const fhi_contact *contact, double eta_or_mu, double share, double wrap) {
  double k = 1.0;
  if (contact->kind == FHI_EDGE) {
    (void)fh_edge_ratio(eta_or_mu, wrap, &k);
  } else if (contact->kind != FHI_TENDED) {
    (void)fh_contact_ratio(contact->kind == FHI_SHEAVE, eta_or_mu, share, wrap, &k);
  }
  return k;
}

// What the compiler carries along one path.
typedef struct builder {
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  fhi_model *model;
} builder;

static double body_at(const fh_scene *scene, const fh_rig *rig, int body) {
  if (body == FH_BODY_LOAD) {
    return -scene->depth.likely;
  }
  if (body == FH_BODY_STATION) {
    return scene->station_at.likely;
  }
  if (body == FH_BODY_ANCHOR) {
    return scene->anchor_at.likely;
  }
  for (int g = 0; g < rig->grip_count; g++) {
    if (rig->grips[g].body == body) {
      return rig->grips[g].at;
    }
  }
  return (double)NAN;  // a body that nothing grips: the scene's reader refuses it
}

static fhi_contact_kind contact_kind(const fh_item *item) {
  return item != NULL && (item->item_class == FH_ITEM_SHEAVE || item->item_class == FH_ITEM_CAPTURE) ? FHI_SHEAVE
                                                                                                     : FHI_BAR;
}

// The range around an exact efficiency, when the rig states one.
static fh_number with_range(fh_number value, fh_number range) {
  if (fh_number_is_set(range) && range.lo <= value.likely && range.hi >= value.likely) {
    value.spread = FH_SPREAD_TRIANGLE;
    value.lo = range.lo;
    value.hi = range.hi;
  }
  return value;
}

// The kit may say better what its own pieces do.
static fh_number kit_efficiency(const fh_scene *scene, const fh_gear *gear, int item) {
  for (int i = 0; i < scene->kit_count; i++) {
    if (scene->kit[i].item == item && fh_number_is_set(scene->kit[i].efficiency)) {
      return scene->kit[i].efficiency;
    }
  }
  return fh_gear_figure(gear, item, "efficiency", NULL);
}

static int add_run(builder *b, int index, const fh_station *st) {
  fhi_contact *c = &b->model->contacts[b->model->contact_count];
  const fh_item *item = fh_gear_item(b->gear, st->item);
  memset(c, 0, sizeof *c);
  c->kind = contact_kind(item);
  c->station = index;
  c->grip = -1;
  c->body = st->body;
  c->item = st->item;
  c->eta = fh_number_is_set(st->efficiency) ? with_range(st->efficiency, st->efficiency_range)
                                            : kit_efficiency(b->scene, b->gear, st->item);
  if (!fh_number_is_set(c->eta)) {
    c->eta = fh_number_exact(1.0);
  }
  fh_number share = fh_gear_figure(b->gear, st->item, "share", NULL);
  c->share = fh_number_is_set(share) ? share : fh_number_exact(0.0);
  c->capture = item != NULL && item->item_class == FH_ITEM_CAPTURE;
  c->reversed = st->reversed;
  return b->model->contact_count++;
}

static int add_edge(builder *b, int index, const fh_station *st) {
  fhi_contact *c = &b->model->contacts[b->model->contact_count];
  memset(c, 0, sizeof *c);
  c->kind = FHI_EDGE;
  c->station = index;
  c->grip = -1;
  c->body = FH_END_LIP;
  c->item = -1;
  c->mu = fh_number_is_set(st->friction) ? st->friction : b->scene->lip_friction;
  c->wrap = b->scene->lip_turn.likely;
  return b->model->contact_count++;
}

static int add_tended(builder *b, int grip) {
  fhi_contact *c = &b->model->contacts[b->model->contact_count];
  memset(c, 0, sizeof *c);
  c->kind = FHI_TENDED;
  c->station = -1;
  c->grip = grip;
  c->body = b->rig->grips[grip].body;
  c->item = b->rig->grips[grip].item;
  c->capture = true;
  return b->model->contact_count++;
}

static fhi_end station_end(builder *b, int index, int contact) {
  const fh_station *st = &b->rig->stations[index];
  fhi_end end = {.kind = FHI_END_FIXED, .body = st->body, .contact = contact, .grip = -1, .s = 0.0};
  switch (st->kind) {
  case FH_TIE: end.s = b->model->at[st->body]; break;
  case FH_RUN:
    end.kind = FHI_END_CONTACT;
    end.s = b->model->at[st->body];
    break;
  case FH_EDGE:
    end.kind = FHI_END_CONTACT;
    end.body = FH_END_LIP;
    break;
  case FH_HAND:
    end.kind = FHI_END_HAND;
    end.body = FH_END_HAND;
    break;
  case FH_LOOSE:
    end.kind = FHI_END_LOOSE;
    end.body = FH_END_LOOSE;
    break;
  }
  return end;
}

static void add_strand(builder *b, int path, int after, fhi_end from, fhi_end to) {
  fhi_model *m = b->model;
  fhi_strand *st = &m->strands[m->strand_count];
  memset(st, 0, sizeof *st);
  st->path = path;
  st->after = after;
  st->end[0] = from;
  st->end[1] = to;
  for (int e = 0; e < 2; e++) {
    if (st->end[e].kind == FHI_END_CONTACT) {
      fhi_contact *c = &m->contacts[st->end[e].contact];
      *(e == 0 ? &c->after : &c->before) = m->strand_count;
    }
  }
  m->strand_count++;
}

// Grips of one strand in the order in which the path meets them: by place on the haul line, and by list for equal places.
static int grips_on(const builder *b, int path, int after, int away, int *found) {
  int n = 0;
  for (int g = 0; g < b->rig->grip_count; g++) {
    if (b->rig->grips[g].path != path || b->rig->grips[g].after != after) {
      continue;
    }
    int k = n++;
    for (; k > 0 && away * (b->rig->grips[found[k - 1]].at - b->rig->grips[g].at) > 0.0; k--) {
      found[k] = found[k - 1];
    }
    found[k] = g;
  }
  return n;
}

// Which way the strand runs along the haul line, +1 or -1: toward its known end, with the hand, or where a tail's grips sit.
static int runs_away(const builder *b, int path, int after, const fhi_end *from, const fhi_end *to) {
  if (to->kind == FHI_END_HAND) {
    return b->model->hand_dir;
  }
  bool tail = to->kind == FHI_END_LOOSE, head = !tail && from->kind == FHI_END_LOOSE;
  int away = tail || head || to->s >= from->s ? 1 : -1;
  for (int g = 0; g < b->rig->grip_count; g++) {
    const fh_grip *grip = &b->rig->grips[g];
    if ((tail || head) && grip->path == path && grip->after == after) {
      away = (tail ? grip->at >= from->s : grip->at <= to->s) ? 1 : -1;
    }
  }
  return away;
}

// The strand between two stations, cut by its grips.
static void add_gripped(builder *b, int path, int after, fhi_end from, fhi_end to) {
  int found[FH_MAX_GRIPS];
  int away = runs_away(b, path, after, &from, &to), n = grips_on(b, path, after, away, found);
  fhi_end last = from;
  for (int i = 0; i < n; i++) {
    const fh_grip *grip = &b->rig->grips[found[i]];
    fhi_end mid = {.kind = FHI_END_FIXED, .body = grip->body, .contact = -1, .grip = found[i], .s = grip->at};
    if (grip->body < FH_BODY_FIRST_GRIP) {  // on a fixed body: a tended capture, the rope runs through while raising
      mid.kind = FHI_END_CONTACT;
      mid.contact = add_tended(b, found[i]);
    }
    add_strand(b, path, after, last, mid);
    last = mid;
  }
  if (to.kind == FHI_END_HAND || to.kind == FHI_END_LOOSE) {
    to.s = last.s + away;  // only its side matters
  }
  add_strand(b, path, after, last, to);
  for (int s = b->model->strand_count - 1 - n; s < b->model->strand_count; s++) {
    fhi_strand *st = &b->model->strands[s];
    if (st->end[0].kind == FHI_END_LOOSE) {
      st->end[0].s = st->end[1].s - away;
    }
    double d = st->end[1].s - st->end[0].s;
    bool open = st->end[0].kind == FHI_END_LOOSE || st->end[1].kind == FHI_END_LOOSE || st->end[1].kind == FHI_END_HAND;
    st->dir = d > 0.0 ? 1 : d < 0.0 ? -1 : 0;
    st->length = open ? 0.0 : fabs(d);  // an end in the hand or loose has no length of its own
  }
}

static void add_path(builder *b, int path) {
  const fh_path *p = &b->rig->paths[path];
  int contact = -1;
  fhi_end last = {0};
  for (int i = 0; i < p->count; i++) {
    int index = p->first + i;
    const fh_station *st = &b->rig->stations[index];
    contact = -1;
    if (st->kind == FH_RUN) {
      contact = add_run(b, index, st);
    } else if (st->kind == FH_EDGE) {
      contact = add_edge(b, index, st);
    }
    fhi_end end = station_end(b, index, contact);
    if (st->kind == FH_HAND) {
      b->model->hand_dir = fhi_pull_toward(st) == FH_TOWARD_LIP ? -1 : 1;
      b->model->hand_angle = fh_number_is_set(st->angle) ? st->angle.likely : 0.0;
      b->model->hand_angles = fh_number_is_set(st->angle) ? (fh_range){st->angle.lo, st->angle.hi} : (fh_range){0.0, 0.0};
    }
    if (i > 0) {
      add_gripped(b, path, i - 1, last, end);
      // Behind the last grip of a slack strand nothing pulls; before it, something may.
      b->model->strands[b->model->strand_count - 1].slack =
          st->kind == FH_TIE && fh_number_is_set(st->slack) && st->slack.likely > 0.0;
      if (st->kind == FH_HAND) {
        b->model->hand_strand = b->model->strand_count - 1;
      }
    }
    last = end;
  }
}

// Rope on one side of a contact without tension leaves the other side without tension too. A locked capture stops this.
static void spread_slack(fhi_model *m) {
  for (int s = 0; s < m->strand_count; s++) {
    fhi_strand *st = &m->strands[s];
    st->slack_line = st->slack;
    if (st->end[0].kind == FHI_END_LOOSE || st->end[1].kind == FHI_END_LOOSE) {
      st->slack = true;
    }
    st->slack_hold = st->slack;
  }
  for (bool again = true; again;) {
    again = false;
    for (int c = 0; c < m->contact_count; c++) {
      fhi_strand *x = &m->strands[m->contacts[c].before];
      fhi_strand *y = &m->strands[m->contacts[c].after];
      if (x->slack != y->slack) {
        x->slack = y->slack = true;
        again = true;
      }
      if (x->slack_line != y->slack_line) {
        x->slack_line = y->slack_line = true;
        again = true;
      }
      if (x->slack_hold != y->slack_hold && !m->contacts[c].capture) {
        x->slack_hold = y->slack_hold = true;
        again = true;
      }
    }
  }
  for (int c = 0; c < m->contact_count; c++) {
    m->contacts[c].slack = m->strands[m->contacts[c].before].slack;
  }
}

static void find_wraps(fhi_model *m) {
  for (int c = 0; c < m->contact_count; c++) {
    fhi_contact *k = &m->contacts[c];
    if (k->kind == FHI_BAR || k->kind == FHI_SHEAVE) {
      // Seen from the contact: the strand before lies on side -dir, the strand after on side +dir.
      k->wrap = -m->strands[k->before].dir == m->strands[k->after].dir ? PI : 0.0;
    }
  }
}

bool fhi_model_compile(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fhi_model *model, char *why,
                       size_t size) {
  builder b = {scene, gear, rig, model};
  model->language = scene->language;
  model->strand_count = model->contact_count = 0;  // each one is written whole
  model->body_count = rig->body_count;
  model->hand_strand = -1;
  model->hand_dir = 1;
  model->hand_angle = 0.0;
  model->hand_angles = (fh_range){0.0, 0.0};
  for (int i = 0; i < rig->body_count; i++) {
    model->at[i] = body_at(scene, rig, i);
    model->fixed[i] = i == FH_BODY_STATION || i == FH_BODY_ANCHOR;
  }
  for (int p = 0; p < rig->path_count; p++) {
    add_path(&b, p);
  }
  spread_slack(model);
  find_wraps(model);
  if (model->hand_strand < 0) {
    fhi_copy(why, size, fhi_say(scene->language, "nobody pulls: no rope ends in a hand"));
    return false;
  }
  if (model->strands[model->hand_strand].slack) {
    fhi_copy(why, size, fhi_say(scene->language, "the strand in the hand is slack: it carries nothing"));
    return false;
  }
  for (int s = 0; s < model->strand_count; s++) {
    if (model->strands[s].dir == 0 && !model->strands[s].slack) {
      fhi_format(why, size, fhi_say(scene->language, "the strand from %s to %s has no length"), fhi_end_said(scene->language, rig, model->strands[s].end[0].body),
                 fhi_end_said(scene->language, rig, model->strands[s].end[1].body));
      return false;
    }
  }
  return true;
}
