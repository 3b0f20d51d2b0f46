// SPDX-License-Identifier: MIT
// What a team's fall comes to, in words that never say more than was worked out or counted.
import type { Verdict } from './answers';
import { h } from './dom';
import { t } from './msg';
import { badge, fact } from './rigs';
import { forceBand, inUnits, isImperial, length, shown, type Band } from './units';

/// A third of the falls: those with the least friction of who brakes, or the most.
export interface Third { brake: Band; nobody_else_in: number | null; nobody_else_in_range: Band }
export interface Chance {
  samples: number; arrested: number | null; nobody_else_in: number | null; nobody_else_in_range: Band; unresolved: number;
  by_brake: { least: Third; most: Third } | null;
  fall_m: Band; slide_m: Band[]; peak_N: Band[]; lip_margin_m: Band;
}
export interface Team {
  outcome: string; arrested: boolean; fall_m: number | null; slide_m: (number | null)[]; peak_N: (number | null)[]; surface_peak_N: (number | null)[];
  lip_margin_m: number | null; pulled_in: number; knots_caught: number; time_s: number | null; start_m: number[]; chance: Chance | null;
}
export interface Raises { first_m: number | null; last_m: number | null; lacks: string[]; raises: { depth_m: number; rope_m: number | null; possible: boolean; sure: boolean; why: string }[] }

/// `likely` from this share of the falls on, by the low end of the count's own doubt.
const MOST = 0.9;

export function holds(team: Team): boolean {
  return team.outcome === 'solved' && team.arrested && team.pulled_in === 0;
}

/// No without a hold at the likely figures. Yes only if every fall that was counted was held; nothing counted, or nothing to count: at most
/// "likely". Likely only if so many are held where the snow gives least as well.
export function teamVerdict(team: Team, chance: Chance | null, counted: boolean): Verdict {
  if (!holds(team)) {
    return 'no';
  }
  if (chance === null) {
    return counted ? 'likely' : 'perhaps';
  }
  const most = (chance.nobody_else_in_range.low ?? 0) >= MOST && (chance.by_brake?.least.nobody_else_in ?? 1) >= MOST;
  return counted && chance.nobody_else_in === 1 && chance.unresolved === 0 ? 'yes' : most ? 'likely' : 'perhaps';
}

/// So many of 100: 100 and 0 only where all or none were.
export function of100(share: number | null): string {
  if (share === null || !(share >= 0 && share <= 1)) {
    return '?';
  }
  const hundred = Math.round(share * 100);
  return share < 1 && hundred === 100 ? '> 99' : share > 0 && hundred === 0 ? '< 1' : String(hundred);
}

export function range100(range: Band): string {
  return range.low === null || range.high === null ? '?' : `${Math.floor(range.low * 100)}–${Math.ceil(range.high * 100)}`;
}

export function chanceWords(chance: Chance): string {
  return t('teamOf100', of100(chance.nobody_else_in), range100(chance.nobody_else_in_range), chance.samples);
}

/// What the snow makes of it: the thirds of the falls with the least and the most friction.
export function endWords(chance: Chance): string {
  const ends = chance.by_brake;
  return ends === null ? '' : t('teamEnds', of100(ends.least.nobody_else_in), (ends.least.brake.high ?? 0).toFixed(2), of100(ends.most.nobody_else_in), (ends.most.brake.low ?? 0).toFixed(2));
}

/// The chance in a few words, with what the snow makes of it.
export function shortWords(chance: Chance): string {
  const ends = chance.by_brake;
  return ends === null ? t('teamShort', of100(chance.nobody_else_in)) : t('teamShortEnds', of100(chance.nobody_else_in), of100(ends.least.nobody_else_in), of100(ends.most.nobody_else_in));
}

/// The range of what is stopped holds what is likely too: the likely fall is one of them.
function around(likely: number | null, band: Band | null): Band | null {
  return likely === null || band === null || band.low === null || band.high === null ? band : { low: Math.min(band.low, likely), high: Math.max(band.high, likely) };
}

/// A fall, or a slide: the likely one has a length only where it is stopped before the edge.
function stopped(likely: number | null, band: Band | null, stays: boolean, words: string): string {
  return stays ? lengthBand(likely, around(likely, band)) : band === null || band.low === null ? words : `${words}${t('teamWhereHeld', lengthBand(null, band).replace(/^– /, ''))}`;
}

/// How far the first one falls.
export function fallWords(team: Team, chance: Chance | null): string {
  return stopped(team.fall_m, chance?.fall_m ?? null, team.arrested, t('teamNotStopped'));
}

