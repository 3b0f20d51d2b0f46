// SPDX-License-Identifier: MIT
// A rig made ready to be solved: strands, contacts, balances and chains, as plain index tables.
// Implements model.md, sections 1 to 4. Constant once compiled; solvers read it and fill plain arrays.
#ifndef FHI_MODEL_H
#define FHI_MODEL_H

#include "firnhaul.h"

enum {
  FHI_MAX_CHAINS = FH_MAX_STATIONS,
  FHI_MAX_UNKNOWNS = FH_MAX_STATIONS + FH_MAX_GRIPS + 1,
};

/// What a strand's end is fastened to.
typedef enum fhi_end_kind { FHI_END_FIXED, FHI_END_CONTACT, FHI_END_HAND, FHI_END_LOOSE } fhi_end_kind;

/// One end of a strand. FIXED: a tie or a grip, the rope does not pass.
typedef struct fhi_end {
  fhi_end_kind kind;
  int body;     ///< index into the rig's bodies, FH_END_LIP, FH_END_HAND or FH_END_LOOSE
  int contact;  ///< CONTACT: index into contacts, else -1
  int grip;     ///< FIXED by a grip: index into the rig's grips, else -1
  double s;     ///< [m] on the haul line
} fhi_end;

typedef struct fhi_strand {
  int path, after;      ///< the rope, and the station before it
  fhi_end end[2];       ///< from, to
  int dir;              ///< +1 when `to` lies farther back than `from`, -1 when nearer, 0 when it has no length
  double length;        ///< [m]
  bool slack;           ///< carries nothing while raising and lowering
  bool slack_hold;      ///< carries nothing while holding (a locked capture stops the slackness)
  bool slack_line;      ///< belongs to a piece of rope that was marked slack
} fhi_strand;

typedef enum fhi_contact_kind { FHI_BAR, FHI_SHEAVE, FHI_EDGE, FHI_TENDED } fhi_contact_kind;

typedef struct fhi_contact {
  fhi_contact_kind kind;
  int station;          ///< index into the rig's stations; -1 for a tended capture
  int grip;             ///< tended capture: index into the rig's grips; else -1
  int body, item;       ///< body index or FH_END_LIP; gear index or -1
  int before, after;    ///< strands
  double wrap;          ///< [rad] along the haul line
  fh_number eta;        ///< [1] bar, sheave: efficiency at 180 degrees
  fh_number mu;         ///< [1] edge: friction
  fh_number share;      ///< [1] bending share
  bool capture, reversed;
  bool slack;           ///< no rope under tension runs here while raising
} fhi_contact;

typedef struct fhi_model {
  fh_language language;        ///< of what is said about it: the scene's
  fhi_strand strands[FH_MAX_STRANDS];
  fhi_contact contacts[FH_MAX_STATIONS + FH_MAX_GRIPS];
  double at[FH_MAX_BODIES];    ///< [m] bodies on the haul line
  bool fixed[FH_MAX_BODIES];
  int strand_count, contact_count, body_count;
  int hand_strand;             ///< the strand that the crew pulls
  int hand_dir;                ///< +1 back, -1 toward the lip
  double hand_angle;           ///< [rad] likely
  fh_range hand_angles;        ///< [rad] over its range
} fhi_model;

/// Compiles a rig. @param why size bytes for a sentence when the rig makes no model
/// @return true, or false with `why` filled (a strand without length, the hand's strand hangs loose, too much)
bool fhi_model_compile(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, fhi_model *model, char *why, size_t size);

/// Speeds while the load rises at 1 m/s.
typedef struct fhi_motion {
  fh_outcome outcome;
  double body[FH_MAX_BODIES];                       ///< [1] along +s
  double rate[FH_MAX_STATIONS + FH_MAX_GRIPS];      ///< [1] rope through each contact, toward the rope's last end
  double hand;                                      ///< [1] away from the last contact: the ideal advantage
  int chain[FH_MAX_STRANDS];                        ///< strands joined by contacts where the rope slides; -1: none
  int dead_by[FH_MAX_STRANDS];                      ///< dead strand (see chains.c): the resting contact that bounds it, else -1
  int chains;                                       ///< chains that carry the load
  bool coupled;                                     ///< resting contacts leave the tensions open: they need linear programmes
  char why[200];
} fhi_motion;

/// Section 3. Locked: says which strands fight. Dangling: says which body.
/// @return FH_OK with the outcome in the motion, or FH_ERR_MEMORY
fh_status fhi_motion_solve(const fh_rig *rig, const fhi_model *model, fhi_motion *motion);

/// Fills the motion's chains: which tensions hang together. Called by fhi_motion_solve.
void fhi_chains_fill(const fhi_model *model, fhi_motion *motion);

/// A body's name, or lip, hand, loose. @return a constant or the rig's own string
const char *fhi_end_name(const fh_rig *rig, int body);

/// Tension ratio of one contact when the rope slides. @param eta_or_mu [1] the one that applies  @param share [1] bending share
/// @param wrap [rad]  @return [1], 1 or more
double fhi_contact_factor(const fhi_contact *contact, double eta_or_mu, double share, double wrap);

#endif
