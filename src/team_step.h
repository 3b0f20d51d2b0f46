// SPDX-License-Identifier: MIT
// Falls of rope teams, several side by side, one step of time after the other. See team_step.c for the scheme.
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
  bool knots, cuts;  ///< some lane has knots; some lane's lip cuts in
  fhi_fall_state state[FHI_FALLS];
  int tag[FHI_FALLS];             ///< whose fall this is
  double start_mps[FHI_FALLS];    ///< [m/s]

  // constant in a fall
  fhi_lane dt;                                ///< [s]; 0 in an idle lane
  fhi_lane modulus, damping;                  ///< [N] [s]
  fhi_lane stand, brake, reaction;            ///< [1] [1] [s]
  fhi_lane pull_out, press;                   ///< [m/s^2] along the surface toward the lip, and onto it
  fhi_lane weight[FH_MAX_PEOPLE];             ///< [1/kg] one over the mass
  fhi_lane length[FHI_FALL_PIECES];           ///< [m] of each piece, slack and all
  fhi_lane offset[FHI_FALL_PIECES];           ///< [m] along the rope where the piece begins
  fhi_lane lip_friction, lip_turn, lip_cut;   ///< [1] [rad] [m]
  fhi_lane knot_first, knot_apart, knot_catch, knot_count;

  // that move
  fhi_lane time;                              ///< [s] of the next forces
  fhi_lane kick;                              ///< [s] length of the next kick: half a step at first, then a step
  fhi_lane at[FH_MAX_PEOPLE];                 ///< [m] at `time`
  fhi_lane speed[FH_MAX_PEOPLE];              ///< [m/s] half a step before `time`
  fhi_lane gain[FH_MAX_PEOPLE];               ///< [m/s^2] over the last kick, friction and all
  fhi_lane brakes_at[FH_MAX_PEOPLE];          ///< [s] when each brakes; infinite until the own piece was taut
  fhi_lane over[FHI_FALL_PIECES];             ///< [m] unstretched rope of each piece beyond the lip
  fhi_lane tight[FHI_FALL_PIECES];            ///< [m] stretch at the end away from the hole, a step ago; negative: slack
  fhi_lane ratio, back_ratio;                 ///< [1] hole side over surface side while running down, and one over it
  fhi_lane run;                               ///< [m] rope that has run over the lip under load
  fhi_lane knots_past;                        ///< knots that are through
  fhi_lane knots_held;                        ///< knots that held once
  fhi_lane bottoms;                           ///< times that the first one turned while nobody slid

  fhi_lane calm;                              ///< low points in a row between which the others slid next to nothing
  fhi_lane low_sum;                           ///< [m] where the others stood at the last low point, added up

  // of this step, and the extremes so far
  fhi_lane hole[FHI_FALL_PIECES];             ///< [N] tension of each piece toward the hole
  fhi_lane back[FHI_FALL_PIECES];             ///< [N] and at its other end
  fhi_lane peak[FHI_FALL_PIECES], pull[FHI_FALL_PIECES];
  fhi_lane nearest[FH_MAX_PEOPLE];            ///< [m] least place of each

  fhi_lane taken;                             ///< [m/s] that friction took from the speed of the one who was moved last

  // energy account, only when `audit`
  bool audit;
  fhi_lane bite;                              ///< [N] loss at the lip a metre of rope, a step ago
  fhi_lane lost_slide, lost_lip, lost_rope;   ///< [J] friction of people; the lip and knots; damping
} fhi_falls;

/// Starts with all lanes idle.
void fhi_falls_start(fhi_falls *f, int people, bool audit);
/// Puts a fall into a lane. @param step [s]
void fhi_falls_load(fhi_falls *f, int lane, const fh_fall_in *in, double step, int tag);
/// The lip's ratio from its friction, turn and how far it has been cut.
void fhi_falls_set_ratio(fhi_falls *f, int lane);
/// Tensions at both ends of every piece, rope over the lip, clocks, extremes. @param v [m/s] everyone's speed at this time
void fhi_falls_pull(fhi_falls *f, fhi_lane *v);
/// Energy of a piece of rope of rest length `rest` drawn to `drawn`. @param modulus [N] @param drawn,rest [m] @return [J]
double fhi_stretch_energy(double modulus, double drawn, double rest);
/// One step of all lanes that run. @return true when some lane has come to its end
bool fhi_falls_step(fhi_falls *f);
/// Reads a lane that has ended and frees it.
void fhi_falls_take(fhi_falls *f, int lane, const fh_fall_in *in, fh_fall *out);
/// Energy of a lane now: of motion, height and stretch. @return [J]
double fhi_falls_energy(const fhi_falls *f, int lane, const fh_fall_in *in);

#endif
