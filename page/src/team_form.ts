// SPDX-License-Identifier: MIT
// What a team answers before the trip: who, how far apart, which rope, knots, what holds on snow. What a scene does not say is the
// core's default; a scene without a team gets one of its own people, which stands in the scene only once somebody changes it.
import type { Key } from './answers';
import type { App } from './app';
import type { Diag, Tree, TreeMap } from './core';
import { add, button, h, replace } from './dom';
import type { Slide } from './field';
import { Fields } from './fields';
import { t } from './msg';
import { fallback, fromQuantity, isMap, keyOf, placeOf, quantity, valueAt, withoutRig, withValue, type Place } from './scene';
import { inUnits } from './units';

/// Where a thumb slides. `team.people` is how many, `team.spacing` everyone's distance, `team.gap` that of one pair: no keys of a scene.
export const TEAM_SLIDES: { readonly [path: string]: Slide } = {
  'team.people': { from: 2, to: 8, step: 1, start: 3 },
  'team.people[].mass_kg': { from: 40, to: 130, step: 1, start: 80 },
  'team.spacing': { from: 6, to: 20, step: 0.5, start: 10 },
  'team.gap': { from: 3, to: 25, step: 0.5, start: 10 },
  'team.rope.slack_m': { from: 0, to: 3, step: 0.1, start: 0.2 },
  'team.rope.modulus_kN': { from: 5, to: 60, step: 1, start: 17 },
  'team.rope.damping_s': { from: 0, to: 0.1, step: 0.005, start: 0.01 },
  'team.knots.count': { from: 0, to: 10, step: 1, start: 0 },
  'team.knots.first_m': { from: 1, to: 12, step: 0.5, start: 3 },
  'team.knots.apart_m': { from: 0.5, to: 5, step: 0.25, start: 1.5 },
  'team.knots.catch_N': { from: 100, to: 3000, step: 50, start: 850 },
  'team.knots.plough_m': { from: 0, to: 3, step: 0.1, start: 0 },
  'team.stand': { from: 0, to: 0.8, step: 0.01, start: 0.2 },
  'team.brake': { from: 0, to: 1.5, step: 0.01, start: 0.3 },
  'team.reaction_s': { from: 0, to: 4, step: 0.1, start: 1.1 },
  'team.start_mps': { from: 0, to: 2, step: 0.1, start: 0.5 },
  'ropes[].length_m': { from: 10, to: 100, step: 1, start: 50 },
};

/// Every key of a team that can be said here.
export const TEAM_KEYS = ['team.snow', 'team.edge', 'team.people[].mass_kg', 'team.people[].behind_m', ...Object.keys(TEAM_SLIDES).filter((path) => !/^team\.(people|spacing|gap)$|^ropes/.test(path))];

/// Knots as they are taught, and what the core takes for what one of them holds when it compares ways to rope up (src/team_choose.c).
export const KNOTS: TreeMap = { count: 3, first_m: 3, apart_m: 1.5, catch_N: [200, 1500] };
/// Taught distances by the number of people (docs/team.md): three, four, more.
const TAUGHT = [11, 10, 8];
const LIST_MOST = 12;

const tidy = (x: number): number => Number(x.toPrecision(6));
const likely = (value: Tree | undefined): number => quantity(value)?.likely ?? 0;

export function peopleOf(tree: TreeMap): TreeMap[] {
  const people = valueAt(tree, ['team', 'people']);
  return Array.isArray(people) ? people.filter(isMap) : [];
}

/// A team of the scene's own people: who hangs goes first; three at least.
export function ownTeam(app: App, tree: TreeMap): TreeMap {
  const crew = Array.isArray(tree['crew']) ? tree['crew'] : [];
  const usual = fallback(app.key('crew[].mass_kg')) ?? 80;
  const masses = [valueAt(tree, ['load', 'mass_kg']) ?? usual, ...crew.map((person) => (isMap(person) ? person['mass_kg'] ?? usual : usual))].slice(0, LIST_MOST);
  while (masses.length < 3) {
    masses.push(usual);  // three to five are what is taught as best
  }
  const apart = TAUGHT[Math.min(masses.length, 5) - 3] ?? 8;
  return { people: masses.map((mass_kg, i) => ({ mass_kg, behind_m: i * apart })) };
}

/// People with the distances between them set anew; `pair` -1: every distance alike. A range is that of each place by itself.
export function spaced(people: TreeMap[], apart: Tree, pair: number): TreeMap[] {
  const q = quantity(apart);
  if (q === null) {
    return people;
  }
  const [below, above] = [q.likely - q.low, q.high - q.likely];
  const before = people.map((person) => likely(person['behind_m']));
  let at = 0;
  return people.map((person, i) => {
    const old = (before[i] ?? 0) - (before[i - 1] ?? 0);
    if (i === 0) {
      return person;
    }
    const set = pair < 0 || pair === i;
    at = tidy(at + (set ? q.likely : old));
    const own = quantity(person['behind_m']);
    const behind_m = set ? fromQuantity({ low: at - below, likely: at, high: at + above, spread: true })
      : own === null ? at : fromQuantity({ low: tidy(at - own.likely + own.low), likely: at, high: tidy(at + own.high - own.likely), spread: true });
    return { ...person, behind_m };
  });
}

