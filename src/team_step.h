// SPDX-License-Identifier: MIT
// Falls of rope teams, several side by side, one step of time after the other. See team_kernel.h for the scheme.
#ifndef FHI_TEAM_STEP_H
#define FHI_TEAM_STEP_H

#include "firnhaul_team.h"

enum {
  FHI_FALLS = 8,  ///< side by side: a cache line of doubles
  FHI_FALL_PIECES = FH_MAX_PEOPLE - 1,
};

typedef enum fhi_fall_state {
  FHI_FALL_IDLE,     ///< nothing in this lane
  FHI_FALL_RUNS,
  FHI_FALL_RESTS,    ///< stopped, someone is left on the surface
  FHI_FALL_LOST,     ///< nobody is left there
  FHI_FALL_ENDLESS,  ///< ran out of time
} fhi_fall_state;

typedef double fhi_lane[FHI_FALLS];

/// Falls side by side. Numbers stand by quantity, then person or piece, then fall.
typedef struct fhi_falls {
  int people;
  int width;         ///< falls that one instruction works on: 2, 4 or 8
  unsigned busy;     ///< a bit for each lane that runs
  bool knots, cuts;  ///< some lane has knots; some lane's lip cuts in
  bool audit;        ///< keep the energy account
  fhi_fall_state state[FHI_FALLS];
  int tag[FHI_FALLS];             ///< whose fall this is

  // constant in a fall
  fhi_lane dt, per_dt;                        ///< [s] [1/s]
  fhi_lane modulus, damp;                     ///< [N], and [1] damping over the step
  fhi_lane stand, brake, reaction;            ///< [1] [1] [s]
  fhi_lane pull_out, press;                   ///< [m/s^2] along the surface toward the lip, and onto it
  fhi_lane weight[FH_MAX_PEOPLE];             ///< [1/kg] one over the mass
  fhi_lane length[FHI_FALL_PIECES];           ///< [m] of each piece, slack and all
  fhi_lane per_length[FHI_FALL_PIECES];       ///< [1/m]
  fhi_lane offset[FHI_FALL_PIECES];           ///< [m] along the rope where the piece begins
  fhi_lane lip_friction, lip_turn, lip_cut;   ///< [1] [rad] [m]
  fhi_lane knot_first, knot_apart, knot_catch, knot_count;
  fhi_lane knot_plough;                       ///< [m] no more than from knot to knot

  // that move
  fhi_lane time;                              ///< [s] of the next forces
  fhi_lane kick, per_kick;                    ///< [s] [1/s] length of the next kick: half a step at first, then a step
  fhi_lane at[FH_MAX_PEOPLE];                 ///< [m] at `time`
  fhi_lane speed[FH_MAX_PEOPLE];              ///< [m/s] half a step before `time`
  fhi_lane gain[FH_MAX_PEOPLE];               ///< [m/s^2] over the last kick, friction and all
  fhi_lane brakes_at[FH_MAX_PEOPLE];          ///< [s] when each brakes; infinite until the own piece was taut
  fhi_lane over[FHI_FALL_PIECES];             ///< [m] unstretched rope of each piece beyond the lip, at the last forces
  fhi_lane over_half[FHI_FALL_PIECES];        ///< [m] and half a step later
  fhi_lane strain[FHI_FALL_PIECES];           ///< [1] toward the hole, half a step after the last forces
  fhi_lane strain_back[FHI_FALL_PIECES];      ///< [1] and at the other end
  fhi_lane passed[FHI_FALL_PIECES];           ///< 1 while the piece lay over the lip a step ago, else 0
  fhi_lane tight[FHI_FALL_PIECES];            ///< [m] stretch at the end away from the hole, a step ago; negative: slack
  fhi_lane ratio, back_ratio;                 ///< [1] hole side over surface side while running down, and one over it
  fhi_lane run;                               ///< [m] rope that has run over the lip under load
  fhi_lane knots_past;                        ///< knots that are through
  fhi_lane knots_held;                        ///< knots that held once
  fhi_lane trench;                            ///< [m] how far the knot at the lip has ploughed
  fhi_lane bottoms;                           ///< times that the first one turned while nobody slid

  fhi_lane calm;                              ///< low points in a row between which the others slid next to nothing
  fhi_lane low_sum;                           ///< [m] where the others stood at the last low point, added up

  // of this step, and the extremes so far
  fhi_lane now[FH_MAX_PEOPLE];                ///< [m/s] everyone's speed at the time of the forces
  fhi_lane hole[FHI_FALL_PIECES];             ///< [N] tension of each piece toward the hole
  fhi_lane back[FHI_FALL_PIECES];             ///< [N] and at its other end
  fhi_lane late[FHI_FALL_PIECES];             ///< [1] share of the kick in which a piece pulls that comes taut in it; else 1
  fhi_lane peak[FHI_FALL_PIECES], pull[FHI_FALL_PIECES];
  fhi_lane nearest[FH_MAX_PEOPLE];            ///< [m] least place of each
  fhi_lane drawn;                             ///< [m] stretch of the piece at hand, at the end away from the hole
  fhi_lane was;                               ///< [m/s] the first one's speed before this kick
  fhi_lane moves;                             ///< 1 where someone on the surface slides, else 0

  // energy account, only when `audit`
  fhi_lane rubbed[FH_MAX_PEOPLE];             ///< [m^2/s^2] work of friction on each one over the last kick, a kilogram
  fhi_lane knots_then;                        ///< knots that were through a step ago
  fhi_lane bite;                              ///< [N] loss at the lip a metre of rope, a step ago
  fhi_lane lost_slide, lost_lip, lost_rope;   ///< [J] friction of people; the lip and knots; damping
} fhi_falls;