/// Outward to a tenth of a metre, so that a range never looks narrower than it is.
export function lengthBand(likely: number | null, band: Band | null): string {
  const u = shown('m');
  if (band === null || band.low === null || band.high === null) {
    return likely === null ? '–' : length(likely);
  }
  const step = isImperial() ? 1 : 0.1;
  const digits = isImperial() ? 0 : 1;
  const low = (Math.floor(band.low / u.factor / step + 1e-9) * step).toFixed(digits);
  const high = (Math.ceil(band.high / u.factor / step - 1e-9) * step).toFixed(digits);
  return `${likely === null ? '–' : length(likely)} (${low}–${high})`;
}

function forces(likely: number | null, band: Band | undefined): string {
  return forceBand(band === undefined ? { low: likely, high: likely } : { ...band, likely });
}

function words(team: Team, chance: Chance | null, counted: boolean): string {
  const verdict = teamVerdict(team, chance, counted);
  if (team.outcome !== 'solved') {
    return t('teamEndless');
  }
  if (verdict === 'no') {
    return team.arrested ? t('teamFollowed', team.pulled_in) : t('teamAllIn');
  }
  return !counted ? t('teamCounting') : chance === null ? t('teamExact') : t(`team_${verdict}`);
}

/// The answer, its figures, and a row for everyone.
export function answerParts(team: Team, chance: Chance | null, counted: boolean, knots: number): (Node | null)[] {
  const row = (cells: string[]): HTMLElement => h('tr', {}, ...cells.map((cell, i) => (i === 0 ? h('th', { scope: 'row' }, cell) : h('td', { class: 'num' }, cell))));
  const band = (pick: (c: Chance) => Band | undefined): Band | null => (chance === null ? null : pick(chance) ?? null);
  return [
    h('p', { class: 'row' }, badge(teamVerdict(team, chance, counted)), h('span', {}, words(team, chance, counted))),
    h('p', { class: 'chance' }, chance === null ? '' : chanceWords(chance)),
    chance === null || chance.by_brake === null ? null : h('p', { class: 'chance', id: 'team-ends' }, endWords(chance)),
    h('dl', { class: 'facts' },
      fact(t('teamFallOf'), fallWords(team, chance)),
      fact(t('teamMargin'), lengthBand(team.lip_margin_m, band((c) => c.lip_margin_m))),
      fact(t('teamCaught'), knots > 0 ? `${team.knots_caught} / ${knots}` : t('noBackup')),
      fact(t('teamOver'), team.time_s === null ? '?' : `${team.time_s.toFixed(1)} s`)),
    h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': t('teamEveryone') }, h('table', {},
      h('caption', {}, t('teamEveryone')),
      h('thead', {}, h('tr', {}, ...[t('teamPerson'), t('teamSlides'), t('teamPeak'), t('teamHarness')].map((name) => h('th', { scope: 'col' }, name)))),
      h('tbody', {}, ...team.start_m.map((_at, i) => row([String(i + 1), i === 0 ? t('teamFallsIn') : stopped(team.slide_m[i] ?? null, band((c) => c.slide_m[i]), team.arrested && i > team.pulled_in, t('teamGoesIn')),
        i === 0 ? '–' : forces(team.peak_N[i - 1] ?? null, chance?.peak_N[i - 1]), i === 0 ? '–' : forces(team.surface_peak_N[i - 1] ?? null, undefined)]))))),
    h('p', { class: 'help' }, t('teamBands')),
  ];
}

/// Both ends of the rope as on the trip sheet: the last one's takes up the rounding.
function coils(first: number, last: number): [string, string] {
  const unit = isImperial() ? shown('m').factor : 0.1;
  const near = (x: number): number => Math.round(x / unit) * unit;
  return [length(first), length(near(first + last) - near(first))];
}

/// What is left of the rope, and what the others can do with it.
export function raiseParts(raises: Raises | null): Node[] {
  if (raises === null) {
    return [h('p', { class: 'hint' }, t('searching'))];
  }
  return [
    h('p', {}, raises.first_m === null ? t('teamNoRope') : t('teamCoils', ...coils(raises.first_m, raises.last_m ?? 0))),
    ...raises.lacks.map((text) => h('p', { class: 'note no' }, text)),
    ...raises.raises.map((raise, i) => h('div', { class: `note ${raise.possible ? '' : 'no'}` },
      h('b', {}, `${raise.sure ? '✓' : raise.possible ? '?' : '✕'} ${t('teamHangs', i + 1, length(raise.depth_m), raise.rope_m === null ? '?' : length(raise.rope_m))} ${t(raise.sure ? 'teamCanRaise' : raise.possible ? 'teamLikelyRaise' : 'teamCannotRaise')}`),
      h('p', { class: 'help' }, inUnits(raise.why)))),
    h('p', { class: 'help' }, t('teamRaiseHelp')),
    h('p', { class: 'help' }, t('teamLeast')),
  ];
}