/// The distance of a pair, or of all; where they differ, from the least to the most.
export function apartOf(people: TreeMap[], pair: number): Tree {
  const gaps = people.map((person, i) => {
    const own = quantity(person['behind_m']);
    const gap = likely(person['behind_m']) - likely(people[i - 1]?.['behind_m']);
    return { low: gap - ((own?.likely ?? 0) - (own?.low ?? 0)), likely: gap, high: gap + ((own?.high ?? 0) - (own?.likely ?? 0)), spread: true };
  }).slice(1);
  const one = pair < 0 ? gaps[0] : gaps[pair - 1];
  const all = gaps.map((gap) => gap.likely);
  if (one === undefined) {
    return 0;
  }
  return pair < 0 && Math.max(...all) - Math.min(...all) > 1e-6 ? [tidy(Math.min(...all)), tidy(Math.max(...all))] : fromQuantity(one);
}

export class TeamForm extends Fields {
  private known: { tree: TreeMap; full: TreeMap } | null = null;
  private refused: Diag | null = null;

  private readonly masses = h('div', {});
  private readonly gaps = h('div', {});

  constructor(app: App, root: HTMLElement) {
    super(app, root, TEAM_SLIDES);
  }

  /// The scene with its team and without its rig: what the core is asked about.
  tree(): TreeMap {
    if (this.known?.tree !== this.app.tree) {
      const base = withoutRig(this.app.tree);
      this.known = { tree: this.app.tree, full: isMap(base['team']) ? base : { ...base, team: ownTeam(this.app, base) } };
    }
    return this.known.full;
  }

  /// A changed team goes into the scene if the core takes it; else it stays as it was, and the field says why.
  private putTeam(team: Tree, more: TreeMap | null = null): void {
    this.refused = this.app.setTeam(team, more);
    this.showTrouble(this.refused);
  }

  override update(): void {
    if (this.masses.childElementCount !== peopleOf(this.tree()).length) {
      this.fillPeople();
    }
    super.update();
  }

  override showTrouble(diag: Diag | null): void {
    super.showTrouble(this.refused ?? diag);
  }

  protected put(place: Place, value: Tree | undefined): void {
    if (place[0] === 'ropes') {
      this.putRope(place, value);
    } else {
      const changed = withValue(this.tree(), place, value) as TreeMap;
      this.putTeam(changed['team'] ?? null);
    }
  }

  /// Another kind of rope stretches otherwise: the catalogue's figure for its kind.
  private putRope(place: Place, value: Tree | undefined): void {
    const changed = withValue(this.tree(), place, value) as TreeMap;
    const stretch = this.app.item(String(value))?.figures['fall_modulus_N'];
    const team = place[2] !== 'kind' ? changed : withValue(changed, ['team', 'rope', 'modulus_kN'], stretch === undefined ? undefined
      : fromQuantity({ low: (stretch.low ?? 0) / 1000, likely: (stretch.likely ?? 0) / 1000, high: (stretch.high ?? 0) / 1000, spread: true })) as TreeMap;
    this.putTeam(team['team'] ?? null, { ropes: changed['ropes'] ?? [] });
  }

  private setPeople(people: TreeMap[]): void {
    this.putTeam({ ...(this.tree()['team'] as TreeMap), people });
  }

  /// Takes a way to rope up that was compared.
  take(people: number, apart: number, rope: string, knots: TreeMap | null): void {
    const team = this.tree()['team'] as TreeMap;
    const { knots: old, ...rest } = { knots: null, ...team } as TreeMap;
    const roped = spaced(peopleOf(this.tree()).slice(0, people), apart, -1);
    const ropes = this.ropes();
    const kind = ropes.find((r) => r['name'] === rope)?.['kind'] ?? 'half';
    const stretch = this.app.item(String(kind))?.figures['fall_modulus_N'];
    const modulus = stretch === undefined ? {} : { modulus_kN: fromQuantity({ low: (stretch.low ?? 0) / 1000, likely: (stretch.likely ?? 0) / 1000, high: (stretch.high ?? 0) / 1000, spread: true }) };
    const caught = isMap(old) ? old['catch_N'] ?? KNOTS['catch_N'] : KNOTS['catch_N'];
    this.putTeam({ ...rest, people: roped, rope: { ...(isMap(rest['rope']) ? rest['rope'] : {}), ...modulus },
      ...(knots === null ? {} : { knots: { ...knots, catch_N: caught ?? 500 } }) });
  }

  // ------------------------------------------------------------------------------------------------------------- the questions

  protected parts(): (Node | null)[] {
    return [
      h('p', { class: 'hint' }, t('teamHint')),
      this.section('team-who', t('teamWho'), this.who()),
      this.section('team-rope', t('teamRope'), this.rope()),
      this.section('team-knots', t('teamKnots'), this.knots()),
      this.section('team-snow', t('teamSnow'), this.group({ first: ['team.snow', 'team.edge'], more: ['team.stand', 'team.brake', 'team.reaction_s', 'team.start_mps'] }, 'team-snow')),
    ];
  }

