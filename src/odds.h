// SPDX-License-Identifier: MIT
// A rig made ready to be sampled: its unknowns, what each of them moves, and one block of samples at a time. Model section 12.
#ifndef FHI_ODDS_H
#define FHI_ODDS_H

#include "batch.h"
#include "firnhaul_chance.h"
#include "quasi.h"
#include "state.h"

enum { FHI_MAX_GROUPS = 24 };

/// Where a value comes from: an unknown, or a constant.
typedef struct fhi_source {
  int unknown;    ///< index, or -1
  double value;   ///< when there is none
} fhi_source;

/// Contacts whose tension ratio is the same number: one friction and turn, or one efficiency and share.
typedef struct fhi_group {
  fhi_contact_kind kind;
  fhi_source mu_or_eta, share, turn;
  double wrap;    ///< [rad] bars and sheaves
} fhi_group;

typedef struct fhi_puller {
  fhi_source mass, footing, strength, sustained, grip, pull;
  double footing_share, last;  ///< [1]; last: sustained over short when the pull is measured
  bool measured, hands;
} fhi_puller;

typedef struct fhi_odd_limit {
  fhi_limit_kind kind;
  int index;
  fhi_source limit;      ///< [N]
  double scale;          ///< [1] of the unknown
  double hold;           ///< [1] force while holding over the weight, at the most
  double leg;            ///< [1] anchor point: its leg's part of the pull
  char element[48];
} fhi_odd_limit;

enum { FHI_MAX_SPANS = FH_MAX_STRANDS + FH_MAX_STATIONS };

/// Where an end of a strand is on the haul line.
typedef struct fhi_place {
  fhi_source at;         ///< [m]
  double side;           ///< [1] -1: `at` is a depth below the lip
} fhi_place;

/// Rope between two places; slack lies between 0 and its length.
typedef struct fhi_span {
  fhi_place end[2];
  int rope;              ///< of the scene
} fhi_span;

/// A rope of stated length that reaches in some of the cases and not in others.
typedef struct fhi_odd_rope {
  int rope;              ///< of the scene
  fhi_source length;     ///< [m]
  double spare;          ///< [m] in knots and in the hand
} fhi_odd_rope;

typedef struct fhi_odds {
  const fh_rig *rig;      ///< of the caller: has to outlive this
  fh_unknown unknown[FH_MAX_UNKNOWNS];
  double cut_lo[FH_MAX_UNKNOWNS], cut_hi[FH_MAX_UNKNOWNS];
  int unknowns;
  bool shared;
  char stood[FH_MAX_STOOD][64];  ///< open, and at its likely value
  int stood_count;
  fhi_check_room room;    ///< the rig's model, motion and factors
  fhi_batch batch;
  bool fast;              ///< the batch does it; else one sample at a time
  fhi_group group[FHI_MAX_GROUPS];
  int groups, group_of[FHI_MAX_CONTACTS];
  fhi_source mass, slope;
  bool angled;            ///< the crew may pull at an angle to the haul line
  fhi_source angle;       ///< [rad] of the pull
  double direction;       ///< [1] of the slope: +1 the crew pulls uphill
  fhi_source used, loss;
  fhi_puller puller[FH_MAX_CREW];
  int pullers;
  fhi_odd_limit limit[FH_MAX_LIMITS];
  int limits;
  fhi_odd_rope rope[FH_MAX_ROPES];
  int ropes;              ///< 0: whether the ropes reach is settled
  bool too_short;         ///< some rope does not reach in any case
  fhi_span span[FHI_MAX_SPANS];
  int spans;
  double pull_lo, pull_hi, capacity_lo, capacity_hi;  ///< [N] for the histograms
} fhi_odds;

/// Scratch of one thread.
typedef struct fhi_odds_scratch {
  double u[FHI_LANES];
  double x[FH_MAX_UNKNOWNS][FHI_LANES];
  double group[FHI_MAX_GROUPS][FHI_LANES];
  double registers[FHI_LANES * FHI_MAX_REGISTERS];
  double tension[FH_MAX_STRANDS][FHI_LANES];  ///< one at a time: copied here
  double contact[FHI_MAX_CONTACTS][FHI_LANES];
  bool given;              ///< the tensions are the caller's
  fhi_rest *rest;
  const fhi_batch *begun;
} fhi_odds_scratch;

/// What a block of samples gives.
typedef struct fhi_odds_out {
  double pull[FHI_LANES];       ///< [N] NaN where there is no state
  double capacity[FHI_LANES];   ///< [N]
  double sustained[FHI_LANES];  ///< [N]
  double margin[FHI_LANES];     ///< [1] least of all limits, capped at 20
  uint64_t broken[FH_MAX_LIMITS];  ///< bit of a lane: that limit does not hold
  uint64_t too_short;           ///< bit of a lane: some rope of stated length does not reach
} fhi_odds_out;

/// Where a normal number of a scene's key is cut, in SI. @param key a path of the scene's table, or NULL: not cut
void fhi_key_cuts(const char *key, double *lo, double *hi);

/// @param check of the same rig, solved  @return FH_OK, FH_ERR_MEMORY
fh_status fhi_odds_build(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fhi_odds *odds);
/// The same when odds->room is still as the check left it.
fh_status fhi_odds_build_on(const fh_scene *scene, const fh_gear *gear, const fh_rig *rig, const fh_check *check, fhi_odds *odds);
/// Contact ratios to the hand's pull alone, from the unknowns' values in scratch->x: what the speed is measured on.
void fhi_odds_pull(const fhi_odds *odds, fhi_odds_scratch *scratch, double *pull);
/// All of it.
void fhi_odds_block(const fhi_odds *odds, fhi_odds_scratch *scratch, bool limits, fhi_odds_out *out);
/// Which limits hold under the pulls in scratch->tension [1] over the weight; the unknowns' values are in scratch->x.
void fhi_odds_limits(const fhi_odds *odds, fhi_odds_scratch *scratch, fhi_odds_out *out);
/// An unknown for this number: the one of the same name, a new one, or none when it is exact. @param key,advice NULL: none
fhi_source fhi_odds_source(fhi_odds *odds, fh_number number, const char *key, const char *advice, const char *name);
/// Which ropes of stated length do not reach, or may not, and what that rests on. @param check of the same rig, solved
void fhi_odds_ropes(const fh_scene *scene, const fh_rig *rig, const fh_check *check, fhi_odds *odds);
/// Lanes in which some rope does not reach. @return bit of a lane
uint64_t fhi_odds_too_short(const fhi_odds *odds, const fhi_odds_scratch *scratch);
/// Values of all unknowns in a block. @param dim0 first dimension of the sampler that stands for unknown 0
void fhi_odds_draw(const fhi_odds *odds, const fhi_sampler *sampler, int dim0, uint32_t block, fhi_odds_scratch *scratch);

#endif