/// One piece of rope where it passes the lip, over half a step, for the lanes of one group. Strains never are negative.
typedef struct fhi_lip {
  fhi_lane a, b;              ///< [m] drawn length in the hole and on the surface, at the end of the half step
  fhi_lane begin, over;       ///< [m] unstretched rope beyond the lip, before and after
  fhi_lane from, from_back;   ///< [1] strains before
  fhi_lane to, to_back;       ///< [1] and after
  // Only where a knot gives way, else 0: by how much strains fall at once; the same times the share of the half step before it.
  fhi_lane jump, jump_back;   ///< [1]
  fhi_lane early, early_back; ///< [1]
} fhi_lip;

/// Room for falls, on a cache line, as wide as the processor can. @return NULL when there is none; fhi_falls_destroy frees it
fhi_falls *fhi_falls_create(int people, bool audit);
void fhi_falls_destroy(fhi_falls *f);
/// @param width 2, 4 or 8  @return true when this processor works on so many at once; the answers are the same bits
bool fhi_falls_widen(fhi_falls *f, int width);
/// Puts a fall into a lane. @param step [s]
void fhi_falls_load(fhi_falls *f, int lane, const fh_fall_in *in, double step, int tag);
/// One step of all lanes that run. @return true when some lane has come to its end
bool fhi_falls_step(fhi_falls *f);
/// Reads a lane that has ended and frees it.
void fhi_falls_take(fhi_falls *f, int lane, const fh_fall_in *in, fh_fall *out);
/// Energy of a lane now: of motion, height and stretch. @return [J]
double fhi_falls_energy(const fhi_falls *f, int lane, const fh_fall_in *in);

// What the kernels (team_kernel.h) are, and what they leave to plain C since it is rare. `lane`: the first of a group.
unsigned fhi_step_wide2(fhi_falls *f, int lane);  ///< @return a bit for each lane of the group that may have ended
unsigned fhi_step_wide4(fhi_falls *f, int lane);
unsigned fhi_step_wide8(fhi_falls *f, int lane);
bool fhi_wide4_is_built(void);
bool fhi_wide8_is_built(void);
/// The lip's ratio from its friction, turn and how far it has been cut.
void fhi_lip_set_ratio(fhi_falls *f, int lane);
/// Knots of piece j that have come to the lip within a half step, in the lanes of the group that have a bit. Lanes of `lip` count
/// from `lane`.
void fhi_lip_knots(fhi_falls *f, int lane, unsigned lanes, int j, fhi_lip *lip);
/// The lip wears on and the energy account goes on, once the rope over it at the forces is known. @param before [m] a step ago
void fhi_lip_cut(fhi_falls *f, int lane, unsigned lanes, int j, const double *before);
/// Energy of a piece of rope of rest length `rest` drawn to `drawn`. @param modulus [N] @param drawn,rest [m] @return [J]
double fhi_stretch_energy(double modulus, double drawn, double rest);
/// Energy account of a lane's step: friction of people and damping of rope.
void fhi_audit_step(fhi_falls *f, int lane);

#endif