  /// A number that the page makes of several keys.
  private made(path: string, help: string, lo: number, hi: number, unit: string, type = 'number'): Key {
    return { path, type, unit, lo, hi, fallback: '', choices: '', help, required: true, classes: 0 };
  }

  private who(): HTMLElement {
    const now = (): TreeMap[] => peopleOf(this.tree());
    const resize = (value: Tree | undefined): void => {
      const count = Math.round(likely(value));
      const list = now().slice(0, count);
      for (let last = list[list.length - 1]; list.length < count && last !== undefined; last = list[list.length - 1]) {
        const gap = likely(last['behind_m']) - likely(list[list.length - 2]?.['behind_m']);
        list.push({ ...last, behind_m: tidy(likely(last['behind_m']) + gap) });
      }
      this.setPeople(list);
    };
    this.fillPeople();
    return h('div', { class: 'group' },
      this.numberField(this.made('team.people', t('teamCountHelp'), 2, LIST_MOST, '', 'integer'), ['team', 'people'], () => now().length, resize),
      this.masses, this.apart(-1, 'team.spacing'),
      this.more('team-each', t('teamEach'), [this.gaps, this.field('team.rope.slack_m', 0)]));
  }

  private apart(pair: number, path: string, name?: string): HTMLElement {
    const now = (): TreeMap[] => peopleOf(this.tree());
    return this.numberField(this.made(path, inUnits(t('teamApartHelp')), 0.5, 100, 'm'), pair < 0 ? ['team', 'spacing'] : ['team', 'people', pair, 'behind_m'],
      () => apartOf(now(), pair), (value) => this.setPeople(spaced(now(), value ?? 10, pair)), name);
  }

  /// One person more or less: only their own fields are made anew, so that a thumb on the others is not lost.
  private fillPeople(): void {
    Array.from(this.fields.keys()).filter((name) => name.startsWith('team.people[')).forEach((name) => this.fields.delete(name));
    const people = peopleOf(this.tree());
    replace(this.masses, ...people.map((_p, i) => this.numberField(this.app.key('team.people[].mass_kg'), placeOf('team.people[].mass_kg', i),
      undefined, undefined, i === 0 ? t('teamFirst') : t('teamMass', i + 1))));
    replace(this.gaps, ...people.slice(1).map((_p, i) => this.apart(i + 1, 'team.gap', t('teamGap', i + 1, i + 2))));
  }

  private ropes(): TreeMap[] {
    const ropes = valueAt(this.tree(), ['ropes']);
    return Array.isArray(ropes) ? ropes.filter(isMap) : [];
  }

  /// The longest rope: the one that the core ropes the team up with.
  private rope(): HTMLElement {
    const lengths = this.ropes().map((rope) => quantity(rope['length_m'])?.low ?? -1);
    const longest = lengths.indexOf(Math.max(...lengths, 0));
    const box = h('div', { class: 'group' });
    add(box, ...longest < 0 ? [h('p', { class: 'hint' }, t('teamNoRope')), button(t('addRope'), () => {
      this.putTeam(this.tree()['team'] ?? null, { ropes: [...this.ropes(), { name: 'team', length_m: 50 }] });
      this.build();
    }, { class: 'wide' })] : [this.field('ropes[].length_m', longest), this.field('ropes[].kind', longest)],
    this.more('team-rope', t('otherKeys'), ['team.rope.modulus_kN', 'team.rope.damping_s'].map((path) => this.field(path, 0))));
    return box;
  }

  private knots(): HTMLElement {
    const key: Key = { ...this.app.key('team.knots.count'), lo: 0 };
    const place = placeOf(key.path);
    const details = h('div', { class: 'group' }, ...['team.knots.first_m', 'team.knots.apart_m'].map((path) => this.field(path, 0)),
      this.more('team-knots', t('otherKeys'), ['team.knots.catch_N', 'team.knots.plough_m'].map((path) => this.field(path, 0))));
    const count = (): number => likely(valueAt(this.tree(), place));
    const set = (value: Tree | undefined): void => {
      const { knots, ...rest } = { knots: null, ...(this.tree()['team'] as TreeMap) } as TreeMap;
      const wanted = Math.round(likely(value));
      this.putTeam(wanted === 0 ? rest : { ...rest, knots: { ...KNOTS, ...(isMap(knots) ? knots : {}), count: wanted } });
      this.update();
    };
    const element = this.numberField(key, place, count, set);
    const field = this.fields.get(keyOf(place));
    const plain = field?.update;
    const follow = (): void => {
      plain?.();
      details.hidden = count() === 0;
    };
    if (field !== undefined) {
      field.update = follow;
    }
    follow();
    return h('div', { class: 'group' }, element, h('p', { class: 'help' }, t('teamKnotsNow')), details);
  }
}
