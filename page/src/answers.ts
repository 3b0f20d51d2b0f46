// SPDX-License-Identifier: MIT
// The shape of what the core answers (docs: use.md, "For programs").
import type { TreeMap } from './core';
import type { Band } from './units';

export interface Strand {
  rope: string; from: string; to: string; after: number; carries: boolean; length_m: number; speed?: number; tension_N: Band;
}
export interface Contact {
  body: string; on: string | null; wrap_deg: number; efficiency: Band; capture: boolean; resting: boolean; rate?: number; force_N: Band;
}
export interface Body { name: string; at_m: number; fixed: boolean; speed?: number; force_N: Band }
export interface Grip { name: string; hitch: string; rope: string; force_N: number | null; force_range_N: Band }
export interface State { strands: Strand[]; contacts: Contact[]; bodies: Body[]; grips: Grip[]; on_anchor_N: Band }
export interface Raise extends State { hand_force_N: number | null; hand_force_range_N: Band }
export interface Limit {
  element: string; state: string; force_N: number | null; limit_N: number | null; margin: number | null; source: string; basis: string;
}
/// What the pull over the lip itself takes where the rope has cut in; a force of null: the load jams.
export interface OverEdge { pushes_off: boolean; hand_force_N: Band; cleared_N: Band; answer: 'yes' | 'unsure' | 'no' }
export interface Crew { force_N: Band; sustained_N: Band; limit: string }

export interface Check {
  title: string; outcome: string; why: string; answer: 'yes' | 'unsure' | 'no'; weight_N: Band;
  ideal_advantage: number | null; actual_advantage: number | null; actual_advantage_range: Band; residual: number;
  raise: Raise; hold: State | null; lower: State | null; limits: Limit[]; worst_margin: number | null;
  crew: Crew; crew_share: number | null; crew_share_range: Band; kept_share: number | null; kept_share_range: Band; over_edge: OverEdge | null;
  throw_m: number; throw_hand_m: number; throw_ends: string; strokes: number | null; resets: number | null;
  time_s: number | null; time_range_s: Band; time_with_rests_s: number | null; time_with_rests_range_s: Band; ropes: { name: string; length_m: number | null; needed_m: number; live_m: number }[];
  pieces: number; built: string[]; notes: { level: 'info' | 'warn' | 'no'; text: string }[]; caution: string;
}

/// A check at a glance (Ask.check, 2).
export type Glance = Omit<Check, 'raise' | 'hold' | 'lower' | 'limits' | 'pieces' | 'built' | 'notes' | 'caution'> & { raise: Pick<Raise, 'hand_force_N' | 'hand_force_range_N' | 'on_anchor_N'> };

export interface Plan {
  why: string; possible: boolean; asks_below: boolean; tends_far: boolean; carabiners: number; ideal_advantage: number; hand_force_N: number; hand_force_range_N: Band; crew_force_N: Band; actual_advantage: number;
  rope_needed_m: number; throw_m: number; resets: number | null; time_s: number | null; time_range_s: Band; time_with_rests_s: number | null; time_with_rests_range_s: Band; pieces: number; worst_margin: number | null;
  crew_share: number | null; over_edge: OverEdge | null; built: string[]; rig: TreeMap;
  lacks_pull_N?: number;  // of the less likely ones
}
export interface Point { weakest: string; margin: number | null; answer: 'yes' | 'unsure' | 'no'; share: Band; time_s: Band }
export interface Plans {
  crew: Crew; points: Point[];  // one a plan, then one a less likely rig
  list: {
    title: string; possible: boolean; simpler: string; missing: string; changes: { what: string[]; free: boolean; text: string }[]; searched: number; sound: number; distinct: number; kept: number; max_contacts: number;
    complete: boolean; bounds: string; plans: Plan[]; less_likely: Plan[];
  };
}

/// What one line says of all rigs: a part of the above, which the core gives by itself as well (Ask.plan, -1, 2).
export interface Brief {
  crew: Pick<Crew, 'force_N'>; points: Pick<Point, 'answer'>[];
  list: { plans: Pick<Plan, 'asks_below' | 'ideal_advantage' | 'hand_force_N' | 'hand_force_range_N' | 'crew_force_N' | 'time_s' | 'time_with_rests_s' | 'time_with_rests_range_s' | 'over_edge'>[]; less_likely: Pick<Plan, 'ideal_advantage'>[] };
}

export function briefOf({ crew, points, list }: Brief): Brief {
  return { crew: { force_N: crew.force_N }, points: points.slice(0, list.plans.length).map(({ answer }) => ({ answer })),
    list: { plans: list.plans.map(({ asks_below, ideal_advantage, hand_force_N, hand_force_range_N, crew_force_N, time_s, time_with_rests_s, time_with_rests_range_s, over_edge }) =>
      ({ asks_below, ideal_advantage, hand_force_N, hand_force_range_N, crew_force_N, time_s, time_with_rests_s, time_with_rests_range_s, over_edge })),
      less_likely: list.less_likely.map(({ ideal_advantage }) => ({ ideal_advantage })) } };
}

export interface Key {
  path: string; type: string; unit: string; lo: number; hi: number; fallback: string; choices: string; help: string; required: boolean;
  classes: number;
}
export interface Item { name: string; class: number; about: string; standard: string; figures: { [what: string]: Band } }

/// Classes of items, as in fh_item_class.
export const ItemClass = { bar: 0, sheave: 1, capture: 2, hitch: 3, surface: 4, rope: 5, posture: 6, anchor: 7, other: 8 } as const;

export type Verdict = 'yes' | 'likely' | 'perhaps' | 'no';

/// Whether the edge is to be cleared before the load comes to it.
export function edgeFirst(over: OverEdge | null): boolean {
  return over !== null && over.answer !== 'yes';
}

/// Can this crew do it? Yes and no are the core's own words; between them its "unsure" is split by the ranges alone: likely when the
/// greatest pull is within what they likely can, or the likely pull within the least that they can; never where the edge as it is may
/// take more than they have.
export function verdict(answer: 'yes' | 'unsure' | 'no', hand: Band, crew: Band, over: OverEdge | null): Verdict {
  if (answer !== 'unsure') {
    return answer;
  }
  const within = (a: number | null | undefined, b: number | null | undefined): boolean =>
    typeof a === 'number' && typeof b === 'number' && a <= b;
  return !edgeFirst(over) && (within(hand.high, crew.likely) || within(hand.likely, crew.low)) ? 'likely' : 'perhaps';
}

/// The word for one rig of those that were kept.
export function verdictAt(brief: Brief, index: number): Verdict {
  const plan = brief.list.plans[index];
  const point = brief.points[index];
  return plan === undefined || point === undefined ? 'no' : verdict(point.answer, { ...plan.hand_force_range_N, likely: plan.hand_force_N }, plan.crew_force_N, plan.over_edge);
}
