// needs: mujoco lapacke
// SPDX-License-Identifier: MIT
// Do loss-free rigs move and pull as MuJoCo's tendons do? Each rig is built as a small world: bodies on slide joints, the
// load in a vertical slot, the lip a cylinder that ropes wrap, every piece of rope a spatial tendon of fixed length. A
// strand that lies double between two bodies is one branch behind a pulley with half the divisor. Then
//   1. the tendons' Jacobian has exactly the core's motion as its null space;
//   2. its transpose balances exactly with the core's tensions;
//   3. simulated with the core's hand force the load does not accelerate; with 2 % more it rises, with 2 % less it falls.
#include <lapacke.h>
#include <math.h>
#include <mujoco/mujoco.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common/docket.h"
#include "common/known.h"

enum { XML_ROOM = 1 << 16, MAX_PIECES = 64 };

static const double LIP_RADIUS = 0.05;  // [m] any: strands leave it level and plumb, so it does not matter

typedef struct text {
  char bytes[XML_ROOM];
  size_t used;
} text;

static void put(text *t, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void put(text *t, const char *format, ...) {
  va_list args;
  va_start(args, format);
  int n = vsnprintf(t->bytes + t->used, XML_ROOM - t->used, format, args);
  va_end(args);
  if (n > 0 && (size_t)n < XML_ROOM - t->used) {
    t->used += (size_t)n;
  }
}

// A piece of rope: strands that pass tension on, from one end that holds the rope to the next.
typedef struct piece {
  int first, last;
} piece;

typedef struct world {
  const ref_reading *r;
  piece pieces[MAX_PIECES];
  int piece_count;
  mjModel *model;
  mjData *data;
} world;

static void find_pieces(world *w) {
  const ref_reading *r = w->r;
  for (int i = 0; i < r->strand_count; i++) {
    ref_what what = r->points[r->strands[i].from].what;
    bool goes_on =
        (what == REF_TURN || what == REF_TENDED) && w->piece_count > 0 && w->pieces[w->piece_count - 1].last == i - 1;
    if (r->strands[i].slack) {
      continue;
    }
    if (goes_on) {
      w->pieces[w->piece_count - 1].last = i;
    } else if (w->piece_count < MAX_PIECES) {
      w->pieces[w->piece_count++] = (piece){i, i};
    }
  }
}

static void put_bodies(text *t, const ref_reading *r, const fh_scene *s) {
  put(t, "<geom name='lip' type='cylinder' size='%g 1' pos='0 0 0' euler='90 0 0'/>", LIP_RADIUS);
  put(t, "<site name='over' pos='-1 0 1'/>");
  for (int b = 0; b < r->body_count; b++) {
    bool load = b == FH_BODY_LOAD, fixed = !ref_body_moves(b);
    double at = b == FH_BODY_STATION ? s->station_at.likely : s->anchor_at.likely;
    for (int g = 0; g < s->rig.grip_count; g++) {
      at = s->rig.grips[g].body == b && !fixed ? s->rig.grips[g].at : at;
    }
    put(t, "<body name='b%d' pos='%.9g 0 %.9g'>", b, load ? -LIP_RADIUS : at, load ? -s->depth.likely : LIP_RADIUS);
    if (!fixed) {
      put(t, "<joint name='j%d' type='slide' axis='%s'/><geom type='sphere' size='0.01' mass='%g'/>", b,
          load ? "0 0 1" : "1 0 0", load ? r->weight / 9.80665 : 1.0);
    }
    put(t, "<site name='s%d'/></body>", b);
  }
}

// The hand stands far off in the direction of its pull.
static void put_hand(text *t, const ref_reading *r) {
  const ref_strand *h = &r->strands[r->hand_strand];
  double from = isfinite(r->points[h->from].at) ? r->points[h->from].at : 0.0;
  put(t,
      "<body pos='%.9g 0 %g'><joint name='hand' type='slide' axis='%g 0 0'/>"
      "<geom type='sphere' size='0.01' mass='1'/><site name='hand'/></body>",
      from + h->dir * 40.0, LIP_RADIUS, h->dir);
}

static const char *site_of(const ref_reading *r, int point, char *name) {
  if (r->points[point].what == REF_HAND) {
    return "hand";
  }
  snprintf(name, 16, "s%d", r->points[point].body);
  return name;
}

// A stretch of a piece between two bodies; over the lip it is two strands.
typedef struct stretch {
  char a[16], b[16];
  bool over_lip;
  int times;
} stretch;

static bool passes_through(const ref_reading *r, int point) {
  return r->points[point].what == REF_TENDED || (r->points[point].what == REF_TURN && r->points[point].body < 0);
}

static int stretches_of(const ref_reading *r, const piece *p, stretch *out) {
  int count = 0;
  for (int i = p->first; i <= p->last;) {
    stretch s = {.times = 1};
    char name[16];
    snprintf(s.a, sizeof s.a, "%s", site_of(r, r->strands[i].from, name));
    while (i < p->last && passes_through(r, r->strands[i].to)) {
      s.over_lip = s.over_lip || r->points[r->strands[i].to].what == REF_TURN;
      i++;
    }
    snprintf(s.b, sizeof s.b, "%s", site_of(r, r->strands[i].to, name));
    i++;
    int same = 0;
    while (same < count && !((strcmp(out[same].a, s.a) == 0 && strcmp(out[same].b, s.b) == 0) ||
                             (strcmp(out[same].a, s.b) == 0 && strcmp(out[same].b, s.a) == 0))) {
      same++;
    }
    if (same < count) {
      out[same].times++;
    } else {
      out[count++] = s;
    }
  }
  return count;
}

static void put_tendons(text *t, const world *w) {
  put(t, "<tendon>");
  for (int i = 0; i < w->piece_count; i++) {
    stretch s[REF_MAX_STRANDS];
    int count = stretches_of(w->r, &w->pieces[i], s);
    put(t, "<spatial name='t%d'>", i);
    for (int k = 0; k < count; k++) {
      put(t, "<pulley divisor='%.17g'/><site site='%s'/>", 1.0 / s[k].times, s[k].a);
      put(t, "%s", s[k].over_lip ? "<geom geom='lip' sidesite='over'/>" : "");
      put(t, "<site site='%s'/>", s[k].b);
    }
    put(t, "</spatial>");
  }
  put(t, "</tendon><equality>");
  for (int i = 0; i < w->piece_count; i++) {
    put(t, "<tendon tendon1='t%d' solref='0.01 1' solimp='0.9999 0.9999 0.001'/>", i);
  }
  put(t, "</equality>");
}

static bool make_world(world *w, const fh_scene *s) {
  static text t;
  static mjVFS vfs;
  char error[256] = "";
  t.used = 0;
  find_pieces(w);
  put(&t, "<mujoco><compiler angle='degree'/><option timestep='0.001' gravity='0 0 0' jacobian='dense' solver='Newton' "
          "tolerance='1e-14' iterations='200'><flag contact='disable'/></option><worldbody>");
  put_bodies(&t, w->r, s);
  put_hand(&t, w->r);
  put(&t, "</worldbody>");
  put_tendons(&t, w);
  put(&t, "</mujoco>");
  mj_defaultVFS(&vfs);
  mj_makeEmptyFileVFS(&vfs, "rig.xml", (int)t.used);
  memcpy(vfs.filedata[mj_findFileVFS(&vfs, "rig.xml")], t.bytes, t.used);
  w->model = mj_loadXML("rig.xml", &vfs, error, sizeof error);
  mj_deleteVFS(&vfs);
  if (w->model == NULL) {
    printf("MuJoCo refuses the world: %s\n", error);
    return false;
  }
  w->data = mj_makeData(w->model);
  mj_forward(w->model, w->data);
  return true;
}

static int column(const world *w, const char *joint) {
  return w->model->jnt_dofadr[mj_name2id(w->model, mjOBJ_JOINT, joint)];
}

// 1. J v = 0 for the core's speeds, and J has no other null vector.
static void judge_motion(ref_trial *t, const world *w) {
  int nv = w->model->nv, nt = w->model->ntendon;
  double v[FH_MAX_BODIES + 1] = {0}, sv[FH_MAX_BODIES + MAX_PIECES + 2], x[FH_MAX_BODIES + MAX_PIECES + 2] = {0};
  for (int b = 0; b < w->r->body_count; b++) {
    char joint[16];
    snprintf(joint, sizeof joint, "j%d", b);
    if (ref_body_moves(b)) {
      v[column(w, joint)] = t->check->bodies[b].speed;
    }
  }
  v[column(w, "hand")] = t->check->ideal_advantage;
  for (int i = 0; i < nt; i++) {
    double sum = 0.0;
    for (int k = 0; k < nv; k++) {
      sum += w->data->ten_J[i * nv + k] * v[k];
    }
    ref_judge_plain(t, "lengthening of tendon", i, sum, 0.0);
  }
  double *copy = malloc((size_t)(nt * nv + 1) * sizeof *copy);
  lapack_int rank = -1;
  if (copy != NULL) {
    memcpy(copy, w->data->ten_J, (size_t)(nt * nv) * sizeof *copy);
    LAPACKE_dgelsd(LAPACK_ROW_MAJOR, nt, nv, 1, copy, nv, x, 1, sv, 1e-10, &rank);
  }
  free(copy);
  ref_judge_plain(t, "rank of the tendons' Jacobian", 0, rank, nv - 1);
}

// 2. J^T T balances the weight and the hand force: a tendon that pulls with T does work -T dl.
static void judge_balance(ref_trial *t, const world *w) {
  int nv = w->model->nv;
  double f[FH_MAX_BODIES + 1] = {0};
  f[column(w, "j0")] -= w->r->weight;
  f[column(w, "hand")] += t->check->hand_force.likely;
  for (int i = 0; i < w->piece_count; i++) {
    const fh_band *first = &t->check->strands[w->pieces[i].first].tension[FH_RAISE];
    for (int k = w->pieces[i].first; k <= w->pieces[i].last; k++) {
      ref_judge(t, "same tension along a piece, strand", k, t->check->strands[k].tension[FH_RAISE].likely,
                first->likely);
    }
    for (int k = 0; k < nv; k++) {
      f[k] -= w->data->ten_J[i * nv + k] * first->likely;
    }
  }
  for (int k = 0; k < nv; k++) {
    ref_judge(t, "balance of joint", k, f[k], 0.0);
  }
}

// The load's acceleration under a hand force, once the tendons have settled. [m/s^2] MuJoCo's constraints are springs
// with a time constant of 0.01 s: for the first hundredths of a second they give; after 0.3 s they carry.
static double acceleration(const world *w, double hand) {
  mj_resetData(w->model, w->data);
  w->data->qfrc_applied[column(w, "j0")] = -w->r->weight;
  w->data->qfrc_applied[column(w, "hand")] = hand;
  for (int i = 0; i < 300; i++) {
    mj_step(w->model, w->data);
  }
  mj_forward(w->model, w->data);
  return w->data->qacc[column(w, "j0")];
}

// 3. At rest to 1e-6 of gravity; 2 % of the pull to either side shows clearly.
static void judge_simulation(ref_trial *t, const world *w) {
  double hand = t->check->hand_force.likely;
  double rest = acceleration(w, hand), more = acceleration(w, 1.02 * hand), less = acceleration(w, 0.98 * hand);
  t->checks += 3;
  if (!(fabs(rest) < 1e-5) || !(more > 1e-3) || !(less < -1e-3)) {
    t->failures++;
    printf("%s: simulated, the load accelerates by %g, with 2 %% more pull by %g, with 2 %% less by %g m/s^2\n",
           t->name, rest, more, less);
  }
}

// Exact tensions only: a rig with two ropes side by side leaves open how they share.
static bool is_exact(const fh_check *c) {
  for (int i = 0; i < c->strand_count; i++) {
    if (c->strands[i].tension[FH_RAISE].hi - c->strands[i].tension[FH_RAISE].lo > 1e-9 * c->weight.likely) {
      return false;
    }
  }
  return true;
}

static ref_verdict judge(ref_trial *t) {
  if (t->check->outcome != FH_OUTCOME_SOLVED || !is_exact(t->check)) {
    return REF_PUSHES;
  }
  world w = {.r = t->reading};
  if (!make_world(&w, t->scene)) {
    t->failures++;
    return REF_SOUND;
  }
  judge_motion(t, &w);
  judge_balance(t, &w);
  judge_simulation(t, &w);
  mj_deleteData(w.data);
  mj_deleteModel(w.model);
  return REF_SOUND;
}

int main(void) {
  ref_wish wish = ref_wish_default();
  wish.lossless = true;
  wish.spoil = 0.0;
  return ref_docket("tendons, MuJoCo", 400000, 1200, &wish, judge);
}
